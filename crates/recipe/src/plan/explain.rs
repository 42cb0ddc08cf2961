//! Why there is no plan, and what would make one.

use super::ask::{Ask, Kitchen, Minute};
use super::model::{Model, Without, model};
use super::own::minutes_words;
use super::pans;
use super::solve::{LIMITS, times};
use super::stores::wanted;
use super::task::Place;
use super::warm::{Breach, WARM_WORDS};
use numeric::schedule::{self, Bound, Give, Limits, Problem, Rule, solve};

/// A limit that would have to be longer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Short {
    /// The batch.
    pub job: usize,
    /// What it limits.
    pub what: Limited,
    /// The minutes that are missing.
    pub by: Minute,
}

/// What a limit limits, by task.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Limited {
    /// How long a task waits.
    Wait(usize),
    /// How soon the second follows the first.
    Gap(usize, usize),
    /// How long what a task makes stands warm.
    Warm(usize),
    /// How long it may stand until it is eaten.
    Eaten(usize),
    /// When it is to be ready.
    Ready(usize),
}

/// Why there is no plan. Each field that has something in it is a reason or a way out.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Impossible {
    /// Serving times that are past: batch, minutes ago.
    pub past: Vec<(usize, Minute)>,
    /// Parts that stand warm, or in the fridge, longer than they may, however they are planned:
    /// batch and part.
    pub unsafe_parts: Vec<(usize, Breach)>,
    /// What was begun and has stood warm too long by now: batch, the task it began with, minutes,
    /// the most.
    pub spoilt: Vec<(usize, usize, Minute, Minute)>,
    /// Tasks that need what the kitchen does not have: batch, task, what.
    pub lacking: Vec<(usize, usize, &'static str)>,
    /// Pans that a batch needs at once and the kitchen has too few of: batch, the task that fills
    /// them, their name, how many, how many there are.
    pub pans: Vec<(usize, usize, String, u32, u32)>,
    /// Where it would have to begin if neither quiet hours nor the present moment counted: batch,
    /// task, minute.
    pub begin: Option<(usize, usize, Minute)>,
    /// Work that falls into quiet hours if it is to be ready in time: batch, task, from, to.
    pub quiet: Vec<(usize, usize, Minute, Minute)>,
    /// The least minutes of quiet hours that would have to be given up, where that alone helps.
    pub quiet_minutes: Option<Minute>,
    /// When it is ready at the earliest, quiet hours kept: the first batch that is late, when.
    pub earliest: Option<(usize, Minute)>,
    /// It could be planned if what spoils were kept cold until it is eaten.
    pub keep_cold: bool,
    /// The fewest limits found that clash where neither quiet hours nor the present moment counted.
    pub short: Vec<Short>,
    /// One more of these would do: `pair of hands`, `oven` …; of two together `pair of hands and one more oven`.
    pub one_more: Option<String>,
    /// That would be a pan: until it is turned out, others wait for it.
    pub pan: bool,
    /// The work allowed ran out before an answer.
    pub undecided: bool,
    /// A fault of ours: the problem made no sense to the scheduler.
    pub fault: Option<String>,
}

impl Impossible {
    pub(super) fn undecided() -> Self {
        Self {
            undecided: true,
            ..Self::default()
        }
    }
    pub(super) fn malformed(place: &str, wrong: &str) -> Self {
        Self {
            fault: Some(format!("{place}: {wrong}")),
            ..Self::default()
        }
    }

