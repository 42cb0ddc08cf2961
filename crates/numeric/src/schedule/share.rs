//! Resources: what two activities can never hold together, and what several can hold at most.

use super::build::{Built, Mode};
use super::model::{Atom, Shared, Shifted, Sum, Var, is, is_not};
use super::problem::{Changeover, Edge, Give, ResourceId};
use super::solution::{Bound, Rule};
use std::collections::BTreeSet;

/// Somebody who holds units of a resource.
#[derive(Debug, Clone, Copy)]
struct Holder {
    /// The activity, unless it is a stretch that is spoken for already.
    activity: Option<usize>,
    start: Shifted,
    end: Shifted,
    /// The length, if it is fixed.
    length: Option<i32>,
    amount: i32,
    state: Option<usize>,
    /// See [`super::problem::Need::brings`].
    brings: bool,
}

impl Changeover {
    /// Minutes from one state to another.
    pub(super) fn between(&self, from: usize, to: usize) -> i32 {
        match self {
            _ if from == to => 0,
            Self::Same(minutes) => *minutes,
            Self::Table(rows) => rows[from][to],
        }
    }

    /// The longest of all changes.
    pub(super) fn longest(&self) -> i32 {
        match self {
            Self::Same(minutes) => *minutes,
            Self::Table(rows) => rows.iter().flatten().copied().max().unwrap_or(0),
        }
    }
}

