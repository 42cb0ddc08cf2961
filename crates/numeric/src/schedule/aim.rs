//! Goals as something to be minimised, and the descent to the least.

use super::build::Built;
use super::engine::{Answer, Engine, Way};
use super::model::{Atom, Extreme, Shifted, Sum, Var, is};
use super::problem::{Goal, Problem, Term};
use super::solution::Reached;

/// Steps of a single question on the way down, before it is put more modestly.
const PATIENCE: u64 = 2_000;

/// What a term counts: variables with signs, and a number.
#[derive(Debug, Default)]
struct Count {
    parts: Vec<(i32, Shifted)>,
    plus: i32,
}

impl Count {
    fn of(one: Shifted) -> Self {
        Self {
            parts: vec![(1, one)],
            plus: 0,
        }
    }
}

/// Gaps one after the other, with steps of fixed length between: `to − from − over`, never below 0.
#[derive(Debug, Clone, Copy)]
struct Chain {
    weight: i32,
    from: Shifted,
    to: Shifted,
    over: i32,
}

/// Chains as long as they can be made: what lies between cancels out, and few long ones bound a sum
/// far better than many short ones.
fn joined(mut chains: Vec<Chain>) -> Vec<Chain> {
    let next = |chains: &[Chain]| {
        let pairs = (0..chains.len()).flat_map(|i| (0..chains.len()).map(move |j| (i, j)));
        pairs.into_iter().find(|(i, j)| {
            let (one, two) = (chains[*i], chains[*j]);
            i != j && one.weight == two.weight && one.to.var == two.from.var
        })
    };
    while let Some((i, j)) = next(&chains) {
        let (one, two) = (chains[i], chains[j]);
        chains[i] = Chain {
            weight: one.weight,
            from: one.from,
            to: two.to,
            over: one.over + two.over + two.from.plus - one.to.plus,
        };
        chains.remove(j);
    }
    chains
}

/// A weighted sum of what terms count, each variable once.
#[derive(Debug, Default)]
struct Tally {
    terms: Vec<(i32, Var)>,
    plus: i64,
}

impl Tally {
    fn add(&mut self, weight: i32, counted: &Count) {
        self.plus += i64::from(weight) * i64::from(counted.plus);
        for (sign, part) in &counted.parts {
            let weight = weight * sign;
            self.plus += i64::from(weight) * i64::from(part.plus);
            match self.terms.iter_mut().find(|(_, v)| *v == part.var) {
                Some(known) => known.0 += weight,
                None => self.terms.push((weight, part.var)),
            }
        }
    }

    /// Without what has cancelled out.
    fn terms(&self) -> Vec<(i32, Var)> {
        let terms = self.terms.iter().filter(|(weight, _)| *weight != 0);
        terms.copied().collect()
    }
}

/// What is minimised: `sign · var + plus`.
#[derive(Debug, Clone, Copy)]
pub(super) struct Aim {
    var: Option<Var>,
    sign: i32,
    plus: i64,
}

impl Aim {
    /// It is no more than this. `None`: whatever the variables are (see [`Aim::least`]).
    fn at_most(&self, value: i64) -> Option<Atom> {
        let var = self.var?;
        let bound =
            |v: i64| i32::try_from(v).unwrap_or(if v > 0 { i32::MAX / 2 } else { i32::MIN / 2 });
        Some(if self.sign > 0 {
            Shifted { var, plus: 0 }.at_most(bound(value - self.plus))
        } else {
            Shifted { var, plus: 0 }.at_least(bound(self.plus - value))
        })
    }

    /// The least it can be for all that is known without searching.
    fn least(&self, engine: &Engine) -> i64 {
        match self.var {
            None => self.plus,
            Some(var) if self.sign > 0 => i64::from(engine.low(var)) + self.plus,
            Some(var) => self.plus - i64::from(engine.high(var)),
        }
    }
}

/// Which way to go through time for a goal: backwards where something is to start or end late.
pub(super) fn way(goals: &[Goal]) -> Way {
    for (weight, term) in goals.iter().flat_map(|g| &g.terms) {
        match term {
            Term::FirstStart | Term::LastEnd | Term::Start(_) | Term::End(_) => {
                return if *weight < 0 {
                    Way::Backward
                } else {
                    Way::Forward
                };
            }
            _ => {}
        }
    }
    Way::Forward
}

