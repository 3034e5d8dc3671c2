//! The papers of a job, printed or written to a folder.

use super::{Done, FINE, STOPPED, work_out};
use crate::papers::{Paper, content, names};
use crate::report;
use ::design::Memo;
use sheets::Papers;
use std::path::Path;

pub(crate) fn design(
    path: &Path,
    paper: Paper,
    out: Option<&Path>,
    json: bool,
    outdoor: Option<&str>,
) -> Done {
    let worked = match work_out(path) {
        Ok(worked) => worked,
        Err(done) => return done,
    };
    let outdoor = match outdoor.map(|text| worked.temperature(text)).transpose() {
        Ok(outdoor) => outdoor,
        Err(why) => return Done::unusable(format!("outdoor temperature: {why}")),
    };
    let mut papers = worked.papers_with_doubt();
    if out.is_some() || paper == Paper::FloorTemperatures {
        papers.floor_temperatures = Some(worked.floor_sheet(outdoor, &mut Memo::new()));
    }
    let printed = match (out, json) {
        (_, true) => paper.json(&papers),
        (None, false) => paper.text(&papers),
        (Some(_), false) => String::new(),
    };
    let mut done = Done::fine(printed);
    done.code = if worked.stops() { STOPPED } else { FINE };
    if worked.stops() {
        done.err = format!("firstheat: {}", report::count(&worked.findings()));
    }
    if let Some(folder) = out {
        match write(folder, &papers) {
            Ok(written) if !json => done.out = written,
            Ok(_) => {}
            Err(message) => return Done::unusable(message),
        }
    }
    done
}

fn write(folder: &Path, papers: &Papers) -> Result<String, String> {
    let trouble = |error| format!("{} cannot be written: {error}", folder.display());
    std::fs::create_dir_all(folder).map_err(trouble)?;
    let mut written = String::new();
    for name in names(papers) {
        let Some((_, content)) = content(papers, &name) else { continue };
        let path = folder.join(name);
        std::fs::write(&path, content).map_err(trouble)?;
        written.push_str(&format!("{}\n", path.display()));
    }
    Ok(written)
}
