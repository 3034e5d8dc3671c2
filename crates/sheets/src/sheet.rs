//! The papers, each a sheet of blocks.

use crate::block::{Block, FindingItem, FindingList, HeadLine, Prose, Sheet, Spot};
use crate::cautions::{cautions, under_floor_cautions};
use crate::drawing;
use crate::house_sheet::house_sheet;
use crate::room_sheet::room_sheets;
use crate::site_sheets::{no_drilling_sheet, port_sheet};
use crate::source::Source;
use crate::tables;
use design::{Design, Doubt};
use job::{Finding, Job};
use quantity::System;

/// All papers of a design.
#[derive(Clone, Debug, PartialEq)]
pub struct Papers {
    /// What the job is called.
    pub job: String,
    /// The house on one paper.
    pub house: Sheet,
    /// One paper for each room, in the order of the text.
    pub rooms: Vec<Sheet>,
    /// The design on one paper.
    pub design: Sheet,
    /// What other trades must keep clear of.
    pub no_drilling: Sheet,
    /// A card for each manifold.
    pub ports: Sheet,
    /// What the floors look like to a thermal camera; none where nobody asked, as it takes longer.
    pub floor_temperatures: Option<Sheet>,
}

impl Papers {
    /// The papers of a job; `findings` are all that were found, by reading and by the design.
    ///
    /// The doubt takes longer than the papers do: it is handed in where it is wanted.
    pub fn of(
        job: &Job,
        design: &Design,
        doubt: Option<&Doubt>,
        findings: &[Finding],
        text: &str,
    ) -> Self {
        let source = Source::new(job, design, text);
        Papers {
            job: job.name.value.clone(),
            house: house_sheet(&source, doubt),
            rooms: room_sheets(&source),
            design: design_sheet_of(&source, findings),
            no_drilling: no_drilling_sheet(&source),
            ports: port_sheet(&source),
            floor_temperatures: None,
        }
    }

    /// The same papers with the other unit system in front.
    pub fn shown_first(self, first: System) -> Self {
        Papers {
            job: self.job,
            house: self.house.shown_first(first),
            rooms: self.rooms.into_iter().map(|room| room.shown_first(first)).collect(),
            design: self.design.shown_first(first),
            no_drilling: self.no_drilling.shown_first(first),
            ports: self.ports.shown_first(first),
            floor_temperatures: self.floor_temperatures.map(|it| it.shown_first(first)),
        }
    }
}

/// The design on one sheet: findings, plan, tables, basis, cautions.
///
/// `findings` are all that were found, by reading and by the design.
pub fn design_sheet(job: &Job, design: &Design, findings: &[Finding], text: &str) -> Sheet {
    design_sheet_of(&Source::new(job, design, text), findings)
}

fn design_sheet_of(source: &Source, findings: &[Finding]) -> Sheet {
    let (job, design, text) = (source.job, source.design, source.text);
    let mut blocks = vec![Block::Findings(finding_list(findings, text))];
    let plans: Vec<_> = drawing::storeys(source).iter().map(drawing::tube_plan).collect();
    if plans.is_empty() {
        let words = "No room has an outline yet, so there is nothing to draw.";
        blocks.push(prose("no-plan", "Tube layout", vec![words.to_owned()]));
    }
    blocks.extend(plans.into_iter().map(Block::Drawing));
    blocks.push(Block::Table(tables::rooms(source)));
    blocks.extend(tables::floors(source).map(Block::Table));
    blocks.extend(tables::floor_parts(source).map(Block::Table));
    blocks.extend(tables::responses(source).map(Block::Table));
    blocks.extend(tables::helpers(source).map(Block::Table));
    blocks.extend(tables::governed(source).map(Block::Table));
    blocks.extend(tables::circuits(source).map(Block::Table));
    blocks.push(Block::Table(tables::loops(source)));
    blocks.extend(tables::laid(source).map(Block::Table));
    blocks.push(Block::Table(tables::manifolds(source)));
    blocks.extend(tables::cuts(source).map(Block::Table));
    blocks.extend(tables::boards(source).map(Block::Table));
    blocks.extend(tables::plates(source).map(Block::Table));
    blocks.extend(tables::lane_table(source).map(Block::Table));
    blocks.extend(under_floor_cautions(source));
    blocks.push(Block::Table(tables::setting_out(source)));
    blocks.extend(tables::joints(source).map(Block::Table));
    blocks.extend(tables::fixtures(source).map(Block::Table));
    blocks.extend(tables::hole_table(source).map(Block::Table));
    blocks.push(Block::Table(tables::basis(source)));
    blocks.push(Block::Table(tables::decisions(source)));
    if !design.revisions.is_empty() {
        let title = "What the design revised to meet the needs";
        blocks.push(prose("revisions", title, design.revisions.clone()));
    }
    blocks.push(Block::Table(tables::limits(source)));
    blocks.push(Block::Table(tables::assumptions(source)));
    blocks.push(cautions());
    let title = format!("Floor heating design: {}", job.name.value);
    let (key, first) = ("design".to_owned(), job.units.value);
    Sheet { key, title, head: head(job), first, blocks }
}

pub(crate) fn prose(key: &str, title: &str, lines: Vec<String>) -> Block {
    Block::Prose(Prose { key: key.to_owned(), title: title.to_owned(), lines })
}

pub(crate) fn head(job: &Job) -> Vec<HeadLine> {
    let line = |label: &str, value: Option<String>| HeadLine { label: label.to_owned(), value };
    let units = match job.units.value {
        System::Us => "inch-pound first, metric beside",
        System::Si => "metric first, inch-pound beside",
    };
    let mut lines = vec![
        line("job", Some(job.name.value.clone())),
        line("limits after", Some(job.rules.name.clone())),
        line("units", Some(units.to_owned())),
        line("numbers", Some("design, not read off the finished system".to_owned())),
    ];
    if let Some(note) = &job.note {
        lines.push(line("note", Some(note.value.clone())));
    }
    lines.extend(
        ["address", "sheet / revision", "date", "drawn by", "signature"]
            .map(|label| line(label, None)),
    );
    lines
}

/// `loop.kitchen/1` as `loop kitchen/1`; keys of the text are told by their line.
pub fn about(subject: &str) -> Option<String> {
    let (kind, key) = subject.split_once('.')?;
    let named = [
        "room", "loop", "manifold", "opening", "keep_out", "joint", "fixture", "surface",
        "assembly",
    ];
    let whole = named.contains(&kind) && !key.contains('.');
    whole.then(|| format!("{} {key}", kind.replace('_', "-")))
}

/// What was found as a paper shows it, in the order given.
pub fn finding_list(findings: &[Finding], text: &str) -> FindingList {
    let item = |finding: &Finding| FindingItem {
        severity: finding.severity,
        kind: finding.kind,
        subject: finding.subject.clone(),
        about: about(&finding.subject),
        spot: finding.place.map(|place| Spot::of(place, text)),
        message: finding.message.clone(),
        limit: finding.limit.as_ref().map(|it| (it.value.clone(), it.source.clone())),
        advice: finding.advice.clone(),
        mends: finding.mends.iter().map(|mend| mend.words.clone()).collect(),
    };
    FindingList { title: "Findings".to_owned(), items: findings.iter().map(item).collect() }
}
