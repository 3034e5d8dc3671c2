//! Held decisions are obeyed, and holding all of them changes nothing.

use crate::{CABIN, FLAT, close, design, job};
use design::Memo;
use quantity::Quantity;

#[test]
fn holding_every_decision_gives_the_identical_design() {
    let band = "\n[keep_out.band]\nroom = \"great\"\nstart = [\"0\", \"11'\"]\noutline = \"E 15', N 2', W \
                15', S 2'\"\n";
    let in_pieces = format!("{CABIN}{band}");
    for text in [CABIN, FLAT, &in_pieces] {
        let open = design(text);
        let held_text = job::apply(text, &open.hold_all(&job(text))).unwrap();
        let held = design(&held_text);
        assert_eq!(open.loops.len(), held.loops.len());
        for (one, other) in open.loops.iter().zip(&held.loops) {
            assert_eq!(one.key, other.key);
            assert_eq!(one.path, other.path);
            assert_eq!(one.leader, other.leader);
            assert_eq!(one.length.si(), other.length.si());
        }
        for (one, other) in open.flows.loops.iter().zip(&held.flows.loops) {
            assert_eq!(one.flow.si(), other.flow.si());
            assert_eq!(one.head.si(), other.head.si());
        }
        for (one, other) in open.emitters.floors.iter().zip(&held.emitters.floors) {
            assert_eq!(one.output.si(), other.output.si());
            assert!(other.spacing.is_held());
        }
        assert!(held.emitters.waters.iter().all(|water| water.supply.is_held()));
        for (one, other) in open.loads.rooms.iter().zip(&held.loads.rooms) {
            assert_eq!(one.heat.total.si(), other.heat.total.si());
        }
        assert_eq!(open.balance.rounds, held.balance.rounds);
    }
}

#[test]
fn held_values_are_obeyed() {
    let text = crate::with(CABIN, "supply = \"auto\"", "supply = 117");
    let text = crate::with(&text, "indoor = 72", "indoor = 72\nloops = 2");
    let text = crate::with(&text, "indoor = 70", "indoor = 70\nspacing = \"8 in\"\nloops = 3");
    let design = design(&text);
    close(design.emitters.hottest().unwrap().si(), 320.372_222_2, 1e-6);
    let loops = |room: &str| design.loops.iter().filter(|l| l.room == room).count();
    assert_eq!((loops("bath"), loops("great")), (2, 3));
    let great = design.emitters.floors.iter().find(|floor| floor.room == "great").unwrap();
    close(great.spacing.value.si(), 0.2032, 1e-12);
    assert!(great.spacing.is_held());
    for tube_loop in design.loops.iter().filter(|l| l.room == "great") {
        // The laid spacing fits the room within 9 %.
        assert!((tube_loop.spacing_laid_m / 0.2032 - 1.0).abs() < 0.091);
    }
}

#[test]
fn a_new_room_renumbers_nothing() {
    let before = design(CABIN);
    let more = format!(
        "{}\n[room.shed]\nstorey = \"main\"\nstart = [\"60'\", \"0\"]\noutline = \"E 6', N 6', W 6', S 6'\"\n",
        CABIN
    );
    let after = design::design(&crate::read(&more).0, &mut Memo::new());
    for one in &before.loops {
        let same = after.loops.iter().find(|other| other.key == one.key).unwrap();
        assert_eq!(one.path, same.path);
    }
}

/// Released, the bath's held 6 in goes to a wider spacing and saves tube.
#[test]
fn a_hold_has_its_cost() {
    let job = job(CABIN);
    let cost = design::hold_cost(&job, "room.bath.spacing", &mut Memo::new()).unwrap();
    let [held, released] = cost.tube.map(Quantity::si);
    assert!(held > released + 5.0, "{held} m against {released} m");
    assert_eq!(cost.stops, [0, 0]);
    assert_eq!(design::hold_cost(&job, "room.great.spacing", &mut Memo::new()), None);
    assert_eq!(design::hold_cost(&job, "nonsense", &mut Memo::new()), None);
}
