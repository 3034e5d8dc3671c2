//! U-values of faces, once it is known what touches what.

use super::construction::transmittance;
use super::{Behind, Enclosure, Envelope, Face, FaceKind, GroundFloor, ground};
use crate::figure::{Figure, Given};
use job::{Finding, Job, Severity};
use quantity::Transmittance;

/// U-value taken for a partition between rooms of different temperature.
const PARTITION_W_M2K: f64 = 1.9;

/// Gives every face its U-value; what cannot be told is told.
pub(super) fn build(job: &Job, envelope: &mut Envelope, findings: &mut Vec<Finding>) {
    let whole = envelope.ground.clone();
    for enclosure in &mut envelope.enclosures {
        let mut faces = std::mem::take(&mut enclosure.faces);
        for face in &mut faces {
            match face_transmittance(job, enclosure, face, whole.as_ref()) {
                Ok(u) => face.transmittance = u,
                Err((message, advice)) => {
                    let (subject, place) = match opening(job, face) {
                        Some(opening) => (format!("opening.{}", opening.key), opening.place),
                        None => (format!("room.{}", enclosure.room), enclosure.place),
                    };
                    let finding =
                        Finding::new(Severity::Stop, "no-construction", subject, message, advice)
                            .at(place);
                    if !findings.contains(&finding) {
                        findings.push(finding);
                    }
                }
            }
        }
        enclosure.faces = faces;
    }
}

/// The opening that a face is, if it is one.
fn opening<'a>(job: &'a Job, face: &Face) -> Option<&'a job::Opening> {
    let key = face.key.strip_prefix(face.kind.word())?.trim_start();
    let is_opening = matches!(face.kind, FaceKind::Window | FaceKind::Door | FaceKind::Skylight);
    job.openings.iter().find(|opening| is_opening && opening.key == key)
}

fn face_transmittance(
    job: &Job,
    enclosure: &Enclosure,
    face: &Face,
    whole: Option<&GroundFloor>,
) -> Result<Option<Figure<Transmittance>>, (String, String)> {
    let word = face.kind.word();
    let Some(key) = &face.assembly else {
        let between = matches!(face.behind, Behind::Room(_) | Behind::Heated);
        if between && matches!(face.kind, FaceKind::Wall | FaceKind::Door) {
            return Ok(Some(partition()));
        }
        return Err((
            match opening(job, face) {
                Some(opening) => {
                    format!("the text does not say how {word} {} is made", opening.key)
                }
                None => format!("the text does not say how its {word} is made"),
            },
            format!("add `{word} = …` to [house] or to the room, naming an [assembly.…]"),
        ));
    };
    let complete = |message: String| (message, format!("complete the construction of the {word}"));
    let assembly = job.assembly(key).ok_or_else(|| complete(format!("no assembly `{key}`")))?;
    if face.behind == Behind::Ground && face.kind == FaceKind::Floor {
        let own = match &enclosure.floor {
            Some(_) => whole.cloned(),
            None => Some(alone(face, enclosure)),
        };
        let Some(own) = own else { return Ok(None) };
        return ground::transmittance(job, assembly, &own).map(Some).map_err(complete);
    }
    let outdoors = face.behind == Behind::Outdoors;
    transmittance(assembly, face.kind, outdoors, &job.catalogue).map(Some).map_err(complete)
}

/// A stated floor on the ground is its own whole.
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
        depth: None,
    }
}

fn partition() -> Figure<Transmittance> {
    Figure::assumed(
        "U of a partition",
        PARTITION_W_M2K,
        "board, stud space, board, with films both sides (ISO 6946 layers)",
    )
}
