//! What a crew and other trades read off the drawings.

use crate::hall::{TEXT, in_feet, papers};
use plane::{Point, Region};
use quantity::{Measure, System, read, unit};
use sheets::{Anchor, Cell, Drawing, Mark, Papers, Shape, Table, svg};

fn tube_plan(papers: &Papers) -> &Drawing {
    papers.design.drawings().next().expect("the plan")
}

fn no_drilling(papers: &Papers) -> &Drawing {
    papers.no_drilling.drawings().next().expect("the plan for other trades")
}

fn of<'d>(drawing: &'d Drawing, class: &'d str) -> impl Iterator<Item = &'d Mark> {
    drawing.marks.iter().filter(move |mark| mark.class.split(' ').any(|it| it == class))
}

fn line(mark: &Mark) -> [Point; 2] {
    match &mark.shape {
        Shape::Line(points) => [points[0], points[1]],
        other => panic!("{other:?} is no line"),
    }
}

fn written(mark: &Mark) -> &str {
    match &mark.shape {
        Shape::Words { words, .. } => words,
        other => panic!("{other:?} are no words"),
    }
}

/// The corners of a line of words, letters taken as wide as 0.6 of their height.
fn corners(mark: &Mark) -> Vec<Point> {
    let Shape::Words { at, words, size_m, anchor, turn_rad, .. } = &mark.shape else {
        panic!("{mark:?} are no words")
    };
    let length = words.chars().count() as f64 * 0.6 * size_m;
    let begin = match anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -length / 2.0,
        Anchor::End => -length,
    };
    let along = Point::new(turn_rad.cos(), turn_rad.sin());
    let up = along.left() * (size_m / 2.0);
    let (a, b) = (*at + along * begin, *at + along * (begin + length));
    vec![a - up, b - up, b + up, a + up]
}

/// The tape of each distance, as metres, with the line that it belongs to.
fn ties(drawing: &Drawing, system: System) -> Vec<(f64, [Point; 2], String)> {
    let lines = of(drawing, "tie").filter(|mark| mark.subject.is_some());
    let numbers = of(drawing, "tie-label");
    let all = lines.zip(numbers).map(|(mark, number)| {
        assert_eq!(mark.title, number.title);
        let bare = if system == System::Us { &unit::FOOT } else { &unit::MILLIMETRE };
        let told = read(written(number), Measure::Length, bare).expect("a length");
        (told, line(mark), mark.subject.clone().expect("a key"))
    });
    all.collect()
}

#[test]
fn tapes_measure_what_they_say() {
    // Half of what a tape is read to: a quarter inch, a millimetre.
    for (text, system, fine_m) in
        [(TEXT.to_owned(), System::Si, 0.00051), (in_feet(), System::Us, 0.0032)]
    {
        let (job, design, papers) = papers(&text);
        let floors: Vec<Region> = job
            .rooms
            .iter()
            .filter_map(|room| Region::simple(room.outline.as_ref()?.corners.clone()).ok())
            .collect();
        let ties = ties(tube_plan(&papers), system);
        assert!(ties.len() >= 11, "{} tapes", ties.len());
        for (told, [from, to], subject) in ties {
            assert!((told - from.distance(to)).abs() < fine_m, "{subject}: {told}");
            let at_wall = floors.iter().any(|floor| floor.boundary_distance_m(from) < 1e-6);
            assert!(at_wall, "{subject} is not measured from a wall");
            if let Some(tube) = design.loops.iter().find(|it| it.key == subject) {
                let near = tube.path.sample(0.005).into_iter().map(|it| it.distance(to));
                assert!(near.fold(f64::INFINITY, f64::min) < 0.004, "{subject}: off its tube");
            }
        }
    }
}

