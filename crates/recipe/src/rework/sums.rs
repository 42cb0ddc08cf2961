//! The arithmetic of a change, as lines of plain text that can be worked out again.
//!
//! A line is a sum, `308.9 g water ÷ 500 g flour = 61.8 %`, or a remark without `=`. One that
//! begins with a sign and a space goes on from the result of the last: `× 1.4 = 86.5 %`. Signs are `+ − × ÷ ^`,
//! brackets and `√( )`, ^ binding closest, × and ÷ before + and −; a figure is followed by its unit and by words of what
//! it is. `%` means a hundredth.
//!
//! How a figure is written says how exact it is: without decimals, or with one below 10, as it
//! stands; else to half of its last digit. [`figure`] writes it so, and [`check`] works every line
//! out again within that.

use std::error::Error;
use std::fmt;

/// A figure as sums show it: exact where it is short, else with one decimal from 10 up, two below
/// 10, four below 0.1.
///
/// # Inputs
/// Any finite number; others are written as `?`, and no sum holds with them.
///
/// # Example
/// ```
/// use recipe::rework::sums::figure;
/// assert_eq!(figure(500.0), "500");
/// assert_eq!(figure(1.4), "1.4");
/// assert_eq!(figure(308.88), "308.9");
/// assert_eq!(figure(2.0 / 3.0), "0.67");
/// assert_eq!(figure(60.0 / 1.0001), "60.0");
/// ```
#[must_use]
pub fn figure(x: f64) -> String {
    if !x.is_finite() {
        return "?".to_owned();
    }
    let sign = if x < -1e-9 { "−" } else { "" };
    let x = x.abs();
    let short = if x < 9.95 { 1 } else { 0 };
    for digits in 0..=short {
        let rounded = format!("{x:.digits$}");
        if rounded.parse().is_ok_and(is_near(x)) {
            return format!("{sign}{rounded}");
        }
    }
    let digits = match x {
        _ if x >= 9.995 => 1,
        _ if x >= 0.1 => 2,
        _ => 4,
    };
    format!("{sign}{x:.digits$}")
}

fn is_near(x: f64) -> impl Fn(f64) -> bool {
    move |rounded| (x - rounded).abs() < 1e-7 * x.max(1.0)
}

/// Grams: `308.9 g`.
#[must_use]
pub fn grams(g: f64) -> String {
    format!("{} g", figure(g))
}

/// A percentage: `61.8 %`.
#[must_use]
pub fn percent(p: f64) -> String {
    format!("{} %", figure(p))
}

/// Words for what a figure is, without signs that a sum would take for its own.
#[must_use]
pub fn called(name: &str) -> String {
    let words: Vec<&str> = name
        .split_whitespace()
        .map(|w| w.trim_matches(['(', ')']))
        .filter(|w| {
            !w.is_empty()
                && !"+−×÷=√^".contains(w)
                && !w.contains(|c: char| c.is_ascii_digit() || c == '%')
        })
        .collect();
    words.join(" ")
}

/// A sum that does not come out.
#[derive(Debug, Clone, PartialEq)]
pub struct SumError {
    /// The line.
    pub line: String,
    /// What is wrong with it.
    pub what: String,
}

impl fmt::Display for SumError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "'{}': {}", self.line, self.what)
    }
}

impl Error for SumError {}

/// A line without the degrees in brackets: '180 °C (350 °F) − 10 °C' is '180 °C − 10 °C'.
fn one_scale(line: &str) -> String {
    let mut out = String::new();
    let mut rest = line;
    while let Some((before, behind)) = rest.split_once(" (") {
        let Some((inner, after)) = behind.split_once(')') else {
            break;
        };
        out.push_str(before);
        if !inner.ends_with("°F") && !inner.ends_with("°C") {
            out.push_str(" (");
            out.push_str(inner);
            out.push(')');
        }
        rest = after;
    }
    out + rest
}

