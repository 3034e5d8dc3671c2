//! Marks of the plan, and one small room as a whole.

use crate::{CABIN, read, sheet_of};
use plane::{Path, Point};
use sheets::{Colour, Drawing, Mark, Shape, svg};

fn plan(text: &str) -> Drawing {
    sheet_of(text).drawings().next().expect("a plan").clone()
}

fn of<'d>(drawing: &'d Drawing, class: &'d str) -> Vec<&'d Mark> {
    drawing.marks.iter().filter(|mark| mark.class.split(' ').any(|it| it == class)).collect()
}

#[test]
fn tube_is_drawn_at_its_true_length() {
    let (_, design, _) = read(CABIN);
    let drawing = plan(CABIN);
    for tube in &design.loops {
        let pieces =
            of(&drawing, "tube").into_iter().filter(|it| it.subject.as_ref() == Some(&tube.key));
        let drawn: f64 = pieces
            .map(|mark| match &mark.shape {
                Shape::Tube(path) => path.length_m(),
                other => panic!("tube drawn as {other:?}"),
            })
            .sum();
        assert!((drawn - tube.path.length_m()).abs() < 1e-6, "{}: {drawn}", tube.key);
    }
}

#[test]
fn tube_is_warmest_at_its_supply_end() {
    let (_, design, _) = read(CABIN);
    let drawing = plan(CABIN);
    let key = &design.loops[0].key;
    let colours: Vec<Colour> = of(&drawing, "tube")
        .into_iter()
        .filter(|mark| mark.subject.as_ref() == Some(key))
        .filter_map(|mark| mark.stroke.as_ref().map(|stroke| stroke.colour))
        .collect();
    assert!(colours.len() > 4, "the water cools in steps");
    let (first, last) = (colours[0], colours[colours.len() - 1]);
    assert!(first.0 > last.0 && first.2 < last.2, "{first:?} to {last:?}");
}

#[test]
fn neighbouring_loops_differ_without_colour() {
    let (_, design, _) = read(CABIN);
    let drawing = plan(CABIN);
    let line = |key: &String| {
        let marks = of(&drawing, "tube");
        let mark = marks.iter().find(|mark| mark.subject.as_ref() == Some(key)).expect("drawn");
        mark.stroke.as_ref().map(|stroke| (stroke.width_m.to_string(), stroke.dash_m.clone()))
    };
    for pair in design.loops.windows(2) {
        assert_ne!(line(&pair[0].key), line(&pair[1].key));
    }
}

#[test]
fn every_mark_lies_inside_the_bounds() {
    let drawing = plan(CABIN);
    let [low, high] = drawing.bounds_m;
    for mark in &drawing.marks {
        let points = match &mark.shape {
            Shape::Line(points) => points.clone(),
            Shape::Area(rings) => rings.concat(),
            Shape::Tube(path) => path.chords(0.01),
            Shape::Circle { at, .. } | Shape::Words { at, .. } => vec![*at],
            Shape::Squares(squares) => squares.bounds_m.to_vec(),
        };
        for at in points {
            let inside = low.x <= at.x && at.x <= high.x && low.y <= at.y && at.y <= high.y;
            assert!(inside, "{} at {at:?}", mark.class);
        }
    }
}

#[test]
fn storeys_have_a_plan_each() {
    let text =
        CABIN.replace("[room.bath]", "[storey.up]\nheight = \"8'\"\n\n[room.bath]").replacen(
            "storey = \"main\"              # curbless",
            "storey = \"up\"                # curbless",
            1,
        );
    let sheet = sheet_of(&text);
    let keys: Vec<&str> = sheet.drawings().map(|it| it.key.as_str()).collect();
    assert_eq!(keys, ["plan-main", "plan-up"]);
}

/// One bit of tube with a bend to either side: the page's y axis points down, the plan's up.
#[test]
fn bends_turn_the_right_way_on_the_page() {
    let corners = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (2.0, 1.0)];
    let corners: Vec<Point> = corners.iter().map(|(x, y)| Point::new(*x, *y)).collect();
    let mark = Mark {
        class: "tube",
        subject: Some("a/1".to_owned()),
        title: None,
        shape: Shape::Tube(Path::rounded(&corners, 0.1)),
        stroke: None,
        fill: None,
    };
    let drawing = Drawing {
        key: "bit".to_owned(),
        title: "A bit of tube".to_owned(),
        bounds_m: [Point::new(-0.5, -0.5), Point::new(2.5, 1.5)],
        marks: vec![mark],
        words: "two bends".to_owned(),
    };
    let expected = "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"drawing\" \
        viewBox=\"0 0 3000 2000\" role=\"img\" aria-labelledby=\"bit-title bit-desc\" \
        font-family=\"sans-serif\">\n\
        <title id=\"bit-title\">A bit of tube</title>\n\
        <desc id=\"bit-desc\">two bends</desc>\n\
        <path class=\"tube\" data-subject=\"a/1\" d=\"M500 1500L1400 1500\
        A100 100 0 0 0 1500 1400L1500 600A100 100 0 0 1 1600 500L2500 500\" fill=\"none\"/>\n\
        </svg>\n";
    assert_eq!(svg(&drawing), expected);
}
