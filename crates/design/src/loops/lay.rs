//! Laid storeys as loops with their figures.

use super::advice::{refused, without_access};
use super::plan::{StoreyPlan, storeys};
use super::under_floor::{JoistFloor, RoomBoards};
use super::unheld::{nameless, not_kept};
use super::{
    Layout, Leader, LoopRoom, Passed, TubeLoop, crowding, in_bays, in_boards, joints, limit,
};
use crate::emitters::Floor;
use crate::envelope::Envelope;
use crate::figure::{Figure, Given, How};
use crate::memo::Memo;
use crate::words::Words;
use job::{Decided, Finding, Job, Manifold, Room, Severity, TubePattern};
use plane::Region;
use plane::storey::{self, Pattern, Reason};
use plane::verify::tight_bends;
use quantity::{Length, Quantity};

/// Dead floor below this is not worth a word, square metres.
const DEAD_LEAST_M2: f64 = 0.05;
/// Pieces of floor without tube below this are not worth a word, square metres.
const BARE_LEAST_M2: f64 = 0.1;

/// The tube of the house, and what laying it found out.
#[derive(Clone, Debug, Default)]
pub(crate) struct Laying {
    /// Loops in the order of floors and numbers.
    pub(crate) loops: Vec<TubeLoop>,
    /// One for each floor that was laid, in the order of floors.
    pub(crate) layouts: Vec<Layout>,
    /// Joist spans with tube in their bays.
    pub(crate) joist_floors: Vec<JoistFloor>,
    /// Boards, room by room.
    pub(crate) boards: Vec<RoomBoards>,
    /// Rooms whose tube is not drawn, by key, and what the text lacks for that.
    pub(super) not_drawn: Vec<(String, Vec<&'static str>)>,
    /// Floor that took no tube although it was to be heated, by room key, square metres.
    pub(crate) untubed_m2: Vec<(String, f64)>,
    pub(crate) findings: Vec<Finding>,
}

/// Lays the loops of all floors; `more` adds loops to open counts.
pub(crate) fn lay(
    job: &Job,
    envelope: &Envelope,
    floors: &[Floor],
    more: &[usize],
    memo: &mut Memo,
) -> Laying {
    let mut laying = Laying::default();
    let plans = storeys(job, envelope, floors, more, &mut laying.findings);
    laying.findings.extend(nameless(job));
    for plan in &plans {
        let layout = joints::laid(job, plan, memo);
        let layer = Layer { job, envelope, floors, more, plan, layout: &layout };
        layer.keep(&mut laying);
        in_bays::lay(job, envelope, floors, more, plan, &mut laying);
        laying.findings.extend(not_kept(job, plan, &layout));
        laying.findings.extend(crowding::too_near(job, floors, plan, &layout));
        laying.findings.extend(joints::not_kept(job, plan));
    }
    laying.findings.extend(not_drawn(job, &laying.not_drawn));
    let order = |room: &str| floors.iter().position(|floor| floor.room == room);
    laying.loops.sort_by_key(|tube_loop| order(&tube_loop.room));
    laying.layouts.sort_by_key(|layout| order(&layout.room));
    laying
}

/// How much of a floor the regions of its loops stand for.
#[derive(Clone, Copy)]
struct Cover {
    /// Floor from wall to wall for each square metre of region.
    scale: f64,
    /// Floor without tube, square metres.
    untubed_m2: f64,
}

/// One laid storey on its way into the design.
struct Layer<'a> {
    job: &'a Job,
    envelope: &'a Envelope,
    floors: &'a [Floor],
    more: &'a [usize],
    plan: &'a StoreyPlan<'a>,
    layout: &'a storey::Layout,
}

