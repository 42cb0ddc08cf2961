//! A day: what is next, when it is ready, every step in time over all its recipes.

use super::form::{Asked, fields, find};
use super::list::{shown, title};
use super::next;
use super::planned::{Made, Planned, Stage, planned};
use super::style;
use crate::day::ics::Calendar;
use crate::day::words;
use crate::web::app::{App, Shared, locale, run};
use crate::web::fault::Fault;
use crate::web::kitchen::oven_words;
use crate::web::page;
use crate::web::picture::{Lane, timeline};
use crate::web::recipe::plan::{cautions, to_change};
use crate::web::timed;
use axum::extract::{Path, RawQuery, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use quantity::degrees_in;
use recipe::plan::{Place, Plan, Row};
use std::time::Duration;
use store::DayRow;
use tokio::time::{Instant, sleep, timeout_at};

/// `/days/{id}`.
pub async fn show(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    query: RawQuery,
) -> Result<Response, Fault> {
    let until = Instant::now() + PATIENCE;
    while !app.planning().insert(id) {
        if Instant::now() >= until {
            return waiting(app, id).await;
        }
        sleep(PATIENCE / 30).await;
    }
    let page = tokio::spawn(run(Shared::clone(&app), move |app| {
        let _at_work = AtWork { app, id };
        let asked = Asked::of(&query.0.unwrap_or_default());
        let day = planned(app, app.kitchen.day(id)?)?;
        let main = main(app, &day, &asked, &[])?;
        shown(app, title(&day.row), &main)
    }));
    match timeout_at(until, page).await {
        Ok(page) => page.map_err(Fault::inside)?,
        Err(_) => waiting(app, id).await,
    }
}

/// So long a page is waited for before one says that the day is being planned.
const PATIENCE: Duration = Duration::from_millis(1500);
/// That page looks again after so many seconds.
const AGAIN: &str = "2";

/// A page is being made, until this is dropped.
struct AtWork<'a> {
    app: &'a App,
    id: i64,
}

impl Drop for AtWork<'_> {
    fn drop(&mut self) {
        self.app.planning().remove(&self.id);
    }
}

/// That the day is being planned; it looks again by itself, with or without scripts.
async fn waiting(app: Shared, id: i64) -> Result<Response, Fault> {
    run(app, move |app| {
        let row = app.kitchen.day(id)?;
        let recipes = match row.day.recipes.len() {
            1 => "one recipe".to_owned(),
            n => format!("{n} recipes together"),
        };
        let main = html! {
            (style())
            h1 { (title(&row)) }
            section.sheet #planning role="status" {
                p { strong { "This day is being planned: " (recipes) "." } " The plan stands here as soon as it is found; this page looks every two seconds." }
                p { a.button href={ "/days/" (id) } { "Look now" } " " a.button.plain href="/days" { "All days" } }
            }
        };
        let page = shown(app, title(&row), &main)?;
        Ok(([("Refresh", AGAIN)], page).into_response())
    })
    .await
}

/// The page as it was, with what could not be done.
pub fn refused(app: &App, row: DayRow, why: &[String]) -> Result<Response, Fault> {
    let day = planned(app, row)?;
    let main = main(app, &day, &Asked::default(), why)?;
    let page = shown(app, title(&day.row), &main)?;
    Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
}

/// The calendar file of the day.
pub async fn calendar(State(app): State<Shared>, Path(id): Path<i64>) -> Result<Response, Fault> {
    run(app, move |app| {
        let day = planned(app, app.kitchen.day(id)?)?;
        let Some(Ok(plan)) = &day.plan else {
            return Err(Fault::bad(
                "There is no plan of this day yet: its page says what makes it impossible.",
            ));
        };
        let of = |j: usize| format!("day-{}-{}", day.row.uid, day.made[j].place);
        let calendar = Calendar {
            ask: &day.ask,
            plan,
            clock: &day.clock,
            name: title(&day.row),
            of: &of,
            locale: locale(&day.settings),
            oven: &|t| oven_words(&day.settings, t),
        };
        Ok(timed::calendar(app, &calendar, "day.ics"))
    })
    .await
}

