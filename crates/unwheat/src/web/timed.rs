//! What the Plan page of a recipe and a day show of a plan alike: the bars of its picture, its calendar
//! file.

use super::app::App;
use super::picture::Bar;
use crate::day::ics::Calendar;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use recipe::plan::{Ask, Place, Plan, Row};

/// What the strokes of the picture mean.
pub const STROKES: &str = "Full: work. Hatched: in the oven. Dotted: in the cold. Light: in the room. Shaded across: hours without work, drawn short. Broken line: now.";

/// A bar for each step, recipe by recipe.
pub fn bars(ask: &Ask, plan: &Plan) -> Vec<Bar> {
    let several = ask.jobs.len() > 1;
    let mut rows: Vec<&Row> = plan.rows.iter().collect();
    rows.sort_by_key(|r| (r.job, r.start, r.end));
    let bar = |r: &&Row| {
        let tasks = &ask.jobs[r.job].tasks;
        let task = &tasks.list[r.task];
        let place = task.wait.map(|w| w.place);
        Bar {
            name: task.title(),
            start: r.start,
            work_end: r.work_end,
            end: r.end,
            hot: place == Some(Place::Oven),
            cold: place.is_some_and(Place::is_cold),
            of: if several {
                tasks.title.clone()
            } else {
                String::new()
            },
        }
    };
    rows.iter().map(bar).collect()
}

/// A plan as a calendar file to keep.
///
/// # Arguments
/// * `file` — `day.ics`.
pub fn calendar(app: &App, calendar: &Calendar<'_>, file: &str) -> Response {
    let stamp = jiff::Timestamp::from_second(app.now()).unwrap_or(jiff::Timestamp::UNIX_EPOCH);
    let kept = format!("attachment; filename=\"{file}\"");
    let head = [
        (
            header::CONTENT_TYPE,
            "text/calendar; charset=utf-8".to_owned(),
        ),
        (header::CONTENT_DISPOSITION, kept),
    ];
    (head, calendar.text(stamp)).into_response()
}
