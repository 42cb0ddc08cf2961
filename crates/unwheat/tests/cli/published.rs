//! The published formulas through the command line: flour phase and effective hydration as
//! their collector worked them out, by hand and from the same sources.

use crate::run::{root, with_input};
use serde_json::json;
use std::collections::BTreeMap;

/// Formulas that come out otherwise, and why. Each is a difference of definition, not of reckoning.
const KNOWN: &[(&str, &str)] = &[
    (
        "mu08_tofuscone",
        "tofu of no stated kind: the collector took 85 % water, the larder firm tofu (SR28 16426)",
    ),
    (
        "mu09_tofucocoa",
        "tofu of no stated kind: the collector took 85 % water, the larder firm tofu (SR28 16426)",
    ),
    (
        "rc02_gardon",
        "raisins: the collector counts no water of dried fruit, the larder does",
    ),
];

/// A table as rows of cells by column name; quotes hold commas.
fn table(name: &str) -> Vec<BTreeMap<String, String>> {
    let path = root().join("crates/evidence/data/formulas").join(name);
    let text = std::fs::read_to_string(path).expect("the published formulas");
    let cells = |line: &str| -> Vec<String> {
        let (mut all, mut quoted) = (vec![String::new()], false);
        for c in line.chars() {
            match c {
                '"' => quoted = !quoted,
                ',' if !quoted => all.push(String::new()),
                _ => all.last_mut().expect("never empty").push(c),
            }
        }
        all
    };
    let mut lines = text.lines();
    let header = cells(lines.next().unwrap_or_default());
    lines
        .map(|line| header.iter().cloned().zip(cells(line)).collect())
        .collect()
}

#[test]
fn published_formulas_come_out_as_published() {
    let mut lines: BTreeMap<String, Vec<serde_json::Value>> = BTreeMap::new();
    for row in table("formulas.csv") {
        let grams: f64 = row["grams"].parse().expect("a weight");
        lines
            .entry(row["formula_id"].clone())
            .or_default()
            .push(json!({"ingredient": row["ingredient"], "grams": grams}));
    }
    let (mut checked, mut off) = (0, Vec::new());
    for row in table("summary.csv") {
        let id = &row["formula_id"];
        let number = |column: &str| -> f64 { row[column].parse().expect("a number") };
        let (flour, wet) = (number("flour_phase_g"), number("effective_hydration_pct"));
        let text = json!({"style": row["style"], "ingredients": lines[id]}).to_string();
        let got = with_input(&["hydration", "--json"], text.as_bytes()).json();
        let at = |key: &str| got[key].as_f64().unwrap_or(f64::NAN);
        let (flour_got, wet_got) = (at("flour_phase_g"), at("effective_hydration_percent"));
        checked += 1;
        let flour_off = (flour_got / flour - 1.0).abs() > 0.01;
        let wet_off = (wet_got - wet).abs() > f64::max(3.0, 0.05 * wet);
        if flour_off || wet_off || flour_got.is_nan() || wet_got.is_nan() {
            off.push((
                id.clone(),
                format!(
                    "{id}: flour {flour} → {flour_got:.1} g, hydration {wet} → {wet_got:.1} %, doubts {}",
                    got["doubts"]
                ),
            ));
        }
    }
    assert_eq!(checked, 160);
    let unknown: Vec<&str> = off
        .iter()
        .filter(|(id, _)| !KNOWN.iter().any(|(k, _)| k == id))
        .map(|(_, said)| said.as_str())
        .collect();
    assert!(unknown.is_empty(), "{}", unknown.join("\n"));
    for (id, why) in KNOWN {
        assert!(
            off.iter().any(|(o, _)| o == id),
            "{id} agrees now: take it off the list ({why})"
        );
    }
}
