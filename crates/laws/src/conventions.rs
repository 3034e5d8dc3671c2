//! Tabled conventions of codes: films, corrections, allowances and factors.

use crate::declare::{choice, laws};
use crate::envelope::{Face, HeatFlow};
use crate::table::linear;

/// One hour foot squared Fahrenheit to the Btu, and its inverse along a length, in SI.
const R_M2K_W: f64 = 0.176_110_184;
const U_W_M2K: f64 = 5.678_263_341;
const F_W_MK: f64 = 1.730_734_666;

choice! {
    /// Air gaps in a layer of insulation.
    GapLevel {
        /// None, or too small to matter.
        None = "none",
        /// Gaps that bridge the layer, without air moving to its warm side.
        Bridging = "bridging",
        /// Gaps through which air also circulates on the warm side.
        Circulating = "circulating",
    }
}

choice! {
    /// How densely a wall of studs at 16 in is framed.
    Framing {
        /// Ordinary framing.
        Standard = "standard",
        /// Insulated headers and corners.
        Intermediate = "intermediate",
    }
}

choice! {
    /// What is known of the thermal bridges of a house.
    BridgeCase {
        /// Well insulated, bridges shown to be small.
        Attested = "attested",
        /// Details of good practice.
        GoodPractice = "good practice",
        /// Nothing known.
        Other = "other",
        /// Insulated inside, and the insulation broken by solid ceilings.
        InsideBroken = "inside broken by ceilings",
    }
}

choice! {
    /// A space that nobody heats, as EN 12831 tables it.
    UnheatedKind {
        /// Basement without window or outside door.
        BasementClosed = "closed basement",
        /// Basement with window or outside door.
        BasementOpen = "open basement",
        /// Roof space through which much air passes.
        RoofOpen = "open roof space",
        /// Other roof space, its roof not insulated.
        RoofBare = "bare roof space",
        /// Other roof space, its roof insulated.
        RoofInsulated = "insulated roof space",
        /// Hall or stair without outside wall, hardly aired.
        Circulation = "inside hall",
        /// Space under a suspended floor.
        Crawlspace = "crawlspace",
    }
}

choice! {
    /// How leaky the outer surface of a house is.
    Tightness {
        /// Built tight, with care at every joint.
        Tight = "tight",
        /// Good.
        Good = "good",
        /// Average.
        Average = "average",
        /// Leaky.
        Leaky = "leaky",
        /// Very leaky.
        VeryLeaky = "very leaky",
    }
}

choice! {
    /// A slab's edge, as older handbooks table it.
    SlabEdge {
        /// Block wall of 8 in with brick face, bare.
        Block8 = "8 in block",
        /// The same with from edge to footing.
        Block8Insulated = "8 in block R-5.4",
        /// Block wall of 4 in with brick face, bare.
        Block4 = "4 in block",
        /// The same with.
        Block4Insulated = "4 in block R-5.4",
        /// Metal stud wall, bare.
        MetalStud = "metal stud",
        /// The same with.
        MetalStudInsulated = "metal stud R-5.4",
        /// Poured wall with a duct at the perimeter, bare.
        PouredDuct = "poured with duct",
        /// The same with.
        PouredDuctInsulated = "poured with duct R-5.4",
    }
}

choice! {
    /// How a basement wall of the reference house is insulated.
    BasementWall {
        /// R-19 between studs inside.
        InsideR19 = "R-19 inside",
        /// R-10 outside.
        OutsideR10 = "R-10 outside",
    }
}

