//! Money: sums in their currencies, never added across them.

use quantity::{Quantity, Ratio, Spread};
use std::collections::BTreeMap;

/// Money in each currency it was paid in, low–likely–high. Sums of two currencies stand beside
/// each other: no rate is known here, and none is guessed.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Money(BTreeMap<String, Spread<Ratio>>);

impl Money {
    /// An amount in one currency.
    #[must_use]
    pub fn of(currency: &str, amount: Spread<Ratio>) -> Self {
        Self([(currency.to_owned(), amount)].into())
    }
    /// The sum of parts. Doubts of separate parts are taken as independent.
    #[must_use]
    pub fn sum<'a>(parts: impl IntoIterator<Item = &'a Self>) -> Self {
        let mut all: BTreeMap<String, Vec<Spread<Ratio>>> = BTreeMap::new();
        for part in parts {
            for (currency, amount) in &part.0 {
                all.entry(currency.clone()).or_default().push(*amount);
            }
        }
        Self(
            all.into_iter()
                .map(|(c, amounts)| (c, Spread::sum_independent(amounts)))
                .collect(),
        )
    }
    /// Every amount times a factor.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        let scaled = |(c, a): (&String, &Spread<Ratio>)| (c.clone(), a.scaled(factor));
        Self(self.0.iter().map(scaled).collect())
    }
    /// Every amount through a function of it.
    #[must_use]
    pub fn each(&self, f: impl Fn(Spread<Ratio>) -> Spread<Ratio>) -> Self {
        Self(self.0.iter().map(|(c, a)| (c.clone(), f(*a))).collect())
    }
    /// Currencies with their amounts, by the currency's letters.
    pub fn amounts(&self) -> impl Iterator<Item = (&str, Spread<Ratio>)> {
        self.0.iter().map(|(c, a)| (c.as_str(), *a))
    }
    /// The amount in a currency.
    #[must_use]
    pub fn get(&self, currency: &str) -> Option<Spread<Ratio>> {
        self.0.get(currency).copied()
    }
    /// Whether there is nothing.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
    /// Whether there is more than one currency.
    #[must_use]
    pub fn is_mixed(&self) -> bool {
        self.0.len() > 1
    }
    /// In words, with the range where it shows: `4.32 GBP (4.10–4.60) and 2.00 EUR`.
    #[must_use]
    pub fn words(&self) -> String {
        if self.0.is_empty() {
            return "no price".to_owned();
        }
        let parts: Vec<String> = self.amounts().map(|(c, a)| spread(c, a)).collect();
        parts.join(" and ")
    }
    /// The likely amounts in words: `4.32 GBP and 2.00 EUR`.
    #[must_use]
    pub fn likely_words(&self) -> String {
        if self.0.is_empty() {
            return "no price".to_owned();
        }
        let parts: Vec<String> = self
            .amounts()
            .map(|(c, a)| amount(c, a.likely().value()))
            .collect();
        parts.join(" and ")
    }
}

/// Places after the point of a currency's amounts: its minor unit.
///
/// Source: ISO 4217, list one, minor units; from memory. Two for all that is not listed here.
#[must_use]
pub fn places(currency: &str) -> usize {
    match currency {
        "JPY" | "KRW" | "VND" | "ISK" | "CLP" | "PYG" | "UGX" | "RWF" | "XAF" | "XOF" | "XPF" => 0,
        "BHD" | "IQD" | "JOD" | "KWD" | "LYD" | "OMR" | "TND" => 3,
        _ => 2,
    }
}

/// The smallest coin of a currency that amounts are said in.
fn coin(currency: &str) -> f64 {
    0.1f64.powi(places(currency) as i32)
}

/// An amount without its currency, to the minor unit.
#[must_use]
pub fn figure(currency: &str, value: f64) -> String {
    let places = places(currency);
    let text = format!("{value:.places$}");
    if text.bytes().all(|b| matches!(b, b'0' | b'.' | b'-')) {
        format!("{:.places$}", 0.0)
    } else {
        text
    }
}

/// An amount in words: `4.32 GBP`; what is less than a coin as that: `under 0.01 GBP`.
#[must_use]
pub fn amount(currency: &str, value: f64) -> String {
    let least = coin(currency);
    // What is a coin but for the last bits is one.
    if value > 0.0 && value < least * (1.0 - 1e-9) {
        return format!("under {} {currency}", figure(currency, least));
    }
    format!("{} {currency}", figure(currency, value))
}

/// A range in words: `4.32 GBP (4.10–4.60)`, or the amount alone where it does not show.
#[must_use]
pub fn spread(currency: &str, a: Spread<Ratio>) -> String {
    let [low, likely, high] = [a.low(), a.likely(), a.high()].map(|v| figure(currency, v.value()));
    let words = amount(currency, a.likely().value());
    let all_less = a.low().value() >= 0.0 && a.high().value() < coin(currency);
    if all_less || low == high || low == likely && high == likely {
        words
    } else {
        format!("{words} ({low}–{high})")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exact(v: f64) -> Spread<Ratio> {
        Spread::exact(Ratio::new(v))
    }

    #[test]
    fn currencies_are_never_added() {
        let sum = Money::sum(&[
            Money::of("GBP", exact(1.5)),
            Money::of("EUR", exact(2.0)),
            Money::of("GBP", exact(0.25)),
        ]);
        assert!(sum.is_mixed());
        assert_eq!(sum.words(), "2.00 EUR and 1.75 GBP");
    }

    #[test]
    fn amounts_have_the_digits_that_mean_something() {
        for (currency, value, words) in [
            ("GBP", 4.316, "4.32 GBP"),
            ("GBP", 0.0, "0.00 GBP"),
            ("USD", 0.019, "0.02 USD"),
            ("GBP", 0.01, "0.01 GBP"),
            ("GBP", 0.007, "under 0.01 GBP"),
            ("GBP", 0.0002, "under 0.01 GBP"),
            ("JPY", 0.4, "under 1 JPY"),
            ("JPY", 431.6, "432 JPY"),
            ("KWD", 1.2345, "1.234 KWD"),
            ("USD", -0.52, "-0.52 USD"),
        ] {
            assert_eq!(amount(currency, value), words);
        }
        let range = Spread::new(Ratio::new(4.1), Ratio::new(4.3), Ratio::new(4.6));
        assert_eq!(spread("GBP", range), "4.30 GBP (4.10–4.60)");
        assert_eq!(spread("GBP", exact(4.3)), "4.30 GBP");
        // A range that no coin shows is none.
        let few = Spread::new(Ratio::new(0.002), Ratio::new(0.004), Ratio::new(0.008));
        assert_eq!(spread("GBP", few), "under 0.01 GBP");
        let some = Spread::new(Ratio::new(0.004), Ratio::new(0.008), Ratio::new(0.02));
        assert_eq!(spread("GBP", some), "under 0.01 GBP (0.00–0.02)");
    }
}
