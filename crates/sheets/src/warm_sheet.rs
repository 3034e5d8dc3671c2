//! The paper of floor temperatures: pictures, rooms and loops, in each weather asked for.

use crate::block::{Block, Sheet};
use crate::cautions::cautions;
use crate::drawing::{Scale, floor_picture, storeys};
use crate::sheet::{head, prose};
use crate::source::Source;
use crate::tables;
use design::Design;
use design::warmth::Warmth;
use job::Job;
use quantity::{Measure, Quantity, show_both};

/// Names under which the figures of the coldest and of the mild day can be asked for.
pub const SEEN: [&str; 2] = ["warmth", "mild"];

/// Floors in one state of weather.
#[derive(Clone, Copy, Debug)]
pub struct Seen<'a> {
    /// Part of its blocks' keys, and name of its figures' paths where it is one of [`SEEN`].
    pub name: &'a str,
    /// The floors.
    pub warmth: &'a Warmth,
}

impl<'a> Seen<'a> {
    /// Floors under a name.
    pub fn named((name, warmth): (&'a &'a str, &'a Warmth)) -> Self {
        Seen { name, warmth }
    }
}

/// The paper of floor temperatures.
pub fn warm_sheet(job: &Job, design: &Design, text: &str, seen: &[Seen]) -> Sheet {
    let known = seen.iter().filter(|one| SEEN.contains(&one.name));
    let figures = known.flat_map(|one| one.warmth.figures(one.name)).collect();
    let source = Source::with(job, design, text, figures);
    let mut blocks = vec![how(&source, seen)];
    for one in seen {
        blocks.extend(weather(&source, one));
    }
    if seen.iter().all(|one| one.warmth.storeys.is_empty()) {
        let words = "No loop is laid yet, so there is no floor to look at.";
        blocks.push(prose("no-floor", "Floor temperatures", vec![words.to_owned()]));
    }
    blocks.push(cautions());
    let title = format!("Floor temperatures: {}", job.name.value);
    let key = "floor-temperatures".to_owned();
    Sheet { key, title, head: head(job), first: job.units.value, blocks }
}

fn weather(source: &Source, seen: &Seen) -> Vec<Block> {
    let warmth = seen.warmth;
    let Some(scale) = Scale::of(warmth) else { return Vec::new() };
    let what = format!("at {} outdoors", temperature(source, warmth.outdoor.si()));
    let title = format!("Floor temperature {what}");
    let plans = storeys(source);
    let pictures = warmth.storeys.iter().filter_map(|storey| {
        let plan = plans.iter().find(|plan| plan.storey == storey.storey.as_deref())?;
        let drawing = floor_picture(plan, storey, warmth, scale, (seen.name, &title));
        Some(Block::Drawing(drawing))
    });
    let mut blocks: Vec<Block> = pictures.collect();
    blocks.push(Block::Table(tables::warm_rooms(source, warmth, (seen.name, &what))));
    blocks.push(Block::Table(tables::warm_loops(source, warmth, (seen.name, &what))));
    blocks
}

/// What the pictures rest on.
fn how(source: &Source, seen: &[Seen]) -> Block {
    let mut lines = vec![
        "The water is followed from supply to return along the tube as drawn, leaders included; \
         each tube warms the floor half way to the next, and exchanges heat with the tubes beside \
         it, by the section of the floor solved between two tubes."
            .to_owned(),
    ];
    for one in seen {
        let waters = one.warmth.waters.iter().map(|water| {
            let supply = temperature(source, water.supply.value.si());
            match &water.circuit {
                Some(circuit) => format!("circuit {circuit} {supply}"),
                None => supply,
            }
        });
        let waters: Vec<String> = waters.collect();
        lines.push(format!(
            "At {} outdoors: supply {}; {}.",
            temperature(source, one.warmth.outdoor.si()),
            waters.join(", "),
            one.warmth.assumption
        ));
    }
    prose("how-seen", "What the pictures rest on", lines)
}

fn temperature(source: &Source, kelvin: f64) -> String {
    show_both(kelvin, Measure::Temperature, source.job.units.value)
}
