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
    /// What it is called: only what was seen in a document is published.
    #[must_use]
    pub fn kind(&self) -> &'static str {
        if self.status == Status::Seen {
            "published"
        } else {
            "usual"
        }
    }
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
    /// Whether another style is handled alike: taken for the one or the other, a bake is set much the same.
    #[must_use]
    pub fn is_kin_of(self, other: Self) -> bool {
        const KIN: [&[&str]; 2] = [
            &["butter_cake", "muffin_quick_bread"],
            &[
                "rolled_cookie",
                "drop_cookie",
                "pie_pastry",
                "crumb_streusel",
            ],
        ];
        let both = |list: &&[&str]| list.contains(&self.key()) && list.contains(&other.key());
        self.is_yeast_dough() && other.is_yeast_dough() || KIN.iter().any(both)
    }
    /// Whether egg foam or egg carries it, so that water is not what is adjusted.
    #[must_use]
    pub fn is_egg_raised(self) -> bool {
        matches!(self.key(), "sponge_cake" | "choux")
    }
    /// Whether a word, in small letters, speaks for it.
    pub(super) fn is_said_by(self, word: &str) -> bool {
        STYLES[self.0].words.contains(&word)
    }
    /// Whether only words tell it from a plain dough.
    fn needs_words(self) -> bool {
        matches!(
            self.key(),
            "laminated" | "pizza_flatbread" | "pasta" | "cracker"
        )
    }
    /// Whether it is no dough or batter: its flour only thickens, and its liquid stays as it is.
    #[must_use]
    pub fn is_thickened(self) -> bool {
        matches!(self.key(), "roux_sauce" | "filling")
    }
    /// Whether its liquid stays as it is: only a thickener's, or what egg, nuts or a boiled vegetable bring.
    #[must_use]
    pub fn keeps_its_liquid(self) -> bool {
        self.is_thickened() || matches!(self.key(), "frangipane" | "potato_dough")
    }
    /// Whether it is baked in an oven.
    #[must_use]
    pub fn is_baked(self) -> bool {
        !self.is_thickened() && !matches!(self.key(), "pasta" | "pancake_crepe" | "potato_dough")
    }
    /// Whether colour, not the middle, says when it is done.
    pub(crate) fn is_done_by_colour(self) -> bool {
        matches!(
            self.key(),
            "rolled_cookie" | "drop_cookie" | "crumb_streusel" | "pie_pastry" | "cracker"
        )
    }
    /// The heat of the middle when it is done: low, likely, high in °C, and where that comes from.
    /// Water boils at 100 °C at the sea, and nothing wet is asked to come nearer than 1.5 °C.
    /// `None` where colour decides or nothing is baked.
    pub(super) fn core(self) -> Option<([f64; 3], &'static StyleRange)> {
        const HOTTEST: f64 = 98.5;
        let r = self.range("core_c")?;
        let probed = self.is_baked() && !self.is_done_by_colour();
        let capped = |t: Ratio| t.get().min(HOTTEST).floor();
        let v = r.value;
        probed.then(|| ([v.low(), v.likely(), v.high()].map(capped), r))
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
    /// 0 to 1: its share of all styles' scores, less where ratios lie outside its own windows or
    /// where the words speak for another style.
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
/// The best style; its confidence is its share of the scores of all, times how well the ratios
/// fit its windows, lowered where the words speak for other styles alone. Of the published
/// formulas the guess is right for nine of ten whose ratios fit fully and whose share is above
/// 0.9, for fewer than half of the others.
#[must_use]
pub fn guess(ratios: &Ratios, near: &str, far: &str) -> Guess {
    let words = |text: &str| -> Vec<String> {
        text.split(|c: char| !c.is_alphabetic() && c != '-')
            .map(str::to_lowercase)
            .collect()
    };
    let (near, far) = (words(near), words(far));
    let mut scores: Vec<Scored> = Style::all()
        // What has no ratios of its own only a baker can say.
        .filter(|s| !STYLES[s.0].windows.is_empty())
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
            let fit = score;
            let has = |list: &[String]| row.words.iter().any(|w| list.iter().any(|l| l == w));
            let (near, far) = (has(&near), has(&far));
            if near {
                score *= row.weight;
            } else if far {
                score *= row.weight.sqrt();
            }
            // Without its words a laminated dough, a cracker or a flatbread is only a dough.
            if style.needs_words() && !near && !far {
                score *= match row.key {
                    "cracker" => 0.01,
                    "laminated" => 0.15,
                    _ => 0.5,
                };
            }
            Scored {
                style,
                score,
                fit,
                near,
                far,
            }
        })
        .collect();
    scores.sort_by(|a, b| b.score.total_cmp(&a.score));
    let sum: f64 = scores.iter().map(|s| s.score).sum();
    let best = &scores[0];
    let mut confidence = best.score / sum * best.fit.max(0.2);
    if !best.near && !best.far {
        if scores.iter().any(|s| s.near) {
            confidence *= 0.5;
        } else if scores.iter().any(|s| s.far) {
            confidence *= 0.8;
        }
        if best.style.needs_words() {
            confidence = confidence.min(0.5);
        }
    }
    Guess {
        style: best.style,
        confidence,
        next: scores[1].style,
    }
}

