//! The floor above and below the tube, as layers and as the section that they make.

use super::below::{Downward, Surroundings, Under};
use super::section::{
    Bays, Beyond, Curve, Cut, FLOOR_W_M2K, Pairs, Response, Sections, Slab, Spread, Whole,
};
use super::stack::Stack;
use crate::envelope::{Enclosure, FaceKind, conductivity, layer_resistances, material_layer};
use crate::figure::{Figure, Given, How, Work};
use job::{Assembly, Carrier, Construction, Finish, Job, Layer, Material, Place, Room, Tube};
use laws::{panel as law, tube_heat};
use quantity::{AreaResistance, Conductivity, Length, Quantity, Ratio, Transmittance};
use std::sync::Arc;

/// How much less deep than its tube a layer may be said to be, metres: nominal sizes round.
const FITS_M: f64 = 0.005;
/// Film of the fluid until its flow is known: turbulent water, as EN 1264 takes it, W/m²K.
const NOMINAL_FILM_W_M2K: f64 = 1500.0;

/// Emissivity of plastic tube.
const EMISSIVITY: f64 = 0.9;
/// Share of a floor that joists take where its layers do not say: 1 1/2 in of every 16 in.
const USUAL_FRAME: f64 = 0.094;

/// A heated floor's layers as the tube sees them.
#[derive(Clone, Debug)]
pub(crate) struct BuildUp {
    /// What the tube lies in or under.
    pub(crate) cover: Figure<Length>,
    /// Conductivity of the layer that holds the tube.
    pub(crate) holder: Figure<Conductivity>,
    /// Finish, and layers between it and the layer that holds the tube.
    pub(crate) covering: Figure<AreaResistance>,
    /// From tube to what is below.
    pub(crate) downward: Downward,
    /// Layers below the one that holds the tube.
    pub(crate) insulation: Figure<AreaResistance>,
    /// The tube.
    pub(crate) tube: Tube,
    /// Distance of the grooves that hold the tube, where some do.
    pub(crate) grooves: Option<Length>,
    /// The material that holds the tube.
    pub(crate) material: Material,
    /// Whether the tube lies embedded in screed or slab.
    pub(crate) is_wet: bool,
    /// The finish alone.
    finish_m2k_w: f64,
    /// Its layers one by one.
    pub(crate) whole: Arc<Whole>,
    curve: Arc<Curve>,
    rugs: Option<Rugged>,
}

/// The part of a floor that lies under rugs.
#[derive(Clone, Debug)]
struct Rugged {
    share: Figure<Ratio>,
    resistance: Figure<AreaResistance>,
    curve: Arc<Curve>,
}

/// Where the tube lies in its floor.
struct Parts<'a> {
    place: Place,
    above: &'a [Layer],
    material: &'a Material,
    thickness_m: f64,
    cover_m: f64,
    cover: How,
    under: &'a [Layer],
}

/// The build-up of a room's heated floor.
pub(crate) fn build_up(
    around: &Surroundings<'_>,
    enclosure: &Enclosure,
    room: &Room,
    tube: &Tube,
    sections: &mut Sections,
) -> Result<BuildUp, String> {
    let job = around.job;
    let assembly = floor_of(job, enclosure, room);
    let assembly = assembly.ok_or("the text does not say how its floor is made")?;
    let catalogue = &job.catalogue;
    let parts = parts(assembly, tube, catalogue)?;
    let place = parts.place;
    let cover: Figure<Length> = Figure::new("cover over the tube", parts.cover_m, parts.cover);
    let holder = conductivity(&parts.material.key, catalogue)
        .ok_or_else(|| format!("floor {}: no material `{}`", assembly.key, parts.material.key))?;
    let finish = finish(job, room)?;
    let mut over = vec![finish];
    over.extend(layer_resistances(parts.above, assembly, place, catalogue)?);
    let covering = Figure::sum("finish and layers over the tube's own", &over);
    let below = layer_resistances(parts.under, assembly, place, catalogue)?;
    let insulation = Figure::sum("layers below the tube's own", &below);
    let rest_m = (parts.thickness_m - parts.cover_m).max(0.0);
    let rest = Figure::new("the tube's layer beside and below it", rest_m, How::Stated(place));
    let rest = material_layer(&parts.material.key, &rest, assembly, catalogue)?;
    // The finish is no part of the ground's U-value, so it is none of what is taken off it.
    let over_holder = Figure::sum("layers over the tube's own", &over[1..]);
    let under = Under {
        over: &over_tube(&over_holder, &cover, &holder),
        rest: &rest,
        insulation: &insulation,
    };
    let downward = around.downward(enclosure, &under)?;
    let cut = Cut {
        over: slabs_over(parts.above, covering_m(job, room), &over),
        holder: Slab::new(parts.thickness_m, holder.si()),
        cover_m: parts.cover_m,
        tube_m: tube.outside.si(),
        spread: spread(parts.material),
        bays: bays(parts.material, parts.under),
        film_w_m2k: FLOOR_W_M2K,
        under: Slab::lumped(
            &slabs_under(parts.under, &below),
            downward.borrowed_m2k_w(insulation.si()),
        ),
    };
    let stack = Stack {
        catalogue,
        place,
        finish: catalogue.finish(&room.finish.value),
        above: parts.above,
        under: parts.under,
        holder: parts.material,
        over_m2k_w: &over,
        under_m2k_w: &below,
    };
    Ok(BuildUp {
        whole: Arc::new(stack.whole(&cut)),
        finish_m2k_w: over.first().map_or(0.0, Figure::si),
        cover,
        holder,
        covering,
        downward,
        insulation,
        tube: tube.clone(),
        grooves: parts.material.grooves,
        material: parts.material.clone(),
        is_wet: parts.material.carrier == Carrier::Screed,
        rugs: rugged(room, &cut, sections),
        curve: sections.curve(cut),
    })
}

