//! Kinds that share one noun: 'plain, rice or corn flour' names three flours.

use super::Reader;
use super::list::{blank, trim_name, word_spans};
use crate::line::{Amount, Item, Line};
use crate::{Doubt, DoubtCode};
use larder::{Allergen, Certainty, FoodId, Function, Gluten, Match};
use std::ops::Range;

/// Nouns that stand once, behind all their kinds.
const NOUNS: [&str; 4] = ["flour", "flours", "starch", "starches"];

/// Words before all kinds: '50/50 mix of plain and rice flour', 'either rye or spelt flour'.
pub(super) const MIXED: [&str; 5] = ["mix of ", "mixture of ", "blend of ", "split of ", "of "];
const EITHER: &str = "either ";

/// Words of one flour's look rather than its kind: 'organic and fine rice flour'.
const LOOKS: [&str; 3] = ["organic", "unbleached", "fine"];

/// Words of what a flour is for or looks like, that name no grain: 'gluten-free' before the first of
/// several holds for each of them.
const NO_GRAIN: [&str; 11] = [
    "plain",
    "strong",
    "bread",
    "white",
    "self-raising",
    "self raising",
    "self-rising",
    "self rising",
    "all-purpose",
    "cake",
    "pastry",
];
const LABELS: [&str; 3] = ["gluten-free ", "gluten free ", "gf "];
const ANY_FREE: &str = "gluten-free flour";

fn is_labelled(words: &str) -> bool {
    LABELS.iter().any(|l| words.starts_with(l))
}

/// A kind behind a first one that is labelled, with the label; `None` where it names a grain.
fn labelled(first: &str, said: &str) -> Option<String> {
    let label = LABELS.iter().find(|l| first.starts_with(**l))?;
    let bare = said.trim_end_matches(|c: char| c.is_alphabetic());
    let bare = if is_noun(said) { bare.trim_end() } else { said };
    NO_GRAIN.contains(&bare).then(|| format!("{label}{said}"))
}

/// What stands between two kinds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Joint {
    And,
    Or,
    Comma,
}

/// What joins two kinds, the longer first.
const JOINTS: [(&str, Joint); 12] = [
    (", and/or ", Joint::And),
    (" and/or ", Joint::And),
    (", and ", Joint::And),
    (", or ", Joint::Or),
    (" and ", Joint::And),
    (" plus ", Joint::And),
    (" or ", Joint::Or),
    (" & ", Joint::And),
    (" + ", Joint::And),
    ("/", Joint::Or),
    (", ", Joint::Comma),
    (",", Joint::Comma),
];

/// A kind, where it stands in the name, and its words with the noun.
#[derive(Debug, Clone, PartialEq)]
struct Kind {
    at: Range<usize>,
    words: String,
    food: FoodId,
}

/// Kinds of one noun.
struct Kinds {
    kinds: Vec<Kind>,
    choice: bool,
    /// Where the noun ends.
    end: usize,
}

/// An equal part of each amount.
pub(super) fn part(amounts: &[Amount], parts: f64) -> Vec<Amount> {
    let part = |a: &Amount| Amount {
        low: a.low / parts,
        high: a.high / parts,
        ..a.clone()
    };
    amounts.iter().map(part).collect()
}

fn is_noun(word: &str) -> bool {
    NOUNS.iter().any(|n| word.ends_with(n))
}

/// The pieces of a text up to a place between its joints, and the joints.
fn pieces(text: &str, to: usize) -> (Vec<Range<usize>>, Vec<Joint>) {
    let (mut pieces, mut joints) = (Vec::new(), Vec::new());
    let (mut start, mut at) = (0, 0);
    while at < to {
        let rest = &text[at..to];
        match JOINTS.iter().find(|(j, _)| rest.starts_with(j)) {
            Some((joint, is)) => {
                pieces.push(trim_name(text, start..at));
                joints.push(*is);
                at += joint.len();
                start = at;
            }
            None => at += rest.chars().next().map_or(1, char::len_utf8),
        }
    }
    pieces.push(trim_name(text, start..to));
    (pieces, joints)
}

