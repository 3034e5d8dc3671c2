//! Floors as a camera would see them: balances, orders, and what must not be made up.

use crate::{CABIN, FLAT, ONE_ROOM, SCHOOLHOUSE, TERRACE, with};
use design::warmth::{RoomWarmth, Warmth, half_load, warmth};
use design::{Memo, State};
use job::{Job, Library};
use plane::Point;
use quantity::Quantity;

/// Radiation and convection from a heated floor (EN 1264-5), W/m²K.
const FILM_W_M2K: f64 = 10.8;

fn read(text: &str) -> Job {
    job::read(text, &Library::built_in()).0
}

fn seen(job: &Job, state: &State) -> Warmth {
    let mut memo = Memo::new();
    let day = design::design(job, &mut memo);
    warmth(job, &day, state, &mut memo).unwrap()
}

fn indoor_k(job: &Job, room: &str) -> f64 {
    job.room(room).unwrap().indoor.value.si()
}

#[test]
fn what_water_loses_floors_take() {
    for text in [CABIN, FLAT] {
        let job = read(text);
        let seen = seen(&job, &State::default());
        assert!(seen.unbalanced < 1e-9, "{}", seen.unbalanced);
        assert!(seen.loops.len() >= 3);
        for own in &seen.loops {
            assert!(own.back.si() < own.supply.si());
        }
    }
}

/// Two ways to the same heat, on floors on the ground with laminar glycol, on wet floors, in boards
/// and in plates. All loops of a job differ by less than 3 % together. One loop may differ by more:
/// the balance shares a room's floor by the regions of its loops and takes tube as evenly apart, the
/// march gives each tube the floor that is nearest to it. Regions and nearest floor differ by up to
/// 15 % where few rows lie against another loop's or a wall; a mistake of heat, such as film or edge
/// left out, would show in all loops at once, and in the sum.
#[test]
fn march_and_balance_agree() {
    for text in [CABIN, FLAT, TERRACE, SCHOOLHOUSE] {
        let seen = seen(&read(text), &State::default());
        for own in &seen.loops {
            let share = own.difference.si();
            assert!(share.abs() < 0.15, "{}: {share}", own.key);
        }
        let marched: f64 = seen.loops.iter().map(|own| own.heat.si()).sum();
        let balanced: f64 = seen.loops.iter().map(|own| own.balanced_heat.si()).sum();
        assert!((marched / balanced - 1.0).abs() < 0.03, "{marched} {balanced}");
    }
}

/// The picture's own heat, film by film, is that of the march: two ways to add up the same floor.
#[test]
fn the_picture_gives_the_heat_of_the_march() {
    let job = read(FLAT);
    let seen = seen(&job, &State::default());
    for room in &seen.rooms {
        let excess_k = room.mean.si() - indoor_k(&job, &room.room);
        let pictured_w = FILM_W_M2K * excess_k * room.known.si();
        let share = pictured_w / room.heat.si() - 1.0;
        assert!(share.abs() < 0.06, "{}: {share}", room.room);
        let order = [&room.coolest.surface, &room.mean, &room.hottest.surface];
        assert!(order.is_sorted_by(|a, b| a.si() < b.si()), "{}", room.room);
    }
}

#[test]
fn the_spots_are_what_the_squares_say() {
    let job = read(FLAT);
    let seen = seen(&job, &State::default());
    let storey = &seen.storeys[0];
    let all = || storey.surface_k.iter().flatten().copied();
    let (hottest, coolest) = (all().fold(0.0, f32::max), all().fold(1e3, f32::min));
    let told = seen.rooms.iter().map(|room| room.hottest.surface.si()).fold(0.0, f64::max);
    assert!((told - f64::from(hottest)).abs() < 1e-3);
    let told = seen.rooms.iter().map(|room| room.coolest.surface.si()).fold(1e3, f64::min);
    assert!((told - f64::from(coolest)).abs() < 1e-3);
    // Under the closet of the bath nothing is seen.
    let closet = Point::new(8.4, 4.1);
    let grid = &storey.grid;
    let cell = (0..grid.len()).find(|cell| grid.middle(*cell).distance(closet) < 0.02).unwrap();
    assert_eq!(storey.surface_k[cell], None);
}

