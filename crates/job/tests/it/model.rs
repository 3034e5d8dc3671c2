//! What a text means.

use job::{
    Construction, Decision, Faces, Fluid, Job, Layer, Library, OpeningKind, Origin, RoomUse, Where,
};
use quantity::{Quantity, System};

const INCH: f64 = 0.0254;
const FOOT: f64 = 0.3048;

fn job(text: &str) -> Job {
    job::read(text, &Library::built_in()).0
}

#[track_caller]
fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-9 * expected.abs().max(1.0), "{found}, not {expected}");
}

#[test]
fn bare_numbers_take_the_unit_of_the_job() {
    let keys = "[room.a]\nheight = 8\narea = 100\nindoor = 20\nspacing = 6\n";
    let us = job(keys);
    let room = &us.rooms[0];
    near(room.height.as_ref().unwrap().value.si(), 8.0 * FOOT);
    near(room.area.as_ref().unwrap().value.si(), 100.0 * FOOT * FOOT);
    near(room.indoor.value.si(), (20.0 + 459.67) / 1.8);
    near(room.spacing.held().unwrap().value.si(), 6.0 * INCH);
    let si = job(&format!("{keys}[job]\nunits = \"si\"").replace("= 6\n", "= 150\n"));
    assert_eq!(si.units.value, System::Si);
    let room = &si.rooms[0];
    near(room.height.as_ref().unwrap().value.si(), 8.0);
    near(room.area.as_ref().unwrap().value.si(), 100.0);
    near(room.indoor.value.si(), 293.15);
    near(room.spacing.held().unwrap().value.si(), 0.15);
}

#[test]
fn a_number_in_quotes_is_as_bare_as_one_without() {
    let (quoted, bare) = (job("[room.a]\nheight = \"8\""), job("[room.a]\nheight = 8.0"));
    assert_eq!(
        quoted.rooms[0].height.as_ref().map(|it| it.value),
        bare.rooms[0].height.as_ref().map(|it| it.value)
    );
}

#[test]
fn silence_is_assumed_by_the_units() {
    let (us, si) = (job("[room.a]"), job("[job]\nunits = \"si\"\n[room.a]"));
    assert_eq!(us.rules.key, "us-residential");
    assert_eq!(si.rules.key, "eu");
    near(us.rooms[0].indoor.value.si(), (70.0 + 459.67) / 1.8);
    near(si.rooms[0].indoor.value.si(), 293.15);
    near(us.house.thickest_wall.value.si(), 8.0 * INCH);
    near(si.house.thickest_wall.value.si(), 0.25);
    assert_eq!(us.rooms[0].finish.value, "bare-concrete");
    assert_eq!(us.rooms[0].below.value, Faces::Ground);
    assert_eq!(us.rooms[0].above.value, Faces::Outdoors);
    assert!(us.rooms[0].heated.value);
    assert_eq!(us.rooms[0].spacing, Decision::Open);
    assert_eq!(us.heating.tube, Decision::Open);
    assert!(matches!(&us.rooms[0].indoor.origin, Origin::Assumed(why) if why.starts_with("70 F")));
}

#[test]
fn what_a_storey_says_holds_for_its_rooms() {
    let text = "[storey.main]\nheight = 9\n[storey.loft]\n[room.a]\nstorey = \"main\"\n\
                [room.b]\nstorey = \"main\"\nheight = 8\n[room.c]\nstorey = \"loft\"\n[room.d]\n";
    let job = job(text);
    let height = |at: usize| job.rooms[at].height.as_ref();
    near(height(0).unwrap().value.si(), 9.0 * FOOT);
    assert!(matches!(height(0).unwrap().origin, Origin::Inherited(_)));
    near(height(1).unwrap().value.si(), 8.0 * FOOT);
    assert!(matches!(height(1).unwrap().origin, Origin::Stated(_)));
    assert_eq!((height(2), height(3)), (None, None));
    assert!(job.rooms[3].storey.is_none(), "two storeys: neither is meant");
}

