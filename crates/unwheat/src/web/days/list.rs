//! The list of days, and a new one.

use super::form::{Asked, fields, find};
use super::style;
use crate::day::clock::Clock;
use crate::web::app::{App, Shared, run};
use crate::web::fault::Fault;
use crate::web::page::{self, Page, Way, since};
use axum::extract::{RawQuery, State};
use axum::response::Response;
use maud::{Markup, html};
use store::{Day, DayRow, Query};

/// `/days`.
pub async fn show(State(app): State<Shared>, query: RawQuery) -> Result<Response, Fault> {
    run(app, move |app| {
        let asked = Asked::of(&query.0.unwrap_or_default());
        let typed = Day {
            serve: asked.serve.clone(),
            ..Day::default()
        };
        page_of(app, &asked, &typed, None)
    })
    .await
}

/// The page, with what was typed and what is wrong with it.
pub fn page_of(
    app: &App,
    asked: &Asked,
    typed: &Day,
    trouble: Option<&str>,
) -> Result<Response, Fault> {
    let clock = Clock::at(app.now());
    let days = app.kitchen.days(false)?;
    let binned = app.kitchen.days(true)?;
    let none = app.kitchen.list(&Query {
        limit: 1,
        ..Query::default()
    })?;
    let none = none.total == 0;
    let main = html! {
        (style())
        div.between.page-head { h1 { "Days" } }
        @if !days.is_empty() {
            section.sheet aria-labelledby="planned" {
                h2 #planned { "Planned" }
                ul.front { @for d in &days { li {
                    span { a.name href={ "/days/" (d.id) } { (title(d)) } br; small { (when(d, &clock)) "; changed " (since(d.changed, app.now())) } }
                    a.button href={ "/days/" (d.id) } { "Open" span.unseen { " " (title(d)) } }
                } } }
            }
        }
        section.sheet aria-labelledby="new" {
            h2 #new { "Plan a day" }
            @if let Some(row) = asked.from(app).filter(|_| trouble.is_none()) {
                p { strong { (row.title) } " is ticked below: which others are made that day? Tick them, then plan it. Nothing is kept before. " a href={ "/recipe/" (row.id) "/plan" } { "Back to its plan" } }
            }
            p { "Several recipes, one oven, one pair of hands: every step in time, backwards from when it is to be ready." }
            @if let Some(t) = trouble { p.trouble role="alert" { (t) } }
            @if none { p { "No recipes yet. " a href="/" { "Paste one first" } "." } }
            @else {
                (find(app, asked, "/days")?)
                form.pick method="post" action="/days" {
                    (page::seal(app))
                    (fields(app, typed, asked, "/days")?)
                    div.row { button.do { "Plan the day" } }
                }
            }
        }
        @if !binned.is_empty() {
            section.sheet aria-labelledby="bin" {
                h2 #bin { "In the bin" }
                ul.front { @for d in &binned { li {
                    span { a.name href={ "/days/" (d.id) } { (title(d)) } }
                    form method="post" action={ "/days/" (d.id) "/bin" } { (page::seal(app)) button name="way" value="out" { "Take it out" span.unseen { ": " (title(d)) } } }
                } } }
            }
        }
    };
    shown(app, "Days", &main)
}

/// A page of this way.
pub fn shown(app: &App, title: &str, main: &Markup) -> Result<Response, Fault> {
    Page {
        title,
        way: Way::Days,
        scripts: &["days.js"],
        beside: None,
    }
    .show(app, main)
}

/// What a day is called.
pub fn title(d: &DayRow) -> &str {
    match d.day.title.as_str() {
        "" => "A day without a name",
        t => t,
    }
}

/// When it begins and is ready, and how much is on it.
fn when(d: &DayRow, clock: &Clock) -> String {
    let of = |text: &String| clock.kept(text);
    let start = d.day.held.iter().filter_map(|h| of(&h.start)).min();
    let end = d.day.held.iter().filter_map(|h| of(&h.end)).max();
    let n = d.day.recipes.len();
    let recipes = if n == 1 {
        "1 recipe".to_owned()
    } else {
        format!("{n} recipes")
    };
    match (start, end) {
        (Some(_), Some(e)) if e <= clock.now() => {
            format!("{recipes}, was ready {}", clock.words(e))
        }
        (Some(s), Some(e)) if s <= clock.now() => {
            format!("{recipes}, under way, ready {}", clock.words(e))
        }
        (Some(s), Some(e)) => format!(
            "{recipes}, begins {}, ready {}",
            clock.words(s),
            clock.words(e)
        ),
        _ => format!("{recipes}, no plan yet"),
    }
}
