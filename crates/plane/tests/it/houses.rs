//! Random storeys as they are built, from a seed: rooms along a corridor, some behind others.
//!
//! Tests and examples each use a part of it.
#![allow(dead_code)]

use plane::storey::{Door, Held, Manifold, Pattern, Plan, Room, Tube};
use plane::{Point, Region};

/// Thickness of all walls, metres.
const WALL_M: f64 = 0.1;

/// Stretch of manifold that a loop takes, metres.
const PORT_M: f64 = 0.08;

/// Width that the leaders of a loop take in a passage, metres.
const LEADERS_M: f64 = 0.11;

/// Numbers that look drawn by chance and are the same for the same seed.
///
/// The generator is SplitMix64: Steele, Lea and Flood, "Fast splittable
/// pseudorandom number generators", 2014.
pub(crate) struct Chance(u64);

impl Chance {
    pub(crate) fn new(seed: u64) -> Chance {
        Chance(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// Between two figures, in centimetres if these are metres.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        let share = (self.next() >> 11) as f64 / (1_u64 << 53) as f64;
        ((low + (high - low).max(0.0) * share) * 100.0).round() / 100.0
    }

    /// True that often.
    pub(crate) fn is(&mut self, share: f64) -> bool {
        ((self.next() >> 11) as f64 / (1_u64 << 53) as f64) < share
    }

    /// One of several.
    pub(crate) fn one_of<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[(self.next() % choices.len() as u64) as usize]
    }
}

/// A storey of 4 to 12 rooms.
pub(crate) fn house(seed: u64) -> Plan {
    let mut chance = Chance::new(seed);
    let tube = tube(&mut chance);
    let count = 4 + (seed % 9) as usize;
    let house = House {
        spacing_m: spacing_m(&mut chance, &tube, count),
        tube,
        rooms: Vec::new(),
        doors: Vec::new(),
    };
    let behind = (0..(count - 3) / 3).filter(|_| chance.is(0.5)).count();
    let in_front = count - 1 - behind;
    let north = house.widths(&mut chance, in_front.div_ceil(2), None);
    let length_m = along(&north);
    let south = house.widths(&mut chance, in_front / 2, Some(length_m));
    house.lay_out(&mut chance, [&north, &south], length_m, behind)
}

/// Tube of 16 mm, or of half an inch, whose least radius is eight times its outside diameter.
fn tube(chance: &mut Chance) -> Tube {
    if chance.is(0.6) {
        Tube { bend_radius_m: 0.08, longest_loop_m: chance.one_of(&[90.0, 100.0, 110.0]) }
    } else {
        Tube { bend_radius_m: 0.127, longest_loop_m: chance.one_of(&[76.0, 91.0]) }
    }
}

/// Closer spacing in smaller houses only: each loop has to get through the corridor.
fn spacing_m(chance: &mut Chance, tube: &Tube, rooms: usize) -> f64 {
    match (tube.bend_radius_m > 0.1, rooms > 7) {
        (true, _) => chance.one_of(&[0.152, 0.203, 0.229, 0.305]),
        (false, false) => chance.one_of(&[0.1, 0.125, 0.15, 0.2, 0.25]),
        (false, true) => chance.one_of(&[0.15, 0.2, 0.25, 0.3]),
    }
}

fn along(widths: &[f64]) -> f64 {
    widths.iter().sum::<f64>() + WALL_M * (widths.len() as f64 - 1.0)
}

/// A house while it is drawn: the corridor along x, rooms to both sides.
struct House {
    spacing_m: f64,
    tube: Tube,
    rooms: Vec<Room>,
    doors: Vec<Door>,
}

/// Where manifolds hang.
#[derive(Clone, Copy, PartialEq)]
enum Hung {
    /// One or two on the upper wall of the corridor.
    Wall(usize),
    /// On its left end, or in a closet behind that.
    End { closet: bool },
}

/// One side of the corridor.
struct Side {
    /// Where its rooms begin, and whether they lie above or below.
    wall_y: f64,
    up: f64,
    depth_m: f64,
    /// Growth of the depth along the corridor.
    skew: f64,
}

impl Side {
    fn at(&self, x: f64, depth_m: f64) -> Point {
        Point::new(x, self.wall_y + self.up * depth_m)
    }

    /// Depth to the outside wall.
    fn outer_m(&self, x: f64) -> f64 {
        self.depth_m + self.skew * x
    }
}

