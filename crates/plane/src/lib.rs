//! Flat geometry that knows no heat.

mod point;

pub use point::Point;
