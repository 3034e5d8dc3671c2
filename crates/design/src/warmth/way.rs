//! Water on its way through the loops of a storey.

use super::CELL_M;
use super::floors::{Floor, Storey, Ways, storeys as storeys_of};
use crate::emitters::WIDEST_M;
use crate::run::Settling;
use job::Job;
use plane::beside::raster::{Grid, Near};
use plane::beside::{Station, stations};
use plane::{Path, Point, Region};
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
    pub(super) squares: Squares,
    pub(super) marched: Marched,
}

/// The floor of a storey as small squares.
pub(super) struct Squares {
    pub(super) grid: Grid,
    /// The room of each, by its number among the storey's.
    pub(super) inside: Vec<Option<u16>>,
    /// The part of the room's floor of each, by its number among the storey's.
    pub(super) part: Vec<Option<u16>>,
    /// The tube nearest to each.
    pub(super) nearest: Vec<Option<Near>>,
}

/// Marches all storeys with loops.
pub(super) fn storeys<'a>(job: &'a Job, settling: &'a Settling) -> Vec<MarchedStorey<'a>> {
    storeys_of(job, settling).into_iter().map(|storey| marched(storey, settling)).collect()
}

fn marched<'a>(storey: Storey<'a>, settling: &'a Settling) -> MarchedStorey<'a> {
    let paths: Vec<&Path> =
        storey.loops.iter().map(|number| &settling.design.loops[*number].path).collect();
    let mut stations = stations(&paths, &storey.regions, STEP_M, WIDEST_M);
    let mut rooms = rooms(&stations);
    // Tube between plates, through joists and in lanes, gives the floor nothing that is counted.
    let off_plates = off_plates(&storey, settling, &stations);
    for at in (0..stations.len()).filter(|at| off_plates[*at]) {
        (stations[at].region, rooms[at]) = (None, None);
    }
    let squares = Squares::of(&storey, &stations);
    let own_m2 = squares.own_m2(&stations);
    let floor = |station: usize| {
        rooms[station].and_then(|room| storey.floor_at(room, stations[station].middle()))
    };
    let ways: Vec<Ways> = (0..stations.len())
        .map(|at| floor(at).map_or(Ways::default(), |floor| floor.ways(&stations[at], own_m2[at])))
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
    MarchedStorey { stations, rooms, ways, squares, marched, storey }
}

impl Squares {
    fn of(storey: &Storey<'_>, stations: &[Station]) -> Squares {
        let regions = &storey.regions;
        let Some(grid) = grid(regions) else {
            let grid = Grid { low: Point::default(), step_m: CELL_M, columns: 0, rows: 0 };
            return Squares { grid, inside: vec![], part: vec![], nearest: vec![] };
        };
        let inside = grid.regions(regions);
        let nearest = grid.nearest(stations, &inside, WIDEST_M);
        let numbered = storey.parts.iter().enumerate();
        let pieces: Vec<(u16, &Region)> = numbered
            .flat_map(|(number, part)| part.regions.iter().map(move |it| (number as u16, it)))
            .collect();
        let of_pieces = grid.regions(&pieces.iter().map(|(_, region)| *region).collect::<Vec<_>>());
        let number = |piece: u16| pieces.get(usize::from(piece)).map(|(number, _)| *number);
        let part = of_pieces.into_iter().map(|piece| piece.and_then(number)).collect();
        Squares { grid, inside, part, nearest }
    }

    /// Floor that is nearer to each station than to any other, square metres; none for tube in no
    /// room, as in a doorway.
    ///
    /// What stations see to either side adds up to more than the floor: at bends, and where rows
    /// end before a wall, several see the same place.
    fn own_m2(&self, stations: &[Station]) -> Vec<Option<f64>> {
        let mut own_m2: Vec<Option<f64>> =
            stations.iter().map(|station| station.region.map(|_| 0.0)).collect();
        for near in self.nearest.iter().flatten() {
            if let Some(Some(own_m2)) = own_m2.get_mut(near.station as usize) {
                *own_m2 += self.grid.cell_m2();
            }
        }
        own_m2
    }
}

fn grid(regions: &[&Region]) -> Option<Grid> {
    let (low, high) =
        regions.iter().map(|region| region.bounds()).reduce(|(low, high), (l, h)| {
            let low = Point::new(low.x.min(l.x), low.y.min(l.y));
            (low, Point::new(high.x.max(h.x), high.y.max(h.y)))
        })?;
    Grid::over(low, high, CELL_M)
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

/// Whether each station is tube of a loop in plates, and in none of them.
fn off_plates(storey: &Storey, settling: &Settling, stations: &[Station]) -> Vec<bool> {
    let design = &settling.design;
    let all: Vec<Option<&[[Point; 2]]>> = storey
        .loops
        .iter()
        .map(|number| {
            let mut plates = design.joist_floors.iter().flat_map(|floor| &floor.plates);
            let own = plates.find(|plates| plates.of_loop == design.loops[*number].key);
            own.map(|plates| plates.stretches.as_slice())
        })
        .collect();
    let lies_on = |at: Point, [a, b]: &[Point; 2]| {
        let along = *b - *a;
        let share = ((at - *a).dot(along) / along.dot(along).max(1e-18)).clamp(0.0, 1.0);
        at.distance(a.lerp(*b, share)) < STEP_M / 5.0
    };
    stations
        .iter()
        .map(|station| {
            let stretches = all[station.path];
            stretches.is_some_and(|own| !own.iter().any(|it| lies_on(station.middle(), it)))
        })
        .collect()
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
