//! Bare tube in a joist bay, without plates.
//!
//! Nothing touches the tube but air, so this is not conduction: the tube warms the bay by
//! radiation and natural convection, the bay then gives its heat up through the floor and down
//! through the insulation. The bay is one temperature, to which its surfaces are tied by
//! the surface resistances of ISO 6946; joists store and pass nothing, and tubes of a
//! bay do not see each other. No published measurement of such a floor was at hand: the
//! result is [`Standing::Unchecked`], and a paper must say so.
//!
//! ```
//! use solve::cavity::{Bay, Cavity, Tubes};
//!
//! let bay = Bay { width_m: 0.4, up_m2k_w: 0.30, down_m2k_w: 3.5 };
//! let tubes = Tubes {
//!     count: 2,
//!     diameter_m: 0.0159,
//!     emissivity: 0.9,
//!     resistance_mk_w: 0.1,
//! };
//! let cavity = Cavity::settle(&bay, &tubes, 60.0, 20.0, 20.0)?;
//! assert!((40.0..80.0).contains(&cavity.up_w_m2), "{}", cavity.up_w_m2);
//! # Ok::<(), solve::cavity::CavityError>(())
//! ```

use std::f64::consts::PI;
use std::fmt;

/// Stefan and Boltzmann's constant, W/(m²·K⁴): CODATA.
const RADIATION_W_M2K4: f64 = 5.670374419e-8;

/// Zero Celsius in kelvins.
const ZERO_K: f64 = 273.15;

/// Standard gravity, m/s².
const GRAVITY_M_S2: f64 = 9.80665;

/// Halvings of the range in which a temperature is looked for.
const HALVINGS: usize = 60;

/// A joist bay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bay {
    /// Clear width between joists.
    pub width_m: f64,
    /// Resistance from the bay to the room: surface, subfloor, finish, surface.
    pub up_m2k_w: f64,
    /// Resistance from the bay to what is below: surface, insulation, ceiling, surface.
    pub down_m2k_w: f64,
}

/// The tubes of a bay, all alike.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tubes {
    /// Tubes side by side.
    pub count: u32,
    /// Outer diameter.
    pub diameter_m: f64,
    /// Emissivity of the tube; the bay around it is large and taken as black.
    pub emissivity: f64,
    /// Resistance of film and wall for each metre of tube.
    pub resistance_mk_w: f64,
}

/// What a bay settles to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cavity {
    /// Heat into the room for each square metre of bay.
    pub up_w_m2: f64,
    /// Heat to what is below for each square metre of bay.
    pub down_w_m2: f64,
    /// Heat out of each metre of tube.
    pub tube_w_m: f64,
    /// Temperature of the bay.
    pub bay_c: f64,
    /// Outer surface of the tubes.
    pub tube_surface_c: f64,
    /// How far the result may be trusted.
    pub standing: Standing,
}

/// How far a result may be trusted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Compared with nothing from outside.
    Unchecked,
}

/// A figure of a bay that makes no sense.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CavityError {
    /// Which figure.
    pub what: &'static str,
    /// What it was.
    pub value: f64,
}

impl fmt::Display for CavityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { what, value } = self;
        write!(f, "{what} of the joist bay is {value}: give a sensible number")
    }
}

impl std::error::Error for CavityError {}

impl Cavity {
    /// The bay in balance at that water, room and temperature below, degrees Celsius.
    ///
    /// # Errors
    /// Where a figure is not finite or out of any sense.
    pub fn settle(
        bay: &Bay,
        tubes: &Tubes,
        water_c: f64,
        room_c: f64,
        below_c: f64,
    ) -> Result<Self, CavityError> {
        check(bay, tubes, [water_c, room_c, below_c])?;
        let up = |bay_c: f64| (bay_c - room_c) / bay.up_m2k_w;
        let down = |bay_c: f64| (bay_c - below_c) / bay.down_m2k_w;
        let given = |bay_c: f64| f64::from(tubes.count) * tubes.heat_w_m(water_c, bay_c).0;
        let coolest = water_c.min(room_c).min(below_c);
        let warmest = water_c.max(room_c).max(below_c);
        // The warmer the bay, the less it takes and the more it gives.
        let bay_c =
            root(coolest, warmest, |bay_c| given(bay_c) - bay.width_m * (up(bay_c) + down(bay_c)));
        let (tube_w_m, tube_surface_c) = tubes.heat_w_m(water_c, bay_c);
        Ok(Self {
            up_w_m2: up(bay_c),
            down_w_m2: down(bay_c),
            tube_w_m,
            bay_c,
            tube_surface_c,
            standing: Standing::Unchecked,
        })
    }
}

