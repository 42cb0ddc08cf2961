//! The table of the fitted model, read.

use super::{HydrationError, Model, StyleFit};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// The table of the fitted model, one quantity a row.
pub(super) const TABLE: &str = include_str!("../../../data/hydration_model.tsv");

static SHIPPED: LazyLock<Result<Model, HydrationError>> = LazyLock::new(|| Model::parse(TABLE));

impl Model {
    /// The model in the checked-in table.
    ///
    /// # Errors
    /// [`HydrationError::Table`]: the table was damaged before the build.
    pub fn shipped() -> Result<&'static Self, HydrationError> {
        SHIPPED.as_ref().map_err(Clone::clone)
    }

    /// Reads a table: rows of quantity, key, value, meaning, parted by tabs.
    ///
    /// # Errors
    /// [`HydrationError::Table`]: a line that cannot be read, or a quantity that is missing.
    pub fn parse(table: &str) -> Result<Self, HydrationError> {
        let mut values: BTreeMap<(&str, &str), f64> = BTreeMap::new();
        for (index, line) in table.lines().enumerate() {
            if index == 0 || line.is_empty() || line.starts_with('#') {
                continue;
            }
            let mut cells = line.split('\t');
            let bad = |what: &str| HydrationError::Table {
                line: index + 1,
                what: what.to_owned(),
            };
            let (Some(quantity), Some(key), Some(value)) =
                (cells.next(), cells.next(), cells.next())
            else {
                return Err(bad("fewer than three cells"));
            };
            let value = value
                .parse::<f64>()
                .map_err(|_| bad("the value is no number"))?;
            if !value.is_finite() {
                return Err(bad("the value is not finite"));
            }
            if values.insert((quantity, key), value).is_some() {
                return Err(bad("given twice"));
            }
        }
        let get = |quantity: &str, key: &str| {
            values
                .get(&(quantity, key))
                .copied()
                .ok_or_else(|| HydrationError::Table {
                    line: 0,
                    what: format!("no row for {quantity} {key}"),
                })
        };
        let mut styles = BTreeMap::new();
        let mut absorption = BTreeMap::new();
        for (&(quantity, key), &value) in &values {
            if quantity == "level" {
                styles.insert(
                    key.to_owned(),
                    StyleFit {
                        level_percent: value,
                        spread: get("spread", key)?,
                        follows_absorption: get("follows_absorption", key)? != 0.0,
                        wheat_consistency: values.get(&("wheat_consistency", key)).copied(),
                        formulas: get("formulas", key)? as usize,
                        pairs: get("pairs", key)? as usize,
                    },
                );
            } else if quantity == "absorption" {
                absorption.insert(key.to_owned(), value);
            }
        }
        Ok(Self {
            reference_absorption: get("all", "reference_absorption")?,
            reach_low: get("all", "reach_low")?,
            reach_high: get("all", "reach_high")?,
            original_spread: get("all", "original_spread")?,
            pair_reach: get("all", "pair_reach")?,
            styles,
            absorption,
        })
    }
}
