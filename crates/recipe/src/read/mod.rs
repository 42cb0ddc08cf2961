//! Reading: from pasted text or a saved page to a [`crate::Recipe`].

mod amount;
mod bath;
pub(crate) mod entities;
mod ingredient;
mod lex;
mod method;
mod text;
mod web;
pub(crate) mod words;

pub(crate) use amount::is_measured;
pub use ingredient::{Reader, unmarked};
pub(crate) use ingredient::{component_name, is_fillet};
pub use method::{Apart, Portion, To, Unlisted, apart, divided, portions, step, unlisted};
pub(crate) use method::{
    Held, IN_THE_DOUGH, Original, amounts, is_baked, is_pan, named_only, no_food, of_one_method,
    only_compares,
};
pub use text::{MOST_BYTES, MOST_PAGE_BYTES, ReadError, bytes, may_head, recipe};
pub(crate) use text::{
    count_in, count_of_yield, is_clause, is_made_in, is_made_part, is_order, same_part, says_yield,
};
pub use web::{PageError, is_page, page};

/// Takes out of the formula what only the method shows to be beside it: the water a dough is boiled in, an
/// egg that is brushed on, what goes on after the bake. Done again where a line is read anew.
///
/// # Arguments
/// * `owners` — the part that each step is about; what is set aside changes none of them.
pub(crate) fn beside_the_dough(recipe: &mut crate::Recipe, owners: &[usize], reader: &Reader<'_>) {
    bath::mark(recipe, owners, reader);
    method::set_wash_aside(recipe, reader);
    method::set_finish_aside(recipe, owners, reader);
}
