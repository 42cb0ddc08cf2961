//! What pans, ovens and heights do: a table, each row with its source.

use super::pan::Make;
use crate::data::rows;
use std::sync::LazyLock;

/// One fact.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OvenFact {
    /// Its key.
    pub key: &'static str,
    /// When it is offered: `pan:dark`, `oven:fan`, `height`, `any`.
    pub when: &'static str,
    /// What it is about.
    pub what: &'static str,
    /// The fact.
    pub words: &'static str,
    /// Its source with how it is known.
    pub source: String,
}

static FACTS: LazyLock<Vec<OvenFact>> = LazyLock::new(|| {
    rows(include_str!("../../data/oven_facts.tsv"))
        .map(|r| {
            let source = r.get("source");
            OvenFact {
                key: r.get("key"),
                when: r.get("when"),
                what: r.get("what"),
                words: r.get("words"),
                source: if r.get("status") == "from memory" {
                    format!("{source} (from memory)")
                } else {
                    source.to_owned()
                },
            }
        })
        .collect()
});

/// All facts.
#[must_use]
pub fn facts() -> &'static [OvenFact] {
    &FACTS
}

/// Below this height nothing is said of heights, m (common practice).
const HEIGHT: f64 = crate::leaven::LEAST;

/// Facts that count for an oven (`still`, `fan`, `gas`), pans by their words or makes, and a height.
#[must_use]
pub fn offered<S: AsRef<str>>(oven: &str, pans: &[S], metres: f64) -> Vec<&'static OvenFact> {
    let pans: Vec<String> = pans.iter().map(|p| p.as_ref().to_lowercase()).collect();
    let has = |make: &str| pans.iter().any(|p| p.contains(make));
    FACTS
        .iter()
        .filter(|f| match f.when.split_once(':') {
            Some(("pan", make)) => {
                has(make) || make == Make::Dark.word() && (has("black") || has("non-stick"))
            }
            Some(("oven", kind)) => kind == oven,
            _ => f.when == "height" && metres >= HEIGHT,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_fact_has_a_source() {
        assert!(facts().len() >= 20);
        for f in facts() {
            assert!(!f.key.is_empty() && !f.words.is_empty(), "{f:?}");
            assert!(!f.source.is_empty(), "{f:?}");
            let known = matches!(f.when, "any" | "height")
                || f.when.starts_with("oven:")
                || Make::ALL
                    .iter()
                    .any(|m| f.when == format!("pan:{}", m.word()));
            assert!(known, "{f:?}");
        }
        let mut keys: Vec<_> = facts().iter().map(|f| f.key).collect();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), facts().len());
    }

    #[test]
    fn offered_where_they_count() {
        let keys = |oven: &str, pans: &[&str], m: f64| -> Vec<&str> {
            offered(oven, pans, m).iter().map(|f| f.key).collect()
        };
        assert_eq!(keys("still", &[], 0.0), ["still"]);
        assert_eq!(
            keys("fan", &["dark loaf tin"], 0.0),
            ["pan_dark", "fan", "fan_time"]
        );
        assert!(keys("gas", &["glass dish"], 1609.0).contains(&"height_core"));
    }
}
