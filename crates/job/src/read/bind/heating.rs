//! The heating as a whole, circuits, manifolds and other emitters.

use super::lines::{self, Lines};
use crate::decision::{Fact, Origin};
use crate::finding::{Finding, Severity};
use crate::model::{Circuit, Emitter, EmitterKind, Fluid, Heating, Manifold, ManifoldPlace, Rate};
use crate::read::Context;
use crate::read::sheet::{Group, Sheet};
use quantity::{Quantity, Ratio};

pub(super) fn heating(sheet: &Sheet, context: &mut Context<'_>) -> Heating {
    let lines = Lines::single(sheet, "heating");
    let fluid = lines.word_fact("fluid", context, Fluid::Water);
    let glycol: Fact<Ratio> = lines.quantity_fact("glycol", context);
    antifreeze(&fluid, &glycol, context);
    Heating {
        tube: lines.decision("tube", lines::text),
        tube_among: lines.names("tube_among"),
        fluid,
        glycol,
        supply: lines.decision("supply", lines::number),
        drop: lines.decision("drop", lines::number),
        supply_for: lines.decision("supply_for", lines::word),
        drops: lines.decision("drops", lines::word),
        head: lines.quantity("head"),
        reheat: lines.quantity("reheat"),
        laying_order: lines.names("laying_order"),
    }
}

/// Prices that are told.
pub(super) fn rates(sheet: &Sheet) -> Vec<Rate> {
    let rate = |group: &Group| {
        let price = Lines::of(group).quantity("price")?;
        Some(Rate { key: group.key.clone(), place: group.place, price })
    };
    sheet.all("rate").filter_map(rate).collect()
}

/// Tells a fluid and a share of glycol that do not go together.
fn antifreeze(fluid: &Fact<Fluid>, glycol: &Fact<Ratio>, context: &mut Context<'_>) {
    let place = glycol.place().or(fluid.place());
    if fluid.value == Fluid::PropyleneGlycol && glycol.value.si() <= 0.0 {
        context.findings.push(
            Finding::new(
                Severity::Stop,
                "missing-key",
                "heating.glycol",
                "the fluid is propylene glycol, but its share is not given",
                "write glycol = 30 for 30 % by volume",
            )
            .at(place),
        );
    } else if fluid.value == Fluid::Water && glycol.value.si() > 0.0 {
        context.findings.push(
            Finding::new(
                Severity::Stop,
                "glycol-in-water",
                "heating.glycol",
                "a share of glycol is given, but the fluid is water",
                "write fluid = \"propylene glycol\", or take the share away",
            )
            .at(place),
        );
    }
}

pub(super) fn circuits(sheet: &Sheet) -> Vec<Circuit> {
    let circuit = |group| {
        let lines = Lines::of(group);
        Circuit {
            key: group.key.clone(),
            place: group.place,
            name: lines.name(),
            supply: lines.decision("supply", lines::number),
        }
    };
    sheet.all("circuit").map(circuit).collect()
}

pub(super) fn manifolds(sheet: &Sheet, context: &mut Context<'_>) -> Vec<Manifold> {
    let mut manifolds = Vec::new();
    for group in sheet.all("manifold") {
        let lines = Lines::of(group);
        manifolds.push(Manifold {
            key: group.key.clone(),
            place: group.place,
            room: lines.known("room", lines::text),
            at: lines.known("at", lines::point),
            height: lines.quantity_fact("height", context),
            tail: lines.quantity_fact("tail", context),
            circuit: lines.text("circuit"),
            order: lines.names("order"),
        });
    }
    manifolds
}

/// Places that are whole; what one lacks was told.
pub(super) fn manifold_places(sheet: &Sheet) -> Vec<ManifoldPlace> {
    let mut places = Vec::new();
    for group in sheet.all("manifold_place") {
        let lines = Lines::of(group);
        let (Some(manifold), Some(room), Some(at)) = (
            lines.text("manifold"),
            lines.known("room", lines::text),
            lines.known("at", lines::point),
        ) else {
            continue;
        };
        places.push(ManifoldPlace {
            key: group.key.clone(),
            place: group.place,
            manifold,
            room,
            at,
        });
    }
    places
}

pub(super) fn emitters(sheet: &Sheet, context: &mut Context<'_>) -> Vec<Emitter> {
    let mut emitters = Vec::new();
    for group in sheet.all("emitter") {
        let lines = Lines::of(group);
        let kind = lines.word_fact("kind", context, EmitterKind::Radiator);
        let exponent = lines.quantity("exponent").unwrap_or_else(|| usual_exponent(kind.value));
        let emitter = Emitter {
            key: group.key.clone(),
            place: group.place,
            kind,
            room: lines.text("room"),
            circuit: lines.text("circuit"),
            panel: lines.text("panel"),
            area: lines.quantity("area"),
            spacing: lines.quantity("spacing"),
            output: lines.quantity("output"),
            rated_supply: lines.quantity_fact("rated_supply", context),
            rated_return: lines.quantity_fact("rated_return", context),
            rated_room: lines.quantity_fact("rated_room", context),
            exponent,
        };
        rating(&emitter, group, context);
        emitters.push(emitter);
    }
    emitters
}

/// The usual exponent of a kind, from memory.
fn usual_exponent(kind: EmitterKind) -> Fact<Ratio> {
    let (exponent, why) = match kind {
        EmitterKind::Radiator => (1.3, "1.3: usual of radiators rated by EN 442, from memory"),
        EmitterKind::TowelRail => (1.3, "1.3: taken as that of radiators, from memory"),
        EmitterKind::Convector => (1.35, "1.35: convectors lie between 1.3 and 1.4, from memory"),
        EmitterKind::WallPanel | EmitterKind::CeilingPanel => {
            (1.1, "1.1: that of heated surfaces in EN 1264, from memory")
        }
    };
    Fact { value: Ratio::from_si(exponent), origin: Origin::Assumed(why.to_owned()) }
}

/// Tells a rating whose temperatures do not fall from supply to return to room.
fn rating(emitter: &Emitter, group: &Group, context: &mut Context<'_>) {
    let temperatures = [&emitter.rated_supply, &emitter.rated_return, &emitter.rated_room];
    let falls = temperatures.windows(2).all(|pair| pair[0].value > pair[1].value);
    let place = temperatures.iter().find_map(|fact| fact.place());
    if let Some(place) = place.filter(|_| !falls) {
        let subject = group.subject();
        context.findings.push(
            Finding::new(
                Severity::Stop,
                "impossible-value",
                format!("{subject}.rated_supply"),
                format!(
                    "the rated temperatures of {subject} do not fall from supply to return to room"
                ),
                "write rated_supply, rated_return and rated_room as the maker's table heads them",
            )
            .at(place),
        );
    }
}