impl Layer<'_> {
    fn keep(&self, laying: &mut Laying) {
        for (on_plan, number) in self.plan.rooms.iter().enumerate() {
            let Some(index) = self.floors.iter().position(|floor| floor.number == *number) else {
                continue;
            };
            self.floor(index, on_plan, laying);
        }
    }

    /// All loops of one floor.
    fn floor(&self, index: usize, on_plan: usize, laying: &mut Laying) {
        let floor = &self.floors[index];
        let room = &self.job.rooms[floor.number];
        if floor.build_up.is_in_bays() {
            return;
        }
        if !floor.build_up.is_in_floor() {
            let lacks = vec!["grooves = their distance, in the material of its boards"];
            laying.not_drawn.push((room.key.clone(), lacks));
            return;
        }
        if self.plan.accesses.is_empty() {
            laying.findings.extend(without_access(self.job, room));
            return;
        }
        let own = self.layout.loops.iter().filter(|laid| laid.room == on_plan);
        let cover = self.cover(floor, on_plan);
        let loops: Vec<TubeLoop> =
            own.clone().filter_map(|laid| self.tube_loop(floor, laid, on_plan)).collect();
        let refusals = self.layout.refusals.iter().filter(|refusal| refusal.room == on_plan);
        laying.findings.extend(refusals.map(|refusal| refused(self.job, self.plan, refusal)));
        let shares = self.sharing(on_plan);
        if shares.is_none()
            && loops.is_empty()
            && !self.layout.refusals.iter().any(|refusal| refusal.room == on_plan)
        {
            laying.findings.push(unlaid(room));
        }
        if shares.is_none() {
            laying.findings.extend(not_as_held(room, loops.len()));
        }
        let bare = self.bare_pieces(floor, on_plan);
        let bare_m2: f64 = bare.iter().map(|piece| piece.area_m2()).sum();
        laying.findings.extend(self.narrow(room, self.dead_m2(on_plan) - bare_m2));
        let worth = bare.into_iter().filter(|piece| piece.area_m2() > BARE_LEAST_M2);
        laying.findings.extend(worth.map(|piece| self.piece_without_tube(room, piece)));
        laying.findings.extend(crowding::cut_off(self.job, room, self.cut_off_m2(on_plan)));
        laying.untubed_m2.push((floor.room.clone(), cover.untubed_m2));
        if let Some(first) = loops.first() {
            laying.layouts.push(self.decided(floor, first, loops.len() as u32, self.more[index]));
        }
        let passed = self.layout.loops.iter().flat_map(|laid| &laid.passed);
        let passing_m: f64 = passed.filter(|p| p.room == on_plan).map(|p| p.length_m).sum();
        laying.boards.extend(in_boards::boards(floor, on_plan, self.plan, &loops, passing_m));
        laying.layouts.extend(shares.map(|with| self.shared(floor, with)));
        laying.loops.extend(loops);
    }

    /// The room on the plan whose loop runs through a room; none if that has its own.
    fn sharing(&self, on_plan: usize) -> Option<usize> {
        let with = self.plan.plan.held.shared_with(on_plan)?;
        self.loop_through(with, on_plan).map(|_| with)
    }

    fn loop_through(&self, with: usize, on_plan: usize) -> Option<&storey::Loop> {
        let runs = |laid: &&storey::Loop| laid.lengths_m.iter().any(|(room, _)| *room == on_plan);
        self.layout.loops.iter().filter(|laid| laid.room == with).find(runs)
    }

    /// Floor that a loop takes in a room, as the plan has it, square metres.
    fn region_m2(&self, laid: &storey::Loop, on_plan: usize) -> f64 {
        let is_shared = laid.lengths_m.iter().any(|(room, _)| self.sharing(*room).is_some());
        match &self.plan.plan.rooms[on_plan].floor {
            _ if !is_shared && laid.room == on_plan => laid.region.area_m2(),
            floor if laid.room == on_plan || self.sharing(on_plan) == Some(laid.room) => {
                laid.region.overlap_area_m2(floor)
            }
            _ => 0.0,
        }
    }

    /// What is decided of a floor that shares a loop.
    fn shared(&self, floor: &Floor, with: usize) -> Layout {
        let room = &self.job.rooms[floor.number];
        let neighbour = &self.job.rooms[self.plan.rooms[with]];
        let words = Words { first: self.job.units.value };
        let least = &self.job.rules.loop_least;
        let why = format!(
            "its own loop would have less than {} in the floor ({})",
            words.run(least.si()),
            least.citation()
        );
        let of_neighbour = format!("as in {}, whose loop runs through it", neighbour.key);
        let first = self.layout.loops.iter().find(|laid| laid.room == with);
        let manifold = first.and_then(|laid| self.plan.accesses.get(laid.manifold));
        let manifold = manifold.map_or_else(String::new, |access| access.manifold.key.clone());
        let pattern = first.map_or(TubePattern::Counterflow, |laid| as_laid(laid.pattern));
        Layout {
            room: room.key.clone(),
            tube: floor.tube.clone(),
            manifold: Decided::chosen(manifold, of_neighbour.as_str()),
            count: Decided::chosen(0, of_neighbour.as_str()),
            pattern: Decided::chosen(pattern, of_neighbour),
            shares_loop: Some(
                room.shares_loop.or_else(|| Decided::chosen(neighbour.key.clone(), why)),
            ),
        }
    }

    /// How the regions on the plan share out the floor from wall to wall.
    fn cover(&self, floor: &Floor, on_plan: usize) -> Cover {
        let own = self.layout.loops.iter();
        let passed = self.layout.loops.iter().flat_map(|laid| &laid.passed);
        let passed_m2: f64 = passed.filter(|p| p.room == on_plan).map(|p| p.area_m2).sum();
        let laid_m2 = own.map(|laid| self.region_m2(laid, on_plan)).sum::<f64>() + passed_m2;
        let missed_m2 = self.dead_m2(on_plan) + self.cut_off_m2(on_plan);
        let reach_m2 = (floor.area.si() - missed_m2).max(0.0);
        let whole =
            !self.layout.refusals.iter().any(|refusal| {
                refusal.room == on_plan && refusal.reason != Reason::HeatedByLeaders
            });
        // Regions end half a spacing beyond the tube; the strip along the walls goes with them.
        let share = if laid_m2 > 0.0 { reach_m2 / laid_m2 } else { 1.0 };
        let scale = if whole { share } else { share.min(1.0) };
        Cover { scale, untubed_m2: (floor.area.si() - scale * laid_m2).max(0.0) }
    }

    /// Pieces of a floor, cut apart by keep-outs, in which no loop of its own lies.
    fn bare_pieces(&self, floor: &Floor, on_plan: usize) -> Vec<&Region> {
        let pieces = &self.envelope.enclosures[floor.number].free;
        let home = self.sharing(on_plan).unwrap_or(on_plan);
        let own = || self.layout.loops.iter().filter(|laid| laid.room == home);
        if pieces.len() < 2 || own().next().is_none() {
            return Vec::new();
        }
        let lies_in = |piece: &Region, laid: &storey::Loop| {
            let field_m = laid.path.length_m() - laid.supply_leader_m - laid.return_leader_m;
            // Of a loop through several rooms more than one place is looked at.
            let shares: &[f64] =
                if home == on_plan { &[0.5] } else { &[0.2, 0.35, 0.5, 0.65, 0.8] };
            let at = |share: &f64| laid.path.point_at(laid.supply_leader_m + share * field_m);
            shares.iter().filter_map(at).any(|place| piece.contains(place))
        };
        pieces.iter().filter(|piece| !own().any(|laid| lies_in(piece, laid))).collect()
    }

    fn dead_m2(&self, on_plan: usize) -> f64 {
        let own = self.layout.dead.iter().filter(|dead| dead.room == on_plan);
        own.map(|dead| dead.region.area_m2()).sum()
    }

    fn cut_off_m2(&self, on_plan: usize) -> f64 {
        let own = self.layout.cut_off.iter().filter(|cut_off| cut_off.room == on_plan);
        own.map(|cut_off| cut_off.area_m2).sum()
    }

    fn decided(&self, floor: &Floor, first: &TubeLoop, count: u32, more: usize) -> Layout {
        let room = &self.job.rooms[floor.number];
        let limit = limit_words(self.job, floor);
        let why = match more {
            0 => format!("the fewest with which {limit} and leaders keep short"),
            _ => format!("{limit}, and within the head of the pump"),
        };
        let nearest = match self.plan.accesses.len() {
            1 => "the only one that reaches this storey",
            _ => "the nearest with free ports, by the way that leaders take",
        };
        Layout {
            room: room.key.clone(),
            tube: floor.tube.clone(),
            manifold: room.manifold.or_else(|| Decided::chosen(first.manifold.clone(), nearest)),
            count: room.loops.or_else(|| Decided::chosen(count, why)),
            pattern: room.pattern.or_else(|| Decided::chosen(first.pattern, first.why.clone())),
            shares_loop: None,
        }
    }

    /// What of a loop lies in each room that it heats, the first its own.
    fn loop_rooms(&self, laid: &storey::Loop, on_plan: usize) -> Vec<LoopRoom> {
        let shared = laid.lengths_m.iter().filter(|(room, _)| self.sharing(*room) == Some(on_plan));
        let rooms = std::iter::once(on_plan).chain(shared.map(|(room, _)| *room));
        let part = |room: usize| {
            let number = *self.plan.rooms.get(room)?;
            let floor = self.floors.iter().find(|floor| floor.number == number)?;
            let scale = self.cover(floor, room).scale;
            let length_m = laid.lengths_m.iter().find(|(r, _)| *r == room).map_or(0.0, |l| l.1);
            Some(LoopRoom {
                room: floor.room.clone(),
                area: Figure::taken_off(
                    "floor of the loop",
                    self.region_m2(laid, room) * scale,
                    "its share of the room, up to the walls",
                ),
                length: Figure::taken_off("tube in the room", length_m, "as drawn"),
            })
        };
        rooms.filter_map(part).collect()
    }

    fn tube_loop(&self, floor: &Floor, laid: &storey::Loop, on_plan: usize) -> Option<TubeLoop> {
        let access = self.plan.accesses.get(laid.manifold)?;
        let tube = &floor.build_up.tube;
        let how = || How::Catalogue(format!("{}: {}", tube.name, tube.source));
        let bore = Figure::<Length>::new("mean inside diameter", tube.inside.si(), how());
        let leaders_m = laid.supply_leader_m + laid.return_leader_m;
        let field = Figure::taken_off(
            "tube in the field",
            laid.path.length_m() - leaders_m,
            "lines and arcs as drawn",
        );
        let leaders = Figure::taken_off("tube in the leaders", leaders_m, "out and back, as drawn");
        let tails = connection(access);
        let length =
            Figure::sum("tube from port to port", &[field.clone(), leaders.clone(), tails.clone()]);
        let volume = Figure::by_law(
            "water in the loop",
            &laws::hydraulics::TUBE_VOLUME,
            &[Given::from(&bore), Given::from(&length)],
        );
        let rooms = self.loop_rooms(laid, on_plan);
        let area = match rooms.as_slice() {
            [only] => only.area.clone(),
            several => {
                let areas: Vec<_> = several.iter().map(|part| part.area.clone()).collect();
                Figure::sum("floor of the loop", &areas)
            }
        };
        Some(TubeLoop {
            key: format!("{}/{}", floor.room, laid.number),
            room: floor.room.clone(),
            manifold: access.manifold.key.clone(),
            circuit: circuit_of(self.job, access.manifold),
            tube: tube.key.clone(),
            path: laid.path.clone(),
            leader: self.leader(laid),
            region: laid.region.clone(),
            pattern: as_laid(laid.pattern),
            why: laid.why.clone(),
            area,
            rooms,
            field_length: field,
            leader_length: leaders,
            tail_length: tails,
            length,
            volume: volume.ok()?,
            covered: Figure::taken_off(
                "floor near a tube",
                laid.covered_fraction,
                "within three quarters of the spacing, or the distance from walls",
            ),
            tight_bends: tight_bends(&laid.path, tube.bend_radius.si() - 1e-6),
            spacing_laid_m: laid.spacing_laid_m,
        })
    }

    fn leader(&self, laid: &storey::Loop) -> Leader {
        let key = |on_plan: usize| Some(self.job.rooms[*self.plan.rooms.get(on_plan)?].key.clone());
        let passed = |passed: &storey::Passed| {
            let (length_m, area_m2) = (passed.length_m, passed.area_m2);
            Some(Passed { room: key(passed.room)?, length_m, area_m2 })
        };
        let through = self.plan.accesses.get(laid.manifold).and_then(|access| access.through);
        Leader {
            supply_m: laid.supply_leader_m,
            return_m: laid.return_leader_m,
            doorways: laid
                .doors
                .iter()
                .filter_map(|door| self.plan.doors.get(*door).cloned())
                .collect(),
            through: through.map(|passage| passage.key.clone()),
            passed: laid.passed.iter().filter_map(passed).collect(),
        }
    }

    fn piece_without_tube(&self, room: &Room, piece: &Region) -> Finding {
        let words = Words { first: self.job.units.value };
        let area = words.area(piece.area_m2());
        Finding::new(
            Severity::Warn,
            "piece-without-tube",
            format!("room.{}", room.key),
            format!("keep-outs cut its floor apart; a piece of {area} gets no tube"),
            "take a keep-out away, or make the piece a room of its own with a doorway",
        )
        .at(room.place)
        .amount(piece.area_m2())
    }

    /// Tells of floor that no tube can reach.
    fn narrow(&self, room: &Room, area_m2: f64) -> Option<Finding> {
        let words = Words { first: self.job.units.value };
        (area_m2 > DEAD_LEAST_M2).then(|| {
            Finding::new(
                Severity::Note,
                "floor-too-narrow",
                format!("room.{}", room.key),
                format!(
                    "{} of its floor lie in slots too narrow for a turn of tube",
                    words.area(area_m2)
                ),
                "nothing to do where it lies behind fixtures; else look at the keep-outs",
            )
            .at(room.place)
            .amount(area_m2)
        })
    }
}

