//! The fit: a level for each style, and what each flour and binder absorbs.
//!
//! In styles that follow absorption, consistency is what is constant:
//! `ln H = level + ln(A / reference)`, where A is the water that the flour
//! phase and its binders absorb. In the others `ln H = level`. Each absorption
//! is drawn to its listed value as strongly as its listed range is narrow.

use super::formulas::{Data, Formula};
use super::shipped::{Model, StyleFit};
use numeric::least_squares::ridge;
use numeric::quantile::quantile;
use numeric::robust::{MEAN_DISTANCE, huber_weight, median_scale};
use std::collections::{BTreeMap, BTreeSet};
use std::error::Error;

/// Absorption at which levels are stated: white rice flour as listed.
pub(crate) const REFERENCE_ABSORPTION: f64 = 0.8;
/// A style's own spread counts by its formulas, the spread of all as this many:
/// about the usual number of formulas in a style (129 in 14).
pub(crate) const POOL: f64 = 8.0;
/// Least spread of a style: scales and cups are no finer.
const LEAST_SPREAD: f64 = 0.03;
/// A listed range is read as nine chances of ten, which spans this many standard deviations.
const RANGE_IN_DEVIATIONS: f64 = 3.29;
/// Levels are drawn to 100 % hydration this weakly, in natural logarithms: not at all, in effect.
const LEVEL_DEVIATION: f64 = 3.0;
/// Cup-converted formulas carry 10 to 15 % uncertainty in flour and so in
/// hydration (see the data's README); an original is read as known within this.
pub(crate) const ORIGINAL_SPREAD: f64 = 0.10;
/// The share of formulas that an interval is meant to hold.
pub(crate) const HELD: f64 = 0.90;

const ROUNDS: usize = 200;
const SETTLED: f64 = 1e-11;

/// Which styles' hydration moves with what the flours absorb.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Follow {
    /// None: a level for each style and nothing more.
    None,
    /// Doughs whose water is added until they feel right.
    YeastDoughs,
    /// Those and poured batters.
    AndBatters,
    /// Those and pasta.
    AndPasta,
}

impl Follow {
    /// Whether a style follows absorption.
    pub(crate) fn holds(self, style: &str) -> bool {
        let yeast = matches!(
            style,
            "lean_bread" | "enriched_dough" | "pizza_flatbread" | "laminated"
        );
        match self {
            Self::None => false,
            Self::YeastDoughs => yeast,
            Self::AndBatters => yeast || style == "pancake_crepe",
            Self::AndPasta => yeast || matches!(style, "pancake_crepe" | "pasta"),
        }
    }
}

/// A fit and what only the report needs of it.
pub(crate) struct Fitted {
    pub(crate) model: Model,
    /// Spread over all styles, in natural logarithms.
    pub(crate) pooled_spread: f64,
}

