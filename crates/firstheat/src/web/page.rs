//! Pages and parts of pages.

use super::blocks::{self, Acting};
use super::editor;
use super::explain::Link;
use super::files::PAPER_STYLE;
use super::form::Fields;
use super::state::Server;
use super::work::{Note, answer};
use crate::papers::Paper;
use crate::worked::Worked;
use axum::extract::{Query, State};
use axum::http::StatusCode;
use axum::http::header::CONTENT_TYPE;
use axum::response::{IntoResponse, Response};
use job::Severity;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use quantity::System;
use sheets::{Block, Cell, Papers, Sheet};
use std::sync::Arc;

/// What a page shows.
pub(crate) struct View<'a> {
    pub(crate) server: &'a Server,
    /// The text on the left.
    pub(crate) worked: &'a Worked,
    /// The text whose results are on the right: the same, or the last that could be read.
    pub(crate) shown: &'a Worked,
    /// Units that were asked for.
    pub(crate) units: Option<System>,
    pub(crate) note: Note,
    /// Key of the text on disk.
    pub(crate) disk: String,
}

impl View<'_> {
    /// The system shown first.
    pub(crate) fn first(&self) -> System {
        self.units.unwrap_or(self.shown.job.units.value)
    }

    fn link(&self) -> Link {
        let units = match self.first() {
            System::Us => "us",
            System::Si => "si",
        };
        Link { of: self.shown.key(), units: units.to_owned() }
    }

    fn stale(&self) -> bool {
        self.shown.text != self.worked.text
    }
}

/// The page on the text as it is on disk.
pub(crate) async fn opening(
    State(server): State<Arc<Server>>,
    Query(fields): Query<Fields>,
) -> Result<Response, Response> {
    let text = server.on_disk().map_err(|why| error(StatusCode::NOT_FOUND, "No job", &why))?;
    let fields = Fields { units: fields.units, ..Fields::default() };
    answer(&server, &fields, text, Note::default()).await
}

fn page(status: StatusCode, markup: Markup) -> Response {
    let headers = [(CONTENT_TYPE, "text/html; charset=utf-8")];
    (status, headers, markup.into_string()).into_response()
}

fn document(title: &str, script: Option<&str>, body: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " · firstheat" }
                link rel="icon" href="data:,";
                link rel="stylesheet" href="/assets/paper.css";
                link rel="stylesheet" href="/assets/page.css";
                @if let Some(script) = script {
                    script type="module" src=(format!("/assets/{script}")) {}
                }
            }
            body { (body) }
        }
    }
}

/// The whole page.
pub(crate) fn whole(view: &View<'_>) -> Response {
    let name = &view.shown.job.name.value;
    let body = html! {
        a .skip href="#text" { "To the job's text" }
        a .skip href="#results" { "To the results" }
        header .top {
            p .mark { a href="/" { "firstheat" } }
            h1 #name data-part { (name) }
            (papers(view))
        }
        nav .jumps aria-label="Parts of this page" {
            a href="#text" { "Text" }
            a href="#plans" { "Plan" }
            a href="#findings" { "Findings" }
            a href="#house" { "House" }
            a href="#rooms" { "Rooms" }
            a href="#room-sheets" { "Each room" }
            a href="#loops" { "Loops" }
            a href="#manifolds" { "Manifolds" }
            a href="#cuts" { "Coil cuts" }
        }
        main .desk {
            div .bench { (editor::editor(view)) (editor::problems(view)) }
            div #results .stale[view.stale()] data-good=(view.shown.trouble().is_none()) {
                (status(view)) (note(view)) (results(view))
            }
        }
        dialog #dialog aria-label="Working of a number" {}
    };
    page(StatusCode::OK, document(name, Some("main.js"), &body))
}

/// The parts of the page that a text changes; results only where they are worth showing.
pub(crate) fn parts(view: &View<'_>) -> Response {
    let trouble = view.worked.trouble().is_some();
    page(
        StatusCode::OK,
        html! {
            div #parts data-good=(!trouble) {
                (editor::gutter(view)) (editor::problems(view)) (editor::disk(view))
                (status(view)) (note(view))
                @if view.note.new_text {
                    textarea #text data-field { "\n" (view.worked.text) }
                }
                @if !trouble {
                    h1 #name data-part { (view.shown.job.name.value) }
                    (papers(view)) (results(view))
                }
            }
        },
    )
}

