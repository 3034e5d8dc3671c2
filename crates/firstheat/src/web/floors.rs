//! Floors as a thermal camera would see them, with a place for one's own pictures and readings.

use super::blocks;
use super::explain::{Link, encoded};
use super::files::{Of, away, meant};
use super::form::units;
use super::page;
use super::state::Server;
use axum::extract::{Query, State};
use axum::response::Response;
use maud::{Markup, html};
use quantity::System;
use sheets::{Block, Cell, Sheet, Table, Value};
use std::sync::Arc;

/// What can be read of a room, by the columns of its table.
const READINGS: [&str; 3] = ["hottest", "coolest", "mean"];

pub(crate) async fn floors(
    State(server): State<Arc<Server>>,
    Query(of): Query<Of>,
) -> Result<Response, Response> {
    let worked = meant(&server, &of).await?;
    let first = units(&of.units).unwrap_or(worked.job.units.value);
    let link = Link { of: worked.key(), units: of.units.clone() };
    let asked = (!of.outdoor.trim().is_empty()).then(|| worked.temperature(&of.outdoor));
    let (outdoor, trouble) = match asked {
        Some(Ok(outdoor)) => (Some(outdoor), None),
        Some(Err(why)) => (None, Some(why)),
        None => (None, None),
    };
    let question = super::finish::question(&worked, &of, &link);
    let sheet = away(move || server.with_memo(|memo| worked.floor_sheet(outdoor, memo))).await?;
    let body = html! {
        (weather(&of, &link, trouble.as_deref()))
        div .compare {
            div .pictures {
                @for block in sheet.blocks.iter().filter(|it| matches!(it, Block::Drawing(_))) {
                    (blocks::block(block, first, &link))
                }
            }
            (photos())
        }
        section aria-label="Another finish later" {
            h2 { "Another finish later" }
            p { "What it does to a floor whose tube already lies." }
            (question)
        }
        (readings(&sheet, first))
        @for block in sheet.blocks.iter().filter(|it| !matches!(it, Block::Drawing(_))) {
            (blocks::block(block, first, &link))
        }
    };
    Ok(page::wide(&sheet.title, "floors.js", &body))
}

/// Which mild day is looked at, and the way to the paper.
fn weather(of: &Of, link: &Link, trouble: Option<&str>) -> Markup {
    let outdoor = encoded(&of.outdoor);
    let paper = format!("/sheet?{}&paper=floor-temperatures&outdoor={outdoor}", link.query());
    html! {
        form .weather method="get" action="/floors" {
            input type="hidden" name="of" value=(link.of);
            input type="hidden" name="units" value=(link.units);
            label for="outdoor" { "Outdoor temperature of the mild day" }
            input #outdoor name="outdoor" value=(of.outdoor) placeholder="half way"
                aria-describedby=[trouble.map(|_| "outdoor-trouble")];
            button type="submit" { "Look" }
            a href=(paper) { "Paper to print" }
            @if let Some(why) = trouble {
                p #outdoor-trouble .bad role="alert" { "Outdoor temperature: " (why) "." }
            }
        }
    }
}

/// A place for pictures of one's own; scripts fill it, and nothing is sent.
fn photos() -> Markup {
    html! {
        section #photos hidden aria-label="Your own thermal pictures" {
            h2 { "Your thermal picture beside it" }
            p {
                label for="picked" { "Pictures of your camera: " }
                input #picked type="file" accept="image/*" multiple;
            }
            p .fine { "They stay on this device and are gone when the page is closed." }
            div #shots aria-live="polite" {}
        }
    }
}

/// Readings beside the design, room by room, for each weather.
fn readings(sheet: &Sheet, first: System) -> Markup {
    let tables = sheet.tables().filter(|it| it.columns.iter().any(|it| it.key == "read_mean"));
    html! {
        section #readings hidden aria-label="Compare with readings" {
            h2 { "Compare with readings" }
            p {
                "Type what a camera or a surface thermometer shows; the difference to the design \
                 appears below. Shiny floors read wrong: tape a piece of matt tape on and aim at that."
            }
            @for table in tables { (of_weather(table, first)) }
        }
    }
}

fn of_weather(table: &Table, first: System) -> Markup {
    html! {
        details {
            summary { (table.title) }
            @for row in &table.rows {
                fieldset .reading {
                    @let name = row.cells.first().map(|cell| cell.shown(first)).unwrap_or_default();
                    legend { (name) }
                    @for key in READINGS {
                        @if let Some(Cell::Quantity(value)) = table.cell(&row.key, key) {
                            (reading(value, key, &format!("{}-{}-{key}", table.key, row.key), first))
                        }
                    }
                }
            }
        }
    }
}

/// One number of the design and the field for its reading.
fn reading(value: &Value, name: &str, id: &str, first: System) -> Markup {
    html! {
        div {
            label for=(id) { (name) ", design " (value.shown(first)) }
            input id=(id) type="number" step="any" inputmode="decimal"
                data-design=(value.units.unit(first).from_si(value.si))
                data-unit=(value.units.unit(first).symbol);
            output for=(id) {}
        }
    }
}