/// Layers with a tube in them, whatever they face: a panel on a wall or ceiling.
pub(super) struct Lying {
    /// What it is called on paper.
    pub(super) name: String,
    pub(super) cut: Cut,
    pub(super) grooves: Option<Length>,
    /// The material that holds the tube, by key, and those against it.
    pub(super) holder: String,
    pub(super) beside: Vec<String>,
    pub(super) works: Vec<Arc<Work>>,
}

impl Lying {
    /// Conductance from turbulent water to the outside of the tube, W/mK.
    pub(super) fn tube_w_mk(&self, tube: &Tube) -> f64 {
        let bore_m = tube.inside.si();
        let (outside_m, own) = (tube.outside.si(), tube.conductivity.si());
        tube_heat::tube_conductance(outside_m, bore_m, own, NOMINAL_FILM_W_M2K * bore_m, 1.0)
    }
}

/// The layers of a panel as its section, with that coefficient from its surface to the room.
pub(super) fn cut_of(
    assembly: &Assembly,
    tube: &Tube,
    catalogue: &job::Catalogue,
    film_w_m2k: f64,
) -> Result<Lying, String> {
    let parts = parts(assembly, tube, catalogue)?;
    let holder = conductivity(&parts.material.key, catalogue)
        .ok_or_else(|| format!("panel {}: no material `{}`", assembly.key, parts.material.key))?;
    let over = layer_resistances(parts.above, assembly, parts.place, catalogue)?;
    let under = layer_resistances(parts.under, assembly, parts.place, catalogue)?;
    let behind = Figure::sum("layers behind the tube's own", &under);
    let before = Figure::sum("layers before the tube's own", &over);
    // No finish lies on a panel.
    let none = Figure::new("finish", 0.0, How::Decided("none".to_owned()));
    let over: Vec<_> = std::iter::once(none).chain(over).collect();
    let cut = Cut {
        over: slabs_over(parts.above, None, &over),
        holder: Slab::new(parts.thickness_m, holder.si()),
        cover_m: parts.cover_m,
        tube_m: tube.outside.si(),
        spread: spread(parts.material),
        bays: bays(parts.material, parts.under),
        film_w_m2k,
        under: Slab::lumped(&slabs_under(parts.under, &under), 0.0),
    };
    let of_catalogue = assembly.build_up.as_deref().and_then(|key| catalogue.build_up(key));
    let key = |layer: &Layer| match layer {
        Layer::Material { material, .. } => Some(material.clone()),
        _ => None,
    };
    let beside = parts.above.last().into_iter().chain(parts.under.first()).filter_map(key);
    Ok(Lying {
        name: of_catalogue.map_or_else(|| assembly.key.replace('_', " "), |it| it.name.clone()),
        cut,
        grooves: parts.material.grooves,
        holder: parts.material.key.clone(),
        beside: beside.collect(),
        works: vec![before.work, holder.work, behind.work],
    })
}

/// The floor under rugs: one layer more on top.
fn rugged(room: &Room, cut: &Cut, sections: &mut Sections) -> Option<Rugged> {
    let rugs = room.rugs.as_ref()?;
    let share = Figure::fact("share of the floor under rugs", &rugs.share);
    let resistance = Figure::fact("resistance of the rugs", &rugs.resistance);
    let rug = Slab::resisting(resistance.si(), None).filter(|_| share.si() > 0.0)?;
    let mut over = cut.over.clone();
    over.push(rug);
    let curve = sections.curve(Cut { over, ..cut.clone() });
    Some(Rugged { share, resistance, curve })
}

