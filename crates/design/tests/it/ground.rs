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
