//! A hand-made design for a job: plain numbers, real geometry, no physics.

use design::emitters::{Emitters, HeatedFloor, Water, WaterRule};
use design::envelope::{Enclosure, Envelope, PlacedOpening};
use design::flow::{Flows, LoopFlow, ManifoldFlow};
use design::loads::{Loads, RoomLoss, Split};
use design::loops::{Layout, Leader, LoopRoom, TubeLoop};
use design::{Balance, Design, Figure, How, Totals};
use job::{
    Decided, DropRule, Finding, Job, Mend, Opening, Promise, Reason, Room, Severity, SupplyRule,
    Where,
};
use plane::fill::{FillSpec, counterflow};
use plane::{Path, Point, Region};
use quantity::{Area, Power, Quantity, Temperature};

/// A design of rooms with outlines, one loop each.
pub(crate) fn design(job: &Job) -> Design {
    let mut out = Design {
        build_ups: Vec::new(),
        responses: Vec::new(),
        floor_choices: Vec::new(),
        tube_choice: None,
        placements: job.manifolds.iter().filter_map(placement).collect(),
        envelope: Envelope::default(),
        loads: Loads::default(),
        emitters: Emitters {
            floors: Vec::new(),
            waters: Vec::new(),
            rule: WaterRule {
                supply_for: Decided::chosen(SupplyRule::AllRooms, "made by hand"),
                drops: Decided::chosen(DropRule::Own, "made by hand"),
            },
            governed: Vec::new(),
            groups: Vec::new(),
            helpers: Vec::new(),
        },
        layouts: Vec::new(),
        joist_floors: Vec::new(),
        fixtures: Vec::new(),
        joint_crossings: Vec::new(),
        boards: Vec::new(),
        loops: Vec::new(),
        flows: Flows::default(),
        coils: Default::default(),
        totals: Totals::default(),
        findings: Vec::new(),
        revisions: vec!["closer spacing in the bath".to_owned()],
        balance: Balance { rounds: 4, last_change_w: 0.01, settled: true },
    };
    for room in &job.rooms {
        add_room(&mut out, job, room);
    }
    out.envelope.openings = job.openings.iter().filter_map(|it| opening(&out, it)).collect();
    let totals: Vec<_> = out.loads.rooms.iter().map(|it| it.heat.total.clone()).collect();
    out.loads.total = (!totals.is_empty()).then(|| Figure::sum("heat loss of the house", &totals));
    let why = Reason::Chosen("the bath needs it".to_owned());
    out.emitters.waters.extend(job.rooms.first().map(|room| Water {
        circuit: None,
        supply: Decided { value: Temperature::from_si(311.15), reason: why },
        governing: room.key.clone(),
    }));
    if let (Some(manifold), false) = (job.manifolds.first(), out.loops.is_empty()) {
        out.flows.manifolds.push(manifold_flow(&manifold.key, &out.flows.loops));
    }
    out.totals = Totals::of(&out.envelope, &out.loads, &out.emitters, &out.loops, &out.flows);
    out
}

fn figure<Q: Quantity>(name: &str, si: f64) -> Figure<Q> {
    Figure::new(name, si, How::Decided("made by hand".to_owned()))
}

