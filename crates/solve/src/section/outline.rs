//! What a section asks of its grid: lines at edges, fine cells where the field bends.

use super::lines::Axis;
use super::tube::Polygon;
use super::{Inclusion, Rect, Section, Shape, Tube};

/// Cells at a tube, as a share of its diameter.
const AT_TUBE: f64 = 0.25;

/// Cells at the end of an inclusion, as a share of the section's smaller side.
const AT_EDGE: f64 = 0.02;

/// Cells where a tube meets a sheet, as a share of the sheet's thickness.
const AT_SHEET: f64 = 1.0;

/// Cells at the end of a sheet, as a share of its thickness.
const AT_END: f64 = 1.0;

/// A polygon that touches a sheet has so many times the corners: it lies on the circle, so is
/// smaller than one of equal conductance by less.
const TOUCHING: usize = 2;

/// Rounding of lines and of figures as typed.
const SLACK_M: f64 = 2e-6;

/// The outline of a tube.
#[derive(Debug, Clone)]
pub(crate) enum Outline {
    Polygon(Polygon),
    Block(Rect),
}

impl Outline {
    /// Whether a place lies in the tube or on its outline, up to the rounding of lines.
    pub(crate) fn holds(&self, x: f64, y: f64) -> bool {
        match self {
            Self::Polygon(polygon) => polygon.holds(x, y),
            Self::Block(rect) => {
                x >= rect.left_m - SLACK_M
                    && x <= rect.right_m + SLACK_M
                    && y >= rect.bottom_m - SLACK_M
                    && y <= rect.top_m + SLACK_M
            }
        }
    }
}

impl Section {
    /// Inclusions that a tube meets from outside, such as a plate on it.
    pub(crate) fn sheets_at(&self, tube: &Tube) -> impl Iterator<Item = &Inclusion> {
        let bounds = tube.bounds();
        self.inclusions.iter().filter(move |inclusion| inclusion.rect.meets(&bounds))
    }
}

impl Rect {
    /// Whether two rectangles touch without overlapping.
    fn meets(&self, other: &Self) -> bool {
        let across_m = self.right_m.min(other.right_m) - self.left_m.max(other.left_m);
        let up_m = self.top_m.min(other.top_m) - self.bottom_m.max(other.bottom_m);
        across_m.min(up_m).abs() <= SLACK_M
    }

    /// The shorter side.
    fn thickness_m(&self) -> f64 {
        (self.right_m - self.left_m).min(self.top_m - self.bottom_m)
    }
}

/// Both axes with all material edges and the edges of blocks.
pub(crate) fn edges(section: &Section) -> (Axis, Axis) {
    let (mut across, mut up) = (Axis::default(), Axis::default());
    let mut top_m = 0.0;
    for layer in &section.layers {
        top_m += layer.thickness_m;
        up.edge(top_m);
    }
    let blocks = section.tubes.iter().filter_map(|tube| match tube.shape {
        Shape::Block(rect) => Some(rect),
        Shape::Round { .. } => None,
    });
    for rect in section.inclusions.iter().map(|inclusion| inclusion.rect).chain(blocks) {
        across.edge(rect.left_m);
        across.edge(rect.right_m);
        up.edge(rect.bottom_m);
        up.edge(rect.top_m);
    }
    (across, up)
}

/// The outline of each tube; lines through corners of polygons are added to the axes.
pub(crate) fn outlines(
    section: &Section,
    corners: usize,
    across: &mut Axis,
    up: &mut Axis,
) -> Vec<Outline> {
    let (x_m, y_m) = (across.edges_m(section.width_m), up.edges_m(section.height_m()));
    let outline = |tube: &Tube| match tube.shape {
        Shape::Block(rect) => Outline::Block(rect),
        Shape::Round { x_m: x, y_m: y, diameter_m } => {
            let around = section.material(x, y).conductivity_w_mk;
            let touching =
                section.sheets_at(tube).any(|sheet| sheet.material.conductivity_w_mk > around);
            let corners = if touching { TOUCHING * corners } else { corners };
            let polygon = Polygon::new((x, y, diameter_m), corners, touching, &x_m, &y_m);
            for (axis, lines) in [&mut *across, &mut *up].into_iter().zip(polygon.lines_m()) {
                let least = lines.iter().copied().fold(f64::INFINITY, f64::min);
                let most = lines.iter().copied().fold(f64::NEG_INFINITY, f64::max);
                // Other lines would cut slanting edges elsewhere than at corners of cells.
                axis.keep_whole(least, most);
                lines.into_iter().for_each(|at| axis.edge(at));
            }
            Outline::Polygon(polygon)
        }
    };
    section.tubes.iter().map(outline).collect()
}

/// Where the field bends: at tubes and at the ends of inclusions.
pub(crate) fn bends(section: &Section, across: &mut Axis, up: &mut Axis) {
    for tube in &section.tubes {
        let b = tube.bounds();
        let mut size_m = AT_TUBE * b.thickness_m();
        // Heat enters a sheet at the tube's edge on the scale of the sheet's thickness.
        for sheet in section.sheets_at(tube) {
            size_m = size_m.min(AT_SHEET * sheet.rect.thickness_m());
            if let Shape::Round { x_m, y_m, .. } = tube.shape {
                across.bend(x_m, size_m);
                up.bend(y_m, size_m);
            }
        }
        [b.left_m, b.right_m].into_iter().for_each(|at| across.bend(at, size_m));
        [b.bottom_m, b.top_m].into_iter().for_each(|at| up.bend(at, size_m));
    }
    let usual_m = AT_EDGE * section.width_m.min(section.height_m());
    for inclusion in &section.inclusions {
        let b = inclusion.rect;
        let size_m = usual_m.min(AT_END * b.thickness_m());
        [b.left_m, b.right_m].into_iter().for_each(|at| across.bend(at, size_m));
        [b.bottom_m, b.top_m].into_iter().for_each(|at| up.bend(at, size_m));
    }
}
