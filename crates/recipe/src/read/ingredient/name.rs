//! Where a name ends, and the amounts inside it.

use super::super::amount::{Walk, is_measured};
use super::super::lex::Kind;
use super::super::words::Word;
use super::Reader;
use super::amounts::{is_few, starts_with_digit};
use super::halves::says_halves;
use super::list::{find_or, split_and};
use super::parts::is_part_of_a_food;
use super::purpose::{purpose_of, says_glaze};
use crate::line::{Amount, Purpose, Role};
use larder::{Allergen, Certainty, Gluten, State};
use quantity::Unit;
use std::ops::Range;

/// Where a name ends and what was found on the way.
pub(super) struct NameEnd {
    /// The name's bytes.
    pub name: Range<usize>,
    /// The token to go on from.
    pub stop: usize,
    /// Bytes in the name that are amounts of another choice.
    pub blanks: Vec<Range<usize>>,
    /// The item behind it is mixed with this one and is for the same purpose.
    pub shares_purpose: bool,
    /// The item behind it is a flour that this one is rolled in.
    pub strewn: bool,
}

/// Words that name no food without its kind: 'oil, olive'.
const KIND_FOLLOWS: [&str; 14] = [
    "flour",
    "oil",
    "vinegar",
    "essence",
    "extract",
    "flavouring",
    "flavoring",
    "jam",
    "jelly",
    "juice",
    "syrup",
    "starch",
    "stock",
    "seed",
];

