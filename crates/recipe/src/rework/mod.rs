//! Rework: from a wheat formula to a gluten-free one, with every change and its reason.
//!
//! A rework is a starting point for a test bake, never more: see `docs/hydration-model.md` for
//! how little published formulas agree. Every figure keeps its low and high.

mod ask;
mod balance;
pub mod binder;
pub mod blend;
mod custard;
mod dose;
mod engine;
mod flow;
mod foods;
pub mod hold;
pub mod hydration;
mod knobs;
mod left_out;
mod measured;
mod method;
mod oven;
mod panful;
mod pins;
mod process;
mod raising;
mod reworked;
mod screened;
mod soaked;
mod steps;
pub mod style;
pub mod sums;
mod swap;
pub mod timing;
mod told;
mod unweighed;
mod water;
mod whys;

pub use ask::AskError;
pub use balance::Balance;
pub(crate) use flow::left;
pub use flow::rework;
pub(crate) use foods::{foods, names_meat, uncounted};
pub use hold::{BINDER, HYDRATION, Hold, HoldError};
pub use left_out::{LeftOutSummary, StillHolds};
pub use method::{Aid, Gel, MethodNote, gas_mark};
pub(crate) use method::{
    BY_HEAT, ChosenBake, SAME_OVEN, Setting, in_the_cold, names_no_longest, of_bake, settings,
    sheet_sides,
};
pub use oven::Baked;
pub(crate) use oven::kept_in_oven;
pub use panful::{Counted, Panful};
pub use pins::{HeldFigure, PinError, PinnedLine};
pub use raising::Raising;
pub use reworked::{Change, Kept, Options, Rework, ReworkedComponent, ReworkedLine, StyleChoice};
pub(crate) use steps::Whose;
pub use steps::steps_of as owners;
pub(crate) use steps::{
    goes_on_a_bake, goes_over_a_bake, is_called, is_crumb, is_filling, is_folded_in, laminates,
    turns,
};
pub(crate) use water::LEAST_FLOUR;
