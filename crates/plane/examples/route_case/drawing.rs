//! A storey as a tube layer would look at it.

use std::fmt::Write;

use plane::storey::{Layout, Loop, Plan};
use plane::verify::StoreyReport;
use plane::{Path, Point, Segment};

/// Pixels to the metre.
const SCALE: f64 = 80.0;

/// Margin around the floor, pixels.
const MARGIN: f64 = 16.0;

/// Height of the lines of text above a drawing, pixels.
const HEAD: f64 = 40.0;

/// Colours of loops, in turn.
pub(crate) const COLOURS: [&str; 10] = [
    "#c0392b", "#2062a8", "#1e8449", "#8e44ad", "#b9770e", "#117a8b", "#a0306a", "#5d6d1e",
    "#5b4db5", "#7a4a2b",
];

/// A drawing with its size in pixels.
pub(crate) struct Drawing {
    pub(crate) svg: String,
    pub(crate) width: f64,
    pub(crate) height: f64,
}

/// A whole SVG file of one drawing.
pub(crate) fn file(drawing: &Drawing) -> String {
    format!(
        "<svg xmlns='http://www.w3.org/2000/svg' width='{:.0}' height='{:.0}' \
         font-family='sans-serif' font-size='12'><rect width='100%' height='100%' fill='#fff'/>{}</svg>",
        drawing.width, drawing.height, drawing.svg
    )
}

/// One storey: floor, tube, faults.
pub(crate) fn storey(name: &str, plan: &Plan, layout: &Layout, report: &StoreyReport) -> Drawing {
    let (low, high) = extent(plan);
    let at = |p: Point| [(p.x - low.x) * SCALE + MARGIN, (high.y - p.y) * SCALE + MARGIN + HEAD];
    let pen = Pen { at: &at, layout };
    let mut svg = String::new();
    let _ = write!(svg, "<text x='{MARGIN}' y='16' font-weight='bold'>{name}</text>");
    let _ = write!(svg, "<text x='{MARGIN}' y='32' fill='#444'>{}</text>", summary(layout, report));
    pen.floor(&mut svg, plan);
    for (number, tube) in layout.loops.iter().enumerate() {
        pen.tube(&mut svg, tube, COLOURS[number % COLOURS.len()]);
    }
    pen.openings(&mut svg, plan);
    pen.labels(&mut svg, plan);
    pen.faults(&mut svg, report);
    let width = ((high.x - low.x) * SCALE + 2.0 * MARGIN).max(420.0);
    Drawing { svg, width, height: (high.y - low.y) * SCALE + 2.0 * MARGIN + HEAD }
}

fn summary(layout: &Layout, report: &StoreyReport) -> String {
    let lengths = report.loops.iter().map(|l| l.length_m);
    let (shortest, longest) =
        lengths.fold((f64::INFINITY, 0.0), |(a, b), l| (f64::min(a, l), f64::max(b, l)));
    let mut words = match report.loops.len() {
        0 => "no loops".to_string(),
        n => format!("{n} loops, {shortest:.0}–{longest:.0} m"),
    };
    let _ = write!(words, ", {:.1} % covered", report.covered_fraction() * 100.0);
    let gap =
        |g: Option<plane::verify::Gap>| g.map_or("–".into(), |g| format!("{:.0}", g.gap_m * 1e3));
    let gaps = &report.gaps;
    let _ = write!(words, ", gaps {}/{}/{} mm", gap(gaps.field), gap(gaps.bulb), gap(gaps.leader));
    let faults = [
        (report.crossings.len(), "crossings"),
        (report.tight_bends.len(), "tight bends"),
        (report.over_limit(), "over the limit"),
        (layout.refusals.len(), "refusals"),
    ];
    for (count, what) in faults.iter().filter(|f| f.0 > 0) {
        let _ = write!(words, ", {count} {what}");
    }
    let outside = report.outside_m + report.kept_out_m;
    if outside > 0.0 {
        let _ = write!(words, ", {outside:.3} m outside");
    }
    words
}

fn extent(plan: &Plan) -> (Point, Point) {
    let mut low = Point::new(f64::INFINITY, f64::INFINITY);
    let mut high = -low;
    for p in plan.rooms.iter().flat_map(|r| r.floor.outer()) {
        low = Point::new(low.x.min(p.x), low.y.min(p.y));
        high = Point::new(high.x.max(p.x), high.y.max(p.y));
    }
    if low.is_finite() { (low, high) } else { (Point::default(), Point::default()) }
}

/// The name of a loop: its room and its number there.
pub(crate) fn loop_id(plan: &Plan, tube: &Loop) -> String {
    let room = plan.rooms.get(tube.room).map_or("?", |r| r.key.as_str());
    format!("{room}/{}", tube.number)
}

/// Draws in pixels what is given in metres.
struct Pen<'a> {
    at: &'a dyn Fn(Point) -> [f64; 2],
    layout: &'a Layout,
}

