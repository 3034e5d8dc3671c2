//! Walls seen square on: what faces each piece of them.
//!
//! Walls of two rooms share what both cover, taken once for both sides, nearest walls first. What
//! stays open is the end of a partition or of a floor, which is nothing, or looks over or under a
//! neighbour, into the ground, or outdoors.

use super::Behind;
use super::faces::behind;
use super::grade::GroundLines;
use super::house::House;
use super::stack::Stack;
use super::trapezoid::{Trapezoid, without};
use plane::edges::facing;

/// How far a wall looks for another room behind a room whose outline is missing, metres.
const MISSING_ROOM_M: f64 = 12.0;
/// Leftovers narrower or lower than this are corners meeting, metres.
const LEAST_M: f64 = 0.01;
/// Heights as near as this are the same floor, metres.
const TAPE_M: f64 = 0.05;

/// The wall of another room behind a piece of wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Beyond {
    /// Number of the room.
    pub(super) room: usize,
    /// Number of its wall; none where its outline is missing.
    pub(super) wall: Option<usize>,
    /// Distance to its face in metres.
    pub(super) gap_m: f64,
}

/// A piece of a wall with one thing behind it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct WallPiece {
    /// Number of the wall.
    pub(super) wall: usize,
    pub(super) shape: Trapezoid,
    pub(super) behind: Behind,
    /// The other room, if one is behind.
    pub(super) beyond: Option<Beyond>,
    /// Its length: between two rooms the mean of both faces, else that of its face.
    pub(super) length_m: f64,
    /// In the ground: depth of the room's floor below the ground at both ends.
    pub(super) depth_m: Option<[f64; 2]>,
}

impl WallPiece {
    pub(super) fn area_m2(&self) -> f64 {
        self.length_m * self.shape.mean_height_m()
    }
}

/// One wall while its pieces are found.
#[derive(Clone, Default)]
struct Side {
    open: Vec<Trapezoid>,
    shared: Vec<(Trapezoid, Beyond, f64)>,
    /// Rooms whose walls face it at any height: from where to where, and which.
    beside: Vec<([f64; 2], Beyond)>,
}

/// All pieces of all walls, by room, in the order of walls and along each.
pub(super) fn pieces(
    house: &House<'_>,
    stack: &Stack,
    ground: &GroundLines,
) -> Vec<Vec<WallPiece>> {
    let mut sides = shared(house);
    (0..sides.len())
        .map(|room| {
            let mut own = std::mem::take(&mut sides[room]);
            let look = Look { house, stack, ground, room };
            own.iter_mut().for_each(|side| close(house, side));
            look.across_the_missing(&mut own);
            let walls = own.into_iter().enumerate();
            walls.flat_map(|(wall, side)| look.wall(wall, side)).collect()
        })
        .collect()
}

/// Walls with all that they share with other rooms taken out of what is open.
fn shared(house: &House<'_>) -> Vec<Vec<Side>> {
    let mut sides: Vec<Vec<Side>> = (0..house.walls.len())
        .map(|room| {
            let walls = house.walls[room].iter();
            walls.map(|wall| Side { open: whole(house, room, wall), ..Side::default() }).collect()
        })
        .collect();
    let mut facings = Vec::new();
    for [one, other] in &house.near {
        let (Some(first), Some(second)) = (&house.floors[*one], &house.floors[*other]) else {
            continue;
        };
        let found = facing(first.outer(), second.outer(), house.thickest_wall_m());
        facings.extend(found.into_iter().map(|facing| ([*one, *other], facing)));
    }
    // The nearer neighbour holds where two are behind each other.
    facings.sort_by(|(rooms, a), (others, b)| {
        a.gap_m.total_cmp(&b.gap_m).then(rooms.cmp(others)).then(a.edges.cmp(&b.edges))
    });
    for ([one, other], facing) in facings {
        let [edge, far_edge] = facing.edges;
        let beyond = |room, wall| Beyond { room, wall: Some(wall), gap_m: facing.gap_m };
        let (there, back) = (beyond(other, far_edge), beyond(one, edge));
        let mut near = std::mem::take(&mut sides[one][edge]);
        let mut far = std::mem::take(&mut sides[other][far_edge]);
        near.beside.push((facing.on_first_m, there));
        far.beside.push((facing.on_second_m, back));
        for piece in common(&near, &far, facing.on_first_m, facing.on_second_m) {
            let turned = piece.turned(facing.on_first_m, facing.on_second_m);
            let length_m = (piece.width_m() + turned.width_m()) / 2.0;
            near.shared.push((piece, there, length_m));
            far.shared.push((turned, back, length_m));
            near.open = without(&near.open, &[piece]);
            far.open = without(&far.open, &[turned]);
        }
        sides[one][edge] = near;
        sides[other][far_edge] = far;
    }
    sides
}

