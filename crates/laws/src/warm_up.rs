//! Cooling down and warming up: a house as one store of heat.

use crate::declare::laws;

/// The share of an excess that is left after a time.
fn left(time_s: f64, constant_s: f64) -> f64 {
    (-time_s / constant_s).exp()
}

laws! { topic "warming up";
    /// Time constant of a house.
    TIME_CONSTANT: fn time_constant(
        /// mass that follows the room, per floor area
        mass_kg_m2: f64 ["m", ArealMass, 10.0..=1000.0],
        /// its specific heat
        specific_heat_j_kgk: f64 ["c", SpecificHeat, 400.0..=2500.0],
        /// floor area
        area_m2: f64 ["A", Area, 1.0..=10000.0],
        /// heat loss per degree
        coefficient_w_k: f64 ["H", HeatLossCoefficient, 1.0..=100000.0],
    ) -> f64 [constant_s "τ" Time];
    formula "τ = m c A / H";
    source "EN ISO 13790:2008", "12.2", Definition;
    {
        mass_kg_m2 * specific_heat_j_kgk * area_m2 / coefficient_w_k
    }

    /// Temperature of a house left without heat.
    COOLED_TEMPERATURE: fn cooled_temperature(
        /// temperature at the start
        start_k: f64 ["θ0", Temperature, 253.15..=313.15],
        /// outdoor temperature
        outdoor_k: f64 ["θe", Temperature, 213.15..=313.15],
        /// time without heat
        time_s: f64 ["t", Time, 0.0..=1.0e7],
        /// time constant of the house
        constant_s: f64 ["τ", Time, 600.0..=1.0e7],
    ) -> f64 [temperature_k "θ" Temperature];
    formula "θ = θe + (θ0 − θe) exp(−t / τ)";
    source "first-order balance", "", Definition;
    {
        outdoor_k + (start_k - outdoor_k) * left(time_s, constant_s)
    }

    /// Time to warm a house with the power there is.
    ///
    /// No answer where the power does not reach the temperature wished.
    REHEAT_TIME: fn reheat_time(
        /// temperature at the start
        start_k: f64 ["θ0", Temperature, 253.15..=313.15],
        /// temperature wished
        wished_k: f64 ["θ1", Temperature, 253.15..=313.15],
        /// outdoor temperature
        outdoor_k: f64 ["θe", Temperature, 213.15..=313.15],
        /// power of the plant
        power_w: f64 ["Φ", Power, 0.0..=1000000.0],
        /// heat loss per degree
        coefficient_w_k: f64 ["H", HeatLossCoefficient, 1.0..=100000.0],
        /// time constant of the house
        constant_s: f64 ["τ", Time, 600.0..=1.0e7],
    ) -> f64 [time_s "t" Time];
    formula "t = τ ln((θe + Φ/H − θ0) / (θe + Φ/H − θ1))";
    source "first-order balance", "", Definition;
    {
        let end_k = outdoor_k + power_w / coefficient_w_k;
        constant_s * ((end_k - start_k) / (end_k - wished_k)).ln()
    }

    /// Power that warms a house in a given time.
    ///
    /// The second output is what it takes beyond the steady loss at the temperature wished.
    REHEAT_POWER: fn reheat_power(
        /// temperature at the start
        start_k: f64 ["θ0", Temperature, 253.15..=313.15],
        /// temperature wished
        wished_k: f64 ["θ1", Temperature, 253.15..=313.15],
        /// outdoor temperature
        outdoor_k: f64 ["θe", Temperature, 213.15..=313.15],
        /// time allowed
        time_s: f64 ["t", Time, 60.0..=1.0e7],
        /// heat loss per degree
        coefficient_w_k: f64 ["H", HeatLossCoefficient, 1.0..=100000.0],
        /// time constant of the house
        constant_s: f64 ["τ", Time, 600.0..=1.0e7],
    ) -> [f64; 2] [power_w "Φ" Power, extra_w "ΔΦ" Power];
    formula "Φ = H ((θ1 − θe) − (θ0 − θe) e) / (1 − e); e = exp(−t / τ); ΔΦ = Φ − H (θ1 − θe)";
    source "first-order balance", "", Definition;
    {
        let kept = left(time_s, constant_s);
        let excess_k = (wished_k - outdoor_k) - (start_k - outdoor_k) * kept;
        let power_w = coefficient_w_k * excess_k / (1.0 - kept);
        [power_w, power_w - coefficient_w_k * (wished_k - outdoor_k)]
    }

    /// Plant over steady load for heating by hours.
    PLANT_RATIO: fn plant_ratio(
        /// response of the building, slow above 4
        response: f64 ["fr", Ratio, 1.0..=20.0],
        /// hours of heating a day, preheating included
        heating_s: f64 ["t", Time, 3600.0..=86400.0],
    ) -> f64 [ratio "F3" Ratio];
    formula "F3 = 24 fr / (t fr + 24 − t), t in hours, 1.2 at least";
    source "CIBSE Guide A", "intermittent heating", Memory;
    {
        let hours = heating_s / 3600.0;
        (24.0 * response / (hours * response + 24.0 - hours)).max(1.2)
    }
}
