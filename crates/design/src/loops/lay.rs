//! Laying the loops of every heated floor.

use super::leaders::{Hung, Ways};
use super::{Layout, Leader, TubeLoop};
use crate::emitters::Floor;
use crate::envelope::Envelope;
use crate::figure::{Figure, Given, How};
use crate::memo::{Laid, Memo};
use crate::words::Words;
use job::{Decided, Decision, Finding, Job, Manifold, Room, Rule, Severity};
use plane::fill::{FillSpec, NoFill};
use plane::split::{side_by_side, weighted};
use plane::{Point, Region};
use quantity::{Length, Quantity};

/// Most loops in one room, as many as the text may hold.
const MOST_LOOPS: usize = 40;
/// Pieces of floor smaller than this take no tube, square metres.
const LEAST_PIECE_M2: f64 = 0.5;
/// Lengths of one room's loops that differ by more than this share are evened out.
const UNEVEN: f64 = 0.08;

/// What the laying of one floor found out beside its loops.
#[derive(Clone, Debug, Default)]
pub(crate) struct Laying {
    pub(crate) loops: Vec<TubeLoop>,
    pub(crate) layout: Option<Layout>,
    pub(crate) findings: Vec<Finding>,
}

/// All that laying needs to know.
pub(crate) struct Layer<'a> {
    pub(crate) job: &'a Job,
    pub(crate) envelope: &'a Envelope,
    pub(crate) ways: &'a Ways<'a>,
    pub(crate) hung: &'a [Hung<'a>],
}

/// One loop as laid on trial.
#[derive(Clone, Debug)]
struct Trial {
    region: Region,
    laid: Laid,
    leader: Option<Leader>,
    length_m: f64,
}

impl Trial {
    /// Tube that is not in the field.
    fn way_m(&self) -> f64 {
        let field_m = self.laid.as_ref().as_ref().map_or(0.0, |fill| fill.path.length_m());
        self.length_m - field_m
    }
}

/// One piece of a floor and where leaders come onto it.
struct Piece<'a> {
    region: &'a Region,
    entry: Point,
    spec: FillSpec,
    hung: Hung<'a>,
    room: usize,
}