impl House {
    /// Widths of rooms side by side, over a given length if there is one.
    fn widths(&self, chance: &mut Chance, count: usize, length_m: Option<f64>) -> Vec<f64> {
        let mut widths: Vec<f64> = (0..count).map(|_| chance.between(2.2, 4.8)).collect();
        if let Some(length_m) = length_m {
            let walls_m = WALL_M * (count as f64 - 1.0);
            let scale = (length_m - walls_m) / widths.iter().sum::<f64>();
            widths.iter_mut().for_each(|w| *w *= scale);
        }
        widths
    }

    fn lay_out(
        mut self,
        chance: &mut Chance,
        widths: [&[f64]; 2],
        length_m: f64,
        behind: usize,
    ) -> Plan {
        let depths = [chance.between(2.6, 4.6), chance.between(2.6, 4.6)];
        let floor_m2 = length_m * (depths[0] + depths[1]);
        let loops = self.loops(floor_m2) + widths[0].len() + widths[1].len();
        let hung = match chance.between(0.0, 1.0) {
            share if share < 0.3 && loops < 9 => Hung::End { closet: share < 0.15 },
            share if share > 0.65 && loops > 9 => Hung::Wall(2),
            _ => Hung::Wall(1),
        };
        // From a place on the long wall leaders run to both sides.
        let abreast = match hung {
            Hung::Wall(count) => loops as f64 / (2.0 * count as f64) * 1.3,
            Hung::End { .. } => loops as f64 + 2.0,
        };
        let least_m = (LEADERS_M * abreast.ceil() + 0.1).clamp(0.9, 2.0);
        let width_m = chance.between(least_m, 2.0);
        let skew =
            |chance: &mut Chance| if chance.is(0.3) { chance.between(-0.09, 0.09) } else { 0.0 };
        let north =
            Side { wall_y: width_m + WALL_M, up: 1.0, depth_m: depths[0], skew: skew(chance) };
        let south = Side { wall_y: -WALL_M, up: -1.0, depth_m: depths[1], skew: skew(chance) };
        // Now and then the corridor turns a corner in place of the last room below.
        let turns = south.skew == 0.0 && widths[1].len() > 1 && chance.is(0.25);
        let below = &widths[1][..widths[1].len() - usize::from(turns)];
        let corner_m = if turns { along(below) + WALL_M } else { length_m };
        let mut corners = vec![(0.0, 0.0), (corner_m, 0.0)];
        if turns {
            corners.extend([(corner_m, -south.depth_m), (length_m, -south.depth_m)]);
        }
        corners.extend([(length_m, width_m), (0.0, width_m)]);
        self.room("corridor", corners.iter().map(|(x, y)| Point::new(*x, *y)).collect());
        let manifolds = self.manifolds(chance, hung, loops, length_m, width_m);
        let ports: Vec<[f64; 2]> = manifolds.iter().map(|m| [m.ports[0].x, m.ports[1].x]).collect();
        let mut left = behind;
        for (side, widths, ports) in [(&north, widths[0], &ports[..]), (&south, below, &[])] {
            let mut x = 0.0;
            for width_m in widths {
                self.front_room(chance, side, [x, x + width_m], ports, &mut left);
                x += width_m + WALL_M;
            }
        }
        let plan = Plan {
            rooms: self.rooms,
            doors: self.doors,
            manifolds,
            leader_gap_m: 0.05,
            held: Held::default(),
        };
        if chance.is(0.3) { turned(&plan, chance.between(-0.6, 0.6)) } else { plan }
    }

    /// Loops that much floor takes.
    fn loops(&self, area_m2: f64) -> usize {
        (area_m2 / self.spacing_m / (self.tube.longest_loop_m - 15.0)) as usize
    }

    fn room(&mut self, kind: &str, corners: Vec<Point>) -> usize {
        let number = self.rooms.len();
        let floor = Region::simple(corners).expect("a drawn room is sound");
        self.rooms.push(Room {
            key: format!("{kind} {number}"),
            floor,
            keep_outs: Vec::new(),
            heated: true,
            spacing_m: self.spacing_m,
            wall_clearance_m: 0.1,
            pattern: Pattern::Counterflow,
            outside_walls: Vec::new(),
            tube: self.tube,
            loops: None,
            least_loops: 1,
            manifold: None,
        });
        number
    }

