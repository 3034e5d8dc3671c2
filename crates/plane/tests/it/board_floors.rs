//! Floors for grooved boards that the tests and the drawing program share. All are invented.

use plane::boards::{Board, Floor};
use plane::{Point, Region};

/// A floor with boards 600 mm by 1200 mm and leader boards of eight grooves 50 mm apart.
pub(crate) fn floor(corners: &[[f64; 2]], door: [[f64; 2]; 2], pitch_m: f64) -> Floor {
    let point = |c: &[f64; 2]| Point::new(c[0], c[1]);
    Floor {
        room: Region::simple(corners.iter().map(point).collect()).expect("a room"),
        keep_outs: Vec::new(),
        door: [point(&door[0]), point(&door[1])],
        wall_clearance_m: 0.1,
        board: Board {
            pitch_m,
            width_m: if pitch_m > 0.2 { 0.75 } else { 0.6 },
            length_m: 1.2,
            turns: 2,
            leader_pitch_m: 0.05,
            leader_grooves: 8,
        },
        // 14 mm tube bends to five diameters, 70 mm.
        bend_radius_m: 0.07,
        longest_loop_m: 80.0,
        outside_m: 8.0,
    }
}

/// A rectangle with the door near a corner of the short wall.
pub(crate) fn rectangle(pitch_m: f64) -> Floor {
    let corners = [[0.0, 0.0], [5.3, 0.0], [5.3, 3.9], [0.0, 3.9]];
    floor(&corners, [[0.0, 0.3], [0.0, 1.2]], pitch_m)
}

/// An L with the door in its notch.
pub(crate) fn l_room(pitch_m: f64) -> Floor {
    let corners = [[0.0, 0.0], [6.4, 0.0], [6.4, 2.7], [3.5, 2.7], [3.5, 5.6], [0.0, 5.6]];
    floor(&corners, [[3.5, 3.6], [3.5, 4.6]], pitch_m)
}

/// One wall askew by 14 degrees, a chimney breast in the long wall.
pub(crate) fn skew_wall(pitch_m: f64) -> Floor {
    let corners = [
        [0.0, 0.0],
        [2.4, 0.0],
        [2.4, 0.5],
        [3.9, 0.5],
        [3.9, 0.0],
        [6.1, 0.0],
        [6.1, 3.1],
        [0.0, 4.6],
    ];
    floor(&corners, [[6.1, 0.5], [6.1, 1.4]], pitch_m)
}

/// A large room with a narrow door.
pub(crate) fn narrow_door(pitch_m: f64) -> Floor {
    let corners = [[0.0, 0.0], [9.2, 0.0], [9.2, 6.1], [0.0, 6.1]];
    let mut floor = floor(&corners, [[4.0, 0.0], [4.55, 0.0]], pitch_m);
    floor.longest_loop_m = 75.0;
    floor
}

/// A room with a column and a cut corner.
pub(crate) fn column(pitch_m: f64) -> Floor {
    let corners = [[0.0, 0.0], [5.6, 0.0], [5.6, 2.6], [4.4, 4.2], [0.0, 4.2]];
    let mut floor = floor(&corners, [[0.0, 1.6], [0.0, 2.5]], pitch_m);
    let at = |x: f64, y: f64| Point::new(x, y);
    floor.keep_outs = vec![vec![at(2.6, 1.7), at(3.0, 1.7), at(3.0, 2.1), at(2.6, 2.1)]];
    floor
}

/// All floors that can be laid, by name.
pub(crate) fn all() -> Vec<(&'static str, Floor)> {
    vec![
        ("rectangle at 150", rectangle(0.15)),
        ("rectangle at 200", rectangle(0.2)),
        ("rectangle at 250", rectangle(0.25)),
        ("L at 150", l_room(0.15)),
        ("L at 200", l_room(0.2)),
        ("askew at 150", skew_wall(0.15)),
        ("askew at 200", skew_wall(0.2)),
        ("narrow door at 200", narrow_door(0.2)),
        ("column at 150", column(0.15)),
    ]
}
