//! What every paper must say.

use crate::block::{Block, Prose};

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
