//! Air that is moved on purpose: blown in, drawn off, with or without heat recovery.

use super::case::Case;
use crate::figure::Figure;
use quantity::{AirFlow, AirVolume, Ratio};

type Volume = Result<Figure<AirVolume>, String>;

/// Outdoor air that each room gets on purpose, by number: as it flows, and as it weighs after heat
/// recovery; none where there is none.
///
/// What the house draws off beyond what is blown in comes from outdoors through its leaks. It counts
/// in the rooms that draw it, in proportion: air that a bath draws out of a supplied bedroom is warm.
pub(super) fn moved(case: &Case<'_>, volumes: &[Volume]) -> Vec<Option<[Figure<AirFlow>; 2]>> {
    let supply = supplies(case, volumes);
    let exhaust = exhausts(case, volumes);
    let total =
        |flows: &[Option<Figure<AirFlow>>]| -> f64 { flows.iter().flatten().map(Figure::si).sum() };
    let excess = (total(&exhaust) - total(&supply)).max(0.0);
    let own_excess = |number: usize| {
        let of = |flows: &[Option<Figure<AirFlow>>]| flows[number].as_ref().map_or(0.0, Figure::si);
        (of(&exhaust) - of(&supply)).max(0.0)
    };
    let all_excess: f64 = (0..volumes.len()).map(own_excess).sum();
    (0..volumes.len())
        .map(|number| {
            let drawn = (excess > 0.0 && own_excess(number) > 0.0).then(|| {
                let from: Vec<_> = exhaust[number].iter().map(|flow| flow.work.clone()).collect();
                Figure::settled(
                    "outdoor air that fans draw in",
                    excess * own_excess(number) / all_excess,
                    "its part of what the house draws off beyond what is blown in",
                    from,
                )
            });
            together(case, supply[number].as_ref(), drawn)
        })
        .collect()
}

fn together(
    case: &Case<'_>,
    supply: Option<&Figure<AirFlow>>,
    drawn: Option<Figure<AirFlow>>,
) -> Option<[Figure<AirFlow>; 2]> {
    let weighed = supply.map(|supply| {
        let recovery = Figure::fact("heat recovery", &case.job.ventilation.recovery);
        let rest = Figure::<Ratio>::settled(
            "share that recovery leaves",
            1.0 - recovery.si(),
            "one less the recovery",
            vec![recovery.work.clone()],
        );
        Figure::product("supply air after recovery", &[&supply.work, &rest.work])
    });
    let flows: Vec<_> = supply.cloned().into_iter().chain(drawn.clone()).collect();
    let weighed: Vec<_> = weighed.into_iter().chain(drawn).collect();
    (!flows.is_empty()).then(|| {
        [
            Figure::sum("outdoor air by fans", &flows),
            Figure::sum("outdoor air by fans, after recovery", &weighed),
        ]
    })
}

/// Air blown into each room: its own, or its part by volume of the house's.
fn supplies(case: &Case<'_>, volumes: &[Volume]) -> Vec<Option<Figure<AirFlow>>> {
    let own: Vec<_> = case
        .envelope
        .enclosures
        .iter()
        .map(|one| {
            let stated = case.stated(&one.room)?.supply_air.as_ref()?;
            Some(Figure::fact("supply air", stated))
        })
        .collect();
    let house = case.job.ventilation.supply.as_ref();
    let house = house.map(|flow| Figure::fact("supply air of the house", flow));
    shared_out(case, own, house, volumes, "supply air")
}

/// Air drawn off from each room: its own and its continuous fans', or its part of the house's.
fn exhausts(case: &Case<'_>, volumes: &[Volume]) -> Vec<Option<Figure<AirFlow>>> {
    let running = || case.job.fans.iter().filter(|fan| fan.continuous.value);
    let of = |room: Option<&str>| -> Vec<Figure<AirFlow>> {
        running()
            .filter(|fan| fan.room.as_ref().map(|room| room.value.as_str()) == room)
            .filter_map(|fan| Some(Figure::fact(format!("fan {}", fan.key), fan.flow.as_ref()?)))
            .collect()
    };
    let own = case
        .envelope
        .enclosures
        .iter()
        .map(|one| {
            let stated = case.stated(&one.room).and_then(|room| room.exhaust_air.as_ref());
            let stated = stated.map(|flow| Figure::fact("exhaust air", flow));
            let flows: Vec<_> = stated.into_iter().chain(of(Some(&one.room))).collect();
            (!flows.is_empty()).then(|| Figure::sum("exhaust air", &flows))
        })
        .collect();
    let house = case.job.ventilation.exhaust.as_ref();
    let house = house.map(|flow| Figure::fact("exhaust air of the house", flow));
    let flows: Vec<_> = house.into_iter().chain(of(None)).collect();
    let house = (!flows.is_empty()).then(|| Figure::sum("exhaust air of the house", &flows));
    shared_out(case, own, house, volumes, "exhaust air")
}

/// Shares a flow of the house by volume over the heated rooms that have none of their own.
fn shared_out(
    case: &Case<'_>,
    own: Vec<Option<Figure<AirFlow>>>,
    house: Option<Figure<AirFlow>>,
    volumes: &[Volume],
    name: &str,
) -> Vec<Option<Figure<AirFlow>>> {
    let Some(house) = house else { return own };
    let rooms = || own.iter().zip(volumes).zip(&case.envelope.enclosures);
    let open = |flow: &Option<Figure<AirFlow>>, unheated: bool| flow.is_none() && !unheated;
    let shares: Vec<_> = rooms()
        .filter(|((flow, _), one)| open(flow, one.unheated))
        .filter_map(|((_, volume), _)| volume.as_ref().ok().cloned())
        .collect();
    let all = Figure::sum("air in the rooms that share it", &shares);
    rooms()
        .map(|((flow, volume), one)| match volume {
            Ok(volume) if open(flow, one.unheated) && all.si() > 0.0 => {
                let share: Figure<Ratio> =
                    Figure::quotient("share by volume", &volume.work, &all.work);
                Some(Figure::product(name, &[&house.work, &share.work]))
            }
            _ => flow.clone(),
        })
        .collect()
}
