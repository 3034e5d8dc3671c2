//! Lines of words: how much place they take, and which way they read.

use super::ramp::INK;
use super::{Anchor, Mark, Shape};
use plane::Point;
use std::f64::consts::{FRAC_PI_2, PI};

/// Width of an average letter as a share of its height.
const LETTER_WIDTH: f64 = 0.6;

/// Air around words as a share of their height.
const AIR: f64 = 0.08;

/// Half the width of a line of words in metres.
pub(super) fn half_width(text: &str, size_m: f64) -> f64 {
    text.chars().count() as f64 * LETTER_WIDTH * size_m / 2.0
}

/// Words in lines no wider than that, in metres; a longer word has a line of its own.
pub(super) fn wrapped(text: &str, wide_m: f64, size_m: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line) if 2.0 * half_width(&format!("{line} {word}"), size_m) <= wide_m => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// Level words that stand in the middle of `at`.
pub(super) fn words(class: &'static str, at: Point, words: String, size_m: f64) -> Mark {
    turned(class, at, words, size_m, Anchor::Middle, 0.0)
}

/// Words about a point, turned to the left.
pub(super) fn turned(
    class: &'static str,
    at: Point,
    words: String,
    size_m: f64,
    anchor: Anchor,
    turn_rad: f64,
) -> Mark {
    let shape = Shape::Words { at, words, size_m, anchor, turn_rad, bold: false };
    Mark::new(class, shape).fill(INK)
}

/// The same words in bold.
pub(super) fn bold(mut mark: Mark) -> Mark {
    if let Shape::Words { bold, .. } = &mut mark.shape {
        *bold = true;
    }
    mark
}

/// The turn of words along a direction that nobody has to read head down, and whether they run
/// against it.
pub(super) fn readable(direction: Point) -> (f64, bool) {
    let turn = direction.y.atan2(direction.x);
    if turn > FRAC_PI_2 + 1e-6 {
        (turn - PI, true)
    } else if turn <= -FRAC_PI_2 + 1e-6 {
        (turn + PI, true)
    } else {
        (turn, false)
    }
}

/// The upright box around a line of words: its middle, half width and half height in metres.
pub(super) fn place_of(shape: &Shape) -> Option<(Point, f64, f64)> {
    let Shape::Words { at, words, size_m, anchor, turn_rad, .. } = shape else { return None };
    let half = half_width(words, *size_m);
    let (sine, cosine) = turn_rad.sin_cos();
    let along = Point::new(cosine, sine);
    let middle = match anchor {
        Anchor::Start => *at + along * half,
        Anchor::Middle => *at,
        Anchor::End => *at - along * half,
    };
    let (wide, high) = (half + size_m * AIR, size_m * (0.5 + AIR));
    let (sine, cosine) = (sine.abs(), cosine.abs());
    Some((middle, wide * cosine + high * sine, wide * sine + high * cosine))
}
