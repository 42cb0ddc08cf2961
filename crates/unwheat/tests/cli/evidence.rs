//! `evidence`: what stands behind each style.

use crate::run::{unwheat, with_input};

#[test]
fn every_style_says_what_stands_behind_it() {
    let json = unwheat(&["evidence", "--json"]).json();
    let styles = json["styles"].as_array().expect("a list");
    assert_eq!(styles.len(), 16);
    for s in styles {
        let formulas = s["formulas"].as_u64().expect("a count");
        assert_eq!(s["thin_evidence"], formulas < 6, "{s}");
        assert_eq!(s["calibration"].is_null(), formulas == 0, "{s}");
    }
    assert_eq!(json["pairs"].as_array().map(Vec::len), Some(17));
    let words = unwheat(&["evidence"]).done();
    assert!(words.contains("enriched yeast"), "{words}");
    assert!(words.contains("thin evidence"), "{words}");
    assert!(words.contains("change nothing"), "{words}");
    assert!(words.lines().all(|l| l.chars().count() <= 80), "{words}");
}

/// Five formulas stand behind enriched doughs, twelve behind muffins
/// (`crates/evidence/data/formulas`).
#[test]
fn a_rework_and_a_formula_say_what_is_thin() {
    let buns = "Buns\n\n500 g bread flour\n250 g milk\n50 g butter\n7 g instant yeast\n";
    for (style, formulas, thin) in [("enriched_dough", 5, true), ("muffin", 12, false)] {
        let call = ["rework", "--style", style];
        let words = with_input(&call, buns.as_bytes()).done().replace('\n', " ");
        assert_eq!(words.contains("thin evidence"), thin, "{words}");
        let json = with_input(&[&call[..], &["--json"]].concat(), buns.as_bytes()).json();
        let said = &json["components"][0]["style"];
        assert_eq!(said["formulas"], formulas, "{said}");
        assert_eq!(said["thin_evidence"], thin, "{said}");
    }
    let pizza = r#"{"style": "pizza_flatbread", "ingredients": [{"ingredient": "white rice flour", "grams": 300}, {"ingredient": "water", "grams": 300}]}"#;
    let words = with_input(&["hydration"], pizza.as_bytes()).done();
    assert!(words.contains("thin evidence"), "{words}");
    assert_eq!(
        with_input(&["hydration", "--json"], pizza.as_bytes()).json()["thin_evidence"],
        true
    );
}
