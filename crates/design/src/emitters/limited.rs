//! What a floor may give where its parts have limits of their own.

use super::build_up::{BuildUp, ZoneResponse};
use super::floor::Floor;
use crate::figure::{Figure, How, Work};
use job::Job;
use laws::panel as law;
use quantity::{Area, HeatFlux, Length, Quantity, Ratio, Temperature};
use std::sync::Arc;

/// A part of a heated floor with a surface of its own, as designed.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatedPart {
    /// What it is: the rest of the floor, the band along outside walls, or a part that the text
    /// names.
    pub name: String,
    /// Its finish, by catalogue key.
    pub finish: String,
    /// Its floor that carries tube.
    pub area: Figure<Area>,
    /// Distance of its tubes.
    pub spacing: Figure<Length>,
    /// Heat per area upward.
    pub flux: Figure<HeatFlux>,
    /// Its mean temperature.
    pub surface: Figure<Temperature>,
    /// Hottest mean allowed there.
    pub surface_limit: Figure<Temperature>,
    /// Its warmest spot at the mean water temperature.
    pub warmest: Figure<Temperature>,
    /// Hottest spot allowed there.
    pub peak_limit: Figure<Temperature>,
}

/// Heat per area of the whole floor at which the first of its parts reaches its limit; none where
/// it is all one, or cannot be told.
pub(super) fn flux_limit(
    job: &Job,
    build_up: &BuildUp,
    spacing_m: f64,
    tube_w_mk: f64,
    room_k: f64,
) -> Option<Figure<HeatFlux>> {
    if build_up.parts().is_empty() {
        return None;
    }
    let beyond = build_up.beyond();
    let zones = build_up.zone_responses(spacing_m, tube_w_mk).ok()?;
    let at_limit_k = |zone: &ZoneResponse<'_>| {
        let limit_k = zone.zone.limit(job).mean.value.si();
        let most_w_m2 = law::floor_surface_heat_flux(limit_k.max(room_k), room_k);
        zone.response.excess_k(most_w_m2, room_k, &beyond)
    };
    let parts = zones.iter().filter(|zone| zone.zone.share > 0.0);
    let (first, excess_k) = parts
        .map(|zone| (zone, at_limit_k(zone)))
        .reduce(|one, other| if other.1 < one.1 { other } else { one })?;
    let whole = build_up.response(spacing_m, tube_w_mk).ok()?;
    let most = whole.up_w_m2(excess_k, room_k, &beyond).max(0.0);
    let rule = first.zone.limit(job).mean;
    let limit: Figure<Temperature> = Figure::rule("hottest floor allowed there", rule);
    let how = format!("all of its floor where the first part is at its limit: {}", first.zone.name);
    let mut from = vec![limit.work];
    from.extend(build_up.works());
    Some(Figure::settled("most heat the floor may give", most, how, from))
}

/// The parts of a floor at an excess of its water; none where it is all one.
pub(super) fn heated_parts(job: &Job, floor: &Floor, excess_k: f64) -> Vec<HeatedPart> {
    if floor.build_up.parts().is_empty() {
        return Vec::new();
    }
    let spacing_m = floor.spacing_laid.si();
    let zones = floor.build_up.zone_responses(spacing_m, floor.tube_w_mk).unwrap_or_default();
    let mut from = vec![floor.spacing_laid.work.clone(), floor.indoor.work.clone()];
    from.extend(floor.build_up.works());
    let zones = zones.iter().filter(|zone| zone.zone.share > 0.0);
    zones.map(|zone| heated_part(job, floor, zone, excess_k, &from)).collect()
}

fn heated_part(
    job: &Job,
    floor: &Floor,
    own: &ZoneResponse<'_>,
    excess_k: f64,
    from: &[Arc<Work>],
) -> HeatedPart {
    let (room_k, beyond) = (floor.indoor.si(), floor.build_up.beyond());
    let flux_w_m2 = own.response.up_w_m2(excess_k, room_k, &beyond);
    let over_room_k = law::floor_surface_temperature(flux_w_m2.max(0.0), room_k)[1];
    let limit = own.zone.limit(job);
    let how = "conduction in two dimensions through its own section, at the mean water temperature";
    let share = Figure::<Ratio>::taken_off(
        format!("share of the floor {}", own.zone.name),
        own.zone.share,
        "its area on the plan over that of all floor that can take tube",
    );
    let spacing = Figure::new(
        "distance of its tubes",
        own.spacing_m,
        How::Settled(
            "that of the room, closer in a band".to_owned(),
            vec![floor.spacing_laid.work.clone()],
        ),
    );
    HeatedPart {
        name: own.zone.name.clone(),
        finish: own.zone.finish.clone(),
        area: Figure::product("floor of the part", &[&share.work, &floor.area.work]),
        spacing,
        flux: Figure::settled("heat upward", flux_w_m2, how, from.to_vec()),
        surface: Figure::settled("mean of its surface", room_k + over_room_k, how, from.to_vec()),
        surface_limit: Figure::rule("hottest floor allowed there", limit.mean),
        warmest: Figure::settled(
            "its warmest spot",
            room_k + own.response.spots_k(excess_k, room_k, &beyond)[0],
            how,
            from.to_vec(),
        ),
        peak_limit: Figure::rule("hottest spot allowed there", limit.peak),
    }
}
