//! Papers of an example job with a hand-made design.

mod cuts;
mod drawing;
mod explaining;
mod fixture;
mod floors;
mod hall;
mod held;
mod joints;
mod losses;
mod papers;
mod sections;
mod site;
mod under_floor;
mod warmth;
mod writing;

use design::Design;
use job::{Finding, Job, Library};
use sheets::{Sheet, design_sheet};

const CABIN: &str = include_str!("../../../../jobs/cabin.toml");

fn read(text: &str) -> (Job, Design, Vec<Finding>) {
    let (job, mut findings) = job::read(text, &Library::built_in());
    let design = fixture::design(&job);
    findings.extend(fixture::finding(&job));
    (job, design, findings)
}

fn sheet_of(text: &str) -> Sheet {
    let (job, design, findings) = read(text);
    design_sheet(&job, &design, &findings, text)
}
