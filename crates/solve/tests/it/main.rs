//! Tests of the whole crate through its public face.

// The example reads tables of floors; the tests read theirs with it.
#[path = "../../examples/section_case/case.rs"]
mod case;
#[path = "../../examples/section_case/table.rs"]
mod table;

mod cavities;
mod closed_forms;
mod floors;
mod joists;
mod laws;
mod marches;
mod published;
mod random;
mod refusals;
mod responses;

/// Asserts that two figures agree to an absolute tolerance.
#[track_caller]
fn near(got: f64, expected: f64, tolerance: f64) {
    assert!((got - expected).abs() <= tolerance, "got {got}, expected {expected} ± {tolerance}");
}
