//! How many a recipe says it makes and serves.

use super::Found;
use crate::rework::Rework;
use crate::sentences;
use crate::size::ask::plain;

/// How many a recipe says it makes: the count, and whether it is of servings.
pub(in crate::size) fn makes(rework: &Rework) -> Option<(f64, f64, bool)> {
    let said = rework.formula.recipe.makes.as_ref()?;
    let (low, high) = said.count?;
    // 'Makes 15 rolls. Serves 8': the count is that of the first.
    let first = clauses(&said.text).find(|s| counts(s));
    let servings = of_servings(first.unwrap_or(&said.text));
    (low > 0.0 && high >= low).then_some((low, high, servings))
}

/// How many a recipe says it serves, low and high, beside what it says it makes: in the same line
/// or in a line of its own, which the reader keeps as a remark.
pub(in crate::size) fn serves(rework: &Rework) -> Option<(f64, f64)> {
    let recipe = &rework.formula.recipe;
    let makes = recipe.makes.iter().flat_map(|m| clauses(&m.text));
    let notes = recipe.notes.iter().map(String::as_str).filter(|n| {
        let lower = n.trim().to_lowercase();
        lower.starts_with("serves") || lower.starts_with("servings")
    });
    let mut all = makes.chain(notes).filter(|s| of_servings(s));
    let (low, high) = all.find_map(crate::read::count_in)?;
    (low > 0.0 && high >= low).then_some((low, high))
}

/// Times of a count that the recipe states, low to high.
pub(super) fn counted(n: f64, low: f64, high: f64) -> Found {
    let mid = f64::midpoint(low, high);
    let times = n / mid;
    let of = if low < high {
        format!("{} ({}–{})", plain(mid), plain(low), plain(high))
    } else {
        plain(mid)
    };
    Found {
        times,
        range: (low < high).then(|| (n / high, n / low)),
        sums: vec![format!(
            "{} ÷ the recipe's {of} = × {}",
            plain(n),
            plain(times)
        )],
        ..Found::default()
    }
}

fn of_servings(text: &str) -> bool {
    let text = text.to_lowercase();
    let words = ["serv", "portion", "people", "person", "feeds", "guests"];
    words.iter().any(|w| text.contains(w))
}

/// Sentences, cut at commas too.
fn clauses(text: &str) -> impl Iterator<Item = &str> {
    sentences(text)
        .into_iter()
        .flat_map(|at| text[at].split(','))
}

fn counts(text: &str) -> bool {
    crate::read::count_in(text).is_some()
}
