//! The floor on the ground as a whole: its size, its edge along outside walls, its depth.

use super::house::House;
use super::patch::{Part, Patch};
use super::stack::Stack;
use super::walls::Wall;
use super::{Behind, Enclosure, Face, FaceKind, GroundFloor};
use crate::figure::{Figure, Given, How};
use job::GroundMethod;
use laws::ground::CHARACTERISTIC_DIMENSION;
use plane::Point;
use quantity::Length;

/// Wall that starts this near the floor stands on its edge, metres.
const AT_FLOOR_M: f64 = 0.01;

/// Size of the whole heated floor on the ground, and each room's edge; none if no heated room
/// stands on it.
///
/// A room without an outline is its own whole; one without heat lies outside what is insulated.
pub(super) fn whole(
    house: &House<'_>,
    stack: &Stack,
    patches: &[Vec<Patch>],
    enclosures: &mut [Enclosure],
) -> Option<GroundFloor> {
    let (mut areas, mut edges) = (Vec::new(), Vec::new());
    let (mut length_m, mut moment_m2) = (0.0, 0.0);
    for (number, enclosure) in enclosures.iter_mut().enumerate() {
        let floors: Vec<_> = enclosure.faces.iter().filter(|face| on_ground(face)).collect();
        if enclosure.floor.is_none() || floors.is_empty() {
            continue;
        }
        let counts = !enclosure.unheated;
        areas.extend(floors.iter().filter(|_| counts).map(|face| face.area.clone()));
        let mut own = Vec::new();
        for patch in &patches[number] {
            let Some(wall) = exposed(house, number, patch) else { continue };
            let on_edge_m = patch.length_m * on_ground_share(stack, number, wall, patch);
            if on_edge_m <= 0.0 {
                continue;
            }
            let name = format!("outside wall {}", wall.called());
            own.push(Figure::taken_off(name, on_edge_m, "inside face of the wall"));
            if counts {
                length_m += on_edge_m;
                moment_m2 += on_edge_m * depth_m(patch);
            }
        }
        let edge = Figure::sum("exposed edge", &own);
        edges.extend(counts.then(|| edge.clone()));
        enclosure.exposed_edge = Some(edge);
    }
    if areas.is_empty() {
        return None;
    }
    let area = Figure::sum("floor on the ground", &areas);
    let exposed_edge = Figure::sum("exposed edge of the floor on the ground", &edges);
    let dimension = Figure::by_law(
        "characteristic dimension of the floor",
        &CHARACTERISTIC_DIMENSION,
        &[Given::from(&area), Given::from(&exposed_edge)],
    );
    let depth = (moment_m2 > 0.0).then(|| {
        let how = How::TakenOff("ground line, as a mean along the exposed edge".to_owned());
        Figure::<Length>::new("depth of the floor below the ground", moment_m2 / length_m, how)
    });
    Some(GroundFloor { area, exposed_edge, dimension: dimension.ok(), depth })
}

/// Gives floors in the ground their mean depth.
pub(super) fn deepen(whole: Option<&GroundFloor>, enclosure: &mut Enclosure) {
    let Some(depth) = whole.and_then(|whole| whole.depth.as_ref()) else { return };
    if enclosure.floor.is_some() {
        let floors = enclosure.faces.iter_mut().filter(|face| on_ground(face));
        floors.for_each(|face| face.depth = Some(depth.clone()));
    }
}

fn on_ground(face: &Face) -> bool {
    face.kind == FaceKind::Floor && face.behind == Behind::Ground
}

fn depth_m(patch: &Patch) -> f64 {
    let in_ground = patch.depth_m.filter(|_| patch.behind == Behind::Ground);
    in_ground.map_or(0.0, |[start, end]| (start + end) / 2.0)
}

/// The wall, if a piece of it stands on an exposed edge of its room's floor: towards outdoors or
/// the ground; by ISO 13370 also towards what nobody heats, while a factor of the edge is one to
/// outdoors (both from memory).
fn exposed<'a>(house: &'a House<'_>, number: usize, patch: &Patch) -> Option<&'a Wall> {
    let (Part::Wall(wall), Some(shape)) = (patch.part, patch.shape) else { return None };
    let low_m = shape.low_m[0].max(shape.low_m[1]);
    let iso = house.job.rules.ground_method.value == GroundMethod::Iso13370;
    let cold = match &patch.behind {
        Behind::Outdoors | Behind::Ground => true,
        Behind::Space(_) => iso,
        Behind::Heated | Behind::NextHouse => false,
        Behind::Room(key) if iso => {
            let heated = !house.room(number).unheated.value;
            heated && house.number(key).is_some_and(|other| house.room(other).unheated.value)
        }
        Behind::Room(_) => false,
    };
    let stands = cold && low_m <= house.level_m[number] + AT_FLOOR_M;
    house.walls[number].get(wall).filter(|_| stands)
}

/// The share of a piece of wall along which its room's floor lies on no other room.
fn on_ground_share(stack: &Stack, number: usize, wall: &Wall, patch: &Patch) -> f64 {
    let bare = &stack.bare[number];
    let Some(shape) = patch.shape.filter(|_| !bare.free[1]) else { return 1.0 };
    let along = (wall.to - wall.from).unit();
    let on_wall = |edge: &(Point, Point)| {
        let off = |p: Point| wall.outward().dot(p - wall.from).abs();
        off(edge.0) < AT_FLOOR_M && off(edge.1) < AT_FLOOR_M
    };
    let covered_m: f64 = bare
        .below
        .iter()
        .flat_map(|region| region.edges())
        .filter(on_wall)
        .map(|(from, to)| {
            let [from, to] = [from, to].map(|p| along.dot(p - wall.from));
            (to.min(shape.span_m[1]) - from.max(shape.span_m[0])).max(0.0)
        })
        .sum();
    (covered_m / shape.width_m()).min(1.0)
}
