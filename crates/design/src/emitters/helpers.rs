//! Emitters beside the floor: what they give at the water of their circuit.

use super::choose::{Choice, held_supply};
use crate::envelope::Envelope;
use crate::figure::{Figure, Given, How};
use job::{Emitter, Job};
use laws::emitter as law;
use quantity::{Power, Quantity, Ratio, Temperature, TemperatureDifference};

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
}

/// The job's emitters that say enough: room, output, and a circuit with a supply temperature.
pub(crate) fn helpers(job: &Job, envelope: &Envelope, choice: &Choice) -> Vec<Helper> {
    job.emitters.iter().filter_map(|emitter| helper(job, envelope, choice, emitter)).collect()
}

fn helper(job: &Job, envelope: &Envelope, choice: &Choice, emitter: &Emitter) -> Option<Helper> {
    let room = &emitter.room.as_ref()?.value;
    let circuit = emitter.circuit.as_ref().map(|circuit| circuit.value.as_str());
    let enclosure = envelope.enclosures.iter().find(|one| one.room == *room)?;
    let supply = supply(job, choice, circuit)?;
    let rated = Figure::fact("rated output", emitter.output.as_ref()?);
    let rated_excess = excess(
        "mean water excess of the rating",
        (emitter.rated_supply.value.si() + emitter.rated_return.value.si()) / 2.0,
        &Figure::<Temperature>::fact("room of the rating", &emitter.rated_room),
        vec![
            Figure::fact("supply of the rating", &emitter.rated_supply).work,
            Figure::fact("return of the rating", &emitter.rated_return).work,
        ],
    );
    let mean_k = supply.si() - choice.drop.si() / 2.0;
    let from = vec![supply.work.clone(), choice.drop.work.clone()];
    let here = excess("mean water excess", mean_k, &enclosure.indoor, from);
    let exponent = Figure::<Ratio>::fact("exponent", &emitter.exponent);
    let inputs = [&rated.work, &rated_excess.work, &here.work, &exponent.work].map(Given::One);
    let name = format!("heat of emitter {}", emitter.key);
    let output = Figure::by_law(name, &law::EMITTER_OUTPUT, &inputs).ok()?;
    let (key, room) = (emitter.key.clone(), room.clone());
    Some(Helper { key, room, circuit: circuit.map(str::to_owned), output })
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
    mut from: Vec<std::sync::Arc<crate::figure::Work>>,
) -> Figure<TemperatureDifference> {
    from.push(room.work.clone());
    let how = "mean of supply and return, less the room";
    Figure::settled(name, (mean_k - room.si()).max(0.0), how, from)
}
