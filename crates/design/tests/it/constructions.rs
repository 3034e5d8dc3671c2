//! U-values of whole constructions against published ones and against hand calculations.

use crate::{ONE_ROOM, close, job, with};
use design::envelope::Face;
use design::{State, heat_loss};
use job::{AirLayer, Construction, Films, Fixings, Job, Layer, Place, Stated};
use quantity::{Area, AreaResistance, Conductivity, Length, Quantity, Ratio};

fn rated(words: &str, m2k_w: f64, thickness_m: Option<f64>) -> Layer {
    Layer::Rated {
        resistance: AreaResistance::from_si(m2k_w),
        thickness: thickness_m.map(Length::from_si),
        words: words.to_owned(),
    }
}

fn stated<T>(value: T) -> Stated<T> {
    Stated { value, place: Place::default() }
}

/// The plain room with those layers for one of its constructions.
fn made(job: &mut Job, key: &str, layers: Vec<Layer>) {
    let assembly = job.assemblies.iter_mut().find(|assembly| assembly.key == key).unwrap();
    assembly.construction = Some(Construction::Layers(stated(layers)));
}

fn u(job: &Job, face: impl Fn(&Face) -> bool) -> f64 {
    let loss = heat_loss(job, &State::default());
    let face = loss.envelope.enclosures[0].faces.iter().find(|one| face(one)).unwrap();
    face.transmittance.as_ref().unwrap_or_else(|| panic!("{:#?}", loss.findings)).si()
}

fn wall(job: &Job) -> f64 {
    u(job, |face| face.key.starts_with("wall"))
}

/// The timber-framed wall of the Scottish Executive's annex 6.B (2003): R 0.132 brick, 0.090
/// cavity, 0.146 plywood, 3.333 wool or 1.077 stud on 9.5 %, 0.100 board.
fn framed_wall() -> Job {
    let text = format!("{ONE_ROOM}\n[material.stud]\nconductivity = 0.13\n");
    let mut job = job(&text);
    let insulated = Layer::Framed {
        fill: Box::new(rated("wool", 3.333, Some(0.14))),
        frame: "stud".to_owned(),
        share: Ratio::from_si(0.095),
        thickness: Length::from_si(0.14),
    };
    let layers = vec![
        rated("board", 0.100, None),
        insulated,
        rated("plywood", 0.146, None),
        rated("cavity", 0.090, None),
        rated("brick", 0.132, None),
    ];
    made(&mut job, "wall", layers);
    job
}

/// Annex 6.B: RT = 3.474 m²K/W, U = 0.2879 W/m²K; with gaps of level 1 (from memory) 0.2971.
#[test]
fn timber_framed_wall() {
    let mut job = framed_wall();
    close(wall(&job), 0.2879, 0.0002);
    job.assemblies.iter_mut().for_each(|assembly| assembly.gaps.value = 1);
    close(wall(&job), 0.2971, 0.0002);
}

/// By hand: 4 steel fixings on a square metre, 12 mm² each, 50 W/mK, through 140 mm of wool:
/// 0.8 × 50 × 12e-6 × 4 / 0.14 × (3.333 / 3.474)² = 0.01263 W/m²K, above 3 % of 0.2879.
#[test]
fn fixings_through_insulation() {
    let mut job = framed_wall();
    let fact = |si: f64| job::Fact { value: si, origin: job::Origin::Stated(Place::default()) };
    let typed = |si| fact(si).value;
    let fixings = Fixings {
        per_square_metre: job::Fact { value: Ratio::from_si(typed(4.0)), origin: fact(0.0).origin },
        section: job::Fact { value: Area::from_si(12e-6), origin: fact(0.0).origin },
        conductivity: job::Fact { value: Conductivity::from_si(50.0), origin: fact(0.0).origin },
    };
    let bare = wall(&job);
    job.assemblies.iter_mut().for_each(|one| one.fixings = Some(fixings.clone()));
    close(wall(&job) - bare, 0.01263, 0.0001);
    // A quarter of them makes less than three per cent, and is left out.
    let quarter = Fixings {
        section: job::Fact { value: Area::from_si(3e-6), origin: fact(0.0).origin },
        ..fixings
    };
    job.assemblies.iter_mut().for_each(|one| one.fixings = Some(quarter.clone()));
    close(wall(&job), bare, 1e-12);
}

/// Two framed layers make four paths. By hand, with crossed battens of the same stud:
/// shares 0.905², 2 × 0.905 × 0.095, 0.095².
#[test]
fn two_framed_layers_cross() {
    let text = format!("{ONE_ROOM}\n[material.stud]\nconductivity = 0.13\n");
    let mut job = job(&text);
    let framed = |fill: f64, thickness: f64| Layer::Framed {
        fill: Box::new(rated("wool", fill, Some(thickness))),
        frame: "stud".to_owned(),
        share: Ratio::from_si(0.095),
        thickness: Length::from_si(thickness),
    };
    made(&mut job, "wall", vec![rated("board", 0.1, None), framed(3.333, 0.14), framed(1.2, 0.05)]);
    let (first, second) = ([3.333, 0.14 / 0.13], [1.2, 0.05 / 0.13]);
    let shares = [0.905, 0.095];
    let rest = 0.13 + 0.1 + 0.04;
    let mut conductance = 0.0;
    for a in 0..2 {
        for b in 0..2 {
            conductance += shares[a] * shares[b] / (rest + first[a] + second[b]);
        }
    }
    let layer = |r: [f64; 2]| 1.0 / (shares[0] / r[0] + shares[1] / r[1]);
    let total = (1.0 / conductance + rest + layer(first) + layer(second)) / 2.0;
    close(wall(&job), 1.0 / total, 1e-9);
}