/// How long loops of a floor may be, in words.
pub(super) fn limit_words(job: &Job, floor: &Floor) -> String {
    let words = Words { first: job.units.value };
    limit(job, floor).map_or("no limit is known".to_owned(), |rule| {
        format!("every loop stays within {}", words.run(rule.value.si()))
    })
}

/// The circuit that feeds a manifold: as stated, or the only one.
pub(super) fn circuit_of(job: &Job, manifold: &Manifold) -> Option<String> {
    let only = || (job.circuits.len() == 1).then(|| job.circuits[0].key.clone());
    manifold.circuit.as_ref().map(|circuit| circuit.value.clone()).or_else(only)
}

fn as_laid(pattern: Pattern) -> TubePattern {
    match pattern {
        Pattern::Auto | Pattern::Counterflow => TubePattern::Counterflow,
        Pattern::Serpentine | Pattern::Grooves(_) => TubePattern::Serpentine,
        Pattern::DoubledSerpentine => TubePattern::DoubledSerpentine,
        Pattern::Band { .. } => TubePattern::PerimeterBand,
    }
}

/// Floors of which the text says too little to draw their tube, told once.
fn not_drawn(job: &Job, lacking: &[(String, Vec<&'static str>)]) -> Option<Finding> {
    let (first, _) = lacking.first()?;
    let rooms: Vec<&str> = lacking.iter().map(|(room, _)| room.as_str()).collect();
    let mut lacks: Vec<&str> = Vec::new();
    for lack in lacking.iter().flat_map(|(_, lacks)| lacks) {
        if !lacks.contains(lack) {
            lacks.push(lack);
        }
    }
    let message = format!(
        "how tube lies in the bays or boards of {} cannot be told; heat and water are worked out, \
         loops are not drawn, so tube, flow and head of these rooms are missing",
        rooms.join(", ")
    );
    let advice = format!(
        "write, in the framing of these rooms: {}; or lay them by the maker's layout, at the \
         spacing given, and add their loops to pump and coils",
        lacks.join(", ")
    );
    let subject = format!("room.{first}");
    let finding = Finding::new(Severity::Warn, "loops-not-drawn", subject, message, advice);
    Some(finding.at(job.room(first).map(|room| room.place)))
}

/// A floor that got no loop although nothing was told to stand in the way.
fn unlaid(room: &Room) -> Finding {
    let message = "no way was found to lay tube on this floor within the rules";
    let advice = "hold another spacing or number of loops, or move the manifold";
    let subject = format!("room.{}", room.key);
    Finding::new(Severity::Stop, "no-loop", subject, message, advice).at(room.place)
}

/// Tells a held count that could not be laid.
pub(super) fn not_as_held(room: &Room, laid: usize) -> Option<Finding> {
    let held = room.loops.held()?;
    (laid != held.value as usize).then(|| {
        let message = format!("{} loops are held, {laid} could be laid", held.value);
        let advice = "hold a number that this floor can take, or leave it to the design";
        let subject = format!("room.{}", room.key);
        Finding::new(Severity::Stop, "loops-not-as-held", subject, message, advice).at(held.place)
    })
}

/// Tube between the floor and the ports, both ends.
pub(super) fn connection(access: &super::Access<'_>) -> Figure<Length> {
    let manifold = access.manifold;
    let height = Figure::fact("riser to the manifold", &manifold.height);
    let tail = Figure::fact("tail at the manifold", &manifold.tail);
    let mut parts = vec![height.clone(), height, tail.clone(), tail];
    if let Some(passage) = access.through {
        let name = format!("way through {}", passage.key);
        let way = Figure::taken_off(name, access.way_m, "straight, and from level to level");
        parts.extend([way.clone(), way]);
    }
    Figure::sum("tube in risers and tails", &parts)
}
