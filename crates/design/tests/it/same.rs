//! The same in, the same out: memo, threads, unit systems.

use crate::{CABIN, FLAT, close, design, job, with};
use design::Memo;

#[test]
fn with_and_without_a_memo() {
    let mut memo = Memo::new();
    let texts = [
        CABIN.to_owned(),
        with(CABIN, "indoor = 70", "indoor = 72"),
        with(CABIN, "N 10'7 1/2, W 12'7 1/2, S 10'7 1/2", "N 10', W 12'7 1/2, S 10'"),
        FLAT.to_owned(),
        CABIN.to_owned(),
    ];
    for text in &texts {
        let (job, _) = crate::read(text);
        let fresh = design::design(&job, &mut Memo::new());
        assert_eq!(design::design(&job, &mut memo), fresh);
    }
}

#[test]
fn on_any_number_of_threads() {
    let expected = design(CABIN);
    std::thread::scope(|scope| {
        let runs: Vec<_> = (0..4).map(|_| scope.spawn(|| design(CABIN))).collect();
        for run in runs {
            assert_eq!(run.join().unwrap(), expected);
        }
    });
}

/// The same room stated in trade units and in SI is the same room.
#[test]
fn trade_units_and_si_agree() {
    let us = r#"
firstheat = 1
[job]
units = "us"
rules = "eu"
[outdoors]
design = 14
annual_mean = 46.4
altitude = 1000
[house]
air_changes = 0.5
wall = "wall"
ceiling = "ceiling"
[storey.ground]
height = 8
[assembly.wall]
layers = ["R-20"]
[assembly.ceiling]
u = 0.05
[room.only]
outline = "E 20, N 10, W 20, S 10"
indoor = 68
heated = false
below = "heated"
"#;
    let si = r#"
firstheat = 1
[job]
units = "si"
rules = "eu"
[outdoors]
design = -10
annual_mean = 8
altitude = 304.8
[house]
air_changes = 0.5
wall = "wall"
ceiling = "ceiling"
[storey.ground]
height = 2.4384
[assembly.wall]
layers = ["3.5222 m²K/W"]
[assembly.ceiling]
u = 0.283913
[room.only]
outline = "E 6.096, N 3.048, W 6.096, S 3.048"
indoor = 20
heated = false
below = "heated"
"#;
    let [us, si] = [us, si].map(|text| design::design(&job(text), &mut Memo::new()));
    let (us, si) = (&us.loads.rooms[0], &si.loads.rooms[0]);
    close(us.heat.total.si() / si.heat.total.si(), 1.0, 1e-5);
    close(us.heat.air.si() / si.heat.air.si(), 1.0, 1e-9);
}

/// Which system is shown first changes words, never numbers.
#[test]
fn findings_speak_both_systems() {
    let text = with(CABIN, "supply = \"auto\"", "supply = \"95 F\"");
    let short = |text: &str| {
        let design = design::design(&crate::read(text).0, &mut Memo::new());
        design.findings.into_iter().find(|finding| finding.kind == "floor-short").unwrap()
    };
    let message = short(&text).message;
    assert!(message.contains("95.0 °F (35.0 °C)"), "{message}");
    let text = with(FLAT, "supply = \"auto\"", "supply = 30");
    let message = short(&text).message;
    assert!(message.contains("30.0 °C (86.0 °F)"), "{message}");
}
