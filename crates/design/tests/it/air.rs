//! Outdoor air of rooms, and of the house at one time.

use crate::{ONE_ROOM, close, job, with};
use design::loads::Loads;
use design::{State, heat_loss};
use job::{BlowerDoorMethod, Job};
use quantity::Quantity;

/// Two rooms of 50 m³ and 30 m³ side by side, nothing said of their air.
fn two_rooms(house: &str, more: &str) -> Job {
    let text = with(ONE_ROOM, "air_changes = 0.5", house);
    let second =
        "\n[room.second]\nstart = [5.1, 0]\noutline = \"E 3, N 4, W 3, S 4\"\nindoor = 20\n";
    job(&format!("{text}{second}{more}"))
}

fn loads(job: &Job) -> Loads {
    heat_loss(job, &State::default()).loads
}

/// Air flows of both rooms and of the house, m³/h.
fn flows(loads: &Loads) -> [f64; 3] {
    let house = loads.house.as_ref().unwrap();
    [&loads.rooms[0].air_flow, &loads.rooms[1].air_flow, &house.air_flow].map(|f| f.si() * 3600.0)
}

/// What one m³/h costs per degree at 20 °C and sea level, W/K.
const PER_FLOW: f64 = 101_325.0 / (287.052_87 * 293.15) * 1006.0 / 3600.0;

#[test]
fn stated_air_changes_add_up() {
    let [first, second, house] = flows(&loads(&two_rooms("air_changes = 0.5", "")));
    close(first, 25.0, 1e-9);
    close(second, 15.0, 1e-9);
    close(house, 40.0, 1e-9);
}

/// A blower-door test takes the place of an assumed air change: 4/h over 20 is 0.2/h, which is the
/// rate of the whole house already. Over a stated air change the larger holds.
#[test]
fn blower_door_by_divisor() {
    let mut job = two_rooms("blower_door = 4", "");
    job.rules.blower_door.value = BlowerDoorMethod::Divisor;
    job.rules.blower_divisor.value = Quantity::from_si(20.0);
    job.rules.leakage_share.value = Quantity::from_si(0.5);
    job.rules.air_least.value = Quantity::from_si(0.0);
    let [first, second, house] = flows(&loads(&job));
    close(first, 10.0, 1e-9);
    close(second, 6.0, 1e-9);
    close(house, 16.0, 1e-9);
    let mut stated = two_rooms("blower_door = 4\nair_changes = 0.15", "");
    stated.rules = job.rules.clone();
    let [first, _, house] = flows(&loads(&stated));
    close(first, 10.0, 1e-9);
    // All leaks are 16 m³/h, all least changes 12.
    close(house, 16.0, 1e-9);
}

/// By shielding half the leaks come in at one time: 0.5 × (12 + 7.2) = 9.6 m³/h, while least
/// changes are 12: EN 12831:2003 takes the larger.
#[test]
fn leaks_by_shielding_against_least_air_changes() {
    let mut job = two_rooms("blower_door = 4\nair_changes = 0.15", "");
    job.rules.blower_door.value = BlowerDoorMethod::Shielding;
    job.rules.shielding.value = Quantity::from_si(0.03);
    job.rules.leakage_share.value = Quantity::from_si(0.5);
    let [first, second, house] = flows(&loads(&job));
    close(first, 12.0, 1e-9);
    close(second, 7.2, 1e-9);
    close(house, 12.0, 1e-9);
}

/// EN 12831:2003, 7.2.2: V'inf = 2 V n50 e ε = 2 × 50 × 4 × 0.03 × 1.0 = 12 m³/h; least 0.5/h.
#[test]
fn blower_door_by_shielding() {
    let mut job = two_rooms("blower_door = 4", "");
    job.rules.blower_door.value = BlowerDoorMethod::Shielding;
    job.rules.shielding.value = Quantity::from_si(0.03);
    job.rules.leakage_share.value = Quantity::from_si(0.5);
    job.rules.air_least.value = Quantity::from_si(0.0);
    close(flows(&loads(&job))[0], 12.0, 1e-9);
    job.rules.air_least.value = Quantity::from_si(0.5 / 3600.0);
    close(flows(&loads(&job))[0], 25.0, 1e-9);
}

/// Leakage area with wind and stack (ASHRAE driving force, H 2.5 m, 30 K, no flue):
/// 300 cm² × (51 + 2.5 × 30 × 0.35)/1000 L/s·cm² = 23.175 L/s = 83.43 m³/h, shared out by outside
/// area, and all of it in the house at one time.
#[test]
fn leakage_area_by_wind_and_stack() {
    let mut job = two_rooms("leakage_area = \"300 cm²\"", "");
    job.rules.air_least.value = Quantity::from_si(0.0);
    let loads = loads(&job);
    let [first, second, house] = flows(&loads);
    close(first + second, 83.43, 1e-6);
    close(house, 83.43, 1e-6);
    assert!(first > second);
}

/// Balanced ventilation with 80 % recovery: of 30 m³/h blown in a fifth weighs, on top of what is
/// stated to come in by itself (EN 12831 check: V'(1 − η)).
#[test]
fn heat_recovery() {
    let more = "\n[ventilation]\nsupply = 48\nexhaust = 48\nrecovery = \"80 %\"\n";
    let loads = loads(&two_rooms("air_changes = 0.1", more));
    let [first, _, house] = flows(&loads);
    // By volume 5 : 3.
    close(first, 5.0 + 30.0, 1e-9);
    close(house, 8.0 + 48.0, 1e-9);
    let first = &loads.rooms[0];
    close(first.per_degree.air.si(), (5.0 + 0.2 * 30.0) * PER_FLOW, 1e-6);
}

/// A fan that runs all the time draws outdoor air into its room; one that does not, does not.
#[test]
fn continuous_fan() {
    let fan = |continuous: bool| {
        format!("\n[fan.bath]\nroom = \"second\"\nflow = 40\ncontinuous = {continuous}\n")
    };
    let on = flows(&loads(&two_rooms("air_changes = 0.1", &fan(true))));
    close(on[0], 5.0, 1e-9);
    close(on[1], 3.0 + 40.0, 1e-9);
    close(on[2], 48.0, 1e-9);
    let off = flows(&loads(&two_rooms("air_changes = 0.1", &fan(false))));
    close(off[1], 3.0, 1e-9);
    // Air blown into the first room feeds the fan in the second: nothing more comes from outdoors.
    let fed = format!("{}\n[ventilation]\nsupply = 40\n", fan(true));
    let fed = flows(&loads(&two_rooms("air_changes = 0.1", &fed)));
    close(fed[2], 8.0 + 40.0, 1e-9);
}

/// Air that must be had, and not more, is met by what fans bring.
#[test]
fn assumed_air_change_gives_way_to_fans() {
    let more = "\n[ventilation]\nsupply = 80\nexhaust = 80\n";
    let job = two_rooms("built = 2000", more);
    let [first, ..] = flows(&loads(&job));
    // 80 m³/h over 80 m³ are 1/h, more than any assumed least.
    close(first, 50.0, 1e-9);
}
