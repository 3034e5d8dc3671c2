//! Layers of a construction: `gypsum board 1/2 in`, `R-19 batt`, `concrete 4 in with tube`.

use super::Context;
use super::tables::short;
use crate::decision::Place;
use crate::finding::Severity;
use crate::model::Layer;
use crate::nearest::nearest;
use crate::schema::{LAYER_BARE, LAYER_THICKNESS, Row};
use crate::tree::{Kind, Node};
use quantity::{AreaResistance, Length, Measure, Quantity, System, Unit, unit};

/// The most layers of one construction.
const LAYERS_MOST: usize = 30;

/// The layers of a list; those that cannot be read are told, and then there are none.
pub(crate) fn read(node: &Node, row: &Row, context: &mut Context<'_>) -> Option<Vec<Layer>> {
    let single = std::slice::from_ref(node);
    let items = match &node.kind {
        Kind::List(items) if items.is_empty() || items.len() > LAYERS_MOST => {
            let message = format!("a construction of {} layers", items.len());
            let advice = format!("write {}", row.write(context.units));
            context.tell(Severity::Stop, "unreadable-value", node.place, message, advice);
            return None;
        }
        Kind::List(items) => items.as_slice(),
        _ => single,
    };
    let layers: Vec<Option<Layer>> = items.iter().map(|item| layer(item, row, context)).collect();
    let layers = layers.into_iter().collect::<Option<Vec<Layer>>>()?;
    let tubes = layers.iter().filter(|layer| holds_tube(layer)).count();
    if tubes > 1 {
        context.tell(
            Severity::Stop,
            "two-tube-layers",
            node.place,
            format!("{tubes} layers hold the tube"),
            "write \"with tube\" behind the one layer that the tube lies in",
        );
        return None;
    }
    Some(layers)
}

fn holds_tube(layer: &Layer) -> bool {
    matches!(layer, Layer::Material { holds_tube: true, .. })
}

fn layer(node: &Node, row: &Row, context: &mut Context<'_>) -> Option<Layer> {
    let Kind::Text(text) = &node.kind else {
        let message = format!("a layer is {}", node.kind.words());
        let advice = format!("write {}", row.write(context.units));
        context.tell(Severity::Stop, "unreadable-value", node.place, message, advice);
        return None;
    };
    let (what, tube) = match text.find("with tube") {
        Some(at) => (text[..at].trim_end_matches([' ', ',']), Some(&text[at + 9..])),
        None => (text.as_str(), None),
    };
    if tube.is_none()
        && let Some(resistance) = rated(what)
    {
        return resistance_layer(resistance, text, node.place, context);
    }
    let Some((thickness, name)) = thickness(what, context.units) else {
        let comma = what.as_bytes().windows(3).any(|three| {
            three[0].is_ascii_digit() && three[1] == b',' && three[2].is_ascii_digit()
        });
        let advice = if comma {
            "write decimals with a point: 12.5 mm and not 12,5 mm"
        } else {
            "write the material and its thickness, such as concrete 4 in, or an R-value"
        };
        let message = format!("no thickness can be read in `{}`", short(text));
        context.tell(Severity::Stop, "unreadable-layer", node.place, message, advice);
        return None;
    };
    let (low, high) = LAYER_THICKNESS;
    if !(low..=high).contains(&thickness) {
        let message = format!("a layer of this thickness cannot be: `{}`", short(text));
        context.tell(Severity::Stop, "impossible-value", node.place, message, "look at the unit");
        return None;
    }
    let material = material(name, node.place, context)?;
    let cover = match tube {
        None => None,
        Some(rest) => cover(rest, thickness, node.place, context)?,
    };
    let thickness = Length::from_si(thickness);
    Some(Layer::Material { material, thickness, holds_tube: tube.is_some(), cover })
}

