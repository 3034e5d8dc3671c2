//! Loss to the ground by the rule set's one method.

use crate::{ONE_ROOM, close, job, with};
use design::envelope::{Behind, FaceKind};
use design::{State, heat_loss};
use job::{GroundMethod, Job};
use quantity::{Quantity, Temperature};

const F: f64 = 1.730_734_666;

fn us(job: &mut Job) {
    job.rules.ground_method.value = GroundMethod::EdgeFactor;
}

fn unheated_floor() -> String {
    with(ONE_ROOM, "finish = \"tile\"", "finish = \"tile\"\nheated = false")
}

/// Loss by the edge alone: 18 m, the bare slab 0.73 Btu/h·ft·°F (WAC 51-11C-61061), 30 K.
#[test]
fn bare_slab_by_its_edge() {
    let mut job = job(&unheated_floor());
    us(&mut job);
    let loss = heat_loss(&job, &State::default());
    close(loss.loads.rooms[0].heat.ground.si(), 0.73 * F * 18.0 * 30.0, 0.5);
    let floor = &loss.envelope.enclosures[0].faces.iter().find(|face| face.key == "floor").unwrap();
    assert!(floor.transmittance.is_none() && floor.edge_loss.is_some());
}

/// The best entry no better than what is there: R-10 down 2 ft, R-12 down 3 ft, R-10 down 4 ft.
#[test]
fn factor_by_what_insulation_is_there() {
    let factor = |edge: &str| {
        let text = with(&unheated_floor(), "EPS 100 mm\"]", &format!("EPS 10 mm\"]\n{edge}"));
        let mut job = job(&text);
        us(&mut job);
        let loss = heat_loss(&job, &State::default());
        loss.envelope.enclosures[0]
            .faces
            .iter()
            .find(|face| face.key == "floor")
            .unwrap()
            .edge_loss
            .as_ref()
            .unwrap_or_else(|| panic!("{:#?}", loss.findings))
            .si()
            / 18.0
            / F
    };
    close(factor("edge = \"R-10\"\nedge_depth = \"2 ft\""), 0.54, 1e-3);
    close(factor("edge = \"R-12\"\nedge_depth = \"3 ft\""), 0.54, 1e-3);
    close(factor("edge = \"R-10\"\nedge_depth = \"4 ft\""), 0.48, 1e-3);
    close(factor("edge = \"R-15\"\nedge_width = \"4 ft\""), 0.63, 1e-3);
    close(factor(""), 0.73, 1e-3);
}

/// Of a heated slab only the part without tube stays with the room; the factor is that of heated
/// slabs, R-10 below and at the edge: 0.55.
#[test]
fn heated_slab_keeps_what_has_no_tube() {
    let keep_out = "\n[keep_out.island]\nroom = \"only\"\noutline = [[1,1],[3,1],[3,2],[1,2]]\n";
    let text = format!("{ONE_ROOM}{keep_out}");
    let text =
        with(&text, "EPS 100 mm\"]", "EPS 100 mm\"]\nedge = \"R-10\"\nedge_depth = \"2 ft\"");
    let mut job = job(&text);
    us(&mut job);
    let loss = heat_loss(&job, &State::default());
    let available = loss.loads.rooms[0].available.as_ref().unwrap().si();
    let share = 1.0 - available / 20.0;
    assert!(share > 0.05 && share < 0.5, "{share}");
    close(loss.loads.rooms[0].heat.ground.si(), share * 0.55 * F * 18.0 * 30.0, 0.1);
}

/// Horizontal strips: the better of strip down and strip along holds, never both (ISO 13370).
#[test]
fn horizontal_and_vertical_edge_insulation() {
    let ground = |edge: &str| {
        let text = with(&unheated_floor(), "EPS 100 mm\"]", &format!("EPS 20 mm\"]\n{edge}"));
        heat_loss(&job(&text), &State::default()).loads.rooms[0].heat.ground.si()
    };
    let bare = ground("");
    let down = ground("edge = 2\nedge_depth = 0.6");
    let along = ground("edge = 2\nedge_width = 1.2");
    let both = ground("edge = 2\nedge_depth = 0.6\nedge_width = 1.2");
    // Down counts twice, so 0.6 m down is as good as 1.2 m along.
    close(down, along, 1e-9);
    close(both, down, 0.0);
    assert!(down < bare);
}

/// The mean of the year governs by ISO 13370, the outdoor temperature by edge factor.
#[test]
fn what_the_ground_follows() {
    let at = |job: &Job, celsius: f64| {
        let outdoor = Some(Temperature::from_si(celsius + 273.15));
        heat_loss(job, &State { outdoor }).loads.rooms[0].heat.ground.si()
    };
    let mut job = job(&unheated_floor());
    close(at(&job, -10.0), at(&job, 5.0), 1e-9);
    us(&mut job);
    close(at(&job, -10.0), 2.0 * at(&job, 5.0), 1e-9);
}

