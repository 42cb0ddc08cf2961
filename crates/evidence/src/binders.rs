//! The share of published formulas with a binder, as the rework shows it, against the formulas.

use recipe::rework::binder::{Published, published};
use std::collections::BTreeMap;

/// Counted again from `data/formulas/summary.csv`: gluten-free formulas fit for the fit, and of
/// those the ones with any binder.
#[test]
fn shares_are_those_of_the_formulas() {
    let text = include_str!("../data/formulas/summary.csv");
    let mut table = csv::Reader::from_reader(text.as_bytes());
    let head = table.headers().expect("a head").clone();
    let at = |name: &str| head.iter().position(|h| h == name).expect("a column");
    let (kind, style, binder, fit) = (
        at("kind"),
        at("style"),
        at("total_binder_pct"),
        at("use_for_fit"),
    );
    let mut found: BTreeMap<String, Published> = BTreeMap::new();
    for row in table.records() {
        let row = row.expect("a row");
        if &row[kind] != "gf" || &row[fit] != "yes" {
            continue;
        }
        let of = found
            .entry(row[style].to_owned())
            .or_insert(Published { with: 0, of: 0 });
        of.of += 1;
        of.with += usize::from(row[binder].parse::<f64>().expect("a percentage") > 0.0);
    }
    assert_eq!(found.len(), 14);
    for (style, counted) in found {
        assert_eq!(published(&style), Some(counted), "{style}");
    }
}
