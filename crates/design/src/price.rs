//! What choices cost by the job's own rates; none of them comes with the program.

use job::{Finding, Job, PORT_RATE, Severity};
use quantity::{Area, Length, Measure, Quantity};

/// What a design takes of one tube.
pub(crate) struct Bill<'a> {
    pub(crate) job: &'a Job,
    /// The tube, by catalogue key.
    pub(crate) tube: &'a str,
    pub(crate) length_m: f64,
    pub(crate) loops: usize,
}

impl Bill<'_> {
    /// Tube and ports; a rate for tube must be there, one for ports need not.
    pub(crate) fn tube_and_ports(&self) -> Option<f64> {
        let ports = self.job.rate(PORT_RATE).unwrap_or(0.0);
        Some(per_length(self.job, self.tube)? * self.length_m + ports * self.loops as f64)
    }
}

/// What a floor of that construction costs with its tube; none where the rate of the construction or
/// of its tube is missing.
pub(crate) fn of_floor(
    job: &Job,
    construction: &str,
    tube: &str,
    area: Area,
    tube_length: Length,
) -> Option<f64> {
    let square_m = job.rate(construction)? / Measure::Area.shown_unit(job.units.value).to_si(1.0);
    Some(square_m * area.si() + per_length(job, tube)? * tube_length.si())
}

/// Money for each metre of a tube.
fn per_length(job: &Job, tube: &str) -> Option<f64> {
    Some(job.rate(tube)? / Measure::Length.shown_unit(job.units.value).to_si(1.0))
}

/// An amount of money, without a name of the money.
pub(crate) fn shown(amount: f64) -> String {
    quantity::decimal(amount, if amount.abs() < 100.0 { 2 } else { 0 })
}

/// Rates of what is neither tube nor floor nor port.
pub(crate) fn judge(job: &Job, findings: &mut Vec<Finding>) {
    for rate in &job.rates {
        let is_known = rate.key == PORT_RATE
            || job.catalogue.tube(&rate.key).is_some()
            || job.catalogue.build_up(&rate.key).is_some()
            || job.assembly(&rate.key).is_some();
        if !is_known {
            let message = "prices nothing that is known".to_owned();
            let advice = "give it the key of a tube, of an assembly or build-up, or `port`";
            let subject = format!("rate.{}", rate.key);
            let finding =
                Finding::new(Severity::Warn, "unknown-reference", subject, message, advice);
            findings.push(finding.at(rate.place));
        }
    }
}
