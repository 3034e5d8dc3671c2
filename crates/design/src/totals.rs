//! Sums over rooms and loops, as the papers show them.

use crate::emitters::{Emitters, HeatedFloor, lost_below};
use crate::envelope::Envelope;
use crate::figure::Figure;
use crate::flow::Flows;
use crate::loads::{GroupLoss, Loads, RoomLoss, Split};
use crate::loops::TubeLoop;
use quantity::{Area, Flow, Head, Length, Power, Quantity, Volume};

/// Sums over the job; none where nothing is there to sum.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Totals {
    /// Floor area of all rooms.
    pub floor_area: Option<Figure<Area>>,
    /// Heated floor of all rooms.
    pub heated_area: Option<Figure<Area>>,
    /// Loss to outdoors of all rooms.
    pub outdoors: Option<Figure<Power>>,
    /// Loss for outdoor air of all rooms.
    pub air: Option<Figure<Power>>,
    /// Loss to spaces and rooms that nobody heats, of all rooms.
    pub unheated: Option<Figure<Power>>,
    /// Loss into the ground from floor without tube.
    pub ground: Option<Figure<Power>>,
    /// Loss to neighbouring rooms, which cancels inside the house.
    pub neighbours: Option<Figure<Power>>,
    /// Heat that floors lose to the ground, outdoors and unheated spaces, beside the loss of the
    /// house.
    pub lost_below: Option<Figure<Power>>,
    /// What the source must make on the design day: the loss of the house and of floors below.
    pub to_make: Option<Figure<Power>>,
    /// Heat that all floors give.
    pub output: Option<Figure<Power>>,
    /// Floor of all loops.
    pub loop_area: Option<Figure<Area>>,
    /// Tube in all fields.
    pub field_length: Option<Figure<Length>>,
    /// Tube in all leaders.
    pub leader_length: Option<Figure<Length>>,
    /// Tube in all risers and tails.
    pub tail_length: Option<Figure<Length>>,
    /// All tube.
    pub tube: Option<Figure<Length>>,
    /// Water in all loops.
    pub volume: Option<Figure<Volume>>,
    /// Heat to the rooms from all fields.
    pub heat_up: Option<Figure<Power>>,
    /// Flow of all loops.
    pub flow: Option<Figure<Flow>>,
    /// Head of the loop that needs most.
    pub head: Option<Figure<Head>>,
    /// Bends tighter than the tube allows.
    pub tight_bends: usize,
    /// The rooms of each storey, in the order of the text.
    pub storeys: Vec<StoreyTotals>,
}

/// Plain sums over the rooms of one storey; none where nothing is there to sum.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StoreyTotals {
    /// The storey's key.
    pub storey: String,
    /// Floor area.
    pub floor_area: Option<Figure<Area>>,
    /// Heated floor.
    pub heated_area: Option<Figure<Area>>,
    /// Loss to outdoors.
    pub outdoors: Option<Figure<Power>>,
    /// Loss to spaces and rooms that nobody heats.
    pub unheated: Option<Figure<Power>>,
    /// Loss into the ground from floor without tube.
    pub ground: Option<Figure<Power>>,
    /// Loss to neighbouring rooms.
    pub neighbours: Option<Figure<Power>>,
    /// Loss for outdoor air.
    pub air: Option<Figure<Power>>,
    /// Loss in all.
    pub loss: Option<Figure<Power>>,
    /// Heat that its floors give.
    pub output: Option<Figure<Power>>,
}

