//! The heat loss of each room, then of all that holds several.

use super::air::{self, AirLoss, RoomAir};
use super::case::Case;
use super::{FaceLoss, Loads, RoomLoss, Split, Unheated, Weather};
use super::{doubtful, groups, parts, sanity, uneven, unheated};
use crate::envelope::{Behind, Enclosure, Envelope};
use crate::figure::{Figure, Given};
use job::{Finding, Job, Severity};
use laws::envelope as law;
use quantity::{Power, Quantity};
use std::collections::BTreeMap;

/// Floor that took tube, by room key, once loops are laid; before that all free floor counts.
pub(crate) type Tubed = BTreeMap<String, f64>;

/// Heat loss of every room that has what it takes.
pub(crate) fn loads(
    job: &Job,
    envelope: &Envelope,
    weather: Option<&Weather>,
    tubed: &Tubed,
    findings: &mut Vec<Finding>,
) -> Loads {
    let Some(weather) = weather else { return Loads::default() };
    let mut case = Case::new(job, envelope, weather, tubed);
    let air = air::plan(&case);
    case.cold = unheated::settle(&case, &air, findings);
    uneven::judge(&case, findings);
    doubtful::judge(&case, findings);
    let mut told = Vec::new();
    let (mut rooms, mut airs) = (Vec::new(), Vec::new());
    for (enclosure, air) in envelope.enclosures.iter().zip(&air) {
        // What it loses is what its neighbours lose to it.
        if enclosure.unheated {
            continue;
        }
        match room(&case, enclosure, air) {
            Ok(loss) => {
                rooms.push(loss);
                airs.extend(air.as_ref().ok());
            }
            Err(why) => told.push(
                Finding::new(
                    Severity::Stop,
                    "no-heat-loss",
                    format!("room.{}", enclosure.room),
                    format!("cannot tell its heat loss: {why}"),
                    "add what is missing; the other rooms stand",
                )
                .at(enclosure.place),
            ),
        }
    }
    findings.extend(told);
    let members: Vec<_> = rooms.iter().zip(airs).collect();
    let grouped = groups::groups(&case, &members, findings);
    let parts =
        grouped.house.as_ref().map_or_else(Vec::new, |house| parts::parts(&case, &rooms, house));
    let sanity = sanity::sanity(job, grouped.house.as_ref(), findings);
    sanity::judge_reheat(job, &rooms, findings);
    let totals: Vec<_> = rooms.iter().map(|room| room.heat.total.clone()).collect();
    let total = (!totals.is_empty()).then(|| Figure::sum("heat loss of all rooms", &totals));
    let unheated = unheated_of(&case);
    let groups::Groups { zones, storeys, house } = grouped;
    Loads { rooms, zones, storeys, house, parts, unheated, sanity, total }
}

/// Spaces and rooms that nobody heats, in the order of the text.
fn unheated_of(case: &Case<'_>) -> Vec<Unheated> {
    let nodes = unheated::nodes(case);
    let settled = nodes.iter().filter_map(|node| Some((node.key(), case.cold.get(node.key())?)));
    settled
        .map(|(key, cold)| Unheated {
            key: key.to_owned(),
            temperature: cold.temperature.clone(),
            factor: cold.factor.clone(),
        })
        .collect()
}

fn room(
    case: &Case<'_>,
    enclosure: &Enclosure,
    air: &Result<RoomAir, String>,
) -> Result<RoomLoss, String> {
    let area = enclosure.area.as_ref().ok_or("no floor area")?;
    if enclosure.faces.is_empty() {
        return Err("no surfaces".to_owned());
    }
    let AirLoss { flow, coefficient, heat } = air.as_ref().map_err(Clone::clone)?.own_loss(case)?;
    let mut faces = Vec::new();
    for face in &enclosure.faces {
        faces.extend(case.face_loss(enclosure, face)?);
    }
    let heat = split(case, &faces, heat, |face| face.loss.clone());
    let per_degree = split(case, &faces, coefficient, |face| face.coefficient.clone());
    let per_area = (area.si() > 0.0)
        .then(|| Figure::quotient("heat loss per floor area", &heat.total.work, &area.work));
    Ok(RoomLoss {
        room: enclosure.room.clone(),
        faces,
        heat,
        per_degree,
        air_flow: flow,
        per_area,
        from_above: None,
        reheat: reheat(case.job, area)?,
        available: case.available(&enclosure.room),
    })
}

/// Extra heat after a setback, where the job asks for it.
fn reheat(job: &Job, area: &Figure<quantity::Area>) -> Result<Option<Figure<Power>>, String> {
    let Some(asked) = &job.heating.reheat else { return Ok(None) };
    let factor = Figure::fact("reheat per floor area", asked);
    let inputs = [Given::from(area), Given::from(&factor)];
    let heat = Figure::by_law("reheat", &law::REHEAT_HEAT, &inputs);
    heat.map(Some).map_err(|error| format!("reheat: {error}"))
}

/// Sums faces by what is behind them.
fn split<Q: Quantity>(
    case: &Case<'_>,
    faces: &[FaceLoss],
    air: Figure<Q>,
    of: impl Fn(&FaceLoss) -> Figure<Q>,
) -> Split<Q> {
    let sum = |name: &str, way: Way| {
        let own = faces.iter().filter(|face| face.counts && Way::of(case, &face.behind) == way);
        Figure::sum(name, &own.map(&of).collect::<Vec<_>>())
    };
    Split::of([
        sum("to outdoors", Way::Outdoors),
        sum("to unheated spaces", Way::Unheated),
        sum("into the ground", Way::Ground),
        sum("to neighbouring rooms", Way::Neighbours),
        air,
    ])
}

impl<Q: Quantity> Split<Q> {
    /// Outdoors, unheated, ground, neighbours, air; and all of it.
    pub(super) fn of(parts: [Figure<Q>; 5]) -> Self {
        let total = Figure::sum("heat loss", &parts);
        let [outdoors, unheated, ground, neighbours, air] = parts;
        Split { outdoors, unheated, ground, neighbours, air, total }
    }
}

/// Where heat goes.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    Outdoors,
    Unheated,
    Ground,
    Neighbours,
}

impl Way {
    /// Where heat goes through a face with that behind it.
    pub(super) fn of(case: &Case<'_>, behind: &Behind) -> Way {
        match behind {
            _ if case.looks_into_cold(behind) => Way::Unheated,
            Behind::Outdoors => Way::Outdoors,
            Behind::Ground => Way::Ground,
            Behind::Space(_) => Way::Unheated,
            Behind::Room(_) | Behind::Heated | Behind::NextHouse => Way::Neighbours,
        }
    }
}
