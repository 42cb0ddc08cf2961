//! A name whose first words only describe, before the rest of the name it runs into.

use super::{Entry, LONGEST_NAME, Names, Token, follow};
use quantity::Locale;
use std::ops::Range;

impl Names {
    /// A name that begins within another and ends behind it, where the other's words before it change nothing of the
    /// food: 'egg white' of 'free-range egg white', as a free-range egg is an egg; not 'milk chocolate' of 'soya milk
    /// chocolate'.
    pub(super) fn headed(
        &self,
        tokens: &[Token],
        name: Range<usize>,
        locale: Locale,
    ) -> Option<(usize, usize, &Vec<Entry>)> {
        let phrase = |at: Range<usize>| {
            let hash = tokens[at].iter().fold(0, |h, t| follow(h, t.hash));
            self.phrases.get(&hash)
        };
        let best = |entries: &Vec<Entry>| {
            let mut chosen = Vec::new();
            Self::choose(entries, locale, &mut chosen);
            chosen.first().map(|e| e.food)
        };
        let whole = best(phrase(name.clone())?);
        let segment = tokens[name.start].segment;
        let ends = |at: &usize| tokens.get(at - 1).is_some_and(|t| t.segment == segment);
        (name.start + 1..name.end).find_map(|at| {
            let alone = best(phrase(at..name.end)?);
            let longest = tokens.len().min(at + LONGEST_NAME);
            let behind = (name.end + 1..=longest).rev().filter(ends);
            let mut found = behind.filter_map(|to| Some((to, phrase(at..to)?)));
            let (to, entries) = found.next()?;
            (alone == whole).then_some((at, to, entries))
        })
    }
}
