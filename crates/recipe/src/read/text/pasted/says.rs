//! What single lines of pasted text say they are.

use super::super::super::step;
use super::super::verbs::{orders, starts_with_verb};
use super::{Pasted, Raw, Section, section_of};
use crate::line::{Item, Line};
use crate::recipe::{Fact, FactKind};

/// 'Dip: 2 tbsp butter; 2 tbsp flour': a part on a line of its own, though its name is a verb too.
pub(super) fn is_part_of_one_line(line: &Line) -> bool {
    line.heading.is_some() && line.items.first().is_some_and(Item::is_measured)
}

/// The page's own numbers of its steps, where they tell them apart: several, each above the last.
pub(super) fn numbers_of_the_page(own: &[Option<usize>]) -> Vec<Option<usize>> {
    let known: Vec<usize> = own.iter().flatten().copied().collect();
    let rising = known.windows(2).all(|w| w[0] < w[1]);
    if known.len() < 2 || !rising {
        return Vec::new();
    }
    own.to_vec()
}

/// A number of one or two digits before words, without a dot: the number and the words.
pub(super) fn bare_number(text: &str) -> Option<(usize, &str)> {
    let digits = text.bytes().take_while(u8::is_ascii_digit).count();
    if digits == 0 || digits > 2 {
        return None;
    }
    let body = text[digits..].trim_start();
    let spaced = body.len() + digits < text.len();
    (spaced && body.starts_with(char::is_alphabetic))
        .then(|| text[..digits].parse().ok())
        .flatten()
        .map(|n| (n, body))
}

/// 'Oven 425 deg F, Gas 7', 'Oven: 180C', 'Preheat oven to 350F': a line about the oven's heat.
pub(super) fn sets_oven(text: &str) -> bool {
    const LEADS: [&str; 12] = [
        "oven",
        "preheat",
        "pre-heat",
        "heat the oven",
        "heat oven",
        "set the oven",
        "set oven",
        "bake at",
        "baking temperature",
        "cooking temperature",
        "temperature",
        "gas mark",
    ];
    let lower = text
        .trim_start_matches(['-', '•', '*', '_', ' '])
        .to_lowercase();
    text.len() <= 120
        && LEADS.iter().any(|l| lower.starts_with(l))
        && step(1, text, None)
            .facts
            .iter()
            .any(|f| matches!(f.kind, FactKind::Temperature { .. }))
}

/// A temperature no ingredient is kept or mixed at: an oven's, or that of fat for frying.
const OVEN_HEAT: f64 = 120.0;

/// Whether a text names an oven's heat, and a length of time.
pub(super) fn heat_and_time(text: &str) -> (bool, bool) {
    let facts = step(1, text, None).facts;
    let oven = facts.iter().any(|f| match &f.kind {
        FactKind::Temperature { value, .. } => value.likely().as_celsius() >= OVEN_HEAT,
        _ => false,
    });
    let time = |f: &Fact| matches!(f.kind, FactKind::Duration { .. });
    (oven, facts.iter().any(time))
}

/// 'Step 3:' before a step's words; bytes of it.
pub(super) fn step_word(text: &str) -> Option<usize> {
    let rest = text
        .strip_prefix("Step ")
        .or_else(|| text.strip_prefix("STEP "))?;
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    let after = &rest[digits..];
    let sign = after.len() - after.trim_start_matches([':', '.', ')', '-', ' ']).len();
    (digits > 0 && sign > 0 && after.len() > sign).then_some(5 + digits + sign)
}

/// 'Step 3' alone over a step's words.
pub(super) fn is_bare_step(text: &str) -> bool {
    let rest = text
        .strip_prefix("Step ")
        .or_else(|| text.strip_prefix("STEP "));
    let number = rest.map(|r| r.trim_end_matches([':', '.']));
    number.is_some_and(|n| !n.is_empty() && n.bytes().all(|b| b.is_ascii_digit()))
}

/// What a page's buttons say above a list: '1x 2x 3x', 'US Customary – Metric'.
pub(super) fn is_switch(text: &str) -> bool {
    const MEASURES: [&str; 6] = ["us", "customary", "metric", "imperial", "cups", "grams"];
    let lower = text.to_lowercase();
    let words = || {
        lower
            .split(|c: char| !c.is_alphanumeric())
            .filter(|w| !w.is_empty())
    };
    let scale = |w: &str| {
        w.strip_suffix('x')
            .is_some_and(|n| n.parse::<f64>().is_ok())
    };
    words().count() > 1 && (words().all(scale) || words().all(|w| MEASURES.contains(&w)))
}

