//! The design against hand calculations, balances, and what it must never do.

mod air;
mod balances;
mod build_ups;
mod coils;
mod constructions;
mod dry_floors;
mod envelope;
mod finish_later;
mod fixtures;
mod floor_parts;
mod floors;
mod geometry;
mod ground;
mod groups;
mod half_basement;
mod helpers;
mod holds;
mod joints;
mod loads;
mod mends;
mod properties;
mod published;
mod robust;
mod rugs;
mod same;
mod stacked;
mod taken;
mod unheated;
mod warmth;
mod wet_floors;
mod whole_houses;

use design::{Design, Memo};
use job::{Finding, Job, Library};

/// The invented example jobs.
pub(crate) const CABIN: &str = include_str!("../../../../jobs/cabin.toml");
pub(crate) const FLAT: &str = include_str!("../../../../jobs/flat.toml");
pub(crate) const TERRACE: &str = include_str!("../../../../jobs/terrace.toml");
pub(crate) const SCHOOLHOUSE: &str = include_str!("../../../../jobs/schoolhouse.toml");

/// A room of 5 × 4 × 2.5 m alone on the ground, SI, with one window.
///
/// Its conventions are those of a hand calculation: inside dimensions, no allowance for bridges.
pub(crate) const ONE_ROOM: &str = r#"
firstheat = 1
[job]
name = "One room"
units = "si"
rules = "eu"
[rule.dimensions]
value = "inside"
why = "sums by hand"
[rule.thermal_bridges]
value = "0 W/m²K"
why = "sums by hand"
[rule.unheated_method]
value = "balance"
why = "sums by hand"
[outdoors]
design = -10
annual_mean = 8
altitude = 0
ground = 2.0
[house]
air_changes = 0.5
wall = "wall"
ceiling = "ceiling"
floor = "floor"
window = "window"
[heating]
tube = "pe-x-16x2"
fluid = "water"
[storey.ground]
height = 2.5
[assembly.wall]
u = 0.3
[assembly.ceiling]
u = 0.2
[assembly.floor]
layers = ["cement screed 65 mm with tube, cover 45 mm", "EPS 100 mm"]
[assembly.window]
u = 1.2
[room.only]
outline = "E 5, N 4, W 5, S 4"
indoor = 20
finish = "tile"
[opening.view]
kind = "window"
room = "only"
wall = "south"
width = 2
height = 1.25
[manifold.m1]
room = "only"
at = [0.1, 2]
"#;

pub(crate) fn read(text: &str) -> (Job, Vec<Finding>) {
    job::read(text, &Library::built_in())
}

/// The job of a text that must read without a finding that stops it.
pub(crate) fn job(text: &str) -> Job {
    let (job, findings) = read(text);
    let stops: Vec<_> =
        findings.iter().filter(|finding| finding.severity == job::Severity::Stop).collect();
    assert!(stops.is_empty(), "{stops:#?}");
    job
}

pub(crate) fn design(text: &str) -> Design {
    design::design(&job(text), &mut Memo::new())
}

/// A text with one stretch replaced, which must be there.
pub(crate) fn with(text: &str, from: &str, to: &str) -> String {
    assert!(text.contains(from), "no `{from}` in the text");
    text.replacen(from, to, 1)
}

#[track_caller]
pub(crate) fn close(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "{got}, expected {expected} ± {tolerance}");
}
