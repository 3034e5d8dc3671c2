//! Outlines of rooms and keep-outs: taped legs or corners.

use super::legs::{self, Leg};
use super::tables::short;
use super::value::{self, shown};
use super::{COORDINATE_MOST_M, CORNERS_MOST, Context};
use crate::decision::Place;
use crate::edit::Edit;
use crate::finding::{Mend, Promise, Severity};
use crate::model::{ClosingError, Outline};
use crate::schema::{GAP_SILENT, GAP_SPREAD, Row};
use crate::tree::{Kind, Node};
use plane::Point;
use quantity::unit::{self, Unit};
use quantity::{Length, Measure, Quantity, System};

/// The gap up to which taped legs count as good, an inch.
const GOOD_TAPE: f64 = 0.0255;
/// The share of the taped length that a gap may have and still be spread.
const GAP_SHARE: f64 = 0.01;
/// The smallest area that an outline may have, in square metres.
const AREA_LEAST_M2: f64 = 1e-4;

/// An outline, its legs starting at the origin: a start is added when the table is bound.
pub(crate) fn read(node: &Node, row: &Row, context: &mut Context<'_>) -> Option<Outline> {
    let outline = match &node.kind {
        Kind::Text(text) => taped(text, node.place, context)?,
        Kind::List(points) => corners(points, node, context)?,
        kind => {
            wrong(node.place, format!("{} is {}", row.words(), kind.words()), row, context);
            return None;
        }
    };
    sound(&outline, context).then_some(outline)
}

/// Two coordinates.
pub(crate) fn point(node: &Node, row: &Row, context: &mut Context<'_>) -> Option<Point> {
    pair(node, &row.words(), context)
}

/// Two places or more.
pub(crate) fn points(node: &Node, row: &Row, context: &mut Context<'_>) -> Option<Vec<Point>> {
    match &node.kind {
        Kind::List(items) if items.len() >= 2 => {
            let places: Vec<Option<Point>> =
                items.iter().map(|item| pair(item, "a place", context)).collect();
            places.into_iter().collect()
        }
        _ => {
            let message = format!("{} is no list of two places or more", row.words());
            wrong(node.place, message, row, context);
            None
        }
    }
}

fn pair(node: &Node, what: &str, context: &mut Context<'_>) -> Option<Point> {
    let both: Option<&[Node; 2]> = match &node.kind {
        Kind::List(items) => items.as_slice().try_into().ok(),
        _ => None,
    };
    let Some([x, y]) = both else {
        let found = match &node.kind {
            Kind::List(items) => format!("a list of {}", items.len()),
            kind => kind.words().to_owned(),
        };
        let message = format!("{what} is {found}, not two coordinates");
        let advice = match context.units {
            System::Us => "write two lengths, such as [\"4'6\", \"12'\"]",
            System::Si => "write two lengths, such as [\"1.40\", \"3.60\"]",
        };
        context.tell(Severity::Stop, "unreadable-value", node.place, message, advice);
        return None;
    };
    let (x, y) = (coordinate(x, context), coordinate(y, context));
    Some(Point::new(x?, y?))
}

fn wrong(place: Place, message: String, row: &Row, context: &mut Context<'_>) {
    let advice = format!("write {}", row.write(context.units));
    context.tell(Severity::Stop, "unreadable-value", place, message, advice);
}

pub(crate) fn bare_length(units: System) -> &'static Unit {
    match units {
        System::Us => &unit::FOOT,
        System::Si => &unit::METRE,
    }
}

fn coordinate(node: &Node, context: &mut Context<'_>) -> Option<f64> {
    let (Kind::Text(text) | Kind::Bare(text)) = &node.kind else {
        let message = format!("a coordinate is {}", node.kind.words());
        context.tell(Severity::Stop, "unreadable-value", node.place, message, "write a length");
        return None;
    };
    match quantity::read(text, Measure::Length, bare_length(context.units)) {
        Ok(metres) if metres.abs() <= COORDINATE_MOST_M => Some(metres),
        Ok(metres) => {
            let far = shown(metres, Measure::Length, context.units);
            let most = shown(COORDINATE_MOST_M, Measure::Length, context.units);
            context.tell(
                Severity::Stop,
                "impossible-value",
                node.place,
                format!("a coordinate of {far} is too far away"),
                format!("stay within {most} of the origin"),
            );
            None
        }
        Err(error) => {
            context.tell(
                Severity::Stop,
                "unreadable-value",
                node.place,
                value::wrong(&error),
                match context.units {
                    System::Us => "write the coordinate as a length, such as \"12'6 1/2\"",
                    System::Si => "write the coordinate as a length, such as \"3.60\"",
                },
            );
            None
        }
    }
}