impl Built<'_> {
    /// A goal as something to be minimised.
    pub(super) fn aim(&mut self, goal: &Goal) -> Aim {
        let mut tally = Tally::default();
        let mut chains: Vec<Chain> = Vec::new();
        for (weight, term) in goal.terms.iter().filter(|(weight, _)| *weight != 0) {
            match self.gap(*weight, *term) {
                Some(gap) => chains.push(gap),
                None => {
                    let counted = self.count(*weight, *term);
                    tally.add(*weight, &counted);
                }
            }
        }
        for chain in joined(chains) {
            let counted = self.excess(&[], Some(chain.from), Some(chain.to), chain.over);
            tally.add(chain.weight, &counted);
        }
        self.least(tally.terms(), tally.plus)
    }

    /// A gap that is there for sure and never below what is counted from: one link of a chain.
    fn gap(&self, weight: i32, term: Term) -> Option<Chain> {
        let Term::LagOver(id, over) = term else {
            return None;
        };
        let lag = self.problem.lags[id.0];
        let there = [lag.from.activity.0, lag.to.activity.0];
        let always = there.iter().all(|at| self.present[*at].is_none());
        let chain = Chain {
            weight,
            from: self.moment(lag.from),
            to: self.moment(lag.to),
            over,
        };
        (always && lag.least.is_some_and(|least| least >= over)).then_some(chain)
    }

    /// A weighted sum as something to be minimised.
    pub(super) fn least(&mut self, mut terms: Vec<(i32, Var)>, plus: i64) -> Aim {
        match terms.as_slice() {
            [] => Aim {
                var: None,
                sign: 1,
                plus,
            },
            [(weight, var)] if weight.abs() == 1 => Aim {
                var: Some(*var),
                sign: *weight,
                plus,
            },
            _ => {
                let ends = |(weight, var): &(i32, Var)| {
                    let d = self.model.domains[*var];
                    let (a, b) = (d.low * weight, d.parked.unwrap_or(d.high) * weight);
                    (i64::from(a.min(b)), i64::from(a.max(b)))
                };
                let low: i64 = terms.iter().map(|t| ends(t).0).sum();
                let high: i64 = terms.iter().map(|t| ends(t).1).sum();
                let narrow = |v: i64| i32::try_from(v).unwrap_or(i32::MAX / 2);
                let sum = self.model.var(narrow(low), narrow(high));
                terms.push((-1, sum));
                self.model.sums.push(Sum {
                    terms,
                    at_most: 0,
                    when: None,
                });
                Aim {
                    var: Some(sum),
                    sign: 1,
                    plus,
                }
            }
        }
    }

    fn count(&mut self, weight: i32, term: Term) -> Count {
        let plain = |var: Var| Shifted { var, plus: 0 };
        match term {
            Term::FirstStart => Count::of(plain(self.first_start(weight))),
            Term::LastEnd => Count::of(plain(self.last_end(weight))),
            Term::Start(a) => Count::of(self.or_nothing(a.0, self.starts[a.0])),
            Term::End(a) => Count::of(self.or_nothing(a.0, self.ends[a.0])),
            Term::Skipped(a) => match self.present[a.0] {
                None => Count::default(),
                Some(there) => Count {
                    parts: vec![(-1, plain(there))],
                    plus: 1,
                },
            },
            Term::LagOver(lag, over) => {
                let lag = self.problem.lags[lag.0];
                let (from, to) = (self.moment(lag.from), self.moment(lag.to));
                let there = [lag.from.activity.0, lag.to.activity.0];
                self.excess(&there, Some(from), Some(to), over)
            }
            Term::LongerThan(a, than) => {
                let (from, to) = (self.starts[a.0], self.ends[a.0]);
                self.excess(&[a.0], Some(from), Some(to), than)
            }
            Term::ShorterThan(a, than) => {
                let (from, to) = (self.starts[a.0], self.ends[a.0]);
                self.excess(&[a.0], Some(to), Some(from), -than)
            }
            Term::EndsBefore(a, when) => self.excess(&[a.0], Some(self.ends[a.0]), None, -when),
            Term::EndsAfter(a, when) => self.excess(&[a.0], None, Some(self.ends[a.0]), when),
            Term::StartsBefore(a, when) => self.excess(&[a.0], Some(self.starts[a.0]), None, -when),
            Term::StartsAfter(a, when) => self.excess(&[a.0], None, Some(self.starts[a.0]), when),
        }
    }

    /// `to − from − over`, but not below 0, while the activities are there.
    fn excess(
        &mut self,
        there: &[usize],
        from: Option<Shifted>,
        to: Option<Shifted>,
        over: i32,
    ) -> Count {
        let mut terms = Vec::new();
        let mut at_most = over;
        if let Some(from) = from {
            terms.push((-1, from.var));
            at_most += from.plus;
        }
        if let Some(to) = to {
            terms.push((1, to.var));
            at_most -= to.plus;
        }
        if let [(_, a), (_, b)] = terms.as_slice()
            && a == b
        {
            // A fixed length: always the same.
            terms.clear();
        }
        let most = i64::from(self.high) - i64::from(self.low) + i64::from(over.abs());
        let most = i32::try_from(most).unwrap_or(i32::MAX / 4);
        let by = self.model.var(0, most.max(1));
        terms.push((-1, by));
        let when = self.when(there, None);
        self.model.sums.push(Sum {
            terms,
            at_most,
            when,
        });
        Count::of(Shifted { var: by, plus: 0 })
    }

    /// A moment of an activity, or 0 if the activity is left out.
    fn or_nothing(&mut self, at: usize, moment: Shifted) -> Shifted {
        match self.present[at] {
            None => moment,
            Some(there) => {
                let (low, high) = (self.low.min(0), self.high.max(0));
                let var = self.model.var(low, high);
                let same = Shifted { var, plus: 0 };
                self.model.apart(moment, same, 0, Some(is(there)));
                self.model.apart(same, moment, 0, Some(is(there)));
                self.model.clause(vec![is(there), same.at_most(0)]);
                self.model.clause(vec![is(there), same.at_least(0)]);
                same
            }
        }
    }

    fn first_start(&mut self, weight: i32) -> Var {
        let first = self.model.var(self.low, self.high);
        let starts = self.starts.clone();
        if weight < 0 {
            for start in &starts {
                // One that is left out is parked far behind.
                let first = Shifted {
                    var: first,
                    plus: 0,
                };
                self.model.apart(first, *start, 0, None);
            }
        } else {
            self.model.extremes.push(Extreme {
                of: first,
                among: starts,
                least: true,
            });
        }
        first
    }

    fn last_end(&mut self, weight: i32) -> Var {
        let last = self.model.var(self.low, self.high);
        let end = Shifted { var: last, plus: 0 };
        if weight > 0 {
            for at in 0..self.ends.len() {
                let when = self.present[at].map(is);
                self.model.apart(self.ends[at], end, 0, when);
            }
        } else {
            let low = self.low;
            let among = (0..self.ends.len())
                .map(|at| match self.present[at] {
                    None => self.ends[at],
                    Some(there) => {
                        let var = self.model.var(low, self.high);
                        let same = Shifted { var, plus: 0 };
                        let moment = self.ends[at];
                        self.model.apart(moment, same, 0, Some(is(there)));
                        self.model.apart(same, moment, 0, Some(is(there)));
                        self.model.clause(vec![is(there), same.at_most(low)]);
                        same
                    }
                })
                .collect();
            self.model.extremes.push(Extreme {
                of: last,
                among,
                least: false,
            });
        }
        last
    }
}

