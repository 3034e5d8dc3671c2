//! The floor above and below the tube, as layers and as the section that they make.

mod lying;
mod output;
mod tube_layer;
mod zoned;

pub(super) use lying::{Lying, cut_of};
pub(crate) use zoned::ZoneResponse;

use super::below::{Downward, Surroundings, Under};
use super::section::{Beyond, Curve, Cut, FLOOR_W_M2K, Sections, Slab, WIDEST_M, Whole};
use super::stack::Stack;
use super::zones::{Zone, zones};
use crate::envelope::{Enclosure, FaceKind, conductivity, layer_resistances, material_layer};
use crate::figure::{Figure, How};
use crate::loops::TubeLoop;
use job::{Assembly, Carrier, Finish, Job, Material, Room, Tube};
use quantity::{AreaResistance, Conductivity, Length, Quantity, Ratio};
use std::sync::Arc;
use tube_layer::{bays, parts, slabs_over, slabs_under, spread};

/// Film of the fluid until its flow is known: turbulent water, as EN 1264 takes it, W/m²K.
const NOMINAL_FILM_W_M2K: f64 = 1500.0;

/// Emissivity of plastic tube.
const EMISSIVITY: f64 = 0.9;

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
    /// What is neither band nor part of the floor.
    rest: Zone,
    /// Parts that differ from it.
    parts: Vec<zoned::Part>,
}

/// The part of a floor that lies under rugs.
#[derive(Clone, Debug)]
struct Rugged {
    share: Figure<Ratio>,
    resistance: Figure<AreaResistance>,
    curve: Arc<Curve>,
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
    let finish_m2k_w = over.first().map_or(0.0, Figure::si);
    let number = job.rooms.iter().position(|it| it.key == room.key);
    let number = number.ok_or("the job does not know the room")?;
    let is_in_floor = parts.material.carrier == Carrier::Screed || parts.material.grooves.is_some();
    let (rest, others) = zones(job, around.envelope, number, is_in_floor);
    Ok(BuildUp {
        parts: zoned::parts(&others, &cut, finish_m2k_w, catalogue, sections)?,
        rest,
        whole: Arc::new(stack.whole(&cut)),
        finish_m2k_w,
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
        let cut = zoned::refinished(self.curve.cut(), self.finish_m2k_w, finish);
        let other = Figure::new(
            format!("{} and layers over the tube's own", finish.name),
            self.covering.si() - self.finish_m2k_w + finish.resistance.si(),
            How::Catalogue(format!("{}: {}", finish.name, finish.source)),
        );
        let finish_m2k_w = finish.resistance.si();
        BuildUp { covering: other, finish_m2k_w, curve: sections.curve(cut), ..self.clone() }
    }

    /// Distance from tube to tube on average over the floor of loops, metres; none without any. Of a
    /// floor with a band, that of the rest which goes with it.
    ///
    /// Rows are a whole number, walls and bends take their share, so tube lies a little farther
    /// apart than it is drawn. Leaders on their own floor lie close beside other tube and add little:
    /// they are left out. Tube in joist bays keeps its distance: its floor is that of its plates.
    pub(crate) fn apart_m<'a>(&self, loops: impl Iterator<Item = &'a TubeLoop>) -> Option<f64> {
        let (mut field_m, mut area_m2, mut laid_m) = (0.0, 0.0, None);
        for own in loops {
            field_m += own.field_length.si();
            area_m2 += own.rooms.iter().map(|part| part.area.si()).sum::<f64>();
            laid_m = Some(own.spacing_laid_m.max(laid_m.unwrap_or(0.0)));
        }
        match self.is_in_floor() && field_m > 0.0 && area_m2 > 0.0 {
            true => Some(self.apart_in_rest_m((area_m2 / field_m).min(WIDEST_M))),
            false => laid_m,
        }
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
}
