//! The amounts before a name: twins, parts, sizes, brackets.

use super::super::amount::{Walk, continues, is_measured};
use super::super::lex::Kind;
use super::super::words::{Word, is_container};
use super::Reader;
use crate::line::{Amount, Role};
use larder::Certainty;
use quantity::{Locale, Unit};
use std::ops::Range;

impl Reader<'_> {
    /// The amounts before the name.
    pub(super) fn amounts(&self, walk: &mut Walk<'_>) -> Vec<Amount> {
        let mut amounts: Vec<Amount> = Vec::new();
        if skip_vague(walk) {
            return amounts;
        }
        let Some(mut first) = walk.amount(Role::Main) else {
            // 'an onion'
            if matches!(walk.word_at(0), Some(Word::Article)) && self.is_counted(walk) {
                let t = walk.tokens[walk.at];
                amounts.push(one(t.start..t.end));
                walk.at += 1;
            }
            return amounts;
        };
        if first.bare && (walk.is_word("grains") || walk.is_word("grain")) && first.low < first.high
        {
            // 'few grains salt' is less than can be measured.
            walk.at += 1;
            return amounts;
        }
        // '300 g to 350 g'
        let upper = walk.attempt(|w| {
            let range = matches!(w.word_at(0), Some(Word::To))
                || matches!(w.sign(0), Some('-' | '–' | '—'));
            w.at += 1;
            let a = w.amount(Role::Main)?;
            (range && !a.bare && a.unit == first.unit && a.low > first.high).then_some(a)
        });
        if let Some(a) = upper {
            first.high = a.high;
            first.span.end = a.span.end;
        }
        amounts.push(first);
        self.container(walk, &mut amounts);
        if let Some(first) = amounts.first_mut().filter(|a| a.bare)
            && is_few(walk.text, first)
        {
            // 'a few raisins' is no count.
            first.bare = false;
            first.loose = Some("few".to_owned());
        }
        loop {
            let back = walk.at;
            if let Some(c) = walk.sign(0) {
                match c {
                    '(' | '[' => {
                        if !self.bracket(walk, &mut amounts) {
                            break;
                        }
                        self.container(walk, &mut amounts);
                        continue;
                    }
                    '/' | '|' | '=' | ',' | '+' | '–' | '—' | '-' | ';' | '•' => {
                        walk.at += 1;
                        let role = if c == '+' { Role::Plus } else { Role::Twin };
                        if let Some(a) = walk.amount(role).filter(|a| !a.bare) {
                            self.join(walk, a, &mut amounts);
                            continue;
                        }
                        walk.at = back;
                        break;
                    }
                    _ => break,
                }
            }
            match walk.word_at(0) {
                Some(Word::Plus) => {
                    walk.at += 1;
                    if let Some(a) = walk.amount(Role::Plus).filter(|a| !a.bare) {
                        amounts.push(a);
                        continue;
                    }
                }
                Some(Word::And) => {
                    walk.at += 1;
                    if let Some(a) = walk.amount(Role::Plus).filter(is_measured) {
                        amounts.push(a);
                        continue;
                    }
                }
                Some(Word::Or) => {
                    walk.at += 1;
                    if let Some(a) = walk.amount(Role::Twin).filter(is_measured) {
                        amounts.push(a);
                        continue;
                    }
                }
                Some(Word::Minus) => {
                    walk.at += 1;
                    if let Some(a) = walk.amount(Role::Plus).filter(is_measured)
                        && let Some(last) = amounts.last_mut()
                        && last.take_in(&a, -1.0, self.locale)
                    {
                        continue;
                    }
                }
                _ => {
                    // '1 lb 4 oz'; and '225g 8oz' is a twin.
                    if let Some(a) = walk
                        .amount(Role::Plus)
                        .filter(|a| is_measured(a) && a.low != 1.0 || !a.bare && is_measured(a))
                    {
                        let first = amounts.last().and_then(|f| f.unit);
                        if continues(first, a.unit, self.locale)
                            && !same_amount(amounts.last(), &a, self.locale)
                        {
                            amounts.push(a);
                            continue;
                        }
                        if first.is_some()
                            && a.unit.is_some()
                            && a.span.len() > 1
                            && starts_with_digit(walk.text, &a)
                        {
                            amounts.push(Amount {
                                role: Role::Twin,
                                ..a
                            });
                            continue;
                        }
                    }
                }
            }
            walk.at = back;
            break;
        }
        amounts
    }

    /// Whether the words behind an article name something that is counted.
    pub(super) fn is_counted(&self, walk: &Walk<'_>) -> bool {
        let Some(t) = walk.ahead(1) else { return false };
        let part = walk.text[t.start..]
            .split([',', ';', '('])
            .next()
            .unwrap_or("");
        self.larder.find(part, self.locale).is_some_and(|m| {
            m.certainty == Certainty::Sure
                && self
                    .larder
                    .weigh(m.food, Unit::Count, None, larder::State::Usual, self.locale)
                    .is_some()
        })
    }

    /// Puts a further amount in place: a size when a container follows, else as it is.
    pub(super) fn join(&self, walk: &mut Walk<'_>, a: Amount, amounts: &mut Vec<Amount>) {
        amounts.push(a);
        self.container(walk, amounts);
    }

    /// After '2 (14-ounce)', '2 x 400 g', '1 8-oz' or '7g': a can or packet makes the weight a
    /// size and the number its count.
    pub(super) fn container(&self, walk: &mut Walk<'_>, amounts: &mut Vec<Amount>) {
        if matches!(walk.word_at(0), Some(Word::Times))
            || walk.sign(0) == Some('×')
            || walk.sign(0) == Some('*')
        {
            let found = walk.attempt(|w| {
                w.at += 1;
                w.amount(Role::Size)
            });
            if let (Some(size), Some(first)) = (found.filter(|a| !a.bare), amounts.last_mut())
                && first.bare
            {
                first.bare = false;
                first.unit = Some(Unit::Count);
                amounts.push(size);
            }
        }
        if amounts.len() == 1 && amounts[0].bare && amounts[0].low.fract() == 0.0 {
            // '1 14-oz can', '1 #2 can', 'two 15-ounce cans'.
            let found = walk.attempt(|w| {
                if w.sign(0) == Some('#') {
                    w.at += 2;
                    return matches!(w.word_at(0), Some(Word::Unit(u)) if is_container(u.unit))
                        .then_some(None);
                }
                let a = w.amount(Role::Size).filter(is_measured)?;
                matches!(w.word_at(0), Some(Word::Unit(u)) if is_container(u.unit))
                    .then_some(Some(a))
            });
            if let Some(size) = found {
                amounts.extend(size);
            }
        } else if amounts.len() == 1 && amounts[0].bare && amounts[0].low.fract() != 0.0 {
            // 'half a 400 g tin'.
            let found = walk.attempt(|w| {
                if matches!(w.word_at(0), Some(Word::Article)) {
                    w.at += 1;
                }
                let a = w.amount(Role::Size).filter(is_measured)?;
                matches!(w.word_at(0), Some(Word::Unit(u)) if is_container(u.unit)).then_some(a)
            });
            amounts.extend(found);
        }
        let Some(Word::Unit(u)) = walk.word_at(0) else {
            return;
        };
        if !is_container(u.unit) || amounts.is_empty() {
            return;
        }
        let measured = amounts.iter().any(is_measured);
        let counted = amounts
            .iter()
            .any(|a| a.bare || a.unit == Some(Unit::Count));
        if !measured && !counted {
            return;
        }
        // A block of butter by weight keeps its weight; '400g tin' is one tin.
        let word = walk.peek().map_or(0..0, |t| t.start..t.end);
        walk.at += 1;
        if walk.sign(0) == Some('.') {
            walk.at += 1;
        }
        if counted {
            for a in amounts.iter_mut() {
                if a.bare || a.unit == Some(Unit::Count) {
                    a.bare = false;
                    a.unit = u.unit;
                } else if is_measured(a) {
                    a.role = Role::Size;
                }
            }
        } else {
            for a in amounts.iter_mut().filter(|a| is_measured(a)) {
                a.role = Role::Size;
            }
            let one = Amount {
                low: 1.0,
                high: 1.0,
                unit: u.unit,
                role: Role::Main,
                span: word,
                ..amounts[0].clone()
            };
            amounts.insert(0, one);
        }
    }

    /// Amounts in brackets. `false` leaves the bracket to the name.
    pub(super) fn bracket(&self, walk: &mut Walk<'_>, amounts: &mut Vec<Amount>) -> bool {
        let inner = walk.attempt(|w| {
            w.at += 1;
            if matches!(w.word_at(0), Some(Word::Or)) {
                return None;
            }
            let mut found: Vec<Amount> = Vec::new();
            let mut each = false;
            loop {
                match w.sign(0) {
                    Some(')' | ']') => {
                        w.at += 1;
                        break;
                    }
                    Some('/' | ',' | ';' | '|' | '=' | '.') => w.at += 1,
                    _ if matches!(w.word_at(0), Some(Word::Or | Word::And)) => w.at += 1,
                    _ if matches!(w.word_at(0), Some(Word::Each)) => {
                        each = true;
                        w.at += 1;
                    }
                    sign if sign == Some('+') || matches!(w.word_at(0), Some(Word::Plus)) => {
                        w.at += 1;
                        let a = w.amount(Role::Plus)?;
                        // '(1 cup plus 2 tbsp)' is one twin in two parts.
                        let last = found.last_mut();
                        if !last.is_some_and(|l| l.take_in(&a, 1.0, self.locale)) {
                            found.push(a);
                        }
                    }
                    Some(_) => return None,
                    None => {
                        w.peek()?;
                        if let Some(a) = w.amount(Role::Twin) {
                            // '(2 cm)', '(70%)' are no amounts.
                            if a.bare && w.peek().is_some() && !matches!(w.sign(0), Some(')' | ']'))
                            {
                                return None;
                            }
                            found.push(a);
                        } else if found.is_empty() {
                            return None;
                        } else {
                            // '4 whites (59 g eggs)': what the words behind it are of is one of them.
                            let eggs = w.is_word("eggs") || w.is_word("egg");
                            each |= eggs && amounts.first().is_some_and(|m| !is_measured(m));
                            // '(50 g out of shell)', '(about 3)': words behind the amount.
                            while !matches!(w.sign(0), Some(')' | ']') | None)
                                || w.peek().is_some() && w.sign(0).is_none()
                            {
                                w.at += 1;
                            }
                        }
                    }
                }
            }
            if found.iter().all(|a| a.bare) && !found.is_empty() {
                // '(about 3)' counts pieces when the main amount is a weight.
                for a in &mut found {
                    a.bare = false;
                    a.unit = Some(Unit::Count);
                }
            }
            (!found.is_empty() && found.len() <= 6).then_some((found, each))
        });
        let Some((mut found, each)) = inner else {
            return false;
        };
        let main = amounts.first();
        // Behind 'half a jar' the weight is that of the half; behind '1 jar' it is the jar's.
        let container = main.is_some_and(|m| is_container(m.unit) && m.low >= 1.0);
        if container || each {
            for a in found.iter_mut().filter(|a| is_measured(a)) {
                a.role = Role::Size;
            }
        }
        if main.is_some_and(is_measured) {
            found.retain(|a| a.unit != Some(Unit::Count) || a.low < 100.0);
        }
        amounts.extend(found);
        true
    }
}

