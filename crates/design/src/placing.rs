//! Where manifolds hang: as stated, or the best of the places that the job allows.

use crate::Design;
use crate::memo::Memo;
use crate::run::draft;
use crate::state::State;
use crate::words::Words;
use job::{Decided, Fact, Job, ManifoldPlace, Origin, Reason, Severity};
use plane::Point;
use quantity::{Length, Quantity};
use std::borrow::Cow;

/// Rounds in which several open manifolds are placed by turns.
const ROUNDS_MOST: usize = 2;

/// Where one manifold hangs.
#[derive(Clone, Debug, PartialEq)]
pub struct Placement {
    /// The manifold's key.
    pub manifold: String,
    /// The room, by key; none where the nearest one is taken.
    pub room: Option<String>,
    /// The place on the plan, in metres.
    pub at: Decided<Point>,
    /// The places that were tried for it, in the order of the text; none where it was stated.
    pub tried: Vec<Tried>,
}

/// What the job would be with a manifold at one of its places.
#[derive(Clone, Debug, PartialEq)]
pub struct Tried {
    /// The place's key.
    pub place: String,
    /// All tube of the job.
    pub tube: Length,
    /// Findings that stop the job.
    pub stops: usize,
}

/// The job with every manifold placed, and how that came about.
pub(crate) fn placed<'a>(job: &'a Job, memo: &mut Memo) -> (Cow<'a, Job>, Vec<Placement>) {
    let mut placed = Cow::Borrowed(job);
    let open: Vec<usize> = (0..job.manifolds.len())
        .filter(|number| job.manifolds[*number].at.is_none())
        .filter(|number| places(job, *number).next().is_some())
        .collect();
    // Each begins at its first place, so that all are somewhere while one is tried.
    for number in &open {
        if let Some(first) = places(job, *number).next() {
            hang(placed.to_mut(), *number, first);
        }
    }
    let mut tried: Vec<(usize, Vec<Tried>)> = Vec::new();
    let rounds = if open.len() > 1 { ROUNDS_MOST } else { 1 };
    for _ in 0..rounds {
        tried.clear();
        for number in &open {
            let all: Vec<Tried> =
                places(job, *number).map(|place| tried_at(&placed, *number, place, memo)).collect();
            let best = places(job, *number).zip(&all).min_by(|a, b| {
                let cost = |tried: &Tried| (tried.stops, tried.tube.si());
                cost(a.1).partial_cmp(&cost(b.1)).unwrap_or(std::cmp::Ordering::Equal)
            });
            if let Some((place, _)) = best {
                hang(placed.to_mut(), *number, place);
            }
            tried.push((*number, all));
        }
    }
    let placements = (0..placed.manifolds.len())
        .filter_map(|number| placement(&placed, number, &tried))
        .collect();
    (placed, placements)
}

fn places(job: &Job, manifold: usize) -> impl Iterator<Item = &ManifoldPlace> {
    let key = &job.manifolds[manifold].key;
    job.manifold_places.iter().filter(move |place| place.manifold.value == *key)
}

fn hang(job: &mut Job, manifold: usize, place: &ManifoldPlace) {
    let manifold = &mut job.manifolds[manifold];
    manifold.room = Some(place.room.clone());
    manifold.at = Some(place.at.clone());
}

fn tried_at(job: &Job, manifold: usize, place: &ManifoldPlace, memo: &mut Memo) -> Tried {
    let mut trial = job.clone();
    hang(&mut trial, manifold, place);
    let design = draft(&trial, &State::default(), memo);
    let stops = design.findings.iter().filter(|finding| finding.severity == Severity::Stop);
    Tried { place: place.key.clone(), tube: tube(&design), stops: stops.count() }
}

fn tube(design: &Design) -> Length {
    Length::from_si(design.loops.iter().fold(0.0, |sum, own| sum + own.length.si()))
}

fn placement(job: &Job, number: usize, tried: &[(usize, Vec<Tried>)]) -> Option<Placement> {
    let manifold = &job.manifolds[number];
    let at = manifold.at.as_ref()?;
    let tried = tried.iter().find(|(one, _)| *one == number).map(|(_, all)| all.clone());
    let at = match &tried {
        Some(all) => Decided::chosen(at.value, why(job, all)),
        None => Decided { value: at.value, reason: stated(at) },
    };
    Some(Placement {
        manifold: manifold.key.clone(),
        room: manifold.room.as_ref().map(|room| room.value.clone()),
        at,
        tried: tried.unwrap_or_default(),
    })
}

fn stated(at: &Fact<Point>) -> Reason {
    match at.place() {
        Some(place) => Reason::Held(place),
        None => Reason::Chosen("as assumed".to_owned()),
    }
}

/// What the best place saves against the others.
fn why(job: &Job, tried: &[Tried]) -> String {
    let words = Words { first: job.units.value };
    let cost = |tried: &&Tried| (tried.stops, tried.tube.si());
    let mut order: Vec<&Tried> = tried.iter().collect();
    order.sort_by(|a, b| cost(a).partial_cmp(&cost(b)).unwrap_or(std::cmp::Ordering::Equal));
    let [best, next, ..] = order.as_slice() else {
        return "the only place allowed".to_owned();
    };
    let last = order.last().unwrap_or(next);
    let against = |other: &Tried| {
        let more_m = other.tube.si() - best.tube.si();
        match other.stops > best.stops {
            true => format!("{} cannot be laid", other.place),
            false => format!("{} takes {} more tube", other.place, words.run(more_m)),
        }
    };
    match order.len() {
        2 => format!("{}: {}", best.place, against(next)),
        _ => format!("{}: {}, {}", best.place, against(next), against(last)),
    }
}

/// The edits that hold a chosen place.
pub(crate) fn hold(placement: &Placement) -> Vec<job::Edit> {
    edits(&placement.manifold, placement.room.as_deref(), placement.at.value)
}

/// The edits that hang a manifold at a place of a room; of the nearest one if none is named.
pub(crate) fn edits(manifold: &str, room: Option<&str>, at: Point) -> Vec<job::Edit> {
    let path = |key: &str| format!("manifold.{manifold}.{key}");
    let Point { x, y } = at;
    let at = job::Edit::Set { path: path("at"), value: format!("[\"{x} m\", \"{y} m\"]") };
    let room = room.map(|room| job::Edit::Set { path: path("room"), value: room.to_owned() });
    std::iter::once(at).chain(room).collect()
}

/// Sets what such an edit says; none if it is about something else.
pub(crate) fn set(job: &mut Job, path: &str, value: &str) -> Option<()> {
    let place = job::Place::default();
    let (key, what) = path.strip_prefix("manifold.")?.rsplit_once('.')?;
    let manifold = job.manifolds.iter_mut().find(|manifold| manifold.key == key)?;
    match what {
        "room" => {
            manifold.room = Some(Fact { value: value.to_owned(), origin: Origin::Stated(place) })
        }
        "at" => {
            let inside = value.strip_prefix('[')?.strip_suffix(']')?;
            let (x, y) = inside.split_once(',')?;
            let metres =
                |text: &str| text.trim().trim_matches('"').strip_suffix(" m")?.parse().ok();
            let value = Point::new(metres(x)?, metres(y)?);
            manifold.at = Some(Fact { value, origin: Origin::Stated(place) });
        }
        _ => return None,
    }
    Some(())
}
