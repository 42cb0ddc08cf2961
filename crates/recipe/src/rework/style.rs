//! Styles of dough and batter: their published ranges, and telling one from ratios and words.

use crate::data::rows;
use larder::Status;
use quantity::{Ratio, Spread};
use std::sync::LazyLock;

/// A style of dough or batter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Style(usize);

/// One published or practised range of a style.
#[derive(Debug, Clone, PartialEq)]
pub struct StyleRange {
    /// Low, likely, high.
    pub value: Spread<Ratio>,
    /// The unit in words.
    pub unit: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// What it rests on.
    pub status: Status,
    /// A remark.
    pub note: &'static str,
}

impl StyleRange {
    /// The source with its status, for a change's reason.
    #[must_use]
    pub fn cited(&self) -> String {
        match self.status {
            Status::CommonPractice => "common practice, no source".to_owned(),
            Status::Seen => self.source.to_owned(),
            Status::FromMemory => format!("{} (from memory)", self.source),
        }
    }
}

struct Row {
    key: &'static str,
    name: &'static str,
    also: &'static str,
    cautions: Vec<&'static str>,
    ranges: Vec<(&'static str, StyleRange)>,
    windows: Vec<(&'static str, [f64; 4])>,
    words: Vec<&'static str>,
    weight: f64,
}

static STYLES: LazyLock<Vec<Row>> = LazyLock::new(|| {
    let mut styles: Vec<Row> = rows(include_str!("../../data/styles.tsv"))
        .map(|r| Row {
            key: r.get("key"),
            name: r.get("name"),
            also: r.get("also"),
            cautions: r.get("cautions").split('|').collect(),
            ranges: Vec::new(),
            windows: Vec::new(),
            words: Vec::new(),
            weight: 1.0,
        })
        .collect();
    for r in rows(include_str!("../../data/style_ranges.tsv")) {
        if let Some(s) = styles.iter_mut().find(|s| s.key == r.get("style")) {
            let of = |c| Ratio::new(r.number(c));
            let range = StyleRange {
                value: Spread::new(of("low"), of("likely"), of("high")),
                unit: r.get("unit"),
                source: r.get("source"),
                status: if r.get("status") == "seen" {
                    Status::Seen
                } else {
                    Status::CommonPractice
                },
                note: r.get("note"),
            };
            s.ranges.push((r.get("parameter"), range));
        }
    }
    for r in rows(include_str!("../../data/style_ratios.tsv")) {
        if let Some(s) = styles.iter_mut().find(|s| s.key == r.get("style")) {
            s.windows.push((
                r.get("feature"),
                ["from", "full_from", "full_to", "to"].map(|c| r.number(c)),
            ));
        }
    }
    for r in rows(include_str!("../../data/style_words.tsv")) {
        if let Some(s) = styles.iter_mut().find(|s| s.key == r.get("style")) {
            s.words = r.get("words").split(' ').collect();
            s.weight = r.number("weight");
        }
    }
    styles
});

impl Style {
    /// Every style.
    pub fn all() -> impl Iterator<Item = Self> {
        (0..STYLES.len()).map(Self)
    }
    /// The style with a key; keys of the trade tables are accepted too.
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        STYLES
            .iter()
            .position(|s| s.key == key || (!s.also.is_empty() && s.also == key))
            .map(Self)
    }
    /// The style that words mean: a key, its printed name, or a word only one style is known by
    /// ('scones', 'muffin', 'brioche').
    #[must_use]
    pub fn named(words: &str) -> Option<Self> {
        let words = words.trim().to_lowercase();
        let as_key = words.replace([' ', '-'], "_");
        if let Some(found) = Self::from_key(&as_key) {
            return Some(found);
        }
        if let Some(at) = STYLES.iter().position(|s| s.name == words) {
            return Some(Self(at));
        }
        let one = words.trim_end_matches('s');
        let known = |s: &Row| {
            s.name
                .split([' ', ','])
                .any(|w| w.trim_end_matches('s') == one)
                || s.words.iter().any(|w| w.trim_end_matches('s') == one)
        };
        let mut all = STYLES
            .iter()
            .enumerate()
            .filter(|(_, s)| !one.is_empty() && known(s));
        let first = all.next()?;
        // A word of two styles says neither.
        all.next().is_none().then_some(Self(first.0))
    }
    /// The key.
    #[must_use]
    pub fn key(self) -> &'static str {
        STYLES[self.0].key
    }
    /// The name on screens.
    #[must_use]
    pub fn name(self) -> &'static str {
        STYLES[self.0].name
    }
    /// What goes wrong most with this style.
    #[must_use]
    pub fn cautions(self) -> &'static [&'static str] {
        &STYLES[self.0].cautions
    }
    /// A range of the style by its parameter's name.
    #[must_use]
    pub fn range(self, parameter: &str) -> Option<&'static StyleRange> {
        STYLES[self.0]
            .ranges
            .iter()
            .find(|(p, _)| *p == parameter)
            .map(|(_, r)| r)
    }
    /// Whether yeast raises it.
    #[must_use]
    pub fn is_yeast_dough(self) -> bool {
        matches!(
            self.key(),
            "lean_bread" | "enriched_dough" | "laminated" | "pizza_flatbread"
        )
    }
    /// Whether egg foam or egg carries it, so that water is not what is adjusted.
    #[must_use]
    pub fn is_egg_raised(self) -> bool {
        matches!(self.key(), "sponge_cake" | "choux")
    }
    /// Whether it is baked in an oven.
    #[must_use]
    pub fn is_baked(self) -> bool {
        !matches!(self.key(), "pasta" | "pancake_crepe" | "roux_sauce")
    }
}

