//! Rule sets, and what a job sets otherwise.

use super::entry::{Part, Reader};
use super::limit::Limit;
use crate::Place;
use crate::model::{
    EdgeFactor, HoleLimits, JoistHoles, OutdoorInsulation, Override, Rule, RuleSet, SpaceFactor,
    UsualLoss,
};
use crate::tree::{Entry, Kind, Node};
use quantity::{Quantity, System};

/// Writes the functions that go over all single limits: reading them, and setting one otherwise.
macro_rules! limits {
    ($($name:ident),* $(,)?) => {
        /// The names of the single limits.
        const NAMES: &[&str] = &[$(stringify!($name)),*];

        /// The rule set of a text, asked limit by limit; none, told, if a limit is missing.
        fn all(key: Option<String>, name: Option<String>, limits: &mut Limits<'_>) -> Option<RuleSet> {
            $(let $name = limits.limit(stringify!($name));)*
            let loop_length = limits.by_tube("loop_length");
            let edge_factors = limits.each("edge_factor", edge_factor);
            let space_factors = limits.each("space_factor", space_factor);
            let mut usual_losses = limits.each("usual_loss", usual_loss)?;
            let joist_holes = limits.each("joist_holes", joist_holes);
            let insulation_outdoors = limits.each("insulation_outdoors", outdoor_insulation);
            usual_losses.sort_by_key(|usual| usual.until);
            Some(RuleSet {
                key: key?,
                name: name?,
                $($name: $name?,)*
                loop_length: loop_length?,
                edge_factors: edge_factors?,
                space_factors: space_factors?,
                usual_losses,
                joist_holes: joist_holes?,
                insulation_outdoors: insulation_outdoors?,
                overrides: Vec::new(),
            })
        }

        /// Sets the limit of that name; none, told in the part, if the value cannot be read.
        fn replace(rules: &mut RuleSet, name: &str, by: Replacement<'_, '_>) -> Option<Override> {
            match name {
                $(stringify!($name) => by.set(&mut rules.$name),)*
                _ => {
                    let tube = name.strip_prefix("loop_length.")?;
                    let held = rules.loop_length.iter_mut().find(|(key, _)| key == tube);
                    by.set(held.map(|(_, rule)| rule)?)
                }
            }
        }
    };
}

limits! {
    tube, floor_living, floor_bath, floor_utility, floor_perimeter, perimeter_depth, peak_living, peak_bath,
    peak_utility, peak_perimeter, floor_wood, floor_resilient, floor_stone, supply_slab,
    supply_gypsum, supply_dry, supply_preferred, drop, drop_least, drop_most,
    supply_for, drops, circuit_spread, wall_surface, ceiling_surface, wall_film, ceiling_film, spacings, spacing_least,
    spacing_most, cover_concrete, cover_screed, cover_gypsum, added_weight, door_gap,
    riser_difference, appliance_gap, insulation_heated, insulation_unheated, wall_clearance, leader_gap, loop_least, shared_indoor,
    shared_heat, shared_full, joint_sleeve, saw_cut_clearance, flange_clearance,
    flange_diameter, plate_width, sill_width, fastener_clearance, velocity_most,
    coil_lengths, cut_allowance, laid_difference, ground_swing, ground_water, insulation_ground,
    dimensions, thermal_bridges, films, warmer_neighbours, ground_method,
    unheated_method, next_house, blower_door, blower_divisor, shielding, air_least, leakage_share,
    slab_at_grade, hole_over_tube, lane_nearest, lane_farthest, plate_gap,
}

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
        reader.tell("", Place::default(), "a rule set needs a key and a name");
    }
    let mut limits = Limits { table: &table, reader, asked: vec!["key", "name"] };
    let rules = all(key, name, &mut limits);
    limits.unknown();
    rules
}

/// The names that a job can set otherwise.
pub(crate) fn names(rules: &RuleSet) -> Vec<String> {
    let tubes = rules.loop_length.iter().map(|(tube, _)| format!("loop_length.{tube}"));
    NAMES.iter().map(|name| (*name).to_owned()).chain(tubes).collect()
}

/// Sets a limit otherwise, as a job says, and remembers it; what is wrong with the value if not.
pub(crate) fn set(
    rules: &mut RuleSet,
    name: &str,
    value: &Node,
    why: &str,
    place: Place,
    units: System,
) -> Result<(), Vec<String>> {
    let place_of = value.place;
    let table = [Entry { key: "value".to_owned(), key_place: place_of, node: value.clone() }];
    let mut part = Part::new(name.to_owned(), place_of, &table);
    match replace(rules, name, Replacement { part: &mut part, why, units }) {
        Some(change) => {
            rules.overrides.push(Override { rule: name.to_owned(), place, ..change });
            Ok(())
        }
        None => Err(part.troubles),
    }
}

/// What a job says instead of a limit.
struct Replacement<'a, 'b> {
    part: &'a mut Part<'b>,
    why: &'a str,
    units: System,
}

impl Replacement<'_, '_> {
    fn set<T: Limit>(self, rule: &mut Rule<T>) -> Option<Override> {
        let value = T::read(self.part, "value")?;
        let change = Override {
            rule: String::new(),
            was: rule.value.words(self.units),
            citation: rule.citation(),
            now: value.words(self.units),
            why: self.why.to_owned(),
            place: Place::default(),
        };
        let source = format!("the job: {}", self.why);
        *rule = Rule {
            value,
            clause: String::new(),
            source,
            from_memory: false,
            against: String::new(),
        };
        Some(change)
    }
}