    fn manifolds(
        &mut self,
        chance: &mut Chance,
        hung: Hung,
        loops: usize,
        length_m: f64,
        width_m: f64,
    ) -> Vec<Manifold> {
        let extra_m = chance.one_of(&[0.0, 2.0]);
        let manifold = |number: usize, room: usize, ports: [Point; 2]| Manifold {
            key: format!("manifold {number}"),
            room,
            ports,
            most_loops: 99,
            extra_m,
        };
        let Hung::Wall(count) = hung else {
            let room = if hung == (Hung::End { closet: true }) { self.closet(width_m) } else { 0 };
            let x = if room == 0 { 0.0 } else { -WALL_M - 1.0 };
            let ports = [Point::new(x, 0.1), Point::new(x, width_m - 0.1)];
            return vec![manifold(1, room, ports)];
        };
        let places: &[[f64; 2]] =
            if count == 2 { &[[0.1, 0.3], [0.7, 0.9]] } else { &[[0.25, 0.75]] };
        let stretch_m = (PORT_M * loops as f64 / count as f64 * 1.3 + 0.1).clamp(0.4, 2.0);
        let mut manifolds = Vec::new();
        for [from, to] in places {
            let middle = chance.between(from * length_m, to * length_m);
            let last = (length_m - stretch_m - 0.15).max(0.15);
            let begin = (middle - stretch_m / 2.0).clamp(0.15, last);
            let ports = [Point::new(begin, width_m), Point::new(begin + stretch_m, width_m)];
            manifolds.push(manifold(manifolds.len() + 1, 0, ports));
        }
        manifolds
    }

    /// An unheated closet behind the left end of the corridor, open almost as wide.
    fn closet(&mut self, width_m: f64) -> usize {
        let (left, right) = (-WALL_M - 1.0, -WALL_M);
        let corners = [(left, 0.0), (right, 0.0), (right, width_m), (left, width_m)];
        let number = self.room("closet", corners.map(|(x, y)| Point::new(x, y)).to_vec());
        self.rooms[number].heated = false;
        let at = Point::new(-WALL_M / 2.0, width_m / 2.0);
        let key = format!("door {}", self.doors.len() + 1);
        self.doors.push(Door { key, rooms: [number, 0], at, width_m: (width_m - 0.1).min(1.0) });
        number
    }

    /// A room on the corridor, perhaps with another behind it.
    fn front_room(
        &mut self,
        chance: &mut Chance,
        side: &Side,
        x: [f64; 2],
        ports: &[[f64; 2]],
        behind: &mut usize,
    ) {
        let [left, right] = x;
        let outer = [side.outer_m(left), side.outer_m(right)];
        let front_m = side.depth_m.min(3.2);
        let split = *behind > 0 && chance.is(0.6);
        let mut corners = vec![side.at(left, 0.0), side.at(right, 0.0)];
        if split {
            corners.extend([side.at(right, front_m), side.at(left, front_m)]);
        } else if side.skew == 0.0 && right - left > 3.0 && chance.is(0.25) {
            // A corner of the house left out.
            let (dx, dy) = (chance.between(0.9, 1.4), chance.between(0.8, 1.2));
            let (inner, outer) = (side.depth_m - dy, side.depth_m);
            corners.extend(
                [(right, outer), (left + dx, outer), (left + dx, inner), (left, inner)]
                    .map(|(x, d)| side.at(x, d)),
            );
        } else {
            corners.extend([side.at(right, outer[1]), side.at(left, outer[0])]);
        }
        let number = self.room("room", corners);
        self.furnish(chance, number, side, x, if split { front_m } else { side.depth_m });
        let abreast = self.loops_of(number) + usize::from(split);
        let at = self.door_place(chance, x, ports, abreast);
        self.door(chance, [0, number], at, side.wall_y - side.up * WALL_M / 2.0, abreast);
        if split {
            *behind -= 1;
            self.back_room(chance, side, x, front_m, number);
        }
    }

    fn back_room(
        &mut self,
        chance: &mut Chance,
        side: &Side,
        [left, right]: [f64; 2],
        front_m: f64,
        front: usize,
    ) {
        let begin_m = front_m + WALL_M;
        let end_m = begin_m + chance.between(1.8, 2.8);
        let corners = [(left, begin_m), (right, begin_m), (right, end_m), (left, end_m)];
        let number = self.room("back", corners.map(|(x, d)| side.at(x, d)).to_vec());
        let abreast = self.loops_of(number);
        let at = self.door_place(chance, [left, right], &[], abreast);
        let wall_y = side.at(0.0, front_m + WALL_M / 2.0).y;
        self.door(chance, [front, number], at, wall_y, abreast);
    }

