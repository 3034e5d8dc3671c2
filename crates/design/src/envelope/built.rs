//! U-values of faces, once it is known what touches what.

use super::construction::{Crossing, doubt, transmittance, way};
use super::{Behind, Enclosure, Envelope, Face, FaceKind, GroundFloor};
use super::{edge_factor, ground, inside_windows};
use crate::figure::{Figure, Given};
use job::{Finding, GroundMethod, Job, Severity};
use quantity::{HeatLossCoefficient, Transmittance};
use std::collections::{BTreeMap, BTreeSet};

/// U-value taken for a partition between rooms of different temperature.
const PARTITION_W_M2K: f64 = 1.9;

/// What is wrong with a face, and what to do.
type Trouble = (String, String);

/// How a face loses heat: by a U-value, or by its edge.
#[derive(Default)]
struct Built {
    transmittance: Option<Figure<Transmittance>>,
    edge_loss: Option<Figure<HeatLossCoefficient>>,
}

/// Gives every face its U-value or its edge loss; what cannot be told is told.
pub(super) fn build(job: &Job, envelope: &mut Envelope, findings: &mut Vec<Finding>) {
    let builder = Builder {
        job,
        whole: envelope.ground.clone(),
        deep: edge_factor::deep_whole(job, &envelope.enclosures),
        warmth: envelope.enclosures.iter().map(warmth).collect(),
    };
    for enclosure in &mut envelope.enclosures {
        let built: Vec<_> =
            enclosure.faces.iter().map(|face| builder.face(enclosure, face)).collect();
        for (face, built) in enclosure.faces.iter().zip(&built) {
            let Err(trouble) = built else { continue };
            let finding = told(job, enclosure, face, trouble.clone());
            if !findings.contains(&finding) {
                findings.push(finding);
            }
        }
        for (face, built) in enclosure.faces.iter_mut().zip(built) {
            let built = built.unwrap_or_default();
            face.transmittance = built.transmittance;
            face.edge_loss = built.edge_loss;
        }
    }
    doubts(job, envelope, findings);
    inside_windows::tell(job, &envelope.enclosures, findings);
}

/// A room by its key, with how warm it is wished; one without heat is colder than any other.
fn warmth(enclosure: &Enclosure) -> (String, f64) {
    let kelvin = if enclosure.unheated { 0.0 } else { enclosure.indoor.si() };
    (enclosure.room.clone(), kelvin)
}

fn told(job: &Job, enclosure: &Enclosure, face: &Face, (message, advice): Trouble) -> Finding {
    let (subject, place) = match opening(job, face) {
        Some(opening) => (format!("opening.{}", opening.key), opening.place),
        None => (format!("room.{}", enclosure.room), enclosure.place),
    };
    Finding::new(Severity::Stop, "no-construction", subject, message, advice).at(place)
}

/// Tells of constructions in use that ask for a better method, each once.
fn doubts(job: &Job, envelope: &Envelope, findings: &mut Vec<Finding>) {
    let faces = envelope.enclosures.iter().flat_map(|enclosure| &enclosure.faces);
    let used: BTreeSet<&str> = faces.filter_map(|face| face.assembly.as_deref()).collect();
    for assembly in job.assemblies.iter().filter(|assembly| used.contains(&*assembly.key)) {
        let Some(why) = doubt(assembly, &job.catalogue) else { continue };
        let message = format!("its U-value is an estimate: {why}");
        let advice =
            "a two-dimensional calculation is due (ISO 10211); state its result as `u = …`";
        let subject = format!("assembly.{}", assembly.key);
        findings.push(
            Finding::new(Severity::Warn, "two-dimensional", subject, message, advice)
                .at(assembly.place),
        );
    }
}

/// The opening that a face is, if it is one.
fn opening<'a>(job: &'a Job, face: &Face) -> Option<&'a job::Opening> {
    let key = face.key.strip_prefix(face.kind.word())?.trim_start();
    let is_opening = matches!(face.kind, FaceKind::Window | FaceKind::Door | FaceKind::Skylight);
    job.openings.iter().find(|opening| is_opening && opening.key == key)
}

struct Builder<'a> {
    job: &'a Job,
    whole: Option<GroundFloor>,
    /// Its part that lies deeper than a slab at grade, by the rule set that asks for it.
    deep: Option<GroundFloor>,
    /// How warm each room is wished, kelvin, by key.
    warmth: BTreeMap<String, f64>,
}

