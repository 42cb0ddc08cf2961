//! What a schedule comes to, worked out from the problem as it is written and from nothing that
//! the search knows: which rules it breaks, and what its goals count.

use super::problem::{
    Activity, ActivityId, CalendarId, ChoiceId, Edge, FollowId, Goal, Kept, LagId, Point, Problem,
    ResourceId, Term, Window,
};
use super::solution::{Placed, Rule, Side};

impl Problem {
    /// The rules that a schedule breaks, in the order of [`Rule`], each once. A schedule need not
    /// come from [`super::solve()`]: what somebody moved by hand may be asked about too.
    ///
    /// # Inputs
    /// - `placed`: one place for every activity, `None` where it is left out.
    ///
    /// # Returns
    /// Nothing: it keeps them all. A wrong length of an activity, or one that is left out though
    /// it is not optional, is not a rule that could be broken and is told by [`Problem::fits`].
    #[must_use]
    pub fn broken(&self, placed: &[Option<Placed>]) -> Vec<Rule> {
        let mut rules = Vec::new();
        for (at, activity) in self.activities.iter().enumerate() {
            let Some(there) = placed[at] else { continue };
            if there.start < self.span.from {
                rules.push(Rule::Span(Side::Least));
            }
            if there.end > self.span.to {
                rules.push(Rule::Span(Side::Most));
            }
            let id = ActivityId(at);
            let start = sides(activity.start, there.start);
            let end = sides(activity.end, there.end);
            rules.extend(start.into_iter().flatten().map(|s| Rule::Start(id, s)));
            rules.extend(end.into_iter().flatten().map(|s| Rule::End(id, s)));
            self.closed(id, activity, there, &mut rules);
        }
        for (at, lag) in self.lags.iter().enumerate() {
            let (from, to) = (moment(placed, lag.from), moment(placed, lag.to));
            if let (Some(from), Some(to)) = (from, to) {
                let window = Window {
                    earliest: lag.least,
                    latest: lag.most,
                };
                let broken = sides(window, to - from);
                rules.extend(
                    broken
                        .into_iter()
                        .flatten()
                        .map(|s| Rule::Lag(LagId(at), s)),
                );
            }
        }
        for (at, choice) in self.choices.iter().enumerate() {
            let chosen = choice.among.iter().filter(|a| placed[a.0].is_some());
            let chosen = chosen.count();
            if chosen < choice.least {
                rules.push(Rule::Choice(ChoiceId(at), Side::Least));
            }
            if chosen > choice.most {
                rules.push(Rule::Choice(ChoiceId(at), Side::Most));
            }
        }
        for (at, follow) in self.follows.iter().enumerate() {
            if placed[follow.when.0].is_some() && placed[follow.then.0].is_none() {
                rules.push(Rule::Follow(FollowId(at)));
            }
        }
        for at in 0..self.resources.len() {
            self.held(at, placed, &mut rules);
        }
        rules.sort_unstable();
        rules.dedup();
        rules
    }

    /// Whether a schedule places the activities that must be there, each at a length it may have.
    #[must_use]
    pub fn fits(&self, placed: &[Option<Placed>]) -> bool {
        placed.len() == self.activities.len()
            && self
                .activities
                .iter()
                .zip(placed)
                .all(|(activity, place)| match place {
                    None => activity.optional,
                    Some(p) => {
                        (activity.length.least..=activity.length.most).contains(&(p.end - p.start))
                    }
                })
    }

