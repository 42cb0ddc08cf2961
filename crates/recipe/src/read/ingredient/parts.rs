//! Parts of a fruit or an egg that are listed by themselves: 'juice of 1 lemon', '2 limes, zest and 60 ml juice'.

use super::super::amount::{Walk, is_measured};
use super::super::lex::Kind;
use super::super::words::Word;
use super::Reader;
use super::amounts::one;
use super::list::split_and;
use crate::line::{Amount, Item, Purpose, Role};
use larder::{Certainty, Match};
use quantity::Unit;
use std::ops::Range;

impl Reader<'_> {
    /// 'juice of 1 lemon', 'whites of 3 eggs', 'zest and juice of 1 lime', 'zest of 1 orange and 1 lemon'.
    pub(super) fn parts_of(&self, walk: &mut Walk<'_>, before: &[Amount]) -> Option<Vec<Item>> {
        let text = walk.text;
        walk.attempt(|w| {
            let start = w.peek()?.start;
            if before.iter().any(is_measured) {
                return None;
            }
            let mut parts: Vec<&str> = Vec::new();
            let (mut steps, mut of) = (0, false);
            loop {
                let t = w.peek()?;
                if t.kind != Kind::Word {
                    if matches!(t.kind, Kind::Sign('&' | ',')) && !parts.is_empty() {
                        w.at += 1;
                        continue;
                    }
                    break;
                }
                let lower = w.str(t).to_ascii_lowercase();
                if let Some(p) = PARTS.iter().find(|p| **p == lower) {
                    parts.push(p);
                } else if matches!(lower.as_str(), "of" | "from") && !parts.is_empty() {
                    of = true;
                    w.at += 1;
                    break;
                } else if !matches!(
                    lower.as_str(),
                    "the"
                        | "finely"
                        | "freshly"
                        | "grated"
                        | "strained"
                        | "squeezed"
                        | "and"
                        | "fresh"
                ) {
                    // 'yolks 6 eggs' and 'grated rind ½ lemon' leave out the 'of'.
                    break;
                }
                w.at += 1;
                steps += 1;
                if steps > 8 {
                    return None;
                }
            }
            if parts.is_empty() {
                return None;
            }
            let mut amount = match w.amount(Role::Main) {
                Some(a) if a.unit.is_none() || a.unit == Some(Unit::Count) => a,
                Some(_) => return None,
                None => {
                    // 'juice of a lemon', 'juice of lemon'
                    let t = w.peek()?;
                    let article = matches!(w.word_at(0), Some(Word::Article));
                    w.at += usize::from(article);
                    if !of || !article && before.is_empty() {
                        return None;
                    }
                    before
                        .first()
                        .cloned()
                        .unwrap_or_else(|| one(t.start..t.end))
                }
            };
            let mut items = Vec::new();
            loop {
                if matches!(w.word_at(0), Some(Word::Article)) {
                    w.at += 1;
                }
                (amount.unit, amount.bare) = (Some(Unit::Count), false);
                let next = self.further_fruit(w, &parts);
                let end = next.as_ref().map_or(text.len(), |n| n.0);
                let from = w.peek()?.start;
                items.extend(self.of_a_fruit(
                    text,
                    start,
                    from..end,
                    &parts,
                    std::slice::from_ref(&amount),
                )?);
                let Some((_, at, own)) = next else { break };
                w.at = at;
                let Some(own) = own else { return Some(items) };
                amount = own;
            }
            while w.peek().is_some() {
                w.at += 1;
            }
            Some(items)
        })
    }

    /// 'Zest and 100 ml juice of 2 lemons', '2 limes, zest and 60 ml juice': the parts of one fruit, each with the
    /// measure that stands before it, else that of as many as the line counts.
    ///
    /// # Returns
    /// `None` where the line says anything else, and where neither part is measured.
    pub(super) fn parts_measured(&self, walk: &mut Walk<'_>) -> Option<Vec<Item>> {
        let text = walk.text;
        walk.attempt(|w| {
            let from = w.peek()?.start;
            let lower = text[from..].to_ascii_lowercase();
            let peel = ["zest", "rind", "peel"].iter().any(|p| lower.contains(p));
            if !peel || !lower.contains("juice") {
                return None;
            }
            let mut fruit: Option<Range<usize>> = None;
            let mut count: Option<Amount> = None;
            let mut parts: Vec<(&str, Vec<Amount>)> = Vec::new();
            // Measures that no part has taken yet.
            let mut open: Vec<Amount> = Vec::new();
            while let Some(t) = w.peek() {
                let twin = !open.is_empty() && matches!(w.sign(0), Some('(' | '/'));
                if t.kind != Kind::Word && matches!(t.kind, Kind::Sign(c) if "(),;/&+".contains(c))
                {
                    w.at += 1;
                    if !twin {
                        continue;
                    }
                }
                let said = w.peek().map_or("", |t| w.str(t)).to_ascii_lowercase();
                if let Some(a) = w.amount(if twin { Role::Twin } else { Role::Main }) {
                    if is_measured(&a) && (twin || open.is_empty()) {
                        open.push(a);
                    } else if !is_measured(&a) && count.is_none() {
                        count = Some(a);
                    } else {
                        return None;
                    }
                } else if let Some(part) = part_said(&said) {
                    if !matches!(part, "zest" | "juice") || parts.iter().any(|p| p.0 == part) {
                        return None;
                    }
                    parts.push((part, std::mem::take(&mut open)));
                    w.at += 1;
                } else if AROUND.contains(&said.as_str()) {
                    w.at += 1;
                } else if matches!(w.word_at(0), Some(Word::Article)) && count.is_none() {
                    count = Some(one(t.start..t.end));
                    w.at += 1;
                } else {
                    let named = self.fruit_named(w)?;
                    let of_a_part = w.peek().is_some_and(|t| PARTS.contains(&w.str(t)));
                    let same = |f: &Range<usize>| {
                        self.noun(&text[f.clone()]) == self.noun(&text[named.clone()])
                    };
                    if !open.is_empty() && !of_a_part || !fruit.iter().all(same) {
                        return None;
                    }
                    fruit = Some(named);
                }
            }
            let fruit = fruit.filter(|_| open.is_empty() && parts.len() == 2)?;
            if parts.iter().all(|p| p.1.is_empty()) {
                return None;
            }
            let counted = |mut a: Amount| {
                (a.unit, a.bare) = (Some(Unit::Count), false);
                a
            };
            let count: Vec<Amount> = count.map(counted).into_iter().collect();
            let mut items = Vec::new();
            for (part, own) in parts {
                let amounts = if own.is_empty() { count.clone() } else { own };
                let mut made = self.of_a_fruit(text, from, fruit.clone(), &[part], &amounts)?;
                for item in &mut made {
                    item.name = from..text.trim_end().len();
                }
                items.append(&mut made);
            }
            Some(items)
        })
    }

    /// The words of a fruit whose zest and juice are foods, from here on.
    fn fruit_named(&self, walk: &mut Walk<'_>) -> Option<Range<usize>> {
        let start = walk.peek()?.start;
        let mut end = start;
        while let Some(t) = walk.peek().filter(|t| t.kind == Kind::Word) {
            let said = walk.str(t).to_ascii_lowercase();
            let other = PARTS.contains(&said.as_str()) || AROUND.contains(&said.as_str());
            if other {
                break;
            }
            end = t.end;
            walk.at += 1;
        }
        let noun = self.noun(walk.text.get(start..end)?)?;
        let is = |p: &str| {
            self.larder
                .names()
                .is_name(&format!("{noun} {p}"), self.locale)
        };
        (is("zest") && is("juice")).then_some(start..end)
    }

    /// The larder's name for words that are known in full.
    fn noun(&self, words: &str) -> Option<&str> {
        let found = self.larder.find(words, self.locale)?;
        let known = found.certainty == Certainty::Sure && found.unknown.is_empty();
        known.then(|| self.larder.food(found.food).name.as_str())
    }

    /// The parts of one fruit or egg as items.
    fn of_a_fruit(
        &self,
        text: &str,
        start: usize,
        named: Range<usize>,
        parts: &[&str],
        amounts: &[Amount],
    ) -> Option<Vec<Item>> {
        let words = &text[named.clone()];
        let words = words.split([',', ';', '(']).next().unwrap_or(words);
        let whole = self.larder.find(words, self.locale)?;
        let noun = &self.larder.food(whole.food).name;
        let span = start..named.start + whole.span.end;
        let item = |p: &&str| {
            let found = self
                .larder
                .find(&format!("{noun} {}", single(p)), self.locale)?;
            Some(Item {
                amounts: amounts.to_vec(),
                name: span.clone(),
                food: Some(Match {
                    span: span.clone(),
                    ..found
                }),
                alternatives: Vec::new(),
                strangers: Vec::new(),
                qualities: self.larder.names().qualities(words),
                purpose: Purpose::Formula,
                reference: None,
                optional: false,
                own_grams: std::collections::BTreeMap::new(),
            })
        };
        parts.iter().map(item).collect()
    }

    /// Where the next item begins behind this fruit: the end of what is said of this one, the token to go on
    /// from, and the number where it is another fruit of the same parts ('and 1 lemon').
    fn further_fruit(
        &self,
        walk: &mut Walk<'_>,
        parts: &[&str],
    ) -> Option<(usize, usize, Option<Amount>)> {
        let back = walk.at;
        let from = walk.peek().map_or(0, |t| t.start);
        let mut found = None;
        let mut depth = 0;
        while let Some(t) = walk.peek() {
            let at = walk.at;
            match t.kind {
                Kind::Sign('(' | '[') => depth += 1,
                Kind::Sign(')' | ']') => depth -= 1,
                _ => {}
            }
            let joins = matches!(t.kind, Kind::Sign(',' | ';' | '&' | '+'))
                || matches!(walk.word_at(0), Some(Word::And | Word::Plus));
            walk.at += 1;
            if !joins || depth > 0 || at == back {
                continue;
            }
            while matches!(walk.word_at(0), Some(Word::And | Word::Plus)) {
                walk.at += 1;
            }
            let next = walk.at;
            if let Some(a) = walk.amount(Role::Main) {
                let counted = a.unit.is_none() || a.unit == Some(Unit::Count);
                let rest = &walk.text[walk.behind().max(a.span.end)..];
                let fruit = rest.split([',', ';', '(']).next().unwrap_or(rest);
                let fruit = split_and(fruit).map_or(fruit, |(head, _)| &fruit[head]);
                let same = counted
                    && self.larder.find(fruit, self.locale).is_some_and(|m| {
                        let noun = &self.larder.food(m.food).name;
                        let is = |p: &&str| {
                            let words = format!("{noun} {}", single(p));
                            self.larder.names().is_name(&words, self.locale)
                        };
                        parts.iter().all(is)
                    });
                if same {
                    found = Some((t.start, walk.at, Some(a)));
                    break;
                }
                if self.follows_name(walk, &a) {
                    found = Some((t.start, next, None));
                    break;
                }
            } else if self.is_listed_food(walk, &walk.text[from..t.start]) {
                found = Some((t.start, next, None));
                break;
            }
            walk.at = next;
        }
        walk.at = back;
        found
    }
}

/// Parts of fruit, eggs and pods.
const PARTS: [&str; 10] = [
    "juice", "zest", "rind", "peel", "white", "whites", "yolk", "yolks", "seeds", "pulp",
];

/// Stands around a fruit's parts and says nothing of how much.
const AROUND: [&str; 17] = [
    "and", "both", "coarsely", "finely", "fresh", "freshly", "from", "grated", "its", "of", "only",
    "pared", "plus", "squeezed", "strained", "the", "their",
];

/// The part that a word is of: 'rind', 'zested'.
fn part_said(word: &str) -> Option<&'static str> {
    if word == "zested" {
        return Some("zest");
    }
    PARTS.into_iter().find(|p| *p == word).map(single)
}

/// Whether a word, in small letters, is of a part of a food.
pub(super) fn is_part_of_a_food(word: &str) -> bool {
    PARTS.contains(&word)
}

/// A part's name as the larder has it.
fn single(part: &str) -> &str {
    match part {
        "rind" | "peel" => "zest",
        "whites" => "white",
        "yolks" => "yolk",
        other => other,
    }
}
