//! Holding what a design decided, and what a hold costs.

use crate::Design;
use crate::flooring;
use crate::memo::Memo;
use crate::placing;
use crate::run::design;
use job::{Decision, DropRule, Edit, Job, Place, Room, Stated, SupplyRule, TubePattern};
use quantity::{Flow, Head, Length, Quantity, Temperature, read_as, unit};

impl Design {
    /// Edits that hold every decision of this design that the text leaves open.
    ///
    /// Applied to the text and designed again they give the same design, with the decisions held.
    pub fn hold_all(&self, job: &Job) -> Vec<Edit> {
        let open = self.placements.iter().filter(|placement| !placement.at.is_held());
        let mut edits: Vec<Edit> = open.flat_map(placing::hold).collect();
        edits.extend(self.floor_choices.iter().map(|choice| Edit::Set {
            path: room_path(&choice.room, "floor"),
            value: choice.floor.value.clone(),
        }));
        let mut set = |path: String, value: String| edits.push(Edit::Set { path, value });
        if let Some(layout) = self.layouts.first()
            && !layout.tube.is_held()
        {
            set("heating.tube".to_owned(), layout.tube.value.clone());
        }
        for water in self.emitters.waters.iter().filter(|water| !water.supply.is_held()) {
            let path = water.circuit.as_deref().map_or("heating.supply".to_owned(), circuit_path);
            set(path, format!("{} K", exact(water.supply.value.si())));
        }
        if let Decision::Open = job.heating.drop {
            let drop = job.rules.drop.value.si();
            set("heating.drop".to_owned(), format!("{} K", exact(drop)));
        }
        let rule = &self.emitters.rule;
        if let Decision::Open = job.heating.supply_for {
            set("heating.supply_for".to_owned(), rule.supply_for.value.word().to_owned());
        }
        if let Decision::Open = job.heating.drops {
            set("heating.drops".to_owned(), rule.drops.value.word().to_owned());
        }
        for floor in self.emitters.floors.iter().filter(|floor| !floor.spacing.is_held()) {
            let metres = exact(floor.spacing.value.si());
            set(room_path(&floor.room, "spacing"), format!("{metres} m"));
        }
        for layout in &self.layouts {
            if let Some(with) = &layout.shares_loop {
                if !with.is_held() {
                    set(room_path(&layout.room, "shares_loop"), with.value.clone());
                }
                continue;
            }
            if !layout.count.is_held() {
                set(room_path(&layout.room, "loops"), layout.count.value.to_string());
            }
            // Loops that were laid in several patterns have none that could be held for the room.
            let own = self.loops.iter().filter(|it| it.room == layout.room);
            let is_one = own.clone().all(|it| it.pattern == layout.pattern.value);
            if !layout.pattern.is_held() && is_one {
                set(room_path(&layout.room, "pattern"), layout.pattern.value.word().to_owned());
            }
            if !layout.manifold.is_held() {
                set(room_path(&layout.room, "manifold"), layout.manifold.value.clone());
            }
        }
        edits
    }

    fn tube(&self) -> f64 {
        self.loops.iter().fold(0.0, |sum, tube_loop| sum + tube_loop.length.si())
    }

    fn worst_head(&self) -> f64 {
        self.flows.manifolds.iter().map(|manifold| manifold.head.si()).fold(0.0, f64::max)
    }

    fn flow(&self) -> f64 {
        self.flows.manifolds.iter().fold(0.0, |sum, manifold| sum + manifold.flow.si())
    }
}

/// The shortest decimal that reads back as the same number.
fn exact(number: f64) -> String {
    format!("{number}")
}

/// A design with a hold, and the same one with the hold released.
#[derive(Clone, Debug, PartialEq)]
pub struct HoldCost {
    /// What is held, in the text's words: its path.
    pub path: String,
    /// Supply temperature, held and released.
    pub supply: Option<[Temperature; 2]>,
    /// All tube, held and released.
    pub tube: [Length; 2],
    /// Head of the worst loop, held and released.
    pub head: [Head; 2],
    /// Flow of all manifolds, held and released.
    pub flow: [Flow; 2],
    /// Findings that stop the job, held and released.
    pub stops: [usize; 2],
}

/// What a held decision costs; none if that path holds nothing.
///
/// Paths are those of the text: `heating.supply`, `room.bath.spacing`.
pub fn hold_cost(job: &Job, path: &str, memo: &mut Memo) -> Option<HoldCost> {
    let mut released = job.clone();
    if !release(&mut released, path) {
        return None;
    }
    let designs = [design(job, memo), design(&released, memo)];
    let [held, open] = &designs;
    let supply = |design: &Design| design.emitters.hottest();
    let stops = |design: &Design| {
        design.findings.iter().filter(|f| f.severity == job::Severity::Stop).count()
    };
    Some(HoldCost {
        path: path.to_owned(),
        supply: supply(held).zip(supply(open)).map(|(held, open)| [held, open]),
        tube: [held.tube(), open.tube()].map(Length::from_si),
        head: [held.worst_head(), open.worst_head()].map(Head::from_si),
        flow: [held.flow(), open.flow()].map(Flow::from_si),
        stops: [stops(held), stops(open)],
    })
}

/// The path of a room's key, quoted where TOML asks for it.
pub(crate) fn room_path(room: &str, key: &str) -> String {
    keyed_path("room", room, key)
}

/// The path of a circuit's supply temperature.
pub(crate) fn circuit_path(circuit: &str) -> String {
    keyed_path("circuit", circuit, "supply")
}

