//! Heated floors as they are built, against weights that the trade knows and sums by hand.

use crate::{ONE_ROOM, close, design, with};
use design::build_ups::FloorBuildUp;
use job::{Finding, Severity};

/// One pound a square foot, kg/m².
const POUND_SQFT: f64 = 4.882_428;
const INCH: f64 = 0.0254;

/// The plain room over outdoor air with that floor, and keys of its own.
fn with_floor(floor: &str, keys: &str) -> String {
    let text = with(ONE_ROOM, "floor = \"floor\"", &format!("floor = \"{floor}\""));
    with(&text, "finish = \"tile\"", keys)
}

fn told(text: &str) -> (FloorBuildUp, Vec<Finding>) {
    let design = design(text);
    let floor = design.build_ups.first().cloned();
    (floor.unwrap_or_else(|| panic!("{:#?}", design.findings)), design.findings)
}

fn kind<'a>(findings: &'a [Finding], kind: &str) -> Option<&'a Finding> {
    findings.iter().find(|finding| finding.kind == kind)
}

fn pounds(weight: Option<&design::Figure<quantity::ArealMass>>) -> f64 {
    weight.unwrap().si() / POUND_SQFT
}

/// Trade sheets give 13 to 18 lb/ft² for poured toppings of about 1 1/2 in; 4 in of concrete is
/// reckoned at 145 to 150 lb/ft³, 48 to 50 lb/ft², common practice; 2200 kg/m³ is a little less.
#[test]
fn toppings_and_slabs_weigh_what_the_trade_knows() {
    let (topping, _) = told(&with_floor("gypsum-topping-on-joists", ""));
    let added = pounds(topping.added_weight.as_ref());
    assert!((13.0..=18.0).contains(&added), "{added} lb/ft²");
    let (slab, _) = told(&with_floor("new-slab", ""));
    let whole = pounds(slab.weight.as_ref());
    assert!((45.0..=50.0).contains(&whole), "{whole} lb/ft²");
    close(slab.added_weight.unwrap().si(), 0.0, 1e-9);
    close(slab.height.unwrap().si(), 0.0, 1e-9);
}

#[test]
fn a_floor_is_summed_layer_by_layer() {
    // 65 mm of 2000 kg/m³ and 100 mm of 20 kg/m³ lie on nothing: the screed bears itself.
    let (floor, _) = told(&with(ONE_ROOM, "finish = \"tile\"", ""));
    close(floor.weight.as_ref().unwrap().si(), 130.0 + 2.0, 1e-9);
    close(floor.added_weight.as_ref().unwrap().si(), 0.0, 1e-9);
    // The foam stores heat that the tube does not bring there.
    close(floor.capacity.as_ref().unwrap().si(), 0.065 * 2000.0 * 1000.0, 1e-6);
    close(floor.above.as_ref().unwrap().si(), 0.045 / 1.2, 1e-12);
    close(floor.below.as_ref().unwrap().si(), 0.020 / 1.2 + 0.100 / 0.035, 1e-12);
    // On a deck of concrete both are laid on it, and the text may say otherwise.
    let deck = "\"EPS 100 mm\", \"reinforced concrete 160 mm\"]";
    let text = with(ONE_ROOM, "\"EPS 100 mm\"]", deck);
    let (floor, _) = told(&with(&text, "finish = \"tile\"", ""));
    close(floor.added_weight.as_ref().unwrap().si(), 132.0, 1e-9);
    close(floor.height.as_ref().unwrap().si(), 0.165, 1e-12);
    let text = with(&text, deck, &format!("{deck}\nadded = 1"));
    let (floor, _) = told(&with(&text, "finish = \"tile\"", ""));
    close(floor.added_weight.unwrap().si(), 130.0, 1e-9);
}

#[test]
fn finish_and_board_count_in_the_height() {
    let keys = "finish = \"solid-wood\"\nadded_height = \"1 1/2 in\"";
    let (floor, findings) = told(&with_floor("grooved-board-over-floor", keys));
    close(floor.height.as_ref().unwrap().si(), 1.5 * INCH, 1e-12);
    assert!(kind(&findings, "floor-too-high").is_none(), "{findings:#?}");
    assert!(floor.verdict.iter().any(|it| it.starts_with("fits under")), "{:?}", floor.verdict);
    let keys = "finish = \"solid-wood\"\nadded_height = \"1 in\"";
    let (_, findings) = told(&with_floor("grooved-board-over-floor", keys));
    let high = kind(&findings, "floor-too-high").unwrap();
    assert_eq!((high.severity, high.subject.as_str()), (Severity::Stop, "room.only"));
    close(high.amount.unwrap(), 0.5 * INCH, 1e-9);
    for word in ["doors", "riser", "thresholds", "appliances"] {
        assert!(high.message.contains(word), "{}", high.message);
    }
}

#[test]
fn an_engineer_looks_at_toppings_on_joists_and_not_at_boards() {
    let over_air = "below = \"outdoors\"";
    let (_, findings) = told(&with_floor("gypsum-topping-on-joists", over_air));
    let heavy = kind(&findings, "heavy-floor").unwrap();
    assert!(heavy.advice.contains("engineer"), "{}", heavy.advice);
    assert!(heavy.limit.is_some());
    let allowed = format!("{over_air}\nadded_weight = \"20 lb/ft²\"");
    let (_, findings) = told(&with_floor("gypsum-topping-on-joists", &allowed));
    assert!(
        kind(&findings, "heavy-floor").is_none() && kind(&findings, "floor-too-heavy").is_none()
    );
    let less = format!("{over_air}\nadded_weight = \"12 lb/ft²\"");
    let (_, findings) = told(&with_floor("gypsum-topping-on-joists", &less));
    assert_eq!(kind(&findings, "floor-too-heavy").unwrap().severity, Severity::Stop);
    let (_, findings) = told(&with_floor("grooved-board-over-floor", over_air));
    assert!(kind(&findings, "heavy-floor").is_none());
}

