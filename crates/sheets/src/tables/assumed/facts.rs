//! Facts of the job, one by one, in the order of the reference.

use super::List;
use crate::source::spoken;
use crate::tables::space_kind;
use job::{Faces, Fluid, Job, Room, RoomUse};

fn yes(value: &bool) -> String {
    if *value { "yes" } else { "no" }.to_owned()
}

pub(super) fn whole_job(list: &mut List<'_>, job: &Job) {
    let (outdoors, house, heating) = (&job.outdoors, &job.house, &job.heating);
    list.maybe("outdoor temperature, design day", "", outdoors.design.as_ref());
    list.maybe("outdoor temperature, mean of the year", "", outdoors.annual_mean.as_ref());
    list.maybe("swing of the ground's surface", "", outdoors.ground_swing.as_ref());
    list.quantity("height above the sea", "", &outdoors.altitude);
    list.quantity("conductivity of the ground", "", &outdoors.ground);
    list.quantity("wind of the design hour", "", &outdoors.wind);
    if let Some(built) = &house.built {
        list.words("year it was built", "", built, u32::to_string);
    }
    list.quantity("air changes", "", &house.air_changes);
    list.maybe("air change at 50 Pa", "", house.blower_door.as_ref());
    list.maybe("area of all leaks", "", house.leakage_area.as_ref());
    list.quantity("share of the leaks that a flue makes", "", &house.flue_share);
    list.quantity("thickest wall between rooms", "", &house.thickest_wall);
    let fluid = |fluid: &Fluid| match fluid {
        Fluid::Water => "water".to_owned(),
        Fluid::PropyleneGlycol => "water with propylene glycol".to_owned(),
    };
    list.words("fluid", "", &heating.fluid, fluid);
    if heating.fluid.value != Fluid::Water {
        list.quantity("glycol by volume", "", &heating.glycol);
    }
    list.maybe("head that the pump has for one loop", "", heating.head.as_ref());
    list.maybe("extra heat to warm up", "", heating.reheat.as_ref());
    list.words("rule set", "", &job.rules_named, String::clone);
    let air = &job.ventilation;
    list.maybe("air blown into the house", "", air.supply.as_ref());
    list.maybe("air drawn off the house", "", air.exhaust.as_ref());
    if air.supply.is_some() || air.exhaust.is_some() {
        list.quantity("heat recovered from the air drawn off", "", &air.recovery);
    }
    for fan in &job.fans {
        list.maybe("air that the fan draws", &fan.key, fan.flow.as_ref());
        list.words("fan runs all the time", &fan.key, &fan.continuous, yes);
    }
    if let Some(bill) = &job.fuel {
        list.maybe("fuel burnt in the year", "", bill.energy.as_ref());
        list.maybe("degree-days of the year", "", bill.degree_days.as_ref());
        list.quantity("share of the fuel that reached the house", "", &bill.efficiency);
        list.quantity("share of the fuel for other use", "", &bill.other_use);
    }
}

pub(super) fn storeys_and_spaces(list: &mut List<'_>, job: &Job) {
    for storey in &job.storeys {
        let name = spoken(&storey.key);
        list.maybe("ceiling height of the storey", &name, storey.height.as_ref());
        list.maybe("floor to floor", &name, storey.floor_to_floor.as_ref());
        list.maybe("level of the floor", &name, storey.level.as_ref());
        list.maybe("ground over the floor", &name, storey.ground.as_ref());
    }
    for space in &job.spaces {
        let name = space.name.value.as_str();
        list.words("kind of space", name, &space.kind, |kind| space_kind(*kind).to_owned());
        list.words("space has windows or openings", name, &space.open, yes);
        list.words("outer side of the space is insulated", name, &space.insulated, yes);
        list.maybe("temperature of the space", name, space.temperature.as_ref());
        list.maybe("factor of the space", name, space.factor.as_ref());
        list.maybe("heat loss of the space", name, space.loss.as_ref());
        list.maybe("air in the space", name, space.volume.as_ref());
        list.maybe("air changes of the space", name, space.air_changes.as_ref());
    }
}

pub(super) fn of_room(list: &mut List<'_>, room: &Room) {
    let name = room.name.value.as_str();
    list.words("nobody heats it", name, &room.unheated, yes);
    if !room.unheated.value {
        list.quantity("indoor temperature", name, &room.indoor);
    }
    list.maybe("floor area", name, room.area.as_ref());
    list.maybe("ceiling height", name, room.height.as_ref());
    list.quantity("floor over that of the storey", name, &room.offset);
    list.maybe("air changes of the room", name, room.air_changes.as_ref());
    list.maybe("air blown in", name, room.supply_air.as_ref());
    list.maybe("air drawn off", name, room.exhaust_air.as_ref());
    let used = |used: &RoomUse| match used {
        RoomUse::Living => "people stay in it".to_owned(),
        RoomUse::Bath => "bath".to_owned(),
        RoomUse::Utility => "nobody stays in it".to_owned(),
    };
    list.words("use", name, &room.used_as, used);
    let heated = |heated: &bool| if *heated { "heated" } else { "not heated" }.to_owned();
    list.words("heated floor", name, &room.heated, heated);
    list.words("floor finish", name, &room.finish, String::clone);
    list.words("above the ceiling", name, &room.above, faces);
    list.words("below the floor", name, &room.below, faces);
    list.maybe("how much higher the floor may get", name, room.allowance.height.as_ref());
    list.maybe("how much heavier the floor may get", name, room.allowance.weight.as_ref());
    if let Some(rugs) = &room.rugs {
        list.quantity("share of floor under rugs", name, &rugs.share);
        list.quantity("resistance of rugs", name, &rugs.resistance);
    }
}

