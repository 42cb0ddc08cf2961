//! `size`: one figure, and the rest follows.

use crate::lines::is_spread;
use crate::run::{unwheat, with_input};
use serde_json::Value;

const BUNS: &str = "examples/apricot-almond-buns.txt";
const LOAF: &str = "Loaf\n\n500 g bread flour\n350 g water\n10 g salt\n7 g instant yeast\n";

#[track_caller]
fn near(v: &Value, want: f64, off: f64) {
    let got = v.as_f64().unwrap_or(f64::NAN);
    assert!((got - want).abs() <= off, "{got} is not {want} ± {off}");
}

fn component<'j>(json: &'j Value, name: &str) -> &'j Value {
    let all = json["components"].as_array().expect("components");
    let found = all.iter().find(|c| c["name"] == name);
    found.expect(name)
}

/// Every option comes to the factor of its own arithmetic, from the JSON of the recipe once.
#[test]
fn every_figure_comes_to_its_factor() {
    let once = unwheat(&["size", BUNS, "--json"]).json();
    near(&once["factor"], 1.0, 0.0);
    let dough = component(&once, "dough");
    let (makes, flour) = (
        dough["makes_g"]["likely"].as_f64().expect("grams"),
        dough["flour_g"]["likely"].as_f64().expect("grams"),
    );
    let filling = component(&once, "filling")["makes_g"]["likely"]
        .as_f64()
        .expect("grams");
    let factor = |options: &[&str]| -> Value {
        let mut all = vec!["size", BUNS, "--json"];
        all.extend(options);
        unwheat(&all).json()["factor"].clone()
    };
    near(&factor(&["--times", "1 1/2"]), 1.5, 1e-9);
    near(&factor(&["--pieces", "18"]), 1.5, 1e-9);
    near(&factor(&["--weight", "900g"]), 900.0 / makes, 1e-4);
    near(&factor(&["--flour", "400g"]), 400.0 / flour, 1e-4);
    near(
        &factor(&["--pieces", "12", "--each", "60g"]),
        734.4 / makes,
        1e-4,
    );
    // A pound is 453.59237 g.
    near(
        &factor(&["--part", "filling", "--weight", "1lb"]),
        453.592_37 / filling,
        1e-4,
    );
    // 40 × 30 × 0.5 cm at the 1.12 g/mL of an enriched dough.
    near(
        &factor(&["--sheet", "40x30cm", "--thick", "5mm"]),
        672.0 / makes,
        1e-4,
    );
    near(
        &factor(&["--have", "100 g dried apricots"]),
        100.0 / 226.796_185,
        1e-3,
    );
}

#[test]
fn the_json_says_what_the_table_says() {
    let json = unwheat(&["size", BUNS, "--pieces", "18", "--json"]).json();
    let text = unwheat(&["size", BUNS, "--pieces", "18"]).done();
    assert!(text.contains("× 1.5"), "{text}");
    near(&json["makes_count"][0], 18.0, 1e-9);
    let mut seen = 0;
    for c in json["components"].as_array().expect("components") {
        is_spread(&c["makes_g"]);
        for line in c["lines"].as_array().expect("lines") {
            if let Some(grams) = line["scale_g"].as_f64() {
                seen += 1;
                assert!(text.contains(&format!("{grams} g")), "{line}");
                near(
                    &line["off_g"],
                    grams - line["grams"]["likely"].as_f64().expect("grams"),
                    1e-3,
                );
            }
        }
    }
    assert!(seen > 15, "{seen}");
}

#[test]
fn a_coarse_scale_is_obeyed_and_its_error_said() {
    let json = with_input(
        &["size", "--json", "--times", "0.3", "--scale", "5"],
        LOAF.as_bytes(),
    );
    let json = json.json();
    let lines = json["components"][0]["lines"].as_array().expect("lines");
    let blend = lines.iter().find(|l| l["key"] == "blend").expect("a blend");
    near(&blend["scale_g"], 150.0, 1e-9);
    let salt = lines
        .iter()
        .find(|l| l["key"] == "table_salt")
        .expect("salt");
    near(&salt["scale_g"], 3.0, 1e-9);
    assert!(lines.iter().all(|l| l["scale_g"] != 0.0));
}

#[test]
fn exactly_enough_leaves_nothing_and_the_rest_keeps() {
    let enough = unwheat(&["size", BUNS, "--enough", "crumb topping", "--json"]).json();
    near(
        &component(&enough, "crumb topping")["left_g"]["likely"],
        0.0,
        1e-6,
    );
    let usual = unwheat(&["size", BUNS]).done();
    assert!(usual.contains("What is left:"), "{usual}");
    assert!(usual.contains("local food rules"), "{usual}");
}

#[test]
fn whole_eggs_say_what_they_cost() {
    let json = unwheat(&["size", BUNS, "--times", "1.3", "--whole-eggs", "--json"]).json();
    near(&json["factor"], 1.5, 1e-9);
    near(&json["moved_percent"], 15.3846, 1e-4);
    assert!(json["eggs"][0]["whole"] == true, "{json}");
}

#[test]
fn the_pans_are_listed_with_what_they_rest_on() {
    let text = unwheat(&["size", "--pans"]).done();
    let json = unwheat(&["size", "--pans", "--json"]).json();
    let pans = json.as_array().expect("pans");
    assert!(pans.len() >= 60, "{}", pans.len());
    for pan in pans {
        assert!(text.contains(pan["key"].as_str().expect("a key")), "{pan}");
        is_spread(&pan["volume_ml"]);
    }
}

/// What cannot be had is refused in words that help.
#[test]
fn what_cannot_be_had_is_refused_with_what_to_do() {
    for (options, words) in [
        (&["--times", "0"][..], "ask for × 0.01 to × 1000"),
        (&["--times=-2"], "ask for × 0.01 to × 1000"),
        (&["--pan", "round 9x0"], "a pan of depth 0 holds nothing"),
        (&["--pan", "saucepan"], "no pan is called 'saucepan'"),
        (
            &["--pan", "round 9x2", "--fill", "120%"],
            "more than it holds",
        ),
        (
            &["--sheet", "40x30cm", "--thick", "0.3mm"],
            "0.5 mm is the thinnest",
        ),
        (
            &["--sheet", "40", "--thick", "5mm"],
            "write one such as 40 x 30 cm",
        ),
        (&["--each", "9kg"], "more than all of the dough"),
        (&["--have", "200 g chocolate"], "nothing called 'chocolate'"),
        (&["--have", "butter"], "write one such as 210 g butter"),
        (
            &["--part", "frosting", "--weight", "2kg"],
            "no component is called 'frosting'",
        ),
        (&["--of", "crumb topping=0.1"], "of it is used"),
        (&["--enough", "glaze"], "nothing uses the glaze"),
        (&["--weight", "much"], "is no weight: write one such as 60g"),
    ] {
        let mut all = vec!["size", BUNS];
        all.extend(options);
        let said = unwheat(&all).misused();
        assert!(said.contains(words), "{options:?}: {said}");
    }
}

/// A recipe with neither flour nor gluten is sized as it is.
#[test]
fn what_needs_no_rework_is_sized_all_the_same() {
    let text = "Syrup\n\n500 g white sugar\n250 g water\n";
    let json = with_input(&["size", "--weight", "1.5kg", "--json"], text.as_bytes()).json();
    near(&json["factor"], 2.0, 1e-9);
}
