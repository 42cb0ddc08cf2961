//! Bread under the title of what holds no flour: it goes in, it is not what is made.

use crate::read::Reader;
use crate::recipe::Recipe;

/// Breads that are bought to be made into something.
const BOUGHT: [&str; 11] = [
    "baguette",
    "bagel",
    "cracker",
    "croissant",
    "crumpet",
    "doughnut",
    "donut",
    "flatbread",
    "tortilla",
    "waffle",
    "wrap",
];
/// What is said of a loaf that goes in.
const OF_A_LOAF: [&str; 7] = [
    "crusty",
    "day-old",
    "sliced",
    "stale",
    "white",
    "wholemeal",
    "yesterday's",
];

/// Puts a yield such as 'One white baguette' or 'One stale loaf' among the ingredients, where no line is
/// flour of which that could be made. What the recipe makes is then not said.
pub(super) fn list(recipe: &mut Recipe, reader: &Reader<'_>) {
    let Some(makes) = recipe.makes.as_ref().filter(|m| is_bought(&m.text)) else {
        return;
    };
    let lines = recipe.components.iter().flat_map(|c| &c.lines);
    let mut foods = lines.flat_map(|l| &l.items).filter_map(|i| i.food.as_ref());
    if foods.any(|m| reader.larder.food(m.food).is_flour_phase()) {
        return;
    }
    let line = reader.line(&makes.text);
    if let Some(first) = recipe.components.first_mut() {
        first.lines.insert(0, line);
        recipe.makes = None;
    }
}

fn is_bought(yielded: &str) -> bool {
    let low = yielded.to_lowercase().replace('’', "'");
    let mut words = low.split_whitespace();
    let last = words.next_back().unwrap_or_default();
    let one = last.strip_suffix('s').unwrap_or(last);
    BOUGHT.contains(&one)
        || matches!(last, "loaf" | "loaves") && words.any(|w| OF_A_LOAF.contains(&w))
}
