//! What the plan of one storey is drawn from, and the tube plan itself.

use super::legend::{Legend, Sample};
use super::ramp::{COLD, FAINT, INK, PAPER, POCHE, Ramp};
use super::{
    Drawing, Fill, Mark, Shape, fixtures, floor_parts, held, joints, joists, labels, legend,
    openings, ports, shapes, sleeves, ties, tube,
};
use crate::setting_out::{doorways, port_groups};
use crate::source::Source;
use design::envelope::Enclosure;
use design::flow::LoopFlow;
use design::loops::TubeLoop;
use job::Room;
use plane::{Point, Region};

/// Width of the grey that stands for walls, each side of the inside face.
const POCHE_M: f64 = 0.15;

/// Remarks below the tube plan.
const TUBE_WORDS: [&str; 3] = [
    "Each loop has its own width or dash; arrows show the way of the water. Letters at doorways: \
     see the table of doorways on the paper for other trades.",
    "Tapes run from the wall's face to the middle of the tube or of the ports, or to the edge of a \
     keep-out.",
    "Walls are drawn from inside faces; their grey shows no thickness.",
];

/// What one plan is drawn from.
pub(crate) struct Plan<'a> {
    pub(crate) source: &'a Source<'a>,
    /// Its key, if the text names storeys.
    pub(crate) storey: Option<&'a str>,
    /// Whether there are other storeys.
    several: bool,
    pub(crate) rooms: Vec<(&'a Room, &'a Enclosure, &'a Region)>,
    pub(crate) loops: Vec<(&'a TubeLoop, Option<&'a LoopFlow>)>,
    /// Keys and places.
    pub(crate) manifolds: Vec<(&'a str, Point)>,
    pub(crate) low: Point,
    pub(crate) high: Point,
    /// Height of ordinary letters.
    pub(crate) letter_m: f64,
    pub(crate) ramp: Option<Ramp>,
}

impl<'a> Plan<'a> {
    pub(crate) fn region(&self, room: &str) -> Option<&'a Region> {
        self.rooms.iter().find(|(it, ..)| it.key == room).map(|(.., region)| *region)
    }

    /// The key of a drawing of that kind; the storey's is added where there are several.
    pub(crate) fn key(&self, kind: &str) -> String {
        match self.storey {
            Some(storey) if self.several => format!("{kind}-{storey}"),
            _ => kind.to_owned(),
        }
    }

    /// The title of a drawing, the storey's name added.
    pub(crate) fn title(&self, what: &str) -> String {
        match self.storey {
            Some(storey) => format!("{what}, storey {}", self.source.storey_name(storey)),
            None => what.to_owned(),
        }
    }
}

/// What each storey is drawn from; none for a storey without outlines.
pub(crate) fn storeys<'a>(source: &'a Source<'a>) -> Vec<Plan<'a>> {
    let mut storeys: Vec<Option<&str>> = Vec::new();
    for room in &source.job.rooms {
        let storey = storey_of(room);
        if !storeys.contains(&storey) {
            storeys.push(storey);
        }
    }
    let several = storeys.len() > 1;
    storeys.into_iter().filter_map(|storey| gather(source, storey, several)).collect()
}

fn storey_of(room: &Room) -> Option<&str> {
    room.storey.as_ref().map(|storey| storey.value.as_str())
}

/// The tube of a storey, as it is laid.
pub(crate) fn tube_plan(plan: &Plan) -> Drawing {
    let mut marks = Vec::new();
    floors(plan, &mut marks);
    joists::lines(plan, &mut marks);
    floor_parts::lines(plan, &mut marks);
    keep_outs(plan, &mut marks);
    fixtures::draw(plan, &mut marks);
    shapes::slopes(plan, &mut marks);
    shapes::voids(plan, &mut marks);
    openings::draw(plan, &mut marks);
    joints::lines(plan, &mut marks);
    held::lines(plan, &mut marks);
    tube::draw(plan, &mut marks);
    joists::holes(plan, &mut marks);
    let doorways = doorways(plan);
    sleeves::draw(&doorways, &mut marks);
    joints::sleeves(plan, &mut marks);
    let groups = port_groups(plan);
    ports::symbols(&groups, &mut marks);
    held::signs(plan, &groups, &mut marks);
    let mut taken = labels::Taken::default();
    ports::keys(plan, &groups, &mut taken, &mut marks);
    labels::draw(plan, &mut taken, &mut marks);
    sleeves::letters(plan, &doorways, &mut taken, &mut marks);
    ties::draw(plan, &mut taken, &mut marks);
    let mut samples = vec![
        Sample::Supply,
        Sample::Return,
        Sample::NoTube,
        Sample::TightBend,
        Sample::Sleeve,
        Sample::Tie,
    ];
    samples.extend(held::samples(&marks));
    samples.extend(floor_parts::samples(plan));
    samples.extend(fixtures::samples(plan));
    samples.extend(joints::samples(plan));
    samples.extend(joists::samples(plan));
    let legend = Legend { water: true, samples: &samples, words: &TUBE_WORDS };
    let bounds_m = legend::draw(plan, &legend, &mut marks);
    Drawing {
        key: plan.key("plan"),
        title: plan.title("Tube layout"),
        bounds_m,
        marks,
        words: words(plan),
    }
}

