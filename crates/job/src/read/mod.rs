//! Text to job, with every finding at its place.

mod bind;
mod layers;
mod legs;
mod marks;
mod outline;
mod refer;
mod sheet;
mod syntax;
mod tables;
mod value;

use crate::finding::{Finding, Severity};
use crate::model::{Job, Layer, Library, Material};
use crate::tree;
use quantity::System;

pub(crate) use layers::squeeze as squeeze_name;
pub(crate) use syntax::finding as syntax_finding;
pub(crate) use value::rounded as value_rounded;

/// The largest text that is read, in bytes.
pub const TEXT_MOST: usize = 4 << 20;
/// The most tables of one kind, such as rooms, that are read.
pub const TABLES_MOST: usize = 500;
/// The most corners of one outline that are read.
pub const CORNERS_MOST: usize = 500;
/// The farthest that a coordinate may lie from the origin, in metres.
pub const COORDINATE_MOST_M: f64 = 1000.0;

/// The most findings that are told.
pub const FINDINGS_MOST: usize = 2000;

/// What every part of the reader needs to know.
pub(crate) struct Context<'a> {
    pub(crate) text: &'a str,
    pub(crate) units: System,
    pub(crate) shelf: &'a Library,
    /// The job's own materials.
    pub(crate) materials: Vec<Material>,
    pub(crate) findings: Vec<Finding>,
}

/// Reads a job file against a library: the job, and all that is wrong with the text.
///
/// Never fails: a key that cannot be read is told and left out, and the rest still holds. Every
/// reference in the job leads to something that is there. The findings stand in the order of the
/// text.
///
/// ```
/// let library = job::Library::built_in();
/// let (job, findings) = job::read("[room.bath]\nheight = \"8 feat\"\n", &library);
/// assert_eq!(job.rooms[0].key, "bath");
/// assert!(findings.iter().any(|finding| finding.kind == "unreadable-value"));
/// ```
pub fn read(text: &str, library: &Library) -> (Job, Vec<Finding>) {
    let mut context = Context {
        text,
        units: System::default(),
        shelf: library,
        materials: Vec::new(),
        findings: Vec::new(),
    };
    let readable = within_limit(text, &mut context);
    let (table, troubles) = tree::parse(readable);
    for trouble in &troubles {
        context.findings.push(syntax::finding(readable, trouble));
    }
    context.units = tables::units(&table);
    let mut sheet = tables::read(table, &mut context);
    tables::spoil(&mut sheet, &troubles);
    marks::check(&sheet, &mut context);
    refer::check(&mut sheet, &mut context);
    let job = bind::job(&sheet, &mut context);
    let mut findings = context.findings;
    findings.sort_by_key(|finding| finding.place.unwrap_or_default());
    if findings.len() > FINDINGS_MOST {
        findings.truncate(FINDINGS_MOST);
        let advice = "mend these first, then read it again";
        let message = format!("more than {FINDINGS_MOST} findings; the rest is not told");
        findings.push(Finding::new(Severity::Stop, "too-many", "", message, advice));
    }
    (job, findings)
}

/// Layers of a library text by the materials on a shelf, and what is wrong with them.
pub(crate) fn library_layers(
    node: &tree::Node,
    shelf: &Library,
) -> (Option<Vec<Layer>>, Vec<String>) {
    let (units, materials, findings) = (System::default(), Vec::new(), Vec::new());
    let mut context = Context { text: "", units, shelf, materials, findings };
    let row = crate::schema::row("assembly.*", "layers");
    let layers = row.and_then(|row| layers::read(node, row, &mut context));
    let told = context.findings.into_iter().filter(|it| it.severity == Severity::Stop);
    (layers, told.map(|finding| format!("layers: {}", finding.message)).collect())
}

/// The text up to the limit, cut at a line.
fn within_limit<'a>(text: &'a str, context: &mut Context<'_>) -> &'a str {
    if text.len() <= TEXT_MOST {
        return text;
    }
    let mut end = TEXT_MOST;
    while !text.is_char_boundary(end) {
        end -= 1;
    }
    let end = text[..end].rfind('\n').map_or(0, |at| at + 1);
    context.findings.push(
        Finding::new(
            Severity::Stop,
            "text-too-large",
            "",
            format!("the text is {} bytes long; no more than {TEXT_MOST} are read", text.len()),
            "leave out what is no part of this job; what follows here is not read",
        )
        .at(crate::Place { start: end, end: text.len() }),
    );
    &text[..end]
}
