//! Spoiled texts: read and designed, no panic, and untouched rooms keep their loads.

use crate::{CABIN, read};
use design::{Design, Memo};
use proptest::prelude::*;

fn design(text: &str, memo: &mut Memo) -> Design {
    let (job, _) = read(text);
    design::design(&job, memo)
}

#[test]
fn cut_at_every_byte() {
    let ends: Vec<usize> = (0..CABIN.len()).filter(|end| CABIN.is_char_boundary(*end)).collect();
    std::thread::scope(|scope| {
        for half in ends.chunks(ends.len() / 2 + 1) {
            scope.spawn(|| {
                let mut memo = Memo::new();
                half.iter().for_each(|end| {
                    design(&CABIN[..*end], &mut memo);
                });
            });
        }
    });
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, ..ProptestConfig::default() })]

    /// Stretches of the text swapped for others of it, or for marks and digits.
    #[test]
    fn mutated_text(
        cuts in prop::collection::vec((0usize..6000, 0usize..30, 0usize..6000, 0usize..30), 1..6),
        filling in prop::sample::select(vec!["", "[", "\"", "9", "-", "=", "\n", "é", "0.0001", "'"]),
    ) {
        let mut text: Vec<char> = CABIN.chars().collect();
        for (at, length, from, take) in cuts {
            let at = at % text.len();
            let end = (at + length).min(text.len());
            let from = from % text.len();
            let mut taken: Vec<char> = text[from..(from + take).min(text.len())].to_vec();
            taken.extend(filling.chars());
            text.splice(at..end, taken);
        }
        let text: String = text.into_iter().collect();
        design(&text, &mut Memo::new());
    }
}

/// Each key deleted, and set to what nobody means.
#[test]
fn each_key_spoiled() {
    let mut memo = Memo::new();
    let whole = design(CABIN, &mut memo);
    let mut table = String::new();
    for (number, line) in CABIN.lines().enumerate() {
        if let Some(name) = line.strip_prefix('[') {
            table = name.split(']').next().unwrap_or("").to_owned();
        }
        let Some((key, _)) = line.split_once(" = ") else { continue };
        let spoiled = ["nan", "inf", "1e300", "-1", "\"\"", "[]", "true", "{}", "\"-1 banana\""];
        let values = spoiled.map(|value| format!("{key} = {value}"));
        for replacement in values.into_iter().chain([String::new()]) {
            let lines = CABIN.lines().enumerate();
            let text: Vec<&str> = lines
                .map(|(at, line)| if at == number { replacement.as_str() } else { line })
                .collect();
            let text = text.join("\n");
            // Free words may be any words.
            if !replacement.is_empty() && key != "name" && key != "note" {
                told_on_its_line(&text, number + 1, &replacement);
            }
            let spoiled = design(&text, &mut memo);
            let Some(room) = table.strip_prefix("room.") else { continue };
            untouched_rooms_stand(room, key, &whole, &spoiled, &replacement);
        }
    }
}

/// Something is said at the spoiled line, unless the value can be meant.
fn told_on_its_line(text: &str, line: usize, replacement: &str) {
    let (_, findings) = read(text);
    let at_line = findings
        .iter()
        .any(|finding| finding.place.is_some_and(|place| place.line_and_column(text).0 == line));
    let can_be_meant = ["-1", "true", "\"\"", "{}", "[]"].iter().any(|v| replacement.ends_with(v));
    assert!(at_line || can_be_meant, "nothing is said of line {line}: {replacement}");
}

/// A spoiled outline leaves the loads of the rooms alone that face each other across it.
///
/// The great room looks along the hall at nothing but its outside wall: that it stood there
/// cannot be known, and the finding says so.
#[test]
fn an_unreadable_outline_leaves_the_other_rooms_alone() {
    let whole = design(CABIN, &mut Memo::new());
    let text =
        crate::with(CABIN, "\"E 19'7 1/2, N 3'7 1/2, W 19'7 1/2, S 3'7 1/2\"", "\"E banana\"");
    let spoiled = design(&text, &mut Memo::new());
    for loss in whole.loads.rooms.iter().filter(|loss| loss.room != "hall" && loss.room != "great")
    {
        let kept = spoiled.loads.rooms.iter().find(|other| other.room == loss.room).unwrap();
        let change = (kept.heat.total.si() - kept.heat.ground.si())
            - (loss.heat.total.si() - loss.heat.ground.si());
        // The hall's door holes and partition ends are not known: a few watts.
        assert!(change.abs() < 0.03 * loss.heat.total.si(), "{} changed by {change} W", loss.room);
    }
    assert!(spoiled.findings.iter().any(|f| f.kind == "no-outline" && f.subject == "room.hall"));
}

/// Rooms that neither are the spoiled one nor touch it keep their loads to the watt.
fn untouched_rooms_stand(room: &str, key: &str, whole: &Design, spoiled: &Design, what: &str) {
    // Storeys and outlines move walls of neighbours too; what is asked here is the far rooms.
    let touches = |other: &str| {
        let enclosure = whole.envelope.enclosures.iter().find(|e| e.room == *other).unwrap();
        enclosure.faces.iter().any(|face| face.behind.words() == room)
    };
    for loss in &whole.loads.rooms {
        let far = loss.room != room && !touches(&loss.room);
        let own_facts = matches!(key, "indoor" | "outline" | "start" | "storey");
        if loss.room == room || (!far && own_facts) {
            continue;
        }
        let kept = spoiled.loads.rooms.iter().find(|other| other.room == loss.room);
        let kept =
            kept.unwrap_or_else(|| panic!("{} lost its load by {what} in {room}", loss.room));
        // Floor without tube loses by the size of the whole ground floor, which may change.
        let without_ground =
            |loss: &design::loads::RoomLoss| loss.heat.total.si() - loss.heat.ground.si();
        let change = (without_ground(kept) - without_ground(loss)).abs();
        assert!(change < 1e-6, "{} changed by {change} W through {what} in {room}", loss.room);
    }
}
