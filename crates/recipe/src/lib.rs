//! The domain, one module per stage: text → [`read`] → [`Recipe`] → weigh → screen → rework → size.
//!
//! Pure: no disk, no clock, no web. The larder is an argument.

mod aside;
mod beforehand;
mod blind;
mod data;
pub mod density;
mod doubt;
pub mod evidence;
pub mod formulate;
pub mod heat;
pub mod household;
pub mod keeping;
pub mod leaven;
mod left_out;
mod line;
pub mod own_method;
pub mod pieces;
pub mod plan;
pub mod read;
mod recipe;
pub mod rework;
pub mod screen;
mod sentences;
pub mod shape;
pub mod sheet;
pub mod shop;
pub mod size;
pub mod syrup;
pub mod weigh;

pub use beforehand::Beforehand;
pub use doubt::{Doubt, DoubtCode};
pub use left_out::{Holds, LeftOut};
pub use line::{Amount, BESIDE, Filling, Item, Line, LineKind, Purpose, Reference, Role, Share};
pub use recipe::{
    Activity, Component, Fact, FactKind, Heat, Recipe, Source, Step, Times, Yield, the_part,
};
pub use sentences::sentences;
