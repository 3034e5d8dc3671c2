//! U-values of constructions by ISO 6946: layers, frames, films and corrections.

use super::layers::{Path, Source, path, sheltered, slightly_ventilated};
use super::{Face, FaceKind};
use crate::figure::{Figure, Given, How};
use job::{Assembly, Catalogue, Construction, Films, Layer};
use laws::envelope::{self as law, HeatFlow};
use laws::{LawError, conventions};
use quantity::{AreaResistance, Length, Quantity, Ratio, Transmittance};

/// Framed layers of one construction at most: each doubles the paths through it.
const FRAMED_MOST: usize = 6;
/// Rise over run of 60°: a steeper roof counts as a wall (EN ISO 6946: within 30° of upright).
const STEEP: f64 = 1.732_050_808;

/// How heat crosses a construction: which way, between which films.
#[derive(Clone, Copy)]
pub(super) struct Crossing {
    pub(super) way: HeatFlow,
    /// Whether its far side is swept by outdoor air.
    pub(super) outdoors: bool,
    pub(super) films: Films,
}

/// The way that heat flows through a face; `warmer_below` tells it where two rooms share a floor.
pub(super) fn way(face: &Face, warmer_below: Option<bool>) -> HeatFlow {
    let steep = face.pitch.as_ref().is_some_and(|pitch| pitch.si() > STEEP);
    match (face.kind, warmer_below) {
        (FaceKind::Wall | FaceKind::Window | FaceKind::Door, _) => HeatFlow::Horizontal,
        (FaceKind::Roof | FaceKind::Skylight, _) if steep => HeatFlow::Horizontal,
        (_, Some(true)) => HeatFlow::Up,
        (_, Some(false)) => HeatFlow::Down,
        (FaceKind::Ceiling | FaceKind::Roof | FaceKind::Skylight, None) => HeatFlow::Up,
        (FaceKind::Floor, None) => HeatFlow::Down,
    }
}

/// The U-value of an assembly, films included.
///
/// The error says what is missing, for a contractor.
pub(super) fn transmittance(
    assembly: &Assembly,
    crossing: Crossing,
    catalogue: &Catalogue,
) -> Result<Figure<Transmittance>, String> {
    match &assembly.construction {
        None => Err(format!("how assembly {} is made is not known", assembly.key)),
        Some(Construction::Rated(rated)) => Ok(Figure::new(
            format!("U of {}", assembly.key),
            rated.value.si(),
            How::Stated(rated.place),
        )),
        Some(Construction::Layers(layers)) => {
            let source = Source { assembly, place: layers.place, catalogue };
            let section = Section::new(source, &layers.value, crossing)?;
            section.transmittance().map_err(|error| format!("assembly {}: {error}", assembly.key))
        }
    }
}

/// The U-value of a stated surface of a space: its own slope, or upright.
pub(crate) fn surface_transmittance(
    job: &job::Job,
    assembly: &Assembly,
    up: bool,
    outdoors: bool,
) -> Result<Figure<Transmittance>, String> {
    let way = if up { HeatFlow::Up } else { HeatFlow::Horizontal };
    let crossing = Crossing { way, outdoors, films: job.rules.films.value };
    transmittance(assembly, crossing, &job.catalogue)
}

/// Why a U-value by this method is in doubt; none where it is not.
///
/// Metal that bridges insulation, or limits that lie more than half apart, ask for a
/// two-dimensional calculation (ISO 6946).
pub(super) fn doubt(assembly: &Assembly, catalogue: &Catalogue) -> Option<String> {
    let Some(Construction::Layers(layers)) = &assembly.construction else { return None };
    // Between timber and insulation lie factors of ten; between them and metal a thousand.
    const METAL_W_MK: f64 = 10.0;
    for layer in &layers.value {
        let Layer::Framed { frame, .. } = layer else { continue };
        let entry = catalogue.material(frame)?;
        if entry.conductivity.si() >= METAL_W_MK {
            return Some(format!("{} bridges its insulation", entry.name));
        }
    }
    let crossing = Crossing { way: HeatFlow::Horizontal, outdoors: true, films: Films::Iso };
    let source = Source { assembly, place: layers.place, catalogue };
    let section = Section::new(source, &layers.value, crossing).ok()?;
    let [upper, lower] = section.limits().ok()??;
    let ratio = upper.si() / lower.si();
    (ratio > 1.5).then(|| {
        format!("the upper limit of its resistance is {ratio:.2} times the lower, above 1.5")
    })
}

/// The air film at one side of a face (ISO 6946).
pub(crate) fn film(kind: FaceKind, inside: bool) -> Result<Figure<AreaResistance>, LawError> {
    let way = match kind {
        FaceKind::Ceiling | FaceKind::Roof | FaceKind::Skylight => HeatFlow::Up,
        FaceKind::Floor => HeatFlow::Down,
        FaceKind::Wall | FaceKind::Window | FaceKind::Door => HeatFlow::Horizontal,
    };
    film_by(Films::Iso, way, inside)
}

