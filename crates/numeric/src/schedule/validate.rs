//! Refuses problems that make no sense.

use super::problem::{ActivityId, Changeover, Give, Goal, Problem, Span, Term, Window};
use super::solution::Trouble;

/// No moment and no length is beyond this many minutes from 0: a little over nineteen years.
pub(super) const FAR: i32 = 10_000_000;

/// The greatest weight of a term and the greatest price.
const HEAVY: u32 = 10_000;

type Check = Result<(), Trouble>;

fn wrong(place: String, wrong: impl Into<String>) -> Trouble {
    Trouble::Malformed {
        place,
        wrong: wrong.into(),
    }
}

impl Problem {
    /// Refuses what cannot be meant.
    pub(super) fn validate(&self) -> Check {
        span("span", self.span)?;
        price("sooner", self.sooner)?;
        price("later", self.later)?;
        for at in 0..self.activities.len() {
            self.activity_makes_sense(at)?;
        }
        self.lags_make_sense()?;
        self.resources_make_sense()?;
        self.calendars_make_sense()?;
        for (at, choice) in self.choices.iter().enumerate() {
            let place = format!("choices[{at}]");
            for (i, a) in choice.among.iter().enumerate() {
                self.known(&place, *a)?;
                if choice.among[..i].contains(a) {
                    return Err(wrong(place, "the same activity twice; name each once"));
                }
            }
            if choice.least > choice.most || choice.least > choice.among.len() {
                let n = choice.among.len();
                let text = format!(
                    "at least {} and at most {} of {n}; give least ≤ most and least ≤ {n}",
                    choice.least, choice.most
                );
                return Err(wrong(place, text));
            }
        }
        for (at, follow) in self.follows.iter().enumerate() {
            let place = format!("follows[{at}]");
            self.known(&place, follow.when)?;
            self.known(&place, follow.then)?;
        }
        for (at, goal) in self.goals.iter().enumerate() {
            self.goal_makes_sense(at, goal)?;
        }
        Ok(())
    }

    fn known(&self, place: &str, id: ActivityId) -> Check {
        if id.0 < self.activities.len() {
            return Ok(());
        }
        let text = format!(
            "activity {} of {}; give an index that `Problem::activity` gave",
            id.0,
            self.activities.len()
        );
        Err(wrong(place.to_owned(), text))
    }

    fn activity_makes_sense(&self, at: usize) -> Check {
        let activity = &self.activities[at];
        let place = |what: &str| format!("activities[{at}].{what}");
        let length = activity.length;
        if length.least < 0 || length.most < length.least || length.most > FAR {
            let text = format!(
                "{} to {} minutes; give 0 ≤ least ≤ most ≤ {FAR}",
                length.least, length.most
            );
            return Err(wrong(place("length"), text));
        }
        window(&place("start"), activity.start)?;
        window(&place("end"), activity.end)?;
        price(&place("give"), activity.give)?;
        for (i, need) in activity.needs.iter().enumerate() {
            let place = place(&format!("needs[{i}]"));
            let Some(resource) = self.resources.get(need.resource.0) else {
                let text = format!(
                    "resource {} of {}; give an index that `Problem::resource` gave",
                    need.resource.0,
                    self.resources.len()
                );
                return Err(wrong(place, text));
            };
            if activity.needs[..i]
                .iter()
                .any(|n| n.resource == need.resource)
            {
                return Err(wrong(place, "the same resource twice; add the amounts up"));
            }
            if need.amount > FAR.unsigned_abs() {
                return Err(wrong(
                    place,
                    format!("an amount above {FAR}; use larger units"),
                ));
            }
            if let (Changeover::Table(rows), Some(state)) = (&resource.changeover, need.state)
                && state >= rows.len()
            {
                let text = format!(
                    "state {state}, but the table of changes has {} rows; add a row and a column",
                    rows.len()
                );
                return Err(wrong(place, text));
            }
        }
        for (i, avoid) in activity.avoids.iter().enumerate() {
            if avoid.calendar.0 >= self.calendars.len() {
                let text = format!(
                    "calendar {} of {}; give an index that `Problem::calendar` gave",
                    avoid.calendar.0,
                    self.calendars.len()
                );
                return Err(wrong(place(&format!("avoids[{i}]")), text));
            }
        }
        Ok(())
    }

    fn lags_make_sense(&self) -> Check {
        for (at, lag) in self.lags.iter().enumerate() {
            let place = format!("lags[{at}]");
            self.known(&place, lag.from.activity)?;
            self.known(&place, lag.to.activity)?;
            price(&place, lag.give)?;
            for bound in [lag.least, lag.most].into_iter().flatten() {
                near(&place, bound)?;
            }
            if let (Some(least), Some(most)) = (lag.least, lag.most)
                && least > most
            {
                let text = format!("at least {least} and at most {most}; give least ≤ most");
                return Err(wrong(place, text));
            }
        }
        Ok(())
    }

