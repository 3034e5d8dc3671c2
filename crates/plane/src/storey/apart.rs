//! Floor that is set apart for one loop, and what is left for the others of its room.

use super::draft::Sharing;
use super::free::{Free, largest};
use super::held::{HeldRegion, NotApart, Unheld};
use super::layout::Layout;
use super::plan::Plan;
use crate::clip;
use crate::point::Point;
use crate::region::Region;

/// Floor of a loop smaller than this holds none, square metres.
const LEAST_M2: f64 = 0.3;

/// Share of the floor held for a loop that its region covers if it was laid there.
const KEPT: f64 = 0.75;

/// Share of a held floor up to which it may lie on another's, from drawing along the same line.
const OVERLAP: f64 = 0.02;

/// Sets floor apart for the loops that hold it; the first that cannot be, with why.
///
/// Strips beside it that are too narrow for a turn of another loop go with it.
pub(super) fn set(plan: &mut Plan, free: &mut [Option<Free>]) -> Result<(), Unheld> {
    for held in plan.held.regions.clone() {
        set_one(plan, free, &held).map_err(|why| Unheld::Region { name: held.name, why })?;
    }
    for held in &plan.held.regions {
        let numbers = || plan.held.apart_in(held.name.room);
        let Some(free) = &free[held.name.room] else { continue };
        let others = usize::from(free.rest.iter().any(|piece| piece.area_m2() > LEAST_M2));
        let needed = numbers().max().unwrap_or(0).max(numbers().count() + others);
        let given = &mut plan.rooms[held.name.room];
        given.least_loops = given.least_loops.max(needed);
        if given.loops.is_some_and(|loops| loops < needed) {
            let why = NotApart::TooFewLoops { needed };
            return Err(Unheld::Region { name: held.name, why });
        }
    }
    Ok(())
}

fn set_one(plan: &Plan, free: &mut [Option<Free>], held: &HeldRegion) -> Result<(), NotApart> {
    let room = held.name.room;
    let given = plan.rooms.get(room).filter(|room| room.heated).ok_or(NotApart::NoLoops)?;
    let free = free[room].as_mut().ok_or(NotApart::NoLoops)?;
    let drawn = Region::simple(held.ring.clone()).map_err(|_| NotApart::NoRing)?;
    for (number, other) in &free.apart {
        if drawn.overlap_area_m2(other) > OVERLAP * drawn.area_m2() {
            return Err(NotApart::Overlaps { number: *number });
        }
    }
    let on_floor = |region: &Region| clip::intersection(&free.rest, std::slice::from_ref(region));
    let pieces = on_floor(&drawn);
    let all_m2: f64 = pieces.iter().map(Region::area_m2).sum();
    let own = largest(pieces).ok_or(NotApart::OffTheFloor { floor_m2: 0.0 })?;
    if own.area_m2() < LEAST_M2 || own.area_m2() < KEPT * all_m2 || all_m2 < 0.5 * drawn.area_m2() {
        return Err(NotApart::OffTheFloor { floor_m2: own.area_m2() });
    }
    let left = clip::difference(&free.rest, std::slice::from_ref(&own));
    let mut rest = clip::opening(&left, given.spacing_m / 2.0);
    rest.retain(|piece| piece.area_m2() > LEAST_M2);
    rest.sort_by(|a, b| b.area_m2().total_cmp(&a.area_m2()));
    // What is left over beside it, and nothing farther off.
    let grown = clip::dilate(std::slice::from_ref(&own), 2.0 * given.spacing_m);
    let grown = clip::difference(&clip::intersection(&grown, &free.rest), &rest);
    let own = largest(clip::round_opening(&grown, 0.25 * given.spacing_m)).unwrap_or(own);
    free.apart.push((held.name.number, own));
    free.apart.sort_by_key(|(number, _)| *number);
    free.rest = rest;
    Ok(())
}

impl Free {
    /// The floor that the other loops share, its largest piece; all of it where none is set apart.
    pub(super) fn open_floor(&self) -> &Region {
        self.rest.first().unwrap_or(&self.floor)
    }

    /// Keeps a share of the floor, and of what is set apart in it what lies there.
    pub(super) fn keep_within(&mut self, share: Region) {
        let here = std::slice::from_ref(&share);
        if self.apart.is_empty() {
            self.rest = here.to_vec();
        } else {
            self.apart.retain(|(_, own)| own.overlap_area_m2(&share) > KEPT * own.area_m2());
            for (_, own) in &mut self.apart {
                let kept = clip::intersection(std::slice::from_ref(own), here);
                *own = largest(kept).unwrap_or_else(|| own.clone());
            }
            self.rest = clip::intersection(&self.rest, here);
            self.rest.retain(|piece| piece.area_m2() > LEAST_M2);
            self.rest.sort_by(|a, b| b.area_m2().total_cmp(&a.area_m2()));
        }
        self.floor = share;
    }

    /// Shares of the floor: first those set apart, by number, then those of the other loops.
    pub(super) fn shares(&self, sharing: &Sharing, openings: &[[Point; 2]]) -> Option<Vec<Region>> {
        let weights = sharing.weights.get(self.apart.len()..)?;
        if self.apart.is_empty() {
            return sharing.cut.shares(&self.floor, weights, openings);
        }
        let mut shares: Vec<Region> = self.apart.iter().map(|(_, region)| region.clone()).collect();
        let [first, others @ ..] = self.rest.as_slice() else {
            return weights.is_empty().then_some(shares);
        };
        // Each piece that lies apart has one loop; the largest is shared by all that are left.
        let split = others.len().min(weights.len().checked_sub(1)?);
        shares.extend(sharing.cut.shares(first, &weights[..weights.len() - split], openings)?);
        shares.extend(others[..split].iter().cloned());
        Some(shares)
    }
}

/// Whether every loop lies where floor is held for it; the first that does not.
pub(super) fn kept(plan: &Plan, free: &[Option<Free>], layout: &Layout) -> Result<(), Unheld> {
    for held in &plan.held.regions {
        let name = held.name;
        let apart = free[name.room].iter().flat_map(|free| &free.apart);
        let Some((_, apart)) = apart.into_iter().find(|(number, _)| *number == name.number) else {
            continue;
        };
        let own = layout.loops.iter().find(|l| (l.room, l.number) == (name.room, name.number));
        let kept_m2 = own.map_or(0.0, |l| l.region.overlap_area_m2(apart));
        if kept_m2 < KEPT * apart.area_m2() {
            return Err(Unheld::Region { name, why: NotApart::NotLaid });
        }
    }
    Ok(())
}
