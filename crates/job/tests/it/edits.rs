//! What an edit changes, and what it leaves alone.

use job::{Edit, Library, apply, read};
use proptest::prelude::*;
use quantity::Quantity;

const CABIN: &str = include_str!("../../../../jobs/cabin.toml");

fn set(path: &str, value: &str) -> Edit {
    Edit::Set { path: path.to_owned(), value: value.to_owned() }
}

fn unset(path: &str) -> Edit {
    Edit::Unset { path: path.to_owned() }
}

fn rename(table: &str, from: &str, to: &str) -> Edit {
    Edit::Rename { table: table.to_owned(), from: from.to_owned(), to: to.to_owned() }
}

/// The lines that differ: `-old` and `+new`, lines before and behind them left out.
fn difference(before: &str, after: &str) -> String {
    let (before, after): (Vec<_>, Vec<_>) =
        (before.split_inclusive('\n').collect(), after.split_inclusive('\n').collect());
    let same = before.iter().zip(&after).take_while(|(a, b)| a == b).count();
    let rest = before.len().min(after.len()) - same;
    let tail = before.iter().rev().zip(after.iter().rev()).take(rest);
    let tail = tail.take_while(|(a, b)| a == b).count();
    let mut out = String::new();
    before[same..before.len() - tail].iter().for_each(|line| out += &format!("-{line}"));
    after[same..after.len() - tail].iter().for_each(|line| out += &format!("+{line}"));
    out
}

#[track_caller]
fn check(text: &str, edit: Edit, expected: &str) {
    let after = edit.apply(text).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(difference(text, &after), expected);
}

#[test]
fn set_changes_its_line_and_keeps_the_comment() {
    check(
        CABIN,
        set("room.bath.spacing", "9 in"),
        "-spacing = \"6 in\"             # promised to the owner: a warm floor\n\
         +spacing = \"9 in\"             # promised to the owner: a warm floor\n",
    );
    check(
        CABIN,
        set("heating.glycol", "40"),
        "-glycol = 35                  # %\n+glycol = 40                  # %\n",
    );
}

#[test]
fn set_adds_a_line_behind_the_last_of_its_table() {
    check(CABIN, set("room.hall.loops", "1"), "+loops = 1\n");
    check(CABIN, set("room.hall.heated", "false"), "+heated = false\n");
    check(CABIN, set("room.hall.spacing", "8 in"), "+spacing = \"8 in\"\n");
    check(CABIN, set("room.hall.name", "12"), "-name = \"Hall and utility\"\n+name = \"12\"\n");
    check(CABIN, set("storey.main.height", "8'6\""), "-height = \"8'\"\n+height = \"8'6\\\"\"\n");
}

#[test]
fn set_makes_a_table_beside_its_kind() {
    check(CABIN, set("manifold.m2.room", "bath"), "+[manifold.m2]\n+room = \"bath\"\n+\n");
    let after = set("room.attic.area", "20").apply(CABIN).unwrap();
    let (before, behind) = after.split_once("\n[room.attic]\narea = 20\n").unwrap();
    assert!(
        before.contains("[room.north_bedroom]")
            && behind.trim_start().starts_with("# ---- windows")
    );
    assert_eq!(set("room.a.area", "20").apply("").unwrap(), "[room.a]\narea = 20\n");
    assert_eq!(
        set("firstheat", "1").apply("# a job\n[job]\nname = \"x\"\n").unwrap(),
        "# a job\nfirstheat = 1\n[job]\nname = \"x\"\n"
    );
}

#[test]
fn lists_stand_as_lists() {
    let edit = set("manifold.m1.at", "[\"20'\", \"12'\"]");
    check(CABIN, edit, "-at = [\"22'2\", \"13'10\"]\n+at = [\"20'\", \"12'\"]\n");
    let edit = set("room.hall.outline", "E 3, N 3, W 3, S 3");
    check(
        CABIN,
        edit,
        "-outline = \"E 19'7 1/2, N 3'7 1/2, W 19'7 1/2, S 3'7 1/2\"\n+outline = \"E 3, N 3, W 3, S 3\"\n",
    );
}

#[test]
fn unset_takes_the_line_away() {
    check(CABIN, unset("heating.supply"), "-supply = \"auto\"\n");
    check(
        CABIN,
        unset("keep_out.flange"),
        "-[keep_out.flange]            # toilet: 8 in all around the flange\n-room = \"bath\"\n\
         -start = [\"20'2\", \"23'2\"]\n-outline = \"E 1'4, N 1'4, W 1'4, S 1'4\"\n-\n",
    );
    assert!(unset("heating.glycl").apply(CABIN).is_err());
}