/// The limits of a text, asked by name.
struct Limits<'a> {
    table: &'a [Entry],
    reader: &'a mut Reader,
    asked: Vec<&'static str>,
}

impl<'a> Limits<'a> {
    fn entry(&mut self, name: &'static str) -> Option<&'a Entry> {
        self.asked.push(name);
        self.table.iter().find(|entry| entry.key == name)
    }

    fn limit<T: Limit>(&mut self, name: &'static str) -> Option<Rule<T>> {
        let Some(entry) = self.entry(name) else {
            self.reader.tell(name, Place::default(), "the limit is missing");
            return None;
        };
        part(name.to_owned(), entry, self.reader, |part| rule(part, "value"))
    }

    /// A limit for each tube.
    fn by_tube<Q: Quantity + Limit>(
        &mut self,
        name: &'static str,
    ) -> Option<Vec<(String, Rule<Q>)>> {
        if !matches!(self.table.iter().find(|it| it.key == name), Some(it) if it.node.table().is_some())
        {
            self.reader.tell(name, Place::default(), "a table by tube is needed");
        }
        self.each(name, |tube, part| Some((tube.to_owned(), rule(part, "value")?)))
    }

    /// What each table below a name says; nothing where the name is absent.
    fn each<T>(
        &mut self,
        name: &'static str,
        read: impl Fn(&str, &mut Part<'_>) -> Option<T>,
    ) -> Option<Vec<T>> {
        let Some(entry) = self.entry(name) else { return Some(Vec::new()) };
        let Kind::Table(tables) = &entry.node.kind else {
            self.reader.tell(name, entry.key_place, "tables with keys are needed");
            return None;
        };
        tables
            .iter()
            .map(|table| {
                let subject = format!("{name}.{}", table.key);
                part(subject, table, self.reader, |part| read(&table.key, part))
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

/// What is read from one table; all that is wrong with it is told.
fn part<T>(
    subject: String,
    entry: &Entry,
    reader: &mut Reader,
    read: impl FnOnce(&mut Part<'_>) -> Option<T>,
) -> Option<T> {
    let Kind::Table(table) = &entry.node.kind else {
        reader.tell(&subject, entry.key_place, "a table with value and source is needed");
        return None;
    };
    let mut part = Part::new(subject, entry.node.place, table);
    let found = read(&mut part);
    part.finish(reader);
    found
}

/// The limit that stands under a key of a part, with the part's clause and source.
fn rule<T: Limit>(part: &mut Part<'_>, key: &'static str) -> Option<Rule<T>> {
    let value = T::read(part, key);
    let (clause, source) = (part.text("clause"), part.text("source"));
    let (from_memory, against) = (part.flag("from_memory"), part.optional_text("against"));
    let against = against.unwrap_or_default();
    Some(Rule { value: value?, clause: clause?, source: source?, from_memory, against })
}

fn edge_factor(_: &str, part: &mut Part<'_>) -> Option<EdgeFactor> {
    let (heated, kind) = (part.flag("heated"), part.word("insulation"));
    let (reach, resistance) = (part.quantity("reach"), part.quantity("resistance"));
    let factor = rule(part, "value");
    Some(EdgeFactor {
        heated,
        kind: kind?,
        reach: reach?,
        resistance: resistance?,
        factor: factor?,
    })
}

fn space_factor(_: &str, part: &mut Part<'_>) -> Option<SpaceFactor> {
    let kind = part.word("kind");
    let (open, insulated) = (part.either("open"), part.either("insulated"));
    let factor = rule(part, "value");
    Some(SpaceFactor { kind: kind?, open, insulated, factor: factor? })
}

fn usual_loss(_: &str, part: &mut Part<'_>) -> Option<UsualLoss> {
    let until = part.count("until");
    let (least, most) = (rule(part, "least"), rule(part, "most"));
    Some(UsualLoss { until: until?, least: least?, most: most? })
}

fn outdoor_insulation(_: &str, part: &mut Part<'_>) -> Option<OutdoorInsulation> {
    let (down_to, least) = (part.quantity("down_to"), rule(part, "value"));
    Some(OutdoorInsulation { down_to: down_to?, least: least? })
}

fn joist_holes(_: &str, part: &mut Part<'_>) -> Option<JoistHoles> {
    let kind = part.word("kind");
    let limits = if part.flag("makers_chart") { Some(None) } else { hole_limits(part).map(Some) };
    let (clause, source) = (part.text("clause"), part.text("source"));
    let from_memory = part.flag("from_memory");
    let against = part.optional_text("against").unwrap_or_default();
    let limits = Rule { value: limits?, clause: clause?, source: source?, from_memory, against };
    Some(JoistHoles { kind: kind?, limits })
}

fn hole_limits(part: &mut Part<'_>) -> Option<HoleLimits> {
    let depths = part.quantity("depths");
    let (most, edge, mid_depth) =
        (part.optional("most"), part.optional("edge"), part.flag("mid_depth"));
    let (apart, apart_diameters) = (part.optional("apart"), part.optional("apart_diameters"));
    let (span_from, span_to) = (part.optional("span_from"), part.optional("span_to"));
    let depth_most = part.optional("depth_most");
    Some(HoleLimits {
        depths: depths?,
        most,
        edge,
        mid_depth,
        apart,
        apart_diameters,
        span_from,
        span_to,
        depth_most,
    })
}