/// Nouns of less or more, as the hand likes, behind an article.
const VAGUE: [&str; 16] = [
    "little",
    "bit",
    "touch",
    "tad",
    "smidgen",
    "smidge",
    "dribble",
    "trickle",
    "slug",
    "lick",
    "smear",
    "scattering",
    "sprinkling",
    "sprinkle",
    "scraping",
    "shaving",
];

/// Words between the article and the noun: 'a tiny bit'.
fn is_between(word: &str) -> bool {
    matches!(word, "tiny" | "very" | "wee" | "small" | "good" | "light")
}

/// Skips 'a little', 'a bit', 'some': they say no number, not even one.
fn skip_vague(walk: &mut Walk<'_>) -> bool {
    let said = |w: &Walk<'_>, n: usize| {
        w.ahead(n)
            .filter(|t| t.kind == Kind::Word)
            .map(|t| w.str(t).to_ascii_lowercase())
    };
    let skipped = walk.attempt(|w| {
        if w.is_word("some") {
            w.at += 1;
        } else if matches!(w.word_at(0), Some(Word::Article)) {
            let at = 1 + usize::from(said(w, 1).is_some_and(|s| is_between(&s)));
            said(w, at).filter(|s| VAGUE.contains(&s.as_str()))?;
            w.at += at + 1;
        } else {
            return None;
        }
        // What it is of follows, and no number: 'some 200 g', 'a little gem lettuce'.
        let back = w.at;
        let next = said(w, 0)?;
        let number = w.number().is_some();
        w.at = back;
        (!number && !matches!(next.as_str(), "gem" | "gems" | "neck")).then_some(())
    });
    skipped.is_some()
}

