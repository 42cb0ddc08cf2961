//! When each task is done.

use super::ask::{Ask, Begun, Minute};
use super::explain::{self, Impossible};
use super::model::{Model, Without, gap, lengths, model, stood};
use super::task::Place;
use numeric::schedule::{Limits, Placed, Trouble, solve};

/// A task in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The batch, by place in what was asked.
    pub job: usize,
    /// The task, by place in its list.
    pub task: usize,
    /// Its work begins.
    pub start: Minute,
    /// Its work ends, and its wait begins.
    pub work_end: Minute,
    /// Its wait ends; the same where it has none.
    pub end: Minute,
    /// So many minutes later it could begin, all others staying where they are.
    pub slack: Minute,
    /// What keeps it from beginning any later.
    pub held: Held,
    /// So many minutes what it makes is kept before the next task takes it; `None` where nothing
    /// does, or at once.
    pub kept: Option<Minute>,
}

/// What keeps a task where it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Held {
    /// It is to be ready by the serving time.
    Serving,
    /// Another task of the batch follows it.
    Before(usize),
    /// Another task of the batch came before it, and what that made may not stand longer.
    After(usize),
    /// The hands are wanted elsewhere: a task of a batch.
    Hands(usize, usize),
    /// The mixer is.
    Mixer(usize, usize),
    /// The oven is, or is at another temperature.
    Oven(usize, usize),
    /// The fridge or the freezer is full.
    Cold(usize, usize),
    /// Quiet hours.
    Quiet,
    /// Egg or milk may not stand warm longer.
    Warm,
    /// Nothing within a day.
    Nothing,
    /// It is begun already.
    Begun,
}

/// A plan: every task in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Plan {
    /// The tasks that are done, by start.
    pub rows: Vec<Row>,
    /// Optional tasks that are left out so that it is possible: batch and task.
    pub skipped: Vec<(usize, usize)>,
    /// The first start.
    pub start: Minute,
    /// The last end.
    pub end: Minute,
    /// When each batch is ready.
    pub ready: Vec<Minute>,
    /// Proven to begin as late as can be (or to be ready as soon as can be); otherwise the best
    /// that was found within the work allowed.
    pub proven: bool,
    /// Minutes that a better plan could gain at most, where it is not proven.
    pub unproven_by: Minute,
    /// What stands, or has stood, longer than it should before the next task takes it, because
    /// that was not begun in time: batch, task, minutes beyond.
    pub over: Vec<(usize, usize, Minute)>,
}

impl Plan {
    /// The first work at or after a minute.
    #[must_use]
    pub fn next(&self, now: Minute) -> Option<&Row> {
        self.rows.iter().find(|r| r.start >= now)
    }
    /// Tasks under way at a minute.
    pub fn under_way(&self, now: Minute) -> impl Iterator<Item = &Row> {
        self.rows
            .iter()
            .filter(move |r| r.start <= now && now < r.end)
    }
}

/// Work that is allowed for a plan and for each question of an explanation.
pub(super) const LIMITS: Limits = Limits {
    steps: 150_000,
    explaining: 60_000,
};

/// Plans batches.
///
/// Backwards from the serving times: the first start as late as can be, then each task as late as
/// can be. A batch without a serving time is ready as soon as can be. Work keeps out of quiet
/// hours; waits may run through them.
///
/// # Errors
/// [`Impossible`]: what makes it so and by how much.
pub fn plan(ask: &Ask) -> Result<Plan, Box<Impossible>> {
    if let Some(why) = explain::before(ask) {
        return Err(Box::new(why));
    }
    let model = model(ask, Without::default());
    match solve(&model.problem, &LIMITS) {
        Ok(solution) => Ok(rows(ask, &times(&model, &solution.placed), &solution.goals)),
        Err(Trouble::Impossible(why)) => Err(Box::new(explain::clash(ask, &model, &why))),
        Err(Trouble::Undecided { .. }) => Err(Box::new(Impossible::undecided())),
        Err(Trouble::Malformed { place, wrong }) => {
            Err(Box::new(Impossible::malformed(&place, &wrong)))
        }
    }
}

/// A plan as it was given, looked at anew: nothing is moved.
///
/// # Inputs
/// - `ask`: what is asked now.
/// - `given`: the tasks in their places. One that is not among them has no row; where it may be
///   left out it counts as left out.
#[must_use]
pub fn kept(ask: &Ask, given: &[Begun]) -> Plan {
    let list = ask.jobs.iter().map(|j| j.tasks.list.len());
    let mut times: Vec<Vec<Times>> = list.map(|n| vec![None; n]).collect();
    for b in given {
        if let Some(at) = times.get_mut(b.job).and_then(|j| j.get_mut(b.task)) {
            *at = Some((b.start, b.work_end, b.end));
        }
    }
    let mut plan = rows(ask, &times, &[]);
    let optional = |(j, i): &(usize, usize)| ask.jobs[*j].tasks.list[*i].optional.is_some();
    plan.skipped.retain(optional);
    plan
}