#[test]
fn unset_of_a_list_over_several_lines() {
    let text = "[assembly.a]\nlayers = [\n  \"R-1 a\", # one\n  \"R-2 b\",\n]\nedge = 3\n";
    assert_eq!(unset("assembly.a.layers").apply(text).unwrap(), "[assembly.a]\nedge = 3\n");
}

#[test]
fn inline_tables_and_dotted_keys() {
    let text = "room.a = { area = 10, height = 8 }\nroom.b.area = 20\n";
    assert_eq!(
        set("room.a.loops", "2").apply(text).unwrap(),
        "room.a = { area = 10, height = 8, loops = 2 }\nroom.b.area = 20\n"
    );
    assert_eq!(
        set("room.b.loops", "2").apply(text).unwrap(),
        "room.a = { area = 10, height = 8 }\nroom.b.area = 20\nroom.b.loops = 2\n"
    );
    assert_eq!(
        unset("room.a.area").apply(text).unwrap(),
        "room.a = { height = 8 }\nroom.b.area = 20\n"
    );
    assert_eq!(
        unset("room.a.height").apply(text).unwrap(),
        "room.a = { area = 10 }\nroom.b.area = 20\n"
    );
    assert_eq!(
        rename("room", "b", "c d").apply(text).unwrap(),
        "room.a = { area = 10, height = 8 }\nroom.\"c d\".area = 20\n"
    );
}

#[test]
fn line_ends_of_another_system_stay() {
    let text = "[room.a]\r\narea = 10\r\n";
    assert_eq!(
        set("room.a.loops", "2").apply(text).unwrap(),
        "[room.a]\r\narea = 10\r\nloops = 2\r\n"
    );
}

#[test]
fn rename_carries_every_reference() {
    let after = rename("room", "great", "great room").apply(CABIN).unwrap();
    assert!(!after.contains("\"great\"") && after.contains("[room.\"great room\"]"));
    assert_eq!(after.matches("room = \"great room\"").count(), 6);
    let library = Library::built_in();
    assert_eq!(read(&after, &library).1, []);
    let back = rename("room", "great room", "great").apply(&after).unwrap();
    assert_eq!(back, CABIN);
    let after = rename("assembly", "slab", "floor").apply(CABIN).unwrap();
    assert_eq!(read(&after, &library).1, []);
    let after = rename("storey", "main", "ground").apply(CABIN).unwrap();
    assert_eq!(read(&after, &library).1, []);
    let text = "[room.up]\nbelow = \"room.down\" # warm\n[room.down]\nname = \"down\"\n";
    check(
        text,
        rename("room", "down", "cellar"),
        "-below = \"room.down\" # warm\n-[room.down]\n+below = \"room.cellar\" # warm\n+[room.cellar]\n",
    );
}

#[test]
fn loops_of_a_renamed_room_keep_their_marks() {
    let text = "[heating]\nlaying_order = [\"den/2\", \"denver/1\"]\n[room.den]\n\
                [laid.\"den/2\"]\nstart = 3\nend = 90\n[laid.\"denver/1\"]\nstart = 0\nend = 9\n[loop.\"den/1\"]\n";
    let expected = "[heating]\nlaying_order = [\"nook/2\", \"denver/1\"]\n[room.nook]\n\
                [laid.\"nook/2\"]\nstart = 3\nend = 90\n[laid.\"denver/1\"]\nstart = 0\nend = 9\n[loop.\"nook/1\"]\n";
    assert_eq!(rename("room", "den", "nook").apply(text).unwrap(), expected);
    assert_eq!(rename("room", "nook", "den").apply(expected).unwrap(), text);
}

#[test]
fn rename_knows_the_new_tables() {
    let text = "[house]\nfloor_between = \"between\"\n[assembly.between]\n\
                layers = [\"own board 1 in\", \"air 2 in between own_board 20 %\"]\n\
                [material.own_board]\nconductivity = 0.1\n[storey.up]\nframing = \"f\"\n\
                [framing.f]\n[room.a]\nabove = \"loft\"\nbelow = \"space.crawl\"\n[space.loft]\n\
                [space.crawl]\n[slope.s]\nroom = \"a\"\n[dormer.d]\nslope = \"s\"\n[face.x]\n\
                room = \"a\"\npart = \"s\"\ntowards = \"a\"\n[zone_part.z]\nroom = \"a\"\n\
                [passage.p]\nfrom = \"a\"\nto = \"a\"\n[part.boiler]\n[main.m]\nfrom = \"boiler\"\n";
    let renamed = |table, from, to| rename(table, from, to).apply(text).unwrap();
    let room = renamed("room", "a", "den");
    assert!(!room.contains("\"a\"") && room.contains("towards = \"room.den\""), "{room}");
    assert_eq!(room.matches("\"den\"").count(), 5, "{room}");
    assert!(renamed("space", "loft", "attic").contains("above = \"space.attic\""));
    assert!(renamed("space", "crawl", "cellar").contains("below = \"space.cellar\""));
    assert_eq!(renamed("slope", "s", "north").matches("\"north\"").count(), 2);
    assert!(renamed("part", "boiler", "b").contains("from = \"b\""));
    assert!(renamed("framing", "f", "joists").contains("framing = \"joists\""));
    let board = renamed("material", "own_board", "panel");
    assert!(board.contains("\"panel 1 in\", \"air 2 in between panel 20 %\""), "{board}");
    assert!(renamed("assembly", "between", "mid").contains("floor_between = \"mid\""));
}