/// The air film at one side of a surface, by the films of the rule set.
pub(super) fn film_by(
    films: Films,
    way: HeatFlow,
    inside: bool,
) -> Result<Figure<AreaResistance>, LawError> {
    let (face, name) = match inside {
        true => (law::Face::Inside, "inside film"),
        false => (law::Face::Outside, "outside film"),
    };
    let law = match films {
        Films::Iso => &law::SURFACE_RESISTANCE,
        Films::Ashrae => &conventions::ASHRAE_SURFACE_RESISTANCE,
    };
    Figure::by_law(name, law, &[Given::Choice(face as u8), Given::Choice(way as u8)])
}

/// A construction as heat crosses it.
struct Section<'a> {
    assembly: &'a Assembly,
    layers: &'a [Layer],
    paths: Vec<Path>,
    films: [Figure<AreaResistance>; 2],
}

impl<'a> Section<'a> {
    fn new(source: Source<'a>, layers: &'a [Layer], crossing: Crossing) -> Result<Self, String> {
        let key = &source.assembly.key;
        let told = |error: LawError| format!("assembly {key}: {error}");
        let (layers, swept) = sheltered(layers);
        if layers.is_empty() {
            return Err(format!("assembly {key}: nothing lies inward of its ventilated air"));
        }
        let paths: Result<Vec<Path>, String> =
            layers.iter().map(|layer| path(source, layer, crossing.way)).collect();
        let mut paths = paths?;
        if let Some(air) = slightly_ventilated(layers).filter(|_| crossing.outdoors && !swept) {
            weaken(&mut paths, air).map_err(told)?;
        }
        let framed = paths.iter().filter(|path| matches!(path, Path::Framed { .. })).count();
        if framed > FRAMED_MOST {
            return Err(format!(
                "assembly {key}: {framed} framed layers, more than the {FRAMED_MOST} that can be told"
            ));
        }
        // Moving air in a layer leaves still air before what lies inward of it.
        let far_inside = swept || !crossing.outdoors;
        let films = [
            film_by(crossing.films, crossing.way, true).map_err(told)?,
            film_by(crossing.films, crossing.way, far_inside).map_err(told)?,
        ];
        Ok(Section { assembly: source.assembly, layers, paths, films })
    }

    /// The U-value with its corrections.
    fn transmittance(&self) -> Result<Figure<Transmittance>, Untold> {
        let name = format!("U of {}", self.assembly.key);
        let plain = match self.limits()? {
            None => {
                let layers = self.plain_layers()?;
                let layers = Given::List(layers.iter().map(|layer| layer.work.clone()).collect());
                let [inside, outside] = &self.films;
                let inputs = [Given::from(inside), layers, Given::from(outside)];
                Figure::by_law(&*name, &law::LAYERED_TRANSMITTANCE, &inputs)?
            }
            Some([upper, lower]) => {
                let inputs = [Given::from(&upper), Given::from(&lower)];
                let resistance: Figure<AreaResistance> =
                    Figure::by_law("resistance", &law::COMBINED_RESISTANCE, &inputs)?;
                inverse(&*name, &resistance)
            }
        };
        self.corrected(name, plain)
    }

    /// Each layer by itself, framed ones with fill and frame side by side.
    fn plain_layers(&self) -> Result<Vec<Figure<AreaResistance>>, LawError> {
        self.paths.iter().map(Path::resistance).collect()
    }

    /// Upper and lower limit of the resistance; none without a framed layer.
    fn limits(&self) -> Result<Option<[Figure<AreaResistance>; 2]>, LawError> {
        if self.paths.iter().all(|path| matches!(path, Path::Plain(_))) {
            return Ok(None);
        }
        let (mut shares, mut resistances) = (Vec::new(), Vec::new());
        for number in 0..self.path_count() {
            let (share, resistance) = self.whole_path(number);
            shares.push(share.work);
            resistances.push(resistance.work);
        }
        let inputs = [Given::List(shares), Given::List(resistances)];
        let upper =
            Figure::by_law("upper limit, over whole paths", &law::PARALLEL_RESISTANCE, &inputs)?;
        let mut layers = self.plain_layers()?;
        layers.extend(self.films.iter().cloned());
        Ok(Some([upper, Figure::sum("lower limit, layer by layer", &layers)]))
    }

    fn path_count(&self) -> usize {
        let framed = self.paths.iter().filter(|path| matches!(path, Path::Framed { .. }));
        1 << framed.count()
    }

