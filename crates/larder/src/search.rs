//! Looking for a food by a few letters, as one types.

use crate::names::{one_letter_apart, plain};
use crate::{FoodId, Larder};

/// A name in the form it is searched in.
#[derive(Debug, Clone, PartialEq)]
struct Row {
    food: FoodId,
    /// The food's name, not one of its other names.
    main: bool,
    words: String,
}

/// All names, for [`Larder::search`].
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Search {
    rows: Vec<Row>,
}

impl Search {
    pub(crate) fn add(&mut self, food: FoodId, name: &str, main: bool) {
        self.rows.push(Row {
            food,
            main,
            words: plain(name),
        });
    }
    /// Takes other names of foods for the main ones, where `name` gives one.
    pub(crate) fn call<'a>(&mut self, name: impl Fn(FoodId) -> Option<&'a str>) {
        for row in &mut self.rows {
            if let Some(name) = name(row.food) {
                row.main = row.words == plain(name);
            }
        }
    }
}

/// How well a name answers; less is better, `None` not at all.
fn rank(words: &str, query: &str, parts: &[&str]) -> Option<u8> {
    if words == query {
        return Some(0);
    }
    if words.starts_with(query) {
        return Some(1);
    }
    let starts = |part: &str| words.split(' ').any(|w| w.starts_with(part));
    if parts.iter().all(|p| starts(p)) {
        return Some(2);
    }
    if query.len() >= 3 && words.contains(query) {
        return Some(3);
    }
    let near = |part: &str| {
        part.len() >= 4
            && words.split(' ').any(|w| {
                one_letter_apart(w, part)
                    || w.get(..part.len())
                        .is_some_and(|w| one_letter_apart(w, part))
            })
    };
    parts.iter().all(|p| starts(p) || near(p)).then_some(4)
}

/// As a list is read: 'Greek yogurt' stands by 'grapes', not before 'agar powder'.
fn by_letters(a: &str, b: &str) -> std::cmp::Ordering {
    let mut pair = [a, b].map(|name| name.chars().flat_map(char::to_lowercase));
    let [x, y] = &mut pair;
    x.cmp(y).then_with(|| a.cmp(b))
}

impl Larder {
    /// The foods that a few words could mean, best first.
    ///
    /// The whole name comes before its beginning, a name before another name of the food, words
    /// begun before letters in the middle, and these before names a letter away. Among equals
    /// the kitchen's own foods come first, then short names.
    ///
    /// # Arguments
    /// * `words` — as typed; nothing typed finds every food, by name.
    /// * `limit` — at most so many.
    #[must_use]
    pub fn search(&self, words: &str, limit: usize) -> Vec<FoodId> {
        let query = plain(words);
        let parts: Vec<&str> = query.split(' ').filter(|p| !p.is_empty()).collect();
        if parts.is_empty() && !words.trim().is_empty() {
            return Vec::new();
        }
        let mut best: Vec<Option<(u8, bool, usize)>> = vec![None; self.foods.len()];
        for row in &self.search.rows {
            let Some(rank) = rank(&row.words, &query, &parts) else {
                continue;
            };
            let this = (rank, !row.main, row.words.len());
            let here = &mut best[row.food.0 as usize];
            if here.is_none_or(|b| this < b) {
                *here = Some(this);
            }
        }
        let mut found: Vec<(FoodId, (u8, bool, usize))> = self
            .ids()
            .zip(best)
            .filter_map(|(id, b)| Some((id, b?)))
            .collect();
        let key = |id: FoodId, (rank, other, length): (u8, bool, usize)| {
            let length = if parts.is_empty() { 0 } else { length };
            (rank, other, !self.is_own(id), length)
        };
        found.sort_by(|a, b| {
            key(a.0, a.1)
                .cmp(&key(b.0, b.1))
                .then_with(|| by_letters(&self.food(a.0).name, &self.food(b.0).name))
        });
        found.truncate(limit);
        found.into_iter().map(|(id, _)| id).collect()
    }
}
