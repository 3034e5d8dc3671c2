//! Floors whose tube lies in joist bays or in grooved boards, drawn like all others.

use crate::{design, read, with};
use design::loops::{HoleVerdict, TubeLoop};
use design::{Design, Memo};
use plane::Segment;
use quantity::Quantity;

const SCHOOLHOUSE: &str = include_str!("../../../../jobs/schoolhouse.toml");
const INCH_M: f64 = 0.0254;

fn kinds(design: &Design) -> Vec<&'static str> {
    design.findings.iter().map(|finding| finding.kind).collect()
}

/// Length of a path summed piece by piece, from its ends and angles alone.
fn summed_m(tube: &TubeLoop) -> f64 {
    tube.path
        .segments
        .iter()
        .map(|segment| match *segment {
            Segment::Line { from, to } => (to.x - from.x).hypot(to.y - from.y),
            Segment::Arc { from, centre, turn_rad, .. } => {
                (from.x - centre.x).hypot(from.y - centre.y) * turn_rad.abs()
            }
        })
        .sum()
}

#[test]
fn every_heated_room_has_loops_whose_lengths_add_up() {
    let design = design(SCHOOLHOUSE);
    assert!(!kinds(&design).contains(&"loops-not-drawn"), "{:?}", kinds(&design));
    for floor in &design.emitters.floors {
        let own = design.loops.iter().filter(|tube| tube.room == floor.room);
        assert!(own.count() > 0, "{} has no loop", floor.room);
    }
    let in_bays = |tube: &TubeLoop| {
        design.joist_floors.iter().any(|it| it.plates.iter().any(|p| p.of_loop == tube.key))
    };
    for tube in &design.loops {
        let drawn_m = summed_m(tube);
        let told_m = tube.field_length.si() + tube.leader_length.si();
        // Dips add to the plan: two quarter turns of the bend radius each at most.
        let dips_m = if in_bays(tube) { 0.08 * drawn_m } else { 1e-6 };
        assert!(told_m >= drawn_m - 1e-6 && told_m <= drawn_m + dips_m, "{}: {told_m}", tube.key);
        let whole_m = told_m + tube.tail_length.si();
        assert!((tube.length.si() - whole_m).abs() < 1e-9, "{}", tube.key);
        let flow = design.flows.loops.iter().find(|flow| flow.key == tube.key).unwrap();
        assert!(flow.head.si() > 0.0 && flow.flow.si() > 0.0, "{}", tube.key);
        assert!(design.coils.tubes.iter().any(|coils| {
            coils.coils.iter().flat_map(|coil| &coil.cuts).any(|cut| cut.key == tube.key)
        }));
    }
    assert!(design.loops.iter().any(in_bays));
}

/// IRC R502.8.1: a third of the depth, 2 in to the edges and between holes; joists of 11 1/2 in.
#[test]
fn holes_keep_the_rule_by_their_own_figures() {
    let design = design(SCHOOLHOUSE);
    let holes: Vec<_> = design.joist_floors.iter().flat_map(|it| &it.holes).collect();
    assert!(holes.len() > 20, "{} holes", holes.len());
    for hole in &holes {
        assert_eq!(hole.verdict, HoleVerdict::Allowed);
        let (down_in, wide_in) = (hole.below_top.si() / INCH_M, hole.diameter.si() / INCH_M);
        assert!(wide_in <= 11.5 / 3.0);
        assert!(down_in - wide_in / 2.0 >= 2.0 - 1e-6, "{down_in} in below the top");
        assert!(11.5 - down_in - wide_in / 2.0 >= 2.0 - 1e-6, "{down_in} in below the top");
        assert!(hole.to_next.as_ref().is_none_or(|wood| wood.si() / INCH_M >= 2.0 - 1e-6));
        assert!(hole.from_bearing.si() / INCH_M >= 6.0 - 1e-6);
    }
}

#[test]
fn only_the_makers_chart_tells_of_engineered_joists() {
    let text = with(
        SCHOOLHOUSE,
        "kind = \"sawn\"\ndepth = \"11 1/2 in\"",
        "kind = \"i-joist\"\ndepth = \"11 7/8 in\"",
    );
    let design = design(&text);
    let mut holes = design.joist_floors.iter().flat_map(|it| &it.holes).peekable();
    assert!(holes.peek().is_some());
    assert!(holes.all(|hole| matches!(hole.verdict, HoleVerdict::CannotTell(_))));
    assert!(kinds(&design).contains(&"holes-cannot-tell"));
}

#[test]
fn joists_too_shallow_for_the_hole_stop_the_floor() {
    let text = with(SCHOOLHOUSE, "depth = \"11 1/2 in\"", "depth = \"4 1/2 in\"");
    let design = design(&text);
    let told = design.findings.iter().find(|it| it.kind == "no-loop-in-bays").unwrap();
    assert_eq!(told.subject, "framing.loft_joists");
    assert!(told.message.contains("holes of 0.5 in"), "{}", told.message);
    assert!(!design.loops.iter().any(|tube| tube.room == "studio"));
}

/// Without its framing a floor is not drawn, and what to write is told.
#[test]
fn what_the_framing_lacks_is_told_with_how_to_write_it() {
    let text = with(SCHOOLHOUSE, "at = [\"0'8\", \"0'\"]\n", "");
    let lacking = design(&text);
    let told = lacking.findings.iter().find(|it| it.kind == "loops-not-drawn").unwrap();
    assert!(told.advice.contains("at = a place on one joist"), "{}", told.advice);
    assert!(!told.advice.contains("bearings"), "{}", told.advice);
    assert!(told.message.contains("studio") && told.message.contains("landing"));
    let text = with(&text, "framing = \"loft_joists\"\n", "");
    let (job, _) = read(&text);
    let bare = design::design(&job, &mut Memo::new());
    let told = bare.findings.iter().find(|it| it.kind == "loops-not-drawn").unwrap();
    assert!(told.advice.contains("framing = the key of [framing.NAME]"), "{}", told.advice);
}

