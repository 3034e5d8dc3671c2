//! A drawing as SVG: presentation attributes only, so that it stands under a strict policy.

use super::picture::data_address;
use crate::drawing::{Anchor, Colour, Drawing, Fill, Mark, Shape, Squares};
use plane::{Path, Point, Segment};
use std::f64::consts::PI;
use std::fmt::Write;

/// Millimetres a metre: browsers handle letters badly that are smaller than one unit.
const SCALE: f64 = 1000.0;

/// The drawing as an SVG document in millimetres of the house, one digit behind the point.
pub fn svg(drawing: &Drawing) -> String {
    let [low, high] = drawing.bounds_m;
    let view = View { left: low.x, top: high.y };
    let (width, height) = (number((high.x - low.x) * SCALE), number((high.y - low.y) * SCALE));
    let key = escaped(&drawing.key);
    let mut out = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"drawing\" viewBox=\"0 0 {width} {height}\" \
         role=\"img\" aria-labelledby=\"{key}-title {key}-desc\" font-family=\"sans-serif\">\n\
         <title id=\"{key}-title\">{}</title>\n<desc id=\"{key}-desc\">{}</desc>\n",
        escaped(&drawing.title),
        escaped(&drawing.words)
    );
    out.push_str(&hatches(drawing));
    for mark in &drawing.marks {
        view.mark(&mut out, drawing, mark);
    }
    out.push_str("</svg>\n");
    out
}

fn hatches(drawing: &Drawing) -> String {
    let hatch = drawing.marks.iter().find_map(|mark| match mark.fill {
        Some(Fill::Hatch(colour)) => Some(colour),
        _ => None,
    });
    let Some(colour) = hatch else { return String::new() };
    format!(
        "<defs><pattern id=\"{}\" width=\"90\" height=\"90\" patternUnits=\"userSpaceOnUse\" \
         patternTransform=\"rotate(45)\"><path d=\"M0 0V90\" stroke=\"{}\" stroke-width=\"22\"/>\
         </pattern></defs>\n",
        escaped(&hatch_id(drawing)),
        hex(colour)
    )
}

fn hatch_id(drawing: &Drawing) -> String {
    format!("{}-hatch", drawing.key)
}

struct View {
    left: f64,
    top: f64,
}

impl View {
    fn point(&self, at: Point) -> String {
        format!("{} {}", number((at.x - self.left) * SCALE), number((self.top - at.y) * SCALE))
    }

    fn mark(&self, out: &mut String, drawing: &Drawing, mark: &Mark) {
        let (tag, shape, words) = self.shape(&mark.shape);
        let _ = write!(out, "<{tag} class=\"{}\"", mark.class);
        if let Some(subject) = &mark.subject {
            let _ = write!(out, " data-subject=\"{}\"", escaped(subject));
        }
        out.push_str(&shape);
        out.push_str(&paint(drawing, mark));
        let title = mark.title.as_ref().map(|title| format!("<title>{}</title>", escaped(title)));
        let inside = format!("{}{}", title.unwrap_or_default(), words);
        if inside.is_empty() {
            out.push_str("/>\n");
        } else {
            let _ = writeln!(out, ">{inside}</{tag}>");
        }
    }

    /// The element, its attributes and the words inside it.
    fn shape(&self, shape: &Shape) -> (&'static str, String, String) {
        match shape {
            Shape::Line(points) => {
                ("path", format!(" d=\"{}\"", self.chain(points)), String::new())
            }
            Shape::Area(rings) => {
                let rings: Vec<String> =
                    rings.iter().map(|ring| format!("{}Z", self.chain(ring))).collect();
                let d = format!(" d=\"{}\" fill-rule=\"evenodd\"", rings.join(""));
                ("path", d, String::new())
            }
            Shape::Tube(path) => ("path", format!(" d=\"{}\"", self.tube(path)), String::new()),
            Shape::Circle { at, radius_m } => {
                let at = self.point(*at);
                let (x, y) = at.split_once(' ').unwrap_or(("0", "0"));
                let radius = number(radius_m * SCALE);
                ("circle", format!(" cx=\"{x}\" cy=\"{y}\" r=\"{radius}\""), String::new())
            }
            Shape::Squares(squares) => ("image", self.squares(squares), String::new()),
            Shape::Words { at, words, size_m, anchor, turn_rad, bold } => {
                let turned = self.turned(*at, *turn_rad);
                // Words stand with their middle at the point: the letters' own height is 0.7.
                let at = self.point(*at - Point::new(0.0, size_m * 0.35));
                let (x, y) = at.split_once(' ').unwrap_or(("0", "0"));
                let size = number(size_m * SCALE);
                let side = match anchor {
                    Anchor::Start => "start",
                    Anchor::Middle => "middle",
                    Anchor::End => "end",
                };
                let bold = if *bold { " font-weight=\"bold\"" } else { "" };
                let halo = number(size_m * SCALE * 0.28);
                let attributes = format!(
                    " x=\"{x}\" y=\"{y}\" font-size=\"{size}\" text-anchor=\"{side}\"{bold}{turned} \
                     stroke=\"#ffffff\" stroke-width=\"{halo}\" paint-order=\"stroke\" \
                     stroke-linejoin=\"round\""
                );
                ("text", attributes, escaped(words))
            }
        }
    }

