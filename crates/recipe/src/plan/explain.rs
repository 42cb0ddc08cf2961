//! Why there is no plan, and what would make one.

use super::ask::{Ask, Minute};
use super::model::waits;
use super::own::{StepChange, minutes_words};
use super::pans;
use super::stands::{Breach, limit_words};
use super::task::Place;
use super::too_long;

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
    /// It is impossible for certain, but the work allowed ran out before every way out was tried, or before
    /// the minutes given were proven to be the least.
    pub cut: bool,
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

    /// The steps whose own figures would be changed, each once: batch, task and what of it.
    #[must_use]
    pub fn to_change(&self, ask: &Ask) -> Vec<(usize, usize, StepChange)> {
        let mut out: Vec<(usize, usize, StepChange)> = Vec::new();
        let shortest = |j: usize, i: usize| match ask.jobs[j].tasks.list[i].wait {
            Some(_) => StepChange::Least(None),
            None => StepChange::Hands(None),
        };
        // What is counted from a task's end, a gap among them, is none the shorter for its work.
        let counts = |j: usize, i: usize| {
            let mut limits = ask.jobs[j].tasks.limits.iter();
            limits.any(|l| l.from == i && !l.after)
        };
        let long = self.unsafe_parts.iter().flat_map(|(j, b)| {
            let ways = b.ways.iter().map(|w| w.task);
            let longest = Some(b.longest).filter(|_| b.ways.is_empty());
            ways.chain(longest).map(|t| (*j, t, shortest(*j, t)))
        });
        let clashing = self.short.iter().filter_map(|s| match s.what {
            Limited::Wait(i) => Some((s.job, i, StepChange::Most(None))),
            Limited::Warm(i) | Limited::Eaten(i) if counts(s.job, i) => {
                Some((s.job, i, shortest(s.job, i)))
            }
            _ => None,
        });
        let lacking = self.lacking.iter();
        let lacking = lacking.map(|(j, i, _)| (*j, *i, StepChange::Racks(None)));
        for one in long.chain(clashing).chain(lacking) {
            if !out.contains(&one) {
                out.push(one);
            }
        }
        out
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
            let list = &ask.jobs[*j].tasks.list;
            out.push(b.words(title(*j), list, &|t| task(*j, t)));
        }
        for (j, i, stood, most) in &self.spoilt {
            out.push(format!(
                "What {} made has stood above 5 °C for {}, and {} is the limit: {}. Do not go on with it; begin it anew.",
                task(*j, *i),
                minutes_words(f64::from(*stood)),
                minutes_words(f64::from(*most)),
                limit_words(f64::from(*most))
            ));
        }
        for (j, i, what) in &self.lacking {
            let needs = format!(
                "{} needs {what}, and the kitchen has none free.",
                task(*j, *i)
            );
            // A case that is baked twice has two such steps of one name.
            if !out.contains(&needs) {
                out.push(needs);
            }
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
        out.extend(too_long::sentences(
            ask,
            (&self.short, self.keep_cold),
            &task,
            clock,
        ));
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
        if self.cut {
            out.push("Not everything was tried within the work allowed: there may be other ways, or less may do.".to_owned());
        }
        if let Some(fault) = &self.fault {
            out.push(format!("The plan could not be worked out: {fault}."));
        }
        if out.is_empty() {
            out.push("These steps cannot all be kept within their longest waits. Lengthen a wait, or leave a step out.".to_owned());
        }
        for (j, job) in ask.jobs.iter().enumerate() {
            out.extend(job.tasks.unsaid.values().map(|words| {
                if ask.jobs.len() > 1 {
                    format!("{}: {words}", title(j))
                } else {
                    words.clone()
                }
            }));
        }
        out
    }
}

/// What makes a plan impossible before anything is solved.
pub(super) fn before(ask: &Ask) -> Option<Impossible> {
    let mut why = Impossible::default();
    for (j, job) in ask.jobs.iter().enumerate() {
        if let Some(t) = job.serve.filter(|t| *t < ask.now) {
            why.past.push((j, ask.now - t));
        }
        let breaches = job.tasks.breaches.iter().filter(|b| !b.told);
        why.unsafe_parts.extend(breaches.map(|b| (j, b.clone())));
        for limit in &job.tasks.limits {
            let over = match limit.to {
                Some(to) => ask.begun(j, to).is_some(),
                // All of it is done: it is eaten, or its own cautions say how it is kept.
                None => job.tasks.last().all(|t| ask.begun(j, t).is_some()),
            };
            if let (Some(from), false) = (ask.begun(j, limit.from), over) {
                // In the fridge it may have gone on for as long as it may take.
                let gone_on = from.work_end + waits(ask, j, limit.from).1;
                let begins = limit.begins(from.start, from.end.max(gone_on));
                let (stood, most) = (ask.now - begins, limit.wall as Minute);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{Job, Kitchen, Limit, tasks};
    use crate::sheet::{Sheet, work};
    use larder::Larder;
    use quantity::Locale;

    /// Work before the clock, or behind the gap, shortens neither.
    #[test]
    fn only_what_helps_is_offered_to_change() {
        let text = "Rolls\n\n500 g bread flour\n7 g yeast\n330 g water\n\n1. Mix and knead for 8 minutes.\n2. Shape into 12 rolls. Let rise for 1 hour.\n3. Bake at 170 °C for 20 minutes.\n";
        let larder = Larder::built_in().expect("the built-in tables");
        let sheet = Sheet::new(text, Locale::Us);
        let worked = work(&sheet, &[], &larder, &[]).expect("a recipe");
        let mut tasks = tasks(&worked, &sheet, 1.0);
        let limit = |from, after| Limit::of(from, after, None, 9);
        tasks.limits = vec![limit(0, true), limit(1, false)];
        let ask = Ask {
            jobs: vec![Job { tasks, serve: None }],
            kitchen: Kitchen::default(),
            quiet: Vec::new(),
            now: 0,
            begun: Vec::new(),
        };
        let offered = |what| {
            let short = vec![Short {
                job: 0,
                what,
                by: 6,
            }];
            let why = Impossible {
                short,
                ..Impossible::default()
            };
            why.to_change(&ask).len()
        };
        assert_eq!(offered(Limited::Gap(0, 1)), 0);
        assert_eq!(offered(Limited::Warm(0)), 0);
        assert_eq!(offered(Limited::Warm(1)), 1);
        assert_eq!(offered(Limited::Wait(2)), 1);
    }
}