/// Links to what can be printed or kept.
fn papers(view: &View<'_>) -> Markup {
    let query = view.link().query();
    html! {
        nav #papers data-part aria-label="Papers" {
            a href=(format!("/sheet?{query}")) { "Design sheet" }
            a href=(format!("/sheet?{query}&paper=house")) { "House summary" }
            a href=(format!("/sheet?{query}&paper=room-sheets")) { "Room sheets" }
            a href=(format!("/sheet?{query}&paper=no-drilling")) { "No drilling" }
            a href=(format!("/sheet?{query}&paper=port-cards")) { "Port cards" }
            a href=(format!("/floors?{query}")) { "Floor temperatures" }
            a href=(format!("/files/loops.csv?{query}")) download="loops.csv" { "Loops CSV" }
            a href=(format!("/files/cuts.csv?{query}")) download="cuts.csv" { "Cuts CSV" }
            a href=(format!("/files/rooms.csv?{query}")) download="rooms.csv" { "Rooms CSV" }
            a href=(format!("/explain?{query}")) { "All numbers" }
        }
    }
}

fn status(view: &View<'_>) -> Markup {
    let findings = view.worked.findings();
    let of = |severity| findings.iter().filter(|it| it.severity == severity).count();
    html! {
        p #status data-part role="status" aria-live="polite"
            .bad[view.worked.trouble().is_some()] {
            @match view.worked.trouble() {
                Some((line, message)) => {
                    strong { "Line " (line) " has a problem: " (message) "." }
                    " What is shown here is from the last text that could be read."
                }
                None => {
                    (view.worked.job.rooms.len()) " rooms, "
                    (view.worked.design.loops.len()) " loops. Findings: "
                    (of(Severity::Stop)) " to stop for, "
                    (of(Severity::Warn)) " to look at, "
                    (of(Severity::Note)) " to note."
                }
            }
        }
    }
}

/// What was just done, and what it changed.
fn note(view: &View<'_>) -> Markup {
    let changes = &view.note.changes;
    html! {
        div #note data-part role="status" aria-live="polite" {
            @if let Some(words) = &view.note.words { p { (words) } }
            @if view.note.words.as_ref().is_some_and(|it| it.contains("“write over”")) {
                label .over { input type="checkbox" name="over" value="1" form="job"; "write over" }
            }
            @if !changes.is_empty() {
                ul .changes {
                    @for change in changes.iter().take(40) {
                        li class=(if change.came { "came" } else { "went" }) {
                            span .line { (if change.came { "+" } else { "−" }) " " (change.line) }
                            code { (change.words) }
                        }
                    }
                    @if changes.len() > 40 { li { "and " (changes.len() - 40) " more lines" } }
                }
            }
        }
    }
}

/// The right side: what follows from the text, in the order of the sheet.
fn results(view: &View<'_>) -> Markup {
    let (first, link) = (view.first(), view.link());
    let Papers { house, rooms, design: sheet, .. } = view.shown.papers();
    let main =
        ["rooms", "floors", "loops", "laid", "manifolds", "cuts", "boards", "plates", "lanes"];
    // What the whole house needs is on its paper; here is what is looked at while the text changes.
    let of_house = ["where-heat-goes", "groups", "per_degree", "unheated"];
    let is_of_house = |block: &&Block| match block {
        Block::Table(it) => of_house.contains(&&*it.key),
        Block::Drawing(it) => of_house.contains(&&*it.key),
        _ => false,
    };
    let is_main = |block: &&Block| matches!(block, Block::Table(it) if main.contains(&&*it.key));
    let is_plan = |block: &&Block| match block {
        Block::Drawing(_) => true,
        Block::Prose(it) => it.key == "no-plan",
        _ => false,
    };
    let is_rest =
        |block: &&Block| !is_main(block) && !is_plan(block) && !matches!(block, Block::Findings(_));
    let show = |block: &Block| blocks::block(block, first, &link);
    let mut list = sheets::finding_list(&view.shown.design.findings, &view.shown.text);
    list.title = "Findings of the design".to_owned();
    let acting = Acting { worked: view.shown, start: view.shown.reading.len() };
    html! {
        dl #summary data-part { (summary(&house, &sheet, first)) }
        div #plans data-part { @for block in sheet.blocks.iter().filter(is_plan) { (show(block)) } }
        section #findings data-part aria-label="Findings of the design" {
            (blocks::findings(&list, Some(&acting)))
        }
        div #house data-part {
            @for block in house.blocks.iter().filter(is_of_house) { (show(block)) }
            p .more {
                a href=(format!("/sheet?{}&paper=house", link.query())) {
                    "House summary: how sure it is, conventions, what is usual"
                }
            }
        }
        div #tables data-part { @for block in sheet.blocks.iter().filter(is_main) { (show(block)) } }
        section #room-sheets data-part aria-label="Heat loss of each room" {
            h2 { "Heat loss of each room, surface by surface" }
            @for room in &rooms { (blocks::folded(room, first, &link)) }
        }
        div #rest data-part { @for block in sheet.blocks.iter().filter(is_rest) { (show(block)) } }
    }
}

