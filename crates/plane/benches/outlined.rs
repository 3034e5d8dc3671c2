//! Time of a storey in outline beside that of its layout, printed as figures.
//!
//! Random storeys of the tests, each the least of several runs in this very process.

use std::hint::black_box;
use std::time::Instant;

use plane::storey::{Kept, lay, outlined};

#[path = "../tests/it/houses.rs"]
mod houses;

fn main() {
    println!("{:<6} {:>6} {:>12} {:>10}", "seed", "loops", "outline ms", "layout ms");
    let mut all = Vec::new();
    for seed in 1..=20 {
        let plan = houses::house(seed);
        let outline_ms = 1e3 * least(5, || outlined(&plan));
        let layout_ms = 1e3 * least(1, || lay(&plan, &mut Kept::new()));
        let loops = outlined(&plan).len();
        println!("{seed:<6} {loops:>6} {outline_ms:>12.1} {layout_ms:>10.1}");
        all.push(outline_ms);
    }
    all.sort_by(f64::total_cmp);
    println!("median {:.1} ms, most {:.1} ms", all[all.len() / 2], all[all.len() - 1]);
}

fn least<T>(runs: usize, f: impl Fn() -> T) -> f64 {
    let once = || {
        let begin = Instant::now();
        black_box(f());
        begin.elapsed().as_secs_f64()
    };
    (0..runs).map(|_| once()).fold(f64::INFINITY, f64::min)
}
