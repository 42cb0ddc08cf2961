//! How far the engine's figures can be trusted: what stands behind each style, measured on
//! published formulas that the fit had not seen.
//!
//! The table is written by `cargo run -p evidence -- report --write`, not by hand; the same in
//! words is in `docs/evidence.md`.

use crate::data::rows;
use crate::rework::style::Style;
use std::sync::LazyLock;

/// Fewer published formulas than this behind a style are thin evidence.
pub const THIN: usize = 6;

/// Whether so many published formulas are thin evidence.
///
/// # Example
/// ```
/// assert!(recipe::evidence::is_thin(5) && !recipe::evidence::is_thin(6));
/// ```
#[must_use]
pub const fn is_thin(formulas: usize) -> bool {
    formulas < THIN
}

/// What stands behind a style, in words: published formulas, pairs, and whether that is thin.
///
/// # Example
/// ```
/// use recipe::evidence::behind;
/// assert_eq!(behind(12, 1), "12 published formulas and 1 pair");
/// assert_eq!(behind(5, 0), "5 published formulas and no pair: thin evidence");
/// ```
#[must_use]
pub fn behind(formulas: usize, pairs: usize) -> String {
    let count = |n: usize, word: &str| match n {
        0 => format!("no {word}"),
        1 => format!("1 {word}"),
        n => format!("{n} {word}s"),
    };
    format!(
        "{} and {}{}",
        count(formulas, "published formula"),
        count(pairs, "pair"),
        if is_thin(formulas) {
            ": thin evidence"
        } else {
            ""
        }
    )
}

/// How well hydration was foretold, each formula by a fit that had seen nothing of its source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Calibration {
    /// Median of |ln(expected / published)|.
    pub miss: f64,
    /// Median of ln(expected / published): above 0 where the engine expects wetter.
    pub bias: f64,
    /// Share of published figures inside the interval that promises nine of ten, 0 to 1.
    pub held: f64,
    /// Mean of ln(high / low) of that interval.
    pub width: f64,
}

impl Calibration {
    /// Half of the published figures are farther off than so many per cent.
    #[must_use]
    pub fn off_percent(&self) -> f64 {
        100.0 * self.miss.exp_m1()
    }

    /// Per cent of water by which the expectation is usually above (or, below 0, under) the
    /// published figure.
    #[must_use]
    pub fn lean_percent(&self) -> f64 {
        100.0 * self.bias.exp_m1()
    }

    /// The lean in words: `6 % wet`, `4 % dry`, `none` below half a per cent.
    #[must_use]
    pub fn lean(&self) -> String {
        let lean = self.lean_percent();
        if lean.abs() < 0.5 {
            "none".to_owned()
        } else {
            let way = if lean > 0.0 { "wet" } else { "dry" };
            format!("{:.0} % {way}", lean.abs())
        }
    }

    /// How many times the low end of the range the high end is.
    #[must_use]
    pub fn times(&self) -> f64 {
        self.width.exp()
    }
}

/// What published formulas of a style hold of binder: gums as they are, psyllium at 2.5 to 1 of
/// xanthan, as the engine counts it (common practice, no source).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Binder {
    /// Formulas whose ingredients are seen whole.
    pub formulas: usize,
    /// How many of them hold a binder.
    pub with: usize,
    /// Median dose of those that do, % of the flour phase; `None` where none does.
    pub median: Option<f64>,
    /// The style's usual dose as the engine gives it, % of the flour phase.
    pub dose: f64,
}

/// The evidence of a style.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StyleEvidence {
    /// The style.
    pub style: Style,
    /// Published gluten-free formulas that the fit rests on.
    pub formulas: usize,
    /// Published pairs, wheat and gluten-free.
    pub pairs: usize,
    /// `None` without a formula.
    pub calibration: Option<Calibration>,
    /// What they hold of binder.
    pub binder: Binder,
}

