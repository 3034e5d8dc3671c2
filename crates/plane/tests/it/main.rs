//! Tests of the whole crate through its public face.

mod bays;
mod beside;
mod board_floors;
mod boards;
mod figures;
mod fills;
mod grooved;
mod held;
mod holes;
mod houses;
mod joist_floors;
mod laid;
mod measured;
mod notation;
mod passages;
mod paths;
mod plans;
mod random;
mod relax;
mod rooms;
mod shares;
mod spoiled;
mod storeys;
mod streets;
mod walls;

/// Asserts that two figures agree to an absolute tolerance.
#[track_caller]
fn near(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} ± {tolerance}");
}
