//! Answers to doubts about an amount: what unit, size or weight is meant.

use super::text::{splice, without};
use super::{Answer, Asked, place_of, tidy};
use crate::DoubtCode;
use crate::line::{Amount, Role};
use crate::weigh;
use larder::Function;
use quantity::{Locale, Unit, UnitKind};
use std::ops::Range;

impl Asked<'_> {
    /// The weight as bought, less what is taken off, and as prepared.
    pub(super) fn as_bought(&self) -> Vec<Answer> {
        let found = || {
            let (item, mass) = (self.item()?, self.amount()?);
            let food = item.food.as_ref()?.food;
            let trim = weigh::left_as_bought(item, mass, &self.line.clean, food, self.larder)?;
            let (all, _) = weigh::line(self.line, self.larder, self.locale);
            let all = all.iter().find(|w| w.item == self.item && w.part == 0)?;
            Some((trim, all.grams?.likely().as_grams()))
        };
        let Some((trim, stated)) = found() else {
            return Vec::new();
        };
        let said =
            |what: &str, g: f64| format!("as {what}: {:.0} g without {}", tidy(g), trim.lost);
        let less = trim.used(stated);
        [
            self.grams(
                less,
                said("bought", less),
                "the shopping list then has what is written",
            ),
            self.grams(
                stated,
                said("prepared", stated),
                "the shopping list has more, for what is taken off",
            ),
        ]
        .into_iter()
        .flatten()
        .collect()
    }

    pub(super) fn ounces(&self) -> Vec<Answer> {
        let Some(amount) = self.amount() else {
            return Vec::new();
        };
        let shown = self.line.words(&amount.span).trim();
        let cut = shown
            .char_indices()
            .rev()
            .take_while(|(_, c)| c.is_alphabetic() || *c == '.')
            .last()
            .map_or(shown.len(), |(i, _)| i);
        let number = shown[..cut].trim_end_matches([' ', '-']);
        let mut out = Vec::new();
        let grams = |n: f64| tidy(n * 28.349_523_125);
        let weight = if amount.low < amount.high {
            format!("{}-{} g", grams(amount.low), grams(amount.high))
        } else {
            format!("{} g", grams(amount.low))
        };
        if let Some(text) = self.replaced(&weight) {
            let words = format!("{number} oz by weight, {weight}");
            out.push(self.read_as(words, text));
        }
        if let Some(text) = self.replaced(&format!("{number} fl oz")) {
            let mut answer = self.read_as(format!("{number} fl oz"), text);
            answer.why = Some("many books mean fluid ounces of a liquid".to_owned());
            out.push(answer);
        }
        out
    }

    /// Units for a bare number, by what the food does.
    pub(super) fn units(&self) -> Vec<Answer> {
        use Function as F;
        let bare = self
            .item()
            .and_then(|i| i.amounts.iter().find(|a| a.bare && a.unit.is_none()));
        let Some(number) = bare.map(Amount::middle) else {
            return Vec::new();
        };
        let function = self
            .item()
            .and_then(|i| i.food.as_ref())
            .map(|m| self.larder.food(m.food).function());
        let large = number > 12.0;
        let units: &[&str] = match function {
            Some(F::Liquid | F::Water | F::Dairy | F::Alcohol) if large => &["ml", "g"],
            Some(F::Liquid | F::Water | F::Dairy | F::Alcohol) => &["cup", "tbsp", "dl"],
            _ if large => &["g", "ml"],
            Some(
                F::Leavening
                | F::Yeast
                | F::Salt
                | F::Spice
                | F::Flavour
                | F::Binder
                | F::Acid
                | F::Colour,
            ) => &["tsp", "tbsp", "g"],
            Some(F::Fat) => &["tbsp", "cup", "oz"],
            Some(F::Syrup) => &["tbsp", "cup"],
            _ => &["cup", "tbsp", "oz"],
        };
        let shown = self.shown().to_owned();
        units
            .iter()
            .filter_map(|unit| {
                let many = *unit == "cup" && number > 1.0;
                let words = format!("{shown} {unit}{}", if many { "s" } else { "" });
                let text = self.replaced(&format!("{words} "))?;
                Some(self.read_as(words, text))
            })
            .collect()
    }

    /// Spoons and cups for a measure without a size, to choose from.
    pub(super) fn loose(&self) -> Vec<Answer> {
        let (loose, count) = match self.amount() {
            Some(a) => (a.loose.as_deref().unwrap_or_default(), a.middle()),
            // 'a little', 'some': no amount at all, and little of it.
            None if self.doubt.code == DoubtCode::LooseMeasure => ("splash", 1.0),
            None => return Vec::new(),
        };
        if count.fract() != 0.0 || !(1.0..=4.0).contains(&count) {
            return Vec::new();
        }
        let spoons = [
            "knob", "glug", "splash", "dollop", "drizzle", "pat", "lump", "spoonful", "blob",
        ];
        let measures: &[(f64, &str)] = match loose.trim_end_matches('s') {
            w if spoons.contains(&w) => &[(1.0, "tbsp"), (1.0, "tsp")],
            // British kitchens have no cups.
            "handful" | "fistful" if self.locale == Locale::Uk => &[(4.0, "tbsp"), (8.0, "tbsp")],
            "handful" | "fistful" => &[(0.25, "cup"), (0.5, "cup")],
            _ => &[],
        };
        measures
            .iter()
            .filter_map(|(one, unit)| {
                let measure = match one * count {
                    n if n.fract() == 0.0 => format!("{n} {unit}"),
                    0.25 => format!("1/4 {unit}"),
                    0.5 => format!("1/2 {unit}"),
                    0.75 => format!("3/4 {unit}"),
                    n => format!("{n} {unit}"),
                };
                let text = self.replaced(&format!("{measure} "))?;
                let (weighed, _) = weigh::line(&self.reader.line(&text), self.larder, self.locale);
                // 'Beaten with a splash of milk' is not the egg before it.
                let first = weighed.iter().find(|w| w.item == self.item)?;
                let grams = tidy(first.grams?.likely().as_grams());
                let mut answer = self.read_as(format!("as {measure}, {grams} g"), text);
                answer.why = first.basis.as_ref().map(weigh::Basis::words);
                Some(answer)
            })
            .collect()
    }

    /// A size behind several packets: of all, or of each.
    pub(super) fn sizes(&self) -> Vec<Answer> {
        let sized = self.item().zip(self.amount()).and_then(|(i, a)| {
            let size = i.amounts.iter().find(|s| s.role == Role::Size)?;
            Some((a, size))
        });
        let Some((amount, size)) = sized else {
            return Vec::new();
        };
        let text = &self.line.clean;
        let words = self.line.words(&size.span).trim().to_owned();
        let rest = without(text, vec![amount.span.clone(), size.span.clone()]);
        let all = self.read_as(format!("{words} in all"), format!("{words} {rest}"));
        let each = splice(text, size.span.clone(), &format!("{words} each"))
            .map(|text| self.read_as(format!("{words} each"), text));
        std::iter::once(all).chain(each).collect()
    }

    /// The measure without 'heaped' or 'scant'.
    pub(super) fn level(&self) -> Option<Answer> {
        let kept: Vec<&str> = self
            .shown()
            .split_whitespace()
            .filter(|w| {
                let w = w.to_lowercase();
                !["heap", "scant", "generous", "round", "brimming", "good"]
                    .iter()
                    .any(|f| w.starts_with(f))
            })
            .collect();
        let words = kept.join(" ");
        let text = self.replaced(&format!("{words} "))?;
        Some(self.read_as(format!("{words}, level"), text))
    }

    /// Weights the larder knows, for a measure that has none of its own.
    pub(super) fn usual(&self) -> Vec<Answer> {
        let Some(item) = self.item() else {
            return Vec::new();
        };
        let (weighed, _) = weigh::line(self.line, self.larder, self.locale);
        let mut out = Vec::new();
        let at = self.line.at_place(place_of(self.doubt, self.line));
        if let Some(w) = weighed.iter().find(|w| Some((w.item, w.part)) == at)
            && let Some(g) = w.grams
            && w.basis != Some(weigh::Basis::Own)
        {
            let why = w.basis.as_ref().map_or(String::new(), weigh::Basis::words);
            let g = tidy(g.likely().as_grams());
            out.extend(self.grams(g, format!("{g} g"), &why));
            return out;
        }
        if at.is_some_and(|(_, part)| part > 0) {
            return out;
        }
        let (Some(food), Some(amount)) = (&item.food, item.amounts.first()) else {
            return out;
        };
        let count = if amount.middle().is_finite() {
            amount.middle()
        } else {
            1.0
        };
        let words: &[&str] = match amount.unit {
            Some(Unit::Packet) => &["packet", "sachet"],
            Some(Unit::Can) => &["can"],
            Some(u) if u.kind() != UnitKind::Piece => &[],
            // A bunch is no sprig and a knob no stick.
            None if amount.loose.is_some() => &[],
            _ => &[
                "each", "medium", "large", "small", "slice", "sprig", "stick",
            ],
        };
        for word in words {
            let Some(m) = self.larder.measure_in(food.food, word, self.locale) else {
                continue;
            };
            let g = tidy(m.grams.likely().as_grams() * count);
            let one = match *word {
                "each" => "one".to_owned(),
                "medium" | "large" | "small" => format!("a {word} one"),
                w => format!("a {w}"),
            };
            let why = format!(
                "{one} weighs {} g, {}",
                tidy(m.grams.likely().as_grams()),
                m.source
            );
            out.extend(self.grams(g, format!("{g} g"), &why));
            if out.len() == 3 {
                break;
            }
        }
        out
    }

    /// Each of two stated amounts, alone.
    pub(super) fn twins(&self) -> Vec<Answer> {
        let Some(item) = self.item() else {
            return Vec::new();
        };
        let text = &self.line.clean;
        let twin = |a: &&Amount| a.role == Role::Twin;
        let others: Vec<Range<usize>> = item
            .amounts
            .iter()
            .filter(|a| !twin(a))
            .map(|a| a.span.clone())
            .collect();
        let mut out = Vec::new();
        let twins: Vec<&str> = item
            .amounts
            .iter()
            .filter(twin)
            .map(|t| self.line.words(&t.span).trim())
            .collect();
        if !twins.is_empty() {
            // Alone, it stands before the name. '1 lb 8 oz' is one amount.
            let spans = item.amounts.iter().map(|a| a.span.clone());
            let words = twins.join(" ");
            let rest = without(text, spans.collect());
            out.push(self.read_as(format!("go by {words}"), format!("{words} {rest}")));
        }
        if !others.is_empty() {
            let spans = item.amounts.iter().filter(twin).map(|a| a.span.clone());
            let rest = without(text, spans.collect());
            let words: Vec<&str> = others.iter().map(|s| self.line.words(s).trim()).collect();
            out.push(self.read_as(format!("go by {}", words.join(" ")), rest));
        }
        // Two main amounts: each without the other.
        let mains: Vec<&Amount> = item
            .amounts
            .iter()
            .filter(|a| a.role == Role::Main)
            .collect();
        if mains.len() > 1 {
            for keep in &mains {
                let cut = mains
                    .iter()
                    .filter(|a| !std::ptr::eq(**a, *keep))
                    .map(|a| a.span.clone());
                let words = self.line.words(&keep.span).trim();
                let rest = without(text, cut.collect());
                out.push(self.read_as(format!("go by {words}"), rest));
            }
        }
        let mass = |a: &Answer| {
            let w = a.words.trim_end();
            w.ends_with('g') || w.ends_with("grams")
        };
        out.sort_by_key(|a| !mass(a));
        out
    }

    /// '5–4 cups' as '4–5 cups'.
    pub(super) fn swapped(&self) -> Option<Answer> {
        let shown = self.shown();
        let unit = |s: &str| {
            s.rfind(|c: char| c.is_numeric()).map_or(s.len(), |i| {
                i + s[i..].chars().next().map_or(0, char::len_utf8)
            })
        };
        for divider in ["–", "—", "-", " to ", " or "] {
            let Some((left, right)) = shown.split_once(divider) else {
                continue;
            };
            let end = unit(right);
            let (right, rest) = (right[..end].trim(), &right[end..]);
            // '5 cups to 4 cups': the unit goes with its number.
            let left_end = unit(left);
            let (left, first) = (left[..left_end].trim(), left[left_end..].trim_end());
            let words = format!("{right}{first}{divider}{left}{rest}");
            let text = self.replaced(&words)?;
            return Some(self.read_as(words, text));
        }
        None
    }
}
