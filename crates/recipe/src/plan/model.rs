//! A plan as a problem for the scheduler.

use super::ask::{Ask, Begun, LONGEST_CHANGE, Minute};
use super::explain::Limited;
use super::stores::brings_heat;
use super::task::{Place, Task};
use super::tasks::Tasks;
use super::warm::Limit;
use numeric::schedule::{
    Activity, ActivityId, Avoid, Calendar, CalendarId, Changeover, Give, Goal, Kept, Lag, LagId,
    Length, Need, Point, Problem, Resource, ResourceId, Rule, Side, Span, Term, Window,
};

/// What is kept between two parts waits no longer than this: the day before.
pub(super) const HOLD: i32 = 1440;
/// What is whipped or folded does not even wait so long.
const AIRY: i32 = 30;
/// A plan reaches so far ahead of now, and so far back: six days.
pub(super) const REACH: Minute = 6 * 1440;

/// A task's activities.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pieces {
    pub work: Option<ActivityId>,
    pub wait: Option<ActivityId>,
}

impl Pieces {
    pub fn start(self) -> Option<Point> {
        self.work.or(self.wait).map(Point::start)
    }
    pub fn end(self) -> Option<Point> {
        self.wait.or(self.work).map(Point::end)
    }
}

/// A rule that the words of an explanation come back to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum What {
    /// A task comes after another, or not too long after it.
    Order(usize, usize),
    /// What holds egg or milk stands warm no longer.
    Warm(usize),
    /// Work and wait of a task are one.
    Inside(usize),
    /// A wait is no longer than it may be.
    Wait(usize),
}

/// The problem and how to read its answer.
pub(super) struct Model {
    pub problem: Problem,
    /// By job and task.
    pub pieces: Vec<Vec<Pieces>>,
    /// What each lag is, by job.
    pub lags: Vec<(LagId, usize, What)>,
    /// So many of the goals are the baker's; later ones only tidy up.
    pub main: usize,
    /// By how much egg and milk stand longer than they should.
    over: Goal,
    pub quiet: Option<CalendarId>,
    pub hands: ResourceId,
    pub ovens: Vec<ResourceId>,
    pub mixer: Option<ResourceId>,
    pub fridge: ResourceId,
    pub freezer: ResourceId,
}

/// More of anything than any plan wants.
const PLENTY: u32 = 10_000;

/// What is left out of account: to see what makes a plan impossible.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Without {
    /// Quiet hours do not count.
    pub quiet: bool,
    /// It may begin before now.
    pub now: bool,
    /// No serving time: as soon as may be.
    pub serving: bool,
    /// What spoils may stand until it is eaten: it is kept cold.
    pub eaten: bool,
    /// There is plenty of everything: hands, ovens, shelves, pans.
    pub plenty: bool,
    /// Egg and milk may stand up to the walls of their limits, as little beyond what is good as can be.
    pub room: bool,
}

impl Without {
    /// Everything counts.
    pub const NOTHING: Self = Self {
        quiet: false,
        now: false,
        serving: false,
        eaten: false,
        plenty: false,
        room: false,
    };
    /// Everything counts, egg and milk up to the walls of their limits.
    pub const WALLS: Self = Self {
        room: true,
        ..Self::NOTHING
    };

    /// The minutes that a limit may take.
    fn most(self, limit: &Limit) -> Minute {
        let most = if self.room { limit.wall } else { limit.most };
        i32::try_from(most).unwrap_or(i32::MAX / 4)
    }

    /// A plan is asked for, and not why there is none.
    fn plans(self) -> bool {
        self == Self::NOTHING || self == Self::WALLS
    }
}

/// How often the oven is filled for a task, and the racks each time.
pub(super) fn rounds(task: &Task, racks: u32) -> (u32, u32) {
    let racks = racks.max(1);
    if task.racks <= racks {
        (1, task.racks)
    } else {
        (task.racks.div_ceil(racks), racks)
    }
}

