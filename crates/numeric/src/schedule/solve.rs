//! The way from a problem to its answer.

use super::aim::descend;
use super::build::{Built, Mode};
use super::engine::{Answer, Engine};
use super::explain::explain;
use super::problem::Problem;
use super::solution::{Limits, Reached, Solution, Trouble};

/// Places the activities of a problem so that every rule is kept and the goals, one after the
/// other, are as small as they can be.
///
/// # Returns
/// A schedule that keeps every rule. Each goal's [`Reached::bound`] says what no schedule can be
/// below; where it is the value itself the goal is proven to be at its best, otherwise the limit
/// on steps came first and the schedule is the best that was found. Equal problems with equal
/// limits give equal schedules, on every machine.
///
/// # Errors
/// - [`Trouble::Malformed`]: an index, a length, a window or a goal makes no sense; says where.
/// - [`Trouble::Impossible`]: proven that no schedule keeps every rule; with rules that clash and
///   the cheapest way out.
/// - [`Trouble::Undecided`]: the limit came before either.
///
/// # Source
/// Lazy clause generation (Ohrimenko, Stuckey, Codish 2009) with time-table reasoning on shared
/// capacities (Schutt, Feydy, Stuckey, Wallace 2011), as the `pumpkin-core` crates have it. Proven
/// optima of another solver in `checks/schedule_*.json`.
///
/// # Example
/// ```
/// use numeric::schedule::{Activity, Goal, Lag, Length, Limits, Problem, Span, Trouble, solve};
///
/// let mut day = Problem::new(Span { from: 0, to: 600 });
/// let mix = day.activity(Activity::new(Length::fixed(15)));
/// let mut bake = Activity::new(Length::fixed(35));
/// bake.end.latest = Some(540);
/// let bake = day.activity(bake);
/// day.lag(Lag::after(mix, bake, 60, Some(90)));
/// day.goal(Goal::latest_start());
/// let plan = solve(&day, &Limits::default())?;
/// assert_eq!(plan.of(mix).map(|p| p.start), Some(540 - 35 - 60 - 15));
/// assert!(plan.proven());
///
/// // Serve earlier than all of it takes, and it says by how much.
/// day.activities[bake.0].end.latest = Some(100);
/// let Err(Trouble::Impossible(why)) = solve(&day, &Limits::default()) else {
///     panic!("110 minutes do not fit into 100");
/// };
/// assert_eq!(why.relaxed.map(|r| r.price.value), Some(10));
/// # Ok::<(), Trouble>(())
/// ```
pub fn solve(problem: &Problem, limits: &Limits) -> Result<Solution, Trouble> {
    problem.validate()?;
    let mut built = Built::new(problem, Mode::Keep, problem.way());
    let aims: Vec<_> = problem.goals.iter().map(|g| built.aim(g)).collect();
    let mut engine = Engine::new(&built.model, &built.order, limits.steps);
    let mut best = match engine.ask(&[]) {
        Answer::Yes(values) => values,
        Answer::No => {
            let mut why = explain(problem, limits.explaining);
            why.steps += engine.meter.taken;
            return Err(Trouble::Impossible(Box::new(why)));
        }
        Answer::Unknown => {
            return Err(Trouble::Undecided {
                steps: engine.meter.taken,
            });
        }
    };
    let mut bounds = Vec::new();
    for (at, (goal, aim)) in problem.goals.iter().zip(&aims).enumerate() {
        if at > 0 && at + 1 == aims.len() {
            engine.meter.until = limits.steps.min(engine.meter.taken + limits.last);
        }
        let real = |values: &[i32]| problem.value(goal, &built.read(values));
        let reached = descend(&mut engine, aim, &mut best, &real);
        bounds.push(reached.bound);
    }
    let placed = built.read(&best);
    let goals = problem
        .goals
        .iter()
        .zip(bounds)
        .map(|(goal, bound)| Reached {
            value: problem.value(goal, &placed),
            bound,
        })
        .collect();
    Ok(Solution {
        placed,
        goals,
        steps: engine.meter.taken,
    })
}
