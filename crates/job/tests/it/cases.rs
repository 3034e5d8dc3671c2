//! Texts and what is told about them, side by side in `cases/*.txt`.
//!
//! A case is a heading `=== name`, the text, a line `---`, and the findings with their advice and
//! mends. `UPDATE=1 cargo test -p job` writes the findings anew; review the difference.

use crate::same_file;

/// Put before the text of a case so that only what it is about is told.
const ELSE: &str = "firstheat = 1\noutdoors.design = 0\nroom.r.area = 100\nroom.r.height = 8\n";

fn findings(text: &str) -> String {
    let (_, findings) = job::read(text, &job::Library::built_in());
    let mut out = String::new();
    for finding in &findings {
        let (line, column) = finding.place.unwrap_or_default().line_and_column(text);
        let head = text.lines().count().min(ELSE.lines().count());
        let line = if text.starts_with(ELSE) { line.saturating_sub(head) } else { line };
        let word = finding.severity.word();
        out += &format!("{line}:{column} {word} {}: {}\n", finding.kind, finding.message);
        out += &format!("    {}\n", finding.advice);
        for mend in &finding.mends {
            out += &format!("    mend: {}\n", mend.words);
            let mended = job::apply(text, &mend.edits).unwrap();
            let (_, after) = job::read(&mended, &job::Library::built_in());
            let stays =
                after.iter().any(|it| it.kind == finding.kind && it.message == finding.message);
            assert!(!stays, "{} stays after its mend", finding.message);
        }
    }
    out
}

fn check(path: &str) {
    let full = format!("{}/../../{path}", env!("CARGO_MANIFEST_DIR"));
    let file = std::fs::read_to_string(&full).unwrap();
    let (head, cases) = file.split_once("=== ").unwrap();
    let mut expected = head.to_owned();
    for case in cases.split("\n=== ") {
        let (name, rest) = case.split_once('\n').unwrap();
        let (text, _) = rest.split_once("---\n").unwrap_or((rest, ""));
        let whole = match name.starts_with("whole ") {
            true => text.to_owned(),
            false => format!("{ELSE}{text}"),
        };
        expected += &format!("=== {name}\n{text}---\n{}\n", findings(&whole));
    }
    let expected = format!("{}\n", expected.trim_end());
    same_file(path, &expected);
}

#[test]
fn values() {
    check("crates/job/tests/it/cases/values.txt");
}

#[test]
fn names_and_tables() {
    check("crates/job/tests/it/cases/names.txt");
}

#[test]
fn outlines() {
    check("crates/job/tests/it/cases/outlines.txt");
}

#[test]
fn spelling() {
    check("crates/job/tests/it/cases/spelling.txt");
}

#[test]
fn house_and_air() {
    check("crates/job/tests/it/cases/house.txt");
}

#[test]
fn constructions() {
    check("crates/job/tests/it/cases/constructions.txt");
}

#[test]
fn shape_of_rooms() {
    check("crates/job/tests/it/cases/shape.txt");
}

#[test]
fn heating_and_plant() {
    check("crates/job/tests/it/cases/plant.txt");
}

#[test]
fn rules_and_marks() {
    check("crates/job/tests/it/cases/rules.txt");
}
