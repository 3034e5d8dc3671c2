//! What the tables of a whole house mean.

use job::{
    AirLayer, Carrier, Construction, EmitterKind, Faces, Job, Layer, Library, OpeningKind, Origin,
    PartKind, SpaceKind, Where,
};
use quantity::Quantity;

const FOOT: f64 = 0.3048;
const INCH: f64 = 0.0254;

fn job(text: &str) -> Job {
    job::read(text, &Library::built_in()).0
}

#[track_caller]
fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-6 * expected.abs().max(1.0), "{found}, not {expected}");
}

fn layers(text: &str) -> Vec<Layer> {
    let job = job(&format!("[assembly.a]\nlayers = [{text}]\n"));
    match job.assemblies.into_iter().next().and_then(|it| it.construction) {
        Some(Construction::Layers(layers)) => layers.value,
        _ => panic!("{text} is not read"),
    }
}

#[test]
fn air_layers_say_how_the_air_moves() {
    let found = layers(
        "\"air 25 mm\", \"still air 1 in\", \"slightly ventilated air 2\", \"40 mm ventilated air\"",
    );
    let expected = [
        (0.025, AirLayer::Still),
        (INCH, AirLayer::Still),
        (2.0 * INCH, AirLayer::Slight),
        (0.040, AirLayer::Open),
    ];
    for (layer, (metres, how)) in found.iter().zip(expected) {
        let Layer::Air { thickness, moves } = layer else { panic!("{layer:?}") };
        near(thickness.si(), metres);
        assert_eq!(*moves, how);
    }
    assert!(matches!(layers("\"R-1 air\"").as_slice(), [Layer::Rated { thickness: None, .. }]));
}

#[test]
fn a_frame_takes_its_share_of_a_layer() {
    let found = layers(
        "\"R-19 batt 5.5 in between softwood 23 %\", \"mineral wool 140 mm between softwood 15%\", \
         \"air 3.5 in between softwood 15 %\", \"R-10 2 in\"",
    );
    let [Layer::Framed { fill, frame, share, thickness }, wool, air, rated] = found.as_slice()
    else {
        panic!("{found:?}")
    };
    assert!(matches!(&**fill, Layer::Rated { resistance, thickness: Some(_), .. }
        if (resistance.si() - 19.0 * 0.176_110).abs() < 1e-4));
    assert_eq!(frame, "softwood");
    near(share.si(), 0.23);
    near(thickness.si(), 5.5 * INCH);
    assert!(matches!(wool, Layer::Framed { fill, .. }
        if matches!(&**fill, Layer::Material { material, .. } if material == "mineral-wool")));
    assert!(matches!(air, Layer::Framed { fill, .. }
        if matches!(&**fill, Layer::Air { moves: AirLayer::Still, .. })));
    near(rated.thickness().unwrap().si(), 2.0 * INCH);
}

#[test]
fn pitches_are_rise_over_run() {
    let pitch = |text: &str| {
        let job = job(&format!("[room.r]\n[slope.s]\nroom = \"r\"\npitch = \"{text}\"\n"));
        job.slopes.first().and_then(|slope| slope.pitch.as_ref()).map(|it| it.value.si())
    };
    for text in ["8:12", "8/12", "8 in 12", "66.6666667 %", "33.690068 deg"] {
        near(pitch(text).unwrap(), 8.0 / 12.0);
    }
    assert_eq!(pitch("34"), None);
}

#[test]
fn far_sides_lead_to_rooms_before_spaces() {
    let text = "[room.a]\nabove = \"loft\"\nbelow = \"both\"\n[room.b]\nabove = \"next house\"\n\
                below = \"space.both\"\n[room.both]\n[space.both]\n[space.loft]\nkind = \"garage\"\n";
    let job = job(text);
    assert_eq!(job.rooms[0].above.value, Faces::Space("loft".to_owned()));
    assert_eq!(job.rooms[0].below.value, Faces::Room("both".to_owned()));
    assert_eq!(job.rooms[1].above.value, Faces::NextHouse);
    assert_eq!(job.rooms[1].below.value, Faces::Space("both".to_owned()));
    assert_eq!(job.space("loft").unwrap().kind.value, SpaceKind::Garage);
    assert_eq!(job.space("both").unwrap().kind.value, SpaceKind::Attic);
}