/// Lines are drawn where water too hot takes floors over their limit.
#[test]
fn lines_stand_where_a_limit_is_crossed() {
    let job = read(&with(FLAT, "supply = \"auto\"", "supply = 60"));
    let seen = seen(&job, &State::default());
    let is_over = |room: &RoomWarmth| room.hottest.surface.si() > room.limit.si();
    assert!(seen.rooms.iter().any(is_over));
    assert!(seen.rooms.iter().all(|room| !is_over(room) || room.over.si() > 0.0));
    let over = &seen.storeys[0].over;
    assert!(!over.is_empty());
    let mild = half_load(&job).unwrap();
    let seen = self::seen(&job, &mild);
    let over: f64 = seen.rooms.iter().map(|room| room.over.si()).sum();
    assert_eq!(seen.storeys[0].over.is_empty(), over == 0.0);
}

#[test]
fn a_mild_day_is_cooler() {
    let job = read(FLAT);
    let (full, half) = (seen(&job, &State::default()), seen(&job, &half_load(&job).unwrap()));
    assert!(half.outdoor.si() > full.outdoor.si());
    for (full, half) in full.rooms.iter().zip(&half.rooms) {
        assert!(half.mean.si() < full.mean.si(), "{}", full.room);
        let swings = [&half.swing, &full.swing].map(|it| it.as_ref().unwrap().si());
        assert!(0.0 < swings[0] && swings[0] < swings[1], "{}: {swings:?}", full.room);
    }
}

/// Rows get cooler from one side of the room to the other; counterflow evens the room out.
#[test]
fn rows_lean_and_counterflow_does_not() {
    let lean_k = |pattern: &str| {
        let text = ONE_ROOM.replace("finish =", &format!("pattern = \"{pattern}\"\nfinish ="));
        assert!(text.contains(pattern));
        let job = read(&text);
        let seen = seen(&job, &State::default());
        let storey = &seen.storeys[0];
        let grid = &storey.grid;
        let known = storey.surface_k.iter().enumerate();
        let known: Vec<(Point, f64)> =
            known.filter_map(|(i, k)| Some((grid.middle(i), f64::from((*k)?)))).collect();
        let mean = |half: &dyn Fn(&Point) -> bool| {
            let own = known.iter().filter(|(at, _)| half(at));
            let (sum, count) = own.fold((0.0, 0.0), |(s, n), (_, k)| (s + k, n + 1.0));
            sum / count
        };
        let middle =
            grid.low + Point::new(grid.columns as f64, grid.rows as f64) * (0.5 * grid.step_m);
        let along_x = mean(&|at| at.x < middle.x) - mean(&|at| at.x >= middle.x);
        let along_y = mean(&|at| at.y < middle.y) - mean(&|at| at.y >= middle.y);
        along_x.abs().max(along_y.abs())
    };
    let (rows, counterflow) = (lean_k("serpentine"), lean_k("counterflow"));
    assert!(rows > 2.0 * counterflow && rows > 0.5, "{rows} {counterflow}");
}

/// The day itself is that of the design: supply, flow and return by the balance are its own.
#[test]
fn the_coldest_day_is_that_of_the_design() {
    let job = read(FLAT);
    let mut memo = Memo::new();
    let day = design::design(&job, &mut memo);
    let seen = warmth(&job, &day, &State::default(), &mut memo).unwrap();
    assert_eq!(seen.waters, day.emitters.waters);
    for (own, flow) in seen.loops.iter().zip(&day.flows.loops) {
        assert_eq!(own.key, flow.key);
        assert_eq!(own.supply, flow.supply);
        assert_eq!(own.balanced_back, flow.back);
    }
}

#[test]
fn the_memo_changes_nothing() {
    let job = read(FLAT);
    let mut memo = Memo::new();
    let day = design::design(&job, &mut memo);
    let state = half_load(&job).unwrap();
    let first = warmth(&job, &day, &state, &mut memo);
    assert_eq!(first, warmth(&job, &day, &state, &mut memo));
    assert_eq!(first, warmth(&job, &day, &state, &mut Memo::new()));
}

#[test]
fn half_a_job_is_no_reason_to_stop() {
    for text in ["", "firstheat = 1\n[room.one]\noutline = \"E 5, N 4, W 5, S 4\"\n"] {
        let job = read(text);
        let mut memo = Memo::new();
        let day = design::design(&job, &mut memo);
        assert_eq!(half_load(&job), None);
        assert_eq!(warmth(&job, &day, &State::default(), &mut memo), None);
    }
}