/// A figure of a pair.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Told {
    /// Of the wheat formula, % of its flour: what 'change nothing' foretells.
    pub wheat: f64,
    /// Of the gluten-free formula as published.
    pub published: f64,
    /// Of the gluten-free formula as the engine makes it from the wheat one.
    pub engine: f64,
}

/// A published wheat formula and its gluten-free counterpart.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// Name of the gluten-free side in the data.
    pub id: &'static str,
    /// Its style.
    pub style: Style,
    /// Effective hydration.
    pub hydration: Told,
    /// Egg.
    pub egg: Told,
    /// Binder.
    pub binder: Told,
    /// Where the gluten-free side was seen.
    pub source: &'static str,
    /// `seen`, or `from memory` where either side is.
    pub status: &'static str,
}

/// What is foretold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quantity {
    /// Effective hydration; errors are |ln(foretold / published)|.
    Hydration,
    /// Egg; errors are points of per cent of the flour phase.
    Egg,
    /// Binder; errors are points of per cent of the flour phase.
    Binder,
}

/// How it is foretold.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rule {
    /// As the engine reworks the wheat formula, with the published blend.
    Engine,
    /// The flour swapped weight for weight, nothing else changed.
    Nothing,
    /// A rule learnt from the other sources' pairs or formulas; not in the engine.
    Learnt,
    /// As the fitted water alone expects; where egg raises the style, egg moves with it. Not in
    /// the engine, which leaves a liquid that is not free where it is.
    Fit,
}

/// The errors of a rule.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Errors {
    /// On what.
    pub quantity: Quantity,
    /// By what.
    pub rule: Rule,
    /// On how many pairs or formulas.
    pub n: usize,
    /// Median error.
    pub median: f64,
    /// Mean error.
    pub mean: f64,
    /// Root of the mean square.
    pub rms: f64,
    /// Nearer to the published figure than changing nothing, in so many.
    pub nearer: usize,
    /// Farther from it, in so many; the rest are equal.
    pub farther: usize,
}

/// Errors that differ by less are equal: half of the last digit that is shown.
const CLEAR: f64 = 0.0005;

/// How a rule does against changing nothing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Nearer to the published figures.
    Nearer,
    /// Neither: equal, or nearer by one average and farther by another.
    Draw,
    /// Farther from them.
    Farther,
}

impl Verdict {
    /// In words, for screens.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Nearer => "nearer than changing nothing",
            Self::Draw => "no nearer than changing nothing",
            Self::Farther => "farther off than changing nothing",
        }
    }
}

/// All of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Evidence {
    /// Every style of dough, batter or sauce, in the order of the engine's table.
    pub styles: Vec<StyleEvidence>,
    /// All styles together: formulas and calibration.
    pub all: Calibration,
    /// The pairs, in the order of the data.
    pub pairs: Vec<Pair>,
    /// Errors on the pairs.
    pub on_pairs: Vec<Errors>,
    /// Errors of binder rules on the gluten-free formulas alone.
    pub on_formulas: Vec<Errors>,
}

impl Evidence {
    /// Published formulas of all styles.
    #[must_use]
    pub fn formulas(&self) -> usize {
        self.styles.iter().map(|s| s.formulas).sum()
    }

    /// The evidence of a style.
    #[must_use]
    pub fn of(&self, style: Style) -> Option<&StyleEvidence> {
        self.styles.iter().find(|s| s.style == style)
    }

    /// Errors of a rule on the pairs.
    #[must_use]
    pub fn errors(&self, quantity: Quantity, rule: Rule) -> Option<&Errors> {
        find(&self.on_pairs, quantity, rule)
    }