fn add_room(out: &mut Design, job: &Job, room: &Room) {
    let region = room.outline.as_ref().and_then(|it| Region::simple(it.corners.clone()).ok());
    let area: Option<Figure<Area>> = match (&region, &room.area) {
        (Some(region), _) => {
            Some(Figure::taken_off("floor area", region.area_m2(), "inside faces"))
        }
        (None, Some(area)) => Some(Figure::fact("floor area", area)),
        (None, None) => None,
    };
    out.envelope.enclosures.push(Enclosure {
        room: room.key.clone(),
        floor: region.clone(),
        free: region.clone().into_iter().collect(),
        area: area.clone(),
        height: room.height.as_ref().map(|it| Figure::fact("ceiling height", it)),
        volume: None,
        level_m: 0.0,
        outside_area: Figure::sum("outside", &[]),
        unheated: false,
        faces: Vec::new(),
        exposed_edge: None,
        indoor: Figure::fact("indoor temperature", &room.indoor),
        place: room.place,
    });
    let Some(area) = area else { return };
    let loss = |name: &str, share: f64| figure::<Power>(name, 60.0 * area.si() * share);
    let parts = [loss("faces", 0.6), loss("air", 0.4)];
    let total = Figure::sum(format!("heat loss of {}", room.key), &parts);
    out.loads.rooms.push(RoomLoss {
        room: room.key.clone(),
        faces: Vec::new(),
        heat: Split {
            outdoors: parts[0].clone(),
            unheated: loss("unheated", 0.0),
            ground: loss("ground", 0.0),
            neighbours: loss("neighbours", 0.0),
            air: parts[1].clone(),
            total: total.clone(),
        },
        per_degree: Split {
            outdoors: figure("outdoors", 2.0 * area.si()),
            unheated: figure("unheated", 0.0),
            ground: figure("ground", 0.0),
            neighbours: figure("neighbours", 0.0),
            air: figure("air", area.si()),
            total: figure("all", 3.0 * area.si()),
        },
        air_flow: figure("air", 0.01),
        from_above: None,
        reheat: None,
        per_area: Some(Figure::quotient("loss per area", &total.work, &area.work)),
        available: Some(area.clone()),
    });
    out.emitters.floors.push(floor(room, &area, &total));
    if let Some(region) = region {
        add_loop(out, job, room, &region, &total);
    }
}

fn floor(room: &Room, area: &Figure<Area>, total: &Figure<Power>) -> HeatedFloor {
    HeatedFloor {
        room: room.key.clone(),
        circuit: None,
        area: area.clone(),
        tube: "pex-1/2".to_owned(),
        spacing: room.spacing.or_else(|| Decided::chosen(Quantity::from_si(0.2286), "wide enough")),
        finish: figure("finish", 0.05),
        leaders: figure("leaders", 0.0),
        needed: total.clone(),
        flux_needed: figure("flux", 60.0),
        output_coefficient: figure("coefficient", 5.0),
        published_coefficient: None,
        passing: figure("passing", 0.4),
        excess_needed: figure("excess", 12.0),
        supply_needed: figure("supply", 309.0),
        flux: figure("flux", 60.0),
        flux_down: figure("flux down", 6.0),
        up_share: figure("share up", 0.9),
        water: figure("water", 305.0),
        section: None,
        surface: figure("floor surface", room.indoor.value.si() + 5.5),
        warmest: figure("warmest", room.indoor.value.si() + 7.0),
        coolest: figure("coolest", room.indoor.value.si() + 4.5),
        parts: Vec::new(),
        surface_limit: Figure::new("limit", 302.6, How::Rule("practice, table 1".to_owned())),
        output: figure("output", total.si() * 0.97),
        short: figure("short", total.si() * 0.03),
    }
}

fn placement(manifold: &job::Manifold) -> Option<design::Placement> {
    Some(design::Placement {
        manifold: manifold.key.clone(),
        room: manifold.room.as_ref().map(|room| room.value.clone()),
        at: Decided::chosen(manifold.at.as_ref()?.value, "as stated"),
        tried: Vec::new(),
    })
}

fn add_loop(out: &mut Design, job: &Job, room: &Room, region: &Region, heat: &Figure<Power>) {
    let spacing = room.spacing.held().map_or(0.2286, |it| it.value.si());
    let spec = FillSpec { spacing_m: spacing, wall_clearance_m: 0.15, bend_radius_m: 0.1 };
    let manifold = job.manifolds.first().and_then(|it| it.at.as_ref()).map(|it| it.value);
    let entry = region.nearest_boundary(manifold.unwrap_or_default());
    let Ok(fill) = counterflow(region, entry, &spec) else { return };
    let key = format!("{}/1", room.key);
    let mut tube = tube_loop(job, room, key, fill.path, Leader::default());
    tube.region = region.clone();
    tube.area = Figure::taken_off("area of the loop", fill.heated_area_m2, "near a tube");
    tube.covered = figure("covered", fill.covered_fraction);
    tube.tight_bends = fill.tight_bends;
    tube.spacing_laid_m = fill.spacing_used_m;
    push(out, tube, heat);
}

