//! What was laid before, kept so that an edit lays again only what it changed.

use plane::fill::{Fill, FillSpec, NoFill, counterflow};
use plane::{Point, Region};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What is kept for each laid region: the fill, or why there was none.
pub(crate) type Laid = Arc<Result<Fill, NoFill>>;

/// Laid regions of earlier designs; with and without it a design is the same.
///
/// Keys are the exact bits of all that goes into a fill, so a hit is the same fill. Entries that
/// neither of the last two designs asked for are dropped.
#[derive(Debug, Default)]
pub struct Memo {
    older: BTreeMap<Vec<u64>, Laid>,
    newer: BTreeMap<Vec<u64>, Laid>,
}

impl Memo {
    /// An empty memo.
    pub fn new() -> Self {
        Memo::default()
    }

    /// Begins a design: what the last one asked for becomes old, what was old goes.
    pub(crate) fn begin(&mut self) {
        self.older = std::mem::take(&mut self.newer);
    }

    /// Lays a counterflow loop, or recalls it.
    pub(crate) fn counterflow(&mut self, region: &Region, entry: Point, spec: &FillSpec) -> Laid {
        let key = key(region, entry, spec);
        if let Some(known) = self.newer.get(&key) {
            return known.clone();
        }
        let laid = self
            .older
            .get(&key)
            .cloned()
            .unwrap_or_else(|| Arc::new(counterflow(region, entry, spec)));
        self.newer.insert(key, laid.clone());
        laid
    }
}

fn key(region: &Region, entry: Point, spec: &FillSpec) -> Vec<u64> {
    let mut key = Vec::new();
    for ring in region.rings() {
        key.push(ring.len() as u64);
        key.extend(ring.iter().flat_map(|p| [p.x.to_bits(), p.y.to_bits()]));
    }
    key.extend([entry.x, entry.y].map(f64::to_bits));
    key.extend([spec.spacing_m, spec.wall_clearance_m, spec.bend_radius_m].map(f64::to_bits));
    key
}
