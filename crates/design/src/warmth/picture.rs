//! Surface temperature of each square of floor.

use super::StoreyWarmth;
use super::lines::joined;
use super::way::{MarchedStorey, Squares};
use crate::emitters::{WIDEST_M, peak_limit};
use job::Job;
use plane::beside::Meets;
use plane::beside::raster::{Grid, Near};
use plane::{Point, Region};
use solve::section::Field;

/// The picture of a storey, and each room's part in it.
pub(super) struct Picture {
    pub(super) storey: StoreyWarmth,
    /// In the order of the storey's rooms; none where nothing is known.
    pub(super) rooms: Vec<Option<RoomPart>>,
}

/// What a room's squares come to.
#[derive(Clone, Copy, Debug)]
pub(super) struct RoomPart {
    pub(super) cells: usize,
    pub(super) over: usize,
    sum_k: f64,
    pub(super) hottest: (Point, f64),
    pub(super) coolest: (Point, f64),
}

impl RoomPart {
    pub(super) fn mean_k(&self) -> f64 {
        self.sum_k / self.cells as f64
    }
}

/// Takes the picture of a marched storey.
pub(super) fn picture(job: &Job, marched: &MarchedStorey) -> Picture {
    let storey = &marched.storey;
    let key = storey.key.map(str::to_owned);
    let Squares { grid, inside, part, nearest } = &marched.squares;
    let grid = *grid;
    let covered = covered(job, marched, &grid);
    let mut rooms: Vec<Option<RoomPart>> = vec![None; storey.rooms.len()];
    let limits_k: Vec<f64> =
        storey.rooms.iter().map(|number| peak_limit(job, &job.rooms[*number]).si()).collect();
    let mut surface_k = vec![None; grid.len()];
    for (cell, near) in nearest.iter().enumerate() {
        let (Some(near), Some(room)) = (near, inside[cell]) else { continue };
        if covered[cell] {
            continue;
        }
        let own = part.get(cell).copied().flatten().map(usize::from);
        let Some(kelvin) = surface(marched, near, own, grid.middle(cell)) else { continue };
        surface_k[cell] = Some(kelvin as f32);
        let room = usize::from(room);
        let limit_k = own.map_or(limits_k[room], |own| storey.parts[own].limit_k);
        add(&mut rooms[room], grid.middle(cell), kelvin, limit_k);
    }
    let mut over = Vec::new();
    for (room, own) in rooms.iter().enumerate() {
        if own.is_some_and(|own| own.over > 0) {
            let here = |cell: usize| inside[cell].is_some_and(|it| usize::from(it) == room);
            let mut limits_k = vec![(None, limits_k[room])];
            let numbered = storey.parts.iter().enumerate();
            let own = numbered.filter(|(_, part)| part.room == room);
            limits_k.extend(own.map(|(number, part)| (Some(number), part.limit_k)));
            for (number, limit_k) in limits_k {
                let is_own = |cell: usize| here(cell) && part[cell].map(usize::from) == number;
                over.extend(lines(&grid, storey.regions[room], is_own, &surface_k, limit_k));
            }
        }
    }
    Picture { storey: StoreyWarmth { storey: key, grid, surface_k, over }, rooms }
}

/// Squares under what stands on the floor: nobody sees them.
fn covered(job: &Job, marched: &MarchedStorey, grid: &Grid) -> Vec<bool> {
    let rooms = &marched.storey.rooms;
    let here = |key: &str| rooms.iter().any(|number| job.rooms[*number].key == key);
    let outlines = job.keep_outs.iter().filter(|keep_out| here(&keep_out.room.value));
    let regions: Vec<Region> = outlines
        .filter_map(|keep_out| Region::simple(keep_out.outline.as_ref()?.corners.clone()).ok())
        .collect();
    let regions: Vec<&Region> = regions.iter().collect();
    grid.regions(&regions).iter().map(Option::is_some).collect()
}

