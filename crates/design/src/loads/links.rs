//! What each unheated space or room exchanges heat with, and how well.

use super::air::RoomAir;
use super::case::Case;
use super::unheated::Node;
use crate::envelope::{self, Behind, Enclosure, Face};
use crate::figure::{Figure, Given, How};
use job::{Faces, Space, SpaceKind, Surface};
use laws::air as law;
use quantity::{AirFlow, Area, Density, HeatLossCoefficient, Length, SpecificHeat, Temperature};

/// A way for heat out of an unheated space.
pub(super) struct Link {
    pub(super) to: To,
    pub(super) coefficient: Figure<HeatLossCoefficient>,
}

/// Where that way leads.
pub(super) enum To {
    /// Outdoors or into the ground, at that temperature.
    Out(Figure<Temperature>),
    /// To a heated room at that temperature.
    Room(Figure<Temperature>),
    /// To another unheated one, by number.
    Node(usize),
}

/// The ways of every node, by number; the error says what is missing.
pub(super) fn links(
    case: &Case<'_>,
    nodes: &[Node<'_>],
    air: &[Result<RoomAir, String>],
) -> Vec<Result<Vec<Link>, String>> {
    let finder = Finder { case, nodes, air };
    nodes
        .iter()
        .map(|node| match node {
            Node::Space(space) => finder.of_space(space),
            Node::Room(enclosure) => finder.of_room(enclosure),
        })
        .collect()
}

struct Finder<'a> {
    case: &'a Case<'a>,
    nodes: &'a [Node<'a>],
    air: &'a [Result<RoomAir, String>],
}

