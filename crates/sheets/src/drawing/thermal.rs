//! A storey's floor in the colours of its warmth, as a thermal camera would show it.

use super::labels::Taken;
use super::legend::{self, Legend, Sample};
use super::plan::{Plan, floors};
use super::ramp::{FAINT, INK, PAPER, warm_colours};
use super::words::{bold, half_width, turned, words};
use super::{Anchor, Drawing, Mark, Shape, Squares, openings};
use design::warmth::{RoomWarmth, Spot, StoreyWarmth, Warmth};
use plane::{Point, Region};
use quantity::{Measure, System, show};

/// Colours of a picture.
const COLOURS: usize = 240;
/// Marks on the scale of temperatures, about.
const TICKS: f64 = 6.0;

const WORDS: [&str; 2] = [
    "Surface of the floor at every square of 25 mm. Same colour, same temperature on all pictures \
     of this weather. A camera shows the same once all has run for a day or two, bare of rugs and \
     away from sun.",
    "Ring and square: hottest and coolest spot of the storey. Hatched floor has no tube near, or \
     something stands on it.",
];

/// Coolest and warmest colour of all pictures of one weather, kelvin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Scale {
    low_k: f64,
    high_k: f64,
}

impl Scale {
    /// The scale of all storeys; none where no floor is known.
    pub(crate) fn of(warmth: &Warmth) -> Option<Scale> {
        let all = || warmth.storeys.iter().flat_map(|it| it.surface_k.iter().flatten().copied());
        let (low, high) = (all().reduce(f32::min)?, all().reduce(f32::max)?);
        let (low_k, high_k) = (f64::from(low), f64::from(high));
        Some(Scale { low_k, high_k: high_k.max(low_k + 0.5) })
    }

    fn share(self, kelvin: f64) -> f64 {
        ((kelvin - self.low_k) / (self.high_k - self.low_k)).clamp(0.0, 1.0)
    }
}

/// The picture of one storey.
pub(crate) fn floor_picture(
    plan: &Plan,
    seen: &StoreyWarmth,
    warmth: &Warmth,
    scale: Scale,
    (kind, what): (&str, &str),
) -> Drawing {
    let mut marks = Vec::new();
    floors(plan, &mut marks);
    let rings = |region: &Region| Shape::Area(region.rings().map(<[Point]>::to_vec).collect());
    for (room, _, region) in &plan.rooms {
        let title = format!("{}: floor whose temperature is not known", room.name.value);
        let mark = Mark::new("unknown", rings(region)).hatched(FAINT);
        marks.push(mark.about(&room.key).titled(title));
    }
    marks.push(Mark::new("warmth", Shape::Squares(squares(seen, scale))));
    for (room, _, region) in &plan.rooms {
        marks.push(Mark::new("edge", rings(region)).stroke(INK, 0.02).about(&room.key));
    }
    openings::draw(plan, &mut marks);
    for (class, colour, width_m) in [("over-back", INK, 0.032), ("over", PAPER, 0.013)] {
        for line in &seen.over {
            marks.push(Mark::new(class, Shape::Line(line.clone())).stroke(colour, width_m));
        }
    }
    let own: Vec<&RoomWarmth> =
        warmth.rooms.iter().filter(|it| plan.region(&it.room).is_some()).collect();
    let mut taken = Taken::default();
    extremes(plan, &own, &mut taken, &mut marks);
    for room in &own {
        room_label(plan, room, &mut taken, &mut marks);
    }
    let over: &[Sample] =
        if seen.over.is_empty() { &[Sample::Unknown] } else { &[Sample::Unknown, Sample::Limit] };
    let legend = Legend { water: false, samples: over, words: &WORDS };
    let mut bounds_m = legend::draw(plan, &legend, &mut marks);
    bounds_m[0].y -= temperatures(plan, scale, bounds_m[0].y, &mut marks);
    Drawing {
        key: plan.key(&format!("floor-{kind}")),
        title: plan.title(what),
        bounds_m,
        marks,
        words: told(plan, &own),
    }
}

