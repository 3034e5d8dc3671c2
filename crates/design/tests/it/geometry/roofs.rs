//! Slopes, ridges, knee walls and dormers.

use super::*;
use crate::close;
use design::envelope::FaceKind;
use job::{Dormer, Opening, OpeningKind, Slope, Where};

fn slope(key: &str, room: &str, wall: &str, low: f64, pitch: f64) -> Slope {
    Slope {
        key: key.to_owned(),
        place: Place::default(),
        room: words(room),
        wall: Some(words(wall)),
        low: Some(fact(low)),
        pitch: Some(fact(pitch)),
        assembly: None,
    }
}

/// A room all under slopes: no level ceiling.
fn under_slopes(text: &str, slopes: Vec<Slope>) -> Job {
    let mut job = house(text);
    job.rooms[0].height = None;
    job.slopes = slopes;
    job
}

fn window(key: &str, at: Where, width: f64, height: f64) -> Opening {
    Opening {
        key: key.to_owned(),
        place: Place::default(),
        kind: stated_fact(OpeningKind::Window),
        at: Some(stated(at)),
        width: Some(fact(width)),
        height: Some(fact(height)),
        sill: None,
        assembly: None,
    }
}

/// A building of 12 × 8 m, eaves at 4 m, ridge at 7 m, two windows of 1.8 × 0.6 m: walls with
/// gables 181.84 m², roof 120 m², volume 528 m³ (worked example 6: a public homework page, whose
/// figures these are).
#[test]
fn a_ridge_roof() {
    let mut job = under_slopes(
        &block("hall", "lower", [0.0, 0.0, 12.0, 8.0]),
        vec![slope("s", "hall", "south", 4.0, 0.75), slope("n", "hall", "north", 4.0, 0.75)],
    );
    for (key, wall) in [("one", "south"), ("two", "north")] {
        let at = Where::Wall { room: "hall".to_owned(), wall: wall.to_owned(), along: None };
        job.openings.push(window(key, at, 1.8, 0.6));
    }
    let loss = loss(&job);
    assert_eq!(kinds(&loss), [] as [&str; 0]);
    close(outside_wall(&loss, "hall"), 181.84, 1e-9);
    close(area(&loss, "hall", |face| face.kind == FaceKind::Roof), 120.0, 1e-9);
    let hall = room(&loss, "hall");
    close(hall.volume.as_ref().unwrap().si(), 528.0, 1e-9);
    close(hall.height.as_ref().unwrap().si(), 5.5, 1e-9);
    close(keyed(&loss, "hall", "ceiling"), 0.0, 0.0);
}

/// A loft of 10 × 8 m: knee wall 1 m in the south, slope of 1 : 1 up to a level ceiling at 2.5 m
/// under the attic. By hand: slope over 1.5 m × 10 m of plan, 15 √2 m²; ceiling 65 m²; side walls
/// 8 × 2.5 − 1.5²/2 m²; volume 200 − 10 × 1.5²/2 m³.
#[test]
fn a_knee_wall_and_an_attic() {
    let mut job = house(&block("loft", "lower", [0.0, 0.0, 10.0, 8.0]));
    job.slopes = vec![slope("eaves", "loft", "south", 1.0, 1.0)];
    job.rooms[0].above = stated_fact(space("attic"));
    let loss = loss(&job);
    close(keyed(&loss, "loft", "wall south"), 10.0, 1e-9);
    close(keyed(&loss, "loft", "wall east"), 20.0 - 1.125, 1e-9);
    close(keyed(&loss, "loft", "roof eaves"), 15.0 * 2f64.sqrt(), 1e-9);
    let attic = Behind::Space("attic".to_owned());
    close(area(&loss, "loft", |face| face.behind == attic), 65.0, 1e-9);
    close(room(&loss, "loft").volume.as_ref().unwrap().si(), 200.0 - 11.25, 1e-9);
}

