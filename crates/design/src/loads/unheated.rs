//! Spaces and rooms that nobody heats: how warm they get.
//!
//! By the balance of what they gain and lose, all together, or by a tabled factor. A stated
//! temperature or factor wins; where too little is known for a balance, the factor takes its place
//! and a note says so. Floor with tube counts in the balance as floor at room temperature.

use super::air::RoomAir;
use super::case::{Case, difference};
use super::links::{Link, To, links};
use crate::envelope::{Behind, Enclosure, FaceKind};
use crate::figure::{Figure, Given, How};
use job::{Finding, Severity, Space, UnheatedMethod};
use laws::{conventions, envelope as law};
use quantity::{Ratio, Temperature, TemperatureDifference};
use std::collections::BTreeMap;

/// A space or room that nobody heats, once it is known how warm it gets.
#[derive(Clone, Debug)]
pub(super) struct Cold {
    pub(super) temperature: Figure<Temperature>,
    pub(super) factor: Figure<Ratio>,
    /// Whether a room's loss goes by the factor and the room's own difference to outdoors.
    by_factor: bool,
}

impl Cold {
    /// Room less this space, as the loss is reckoned.
    pub(super) fn difference(
        &self,
        indoor: &Figure<Temperature>,
        outdoor: &Figure<Temperature>,
    ) -> Figure<TemperatureDifference> {
        if self.by_factor {
            let whole = difference(indoor, outdoor);
            let name = "temperature factor times the difference to outdoors";
            return Figure::product(name, &[&self.factor.work, &whole.work]);
        }
        difference(indoor, &self.temperature)
    }
}

/// What is unheated: a space of the text, or a room without heat.
#[derive(Clone, Copy)]
pub(super) enum Node<'a> {
    Space(&'a Space),
    Room(&'a Enclosure),
}

impl Node<'_> {
    pub(super) fn key(&self) -> &str {
        match self {
            Node::Space(space) => &space.key,
            Node::Room(enclosure) => &enclosure.room,
        }
    }

    fn subject(&self) -> (String, job::Place) {
        match self {
            Node::Space(space) => (format!("space.{}", space.key), space.place),
            Node::Room(enclosure) => (format!("room.{}", enclosure.room), enclosure.place),
        }
    }
}

/// Every unheated space and room of a house: spaces first, then rooms, in the order of the text.
pub(super) fn nodes<'a>(case: &Case<'a>) -> Vec<Node<'a>> {
    let rooms = case.envelope.enclosures.iter().filter(|one| one.unheated);
    case.job.spaces.iter().map(Node::Space).chain(rooms.map(Node::Room)).collect()
}

/// How warm each of them gets.
pub(super) fn settle(
    case: &Case<'_>,
    air: &[Result<RoomAir, String>],
    findings: &mut Vec<Finding>,
) -> BTreeMap<String, Cold> {
    let nodes = nodes(case);
    let mut settled: Vec<Option<Cold>> = nodes.iter().map(|node| given(case, *node)).collect();
    if case.job.rules.unheated_method.value == UnheatedMethod::Balance {
        balance(case, &nodes, air, &mut settled, findings);
    }
    let pairs = nodes.iter().zip(settled).map(|(node, cold)| {
        let cold = cold.unwrap_or_else(|| by_factor(case, tabled(case, *node)));
        (node.key().to_owned(), cold)
    });
    pairs.collect()
}

/// What the text states of a space.
fn given(case: &Case<'_>, node: Node<'_>) -> Option<Cold> {
    let Node::Space(space) = node else { return None };
    if let Some(temperature) = &space.temperature {
        let temperature = Figure::fact(format!("temperature of {}", space.key), temperature);
        return Some(by_temperature(case, temperature));
    }
    let factor = space.factor.as_ref()?;
    Some(by_factor(case, Figure::fact(format!("temperature factor of {}", space.key), factor)))
}

fn by_temperature(case: &Case<'_>, temperature: Figure<Temperature>) -> Cold {
    let usual = case.usual();
    let inputs = [&usual.work, &temperature.work, &case.weather.outdoor.work];
    let name = format!("temperature factor behind the {}", temperature.work.name);
    let factor = Figure::by_law(name, &law::TEMPERATURE_FACTOR, &inputs.map(Given::One));
    // As warm outside as inside, nothing lies between.
    let factor = factor.unwrap_or_else(|_| {
        let how = How::Decided("it is as warm outdoors as in the rooms".to_owned());
        Figure::new("temperature factor", 0.0, how)
    });
    Cold { temperature, factor, by_factor: false }
}

