//! What the text holds of a layout and could not be kept, in a contractor's words.

use super::plan::StoreyPlan;
use crate::hold::{keyed_path, room_path};
use crate::words::Words;
use job::{Edit, Finding, Job, Mend, Place, Promise, Severity};
use plane::storey::{Layout, LoopName, NotApart, NotEntered, NotShared, NotTaken, Unheld};

/// A finding for everything held on a storey that its layout does not keep, or that names
/// nothing there.
pub(super) fn not_kept(job: &Job, plan: &StoreyPlan<'_>, layout: &Layout) -> Vec<Finding> {
    let told = Told { job, plan, layout };
    layout.unheld.iter().filter_map(|unheld| told.finding(unheld)).collect()
}

/// Loops that the text holds something of, but that no heated room can have.
pub(super) fn nameless(job: &Job) -> Vec<Finding> {
    let is_loop = |key: &str| {
        let room = job::loop_name(key).and_then(|(room, _)| job.room(room));
        room.is_some_and(|room| room.heated.value)
    };
    let held = job
        .held_loops
        .iter()
        .map(|held| (held.key.as_str(), format!("loop.{}", held.key), held.place));
    let ordered = job.manifolds.iter().flat_map(|manifold| {
        let path = keyed_path("manifold", &manifold.key, "order");
        manifold.order.iter().map(move |key| (key.value.as_str(), path.clone(), key.place))
    });
    let finding = |(key, path, place): (&str, String, Place)| {
        let message = format!("`{key}` is no loop of a room with a heated floor");
        let advice = "write a room's key and the number of its loop, such as kitchen/1";
        Finding::new(Severity::Stop, "not-as-held", path, message, advice).at(place)
    };
    held.chain(ordered).filter(|(key, ..)| !is_loop(key)).map(finding).collect()
}

struct Told<'a> {
    job: &'a Job,
    plan: &'a StoreyPlan<'a>,
    layout: &'a Layout,
}

/// Where something is held, what speaks against it, and what would do.
struct Against {
    path: String,
    place: Option<Place>,
    message: String,
    advice: &'static str,
}