fn corners(points: &[Node], node: &Node, context: &mut Context<'_>) -> Option<Outline> {
    let before = context.findings.len();
    let mut corners: Vec<Point> = points
        .iter()
        .take(CORNERS_MOST)
        .filter_map(|corner| pair(corner, "a corner", context))
        .collect();
    if points.len() > CORNERS_MOST {
        too_many(points[CORNERS_MOST].place, context);
    }
    if context.findings[before..].iter().any(|finding| finding.kind != "too-many") {
        return None;
    }
    if corners.len() > 1 && corners.first() == corners.last() {
        corners.pop();
    }
    let wall_names = vec![None; corners.len()];
    Some(Outline { corners, wall_names, closing: None, place: node.place })
}

fn too_many(place: Place, context: &mut Context<'_>) {
    context.tell(
        Severity::Stop,
        "too-many",
        place,
        format!("an outline with more than {CORNERS_MOST} corners"),
        "leave corners out; this one and what follows is not read",
    );
}

/// Legs laid end to end, and the gap at the end dealt with.
fn taped(text: &str, place: Place, context: &mut Context<'_>) -> Option<Outline> {
    let legs = legs::read(text, place, context)?;
    named_twice(&legs, place, context);
    let mut corners = vec![Point::default()];
    for leg in &legs {
        let last = corners.last().copied().unwrap_or_default();
        corners.push(last + leg.way);
    }
    let mut wall_names: Vec<Option<String>> = legs.iter().map(|leg| leg.name.clone()).collect();
    let end = corners.pop().unwrap_or_default();
    let taped: f64 = legs.iter().map(|leg| leg.way.norm()).sum();
    let gap = -end;
    let spread = gap.norm() <= (GAP_SHARE * taped).max(GAP_SPREAD);
    if spread {
        spread_gap(&mut corners, &legs, gap, taped);
    } else {
        corners.push(end);
        wall_names.push(None);
    }
    tell_gap(&legs, gap, taped, spread, place, context);
    let closing = ClosingError {
        distance: Length::from_si(gap.norm()),
        taped: Length::from_si(taped),
        spread,
    };
    Some(Outline { corners, wall_names, closing: Some(closing), place })
}

/// Tells a name that two walls have: an opening could sit in either.
fn named_twice(legs: &[Leg], place: Place, context: &mut Context<'_>) {
    let mut names: Vec<&str> = legs.iter().filter_map(|leg| leg.name.as_deref()).collect();
    names.sort_unstable();
    let twice = names.windows(2).find(|pair| pair[0] == pair[1]);
    if let Some([name, _]) = twice {
        context.tell(
            Severity::Warn,
            "wall-named-twice",
            place,
            format!("two walls of the outline are called `{}`", short(name)),
            "give each wall a name of its own; openings go into the first one",
        );
    }
}

/// The compass rule: each corner moves by the gap's share that was taped up to it.
fn spread_gap(corners: &mut [Point], legs: &[Leg], gap: Point, taped: f64) {
    let mut walked = 0.0;
    for (corner, leg) in corners.iter_mut().skip(1).zip(legs) {
        walked += leg.way.norm();
        *corner = *corner + gap * (walked / taped);
    }
}