fn by_factor(case: &Case<'_>, factor: Figure<Ratio>) -> Cold {
    let (usual, outdoor) = (case.usual(), &case.weather.outdoor);
    let temperature = Figure::settled(
        "temperature by its factor",
        usual.si() - factor.si() * (usual.si() - outdoor.si()),
        "rooms' mean temperature less the factor times their difference to outdoors",
        vec![usual.work.clone(), factor.work.clone(), outdoor.work.clone()],
    );
    Cold { temperature, factor, by_factor: true }
}

/// The tabled factor of a space or room.
fn tabled(case: &Case<'_>, node: Node<'_>) -> Figure<Ratio> {
    match node {
        Node::Space(space) => {
            let fits = |stated: Option<bool>, found: bool| stated.is_none_or(|s| s == found);
            let entry = case.job.rules.space_factors.iter().find(|entry| {
                entry.kind == space.kind.value
                    && fits(entry.open, space.open.value)
                    && fits(entry.insulated, space.insulated.value)
            });
            let name = format!("temperature factor of {}", space.key);
            match entry {
                Some(entry) => Figure::rule(name, &entry.factor),
                None => Figure::assumed(
                    name,
                    1.0,
                    "the rule set has no factor for it; as cold as outdoors is on the safe side",
                ),
            }
        }
        Node::Room(enclosure) => room_factor(enclosure),
    }
}

/// The tabled factor of a room, by its outside walls and doors.
fn room_factor(enclosure: &Enclosure) -> Figure<Ratio> {
    let name = format!("temperature factor of {}", enclosure.room);
    let count = |kind: FaceKind| {
        let outside = |face: &&crate::envelope::Face| {
            face.kind == kind && face.behind == Behind::Outdoors && face.area.si() > 0.0
        };
        enclosure.faces.iter().filter(outside).count() as f64
    };
    let walls = Figure::<Ratio>::taken_off("outside walls", count(FaceKind::Wall), "its walls");
    let doors = Figure::<Ratio>::taken_off("outside doors", count(FaceKind::Door), "its doors");
    let answer = if walls.si() < 1.0 {
        let inside = Given::Choice(conventions::UnheatedKind::Circulation as u8);
        Figure::by_law(&*name, &conventions::UNHEATED_SPACE_FACTOR, &[inside])
    } else {
        let inputs = [Given::from(&walls), Given::from(&doors)];
        Figure::by_law(&*name, &conventions::UNHEATED_ROOM_FACTOR, &inputs)
    };
    answer.unwrap_or_else(|_| Figure::assumed(name, 1.0, "as cold as outdoors, on the safe side"))
}

