//! What stands warm, or in the fridge, for longer than it may: by how much, and what to do about it.

use super::ask::{Ask, Minute};
use super::own::minutes_words;
use super::solve::Plan;
use super::step::capital;
use super::task::{Basis, Task};
use super::warm::{Limit, WARM_LIMIT, WARM_WORDS};

/// A part that stands warm, or in the fridge, for longer than it may, however it is planned.
#[derive(Debug, Clone, PartialEq)]
pub struct Breach {
    /// The component's name; empty where the recipe has one part.
    pub of: String,
    /// It is the hours in the fridge that are too long.
    pub cold: bool,
    /// Minutes it stands so at least.
    pub least: f64,
    /// Minutes it may.
    pub most: f64,
    /// The task that takes longest of it.
    pub longest: usize,
    /// It is a raw dough or batter that is baked or fried through: it is planned all the same, and told.
    pub told: bool,
    /// What would keep it within: waits, with what each would have to be shortened to. Empty where shorter
    /// waits alone do not.
    pub ways: Vec<Shorter>,
    /// See [`Limit::leg`].
    pub leg: (usize, usize),
}

/// A wait that would have to be shorter.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shorter {
    /// The task.
    pub task: usize,
    /// Its shortest, minutes.
    pub from: f64,
    /// What that would have to be.
    pub to: f64,
}

impl Breach {
    /// What is said of it by name.
    fn part(&self) -> &str {
        match self.of.as_str() {
            "" => "the dough or batter",
            of => of,
        }
    }

    /// What to do to keep within the limit: `shorten 'Rise' from 1 h to 31 min, or let it rise in the fridge`.
    #[must_use]
    pub fn mended(&self, list: &[Task]) -> String {
        self.mend(list, &|t| format!("'{}'", list[t].name))
    }

    /// The same, with each task as it is called.
    fn mend(&self, list: &[Task], named: &dyn Fn(usize) -> String) -> String {
        let longest = &list[self.longest];
        let shorten = match self.ways.as_slice() {
            [] => format!("shorten {}", named(self.longest)),
            ways => shorten_words(list, ways, named),
        };
        let cold = match longest.what {
            _ if self.cold => return shorten,
            "rise" => "let it rise in the fridge for 8–18 h instead".to_owned(),
            _ => "put it into the fridge".to_owned(),
        };
        if self.ways.is_empty() && longest.wait.is_some() {
            // No shorter wait is enough by itself.
            return cold;
        }
        format!("{shorten}, or {cold}")
    }

    /// Why there is no plan, in a sentence.
    ///
    /// # Inputs
    /// - `title`: the recipe's.
    pub(super) fn words(
        &self,
        title: &str,
        list: &[Task],
        named: &dyn Fn(usize) -> String,
    ) -> String {
        let (what, mend) = (self.part(), capital(&self.mend(list, named)));
        let (least, most) = (minutes_words(self.least), minutes_words(self.most));
        if self.cold {
            return format!(
                "In {title}, {what} stays in the fridge for {least} in all at least, and {most} is the limit for egg or milk (common practice, no source; your local rules come first). {mend}."
            );
        }
        format!(
            "In {title}, {what} stands above 5 °C for {least} at least, and {most} is the limit: {}. {mend}.",
            limit_words(self.most)
        )
    }
}

/// What is said of the limit that a raw dough or batter has no plan past.
const WALL_WORDS: &str = "with egg or milk in it, what has stood above 5 °C for 4 hours in all is thrown away (2-hour/4-hour rule, Food Standards Australia New Zealand; your local rules come first)";

/// What is said of a limit of so many minutes above 5 °C.
pub(super) fn limit_words(most: f64) -> &'static str {
    if most > WARM_LIMIT {
        WALL_WORDS
    } else {
        WARM_WORDS
    }
}

/// To what waits would have to be shortened so that so many minutes less are enough: the longest by itself where
/// that leaves half of it, else all alike where that leaves a third (common practice, no source).
pub(super) fn shorter(waits: &[(usize, f64)], by: f64) -> Vec<Shorter> {
    let to = |&(task, from): &(usize, f64), to: f64| Shorter {
        task,
        from,
        to: to.floor(),
    };
    let longest = waits.iter().max_by(|a, b| a.1.total_cmp(&b.1));
    let sum: f64 = waits.iter().map(|w| w.1).sum();
    match longest {
        Some(one) if one.1 - by >= one.1 / 2.0 => vec![to(one, one.1 - by)],
        Some(_) if sum - by >= sum / 3.0 => {
            let share = (sum - by) / sum;
            waits.iter().map(|w| to(w, w.1 * share)).collect()
        }
        _ => Vec::new(),
    }
}