/// A loop of that tube; what the drawing does not show is made up.
fn tube_loop(job: &Job, room: &Room, key: String, path: Path, leader: Leader) -> TubeLoop {
    let indoor = Figure::fact("indoor temperature", &room.indoor);
    let leaders = leader.supply_m + leader.return_m;
    let field = path.length_m() - leaders;
    let parts = [
        Figure::taken_off("tube in the field", field, "tube as drawn"),
        figure("both leaders", leaders),
        figure("risers and tails", 3.0),
    ];
    let square = [Point::new(0.0, 0.0), Point::new(1.0, 1.0)];
    let area: Figure<Area> = figure("area of the loop", 0.15 * field);
    let length = parts[0].clone();
    let rooms = vec![LoopRoom { room: room.key.clone(), area: area.clone(), length }];
    TubeLoop {
        room: room.key.clone(),
        rooms,
        manifold: job.manifolds.first().map(|it| it.key.clone()).unwrap_or_default(),
        circuit: None,
        tube: "pex-1/2".to_owned(),
        path,
        leader,
        region: Region::rectangle(square[0], square[1]).expect("a square"),
        pattern: job::TubePattern::Counterflow,
        why: "by hand".to_owned(),
        area,
        length: Figure::sum(format!("tube of loop {key}"), &parts),
        volume: Figure::settled("water", field * 1.2e-4, "by hand", vec![indoor.work]),
        covered: figure("covered", 1.0),
        tight_bends: Vec::new(),
        spacing_laid_m: 0.15,
        field_length: parts[0].clone(),
        leader_length: parts[1].clone(),
        tail_length: parts[2].clone(),
        key,
    }
}

fn push(out: &mut Design, tube: TubeLoop, heat: &Figure<Power>) {
    let reason = "by hand";
    out.layouts.push(Layout {
        room: tube.room.clone(),
        tube: Decided::chosen("pex-1/2".to_owned(), reason),
        manifold: Decided::chosen(tube.manifold.clone(), reason),
        count: Decided::chosen(1, "short enough"),
        pattern: Decided::chosen(job::TubePattern::Counterflow, "by hand"),
        shares_loop: None,
    });
    out.flows.loops.push(loop_flow(tube.key.clone(), heat));
    out.loops.push(tube);
}

/// The same design with loops laid by hand instead: room, manifold, corners, leaders' lengths.
pub(crate) fn laid(job: &Job, loops: &[HandLaid]) -> Design {
    let mut out = design(job);
    out.loops.clear();
    out.layouts.clear();
    out.flows = Flows::default();
    for one in loops {
        let room = job.room(one.room).expect("a room of the text");
        let number = out.loops.iter().filter(|it| it.room == one.room).count() + 1;
        let path = Path::rounded(&one.corners, 0.08);
        let leader =
            Leader { supply_m: one.leaders_m[0], return_m: one.leaders_m[1], ..Leader::default() };
        let mut tube = tube_loop(job, room, format!("{}/{number}", one.room), path, leader);
        tube.manifold = one.manifold.to_owned();
        push(&mut out, tube, &figure("heat", 900.0));
    }
    for manifold in &job.manifolds {
        let keys: Vec<&str> = out
            .loops
            .iter()
            .filter(|it| it.manifold == manifold.key)
            .map(|it| it.key.as_str())
            .collect();
        let own: Vec<LoopFlow> =
            out.flows.loops.iter().filter(|it| keys.contains(&&*it.key)).cloned().collect();
        if !own.is_empty() {
            out.flows.manifolds.push(manifold_flow(&manifold.key, &own));
        }
    }
    out.totals = Totals::of(&out.envelope, &out.loads, &out.emitters, &out.loops, &out.flows);
    out
}

/// A loop by its corners.
pub(crate) struct HandLaid {
    pub(crate) room: &'static str,
    pub(crate) manifold: &'static str,
    pub(crate) corners: Vec<Point>,
    /// Length of supply and return leader, metres.
    pub(crate) leaders_m: [f64; 2],
}