/// The length of a task's work and the range of its wait, minutes.
pub(super) fn lengths(task: &Task, racks: u32) -> (i32, (i32, i32)) {
    let (low, high) = task.wait_planned();
    let in_oven = task.wait.is_some_and(|w| w.place == Place::Oven);
    let times = if in_oven { rounds(task, racks).0 } else { 1 };
    let to = |m: i64| i32::try_from(m).unwrap_or(i32::MAX / 4);
    // Between two rounds somebody changes the trays.
    let more = (to(task.hands_planned()) + 5) * (times as i32 - 1);
    let times = times as i32;
    (
        to(task.hands_planned()),
        (to(low) * times + more, to(high) * times + more),
    )
}

/// Minutes that what is begun may stand beyond its time before the next is begun: it is there, and
/// is told.
pub(super) const GRACE: i32 = 30;

/// The range of a task's wait, minutes: that of what is begun, where it is.
pub(super) fn waits(ask: &Ask, j: usize, i: usize) -> (i32, i32) {
    let task = &ask.jobs[j].tasks.list[i];
    let (_, (low, high)) = lengths(task, ask.kitchen.racks);
    let Some(b) = ask.begun(j, i) else {
        return (low, high.max(low));
    };
    let so_far = ask.now - b.work_end;
    let planned = b.end - b.work_end;
    if task.what == "preheat" {
        // The oven stays hot.
        return (planned.min(low), high.max(planned).max(so_far) + REACH);
    }
    if !task.wait.is_some_and(|w| w.may) {
        return (planned, planned);
    }
    let least = if b.end <= ask.now {
        planned
    } else {
        low.max(so_far).min(planned)
    };
    (least, high.max(planned))
}

/// The longest gap after a task before one that follows it, and how long it has stood already
/// beyond that.
pub(super) fn stood(ask: &Ask, j: usize, before: usize, after: usize) -> (i32, i32) {
    let most = gap(&ask.jobs[j].tasks, before, after);
    let over = match (ask.begun(j, before), ask.begun(j, after)) {
        (Some(b), None) => {
            // A wait of any length may have gone on.
            let last = b.work_end + waits(ask, j, before).1.max(b.end - b.work_end);
            ask.now - last - most
        }
        _ => 0,
    };
    (most, over.max(0))
}

/// The longest gap after a task before one that follows it.
pub(super) fn gap(tasks: &Tasks, before: usize, after: usize) -> i32 {
    let (a, b) = (&tasks.list[before], &tasks.list[after]);
    let stands = a.stands.min(f64::from(HOLD)) as i32;
    if matches!(b.what, "cool_rolls" | "cool_loaf")
        && matches!(a.what, "take_out" | "bake" | "cool")
    {
        // What is out of the oven cools.
        0
    } else if b.soon.contains(&before) {
        stands.min(b.soon_within as i32)
    } else if a.component == b.component || a.spoils == Some(after) {
        stands
    } else if matches!(a.what, "whip" | "fold") {
        AIRY
    } else {
        HOLD.max(stands)
    }
}

