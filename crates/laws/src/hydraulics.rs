//! Heat and flow, head and pressure, volume and time.

use crate::declare::laws;
use std::f64::consts::PI;

/// Standard acceleration of gravity, m/s².
const GRAVITY_M_S2: f64 = 9.80665;

laws! { topic "flow and heat";
    /// Head of a pressure difference.
    HEAD_OF_PRESSURE: fn head_of_pressure(
        /// pressure difference
        pressure_pa: f64 ["Δp", PressureDifference, -10000000.0..=10000000.0],
        /// density of the fluid
        density_kg_m3: f64 ["ρ", Density, 700.0..=1300.0],
    ) -> f64 [head_m "h" Head];
    formula "h = Δp / (ρ g)";
    source "hydrostatics", "", Definition;
    {
        pressure_pa / (density_kg_m3 * GRAVITY_M_S2)
    }

    /// Pressure difference of a head.
    PRESSURE_OF_HEAD: fn pressure_of_head(
        /// height of the column of the fluid
        head_m: f64 ["h", Head, -1000.0..=1000.0],
        /// density of the fluid
        density_kg_m3: f64 ["ρ", Density, 700.0..=1300.0],
    ) -> f64 [pressure_pa "Δp" PressureDifference];
    formula "Δp = ρ g h";
    source "hydrostatics", "", Definition;
    {
        density_kg_m3 * GRAVITY_M_S2 * head_m
    }

    /// Flow that carries a heat at a drop.
    ///
    /// The rule gpm = Btu/h / (500 ΔT) is this for water at 60 °F.
    FLOW_FOR_HEAT: fn flow_for_heat(
        /// heat to be carried
        heat_w: f64 ["Φ", Power, 0.0..=10000000.0],
        /// drop from supply to return
        drop_k: f64 ["ΔT", TemperatureDifference, 0.5..=60.0],
        /// density of the fluid
        density_kg_m3: f64 ["ρ", Density, 700.0..=1300.0],
        /// heat capacity of the fluid
        specific_heat_j_kgk: f64 ["c", SpecificHeat, 2000.0..=4300.0],
    ) -> f64 [flow_m3_s "Q" Flow];
    formula "Q = Φ / (ρ c ΔT)";
    source "heat balance", "", Definition;
    {
        heat_w / (density_kg_m3 * specific_heat_j_kgk * drop_k)
    }

    /// Heat that a flow carries at a drop.
    HEAT_OF_FLOW: fn heat_of_flow(
        /// flow
        flow_m3_s: f64 ["Q", Flow, 0.0..=0.5],
        /// drop from supply to return
        drop_k: f64 ["ΔT", TemperatureDifference, -60.0..=60.0],
        /// density of the fluid
        density_kg_m3: f64 ["ρ", Density, 700.0..=1300.0],
        /// heat capacity of the fluid
        specific_heat_j_kgk: f64 ["c", SpecificHeat, 2000.0..=4300.0],
    ) -> f64 [heat_w "Φ" Power];
    formula "Φ = ρ c Q ΔT";
    source "heat balance", "", Definition;
    {
        density_kg_m3 * specific_heat_j_kgk * flow_m3_s * drop_k
    }

    /// Drop at which a flow carries a heat.
    DROP_OF_FLOW: fn drop_of_flow(
        /// heat to be carried
        heat_w: f64 ["Φ", Power, 0.0..=10000000.0],
        /// flow
        flow_m3_s: f64 ["Q", Flow, 0.0000001..=0.5],
        /// density of the fluid
        density_kg_m3: f64 ["ρ", Density, 700.0..=1300.0],
        /// heat capacity of the fluid
        specific_heat_j_kgk: f64 ["c", SpecificHeat, 2000.0..=4300.0],
    ) -> f64 [drop_k "ΔT" TemperatureDifference];
    formula "ΔT = Φ / (ρ c Q)";
    source "heat balance", "", Definition;
    {
        heat_w / (density_kg_m3 * specific_heat_j_kgk * flow_m3_s)
    }

    /// Volume of the water in a tube.
    TUBE_VOLUME: fn tube_volume(
        /// bore of the tube
        bore_m: f64 ["d", Length, 0.002..=0.5],
        /// length of the tube
        length_m: f64 ["L", Length, 0.0..=10000.0],
    ) -> f64 [volume_m3 "V" Volume];
    formula "V = π d² L / 4";
    source "geometry", "", Definition;
    {
        PI * bore_m * bore_m * length_m / 4.0
    }

    /// Time that water takes through a tube.
    PASSING_TIME: fn passing_time(
        /// length of the tube
        length_m: f64 ["L", Length, 0.0..=10000.0],
        /// velocity
        velocity_m_s: f64 ["v", Velocity, 0.01..=10.0],
    ) -> f64 [time_s "t" Time];
    formula "t = L / v";
    source "continuity", "", Definition;
    {
        length_m / velocity_m_s
    }

    /// Pressure drop of a valve.
    ///
    /// The flow coefficient Cv is the flow of water at 60 °F for a drop of one psi. Takes no account
    /// of viscosity.
    VALVE_PRESSURE_DROP: fn valve_pressure_drop(
        /// flow
        flow_m3_s: f64 ["Q", Flow, 0.0..=0.5],
        /// flow of water at a drop of one psi
        flow_coefficient_m3_s: f64 ["Cv", Flow, 0.000001..=1.0],
        /// density of the fluid over that of water at 60 °F
        specific_gravity: f64 ["SG", Ratio, 0.7..=1.3],
    ) -> f64 [drop_pa "Δp" PressureDifference];
    formula "Δp = SG (Q / Cv)² · 1 psi";
    source "ANSI/ISA-75.01.01", "incompressible flow", Print;
    {
        let share = flow_m3_s / flow_coefficient_m3_s;
        quantity::unit::PSI_DIFFERENCE.to_si(specific_gravity * share * share.abs())
    }

    /// Flow through a valve at a pressure drop.
    VALVE_FLOW: fn valve_flow(
        /// pressure drop
        drop_pa: f64 ["Δp", PressureDifference, 0.0..=1000000.0],
        /// flow of water at a drop of one psi
        flow_coefficient_m3_s: f64 ["Cv", Flow, 0.000001..=1.0],
        /// density of the fluid over that of water at 60 °F
        specific_gravity: f64 ["SG", Ratio, 0.7..=1.3],
    ) -> f64 [flow_m3_s "Q" Flow];
    formula "Q = Cv √(Δp / (SG · 1 psi))";
    source "ANSI/ISA-75.01.01", "incompressible flow", Print;
    {
        let psi = quantity::unit::PSI_DIFFERENCE.from_si(drop_pa);
        flow_coefficient_m3_s * (psi / specific_gravity).sqrt()
    }
}
