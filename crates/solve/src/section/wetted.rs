//! Film and wall of tubes in series with the section.

use super::Section;

/// Ports that stand in the water instead of on the tubes' outer surfaces.
#[derive(Debug, Clone)]
pub(super) struct Wetted {
    /// Conductance between each two ports, W/(m·K).
    pub(super) conductances_w_mk: Vec<Vec<f64>>,
    /// Share of each port (second) in the temperature of each bare port (first).
    pub(super) surfaces: Vec<Vec<f64>>,
}

impl Wetted {
    /// Puts each tube's resistance on all heat that leaves it, wherever it goes.
    pub(super) fn new(section: &Section, bare_w_mk: &[Vec<f64>]) -> Self {
        let ports = bare_w_mk.len();
        // Heat out of each bare port as the sum of all bare temperatures.
        let heat: Vec<Vec<f64>> = (0..ports)
            .map(|a| {
                let own: f64 = bare_w_mk[a].iter().sum();
                (0..ports).map(|b| if a == b { own } else { -bare_w_mk[a][b] }).collect()
            })
            .collect();
        let resistance = |port: usize| {
            let tube = section.tubes.get(port);
            tube.map_or(0.0, |tube| tube.resistance_mk_w / tube.share(section.width_m))
        };
        // Water less resistance times heat is the surface: (1 + R·heat) · surface = water.
        let mut system: Vec<Vec<f64>> = (0..ports)
            .map(|a| {
                let unit = |b: usize| f64::from(u8::from(a == b));
                let left = (0..ports).map(|b| unit(b) + resistance(a) * heat[a][b]);
                left.chain((0..ports).map(unit)).collect()
            })
            .collect();
        eliminate(&mut system);
        let surfaces: Vec<Vec<f64>> = system.iter().map(|row| row[ports..].to_vec()).collect();
        let between = |a: usize, b: usize| -> f64 {
            -heat[a].iter().zip(&surfaces).map(|(heat, surface)| heat * surface[b]).sum::<f64>()
        };
        let conductances_w_mk = (0..ports)
            .map(|a| (0..ports).map(|b| if a == b { 0.0 } else { between(a, b) }).collect())
            .collect();
        Self { conductances_w_mk, surfaces }
    }
}

/// Brings the left square of the rows to one; it is diagonally dominant, so needs no pivoting.
fn eliminate(system: &mut [Vec<f64>]) {
    for pivot in 0..system.len() {
        let scale = system[pivot][pivot];
        system[pivot].iter_mut().for_each(|entry| *entry /= scale);
        let row = system[pivot].clone();
        for (_, other) in system.iter_mut().enumerate().filter(|(i, _)| *i != pivot) {
            let factor = other[pivot];
            other.iter_mut().zip(&row).for_each(|(entry, own)| *entry -= factor * own);
        }
    }
}