pub(super) fn model(ask: &Ask, without: Without) -> Model {
    let earliest = if without.now {
        ask.now - REACH
    } else {
        ask.now
    };
    let last = ask.jobs.iter().filter_map(|j| j.serve).max();
    let last = last.filter(|_| !without.serving).unwrap_or(ask.now + REACH);
    let last = last.max(earliest + 1);
    let first = earliest.max(last - 2 * REACH);
    // Wider than it need be: what does not fit is a clash of windows, which can be explained.
    let margin = if last - first < REACH { 2 * HOLD } else { 0 };
    let begun = ask.begun.iter();
    let (from, to) = begun.fold((first - margin, last + margin), |(from, to), b| {
        (from.min(b.start), to.max(b.end + 1))
    });
    let mut problem = Problem::new(Span { from, to });
    let kitchen = &ask.kitchen;
    // Only quiet hours give way.
    let of = |n: u32| Resource::new(if without.plenty { PLENTY } else { n });
    let hands = problem.resource(of(kitchen.hands));
    let ovens: Vec<ResourceId> = (0..kitchen.ovens)
        .map(|_| {
            problem.resource(Resource {
                changeover: Changeover::Same(kitchen.oven_change.min(LONGEST_CHANGE) as i32),
                ..of(kitchen.racks)
            })
        })
        .collect();
    let mixer = (kitchen.mixers > 0).then(|| problem.resource(of(kitchen.mixers)));
    let fridge = problem.resource(of(kitchen.fridge));
    let freezer = problem.resource(of(kitchen.freezer));
    let closed: Vec<Span> = ask
        .quiet
        .iter()
        .filter(|q| q.to > first && q.from < last)
        .map(|q| Span {
            from: q.from,
            to: q.to,
        })
        .collect();
    let quiet = (!without.quiet && !closed.is_empty()).then(|| {
        problem.calendar(Calendar {
            closed,
            give: Give::At(1),
        })
    });
    let mut model = Model {
        problem,
        pieces: Vec::new(),
        lags: Vec::new(),
        main: 0,
        over: Goal::default(),
        quiet,
        hands,
        ovens,
        mixer,
        fridge,
        freezer,
    };
    let mut states: Vec<i32> = Vec::new();
    for (j, job) in ask.jobs.iter().enumerate() {
        let serve = job.serve.filter(|_| !without.serving).unwrap_or(last);
        model.tasks(ask, j, (first, serve), without, &mut states);
        model.order(ask, j, &job.tasks);
        model.warm(ask, j, &job.tasks, without);
    }
    if !without.plenty {
        model.share_ovens(ask);
        model.keep_cold(ask);
        model.share_pans(ask);
    }
    model.goals(ask, without);
    model
}

