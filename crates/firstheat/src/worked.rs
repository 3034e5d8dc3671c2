//! A text with all that follows from it.

use design::warmth::{Warmth, half_load, warmth};
use design::{Design, Doubt, Memo, State};
use job::{Finding, Job, Library, Severity};
use quantity::{Measure, Temperature, read_as};
use sheets::{Papers, Paths, SEEN, Seen, Sheet};
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::OnceLock;

/// A text, the job it tells, and the design.
#[derive(Debug)]
pub(crate) struct Worked {
    pub(crate) text: String,
    pub(crate) job: Job,
    pub(crate) design: Design,
    /// What was wrong with the text.
    pub(crate) reading: Vec<Finding>,
    /// The doubt, once somebody asked for it.
    doubt: OnceLock<Option<Doubt>>,
    /// The floors on the coldest and on a mild day, once somebody asked for them.
    seen: OnceLock<Vec<Warmth>>,
}

impl Worked {
    /// Reads and designs a text; the memo only saves time.
    pub(crate) fn out_of(text: String, library: &Library, memo: &mut Memo) -> Self {
        let (job, reading) = job::read(&text, library);
        let mut design = design::design(&job, memo);
        // A text with a line that cannot be read takes no edit: offer none until it is mended.
        for finding in &mut design.findings {
            finding.mends.retain(|mend| job::apply(&text, &mend.edits).is_ok());
        }
        let (doubt, seen) = (OnceLock::new(), OnceLock::new());
        Worked { text, job, design, reading, doubt, seen }
    }

    /// All findings, those of the text first.
    pub(crate) fn findings(&self) -> Vec<Finding> {
        self.reading.iter().chain(&self.design.findings).cloned().collect()
    }

    /// Whether something was found that must stop the job.
    pub(crate) fn stops(&self) -> bool {
        let all = self.reading.iter().chain(&self.design.findings);
        all.into_iter().any(|finding| finding.severity == Severity::Stop)
    }

    /// The first trouble that leaves nothing worth showing, and its line.
    ///
    /// A line that cannot be read hides what was meant, so the results before it are worth more
    /// than those after.
    pub(crate) fn trouble(&self) -> Option<(usize, &str)> {
        let unreadable = ["unreadable-line", "text-too-large"];
        let mut found = self.reading.iter().filter(|it| unreadable.contains(&it.kind));
        if let Some(finding) = found.next() {
            let place = finding.place.unwrap_or_default();
            return Some((place.line_and_column(&self.text).0, &finding.message));
        }
        self.job.rooms.is_empty().then_some((1, "no room is described yet"))
    }

    /// The papers, the doubt left out.
    pub(crate) fn papers(&self) -> Papers {
        Papers::of(&self.job, &self.design, None, &self.findings(), &self.text)
    }

    /// The papers, the doubt among them: it takes as long as many heat losses.
    pub(crate) fn papers_with_doubt(&self) -> Papers {
        let doubt = self.doubt.get_or_init(|| design::doubt(&self.job));
        Papers::of(&self.job, &self.design, doubt.as_ref(), &self.findings(), &self.text)
    }

    /// All papers, that of floor temperatures among them.
    pub(crate) fn papers_with_floors(&self, memo: &mut Memo) -> Papers {
        let floor_temperatures = Some(self.floor_sheet(None, memo));
        Papers { floor_temperatures, ..self.papers_with_doubt() }
    }

    /// The floors on the coldest day and on a mild one; the memo only saves time.
    fn floors(&self, memo: &mut Memo) -> &[Warmth] {
        self.seen.get_or_init(|| {
            let states = [Some(State::default()), half_load(&self.job)].into_iter().flatten();
            states.filter_map(|state| warmth(&self.job, &self.design, &state, memo)).collect()
        })
    }

    /// The paper of floor temperatures, with another outdoor temperature for the mild day if one
    /// is asked for.
    pub(crate) fn floor_sheet(&self, outdoor: Option<Temperature>, memo: &mut Memo) -> Sheet {
        let own = || State { outdoor };
        let asked = outdoor.and_then(|_| warmth(&self.job, &self.design, &own(), memo));
        let mut seen: Vec<Seen> = SEEN.iter().zip(self.floors(memo)).map(Seen::named).collect();
        if let (Some(asked), Some(mild)) = (&asked, seen.last_mut()) {
            *mild = Seen { name: "asked", warmth: asked };
        }
        sheets::warm_sheet(&self.job, &self.design, &self.text, &seen)
    }

    /// A temperature as a person writes it, bare numbers in the job's own degrees.
    pub(crate) fn temperature(&self, text: &str) -> Result<Temperature, String> {
        let bare = Measure::Temperature.shown_unit(self.job.units.value);
        read_as(text, bare).map_err(|error| error.to_string())
    }

    /// Paths of the figures among which that path is: those of floors take longer.
    pub(crate) fn paths_for(&self, path: &str, memo: &mut Memo) -> Paths {
        let of_floors = SEEN.iter().any(|name| path.split('.').next() == Some(name));
        if !of_floors {
            return self.paths();
        }
        let mut figures = self.design.figures();
        let seen = SEEN.iter().zip(self.floors(memo));
        figures.extend(seen.flat_map(|(name, warmth)| warmth.figures(name)));
        Paths::of(&figures)
    }

    /// Paths of all figures that can be asked for.
    pub(crate) fn paths(&self) -> Paths {
        Paths::of(&self.design.figures())
    }

    /// A short key of the text, for links to what follows from it.
    pub(crate) fn key(&self) -> String {
        key_of(&self.text)
    }
}

/// A short key of a text.
pub(crate) fn key_of(text: &str) -> String {
    let mut hasher = DefaultHasher::new();
    text.hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}

#[cfg(test)]
mod tests {
    use super::Worked;
    use design::Memo;
    use job::Library;

    #[test]
    fn a_text_that_takes_no_edit_is_offered_none() {
        let mends = |text: &str| {
            let worked = Worked::out_of(text.to_owned(), &Library::built_in(), &mut Memo::new());
            worked.design.findings.iter().map(|finding| finding.mends.len()).sum::<usize>()
        };
        let cabin = include_str!("../../../jobs/cabin.toml");
        assert!(mends(cabin) > 0);
        assert_eq!(mends(&format!("{cabin}\n[room.bath]\nindoor = 75\n")), 0);
    }
}
