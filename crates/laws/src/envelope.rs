//! Walls, roofs and floors: resistances and transmittances after EN ISO 6946.

use crate::declare::{choice, laws};
use crate::table::{bilinear, sum_of_products};

choice! {
    /// The way that heat flows through a part of the envelope.
    HeatFlow {
        /// Upward, as through a ceiling.
        Up = "up",
        /// Within 30 degrees of horizontal, as through a wall.
        Horizontal = "horizontal",
        /// Downward, as through a floor.
        Down = "down",
    }
}

choice! {
    /// The side of a part of the envelope.
    Face {
        /// Towards the room.
        Inside = "inside",
        /// Towards the outdoor air.
        Outside = "outside",
    }
}

/// Widths of a still air layer, in metres, and its resistance upward, across and downward.
const AIR_LAYER_M: [f64; 9] = [0.0, 0.005, 0.007, 0.010, 0.015, 0.025, 0.050, 0.100, 0.300];
const AIR_LAYER_M2K_W: [[f64; 3]; 9] = [
    [0.0, 0.0, 0.0],
    [0.11, 0.11, 0.11],
    [0.13, 0.13, 0.13],
    [0.15, 0.15, 0.15],
    [0.16, 0.17, 0.17],
    [0.16, 0.18, 0.19],
    [0.16, 0.18, 0.21],
    [0.16, 0.18, 0.22],
    [0.16, 0.18, 0.23],
];

