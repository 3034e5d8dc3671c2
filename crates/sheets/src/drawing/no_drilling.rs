//! Where other trades must not drill or nail: tube as a band, and what is free along walls.

use super::labels::{self, Taken};
use super::legend::{self, Legend, Sample};
use super::plan::{Plan, floors};
use super::ramp::{BAND, BAND_LEADERS, Colour, FAINT, GLASS, INK};
use super::words::{readable, turned};
use super::{Anchor, Drawing, Mark, Shape, fixtures, joints, openings, ports, shapes, sleeves};
use crate::setting_out::{Part, Stretch, doorways, port_groups, stretches, tape};
use design::loops::TubeLoop;
use plane::{Path, Point, Region};

/// How far behind the wall's face its number stands, metres.
const BEHIND_M: f64 = 0.075;
/// A stretch of wall shorter than this carries no number, metres.
const NUMBERED_M: f64 = 0.5;

/// Remarks below the plan.
const WORDS: [&str; 3] = [
    "Numbers in walls: from the wall's face to the middle of the nearest tube. Hatched along walls: \
     may be fixed to, no deeper than the covering allows.",
    "Elsewhere ask first. This is the design: before any hole find the tube itself, by thermal \
     camera or by the photographs taken before covering.",
    "Letters at doorways: see the table of doorways. Walls are drawn from inside faces.",
];

/// The plan for those who come after the tube is covered.
pub(crate) fn no_drilling_plan(plan: &Plan) -> Drawing {
    let mut marks = Vec::new();
    floors(plan, &mut marks);
    shapes::voids(plan, &mut marks);
    openings::draw(plan, &mut marks);
    bands(plan, &mut marks);
    joints::lines(plan, &mut marks);
    let stretches = stretches(plan);
    free_strips(plan, &stretches, &mut marks);
    keep_outs(plan, &mut marks);
    fixtures::draw(plan, &mut marks);
    let doorways = doorways(plan);
    let groups = port_groups(plan);
    ports::symbols(&groups, &mut marks);
    let mut taken = Taken::default();
    ports::keys(plan, &groups, &mut taken, &mut marks);
    labels::rooms(plan, &mut taken, &mut marks);
    sleeves::letters(plan, &doorways, &mut taken, &mut marks);
    offsets(plan, &stretches, &mut taken, &mut marks);
    let mut samples = vec![Sample::Band, Sample::Leaders, Sample::Free];
    samples.extend(fixtures::samples(plan));
    samples.extend(joints::samples(plan));
    let legend = Legend { water: false, samples: &samples, words: &WORDS };
    let bounds_m = legend::draw(plan, &legend, &mut marks);
    let words = format!(
        "Floor over {} loops of tube that must not be drilled or nailed; the tables of doorways \
         and walls hold the same.",
        plan.loops.len()
    );
    let title = plan.title("No drilling, no nailing");
    Drawing { key: plan.key("plan-no-drilling"), title, bounds_m, marks, words }
}

/// The tube with the margin to both sides that practice asks for, leaders darker.
fn bands(plan: &Plan, marks: &mut Vec<Mark>) {
    let width_m = 2.0 * plan.source.job.rules.fastener_clearance.si();
    let parts: Vec<(&TubeLoop, Part, Path)> =
        plan.loops.iter().flat_map(|(tube, _)| parts(tube)).collect();
    let mut draw = |leaders: bool, colour: Colour| {
        for (tube, part, path) in parts.iter().filter(|it| (it.1 != Part::Field) == leaders) {
            let title = format!("{} of loop {}: no hole, no nail", part.word(), tube.key);
            let band = Mark::new("band", Shape::Tube(path.clone())).stroke(colour, width_m);
            marks.push(band.about(&tube.key).titled(title));
        }
    };
    draw(false, BAND);
    draw(true, BAND_LEADERS);
    for (tube, _) in &plan.loops {
        let centre = Mark::new("centre", Shape::Tube(tube.path.clone())).stroke(INK, 0.014);
        marks.push(centre.about(&tube.key));
    }
}

/// A loop as supply leader, field and return leader.
fn parts(tube: &TubeLoop) -> Vec<(&TubeLoop, Part, Path)> {
    let mut all: Vec<(&TubeLoop, Part, Path)> = Vec::new();
    let mut along = 0.0;
    for segment in &tube.path.segments {
        let part = Part::at(tube, along + segment.length_m() / 2.0);
        along += segment.length_m();
        match all.last_mut() {
            Some((_, last, path)) if *last == part => path.segments.push(*segment),
            _ => all.push((tube, part, Path { segments: vec![*segment] })),
        }
    }
    all
}

fn free_strips(plan: &Plan, stretches: &[Stretch], marks: &mut Vec<Mark>) {
    for stretch in stretches.iter().filter(|it| it.free_m > 0.0) {
        let Ok(strip) = Region::simple(stretch.strip()) else { continue };
        let Some(region) = plan.region(&stretch.room.key) else { continue };
        let system = plan.source.job.units.value;
        let free = tape(stretch.free_m, system);
        let title = format!("free to fix within {free} of wall {}", stretch.wall.name);
        for piece in strip.intersection(region) {
            let rings = piece.rings().map(<[Point]>::to_vec).collect();
            let mark = Mark::new("free", Shape::Area(rings)).hatched(GLASS).stroke(GLASS, 0.008);
            marks.push(mark.about(&stretch.room.key).titled(title.clone()));
        }
    }
}

fn keep_outs(plan: &Plan, marks: &mut Vec<Mark>) {
    for keep_out in &plan.source.job.keep_outs {
        let here = plan.region(&keep_out.room.value).is_some();
        let (true, Some(outline)) = (here, &keep_out.outline) else { continue };
        let edge = Shape::Area(vec![outline.corners.clone()]);
        let mark = Mark::new("keep-out", edge).stroke(FAINT, 0.02).dashed(&[0.1, 0.06], 0.0);
        let title = format!("{}: laid without tube", crate::source::spoken(&keep_out.key));
        marks.push(mark.about(&keep_out.key).titled(title));
    }
}

/// The distance of the nearest tube, in the wall beside each stretch.
fn offsets(plan: &Plan, stretches: &[Stretch], taken: &mut Taken, marks: &mut Vec<Mark>) {
    let (size, system) = (plan.letter_m * 0.62, plan.source.job.units.value);
    for stretch in stretches {
        let [from, to] = stretch.ends();
        let Some(nearest_m) = stretch.nearest_m.filter(|_| from.distance(to) >= NUMBERED_M) else {
            continue;
        };
        let (turn_rad, _) = readable(stretch.wall.along());
        let number = |share: f64| {
            let at = from.lerp(to, share) - stretch.wall.inward() * BEHIND_M;
            let words = tape(nearest_m, system);
            turned("label offset-label", at, words, size, Anchor::Middle, turn_rad)
        };
        let places = [0.5, 0.35, 0.65, 0.2, 0.8].map(number);
        let mark = places.iter().find(|mark| taken.has_place(mark)).unwrap_or(&places[0]).clone();
        taken.take_words(&mark);
        marks.push(mark.about(&stretch.room.key));
    }
}
