//! Papers of a text that was worked out, and the files of the pages themselves.

use super::form::units;
use super::page;
use super::state::Server;
use super::work::work_out;
use crate::papers::{Paper, content};
use crate::worked::Worked;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
use sheets::Papers;
use std::sync::Arc;

/// Which text is meant, and how it is shown.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(crate) struct Of {
    /// Key of a text that was worked out; the text on disk if none.
    pub(crate) of: String,
    /// Which units are shown first.
    pub(crate) units: String,
    /// Path of a number.
    pub(crate) path: String,
    /// Which paper is wanted; the design sheet if none.
    pub(crate) paper: String,
    /// Outdoor temperature for which floors are looked at; a mild day if empty.
    pub(crate) outdoor: String,
    /// Room whose floor may get another finish, by key.
    pub(crate) room: String,
    /// That finish, by key.
    pub(crate) finish: String,
}

/// The text that a link means.
pub(crate) async fn meant(server: &Arc<Server>, of: &Of) -> Result<Arc<Worked>, Response> {
    if of.of.is_empty() {
        let text = server.on_disk();
        let text = text.map_err(|why| page::error(StatusCode::NOT_FOUND, "No file", &why))?;
        return work_out(server, text).await;
    }
    server.kept(&of.of).ok_or_else(|| {
        let why = "The text behind this link is no longer kept here. Go back to the page and touch \
                   the number again; your text is still there.";
        page::error(StatusCode::GONE, "No longer here", why)
    })
}

/// A paper to be printed.
pub(crate) async fn sheet(
    State(server): State<Arc<Server>>,
    Query(of): Query<Of>,
) -> Result<Response, Response> {
    let worked = meant(&server, &of).await?;
    let paper = Paper::named(&of.paper).ok_or_else(no_such_paper)?;
    let first = units(&of.units).unwrap_or(worked.job.units.value);
    let mut papers = match paper {
        Paper::FloorTemperatures => papers_with_floors(&server, worked.clone()).await?,
        _ => papers(worked.clone()).await?,
    };
    if let (Paper::FloorTemperatures, Ok(outdoor)) = (paper, worked.temperature(&of.outdoor)) {
        let sheet = away(move || server.with_memo(|memo| worked.floor_sheet(Some(outdoor), memo)));
        papers.floor_temperatures = Some(sheet.await?);
    }
    Ok(page::paper(&papers.shown_first(first), paper))
}

/// One table, drawing or sheet as a file.
pub(crate) async fn file(
    State(server): State<Arc<Server>>,
    Path(name): Path<String>,
    Query(of): Query<Of>,
) -> Result<Response, Response> {
    let worked = meant(&server, &of).await?;
    let papers = match name.starts_with("floor-") {
        true => papers_with_floors(&server, worked).await?,
        false => papers(worked).await?,
    };
    let (kind, content) = content(&papers, &name).ok_or_else(no_such_paper)?;
    Ok(([(CONTENT_TYPE, format!("{kind}; charset=utf-8"))], content).into_response())
}

/// All papers with the doubt, made away from the threads that serve.
async fn papers(worked: Arc<Worked>) -> Result<Papers, Response> {
    away(move || worked.papers_with_doubt()).await
}

/// The same with the floors as a camera would see them.
async fn papers_with_floors(server: &Arc<Server>, worked: Arc<Worked>) -> Result<Papers, Response> {
    let server = server.clone();
    away(move || server.with_memo(|memo| worked.papers_with_floors(memo))).await
}

/// Works something out away from the threads that serve.
pub(crate) async fn away<T: Send + 'static>(
    work: impl FnOnce() -> T + Send + 'static,
) -> Result<T, Response> {
    tokio::task::spawn_blocking(work).await.map_err(|_| {
        let why = "The papers of this job could not be made. That is a fault of the program, not \
                   of the job. Go back: your text is still there.";
        page::error(StatusCode::INTERNAL_SERVER_ERROR, "No paper", why)
    })
}

fn no_such_paper() -> Response {
    page::error(StatusCode::NOT_FOUND, "No such paper", "This job has no such paper.")
}

/// The style of what is printed, which the page shares.
pub(crate) const PAPER_STYLE: &str = include_str!("../../assets/paper.css");

const STYLE: &str = "text/css; charset=utf-8";
const SCRIPT: &str = "text/javascript; charset=utf-8";

/// The files of the pages: name, kind, content.
const ASSETS: &[(&str, &str, &str)] = &[
    ("page.css", STYLE, include_str!("../../assets/page.css")),
    ("paper.css", STYLE, PAPER_STYLE),
    ("main.js", SCRIPT, include_str!("../../assets/main.js")),
    ("editor.js", SCRIPT, include_str!("../../assets/editor.js")),
    ("parts.js", SCRIPT, include_str!("../../assets/parts.js")),
    ("working.js", SCRIPT, include_str!("../../assets/working.js")),
    ("floors.js", SCRIPT, include_str!("../../assets/floors.js")),
];

pub(crate) async fn asset(Path(name): Path<String>) -> Response {
    match ASSETS.iter().find(|(known, ..)| *known == name) {
        Some((_, kind, content)) => {
            ([(CONTENT_TYPE, *kind), (CACHE_CONTROL, "no-cache")], *content).into_response()
        }
        None => page::error(StatusCode::NOT_FOUND, "No such page", "There is no such file."),
    }
}
