//! Lines without an amount that may be headings: nobody can tell 'Curd' over '2 lemons' from a food but the baker.

use crate::line::LineKind;
use crate::recipe::Component;

/// Most words of a heading without a mark.
const MOST_WORDS: usize = 3;

/// Whether a line that was read as a food without an amount could be the heading of what stands right behind it in
/// the text.
#[must_use]
pub fn may_head(part: &Component, at: usize) -> bool {
    let (Some(line), Some(next)) = (part.lines.get(at), part.lines.get(at + 1)) else {
        return false;
    };
    let said = line.clean.trim();
    let plain = |c: char| c.is_alphabetic() || matches!(c, ' ' | '-' | '\'' | '’');
    let named = said.starts_with(char::is_uppercase)
        && said.chars().all(plain)
        && said.split_whitespace().count() <= MOST_WORDS;
    // 'Loaf' is a measure of nothing.
    let unmeasured = |i: &crate::line::Item| i.amounts.is_empty() || i.name.is_empty();
    let behind =
        next.kind == LineKind::Ingredient && next.items.iter().any(|i| !i.amounts.is_empty());
    named
        && line.kind == LineKind::Ingredient
        && line.number > 0
        && line.items.len() == 1
        && line.items.iter().all(unmeasured)
        && behind
        && next.number == line.number + 1
}
