//! Dormers: boxes with a level ceiling set into a slope.

use super::ceiling::{Ceiling, Piece, slope_wall};
use super::walls::Wall;
use crate::words::Words;
use job::{Dormer, Finding, Job, Room, Severity};
use quantity::Quantity;

/// What a dormer adds to its room, and takes from its slope.
#[derive(Clone, Debug)]
pub(super) struct DormerBox {
    /// Number of the dormer in the job.
    pub(super) dormer: usize,
    /// Number of its slope in the job.
    pub(super) slope: usize,
    width_m: f64,
    /// From the slope to the ceiling at the front.
    rise_m: f64,
    /// From the front to where its ceiling meets the slope.
    depth_m: f64,
    pitch: f64,
}

impl DormerBox {
    pub(super) fn front_m2(&self) -> f64 {
        self.width_m * self.rise_m
    }

    /// Both sides.
    pub(super) fn cheeks_m2(&self) -> f64 {
        self.depth_m * self.rise_m
    }

    pub(super) fn roof_m2(&self) -> f64 {
        self.width_m * self.depth_m
    }

    /// What it takes out of the slope.
    pub(super) fn cut_m2(&self) -> f64 {
        self.roof_m2() * self.pitch.hypot(1.0)
    }

    pub(super) fn volume_m3(&self) -> f64 {
        self.width_m * self.depth_m * self.rise_m / 2.0
    }

    pub(super) fn width_m(&self) -> f64 {
        self.width_m
    }

    pub(super) fn rise_m(&self) -> f64 {
        self.rise_m
    }
}

/// The dormers of a room; one that does not fit its slope gives a finding.
pub(super) fn of(
    job: &Job,
    room: &Room,
    walls: &[Wall],
    ceiling: &Ceiling,
    findings: &mut Vec<Finding>,
) -> Vec<DormerBox> {
    let mut boxes: Vec<DormerBox> = Vec::new();
    for (number, dormer) in job.dormers.iter().enumerate() {
        let slope = job.slopes.iter().position(|slope| slope.key == dormer.slope.value);
        let Some(slope) = slope.filter(|slope| job.slopes[*slope].room.value == room.key) else {
            continue;
        };
        let piece = ceiling.pieces.iter().find(|piece| piece.slope == Some(slope));
        // A slope without its wall was told already.
        let Some(Ok(wall)) = slope_wall(room, &job.slopes[slope], walls) else { continue };
        let Some((width, height)) = dormer.width.as_ref().zip(dormer.height.as_ref()) else {
            continue;
        };
        let (width_m, height_m) = (width.value.si(), height.value.si());
        let room_left_m2: f64 =
            boxes.iter().filter(|b| b.slope == slope).map(DormerBox::cut_m2).sum();
        match set(job, dormer, piece, wall, width_m, height_m, room_left_m2) {
            Ok(size) => boxes.push(DormerBox { dormer: number, slope, ..size }),
            Err((message, advice)) => findings.push(
                Finding::new(
                    Severity::Stop,
                    "dormer-misfit",
                    format!("dormer.{}", dormer.key),
                    message,
                    advice,
                )
                .at(dormer.place),
            ),
        }
    }
    boxes
}

/// A dormer in its slope, or why it does not fit.
fn set(
    job: &Job,
    dormer: &Dormer,
    piece: Option<&Piece>,
    wall: &Wall,
    width_m: f64,
    height_m: f64,
    taken_m2: f64,
) -> Result<DormerBox, (String, &'static str)> {
    let words = Words { first: job.units.value };
    let Some(piece) = piece else {
        let message = format!("slope {} lies over no part of its room", dormer.slope.value);
        return Err((message, "check the slope's `low` and `pitch`, and the room's height"));
    };
    let set_back_m = dormer.set_back.value.si();
    let base_m = piece.height.of(wall.from - wall.outward() * set_back_m);
    let rise_m = height_m - base_m;
    if rise_m <= 0.0 || piece.pitch <= 0.0 || set_back_m < 0.0 || width_m <= 0.0 {
        let message = format!(
            "its ceiling at {} is not above its slope, which stands {} high at its front",
            words.tape(height_m),
            words.tape(base_m)
        );
        return Err((message, "check `height` and `set_back` of the dormer"));
    }
    let depth_m = rise_m / piece.pitch;
    let reach_m = piece.reach_m(wall);
    if set_back_m + depth_m > reach_m + 1e-6 {
        let message = format!(
            "its ceiling would meet the slope {} from the wall, but the slope ends at {}",
            words.tape(set_back_m + depth_m),
            words.tape(reach_m)
        );
        return Err((message, "check `height` and `set_back` of the dormer"));
    }
    let size = DormerBox { dormer: 0, slope: 0, width_m, rise_m, depth_m, pitch: piece.pitch };
    if width_m > wall.length_m() + 1e-6 || size.cut_m2() + taken_m2 > piece.sloped_m2() + 1e-6 {
        let message = format!(
            "is {} wide, more than slope {} has room for",
            words.tape(width_m),
            dormer.slope.value
        );
        return Err((message, "check `width` of the dormer, and of others in this slope"));
    }
    Ok(size)
}