impl Layer<'_> {
    /// The loops of one floor; `more` adds loops to an open count.
    pub(crate) fn floor(&self, floor: &Floor, more: usize, memo: &mut Memo) -> Laying {
        let room = &self.job.rooms[floor.number];
        let mut laying = Laying::default();
        let Some(hung) = self.manifold_for(floor, &mut laying.findings) else { return laying };
        let Some(pieces) = self.pieces(floor, hung, &mut laying.findings) else { return laying };
        let total = match room.loops.held() {
            Some(held) => held.value as usize,
            None => (self.least_count(floor, &pieces, memo) + more).min(MOST_LOOPS),
        };
        let mut trials: Vec<Trial> = Vec::new();
        for (piece, count) in pieces.iter().zip(share_out(&pieces, total)) {
            if count == 0 {
                laying.findings.push(self.piece_without_tube(room, piece.region));
            } else {
                trials.extend(self.lay(piece, count, memo));
            }
        }
        laying.findings.extend(self.not_as_held(room, trials.len()));
        let count = trials.len() as u32;
        laying.layout = Some(self.layout(floor, hung, count, more));
        for (index, trial) in trials.into_iter().enumerate() {
            self.keep(floor, hung.manifold, index + 1, trial, &mut laying);
        }
        laying
    }

    fn layout(&self, floor: &Floor, hung: Hung<'_>, count: u32, more: usize) -> Layout {
        let room = &self.job.rooms[floor.number];
        let words = Words { first: self.job.units.value };
        let limit = self.limit(floor).map_or("no limit is known".to_owned(), |rule| {
            format!("every loop stays within {}", words.run(rule.value.si()))
        });
        let why = match more {
            0 => format!("the fewest with which {limit}"),
            _ => format!("{limit}, and within the head of the pump"),
        };
        let nearest = match self.hung.len() {
            1 => "the only one with a known place",
            _ => "the nearest, by the way that leaders take",
        };
        Layout {
            room: room.key.clone(),
            tube: floor.tube.clone(),
            manifold: room.manifold.or_else(|| Decided::chosen(hung.manifold.key.clone(), nearest)),
            count: room.loops.or_else(|| Decided::chosen(count, why)),
        }
    }

    /// How long a loop of this floor's tube may be, by the rule set.
    pub(crate) fn limit(&self, floor: &Floor) -> Option<&Rule<Length>> {
        self.job.rules.loop_length(&floor.build_up.tube.key)
    }

    fn manifold_for(&self, floor: &Floor, findings: &mut Vec<Finding>) -> Option<Hung<'_>> {
        let room = &self.job.rooms[floor.number];
        let subject = format!("room.{}", room.key);
        let centre = self.target(floor);
        if let Decision::Held(held) = &room.manifold {
            let found = self.hung.iter().find(|hung| hung.manifold.key == held.value);
            if found.is_none() {
                let message = format!("its manifold `{}` has no known place", held.value);
                let advice = "give the manifold `room` and `at`";
                findings.push(
                    Finding::new(Severity::Stop, "no-manifold", subject, message, advice)
                        .at(held.place),
                );
            }
            return found.copied();
        }
        let nearest = self
            .hung
            .iter()
            .filter_map(|hung| Some((hung, self.ways.to(*hung, floor.number, centre)?.length_m)))
            .min_by(|a, b| a.1.total_cmp(&b.1));
        // With no manifold at all the design says so once for all rooms.
        if nearest.is_none() && !self.hung.is_empty() {
            findings.push(
                Finding::new(
                    Severity::Stop,
                    "no-manifold",
                    subject,
                    "no way leads from a manifold to this room",
                    "add the doorways on the way, or another manifold",
                )
                .at(room.place),
            );
        }
        nearest.map(|(hung, _)| *hung)
    }

    /// A place of the room to look for a way to.
    fn target(&self, floor: &Floor) -> Point {
        let free = &self.envelope.enclosures[floor.number].free;
        let largest = free.iter().max_by(|a, b| a.area_m2().total_cmp(&b.area_m2()));
        largest.map_or(Point::default(), |region| region.outer()[0])
    }

    fn piece<'b>(
        &self,
        floor: &Floor,
        region: &'b Region,
        hung: Hung<'b>,
        findings: &mut Vec<Finding>,
    ) -> Option<Piece<'b>> {
        let entry = self.ways.entry(hung, floor.number, region.outer()[0]);
        let Some(entry) = entry else {
            let room = &self.job.rooms[floor.number];
            findings.push(
                Finding::new(
                    Severity::Stop,
                    "no-way",
                    format!("room.{}", room.key),
                    format!("no way leads from manifold {} to this room", hung.manifold.key),
                    "add the doorways on the way, or another manifold",
                )
                .at(room.place),
            );
            return None;
        };
        let spec = FillSpec {
            spacing_m: floor.spacing.value.si(),
            wall_clearance_m: self.job.rules.wall_clearance.value.si(),
            bend_radius_m: floor.build_up.tube.bend_radius.si(),
        };
        let entry = region.nearest_boundary(entry);
        Some(Piece { region, entry, spec, hung, room: floor.number })
    }

    /// The pieces of a floor that take tube; none, told, where no way leads to one.
    fn pieces<'b>(
        &'b self,
        floor: &Floor,
        hung: Hung<'b>,
        findings: &mut Vec<Finding>,
    ) -> Option<Vec<Piece<'b>>> {
        let free = self.envelope.enclosures[floor.number].free.iter();
        free.filter(|piece| piece.area_m2() >= LEAST_PIECE_M2)
            .map(|region| self.piece(floor, region, hung, findings))
            .collect()
    }

    /// The fewest loops with which each keeps the limit, measured, not guessed.
    fn least_count(&self, floor: &Floor, pieces: &[Piece<'_>], memo: &mut Memo) -> usize {
        let limit_m = self.limit(floor).map_or(f64::INFINITY, |rule| rule.value.si());
        let guess = |piece: &Piece<'_>| {
            let way = self.ways.to(piece.hung, piece.room, piece.entry);
            let extra_m =
                self.connection_m(piece.hung.manifold) + 2.0 * way.map_or(0.0, |way| way.length_m);
            // No count of loops helps where the way alone is over the limit.
            let field_m = piece.region.area_m2() / piece.spec.spacing_m;
            if extra_m >= limit_m { 1.0 } else { (field_m / (limit_m - extra_m)).ceil().max(1.0) }
        };
        let most = MOST_LOOPS.max(pieces.len());
        let first = (pieces.iter().map(guess).sum::<f64>() as usize).clamp(pieces.len(), most);
        let keeps = |count: &usize| {
            let shares = share_out(pieces, *count);
            pieces.iter().zip(shares).all(|(piece, count)| {
                let trials = self.lay(piece, count, memo);
                let way_alone = |trial: &Trial| trial.way_m() >= limit_m;
                trials.iter().all(|trial| trial.length_m <= limit_m || way_alone(trial))
            })
        };
        (first..=most).find(keeps).unwrap_or(most)
    }

    /// Tells a held count that could not be laid.
    fn not_as_held(&self, room: &Room, laid: usize) -> Option<Finding> {
        let held = room.loops.held()?;
        (laid != held.value as usize).then(|| {
            let message = format!("{} loops are held, {laid} could be laid", held.value);
            let advice = "hold a number that this floor can take, or leave it to the design";
            let subject = format!("room.{}", room.key);
            Finding::new(Severity::Stop, "loops-not-as-held", subject, message, advice)
                .at(held.place)
        })
    }

    /// Lays that many loops side by side, then evens out their lengths once.
    fn lay(&self, piece: &Piece<'_>, count: usize, memo: &mut Memo) -> Vec<Trial> {
        let equal = side_by_side(piece.region, piece.entry, count);
        let trials = self.trials(piece, equal, memo);
        let spread = spread(&trials);
        if trials.len() < 2 || spread <= UNEVEN {
            return trials;
        }
        let mean = trials.iter().map(|t| t.length_m).sum::<f64>() / trials.len() as f64;
        let weights: Vec<f64> =
            trials.iter().map(|t| t.region.area_m2() * mean / t.length_m.max(0.1)).collect();
        let evened = self.trials(piece, weighted(piece.region, piece.entry, &weights), memo);
        let all_laid = |trials: &[Trial]| trials.iter().all(|trial| trial.laid.is_ok());
        let better = evened.len() == trials.len()
            && self::spread(&evened) < spread
            && (all_laid(&evened) || !all_laid(&trials));
        if better { evened } else { trials }
    }

    fn trials(
        &self,
        piece: &Piece<'_>,
        parts: Vec<(Region, Point)>,
        memo: &mut Memo,
    ) -> Vec<Trial> {
        parts
            .into_iter()
            .map(|(region, entry)| {
                let laid = memo.counterflow(&region, entry, &piece.spec);
                let end = laid.as_ref().as_ref().map_or(entry, |fill| fill.entry);
                let leader = self.ways.to(piece.hung, piece.room, end);
                let field_m = laid.as_ref().as_ref().map_or(0.0, |fill| fill.path.length_m());
                let leader_m = leader.as_ref().map_or(0.0, |leader| 2.0 * leader.length_m);
                let length_m = field_m + leader_m + self.connection_m(piece.hung.manifold);
                Trial { region, laid, leader, length_m }
            })
            .collect()
    }

    /// Risers and tails of both ends.
    fn connection_m(&self, manifold: &Manifold) -> f64 {
        2.0 * (manifold.height.value.si() + manifold.tail.value.si())
    }

    fn keep(
        &self,
        floor: &Floor,
        manifold: &Manifold,
        number: usize,
        trial: Trial,
        laying: &mut Laying,
    ) {
        let words = Words { first: self.job.units.value };
        let key = format!("{}/{number}", floor.room);
        let room = &self.job.rooms[floor.number];
        let fill = match trial.laid.as_ref() {
            Ok(fill) => fill,
            Err(why) => {
                let area = words.area(trial.region.area_m2());
                laying.findings.push(
                    Finding::new(
                        Severity::Stop,
                        "no-loop",
                        format!("loop.{key}"),
                        format!("no counterflow loop fits into {area} of this floor: {why}"),
                        advice(*why),
                    )
                    .at(room.place),
                );
                return;
            }
        };
        let tube = &floor.build_up.tube;
        let how = || How::Catalogue(format!("{}: {}", tube.name, tube.source));
        let bore = Figure::<Length>::new("mean inside diameter", tube.inside.si(), how());
        let field =
            Figure::taken_off("tube in the field", fill.path.length_m(), "lines and arcs as drawn");
        let one_way_m = trial.leader.as_ref().map_or(0.0, |leader| leader.length_m);
        let way = "shortest way through doorways, out and back; not yet routed";
        let leaders = Figure::taken_off("tube in the leaders", 2.0 * one_way_m, way);
        let tails = connection(manifold);
        let length =
            Figure::sum("tube from port to port", &[field.clone(), leaders.clone(), tails.clone()]);
        let volume = Figure::by_law(
            "water in the loop",
            &laws::hydraulics::TUBE_VOLUME,
            &[Given::from(&bore), Given::from(&length)],
        );
        let Ok(volume) = volume else { return };
        laying.loops.push(TubeLoop {
            key,
            room: floor.room.clone(),
            manifold: manifold.key.clone(),
            tube: tube.key.clone(),
            field: fill.path.clone(),
            leader: trial.leader,
            area: Figure::taken_off(
                "floor of the loop",
                trial.region.area_m2(),
                "its share of the room",
            ),
            field_length: field,
            leader_length: leaders,
            tail_length: tails,
            length,
            volume,
            covered: Figure::taken_off(
                "floor near a tube",
                fill.covered_fraction,
                "within three quarters of the spacing",
            ),
            tight_bends: fill.tight_bends.clone(),
            spacing_laid_m: fill.spacing_used_m,
        });
    }

    fn piece_without_tube(&self, room: &Room, region: &Region) -> Finding {
        let words = Words { first: self.job.units.value };
        let area = words.area(region.area_m2());
        Finding::new(
            Severity::Warn,
            "piece-without-tube",
            format!("room.{}", room.key),
            format!("keep-outs cut its floor apart; a piece of {area} gets no tube"),
            "hold more loops, or take a keep-out away",
        )
        .at(room.loops.held().map_or(room.place, |held| held.place))
        .amount(region.area_m2())
    }
}