/// The bytes of 'a little', 'a bit of', 'some' right before a name that begins at `name`.
pub(super) fn vague_before(text: &str, name: usize) -> Option<Range<usize>> {
    let before = text.get(..name)?.trim_end();
    let before = before.strip_suffix(" of").unwrap_or(before).trim_end();
    let mut start = before.len();
    let mut noun = false;
    while let Some(word) = before[..start].split_whitespace().next_back() {
        let lower = word.to_ascii_lowercase();
        let at = before[..start].trim_end().len() - word.len();
        match lower.as_str() {
            "some" if !noun => return Some(at..before.len()),
            "a" | "an" if noun => return Some(at..before.len()),
            w if !noun && VAGUE.contains(&w) => noun = true,
            w if noun && is_between(w) => {}
            _ => return None,
        }
        start = at;
    }
    None
}

/// Whether a number is none: 'a few'.
pub(super) fn is_few(text: &str, amount: &Amount) -> bool {
    let shown = text.get(amount.span.clone()).unwrap_or_default();
    let mut words = shown.split_whitespace();
    words.any(|w| w.eq_ignore_ascii_case("few"))
}

/// One of something, for an article.
pub(super) fn one(span: Range<usize>) -> Amount {
    Amount {
        bare: true,
        ..Amount::one(span)
    }
}