/// One room of the loft gets a topping, the others keep their plates.
#[test]
fn a_storey_may_have_tube_over_and_under_its_subfloor() {
    let studio = "zone = \"loft\"\nabove = \"space.crown\"\nfloor = \"loft_floor\"\n\n\
                  [room.loft_bedroom]";
    let topping = studio.replace("loft_floor", "gypsum-topping-on-joists");
    let text = with(SCHOOLHOUSE, studio, &topping);
    let in_studio = "room = \"studio\"\nat = [\"24'\", \"12'\"]";
    let text = with(&text, "room = \"landing\"\nat = [\"42'\", \"18'6\"]", in_studio);
    let design = design(&text);
    let in_bays: Vec<&str> =
        design.joist_floors.iter().flat_map(|it| it.rooms.iter().map(String::as_str)).collect();
    assert!(!in_bays.contains(&"studio") && in_bays.contains(&"loft_bedroom"), "{in_bays:?}");
    for room in ["studio", "loft_bedroom"] {
        assert!(design.loops.iter().any(|tube| tube.room == room), "{room} has no loop");
    }
}

/// A duct along the studio's bays takes its tube away.
#[test]
fn what_blocks_a_bay_is_left_out() {
    let block = "[bay_block.duct]\nframing = \"loft_joists\"\nstart = [\"4'\", \"0'\"]\n\
                 outline = \"E 1', N 20', W 1', S 20'\"\n";
    let [free, blocked] = [SCHOOLHOUSE.to_owned(), format!("{SCHOOLHOUSE}\n{block}")].map(|text| {
        let design = design(&text);
        let studio = design.loops.iter().filter(|tube| tube.room == "studio");
        studio.map(|tube| tube.area.si()).sum::<f64>()
    });
    assert!(blocked < free - 0.5, "{blocked} m², {free} m² without the duct");
}

/// Boards are counted for every room that has some, and cover what its loops need.
#[test]
fn boards_are_counted_room_by_room() {
    /// Leaders lie two inches apart by the rule set of the house.
    const LEADER_GAP_M: f64 = 0.0508;
    let design = design(SCHOOLHOUSE);
    let rooms: Vec<&str> = design.boards.iter().map(|it| it.room.as_str()).collect();
    assert!(rooms.contains(&"living") && rooms.contains(&"study"), "{rooms:?}");
    for boards in &design.boards {
        let bill = boards.bill.as_ref().unwrap();
        let [length, width] = bill.size.map(Quantity::si);
        let bought_m2 = (bill.whole + bill.cut_boards) as f64 * length * width;
        // Leaders take up the rest of a small room, and are told as a length.
        let leaders_m2 = boards.leaders.si() * LEADER_GAP_M;
        let rows_m2 = 0.5 * boards.area.si() - leaders_m2;
        assert!(bought_m2 > rows_m2, "{}: {bought_m2} m² of {rows_m2}", boards.room);
        assert!(bought_m2 < 1.3 * boards.area.si() + 1.5, "{}: {bought_m2} m²", boards.room);
        assert!(bill.turns > 0 && bill.turn_pieces * 2 >= bill.turns, "{}", boards.room);
    }
}

/// A hole is as wide as the tube and what the rule set adds, and says so when it is asked.
#[test]
fn every_hole_and_plate_leads_to_its_working() {
    let text = SCHOOLHOUSE;
    let (job, design) = (crate::job(text), design(text));
    let floor = &design.joist_floors[0];
    for (number, hole) in floor.holes.iter().enumerate() {
        let path = format!("framing.{}.{}.hole.{}", floor.framing, floor.span, number + 1);
        let work = design.figure(&format!("{path}.diameter")).expect("a working");
        assert_eq!(work.inputs().len(), 2, "{path}");
        let tube = job.catalogue.tube(&design.loops[0].tube).unwrap();
        let drilled_m = tube.outside.si() + job.rules.hole_over_tube.si();
        crate::close(hole.diameter.si(), drilled_m, 1e-9);
        assert!(design.figure(&format!("{path}.from_bearing")).is_some());
    }
    let plates = &floor.plates[0];
    let path = format!("framing.{}.{}.plates.{}.length", floor.framing, floor.span, plates.of_loop);
    assert!(design.figure(&path).is_some(), "{path}");
    let boards = format!("room.{}.boards.leaders", design.boards[0].room);
    assert!(design.figure(&boards).is_some());
}

/// IRC R502.8.1 leaves 7/8 in between the edges of these joists: a hole for 3/8 in tube, no wider.
#[test]
fn joists_a_little_too_shallow_are_offered_a_smaller_tube() {
    let text = with(SCHOOLHOUSE, "depth = \"11 1/2 in\"", "depth = \"4.9 in\"");
    // Mild enough for that floor to carry its room alone once it is laid.
    let text = with(&text, "design = -6 ", "design = 35 ");
    let design = design(&text);
    let told = design.findings.iter().find(|it| it.kind == "no-loop-in-bays").unwrap();
    let mend = told.mends.iter().find(|mend| mend.words.starts_with("smaller tube"));
    let mend = mend.unwrap_or_else(|| panic!("no smaller tube: {:?}", told.mends));
    let mended = crate::design(&job::apply(&text, &mend.edits).unwrap());
    assert!(!kinds(&mended).contains(&"no-loop-in-bays"));
}
