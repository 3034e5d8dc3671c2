//! Time of the march and the picture of all floors at 25 mm, and how far the march is from the
//! balance loop by loop.
//!
//! `cargo bench -p design --bench warmth`. Prints figures and asserts nothing: these machines are
//! noisy. Times are the least of several runs in this process; one core.

use std::hint::black_box;
use std::time::Instant;

use design::warmth::{Warmth, half_load, ready};
use design::{Memo, State};
use job::Library;

fn main() {
    let library = Library::built_in();
    for name in ["cabin", "flat", "terrace", "schoolhouse"] {
        let path = format!("{}/../../jobs/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        let Ok(text) = std::fs::read_to_string(path) else { continue };
        let (job, _) = job::read(&text, &library);
        let mut memo = Memo::new();
        let day = design::design(&job, &mut memo);
        for (load, state) in [("full", Some(State::default())), ("half", half_load(&job))] {
            let Some(state) = state else { continue };
            let begin = Instant::now();
            let Some(ready) = ready(&job, &day, &state, &mut memo) else { continue };
            let ready_ms = 1e3 * begin.elapsed().as_secs_f64();
            let warmth = ready.march();
            tell(&warmth, &format!("{name} at {load} load"));
            let ms = 1e3 * least(9, || ready.march());
            let cells = warmth.storeys.iter().map(|it| it.surface_k.iter().flatten().count());
            let area_m2 = cells.sum::<usize>() as f64 * 0.025 * 0.025;
            println!(
                "  made ready in {ready_ms:.0} ms; march and picture {ms:.1} ms for {area_m2:.0} m², \
                 {:.1} ms for each 100 m²",
                ms / area_m2 * 100.0
            );
        }
    }
}

fn tell(warmth: &Warmth, what: &str) {
    println!(
        "{what}, {:.1} °C outdoors, unbalanced {:.1e}",
        c(warmth.outdoor.si()),
        warmth.unbalanced
    );
    for own in &warmth.loops {
        println!(
            "  {:<18} {:>5.1} to {:>5.1} °C (balance {:>5.1}), {:>6.0} W (balance {:>6.0}), {:>+5.1} %",
            own.key,
            c(own.supply.si()),
            c(own.back.si()),
            c(own.balanced_back.si()),
            own.heat.si(),
            own.balanced_heat.si(),
            100.0 * own.difference.si()
        );
    }
    for room in &warmth.rooms {
        println!(
            "  {:<18} {:>5.1} to {:>5.1} °C, mean {:>5.1}, swing {:>4.1} K, over {:>5.2} m² of {:>5.2}, {:>6.0} W \
             (balance {:>6.0})",
            room.room,
            c(room.coolest.surface.si()),
            c(room.hottest.surface.si()),
            c(room.mean.si()),
            room.swing.as_ref().map_or(f64::NAN, |swing| swing.si()),
            room.over.si(),
            room.known.si(),
            room.heat.si(),
            room.balanced.as_ref().map_or(f64::NAN, |balanced| balanced.si())
        );
    }
}

fn c(kelvin: f64) -> f64 {
    kelvin - 273.15
}

/// Least time of a call in seconds of this thread, where the system tells, else of the clock.
fn least<T>(runs: usize, mut call: impl FnMut() -> T) -> f64 {
    let times = (0..runs).map(|_| {
        let (begin, ran) = (Instant::now(), on_processor());
        black_box(call());
        let elapsed = begin.elapsed().as_secs_f64();
        ran.zip(on_processor()).map_or(elapsed, |(from, to)| to - from)
    });
    times.fold(f64::INFINITY, f64::min)
}

/// Seconds that this thread has run, on Linux.
fn on_processor() -> Option<f64> {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    told.split_whitespace().next()?.parse::<f64>().ok().map(|ns| 1e-9 * ns)
}