    /// Whether a rule comes nearer to the published pairs than changing nothing: nearer, or
    /// farther, where no average of the three says otherwise and one says so; else a draw.
    ///
    /// # Example
    /// ```
    /// use recipe::evidence::{Quantity, Rule, Verdict, shipped};
    /// // The engine leaves egg alone, and so does changing nothing.
    /// assert_eq!(shipped().verdict(Quantity::Egg, Rule::Engine), Verdict::Draw);
    /// ```
    #[must_use]
    pub fn verdict(&self, quantity: Quantity, rule: Rule) -> Verdict {
        let (Some(a), Some(b)) = (
            self.errors(quantity, rule),
            self.errors(quantity, Rule::Nothing),
        ) else {
            return Verdict::Draw;
        };
        let off = [a.median - b.median, a.mean - b.mean, a.rms - b.rms];
        let (nearer, farther) = (
            off.iter().any(|d| *d < -CLEAR),
            off.iter().any(|d| *d > CLEAR),
        );
        match (nearer, farther) {
            (true, false) => Verdict::Nearer,
            (false, true) => Verdict::Farther,
            _ => Verdict::Draw,
        }
    }

    /// Errors of a binder rule on the gluten-free formulas.
    #[must_use]
    pub fn binder_errors(&self, rule: Rule) -> Option<&Errors> {
        find(&self.on_formulas, Quantity::Binder, rule)
    }
}

fn find(all: &[Errors], quantity: Quantity, rule: Rule) -> Option<&Errors> {
    all.iter()
        .find(|e| (e.quantity, e.rule) == (quantity, rule))
}

impl Quantity {
    /// All, in the order of the report.
    pub const ALL: [Self; 3] = [Self::Hydration, Self::Egg, Self::Binder];

    /// The word for it in the table, on screens and in JSON.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Hydration => "hydration",
            Self::Egg => "egg",
            Self::Binder => "binder",
        }
    }
}

impl Rule {
    /// All, in the order of the report.
    pub const ALL: [Self; 4] = [Self::Engine, Self::Nothing, Self::Learnt, Self::Fit];

    /// The word for it in the table and in JSON.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Engine => "engine",
            Self::Nothing => "nothing",
            Self::Learnt => "learnt",
            Self::Fit => "fit",
        }
    }

    /// What it does to a quantity, for screens.
    #[must_use]
    pub const fn says(self, quantity: Quantity) -> &'static str {
        match (self, quantity) {
            (Self::Engine, _) => "as the rework does",
            (Self::Nothing, _) => "swap weight for weight, change nothing",
            (Self::Fit, Quantity::Egg) => {
                "where egg raises the style, egg moved with the water expected"
            }
            (Self::Fit, _) => "the fitted water, whether or not a liquid is free to move",
            (Self::Learnt, Quantity::Hydration) => "the style's middle",
            (Self::Learnt, Quantity::Egg) => "egg moved as in the other pairs of the style",
            (Self::Learnt, Quantity::Binder) => {
                "the style's middle dose, formulas without a binder counted as nought"
            }
        }
    }
}

static SHIPPED: LazyLock<Evidence> = LazyLock::new(|| parse(include_str!("../data/evidence.tsv")));

/// The shipped evidence.
///
/// # Source
/// `crates/evidence/data/formulas`, by `cargo run -p evidence -- report --write`.
///
/// # Example
/// ```
/// let evidence = recipe::evidence::shipped();
/// assert!(evidence.all.held > 0.8 && evidence.styles.len() == 16);
/// ```
#[must_use]
pub fn shipped() -> &'static Evidence {
    &SHIPPED
}

/// One row: group, key, figure, value, source, status.
struct Row {
    group: &'static str,
    key: &'static str,
    figure: &'static str,
    value: f64,
    source: &'static str,
    status: &'static str,
}

