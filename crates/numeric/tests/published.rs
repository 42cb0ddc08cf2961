//! Every row of `checks/numeric_*.tsv`, each named by its id.

use numeric::NumericError;
use numeric::least_squares::{ridge, weighted};
use numeric::quantile::quantile;
use numeric::robust::huber;
use std::collections::BTreeMap;
use std::error::Error;

const STRD: &str = include_str!("../../../checks/numeric_strd.tsv");
const NORRIS: &str = include_str!("../../../checks/numeric_strd_norris.tsv");
const LONGLEY: &str = include_str!("../../../checks/numeric_strd_longley.tsv");
const FITS: &str = include_str!("../../../checks/numeric_least_squares.tsv");
const FIT_DATA: &str = include_str!("../../../checks/numeric_least_squares_data.tsv");
const QUANTILES: &str = include_str!("../../../checks/numeric_quantile.tsv");

struct Check<'a> {
    id: &'a str,
    input: &'a str,
    expected: f64,
    tolerance: f64,
}

fn checks(text: &str) -> Result<Vec<Check<'_>>, Box<dyn Error>> {
    let mut rows = Vec::new();
    for line in text.lines().skip(1) {
        let cell: Vec<&str> = line.split('\t').collect();
        rows.push(Check {
            id: cell[0],
            input: cell[1],
            expected: cell[2].parse()?,
            tolerance: cell[4].parse()?,
        });
    }
    assert!(!rows.is_empty());
    Ok(rows)
}

fn table(text: &str) -> Result<Vec<Vec<f64>>, Box<dyn Error>> {
    text.lines()
        .skip(1)
        .map(|l| l.split('\t').map(|v| Ok(v.parse::<f64>()?)).collect())
        .collect()
}

#[track_caller]
fn near(id: &str, found: f64, expected: f64, tolerance: f64) {
    assert!(
        (found - expected).abs() <= tolerance,
        "{id}: found {found}, expected {expected}"
    );
}

fn plain_fit(text: &str) -> Result<Vec<f64>, Box<dyn Error>> {
    let rows = table(text)?;
    let y: Vec<f64> = rows.iter().map(|r| r[0]).collect();
    let x: Vec<f64> = rows
        .iter()
        .flat_map(|r| std::iter::once(1.0).chain(r[1..].iter().copied()))
        .collect();
    Ok(weighted(&x, &y, &vec![1.0; y.len()])?)
}

#[test]
fn certified_estimates() -> Result<(), Box<dyn Error>> {
    let fits = BTreeMap::from([
        ("norris", plain_fit(NORRIS)?),
        ("longley", plain_fit(LONGLEY)?),
    ]);
    for check in checks(STRD)? {
        let (name, place) = check.id.split_once("_b").ok_or("id without _b")?;
        let found = fits[name][place.parse::<usize>()?];
        near(
            check.id,
            found,
            check.expected,
            check.tolerance * check.expected.abs(),
        );
    }
    Ok(())
}

#[test]
fn weighted_ridge_and_huber_fits() -> Result<(), Box<dyn Error>> {
    let rows = table(FIT_DATA)?;
    let y: Vec<f64> = rows.iter().map(|r| r[0]).collect();
    let x: Vec<f64> = rows.iter().flat_map(|r| r[1..4].to_vec()).collect();
    let w: Vec<f64> = rows.iter().map(|r| r[4]).collect();
    let fits = BTreeMap::from([
        ("weighted", weighted(&x, &y, &w)?),
        (
            "ridge",
            ridge(&x, &y, &w, &[1e-6, 0.7, 2.0], &[0.0, 1.0, -0.5])?,
        ),
        ("huber", huber(&x, &y, 0.5)?),
    ]);
    for check in checks(FITS)? {
        let (name, place) = check.id.split_once('_').ok_or("id without place")?;
        near(
            check.id,
            fits[name][place.parse::<usize>()?],
            check.expected,
            check.tolerance,
        );
    }
    Ok(())
}

#[test]
fn quantiles() -> Result<(), Box<dyn Error>> {
    for check in checks(QUANTILES)? {
        let (q, list) = check.input.split_once(" of ").ok_or("no list")?;
        let values: Vec<f64> = list.split(' ').map(str::parse).collect::<Result<_, _>>()?;
        near(
            check.id,
            quantile(&values, q.parse()?)?,
            check.expected,
            check.tolerance,
        );
    }
    Ok(())
}

#[test]
fn a_scale_of_zero_is_refused() {
    assert!(matches!(
        huber(&[1.0], &[1.0], 0.0),
        Err(NumericError::Value { what: "scale", .. })
    ));
}
