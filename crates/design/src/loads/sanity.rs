//! The heat loss against what is usual, against what was burnt, and reheat against heavy floors.

use super::{GroupLoss, RoomLoss, Sanity};
use crate::figure::{Figure, Given};
use crate::words::Words;
use job::{Construction, Finding, Job, Layer, Severity};
use laws::energy;
use quantity::{HeatFlux, HeatLossCoefficient, Measure, Quantity};

/// How far the bill may lie from the calculation, either way, before it is worth a look.
const BILL_RATIO: f64 = 4.0 / 3.0;

/// Holds the house against houses of its age and against its bill.
pub(super) fn sanity(job: &Job, house: Option<&GroupLoss>, findings: &mut Vec<Finding>) -> Sanity {
    let Some(house) = house else { return Sanity::default() };
    let usual = usual(job);
    if let (Some([least, most]), Some(loss)) = (&usual, &house.per_area) {
        findings.extend(beyond_usual(job, loss, least, most));
    }
    let billed = billed(job);
    if let Some(billed) = &billed {
        findings.extend(beyond_bill(job, house, billed));
    }
    Sanity { usual, billed }
}

fn usual(job: &Job) -> Option<[Figure<HeatFlux>; 2]> {
    let built = job.house.built.as_ref()?.value;
    let entry = job.rules.usual_losses.iter().find(|entry| built <= entry.until)?;
    Some([
        Figure::rule("least that is usual for its age", &entry.least),
        Figure::rule("most that is usual for its age", &entry.most),
    ])
}

fn beyond_usual(
    job: &Job,
    loss: &Figure<HeatFlux>,
    least: &Figure<HeatFlux>,
    most: &Figure<HeatFlux>,
) -> Option<Finding> {
    if loss.si() >= least.si() && loss.si() <= most.si() {
        return None;
    }
    let words = Words { first: job.units.value };
    let flux = |figure: &Figure<HeatFlux>| words.both(figure.si(), Measure::HeatFlux);
    let side = if loss.si() < least.si() { "less" } else { "more" };
    let message = format!(
        "the house loses {} of floor, {side} than is usual for its age ({} to {})",
        flux(loss),
        flux(least),
        flux(most)
    );
    let advice = "look at constructions, outdoor air and areas before trusting it; a house that was \
                  insulated since loses less than others of its age";
    let source = job
        .rules
        .usual_losses
        .iter()
        .find(|entry| job.house.built.as_ref().is_some_and(|built| built.value <= entry.until));
    let source = source.map_or_else(String::new, |entry| entry.most.citation());
    let place = job.house.built.as_ref().and_then(job::Fact::place);
    let finding = Finding::new(Severity::Note, "unusual-loss", "house", message, advice).at(place);
    Some(finding.limit(format!("{} to {}", flux(least), flux(most)), source))
}

fn billed(job: &Job) -> Option<Figure<HeatLossCoefficient>> {
    let bill = job.fuel.as_ref()?;
    let energy = Figure::fact("fuel energy of the year", bill.energy.as_ref()?);
    let other = Figure::fact("share for hot water and cooking", &bill.other_use);
    let efficiency = Figure::fact("efficiency", &bill.efficiency);
    let days = Figure::fact("degree-days of the year", bill.degree_days.as_ref()?);
    let inputs = [&energy.work, &other.work, &efficiency.work, &days.work];
    let name = "heat loss per degree by the bill";
    Figure::by_law(name, &energy::BILLED_LOSS, &inputs.map(Given::One)).ok()
}

fn beyond_bill(
    job: &Job,
    house: &GroupLoss,
    billed: &Figure<HeatLossCoefficient>,
) -> Option<Finding> {
    let split = &house.per_degree;
    let parts = [&split.outdoors, &split.unheated, &split.ground, &split.air];
    let computed: f64 = parts.iter().map(|part| part.si()).sum();
    let ratio = billed.si() / computed;
    if computed <= 0.0 || (1.0 / BILL_RATIO..=BILL_RATIO).contains(&ratio) {
        return None;
    }
    let words = Words { first: job.units.value };
    let per_degree = |si: f64| words.both(si, Measure::HeatLossCoefficient);
    let message = format!(
        "the fuel bill tells {}, {ratio:.2} times the {} reckoned",
        per_degree(billed.si()),
        per_degree(computed)
    );
    let advice = "a rough check: the base of the degree-days, gains and thermostat habits differ; \
                  look at outdoor air and constructions first";
    let place = job.fuel.as_ref().and_then(|bill| bill.energy.as_ref()?.place());
    let finding = Finding::new(Severity::Note, "bill-differs", "house", message, advice);
    Some(finding.at(place).amount((billed.si() - computed).abs()))
}

/// Warns of reheat where floors are heavy: screed is too slow to gain by a setback.
pub(super) fn judge_reheat(job: &Job, rooms: &[RoomLoss], findings: &mut Vec<Finding>) {
    let Some(reheat) = &job.heating.reheat else { return };
    let heavy = |room: &&RoomLoss| room.available.is_some() && tube_in_screed(job, &room.room);
    let heavy: Vec<&str> = rooms.iter().filter(heavy).map(|room| room.room.as_str()).collect();
    if heavy.is_empty() || reheat.value.si() <= 0.0 {
        return;
    }
    let message = format!(
        "reheat of {} of floor is asked for, and the tube lies in screed in {}",
        Words { first: job.units.value }.both(reheat.value.si(), Measure::HeatFlux),
        heavy.join(", ")
    );
    let advice = "leave reheat out and the setback too: such floors take hours to follow";
    let finding =
        Finding::new(Severity::Warn, "reheat-heavy-floor", "heating.reheat", message, advice);
    findings.push(
        finding.at(reheat.place()).limit(
            "none for screed floors",
            "German and French trade texts on reheat after EN 12831",
        ),
    );
}

/// Whether the tube of that room lies in screed or concrete.
fn tube_in_screed(job: &Job, room: &str) -> bool {
    let own = job.room(room).and_then(|room| room.floor.as_ref());
    let between = job.house.floor_between.as_ref();
    let key = own.into_iter().chain(job.house.floor.as_ref()).chain(between).next();
    let assembly = key.and_then(|stated| job.assembly(&stated.value));
    let Some(Construction::Layers(layers)) = assembly.and_then(|it| it.construction.as_ref())
    else {
        return false;
    };
    layers.value.iter().any(|layer| match layer {
        Layer::Material { material, holds_tube: true, .. } => {
            let carrier = job.catalogue.material(material).map(|entry| entry.carrier);
            carrier == Some(job::Carrier::Screed)
        }
        _ => false,
    })
}
