//! The bill of boards, counted from the finished tube.

use super::{Board, Floor, Layout};
use crate::path::{Path, Segment};
use crate::point::Point;
use crate::storey::Grooves;

/// Straight tube farther than this from a groove lies beside the grid, metres.
const ON_GROOVE_M: f64 = 0.002;

/// Shorter runs need no straight board, metres.
const LEAST_RUN_M: f64 = 0.15;

/// Neighbouring runs whose ends differ by less than this are cut as one piece, metres.
const RAGGED_M: f64 = 0.2;

/// Width of a saw cut, metres.
const KERF_M: f64 = 0.003;

/// Boards for a layout.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Bill {
    /// Straight boards that are laid whole.
    pub whole: usize,
    /// Pieces cut from straight boards.
    pub cut_pieces: usize,
    /// Straight boards that the pieces are cut from, offcuts used again.
    pub cut_boards: usize,
    /// Half turns.
    pub turns: usize,
    /// Turn boards.
    pub turn_boards: usize,
    /// Boards for leaders, the least number by area.
    pub leader_boards: usize,
    /// Share of the tube that lies straight in grooves of the grid, 0 to 1.
    pub on_grid_fraction: f64,
}

/// A run of tube in a groove: the groove and its two ends along it.
type Run = (i64, f64, f64);

/// Counts the boards of a layout.
pub fn bill(floor: &Floor, layout: &Layout) -> Bill {
    let grooves = Grooves { along: layout.along, on: layout.on };
    let loops: Vec<(&Path, f64)> = layout.loops.iter().map(|l| (&l.path, l.leader_m)).collect();
    bill_of(&floor.board, &grooves, &loops)
}

/// Counts the boards of tube that lies in grooves: each loop with the length of its leaders.
pub fn bill_of(board: &Board, grooves: &Grooves, loops: &[(&Path, f64)]) -> Bill {
    let (runs, on_m) = runs(board, grooves, loops);
    let columns = ((board.width_m / board.pitch_m).round() as i64).max(1);
    let best =
        (0..columns).map(|shift| straight(&runs, columns, shift, board.length_m)).min_by_key(
            |(whole, pieces)| (whole + pack(pieces, columns, board.length_m), pieces.len()),
        );
    let (whole, pieces) = best.unwrap_or_default();
    let (turns, turn_boards) = turns(board, grooves, loops);
    let total: f64 = loops.iter().map(|(path, _)| path.length_m()).sum();
    let leaders: f64 = loops.iter().map(|(_, leader_m)| leader_m).sum();
    let each = board.leader_grooves as f64 * board.length_m;
    Bill {
        whole,
        cut_pieces: pieces.len(),
        cut_boards: pack(&pieces, columns, board.length_m),
        turns,
        turn_boards,
        leader_boards: (leaders / each).ceil().max(0.0) as usize,
        on_grid_fraction: if total > 0.0 { on_m / total } else { 0.0 },
    }
}

/// Tube in the grid: along the grooves and across, from the middle of the first row.
fn on_grid(grooves: &Grooves, p: Point) -> Point {
    let arm = p - grooves.on;
    Point::new(arm.dot(grooves.along), arm.dot(grooves.along.left()))
}

/// Straight tube by groove, joined where it touches, and its length.
fn runs(board: &Board, grooves: &Grooves, loops: &[(&Path, f64)]) -> (Vec<Run>, f64) {
    let mut found: Vec<Run> = Vec::new();
    let mut on_m = 0.0;
    for segment in loops.iter().flat_map(|(path, _)| &path.segments) {
        let Segment::Line { from, to } = *segment else { continue };
        let (a, b) = (on_grid(grooves, from), on_grid(grooves, to));
        let groove = ((a.y + b.y) / 2.0 + board.pitch_m / 2.0) / board.pitch_m;
        let off = (groove - groove.round()).abs() * board.pitch_m;
        if (a.y - b.y).abs() < ON_GROOVE_M && off < ON_GROOVE_M {
            on_m += from.distance(to);
            found.push((groove.round() as i64, a.x.min(b.x), a.x.max(b.x)));
        }
    }
    found.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut joined: Vec<Run> = Vec::new();
    for run in found {
        match joined.last_mut() {
            Some(last) if last.0 == run.0 && run.1 - last.2 < 0.03 => last.2 = last.2.max(run.2),
            _ => joined.push(run),
        }
    }
    joined.retain(|run| run.2 - run.1 > LEAST_RUN_M);
    (joined, on_m)
}

