//! Papers that stay on site: the plan for other trades, and the cards at the manifolds.

use crate::block::{Block, Sheet};
use crate::cautions::cautions;
use crate::drawing::{no_drilling_plan, storeys};
use crate::sheet::{head, prose};
use crate::source::Source;
use crate::tables;

/// What other trades must keep clear of, storey by storey.
pub(crate) fn no_drilling_sheet(source: &Source) -> Sheet {
    let mut blocks = vec![rules_of_the_floor(source)];
    let plans: Vec<_> =
        storeys(source).iter().filter(|it| !it.loops.is_empty()).map(no_drilling_plan).collect();
    if plans.is_empty() {
        let words = "No tube is laid yet, so there is nothing to keep clear of.";
        blocks.push(prose("no-tube", "Tube under the floor", vec![words.to_owned()]));
    }
    blocks.extend(plans.into_iter().map(Block::Drawing));
    blocks.push(Block::Table(tables::doorway_table(source)));
    blocks.push(Block::Table(tables::wall_table(source)));
    blocks.push(cautions());
    let title = format!("No drilling, no nailing: {}", source.job.name.value);
    let first = source.job.units.value;
    Sheet { key: "no-drilling".to_owned(), title, head: head(source.job), first, blocks }
}

/// The ports of each manifold, to hang beside it.
pub(crate) fn port_sheet(source: &Source) -> Sheet {
    let mut blocks: Vec<Block> = tables::port_cards(source).into_iter().map(Block::Table).collect();
    if blocks.is_empty() {
        let words = "No loop hangs on a manifold yet.";
        blocks.push(prose("no-ports", "Ports", vec![words.to_owned()]));
    }
    blocks.push(cautions());
    let title = format!("Port cards: {}", source.job.name.value);
    let first = source.job.units.value;
    Sheet { key: "port-cards".to_owned(), title, head: head(source.job), first, blocks }
}

/// What holds for everybody who works on the floor.
fn rules_of_the_floor(source: &Source) -> Block {
    let rule = &source.job.rules.fastener_clearance;
    let first = source.job.units.value;
    let clearance = tables::shown_both(rule.si(), quantity::Measure::Length, first);
    let lines = vec![
        format!(
            "There is heating tube under this floor. Nothing is drilled, nailed, screwed, shot or \
             cut into it on the shaded bands: {clearance} to both sides of every tube's middle \
             ({}).",
            rule.citation()
        ),
        "Hatched strips along walls may be fixed to, for plates, door stops and base, at the \
         numbers given. Anywhere else, ask who laid the tube."
            .to_owned(),
        "No fastener goes in deeper than what covers the tube, less a finger's breadth. Where nobody \
         has measured that cover, nothing goes in over a band; glue instead."
            .to_owned(),
        "This shows the tube as designed. Before any hole find it as it lies: with a thermal camera \
         while the floor warms up from cold, by the photographs and tapes taken before covering, by \
         the marks at doorways. A metal detector does not find plastic tube."
            .to_owned(),
        "Keep the tube under pressure and the gauge in sight while others work, and read it before \
         they start and after they leave. A hit tube is told at once: uncovered it is mended in an \
         hour."
            .to_owned(),
    ];
    prose("keep-clear", "Before you drill", lines)
}