/// Layers over the tube's own from the tube upward, finish last.
fn slabs_over(
    above: &[Layer],
    covering_m: Option<f64>,
    resistances: &[Figure<AreaResistance>],
) -> Vec<Slab> {
    // Resistances stand from the room down, the finish first.
    let plain = above.iter().map(|layer| layer.thickness().map(Quantity::si));
    let thicknesses = std::iter::once(covering_m).chain(plain);
    let slabs = resistances.iter().zip(thicknesses);
    let slabs =
        slabs.filter_map(|(resistance, thickness_m)| Slab::resisting(resistance.si(), thickness_m));
    let mut slabs: Vec<Slab> = slabs.collect();
    slabs.reverse();
    slabs
}

/// Joist bays, where the tube hangs bare in one.
fn bays(material: &Material, under: &[Layer]) -> Option<Bays> {
    let framed = under.iter().find_map(|layer| match layer {
        Layer::Framed { share, .. } => Some(share.si()),
        _ => None,
    });
    let clear = 1.0 - framed.unwrap_or(USUAL_FRAME).clamp(0.0, 0.9);
    (material.carrier == Carrier::Bare).then_some(Bays { clear, emissivity: EMISSIVITY })
}

fn spread(material: &Material) -> Option<Spread> {
    let sheet = material.sheet?;
    Some(Spread {
        thickness_m: sheet.thickness.si(),
        width_m: sheet.width.map(Quantity::si),
        conductivity_w_mk: sheet.conductivity.si(),
        stores_j_m3k: None,
        contact_m2k_w: sheet.contact.si(),
    })
}

/// How most of a room's floor is made.
pub(crate) fn floor_of<'a>(
    job: &'a Job,
    enclosure: &Enclosure,
    room: &Room,
) -> Option<&'a Assembly> {
    let faces = enclosure.faces.iter().filter(|face| face.kind == FaceKind::Floor);
    let largest = faces.max_by(|a, b| a.area.si().total_cmp(&b.area.si()));
    let of_face = largest.and_then(|face| face.assembly.as_deref());
    let stated = room.floor.as_ref().or(job.house.floor.as_ref());
    let key = of_face.or(stated.map(|stated| stated.value.as_str()))?;
    job.assembly(key)
}

/// Finds the layer that holds the tube.
fn parts<'a>(
    assembly: &'a Assembly,
    tube: &Tube,
    catalogue: &'a job::Catalogue,
) -> Result<Parts<'a>, String> {
    let key = &assembly.key;
    let layers = match &assembly.construction {
        Some(Construction::Layers(layers)) => layers,
        _ => {
            let why = format!("floor {key} gives no layers, so the tube's place is unknown");
            return Err(why);
        }
    };
    let holder = layers
        .value
        .iter()
        .position(|layer| matches!(layer, Layer::Material { holds_tube: true, .. }));
    let Some(at) = holder else {
        let why = format!("no layer of floor {key} holds the tube: write `with tube` behind one");
        return Err(why);
    };
    let Layer::Material { material, thickness, cover, .. } = &layers.value[at] else {
        return Err(format!("floor {key}: the layer with the tube has no thickness"));
    };
    let material = catalogue
        .material(material)
        .ok_or_else(|| format!("floor {key}: no material `{material}`"))?;
    let (thickness_m, outside_m) = (thickness.si(), tube.outside.si());
    // Silent about depth, embedded tube lies in the middle of its layer, any other at its top.
    let (silent_m, why) = match material.carrier {
        Carrier::Screed => {
            ((thickness_m - outside_m) / 2.0, "the tube lies in the middle of its layer")
        }
        Carrier::Board => (0.0, "the tube lies flush in its groove"),
        Carrier::Plates => (0.0, "the tube lies against its plate"),
        Carrier::Bare => (0.0, "the tube hangs in the air of its bay"),
    };
    let cover_m = cover.map_or(silent_m, Quantity::si);
    let how = match cover {
        Some(_) => How::Stated(layers.place),
        None => How::Assumed(why.to_owned()),
    };
    let is_buried = material.carrier == Carrier::Screed;
    if cover_m < 0.0 || is_buried && cover_m == 0.0 || cover_m + outside_m > thickness_m + FITS_M {
        return Err(format!("floor {key}: the tube does not fit into its layer"));
    }
    Ok(Parts {
        place: layers.place,
        above: &layers.value[..at],
        material,
        // A groove or clip may be a hair less deep than its tube is thick.
        thickness_m: thickness_m.max(cover_m + outside_m),
        cover_m,
        cover: how,
        under: &layers.value[at + 1..],
    })
}