/// EN 1264-4 table 1 (excerpts): 2.00 m²K/W over outdoor air of -15 °C, 1.50 down to -5 °C.
#[test]
fn insulation_below_follows_what_is_below() {
    let over_air = "below = \"outdoors\"";
    // R-19 between the joists counts as R-19; 40 mm of foam is less than 2.00.
    let (_, findings) = told(&with_floor("plates-under-subfloor", over_air));
    assert!(kind(&findings, "thin-insulation").is_none(), "{findings:#?}");
    let thin = with(ONE_ROOM, "EPS 100 mm", "EPS 40 mm");
    let (_, findings) = told(&with(&thin, "finish = \"tile\"", over_air));
    let found = kind(&findings, "thin-insulation").unwrap();
    assert_eq!(found.severity, Severity::Warn);
    // The room's design day is at -10 °C.
    close(found.amount.unwrap(), 2.0 - 0.040 / 0.035, 1e-9);
    let (_, findings) = told(&with(&thin, "finish = \"tile\"", "below = \"heated\""));
    assert!(kind(&findings, "thin-insulation").is_none(), "0.75 is enough over heated rooms");
}

/// R-19 batts between joists are the R-19 that the rule asks for, whatever the wood beside them.
#[test]
fn wood_beside_the_insulation_is_not_averaged_in() {
    let text = with_floor("plates-under-subfloor", "below = \"outdoors\"");
    let text = with(&text, "rules = \"eu\"", "rules = \"us-residential\"");
    let (_, findings) = told(&text);
    assert!(kind(&findings, "thin-insulation").is_none(), "{findings:#?}");
    let layers =
        "layers = [\"concrete 4 in with tube\", \"R-13 batt 3.5 in between softwood 12 %\"]";
    let plain = "layers = [\"cement screed 65 mm with tube, cover 45 mm\", \"EPS 100 mm\"]";
    let text = with(&with(ONE_ROOM, plain, layers), "finish = \"tile\"", "below = \"outdoors\"");
    let (_, findings) = told(&with(&text, "rules = \"eu\"", "rules = \"us-residential\""));
    let missing = kind(&findings, "thin-insulation").unwrap().amount.unwrap();
    // R-19 less R-13; one R is 0.17611 m²K/W.
    close(missing, 6.0 * 0.176_110, 1e-4);
}

#[test]
fn cover_and_spacing_are_held_against_the_rule_set() {
    let (_, findings) =
        told(&with(ONE_ROOM, "65 mm with tube, cover 45 mm", "50 mm with tube, cover 25 mm"));
    let thin = kind(&findings, "thin-cover").unwrap();
    close(thin.amount.unwrap(), 0.005, 1e-9);
    let (_, findings) = told(&with(ONE_ROOM, "finish = \"tile\"", "spacing = \"350 mm\""));
    close(kind(&findings, "odd-spacing").unwrap().amount.unwrap(), 0.050, 1e-9);
    let (_, findings) = told(ONE_ROOM);
    assert!(kind(&findings, "thin-cover").is_none() && kind(&findings, "odd-spacing").is_none());
    let keys = "spacing = \"6 in\"";
    let (_, findings) = told(&with_floor("grooved-board-over-floor", keys));
    let off = kind(&findings, "off-grooves").unwrap();
    assert_eq!(off.severity, Severity::Stop);
    close(off.amount.unwrap(), 2.0 * INCH, 1e-9);
    let (_, findings) = told(&with_floor("grooved-board-over-floor", "spacing = \"16 in\""));
    assert!(kind(&findings, "off-grooves").is_none());
}

#[test]
fn a_finish_that_a_build_up_does_not_bear_is_told() {
    let (_, findings) = told(&with_floor("grooved-board-over-floor", "finish = \"tile\""));
    assert!(kind(&findings, "finish-not-borne").is_some());
    let (_, findings) = told(&with_floor("grooved-board-over-floor", "finish = \"solid-wood\""));
    assert!(kind(&findings, "finish-not-borne").is_none());
}

#[test]
fn every_figure_of_a_floor_can_be_asked_for() {
    let design = design(ONE_ROOM);
    for name in ["height", "weight", "added_weight", "capacity", "above", "below"] {
        let path = format!("room.only.floor.{name}");
        assert!(design.figure(&path).is_some(), "{path}");
    }
}

#[test]
fn plates_weigh_by_their_width_and_the_distance_of_the_tubes() {
    // 0.018 in of 4 in at every 8 in: half the floor; aluminium of 2800 kg/m³.
    let keys = "below = \"outdoors\"\nspacing = \"8 in\"";
    let (plates, _) = told(&with_floor("plates-under-subfloor", keys));
    let (wide, _) = told(&with_floor("wide-plates-under-subfloor", keys));
    let difference = wide.weight.unwrap().si() - plates.weight.unwrap().si();
    close(difference, 0.018 * INCH * 2800.0 * (6.0 - 4.0) / 8.0, 1e-9);
}
