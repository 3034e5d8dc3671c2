//! Blocks of a sheet as markup; the blocks say what, this says how it is tagged.

use super::explain::Link;
use crate::worked::Worked;
use design::Standing;
use maud::{Markup, PreEscaped, html};
use quantity::System;
use sheets::{
    Block, Cell, Column, Drawing, Facts, FindingItem, FindingList, HeadLine, Prose, Row, RowKind,
    Sheet, Spot, Step, Table, Value, Working, svg,
};

/// One block, its first numbers in that system.
pub(crate) fn block(block: &Block, first: System, link: &Link) -> Markup {
    match block {
        Block::Table(it) => table(it, first, link),
        Block::Facts(it) => facts(it, first, link),
        Block::Drawing(it) => drawing(it),
        Block::Prose(it) => prose(it, "prose"),
        Block::Cautions(it) => prose(it, "cautions"),
        Block::Findings(it) => findings(it, None),
        Block::Working(it) => working(it, link),
    }
}

/// The head of a paper.
pub(crate) fn head(lines: &[HeadLine]) -> Markup {
    html! {
        dl .head {
            @for line in lines {
                div class=[line.value.is_none().then_some("blank")] {
                    dt { (line.label) }
                    dd { @if let Some(value) = &line.value { (value) } }
                }
            }
        }
    }
}

/// A few numbers, each with its unit.
pub(crate) fn facts(facts: &Facts, first: System, link: &Link) -> Markup {
    html! {
        dl .facts {
            @for (name, it) in &facts.items {
                div { dt { (name) } dd { (alone(it, first, link)) } }
            }
        }
    }
}

/// A cell outside a table: its unit always stands beside it.
fn alone(it: &Cell, first: System, link: &Link) -> Markup {
    let column = Column::words("", "");
    let standing = match it {
        Cell::Quantity(value) if value.standing != Standing::Estimated => Some(value.standing),
        _ => None,
    };
    cell(it, &column, first, standing, link)
}

/// A room sheet that opens at a touch; its heat loss is told before.
pub(crate) fn folded(sheet: &Sheet, first: System, link: &Link) -> Markup {
    let facts = sheet.blocks.iter().find_map(|block| match block {
        Block::Facts(facts) => facts.items.iter().find(|(name, _)| *name == "heat loss"),
        _ => None,
    });
    html! {
        details .room-sheet id=(sheet.key) {
            summary {
                span .name { (sheet.title) }
                @if let Some((_, Cell::Quantity(value))) = facts {
                    span .amount {
                        (value.shown(first))
                        span .other { (value.shown(first.other())) }
                    }
                }
            }
            @for it in &sheet.blocks { (block(it, first, link)) }
        }
    }
}

/// A room sheet as it is printed.
pub(crate) fn unfolded(sheet: &Sheet, link: &Link) -> Markup {
    html! {
        section .room-sheet {
            h2 { (sheet.title) }
            @for it in &sheet.blocks { (block(it, sheet.first, link)) }
        }
    }
}

fn drawing(drawing: &Drawing) -> Markup {
    // A plan fills a page of its own; a picture of numbers stands among the tables.
    let is_plan = ["plan", "floor-"].iter().any(|start| drawing.key.starts_with(start));
    let class = if is_plan { "plan" } else { "chart" };
    html! {
        figure class=(class) id=(drawing.key) {
            figcaption { h2 { (drawing.title) } }
            div .scroll tabindex="0" role="region" aria-label=(drawing.title) {
                (PreEscaped(svg(drawing)))
            }
        }
    }
}

fn prose(words: &Prose, class: &str) -> Markup {
    html! {
        section class=(class) id=(words.key) {
            h2 { (words.title) }
            ul { @for line in &words.lines { li { (line) } } }
        }
    }
}

/// A table in a box of its own, which scrolls where the page is narrow.
pub(crate) fn table(table: &Table, first: System, link: &Link) -> Markup {
    let common = table.common_standing();
    html! {
        section .sheet-table id=(table.key) {
            h2 { (table.title) }
            @if table.rows.is_empty() {
                p .none { "Nothing here yet." }
            } @else {
                div .scroll tabindex="0" role="region" aria-label=(table.title) {
                    table class=(class(table)) {
                        thead { tr { @for column in &table.columns { (heading(column, first)) } } }
                        tbody {
                            @for row in &table.rows { (line(table, row, first, common, link)) }
                        }
                    }
                }
            }
            (remarks(table, common))
        }
    }
}

/// Its own class, and whether it is a list of words more than a table of numbers.
fn class(table: &Table) -> String {
    let words = table.columns.iter().all(|column| column.units.is_none());
    format!("t-{}{}", table.key, if words { " words" } else { "" })
}

fn heading(column: &Column, first: System) -> Markup {
    html! {
        th scope="col" class=[column.units.map(|_| "q")] {
            (column.heading)
            @if let Some(units) = column.units {
                span .unit {
                    (units.unit(first).symbol)
                    @if !units.agree() { " · " (units.unit(first.other()).symbol) }
                }
            }
        }
    }
}

fn line(table: &Table, row: &Row, first: System, common: Option<Standing>, link: &Link) -> Markup {
    let cells = table.columns.iter().zip(&row.cells).enumerate();
    html! {
        tr class=[row_class(row.kind)] {
            @for (place, (column, it)) in cells {
                @if place == 0 {
                    th scope="row" { (cell(it, column, first, common, link)) }
                } @else {
                    // Where rows stand as cards, each number needs its own heading.
                    td class=[column.units.map(|_| "q")] data-label=(column.heading) {
                        (cell(it, column, first, common, link))
                    }
                }
            }
        }
    }
}