/// No face of the plain room but its floor looks into the ground.
#[test]
fn only_the_floor_stands_on_the_ground() {
    let loss = heat_loss(&job(ONE_ROOM), &State::default());
    let faces = &loss.envelope.enclosures[0].faces;
    let in_ground = faces.iter().filter(|face| face.behind == Behind::Ground);
    assert!(in_ground.map(|face| face.kind).eq([FaceKind::Floor]));
}

/// A room 2 m down in the ground all round, its floor and walls by the rule set's method.
fn deep(edge_factor: bool) -> (Job, String) {
    let text = with(&unheated_floor(), "height = 2.5", "height = 2.5\nground = 2.0");
    let text = with(&text, "width = 2\nheight = 1.25", "width = 2\nheight = 0.3\nsill = 2.1");
    let text = with(&text, "annual_mean = 8", "annual_mean = 8\nground_swing = 9");
    let mut job = job(&text);
    if edge_factor {
        us(&mut job);
    }
    (job, text)
}

/// By hand after ASHRAE's below-grade averages, k = 2 W/mK, R with inside films by ISO:
/// wall 2k/(π z) ln((z + w)/w) with w = 2kR/π; floor 2k/(π b) ln((b/2 + z/2 + w')/(z/2 + w')) with
/// w' = kR/π and b the shorter side, 4 m; to the ground's surface in winter, 8 − 9 = −1 °C.
#[test]
fn basement_by_below_grade_averages() {
    let (job, _) = deep(true);
    let loss = heat_loss(&job, &State::default());
    let faces = &loss.envelope.enclosures[0].faces;
    let in_ground =
        |kind| faces.iter().filter(move |f| f.behind == Behind::Ground && f.kind == kind);
    let (k, z, pi) = (2.0, 2.0, std::f64::consts::PI);
    // The wall is rated 0.3 W/m²K with films: 1/0.3 − 0.17 of layers, and 0.13 inside.
    let w = 2.0 * k * (1.0 / 0.3 - 0.04) / pi;
    let by_hand = 2.0 * k / (pi * z) * ((z + w) / w).ln();
    let walls_m2: f64 = in_ground(FaceKind::Wall).map(|face| face.area.si()).sum();
    close(walls_m2, 36.0, 1e-6);
    for wall in in_ground(FaceKind::Wall) {
        close(wall.transmittance.as_ref().unwrap().si(), by_hand, 1e-9);
    }
    let floor = in_ground(FaceKind::Floor).next().unwrap();
    let catalogue = job::Library::built_in().catalogue;
    let conductivity = |key: &str| catalogue.material(key).unwrap().conductivity.si();
    let layers = 0.065 / conductivity("cement-screed") + 0.1 / conductivity("eps");
    let base = z / 2.0 + k * (layers + 0.17) / pi;
    let u = 2.0 * k / (pi * 4.0) * ((2.0 + base) / base).ln();
    close(floor.transmittance.as_ref().unwrap().si(), u, 1e-9);
    let watts = (walls_m2 * by_hand + 20.0 * u) * 21.0;
    close(loss.loads.rooms[0].heat.ground.si(), watts, 1e-6);
    assert!(loss.findings.iter().all(|finding| finding.kind != "no-ground-swing"));
}

/// By ISO 13370 the same room loses by its floor at depth and its walls, to the mean of the year:
/// Hg = A Ubf + z P Ubw, times 1.45 (EN 12831). The law's own checks hold its U-values.
#[test]
fn basement_by_the_standard() {
    let (job, _) = deep(false);
    let loss = heat_loss(&job, &State::default());
    let catalogue = job::Library::built_in().catalogue;
    let conductivity = |key: &str| catalogue.material(key).unwrap().conductivity.si();
    let layers = 0.065 / conductivity("cement-screed") + 0.1 / conductivity("eps");
    let dt = 0.15 + 2.0 * (0.17 + layers + 0.04);
    let dw = 2.0 / 0.3;
    let floor = laws::ground::heated_basement_floor_transmittance(20.0 / 9.0, dt, 2.0, 2.0);
    let wall = laws::ground::heated_basement_wall_transmittance(dt, dw, 2.0, 2.0);
    let h = laws::ground::basement_loss_coefficient(20.0, floor, 2.0, 18.0, wall);
    close(loss.loads.rooms[0].heat.ground.si(), 1.45 * h * 12.0, 1e-6);
}

/// A floor 0.5 m down still counts as a slab at grade by edge factor; 0.7 m down it does not.
#[test]
fn where_a_slab_at_grade_ends() {
    let by_edge = |ground: f64| {
        let text =
            with(&unheated_floor(), "height = 2.5", &format!("height = 2.5\nground = {ground}"));
        let mut job = job(&text);
        us(&mut job);
        let loss = heat_loss(&job, &State::default());
        let faces = &loss.envelope.enclosures[0].faces;
        faces.iter().find(|face| face.kind == FaceKind::Floor).unwrap().edge_loss.is_some()
    };
    assert!(by_edge(0.5) && !by_edge(0.7));
}