/// Works every sum out again.
///
/// # Inputs
/// Lines of one change, in order. Lines without `=` are remarks.
///
/// # Returns
/// The last result, as it is written: of a percentage the percents. `None` without sums.
///
/// # Errors
/// [`SumError`]: a line cannot be read, or its result is not what its figures give, each taken to
/// half of its last digit.
///
/// # Example
/// ```
/// use recipe::rework::sums::check;
/// let lines = [
///     "308.9 g water ÷ 500 g flour = 61.8 %".to_owned(),
///     "× 1.4 = 86.5 %".to_owned(),
///     "86.5 % × 500 g − 308.9 g = 123.6 g".to_owned(),
/// ];
/// assert_eq!(check(&lines).unwrap(), Some(123.6));
/// assert!(check(&["2 g + 2 g = 5 g".to_owned()]).is_err());
/// ```
pub fn check(lines: &[String]) -> Result<Option<f64>, SumError> {
    let (mut before, mut last) = (None, None);
    for line in lines {
        let wrong = |what: String| SumError {
            line: line.clone(),
            what,
        };
        // A degree's twin in the other scale is for the reader.
        let one = one_scale(line);
        let Some((sum, result)) = one.rsplit_once('=') else {
            before = None;
            continue;
        };
        let mut reader = Reader {
            tokens: tokens(sum),
            at: 0,
        };
        let carried = matches!(
            reader.tokens.first(),
            Some(Token::Sign('+' | '−' | '×' | '÷'))
        );
        let got = if carried {
            let from = before.ok_or_else(|| wrong("it goes on from no result".to_owned()))?;
            reader.rest(from)
        } else {
            reader.sum()
        }
        .filter(|_| reader.at == reader.tokens.len())
        .ok_or_else(|| wrong("it cannot be read".to_owned()))?;
        let shown = match tokens(result).as_slice() {
            [Token::Figure(x)] => *x,
            _ => return Err(wrong("it has no result".to_owned())),
        };
        let slack = 1e-6 * (1.0 + shown.high.abs());
        if got.low > shown.high + slack || got.high < shown.low - slack {
            return Err(wrong(format!(
                "its figures give {:.4} to {:.4}",
                got.low, got.high
            )));
        }
        before = Some(shown);
        let percent = result.contains('%');
        last = Some((shown.low + shown.high) / 2.0 * if percent { 100.0 } else { 1.0 });
    }
    // What was written has two decimals or fewer; the halves of its ends may be off in the last bit.
    Ok(last.map(|x| (x * 1e4).round() / 1e4))
}

/// A value between two ends.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Span {
    low: f64,
    high: f64,
}

impl Span {
    fn of(all: [f64; 4]) -> Option<Self> {
        let low = all.iter().copied().fold(f64::INFINITY, f64::min);
        let high = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        (low.is_finite() && high.is_finite()).then_some(Self { low, high })
    }
    fn minus(self) -> Self {
        Self {
            low: -self.high,
            high: -self.low,
        }
    }
    fn plus(self, b: Self) -> Self {
        Self {
            low: self.low + b.low,
            high: self.high + b.high,
        }
    }
    fn times(self, b: Self) -> Option<Self> {
        Self::of([
            self.low * b.low,
            self.low * b.high,
            self.high * b.low,
            self.high * b.high,
        ])
    }
    fn over(self, b: Self) -> Option<Self> {
        if b.low <= 0.0 && b.high >= 0.0 {
            return None;
        }
        Self::of([
            self.low / b.low,
            self.low / b.high,
            self.high / b.low,
            self.high / b.high,
        ])
    }
    fn root(self) -> Option<Self> {
        (self.low >= 0.0).then(|| Self {
            low: self.low.sqrt(),
            high: self.high.sqrt(),
        })
    }
}

#[derive(Debug, Clone, PartialEq)]
enum Token {
    Figure(Span),
    Sign(char),
}

/// Figures with their units, and signs. Words are passed over.
fn tokens(text: &str) -> Vec<Token> {
    let mut out: Vec<Token> = Vec::new();
    let chars: Vec<char> = text.chars().collect();
    let mut i = 0;
    while i < chars.len() {
        let c = chars[i];
        let after_letter = i > 0 && chars[i - 1].is_alphanumeric();
        // A minus without a space behind it belongs to its figure.
        let minus = c == '−' && chars.get(i + 1).is_some_and(char::is_ascii_digit);
        if minus || c.is_ascii_digit() && !after_letter {
            i += usize::from(minus);
            let from = i;
            while i < chars.len()
                && (chars[i].is_ascii_digit()
                    || chars[i] == '.' && chars.get(i + 1).is_some_and(char::is_ascii_digit))
            {
                i += 1;
            }
            let word: String = chars[from..i].iter().collect();
            let rest: String = chars[i..].iter().collect();
            let per = if rest.trim_start().starts_with('%') {
                100.0
            } else {
                1.0
            };
            match span(&word) {
                Some(s) => {
                    let s = Span {
                        low: s.low / per,
                        high: s.high / per,
                    };
                    out.push(Token::Figure(if minus { s.minus() } else { s }));
                }
                None => out.push(Token::Sign('?')),
            }
            continue;
        }
        if "+−×÷()√^?".contains(c) {
            out.push(Token::Sign(c));
        }
        i += 1;
    }
    out
}

fn span(word: &str) -> Option<Span> {
    let x: f64 = word.parse().ok()?;
    let digits = word.split_once('.').map_or(0, |(_, d)| d.len());
    let half = if digits == 0 || digits == 1 && x < 9.95 {
        0.0
    } else {
        0.5 / 10f64.powi(i32::try_from(digits).ok()?)
    };
    Some(Span {
        low: x - half,
        high: x + half,
    })
}

