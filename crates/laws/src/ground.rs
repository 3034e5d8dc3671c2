//! Floors and walls against the ground: EN ISO 13370, perimeter factors, basements.

use crate::declare::laws;
use std::f64::consts::PI;

/// What a strip of edge insulation changes, for the way `reach_m` the heat goes round it.
fn edge(reach_m: f64, thickness_m: f64, resistance: f64, floor_m: f64, ground: f64) -> f64 {
    // The insulation counts for what it resists beyond the ground it replaces.
    let extra_m = (resistance - thickness_m / ground) * ground;
    let bare = (reach_m / floor_m).ln_1p();
    let insulated = (reach_m / (floor_m + extra_m)).ln_1p();
    -ground / PI * (bare - insulated)
}

/// The two branches that slab and basement floor share; they meet within 0.02 % at `dt = B'`.
fn floor(characteristic_m: f64, equivalent_m: f64, ground: f64) -> f64 {
    if equivalent_m < characteristic_m {
        let around = PI * characteristic_m;
        2.0 * ground / (around + equivalent_m) * (around / equivalent_m).ln_1p()
    } else {
        ground / (0.457 * characteristic_m + equivalent_m)
    }
}

laws! { topic "ground";
    /// Size of a floor as its edge loss sees it.
    ///
    /// Only the perimeter towards outdoors or an unheated space counts.
    CHARACTERISTIC_DIMENSION: fn characteristic_dimension(
        /// area of the floor
        area_m2: f64 ["A", Area, 0.5..=100000.0],
        /// exposed perimeter
        perimeter_m: f64 ["P", Length, 0.5..=10000.0],
    ) -> f64 [dimension_m "B'" Length];
    formula "B' = A / (0.5 P)";
    source "EN ISO 13370:2017", "6.1", Print;
    {
        area_m2 / (0.5 * perimeter_m)
    }

    /// Thickness of ground that resists as the floor does.
    EQUIVALENT_THICKNESS: fn equivalent_thickness(
        /// thickness of the outside walls
        wall_m: f64 ["w", Length, 0.0..=2.0],
        /// film on the floor, heat flowing down
        inside_film_m2k_w: f64 ["Rsi", AreaResistance, 0.0..=0.5],
        /// insulation and layers of the floor
        floor_m2k_w: f64 ["Rf", AreaResistance, 0.0..=20.0],
        /// film outdoors
        outside_film_m2k_w: f64 ["Rse", AreaResistance, 0.0..=0.5],
        /// conductivity of the ground
        ground_w_mk: f64 ["λg", Conductivity, 0.5..=4.0],
    ) -> f64 [thickness_m "dt" Length];
    formula "dt = w + λg (Rsi + Rf + Rse)";
    source "EN ISO 13370:2017", "7.2", Memory;
    {
        wall_m + ground_w_mk * (inside_film_m2k_w + floor_m2k_w + outside_film_m2k_w)
    }

    /// Transmittance of a slab floor on the ground.
    ///
    /// Assumes the floor no warmer than the room: with floor heating add the downward heat.
    SLAB_ON_GROUND_TRANSMITTANCE: fn slab_on_ground_transmittance(
        /// characteristic dimension of the floor
        dimension_m: f64 ["B'", Length, 0.5..=200.0],
        /// equivalent thickness of the floor
        thickness_m: f64 ["dt", Length, 0.05..=50.0],
        /// conductivity of the ground
        ground_w_mk: f64 ["λg", Conductivity, 0.5..=4.0],
    ) -> f64 [transmittance_w_m2k "U" Transmittance];
    formula "dt < B': U = 2 λg / (π B' + dt) ln(π B' / dt + 1); dt ≥ B': U = λg / (0.457 B' + dt)";
    source "EN ISO 13370:2017", "7.2", Memory;
    {
        floor(dimension_m, thickness_m, ground_w_mk)
    }

    /// Edge change by insulation lying along the perimeter.
    HORIZONTAL_EDGE_INSULATION: fn horizontal_edge_insulation(
        /// width of the strip
        width_m: f64 ["D", Length, 0.0..=5.0],
        /// thickness of the insulation
        insulation_m: f64 ["dn", Length, 0.0..=0.5],
        /// resistance of the insulation
        resistance_m2k_w: f64 ["Rn", AreaResistance, 0.0..=20.0],
        /// equivalent thickness of the floor
        thickness_m: f64 ["dt", Length, 0.05..=50.0],
        /// conductivity of the ground
        ground_w_mk: f64 ["λg", Conductivity, 0.5..=4.0],
    ) -> f64 [transmittance_w_mk "ψ" LinearTransmittance];
    formula "ψ = −λg/π [ln(D/dt + 1) − ln(D/(dt + d') + 1)]; d' = Rn λg − dn";
    source "EN ISO 13370:2017", "annex B", Memory;
    {
        edge(width_m, insulation_m, resistance_m2k_w, thickness_m, ground_w_mk)
    }

    /// Edge change by insulation going down the perimeter.
    ///
    /// The heat goes down and up again, so the depth counts twice.
    VERTICAL_EDGE_INSULATION: fn vertical_edge_insulation(
        /// depth of the insulation below the ground
        depth_m: f64 ["D", Length, 0.0..=5.0],
        /// thickness of the insulation
        insulation_m: f64 ["dn", Length, 0.0..=0.5],
        /// resistance of the insulation
        resistance_m2k_w: f64 ["Rn", AreaResistance, 0.0..=20.0],
        /// equivalent thickness of the floor
        thickness_m: f64 ["dt", Length, 0.05..=50.0],
        /// conductivity of the ground
        ground_w_mk: f64 ["λg", Conductivity, 0.5..=4.0],
    ) -> f64 [transmittance_w_mk "ψ" LinearTransmittance];
    formula "ψ = −λg/π [ln(2D/dt + 1) − ln(2D/(dt + d') + 1)]; d' = Rn λg − dn";
    source "EN ISO 13370:2017", "annex B", Memory;
    {
        edge(2.0 * depth_m, insulation_m, resistance_m2k_w, thickness_m, ground_w_mk)
    }

    /// Transmittance of a slab with insulated edge.
    ///
    /// Where several strips are laid, the most negative edge change holds, not their sum.
    EDGE_INSULATED_TRANSMITTANCE: fn edge_insulated_transmittance(
        /// transmittance without edge insulation
        slab_w_m2k: f64 ["U0", Transmittance, 0.0..=10.0],
        /// edge change, below zero
        edge_w_mk: f64 ["ψ", LinearTransmittance, -3.0..=0.0],
        /// characteristic dimension of the floor
        dimension_m: f64 ["B'", Length, 0.5..=200.0],
    ) -> f64 [transmittance_w_m2k "U" Transmittance];
    formula "U = U0 + 2 ψ / B'";
    source "EN ISO 13370:2017", "annex B", Memory;
    {
        slab_w_m2k + 2.0 * edge_w_mk / dimension_m
    }

    /// Transmittance of the floor of a heated basement.
    HEATED_BASEMENT_FLOOR_TRANSMITTANCE: fn heated_basement_floor_transmittance(
        /// characteristic dimension of the floor
        dimension_m: f64 ["B'", Length, 0.5..=200.0],
        /// equivalent thickness of the floor
        thickness_m: f64 ["dt", Length, 0.05..=50.0],
        /// depth of the floor below the ground
        depth_m: f64 ["z", Length, 0.0..=5.0],
        /// conductivity of the ground
        ground_w_mk: f64 ["λg", Conductivity, 0.5..=4.0],
    ) -> f64 [transmittance_w_m2k "Ubf" Transmittance];
    formula "x = dt + z/2; x < B': U = 2 λg / (π B' + x) ln(π B' / x + 1); else U = λg / (0.457 B' + x)";
    source "EN ISO 13370:2017", "7.4", Memory;
    {
        floor(dimension_m, thickness_m + 0.5 * depth_m, ground_w_mk)
    }

    /// Transmittance of the wall of a heated basement.
    HEATED_BASEMENT_WALL_TRANSMITTANCE: fn heated_basement_wall_transmittance(
        /// equivalent thickness of the floor
        floor_m: f64 ["dt", Length, 0.05..=50.0],
        /// equivalent thickness of the wall
        wall_m: f64 ["dw", Length, 0.05..=50.0],
        /// depth of the floor below the ground
        depth_m: f64 ["z", Length, 0.1..=5.0],
        /// conductivity of the ground
        ground_w_mk: f64 ["λg", Conductivity, 0.5..=4.0],
    ) -> f64 [transmittance_w_m2k "Ubw" Transmittance];
    formula "U = 2 λg / (π z) (1 + 0.5 dt / (dt + z)) ln(z / dw + 1); dt no more than dw";
    source "EN ISO 13370:2017", "7.4", Memory;
    {
        let floor_m = floor_m.min(wall_m);
        let share = 1.0 + 0.5 * floor_m / (floor_m + depth_m);
        2.0 * ground_w_mk / (PI * depth_m) * share * (depth_m / wall_m).ln_1p()
    }

    /// Heat loss per degree of a heated basement.
    BASEMENT_LOSS_COEFFICIENT: fn basement_loss_coefficient(
        /// area of the floor
        area_m2: f64 ["A", Area, 0.5..=100000.0],
        /// transmittance of the floor
        floor_w_m2k: f64 ["Ubf", Transmittance, 0.0..=10.0],
        /// depth of the floor below the ground
        depth_m: f64 ["z", Length, 0.0..=5.0],
        /// perimeter
        perimeter_m: f64 ["P", Length, 0.0..=10000.0],
        /// transmittance of the wall
        wall_w_m2k: f64 ["Ubw", Transmittance, 0.0..=10.0],
    ) -> f64 [coefficient_w_k "Hg" HeatLossCoefficient];
    formula "Hg = A Ubf + z P Ubw";
    source "EN ISO 13370:2017", "7.4", Memory;
    {
        area_m2 * floor_w_m2k + depth_m * perimeter_m * wall_w_m2k
    }

    /// Heat loss into the ground at design weather.
    GROUND_HEAT_LOSS: fn ground_heat_loss(
        /// area of the floor
        area_m2: f64 ["A", Area, 0.0..=100000.0],
        /// transmittance of floor and ground together
        transmittance_w_m2k: f64 ["U", Transmittance, 0.0..=10.0],
        /// factor for the swing of the year, 1.45 unless a national annex says otherwise
        yearly_swing: f64 ["fg1", Ratio, 1.0..=2.0],
        /// temperature factor of the annual mean outdoor temperature
        mean_factor: f64 ["fg2", Ratio, 0.0..=1.0],
        /// factor for ground water: 1.0, or 1.15 within a metre of the slab
        ground_water: f64 ["Gw", Ratio, 1.0..=1.15],
        /// room temperature less outdoor temperature
        difference_k: f64 ["ΔT", TemperatureDifference, 0.0..=90.0],
    ) -> f64 [heat_w "Φ" Power];
    formula "Φ = fg1 fg2 A U Gw ΔT";
    source "EN 12831:2003", "7.1.3", Memory;
    {
        yearly_swing * mean_factor * area_m2 * transmittance_w_m2k * ground_water * difference_k
    }

    /// Heat lost at the edge of a slab, by perimeter factor.
    ///
    /// An alternative to the transmittance of the slab, never in addition to it. Codes give different
    /// factors for heated slabs: keep the source beside the factor.
    SLAB_EDGE_HEAT_LOSS: fn slab_edge_heat_loss(
        /// perimeter factor of the slab
        factor_w_mk: f64 ["F", LinearTransmittance, 0.1..=5.0],
        /// exposed perimeter
        perimeter_m: f64 ["P", Length, 0.0..=10000.0],
        /// room temperature less outdoor temperature
        difference_k: f64 ["ΔT", TemperatureDifference, 0.0..=90.0],
    ) -> f64 [heat_w "q" Power];
    formula "q = F P ΔT";
    source "ASHRAE Handbook Fundamentals 2021", "residential loads", Print;
    {
        factor_w_mk * perimeter_m * difference_k
    }

    /// Mean transmittance of a basement wall below ground.
    BELOW_GRADE_WALL_TRANSMITTANCE: fn below_grade_wall_transmittance(
        /// depth of the upper end
        top_m: f64 ["z1", Length, 0.0..=5.0],
        /// depth of the lower end
        bottom_m: f64 ["z2", Length, 0.1..=5.0],
        /// wall, insulation and inside film
        wall_m2k_w: f64 ["R", AreaResistance, 0.05..=20.0],
        /// conductivity of the soil
        soil_w_mk: f64 ["k", Conductivity, 0.5..=4.0],
    ) -> f64 [transmittance_w_m2k "U" Transmittance];
    formula "U = 2k / (π (z2 − z1)) [ln(z2 + 2kR/π) − ln(z1 + 2kR/π)]";
    source "ASHRAE Handbook Fundamentals 2021", "residential loads", Memory;
    {
        let wall_m = 2.0 * soil_w_mk * wall_m2k_w / PI;
        let reach = ((bottom_m + wall_m) / (top_m + wall_m)).ln();
        2.0 * soil_w_mk / (PI * (bottom_m - top_m)) * reach
    }

    /// Mean transmittance of a basement floor.
    BELOW_GRADE_FLOOR_TRANSMITTANCE: fn below_grade_floor_transmittance(
        /// width of the basement, its shorter side
        width_m: f64 ["wb", Length, 1.0..=50.0],
        /// depth of the floor below the ground
        depth_m: f64 ["zf", Length, 0.1..=5.0],
        /// floor and inside film
        floor_m2k_w: f64 ["R", AreaResistance, 0.05..=20.0],
        /// conductivity of the soil
        soil_w_mk: f64 ["k", Conductivity, 0.5..=4.0],
    ) -> f64 [transmittance_w_m2k "U" Transmittance];
    formula "U = 2k / (π wb) [ln(wb/2 + zf/2 + kR/π) − ln(zf/2 + kR/π)]";
    source "ASHRAE Handbook Fundamentals 2021", "residential loads", Memory;
    {
        let base_m = 0.5 * depth_m + soil_w_mk * floor_m2k_w / PI;
        2.0 * soil_w_mk / (PI * width_m) * (0.5 * width_m / base_m).ln_1p()
    }

    /// Heat loss of a heated basement by a rule of thumb.
    BASEMENT_RULE_HEAT: fn basement_rule_heat(
        /// perimeter of the basement
        perimeter_m: f64 ["P", Length, 0.0..=10000.0],
        /// room temperature less outdoor temperature
        difference_k: f64 ["ΔT", TemperatureDifference, 0.0..=90.0],
        /// resistance of the insulation of its walls
        wall_m2k_w: f64 ["R", AreaResistance, 0.0..=20.0],
    ) -> f64 [heat_w "q" Power];
    formula "q = 10.67 P ΔT / (R + 8), in ft, °F and h·ft²·°F/Btu";
    source "Los Alamos passive solar handbook", "heated basements", Print;
    {
        // A foot, a Fahrenheit degree and a Btu an hour in SI.
        const BTUH_FT_F_W_MK: f64 = 1.730_734_666;
        const R_M2K_W: f64 = 0.176_110_184;
        10.67 * BTUH_FT_F_W_MK * perimeter_m * difference_k / (wall_m2k_w / R_M2K_W + 8.0)
    }

    /// Transmittance of sides and air of a space under a floor.
    UNDERFLOOR_TRANSMITTANCE: fn underfloor_transmittance(
        /// characteristic dimension of the floor
        dimension_m: f64 ["B'", Length, 0.5..=200.0],
        /// height of the floor over the ground outside
        height_m: f64 ["h", Length, 0.0..=2.0],
        /// transmittance of the walls of the space above the ground
        wall_w_m2k: f64 ["Uw", Transmittance, 0.0..=10.0],
        /// area of openings on each metre of perimeter, m²/m
        openings_m: f64 ["ε", Length, 0.0..=0.02],
        /// mean wind
        wind_m_s: f64 ["v", Velocity, 0.0..=20.0],
        /// shielding from the wind: 0.02 in towns, 0.05 in suburbs, 0.10 in the open
        shielding: f64 ["fw", Ratio, 0.0..=0.2],
    ) -> f64 [transmittance_w_m2k "Ux" Transmittance];
    formula "Ux = 2 h Uw / B' + 1450 ε v fw / B'";
    source "EN ISO 13370:2017", "7.3", Memory;
    {
        let air = 1450.0 * openings_m * wind_m_s * shielding / dimension_m;
        2.0 * height_m * wall_w_m2k / dimension_m + air
    }

    /// Transmittance of a suspended floor over a ventilated space.
    SUSPENDED_FLOOR_TRANSMITTANCE: fn suspended_floor_transmittance(
        /// transmittance of the floor itself
        floor_w_m2k: f64 ["Uf", Transmittance, 0.01..=10.0],
        /// transmittance of the ground under the space
        ground_w_m2k: f64 ["Ug", Transmittance, 0.01..=10.0],
        /// sides and air of the space
        space_w_m2k: f64 ["Ux", Transmittance, 0.0..=1000.0],
    ) -> f64 [transmittance_w_m2k "U" Transmittance];
    formula "1/U = 1/Uf + 1/(Ug + Ux)";
    source "EN ISO 13370:2017", "7.3", Memory;
    {
        1.0 / (1.0 / floor_w_m2k + 1.0 / (ground_w_m2k + space_w_m2k))
    }
}
