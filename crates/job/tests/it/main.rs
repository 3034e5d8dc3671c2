//! What is read, what is told, and what an edit does.

mod broken;
mod cases;
mod edits;
mod example;
mod library;
mod model;
mod page;
mod whole;

/// The findings of a text, one a line: `line:column severity message`.
fn told(text: &str) -> String {
    let (_, findings) = job::read(text, &job::Library::built_in());
    findings
        .iter()
        .map(|finding| {
            let (line, column) = finding.place.unwrap_or_default().line_and_column(text);
            format!("{line}:{column} {} {}\n", finding.severity.word(), finding.message)
        })
        .collect()
}

/// Compares a file of the workspace with what it should be, or writes it with `UPDATE=1`.
fn same_file(path: &str, expected: &str) {
    let path = format!("{}/../../{path}", env!("CARGO_MANIFEST_DIR"));
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(&path, expected).unwrap();
    }
    let found = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(found == expected, "{path} is stale: UPDATE=1 cargo test -p job writes it anew");
}