impl Reader<'_> {
    /// The food of words that are nothing but a flour's or a starch's name.
    fn kind(&self, words: &str) -> Option<FoodId> {
        let m = self.larder.find(words, self.locale)?;
        let whole = m.span == (0..words.len()) && m.unknown.is_empty();
        let sure = m.certainty == Certainty::Sure && whole;
        let flour = |food: FoodId| self.larder.food(food).is_flour_phase();
        if sure || !is_labelled(words) || words == ANY_FREE {
            return (sure && flour(m.food)).then_some(m.food);
        }
        // Blends for one use are few: 'gluten-free strong flour' is a blend. One that raises is not.
        let bare = words.trim_end_matches("flour").trim_end();
        let first = LABELS.iter().find_map(|l| bare.strip_prefix(l))?;
        let blend = NO_GRAIN.contains(&first) && !first.starts_with("self");
        self.kind(ANY_FREE).filter(|_| blend)
    }

    fn grains(&self, food: FoodId) -> Vec<Allergen> {
        let allergens = self.larder.food(food).allergens.iter();
        allergens.filter(|(_, maybe)| !maybe).map(|a| a.0).collect()
    }

    /// The kinds of a name, up to its last noun that has some before it.
    fn kinds(&self, name: &str) -> Option<Kinds> {
        // 'Plain (or rice) flour'. Signs of one byte: all places stay.
        let lower = name.to_ascii_lowercase();
        let lower = self.without_mixed(&lower.replace(['(', ')', '[', ']'], " "));
        let words = word_spans(&lower);
        let nouns = words.into_iter().filter(|w| is_noun(&lower[w.clone()]));
        let nouns: Vec<Range<usize>> = nouns.collect();
        nouns
            .into_iter()
            .rev()
            .find_map(|noun| self.kinds_before(&lower, noun))
    }

    /// A name without 'a mix of', 'either' and what is no food before them: all places stay. What is one, is
    /// the first of the kinds: 'plain flour, or a mix of rice and maize flour'.
    fn without_mixed(&self, name: &str) -> String {
        let mut out = name.to_owned();
        if name.starts_with(EITHER) {
            blank(&mut out, 0..EITHER.len());
        }
        let begins = |at: usize| !name[..at].ends_with(char::is_alphanumeric);
        let places = MIXED.iter().flat_map(|w| name.match_indices(w));
        for (at, words) in places.filter(|(at, _)| begins(*at)) {
            let before = &name[..at];
            let said = || before.split(|c: char| !c.is_alphabetic());
            let joined = before.contains([',', '&', '+'])
                || said().any(|w| matches!(w, "or" | "and" | "plus"));
            // 'Flour (a mix of rye and rice flour)' says no kind before it.
            let bare = said().all(|w| w.is_empty() || w == "a" || NOUNS.contains(&w));
            let food = joined || !bare && self.larder.find(before, self.locale).is_some();
            let article = [" a ", " an "].iter().find(|a| before.ends_with(**a));
            let from = if food {
                at - article.map_or(0, |a| a.len() - 1)
            } else {
                0
            };
            blank(&mut out, from..at + words.len());
        }
        out
    }

    /// The kinds before a noun; `None` where there are no two.
    fn kinds_before(&self, name: &str, noun: Range<usize>) -> Option<Kinds> {
        let stands_alone = NOUNS.contains(&&name[noun.clone()]);
        let end = if stands_alone { noun.start } else { noun.end };
        if name[..end].contains([';', ':']) {
            return None;
        }
        let (pieces, joints) = pieces(name, end);
        let (last, before) = pieces.split_last()?;
        if before.is_empty() || last.is_empty() {
            return None;
        }
        let word = if stands_alone {
            &name[noun.clone()]
        } else {
            NOUNS.iter().find(|n| name[noun.clone()].ends_with(**n))?
        };
        let said = &name[last.clone()];
        let said = labelled(&name[before[0].clone()], said).unwrap_or(said.to_owned());
        let whole = if stands_alone {
            format!("{said} {word}")
        } else {
            said
        };
        // 'Brown and white rice flour' shares two words, 'plain and white rice flour' one.
        let mut nouns: Vec<&str> = whole
            .match_indices(' ')
            .map(|(n, _)| &whole[n + 1..])
            .collect();
        if nouns.last() != Some(&word) {
            nouns.push(word);
        }
        let kinds = nouns.into_iter().find_map(|noun| {
            let mut kinds = self.each_kind(name, before, &joints, noun)?;
            let food = self.kind(&whole)?;
            kinds.push(Kind {
                at: last.clone(),
                words: whole.clone(),
                food,
            });
            Some(kinds)
        })?;
        let shares = before.iter().any(|p| !is_noun(&name[p.clone()]));
        let choice = joints.contains(&Joint::Or);
        let mut distinct: Vec<Kind> = Vec::new();
        for kind in kinds {
            if !distinct.iter().any(|k| k.food == kind.food) {
                distinct.push(kind);
            }
        }
        // 'Gluten-free plain or strong flour' may be one blend.
        let free = distinct.len() == 1 && is_labelled(&name[before[0].clone()]);
        if !free && (distinct.len() < 2 || !shares && distinct.len() < 3) {
            return None;
        }
        // 'Strong, white flour' is one flour; 'plain, rice flour' would lose its wheat.
        if joints.iter().all(|j| *j == Joint::Comma) {
            let foods = distinct.iter().map(|k| self.larder.food(k.food));
            let holds = foods.clone().any(|f| f.gluten == Gluten::Contains);
            let differ = distinct
                .iter()
                .any(|k| self.grains(k.food) != self.grains(distinct[0].food));
            let labelled = distinct
                .iter()
                .skip(1)
                .any(|k| k.words.starts_with("gluten"));
            if labelled || !holds || !differ {
                return None;
            }
        }
        Some(Kinds {
            kinds: distinct,
            choice,
            end: noun.end,
        })
    }

    /// Each piece with the noun; `None` where one of them is no kind of it.
    fn each_kind(
        &self,
        name: &str,
        pieces: &[Range<usize>],
        joints: &[Joint],
        noun: &str,
    ) -> Option<Vec<Kind>> {
        let mut kinds: Vec<Kind> = Vec::new();
        for (i, piece) in pieces.iter().enumerate() {
            let said = &name[piece.clone()];
            let both = labelled(&name[pieces[0].clone()], said).filter(|_| i > 0);
            let said = both.as_deref().unwrap_or(said);
            let words = if is_noun(said) {
                said.to_owned()
            } else {
                format!("{said} {noun}")
            };
            let looks = LOOKS.contains(&said) || self.larder.names().is_remark(said);
            let Some(food) = self.kind(&words).filter(|_| !LOOKS.contains(&said)) else {
                // 'Strong' says nothing of rice flour, but is a kind of flour.
                if looks && !noun.contains(' ') {
                    continue;
                }
                return None;
            };
            if !is_noun(said) && self.stands_for_itself(said, joints) {
                return None;
            }
            let kind = Kind {
                at: piece.clone(),
                words,
                food,
            };
            // 'Strong, white and rye flour': the first two are one.
            if let Some(had) = kinds.last_mut().filter(|_| joints[i - 1] == Joint::Comma) {
                let both = format!("{} {}", &name[had.at.clone()], kind.words);
                if self.kind(&both) == Some(had.food) && self.grains(had.food) == self.grains(food)
                {
                    (had.at.end, had.words) = (kind.at.end, both);
                    continue;
                }
            }
            kinds.push(kind);
        }
        Some(kinds)
    }

    /// 'Almonds and plain flour' are two foods as they stand.
    fn stands_for_itself(&self, said: &str, joints: &[Joint]) -> bool {
        use Function::{Fruit, Nut, Seed};
        let alone = self.larder.find(said, self.locale);
        alone.is_some_and(|m| {
            let sure = m.certainty == Certainty::Sure && m.unknown.is_empty();
            let whole = matches!(self.larder.food(m.food).function(), Fruit | Nut | Seed);
            sure && (said.ends_with('s') || whole && !joints.contains(&Joint::Or))
        })
    }

    /// The items of a name that lists kinds of one noun: one with the others beside it where the line
    /// offers a choice, else one each with an equal part of the amount.
    ///
    /// # Arguments
    /// * `each` — the amount stands for each of them.
    pub(super) fn of_one_noun(
        &self,
        text: &str,
        scratch: &str,
        name: &Range<usize>,
        amounts: &[Amount],
        each: bool,
        line: &mut Line,
    ) -> Option<Vec<Item>> {
        let found = self.kinds(scratch)?;
        let rest = &scratch[found.end..];
        let span = |at: &Range<usize>| name.start + at.start..name.start + at.end;
        let shown = |k: &Kind| self.larder.food(k.food).name.as_str();
        let (first, others) = found.kinds.split_first()?;
        let last = found.kinds.last()?;
        let at = span(&(first.at.start..last.at.end));
        let item = |kind: &Kind, amounts: Vec<Amount>, line: &mut Line| {
            let words = format!("{}{rest}", kind.words);
            let mut item = self.item(text, &words, span(&kind.at), amounts, line);
            // The noun stands elsewhere.
            item.food = Some(Match {
                food: kind.food,
                certainty: Certainty::Sure,
                span: span(&kind.at),
                unknown: Vec::new(),
                rivals: Vec::new(),
            });
            item
        };
        if others.is_empty() {
            let mut only = item(first, amounts.to_vec(), line);
            if let Some(m) = only.food.as_mut() {
                m.span = span(&(first.at.start..found.end));
            }
            return Some(vec![only]);
        }
        if found.choice && !each {
            let names: Vec<&str> = others.iter().map(shown).collect();
            let (last, before) = names.split_last()?;
            let others_are = match before {
                [] => format!("{last} is"),
                _ => format!("{} and {last} are", before.join(", ")),
            };
            let says = format!(
                "the line offers a choice: {} is counted, {others_are} screened too",
                shown(first),
            );
            line.doubts
                .push(Doubt::new(DoubtCode::Alternative, says).at(at));
            let mut only = item(first, amounts.to_vec(), line);
            only.alternatives.extend(others.iter().map(|k| k.food));
            return Some(vec![only]);
        }
        let parts = found.kinds.len();
        let own = if each {
            amounts.to_vec()
        } else {
            let names: Vec<String> = found
                .kinds
                .iter()
                .map(|k| format!("'{}'", shown(k)))
                .collect();
            let says = match parts {
                2 => format!(
                    "half of the amount is counted for {} and half for {}",
                    names[0], names[1]
                ),
                _ => format!(
                    "an equal part of the amount is counted for each of {}",
                    names.join(", ")
                ),
            };
            line.doubts.push(
                Doubt::new(
                    DoubtCode::SharedAmount,
                    format!("the line does not say how much of each: {says}"),
                )
                .at(at),
            );
            part(amounts, parts as f64)
        };
        let items = found.kinds.iter().map(|k| item(k, own.clone(), line));
        Some(items.collect())
    }
}

#[cfg(test)]
mod tests;
