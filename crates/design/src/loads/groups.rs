//! Zones, storeys and the house: heat between own rooms cancels, air comes in at one time.

use super::air::{self, RoomAir};
use super::case::Case;
use super::rooms::Way;
use super::{FaceLoss, GroupLoss, RoomLoss, Split};
use crate::envelope::Behind;
use crate::figure::Figure;
use job::{Finding, Severity};
use quantity::{Area, Quantity};
use std::collections::BTreeSet;

/// A room's loss and its air.
pub(super) type Member<'a> = (&'a RoomLoss, &'a RoomAir);

/// All groups of a house.
#[derive(Default)]
pub(super) struct Groups {
    pub(super) zones: Vec<GroupLoss>,
    pub(super) storeys: Vec<GroupLoss>,
    pub(super) house: Option<GroupLoss>,
}

/// Zones, storeys and the house; groups without a room are left out.
pub(super) fn groups(
    case: &Case<'_>,
    members: &[Member<'_>],
    findings: &mut Vec<Finding>,
) -> Groups {
    let job = case.job;
    let mut group = |key: &str, name: &str, wanted: &dyn Fn(&job::Room) -> bool| {
        let own: Vec<Member<'_>> = members
            .iter()
            .copied()
            .filter(|(loss, _)| case.stated(&loss.room).is_some_and(wanted))
            .collect();
        if own.is_empty() {
            return None;
        }
        together(case, key, name, &own)
            .map_err(|why| {
                let message = format!("cannot tell its heat loss: {why}");
                let advice = "check the outdoor air of its rooms";
                findings.push(Finding::new(Severity::Warn, "no-group-loss", key, message, advice));
            })
            .ok()
    };
    let zones = job.zones.iter().filter_map(|zone| {
        let of = |room: &job::Room| room.zone.as_ref().is_some_and(|it| it.value == zone.key);
        group(&zone.key, &zone.name.value, &of)
    });
    let zones = zones.collect();
    let storeys = job.storeys.iter().filter_map(|storey| {
        let of = |room: &job::Room| room.storey.as_ref().is_some_and(|it| it.value == storey.key);
        group(&storey.key, &storey.key, &of)
    });
    let storeys = storeys.collect();
    let house = group("house", "House", &|_| true);
    Groups { zones, storeys, house }
}

fn together(
    case: &Case<'_>,
    key: &str,
    name: &str,
    members: &[Member<'_>],
) -> Result<GroupLoss, String> {
    let own: BTreeSet<&str> = members.iter().map(|(loss, _)| loss.room.as_str()).collect();
    let airs: Vec<&RoomAir> = members.iter().map(|(_, air)| *air).collect();
    let air = air::together(&airs, case)?;
    let losses: Vec<&RoomLoss> = members.iter().map(|(loss, _)| *loss).collect();
    let heat = split(case, &losses, &own, air.heat, |room| &room.heat, |face| &face.loss);
    let coefficient = air.coefficient;
    let per_degree =
        split(case, &losses, &own, coefficient, |room| &room.per_degree, |face| &face.coefficient);
    let area = floor_area(case, &losses);
    let per_area = (area.si() > 0.0)
        .then(|| Figure::quotient("heat loss per floor area", &heat.total.work, &area.work));
    let reheats: Vec<_> = losses.iter().filter_map(|room| room.reheat.clone()).collect();
    Ok(GroupLoss {
        key: key.to_owned(),
        name: name.to_owned(),
        rooms: losses.iter().map(|room| room.room.clone()).collect(),
        heat,
        per_degree,
        air_flow: air.flow,
        area,
        per_area,
        reheat: (!reheats.is_empty()).then(|| Figure::sum("reheat of its rooms", &reheats)),
    })
}

/// Sums over rooms; to neighbours only what leaves the group.
fn split<Q: Quantity>(
    case: &Case<'_>,
    rooms: &[&RoomLoss],
    own: &BTreeSet<&str>,
    air: Figure<Q>,
    of_room: impl Fn(&RoomLoss) -> &Split<Q>,
    of_face: impl Fn(&FaceLoss) -> &Figure<Q>,
) -> Split<Q> {
    let sum = |name: &str, part: &dyn Fn(&Split<Q>) -> &Figure<Q>| {
        Figure::sum(name, &rooms.iter().map(|room| part(of_room(room)).clone()).collect::<Vec<_>>())
    };
    let inner = |behind: &Behind| matches!(behind, Behind::Room(key) if own.contains(&**key));
    let leaving: Vec<Figure<Q>> = rooms
        .iter()
        .flat_map(|room| &room.faces)
        .filter(|face| face.counts && Way::of(case, &face.behind) == Way::Neighbours)
        .filter(|face| !inner(&face.behind))
        .map(|face| of_face(face).clone())
        .collect();
    Split::of([
        sum("to outdoors", &|split| &split.outdoors),
        sum("to unheated spaces", &|split| &split.unheated),
        sum("into the ground", &|split| &split.ground),
        Figure::sum("to neighbours beyond these rooms", &leaving),
        air,
    ])
}

fn floor_area(case: &Case<'_>, rooms: &[&RoomLoss]) -> Figure<Area> {
    let areas = rooms.iter().filter_map(|room| case.enclosure(&room.room)?.area.clone());
    Figure::sum("floor area of its rooms", &areas.collect::<Vec<_>>())
}
