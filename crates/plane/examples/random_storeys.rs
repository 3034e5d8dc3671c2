//! Lays random storeys and tells how well: counts, quantiles, failures by seed.
//!
//! `random_storeys [--as-drawn] [--svg DIR] [COUNT [FIRST SEED]]`, 1,000 from seed 1
//! where nothing is said. Every storey is laid as drawn, turned by quarters,
//! mirrored, shifted and turned by another angle; with `--as-drawn` just once.
//! Storeys with faults are drawn into `DIR`.

#[path = "route_case/drawing.rs"]
mod drawing;
#[path = "../tests/it/houses.rs"]
mod houses;

use std::path::PathBuf;
use std::time::Instant;

use houses::{house, mapped, turned};
use plane::Point;
use plane::storey::{Kept, Layout, Plan, Reason, lay};
use plane::verify::{self, StoreyReport, TightBend};

fn main() {
    let mut arguments = std::env::args().skip(1).peekable();
    let as_drawn = arguments.next_if(|a| a == "--as-drawn").is_some();
    let pictures =
        arguments.next_if(|a| a == "--svg").and_then(|_| arguments.next()).map(PathBuf::from);
    let mut number =
        |otherwise: u64| arguments.next().and_then(|a| a.parse().ok()).unwrap_or(otherwise);
    let (count, first) = (number(1000), number(1));
    let mut tally = Tally { as_drawn, pictures, ..Tally::default() };
    for seed in first..first + count {
        tally.add(seed, &house(seed));
    }
    tally.print();
}

/// A way to take a storey to another place.
type Move = fn(Point) -> Point;

/// What was found so far.
#[derive(Default)]
struct Tally {
    as_drawn: bool,
    pictures: Option<PathBuf>,
    storeys: usize,
    crossings: usize,
    outside: usize,
    tight_bends: usize,
    over_limit: usize,
    refused: usize,
    unlike: usize,
    off_angle: usize,
    covered: Vec<f64>,
    field_ratio: Vec<f64>,
    bulb_gap_m: Vec<f64>,
    leader_gap_m: Vec<f64>,
    wall_ratio: Vec<f64>,
    spread: Vec<f64>,
    misstated_m: Vec<f64>,
    ms: Vec<f64>,
}

impl Tally {
    fn add(&mut self, seed: u64, plan: &Plan) {
        let begin = Instant::now();
        let layout = lay(plan, &mut Kept::default());
        self.ms.push(begin.elapsed().as_secs_f64() * 1e3);
        let report = verify::storey(plan, &layout);
        self.storeys += 1;
        self.note(&report);
        let mut faults = self.hard_faults(&report);
        let refusals: Vec<String> = refusals(plan, &layout);
        self.refused += usize::from(!refusals.is_empty());
        faults.extend(refusals);
        if !self.as_drawn {
            faults.extend(self.compared(plan, &layout));
        }
        if !faults.is_empty() {
            self.draw(seed, plan, &layout, &report);
        }
        for fault in faults {
            println!("seed {seed}: {fault}");
        }
        for bend in &report.tight_bends {
            println!("seed {seed}:   {}", bend_place(plan, &layout, bend));
        }
    }

    fn draw(&self, seed: u64, plan: &Plan, layout: &Layout, report: &StoreyReport) {
        let Some(folder) = &self.pictures else { return };
        let drawing = drawing::storey(&format!("seed {seed}"), plan, layout, report);
        let written = std::fs::create_dir_all(folder).and_then(|()| {
            std::fs::write(folder.join(format!("{seed}.svg")), drawing::file(&drawing))
        });
        if let Err(error) = written {
            eprintln!("{}: {error}", folder.display());
        }
    }

    fn note(&mut self, report: &StoreyReport) {
        let gaps = &report.gaps;
        self.covered.push(report.covered_fraction());
        self.field_ratio.extend(gaps.field.map(|g| g.ratio));
        self.bulb_gap_m.extend(gaps.bulb.map(|g| g.gap_m));
        self.leader_gap_m.extend(gaps.leader.map(|g| g.gap_m));
        let walls = [gaps.field_wall, gaps.leader_wall];
        self.wall_ratio.extend(walls.into_iter().flatten().map(|w| w.ratio).reduce(f64::min));
        self.spread.extend(report.spreads.iter().map(|s| s.1));
        self.misstated_m.extend(report.loops.iter().map(|l| l.misstated_m));
    }

