//! What the heat of the house goes through, for the picture.

use super::case::Case;
use super::rooms::Way;
use super::{FaceLoss, GroupLoss, Part, RoomLoss};
use crate::envelope::{Behind, FaceKind};
use crate::figure::{Figure, How};
use quantity::Power;

/// Parts by name, in the order in which equal ones stand.
const NAMES: [&str; 9] = [
    "walls",
    "windows",
    "doors",
    "roofs and ceilings",
    "floors over outdoor air",
    "unheated spaces",
    "ground",
    "next house",
    "heated space",
];

/// The parts of the house's heat, largest first; they add up to its total.
pub(super) fn parts(case: &Case<'_>, rooms: &[RoomLoss], house: &GroupLoss) -> Vec<Part> {
    let mut through: Vec<(&'static str, Vec<Figure<Power>>)> =
        NAMES.iter().map(|name| (*name, Vec::new())).collect();
    let mut bridges = Vec::new();
    for face in rooms.iter().flat_map(|room| &room.faces).filter(|face| face.counts) {
        let Some(name) = part_of(case, face) else { continue };
        let bridge = bridge_of(case, face);
        let plain = match &bridge {
            Some(bridge) => face.loss.less(format!("{} without bridges", face.face), bridge),
            None => face.loss.clone(),
        };
        bridges.extend(bridge);
        if let Some((_, losses)) = through.iter_mut().find(|(known, _)| *known == name) {
            losses.push(plain);
        }
    }
    through.push(("thermal bridges", bridges));
    let mut parts: Vec<Part> = through
        .into_iter()
        .filter(|(_, losses)| !losses.is_empty())
        .map(|(name, losses)| Part { name, loss: Figure::sum(name, &losses) })
        .collect();
    parts.push(Part { name: "air", loss: house.heat.air.clone() });
    parts.sort_by(|a, b| b.loss.si().total_cmp(&a.loss.si()));
    parts
}

/// The part that a face belongs to; none for what stays in the house.
fn part_of(case: &Case<'_>, face: &FaceLoss) -> Option<&'static str> {
    Some(match Way::of(case, &face.behind) {
        Way::Unheated => "unheated spaces",
        Way::Ground => "ground",
        Way::Neighbours => match face.behind {
            Behind::NextHouse => "next house",
            Behind::Heated => "heated space",
            _ => return None,
        },
        Way::Outdoors => match face.kind {
            FaceKind::Wall => "walls",
            FaceKind::Window | FaceKind::Skylight => "windows",
            FaceKind::Door => "doors",
            FaceKind::Ceiling | FaceKind::Roof => "roofs and ceilings",
            FaceKind::Floor => "floors over outdoor air",
        },
    })
}

/// What the allowance for thermal bridges makes of a face to outdoors.
fn bridge_of(case: &Case<'_>, face: &FaceLoss) -> Option<Figure<Power>> {
    if face.behind != Behind::Outdoors {
        return None;
    }
    let allowance = case.bridge_allowance(&face.behind)?;
    let works = [face.area.work.clone(), allowance.work.clone(), face.difference.work.clone()];
    let si = works.iter().map(|work| work.si).product();
    Some(Figure::new(format!("bridges of {}", face.face), si, How::Product(works.to_vec())))
}
