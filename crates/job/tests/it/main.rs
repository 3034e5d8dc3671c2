//! What is read, what is told, and what an edit does.

mod example;

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
