//! A heated floor while it is being designed.

use super::below::Surroundings;
use super::build_up::{BuildUp, build_up};
use super::choose::decide_tube;
use super::limited;
use super::section::{Response, Sections};
use super::spacing::Wanted;
use crate::figure::{Figure, Given, How};
use crate::loads::RoomLoss;
use job::{Decided, FinishKind, Job, Room, RoomUse, Rule, SurfaceLimit, Tube};
use laws::panel as law;
use quantity::{
    Area, HeatFlux, Length, Power, Quantity, Temperature, TemperatureDifference, Transmittance,
};

/// A heated floor while it is being designed.
#[derive(Clone, Debug)]
pub(crate) struct Floor {
    /// The room's key.
    pub(crate) room: String,
    /// Number of the room in the job and in the envelope.
    pub(crate) number: usize,
    /// Floor that can take tube; once laid, that of its own loops.
    pub(crate) area: Figure<Area>,
    pub(crate) tube: Decided<String>,
    /// Whether it is that of a bath.
    pub(crate) is_bath: bool,
    pub(crate) build_up: BuildUp,
    pub(crate) load: RoomLoss,
    pub(crate) indoor: Figure<Temperature>,
    pub(crate) limit: Figure<Temperature>,
    /// Heat per area at which the floor reaches its limit.
    pub(crate) flux_limit: Figure<HeatFlux>,
    /// Heat per area that the room needs from its own loops, leaders' heat taken off once known.
    pub(crate) flux_needed: Figure<HeatFlux>,
    pub(crate) spacing: Decided<Length>,
    /// Spacing by which its output is found: as decided, once laid that of its loops on average.
    pub(crate) spacing_laid: Figure<Length>,
    /// From the fluid to the outside of its tube, W/mK: nominal until its flow is known.
    pub(crate) tube_w_mk: f64,
    /// What it gives at that spacing, as bare numbers.
    pub(crate) response: Response,
    pub(crate) coefficient: Figure<Transmittance>,
    /// Whether it counts for the water temperature: it has loops, or nothing has any.
    pub(crate) tubed: bool,
    /// The circuit that feeds it once laid, by key; none where the job names none.
    pub(crate) circuit: Option<String>,
}

impl Floor {
    /// Finds again what it gives, for another spacing or film; an answer it had stays otherwise.
    pub(super) fn answers(&mut self) {
        let build_up = &self.build_up;
        let spacing = &self.spacing_laid;
        if let Ok(response) = build_up.response(spacing.si(), self.tube_w_mk)
            && let Ok(coefficient) = build_up.output_coefficient(spacing, self.tube_w_mk)
        {
            (self.response, self.coefficient) = (response, coefficient);
        }
    }

    /// What lacks upward of conductance times excess, W/m²: see [`Response::lacking_w_m2`].
    pub(crate) fn lacking_w_m2(&self) -> f64 {
        self.response.lacking_w_m2(self.indoor.si(), &self.build_up.beyond())
    }

    /// Heat per area downward at an excess of the water over the room, edge included, W/m².
    pub(crate) fn down_w_m2(&self, excess_k: f64) -> f64 {
        self.response.down_w_m2(excess_k, self.indoor.si(), &self.build_up.beyond())
    }

    /// Takes the heat of leaders off what its own loops must give.
    pub(super) fn needs_less(&mut self, credit: Option<&Figure<Power>>) {
        let total = &self.load.heat.total;
        let needed = credit.map(|credit| total.less("heat the floor must give", credit));
        let work = needed.as_ref().map_or(&total.work, |needed| &needed.work);
        self.flux_needed = Figure::quotient("heat needed per heated floor", work, &self.area.work);
    }
}

/// The heated floor of a room; none where it has none.
pub(super) fn floor(
    around: &Surroundings<'_>,
    number: usize,
    loss: &RoomLoss,
    tube: &Tube,
    drop: &Figure<TemperatureDifference>,
    sections: &mut Sections,
) -> Result<Option<Floor>, String> {
    let Some(area) = loss.available.clone().filter(|area| area.si() > 0.0) else { return Ok(None) };
    let job = around.job;
    let (room, enclosure) = (&job.rooms[number], &around.envelope.enclosures[number]);
    let build_up = build_up(around, enclosure, room, tube, sections)?;
    let limit = surface_limit(job, room);
    let inputs = [Given::from(&limit), Given::from(&enclosure.indoor)];
    let flux_limit =
        Figure::by_law("most heat the floor may give", &law::FLOOR_SURFACE_HEAT_FLUX, &inputs)
            .unwrap_or_else(|_| Figure::new("most heat the floor may give", 0.0, how_cold()));
    let flux_needed =
        Figure::quotient("heat needed per heated floor", &loss.heat.total.work, &area.work);
    let target = flux_needed.si().clamp(0.0, flux_limit.si().max(0.0));
    let wanted = Wanted {
        job,
        room,
        build_up: &build_up,
        room_k: enclosure.indoor.si(),
        target_w_m2: target,
        drop_k: drop.si(),
        peak_k: peak_limit(job, room).si(),
    };
    let spacing = wanted.spacing();
    let shown = Figure::decided("tube spacing", spacing.value.si(), &spacing.reason);
    let tube_w_mk = build_up.nominal_tube_w_mk();
    let response = build_up.response(shown.si(), tube_w_mk)?;
    let coefficient = build_up.output_coefficient(&shown, tube_w_mk)?;
    let by_parts = limited::flux_limit(job, &build_up, shown.si(), tube_w_mk, wanted.room_k);
    Ok(Some(Floor {
        room: room.key.clone(),
        number,
        area,
        tube: decide_tube(job),
        is_bath: room.used_as.value == RoomUse::Bath,
        build_up,
        load: loss.clone(),
        indoor: enclosure.indoor.clone(),
        limit,
        flux_limit: by_parts.unwrap_or(flux_limit),
        flux_needed,
        spacing,
        spacing_laid: shown,
        tube_w_mk,
        response,
        coefficient,
        tubed: true,
        circuit: None,
    }))
}

fn how_cold() -> How {
    How::Decided("the room is warmer than its floor may be".to_owned())
}

/// Hottest floor allowed in a room: by its use, and by its finish.
fn surface_limit(job: &Job, room: &Room) -> Figure<Temperature> {
    Figure::rule("hottest floor allowed", limits(job, room).mean)
}

/// Hottest spot of the floor allowed in a room: by its use, and by its finish.
pub(crate) fn peak_limit<'a>(job: &'a Job, room: &Room) -> &'a Rule<Temperature> {
    limits(job, room).peak
}

fn limits<'a>(job: &'a Job, room: &Room) -> SurfaceLimit<'a> {
    let finish = job.catalogue.finish(&room.finish.value);
    let kind = finish.map_or(FinishKind::Bare, |finish| finish.kind);
    job.rules.surface_limit(room.used_as.value.into(), kind)
}
