//! Edits, mends and undo: a text comes in, what follows from it goes out.

use super::changes::{Change, changes};
use super::form::{Fields, JobForm, units};
use super::page::{self, View};
use super::state::Server;
use crate::worked::{Worked, key_of};
use axum::extract::State;
use axum::http::StatusCode;
use axum::response::Response;
use job::{Finding, Mend};
use std::sync::Arc;

/// Works a text out away from the threads that serve.
pub(crate) async fn work_out(server: &Arc<Server>, text: String) -> Result<Arc<Worked>, Response> {
    let server = server.clone();
    tokio::task::spawn_blocking(move || server.work_out(text)).await.map_err(|_| {
        let why = "The design failed on this text. That is a fault of the program, not of the \
                   job. Go back: your text is still there. Take back the last change and save.";
        page::error(StatusCode::INTERNAL_SERVER_ERROR, "The design failed", why)
    })
}

/// The text as posted.
pub(crate) async fn design(
    State(server): State<Arc<Server>>,
    JobForm(fields): JobForm,
) -> Result<Response, Response> {
    answer(&server, &fields, fields.text.clone(), Note::default()).await
}

/// The text before the last mend.
pub(crate) async fn undo(
    State(server): State<Arc<Server>>,
    JobForm(fields): JobForm,
) -> Result<Response, Response> {
    if fields.before.is_empty() {
        let note = Note::words("There is nothing to undo.");
        return answer(&server, &fields, fields.text.clone(), note).await;
    }
    let note = Note {
        words: Some("Taken back: the text is as it was before.".to_owned()),
        changes: changes(&fields.text, &fields.before),
        before: None,
        new_text: true,
    };
    answer(&server, &fields, fields.before.clone(), note).await
}

/// The text with a mend applied.
pub(crate) async fn mend(
    State(server): State<Arc<Server>>,
    JobForm(fields): JobForm,
) -> Result<Response, Response> {
    let worked = work_out(&server, fields.text.clone()).await?;
    let Some((finding, mend)) = asked(&server, &worked, &fields.mend) else {
        let note = Note::words(
            "The text has changed since that mend was offered; look at the findings again.",
        );
        return answer(&server, &fields, fields.text.clone(), note).await;
    };
    let mended = match job::apply(&worked.text, &mend.edits) {
        Ok(mended) => mended,
        Err(error) => {
            let note = Note::words(format!("Not applied: {error}."));
            return answer(&server, &fields, fields.text.clone(), note).await;
        }
    };
    let after = work_out(&server, mended.clone()).await?;
    let note = Note {
        words: Some(format!("Applied: {}. {}", mend.words, outcome(&finding, &after))),
        changes: changes(&worked.text, &mended),
        before: Some(worked.text.clone()),
        new_text: true,
    };
    answer(&server, &fields, mended, note).await
}

/// The mend that was touched, as the text now offers it.
fn asked(server: &Server, worked: &Worked, touched: &str) -> Option<(Finding, Mend)> {
    let mut parts = touched.split('.');
    let key = parts.next()?;
    let finding: usize = parts.next()?.parse().ok()?;
    let mend: usize = parts.next()?.parse().ok()?;
    let at = |worked: &Worked| {
        let found = worked.findings().get(finding)?.clone();
        let mend = found.mends.get(mend)?.clone();
        Some((found, mend))
    };
    if key == key_of(&worked.text) {
        return at(worked);
    }
    // Touched on results of an earlier text: the same finding must still offer the same.
    let earlier = server.kept(key)?;
    let (was, offered) = at(&earlier)?;
    let mut now = worked.findings().into_iter();
    let found = now.find(|it| it.kind == was.kind && it.subject == was.subject)?;
    let mend = found.mends.iter().find(|it| it.words == offered.words)?.clone();
    Some((found, mend))
}

/// What became of a finding, in words.
fn outcome(finding: &Finding, after: &Worked) -> &'static str {
    let same = |it: &&Finding| it.kind == finding.kind && it.subject == finding.subject;
    match after.findings().iter().find(same) {
        None => "The finding is gone.",
        Some(left) => match (left.amount, finding.amount) {
            (Some(now), Some(was)) if now.abs() < was.abs() => "The finding stays, but is smaller.",
            _ => "The finding is still there.",
        },
    }
}

/// What to tell beside the results.
#[derive(Default)]
pub(crate) struct Note {
    pub(crate) words: Option<String>,
    pub(crate) changes: Vec<Change>,
    /// The text to go back to.
    pub(crate) before: Option<String>,
    /// Whether the text is not the one that was sent.
    pub(crate) new_text: bool,
}

impl Note {
    pub(crate) fn words(words: impl Into<String>) -> Self {
        Note { words: Some(words.into()), ..Note::default() }
    }
}

/// The page, or its changed parts, for a text.
pub(crate) async fn answer(
    server: &Arc<Server>,
    fields: &Fields,
    text: String,
    note: Note,
) -> Result<Response, Response> {
    let worked = work_out(server, text).await?;
    let mut shown = worked.clone();
    if worked.trouble().is_some() && !fields.wants_parts() && !fields.good.is_empty() {
        let good = work_out(server, fields.good.clone()).await?;
        if good.trouble().is_none() {
            shown = good;
        }
    }
    let disk = if fields.disk.is_empty() {
        server.on_disk().map(|text| key_of(&text)).unwrap_or_default()
    } else {
        fields.disk.clone()
    };
    let units = units(&fields.units);
    let view = View { server, worked: &worked, shown: &shown, units, note, disk };
    Ok(if fields.wants_parts() { page::parts(&view) } else { page::whole(&view) })
}
