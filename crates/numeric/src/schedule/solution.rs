//! What came of it.

use super::problem::{ActivityId, CalendarId, ChoiceId, FollowId, LagId, ResourceId};
use std::error::Error;
use std::fmt;

/// How much work may be done. Work is counted in steps of the search (decisions and conflicts),
/// the same on every machine.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Limits {
    /// Steps for the schedule, over all goals.
    pub steps: u64,
    /// Of these, so many at most for the last goal, where there are several: one that only tidies up
    /// need not be proven.
    pub last: u64,
    /// Steps for an explanation, should there be no schedule.
    pub explaining: u64,
}

impl Default for Limits {
    fn default() -> Self {
        Self {
            steps: 400_000,
            last: 400_000,
            explaining: 200_000,
        }
    }
}

/// Where an activity lies, minutes, half open.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Placed {
    /// Its start.
    pub start: i32,
    /// Its end.
    pub end: i32,
}

/// How a goal came out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Reached {
    /// The value of the schedule.
    pub value: i64,
    /// No schedule is below this (given the values reached of the goals before).
    pub bound: i64,
}

impl Reached {
    /// Whether nothing better can be.
    #[must_use]
    pub const fn proven(&self) -> bool {
        self.value == self.bound
    }
}

/// A schedule that keeps every rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Solution {
    /// Where each activity lies; `None`: left out.
    pub placed: Vec<Option<Placed>>,
    /// How each goal came out.
    pub goals: Vec<Reached>,
    /// The steps it took.
    pub steps: u64,
}

impl Solution {
    /// Whether every goal is proven to be at its best.
    #[must_use]
    pub fn proven(&self) -> bool {
        self.goals.iter().all(Reached::proven)
    }

    /// Where an activity lies; `None`: left out.
    #[must_use]
    pub fn of(&self, activity: ActivityId) -> Option<Placed> {
        self.placed[activity.0]
    }
}

/// Which side of a rule with two.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Side {
    /// The lower: not less, not before.
    Least,
    /// The upper: not more, not after.
    Most,
}

/// A single rule of a problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Rule {
    /// A lag's least or most.
    Lag(LagId, Side),
    /// An activity's earliest or latest start.
    Start(ActivityId, Side),
    /// An activity's earliest or latest end.
    End(ActivityId, Side),
    /// An activity keeps out of a calendar's closed span, counted from 0.
    Closed(CalendarId, usize, ActivityId),
    /// A resource has only so many units.
    Capacity(ResourceId),
    /// A resource has only one state at a time, and changing it takes time.
    State(ResourceId),
    /// How many are chosen.
    Choice(ChoiceId, Side),
    /// One follows from another.
    Follow(FollowId),
    /// The span of the whole, its beginning or its end.
    Span(Side),
}

/// What would have to give way.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Bound {
    /// This rule, by minutes (by units, where it is a capacity).
    Rule(Rule),
    /// A calendar's closed span, counted from 0, would have to begin later.
    ClosedFrom(CalendarId, usize),
    /// A calendar's closed span, counted from 0, would have to end sooner.
    ClosedTo(CalendarId, usize),
}

/// A rule that gives way, and by how much.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Given {
    /// What gives way.
    pub what: Bound,
    /// By how many minutes (units, where it is a capacity), 1 or more.
    pub by: i32,
}

/// The cheapest way to give way.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Relaxed {
    /// What gives way.
    pub given: Vec<Given>,
    /// Minutes and units times their prices.
    pub price: Reached,
    /// The schedule that this makes possible.
    pub placed: Vec<Option<Placed>>,
}

/// What came of looking for the cheapest way out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WayOut {
    /// The way out, if one was found.
    pub relaxed: Option<Relaxed>,
    /// The steps it took.
    pub steps: u64,
}

/// Why there is no schedule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Impossible {
    /// Rules that cannot all be kept (beside every activity's length), none of which can be left
    /// out of the list. There may be other clashes.
    pub clash: Vec<Rule>,
    /// Whether the list is as short as it says; otherwise the limit came first, and some of it may
    /// have no part in the clash.
    pub clash_proven: bool,
    /// The cheapest way out, over all clashes. `None`: rules that never give way clash, or the
    /// limit came before any way out was found.
    pub relaxed: Option<Relaxed>,
    /// The steps it took, from the first on: to prove it and to explain it.
    pub steps: u64,
}

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Trouble {
    /// The problem makes no sense as it stands.
    Malformed {
        /// Where, in the words of the types of this module.
        place: String,
        /// What is wrong there and what was expected.
        wrong: String,
    },
    /// No schedule keeps every rule; proven.
    Impossible(Box<Impossible>),
    /// The limit came before a schedule was found, or before it was proven that there is none.
    Undecided {
        /// The steps that were taken.
        steps: u64,
    },
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Malformed { place, wrong } => write!(f, "{place}: {wrong}"),
            Self::Impossible(why) => write!(
                f,
                "no schedule keeps every rule: {} of them clash",
                why.clash.len()
            ),
            Self::Undecided { steps } => write!(
                f,
                "neither a schedule nor a proof that there is none within {steps} steps; allow more"
            ),
        }
    }
}

impl Error for Trouble {}
