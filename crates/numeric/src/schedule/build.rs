//! The problem, or one of the two questions that an explanation asks about it, as a model.

use super::engine::{Order, Way};
use super::model::{Atom, Model, Shifted, Sum, Var, is, is_not};
use super::problem::{Activity, ActivityId, Edge, Give, Kept, Point, Problem, Window};
use super::solution::{Bound, Placed, Rule, Side};
use std::collections::{BTreeMap, BTreeSet};

/// Which question the model is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Mode {
    /// A schedule: every rule holds.
    Keep,
    /// A clash: every rule holds while its flag is 1.
    Guard,
    /// The cheapest way out: rules that may give way do, by minutes that are paid for.
    Give,
}

/// Minutes (or units) by which a rule gives way.
#[derive(Debug, Clone, Copy)]
pub(super) struct Slack {
    pub what: Bound,
    pub by: Var,
    pub price: u32,
}

/// A problem as a model.
#[derive(Debug)]
pub(super) struct Built<'a> {
    pub problem: &'a Problem,
    pub mode: Mode,
    pub model: Model,
    /// The earliest minute and the latest.
    pub low: i32,
    pub high: i32,
    pub starts: Vec<Shifted>,
    pub ends: Vec<Shifted>,
    /// A flag for every optional activity.
    pub present: Vec<Option<Var>>,
    pub order: Order,
    /// A flag for every rule that is guarded.
    pub guards: BTreeMap<Rule, Var>,
    /// Where rules give way.
    pub slacks: Vec<Slack>,
    /// Flags that hold when all of some others do.
    all: BTreeMap<Vec<Var>, Var>,
    /// Flags that mean that one moment is after another by so much.
    after: BTreeMap<(Var, i32, Var, i32, i32), Var>,
    /// Activities, by their starts, of which a flag says which is first.
    pub pairs: BTreeSet<(Var, Var)>,
    /// Flags that mean that an activity has no length.
    empty: BTreeMap<usize, Var>,
}

impl<'a> Built<'a> {
    /// The model but for its goals.
    pub(super) fn new(problem: &'a Problem, mode: Mode, way: Way) -> Self {
        let stretched = |give: Give| match mode {
            Mode::Keep => false,
            Mode::Guard => true,
            Mode::Give => give != Give::Never,
        };
        let reach = |give: Give| if stretched(give) { reach(problem) } else { 0 };
        let mut built = Self {
            problem,
            mode,
            model: Model::default(),
            low: problem.span.from - reach(problem.sooner),
            high: problem.span.to + reach(problem.later),
            starts: Vec::new(),
            ends: Vec::new(),
            present: Vec::new(),
            order: Order {
                first: Vec::new(),
                times: Vec::new(),
                way,
                last: Vec::new(),
            },
            guards: BTreeMap::new(),
            slacks: Vec::new(),
            all: BTreeMap::new(),
            after: BTreeMap::new(),
            pairs: BTreeSet::new(),
            empty: BTreeMap::new(),
        };
        built.activities();
        built.windows();
        built.lags();
        built.closed();
        built.choices();
        built.resources();
        built
    }

    fn activities(&mut self) {
        // Parked activities lie one after the other, too far off for a length to span the gap.
        let longest = self.problem.activities.iter().map(|a| a.length.most).max();
        let mut park = self.high + longest.unwrap_or(0) + 1;
        for activity in &self.problem.activities {
            let length = activity.length;
            let (low, high) = (self.low, self.high - length.least);
            let fixed = length.least == length.most;
            let place = |plus: i32, model: &mut Model| {
                if activity.optional {
                    model.parking(low + plus, high + plus, park + plus)
                } else {
                    model.var(low + plus, high + plus)
                }
            };
            let start = place(0, &mut self.model);
            let end = if fixed {
                start
            } else {
                place(length.least, &mut self.model)
            };
            let start = Shifted {
                var: start,
                plus: 0,
            };
            let end = Shifted {
                var: end,
                plus: if fixed { length.least } else { 0 },
            };
            self.order.times.push(start.var);
            if !fixed {
                self.order.times.push(end.var);
                self.model.apart(start, end, length.least, None);
                self.model.apart(end, start, -length.most, None);
            }
            let present = activity.optional.then(|| {
                let flag = self.model.flag();
                self.model.clause(vec![is_not(flag), start.at_most(high)]);
                self.model.clause(vec![is(flag), start.at_least(park)]);
                park += length.most + 1;
                self.order.first.push(is(flag));
                flag
            });
            self.starts.push(start);
            self.ends.push(end);
            self.present.push(present);
        }
        self.span();
    }