/// A metal frame, and limits that lie far apart, ask for a two-dimensional calculation.
#[test]
fn metal_frames_are_told() {
    let text = format!("{ONE_ROOM}\n[material.stud]\nconductivity = 50\n");
    let mut job = job(&text);
    let framed = Layer::Framed {
        fill: Box::new(rated("wool", 2.5, Some(0.09))),
        frame: "stud".to_owned(),
        share: Ratio::from_si(0.005),
        thickness: Length::from_si(0.09),
    };
    made(&mut job, "wall", vec![rated("board", 0.1, None), framed]);
    let loss = heat_loss(&job, &State::default());
    let told = loss.findings.iter().find(|finding| finding.kind == "two-dimensional").unwrap();
    assert!(told.message.contains("bridges its insulation"), "{told:?}");
    let plain = heat_loss(&framed_wall(), &State::default());
    assert!(plain.findings.iter().all(|finding| finding.kind != "two-dimensional"));
}

/// Air layers by direction and movement (ISO 6946:2007 table 2, from memory): 25 mm across 0.18;
/// slightly ventilated half of it, and what lies outward no more than 0.15; well ventilated, what lies
/// outward is nothing and the outer film is an inside one.
#[test]
fn air_layers() {
    let job = job(ONE_ROOM);
    let air = |moves| Layer::Air { thickness: Length::from_si(0.025), moves };
    let with_air = |moves| {
        let mut job = job.clone();
        let layers = vec![rated("wool", 2.0, None), air(moves), rated("brick", 0.5, None)];
        made(&mut job, "wall", layers);
        wall(&job)
    };
    close(1.0 / with_air(AirLayer::Still), 0.13 + 2.0 + 0.18 + 0.5 + 0.04, 1e-9);
    close(1.0 / with_air(AirLayer::Slight), 0.13 + 2.0 + 0.09 + 0.15 + 0.04, 1e-9);
    close(1.0 / with_air(AirLayer::Open), 0.13 + 2.0 + 0.13, 1e-9);
}

/// Films by the rule set: ASHRAE winter 0.68 + 0.17 h·ft²·°F/Btu for a wall, 0.61 + 0.17 upward.
#[test]
fn films_by_rule() {
    let mut job = job(ONE_ROOM);
    job.rules.films.value = Films::Ashrae;
    made(&mut job, "wall", vec![rated("wool", 2.0, None)]);
    made(&mut job, "ceiling", vec![rated("wool", 2.0, None)]);
    let imperial = 0.1761101838;
    close(1.0 / wall(&job), 2.0 + (0.68 + 0.17) * imperial, 1e-6);
    let ceiling = u(&job, |face| face.key == "ceiling");
    close(1.0 / ceiling, 2.0 + (0.61 + 0.17) * imperial, 1e-6);
}

/// A frame that takes more than all of a layer, and seven framed layers, are told.
#[test]
fn what_cannot_be_told() {
    let framed = |share: f64| Layer::Framed {
        fill: Box::new(rated("wool", 1.0, Some(0.1))),
        frame: "softwood".to_owned(),
        share: Ratio::from_si(share),
        thickness: Length::from_si(0.1),
    };
    let told = |layers: Vec<Layer>, words: &str| {
        let mut job = job(ONE_ROOM);
        made(&mut job, "wall", layers);
        let loss = heat_loss(&job, &State::default());
        let found = loss.findings.iter().any(|finding| finding.message.contains(words));
        assert!(found, "no `{words}` in {:#?}", loss.findings);
    };
    told(vec![framed(1.2)], "between nothing and all");
    told(vec![framed(0.1); 7], "7 framed layers");
    let open = Layer::Air { thickness: Length::from_si(0.05), moves: AirLayer::Open };
    told(vec![open, framed(0.1)], "nothing lies inward");
}

/// The allowance for thermal bridges adds to faces to outdoors, not to the ground.
#[test]
fn thermal_bridges() {
    let mut job = job(&with(ONE_ROOM, "finish = \"tile\"", "finish = \"tile\"\nheated = false"));
    let bare = heat_loss(&job, &State::default());
    job.rules.thermal_bridges.value = Quantity::from_si(0.1);
    let bridged = heat_loss(&job, &State::default());
    let (bare, bridged) = (&bare.loads.rooms[0].heat, &bridged.loads.rooms[0].heat);
    // Walls, window and ceiling: 42.5 + 2.5 + 20 m² at 30 K.
    close(bridged.outdoors.si() - bare.outdoors.si(), 0.1 * 65.0 * 30.0, 1e-9);
    close(bridged.ground.si(), bare.ground.si(), 0.0);
}