/// The few numbers that are asked for first, as they stand in the tables.
fn summary(house: &Sheet, sheet: &Sheet, first: System) -> Markup {
    let fact = |name: &str| {
        let mut items = house.facts("house").into_iter().flat_map(|facts| &facts.items);
        items.find(|(known, _)| *known == name).map(|(_, cell)| cell)
    };
    let cells = [
        ("supply", "basis", "supply", "value"),
        ("tube", "loops", "total", "total_length"),
        ("water in tube", "loops", "total", "volume"),
        ("flow", "loops", "total", "flow"),
        ("worst head", "loops", "total", "head"),
    ];
    let mut asked: Vec<(&str, Option<&Cell>)> = vec![
        ("heat loss", fact("heat loss of the house")),
        ("per floor area", fact("per floor area")),
        ("source must make", fact("the source must make")),
    ];
    let told = cells.map(|(words, table, row, column)| {
        (words, sheet.table(table).and_then(|it| it.cell(row, column)))
    });
    asked.extend(told);
    html! {
        @for (words, cell) in asked {
            @if let Some(Cell::Quantity(value)) = cell {
                div {
                    dt { (words) }
                    dd { (value.shown(first)) span .other { (value.shown(first.other())) } }
                }
            }
        }
    }
}

/// A paper as a page that is printed from the browser.
pub(crate) fn paper(papers: &Papers, paper: Paper) -> Response {
    let style = html! { link rel="stylesheet" href="/assets/paper.css"; };
    page(StatusCode::OK, paper_page(papers, paper, &style))
}

/// A paper as one file that needs no other.
pub(crate) fn print_page(papers: &Papers, paper: Paper) -> Markup {
    paper_page(papers, paper, &html! { style { (PreEscaped(PAPER_STYLE)) } })
}

fn paper_page(papers: &Papers, paper: Paper, style: &Markup) -> Markup {
    let (title, body) = match paper {
        Paper::Design => (papers.design.title.clone(), sheet_body(&papers.design)),
        Paper::House => (papers.house.title.clone(), sheet_body(&papers.house)),
        Paper::RoomSheets => rooms_body(papers),
        Paper::NoDrilling => (papers.no_drilling.title.clone(), sheet_body(&papers.no_drilling)),
        Paper::PortCards => (papers.ports.title.clone(), sheet_body(&papers.ports)),
        Paper::FloorTemperatures => match &papers.floor_temperatures {
            Some(sheet) => (sheet.title.clone(), sheet_body(sheet)),
            None => ("Floor temperatures".to_owned(), html! {}),
        },
    };
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                link rel="icon" href="data:,";
                (style)
            }
            body .paper .rooms[paper == Paper::RoomSheets] { h1 { (title) } (body) }
        }
    }
}

fn sheet_body(sheet: &Sheet) -> Markup {
    html! {
        (blocks::head(&sheet.head))
        @for block in &sheet.blocks { (blocks::block(block, sheet.first, &Link::default())) }
    }
}

fn rooms_body(papers: &Papers) -> (String, Markup) {
    let body = html! {
        (blocks::head(&papers.house.head))
        @for room in &papers.rooms { (blocks::unfolded(room, &Link::default())) }
    };
    (format!("Heat loss of each room: {}", papers.job), body)
}

/// A page with one matter and a way back.
pub(crate) fn small(title: &str, body: &Markup) -> Response {
    let body = html! {
        header .top { p .mark { a href="/" { "firstheat" } } h1 { (title) } }
        main .small { (body) p .back { a href="/" { "To the job" } } }
    };
    page(StatusCode::OK, document(title, None, &body))
}

/// A wide page with one matter, its own script, and a way back.
pub(crate) fn wide(title: &str, script: &str, body: &Markup) -> Response {
    let body = html! {
        header .top { p .mark { a href="/" { "firstheat" } } h1 { (title) } }
        main .wide { (body) p .back { a href="/" { "To the job" } } }
    };
    page(StatusCode::OK, document(title, Some(script), &body))
}

/// A page that says what went wrong and leads out.
pub(crate) fn error(status: StatusCode, title: &str, why: &str) -> Response {
    error_with(status, title, why, &html! {})
}

/// The same with more to choose from.
pub(crate) fn error_with(status: StatusCode, title: &str, why: &str, more: &Markup) -> Response {
    let body = html! {
        header .top { p .mark { a href="/" { "firstheat" } } h1 { (title) } }
        main .small .error {
            p .why { (why) }
            (more)
            p .back { a href="/" { "To the job" } }
        }
    };
    page(status, document(title, None, &body))
}

/// A body that is larger than any job.
pub(crate) fn too_large() -> Response {
    let why = "A job text may have 4 MB at most. Nothing was changed: go back, and your text is \
               still there.";
    error(StatusCode::PAYLOAD_TOO_LARGE, "Too large", why)
}

/// A page that is not there.
pub(crate) async fn missing() -> Response {
    error(StatusCode::NOT_FOUND, "No such page", "There is nothing at this address.")
}

/// A page that cannot be asked for in this way.
pub(crate) async fn wrong_method() -> Response {
    let why = "This address takes the form of the job page only.";
    error(StatusCode::METHOD_NOT_ALLOWED, "Not this way", why)
}
