//! Shop: what to buy for some recipes, and what they cost.
//!
//! Two sums are kept apart. [`cost()`] is what the grams that are used cost; [`list()`] says what is
//! paid at the shop, in whole packs, less what is in stock. Neither guesses: what has no price or
//! no weight is named, and the sum is then 'at least'. Prices, packs, stock and trim are those of
//! the kitchen's own entries in the larder.

mod choice;
mod cost;
mod day;
mod list;
pub mod money;
mod need;
mod pack_words;
mod packs;
mod section;
mod whole;

pub use choice::Instead;
pub use cost::{
    Choice, ComponentCost, Conversion, Cost, CostLine, Made, Missing, NOT_COUNTED, OLD_DAYS, Offer,
    Why, conversion, cost, cost_of_original, made,
};
pub use day::age;
pub use list::{
    BlendLine, For, List, ListLine, OLD_STOCK_DAYS, Shelf, ToBuy, Unweighed, list, old_stock, piece,
};
pub use money::Money;
pub use need::{Order, Reminder};
pub use pack_words::{PackError, PackSize, read_pack};
pub use packs::{Packs, cheapest};
pub use section::Section;
