//! What a step does, and for how long.

use crate::recipe::{Activity, FactKind, Step};
use quantity::{Spread, Time};

pub(super) fn spread(low: f64, likely: f64, high: f64) -> Spread<Time> {
    let to = Time::minutes;
    Spread::new(to(low), to(likely), to(high))
}

/// A tenth to a quarter longer.
pub(in crate::rework) fn longer(t: Spread<Time>) -> Spread<Time> {
    let tidy = |m: f64| {
        if m > 10.0 {
            m.round()
        } else {
            (m * 2.0).round() / 2.0
        }
    };
    spread(
        tidy(t.low().as_minutes() * 1.1),
        tidy(t.likely().as_minutes() * 1.175),
        tidy(t.high().as_minutes() * 1.25),
    )
}

/// Whether a step does something, and for how long when it says.
#[allow(
    clippy::option_option,
    reason = "done without a time is not the same as not done"
)]
pub(super) fn doing(step: &Step, what: Activity) -> Option<Option<Spread<Time>>> {
    let timed = step.facts.iter().find_map(|f| match &f.kind {
        FactKind::Duration {
            value,
            doing: Some(a),
        } if *a == what => Some(Some(*value)),
        _ => None,
    });
    timed.or_else(|| {
        step.facts
            .iter()
            .any(|f| f.kind == FactKind::Doing(what))
            .then_some(None)
    })
}

/// The longest time a step does something for.
pub(super) fn longest(step: &Step, what: Activity) -> Option<Spread<Time>> {
    step.facts
        .iter()
        .filter_map(|f| match &f.kind {
            FactKind::Duration {
                value,
                doing: Some(a),
            } if *a == what => Some(*value),
            _ => None,
        })
        .max_by(|a, b| a.high().as_minutes().total_cmp(&b.high().as_minutes()))
}

/// How many rises a step has: a second one follows knocking back, kneading or shaping.
pub(super) fn rises_in(step: &Step) -> usize {
    let (mut count, mut worked) = (0, true);
    for f in &step.facts {
        let what = match &f.kind {
            FactKind::Doing(a) => Some(*a),
            FactKind::Duration { doing, .. } => *doing,
            _ => None,
        };
        match what {
            Some(Activity::Rise) if worked => (count, worked) = (count + 1, false),
            Some(Activity::KnockBack | Activity::Knead | Activity::Shape) => worked = true,
            _ => {}
        }
    }
    count
}
