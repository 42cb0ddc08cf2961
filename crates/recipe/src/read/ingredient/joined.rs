//! Words by which a second food stands on a line: 'beaten with', 'fried in', 'rolled in'.

use super::super::amount::{Walk, is_measured};
use super::super::lex::Kind;
use super::Reader;
use crate::line::{Amount, Role};
use larder::{Certainty, Gluten};

impl Reader<'_> {
    /// Whether 'rolled in', 'dusted with' stands here before a flour of gluten that has no amount.
    pub(super) fn is_strewn(&self, walk: &Walk<'_>) -> bool {
        const STREWN: [&str; 5] = ["coated", "dredged", "dusted", "rolled", "tossed"];
        let is = |at: Option<usize>, all: &[&str]| {
            let t = at.and_then(|at| walk.tokens.get(at));
            let word = t.filter(|t| t.kind == Kind::Word).map(|t| walk.str(*t));
            word.is_some_and(|w| all.iter().any(|a| w.eq_ignore_ascii_case(a)))
        };
        if !is(Some(walk.at), &["in", "with"]) || !is(walk.at.checked_sub(1), &STREWN) {
            return false;
        }
        let rest = walk.ahead(1).map_or("", |t| &walk.text[t.start..]);
        let part = rest.split([',', ';', '(', ')']).next().unwrap_or(rest);
        self.larder.find(part, self.locale).is_some_and(|m| {
            let food = self.larder.food(m.food);
            m.certainty == Certainty::Sure
                && food.is_flour_phase()
                && food.gluten == Gluten::Contains
                && part.starts_with(|c: char| c.is_alphabetic())
        })
    }

    /// Whether 'beaten with', 'dissolved in' stands here before an amount of another food.
    pub(super) fn joins_another(&self, walk: &mut Walk<'_>) -> bool {
        let word = |back: usize| {
            let t = walk.at.checked_sub(back).and_then(|i| walk.tokens.get(i));
            t.filter(|t| t.kind == Kind::Word)
                .map_or("", |t| walk.str(*t))
        };
        let is = |s: &str, all: &[&str]| all.iter().any(|w| s.eq_ignore_ascii_case(w));
        if !is(word(0), &["with", "in", "into"]) {
            return false;
        }
        let with = is(word(0), &["with"]);
        // 'Fried in 60 g butter', 'with 1 tsp salt'. What is cooked in water may be drained.
        let done = with || word(1).ends_with("ed");
        let mixed = is(
            word(1),
            &[
                "beaten",
                "boiled",
                "heated",
                "melted",
                "warmed",
                "mixed",
                "dissolved",
                "whisked",
                "blended",
                "stirred",
                "combined",
                "slaked",
                "soaked",
                "tossed",
                "thinned",
                "together",
            ],
        );
        let up = with && is(word(1), &["up", "down"]);
        if !(mixed || up || done) {
            return false;
        }
        let back = walk.at;
        walk.at += 1;
        let found = walk.amount(Role::Main).is_some_and(|a| {
            (self.follows_name(walk, &a)
                || mixed && is_measured(&a) && self.ends_in_a_name(walk, &a))
                && (mixed || up || is_measured(&a) && !self.is_water_behind(walk, &a))
        });
        walk.at = back;
        found
    }

    /// Whether the words behind an amount end in a food's name, what stands before it known or not: 'zorpel beer'.
    fn ends_in_a_name(&self, walk: &Walk<'_>, amount: &Amount) -> bool {
        let rest = walk.text.get(walk.behind().max(amount.span.end)..);
        let rest = rest.unwrap_or_default();
        let part = rest.split([',', ';', '(', '+']).next().unwrap_or(rest);
        let found = self.larder.find(part, self.locale);
        found.is_some_and(|m| {
            m.certainty == Certainty::Partly && m.span.end == part.trim_end().len()
        })
    }

    /// Whether a word says what was done, and no name of a food and no remark has it.
    pub(super) fn is_not_known(&self, word: &str) -> bool {
        let names = self.larder.names();
        word.ends_with("ed")
            && !names.is_remark(word)
            && self.larder.find(word, self.locale).is_none()
    }

    fn is_water_behind(&self, walk: &Walk<'_>, amount: &Amount) -> bool {
        let rest = walk.text.get(walk.behind().max(amount.span.end)..);
        let found = self.larder.find(rest.unwrap_or_default(), self.locale);
        found.is_some_and(|m| self.larder.food(m.food).key == "water")
    }
}

#[cfg(test)]
mod tests {
    use super::Reader;
    use larder::Larder;
    use quantity::Locale;

    /// What fruit is soaked in is a food of its own where its last word is one; 'hot mud' is none.
    #[test]
    fn what_a_food_is_soaked_in_has_its_own_amount() {
        let larder = Larder::built_in().expect("the built-in tables");
        let foods = |text: &str| {
            let line = Reader::new(&larder, Locale::Uk).line(text);
            let keys = line.items.iter().map(|i| {
                let food = i.food.as_ref().map(|m| larder.food(m.food).key.as_str());
                format!(
                    "{}{}",
                    food.unwrap_or("?"),
                    if i.amounts.is_empty() { "" } else { "*" }
                )
            });
            keys.collect::<Vec<_>>().join(" ")
        };
        for (text, want) in [
            (
                "100 g sultanas soaked in 2 tbsp malt beer",
                "sultanas* beer*",
            ),
            (
                "100 g sultanas soaked in 2 tbsp zorpel beer",
                "sultanas* beer*",
            ),
            ("100 g sultanas soaked in 2 tbsp rum", "sultanas* rum*"),
            ("100 g sultanas mixed with 2 tbsp hot mud", "sultanas*"),
            ("100 g sultanas soaked in beer", "sultanas*"),
        ] {
            assert_eq!(foods(text), want, "{text}");
        }
    }
}
