//! Heat and temperatures of a section at given temperatures.

use super::solved::weighed;
use super::{Field, Solved};

/// The temperatures that drive a section, degrees Celsius.
#[derive(Debug, Clone, PartialEq)]
pub struct Temperatures {
    /// Water in each tube; the last one holds for all further tubes.
    pub tubes_c: Vec<f64>,
    /// The room above.
    pub room_c: f64,
    /// What is below.
    pub below_c: f64,
}

/// Heat and temperatures of a section.
#[derive(Debug, Clone, PartialEq)]
pub struct State {
    /// Heat into the room for each square metre of floor.
    pub up_w_m2: f64,
    /// Heat to what is below for each square metre of floor.
    pub down_w_m2: f64,
    /// The upper surface.
    pub above: Surface,
    /// The lower surface.
    pub below: Surface,
    /// Each tube.
    pub tubes: Vec<TubeState>,
}

/// Temperatures of a surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surface {
    /// The coolest place.
    pub min: Extreme,
    /// The mean over the surface, degrees Celsius.
    pub mean_c: f64,
    /// The warmest place.
    pub max: Extreme,
}

/// A temperature and where it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extreme {
    /// Temperature.
    pub celsius: f64,
    /// Place from the left.
    pub x_m: f64,
}

/// Heat and temperature of a tube.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TubeState {
    /// Heat out of the water for each metre of whole tube.
    pub heat_w_m: f64,
    /// Outer surface, degrees Celsius.
    pub surface_c: f64,
}

impl Temperatures {
    /// The same water in all tubes.
    pub fn of_water(tubes_c: f64, room_c: f64, below_c: f64) -> Self {
        Self { tubes_c: vec![tubes_c], room_c, below_c }
    }
}

impl Solved {
    /// Heat and temperatures at those temperatures.
    pub fn superpose(&self, temperatures: &Temperatures) -> State {
        let ports = self.ports_c(temperatures);
        let surfaces = self.surfaces_c(&ports);
        let out: Vec<f64> = self
            .wetted
            .conductances_w_mk
            .iter()
            .zip(&ports)
            .map(|(row, own)| {
                row.iter().zip(&ports).map(|(conductance, other)| conductance * (own - other)).sum()
            })
            .collect();
        let width_m = self.section.width_m;
        let tubes = self.section.tubes.iter().zip(&out).zip(&surfaces);
        let tubes = tubes.map(|((tube, heat), surface)| TubeState {
            heat_w_m: heat / tube.share(width_m),
            surface_c: *surface,
        });
        let count = self.section.tubes.len();
        State {
            up_w_m2: -out[count] / width_m,
            down_w_m2: -out[count + 1] / width_m,
            above: self.surface(&self.above, &self.means[0], &surfaces),
            below: self.surface(&self.below, &self.means[1], &surfaces),
            tubes: tubes.collect(),
        }
    }

    /// The water that all tubes need for a heat into the room, degrees Celsius; `None` where no tube
    /// warms the room.
    pub fn water_for_c(&self, up_w_m2: f64, room_c: f64, below_c: f64) -> Option<f64> {
        let with = |water_c: f64| {
            self.superpose(&Temperatures::of_water(water_c, room_c, below_c)).up_w_m2
        };
        let (idle, each) = (with(room_c), with(room_c + 1.0) - with(room_c));
        let water_c = room_c + (up_w_m2 - idle) / each;
        (each > 0.0 && water_c.is_finite()).then_some(water_c)
    }

    /// Temperatures of the whole section.
    pub fn field(&self, temperatures: &Temperatures) -> Field {
        let surfaces = self.surfaces_c(&self.ports_c(temperatures));
        let (x_m, y_m) = (self.grid.x_m.clone(), self.grid.y_m.clone());
        let celsius = weighed(&self.fields, &surfaces, x_m.len() * y_m.len());
        Field { x_m, y_m, celsius }
    }

    /// Temperature of each port.
    fn ports_c(&self, temperatures: &Temperatures) -> Vec<f64> {
        let given = &temperatures.tubes_c;
        let water = |i: usize| given.get(i).or(given.last()).copied();
        let tubes = 0..self.section.tubes.len();
        let mut ports: Vec<f64> = tubes.map(|i| water(i).unwrap_or(temperatures.room_c)).collect();
        ports.extend([temperatures.room_c, temperatures.below_c]);
        ports
    }

    /// Temperatures of the tubes' outer surfaces, of the room and of what is below.
    fn surfaces_c(&self, ports: &[f64]) -> Vec<f64> {
        let rows = self.wetted.surfaces.iter();
        rows.map(|row| row.iter().zip(ports).map(|(share, t)| share * t).sum()).collect()
    }

    fn surface(&self, units: &[Vec<f64>], means: &[f64], surfaces: &[f64]) -> Surface {
        let profile = weighed(units, surfaces, self.x_m.len());
        let first = Extreme { celsius: profile.first().copied().unwrap_or(0.0), x_m: 0.0 };
        let (mut min, mut max) = (first, first);
        for (x_m, celsius) in self.x_m.iter().zip(&profile) {
            let here = Extreme { celsius: *celsius, x_m: *x_m };
            min = if here.celsius < min.celsius { here } else { min };
            max = if here.celsius > max.celsius { here } else { max };
        }
        let mean_c = means.iter().zip(surfaces).map(|(mean, t)| mean * t).sum();
        Surface { min, mean_c, max }
    }
}