/// What speaks for a style.
struct Scored {
    style: Style,
    score: f64,
    /// How well the ratios fit its windows: 1 inside them all.
    fit: f64,
    /// Its words are in the component's name or the title.
    near: bool,
    /// Its words are in the steps.
    far: bool,
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

    /// A pound cake by its ratios.
    const CAKE: Ratios = Ratios {
        hydration: 100.0,
        fat: 80.0,
        sugar: 100.0,
        egg: 90.0,
        yeast: 0.0,
        leavening: 2.0,
    };

    #[test]
    fn words_that_speak_for_another_style_lower_the_guess() {
        let with = |near, far| guess(&CAKE, near, far);
        let plain = with("", "");
        assert_eq!(plain.style.key(), "butter_cake");
        assert!(plain.confidence > 0.9, "{plain:?}");
        assert!(with("Lemon cake", "").confidence >= plain.confidence);
        // A sauce by its ratios, a sponge by its name.
        let sauce = Ratios {
            hydration: 900.0,
            egg: 166.0,
            fat: 100.0,
            sugar: 280.0,
            ..Ratios::default()
        };
        let mute = guess(&sauce, "", "");
        let said = guess(&sauce, "stewed plums with a sponge", "");
        assert_eq!(mute.style.key(), "roux_sauce");
        assert!(said.confidence < 0.6 && said.confidence < mute.confidence);
        let far = guess(&sauce, "", "spread the sponge over the plums");
        assert!(far.confidence < mute.confidence && far.confidence > said.confidence);
    }

    #[test]
    fn ratios_outside_every_window_are_no_sure_guess() {
        // Nothing baked is like this.
        for odd in [
            Ratios {
                hydration: 40.0,
                fat: 150.0,
                sugar: 0.0,
                egg: 300.0,
                yeast: 0.0,
                leavening: 0.0,
            },
            Ratios {
                hydration: 20.0,
                fat: 0.0,
                sugar: 400.0,
                egg: 0.0,
                yeast: 3.0,
                leavening: 9.0,
            },
        ] {
            let g = guess(&odd, "", "");
            assert!(g.confidence < 0.3, "{g:?}");
        }
        // Flour and eggs may be pasta; without a word for it nothing says so.
        let eggs = Ratios {
            hydration: 38.0,
            fat: 8.0,
            egg: 50.0,
            ..Ratios::default()
        };
        let g = guess(&eggs, "Dinner", "");
        assert!(g.style.key() != "pasta" || g.confidence <= 0.5, "{g:?}");
        assert!(guess(&eggs, "Fresh noodles", "").confidence > 0.8);
    }

    #[test]
    fn every_style_has_its_ranges_windows_and_words() {
        assert_eq!(Style::all().count(), 19);
        // What keeps its liquid has no wetness to be held to, and no ratios tell it.
        let told = |s: &Style| s.keeps_its_liquid() && s.key() != "roux_sauce";
        let doughs = Style::all().filter(|s| !told(s));
        for style in doughs {
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
