//! Broken texts: never a panic, the trouble at its place, the rest unharmed.

use job::{Job, Library, Severity, read};
use proptest::prelude::*;

const CABIN: &str = include_str!("../../../../jobs/cabin.toml");

#[test]
fn the_example_cut_at_every_byte() {
    let library = Library::built_in();
    for end in (0..CABIN.len()).filter(|end| CABIN.is_char_boundary(*end)) {
        let (_, findings) = read(&CABIN[..end], &library);
        let inside = findings.iter().filter_map(|it| it.place).all(|place| place.end <= end);
        assert!(inside, "a finding behind the end, cut at {end}");
    }
}

/// The lines of the example that give a key its value: number of the line and the line.
fn value_lines() -> impl Iterator<Item = (usize, &'static str)> {
    CABIN.lines().enumerate().filter(|(_, line)| line.split('#').next().unwrap().contains('='))
}

/// The example with one line replaced.
fn with_line(number: usize, line: &str) -> String {
    let mut lines: Vec<&str> = CABIN.lines().collect();
    lines[number] = line;
    lines.join("\n") + "\n"
}

/// The key of the table above a line.
fn heading(number: usize) -> &'static str {
    let heading = CABIN.lines().take(number).filter(|line| line.starts_with('[')).last();
    heading.and_then(|line| line.split(']').next()).map_or("", |line| &line[1..])
}

/// Rooms other than the one whose table a line stands in are as they were.
fn others_unchanged(job: &Job, number: usize, whole: &Job) {
    let shared = ["job", "storey.main", "outdoors", "house", "heating", ""];
    let heading = heading(number);
    if shared.contains(&heading) {
        return;
    }
    assert_eq!(job.rooms.len(), whole.rooms.len());
    for (room, was) in job.rooms.iter().zip(&whole.rooms) {
        if heading != format!("room.{}", was.key) && !heading.starts_with("assembly") {
            let corners = |room: &job::Room| room.outline.as_ref().map(|it| it.corners.clone());
            assert_eq!((&room.key, &room.name.value), (&was.key, &was.name.value));
            assert_eq!(corners(room), corners(was), "{}", was.key);
            assert_eq!(room.finish.value, was.finish.value);
        }
    }
}

#[test]
fn each_value_of_the_example_spoilt() {
    let library = Library::built_in();
    let (whole, _) = read(CABIN, &library);
    for (number, line) in value_lines() {
        let key = line.split('=').next().unwrap();
        for spoilt in ["nan", "inf", "1e300", "-1", "\"\"", "[]", "{}", "07:32:00", "Kitchen", ""] {
            let text = with_line(number, &format!("{key}= {spoilt}"));
            let (job, findings) = read(&text, &library);
            others_unchanged(&job, number, &whole);
            // A negative temperature or coordinate is a temperature or coordinate.
            if spoilt == "-1"
                && ["design", "annual_mean", "indoor", "altitude"].contains(&key.trim())
            {
                continue;
            }
            let at_line = findings
                .iter()
                .filter_map(|finding| finding.place)
                .any(|place| place.line_and_column(&text).0 == number + 1);
            assert!(at_line, "nothing told about line {}: {key}= {spoilt}", number + 1);
        }
    }
}

#[test]
fn each_line_of_the_example_deleted() {
    const NEEDED: &[&str] = &[
        "firstheat",
        "design",
        "height",
        "outline",
        "width",
        "layers",
        "u",
        "room",
        "wall",
        "at",
        "length",
        "end",
    ];
    let library = Library::built_in();
    let (whole, _) = read(CABIN, &library);
    for (number, line) in value_lines() {
        let key = line.split('=').next().unwrap().trim();
        let (job, findings) = read(&with_line(number, ""), &library);
        others_unchanged(&job, number, &whole);
        let told = findings.iter().any(|finding| finding.severity <= Severity::Warn);
        let optional = heading(number).starts_with("house")
            || ["height", "room"].contains(&key) && heading(number).starts_with("manifold");
        match key {
            // One of the two without the other.
            "glycol" | "fluid" => assert!(told, "{key}"),
            _ if optional => assert!(!told, "{key}"),
            _ => assert_eq!(told, NEEDED.contains(&key), "{key} below {}", heading(number)),
        }
    }
}

#[test]
fn limits_hold() {
    let library = Library::built_in();
    let kinds = |text: &str| -> Vec<&str> {
        read(text, &library).1.iter().map(|finding| finding.kind).collect()
    };
    let rooms: String =
        (0..501).map(|n| format!("[room.r{n}]\narea = 100\nheight = 8\n")).collect();
    assert_eq!(read(&rooms, &library).0.rooms.len(), 500);
    assert!(kinds(&rooms).contains(&"too-many"));
    let legs = "E 1, N 1, W 1, S 1, ".repeat(200);
    let text = format!("[room.a]\nheight = 8\noutline = \"{legs}\"");
    assert!(kinds(&text).contains(&"too-many"));
    let corners = "[0, 0], [1, 0], [1, 1], ".repeat(200);
    let text = format!("[room.a]\nheight = 8\noutline = [{corners}]");
    assert!(kinds(&text).contains(&"too-many"));
    let text = format!("[room.a]\nheight = 8\n# {}\n[room.b]\n", "é".repeat(job::TEXT_MOST / 2));
    assert_eq!(read(&text, &library).0.rooms.len(), 1);
    assert!(kinds(&text).contains(&"text-too-large"));
    let deep = format!("x = {}", "[".repeat(100_000));
    read(&deep, &library);
    read(&"[a\n".repeat(20_000), &library);
    read(&"a = \"\n".repeat(20_000), &library);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..Default::default() })]

    #[test]
    fn any_text_is_read(text in "\\PC{0,200}") {
        read(&text, &Library::built_in());
    }

    #[test]
    fn any_value_is_read(key in 0usize..80, value in "[-0-9a-zA-Z'\"/., =+\\[\\]{}½°#\\\\]{0,24}") {
        let (number, line) = value_lines().nth(key % value_lines().count()).unwrap();
        let key = line.split('=').next().unwrap();
        let (_, findings) = read(&with_line(number, &format!("{key}= {value}")), &Library::built_in());
        for finding in findings {
            prop_assert!(!finding.message.is_empty() && !finding.advice.is_empty());
            prop_assert!(finding.message.len() < 300, "{}", finding.message);
        }
    }

    #[test]
    fn stretches_moved_about(from in 0usize..6000, length in 0usize..200, to in 0usize..6000) {
        let boundary = |at: usize| {
            let mut at = at.min(CABIN.len());
            while !CABIN.is_char_boundary(at) { at -= 1; }
            at
        };
        let (from, end, to) = (boundary(from), boundary(from + length), boundary(to));
        let mut text = CABIN.to_owned();
        text.insert_str(to, &CABIN[from.min(end)..end]);
        read(&text, &Library::built_in());
    }
}
