//! Conservation: what the water carries is what floors, ground and leaders get.

use crate::{CABIN, FLAT, ONE_ROOM, close, design, with};
use design::Design;
use quantity::Quantity;

fn settled(text: &str) -> Design {
    let design = design(text);
    assert!(design.balance.settled, "{:?}", design.balance);
    assert!(!design.loops.is_empty());
    design
}

#[test]
fn water_carries_what_is_given() {
    for text in [CABIN, FLAT, ONE_ROOM] {
        for flow in &settled(text).flows.loops {
            let given = flow.heat_up.si() + flow.heat_down.si() + flow.leader_heat.si();
            let specific_heat = given / flow.drop.si() / flow.mass_flow.si();
            let mean = (flow.supply.si() + flow.back.si()) / 2.0;
            let expected = if text == CABIN {
                laws::fluids::glycol::propylene_glycol_specific_heat(0.35, mean)
            } else {
                laws::fluids::water::water_specific_heat(mean)
            };
            close(specific_heat / expected, 1.0, 1e-9);
        }
    }
}

#[test]
fn leaders_heat_arrives_where_it_leaves() {
    for text in [CABIN, FLAT] {
        let design = settled(text);
        let left: f64 = design.flows.loops.iter().map(|flow| flow.leader_heat.si()).sum();
        let arrived: f64 = design.emitters.floors.iter().map(|floor| floor.leaders.si()).sum();
        assert!(left > 0.0);
        close(arrived, left, 0.2);
    }
}

/// The governing room's floor gives what it needs at the supply it asks for.
#[test]
fn floors_that_can_give_just_what_is_needed() {
    // Baths may fall short where they have no say in the water.
    let all = with(FLAT, "supply = \"auto\"", "supply = \"auto\"\nsupply_for = \"all rooms\"");
    for text in [CABIN, &all] {
        for floor in &settled(text).emitters.floors {
            assert!(floor.short.si() < 1.0, "{} is short by {}", floor.room, floor.short.si());
            assert!(floor.surface.si() <= floor.surface_limit.si() + 0.01, "{}", floor.room);
        }
    }
}

/// A hand calculation of the governing floor by the logarithmic mean: its coefficient times the
/// mean excess is what goes up and what passes from the room through the floor.
#[test]
fn flux_follows_the_logarithmic_mean() {
    let design = settled(ONE_ROOM);
    let (floor, flow) = (&design.emitters.floors[0], &design.flows.loops[0]);
    let (supply, back, room) = (flow.supply.si(), flow.back.si(), 293.15);
    let excess = (supply - back) / ((supply - room) / (back - room)).ln();
    // Its leader is centimetres long, so port temperatures are field temperatures to 0.1 %.
    let given = floor.flux.si() + floor.passing.si();
    close(given / (floor.output_coefficient.si() * excess), 1.0, 2e-3);
    // The load by hand: 592.5 W through faces and 252.4 W of air.
    close(floor.needed.si() + floor.leaders.si(), 844.9, 0.1);
}

#[test]
fn lengths_add_up_with_tails_and_risers() {
    let design = settled(CABIN);
    for tube_loop in &design.loops {
        let parts =
            tube_loop.field_length.si() + tube_loop.leader_length.si() + tube_loop.tail_length.si();
        close(tube_loop.length.si(), parts, 1e-9);
        let on_floor = tube_loop.field_length.si() + tube_loop.leader_length.si();
        close(on_floor, tube_loop.path.length_m(), 1e-9);
        // Twice 24 in riser and 3 ft tail.
        close(tube_loop.tail_length.si(), 2.0 * (24.0 * 0.0254 + 0.9144), 1e-9);
        let leader = &tube_loop.leader;
        let passed: f64 = leader.passed.iter().map(|passed| passed.length_m).sum();
        assert!(passed <= leader.supply_m + leader.return_m + 1e-6, "{}", tube_loop.key);
    }
}

/// ASTM F876 1/2 in holds 0.92 gal per 100 ft (published trade sheet).
#[test]
fn volume_follows_length() {
    for tube_loop in &settled(CABIN).loops {
        let gallons = tube_loop.volume.si() / 3.785_411_784e-3;
        let hundred_feet = tube_loop.length.si() / 30.48;
        close(gallons / hundred_feet, 0.92, 0.002);
    }
}

/// Propylene glycol of 30 and 40 % needs 1.046 and 1.078 times the flow of water at 40 °C for the
/// same heat and drop (property library, mass fraction); 35 % by volume lies between.
#[test]
fn glycol_needs_more_flow() {
    let glycol = settled(CABIN);
    let water = with(CABIN, "fluid = \"propylene glycol\"", "fluid = \"water\"");
    let water = settled(&with(&water, "glycol = 35", "# glycol = 35"));
    // Its film is worse as well, so that heat and drop are not the same.
    let carried = |design: &Design| {
        let flows = &design.flows.loops;
        let heat = |flow: &design::flow::LoopFlow| {
            flow.heat_up.si() + flow.heat_down.si() + flow.leader_heat.si()
        };
        let by_flow: f64 = flows.iter().map(|flow| flow.flow.si() * flow.drop.si()).sum();
        flows.iter().map(heat).sum::<f64>() / by_flow
    };
    close(carried(&water) / carried(&glycol), 1.062, 0.012);
}

/// Glycol of 35 % runs with less turbulence and conducts less: its film costs some kelvin.
#[test]
fn glycol_asks_for_warmer_water() {
    let glycol = design(CABIN);
    let water = with(CABIN, "fluid = \"propylene glycol\"", "fluid = \"water\"");
    let water = design(&with(&water, "glycol = 35", "# glycol = 35"));
    let supply = |design: &Design| design.emitters.hottest().unwrap().si();
    let more_k = supply(&glycol) - supply(&water);
    assert!((0.0..5.0).contains(&more_k), "{more_k} K");
    for (one, other) in glycol.emitters.floors.iter().zip(&water.emitters.floors) {
        assert!(one.output_coefficient.si() < other.output_coefficient.si(), "{}", one.room);
    }
}

/// A pump with little head gets more and shorter loops, and the design says so.
#[test]
fn little_head_takes_another_loop() {
    let before = settled(CABIN);
    let worst = before.flows.manifolds[0].head.si();
    let text = with(CABIN, "head = \"15 ft\"", &format!("head = \"{} m\"", 0.7 * worst));
    let after = settled(&text);
    assert!(after.loops.len() > before.loops.len());
    assert!(!after.revisions.is_empty());
    assert!(after.flows.manifolds[0].head.si() <= 0.7 * worst, "{:?}", after.revisions);
}
