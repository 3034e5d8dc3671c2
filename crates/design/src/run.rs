//! The stages, one after the other, and the few revisions that an unmet need may cause.

use crate::Design;
use crate::balance::{FluidFigures, Problem, Settled, Solution};
use crate::build_ups::build_ups;
use crate::coils::{self, Coils, LaidLength};
use crate::emitters::{self, Choice};
use crate::envelope::{self, Envelope};
use crate::figure::Figure;
use crate::fixtures;
use crate::flooring::floored;
use crate::flow::{self, LoopFlow};
use crate::hold;
use crate::judge::{Case, judge, out_of_range};
use crate::loads::{self, Tubed};
use crate::loops::{self, JoistFloor, Laying, Layout, RoomBoards, TubeLoop};
use crate::memo::Memo;
use crate::placing::placed;
use crate::price;
use crate::prove::prove;
use crate::responses::responses;
use crate::state::State;
use crate::totals::Totals;
use crate::tubing::tubed;
use job::{Decided, Decision, Edit, Finding, Job, Severity};
use quantity::{Quantity, Temperature, TemperatureDifference};

/// Rounds of revisions at most.
const REVISIONS_MOST: usize = 4;
/// Rounds at most in which leaders' heat and supply temperature settle.
const SUPPLY_ROUNDS: usize = 6;
/// Floor that may stay without tube before its loss counts, square metres.
const UNTUBED_M2: f64 = 0.01;

/// Designs a job for its design day.
pub fn design(job: &Job, memo: &mut Memo) -> Design {
    memo.begin();
    let (job, placements) = placed(job, memo);
    let mut untold = Vec::new();
    price::judge(&job, &mut untold);
    let (job, floor_choices) = floored(job, memo, &mut untold);
    let (job, tube_choice) = tubed(job, memo, &mut untold);
    let mut design = drafted(&job, &State::default(), memo, true).design;
    design.findings.extend(untold);
    prove(&job, &mut design, memo);
    design.placements = placements;
    design.floor_choices = floor_choices;
    if let Some(choice) = &tube_choice {
        design.layouts.iter_mut().for_each(|layout| layout.tube = choice.tube.clone());
    }
    design.tube_choice = tube_choice;
    finished(&job, design, memo)
}

/// Asks a design at a state: what was decided for the design day is held.
///
/// The supply temperature follows the state unless the text holds it: at a milder outdoor
/// temperature it is what the same floors then need.
pub fn design_at(job: &Job, state: &State, memo: &mut Memo) -> Design {
    let day = design(job, memo);
    if *state == State::default() {
        return day;
    }
    let held = held_at(job, &day);
    let design = drafted(&held, state, memo, true).design;
    finished(&held, design, memo)
}

/// The job with all held that a design of it decided, but the supply as the text has it.
pub(crate) fn held_at(job: &Job, day: &Design) -> Job {
    let mut held = hold::applied(job, &day.hold_all(job)).unwrap_or_else(|| job.clone());
    held.heating.supply = job.heating.supply.clone();
    for (held, circuit) in held.circuits.iter_mut().zip(&job.circuits) {
        held.supply = circuit.supply.clone();
    }
    held
}

/// The job with what a design of it decides before its stages: manifolds' places and open floors.
fn hung(job: &Job, day: &Design) -> Job {
    let is_before = |edit: &Edit| match edit {
        Edit::Set { path, .. } => {
            path.starts_with("manifold.") || path.ends_with(".floor") || path == "heating.tube"
        }
        _ => false,
    };
    let edits: Vec<Edit> = day.hold_all(job).into_iter().filter(is_before).collect();
    hold::applied(job, &edits).unwrap_or_else(|| job.clone())
}

/// What a design made before comes to at a state, with what settled on the way.
pub(crate) fn settled_at(job: &Job, day: &Design, state: &State, memo: &mut Memo) -> Settling {
    memo.begin();
    let held = match *state == State::default() {
        true => hung(job, day),
        false => held_at(job, day),
    };
    drafted(&held, state, memo, false)
}

/// The design with its coil cuts and responses, which no mend asks for.
fn finished(job: &Job, mut design: Design, memo: &mut Memo) -> Design {
    design.responses = responses(&design, memo);
    design.coils.tubes = coils::plan(job, &design.loops);
    let run_out = coils::run_out(job, &design.coils.tubes, &design.findings);
    design.findings.extend(run_out);
    design.findings.sort_by_key(|finding| finding.severity);
    design
}

/// One design on trial: its mends are not proven, and nobody reads what would make its water cooler.
pub(crate) fn draft(job: &Job, state: &State, memo: &mut Memo) -> Design {
    drafted(job, state, memo, false).design
}

