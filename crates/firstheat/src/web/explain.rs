//! The working of a number as a page of its own.

use super::blocks;
use super::files::{Of, away, meant};
use super::form::units;
use super::page;
use super::state::Server;
use crate::commands::{held_at, nearest, section};
use crate::worked::Worked;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use maud::{Markup, html};
use quantity::System;
use std::sync::Arc;

/// How many steps down a working is shown; each number in it leads on.
const DEPTH: usize = 3;

pub(crate) async fn explain(
    State(server): State<Arc<Server>>,
    Query(of): Query<Of>,
) -> Result<Response, Response> {
    let worked = meant(&server, &of).await?;
    let system = units(&of.units).unwrap_or(worked.job.units.value);
    let link = Link { of: worked.key(), units: of.units.clone() };
    if of.path.is_empty() {
        return Ok(page::small("Numbers that can be asked for", &list(&worked, &link, system)));
    }
    let asked = (server.clone(), worked.clone(), of.path.clone());
    let paths = away(move || {
        let (server, worked, path) = asked;
        server.with_memo(|memo| worked.paths_for(&path, memo))
    });
    let paths = paths.await?;
    let section = section(&worked, &of.path, system);
    match paths.work(&of.path) {
        Some(work) => {
            let sheet = sheets::explain_sheet(work, &paths, &worked.text, system, DEPTH);
            let body = html! {
                div #working {
                    @for block in section.iter().flat_map(|sheet| &sheet.blocks) {
                        (blocks::block(block, system, &link))
                    }
                    @for block in &sheet.blocks { (blocks::block(block, system, &link)) }
                    p { a href=(link.list()) { "All numbers of this job" } }
                }
            };
            Ok(page::small(&sheet.title, &body))
        }
        None if section.is_some() => {
            let title = section.as_ref().map_or("Floor", |sheet| sheet.title.as_str());
            let body = html! {
                @for block in section.iter().flat_map(|sheet| &sheet.blocks) {
                    (blocks::block(block, system, &link))
                }
                p { a href=(link.list()) { "All numbers of this job" } }
            };
            Ok(page::small(title, &body))
        }
        None => cost(worked, of.path, &link, system).await,
    }
}

/// What a held decision costs, if the path is one.
async fn cost(
    worked: Arc<Worked>,
    path: String,
    link: &Link,
    system: System,
) -> Result<Response, Response> {
    let asked = (worked.clone(), path.clone());
    let sheet = tokio::task::spawn_blocking(move || held_at(&asked.0, &asked.1)).await;
    let Ok(Some(sheet)) = sheet else { return Err(unknown(&worked, &path, link)) };
    let body = html! {
        @for block in &sheet.blocks { (blocks::block(block, system, link)) }
    };
    Ok(page::small(&sheet.title, &body))
}

fn unknown(worked: &Worked, path: &str, link: &Link) -> Response {
    let near = nearest(worked, path);
    let more = html! {
        @if !near.is_empty() {
            p { "The nearest are:" }
            ul { @for path in near { li { a href=(link.path(&path)) { (path) } } } }
        }
    };
    let why = format!("This job has no number named {path}.");
    page::error_with(StatusCode::NOT_FOUND, "No such number", &why, &more)
}

fn list(worked: &Worked, link: &Link, system: System) -> Markup {
    html! {
        ul .numbers {
            @for (path, work) in worked.design.figures() {
                li { a href=(link.path(&path)) { (path) } " " span { (work.shown(system)) } }
            }
        }
    }
}

/// Links to workings of one text.
#[derive(Clone, Debug, Default)]
pub(crate) struct Link {
    /// Key of the text; empty where there is nothing to link to.
    pub(crate) of: String,
    /// Units shown first, as asked for.
    pub(crate) units: String,
}

impl Link {
    pub(crate) fn path(&self, path: &str) -> String {
        format!("/explain?{}&path={}", self.query(), encoded(path))
    }

    pub(crate) fn list(&self) -> String {
        format!("/explain?{}", self.query())
    }

    pub(crate) fn query(&self) -> String {
        format!("of={}&units={}", encoded(&self.of), encoded(&self.units))
    }
}

/// A text as part of a query.
pub(crate) fn encoded(text: &str) -> String {
    let mut out = String::new();
    for byte in text.bytes() {
        match byte {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'.' | b'_' | b'-' => out.push(byte.into()),
            _ => out.push_str(&format!("%{byte:02X}")),
        }
    }
    out
}
