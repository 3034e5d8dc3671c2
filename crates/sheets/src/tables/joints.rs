//! Tube at joints: where it crosses, and from which of its marks to which a sleeve reaches.

use super::{SMALL, column};
use crate::block::{Cell, Column, Row, Table, Units};
use crate::source::{Source, spoken};
use design::loops::JointCrossing;
use job::JointKind;
use quantity::{Measure, Quantity};

/// Every tube at every joint; none where no tube crosses one.
pub(crate) fn joints(source: &Source) -> Option<Table> {
    let columns = vec![
        Column::words("joint", "joint"),
        Column::words("kind", "kind"),
        Column::words("loop", "loop"),
        Column::words("part", "part"),
        column("along", "along the tube", Measure::Length),
        Column::of("sleeve", "sleeve", SMALL),
        column("from", "sleeve from", Measure::Length),
        column("to", "sleeve to", Measure::Length),
        Column::of("depth", "cut deep", SMALL),
    ];
    let all = &source.design.joint_crossings;
    let rows: Vec<Row> =
        all.iter().enumerate().map(|(number, it)| row(source, number, it)).collect();
    let rule = &source.job.rules.joint_sleeve;
    let notes = vec![format!(
        "Along the tube: from the supply port, on the floor; tube between port and floor comes on \
         top. Sleeves reach as far to one side of a movement joint as to the other ({}); what they \
         keep of a leader's heat is not taken off.",
        rule.citation()
    )];
    let title = "Tube at joints".to_owned();
    (!rows.is_empty()).then(|| Table { key: "joints".to_owned(), title, columns, rows, notes })
}

fn row(source: &Source, number: usize, crossing: &JointCrossing) -> Row {
    let length = Units::of(Measure::Length);
    let joint = source.job.joints.iter().find(|joint| joint.key == crossing.joint);
    let sleeved = crossing.sleeved_m();
    let end = |place: usize| {
        sleeved.map_or(Cell::Blank, |sleeved| source.stated(sleeved[place], length, ""))
    };
    let depth = match joint.and_then(|joint| joint.depth.as_ref()) {
        _ if crossing.kind == JointKind::Movement => Cell::Blank,
        Some(depth) => source.stated(depth.value.si(), SMALL, ""),
        None => Cell::CannotTell("the job does not state it".to_owned()),
    };
    let cells = vec![
        Cell::Text(spoken(&crossing.joint)),
        Cell::text(crossing.kind.word()),
        Cell::text(crossing.of_loop.clone()),
        Cell::text(crossing.part.word()),
        source.cell(&crossing.along),
        crossing.sleeve.as_ref().map_or(Cell::Blank, |sleeve| source.cell_in(sleeve, SMALL)),
        end(0),
        end(1),
        depth,
    ];
    Row::new(format!("{}-{}", crossing.joint, number + 1), cells)
}
