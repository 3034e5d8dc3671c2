//! What a floor gives whose parts differ: in finish, or in the distance of their tubes.

use super::super::section::{Curve, Cut, Pairs, Response, Sections, Slab, WIDEST_M};
use super::super::zones::{Apart, Zone};
use super::BuildUp;
use crate::figure::{Figure, How, Work};
use job::{Catalogue, Finish};
use quantity::{AreaResistance, Quantity, Ratio};
use std::sync::Arc;

/// A part of a floor besides the rest of it.
#[derive(Clone, Debug)]
pub(crate) struct Part {
    pub(crate) zone: Zone,
    finish: Figure<AreaResistance>,
    curve: Arc<Curve>,
}

/// What one part of a floor gives.
#[derive(Clone, Debug)]
pub(crate) struct ZoneResponse<'a> {
    pub(crate) zone: &'a Zone,
    /// Distance of its tubes, metres.
    pub(crate) spacing_m: f64,
    pub(crate) response: Response,
}

/// The parts of a floor besides the rest, each with its own section.
pub(super) fn parts(
    others: &[Zone],
    cut: &Cut,
    finish_m2k_w: f64,
    catalogue: &Catalogue,
    sections: &mut Sections,
) -> Result<Vec<Part>, String> {
    let part = |zone: &Zone| {
        let finish = catalogue.finish(&zone.finish);
        let finish =
            finish.ok_or_else(|| format!("no finish `{}` in the catalogue", zone.finish))?;
        let how = How::Catalogue(format!("{}: {}", finish.name, finish.source));
        let name = format!("finish {}: {}", zone.name, finish.name);
        Ok(Part {
            zone: zone.clone(),
            finish: Figure::new(name, finish.resistance.si(), how),
            curve: sections.curve(refinished(cut, finish_m2k_w, finish)),
        })
    };
    others.iter().map(part).collect()
}

/// A floor under another finish than the one of so much resistance, m²K/W.
pub(super) fn refinished(cut: &Cut, finish_m2k_w: f64, finish: &Finish) -> Cut {
    let mut cut = cut.clone();
    if Slab::resisting(finish_m2k_w, None).is_some() {
        cut.over.pop();
    }
    cut.over.extend(Slab::resisting(finish.resistance.si(), Some(finish.thickness.si())));
    cut
}

impl Part {
    /// Its floor between two tubes; none where its section cannot be solved.
    pub(crate) fn pairs(&self) -> Option<Arc<Pairs>> {
        self.curve.pairs().ok()
    }
}

impl BuildUp {
    /// Parts besides the rest.
    pub(crate) fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// What every part gives where the tubes of the rest lie so far apart, the rest first.
    pub(crate) fn zone_responses(
        &self,
        spacing_m: f64,
        tube_w_mk: f64,
    ) -> Result<Vec<ZoneResponse<'_>>, String> {
        let rest = self.rest_response(spacing_m, tube_w_mk)?;
        let mut all = vec![ZoneResponse { zone: &self.rest, spacing_m, response: rest }];
        for part in &self.parts {
            let spacing_m = part.zone.apart.metres(spacing_m);
            let panel = part.curve.at(spacing_m).map_err(|error| error.to_string())?;
            let response = Response::of(&panel, tube_w_mk, &self.beyond());
            all.push(ZoneResponse { zone: &part.zone, spacing_m, response });
        }
        Ok(all)
    }

    /// Distance of tubes in the rest where it is so much on average over all parts, metres.
    pub(super) fn apart_in_rest_m(&self, mean_m: f64) -> f64 {
        let (mut fixed_m, mut following) = (0.0, self.rest.share);
        for Part { zone, .. } in &self.parts {
            match zone.apart {
                Apart::AsElsewhere => following += zone.share,
                Apart::Closer(share) => following += zone.share / share,
                Apart::At(own_m) => fixed_m += zone.share / own_m,
            }
        }
        // Metres of tube for each square metre, all over and in the parts of a fixed distance.
        let left_m = 1.0 / mean_m - fixed_m;
        let apart_m = if left_m > 0.0 { following / left_m } else { WIDEST_M };
        apart_m.clamp(mean_m, WIDEST_M.max(mean_m))
    }

    /// The figures that its parts rest on.
    pub(super) fn part_works(&self) -> Vec<Arc<Work>> {
        let share = |part: &Part| {
            let what = "its area on the plan over that of all floor that can take tube";
            let name = format!("share of the floor {}", part.zone.name);
            Figure::<Ratio>::taken_off(name, part.zone.share, what).work
        };
        self.parts.iter().flat_map(|part| [share(part), part.finish.work.clone()]).collect()
    }
}