/// Fits on all formulas whose source is not held out.
pub(crate) fn fit(
    data: &Data,
    follow: Follow,
    held_out: &BTreeSet<usize>,
) -> Result<Fitted, Box<dyn Error>> {
    let used: Vec<&Formula> = data
        .formulas
        .iter()
        .filter(|f| !held_out.contains(&f.source))
        .collect();
    let styles: Vec<&str> = used
        .iter()
        .map(|f| f.style.as_str())
        .collect::<BTreeSet<_>>()
        .into_iter()
        .collect();
    let keys: Vec<&str> = used
        .iter()
        .filter(|f| follow.holds(&f.style))
        .flat_map(|f| f.parts.iter().map(|p| p.key))
        .collect::<BTreeSet<_>>()
        .into_iter()
        .collect();
    let place = |list: &[&str], key: &str| {
        list.iter()
            .position(|k| *k == key)
            .ok_or_else(|| format!("{key} is not in the fit"))
    };

    let columns = styles.len() + keys.len();
    let mut penalty = vec![LEVEL_DEVIATION.powi(-2); styles.len()];
    let mut centre = vec![0.0; styles.len()];
    for key in &keys {
        let listed = data.listed(key)?;
        penalty.push(((listed.high / listed.low).ln() / RANGE_IN_DEVIATIONS).powi(-2));
        centre.push(listed.likely.ln());
    }
    let mut style_of = Vec::new();
    let mut shares: Vec<Vec<(usize, f64)>> = Vec::new();
    for formula in &used {
        style_of.push(place(&styles, &formula.style)?);
        let mut list = Vec::new();
        if follow.holds(&formula.style) {
            for part in &formula.parts {
                list.push((styles.len() + place(&keys, part.key)?, part.percent / 100.0));
            }
        }
        shares.push(list);
    }

    let observed: Vec<f64> = used.iter().map(|f| f.ln_hydration()).collect();
    let mut now = centre.clone();
    let mut settled = false;
    for _ in 0..ROUNDS {
        let (x, fitted) = linearise(&now, &style_of, &shares, columns);
        let left: Vec<f64> = observed.iter().zip(&fitted).map(|(o, f)| o - f).collect();
        let spread = spreads(&left, &style_of, styles.len())?.1;
        let weights: Vec<f64> = left
            .iter()
            .zip(&style_of)
            .map(|(r, s)| huber_weight(*r, spread[*s]) / spread[*s].powi(2))
            .collect();
        // What is left plus what the straight line through `now` already says.
        let target: Vec<f64> = x
            .chunks_exact(columns)
            .zip(&left)
            .map(|(row, r)| r + row.iter().zip(&now).map(|(a, b)| a * b).sum::<f64>())
            .collect();
        let next = ridge(&x, &target, &weights, &penalty, &centre)?;
        let step = next
            .iter()
            .zip(&now)
            .fold(0.0_f64, |m, (a, b)| m.max((a - b).abs()));
        now = next;
        if step < SETTLED {
            settled = true;
            break;
        }
    }
    if !settled {
        return Err(format!("the fit did not settle in {ROUNDS} rounds").into());
    }

    let (_, fitted) = linearise(&now, &style_of, &shares, columns);
    // A formula draws its own style's level to itself; undo that to see it as a stranger would.
    let mut count = vec![0.0; styles.len()];
    style_of.iter().for_each(|s| count[*s] += 1.0);
    let left: Vec<f64> = (0..used.len())
        .map(|i| (observed[i] - fitted[i]) * count[style_of[i]] / (count[style_of[i]] - 1.0))
        .collect();
    let (pooled_spread, spread) = spreads(&left, &style_of, styles.len())?;
    let mut reach = Vec::new();
    for i in 0..used.len() {
        let others: Vec<f64> = (0..used.len())
            .filter(|&j| j != i && style_of[j] == style_of[i])
            .map(|j| left[j].abs())
            .collect();
        reach.push(left[i] / drawn_spread(&others, pooled_spread));
    }

    let mut model = Model {
        reference_absorption: REFERENCE_ABSORPTION,
        reach_low: quantile(&reach, (1.0 - HELD) / 2.0)?,
        reach_high: quantile(&reach, (1.0 + HELD) / 2.0)?,
        original_spread: ORIGINAL_SPREAD,
        pair_reach: 0.0,
        styles: BTreeMap::new(),
        absorption: BTreeMap::new(),
    };
    for (s, style) in styles.iter().enumerate() {
        let pairs = data
            .pairs
            .iter()
            .filter(|p| p.gluten_free.style == *style)
            .count();
        let follows = follow.holds(style);
        let fit = StyleFit {
            level_percent: 100.0 * now[s].exp(),
            spread: spread[s],
            follows_absorption: follows,
            wheat_consistency: wheat_consistency(data, follows, style)?,
            formulas: used.iter().filter(|f| f.style == *style).count(),
            pairs,
        };
        model.styles.insert((*style).to_owned(), fit);
    }
    for (k, key) in keys.iter().enumerate() {
        model
            .absorption
            .insert((*key).to_owned(), now[styles.len() + k].exp());
    }
    Ok(Fitted {
        model,
        pooled_spread,
    })
}

/// Consistency of the usual wheat recipe of a style: its hydration over what bread flour absorbs.
pub(crate) fn wheat_consistency(
    data: &Data,
    wanted: bool,
    style: &str,
) -> Result<Option<f64>, Box<dyn Error>> {
    if !wanted
        || !data
            .practice
            .contains_key(&(style.to_owned(), "wheat_hydration".to_owned()))
    {
        return Ok(None);
    }
    let hydration = data.practice(style, "wheat_hydration")?.value / 100.0;
    Ok(Some(hydration / data.listed("bread_flour")?.likely))
}

/// The straight line that touches the model at `now`, and the model's values there.
fn linearise(
    now: &[f64],
    style_of: &[usize],
    shares: &[Vec<(usize, f64)>],
    columns: usize,
) -> (Vec<f64>, Vec<f64>) {
    let mut x = vec![0.0; style_of.len() * columns];
    let mut fitted = Vec::with_capacity(style_of.len());
    for (i, (style, parts)) in style_of.iter().zip(shares).enumerate() {
        let row = &mut x[i * columns..(i + 1) * columns];
        row[*style] = 1.0;
        let mut value = now[*style];
        if !parts.is_empty() {
            let water: f64 = parts.iter().map(|(k, share)| share * now[*k].exp()).sum();
            value += (water / REFERENCE_ABSORPTION).ln();
            for (k, share) in parts {
                row[*k] += share * now[*k].exp() / water;
            }
        }
        fitted.push(value);
    }
    (x, fitted)
}

/// The spread of all, and of each style drawn to it.
fn spreads(
    left: &[f64],
    style_of: &[usize],
    styles: usize,
) -> Result<(f64, Vec<f64>), Box<dyn Error>> {
    let pooled = median_scale(left)?;
    let each = (0..styles)
        .map(|s| {
            let own: Vec<f64> = left
                .iter()
                .zip(style_of)
                .filter(|(_, t)| **t == s)
                .map(|(r, _)| r.abs())
                .collect();
            drawn_spread(&own, pooled)
        })
        .collect();
    Ok((pooled, each))
}

/// A style's mean distance as a standard deviation, drawn to the pooled spread.
fn drawn_spread(distances: &[f64], pooled: f64) -> f64 {
    let n = distances.len() as f64;
    if n == 0.0 {
        return pooled;
    }
    let own = (distances.iter().sum::<f64>() / n / MEAN_DISTANCE).max(LEAST_SPREAD);
    ((n * own.ln() + POOL * pooled.ln()) / (n + POOL)).exp()
}