/// Start, end of work and end of a task.
pub(super) type Times = Option<(Minute, Minute, Minute)>;

pub(super) fn times(model: &Model, placed: &[Option<Placed>]) -> Vec<Vec<Times>> {
    let of = |id: Option<numeric::schedule::ActivityId>| id.and_then(|a| placed[a.0]);
    let job = |pieces: &Vec<super::model::Pieces>| {
        pieces
            .iter()
            .map(|p| match (of(p.work), of(p.wait)) {
                (Some(w), Some(t)) => Some((w.start, w.end, t.end)),
                (Some(w), None) => Some((w.start, w.end, w.end)),
                (None, Some(t)) => Some((t.start, t.start, t.end)),
                (None, None) => None,
            })
            .collect()
    };
    model.pieces.iter().map(job).collect()
}

fn rows(ask: &Ask, times: &[Vec<Times>], goals: &[numeric::schedule::Reached]) -> Plan {
    let mut rows = Vec::new();
    let mut skipped = Vec::new();
    for (j, job) in ask.jobs.iter().enumerate() {
        for (i, _) in job.tasks.done() {
            let Some((start, work_end, end)) = times[j][i] else {
                skipped.push((j, i));
                continue;
            };
            let next = job
                .tasks
                .done()
                .filter(|(_, t)| t.after.contains(&i))
                .filter_map(|(n, _)| times[j][n])
                .map(|(s, ..)| s)
                .min();
            let (slack, held) = match ask.begun(j, i) {
                Some(_) => (0, Held::Begun),
                None => Around { ask, times }.slack(j, i),
            };
            rows.push(Row {
                job: j,
                task: i,
                start,
                work_end,
                end,
                slack,
                held,
                kept: next.map(|n| n - end).filter(|g| *g > 0),
            });
        }
    }
    let mut over = Vec::new();
    for (j, job) in ask.jobs.iter().enumerate() {
        for (i, task) in job.tasks.done() {
            for &before in &task.after {
                let beyond = stood(ask, j, before, i).1;
                if beyond > 0 && times[j][i].is_some() {
                    over.push((j, before, beyond));
                }
            }
        }
    }
    rows.sort_by_key(|r| (r.start, r.end, r.job, r.task));
    let ready = times
        .iter()
        .map(|job| job.iter().flatten().map(|t| t.2).max().unwrap_or(ask.now))
        .collect();
    // The first goal is the baker's; later ones only tidy up. Optional tasks come before it.
    let optional = ask
        .jobs
        .iter()
        .any(|j| j.tasks.done().any(|(_, t)| t.optional.is_some()));
    let main = goals.iter().take(if optional { 2 } else { 1 });
    let open: i64 = main.map(|g| (g.value - g.bound).abs()).sum();
    Plan {
        start: rows.iter().map(|r| r.start).min().unwrap_or(ask.now),
        end: rows.iter().map(|r| r.end).max().unwrap_or(ask.now),
        rows,
        skipped,
        ready,
        proven: open == 0,
        unproven_by: i32::try_from(open).unwrap_or(i32::MAX),
        over,
    }
}

/// A task among the others where they stand.
struct Around<'a> {
    ask: &'a Ask,
    times: &'a [Vec<Times>],
}

/// Slack is looked for up to a day.
const FAR: Minute = 1440;