#[test]
fn new_keys_are_written_as_the_schema_says() {
    let text = "[outdoors]\ndesign = 0\n";
    let months = "[1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]";
    check(text, set("outdoors.monthly", months), &format!("+monthly = {months}\n"));
    check(text, set("outdoors.measured", "[\"design\"]"), "+measured = [\"design\"]\n");
    let after = set("slope.a.pitch", "8:12").apply(text).unwrap();
    assert!(after.ends_with("[slope.a]\npitch = \"8:12\"\n"), "{after}");
    let after = set("rule.floor_wood.value", "85 F").apply(text).unwrap();
    assert!(after.ends_with("[rule.floor_wood]\nvalue = \"85 F\"\n"), "{after}");
}

#[test]
fn a_rename_that_cannot_be() {
    for (table, from, to) in [
        ("room", "great", "hall"),
        ("room", "attic", "loft"),
        ("job", "a", "b"),
        ("room", "hall", ""),
    ] {
        assert!(rename(table, from, to).apply(CABIN).is_err(), "{table} {from} {to}");
    }
}

#[test]
fn a_text_with_trouble_is_not_edited() {
    let error = set("room.a.area", "3").apply("[room.a]\narea = \n").unwrap_err();
    assert_eq!(
        error.message,
        "nothing is written for this key: write its value, or take the key away, then edit again"
    );
    assert!(error.place.is_some());
    for path in ["", ".", "room..a", "room.a.b c", "a = 1\nb", "x # y"] {
        assert!(set(path, "3").apply("").is_err(), "{path}");
    }
}

#[test]
fn all_edits_or_none() {
    let edits = [set("room.hall.loops", "2"), unset("room.hall.loops"), unset("room.hall.finish")];
    let after = apply(CABIN, &edits).unwrap();
    assert_eq!(difference(CABIN, &after), "-finish = \"tile\"\n");
    assert!(apply(CABIN, &[unset("room.hall.finish"), unset("room.hall.finish")]).is_err());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..Default::default() })]

    #[test]
    fn what_is_set_is_read(room in 0usize..5, eighths in 80u32..300, name in "\\PC{1,20}") {
        let library = Library::built_in();
        let (before, _) = read(CABIN, &library);
        let key = before.rooms[room].key.clone();
        let height = format!("{}'{} {}/8", eighths / 32 + 6, eighths % 12, eighths % 8);
        let edits = [set(&format!("room.{key}.height"), &height), set(&format!("room.{key}.name"), &name)];
        let text = apply(CABIN, &edits).unwrap();
        let (after, _) = read(&text, &library);
        let metres = f64::from(eighths / 32 + 6) * 0.3048
            + (f64::from(eighths % 12) + f64::from(eighths % 8) / 8.0) * 0.0254;
        let read_height = after.rooms[room].height.as_ref().unwrap().value.si();
        prop_assert!((read_height - metres).abs() < 1e-9);
        if !name.trim().is_empty() {
            prop_assert_eq!(&after.rooms[room].name.value, &name);
        }
        // No line other than the two is another one.
        let lines = |text: &str| -> Vec<String> { text.lines().map(str::to_owned).collect() };
        let (old, new) = (lines(CABIN), lines(&text));
        let changed = old.iter().filter(|line| !new.contains(line)).count();
        prop_assert!(changed <= 1 && new.len() == old.len() + 1, "{}", difference(CABIN, &text));
    }

    #[test]
    fn any_edit_leaves_a_text_that_can_be_read(path in "(room|heating|x)(\\.[a-z\"' ]{1,8}){0,3}", value in "\\PC{0,20}") {
        if let Ok(text) = set(&path, &value).apply(CABIN) {
            let (_, findings) = read(&text, &Library::built_in());
            prop_assert!(!findings.iter().any(|finding| finding.kind == "unreadable-line"));
        }
    }
}