fn faces(faces: &Faces) -> String {
    match faces {
        Faces::Outdoors => "outdoors, or as cold as outdoors".to_owned(),
        Faces::Ground => "the ground".to_owned(),
        Faces::Heated => "a heated space".to_owned(),
        Faces::NextHouse => "the next house".to_owned(),
        Faces::Space(key) => format!("space {key}"),
        Faces::Room(key) => format!("room {key}"),
    }
}

/// Slopes, dormers, ground against walls, openings, stated surfaces.
pub(super) fn shapes(list: &mut List<'_>, job: &Job) {
    for slope in &job.slopes {
        list.maybe("height at the foot of the slope", &slope.key, slope.low.as_ref());
        list.maybe("pitch of the slope", &slope.key, slope.pitch.as_ref());
    }
    for dormer in &job.dormers {
        list.maybe("width of the dormer", &dormer.key, dormer.width.as_ref());
        list.maybe("ceiling of the dormer", &dormer.key, dormer.height.as_ref());
        list.quantity("set-back of the dormer", &dormer.key, &dormer.set_back);
    }
    for grade in &job.grades {
        list.maybe("ground at the wall's left end", &grade.key, grade.left.as_ref());
        list.maybe("ground at the wall's right end", &grade.key, grade.right.as_ref());
    }
    for opening in &job.openings {
        list.maybe("width of the opening", &opening.key, opening.width.as_ref());
        list.maybe("height of the opening", &opening.key, opening.height.as_ref());
        list.maybe("sill of the opening", &opening.key, opening.sill.as_ref());
    }
    for surface in &job.surfaces {
        list.words("behind the surface", &surface.key, &surface.faces, faces);
        list.maybe("area of the surface", &surface.key, surface.area.as_ref());
        list.maybe("exposed edge of the surface", &surface.key, surface.exposed_edge.as_ref());
    }
}

/// Edges, gaps and fixings of constructions.
pub(super) fn constructions(list: &mut List<'_>, job: &Job) {
    for assembly in &job.assemblies {
        let name = spoken(&assembly.key);
        list.maybe("insulation at the edge", &name, assembly.edge.as_ref());
        list.maybe("depth of the edge's insulation", &name, assembly.edge_depth.as_ref());
        list.maybe("width of the edge's insulation", &name, assembly.edge_width.as_ref());
        list.words("level of gaps in the insulation", &name, &assembly.gaps, u32::to_string);
        if let Some(fixings) = &assembly.fixings {
            list.quantity("fixings in each square metre", &name, &fixings.per_square_metre);
            list.quantity("section of a fixing", &name, &fixings.section);
            list.quantity("conductivity of a fixing", &name, &fixings.conductivity);
        }
    }
}

/// Manifolds, mains, parts and other emitters.
pub(super) fn plant(list: &mut List<'_>, job: &Job) {
    for manifold in &job.manifolds {
        list.quantity("height of the manifold", &manifold.key, &manifold.height);
        list.quantity("free tail at each tube end", &manifold.key, &manifold.tail);
    }
    for coil in &job.coils {
        list.maybe("tube on the coil", &coil.key, coil.length.as_ref());
        list.quantity("mark at the start of the coil", &coil.key, &coil.start);
        list.maybe("mark at the end of the coil", &coil.key, coil.end.as_ref());
        if let Some(count) = &coil.on_hand {
            list.words("coils on hand", &coil.key, count, u32::to_string);
        }
    }
    for laid in &job.laid {
        list.quantity("mark at the supply port", &laid.key, &laid.start);
        list.quantity("mark at the return port", &laid.key, &laid.end);
    }
    for framing in &job.framings {
        list.maybe("depth of joists", &framing.key, framing.depth.as_ref());
        list.maybe("spacing of joists", &framing.key, framing.spacing.as_ref());
        list.maybe("direction of joists", &framing.key, framing.direction.as_ref());
    }
    for passage in &job.passages {
        list.maybe("width of the passage", &passage.key, passage.width.as_ref());
    }
    for main in &job.mains {
        list.maybe("length of the main, one way", &main.key, main.length.as_ref());
    }
    for part in &job.parts {
        list.maybe("height of the part", &part.key, part.height.as_ref());
        list.maybe("heating water in the part", &part.key, part.water.as_ref());
        list.maybe("tap water in the part", &part.key, part.storage.as_ref());
        list.maybe("rated output of the part", &part.key, part.output.as_ref());
    }
    for emitter in &job.emitters {
        list.maybe("rated output", &emitter.key, emitter.output.as_ref());
        list.quantity("supply of the rating", &emitter.key, &emitter.rated_supply);
        list.quantity("return of the rating", &emitter.key, &emitter.rated_return);
        list.quantity("room of the rating", &emitter.key, &emitter.rated_room);
        list.quantity("exponent of the output", &emitter.key, &emitter.exponent);
    }
}
