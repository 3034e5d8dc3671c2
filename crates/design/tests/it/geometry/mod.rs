//! Whole houses: areas by hand, both sides alike, the same house turned and mirrored.

mod ground_line;
mod outside;
mod roofs;
mod rules;
mod same_areas;
mod storeys;

use design::envelope::{Behind, Enclosure, Face};
use design::{HeatLoss, State};
use job::{Faces, Fact, Job, Origin, Outline, Place, Stated};
use plane::Point;
use quantity::Quantity;

/// A house in SI of up to three storeys, 2.5 m high and 2.8 m from floor to floor; rooms are told
/// by the test.
const FRAME: &str = r#"
firstheat = 1
[job]
name = "House of the test"
units = "si"
rules = "eu"
[rule.dimensions]
value = "inside"
why = "the figures by hand are between inside faces"
[outdoors]
design = -10
annual_mean = 8
[house]
air_changes = 0.5
thickest_wall = 300
wall = "wall"
partition = "partition"
ceiling = "ceiling"
floor = "floor"
window = "window"
door = "window"
[heating]
tube = "pe-x-16x2"
fluid = "water"
[storey.lower]
height = 2.5
[storey.upper]
height = 2.5
[storey.top]
height = 2.5
[assembly.wall]
u = 0.3
[assembly.partition]
u = 1.5
[assembly.ceiling]
u = 0.2
[assembly.floor]
layers = ["cement screed 65 mm with tube, cover 45 mm", "EPS 100 mm"]
[assembly.window]
u = 1.2
"#;

/// The job of that frame and those rooms.
fn house(rooms: &str) -> Job {
    let mut job = crate::job(&format!("{FRAME}{rooms}"));
    for storey in &mut job.storeys {
        storey.floor_to_floor = Some(fact(2.8));
    }
    job
}

/// A room that is a box on the plan: west and south edge, length east and north.
fn block(key: &str, storey: &str, [west, south, east, north]: [f64; 4]) -> String {
    format!(
        "[room.{key}]\nstorey = \"{storey}\"\nstart = [{west}, {south}]\noutline = \"E {east}, N \
         {north}, W {east}, S {north}\"\nindoor = 20\nfinish = \"tile\"\n"
    )
}

fn loss(job: &Job) -> HeatLoss {
    design::heat_loss(job, &State::default())
}

fn fact<Q: Quantity>(si: f64) -> Fact<Q> {
    stated_fact(Q::from_si(si))
}

fn stated_fact<T>(value: T) -> Fact<T> {
    Fact { value, origin: Origin::Stated(Place::default()) }
}

fn stated<T>(value: T) -> Stated<T> {
    Stated { value, place: Place::default() }
}

fn words(text: &str) -> Stated<String> {
    stated(text.to_owned())
}

fn outline(corners: &[(f64, f64)]) -> Outline {
    Outline {
        corners: corners.iter().map(|(x, y)| Point::new(*x, *y)).collect(),
        wall_names: vec![None; corners.len()],
        closing: None,
        place: Place::default(),
    }
}

fn room<'a>(loss: &'a HeatLoss, key: &str) -> &'a Enclosure {
    loss.envelope.enclosures.iter().find(|enclosure| enclosure.room == key).unwrap()
}

/// Area of all faces of a room that such a thing holds of, square metres.
fn area(loss: &HeatLoss, key: &str, of: impl Fn(&Face) -> bool) -> f64 {
    room(loss, key).faces.iter().filter(|face| of(face)).map(|face| face.area.si()).sum()
}

/// Area of the faces of that key.
fn keyed(loss: &HeatLoss, key: &str, face: &str) -> f64 {
    area(loss, key, |it| it.key == face)
}

/// Area of a room towards another one.
fn towards(loss: &HeatLoss, key: &str, other: &str) -> f64 {
    area(loss, key, |face| face.behind == Behind::Room(other.to_owned()))
}

/// Area of walls to outdoors.
fn outside_wall(loss: &HeatLoss, key: &str) -> f64 {
    area(loss, key, |face| face.key.starts_with("wall") && face.behind == Behind::Outdoors)
}

fn kinds(loss: &HeatLoss) -> Vec<&'static str> {
    loss.findings.iter().map(|finding| finding.kind).collect()
}

#[track_caller]
fn told(loss: &HeatLoss, kind: &str, words: &str) {
    let found = loss.findings.iter().any(|f| f.kind == kind && f.message.contains(words));
    assert!(found, "no {kind} with `{words}` in {:#?}", loss.findings);
}

/// Every area between two rooms is the same from both sides.
#[track_caller]
fn both_sides_alike(loss: &HeatLoss) {
    for one in &loss.envelope.enclosures {
        for other in &loss.envelope.enclosures {
            let (there, back) =
                (towards(loss, &one.room, &other.room), towards(loss, &other.room, &one.room));
            let pair = format!("{} and {}: {there} and {back}", one.room, other.room);
            assert!((there - back).abs() < 1e-9, "{pair}");
        }
    }
}

fn space(key: &str) -> Faces {
    Faces::Space(key.to_owned())
}
