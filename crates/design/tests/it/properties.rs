//! Properties that any heat-loss calculation must have.

use crate::{CABIN, close, job, with};
use design::{Design, Memo};
use job::{Job, Stated, Where};
use plane::Point;

fn design(job: &Job) -> Design {
    design::design(job, &mut Memo::new())
}

/// The same house moved on the plan: every point of it, openings by their middles.
fn moved(job: &Job, to: impl Fn(Point) -> Point) -> Job {
    let before = design(job);
    let mut moved = job.clone();
    for room in &mut moved.rooms {
        let outline = room.outline.as_mut().unwrap();
        outline.corners.iter_mut().for_each(|corner| *corner = to(*corner));
    }
    for keep_out in &mut moved.keep_outs {
        let outline = keep_out.outline.as_mut().unwrap();
        outline.corners.iter_mut().for_each(|corner| *corner = to(*corner));
    }
    for manifold in &mut moved.manifolds {
        let at = manifold.at.as_mut().unwrap();
        at.value = to(at.value);
    }
    for opening in &mut moved.openings {
        let placed = before.envelope.openings.iter().find(|o| o.key == opening.key).unwrap();
        let middle = placed.jambs[0].lerp(placed.jambs[1], 0.5);
        let (place, value) = (opening.place, Where::Point { at: to(middle), room: None });
        opening.at = Some(Stated { value, place });
    }
    moved
}

#[track_caller]
fn same_loads(one: &Design, other: &Design) {
    assert_eq!(one.loads.rooms.len(), other.loads.rooms.len());
    for (one, other) in one.loads.rooms.iter().zip(&other.loads.rooms) {
        assert_eq!(one.room, other.room);
        // Corners are kept to a micrometre, which is a few milliwatts here.
        close(one.heat.total.si(), other.heat.total.si(), 0.02);
        close(one.heat.neighbours.si(), other.heat.neighbours.si(), 0.02);
    }
}

#[test]
fn a_moved_turned_or_mirrored_house_has_the_same_loads() {
    let job = job(CABIN);
    let here = design(&job);
    same_loads(&here, &design(&moved(&job, |p| Point::new(p.x - 40.0, p.y + 17.0))));
    same_loads(&here, &design(&moved(&job, |p| Point::new(-p.x, p.y))));
    same_loads(&here, &design(&moved(&job, |p| Point::new(p.y, -p.x))));
    let (sin, cos) = 0.7_f64.sin_cos();
    let turned = moved(&job, |p| Point::new(cos * p.x - sin * p.y, sin * p.x + cos * p.y));
    same_loads(&here, &design(&turned));
}

#[test]
fn more_insulation_never_raises_a_load_to_outdoors() {
    let here = design(&job(CABIN));
    for (from, to) in [
        ("R-15.5 batts", "R-21 batts"),
        ("R-38 blown", "R-60 blown"),
        ("U-0.30", "U-0.20"),
        ("u = \"U-0.20\"", "u = \"U-0.10\""),
    ] {
        let better = design(&job(&with(CABIN, from, to)));
        for (one, other) in here.loads.rooms.iter().zip(&better.loads.rooms) {
            assert!(
                other.heat.outdoors.si() <= one.heat.outdoors.si() + 1e-9,
                "{to} in {}",
                one.room
            );
        }
        let total = |design: &Design| design.loads.total.as_ref().unwrap().si();
        assert!(total(&better) < total(&here), "{to} saves nothing");
    }
}

#[test]
fn a_colder_day_needs_more_heat_everywhere() {
    let here = design(&job(CABIN));
    let colder = design(&job(&with(CABIN, "design = -5", "design = -15")));
    for (one, other) in here.loads.rooms.iter().zip(&colder.loads.rooms) {
        assert!(other.heat.total.si() > one.heat.total.si(), "{}", one.room);
    }
}
