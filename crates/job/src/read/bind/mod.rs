//! What was read, bound into a job; what is missing, assumed or told.

mod coils;
mod constructions;
mod floor;
mod heating;
mod house;
mod lines;
mod materials;
mod missing;
mod openings;
mod plant;
mod rooms;
mod rules;
mod shape;
mod walls;

use super::Context;
use super::sheet::Sheet;
use crate::decision::{Fact, Origin};
use crate::model::{Catalogue, Job};
use crate::schema::UNITS;
use lines::Lines;

pub(super) use materials::materials;

/// The job of a sheet.
pub(crate) fn job(sheet: &Sheet, context: &mut Context<'_>) -> Job {
    missing::tell(sheet, context);
    let job = Lines::single(sheet, "job");
    let units = units(&job, context);
    let rules_named: Fact<String> = job.text_fact("rules", context);
    let storeys = house::storeys(sheet);
    let rooms = rooms::rooms(sheet, &storeys, context);
    let slopes = shape::slopes(sheet, &rooms, context);
    let dormers = shape::dormers(sheet, &slopes, context);
    let parts = shape::Parts { rooms: &rooms, slopes: &slopes, dormers: &dormers };
    let house = house::house(sheet, context);
    let mut assemblies = constructions::assemblies(sheet, context);
    let of_rooms = rooms.iter().flat_map(|room| room.floor.iter().chain(&room.floor_among));
    let floors: Vec<_> = house.floor.iter().chain(&house.floor_between).chain(of_rooms).collect();
    let named = constructions::named_build_ups(&floors, &assemblies, &context.shelf.catalogue);
    assemblies.extend(named);
    Job {
        name: job.text_fact("name", context),
        units,
        note: job.text("note"),
        rules: rules::rules(sheet, &rules_named.value, context),
        catalogue: catalogue(context),
        rules_named,
        outdoors: house::outdoors(sheet, context),
        house,
        heating: heating::heating(sheet, context),
        rates: heating::rates(sheet),
        assemblies,
        surfaces: rooms::surfaces(sheet, context),
        openings: openings::openings(sheet, &parts, context),
        floor_parts: rooms::floor_parts(sheet, context),
        keep_outs: rooms::keep_outs(sheet, context),
        fixtures: floor::fixtures(sheet),
        joints: floor::joints(sheet, context),
        manifolds: heating::manifolds(sheet, context),
        manifold_places: heating::manifold_places(sheet),
        coils: coils::coils(sheet, context),
        laid: coils::laid(sheet),
        held_loops: coils::held(sheet, context),
        ventilation: house::ventilation(sheet, context),
        fans: house::fans(sheet, context),
        fuel: house::fuel(sheet, context),
        spaces: rooms::spaces(sheet, context),
        grades: shape::grades(sheet, &rooms, context),
        voids: shape::voids(sheet, context),
        face_rules: shape::face_rules(sheet, &parts, context),
        framings: constructions::framings(sheet, context),
        bay_blocks: constructions::bay_blocks(sheet, context),
        passages: plant::passages(sheet, context),
        mains: plant::mains(sheet),
        parts: plant::parts(sheet),
        circuits: heating::circuits(sheet),
        zones: plant::zones(sheet),
        zone_parts: plant::zone_parts(sheet, context),
        emitters: heating::emitters(sheet, context),
        storeys,
        rooms,
        slopes,
        dormers,
    }
}

/// The catalogue with the job's own materials behind it.
fn catalogue(context: &Context<'_>) -> Catalogue {
    let mut catalogue = context.shelf.catalogue.clone();
    catalogue.materials.extend(context.materials.iter().cloned());
    catalogue
}

fn units(job: &Lines<'_>, context: &mut Context<'_>) -> Fact<quantity::System> {
    let word: Fact<String> = job.text_fact("units", context);
    let units = UNITS.iter().find(|(name, _)| *name == word.value).map(|(_, units)| *units);
    Fact { value: units.unwrap_or_default(), origin: word.origin }
}

/// A fact that something else of the job states.
fn inherited<T: Clone>(fact: &Fact<T>) -> Fact<T> {
    let origin = match &fact.origin {
        Origin::Stated(place) | Origin::Measured(place) => Origin::Inherited(*place),
        Origin::Supposed(place) | Origin::Inherited(place) => Origin::Inherited(*place),
        Origin::Assumed(why) => Origin::Assumed(why.clone()),
    };
    Fact { value: fact.value.clone(), origin }
}
