//! Layers of a construction: `gypsum board 1/2 in`, `R-19 batt`, `concrete 4 in with tube`.

use super::Context;
use super::tables::short;
use crate::decision::Place;
use crate::finding::Severity;
use crate::model::{AirLayer, Layer};
use crate::nearest::nearest;
use crate::schema::{LAYER_BARE, LAYER_THICKNESS, Row};
use crate::tree::{Kind, Node};
use quantity::{AreaResistance, Length, Measure, Quantity, Ratio, System, Unit, unit};

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
    if let Some((fill, frame)) = text.split_once(" between ") {
        return framed(text, fill, frame, node.place, context);
    }
    let (what, tube) = match text.find("with tube") {
        Some(at) => (text[..at].trim_end_matches([' ', ',']), Some(&text[at + 9..])),
        None => (text.as_str(), None),
    };
    let Some(tube) = tube else { return plain_layer(what, node.place, context) };
    let (thickness, name) = measured(what, node.place, context)?;
    let material = material(name, node.place, context)?;
    let cover = cover(tube, thickness, node.place, context)?;
    let thickness = Length::from_si(thickness);
    Some(Layer::Material { material, thickness, holds_tube: true, cover })
}

/// A layer without frame or tube: rated, air, or so much of a material.
fn plain_layer(text: &str, place: Place, context: &mut Context<'_>) -> Option<Layer> {
    if let Some((resistance, words)) = rated(text) {
        return resistance_layer(resistance, &words, text, place, context);
    }
    let (thickness, name) = measured(text, place, context)?;
    if let Some(moves) = air(name) {
        return Some(Layer::Air { thickness: Length::from_si(thickness), moves });
    }
    let material = material(name, place, context)?;
    let thickness = Length::from_si(thickness);
    Some(Layer::Material { material, thickness, holds_tube: false, cover: None })
}

/// How much the air moves that these words call an air layer.
fn air(name: &str) -> Option<AirLayer> {
    const WORDS: &[(&str, AirLayer)] = &[
        ("air", AirLayer::Still),
        ("still air", AirLayer::Still),
        ("slightly ventilated air", AirLayer::Slight),
        ("ventilated air", AirLayer::Open),
        ("well ventilated air", AirLayer::Open),
    ];
    let wanted = squeeze(name);
    WORDS.iter().find(|(words, _)| squeeze(words) == wanted).map(|(_, moves)| *moves)
}

/// What lies between studs, joists or rafters: `R-19 batt 5.5 in between softwood 23 %`.
fn framed(
    text: &str,
    fill: &str,
    frame: &str,
    place: Place,
    context: &mut Context<'_>,
) -> Option<Layer> {
    if text.contains("with tube") {
        let message = format!("a layer between a frame cannot hold the tube: `{}`", short(text));
        let advice =
            "write \"with tube\" behind the layer over the frame, such as plates or screed";
        context.tell(Severity::Stop, "unreadable-layer", place, message, advice);
        return None;
    }
    let parted = frame_share(frame);
    if parted.is_none() {
        let message = format!("the frame's share of the area cannot be read in `{}`", short(frame));
        let advice = "write the frame's material and its share in per cent, such as softwood 15 %";
        context.tell(Severity::Stop, "unreadable-layer", place, message, advice);
    }
    let fill = plain_layer(fill, place, context)?;
    let (frame, share) = parted?;
    let frame = material(frame, place, context)?;
    if !(share > 0.0 && share < 1.0) {
        let message = format!("a frame cannot take {} % of the area", percent(share));
        let advice = "write a share above 0 and below 100 %; studs at 16 in take 15 to 25 %";
        context.tell(Severity::Stop, "impossible-value", place, message, advice);
        return None;
    }
    let (low, high) = FRAME_SHARE_USUAL;
    if !(low..=high).contains(&share) {
        let message = format!("a frame that takes {} % of the area is unusual", percent(share));
        let advice = "look at it; 4 to 40 % is usual, and yours is kept";
        context.tell(Severity::Warn, "unusual-value", place, message, advice);
    }
    let Some(thickness) = fill.thickness() else {
        let message = format!("the layer between the frame has no thickness: `{}`", short(text));
        let advice = "write how thick it is, such as R-19 batt 5.5 in between softwood 23 %";
        context.tell(Severity::Stop, "unreadable-layer", place, message, advice);
        return None;
    };
    Some(Layer::Framed { fill: Box::new(fill), frame, share: Ratio::from_si(share), thickness })
}

/// The share of a frame that is usual.
const FRAME_SHARE_USUAL: (f64, f64) = (0.04, 0.40);

fn percent(share: f64) -> String {
    quantity::number_in(share, &unit::PERCENT)
}

