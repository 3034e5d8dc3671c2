//! One law worked out from what was typed.

use super::Done;
use laws::Calculation;
use sheets::json_string;

pub(crate) fn calc(name: Option<&str>, values: &[String], json: bool, list: bool) -> Done {
    let Some(name) = name.filter(|_| !list) else {
        return if list {
            Done::fine(laws::reference())
        } else {
            Done::unusable("name a law; calc --list lists all")
        };
    };
    let values: Vec<&str> = values.iter().map(String::as_str).collect();
    match laws::calc(name, &values) {
        Ok(answer) if json => Done::fine(as_json(&answer)),
        Ok(answer) => Done::fine(answer.to_string()),
        Err(error) => Done::unusable(error),
    }
}

fn as_json(answer: &Calculation) -> String {
    let law = answer.law;
    let unit = |place: usize| {
        json_string(law.outputs.get(place).map_or("", |it| it.measure.si_unit().symbol))
    };
    let outputs: Vec<String> = law
        .outputs
        .iter()
        .zip(&answer.evaluation.outputs)
        .enumerate()
        .map(|(place, (output, number))| {
            let name = json_string(output.name);
            format!("{name}: {{\"value\": {number}, \"unit\": {}}}", unit(place))
        })
        .collect();
    format!(
        "{{\"value\": {}, \"unit\": {}, \"outputs\": {{{}}}, \"within_range\": {}, \"source\": {}}}\n",
        answer.evaluation.value(),
        unit(0),
        outputs.join(", "),
        answer.evaluation.within_range(),
        json_string(&law.source.to_string())
    )
}
