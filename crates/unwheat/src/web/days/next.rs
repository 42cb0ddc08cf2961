//! What is next on a day, by the clock of this machine.

use super::planned::{Planned, Stage, planned};
use crate::day::words;
use crate::web::app::{App, Shared, locale, run};
use crate::web::bench::{self, batch_sheet::MARK};
use crate::web::fault::Fault;
use crate::web::kitchen::oven_words;
use crate::web::page::html_page;
use axum::extract::{Path, State};
use axum::response::Response;
use maud::{Markup, html};
use quantity::degrees_in;
use recipe::plan::{Plan, Row};

/// The part alone, for the page's script.
pub async fn show(State(app): State<Shared>, Path(id): Path<i64>) -> Result<Response, Fault> {
    run(app, move |app| {
        let day = planned(app, app.kitchen.day(id)?)?;
        Ok(html_page(section(app, &day)))
    })
    .await
}

/// A step that is next, with its batch at the bench where it is there.
struct Next<'a> {
    row: &'a Row,
    batch: Option<i64>,
}

/// The steps that are next. Of a batch at the bench those that can be by what is ticked there; of
/// another those under way by the clock, and the first that begins after. What begins later than
/// the first to come is left out.
fn list<'a>(day: &'a Planned, plan: &'a Plan) -> Vec<Next<'a>> {
    let now = day.clock.now();
    let mut out: Vec<Next> = Vec::new();
    for (j, m) in day.made.iter().enumerate() {
        let list = &day.ask.jobs[j].tasks.list;
        let mine = || plan.rows.iter().filter(move |r| r.job == j);
        let Some(open) = m.open() else {
            let over = m.bench.is_some();
            let first = mine().map(|r| r.start).filter(|s| *s > now).min();
            let here = |r: &&Row| r.start <= now && now < r.end || Some(r.start) == first;
            let rows = mine().filter(here).filter(|_| !over);
            out.extend(rows.map(|row| Next { row, batch: None }));
            continue;
        };
        let batch = m.bench.as_ref().map(|b| b.batch.id);
        let rows = mine().filter(|r| open.contains(&list[r.task].key));
        out.extend(rows.map(|row| Next { row, batch }));
    }
    let first = out.iter().map(|n| n.row.start).filter(|s| *s > now).min();
    out.retain(|n| n.row.start <= now || Some(n.row.start) == first);
    out.sort_by_key(|n| (n.row.start, n.row.end));
    out
}

/// The steps under way, then those that begin next, each with how long it is till then. One that is
/// at the bench is ticked here as well as there.
pub fn section(app: &App, day: &Planned) -> Markup {
    let now = day.clock.now();
    let till = |m: i32| words::away((m - now).max(0));
    let hour = |m: i32| {
        if day.clock.day(m) == day.clock.day(now) {
            day.clock.hour(m)
        } else {
            day.clock.words(m)
        }
    };
    let what = |r: &Row| words::title(&day.ask, r);
    html! {
        section.sheet aria-labelledby="next" data-next={ "/days/" (day.row.id) "/next" } data-k="next" {
            h2 #next { "What is next" }
            p.hint { "It is " (day.clock.hour(now)) " by this machine's clock." }
            @match &day.plan {
                Some(Ok(plan)) => {
                    @let next = list(day, plan);
                    @if day.stage == Stage::Over && next.iter().all(|n| n.batch.is_none()) { p { "All of it was to be ready by " (day.clock.words(plan.end)) ": this day is over." } }
                    @else if next.is_empty() { p { "Nothing more begins." } }
                    ul.front { @for n in &next {
                        @let r = n.row;
                        li data-k={ "next-" (r.job) "-" (r.task) } {
                            span {
                                @if r.start > now { strong { (hour(r.start)) " " (what(r)) } br;
                                    small { "in " (till(r.start)) ": " (degrees_in(&words::figures(&day.ask.jobs[r.job].tasks.list[r.task], &|t| oven_words(&day.settings, t)), locale(&day.settings))) } }
                                @else { strong { (what(r)) } br; small {
                                    @if r.work_end > now { "at work since " (hour(r.start)) ", to " (hour(r.work_end)) }
                                    @else if r.end > now { (words::place(&day.ask, r)) " until " (hour(r.end)) ", " (till(r.end)) " to go" }
                                    @else { "was to be over at " (hour(r.end)) ", " (words::away(now - r.end)) " ago" }
                                } }
                            }
                            @if n.batch.is_some() { (tick(app, day, r, true)) }
                        }
                    } }
                    (last_done(app, day, plan))
                }
                Some(Err(_)) => p { "There is no plan yet: see below what makes it impossible." },
                None => p { "Put a recipe on the day first." },
            }
        }
    }
}

/// The step that was ticked last, to take back.
fn last_done(app: &App, day: &Planned, plan: &Plan) -> Markup {
    let made = day.made.iter().enumerate();
    let marks = made.flat_map(|(j, m)| {
        let open = m.bench.iter().filter(|b| b.batch.finished.is_none());
        open.flat_map(move |b| b.batch.marks.iter().map(move |m| (j, m)))
    });
    let ticked = marks.filter(|(_, m)| m.ticked).filter_map(|(j, m)| {
        let key = m.item.strip_prefix(MARK)?;
        let list = &day.ask.jobs[j].tasks.list;
        let mut rows = plan.rows.iter();
        let row = rows.find(|r| r.job == j && list[r.task].key == key)?;
        Some((m.at, row))
    });
    let last = ticked.max_by_key(|(at, _)| *at);
    html! {
        @if let Some((_, row)) = last {
            div.row { span { "Done last: " (words::title(&day.ask, row)) "." } (tick(app, day, row, false)) }
        }
    }
}

/// Ticks a step at the bench, or takes the tick back.
fn tick(app: &App, day: &Planned, row: &Row, done: bool) -> Markup {
    let bench = day.made[row.job].bench.as_ref();
    let key = &day.ask.jobs[row.job].tasks.list[row.task].key;
    html! {
        @if let Some(b) = bench {
            form method="post" action={ "/bench/" (b.batch.id) "/mark" } {
                (bench::seal(app, &b.batch))
                input type="hidden" name="item" value={ (MARK) (key) };
                input type="hidden" name="day" value=(day.row.id);
                button.small name="ticked" value=(if done { "1" } else { "0" }) { @if done { "Done" } @else { "Not done yet" } span.unseen { ": " (words::title(&day.ask, row)) } }
            }
        }
    }
}