/// The material of a frame, and its share, which must be in per cent.
fn frame_share(text: &str) -> Option<(&str, f64)> {
    let number = text.trim().strip_suffix('%')?.trim_end();
    let at = number.rfind(char::is_whitespace)?;
    let share = quantity::read(&number[at..], Measure::Ratio, &unit::PERCENT).ok()?;
    let name = number[..at].trim();
    (!name.is_empty()).then_some((name, share))
}

/// The R-value of a layer in SI, and the words beside it: `R-19 batt`, `0.5 m²K/W air`.
fn rated(text: &str) -> Option<(f64, String)> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let label = |word: &str| {
        let word = word.to_ascii_lowercase();
        let rest = word.strip_prefix("rsi").or_else(|| word.strip_prefix('r'))?;
        rest.trim_start_matches('-').starts_with(|c: char| c.is_ascii_digit()).then_some(())
    };
    let read = |text: &str| quantity::read(text, Measure::AreaResistance, &unit::R_US).ok();
    if let Some(at) = words.iter().position(|word| label(word).is_some()) {
        let beside = [&words[..at], &words[at + 1..]].concat().join(" ");
        return Some((read(words.get(at)?)?, beside));
    }
    if text.to_lowercase().contains("k/w") {
        return (1..=words.len())
            .rev()
            .find_map(|end| Some((read(&words[..end].join(" "))?, words[end..].join(" "))));
    }
    None
}

/// A layer by its R-value; `words` are what stands beside it, a thickness among them or not.
fn resistance_layer(
    si: f64,
    words: &str,
    text: &str,
    place: Place,
    context: &mut Context<'_>,
) -> Option<Layer> {
    if !(0.0..=50.0).contains(&si) {
        let message = format!("a layer of this R-value cannot be: `{}`", short(text));
        context.tell(Severity::Stop, "impossible-value", place, message, "look at the number");
        return None;
    }
    let alone = quantity::read(words, Measure::Length, bare(context.units)).ok();
    let thickness = match alone.or_else(|| thickness(words, context.units).map(|it| it.0)) {
        Some(metres) => Some(Length::from_si(possible(metres, text, place, context)?)),
        None => None,
    };
    Some(Layer::Rated {
        resistance: AreaResistance::from_si(si),
        thickness,
        words: text.trim().to_owned(),
    })
}

/// The thickness of a layer and the name beside it; told, if there is none or it cannot be.
fn measured<'a>(text: &'a str, place: Place, context: &mut Context<'_>) -> Option<(f64, &'a str)> {
    if let Some((metres, name)) = thickness(text, context.units) {
        return Some((possible(metres, text, place, context)?, name));
    }
    let comma = text
        .as_bytes()
        .windows(3)
        .any(|three| three[0].is_ascii_digit() && three[1] == b',' && three[2].is_ascii_digit());
    let advice = if comma {
        "write decimals with a point: 12.5 mm and not 12,5 mm"
    } else {
        "write the material and its thickness, such as concrete 4 in, or an R-value"
    };
    let message = format!("no thickness can be read in `{}`", short(text));
    context.tell(Severity::Stop, "unreadable-layer", place, message, advice);
    None
}

/// A thickness that a layer can have.
fn possible(metres: f64, text: &str, place: Place, context: &mut Context<'_>) -> Option<f64> {
    let (low, high) = LAYER_THICKNESS;
    if !(low..=high).contains(&metres) {
        let message = format!("a layer of this thickness cannot be: `{}`", short(text));
        context.tell(Severity::Stop, "impossible-value", place, message, "look at the unit");
        return None;
    }
    Some(metres)
}

/// The unit of a bare thickness.
fn bare(units: System) -> &'static Unit {
    match units {
        System::Us => LAYER_BARE.0,
        System::Si => LAYER_BARE.1,
    }
}

/// The thickness, at the end or the beginning, and the words beside it.
fn thickness(text: &str, units: System) -> Option<(f64, &str)> {
    let read = |text: &str| quantity::read(text, Measure::Length, bare(units)).ok();
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
    let materials = || context.shelf.catalogue.materials.iter().chain(&context.materials);
    let wanted = squeeze(name);
    let found = materials()
        .find(|material| squeeze(&material.key) == wanted || squeeze(&material.name) == wanted);
    if let Some(material) = found {
        return Some(material.key.clone());
    }
    let known = nearest(name, materials().map(|material| material.key.as_str()));
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
    let words = rest.strip_prefix("under").or_else(|| rest.strip_prefix("cover"));
    let metres =
        words.and_then(|words| quantity::read(words, Measure::Length, bare(context.units)).ok());
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