/// Minutes in words, with whose they are where the method says them.
fn asked(task: &Task, minutes: String) -> String {
    match task.wait_basis {
        Basis::Said if task.wait.is_some() => {
            format!("the {minutes} that the method itself asks for")
        }
        _ => minutes,
    }
}

/// 'shorten 'Rise' from 1 h to 31 min'.
pub(super) fn shorten_words(
    list: &[Task],
    ways: &[Shorter],
    named: &dyn Fn(usize) -> String,
) -> String {
    let one = |s: &Shorter| {
        let from = asked(&list[s.task], minutes_words(s.from));
        format!("{} from {from} to {}", named(s.task), minutes_words(s.to))
    };
    let all: Vec<String> = ways.iter().map(one).collect();
    format!("shorten {}", all.join(" and "))
}

/// What a plan does that a limit of egg and milk is against, and what to do about it.
#[derive(Debug, Clone, PartialEq)]
pub struct Caution {
    /// The batch.
    pub job: usize,
    /// The tasks that it is told at: the first of the warm stretch, and the longest wait in it.
    pub tasks: Vec<usize>,
    /// In sentences.
    pub words: String,
}

/// How long what holds egg or milk stands above 5 °C in a plan, where that is past the usual limit: at the
/// work planned, or as a slow baker works.
#[must_use]
pub fn cautions(ask: &Ask, plan: &Plan) -> Vec<Caution> {
    let mut out = Vec::new();
    for (j, job) in ask.jobs.iter().enumerate() {
        let mut legs: Vec<(usize, usize)> = job.tasks.limits.iter().map(|l| l.leg).collect();
        legs.dedup();
        for leg in legs {
            let mine = job.tasks.limits.iter().filter(|l| l.leg == leg);
            out.extend(caution(ask, plan, j, &mine.collect::<Vec<_>>()));
        }
    }
    out
}

/// The same of one part, up to one heat.
fn caution(ask: &Ask, plan: &Plan, j: usize, limits: &[&Limit]) -> Option<Caution> {
    let tasks = &ask.jobs[j].tasks;
    let row = |t: usize| plan.rows.iter().find(|r| (r.job, r.task) == (j, t));
    let eaten = ask.jobs[j].serve.into_iter().chain([plan.ready[j]]).max();
    let length = |l: &&&Limit| -> Option<Minute> {
        let from = row(l.from)?;
        let to = match l.to {
            Some(t) => row(t).map(|r| l.ends(r.start, r.work_end))?,
            None => eaten?,
        };
        Some(to - l.begins(from.start, from.end))
    };
    let limit = WARM_LIMIT as i64;
    let planned: i64 = limits
        .iter()
        .filter_map(|l| length(&l))
        .map(i64::from)
        .sum();
    let slower: i64 = limits.iter().map(|l| l.slower).sum();
    let kept: i64 = limits.iter().map(|l| l.most + l.slower).sum();
    // Where no plan holds at slow work, its first step says so.
    let slow_alone = planned <= limit && planned + slower > limit && kept <= limit;
    if planned <= limit && !slow_alone {
        return None;
    }
    let (first, last) = (limits.first()?, limits.last()?);
    let breach = tasks
        .breaches
        .iter()
        .find(|b| !b.cold && b.leg == first.leg);
    let of = &tasks.list[last.to.unwrap_or(first.from)].of;
    let part = match of.as_str() {
        "" => "it",
        of => of,
    };
    let heat = match last.to.map(|t| tasks.list[t].what) {
        Some("bake") => "before it is baked",
        Some("fry") => "before it is fried",
        Some(_) => "before it is cooked",
        None => "until it is eaten",
    };
    let minutes = |m: i64| minutes_words(m as f64);
    let mut words = if slow_alone {
        format!(
            "At slow work {part} stands above 5 °C for {} {heat}, {} longer than the usual limit of 2 h for what holds egg or milk.",
            minutes(planned + slower),
            minutes(planned + slower - limit)
        )
    } else {
        let slow = if slower > 0 {
            format!(" ({} at slow work)", minutes(planned + slower))
        } else {
            String::new()
        };
        format!(
            "In this plan {part} stands above 5 °C for {}{slow} {heat}: the usual limit for what holds egg or milk is 2 h, mixing and shaping included, 1 h above 32 °C (common practice; your local rules come first).",
            minutes(planned)
        )
    };
    match breach {
        Some(b) => words.push_str(&format!(" To keep within it, {}.", b.mended(&tasks.list))),
        None => words.push_str(
            " Other work or quiet hours come between: another time, or another pair of hands, may keep it within.",
        ),
    }
    if ask.jobs.len() > 1 && !tasks.title.is_empty() {
        words = format!("{}: {words}", tasks.title);
    }
    let mut at = vec![first.from];
    at.extend(breach.map(|b| b.longest).filter(|t| *t != first.from));
    Some(Caution {
        job: j,
        tasks: at,
        words: capital(&words),
    })
}