/// The path of a key in a keyed table, quoted where TOML asks for it.
pub(crate) fn keyed_path(table: &str, own: &str, key: &str) -> String {
    let bare = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    if !own.is_empty() && own.chars().all(bare) {
        format!("{table}.{own}.{key}")
    } else {
        let quoted = own.replace('\\', "\\\\").replace('"', "\\\"");
        format!("{table}.\"{quoted}\".{key}")
    }
}

/// The job as edits of decisions would leave it; none for an edit of anything else.
///
/// The same as applying the edits to the text and reading it again, without the text.
pub(crate) fn applied(job: &Job, edits: &[Edit]) -> Option<Job> {
    let mut changed = job.clone();
    for edit in edits {
        match edit {
            Edit::Set { path, value } => set(&mut changed, path, value)?,
            Edit::Unset { path } if release(&mut changed, path) => {}
            _ => return None,
        }
    }
    Some(changed)
}

fn set(job: &mut Job, path: &str, value: &str) -> Option<()> {
    let heating = &mut job.heating;
    match path {
        "heating.supply" => {
            return hold(&mut heating.supply, read_as(value, &unit::CELSIUS).ok()?);
        }
        "heating.drop" => {
            return hold(&mut heating.drop, read_as(value, &unit::KELVIN_DIFFERENCE).ok()?);
        }
        "heating.tube" => return hold(&mut heating.tube, value.to_owned()),
        "heating.supply_for" => return hold(&mut heating.supply_for, SupplyRule::named(value)?),
        "heating.drops" => return hold(&mut heating.drops, DropRule::named(value)?),
        _ => {}
    }
    if let Some(circuit) = job.circuits.iter_mut().find(|own| circuit_path(&own.key) == path) {
        return hold(&mut circuit.supply, read_as(value, &unit::CELSIUS).ok()?);
    }
    if path.starts_with("manifold.") && path.ends_with(".order") {
        let manifold = job.manifolds.iter_mut().find(|own| order_path(&own.key) == path)?;
        let keys = value.trim().strip_prefix('[')?.strip_suffix(']')?.split(',');
        let keys = keys.map(|key| key.trim().trim_matches('"').to_owned());
        manifold.order = keys.map(|value| Stated { value, place: Place::default() }).collect();
        return Some(());
    }
    if path.starts_with("manifold.") {
        return placing::set(job, path, value);
    }
    let (room, key) = room_of(job, path)?;
    match key {
        "floor" => {
            room.floor = flooring::held(value);
            Some(())
        }
        "spacing" => hold(&mut room.spacing, read_as(value, &unit::METRE).ok()?),
        "loops" => hold(&mut room.loops, value.parse().ok()?),
        "pattern" => hold(&mut room.pattern, TubePattern::named(value)?),
        "manifold" => hold(&mut room.manifold, value.to_owned()),
        "shares_loop" => hold(&mut room.shares_loop, value.to_owned()),
        _ => None,
    }
}

fn hold<T>(decision: &mut Decision<T>, value: T) -> Option<()> {
    *decision = Decision::Held(Stated { value, place: Place::default() });
    Some(())
}

/// The room that a path is about, and the key of the room.
fn room_of<'a>(job: &'a mut Job, path: &str) -> Option<(&'a mut Room, &'static str)> {
    let keys =
        ["spacing", "loops", "pattern", "manifold", "floor", "shares_loop", "entry", "entry_at"];
    let key = keys.into_iter().find(|key| path.ends_with(&format!(".{key}")))?;
    let room = job.rooms.iter_mut().find(|room| room_path(&room.key, key) == path)?;
    Some((room, key))
}

/// Opens the decision at a path; whether it was held.
fn release(job: &mut Job, path: &str) -> bool {
    let heating = &mut job.heating;
    match path {
        "heating.supply" => return open(&mut heating.supply),
        "heating.drop" => return open(&mut heating.drop),
        "heating.tube" => return open(&mut heating.tube),
        "heating.supply_for" => return open(&mut heating.supply_for),
        "heating.drops" => return open(&mut heating.drops),
        _ => {}
    }
    if let Some(circuit) = job.circuits.iter_mut().find(|own| circuit_path(&own.key) == path) {
        return open(&mut circuit.supply);
    }
    if let Some(manifold) = job.manifolds.iter_mut().find(|own| order_path(&own.key) == path) {
        return !std::mem::take(&mut manifold.order).is_empty();
    }
    if let Some(held) = job.held_loops.iter_mut().find(|own| loop_path(own, "outline") == path) {
        return held.outline.take().is_some();
    }
    if let Some(held) = job.held_loops.iter_mut().find(|own| loop_path(own, "way") == path) {
        return open(&mut held.way);
    }
    match room_of(job, path) {
        Some((room, "floor")) if !room.floor_among.is_empty() => room.floor.take().is_some(),
        Some((room, "spacing")) => open(&mut room.spacing),
        Some((room, "loops")) => open(&mut room.loops),
        Some((room, "pattern")) => open(&mut room.pattern),
        Some((room, "manifold")) => open(&mut room.manifold),
        Some((room, "shares_loop")) => open(&mut room.shares_loop),
        Some((room, "entry")) => open(&mut room.entry),
        Some((room, "entry_at")) => open(&mut room.entry_at),
        _ => false,
    }
}

fn order_path(manifold: &str) -> String {
    keyed_path("manifold", manifold, "order")
}

fn loop_path(held: &job::HeldLoop, key: &str) -> String {
    keyed_path("loop", &held.key, key)
}

fn open<T>(decision: &mut Decision<T>) -> bool {
    matches!(std::mem::replace(decision, Decision::Open), Decision::Held(_))
}
