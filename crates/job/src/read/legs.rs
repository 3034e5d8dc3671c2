//! Taped legs: `E 14'2, N 11'6 lake, W 14'2, S 11'6`.

use super::outline::bare_length;
use super::tables::short;
use super::{COORDINATE_MOST_M, CORNERS_MOST, Context};
use crate::decision::Place;
use crate::finding::Severity;
use plane::Point;
use quantity::{Measure, System};

/// One taped wall.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Leg {
    /// From its start to its end, in metres; x to the east, y to the north.
    pub(crate) way: Point,
    /// The wall's own name.
    pub(crate) name: Option<String>,
}

/// The legs of a text; none, every bad one told, if one cannot be read.
pub(crate) fn read(text: &str, place: Place, context: &mut Context<'_>) -> Option<Vec<Leg>> {
    let mut legs = Vec::new();
    let mut sound = true;
    let spelt = spelt(text, place, context.text);
    let mut begins = 0;
    for (count, part) in text.split([',', ';', '\n']).enumerate() {
        let part_place = inside(spelt, part, begins, place);
        begins += part.len() + 1;
        let words = part.trim();
        if words.is_empty() {
            continue;
        }
        if count == CORNERS_MOST {
            context.tell(
                Severity::Stop,
                "too-many",
                part_place,
                format!("an outline with more than {CORNERS_MOST} legs"),
                "leave legs out; this one and what follows is not read",
            );
            break;
        }
        match leg(words, context.units) {
            Ok(leg) => legs.push(leg),
            Err((message, advice)) => {
                context.tell(Severity::Stop, "unreadable-leg", part_place, message, advice);
                sound = false;
            }
        }
    }
    (sound && !legs.is_empty()).then_some(legs)
}

/// Where the words of a value begin in the text, if it spells them without escapes.
fn spelt(value: &str, place: Place, text: &str) -> Option<usize> {
    let written = text.get(place.start..place.end)?;
    let offset = written.len().checked_sub(value.len())? / 2;
    (written.get(offset..offset + value.len()) == Some(value)).then_some(place.start + offset)
}

/// The place of a part that begins so many bytes into a value; the whole where it has escapes.
fn inside(spelt: Option<usize>, part: &str, begins: usize, place: Place) -> Place {
    let Some(spelt) = spelt else { return place };
    let from = spelt + begins + part.len() - part.trim_start().len();
    Place { start: from, end: from + part.trim().len() }
}

type Complaint = (String, String);

fn leg(words: &str, units: System) -> Result<Leg, Complaint> {
    let (direction, rest) = direction(words).ok_or_else(|| {
        let advice = if words.starts_with(|c: char| c.is_ascii_digit()) {
            "a comma ends a leg: write decimals with a point, 6.25 and not 6,25"
        } else {
            "begin with N, E, S, W, NE, N30E or the like, then the length"
        };
        (format!("`{}` does not begin with a direction", short(words)), advice.to_owned())
    })?;
    let (length, name) = length(rest, units).ok_or_else(|| {
        let example = match units {
            System::Us => "E 14'2 1/2",
            System::Si => "E 4.30",
        };
        (
            format!("no length can be read in `{}`", short(words)),
            format!("write direction, length and, if you like, a name: {example} lake"),
        )
    })?;
    if name.as_ref().is_some_and(|name| !name.starts_with(char::is_alphabetic)) {
        return Err((
            format!(
                "what follows the length in `{}` is neither a fraction nor a name",
                short(words)
            ),
            "write a fraction as 1/2; a wall's name begins with a letter".to_owned(),
        ));
    }
    if length <= 0.0 {
        let advice = "write the length of the wall, and the direction the other way if need be";
        return Err((
            format!("a leg of no length, or less: `{}`", short(words)),
            advice.to_owned(),
        ));
    }
    if length > COORDINATE_MOST_M {
        return Err((
            format!("a leg longer than {COORDINATE_MOST_M} m: `{}`", short(words)),
            "look at the unit".to_owned(),
        ));
    }
    Ok(Leg { way: direction * length, name })
}

const COMPASS: &[(&str, f64, f64)] = &[
    ("north", 0.0, 1.0),
    ("east", 1.0, 0.0),
    ("south", 0.0, -1.0),
    ("west", -1.0, 0.0),
    ("ne", 1.0, 1.0),
    ("nw", -1.0, 1.0),
    ("se", 1.0, -1.0),
    ("sw", -1.0, -1.0),
    ("n", 0.0, 1.0),
    ("e", 1.0, 0.0),
    ("s", 0.0, -1.0),
    ("w", -1.0, 0.0),
];

/// The unit vector of a direction, and what follows it.
fn direction(words: &str) -> Option<(Point, &str)> {
    if let Some(bearing) = bearing(words) {
        return Some(bearing);
    }
    let end = words.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(words.len());
    let word = words[..end].to_ascii_lowercase();
    let (_, x, y) = COMPASS.iter().find(|(name, ..)| *name == word)?;
    Some((Point::new(*x, *y).unit(), &words[end..]))
}

/// A surveyor's bearing, `N30E`: from north or south, so many degrees to east or west.
fn bearing(words: &str) -> Option<(Point, &str)> {
    let north = match words.chars().next()?.to_ascii_lowercase() {
        'n' => 1.0,
        's' => -1.0,
        _ => return None,
    };
    let rest = words[1..].trim_start();
    let end = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
    let degrees: f64 = rest[..end].parse().ok()?;
    let rest = rest[end..].trim_start_matches(['°', ' ']);
    let east = match rest.chars().next()?.to_ascii_lowercase() {
        'e' => 1.0,
        'w' => -1.0,
        _ => return None,
    };
    let rest = &rest[1..];
    if !(0.0..=90.0).contains(&degrees) || rest.starts_with(|c: char| c.is_ascii_alphabetic()) {
        return None;
    }
    let (sine, cosine) = degrees.to_radians().sin_cos();
    Some((Point::new(east * sine, north * cosine), rest))
}

/// The longest beginning that is a length, and the name behind it.
fn length(rest: &str, units: System) -> Option<(f64, Option<String>)> {
    let rest = rest.trim();
    let ends = rest
        .char_indices()
        .filter(|(_, c)| c.is_whitespace())
        .map(|(at, _)| at)
        .chain([rest.len()])
        .collect::<Vec<_>>();
    ends.into_iter().rev().take(12).find_map(|end| {
        let metres = quantity::read(&rest[..end], Measure::Length, bare_length(units)).ok()?;
        let name = rest[end..].trim().trim_matches(['(', ')', '"']).trim();
        Some((metres, (!name.is_empty()).then(|| name.to_owned())))
    })
}
