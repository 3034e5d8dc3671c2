//! Grooved boards: laid at the closest pitch that can be, measured, told.

use crate::case_run::{Run, Timed};
use crate::drawing::Drawing;
use crate::record::{self, Record};
use crate::sketch::Sketch;
use plane::boards::{self, Floor, Layout, NoBoards};
use plane::verify;
use serde_json::{Value, json};

/// The name of the only room.
const ROOM: &str = "room";

/// Lays boards over a room.
pub(crate) fn run(name: &str, floors: &[Floor]) -> Run {
    let Timed { value: (refusals, laid), ms } = Timed::of(|| closest(floors));
    for (floor, reason) in floors.iter().zip(&refusals) {
        eprintln!("{name}: not at {:.0} mm: {reason}", floor.board.pitch_m * 1e3);
    }
    let Some((floor, layout)) = laid else {
        let reasons: Vec<String> = refusals.iter().map(NoBoards::to_string).collect();
        let refused = Some(reasons.join("; "));
        return Run { line: Record { refused, ..Record::nothing() }.line(name, ms), drawing: None };
    };
    let report = verify::boards(floor, &layout);
    notes(name, floor, &layout);
    let loops = layout.loops.iter().enumerate();
    let record = Record {
        loops: loops.map(|(i, tube)| one(i + 1, tube)).collect(),
        crossings: report.crossings.len(),
        over_limit: report.over_limit,
        tight_bends: report.tight_bends,
        outside_m: report.outside_m,
        coverage_075: report.covered_fraction,
        min_gap_ratio: report.closest_strands_m.map_or(1.0, |gap_m| gap_m / floor.board.pitch_m),
        refused: None,
    };
    let drawing = Some(drawing(name, floor, &layout, report.covered_fraction));
    Run { line: record.line(name, ms), drawing }
}

/// The layout at the first pitch that can be laid, and what ruled out those before it.
fn closest(floors: &[Floor]) -> (Vec<NoBoards>, Option<(&Floor, Layout)>) {
    let mut refusals = Vec::new();
    for floor in floors {
        match boards::lay(floor) {
            Ok(layout) => return (refusals, Some((floor, layout))),
            Err(reason) => refusals.push(reason),
        }
    }
    (refusals, None)
}

fn one(number: usize, tube: &boards::Loop) -> Value {
    let by_room = std::iter::once((ROOM, tube.path.length_m()));
    let mut line = record::tube(&format!("{ROOM}/{number}"), &tube.path, by_room);
    line["true_length_m"] = json!(tube.length_m);
    line
}

fn notes(name: &str, floor: &Floor, layout: &Layout) {
    let bill = boards::bill(floor, layout);
    eprintln!(
        "{name}: grooves {:.0} mm apart, {}; {} boards whole, {} pieces cut from {}; {} half turns \
         in {} turn boards, {} leader boards; {:.0} % of the tube straight in grooves, {:.1} m of \
         rows not linked",
        floor.board.pitch_m * 1e3,
        layout.why,
        bill.whole,
        bill.cut_pieces,
        bill.cut_boards,
        bill.turns,
        bill.turn_boards,
        bill.leader_boards,
        100.0 * bill.on_grid_fraction,
        layout.lost_m,
    );
}

fn drawing(name: &str, floor: &Floor, layout: &Layout, covered: f64) -> Drawing {
    let title = format!("{name}: {} loops, {:.1} % covered", layout.loops.len(), 100.0 * covered);
    let mut sketch = Sketch::over(floor.room.outer().iter().copied(), &title);
    sketch.ring(floor.room.outer(), "fill='#f6f3ec' stroke='#111'");
    for keep_out in &floor.keep_outs {
        sketch.ring(keep_out, "fill='#bbb' stroke='#555'");
    }
    sketch.line(floor.door, "stroke='purple' stroke-width='6' opacity='.6'");
    for (number, tube) in layout.loops.iter().enumerate() {
        sketch.tube(number, &tube.path);
    }
    sketch.finished()
}
