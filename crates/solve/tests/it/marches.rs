//! Water on its way against closed forms.

use crate::near;
use solve::march::{Link, Marched, Station, Strand, march};

const ROOM_C: f64 = 20.0;

/// Tubes of that length side by side, each linked to the next along its whole length.
struct Bank {
    length_m: f64,
    pieces: usize,
    /// Water to wall, wall to room, wall to neighbour, W/(m·K).
    wall_w_mk: f64,
    loss_w_mk: f64,
    link_w_mk: f64,
}

impl Bank {
    /// Marches tubes with that capacity and supply; those that flow back run the other way.
    fn march(&self, tubes: &[(f64, f64, bool)]) -> Marched {
        let own_m = self.length_m / self.pieces as f64;
        let station = Station {
            wall_w_k: self.wall_w_mk * own_m,
            loss_w_k: self.loss_w_mk * own_m,
            gain_w: self.loss_w_mk * own_m * ROOM_C,
        };
        let place = |tube: usize, piece: usize| {
            let along = if tubes[tube].2 { self.pieces - 1 - piece } else { piece };
            tube * self.pieces + along
        };
        let links =
            (1..tubes.len()).flat_map(|tube| (0..self.pieces).map(move |piece| (tube, piece)));
        let links: Vec<Link> = links
            .map(|(tube, piece)| Link {
                ends: [place(tube - 1, piece), place(tube, piece)],
                w_k: self.link_w_mk * own_m,
            })
            .collect();
        let strands: Vec<Strand> = tubes
            .iter()
            .enumerate()
            .map(|(number, (capacity_w_k, supply_c, _))| Strand {
                capacity_w_k: *capacity_w_k,
                supply_c: *supply_c,
                stations: number * self.pieces..(number + 1) * self.pieces,
            })
            .collect();
        march(&strands, &vec![station; tubes.len() * self.pieces], &links)
    }
}

/// One tube alone: the excess dies away as an exponential, however it is cut.
#[test]
fn a_tube_alone_cools_as_an_exponential() {
    let (wall, loss, capacity, length_m) = (7.5, 1.1, 90.0, 80.0_f64);
    let through = wall * loss / (wall + loss);
    let back_c = ROOM_C + 25.0 * (-through * length_m / capacity).exp();
    for pieces in [1, 7, 800] {
        let bank = Bank { length_m, pieces, wall_w_mk: wall, loss_w_mk: loss, link_w_mk: 0.0 };
        let marched = bank.march(&[(capacity, 45.0, false)]);
        near(marched.strands[0].back_c, back_c, 1e-10);
        near(marched.strands[0].heat_w, capacity * (45.0 - back_c), 1e-7);
    }
}

/// Two tubes without loss are a heat exchanger: effectiveness by its number of transfer units,
/// (1 - exp(-N (1 - r))) / (1 - r exp(-N (1 - r))) in counterflow and
/// (1 - exp(-N (1 + r))) / (1 + r) in parallel flow (Kays and London, Compact Heat Exchangers).
#[test]
fn two_tubes_are_a_heat_exchanger() {
    let bank =
        Bank { length_m: 40.0, pieces: 4000, wall_w_mk: 7.5, loss_w_mk: 0.0, link_w_mk: 2.5 };
    let through = 1.0 / (2.0 / 7.5 + 1.0 / 2.5);
    let (small, large) = (40.0, 90.0_f64);
    let (units, ratio) = (through * 40.0 / small, small / large);
    let against = (-units * (1.0 - ratio)).exp();
    for (back, effectiveness) in [
        (true, (1.0 - against) / (1.0 - ratio * against)),
        (false, (1.0 - (-units * (1.0 + ratio)).exp()) / (1.0 + ratio)),
    ] {
        let marched = bank.march(&[(small, 60.0, false), (large, 20.0, back)]);
        let most_w = small * 40.0;
        near(marched.strands[0].heat_w / most_w, effectiveness, 2e-6);
        near(marched.strands[1].heat_w / most_w, -effectiveness, 2e-6);
        near(marched.strands[0].back_c, 60.0 - 40.0 * effectiveness, 1e-4);
    }
}

/// Links bring two tubes closer to each other, and all heat that leaves water arrives.
#[test]
fn links_even_out_and_take_no_heat() {
    let bank =
        |link_w_mk| Bank { length_m: 30.0, pieces: 600, wall_w_mk: 7.5, loss_w_mk: 1.0, link_w_mk };
    let tubes = [(60.0, 45.0, false), (60.0, 35.0, true)];
    let (apart, linked) = (bank(0.0).march(&tubes), bank(2.0).march(&tubes));
    let spread = |it: &Marched| (it.wall_c[0] - it.wall_c[2 * 600 - 1]).abs();
    assert!(spread(&linked) < spread(&apart), "{} {}", spread(&linked), spread(&apart));
    for marched in [apart, linked] {
        assert!(marched.settled && marched.unbalanced < 1e-9, "{}", marched.unbalanced);
    }
}

/// Nothing is lost in a dense net of many loops, and none leaves the range of what drives it.
#[test]
fn energy_is_conserved_in_a_net() {
    let bank = Bank { length_m: 70.0, pieces: 700, wall_w_mk: 6.0, loss_w_mk: 0.8, link_w_mk: 4.0 };
    let tubes: Vec<(f64, f64, bool)> =
        (0..8).map(|i| (30.0 + 9.0 * f64::from(i), 40.0 + f64::from(i % 3), i % 2 == 0)).collect();
    let marched = bank.march(&tubes);
    assert!(marched.settled, "{} rounds", marched.rounds);
    assert!(marched.unbalanced < 1e-9, "{}", marched.unbalanced);
    let range = ROOM_C..=42.0 + 1e-9;
    assert!(marched.wall_c.iter().chain(&marched.water_c).all(|c| range.contains(c)));
    assert_eq!(marched, bank.march(&tubes));
}

/// Water that stands is as warm as what is around it; what makes no sense counts as nothing.
#[test]
fn standing_water_and_nonsense() {
    let bank = Bank { length_m: 10.0, pieces: 10, wall_w_mk: 7.5, loss_w_mk: 1.0, link_w_mk: 1.0 };
    let marched = bank.march(&[(0.0, 50.0, false), (80.0, 40.0, false)]);
    assert!(marched.wall_c[..10].iter().all(|c| (ROOM_C..30.0).contains(c)));
    near(marched.strands[0].heat_w, 0.0, 0.0);
    let station = Station { wall_w_k: f64::NAN, loss_w_k: -1.0, gain_w: f64::INFINITY };
    let strand = Strand { capacity_w_k: 1.0, supply_c: f64::NAN, stations: 0..9 };
    let odd = march(&[strand], &[station], &[Link { ends: [0, 7], w_k: 1.0 }]);
    assert!(odd.wall_c.iter().all(|c| c.is_finite()));
}