/// 'Nutrition per biscuit: 95 kcal': what a page states of the bake. An order beside it makes it a step.
fn states_nutrition(line: &str) -> bool {
    let lower = line.to_lowercase();
    let figure = |w: &str| {
        ["kcal", "kj", "calories"].iter().any(|unit| {
            w.strip_suffix(unit)
                .is_some_and(|n| n.is_empty() || n.bytes().all(|b| b.is_ascii_digit()))
        })
    };
    let words = || lower.split(|c: char| !c.is_alphanumeric());
    let headed = lower.starts_with("nutrition");
    let counted = words().any(figure) && lower.contains(|c: char| c.is_ascii_digit());
    (headed || counted) && orders(line).sure == 0 && !starts_with_verb(line)
}

/// 'Notes: they keep two days in a tin.' and what a page states of the food. An order with its time or heat is a step, whatever stands before it.
pub(super) fn is_labelled_note(line: &str) -> bool {
    states_nutrition(line)
        || line.split_once(':').is_some_and(|(label, said)| {
            let said = said.trim();
            let (oven, time) = heat_and_time(said);
            let order = (oven || time) && orders(said).sure > 0 && starts_with_verb(said);
            section_of(label) == Some(Section::Notes) && !said.is_empty() && !order
        })
}

/// What stands behind 'Day 1', 'Day two:', in small or capital letters.
fn behind_day(text: &str) -> Option<&str> {
    const NUMBERS: [&str; 7] = ["one", "two", "three", "four", "five", "six", "seven"];
    let head = text.get(..4)?;
    let rest = text.get(4..)?;
    let end = rest.find(|c: char| !c.is_alphanumeric());
    let (number, behind) = rest.split_at(end.unwrap_or(rest.len()));
    let lower = number.to_lowercase();
    let counts = !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit())
        || NUMBERS.contains(&&*lower);
    let behind = behind.trim_start();
    let parted = behind.is_empty() || behind.starts_with([':', '.', ',', ')', '-', '–', '—']);
    (head.eq_ignore_ascii_case("day ") && counts && parted)
        .then(|| behind.trim_start_matches([':', '.', ',', ')', '-', '–', '—', ' ']))
}

/// Most words of a day's heading.
const MOST_OF_A_HEADING: usize = 6;

impl Pasted<'_, '_, '_> {
    /// Whether the list's own heading is still to come.
    pub(super) fn is_above_the_list(&self) -> bool {
        let below = self.lines.get(self.at..).unwrap_or_default();
        let heads = |l: &Raw<'_>| section_of(l.text) == Some(Section::Ingredients);
        below.iter().any(heads)
    }

    /// Whether a line behind the ingredients begins what is done on a day: 'Day 1. Make the dough and chill it.';
    /// over an amount it heads that day's ingredients.
    pub(super) fn is_of_a_day(&self, text: &str) -> bool {
        let list = self
            .next
            .is_some_and(|n| self.reader.begins_with_amount(n.text));
        self.has_ingredients() && behind_day(text).is_some() && !list
    }

    /// Whether a line of the method only names a day and what it is for: 'Day 2', 'Day 2. Bake it'.
    pub(super) fn heads_a_day(&self, text: &str) -> bool {
        let title = |rest: &str| {
            !rest.ends_with(['.', '!', '?', ',', ';'])
                && rest.split_whitespace().count() <= MOST_OF_A_HEADING
        };
        behind_day(text).is_some_and(title) && self.next.is_some()
    }

    /// Whether a line above a list is only a day, or the name of the food whose amount stands below it: 'Apples',
    /// '600 g apples'.
    pub(super) fn names_the_list(&self, text: &str, line: &Line) -> bool {
        let measured = |n: Raw<'_>| self.reader.begins_with_amount(n.text);
        if behind_day(text).is_some() && self.next.is_some_and(measured) {
            return true;
        }
        let [item] = line.items.as_slice() else {
            return false;
        };
        let above = self.pending.is_none() && (self.blank || !self.has_ingredients());
        let below = self.next.filter(|n| !n.blank && measured(*n));
        let named =
            item.amounts.is_empty() && self.reader.larder.names().is_name(text, self.reader.locale);
        let same = |l: &Line| {
            let food = |i: &Item| i.food.as_ref().map(|m| m.food);
            l.items.first().is_some_and(|i| food(i) == food(item))
        };
        above && named && below.is_some_and(|n| same(&self.reader.line(n.text)))
    }
}
