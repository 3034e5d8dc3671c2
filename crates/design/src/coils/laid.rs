//! Loops as they lie: the marks on the tube tell their true length.

use super::LaidLength;
use crate::figure::{Figure, Given, How};
use crate::loops::TubeLoop;
use job::{Job, LaidLoop};
use quantity::{Length, Quantity};

/// Gives laid loops their laid length, so that head and volume follow it; heat and flow follow the field.
///
/// Also gives what was read, in the order of the loops. Two marks of the same number tell nothing,
/// so that such a loop stays as drawn.
pub(crate) fn as_laid(job: &Job, loops: &mut [TubeLoop]) -> Vec<LaidLength> {
    let mut all = Vec::new();
    for tube_loop in loops {
        let read = job.laid.iter().find(|read| read.key == tube_loop.key);
        let Some(laid) = read.and_then(|read| laid_length(read, tube_loop)) else { continue };
        let Some(volume) = water(job, tube_loop, &laid.laid) else { continue };
        tube_loop.length = laid.laid.clone();
        tube_loop.volume = volume;
        all.push(laid);
    }
    all
}

/// Whether some loop of the room is laid, so that its number of loops is no longer open.
pub(crate) fn has_laid_loops(job: &Job, room: &str) -> bool {
    let of_room = |key: &str| key.strip_prefix(room).is_some_and(|rest| rest.starts_with('/'));
    job.laid.iter().any(|laid| of_room(&laid.key))
}

fn laid_length(read: &LaidLoop, tube_loop: &TubeLoop) -> Option<LaidLength> {
    let start = Figure::fact("mark at the supply port", &read.start);
    let end = Figure::fact("mark at the return port", &read.end);
    let (higher, lower) = if end.si() >= start.si() { (&end, &start) } else { (&start, &end) };
    let laid: Figure<Length> = higher.less("tube from port to port as laid", lower);
    let drawn = tube_loop.length.clone();
    let difference = laid.less("laid length less drawn length", &drawn);
    (laid.si() > 0.0 && drawn.si() > 0.0).then(|| LaidLength {
        key: tube_loop.key.clone(),
        share: Figure::quotient("difference by drawn length", &difference.work, &drawn.work),
        difference,
        coil: read.coil.as_ref().map(|coil| coil.value.clone()),
        date: read.date.as_ref().map(|date| date.value.clone()),
        drawn,
        start,
        end,
        laid,
    })
}

fn water(
    job: &Job,
    tube_loop: &TubeLoop,
    length: &Figure<Length>,
) -> Option<Figure<quantity::Volume>> {
    let tube = job.catalogue.tube(&tube_loop.tube)?;
    let how = How::Catalogue(format!("{}: {}", tube.name, tube.source));
    let bore = Figure::<Length>::new("mean inside diameter", tube.inside.si(), how);
    let given = [Given::from(&bore), Given::from(length)];
    Figure::by_law("water in the loop", &laws::hydraulics::TUBE_VOLUME, &given).ok()
}