pub(super) fn starts_with_digit(text: &str, a: &Amount) -> bool {
    text[a.span.clone()]
        .trim_start()
        .starts_with(|c: char| c.is_numeric())
        || text[a.span.clone()]
            .trim_start()
            .to_ascii_lowercase()
            .starts_with("one ")
}

/// Whether two measured amounts are the same but for rounding: '225g 8oz'.
pub(super) fn same_amount(first: Option<&Amount>, second: &Amount, locale: Locale) -> bool {
    use quantity::Hold;
    let size = |a: &Amount| match a.unit.map(|u| u.hold(locale)) {
        Some(Hold::Mass(m)) => Some(m.as_grams() * a.low),
        Some(Hold::Volume(v)) => Some(v.likely().as_millilitres() * a.low),
        _ => None,
    };
    match (first.and_then(size), size(second)) {
        (Some(a), Some(b)) => (a / b - 1.0).abs() < 0.12,
        _ => false,
    }
}

impl Amount {
    /// Takes in a further part of it in its own unit: '1 cup plus 2 tbsp', '1 cup minus 1 tbsp'. `false` where one
    /// is no measure like the other, or nothing would be left.
    ///
    /// # Arguments
    /// * `times` — 1 to add it, -1 to take it away.
    fn take_in(&mut self, a: &Self, times: f64, locale: Locale) -> bool {
        use quantity::Hold;
        let size = |u: Option<Unit>| match u.map(|u| u.hold(locale)) {
            Some(Hold::Mass(m)) => Some((0, m.as_grams())),
            Some(Hold::Volume(v)) => Some((1, v.likely().as_millilitres())),
            _ => None,
        };
        let (Some((k, x)), Some((l, y))) = (size(self.unit), size(a.unit)) else {
            return false;
        };
        let more = times * a.low * y / x;
        if k != l || self.low + more <= 0.0 {
            return false;
        }
        self.low += more;
        self.high += more;
        self.span.end = a.span.end;
        true
    }
}
