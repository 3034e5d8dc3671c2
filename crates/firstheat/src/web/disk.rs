//! Saving the text to its file, and downloading it.

use super::form::{Fields, JobForm};
use super::state::Server;
use super::work::{Note, answer};
use crate::job_file;
use crate::worked::key_of;
use axum::extract::State;
use axum::http::header::{CONTENT_DISPOSITION, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use std::path::Path;
use std::sync::Arc;

/// Writes the text to the file that is served, unless the file changed meanwhile.
pub(crate) async fn save(
    State(server): State<Arc<Server>>,
    JobForm(mut fields): JobForm,
) -> Result<Response, Response> {
    let words = match server.file() {
        None => "The example has no file: download your text instead.".to_owned(),
        Some(file) => match save_to(file, &mut fields) {
            Ok(words) | Err(words) => words,
        },
    };
    answer(&server, &fields, fields.text.clone(), Note::words(words)).await
}

/// Saves, and tells what was done; the key of what is on disk is brought up to date.
fn save_to(file: &Path, fields: &mut Fields) -> Result<String, String> {
    let lost = |error: String| format!("Not saved: {error}. Download your text to keep it.");
    let on_disk = if file.exists() { Some(job_file::read(file).map_err(lost)?) } else { None };
    let key = on_disk.as_ref().map(|text| key_of(&text.replace("\r\n", "\n")));
    let changed = key.is_some_and(|key| key != fields.disk);
    let mut kept = String::new();
    if changed && fields.over != "1" {
        return Err("Not saved: the file was changed by someone else since it was opened here. \
                    Tick “write over” and save again to write yours; the other version is then \
                    kept beside it."
            .to_owned());
    }
    if changed {
        let copy = job_file::keep_copy(file).map_err(lost)?;
        kept = format!(" The version that was there is kept as {}.", copy.display());
    }
    // A file with line ends of its own kind keeps them.
    let text = match on_disk.as_ref().is_some_and(|text| text.contains("\r\n")) {
        true => fields.text.replace('\n', "\r\n"),
        false => fields.text.clone(),
    };
    job_file::write(file, &text).map_err(lost)?;
    fields.disk = key_of(&fields.text);
    Ok(format!("Saved to {}.{kept}", file.display()))
}

/// The text as a file for the browser to keep.
pub(crate) async fn download(
    State(server): State<Arc<Server>>,
    JobForm(fields): JobForm,
) -> Response {
    let safe = |c: char| if c.is_ascii_alphanumeric() || "._-".contains(c) { c } else { '_' };
    let name: String = server.file_name().chars().map(safe).collect();
    let disposition = format!("attachment; filename=\"{name}\"");
    let kind = "application/toml; charset=utf-8".to_owned();
    ([(CONTENT_TYPE, kind), (CONTENT_DISPOSITION, disposition)], fields.text).into_response()
}
