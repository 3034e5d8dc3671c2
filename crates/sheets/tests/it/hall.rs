//! A storey laid by hand: a hall with two manifolds, rooms behind doorways, twelve ports in a row.

use crate::fixture::{self, HandLaid};
use design::Design;
use job::{Job, Library};
use plane::Point;
use sheets::Papers;

/// Metric; the hall runs west to east, rooms lie north of it, doors in between.
pub(crate) const TEXT: &str = r#"
firstheat = 1
[job]
name = "House by the mill"
units = "si"
rules = "eu"
[outdoors]
design = -12
[heating]
tube = "pe-x-16x2"
[house]
thickest_wall = "12 cm"
[storey.ground]
height = "2.5 m"
[room.hall]
storey = "ground"
outline = [["0 m", "0 m"], ["9 m", "0 m"], ["9 m", "2.4 m"], ["0 m", "2.4 m"]]
[room.kitchen]
storey = "ground"
outline = [["0 m", "2.5 m"], ["4.4 m", "2.5 m"], ["4.4 m", "6.5 m"], ["0 m", "6.5 m"]]
[room.living]
storey = "ground"
outline = [["4.5 m", "2.5 m"], ["9 m", "2.5 m"], ["9 m", "6.5 m"], ["4.5 m", "6.5 m"]]
[opening.kitchen_door]
kind = "door"
at = ["1.5 m", "2.45 m"]
width = "0.9 m"
height = "2 m"
[opening.living_door]
kind = "door"
at = ["7.5 m", "2.45 m"]
width = "0.9 m"
height = "2 m"
[keep_out.stove]
room = "kitchen"
outline = [["3 m", "5.3 m"], ["3.8 m", "5.3 m"], ["3.8 m", "6.0 m"], ["3 m", "6.0 m"]]
[manifold.m1]
room = "hall"
at = ["1.5 m", "0 m"]
[manifold.m2]
room = "hall"
at = ["6.2 m", "0 m"]
"#;

/// The same in feet and inches first.
pub(crate) fn in_feet() -> String {
    TEXT.replace("units = \"si\"", "units = \"us\"")
}

pub(crate) fn designed(text: &str) -> (Job, Design) {
    let (job, _) = job::read(text, &Library::built_in());
    let mut loops = vec![
        behind("kitchen", "m1", 1.45, [0.1, 4.3], [2.6, 6.4]),
        behind("living", "m2", 7.45, [4.6, 8.9], [2.6, 6.4]),
    ];
    // Twelve ports 100 mm apart, each with a hairpin into the hall.
    loops.extend((0..12).map(|number| hairpin(4.9 + 0.1 * f64::from(number))));
    let design = fixture::laid(&job, &loops);
    (job, design)
}

/// From two ports at the south wall through a door straight north, and twice around the room.
fn behind(
    room: &'static str,
    manifold: &'static str,
    x: f64,
    [west, east]: [f64; 2],
    [south, north]: [f64; 2],
) -> HandLaid {
    let ring = |off: f64| {
        [
            Point::new(x + off, south + off),
            Point::new(east - off, south + off),
            Point::new(east - off, north - off),
            Point::new(west + off, north - off),
            Point::new(west + off, south + off),
        ]
    };
    let mut corners = vec![Point::new(x + 0.05, 0.0)];
    corners.extend(ring(0.05).map(|at| at + Point::new(0.0, 0.0)));
    corners.push(Point::new(x - 0.05, south + 0.05));
    corners.push(Point::new(x - 0.05, 0.0));
    let leader = south - 0.05;
    HandLaid { room, manifold, corners, leaders_m: [leader, leader] }
}

fn hairpin(x: f64) -> HandLaid {
    let corners = [(x, 0.0), (x, 1.2), (x + 0.05, 1.2), (x + 0.05, 0.0)];
    let corners = corners.map(|(x, y)| Point::new(x, y)).to_vec();
    HandLaid { room: "hall", manifold: "m2", corners, leaders_m: [0.0, 0.0] }
}

pub(crate) fn papers(text: &str) -> (Job, Design, Papers) {
    let (job, design) = designed(text);
    let papers = Papers::of(&job, &design, None, &[], text);
    (job, design, papers)
}