fn squares(seen: &StoreyWarmth, scale: Scale) -> Squares {
    let grid = &seen.grid;
    let colour = |kelvin: &Option<f32>| {
        kelvin.map_or(0, |kelvin| {
            let step = scale.share(f64::from(kelvin)) * (COLOURS - 1) as f64;
            1 + step.round() as u8
        })
    };
    // A picture's rows run from the top.
    let rows = seen.surface_k.chunks(grid.columns.max(1)).rev();
    let size = Point::new(grid.columns as f64, grid.rows as f64) * grid.step_m;
    Squares {
        bounds_m: [grid.low, grid.low + size],
        columns: grid.columns,
        colours: rows.flat_map(|row| row.iter().map(colour)).collect(),
        palette: warm_colours(COLOURS),
    }
}

/// Both systems, the job's own first.
fn both(plan: &Plan, kelvin: f64) -> String {
    let first = plan.source.job.units.value;
    let [one, other] = [first, first.other()].map(|it| show(kelvin, Measure::Temperature, it));
    format!("{one} · {other}")
}

/// The hottest and the coolest spot of the storey, with their values.
fn extremes(plan: &Plan, own: &[&RoomWarmth], taken: &mut Taken, marks: &mut Vec<Mark>) {
    let hottest = own.iter().map(|room| &room.hottest);
    let hottest = hottest.max_by(|a, b| a.surface.si().total_cmp(&b.surface.si()));
    let coolest = own.iter().map(|room| &room.coolest);
    let coolest = coolest.min_by(|a, b| a.surface.si().total_cmp(&b.surface.si()));
    let half = 0.4 * plan.letter_m;
    for (spot, word) in [(hottest, "hottest"), (coolest, "coolest")] {
        let Some(Spot { at, surface }) = spot else { continue };
        let shape = |half: f64| match word {
            "hottest" => Shape::Circle { at: *at, radius_m: half },
            _ => Shape::Area(vec![
                [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
                    .map(|(x, y)| *at + Point::new(x, y) * half)
                    .to_vec(),
            ]),
        };
        marks.push(Mark::new("spot-back", shape(half)).stroke(PAPER, 0.09));
        marks.push(Mark::new("spot", shape(half)).stroke(INK, 0.035).titled(word));
        taken.take(*at, half, half);
        let label = format!("{word} {}", both(plan, surface.si()));
        let size = plan.letter_m * 0.8;
        let wide = half_width(&label, size);
        // Kept on the plan: beside a wall the words stand inside.
        let x = at.x.clamp(plan.low.x + wide, (plan.high.x - wide).max(plan.low.x + wide));
        let away = half + size * 0.8;
        let up = if at.y + away + size > plan.high.y { -away } else { away };
        let mark = bold(words("label spot-label", Point::new(x, at.y + up), label, size));
        taken.take_words(&mark);
        marks.push(mark);
    }
}

/// Name and mean of a room, where they are free of other words.
fn room_label(plan: &Plan, room: &RoomWarmth, taken: &mut Taken, marks: &mut Vec<Mark>) {
    let Some(region) = plan.region(&room.room) else { return };
    let (low, high) = region.bounds();
    let name = plan.source.room_name(&room.room);
    let mean = format!("mean {}", both(plan, room.mean.si()));
    let fit = |text: &str, size: f64| {
        size.min((high.x - low.x) * 0.92 / (2.0 * half_width(text, 1.0))).max(size * 0.45)
    };
    let (size, small) = (fit(&name, plan.letter_m * 1.1), fit(&mean, plan.letter_m * 0.8));
    let wide = half_width(&name, size).max(half_width(&mean, small));
    let shares = [0.5, 0.62, 0.38, 0.74, 0.26, 0.86, 0.14];
    let x = region.middle().x;
    let places = shares.map(|share| Point::new(x, low.y + (high.y - low.y) * share));
    let free = |at: &&Point| region.contains(**at) && taken.free(**at, wide, (size + small) * 0.65);
    let at = places.iter().find(free).copied().unwrap_or_else(|| region.middle());
    taken.take(at, wide, (size + small) * 0.65);
    marks.push(bold(words("label room-label", at + Point::new(0.0, small * 0.6), name, size)));
    marks.push(words("label mean-label", at - Point::new(0.0, size * 0.6), mean, small));
}

/// The scale of colours below the legend, with both systems; gives the height it takes.
fn temperatures(plan: &Plan, scale: Scale, top: f64, marks: &mut Vec<Mark>) -> f64 {
    let (size, first) = (plan.letter_m * 0.8, plan.source.job.units.value);
    let wide = (plan.high.x - plan.low.x).max(plan.letter_m * 30.0);
    let (left, high) = (plan.low.x, size * 1.2);
    // The legend ends in a margin of its own, which the bar moves into.
    let bar = top + 0.35 - size * 2.6 - high;
    let pieces = 60;
    let colours = warm_colours(pieces);
    for (piece, colour) in colours.into_iter().enumerate() {
        let from = left + wide * piece as f64 / pieces as f64;
        // A hair wider, so that no gap shows between two.
        let to = (from + wide / pieces as f64 * 1.05).min(left + wide);
        let ring = [(from, bar), (to, bar), (to, bar + high), (from, bar + high)];
        let ring = ring.map(|(x, y)| Point::new(x, y)).to_vec();
        marks.push(Mark::new("scale", Shape::Area(vec![ring])).fill(colour));
    }
    for (system, above) in [(first, true), (first.other(), false)] {
        ticks(scale, system, |share, label| {
            let x = left + wide * share;
            let (from, to) = if above { (bar + high, size * 0.3) } else { (bar, -size * 0.3) };
            let tick = vec![Point::new(x, from), Point::new(x, from + to)];
            marks.push(Mark::new("tick", Shape::Line(tick)).stroke(INK, 0.015));
            let at = Point::new(x, if above { bar + high + size } else { bar - size });
            marks.push(turned("legend", at, label, size, Anchor::Middle, 0.0));
        });
    }
    size * 4.6 + high
}

/// Whole steps of a system's degrees within a scale: how far along, and the words.
fn ticks(scale: Scale, system: System, mut each: impl FnMut(f64, String)) {
    let unit = Measure::Temperature.shown_unit(system);
    let [low, high] = [scale.low_k, scale.high_k].map(|kelvin| unit.from_si(kelvin));
    let step = [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0]
        .into_iter()
        .find(|step| (high - low) / step <= TICKS)
        .unwrap_or(100.0);
    let mut degrees = (low / step).ceil() * step;
    while degrees <= high + 1e-9 {
        let digits = usize::from(step < 1.0);
        let words = format!("{} {}", quantity::decimal(degrees, digits), unit.symbol);
        each(scale.share(unit.to_si(degrees)), words);
        degrees += step;
    }
}

/// The picture in words: each room's hottest, coolest and mean.
fn told(plan: &Plan, own: &[&RoomWarmth]) -> String {
    let rooms = own.iter().map(|room| {
        let limit = match room.over.si() > 0.0 {
            true => format!("; hotter than the {} allowed in places", both(plan, room.limit.si())),
            false => String::new(),
        };
        format!(
            "{}: hottest {}, coolest {}, mean {}{limit}",
            plan.source.room_name(&room.room),
            both(plan, room.hottest.surface.si()),
            both(plan, room.coolest.surface.si()),
            both(plan, room.mean.si())
        )
    });
    let rooms: Vec<String> = rooms.collect();
    format!("Temperature of the floor. {}. The table below holds the same.", rooms.join(". "))
}