/// A design, and the bare values that settled on the way to it.
pub(crate) struct Settling {
    pub(crate) design: Design,
    pub(crate) choice: Choice,
    /// Water of each loop, in the order of the design's loops.
    pub(crate) loops: Vec<Settled>,
    /// Specific heat of what runs in the tube, J/(kg·K).
    pub(crate) specific_heat_j_kgk: f64,
}

fn drafted(job: &Job, state: &State, memo: &mut Memo, with_ways: bool) -> Settling {
    let (settling, tubed) = pass(job, state, &Tubed::new(), memo, with_ways);
    // Floor that took no tube loses its room's heat, which is known once the tube is laid.
    if tubed.is_empty() { settling } else { pass(job, state, &tubed, memo, with_ways).0 }
}

/// One pass through the stages; also gives the floors that took less tube than they could.
fn pass(
    job: &Job,
    state: &State,
    tubed: &Tubed,
    memo: &mut Memo,
    with_ways: bool,
) -> (Settling, Tubed) {
    let mut findings = Vec::new();
    let envelope = envelope::envelope(job, &mut findings);
    let weather = loads::weather(job, state, &mut findings);
    let mut loads = loads::loads(job, &envelope, weather.as_ref(), tubed, &mut findings);
    let sections = &mut memo.sections;
    let choice =
        emitters::choose(job, &envelope, &loads, weather.as_ref(), sections, &mut findings);
    if !job.manifolds.iter().any(|manifold| manifold.at.is_some()) && !choice.floors.is_empty() {
        findings.push(no_manifold(&choice));
    }
    let mut revisions = Vec::new();
    let laid = settle_with_revisions(job, &choice, &envelope, &mut revisions, memo);
    let less = less_tube(&choice, &laid);
    findings.extend(laid.findings);
    let around = emitters::Around {
        job,
        envelope: &envelope,
        loads: &loads,
        weather: weather.as_ref(),
        choice: &laid.choice,
    };
    let sections = &mut memo.sections;
    let mut emitters =
        emitters::emitters(&around, &laid.loops, &laid.solution, sections, &mut findings);
    if with_ways {
        emitters.governed = emitters::governed(job, &laid.choice, &mut memo.sections);
    }
    emitters.groups = emitters::grouped(job, &laid.choice, &laid.layouts);
    emitters::judge_groups(job, &emitters.groups, &mut findings);
    emitters::from_above(&envelope, &emitters, &mut loads);
    let own = laid.flows.iter().flatten().cloned().collect::<Vec<_>>();
    let flows = flow::manifolds(job, &laid.loops, &own);
    let balance = laid.solution.balance;
    let floors = &laid.choice.floors;
    let is_wet = |room: &str| floors.iter().any(|it| it.room == room && it.build_up.is_wet);
    let joint_crossings = loops::crossings(job, &laid.loops, &is_wet);
    let fixtures = fixtures::near(job, &laid.loops);
    fixtures::judge(job, &fixtures, &mut findings);
    loops::judge_joints(job, &envelope, floors, &joint_crossings, &mut findings);
    let case = Case {
        job,
        envelope: &envelope,
        choice: &laid.choice,
        emitters: &emitters,
        loops: &laid.loops,
        laid: &laid.laid,
        flows: &flows,
        balance,
    };
    findings.extend(judge(&case));
    let build_ups = build_ups(job, &envelope, &laid.choice, &emitters, &mut findings);
    let totals = Totals::of(&envelope, &loads, &emitters, &laid.loops, &flows);
    let mut design = Design {
        totals,
        envelope,
        loads,
        emitters,
        build_ups,
        responses: Vec::new(),
        floor_choices: Vec::new(),
        tube_choice: None,
        placements: Vec::new(),
        layouts: laid.layouts,
        joist_floors: laid.joist_floors,
        fixtures,
        joint_crossings,
        boards: laid.boards,
        loops: laid.loops,
        coils: Coils { tubes: Vec::new(), laid: laid.laid },
        flows,
        findings,
        revisions,
        balance,
    };
    let beyond = out_of_range(&design);
    design.findings.extend(beyond);
    design.findings.sort_by_key(|finding| finding.severity);
    let specific_heat_j_kgk = hottest(&laid.choice).map_or(WATER_AT_40_C, |hottest| {
        fluid_figures(job, &supply_figure(hottest), &laid.choice.drop)
    });
    let specific_heat_j_kgk = specific_heat_j_kgk.specific_heat_j_kgk;
    let loops = laid.solution.loops;
    (Settling { design, choice: laid.choice, loops, specific_heat_j_kgk }, less)
}

