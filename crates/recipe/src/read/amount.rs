//! Reading amounts: numbers, ranges, units, twins and sizes.

use super::lex::{Kind, Token};
use super::words::{Word, Words, is_container};
use crate::line::{Amount, Filling, Role};
use quantity::{Locale, Unit, UnitKind};

/// A walk over a line's tokens.
pub(crate) struct Walk<'a> {
    pub text: &'a str,
    pub tokens: &'a [Token],
    pub words: &'a Words,
    pub at: usize,
}

/// A number or range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Number {
    pub low: f64,
    pub high: f64,
    /// Written from high to low.
    pub backward: bool,
}

impl<'a> Walk<'a> {
    pub fn peek(&self) -> Option<Token> {
        self.tokens.get(self.at).copied()
    }
    pub fn ahead(&self, n: usize) -> Option<Token> {
        self.tokens.get(self.at + n).copied()
    }
    pub fn str(&self, t: Token) -> &'a str {
        self.text.get(t.start..t.end).unwrap_or_default()
    }
    pub fn word_at(&self, n: usize) -> Option<Word> {
        let t = self.ahead(n)?;
        if t.kind != Kind::Word {
            return None;
        }
        self.words.get(self.str(t))
    }
    pub fn sign(&self, n: usize) -> Option<char> {
        match self.ahead(n)?.kind {
            Kind::Sign(c) => Some(c),
            _ => None,
        }
    }
    /// Whether the next token is this word.
    pub fn is_word(&self, word: &str) -> bool {
        self.peek()
            .is_some_and(|t| t.kind == Kind::Word && self.str(t).eq_ignore_ascii_case(word))
    }
    fn start(&self) -> usize {
        self.peek().map_or(self.text.len(), |t| t.start)
    }
    /// End of the token before the walk's place.
    pub fn behind(&self) -> usize {
        self.at
            .checked_sub(1)
            .and_then(|i| self.tokens.get(i))
            .map_or(0, |t| t.end)
    }
    /// Runs a reader; puts the place back when it finds nothing.
    pub fn attempt<T>(&mut self, f: impl FnOnce(&mut Self) -> Option<T>) -> Option<T> {
        let back = self.at;
        let got = f(self);
        if got.is_none() {
            self.at = back;
        }
        got
    }
    fn dash(&self, n: usize) -> bool {
        matches!(self.sign(n), Some('-' | '–' | '—' | '‐' | '‑' | '−' | '~'))
    }
    /// Whether no space stands between the token `n` ahead and the one behind it.
    fn joined(&self, n: usize) -> bool {
        match (self.ahead(n), self.ahead(n + 1)) {
            (Some(a), Some(b)) => a.end == b.start,
            _ => false,
        }
    }

    /// 'half', '¾' or 'a third' and the like, below one.
    fn proper(&mut self) -> Option<f64> {
        match self.peek()?.kind {
            Kind::Fraction(f) if f < 1.0 => {
                self.at += 1;
                Some(f)
            }
            Kind::Word => match self.word_at(0)? {
                Word::Part(p) => {
                    self.at += 1;
                    Some(p)
                }
                Word::Article if matches!(self.word_at(1), Some(Word::Part(_))) => {
                    let Some(Word::Part(p)) = self.word_at(1) else {
                        return None;
                    };
                    self.at += 2;
                    Some(p)
                }
                _ => None,
            },
            _ => None,
        }
    }

    /// One number: `2`, `1½`, `one and a half`, `three quarters of a`, `half of a third`.
    fn simple(&mut self) -> Option<f64> {
        let t = self.peek()?;
        let value = match t.kind {
            Kind::Whole(n) => {
                self.at += 1;
                self.mixed(n)
            }
            Kind::Decimal(n) => {
                self.at += 1;
                n
            }
            Kind::Fraction(f) => {
                self.at += 1;
                self.of_part(f)
            }
            Kind::Word => match self.word_at(0)? {
                Word::Number(n) => {
                    self.at += 1;
                    let hyphen = usize::from(self.dash(0));
                    if let Some(Word::Part(p)) = self.word_at(hyphen)
                        && !(hyphen == 0 && n > 1.0 && p == 0.5)
                    {
                        self.at += 1 + hyphen;
                        self.skip_of_article();
                        self.of_part(n * p)
                    } else {
                        self.mixed(n)
                    }
                }
                Word::Part(p) => {
                    // 'half and half' is a food.
                    let and =
                        matches!(self.word_at(1), Some(Word::And)) || self.sign(1) == Some('&');
                    let and = and || self.dash(1);
                    if and && p == 0.5 {
                        return None;
                    }
                    self.at += 1;
                    self.of_part(p)
                }
                Word::Article => match self.word_at(1)? {
                    Word::Part(p) => {
                        self.at += 2;
                        self.of_part(p)
                    }
                    Word::Few(..) | Word::Number(_) => return None,
                    _ => return None,
                },
                _ => return None,
            },
            Kind::Sign(_) => return None,
        };
        Some(value)
    }

    /// A part of what follows: 'half of a third', 'a quarter of a'; or just the part.
    fn of_part(&mut self, part: f64) -> f64 {
        let back = self.at;
        self.skip_of_article();
        if part < 1.0
            && self.at > back
            && let Some(p) = self.attempt(Self::proper)
        {
            self.skip_of_article();
            return part * p;
        }
        let unit = matches!(
            self.word_at(0),
            Some(Word::Unit(_) | Word::Loose | Word::Filling(_) | Word::Manner | Word::Fluid)
        ) || matches!(self.peek().map(|t| t.kind), Some(Kind::Whole(_)) if self.at > back);
        if !unit {
            self.at = back;
        }
        part
    }
    fn skip_of_article(&mut self) {
        if matches!(self.word_at(0), Some(Word::Of)) {
            self.at += 1;
        }
        if matches!(self.word_at(0), Some(Word::Article)) {
            self.at += 1;
        }
    }

    /// Adds a fraction that follows a whole number: `1 1/2`, `1-1/2`, `1 and a half`, `1½`.
    fn mixed(&mut self, whole: f64) -> f64 {
        let hyphen = usize::from(self.dash(0));
        let and = usize::from(
            matches!(self.word_at(0), Some(Word::And)) || matches!(self.sign(0), Some('&' | '+')),
        );
        let skip = hyphen.max(and);
        let found = self.attempt(|w| {
            if hyphen == 1
                && !(w.at > 0 && w.tokens[w.at - 1].end == w.tokens[w.at].start && w.joined(0))
            {
                return None;
            }
            w.at += skip;
            if skip == 0 && !matches!(w.peek()?.kind, Kind::Fraction(_)) {
                return None;
            }
            if hyphen == 1 && !matches!(w.peek()?.kind, Kind::Fraction(_)) {
                return None;
            }
            let one = matches!(w.word_at(0), Some(Word::Number(n)) if n == 1.0);
            if and == 1 && one {
                w.at += 1 + usize::from(w.sign(1).is_some_and(|c| c == '-'));
            }
            let three = and == 1 && matches!(w.word_at(0), Some(Word::Number(_)));
            if three {
                // 'two and three-quarter'
                return w.simple().filter(|p| *p < 1.0);
            }
            w.proper()
        });
        whole + found.unwrap_or(0.0)
    }

    /// A number or a range.
    pub fn number(&mut self) -> Option<Number> {
        self.attempt(|w| {
            let between = w.is_word("between");
            w.at += usize::from(between);
            while matches!(w.word_at(0), Some(Word::Approx)) || matches!(w.sign(0), Some('~' | '≈'))
            {
                w.at += 1;
                if w.sign(0) == Some('.') {
                    w.at += 1;
                }
            }
            if matches!(w.word_at(0), Some(Word::Article))
                && let Some(Word::Few(low, high)) = w.word_at(1)
            {
                w.at += 2;
                w.skip_of();
                return Some(Number {
                    low,
                    high,
                    backward: false,
                });
            }
            if let Some(Word::Few(low, high)) = w.word_at(0) {
                w.at += 1;
                return Some(Number {
                    low,
                    high,
                    backward: false,
                });
            }
            let low = w.simple()?;
            let high = w.attempt(|w| {
                let hyphen = w.dash(0);
                let word = matches!(w.word_at(0), Some(Word::To | Word::Or))
                    || between && matches!(w.word_at(0), Some(Word::And));
                if !hyphen && !word {
                    return None;
                }
                w.at += 1;
                // '2 or more' and '1 - 14 oz can' are no ranges.
                let b = w.simple()?;
                let unit = match w.word_at(usize::from(w.dash(0))) {
                    Some(Word::Unit(u)) => u.unit,
                    _ => None,
                };
                let sized = hyphen && unit.is_some_and(|u| u.kind() != UnitKind::Piece) && {
                    let n = 1 + usize::from(w.dash(0));
                    let dot = usize::from(w.sign(n) == Some('.'));
                    matches!(w.word_at(n + dot), Some(Word::Unit(u)) if is_container(u.unit))
                };
                (!sized).then_some(b)
            });
            let (low, high, backward) = match high {
                Some(h) if h < low => (h, low, true),
                Some(h) => (low, h, false),
                None => (low, low, false),
            };
            Some(Number {
                low,
                high,
                backward,
            })
        })
    }
    fn skip_of(&mut self) {
        if matches!(self.word_at(0), Some(Word::Of)) {
            self.at += 1;
        }
    }

    /// Reads the unit here, after words of filling and manner. `(unit word, loose word)`.
    fn unit(&mut self, amount: &mut Amount) -> bool {
        let back = self.at;
        let mut manner = false;
        loop {
            match self.word_at(0) {
                Some(Word::Filling(f)) => amount.filling = f,
                Some(Word::Country(l)) => {
                    // 'US' only before a unit.
                    if !matches!(self.word_at(1), Some(Word::Unit(_) | Word::Fluid)) {
                        break;
                    }
                    amount.locale = l;
                }
                Some(Word::Manner) => manner = true,
                _ => break,
            }
            self.at += 1;
        }
        let hyphen = usize::from(self.dash(0) && self.at > 0);
        if self.sign(0) == Some('#')
            && !matches!(self.ahead(1).map(|t| t.kind), Some(Kind::Whole(_)))
        {
            amount.unit = Some(Unit::Lb);
            self.at += 1;
            return true;
        }
        let found = match self.word_at(hyphen) {
            Some(Word::Fluid) => {
                let dot = usize::from(self.sign(hyphen + 1) == Some('.'));
                let ounce = matches!(self.word_at(hyphen + 1 + dot), Some(Word::Unit(u)) if u.unit == Some(Unit::Oz));
                if ounce {
                    amount.unit = Some(Unit::FlOz);
                    self.at += hyphen + 2 + dot;
                }
                ounce
            }
            Some(Word::Unit(u)) => {
                // '#2 can' is no pound; 'G'/'T' alone are units only behind a number.
                amount.unit = u.unit;
                amount.old_millilitres = u.millilitres;
                if u.old && u.millilitres.is_none() {
                    amount.old_millilitres = None;
                }
                amount.low *= u.times;
                amount.high *= u.times;
                if u.unit.is_none() {
                    amount.loose = Some(u.word.to_owned());
                }
                self.at += hyphen + 1;
                true
            }
            Some(Word::Loose) if hyphen == 0 => {
                amount.loose = self.peek().map(|t| self.str(t).to_lowercase());
                self.at += 1;
                true
            }
            _ => {
                // 'coffee cupful', 'tea cup': two words for one old cup.
                let two = self.peek().zip(self.ahead(1)).is_some_and(|(a, b)| {
                    a.kind == Kind::Word
                        && b.kind == Kind::Word
                        && matches!(
                            self.str(a).to_ascii_lowercase().as_str(),
                            "coffee" | "tea" | "breakfast"
                        )
                        && self.str(b).to_ascii_lowercase().starts_with("cup")
                });
                if two {
                    let ml = match self
                        .peek()
                        .map(|t| self.str(t).to_ascii_lowercase())
                        .as_deref()
                    {
                        Some("tea") => 142.0,
                        Some("breakfast") => 284.0,
                        _ => 237.0,
                    };
                    amount.unit = Some(Unit::Cup);
                    amount.old_millilitres = Some(ml);
                    self.at += 2;
                    true
                } else {
                    false
                }
            }
        };
        if !found {
            // Words of manner stay with the name when no unit follows: '3 large eggs'.
            if manner || amount.filling == Filling::Level {
                self.at = back;
            }
            return false;
        }
        if self.sign(0) == Some('.') {
            self.at += 1;
        }
        true
    }

    /// An amount: number, filling, unit. A unit with an article ('a cup', 'pinch of') counts one.
    pub fn amount(&mut self, role: Role) -> Option<Amount> {
        self.attempt(|w| {
            let start = w.start();
            let mut amount = Amount {
                role,
                ..Amount::one(start..start)
            };
            while matches!(w.word_at(0), Some(Word::Filling(_) | Word::Approx)) {
                if let Some(Word::Filling(f)) = w.word_at(0) {
                    amount.filling = f;
                }
                w.at += 1;
            }
            let number = w.number();
            match number {
                Some(n) => {
                    amount.low = n.low;
                    amount.high = n.high;
                    // '2 x 400 g tins' is read by the caller.
                }
                None => {
                    let article = matches!(w.word_at(0), Some(Word::Article));
                    w.at += usize::from(article);
                    let filled = amount.filling;
                    if !w.unit(&mut amount) {
                        return None;
                    }
                    if amount.filling == Filling::Level {
                        amount.filling = filled;
                    }
                    // A bare unit word is an amount only if it is one in English: 'pinch of
                    // salt', 'handful of', 'a cup of'; not 'can', 'clove', 'g'.
                    let bare = matches!(
                        amount.unit,
                        Some(Unit::Pinch | Unit::Dash | Unit::Drop | Unit::Sprig)
                    ) || amount.loose.is_some()
                        || matches!(w.word_at(0), Some(Word::Of));
                    let lone_letter = w.behind() - start < 2;
                    if (!article && !bare && filled == Filling::Level) || (lone_letter && !article)
                    {
                        return None;
                    }
                    w.half_behind(&mut amount);
                    amount.span = start..w.behind();
                    return Some(amount);
                }
            }
            if !w.unit(&mut amount) && !w.misspelt_unit(&mut amount) {
                amount.bare = true;
            } else {
                w.half_behind(&mut amount);
            }
            amount.span = start..w.behind();
            amount.backward = number.is_some_and(|n| n.backward);
            Some(amount)
        })
    }

    /// '2 cupps': a unit with a slip of the pen, directly behind a number. The line's doubts say
    /// so.
    fn misspelt_unit(&mut self, amount: &mut Amount) -> bool {
        let Some(t) = self.peek().filter(|t| t.kind == Kind::Word) else {
            return false;
        };
        let Some(u) = self.words.near_unit(self.str(t)) else {
            return false;
        };
        amount.unit = u.unit;
        self.at += 1;
        true
    }

    /// 'a cup and a half'.
    fn half_behind(&mut self, amount: &mut Amount) {
        let half = self.attempt(|w| {
            let and = matches!(w.word_at(0), Some(Word::And)) || w.sign(0) == Some('&');
            if !and {
                return None;
            }
            w.at += 1;
            let p = w.proper()?;
            // 'a cup and a half of flour', not '1 cup and half a pint'.
            let unit = matches!(w.word_at(0), Some(Word::Unit(_) | Word::Article));
            (!unit).then_some(p)
        });
        if let Some(p) = half {
            amount.low += p;
            amount.high += p;
        }
    }
}

/// A locale's own unit for a bare number is none: the caller decides.
pub(crate) fn is_measured(amount: &Amount) -> bool {
    amount.unit.is_some_and(|u| u.kind() != UnitKind::Piece)
}

/// Whether two units are of one family and the second smaller: '1 lb 4 oz', '2 tbsp 1 tsp'.
pub(crate) fn continues(first: Option<Unit>, second: Option<Unit>, locale: Locale) -> bool {
    use quantity::Hold;
    let size = |u: Unit| match u.hold(locale) {
        Hold::Mass(m) => Some((0, m.as_grams())),
        Hold::Volume(v) => Some((1, v.likely().as_millilitres())),
        Hold::Piece => None,
    };
    match (first.and_then(size), second.and_then(size)) {
        (Some((a, x)), Some((b, y))) => a == b && y < x,
        _ => false,
    }
}
