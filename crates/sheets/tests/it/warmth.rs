//! The paper of floor temperatures, from floors made by hand.

use crate::{CABIN, read};
use design::warmth::{LoopWarmth, RoomWarmth, Spot, StoreyWarmth, Warmth};
use design::{Figure, How};
use plane::Point;
use plane::beside::raster::Grid;
use quantity::{Quantity, System};
use sheets::{Block, Drawing, Seen, Shape, Sheet, Squares, svg, text, warm_sheet};

fn figure<Q: Quantity>(name: &str, si: f64) -> Figure<Q> {
    Figure::new(name, si, How::Decided("made by hand".to_owned()))
}

/// The great room's floor from 20 °C at the left to 30 °C at the right, its last column unknown.
fn made() -> Warmth {
    let grid = Grid { low: Point::new(0.0, 0.0), step_m: 0.5, columns: 12, rows: 4 };
    let square = |cell: usize| {
        let column = cell % grid.columns;
        (column < 11).then_some(293.15 + column as f32)
    };
    let spot =
        |x: f64, kelvin: f64| Spot { at: Point::new(x, 1.0), surface: figure("spot", kelvin) };
    let room = RoomWarmth {
        room: "great".to_owned(),
        known: figure("known", 11.0),
        hottest: spot(5.25, 303.15),
        coolest: spot(0.25, 293.15),
        mean: figure("mean", 298.15),
        swing: Some(figure("swing", 1.5)),
        limit: figure("limit", 300.15),
        over: figure("over", 3.0),
        heat: figure("heat", 500.0),
        balanced: None,
    };
    let own = LoopWarmth {
        key: "great/1".to_owned(),
        supply: figure("supply", 313.15),
        back: figure("return", 306.15),
        balanced_back: figure("return", 305.15),
        heat: figure("heat", 900.0),
        balanced_heat: figure("heat", 1000.0),
        difference: figure("difference", -0.1),
    };
    Warmth {
        outdoor: figure("outdoor", 252.6),
        waters: Vec::new(),
        assumption: "as made by hand".to_owned(),
        storeys: vec![StoreyWarmth {
            storey: Some("main".to_owned()),
            grid,
            surface_k: (0..grid.len()).map(square).collect(),
            over: vec![vec![Point::new(3.5, 0.0), Point::new(3.5, 2.0)]],
        }],
        rooms: vec![room],
        loops: vec![own],
        unbalanced: 0.0,
    }
}

fn sheet(warmth: &Warmth) -> Sheet {
    let (job, design, _) = read(CABIN);
    warm_sheet(&job, &design, CABIN, &[Seen { name: "warmth", warmth }])
}

fn squares(drawing: &Drawing) -> &Squares {
    let found = drawing.marks.iter().find_map(|mark| match &mark.shape {
        Shape::Squares(squares) => Some(squares),
        _ => None,
    });
    found.expect("a picture")
}

#[test]
fn warmer_floor_has_a_later_colour_and_unknown_floor_none() {
    let sheet = sheet(&made());
    let drawing = sheet.drawings().next().expect("a picture");
    let squares = squares(drawing);
    let row = &squares.colours[..12];
    assert!(row[..11].is_sorted_by(|a, b| a < b), "{row:?}");
    assert_eq!((row[0], row[11]), (1, 0));
    assert_eq!(usize::from(row[10]), squares.palette.len());
    assert_eq!(squares.bounds_m, [Point::new(0.0, 0.0), Point::new(6.0, 2.0)]);
}

#[test]
fn both_systems_stand_at_spots_scale_and_words() {
    let sheet = sheet(&made());
    let drawing = sheet.drawings().next().expect("a picture");
    let words: Vec<&str> = drawing
        .marks
        .iter()
        .filter_map(|mark| match &mark.shape {
            Shape::Words { words, .. } => Some(words.as_str()),
            _ => None,
        })
        .collect();
    for expected in ["hottest 86.0 °F · 30.0 °C", "coolest 68.0 °F · 20.0 °C", "70 °F", "26 °C"]
    {
        assert!(words.contains(&expected), "{expected} in {words:?}");
    }
    assert!(drawing.words.contains("hottest 86.0 °F · 30.0 °C"), "{}", drawing.words);
    assert!(drawing.words.contains("hotter than the 80.6 °F"), "{}", drawing.words);
    assert!(drawing.marks.iter().any(|mark| mark.class == "over"));
    let [low, high] = drawing.bounds_m;
    for mark in &drawing.marks {
        if let Shape::Words { at, .. } = &mark.shape {
            assert!((low.y..=high.y).contains(&at.y), "{mark:?}");
        }
    }
}

#[test]
fn the_picture_is_part_of_the_drawing() {
    let sheet = sheet(&made());
    let svg = svg(sheet.drawings().next().expect("a picture"));
    let document = roxmltree::Document::parse(&svg).expect("well formed");
    let image = document.descendants().find(|it| it.has_tag_name("image")).expect("an image");
    assert!(image.attribute("href").unwrap().starts_with("data:image/png;base64,iVBORw0KGgo"));
    assert_eq!((image.attribute("width"), image.attribute("height")), (Some("6000"), Some("2000")));
}

#[test]
fn loops_far_from_the_design_are_named() {
    let sheet = sheet(&made());
    let rooms = sheet.table("floor-warmth-rooms").expect("rooms");
    assert_eq!(rooms.cell("great", "mean").unwrap().shown(System::Si), "25.0 °C");
    assert_eq!(rooms.cell("great", "read_mean").unwrap().shown(System::Si), "");
    let loops = sheet.table("floor-warmth-loops").expect("loops");
    assert!(loops.notes.iter().any(|note| note.contains("great/1")), "{:?}", loops.notes);
    let mut close = made();
    close.loops[0].difference = figure("difference", -0.01);
    let sheet = self::sheet(&close);
    let loops = sheet.table("floor-warmth-loops").expect("loops");
    assert!(!loops.notes.iter().any(|note| note.contains("great/1")));
    assert!(text(&sheet, 100).contains("as made by hand"));
}

#[test]
fn without_floors_it_says_so() {
    let (job, design, _) = read(CABIN);
    let sheet = warm_sheet(&job, &design, CABIN, &[]);
    assert!(sheet.drawings().next().is_none());
    let says = sheet.blocks.iter().any(|block| match block {
        Block::Prose(prose) => prose.key == "no-floor",
        _ => false,
    });
    assert!(says);
}
