//! Floors on joists that the tests and the drawing program share. All are invented.

use plane::bays::{
    Block, BlockKind, Drilling, Floor, HoleLimits, JoistKind, Joists, Manifold, Plate, Room, Tube,
};
use plane::{Point, Region};

/// Holes in sawn joists by IRC R502.8.1: a third of the depth, 2 in from edges and other holes.
pub(crate) const IRC: HoleLimits = HoleLimits {
    diameter_per_depth: 1.0 / 3.0,
    diameter_most_m: None,
    edge_m: 0.0508,
    mid_depth: false,
    apart_m: 0.0508,
    apart_diameters: 0.0,
    span_shares: None,
    depth_most_m: None,
};

/// Holes by British practice: a quarter of the depth, 65 mm at most, at mid depth, between 0.25 and
/// 0.4 of the span, three diameters apart.
pub(crate) const BRITISH: HoleLimits = HoleLimits {
    diameter_per_depth: 0.25,
    diameter_most_m: Some(0.065),
    edge_m: 0.0,
    mid_depth: true,
    apart_m: 0.0,
    apart_diameters: 3.0,
    span_shares: Some([0.25, 0.4]),
    depth_most_m: None,
};

/// A floor with joists along y, plates 0.6 m long, 16 mm tube and loops of 90 m at most.
pub(crate) fn floor(x0: f64, depth_m: f64, bearings_m: [f64; 2], lanes_m: [f64; 2]) -> Floor {
    Floor {
        joists: Joists {
            kind: JoistKind::Sawn,
            along: Point::new(0.0, 1.0),
            on: Point::new(x0, 0.0),
            pitch_m: 0.4064,
            width_m: 0.038,
            depth_m,
            bearings_m,
        },
        rooms: Vec::new(),
        blocks: Vec::new(),
        manifold: Manifold { at: Point::default(), rise_m: 1.0 },
        plate: Plate { strands_m: 0.203, length_m: 0.6, joint_m: 0.01, shortest_m: 0.15 },
        tube: Tube { outside_m: 0.016, bend_radius_m: 0.08, longest_loop_m: 90.0 },
        drilling: Drilling { hole_m: 0.025, lanes_m, limits: IRC },
        under_joists: true,
    }
}

fn room(floor: &mut Floor, key: &str, a: [f64; 2], b: [f64; 2]) {
    let corner = |p: [f64; 2]| Point::new(p[0], p[1]);
    let outline = Region::rectangle(corner(a), corner(b)).expect("a rectangle");
    floor.rooms.push(Room { key: key.to_owned(), floor: outline, loop_aim_m: f64::INFINITY });
}

fn block(floor: &mut Floor, kind: BlockKind, a: [f64; 2], b: [f64; 2]) {
    let corner = |x: f64, y: f64| Point::new(x, y);
    let outline =
        vec![corner(a[0], a[1]), corner(b[0], a[1]), corner(b[0], b[1]), corner(a[0], b[1])];
    floor.blocks.push(Block { outline, kind });
}

fn manifold(floor: &mut Floor, x: f64, y: f64, rise_m: f64) {
    floor.manifold = Manifold { at: Point::new(x, y), rise_m };
}

/// One room with a duct filling a bay, a waste pipe, and a junction box where no plate fits.
pub(crate) fn one_room() -> Floor {
    let mut f = floor(0.1, 0.235, [0.05, 4.55], [0.15, 0.75]);
    room(&mut f, "living", [0.1, 0.1], [6.9, 4.5]);
    block(&mut f, BlockKind::Full, [4.65, 0.05], [4.95, 4.55]);
    block(&mut f, BlockKind::Full, [1.4, 2.9], [1.75, 3.6]);
    block(&mut f, BlockKind::Plate, [3.7, 2.0], [4.1, 2.5]);
    manifold(&mut f, 2.4, 0.6, 1.2);
    f
}

