//! What is set or fixed into floors, with the floor that tube keeps clear of it.

use super::legend::Sample;
use super::plan::Plan;
use super::ramp::{FAINT, INK};
use super::{Mark, Shape};
use design::fixtures::NearFixture;

/// The fixtures of a storey.
fn here<'a>(plan: &Plan<'a>) -> impl Iterator<Item = &'a NearFixture> {
    let rooms: Vec<&str> = plan.rooms.iter().map(|(room, ..)| room.key.as_str()).collect();
    let all = plan.source.design.fixtures.iter();
    all.filter(move |fixture| rooms.contains(&fixture.room.as_str()))
}

/// Draws fixtures: the edge in full, the floor kept clear in dashes.
pub(super) fn draw(plan: &Plan, marks: &mut Vec<Mark>) {
    for fixture in here(plan) {
        let name = format!("{} {}", fixture.kind.word(), crate::source::spoken(&fixture.key));
        for ring in &fixture.kept_clear {
            let clear = Mark::new("kept-clear", Shape::Area(vec![ring.clone()]));
            let clear = clear.stroke(FAINT, 0.012).dashed(&[0.05, 0.04], 0.0);
            marks.push(clear.about(&fixture.key).titled(format!("{name}: kept clear of tube")));
        }
        let line = || plan.source.job.fixtures.iter().find(|it| it.key == fixture.key);
        if let (true, Some(line)) =
            (fixture.edge.is_empty(), line().and_then(|it| it.line.as_ref()))
        {
            let pins = Mark::new("fixture", Shape::Line(line.value.clone())).stroke(INK, 0.018);
            marks.push(pins.dashed(&[0.02, 0.05], 0.0).about(&fixture.key).titled(name.clone()));
        }
        for ring in &fixture.edge {
            let edge = Mark::new("fixture", Shape::Area(vec![ring.clone()]));
            marks.push(
                edge.hatched(INK).stroke(INK, 0.015).about(&fixture.key).titled(name.clone()),
            );
        }
    }
}

/// What the legend tells of fixtures, where there are some.
pub(super) fn samples(plan: &Plan) -> Vec<Sample> {
    if here(plan).next().is_some() { vec![Sample::Fixture] } else { Vec::new() }
}