/// A layer by its R-value: `R-19 batt`, `mineral wool R-21`, `0.5 m²K/W air`.
fn rated(text: &str) -> Option<f64> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let label = |word: &str| {
        let word = word.to_ascii_lowercase();
        let rest = word.strip_prefix("rsi").or_else(|| word.strip_prefix('r'))?;
        rest.trim_start_matches('-').starts_with(|c: char| c.is_ascii_digit()).then_some(())
    };
    let read = |text: &str| quantity::read(text, Measure::AreaResistance, &unit::R_US).ok();
    if let Some(word) = words.iter().find(|word| label(word).is_some()) {
        return read(word);
    }
    if text.to_lowercase().contains("k/w") {
        return (1..=words.len()).rev().find_map(|end| read(&words[..end].join(" ")));
    }
    None
}

fn resistance_layer(si: f64, text: &str, place: Place, context: &mut Context<'_>) -> Option<Layer> {
    if !(0.0..=50.0).contains(&si) {
        let message = format!("a layer of this R-value cannot be: `{}`", short(text));
        context.tell(Severity::Stop, "impossible-value", place, message, "look at the number");
        return None;
    }
    Some(Layer::Rated {
        resistance: AreaResistance::from_si(si),
        thickness: None,
        words: text.trim().to_owned(),
    })
}

/// The thickness, at the end or the beginning, and the words beside it.
fn thickness(text: &str, units: System) -> Option<(f64, &str)> {
    let bare: &Unit = match units {
        System::Us => LAYER_BARE.0,
        System::Si => LAYER_BARE.1,
    };
    let read = |text: &str| quantity::read(text, Measure::Length, bare).ok();
    let text = text.trim();
    let gaps: Vec<usize> =
        text.char_indices().filter(|(_, c)| c.is_whitespace()).map(|(at, _)| at).take(24).collect();
    let behind = gaps.iter().find_map(|at| Some((read(&text[*at..])?, text[..*at].trim())));
    behind.or_else(|| {
        gaps.iter().rev().find_map(|at| Some((read(&text[..*at])?, text[*at..].trim())))
    })
}

/// The catalogue key of a material, written as key or name.
fn material(name: &str, place: Place, context: &mut Context<'_>) -> Option<String> {
    let materials = &context.shelf.catalogue.materials;
    let wanted = squeeze(name);
    let found = materials
        .iter()
        .find(|material| squeeze(&material.key) == wanted || squeeze(&material.name) == wanted);
    if let Some(material) = found {
        return Some(material.key.clone());
    }
    let known = nearest(name, materials.iter().map(|material| material.key.as_str()));
    let advice = match known {
        Some(known) => format!("write {known} if that is meant"),
        None => "name a material of the catalogue, or give the layer as an R-value".to_owned(),
    };
    let message = format!("no material of the catalogue is called `{}`", short(name));
    context.tell(Severity::Stop, "unknown-reference", place, message, advice);
    None
}

/// A name without case, blanks and joiners.
pub(crate) fn squeeze(name: &str) -> String {
    crate::nearest::plain(name)
}

/// What stands behind `with tube`: nothing, or the cover above it. Outer none: told.
fn cover(
    rest: &str,
    thickness: f64,
    place: Place,
    context: &mut Context<'_>,
) -> Option<Option<Length>> {
    let rest = rest.trim_start_matches([' ', ',']).trim();
    if rest.is_empty() {
        return Some(None);
    }
    let bare: &Unit = match context.units {
        System::Us => LAYER_BARE.0,
        System::Si => LAYER_BARE.1,
    };
    let words = rest.strip_prefix("under").or_else(|| rest.strip_prefix("cover"));
    let metres = words.and_then(|words| quantity::read(words, Measure::Length, bare).ok());
    match metres {
        Some(metres) if metres >= 0.0 && metres < thickness => Some(Some(Length::from_si(metres))),
        Some(_) => {
            let message = "the cover over the tube is no part of the layer's thickness";
            let advice = "write a cover from 0 to less than the thickness of the layer";
            context.tell(Severity::Stop, "impossible-value", place, message, advice);
            None
        }
        None => {
            let message = format!("`{}` does not say how deep the tube lies", short(rest));
            let advice = "write \"with tube\", or \"with tube, cover 2 in\" from its top to the top of the layer";
            context.tell(Severity::Stop, "unreadable-layer", place, message, advice);
            None
        }
    }
}
