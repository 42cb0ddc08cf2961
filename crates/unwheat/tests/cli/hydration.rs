//! `hydration`: formulas in JSON.

use crate::lines::is_spread;
use crate::run::{names_a_place, unwheat, with_input};

const LOAF: &str = r#"{"style": "lean_bread", "ingredients": [
  {"ingredient": "white rice flour", "grams": 300},
  {"ingredient": "tapioca starch", "grams": 100},
  {"ingredient": "psyllium husk", "grams": 20},
  {"ingredient": "egg", "grams": 50},
  {"ingredient": "water", "grams": 380}]}"#;

/// Effective hydration by hand: 380 g of water (99.90 % water, USDA SR28 14411) and 50 g of egg
/// (76.15 %, 01123) on 400 g of flour and starch; a quarter of it starch; 20 g of husk are 5 %.
#[test]
fn a_formula_with_its_grams() {
    let json = with_input(&["hydration", "--json"], LOAF.as_bytes()).json();
    let at = |key: &str| json[key].as_f64().unwrap_or(f64::NAN);
    assert_eq!(json["style"], "lean_bread");
    assert!((at("flour_phase_g") - 400.0).abs() < 1e-6, "{json}");
    let by_hand = (380.0 * 0.999 + 50.0 * 0.7615) / 4.0;
    assert!(
        (at("effective_hydration_percent") - by_hand).abs() < 0.01,
        "{json}"
    );
    assert!((at("starch_share_percent") - 25.0).abs() < 1e-6, "{json}");
    is_spread(&json["expected_hydration_percent"]);
    assert_eq!(json["binders"][0]["key"], "psyllium_husk");
    assert!((json["binders"][0]["percent"].as_f64().unwrap_or(0.0) - 5.0).abs() < 1e-3);
    let words = with_input(&["hydration"], LOAF.as_bytes()).done();
    assert!(words.contains("400 g"), "{words}");
}

/// Keys of the larder do as well as names.
#[test]
fn keys_and_names_are_one() {
    let keyed = LOAF
        .replace("white rice flour", "white_rice_flour")
        .replace("psyllium husk", "psyllium_husk");
    assert_eq!(
        with_input(&["hydration", "--json"], LOAF.as_bytes()).done(),
        with_input(&["hydration", "--json", "-"], keyed.as_bytes()).done()
    );
}

#[test]
fn an_unknown_style_is_answered_with_the_list() {
    let said = with_input(
        &["hydration"],
        LOAF.replace("lean_bread", "crumpet").as_bytes(),
    )
    .refused();
    for style in ["crumpet", "lean_bread", "choux", "crumb_streusel"] {
        assert!(said.contains(style), "{style} is missing: {said}");
    }
}

#[test]
fn json_that_breaks_off_is_answered_with_its_place() {
    for end in [0, 1, 30, 80, LOAF.len() - 1] {
        let said = with_input(&["hydration"], &LOAF.as_bytes()[..end]).refused();
        assert!(
            said.contains("line ") && said.contains("column "),
            "{end}: {said}"
        );
    }
    let said = with_input(
        &["hydration"],
        b"{\"style\": \"choux\",\n \"ingredients\": 3}",
    )
    .refused();
    assert!(names_a_place(&said) && said.contains("line 2"), "{said}");
    with_input(&["hydration"], b"\xff\xfe").refused();
}

#[test]
fn no_flour_and_no_weight_are_refused() {
    let only_water = r#"{"style": "choux", "ingredients": [{"ingredient": "water", "grams": 10}]}"#;
    with_input(&["hydration"], only_water.as_bytes()).refused();
    with_input(
        &["hydration"],
        b"{\"style\": \"choux\", \"ingredients\": []}",
    )
    .refused();
    for grams in ["-1", "1e300", "1e8"] {
        let text = LOAF.replace("300", grams);
        with_input(&["hydration"], text.as_bytes()).refused();
    }
    with_input(&["hydration"], LOAF.replace("300", "1e999").as_bytes()).refused();
}

/// What is not in the larder is said, not counted in silence.
#[test]
fn unknown_ingredients_are_doubted() {
    let text = LOAF.replace("\"egg\"", "\"zorbal crystals\"");
    let json = with_input(&["hydration", "--json"], text.as_bytes()).json();
    let doubts = json["doubts"].to_string();
    assert!(doubts.contains("zorbal crystals"), "{doubts}");
    let hydration = json["effective_hydration_percent"].as_f64();
    assert!(
        hydration.is_some_and(|h| (h - 95.0 * 0.999).abs() < 0.01),
        "{json}"
    );
    let words = unwheat(&["hydration", "--help"]).done();
    assert!(words.contains("grams"), "{words}");
}
