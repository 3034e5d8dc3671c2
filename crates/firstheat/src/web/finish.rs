//! What another finish on a floor would do: the question and its answer.

use super::blocks;
use super::explain::Link;
use super::files::{Of, away, meant};
use super::form::units;
use super::page;
use super::state::Server;
use crate::worked::Worked;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::response::Response;
use maud::{Markup, html};
use std::sync::Arc;

pub(crate) async fn finish(
    State(server): State<Arc<Server>>,
    Query(of): Query<Of>,
) -> Result<Response, Response> {
    let worked = meant(&server, &of).await?;
    let first = units(&of.units).unwrap_or(worked.job.units.value);
    let link = Link { of: worked.key(), units: of.units.clone() };
    let asked = (server.clone(), worked.clone(), of.room.clone(), of.finish.clone());
    let later = away(move || {
        let (server, worked, room, finish) = asked;
        server.with_memo(|memo| {
            design::finish_later(&worked.job, &worked.design, &room, &finish, memo)
        })
    });
    let later = later.await?.map_err(|why| {
        page::error(StatusCode::NOT_FOUND, "No such floor or finish", &why.to_string())
    })?;
    let sheet = sheets::finish_sheet(&worked.job, &worked.text, &later, first);
    let body = html! {
        @for block in &sheet.blocks { (blocks::block(block, first, &link)) }
        (question(&worked, &of, &link))
    };
    Ok(page::small(&sheet.title, &body))
}

/// The question: which room, which finish.
pub(crate) fn question(worked: &Worked, of: &Of, link: &Link) -> Markup {
    let floors = &worked.design.emitters.floors;
    let rooms = worked.job.rooms.iter();
    let rooms = rooms.filter(|room| floors.iter().any(|floor| floor.room == room.key));
    html! {
        form .weather method="get" action="/finish" aria-label="Another finish" {
            input type="hidden" name="of" value=(link.of);
            input type="hidden" name="units" value=(link.units);
            label for="finish-room" { "What if the floor of" }
            select #finish-room name="room" {
                @for room in rooms {
                    option value=(room.key) selected[room.key == of.room] { (room.name.value) }
                }
            }
            label for="finish-other" { "gets" }
            select #finish-other name="finish" {
                @for finish in &worked.job.catalogue.finishes {
                    option value=(finish.key) selected[finish.key == of.finish] { (finish.name) }
                }
            }
            button type="submit" { "Tell" }
        }
    }
}
