//! Emitters beside the floor: what they give at the water of their circuit.

use super::choose::Choice;
use super::panel::{Panel, panel};
use super::section::Sections;
use super::supply::held_supply;
use crate::envelope::{Enclosure, Envelope};
use crate::figure::{Figure, Given, How, Work};
use crate::loads::{Loads, Weather};
use job::{Emitter, Finding, Job, Severity};
use laws::emitter as law;
use quantity::{Power, Quantity, Ratio, Temperature, TemperatureDifference};
use std::sync::Arc;

/// An emitter other than a floor, as it works here.
#[derive(Clone, Debug, PartialEq)]
pub struct Helper {
    /// Its key.
    pub key: String,
    /// The room that it warms, by key.
    pub room: String,
    /// The circuit that feeds it, by key.
    pub circuit: Option<String>,
    /// What it gives at the supply of its circuit and the design drop.
    pub output: Figure<Power>,
    /// That as a share of the room's heat loss; none where the loss is not known.
    pub share: Option<Figure<Ratio>>,
    /// What is told of a panel only.
    pub panel: Option<Panel>,
}

/// What emitters are worked out in.
pub(crate) struct Around<'a> {
    pub(crate) job: &'a Job,
    pub(crate) envelope: &'a Envelope,
    pub(crate) loads: &'a Loads,
    pub(crate) weather: Option<&'a Weather>,
    pub(crate) choice: &'a Choice,
}

/// Why an emitter counts for nothing, and what to do.
pub(super) type Unused = (String, &'static str);

/// The water and the room of an emitter.
pub(super) struct Served<'a> {
    pub(super) enclosure: &'a Enclosure,
    pub(super) supply: Figure<Temperature>,
    /// Mean water over the room.
    pub(super) excess: Figure<TemperatureDifference>,
}

/// The job's emitters that say enough: room, output or panel, and a circuit with a supply
/// temperature. Each that does not is told.
pub(crate) fn helpers(
    around: &Around<'_>,
    sections: &mut Sections,
    findings: &mut Vec<Finding>,
) -> Vec<Helper> {
    let mut helpers = Vec::new();
    for emitter in &around.job.emitters {
        match helper(around, emitter, sections, findings) {
            Ok(helper) => helpers.push(helper),
            Err((why, advice)) => findings.push(
                Finding::new(
                    Severity::Warn,
                    "emitter-unused",
                    format!("emitter.{}", emitter.key),
                    format!("counts for nothing yet: {why}"),
                    advice,
                )
                .at(emitter.place),
            ),
        }
    }
    helpers
}

fn helper(
    around: &Around<'_>,
    emitter: &Emitter,
    sections: &mut Sections,
    findings: &mut Vec<Finding>,
) -> Result<Helper, Unused> {
    let served = served(around, emitter)?;
    let (output, panel) = match &emitter.panel {
        Some(made) => {
            let panel = panel(around, emitter, made, &served, sections, findings)?;
            (panel.output.clone(), Some(panel))
        }
        None => (rated(emitter, &served)?, None),
    };
    let loss = around.loads.room(&served.enclosure.room).filter(|loss| loss.heat.total.si() > 0.0);
    let share = loss.map(|loss| {
        Figure::quotient("share of the room's heat loss", &output.work, &loss.heat.total.work)
    });
    Ok(Helper {
        key: emitter.key.clone(),
        room: served.enclosure.room.clone(),
        circuit: emitter.circuit.as_ref().map(|circuit| circuit.value.clone()),
        output,
        share,
        panel,
    })
}

fn served<'a>(around: &Around<'a>, emitter: &Emitter) -> Result<Served<'a>, Unused> {
    let room = emitter.room.as_ref();
    let room =
        room.ok_or(("it is not said which room it warms".to_owned(), "write `room = ...`"))?;
    let enclosure = around.envelope.enclosures.iter().find(|one| one.room == room.value);
    let enclosure = enclosure
        .ok_or_else(|| (format!("there is no room `{}`", room.value), "write the key of a room"))?;
    let circuit = emitter.circuit.as_ref().map(|circuit| circuit.value.as_str());
    let supply = supply(around.job, around.choice, circuit).ok_or_else(|| match circuit {
        Some(circuit) => (
            format!("no water temperature is known for its circuit `{circuit}`"),
            "hold the circuit's `supply`, or hang a manifold with a floor on it",
        ),
        None => (
            "it is on no circuit, and no water temperature is known for the heating".to_owned(),
            "write `circuit = ...`, or hold `supply` of the heating",
        ),
    })?;
    let drop = &around.choice.drop;
    let mean_k = supply.si() - drop.si() / 2.0;
    let from = vec![supply.work.clone(), drop.work.clone()];
    let excess = excess("mean water excess", mean_k, &enclosure.indoor, from);
    Ok(Served { enclosure, supply, excess })
}

/// What an emitter gives by its rating.
fn rated(emitter: &Emitter, served: &Served<'_>) -> Result<Figure<Power>, Unused> {
    let rated = emitter.output.as_ref();
    let rated = rated.ok_or(("its rated output is not said".to_owned(), "write `output = ...`"))?;
    let rated = Figure::fact("rated output", rated);
    let rated_excess = excess(
        "mean water excess of the rating",
        (emitter.rated_supply.value.si() + emitter.rated_return.value.si()) / 2.0,
        &Figure::<Temperature>::fact("room of the rating", &emitter.rated_room),
        vec![
            Figure::fact("supply of the rating", &emitter.rated_supply).work,
            Figure::fact("return of the rating", &emitter.rated_return).work,
        ],
    );
    let exponent = Figure::<Ratio>::fact("exponent", &emitter.exponent);
    let inputs = [&rated.work, &rated_excess.work, &served.excess.work, &exponent.work];
    let name = format!("heat of emitter {}", emitter.key);
    Figure::by_law(name, &law::EMITTER_OUTPUT, &inputs.map(Given::One))
        .map_err(|error| (error.to_string(), "look at its rating"))
}

/// The supply of a circuit: as its floors settled it, or as the text holds it.
fn supply(job: &Job, choice: &Choice, circuit: Option<&str>) -> Option<Figure<Temperature>> {
    if let Some(supply) = choice.supply(circuit) {
        return Some(Figure::decided("supply", supply.value.si(), &supply.reason));
    }
    let held = held_supply(job, circuit).held()?;
    Some(Figure::new("supply", held.value.si(), How::Stated(held.place)))
}

fn excess(
    name: &str,
    mean_k: f64,
    room: &Figure<Temperature>,
    mut from: Vec<Arc<Work>>,
) -> Figure<TemperatureDifference> {
    from.push(room.work.clone());
    let how = "mean of supply and return, less the room";
    Figure::settled(name, (mean_k - room.si()).max(0.0), how, from)
}
