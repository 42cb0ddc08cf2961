//! Which country's cups and spoons a text means.

use std::str::FromStr;

/// The measures a text is written in. Never guessed from a word: the caller says it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Locale {
    /// US customary: cup 236.588 mL, tablespoon 14.787 mL.
    #[default]
    Us,
    /// Metric (New Zealand, Canada, South Africa): cup 250 mL, tablespoon 15 mL.
    Metric,
    /// United Kingdom: metric spoons, cup 250 mL, imperial pint and fluid ounce.
    Uk,
    /// Australia: tablespoon 20 mL, cup 250 mL.
    Au,
}

impl Locale {
    /// All locales, in the order used by tables.
    pub const ALL: [Self; 4] = [Self::Us, Self::Metric, Self::Uk, Self::Au];

    /// The key used on the command line and in tables.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Us => "us",
            Self::Metric => "metric",
            Self::Uk => "uk",
            Self::Au => "au",
        }
    }
    /// Place in [`Self::ALL`].
    #[must_use]
    pub fn index(self) -> usize {
        self as usize
    }
}

/// A locale key that is none of `us`, `metric`, `uk`, `au`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnknownLocale(pub String);

impl std::fmt::Display for UnknownLocale {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "no locale '{}': write us, metric, uk or au", self.0)
    }
}
impl std::error::Error for UnknownLocale {}

impl FromStr for Locale {
    type Err = UnknownLocale;
    fn from_str(s: &str) -> Result<Self, UnknownLocale> {
        Self::ALL
            .into_iter()
            .find(|l| l.key().eq_ignore_ascii_case(s))
            .ok_or_else(|| UnknownLocale(s.to_owned()))
    }
}