    /// In sentences, the reason first.
    ///
    /// # Inputs
    /// - `clock`: a minute as people say it: `Sun 21:10`.
    #[must_use]
    pub fn sentences(&self, ask: &Ask, clock: &dyn Fn(Minute) -> String) -> Vec<String> {
        let mut out = Vec::new();
        let title = |j: usize| {
            let title = &ask.jobs[j].tasks.title;
            if title.is_empty() {
                "the recipe"
            } else {
                title
            }
        };
        let task = |j: usize, i: usize| {
            let t = &ask.jobs[j].tasks.list[i];
            if ask.jobs.len() > 1 {
                format!("'{}' of {}", t.title(), title(j))
            } else {
                format!("'{}'", t.title())
            }
        };
        for (j, ago) in &self.past {
            out.push(format!(
                "The serving time of {}, {}, is {} ago. Give a time to come.",
                title(*j),
                clock(ask.now - ago),
                minutes_words(f64::from(*ago))
            ));
        }
        for (j, b) in &self.unsafe_parts {
            let what = if b.of.is_empty() {
                "the dough or batter"
            } else {
                &b.of
            };
            if b.cold {
                out.push(format!(
                    "In {}, {what} stays in the fridge for {} in all at least, and {} is the limit for egg or milk (common practice, no source; your local rules come first). Shorten {}.",
                    title(*j),
                    minutes_words(b.least),
                    minutes_words(b.most),
                    task(*j, b.longest)
                ));
                continue;
            }
            out.push(format!(
                "In {}, {what} stands above 5 °C for {} at least, and {} is the limit: {WARM_WORDS}. Shorten {}, or put it into the fridge.",
                title(*j),
                minutes_words(b.least),
                minutes_words(b.most),
                task(*j, b.longest)
            ));
        }
        for (j, i, stood, most) in &self.spoilt {
            out.push(format!(
                "What {} made has stood above 5 °C for {}, and {} is the limit: {WARM_WORDS}. Do not go on with it; begin it anew.",
                task(*j, *i),
                minutes_words(f64::from(*stood)),
                minutes_words(f64::from(*most))
            ));
        }
        for (j, i, what) in &self.lacking {
            out.push(format!(
                "{} needs {what}, and the kitchen has none free.",
                task(*j, *i)
            ));
        }
        for (j, i, name, wants, has) in &self.pans {
            out.push(format!(
                "{} fills {wants} of '{name}' at once, and the kitchen has {has}. Make less at a time, or note how many there are.",
                task(*j, *i)
            ));
        }
        let serve = ask.jobs.iter().filter_map(|j| j.serve).max();
        if let (true, Some(pan)) = (self.pan, &self.one_more) {
            out.push(format!(
                "It is a pan that makes it impossible: '{pan}' is wanted again before what is in it is turned out."
            ));
        }
        if let Some((j, i, at)) = self.begin {
            let when = clock(at);
            let serving = serve.map_or_else(
                || "It needs".to_owned(),
                |t| format!("Serving at {} needs", clock(t)),
            );
            if at < ask.now {
                out.push(format!(
                    "{serving} {} begun at {when}, {} before now.",
                    task(j, i),
                    minutes_words(f64::from(ask.now - at))
                ));
            } else if !self.quiet.is_empty() {
                let (qj, qi, from, _) = self.quiet[0];
                out.push(format!(
                    "{serving} {} begun at {}, in your quiet hours.",
                    task(qj, qi),
                    clock(from)
                ));
            }
        }
        out.extend(short(&self.short, &task));
        let mut ways = Vec::new();
        if let Some(m) = self.quiet_minutes {
            ways.push(format!(
                "allow {} of work in your quiet hours",
                minutes_words(f64::from(m))
            ));
        }
        if let Some((j, at)) = self.earliest {
            let of = if ask.jobs.len() > 1 {
                format!(" {}", title(j))
            } else {
                String::new()
            };
            ways.push(format!("serve{of} at {} at the earliest", clock(at)));
        }
        if self.keep_cold {
            ways.push("keep what holds egg or milk in the fridge until it is served, with a step of its own in the method that says so".to_owned());
        }
        if let Some(what) = &self.one_more {
            ways.push(format!("have one more {what}"));
        }
        if !ways.is_empty() {
            let mut sentence = ways.join(", or ");
            sentence.push('.');
            out.push(super::step::capital(&sentence));
        }
        if self.undecided {
            out.push("No plan was found within the work allowed, nor a proof that there is none. Take a recipe out, or leave more time.".to_owned());
        }
        if let Some(fault) = &self.fault {
            out.push(format!("The plan could not be worked out: {fault}."));
        }
        if out.is_empty() {
            out.push("These steps cannot all be kept within their longest waits. Lengthen a wait, or leave a step out.".to_owned());
        }
        out
    }
}