impl StoreyTotals {
    fn of(storey: &GroupLoss, envelope: &Envelope, loads: &Loads, emitters: &Emitters) -> Self {
        let has = |room: &str| storey.rooms.iter().any(|key| key == room);
        let rooms: Vec<&RoomLoss> = loads.rooms.iter().filter(|it| has(&it.room)).collect();
        let floors: Vec<&HeatedFloor> = emitters.floors.iter().filter(|it| has(&it.room)).collect();
        let areas = envelope.enclosures.iter().filter(|it| has(&it.room));
        let of = |name: &str, part: fn(&Split<Power>) -> &Figure<Power>| {
            let name = format!("{name}, rooms of {}", storey.name);
            sum(&name, rooms.iter().map(|it| part(&it.heat)))
        };
        let heated = format!("heated area of {}", storey.name);
        StoreyTotals {
            storey: storey.key.clone(),
            floor_area: sum(
                &format!("floor area of {}", storey.name),
                areas.filter_map(|it| it.area.as_ref()),
            ),
            heated_area: sum(&heated, floors.iter().map(|it| &it.area)),
            outdoors: of("loss to outdoors", |heat| &heat.outdoors),
            unheated: of("loss to unheated spaces", |heat| &heat.unheated),
            ground: of("loss to the ground", |heat| &heat.ground),
            neighbours: of("loss to neighbours", |heat| &heat.neighbours),
            air: of("loss to air", |heat| &heat.air),
            loss: of("heat loss", |heat| &heat.total),
            output: sum(
                &format!("output of floors of {}", storey.name),
                floors.iter().map(|it| &it.output),
            ),
        }
    }
}

impl Totals {
    /// The sums of these stages.
    pub fn of(
        envelope: &Envelope,
        loads: &Loads,
        emitters: &Emitters,
        loops: &[TubeLoop],
        flows: &Flows,
    ) -> Self {
        let (rooms, floors, water) = (&loads.rooms, &emitters.floors, &flows.loops);
        let heads: Vec<Figure<Head>> = water.iter().map(|flow| flow.head.clone()).collect();
        let areas = envelope.enclosures.iter().filter_map(|enclosure| enclosure.area.as_ref());
        let lost_below = lost_below(envelope, emitters);
        let house = loads.house.as_ref().map(|house| &house.heat.total);
        let to_make = house.map(|house| {
            let both: Vec<Figure<Power>> =
                [house].into_iter().chain(&lost_below).cloned().collect();
            Figure::sum("heat to make on the design day", &both)
        });
        Totals {
            lost_below,
            to_make,
            floor_area: sum("floor area of all rooms", areas),
            heated_area: sum("heated area of all rooms", floors.iter().map(|it| &it.area)),
            outdoors: sum(
                "loss to outdoors of all rooms",
                rooms.iter().map(|it| &it.heat.outdoors),
            ),
            air: sum("loss to air of all rooms", rooms.iter().map(|it| &it.heat.air)),
            unheated: sum(
                "loss to unheated spaces of all rooms",
                rooms.iter().map(|it| &it.heat.unheated),
            ),
            ground: sum("loss to the ground of all rooms", rooms.iter().map(|it| &it.heat.ground)),
            neighbours: sum(
                "loss to neighbours of all rooms",
                rooms.iter().map(|it| &it.heat.neighbours),
            ),
            output: sum("output of all floors", floors.iter().map(|it| &it.output)),
            loop_area: sum("area of all loops", loops.iter().map(|it| &it.area)),
            field_length: sum("field of all loops", loops.iter().map(|it| &it.field_length)),
            leader_length: sum("leaders of all loops", loops.iter().map(|it| &it.leader_length)),
            tail_length: sum(
                "risers and tails of all loops",
                loops.iter().map(|it| &it.tail_length),
            ),
            tube: sum("tube of all loops", loops.iter().map(|it| &it.length)),
            volume: sum("water in all loops", loops.iter().map(|it| &it.volume)),
            heat_up: sum("heat up of all loops", water.iter().map(|it| &it.heat_up)),
            flow: sum("flow of all loops", water.iter().map(|it| &it.flow)),
            head: Figure::largest("head of the loop that needs most", &heads),
            tight_bends: loops.iter().map(|it| it.tight_bends.len()).sum(),
            storeys: loads
                .storeys
                .iter()
                .map(|storey| StoreyTotals::of(storey, envelope, loads, emitters))
                .collect(),
        }
    }
}

fn sum<'a, Q: Quantity>(
    name: &str,
    parts: impl Iterator<Item = &'a Figure<Q>>,
) -> Option<Figure<Q>> {
    let parts: Vec<Figure<Q>> = parts.cloned().collect();
    (!parts.is_empty()).then(|| Figure::sum(name, &parts))
}
