//! Whether a section makes sense.

use std::ops::RangeInclusive;

use super::{Material, Rect, Section, SectionError, Shape, Side, Tube};

/// Lengths of a floor, metres: from less than any foil to more than any building.
const SENSIBLE_M: RangeInclusive<f64> = 1e-5..=1e3;

/// All other figures, so that their products and quotients can be reckoned with.
const SENSIBLE: RangeInclusive<f64> = 1e-9..=1e9;

/// Things may stand out of the section by this share of its size: they were typed rounded.
const ROUNDING: f64 = 1e-6;

/// The first thing that makes no sense.
pub(crate) fn section(section: &Section) -> Result<(), SectionError> {
    if section.layers.is_empty() {
        return Err(SectionError::NoLayers);
    }
    length("the section", "width", section.width_m)?;
    for (i, layer) in section.layers.iter().enumerate() {
        let whose = format!("layer {} from the bottom", i + 1);
        length(&whose, "thickness", layer.thickness_m)?;
        material(&whose, &layer.material)?;
    }
    for (i, inclusion) in section.inclusions.iter().enumerate() {
        let whose = format!("inclusion {}", i + 1);
        rect(&whose, &inclusion.rect)?;
        material(&whose, &inclusion.material)?;
        inside(section, &whose, &inclusion.rect)?;
    }
    side("the surface above", &section.above)?;
    side("the surface below", &section.below)?;
    for (i, tube) in section.tubes.iter().enumerate() {
        one_tube(section, i, tube)?;
    }
    apart(&section.tubes)?;
    let insulated = [section.above, section.below].iter().all(|side| !side.passes());
    if section.tubes.is_empty() && insulated {
        return Err(SectionError::NothingHeld);
    }
    Ok(())
}

impl Side {
    /// Whether any heat can pass.
    pub(super) fn passes(&self) -> bool {
        match self {
            Self::Film { coefficient_w_m2k } => *coefficient_w_m2k > 0.0,
            Self::Held => true,
            Self::Insulated => false,
        }
    }
}

fn positive(whose: &str, what: &'static str, value: f64) -> Result<(), SectionError> {
    within(SENSIBLE, whose, what, value)
}

fn length(whose: &str, what: &'static str, value: f64) -> Result<(), SectionError> {
    within(SENSIBLE_M, whose, what, value)
}

fn within(
    range: RangeInclusive<f64>,
    whose: &str,
    what: &'static str,
    value: f64,
) -> Result<(), SectionError> {
    if range.contains(&value) {
        return Ok(());
    }
    Err(SectionError::NotSensible { whose: whose.to_owned(), what, value })
}

fn material(whose: &str, material: &Material) -> Result<(), SectionError> {
    positive(whose, "conductivity", material.conductivity_w_mk)?;
    let capacity = material.heat_capacity_j_m3k;
    if capacity == 0.0 { Ok(()) } else { positive(whose, "heat capacity", capacity) }
}

fn side(whose: &str, side: &Side) -> Result<(), SectionError> {
    match side {
        Side::Film { coefficient_w_m2k } => {
            positive(whose, "surface coefficient", *coefficient_w_m2k)
        }
        Side::Held | Side::Insulated => Ok(()),
    }
}

fn rect(whose: &str, rect: &Rect) -> Result<(), SectionError> {
    length(whose, "width", rect.right_m - rect.left_m)?;
    length(whose, "height", rect.top_m - rect.bottom_m)
}

fn inside(section: &Section, whose: &str, bounds: &Rect) -> Result<(), SectionError> {
    let (width, height) = (section.width_m, section.height_m());
    let slack = ROUNDING * (width + height);
    let x = |x: f64| x >= -slack && x <= width + slack;
    let y = |y: f64| y >= -slack && y <= height + slack;
    let corners = [(bounds.left_m, bounds.bottom_m), (bounds.right_m, bounds.top_m)];
    match corners.into_iter().find(|at| !(x(at.0) && y(at.1))) {
        None => Ok(()),
        Some(at) => {
            Err(SectionError::Outside { what: whose.to_owned(), at, size: (width, height) })
        }
    }
}

fn one_tube(section: &Section, index: usize, tube: &Tube) -> Result<(), SectionError> {
    let whose = format!("tube {}", index + 1);
    if tube.resistance_mk_w != 0.0 {
        positive(&whose, "resistance of film and wall", tube.resistance_mk_w)?;
    }
    let mut bounds = tube.bounds();
    let slack = ROUNDING * (section.width_m + section.height_m());
    match tube.shape {
        Shape::Block(block) => rect(&whose, &block)?,
        Shape::Round { x_m, y_m, diameter_m } => {
            length(&whose, "diameter", diameter_m)?;
            let on_side = x_m.abs() <= slack || (x_m - section.width_m).abs() <= slack;
            let (left, right) = (bounds.left_m, bounds.right_m);
            if on_side {
                bounds.left_m = left.max(0.0);
                bounds.right_m = right.min(section.width_m);
            } else if (0.0..=section.width_m).contains(&x_m)
                && (left < -slack || right > section.width_m + slack)
            {
                return Err(SectionError::CutTube { tube: index + 1, at: (x_m, y_m) });
            }
        }
    }
    inside(section, &whose, &bounds)?;
    let touches_below = bounds.bottom_m <= slack && section.below == Side::Held;
    let touches_above = bounds.top_m >= section.height_m() - slack && section.above == Side::Held;
    if touches_below || touches_above {
        return Err(SectionError::TubeAtHeldSide { tube: index + 1 });
    }
    Ok(())
}

/// Whether all tubes keep clear of each other.
fn apart(tubes: &[Tube]) -> Result<(), SectionError> {
    for (i, a) in tubes.iter().enumerate() {
        for (j, b) in tubes.iter().enumerate().skip(i + 1) {
            if let Some(at) = common(a, b) {
                return Err(SectionError::TubesOverlap { tubes: (i + 1, j + 1), at });
            }
        }
    }
    Ok(())
}

/// A place in both tubes.
fn common(a: &Tube, b: &Tube) -> Option<(f64, f64)> {
    let (p, q) = (a.bounds(), b.bounds());
    let left = p.left_m.max(q.left_m);
    let right = p.right_m.min(q.right_m);
    let bottom = p.bottom_m.max(q.bottom_m);
    let top = p.top_m.min(q.top_m);
    if left > right || bottom > top {
        return None;
    }
    let middle = ((left + right) / 2.0, (bottom + top) / 2.0);
    let apart = match (a.shape, b.shape) {
        (
            Shape::Round { x_m: ax, y_m: ay, diameter_m: ad },
            Shape::Round { x_m: bx, y_m: by, diameter_m: bd },
        ) => (ax - bx).hypot(ay - by) - (ad + bd) / 2.0,
        (Shape::Round { x_m, y_m, diameter_m }, Shape::Block(r))
        | (Shape::Block(r), Shape::Round { x_m, y_m, diameter_m }) => {
            let nearest = (x_m.clamp(r.left_m, r.right_m), y_m.clamp(r.bottom_m, r.top_m));
            (x_m - nearest.0).hypot(y_m - nearest.1) - diameter_m / 2.0
        }
        (Shape::Block(_), Shape::Block(_)) => 0.0,
    };
    (apart <= 0.0).then_some(middle)
}
