//! Why there is no schedule: rules that clash, and the cheapest way out.

use super::aim::descend;
use super::build::{Built, Mode, Slack};
use super::engine::{Answer, Engine};
use super::model::{Atom, Var, is, is_not};
use super::problem::Problem;
use super::solution::{Bound, Given, Impossible, Relaxed, Rule};

/// Explains a problem that has no schedule.
pub(super) fn explain(problem: &Problem, steps: u64) -> Impossible {
    let (clash, clash_proven) = clash(problem, steps / 2);
    Impossible {
        clash,
        clash_proven,
        relaxed: relaxed(problem, steps - steps / 2),
    }
}

/// A list of rules that cannot all be kept, made as short as it can be by leaving out one rule, or
/// many at once, wherever the rest still clash.
fn clash(problem: &Problem, steps: u64) -> (Vec<Rule>, bool) {
    let built = Built::new(problem, Mode::Guard, problem.way());
    let mut engine = Engine::new(&built.model, &built.order, steps);
    let mut kept: Vec<(Rule, Var)> = built.guards.iter().map(|(r, v)| (*r, *v)).collect();
    kept.sort_by_key(|(rule, _)| (importance(*rule), *rule));
    let mut left_out: Vec<Var> = Vec::new();
    let mut proven = true;
    let mut size = kept.len().div_ceil(2).max(1);
    loop {
        let mut at = 0;
        while at < kept.len() {
            let to = (at + size).min(kept.len());
            let holding: Vec<Atom> = kept
                .iter()
                .enumerate()
                .map(|(i, (_, flag))| {
                    if (at..to).contains(&i) {
                        is_not(*flag)
                    } else {
                        is(*flag)
                    }
                })
                .chain(left_out.iter().map(|flag| is_not(*flag)))
                .collect();
            match engine.ask(&holding) {
                Answer::No => left_out.extend(kept.drain(at..to).map(|(_, flag)| flag)),
                Answer::Yes(_) => at = to,
                Answer::Unknown => {
                    proven &= size > 1;
                    at = to;
                }
            }
        }
        if size == 1 {
            break;
        }
        size = size.div_ceil(4).max(1);
    }
    let mut rules: Vec<Rule> = kept.into_iter().map(|(rule, _)| rule).collect();
    rules.sort_unstable();
    (rules, proven)
}

/// What is left out first where there is a choice: what a reader would least look for.
fn importance(rule: Rule) -> u8 {
    match rule {
        Rule::Span(_) => 0,
        Rule::Choice(..) | Rule::Follow(_) => 1,
        Rule::State(_) => 2,
        Rule::Capacity(_) => 3,
        Rule::Closed(..) => 4,
        Rule::Start(..) | Rule::End(..) => 5,
        Rule::Lag(..) => 6,
    }
}

/// The cheapest way to give way.
fn relaxed(problem: &Problem, steps: u64) -> Option<Relaxed> {
    let mut built = Built::new(problem, Mode::Give, problem.way());
    if built.slacks.is_empty() {
        return None;
    }
    let terms = built
        .slacks
        .iter()
        .map(|s| (i32::try_from(s.price).unwrap_or(i32::MAX), s.by))
        .collect();
    let aim = built.least(terms, 0);
    let mut engine = Engine::new(&built.model, &built.order, steps);
    let Answer::Yes(mut best) = engine.ask(&[]) else {
        return None;
    };
    let paid = |values: &[i32]| {
        let each = |s: &Slack| i64::from(s.price) * i64::from(values[s.by]);
        built.slacks.iter().map(each).sum()
    };
    let price = descend(&mut engine, &aim, &mut best, &paid);
    let mut given: Vec<Given> = built
        .slacks
        .iter()
        .map(|s| Given {
            what: s.what,
            by: best[s.by],
        })
        .filter(|g| g.by > 0)
        .collect();
    given.sort_by_key(|g| match g.what {
        Bound::Rule(rule) => (0, Some(rule), 0, 0),
        Bound::ClosedFrom(calendar, which) => (1, None, calendar.0, which),
        Bound::ClosedTo(calendar, which) => (2, None, calendar.0, which),
    });
    Some(Relaxed {
        given,
        price,
        placed: built.read(&best),
    })
}