/// Surface temperature at a place near to a station, kelvin: between its middle and that of the
/// next one along the tube on a straight line.
fn surface(marched: &MarchedStorey, near: &Near, part: Option<usize>, at: Point) -> Option<f64> {
    let own = near.station as usize;
    let stations = &marched.stations;
    let station = &stations[own];
    let along = station.to - station.from;
    let share = (at - station.from).dot(along) / along.dot(along).max(1e-18);
    let beyond = share.clamp(0.0, 1.0) - 0.5;
    let next = if beyond >= 0.0 { own + 1 } else { own.wrapping_sub(1) };
    let goes_on = stations
        .get(next)
        .filter(|next| next.path == station.path && next.region == station.region);
    let here_k = beside(marched, own, near, part)?;
    let next_k = goes_on.and_then(|_| beside(marched, next, near, part)).unwrap_or(here_k);
    Some(here_k + beyond.abs() * (next_k - here_k))
}

/// Surface temperature so far beside a station, on the same side as a square of floor, kelvin.
fn beside(marched: &MarchedStorey, own: usize, near: &Near, part: Option<usize>) -> Option<f64> {
    let station = &marched.stations[own];
    let floor = marched.storey.part_or_rest(part, marched.rooms[own]?)?;
    let side = &station.sides[usize::from(!near.is_left)];
    let other = match side.meets {
        Meets::Tube(other) => other,
        Meets::Edge | Meets::Nothing => own,
    };
    let wall_k = &marched.marched.wall_c;
    let distance_m = 2.0 * side.half_m(WIDEST_M);
    let [of_own, of_other, of_underside] = floor.pairs.shares(distance_m, f64::from(near.away_m));
    let excess = |kelvin: f64| kelvin - floor.indoor_k;
    let underside_k = marched.ways[own].underside_k(wall_k[own]);
    let over_room_k = of_own * excess(wall_k[own])
        + of_other * excess(wall_k[other])
        + of_underside * excess(underside_k);
    Some(floor.indoor_k + over_room_k)
}

fn add(part: &mut Option<RoomPart>, at: Point, kelvin: f64, limit_k: f64) {
    let here = (at, kelvin);
    let part = part.get_or_insert(RoomPart {
        cells: 0,
        over: 0,
        sum_k: 0.0,
        hottest: here,
        coolest: here,
    });
    part.cells += 1;
    part.over += usize::from(kelvin > limit_k);
    part.sum_k += kelvin;
    if kelvin > part.hottest.1 {
        part.hottest = here;
    }
    if kelvin < part.coolest.1 {
        part.coolest = here;
    }
}

/// The lines on which a room's own squares just reach a temperature.
fn lines(
    grid: &Grid,
    region: &Region,
    is_own: impl Fn(usize) -> bool,
    surface_k: &[Option<f32>],
    limit_k: f64,
) -> Vec<Vec<Point>> {
    let (low, high) = region.bounds();
    let place = |m: f64, low: f64, most: usize| {
        (((m - low) / grid.step_m).max(0.0) as usize).min(most.saturating_sub(1))
    };
    let columns = place(low.x, grid.low.x, grid.columns)..=place(high.x, grid.low.x, grid.columns);
    let rows = place(low.y, grid.low.y, grid.rows)..=place(high.y, grid.low.y, grid.rows);
    let middle = |low: f64, number: usize| low + (number as f64 + 0.5) * grid.step_m;
    let mut celsius = Vec::new();
    for row in rows.clone() {
        for cell in columns.clone().map(|column| row * grid.columns + column) {
            let known = surface_k[cell].filter(|_| is_own(cell));
            celsius.push(known.map_or(f64::NAN, f64::from));
        }
    }
    let field = Field {
        x_m: columns.map(|column| middle(grid.low.x, column)).collect(),
        y_m: rows.map(|row| middle(grid.low.y, row)).collect(),
        celsius,
    };
    let pieces = field.isotherm(limit_k).into_iter();
    let pieces = pieces.map(|piece| piece.map(|(x, y)| Point::new(x, y)));
    joined(pieces.filter(|piece| piece.iter().all(|point| point.is_finite())))
}
