//! Reading: from pasted text or a saved page to a [`crate::Recipe`].

mod amount;
mod entities;
mod ingredient;
mod lex;
mod method;
mod text;
mod web;
mod words;

pub use ingredient::Reader;
pub use method::step;
pub use text::{ReadError, recipe};
