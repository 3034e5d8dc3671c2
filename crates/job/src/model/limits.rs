//! Which limit of a rule set holds where: by use, finish, carrier and cover.

use super::construction::{Carrier, Family, Material};
use super::library::FinishKind;
use super::room::RoomUse;
use super::rules::{Rule, RuleSet};
use quantity::{AreaResistance, Length, Temperature};

/// Part of a floor for which a surface temperature is limited.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FloorZone {
    /// Where people stay.
    Living,
    /// In a bath.
    Bath,
    /// Where nobody stays.
    Utility,
    /// The strip along outside walls, no wider than 1 m.
    Perimeter,
}

impl From<RoomUse> for FloorZone {
    fn from(used_as: RoomUse) -> Self {
        match used_as {
            RoomUse::Living => FloorZone::Living,
            RoomUse::Bath => FloorZone::Bath,
            RoomUse::Utility => FloorZone::Utility,
        }
    }
}

/// The limits of a floor's surface.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SurfaceLimit<'a> {
    /// For the mean of the heated floor.
    pub mean: &'a Rule<Temperature>,
    /// For its hottest spot.
    pub peak: &'a Rule<Temperature>,
}

/// Least insulation below a heated floor over outdoor air, by how cold that gets.
#[derive(Clone, Debug, PartialEq)]
pub struct OutdoorInsulation {
    /// Coldest outdoor temperature for which it does.
    pub down_to: Temperature,
    /// The least resistance.
    pub least: Rule<AreaResistance>,
}

/// The lower of a part's limit and its finish's, if that has one.
fn lower<'a>(
    part: &'a Rule<Temperature>,
    finish: Option<&'a Rule<Temperature>>,
) -> &'a Rule<Temperature> {
    finish.filter(|finish| finish.value < part.value).unwrap_or(part)
}

impl RuleSet {
    /// Hottest floor in that part under that finish.
    ///
    /// A finish is spoilt by its hottest spot, so its limit holds for mean and peak alike.
    pub fn surface_limit(&self, zone: FloorZone, finish: FinishKind) -> SurfaceLimit<'_> {
        let (mean, peak) = match zone {
            FloorZone::Living => (&self.floor_living, &self.peak_living),
            FloorZone::Bath => (&self.floor_bath, &self.peak_bath),
            FloorZone::Utility => (&self.floor_utility, &self.peak_utility),
            FloorZone::Perimeter => (&self.floor_perimeter, &self.peak_perimeter),
        };
        let of_finish = match finish {
            FinishKind::Wood => Some(&self.floor_wood),
            FinishKind::Resilient => Some(&self.floor_resilient),
            FinishKind::Stone => Some(&self.floor_stone),
            FinishKind::Bare | FinishKind::Textile => None,
        };
        SurfaceLimit { mean: lower(mean, of_finish), peak: lower(peak, of_finish) }
    }

    /// Hottest supply water for tube in that material with these materials against it.
    ///
    /// Gypsum board and plaster bear less than screed; boards, plates and bare tube have a limit of
    /// their own, which gypsum against them lowers.
    pub fn hottest_supply<'a, 'b>(
        &'a self,
        holder: &Material,
        beside: impl IntoIterator<Item = &'b Material>,
    ) -> &'a Rule<Temperature> {
        let own = match holder.carrier {
            Carrier::Screed => &self.supply_slab,
            Carrier::Board | Carrier::Plates | Carrier::Bare => &self.supply_dry,
        };
        let gypsum = |material: &Material| material.family == Family::GypsumBoard;
        let touches = gypsum(holder) || beside.into_iter().any(gypsum);
        match touches && self.supply_gypsum.value < own.value {
            true => &self.supply_gypsum,
            false => own,
        }
    }

    /// Least cover over tube embedded in a material of that family; none where nothing asks for it.
    pub fn least_cover(&self, family: Family) -> Option<&Rule<Length>> {
        match family {
            Family::Concrete => Some(&self.cover_concrete),
            Family::Screed => Some(&self.cover_screed),
            Family::GypsumTopping => Some(&self.cover_gypsum),
            Family::Other | Family::GypsumBoard | Family::Wood => None,
        }
    }

    /// Least insulation below a heated floor over air as cold as that.
    pub fn insulation_outdoors(&self, design: Temperature) -> Option<&Rule<AreaResistance>> {
        let mut steps: Vec<&OutdoorInsulation> = self.insulation_outdoors.iter().collect();
        steps.sort_by(|a, b| {
            a.least.value.partial_cmp(&b.least.value).unwrap_or(std::cmp::Ordering::Equal)
        });
        let enough = steps.iter().find(|step| step.down_to <= design);
        enough.or(steps.last()).map(|step| &step.least)
    }
}
