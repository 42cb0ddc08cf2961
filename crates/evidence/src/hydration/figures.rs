//! How well the fit holds for sources it has not seen.

use super::fit::{Follow, HELD, fit};
use super::formulas::{Data, Formula, Pair};
use super::shipped::{HydrationError, Model, Part, Spread, WheatOriginal};
use numeric::quantile::{median, quantile};
use std::collections::BTreeSet;
use std::error::Error;

/// One formula, foretold from the other sources.
pub(crate) struct Foretold {
    pub(crate) style: String,
    /// |ln(expected / published)| of the model.
    pub(crate) miss: f64,
    /// ln(expected / published) of the model.
    pub(crate) signed: f64,
    /// The same as the miss for the median of the style.
    pub(crate) median_miss: f64,
    /// Whether the interval holds the published figure.
    pub(crate) held: bool,
    /// Width of the interval, in natural logarithms.
    pub(crate) width: f64,
    /// Whether the style's 5th to 95th percentile, of the other sources, holds it.
    pub(crate) own_held: bool,
    /// Distance from the middle of that range, in half widths.
    pub(crate) own_distance: f64,
    /// Width of that range.
    pub(crate) own_width: f64,
}

/// One pair, foretold from the other sources.
pub(crate) struct ForetoldPair {
    pub(crate) id: String,
    pub(crate) wheat: f64,
    pub(crate) published: f64,
    pub(crate) expected: Spread,
    pub(crate) from_memory: bool,
    /// |ln(expected / published)| of the model, of changing nothing, of the style's median.
    pub(crate) miss: [f64; 3],
}

/// Everything the report prints.
pub(crate) struct Figures {
    pub(crate) follow: Follow,
    pub(crate) foretold: Vec<Foretold>,
    pub(crate) pairs: Vec<ForetoldPair>,
}

impl Figures {
    /// Holds each source out in turn.
    pub(crate) fn measure(data: &Data, follow: Follow) -> Result<Self, Box<dyn Error>> {
        let mut foretold = Vec::new();
        for source in data.sources() {
            let held_out = BTreeSet::from([source]);
            let model = fit(data, follow, &held_out)?.model;
            for formula in data.formulas.iter().filter(|f| f.source == source) {
                foretold.push(foretell(data, &model, formula)?);
            }
        }
        let mut pairs = Vec::new();
        for pair in &data.pairs {
            pairs.push(foretell_pair(data, follow, pair)?);
        }
        let misses: Vec<f64> = pairs.iter().map(|p: &ForetoldPair| p.miss[0]).collect();
        // The reach beside each pair comes from the pairs of other sources.
        for (i, pair) in data.pairs.iter().enumerate() {
            let others: Vec<f64> = (0..misses.len())
                .filter(|&j| !data.pairs[j].shares_source(pair))
                .map(|j| misses[j])
                .collect();
            let reach = quantile(&others, HELD)?.exp();
            let likely = pairs[i].expected.likely;
            pairs[i].expected = Spread {
                low: likely / reach,
                likely,
                high: likely * reach,
            };
        }
        Ok(Self {
            follow,
            foretold,
            pairs,
        })
    }

    /// The rows of one style, or all.
    pub(crate) fn of<'a>(&'a self, style: Option<&'a str>) -> impl Iterator<Item = &'a Foretold> {
        self.foretold
            .iter()
            .filter(move |f| style.is_none_or(|s| s == f.style))
    }

    /// Median miss of the model, of a style or of all.
    pub(crate) fn median_miss(&self, style: Option<&str>) -> Result<f64, Box<dyn Error>> {
        Ok(median(&self.of(style).map(|f| f.miss).collect::<Vec<_>>())?)
    }

    /// Share of published figures that the interval holds.
    pub(crate) fn coverage(&self, style: Option<&str>) -> f64 {
        mean(self.of(style).map(|f| if f.held { 1.0 } else { 0.0 }))
    }

    /// The pairs' misses of one kind: 0 the model, 1 changing nothing, 2 the style's median.
    pub(crate) fn pair_misses(&self, kind: usize) -> Vec<f64> {
        self.pairs.iter().map(|p| p.miss[kind]).collect()
    }

    /// Width of the styles' own percentile ranges once stretched, all by one
    /// factor, until they hold as many unseen formulas as the intervals do.
    pub(crate) fn own_width_at_equal_coverage(&self) -> f64 {
        let mut distances: Vec<f64> = self.foretold.iter().map(|f| f.own_distance).collect();
        distances.sort_by(f64::total_cmp);
        let held = self.foretold.iter().filter(|f| f.held).count();
        let stretch = distances
            .get(held.saturating_sub(1))
            .copied()
            .unwrap_or(1.0);
        stretch * mean(self.foretold.iter().map(|f| f.own_width))
    }
}