laws! { topic "conventions of codes";
    /// Resistance of the air film at a surface, ASHRAE winter.
    ///
    /// Still air inside at ordinary emittance, wind of 15 mph outside.
    ASHRAE_SURFACE_RESISTANCE: fn ashrae_surface_resistance(
        /// side of the part, inside or outside
        face: Face ["side", Ratio, 0.0..=1.0],
        /// the way the heat flows
        heat_flow: HeatFlow ["way", Ratio, 0.0..=2.0],
    ) -> f64 [resistance_m2k_w "R" AreaResistance];
    formula "R from the table of films: 0.61 up, 0.68 horizontal, 0.92 down, 0.17 outside, h·ft²·°F/Btu";
    source "ASHRAE Handbook Fundamentals 2021", "chapter 26, table 10", Print;
    {
        R_M2K_W * match (face, heat_flow) {
            (Face::Outside, _) => 0.17,
            (Face::Inside, HeatFlow::Up) => 0.61,
            (Face::Inside, HeatFlow::Horizontal) => 0.68,
            (Face::Inside, HeatFlow::Down) => 0.92,
        }
    }

    /// Air-gap correction by level of the gaps.
    AIR_GAP_LEVEL: fn air_gap_level(
        /// what gaps the insulation has
        gaps: GapLevel ["level", Ratio, 0.0..=2.0],
    ) -> f64 [level_w_m2k "ΔU''" Transmittance];
    formula "ΔU'' from the table of levels: 0, 0.01, 0.04";
    source "EN ISO 6946:2017", "annex F", Memory;
    {
        match gaps {
            GapLevel::None => 0.0,
            GapLevel::Bridging => 0.01,
            GapLevel::Circulating => 0.04,
        }
    }

    /// Correction of transmittance for fixings through insulation.
    ///
    /// For fixings that go all the way through. Counts if all corrections make three per cent of U.
    FIXINGS_CORRECTION: fn fixings_correction(
        /// conductivity of the fixing
        fixing_w_mk: f64 ["λf", Conductivity, 0.1..=500.0],
        /// section of one fixing
        section_m2: f64 ["Af", Area, 0.0..=0.01],
        /// fixings on each square metre
        per_square_metre: f64 ["nf", Ratio, 0.0..=100.0],
        /// thickness of the insulation
        thickness_m: f64 ["d0", Length, 0.005..=1.0],
        /// resistance of the layer that they go through
        insulation_m2k_w: f64 ["R1", AreaResistance, 0.0..=50.0],
        /// resistance of the whole part
        total_m2k_w: f64 ["RT", AreaResistance, 0.01..=50.0],
    ) -> f64 [correction_w_m2k "ΔUf" Transmittance];
    formula "ΔUf = 0.8 λf Af nf / d0 (R1 / RT)²";
    source "EN ISO 6946:2017", "annex F", Memory;
    {
        let share = (insulation_m2k_w / total_m2k_w).powi(2);
        0.8 * fixing_w_mk * section_m2 * per_square_metre / thickness_m * share
    }

    /// Transmittance with its corrections.
    ///
    /// Corrections that together make less than three per cent are left out, as the standard allows.
    CORRECTED_TRANSMITTANCE: fn corrected_transmittance(
        /// transmittance without corrections
        transmittance_w_m2k: f64 ["U0", Transmittance, 0.0..=10.0],
        /// each correction
        corrections_w_m2k: &[f64] ["ΔU", Transmittance, 0.0..=10.0],
    ) -> f64 [transmittance_w_m2k "U" Transmittance];
    formula "Σ ΔU ≥ 0.03 U0: U = U0 + Σ ΔU; else U = U0";
    source "EN ISO 6946:2017", "7.4", Memory;
    {
        let sum: f64 = corrections_w_m2k.iter().sum();
        transmittance_w_m2k + if sum >= 0.03 * transmittance_w_m2k { sum } else { 0.0 }
    }

    /// Shares of a wood-framed wall, studs at 16 in.
    FRAMING_SHARES: fn framing_shares(
        /// how densely it is framed
        framing: Framing ["kind", Ratio, 0.0..=1.0],
    ) -> [f64; 3] [studs "studs and plates" Ratio, cavity "cavity" Ratio, headers "headers" Ratio];
    formula "shares from the table of framing";
    source "WAC 51-11-1005.2", "", Print;
    {
        match framing {
            Framing::Standard => [0.19, 0.77, 0.04],
            Framing::Intermediate => [0.18, 0.78, 0.04],
        }
    }

    /// Allowance on transmittance for thermal bridges.
    THERMAL_BRIDGE_ALLOWANCE: fn thermal_bridge_allowance(
        /// what is known of them
        case: BridgeCase ["case", Ratio, 0.0..=3.0],
    ) -> f64 [allowance_w_m2k "ΔUTB" Transmittance];
    formula "ΔUTB from the table of cases: 0.02, 0.05, 0.10, 0.15";
    source "EN 12831-1:2017", "table B.1", Memory;
    {
        match case {
            BridgeCase::Attested => 0.02,
            BridgeCase::GoodPractice => 0.05,
            BridgeCase::Other => 0.10,
            BridgeCase::InsideBroken => 0.15,
        }
    }

    /// Temperature factor of a room that nobody heats.
    ///
    /// Doors count where two walls face outdoors; one wall or three, they make no difference.
    UNHEATED_ROOM_FACTOR: fn unheated_room_factor(
        /// its walls towards outdoors
        outside_walls: f64 ["walls", Ratio, 1.0..=12.0],
        /// its outside doors
        outside_doors: f64 ["doors", Ratio, 0.0..=20.0],
    ) -> f64 [factor "bu" Ratio];
    formula "bu from the table of rooms: one wall 0.4, two 0.5, two with a door 0.6, three or more 0.8";
    source "EN 12831:2003", "table D.4", Memory;
    {
        match (outside_walls.round() as i64, outside_doors > 0.0) {
            (..=0, _) => 0.0,
            (1, _) => 0.4,
            (2, false) => 0.5,
            (2, true) => 0.6,
            _ => 0.8,
        }
    }

    /// Temperature factor of an unheated space, tabled.
    UNHEATED_SPACE_FACTOR: fn unheated_space_factor(
        /// what it is
        kind: UnheatedKind ["kind", Ratio, 0.0..=6.0],
    ) -> f64 [factor "bu" Ratio];
    formula "bu from the table of spaces";
    source "EN 12831:2003", "table D.4", Memory;
    {
        match kind {
            UnheatedKind::BasementClosed => 0.5,
            UnheatedKind::BasementOpen | UnheatedKind::Crawlspace => 0.8,
            UnheatedKind::RoofOpen => 1.0,
            UnheatedKind::RoofBare => 0.9,
            UnheatedKind::RoofInsulated => 0.7,
            UnheatedKind::Circulation => 0.0,
        }
    }

    /// Correction of leakage for height above the ground.
    HEIGHT_CORRECTION: fn height_correction(
        /// middle of the room over the ground
        height_m: f64 ["h", Length, 0.0..=100.0],
    ) -> f64 [correction "ε" Ratio];
    formula "ε from the table of heights h: 1.0 to 10 m, 1.2 to 30 m, 1.5 above";
    source "EN 12831:2003", "table D.6", Memory;
    {
        match height_m {
            low if low <= 10.0 => 1.0,
            middle if middle <= 30.0 => 1.2,
            _ => 1.5,
        }
    }

    /// Effective leakage area by tightness of the surface.
    LEAKAGE_AREA: fn leakage_area(
        /// outer surface of the heated house above the ground
        surface_m2: f64 ["Aes", Area, 0.0..=10000.0],
        /// how leaky it is
        tightness: Tightness ["class", Ratio, 0.0..=4.0],
    ) -> f64 [leakage_area_m2 "AL" Area];
    formula "AL = Aes Aul; Aul by class from the table: 0.7, 1.4, 2.8, 5.6, 10.4 cm²/m²";
    source "ASHRAE Handbook Fundamentals 2021", "residential loads, unit leakage areas", Memory;
    {
        let unit_cm2_m2 = match tightness {
            Tightness::Tight => 0.7,
            Tightness::Good => 1.4,
            Tightness::Average => 2.8,
            Tightness::Leaky => 5.6,
            Tightness::VeryLeaky => 10.4,
        };
        surface_m2 * unit_cm2_m2 * 1e-4
    }

    /// Perimeter factor of a slab by older handbooks.
    TABLED_SLAB_EDGE: fn tabled_slab_edge(
        /// how wall and edge are made
        edge: SlabEdge ["edge", Ratio, 0.0..=7.0],
    ) -> f64 [factor_w_mk "Fp" LinearTransmittance];
    formula "Fp from the table of slab edges";
    source "ASHRAE Handbook Fundamentals 2005", "nonresidential loads, slab floors", Memory;
    {
        F_W_MK * match edge {
            SlabEdge::Block8 => 0.68,
            SlabEdge::Block8Insulated => 0.50,
            SlabEdge::Block4 => 0.84,
            SlabEdge::Block4Insulated => 0.49,
            SlabEdge::MetalStud => 1.20,
            SlabEdge::MetalStudInsulated => 0.53,
            SlabEdge::PouredDuct => 2.12,
            SlabEdge::PouredDuctInsulated => 0.72,
        }
    }

    /// Below-grade wall and slab of a code's reference house.
    ///
    /// The wall's mean transmittance below ground and the perimeter factor of the slab at its foot.
    TABLED_BASEMENT: fn tabled_basement(
        /// depth of the slab below the ground
        depth_m: f64 ["z", Length, 0.6096..=2.1336],
        /// how the wall is insulated
        wall: BasementWall ["wall", Ratio, 0.0..=1.0],
    ) -> [f64; 2] [wall_w_m2k "U" Transmittance, slab_w_mk "F" LinearTransmittance];
    formula "U and F from the table of depths, linear between them";
    source "WAC 51-11-0530", "table 5-1", Print;
    {
        let depths_m = [0.6096, 1.0668, 2.1336];
        let (walls, slabs) = match wall {
            BasementWall::InsideR19 => ([0.043, 0.041, 0.037], [0.69, 0.64, 0.57]),
            BasementWall::OutsideR10 => ([0.070, 0.064, 0.056], [0.60, 0.57, 0.42]),
        };
        let between = |values: &[f64; 3]| linear(&depths_m, values, depth_m);
        [U_W_M2K * between(&walls), F_W_MK * between(&slabs)]
    }

    /// Reheat factor of heavy dwellings after a short night setback.
    ///
    /// Setback of no more than 8 h. Heavy screed floors seldom gain by it: agree it with the owner.
    REHEAT_FACTOR: fn reheat_factor(
        /// time to warm up again
        reheat_s: f64 ["t", Time, 3600.0..=14400.0],
        /// how far the room has cooled
        drop_k: f64 ["Δθ", TemperatureDifference, 1.0..=3.0],
    ) -> f64 [factor_w_m2 "fRH" HeatFlux];
    formula "fRH from the table of hours and drops, linear between them";
    source "EN 12831:2003", "table D.10b", Memory;
    {
        let (hours, drops) = ([1.0, 2.0, 3.0, 4.0], [1.0, 2.0, 3.0]);
        let rows = [[11.0, 22.0, 45.0], [6.0, 11.0, 22.0], [4.0, 9.0, 16.0], [2.0, 7.0, 13.0]];
        let columns = rows.map(|row: [f64; 3]| linear(&drops, &row, drop_k));
        linear(&hours, &columns, reheat_s / 3600.0)
    }
}
