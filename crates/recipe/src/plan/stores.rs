//! What takes room between tasks: pans while something is in them, shelves for what is kept cold.

use super::ask::{Ask, Minute};
use super::model::{gap, rounds};
use super::order::reaches;
use super::pans;
use super::solve::Times;
use super::task::{Place, Task, kept_in};
use super::tasks::Tasks;

/// What waits longer than so many minutes is put into the cold: common practice, no source.
pub(super) const OUT: i32 = 60;

/// What one task makes waits in the cold for another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Hold {
    pub before: usize,
    /// The last task that takes of it.
    pub after: usize,
    pub place: Place,
    /// So many minutes it may stand out first.
    pub out: i32,
}

/// What of a batch may wait in the cold between two tasks.
pub(super) fn holds(tasks: &Tasks) -> Vec<Hold> {
    let hold = |before: usize| {
        let place = kept_in(&tasks.list[before]).filter(|p| p.is_cold())?;
        let waits = tasks.list[before].wait.is_some_and(|w| w.place == place);
        let takes = |n: &usize| {
            tasks.list[*n].after.contains(&before)
                && tasks.list[*n].optional.is_none()
                && gap(tasks, before, *n) > OUT
        };
        let all: Vec<usize> = tasks.done().map(|(n, _)| n).filter(takes).collect();
        let last = |n: &usize| !all.iter().any(|o| o != n && reaches(&tasks.list, *n, *o));
        let after = all.iter().copied().rfind(last)?;
        Some(Hold {
            before,
            after,
            place,
            out: if waits { 0 } else { OUT },
        })
    };
    let plain = tasks.done().filter(|(_, t)| t.optional.is_none());
    plain.filter_map(|(before, _)| hold(before)).collect()
}

/// Shelves of a place that the batches may want at once, at the most.
pub(super) fn wanted(ask: &Ask, place: Place) -> u32 {
    let of = |tasks: &Tasks| {
        let waits = tasks
            .done()
            .filter(|(_, t)| t.wait.is_some_and(|w| w.place == place));
        let held = holds(tasks).iter().filter(|h| h.place == place).count() as u32;
        waits.map(|(_, t)| t.racks).sum::<u32>() + held
    };
    ask.jobs.iter().map(|j| of(&j.tasks)).sum()
}

/// Whether a task goes into an oven that is hot.
pub(super) fn in_hot_oven(task: &Task) -> bool {
    matches!(task.what, "bake" | "heat_fat")
}

/// Whether a task in the oven waits for no change of its heat: it makes the change itself, or what is
/// in the oven stays in while it changes.
pub(super) fn brings_heat(tasks: &Tasks, i: usize) -> bool {
    let stays = |b: &usize| tasks.list[*b].what == "bake" && gap(tasks, *b, i) == 0;
    !in_hot_oven(&tasks.list[i]) || tasks.list[i].after.iter().any(stays)
}

/// Whether the bakes of a plan are at several temperatures, so that the oven has to change.
#[must_use]
pub fn changes_heat(ask: &Ask) -> bool {
    let jobs = ask.jobs.iter();
    // A bake that goes on at another heat stays in while the oven changes.
    let goes_on = |tasks: &Tasks, (i, t): (usize, &Task)| in_hot_oven(t) && brings_heat(tasks, i);
    let bakes = jobs.flat_map(|j| {
        let hot = j.tasks.done().filter(|(_, t)| in_hot_oven(t));
        hot.filter(move |&(i, t)| !goes_on(&j.tasks, (i, t)))
    });
    let mut heats = bakes.filter_map(|(_, t)| t.wait?.oven);
    let first = heats.next();
    ask.kitchen.oven_change > 0 && heats.any(|h| Some(h) != first)
}

/// What is wanted by one at a time, or by so many.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Store {
    Hands,
    Mixer,
    /// An oven, at °C where that is said.
    Oven,
    Fridge,
    Freezer,
    /// Pans, by place among those that are shared.
    Pan(usize),
}

/// Some of it, for a stretch of time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stake {
    pub store: Store,
    pub from: Minute,
    pub to: Minute,
    pub amount: u32,
    /// Of this batch.
    pub job: usize,
    /// From this task to that one; the same where one task takes it alone.
    pub tasks: (usize, usize),
}

impl Stake {
    /// Whether it moves with a task.
    pub fn is_of(&self, (job, task): (usize, usize)) -> bool {
        self.job == job && (self.tasks.0 == task || self.tasks.1 == task)
    }
}

/// Who may want what: worked out once for a plan.
pub(super) struct Wants {
    pub shared: Vec<pans::Shared>,
    held: Vec<Vec<Hold>>,
}

impl Wants {
    pub fn of(ask: &Ask) -> Self {
        Self {
            shared: pans::shared(ask),
            held: ask.jobs.iter().map(|j| holds(&j.tasks)).collect(),
        }
    }

    /// What the tasks of a batch take where they stand: those of all of them, or of one.
    pub fn stakes(
        &self,
        ask: &Ask,
        job: usize,
        only: Option<usize>,
        times: &dyn Fn(usize) -> Times,
    ) -> Vec<Stake> {
        let tasks = &ask.jobs[job].tasks;
        let mut out = Vec::new();
        let wanted = |a: usize, b: usize| only.is_none_or(|i| i == a || i == b);
        let mut put = |store: Store, (from, to): (Minute, Minute), amount: u32, tasks| {
            if from < to && amount > 0 {
                out.push(Stake {
                    store,
                    from,
                    to,
                    amount,
                    job,
                    tasks,
                });
            }
        };
        let cold = |place: Place| match place {
            Place::Freezer => Store::Freezer,
            _ => Store::Fridge,
        };
        for (i, task) in tasks.done().filter(|(i, _)| wanted(*i, *i)) {
            let Some((start, work_end, end)) = times(i) else {
                continue;
            };
            put(Store::Hands, (start, work_end), 1, (i, i));
            if task.mixer {
                put(Store::Mixer, (start, work_end), 1, (i, i));
            }
            match task.wait.map(|w| w.place) {
                Some(Place::Oven) => {
                    let (_, racks) = rounds(task, ask.kitchen.racks);
                    put(Store::Oven, (work_end, end), racks, (i, i));
                }
                Some(p) if p.is_cold() => put(cold(p), (work_end, end), task.racks, (i, i)),
                _ => {}
            }
        }
        for h in self.held[job].iter().filter(|h| wanted(h.before, h.after)) {
            if let (Some((_, _, end)), Some((next, ..))) = (times(h.before), times(h.after)) {
                put(cold(h.place), (end + h.out, next), 1, (h.before, h.after));
            }
        }
        for (k, set) in self.shared.iter().enumerate() {
            for (_, u) in set.users.iter().filter(|(j, _)| *j == job) {
                let p = &tasks.pans[*u];
                if !wanted(p.from, p.to) {
                    continue;
                }
                if let (Some((from, ..)), Some((_, work_end, end))) = (times(p.from), times(p.to)) {
                    let to = if p.turned_out { work_end } else { end };
                    put(Store::Pan(k), (from, to), p.count, (p.from, p.to));
                }
            }
        }
        out
    }
}
