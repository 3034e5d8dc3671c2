//! Commands through the real binary.

use crate::program::{CABIN, cabin, folder, run, text};
use serde_json::Value;

#[test]
fn check_is_fine_on_the_example_and_stops_on_a_broken_line() {
    assert_eq!(run(&["check", &cabin()]).status.code(), Some(0));
    let job = folder("broken").join("job.toml");
    let line = CABIN.lines().position(|line| line.starts_with("design = ")).expect("a line") + 1;
    std::fs::write(&job, CABIN.replace("design = -5 ", "design = \"-5 ")).expect("written");
    let done = run(&["check", &job.display().to_string()]);
    assert_eq!(done.status.code(), Some(1));
    let said = text(&done.stdout);
    assert!(said.contains(&format!("job.toml:{line}:")), "{said}");
    assert!(said.contains("design = \"-5 ") && said.contains('^'), "{said}");
    assert!(said.contains("  do: "), "{said}");
}

#[test]
fn the_caret_stands_under_the_place() {
    let job = folder("caret").join("job.toml");
    std::fs::write(&job, "[room.bath]\nheight = \"8 feat\"\n").expect("written");
    let said = text(&run(&["check", &job.display().to_string()]).stdout);
    let lines: Vec<&str> = said.lines().collect();
    let at = lines
        .iter()
        .position(|line| line.contains("8 feat") && line.contains(" | "))
        .expect("line");
    let column = lines[at].find("\"8 feat\"").expect("value");
    assert_eq!(lines[at + 1].find('^'), Some(column), "{said}");
}

#[test]
fn what_is_unusable_is_told_and_ends_with_two() {
    let bytes = folder("bytes").join("job.toml");
    std::fs::write(&bytes, [0xff, 0xfe, 0x00, 0x80]).expect("written");
    let bytes = bytes.display().to_string();
    for (words, part) in [
        (&["check", "no-such-file.toml"][..], "there is no file"),
        (&["check", &bytes], "not a text"),
        (&["check", env!("CARGO_MANIFEST_DIR")], "folder"),
        (&["no-such-command"], "no-such-command"),
        (&["calc", "no_such_law"], "no law is named"),
        (&["explain", &cabin(), "room.kitchn.loss"], "nearest"),
        (&["finish", &cabin(), "attic", "tile"], "the job has great"),
        (&["finish", &cabin(), "great", "straw"], "thick-carpet"),
    ] {
        let done = run(words);
        assert_eq!(done.status.code(), Some(2), "{words:?}");
        assert!(text(&done.stderr).contains(part), "{words:?}: {}", text(&done.stderr));
        assert!(done.stdout.is_empty());
    }
}

#[test]
fn calc_prints_exactly_these_keys() {
    let words = ["calc", "head_of_pressure", "pressure=10 kPa", "density=1000 kg/m3", "--json"];
    let done = run(&words);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let answer: Value = serde_json::from_slice(&done.stdout).expect("JSON");
    let keys: Vec<&String> = answer.as_object().expect("an object").keys().collect();
    assert_eq!(keys, ["outputs", "source", "unit", "value", "within_range"]);
    let head = answer["value"].as_f64().expect("a number");
    assert!((head - 10_000.0 / (1000.0 * 9.80665)).abs() < 1e-12, "{head}");
    assert_eq!(
        (answer["unit"].as_str(), answer["within_range"].as_bool()),
        (Some("m"), Some(true))
    );
    assert_eq!(answer["outputs"]["head"], answer["value"]);
}

#[test]
fn calc_lists_every_law() {
    let list = text(&run(&["calc", "--list"]).stdout);
    for law in laws::all() {
        assert!(list.contains(&format!("### {}", law.name)), "{}", law.name);
    }
}

#[test]
fn explain_lists_paths_and_tells_the_working_of_each() {
    let list = text(&run(&["explain", &cabin()]).stdout);
    let paths: Vec<&str> = list.lines().filter_map(|line| line.split("  ").next()).collect();
    assert!(paths.contains(&"room.bath.loss"), "{list}");
    let told = run(&["explain", &cabin(), "room.bath.loss"]);
    assert_eq!(told.status.code(), Some(0));
    let told = text(&told.stdout);
    assert!(told.contains("sum of") && told.contains("Btu/h") && told.contains(" W)"), "{told}");
}

#[test]
fn design_prints_json_with_numbers_in_si() {
    let done = run(&["design", &cabin(), "--json"]);
    let sheet: Value = serde_json::from_slice(&done.stdout).expect("JSON");
    let rows = sheet["tables"]["rooms"]["rows"].as_array().expect("rows");
    assert_eq!(rows.len(), 6);
    let area = &rows[4]["cells"]["area"];
    assert_eq!(
        (rows[4]["key"].as_str(), area["unit"].as_str()),
        (Some("north_bedroom"), Some("m²"))
    );
    // 12 ft 7 1/2 in by 10 ft 7 1/2 in.
    let expected = (12.0 + 7.5 / 12.0) * (10.0 + 7.5 / 12.0) * 0.3048 * 0.3048;
    assert!((area["value"].as_f64().expect("a number") - expected).abs() < 1e-9);
}

#[test]
fn design_writes_all_papers_to_a_folder() {
    let out = folder("papers").join("deep/er");
    let done = run(&["design", &cabin(), "--out", &out.display().to_string()]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let names = [
        "plan.svg",
        "rooms.csv",
        "loops.csv",
        "manifolds.csv",
        "cuts.csv",
        "sheet.html",
        "sheet.txt",
        "design.json",
        "setting_out.csv",
        "no-drilling.html",
        "port-cards.html",
        "floor-temperatures.html",
        "floor-warmth.svg",
        "floor-mild.svg",
    ];
    for name in names {
        let content = std::fs::read_to_string(out.join(name)).expect(name);
        assert!(content.len() > 200, "{name}");
    }
    let page = std::fs::read_to_string(out.join("sheet.html")).expect("the sheet");
    assert!(page.contains("<style>") && !page.contains("href=\"/") && !page.contains("<script"));
}

#[test]
fn another_finish_is_told_before_and_after() {
    let done = run(&["finish", &cabin(), "great", "tile"]);
    assert_eq!(done.status.code(), Some(0), "{}", text(&done.stderr));
    let said = text(&done.stdout);
    assert!(said.contains("The water may be cooler by"), "{said}");
    let done = run(&["finish", &cabin(), "great", "thick-carpet", "--json"]);
    assert_eq!(done.status.code(), Some(1), "it brings a stop");
    let answer: Value = serde_json::from_slice(&done.stdout).expect("JSON");
    assert_eq!(answer["key"], "finish");
}

#[test]
fn an_address_for_others_needs_a_word() {
    let done = run(&["serve", "--addr", "0.0.0.0:0"]);
    assert_eq!(done.status.code(), Some(2));
    assert!(text(&done.stderr).contains("--open-to-network"));
}
