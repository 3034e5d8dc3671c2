//! What the design rests on: climate, water, limits, and what was assumed.

use super::SMALL;
use crate::block::{Cell, Column, Row, Spot, Table, Units};
use crate::source::Source;
use crate::tables::assumed::Assumed;
use design::Standing;
use job::{DropRule, Fact, Fluid, Origin, Reason, Rule, RuleSet, SupplyRule};
use quantity::{Measure, Quantity};

pub(crate) fn columns() -> Vec<Column> {
    vec![
        Column::words("item", "item"),
        Column::words("value", "value"),
        Column::words("reason", "where it comes from"),
    ]
}

pub(crate) struct Rows<'a>(&'a Source<'a>, Vec<Row>);

impl<'a> Rows<'a> {
    pub(crate) fn of(source: &'a Source<'a>) -> Self {
        Rows(source, Vec::new())
    }

    pub(crate) fn done(self) -> Vec<Row> {
        self.1
    }

    pub(crate) fn push(&mut self, key: &str, item: &str, value: Cell, reason: impl Into<String>) {
        let cells = vec![Cell::text(item), value, Cell::Text(reason.into())];
        self.1.push(Row::new(key, cells));
    }

    fn fact<Q: Quantity>(&mut self, key: &str, item: &str, fact: &Fact<Q>) {
        let assumed = matches!(fact.origin, Origin::Assumed(_) | Origin::Supposed(_));
        let standing = if assumed { Standing::Estimated } else { Standing::Designed };
        let value = crate::block::Value {
            si: fact.value.si(),
            units: Units::of(Q::MEASURE),
            explain: None,
            standing,
        };
        self.push(key, item, Cell::Quantity(value), origin(self.0, &fact.origin));
    }

    pub(crate) fn rule<Q: Quantity>(
        &mut self,
        key: &str,
        item: &str,
        rule: &Rule<Q>,
        units: Units,
    ) {
        let value = self.0.stated(rule.si(), units, "");
        let mut reason = self.cited(key, rule.citation());
        if !rule.against.is_empty() {
            reason = format!("{reason}. Others: {}", rule.against);
        }
        self.push(key, item, value, reason);
    }

    /// The citation of a rule, or that the job sets it, and what the rule set says.
    pub(crate) fn cited(&self, key: &str, citation: String) -> String {
        let mut overrides = self.0.job.rules.overrides.iter();
        overrides.find(|it| it.rule == key).map_or(citation, |it| {
            format!(
                "set by the job, {}: {}; the rule set says {} ({})",
                self.0.line(it.place),
                it.why,
                it.was,
                it.citation
            )
        })
    }
}

fn origin(source: &Source, origin: &Origin) -> String {
    match origin {
        Origin::Stated(place) | Origin::Inherited(place) => {
            format!("the job, {}", Spot::of(*place, source.text))
        }
        Origin::Measured(place) => {
            format!("measured: the job, {}", Spot::of(*place, source.text))
        }
        Origin::Supposed(place) => {
            format!("assumed by the job, {}", Spot::of(*place, source.text))
        }
        Origin::Assumed(why) => format!("assumed: {why}"),
    }
}

/// Why a decision is as it is, in words.
pub(crate) fn reason(source: &Source, reason: &Reason) -> String {
    match reason {
        Reason::Held(place) => format!("held by the job, {}", Spot::of(*place, source.text)),
        Reason::Rule(citation) => format!("rule: {citation}"),
        Reason::Chosen(why) => format!("chosen: {why}"),
    }
}

