//! Coils of one tube: what the job allows, or else what the rule set takes to be usual.

use super::packing::{Source, Stock};
use crate::figure::{Figure, How};
use job::{Coil, Job};
use quantity::{Length, Quantity};

/// Coils of one tube, and how each is marked.
pub(super) struct Shelf {
    /// Sizes that can be bought.
    pub(super) sizes: Vec<Marked>,
    /// Coils and rest pieces on hand, each of them once.
    pub(super) pieces: Vec<Marked>,
    /// Whether the rule set gave the sizes.
    pub(super) assumed: bool,
}

/// One coil with the marks on its tube.
#[derive(Clone)]
pub(super) struct Marked {
    /// Its key in the text.
    pub(super) coil: Option<String>,
    pub(super) length: Figure<Length>,
    /// The mark at the end that is laid first.
    pub(super) start: Figure<Length>,
    /// Whether the marks count down from there.
    pub(super) down: bool,
}

impl Shelf {
    /// The coils of a tube; of each kind on hand no more than there are loops.
    pub(super) fn of(job: &Job, tube: &str, loops: usize) -> Shelf {
        let mut shelf = Shelf { sizes: Vec::new(), pieces: Vec::new(), assumed: false };
        for coil in job.coils.iter().filter(|coil| tube_of(job, coil) == tube) {
            let Some(marked) = marked(coil) else { continue };
            match &coil.on_hand {
                None => shelf.sizes.push(marked),
                Some(count) if count.value == 1 => shelf.pieces.push(rest(job, marked)),
                Some(count) => {
                    let count = (count.value as usize).min(loops);
                    shelf.pieces.extend(std::iter::repeat_n(marked, count));
                }
            }
        }
        // Of packings that are equally good, the one that uses up short pieces is taken.
        shelf.pieces.sort_by(|a, b| a.length.si().total_cmp(&b.length.si()));
        if shelf.sizes.is_empty() && shelf.pieces.is_empty() {
            shelf.sizes = usual(job);
            shelf.assumed = true;
        }
        shelf
    }

    pub(super) fn stock(&self) -> Stock {
        let lengths = |coils: &[Marked]| coils.iter().map(|it| down_to_mm(&it.length)).collect();
        Stock { sizes_mm: lengths(&self.sizes), pieces_mm: lengths(&self.pieces) }
    }

    pub(super) fn coil(&self, source: Source) -> Option<&Marked> {
        match source {
            Source::Size(number) => self.sizes.get(number),
            Source::Piece(number) => self.pieces.get(number),
        }
    }
}

/// The tube on a coil: what the text says, or else that of the heating.
pub(super) fn tube_of<'a>(job: &'a Job, coil: &'a Coil) -> &'a str {
    let stated = coil.tube.as_ref().or(job.heating.tube.held());
    stated.map_or(&job.rules.tube.value, |tube| &tube.value)
}

/// Tube on a coil, by its marks where both are known, but no more than is stated.
pub(super) fn marked(coil: &Coil) -> Option<Marked> {
    let start = Figure::fact("mark at the start of the coil", &coil.start);
    let stated = coil.length.as_ref().map(|it| Figure::fact("tube on the coil", it));
    let by_marks = coil.end.as_ref().map(|end| {
        let end = Figure::fact("mark at the end of the coil", end);
        let down = end.si() < start.si();
        let (higher, lower) = if down { (&start, &end) } else { (&end, &start) };
        (higher.less("tube on the coil, by its marks", lower), down)
    });
    let down = by_marks.as_ref().is_some_and(|(_, down)| *down);
    let lengths = stated.into_iter().chain(by_marks.map(|(length, _)| length));
    let length = lengths.min_by(|a: &Figure<Length>, b| a.si().total_cmp(&b.si()))?;
    (length.si() > 0.0).then(|| Marked { coil: Some(coil.key.clone()), length, start, down })
}

/// What is left of a single coil behind the loops that were laid from it.
fn rest(job: &Job, coil: Marked) -> Marked {
    let from_it = job
        .laid
        .iter()
        .filter(|laid| laid.coil.as_ref().map(|named| &named.value) == coil.coil.as_ref());
    let gone = |mark: &Figure<Length>| match coil.down {
        true => coil.start.si() - mark.si(),
        false => mark.si() - coil.start.si(),
    };
    let marks = from_it.flat_map(|laid| {
        [&laid.start, &laid.end].map(|mark| Figure::fact("mark where the rest begins", mark))
    });
    let farthest = marks.max_by(|a, b| gone(a).total_cmp(&gone(b)));
    let Some(start) = farthest.filter(|mark| gone(mark) > 0.0) else { return coil };
    let gone = match coil.down {
        true => coil.start.less("tube laid from the coil", &start),
        false => start.less("tube laid from the coil", &coil.start),
    };
    Marked { length: coil.length.less("tube left on the coil", &gone), start, ..coil }
}

fn usual(job: &Job) -> Vec<Marked> {
    let rule = &job.rules.coil_lengths;
    let why = format!("the job names no coils; {}", rule.citation());
    let marked = |length: &Length| Marked {
        coil: None,
        length: Figure::assumed("tube on a coil", length.si(), why.clone()),
        start: Figure::new("mark at the start of the coil", 0.0, How::Assumed(unmarked())),
        down: false,
    };
    rule.value.iter().filter(|length| length.si() > 0.0).map(marked).collect()
}

fn unmarked() -> String {
    "a new coil is taken to be marked from nought".to_owned()
}

/// A length in whole millimetres, no longer than it is but for rounding.
pub(super) fn down_to_mm(length: &Figure<Length>) -> u64 {
    (length.si() * 1000.0 + 1e-6).floor().max(0.0) as u64
}

/// A length in whole millimetres, no shorter than it is but for rounding.
pub(super) fn up_to_mm(length: &Figure<Length>) -> u64 {
    (length.si() * 1000.0 - 1e-6).ceil().max(0.0) as u64
}