#[test]
fn openings_sit_in_walls_slopes_ceilings_and_dormers() {
    let text = "[room.r]\n[slope.s]\nroom = \"r\"\n[dormer.d]\nslope = \"s\"\n[opening.a]\n\
                slope = \"s\"\n[opening.b]\ndormer = \"d\"\n[opening.c]\nkind = \"skylight\"\n\
                room = \"r\"\n[opening.d]\nroom = \"r\"\nwall = \"N\"\n";
    let job = job(text);
    let at = |number: usize| job.openings[number].at.as_ref().map(|at| at.value.clone());
    assert_eq!(at(0), Some(Where::Slope("s".to_owned())));
    assert_eq!(job.openings[0].kind.value, OpeningKind::Skylight);
    assert_eq!(at(1), Some(Where::Dormer("d".to_owned())));
    assert_eq!(job.openings[1].kind.value, OpeningKind::Window);
    assert_eq!(at(2), Some(Where::Ceiling("r".to_owned())));
    assert!(matches!(at(3), Some(Where::Wall { wall, .. }) if wall == "north"));
}

#[test]
fn marks_say_how_a_fact_is_known() {
    let text = "[room.a]\narea = 100\nheight = 8\nindoor = 70\nmeasured = [\"area\"]\n\
                assumed = \"height\"\n";
    let room = &job(text).rooms[0];
    assert!(matches!(room.area.as_ref().unwrap().origin, Origin::Measured(_)));
    assert!(matches!(room.height.as_ref().unwrap().origin, Origin::Supposed(_)));
    assert!(matches!(room.indoor.origin, Origin::Stated(_)));
}

#[test]
fn an_unheated_room_has_no_heated_floor() {
    let job =
        job("[room.a]\nunheated = true\n[room.b]\n[room.c]\nunheated = true\nheated = true\n");
    let heated: Vec<bool> = job.rooms.iter().map(|room| room.heated.value).collect();
    assert_eq!(heated, [false, true, false]);
}

#[test]
fn emitters_have_the_rating_of_their_kind() {
    let text = "[room.r]\n[emitter.a]\nkind = \"convector\"\n[emitter.b]\nkind = \"wall panel\"\n";
    let us = job(text);
    let si = job(&format!("[job]\nunits = \"si\"\n{text}"));
    assert_eq!(us.emitters[0].kind.value, EmitterKind::Convector);
    near(us.emitters[0].exponent.value.si(), 1.35);
    near(us.emitters[1].exponent.value.si(), 1.1);
    near(us.emitters[0].rated_supply.value.si(), (180.0 + 459.67) / 1.8);
    // 75/65/20 °C: EN 442, from memory.
    let rating = |it: &job::Emitter| {
        [it.rated_supply.value, it.rated_return.value, it.rated_room.value].map(|t| t.si() - 273.15)
    };
    for (found, expected) in rating(&si.emitters[0]).into_iter().zip([75.0, 65.0, 20.0]) {
        near(found, expected);
    }
}

#[test]
fn the_job_has_materials_of_its_own() {
    let text = "[assembly.a]\nlayers = [\"my panel 1 in\"]\n[material.panel]\nname = \"my panel\"\n\
                conductivity = \"0.2 W/mK\"\ndensity = \"600 kg/m³\"\ncarrier = \"board\"\n\
                [material.brick]\nconductivity = \"9 W/mK\"\n";
    let job = job(text);
    let panel = job.catalogue.material("panel").unwrap();
    near(panel.conductivity.si(), 0.2);
    near(panel.density.unwrap().si(), 600.0);
    assert_eq!((panel.carrier, panel.source.as_str()), (Carrier::Board, "the job"));
    assert!(job.assemblies[0].construction.is_some());
    near(job.catalogue.material("brick").unwrap().conductivity.si(), 0.77);
}

