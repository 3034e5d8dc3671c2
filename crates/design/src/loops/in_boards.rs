//! Boards of each room, counted from the finished tube.

use super::TubeLoop;
use super::plan::StoreyPlan;
use super::under_floor::{BoardBill, RoomBoards};
use crate::emitters::Floor;
use crate::figure::Figure;
use plane::Path;
use plane::boards::{self, Board};
use plane::storey::Pattern;
use quantity::Quantity;

/// Half turns on one turn piece.
const TURNS: usize = 2;

/// The boards of a floor in grooves; none for any other floor.
pub(super) fn boards(
    floor: &Floor,
    on_plan: usize,
    plan: &StoreyPlan<'_>,
    loops: &[TubeLoop],
    passing_m: f64,
) -> Option<RoomBoards> {
    let room = plan.plan.rooms.get(on_plan)?;
    let Pattern::Grooves(grooves) = room.pattern else { return None };
    let own: Vec<&TubeLoop> = loops.iter().filter(|own| own.room == floor.room).collect();
    if own.is_empty() {
        return None;
    }
    let material = &floor.build_up.material;
    let own_m: f64 = own.iter().map(|own| own.leader_length.si()).sum();
    let bill = material.piece_length.zip(material.piece_width).map(|(length, width)| {
        let board = Board {
            pitch_m: room.spacing_m,
            width_m: width.si(),
            length_m: length.si(),
            turns: TURNS,
            leader_pitch_m: plan.plan.leader_gap_m,
            leader_grooves: 1,
        };
        let tubes: Vec<(&Path, f64)> = own.iter().map(|own| (&own.path, 0.0)).collect();
        let bill = boards::bill_of(&board, &grooves, &tubes);
        BoardBill {
            size: [length, width],
            whole: bill.whole,
            cut_pieces: bill.cut_pieces,
            cut_boards: bill.cut_boards,
            turns: bill.turns,
            turn_pieces: bill.turn_boards,
        }
    });
    let areas: Vec<_> = own.iter().map(|own| own.area.clone()).collect();
    Some(RoomBoards {
        room: floor.room.clone(),
        board: material.name.clone(),
        pitch: Figure::taken_off(
            "distance of grooves in use",
            room.spacing_m,
            "the grid of the boards",
        ),
        area: Figure::sum("floor of its loops", &areas),
        bill,
        leaders: Figure::sum(
            "leaders in or through the room",
            &[
                Figure::taken_off("leaders of its own loops", own_m, "out and back, as drawn"),
                Figure::taken_off("leaders that pass", passing_m, "out and back, as drawn"),
            ],
        ),
    })
}
