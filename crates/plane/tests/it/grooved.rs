//! Storeys whose rooms have grooved boards: leaders as everywhere, fields on the grid.

use plane::boards;
use plane::storey::{Door, Grooves, Held, Kept, Layout, Manifold, Pattern, Plan, Room, Tube, lay};
use plane::{Path, Point, Region, Segment, verify};

use crate::board_floors as floors;

/// A room of boards whose door stands for the manifold.
fn alone(floor: &boards::Floor) -> Plan {
    let room = room("room", &floor.room, &floor.keep_outs, floor.board.pitch_m);
    let manifold = Manifold {
        key: "m".to_owned(),
        room: 0,
        ports: floor.door,
        most_loops: 16,
        extra_m: floor.outside_m,
    };
    Plan {
        rooms: vec![room],
        doors: Vec::new(),
        manifolds: vec![manifold],
        leader_gap_m: 0.05,
        held: Held::default(),
    }
}

fn room(key: &str, floor: &Region, keep_outs: &[Vec<Point>], pitch_m: f64) -> Room {
    let grooves = boards::grooves(floor, keep_outs, pitch_m, 0.1).expect("a grid");
    Room {
        key: key.to_owned(),
        floor: floor.clone(),
        keep_outs: keep_outs.to_vec(),
        heated: true,
        spacing_m: pitch_m,
        wall_clearance_m: 0.1,
        pattern: Pattern::Grooves(grooves),
        outside_walls: Vec::new(),
        tube: Tube { bend_radius_m: 0.07, longest_loop_m: 80.0 },
        loops: None,
        least_loops: 1,
        manifold: None,
    }
}

fn grooves(plan: &Plan, room: usize) -> Grooves {
    let Pattern::Grooves(grooves) = plan.rooms[room].pattern else { panic!("no grooves") };
    grooves
}

/// Share of the straight tube of fields along the grooves that lies in one.
fn in_grooves(plan: &Plan, layout: &Layout) -> f64 {
    let (mut along_m, mut in_m) = (0.0, 0.0);
    for tube in &layout.loops {
        let (grid, pitch) = (grooves(plan, tube.room), plan.rooms[tube.room].spacing_m);
        let mut gone = 0.0;
        for segment in &tube.path.segments {
            let (from_m, length_m) = (gone, segment.length_m());
            gone += length_m;
            let Segment::Line { from, to } = *segment else { continue };
            let in_field = from_m >= tube.supply_leader_m
                && gone <= tube.path.length_m() - tube.return_leader_m;
            if !in_field || (to - from).unit().dot(grid.along).abs() < 0.999 || length_m < 0.5 {
                continue;
            }
            let groove = (from - grid.on).dot(grid.along.left()) / pitch + 0.5;
            along_m += length_m;
            in_m += if (groove - groove.round()).abs() * pitch < 2e-3 { length_m } else { 0.0 };
        }
    }
    in_m / along_m
}

fn sound(name: &str, plan: &Plan, layout: &Layout, least_covered: f64) {
    let report = verify::storey(plan, layout);
    assert!(layout.refusals.is_empty(), "{name}: {:?}", layout.refusals);
    assert!(report.crossings.is_empty() && report.tight_bends.is_empty(), "{name}");
    assert_eq!(report.over_limit(), 0, "{name}");
    assert!(report.outside_m + report.kept_out_m < 1e-6, "{name}");
    let covered = report.covered_fraction();
    assert!(covered > least_covered, "{name}: {covered} covered");
    let share = in_grooves(plan, layout);
    assert!(share > 0.97, "{name}: {share} of the straight tube in grooves");
    println!("{name}: {} loops, {covered:.3} covered, {share:.3} in grooves", layout.loops.len());
}

#[test]
fn fields_lie_in_the_grooves() {
    for (name, floor) in floors::all() {
        let plan = alone(&floor);
        let layout = lay(&plan, &mut Kept::default());
        sound(name, &plan, &layout, 0.88);
    }
}

/// A hall with the manifold, and two rooms off it whose grids lie each for itself.
#[test]
fn leaders_pass_from_boards_to_boards() {
    let rectangle = |a: [f64; 2], b: [f64; 2]| {
        Region::rectangle(Point::new(a[0], a[1]), Point::new(b[0], b[1])).expect("a rectangle")
    };
    let rooms = vec![
        room("hall", &rectangle([0.0, 0.0], [6.0, 2.0]), &[], 0.2),
        room("bed", &rectangle([0.0, 2.1], [3.4, 6.0]), &[], 0.2),
        room("study", &rectangle([3.5, 2.1], [6.0, 6.0]), &[], 0.2),
    ];
    let door = |key: &str, room, x| Door {
        key: key.to_owned(),
        rooms: [0, room],
        at: Point::new(x, 2.05),
        width_m: 0.8,
    };
    let manifold = Manifold {
        key: "m".to_owned(),
        room: 0,
        ports: [Point::new(0.0, 0.6), Point::new(0.0, 1.4)],
        most_loops: 16,
        extra_m: 2.0,
    };
    let plan = Plan {
        rooms,
        doors: vec![door("to bed", 1, 1.4), door("to study", 2, 4.6)],
        manifolds: vec![manifold],
        leader_gap_m: 0.05,
        held: Held::default(),
    };
    let layout = lay(&plan, &mut Kept::default());
    sound("hall", &plan, &layout, 0.85);
    assert!((0..3).all(|room| layout.loops.iter().any(|tube| tube.room == room)));
    let bill = |room: usize| {
        let own: Vec<(&Path, f64)> = layout
            .loops
            .iter()
            .filter(|tube| tube.room == room)
            .map(|tube| (&tube.path, tube.supply_leader_m + tube.return_leader_m))
            .collect();
        boards::bill_of(&floors::rectangle(0.2).board, &grooves(&plan, room), &own)
    };
    assert!(bill(1).turns >= 7 && bill(1).whole > 10, "{:?}", bill(1));
}