#[test]
fn a_carrier_has_a_sheet_of_its_own() {
    let job = job("[material.panel]\nconductivity = \"0.2 W/mK\"\ncarrier = \"plates\"\n\
                   sheet = \"0.02 in\"\nsheet_width = \"5 in\"\ngrooves = \"8 in\"\n\
                   [material.hung]\nconductivity = \"0.2 W/mK\"\ncarrier = \"bare\"\n");
    let panel = job.catalogue.material("panel").unwrap();
    let sheet = panel.sheet.unwrap();
    near(sheet.thickness.si(), 0.02 * 0.0254);
    near(sheet.width.unwrap().si(), 5.0 * 0.0254);
    near(sheet.conductivity.si(), 160.0);
    near(sheet.contact.si(), 0.01);
    near(panel.grooves.unwrap().si(), 8.0 * 0.0254);
    let hung = job.catalogue.material("hung").unwrap();
    assert_eq!((hung.carrier, hung.sheet, hung.grooves), (Carrier::Bare, None, None));
}

#[test]
fn a_contact_without_a_sheet_is_told() {
    let text = "[material.panel]\nconductivity = \"0.2 W/mK\"\ncontact = \"0.02 m²K/W\"\n";
    let (_, findings) = job::read(text, &Library::built_in());
    let told = findings.iter().find(|it| it.subject == "material.panel.sheet").unwrap();
    assert_eq!(
        (told.kind, told.place.unwrap().start),
        ("says-nothing", text.find("\"0.02").unwrap())
    );
}

#[test]
fn plates_of_the_catalogue_have_metal_and_boards_have_grooves() {
    for material in Library::built_in().catalogue.materials {
        let sheet = material.sheet.as_ref();
        match material.carrier {
            Carrier::Plates => assert!(sheet.is_some_and(|sheet| sheet.width.is_some())),
            Carrier::Board => assert!(material.grooves.is_some(), "{}", material.key),
            Carrier::Screed | Carrier::Bare => {
                assert!(sheet.is_none() && material.grooves.is_none())
            }
        }
        let Some(sheet) = sheet else { continue };
        assert!((1e-4..4e-3).contains(&sheet.thickness.si()), "{}", material.key);
        assert!((0.0..=0.05).contains(&sheet.contact.si()), "{}", material.key);
        assert!(material.conductivity.si() < 1.0, "{}: that of the rest", material.key);
    }
}

#[test]
fn a_job_sets_a_limit_otherwise_and_says_why() {
    let text = "[rule.floor_wood]\nvalue = \"85 F\"\nwhy = \"the sheet says so\"\n\
                [rule.\"loop_length.pex-1/2\"]\nvalue = \"330 ft\"\nwhy = \"a larger pump\"\n\
                [rule.dimensions]\nvalue = \"outside\"\nwhy = \"to compare\"\n\
                [rule.floor_bath]\nvalue = \"95 F\"\n";
    let rules = job(text).rules;
    near(rules.floor_wood.si(), (85.0 + 459.67) / 1.8);
    assert_eq!(rules.floor_wood.citation(), "the job: the sheet says so");
    near(rules.loop_length("pex-1/2").unwrap().si(), 330.0 * FOOT);
    near(rules.floor_bath.si(), (90.0 + 459.67) / 1.8);
    let [wood, tube, dimensions] = rules.overrides.as_slice() else { panic!() };
    assert_eq!(
        (wood.rule.as_str(), wood.was.as_str(), wood.now.as_str()),
        ("floor_wood", "80.0 °F", "85.0 °F")
    );
    assert_eq!(wood.citation, "wood flooring installation guideline, 2019");
    assert_eq!(tube.why, "a larger pump");
    assert_eq!((dimensions.was.as_str(), dimensions.now.as_str()), ("inside", "outside"));
}

