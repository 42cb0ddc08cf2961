//! `evidence makeup`: what the flour phases of published gluten-free formulas are made of, style
//! by style; with `--write` the table that blends are formulated against.

use crate::hydration::Data;
use larder::{FoodId, Larder};
use numeric::quantile::median;
use recipe::formulate::{MakeUp, Property};
use recipe::rework::style::Style;
use std::collections::BTreeMap;
use std::error::Error;
use std::fmt::Write;

/// Where the table goes.
const PATH: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../recipe/data/blend_targets.tsv"
);
/// Standard deviations in a median absolute deviation of a normal distribution, inverted.
const MAD: f64 = 1.4826;
/// A style's spread counts by its formulas, that of all styles as so many.
const COMMON: f64 = 8.0;
/// No spread is below this share of the spread of all styles: a handful of formulas of one flour
/// do not make the next flour a grave miss.
const LEAST: f64 = 0.5;
/// Styles that a style without formulas borrows from.
fn lenders(style: Style) -> [&'static str; 2] {
    match style.is_yeast_dough() {
        true => ["enriched_dough", "lean_bread"],
        false => ["pie_pastry", "rolled_cookie"],
    }
}

/// Prints the table, and with `--write` writes it.
pub(crate) fn run(words: &[&str]) -> Result<(), Box<dyn Error>> {
    let table = table()?;
    match words {
        [] => print!("{table}"),
        ["--write"] => {
            std::fs::write(PATH, table)?;
            println!("{PATH} written");
        }
        [other, ..] => return Err(format!("makeup takes --write, not '{other}'").into()),
    }
    Ok(())
}

/// Make-ups of the published blends, by style. Formulas with a ready blend or a flour of unknown
/// composition are left out.
fn published(larder: &Larder) -> Result<BTreeMap<String, Vec<MakeUp>>, Box<dyn Error>> {
    let mut out: BTreeMap<String, Vec<MakeUp>> = BTreeMap::new();
    for formula in Data::read()?.formulas {
        let parts: Option<Vec<(FoodId, f64)>> = formula
            .parts
            .iter()
            .filter(|p| !p.binder)
            .map(|p| Some((larder.by_key(p.key)?, p.percent)))
            .collect();
        let ready = formula.parts.iter().any(|p| p.key.contains("blend"));
        if let Some(Ok(makeup)) = parts.filter(|_| !ready).map(|p| MakeUp::of(&p, larder)) {
            out.entry(formula.style).or_default().push(makeup);
        }
    }
    Ok(out)
}

fn column(of: &[MakeUp], property: Property) -> Vec<f64> {
    of.iter().map(|m| m.get(property)).collect()
}

fn table() -> Result<String, Box<dyn Error>> {
    let larder = Larder::built_in()?;
    let published = published(&larder)?;
    let mut middles: BTreeMap<(&str, Property), f64> = BTreeMap::new();
    let mut misses: BTreeMap<(&str, Property), Vec<f64>> = BTreeMap::new();
    for (style, of) in &published {
        for property in Property::ALL {
            let values = column(of, property);
            let middle = median(&values)?;
            middles.insert((style, property), middle);
            let missed = values.iter().map(|v| (v - middle).abs()).collect();
            misses.insert((style, property), missed);
        }
    }
    let mut common = BTreeMap::new();
    for property in Property::ALL {
        let all: Vec<f64> = misses
            .iter()
            .filter(|((_, p), _)| *p == property)
            .flat_map(|(_, m)| m.iter().copied())
            .collect();
        // Half of the formulas of some styles are one flour: the mean counts the others too.
        let mean = all.iter().sum::<f64>() / all.len() as f64;
        common.insert(property, mean * (std::f64::consts::PI / 2.0).sqrt());
    }
    let mut out = String::from(
        "# What the flour phases of published gluten-free formulas are made of. Written by `cargo run -p evidence -- makeup --write`, not by hand; composition: USDA SR28 and the larder's tables, absorption mostly from memory. formulas 0: borrowed, yeast doughs from enriched doughs and lean breads, others from pastry and rolled cookies.\n\
         style\tproperty\tmiddle\tspread\tformulas\n",
    );
    let mut write = |style: &str, property: Property, middle: f64, spread: f64, n: usize| {
        let word = property.word();
        writeln!(out, "{style}\t{word}\t{middle:.3}\t{spread:.3}\t{n}")
    };
    for property in Property::ALL {
        let all: Vec<f64> = published
            .values()
            .flat_map(|of| column(of, property))
            .collect();
        write("all", property, median(&all)?, common[&property], all.len())?;
    }
    // What no ratios tell has no formulas and aims at no make-up of its own.
    for style in Style::all().filter(|s| s.range("hydration_eff").is_some()) {
        let key = style.key();
        let n = published.get(key).map_or(0, Vec::len);
        for property in Property::ALL {
            let shared = common[&property];
            let (middle, spread) = match misses.get(&(key, property)) {
                Some(missed) => {
                    let own = MAD * median(missed)?;
                    let (n, c) = (n as f64, COMMON);
                    let spread = ((n * own * own + c * shared * shared) / (n + c)).sqrt();
                    (middles[&(key, property)], spread.max(LEAST * shared))
                }
                None => {
                    let lent = lenders(style).map(|l| middles.get(&(l, property)).copied());
                    let lent: Vec<f64> = lent.into_iter().flatten().collect();
                    (lent.iter().sum::<f64>() / lent.len() as f64, shared)
                }
            };
            write(key, property, middle, spread, n)?;
        }
    }
    Ok(out)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_that_ships_is_a_fresh_count() -> Result<(), Box<dyn Error>> {
        // Not assert_eq: both tables in full would be no help.
        assert!(
            table()? == std::fs::read_to_string(PATH)?,
            "write it anew: cargo run -p evidence -- makeup --write"
        );
        Ok(())
    }
}
