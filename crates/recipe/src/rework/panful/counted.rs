//! How much of each part counts in a tin: what lies over its rim does not, nor what is kept back.

use super::super::reworked::Rework;
use super::{Panful, has_word, is_crumb_of, last_word};
use crate::sentences;
use quantity::listed;

/// What is said of a part that is kept back.
const KEPT: [&str; 8] = [
    "freeze", "keep", "save", "store", "serve", "bake", "chill", "reserve",
];
/// Shares of a part in words.
const SHARES: [(&str, &str, f64); 9] = [
    ("two thirds", "two thirds", 2.0 / 3.0),
    ("two-thirds", "two thirds", 2.0 / 3.0),
    ("three quarters", "three quarters", 0.75),
    ("three-quarters", "three quarters", 0.75),
    ("a third", "a third", 1.0 / 3.0),
    ("one third", "a third", 1.0 / 3.0),
    ("a quarter", "a quarter", 0.25),
    ("one quarter", "a quarter", 0.25),
    ("half", "half", 0.5),
];
/// The share stands so many bytes before the part's name at most: 'half of the streusel'.
const NEAR: usize = 24;

/// How much of a part counts in a tin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Counted {
    /// It lies over the rim of a case: nothing.
    Above,
    /// A share of it, and that in words.
    Share(f64, &'static str),
}

impl Counted {
    /// The share, 0 to 1.
    fn share(self) -> f64 {
        match self {
            Self::Above => 0.0,
            Self::Share(share, _) => share,
        }
    }
}

impl Panful {
    /// The share of a part that counts in the tin, of 1.
    #[must_use]
    pub fn share(&self, part: usize) -> f64 {
        let counted = self.counted.iter().find(|c| c.0 == part);
        counted.map_or(1.0, |c| c.1.share())
    }

    /// The share of a part that the method puts on, where it keeps the rest, and that in words.
    #[must_use]
    pub fn put_on(&self, part: usize) -> Option<(f64, &'static str)> {
        self.counted.iter().find_map(|c| match c {
            (at, Counted::Share(share, words)) if *at == part => Some((*share, *words)),
            _ => None,
        })
    }

    /// What counts less than whole, in a sentence: `The crumble lies over the rim and is not counted.`
    #[must_use]
    pub fn not_counted(&self, rework: &Rework) -> Option<String> {
        let of = |c: &usize| rework.components[*c].name.as_str();
        let here = || self.counted.iter().filter(|c| self.parts.contains(&c.0));
        let over = here().filter(|c| c.1 == Counted::Above);
        let over: Vec<&str> = over.map(|c| of(&c.0)).collect();
        let mut all = Vec::new();
        if !over.is_empty() {
            let (lie, are) = match over.len() {
                1 => ("lies", "is"),
                _ => ("lie", "are"),
            };
            all.push(format!(
                "the {} {lie} over the rim and {are} not counted",
                listed(&over)
            ));
        }
        all.extend(here().filter_map(|(c, counted)| match counted {
            Counted::Share(_, words) => Some(format!(
                "of the {} {words} is counted, as the method has it",
                of(c)
            )),
            Counted::Above => None,
        }));
        let mut said = all.join("; ") + ".";
        said.get_mut(..1)?.make_ascii_uppercase();
        (!all.is_empty()).then_some(said)
    }
}

impl Rework {
    /// What of a panful counts less than whole.
    ///
    /// # Inputs
    /// - `set`: whether it is what fills a tin that another part lines.
    pub(super) fn counted(&self, parts: &[usize], set: bool) -> Vec<(usize, Counted)> {
        let in_a_case = set
            && parts
                .iter()
                .any(|c| self.lines_a_tin(*c) && self.lines_the_sides(*c));
        let of = |c: &usize| {
            let name = &self.components[*c].name;
            let on_top = is_crumb_of(name) || last_word(name) == "meringue";
            if !on_top || parts.len() < 2 {
                None
            } else if in_a_case {
                Some((*c, Counted::Above))
            } else {
                let (share, words) = self.share_put_on(&last_word(name))?;
                Some((*c, Counted::Share(share, words)))
            }
        };
        parts.iter().filter_map(of).collect()
    }

    /// The one share of a part that the method puts on, where the rest of it goes elsewhere.
    fn share_put_on(&self, called: &str) -> Option<(f64, &'static str)> {
        let texts = self.formula.recipe.steps.iter();
        let texts: Vec<String> = texts.map(|s| s.text.to_lowercase()).collect();
        let said: Vec<&str> = texts
            .iter()
            .flat_map(|t| sentences(t).into_iter().map(|r| &t[r]))
            .collect();
        let share = |text: &str| {
            let all = SHARES.iter().filter_map(|(words, name, share)| {
                let end = text.find(words)? + words.len();
                let at = text[end..].find(called)?;
                (at <= NEAR).then_some((*share, *name))
            });
            all.max_by(|a, b| a.0.total_cmp(&b.0))
        };
        let mut shares = said
            .iter()
            .enumerate()
            .filter_map(|(i, t)| Some((i, share(t)?)));
        let (at, found) = shares.next()?;
        if shares.next().is_some() {
            return None;
        }
        let rest = |text: &&str| {
            ["the rest", "remaining", "remainder", "other half"]
                .iter()
                .any(|w| text.contains(w))
        };
        let used = |text: &&str| rest(text) && !has_word(text, &KEPT);
        (!said[at..].iter().any(used)).then_some(found)
    }
}
