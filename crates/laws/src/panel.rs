//! Heated floors: output after EN 1264-2, dimensioning after EN 1264-3.

use crate::declare::laws;
use crate::table::{bilinear, linear};
use std::f64::consts::PI;

/// Total heat exchange coefficient of a heated floor, W/m²K.
const FLOOR_W_M2K: f64 = 10.8;

/// Coefficient of the standard tube in the standard screed, W/m²K.
const TYPE_A_W_M2K: f64 = 6.7;

/// Coefficient of a plane heated section, W/m²K.
const TYPE_D_W_M2K: f64 = 6.5;

/// Cover and conductivity for which the tables are drawn.
const COVER_M: f64 = 0.045;
const SCREED_W_MK: f64 = 1.0;

/// Wall and conductivity of the tube for which the tables are drawn.
const WALL_M: f64 = 0.002;
const TUBE_W_MK: f64 = 0.35;

/// Widest spacing of the tables.
const WIDEST_M: f64 = 0.375;

/// Resistances of covering at which the tables stand, m²K/W.
const COVERING_M2K_W: [f64; 4] = [0.0, 0.05, 0.10, 0.15];

/// Spacings at which the tables stand, m.
const SPACING_M: [f64; 8] = [0.05, 0.075, 0.10, 0.15, 0.20, 0.225, 0.30, WIDEST_M];

/// Table A.1: the factor of spacing.
const SPACING_FACTOR: [f64; 4] = [1.23, 1.188, 1.156, 1.134];

/// Table A.2: the factor of cover.
const COVER_FACTOR: [[f64; 4]; 8] = [
    [1.069, 1.056, 1.043, 1.037],
    [1.066, 1.053, 1.041, 1.035],
    [1.063, 1.050, 1.039, 1.0335],
    [1.057, 1.046, 1.035, 1.0305],
    [1.051, 1.041, 1.0315, 1.0275],
    [1.048, 1.038, 1.0295, 1.026],
    [1.0395, 1.031, 1.024, 1.021],
    [1.030, 1.0221, 1.0181, 1.015],
];

/// Table A.3: the factor of tube diameter.
const DIAMETER_FACTOR: [[f64; 4]; 8] = [
    [1.013, 1.013, 1.012, 1.011],
    [1.021, 1.019, 1.016, 1.014],
    [1.029, 1.025, 1.022, 1.018],
    [1.040, 1.034, 1.029, 1.024],
    [1.046, 1.040, 1.035, 1.030],
    [1.049, 1.043, 1.038, 1.033],
    [1.053, 1.049, 1.044, 1.039],
    [1.056, 1.051, 1.046, 1.042],
];

/// What a tube wall resists, less a divisor that both walls share.
fn wall(diameter_m: f64, wall_m: f64, conductivity_w_mk: f64) -> f64 {
    (diameter_m / (diameter_m - 2.0 * wall_m)).ln() / (2.0 * conductivity_w_mk)
}