impl Finder<'_> {
    /// Where a room lies for its neighbours: at its own temperature, or among the unheated.
    fn room(&self, enclosure: &Enclosure) -> To {
        match self.number(&enclosure.room, false) {
            Some(number) => To::Node(number),
            None => To::Room(enclosure.indoor.clone()),
        }
    }

    fn number(&self, key: &str, space: bool) -> Option<usize> {
        let is = |node: &Node<'_>| matches!(node, Node::Space(_)) == space && node.key() == key;
        self.nodes.iter().position(is)
    }

    /// Ways out of a room without heat.
    fn of_room(&self, enclosure: &Enclosure) -> Result<Vec<Link>, String> {
        let mut links = Vec::new();
        for face in &enclosure.faces {
            let to = match &face.behind {
                Behind::Heated => continue,
                Behind::Outdoors => To::Out(self.case.weather.outdoor.clone()),
                Behind::Ground => To::Out(self.case.ground_side(face).clone()),
                Behind::NextHouse => match self.case.next_house(&self.case.usual()) {
                    Some(far) => To::Out(far),
                    None => continue,
                },
                Behind::Space(key) => match self.number(key, true) {
                    Some(number) => To::Node(number),
                    None => return Err(format!("{}: no space {key}", face.key)),
                },
                Behind::Room(key) => match self.case.enclosure(key) {
                    Some(other) => self.room(other),
                    None => return Err(format!("{}: no room {key}", face.key)),
                },
            };
            let coefficient = match face.behind {
                Behind::Ground => self.case.to_ground(enclosure, face, &face.area)?.1,
                _ => self.conductance(enclosure, face)?,
            };
            links.push(Link { to, coefficient });
        }
        links.extend(self.seen_from_others(enclosure)?);
        let number =
            self.case.envelope.enclosures.iter().position(|one| one.room == enclosure.room);
        if let Some(Ok(air)) = number.and_then(|number| self.air.get(number)) {
            let to = To::Out(self.case.weather.outdoor.clone());
            links.push(Link { to, coefficient: air.own_loss(self.case)?.coefficient });
        }
        if links.iter().all(|link| link.coefficient.si() <= 0.0) {
            return Err("no surface of it is known".to_owned());
        }
        Ok(links)
    }

    /// A face of a room without heat counts with the bridges that its warm side adds.
    fn conductance(
        &self,
        enclosure: &Enclosure,
        face: &Face,
    ) -> Result<Figure<HeatLossCoefficient>, String> {
        let inside_out = Face { behind: Behind::Room(enclosure.room.clone()), ..face.clone() };
        let between = matches!(face.behind, Behind::Room(_));
        self.case.conductance(if between { &inside_out } else { face }, &face.area)
    }

    /// Faces of other rooms that look at this one, where it has none that looks back.
    fn seen_from_others(&self, enclosure: &Enclosure) -> Result<Vec<Link>, String> {
        let looks_at = |face: &Face, room: &str| face.behind == Behind::Room(room.to_owned());
        let mut links = Vec::new();
        for other in &self.case.envelope.enclosures {
            if enclosure.faces.iter().any(|face| looks_at(face, &other.room)) {
                continue;
            }
            for face in other.faces.iter().filter(|face| looks_at(face, &enclosure.room)) {
                let coefficient = self.case.conductance(face, &face.area)?;
                links.push(Link { to: self.room(other), coefficient });
            }
        }
        Ok(links)
    }

    /// Ways out of a space without an outline.
    fn of_space(&self, space: &Space) -> Result<Vec<Link>, String> {
        let mut links = Vec::new();
        for enclosure in &self.case.envelope.enclosures {
            let towards = |face: &&Face| face.behind == Behind::Space(space.key.clone());
            for face in enclosure.faces.iter().filter(towards) {
                let coefficient = self.case.conductance(face, &face.area)?;
                links.push(Link { to: self.room(enclosure), coefficient });
            }
        }
        let own = |surface: &&Surface| {
            surface.space.as_ref().is_some_and(|stated| stated.value == space.key)
        };
        for surface in self.case.job.surfaces.iter().filter(own) {
            links.extend(self.of_surface(space, surface)?);
        }
        links.extend(self.seen_from_spaces(space)?);
        if let Some(loss) = &space.loss {
            let coefficient = Figure::fact(format!("loss of {} to outdoors", space.key), loss);
            links.push(Link { to: To::Out(self.case.weather.outdoor.clone()), coefficient });
        }
        links.extend(self.air_of_space(space)?);
        Ok(links)
    }

    /// The way through a stated surface of a space.
    fn of_surface(&self, space: &Space, surface: &Surface) -> Result<Option<Link>, String> {
        let missing = |what: &str| format!("surface {}: no {what}", surface.key);
        let area = surface.area.as_ref().ok_or_else(|| missing("area"))?;
        let area: Figure<Area> = Figure::fact(format!("area of {}", surface.key), area);
        let to = match &surface.faces.value {
            Faces::Outdoors => To::Out(self.case.weather.outdoor.clone()),
            Faces::Ground => return self.ground_of_space(surface, &area).map(Some),
            Faces::Heated => To::Room(self.case.usual()),
            Faces::NextHouse => return Ok(None),
            Faces::Room(key) => match self.case.enclosure(key) {
                // What the room sees of the space is counted from the room's side.
                Some(room) if sees(room, &space.key) => return Ok(None),
                Some(room) => self.room(room),
                None => return Err(missing(&format!("room {key}"))),
            },
            Faces::Space(key) => match self.number(key, true) {
                Some(number) => To::Node(number),
                None => return Err(missing(&format!("space {key}"))),
            },
        };
        let u = self.surface_u(space, surface)?;
        let name = format!("{} of {}", surface.key, space.key);
        let coefficient = Figure::product(name, &[&area.work, &u.work]);
        Ok(Some(Link { to, coefficient }))
    }

    fn surface_u(
        &self,
        space: &Space,
        surface: &Surface,
    ) -> Result<Figure<quantity::Transmittance>, String> {
        let key = surface.assembly.as_ref().map(|stated| stated.value.as_str());
        let assembly = key.and_then(|key| self.case.job.assembly(key));
        let assembly =
            assembly.ok_or_else(|| format!("surface {}: how it is made", surface.key))?;
        let up = space.kind.value == SpaceKind::Attic;
        let outdoors = surface.faces.value == Faces::Outdoors;
        envelope::surface_transmittance(self.case.job, assembly, up, outdoors)
    }

    /// Surfaces of other spaces that look at this one, where it states none that looks back.
    fn seen_from_spaces(&self, space: &Space) -> Result<Vec<Link>, String> {
        let looks = |surface: &&Surface, from: &str, at: &str| {
            surface.space.as_ref().is_some_and(|stated| stated.value == from)
                && surface.faces.value == Faces::Space(at.to_owned())
        };
        let mut links = Vec::new();
        let surfaces = &self.case.job.surfaces;
        for other in &self.case.job.spaces {
            let back = surfaces.iter().any(|own| looks(&own, &space.key, &other.key));
            let Some(number) = self.number(&other.key, true).filter(|_| !back) else { continue };
            for surface in surfaces.iter().filter(|one| looks(one, &other.key, &space.key)) {
                let Some(area) = &surface.area else { continue };
                let area: Figure<Area> = Figure::fact(format!("area of {}", surface.key), area);
                let u = self.surface_u(other, surface)?;
                let name = format!("{} of {}", surface.key, other.key);
                let coefficient = Figure::product(name, &[&area.work, &u.work]);
                links.push(Link { to: To::Node(number), coefficient });
            }
        }
        Ok(links)
    }

    /// The ground under or beside a space, as a floor on the ground.
    fn ground_of_space(&self, surface: &Surface, area: &Figure<Area>) -> Result<Link, String> {
        let edge = surface.exposed_edge.as_ref();
        let edge: Figure<Length> = match edge {
            Some(edge) => Figure::fact("exposed edge", edge),
            None => return Err(format!("surface {}: no exposed_edge", surface.key)),
        };
        let key = surface.assembly.as_ref().map(|stated| stated.value.as_str());
        let assembly = key.and_then(|key| self.case.job.assembly(key));
        let u = envelope::ground_of_space(self.case.job, assembly, area, &edge)?;
        let [swing, water] = self.case.ground_factors();
        let name = format!("{} to ground", surface.key);
        let works = [&area.work, &u.work, &swing.work, &water.work];
        let coefficient = Figure::product(name, &works);
        Ok(Link { to: To::Out(self.case.weather.annual_mean.clone()), coefficient })
    }

    fn air_of_space(&self, space: &Space) -> Result<Option<Link>, String> {
        let (Some(volume), Some(changes)) = (&space.volume, &space.air_changes) else {
            return Ok(None);
        };
        let told = |error: laws::LawError| format!("air: {error}");
        let volume = Figure::fact("volume of its air", volume);
        let changes = Figure::fact("air changes", changes);
        let flow: Figure<AirFlow> = Figure::product("outdoor air", &[&volume.work, &changes.work]);
        let altitude = Figure::fact("altitude", &self.case.job.outdoors.altitude);
        let outdoor = &self.case.weather.outdoor;
        let inputs = [Given::from(&altitude), Given::from(outdoor)];
        let density: Figure<Density> =
            Figure::by_law("density of the air", &law::AIR_DENSITY_AT_ALTITUDE, &inputs)
                .map_err(told)?;
        let how = "dry air, 1006 J/kgK (common handbook value)".to_owned();
        let heat = Figure::<SpecificHeat>::new(
            "specific heat of air",
            super::air::AIR_J_KGK,
            How::Catalogue(how),
        );
        let inputs = [&flow.work, &density.work, &heat.work];
        let name = format!("outdoor air of {}", space.key);
        let coefficient = Figure::by_law(name, &law::AIR_FLOW_LOSS, &inputs.map(Given::One));
        Ok(Some(Link { to: To::Out(outdoor.clone()), coefficient: coefficient.map_err(told)? }))
    }
}

/// Whether a room has a face towards that space.
fn sees(room: &Enclosure, space: &str) -> bool {
    room.faces.iter().any(|face| face.behind == Behind::Space(space.to_owned()))
}