fn gather<'a>(source: &'a Source<'a>, storey: Option<&'a str>, several: bool) -> Option<Plan<'a>> {
    let design = source.design;
    let rooms: Vec<_> = source
        .job
        .rooms
        .iter()
        .filter(|room| storey_of(room) == storey)
        .filter_map(|room| {
            let enclosure = design.envelope.enclosures.iter().find(|it| it.room == room.key)?;
            Some((room, enclosure, enclosure.floor.as_ref()?))
        })
        .collect();
    let has = |key: &str| rooms.iter().any(|(room, ..)| room.key == key);
    let loops: Vec<_> = design
        .loops
        .iter()
        .filter(|it| has(&it.room))
        .map(|it| (it, design.flows.loops.iter().find(|flow| flow.key == it.key)))
        .collect();
    let manifolds = design
        .placements
        .iter()
        .filter(|it| it.room.as_ref().is_none_or(|room| has(room)))
        .map(|it| (it.manifold.as_str(), it.at.value))
        .collect();
    let (low, high) = bounds(rooms.iter().map(|(.., region)| region.bounds()))?;
    let letter_m = (0.022 * (high.x - low.x).max(high.y - low.y)).clamp(0.12, 0.8);
    let ramp = ramp(&loops);
    Some(Plan { source, storey, several, rooms, loops, manifolds, low, high, letter_m, ramp })
}

fn bounds(all: impl Iterator<Item = (Point, Point)>) -> Option<(Point, Point)> {
    let (low, high) = all.reduce(|(low, high), (l, h)| {
        let low = Point::new(low.x.min(l.x), low.y.min(l.y));
        (low, Point::new(high.x.max(h.x), high.y.max(h.y)))
    })?;
    (low.is_finite() && high.is_finite()).then_some((low, high))
}

fn ramp(loops: &[(&TubeLoop, Option<&LoopFlow>)]) -> Option<Ramp> {
    let flows = || loops.iter().filter_map(|(_, flow)| *flow);
    let cool_k = flows().map(|it| it.back.si()).reduce(f64::min)?;
    let warm_k = flows().map(|it| it.supply.si()).reduce(f64::max)?;
    (cool_k.is_finite() && warm_k.is_finite()).then_some(Ramp { cool_k, warm_k })
}

pub(super) fn floors(plan: &Plan, marks: &mut Vec<Mark>) {
    let rings = |region: &Region| Shape::Area(region.rings().map(<[Point]>::to_vec).collect());
    for (.., region) in &plan.rooms {
        marks.push(Mark::new("walls", rings(region)).stroke(POCHE, 2.0 * POCHE_M));
    }
    for (room, enclosure, region) in &plan.rooms {
        let ground = if enclosure.unheated { COLD } else { PAPER };
        let floor = Mark::new("floor", rings(region)).fill(ground).stroke(INK, 0.02);
        marks.push(floor.about(&room.key).titled(room.name.value.clone()));
    }
}

fn keep_outs(plan: &Plan, marks: &mut Vec<Mark>) {
    for keep_out in &plan.source.job.keep_outs {
        let here = plan.region(&keep_out.room.value).is_some();
        if let (true, Some(outline)) = (here, &keep_out.outline) {
            let mut mark = Mark::new("keep-out", Shape::Area(vec![outline.corners.clone()]))
                .stroke(FAINT, 0.015)
                .about(&keep_out.key)
                .titled(format!("{}: no tube here", keep_out.key));
            mark.fill = Some(Fill::Hatch(FAINT));
            marks.push(mark);
        }
    }
}

fn words(plan: &Plan) -> String {
    let rooms: Vec<&str> = plan.rooms.iter().map(|(room, ..)| room.name.value.as_str()).collect();
    format!(
        "Plan of {} with {} loops of tube and {} manifolds; the tables below hold the same.",
        rooms.join(", "),
        plan.loops.len(),
        plan.manifolds.len()
    )
}
