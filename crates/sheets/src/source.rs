//! What the papers are drawn from, and how a number becomes a cell.

use crate::block::{Cell, Units, Value};
use design::emitters::HeatedFloor;
use design::envelope::{Behind, Enclosure};
use design::loads::Unheated;
use design::{Design, Figure, Standing, Work};
use job::Job;
use quantity::Quantity;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Job, design and text, with the paths under which figures can be asked for.
pub(crate) struct Source<'a> {
    pub(crate) job: &'a Job,
    pub(crate) design: &'a Design,
    pub(crate) text: &'a str,
    pub(crate) paths: Paths,
    standings: Standings,
}

impl<'a> Source<'a> {
    pub(crate) fn new(job: &'a Job, design: &'a Design, text: &'a str) -> Self {
        Source::with(job, design, text, Vec::new())
    }

    /// The same with more figures than those of the design.
    pub(crate) fn with(
        job: &'a Job,
        design: &'a Design,
        text: &'a str,
        more: Vec<(String, Arc<Work>)>,
    ) -> Self {
        let mut figures = design.figures();
        figures.extend(more);
        Source { job, design, text, paths: Paths::of(&figures), standings: Standings::default() }
    }

    /// The figure as a cell, in the usual units of its measure.
    pub(crate) fn cell<Q: Quantity>(&self, figure: &Figure<Q>) -> Cell {
        self.cell_in(figure, Units::of(Q::MEASURE))
    }

    /// The figure as a cell in those units.
    pub(crate) fn cell_in<Q: Quantity>(&self, figure: &Figure<Q>, units: Units) -> Cell {
        let value = Value {
            si: figure.si(),
            units,
            explain: self.paths.path(&figure.work).map(str::to_owned),
            standing: self.standings.of(&figure.work),
        };
        if value.si.is_finite() {
            Cell::Quantity(value)
        } else {
            Cell::CannotTell("the numbers behind it leave no finite answer".to_owned())
        }
    }

    /// The figure as a cell, or why there is none.
    pub(crate) fn cell_or<Q: Quantity>(&self, figure: Option<&Figure<Q>>, why: &str) -> Cell {
        figure.map_or_else(|| Cell::CannotTell(why.to_owned()), |figure| self.cell(figure))
    }

    /// The figure as a cell, blank where there is none.
    pub(crate) fn cell_if<Q: Quantity>(&self, figure: Option<&Figure<Q>>) -> Cell {
        figure.map_or(Cell::Blank, |figure| self.cell(figure))
    }

    /// A bare quantity as a cell, with the working under that path if it has one.
    pub(crate) fn stated(&self, si: f64, units: Units, path: &str) -> Cell {
        let work = self.paths.work(path);
        let standing = work.map_or(Standing::Designed, |work| self.standings.of(work));
        Cell::Quantity(Value { si, units, explain: work.map(|_| path.to_owned()), standing })
    }

    /// What the tube is called in the catalogue.
    pub(crate) fn tube_name(&self, key: &str) -> String {
        self.job.catalogue.tube(key).map_or_else(|| key.to_owned(), |tube| tube.name.clone())
    }

    /// What the storey is called on paper: its key as words.
    pub(crate) fn storey_name(&self, key: &str) -> String {
        spoken(key)
    }

    /// What the space is called on paper.
    pub(crate) fn space_name(&self, key: &str) -> String {
        self.job.space(key).map_or_else(|| spoken(key), |space| space.name.value.clone())
    }

    /// What is behind a face, as a person calls it.
    pub(crate) fn behind(&self, behind: &Behind) -> String {
        match behind {
            Behind::Room(key) => self.room_name(key),
            Behind::Space(key) => self.space_name(key),
            other => other.words(),
        }
    }

    /// The line of a place in the text: `line 12`.
    pub(crate) fn line(&self, place: job::Place) -> String {
        format!("line {}", place.line_and_column(self.text).0)
    }

    /// The geometry of the room.
    pub(crate) fn enclosure(&self, room: &str) -> Option<&'a Enclosure> {
        self.design.envelope.enclosures.iter().find(|it| it.room == room)
    }

    /// How warm it gets in a room or space that nobody heats.
    pub(crate) fn settled(&self, key: &str) -> Option<&'a Unheated> {
        self.design.loads.unheated.iter().find(|it| it.key == key)
    }

    /// The heated floor of the room.
    pub(crate) fn heated_floor(&self, room: &str) -> Option<&'a HeatedFloor> {
        self.design.emitters.floors.iter().find(|it| it.room == room)
    }

    /// What the room is called on paper.
    pub(crate) fn room_name(&self, key: &str) -> String {
        self.job.room(key).map_or_else(|| key.to_owned(), |room| room.name.value.clone())
    }
}

/// A key of the text as words: `wall north` of `wall_north`.
pub(crate) fn spoken(key: &str) -> String {
    key.replace('_', " ")
}

/// Paths of figures, by the figure's own working.
#[derive(Clone, Debug, Default)]
pub struct Paths {
    by_work: BTreeMap<usize, (String, Arc<Work>)>,
    by_path: BTreeMap<String, Arc<Work>>,
}

impl Paths {
    /// The paths of a design's figures; the first path of a shared figure holds.
    pub fn of(figures: &[(String, Arc<Work>)]) -> Self {
        let mut paths = Paths::default();
        for (path, work) in figures {
            let known = || (path.clone(), work.clone());
            paths.by_work.entry(address(work)).or_insert_with(known);
            paths.by_path.entry(path.clone()).or_insert_with(|| work.clone());
        }
        paths
    }

    /// The path of a working.
    pub fn path(&self, work: &Arc<Work>) -> Option<&str> {
        self.by_work.get(&address(work)).map(|(path, _)| path.as_str())
    }

    /// The working at a path; what is behind a face may be left out where only one thing is.
    pub fn work(&self, path: &str) -> Option<&Arc<Work>> {
        self.by_path.get(path).or_else(|| {
            let (face, name) = path.rsplit_once('.')?;
            (face.starts_with("room.") && face.matches('.').count() == 2).then_some(())?;
            let inside = |known: &&String| {
                let rest = known.strip_prefix(face).and_then(|it| it.strip_prefix('.'));
                let behind = rest.and_then(|it| it.rsplit_once('.'));
                behind.is_some_and(|(behind, last)| last == name && !behind.contains('.'))
            };
            let mut meant = self.by_path.keys().filter(inside);
            let only = meant.next().filter(|_| meant.next().is_none())?;
            self.by_path.get(only)
        })
    }
}

fn address(work: &Arc<Work>) -> usize {
    Arc::as_ptr(work).addr()
}

/// Standings already found: workings are shared, and walking each again takes far too long.
///
/// Each working is held, so that its address is not given to another meanwhile.
#[derive(Default)]
struct Standings(RefCell<BTreeMap<usize, (Standing, Arc<Work>)>>);

impl Standings {
    fn of(&self, work: &Arc<Work>) -> Standing {
        if let Some((known, _)) = self.0.borrow().get(&address(work)) {
            return *known;
        }
        let inputs = work.inputs();
        let standing = if inputs.is_empty() {
            work.standing()
        } else {
            inputs.into_iter().map(|input| self.of(input)).fold(Standing::Measured, Standing::min)
        };
        self.0.borrow_mut().insert(address(work), (standing, work.clone()));
        standing
    }
}
