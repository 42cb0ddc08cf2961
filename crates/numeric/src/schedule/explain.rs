//! Why there is no schedule: rules that clash, and the cheapest way out.

use super::aim::descend;
use super::build::{Built, Mode, Slack};
use super::engine::{Answer, Engine};
use super::model::{Atom, Var, is, is_not};
use super::problem::Problem;
use super::solution::{Bound, Given, Impossible, Limits, Relaxed, Rule, Trouble, WayOut};
use std::ops::Range;

/// Explains a problem that has no schedule.
pub(super) fn explain(problem: &Problem, steps: u64) -> Impossible {
    if steps == 0 {
        return Impossible {
            clash: Vec::new(),
            clash_proven: false,
            relaxed: None,
            steps: 0,
        };
    }
    let (clash, clash_proven, taken) = clash(problem, steps / 2);
    let way = relaxed(problem, steps - steps / 2);
    Impossible {
        clash,
        clash_proven,
        relaxed: way.relaxed,
        steps: taken + way.steps,
    }
}

/// A list of rules that cannot all be kept, made as short as it can be by leaving out one rule, or
/// many at once, wherever the rest still clash.
fn clash(problem: &Problem, steps: u64) -> (Vec<Rule>, bool, u64) {
    let built = Built::new(problem, Mode::Guard, problem.way());
    let mut engine = Engine::new(&built.model, &built.order, steps);
    let mut kept: Vec<(Rule, Var)> = built.guards.iter().map(|(r, v)| (*r, *v)).collect();
    kept.sort_by_key(|(rule, _)| (importance(*rule), *rule));
    let mut left_out: Vec<Var> = Vec::new();
    let mut proven = true;
    // Whole kinds of rules first, then shorter and shorter runs, at last one by one.
    let kinds = |kept: &[(Rule, Var)]| {
        let up_to = |i: u8| kept.partition_point(|(r, _)| importance(*r) < i);
        [up_to(4), up_to(3)]
    };
    for to in kinds(&kept) {
        if to > 0 && try_without(&mut engine, &mut kept, &mut left_out, 0..to) == Answer::No {
            break;
        }
    }
    let mut size = kept.len().div_ceil(4).max(1);
    loop {
        let mut at = 0;
        while at < kept.len() {
            let to = (at + size).min(kept.len());
            match try_without(&mut engine, &mut kept, &mut left_out, at..to) {
                Answer::No => {}
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
        size = size.div_ceil(4).min(kept.len().div_ceil(2)).max(1);
    }
    let mut rules: Vec<Rule> = kept.into_iter().map(|(rule, _)| rule).collect();
    rules.sort_unstable();
    (rules, proven, engine.meter.taken)
}

/// Whether the rules still clash without some of them; if so, leaves those out for good.
fn try_without(
    engine: &mut Engine,
    kept: &mut Vec<(Rule, Var)>,
    left_out: &mut Vec<Var>,
    without: Range<usize>,
) -> Answer {
    let holding: Vec<Atom> = kept
        .iter()
        .enumerate()
        .map(|(i, (_, flag))| {
            if without.contains(&i) {
                is_not(*flag)
            } else {
                is(*flag)
            }
        })
        .chain(left_out.iter().map(|flag| is_not(*flag)))
        .collect();
    let answer = engine.ask(&holding);
    if answer == Answer::No {
        left_out.extend(kept.drain(without).map(|(_, flag)| flag));
    }
    answer
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

/// The cheapest way out of a problem that has no schedule: which rules give way, by how much, and
/// the schedule that this makes possible. To learn what one rule alone would have to give, let
/// every other be [`super::Give::Never`] and ask again.
///
/// # Returns
/// Nothing gives way where the problem has a schedule. [`WayOut::relaxed`] is `None` where rules that
/// never give way clash, or [`Limits::explaining`] came before any way out was found.
///
/// # Errors
/// [`Trouble::Malformed`], as [`super::solve()`].
///
/// # Source
/// Cheapest ways out that another solver proved, in `checks/schedule_impossible.json`.
pub fn way_out(problem: &Problem, limits: &Limits) -> Result<WayOut, Trouble> {
    problem.validate()?;
    Ok(relaxed(problem, limits.explaining))
}

fn relaxed(problem: &Problem, steps: u64) -> WayOut {
    let mut built = Built::new(problem, Mode::Give, problem.way());
    let terms = built
        .slacks
        .iter()
        .map(|s| (i32::try_from(s.price).unwrap_or(i32::MAX), s.by))
        .collect();
    let aim = built.least(terms, 0);
    let mut engine = Engine::new(&built.model, &built.order, steps);
    let Answer::Yes(mut best) = engine.ask(&[]) else {
        return WayOut {
            relaxed: None,
            steps: engine.meter.taken,
        };
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
    WayOut {
        relaxed: Some(Relaxed {
            given,
            price,
            placed: built.read(&best),
        }),
        steps: engine.meter.taken,
    }
}
