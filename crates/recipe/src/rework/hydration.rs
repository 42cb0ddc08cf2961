//! How wet a gluten-free dough or batter is expected to be: the fitted model,
//! at use.
//!
//! The expectation comes from the style, the flour phase and the binders, and
//! from the wheat original where there is one. It never looks at the liquids
//! that the recipe at hand holds. What the model can and cannot say is in
//! `docs/hydration-model.md`; its table is written by
//! `cargo run -p evidence -- hydration --write`, not by hand.
//!
//! All hydrations are effective: all the water outside the flour phase, in
//! per cent of the flour phase.

mod table;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::error::Error;
use std::fmt;

/// Shares of the flour phase may miss 100 % by this much.
pub const SHARE_TOLERANCE_PERCENT: f64 = 0.5;

/// A flour, starch or binder and how much of it there is.
#[derive(Debug, Clone, PartialEq)]
pub struct Part<'a> {
    /// Larder key, such as `buckwheat_flour`.
    pub key: &'a str,
    /// Per cent of the weight of the flour phase, ≥ 0. Flours and starches add
    /// up to 100; binders come on top.
    pub percent: f64,
    /// Listed absorption, g water per g. Used for keys that the fit does not know.
    pub absorption: f64,
}

/// Three figures in order: rarely below `low`, rarely above `high`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// The lower end.
    pub low: f64,
    /// The middle.
    pub likely: f64,
    /// The upper end.
    pub high: f64,
}

impl Spread {
    /// This spread with a second, independent doubt: each half is the root of the sum of the
    /// squares of both, in natural logarithms. The likely figure stays.
    ///
    /// # Inputs
    /// - `doubt`: low, likely and high of the other figure, in any unit, each > 0 and in order;
    ///   only their ratios count.
    ///
    /// # Returns
    /// In this spread's unit, no narrower than it is. Where a figure has no logarithm, the spread
    /// as it was.
    ///
    /// # Source
    /// Independent relative errors of a product add as squares; `docs/hydration-model.md`.
    ///
    /// # Example
    /// ```
    /// use recipe::rework::hydration::Spread;
    /// let fit = Spread { low: 100.0 / 1.3, likely: 100.0, high: 130.0 };
    /// let cups = Spread { low: 1.0 / 1.1, likely: 1.0, high: 1.2 };
    /// let both = fit.combined(cups);
    /// assert!((both.high / 100.0).ln().powi(2) - (1.3_f64.ln().powi(2) + 1.2_f64.ln().powi(2)) < 1e-9);
    /// assert_eq!(fit.combined(Spread { low: 1.0, likely: 1.0, high: 1.0 }).likely, 100.0);
    /// ```
    #[must_use]
    pub fn combined(self, doubt: Self) -> Self {
        let half = |a: f64, b: f64| (a / b).ln();
        let down = half(self.likely, self.low).hypot(half(doubt.likely, doubt.low));
        let up = half(self.high, self.likely).hypot(half(doubt.high, doubt.likely));
        if !(down.is_finite() && up.is_finite()) {
            return self;
        }
        Self {
            low: self.likely * (-down).exp(),
            likely: self.likely,
            high: self.likely * up.exp(),
        }
    }
}

/// What is known of the wheat recipe that is being changed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WheatOriginal {
    /// Its effective hydration, % of its flour phase.
    pub hydration: Spread,
    /// Its consistency: effective water over the water its flour phase absorbs.
    pub consistency: f64,
}

/// What an expectation rests on, for saying so beside the figures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Basis {
    /// The style's published formulas; the flours make no difference that the formulas show.
    Style,
    /// The style's published formulas, moved with what the flours and binders absorb.
    StyleAndFlours,
    /// No formula of this style is known: moved over from the other yeast doughs.
    Borrowed,
    /// The wheat original's own hydration, drawn a little towards the style.
    OriginalHydration,
    /// The wheat original's own consistency times the style's factor.
    OriginalConsistency,
}

/// What the model expects.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Expectation {
    /// Effective hydration, % of the flour phase. Nine published formulas of ten lie inside.
    pub hydration: Spread,
    /// What the flour phase and binders absorb, g water per g of flour phase, by the fit.
    pub absorption: f64,
    /// What the figures rest on.
    pub basis: Basis,
    /// How many published formulas of this style stand behind it.
    pub formulas: usize,
    /// How many published pairs, wheat and gluten-free, of this style stand behind it.
    pub pairs: usize,
}

