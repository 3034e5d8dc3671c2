//! Reads storeys from the small notation of `tests/cases`.
//!
//! A line is a word and what belongs to it:
//! `tube RADIUS LONGEST`, `room KEY PATTERN SPACING CLEARANCE LOOPS CORNER…`,
//! `keep-out CORNER…` (of the room before), `door ROOM ROOM PLACE WIDTH`,
//! `manifold ROOM END END`; and what is held:
//! `share ROOM NEIGHBOUR`, `region ROOM NUMBER CORNER…`, `order LOOP…`, `entry ROOM DOOR [PLACE]`,
//! `way ROOM NUMBER PLACE…`. Corners are `x,y` in metres, `-` for loops leaves them open.

use plane::storey::{
    Door, Held, HeldEntry, HeldOrder, HeldRegion, HeldWay, LoopName, Manifold, Pattern, Plan, Room,
    Shared, Tube,
};
use plane::{Point, Region};

/// The storey that a text describes.
pub(crate) fn plan(text: &str) -> Plan {
    let mut plan = Plan {
        rooms: Vec::new(),
        doors: Vec::new(),
        manifolds: Vec::new(),
        leader_gap_m: 0.05,
        held: Held::default(),
    };
    let mut tube = Tube { bend_radius_m: 0.08, longest_loop_m: 90.0 };
    for line in text.lines() {
        let words: Vec<&str> = line.split_whitespace().collect();
        match words.as_slice() {
            ["tube", radius, longest] => {
                tube = Tube { bend_radius_m: number(radius), longest_loop_m: number(longest) };
            }
            ["room", key, pattern, spacing, clearance, loops, corners @ ..] => {
                plan.rooms.push(Room {
                    key: (*key).to_owned(),
                    floor: Region::simple(places(corners)).expect("a room"),
                    keep_outs: Vec::new(),
                    heated: *pattern != "unheated",
                    spacing_m: number(spacing),
                    wall_clearance_m: number(clearance),
                    pattern: match *pattern {
                        "counterflow" | "unheated" => Pattern::Counterflow,
                        "serpentine" => Pattern::Serpentine,
                        "band" => Pattern::Band {
                            spacing_m: number(spacing) / 1.5,
                            depth_m: 2.0 * number(spacing) / 1.5,
                        },
                        _ => Pattern::Auto,
                    },
                    outside_walls: Vec::new(),
                    tube,
                    loops: loops.parse().ok(),
                    least_loops: 1,
                    manifold: None,
                });
            }
            ["keep-out", corners @ ..] => {
                plan.rooms.last_mut().expect("a room first").keep_outs.push(places(corners));
            }
            ["door", one, other, at, width] => plan.doors.push(Door {
                key: format!("{one}-{other}"),
                rooms: [room(&plan, one), room(&plan, other)],
                at: place(at),
                width_m: number(width),
            }),
            ["manifold", key, one, other] => plan.manifolds.push(Manifold {
                key: format!("manifold {}", plan.manifolds.len() + 1),
                room: room(&plan, key),
                ports: [place(one), place(other)],
                most_loops: 40,
                extra_m: 0.0,
            }),
            ["share", one, other] => {
                plan.held.shared.push(Shared { room: room(&plan, one), with: room(&plan, other) });
            }
            ["region", key, number, corners @ ..] => {
                let name =
                    LoopName { room: room(&plan, key), number: number.parse().expect("one") };
                plan.held.regions.push(HeldRegion { name, ring: places(corners) });
            }
            ["way", key, number, way @ ..] => {
                let name =
                    LoopName { room: room(&plan, key), number: number.parse().expect("one") };
                plan.held.ways.push(HeldWay { name, way: places(way) });
            }
            ["order", loops @ ..] => {
                let loops = loops.iter().map(|word| name(&plan, word)).collect();
                plan.held.orders.push(HeldOrder { manifold: 0, loops });
            }
            ["entry", key, door, at @ ..] => plan.held.entries.push(HeldEntry {
                room: room(&plan, key),
                door: plan.doors.iter().position(|d| d.key == *door).expect("a known door"),
                at: at.first().map(|word| place(word)),
            }),
            _ => {}
        }
    }
    plan
}

fn room(plan: &Plan, key: &str) -> usize {
    plan.rooms.iter().position(|room| room.key == key).expect("a known room")
}

/// A loop as it is called on paper: `kitchen/2`.
fn name(plan: &Plan, word: &str) -> LoopName {
    let (key, number) = word.split_once('/').expect("a loop");
    LoopName { room: room(plan, key), number: number.parse().expect("a number") }
}

fn number(word: &str) -> f64 {
    word.parse().expect("a number")
}

fn place(word: &str) -> Point {
    let (x, y) = word.split_once(',').expect("a place");
    Point::new(number(x), number(y))
}

fn places(words: &[&str]) -> Vec<Point> {
    words.iter().map(|word| place(word)).collect()
}
