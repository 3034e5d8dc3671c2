//! Joints against the tube as laid, and what of the text joints leave no meaning.

use super::super::plan::StoreyPlan;
use super::crossed::{JointCrossing, LoopPart};
use super::{legs, may_lie_in, parted};
use crate::emitters::Floor;
use crate::envelope::Envelope;
use crate::figure::Standing;
use crate::hold::keyed_path;
use crate::words::Words;
use job::{Edit, Finding, Job, Joint, JointKind, Mend, Place, Promise, Severity};
use quantity::Quantity;

/// A joint that lies in a floor by less than this does not count, metres.
const IN_FLOOR_M: f64 = 0.1;
/// Steps in which a joint is looked along, metres.
const STEP_M: f64 = 0.02;

/// Joints against the loops that cross them.
pub(crate) fn judge(
    job: &Job,
    envelope: &Envelope,
    floors: &[Floor],
    crossings: &[JointCrossing],
    findings: &mut Vec<Finding>,
) {
    let told = Told { job, envelope, floors };
    for joint in &job.joints {
        let own: Vec<&JointCrossing> =
            crossings.iter().filter(|crossing| crossing.joint == joint.key).collect();
        if joint.line.is_some() && legs(joint).is_empty() {
            findings.push(told.no_length(joint));
        }
        findings.extend(told.nowhere(joint));
        match joint.kind.value {
            JointKind::Movement => findings.extend(told.in_field(joint, &own)),
            JointKind::SawCut => findings.extend(told.cut_into(joint, &own)),
        }
    }
}

struct Told<'a> {
    job: &'a Job,
    envelope: &'a Envelope,
    floors: &'a [Floor],
}

impl Told<'_> {
    fn words(&self) -> Words {
        Words { first: self.job.units.value }
    }

    fn no_length(&self, joint: &Joint) -> Finding {
        let message = "its places lie on each other, so it has no length";
        let advice = "write its two ends, or every corner of it";
        finding(Severity::Stop, "joint-nowhere", joint, message, advice)
    }

    /// A joint that meets no floor with tube in screed or slab.
    fn nowhere(&self, joint: &Joint) -> Option<Finding> {
        let rooms = self.job.rooms.iter().enumerate();
        let meets = |(number, room): (usize, &job::Room)| {
            let wet = |floor: &Floor| floor.build_up.is_wet;
            let own = self.floors.iter().find(|floor| floor.room == room.key);
            let is_dry = own.is_some_and(|floor| !wet(floor));
            may_lie_in(self.job, joint, number) && !is_dry && self.in_floor_m(joint, number) > 0.0
        };
        if legs(joint).is_empty() || rooms.clone().any(meets) {
            return None;
        }
        let message = "lies in no floor of slab or screed, so nothing is done for it";
        let advice = "check its places, its room or its storey";
        Some(finding(Severity::Warn, "joint-nowhere", joint, message, advice))
    }

    /// Length of a joint on the floor of a room, metres, to a step.
    fn in_floor_m(&self, joint: &Joint, room: usize) -> f64 {
        let Some(floor) = &self.envelope.enclosures[room].floor else { return 0.0 };
        let inside = |[a, b]: [plane::Point; 2]| {
            let steps = (a.distance(b) / STEP_M).ceil().clamp(1.0, 1e5) as usize;
            let on = |k: &usize| floor.contains(a.lerp(b, (*k as f64 + 0.5) / steps as f64));
            a.distance(b) * (0..steps).filter(on).count() as f64 / steps as f64
        };
        legs(joint).into_iter().map(inside).sum()
    }

    /// Field that lies across a movement joint.
    fn in_field(&self, joint: &Joint, own: &[&JointCrossing]) -> Option<Finding> {
        let field: Vec<&&JointCrossing> =
            own.iter().filter(|crossing| crossing.part == LoopPart::Field).collect();
        if field.is_empty() {
            return None;
        }
        let mut loops: Vec<&str> = Vec::new();
        for crossing in &field {
            if !loops.contains(&crossing.of_loop.as_str()) {
                loops.push(&crossing.of_loop);
            }
        }
        let message = format!(
            "the field of {} crosses it in {} places; the joint parts no floor there",
            loops.join(", "),
            field.len()
        );
        let advice = "draw the joint from wall to wall, or make the two sides rooms of their own \
                      with a passage between them";
        let rule = &self.job.rules.joint_sleeve;
        let finding = finding(Severity::Stop, "field-crosses-joint", joint, message, advice);
        Some(finding.amount(field.len() as f64).limit("only leaders, in sleeves", rule.citation()))
    }

    /// Saw cuts over tube: deep enough to reach it, or nobody knows.
    fn cut_into(&self, joint: &Joint, own: &[&JointCrossing]) -> Option<Finding> {
        let words = self.words();
        let covers = own.iter().filter_map(|crossing| self.cover(crossing));
        let (cover, room) = covers.min_by(|a, b| a.0.si().total_cmp(&b.0.si()))?;
        let rule = &self.job.rules.saw_cut_clearance;
        let most_m = cover.si() - rule.si();
        let guess = match cover.work.standing() {
            Standing::Estimated => ", which nobody has stated,",
            _ => "",
        };
        let covered = format!(
            "{} places of tube cross below it; over the tube{guess} lie {} of {}",
            own.len(),
            words.small(cover.si()),
            room.build_up.material.name
        );
        let Some(depth) = &joint.depth else {
            let message = format!(
                "{covered}; how deep it is cut is not said, so whether it meets the tube cannot be told"
            );
            let advice = if most_m > 0.0 {
                format!("write its depth; it must stay within {}", words.small(most_m))
            } else {
                "lay the tube deeper, or leave this cut out".to_owned()
            };
            return Some(finding(Severity::Warn, "saw-cut-depth", joint, message, advice));
        };
        let over_m = depth.value.si() - most_m;
        if over_m <= 1e-6 {
            return None;
        }
        let message = format!("{covered}; it is cut {} deep", words.small(depth.value.si()));
        let advice = "cut less deep, lay the tube deeper, or move the joint to where no tube is";
        let severity = if depth.value.si() >= cover.si() { Severity::Stop } else { Severity::Warn };
        let finding = finding(severity, "saw-cut-meets-tube", joint, message, advice);
        let limit = format!("{} between cut and tube", words.small(rule.si()));
        Some(finding.at(depth.place()).amount(over_m).limit(limit, rule.citation()))
    }

    /// Cover over a tube where it crosses, and the floor it lies in.
    fn cover(
        &self,
        crossing: &JointCrossing,
    ) -> Option<(&crate::figure::Figure<quantity::Length>, &Floor)> {
        let (own, _) = job::loop_name(&crossing.of_loop)?;
        let here = self.envelope.enclosures.iter().find(|enclosure| {
            enclosure.floor.as_ref().is_some_and(|floor| floor.contains(crossing.at))
        });
        let floor_of = |room: &str| self.floors.iter().find(|floor| floor.room == room);
        let floor = here.and_then(|here| floor_of(&here.room)).or_else(|| floor_of(own))?;
        Some((&floor.build_up.cover, floor))
    }
}