    fn span(&mut self) {
        let problem = self.problem;
        let span = problem.span;
        let least = Rule::Span(Side::Least);
        let most = Rule::Span(Side::Most);
        let sooner = self.slack(Bound::Rule(least), problem.sooner, i32::MAX);
        let later = self.slack(Bound::Rule(most), problem.later, i32::MAX);
        for at in 0..problem.activities.len() {
            let (start, end) = (self.starts[at], self.ends[at]);
            let when = self.present[at].map(is);
            match sooner {
                Some(by) => self.model.sums.push(Sum {
                    terms: vec![(-1, start.var), (-1, by)],
                    at_most: start.plus - span.from,
                    when,
                }),
                None if self.mode == Mode::Guard => {
                    self.hold(least, &[at], vec![start.at_least(span.from)]);
                }
                None => {}
            }
            match later {
                Some(by) => self.model.sums.push(Sum {
                    terms: vec![(1, end.var), (-1, by)],
                    at_most: span.to - end.plus,
                    when,
                }),
                None if self.mode == Mode::Guard => {
                    self.hold(most, &[at], vec![end.at_most(span.to)]);
                }
                None => {}
            }
        }
    }

    fn windows(&mut self) {
        for (at, activity) in self.problem.activities.iter().enumerate() {
            let id = ActivityId(at);
            let (start, end) = (self.starts[at], self.ends[at]);
            self.window(activity, at, start, activity.start, |s| Rule::Start(id, s));
            self.window(activity, at, end, activity.end, |s| Rule::End(id, s));
        }
    }

    fn window(
        &mut self,
        activity: &Activity,
        at: usize,
        moment: Shifted,
        window: Window,
        rule: impl Fn(Side) -> Rule,
    ) {
        let sides = [(Side::Least, window.earliest), (Side::Most, window.latest)];
        for (side, bound) in sides {
            let Some(bound) = bound else { continue };
            let rule = rule(side);
            if let Some(by) = self.slack(Bound::Rule(rule), activity.give, i32::MAX) {
                let (sign, at_most) = match side {
                    Side::Least => (-1, moment.plus - bound),
                    Side::Most => (1, bound - moment.plus),
                };
                self.model.sums.push(Sum {
                    terms: vec![(sign, moment.var), (-1, by)],
                    at_most,
                    when: self.present[at].map(is),
                });
            } else {
                let atom = match side {
                    Side::Least => moment.at_least(bound),
                    Side::Most => moment.at_most(bound),
                };
                self.hold(rule, &[at], vec![atom]);
            }
        }
    }

    fn lags(&mut self) {
        for (at, lag) in self.problem.lags.iter().enumerate() {
            let id = super::problem::LagId(at);
            let (from, to) = (self.moment(lag.from), self.moment(lag.to));
            let there = [lag.from.activity.0, lag.to.activity.0];
            if let Some(least) = lag.least {
                self.distance(
                    Rule::Lag(id, Side::Least),
                    &there,
                    from,
                    to,
                    least,
                    lag.give,
                );
            }
            if let Some(most) = lag.most {
                self.distance(Rule::Lag(id, Side::Most), &there, to, from, -most, lag.give);
            }
        }
    }

    fn distance(
        &mut self,
        rule: Rule,
        there: &[usize],
        from: Shifted,
        to: Shifted,
        least: i32,
        give: Give,
    ) {
        if let Some(by) = self.slack(Bound::Rule(rule), give, i32::MAX) {
            let when = self.when(there, None);
            let mut terms = vec![(-1, by)];
            if from.var != to.var {
                terms.extend([(1, from.var), (-1, to.var)]);
            }
            self.model.sums.push(Sum {
                terms,
                at_most: to.plus - from.plus - least,
                when,
            });
        } else {
            let guard = self.guard(rule);
            let when = self.when(there, guard);
            self.model.apart(from, to, least, when);
        }
    }