/// Whole boards, and pieces as grooves and length, when the boards' columns begin at `shift`.
fn straight(runs: &[Run], columns: i64, shift: i64, length_m: f64) -> (usize, Vec<(i64, f64)>) {
    let mut used = vec![false; runs.len()];
    let (mut whole, mut pieces) = (0, Vec::new());
    for i in 0..runs.len() {
        if used[i] {
            continue;
        }
        used[i] = true;
        let (mut last, mut low, mut high, mut grooves) = (runs[i].0, runs[i].1, runs[i].2, 1);
        let column = (runs[i].0 - shift).div_euclid(columns);
        for j in i + 1..runs.len() {
            let (groove, from, to) = runs[j];
            let fits = (groove - shift).div_euclid(columns) == column && groove == last + 1;
            let even = (from - runs[i].1).abs() < RAGGED_M && (to - runs[i].2).abs() < RAGGED_M;
            if !used[j] && fits && even {
                used[j] = true;
                (last, grooves) = (groove, grooves + 1);
                (low, high) = (low.min(from), high.max(to));
            }
        }
        let full = ((high - low) / length_m + 1e-9).floor();
        let rest = high - low - full * length_m;
        if grooves == columns {
            whole += full as usize;
        } else {
            pieces.extend((0..full as usize).map(|_| (grooves, length_m)));
        }
        if rest > 0.05 {
            pieces.push((grooves, rest));
        }
    }
    (whole, pieces)
}

/// Boards that pieces can be cut from, largest pieces first, each from the tightest offcut.
fn pack(pieces: &[(i64, f64)], columns: i64, length_m: f64) -> usize {
    let mut sorted = pieces.to_vec();
    sorted.sort_by(|a, b| b.1.total_cmp(&a.1).then(b.0.cmp(&a.0)));
    let mut offcuts: Vec<(i64, f64)> = Vec::new();
    let mut boards = 0;
    for (grooves, length) in sorted {
        let waste = |o: &(i64, f64)| o.0 as f64 * o.1;
        let fits = (0..offcuts.len())
            .filter(|i| offcuts[*i].0 >= grooves && offcuts[*i].1 >= length - 1e-6)
            .min_by(|i, j| waste(&offcuts[*i]).total_cmp(&waste(&offcuts[*j])));
        let from = match fits {
            Some(i) => offcuts.swap_remove(i),
            None => {
                boards += 1;
                (columns, length_m)
            }
        };
        if from.1 - length > 0.1 {
            offcuts.push((from.0, from.1 - length - KERF_M));
        }
        if from.0 > grooves {
            offcuts.push((from.0 - grooves, length));
        }
    }
    boards
}

/// Half turns between neighbouring grooves, and the turn boards they take.
fn turns(board: &Board, grooves: &Grooves, loops: &[(&Path, f64)]) -> (usize, usize) {
    // End of the rows to the decimetre, side, and groove of each half turn.
    let mut all: Vec<(i64, bool, i64)> = Vec::new();
    for bend in loops.iter().flat_map(|(path, _)| path.bends()) {
        if (bend.turn_rad.abs() - std::f64::consts::PI).abs() < 0.05 {
            let at = on_grid(grooves, bend.at);
            let groove = (at.y / board.pitch_m).round() as i64;
            all.push(((at.x * 10.0).round() as i64, bend.turn_rad > 0.0, groove));
        }
    }
    all.sort_unstable();
    let mut boards = 0;
    let mut rest: Vec<usize> = Vec::new();
    for end in all.chunk_by(|a, b| a.0 == b.0 && b.2 - a.2 == 2) {
        boards += end.len() / board.turns;
        rest.extend(Some(end.len() % board.turns).filter(|n| *n > 0));
    }
    // What is left over is cut from shared boards.
    let left: usize = rest.iter().sum();
    (all.len(), boards + left.div_ceil(board.turns))
}
