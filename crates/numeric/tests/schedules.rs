//! Schedules against what OR-tools CP-SAT proved (`checks/schedule.py`), and by hand.

#[path = "schedules/by_hand.rs"]
mod by_hand;
#[path = "schedules/every.rs"]
mod every;
#[path = "schedules/read.rs"]
mod read;

use numeric::schedule::{Bound, Limits, Rule, Trouble, solve, way_out};
use read::{Instance, instances};

const PROJECTS: &str = include_str!("../../../checks/schedule_projects.json");
const LAGS: &str = include_str!("../../../checks/schedule_lags.json");
const DAYS: &str = include_str!("../../../checks/schedule_days.json");
const IMPOSSIBLE: &str = include_str!("../../../checks/schedule_impossible.json");
const TOGETHER: &str = include_str!("../../../checks/schedule_together.json");

/// Solves to the proven optimum, keeping every rule.
fn to_the_optimum(instance: &Instance) {
    let id = &instance.id;
    let solution = solve(&instance.problem, &Limits::default()).expect(id);
    assert!(instance.problem.fits(&solution.placed), "{id}");
    assert_eq!(instance.problem.broken(&solution.placed), [], "{id}");
    let values: Vec<i64> = solution.goals.iter().map(|g| g.value).collect();
    assert_eq!(Some(&values), instance.optimum.as_ref(), "{id}");
    assert!(solution.proven(), "{id}: {:?}", solution.goals);
}

#[test]
fn projects_of_thirty_activities_come_to_their_optimum() {
    let all = instances(PROJECTS);
    assert!(all.len() >= 30);
    all.iter().for_each(to_the_optimum);
}

#[test]
fn projects_with_longest_lags_come_to_their_optimum() {
    let all = instances(LAGS);
    assert!(all.len() >= 30);
    all.iter().for_each(to_the_optimum);
}

#[test]
fn kitchen_days_come_to_their_optimum_goal_after_goal() {
    let all = instances(DAYS);
    assert!(all.len() >= 30);
    all.iter().for_each(to_the_optimum);
}

#[test]
fn days_that_cannot_be_cost_what_another_solver_says() {
    let all = instances(IMPOSSIBLE);
    assert!(all.len() >= 20);
    for instance in &all {
        let id = &instance.id;
        let Err(Trouble::Impossible(why)) = solve(&instance.problem, &Limits::default()) else {
            panic!("{id} has a schedule");
        };
        let price = why.relaxed.as_ref().map(|r| r.price.value);
        assert_eq!(price, instance.price, "{id}");
        assert!(why.clash_proven, "{id}");
        let Some(relaxed) = why.relaxed else { continue };
        assert!(relaxed.price.proven(), "{id}");
        let gives = |what| relaxed.given.iter().any(|g| g.what == what);
        for rule in instance.problem.broken(&relaxed.placed) {
            let known = match rule {
                Rule::Closed(calendar, which, _) => {
                    gives(Bound::ClosedFrom(calendar, which))
                        || gives(Bound::ClosedTo(calendar, which))
                }
                other => gives(Bound::Rule(other)),
            };
            assert!(known, "{id}: {rule:?} gives way and is not told");
        }
    }
}

/// Several batches, each possible by itself: every longest wait, gap and limit has its price.
#[test]
fn batches_that_clash_give_way_as_cheaply_as_another_solver_says() {
    let all = instances(TOGETHER);
    assert!(all.len() >= 8);
    for Instance {
        id, problem, price, ..
    } in &all
    {
        let way = way_out(problem, &Limits::default()).expect(id);
        let found = way.relaxed.expect(id).price;
        assert_eq!(Some(found.value), *price, "{id}");
        assert!(found.proven(), "{id}");
    }
}