#[test]
fn layers_hold_materials_resistances_and_tube() {
    let text = "[assembly.a]\nlayers = [\"1/2 in Gypsum Board\", \"R-19 batt\", \"concrete 4 in with \
                tube, cover 1.5 in\", \"XPS 2\", \"concrete 4 in with tube\"]\n";
    let two = job(text);
    assert!(two.assemblies[0].construction.is_none(), "two layers with tube");
    let job = job(&text.replace(", \"concrete 4 in with tube\"]", "]"));
    let Some(Construction::Layers(layers)) = &job.assemblies[0].construction else { panic!() };
    let [board, batt, slab, foam] = layers.value.as_slice() else { panic!() };
    assert!(matches!(board, Layer::Material { material, thickness, holds_tube: false, .. }
        if material == "gypsum-board" && (thickness.si() - 0.5 * INCH).abs() < 1e-12));
    assert!(matches!(batt, Layer::Rated { resistance, .. }
        if (resistance.si() - 19.0 * 0.176_110).abs() < 1e-4));
    assert!(matches!(slab, Layer::Material { holds_tube: true, cover: Some(cover), .. }
        if (cover.si() - 1.5 * INCH).abs() < 1e-12));
    assert!(matches!(foam, Layer::Material { material, thickness, .. }
        if material == "xps" && (thickness.si() - 2.0 * INCH).abs() < 1e-12));
}

#[test]
fn taped_legs_go_round_and_close() {
    let job =
        job("[room.a]\nstart = [\"1'\", \"2'\"]\noutline = \"E 10' , N 8' lake, W 10', S 8'\"");
    let outline = job.rooms[0].outline.as_ref().unwrap();
    let corners: Vec<(f64, f64)> =
        outline.corners.iter().map(|it| (it.x / FOOT, it.y / FOOT)).collect();
    let expected = [(1.0, 2.0), (11.0, 2.0), (11.0, 10.0), (1.0, 10.0)];
    for (found, expected) in corners.iter().zip(expected) {
        near(found.0, expected.0);
        near(found.1, expected.1);
    }
    assert_eq!(outline.wall_names, [None, Some("lake".to_owned()), None, None]);
    let closing = outline.closing.unwrap();
    assert!(closing.spread && closing.distance.si() < 1e-9);
    near(closing.taped.si(), 36.0 * FOOT);
}

#[test]
fn a_small_gap_is_spread_by_the_compass_rule() {
    // One inch too far east, a quarter of the way round on each leg.
    let job = job("[room.a]\noutline = \"E 10'1, N 10', W 10', S 10'\"");
    let outline = job.rooms[0].outline.as_ref().unwrap();
    let way = 40.0 + 1.0 / 12.0;
    let share = |walked: f64| walked / way * INCH;
    near(outline.corners[1].x, 10.0 * FOOT + INCH - share(10.0 + 1.0 / 12.0));
    near(outline.corners[2].x, 10.0 * FOOT + INCH - share(20.0 + 1.0 / 12.0));
    near(outline.corners[3].x, INCH - share(30.0 + 1.0 / 12.0));
    near(outline.corners[0].x, 0.0);
    near(outline.closing.unwrap().distance.si(), INCH);
}

#[test]
fn a_wide_gap_is_closed_by_a_straight_wall() {
    let job = job("[room.a]\noutline = \"E 14', N 11', W 10', S 11'\"");
    let outline = job.rooms[0].outline.as_ref().unwrap();
    assert_eq!(outline.corners.len(), 5);
    assert_eq!(outline.wall_names.len(), 5);
    assert!(!outline.closing.unwrap().spread);
    near(outline.corners[4].x, 4.0 * FOOT);
}

