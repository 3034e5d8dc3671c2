//! A storey of embedded tube, read from a case file.

use crate::case::{point, ring};
use plane::storey::{Door, Held, Manifold, Pattern, Plan, Room, Tube};
use plane::{Point, Region};
use serde_json::Value;

/// Least distance between leaders where a case says nothing, metres.
const LEADER_GAP_M: f64 = 0.05;

/// The plan that a case tells.
///
/// # Errors
/// What is missing or unusable, in words.
pub(crate) fn plan(case: &Value) -> Result<Plan, String> {
    if case["rooms"].is_array() { storey(case) } else { single_room(case) }
}

fn storey(case: &Value) -> Result<Plan, String> {
    let list = |key: &str| case[key].as_array().map_or(&[][..], Vec::as_slice);
    let rooms = list("rooms").iter().map(|r| room(r, case)).collect::<Result<Vec<_>, _>>()?;
    let number = |id: &Value, what: &str| {
        let found = rooms.iter().position(|r| Some(r.key.as_str()) == id.as_str());
        found.ok_or_else(|| format!("{what} names {id}, which is no room"))
    };
    let mut doors = Vec::new();
    for (i, d) in list("doors").iter().enumerate() {
        doors.push(Door {
            key: format!("door {}", i + 1),
            rooms: [number(&d["a"], "a door")?, number(&d["b"], "a door")?],
            at: point(&d["at"])?,
            width_m: d["width"].as_f64().unwrap_or(0.8),
        });
    }
    let mut manifolds = Vec::new();
    for m in places(case, &rooms) {
        manifolds.push(manifold(m, number(&m["room"], "a manifold")?, manifolds.len())?);
    }
    if manifolds.is_empty() {
        return Err("no manifold".to_string());
    }
    Ok(Plan { rooms, doors, manifolds, leader_gap_m: LEADER_GAP_M, held: Held::default() })
}

/// The manifolds; of candidates, those that stand nearest to the rooms.
fn places<'a>(case: &'a Value, rooms: &[Room]) -> Vec<&'a Value> {
    if let Some(several) = case["manifolds"].as_array() {
        return several.iter().collect();
    }
    let Some(candidates) = case["candidates"].as_array() else {
        return if case["manifold"].is_object() { vec![&case["manifold"]] } else { Vec::new() };
    };
    let count = case["n_manifolds"].as_u64().unwrap_or(1);
    let walk = |set: &[&Value]| -> f64 {
        let to = |c: &Value, room: &Room| {
            point(&c["p"]).map_or(f64::INFINITY, |p| p.distance(room.floor.middle()))
        };
        let nearest = |room| set.iter().map(|c| to(c, room)).fold(f64::INFINITY, f64::min);
        rooms.iter().map(nearest).sum()
    };
    // Every set of at most that many, by the bits of a number.
    let sets =
        (1_u32..1 << candidates.len().min(12)).filter(|bits| u64::from(bits.count_ones()) == count);
    let chosen = |bits: u32| -> Vec<&Value> {
        candidates.iter().enumerate().filter(|(i, _)| bits >> i & 1 == 1).map(|(_, c)| c).collect()
    };
    sets.map(chosen).min_by(|a, b| walk(a).total_cmp(&walk(b))).unwrap_or_default()
}

fn manifold(m: &Value, room: usize, number: usize) -> Result<Manifold, String> {
    let key = m["id"].as_str().map_or_else(|| format!("manifold {}", number + 1), str::to_string);
    let most_loops = m["ports"].as_u64().map_or(99, |n| n as usize);
    let ports = [point(&m["p"])?, point(&m["q"])?];
    Ok(Manifold { key, room, ports, most_loops, extra_m: m["extra"].as_f64().unwrap_or(0.0) })
}

/// A case of one room whose door stands for the manifold.
fn single_room(case: &Value) -> Result<Plan, String> {
    if !case["room"].is_object() {
        return Err("no rooms".to_string());
    }
    let mut only = room(&case["room"], case)?;
    only.key = case["room"]["id"].as_str().unwrap_or("room").to_string();
    let manifolds = vec![manifold(&case["door"], 0, 0)?];
    Ok(Plan {
        rooms: vec![only],
        doors: Vec::new(),
        manifolds,
        leader_gap_m: LEADER_GAP_M,
        held: Held::default(),
    })
}

fn room(r: &Value, case: &Value) -> Result<Room, String> {
    let key = r["id"].as_str().unwrap_or("room").to_string();
    let say = |what: String| format!("room {key}: {what}");
    let corners = ring(&r["polygon"]).map_err(say)?;
    let floor = Region::simple(corners.clone()).map_err(|flaw| say(flaw.to_string()))?;
    let obstacles = r["obstacles"].as_array().map_or(&[][..], Vec::as_slice);
    let keep_outs = obstacles.iter().map(ring).collect::<Result<Vec<_>, _>>().map_err(say)?;
    let number = |key: &str| r[key].as_f64().or_else(|| case[key].as_f64());
    let spacing_m = number("spacing").or_else(|| number("pitch")).unwrap_or(0.15);
    let wall_clearance_m = number("wall_clear").unwrap_or(0.1);
    let tube = |key: &str| r["tube"][key].as_f64().or_else(|| case["tube"][key].as_f64());
    Ok(Room {
        floor,
        keep_outs,
        heated: r["heated"].as_bool().unwrap_or(true),
        spacing_m,
        wall_clearance_m,
        pattern: pattern(r, spacing_m, wall_clearance_m),
        outside_walls: outside_walls(r, &corners),
        tube: Tube {
            bend_radius_m: tube("min_bend").unwrap_or(0.08),
            longest_loop_m: tube("max_loop").unwrap_or(100.0),
        },
        loops: r["loops"].as_u64().map(|n| n as usize),
        least_loops: 1,
        manifold: None,
        key,
    })
}

fn pattern(r: &Value, spacing_m: f64, wall_clearance_m: f64) -> Pattern {
    let band = r["band_spacing"].as_f64().zip(r["band_depth"].as_f64());
    if let Some((spacing_m, depth_m)) = band {
        return Pattern::Band { spacing_m, depth_m };
    }
    match r["pattern"].as_str() {
        Some("auto") => Pattern::Auto,
        Some("serpentine") => Pattern::Serpentine,
        Some("doubled") => Pattern::DoubledSerpentine,
        // One ring of two strands around the room.
        Some("perimeter") => {
            let close_m = spacing_m * 2.0 / 3.0;
            Pattern::Band { spacing_m: close_m, depth_m: wall_clearance_m + close_m }
        }
        _ => Pattern::Counterflow,
    }
}

fn outside_walls(r: &Value, corners: &[Point]) -> Vec<[Point; 2]> {
    let numbers = r["outside_edges"].as_array().map_or(&[][..], Vec::as_slice);
    let edge = |n: &Value| {
        let i = n.as_u64()? as usize;
        Some([*corners.get(i)?, *corners.get((i + 1) % corners.len())?])
    };
    numbers.iter().filter_map(edge).collect()
}