    fn hard_faults(&mut self, report: &StoreyReport) -> Vec<String> {
        let outside_m = report.outside_m + report.kept_out_m;
        let trespass = outside_m > 1e-6 || !report.through_walls.is_empty();
        self.crossings += report.crossings.len();
        self.tight_bends += report.tight_bends.len();
        self.over_limit += report.over_limit();
        self.outside += usize::from(trespass);
        let mut faults = Vec::new();
        let mut tell = |is: bool, what: String| {
            if is {
                faults.push(what)
            }
        };
        for crossing in &report.crossings {
            let ([one, other], at) = (crossing.paths, crossing.at);
            tell(true, format!("loops {one} and {other} cross at {:.2} {:.2}", at.x, at.y));
        }
        tell(!report.tight_bends.is_empty(), format!("{} tight bends", report.tight_bends.len()));
        tell(report.over_limit() > 0, format!("{} loops over the limit", report.over_limit()));
        tell(trespass, format!("{:.3} mm outside", outside_m * 1e3));
        let close = report.gaps.leader.filter(|gap| gap.gap_m < LEAST_GAP_M);
        if let Some(gap) = close {
            let (at, mm) = (gap.at[0], gap.gap_m * 1e3);
            tell(true, format!("leaders {mm:.0} mm apart at {:.2} {:.2}", at.x, at.y));
        }
        for (part, gap) in [("strands", report.gaps.field), ("strands at bulbs", report.gaps.bulb)]
        {
            if let Some(gap) = gap.filter(|gap| gap.gap_m < LEAST_GAP_M) {
                let (at, mm) = (gap.at[0], gap.gap_m * 1e3);
                tell(true, format!("{part} {mm:.0} mm apart at {:.2} {:.2}", at.x, at.y));
            }
        }
        let covered = report.covered_fraction();
        tell(covered < 0.95, format!("{:.1} % covered", covered * 100.0));
        tell(!report.forgotten.is_empty(), format!("rooms {:?} forgotten", report.forgotten));
        faults
    }

    /// The same storey laid turned, mirrored and shifted.
    fn compared(&mut self, plan: &Plan, layout: &Layout) -> Vec<String> {
        // Turns and shifts that floating point does exactly on the micrometre grid.
        let exact: [(&str, Move); 4] = [
            ("turned by a quarter", Point::left),
            ("turned by half", |p| -p),
            ("mirrored", |p| Point::new(-p.x, p.y)),
            ("shifted", |p| p + Point::new(64.0, -32.0)),
        ];
        let mut faults = Vec::new();
        for (how, to) in exact {
            let other = lay(&mapped(plan, to), &mut Kept::default());
            if farthest_m(layout, &other, to) > 2e-6 {
                faults.push(format!("not the same {how}"));
            }
        }
        self.unlike += usize::from(!faults.is_empty());
        let other = lay(&turned(plan, 0.3), &mut Kept::default());
        let off = length_difference(layout, &other);
        if off > 1e-3 {
            self.off_angle += 1;
            faults.push(format!("lengths differ by {:.2} % turned by 0.3 rad", off * 100.0));
        }
        faults
    }

    fn print(&mut self) {
        println!(
            "{} storeys: {} crossings, {} with tube outside, {} tight bends, {} loops over the limit",
            self.storeys, self.crossings, self.outside, self.tight_bends, self.over_limit
        );
        println!(
            "{} refused, {} unlike when turned, mirrored or shifted, {} off at another angle",
            self.refused, self.unlike, self.off_angle
        );
        println!("{:24}{:>9}{:>9}{:>9}{:>9}{:>9}", "", "least", "1 %", "median", "99 %", "most");
        quantiles("covered, %", &mut self.covered, 100.0);
        quantiles("field gap, % of spacing", &mut self.field_ratio, 100.0);
        quantiles("gap at bulbs, mm", &mut self.bulb_gap_m, 1e3);
        quantiles("gap at leaders, mm", &mut self.leader_gap_m, 1e3);
        quantiles("wall clearance, %", &mut self.wall_ratio, 100.0);
        quantiles("spread in a room, %", &mut self.spread, 100.0);
        quantiles("length misstated, mm", &mut self.misstated_m, 1e3);
        quantiles("time, ms", &mut self.ms, 1.0);
    }
}

