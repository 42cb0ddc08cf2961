//! A plan as JSON.

use crate::day::clock::Clock;
use crate::day::words;
use recipe::plan::{Ask, Place, Plan, Span, Stage, Task, cautions, stages};
use serde::Serialize;

#[derive(Debug, Serialize)]
pub struct PlanJson {
    now: String,
    begins: String,
    proven: bool,
    unproven_by_minutes: i32,
    recipes: Vec<Ready>,
    steps: Vec<StepJson>,
    left_out: Vec<Skipped>,
    cautions: Vec<CautionJson>,
    notes: Vec<String>,
}

#[derive(Debug, Serialize)]
struct CautionJson {
    recipe: usize,
    keys: Vec<String>,
    words: String,
}

#[derive(Debug, Serialize)]
struct Ready {
    title: String,
    factor: f64,
    ready: String,
    own_method: bool,
}

#[derive(Debug, Serialize)]
struct Minutes {
    least: f64,
    usual: f64,
    most: f64,
}

#[derive(Debug, Serialize)]
struct StepJson {
    key: String,
    recipe: usize,
    component: String,
    name: String,
    step: Option<usize>,
    begins: String,
    work_ends: String,
    ends: String,
    begin_from: String,
    begin_by: String,
    held_by: String,
    stage: &'static str,
    waits_for: Vec<String>,
    work_minutes: Minutes,
    work_basis: &'static str,
    wait_minutes: Option<Minutes>,
    wait_basis: Option<&'static str>,
    place: Option<&'static str>,
    oven_celsius: Option<f64>,
    racks: u32,
    mixer: bool,
    kept_minutes: Option<i32>,
    optional: Option<String>,
    notes: Vec<String>,
    source: String,
}

#[derive(Debug, Serialize)]
struct Skipped {
    recipe: usize,
    key: String,
    costs: String,
}

fn span(s: Span) -> Minutes {
    let tidy = |m: f64| (m * 100.0).round() / 100.0;
    Minutes {
        least: tidy(s.least),
        usual: tidy(s.usual),
        most: tidy(s.most),
    }
}

/// `unwheat plan --json`.
pub fn plan(ask: &Ask, plan: &Plan, clock: &Clock) -> PlanJson {
    let at = |m: i32| clock.field(m);
    let task = |j: usize, t: usize| -> &Task { &ask.jobs[j].tasks.list[t] };
    PlanJson {
        now: at(ask.now),
        begins: at(plan.start),
        proven: plan.proven,
        unproven_by_minutes: plan.unproven_by,
        recipes: ask
            .jobs
            .iter()
            .zip(&plan.ready)
            .map(|(j, ready)| Ready {
                title: j.tasks.title.clone(),
                factor: j.tasks.factor,
                ready: at(*ready),
                own_method: j.tasks.own_method,
            })
            .collect(),
        steps: plan
            .rows
            .iter()
            .zip(stages(ask, plan))
            .map(|(r, stage)| {
                let t = task(r.job, r.task);
                StepJson {
                    key: t.key.clone(),
                    recipe: r.job,
                    component: t.of.clone(),
                    name: t.name.clone(),
                    step: t.step,
                    begins: at(r.start),
                    work_ends: at(r.work_end),
                    ends: at(r.end),
                    begin_from: at(r.start - r.lead),
                    begin_by: at(r.start + r.slack),
                    held_by: words::held(ask, r),
                    stage: match stage {
                        Stage::Over => "over",
                        Stage::UnderWay => "under_way",
                        Stage::CanBegin => "can_begin",
                        Stage::Waits(_) => "waits",
                        Stage::From(_) => "to_come",
                    },
                    waits_for: match &stage {
                        Stage::Waits(of) => {
                            of.iter().map(|i| task(r.job, *i).key.clone()).collect()
                        }
                        _ => Vec::new(),
                    },
                    work_minutes: span(t.hands),
                    work_basis: t.hands_basis.word(),
                    wait_minutes: t.wait.map(|w| span(w.span)),
                    wait_basis: t.wait.map(|_| t.wait_basis.word()),
                    place: t.wait.map(|w| w.place.key()),
                    oven_celsius: t
                        .wait
                        .filter(|w| w.place == Place::Oven)
                        .and_then(|w| w.oven),
                    racks: t.racks,
                    mixer: t.mixer,
                    kept_minutes: r.kept,
                    optional: t.optional.clone(),
                    notes: t.notes.clone(),
                    source: t.source.clone(),
                }
            })
            .collect(),
        left_out: plan
            .skipped
            .iter()
            .map(|(j, t)| Skipped {
                recipe: *j,
                key: task(*j, *t).key.clone(),
                costs: task(*j, *t).optional.clone().unwrap_or_default(),
            })
            .collect(),
        cautions: cautions(ask, plan)
            .into_iter()
            .map(|c| CautionJson {
                recipe: c.job,
                keys: c
                    .tasks
                    .iter()
                    .map(|t| task(c.job, *t).key.clone())
                    .collect(),
                words: c.words,
            })
            .collect(),
        notes: words::below(ask, plan, clock),
    }
}
