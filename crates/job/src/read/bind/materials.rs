//! The job's own materials.

use super::lines::{self, Lines};
use crate::finding::{Finding, Severity};
use crate::model::{Carrier, Family, Material, Sheet};
use crate::read::sheet::{Group, Sheet as Text};
use crate::read::tables::short;
use crate::read::{Context, squeeze_name};

/// The job's own materials. One that the catalogue has already is told, and that of the catalogue
/// holds.
pub(in crate::read) fn materials(text: &Text, context: &mut Context<'_>) -> Vec<Material> {
    let mut materials: Vec<Material> = Vec::new();
    for group in text.all("material") {
        let lines = Lines::of(group);
        let name = lines.name().value;
        let names = [squeeze_name(&group.key), squeeze_name(&name)];
        let known = context.shelf.catalogue.materials.iter().chain(&materials);
        let clash = known
            .into_iter()
            .find(|it| {
                names.contains(&squeeze_name(&it.key)) || names.contains(&squeeze_name(&it.name))
            })
            .map(|it| it.name.clone());
        if let Some(clash) = clash {
            taken(group, &clash, context);
            continue;
        }
        let Some(conductivity) = lines.stated("conductivity", lines::number) else { continue };
        materials.push(Material {
            key: group.key.clone(),
            name,
            conductivity: conductivity.value,
            density: lines.quantity("density").map(|fact| fact.value),
            specific_heat: lines.quantity("specific_heat").map(|fact| fact.value),
            carrier: lines.word("carrier").map_or(Carrier::default(), |fact| fact.value),
            family: lines.word("family").map_or(Family::default(), |fact| fact.value),
            sheet: sheet(group, &lines, context),
            grooves: lines.quantity("grooves").map(|fact| fact.value),
            piece_length: lines.quantity("piece_length").map(|fact| fact.value),
            piece_width: lines.quantity("piece_width").map(|fact| fact.value),
            source: "the job".to_owned(),
        });
    }
    materials
}

/// The sheet of a carrier, where the text says how thick it is.
fn sheet(group: &Group, lines: &Lines<'_>, context: &mut Context<'_>) -> Option<Sheet> {
    let conductivity = lines.quantity_fact("sheet_conductivity", context);
    let contact = lines.quantity_fact("contact", context);
    let width = lines.quantity("sheet_width");
    if let Some(thickness) = lines.quantity("sheet") {
        return Some(Sheet {
            thickness: thickness.value,
            width: width.map(|fact| fact.value),
            conductivity: conductivity.value,
            contact: contact.value,
        });
    }
    let of_a_sheet = ["sheet_width", "sheet_conductivity", "contact"];
    let stated = of_a_sheet.iter().find_map(|key| group.line(key));
    if let Some(line) = stated.filter(|_| !group.mentions("sheet")) {
        context.findings.push(
            Finding::new(
                Severity::Warn,
                "says-nothing",
                format!("{}.sheet", group.subject()),
                format!("{} does not say how thick its metal sheet is", group.subject()),
                "write sheet = and the thickness of the metal; without it there is no sheet",
            )
            .at(line.stated.place),
        );
    }
    None
}

fn taken(group: &Group, name: &str, context: &mut Context<'_>) {
    context.findings.push(
        Finding::new(
            Severity::Stop,
            "name-taken",
            group.subject(),
            format!(
                "there is a material called {} already; it holds, and this one is not read",
                short(name)
            ),
            "give yours a name of its own, and write that in the layers",
        )
        .at(group.place),
    );
}