impl Reader<'_> {
    /// Whether a food is the first thing a piece of a line names: 'sesame seeds' of '1 egg; sesame seeds'.
    fn opens_with_food(&self, piece: &str) -> bool {
        let piece = piece.split([',', ';', '(']).next().unwrap_or_default();
        let found = self.larder.find(piece.trim_start(), self.locale);
        found.is_some_and(|m| m.certainty == Certainty::Sure && m.span.start == 0)
    }

    /// Whether a piece of a list without amounts is a food of its own: 'salt' of 'nutmeg, salt and pepper', not
    /// 'caster' of 'sugar, caster'.
    fn is_another_food(&self, before: &str, piece: &str) -> bool {
        let piece = piece.split([',', ';', '(']).next().unwrap_or_default();
        let piece = split_and(piece)
            .map_or(piece, |(head, _)| &piece[head])
            .trim();
        let whole = |words: &str| {
            let found = self.larder.find(words, self.locale);
            let sure = found.filter(|m| m.certainty == Certainty::Sure);
            sure.filter(|m| m.span == (0..words.len())).map(|m| m.food)
        };
        let food = whole(piece);
        food.is_some()
            && food != whole(before.trim())
            && self.larder.find(before, self.locale).is_some()
            && whole(&format!("{piece} {}", before.trim())).is_none()
    }

    /// Whether what stands behind a comma is a second food and no word for the first one's kind, though the larder
    /// has a food of both words: '50 g sugar, vanilla' may be two foods, and is no vanilla sugar then. A kind is what
    /// has the whole name in its own words alone ('biscuits, digestive'), one of what is counted ('tomatoes, cherry'),
    /// and what follows a word that says no food without it ('oil, olive'), where no gluten and no allergen of the
    /// first is lost with it.
    fn is_a_second_food(&self, before: &str, piece: &str) -> bool {
        let piece = piece.split([',', ';', '(']).next().unwrap_or_default();
        let (before, piece) = (before.trim(), piece.trim());
        let whole = |words: &str| {
            let found = self.larder.find(words, self.locale);
            let found = found.filter(|m| m.span == (0..words.len()));
            found.map(|m| m.food)
        };
        let (Some(one), Some(other)) = (whole(before), whole(piece)) else {
            return false;
        };
        let joined = self.larder.find(&format!("{before}, {piece}"), self.locale);
        let Some(both) = joined.map(|m| m.food).filter(|both| *both != one) else {
            return false;
        };
        if is_part_of_a_food(&piece.to_lowercase()) {
            return false;
        }
        let [first, made] = [one, both].map(|f| self.larder.food(f));
        let kept = |a: &(Allergen, bool)| made.allergens.iter().any(|b| b.0 == a.0);
        let grain = first.gluten == Gluten::Contains && made.gluten != Gluten::Contains;
        let mut holds = first.allergens.iter().filter(|a| !a.1);
        let last = before.rsplit(' ').next().unwrap_or(before).to_lowercase();
        let counted = self.larder.measure(other, "each", State::Usual).is_some();
        let kind = both == other
            || KIND_FOLLOWS.contains(&last.trim_end_matches('s'))
            || counted && !piece.ends_with('s');
        let inverted = whole(&format!("{piece} {before}")) == Some(both);
        grain || !holds.all(kept) || !(kind && inverted)
    }

    /// Whether a food without a measured amount begins behind a comma of a part in one line: 'sesame seeds' of
    /// 'Glaze: 1 egg, sesame seeds', 'zest of 1 orange'; not 'yolks only', 'soaked in water', 'caster' of 'sugar, caster'.
    pub(super) fn is_listed_food(&self, walk: &mut Walk<'_>, before: &str) -> bool {
        let back = walk.at;
        let part = self.parts_of(walk, &[]).is_some();
        walk.at = back;
        if part {
            return true;
        }
        let rest = walk.peek().map_or("", |t| &walk.text[t.start..]);
        let piece = rest.split([',', ';', '(']).next().unwrap_or_default();
        let piece = split_and(piece).map_or(piece, |(head, _)| &piece[head]);
        let piece = piece.trim_end_matches(['.', ' ']);
        let said = crate::sentences::words(piece);
        let says = |all: &[&str]| said.iter().any(|w| all.contains(&w.as_str()));
        if says(&["with", "in", "into", "for", "to", "from", "or"])
            || said.first().is_some_and(|w| is_part_of_a_food(w))
        {
            return false;
        }
        let sure = |words: &str| {
            let found = self.larder.find(words, self.locale);
            found.filter(|m| m.certainty == Certainty::Sure)
        };
        let joined = format!("{piece} {}", before.trim());
        sure(piece).is_some_and(|food| {
            let other = sure(before).is_none_or(|m| m.food != food.food);
            let one = sure(&joined).is_some_and(|m| m.span.start == 0 && m.span.end > piece.len());
            other && !one
        })
    }

    /// Whether the words behind an amount of a part in one line are a name, known or not: '150 ml zingo', not
    /// '400 g drained'.
    fn names_something(&self, walk: &Walk<'_>, amount: &Amount) -> bool {
        let rest = &walk.text[walk.behind().max(amount.span.end)..];
        let part = rest.split([',', ';', '(', '+']).next().unwrap_or(rest);
        let part = part.trim();
        let lower = part.to_ascii_lowercase();
        let about = [
            "for ", "extra", "more", "or ", "each", "per ", "in ", "drained", "weight", "total",
        ];
        (is_measured(amount) || amount.loose.is_some() || is_few(walk.text, amount))
            && part.starts_with(char::is_alphabetic)
            && !about.iter().any(|w| lower.starts_with(w))
            && self.larder.names().unexplained(part).is_some()
    }

    /// 'Plus the leftover white', 'and an extra yolk': one, of an egg; the words are passed.
    fn part_of_an_egg(&self, walk: &mut Walk<'_>, amounts: &mut Vec<Amount>) -> bool {
        const LEFT: [&str; 8] = [
            "a",
            "an",
            "another",
            "extra",
            "leftover",
            "remaining",
            "reserved",
            "the",
        ];
        let back = walk.at;
        let word = |walk: &Walk<'_>| {
            let t = walk.peek().filter(|t| t.kind == Kind::Word);
            t.map_or(String::new(), |t| walk.str(t).to_ascii_lowercase())
        };
        let from = walk.peek().map_or(0, |t| t.start);
        while LEFT.contains(&word(walk).as_str()) {
            walk.at += 1;
        }
        let part = word(walk);
        let found = matches!(part.as_str(), "white" | "yolk")
            .then(|| self.larder.find(&format!("egg {part}"), self.locale))
            .flatten()
            .filter(|_| walk.at > back);
        let Some(found) = found else {
            walk.at = back;
            return false;
        };
        walk.at += 1;
        amounts.push(Amount {
            role: Role::Plus,
            unit: Some(Unit::Count),
            of: Some(found.food),
            ..Amount::one(from..walk.behind())
        });
        true
    }

    /// Where the name ends: at the end of the line or where another amount with its own name
    /// begins. Twins and sizes inside the name are taken out.
    ///
    /// # Arguments
    /// * `listed` — the line lists the foods of a part: a food behind a comma needs no amount there.
    pub(super) fn name_end(
        &self,
        walk: &mut Walk<'_>,
        amounts: &mut Vec<Amount>,
        listed: bool,
    ) -> NameEnd {
        let mut blanks = Vec::new();
        let (mut shares_purpose, mut strewn) = (false, false);
        let text = walk.text;
        let start = walk.peek().map_or(text.len(), |t| t.start);
        let first = walk.at;
        let mut end = text.trim_end().len();
        let mut stop = walk.tokens.len();
        let mut depth = 0;
        let halved = says_halves(&text[start..]);
        while let Some(t) = walk.peek() {
            let at = walk.at;
            match t.kind {
                Kind::Sign('(' | '[') => {
                    if self.bracket(walk, amounts) {
                        if let Some(first) = amounts.first_mut().filter(|a| a.role != Role::Main) {
                            // 'butter (113 g)': the only amount stands in brackets.
                            first.role = Role::Main;
                        }
                        continue;
                    }
                    depth += 1;
                }
                Kind::Sign(')' | ']') => depth -= 1,
                Kind::Sign(',' | ';' | '–' | '—' | '-' | ':' | '=' | '|' | '/' | '.')
                    if depth <= 0 && at > first =>
                {
                    // ', 125 g' is a twin; ', 1 tsp salt' another item; ', or 1 cup' a choice.
                    walk.at += 1;
                    if matches!(walk.word_at(0), Some(Word::Or)) {
                        continue;
                    }
                    while matches!(walk.word_at(0), Some(Word::And)) {
                        walk.at += 1;
                    }
                    // ', half rye, half spelt': half of the amount before.
                    let next = walk.peek().map(|t| &text[t.start..t.end]);
                    if halved && next.is_some_and(|w| w.eq_ignore_ascii_case("half")) {
                        walk.at = at + 1;
                        continue;
                    }
                    let plus = matches!(walk.word_at(0), Some(Word::Plus));
                    if plus {
                        walk.at += 1;
                        Self::skip_extra(walk);
                    }
                    if let Some(a) = walk.amount(if plus { Role::Plus } else { Role::Twin }) {
                        // A cell that counts: 'Carrots, diced | 2–3'; 'Onions - 2', 'Potatoes - 4 medium'.
                        let counts = t.kind == Kind::Sign('|')
                            || self.counts_behind(walk, &text[start..t.start], &a);
                        if counts && a.bare && amounts.is_empty() {
                            amounts.push(Amount {
                                role: Role::Main,
                                ..a
                            });
                            self.container(walk, amounts);
                            continue;
                        }
                        if (self.follows_name(walk, &a) || listed && self.names_something(walk, &a))
                            && !plus
                            && amounts.iter().any(|a| !a.bare || a.low > 0.0)
                        {
                            end = t.start;
                            stop = at;
                            break;
                        }
                        self.take_inside(walk, a, amounts);
                        if plus {
                            end = end.min(t.start);
                        }
                        continue;
                    }
                    walk.at = at;
                    let food = match t.kind {
                        Kind::Sign(',' | ';') if listed => {
                            walk.at = at + 1;
                            while matches!(walk.word_at(0), Some(Word::And | Word::Plus)) {
                                walk.at += 1;
                            }
                            let food = self.is_listed_food(walk, &text[start..t.start]);
                            walk.at = at;
                            food
                        }
                        Kind::Sign(';') => self.opens_with_food(&text[t.end..]),
                        Kind::Sign(',') if amounts.is_empty() => {
                            self.is_another_food(&text[start..t.start], &text[t.end..])
                        }
                        Kind::Sign(',') => {
                            self.is_a_second_food(&text[start..t.start], &text[t.end..])
                        }
                        _ => false,
                    };
                    if food {
                        end = t.start;
                        stop = at;
                        break;
                    }
                }
                Kind::Word if depth <= 0 && at > first => match walk.word_at(0) {
                    Some(Word::Plus) => {
                        walk.at += 1;
                        Self::skip_extra(walk);
                        if let Some(a) = walk.amount(Role::Plus) {
                            if is_measured(&a) && self.washes(walk, &a) {
                                end = t.start;
                                stop = at;
                                break;
                            }
                            self.take_inside(walk, a, amounts);
                            end = end.min(t.start);
                            continue;
                        }
                        walk.at = at + 1;
                        if self.part_of_an_egg(walk, amounts) {
                            end = end.min(t.start);
                            continue;
                        }
                        walk.at = at;
                    }
                    Some(Word::Or) => {
                        // 'or 1¾ cups sweet milk': the amount of another choice.
                        walk.at += 1;
                        let other = walk.amount(Role::Twin);
                        let ends = walk
                            .peek()
                            .is_none_or(|t| matches!(t.kind, Kind::Sign(',' | ';' | ')')));
                        if let Some(a) = other.clone().filter(|a| ends && is_measured(a)) {
                            // 'walnuts, or 1 cup'
                            self.take_inside(walk, a, amounts);
                            continue;
                        }
                        if let Some(a) = other.filter(|a| self.is_choice(walk, a)) {
                            blanks.push(a.span);
                            self.other_choice(walk, &mut blanks);
                            stop = walk.tokens.len();
                            break;
                        }
                        walk.at = at;
                    }
                    Some(Word::And) if self.and_beside(walk, amounts) => {
                        end = end.min(t.start);
                        continue;
                    }
                    Some(Word::And) if self.adds_another(walk) => {
                        end = t.start;
                        stop = at;
                        break;
                    }
                    Some(Word::And) if !amounts.is_empty() => {
                        walk.at += 1;
                        if self.part_of_an_egg(walk, amounts) {
                            end = end.min(t.start);
                            continue;
                        }
                        walk.at = at;
                    }
                    _ if !amounts.is_empty() && self.is_strewn(walk) => {
                        // 'figs, rolled in flour': the flour is on the line too.
                        end = walk.tokens[at - 1].start;
                        stop = at + 1;
                        strewn = true;
                        break;
                    }
                    _ if self.joins_another(walk) => {
                        // 'egg beaten with 1 tbsp milk': two foods, for one purpose. No food is called 'fried'.
                        let done = walk.tokens[at - 1];
                        let tells = at - 1 > first && self.is_not_known(walk.str(done));
                        end = if tells { done.start } else { t.start };
                        stop = at + 1;
                        shares_purpose = true;
                        break;
                    }
                    _ => {}
                },
                Kind::Whole(_) | Kind::Decimal(_) | Kind::Fraction(_)
                    if depth <= 0 && at > first =>
                {
                    let previous = walk.tokens[at - 1];
                    let word = text[previous.start..previous.end].to_ascii_lowercase();
                    let about_it = matches!(
                        word.as_str(),
                        "into"
                            | "with"
                            | "in"
                            | "at"
                            | "type"
                            | "t"
                            | "note"
                            | "about"
                            | "of"
                            | "for"
                            | "size"
                            | "approx"
                            | "until"
                            | "per"
                            | "no"
                            | "after"
                            | "within"
                            | "step"
                            | "which"
                            | "reserve"
                            | "reserving"
                            | "save"
                            | "keep"
                            | "or"
                    );
                    let each = walk.attempt(|w| {
                        let a = w.amount(Role::Size)?;
                        self.is_of_each(w, &a, amounts).then_some(a)
                    });
                    if let Some(a) = each {
                        amounts.push(a);
                        continue;
                    }
                    if !about_it {
                        if let Some(a) = walk.amount(Role::Twin) {
                            if amounts.is_empty() {
                                amounts.push(Amount {
                                    role: Role::Main,
                                    ..a
                                });
                                self.container(walk, amounts);
                                continue;
                            }
                            if !a.bare && is_measured(&a) {
                                amounts.push(a);
                                continue;
                            }
                        }
                        walk.at = at;
                    }
                }
                Kind::Sign('&') if depth <= 0 && at > first && self.adds_another(walk) => {
                    end = t.start;
                    stop = at;
                    break;
                }
                Kind::Sign('+') if depth <= 0 && at > first => {
                    walk.at += 1;
                    Self::skip_extra(walk);
                    if let Some(a) = walk.amount(Role::Plus) {
                        let other = a.loose.is_some() || is_measured(&a) && self.washes(walk, &a);
                        if other && self.follows_name(walk, &a) {
                            // 'a splash of milk + handful of walnuts', '1 egg + 1 tbsp milk, for
                            // the glaze'
                            end = t.start;
                            stop = at;
                            break;
                        }
                        self.take_inside(walk, a, amounts);
                        end = end.min(t.start);
                        continue;
                    }
                    walk.at = at;
                }
                _ => {}
            }
            walk.at = at + 1;
        }
        walk.at = first;
        NameEnd {
            name: start.min(end)..end,
            stop,
            blanks,
            shares_purpose,
            strewn,
        }
    }

    /// Whether a number behind a dash or colon counts the food before it, with no more than its size behind:
    /// 'Onions - 2', 'Potatoes – 4 medium, sliced'.
    fn counts_behind(&self, walk: &Walk<'_>, before: &str, a: &Amount) -> bool {
        let rest = walk.text.get(a.span.end..).unwrap_or_default();
        let rest = rest.split([',', ';', '(']).next().unwrap_or(rest).trim();
        let food = self.larder.find(before, self.locale);
        let names = self.larder.names();
        before.ends_with(' ')
            && (rest.is_empty() || names.is_remark(rest) && names.qualities(rest).size.is_some())
            && food.is_some_and(|m| m.certainty != Certainty::Near)
    }

    /// Whether a weight behind a count is that of each piece: '3 sausages, 80 g each', '4 bananas of 100 g apiece'; the
    /// word is passed. '50 g each butter and sugar' is of each food.
    fn is_of_each(&self, walk: &mut Walk<'_>, a: &Amount, amounts: &[Amount]) -> bool {
        let counted = amounts.first().is_some_and(|first| !is_measured(first));
        let each = matches!(walk.word_at(0), Some(Word::Each)) || walk.is_word("apiece");
        let ends = walk.ahead(1).is_none_or(|t| t.kind != Kind::Word);
        let is = counted && is_measured(a) && each && ends;
        walk.at += usize::from(is);
        is
    }

    /// Whether the words behind an added amount say that it is part of a wash: '+ 1 tbsp milk, for
    /// the glaze'.
    fn washes(&self, walk: &Walk<'_>, amount: &Amount) -> bool {
        let rest = walk.text.get(walk.behind().max(amount.span.end)..);
        let lower = rest.unwrap_or_default().to_ascii_lowercase();
        (says_glaze(&lower) || purpose_of(&lower, false) == Purpose::Brushing)
            && self.follows_name(walk, amount)
    }

    /// Whether the amount behind 'or' is of another food: 'or 1½ cups (360 ml) milk'.
    fn is_choice(&self, walk: &mut Walk<'_>, amount: &Amount) -> bool {
        let back = walk.at;
        let mut quiet = vec![amount.clone()];
        while matches!(walk.sign(0), Some('(' | '[')) && self.bracket(walk, &mut quiet) {}
        let rest = &walk.text[walk.behind().max(amount.span.end)..];
        walk.at = back;
        let part = rest.split([',', ';', '(']).next().unwrap_or(rest);
        let lower = part.trim_start().to_ascii_lowercase();
        if ["for ", "extra", "more", "if ", "to "]
            .iter()
            .any(|w| lower.starts_with(w))
        {
            return false;
        }
        self.larder.find(part, self.locale).is_some_and(|m| {
            m.certainty == Certainty::Sure || is_measured(amount) && m.certainty != Certainty::Near
        })
    }

    /// Blanks the amounts of a second choice, and all that is added to it: 'or 1 cup milk plus
    /// 1 tbsp lemon juice' is a choice of milk.
    fn other_choice(&self, walk: &mut Walk<'_>, blanks: &mut Vec<Range<usize>>) {
        let end = walk.text.len();
        let mut foods = false;
        while let Some(t) = walk.peek() {
            let at = walk.at;
            let joins = match t.kind {
                Kind::Word => {
                    let lower = walk.str(t).to_ascii_lowercase();
                    matches!(lower.as_str(), "plus" | "and" | "with" | "let" | "thinned")
                }
                Kind::Sign('+' | '&') => true,
                _ => false,
            };
            if joins && foods {
                blanks.push(t.start..end);
                break;
            }
            let mut quiet = Vec::new();
            if matches!(t.kind, Kind::Sign('(' | '[')) && self.bracket(walk, &mut quiet) {
                blanks.push(t.start..walk.behind());
            } else if let Some(a) = walk.amount(Role::Twin) {
                blanks.push(a.span);
            } else {
                foods |= t.kind == Kind::Word;
                walk.at = at + 1;
            }
        }
    }

    /// Whether 'and' stands here before an amount with a name of its own; stays before it.
    fn adds_another(&self, walk: &mut Walk<'_>) -> bool {
        let back = walk.at;
        walk.at += 1;
        let adds = walk.amount(Role::Main).is_some_and(|a| {
            (!a.bare || self.follows_name(walk, &a)) && starts_with_digit(walk.text, &a)
        });
        walk.at = back;
        adds
    }

    /// Whether the words behind an amount name a food of their own.
    pub(super) fn follows_name(&self, walk: &Walk<'_>, amount: &Amount) -> bool {
        let from = walk.behind().max(amount.span.end);
        let rest = walk.text.get(from..).unwrap_or_default();
        let part = rest.split([',', ';', '(', '+']).next().unwrap_or(rest);
        let lower = part.trim_start().to_ascii_lowercase();
        if lower.starts_with("for ")
            || lower.starts_with("extra")
            || lower.starts_with("more")
            || lower.is_empty()
        {
            return false;
        }
        // '1 egg and 2 tbsp milk', 'brandy or stout': the food before the next amount, or the first choice.
        let head = split_and(part).map_or(part, |(head, _)| &part[head]);
        let first = find_or(&lower).map_or(part, |(at, _)| &part.trim_start()[..at]);
        [part, head, first].into_iter().any(|words| {
            self.larder
                .find(words, self.locale)
                .is_some_and(|m| m.certainty == Certainty::Sure)
        })
    }

    /// An amount inside the name: a twin, a size, or a plus with its own food or purpose.
    pub(super) fn take_inside(
        &self,
        walk: &mut Walk<'_>,
        mut a: Amount,
        amounts: &mut Vec<Amount>,
    ) {
        let rest = &walk.text[a.span.end.max(walk.behind())..];
        let part = rest.split([',', ';', '(']).next().unwrap_or(rest);
        if a.role == Role::Plus {
            let lower = part.to_ascii_lowercase();
            let behind = Self::behind_added(rest).to_ascii_lowercase();
            let aside = ["for ", "to ", "extra", "more"];
            a.aside = aside.iter().any(|w| behind.starts_with(w));
            // 'plus 1 yolk', '2 whites': of an egg.
            let egg = ["white", "yolk"]
                .iter()
                .find(|w| lower.trim_start().starts_with(**w));
            let found = match egg {
                Some(w) => self.larder.find(&format!("egg {w}"), self.locale),
                None => self.larder.find(part, self.locale),
            };
            if !a.aside
                && let Some(m) = found
            {
                a.of = Some(m.food);
                if a.bare {
                    a.bare = false;
                    a.unit = Some(Unit::Count);
                }
            }
        } else if a.bare {
            // 'cut into 3': no amount.
            return;
        } else if self.is_of_each(walk, &a, amounts) {
            a.role = Role::Size;
        }
        if amounts.is_empty() {
            a.role = Role::Main;
        }
        amounts.push(a);
        if amounts.len() == 1 {
            self.container(walk, amounts);
        }
    }
}
