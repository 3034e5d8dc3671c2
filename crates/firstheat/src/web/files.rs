//! Papers of a text that was worked out, and the files of the pages themselves.

use super::form::units;
use super::page::{self, print_page};
use super::state::Server;
use super::work::work_out;
use crate::worked::Worked;
use axum::extract::{Path, Query, State};
use axum::http::StatusCode;
use axum::http::header::{CACHE_CONTROL, CONTENT_TYPE};
use axum::response::{IntoResponse, Response};
use serde::Deserialize;
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

/// The sheet to be printed.
pub(crate) async fn sheet(
    State(server): State<Arc<Server>>,
    Query(of): Query<Of>,
) -> Result<Response, Response> {
    let worked = meant(&server, &of).await?;
    let sheet = worked.sheet();
    let first = units(&of.units).unwrap_or(sheet.first);
    Ok(page::paper(&sheet.shown_first(first)))
}

/// One table, drawing or sheet as a file.
pub(crate) async fn file(
    State(server): State<Arc<Server>>,
    Path(name): Path<String>,
    Query(of): Query<Of>,
) -> Result<Response, Response> {
    let worked = meant(&server, &of).await?;
    let sheet = worked.sheet();
    let found = match name.rsplit_once('.') {
        Some((key, "csv")) => sheet.table(key).map(|it| ("text/csv", sheets::csv(it))),
        Some((key, "svg")) => {
            sheet.drawings().find(|it| it.key == key).map(|it| ("image/svg+xml", sheets::svg(it)))
        }
        Some(("sheet", "txt")) => Some(("text/plain", sheets::text(&sheet, 110))),
        Some(("design", "json")) => Some(("application/json", sheets::json(&sheet))),
        Some(("sheet", "html")) => Some(("text/html", print_page(&sheet).into_string())),
        _ => None,
    };
    match found {
        Some((kind, content)) => {
            Ok(([(CONTENT_TYPE, format!("{kind}; charset=utf-8"))], content).into_response())
        }
        None => {
            let why = "This job has no such paper.";
            Err(page::error(StatusCode::NOT_FOUND, "No such paper", why))
        }
    }
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
];

pub(crate) async fn asset(Path(name): Path<String>) -> Response {
    match ASSETS.iter().find(|(known, ..)| *known == name) {
        Some((_, kind, content)) => {
            ([(CONTENT_TYPE, *kind), (CACHE_CONTROL, "no-cache")], *content).into_response()
        }
        None => page::error(StatusCode::NOT_FOUND, "No such page", "There is no such file."),
    }
}