impl Tubes {
    /// Heat out of a metre of tube into a bay, and the temperature of its outer surface.
    fn heat_w_m(&self, water_c: f64, bay_c: f64) -> (f64, f64) {
        let film = |surface_c: f64| {
            let around_m2_m = PI * self.diameter_m;
            let fourth = |celsius: f64| (celsius + ZERO_K).powi(4);
            let radiant = self.emissivity * RADIATION_W_M2K4 * (fourth(surface_c) - fourth(bay_c));
            let coefficient = convection_w_m2k(self.diameter_m, surface_c, bay_c);
            around_m2_m * (radiant + coefficient * (surface_c - bay_c))
        };
        // The wall gives `(water − surface) / R`; written so that no resistance at all will do.
        let surface_c = root(water_c.min(bay_c), water_c.max(bay_c), |surface_c| {
            water_c - surface_c - self.resistance_mk_w * film(surface_c)
        });
        (film(surface_c), surface_c)
    }
}

/// Natural convection around a horizontal cylinder in still air at sea level, W/(m²·K).
pub fn convection_w_m2k(diameter_m: f64, surface_c: f64, air_c: f64) -> f64 {
    // Dry air at the mean temperature: gas law and Sutherland's formulas of viscosity and
    // conductivity (from memory; within 1 % of tables from 0 to 100 °C).
    let kelvins = (surface_c + air_c) / 2.0 + ZERO_K;
    let density_kg_m3 = 101_325.0 / (287.05 * kelvins);
    let viscosity_pa_s = 1.458e-6 * kelvins.powf(1.5) / (kelvins + 110.4);
    let conductivity_w_mk = 2.495e-3 * kelvins.powf(1.5) / (kelvins + 194.0);
    let prandtl = 1006.0 * viscosity_pa_s / conductivity_w_mk;
    let kinematic_m2_s = viscosity_pa_s / density_kg_m3;
    let rayleigh = GRAVITY_M_S2 / kelvins * (surface_c - air_c).abs() * diameter_m.powi(3)
        / (kinematic_m2_s * kinematic_m2_s)
        * prandtl;
    nusselt(rayleigh, prandtl) * conductivity_w_mk / diameter_m
}

/// Mean Nusselt number of a horizontal cylinder (Churchill and Chu 1975), for Rayleigh numbers
/// from 1e-5 to 1e12.
pub fn nusselt(rayleigh: f64, prandtl: f64) -> f64 {
    let fluid = (1.0 + (0.559 / prandtl).powf(9.0 / 16.0)).powf(8.0 / 27.0);
    (0.60 + 0.387 * rayleigh.powf(1.0 / 6.0) / fluid).powi(2)
}

/// Where a falling function passes zero.
fn root(from: f64, to: f64, falling: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (from, to);
    for _ in 0..HALVINGS {
        let middle = (low + high) / 2.0;
        if falling(middle) > 0.0 { low = middle } else { high = middle }
    }
    (low + high) / 2.0
}

fn check(bay: &Bay, tubes: &Tubes, celsius: [f64; 3]) -> Result<(), CavityError> {
    let positive = [
        ("width", bay.width_m),
        ("resistance to the room", bay.up_m2k_w),
        ("resistance to what is below", bay.down_m2k_w),
        ("diameter of tube", tubes.diameter_m),
    ];
    let positive = positive.into_iter().map(|(what, value)| (what, value, value > 0.0));
    let others = [
        ("emissivity of tube", tubes.emissivity, (0.0..=1.0).contains(&tubes.emissivity)),
        ("resistance of tube", tubes.resistance_mk_w, tubes.resistance_mk_w >= 0.0),
    ];
    let temperatures = celsius.map(|value| ("temperature", value, value > -ZERO_K));
    let mut all = positive.chain(others).chain(temperatures);
    match all.find(|(_, value, sensible)| !(*sensible && value.is_finite())) {
        Some((what, value, _)) => Err(CavityError { what, value }),
        None => Ok(()),
    }
}
