//! Constructions and framing.

use super::lines::{self, Lines};
use super::rooms::outline;
use crate::decision::{Fact, Origin, Stated};
use crate::finding::{Finding, Severity};
use crate::model::{Assembly, BayBlock, BayBlockKind, Catalogue, Construction, Fixings, Framing};
use crate::read::Context;
use crate::read::refer::path_of;
use crate::read::sheet::{Group, Sheet, Value};

pub(super) fn assemblies(sheet: &Sheet, context: &mut Context<'_>) -> Vec<Assembly> {
    let mut assemblies = Vec::new();
    for group in sheet.all("assembly") {
        let lines = Lines::of(group);
        assemblies.push(Assembly {
            key: group.key.clone(),
            place: group.place,
            construction: construction(group, &lines, context),
            edge: lines.quantity("edge"),
            edge_depth: lines.quantity("edge_depth"),
            edge_width: lines.quantity("edge_width"),
            gaps: lines.fact("gaps", context, lines::count, || 0),
            fixings: fixings(group, &lines, context),
            added: lines.count("added"),
            build_up: None,
        });
    }
    assemblies
}

/// Build-ups of the catalogue that the text names as floors, as assemblies at the place that names
/// them first; an assembly of the job's own goes before one of the same key.
pub(super) fn named_build_ups(
    named: &[&Stated<String>],
    own: &[Assembly],
    catalogue: &Catalogue,
) -> Vec<Assembly> {
    let mut assemblies: Vec<Assembly> = Vec::new();
    for Stated { value: key, place } in named {
        if own.iter().chain(&assemblies).any(|known| known.key == *key) {
            continue;
        }
        let Some(build_up) = catalogue.build_up(key) else { continue };
        let layers = Stated { value: build_up.layers.clone(), place: *place };
        let of_catalogue = || Origin::Assumed(format!("{}: {}", build_up.name, build_up.source));
        assemblies.push(Assembly {
            key: key.clone(),
            place: *place,
            construction: Some(Construction::Layers(layers)),
            edge: None,
            edge_depth: None,
            edge_width: None,
            gaps: Fact { value: 0, origin: of_catalogue() },
            fixings: None,
            added: Some(Fact { value: build_up.added, origin: of_catalogue() }),
            build_up: Some(key.clone()),
        });
    }
    assemblies
}

fn construction(
    group: &Group,
    lines: &Lines<'_>,
    context: &mut Context<'_>,
) -> Option<Construction> {
    let layers = lines.stated("layers", |value| match value {
        Value::Layers(layers) => Some(layers.clone()),
        _ => None,
    });
    let rated: Option<Stated<quantity::Transmittance>> = lines.stated("u", lines::number);
    if let (Some(_), Some(rated)) = (&layers, &rated) {
        let subject = group.subject();
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
                edits: vec![crate::Edit::Unset { path: format!("{}.u", path_of(group)) }],
                promise: crate::Promise::Goes,
            }),
        );
    }
    layers.map(Construction::Layers).or(rated.map(Construction::Rated))
}

/// Fixings, where the text says how many.
fn fixings(group: &Group, lines: &Lines<'_>, context: &mut Context<'_>) -> Option<Fixings> {
    let section = lines.quantity_fact("fixing_section", context);
    let conductivity = lines.quantity_fact("fixing_conductivity", context);
    let Some(per_square_metre) = lines.quantity("fixings") else {
        let place = section.place().or(conductivity.place());
        if let Some(place) = place.filter(|_| !group.mentions("fixings")) {
            context.findings.push(
                Finding::new(
                    Severity::Warn,
                    "says-nothing",
                    format!("{}.fixings", group.subject()),
                    format!("{} does not say how many fixings there are", group.subject()),
                    "write fixings = and their number on each square metre; without it they do not count",
                )
                .at(place),
            );
        }
        return None;
    };
    Some(Fixings { per_square_metre, section, conductivity })
}

pub(super) fn framings(sheet: &Sheet, context: &mut Context<'_>) -> Vec<Framing> {
    let framing = |group| {
        let lines = Lines::of(group);
        Framing {
            key: group.key.clone(),
            place: group.place,
            kind: lines.word("kind"),
            depth: lines.quantity("depth"),
            spacing: lines.quantity("spacing"),
            direction: lines.quantity("direction"),
            width: lines.quantity_fact("width", context),
            at: lines.known("at", lines::point),
            bearings: lines.known("bearings", lines::points),
            blocked: lines.text("blocked"),
        }
    };
    sheet.all("framing").map(framing).collect()
}

/// What is in the way between joists whose framing is there.
pub(super) fn bay_blocks(sheet: &Sheet, context: &mut Context<'_>) -> Vec<BayBlock> {
    let mut blocks = Vec::new();
    for group in sheet.all("bay_block") {
        let lines = Lines::of(group);
        let Some(framing) = lines.text("framing") else { continue };
        blocks.push(BayBlock {
            key: group.key.clone(),
            place: group.place,
            framing,
            kind: lines.word_fact("kind", context, BayBlockKind::NothingPasses),
            outline: outline(group, context),
        });
    }
    blocks
}