fn loop_flow(key: String, heat: &Figure<Power>) -> LoopFlow {
    let drop = figure("drop", 6.0 + 0.002 * heat.si());
    let inputs = vec![
        ("heat", heat.work.clone()),
        ("drop", drop.work.clone()),
        ("density", figure::<quantity::Density>("density", 1020.0).work),
        ("specific_heat", figure::<quantity::SpecificHeat>("heat capacity", 3800.0).work),
    ];
    let flow = heat.si() / (1020.0 * 3800.0 * drop.si());
    let law = &laws::hydraulics::FLOW_FOR_HEAT;
    LoopFlow {
        heat_up: heat.clone(),
        heat_down: figure("down", heat.si() * 0.1),
        leader_heat: figure("on the way", 20.0),
        supply: figure("supply", 311.15),
        back: figure("return", 311.15 - drop.si()),
        mass_flow: figure("mass flow", flow * 1020.0),
        flow: Figure::new(
            format!("flow of loop {key}"),
            flow,
            How::Law { law, inputs, out_of_range: Vec::new() },
        ),
        drop,
        velocity: figure("velocity", flow / 1.2e-4),
        reynolds: figure("Reynolds number", 3000.0),
        friction: figure("friction", 9000.0),
        head: figure("head", heat.si() / 1000.0),
        key,
    }
}

fn manifold_flow(key: &str, loops: &[LoopFlow]) -> ManifoldFlow {
    let flows: Vec<_> = loops.iter().map(|it| it.flow.clone()).collect();
    let heats: Vec<_> = loops.iter().map(|it| it.heat_up.clone()).collect();
    ManifoldFlow {
        key: key.to_owned(),
        loops: loops.iter().map(|it| it.key.clone()).collect(),
        flow: Figure::sum("flow of the manifold", &flows),
        head: figure("head of the manifold", 1.5),
        worst: loops[0].key.clone(),
        heat: Figure::sum("heat of the manifold", &heats),
        back: figure("mixed return", 304.0),
    }
}

fn opening(out: &Design, opening: &Opening) -> Option<PlacedOpening> {
    let Where::Point { at, .. } = opening.at.as_ref()?.value else { return None };
    let half = opening.width.as_ref()?.value.si() / 2.0;
    let near = out.envelope.enclosures.iter().filter_map(|it| {
        let floor = it.floor.as_ref()?;
        (floor.boundary_distance_m(at) < 0.15)
            .then(|| (it.room.clone(), floor.nearest_boundary(at)))
    });
    let near: Vec<(String, Point)> = near.take(2).collect();
    let (_, wall) = near.first()?;
    let along =
        if (*wall - at).x.abs() > 1e-6 { Point::new(0.0, 1.0) } else { Point::new(1.0, 0.0) };
    let jambs = |wall: Point| [wall - along * half, wall + along * half];
    Some(PlacedOpening {
        key: opening.key.clone(),
        kind: opening.kind.value,
        rooms: near.iter().map(|(room, _)| room.clone()).collect(),
        jambs: jambs(*wall),
        far_jambs: near.get(1).map(|(_, far)| jambs(*far)),
    })
}

/// A finding with a mend, as the design would give it.
pub(crate) fn finding(job: &Job) -> Option<Finding> {
    let room = job.rooms.first()?;
    let subject = format!("room.{}", room.key);
    let edit = job::Edit::Set { path: format!("{subject}.spacing"), value: "6 in".to_owned() };
    let mend = Mend {
        words: format!("hold the spacing of {} at 6 in", room.name.value),
        edits: vec![edit],
        promise: Promise::Goes,
    };
    let message = format!("{} & <its> floor is short by 3 %", room.name.value);
    let advice = "lay closer, or add a radiator";
    Some(
        Finding::new(Severity::Stop, "floor-too-weak", subject, message, advice)
            .at(room.place)
            .limit("0 W", "the loss of the room")
            .mend(mend),
    )
}