/// Layers below the tube's own, from the lowest up.
fn slabs_under(under: &[Layer], resistances: &[Figure<AreaResistance>]) -> Vec<Slab> {
    let thicknesses = under.iter().map(|layer| layer.thickness().map(Quantity::si));
    let slabs = resistances.iter().zip(thicknesses);
    let slabs =
        slabs.filter_map(|(resistance, thickness_m)| Slab::resisting(resistance.si(), thickness_m));
    let mut slabs: Vec<Slab> = slabs.collect();
    slabs.reverse();
    slabs
}

/// How thick the room's finish is.
fn covering_m(job: &Job, room: &Room) -> Option<f64> {
    job.catalogue.finish(&room.finish.value).map(|finish| finish.thickness.si())
}

/// Resistance of the room's finish.
fn finish(job: &Job, room: &Room) -> Result<Figure<AreaResistance>, String> {
    let entry = job.catalogue.finish(&room.finish.value);
    let entry =
        entry.ok_or_else(|| format!("no finish `{}` in the catalogue", room.finish.value))?;
    let name = format!("finish: {}", entry.name);
    let how = match &room.finish.origin {
        job::Origin::Assumed(why) => How::Assumed(format!("{}: {why}", entry.name)),
        _ => How::Catalogue(format!("{}: {}", entry.name, entry.source)),
    };
    Ok(Figure::new(name, entry.resistance.si(), how))
}

/// What lies between tube and room without the film, as layers.
fn over_tube(
    covering: &Figure<AreaResistance>,
    cover: &Figure<Length>,
    screed: &Figure<Conductivity>,
) -> Figure<AreaResistance> {
    let screed: Figure<AreaResistance> = Figure::quotient("cover", &cover.work, &screed.work);
    Figure::sum("layers over the tube", &[covering.clone(), screed])
}

impl BuildUp {
    /// Whether what it gives was compared with nothing from outside: bare tube in a joist bay.
    pub(crate) fn is_unchecked(&self) -> bool {
        self.curve.cut().bays.is_some()
    }

    /// The same floor under another finish.
    pub(crate) fn refinished(&self, finish: &Finish, sections: &mut Sections) -> BuildUp {
        let mut cut = self.curve.cut().clone();
        if Slab::resisting(self.finish_m2k_w, None).is_some() {
            cut.over.pop();
        }
        cut.over.extend(Slab::resisting(finish.resistance.si(), Some(finish.thickness.si())));
        let other = Figure::new(
            format!("{} and layers over the tube's own", finish.name),
            self.covering.si() - self.finish_m2k_w + finish.resistance.si(),
            How::Catalogue(format!("{}: {}", finish.name, finish.source)),
        );
        let finish_m2k_w = finish.resistance.si();
        BuildUp { covering: other, finish_m2k_w, curve: sections.curve(cut), ..self.clone() }
    }

    /// What lies below the floor's own layers.
    pub(crate) fn beyond(&self) -> Beyond {
        self.downward.beyond(self.insulation.si())
    }

    /// Whether its tube lies in the bays between joists, in plates or bare.
    pub(crate) fn is_in_bays(&self) -> bool {
        let under = matches!(self.material.carrier, Carrier::Plates | Carrier::Bare);
        under && self.grooves.is_none()
    }

    /// Whether its tube lies in the floor's own plane, embedded or in grooves.
    pub(crate) fn is_in_floor(&self) -> bool {
        self.is_wet || self.grooves.is_some()
    }

    /// What lies below the lowest of its layers, each of them taken apart.
    pub(crate) fn beyond_all(&self) -> Beyond {
        self.downward.beyond_all(self.insulation.si())
    }

    /// Conductance from fluid to the outside of the tube at a film of that Nusselt number, W/mK.
    pub(crate) fn tube_w_mk(&self, nusselt: f64, fluid_w_mk: f64) -> f64 {
        let Tube { outside, inside, conductivity, .. } = &self.tube;
        let (outside_m, bore_m) = (outside.si(), inside.si());
        tube_heat::tube_conductance(outside_m, bore_m, conductivity.si(), nusselt, fluid_w_mk)
    }

    /// The same before any flow is known.
    pub(crate) fn nominal_tube_w_mk(&self) -> f64 {
        // Nusselt number and conductivity stand for their product, film times bore.
        self.tube_w_mk(NOMINAL_FILM_W_M2K * self.tube.inside.si(), 1.0)
    }