fn main(app: &App, day: &Planned, asked: &Asked, why: &[String]) -> Result<Markup, Fault> {
    let row = &day.row;
    let at = format!("/days/{}", row.id);
    Ok(html! {
        (style())
        div.between.page-head {
            h1 { (title(row)) }
            div.row {
                @if row.undo { form method="post" action={ (at) "/undo" } { (page::seal(app)) button.small { "Undo or redo the last change" } } }
                form method="post" action={ (at) "/bin" } { (page::seal(app))
                    @if row.binned.is_some() { button.small name="way" value="out" { "Take it out of the bin" } }
                    @else { button.small.plain name="way" value="in" { "Put it in the bin" } } }
                a.button.small href="/days" { "All days" }
            }
        }
        @if row.binned.is_some() { p.trouble { "This day is in the bin." } }
        @if !why.is_empty() { div.trouble #refused role="alert" { @for w in why { p { (w) } } } }
        @for t in &day.troubles { p.trouble { (t) } }
        (next::section(app, day))
        (answer(day, &at))
        @if let Some(Ok(plan)) = &day.plan {
            (start(app, day))
            div.spread.even {
                (timeline_of(day, plan))
                (table(app, day, plan, &at))
            }
        }
        section.sheet aria-labelledby="asked" {
            h2 #asked { "Recipes and times" }
            @if day.stage == Stage::UnderWay { p.hint { "What is begun stays where it is; the rest is planned from now." } }
            (find(app, asked, &at)?)
            form.pick method="post" action=(at) {
                (page::seal(app))
                input type="hidden" name="rev" value=(row.rev);
                (fields(app, &row.day, asked, &at)?)
                div.row { button.do { "Plan it so" } }
            }
            p.hint { (day.settings.hands) " at work, " (day.settings.ovens) " oven with " (day.settings.oven_racks) " racks, " (day.settings.mixers) " mixer: " a href="/kitchen#settings" { "change the kitchen" } "." }
        }
    })
}

/// When it begins and is ready, or what makes it impossible.
fn answer(day: &Planned, at: &str) -> Markup {
    html! {
        @match &day.plan {
            Some(Ok(plan)) => {
                p #answer {
                    strong { @if day.stage == Stage::Ahead { "Begin " } @else { "Begun " } (day.clock.words(plan.start)) }
                    @if plan.ready.windows(2).all(|m| m[0] == m[1]) { ", ready " (day.clock.words(plan.end)) }
                    @else { @for (j, m) in plan.ready.iter().enumerate() {
                        @if j == 0 { ", " } @else { "; " } (day.ask.jobs[j].tasks.title) " ready " (day.clock.words(*m))
                    } }
                    "."
                    @if day.stage == Stage::Ahead && plan.proven { @if day.ask.jobs.iter().all(|j| j.serve.is_some()) { " It cannot begin later." } @else { " It cannot be ready sooner." } }
                    " " a.button.small href={ (at) "/day.ics" } download="day.ics" { "Calendar file with alarms" }
                }
                (cautions(&day.ask, plan, locale(&day.settings)))
            }
            Some(Err(why)) => {
                div.trouble #answer role="alert" {
                    @for s in words::impossible(why, &day.ask, &day.clock) { p { (degrees_in(&s, locale(&day.settings))) } }
                    (to_change(why, &day.ask, &|j, field| steps_of(day, &day.made[j], field)))
                    @for (j, m) in day.made.iter().enumerate() { @if let Some(v) = version(day, m) {
                        p { (day.ask.jobs[j].tasks.title) " is planned as version " (v) ", whose steps stay as they were saved. To change them press 'Work on this one' beside it on the Versions page, or plan the draft." }
                    } }
                    p { "Change the times, the recipes or the quiet hours below." }
                }
            }
            None => {}
        }
    }
}

/// The version of a recipe that the day is of; none where it is the draft.
fn version(day: &Planned, m: &Made) -> Option<u32> {
    day.row.day.recipes.get(m.place)?.version
}

/// Where the steps of a recipe of the day are: those of the draft on its Plan page, those of a version
/// with that version.
fn steps_of(day: &Planned, m: &Made, field: &str) -> String {
    let id = m.row.id;
    match version(day, m) {
        Some(v) => format!("/recipe/{id}/versions#v{v}"),
        None => format!("/recipe/{id}/plan#{field}"),
    }
}

/// Each batch, to start at the bench or to go on with.
fn start(app: &App, day: &Planned) -> Markup {
    html! {
        section.sheet aria-labelledby="bench" {
            h2 #bench { "At the bench" }
            ul.front { @for (j, m) in day.made.iter().enumerate() {
                @let name = &day.ask.jobs[j].tasks.title;
                @let batch = m.bench.as_ref().map(|b| &b.batch);
                li {
                    span { a.name href=(steps_of(day, m, "steps")) { (name) } br;
                        small { "× " (recipe::size::times(m.factor)) " the recipe" @if let Some(v) = version(day, m) { ", version " (v) } @if batch.is_some_and(|b| b.finished.is_some()) { ", finished" } } }
                    @match batch {
                        Some(b) => a.button.do href={ "/bench/" (b.id) } { @if b.finished.is_some() { "See it" } @else { "Go on" } span.unseen { " with " (name) } },
                        None => form method="post" action={ "/days/" (day.row.id) "/start" } { (page::seal(app))
                            button name="place" value=(m.place) { "Start the batch" span.unseen { " of " (name) } } },
                    }
                }
            } }
        }
    }
}

fn place_of(day: &Planned, r: &Row) -> Option<Place> {
    day.ask.jobs[r.job].tasks.list[r.task].wait.map(|w| w.place)
}