    /// Place and content of a picture; nothing to see where it cannot be written.
    fn squares(&self, squares: &Squares) -> String {
        let [low, high] = squares.bounds_m;
        let at = self.point(Point::new(low.x, high.y));
        let (x, y) = at.split_once(' ').unwrap_or(("0", "0"));
        let (wide, tall) = (number((high.x - low.x) * SCALE), number((high.y - low.y) * SCALE));
        let place = format!(" x=\"{x}\" y=\"{y}\" width=\"{wide}\" height=\"{tall}\"");
        let data = data_address(squares).unwrap_or_default();
        format!("{place} preserveAspectRatio=\"none\" href=\"{data}\"")
    }

    /// The attribute that turns words about their point; none where they stand level.
    fn turned(&self, at: Point, turn_rad: f64) -> String {
        if !turn_rad.is_finite() || turn_rad == 0.0 {
            return String::new();
        }
        // The page's y axis points down, so a left turn goes against its clock.
        format!(" transform=\"rotate({} {})\"", number(-turn_rad.to_degrees()), self.point(at))
    }

    fn chain(&self, points: &[Point]) -> String {
        let mut out = String::new();
        for (place, point) in points.iter().enumerate() {
            out.push(if place == 0 { 'M' } else { 'L' });
            out.push_str(&self.point(*point));
        }
        out
    }

    fn tube(&self, path: &Path) -> String {
        let mut out = path.start().map(|at| format!("M{}", self.point(at))).unwrap_or_default();
        for segment in &path.segments {
            match *segment {
                Segment::Line { to, .. } => {
                    let _ = write!(out, "L{}", self.point(to));
                }
                Segment::Arc { to, radius_m, turn_rad, .. } => {
                    let radius = number(radius_m * SCALE);
                    let large = u8::from(turn_rad.abs() > PI);
                    // The y axis of the page points down, so a left turn goes against its clock.
                    let sweep = u8::from(turn_rad < 0.0);
                    let to = self.point(to);
                    let _ = write!(out, "A{radius} {radius} 0 {large} {sweep} {to}");
                }
            }
        }
        out
    }
}

fn paint(drawing: &Drawing, mark: &Mark) -> String {
    let mut out = match mark.fill {
        Some(Fill::Plain(colour)) => format!(" fill=\"{}\"", hex(colour)),
        Some(Fill::Hatch(_)) => format!(" fill=\"url(#{})\"", escaped(&hatch_id(drawing))),
        None => " fill=\"none\"".to_owned(),
    };
    if let Some(stroke) = &mark.stroke {
        let width = number(stroke.width_m * SCALE);
        let _ = write!(out, " stroke=\"{}\" stroke-width=\"{width}\"", hex(stroke.colour));
        if !stroke.dash_m.is_empty() {
            let dash: Vec<String> =
                stroke.dash_m.iter().map(|length| number(length * SCALE)).collect();
            let offset = number(stroke.offset_m * SCALE);
            let _ = write!(
                out,
                " stroke-dasharray=\"{}\" stroke-dashoffset=\"{offset}\"",
                dash.join(" ")
            );
        }
    }
    out
}

fn hex(Colour(red, green, blue): Colour) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// One digit behind the point at most, never `-0`; zero if not finite.
fn number(value: f64) -> String {
    if !value.is_finite() {
        return "0".to_owned();
    }
    let text = quantity::decimal(value, 1);
    text.strip_suffix(".0").map_or_else(|| text.clone(), str::to_owned)
}

/// Text that is safe between tags and inside quoted attributes.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for character in text.chars() {
        match character {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            // What XML does not allow at all.
            c if c.is_control() && !matches!(c, '\t' | '\n' | '\r') => out.push('\u{fffd}'),
            '\u{fffe}' | '\u{ffff}' => out.push('\u{fffd}'),
            c => out.push(c),
        }
    }
    out
}