struct Reader {
    tokens: Vec<Token>,
    at: usize,
}

impl Reader {
    fn sign(&mut self, of: &str) -> Option<char> {
        match self.tokens.get(self.at) {
            Some(Token::Sign(c)) if of.contains(*c) => {
                self.at += 1;
                Some(*c)
            }
            _ => None,
        }
    }
    fn sum(&mut self) -> Option<Span> {
        let first = self.product()?;
        self.terms(first)
    }
    /// What follows a result that is taken over.
    fn rest(&mut self, from: Span) -> Option<Span> {
        let first = self.factors(from)?;
        self.terms(first)
    }
    fn terms(&mut self, mut x: Span) -> Option<Span> {
        while let Some(sign) = self.sign("+−") {
            let next = self.product()?;
            x = x.plus(if sign == '−' { next.minus() } else { next });
        }
        Some(x)
    }
    fn product(&mut self) -> Option<Span> {
        let first = self.power()?;
        self.factors(first)
    }
    fn factors(&mut self, mut x: Span) -> Option<Span> {
        while let Some(sign) = self.sign("×÷") {
            let next = self.power()?;
            x = if sign == '×' {
                x.times(next)?
            } else {
                x.over(next)?
            };
        }
        Some(x)
    }
    fn power(&mut self) -> Option<Span> {
        let base = self.one()?;
        if self.sign("^").is_none() {
            return Some(base);
        }
        let to = self.one()?;
        if base.low <= 0.0 {
            return None;
        }
        Span::of([
            base.low.powf(to.low),
            base.low.powf(to.high),
            base.high.powf(to.low),
            base.high.powf(to.high),
        ])
    }
    fn one(&mut self) -> Option<Span> {
        if self.sign("√").is_some() {
            return self.one()?.root();
        }
        if self.sign("(").is_some() {
            let x = self.sum()?;
            self.sign(")")?;
            return Some(x);
        }
        match self.tokens.get(self.at) {
            Some(Token::Figure(x)) => {
                self.at += 1;
                Some(*x)
            }
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{called, check, figure, grams, percent};

    #[track_caller]
    fn holds(lines: &[&str]) -> Option<f64> {
        let lines: Vec<String> = lines.iter().map(|l| (*l).to_owned()).collect();
        check(&lines).unwrap()
    }

    /// The worked conversion of an enriched dough: 500 g of flour, 240 g of whole milk, 100 g of
    /// egg, 80 g of butter and 40 g of honey, derived from SR28's water.
    #[test]
    fn the_worked_example_holds() {
        let last = holds(&[
            "240 g milk × 88.13 % + 100 g egg × 76.15 % + 80 g butter × 17.94 % + 40 g honey × 17.1 % = 308.9 g",
            "308.9 g water ÷ 500 g flour = 61.8 %",
            "× 1.4 = 86.5 %",
            "held inside 70–110 %",
            "(86.5 % − 61.8 %) × 500 g = 123.5 g",
        ]);
        assert_eq!(last, Some(123.5));
    }

    #[test]
    fn what_does_not_come_out_is_told() {
        for line in [
            "2 g + 2 g = 5 g",
            "308.9 g ÷ 500 g = 62.8 %",
            "× 2 = 4",
            "2 × = 4",
            "(2 + 2 = 4",
            "2 ÷ 0 = 0",
            "? g + 2 g = 2 g",
            "2 + 2 =",
        ] {
            assert!(check(&[line.to_owned()]).is_err(), "{line}");
        }
    }

    #[test]
    fn every_figure_is_read_back_to_what_it_was() {
        for x in [
            0.0,
            0.004,
            0.05,
            0.1,
            0.333,
            1.0,
            1.4,
            1.45,
            2.0 / 3.0,
            9.94,
            9.96,
            9.999,
            10.0,
            10.04,
            61.776,
            99.96,
            308.88,
            1234.56,
            -3.2,
            -45.67,
        ] {
            let line = format!("{} × 1 = {}", figure(x), figure(x));
            let back = check(std::slice::from_ref(&line)).unwrap().unwrap();
            assert!(
                (back - x).abs() <= 0.051_f64.min(0.06 * x.abs().max(0.1)),
                "{line}"
            );
        }
    }

    #[test]
    fn roots_brackets_units_and_names() {
        assert_eq!(holds(&["√(80 % × 45 %) = 60 %"]), Some(60.0));
        assert_eq!(holds(&["12 g ÷ (3 g − 1 g) = 6"]), Some(6.0));
        assert_eq!(holds(&["40 % × (90 % ÷ 40 %) ^ 0.5 = 60 %"]), Some(60.0));
        assert_eq!(called("milk (2 % fat) + cream"), "milk fat cream");
        assert_eq!((grams(12.0), percent(6.5)), ("12 g".into(), "6.5 %".into()));
    }
}
