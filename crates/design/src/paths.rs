//! Every figure of a design by its path.

mod losses;
mod under_floor;

use crate::Design;
use crate::figure::{Figure, Work};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Collects figures under paths.
#[derive(Default)]
struct Paths {
    list: Vec<(String, Arc<Work>)>,
    taken: BTreeSet<String>,
}

impl Paths {
    /// Adds the figure; where the path is taken, by another figure, a number tells them apart.
    fn add<Q>(&mut self, subject: &str, name: &str, figure: &Figure<Q>) {
        let plain = format!("{subject}.{name}");
        let mut path = plain.clone();
        let mut number = 2;
        while !self.taken.insert(path.clone()) {
            path = format!("{plain}_{number}");
            number += 1;
        }
        self.list.push((path, figure.work.clone()));
    }

    fn maybe<Q>(&mut self, subject: &str, name: &str, figure: Option<&Figure<Q>>) {
        if let Some(figure) = figure {
            self.add(subject, name, figure);
        }
    }
}

impl Design {
    /// Every figure by its path, in the order of the trade: `room.kitchen.loss`.
    pub fn figures(&self) -> Vec<(String, Arc<Work>)> {
        let mut paths = Paths::default();
        self.house_figures(&mut paths);
        self.group_figures(&mut paths);
        self.unheated_figures(&mut paths);
        for enclosure in &self.envelope.enclosures {
            self.room_figures(&enclosure.room, &mut paths);
            self.build_up_figures(&enclosure.room, &mut paths);
            self.response_figures(&enclosure.room, &mut paths);
        }
        for governed in &self.emitters.governed {
            let subject = match &governed.circuit {
                Some(circuit) => format!("circuit.{circuit}.water"),
                None => "heating.water".to_owned(),
            };
            paths.add(&subject, "needed", &governed.needs);
            paths.maybe(&subject, "next", governed.next.as_ref().map(|next| &next.1));
            for (number, way) in governed.ways.iter().enumerate() {
                let subject = format!("{subject}.way_{}", number + 1);
                paths.add(&subject, "room_needs", &way.room_needs);
                paths.add(&subject, "all_need", &way.all_need);
                paths.add(&subject, "saves", &way.saves);
            }
        }
        for (manifold, _, needs) in self.emitters.groups.iter().flat_map(|group| &group.manifolds) {
            paths.add(&format!("manifold.{manifold}"), "water_needed", needs);
        }
        for helper in &self.emitters.helpers {
            let subject = format!("emitter.{}", helper.key);
            paths.add(&subject, "output", &helper.output);
            paths.maybe(&subject, "share", helper.share.as_ref());
            if let Some(panel) = &helper.panel {
                paths.add(&subject, "area", &panel.area);
                paths.add(&subject, "spacing", &panel.spacing);
                paths.add(&subject, "coefficient", &panel.coefficient);
                paths.add(&subject, "flux", &panel.flux);
                paths.add(&subject, "behind", &panel.behind);
                paths.add(&subject, "surface", &panel.surface);
                paths.add(&subject, "surface_limit", &panel.surface_limit);
            }
        }
        self.loop_figures(&mut paths);
        self.coil_figures(&mut paths);
        for manifold in &self.flows.manifolds {
            let subject = format!("manifold.{}", manifold.key);
            paths.add(&subject, "flow", &manifold.flow);
            paths.add(&subject, "head", &manifold.head);
            paths.add(&subject, "heat", &manifold.heat);
            paths.add(&subject, "return", &manifold.back);
        }
        paths.list
    }

    /// The figure at a path.
    pub fn figure(&self, path: &str) -> Option<Arc<Work>> {
        self.figures().into_iter().find(|(known, _)| known == path).map(|(_, work)| work)
    }

    fn house_figures(&self, paths: &mut Paths) {
        if let Some(house) = &self.loads.house {
            paths.group("house", house);
        }
        for part in &self.loads.parts {
            paths.add("house.parts", &part.name.replace(' ', "_"), &part.loss);
        }
        if let Some([least, most]) = &self.loads.sanity.usual {
            paths.add("house.usual", "least", least);
            paths.add("house.usual", "most", most);
        }
        paths.maybe("house", "lost_below", self.totals.lost_below.as_ref());
        paths.maybe("house", "to_make", self.totals.to_make.as_ref());
        paths.maybe("house", "billed", self.loads.sanity.billed.as_ref());
        if let Some(ground) = &self.envelope.ground {
            paths.add("house", "ground_area", &ground.area);
            paths.add("house", "exposed_edge", &ground.exposed_edge);
            paths.maybe("house", "ground_dimension", ground.dimension.as_ref());
            paths.maybe("house", "ground_depth", ground.depth.as_ref());
        }
        self.sum_figures(paths);
    }

