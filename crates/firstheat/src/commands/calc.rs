//! One law worked out from what was typed.

use super::Done;

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
        Ok(answer) if json => Done::fine(answer.json() + "\n"),
        Ok(answer) => Done::fine(answer.to_string()),
        Err(error) => Done::unusable(error),
    }
}