fn row_class(kind: RowKind) -> Option<&'static str> {
    (kind != RowKind::Plain).then(|| kind.word())
}

fn cell(
    cell: &Cell,
    column: &Column,
    first: System,
    common: Option<Standing>,
    link: &Link,
) -> Markup {
    match cell {
        Cell::Text(words) => html! { (words) },
        Cell::Count(count) => html! { (count) },
        Cell::Blank => html! {},
        Cell::CannotTell(why) => html! { span .none title=(why) { "cannot tell" } },
        Cell::Quantity(value) => quantity(value, column.units.is_some(), first, common, link),
    }
}

/// A number in both systems; where the heading tells the unit, it is for readers of the page only.
fn quantity(
    value: &Value,
    headed: bool,
    first: System,
    common: Option<Standing>,
    link: &Link,
) -> Markup {
    let unit = |system: System| value.units.unit(system).symbol;
    let number = |system: System| {
        html! { (value.bare(system)) span .u .headed[headed] { " " (unit(system)) } }
    };
    let estimated = common.is_none() && value.standing == Standing::Estimated;
    let one = html! {
        @if estimated { abbr title="estimated: something behind it was assumed" { "≈" } }
        (number(first))
    };
    html! {
        @match value.explain.as_ref().filter(|_| !link.of.is_empty()) {
            Some(path) => a .n href=(link.path(path)) data-working { (one) },
            None => span .n { (one) },
        }
        @if !value.units.agree() { span .other { (number(first.other())) } }
    }
}

fn remarks(table: &Table, common: Option<Standing>) -> Markup {
    let mut reasons: Vec<&str> = Vec::new();
    for cell in table.rows.iter().flat_map(|row| &row.cells) {
        if let Cell::CannotTell(why) = cell
            && !reasons.contains(&why.as_str())
        {
            reasons.push(why);
        }
    }
    let mixed = common.is_none() && table.columns.iter().any(|column| column.units.is_some());
    html! {
        div .remarks {
            @if !reasons.is_empty() { p { "Cannot tell: " (reasons.join("; ")) "." } }
            @for note in &table.notes { p { (note) } }
            @if let Some(standing) = common { p { "All numbers: " (standing.word()) "." } }
            @if mixed && !table.rows.is_empty() {
                p { "≈ marks an estimated number: something behind it was assumed." }
            }
        }
    }
}

/// Where findings can be acted on: the text they are about, and the number of the first.
pub(crate) struct Acting<'a> {
    pub(crate) worked: &'a Worked,
    pub(crate) start: usize,
}

/// Findings, worst first, with jumps and mends where they can be acted on.
pub(crate) fn findings(list: &FindingList, acting: Option<&Acting<'_>>) -> Markup {
    html! {
        h2 { (list.title) }
        @if list.items.is_empty() {
            p .fine { "Nothing found." }
        } @else {
            ul .findings {
                @for (place, item) in list.items.iter().enumerate() {
                    (finding(item, place, acting))
                }
            }
        }
    }
}

fn finding(item: &FindingItem, place: usize, acting: Option<&Acting<'_>>) -> Markup {
    html! {
        li class=(item.severity.word()) {
            p .what {
                strong .word { (item.severity.word()) } " "
                @if let Some(about) = &item.about { strong { (about) ": " } }
                (item.message) " "
                @match (item.spot, acting) {
                    (Some(spot), Some(acting)) => (jump(spot, &acting.worked.text)),
                    (Some(spot), None) => span .spot { "(" (spot) ")" },
                    (None, _) => {}
                }
            }
            @if !item.advice.is_empty() { p .advice { (item.advice) } }
            @if let Some((value, source)) = &item.limit {
                p .limit { "Limit " (value) ": " (source) }
            }
            @if let Some(acting) = acting { (mends(item, place, acting)) }
        }
    }
}

fn mends(item: &FindingItem, place: usize, acting: &Acting<'_>) -> Markup {
    let key = acting.worked.key();
    html! {
        @if !item.mends.is_empty() {
            p .acts {
                @for (number, words) in item.mends.iter().enumerate() {
                    button type="submit" form="job" formaction="/mend" name="mend"
                        value=(format!("{key}.{}.{number}", acting.start + place)) { (words) }
                }
            }
        }
    }
}

/// A link to a line of the text; scripts put the caret there.
fn jump(spot: Spot, text: &str) -> Markup {
    let units = |byte: usize| {
        let mut end = byte.min(text.len());
        while !text.is_char_boundary(end) {
            end -= 1;
        }
        text[..end].encode_utf16().count()
    };
    html! {
        a .jump href=(format!("#L{}", spot.line)) data-start=(units(spot.place.start))
            data-end=(units(spot.place.end)) { "line " (spot.line) }
    }
}

fn working(working: &Working, link: &Link) -> Markup {
    html! {
        section .working {
            h2 { (working.title) }
            ol .steps { @for it in &working.steps { (step(it, link)) } }
        }
    }
}

fn step(step: &Step, link: &Link) -> Markup {
    let depth = format!("d{}", step.depth.min(8));
    let path = step.path.as_ref().filter(|_| step.depth > 0 && !link.of.is_empty());
    html! {
        li class=(depth) {
            @if let Some(role) = &step.role { p .role { (role) } }
            p .value {
                @match path {
                    Some(path) => a href=(link.path(path)) data-working { (step.name) },
                    None => (step.name),
                }
                " = " strong { (step.value) }
                @if step.standing == Standing::Estimated { " " span .est { "estimated" } }
            }
            p .how { (step.how) }
            @if let Some(formula) = &step.formula { p .formula { (formula) } }
            @if let Some(citation) = &step.citation { p .citation { (citation) } }
            @for remark in &step.remarks { p .remark { (remark) } }
        }
    }
}
