//! The job's text, its line numbers with problems marked, and its tools.

use super::blocks::{Acting, findings};
use super::page::View;
use job::Severity;
use maud::{Markup, html};
use std::collections::BTreeMap;

/// The form that everything on the page belongs to.
pub(crate) fn editor(view: &View<'_>) -> Markup {
    let text = &view.worked.text;
    let good = if view.shown.trouble().is_none() { view.shown.text.as_str() } else { "" };
    html! {
        form #job method="post" action="/design" accept-charset="utf-8" {
            (tools(view))
            input type="hidden" name="good" value=(good);
            input #before type="hidden" name="before" value=(view.note.before.as_deref().unwrap_or(""));
            (disk(view))
            div .editor {
                (gutter(view))
                textarea #text name="text" rows=(text.lines().count() + 2) cols="60" wrap="off"
                    spellcheck="false" autocapitalize="off" autocomplete="off"
                    aria-label="The job as text" aria-describedby="status" {
                    // The first line break of a text area is not part of it.
                    "\n" (text)
                }
            }
        }
    }
}

/// The key of what is on disk, which a save holds against the file.
pub(crate) fn disk(view: &View<'_>) -> Markup {
    html! { input #disk type="hidden" name="disk" data-field value=(view.disk); }
}

fn tools(view: &View<'_>) -> Markup {
    let first = view.first();
    let saves = view.server.file().is_some();
    html! {
        div .tools {
            button .work type="submit" { "Work it out" }
            button #undo type="submit" formaction="/undo" hidden[view.note.before.is_none()] {
                "Undo"
            }
            @if saves { button #save type="submit" formaction="/save" { "Save" } }
            button type="submit" formaction="/download" { "Download" }
            fieldset .units {
                legend { "Units first" }
                label {
                    input type="radio" name="units" value="us" checked[first == quantity::System::Us];
                    span { "ft · °F" }
                }
                label {
                    input type="radio" name="units" value="si" checked[first == quantity::System::Si];
                    span { "m · °C" }
                }
            }
        }
    }
}

/// Line numbers; lines with a problem are marked and can be jumped to.
pub(crate) fn gutter(view: &View<'_>) -> Markup {
    let text = &view.worked.text;
    let mut worst: BTreeMap<usize, (Severity, String)> = BTreeMap::new();
    for finding in view.worked.findings() {
        let Some(place) = finding.place else { continue };
        let (line, _) = place.line_and_column(text);
        let known = worst.entry(line).or_insert((finding.severity, finding.message.clone()));
        if finding.severity < known.0 {
            *known = (finding.severity, finding.message);
        }
    }
    html! {
        div #gutter data-part {
            @for line in 1..=text.lines().count() + 1 {
                @match worst.get(&line) {
                    Some((severity, message)) => {
                        b id=(format!("L{line}")) class=(severity.word()) title=(message) { (line) }
                        "\n"
                    }
                    None => { (line) "\n" }
                }
            }
        }
    }
}

/// What is wrong with the text itself.
pub(crate) fn problems(view: &View<'_>) -> Markup {
    let mut list = sheets::finding_list(&view.worked.reading, &view.worked.text);
    list.title = "Problems in the text".to_owned();
    let acting = Acting { worked: view.worked, start: 0 };
    html! {
        section #problems data-part aria-label="Problems in the text" {
            (findings(&list, Some(&acting)))
        }
    }
}