impl Model {
    fn tasks(
        &mut self,
        ask: &Ask,
        j: usize,
        (first, serve): (Minute, Minute),
        without: Without,
        states: &mut Vec<i32>,
    ) {
        let tasks = &ask.jobs[j].tasks;
        let served = ask.jobs[j].serve.is_some() && !without.serving && !without.eaten;
        let mut all = Vec::new();
        for (i, task) in tasks.list.iter().enumerate() {
            if task.left_out {
                all.push(Pieces {
                    work: None,
                    wait: None,
                });
                continue;
            }
            let begun = ask.begun(j, i);
            let hands = begun.map_or_else(
                || lengths(task, ask.kitchen.racks).0,
                |b| b.work_end - b.start,
            );
            let (low, high) = waits(ask, j, i);
            // What is begun is where it is, also where it is late.
            // What spoils is made, or leaves the cold or the heat, so long before serving at most.
            let fresh = |after: bool| {
                let mine = |l: &&Limit| l.from == i && l.after == after && l.to.is_none() && served;
                let limits = tasks.limits.iter().filter(mine);
                limits.filter(|_| begun.is_none()).min_by_key(|l| l.most)
            };
            let eaten = |after: bool| Some(serve - without.most(fresh(after)?));
            let (made, done) = (eaten(false), eaten(true));
            let end = |last: bool| Window {
                earliest: done.filter(|_| last),
                latest: begun.is_none().then_some(serve),
            };
            let at = |fixed: fn(&Begun) -> Minute| Window {
                earliest: Some(begun.map_or(first.max(made.unwrap_or(first)), fixed)),
                latest: begun.map(fixed),
            };
            let optional = task.optional.is_some() && begun.is_none();
            let work = (hands > 0 || task.wait.is_none()).then(|| {
                let mut a = Activity::new(Length::fixed(hands));
                (a.start, a.end) = (at(|b| b.start), end(task.wait.is_none()));
                a.give = Give::Never;
                a.optional = optional;
                if begun.is_some_and(|b| b.work_end <= ask.now) {
                    return self.problem.activity(a);
                }
                a.needs.push(Need {
                    resource: self.hands,
                    amount: 1,
                    state: None,
                    brings: false,
                });
                if let Some(mixer) = self.mixer.filter(|_| task.mixer) {
                    a.needs.push(Need {
                        resource: mixer,
                        amount: 1,
                        state: None,
                        brings: false,
                    });
                }
                a.avoids.extend(
                    self.quiet
                        .filter(|_| begun.is_none())
                        .map(|calendar| Avoid {
                            calendar,
                            kept: Kept::Whole,
                        }),
                );
                self.problem.activity(a)
            });
            let wait = task.wait.map(|w| {
                let mut a = Activity::new(Length {
                    least: low,
                    most: high.max(low),
                });
                (a.start, a.end) = (at(|b| b.work_end), end(true));
                a.give = Give::Never;
                a.optional = optional;
                if begun.is_some_and(|b| b.work_end + high <= ask.now) {
                    return self.problem.activity(a);
                }
                let need = match w.place {
                    Place::Bench | Place::Stove => None,
                    Place::Fridge => Some((self.fridge, task.racks, None)),
                    Place::Freezer => Some((self.freezer, task.racks, None)),
                    Place::Oven => self
                        .ovens
                        .first()
                        .filter(|_| self.ovens.len() == 1 && !without.plenty)
                        .map(|o| {
                            let (_, racks) = rounds(task, ask.kitchen.racks);
                            (*o, racks, Some(state(states, tasks, j, i)))
                        }),
                };
                a.needs.extend(need.map(|(resource, amount, state)| Need {
                    resource,
                    amount,
                    state,
                    brings: brings_heat(tasks, i),
                }));
                self.problem.activity(a)
            });
            if let (Some(a), Some(b)) = (work, wait) {
                self.lag(
                    j,
                    What::Inside(i),
                    Point::end(a),
                    Point::start(b),
                    Some(0),
                    Some(0),
                );
                if optional {
                    self.problem.follow(a, b);
                    self.problem.follow(b, a);
                }
            }
            let pieces = Pieces { work, wait };
            for (limit, a) in [(fresh(false), work.or(wait)), (fresh(true), wait.or(work))] {
                if let (Some(l), Some(a), true) = (limit, a, without.room) {
                    let at = serve - Without::NOTHING.most(l);
                    let term = if l.after {
                        Term::EndsBefore(a, at)
                    } else {
                        Term::StartsBefore(a, at)
                    };
                    self.over.terms.push((1, term));
                }
            }
            all.push(pieces);
        }
        self.pieces.push(all);
    }

    pub(super) fn lag(
        &mut self,
        j: usize,
        what: What,
        from: Point,
        to: Point,
        least: Option<i32>,
        most: Option<i32>,
    ) -> LagId {
        let id = self.problem.lag(Lag {
            from,
            to,
            least,
            most,
            give: Give::Never,
        });
        self.lags.push((id, j, what));
        id
    }

    /// Lets every wait that may be longer or shorter, every gap and every limit give way at its upper end,
    /// each minute at a price: that of egg and milk at the most. To see by how much they clash.
    pub fn loosen(&mut self, ask: &Ask) {
        /// A minute of a limit for what spoils is worth so many others.
        const DEAR: u32 = 5;
        self.problem.goals.clear();
        let span = self.problem.span.to - self.problem.span.from;
        for at in 0..self.lags.len() {
            let (id, j, what) = self.lags[at];
            let price = match what {
                What::Warm(_) => DEAR,
                What::Order(..) => 1,
                _ => continue,
            };
            let old = self.problem.lags[id.0];
            let Some(most) = old.most.filter(|m| *m > 0) else {
                continue;
            };
            self.problem.lags[id.0].most = None;
            self.give(j, what, (old.from, old.to), most, price);
        }
        for (j, job) in ask.jobs.iter().enumerate() {
            for (i, task) in job.tasks.done() {
                let wait = self.pieces[j][i].wait;
                let may = task.wait.is_some_and(|w| w.may && w.place != Place::Oven);
                let Some(a) = wait.filter(|_| may && ask.begun(j, i).is_none()) else {
                    continue;
                };
                let most = std::mem::replace(&mut self.problem.activities[a.0].length.most, span);
                self.give(j, What::Wait(i), (Point::start(a), Point::end(a)), most, 1);
            }
        }
        for p in self.pieces.iter().flatten() {
            for a in [p.work, p.wait].into_iter().flatten() {
                self.problem.activities[a.0].give = Give::At(DEAR);
            }
        }
    }