/// Limits that clash, in a sentence: each with its step, and by how much.
fn short(list: &[Short], task: &dyn Fn(usize, usize) -> String) -> Option<String> {
    let minutes = |m: Minute| minutes_words(f64::from(m));
    let one = |s: &Short| {
        let by = minutes(s.by);
        match s.what {
            Limited::Wait(i) => format!(
                "{} would have to wait {by} longer than it may",
                task(s.job, i)
            ),
            Limited::Gap(a, b) => format!(
                "{} would come {by} later after {} than it may",
                task(s.job, b),
                task(s.job, a)
            ),
            Limited::Warm(i) => format!(
                "what spoils would stand {by} longer from {} on than it may",
                task(s.job, i)
            ),
            Limited::Eaten(i) => format!(
                "what {} makes would stand {by} longer until it is eaten than it may",
                task(s.job, i)
            ),
            Limited::Ready(i) => format!("{} would be over {by} too late", task(s.job, i)),
        }
    };
    let all: Vec<String> = list.iter().map(one).collect();
    match all.as_slice() {
        [] => None,
        [only] => Some(format!("As it is, {only}.")),
        _ => Some(format!(
            "As it is, {}: all of these together.",
            all.join("; ")
        )),
    }
}

/// What makes a plan impossible before anything is solved.
pub(super) fn before(ask: &Ask) -> Option<Impossible> {
    let mut why = Impossible::default();
    for (j, job) in ask.jobs.iter().enumerate() {
        if let Some(t) = job.serve.filter(|t| *t < ask.now) {
            why.past.push((j, ask.now - t));
        }
        let breaches = job.tasks.breaches.iter();
        why.unsafe_parts.extend(breaches.map(|b| (j, b.clone())));
        for limit in &job.tasks.limits {
            let over = match limit.to {
                Some(to) => ask.begun(j, to).is_some(),
                // All of it is done: it is eaten, or its own cautions say how it is kept.
                None => job.tasks.last().all(|t| ask.begun(j, t).is_some()),
            };
            if let (Some(from), false) = (ask.begun(j, limit.from), over) {
                let begins = limit.begins(from.start, from.end);
                let (stood, most) = (ask.now - begins, limit.most as Minute);
                if stood > most {
                    why.spoilt.push((j, limit.from, stood, most));
                }
            }
        }
        for (i, t) in job.tasks.done() {
            let lacks = match t.wait.map(|w| w.place) {
                Some(Place::Oven) if ask.kitchen.ovens == 0 => Some("an oven"),
                Some(Place::Fridge) if ask.kitchen.fridge < t.racks => Some("room in the fridge"),
                Some(Place::Freezer) if ask.kitchen.freezer < t.racks => {
                    Some("room in the freezer")
                }
                _ => None,
            };
            why.lacking.extend(lacks.map(|what| (j, i, what)));
        }
    }
    for set in pans::shared(ask) {
        for (j, u) in &set.users {
            let p = &ask.jobs[*j].tasks.pans[*u];
            if p.count > set.has {
                why.pans
                    .push((*j, p.from, p.name.clone(), p.count, set.has));
            }
        }
    }
    let any = !why.past.is_empty()
        || !why.pans.is_empty()
        || !why.spoilt.is_empty()
        || !why.unsafe_parts.is_empty()
        || !why.lacking.is_empty();
    any.then_some(why)
}

/// Work that is allowed for a question whose answer is only whether there is a plan.
const QUICK: Limits = Limits {
    steps: 20_000,
    last: 20_000,
    explaining: 20_000,
};