    fn loops_of(&self, room: usize) -> usize {
        self.rooms.get(room).map_or(1, |r| 1 + self.loops(r.floor.area_m2()))
    }

    /// Free stretch of the wall for a door: from and to.
    fn door_place(
        &self,
        chance: &mut Chance,
        [left, right]: [f64; 2],
        ports: &[[f64; 2]],
        abreast: usize,
    ) -> f64 {
        let half = door_width_m(abreast, 0.6) / 2.0 + 0.12;
        let clear = |x: f64| ports.iter().all(|[a, b]| x + half < *a || x - half > *b);
        let tries: Vec<f64> = (0..30).map(|_| chance.between(left + half, right - half)).collect();
        let clear_one = tries.iter().copied().find(|x| clear(*x));
        clear_one.unwrap_or((left + right) / 2.0)
    }

    fn door(&mut self, chance: &mut Chance, rooms: [usize; 2], x: f64, y: f64, abreast: usize) {
        let width_m = door_width_m(abreast, chance.one_of(&[0.6, 0.7, 0.8, 0.9]));
        let key = format!("door {}", self.doors.len() + 1);
        self.doors.push(Door { key, rooms, at: Point::new(x, y), width_m });
    }

    /// Islands in large rooms, fixtures along the outer wall of small ones, closer rows in some.
    fn furnish(
        &mut self,
        chance: &mut Chance,
        number: usize,
        side: &Side,
        [left, right]: [f64; 2],
        depth_m: f64,
    ) {
        let Some(room) = self.rooms.get_mut(number) else { return };
        let width_m = right - left;
        let block = |x: f64, d: f64, w: f64, h: f64| {
            [(x, d), (x + w, d), (x + w, d + h), (x, d + h)].map(|(x, d)| side.at(x, d)).to_vec()
        };
        if width_m > 3.2 && depth_m > 3.2 && chance.is(0.3) {
            let (w, h) = (chance.between(0.5, width_m - 2.4), chance.between(0.4, depth_m - 2.4));
            let x = chance.between(left + 1.2, right - 1.2 - w);
            room.keep_outs.push(block(x, chance.between(1.2, depth_m - 1.2 - h), w, h));
        } else if width_m < 3.0 && side.skew == 0.0 && chance.is(0.4) {
            room.keep_outs.push(block(left, depth_m - 0.75, 1.7_f64.min(width_m - 1.0), 0.75));
            if self.tube.bend_radius_m < 0.1 {
                room.spacing_m = room.spacing_m.min(0.15);
            }
        }
        if chance.is(0.15) {
            room.pattern = chance.one_of(&[Pattern::Auto, Pattern::Serpentine]);
        }
    }
}

/// Wide enough for the leaders that have to pass, a metre at most.
fn door_width_m(abreast: usize, wanted_m: f64) -> f64 {
    wanted_m.max(LEADERS_M * abreast as f64 + 0.1).min(1.0)
}

/// The same storey with every place taken to another.
pub(crate) fn mapped(plan: &Plan, to: impl Fn(Point) -> Point) -> Plan {
    let ring = |ring: &[Point]| ring.iter().map(|p| to(*p)).collect::<Vec<Point>>();
    let mut plan = plan.clone();
    for room in &mut plan.rooms {
        let holes = room.floor.holes().iter().map(|h| ring(h)).collect();
        if let Ok(floor) = Region::new(ring(room.floor.outer()), holes) {
            room.floor = floor;
        }
        room.keep_outs = room.keep_outs.iter().map(|k| ring(k)).collect();
        for wall in &mut room.outside_walls {
            *wall = wall.map(&to);
        }
    }
    for door in &mut plan.doors {
        door.at = to(door.at);
    }
    for manifold in &mut plan.manifolds {
        manifold.ports = manifold.ports.map(&to);
    }
    plan
}

/// The same storey turned about the origin.
pub(crate) fn turned(plan: &Plan, angle_rad: f64) -> Plan {
    let (sin, cos) = angle_rad.sin_cos();
    mapped(plan, |p| p * cos + p.left() * sin)
}
