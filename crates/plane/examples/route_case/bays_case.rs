//! A floor on joists with tube from below, read from a case file.

use crate::case::{list, point, ring};
use plane::bays::{
    Block, BlockKind, Drilling, Floor, HoleLimits, JoistKind, Joists, Manifold, Plate, Room, Tube,
};
use plane::{Point, Region};
use serde_json::Value;

/// Holes in sawn joists by IRC R502.8.1: a third of the depth, 2 in from edges and other holes.
const LIMITS: HoleLimits = HoleLimits {
    diameter_per_depth: 1.0 / 3.0,
    diameter_most_m: None,
    edge_m: 0.0508,
    mid_depth: false,
    apart_m: 0.0508,
    apart_diameters: 0.0,
    span_shares: None,
    depth_most_m: None,
};

/// Reads the floor of a case.
///
/// # Errors
/// What is missing or unusable, in words.
pub(crate) fn floor(case: &Value) -> Result<Floor, String> {
    let joists = &case["joists"];
    let number = |of: &Value, key: &str| of[key].as_f64().ok_or(format!("no `{key}`"));
    let pair = |key: &str| point(&joists[key]).map(|p| [p.x, p.y]);
    let (sin, cos) = joists["dir_deg"].as_f64().unwrap_or(90.0).to_radians().sin_cos();
    let along = Point::new(cos, sin);
    let across = -along.left();
    let pitch_m = number(joists, "pitch")?;
    let rooms = list(case, "rooms").iter().map(room).collect::<Result<Vec<_>, _>>()?;
    let blocks = list(case, "blocked").iter().map(block).collect::<Result<Vec<_>, _>>()?;
    let tube = |key: &str, silent: f64| case["tube"][key].as_f64().unwrap_or(silent);
    let manifold = &case["manifold"];
    Ok(Floor {
        joists: Joists {
            kind: kind(joists),
            along,
            // Bearings are distances from the origin along the joists, `x0` is one across them.
            on: across * joists["x0"].as_f64().unwrap_or(0.0),
            pitch_m,
            width_m: number(joists, "width")?,
            depth_m: number(joists, "depth")?,
            bearings_m: pair("bearings")?,
        },
        rooms,
        blocks,
        manifold: Manifold {
            at: point(&manifold["at"])?,
            rise_m: manifold["rise"].as_f64().unwrap_or(0.0),
        },
        plate: Plate {
            strands_m: case["plate"]["gap"].as_f64().unwrap_or(pitch_m / 2.0),
            length_m: 0.6,
            joint_m: 0.01,
            shortest_m: 0.15,
        },
        tube: Tube {
            outside_m: tube("od", 0.016),
            bend_radius_m: tube("bend", 0.08),
            longest_loop_m: tube("max_loop", 100.0),
        },
        drilling: Drilling {
            hole_m: number(joists, "hole_dia")?,
            lanes_m: pair("hole_from_bearing")?,
            limits: LIMITS,
        },
        under_joists: case["under_joists"].as_bool().unwrap_or(true),
    })
}

fn kind(joists: &Value) -> JoistKind {
    match joists["kind"].as_str() {
        Some("i-joist") => JoistKind::IJoist,
        Some("open web") => JoistKind::OpenWeb,
        _ => JoistKind::Sawn,
    }
}

fn room(room: &Value) -> Result<Room, String> {
    let key = room["id"].as_str().unwrap_or("room").to_string();
    let say = |what: String| format!("room {key}: {what}");
    let floor = Region::simple(ring(&room["polygon"]).map_err(say)?);
    let floor = floor.map_err(|flaw| say(flaw.to_string()))?;
    Ok(Room { key, floor, loop_aim_m: f64::INFINITY })
}

fn block(block: &Value) -> Result<Block, String> {
    let kind = match block["kind"].as_str() {
        Some("plate") => BlockKind::Plate,
        _ => BlockKind::Full,
    };
    Ok(Block { outline: ring(&block["polygon"])?, kind })
}
