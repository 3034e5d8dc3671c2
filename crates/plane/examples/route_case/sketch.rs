//! A drawing put together from rings, lines, tubes and dots.

use std::fmt::Write;

use crate::drawing::{COLOURS, Drawing};
use plane::{Path, Point};

/// Pixels to the metre.
const SCALE: f64 = 100.0;

/// Margin around the floor, pixels; the title stands above.
const MARGIN: f64 = 20.0;
const HEAD: f64 = 24.0;

/// A drawing in the making; y points up on the plan and down on the paper.
pub(crate) struct Sketch {
    low: Point,
    high: Point,
    svg: String,
}

impl Sketch {
    /// An empty drawing that is as large as all these places ask for.
    pub(crate) fn over(places: impl IntoIterator<Item = Point>, title: &str) -> Sketch {
        let far = Point::new(f64::INFINITY, f64::INFINITY);
        let (low, high) = places.into_iter().fold((far, -far), |(low, high), p| {
            (
                Point::new(low.x.min(p.x), low.y.min(p.y)),
                Point::new(high.x.max(p.x), high.y.max(p.y)),
            )
        });
        let (low, high) = if low.is_finite() { (low, high) } else { Default::default() };
        Sketch { low, high, svg: format!("<text x='{MARGIN}' y='18'>{title}</text>") }
    }

    pub(crate) fn ring(&mut self, ring: &[Point], style: &str) {
        let path = self.chain(ring);
        let _ = write!(self.svg, "<path d='{path}Z' {style}/>");
    }

    pub(crate) fn line(&mut self, [from, to]: [Point; 2], style: &str) {
        let path = self.chain(&[from, to]);
        let _ = write!(self.svg, "<path d='{path}' {style}/>");
    }

    pub(crate) fn tube(&mut self, number: usize, path: &Path) {
        let colour = COLOURS[number % COLOURS.len()];
        let path = self.chain(&path.chords(1e-3));
        let _ = write!(
            self.svg,
            "<path d='{path}' fill='none' stroke='{colour}' stroke-width='1.8' \
             stroke-linejoin='round'/>"
        );
    }

    pub(crate) fn dot(&mut self, at: Point, radius: f64, colour: &str) {
        let [x, y] = self.at(at);
        let _ = write!(self.svg, "<circle cx='{x:.1}' cy='{y:.1}' r='{radius}' fill='{colour}'/>");
    }

    pub(crate) fn finished(self) -> Drawing {
        let extent = (self.high - self.low) * SCALE;
        Drawing {
            svg: self.svg,
            width: (extent.x + 2.0 * MARGIN).max(640.0),
            height: extent.y + 2.0 * MARGIN + HEAD,
        }
    }

    fn at(&self, p: Point) -> [f64; 2] {
        [(p.x - self.low.x) * SCALE + MARGIN, (self.high.y - p.y) * SCALE + MARGIN + HEAD]
    }

    fn chain(&self, chain: &[Point]) -> String {
        let mut path = String::new();
        for (i, p) in chain.iter().enumerate() {
            let [x, y] = self.at(*p);
            let _ = write!(path, "{}{x:.2} {y:.2}", if i == 0 { 'M' } else { 'L' });
        }
        path
    }
}
