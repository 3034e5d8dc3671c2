//! A room for grooved boards, read from a case file.

use crate::case::{list, point, ring};
use plane::Region;
use plane::boards::{Board, Floor};
use serde_json::Value;

/// Smallest bend of a tube whose case names none, in outside diameters (practice).
const BEND_DIAMETERS: f64 = 5.0;

/// The floor with boards of each pitch that the case lists.
///
/// # Errors
/// What is missing or unusable, in words.
pub(crate) fn floors(case: &Value) -> Result<Vec<Floor>, String> {
    let (room, boards, tube) = (&case["room"], &case["boards"], &case["tube"]);
    let number = |of: &Value, key: &str| of[key].as_f64().ok_or(format!("no `{key}`"));
    let count = |key: &str, silent: u64| boards[key].as_u64().unwrap_or(silent) as usize;
    let region = Region::simple(ring(&room["polygon"])?).map_err(|flaw| flaw.to_string())?;
    let keep_outs = list(room, "obstacles").iter().map(ring).collect::<Result<Vec<_>, _>>()?;
    let door = [point(&case["door"]["p"])?, point(&case["door"]["q"])?];
    let outside_m = tube["od"].as_f64().unwrap_or(0.016);
    let width_m = number(boards, "width")?;
    let pitches = list(boards, "pitches").iter().filter_map(Value::as_f64);
    let floor = |pitch_m: f64| {
        let by_pitch = boards["width_by_pitch"][pitch_m.to_string()].as_f64();
        Ok(Floor {
            room: region.clone(),
            keep_outs: keep_outs.clone(),
            door,
            wall_clearance_m: case["wall_clear"].as_f64().unwrap_or(0.1),
            board: Board {
                pitch_m,
                width_m: by_pitch.unwrap_or(width_m),
                length_m: number(boards, "length")?,
                turns: count("uturns_per_board", 2),
                leader_pitch_m: boards["leader_pitch"].as_f64().unwrap_or(0.05),
                leader_grooves: count("leader_grooves", 8),
            },
            bend_radius_m: tube["min_bend"].as_f64().unwrap_or(BEND_DIAMETERS * outside_m),
            longest_loop_m: tube["max_loop"].as_f64().unwrap_or(100.0),
            // The case gives one way.
            outside_m: 2.0 * case["leader_outside"].as_f64().unwrap_or(0.0),
        })
    };
    let floors = pitches.map(floor).collect::<Result<Vec<_>, String>>()?;
    if floors.is_empty() { Err("no `pitches`".to_string()) } else { Ok(floors) }
}