/// The wall of a room as it stands; where its height is not known, as high as its storey.
fn whole(house: &House<'_>, room: usize, wall: &super::walls::Wall) -> Vec<Trapezoid> {
    let level_m = house.level_m[room];
    if house.ceilings[room].is_known() {
        return house.ceilings[room].over(wall, level_m);
    }
    let high_m = [house.top_m(room, wall.from), house.top_m(room, wall.to)];
    vec![Trapezoid { span_m: [0.0, wall.length_m()], low_m: [level_m; 2], high_m }]
}

/// What is open on both of two facing walls, as the first one sees it.
fn common(near: &Side, far: &Side, on_near: [f64; 2], on_far: [f64; 2]) -> Vec<Trapezoid> {
    let mut found = Vec::new();
    for piece in near.open.iter().filter_map(|piece| piece.between(on_near[0], on_near[1])) {
        for other in far.open.iter().filter_map(|other| other.between(on_far[0], on_far[1])) {
            let both = piece.and(&other.turned(on_far, on_near));
            found.extend(
                both.into_iter()
                    .filter(|both| both.width_m() > LEAST_M && both.mean_height_m() > LEAST_M),
            );
        }
    }
    found
}

/// Takes the ends of floors and of partitions out of what is open.
fn close(house: &House<'_>, side: &mut Side) {
    let mut closed: Vec<Trapezoid> = side.shared.iter().map(|(shape, ..)| *shape).collect();
    let mut ends = Vec::new();
    for (below, beyond, _) in &side.shared {
        let floor_m = house.levels.thickest_floor_m(house.room(beyond.room));
        for (above, ..) in &side.shared {
            let over = above.between(below.span_m[0], below.span_m[1]);
            let Some((above, below)) =
                over.and_then(|over| Some((over, below.between(over.span_m[0], over.span_m[1])?)))
            else {
                continue;
            };
            let gap = Trapezoid { low_m: below.high_m, high_m: above.low_m, ..below };
            let height_m = gap.mean_height_m();
            if height_m > 0.0 && height_m <= floor_m {
                ends.push(gap);
            }
        }
    }
    closed.extend(&ends);
    closed.sort_by(|a, b| a.span_m[0].total_cmp(&b.span_m[0]));
    for (index, left) in closed.iter().enumerate() {
        let right = closed[index + 1..].iter().filter(|right| {
            let gap_m = right.span_m[0] - left.span_m[1];
            gap_m > 0.0 && gap_m <= house.thickest_wall_m()
        });
        for right in right {
            let gap = Trapezoid {
                span_m: [left.span_m[1], right.span_m[0]],
                low_m: [left.low_m[1].max(right.low_m[0]); 2],
                high_m: [left.high_m[1].min(right.high_m[0]); 2],
            };
            if gap.mean_height_m() > 0.0 {
                ends.push(gap);
            }
        }
    }
    side.open = without(&side.open, &ends);
}

/// One room looking out.
struct Look<'a> {
    house: &'a House<'a>,
    stack: &'a Stack,
    ground: &'a GroundLines,
    room: usize,
}

