//! What is next of a plan, in the terminal.

use super::clock::Clock;
use super::words::{ANY_OVEN, figures, named, title};
use crate::show::Style;
use crate::show::table::paragraph;
use quantity::{Locale, degrees_in};
use recipe::plan::{Ask, Plan, Row, Stage, stages};

/// Of what comes after, so many steps are told: the table has all.
const AFTER: usize = 2;

/// The steps under way, those that can begin now, and the first of those that come after, with what
/// they wait for.
pub fn text(ask: &Ask, plan: &Plan, clock: &Clock, style: &Style, locale: Locale) -> String {
    let stages = stages(ask, plan);
    let rows = || plan.rows.iter().zip(&stages);
    let hour = |m| clock.beside(m, ask.now);
    let mut out = format!(
        "\n{}\n",
        style.heading(&format!("What is next, at {}", clock.hour(ask.now)))
    );
    let mut say = |words: &str| out.push_str(&paragraph("  ", words));
    for (r, _) in rows().filter(|(_, s)| **s == Stage::UnderWay) {
        let until = ask.begun(r.job, r.task).map_or(r.end, |b| b.end);
        say(&format!(
            "Under way: {}, until {}.",
            title(ask, r),
            hour(until)
        ));
    }
    let can = |r: &Row| {
        let task = &ask.jobs[r.job].tasks.list[r.task];
        let what = degrees_in(&figures(task, ANY_OVEN), locale);
        let begin = match (r.start > ask.now, r.slack > 0) {
            (true, true) => format!(
                "planned for {}, by {} at the latest",
                hour(r.start),
                hour(r.start + r.slack)
            ),
            (true, false) => format!("planned for {}, no later", hour(r.start)),
            (false, true) => format!("by {} at the latest", hour(r.start + r.slack)),
            (false, false) => "no later".to_owned(),
        };
        let what = if what.is_empty() {
            what
        } else {
            format!(": {what}")
        };
        format!("Can begin now: {}{what}; {begin}.", title(ask, r))
    };
    for (r, _) in rows().filter(|(_, s)| **s == Stage::CanBegin) {
        say(&can(r));
    }
    // What waits for another that waits is not next.
    let near = |r: &Row, of: &[usize]| {
        of.iter().all(|t| {
            let mut before = rows().filter(|(b, _)| (b.job, b.task) == (r.job, *t));
            before.all(|(_, s)| matches!(s, Stage::UnderWay | Stage::CanBegin))
        })
    };
    let after = rows().filter_map(|(r, s)| match s {
        Stage::Waits(of) if near(r, of) => {
            let of: Vec<String> = of
                .iter()
                .map(|t| format!("'{}'", named(ask, r.job, *t)))
                .collect();
            Some(format!(
                "Then, at {}: {}, after {}.",
                hour(r.start),
                title(ask, r),
                quantity::listed(&of)
            ))
        }
        Stage::From(from) => Some(format!(
            "Then, at {}: {}{}.",
            hour(r.start),
            title(ask, r),
            if *from < r.start {
                format!(", from {} at the earliest", hour(*from))
            } else {
                String::new()
            }
        )),
        _ => None,
    });
    for words in after.take(AFTER) {
        say(&words);
    }
    if stages.iter().all(|s| *s == Stage::Over) {
        say("Every step is done.");
    }
    out
}
