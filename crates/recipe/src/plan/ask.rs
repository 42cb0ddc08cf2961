//! What is asked of a plan: which batches, in which kitchen, for when.

use super::build::Tasks;

/// A minute on the caller's axis. The domain has no calendar: the caller says which minute is
/// which time of which day.
pub type Minute = i32;

/// What a kitchen has that steps need.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
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
}

impl Default for Kitchen {
    /// One pair of hands, one oven with two racks, a mixer, two free shelves in the fridge, one
    /// in the freezer: common practice, no source.
    fn default() -> Self {
        Self {
            hands: 1,
            ovens: 1,
            racks: 2,
            mixers: 1,
            fridge: 2,
            freezer: 1,
        }
    }
}

/// The most of anything a kitchen is planned with.
pub const MOST_OF_ANY: u32 = 20;

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
    /// Now: nothing begins before it.
    pub now: Minute,
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
