//! A floor cut across its tubes, to scale: layers, tubes, sheet and lines of equal temperature.

use super::ramp::{BAND, COLD, FAINT, INK, PAPER, Ramp, STEPS, colour};
use super::{Anchor, Drawing, Mark, Shape};
use crate::tables::{SMALL, shown_both};
use design::emitters::{HeatedFloor, Isotherm, PictureLayer, SectionPicture};
use plane::Point;
use quantity::{Measure, System, decimal};

/// Share of the picture that the section takes; the rest names the layers.
const SECTION_SHARE: f64 = 0.48;
/// Height of letters, as a share of the picture's width.
const LETTER: f64 = 0.033;
/// A line may be drawn so far beside its place, as a share of the picture's width.
const SLACK: f64 = 0.0006;
/// Layers that conduct less, W/mK, are drawn as insulation, and those that conduct more as stone.
const INSULATION_W_MK: f64 = 0.06;
const STONE_W_MK: f64 = 0.6;

/// The section of a floor between two tubes and half a spacing beside each.
struct Cut<'a> {
    picture: &'a SectionPicture,
    first: System,
    /// Width of the whole picture.
    wide_m: f64,
    top_m: f64,
}

/// The picture of a floor's section.
pub(crate) fn section(
    floor: &HeatedFloor,
    picture: &SectionPicture,
    room: &str,
    first: System,
) -> Drawing {
    let wide_m = 4.0 * picture.width_m / SECTION_SHARE;
    let top_m = picture.layers.first().map_or(0.0, |layer| layer.between_m[1]);
    let cut = Cut { picture, first, wide_m, top_m };
    let mut marks = Vec::new();
    cut.layers(&mut marks);
    cut.isotherms(&mut marks);
    cut.metal(&mut marks);
    let foot_m = cut.names(&mut marks).min(0.0);
    cut.heats(floor, foot_m, &mut marks);
    let lines = if cut.rugs().is_some() { 7.0 } else { 5.4 };
    let lowest_m = foot_m - lines * cut.letter_m();
    let (left_m, margin_m) = (-picture.width_m, 0.4 * cut.letter_m());
    let bounds_m = [
        Point::new(left_m - margin_m, lowest_m - margin_m),
        Point::new(left_m + wide_m + margin_m, top_m + 4.2 * cut.letter_m()),
    ];
    let title = format!("Section of the floor of {room}, across its tubes");
    let words = cut.words(floor, room);
    Drawing { key: format!("section-{}", floor.room), title, bounds_m, marks, words }
}