/// What makes it impossible, by asking again with one thing out of account; nothing is tidied up in
/// the answers, and what no number of hands and ovens would mend is not asked of each of them.
pub(super) fn clash(ask: &Ask) -> Impossible {
    let mut out = Impossible::default();
    // Neither quiet hours nor now.
    let anytime = Without {
        quiet: true,
        now: true,
        ..Without::default()
    };
    if let Some(all) = placed(ask, anytime) {
        let first = all.iter().min_by_key(|(.., (s, w, _))| (*s, *w));
        out.begin = first.map(|(j, i, (s, ..))| (*j, *i, *s));
        for (j, i, (s, w, _)) in &all {
            if ask.quiet.iter().any(|q| q.shared(*s, *w) > 0) {
                out.quiet.push((*j, *i, *s, *w));
            }
        }
        out.quiet.sort_by_key(|q| q.2);
    }
    out.quiet_minutes = quiet_minutes(ask);
    // As soon as can be, the rest as asked.
    let soon = Without {
        serving: true,
        ..Without::default()
    };
    if let Some(all) = placed(ask, soon) {
        let late = ask.jobs.iter().enumerate().filter_map(|(j, job)| {
            let mine = all.iter().filter(|(x, ..)| *x == j);
            let ready = mine.map(|(.., t)| t.2).max()?;
            job.serve.filter(|s| ready > *s).map(|_| (j, ready))
        });
        out.earliest = late.max_by_key(|(_, t)| *t);
    }
    let eaten = |l: &super::warm::Limit| l.to.is_none();
    out.keep_cold = ask.jobs.iter().any(|j| j.tasks.limits.iter().any(eaten))
        && can_be(
            ask,
            Without {
                eaten: true,
                ..Without::default()
            },
        );
    let plenty = Without {
        plenty: true,
        ..Without::default()
    };
    if can_be(ask, plenty) {
        (out.one_more, out.pan) = one_more(ask);
    }
    if out.begin.is_none() && !out.pan {
        out.short = clashing(ask, anytime);
    }
    out
}

/// The fewest limits found that would have to be longer for a plan: of one batch by itself where that is
/// impossible, else of all together.
fn clashing(ask: &Ask, without: Without) -> Vec<Short> {
    let served = ask.jobs.iter().all(|j| j.serve.is_some());
    for job in 0..ask.jobs.len() {
        let mut alone = ask.clone();
        alone.jobs = vec![ask.jobs[job].clone()];
        alone.begun.retain(|b| b.job == job);
        alone.begun.iter_mut().for_each(|b| b.job = 0);
        let any = Without {
            serving: true,
            ..without
        };
        let mut short = too_short(&alone, any);
        if short.is_empty() && served {
            short = too_short(&alone, without);
        }
        if !short.is_empty() {
            short.iter_mut().for_each(|s| s.job = job);
            return short;
        }
    }
    if ask.jobs.len() > 1 {
        too_short(ask, without)
    } else {
        Vec::new()
    }
}

/// The fewest limits found that would have to be longer; none where nothing is too short.
fn too_short(ask: &Ask, without: Without) -> Vec<Short> {
    let mut model = model(ask, without);
    model.loosen(ask);
    if without.serving && ask.begun.is_empty() {
        model.pin(ask.now);
    }
    let Some(mut few) = given(&model.problem) else {
        return Vec::new();
    };
    // Fewer of them by more minutes are said more easily, where they are enough.
    while few.len() > 1 {
        let fewer = (0..few.len()).find_map(|n| {
            let mut kept = few.clone();
            kept.remove(n);
            given(&only(&model, &kept))
        });
        let Some(fewer) = fewer else { break };
        few = fewer;
    }
    // And by no more than they need.
    few = given(&only(&model, &few)).unwrap_or(few);
    few.iter()
        .filter_map(|(rule, by)| {
            let (job, what) = model.limited(*rule)?;
            Some(Short { job, what, by: *by })
        })
        .collect()
}

/// The problem of a model in which nothing but these rules gives way.
fn only(model: &Model, rules: &[(Rule, Minute)]) -> Problem {
    let mut problem = model.problem.clone();
    let kept = |rule: &dyn Fn(&Rule) -> bool| rules.iter().any(|(r, _)| rule(r));
    for (n, lag) in problem.lags.iter_mut().enumerate() {
        if !kept(&|r| matches!(r, Rule::Lag(id, _) if id.0 == n)) {
            lag.give = Give::Never;
        }
    }
    for (n, a) in problem.activities.iter_mut().enumerate() {
        if !kept(&|r| matches!(r, Rule::Start(id, _) | Rule::End(id, _) if id.0 == n)) {
            a.give = Give::Never;
        }
    }
    problem
}