/// Reads the table. A figure that is missing is not-a-number, and found by the tests.
#[must_use]
pub fn parse(table: &'static str) -> Evidence {
    let all: Vec<Row> = rows(table)
        .map(|r| Row {
            group: r.get("group"),
            key: r.get("key"),
            figure: r.get("figure"),
            value: r.number("value"),
            source: r.get("source"),
            status: r.get("status"),
        })
        .collect();
    let find = |group: &str, key: &str, figure: &str| {
        all.iter()
            .find(|r| (r.group, r.key, r.figure) == (group, key, figure))
            .map(|r| r.value)
    };
    let get = |group: &str, key: &str, figure: &str| find(group, key, figure).unwrap_or(f64::NAN);
    let count = |group: &str, key: &str, figure: &str| get(group, key, figure) as usize;
    let calibration = |key: &str| {
        Some(Calibration {
            miss: find("style", key, "miss")?,
            bias: find("style", key, "bias")?,
            held: find("style", key, "held")?,
            width: find("style", key, "width")?,
        })
    };
    let styles = Style::all()
        .filter(|s| find("style", s.key(), "formulas").is_some())
        .map(|style| {
            let key = style.key();
            StyleEvidence {
                style,
                formulas: count("style", key, "formulas"),
                pairs: count("style", key, "pairs"),
                calibration: calibration(key),
                binder: Binder {
                    formulas: count("style", key, "binder_formulas"),
                    with: count("style", key, "binder_with"),
                    median: find("style", key, "binder_median"),
                    dose: get("style", key, "binder_dose"),
                },
            }
        })
        .collect();
    let pairs = all
        .iter()
        .filter(|r| r.group == "pair" && r.figure == "hydration wheat")
        .filter_map(|r| {
            let (style, id) = r.key.split_once('/')?;
            let told = |quantity: Quantity| {
                let of = |side: &str| get("pair", r.key, &format!("{} {side}", quantity.word()));
                Told {
                    wheat: of("wheat"),
                    published: of("published"),
                    engine: of("engine"),
                }
            };
            Some(Pair {
                id,
                style: Style::from_key(style)?,
                hydration: told(Quantity::Hydration),
                egg: told(Quantity::Egg),
                binder: told(Quantity::Binder),
                source: r.source,
                status: r.status,
            })
        })
        .collect();
    let errors = |group: &str| -> Vec<Errors> {
        Quantity::ALL
            .into_iter()
            .flat_map(|q| Rule::ALL.map(|r| (q, r)))
            .filter_map(|(quantity, rule)| {
                let key = format!("{} {}", quantity.word(), rule.word());
                Some(Errors {
                    quantity,
                    rule,
                    n: find(group, &key, "n")? as usize,
                    median: get(group, &key, "median"),
                    mean: get(group, &key, "mean"),
                    rms: get(group, &key, "rms"),
                    nearer: count(group, &key, "nearer"),
                    farther: count(group, &key, "farther"),
                })
            })
            .collect()
    };
    Evidence {
        styles,
        all: calibration("all").unwrap_or(Calibration {
            miss: f64::NAN,
            bias: f64::NAN,
            held: f64::NAN,
            width: f64::NAN,
        }),
        pairs,
        on_pairs: errors("pairs"),
        on_formulas: errors("formulas"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rework::hydration::Model;

    /// Every figure of the table is there, and counts are those of the model that ships.
    #[test]
    fn the_table_is_whole() {
        let e = shipped();
        let model = Model::shipped().expect("the model");
        // All but what is only a filling: it has no dough.
        assert_eq!(e.styles.len(), model.styles.len());
        for s in &e.styles {
            let fit = &model.styles[s.style.key()];
            assert_eq!((s.formulas, s.pairs), (fit.formulas, fit.pairs));
            assert_eq!(s.calibration.is_some(), s.formulas > 0);
            assert!(s.binder.dose.is_finite() && s.binder.with <= s.binder.formulas);
        }
        assert_eq!(e.pairs.len(), 17);
        for p in &e.pairs {
            for t in [p.hydration, p.egg, p.binder] {
                assert!([t.wheat, t.published, t.engine].iter().all(|v| *v >= 0.0));
            }
            assert!(!p.source.is_empty() && matches!(p.status, "seen" | "from memory"));
        }
        assert_eq!((e.on_pairs.len(), e.on_formulas.len()), (11, 3));
        for x in e.on_pairs.iter().chain(&e.on_formulas) {
            assert!(x.median.is_finite() && x.mean.is_finite() && x.rms >= x.mean);
        }
    }
}
