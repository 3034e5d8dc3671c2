//! What faces are made of, and what is told where the text does not say.

use super::Builder;
use crate::envelope::construction::transmittance;
use crate::envelope::{Behind, FaceKind};
use crate::figure::Figure;
use job::{Finding, Room, Severity, Stated};
use quantity::Transmittance;

/// U-value taken for a partition between rooms of different temperature.
const PARTITION_W_M2K: f64 = 1.9;

impl<'a> Builder<'a> {
    /// A partition: stated for the house, or assumed.
    pub(super) fn partition(
        &mut self,
        behind: &Behind,
        room: &Room,
    ) -> Option<Figure<Transmittance>> {
        let Behind::Room(other) = behind else { return None };
        let same = self.job.room(other).is_some_and(|o| o.indoor.value == room.indoor.value);
        match &self.job.house.partition {
            Some(stated) if !same => {
                self.built(room, Some(stated), FaceKind::Wall, behind, "partition")
            }
            _ => Some(Figure::assumed(
                "U of a partition",
                PARTITION_W_M2K,
                "board, stud space, board, with films both sides (ISO 6946 layers)",
            )),
        }
    }

    pub(super) fn built(
        &mut self,
        room: &Room,
        stated: Option<&Stated<String>>,
        kind: FaceKind,
        behind: &Behind,
        word: &str,
    ) -> Option<Figure<Transmittance>> {
        let job = self.job;
        let assembly = self.assembly_of(room, stated, word)?;
        let built = transmittance(assembly, kind, *behind == Behind::Outdoors, &job.catalogue);
        self.told(room, word, built)
    }

    pub(super) fn assembly_of(
        &mut self,
        room: &Room,
        stated: Option<&Stated<String>>,
        word: &str,
    ) -> Option<&'a job::Assembly> {
        let job = self.job;
        let found = stated.and_then(|stated| job.assembly(&stated.value));
        if found.is_none() {
            let message = format!("the text does not say how its {word} is made");
            let advice =
                format!("add `{word} = …` to [house] or to the room, naming an [assembly.…]");
            self.missing(room, "no-construction", message, advice);
        }
        found
    }

    pub(super) fn opening_built(
        &mut self,
        opening: &str,
        stated: Option<String>,
        kind: FaceKind,
        word: &str,
    ) -> Option<Figure<Transmittance>> {
        let assembly = stated.and_then(|key| self.job.assembly(&key));
        let built = match assembly {
            Some(assembly) => transmittance(assembly, kind, true, &self.job.catalogue),
            None => Err(format!("the text does not say how {word} {opening} is made")),
        };
        built
            .map_err(|message| {
                let subject = format!("opening.{opening}");
                let advice =
                    format!("add `{word} = …` to [house], naming an [assembly.…] with its U");
                let place = self.job.openings.iter().find(|o| o.key == opening).map(|o| o.place);
                let severity = Severity::Stop;
                self.findings.push(
                    Finding::new(severity, "no-construction", subject, message, advice).at(place),
                );
            })
            .ok()
    }

    pub(super) fn told<T>(
        &mut self,
        room: &Room,
        word: &str,
        built: Result<T, String>,
    ) -> Option<T> {
        built
            .map_err(|message| {
                let advice = format!("complete the construction of the {word}");
                self.missing(room, "no-construction", message, advice);
            })
            .ok()
    }

    pub(super) fn missing(
        &mut self,
        room: &Room,
        kind: &'static str,
        message: impl Into<String>,
        advice: impl Into<String>,
    ) {
        let subject = format!("room.{}", room.key);
        let finding = Finding::new(Severity::Stop, kind, subject, message, advice).at(room.place);
        if !self.findings.contains(&finding) {
            self.findings.push(finding);
        }
    }
}