impl Expectation {
    /// Whether a hydration, in percent, is the one expected: within 2 of it nothing is moved.
    #[must_use]
    pub fn sets(&self, hydration: f64) -> bool {
        (hydration - self.hydration.likely).abs() < 2.0
    }

    /// Whether few published formulas stand behind it.
    #[must_use]
    pub fn is_thin(&self) -> bool {
        crate::evidence::is_thin(self.formulas)
    }
}

/// The arithmetic of [`expect`], a line each, for the same inputs; see [`super::sums`].
///
/// # Errors
/// As [`expect`].
pub fn explain(
    style: &str,
    flours: &[Part<'_>],
    binders: &[Part<'_>],
    original: Option<&WheatOriginal>,
) -> Result<Vec<String>, HydrationError> {
    Model::shipped()?.explain(style, flours, binders, original)
}

/// Why nothing can be expected.
#[derive(Debug, Clone, PartialEq)]
pub enum HydrationError {
    /// The style is not in the table.
    UnknownStyle {
        /// The key asked for.
        style: String,
    },
    /// No flour or starch with a weight.
    NoFlour,
    /// Flours and starches do not add up to 100 %.
    Shares {
        /// What they add up to.
        percent: f64,
    },
    /// A figure is NaN, infinite or below zero, or a spread is out of order.
    Value {
        /// Which figure.
        what: String,
        /// The offending value.
        found: f64,
    },
    /// The table of the model cannot be read.
    Table {
        /// Line, counted from 1; 0 for a row that is missing.
        line: usize,
        /// What is wrong with it.
        what: String,
    },
}

impl fmt::Display for HydrationError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::UnknownStyle { style } => {
                write!(
                    f,
                    "style '{style}' is not known; give one of the style keys"
                )
            }
            Self::NoFlour => write!(
                f,
                "there is no flour in it; give at least one flour or starch"
            ),
            Self::Shares { percent } => {
                write!(
                    f,
                    "flours and starches add up to {percent:.1} %; give shares that make 100"
                )
            }
            Self::Value { what, found } => {
                write!(f, "{what} is {found}; give a finite figure in range")
            }
            Self::Table { line, what } => write!(f, "hydration model, line {line}: {what}"),
        }
    }
}

impl Error for HydrationError {}

/// What the fit says of one style.
#[derive(Debug, Clone, PartialEq)]
pub struct StyleFit {
    /// Hydration, %, of a flour phase that absorbs [`Model::reference_absorption`].
    pub level_percent: f64,
    /// Usual distance of a published formula from the level, in natural logarithms.
    pub spread: f64,
    /// Whether hydration moves with what the flours and binders absorb.
    pub follows_absorption: bool,
    /// Consistency of the usual wheat recipe; given for styles that follow absorption.
    pub wheat_consistency: Option<f64>,
    /// Number of published formulas behind it; 0 where it is borrowed.
    pub formulas: usize,
    /// Number of published pairs, wheat and gluten-free.
    pub pairs: usize,
}

/// The fitted model.
#[derive(Debug, Clone, PartialEq)]
pub struct Model {
    /// The absorption at which levels are stated, g/g.
    pub reference_absorption: f64,
    /// Lower end of nine formulas of ten, in spreads below the level (negative).
    pub reach_low: f64,
    /// Upper end of nine formulas of ten, in spreads above the level.
    pub reach_high: f64,
    /// How far an original's hydration may be off its author's own, in natural logarithms.
    pub original_spread: f64,
    /// Half width for nine pairs of ten around the hydration drawn from an
    /// original, in natural logarithms.
    pub pair_reach: f64,
    /// By style key.
    pub styles: BTreeMap<String, StyleFit>,
    /// Fitted absorption by larder key, g/g.
    pub absorption: BTreeMap<String, f64>,
}