fn tell_gap(
    legs: &[Leg],
    gap: Point,
    taped: f64,
    spread: bool,
    place: Place,
    context: &mut Context<'_>,
) {
    let distance = gap.norm();
    if distance <= GAP_SILENT {
        return;
    }
    let units = context.units;
    let print = |si: f64| shown(si, Measure::Length, units);
    let parts = [
        (gap.x, "east", "west", "the E and W legs"),
        (gap.y, "north", "south", "the N and S legs"),
    ];
    let wide: Vec<_> =
        parts.iter().filter(|(part, ..)| part.abs() > (0.1 * distance).max(GAP_SILENT)).collect();
    let missing = wide
        .iter()
        .map(|(part, plus, minus, _)| {
            format!("{} short to the {}", print(part.abs()), if *part > 0.0 { plus } else { minus })
        })
        .collect::<Vec<_>>()
        .join(" and ");
    let check = wide.iter().map(|(.., legs)| *legs).collect::<Vec<_>>().join(", and ");
    if spread {
        // More than a good tape gives is worth a look.
        let severity = if distance > GOOD_TAPE { Severity::Warn } else { Severity::Note };
        context.tell(
            severity,
            "closing-error",
            place,
            format!("the legs end {missing}, of {} taped; spread over all legs", print(taped)),
            format!("tape {check} again if you want it closer"),
        );
    } else {
        context.tell(
            Severity::Stop,
            "open-outline",
            place,
            format!("the legs end {missing}, of {} taped", print(taped)),
            format!("check {check}, or add the leg that is missing"),
        );
    }
    if let Some(finding) = context.findings.last_mut() {
        finding.amount = Some(distance);
        if !spread && let Some(mend) = last_leg(legs, gap, units, place, context.text) {
            finding.mends.push(mend);
        }
    }
}

/// The mend that adds a forgotten last leg: one that is square to the first leg and the last.
fn last_leg(legs: &[Leg], gap: Point, units: System, place: Place, text: &str) -> Option<Mend> {
    let (first, last) = (legs.first()?.way, legs.last()?.way);
    let square = |leg: Point| gap.unit().dot(leg.unit()).abs() < 1e-6;
    let written = text.get(place.start..place.end)?.get(1..)?.strip_suffix(['"', '\''])?;
    if !square(first) || !square(last) || written.contains(['\\', '"', '\n']) || written.len() > 400
    {
        return None;
    }
    let direction = match (gap.unit().x.round() as i8, gap.unit().y.round() as i8) {
        (1, 0) => "E",
        (-1, 0) => "W",
        (0, 1) => "N",
        (0, -1) => "S",
        _ => return None,
    };
    let length = match units {
        System::Us => quantity::feet_inches(gap.norm(), 8).trim_end_matches('"').to_owned(),
        System::Si => format!("{:.3}", gap.norm()),
    };
    let leg = format!("{direction} {length}");
    Some(Mend {
        words: format!("add the leg {leg}"),
        edits: vec![Edit::Set { path: String::new(), value: format!("{written}, {leg}") }],
        promise: Promise::Goes,
    })
}

/// Tells what makes an outline useless on its own; whether it can be used.
fn sound(outline: &Outline, context: &mut Context<'_>) -> bool {
    let corners = &outline.corners;
    let open = outline.closing.is_some_and(|closing| !closing.spread);
    let trouble = if corners.len() < 3 {
        Some(format!("an outline of {} corners has no inside", corners.len()))
    } else if area(corners).abs() < AREA_LEAST_M2 {
        Some("the outline goes there and back and has no inside".to_owned())
    } else if open && crosses_itself(corners) {
        Some("the outline, closed by force, crosses itself".to_owned())
    } else {
        None
    };
    match trouble {
        None => true,
        // The gap was told already; once is enough.
        Some(_) if open => false,
        Some(message) => {
            let advice = "walk around the room once and write every wall";
            context.tell(Severity::Stop, "empty-outline", outline.place, message, advice);
            false
        }
    }
}

/// The area inside, positive if the corners go round to the left.
fn area(corners: &[Point]) -> f64 {
    let first = corners.first().copied().unwrap_or_default();
    corners.windows(2).map(|pair| (pair[0] - first).cross(pair[1] - first)).sum::<f64>() / 2.0
}

fn crosses_itself(corners: &[Point]) -> bool {
    let count = corners.len();
    let side = |at: usize| (corners[at], corners[(at + 1) % count]);
    (0..count).any(|one| {
        (one + 2..count)
            .filter(|other| (other + 1) % count != one)
            .any(|other| cross(side(one), side(other)))
    })
}

fn cross((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |from: Point, to: Point, at: Point| (to - from).cross(at - from);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}
