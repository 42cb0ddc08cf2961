//! Densities of doughs, batters and fillings.

use crate::data::rows;
use crate::leaven::status;
use crate::rework::style::Style;
use larder::Status;
use quantity::{Ratio, Spread};
use std::sync::LazyLock;

/// A density with where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Density {
    /// Key in `data/densities.tsv`, or the style's.
    pub key: &'static str,
    /// Its name.
    pub name: &'static str,
    /// g/mL.
    pub value: Spread<Ratio>,
    /// Where it comes from.
    pub source: &'static str,
    /// What it rests on.
    pub status: Status,
}

static DENSITIES: LazyLock<Vec<Density>> = LazyLock::new(|| {
    rows(include_str!("../data/densities.tsv"))
        .map(|r| Density {
            key: r.get("key"),
            name: r.get("name"),
            value: three(&r),
            source: r.get("source"),
            status: status(r.get("status")),
        })
        .collect()
});

pub(crate) fn three(r: &crate::data::Cells) -> Spread<Ratio> {
    let n = |c| Some(r.number(c)).filter(|v| v.is_finite()).unwrap_or(0.0);
    Spread::new(
        Ratio::new(n("low")),
        Ratio::new(n("likely")),
        Ratio::new(n("high")),
    )
}

/// All densities of the table.
#[must_use]
pub fn all() -> &'static [Density] {
    &DENSITIES
}

/// The density of a key or name: `jam`, `cream cheese`.
#[must_use]
pub fn named(words: &str) -> Option<&'static Density> {
    let words = words.trim().to_lowercase();
    DENSITIES
        .iter()
        .find(|d| d.name == words || d.key == words.replace([' ', '-'], "_"))
}

/// The keys, for messages.
pub(crate) fn names() -> String {
    let keys: Vec<String> = DENSITIES.iter().map(|d| d.key.replace('_', " ")).collect();
    keys.join(", ")
}

/// The density of a style's dough or batter, of [`crate::rework::style`]; of any dough where the
/// style has none or there is no style.
#[must_use]
pub fn of_style(style: Option<Style>) -> Density {
    let own = style.and_then(|s| Some((s, s.range("density")?)));
    match own {
        Some((s, r)) => Density {
            key: s.key(),
            name: s.name(),
            value: r.value,
            source: r.source,
            status: r.status,
        },
        None => DENSITIES
            .iter()
            .find(|d| d.key == "dough")
            .cloned()
            .unwrap_or(Density {
                key: "dough",
                name: "dough",
                value: Spread::exact(Ratio::new(1.1)),
                source: "common practice, no source",
                status: Status::CommonPractice,
            }),
    }
}

impl Density {
    /// Its source, with 'from memory' where it is that.
    #[must_use]
    pub fn cited(&self) -> String {
        cited(self.source, self.status)
    }
}

pub(crate) fn cited(source: &str, status: Status) -> String {
    match status {
        Status::FromMemory => format!("{source} (from memory)"),
        Status::CommonPractice => "common practice, no source".to_owned(),
        Status::Seen => source.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_whole() {
        assert!(DENSITIES.len() > 15);
        for d in all() {
            assert!(
                d.value.low().get() > 0.2 && d.value.high().get() < 1.6,
                "{d:?}"
            );
            assert!(!d.source.is_empty() && !d.name.is_empty(), "{d:?}");
        }
    }

    /// B20: a specific volume of 0.85 mL/g is 1.176 g/mL (Sourdough Biotechnology, Table 3.4).
    #[test]
    fn wheat_dough_is_by_its_specific_volume() {
        let d = named("wheat dough, unproofed").expect("row");
        assert!((d.value.likely().get() - 1.0 / 0.85).abs() < 0.005);
    }

    /// USDA SR28 cups and tablespoons over 236.588 and 14.787 mL, by the rows' own sources.
    #[test]
    fn fillings_are_what_their_cups_weigh() {
        for (key, grams, ml) in [
            ("butter", 227.0, 236.588),
            ("jam", 20.0, 14.787),
            ("whipped_cream", 120.0, 236.588),
            ("cream_cheese", 232.0, 236.588),
        ] {
            let got = named(key).expect(key).value.likely().get();
            assert!((got - grams / ml).abs() < 0.006, "{key}: {got}");
        }
    }
}
