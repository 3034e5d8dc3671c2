//! Time that bends take for one loop, and for the leaders of a storey, printed as figures.

use std::hint::black_box;

use plane::fill::{self, FillSpec};
use plane::relax::{Fence, Strand, Wishes, relaxed};
use plane::{Path, Point};

#[path = "../tests/it/plans.rs"]
mod plans;

fn main() {
    println!("{:<22} {:>8} {:>6} {:>6} {:>8}", "tube", "m", "tight", "left", "ms");
    for (radius_m, spacing_m) in [(0.08, 0.15), (0.08, 0.1), (0.127, 0.152), (0.127, 0.229)] {
        for plan in plans::all().into_iter().chain(plans::cabin()) {
            let spec = FillSpec { spacing_m, bend_radius_m: radius_m, ..plan.spec() };
            let Ok(fill) = fill::counterflow(&plan.region, plan.entry, &spec) else { continue };
            let strands = [Strand { path: fill.path, spacing_m }];
            let ground = [plan.region.clone()];
            let fence = Fence { ground: &ground, clearance_m: 0.05, wanted_m: 0.33 * spacing_m };
            let wishes = Wishes { radius_m, least_gap_m: 0.05, field_gap: 0.67 };
            let name = format!("{} {radius_m} {spacing_m}", plan.name);
            row(&name, &strands, &[fence], &wishes);
        }
    }
    let wishes = Wishes { radius_m: 0.105, least_gap_m: 0.09, field_gap: 0.98 };
    row("eight leaders", &leaders(8), &[], &wishes);
}

fn row(name: &str, strands: &[Strand], fences: &[Fence<'_>], wishes: &Wishes) {
    let begin = clock_s();
    for _ in 0..RUNS {
        black_box(relaxed(strands, fences, wishes));
    }
    let mean_ms = 1e3 * (clock_s() - begin) / f64::from(RUNS);
    let out = relaxed(strands, fences, wishes);
    let tight = |path: &Path| path.bends().iter().filter(|b| b.radius_m < wishes.radius_m).count();
    let before: usize = strands.iter().map(|s| tight(&s.path)).sum();
    let length: f64 = out.paths.iter().map(Path::length_m).sum();
    println!("{name:<22} {length:>8.1} {before:>6} {:>6} {:>8.2}", out.tight, mean_ms);
}

/// The system counts in ticks of some milliseconds, so a mean of many runs is taken.
const RUNS: u32 = 20;

/// Processor time of this thread in seconds, where the system tells it.
fn clock_s() -> f64 {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    let nanoseconds = told.split(' ').next().and_then(|n| n.parse::<f64>().ok());
    nanoseconds.map_or(0.0, |n| n * 1e-9)
}

/// Leaders side by side that jog and turn corners together.
fn leaders(count: usize) -> Vec<Strand> {
    let leader = |k: usize| {
        let d = 0.1 * k as f64;
        let corners =
            [(0.0, d), (2.0 - d, d), (2.0 - d, 0.15 + d), (5.0 - d, 0.15 + d), (5.0 - d, 4.0)];
        let corners = corners.map(|(x, y)| Point::new(x, y));
        Strand { path: Path::rounded(&corners, 0.105), spacing_m: 0.1 }
    };
    (0..count).map(leader).collect()
}