/// Climate, water and totals, each with where it comes from.
pub(crate) fn basis(source: &Source) -> Table {
    let mut rows = Rows::of(source);
    let (outdoors, house) = (&source.job.outdoors, &source.job.house);
    match &outdoors.design {
        Some(fact) => rows.fact("outdoor", "outdoor temperature, design day", fact),
        None => rows.push(
            "outdoor",
            "outdoor temperature, design day",
            Cell::CannotTell("the job does not state it".to_owned()),
            "not stated: without it there are no losses",
        ),
    }
    if let Some(mean) = &outdoors.annual_mean {
        rows.fact("annual_mean", "outdoor temperature, mean of the year", mean);
    }
    rows.fact("altitude", "height above the sea", &outdoors.altitude);
    rows.fact("ground", "conductivity of the ground", &outdoors.ground);
    rows.fact("air_changes", "air changes, unless a room says otherwise", &house.air_changes);
    water(source, &mut rows);
    if let Some(total) = &source.design.loads.total {
        let why = "sum over the rooms; heat that heated floors send down left out";
        rows.push("loss", "heat loss of the house", source.cell(total), why);
    }
    let balance = source.design.balance;
    let settled = if balance.settled { "settled" } else { "did not settle" };
    let rounds = format!(
        "heat, flow and temperatures {settled} in {} rounds, last change {:.2} W",
        balance.rounds, balance.last_change_w
    );
    rows.push("balance", "balance", Cell::text(settled), rounds);
    let title = "Design basis".to_owned();
    Table { key: "basis".to_owned(), title, columns: columns(), rows: rows.1, notes: Vec::new() }
}

fn water(source: &Source, rows: &mut Rows) {
    let (heating, emitters) = (&source.job.heating, &source.design.emitters);
    let fluid = match heating.fluid.value {
        Fluid::Water => "water",
        Fluid::PropyleneGlycol => "water with propylene glycol",
    };
    rows.push("fluid", "fluid", Cell::text(fluid), origin(source, &heating.fluid.origin));
    if heating.fluid.value != Fluid::Water {
        rows.fact("glycol", "glycol by volume", &heating.glycol);
    }
    let mut tubes: Vec<&str> = emitters.floors.iter().map(|it| it.tube.as_str()).collect();
    tubes.sort_unstable();
    tubes.dedup();
    if !tubes.is_empty() {
        let why = match heating.tube.held() {
            Some(held) => format!("held by the job, {}", Spot::of(held.place, source.text)),
            None => "chosen by the design or a room".to_owned(),
        };
        let names: Vec<String> = tubes.into_iter().map(|key| source.tube_name(key)).collect();
        rows.push("tube", "tube", Cell::Text(names.join(", ")), why);
    }
    supplies(source, rows);
    let rule = &emitters.rule;
    let who = match rule.supply_for.value {
        SupplyRule::AllRooms => "the highest need of all rooms",
        SupplyRule::AllButBaths => "the highest need of all rooms but baths",
    };
    let why = reason(source, &rule.supply_for.reason);
    rows.push("supply_for", "supply temperature follows", Cell::text(who), why);
    let drops = match rule.drops.value {
        DropRule::Own => "its own in each loop, at one supply",
        DropRule::Equal => "the same in each loop; thermostats hold back",
    };
    rows.push("drops", "drop of the water", Cell::text(drops), reason(source, &rule.drops.reason));
    if let Some(head) = &heating.head {
        rows.fact("pump_head", "head that the pump has for one loop", head);
    }
}

/// The supply temperature of each circuit.
fn supplies(source: &Source, rows: &mut Rows) {
    let waters = &source.design.emitters.waters;
    for water in waters {
        let (key, path, name) = match &water.circuit {
            None => ("supply".to_owned(), "heating.supply".to_owned(), String::new()),
            Some(circuit) => {
                let named = source.job.circuits.iter().find(|own| own.key == *circuit);
                let name = named.map_or(circuit.as_str(), |own| own.name.value.as_str());
                (
                    format!("supply_{circuit}"),
                    format!("circuit.{circuit}.supply"),
                    format!(", {name}"),
                )
            }
        };
        let units = Units::of(Measure::Temperature);
        let cell = source.stated(water.supply.value.si(), units, &path);
        let what = format!("supply temperature{name}");
        rows.push(&key, &what, cell, reason(source, &water.supply.reason));
    }
    if waters.is_empty() {
        let why = Cell::CannotTell("no heated floor could be worked out".to_owned());
        rows.push("supply", "supply temperature", why, "");
    }
}

