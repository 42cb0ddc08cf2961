//! What a line adds for something beside its dough: '4 eggs, plus 1 for glazing'.

use super::super::amount::Walk;
use super::super::lex::Kind;
use super::super::words::Word;
use super::Reader;
use super::purpose::{purpose_of, says_glaze};
use crate::line::{Amount, Item, Purpose, Role};
use larder::Match;
use std::ops::Range;

impl Reader<'_> {
    /// Passes 'extra', 'another', 'a further' before a number: 'plus extra 50 g for rolling'.
    pub(super) fn skip_extra(walk: &mut Walk<'_>) {
        walk.attempt(|w| {
            if matches!(w.word_at(0), Some(Word::Article)) {
                w.at += 1;
            }
            let extra = ["extra", "another", "further", "additional"];
            let t = w.peek().filter(|t| t.kind == Kind::Word)?;
            let said = extra.iter().any(|e| w.str(t).eq_ignore_ascii_case(e));
            w.at += 1;
            let t = w.peek().filter(|_| said)?;
            matches!(
                t.kind,
                Kind::Whole(_) | Kind::Decimal(_) | Kind::Fraction(_)
            )
            .then_some(())
        });
    }

    /// Whether 'and 1 for glazing' stands here: a number without a name that is for something beside the dough. The
    /// number is taken in, 'and' is passed.
    pub(super) fn and_beside(&self, walk: &mut Walk<'_>, amounts: &mut Vec<Amount>) -> bool {
        let found = walk.attempt(|w| {
            w.at += 1;
            Self::skip_extra(w);
            let a = w.amount(Role::Plus)?;
            let rest = w.text.get(w.behind()..).unwrap_or_default();
            let rest = Self::behind_added(rest).to_ascii_lowercase();
            let said = rest.starts_with("for ") || rest.starts_with("to ");
            let beside = purpose_of(&rest, false) != Purpose::Formula || says_glaze(&rest);
            (said && beside).then_some(Amount { aside: true, ..a })
        });
        let is = found.is_some() && !amounts.is_empty();
        amounts.extend(found.filter(|_| is));
        is
    }

    /// The words behind an added amount, without a bracket in which it is said again and without what is done with it:
    /// 'plus 20 g, melted, for the top'.
    pub(super) fn behind_added(rest: &str) -> &str {
        let rest = rest.trim_start();
        let inside = rest.strip_prefix('(').and_then(|r| r.split_once(')'));
        let mut rest = inside.map_or(rest, |(_, behind)| behind);
        loop {
            rest = rest.trim_start_matches([',', ' ']);
            let end = rest
                .find(|c: char| !c.is_alphabetic())
                .unwrap_or(rest.len());
            let (word, behind) = rest.split_at(end);
            if !word.ends_with("ed") && !word.ends_with("ly") {
                return rest;
            }
            rest = behind;
        }
    }

    /// Takes what is added beside the dough off an item, as an item of its own with its own purpose. What is only
    /// added as needed ('plus 1 tbsp more if needed') stays.
    pub(super) fn apart(&self, text: &str, item: &mut Item) -> Option<Item> {
        let amounts = &item.amounts;
        // 'Plus 1 yolk for glazing'
        let washes = |a: &Amount| {
            a.of.is_some() && self.added_for(text, item, a.span.end) == Some(Purpose::Brushing)
        };
        let at = amounts.iter().position(|a| a.aside || washes(a))?;
        let first = amounts.first().filter(|a| !a.aside)?;
        let added = &amounts[at];
        let said = self.added_for(text, item, added.span.end)?;
        let measured = added.unit.is_some() || first.unit.is_none();
        let unit = if measured { added.unit } else { first.unit };
        // Its twin follows in its bracket.
        let twin = |a: &Amount| a.role == Role::Twin && a.span.start > added.span.end;
        let own = |(i, a): &(usize, &Amount)| *i == at || *i > at && twin(a);
        let own: Vec<usize> = amounts
            .iter()
            .enumerate()
            .filter(own)
            .map(|o| o.0)
            .collect();
        let mut taken = Vec::new();
        for i in own.into_iter().rev() {
            taken.insert(0, item.amounts.remove(i));
        }
        let main = taken.first_mut()?;
        (main.role, main.aside, main.unit) = (Role::Main, false, unit);
        main.bare = false;
        let other = main.of.take();
        let end = main.span.end;
        Some(Item {
            food: item.food.clone().map(|m| Match {
                food: other.unwrap_or(m.food),
                // 'Yolk' is the word behind the number.
                span: other.and_then(|_| word_behind(text, end)).unwrap_or(m.span),
                ..m
            }),
            amounts: taken,
            purpose: said,
            optional: false,
            own_grams: std::collections::BTreeMap::new(),
            ..item.clone()
        })
    }

    /// What an amount that ends here is for; `None` where it is only what may be needed.
    fn added_for(&self, text: &str, item: &Item, end: usize) -> Option<Purpose> {
        let rest = Self::behind_added(text.get(end..).unwrap_or_default()).to_ascii_lowercase();
        if rest.contains("if need") || rest.contains("as need") || rest.contains("if requir") {
            return None;
        }
        let brushes = item.food.as_ref().is_some_and(|m| self.brushes(m.food));
        Some(match purpose_of(&rest, false) {
            Purpose::Formula if says_glaze(&rest) && brushes => Purpose::Brushing,
            Purpose::Formula if rest.contains("for ") => Purpose::Finishing,
            Purpose::Formula => Purpose::Dusting,
            other => other,
        })
    }

    /// Gives what items add beside the dough an item of its own.
    pub(super) fn set_apart(&self, text: &str, items: &mut Vec<Item>) {
        for i in (0..items.len()).rev() {
            if let Some(beside) = items.get_mut(i).and_then(|item| self.apart(text, item)) {
                items.insert(i + 1, beside);
            }
        }
    }
}

/// The next word of a text.
fn word_behind(text: &str, end: usize) -> Option<Range<usize>> {
    let rest = text.get(end..)?;
    let from = end + rest.find(char::is_alphabetic)?;
    let length = text[from..].find(|c: char| !c.is_alphabetic());
    Some(from..length.map_or(text.len(), |l| from + l))
}
