//! The line of JSON that tells what became of a row.

use serde_json::{Value, json};
use solve::section::{Port, Solved};

use crate::case::Case;

/// The record of a solved row, conductances for each square metre of floor.
pub(crate) fn of(id: &str, case: &Case, solved: &Solved, us: f64) -> Value {
    let state = solved.superpose(&case.temperatures);
    let tubes = 0..case.section.tubes.len();
    let all = |port: Port| -> f64 {
        tubes.clone().fold(0.0, |sum, tube| sum + solved.conductance_w_m2k(Port::Tube(tube), port))
    };
    let error = solved.error();
    json!({
        "id": id,
        "q_up_W_m2": state.up_w_m2,
        "q_down_W_m2": state.down_w_m2,
        "Ts_min_C": state.above.min.celsius,
        "Ts_mean_C": state.above.mean_c,
        "Ts_max_C": state.above.max.celsius,
        "K_tube_room": all(Port::Room),
        "K_tube_below": all(Port::Below),
        "K_room_below": solved.conductance_w_m2k(Port::Room, Port::Below),
        "cells": solved.cells(),
        "us": us,
        "est_rel_error_K": error.conductance,
        "est_error_Ts_K_K": error.surface_k_k,
        "error": null,
    })
}

/// The record of a row that could not be read or solved.
pub(crate) fn failed(id: &str, reason: &str) -> Value {
    json!({
        "id": id, "q_up_W_m2": null, "q_down_W_m2": null, "Ts_min_C": null, "Ts_mean_C": null,
        "Ts_max_C": null, "K_tube_room": null, "K_tube_below": null, "K_room_below": null,
        "cells": 0, "us": 0.0, "error": reason,
    })
}
