//! The papers of a job, printed or written to a folder.

use super::{Done, FINE, STOPPED, work_out};
use crate::report;
use crate::web::print_page;
use sheets::Sheet;
use std::path::Path;

/// Width of printed tables, in letters.
const WIDTH: usize = 110;

pub(crate) fn design(path: &Path, out: Option<&Path>, json: bool) -> Done {
    let worked = match work_out(path) {
        Ok(worked) => worked,
        Err(done) => return done,
    };
    let sheet = worked.sheet();
    let printed = match (out, json) {
        (_, true) => sheets::json(&sheet),
        (None, false) => sheets::text(&sheet, WIDTH),
        (Some(_), false) => String::new(),
    };
    let mut done = Done::fine(printed);
    done.code = if worked.stops() { STOPPED } else { FINE };
    if worked.stops() {
        done.err = format!("firstheat: {}", report::count(&worked.findings()));
    }
    if let Some(folder) = out {
        match write(folder, &sheet) {
            Ok(written) if !json => done.out = written,
            Ok(_) => {}
            Err(message) => return Done::unusable(message),
        }
    }
    done
}

/// The files of a design: name and content.
fn files(sheet: &Sheet) -> Vec<(String, String)> {
    let mut files = Vec::new();
    for (place, drawing) in sheet.drawings().enumerate() {
        let name = if place == 0 { "plan".to_owned() } else { file_name(&drawing.key) };
        files.push((format!("{name}.svg"), sheets::svg(drawing)));
    }
    for key in ["rooms", "loops", "manifolds"] {
        if let Some(table) = sheet.table(key) {
            files.push((format!("{key}.csv"), sheets::csv(table)));
        }
    }
    files.push(("sheet.html".to_owned(), print_page(sheet).into_string()));
    files.push(("sheet.txt".to_owned(), sheets::text(sheet, WIDTH)));
    files.push(("design.json".to_owned(), sheets::json(sheet)));
    files
}

fn write(folder: &Path, sheet: &Sheet) -> Result<String, String> {
    let trouble = |error| format!("{} cannot be written: {error}", folder.display());
    std::fs::create_dir_all(folder).map_err(trouble)?;
    let mut written = String::new();
    for (name, content) in files(sheet) {
        let path = folder.join(name);
        std::fs::write(&path, content).map_err(trouble)?;
        written.push_str(&format!("{}\n", path.display()));
    }
    Ok(written)
}

/// A key as a file name: nothing in it leads out of the folder.
fn file_name(key: &str) -> String {
    key.chars().map(|c| if c.is_alphanumeric() || c == '_' { c } else { '-' }).collect()
}
