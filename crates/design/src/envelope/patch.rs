//! What bounds a room, piece by piece, before pieces alike become faces.

use super::Behind;
use super::assemblies::by_rule;
use super::elevation::{Beyond, WallPiece};
use super::faces::behind;
use super::house::House;
use super::stack::Stack;
use super::trapezoid::Trapezoid;
use plane::{Region, areas};

/// Pieces smaller than this are corners meeting, square metres.
const LEAST_AREA_M2: f64 = 1e-3;

/// Which part of a room; slopes and dormers by their number in the job.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Part {
    /// The wall of that number.
    Wall(usize),
    DormerFront(usize),
    DormerCheeks(usize),
    DormerRoof(usize),
    Ceiling,
    Slope(usize),
    Floor,
}

/// A piece of what bounds a room.
#[derive(Clone, Debug)]
pub(super) struct Patch {
    pub(super) part: Part,
    pub(super) behind: Behind,
    /// By inside or outside dimensions, openings not taken out.
    pub(super) area_m2: f64,
    /// Of a wall: how long it is.
    pub(super) length_m: f64,
    /// Of a wall: how it looks square on, by inside dimensions.
    pub(super) shape: Option<Trapezoid>,
    /// Of a wall: the wall behind it.
    pub(super) beyond: Option<Beyond>,
    /// In the ground: depth of the room's floor there, at both ends.
    pub(super) depth_m: Option<[f64; 2]>,
    /// Its construction, by key.
    pub(super) assembly: Option<String>,
    /// Whether the text says of this very piece what is behind it.
    pub(super) stated: bool,
}

impl Patch {
    /// Depth of the room's floor below the ground, as a mean over the area.
    pub(super) fn mean_depth_m(&self) -> Option<f64> {
        Some(mean_over(self.shape.as_ref()?, self.depth_m?))
    }

    /// Depth of its own upper edge below the ground, as a mean over the area; nought where it
    /// reaches the surface.
    pub(super) fn mean_top_m(&self) -> Option<f64> {
        let (shape, [start_m, end_m]) = (self.shape.as_ref()?, self.depth_m?);
        let high_m = |end: usize| shape.high_m[end] - shape.low_m[end];
        Some(mean_over(shape, [start_m - high_m(0), end_m - high_m(1)]).max(0.0))
    }
}

/// The walls of a room.
pub(super) fn walls(house: &House<'_>, number: usize, pieces: Vec<WallPiece>) -> Vec<Patch> {
    constructed(house, number, pieces.into_iter().map(wall).collect())
}

/// What else bounds a room with an outline: dormers, ceilings, slopes, floors.
pub(super) fn flats(house: &House<'_>, stack: &Stack, number: usize) -> Vec<Patch> {
    let Some(floor) = &house.floors[number] else { return Vec::new() };
    let mut patches = dormers(house, number);
    patches.extend(ceilings(house, stack, number, floor));
    patches.extend(slopes(house, number));
    patches.extend(floors(house, stack, number, floor));
    constructed(house, number, patches)
}

fn constructed(house: &House<'_>, number: usize, mut patches: Vec<Patch>) -> Vec<Patch> {
    let room = house.room(number);
    for patch in &mut patches {
        patch.assembly = by_rule(house, room, patch.part, &patch.behind);
    }
    patches
}

fn flat(part: Part, behind: Behind, area_m2: f64) -> Patch {
    Patch {
        part,
        behind,
        area_m2,
        length_m: 0.0,
        shape: None,
        beyond: None,
        depth_m: None,
        assembly: None,
        stated: false,
    }
}

fn wall(piece: WallPiece) -> Patch {
    let area_m2 = piece.area_m2();
    Patch {
        length_m: piece.length_m,
        shape: Some(piece.shape),
        beyond: piece.beyond,
        depth_m: piece.depth_m,
        ..flat(Part::Wall(piece.wall), piece.behind, area_m2)
    }
}

/// Mean over the area of a value that runs straight from one end to the other.
fn mean_over(shape: &Trapezoid, [start, end]: [f64; 2]) -> f64 {
    let [first, last] = [0, 1].map(|end| shape.high_m[end] - shape.low_m[end]);
    let moment = first * (2.0 * start + end) + last * (start + 2.0 * end);
    let whole = 3.0 * (first + last);
    if whole > 0.0 { moment / whole } else { (start + end) / 2.0 }
}

fn dormers(house: &House<'_>, number: usize) -> Vec<Patch> {
    let parts = house.ceilings[number].dormers.iter().flat_map(|size| {
        [
            (Part::DormerFront(size.dormer), size.front_m2()),
            (Part::DormerCheeks(size.dormer), size.cheeks_m2()),
            (Part::DormerRoof(size.dormer), size.roof_m2()),
        ]
    });
    parts.map(|(part, area_m2)| flat(part, Behind::Outdoors, area_m2)).collect()
}

fn ceilings(house: &House<'_>, stack: &Stack, number: usize, floor: &Region) -> Vec<Patch> {
    let ceiling = &house.ceilings[number];
    let mut patches = Vec::new();
    for over in stack.above(number) {
        let upper = Behind::Room(house.room(over.upper).key.clone());
        patches.push(flat(Part::Ceiling, upper, areas::total_m2(&over.common)));
    }
    let bare = &stack.bare[number];
    // Where nothing lies over it the whole is exact.
    let whole_m2 = if ceiling.is_known() {
        let level = ceiling.pieces.iter().find(|piece| piece.slope.is_none());
        level.map_or(0.0, |piece| piece.area_m2)
    } else {
        floor.area_m2()
    };
    let area_m2 = if bare.free[0] { whole_m2 } else { areas::total_m2(&bare.above) };
    patches.push(flat(Part::Ceiling, behind(&house.room(number).above.value), area_m2));
    patches.retain(|patch| patch.area_m2 > LEAST_AREA_M2);
    patches
}

fn slopes(house: &House<'_>, number: usize) -> Vec<Patch> {
    let ceiling = &house.ceilings[number];
    let above = &house.room(number).above;
    // A space above a level ceiling is above that one; a room all of slopes has no other.
    let level = ceiling.pieces.iter().any(|piece| piece.slope.is_none());
    let over = match above.place() {
        Some(_) if !level => behind(&above.value),
        _ => Behind::Outdoors,
    };
    let sloped = ceiling.pieces.iter().filter_map(|piece| {
        let slope = piece.slope?;
        let boxes = ceiling.dormers.iter().filter(|dormer| dormer.slope == slope);
        let cut_m2: f64 = boxes.map(|dormer| dormer.cut_m2()).sum();
        Some(flat(Part::Slope(slope), over.clone(), piece.sloped_m2() - cut_m2))
    });
    sloped.collect()
}

fn floors(house: &House<'_>, stack: &Stack, number: usize, floor: &Region) -> Vec<Patch> {
    let mut patches = Vec::new();
    for over in stack.below(number) {
        let lower = Behind::Room(house.room(over.lower).key.clone());
        patches.push(flat(Part::Floor, lower, areas::total_m2(&over.common)));
    }
    let bare = &stack.bare[number];
    let whole = bare.free[1] && stack.holes[number].is_empty();
    let area_m2 = if whole { floor.area_m2() } else { areas::total_m2(&bare.below) };
    patches.push(flat(Part::Floor, house.below[number].clone(), area_m2));
    patches.retain(|patch| patch.area_m2 > LEAST_AREA_M2);
    patches
}
