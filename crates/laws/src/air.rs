//! Air: its density at altitude, and the heat that changing it takes.

use crate::declare::laws;

/// Gas constant of dry air, J/kgK.
const AIR_J_KGK: f64 = 287.05287;

/// Pressure of the standard atmosphere at sea level.
const SEA_LEVEL_PA: f64 = 101_325.0;

laws! { topic "air";
    /// Air pressure of the standard atmosphere at an altitude.
    ///
    /// The second output is the share of the pressure at sea level, which scales the factors 0.34
    /// and 1.08 for altitude.
    AIR_PRESSURE_AT_ALTITUDE: fn air_pressure_at_altitude(
        /// height above sea level
        altitude_m: f64 ["h", Length, -500.0..=11000.0],
    ) -> [f64; 2] [pressure_pa "p" AbsolutePressure, share "p/p0" Ratio];
    formula "p = 101325 (1 − 2.25577e-5 h)^5.2559";
    source "ISO 2533:1975", "standard atmosphere", Memory;
    {
        let share = (1.0 - 2.25577e-5 * altitude_m).powf(5.2559);
        [SEA_LEVEL_PA * share, share]
    }

    /// Density of dry air at pressure and temperature.
    AIR_DENSITY: fn air_density(
        /// absolute pressure of the air
        pressure_pa: f64 ["p", AbsolutePressure, 20000.0..=110000.0],
        /// temperature of the air
        temperature_k: f64 ["T", Temperature, 213.15..=333.15],
    ) -> f64 [density_kg_m3 "ρ" Density];
    formula "ρ = p / (287.05 T)";
    source "ISO 2533:1975", "equation of state", Memory;
    {
        pressure_pa / (AIR_J_KGK * temperature_k)
    }

    /// Density of dry air at an altitude.
    ///
    /// The pressure is that of the standard atmosphere, the temperature that of the air moved.
    AIR_DENSITY_AT_ALTITUDE: fn air_density_at_altitude(
        /// height above sea level
        altitude_m: f64 ["h", Length, -500.0..=11000.0],
        /// temperature of the air
        temperature_k: f64 ["T", Temperature, 213.15..=333.15],
    ) -> f64 [density_kg_m3 "ρ" Density];
    formula "ρ = 101325 (1 − 2.25577e-5 h)^5.2559 / (287.05 T)";
    source "ISO 2533:1975", "standard atmosphere", Memory;
    {
        let [pressure_pa, _] = air_pressure_at_altitude(altitude_m);
        air_density(pressure_pa, temperature_k)
    }

    /// Heat loss per degree by the air changes of a room.
    AIR_CHANGE_LOSS: fn air_change_loss(
        /// volume of the room
        volume_m3: f64 ["V", AirVolume, 0.0..=100000.0],
        /// how often its air is replaced
        air_changes_per_s: f64 ["n", AirChange, 0.0..=0.01],
        /// density of the air
        density_kg_m3: f64 ["ρ", Density, 0.3..=1.6],
        /// heat capacity of the air
        specific_heat_j_kgk: f64 ["c", SpecificHeat, 990.0..=1040.0],
    ) -> f64 [coefficient_w_k "H" HeatLossCoefficient];
    formula "H = ρ c n V";
    source "EN 12831-1:2017", "6.3.3", Definition;
    {
        air_flow_loss(air_changes_per_s * volume_m3, density_kg_m3, specific_heat_j_kgk)
    }

    /// Heat loss per degree by a flow of outdoor air.
    AIR_FLOW_LOSS: fn air_flow_loss(
        /// flow of outdoor air
        air_flow_m3_s: f64 ["V'", AirFlow, 0.0..=100.0],
        /// density of the air
        density_kg_m3: f64 ["ρ", Density, 0.3..=1.6],
        /// heat capacity of the air
        specific_heat_j_kgk: f64 ["c", SpecificHeat, 990.0..=1040.0],
    ) -> f64 [coefficient_w_k "H" HeatLossCoefficient];
    formula "H = ρ c V'";
    source "EN 12831-1:2017", "6.3.3", Definition;
    {
        air_flow_m3_s * density_kg_m3 * specific_heat_j_kgk
    }

    /// Ventilation heat loss at sea level.
    ///
    /// The rounded heat capacity of the standard, 0.34 Wh/m³K; at altitude use the loss by density,
    /// or take the share of the sea-level pressure.
    SEA_LEVEL_VENTILATION_HEAT: fn sea_level_ventilation_heat(
        /// flow of outdoor air
        air_flow_m3_s: f64 ["V'", AirFlow, 0.0..=100.0],
        /// room temperature less outdoor temperature
        difference_k: f64 ["ΔT", TemperatureDifference, -60.0..=90.0],
    ) -> f64 [heat_w "Φ" Power];
    formula "Φ = 0.34 V' ΔT, V' in m³/h";
    source "EN 12831:2003", "7.2", Print;
    {
        0.34 * 3600.0 * air_flow_m3_s * difference_k
    }

    /// Heat that a flow of air takes.
    ///
    /// With air of 0.075 lb/ft³ and 0.24 Btu/lb·°F this is q = 1.08 cfm ΔT.
    AIR_HEAT: fn air_heat(
        /// flow of air
        air_flow_m3_s: f64 ["V'", AirFlow, 0.0..=100.0],
        /// density of the air
        density_kg_m3: f64 ["ρ", Density, 0.3..=1.6],
        /// heat capacity of the air
        specific_heat_j_kgk: f64 ["c", SpecificHeat, 990.0..=1040.0],
        /// difference of temperature
        difference_k: f64 ["ΔT", TemperatureDifference, -60.0..=90.0],
    ) -> f64 [heat_w "q" Power];
    formula "q = ρ c V' ΔT";
    source "EN 12831-1:2017", "6.3.3", Definition;
    {
        air_flow_loss(air_flow_m3_s, density_kg_m3, specific_heat_j_kgk) * difference_k
    }

    /// Outdoor air flow that counts in a room.
    VENTILATION_AIR_FLOW: fn ventilation_air_flow(
        /// flow through leaks
        infiltration_m3_s: f64 ["V'inf", AirFlow, 0.0..=100.0],
        /// volume of the room
        volume_m3: f64 ["V", AirVolume, 0.0..=100000.0],
        /// least air change for health
        least_air_changes_per_s: f64 ["nmin", AirChange, 0.0..=0.01],
    ) -> f64 [air_flow_m3_s "V'" AirFlow];
    formula "V' = max(V'inf, nmin V)";
    source "EN 12831:2003", "7.2", Memory;
    {
        infiltration_m3_s.max(least_air_changes_per_s * volume_m3)
    }

    /// Flow through the leaks of a room.
    INFILTRATION_AIR_FLOW: fn infiltration_air_flow(
        /// volume of the room
        volume_m3: f64 ["V", AirVolume, 0.0..=100000.0],
        /// air change of the house at 50 Pa
        air_changes_per_s: f64 ["n50", AirChange, 0.0..=0.01],
        /// shielding of the openings
        shielding: f64 ["e", Ratio, 0.0..=0.05],
        /// correction for height
        height_correction: f64 ["ε", Ratio, 1.0..=2.0],
    ) -> f64 [air_flow_m3_s "V'inf" AirFlow];
    formula "V'inf = 2 V n50 e ε";
    source "EN 12831:2003", "7.2.2", Memory;
    {
        2.0 * volume_m3 * air_changes_per_s * shielding * height_correction
    }

    /// Natural air change from a blower-door test.
    ///
    /// An average over the year, not the air change of the design day.
    NATURAL_AIR_CHANGE: fn natural_air_change(
        /// air change at 50 Pa
        air_changes_per_s: f64 ["n50", AirChange, 0.0..=0.02],
        /// divisor for climate, height and shielding
        divisor: f64 ["N", Ratio, 9.0..=30.0],
    ) -> f64 [air_change_per_s "n" AirChange];
    formula "n = n50 / N";
    source "Sherman 1987", "ASHRAE Transactions 93", Print;
    {
        air_changes_per_s / divisor
    }

    /// Flow that wind and stack drive through leaks when heating.
    LEAKAGE_AIR_FLOW: fn leakage_air_flow(
        /// effective leakage area
        leakage_area_m2: f64 ["AL", Area, 0.0..=1.0],
        /// mean height of the ceiling over the ground
        height_m: f64 ["H", Length, 2.0..=10.0],
        /// room temperature less outdoor temperature
        difference_k: f64 ["ΔT", TemperatureDifference, 0.0..=70.0],
        /// leakage area of a flue, as a share of the whole
        flue_share: f64 ["Af", Ratio, 0.0..=1.0],
    ) -> f64 [air_flow_m3_s "Q" AirFlow];
    formula "Q = AL [51 + H |ΔT| (0.35 + 0.23 Af)] / 100";
    source "ASHRAE Handbook Fundamentals 2021", "residential loads, driving force", Memory;
    {
        // The handbook gives L/(s cm²): ten metres a second.
        let force = (51.0 + height_m * difference_k.abs() * (0.35 + 0.23 * flue_share)) / 1000.0;
        leakage_area_m2 * force * 10.0
    }
}
