//! Cutting a line into numbers, words and signs, every one with its bytes.

use quantity::{Locale, fraction};

/// What a token is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Kind {
    /// A whole number.
    Whole(f64),
    /// A decimal.
    Decimal(f64),
    /// A fraction; infinite for `1/0`.
    Fraction(f64),
    /// A word of letters.
    Word,
    /// Any other sign that is not a space.
    Sign(char),
}

/// A token and its bytes in the line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Token {
    pub kind: Kind,
    pub start: usize,
    pub end: usize,
}

/// A digit in any of the forms text carries it: plain, raised, lowered, full width.
fn digit(c: char) -> Option<u32> {
    match c {
        '0'..='9' => c.to_digit(10),
        '⁰' => Some(0),
        '¹' => Some(1),
        '²' => Some(2),
        '³' => Some(3),
        '⁴'..='⁹' => Some(c as u32 - '⁰' as u32),
        '₀'..='₉' => Some(c as u32 - '₀' as u32),
        '０'..='９' => Some(c as u32 - '０' as u32),
        _ => None,
    }
}

fn is_slash(c: char) -> bool {
    matches!(c, '/' | '⁄' | '∕' | '／')
}

/// Whether a slash with spaces beside it still makes a fraction: only for those of spoons.
fn spoon_fraction(n: f64, d: f64) -> bool {
    n < d && [2.0, 3.0, 4.0, 8.0].contains(&d)
}

/// A reader of characters with a place.
struct Chars<'a> {
    text: &'a str,
    at: usize,
}

impl Chars<'_> {
    fn peek(&self) -> Option<char> {
        let byte = *self.text.as_bytes().get(self.at)?;
        if byte < 0x80 {
            Some(byte as char)
        } else {
            self.text[self.at..].chars().next()
        }
    }
    fn bump(&mut self, c: char) {
        self.at += c.len_utf8();
    }
    /// Digits from here; how many and their value.
    fn digits(&mut self) -> Option<(usize, f64)> {
        let (mut count, mut value) = (0, 0.0);
        while let Some(d) = self.peek().and_then(|c| digit(c).inspect(|_| self.bump(c))) {
            value = value * 10.0 + f64::from(d);
            count += 1;
        }
        (count > 0).then_some((count, value))
    }
    fn spaces(&mut self) -> usize {
        let from = self.at;
        while let Some(c) = self.peek().filter(|c| c.is_whitespace()) {
            self.bump(c);
        }
        self.at - from
    }
    /// `digits / digits`, when the slash follows here.
    fn over(&mut self, numerator: f64) -> Option<f64> {
        let start = self.at;
        let before = self.spaces();
        let slash = self.peek().filter(|c| is_slash(*c));
        if let Some(c) = slash {
            self.bump(c);
            let after = self.spaces();
            if let Some((_, d)) = self.digits()
                && ((before == 0 && after == 0) || spoon_fraction(numerator, d))
            {
                return Some(if d == 0.0 {
                    f64::INFINITY
                } else {
                    numerator / d
                });
            }
        }
        self.at = start;
        None
    }
}

/// Cuts a line into tokens.
pub(crate) fn lex(text: &str, locale: Locale, out: &mut Vec<Token>) {
    out.clear();
    let mut chars = Chars { text, at: 0 };
    while let Some(c) = chars.peek() {
        let start = chars.at;
        let kind =
            if c.is_whitespace() || matches!(c, '\u{200b}' | '\u{feff}' | '\u{ad}' | '\u{200e}') {
                chars.bump(c);
                continue;
            } else if let Some(value) = fraction(c) {
                chars.bump(c);
                Kind::Fraction(value)
            } else if digit(c).is_some() || (c == '.' && starts_decimal(text, start)) {
                number(&mut chars, locale)
            } else if c.is_alphabetic() {
                while let Some(c) = chars
                    .peek()
                    .filter(|c| c.is_alphabetic() || matches!(c, '\'' | '’') || is_mark(*c))
                {
                    chars.bump(c);
                }
                Kind::Word
            } else {
                chars.bump(c);
                Kind::Sign(c)
            };
        out.push(Token {
            kind,
            start,
            end: chars.at,
        });
    }
}

/// A combining accent.
fn is_mark(c: char) -> bool {
    ('\u{300}'..='\u{36f}').contains(&c)
}