/// The hydration that the shipped model expects.
///
/// # Inputs
/// - `style`: a style key, such as `lean_bread`.
/// - `flours`: flours and starches, per cent of the flour phase, adding up to 100.
/// - `binders`: per cent of the flour phase on top; empty for none.
/// - `original`: the wheat recipe, where one is at hand.
///
/// # Returns
/// Low, likely and high effective hydration in % of the flour phase, each > 0
/// and in order, with what they rest on.
///
/// # Errors
/// - [`HydrationError::UnknownStyle`]: no such key.
/// - [`HydrationError::NoFlour`], [`HydrationError::Shares`]: no flour phase of 100 %.
/// - [`HydrationError::Value`]: NaN, infinity, a negative figure or a spread out of order.
///
/// # Source
/// Fitted on published gluten-free formulas; see `docs/hydration-model.md`.
///
/// # Example
/// ```
/// use recipe::rework::hydration::{Part, expect};
/// let rice = Part { key: "white_rice_flour", percent: 70.0, absorption: 0.8 };
/// let starch = Part { key: "tapioca_starch", percent: 30.0, absorption: 0.55 };
/// let husk = Part { key: "psyllium_husk", percent: 5.0, absorption: 5.4 };
/// let wet = expect("lean_bread", &[rice.clone(), starch], &[husk], None)?.hydration;
/// assert!(wet.low < 100.0 && 100.0 < wet.high);
/// // Shares that do not make 100 are refused.
/// assert!(expect("lean_bread", &[rice], &[], None).is_err());
/// # Ok::<(), recipe::rework::hydration::HydrationError>(())
/// ```
pub fn expect(
    style: &str,
    flours: &[Part<'_>],
    binders: &[Part<'_>],
    original: Option<&WheatOriginal>,
) -> Result<Expectation, HydrationError> {
    Model::shipped()?.expect(style, flours, binders, original)
}

impl Model {
    /// As [`expect`], by this model.
    ///
    /// # Errors
    /// As [`expect`].
    pub fn expect(
        &self,
        style: &str,
        flours: &[Part<'_>],
        binders: &[Part<'_>],
        original: Option<&WheatOriginal>,
    ) -> Result<Expectation, HydrationError> {
        let fit = self
            .styles
            .get(style)
            .ok_or_else(|| HydrationError::UnknownStyle {
                style: style.to_owned(),
            })?;
        let absorption = self.absorption_of(flours, binders)?;
        let shift = if fit.follows_absorption {
            (absorption / self.reference_absorption).ln()
        } else {
            0.0
        };
        let middle = (fit.level_percent / 100.0).ln() + shift;
        let low = middle + self.reach_low * fit.spread;
        let high = middle + self.reach_high * fit.spread;
        let (logs, basis) = match original {
            None => ([low, middle, high], Self::basis_of(fit)),
            Some(original) => self.with_original(fit, [low, middle, high], original)?,
        };
        let [low, likely, high] = logs.map(|v| 100.0 * v.exp());
        Ok(Expectation {
            hydration: Spread { low, likely, high },
            absorption,
            basis,
            formulas: fit.formulas,
            pairs: fit.pairs,
        })
    }

    /// As [`explain`], by this model.
    ///
    /// # Errors
    /// As [`expect`].
    pub fn explain(
        &self,
        style: &str,
        flours: &[Part<'_>],
        binders: &[Part<'_>],
        original: Option<&WheatOriginal>,
    ) -> Result<Vec<String>, HydrationError> {
        use super::sums::{figure, percent};
        let got = self.expect(style, flours, binders, original)?;
        let Some(fit) = self.styles.get(style) else {
            return Ok(Vec::new());
        };
        let mut lines = Vec::new();
        let mut middle = fit.level_percent;
        if fit.follows_absorption {
            let factor = got.absorption / self.reference_absorption;
            lines.push(format!(
                "{} level of the style × {} g taken up ÷ {} g usual = {}",
                percent(middle),
                figure(got.absorption),
                figure(self.reference_absorption),
                percent(middle * factor)
            ));
            middle *= factor;
        }
        let Some(original) = original else {
            if lines.is_empty() {
                lines.push(format!("level of the style: {}", percent(middle)));
            }
            return Ok(lines);
        };
        let own = match fit.wheat_consistency {
            Some(usual) => {
                let own = middle * original.consistency / usual;
                lines.push(format!(
                    "{} × {} consistency of the original ÷ {} usual = {}",
                    percent(middle),
                    figure(original.consistency),
                    figure(usual),
                    percent(own)
                ));
                own
            }
            None => original.hydration.likely,
        };
        let share =
            self.original_spread.powi(2) / (self.original_spread.powi(2) + fit.spread.powi(2));
        // The share to four decimals, so that a low one says something.
        let shown = format!("{share:.4}");
        let drawn = own * (middle / own).powf(share);
        lines.push(format!(
            "{} × ({} ÷ {}) ^ {shown} = {}, drawn towards the style",
            percent(own),
            percent(middle),
            percent(own),
            percent(drawn)
        ));
        if (drawn / got.hydration.likely).ln().abs() > 1e-9 {
            lines.push(format!(
                "no further than published formulas of the style lie: {}",
                percent(got.hydration.likely)
            ));
        }
        Ok(lines)
    }

    fn basis_of(fit: &StyleFit) -> Basis {
        match (fit.formulas, fit.follows_absorption) {
            (0, _) => Basis::Borrowed,
            (_, true) => Basis::StyleAndFlours,
            (_, false) => Basis::Style,
        }
    }

    /// Weighs the original against the style: each by how surely it is known.
    fn with_original(
        &self,
        fit: &StyleFit,
        [low, middle, high]: [f64; 3],
        original: &WheatOriginal,
    ) -> Result<([f64; 3], Basis), HydrationError> {
        let Spread {
            low: least,
            likely,
            high: most,
        } = original.hydration;
        for (what, found) in [
            ("the original's low hydration", least),
            ("the original's likely hydration", likely),
            ("the original's high hydration", most),
            ("the original's consistency", original.consistency),
        ] {
            if !(found.is_finite() && found > 0.0) {
                return Err(HydrationError::Value {
                    what: what.to_owned(),
                    found,
                });
            }
        }
        if least > likely || likely > most {
            return Err(HydrationError::Value {
                what: "the original's hydration, out of order,".to_owned(),
                found: likely,
            });
        }
        let style_share =
            self.original_spread.powi(2) / (self.original_spread.powi(2) + fit.spread.powi(2));
        let (own, basis) = match fit.wheat_consistency {
            Some(usual) => (
                middle + (original.consistency / usual).ln(),
                Basis::OriginalConsistency,
            ),
            None => ((likely / 100.0).ln(), Basis::OriginalHydration),
        };
        let drawn = (own + style_share * (middle - own)).clamp(low, high);
        // Uncertainty of the reading of the original itself, as a half width.
        let reading = [(likely / least).ln(), (most / likely).ln()];
        let reach = if fit.pairs > 0 {
            [self.pair_reach; 2]
        } else {
            // No pair of this style was ever seen: promise no more than the style does.
            [middle - low, high - middle]
        };
        Ok((
            [
                drawn - reach[0].hypot(reading[0]),
                drawn,
                drawn + reach[1].hypot(reading[1]),
            ],
            basis,
        ))
    }

    /// What a flour phase with its binders absorbs, g water per g of flour phase.
    ///
    /// # Errors
    /// As [`expect`].
    pub fn absorption_of(
        &self,
        flours: &[Part<'_>],
        binders: &[Part<'_>],
    ) -> Result<f64, HydrationError> {
        for part in flours.iter().chain(binders) {
            for (what, found) in [
                ("the share of", part.percent),
                ("the absorption of", part.absorption),
            ] {
                if !(found.is_finite() && found >= 0.0) {
                    return Err(HydrationError::Value {
                        what: format!("{what} {}", part.key),
                        found,
                    });
                }
            }
        }
        let percent: f64 = flours.iter().map(|p| p.percent).sum();
        if percent == 0.0 {
            return Err(HydrationError::NoFlour);
        }
        if (percent - 100.0).abs() > SHARE_TOLERANCE_PERCENT {
            return Err(HydrationError::Shares { percent });
        }
        let water: f64 = flours
            .iter()
            .chain(binders)
            .map(|p| p.percent * self.absorption.get(p.key).copied().unwrap_or(p.absorption))
            .sum();
        if water > 0.0 {
            Ok(water / percent)
        } else {
            Err(HydrationError::Value {
                what: "how much water the flour takes up".to_owned(),
                found: water,
            })
        }
    }
}