/// Tube nearer to other tube is told of, metres.
const LEAST_GAP_M: f64 = 0.0499;

/// Tube this far from the ends of a field belongs to the seam with its leader, metres.
const SEAM_M: f64 = 0.4;

/// Loop, place, radius of a tight bend, and which part of the loop it lies in.
fn bend_place(plan: &Plan, layout: &Layout, bend: &TightBend) -> String {
    let Some(tube) = layout.loops.get(bend.loop_number) else { return String::new() };
    let id = drawing::loop_id(plan, tube);
    let along_m = along_m(&tube.path, bend.at);
    let length_m = tube.path.length_m();
    let into_field_m =
        (along_m - tube.supply_leader_m).min(length_m - tube.return_leader_m - along_m);
    let part = match into_field_m {
        d if d < -SEAM_M => "leader",
        d if d < SEAM_M => "seam",
        _ => "field",
    };
    let mm = bend.radius_m * 1e3;
    format!("{part}: {id} at {:.2} {:.2}, {mm:.0} mm", bend.at.x, bend.at.y)
}

/// How far along a path its place nearest to a point lies, metres.
fn along_m(path: &plane::Path, p: Point) -> f64 {
    let steps = (0..(path.length_m() / 0.01) as u32).map(|k| f64::from(k) * 0.01);
    let away = |along: &f64| path.point_at(*along).map_or(f64::INFINITY, |q| q.distance(p));
    steps.min_by(|a, b| away(a).total_cmp(&away(b))).unwrap_or(0.0)
}

/// Each reason once, with the rooms that it concerns.
fn refusals(plan: &Plan, layout: &Layout) -> Vec<String> {
    let mut told: Vec<(String, usize)> = Vec::new();
    for refusal in layout.refusals.iter().filter(|r| r.reason != Reason::HeatedByLeaders) {
        let reason = format!("{:?}", refusal.reason);
        match told.iter_mut().find(|(known, _)| *known == reason) {
            Some((_, rooms)) => *rooms += 1,
            None => told.push((reason, 1)),
        }
    }
    let all = plan.rooms.len();
    told.iter().map(|(reason, rooms)| format!("{rooms} of {all} rooms: {reason}")).collect()
}

/// Farthest that a place of one layout, taken along, is from the same place of the other, metres.
///
/// Loops of a mirrored storey may run the other way.
fn farthest_m(one: &Layout, other: &Layout, to: Move) -> f64 {
    if one.loops.len() != other.loops.len() {
        return f64::INFINITY;
    }
    let mut farthest: f64 = 0.0;
    for (a, b) in one.loops.iter().zip(&other.loops) {
        let ends = |path: &plane::Path| -> Vec<Point> {
            path.start().into_iter().chain(path.segments.iter().map(plane::Segment::to)).collect()
        };
        let (mut here, there) = (ends(&a.path), ends(&b.path));
        if here.len() != there.len() {
            return f64::INFINITY;
        }
        here.iter_mut().for_each(|p| *p = to(*p));
        let apart = |here: &[Point]| {
            here.iter().zip(&there).map(|(p, q)| p.distance(*q)).fold(0.0, f64::max)
        };
        let forward = apart(&here);
        here.reverse();
        farthest = farthest.max(forward.min(apart(&here)));
    }
    farthest
}

/// Largest difference of a loop's length as a share of it.
fn length_difference(one: &Layout, other: &Layout) -> f64 {
    if one.loops.len() != other.loops.len() {
        return f64::INFINITY;
    }
    let pairs = one.loops.iter().zip(&other.loops);
    let lengths = pairs.map(|(a, b)| (a.path.length_m(), b.path.length_m()));
    lengths.map(|(a, b)| (a - b).abs() / a.max(1e-9)).fold(0.0, f64::max)
}

fn quantiles(what: &str, values: &mut [f64], scale: f64) {
    values.sort_by(f64::total_cmp);
    let last = values.len().saturating_sub(1) as f64;
    let at =
        |share: f64| values.get((last * share).round() as usize).map_or(f64::NAN, |v| v * scale);
    let row: String =
        [0.0, 0.01, 0.5, 0.99, 1.0].iter().map(|share| format!("{:9.1}", at(*share))).collect();
    println!("{what:24}{row}");
}