impl Cut<'_> {
    fn letter_m(&self) -> f64 {
        LETTER * self.wide_m
    }

    fn thin_m(&self) -> f64 {
        0.0022 * self.wide_m
    }

    fn both(&self, si: f64, measure: Measure) -> String {
        shown_both(si, measure, self.first)
    }

    fn layers(&self, marks: &mut Vec<Mark>) {
        let (left, right) = (-self.picture.width_m, 3.0 * self.picture.width_m);
        for layer in &self.picture.layers {
            let [low, high] = layer.between_m;
            let mut mark = Mark::new("layer", area(left, right, low, high))
                .stroke(FAINT, self.thin_m())
                .fill(ground(layer))
                .titled(layer.name.clone());
            if !layer.to_scale {
                mark = mark.dashed(&[3.0 * self.thin_m(), 3.0 * self.thin_m()], 0.0);
            }
            marks.push(mark);
        }
    }

    /// Places of half a cell in the whole section, as sides of a mirror.
    fn mirrored(&self, line: &[Point]) -> [Vec<Point>; 4] {
        let apart = 2.0 * self.picture.width_m;
        [(0.0, 1.0), (0.0, -1.0), (apart, 1.0), (apart, -1.0)].map(|(axis, side)| {
            line.iter().map(|at| Point::new(axis + side * at.x, at.y)).collect()
        })
    }

    fn isotherms(&self, marks: &mut Vec<Mark>) {
        let lines = &self.picture.isotherms;
        let (Some(cool), Some(warm)) = (lines.first(), lines.last()) else { return };
        let ramp = Ramp { cool_k: cool.kelvin, warm_k: warm.kelvin + 1e-6 };
        let mut labelled: Vec<Point> = Vec::new();
        for isotherm in lines {
            let colour = colour(ramp.step(isotherm.kelvin).min(STEPS - 1));
            let words = self.both(isotherm.kelvin, Measure::Temperature);
            for line in &isotherm.lines {
                for line in self.mirrored(&thinned(line, SLACK * self.wide_m)) {
                    let mark = Mark::new("isotherm", Shape::Line(line));
                    marks.push(mark.stroke(colour, self.thin_m()).titled(words.clone()));
                }
            }
            self.degree(isotherm, &mut labelled, marks);
        }
    }

    /// The degrees of a line where it is farthest from a tube, unless another stands there.
    fn degree(&self, isotherm: &Isotherm, labelled: &mut Vec<Point>, marks: &mut Vec<Mark>) {
        let letter = 0.8 * self.letter_m();
        let places = isotherm.lines.iter().flatten();
        let mut places: Vec<Point> =
            places.map(|at| Point::new(2.0 * self.picture.width_m - at.x, at.y)).collect();
        // Between the tubes first, from there towards the left one.
        places.sort_by(|a, b| a.x.total_cmp(&b.x));
        let wide = 2.6 * letter;
        let reach = self.picture.tube_m[0] / 2.0 + 0.6 * letter;
        let tubes = [0.0, 2.0 * self.picture.width_m];
        let free = |at: &&Point| {
            let apart = labelled.iter().all(|other| {
                (other.y - at.y).abs() > 1.15 * letter || (other.x - at.x).abs() > 2.0 * wide
            });
            let high = (at.y - self.picture.tube_y_m).abs() > reach;
            let off_tubes = tubes.iter().all(|x| high || (at.x - x).abs() > wide + reach);
            apart && off_tubes && at.y > 0.6 * letter && at.y < self.top_m - 0.6 * letter
        };
        let Some(at) = places.iter().find(free).copied() else { return };
        labelled.push(at);
        let unit = |system: System| Measure::Temperature.shown_unit(system);
        let degrees =
            |system: System, decimals| decimal(unit(system).from_si(isotherm.kelvin), decimals);
        let (one, other) = (self.first, self.first.other());
        let words =
            format!("{} ({})", degrees(one, 0), degrees(other, usize::from(other == System::Si)));
        marks.push(text(at, words, letter, Anchor::Middle, false));
    }

    fn metal(&self, marks: &mut Vec<Mark>) {
        let picture = self.picture;
        if let Some([low, high]) = picture.sheet {
            for ring in
                self.mirrored(&[low, Point::new(high.x, low.y), high, Point::new(low.x, high.y)])
            {
                let mark = Mark::new("sheet", Shape::Area(vec![ring]))
                    .fill(INK)
                    .stroke(INK, self.thin_m());
                marks.push(mark.titled("metal sheet"));
            }
        }
        let [outside, inside] = picture.tube_m;
        for x in [0.0, 2.0 * picture.width_m] {
            let at = Point::new(x, picture.tube_y_m);
            let circle = |diameter: f64| Shape::Circle { at, radius_m: diameter / 2.0 };
            marks.push(Mark::new("tube", circle(outside)).fill(INK).titled("tube"));
            marks.push(Mark::new("water", circle(inside)).fill(PAPER).titled("water"));
        }
    }

    /// What goes up and down, and how warm it is there.
    fn heats(&self, floor: &HeatedFloor, foot_m: f64, marks: &mut Vec<Mark>) {
        let letter = self.letter_m();
        let left = -self.picture.width_m;
        let share = decimal(100.0 * floor.up_share.si(), 0);
        let rest = decimal(100.0 - 100.0 * floor.up_share.si(), 0);
        let up = format!("↑ up {}, {share} %", self.both(floor.flux.si(), Measure::HeatFlux));
        let down =
            format!("↓ down {}, {rest} %", self.both(floor.flux_down.si(), Measure::HeatFlux));
        let room = format!("room {}", self.both(self.picture.room_k, Measure::Temperature));
        let water = format!("mean water {}", self.both(self.picture.water_k, Measure::Temperature));
        let below = match self.picture.below_k {
            Some(kelvin) => format!("below {}", self.both(kelvin, Measure::Temperature)),
            None => "below: loss at the edge only".to_owned(),
        };
        let unit = |system: System| Measure::Temperature.shown_unit(system).symbol;
        let lines = format!(
            "lines of equal temperature: {} ({})",
            unit(self.first),
            unit(self.first.other())
        );
        let mut say = |y: f64, words: String, bold| {
            marks.push(text(Point::new(left, y), words, letter, Anchor::Start, bold));
        };
        say(self.top_m + 3.0 * letter, format!("{room}; {water}"), false);
        say(self.top_m + 1.3 * letter, up, true);
        say(foot_m - 1.3 * letter, down, true);
        say(foot_m - 2.9 * letter, below, false);
        say(foot_m - 4.5 * letter, lines, false);
        if let Some(rugs) = self.rugs() {
            say(foot_m - 6.1 * letter, rugs, false);
        }
    }

    /// That rugs are left out, where the room has some.
    fn rugs(&self) -> Option<String> {
        let share = self.picture.under_rugs.filter(|share| *share > 0.0)?;
        Some(format!("drawn bare: rugs lie on {} % of it", decimal(100.0 * share, 0)))
    }

    /// Names of the layers beside the section; gives the height of the lowest.
    fn names(&self, marks: &mut Vec<Mark>) -> f64 {
        let letter = self.letter_m();
        let (edge, at) = (3.0 * self.picture.width_m, 3.0 * self.picture.width_m + 1.4 * letter);
        let mut last = f64::INFINITY;
        for layer in &self.picture.layers {
            let [low, high] = layer.between_m;
            let middle = (low + high) / 2.0;
            let y = middle.min(last - 2.9 * letter);
            last = y;
            let reach = Shape::Line(vec![
                Point::new(edge, middle),
                Point::new(edge + 0.6 * letter, y),
                Point::new(at - 0.2 * letter, y),
            ]);
            marks.push(Mark::new("reach", reach).stroke(FAINT, 0.6 * self.thin_m()));
            let place = |lift: f64| Point::new(at, y + lift * letter);
            marks.push(text(place(0.62), short(&layer.name), letter, Anchor::Start, true));
            marks.push(text(place(-0.62), self.height(layer), letter, Anchor::Start, false));
        }
        last - 1.2 * letter
    }

    fn height(&self, layer: &PictureLayer) -> String {
        if !layer.to_scale {
            return "height not known".to_owned();
        }
        let metres = layer.between_m[1] - layer.between_m[0];
        let show = |system: System| quantity::show_in(metres, SMALL.unit(system));
        format!("{} ({})", show(self.first), show(self.first.other()))
    }

    fn words(&self, floor: &HeatedFloor, room: &str) -> String {
        let layer = |layer: &PictureLayer| {
            let tube = if layer.holds_tube { " with the tubes" } else { "" };
            format!("{}, {}{tube}", layer.name, self.height(layer))
        };
        let layers: Vec<String> = self.picture.layers.iter().map(layer).collect();
        let temperature = |kelvin: f64| self.both(kelvin, Measure::Temperature);
        let rugs = self.rugs().map(|rugs| format!(" It is {rugs}.")).unwrap_or_default();
        format!(
            "The floor of {room} cut across two tubes {} apart. From the room down: {}. With mean \
             water at {} it gives {} up and {} down; its surface is {} over a tube and {} midway.{rugs}",
            self.both(2.0 * self.picture.width_m, Measure::Length),
            layers.join("; "),
            temperature(self.picture.water_k),
            self.both(floor.flux.si(), Measure::HeatFlux),
            self.both(floor.flux_down.si(), Measure::HeatFlux),
            temperature(floor.warmest.si()),
            temperature(floor.coolest.si()),
        )
    }
}