/// The limits that hold, each with its clause.
pub(crate) fn limits(source: &Source) -> Table {
    let rules = &source.job.rules;
    let mut rows = Rows::of(source);
    let temperature = Units::of(Measure::Temperature);
    rows.rule("floor_living", "hottest floor where people stay", &rules.floor_living, temperature);
    rows.rule("floor_bath", "hottest floor in a bath", &rules.floor_bath, temperature);
    rows.rule("floor_utility", "hottest floor elsewhere", &rules.floor_utility, temperature);
    let (perimeter, resilient) = (&rules.floor_perimeter, &rules.floor_resilient);
    rows.rule("floor_perimeter", "hottest strip along outside walls", perimeter, temperature);
    rows.rule("peak_living", "hottest spot where people stay", &rules.peak_living, temperature);
    rows.rule("peak_bath", "hottest spot in a bath", &rules.peak_bath, temperature);
    rows.rule("peak_utility", "hottest spot elsewhere", &rules.peak_utility, temperature);
    let peak = &rules.peak_perimeter;
    rows.rule("peak_perimeter", "hottest spot along outside walls", peak, temperature);
    rows.rule("perimeter_depth", "widest strip along outside walls", &rules.perimeter_depth, SMALL);
    rows.rule("floor_wood", "hottest wood floor", &rules.floor_wood, temperature);
    rows.rule("floor_resilient", "hottest resilient floor", resilient, temperature);
    rows.rule("floor_stone", "hottest floor of tile or stone", &rules.floor_stone, temperature);
    rows.rule("supply_slab", "hottest water into a slab", &rules.supply_slab, temperature);
    let (gypsum, dry) = (&rules.supply_gypsum, &rules.supply_dry);
    rows.rule("supply_gypsum", "hottest water at gypsum board", gypsum, temperature);
    rows.rule("supply_dry", "hottest water into boards and plates", dry, temperature);
    let drop = Units::of(Measure::TemperatureDifference);
    rows.rule("drop_least", "least that water cools in a loop", &rules.drop_least, drop);
    rows.rule("drop_most", "most that water may cool in a loop", &rules.drop_most, drop);
    let spread = &rules.circuit_spread;
    rows.rule("circuit_spread", "waters that one circuit may serve", spread, drop);
    let (wall, ceiling) = (&rules.wall_surface, &rules.ceiling_surface);
    rows.rule("wall_surface", "hottest panel on a wall", wall, temperature);
    rows.rule("ceiling_surface", "hottest panel on a ceiling", ceiling, temperature);
    for tube in tubes_used(source) {
        if let Some(rule) = rules.loop_length(tube) {
            let item = format!("longest loop of {}", source.tube_name(tube));
            rows.rule(&format!("loop_length.{tube}"), &item, rule, Units::of(Measure::Length));
        }
    }
    rows.rule("wall_clearance", "outermost tube from a wall", &rules.wall_clearance, SMALL);
    let clearance = &rules.fastener_clearance;
    rows.rule("fastener_clearance", "drill or nail from a tube's centre", clearance, SMALL);
    if !source.job.fixtures.is_empty() {
        let flange = &rules.flange_clearance;
        rows.rule("flange_clearance", "tube from a toilet's flange", flange, SMALL);
    }
    if !source.job.joints.is_empty() {
        rows.rule("joint_sleeve", "sleeve at a movement joint", &rules.joint_sleeve, SMALL);
        let cut = &rules.saw_cut_clearance;
        rows.rule("saw_cut_clearance", "from a saw cut down to tube", cut, SMALL);
    }
    let velocity = Units::of(Measure::Velocity);
    rows.rule("velocity_most", "fastest water in a loop", &rules.velocity_most, velocity);
    let length = Units::of(Measure::Length);
    rows.rule("cut_allowance", "tube cut beyond each drawn loop", &rules.cut_allowance, length);
    let share = Units::of(Measure::Ratio);
    let difference = &rules.laid_difference;
    rows.rule("laid_difference", "laid length off the drawn one", difference, share);
    let resistance = Units::of(Measure::AreaResistance);
    let insulation = &rules.insulation_ground;
    rows.rule("insulation_ground", "least insulation on the ground", insulation, resistance);
    build_up_limits(rules, &mut rows);
    let notes = vec![
        format!("Rule set: {}.", rules.name),
        "A limit from memory was not compared with the print: look it up before relying on it."
            .to_owned(),
    ];
    let title = "Limits that hold".to_owned();
    Table { key: "limits".to_owned(), title, columns: columns(), rows: rows.1, notes }
}