    /// Sums over rooms and over loops, as the foot of their tables shows them.
    fn sum_figures(&self, paths: &mut Paths) {
        let totals = &self.totals;
        paths.maybe("rooms", "loss", self.loads.total.as_ref());
        paths.maybe("rooms", "area", totals.floor_area.as_ref());
        paths.maybe("rooms", "heated_area", totals.heated_area.as_ref());
        paths.maybe("rooms", "outdoors", totals.outdoors.as_ref());
        paths.maybe("rooms", "air", totals.air.as_ref());
        paths.maybe("rooms", "unheated", totals.unheated.as_ref());
        paths.maybe("rooms", "ground", totals.ground.as_ref());
        paths.maybe("rooms", "neighbours", totals.neighbours.as_ref());
        paths.maybe("rooms", "output", totals.output.as_ref());
        for storey in &totals.storeys {
            let subject = format!("storey.{}.rooms", storey.storey);
            paths.maybe(&subject, "area", storey.floor_area.as_ref());
            paths.maybe(&subject, "heated_area", storey.heated_area.as_ref());
            paths.maybe(&subject, "outdoors", storey.outdoors.as_ref());
            paths.maybe(&subject, "unheated", storey.unheated.as_ref());
            paths.maybe(&subject, "ground", storey.ground.as_ref());
            paths.maybe(&subject, "neighbours", storey.neighbours.as_ref());
            paths.maybe(&subject, "air", storey.air.as_ref());
            paths.maybe(&subject, "loss", storey.loss.as_ref());
            paths.maybe(&subject, "output", storey.output.as_ref());
        }
        paths.maybe("loops", "area", totals.loop_area.as_ref());
        paths.maybe("loops", "field_length", totals.field_length.as_ref());
        paths.maybe("loops", "leader_length", totals.leader_length.as_ref());
        paths.maybe("loops", "tail_length", totals.tail_length.as_ref());
        paths.maybe("loops", "length", totals.tube.as_ref());
        paths.maybe("loops", "volume", totals.volume.as_ref());
        paths.maybe("loops", "heat_up", totals.heat_up.as_ref());
        paths.maybe("loops", "flow", totals.flow.as_ref());
        paths.maybe("loops", "head", totals.head.as_ref());
    }

    fn room_figures(&self, room: &str, paths: &mut Paths) {
        let subject = format!("room.{room}");
        let enclosure = self.envelope.enclosures.iter().find(|one| one.room == *room);
        if let Some(enclosure) = enclosure {
            paths.add(&subject, "indoor", &enclosure.indoor);
            paths.maybe(&subject, "area", enclosure.area.as_ref());
            paths.maybe(&subject, "height", enclosure.height.as_ref());
            paths.maybe(&subject, "volume", enclosure.volume.as_ref());
            paths.maybe(&subject, "exposed_edge", enclosure.exposed_edge.as_ref());
            paths.faces(&subject, enclosure);
        }
        if let Some(loss) = self.loads.room(room) {
            paths.room_loss(&subject, enclosure, loss);
        }
        if let Some(floor) = self.emitters.floors.iter().find(|floor| floor.room == *room) {
            paths.add(&subject, "heated_area", &floor.area);
            paths.add(&subject, "covering", &floor.finish);
            paths.add(&subject, "leaders", &floor.leaders);
            paths.add(&subject, "needed", &floor.needed);
            paths.add(&subject, "flux_needed", &floor.flux_needed);
            paths.add(&subject, "output_coefficient", &floor.output_coefficient);
            let published = floor.published_coefficient.as_ref();
            paths.maybe(&subject, "published_coefficient", published);
            paths.add(&subject, "passing", &floor.passing);
            paths.add(&subject, "excess_needed", &floor.excess_needed);
            paths.add(&subject, "supply_needed", &floor.supply_needed);
            paths.add(&subject, "flux", &floor.flux);
            paths.add(&subject, "flux_down", &floor.flux_down);
            paths.add(&subject, "up_share", &floor.up_share);
            paths.add(&subject, "water", &floor.water);
            paths.add(&subject, "surface", &floor.surface);
            paths.add(&subject, "warmest", &floor.warmest);
            paths.add(&subject, "coolest", &floor.coolest);
            paths.add(&subject, "surface_limit", &floor.surface_limit);
            paths.add(&subject, "output", &floor.output);
            paths.add(&subject, "short", &floor.short);
            for part in &floor.parts {
                let subject = format!("{subject}.{}", part.name.replace(' ', "-"));
                paths.add(&subject, "area", &part.area);
                paths.add(&subject, "spacing", &part.spacing);
                paths.add(&subject, "flux", &part.flux);
                paths.add(&subject, "surface", &part.surface);
                paths.add(&subject, "surface_limit", &part.surface_limit);
                paths.add(&subject, "warmest", &part.warmest);
                paths.add(&subject, "peak_limit", &part.peak_limit);
            }
        }
    }

