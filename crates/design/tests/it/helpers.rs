//! What a floor may not give, and what makes it up.

use crate::{close, design, with};
use quantity::Quantity;

const SCHOOLHOUSE: &str = include_str!("../../../../jobs/schoolhouse.toml");

/// 2,200 Btu/h at 180/160/68 °F; at 140/120 in 68 °F the excess is 62 of 102 °F, and a radiator
/// then gives (62/102)^1.3 of its rating (EN 442, common exponent).
#[test]
fn a_radiator_gives_its_rating_at_its_water() {
    let design = design(SCHOOLHOUSE);
    let helper = design.emitters.helpers.iter().find(|it| it.key == "study_radiator").unwrap();
    let mean_f = 140.0 - design_drop_f() / 2.0;
    let expected_w = 2200.0 / 3.412_141_633 * ((mean_f - 68.0) / 102.0_f64).powf(1.3);
    close(helper.output.si(), expected_w, 1.0);
}

fn design_drop_f() -> f64 {
    let job = crate::job(SCHOOLHOUSE);
    let drop = job.heating.drop.held().map_or(job.rules.drop.value.si(), |held| held.value.si());
    drop * 1.8
}

#[test]
fn a_floor_that_falls_short_is_helped_or_told() {
    let kinds = |text: &str| -> Vec<(&'static str, String)> {
        design(text).findings.iter().map(|it| (it.kind, it.subject.clone())).collect()
    };
    let helped = kinds(SCHOOLHOUSE);
    assert!(helped.contains(&("floor-helped", "room.study".to_owned())), "{helped:?}");
    let alone = with(
        SCHOOLHOUSE,
        "room = \"study\"\ncircuit = \"plates\"",
        "room = \"guest\"\ncircuit = \"plates\"",
    );
    let alone = kinds(&alone);
    assert!(alone.contains(&("floor-too-warm", "room.study".to_owned())), "{alone:?}");
}

/// A spot over a tube is told against the limit of spots, with water that is far too hot.
#[test]
fn a_hot_spot_is_told() {
    let hot = with(crate::CABIN, "supply = \"auto\"", "supply = \"150 F\"");
    let design = design(&hot);
    let spot = design.findings.iter().find(|it| it.kind == "hot-spot").unwrap();
    assert!(spot.limit.as_ref().is_some_and(|limit| !limit.source.is_empty()));
    let floor = design.emitters.floors.iter().find(|it| spot.subject.ends_with(&it.room)).unwrap();
    assert!(floor.warmest.si() > floor.surface.si() && floor.coolest.si() < floor.warmest.si());
}
