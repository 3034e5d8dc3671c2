//! The section of a floor: picture, words and table.

use crate::CABIN;
use quantity::System;
use sheets::{Block, Cell, Shape, section_of, section_sheet, svg, text};

#[test]
fn a_floor_shows_its_section_and_the_same_in_words() {
    let (job, _) = job::read(CABIN, &job::Library::built_in());
    let design = design::design(&job, &mut design::Memo::new());
    let room = section_of(&design, "room.bath.flux").expect("its floor explains it");
    for first in [System::Us, System::Si] {
        let sheet = section_sheet(&job, &design, CABIN, room, first).expect("it has a floor");
        let drawing = sheet.drawings().next().expect("a picture");
        let count = |class: &str| drawing.marks.iter().filter(|mark| mark.class == class).count();
        // Tile, concrete, insulation; two tubes; lines mirrored at each tube.
        assert_eq!((count("layer"), count("tube"), count("water")), (3, 2, 2));
        assert!(count("isotherm") >= 12 && count("isotherm") % 4 == 0);
        for word in ["concrete", "XPS", "with the tubes", "°F", "°C", "over a tube", "down"] {
            assert!(drawing.words.contains(word), "{word} is not in {}", drawing.words);
        }
        // To scale: 4 in of concrete.
        let heights: Vec<f64> = drawing
            .marks
            .iter()
            .filter(|mark| mark.class == "layer")
            .filter_map(|mark| match &mark.shape {
                Shape::Area(rings) => Some(rings[0][2].y - rings[0][1].y),
                _ => None,
            })
            .collect();
        assert!(heights.iter().any(|height| (height - 0.1016).abs() < 1e-6), "{heights:?}");
        assert!(svg(drawing).len() < 60_000, "{} bytes", svg(drawing).len());
        let table = sheet.table("section-layers").expect("the layers");
        let Some(Cell::Quantity(top)) = table.cell("layer-1", "over_tube") else { panic!() };
        let Some(Cell::Quantity(low)) = table.cell("layer-2", "over_tube") else { panic!() };
        assert!(top.si < low.si, "it is warmer nearer the tube");
        assert!(text(&sheet, 100).contains("share that goes up"));
        assert!(matches!(sheet.blocks[1], Block::Facts(_)));
    }
    assert_eq!(section_of(&design, "room.bath.floor.capacity"), Some("bath"));
    assert_eq!(section_of(&design, "room.bath.loss"), None);
    assert_eq!(section_of(&design, "room.nowhere.flux"), None);
}
