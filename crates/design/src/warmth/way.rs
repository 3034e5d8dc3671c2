//! Water on its way through the loops of a storey.

use super::floors::{Floor, Storey, Ways, storeys as storeys_of};
use crate::emitters::WIDEST_M;
use crate::run::Settling;
use job::Job;
use plane::Path;
use plane::beside::{Station, stations};
use solve::march::{self, Link, Marched, Strand};

/// Tube is cut into stations no longer than this, metres.
const STEP_M: f64 = 0.1;

/// A storey with its water marched, all temperatures in kelvin.
pub(super) struct MarchedStorey<'a> {
    pub(super) storey: Storey<'a>,
    pub(super) stations: Vec<Station>,
    /// The floor of each station, by its number among the storey's rooms; a doorway's is that of
    /// the room before it.
    pub(super) rooms: Vec<Option<usize>>,
    pub(super) ways: Vec<Ways>,
    pub(super) marched: Marched,
}

/// Marches all storeys with loops.
pub(super) fn storeys<'a>(job: &'a Job, settling: &'a Settling) -> Vec<MarchedStorey<'a>> {
    storeys_of(job, settling).into_iter().map(|storey| marched(storey, settling)).collect()
}

fn marched<'a>(storey: Storey<'a>, settling: &'a Settling) -> MarchedStorey<'a> {
    let paths: Vec<&Path> =
        storey.loops.iter().map(|number| &settling.design.loops[*number].path).collect();
    let stations = stations(&paths, &storey.regions, STEP_M, WIDEST_M);
    let rooms = rooms(&stations);
    let floor = |station: usize| rooms[station].and_then(|room| storey.floors[room].as_ref());
    let ways: Vec<Ways> = (0..stations.len())
        .map(|at| floor(at).map_or(Ways::default(), |floor| floor.ways(&stations[at])))
        .collect();
    let strands: Vec<Strand> = storey
        .loops
        .iter()
        .enumerate()
        .map(|(own, number)| {
            let settled = &settling.loops[*number];
            let circuit = settling.design.loops[*number].circuit.as_deref();
            let begin = stations.partition_point(|station| station.path < own);
            let end = stations.partition_point(|station| station.path <= own);
            Strand {
                capacity_w_k: settled.mass_flow_kg_s * settling.specific_heat_j_kgk,
                supply_c: settling.choice.supply_k(circuit).unwrap_or(settled.return_k),
                stations: begin..end,
            }
        })
        .collect();
    let nodes: Vec<march::Station> = stations
        .iter()
        .zip(&ways)
        .map(|(station, ways)| {
            let (loss_w_k, gain_w) = ways.loss_and_gain();
            let tube_w_mk = settling.loops[storey.loops[station.path]].tube_w_mk;
            march::Station { wall_w_k: tube_w_mk * station.length_m, loss_w_k, gain_w }
        })
        .collect();
    let links = links(&stations, floor);
    let marched = march::march(&strands, &nodes, &links);
    MarchedStorey { stations, rooms, ways, marched, storey }
}

/// Tube beside tube: each end tells half of what both see.
fn links<'a>(stations: &[Station], floor: impl Fn(usize) -> Option<&'a Floor>) -> Vec<Link> {
    let mut links = Vec::with_capacity(2 * stations.len());
    for (own, station) in stations.iter().enumerate() {
        let Some(floor) = floor(own) else { continue };
        for side in &station.sides {
            if let Some((other, w_k)) = floor.exchange_w_k(side, station.length_m) {
                links.push(Link { ends: [own, other], w_k: 0.5 * w_k });
            }
        }
    }
    links
}

/// The room of each station; in a doorway that of the station before, at the start that behind.
fn rooms(stations: &[Station]) -> Vec<Option<usize>> {
    let mut rooms: Vec<Option<usize>> = stations.iter().map(|station| station.region).collect();
    for i in 1..rooms.len() {
        if rooms[i].is_none() && stations[i].path == stations[i - 1].path {
            rooms[i] = rooms[i - 1];
        }
    }
    for i in (1..rooms.len()).rev() {
        if rooms[i - 1].is_none() && stations[i].path == stations[i - 1].path {
            rooms[i - 1] = rooms[i];
        }
    }
    rooms
}
