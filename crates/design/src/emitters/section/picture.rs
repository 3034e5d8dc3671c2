//! A floor's section with its temperatures, to be drawn to scale.

use super::whole::{FloorSection, Named};
use plane::Point;
use quantity::{Measure, System};
use solve::section::{Accuracy, Field, Solved, Temperatures};

/// Steps between lines of equal temperature, in degrees of the system shown first.
const STEPS: [f64; 6] = [0.5, 1.0, 2.0, 5.0, 10.0, 20.0];
/// Lines that one picture shows at most.
const LINES_MOST: f64 = 9.0;
/// Zero Celsius in kelvin.
const ZERO_K: f64 = 273.15;

/// Half a spacing of a floor from the axis of a tube to the middle between two, in metres from
/// the floor's underside upward and kelvin.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionPicture {
    /// From the tube to the middle.
    pub width_m: f64,
    /// Layers from the room down.
    pub layers: Vec<PictureLayer>,
    /// Height of the tube's middle.
    pub tube_y_m: f64,
    /// Outside and inside diameter of the tube.
    pub tube_m: [f64; 2],
    /// Lower left and upper right corner of the metal sheet.
    pub sheet: Option<[Point; 2]>,
    /// Lines of equal temperature, coolest first.
    pub isotherms: Vec<Isotherm>,
    /// Mean water, room, and what is below; none where no heat leaves by resistance.
    pub water_k: f64,
    /// The room above.
    pub room_k: f64,
    /// Share of the floor under rugs, which the picture leaves out; none without any.
    pub under_rugs: Option<f64>,
    /// What is below; none where no heat leaves that way by resistance.
    pub below_k: Option<f64>,
    /// Heat into the room, W/m².
    pub up_w_m2: f64,
    /// Heat to what is below and by the slab's edge, W/m².
    pub down_w_m2: f64,
}

/// One layer of a section.
#[derive(Clone, Debug, PartialEq)]
pub struct PictureLayer {
    /// What it is.
    pub name: String,
    /// Its lower and upper edge.
    pub between_m: [f64; 2],
    /// Whether its height is known; only its resistance is otherwise.
    pub to_scale: bool,
    /// Its conductivity, W/mK.
    pub conductivity_w_mk: f64,
    /// Whether the tube lies in it.
    pub holds_tube: bool,
    /// Temperature of its upper edge over a tube.
    pub over_tube_k: f64,
    /// The same midway between tubes.
    pub midway_k: f64,
}

/// One line of equal temperature.
#[derive(Clone, Debug, PartialEq)]
pub struct Isotherm {
    /// Its temperature.
    pub kelvin: f64,
    /// Its parts, each from end to end.
    pub lines: Vec<Vec<Point>>,
}

impl FloorSection {
    /// The section with its temperatures; lines at whole degrees of that system.
    ///
    /// # Errors
    /// What makes no sense about the section, in words.
    pub fn picture(&self, first: System) -> Result<SectionPicture, String> {
        let section = self.section();
        let solved = section.solve(&Accuracy::default()).map_err(|error| error.to_string())?;
        let below_c = self.beyond.below_k - ZERO_K;
        let (water_c, room_c) = (self.water_k - ZERO_K, self.room_k - ZERO_K);
        let behind_edge_c = water_c - self.held_back_k;
        let temperatures = Temperatures::of_water(behind_edge_c, room_c, below_c);
        let state = solved.superpose(&temperatures);
        let field = solved.field(&temperatures);
        let bounds = section.tubes.first().map(|tube| tube.bounds());
        let tube_y_m = bounds.map_or(0.0, |bounds| (bounds.bottom_m + bounds.top_m) / 2.0);
        let sheet = section.inclusions.first().map(|inclusion| {
            let rect = inclusion.rect;
            [Point::new(rect.left_m, rect.bottom_m), Point::new(rect.right_m, rect.top_m)]
        });
        let below_k = self.beyond.resistance_m2k_w.is_finite().then_some(self.beyond.below_k);
        Ok(SectionPicture {
            width_m: section.width_m,
            layers: self.layers(&solved, &field),
            tube_y_m,
            tube_m: [self.whole.cut.tube_m, self.bore_m],
            sheet,
            isotherms: isotherms(&field, first),
            water_k: self.water_k,
            room_k: self.room_k,
            under_rugs: self.under_rugs,
            below_k,
            up_w_m2: state.up_w_m2,
            down_w_m2: state.down_w_m2 + self.beyond.edge_w_m2,
        })
    }

    fn layers(&self, solved: &Solved, field: &Field) -> Vec<PictureLayer> {
        let whole = &self.whole;
        let holder = Named { name: whole.holder.clone(), slab: whole.cut.holder, to_scale: true };
        let under = whole.under.iter().map(|layer| (layer, false));
        let all = under.chain([(&holder, true)]).chain(whole.over.iter().map(|it| (it, false)));
        let spread_m = solved_extra_m(self);
        let mut bottom_m = 0.0;
        let mut layers = Vec::new();
        for (layer, holds_tube) in all {
            let top_m = bottom_m + layer.slab.thickness_m;
            let at = |x_m: f64| field.celsius_at(x_m, top_m).unwrap_or(f64::NAN) + ZERO_K;
            layers.push(PictureLayer {
                name: layer.name.clone(),
                between_m: [bottom_m, top_m],
                to_scale: layer.to_scale,
                conductivity_w_mk: layer.slab.conductivity_w_mk,
                holds_tube,
                over_tube_k: at(0.0),
                midway_k: at(solved.places_m().last().copied().unwrap_or(0.0)),
            });
            bottom_m = top_m + if holds_tube { spread_m } else { 0.0 };
        }
        layers.reverse();
        layers
    }
}

/// Height that a metal sheet and its contact take up on the layer with the tube, metres.
fn solved_extra_m(section: &FloorSection) -> f64 {
    let own: f64 = section.section().height_m();
    let slabs = section.whole.over.iter().chain(&section.whole.under);
    own - section.whole.cut.holder.thickness_m - slabs.map(|it| it.slab.thickness_m).sum::<f64>()
}

/// Lines at round degrees of that system, no more than can be told apart.
fn isotherms(field: &Field, first: System) -> Vec<Isotherm> {
    let scale = Measure::Temperature.shown_unit(first);
    let degrees = |celsius: f64| scale.from_si(celsius + ZERO_K);
    let least = degrees(field.celsius.iter().copied().fold(f64::INFINITY, f64::min));
    let most = degrees(field.celsius.iter().copied().fold(f64::NEG_INFINITY, f64::max));
    let fits = |step: &&f64| (most - least) / **step <= LINES_MOST;
    let step = STEPS.iter().find(fits).unwrap_or(&STEPS[STEPS.len() - 1]);
    let count = ((most - least) / step).clamp(0.0, 2.0 * LINES_MOST) as usize;
    let levels = (0..=count).map(|number| ((least / step).floor() + number as f64 + 1.0) * step);
    levels
        .filter(|level| *level < most)
        .map(|level| {
            let kelvin = scale.to_si(level);
            let lines = field.isolines(kelvin - ZERO_K).into_iter();
            let points = |line: Vec<(f64, f64)>| {
                line.into_iter().map(|(x_m, y_m)| Point::new(x_m, y_m)).collect()
            };
            Isotherm { kelvin, lines: lines.map(points).collect() }
        })
        .collect()
}