    /// One way through all layers: its share of the area, and its resistance from air to air.
    ///
    /// Each framed layer in turn is taken at its frame where the number has a bit set.
    fn whole_path(&self, number: usize) -> (Figure<Ratio>, Figure<AreaResistance>) {
        let (mut shares, mut along, mut bit) = (Vec::new(), vec![self.films[0].clone()], 0);
        for path in &self.paths {
            match path {
                Path::Plain(resistance) => along.push(resistance.clone()),
                Path::Framed { fill, frame, shares: [filled, framed] } => {
                    let at_frame = number >> bit & 1 == 1;
                    bit += 1;
                    along.push(if at_frame { frame.clone() } else { fill.clone() });
                    shares.push(if at_frame { framed.work.clone() } else { filled.work.clone() });
                }
            }
        }
        along.push(self.films[1].clone());
        let share = Figure::product("share of this path", &shares.iter().collect::<Vec<_>>());
        (share, Figure::sum("resistance along this path", &along))
    }

    /// Adds what air gaps and fixings in the insulation make worse.
    fn corrected(
        &self,
        name: String,
        plain: Figure<Transmittance>,
    ) -> Result<Figure<Transmittance>, Untold> {
        let gaps = &self.assembly.gaps;
        if gaps.value == 0 && self.assembly.fixings.is_none() {
            return Ok(plain);
        }
        let (insulation, thickness) = self.insulation()?;
        let total: Figure<AreaResistance> = inverse("resistance before corrections", &plain);
        let mut corrections = Vec::new();
        if gaps.value > 0 {
            let level = Given::Choice(u8::try_from(gaps.value).unwrap_or(u8::MAX));
            let level: Figure<Transmittance> =
                Figure::by_law("level of air gaps", &conventions::AIR_GAP_LEVEL, &[level])?;
            let inputs = [Given::from(&level), Given::from(&insulation), Given::from(&total)];
            let gap =
                Figure::<Transmittance>::by_law("air gaps", &law::AIR_GAP_CORRECTION, &inputs)?;
            corrections.push(gap.work);
        }
        if let Some(fixings) = &self.assembly.fixings {
            let thickness =
                thickness.ok_or("fixings go through insulation whose thickness is not stated")?;
            let metal = Figure::fact("conductivity of the fixings", &fixings.conductivity);
            let section = Figure::fact("section of a fixing", &fixings.section);
            let count = Figure::fact("fixings on each square metre", &fixings.per_square_metre);
            let inputs = [
                &metal.work,
                &section.work,
                &count.work,
                &thickness.work,
                &insulation.work,
                &total.work,
            ];
            let law = &conventions::FIXINGS_CORRECTION;
            let fixed = Figure::<Transmittance>::by_law("fixings", law, &inputs.map(Given::One))?;
            corrections.push(fixed.work);
        }
        let inputs = [Given::from(&plain), Given::List(corrections)];
        Ok(Figure::by_law(name, &conventions::CORRECTED_TRANSMITTANCE, &inputs)?)
    }

    /// The layer that insulates most, and how thick it is; of a framed one, its fill.
    fn insulation(&self) -> Result<(Figure<AreaResistance>, Option<Figure<Length>>), Untold> {
        let fill = |path: &Path| match path {
            Path::Plain(resistance) | Path::Framed { fill: resistance, .. } => resistance.clone(),
        };
        let layers = self.paths.iter().map(fill).zip(self.layers);
        let most = layers.max_by(|(a, _), (b, _)| a.si().total_cmp(&b.si()));
        let (resistance, layer) = most.ok_or("no layer insulates")?;
        let place = match &self.assembly.construction {
            Some(Construction::Layers(layers)) => layers.place,
            _ => self.assembly.place,
        };
        let thickness = layer
            .thickness()
            .map(|thickness| Figure::new("thickness", thickness.si(), How::Stated(place)));
        Ok((resistance, thickness))
    }
}

/// Takes what lies outward of a slightly ventilated air layer for no more than it may count.
fn weaken(paths: &mut Vec<Path>, air: usize) -> Result<(), LawError> {
    let outward = paths.split_off((air + 1).min(paths.len()));
    if outward.is_empty() {
        return Ok(());
    }
    let resistances: Result<Vec<_>, LawError> = outward.iter().map(Path::resistance).collect();
    let works = resistances?.iter().map(|resistance| resistance.work.clone()).collect();
    let law = &law::OUTWARD_OF_VENTILATED_AIR;
    let name = "layers outward of the ventilated air";
    paths.push(Path::Plain(Figure::by_law(name, law, &[Given::List(works)])?));
    Ok(())
}

/// One over a figure: a U-value from a resistance, or the other way.
fn inverse<A: Quantity, B: Quantity>(name: impl Into<String>, figure: &Figure<A>) -> Figure<B> {
    let definition = How::Decided("definition of R = 1/U".to_owned());
    let one = Figure::<Ratio>::new("one", 1.0, definition);
    Figure::quotient(name, &one.work, &figure.work)
}

/// A law without an answer, or what is missing in words.
struct Untold(String);

impl From<LawError> for Untold {
    fn from(error: LawError) -> Self {
        Untold(error.to_string())
    }
}

impl From<&str> for Untold {
    fn from(text: &str) -> Self {
        Untold(text.to_owned())
    }
}

impl std::fmt::Display for Untold {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(&self.0)
    }
}
