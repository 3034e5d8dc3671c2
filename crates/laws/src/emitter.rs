//! Output of emitters other than floors, from their rating.

use crate::declare::laws;

laws! { topic "other emitters";
    /// Output of an emitter at other temperatures than its rating.
    ///
    /// Mean water excess taken as the plain mean of supply and return over the room, as in the
    /// rating. None where the water is no warmer than the room.
    EMITTER_OUTPUT: fn emitter_output(
        /// output of the rating
        rated_w: f64 ["Φn", Power, 0.0..=1000000.0],
        /// mean water excess of the rating
        rated_excess_k: f64 ["ΔTn", TemperatureDifference, 5.0..=100.0],
        /// mean water excess
        excess_k: f64 ["ΔT", TemperatureDifference, 0.0..=100.0],
        /// exponent of the emitter
        exponent: f64 ["n", Ratio, 1.0..=1.6],
    ) -> f64 [output_w "Φ" Power];
    formula "Φ = Φn (ΔT / ΔTn)^n";
    source "EN 442-2", "characteristic equation", Memory;
    {
        rated_w * (excess_k.max(0.0) / rated_excess_k).powf(exponent)
    }
}