/// The hottest water of all circuits.
fn hottest(choice: &Choice) -> Option<&Decided<Temperature>> {
    let all = choice.waters.iter().map(|water| &water.supply);
    all.reduce(|a, b| if b.value.si() > a.value.si() { b } else { a })
}

/// Floors that took less tube than they were given floor, with what took some.
fn less_tube(choice: &Choice, laid: &LaidOut) -> Tubed {
    let area = |room: &str| choice.floors.iter().find(|floor| floor.room == room);
    // A floor without any loop stays a floor, so that what stands in its way is told.
    let has_loops = |room: &str| laid.layouts.iter().any(|layout| layout.room == room);
    laid.untubed_m2
        .iter()
        .filter(|(room, untubed_m2)| *untubed_m2 > UNTUBED_M2 && has_loops(room))
        .filter_map(|(room, m2)| Some((room.clone(), (area(room)?.area.si() - m2).max(0.0))))
        .collect()
}

fn no_manifold(choice: &Choice) -> Finding {
    let message = format!(
        "no manifold has a known place, so no loops are laid in {} heated rooms",
        choice.floors.len()
    );
    let advice = "add [manifold.m1] with `room` and `at = [x, y]`";
    Finding::new(Severity::Stop, "no-manifold", "manifold", message, advice)
}

/// Loops with their settled water.
struct LaidOut {
    choice: Choice,
    loops: Vec<TubeLoop>,
    layouts: Vec<Layout>,
    joist_floors: Vec<JoistFloor>,
    boards: Vec<RoomBoards>,
    /// What was read of loops that are laid.
    laid: Vec<LaidLength>,
    /// Water of each loop, in the order of the loops; none where it cannot be told.
    flows: Vec<Option<LoopFlow>>,
    solution: Solution,
    /// Floor without tube, by room key, square metres.
    untubed_m2: Vec<(String, f64)>,
    findings: Vec<Finding>,
}

/// Lays and settles; while a loop needs more head than there is, its floor gets another loop.
fn settle_with_revisions(
    job: &Job,
    choice: &Choice,
    envelope: &Envelope,
    revisions: &mut Vec<String>,
    memo: &mut Memo,
) -> LaidOut {
    let mut more = vec![0; choice.floors.len()];
    let mut before: Option<LaidOut> = None;
    loop {
        let laid = settle(job, choice, envelope, &more, memo);
        // More loops that cannot be laid serve nobody: the head is told instead.
        if let Some(before) = before.take_if(|before| before.layouts.len() > laid.layouts.len()) {
            revisions.pop();
            return before;
        }
        let Some(head) = &job.heating.head else { return laid };
        let over = |room: &str| {
            laid.loops.iter().zip(&laid.flows).any(|(tube_loop, flow)| {
                let needs = flow.as_ref().map_or(0.0, |flow| flow.head.si());
                tube_loop.room == room && needs > head.value.si()
            })
        };
        let needy: Vec<usize> = (0..choice.floors.len())
            .filter(|number| {
                let floor = &choice.floors[*number];
                let open = matches!(job.rooms[floor.number].loops, Decision::Open)
                    && !coils::has_laid_loops(job, &floor.room);
                open && over(&floor.room)
            })
            .collect();
        if needy.is_empty() || revisions.len() >= REVISIONS_MOST {
            return laid;
        }
        let rooms: Vec<&str> = needy.iter().map(|n| choice.floors[*n].room.as_str()).collect();
        let rooms = rooms.join(", ");
        revisions.push(format!("one more loop in {rooms}, for the head that the pump has"));
        for number in needy {
            let own = |tube_loop: &&TubeLoop| tube_loop.room == choice.floors[number].room;
            more[number] = laid.loops.iter().filter(own).count();
        }
        before = Some(laid);
    }
}

fn settle(
    job: &Job,
    choice: &Choice,
    envelope: &Envelope,
    more: &[usize],
    memo: &mut Memo,
) -> LaidOut {
    let Laying { mut loops, layouts, joist_floors, boards, untubed_m2, findings, .. } =
        loops::lay(job, envelope, &choice.floors, more, memo);
    let laid = coils::as_laid(job, &mut loops);
    let (choice, solution) = with_leaders_heat(job, choice.as_laid(job, &loops), &loops);
    let flow = |(tube_loop, settled): (&TubeLoop, _)| {
        let floor = choice.floors.iter().find(|floor| floor.room == tube_loop.room)?;
        let supply = choice.supply(tube_loop.circuit.as_deref())?;
        let supply = supply_figure(supply);
        flow::loop_flow(job, tube_loop, floor, settled, &supply).ok()
    };
    let flows = loops.iter().zip(&solution.loops).map(flow).collect();
    LaidOut {
        choice,
        loops,
        layouts,
        joist_floors,
        boards,
        laid,
        flows,
        solution,
        untubed_m2,
        findings,
    }
}

