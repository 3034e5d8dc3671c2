//! Holding what a design decided, and what a hold costs.

use crate::Design;
use crate::memo::Memo;
use crate::run::design;
use job::{Decision, Edit, Job};
use quantity::{Flow, Head, Length, Quantity, Temperature};

impl Design {
    /// Edits that hold every decision of this design that the text leaves open.
    ///
    /// Applied to the text and designed again they give the same design, with the decisions held.
    pub fn hold_all(&self, job: &Job) -> Vec<Edit> {
        let mut edits = Vec::new();
        let mut set = |path: String, value: String| edits.push(Edit::Set { path, value });
        if let Some(layout) = self.layouts.first()
            && !layout.tube.is_held()
        {
            set("heating.tube".to_owned(), layout.tube.value.clone());
        }
        if let Some(supply) = &self.emitters.supply
            && !supply.is_held()
        {
            set("heating.supply".to_owned(), format!("{} K", exact(supply.value.si())));
        }
        if let Decision::Open = job.heating.drop {
            let drop = job.rules.drop.value.si();
            set("heating.drop".to_owned(), format!("{} K", exact(drop)));
        }
        for floor in self.emitters.floors.iter().filter(|floor| !floor.spacing.is_held()) {
            let metres = exact(floor.spacing.value.si());
            set(format!("room.{}.spacing", floor.room), format!("{metres} m"));
        }
        for layout in &self.layouts {
            if !layout.count.is_held() {
                set(format!("room.{}.loops", layout.room), layout.count.value.to_string());
            }
            if !layout.manifold.is_held() {
                set(format!("room.{}.manifold", layout.room), layout.manifold.value.clone());
            }
        }
        edits
    }

    fn tube(&self) -> f64 {
        self.loops.iter().fold(0.0, |sum, tube_loop| sum + tube_loop.length.si())
    }

    fn worst_head(&self) -> f64 {
        self.flows.manifolds.iter().map(|manifold| manifold.head.si()).fold(0.0, f64::max)
    }

    fn flow(&self) -> f64 {
        self.flows.manifolds.iter().fold(0.0, |sum, manifold| sum + manifold.flow.si())
    }
}

/// The shortest decimal that reads back as the same number.
fn exact(number: f64) -> String {
    format!("{number}")
}

/// A design with a hold, and the same one with the hold released.
#[derive(Clone, Debug, PartialEq)]
pub struct HoldCost {
    /// What is held, in the text's words: its path.
    pub path: String,
    /// Supply temperature, held and released.
    pub supply: Option<[Temperature; 2]>,
    /// All tube, held and released.
    pub tube: [Length; 2],
    /// Head of the worst loop, held and released.
    pub head: [Head; 2],
    /// Flow of all manifolds, held and released.
    pub flow: [Flow; 2],
    /// Findings that stop the job, held and released.
    pub stops: [usize; 2],
}

/// What a held decision costs; none if that path holds nothing.
///
/// Paths are those of the text: `heating.supply`, `room.bath.spacing`.
pub fn hold_cost(job: &Job, path: &str, memo: &mut Memo) -> Option<HoldCost> {
    let mut released = job.clone();
    if !release(&mut released, path) {
        return None;
    }
    let designs = [design(job, memo), design(&released, memo)];
    let [held, open] = &designs;
    let supply = |design: &Design| design.emitters.supply.as_ref().map(|supply| supply.value);
    let stops = |design: &Design| {
        design.findings.iter().filter(|f| f.severity == job::Severity::Stop).count()
    };
    Some(HoldCost {
        path: path.to_owned(),
        supply: supply(held).zip(supply(open)).map(|(held, open)| [held, open]),
        tube: [held.tube(), open.tube()].map(Length::from_si),
        head: [held.worst_head(), open.worst_head()].map(Head::from_si),
        flow: [held.flow(), open.flow()].map(Flow::from_si),
        stops: [stops(held), stops(open)],
    })
}

/// Opens the decision at a path; whether it was held.
fn release(job: &mut Job, path: &str) -> bool {
    let heating = &mut job.heating;
    match path {
        "heating.supply" => return open(&mut heating.supply),
        "heating.drop" => return open(&mut heating.drop),
        "heating.tube" => return open(&mut heating.tube),
        _ => {}
    }
    let Some((room, key)) = path.strip_prefix("room.").and_then(|rest| rest.rsplit_once('.'))
    else {
        return false;
    };
    let Some(room) = job.rooms.iter_mut().find(|candidate| candidate.key == room) else {
        return false;
    };
    match key {
        "spacing" => open(&mut room.spacing),
        "loops" => open(&mut room.loops),
        "manifold" => open(&mut room.manifold),
        _ => false,
    }
}

fn open<T>(decision: &mut Decision<T>) -> bool {
    matches!(std::mem::replace(decision, Decision::Open), Decision::Held(_))
}