#[test]
fn tables_that_lean_on_each_other_fall_together() {
    let text = "[slope.s]\nroom = \"lost\"\n[dormer.d]\nslope = \"s\"\n[opening.o]\ndormer = \"d\"\n\
                [grade.g]\nroom = \"lost\"\n[zone_part.z]\nzone = \"lost\"\n[void.v]\n";
    let job = job(text);
    assert!(job.slopes.is_empty() && job.dormers.is_empty() && job.grades.is_empty());
    assert!(job.openings[0].at.is_none() && job.zone_parts.is_empty() && job.voids.is_empty());
}

#[test]
fn plant_is_kept_for_later() {
    let text = "[part.b]\nkind = \"heat source\"\noutput = \"80,000 Btu/h\"\n[main.m]\nfrom = \"b\"\n\
                length = 24\n[framing.f]\nspacing = 16\n[storey.s]\nframing = \"f\"\n[room.r]\n\
                rugs = 30\n[fan.f]\nflow = 50\n";
    let job = job(text);
    assert_eq!(job.parts[0].kind.as_ref().unwrap().value, PartKind::HeatSource);
    near(job.mains[0].length.as_ref().unwrap().value.si(), 24.0 * FOOT);
    near(job.framings[0].spacing.as_ref().unwrap().value.si(), 16.0 * INCH);
    assert_eq!(job.rooms[0].framing.as_ref().unwrap().value, "f");
    near(job.rooms[0].rugs.as_ref().unwrap().share.value.si(), 0.30);
    near(job.fans[0].flow.as_ref().unwrap().value.si(), 50.0 * FOOT.powi(3) / 60.0);
    assert!(job.fuel.is_none());
}

#[test]
fn coils_and_loops_as_laid_are_read() {
    let job = job("[heating]\nlaying_order = [\"den/2\"]\n[coil.shop]\nlength = 500\n\
                   [coil.rest]\ntube = \"pex-1/2\"\nstart = 212\nend = 12\non_hand = 1\n\
                   [laid.\"den/2\"]\nstart = \"212 ft\"\nend = \"70 m\"\nassumed = \"end\"\n\
                   coil = \"rest\"\n[laid.\"den/1\"]\nstart = 5\n");
    let [shop, rest] = job.coils.as_slice() else { panic!("{:?}", job.coils) };
    near(shop.length.as_ref().unwrap().value.si(), 500.0 * FOOT);
    near(shop.start.value.si(), 0.0);
    assert!(matches!(shop.start.origin, Origin::Assumed(_)) && shop.on_hand.is_none());
    near(rest.end.as_ref().unwrap().value.si(), 12.0 * FOOT);
    assert_eq!(rest.on_hand.as_ref().unwrap().value, 1);
    // A loop with one mark only has no length, and is told instead.
    let [laid] = job.laid.as_slice() else { panic!("{:?}", job.laid) };
    near(laid.start.value.si(), 212.0 * FOOT);
    near(laid.end.value.si(), 70.0);
    assert!(matches!(laid.start.origin, Origin::Measured(_)));
    assert!(matches!(laid.end.origin, Origin::Supposed(_)));
    assert_eq!(job.heating.laying_order[0].value, "den/2");
}