    /// What a goal comes to in a schedule.
    #[must_use]
    pub fn value(&self, goal: &Goal, placed: &[Option<Placed>]) -> i64 {
        let over = |by: i32| i64::from(by.max(0));
        let there = |a: ActivityId, of: &dyn Fn(Placed) -> i64| placed[a.0].map_or(0, of);
        let each = |term: Term| match term {
            Term::FirstStart => {
                let first = placed.iter().flatten().map(|p| p.start).min();
                i64::from(first.unwrap_or(self.span.from))
            }
            Term::LastEnd => {
                let last = placed.iter().flatten().map(|p| p.end).max();
                i64::from(last.unwrap_or(self.span.from))
            }
            Term::Start(a) => there(a, &|p| i64::from(p.start)),
            Term::End(a) => there(a, &|p| i64::from(p.end)),
            Term::Skipped(a) => i64::from(placed[a.0].is_none()),
            Term::LagOver(lag, more) => {
                let lag = &self.lags[lag.0];
                match (moment(placed, lag.from), moment(placed, lag.to)) {
                    (Some(from), Some(to)) => over(to - from - more),
                    _ => 0,
                }
            }
            Term::LongerThan(a, than) => there(a, &|p| over(p.end - p.start - than)),
            Term::ShorterThan(a, than) => there(a, &|p| over(than - (p.end - p.start))),
            Term::EndsBefore(a, when) => there(a, &|p| over(when - p.end)),
            Term::EndsAfter(a, when) => there(a, &|p| over(p.end - when)),
            Term::StartsBefore(a, when) => there(a, &|p| over(when - p.start)),
            Term::StartsAfter(a, when) => there(a, &|p| over(p.start - when)),
        };
        let terms = goal.terms.iter();
        terms.map(|(weight, t)| i64::from(*weight) * each(*t)).sum()
    }

    fn closed(&self, id: ActivityId, activity: &Activity, there: Placed, rules: &mut Vec<Rule>) {
        for avoid in &activity.avoids {
            let spans = &self.calendars[avoid.calendar.0].closed;
            for (which, span) in spans.iter().enumerate() {
                let within = match avoid.kept {
                    Kept::Whole => there.start < span.to && there.end > span.from,
                    Kept::Start => (span.from..span.to).contains(&there.start),
                    Kept::End => there.end > span.from && there.end < span.to,
                };
                if within {
                    rules.push(Rule::Closed(CalendarId(avoid.calendar.0), which, id));
                }
            }
        }
    }

    fn held(&self, at: usize, placed: &[Option<Placed>], rules: &mut Vec<Rule>) {
        let resource = &self.resources[at];
        let id = ResourceId(at);
        let mut holders = Vec::new();
        for (activity, place) in self.activities.iter().zip(placed) {
            let Some(place) = place else { continue };
            let needs = activity.needs.iter().filter(|n| n.resource == id);
            for need in needs.filter(|_| place.end > place.start) {
                holders.push((
                    place.start,
                    place.end,
                    u64::from(need.amount),
                    need.state.map(|s| (s, need.brings)),
                ));
            }
        }
        let taken = resource.taken.iter();
        holders.extend(taken.map(|t| (t.span.from, t.span.to, u64::from(t.amount), None)));
        for (i, (start, end, _, state)) in holders.iter().enumerate() {
            let running = holders.iter().filter(|h| h.0 <= *start && *start < h.1);
            let held: u64 = running.map(|h| h.2).sum();
            if held > u64::from(resource.capacity) {
                rules.push(Rule::Capacity(id));
            }
            for (from, to, _, other) in &holders[i + 1..] {
                if let (Some(a), Some(b)) = (state, other)
                    && a.0 != b.0
                {
                    let change = |before: usize, (then, brings): (usize, bool)| {
                        i64::from(if brings {
                            0
                        } else {
                            resource.changeover.between(before, then)
                        })
                    };
                    let first = i64::from(*from) - i64::from(*end);
                    let second = i64::from(*start) - i64::from(*to);
                    let apart = first >= change(a.0, *b) || second >= change(b.0, *a);
                    if !apart {
                        rules.push(Rule::State(id));
                    }
                }
            }
        }
    }
}

/// Which sides of a window something is outside of.
fn sides(window: Window, at: i32) -> [Option<Side>; 2] {
    [
        window.earliest.filter(|e| at < *e).map(|_| Side::Least),
        window.latest.filter(|l| at > *l).map(|_| Side::Most),
    ]
}

/// When a moment is.
fn moment(placed: &[Option<Placed>], point: Point) -> Option<i32> {
    placed[point.activity.0].map(|p| match point.edge {
        Edge::Start => p.start,
        Edge::End => p.end,
    })
}