#[test]
fn loops_ports_and_keep_outs_are_tied_to_two_walls() {
    let (.., papers) = papers(TEXT);
    let table = papers.design.table("setting_out").expect("the table");
    let row = |words: &str| {
        let mut rows = table.rows.iter();
        let row = rows.find(|row| row.cells[0] == Cell::text(words));
        row.unwrap_or_else(|| panic!("no row {words}")).cells.clone()
    };
    let si = |cell: &Cell| match cell {
        Cell::Quantity(value) => value.si,
        other => panic!("{other:?}"),
    };
    // Drawn 150 mm from all walls; two corners across from each other.
    let corners: Vec<_> =
        table.rows.iter().filter(|row| row.key.starts_with("kitchen/1")).collect();
    assert_eq!(corners.len(), 2);
    for corner in corners {
        assert!((si(&corner.cells[3]) - 0.15).abs() < 1e-9);
        assert!((si(&corner.cells[5]) - 0.15).abs() < 1e-9);
    }
    let stove = row("keep-out stove");
    let told: Vec<(Cell, f64)> =
        vec![(stove[2].clone(), si(&stove[3])), (stove[4].clone(), si(&stove[5]))];
    assert!((told[0].1 - 0.5).abs() < 1e-9 && told[0].0 == Cell::text("north"), "{told:?}");
    assert!((told[1].1 - 0.6).abs() < 1e-9 && told[1].0 == Cell::text("east"), "{told:?}");
    let ports = row("middle of the ports, manifold m1");
    assert_eq!(ports[2], Cell::text("west"));
    assert!((si(&ports[3]) - 1.45).abs() < 1e-9);
}

#[test]
fn every_loop_has_its_key_at_its_port_and_no_lines_cross() {
    for text in [TEXT.to_owned(), in_feet()] {
        let (_, design, papers) = papers(&text);
        for drawing in [tube_plan(&papers), no_drilling(&papers)] {
            let mut places: Vec<(f64, f64)> = Vec::new();
            for tube in &design.loops {
                let own = |mark: &&Mark| mark.subject.as_ref() == Some(&tube.key);
                let keys: Vec<&Mark> = of(drawing, "port-key").filter(own).collect();
                assert_eq!(keys.len(), 1, "{}", tube.key);
                assert_eq!(written(keys[0]), tube.key);
                let [begin, end] = line(of(drawing, "port-line").find(own).expect("a line"));
                let ends = [tube.path.start(), tube.path.end()].map(|it| it.expect("tube"));
                let port = ends[0].lerp(ends[1], 0.5);
                assert!((begin.x - port.x).abs() < 1e-9 && begin.distance(port) < 0.2);
                places.push((begin.x, end.x));
            }
            places.sort_by(|a, b| a.0.total_cmp(&b.0));
            assert!(places.windows(2).all(|pair| pair[0].1 < pair[1].1), "{places:?}");
        }
    }
}

#[test]
fn keys_of_twelve_close_ports_do_not_overlap() {
    let (.., papers) = papers(TEXT);
    let drawing = tube_plan(&papers);
    let fixed: Vec<&Mark> = of(drawing, "port-key").chain(of(drawing, "tie-label")).collect();
    assert!(of(drawing, "port-key").count() >= 14);
    let box_of = |mark: &Mark| {
        let corners = corners(mark);
        let over = |pick: fn(&Point) -> f64| corners.iter().map(pick).collect::<Vec<_>>();
        let low = |all: Vec<f64>| all.into_iter().fold(f64::INFINITY, f64::min);
        let high = |all: Vec<f64>| all.into_iter().fold(f64::NEG_INFINITY, f64::max);
        [low(over(|p| p.x)), high(over(|p| p.x)), low(over(|p| p.y)), high(over(|p| p.y))]
    };
    for (number, one) in fixed.iter().enumerate() {
        for other in &fixed[number + 1..] {
            let (a, b) = (box_of(one), box_of(other));
            let apart = a[1] <= b[0] || b[1] <= a[0] || a[3] <= b[2] || b[3] <= a[2];
            assert!(apart, "{} on {}", written(one), written(other));
        }
    }
    // A plan has 250 by 174 mm of a landscape page: small letters of five points and a half.
    let [low, high] = drawing.bounds_m;
    let scale = (250.0 / (high.x - low.x)).min(174.0 / (high.y - low.y));
    for mark in fixed {
        let Shape::Words { size_m, .. } = mark.shape else { continue };
        assert!(size_m * scale > 1.94, "{} mm", size_m * scale);
    }
}

