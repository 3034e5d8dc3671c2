//! What every paper must say.

use crate::block::{Block, Prose};
use crate::source::Source;

/// What holds where tube lies between joists or in boards; none where it does not.
pub(crate) fn under_floor_cautions(source: &Source) -> Option<Block> {
    let (joists, boards) = (&source.design.joist_floors, &source.design.boards);
    if joists.is_empty() && boards.is_empty() {
        return None;
    }
    let mut lines: Vec<&str> = Vec::new();
    if !joists.is_empty() {
        lines.extend([
            "Structure: the code in force, the joist's maker and an engineer decide on every hole, \
             before the drill is taken out. Sawn joists: no notches for tube. I-joists and open webs: \
             by the maker's chart only, flanges and chords never. Doubled joists, headers, beams and \
             joists under a bearing wall are not told here: ask.",
            "Look at the joists from below first: old notches, splits, wires and pipes are not on this \
             plan. Drill at right angles, ream the edge, and let the tube slide.",
            "From above, nails and screws of the subfloor and of wood flooring come through into the \
             bays: cut or bend what stands out before plates go up, and fix flooring with fasteners \
             no longer than floor and subfloor together. Afterwards fix into joists only.",
            "Insulate below the tube, with reflective or still air above only as the assembly says; an \
             open bay end lets the heat out.",
        ]);
    }
    if !boards.is_empty() {
        lines.extend([
            "Boards: the old floor is dry, flat and screwed down first. Wood flooring runs across the \
             grooves; nails go between them, where the tube is seen or marked on the board. Tile asks \
             for a backer over the boards.",
            "Glue and screw boards as their maker says; no screw within a finger's breadth of a groove. \
             Groove edges are broken and dust is sucked out before tube goes in.",
        ]);
    }
    let lines = lines.into_iter().map(str::to_owned).collect();
    let (key, title) = ("under-floor".to_owned(), "Joists, boards, nails and screws".to_owned());
    Some(Block::Prose(Prose { key, title, lines }))
}

/// The usual cautions, in plain words.
pub fn cautions() -> Block {
    let lines = [
        "This paper helps to design; it certifies nothing. The code in force where the house \
         stands, the inspector and the makers' instructions govern, also where they differ from \
         it.",
        "Gas, electrical and structural work, and work on drinking water, is for those who hold \
         the licence for it. Joists, beams and engineered lumber: no hole or notch without their \
         maker's chart or an engineer.",
        "Pressure test before covering, and keep watching the gauge while covering. Test with air \
         only where code and every maker allow it: compressed air stores thousands of times the \
         energy of water. Never oxygen.",
        "Hot water scalds: store drinking water hot enough against legionella and deliver it \
         through a listed mixing valve. No floor loop may share water with taps.",
        "Antifreeze in a house: inhibited propylene glycol, never automotive; label kind, share and \
         date. Water left in tube over a cold night bursts it.",
        "Gas and venting: prove the draught with all fans on; a carbon monoxide alarm on every \
         sleeping level; at a smell of gas, leave and call.",
        "Old resilient tile, its black glue and old pipe wrap may hold asbestos: presume so until a \
         laboratory says no. No sanding, no dry scraping. Cut concrete wet: silica.",
        "Floor temperature limits are for the bare surface; under rugs and beds it gets warmer. \
         Lower them for small children and for people with little feeling in their feet. Wood and \
         resilient floors: the maker's own limit governs.",
        "Never cut or drill a post-tensioned slab; drill no heated floor without its layout at hand.",
        "First heat of a fresh screed not before its maker or standard allows, and in small steps.",
    ];
    Block::Cautions(Prose {
        key: "cautions".to_owned(),
        title: "Cautions".to_owned(),
        lines: lines.map(str::to_owned).to_vec(),
    })
}