/// Joists with room for one level of holes, two rooms with a hall between.
pub(crate) fn shallow() -> Floor {
    let mut f = floor(0.0, 0.14, [0.0, 3.7], [0.15, 0.9]);
    room(&mut f, "bed", [0.1, 0.1], [4.0, 3.6]);
    room(&mut f, "bath", [5.3, 0.1], [8.0, 3.6]);
    block(&mut f, BlockKind::Full, [6.3, 2.0], [6.9, 3.6]);
    manifold(&mut f, 4.6, 1.8, 0.6);
    f
}

/// Two rooms on each side of a middle wall, each reached from its own bearing.
pub(crate) fn four_rooms() -> Floor {
    let mut f = floor(0.2, 0.286, [0.0, 6.4], [0.2, 0.9]);
    room(&mut f, "kitchen", [0.1, 0.1], [5.0, 3.1]);
    room(&mut f, "dining", [5.1, 0.1], [10.2, 3.1]);
    room(&mut f, "bed", [0.1, 3.2], [4.2, 6.3]);
    room(&mut f, "study", [6.4, 3.2], [10.2, 6.3]);
    block(&mut f, BlockKind::Plate, [1.0, 2.3], [1.5, 3.1]);
    block(&mut f, BlockKind::Full, [8.8, 4.4], [9.3, 5.2]);
    manifold(&mut f, 5.2, 3.3, 1.4);
    f
}

/// An 11 m room with a duct across the lanes of one bearing.
pub(crate) fn big_room() -> Floor {
    let mut f = floor(0.1, 0.286, [0.0, 5.2], [0.15, 0.9]);
    room(&mut f, "hall", [0.1, 0.1], [11.2, 5.1]);
    block(&mut f, BlockKind::Full, [7.3, 0.0], [7.6, 1.2]);
    manifold(&mut f, 5.6, 2.6, 1.0);
    f
}

/// Joists too shallow for the hole.
pub(crate) fn too_shallow() -> Floor {
    let mut f = floor(0.0, 0.12, [0.0, 3.2], [0.15, 0.9]);
    f.drilling.hole_m = 0.042;
    room(&mut f, "box", [0.1, 0.1], [4.0, 3.1]);
    manifold(&mut f, 2.0, 0.5, 0.6);
    f
}

/// A 16.5 m room with several loops on each side of the leader bay.
pub(crate) fn long_row() -> Floor {
    let mut f = floor(0.1, 0.286, [0.0, 5.0], [0.15, 0.9]);
    room(&mut f, "shop", [0.1, 0.1], [16.6, 4.9]);
    manifold(&mut f, 8.1, 1.9, 1.0);
    f
}

/// Half-inch tube bent to 5 in in bays 14.5 in clear: every half turn needs a bulb.
pub(crate) fn half_inch() -> Floor {
    let mut f = floor(0.1, 0.235, [0.0, 4.5], [0.2, 0.9]);
    room(&mut f, "den", [0.1, 0.1], [5.2, 4.4]);
    manifold(&mut f, 2.6, 2.2, 1.0);
    f.tube = Tube { outside_m: 0.0159, bend_radius_m: 0.127, longest_loop_m: 91.44 };
    f
}

/// Joists askew by 18 degrees and 600 mm apart.
pub(crate) fn askew() -> Floor {
    let mut f = one_room();
    f.blocks.clear();
    f.joists.along = Point::new(18_f64.to_radians().sin(), 18_f64.to_radians().cos());
    f.joists.on = Point::new(0.0, 0.0);
    f.joists.pitch_m = 0.6;
    f.joists.bearings_m = [-0.4, 5.4];
    f.plate.strands_m = 0.3;
    manifold(&mut f, 3.2, 2.0, 1.0);
    f
}

/// A room drilled by British practice: one level of holes, far from the bearings.
pub(crate) fn british() -> Floor {
    let mut f = half_inch();
    f.tube = one_room().tube;
    f.drilling.limits = BRITISH;
    f.drilling.lanes_m = [0.15, 4.0];
    f
}

/// All floors that can be laid, by name.
pub(crate) fn all() -> Vec<(&'static str, Floor)> {
    vec![
        ("one room", one_room()),
        ("shallow joists", shallow()),
        ("four rooms", four_rooms()),
        ("big room", big_room()),
        ("long row", long_row()),
        ("half inch", half_inch()),
        ("askew", askew()),
        ("british", british()),
    ]
}