/// The mean of some figures.
pub(crate) fn mean(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, count) = values.fold((0.0, 0.0), |(s, n), v| (s + v, n + 1.0));
    sum / count
}

/// The root of the mean square.
pub(crate) fn root_mean_square(values: &[f64]) -> f64 {
    mean(values.iter().map(|v| v * v)).sqrt()
}

/// A style's own 5th to 95th percentile, in natural logarithms.
pub(crate) fn own_range(
    data: &Data,
    style: &str,
    held_out: &BTreeSet<usize>,
) -> Result<[f64; 3], Box<dyn Error>> {
    let own: Vec<f64> = data
        .formulas
        .iter()
        .filter(|f| f.style == style && !held_out.contains(&f.source))
        .map(Formula::ln_hydration)
        .collect();
    Ok([
        quantile(&own, (1.0 - HELD) / 2.0)?,
        median(&own)?,
        quantile(&own, (1.0 + HELD) / 2.0)?,
    ])
}

/// A formula's flours and binders in the shape that the shipped module takes.
pub(crate) fn phase<'a>(
    data: &Data,
    formula: &'a Formula,
) -> Result<(Vec<Part<'a>>, Vec<Part<'a>>), Box<dyn Error>> {
    let (mut flours, mut binders) = (Vec::new(), Vec::new());
    for part in &formula.parts {
        let absorption = data.listed(part.key)?.likely;
        let list = if part.binder {
            &mut binders
        } else {
            &mut flours
        };
        list.push(Part {
            key: part.key,
            percent: part.percent,
            absorption,
        });
    }
    Ok((flours, binders))
}

fn foretell(data: &Data, model: &Model, formula: &Formula) -> Result<Foretold, Box<dyn Error>> {
    let (flours, binders) = phase(data, formula)?;
    let expected = model
        .expect(&formula.style, &flours, &binders, None)?
        .hydration;
    let published = formula.hydration;
    let [own_low, own_median, own_high] =
        own_range(data, &formula.style, &BTreeSet::from([formula.source]))?;
    let own_width = own_high - own_low;
    let own_distance =
        (formula.ln_hydration() - (own_low + own_high) / 2.0).abs() / (own_width / 2.0);
    Ok(Foretold {
        style: formula.style.clone(),
        miss: (expected.likely / published).ln().abs(),
        signed: (expected.likely / published).ln(),
        median_miss: (own_median - formula.ln_hydration()).abs(),
        held: expected.low <= published && published <= expected.high,
        width: (expected.high / expected.low).ln(),
        own_held: own_distance <= 1.0,
        own_distance,
        own_width,
    })
}

impl Pair {
    /// The sources of both sides.
    pub(crate) fn sources(&self) -> BTreeSet<usize> {
        BTreeSet::from([self.wheat.source, self.gluten_free.source])
    }

    pub(crate) fn shares_source(&self, other: &Self) -> bool {
        !self.sources().is_disjoint(&other.sources())
    }

    /// Median hydration of the style, %, of sources other than the pair's.
    pub(crate) fn style_median(&self, data: &Data) -> Result<f64, Box<dyn Error>> {
        let own = own_range(data, &self.gluten_free.style, &self.sources())?;
        Ok(100.0 * own[1].exp())
    }

    /// The wheat side as the shipped module takes it; what it absorbs is as listed.
    pub(crate) fn original(
        &self,
        data: &Data,
        model: &Model,
    ) -> Result<WheatOriginal, Box<dyn Error>> {
        let (flours, binders) = phase(data, &self.wheat)?;
        let absorption = model.absorption_of(&flours, &binders)?;
        let likely = self.wheat.hydration;
        Ok(WheatOriginal {
            hydration: Spread {
                low: likely,
                likely,
                high: likely,
            },
            consistency: likely / 100.0 / absorption,
        })
    }
}

fn foretell_pair(data: &Data, follow: Follow, pair: &Pair) -> Result<ForetoldPair, Box<dyn Error>> {
    let held_out = pair.sources();
    let model = fit(data, follow, &held_out)?.model;
    let style = &pair.gluten_free.style;
    let (flours, binders) = phase(data, &pair.gluten_free)?;
    let original = pair.original(data, &model)?;
    let expected = model
        .expect(style, &flours, &binders, Some(&original))
        .map_err(|e: HydrationError| format!("{}: {e}", pair.gluten_free.id))?
        .hydration;
    let published = pair.gluten_free.hydration;
    let median = pair.style_median(data)?;
    Ok(ForetoldPair {
        id: pair.gluten_free.id.clone(),
        wheat: pair.wheat.hydration,
        published,
        expected,
        from_memory: pair.from_memory,
        miss: [expected.likely, pair.wheat.hydration, median].map(|v| (v / published).ln().abs()),
    })
}
