//! What is next of a plan: what is under way, what can begin now, and what each other step waits for.

use super::ask::{Ask, Minute};
use super::solve::{Plan, Row};

/// Where a step stands now.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Stage {
    /// Done.
    Over,
    /// Begun, and its wait or work not over.
    UnderWay,
    /// All before it is done, and it can begin now while the others stay where they are.
    CanBegin,
    /// Tasks of its batch, by place in its list, are not done.
    Waits(Vec<usize>),
    /// All before it is done; it can begin at this minute at the earliest while the others stay where they
    /// are: hands or oven are wanted elsewhere, or what it makes would stand too long.
    From(Minute),
}

/// Where each step of a plan stands now, in the plan's order.
///
/// # Inputs
/// `ask`: what was asked, with what is begun of it; nothing else is under way or done.
#[must_use]
pub fn stages(ask: &Ask, plan: &Plan) -> Vec<Stage> {
    plan.rows.iter().map(|r| stage(ask, plan, r)).collect()
}

fn stage(ask: &Ask, plan: &Plan, row: &Row) -> Stage {
    if let Some(begun) = ask.begun(row.job, row.task) {
        return if begun.end <= ask.now {
            Stage::Over
        } else {
            Stage::UnderWay
        };
    }
    let open = not_done(ask, plan, row.job, row.task);
    let from = row.start - row.lead;
    if !open.is_empty() {
        Stage::Waits(open)
    } else if from <= ask.now {
        Stage::CanBegin
    } else {
        Stage::From(from)
    }
}

/// The tasks before one that are not done; what is left out passes on what was before it.
fn not_done(ask: &Ask, plan: &Plan, job: usize, task: usize) -> Vec<usize> {
    let mut out = Vec::new();
    for &before in &ask.jobs[job].tasks.list[task].after {
        let mine = |r: &&Row| (r.job, r.task) == (job, before);
        if ask.begun(job, before).is_some_and(|b| b.end <= ask.now) {
            continue;
        }
        if plan.rows.iter().any(|r| mine(&r)) {
            out.push(before);
        } else {
            out.extend(not_done(ask, plan, job, before));
        }
    }
    out.sort_unstable();
    out.dedup();
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Begun, Job, Kitchen, plan, tasks};
    use crate::sheet::{Sheet, work};
    use larder::Larder;
    use quantity::Locale;

    /// Worked by hand: nothing is begun, so only the weighing can begin; while the dough rises its shaping waits for
    /// it; when it has risen, the shaping can begin, and the bake waits for that and for what comes between.
    #[test]
    fn what_is_next_follows_what_is_begun() {
        let rolls = "Rolls\n\n500 g bread flour\n7 g yeast\n10 g salt\n330 g water\n\n1. Mix and knead for 8 minutes.\n2. Let rise for 1 hour.\n3. Shape into 12 rolls.\n4. Bake at 200 °C for 20 minutes.\n";
        let sheet = Sheet::new(rolls, Locale::Metric);
        let larder = Larder::built_in().expect("the built-in tables");
        let worked = work(&sheet, &[], &larder, &[]).expect("a recipe");
        let list = tasks(&worked, &sheet, 1.0);
        let place = |what: &str| {
            let at = list.list.iter().position(|t| t.what == what);
            at.unwrap_or_else(|| panic!("no {what}: {:?}", list.list))
        };
        let (weigh, rise, shape, bake) =
            (place("weigh"), place("rise"), place("shape"), place("bake"));
        let at = |now, begun: &[(usize, i32, i32)]| {
            let mut ask = Ask {
                jobs: vec![Job {
                    tasks: list.clone(),
                    serve: None,
                }],
                kitchen: Kitchen::default(),
                quiet: Vec::new(),
                now,
                begun: Vec::new(),
            };
            let begun = begun.iter().map(|&(task, start, end)| Begun {
                job: 0,
                task,
                start,
                work_end: start,
                end,
            });
            ask.begin(begun.collect());
            let found = plan(&ask).expect("a plan");
            let stages = stages(&ask, &found);
            move |task: usize| {
                let row = found.rows.iter().position(|r| r.task == task);
                stages[row.expect("its row")].clone()
            }
        };
        let first = at(480, &[]);
        assert_eq!(first(weigh), Stage::CanBegin);
        assert!(matches!(first(rise), Stage::Waits(w) if !w.contains(&weigh)));
        let rising = at(500, &[(rise, 480, 525)]);
        assert_eq!(
            (rising(weigh), rising(rise)),
            (Stage::Over, Stage::UnderWay)
        );
        assert_eq!(rising(shape), Stage::Waits(vec![rise]));
        let risen = at(525, &[(rise, 480, 525), (place("preheat"), 500, 530)]);
        assert_eq!((risen(rise), risen(shape)), (Stage::Over, Stage::CanBegin));
        assert!(matches!(risen(bake), Stage::Waits(w) if !w.contains(&rise)));
    }
}
