//! What is asked of a plan: which batches, in which kitchen, for when.

use super::pans::OwnPans;
use super::tasks::Tasks;

/// A minute on the caller's axis. The domain has no calendar: the caller says which minute is
/// which time of which day.
pub type Minute = i32;

/// What a kitchen has that steps need.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Kitchen {
    /// People at work.
    pub hands: u32,
    /// Ovens.
    pub ovens: u32,
    /// Racks of each oven.
    pub racks: u32,
    /// Mixers; 0 where all is mixed by hand.
    pub mixers: u32,
    /// Free shelves in the fridge.
    pub fridge: u32,
    /// Free shelves in the freezer.
    pub freezer: u32,
    /// Minutes an oven takes from one temperature to another, up or down.
    pub oven_change: u32,
    /// The pans it says it has. Of one it says nothing of there are as many as are wanted.
    pub pans: Vec<OwnPans>,
}

impl Default for Kitchen {
    /// One pair of hands, one oven with two racks that takes 15 minutes from one temperature to
    /// another, a mixer, two free shelves in the fridge, one in the freezer; pans are not counted.
    /// Common practice, no source.
    fn default() -> Self {
        Self {
            hands: 1,
            ovens: 1,
            racks: 2,
            mixers: 1,
            fridge: 2,
            freezer: 1,
            oven_change: 15,
            pans: Vec::new(),
        }
    }
}

/// The most of anything a kitchen is planned with.
pub const MOST_OF_ANY: u32 = 20;
/// The longest an oven may take from one temperature to another, minutes.
pub const LONGEST_CHANGE: u32 = 120;

impl Kitchen {
    /// Whether it can be planned with.
    ///
    /// # Errors
    /// What is wrong and what was expected, in a sentence.
    pub fn check(&self) -> Result<(), String> {
        let all = [
            ("pairs of hands", self.hands, 1),
            ("ovens", self.ovens, 0),
            ("oven racks", self.racks, 1),
            ("mixers", self.mixers, 0),
            ("fridge shelves", self.fridge, 0),
            ("freezer shelves", self.freezer, 0),
        ];
        match all
            .iter()
            .find(|(_, n, least)| !(*least..=MOST_OF_ANY).contains(n))
        {
            Some((what, n, least)) => Err(format!(
                "{n} {what}: write a whole number from {least} to {MOST_OF_ANY}"
            )),
            None if self.oven_change > LONGEST_CHANGE => Err(format!(
                "{} minutes for the oven to change its heat: write a whole number from 0 to {LONGEST_CHANGE}",
                self.oven_change
            )),
            None => Ok(()),
        }
    }
}

/// Hours in which nobody works: from a minute to another, half open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Quiet {
    /// From this minute.
    pub from: Minute,
    /// To this one.
    pub to: Minute,
}

impl Quiet {
    /// Minutes of a stretch that fall in it.
    #[must_use]
    pub fn shared(self, from: Minute, to: Minute) -> Minute {
        (self.to.min(to) - self.from.max(from)).max(0)
    }
}

/// One batch.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// Its tasks.
    pub tasks: Tasks,
    /// When it is to be ready; `None`: as soon as may be.
    pub serve: Option<Minute>,
}

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
pub struct Ask {
    /// The batches.
    pub jobs: Vec<Job>,
    /// The kitchen.
    pub kitchen: Kitchen,
    /// Quiet hours, ascending and apart, as far as the plan may reach.
    pub quiet: Vec<Quiet>,
    /// Now: nothing begins before it, but for what is begun.
    pub now: Minute,
    /// What is begun or done already: it stays where it is.
    pub begun: Vec<Begun>,
}

/// A task in its place: what is begun, or what a plan gave.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Begun {
    /// The batch, by place in what is asked.
    pub job: usize,
    /// The task, by place in its list.
    pub task: usize,
    /// Its work begins.
    pub start: Minute,
    /// Its work ends, and its wait begins.
    pub work_end: Minute,
    /// Its wait ends, as planned.
    pub end: Minute,
}

impl Ask {
    /// What is begun of a task.
    #[must_use]
    pub fn begun(&self, job: usize, task: usize) -> Option<&Begun> {
        self.begun.iter().find(|b| (b.job, b.task) == (job, task))
    }

    /// Says what is begun. What comes before a task that is begun is done: where it is not among
    /// them, it counts as done when that began.
    pub fn begin(&mut self, begun: Vec<Begun>) {
        self.begun = begun;
        let mut at = 0;
        while let Some(&b) = self.begun.get(at) {
            at += 1;
            let Some(job) = self.jobs.get(b.job) else {
                continue;
            };
            let Some(task) = job.tasks.list.get(b.task) else {
                continue;
            };
            let open: Vec<usize> = task
                .after
                .iter()
                .copied()
                .filter(|t| self.begun(b.job, *t).is_none())
                .collect();
            self.begun.extend(open.into_iter().map(|task| Begun {
                task,
                start: b.start,
                work_end: b.start,
                end: b.start,
                ..b
            }));
        }
    }
}

/// Quiet hours of every day.
///
/// # Inputs
/// - `from`, `to`: minutes after midnight, 0 to 1440; where `from` is after `to` they pass
///   midnight. Equal: there are none.
/// - `midnight`: the minute of a midnight.
/// - `days`: so many days before and after it.
///
/// # Returns
/// Ascending and apart. Days are 1440 minutes long: where clocks change, give the spans yourself.
#[must_use]
pub fn nightly(from: Minute, to: Minute, midnight: Minute, days: i32) -> Vec<Quiet> {
    const DAY: Minute = 1440;
    if from == to {
        return Vec::new();
    }
    let end = if to > from { to } else { to + DAY };
    (-days..=days)
        .map(|d| Quiet {
            from: midnight + d * DAY + from,
            to: midnight + d * DAY + end,
        })
        .collect()
}
