//! The table that ships: the fit on all formulas, and what is borrowed.

use super::figures::{Figures, mean};
use super::fit::{Follow, HELD, fit, wheat_consistency};
use super::formulas::{Data, Practice};
use super::shipped::{Model, StyleFit};
use numeric::quantile::quantile;
use std::collections::BTreeSet;
use std::error::Error;
use std::fmt::Write;

/// Where the table goes.
pub(crate) const PATH: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../recipe/data/hydration_model.tsv"
);

/// Doughs that a style without formulas borrows from.
const LENDERS: [&str; 3] = ["enriched_dough", "lean_bread", "pizza_flatbread"];
/// Standard deviations from the middle to the end of a range read as nine chances of ten.
const RANGE_END: f64 = 1.645;

/// The model on all formulas.
pub(crate) fn model(data: &Data, figures: &Figures) -> Result<Model, Box<dyn Error>> {
    let fitted = fit(data, Follow::YeastDoughs, &BTreeSet::new())?;
    let mut model = fitted.model;
    model.pair_reach = quantile(&figures.pair_misses(0), HELD)?;
    let laminated = laminated(data, &model, fitted.pooled_spread)?;
    model.styles.insert("laminated".to_owned(), laminated);
    let cracker = by_practice(data, "cracker", fitted.pooled_spread)?;
    model.styles.insert("cracker".to_owned(), cracker);
    Ok(model)
}

/// No laminated formula was found. Its usual hydration in practice is moved by
/// as much as the fitted doughs lie from theirs, and the interval widened by
/// the range of practice.
fn laminated(data: &Data, model: &Model, pooled: f64) -> Result<StyleFit, Box<dyn Error>> {
    let mut moved = Vec::new();
    for style in LENDERS {
        let fit = model
            .styles
            .get(style)
            .ok_or_else(|| format!("{style} is not fitted"))?;
        moved.push((fit.level_percent / data.practice(style, "hydration")?.value).ln());
    }
    let practice = data.practice("laminated", "hydration")?;
    Ok(StyleFit {
        level_percent: practice.value * mean(moved.iter().copied()).exp(),
        spread: pooled.hypot(of_practice(&practice)),
        follows_absorption: true,
        wheat_consistency: wheat_consistency(data, true, "laminated")?,
        formulas: 0,
        pairs: 0,
    })
}

/// A style without formulas that is no yeast dough: its usual hydration in practice, with an interval
/// wide enough for both that range and what published formulas of one style differ by.
fn by_practice(data: &Data, style: &str, pooled: f64) -> Result<StyleFit, Box<dyn Error>> {
    let practice = data.practice(style, "hydration")?;
    Ok(StyleFit {
        level_percent: practice.value,
        spread: pooled.hypot(of_practice(&practice)),
        follows_absorption: false,
        wheat_consistency: None,
        formulas: 0,
        pairs: 0,
    })
}

/// Half of a range of practice, as a standard deviation in natural logarithms.
fn of_practice(range: &Practice) -> f64 {
    (range.high / range.low).ln() / 2.0 / RANGE_END
}

/// The table as text, one quantity a row, each with its meaning.
pub(crate) fn text(data: &Data, model: &Model) -> String {
    let mut out = String::from("quantity\tkey\tvalue\tmeaning\n");
    out.push_str(
        "# Written by `cargo run -p evidence -- hydration --write`; do not edit. \
         How it was fitted and how well it holds: docs/hydration-model.md.\n",
    );
    let mut row = |quantity: &str, key: &str, value: f64, meaning: &str| {
        // Writing to a string cannot fail.
        let _ = writeln!(out, "{quantity}\t{key}\t{}\t{meaning}", digits(value));
    };
    let held = "in spreads, from the expected hydration to the end that one published formula of twenty lies beyond";
    row(
        "all",
        "reference_absorption",
        model.reference_absorption,
        "g water per g of flour phase at which levels are stated: white rice flour as listed; chosen",
    );
    row(
        "all",
        "reach_low",
        model.reach_low,
        &format!("lower end: {held}; fitted"),
    );
    row(
        "all",
        "reach_high",
        model.reach_high,
        &format!("upper end: {held}; fitted"),
    );
    row(
        "all",
        "original_spread",
        model.original_spread,
        "natural logarithm; a wheat original's hydration is read as known within this: cups carry 10-15 % in flour weight; chosen",
    );
    row(
        "all",
        "pair_reach",
        model.pair_reach,
        "natural logarithm; half width that held nine of ten published pairs, wheat and gluten-free, around the hydration drawn from the original; measured",
    );
    for (key, style) in &model.styles {
        let source = match style.formulas {
            0 if style.follows_absorption => "borrowed: no formula found; usual hydration in practice, moved as the fitted yeast doughs lie from theirs".to_owned(),
            0 => "borrowed: no formula found; usual hydration in practice".to_owned(),
            n => format!("fitted on {n} formulas"),
        };
        let at = match (style.follows_absorption, style.formulas) {
            (true, _) => "at the reference absorption",
            (false, 0) => "whatever the flours",
            (false, _) => "whatever the flours: the formulas show no steady effect",
        };
        row(
            "level",
            key,
            style.level_percent,
            &format!("effective hydration, % of the flour phase, {at}; {source}"),
        );
        row(
            "spread",
            key,
            style.spread,
            &format!(
                "natural logarithm; usual distance of a published formula from the expected hydration, drawn to that of all styles; {}",
                if style.formulas == 0 {
                    "widened by the range of practice"
                } else {
                    "fitted"
                }
            ),
        );
        row(
            "follows_absorption",
            key,
            f64::from(u8::from(style.follows_absorption)),
            "1: hydration moves in step with what flours and binders absorb; 0: it does not; chosen",
        );
        row(
            "formulas",
            key,
            style.formulas as f64,
            "published gluten-free formulas of the style; counted",
        );
        row(
            "pairs",
            key,
            style.pairs as f64,
            "published pairs, wheat and gluten-free, of the style; counted",
        );
        if let Some(usual) = style.wheat_consistency {
            row(
                "wheat_consistency",
                key,
                usual,
                "effective water of the usual wheat recipe over what its bread flour absorbs; common practice, no source",
            );
        }
    }
    for (key, value) in &model.absorption {
        let listed = data.absorption.get(key).map_or(f64::NAN, |l| l.likely);
        row(
            "absorption",
            key,
            *value,
            &format!(
                "g water per g; listed {listed}, moved by the formulas of lean_bread, enriched_dough and pizza_flatbread"
            ),
        );
    }
    out
}

/// Six significant digits: more than the data carry, and few enough that
/// another machine's logarithm prints the same.
fn digits(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let places = (5 - value.abs().log10().floor() as i32).max(0) as usize;
    let text = format!("{value:.places$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}