laws! { topic "heated floors";
    /// Heat from a floor surface into the room.
    ///
    /// The basic characteristic curve; it holds for every floor heating system.
    FLOOR_SURFACE_HEAT_FLUX: fn floor_surface_heat_flux(
        /// mean temperature of the floor surface
        surface_k: f64 ["θF", Temperature, 273.15..=318.15],
        /// room temperature
        room_k: f64 ["θi", Temperature, 268.15..=308.15],
    ) -> f64 [heat_flux_w_m2 "q" HeatFlux];
    formula "q = 8.92 (θF − θi)^1.1";
    source "EN 1264-2:2021", "basic characteristic curve", Print;
    {
        let excess = surface_k - room_k;
        8.92 * excess.abs().powf(1.1).copysign(excess)
    }

    /// Mean floor surface temperature that gives a heat.
    FLOOR_SURFACE_TEMPERATURE: fn floor_surface_temperature(
        /// heat upward
        heat_flux_w_m2: f64 ["q", HeatFlux, 0.0..=200.0],
        /// room temperature
        room_k: f64 ["θi", Temperature, 268.15..=308.15],
    ) -> [f64; 2] [surface_k "θF" Temperature, excess_k "Δθ" TemperatureDifference];
    formula "θF = θi + (q / 8.92)^(1 / 1.1)";
    source "EN 1264-2:2021", "basic characteristic curve", Print;
    {
        let excess = (heat_flux_w_m2.abs() / 8.92).powf(1.0 / 1.1).copysign(heat_flux_w_m2);
        [room_k + excess, excess]
    }

    /// Mean excess of the water over the room.
    LOGARITHMIC_EXCESS: fn logarithmic_excess(
        /// supply temperature
        supply_k: f64 ["θV", Temperature, 283.15..=368.15],
        /// return temperature
        return_k: f64 ["θR", Temperature, 283.15..=368.15],
        /// room temperature
        room_k: f64 ["θi", Temperature, 268.15..=308.15],
    ) -> f64 [excess_k "ΔθH" TemperatureDifference];
    formula "ΔθH = (θV − θR) / ln((θV − θi) / (θR − θi))";
    source "EN 1264-2:2021", "heating medium differential", Memory;
    {
        let (supply, back) = (supply_k - room_k, return_k - room_k);
        let drop = (supply - back) / back;
        // The series keeps its digits where supply and return meet and the ratio turns 0 / 0.
        if drop.abs() < 1e-4 {
            back * (1.0 + drop / 2.0 - drop * drop / 12.0)
        } else {
            (supply - back) / (supply / back).ln()
        }
    }

    /// Output per degree of tubes in a wet floor.
    ///
    /// Types A and C: tube within or below the screed, in contact with it. Above a spacing of
    /// 0.375 m the output falls as the spacing grows. Tables A.1 to A.3 are linear between entries.
    EMBEDDED_TUBE_COEFFICIENT: fn embedded_tube_coefficient(
        /// tube spacing
        spacing_m: f64 ["T", Length, 0.05..=0.6],
        /// screed above the tube
        cover_m: f64 ["su", Length, 0.01..=0.065],
        /// outside diameter of the tube
        diameter_m: f64 ["D", Length, 0.008..=0.03],
        /// wall of the tube
        wall_m: f64 ["sR", Length, 0.0005..=0.005],
        /// conductivity of the tube
        tube_w_mk: f64 ["λR", Conductivity, 0.15..=400.0],
        /// conductivity of the screed
        screed_w_mk: f64 ["λE", Conductivity, 0.5..=2.5],
        /// resistance of the floor covering
        covering_m2k_w: f64 ["Rλ", AreaResistance, 0.0..=0.15],
    ) -> f64 [coefficient_w_m2k "KH" Transmittance];
    formula "KH = B Π; Π = aB aT^(1 − T/0.075) aU^(100 (0.045 − su)) aD^(250 (D − 0.020)); aB = (1/10.8 + 0.045) / (1/10.8 + 0.045/λE + Rλ); 1/B = 1/6.7 + 1.1/π Π T [ln(D / (D − 2 sR)) / (2 λR) − ln(D / (D − 0.004)) / 0.7]";
    source "EN 1264-2:2021", "6.2 and annex A", Memory;
    {
        let within_m = spacing_m.min(WIDEST_M);
        let covering_factor = (1.0 / FLOOR_W_M2K + COVER_M / SCREED_W_MK)
            / (1.0 / FLOOR_W_M2K + COVER_M / screed_w_mk + covering_m2k_w);
        let of_table =
            |cells| bilinear(&SPACING_M, &COVERING_M2K_W, cells, within_m, covering_m2k_w);
        let factors = covering_factor
            * linear(&COVERING_M2K_W, &SPACING_FACTOR, covering_m2k_w).powf(1.0 - within_m / 0.075)
            * of_table(&COVER_FACTOR).powf(100.0 * (COVER_M - cover_m))
            * of_table(&DIAMETER_FACTOR).powf(250.0 * (diameter_m - 0.020));
        let other_tube =
            wall(diameter_m, wall_m, tube_w_mk) - wall(diameter_m, WALL_M, TUBE_W_MK);
        let resistance = 1.0 / TYPE_A_W_M2K + 1.1 / PI * factors * within_m * other_tube;
        factors / resistance * (within_m / spacing_m)
    }

    /// Output per degree of a plane heated section.
    PLANE_SECTION_COEFFICIENT: fn plane_section_coefficient(
        /// screed above the heated plane
        cover_m: f64 ["su", Length, 0.01..=0.1],
        /// conductivity of the screed
        screed_w_mk: f64 ["λE", Conductivity, 0.5..=2.5],
        /// resistance of the floor covering
        covering_m2k_w: f64 ["Rλ", AreaResistance, 0.0..=0.15],
    ) -> f64 [coefficient_w_m2k "KH" Transmittance];
    formula "KH = K0 / (1 + K0 Rλ); K0 = 6.5 · 1.06 (1/10.8 + 0.045) / (1/10.8 + su/λE)";
    source "EN 1264-2:2021", "type D", Memory;
    {
        let cover = (1.0 / FLOOR_W_M2K + COVER_M / SCREED_W_MK)
            / (1.0 / FLOOR_W_M2K + cover_m / screed_w_mk);
        let bare = TYPE_D_W_M2K * cover * 1.06;
        bare / (1.0 + bare * covering_m2k_w)
    }

    /// Heat upward from a heated floor.
    PANEL_HEAT_FLUX: fn panel_heat_flux(
        /// output per degree
        coefficient_w_m2k: f64 ["KH", Transmittance, 0.1..=10.0],
        /// mean excess of the water over the room
        excess_k: f64 ["ΔθH", TemperatureDifference, 0.0..=60.0],
    ) -> f64 [heat_flux_w_m2 "q" HeatFlux];
    formula "q = KH ΔθH";
    source "EN 1264-2:2021", "6", Memory;
    {
        coefficient_w_m2k * excess_k
    }

    /// Mean excess of the water that gives a heat.
    REQUIRED_EXCESS: fn required_excess(
        /// heat upward
        heat_flux_w_m2: f64 ["q", HeatFlux, 0.0..=200.0],
        /// output per degree
        coefficient_w_m2k: f64 ["KH", Transmittance, 0.1..=10.0],
    ) -> f64 [excess_k "ΔθH" TemperatureDifference];
    formula "ΔθH = q / KH";
    source "EN 1264-2:2021", "6", Memory;
    {
        heat_flux_w_m2 / coefficient_w_m2k
    }

    /// Resistance from the tube up into the room.
    UPWARD_RESISTANCE: fn upward_resistance(
        /// resistance of the floor covering
        covering_m2k_w: f64 ["Rλ", AreaResistance, 0.0..=0.5],
        /// screed above the tube
        cover_m: f64 ["su", Length, 0.0..=0.2],
        /// conductivity of the screed
        screed_w_mk: f64 ["λu", Conductivity, 0.1..=3.0],
    ) -> f64 [resistance_m2k_w "Ro" AreaResistance];
    formula "Ro = 1/10.8 + Rλ + su / λu";
    source "EN 1264-3:2021", "downward heat", Memory;
    {
        1.0 / FLOOR_W_M2K + covering_m2k_w + cover_m / screed_w_mk
    }

    /// Resistance from the tube down to the space below.
    DOWNWARD_RESISTANCE: fn downward_resistance(
        /// insulation below the tube
        insulation_m2k_w: f64 ["RI", AreaResistance, 0.0..=20.0],
        /// structural floor
        structure_m2k_w: f64 ["RC", AreaResistance, 0.0..=5.0],
        /// ceiling finish below
        plaster_m2k_w: f64 ["RP", AreaResistance, 0.0..=5.0],
        /// film on the ceiling below, 0.17 with heat flowing down
        film_m2k_w: f64 ["Rα", AreaResistance, 0.0..=0.5],
    ) -> f64 [resistance_m2k_w "Ru" AreaResistance];
    formula "Ru = RI + RC + RP + Rα";
    source "EN 1264-3:2021", "downward heat", Memory;
    {
        insulation_m2k_w + structure_m2k_w + plaster_m2k_w + film_m2k_w
    }

    /// Heat downward from a heated floor.
    DOWNWARD_HEAT_FLUX: fn downward_heat_flux(
        /// heat upward
        heat_flux_w_m2: f64 ["q", HeatFlux, 0.0..=200.0],
        /// resistance upward
        upward_m2k_w: f64 ["Ro", AreaResistance, 0.01..=1.0],
        /// resistance downward
        downward_m2k_w: f64 ["Ru", AreaResistance, 0.05..=25.0],
        /// room temperature
        room_k: f64 ["θi", Temperature, 268.15..=308.15],
        /// temperature of the space below
        below_k: f64 ["θu", Temperature, 233.15..=313.15],
    ) -> f64 [heat_flux_w_m2 "qu" HeatFlux];
    formula "qu = (Ro q + θi − θu) / Ru";
    source "EN 1264-3:2021", "downward heat", Memory;
    {
        (upward_m2k_w * heat_flux_w_m2 + room_k - below_k) / downward_m2k_w
    }

    /// Water flow for a heated floor, its downward heat included.
    DESIGN_MASS_FLOW: fn design_mass_flow(
        /// heated area
        area_m2: f64 ["A", Area, 0.1..=1000.0],
        /// heat upward
        heat_flux_w_m2: f64 ["q", HeatFlux, 1.0..=200.0],
        /// drop from supply to return
        drop_k: f64 ["σ", TemperatureDifference, 1.0..=30.0],
        /// heat capacity of the water
        specific_heat_j_kgk: f64 ["c", SpecificHeat, 3000.0..=4300.0],
        /// resistance upward
        upward_m2k_w: f64 ["Ro", AreaResistance, 0.01..=1.0],
        /// resistance downward
        downward_m2k_w: f64 ["Ru", AreaResistance, 0.05..=25.0],
        /// room temperature less that of the space below
        difference_k: f64 ["Δθu", TemperatureDifference, -30.0..=60.0],
    ) -> f64 [mass_flow_kg_s "m" MassFlow];
    formula "m = A q / (σ c) (1 + Ro/Ru + Δθu / (q Ru))";
    source "EN 1264-3:2021", "design flow", Memory;
    {
        let share = (upward_m2k_w + difference_k / heat_flux_w_m2) / downward_m2k_w;
        area_m2 * heat_flux_w_m2 / (drop_k * specific_heat_j_kgk) * (1.0 + share)
    }

    /// Excess of the supply over the room.
    SUPPLY_EXCESS: fn supply_excess(
        /// mean excess of the water
        excess_k: f64 ["ΔθH", TemperatureDifference, 1.0..=60.0],
        /// drop from supply to return
        drop_k: f64 ["σ", TemperatureDifference, 0.0..=30.0],
    ) -> f64 [supply_excess_k "ΔθV" TemperatureDifference];
    formula "ΔθV = ΔθH + σ/2, and + σ² / (12 ΔθH) where σ / ΔθH > 0.5";
    source "EN 1264-3:2021", "design supply temperature", Memory;
    {
        let bend = if drop_k > 0.5 * excess_k { drop_k * drop_k / (12.0 * excess_k) } else { 0.0 };
        excess_k + 0.5 * drop_k + bend
    }

    /// Drop of another circuit on the same supply.
    CIRCUIT_DROP: fn circuit_drop(
        /// excess of the supply over the room
        supply_excess_k: f64 ["ΔθV", TemperatureDifference, 1.0..=60.0],
        /// mean excess that the circuit needs
        excess_k: f64 ["ΔθH", TemperatureDifference, 1.0..=60.0],
    ) -> f64 [drop_k "σ" TemperatureDifference];
    formula "σ = 2 (ΔθV − ΔθH), or 3 ΔθH (√(1 + 4 (ΔθV − ΔθH) / (3 ΔθH)) − 1) where σ / ΔθH > 0.5";
    source "EN 1264-3:2021", "other circuits", Memory;
    {
        let above = supply_excess_k - excess_k;
        if 2.0 * above <= 0.5 * excess_k {
            2.0 * above
        } else {
            3.0 * excess_k * ((1.0 + 4.0 * above / (3.0 * excess_k)).sqrt() - 1.0)
        }
    }

    /// Resistance from a row of tubes to its own plane.
    ///
    /// The standard keeps it to cover over 0.3 of the spacing and tubes under 0.2 of it; for tubes
    /// on the insulation it is too optimistic.
    PIPE_LEVEL_RESISTANCE: fn pipe_level_resistance(
        /// tube spacing
        spacing_m: f64 ["T", Length, 0.05..=0.6],
        /// outside diameter of the tube
        diameter_m: f64 ["d", Length, 0.008..=0.03],
        /// conductivity of the layer with the tubes
        layer_w_mk: f64 ["λ", Conductivity, 0.3..=3.0],
    ) -> f64 [resistance_m2k_w "Rx" AreaResistance];
    formula "Rx = T ln(T / (π d)) / (2 π λ)";
    source "ISO 11855-2:2021", "resistance method", Memory;
    {
        spacing_m * (spacing_m / (PI * diameter_m)).ln() / (2.0 * PI * layer_w_mk)
    }

    /// Resistance of the tube wall, per area of floor.
    PIPE_WALL_RESISTANCE: fn pipe_wall_resistance(
        /// tube spacing
        spacing_m: f64 ["T", Length, 0.05..=0.6],
        /// outside diameter of the tube
        diameter_m: f64 ["d", Length, 0.008..=0.04],
        /// wall of the tube
        wall_m: f64 ["s", Length, 0.0005..=0.005],
        /// conductivity of the tube
        tube_w_mk: f64 ["λr", Conductivity, 0.15..=400.0],
    ) -> f64 [resistance_m2k_w "Rr" AreaResistance];
    formula "Rr = T ln(d / (d − 2 s)) / (2 π λr)";
    source "ISO 11855-2:2021", "resistance method", Memory;
    {
        spacing_m * wall(diameter_m, wall_m, tube_w_mk) / PI
    }

    /// Resistance that the cooling of the water amounts to.
    FLOW_RESISTANCE: fn flow_resistance(
        /// flow of the circuit
        mass_flow_kg_s: f64 ["m", MassFlow, 0.001..=10.0],
        /// floor that it serves
        area_m2: f64 ["A", Area, 0.1..=1000.0],
        /// heat capacity of the water
        specific_heat_j_kgk: f64 ["c", SpecificHeat, 3000.0..=4300.0],
    ) -> f64 [resistance_m2k_w "Rz" AreaResistance];
    formula "Rz = A / (2 m c)";
    source "ISO 11855-2:2021", "resistance method", Memory;
    {
        area_m2 / (2.0 * mass_flow_kg_s * specific_heat_j_kgk)
    }

    /// Conductance of a tube wall, per length of tube.
    TUBE_WALL_CONDUCTANCE: fn tube_wall_conductance(
        /// outside diameter of the tube
        diameter_m: f64 ["D", Length, 0.004..=0.2],
        /// bore of the tube
        bore_m: f64 ["d", Length, 0.003..=0.2],
        /// conductivity of the tube
        tube_w_mk: f64 ["λ", Conductivity, 0.15..=400.0],
    ) -> f64 [conductance_w_mk "Λ" LinearTransmittance];
    formula "Λ = 2 π λ / ln(D / d)";
    source "conduction through a cylinder", "", Definition;
    {
        2.0 * PI * tube_w_mk / (diameter_m / bore_m).ln()
    }

    /// Radiant and convective heat from a heated floor.
    ///
    /// Reads some 15 % below the basic characteristic curve at 29 °C over 20 °C: say which is used.
    HEATED_FLOOR_FLUX: fn heated_floor_flux(
        /// temperature of the floor surface
        surface_k: f64 ["θp", Temperature, 273.15..=323.15],
        /// room air temperature
        air_k: f64 ["θa", Temperature, 268.15..=308.15],
        /// mean temperature of the unheated surfaces
        surroundings_k: f64 ["AUST", Temperature, 263.15..=308.15],
    ) -> [f64; 3] [
        heat_flux_w_m2 "q" HeatFlux,
        radiant_w_m2 "qr" HeatFlux,
        convective_w_m2 "qc" HeatFlux,
    ];
    formula "q = qr + qc; qr = 5e-8 (θp⁴ − AUST⁴); qc = 2.13 |θp − θa|^0.31 (θp − θa)";
    source "ASHRAE Handbook Systems and Equipment 2020", "panel heating and cooling", Memory;
    {
        let radiant = 5e-8 * (surface_k.powi(4) - surroundings_k.powi(4));
        let excess = surface_k - air_k;
        let convective = 2.13 * excess.abs().powf(0.31) * excess;
        [radiant + convective, radiant, convective]
    }
}