impl Told<'_> {
    fn finding(&self, unheld: &Unheld) -> Option<Finding> {
        let told = match *unheld {
            Unheld::Shared { held, why } => self.not_shared(held.room, why)?,
            Unheld::Region { name, why } => self.not_apart(name, why),
            Unheld::Order { manifold } => return self.not_in_order(manifold),
            Unheld::Entry { room, why } => self.not_entered(room, why),
            Unheld::Way { name, why } => self.not_taken(name, why),
        };
        let released = Mend {
            words: format!("leave it to the design: take {} away", told.path),
            edits: vec![Edit::Unset { path: told.path.clone() }],
            promise: Promise::Goes,
        };
        let finding =
            Finding::new(Severity::Stop, "not-as-held", told.path, told.message, told.advice);
        Some(finding.at(told.place).mend(released))
    }

    fn room(&self, on_plan: usize) -> &job::Room {
        &self.job.rooms[self.plan.rooms[on_plan]]
    }

    fn key(&self, name: LoopName) -> String {
        format!("{}/{}", self.room(name.room).key, name.number)
    }

    fn words(&self) -> Words {
        Words { first: self.job.units.value }
    }

    fn not_shared(&self, room: usize, why: NotShared) -> Option<Against> {
        let stated = self.room(room);
        // What no line asks for was only tried.
        let held = stated.shares_loop.held()?;
        let other = &held.value;
        let words = self.words();
        let (because, advice) = match why {
            NotShared::NoFloor => (
                "one of the two has no heated floor on this storey".to_owned(),
                "heat both floors, or take `shares_loop` away",
            ),
            NotShared::NoDoor => (
                "no doorway joins the two".to_owned(),
                "name a neighbour with a doorway between, or add the doorway",
            ),
            NotShared::DoorTooNarrow { needed_m, width_m } => (
                format!(
                    "the doorway lets {} of tube pass, there and back need {}",
                    words.tape(width_m),
                    words.tape(needed_m)
                ),
                "hold a closer spacing, or give it a loop of its own",
            ),
            NotShared::HasManifold => (
                "the manifold hangs in it".to_owned(),
                "let the neighbour share the loop of this room instead",
            ),
            NotShared::InTurn => (
                format!("{other} itself shares the loop of another room"),
                "name the room whose loop it is",
            ),
            NotShared::Parted => (
                "leaders of other loops part the two".to_owned(),
                "give it a loop of its own, or move the manifold",
            ),
        };
        Some(Against {
            path: room_path(&stated.key, "shares_loop"),
            place: Some(held.place),
            message: format!("cannot share the loop of {other}: {because}; it is laid by itself"),
            advice,
        })
    }

    fn not_apart(&self, name: LoopName, why: NotApart) -> Against {
        let key = self.key(name);
        let words = self.words();
        let held = self.job.held_loops.iter().find(|held| held.key == key);
        let (because, advice) = match why {
            NotApart::NoLoops => (
                "its room has no heated floor of its own".to_owned(),
                "draw it in a room with a heated floor",
            ),
            NotApart::NoRing => {
                ("its edge crosses itself".to_owned(), "go round its corners one after the other")
            }
            NotApart::OffTheFloor { floor_m2 } => (
                format!("only {} of it lie in one piece on free floor", words.area(floor_m2)),
                "draw it inside the room, off keep-outs and other loops",
            ),
            NotApart::Overlaps { number } => (
                format!("it overlaps the floor held for loop {number} of the room"),
                "let the two share an edge at most",
            ),
            NotApart::TooFewLoops { needed } => (
                format!("its room would take {needed} loops, and fewer are held"),
                "hold more loops in the room, or take the number away",
            ),
            NotApart::NotLaid => (
                "no loop could be laid there".to_owned(),
                "draw it where leaders come to it, and wide enough for a turn",
            ),
        };
        Against {
            path: keyed_path("loop", &key, "outline"),
            place: held.map(|held| held.outline.as_ref().map_or(held.place, |it| it.place)),
            message: format!("the floor held for {key} is not used: {because}"),
            advice,
        }
    }

    /// An order that cannot be, with the one that is laid as a mend.
    fn not_in_order(&self, manifold: usize) -> Option<Finding> {
        let access = self.plan.accesses.get(manifold)?;
        let own = &access.manifold;
        let mut here: Vec<_> =
            self.layout.loops.iter().filter(|laid| laid.manifold == manifold).collect();
        here.sort_by_key(|laid| laid.port);
        let name = |laid: &&plane::storey::Loop| {
            self.key(LoopName { room: laid.room, number: laid.number })
        };
        let laid: Vec<String> = here.iter().map(name).collect();
        let path = keyed_path("manifold", &own.key, "order");
        let quoted: Vec<String> = laid.iter().map(|key| format!("\"{key}\"")).collect();
        let mends = [
            Mend {
                words: format!("hold the order as laid: {}", laid.join(", ")),
                edits: vec![Edit::Set {
                    path: path.clone(),
                    value: format!("[{}]", quoted.join(", ")),
                }],
                promise: Promise::Goes,
            },
            Mend {
                words: format!("leave it to the design: take {path} away"),
                edits: vec![Edit::Unset { path: path.clone() }],
                promise: Promise::Goes,
            },
        ];
        let missing: Vec<&str> = own
            .order
            .iter()
            .map(|held| held.value.as_str())
            .filter(|key| job::loop_name(key).is_some_and(|(room, _)| self.is_here(room)))
            .filter(|key| !laid.iter().any(|own| own == key))
            .collect();
        let because = match missing.as_slice() {
            [] => "leaders of these loops would cross, or find no way".to_owned(),
            missing => format!("{} is not laid at this manifold", missing.join(", ")),
        };
        let message = format!("loops cannot stand in the order held: {because}");
        let advice = "doorways round a room follow each other along its walls, and so do their loops \
                      at the manifold; only the loops of the room they pass can be moved between them";
        let mut finding = Finding::new(Severity::Stop, "not-as-held", path, message, advice)
            .at(own.order.first().map(|held| held.place));
        finding.mends.extend(mends);
        Some(finding)
    }

    fn is_here(&self, room: &str) -> bool {
        self.plan.rooms.iter().any(|number| self.job.rooms[*number].key == room)
    }

    fn not_taken(&self, name: LoopName, why: NotTaken) -> Against {
        let key = self.key(name);
        let words = self.words();
        let held = self.job.held_loops.iter().find(|held| held.key == key);
        let at = |p: plane::Point| format!("at {}, {}", words.tape(p.x), words.tape(p.y));
        let (because, advice) = match why {
            NotTaken::NoLoop => (
                "its room has no such loop".to_owned(),
                "name a loop that the room has, or hold more loops in it",
            ),
            NotTaken::NotFromManifold => (
                "it does not begin at the ports of a manifold that feeds the room".to_owned(),
                "begin it at the manifold",
            ),
            NotTaken::NotIntoRoom => (
                "it does not end in its room".to_owned(),
                "lead it on to where the loop's own field begins",
            ),
            NotTaken::OffTheFloor { at: place } => (
                format!("{} it leaves the floor, or lies too near a wall or keep-out", at(place)),
                "both tubes need their distance from walls; pass walls at doorways only",
            ),
            NotTaken::Crosses { other, at: place } if other == name => {
                (format!("{} it crosses itself", at(place)), "draw it without the knot")
            }
            NotTaken::Crosses { other, at: place } => (
                format!("{} it comes upon the way held for {}", at(place), self.key(other)),
                "lead one of the two round the other",
            ),
            NotTaken::TooTight { at: place, radius_m } => (
                format!(
                    "{} its corners leave the tube a bend of {} only",
                    at(place),
                    words.small(radius_m)
                ),
                "set its corners farther apart, or turn less at them",
            ),
            NotTaken::OtherDoor { room } => (
                format!(
                    "it comes into {} by another doorway than is held for that room",
                    self.room(room).key
                ),
                "let all loops of a room come in by one doorway",
            ),
            NotTaken::NoRoomLeft => (
                "it leaves other leaders no way, or the loop no floor".to_owned(),
                "draw it nearer to a wall, or in the order in which doorways follow each other",
            ),
        };
        Against {
            path: keyed_path("loop", &key, "way"),
            place: held.map(|held| held.way.held().map_or(held.place, |it| it.place)),
            message: format!("leaders of {key} do not go the way held: {because}"),
            advice,
        }
    }

    fn not_entered(&self, room: usize, why: NotEntered) -> Against {
        let stated = self.room(room);
        let (because, advice) = match why {
            NotEntered::NoDoorOfIt => ("that is no doorway of it", "name a doorway of this room"),
            NotEntered::StartsThere => (
                "its manifold hangs in the room itself",
                "take `entry` away; loops start at the manifold",
            ),
            NotEntered::NoWay => (
                "no way leads from a manifold to that side of it",
                "name a doorway that leads here from a manifold",
            ),
        };
        let (key, place) = match (stated.entry.held(), stated.entry_at.held()) {
            (Some(held), _) => ("entry", Some(held.place)),
            (None, held) => ("entry_at", held.map(|held| held.place)),
        };
        Against {
            path: room_path(&stated.key, key),
            place,
            message: format!("loops do not come in as held: {because}"),
            advice,
        }
    }
}