/// Limits of insulation above ground, spacing, cover, height and weight.
fn build_up_limits(rules: &RuleSet, rows: &mut Rows) {
    let resistance = Units::of(Measure::AreaResistance);
    let (heated, unheated) = (&rules.insulation_heated, &rules.insulation_unheated);
    rows.rule("insulation_heated", "least insulation over a heated room", heated, resistance);
    rows.rule("insulation_unheated", "least insulation over the unheated", unheated, resistance);
    let steps = &rules.insulation_outdoors;
    for (number, step) in steps.iter().enumerate() {
        let key = format!("insulation_outdoors.{number}");
        let mut item = "least insulation over outdoor air".to_owned();
        if steps.len() > 1 {
            let units = rows.0.job.units.value;
            let down_to = quantity::show(step.down_to.si(), Measure::Temperature, units);
            item = format!("{item} down to {down_to}");
        }
        rows.rule(&key, &item, &step.least, resistance);
    }
    let lengths = [
        ("spacing_least", "closest spacing", &rules.spacing_least),
        ("spacing_most", "widest spacing", &rules.spacing_most),
        ("cover_concrete", "least concrete over the tube", &rules.cover_concrete),
        ("cover_screed", "least screed over the tube", &rules.cover_screed),
        ("cover_gypsum", "least poured gypsum over the tube", &rules.cover_gypsum),
        ("door_gap", "gap below doors", &rules.door_gap),
        ("riser_difference", "difference of one riser", &rules.riser_difference),
        ("appliance_gap", "what appliances can be let down", &rules.appliance_gap),
    ];
    for (key, item, rule) in lengths {
        rows.rule(key, item, rule, SMALL);
    }
    let under = [
        ("hole_over_tube", "holes in joists over the tube", &rules.hole_over_tube),
        ("plate_gap", "gap between plates", &rules.plate_gap),
    ];
    let lanes = [
        ("lane_nearest", "nearest hole to a bearing", &rules.lane_nearest),
        ("lane_farthest", "farthest hole from a bearing", &rules.lane_farthest),
    ];
    if !rows.0.design.joist_floors.is_empty() {
        for (key, item, rule) in under {
            rows.rule(key, item, rule, SMALL);
        }
        for (key, item, rule) in lanes {
            rows.rule(key, item, rule, Units::of(Measure::Length));
        }
    }
    let (added, mass) = (&rules.added_weight, Units::of(Measure::ArealMass));
    rows.rule("added_weight", "weight laid on joists unasked", added, mass);
}

fn tubes_used<'a>(source: &'a Source) -> Vec<&'a str> {
    let mut tubes: Vec<&str> = source.design.loops.iter().map(|it| it.tube.as_str()).collect();
    tubes.sort_unstable();
    tubes.dedup();
    tubes
}

/// Everything that was assumed, and why.
pub(crate) fn assumptions(source: &Source) -> Table {
    let mut rows = Rows::of(source);
    for (number, assumed) in Assumed::all(source).into_iter().enumerate() {
        let Assumed { item, of, value, why } = assumed;
        let all = of.len() > 3 && of.len() == source.job.rooms.len();
        let item = match of.as_slice() {
            [] => item,
            _ if all => format!("{item}: all {} rooms", of.len()),
            of => format!("{item}: {}", of.join(", ")),
        };
        rows.push(&format!("{}", number + 1), &item, Cell::Text(value), why);
    }
    let mut columns = columns();
    columns[1].heading = "taken as";
    columns[2].heading = "why";
    let notes = match rows.1.is_empty() {
        true => vec!["Nothing was assumed: the job states all of it.".to_owned()],
        false => vec![
            "State these in the job once they are known; numbers that rest on them are \
                       marked estimated."
                .to_owned(),
        ],
    };
    let title = "What was assumed".to_owned();
    Table { key: "assumptions".to_owned(), title, columns, rows: rows.1, notes }
}