#[test]
fn what_is_held_of_loops_is_read() {
    let job = job("[job]\nunits = \"si\"\n[room.den]\nentry = \"hatch\"\nentry_at = [1, 2]\n\
                   [room.nook]\nshares_loop = \"den\"\n[manifold.m1]\norder = [\"den/2\", \"den/1\"]\n\
                   [loop.\"den/2\"]\nstart = [1, 0]\noutline = \"E 2, N 1, W 2, S 1\"\n\
                   [loop.\"den/1\"]\nway = [[0, 0], [0, 2], [\"1 ft\", 2]]\n[loop.\"den/3\"]\nway = \"auto\"\n");
    let [den, nook] = job.rooms.as_slice() else { panic!("{:?}", job.rooms) };
    assert_eq!(den.entry.held().unwrap().value, "hatch");
    assert_eq!(den.entry_at.held().unwrap().value, plane::Point::new(1.0, 2.0));
    assert_eq!(nook.shares_loop.held().unwrap().value, "den");
    let order: Vec<&str> = job.manifolds[0].order.iter().map(|key| key.value.as_str()).collect();
    assert_eq!(order, ["den/2", "den/1"]);
    let [apart, drawn, open] = job.held_loops.as_slice() else { panic!("{:?}", job.held_loops) };
    assert_eq!(apart.named(), Some(("den", 2)));
    let corners = &apart.outline.as_ref().unwrap().corners;
    assert_eq!(corners[..2], [plane::Point::new(1.0, 0.0), plane::Point::new(3.0, 0.0)]);
    let way = &drawn.way.held().unwrap().value;
    assert_eq!(way.len(), 3);
    near(way[2].x, FOOT);
    assert!(open.way.held().is_none() && open.outline.is_none());
    assert_eq!(job::loop_name("den"), None);
    assert_eq!(job::loop_name("den/0"), None);
}

#[test]
fn rule_sets_hold_tables_of_factors() {
    for rules in Library::built_in().rule_sets {
        // WAC 51-11C-61061 table A106.1: a heated slab over R-10, 0.55 Btu/h·ft·°F.
        let heated = rules
            .edge_factors
            .iter()
            .find(|it| it.heated && it.kind == job::EdgeKind::Full && it.resistance.si() > 1.7);
        near(heated.unwrap().factor.si(), 0.55 * 1.730_735);
        // EN 12831:2003 table D.4: an insulated attic, 0.7; from memory.
        let attic = rules
            .space_factors
            .iter()
            .find(|it| it.kind == SpaceKind::Attic && it.insulated == Some(true));
        near(attic.unwrap().factor.si(), 0.7);
        let ages: Vec<u32> = rules.usual_losses.iter().map(|it| it.until).collect();
        assert_eq!(ages, [1920, 1950, 1978, 1995, 2010, 2100]);
        assert!(rules.usual_losses.iter().all(|it| it.least.value < it.most.value));
    }
}

#[test]
fn rule_sets_say_what_holes_joists_take() {
    let library = Library::built_in();
    let holes = |set: &str, kind| {
        let rules = library.rule_sets.iter().find(|rules| rules.key == set).unwrap();
        rules.joist_holes(kind).unwrap().limits.clone()
    };
    // IRC R502.8.1: a third of the depth, 2 in from the edges and from other holes.
    let american = holes("us-residential", job::JoistKind::Sawn);
    assert!(american.citation().contains("R502.8.1"));
    let limits = american.value.unwrap();
    near(limits.depths.si(), 3.0);
    near(limits.edge.unwrap().si(), 2.0 * FOOT / 12.0);
    near(limits.apart.unwrap().si(), 2.0 * FOOT / 12.0);
    assert_eq!((limits.span_from, limits.mid_depth), (None, false));
    // British practice: a quarter, 65 mm at most, 0.25 to 0.4 of the span, three diameters apart.
    let british = holes("eu", job::JoistKind::Sawn).value.unwrap();
    near(british.depths.si(), 4.0);
    near(british.most.unwrap().si(), 0.065);
    near(british.span_from.unwrap().si(), 0.25);
    near(british.span_to.unwrap().si(), 0.4);
    assert!(british.mid_depth);
    for set in ["us-residential", "eu"] {
        for kind in [job::JoistKind::IJoist, job::JoistKind::OpenWeb] {
            assert_eq!(holes(set, kind).value, None, "{set}: only the maker's chart tells");
        }
    }
}