fn finding(
    severity: Severity,
    kind: &'static str,
    joint: &Joint,
    message: impl Into<String>,
    advice: impl Into<String>,
) -> Finding {
    let place = joint.line.as_ref().map_or(joint.place, |line| line.place);
    Finding::new(severity, kind, format!("joint.{}", joint.key), message, advice).at(place)
}

/// What the text holds of a storey that has no meaning in rooms that joints cut, and joints that
/// end in a floor.
pub(in crate::loops) fn not_kept(job: &Job, storey: &StoreyPlan<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    let parted = parted(job, storey);
    let is_cut = |key: &str| {
        let room = storey.rooms.iter().position(|number| job.rooms[*number].key == key);
        room.is_some_and(|room| parted.as_ref().is_some_and(|parted| parted.is_cut(room)))
    };
    let of_cut = |key: &str| job::loop_name(key).is_some_and(|(room, _)| is_cut(room));
    for held in job.held_loops.iter().filter(|held| of_cut(&held.key)) {
        let keys = [("outline", held.outline.is_some()), ("way", held.way.held().is_some())];
        for (key, _) in keys.into_iter().filter(|(_, is_held)| *is_held) {
            findings.push(released(keyed_path("loop", &held.key, key), held.place, "its loops"));
        }
    }
    for manifold in &job.manifolds {
        if let Some(named) = manifold.order.iter().find(|named| of_cut(&named.value)) {
            let path = keyed_path("manifold", &manifold.key, "order");
            findings.push(released(path, named.place, "the loops of one of its rooms"));
        }
    }
    for room in storey.rooms.iter().map(|number| &job.rooms[*number]) {
        if let Some(with) = room.shares_loop.held()
            && (is_cut(&room.key) || is_cut(&with.value))
        {
            let path = keyed_path("room", &room.key, "shares_loop");
            findings.push(released(path, with.place, "its loop"));
        }
    }
    findings.extend(ending(job, storey, &is_cut));
    findings
}

fn released(path: String, place: Place, what: &str) -> Finding {
    let message = format!("a movement joint cuts the room, so {what} cannot be held one by one");
    let advice = "hold the number of loops, or make the two sides rooms of their own";
    let mend = Mend {
        words: format!("leave it to the design: take {path} away"),
        edits: vec![Edit::Unset { path: path.clone() }],
        promise: Promise::Goes,
    };
    Finding::new(Severity::Stop, "not-as-held", path, message, advice).at(place).mend(mend)
}

/// Movement joints that enter a heated floor and end in it.
fn ending(job: &Job, storey: &StoreyPlan<'_>, is_cut: &dyn Fn(&str) -> bool) -> Vec<Finding> {
    let mut findings = Vec::new();
    for joint in super::movements(job) {
        for (room, number) in storey.plan.rooms.iter().zip(&storey.rooms) {
            let inside = |[a, b]: [plane::Point; 2]| {
                let steps = (a.distance(b) / STEP_M).ceil().clamp(1.0, 1e5) as usize;
                let on =
                    |k: &usize| room.floor.contains(a.lerp(b, (*k as f64 + 0.5) / steps as f64));
                a.distance(b) * (0..steps).filter(on).count() as f64 / steps as f64
            };
            let in_floor_m: f64 = legs(joint).into_iter().map(inside).sum();
            let lies = may_lie_in(job, joint, *number) && in_floor_m > IN_FLOOR_M;
            if lies && room.heated && !is_cut(&room.key) {
                let message = format!(
                    "does not reach from wall to wall in room {}, so it does not part its floor; \
                     loops are laid across it",
                    room.key
                );
                let advice = "draw it on to the walls, or to another joint";
                findings.push(finding(
                    Severity::Warn,
                    "joint-ends-in-floor",
                    joint,
                    message,
                    advice,
                ));
            }
        }
    }
    findings
}