    /// A heated floor as it is built.
    fn build_up_figures(&self, room: &str, paths: &mut Paths) {
        let Some(floor) = self.build_ups.iter().find(|it| it.room == *room) else { return };
        let subject = format!("room.{room}.floor");
        paths.maybe(&subject, "height", floor.height.as_ref());
        paths.maybe(&subject, "weight", floor.weight.as_ref());
        paths.maybe(&subject, "added_weight", floor.added_weight.as_ref());
        paths.maybe(&subject, "capacity", floor.capacity.as_ref());
        paths.maybe(&subject, "above", floor.above.as_ref());
        paths.maybe(&subject, "below", floor.below.as_ref());
    }

    /// How fast a heated floor follows its water.
    fn response_figures(&self, room: &str, paths: &mut Paths) {
        let response = self.responses.iter().find(|response| response.room == *room);
        let Some(Ok(times)) = response.map(|response| &response.times) else { return };
        let subject = format!("room.{room}.response");
        paths.add(&subject, "most", &times.most);
        paths.add(&subject, "nearly_all", &times.nearly_all);
        paths.add(&subject, "day_lag", &times.day_lag);
        paths.add(&subject, "day_share", &times.day_share);
    }

    fn coil_figures(&self, paths: &mut Paths) {
        for laid in &self.coils.laid {
            let subject = format!("loop.{}", laid.key);
            paths.add(&subject, "drawn", &laid.drawn);
            paths.add(&subject, "start_read", &laid.start);
            paths.add(&subject, "end_read", &laid.end);
            paths.add(&subject, "difference", &laid.difference);
            paths.add(&subject, "difference_share", &laid.share);
        }
        for tube in &self.coils.tubes {
            for coil in &tube.coils {
                let subject = format!("coil.{}", coil.number);
                paths.add(&subject, "length", &coil.length);
                for cut in &coil.cuts {
                    let of_loop = format!("loop.{}", cut.key);
                    paths.add(&of_loop, "cut", &cut.length);
                    paths.add(&of_loop, "start_mark", &cut.start);
                    paths.add(&of_loop, "end_mark", &cut.end);
                }
                paths.add(&subject, "left", &coil.left);
            }
            let subject = format!("tube.{}", tube.tube);
            paths.add(&subject, "cut", &tube.cut);
            paths.add(&subject, "bought", &tube.bought);
            paths.add(&subject, "left", &tube.left);
        }
    }

    fn loop_figures(&self, paths: &mut Paths) {
        for tube_loop in &self.loops {
            let subject = format!("loop.{}", tube_loop.key);
            paths.add(&subject, "area", &tube_loop.area);
            paths.add(&subject, "field_length", &tube_loop.field_length);
            paths.add(&subject, "leader_length", &tube_loop.leader_length);
            paths.add(&subject, "tail_length", &tube_loop.tail_length);
            paths.add(&subject, "length", &tube_loop.length);
            paths.add(&subject, "volume", &tube_loop.volume);
            paths.add(&subject, "covered", &tube_loop.covered);
        }
        under_floor::add(self, paths);
        for fixture in &self.fixtures {
            let subject = format!("fixture.{}", fixture.key);
            paths.add(&subject, "clearance", &fixture.clearance);
            paths.maybe(&subject, "nearest", fixture.nearest.as_ref().map(|(_, near)| near));
        }
        for (number, crossing) in self.joint_crossings.iter().enumerate() {
            let subject = format!("joint.{}.{}", crossing.joint, number + 1);
            paths.add(&subject, "along", &crossing.along);
            paths.maybe(&subject, "sleeve", crossing.sleeve.as_ref());
        }
        for flow in &self.flows.loops {
            let subject = format!("loop.{}", flow.key);
            paths.add(&subject, "heat_up", &flow.heat_up);
            paths.add(&subject, "heat_down", &flow.heat_down);
            paths.add(&subject, "leader_heat", &flow.leader_heat);
            paths.add(&subject, "supply", &flow.supply);
            paths.add(&subject, "return", &flow.back);
            paths.add(&subject, "drop", &flow.drop);
            paths.add(&subject, "mass_flow", &flow.mass_flow);
            paths.add(&subject, "flow", &flow.flow);
            paths.add(&subject, "velocity", &flow.velocity);
            paths.add(&subject, "reynolds", &flow.reynolds);
            paths.add(&subject, "friction", &flow.friction);
            paths.add(&subject, "head", &flow.head);
        }
    }
}
