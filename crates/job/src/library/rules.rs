//! Rule sets.

use super::entry::{Part, Reader};
use crate::model::{Rule, RuleSet};
use crate::tree::{Entry, Kind};
use quantity::Quantity;

/// The rule set of a text; none, told, if a limit is missing.
pub(crate) fn read(reader: &mut Reader) -> Option<RuleSet> {
    let table = std::mem::take(&mut reader.table);
    let text = |key: &str| {
        table.iter().find(|entry| entry.key == key).and_then(|entry| match &entry.node.kind {
            Kind::Text(text) => Some(text.clone()),
            _ => None,
        })
    };
    let (key, name) = (text("key"), text("name"));
    if key.is_none() || name.is_none() {
        reader.tell("", crate::Place::default(), "a rule set needs a key and a name");
    }
    let mut limits = Limits { table: &table, reader, asked: vec!["key", "name", "loop_length"] };
    let tube = limits.limit("tube", |part| part.text("value"));
    let floor_living = limits.quantity("floor_living");
    let floor_bath = limits.quantity("floor_bath");
    let floor_utility = limits.quantity("floor_utility");
    let floor_wood = limits.quantity("floor_wood");
    let supply_slab = limits.quantity("supply_slab");
    let supply_preferred = limits.quantity("supply_preferred");
    let drop = limits.quantity("drop");
    let drop_most = limits.quantity("drop_most");
    let loop_length = limits.by_tube("loop_length");
    let spacings = limits.limit("spacings", |part| part.quantities("value"));
    let wall_clearance = limits.quantity("wall_clearance");
    let velocity_most = limits.quantity("velocity_most");
    let ground_swing = limits.quantity("ground_swing");
    let ground_water = limits.quantity("ground_water");
    let insulation_ground = limits.quantity("insulation_ground");
    limits.unknown();
    Some(RuleSet {
        key: key?,
        name: name?,
        tube: tube?,
        floor_living: floor_living?,
        floor_bath: floor_bath?,
        floor_utility: floor_utility?,
        floor_wood: floor_wood?,
        supply_slab: supply_slab?,
        supply_preferred: supply_preferred?,
        drop: drop?,
        drop_most: drop_most?,
        loop_length: loop_length?,
        spacings: spacings?,
        wall_clearance: wall_clearance?,
        velocity_most: velocity_most?,
        ground_swing: ground_swing?,
        ground_water: ground_water?,
        insulation_ground: insulation_ground?,
        dimensions: plain(crate::model::Dimensions::Inside),
        thermal_bridges: plain(Quantity::from_si(0.0)),
        films: plain(crate::model::Films::Iso),
        warmer_neighbours: plain(crate::model::WarmerNeighbours::Credited),
        ground_method: plain(crate::model::GroundMethod::Iso13370),
        edge_factors: Vec::new(),
        unheated_method: plain(crate::model::UnheatedMethod::Balance),
        space_factors: Vec::new(),
        next_house: plain(crate::model::NextHouse::SameTemperature),
        blower_door: plain(crate::model::BlowerDoorMethod::Divisor),
        blower_divisor: plain(Quantity::from_si(20.0)),
        shielding: plain(Quantity::from_si(0.03)),
        air_least: plain(Quantity::from_si(0.0)),
        leakage_share: plain(Quantity::from_si(1.0)),
        usual_losses: Vec::new(),
        overrides: Vec::new(),
    })
}

/// A limit that is not data yet.
fn plain<T>(value: T) -> Rule<T> {
    Rule { value, clause: String::new(), source: "to be stated".to_owned(), from_memory: true }
}

/// The limits of a text, asked by name.
struct Limits<'a> {
    table: &'a [Entry],
    reader: &'a mut Reader,
    asked: Vec<&'static str>,
}

impl<'a> Limits<'a> {
    fn quantity<Q: Quantity>(&mut self, name: &'static str) -> Option<Rule<Q>> {
        self.limit(name, |part| part.quantity("value"))
    }

    fn limit<T>(
        &mut self,
        name: &'static str,
        value: impl FnOnce(&mut Part<'_>) -> Option<T>,
    ) -> Option<Rule<T>> {
        self.asked.push(name);
        let entry = self.table.iter().find(|entry| entry.key == name);
        match entry {
            Some(entry) => rule(name.to_owned(), entry, self.reader, value),
            None => {
                self.reader.tell(name, crate::Place::default(), "the limit is missing");
                None
            }
        }
    }

    /// A limit for each tube.
    fn by_tube<Q: Quantity>(&mut self, name: &'static str) -> Option<Vec<(String, Rule<Q>)>> {
        let entry = self.table.iter().find(|entry| entry.key == name);
        let Some(Kind::Table(tubes)) = entry.map(|entry| &entry.node.kind) else {
            self.reader.tell(name, crate::Place::default(), "a table by tube is needed");
            return None;
        };
        tubes
            .iter()
            .map(|tube| {
                let subject = format!("{name}.{}", tube.key);
                let rule = rule(subject, tube, self.reader, |part| part.quantity("value"))?;
                Some((tube.key.clone(), rule))
            })
            .collect()
    }

    /// Tells limits that no rule set has.
    fn unknown(self) {
        for entry in self.table {
            if !self.asked.contains(&entry.key.as_str()) {
                self.reader.tell(&entry.key, entry.key_place, "no limit has this name");
            }
        }
    }
}

fn rule<T>(
    subject: String,
    entry: &Entry,
    reader: &mut Reader,
    value: impl FnOnce(&mut Part<'_>) -> Option<T>,
) -> Option<Rule<T>> {
    let Kind::Table(table) = &entry.node.kind else {
        reader.tell(&subject, entry.key_place, "a table with value and source is needed");
        return None;
    };
    let mut part = Part::new(subject, entry.node.place, table);
    let value = value(&mut part);
    let (clause, source) = (part.text("clause"), part.text("source"));
    let from_memory = part.flag("from_memory");
    part.finish(reader);
    Some(Rule { value: value?, clause: clause?, source: source?, from_memory })
}