/// Goes down from the values found so far to the least, halving what is left between the best and
/// the bound while that is cheap, else minute by minute. Keeps what is reached for good.
///
/// `real` is what the values truly come to, where that may be less than what the solver left the
/// aim at.
pub(super) fn descend(
    engine: &mut Engine,
    aim: &Aim,
    best: &mut Vec<i32>,
    real: &dyn Fn(&[i32]) -> i64,
) -> Reached {
    let mut value = real(best);
    let mut bound = aim.least(engine).min(value);
    let until = engine.meter.until;
    let mut patience = PATIENCE;
    let mut modest = false;
    while bound < value {
        let target = if modest {
            value - 1
        } else {
            bound + (value - bound) / 2
        };
        let target = target.min(value - 1);
        let Some(atom) = aim.at_most(target) else {
            break;
        };
        if !modest {
            engine.meter.until = until.min(engine.meter.taken + patience);
        }
        let answer = engine.ask(&[atom]);
        engine.meter.until = until;
        match answer {
            Answer::Yes(values) => {
                value = real(&values);
                *best = values;
                modest = false;
            }
            Answer::No => {
                bound = target + 1;
                engine.always(atom.not());
                modest = false;
            }
            Answer::Unknown if engine.meter.taken >= until => break,
            Answer::Unknown => {
                modest = true;
                patience *= 2;
            }
        }
    }
    if let Some(atom) = aim.at_most(value) {
        engine.always(atom);
    }
    Reached { value, bound }
}

impl Problem {
    /// The way to go through time first.
    pub(super) fn way(&self) -> Way {
        way(&self.goals)
    }
}
