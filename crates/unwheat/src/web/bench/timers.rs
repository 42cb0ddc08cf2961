//! Timers where there are no scripts: begun by a form, told by the clock.

use super::batch_sheet::{Offer, minutes};
use super::next::hour;
use super::{Bench, Done, seal, take};
use crate::web::app::{App, Shared, run};
use crate::web::fault::Fault;
use crate::web::post::{Named, figure};
use axum::extract::{Path, State};
use axum::response::Response;
use maud::{Markup, html};
use store::Timer;

/// The timers of a batch, each with when it was begun and when to look.
pub fn list(app: &App, b: &Bench, part: usize) -> Markup {
    let way = |anchor: &str| way(app, b, part, anchor);
    html! {
        noscript {
            p { "Scripts are off in this browser: nothing sounds, and this page tells the times when it is loaded again." }
            ul #told {
                @for t in &b.batch.timers { li {
                    strong { (t.label) } ", " (told(t, app.now_ms())) "."
                    @if !t.done { form.inline method="post" action=(address(b)) {
                        (way("told"))
                        " " button.plain name="stop" value=(t.uid) { "Stop" span.unseen { ": " (t.label) } }
                    } }
                } }
                @if b.batch.timers.is_empty() { li { "No timer yet." } }
            }
            details {
                summary { "New timer" }
                form.own-timer method="post" action=(address(b)) {
                    (way("told"))
                    div { label for="plain-min" { "Minutes" } input #plain-min.f name="minutes" inputmode="decimal" autocomplete="off" required; }
                    div.grow { label for="plain-for" { "What for" } input #plain-for name="label" maxlength="80" autocomplete="off"; }
                    button.do.big { "Start" }
                }
            }
        }
    }
}

/// The way to begin a timer that is offered.
pub fn start(app: &App, b: &Bench, part: usize, anchor: &str, o: &Offer) -> Markup {
    html! {
        noscript { form.inline method="post" action=(address(b)) {
            (way(app, b, part, anchor))
            input type="hidden" name="minutes" value=(o.minutes);
            " " button.big name="label" value=(o.words()) { "Start" span.unseen { " a timer: " (o.words()) } }
        } }
    }
}

fn address(b: &Bench) -> String {
    format!("/bench/{}/timer", b.batch.id)
}

fn way(app: &App, b: &Bench, part: usize, anchor: &str) -> Markup {
    html! {
        (seal(app, &b.batch))
        input type="hidden" name="part" value=(part + 1);
        input type="hidden" name="anchor" value=(anchor);
    }
}

/// `started 14:05, look at 14:35`.
fn told(t: &Timer, now_ms: i64) -> String {
    let now = now_ms / 1000;
    let long = |s: f64| minutes((s / 60.0).ceil());
    match (t.ends, t.left) {
        _ if t.done => format!("{}, stopped", long(t.seconds)),
        (Some(ends), _) => {
            let begun = hour(ends / 1000 - t.seconds as i64, now);
            let look = hour(ends / 1000, now);
            if ends <= now_ms {
                format!("started {begun}: look now, it was to be {look}")
            } else {
                format!("started {begun}, look at {look}")
            }
        }
        (None, left) => format!("held, {} left", long(left.unwrap_or(t.seconds))),
    }
}

/// Begins or stops a timer by a form.
pub async fn set(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    Named(post): Named,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let bench = Bench::of_form(app, id, &post)?;
        let now = app.now_ms();
        let timer = match post.some("stop") {
            Some(uid) => {
                let known = bench.batch.timers.iter().find(|t| t.uid == uid);
                let timer = known.ok_or_else(|| Fault::Missing("such timer".to_owned()))?;
                Timer {
                    done: true,
                    ..timer.clone()
                }
            }
            None => {
                let minutes = figure(post.text("minutes"), "the minutes")?;
                let minutes = minutes
                    .filter(|m| *m > 0.0 && *m <= 10_080.0)
                    .ok_or_else(|| {
                        Fault::bad("a timer needs minutes: write them like 20 or 2.5")
                    })?;
                Timer {
                    uid: format!("form-{now}"),
                    label: post.some("label").unwrap_or("Timer").to_owned(),
                    seconds: minutes * 60.0,
                    ends: Some(now + (minutes * 60_000.0) as i64),
                    left: None,
                    done: false,
                }
            }
        };
        take(app, &bench, Done::Timer { timer })?;
        Ok(super::back_to_part(id, &post, ""))
    })
    .await
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_timer_is_told_by_the_clock() {
        // Noon in the machine's own zone is not known here: the hours are those of the clock.
        let now = 1_796_000_000_000;
        let timer = |ends: Option<i64>, left, done| Timer {
            uid: "a".to_owned(),
            label: "Rise".to_owned(),
            seconds: 1800.0,
            ends,
            left,
            done,
        };
        let at = |ms: i64| hour(ms / 1000, now / 1000);
        let ten = 600_000;
        for (t, words) in [
            (
                timer(Some(now + ten), None, false),
                format!("started {}, look at {}", at(now - 2 * ten), at(now + ten)),
            ),
            (
                timer(Some(now - ten), None, false),
                format!(
                    "started {}: look now, it was to be {}",
                    at(now - 4 * ten),
                    at(now - ten)
                ),
            ),
            (
                timer(None, Some(290.0), false),
                "held, 5 min left".to_owned(),
            ),
            (timer(None, None, true), "30 min, stopped".to_owned()),
        ] {
            assert_eq!(told(&t, now), words);
        }
    }
}
