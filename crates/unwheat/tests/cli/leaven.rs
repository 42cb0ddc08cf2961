//! `leaven`: soda against acid, swaps, altitude.

use crate::lines::is_spread;
use crate::run::{unwheat, with_input};

const CAKE: &str = "Plain cake\n\n250 g rice flour\n200 g sugar\n2 tsp baking powder\n240 g milk\n2 eggs\n100 g butter\n\nMix and bake.\n";
const SODA: &str =
    "Soda cake\n\n250 g rice flour\n240 g buttermilk\n2.3 g baking soda\n\nMix and bake.\n";

/// Project rule R8.1: 2.3 g of soda to about 240 g of buttermilk come out even. By hand: 0.85 g to
/// 100 g take 2.04 g; 84.006 g of soda are a mole of gas, 24,465 mL at 25 °C.
#[test]
fn buttermilk_and_soda_come_out_even() {
    let json = with_input(&["leaven", "--json"], SODA.as_bytes()).json();
    let l = &json["components"][0]["leavening"];
    assert_eq!(l["verdict"], "even");
    for key in [
        "soda_g",
        "acid_takes_g",
        "left_over_g",
        "idle_g",
        "gas_25c_ml",
    ] {
        is_spread(&l[key]);
    }
    let at = |key: &str| l[key]["likely"].as_f64().unwrap_or(f64::NAN);
    assert!((at("acid_takes_g") - 2.04).abs() < 1e-3, "{l}");
    let by_hand = 2.04 / 84.006 * 24_465.4;
    assert!((at("gas_25c_ml") - by_hand).abs() < 0.5, "{l}");
    let words = with_input(&["leaven"], SODA.as_bytes()).done();
    assert!(words.contains("come out even"), "{words}");
}

/// Twice the soda is left over, with ways to neutralise it.
#[test]
fn left_over_soda_is_said_with_what_to_do() {
    let text = SODA.replace("2.3 g baking soda", "6 g baking soda");
    let words = with_input(&["leaven"], text.as_bytes()).done();
    assert!(words.contains("is left over"), "{words}");
    assert!(words.contains("cream of tartar"), "{words}");
    let json = with_input(&["leaven", "--json"], text.as_bytes()).json();
    assert_eq!(
        json["components"][0]["leavening"]["verdict"],
        "soda_left_over"
    );
}

/// Check F09: 5,000 ft, 2 tsp of powder (9.2 g) become 1.75 tsp (8.05 g), 1 cup of sugar (200 g)
/// loses a tablespoon (12.5 g), a cup of liquid gains 1–2. Check F08: 84.31 kPa, 94.9 °C.
#[test]
fn f08_and_f09_at_5000_feet() {
    let json = with_input(&["leaven", "--json", "--altitude", "1524"], CAKE.as_bytes()).json();
    let near = |v: &serde_json::Value, x: f64, tol: f64| {
        assert!((v.as_f64().unwrap_or(f64::NAN) - x).abs() < tol, "{v} {x}");
    };
    near(&json["altitude"]["pressure_kpa"], 84.31, 0.01);
    near(&json["altitude"]["boiling_celsius"], 94.9, 0.2);
    let up = &json["components"][0]["at_altitude"];
    near(&up[0]["to_g"]["likely"], 9.2 * 0.875, 0.01);
    near(&up[1]["to_g"]["likely"], 187.5, 0.01);
    near(&up[2]["to_g"]["low"], 255.0, 0.01);
    near(&up[2]["to_g"]["high"], 270.0, 0.01);
}

#[test]
fn at_the_sea_nothing_is_corrected() {
    let json = with_input(&["leaven", "--json", "--altitude", "0"], CAKE.as_bytes()).json();
    assert_eq!(json["components"][0]["at_altitude"], serde_json::json!([]));
    let plain = with_input(&["leaven", "--json"], CAKE.as_bytes()).json();
    assert!(plain["altitude"].is_null());
}

/// Checks B12 and B13: 30 g of fresh yeast are 12 g active dry, 9.9 g instant and 20.2 g of water.
#[test]
fn b12_b13_yeast_by_its_kinds() {
    let text = "Loaf\n\n500 g rice flour\n30 g fresh yeast\n400 g water\n10 g salt\n\nMix.\n";
    let json = with_input(&["leaven", "--json"], text.as_bytes()).json();
    let yeast = &json["components"][0]["yeast"];
    assert_eq!(yeast[0]["to"], "active_dry_yeast");
    let at = |i: usize, key: &str| yeast[i][key].as_f64().unwrap_or(f64::NAN);
    assert!((at(0, "to_grams") - 12.0).abs() < 0.1, "{yeast}");
    assert!((at(1, "to_grams") - 9.9).abs() < 0.1, "{yeast}");
    assert!((at(1, "water_g") - 20.2).abs() < 0.1, "{yeast}");
}

#[test]
fn a_wrong_altitude_says_what_to_write() {
    let file = "examples/sunday-pancakes.txt";
    for wrong in ["high", "-5", "9000", "NaN", "inf", ""] {
        let said = unwheat(&["leaven", file, &format!("--altitude={wrong}")]).misused();
        assert!(said.contains("metres"), "{wrong}: {said}");
    }
    unwheat(&["leaven", file, "--altitude", "1524 m"]).done();
}

#[test]
fn nothing_to_say_is_said() {
    let text = "Soup\n\n500 g carrots\n1 l water\n\nBoil.\n";
    let words = with_input(&["leaven"], text.as_bytes()).done();
    assert!(words.contains("No leavener"), "{words}");
}

/// `rework` shows the balance before and after, and what it did about it.
#[test]
fn rework_shows_the_leavening() {
    let text = "Soda cake\n\n250 g plain flour\n250 g sugar\n6 g baking soda\n100 g buttermilk\n150 g milk\n2 eggs\n100 g butter\n\nMix and bake in a cake tin at 180 C for 40 minutes.\n";
    let json = with_input(&["rework", "--json"], text.as_bytes()).json();
    let l = &json["components"][0]["leavening"];
    assert_eq!(l["before"]["verdict"], "soda_left_over");
    assert_eq!(l["after"]["verdict"], "even");
    is_spread(&l["after"]["gas_25c_ml"]);
    let words = with_input(&["rework"], text.as_bytes()).done();
    assert!(words.contains("\nLeavening\n"), "{words}");
    assert!(words.contains("more baking powder"), "{words}");
}

/// A sweet dough is warned of its sugar (project rule R8.4).
#[test]
fn rework_warns_of_sugar_against_yeast() {
    let text = "Buns\n\nDough\n500 g bread flour\n130 g sugar\n7 g instant yeast\n250 g milk\n1 egg\n80 g butter\n8 g salt\n\nKnead, let rise, bake.\n";
    let json = with_input(&["rework", "--json"], text.as_bytes()).json();
    let cautions = &json["components"][0]["leavening"]["cautions"];
    assert_eq!(cautions[0]["what"], "sugar", "{cautions}");
}
