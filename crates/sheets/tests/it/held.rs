//! What the text takes in hand of a layout, on the plan.

use design::Memo;
use job::Library;
use sheets::{Block, Drawing, Sheet, design_sheet};

const FLAT: &str = include_str!("../../../../jobs/flat.toml");

fn sheet_of(text: &str) -> Sheet {
    let (job, _) = job::read(text, &Library::built_in());
    let design = design::design(&job, &mut Memo::new());
    design_sheet(&job, &design, &design.findings, text)
}

fn plan(sheet: &Sheet) -> &Drawing {
    let drawn = sheet.blocks.iter().find_map(|block| match block {
        Block::Drawing(drawing) if drawing.key.starts_with("plan") => Some(drawing),
        _ => None,
    });
    drawn.expect("a plan")
}

/// Titles of all marks of a class.
fn titles<'a>(plan: &'a Drawing, class: &str) -> Vec<&'a str> {
    let own = plan.marks.iter().filter(|mark| mark.class == class);
    own.filter_map(|mark| mark.title.as_deref()).collect()
}

/// The flat with all that can be taken in hand; leaders of that order would cross.
fn held() -> String {
    let text = FLAT.replacen("indoor = 18\n", "indoor = 18\nentry = \"living_to_bedroom\"\n", 1);
    let order = "tail = 1\norder = [\"bath/1\", \"living/1\", \"bedroom/1\"]\n";
    let text = text.replacen("tail = 1\n", order, 1);
    format!(
        "{text}\n[loop.\"living/1\"]\noutline = [[0, 0], [2.6, 0], [2.6, 4.4], [0, 4.4]]\n\
         [loop.\"bedroom/1\"]\nway = [[5.1, 2.1], [4.9, 1.8], [4.9, 1.3], [5.6, 1.3]]\n"
    )
}

#[test]
fn held_floors_ways_entries_and_orders_are_drawn() {
    let text = held();
    let sheet = sheet_of(&text);
    let plan = plan(&sheet);
    assert_eq!(titles(plan, "held-floor").len(), 1);
    assert_eq!(titles(plan, "held-way").len(), 1);
    assert_eq!(titles(plan, "held-place").len(), 4);
    assert_eq!(titles(plan, "held-entry").len(), 1);
    assert_eq!(titles(plan, "held-order").len(), 3);
    let words = format!("{:?}", plan.marks);
    assert!(words.contains("held by the job: floor or way of a loop"));
}

#[test]
fn what_could_not_be_kept_says_so_where_it_is_drawn() {
    let text = held();
    let (job, _) = job::read(&text, &Library::built_in());
    let design = design::design(&job, &mut Memo::new());
    let lost: Vec<&str> = design
        .findings
        .iter()
        .filter(|it| it.kind == "not-as-held")
        .map(|it| it.subject.as_str())
        .collect();
    assert_eq!(lost, ["manifold.m1.order"], "leaders of that order would cross");
    let sheet = sheet_of(&text);
    assert!(titles(plan(&sheet), "held-order").iter().all(|it| it.ends_with("not kept")));
    assert!(!titles(plan(&sheet), "held-floor")[0].ends_with("not kept"));
}

#[test]
fn a_plan_with_nothing_in_hand_shows_no_such_sign() {
    let sheet = sheet_of(FLAT);
    assert!(plan(&sheet).marks.iter().all(|mark| !mark.class.starts_with("held")));
    assert!(!format!("{:?}", plan(&sheet).marks).contains("held by the job: floor"));
}
