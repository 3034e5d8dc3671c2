//! Where the grid of a room's boards lies best.

use super::grid;
use crate::bays::frame::Frame;
use crate::clip;
use crate::fill::grooved::EDGE;
use crate::point::Point;
use crate::region::Region;
use crate::storey::Grooves;

/// The grid that serves most of a room: along its longest wall or square to it, and where across.
///
/// `pitch_m` is from groove to groove, `wall_clearance_m` the least distance of tube from walls and
/// keep-outs. None where no row fits.
pub fn grooves(
    room: &Region,
    keep_outs: &[Vec<Point>],
    pitch_m: f64,
    wall_clearance_m: f64,
) -> Option<Grooves> {
    let sound = pitch_m > 0.02 && pitch_m < 2.0 && (0.0..2.0).contains(&wall_clearance_m);
    if !sound {
        return None;
    }
    let longest = room.edges().max_by(|a, b| a.0.distance(a.1).total_cmp(&b.0.distance(b.1)))?;
    let wall = (longest.1 - longest.0).unit();
    let open = room.difference(keep_outs).ok()?;
    let mut best: Option<(f64, Grooves)> = None;
    for along in [wall, wall.left()] {
        let frame = Frame::of(longest.0, along.left());
        let pieces: Option<Vec<Region>> = open.iter().map(|piece| inward(&frame, piece)).collect();
        let edge_m = (wall_clearance_m - pitch_m / 2.0).max(0.0);
        let inside = clip::erode(&pieces?, edge_m + (0.5 + EDGE) * pitch_m - grid::SPARE_M);
        let (phase, _) = grid::best_phase(&inside, pitch_m, grid::SPARE_M);
        let rows = grid::rows(&inside, pitch_m, phase, 1.2 * pitch_m, grid::SPARE_M);
        let served_m2 = grid::served_m2(&rows, pitch_m);
        // Rows along the wall need fewer turns.
        if served_m2 > 0.0 && best.as_ref().is_none_or(|b| served_m2 > 1.02 * b.0) {
            let on = frame.outward(Point::new(0.0, phase));
            best = Some((served_m2, Grooves { along, on }));
        }
    }
    best.map(|(_, grooves)| grooves)
}

fn inward(frame: &Frame, region: &Region) -> Option<Region> {
    let ring = |ring: &[Point]| ring.iter().map(|p| frame.inward(*p)).collect::<Vec<_>>();
    let holes = region.holes().iter().map(|hole| ring(hole)).collect();
    Region::new(ring(region.outer()), holes).ok()
}