fn ground(layer: &PictureLayer) -> super::Colour {
    match layer.conductivity_w_mk {
        poor if poor < INSULATION_W_MK => COLD,
        good if good > STONE_W_MK => super::Colour(0xdd, 0xdb, 0xd5),
        _ if layer.holds_tube => BAND,
        _ => super::Colour(0xf4, 0xec, 0xde),
    }
}

fn area(left: f64, right: f64, low: f64, high: f64) -> Shape {
    let ring = [(left, low), (right, low), (right, high), (left, high)];
    Shape::Area(vec![ring.map(|(x, y)| Point::new(x, y)).to_vec()])
}

fn text(at: Point, words: String, size_m: f64, anchor: Anchor, bold: bool) -> Mark {
    let shape = Shape::Words { at, words, size_m, anchor, turn_rad: 0.0, bold };
    Mark::new("section-label", shape).fill(INK)
}

/// A name that fits beside the section; the table has the whole of it.
fn short(name: &str) -> String {
    const LETTERS: usize = 20;
    if name.chars().count() <= LETTERS {
        return name.to_owned();
    }
    let cut: String = name.chars().take(LETTERS - 1).collect();
    format!("{}…", cut.trim_end())
}

/// A line with the places left out that hardly bend it (Douglas and Peucker 1973).
fn thinned(line: &[Point], slack_m: f64) -> Vec<Point> {
    let (Some(first), Some(last)) = (line.first(), line.last()) else { return Vec::new() };
    let along = *last - *first;
    let long = along.x.hypot(along.y);
    let away = |at: &Point| {
        let from = *at - *first;
        if long < 1e-9 {
            from.x.hypot(from.y)
        } else {
            (along.x * from.y - along.y * from.x).abs() / long
        }
    };
    let middle = line.iter().enumerate().skip(1).take(line.len().saturating_sub(2));
    let farthest = middle.map(|(number, at)| (number, away(at))).max_by(|a, b| a.1.total_cmp(&b.1));
    match farthest {
        Some((number, away)) if away > slack_m => {
            let mut kept = thinned(&line[..=number], slack_m);
            kept.pop();
            kept.extend(thinned(&line[number..], slack_m));
            kept
        }
        _ => vec![*first, *last],
    }
}