    /// What a rule that gives way limits, and of which batch.
    pub fn limited(&self, rule: Rule) -> Option<(usize, Limited)> {
        if let Rule::Lag(id, Side::Most) = rule {
            let (_, job, what) = *self.lags.iter().find(|(l, ..)| *l == id)?;
            let what = match what {
                What::Wait(i) => Limited::Wait(i),
                What::Order(a, b) => Limited::Gap(a, b),
                What::Warm(i) => Limited::Warm(i),
                What::Inside(_) => return None,
            };
            return Some((job, what));
        }
        let (Rule::Start(a, side) | Rule::End(a, side)) = rule else {
            return None;
        };
        let jobs = self.pieces.iter().enumerate();
        let mut all = jobs.flat_map(|(j, p)| p.iter().enumerate().map(move |(i, p)| (j, i, p)));
        let (j, i, _) = all.find(|(.., p)| p.work == Some(a) || p.wait == Some(a))?;
        Some(match side {
            Side::Least => (j, Limited::Eaten(i)),
            Side::Most => (j, Limited::Ready(i)),
        })
    }

    /// Begins the first task at a minute: without quiet hours or a serving time one is as good as another,
    /// and a clash is found without trying them all.
    pub fn pin(&mut self, at: Minute) {
        let first = self.pieces.iter().flatten().find_map(|p| p.work.or(p.wait));
        if let Some(a) = first {
            self.problem.activities[a.0].start = Window {
                earliest: Some(at),
                latest: Some(at),
            };
        }
    }

    fn give(&mut self, j: usize, what: What, (from, to): (Point, Point), most: i32, price: u32) {
        let id = self.problem.lag(Lag {
            from,
            to,
            least: None,
            most: Some(most),
            give: Give::At(price),
        });
        self.lags.push((id, j, what));
    }

    fn order(&mut self, ask: &Ask, j: usize, tasks: &Tasks) {
        for (i, task) in tasks.done().filter(|(i, _)| ask.begun(j, *i).is_none()) {
            for &before in &task.after {
                let (a, b) = (self.pieces[j][before], self.pieces[j][i]);
                let (Some(end), Some(start)) = (a.end(), b.start()) else {
                    continue;
                };
                let what = What::Order(before, i);
                if tasks.list[before].what == "preheat"
                    && let (Some(hot), Some(baked)) = (a.wait, b.wait)
                {
                    // The oven stays as it is until the bake is in.
                    let (from, to) = (Point::end(hot), Point::start(baked));
                    self.lag(j, what, from, to, Some(0), Some(0));
                    continue;
                }
                let (most, over) = stood(ask, j, before, i);
                let most = if over > 0 { most + over + GRACE } else { most };
                self.lag(j, what, end, start, Some(0), Some(most));
                if tasks.list[before].optional.is_some() {
                    self.past(j, tasks, before, i);
                }
            }
        }
    }

    /// Where a task may be left out, the next follows those before it.
    fn past(&mut self, j: usize, tasks: &Tasks, skipped: usize, to: usize) {
        let mut open = tasks.list[skipped].after.clone();
        let mut seen = vec![false; tasks.list.len()];
        while let Some(before) = open.pop() {
            if std::mem::replace(&mut seen[before], true) {
                continue;
            }
            let ends = (self.pieces[j][before].end(), self.pieces[j][to].start());
            if let (Some(end), Some(start)) = ends {
                self.lag(j, What::Order(before, to), end, start, Some(0), None);
            }
            if tasks.list[before].optional.is_some() {
                open.extend(tasks.list[before].after.iter().copied());
            }
        }
    }