impl Built<'_> {
    /// Posts every resource.
    pub(super) fn resources(&mut self) {
        let ordered = self.ordered();
        for at in 0..self.problem.resources.len() {
            let holders = self.holders(at);
            self.states(at, &holders, &ordered);
            self.capacity(at, &holders, &ordered);
        }
    }

    fn holders(&mut self, resource: usize) -> Vec<Holder> {
        let mut holders = Vec::new();
        for (at, activity) in self.problem.activities.iter().enumerate() {
            let needs = activity.needs.iter();
            for need in needs.filter(|n| n.resource.0 == resource) {
                let length = activity.length;
                if length.most == 0 {
                    continue;
                }
                holders.push(Holder {
                    activity: Some(at),
                    start: self.starts[at],
                    end: self.ends[at],
                    length: (length.least == length.most).then_some(length.most),
                    amount: i32::try_from(need.amount).unwrap_or(i32::MAX),
                    state: need.state,
                    brings: need.brings,
                });
            }
        }
        for taken in &self.problem.resources[resource].taken {
            let var = self.model.var(taken.span.from, taken.span.from);
            let length = taken.span.to - taken.span.from;
            holders.push(Holder {
                activity: None,
                start: Shifted { var, plus: 0 },
                end: Shifted { var, plus: length },
                length: Some(length),
                amount: i32::try_from(taken.amount).unwrap_or(i32::MAX),
                state: None,
                brings: false,
            });
        }
        holders
    }

    /// Pairs of activities of which the first is over before the second starts, whatever comes.
    fn ordered(&self) -> BTreeSet<(usize, usize)> {
        let mut before = BTreeSet::new();
        for lag in &self.problem.lags {
            let kept = match self.mode {
                Mode::Keep => true,
                Mode::Guard => false,
                Mode::Give => lag.give == Give::Never,
            };
            let Some(least) = lag.least.filter(|_| kept) else {
                continue;
            };
            let longest = |at: usize| i64::from(self.problem.activities[at].length.most);
            let (from, to) = (lag.from.activity.0, lag.to.activity.0);
            let lost = match lag.from.edge {
                Edge::Start => longest(from),
                Edge::End => 0,
            } + match lag.to.edge {
                Edge::Start => 0,
                Edge::End => longest(to),
            };
            if from != to && i64::from(least) >= lost {
                before.insert((from, to));
            }
        }
        let n = self.problem.activities.len();
        for middle in (0..n).filter(|at| self.present[*at].is_none()) {
            let into: Vec<usize> = (0..n).filter(|a| before.contains(&(*a, middle))).collect();
            let out: Vec<usize> = (0..n).filter(|b| before.contains(&(middle, *b))).collect();
            for a in into {
                before.extend(out.iter().filter(|b| **b != a).map(|b| (a, *b)));
            }
        }
        before
    }

    fn states(&mut self, at: usize, holders: &[Holder], ordered: &BTreeSet<(usize, usize)>) {
        let change = &self.problem.resources[at].changeover;
        let rule = Rule::State(ResourceId(at));
        for (i, one) in holders.iter().enumerate() {
            for other in &holders[i + 1..] {
                if let (Some(a), Some(b)) = (one.state, other.state)
                    && a != b
                {
                    let gap = |before: usize, then: usize, brings: bool| {
                        if brings {
                            0
                        } else {
                            change.between(before, then)
                        }
                    };
                    let gaps = (gap(a, b, other.brings), gap(b, a, one.brings));
                    self.exclude(rule, *one, *other, gaps, ordered, None);
                }
            }
        }
    }

    fn capacity(&mut self, at: usize, holders: &[Holder], ordered: &BTreeSet<(usize, usize)>) {
        let resource = &self.problem.resources[at];
        let rule = Rule::Capacity(ResourceId(at));
        let capacity = i32::try_from(resource.capacity).unwrap_or(i32::MAX);
        let holders: Vec<Holder> = holders.iter().filter(|h| h.amount > 0).copied().collect();
        let total: i64 = holders.iter().map(|h| i64::from(h.amount)).sum();
        if total <= i64::from(capacity) {
            return;
        }
        let lacking = i32::try_from(total - i64::from(capacity)).unwrap_or(i32::MAX);
        let more = self.slack(Bound::Rule(rule), resource.give, lacking);
        let enough = |more: Option<Var>, needed: i64| -> Option<Atom> {
            let missing = i32::try_from(needed - i64::from(capacity)).unwrap_or(i32::MAX);
            more.map(|var| Shifted { var, plus: 0 }.at_least(missing))
        };
        for holder in holders.iter().filter(|h| h.amount > capacity) {
            let mut atoms: Vec<Atom> = enough(more, i64::from(holder.amount)).into_iter().collect();
            // What has no length takes nothing.
            atoms.extend(holder.activity.and_then(|at| self.empty(at)));
            let there: Vec<usize> = holder.activity.into_iter().collect();
            self.hold(rule, &there, atoms);
        }
        let fitting: Vec<Holder> = holders
            .iter()
            .filter(|h| more.is_some() || h.amount <= capacity)
            .copied()
            .collect();
        for (i, one) in fitting.iter().enumerate() {
            for other in &fitting[i + 1..] {
                let both = i64::from(one.amount) + i64::from(other.amount);
                if both > i64::from(capacity) {
                    let unless = enough(more, both);
                    self.exclude(rule, *one, *other, (0, 0), ordered, unless);
                }
            }
        }
        if fitting.is_empty() {
            return;
        }
        let mut amounts: Vec<i64> = fitting.iter().map(|h| i64::from(h.amount)).collect();
        amounts.sort_unstable();
        if more.is_none()
            && let [a, b, ..] = amounts.as_slice()
            && a + b > i64::from(capacity)
        {
            // No two fit, and that is said already.
            return;
        }
        if more.is_none() && fitting.iter().all(|h| h.length.is_some()) {
            let when = self.guard(rule).map(is);
            self.model.shared.push(Shared {
                tasks: fitting
                    .iter()
                    .filter_map(|h| Some((h.start.var, h.length?, h.amount)))
                    .collect(),
                capacity,
                when,
            });
        } else {
            self.piled(rule, &fitting, capacity, more, ordered);
        }
    }

    /// Two holders are never there together: one is over, and the gap past, before the other.
    fn exclude(
        &mut self,
        rule: Rule,
        one: Holder,
        other: Holder,
        gaps: (i32, i32),
        ordered: &BTreeSet<(usize, usize)>,
        unless: Option<Atom>,
    ) {
        let there: Vec<usize> = [one.activity, other.activity]
            .into_iter()
            .flatten()
            .collect();
        if let [a, b] = there.as_slice() {
            if ordered.contains(&(*a, *b)) {
                if gaps.0 > 0 {
                    let guard = self.guard(rule);
                    let when = self.when(&there, guard);
                    self.model.apart(one.end, other.start, gaps.0, when);
                }
                return;
            }
            if ordered.contains(&(*b, *a)) {
                if gaps.1 > 0 {
                    let guard = self.guard(rule);
                    let when = self.when(&there, guard);
                    self.model.apart(other.end, one.start, gaps.1, when);
                }
                return;
            }
        }
        let always = there
            .iter()
            .all(|at| self.present[*at].is_none() && self.problem.activities[*at].length.least > 0);
        if always && self.mode != Mode::Guard && unless.is_none() {
            // One flag says which is first. States come before capacities, so a pair that is known
            // is apart by at least as much.
            let key = (one.start.var, other.start.var);
            if self.pairs.insert(key) {
                let flag = self.model.flag();
                let (first, second) = (Some(is(flag)), Some(is_not(flag)));
                self.model.apart(one.end, other.start, gaps.0, first);
                self.model.apart(other.end, one.start, gaps.1, second);
            } else if gaps != (0, 0) {
                let atoms = vec![
                    self.after(one.end, other.start, gaps.0),
                    self.after(other.end, one.start, gaps.1),
                ];
                self.model.clause(atoms);
            }
            return;
        }
        let mut atoms = vec![
            self.after(one.end, other.start, gaps.0),
            self.after(other.end, one.start, gaps.1),
        ];
        atoms.extend(unless);
        atoms.extend(there.iter().filter_map(|at| self.empty(*at)));
        self.hold(rule, &there, atoms);
    }

    /// At the start of each holder, those that run then hold no more than there is. Enough, since
    /// what is held grows only at starts.
    fn piled(
        &mut self,
        rule: Rule,
        holders: &[Holder],
        capacity: i32,
        more: Option<Var>,
        ordered: &BTreeSet<(usize, usize)>,
    ) {
        for (i, one) in holders.iter().enumerate() {
            let mut terms: Vec<(i32, Var)> = more.map(|var| (-1, var)).into_iter().collect();
            for (j, other) in holders.iter().enumerate() {
                let apart = match (one.activity, other.activity) {
                    (Some(a), Some(b)) => ordered.contains(&(a, b)) || ordered.contains(&(b, a)),
                    _ => false,
                };
                let both = i64::from(one.amount) + i64::from(other.amount);
                let excluded = more.is_none() && both > i64::from(capacity);
                if i == j || apart || excluded {
                    continue;
                }
                let runs = self.model.flag();
                let there: Vec<usize> = [one.activity, other.activity]
                    .into_iter()
                    .flatten()
                    .collect();
                let mut atoms = vec![
                    is(runs),
                    self.after(one.start, other.start, 1),
                    self.after(other.end, one.start, 0),
                ];
                atoms.extend(one.activity.and_then(|at| self.empty(at)));
                self.hold(rule, &there, atoms);
                terms.push((other.amount, runs));
            }
            self.model.sums.push(Sum {
                terms,
                at_most: capacity - one.amount,
                when: None,
            });
        }
    }
}
