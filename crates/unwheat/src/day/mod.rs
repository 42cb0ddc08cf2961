//! A day in the kitchen: plans with clock times, their calendar file and their words. What the
//! command line and the pages share.

pub mod clock;
pub mod ics;
mod next;
pub mod words;

use clock::{Clock, Night};
use recipe::plan::{Ask, Job, Kitchen, Tasks};

/// A plan reaches so many days around now.
const DAYS: i32 = 8;

/// What is asked, on a clock.
///
/// # Arguments
/// * `jobs` — the batches, each with the minute of the clock it is to be ready at.
pub fn ask(clock: &Clock, jobs: Vec<(Tasks, Option<i32>)>, kitchen: Kitchen, night: Night) -> Ask {
    Ask {
        jobs: jobs
            .into_iter()
            .map(|(tasks, serve)| Job { tasks, serve })
            .collect(),
        kitchen,
        quiet: recipe::plan::nightly(night.from, night.to, 0, DAYS),
        now: clock.now(),
        begun: Vec::new(),
    }
}
