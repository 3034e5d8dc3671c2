//! Climate, house, storeys, constructions, heating and manifolds.

use super::lines::{self, Lines};
use crate::decision::{Fact, Stated};
use crate::finding::{Finding, Severity};
use crate::model::{Assembly, Construction, Fluid, Heating, House, Manifold, Outdoors, Storey};
use crate::read::Context;
use crate::read::sheet::{Sheet, Value};
use quantity::Quantity;

pub(super) fn outdoors(sheet: &Sheet, context: &mut Context<'_>) -> Outdoors {
    let lines = Lines::single(sheet, "outdoors");
    Outdoors {
        design: lines.quantity("design"),
        annual_mean: lines.quantity("annual_mean"),
        altitude: lines.quantity_fact("altitude", context),
        ground: lines.quantity_fact("ground", context),
        ground_swing: lines.quantity("ground_swing"),
        wind: lines.quantity_fact("wind", context),
        monthly: None,
        humidity: None,
    }
}

pub(super) fn house(sheet: &Sheet, context: &mut Context<'_>) -> House {
    let lines = Lines::single(sheet, "house");
    House {
        built: None,
        air_changes: lines.quantity_fact("air_changes", context),
        blower_door: lines.quantity("blower_door"),
        leakage_area: lines.quantity("leakage_area"),
        flue_share: lines.quantity_fact("flue_share", context),
        thickest_wall: lines.quantity_fact("thickest_wall", context),
        wall: lines.text("wall"),
        wall_in_ground: lines.text("wall_in_ground"),
        party_wall: lines.text("party_wall"),
        partition: lines.text("partition"),
        ceiling: lines.text("ceiling"),
        roof: lines.text("roof"),
        floor_between: lines.text("floor_between"),
        skylight: lines.text("skylight"),
        floor: lines.text("floor"),
        window: lines.text("window"),
        door: lines.text("door"),
    }
}

pub(super) fn storeys(sheet: &Sheet) -> Vec<Storey> {
    sheet
        .all("storey")
        .map(|group| Storey {
            key: group.key.clone(),
            place: group.place,
            height: Lines::of(group).quantity("height"),
            floor_to_floor: Lines::of(group).quantity("floor_to_floor"),
            level: Lines::of(group).quantity("level"),
            ground: Lines::of(group).quantity("ground"),
            framing: Lines::of(group).text("framing"),
        })
        .collect()
}

pub(super) fn heating(sheet: &Sheet, context: &mut Context<'_>) -> Heating {
    let lines = Lines::single(sheet, "heating");
    let fluid = lines.fact("fluid", context, fluid, || Fluid::Water);
    let glycol: Fact<quantity::Ratio> = lines.quantity_fact("glycol", context);
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
    Heating {
        tube: lines.decision("tube", lines::text),
        fluid,
        glycol,
        supply: lines.decision("supply", lines::number),
        drop: lines.decision("drop", lines::number),
        head: lines.quantity("head"),
        reheat: lines.quantity("reheat"),
    }
}

fn fluid(value: &Value) -> Option<Fluid> {
    match value {
        Value::Text(word) if word == "water" => Some(Fluid::Water),
        Value::Text(word) if word == "propylene glycol" => Some(Fluid::PropyleneGlycol),
        _ => None,
    }
}

pub(super) fn assemblies(sheet: &Sheet, context: &mut Context<'_>) -> Vec<Assembly> {
    let mut assemblies = Vec::new();
    for group in sheet.all("assembly") {
        let lines = Lines::of(group);
        assemblies.push(Assembly {
            key: group.key.clone(),
            place: group.place,
            construction: construction(&lines, &group.subject(), context),
            edge: lines.quantity("edge"),
            edge_depth: lines.quantity("edge_depth"),
            edge_width: lines.quantity("edge_width"),
            gaps: Fact { value: 0, origin: crate::Origin::Assumed("no gaps are told".to_owned()) },
            fixings: None,
        });
    }
    assemblies
}

fn construction(
    lines: &Lines<'_>,
    subject: &str,
    context: &mut Context<'_>,
) -> Option<Construction> {
    let layers = lines.stated("layers", |value| match value {
        Value::Layers(layers) => Some(layers.clone()),
        _ => None,
    });
    let rated: Option<Stated<quantity::Transmittance>> = lines.stated("u", lines::number);
    if let (Some(_), Some(rated)) = (&layers, &rated) {
        context.findings.push(
            Finding::new(
                Severity::Stop,
                "layers-and-u",
                format!("{subject}.u"),
                format!("{subject} has both layers and a rated U-value; the layers are taken"),
                "keep one of the two",
            )
            .at(rated.place)
            .mend(crate::Mend {
                words: format!("take the rated U-value of {subject} away"),
                edits: vec![crate::Edit::Unset { path: format!("{}.u", path(subject)) }],
                promise: crate::Promise::Goes,
            }),
        );
    }
    layers.map(Construction::Layers).or(rated.map(Construction::Rated))
}

/// The dotted path of a subject `assembly.key`.
fn path(subject: &str) -> String {
    match subject.split_once('.') {
        Some((name, key)) => format!("{name}.{}", crate::path::quoted(key)),
        None => subject.to_owned(),
    }
}

pub(super) fn manifolds(sheet: &Sheet, context: &mut Context<'_>) -> Vec<Manifold> {
    let mut manifolds = Vec::new();
    for group in sheet.all("manifold") {
        let lines = Lines::of(group);
        manifolds.push(Manifold {
            key: group.key.clone(),
            place: group.place,
            room: lines.text("room").map(super::fact),
            at: lines.point("at").map(super::fact),
            height: lines.quantity_fact("height", context),
            tail: lines.quantity_fact("tail", context),
            circuit: lines.text("circuit"),
        });
    }
    manifolds
}
