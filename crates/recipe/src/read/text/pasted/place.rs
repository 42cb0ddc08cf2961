//! What a line is by its place among others: a step that goes on a count, a title, an order.

use super::super::super::ingredient::list_number;
use super::super::front;
use super::super::verbs::{does_to_something, is_step_of, led_up_to, orders, starts_with_verb};
use super::says::{bare_number, heat_and_time};
use super::{Pasted, Raw, Section};
use crate::line::{Line, LineKind};
use quantity::Unit;

impl Pasted<'_, '_, '_> {
    /// Bytes of a step's number without a dot ('1 Heat oven to 200C'), if it is the next one.
    /// The words behind the first are an order; later ones only begin with a capital.
    pub(super) fn counted_step(&self, text: &str) -> Option<usize> {
        let (number, body) = bare_number(text)?;
        let words = body.split_whitespace().count();
        let is = if self.counted > 0 && self.section == Section::Method {
            number == self.counted + 1 && body.starts_with(char::is_uppercase)
        } else {
            let follows = |raw: Raw<'_>| {
                bare_number(raw.text.trim())
                    .is_some_and(|(n, b)| n == 2 && b.starts_with(char::is_uppercase))
            };
            let follows = self.next.is_none_or(follows) || self.after.is_some_and(follows);
            let method = self.section == Section::Method;
            number == 1
                && self.counted == 0
                && words >= 3
                && body.starts_with(char::is_uppercase)
                && (starts_with_verb(body) && (words >= 5 || follows) || method && follows)
        };
        is.then(|| text.len() - body.len())
    }

    /// Whether a first line whose amount stands behind the name ('Flour 500 g') begins a list of
    /// such lines, or is all there is; 'Choux buns (about 20)' is a title.
    pub(super) fn lists_amounts_last(&self, line: &Line) -> bool {
        const PARTS: [&str; 7] = [
            "juice ", "zest ", "grated ", "finely ", "whites ", "yolks ", "optional",
        ];
        let lower = line.clean.trim().to_lowercase();
        if PARTS.iter().any(|p| lower.starts_with(p)) {
            return true;
        }
        let Some(next) = self.next else { return true };
        let amounts = |l: &Line| l.items.iter().any(|i| !i.amounts.is_empty());
        !next.blank
            && !self.reader.begins_with_amount(next.text)
            && amounts(&self.reader.line(next.text))
    }

    /// Whether a first line that begins with a number is a title all the same: 'Two Crumb Pear
    /// Slice', 'Two-day country loaf'. In a title's capitals or with the number joined to a word,
    /// without a unit, and a yield stands below it, or nothing does and the number is a word.
    pub(super) fn counts_in_title(&self, text: &str, line: &Line) -> bool {
        let words: Vec<&str> = text.split_whitespace().collect();
        let capital = |w: &&&str| w.starts_with(char::is_uppercase);
        let long = words.iter().skip(1).filter(|w| w.chars().count() > 3);
        let titled =
            words.len() >= 3 && long.clone().count() >= 2 && long.clone().all(|w| capital(&w));
        // 'Twenty-four' and 'one-half' are numbers through and through.
        let joined = words.first().and_then(|w| w.split_once('-'));
        let joined = joined.is_some_and(|(n, of)| {
            let number = ["half", "third", "quarter", "eighth"];
            !n.ends_with("ty")
                && of.starts_with(char::is_alphabetic)
                && !number.iter().any(|x| of.starts_with(x))
        });
        let unit = |u: Option<Unit>| u.is_some_and(|u| u != Unit::Count);
        let measured = line
            .items
            .iter()
            .flat_map(|i| &i.amounts)
            .any(|a| unit(a.unit));
        let said = self.next.is_some_and(|n| front::makes(n.text).is_some());
        let alone = self.next.is_some_and(|n| n.blank) && text.starts_with(char::is_alphabetic);
        (titled || joined && words.len() >= 2) && !measured && (said || alone)
    }

    /// Whether a line behind ingredients tells what to do: an oven's heat with a time or a verb,
    /// or clauses that open with verbs. A measured ingredient tells nothing, whatever else its
    /// line says.
    pub(in super::super) fn tells(&self, text: &str, line: &Line) -> bool {
        // 'Drop' is a measure too, where a number stands before it.
        let number = text.starts_with(char::is_numeric);
        let measured = line.items.iter().any(|i| {
            i.amounts.first().is_some_and(|a| {
                let unit = number && a.unit.is_some_and(|u| u != Unit::Count);
                a.span.start < 4 && (i.food.is_some() || unit)
            })
        });
        if measured || line.kind == LineKind::Heading {
            return false;
        }
        if led_up_to(text).is_some_and(|t| starts_with_verb(t) || orders(t).first_sure) {
            return true;
        }
        let told = orders(text);
        let (oven, time) = heat_and_time(text);
        if oven && time && (told.sure > 0 || !self.reader.begins_with_food(text)) {
            return true;
        }
        let near = |m: &larder::Match| m.certainty == larder::Certainty::Near;
        let food = line
            .items
            .iter()
            .any(|i| i.food.as_ref().is_some_and(|m| !near(m)));
        let alone = text.split_whitespace().count() == 1;
        oven && told.first
            || starts_with_verb(text) && told.all >= 2 && told.sure > 0
            || told.first && (told.sure >= 2 || told.all >= 3 && told.sure > 0)
            || told.first_sure && (time || !food && (!alone || self.is_last_or_told()))
            || does_to_something(text)
            || !alone && is_step_of(text) && !self.reader.begins_with_food(text)
    }

    /// Whether no line follows, or one that tells what to do.
    fn is_last_or_told(&self) -> bool {
        self.next.is_none_or(|n| {
            let text = n.text.trim();
            let body = list_number(text).map_or(text, |at| text[at..].trim_start());
            starts_with_verb(body)
        })
    }

    /// Whether a list that bears no numbers is followed by '1.', and by no measured food behind it.
    pub(super) fn begins_numbers(&self, text: &str) -> bool {
        let lines = self.recipe.components.iter().flat_map(|c| &c.lines);
        let numbered = lines
            .map(|l| l.text.trim())
            .any(|t| list_number(t).is_some());
        (text.starts_with("1.") || text.starts_with("1)"))
            && !numbered
            && !self.reader.begins_with_amount(text)
    }
}
