//! The finished floor: tube in plan, lengths by room, plates, and the schedule of holes.

use super::fit::Fit;
use super::frame::Frame;
use super::holes::{self, Hole, Place};
use super::plan::{self, Plan, Planned};
use super::rows::Bays;
use super::tube::Drawn;
use super::{Floor, Layout, Loop, PlateRun};
use crate::path::{Path, Segment};
use crate::point::Point;

/// Pieces in which tube is told to be below a room, metres.
const STEP_M: f64 = 0.01;

/// Puts a plan into the plane.
pub(super) fn layout(floor: &Floor, fit: &Fit, bays: &Bays, plan: Plan) -> Layout {
    let mut layout = Layout { unreached: plan.unreached, ..Layout::default() };
    for (planned, drawn) in &plan.loops {
        let frame = local(bays, planned);
        let of_loop = layout.loops.len();
        let number = layout.loops.iter().filter(|l| l.room == planned.room).count() + 1;
        let plates = drawn.plated.iter().map(|ends| {
            let ends = [frame.outward(ends[0]), frame.outward(ends[1])];
            let (whole, cut_m) = plates(floor, ends[0].distance(ends[1]));
            PlateRun { of_loop, ends, whole, cut_m }
        });
        layout.plates.extend(plates.filter(|run| run.whole > 0 || run.cut_m > 0.0));
        layout.loops.push(finished(floor, bays, planned, drawn, &frame, number));
    }
    layout.holes = schedule(floor, fit, bays, &layout.loops);
    layout
}

/// The frame in which a loop was drawn.
fn local(bays: &Bays, planned: &Planned) -> Frame {
    let middle = bays.all.get(planned.station).map_or(0.0, |bay| bay.middle_m);
    let origin = Point::new(middle, bays.bearings_m[planned.bearing.min(1)]);
    bays.frame.moved(origin, !planned.right, planned.bearing == 1)
}

fn finished(
    floor: &Floor,
    bays: &Bays,
    planned: &Planned,
    drawn: &Drawn,
    frame: &Frame,
    number: usize,
) -> Loop {
    let path = frame.path(&drawn.walk.path);
    let number_of = |row: &super::tube::Row| bays.all.get(row.bay).map(|bay| bay.number);
    Loop {
        room: planned.room,
        number,
        lengths_m: by_room(floor, &path),
        path,
        depths_m: drawn.walk.depths_m.clone(),
        length_m: drawn.walk.length_m + plan::outside_m(floor, bays, planned),
        outside_m: plan::outside_m(floor, bays, planned),
        bays: planned.rows.iter().rev().filter_map(number_of).collect(),
    }
}

/// Tube below each room, metres; rooms without are left out.
fn by_room(floor: &Floor, path: &Path) -> Vec<(usize, f64)> {
    let mut lengths = vec![0.0; floor.rooms.len()];
    for segment in &path.segments {
        let length = segment.length_m();
        let count = (length / STEP_M).ceil().max(1.0);
        for k in 0..count as usize {
            let p = segment.point_at(length * (k as f64 + 0.5) / count);
            if let Some(room) = floor.rooms.iter().position(|r| r.floor.encloses(p)) {
                lengths[room] += length / count;
            }
        }
    }
    lengths.into_iter().enumerate().filter(|(_, length)| *length > 0.0).collect()
}

/// Whole plates along a strand, and the cut one at its end, metres.
fn plates(floor: &Floor, strand_m: f64) -> (usize, f64) {
    let plate = &floor.plate;
    let each = plate.length_m + plate.joint_m;
    let whole = ((strand_m + plate.joint_m) / each + 1e-9).floor().max(0.0);
    let rest = strand_m - whole * each;
    (whole as usize, if rest >= plate.shortest_m.max(1e-6) { rest } else { 0.0 })
}

/// Every crossing of tube and joist, read from the finished tube.
fn schedule(floor: &Floor, fit: &Fit, bays: &Bays, loops: &[Loop]) -> Vec<Hole> {
    let mut crossings: Vec<(i64, f64, f64, usize)> = Vec::new();
    for (of_loop, tube) in loops.iter().enumerate() {
        for (segment, depths) in tube.path.segments.iter().zip(&tube.depths_m) {
            if depths[0].min(depths[1]) < fit.under_z[0] - 1e-9 {
                crossings.extend(
                    joists_crossed(bays, segment).map(|(joist, along)| {
                        (joist, along, (depths[0] + depths[1]) / 2.0, of_loop)
                    }),
                );
            }
        }
    }
    crossings.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.total_cmp(&b.2)));
    let mut found = Vec::with_capacity(crossings.len());
    for joist in crossings.chunk_by(|a, b| a.0 == b.0) {
        found.extend(holes_of(floor, joist));
    }
    found
}

/// The joists that a piece of tube passes, and where along them.
fn joists_crossed(bays: &Bays, segment: &Segment) -> impl Iterator<Item = (i64, f64)> {
    let (from, to) = (bays.frame.inward(segment.from()), bays.frame.inward(segment.to()));
    let (low, high) = (from.x.min(to.x), from.x.max(to.x));
    let pitch = bays.pitch_m;
    let joists = (low / pitch).ceil() as i64..=(high / pitch).floor() as i64;
    joists.filter(move |_| high - low > 1e-9).map(move |joist| {
        let share = (joist as f64 * pitch - from.x) / (to.x - from.x);
        (joist, from.lerp(to, share).y)
    })
}

fn holes_of(floor: &Floor, joist: &[(i64, f64, f64, usize)]) -> Vec<Hole> {
    let joists = &floor.joists;
    let [first, last] = joists.bearings_m;
    let span_m = last - first;
    let places: Vec<Place> = joist
        .iter()
        .map(|&(_, along, depth, _)| Place {
            along_m: along - first,
            below_top_m: depth,
            diameter_m: floor.drilling.hole_m,
        })
        .collect();
    let hole = |(i, place): (usize, &Place)| {
        let bearing = usize::from(place.along_m > span_m / 2.0);
        let limits = &floor.drilling.limits;
        Hole {
            joist: joist[i].0,
            bearing,
            from_bearing_m: place.along_m.min(span_m - place.along_m),
            below_top_m: place.below_top_m,
            diameter_m: place.diameter_m,
            edge_m: holes::edge_m(place, joists.depth_m),
            to_next_m: holes::nearest(&places, i).map(|(_, wood)| wood),
            of_loop: joist[i].3,
            verdict: holes::verdict(joists.kind, joists.depth_m, span_m, &places, i, limits),
        }
    };
    places.iter().enumerate().map(hole).collect()
}