laws! { topic "walls, roofs and floors";
    /// Resistance of the air film at a surface.
    ///
    /// Conventional values. Under a heated floor the film is part of the floor, not this.
    SURFACE_RESISTANCE: fn surface_resistance(
        /// side of the part, inside or outside
        face: Face ["side", Ratio, 0.0..=1.0],
        /// the way the heat flows
        heat_flow: HeatFlow ["way", Ratio, 0.0..=2.0],
    ) -> f64 [resistance_m2k_w "Rs" AreaResistance];
    formula "Rsi = 0.10 up, 0.13 horizontal, 0.17 down; Rse = 0.04";
    source "EN ISO 6946:2017", "table 7", Memory;
    {
        match (face, heat_flow) {
            (Face::Outside, _) => 0.04,
            (Face::Inside, HeatFlow::Up) => 0.10,
            (Face::Inside, HeatFlow::Horizontal) => 0.13,
            (Face::Inside, HeatFlow::Down) => 0.17,
        }
    }

    /// Resistance of a solid layer.
    LAYER_RESISTANCE: fn layer_resistance(
        /// thickness of the layer
        thickness_m: f64 ["d", Length, 0.0..=5.0],
        /// conductivity of its material
        conductivity_w_mk: f64 ["λ", Conductivity, 0.005..=500.0],
    ) -> f64 [resistance_m2k_w "R" AreaResistance];
    formula "R = d / λ";
    source "EN ISO 6946:2017", "6.7.1.1", Definition;
    {
        thickness_m / conductivity_w_mk
    }

    /// Resistance of a still air layer between surfaces.
    ///
    /// Linear between the widths of the table, as the standard asks; holds for surfaces of ordinary
    /// emittance, without openings to either side.
    UNVENTILATED_AIR_LAYER_RESISTANCE: fn unventilated_air_layer_resistance(
        /// width of the layer across the heat flow
        thickness_m: f64 ["d", Length, 0.0..=0.3],
        /// the way the heat flows
        heat_flow: HeatFlow ["way", Ratio, 0.0..=2.0],
    ) -> f64 [resistance_m2k_w "R" AreaResistance];
    formula "R from the table of air layers, linear in d";
    source "EN ISO 6946:2007", "table 2", Memory;
    {
        let way = [0.0, 1.0, 2.0];
        bilinear(&AIR_LAYER_M, &way, &AIR_LAYER_M2K_W, thickness_m, f64::from(heat_flow as u8))
    }

    /// Resistance of a slightly ventilated air layer.
    ///
    /// Openings of 500 to 1500 mm² on each metre.
    SLIGHTLY_VENTILATED_AIR_LAYER: fn slightly_ventilated_air_layer(
        /// resistance of the same layer with still air
        still_m2k_w: f64 ["Ru", AreaResistance, 0.0..=0.3],
    ) -> f64 [resistance_m2k_w "R" AreaResistance];
    formula "R = Ru / 2";
    source "EN ISO 6946:2007", "5.3.3", Memory;
    {
        0.5 * still_m2k_w
    }

    /// Resistance outward of a slightly ventilated air layer.
    ///
    /// Outdoor air gets behind these layers, so only so much of them counts.
    OUTWARD_OF_VENTILATED_AIR: fn outward_of_ventilated_air(
        /// resistance of each layer between the air layer and outdoors
        layers_m2k_w: &[f64] ["R", AreaResistance, 0.0..=50.0],
    ) -> f64 [resistance_m2k_w "Ro" AreaResistance];
    formula "Ro = min(Σ R, 0.15)";
    source "EN ISO 6946:2007", "5.3.3", Memory;
    {
        layers_m2k_w.iter().sum::<f64>().min(0.15)
    }

    /// Resistance from air to air through plain layers.
    LAYERED_RESISTANCE: fn layered_resistance(
        /// film on the warm side
        inside_film_m2k_w: f64 ["Rsi", AreaResistance, 0.0..=1.0],
        /// resistance of each layer
        layers_m2k_w: &[f64] ["R", AreaResistance, 0.0..=50.0],
        /// film on the cold side
        outside_film_m2k_w: f64 ["Rse", AreaResistance, 0.0..=1.0],
    ) -> f64 [resistance_m2k_w "RT" AreaResistance];
    formula "RT = Rsi + Σ R + Rse";
    source "EN ISO 6946:2017", "6.7.1", Print;
    {
        inside_film_m2k_w + layers_m2k_w.iter().sum::<f64>() + outside_film_m2k_w
    }

    /// Transmittance from air to air through plain layers.
    LAYERED_TRANSMITTANCE: fn layered_transmittance(
        /// film on the warm side
        inside_film_m2k_w: f64 ["Rsi", AreaResistance, 0.0..=1.0],
        /// resistance of each layer
        layers_m2k_w: &[f64] ["R", AreaResistance, 0.0..=50.0],
        /// film on the cold side
        outside_film_m2k_w: f64 ["Rse", AreaResistance, 0.0..=1.0],
    ) -> f64 [transmittance_w_m2k "U" Transmittance];
    formula "U = 1 / (Rsi + Σ R + Rse)";
    source "EN ISO 6946:2017", "6.7.1", Print;
    {
        1.0 / layered_resistance(inside_film_m2k_w, layers_m2k_w, outside_film_m2k_w)
    }

    /// Resistance of paths side by side.
    ///
    /// Over whole paths it is the upper limit; over one framed layer, that layer's resistance in
    /// the lower limit. The fractions are taken in proportion and need not add to one.
    PARALLEL_RESISTANCE: fn parallel_resistance(
        /// share of the area of each path
        fractions: &[f64] ["f", Ratio, 0.0..=1.0],
        /// resistance along each path
        resistances_m2k_w: &[f64] ["R", AreaResistance, 0.001..=50.0],
    ) -> f64 [resistance_m2k_w "R'" AreaResistance];
    formula "1 / R' = Σ (f / R) / Σ f";
    source "EN ISO 6946:2017", "6.7.2.3", Print;
    {
        if fractions.len() != resistances_m2k_w.len() {
            return f64::NAN;
        }
        let pairs = fractions.iter().zip(resistances_m2k_w);
        let conductance = pairs.map(|(fraction, resistance)| fraction / resistance).sum::<f64>();
        fractions.iter().sum::<f64>() / conductance
    }

    /// Resistance between the upper and the lower limit.
    ///
    /// Not for metal that bridges insulation. Above R' / R'' = 1.5 a two-dimensional calculation
    /// is due; the second output is half the gap between the limits, as a share.
    COMBINED_RESISTANCE: fn combined_resistance(
        /// upper limit, over whole paths
        upper_m2k_w: f64 ["R'", AreaResistance, 0.01..=50.0],
        /// lower limit, layer by layer
        lower_m2k_w: f64 ["R''", AreaResistance, 0.01..=50.0],
    ) -> [f64; 2] [resistance_m2k_w "RT" AreaResistance, largest_error "e" Ratio];
    formula "RT = (R' + R'') / 2; e = (R' − R'') / (2 RT)";
    source "EN ISO 6946:2017", "6.7.2", Print;
    {
        let resistance = 0.5 * (upper_m2k_w + lower_m2k_w);
        [resistance, (upper_m2k_w - lower_m2k_w) / (2.0 * resistance)]
    }

    /// Resistance of a part with one framed layer.
    ///
    /// Studs and fill share one layer; all else, films too, is the same along every path.
    FRAMED_RESISTANCE: fn framed_resistance(
        /// share of the area of each path
        fractions: &[f64] ["f", Ratio, 0.0..=1.0],
        /// resistance of the framed layer along each path
        framed_m2k_w: &[f64] ["Rf", AreaResistance, 0.001..=50.0],
        /// all other layers and both films
        rest_m2k_w: f64 ["R0", AreaResistance, 0.0..=50.0],
    ) -> [f64; 4] [
        resistance_m2k_w "RT" AreaResistance,
        upper_m2k_w "R'" AreaResistance,
        lower_m2k_w "R''" AreaResistance,
        transmittance_w_m2k "U" Transmittance,
    ];
    formula "1/R' = Σ f / (Rf + R0); R'' = R0 + 1 / Σ (f / Rf); RT = (R' + R'') / 2; U = 1 / RT";
    source "EN ISO 6946:2017", "6.7.2", Print;
    {
        let paths: Vec<f64> = framed_m2k_w.iter().map(|framed| framed + rest_m2k_w).collect();
        let upper = parallel_resistance(fractions, &paths);
        let lower = rest_m2k_w + parallel_resistance(fractions, framed_m2k_w);
        let [resistance, _] = combined_resistance(upper, lower);
        [resistance, upper, lower, 1.0 / resistance]
    }

    /// Correction of transmittance for air gaps in insulation.
    ///
    /// The level is 0 without gaps, 0.01 with gaps that bridge the layer, 0.04 with air that also
    /// circulates on its warm side. Counts if it is three per cent of U or more.
    AIR_GAP_CORRECTION: fn air_gap_correction(
        /// correction of the level
        level_w_m2k: f64 ["ΔU''", Transmittance, 0.0..=0.04],
        /// resistance of the layer with gaps
        insulation_m2k_w: f64 ["R1", AreaResistance, 0.0..=50.0],
        /// resistance of the whole part
        total_m2k_w: f64 ["RT", AreaResistance, 0.01..=50.0],
    ) -> f64 [correction_w_m2k "ΔUg" Transmittance];
    formula "ΔUg = ΔU'' (R1 / RT)²";
    source "EN ISO 6946:2017", "annex F", Memory;
    {
        level_w_m2k * (insulation_m2k_w / total_m2k_w).powi(2)
    }

    /// Heat loss per degree of several parts.
    ENVELOPE_LOSS_COEFFICIENT: fn envelope_loss_coefficient(
        /// area of each part
        areas_m2: &[f64] ["A", Area, 0.0..=10000.0],
        /// transmittance of each part
        transmittances_w_m2k: &[f64] ["U", Transmittance, 0.0..=10.0],
        /// share of the indoor-outdoor difference across each part
        factors: &[f64] ["b", Ratio, 0.0..=1.0],
    ) -> f64 [coefficient_w_k "H" HeatLossCoefficient];
    formula "H = Σ (A U b)";
    source "EN 12831-1:2017", "6.3.2", Memory;
    {
        sum_of_products([areas_m2, transmittances_w_m2k, factors])
    }

    /// Heat loss of parts with different neighbours.
    ///
    /// A neighbour that is warmer than the room gives heat: its difference is negative.
    ENVELOPE_HEAT_LOSS: fn envelope_heat_loss(
        /// area of each part
        areas_m2: &[f64] ["A", Area, 0.0..=10000.0],
        /// transmittance of each part
        transmittances_w_m2k: &[f64] ["U", Transmittance, 0.0..=10.0],
        /// room temperature less that of the far side, for each part
        differences_k: &[f64] ["ΔT", TemperatureDifference, -60.0..=90.0],
    ) -> f64 [heat_w "Φ" Power];
    formula "Φ = Σ (A U ΔT)";
    source "EN 12831-1:2017", "6.3.2", Definition;
    {
        sum_of_products([areas_m2, transmittances_w_m2k, differences_k])
    }

    /// Heat loss per degree of edges and junctions.
    THERMAL_BRIDGE_LOSS_COEFFICIENT: fn thermal_bridge_loss_coefficient(
        /// length of each junction
        lengths_m: &[f64] ["l", Length, 0.0..=1000.0],
        /// loss of each junction per length
        transmittances_w_mk: &[f64] ["ψ", LinearTransmittance, 0.0..=3.0],
    ) -> f64 [coefficient_w_k "H" HeatLossCoefficient];
    formula "H = Σ (l ψ)";
    source "EN ISO 14683:2017", "", Definition;
    {
        sum_of_products([lengths_m, transmittances_w_mk])
    }

    /// Heat lost at a difference of temperature.
    TRANSMISSION_HEAT: fn transmission_heat(
        /// heat loss per degree
        coefficient_w_k: f64 ["H", HeatLossCoefficient, 0.0..=100000.0],
        /// room temperature less outdoor temperature
        difference_k: f64 ["ΔT", TemperatureDifference, -60.0..=90.0],
    ) -> f64 [heat_w "Φ" Power];
    formula "Φ = H ΔT";
    source "EN 12831-1:2017", "6.3.2", Definition;
    {
        coefficient_w_k * difference_k
    }

    /// Share of the indoor-outdoor difference towards a neighbour.
    ///
    /// Serves for an unheated space, an adjacent room, and for the ground at its annual mean.
    TEMPERATURE_FACTOR: fn temperature_factor(
        /// room temperature
        room_k: f64 ["θi", Temperature, 268.15..=313.15],
        /// temperature of the far side
        neighbour_k: f64 ["θu", Temperature, 213.15..=333.15],
        /// outdoor design temperature
        outdoor_k: f64 ["θe", Temperature, 213.15..=303.15],
    ) -> f64 [factor "b" Ratio];
    formula "b = (θi − θu) / (θi − θe)";
    source "EN 12831-1:2017", "6.3.2.5", Memory;
    {
        (room_k - neighbour_k) / (room_k - outdoor_k)
    }

    /// Mean temperature of rooms, weighted by floor area.
    MEAN_ROOM_TEMPERATURE: fn mean_room_temperature(
        /// floor area of each room
        areas_m2: &[f64] ["A", Area, 0.0..=10000.0],
        /// temperature of each room
        temperatures_k: &[f64] ["θ", Temperature, 268.15..=313.15],
    ) -> f64 [temperature_k "θm" Temperature];
    formula "θm = Σ (A θ) / Σ A";
    source "EN 12831-1:2017", "", Definition;
    {
        sum_of_products([areas_m2, temperatures_k]) / areas_m2.iter().sum::<f64>()
    }

    /// Extra heat to warm a room after a setback.
    REHEAT_HEAT: fn reheat_heat(
        /// floor area
        area_m2: f64 ["A", Area, 0.0..=10000.0],
        /// reheat factor for the drop, the time and the mass
        factor_w_m2: f64 ["fRH", HeatFlux, 0.0..=100.0],
    ) -> f64 [heat_w "ΦRH" Power];
    formula "ΦRH = A fRH";
    source "EN 12831:2003", "7.4", Memory;
    {
        area_m2 * factor_w_m2
    }
}
