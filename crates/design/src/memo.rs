//! What was laid and solved before, kept so that an edit repeats only what it changed.

use crate::emitters::Sections;
use crate::responses::Known;
use plane::storey::{Kept, Layout, Plan, lay};
use std::sync::Arc;

/// Most storeys that are remembered whole: those of a few designs on trial.
const PLANS_MOST: usize = 64;

/// Laid storeys and solved floors of earlier designs; with and without it a design is the same.
///
/// A storey that did not change at all comes back whole; of one that did, the loops whose own
/// floor stayed the same.
#[derive(Debug, Default)]
pub struct Memo {
    kept: Kept,
    /// Whole storeys, the latest last.
    storeys: Vec<(Plan, Arc<Layout>)>,
    /// Sections of floors.
    pub(crate) sections: Sections,
    /// How fast floors follow their water.
    pub(crate) responses: Known,
}

impl Memo {
    /// An empty memo.
    pub fn new() -> Self {
        Memo::default()
    }

    /// Forgets what floors gave, so that the time they take can be measured.
    pub fn forget_floors(&mut self) {
        (self.sections, self.responses) = Default::default();
    }

    /// Forgets what was laid, so that the time it takes can be measured.
    pub fn forget_loops(&mut self) {
        (self.kept, self.storeys) = Default::default();
    }

    /// Begins a design: what neither of the last two asked for goes.
    pub(crate) fn begin(&mut self) {
        self.kept.begin();
        self.sections.begin();
        self.responses.begin();
        let surplus = self.storeys.len().saturating_sub(PLANS_MOST);
        self.storeys.drain(..surplus);
    }

    /// Lays a storey, or recalls it.
    pub(crate) fn storey(&mut self, plan: &Plan) -> Arc<Layout> {
        if let Some((_, layout)) = self.storeys.iter().find(|(known, _)| known == plan) {
            return layout.clone();
        }
        let layout = Arc::new(lay(plan, &mut self.kept));
        self.storeys.push((plan.clone(), layout.clone()));
        layout
    }
}