/// Whether a dot here begins `.5` rather than ending a word.
fn starts_decimal(text: &str, at: usize) -> bool {
    let after = text[at + 1..]
        .chars()
        .next()
        .is_some_and(|c| c.is_ascii_digit());
    let before = text[..at].chars().next_back();
    after && before.is_none_or(|c| !c.is_alphanumeric())
}

fn number(chars: &mut Chars<'_>, locale: Locale) -> Kind {
    let from = chars.at;
    let (count, mut whole) = chars.digits().unwrap_or((0, 0.0));
    let raised = chars.text[from..chars.at]
        .chars()
        .next()
        .is_some_and(|c| matches!(c, '⁰'..='⁹' | '¹' | '²' | '³'));
    if count > 0 {
        // 1¹⁄₂: the raised digits of a fraction behind a whole number.
        if !raised && let Some(value) = raised_fraction(chars, from) {
            return Kind::Decimal(value);
        }
        if let Some(value) = chars.over(whole) {
            return Kind::Fraction(value);
        }
    }
    // 1,000 and 1.000,5 and 1,5 and 1.5
    while let Some(mark) = chars.peek().filter(|c| matches!(c, '.' | ',')) {
        let back = chars.at;
        chars.bump(mark);
        let Some((places, part)) = chars.digits() else {
            chars.at = back;
            break;
        };
        let groups = count > 0 && count <= 3 && whole > 0.0 && places == 3;
        let thousands = groups && (mark == ',') == (locale != Locale::Metric)
            || groups && mark == ',' && locale == Locale::Metric && whole >= 10.0;
        if thousands {
            whole = whole * 1000.0 + part;
            continue;
        }
        let mut value = whole + part / 10f64.powi(places as i32);
        if let Some(power) = exponent(chars) {
            value *= 10f64.powi(power);
        }
        return Kind::Decimal(value);
    }
    match exponent(chars) {
        Some(power) => Kind::Decimal(whole * 10f64.powi(power)),
        None => Kind::Whole(whole),
    }
}

/// `e300` behind a number: nobody bakes with it, but it must not be read as `1 e 300`.
fn exponent(chars: &mut Chars<'_>) -> Option<i32> {
    let back = chars.at;
    if let Some(c) = chars.peek().filter(|c| matches!(c, 'e' | 'E')) {
        chars.bump(c);
        if let Some(sign) = chars.peek().filter(|c| matches!(c, '+' | '-')) {
            chars.bump(sign);
        }
        if let Some((_, n)) = chars.digits() {
            return Some(if n > 400.0 { 400 } else { n as i32 });
        }
    }
    chars.at = back;
    None
}

/// `1¹⁄₂`: plain digits, then raised ones over lowered ones, in one run of digits.
fn raised_fraction(chars: &mut Chars<'_>, from: usize) -> Option<f64> {
    let run = &chars.text[from..chars.at];
    let cut = run.char_indices().find(|(_, c)| !c.is_ascii_digit())?.0;
    let whole: f64 = run[..cut].parse().ok()?;
    let top = run[cut..]
        .chars()
        .try_fold(0.0, |n, c| Some(n * 10.0 + f64::from(digit(c)?)))?;
    Some(whole + chars.over(top)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn first(text: &str, locale: Locale, want: Kind) {
        let mut out = Vec::new();
        lex(text, locale, &mut out);
        assert_eq!(out[0].kind, want, "{text}");
    }

    #[test]
    fn numbers_in_every_form() {
        use Kind::{Decimal, Fraction, Whole};
        use Locale::{Metric, Us};
        first("1/2", Us, Fraction(0.5));
        first("1⁄2", Us, Fraction(0.5));
        first("¹⁄₂", Us, Fraction(0.5));
        first("1 /2 tsp", Us, Fraction(0.5));
        first("½", Us, Fraction(0.5));
        first("1¹⁄₂ cups", Us, Decimal(1.5));
        first("1,000 g", Us, Whole(1000.0));
        first("1.000 g", Metric, Whole(1000.0));
        first("1,5 dl", Metric, Decimal(1.5));
        first(".5 cup", Us, Decimal(0.5));
        first("1.25", Us, Decimal(1.25));
        first("1/0 cup", Us, Fraction(f64::INFINITY));
        first("120g", Us, Whole(120.0));
    }
}