impl Look<'_> {
    /// Walls that look at another room across a gap in which a missing room may stand are taken as
    /// walls to it, not as outside walls, so that one bad outline leaves the other rooms' loads
    /// alone.
    fn across_the_missing(&self, own: &mut [Side]) {
        let house = self.house;
        let (Some(floor), Some(missing)) = (&house.floors[self.room], house.missing(self.room))
        else {
            return;
        };
        for (other, other_floor) in house.floors.iter().enumerate() {
            let Some(other_floor) = other_floor else { continue };
            if other == self.room || !house.same_storey(self.room, other) {
                continue;
            }
            for facing in facing(floor.outer(), other_floor.outer(), MISSING_ROOM_M) {
                let Some(side) = own.get_mut(facing.edges[0]) else { continue };
                let [from, to] = facing.on_first_m;
                let seen: Vec<Trapezoid> =
                    side.open.iter().filter_map(|piece| piece.between(from, to)).collect();
                side.open = without(&side.open, &seen);
                let beyond = Beyond { room: missing, wall: None, gap_m: f64::INFINITY };
                side.shared.extend(seen.into_iter().map(|it| (it, beyond, it.width_m())));
            }
        }
    }

    /// The pieces of one wall.
    fn wall(&self, wall: usize, side: Side) -> Vec<WallPiece> {
        let key = |beyond: &Beyond| self.house.room(beyond.room).key.clone();
        let mut pieces: Vec<WallPiece> = side
            .shared
            .iter()
            .map(|(shape, beyond, length_m)| WallPiece {
                wall,
                shape: *shape,
                behind: Behind::Room(key(beyond)),
                beyond: Some(*beyond),
                length_m: *length_m,
                depth_m: None,
            })
            .collect();
        for open in &side.open {
            let mut cuts: Vec<f64> =
                side.beside.iter().flat_map(|(span, _)| *span).chain(open.span_m).collect();
            cuts.sort_by(f64::total_cmp);
            let strips = cuts.windows(2).filter(|cut| cut[1] - cut[0] > LEAST_M);
            for strip in strips.filter_map(|cut| open.between(cut[0], cut[1])) {
                pieces.extend(self.open(wall, &side, strip));
            }
        }
        pieces.retain(|piece| {
            piece.shape.width_m() > LEAST_M && piece.shape.mean_height_m() > LEAST_M
        });
        pieces.sort_by(|a, b| {
            let (one, other) = (&a.shape, &b.shape);
            one.span_m[0].total_cmp(&other.span_m[0]).then(one.low_m[0].total_cmp(&other.low_m[0]))
        });
        pieces
    }

    /// An open strip: over or under a neighbour, in the ground, outdoors.
    fn open(&self, wall: usize, side: &Side, strip: Trapezoid) -> Vec<WallPiece> {
        let house = self.house;
        let middle_m = (strip.span_m[0] + strip.span_m[1]) / 2.0;
        let [low_m, high_m] = strip.at(middle_m);
        let here = &house.walls[self.room][wall];
        let foot = here.from.lerp(here.to, middle_m / here.length_m());
        let beside =
            side.beside.iter().filter(|(span, _)| span[0] <= middle_m && middle_m <= span[1]);
        let seen: Vec<(f64, f64, &Beyond)> = beside
            .map(|(_, beyond)| {
                let at = foot + here.outward() * (beyond.gap_m.max(0.0) + TAPE_M);
                (house.level_m[beyond.room], house.top_m(beyond.room, at), beyond)
            })
            .collect();
        let lower = seen.iter().filter(|(_, top_m, _)| *top_m <= low_m + TAPE_M);
        let lower = lower.max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((.., beyond)) = lower {
            let at = foot + here.outward() * (beyond.gap_m.max(0.0) + TAPE_M);
            // The floor that stands on the neighbour hides what lies level with it.
            if let Some(floor_m) = self.stack.floor_over(house, beyond.room, at) {
                let slab = Trapezoid { high_m: [floor_m; 2], ..strip };
                let rest = strip.less(&slab);
                return rest.into_iter().flat_map(|rest| self.outside(wall, rest)).collect();
            }
            let above = behind(&house.room(beyond.room).above.value);
            if above != Behind::Outdoors {
                return vec![piece(wall, strip, above, None)];
            }
        }
        let upper = seen.iter().filter(|(level_m, ..)| *level_m >= high_m - TAPE_M);
        if let Some((level_m, _, beyond)) = upper.min_by(|a, b| a.0.total_cmp(&b.0)) {
            let below = &house.below[beyond.room];
            if *below != Behind::Outdoors {
                let depth_m = level_m - house.level_m[self.room];
                let depth = (*below == Behind::Ground).then_some([depth_m; 2]);
                return vec![piece(wall, strip, below.clone(), depth)];
            }
        }
        self.outside(wall, strip)
    }

    /// A strip of outside wall, split at the ground line.
    fn outside(&self, wall: usize, strip: Trapezoid) -> Vec<WallPiece> {
        let ground = self.ground.against(self.house, self.room, wall);
        let level_m = self.house.level_m[self.room];
        let buried = strip.and(&ground).into_iter().map(|part| {
            let depth = part.span_m.map(|along| ground.at(along)[1] - level_m);
            piece(wall, part, Behind::Ground, Some(depth))
        });
        let free = strip.less(&ground).into_iter();
        buried.chain(free.map(|part| piece(wall, part, Behind::Outdoors, None))).collect()
    }
}

fn piece(wall: usize, shape: Trapezoid, behind: Behind, depth_m: Option<[f64; 2]>) -> WallPiece {
    WallPiece { wall, shape, behind, beyond: None, length_m: shape.width_m(), depth_m }
}
