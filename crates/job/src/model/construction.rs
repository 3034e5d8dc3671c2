//! How walls, floors, ceilings, windows and doors are made.

use crate::decision::{Fact, Place, Stated};
use quantity::{
    Area, AreaResistance, Conductivity, Density, Length, Ratio, SpecificHeat, Transmittance,
};

/// How a wall, floor, ceiling, window or door is made.
#[derive(Clone, Debug, PartialEq)]
pub struct Assembly {
    /// Its key.
    pub key: String,
    /// Where its heading stands.
    pub place: Place,
    /// What it is made of; none if the text is of no use.
    pub construction: Option<Construction>,
    /// For a floor on the ground: resistance of insulation at the slab's outer edge.
    pub edge: Option<Fact<AreaResistance>>,
    /// For a floor on the ground: depth to which the edge insulation goes down.
    pub edge_depth: Option<Fact<Length>>,
    /// For a floor on the ground: width of insulation lying along its edge.
    pub edge_width: Option<Fact<Length>>,
    /// Level of air gaps in its insulation by ISO 6946: 0, 1 or 2.
    pub gaps: Fact<u32>,
    /// Fixings through its insulation.
    pub fixings: Option<Fixings>,
    /// For a floor: how many of its layers, from the room down, are laid on the structural floor.
    pub added: Option<Fact<u32>>,
    /// Build-up of the catalogue that it is, by key; none for one of the job's own.
    pub build_up: Option<String>,
}

/// Metal fixings through insulation.
#[derive(Clone, Debug, PartialEq)]
pub struct Fixings {
    /// How many on each square metre.
    pub per_square_metre: Fact<Ratio>,
    /// Section of one.
    pub section: Fact<Area>,
    /// Conductivity of its metal.
    pub conductivity: Fact<Conductivity>,
}

/// What a construction is made of.
#[derive(Clone, Debug, PartialEq)]
pub enum Construction {
    /// Layers from the room outward, or down.
    Layers(Stated<Vec<Layer>>),
    /// A rated U-value, films included.
    Rated(Stated<Transmittance>),
}

/// How much air moves through an air layer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AirLayer {
    /// None to speak of.
    Still,
    /// Some: openings of 500 to 1500 mm² a metre.
    Slight,
    /// Much: what lies outward of it does not count.
    Open,
}

/// One layer.
#[derive(Clone, Debug, PartialEq)]
pub enum Layer {
    /// So much of a material, by its catalogue key.
    Material {
        /// The catalogue key.
        material: String,
        /// How thick.
        thickness: Length,
        /// Whether the heating tube lies in it.
        holds_tube: bool,
        /// From the top of the tube to the top of this layer; the tube at mid-depth if none.
        cover: Option<Length>,
    },
    /// A rated resistance, such as R-19 insulation.
    Rated {
        /// Its resistance.
        resistance: AreaResistance,
        /// How thick, where the text says so.
        thickness: Option<Length>,
        /// What it is, in the words of the text.
        words: String,
    },
    /// Air.
    Air {
        /// How wide, across the heat flow.
        thickness: Length,
        /// How much it moves.
        moves: AirLayer,
    },
    /// Insulation between studs, joists or rafters, or whatever else shares a layer.
    Framed {
        /// What lies between.
        fill: Box<Layer>,
        /// Material of the frame, by its catalogue key.
        frame: String,
        /// Share of the area that the frame takes.
        share: Ratio,
        /// How thick.
        thickness: Length,
    },
}

impl Layer {
    /// How thick it is, where that is known.
    pub fn thickness(&self) -> Option<Length> {
        match self {
            Layer::Material { thickness, .. } | Layer::Air { thickness, .. } => Some(*thickness),
            Layer::Framed { thickness, .. } => Some(*thickness),
            Layer::Rated { thickness, .. } => *thickness,
        }
    }
}

/// What a material is as the carrier of tube.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Carrier {
    /// Tube lies embedded in it.
    #[default]
    Screed,
    /// Grooved board laid over a floor.
    Board,
    /// Metal plates fixed under a floor.
    Plates,
    /// Nothing: tube hangs in the air of a joist bay.
    Bare,
}

/// Metal sheet on a carrier, which spreads the heat of the tube.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sheet {
    /// How thick the metal is.
    pub thickness: Length,
    /// How wide across the tube; from groove to groove if none.
    pub width: Option<Length>,
    /// Conductivity of the metal.
    pub conductivity: Conductivity,
    /// Resistance between the sheet and what it lies against.
    pub contact: AreaResistance,
}

/// What a material counts as where limits and structure ask.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Family {
    /// None of the others.
    #[default]
    Other,
    /// Concrete: cover over the tube as in slabs; as a slab it bears.
    Concrete,
    /// Screed of cement or calcium sulphate.
    Screed,
    /// Poured gypsum topping.
    GypsumTopping,
    /// Gypsum board or plaster, which crumbles at a lower temperature than screed.
    GypsumBoard,
    /// Wood and boards of wood, of which subfloors are made.
    Wood,
}

/// A building material.
#[derive(Clone, Debug, PartialEq)]
pub struct Material {
    /// Its key: `concrete`.
    pub key: String,
    /// What it is called on paper.
    pub name: String,
    /// Its conductivity.
    pub conductivity: Conductivity,
    /// Its density, where it is known.
    pub density: Option<Density>,
    /// Its specific heat, where it is known.
    pub specific_heat: Option<SpecificHeat>,
    /// What it counts as where limits and structure ask.
    pub family: Family,
    /// How it carries tube.
    pub carrier: Carrier,
    /// Metal sheet on it, over which the other figures stand for what is left of the layer.
    pub sheet: Option<Sheet>,
    /// Distance of its grooves, centre to centre; tube lies at this or a multiple of it.
    pub grooves: Option<Length>,
    /// Length of one board or plate, along the tube.
    pub piece_length: Option<Length>,
    /// Width of one board, across its grooves.
    pub piece_width: Option<Length>,
    /// Where the figure comes from.
    pub source: String,
}
