//! Rows in the grooves of boards: the grid is given, a loop takes what of it lies on its floor.

use super::body;
use super::entry::Stub;
use super::search::Draft;
use super::zone::Zone;
use crate::bays::frame::Frame;
use crate::boards::grid::{self, Ends, Row};
use crate::chain;
use crate::clip::{self, Cap};
use crate::point::Point;
use crate::region::Region;
use crate::storey::Grooves;

/// Rows shorter than this many pitches are left out.
const LEAST_ROW: f64 = 0.8;

/// Distance of a groove in use from the edge of the floor, in pitches: boards lie up to the wall.
pub(crate) const EDGE: f64 = 0.25;

/// Loops in the grooves: of either set of neighbouring pairs, linked at either end.
pub(super) fn drafts(zone: &Zone<'_>, stub: &Stub, grooves: &Grooves) -> Vec<Draft> {
    let pitch = zone.spacing_m;
    let frame = Frame::of(grooves.on, grooves.along.left());
    let inward = |ring: &[Point]| ring.iter().map(|p| frame.inward(*p)).collect::<Vec<_>>();
    let holes = zone.floor.holes().iter().map(|hole| inward(hole)).collect();
    let Ok(floor) = Region::new(inward(zone.floor.outer()), holes) else { return Vec::new() };
    let inside = clip::erode(&[floor], (0.5 + EDGE) * pitch - grid::SPARE_M);
    let root = frame.inward(stub.foot);
    let pairs = [0.0, pitch].into_iter().map(|phase| {
        let rows = grid::rows(&inside, pitch, phase, LEAST_ROW * pitch, grid::SPARE_M);
        [Ends::Low, Ends::High].map(|ends| (rows.clone(), ends))
    });
    pairs
        .flatten()
        .filter_map(|(rows, ends)| {
            let tracks = tracks(&rows, &inside, root, ends)?;
            let outward = |track: &Vec<Point>| track.iter().map(|p| frame.outward(*p)).collect();
            let tracks: Vec<Vec<Point>> = tracks.iter().map(outward).collect();
            draft(zone, stub, &tracks)
        })
        .collect()
}

fn tracks(rows: &[Row], inside: &[Region], root: Point, ends: Ends) -> Option<Vec<Vec<Point>>> {
    grid::tree(rows, inside, root, ends).map(|(tracks, _)| tracks)
}

fn draft(zone: &Zone<'_>, stub: &Stub, tracks: &[Vec<Point>]) -> Option<Draft> {
    let pitch = zone.spacing_m;
    let way = stub.way(zone.floor, tracks, pitch)?;
    let band = clip::thick(tracks, pitch / 2.0, Cap::Square);
    let corners = body::outline(&band, stub, &way, None, pitch)?;
    Some(Draft {
        corners: chain::thinned(&corners, 1e-4),
        spacing: pitch,
        pattern: zone.pattern,
        way: chain::length(&way.line),
    })
}