/// Ratios of a component, percent of its flour phase.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Ratios {
    /// Effective water.
    pub hydration: f64,
    /// Fat of every line.
    pub fat: f64,
    /// Sugar of every line.
    pub sugar: f64,
    /// Egg lines, as whole.
    pub egg: f64,
    /// Yeast, as dry.
    pub yeast: f64,
    /// Baking powder, soda and the like.
    pub leavening: f64,
}

/// A style with how sure it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Guess {
    /// The style.
    pub style: Style,
    /// 0 to 1: its share of all styles' scores.
    pub confidence: f64,
    /// The next best.
    pub next: Style,
}

/// Tells the style of a component from its ratios and the words around it.
///
/// # Inputs
/// - `ratios`: percent of the flour phase; the component has flour.
/// - `near`: the component's name and the title.
/// - `far`: the words of its steps, which count less.
///
/// # Returns
/// The best style; its confidence is its share of the scores of all.
#[must_use]
pub fn guess(ratios: &Ratios, near: &str, far: &str) -> Guess {
    let words = |text: &str| -> Vec<String> {
        text.split(|c: char| !c.is_alphabetic() && c != '-')
            .map(str::to_lowercase)
            .collect()
    };
    let (near, far) = (words(near), words(far));
    let mut scores: Vec<(f64, Style)> = Style::all()
        .map(|style| {
            let row = &STYLES[style.0];
            let mut score = 1.0;
            for (feature, [from, full_from, full_to, to]) in &row.windows {
                let x = match *feature {
                    "hydration" => ratios.hydration,
                    "fat" => ratios.fat,
                    "sugar" => ratios.sugar,
                    "egg" => ratios.egg,
                    "yeast" => ratios.yeast,
                    _ => ratios.leavening,
                };
                let fit = if x < *full_from {
                    (x - from) / (full_from - from)
                } else if x > *full_to {
                    (to - x) / (to - full_to)
                } else {
                    1.0
                };
                score *= fit.clamp(0.02, 1.0);
            }
            let has = |list: &[String]| row.words.iter().any(|w| list.iter().any(|l| l == w));
            if has(&near) {
                score *= row.weight;
            } else if has(&far) {
                score *= row.weight.sqrt();
            }
            // Without its words a laminated dough or a flatbread is only a dough.
            if matches!(row.key, "laminated" | "pizza_flatbread" | "pasta")
                && !has(&near)
                && !has(&far)
            {
                score *= if row.key == "laminated" { 0.15 } else { 0.5 };
            }
            (score, style)
        })
        .collect();
    scores.sort_by(|a, b| b.0.total_cmp(&a.0));
    let sum: f64 = scores.iter().map(|s| s.0).sum();
    Guess {
        style: scores[0].1,
        confidence: scores[0].0 / sum,
        next: scores[1].1,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_style_answers_to_its_words() {
        let key = |w: &str| Style::named(w).map(Style::key);
        assert_eq!(key("muffin"), Some("muffin_quick_bread"));
        assert_eq!(key("Scones"), Some("muffin_quick_bread"));
        assert_eq!(key("butter cake"), Some("butter_cake"));
        assert_eq!(key("brioche"), Some("enriched_dough"));
        assert_eq!(key("cookies"), None, "two styles are cookies");
        assert_eq!(key(""), None);
    }

    #[test]
    fn every_style_has_its_ranges_windows_and_words() {
        assert_eq!(Style::all().count(), 15);
        for style in Style::all() {
            for p in [
                "starch_share",
                "hydration_eff",
                "psyllium",
                "xanthan",
                "rest_min",
                "rises",
                "core_c",
                "leavening_mult",
            ] {
                assert!(style.range(p).is_some(), "{} {p}", style.key());
            }
            let row = &STYLES[style.0];
            assert!(
                row.windows.len() >= 4 && !row.words.is_empty(),
                "{}",
                row.key
            );
            for (feature, [a, b, c, d]) in &row.windows {
                assert!(a <= b && b <= c && c <= d, "{} {feature}", row.key);
            }
        }
        assert_eq!(
            Style::from_key("layer_cake").map(Style::key),
            Some("butter_cake")
        );
    }
}
