//! The job file on disk: read whole, written whole, never half.

use std::fs::{self, File};
use std::io::{ErrorKind, Read, Write};
use std::path::{Path, PathBuf};

/// Reads a job file.
///
/// # Errors
/// What is wrong and what to do, in words.
pub(crate) fn read(path: &Path) -> Result<String, String> {
    let shown = path.display();
    let trouble = |error: std::io::Error| match error.kind() {
        ErrorKind::NotFound => format!("there is no file {shown}: look at its name and folder"),
        ErrorKind::PermissionDenied => format!("{shown} may not be read: look at its permissions"),
        _ => format!("{shown} cannot be read: {error}"),
    };
    let file = File::open(path).map_err(trouble)?;
    if file.metadata().is_ok_and(|it| it.is_dir()) {
        return Err(format!("{shown} is a folder: name the job file in it"));
    }
    let mut bytes = Vec::new();
    let most = job::TEXT_MOST as u64 + 1;
    file.take(most).read_to_end(&mut bytes).map_err(trouble)?;
    if bytes.len() > job::TEXT_MOST {
        return Err(format!(
            "{shown} is larger than {} MB: this is no job file",
            job::TEXT_MOST >> 20
        ));
    }
    String::from_utf8(bytes)
        .map_err(|_| format!("{shown} is not a text in UTF-8: save it as plain text"))
}

/// Writes a job file so that a power cut leaves the old or the new one, whole.
///
/// # Errors
/// What is wrong, in words.
pub(crate) fn write(path: &Path, text: &str) -> Result<(), String> {
    let trouble = |error: std::io::Error| format!("{} cannot be written: {error}", path.display());
    // Through a link, the file itself is replaced and the link stays.
    let path = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let beside = beside(&path, "new");
    let written = (|| {
        let mut file = File::create(&beside)?;
        file.write_all(text.as_bytes())?;
        if let Ok(known) = fs::metadata(&path) {
            file.set_permissions(known.permissions())?;
        }
        file.sync_all()?;
        fs::rename(&beside, &path)
    })();
    if written.is_err() {
        let _ = fs::remove_file(&beside);
    }
    written.map_err(trouble)
}

/// Keeps what is on disk now beside the job file, and tells where.
///
/// # Errors
/// What is wrong, in words.
pub(crate) fn keep_copy(path: &Path) -> Result<PathBuf, String> {
    let mut number = 1;
    loop {
        let copy = beside(path, &format!("before-{number}"));
        if !copy.exists() {
            return fs::copy(path, &copy)
                .map(|_| copy)
                .map_err(|error| format!("{} cannot be copied: {error}", path.display()));
        }
        number += 1;
    }
}

fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(".");
    name.push(ending);
    path.with_file_name(name)
}