    fn closed(&mut self) {
        for (at, activity) in self.problem.activities.iter().enumerate() {
            for avoid in &activity.avoids {
                let calendar = &self.problem.calendars[avoid.calendar.0];
                let (start, end) = (self.starts[at], self.ends[at]);
                // The last moment that must be out by the beginning, the first that may be in
                // from the end on.
                let (out, back, strict) = match avoid.kept {
                    Kept::Whole => (end, start, 0),
                    Kept::Start => (start, start, 1),
                    Kept::End => (end, end, 0),
                };
                for (which, span) in calendar.closed.iter().enumerate() {
                    let length = span.to - span.from;
                    let from = self.slack(
                        Bound::ClosedFrom(avoid.calendar, which),
                        calendar.give,
                        length,
                    );
                    let to = self.slack(
                        Bound::ClosedTo(avoid.calendar, which),
                        calendar.give,
                        length,
                    );
                    if let (Some(from), Some(to)) = (from, to) {
                        let before = self.model.flag();
                        let after = self.model.flag();
                        self.model.sums.push(Sum {
                            terms: vec![(1, out.var), (-1, from)],
                            at_most: span.from - strict - out.plus,
                            when: Some(is(before)),
                        });
                        self.model.sums.push(Sum {
                            terms: vec![(-1, back.var), (-1, to)],
                            at_most: back.plus - span.to,
                            when: Some(is(after)),
                        });
                        self.order.last.extend([is(before), is(after)]);
                        let mut either = vec![is(before), is(after)];
                        either.extend(self.present[at].map(is_not));
                        self.model.clause(either);
                    } else {
                        let rule = Rule::Closed(avoid.calendar, which, ActivityId(at));
                        self.hold(
                            rule,
                            &[at],
                            vec![out.at_most(span.from - strict), back.at_least(span.to)],
                        );
                    }
                }
            }
        }
    }

    fn choices(&mut self) {
        for (at, choice) in self.problem.choices.iter().enumerate() {
            let id = super::problem::ChoiceId(at);
            let always = choice.among.iter().filter(|a| self.present[a.0].is_none());
            let always = i32::try_from(always.count()).unwrap_or(i32::MAX);
            let flags: Vec<Var> = choice
                .among
                .iter()
                .filter_map(|a| self.present[a.0])
                .collect();
            let sides = [
                (Side::Least, choice.least, -1),
                (Side::Most, choice.most, 1),
            ];
            for (side, count, sign) in sides {
                let count = i32::try_from(count).unwrap_or(i32::MAX);
                let when = self.guard(Rule::Choice(id, side)).map(is);
                self.model.sums.push(Sum {
                    terms: flags.iter().map(|f| (sign, *f)).collect(),
                    at_most: sign * (count - always),
                    when,
                });
            }
        }
        for (at, follow) in self.problem.follows.iter().enumerate() {
            let Some(then) = self.present[follow.then.0] else {
                continue;
            };
            let rule = Rule::Follow(super::problem::FollowId(at));
            self.hold(rule, &[follow.when.0], vec![is(then)]);
        }
    }

    /// A moment of an activity.
    pub(super) fn moment(&self, point: Point) -> Shifted {
        match point.edge {
            Edge::Start => self.starts[point.activity.0],
            Edge::End => self.ends[point.activity.0],
        }
    }

    /// The flag of a rule, where rules are guarded.
    pub(super) fn guard(&mut self, rule: Rule) -> Option<Var> {
        if self.mode != Mode::Guard {
            return None;
        }
        Some(match self.guards.get(&rule) {
            Some(flag) => *flag,
            None => {
                let flag = self.model.flag();
                self.guards.insert(rule, flag);
                flag
            }
        })
    }

    /// What a rule gives way by, where it may.
    pub(super) fn slack(&mut self, what: Bound, give: Give, most: i32) -> Option<Var> {
        let Give::At(price) = give else { return None };
        if self.mode != Mode::Give {
            return None;
        }
        if let Some(known) = self.slacks.iter().find(|s| s.what == what) {
            return Some(known.by);
        }
        let by = self.model.var(0, most.min(2 * reach(self.problem)));
        self.slacks.push(Slack { what, by, price });
        Some(by)
    }

