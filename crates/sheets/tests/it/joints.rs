//! Joints on the plan and in the tables.

use design::Memo;
use job::Library;
use sheets::{Block, Cell, Drawing, Mark, design_sheet};

const FLAT: &str = include_str!("../../../../jobs/flat.toml");
const JOINTS: &str = "\n[joint.field]\nline = [[2.6, 0], [2.6, 4.4]]\n[joint.cut]\n\
                      kind = \"saw cut\"\nline = [[5.315, 1.3], [8.8, 1.3]]\n";

fn marks<'a>(plan: &'a Drawing, class: &str) -> Vec<&'a Mark> {
    plan.marks.iter().filter(|mark| mark.class == class).collect()
}

#[test]
fn joints_sleeves_and_their_table_stand_on_the_papers() {
    let text = format!("{FLAT}{JOINTS}");
    let (job, _) = job::read(&text, &Library::built_in());
    let design = design::design(&job, &mut Memo::new());
    let sheet = design_sheet(&job, &design, &design.findings, &text);
    let plan = sheet.blocks.iter().find_map(|block| match block {
        Block::Drawing(drawing) if drawing.key.starts_with("plan") => Some(drawing),
        _ => None,
    });
    let plan = plan.expect("a plan");
    assert_eq!(marks(plan, "joint-movement").len(), 1);
    assert_eq!(marks(plan, "joint-saw-cut").len(), 1);
    let movement = design.joint_crossings.iter().filter(|it| it.sleeve.is_some()).count();
    let titled = |mark: &&Mark| mark.title.as_ref().is_some_and(|title| title.contains(" m to "));
    let sleeves = marks(plan, "sleeve");
    assert!(movement > 0);
    assert_eq!(sleeves.iter().filter(|mark| titled(mark)).count(), movement);
    let table = sheet.table("joints").expect("tube at joints");
    assert_eq!(table.rows.len(), design.joint_crossings.len());
    for (row, crossing) in table.rows.iter().zip(&design.joint_crossings) {
        let Some(Cell::Quantity(along)) = table.cell(&row.key, "along") else {
            panic!("{} is no length", row.key)
        };
        assert_eq!(along.si, crossing.along.si());
        assert!(along.explain.is_some(), "{} leads to no working", row.key);
        let depth = table.cell(&row.key, "depth");
        assert_eq!(matches!(depth, Some(Cell::CannotTell(_))), crossing.sleeve.is_none());
    }
}

#[test]
fn a_house_without_joints_has_no_such_table_nor_legend() {
    let sheet = crate::sheet_of(FLAT);
    assert!(sheet.table("joints").is_none());
    let drawn = format!("{:?}", sheet.blocks);
    assert!(!drawn.contains("movement joint"));
}