#[test]
fn the_cabin_is_bound() {
    let cabin = job(include_str!("../../../../jobs/cabin.toml"));
    let keys: Vec<&str> = cabin.rooms.iter().map(|room| room.key.as_str()).collect();
    assert_eq!(keys, ["great", "hall", "bath", "south_bedroom", "north_bedroom"]);
    assert_eq!(cabin.openings.len(), 12);
    assert_eq!(cabin.keep_outs_of("great").count(), 2);
    assert_eq!(cabin.heating.fluid.value, Fluid::PropyleneGlycol);
    assert_eq!(cabin.heating.tube.held().map(|it| it.value.as_str()), Some("pex-1/2"));
    assert_eq!(cabin.heating.supply, Decision::Open);
    assert_eq!(cabin.rooms[2].used_as.value, RoomUse::Bath);
    assert_eq!(cabin.openings[6].kind.value, OpeningKind::Door);
    let lake = cabin.openings[0].at.as_ref().unwrap();
    assert!(matches!(&lake.value, Where::Wall { room, wall, along: Some(_) }
        if room == "great" && wall == "lake"));
    assert_eq!(cabin.rules.loop_length("pex-1/2").map(|rule| rule.value.si()), Some(300.0 * FOOT));
}

#[test]
fn a_library_without_rules_falls_back_on_the_built_in() {
    let (empty, findings) = Library::read(&[], &[]);
    assert!(findings.is_empty() && empty.rule_sets.is_empty());
    let (job, _) = job::read("", &empty);
    assert_eq!(job.rules.key, "us-residential");
}

#[test]
fn troubles_of_a_library_are_told() {
    let catalogue = "[tube.a]\nname = \"a\"\noutside = \"5\"\n[gadget.b]\nx = 1\n";
    let rules = "key = \"mine\"\n[floor_living]\nvalue = \"85 F\"\n";
    let (library, findings) = Library::read(&[catalogue], &[rules]);
    assert!(library.catalogue.tubes.is_empty() && library.rule_sets.is_empty());
    assert!(findings.iter().any(|it| it.message == "outside of 5 lacks its unit"));
    assert!(findings.iter().any(|it| it.message == "no such kind of part"));
    assert!(findings.iter().any(|it| it.subject == "rules 1: floor_bath"));
}

#[test]
fn every_assumed_value_can_be_read() {
    let tables = [
        "storey",
        "assembly",
        "room",
        "surface",
        "opening",
        "keep_out",
        "manifold",
        "space",
        "slope",
        "dormer",
        "grade",
        "void",
        "face",
        "fan",
        "circuit",
        "emitter",
        "zone",
        "zone_part",
        "passage",
        "main",
        "part",
        "framing",
        "material",
    ];
    let empty: String = tables.map(|table| format!("[{table}.a]\n")).concat();
    for units in ["us", "si"] {
        let text = format!("firstheat = 1\n[job]\nunits = \"{units}\"\n{empty}");
        let (_, findings) = job::read(&text, &Library::built_in());
        let silent = |kind: &str| ["missing-key", "says-nothing"].contains(&kind);
        assert!(findings.iter().all(|it| silent(it.kind)), "{findings:?}");
    }
}

#[test]
fn every_tube_has_a_longest_loop_in_every_rule_set() {
    let library = Library::built_in();
    for rules in &library.rule_sets {
        for tube in &library.catalogue.tubes {
            assert!(rules.loop_length(&tube.key).is_some(), "{} in {}", tube.key, rules.key);
        }
        for (key, _) in &rules.loop_length {
            assert!(library.catalogue.tube(key).is_some(), "{key} in {}", rules.key);
        }
        assert!(rules.spacings.value.windows(2).all(|pair| pair[0] > pair[1]));
    }
}

#[test]
fn every_tube_fits_its_figures() {
    for tube in Library::built_in().catalogue.tubes {
        let (outside, inside) = (tube.outside.si(), tube.inside.si());
        assert!(inside < 0.85 * outside && inside > 0.65 * outside, "{}", tube.key);
        let bend = tube.bend_radius.si() / outside;
        assert!((4.9..8.1).contains(&bend), "{}: {bend}", tube.key);
    }
}

#[test]
fn a_start_that_cannot_be_read_leaves_no_outline() {
    let job = job("[room.a]\nstart = 5\noutline = \"E 4, N 4, W 4, S 4\"\n");
    assert!(job.rooms[0].outline.is_none());
}
