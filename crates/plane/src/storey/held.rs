//! What somebody has taken in hand: parts of a layout that all else is laid around.

use super::plan::Plan;
use crate::point::Point;

/// Parts of a layout that are held; nothing held where all are empty.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Held {
    /// Small rooms that a loop of a neighbour runs through.
    pub shared: Vec<Shared>,
    /// Floor that is set apart for one loop of its room.
    pub regions: Vec<HeldRegion>,
    /// Loops in the order of a manifold's ports.
    pub orders: Vec<HeldOrder>,
    /// Where loops come into a room.
    pub entries: Vec<HeldEntry>,
    /// Ways that leaders follow.
    pub ways: Vec<HeldWay>,
}

/// The way of one loop's leaders, supply and return side by side along it.
#[derive(Clone, Debug, PartialEq)]
pub struct HeldWay {
    /// The loop.
    pub name: LoopName,
    /// Places along it, from the manifold to where the loop's field begins.
    pub way: Vec<Point>,
}

/// One loop of a room, by numbers: `kitchen/2` on paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LoopName {
    /// The room.
    pub room: usize,
    /// Its number in the room, from 1.
    pub number: usize,
}

/// Floor of a room for one of its loops; the others share the rest.
#[derive(Clone, Debug, PartialEq)]
pub struct HeldRegion {
    /// The loop.
    pub name: LoopName,
    /// The edge of the floor; what lies beyond the room's own counts for nothing.
    pub ring: Vec<Point>,
}

/// Loops as they follow each other at a manifold, from `ports[0]` on; those left out may stand
/// anywhere.
#[derive(Clone, Debug, PartialEq)]
pub struct HeldOrder {
    /// The manifold, by number.
    pub manifold: usize,
    /// The loops.
    pub loops: Vec<LoopName>,
}

/// The door by which the loops of a room come in, and where in it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeldEntry {
    /// The room, by number.
    pub room: usize,
    /// The door, by number.
    pub door: usize,
    /// The place in the door about which leaders stand; its middle if none.
    pub at: Option<Point>,
}

/// A room without a loop of its own, which one loop of a neighbour heats along with its own.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Shared {
    /// The room, by number.
    pub room: usize,
    /// The neighbour, by number; a door joins them.
    pub with: usize,
}

/// Something held that could not be kept; the storey is laid without it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Unheld {
    /// A room that shares no loop.
    Shared {
        /// What was held.
        held: Shared,
        /// Why not.
        why: NotShared,
    },
    /// A loop whose floor is not the one held for it.
    Region {
        /// The loop.
        name: LoopName,
        /// Why not.
        why: NotApart,
    },
    /// A manifold at which loops stand otherwise, for their leaders would cross or find no way.
    Order {
        /// The manifold, by number.
        manifold: usize,
    },
    /// A loop whose leaders go another way.
    Way {
        /// The loop.
        name: LoopName,
        /// Why.
        why: NotTaken,
    },
    /// A room whose loops come in elsewhere.
    Entry {
        /// The room, by number.
        room: usize,
        /// Why.
        why: NotEntered,
    },
}

/// Why a floor cannot be set apart for a loop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NotApart {
    /// The room is not heated, or its loop is no loop of its own.
    NoLoops,
    /// Its edge crosses itself or encloses nothing.
    NoRing,
    /// It lies on the floor of its room with too little, or in pieces.
    OffTheFloor {
        /// Floor of one piece on which tube can lie, square metres.
        floor_m2: f64,
    },
    /// It overlaps the floor held for another loop of the room.
    Overlaps {
        /// The number of the other loop.
        number: usize,
    },
    /// The room has a number of loops held that leaves it none.
    TooFewLoops {
        /// Loops that it takes.
        needed: usize,
    },
    /// The loop could not be laid there.
    NotLaid,
}

/// Why leaders do not go the way that is held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NotTaken {
    /// The room has no such loop.
    NoLoop,
    /// It does not begin at the ports of a manifold that may serve the room.
    NotFromManifold,
    /// It does not end on the floor of the room.
    NotIntoRoom,
    /// Both tubes and half a gap beside them do not lie on free floor or in a doorway.
    OffTheFloor {
        /// Where.
        at: Point,
    },
    /// It crosses another that is held, or itself.
    Crosses {
        /// The other.
        other: LoopName,
        /// Where.
        at: Point,
    },
    /// A corner is nearer to the next than the tube can bend.
    TooTight {
        /// Where.
        at: Point,
        /// Radius that its edges leave the inner tube, metres.
        radius_m: f64,
    },
    /// A room on it is entered by another door, as another way or entry holds.
    OtherDoor {
        /// The room, by number.
        room: usize,
    },
    /// Loops of others find no way beside it, or its own no field behind it.
    NoRoomLeft,
}

/// Why the loops of a room do not come in where they are held to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NotEntered {
    /// The door is none of the room.
    NoDoorOfIt,
    /// Their manifold hangs in the room itself.
    StartsThere,
    /// No way leads from a manifold to that side of the door.
    NoWay,
}

/// Why a room cannot share a loop of its neighbour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum NotShared {
    /// One of them has no floor for tube, or is not heated.
    NoFloor,
    /// No door joins them.
    NoDoor,
    /// The door lets no tube there and back.
    DoorTooNarrow {
        /// Width that it needs, metres.
        needed_m: f64,
        /// Width that there is, metres.
        width_m: f64,
    },
    /// A manifold hangs in it, so that leaders of others start there.
    HasManifold,
    /// The neighbour shares a loop of another room itself.
    InTurn,
    /// Leaders of other loops part the two.
    Parted,
}

impl Plan {
    /// The plan without something that cannot be kept.
    pub(super) fn without(&self, unheld: &Unheld) -> Plan {
        let mut plan = self.clone();
        match unheld {
            Unheld::Shared { held, .. } => plan.held.shared.retain(|other| other != held),
            Unheld::Region { name, .. } => plan.held.regions.retain(|other| other.name != *name),
            Unheld::Order { manifold } => {
                plan.held.orders.retain(|other| other.manifold != *manifold);
            }
            Unheld::Way { name, .. } => plan.held.ways.retain(|other| other.name != *name),
            Unheld::Entry { room, .. } => plan.held.entries.retain(|other| other.room != *room),
        }
        plan
    }
}

impl Held {
    /// The numbers that regions of a room are held for.
    pub(super) fn apart_in(&self, room: usize) -> impl Iterator<Item = usize> + '_ {
        let here = self.regions.iter().filter(move |held| held.name.room == room);
        here.map(|held| held.name.number)
    }

    /// The next number of a room's loops that no region is held for.
    pub(super) fn next_open(&self, room: usize, after: usize) -> usize {
        let is_open = |number: &usize| self.apart_in(room).all(|held| held != *number);
        (after + 1..).find(is_open).unwrap_or(after + 1)
    }

    /// How the loops of a room come in, if that is held.
    pub(super) fn entry_of(&self, room: usize) -> Option<&HeldEntry> {
        self.entries.iter().find(|entry| entry.room == room)
    }

    /// The neighbour whose loop a room shares, if it does.
    pub fn shared_with(&self, room: usize) -> Option<usize> {
        self.shared.iter().find(|shared| shared.room == room).map(|shared| shared.with)
    }
}