#[test]
fn words_stay_inside_the_bounds_and_are_never_head_down() {
    for text in [TEXT.to_owned(), in_feet(), crate::CABIN.to_owned()] {
        let (job, design) = match text.as_str() {
            crate::CABIN => {
                let (job, design, _) = crate::read(&text);
                (job, design)
            }
            _ => crate::hall::designed(&text),
        };
        let papers = Papers::of(&job, &design, None, &[], &text);
        for drawing in papers.design.drawings().chain(papers.no_drilling.drawings()) {
            let [low, high] = drawing.bounds_m;
            for mark in drawing.marks.iter().filter(|it| matches!(it.shape, Shape::Words { .. })) {
                for at in corners(mark) {
                    let inside = low.x <= at.x && at.x <= high.x && low.y <= at.y && at.y <= high.y;
                    assert!(inside, "{} at {at:?} of {:?}", written(mark), drawing.bounds_m);
                }
                let Shape::Words { turn_rad, .. } = mark.shape else { continue };
                assert!(turn_rad.cos() > -1e-6, "{} is head down", written(mark));
            }
            assert!(!svg(drawing).contains("NaN"));
        }
    }
}

fn si(table: &Table, row: &str, column: &str) -> f64 {
    match table.cell(row, column) {
        Some(Cell::Quantity(value)) => value.si,
        other => panic!("{row} {column}: {other:?}"),
    }
}

/// The doorway is 900 mm wide about x = 1.5 m; supply passes at 1.50 m, return at 1.40 m.
#[test]
fn doorways_tell_jambs_and_marks_of_each_tube() {
    let (_, design, papers) = papers(TEXT);
    let table = papers.no_drilling.table("doorways").expect("doorways");
    assert_eq!(table.rows.len(), 4, "two tubes in each of two doorways");
    let tube = design.loops.iter().find(|it| it.key == "kitchen/1").expect("laid");
    let rows = [("kitchen_door-1", "return", 0.35), ("kitchen_door-2", "supply", 0.45)];
    for (row, part, left) in rows {
        assert_eq!(table.cell(row, "part"), Some(&Cell::text(part)));
        assert_eq!(table.cell(row, "seen"), Some(&Cell::text("hall, kitchen")));
        assert!((si(table, row, "left") - left).abs() < 1e-9);
        assert!((si(table, row, "right") - (0.9 - left)).abs() < 1e-9);
        // The middle of the wall stands at y = 2.45 m, and leaders run straight to it.
        let along = if part == "supply" { 2.45 } else { tube.path.length_m() - 2.45 };
        assert!((si(table, row, "along") - along).abs() < 1e-6);
    }
    let drawing = tube_plan(&papers);
    assert_eq!(of(drawing, "sleeve").filter(|mark| mark.subject.is_some()).count(), 4);
    let letters: Vec<&str> = of(drawing, "doorway-letter").map(written).collect();
    assert_eq!(letters, ["A", "B"]);
    assert_eq!(table.cell("living_door-1", "letter"), Some(&Cell::text("B")));
}

#[test]
fn free_strips_keep_the_margin_to_every_tube() {
    for text in [TEXT.to_owned(), in_feet()] {
        let (job, design, papers) = papers(&text);
        let margin = job.rules.fastener_clearance.si();
        let tube: Vec<Point> = design.loops.iter().flat_map(|it| it.path.sample(0.01)).collect();
        let strips: Vec<Region> = of(no_drilling(&papers), "free")
            .filter(|mark| mark.subject.is_some())
            .map(|mark| match &mark.shape {
                Shape::Area(rings) => Region::simple(rings[0].clone()).expect("a strip"),
                other => panic!("{other:?}"),
            })
            .collect();
        assert!(strips.len() > 8, "{} strips", strips.len());
        for strip in &strips {
            for at in &tube {
                assert!(!strip.contains(*at), "tube in a strip that is told free");
                assert!(strip.boundary_distance_m(*at) > margin - 1e-3, "{at:?}");
            }
        }
    }
}

