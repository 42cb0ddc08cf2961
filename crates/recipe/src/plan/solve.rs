//! When each task is done.

use super::ask::{Ask, Begun, Minute};
use super::clash;
use super::explain::{self, Impossible};
use super::model::{Model, Without, gap, heated_for, lengths, model, stood};
use super::stores::{Stake, Store, Wants, brings_heat};
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
    /// So many minutes sooner it could begin, all others staying where they are.
    pub lead: Minute,
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
    /// The pan is full of something else.
    Pan(usize, usize),
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
    /// Tasks under way at a minute.
    pub fn under_way(&self, now: Minute) -> impl Iterator<Item = &Row> {
        self.rows
            .iter()
            .filter(move |r| r.start <= now && now < r.end)
    }
}

/// Work that is allowed for a plan. Why there is none is asked in questions of our own.
pub(super) const LIMITS: Limits = Limits {
    steps: 150_000,
    last: 2_000,
    explaining: 0,
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
    // Egg and milk within what is good for them; where that cannot be, as little beyond it as can be.
    let mut model = model(ask, Without::NOTHING);
    let mut found = solve(&model.problem, &LIMITS);
    let roomy = |l: &super::warm::Limit| l.wall > l.most;
    let more = ask.jobs.iter().any(|j| j.tasks.limits.iter().any(roomy));
    if more
        && matches!(
            found,
            Err(Trouble::Impossible(_) | Trouble::Undecided { .. })
        )
    {
        model = super::model::model(ask, Without::WALLS);
        found = solve(&model.problem, &LIMITS);
    }
    match found {
        Ok(solution) => {
            let times = times(&model, &solution.placed);
            Ok(rows(ask, &times, &solution.goals, model.main))
        }
        Err(Trouble::Impossible(_)) => Err(Box::new(clash::clash(ask))),
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
    let mut plan = rows(ask, &times, &[], 0);
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

/// `main`: so many of the goals are the baker's; later ones only tidy up.
fn rows(
    ask: &Ask,
    times: &[Vec<Times>],
    goals: &[numeric::schedule::Reached],
    main: usize,
) -> Plan {
    let around = Around::new(ask, times);
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
            let begun = ask.begun(j, i).is_some();
            let (slack, held) = match begun {
                true => (0, Held::Begun),
                false => around.slack(j, i),
            };
            let lead = if begun { 0 } else { around.lead(j, i) };
            rows.push(Row {
                job: j,
                task: i,
                start,
                work_end,
                end,
                slack,
                lead,
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
    let main = goals.iter().take(main);
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
    wants: Wants,
    /// What every task takes where it stands.
    stakes: Vec<Stake>,
}

/// Slack is looked for up to a day.
const FAR: Minute = 1440;

impl<'a> Around<'a> {
    fn new(ask: &'a Ask, times: &'a [Vec<Times>]) -> Self {
        let wants = Wants::of(ask);
        let all = |j: usize| wants.stakes(ask, j, None, &|t| times[j][t]);
        let stakes = (0..ask.jobs.len()).flat_map(all).collect();
        Self {
            ask,
            times,
            wants,
            stakes,
        }
    }

    /// How much later a task could begin, and what stands in the way of one minute more.
    fn slack(&self, j: usize, i: usize) -> (Minute, Held) {
        for later in 1..=FAR {
            if let Some(held) = self.hindrance(j, i, later) {
                return (later - 1, held);
            }
        }
        (FAR, Held::Nothing)
    }

    /// How much sooner a task could begin.
    fn lead(&self, j: usize, i: usize) -> Minute {
        let stops = |sooner: &Minute| self.hindrance(j, i, -sooner).is_some();
        (1..=FAR).find(stops).map_or(FAR, |first| first - 1)
    }

    /// What keeps a task from beginning so much later, or sooner, with its end where it is if its
    /// wait may be so long.
    fn hindrance(&self, j: usize, i: usize, later: Minute) -> Option<Held> {
        let (start, work_end, end) = self.times[j][i]?;
        let task = &self.ask.jobs[j].tasks.list[i];
        let (_, (least, most)) = lengths(task, self.ask.kitchen.racks);
        let (s, w) = (start + later, work_end + later);
        if s < self.ask.now {
            return Some(Held::Nothing);
        }
        let stays = task.wait.is_some() && (least..=most.max(least)).contains(&(end - w));
        let end = if stays { end } else { end + later };
        self.clash(j, i, (s, w, end))
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
            let apart = if hot {
                w != end
            } else {
                s < end || s - end > gap(tasks, before, i)
            };
            if apart {
                return Some(Held::After(before));
            }
        }
        let mine = |l: &&super::warm::Limit| l.from == i || l.to.is_none_or(|t| t == i);
        for limit in tasks.limits.iter().filter(mine) {
            let length = |of: &dyn Fn(usize) -> Times| {
                let from = of(limit.from).map(|(s, _, e)| limit.begins(s, e))?;
                let to = match limit.to {
                    Some(t) => of(t).map(|(s, w, _)| limit.ends(s, w))?,
                    // It is eaten when it is served, however early it is ready.
                    None => {
                        let ends = tasks.last().filter_map(|t| Some(of(t)?.2));
                        ends.chain(job.serve).max()?
                    }
                };
                Some(i64::from(to - from))
            };
            let moved = length(&|t| if t == i { Some(at) } else { self.times[j][t] });
            // What stands too long as it is stands no longer.
            let most = length(&|t| self.times[j][t]).map_or(limit.most, |now| now.max(limit.most));
            if moved.is_some_and(|m| m > most) {
                return Some(Held::Warm);
            }
        }
        if w > s && self.ask.quiet.iter().any(|q| q.shared(s, w) > 0) {
            return Some(Held::Quiet);
        }
        self.wanted((j, i), at)
    }

    /// What is wanted elsewhere at the same time.
    fn wanted(&self, me: (usize, usize), at: (Minute, Minute, Minute)) -> Option<Held> {
        let kitchen = &self.ask.kitchen;
        let (j, i) = me;
        let moved = |t: usize| if t == i { Some(at) } else { self.times[j][t] };
        for m in self.wants.stakes(self.ask, j, Some(i), &moved) {
            let others = self
                .stakes
                .iter()
                .filter(|o| o.store == m.store && !o.is_of(me));
            if m.store == Store::Oven && kitchen.ovens < 2 {
                let mut others = others.clone();
                if let Some(o) = others.find(|o| self.too_near(&m, o)) {
                    return Some(Held::Oven(o.job, o.tasks.0));
                }
            }
            let beside: Vec<&Stake> = others.filter(|o| o.from < m.to && m.from < o.to).collect();
            let has = match m.store {
                Store::Hands => kitchen.hands,
                Store::Mixer => kitchen.mixers.max(1),
                Store::Oven => kitchen.racks * kitchen.ovens.max(1),
                Store::Fridge => kitchen.fridge,
                Store::Freezer => kitchen.freezer,
                Store::Pan(k) => self.wants.shared[k].has,
            };
            let over = beside.iter().find(|o| {
                let then = o.from.max(m.from);
                let running = beside.iter().filter(|x| x.from <= then && then < x.to);
                running.map(|x| x.amount).sum::<u32>() + m.amount > has
            });
            if let Some(o) = over {
                let (j, i) = (o.job, o.tasks.0);
                return Some(match m.store {
                    Store::Hands => Held::Hands(j, i),
                    Store::Mixer => Held::Mixer(j, i),
                    Store::Oven => Held::Oven(j, i),
                    Store::Fridge | Store::Freezer => Held::Cold(j, i),
                    Store::Pan(_) => Held::Pan(j, i),
                });
            }
        }
        None
    }

    /// Whether two that are in the oven at different temperatures leave it no time to change.
    fn too_near(&self, a: &Stake, b: &Stake) -> bool {
        // The bake that a task is, or heats the oven for.
        let bake = |s: &Stake| heated_for(&self.ask.jobs[s.job].tasks, s.tasks.0);
        let oven = |s: &Stake| {
            let wait = self.ask.jobs[s.job].tasks.list[bake(s)].wait;
            wait.and_then(|w| w.oven)
        };
        let same = (a.job, bake(a)) == (b.job, bake(b));
        if same || oven(a).is_some() && oven(a) == oven(b) {
            return false;
        }
        let change = self.ask.kitchen.oven_change as Minute;
        let before = |then: &Stake| {
            let tasks = &self.ask.jobs[then.job].tasks;
            if brings_heat(tasks, then.tasks.0) {
                0
            } else {
                change
            }
        };
        a.to + before(b) > b.from && b.to + before(a) > a.from
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Job, Kitchen, tasks};
    use crate::sheet::{Sheet, work};
    use larder::Larder;
    use numeric::schedule::Reached;
    use quantity::Locale;

    /// Once an optional task is begun nothing is left to leave out, and the baker's goal is the first.
    #[test]
    fn tidying_up_that_is_not_proven_leaves_a_plan_proven() {
        let rolls = "Rolls\n\n500 g bread flour\n7 g yeast\n10 g salt\n330 g water\n\n1. Mix and knead for 8 minutes.\n2. Shape into 12 rolls. Let rise for 1 hour.\n3. Bake at 200 °C for 20 minutes.\n";
        let sheet = Sheet::new(rolls, Locale::Metric);
        let larder = Larder::built_in().expect("the built-in tables");
        let worked = work(&sheet, &[], &larder, &[]).expect("a recipe");
        let mut tasks = tasks(&worked, &sheet, 1.0);
        let rest = tasks.list.iter().position(|t| t.what == "rest");
        let rest = rest.expect("a rest");
        tasks.list[rest].optional = Some("a grittier crumb".to_owned());
        let mut ask = Ask {
            jobs: vec![Job { tasks, serve: None }],
            kitchen: Kitchen::default(),
            quiet: Vec::new(),
            now: 0,
            begun: Vec::new(),
        };
        let none = vec![vec![None; ask.jobs[0].tasks.list.len()]];
        let reached = |value, bound| Reached { value, bound };
        let proven = |ask: &Ask, goals: &[Reached]| {
            rows(ask, &none, goals, model(ask, Without::NOTHING).main).proven
        };
        let goals = [reached(500, 500), reached(900, 700)];
        // To come: the first goal is to leave nothing out, and the baker's is not proven.
        assert!(!proven(&ask, &goals));
        ask.begin(vec![Begun {
            job: 0,
            task: rest,
            start: 0,
            work_end: 1,
            end: 20,
        }]);
        assert!(proven(&ask, &goals));
    }
}