/// What to do about a region that takes no loop.
fn advice(why: NoFill) -> &'static str {
    match why {
        NoFill::TooLarge => "lay more loops in this room",
        NoFill::UnusableSpacing | NoFill::UnusableClearance | NoFill::UnusableRadius => {
            "look at spacing, tube and rule set"
        }
        NoFill::EntryElsewhere | NoFill::EntryTooNarrow => {
            "make room for two tubes at the door, or move the manifold"
        }
        NoFill::SmallerThanOneTurn { .. } | NoFill::NoLayout => {
            "hold a closer spacing or fewer loops, or take a keep-out away"
        }
    }
}

/// Tube between the floor and the ports, both ends.
fn connection(manifold: &Manifold) -> Figure<Length> {
    let height = Figure::fact("riser to the manifold", &manifold.height);
    let tail = Figure::fact("tail at the manifold", &manifold.tail);
    let parts = [height.clone(), height, tail.clone(), tail];
    Figure::sum("tube in risers and tails", &parts)
}

/// Loops shared out over pieces by area, at least one each while they last, largest first.
fn share_out(pieces: &[Piece<'_>], count: usize) -> Vec<usize> {
    let mut counts = vec![0; pieces.len()];
    for _ in 0..count.min(MOST_LOOPS.max(pieces.len())) {
        let neediest = (0..pieces.len())
            .map(|index| (index, pieces[index].region.area_m2() / (counts[index] + 1) as f64))
            .fold(None, |best: Option<(usize, f64)>, next| match best {
                // A piece without any loop goes before all that have one.
                Some((index, area))
                    if (counts[index] == 0, area) >= (counts[next.0] == 0, next.1) =>
                {
                    Some((index, area))
                }
                _ => Some(next),
            });
        if let Some((index, _)) = neediest {
            counts[index] += 1;
        }
    }
    counts
}

fn spread(trials: &[Trial]) -> f64 {
    let longest = trials.iter().map(|trial| trial.length_m).fold(0.0, f64::max);
    let shortest = trials.iter().map(|trial| trial.length_m).fold(f64::INFINITY, f64::min);
    if longest > 0.0 { (longest - shortest) / longest } else { 0.0 }
}