/// A dormer 2 m wide with its ceiling at 2.2 m, its front 0.5 m behind the knee wall of 1 m, in a
/// slope of 1 : 1. By hand: its front stands on 1.5 m and is 0.7 m high, its depth 0.7 m; front
/// 1.4 m², cheeks 0.49 m², roof 1.4 m²; it takes 1.4 √2 m² of slope and adds 0.49 m³.
#[test]
fn a_dormer() {
    let mut job = house(&block("loft", "lower", [0.0, 0.0, 10.0, 8.0]));
    job.slopes = vec![slope("eaves", "loft", "south", 1.0, 1.0)];
    let plain = loss(&job);
    job.dormers.push(Dormer {
        key: "bay".to_owned(),
        place: Place::default(),
        slope: words("eaves"),
        width: Some(fact(2.0)),
        height: Some(fact(2.2)),
        set_back: fact(0.5),
        wall: None,
        roof: None,
    });
    job.openings.push(window("look", Where::Dormer("bay".to_owned()), 1.0, 0.5));
    let mut skylight = window("sky", Where::Slope("eaves".to_owned()), 0.5, 0.5);
    skylight.kind = stated_fact(OpeningKind::Skylight);
    job.openings.push(skylight);
    let with = loss(&job);
    assert_eq!(kinds(&with), [] as [&str; 0]);
    close(keyed(&with, "loft", "dormer bay front"), 1.4 - 0.5, 1e-9);
    close(keyed(&with, "loft", "window look"), 0.5, 1e-9);
    close(keyed(&with, "loft", "dormer bay cheeks"), 0.49, 1e-9);
    close(keyed(&with, "loft", "dormer bay roof"), 1.4, 1e-9);
    let roof = keyed(&plain, "loft", "roof eaves") - 1.4 * 2f64.sqrt() - 0.25;
    close(keyed(&with, "loft", "roof eaves"), roof, 1e-9);
    close(keyed(&with, "loft", "skylight sky"), 0.25, 1e-9);
    let volume = |loss: &HeatLoss| room(loss, "loft").volume.as_ref().unwrap().si();
    close(volume(&with) - volume(&plain), 0.49, 1e-9);
    // Where the slope ends under the level ceiling the dormer may not reach.
    job.dormers[0].height = Some(fact(2.8));
    told(&loss(&job), "dormer-misfit", "the slope ends at 1.50 m");
    job.dormers[0].height = Some(fact(1.2));
    told(&loss(&job), "dormer-misfit", "not above its slope");
}

#[test]
fn slopes_that_cannot_be() {
    let text = block("loft", "lower", [0.0, 0.0, 10.0, 8.0]);
    let on = |wall: &str, low, pitch| {
        loss(&under_slopes(&text, vec![slope("s", "loft", wall, low, pitch)]))
    };
    told(&on("attic", 1.0, 1.0), "slope-nowhere", "no wall `attic`");
    told(&on("south", -20.0, 1.0), "ceiling-below-floor", "cannot be told");
    told(&on("south", -1.0, 1.0), "ceiling-below-floor", "over 10.0");
    assert!(loss(&house(&text)).findings.is_empty());
    // A window higher than the wall where it stands, under the low end of a gable.
    let mut job = under_slopes(&text, vec![slope("s", "loft", "south", 1.0, 0.25)]);
    let along = Some(quantity::Length::from_si(7.0));
    let at = Where::Wall { room: "loft".to_owned(), wall: "east".to_owned(), along };
    job.openings.push(window("view", at, 1.0, 1.5));
    told(&loss(&job), "opening-too-tall", "its wall is 1.12 m");
}

/// Two lofts back to back under one ridge share the wall up to it, seen alike from both sides.
#[test]
fn a_wall_under_a_ridge_is_shared() {
    let rooms = [
        block("south", "lower", [0.0, 0.0, 10.0, 4.0]),
        block("north", "lower", [0.0, 4.2, 10.0, 4.0]),
    ];
    let mut job = house(&rooms.concat());
    job.rooms.iter_mut().for_each(|room| room.height = None);
    job.slopes = vec![
        slope("s", "south", "south", 1.0, 0.5),
        slope("n", "north", "north", 2.0, 0.5),
        slope("e", "north", "east", 1.0, 1.0),
    ];
    let loss = loss(&job);
    // South: 3 m high all along. North: 4 m, coming down to 1 m in the last 3 m.
    close(towards(&loss, "south", "north"), 3.0 * 10.0 - 2.0 * 2.0 / 2.0, 1e-9);
    both_sides_alike(&loss);
    // 1 m by 7 m above the southern roof, and half a square metre beside it.
    let over =
        area(&loss, "north", |face| face.key == "wall south" && face.behind == Behind::Outdoors);
    close(over, 7.0 + 0.5, 1e-9);
}