/// Solves the balance of all that are still open.
fn balance(
    case: &Case<'_>,
    nodes: &[Node<'_>],
    air: &[Result<RoomAir, String>],
    settled: &mut [Option<Cold>],
    findings: &mut Vec<Finding>,
) {
    let linked = links(case, nodes, air);
    let mut open = Vec::new();
    for (number, links) in linked.iter().enumerate() {
        if settled[number].is_some() {
            continue;
        }
        match links {
            Err(why) => findings.push(fallen_back(nodes[number], why)),
            Ok(_) => open.push(number),
        }
    }
    let known = |number: usize| linked[number].as_deref().unwrap_or_default();
    // A space is known enough if heat leaves the house by it, or by others that it is linked to.
    let leaves = |number: usize, found: &[usize]| {
        known(number).iter().any(|link| match link.to {
            To::Out(_) => link.coefficient.si() > 0.0,
            To::Room(_) => matches!(nodes[number], Node::Room(_)),
            To::Node(other) => settled[other].is_some() || found.contains(&other),
        })
    };
    let mut found: Vec<usize> = Vec::new();
    while let Some(next) =
        open.iter().copied().find(|number| !found.contains(number) && leaves(*number, &found))
    {
        found.push(next);
    }
    for number in open.iter().filter(|number| !found.contains(number)) {
        let why = "nothing says how it loses heat to outdoors";
        findings.push(fallen_back(nodes[*number], why));
    }
    open.retain(|number| found.contains(number));
    let fixed: Vec<Option<f64>> = (0..nodes.len())
        .map(|number| {
            let tabled = || by_factor(case, tabled(case, nodes[number]));
            let cold = settled[number].clone();
            (!open.contains(&number)).then(|| cold.unwrap_or_else(tabled).temperature.si())
        })
        .collect();
    let Some(temperatures) = solve(&open, known, &fixed) else {
        for number in &open {
            findings.push(fallen_back(nodes[*number], "its balance has no answer"));
        }
        return;
    };
    for (number, kelvin) in open.iter().zip(temperatures) {
        let from = known(*number).iter().map(|link| link.coefficient.work.clone()).collect();
        let temperature = Figure::settled(
            format!("temperature of {}", nodes[*number].key()),
            kelvin,
            "what it gains from warmer rooms is what it loses; all unheated spaces at once",
            from,
        );
        settled[*number] = Some(by_temperature(case, temperature));
    }
}

fn fallen_back(node: Node<'_>, why: &str) -> Finding {
    let (subject, place) = node.subject();
    let message = format!("its balance cannot be told ({why}); the tabled factor is taken");
    let advice = match node {
        Node::Space(_) => "add surfaces with `space = …`, or `loss`, `temperature` or `factor`",
        Node::Room(_) => "complete its walls, ceiling and floor",
    };
    Finding::new(Severity::Note, "unheated-by-factor", subject, message, advice).at(place)
}

/// Temperatures of the open nodes, in kelvin: what each gains it loses.
fn solve<'l>(
    open: &[usize],
    links: impl Fn(usize) -> &'l [Link],
    fixed: &[Option<f64>],
) -> Option<Vec<f64>> {
    let size = open.len();
    let mut rows = vec![vec![0.0; size + 1]; size];
    for (row, number) in rows.iter_mut().zip(open) {
        for link in links(*number) {
            let own = open.iter().position(|other| other == number)?;
            let coefficient_w_k = link.coefficient.si();
            row[own] += coefficient_w_k;
            match &link.to {
                To::Out(far) | To::Room(far) => row[size] += coefficient_w_k * far.si(),
                To::Node(other) => match fixed.get(*other).copied().flatten() {
                    Some(kelvin) => row[size] += coefficient_w_k * kelvin,
                    None => {
                        let column = open.iter().position(|number| number == other)?;
                        row[column] -= coefficient_w_k;
                    }
                },
            }
        }
    }
    eliminate(rows)
}

/// Solves equations, each row its coefficients and then its right side; none if they do not tell.
fn eliminate(mut rows: Vec<Vec<f64>>) -> Option<Vec<f64>> {
    let size = rows.len();
    for column in 0..size {
        let best = (column..size)
            .max_by(|a, b| rows[*a][column].abs().total_cmp(&rows[*b][column].abs()))?;
        rows.swap(column, best);
        let pivot = rows[column].clone();
        if pivot[column].abs() < 1e-9 {
            return None;
        }
        for row in rows.iter_mut().skip(column + 1) {
            let times = row[column] / pivot[column];
            row.iter_mut().zip(&pivot).for_each(|(cell, above)| *cell -= times * above);
        }
    }
    let mut answers = vec![0.0; size];
    for column in (0..size).rev() {
        let row = &rows[column];
        let known: f64 = (column + 1..size).map(|other| row[other] * answers[other]).sum();
        answers[column] = (row[size] - known) / row[column];
    }
    answers.iter().all(|kelvin| kelvin.is_finite()).then_some(answers)
}

#[cfg(test)]
mod tests {
    use super::eliminate;

    /// By hand: 2x + y = 5 and x − 3y = −8 meet at x = 1, y = 3.
    #[test]
    fn two_equations() {
        let answers = eliminate(vec![vec![2.0, 1.0, 5.0], vec![1.0, -3.0, -8.0]]).unwrap();
        assert!((answers[0] - 1.0).abs() < 1e-12 && (answers[1] - 3.0).abs() < 1e-12);
    }

    #[test]
    fn equations_that_do_not_tell() {
        assert_eq!(eliminate(vec![vec![1.0, 1.0, 2.0], vec![2.0, 2.0, 4.0]]), None);
    }
}