impl Around<'_> {
    /// How much later a task could begin, and what stands in the way of one minute more.
    fn slack(&self, j: usize, i: usize) -> (Minute, Held) {
        for later in 1..=FAR {
            if let Some(held) = self.hindrance(j, i, later) {
                return (later - 1, held);
            }
        }
        (FAR, Held::Nothing)
    }

    /// What keeps a task from beginning so much later, with its end where it is if its wait may
    /// be shorter, or as much later.
    fn hindrance(&self, j: usize, i: usize, later: Minute) -> Option<Held> {
        let (start, work_end, end) = self.times[j][i]?;
        let task = &self.ask.jobs[j].tasks.list[i];
        let (_, (least, _)) = lengths(task, self.ask.kitchen.racks);
        let (s, w) = (start + later, work_end + later);
        let short = task.wait.is_some() && end - w >= least;
        let ends = if short {
            [Some(end), None]
        } else {
            [None, Some(end + later)]
        };
        let tried = ends.into_iter().flatten().next().unwrap_or(end + later);
        self.clash(j, i, (s, w, tried))
    }

    fn clash(&self, j: usize, i: usize, at: (Minute, Minute, Minute)) -> Option<Held> {
        let job = &self.ask.jobs[j];
        let tasks = &job.tasks;
        let task = &tasks.list[i];
        let (s, w, e) = at;
        if job.serve.is_some_and(|t| e > t) {
            return Some(Held::Serving);
        }
        for (n, t) in tasks.done() {
            let Some((next, next_work, _)) = self.times[j][n] else {
                continue;
            };
            if t.after.contains(&i) {
                let hot = task.what == "preheat";
                let (from, most) = if hot {
                    (next_work, 0)
                } else {
                    (next, gap(tasks, i, n))
                };
                if e > from || from - e > most {
                    return Some(Held::Before(n));
                }
            }
        }
        for &before in &task.after {
            let Some((.., end)) = self.times[j][before] else {
                continue;
            };
            let hot = tasks.list[before].what == "preheat";
            let late = if hot {
                w != end
            } else {
                s - end > gap(tasks, before, i)
            };
            if late {
                return Some(Held::After(before));
            }
        }
        for limit in &tasks.limits {
            let of = |t: usize| if t == i { Some(at) } else { self.times[j][t] };
            let from = of(limit.from).map(|(s, _, e)| limit.begins(s, e));
            let to = match limit.to {
                Some(t) => of(t).map(|(_, to, _)| to),
                None => tasks.last().filter_map(|t| Some(of(t)?.2)).max(),
            };
            if let (Some(from), Some(to)) = (from, to)
                && (limit.from == i || limit.to.is_none_or(|t| t == i))
                && i64::from(to - from) > limit.most
            {
                return Some(Held::Warm);
            }
        }
        if w > s && self.ask.quiet.iter().any(|q| q.shared(s, w) > 0) {
            return Some(Held::Quiet);
        }
        self.shared(j, i, at)
    }

    /// What is wanted elsewhere at the same time.
    fn shared(&self, j: usize, i: usize, at: (Minute, Minute, Minute)) -> Option<Held> {
        let kitchen = &self.ask.kitchen;
        let task = &self.ask.jobs[j].tasks.list[i];
        let (s, w, e) = at;
        let mut hands: Vec<(Minute, Minute, u32, (usize, usize))> = Vec::new();
        let mut mixer = hands.clone();
        let mut cold = hands.clone();
        let mut racks = hands.clone();
        for (oj, job) in self.ask.jobs.iter().enumerate() {
            for (oi, other) in job.tasks.done().filter(|(oi, _)| (oj, *oi) != (j, i)) {
                let Some((os, ow, oe)) = self.times[oj][oi] else {
                    continue;
                };
                if s < ow && os < w {
                    hands.push((os, ow, 1, (oj, oi)));
                    if task.mixer && other.mixer {
                        mixer.push((os, ow, 1, (oj, oi)));
                    }
                }
                let (Some(a), Some(b)) = (task.wait, other.wait) else {
                    continue;
                };
                if w < oe && ow < e && a.place == b.place {
                    match a.place {
                        Place::Fridge | Place::Freezer => {
                            cold.push((ow, oe, other.racks, (oj, oi)))
                        }
                        Place::Oven => {
                            let same = a.oven.is_some() && a.oven == b.oven;
                            if !same && kitchen.ovens < 2 {
                                return Some(Held::Oven(oj, oi));
                            }
                            racks.push((ow, oe, other.racks, (oj, oi)));
                        }
                        Place::Bench => {}
                    }
                }
            }
        }
        let over = |list: &[(Minute, Minute, u32, (usize, usize))], own: u32, has: u32| {
            list.iter()
                .find(|(from, ..)| {
                    let at = (*from).max(s);
                    let sum: u32 = list
                        .iter()
                        .filter(|(f, t, ..)| *f <= at && at < *t)
                        .map(|x| x.2)
                        .sum();
                    sum + own > has
                })
                .map(|x| x.3)
        };
        if w > s
            && let Some((a, b)) = over(&hands, 1, kitchen.hands)
        {
            return Some(Held::Hands(a, b));
        }
        if let Some((a, b)) = over(&mixer, 1, kitchen.mixers.max(1)) {
            return Some(Held::Mixer(a, b));
        }
        let has = match task.wait.map(|w| w.place) {
            Some(Place::Freezer) => kitchen.freezer,
            _ => kitchen.fridge,
        };
        if let Some((a, b)) = over(&cold, task.racks, has) {
            return Some(Held::Cold(a, b));
        }
        over(&racks, task.racks, kitchen.racks * kitchen.ovens.max(1))
            .map(|(a, b)| Held::Oven(a, b))
    }
}
