//! Tests of the whole crate through its public face.

mod bays;
mod board_floors;
mod boards;
mod figures;
mod holes;
mod joist_floors;
mod laid;
mod measured;
mod paths;
mod plans;
mod random;
mod relax;
mod rooms;
mod shares;
mod spoiled;
mod walls;
mod ways;

/// Asserts that two figures agree to an absolute tolerance.
#[track_caller]
fn near(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} ± {tolerance}");
}
