//! Times of the heat loss alone: the example houses, and houses from 25 to 200 rooms.
//!
//! `cargo bench -p firstheat --bench loads`. Prints figures, their ratio to `serde_json` reading a
//! text of the same length in the same run, and the exponent with which the time grows. Asserts
//! nothing: these machines are noisy.

use std::fmt::Write;
use std::hint::black_box;
use std::time::Instant;

use design::{State, heat_loss};
use job::{Job, Library};

const RUNS: usize = 31;

fn main() {
    let library = Library::built_in();
    for name in ["schoolhouse", "terrace"] {
        let path = format!("{}/../../jobs/{name}.toml", env!("CARGO_MANIFEST_DIR"));
        let Ok(text) = std::fs::read_to_string(path) else { continue };
        tell(name, &text, &library);
    }
    let mut points = Vec::new();
    for rooms in [25, 50, 100, 200] {
        let text = house(rooms);
        let seconds = tell(&format!("{rooms} rooms"), &text, &library);
        points.push(((rooms as f64).ln(), seconds.ln()));
    }
    println!("heat loss grows with rooms to the power {:.2}", slope(&points));
}

/// Prints the times of one house; gives that of envelope and loads in seconds.
fn tell(name: &str, text: &str, library: &Library) -> f64 {
    let (job, _): (Job, _) = job::read(text, library);
    let json = format!("[{}]", vec!["1.25"; text.len() / 5].join(","));
    let reference = least(|| serde_json::from_str::<serde_json::Value>(&json).ok());
    let read = least(|| job::read(text, library));
    let loads = least(|| heat_loss(&job, &State::default()));
    let doubt = least(|| design::doubt(&job));
    println!(
        "{name}: text to Job {:.2} ms, envelope and loads {:.2} ms ({:.0} × serde_json on as much \
         text), doubt {:.1} ms",
        1e3 * read,
        1e3 * loads,
        loads / reference,
        1e3 * doubt
    );
    loads
}

/// Least time of several calls, in seconds.
fn least<T>(mut call: impl FnMut() -> T) -> f64 {
    let times = (0..RUNS).map(|_| {
        let begin = Instant::now();
        black_box(call());
        begin.elapsed().as_secs_f64()
    });
    times.fold(f64::INFINITY, f64::min)
}

/// Slope of the line through points, by least squares.
fn slope(points: &[(f64, f64)]) -> f64 {
    let count = points.len() as f64;
    let (x, y) = points.iter().fold((0.0, 0.0), |sum, it| (sum.0 + it.0, sum.1 + it.1));
    let (x, y) = (x / count, y / count);
    let above: f64 = points.iter().map(|it| (it.0 - x) * (it.1 - y)).sum();
    let below: f64 = points.iter().map(|it| (it.0 - x).powi(2)).sum();
    above / below
}

/// A house of so many rooms: a corridor of rooms on either side, three storeys.
fn house(rooms: usize) -> String {
    let mut text = String::from(HEAD);
    let each = rooms.div_ceil(3);
    for number in 0..rooms {
        let (storey, place) = (number / each, number % each);
        let (column, row) = (place / 2, place % 2);
        let (x, y) = (column as f64 * 4.115, row as f64 * 5.115);
        let (key, storey) = (format!("r{number}"), ["low", "middle", "top"][storey.min(2)]);
        let _ = write!(
            text,
            "[room.{key}]\nstorey = \"{storey}\"\nstart = [{x:.3}, {y:.3}]\n\
             outline = \"E 4, N 5, W 4, S 5\"\nindoor = {}\nfinish = \"tile\"\n\
             [opening.w{number}]\nkind = \"window\"\nroom = \"{key}\"\nwall = \"{}\"\n\
             width = 1.5\nheight = 1.2\n",
            [20, 18, 24][number % 3],
            ["south", "north"][row]
        );
    }
    text
}

const HEAD: &str = r#"firstheat = 1
[job]
name = "Rows"
units = "si"
[outdoors]
design = -12
annual_mean = 9
[house]
thickest_wall = 150
wall = "wall"
ceiling = "ceiling"
floor = "floor"
floor_between = "between"
window = "window"
[storey.low]
height = 2.5
floor_to_floor = 2.8
[storey.middle]
height = 2.5
floor_to_floor = 2.8
[storey.top]
height = 2.5
[assembly.wall]
layers = ["plaster 15 mm", "aerated block 365 mm", "render 20 mm"]
[assembly.ceiling]
layers = ["gypsum board 12.5 mm", "mineral wool 240 mm"]
[assembly.floor]
layers = ["cement screed 65 mm with tube", "EPS 100 mm", "reinforced concrete 150 mm"]
[assembly.between]
layers = ["cement screed 65 mm with tube", "EPS 40 mm", "reinforced concrete 150 mm"]
[assembly.window]
u = 1.1
"#;
