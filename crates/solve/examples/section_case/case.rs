//! One row of a table as a section.
//!
//! Rows place `x = 0` on the axis of a tube. Where all is even about it, half a spacing is
//! solved; else the whole spacing, from mid-way on the left to mid-way on the right.

use solve::section::{Inclusion, Layer, Rect, Section, Shape, Side, Temperatures, Tube};

use crate::table::Row;

/// A section and the temperatures of its row.
pub(crate) struct Case {
    pub(crate) section: Section,
    pub(crate) temperatures: Temperatures,
}

/// Reads a row.
pub(crate) fn read(row: &Row) -> Result<Case, String> {
    let spacing_m = 1e-3 * number(need(row, "spacing_mm")?)?;
    let layers: Vec<Layer> =
        need(row, "layers_bottom_to_top")?.split('|').map(layer).collect::<Result<_, _>>()?;
    let height_m: f64 = layers.iter().map(|layer| layer.thickness_m).sum();
    let inclusions = row.get("inclusions").map_or(Ok(vec![]), inclusions)?;
    let tubes = row.get("tube").map_or(Ok(vec![]), tubes)?;

    let even = |rect: &Rect| (rect.left_m + rect.right_m).abs() < 1e-9;
    let half = inclusions.iter().all(|i| even(&i.rect)) && tubes.iter().all(|t| even(&t.bounds()));
    let (width_m, shift_m) =
        if half { (spacing_m / 2.0, 0.0) } else { (spacing_m, spacing_m / 2.0) };
    let limit = |rect: Rect| Rect {
        left_m: (rect.left_m + shift_m).max(0.0),
        right_m: (rect.right_m + shift_m).min(width_m),
        bottom_m: rect.bottom_m.max(0.0),
        top_m: rect.top_m.min(height_m),
    };
    let section = Section {
        width_m,
        layers,
        inclusions: inclusions
            .into_iter()
            .map(|inclusion| Inclusion { rect: limit(inclusion.rect), ..inclusion })
            .collect(),
        tubes: tubes.into_iter().map(|tube| moved(tube, shift_m, limit)).collect(),
        above: side(row.get("h_top"))?,
        below: side(row.get("bottom_bc"))?,
    };
    let temperatures = Temperatures::of_water(
        number(need(row, "T_tube_outer_C")?)?,
        number(need(row, "T_room_C")?)?,
        number(need(row, "T_below_C")?)?,
    );
    Ok(Case { section, temperatures })
}

fn moved(tube: Tube, shift_m: f64, limit: impl Fn(Rect) -> Rect) -> Tube {
    let shape = match tube.shape {
        Shape::Round { x_m, y_m, diameter_m } => {
            Shape::Round { x_m: x_m + shift_m, y_m, diameter_m }
        }
        Shape::Block(rect) => Shape::Block(limit(rect)),
    };
    Tube { shape, ..tube }
}

fn need<'a>(row: &'a Row, name: &str) -> Result<&'a str, String> {
    row.get(name).ok_or_else(|| format!("no {name}: give one"))
}

/// The number at the begin of a text, whatever unit follows.
fn number(text: &str) -> Result<f64, String> {
    let text = text.trim();
    let ends = |(at, letter): (usize, char)| {
        let exponent = matches!(letter, 'e' | 'E')
            && text[at + 1..].starts_with(|c: char| c.is_ascii_digit() || c == '-' || c == '+');
        (!(letter.is_ascii_digit() || matches!(letter, '.' | '-' | '+') || exponent)).then_some(at)
    };
    let end = text.char_indices().find_map(ends).unwrap_or(text.len());
    text[..end].parse().map_err(|_| format!("\"{text}\" is no number"))
}

/// The number after a mark such as `k=`.
fn after(text: &str, mark: &str) -> Result<f64, String> {
    let at = text.find(mark).ok_or_else(|| format!("no {mark} in \"{text}\""))?;
    number(&text[at + mark.len()..])
}

fn layer(text: &str) -> Result<Layer, String> {
    Ok(Layer::new(1e-3 * number(text)?, after(text, "k=")?))
}

/// Two numbers in millimetres after a mark, as `from..to`, in metres.
fn span(text: &str, mark: &str) -> Result<(f64, f64), String> {
    let at = text.find(mark).ok_or_else(|| format!("no {mark} in \"{text}\""))?;
    let rest = &text[at + mark.len()..];
    let (from, to) = rest.split_once("..").ok_or_else(|| format!("no span in \"{text}\""))?;
    Ok((1e-3 * number(from)?, 1e-3 * number(to)?))
}

/// A rectangle: `|x|<=60mm y=1..2mm`, or `x=10..20mm y=1..2mm`.
fn rect(text: &str) -> Result<Rect, String> {
    let (left_m, right_m) = if text.contains("|x|<=") {
        let reach = 1e-3 * after(text, "|x|<=")?;
        (-reach, reach)
    } else {
        span(text, "x=")?
    };
    let (bottom_m, top_m) = span(text, "y=")?;
    Ok(Rect { left_m, right_m, bottom_m, top_m })
}

/// Rectangles with their conductivity, one after another.
fn inclusions(text: &str) -> Result<Vec<Inclusion>, String> {
    let mut out = Vec::new();
    let mut rest = next(text);
    while !rest.is_empty() {
        let at = rest.find("k=").ok_or_else(|| format!("no k= in \"{rest}\""))?;
        let end = rest[at..].find([' ', '|', ';']).map_or(rest.len(), |length| at + length);
        out.push(Inclusion::new(rect(&rest[..at])?, number(&rest[at + 2..end])?));
        rest = next(&rest[end..]);
    }
    Ok(out)
}

/// What follows the marks between two rectangles.
fn next(text: &str) -> &str {
    let text = text.trim_start_matches([' ', ';']).trim_end();
    if text.starts_with("|x|") { text } else { text.trim_start_matches(['|', ' ']) }
}

/// `circle D=16mm centre x=0 y=100mm` or `isothermal rect …`; several with `;` between them.
fn tubes(text: &str) -> Result<Vec<Tube>, String> {
    let one = |text: &str| {
        if text.contains("circle") {
            let x = 1e-3 * after(text, "x=")?;
            let y = 1e-3 * after(text, "y=")?;
            Ok(Tube::round(x, y, 1e-3 * after(text, "D=")?))
        } else if text.contains("rect") {
            Ok(Tube::block(rect(text)?))
        } else {
            Err(format!("\"{text}\" is no tube: give a circle or a rect"))
        }
    };
    let given = text.split(';').map(str::trim).filter(|text| !text.is_empty() && *text != "none");
    given.map(one).collect()
}

/// `10.8`, `h=5.88` or `T fixed …`; `adiabatic` or nothing at all passes no heat.
fn side(text: Option<&str>) -> Result<Side, String> {
    match text {
        None => Ok(Side::Insulated),
        Some(text) if text.contains("adiabatic") => Ok(Side::Insulated),
        Some(text) if text.contains("fixed") => Ok(Side::Held),
        Some(text) => {
            let coefficient_w_m2k = number(text.trim_start_matches("h=").trim())?;
            Ok(Side::Film { coefficient_w_m2k })
        }
    }
}