    fn warm(&mut self, ask: &Ask, j: usize, tasks: &Tasks, without: Without) {
        for limit in &tasks.limits {
            let most = Some(without.most(limit));
            let a = self.pieces[j][limit.from];
            let Some(from) = a.start().zip(a.end()).map(|(s, e)| limit.begins(s, e)) else {
                continue;
            };
            let what = What::Warm(limit.from);
            match limit.to {
                Some(to) if ask.begun(j, to).is_none() => {
                    let b = self.pieces[j][to];
                    let end = b.wait.map(Point::start).or_else(|| b.end());
                    if let Some(to) = if limit.boils { b.start() } else { end } {
                        let lag = self.lag(j, what, from, to, None, most);
                        self.over_most(lag, limit, without);
                    }
                }
                None if !without.eaten => {
                    let last = tasks.last().filter_map(|i| self.pieces[j][i].end());
                    for to in last.collect::<Vec<_>>() {
                        let lag = self.lag(j, what, from, to, None, most);
                        self.over_most(lag, limit, without);
                    }
                }
                _ => {}
            }
        }
    }

    fn over_most(&mut self, lag: LagId, limit: &Limit, without: Without) {
        let most = Without::NOTHING.most(limit);
        if without.room && without.most(limit) > most {
            self.over.terms.push((1, Term::LagOver(lag, most)));
        }
    }

    fn goals(&mut self, ask: &Ask, without: Without) {
        let over = std::mem::take(&mut self.over);
        if without.plans() && !over.terms.is_empty() {
            self.problem.goal(over);
        }
        let mut skipped = Goal::default();
        let mut late = Goal::default();
        for (j, job) in ask.jobs.iter().enumerate() {
            for (i, task) in job.tasks.done().filter(|(i, _)| ask.begun(j, *i).is_none()) {
                let pieces = self.pieces[j][i];
                let first = pieces.work.or(pieces.wait);
                if let (Some(a), true) = (first, task.optional.is_some()) {
                    skipped.terms.push((1, Term::Skipped(a)));
                }
                // Each thing as late as may be: fresh, and nothing stands about.
                late.terms.extend(first.map(|a| (-1, Term::Start(a))));
            }
        }
        if !skipped.terms.is_empty() {
            self.problem.goal(skipped);
        }
        let soon = without.serving || ask.jobs.iter().any(|j| j.serve.is_none());
        self.problem.goal(if soon {
            Goal::soonest()
        } else {
            Goal::latest_start()
        });
        self.main = self.problem.goals.len();
        // In an answer to why there is no plan nothing is tidied up.
        if soon && without.plans() {
            self.problem.goal(Goal::latest_start());
        }
        if !late.terms.is_empty() && without.plans() {
            self.problem.goal(late);
        }
    }
}

/// The bake that the oven is heated for; a task itself where it heats none.
pub(super) fn heated_for(tasks: &Tasks, i: usize) -> usize {
    let heats = tasks.list[i].what == "preheat";
    let mut bakes = tasks.done().filter(|(_, t)| t.after.contains(&i));
    bakes.next().filter(|_| heats).map_or(i, |(bake, _)| bake)
}

/// The state of an oven for a task: the heat of the bake it is heated for. Where none is said it is a
/// state of its own.
pub(super) fn state(states: &mut Vec<i32>, tasks: &Tasks, j: usize, i: usize) -> usize {
    let i = heated_for(tasks, i);
    let key = match tasks.list[i].wait.and_then(|w| w.oven) {
        Some(t) => (t / 5.0).round() as i32 * 5,
        None => -1 - (j as i32 * 10_000 + i as i32),
    };
    match states.iter().position(|s| *s == key) {
        Some(at) => at,
        None => {
            states.push(key);
            states.len() - 1
        }
    }
}
