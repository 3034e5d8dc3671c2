//! Tube in joist bays: laid, measured, told.

use crate::case_run::{Run, Timed};
use crate::drawing::Drawing;
use crate::record::{self, Record};
use crate::sketch::Sketch;
use plane::bays::{self, BlockKind, Floor, Layout, Loop, Unreached, Verdict};
use plane::verify::{self, BaysReport};
use plane::{Point, Region};
use serde_json::{Value, json};

/// Lays the bays of a floor.
pub(crate) fn run(name: &str, floor: &Floor) -> Run {
    let Timed { value: laid, ms } = Timed::of(|| bays::lay(floor));
    let layout = match &laid {
        Ok(layout) => layout.clone(),
        Err(_) => Layout::default(),
    };
    let report = verify::bays(floor, &layout);
    let record = Record {
        loops: layout.loops.iter().map(|tube| one(floor, tube)).collect(),
        crossings: report.crossings.len(),
        over_limit: report.over_limit,
        tight_bends: report.tight_bends,
        outside_m: report.outside_m,
        coverage_075: report.covered_fraction,
        min_gap_ratio: report
            .closest_strands_m
            .map_or(1.0, |gap_m| gap_m / (floor.joists.pitch_m / 2.0)),
        refused: match &laid {
            Ok(layout) => without_loop(floor, layout),
            Err(reason) => Some(reason.to_string()),
        },
    };
    if laid.is_ok() {
        notes(name, floor, &layout);
    }
    let drawing = drawing(name, floor, &layout, &report);
    Run { line: record.line(name, ms), drawing: Some(drawing) }
}

fn one(floor: &Floor, tube: &Loop) -> Value {
    let key = |room: usize| floor.rooms.get(room).map_or("?", |r| r.key.as_str());
    let id = format!("{}/{}", key(tube.room), tube.number);
    let by_room = tube.lengths_m.iter().map(|(room, m)| (key(*room), *m));
    let mut line = record::tube(&id, &tube.path, by_room);
    line["true_length_m"] = json!(tube.length_m);
    line["depths_m"] = json!(tube.depths_m);
    line
}

/// Rooms that got no loop, each with the reasons of its bays.
fn without_loop(floor: &Floor, layout: &Layout) -> Option<String> {
    let bare = |room: &usize| layout.loops.iter().all(|tube| tube.room != *room);
    let line = |room: usize| {
        let own = layout.unreached.iter().filter(|u| u.room == room);
        let mut why: Vec<&str> = own.map(|u| u.why.words()).collect();
        why.sort_unstable();
        why.dedup();
        format!("{}: no loop, {}", floor.rooms[room].key, why.join("; "))
    };
    let lines: Vec<String> = (0..floor.rooms.len()).filter(bare).map(line).collect();
    (!lines.is_empty()).then(|| lines.join("; "))
}

/// Holes, plates, and what no row reaches.
fn notes(name: &str, floor: &Floor, layout: &Layout) {
    let mut joists: Vec<i64> = layout.holes.iter().map(|hole| hole.joist).collect();
    joists.dedup();
    let most = layout.holes.chunk_by(|a, b| a.joist == b.joist).map(<[_]>::len).max().unwrap_or(0);
    let broken = layout.holes.iter().filter(|h| h.verdict != Verdict::Keeps).count();
    let whole: usize = layout.plates.iter().map(|p| p.whole).sum();
    let cut = layout.plates.iter().filter(|p| p.cut_m > 0.0).count();
    eprintln!(
        "{name}: {} holes of {:.0} mm in {} joists, at most {most} in one, {broken} not told to \
         keep the rule; {whole} plates and {cut} cut",
        layout.holes.len(),
        floor.drilling.hole_m * 1e3,
        joists.len(),
    );
    for Unreached { room, bay, length_m, why } in &layout.unreached {
        let key = floor.rooms.get(*room).map_or("?", |r| r.key.as_str());
        eprintln!("{name}: {key}, bay {bay}: {length_m:.2} m without tube: {}", why.words());
    }
}

fn drawing(name: &str, floor: &Floor, layout: &Layout, report: &BaysReport) -> Drawing {
    let corners = floor.rooms.iter().flat_map(|room| room.floor.outer().iter().copied());
    let title = format!(
        "{name}: {} loops, {} holes, {:.1} % covered",
        layout.loops.len(),
        layout.holes.len(),
        100.0 * report.covered_fraction
    );
    let mut sketch = Sketch::over(corners.chain([floor.manifold.at]), &title);
    for room in &floor.rooms {
        sketch.ring(room.floor.outer(), "fill='#f6f3ec' stroke='#111'");
    }
    for block in &floor.blocks {
        let fill = if block.kind == BlockKind::Full { "#aaa" } else { "#ddd" };
        sketch.ring(&block.outline, &format!("fill='{fill}' stroke='#555'"));
    }
    for joist in joists(floor) {
        sketch.line(joist, "stroke='#c9a36a' stroke-width='3.8' opacity='.45'");
    }
    for run in &layout.plates {
        sketch.line(run.ends, "stroke='#f2b84b' stroke-width='9' opacity='.45'");
    }
    for (number, tube) in layout.loops.iter().enumerate() {
        sketch.tube(number, &tube.path);
    }
    for hole in &layout.holes {
        let colour = if hole.verdict == Verdict::Keeps { "#000" } else { "#f00" };
        sketch.dot(floor.joists.place_of(hole), 2.5, colour);
    }
    for crossing in &report.crossings {
        sketch.dot(crossing.at, 8.0, "#f0f");
    }
    sketch.dot(floor.manifold.at, 6.0, "purple");
    sketch.finished()
}

/// Centrelines of the joists below the rooms.
fn joists(floor: &Floor) -> Vec<[Point; 2]> {
    let joists = &floor.joists;
    let across = -joists.along.unit().left();
    let corners = floor.rooms.iter().flat_map(|room: &bays::Room| {
        let floor: &Region = &room.floor;
        floor.outer().iter().map(|p| (*p - joists.on).dot(across) / joists.pitch_m)
    });
    let (first, last) =
        corners.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), x| (a.min(x), b.max(x)));
    if first > last || last - first > 2000.0 {
        return Vec::new();
    }
    (first.floor() as i64..=last.ceil() as i64).map(|number| joists.line(number)).collect()
}
