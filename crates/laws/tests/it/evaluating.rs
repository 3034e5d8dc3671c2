//! No law panics, extrapolates in silence, or answers with what is no number.

use laws::{Arg, Input, Kind, Law, LawError};

/// An argument inside the range of an input, `part` of the way through it.
fn inside(input: &Input, part: f64) -> Arg {
    let (low, high) = (*input.range.start(), *input.range.end());
    // Wide ranges are crossed by factors, so that the middle is something that exists.
    let number = if low > 0.0 && high / low > 100.0 {
        low * (high / low).powf(part)
    } else {
        low + (high - low) * part
    };
    match input.kind {
        Kind::Number => Arg::Number(number),
        Kind::List => Arg::List(vec![number, number]),
        Kind::Choice(_) => Arg::Number(0.0),
    }
}

fn middle(law: &Law) -> Vec<Arg> {
    law.inputs.iter().map(|input| inside(input, 0.5)).collect()
}

/// The same form of argument, filled with that number.
fn filled(arg: &Arg, number: f64) -> Arg {
    match arg {
        Arg::Number(_) => Arg::Number(number),
        Arg::List(numbers) => Arg::List(vec![number; numbers.len()]),
    }
}

#[test]
fn every_law_answers_in_the_middle_of_its_range() {
    for law in laws::all() {
        let evaluation = law.evaluate(&middle(law)).unwrap_or_else(|error| panic!("{error}"));
        assert!(evaluation.within_range(), "{}", law.name);
        assert_eq!(evaluation.outputs.len(), law.outputs.len(), "{}", law.name);
        assert_eq!(evaluation.value(), evaluation.outputs[0]);
    }
}

#[test]
fn what_is_no_number_is_refused_by_name() {
    for law in laws::all() {
        for (place, input) in law.inputs.iter().enumerate() {
            for number in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
                let mut inputs = middle(law);
                inputs[place] = filled(&inputs[place], number);
                let error = law.evaluate(&inputs).unwrap_err();
                assert_eq!(error, LawError::NotFinite { input: input.name }, "{}", law.name);
            }
        }
    }
}

#[test]
fn odd_numbers_are_refused_or_reported() {
    for law in laws::all() {
        for place in 0..law.inputs.len() {
            for number in [0.0, -0.0, -1.0, 1e-300, 1e300, -1e300, f64::MIN_POSITIVE, f64::MAX] {
                let mut inputs = middle(law);
                inputs[place] = filled(&inputs[place], number);
                let Ok(evaluation) = law.evaluate(&inputs) else { continue };
                let input = &law.inputs[place];
                assert!(evaluation.outputs.iter().all(|output| output.is_finite()), "{}", law.name);
                let reported = evaluation
                    .out_of_range
                    .iter()
                    .any(|out| std::ptr::eq(out.input, input) && out.value == number);
                let choice = matches!(input.kind, Kind::Choice(_));
                let inside = input.range.contains(&number) || choice;
                assert!(reported || inside, "{}: {} = {number}", law.name, input.name);
            }
        }
    }
}

#[test]
fn below_zero_is_refused_where_nothing_is() {
    let law = Law::find("layer_resistance").unwrap();
    let error = law.evaluate(&[Arg::Number(-0.1), Arg::Number(0.04)]).unwrap_err();
    assert_eq!(error, LawError::BelowZero { input: "thickness", value: -0.1 });
    // A difference may have either sign, an altitude may lie below the sea.
    let heat = Law::find("transmission_heat").unwrap();
    assert_eq!(heat.evaluate(&[100.0.into(), (-5.0).into()]).unwrap().value(), -500.0);
    let air = Law::find("air_pressure_at_altitude").unwrap();
    assert!(air.evaluate(&[(-100.0).into()]).unwrap().within_range());
}

#[test]
fn lists_and_counts_that_do_not_fit_are_refused() {
    for law in laws::all() {
        let inputs = middle(law);
        assert!(matches!(law.evaluate(&inputs[1..]), Err(LawError::Count { .. })), "{}", law.name);
        for (place, input) in law.inputs.iter().enumerate() {
            let mut swapped = inputs.clone();
            swapped[place] = match &inputs[place] {
                Arg::Number(number) => Arg::List(vec![*number]),
                Arg::List(numbers) => Arg::Number(numbers[0]),
            };
            let takes_list = input.kind == Kind::List;
            let error = law.evaluate(&swapped).unwrap_err();
            assert_eq!(error, LawError::Form { input: input.name, takes_list }, "{}", law.name);
            if takes_list {
                let mut empty = inputs.clone();
                empty[place] = Arg::List(Vec::new());
                let error = law.evaluate(&empty).unwrap_err();
                assert_eq!(error, LawError::EmptyList { input: input.name }, "{}", law.name);
            }
        }
    }
}

#[test]
fn lists_of_different_length_have_no_answer() {
    for name in ["parallel_resistance", "thermal_bridge_loss_coefficient"] {
        let law = Law::find(name).unwrap();
        let inputs = [Arg::List(vec![0.5, 0.5]), Arg::List(vec![0.5, 0.5, 0.5])];
        assert!(matches!(law.evaluate(&inputs), Err(LawError::NoAnswer { .. })), "{name}");
    }
}

#[test]
fn choices_are_whole_and_known() {
    let law = Law::find("surface_resistance").unwrap();
    for number in [3.0, -1.0, 0.5, 1e300] {
        let error = law.evaluate(&[Arg::Number(0.0), Arg::Number(number)]).unwrap_err();
        assert!(matches!(error, LawError::NoSuchChoice { input: "heat_flow", .. }), "{number}");
    }
    let down = laws::envelope::HeatFlow::Down;
    let inside = laws::envelope::Face::Inside;
    assert_eq!(law.evaluate(&[inside.into(), down.into()]).unwrap().value(), 0.17);
}

/// The ends of a range, in any combination, give an answer or an error.
#[test]
fn corners_do_not_panic() {
    for law in laws::all() {
        for corner in 0..(1_u32 << law.inputs.len()) {
            let inputs: Vec<Arg> = law
                .inputs
                .iter()
                .enumerate()
                .map(|(place, input)| inside(input, f64::from((corner >> place) & 1)))
                .collect();
            if let Ok(evaluation) = law.evaluate(&inputs) {
                assert!(evaluation.within_range(), "{}", law.name);
            }
        }
    }
}
