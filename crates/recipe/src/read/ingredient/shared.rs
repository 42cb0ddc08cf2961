//! A count that the line shares out: '6 eggs: 4 to boil, 2 beaten for coating'.

use super::super::amount::Walk;
use super::Reader;
use super::purpose::purpose_of;
use crate::line::{Amount, Item, Line};
use larder::Certainty;
use quantity::Unit;
use std::ops::Range;

/// The number a clause begins with, and what is said behind it; `None` where a unit follows.
fn counted(clause: &str) -> Option<(u32, &str)> {
    let end = clause.find(|c: char| !c.is_ascii_digit())?;
    let rest = clause[end..].strip_prefix(' ')?;
    Some((clause[..end].parse().ok()?, rest))
}

impl Reader<'_> {
    /// The items of a line whose count is shared out in full between purposes.
    pub(super) fn shared_out(&self, walk: &Walk<'_>, line: &mut Line) -> Option<Vec<Item>> {
        let text = walk.text;
        let from = walk.peek()?.start;
        let head = &text[from..];
        let colon = head.find([':', '(', '–', '—', ','])?;
        let (all, name) = counted(&head[..colon])?;
        let found = self.larder.find(name, self.locale)?;
        let is_food = found.certainty == Certainty::Sure && found.span.start == 0;
        let rest_at = from + colon + head[colon..].chars().next()?.len_utf8();
        let mut clauses: Vec<(u32, Range<usize>, &str)> = Vec::new();
        for clause in text[rest_at..]
            .split([',', ';', ')'])
            .flat_map(|c| c.split(" and "))
        {
            let clause = clause.trim().trim_start_matches("and ");
            if clause.is_empty() {
                continue;
            }
            let at = clause.as_ptr() as usize - text.as_ptr() as usize;
            let (n, says) = counted(clause)?;
            let unit = says
                .split_whitespace()
                .next()
                .and_then(|w| self.words.get(w));
            if matches!(unit, Some(super::Word::Unit(_))) {
                return None;
            }
            clauses.push((n, at..at + n.to_string().len(), says));
        }
        let sum: u32 = clauses.iter().map(|c| c.0).sum();
        // '2 eggs, 1 onion, 1 courgette' are three foods; '2 sliced and 1 chopped' need no parting.
        let mut foods = clauses
            .iter()
            .filter_map(|c| self.larder.find(c.2, self.locale));
        let other = foods.any(|m| m.food != found.food);
        let mut purposes = clauses
            .iter()
            .map(|c| purpose_of(&c.2.to_lowercase(), true));
        let first = purposes.next();
        let one = purposes.all(|p| Some(p) == first);
        if !is_food || other || one || sum != all {
            return None;
        }
        let name_at = from + colon - name.len();
        let named = name_at..name_at + name.trim_end().len();
        let items = clauses.into_iter().map(|(n, span, says)| {
            let amount = Amount {
                low: f64::from(n),
                high: f64::from(n),
                unit: Some(Unit::Count),
                ..Amount::one(span)
            };
            let words = format!("{}, {says}", name.trim_end());
            let mut item = self.item(text, &words, named.clone(), vec![amount], line);
            if let Some(m) = item.food.as_mut() {
                m.span = named.start + found.span.start..named.start + found.span.end;
            }
            item
        });
        Some(items.collect())
    }
}
