//! Water, after the formulations of IAPWS.

use crate::declare::laws;

/// Pressure at which a heating system is taken to run; a bar more changes density by 0.005 %.
const SYSTEM_PA: f64 = 300_000.0;

/// Range of liquid water in heating, K.
const COLDEST_K: f64 = 273.15;
const HOTTEST_K: f64 = 383.15;

/// Region 1 of IAPWS-IF97: exponents of pressure and temperature, and coefficients.
const REGION_1: [(i32, i32, f64); 34] = [
    (0, -2, 0.14632971213167),
    (0, -1, -0.84548187169114),
    (0, 0, -3.7563603672040),
    (0, 1, 3.3855169168385),
    (0, 2, -0.95791963387872),
    (0, 3, 0.15772038513228),
    (0, 4, -0.016616417199501),
    (0, 5, 0.81214629983568e-3),
    (1, -9, 0.28319080123804e-3),
    (1, -7, -0.60706301565874e-3),
    (1, -1, -0.018990068218419),
    (1, 0, -0.032529748770505),
    (1, 1, -0.021841717175414),
    (1, 3, -0.52838357969930e-4),
    (2, -3, -0.47184321073267e-3),
    (2, 0, -0.30001780793026e-3),
    (2, 1, 0.47661393906987e-4),
    (2, 3, -0.44141845330846e-5),
    (2, 17, -0.72694996297594e-15),
    (3, -4, -0.31679644845054e-4),
    (3, 0, -0.28270797985312e-5),
    (3, 6, -0.85205128120103e-9),
    (4, -5, -0.22425281908000e-5),
    (4, -2, -0.65171222895601e-6),
    (4, 10, -0.14341729937924e-12),
    (5, -8, -0.40516996860117e-6),
    (8, -11, -0.12734301741641e-8),
    (8, -6, -0.17424871230634e-9),
    (21, -29, -0.68762131295531e-18),
    (23, -31, 0.14478307828521e-19),
    (29, -38, 0.26335781662795e-22),
    (30, -39, -0.11947622640071e-22),
    (31, -40, 0.18228094581404e-23),
    (32, -41, -0.93537087290811e-25),
];

/// Density and specific heat of region 1.
fn region_1(temperature_k: f64, pressure_pa: f64) -> (f64, f64) {
    const GAS_J_KGK: f64 = 461.526;
    let (pi, tau) = (pressure_pa / 16.53e6, 1386.0 / temperature_k);
    let (a, b) = (7.1 - pi, tau - 1.222);
    let (mut by_pressure, mut by_temperature) = (0.0, 0.0);
    for &(i, j, n) in &REGION_1 {
        if i > 0 {
            by_pressure -= n * f64::from(i) * a.powi(i - 1) * b.powi(j);
        }
        by_temperature += n * a.powi(i) * f64::from(j * (j - 1)) * b.powi(j - 2);
    }
    let density = pressure_pa / (GAS_J_KGK * temperature_k * pi * by_pressure);
    (density, -GAS_J_KGK * tau * tau * by_temperature)
}

/// The sum of powers in which IAPWS writes liquid water at one atmosphere.
fn powers(temperature_k: f64, terms: &[(f64, f64); 4]) -> f64 {
    let reduced = temperature_k.clamp(COLDEST_K, HOTTEST_K) / 300.0;
    // One logarithm serves all four powers.
    let logarithm = reduced.ln();
    terms.iter().map(|(factor, exponent)| factor * (exponent * logarithm).exp()).sum()
}

laws! { topic "fluids";
    /// Density of water in a heating system.
    ///
    /// At 3 bar absolute. Held at the ends of the range.
    WATER_DENSITY: fn water_density(
        /// temperature of the water
        temperature_k: f64 ["T", Temperature, 273.15..=383.15],
    ) -> f64 [density_kg_m3 "ρ" Density];
    formula "ρ = p / (R T π γπ)";
    source "IAPWS-IF97", "region 1, at 0.3 MPa", Memory;
    {
        region_1(temperature_k.clamp(COLDEST_K, HOTTEST_K), SYSTEM_PA).0
    }

    /// Density of water under pressure.
    WATER_DENSITY_AT_PRESSURE: fn water_density_at_pressure(
        /// temperature of the water
        temperature_k: f64 ["T", Temperature, 273.15..=383.15],
        /// absolute pressure
        pressure_pa: f64 ["p", AbsolutePressure, 150000.0..=10000000.0],
    ) -> f64 [density_kg_m3 "ρ" Density];
    formula "ρ = p / (R T π γπ)";
    source "IAPWS-IF97", "region 1", Memory;
    {
        region_1(temperature_k.clamp(COLDEST_K, HOTTEST_K), pressure_pa).0
    }

    /// Specific heat of water in a heating system.
    ///
    /// At 3 bar absolute. Held at the ends of the range.
    WATER_SPECIFIC_HEAT: fn water_specific_heat(
        /// temperature of the water
        temperature_k: f64 ["T", Temperature, 273.15..=383.15],
    ) -> f64 [specific_heat_j_kgk "c" SpecificHeat];
    formula "c = −R τ² γττ";
    source "IAPWS-IF97", "region 1, at 0.3 MPa", Memory;
    {
        region_1(temperature_k.clamp(COLDEST_K, HOTTEST_K), SYSTEM_PA).1
    }

    /// Viscosity of water.
    ///
    /// At one atmosphere; a few bar do not change it. Held at the ends of the range.
    WATER_VISCOSITY: fn water_viscosity(
        /// temperature of the water
        temperature_k: f64 ["T", Temperature, 273.15..=383.15],
    ) -> f64 [viscosity_pa_s "μ" Viscosity];
    formula "μ = 1e-6 Σ a (T / 300)^b";
    source "IAPWS SR6-08", "equation 6", Memory;
    {
        const TERMS: [(f64, f64); 4] =
            [(280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.45903, -40.0)];
        1e-6 * powers(temperature_k, &TERMS)
    }

    /// Conductivity of water.
    ///
    /// At one atmosphere; a few bar do not change it. Held at the ends of the range.
    WATER_CONDUCTIVITY: fn water_conductivity(
        /// temperature of the water
        temperature_k: f64 ["T", Temperature, 273.15..=383.15],
    ) -> f64 [conductivity_w_mk "λ" Conductivity];
    formula "λ = Σ c (T / 300)^d";
    source "IAPWS SR6-08", "equation 7", Memory;
    {
        const TERMS: [(f64, f64); 4] =
            [(1.6630, -1.15), (-1.7781, -3.4), (1.1567, -6.0), (-0.432115, -7.6)];
        powers(temperature_k, &TERMS)
    }
}

#[cfg(test)]
mod tests {
    use super::region_1;

    /// The three states by which IAPWS-IF97 lets region 1 be verified (table 5).
    #[test]
    fn region_1_meets_its_verification_values() {
        for (temperature_k, pressure_pa, volume_m3_kg, specific_heat_j_kgk) in [
            (300.0, 3e6, 0.100215168e-2, 4173.01218),
            (300.0, 80e6, 0.971180894e-3, 4010.08987),
            (500.0, 3e6, 0.120241800e-2, 4655.80682),
        ] {
            let (density, specific_heat) = region_1(temperature_k, pressure_pa);
            assert!((density * volume_m3_kg - 1.0).abs() < 1e-8, "{density}");
            assert!((specific_heat / specific_heat_j_kgk - 1.0).abs() < 1e-8, "{specific_heat}");
        }
    }
}