/// Stretches joined where they meet.
fn joined(mut used: Vec<(i32, i32)>) -> Vec<(i32, i32)> {
    used.retain(|(a, b)| b > a);
    used.sort_unstable();
    let mut out: Vec<(i32, i32)> = Vec::new();
    for (a, b) in used {
        match out.last_mut() {
            Some(last) if a <= last.1 => last.1 = last.1.max(b),
            _ => out.push((a, b)),
        }
    }
    out
}

fn timeline_of(day: &Planned, plan: &Plan) -> Markup {
    let several = day.made.len() > 1;
    let bars = timed::bars(&day.ask, plan);
    let wait = |is: &dyn Fn(Place) -> bool| {
        let of = plan
            .rows
            .iter()
            .filter(|r| place_of(day, r).is_some_and(is));
        joined(of.map(|r| (r.work_end, r.end)).collect())
    };
    let work = |mixer: bool| {
        let of = plan
            .rows
            .iter()
            .filter(|r| !mixer || day.ask.jobs[r.job].tasks.list[r.task].mixer);
        joined(of.map(|r| (r.start, r.work_end)).collect())
    };
    let lane = |name: &str, used, hot, cold| Lane {
        name: name.to_owned(),
        used,
        hot,
        cold,
    };
    let lanes = [
        lane("Hands", work(false), false, false),
        lane("Mixer", work(true), false, false),
        lane("Oven", wait(&|p| p == Place::Oven), true, false),
        lane("Fridge or freezer", wait(&Place::is_cold), false, true),
    ];
    let clock = &day.clock;
    html! {
        section.sheet aria-labelledby="timeline" {
            h2 #timeline { "The day" }
            (timeline("day", &bars, if several { &lanes } else { &[] }, Some(clock.now()), &|m| clock.hour(m)))
            p.hint { (timed::STROKES) }
        }
    }
}

/// Every step in time; once under way, what is begun is ticked and the rest can be planned anew.
fn table(app: &App, day: &Planned, plan: &Plan, at: &str) -> Markup {
    let (ask, clock) = (&day.ask, &day.clock);
    let now = clock.now();
    let under_way = day.stage == Stage::UnderWay;
    let mut today = String::new();
    html! {
        section.sheet aria-labelledby="steps" {
            h2 #steps { "The steps in time" }
            form method="post" action={ (at) "/rest" } {
                (page::seal(app))
                input type="hidden" name="rev" value=(day.row.rev);
                @if under_way { p.hint { "Begun is what the clock says. Where you are behind or ahead, tick what is really begun and plan the rest from now: what is ticked stays where it is, and what comes before it counts as done." } }
                table.ledger.stack {
                    caption.unseen { "The steps in time, of all recipes" }
                    thead { tr {
                        th scope="col" { "Begin" } th scope="col" { "Until" } th scope="col" { "Step" }
                        @if under_way { th scope="col" { "Begun" } } @else { th scope="col" { "May begin" } th scope="col" { "Held by" } }
                    } }
                    @let done: Vec<_> = day.made.iter().map(Made::done).collect();
                    tbody { @for r in &plan.rows {
                        @let d = clock.day(r.start);
                        @if d != today {
                            tr.sum { th colspan="5" scope="rowgroup" { (d) } }
                            ({ today = d; "" })
                        }
                        @let tasks = &ask.jobs[r.job].tasks;
                        @let task = &tasks.list[r.task];
                        @let over = done[r.job].contains(&task.key);
                        tr {
                            td.f data-h="begin" { (clock.hour(r.start)) }
                            td.f data-h="until" { (clock.hour(r.end)) }
                            td.full { strong { (task.title()) } @if over { " " span.tag { "done" } } @if task.guessed() { " " span.tag { "guess" } } br; small { @if day.made.len() > 1 { (tasks.title) ": " } (degrees_in(&words::figures(task, &|t| oven_words(&day.settings, t)), locale(&day.settings))) } }
                            @if under_way {
                                td data-h="begun" { label.tick { input type="checkbox" name="begun" value={ (day.made[r.job].place) "|" (task.key) } checked[over || r.start <= now]; span.unseen { (words::title(ask, r)) " is begun" } } }
                            } @else {
                                td data-h="may begin" { (words::may_begin(clock, r)) }
                                td data-h="held by" { small { (words::held(ask, r)) } }
                            }
                        }
                    } }
                }
                @if under_way {
                    div.row {
                        div { label for="rest-serve" { "Ready at, the whole day" } input #rest-serve type="datetime-local" name="serve" value=[day.row.day.serve.as_ref()]; }
                        button.do name="way" value="rest" { "Plan the rest from now" }
                        button name="way" value="anew" { "Plan all of it anew" }
                    }
                    p.hint { "Without a time: ready as soon as may be." }
                }
            }
            ul { @for line in words::below(ask, plan, clock) { li { (degrees_in(&line, locale(&day.settings))) } } }
        }
    }
}