    /// What the floor gives at that distance of its tubes, metres, and conductance of its tube.
    ///
    /// What lies under rugs counts by its share of the floor.
    pub(crate) fn response(&self, spacing_m: f64, tube_w_mk: f64) -> Result<Response, String> {
        let bare = self.response_without_rugs(spacing_m, tube_w_mk)?;
        let Some(rugs) = &self.rugs else { return Ok(bare) };
        let panel = rugs.curve.at(spacing_m).map_err(|error| error.to_string())?;
        let under = Response::of(&panel, tube_w_mk, &self.beyond());
        Ok(bare.beside(&under, rugs.share.si()))
    }

    /// The same without its rugs.
    pub(crate) fn response_without_rugs(
        &self,
        spacing_m: f64,
        tube_w_mk: f64,
    ) -> Result<Response, String> {
        let panel = self.curve.at(spacing_m).map_err(|error| error.to_string())?;
        Ok(Response::of(&panel, tube_w_mk, &self.beyond()))
    }

    /// Share of the floor that rugs cover; none without any.
    pub(crate) fn rugs(&self) -> Option<&Figure<Ratio>> {
        self.rugs.as_ref().map(|rugs| &rugs.share)
    }

    /// The floor between two tubes that need not be equally warm; none where its section cannot
    /// be solved.
    pub(crate) fn pairs(&self) -> Option<Arc<Pairs>> {
        // Bare tube in a joist bay warms the bay, not the floor beside it.
        self.curve.cut().bays.is_none().then(|| self.curve.pairs().ok())?
    }

    /// Output per area and degree of water excess, with what it was made from.
    pub(crate) fn output_coefficient(
        &self,
        spacing: &Figure<Length>,
        tube_w_mk: f64,
    ) -> Result<Figure<Transmittance>, String> {
        let response = self.response(spacing.si(), tube_w_mk)?;
        let film: Figure<quantity::LinearTransmittance> = Figure::settled(
            "from fluid to the outside of the tube, for each length",
            tube_w_mk,
            "film of the fluid at its flow and wall of the tube, one behind the other",
            vec![self.tube_wall().work],
        );
        let mut from = vec![spacing.work.clone(), film.work];
        from.extend(self.works());
        Ok(Figure::settled(
            "output per area and degree of water excess",
            response.room,
            match self.is_unchecked() {
                true => {
                    "unchecked: radiation and convection of bare tube in a joist bay, about linear"
                }
                false => "conduction in two dimensions through the section, solved within 0.2 %",
            },
            from,
        ))
    }

    /// The same by EN 1264-2, for tube in screed or slab and turbulent water; none else.
    pub(crate) fn published_coefficient(
        &self,
        spacing: &Figure<Length>,
    ) -> Option<Figure<Transmittance>> {
        if !self.is_wet {
            return None;
        }
        let how = || How::Catalogue(format!("{}: {}", self.tube.name, self.tube.source));
        let outside = Figure::<Length>::new("outside diameter", self.tube.outside.si(), how());
        let wall_m = (self.tube.outside.si() - self.tube.inside.si()) / 2.0;
        let wall = Figure::<Length>::new("wall of the tube", wall_m, how());
        let inputs = [
            &spacing.work,
            &self.cover.work,
            &outside.work,
            &wall.work,
            &self.tube_wall().work,
            &self.holder.work,
            &self.covering.work,
        ];
        let name = "output per area and degree by the published curves";
        Figure::by_law(name, &law::EMBEDDED_TUBE_COEFFICIENT, &inputs.map(Given::One)).ok()
    }

    /// The figures that its section rests on.
    pub(crate) fn works(&self) -> Vec<Arc<Work>> {
        let mut works = vec![
            self.cover.work.clone(),
            self.holder.work.clone(),
            self.covering.work.clone(),
            self.insulation.work.clone(),
        ];
        works.extend(self.downward.works());
        if self.is_unchecked() {
            let why = "plastic tube; no published measurement of bare tube in a joist bay was at \
                       hand, so what such a floor gives is unchecked";
            works.push(Figure::<Ratio>::assumed("emissivity of the tube", EMISSIVITY, why).work);
        }
        let rugs = self.rugs.iter();
        works.extend(rugs.flat_map(|it| [it.share.work.clone(), it.resistance.work.clone()]));
        works
    }

    fn tube_wall(&self) -> Figure<Conductivity> {
        let how = How::Catalogue(format!("{}: {}", self.tube.name, self.tube.source));
        Figure::new("conductivity of the tube", self.tube.conductivity.si(), how)
    }
}
