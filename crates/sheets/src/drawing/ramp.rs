//! Colours: ink, paper, and a ramp for water temperature.

/// A colour by its red, green and blue, 0 to 255.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

pub(crate) const INK: Colour = Colour(0x22, 0x25, 0x28);
pub(crate) const PAPER: Colour = Colour(0xff, 0xff, 0xff);
pub(crate) const POCHE: Colour = Colour(0xb9, 0xb6, 0xae);
/// The floor of a room that nobody heats.
pub(crate) const COLD: Colour = Colour(0xe6, 0xe8, 0xea);
pub(crate) const FAINT: Colour = Colour(0x6b, 0x6f, 0x73);
pub(crate) const ALARM: Colour = Colour(0xa8, 0x10, 0x30);
/// Floor over tube, light enough for letters on it.
pub(crate) const BAND: Colour = Colour(0xf3, 0xd2, 0xa4);
/// Floor over leaders: darker, so that it is told apart in grey.
pub(crate) const BAND_LEADERS: Colour = Colour(0xd9, 0x9a, 0x58);
pub(crate) const GLASS: Colour = Colour(0x2f, 0x5d, 0x7c);

/// From blue by violet to orange, each lighter than the one before: told apart without red and
/// green, and in grey; all dark enough to be seen on white.
const STOPS: [Colour; 4] = [
    Colour(0x14, 0x3c, 0x8c),
    Colour(0x6a, 0x3d, 0x9a),
    Colour(0xc2, 0x3b, 0x6e),
    Colour(0xe0, 0x6a, 0x12),
];

/// Steps of the ramp: enough to look even, few enough to keep the drawing small.
pub(crate) const STEPS: usize = 16;

/// Every sixteenth colour of `inferno`, its darkest left out: perceptually even, ever lighter, told
/// apart with any colour vision and in grey. By N. J. Smith and S. van der Walt, CC0
/// (github.com/BIDS/colormap).
const INFERNO: [Colour; 15] = [
    Colour(33, 12, 74),
    Colour(61, 9, 101),
    Colour(87, 16, 110),
    Colour(113, 25, 110),
    Colour(138, 34, 106),
    Colour(163, 44, 97),
    Colour(188, 55, 84),
    Colour(210, 70, 68),
    Colour(228, 90, 49),
    Colour(241, 115, 29),
    Colour(249, 142, 9),
    Colour(252, 172, 17),
    Colour(249, 203, 53),
    Colour(242, 234, 105),
    Colour(252, 255, 164),
];

/// That many colours of warmth, the coolest first.
pub(crate) fn warm_colours(count: usize) -> Vec<Colour> {
    (0..count).map(|number| along(&INFERNO, number, count)).collect()
}

/// The coolest and the warmest water of a drawing, in kelvin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Ramp {
    pub(crate) cool_k: f64,
    pub(crate) warm_k: f64,
}

impl Ramp {
    /// The step of a temperature, from 0 to [`STEPS`] less one.
    pub(crate) fn step(self, temperature_k: f64) -> usize {
        let span = self.warm_k - self.cool_k;
        let share = if span > 0.0 { (temperature_k - self.cool_k) / span } else { 1.0 };
        ((share.clamp(0.0, 1.0) * STEPS as f64) as usize).min(STEPS - 1)
    }
}

/// The colour of a step.
pub(crate) fn colour(step: usize) -> Colour {
    along(&STOPS, step.min(STEPS - 1), STEPS)
}

/// One of so many colours along a line of stops.
fn along(stops: &[Colour], number: usize, count: usize) -> Colour {
    let last = stops.len() - 1;
    let along = number as f64 / (count.max(2) - 1) as f64 * last as f64;
    let at = (along as usize).min(last - 1);
    let (from, to, share) = (stops[at], stops[at + 1], along - at as f64);
    let mix = |a: u8, b: u8| (f64::from(a) + (f64::from(b) - f64::from(a)) * share).round() as u8;
    Colour(mix(from.0, to.0), mix(from.1, to.1), mix(from.2, to.2))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance (IEC 61966-2-1, ITU-R BT.709): what is left on a grey print.
    fn luminance(Colour(red, green, blue): Colour) -> f64 {
        let linear = |byte: u8| {
            let share = f64::from(byte) / 255.0;
            if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue)
    }

    #[test]
    fn warmer_is_lighter_in_grey() {
        let greys: Vec<f64> = warm_colours(64).into_iter().map(luminance).collect();
        assert!(greys.windows(2).all(|pair| pair[0] < pair[1]), "{greys:?}");
        assert!(greys[0] < 0.03 && greys[63] > 0.85);
    }
}