/// The rules that give way in the cheapest way out, with their minutes.
fn given(problem: &Problem) -> Option<Vec<(Rule, Minute)>> {
    let way = schedule::way_out(problem, &QUICK).ok()??;
    let rule = |g: &schedule::Given| match g.what {
        Bound::Rule(rule) => Some((rule, g.by)),
        _ => None,
    };
    Some(way.given.iter().filter_map(rule).collect())
}

/// The least minutes of quiet hours to give up, where that alone helps.
fn quiet_minutes(ask: &Ask) -> Option<Minute> {
    let model = model(ask, Without::default());
    model.quiet?;
    let way = schedule::way_out(&model.problem, &QUICK).ok()??;
    let minutes: Minute = way.given.iter().map(|g| g.by).sum();
    Some(minutes).filter(|m| *m > 0)
}

/// What one more of would make it possible, and whether that is a pan: pans first, since they are
/// soonest borrowed.
fn one_more(ask: &Ask) -> (Option<String>, bool) {
    let helps = |change: &dyn Fn(&mut Kitchen)| {
        let mut more = ask.clone();
        change(&mut more.kitchen);
        can_be(&more, Without::default())
    };
    for set in pans::shared(ask) {
        let pans = &ask.kitchen.pans;
        let at = pans
            .iter()
            .position(|p| set.name.split(" or ").any(|n| n == p.name));
        if let Some(at) = at.filter(|_| set.users.len() > 1)
            && helps(&|k| k.pans[at].count += 1)
        {
            return (Some(set.name), true);
        }
    }
    let short = |place, has| wanted(ask, place) > has;
    let kitchen = &ask.kitchen;
    let mixed = ask
        .jobs
        .iter()
        .any(|j| j.tasks.done().any(|(_, t)| t.mixer));
    type More = fn(&mut Kitchen);
    let all: [(&str, bool, More); 5] = [
        ("pair of hands", true, |k| k.hands += 1),
        ("oven", true, |k| k.ovens += 1),
        ("mixer", mixed, |k| k.mixers += 1),
        ("fridge shelf", short(Place::Fridge, kitchen.fridge), |k| {
            k.fridge += 1
        }),
        (
            "freezer shelf",
            short(Place::Freezer, kitchen.freezer),
            |k| k.freezer += 1,
        ),
    ];
    let all: Vec<_> = all.iter().filter(|(_, may, _)| *may).collect();
    let one = all.iter().find(|(_, _, more)| helps(more));
    if let Some((what, ..)) = one {
        return (Some((*what).to_owned()), false);
    }
    for (n, (what, _, more)) in all.iter().enumerate() {
        let other = all[n + 1..].iter().find(|(_, _, other)| {
            helps(&|k| {
                more(k);
                other(k);
            })
        });
        if let Some((other, ..)) = other {
            return (Some(format!("{what} and one more {other}")), false);
        }
    }
    (None, false)
}

/// Whether there is a plan when something is out of account.
fn can_be(ask: &Ask, without: Without) -> bool {
    let mut model = model(ask, without);
    model.problem.goals.clear();
    solve(
        &model.problem,
        &Limits {
            explaining: 0,
            ..QUICK
        },
    )
    .is_ok()
}

/// Batch, task, and its start, end of work and end.
type At = (usize, usize, (Minute, Minute, Minute));

/// Every task that is done, where it lies when something is out of account; `None` where it is
/// impossible all the same.
fn placed(ask: &Ask, without: Without) -> Option<Vec<At>> {
    let model = model(ask, without);
    // Without a goal that only tidies up, the last is the baker's.
    let limits = Limits {
        last: LIMITS.steps,
        ..LIMITS
    };
    let solution = solve(&model.problem, &limits).ok()?;
    let times = times(&model, &solution.placed);
    let jobs = times.into_iter().enumerate();
    Some(
        jobs.flat_map(|(j, job)| {
            let tasks = job.into_iter().enumerate();
            tasks.filter_map(move |(i, t)| Some((j, i, t?)))
        })
        .collect(),
    )
}