/// Settles water and supplies together: what leaders give on their way lowers what floors need.
fn with_leaders_heat(job: &Job, laid: Choice, loops: &[TubeLoop]) -> (Choice, Solution) {
    let mut choice = laid;
    let mut hottest_k = supplies_k(&choice);
    for round in 0..SUPPLY_ROUNDS {
        let solution = solve(job, &choice, loops);
        let credits: Vec<_> = choice
            .floors
            .iter()
            .map(|floor| emitters::credit(&choice, floor, loops, &solution))
            .collect();
        let next = choice.credited(job, &credits, &tubes_w_mk(&choice, loops, &solution));
        let (now_k, next_k) = (supplies_k(&choice), supplies_k(&next));
        let rises = next_k.iter().zip(&now_k).any(|(next, now)| next - now > 1e-9);
        let falls = next_k.iter().zip(&now_k).any(|(next, now)| now - next > 1e-9);
        if !rises && !falls {
            return (next, solution);
        }
        // Rounded to whole degrees, a supply may swing between two: the warmer one serves.
        let swings = round > 1 && !falls && next_k.iter().zip(&hottest_k).all(|(k, hot)| k <= hot);
        hottest_k.iter_mut().zip(&next_k).for_each(|(hot, next)| *hot = hot.max(*next));
        choice = next;
        if swings {
            break;
        }
    }
    let solution = solve(job, &choice, loops);
    (choice, solution)
}

/// Supply temperature of each circuit, kelvin.
fn supplies_k(choice: &Choice) -> Vec<f64> {
    choice.waters.iter().map(|water| water.supply.value.si()).collect()
}

fn supply_figure(supply: &Decided<Temperature>) -> Figure<Temperature> {
    Figure::decided("supply temperature", supply.value.si(), &supply.reason)
}

fn solve(job: &Job, choice: &Choice, loops: &[TubeLoop]) -> Solution {
    let Some(hottest) = hottest(choice) else {
        return Solution::nothing(loops);
    };
    let supply_k =
        |own: &TubeLoop| choice.supply_k(own.circuit.as_deref()).unwrap_or(hottest.value.si());
    let problem = Problem {
        floors: &choice.floors,
        crossed: &choice.crossed,
        loops,
        supplies_k: loops.iter().map(supply_k).collect(),
        drop_k: choice.rule.drops_k(job, choice.drop.si()),
        fluid: fluid_figures(job, &supply_figure(hottest), &choice.drop),
    };
    problem.settle()
}

/// From the fluid to the outside of the tube of each floor, W/mK: the least of its loops.
fn tubes_w_mk(choice: &Choice, loops: &[TubeLoop], solution: &Solution) -> Vec<f64> {
    let of_floor = |floor: &emitters::Floor| {
        let own = loops
            .iter()
            .zip(&solution.loops)
            .filter(|(own, _)| own.floor_in(&floor.room).is_some());
        own.map(|(_, settled)| settled.tube_w_mk).reduce(f64::min).unwrap_or(floor.tube_w_mk)
    };
    choice.floors.iter().map(of_floor).collect()
}

/// The fluid at the mean of the design day; water at 40 °C if unknown.
fn fluid_figures(
    job: &Job,
    supply: &Figure<Temperature>,
    drop: &Figure<TemperatureDifference>,
) -> FluidFigures {
    let mean_k = supply.si() - drop.si() / 2.0;
    let from = vec![supply.work.clone(), drop.work.clone()];
    let how = "supply less half the design drop";
    let mean = Figure::settled("mean water temperature", mean_k, how, from);
    flow::fluid(job, &mean).map_or(WATER_AT_40_C, |fill| FluidFigures {
        specific_heat_j_kgk: fill.specific_heat.si(),
        viscosity_pa_s: fill.viscosity.si(),
        conductivity_w_mk: fill.conductivity.si(),
    })
}

/// Water at 40 °C (IAPWS), for a fluid that no law covers.
const WATER_AT_40_C: FluidFigures = FluidFigures {
    specific_heat_j_kgk: 4179.0,
    viscosity_pa_s: 6.53e-4,
    conductivity_w_mk: 0.6286,
};