impl Builder<'_> {
    fn face(&self, enclosure: &Enclosure, face: &Face) -> Result<Built, Trouble> {
        let word = face.kind.word();
        let Some(key) = &face.assembly else { return self.without_assembly(enclosure, face) };
        let complete =
            |message: String| (message, format!("complete the construction of the {word}"));
        let assembly = self.job.assembly(key);
        let assembly = assembly.ok_or_else(|| complete(format!("no assembly `{key}`")))?;
        let in_ground = face.behind == Behind::Ground;
        let u = match face.kind {
            FaceKind::Floor if in_ground => {
                return self.floor_on_ground(enclosure, face, assembly).map_err(complete);
            }
            FaceKind::Wall if in_ground => self.wall_in_ground(enclosure, face, assembly),
            _ => transmittance(assembly, self.crossing(enclosure, face), &self.job.catalogue),
        };
        Ok(Built { transmittance: Some(u.map_err(complete)?), edge_loss: None })
    }

    /// A face whose construction nobody states: none is needed where no heat flows.
    fn without_assembly(&self, enclosure: &Enclosure, face: &Face) -> Result<Built, Trouble> {
        let between = matches!(face.behind, Behind::Room(_) | Behind::Heated);
        if between && matches!(face.kind, FaceKind::Wall | FaceKind::Door) {
            return Ok(Built { transmittance: Some(partition()), edge_loss: None });
        }
        let same = match &face.behind {
            Behind::Heated => true,
            Behind::Room(key) => self.warmth.get(key) == self.warmth.get(&enclosure.room),
            _ => false,
        };
        if same && !enclosure.unheated {
            return Ok(Built::default());
        }
        let word = face.kind.word();
        Err((
            match opening(self.job, face) {
                Some(opening) => {
                    format!("the text does not say how {word} {} is made", opening.key)
                }
                None => format!("the text does not say how its {word} is made"),
            },
            format!("add `{word} = …` to [house] or to the room, naming an [assembly.…]"),
        ))
    }

    fn crossing(&self, enclosure: &Enclosure, face: &Face) -> Crossing {
        let own = self.warmth.get(&enclosure.room);
        let other = match &face.behind {
            Behind::Room(key) => self.warmth.get(key),
            _ => None,
        };
        let warmer_below = own.zip(other).map(|(own, other)| match face.kind {
            FaceKind::Floor => other >= own,
            _ => own >= other,
        });
        Crossing {
            way: way(face, warmer_below),
            outdoors: matches!(face.behind, Behind::Outdoors | Behind::Ground),
            films: self.job.rules.films.value,
        }
    }

    fn floor_on_ground(
        &self,
        enclosure: &Enclosure,
        face: &Face,
        assembly: &job::Assembly,
    ) -> Result<Built, String> {
        let edge = enclosure.exposed_edge.as_ref().is_some_and(|edge| edge.si() > 0.0);
        let own = match (&enclosure.floor, &self.whole) {
            // A room without heat lies outside the insulated whole.
            (Some(_), Some(whole)) if !(enclosure.unheated && edge) => whole.clone(),
            _ => alone(face, enclosure),
        };
        let by_u = |u| Built { transmittance: Some(u), edge_loss: None };
        match self.job.rules.ground_method.value {
            GroundMethod::Iso13370 => ground::floor(self.job, assembly, &own).map(by_u),
            GroundMethod::EdgeFactor => match edge_factor::depth(enclosure, face) {
                Some(depth) if depth.si() > self.job.rules.slab_at_grade.si() => {
                    let deep = self.deep.as_ref().unwrap_or(&own);
                    edge_factor::deep_floor(self.job, assembly, deep, &depth).map(by_u)
                }
                _ => {
                    let loss = edge_factor::edge_loss(self.job, enclosure, face, assembly)?;
                    Ok(Built { transmittance: None, edge_loss: Some(loss) })
                }
            },
        }
    }

    fn wall_in_ground(
        &self,
        enclosure: &Enclosure,
        face: &Face,
        assembly: &job::Assembly,
    ) -> Result<Figure<Transmittance>, String> {
        let depth = face.depth.as_ref().ok_or("how deep it stands in the ground is not known")?;
        match self.job.rules.ground_method.value {
            GroundMethod::Iso13370 => {
                let on_ground =
                    |face: &&Face| face.kind == FaceKind::Floor && face.behind == Behind::Ground;
                let floor = enclosure.faces.iter().find(on_ground);
                let floor = floor.and_then(|floor| self.job.assembly(floor.assembly.as_ref()?));
                ground::wall(self.job, assembly, floor, depth)
            }
            GroundMethod::EdgeFactor => {
                edge_factor::deep_wall(self.job, assembly, face.top.as_ref(), depth)
            }
        }
    }
}

/// A floor on the ground that is its own whole: a stated one, or that of a room without heat.
fn alone(face: &Face, enclosure: &Enclosure) -> GroundFloor {
    let edge = enclosure.exposed_edge.clone();
    let edge = edge.unwrap_or_else(|| Figure::sum("exposed edge", &[]));
    let dimension = Figure::by_law(
        "characteristic dimension of the floor",
        &laws::ground::CHARACTERISTIC_DIMENSION,
        &[Given::from(&face.area), Given::from(&edge)],
    );
    GroundFloor {
        area: face.area.clone(),
        exposed_edge: edge,
        dimension: dimension.ok(),
        depth: face.depth.clone(),
    }
}

fn partition() -> Figure<Transmittance> {
    Figure::assumed(
        "U of a partition",
        PARTITION_W_M2K,
        "board, stud space, board, with films both sides (ISO 6946 layers)",
    )
}