    fn resources_make_sense(&self) -> Check {
        for (at, resource) in self.resources.iter().enumerate() {
            let place = format!("resources[{at}]");
            price(&place, resource.give)?;
            if resource.capacity > FAR.unsigned_abs() {
                return Err(wrong(
                    place,
                    format!("a capacity above {FAR}; use larger units"),
                ));
            }
            let minutes: Vec<i32> = match &resource.changeover {
                Changeover::Same(minutes) => vec![*minutes],
                Changeover::Table(rows) => {
                    if rows.iter().any(|r| r.len() != rows.len()) {
                        return Err(wrong(place, "the table of changes is not square"));
                    }
                    rows.iter().flatten().copied().collect()
                }
            };
            if minutes.iter().any(|m| !(0..=FAR).contains(m)) {
                let text = format!("a change below 0 or above {FAR} minutes");
                return Err(wrong(place, text));
            }
            for (i, taken) in resource.taken.iter().enumerate() {
                span(&format!("{place}.taken[{i}]"), taken.span)?;
                let running = resource
                    .taken
                    .iter()
                    .filter(|t| t.span.from <= taken.span.from && taken.span.from < t.span.to);
                let held: u64 = running.map(|t| u64::from(t.amount)).sum();
                if held > u64::from(resource.capacity) {
                    let text = format!(
                        "{held} of {} units are spoken for at {}; no more can be than there are",
                        resource.capacity, taken.span.from
                    );
                    return Err(wrong(format!("{place}.taken[{i}]"), text));
                }
            }
        }
        Ok(())
    }

    fn calendars_make_sense(&self) -> Check {
        for (at, calendar) in self.calendars.iter().enumerate() {
            price(&format!("calendars[{at}]"), calendar.give)?;
            for (i, closed) in calendar.closed.iter().enumerate() {
                let place = format!("calendars[{at}].closed[{i}]");
                span(&place, *closed)?;
                if i > 0 && calendar.closed[i - 1].to > closed.from {
                    return Err(wrong(place, "begins before the span before it is over"));
                }
            }
        }
        Ok(())
    }

    fn goal_makes_sense(&self, at: usize, goal: &Goal) -> Check {
        for (i, (weight, term)) in goal.terms.iter().enumerate() {
            let place = format!("goals[{at}].terms[{i}]");
            if weight.unsigned_abs() > HEAVY {
                let text = format!("a weight of {weight}; give −{HEAVY} to {HEAVY}");
                return Err(wrong(place, text));
            }
            let counts = match term {
                Term::FirstStart | Term::LastEnd => {
                    if self.activities.iter().all(|a| a.optional) {
                        let text = "the first or last of activities that are all optional; \
                                    make one of them not so";
                        return Err(wrong(place, text));
                    }
                    false
                }
                Term::Start(a) | Term::End(a) | Term::Skipped(a) => {
                    self.known(&place, *a)?;
                    false
                }
                Term::LagOver(lag, over) => {
                    if lag.0 >= self.lags.len() {
                        let text = format!(
                            "lag {} of {}; give an index that `Problem::lag` gave",
                            lag.0,
                            self.lags.len()
                        );
                        return Err(wrong(place, text));
                    }
                    near(&place, *over)?;
                    true
                }
                Term::LongerThan(a, by)
                | Term::ShorterThan(a, by)
                | Term::EndsBefore(a, by)
                | Term::EndsAfter(a, by)
                | Term::StartsBefore(a, by)
                | Term::StartsAfter(a, by) => {
                    self.known(&place, *a)?;
                    near(&place, *by)?;
                    true
                }
            };
            if counts && *weight < 0 {
                let text = format!(
                    "a weight of {weight} on minutes beyond a mark; only 0 and more can be minimised"
                );
                return Err(wrong(place, text));
            }
        }
        let width = i64::from(self.span.to) - i64::from(self.span.from);
        let most: i64 = goal
            .terms
            .iter()
            .map(|(weight, _)| i64::from(weight.abs()) * (width + i64::from(self.span.to.abs())))
            .sum();
        if most > i64::from(i32::MAX / 4) {
            let text = format!(
                "may come to {most}; give smaller weights or a shorter span (below {})",
                i32::MAX / 4
            );
            return Err(wrong(format!("goals[{at}]"), text));
        }
        Ok(())
    }
}

fn near(place: &str, minutes: i32) -> Check {
    if (-FAR..=FAR).contains(&minutes) {
        return Ok(());
    }
    let text = format!("{minutes} minutes; give −{FAR} to {FAR}");
    Err(wrong(place.to_owned(), text))
}

fn span(place: &str, span: Span) -> Check {
    near(place, span.from)?;
    near(place, span.to)?;
    if span.from < span.to {
        return Ok(());
    }
    let text = format!("{} to {}; give from < to", span.from, span.to);
    Err(wrong(place.to_owned(), text))
}

fn window(place: &str, window: Window) -> Check {
    for bound in [window.earliest, window.latest].into_iter().flatten() {
        near(place, bound)?;
    }
    Ok(())
}

fn price(place: &str, give: Give) -> Check {
    match give {
        Give::At(price) if !(1..=HEAVY).contains(&price) => {
            let text = format!("gives way at a price of {price}; give 1 to {HEAVY}, or `Never`");
            Err(wrong(place.to_owned(), text))
        }
        _ => Ok(()),
    }
}
