//! From a name and its amounts to the items of a line.

use super::super::words::Word;
use super::Reader;
use super::amounts::vague_before;
use super::heading::is_part_noun;
use super::kinds::part;
use super::list::{blank, blank_denials, split_and, starts_with_food, trim_name, without_optional};
use super::purpose::{purpose_of, says_glaze};
use crate::line::{Amount, Item, Line, Purpose, Reference, Role, Share};
use crate::{Doubt, DoubtCode};
use larder::{Certainty, FoodId, Match};
use quantity::Unit;
use std::ops::Range;

impl Reader<'_> {
    /// Makes the item (or items) of a name.
    pub(super) fn named(
        &self,
        text: &str,
        name: Range<usize>,
        amounts: Vec<Amount>,
        each: bool,
        blanks: &[Range<usize>],
        line: &mut Line,
    ) {
        let name = trim_name(text, name);
        if name.is_empty() && amounts.is_empty() {
            return;
        }
        // The name without the amounts inside it, same length so that spans hold.
        let mut scratch = text[name.clone()].to_owned();
        for span in amounts.iter().map(|a| &a.span).chain(blanks) {
            if span.start >= name.start && span.end <= name.end {
                blank(&mut scratch, span.start - name.start..span.end - name.start);
            }
        }
        blank_denials(&mut scratch);
        if let Some(both) = self.half_of_each(text, &scratch, &name, &amounts, line) {
            line.items.extend(both);
            return;
        }
        let each = each || scratch.to_ascii_lowercase().contains(" each");
        if let Some(items) = self.of_one_noun(text, &scratch, &name, &amounts, each, line) {
            line.items.extend(items);
            return;
        }
        if let Some(both) = self.zest_and_juice(text, &scratch, &name, &amounts, line) {
            line.items.extend(both);
            return;
        }
        if let Some(items) = self.several(text, &scratch, &name, &amounts, each, line) {
            line.items.extend(items);
            return;
        }
        if let Some((left, right)) = split_and(&scratch) {
            let whole = self.larder.find(&scratch, self.locale);
            let l = self.larder.find(&scratch[left.clone()], self.locale);
            let r = self.larder.find(&scratch[right.clone()], self.locale);
            if let (Some(l), Some(r)) = (&l, &r)
                && l.food != r.food
                && whole.is_none_or(|w| w.span.end <= left.end || w.span.start >= right.start)
                && r.certainty != Certainty::Near
                && !self.larder.names().is_remark(&scratch[right.clone()])
                && !self.larder.names().is_remark(&scratch[left.clone()])
                && starts_with_food(&scratch[right.clone()], r)
            {
                let shared = !amounts.is_empty();
                let a = name.start + left.start..name.start + left.end;
                let b = name.start + right.start..name.start + right.end;
                let mut first = self.item(text, &scratch[left], a, amounts.clone(), line);
                let second = self.item(text, &scratch[right], b, Vec::new(), line);
                // 'tartare sauce and lemon wedges, to serve'
                if !shared && second.purpose == Purpose::Serving {
                    first.purpose = Purpose::Serving;
                }
                if shared {
                    line.doubts.push(
                        Doubt::new(
                            DoubtCode::SharedAmount,
                            format!(
                                "one amount stands before '{}' and '{}': it is counted for the first; give each its own",
                                &text[first.name.clone()], &text[second.name.clone()]
                            ),
                        )
                        .at(name),
                    );
                }
                line.items.push(first);
                line.items.push(second);
                return;
            }
        }
        let mut item = self.item(text, &scratch, name, amounts, line);
        self.screen_additions(text, blanks, &mut item);
        line.items.push(item);
    }

    /// '1 lemon, zest and juice' is both, 'juice and zest of half' half of the zest.
    fn zest_and_juice(
        &self,
        text: &str,
        scratch: &str,
        name: &Range<usize>,
        amounts: &[Amount],
        line: &mut Line,
    ) -> Option<[Item; 2]> {
        const AROUND: [&str; 16] = [
            "zest", "zested", "rind", "juice", "juiced", "and", "the", "its", "finely", "grated",
            "of", "both", "only", "strained", "all", "half",
        ];
        let (fruit, rest) = scratch.split_once([',', '(', ';'])?;
        let rest = rest.to_ascii_lowercase();
        let mut said = rest
            .split(|c: char| !c.is_alphabetic())
            .filter(|w| !w.is_empty());
        let all = said.all(|w| AROUND.contains(&w));
        let zest = rest.contains("zest") || rest.contains("rind");
        let counted = amounts
            .iter()
            .any(|a| a.bare || a.unit == Some(Unit::Count));
        if !all || !zest || !rest.contains("juice") || !counted {
            return None;
        }
        let whole = self.larder.find(fruit, self.locale)?;
        let noun = &fruit[whole.span.clone()];
        let names = ["zest", "juice"].map(|part| format!("{noun} {part}"));
        if !names
            .iter()
            .all(|n| self.larder.names().is_name(n, self.locale))
        {
            return None;
        }
        let span = name.start + whole.span.start..name.start + whole.span.end;
        let halved = rest.find("of half").map(|at| {
            let at = |w: &str| rest[..at].rfind(w);
            if at("zest").max(at("rind")) > at("juice") {
                "zest"
            } else {
                "juice"
            }
        });
        Some(names.map(|words| {
            let half = halved.is_some_and(|part| words.ends_with(part));
            let mut amounts = part(amounts, if half { 2.0 } else { 1.0 });
            for a in amounts.iter_mut().filter(|a| a.bare) {
                (a.bare, a.unit) = (false, Some(Unit::Count));
            }
            let mut item = self.item(text, &words, name.clone(), amounts, line);
            if let Some(m) = item.food.as_mut() {
                m.span = span.clone();
            }
            item
        }))
    }

    /// What is added to a second choice ('or milk plus 1 tbsp malt vinegar') weighs nothing here,
    /// but what may hold gluten is still screened.
    fn screen_additions(&self, text: &str, blanks: &[Range<usize>], item: &mut Item) {
        for words in blanks.iter().filter_map(|b| text.get(b.clone())) {
            if words.starts_with(|c: char| c.is_numeric()) {
                continue;
            }
            let cut = words.find(' ').unwrap_or(words.len());
            if let Some(m) = self.larder.find(&words[cut..], self.locale)
                && self.larder.food(m.food).gluten != larder::Gluten::Free
                && !item.alternatives.contains(&m.food)
            {
                item.alternatives.push(m.food);
            }
        }
    }

    pub(super) fn item(
        &self,
        text: &str,
        words: &str,
        name: Range<usize>,
        mut amounts: Vec<Amount>,
        line: &mut Line,
    ) -> Item {
        // ASCII only: places in it are places in the words.
        let lower = words.to_ascii_lowercase();
        let larder = self.larder;
        let (mut alternatives, mut strange) = (Vec::new(), Vec::new());
        let shift = |m: Match| Match {
            span: name.start + m.span.start..name.start + m.span.end,
            unknown: m
                .unknown
                .iter()
                .map(|r| name.start + r.start..name.start + r.end)
                .collect(),
            ..m
        };
        let mut reference = self.reference(&lower, &name, &amounts);
        // 'a little of the syrup' is not all of it.
        if let Some(r) = reference.as_mut()
            && amounts.is_empty()
            && vague_before(text, name.start).is_some()
        {
            r.share = Share::Amount;
        }
        let mut food = None;
        if reference.is_none() {
            food = self.found(words);
            if let Some(choices) = self.choices(words, food.as_ref()) {
                (food, alternatives, strange) = (choices.food, choices.others, choices.strange);
                if !alternatives.is_empty() {
                    let named = |f: FoodId| larder.food(f).name.as_str();
                    let others: Vec<&str> = alternatives.iter().map(|f| named(*f)).collect();
                    let verb = if others.len() == 1 { "is" } else { "are" };
                    let thing = words.split(['(', '[']).next().unwrap_or(words).trim();
                    line.doubts.push(
                        Doubt::new(
                            DoubtCode::Alternative,
                            format!(
                                "the line offers a choice: {} is counted, {} {verb} screened too",
                                food.as_ref().map_or(thing, |m| named(m.food)),
                                others.join(" and "),
                            ),
                        )
                        .at(name.clone()),
                    );
                }
            }
        }
        // '1 lemon, juice only', '6 eggs, whites only'.
        if let Some(m) = &food {
            let counted = amounts
                .iter()
                .any(|a| a.bare || a.unit == Some(Unit::Count));
            for (say, part) in [
                ("juice only", "juice"),
                ("juiced", "juice"),
                ("zest only", "zest"),
                ("zested", "zest"),
                ("rind only", "zest"),
                ("whites only", "white"),
                ("white only", "white"),
                ("yolks only", "yolk"),
                ("yolk only", "yolk"),
            ] {
                let both = lower.contains("zest") && lower.contains("juice");
                if counted && lower.contains(say) && !both {
                    let noun = words[m.span.clone()].to_owned();
                    if let Some(f) = larder.find(&format!("{noun} {part}"), self.locale)
                        && f.certainty == Certainty::Sure
                    {
                        food = Some(Match {
                            span: m.span.clone(),
                            ..f
                        });
                    }
                    break;
                }
            }
        }
        // '3 garlic cloves', '4 bacon rashers', '2 rosemary sprigs': the piece behind the name.
        if let (Some(m), Some(a)) = (&food, amounts.iter_mut().find(|a| a.bare)) {
            let behind = words[m.span.end.min(words.len())..].trim_start();
            let inside = words[m.span.clone()]
                .split_whitespace()
                .last()
                .unwrap_or("");
            for word in [
                behind
                    .split(|c: char| !c.is_alphabetic())
                    .next()
                    .unwrap_or(""),
                inside,
            ] {
                if let Some(Word::Unit(u)) = self.words.get(&word.to_ascii_lowercase())
                    && matches!(u.unit, Some(Unit::Clove | Unit::Slice | Unit::Sprig))
                    && larder
                        .measure(m.food, u.unit.map_or("", Unit::code), larder::State::Usual)
                        .is_some()
                {
                    a.unit = u.unit;
                    a.bare = false;
                    break;
                }
            }
        }
        let piece_food = food.as_ref().map(|m| m.food);
        // '1 frail raisins': a word nobody knows between one and a plural is a measure.
        let measure = food.as_ref().and_then(|m| {
            let plural = words.get(m.span.clone())?.ends_with('s');
            let unknown = m.unknown.iter().find(|u| u.end <= m.span.start)?;
            plural.then(|| words.get(unknown.clone()).unwrap_or("").to_lowercase())
        });
        let sized = amounts.iter().any(|a| a.role == Role::Size);
        for a in amounts.iter_mut().filter(|a| a.bare) {
            if a.high <= 1.0
                && let Some(word) = &measure
            {
                a.bare = false;
                a.loose = Some(word.clone());
                continue;
            }
            let counted = match piece_food {
                Some(_) if sized => true,
                Some(f) => {
                    larder
                        .weigh(f, Unit::Count, None, larder::State::Usual, self.locale)
                        .is_some()
                        || larder.measures(f).is_empty()
                }
                None => reference.is_none() && a.low.fract() == 0.0,
            };
            if counted {
                a.unit = Some(Unit::Count);
            }
            a.bare = !counted;
        }
        // 'butter, plus a knob for the tin': the only amount is aside.
        let aside = !amounts.is_empty() && amounts.iter().all(|a| a.aside);
        let behind = if aside {
            text.get(name.start..)
                .unwrap_or_default()
                .to_ascii_lowercase()
        } else {
            String::new()
        };
        let purpose = if aside {
            match purpose_of(&behind, false) {
                Purpose::Formula => Purpose::Dusting,
                other => other,
            }
        } else {
            purpose_of(
                &lower,
                amounts.iter().any(|a| a.role == Role::Main && !a.aside),
            )
        };
        // 'egg yolk, for the glaze' is brushed on; 'icing sugar, for the glaze' is the glaze.
        let glazes = purpose == Purpose::Formula
            && !aside
            && says_glaze(&lower)
            && food.as_ref().is_some_and(|m| self.brushes(m.food));
        let purpose = if glazes { Purpose::Brushing } else { purpose };
        let nobody_knows = food.is_none() && reference.is_none();
        let mut name_of_it = without_optional(text, name.clone());
        if nobody_knows {
            name_of_it = self.without_remarks(text, name_of_it);
        }
        Item {
            amounts,
            qualities: larder.names().qualities(words),
            food: food.map(shift),
            alternatives,
            strangers: strange
                .into_iter()
                .map(|r| name.start + r.start..name.start + r.end)
                .collect(),
            purpose,
            reference,
            optional: lower.contains("optional")
                || text.to_ascii_lowercase().starts_with("optional"),
            own_grams: std::collections::BTreeMap::new(),
            name: name_of_it,
        }
    }

    /// A name without what is done with it behind its commas: of 'beef skirt, trimmed, diced' 'beef skirt'.
    fn without_remarks(&self, text: &str, name: Range<usize>) -> Range<usize> {
        let mut end = name.end;
        while let Some(comma) = text[name.start..end].rfind(',') {
            let piece = &text[name.start + comma + 1..end];
            let remark =
                !piece.contains(['(', ')', '[', ']']) && self.larder.names().is_remark(piece);
            if comma == 0 || !remark {
                break;
            }
            end = name.start + comma;
        }
        trim_name(text, name.start..end)
    }

    /// Whether a name is in brackets that tell what a thing nobody knows is made of: 'zingo mix (mustard,
    /// celery)' is no mustard. What has an amount of its own there is an ingredient.
    fn is_made_of(&self, words: &str, at: &Range<usize>) -> bool {
        let open = words[..at.start].rfind(['(', '[']);
        let Some(open) = open.filter(|o| !words[*o..at.end].contains([')', ']'])) else {
            return false;
        };
        let (thing, inside) = (words[..open].trim(), &words[open + 1..]);
        let inside = inside.split([')', ']']).next().unwrap_or(inside);
        let lists = ["contain", "with ", "made "];
        let said = inside.trim_start();
        let lists = inside.contains(',') || lists.iter().any(|l| said.starts_with(l));
        // Amounts are blanked.
        let weighed = inside.starts_with("   ");
        let named = thing.contains(char::is_alphabetic) && !self.larder.names().is_remark(thing);
        lists && named && !weighed
    }

    /// The food of a name. 'Butter, browned' is weighed before it is browned; 'rice' before a word
    /// nobody knows may be something made of rice, of another weight.
    fn found(&self, words: &str) -> Option<Match> {
        let m = self.larder.find(words, self.locale)?;
        if self.is_made_of(words, &m.span) {
            return None;
        }
        let matched = words.get(m.span.clone()).unwrap_or("");
        if self.larder.food(m.food).key == "brown_butter"
            && let Some((butter, _)) = words.split_once(',')
        {
            return self.larder.find(butter, self.locale);
        }
        let compound = m.unknown.iter().any(|u| {
            let between = words.get(m.span.end..u.start);
            between.is_some_and(|b| !b.is_empty() && b.trim().is_empty())
        });
        (!compound || !matched.eq_ignore_ascii_case("rice")).then_some(m)
    }

    /// A use of another component.
    pub(super) fn reference(
        &self,
        lower: &str,
        name: &Range<usize>,
        amounts: &[Amount],
    ) -> Option<Reference> {
        let mut rest = lower.trim_start();
        let mut share = None;
        let mut determined = false;
        let strip = |s: &mut &str, p: &str| {
            let hit = s.strip_prefix(p).map(str::trim_start);
            if let Some(r) = hit {
                *s = r;
            }
            hit.is_some()
        };
        for (word, is) in [
            ("remaining ", Share::Rest),
            ("the remaining ", Share::Rest),
            ("rest of ", Share::Rest),
            ("the rest of ", Share::Rest),
            ("leftover ", Share::Rest),
            ("reserved ", Share::Rest),
            ("the reserved ", Share::Rest),
            ("all of ", Share::Part(1.0)),
            ("all the ", Share::Part(1.0)),
            ("all ", Share::Part(1.0)),
        ] {
            if strip(&mut rest, word) {
                share = Some(is);
                determined = true;
                break;
            }
        }
        let of = strip(&mut rest, "of ");
        let the = strip(&mut rest, "the ");
        determined |= the;
        let loose = amounts.iter().any(|a| {
            matches!(
                a.loose.as_deref(),
                Some("batch" | "quantity" | "recipe" | "portion" | "batches")
            )
        });
        determined |= loose;
        let part = amounts.iter().any(|a| a.unit.is_none() && a.low < 1.0);
        if !(determined || of && part) {
            return None;
        }
        let noun = rest.split([',', '(', ';']).next().unwrap_or(rest).trim();
        let noun = noun.split(" from ").next().unwrap_or(noun);
        let noun = noun.split(" for ").next().unwrap_or(noun).trim();
        // Nobody writes 'half a quantity of jam' of what is bought.
        let made = amounts.iter().any(|a| {
            matches!(
                a.loose.as_deref(),
                Some("batch" | "batches" | "quantity" | "recipe")
            )
        });
        let component = made || noun.split_whitespace().any(is_part_noun);
        // 'the butter' is butter, unless this recipe has such a component; 'the crumbs' is one.
        let food = self.larder.names().is_name(noun, self.locale);
        if noun.is_empty()
            || (!component && food)
            || (!component && !loose && self.larder.find(noun, self.locale).is_some())
        {
            return None;
        }
        let share = share.unwrap_or_else(|| match amounts.first() {
            Some(a) if loose => Share::Part(a.middle()),
            // 'a spoonful of the syrup' is not all of it.
            Some(a) if a.loose.is_some() => Share::Amount,
            Some(a) if a.unit.is_none() => Share::Part(a.middle()),
            Some(_) => Share::Amount,
            None => Share::Part(1.0),
        });
        let at = lower.find(noun).unwrap_or(0);
        let span = name.start + at..(name.start + at + noun.len()).min(name.end);
        Some(Reference {
            name: noun.to_owned(),
            share,
            span,
        })
    }
}
