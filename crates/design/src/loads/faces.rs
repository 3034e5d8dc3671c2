//! Heat that each face of a room loses.

use super::FaceLoss;
use super::case::{Case, difference};
use crate::envelope::{Behind, Enclosure, Face};
use crate::figure::{Figure, Given, How};
use job::NextHouse;
use laws::{envelope as law, ground};
use quantity::{
    Area, HeatLossCoefficient, Power, Ratio, Temperature, TemperatureDifference, Transmittance,
};

/// How the loss of a face is reckoned: heat per degree, over which difference, giving what.
type Reckoned =
    (Option<Figure<Transmittance>>, Figure<HeatLossCoefficient>, Figure<TemperatureDifference>);

impl Case<'_> {
    /// The loss of a face; none where nothing flows. The error says what is missing.
    pub(super) fn face_loss(
        &self,
        enclosure: &Enclosure,
        face: &Face,
    ) -> Result<Option<FaceLoss>, String> {
        let told = |error: laws::LawError| format!("{}: {error}", face.key);
        let area = self.counted(&enclosure.room, face);
        let (transmittance, coefficient, difference) = if face.behind == Behind::Ground {
            self.to_ground(enclosure, face, &area)?
        } else {
            let Some(difference) = self.difference_across(enclosure, face)? else {
                return Ok(None);
            };
            let u = face.transmittance.as_ref();
            let u = u.ok_or_else(|| format!("how its {} is made", face.key))?;
            (Some(self.bridged(face, u)), self.conductance(face, &area)?, difference)
        };
        let name = format!("{} to {}", face.key, face.behind.words());
        let loss = if self.goes_by_annual_mean(face) {
            self.ground_heat(face, &area, &difference).map_err(told)?
        } else {
            let inputs = [Given::from(&coefficient), Given::from(&difference)];
            Figure::by_law(name, &law::TRANSMISSION_HEAT, &inputs).map_err(told)?
        };
        let counts = self.counts(face, &loss);
        Ok(Some(FaceLoss {
            face: face.key.clone(),
            kind: face.kind,
            behind: face.behind.clone(),
            area,
            transmittance,
            difference,
            coefficient,
            loss,
            counts,
        }))
    }

    /// Whether a loss is part of the load: heat from warmer neighbours by the rule set.
    fn counts(&self, face: &Face, loss: &Figure<Power>) -> bool {
        let neighbour = matches!(face.behind, Behind::Room(_) | Behind::NextHouse);
        let shown = self.job.rules.warmer_neighbours.value == job::WarmerNeighbours::Shown;
        !(neighbour && shown && loss.si() < 0.0)
    }

    /// Room less what is behind a face that looks at air; none where nothing flows.
    fn difference_across(
        &self,
        enclosure: &Enclosure,
        face: &Face,
    ) -> Result<Option<Figure<TemperatureDifference>>, String> {
        let indoor = &enclosure.indoor;
        let to = |far: &Figure<Temperature>| Some(difference(indoor, far));
        match &face.behind {
            Behind::Heated => Ok(None),
            Behind::Outdoors | Behind::Ground => Ok(to(&self.weather.outdoor)),
            Behind::NextHouse => Ok(self.next_house(indoor).as_ref().and_then(to)),
            Behind::Room(key) => {
                let other = self.enclosure(key);
                let other = other.ok_or_else(|| format!("{}: no room {key}", face.key))?;
                if other.unheated {
                    return self.to_cold(key, enclosure, face);
                }
                let same = other.indoor.si() == indoor.si();
                Ok(if same { None } else { to(&other.indoor) })
            }
            Behind::Space(key) => self.to_cold(key, enclosure, face),
        }
    }

    fn to_cold(
        &self,
        key: &str,
        enclosure: &Enclosure,
        face: &Face,
    ) -> Result<Option<Figure<TemperatureDifference>>, String> {
        let cold = self.cold.get(key);
        let cold = cold.ok_or_else(|| format!("{}: how warm {key} is", face.key))?;
        Ok(Some(cold.difference(&enclosure.indoor, &self.weather.outdoor)))
    }

    /// How warm the next house is taken to be; none if as warm as the room.
    pub(super) fn next_house(&self, indoor: &Figure<Temperature>) -> Option<Figure<Temperature>> {
        let rule = &self.job.rules.next_house;
        let mean = &self.weather.annual_mean;
        match rule.value {
            NextHouse::SameTemperature => None,
            NextHouse::AnnualMean => Some(mean.clone()),
            NextHouse::Halfway => Some(Figure::settled(
                "next house",
                (indoor.si() + mean.si()) / 2.0,
                format!("halfway from the room to the mean of the year: {}", rule.citation()),
                vec![indoor.work.clone(), mean.work.clone()],
            )),
        }
    }

    /// Whether a face in the ground goes by the mean of the year (EN 12831).
    fn goes_by_annual_mean(&self, face: &Face) -> bool {
        let iso = self.job.rules.ground_method.value == job::GroundMethod::Iso13370;
        face.behind == Behind::Ground && face.edge_loss.is_none() && iso
    }

    /// Loss of a face into the ground, one path by the rule set.
    pub(super) fn to_ground(
        &self,
        enclosure: &Enclosure,
        face: &Face,
        area: &Figure<Area>,
    ) -> Result<Reckoned, String> {
        let name = format!("{} to ground", face.key);
        if let Some(edge_loss) = &face.edge_loss {
            let to_outdoors = difference(&enclosure.indoor, self.ground_side(face));
            let coefficient = match self.bare_share(&enclosure.room) {
                Some(share) => Figure::product(name, &[&edge_loss.work, &share.work]),
                None => edge_loss.clone(),
            };
            return Ok((None, coefficient, to_outdoors));
        }
        let u = face.transmittance.as_ref();
        let u = u.ok_or_else(|| format!("how its {} is made", face.key))?;
        let to_ground = difference(&enclosure.indoor, self.ground_side(face));
        let coefficient = if self.goes_by_annual_mean(face) {
            let [swing, water] = self.ground_factors();
            Figure::product(name, &[&area.work, &u.work, &swing.work, &water.work])
        } else {
            Figure::product(name, &[&area.work, &u.work])
        };
        Ok((Some(u.clone()), coefficient, to_ground))
    }

    /// The temperature that the loss of a face in the ground is reckoned to.
    pub(super) fn ground_side(&self, face: &Face) -> &Figure<Temperature> {
        match &face.edge_loss {
            Some(_) => &self.weather.outdoor,
            None if self.goes_by_annual_mean(face) => &self.weather.annual_mean,
            None => &self.weather.ground_surface,
        }
    }

    /// Factors of the ground for the swing of the year and for ground water (EN 12831).
    pub(super) fn ground_factors(&self) -> [Figure<Ratio>; 2] {
        let rules = &self.job.rules;
        [
            Figure::rule("factor for the swing of the year", &rules.ground_swing),
            Figure::rule("factor for ground water", &rules.ground_water),
        ]
    }

    fn ground_heat(
        &self,
        face: &Face,
        area: &Figure<Area>,
        to_mean: &Figure<TemperatureDifference>,
    ) -> Result<Figure<Power>, laws::LawError> {
        let [swing, water] = self.ground_factors();
        // fg2 (Ti − Te) is Ti − Tme: taken directly it also holds when it is as warm outside.
        let factor = Figure::<Ratio>::new(
            "temperature factor of the ground",
            1.0,
            How::Decided("the difference is taken to the annual mean itself".to_owned()),
        );
        let Some(u) = &face.transmittance else {
            return Ok(Figure::sum(format!("{} to ground", face.key), &[]));
        };
        let inputs = [&area.work, &u.work, &swing.work, &factor.work, &water.work, &to_mean.work];
        let name = format!("{} to ground", face.key);
        Figure::by_law(name, &ground::GROUND_HEAT_LOSS, &inputs.map(Given::One))
    }
}