#[test]
fn walls_tell_their_nearest_tube() {
    let (.., papers) = papers(TEXT);
    let table = papers.no_drilling.table("walls").expect("walls");
    let of_kitchen = table.rows.iter().filter(|row| row.cells[0] == Cell::text("kitchen"));
    let mut whole = 0;
    for row in of_kitchen.filter(|row| row.cells[2] == Cell::text("all of it")) {
        assert!((si(table, &row.key, "nearest") - 0.15).abs() < 1e-9);
        assert!((si(table, &row.key, "free") - 0.10).abs() < 1e-9, "less 50 mm");
        whole += 1;
    }
    assert_eq!(whole, 3, "the wall with the doorway is cut in two");
}

#[test]
fn bands_cover_all_tube_and_are_as_wide_as_practice_asks() {
    let (job, design, papers) = papers(TEXT);
    let wide = 2.0 * job.rules.fastener_clearance.si();
    for tube in &design.loops {
        let own = of(no_drilling(&papers), "band")
            .filter(|mark| mark.subject.as_ref() == Some(&tube.key));
        let length: f64 = own
            .map(|mark| {
                assert!(mark.stroke.as_ref().is_some_and(|it| (it.width_m - wide).abs() < 1e-12));
                match &mark.shape {
                    Shape::Tube(path) => path.length_m(),
                    other => panic!("{other:?}"),
                }
            })
            .sum();
        assert!((length - tube.path.length_m()).abs() < 1e-9, "{}", tube.key);
    }
}

/// Who faces the south wall of the hall has east on the left.
#[test]
fn port_cards_count_from_the_left_as_seen() {
    let (_, design, papers) = papers(TEXT);
    let card = papers.ports.table("ports-m2").expect("the card");
    let keys: Vec<&str> = card.rows.iter().map(|row| row.key.as_str()).collect();
    let mut expected = vec!["living/1".to_owned()];
    expected.extend((1..=12).rev().map(|number| format!("hall/{number}")));
    assert_eq!(keys, expected);
    assert_eq!(card.cell("hall/12", "port"), Some(&Cell::Count(2)));
    let living = design.loops.iter().find(|it| it.key == "living/1").expect("laid");
    assert!((si(card, "living/1", "length") - living.length.si()).abs() < 1e-12);
    assert_eq!(card.cell("living/1", "read"), Some(&Cell::Blank), "left for the pencil");
    assert!(papers.ports.table("ports-m1").is_some());
}

#[test]
fn words_are_turned_about_their_point_on_the_page() {
    let shape = Shape::Words {
        at: Point::new(1.0, 2.0),
        words: "kitchen/1".to_owned(),
        size_m: 0.1,
        anchor: Anchor::Start,
        turn_rad: std::f64::consts::FRAC_PI_2,
        bold: false,
    };
    let mark = Mark { class: "key", subject: None, title: None, shape, stroke: None, fill: None };
    let drawing = Drawing {
        key: "bit".to_owned(),
        title: "One key".to_owned(),
        bounds_m: [Point::new(0.0, 0.0), Point::new(3.0, 4.0)],
        marks: vec![mark],
        words: "one key".to_owned(),
    };
    // Upwards on the page is against its clock; 35 mm is half of a letter's own height.
    let written = svg(&drawing);
    assert!(written.contains(" x=\"1000\" y=\"2035\""), "{written}");
    assert!(written.contains(" transform=\"rotate(-90 1000 2000)\""), "{written}");
}

#[test]
fn papers_without_tube_say_so() {
    let (job, design) = (crate::read("").0, crate::read("").1);
    let papers = Papers::of(&job, &design, None, &[], "");
    for sheet in [&papers.no_drilling, &papers.ports] {
        let text = sheets::text(sheet, 100);
        assert!(text.contains("yet"), "{text}");
    }
}
