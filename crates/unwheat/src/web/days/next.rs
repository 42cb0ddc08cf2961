//! What is next on a day, by the clock of this machine.

use super::planned::{Planned, Stage, planned};
use crate::day::words;
use crate::web::app::{Shared, run};
use crate::web::fault::Fault;
use crate::web::page::html_page;
use axum::extract::{Path, State};
use axum::response::Response;
use maud::{Markup, html};
use recipe::plan::Row;

/// The part alone, for the page's script.
pub async fn show(State(app): State<Shared>, Path(id): Path<i64>) -> Result<Response, Fault> {
    run(app, move |app| {
        let day = planned(app, app.kitchen.day(id)?)?;
        Ok(html_page(section(&day)))
    })
    .await
}

/// The steps under way, then those that begin next, each with how long it is till then.
pub fn section(day: &Planned) -> Markup {
    let now = day.clock.now();
    let till = |m: i32| words::minutes((m - now).max(0));
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
                Some(Ok(plan)) if day.stage == Stage::Over => p { "All of it was to be ready by " (day.clock.words(plan.end)) ": this day is over." },
                Some(Ok(plan)) => {
                    @let next = plan.rows.iter().find(|r| r.start > now);
                    ul.front {
                        @for r in plan.under_way(now) {
                            li { span { strong { (what(r)) } br; small {
                                @if r.work_end > now { "at work since " (hour(r.start)) ", to " (hour(r.work_end)) }
                                @else { (words::place(&day.ask, r)) " until " (hour(r.end)) ", " (till(r.end)) " to go" }
                            } } }
                        }
                        @if let Some(first) = next {
                            @for r in plan.rows.iter().filter(|r| r.start == first.start) {
                                li { span { strong { (hour(r.start)) " " (what(r)) } br;
                                    small { "in " (till(r.start)) ": " (words::figures(&day.ask.jobs[r.job].tasks.list[r.task])) } } }
                            }
                        } @else { li { span { "Nothing more begins." } } }
                    }
                }
                Some(Err(_)) => p { "There is no plan yet: see below what makes it impossible." },
                None => p { "Put a recipe on the day first." },
            }
        }
    }
}
