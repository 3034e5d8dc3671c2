//! The stages, one after the other, and the few revisions that an unmet need may cause.

use crate::Design;
use crate::balance::{Balance, Problem, Solution};
use crate::emitters::{self, Choice};
use crate::envelope;
use crate::figure::Figure;
use crate::flow::{self, LoopFlow};
use crate::judge::{Case, judge};
use crate::loads;
use crate::loops::{Layer, Layout, TubeLoop, Ways};
use crate::memo::Memo;
use crate::state::State;
use job::{Decision, Finding, Job, Severity};
use quantity::{Quantity, SpecificHeat, Temperature};

/// Rounds of revisions at most.
const REVISIONS_MOST: usize = 4;

/// Designs a job for its design day.
pub fn design(job: &Job, memo: &mut Memo) -> Design {
    design_at(job, &State::default(), memo)
}

/// Designs a job for a state.
pub fn design_at(job: &Job, state: &State, memo: &mut Memo) -> Design {
    memo.begin();
    let mut findings = Vec::new();
    let envelope = envelope::envelope(job, &mut findings);
    let weather = loads::weather(job, state, &mut findings);
    let loads = loads::loads(job, &envelope, weather.as_ref(), &mut findings);
    let choice = emitters::choose(job, &envelope, &loads, weather.as_ref(), &mut findings);
    let ways = Ways::new(job, &envelope);
    let hung: Vec<_> =
        job.manifolds.iter().filter_map(|m| ways.hang(&envelope, m, &mut findings)).collect();
    if hung.is_empty() && !choice.floors.is_empty() {
        findings.push(no_manifold(&choice));
    }
    let layer = Layer { job, envelope: &envelope, ways: &ways, hung: &hung };
    let mut revisions = Vec::new();
    let laid = settle_with_revisions(job, &choice, &layer, &mut revisions, memo);
    findings.extend(laid.findings);
    let emitters = emitters::emitters(&choice, &laid.loops, &laid.solution);
    let flows = flow::manifolds(job, &laid.loops, &laid.flows);
    let balance = laid.solution.balance;
    let case = Case {
        job,
        layer: &layer,
        choice: &choice,
        emitters: &emitters,
        loops: &laid.loops,
        flows: &flows,
        balance,
    };
    findings.extend(judge(&case, memo));
    findings.sort_by_key(|finding| finding.severity);
    Design {
        envelope,
        loads,
        emitters,
        layouts: laid.layouts,
        loops: laid.loops,
        flows,
        findings,
        revisions,
        balance,
    }
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
    loops: Vec<TubeLoop>,
    layouts: Vec<Layout>,
    flows: Vec<LoopFlow>,
    solution: Solution,
    findings: Vec<Finding>,
}

/// Lays and settles; while a loop needs more head than there is, its floor gets another loop.
fn settle_with_revisions(
    job: &Job,
    choice: &Choice,
    layer: &Layer<'_>,
    revisions: &mut Vec<String>,
    memo: &mut Memo,
) -> LaidOut {
    let mut more = vec![0; choice.floors.len()];
    loop {
        let laid = settle(job, choice, layer, &more, memo);
        let Some(head) = &job.heating.head else { return laid };
        let over = |room: &str| {
            laid.loops
                .iter()
                .zip(&laid.flows)
                .any(|(tube_loop, flow)| tube_loop.room == room && flow.head.si() > head.value.si())
        };
        let needy: Vec<usize> = (0..choice.floors.len())
            .filter(|number| {
                let floor = &choice.floors[*number];
                let open = matches!(job.rooms[floor.number].loops, Decision::Open);
                open && over(&floor.room)
            })
            .collect();
        if needy.is_empty() || revisions.len() >= REVISIONS_MOST {
            return laid;
        }
        let rooms: Vec<&str> = needy.iter().map(|n| choice.floors[*n].room.as_str()).collect();
        revisions
            .push(format!("one more loop in {}, for the head that the pump has", rooms.join(", ")));
        needy.iter().for_each(|number| more[*number] += 1);
    }
}

fn settle(
    job: &Job,
    choice: &Choice,
    layer: &Layer<'_>,
    more: &[usize],
    memo: &mut Memo,
) -> LaidOut {
    let (mut loops, mut layouts, mut findings) = (Vec::new(), Vec::new(), Vec::new());
    for (floor, more) in choice.floors.iter().zip(more) {
        let laying = layer.floor(floor, *more, memo);
        loops.extend(laying.loops);
        layouts.extend(laying.layout);
        findings.extend(laying.findings);
    }
    let Some(supply) = &choice.supply else {
        let balance = Balance { rounds: 0, last_change_w: 0.0, settled: true };
        let solution = Solution {
            loops: vec![Default::default(); loops.len()],
            credit_w: vec![0.0; choice.crossed.len()],
            balance,
        };
        return LaidOut { loops, layouts, flows: Vec::new(), solution, findings };
    };
    let supply =
        Figure::<Temperature>::decided("supply temperature", supply.value.si(), &supply.reason);
    let problem = Problem {
        floors: &choice.floors,
        crossed: &choice.crossed,
        loops: &loops,
        supply_k: supply.si(),
        drop_k: [choice.drop.si(), job.rules.drop_most.value.si().max(choice.drop.si())],
        specific_heat_j_kgk: specific_heat(job, &supply),
    };
    let solution = problem.settle();
    let mut flows = Vec::new();
    for (tube_loop, settled) in loops.iter().zip(&solution.loops) {
        let floor = choice.floors.iter().find(|floor| floor.room == tube_loop.room);
        let flow =
            floor.and_then(|floor| flow::loop_flow(job, tube_loop, floor, settled, &supply).ok());
        flows.extend(flow);
    }
    LaidOut { loops, layouts, flows, solution, findings }
}

/// Specific heat of the fluid near the supply temperature; that of water at 40 °C if unknown.
fn specific_heat(job: &Job, supply: &Figure<Temperature>) -> f64 {
    let fill = flow::fluid(job, supply);
    fill.map_or(SpecificHeat::from_si(4179.0).si(), |fill| fill.specific_heat.si())
}
