//! Properties of any house.

use super::*;
use crate::close;
use proptest::prelude::*;

/// A house of nine rooms on three storeys, its walls 10 to 20 cm thick, cut where one likes.
fn stack(cuts: &[f64], heights: &[f64]) -> Job {
    let storeys = ["lower", "upper", "top"];
    let mut text = String::new();
    for (number, storey) in storeys.iter().enumerate() {
        let [x, y] = [cuts[2 * number], cuts[2 * number + 1]];
        let depth = 8.0;
        text += &block(&format!("a{number}"), storey, [0.0, 0.0, x, depth]);
        text += &block(&format!("b{number}"), storey, [x + 0.15, 0.0, 9.85 - x, y]);
        text += &block(&format!("c{number}"), storey, [x + 0.15, y + 0.1, 9.85 - x, 7.9 - y]);
    }
    let mut job = house(&text);
    for (room, height) in job.rooms.iter_mut().zip(heights) {
        room.height = Some(fact(*height));
    }
    job
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 40, ..ProptestConfig::default() })]

    #[test]
    fn areas_are_equal_from_both_sides(
        cuts in prop::collection::vec(2.0f64..6.0, 6),
        heights in prop::collection::vec(2.2f64..2.55, 9),
        offset in -1.2f64..0.0,
    ) {
        let mut job = stack(&cuts, &heights);
        job.rooms[0].offset = fact(offset);
        both_sides_alike(&loss(&job));
    }

    /// Floors and ceilings of a stack account for all of its plan.
    #[test]
    fn floors_and_ceilings_are_whole(cuts in prop::collection::vec(2.0f64..6.0, 6)) {
        let loss = loss(&stack(&cuts, &[2.5; 9]));
        let of = |start: &str, behind: fn(&Behind) -> bool| -> f64 {
            loss.envelope.enclosures.iter().flat_map(|one| &one.faces)
                .filter(|face| face.key.starts_with(start) && behind(&face.behind))
                .map(|face| face.area.si()).sum()
        };
        // Walls between rooms are no room's floor.
        let plan: f64 = loss.envelope.enclosures[..3].iter().map(|e| e.area.as_ref().unwrap().si()).sum();
        prop_assert!((of("floor", |b| *b == Behind::Ground) - plan).abs() < 1e-6);
        let top: f64 = loss.envelope.enclosures[6..].iter().map(|e| e.area.as_ref().unwrap().si()).sum();
        prop_assert!((of("ceiling", |b| *b == Behind::Outdoors) - top).abs() < 1e-6);
    }
}

/// Each face's area, by room, kind and what is behind.
fn faces(loss: &HeatLoss) -> Vec<(String, f64)> {
    let mut sums = std::collections::BTreeMap::<String, f64>::new();
    for one in &loss.envelope.enclosures {
        for face in &one.faces {
            let key = format!("{} {} {:?}", one.room, face.kind.word(), face.behind);
            *sums.entry(key).or_default() += face.area.si();
        }
    }
    sums.into_iter().collect()
}

#[test]
fn a_turned_mirrored_or_shifted_house_has_the_same_faces() {
    let mut job = stack(&[3.0, 4.0, 4.0, 3.0, 5.0, 5.0], &[2.5; 9]);
    // Named, because compass sides turn with the house.
    for (index, name) in ["s", "e", "n", "w"].iter().enumerate() {
        for room in &mut job.rooms {
            room.outline.as_mut().unwrap().wall_names[index] = Some((*name).to_owned());
        }
    }
    job.rooms[8].height = None;
    for (wall, low) in [("s", 1.0), ("n", 1.5)] {
        job.slopes.push(job::Slope {
            key: wall.to_owned(),
            place: Place::default(),
            room: words("c2"),
            wall: Some(words(wall)),
            low: Some(fact(low)),
            pitch: Some(fact(0.6)),
            assembly: None,
        });
    }
    let here = faces(&loss(&job));
    let (sin, cos) = 0.4f64.sin_cos();
    let moves: [&dyn Fn(Point) -> Point; 4] = [
        &|p| Point::new(p.x - 31.0, p.y + 12.5),
        &|p| Point::new(-p.x, p.y),
        &|p| Point::new(p.y, p.x),
        &|p| Point::new(cos * p.x - sin * p.y, sin * p.x + cos * p.y),
    ];
    for to in moves {
        let mut moved = job.clone();
        for room in &mut moved.rooms {
            room.outline.as_mut().unwrap().corners.iter_mut().for_each(|c| *c = to(*c));
        }
        let there = faces(&loss(&moved));
        assert_eq!(here.len(), there.len(), "{here:#?} {there:#?}");
        for ((key, area), (other, same)) in here.iter().zip(&there) {
            assert_eq!(key, other);
            // Corners are kept to a micrometre.
            assert!((area - same).abs() < 1e-4, "{key}: {area} and {same}");
        }
    }
}

/// An inside wall takes its ends off the outside walls and nothing else.
#[test]
fn splitting_a_room_keeps_the_outside() {
    let whole = loss(&house(&block("all", "lower", [0.0, 0.0, 10.0, 8.0])));
    let rooms = [
        block("west", "lower", [0.0, 0.0, 4.0, 8.0]),
        block("east", "lower", [4.1, 0.0, 5.9, 8.0]),
    ];
    let split = loss(&house(&rooms.concat()));
    let outside: f64 = ["west", "east"].iter().map(|room| outside_wall(&split, room)).sum();
    close(outside, outside_wall(&whole, "all") - 2.0 * 0.1 * 2.5, 1e-9);
    both_sides_alike(&split);
}