impl Pen<'_> {
    fn xy(&self, p: Point) -> String {
        let [x, y] = (self.at)(p);
        format!("{x:.2} {y:.2} ")
    }

    fn ring(&self, ring: &[Point]) -> String {
        let mut path = String::new();
        for (i, p) in ring.iter().enumerate() {
            let _ = write!(path, "{}{}", if i == 0 { 'M' } else { 'L' }, self.xy(*p));
        }
        path + "Z"
    }

    fn floor(&self, svg: &mut String, plan: &Plan) {
        for room in &plan.rooms {
            let rings: String = room.floor.rings().map(|r| self.ring(r)).collect();
            let fill = if room.heated { "#f6f3ec" } else { "#dedede" };
            let _ = write!(
                svg,
                "<path d='{rings}' fill='{fill}' fill-rule='evenodd' stroke='#111' stroke-width='1.5'/>"
            );
            for ring in &room.keep_outs {
                let _ = write!(svg, "<path d='{}' fill='#bbb' stroke='#555'/>", self.ring(ring));
            }
        }
        for dead in &self.layout.dead {
            let rings: String = dead.region.rings().map(|r| self.ring(r)).collect();
            let _ = write!(svg, "<path d='{rings}' fill='#f3c9c2' fill-rule='evenodd'/>");
        }
    }

    /// The first half thick, the second thin.
    fn tube(&self, svg: &mut String, tube: &Loop, colour: &str) {
        let half = tube.path.length_m() / 2.0;
        let mut gone = 0.0;
        let mut halves = [String::new(), String::new()];
        for segment in &tube.path.segments {
            let second = gone + segment.length_m() / 2.0 > half;
            gone += segment.length_m();
            let path = &mut halves[usize::from(second)];
            let _ = write!(path, "M{}", self.xy(segment.from()));
            let _ = match *segment {
                Segment::Line { to, .. } => write!(path, "L{}", self.xy(to)),
                Segment::Arc { to, radius_m, turn_rad, .. } => {
                    let r = radius_m * SCALE;
                    let large = u8::from(turn_rad.abs() > std::f64::consts::PI);
                    let sweep = u8::from(turn_rad < 0.0);
                    write!(path, "A{r:.2} {r:.2} 0 {large} {sweep} {}", self.xy(to))
                }
            };
        }
        for (path, width) in halves.iter().zip([2.4, 1.0]) {
            let _ = write!(
                svg,
                "<path d='{path}' fill='none' stroke='{colour}' stroke-width='{width}' stroke-linecap='round'/>"
            );
        }
        for share in [0.04, 0.25, 0.45, 0.7, 0.96] {
            self.arrow(svg, &tube.path, share * 2.0 * half, colour);
        }
    }

    fn arrow(&self, svg: &mut String, path: &Path, along_m: f64, colour: &str) {
        let ends = path.point_at(along_m - 0.03).zip(path.point_at(along_m + 0.03));
        let Some((tail, tip)) = ends else { return };
        let side = (tip - tail).left() * 0.5;
        let ring = self.ring(&[tip + (tip - tail), tail + side, tail - side]);
        let _ = write!(svg, "<path d='{ring}' fill='{colour}'/>");
    }

    fn openings(&self, svg: &mut String, plan: &Plan) {
        for door in &plan.doors {
            let [x, y] = (self.at)(door.at);
            let r = door.width_m / 2.0 * SCALE;
            let _ = write!(
                svg,
                "<circle cx='{x:.1}' cy='{y:.1}' r='{r:.1}' fill='none' stroke='#999' stroke-dasharray='3 3'/>"
            );
        }
        for manifold in &plan.manifolds {
            let [p, q] = manifold.ports;
            let _ = write!(
                svg,
                "<path d='M{}L{}' stroke='#000' stroke-width='6' opacity='0.55'/>",
                self.xy(p),
                self.xy(q)
            );
        }
    }

    fn labels(&self, svg: &mut String, plan: &Plan) {
        for (number, tube) in self.layout.loops.iter().enumerate() {
            let id = loop_id(plan, tube);
            let colour = COLOURS[number % COLOURS.len()];
            let text = format!("{id} {:.0} m", tube.path.length_m());
            let field_m = tube.path.length_m() - tube.supply_leader_m - tube.return_leader_m;
            let Some(p) = tube.path.point_at(tube.supply_leader_m + field_m * 0.15) else {
                continue;
            };
            let [x, y] = (self.at)(p);
            let _ = write!(
                svg,
                "<text x='{:.1}' y='{:.1}' fill='{colour}' stroke='#fff' stroke-width='3' paint-order='stroke'>{text}</text>",
                x + 4.0,
                y - 4.0
            );
        }
    }

    fn faults(&self, svg: &mut String, report: &StoreyReport) {
        let mut ring = |p: Point, r: f64, colour: &str| {
            let [x, y] = (self.at)(p);
            let _ = write!(
                svg,
                "<circle cx='{x:.1}' cy='{y:.1}' r='{r}' fill='none' stroke='{colour}' stroke-width='2.5'/>"
            );
        };
        for bend in &report.tight_bends {
            ring(bend.at, 9.0, "#ff00c8");
        }
        for crossing in &report.crossings {
            ring(crossing.at, 14.0, "#f00");
        }
        for wall in &report.through_walls {
            ring(*wall, 14.0, "#000");
        }
    }
}
