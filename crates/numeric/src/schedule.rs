//! Schedules: activities in time under lags, windows, closed hours, shared resources and choices,
//! placed to a proven optimum; and, where that cannot be, which rules clash and by how much.
//!
//! Time is whole minutes on any axis the caller likes (an `i32`); spans are half open, so that an
//! activity that ends at 60 and one that starts at 60 do not overlap. Equal problems with equal
//! limits give equal answers: the limit is on work, not on time, and no clock is read here.
//!
//! The search is lazy clause generation, left to the `pumpkin-core` family of crates; this module
//! says the problem in its constraints, drives it through the goals one after the other, and asks
//! it the further questions that an explanation of a clash needs.
//!
//! Checked against instances whose optimum another solver has proven, see `tests/schedule`.

mod aim;
mod build;
mod check;
mod engine;
mod explain;
mod model;
mod problem;
mod share;
mod solution;
mod solve;
mod validate;

pub use explain::way_out;
pub use problem::{
    Activity, ActivityId, Avoid, Calendar, CalendarId, Changeover, Choice, ChoiceId, Edge, Follow,
    FollowId, Give, Goal, Kept, Lag, LagId, Length, Need, Point, Problem, Resource, ResourceId,
    Span, Taken, Term, Window,
};
pub use solution::{
    Bound, Given, Impossible, Limits, Placed, Reached, Relaxed, Rule, Side, Solution, Trouble,
    WayOut,
};
pub use solve::solve;
