//! Energy of a season by degree-days, and what a bill tells of a house.

use crate::declare::laws;

laws! { topic "energy of a season";
    /// Heat that a house loses in a season.
    DEGREE_DAY_HEAT: fn degree_day_heat(
        /// heat loss per degree
        coefficient_w_k: f64 ["H", HeatLossCoefficient, 0.0..=100000.0],
        /// degree-days of the season
        degree_days_ks: f64 ["DD", DegreeTime, 0.0..=1.5e9],
    ) -> f64 [heat_j "Q" Energy];
    formula "Q = H DD";
    source "ASHRAE Handbook Fundamentals 2021", "energy estimating, degree-days", Print;
    {
        coefficient_w_k * degree_days_ks
    }

    /// Heat that one part of a house loses in a season.
    PART_SEASON_HEAT: fn part_season_heat(
        /// its area
        area_m2: f64 ["A", Area, 0.0..=100000.0],
        /// its resistance
        resistance_m2k_w: f64 ["R", AreaResistance, 0.01..=50.0],
        /// degree-days of the season
        degree_days_ks: f64 ["DD", DegreeTime, 0.0..=1.5e9],
    ) -> f64 [heat_j "Q" Energy];
    formula "Q = A DD / R";
    source "ASHRAE Handbook Fundamentals 2021", "energy estimating, degree-days", Print;
    {
        degree_day_heat(area_m2 / resistance_m2k_w, degree_days_ks)
    }

    /// Heat that several parts lose in a season.
    PARTS_SEASON_HEAT: fn parts_season_heat(
        /// area of each part
        areas_m2: &[f64] ["A", Area, 0.0..=100000.0],
        /// resistance of each part
        resistances_m2k_w: &[f64] ["R", AreaResistance, 0.01..=50.0],
        /// degree-days of the season
        degree_days_ks: f64 ["DD", DegreeTime, 0.0..=1.5e9],
    ) -> [f64; 2] [heat_j "Q" Energy, first_share "share of the first" Ratio];
    formula "Q = Σ A DD / R";
    source "ASHRAE Handbook Fundamentals 2021", "energy estimating, degree-days", Print;
    {
        if areas_m2.len() != resistances_m2k_w.len() {
            return [f64::NAN; 2];
        }
        let pairs = areas_m2.iter().zip(resistances_m2k_w);
        let heats: Vec<f64> =
            pairs.map(|(area, r)| part_season_heat(*area, *r, degree_days_ks)).collect();
        let sum: f64 = heats.iter().sum();
        [sum, heats.first().copied().unwrap_or(f64::NAN) / sum]
    }

    /// Fuel that a season takes.
    ///
    /// The correction for gains is for degree-days to 65 °F; with a lower base take 1. Never both.
    SEASON_FUEL: fn season_fuel(
        /// heat loss per degree
        coefficient_w_k: f64 ["H", HeatLossCoefficient, 0.0..=100000.0],
        /// degree-days of the season
        degree_days_ks: f64 ["DD", DegreeTime, 0.0..=1.5e9],
        /// correction for heat that sun and people bring
        gain_correction: f64 ["CD", Ratio, 0.5..=1.0],
        /// share of the fuel's energy that reaches the house
        efficiency: f64 ["η", Ratio, 0.3..=4.0],
    ) -> f64 [fuel_j "E" Energy];
    formula "E = CD H DD / η";
    source "ASHRAE Handbook Fundamentals 2021", "energy estimating, modified degree-days", Memory;
    {
        gain_correction * degree_day_heat(coefficient_w_k, degree_days_ks) / efficiency
    }

    /// Fuel that a season's heat takes.
    FUEL_INPUT: fn fuel_input(
        /// heat that the house needs
        heat_j: f64 ["Q", Energy, 0.0..=1.0e13],
        /// share of the fuel's energy that reaches the house
        efficiency: f64 ["η", Ratio, 0.3..=4.0],
    ) -> f64 [fuel_j "E" Energy];
    formula "E = Q / η";
    source "EN 15316-1:2017", "", Definition;
    {
        heat_j / efficiency
    }

    /// Heat loss per degree that a fuel bill tells.
    ///
    /// Rough: gains, the base of the degree-days and the season's wind are in it.
    BILLED_LOSS: fn billed_loss(
        /// energy of the fuel
        fuel_j: f64 ["E", Energy, 0.0..=1.0e13],
        /// share of it that made hot water or cooked
        other_use: f64 ["s", Ratio, 0.0..=1.0],
        /// share of the fuel's energy that reaches the house
        efficiency: f64 ["η", Ratio, 0.3..=4.0],
        /// degree-days of the season
        degree_days_ks: f64 ["DD", DegreeTime, 1.0e7..=1.5e9],
    ) -> f64 [coefficient_w_k "H" HeatLossCoefficient];
    formula "H = E (1 − s) η / DD";
    source "ASHRAE Handbook Fundamentals 2021", "energy estimating, degree-days", Print;
    {
        fuel_j * (1.0 - other_use) * efficiency / degree_days_ks
    }
}
