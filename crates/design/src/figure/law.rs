//! Figures that come about by a law.

use super::{Figure, How, Work};
use laws::{Arg, Kind, Law, LawError};
use quantity::{Measure, Quantity, System, show_both};
use std::sync::Arc;

/// What is handed to a law for one of its inputs.
#[derive(Clone, Debug)]
pub enum Given<'a> {
    /// A figure.
    One(&'a Arc<Work>),
    /// Several figures.
    List(Vec<Arc<Work>>),
    /// One of the words of a choice, by its place.
    Choice(u8),
}

impl<'a, Q> From<&'a Figure<Q>> for Given<'a> {
    fn from(figure: &'a Figure<Q>) -> Self {
        Given::One(&figure.work)
    }
}

impl Given<'_> {
    fn arg(&self) -> Arg {
        match self {
            Given::One(work) => Arg::Number(work.si),
            Given::List(works) => Arg::List(works.iter().map(|work| work.si).collect()),
            Given::Choice(place) => Arg::Number(f64::from(*place)),
        }
    }

    fn works(&self, kind: Kind) -> Vec<Arc<Work>> {
        match self {
            Given::One(work) => vec![(*work).clone()],
            Given::List(works) => works.clone(),
            Given::Choice(place) => {
                let word = match kind {
                    Kind::Choice(words) => words.get(usize::from(*place)).copied(),
                    Kind::Number | Kind::List => None,
                };
                let how = How::Decided("follows from the geometry".to_owned());
                let name = word.unwrap_or("choice").to_owned();
                vec![Arc::new(Work { name, measure: Measure::Ratio, si: f64::from(*place), how })]
            }
        }
    }
}

impl<Q: Quantity> Figure<Q> {
    /// The first output of a law.
    ///
    /// # Errors
    /// As [`Law::evaluate`]: an input that cannot exist, or no finite answer.
    pub fn by_law(
        name: impl Into<String>,
        law: &'static Law,
        inputs: &[Given<'_>],
    ) -> Result<Self, LawError> {
        Figure::by_law_output(name, law, inputs, 0)
    }

    /// The output of a law at that place.
    ///
    /// # Errors
    /// As [`Law::evaluate`].
    pub fn by_law_output(
        name: impl Into<String>,
        law: &'static Law,
        inputs: &[Given<'_>],
        output: usize,
    ) -> Result<Self, LawError> {
        let args: Vec<Arg> = inputs.iter().map(Given::arg).collect();
        let answer = law.evaluate(&args)?;
        let si = answer.outputs.get(output).copied().unwrap_or(f64::NAN);
        let named = law.inputs.iter().zip(inputs).flat_map(|(input, given)| {
            given.works(input.kind).into_iter().map(move |work| (input.name, work))
        });
        let out_of_range = answer.out_of_range.iter().map(|out| {
            let shown = |si: f64| show_both(si, out.input.measure, System::Us);
            let (range, meaning) = (out.range(), out.input.meaning);
            let (low, high) = (shown(*range.start()), shown(*range.end()));
            format!("{meaning} is {}; {} hold from {low} to {high}", shown(out.value), law.source)
        });
        let how = How::Law { law, inputs: named.collect(), out_of_range: out_of_range.collect() };
        Ok(Figure::new(name, si, how))
    }
}