    /// At least one of these, while the activities are there and the rule is kept.
    pub(super) fn hold(&mut self, rule: Rule, there: &[usize], mut atoms: Vec<Atom>) {
        atoms.extend(there.iter().filter_map(|at| self.present[*at]).map(is_not));
        atoms.extend(self.guard(rule).map(is_not));
        self.model.clause(atoms);
    }

    /// What holds when activities are there and a rule is kept. `None`: always.
    pub(super) fn when(&mut self, there: &[usize], guard: Option<Var>) -> Option<Atom> {
        let mut flags: Vec<Var> = there.iter().filter_map(|at| self.present[*at]).collect();
        flags.extend(guard);
        flags.sort_unstable();
        flags.dedup();
        match flags.as_slice() {
            [] => None,
            [one] => Some(is(*one)),
            _ => Some(is(match self.all.get(&flags) {
                Some(flag) => *flag,
                None => {
                    let flag = self.model.flag();
                    let mut atoms: Vec<Atom> = flags.iter().map(|f| is_not(*f)).collect();
                    atoms.push(is(flag));
                    self.model.clause(atoms);
                    self.all.insert(flags, flag);
                    flag
                }
            })),
        }
    }

    /// A flag that can be 1 only if `to − from ≥ least`.
    pub(super) fn after(&mut self, from: Shifted, to: Shifted, least: i32) -> Atom {
        let key = (from.var, from.plus, to.var, to.plus, least);
        is(match self.after.get(&key) {
            Some(flag) => *flag,
            None => {
                let flag = self.model.flag();
                self.model.apart(from, to, least, Some(is(flag)));
                self.order.last.push(is(flag));
                self.after.insert(key, flag);
                flag
            }
        })
    }

    /// A flag that can be 1 only if the activity has no length; `None`: it always has one.
    pub(super) fn empty(&mut self, at: usize) -> Option<Atom> {
        let length = self.problem.activities[at].length;
        if length.least > 0 {
            return None;
        }
        Some(is(match self.empty.get(&at) {
            Some(flag) => *flag,
            None => {
                let flag = self.model.flag();
                let (start, end) = (self.starts[at], self.ends[at]);
                self.model.apart(end, start, 0, Some(is(flag)));
                self.order.last.push(is(flag));
                self.empty.insert(at, flag);
                flag
            }
        }))
    }

    /// Where the activities lie, from the values of the variables.
    pub(super) fn read(&self, values: &[i32]) -> Vec<Option<Placed>> {
        let at = |s: Shifted| values[s.var] + s.plus;
        (0..self.starts.len())
            .map(|i| {
                let there = self.present[i].is_none_or(|flag| values[flag] == 1);
                there.then(|| Placed {
                    start: at(self.starts[i]),
                    end: at(self.ends[i]),
                })
            })
            .collect()
    }
}

/// How far beyond its span a problem can reach, one thing after another: minutes.
fn reach(problem: &Problem) -> i32 {
    let lengths = problem.activities.iter().map(|a| i64::from(a.length.most));
    let lags = problem.lags.iter().map(|l| {
        let either = l.least.unwrap_or(0).abs().max(l.most.unwrap_or(0).abs());
        i64::from(either)
    });
    let bounds = problem.activities.iter().flat_map(|a| {
        let all = [
            a.start.earliest,
            a.start.latest,
            a.end.earliest,
            a.end.latest,
        ];
        all.into_iter().flatten()
    });
    let outside = bounds
        .map(|b| i64::from((problem.span.from - b).max(b - problem.span.to).max(0)))
        .max();
    let changes = problem.resources.iter().map(|r| {
        let longest = i64::from(r.changeover.longest());
        longest * i64::try_from(problem.activities.len()).unwrap_or(i64::MAX)
    });
    let span = i64::from(problem.span.to) - i64::from(problem.span.from);
    let total = lengths.sum::<i64>()
        + lags.sum::<i64>()
        + outside.unwrap_or(0)
        + changes.sum::<i64>()
        + span;
    i32::try_from(total)
        .unwrap_or(i32::MAX / 8)
        .min(i32::MAX / 8)
}
