//! What a run of a case gives, and how long it takes.

use crate::drawing::Drawing;
use std::time::Instant;

/// Each case is laid that often for the time.
const RUNS: usize = 5;

/// The line of a case, and its drawing.
pub(crate) struct Run {
    pub(crate) line: serde_json::Value,
    pub(crate) drawing: Option<Drawing>,
}

/// What came out, and the median time that it took, milliseconds.
pub(crate) struct Timed<T> {
    pub(crate) value: T,
    pub(crate) ms: f64,
}

impl<T> Timed<T> {
    /// Does the same several times over, nothing kept between.
    pub(crate) fn of(work: impl Fn() -> T) -> Timed<T> {
        let once = || {
            let begin = Instant::now();
            let value = work();
            (value, begin.elapsed().as_secs_f64() * 1e3)
        };
        let (value, first) = once();
        let mut times = vec![first];
        times.extend((1..RUNS).map(|_| once().1));
        times.sort_by(f64::total_cmp);
        Timed { value, ms: times[RUNS / 2] }
    }
}
