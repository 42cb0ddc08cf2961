//! What shaping rests on besides geometry.

use crate::data::rows;
use crate::density::{cited, three};
use crate::leaven::status;
use quantity::{Ratio, Spread};
use std::sync::LazyLock;

/// A figure or caution of practice.
#[derive(Debug, Clone, PartialEq)]
pub struct Practice {
    /// Its key.
    pub key: &'static str,
    /// Low, likely and high; zeros where the row has words alone.
    pub value: Spread<Ratio>,
    /// The unit in words.
    pub unit: &'static str,
    /// The caution, or what the figure is of.
    pub words: &'static str,
    /// Where it comes from.
    pub source: String,
}

static PRACTICE: LazyLock<Vec<Practice>> = LazyLock::new(|| {
    rows(include_str!("../../data/shape_practice.tsv"))
        .map(|r| Practice {
            key: r.get("key"),
            value: three(&r),
            unit: r.get("unit"),
            words: r.get("words"),
            source: cited(r.get("source"), status(r.get("status"))),
        })
        .collect()
});

/// A row of `data/shape_practice.tsv`; its first where there is no such key, which the tests of
/// this module rule out.
pub(super) fn practice(key: &str) -> &'static Practice {
    let at = PRACTICE.iter().position(|p| p.key == key).unwrap_or(0);
    &PRACTICE[at]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_is_whole() {
        for p in PRACTICE.iter() {
            assert!(!p.words.is_empty() && !p.source.is_empty(), "{p:?}");
        }
        let mut keys: Vec<&str> = PRACTICE.iter().map(|p| p.key).collect();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), PRACTICE.len());
    }
}
