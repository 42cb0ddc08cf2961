//! `unwheat shape`.

use crate::run::{unwheat, with_input};
use serde_json::Value;
use std::path::Path;

fn data(arguments: &[&str]) -> Value {
    let mut all = vec!["shape"];
    all.extend(arguments);
    all.push("--json");
    serde_json::from_str(&unwheat(&all).done()).expect("JSON")
}

fn measure(v: &Value, key: &str, end: &str) -> f64 {
    let all = v["measures"].as_array().expect("measures");
    let m = all.iter().find(|m| m["key"] == key).expect(key);
    m[end].as_f64().expect("a figure")
}

/// H04 of the checks: 600 g at 1.10 g/mL on 30 × 40 cm are 4.545 mm thick.
#[test]
fn a_sheet_from_plain_figures() {
    let v = data(&[
        "sheet",
        "--dough",
        "600g",
        "--sheet",
        "40x30cm",
        "--density",
        "1.10",
    ]);
    assert!((measure(&v, "thick", "likely") - 4.545).abs() < 0.001);
    assert!(v["density"].is_null());
    // Without a density its range is carried into the thickness.
    let v = data(&["sheet", "--dough", "600g", "--sheet", "40x30cm"]);
    assert!(measure(&v, "thick", "low") < 4.2 && measure(&v, "thick", "high") > 4.9);
    assert_eq!(v["density"]["source"], "common practice, no source");
}

#[test]
fn inches_and_ounces_are_taken() {
    let v = data(&[
        "sheet",
        "--dough",
        "21.164 oz",
        "--length",
        "12in",
        "--width",
        "12in",
        "--density",
        "1.1",
    ]);
    // 600 g over 304.8² mm² at 1.1 g/mL, by hand: 5.871 mm.
    assert!((measure(&v, "thick", "likely") - 5.871).abs() < 0.001);
}

/// The weight and the style come from the recipe's gluten-free version.
#[test]
fn a_recipe_gives_weight_and_style() {
    let file = "examples/apricot-almond-buns.txt";
    let v = data(&[
        "roll", "--recipe", file, "--part", "dough", "--sheet", "45x35cm", "--slices", "12",
    ]);
    let rework: Value =
        serde_json::from_str(&unwheat(&["rework", file, "--json"]).done()).expect("JSON");
    let dough = rework["components"]
        .as_array()
        .and_then(|all| all.iter().find(|c| c["name"] == "dough"))
        .expect("the dough");
    let makes = dough["makes_g"]["likely"].as_f64().expect("grams");
    let got = v["dough_g"]["likely"].as_f64().expect("grams");
    assert!((got - makes).abs() < 0.1, "{got} {makes}");
    assert_eq!(v["density"]["of"], "enriched yeast dough");
    let twice = data(&[
        "roll", "--recipe", file, "--part", "dough", "--times", "2", "--sheet", "45x70cm",
        "--slices", "24",
    ]);
    assert!(
        (measure(&twice, "slice_weighs", "likely") - measure(&v, "slice_weighs", "likely")).abs()
            < 0.1,
        "the filling comes to whole grams"
    );
    let said = unwheat(&[
        "shape", "sheet", "--recipe", file, "--thick", "5mm", "--width", "30cm",
    ]);
    assert_eq!(said.code, 1);
    assert!(said.err.contains("--part"), "{}", said.err);
}

/// What cannot be made is told with the option to mend.
#[test]
fn what_cannot_be_made_is_told() {
    for (arguments, words) in [
        (
            &["sheet", "--dough", "100g", "--sheet", "80x60cm"][..],
            "--thick",
        ),
        (&["plait", "--dough", "600g"], "--strand"),
        (&["fit", "--dough", "600g", "--pan", "30cm"], "depth"),
    ] {
        let mut all = vec!["shape"];
        all.extend(arguments);
        let ran = unwheat(&all);
        assert_ne!(ran.code, 0);
        assert!(ran.out.is_empty());
        assert!(ran.err.contains(words), "{}", ran.err);
    }
}

#[test]
fn every_shape_fits_the_terminal_and_draws() {
    for arguments in [
        &["sheet", "--dough", "600g", "--sheet", "16x12in"][..],
        &[
            "roll",
            "--dough",
            "600g",
            "--sheet",
            "40x30cm",
            "--filling",
            "250g",
            "--filling-density",
            "jam",
            "--slices",
            "9",
            "--pan",
            "23x23x5cm",
        ],
        &[
            "plait",
            "--dough",
            "600g",
            "--strands",
            "4",
            "--strand",
            "40cm",
        ],
        &["round", "--dough", "600g", "--pieces", "9"],
        &["ring", "--dough", "600g", "--each", "75g", "--hole", "3cm"],
        &[
            "lattice", "--over", "9in", "--strip", "2cm", "--thick", "3mm",
        ],
        &[
            "cut-outs", "--dough", "500g", "--thick", "5mm", "--width", "30cm", "--cutter",
            "5x7cm", "--rounds", "3",
        ],
        &[
            "lining", "--base", "20cm", "--top", "24cm", "--deep", "3cm", "--thick", "3mm",
        ],
        &[
            "layers",
            "--across",
            "20cm",
            "--cake",
            "6cm",
            "--layers",
            "3",
            "--filling",
            "5mm",
            "--coat",
            "4mm",
        ],
        &["fit", "--dough", "900g", "--pan", "loaf 9x5x3"],
    ] {
        let file = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("{}.svg", arguments[0]));
        let name = file.display().to_string();
        let mut all = vec!["shape"];
        all.extend(arguments);
        all.extend(["--svg", &name]);
        let out = unwheat(&all).done();
        assert!(out.lines().all(|l| l.chars().count() <= 80), "{out}");
        assert!(!out.contains("NaN"), "{out}");
        let svg = std::fs::read_to_string(&file).expect("the drawing");
        assert!(
            svg.starts_with("<svg") && svg.contains("xmlns=") && svg.contains("<desc"),
            "{svg}"
        );
    }
}

/// What the method says of a shape stands in for what is not typed, as on the Shape page, and is said; the
/// one part that it shapes so needs no name. By hand: three strands of 40 cm cross at 30 to 45 degrees, so the plait is
/// 40 × cos 45 to 40 × cos 30 = 28.3 to 34.6 cm long.
#[test]
fn the_method_of_a_recipe_gives_the_figures_that_are_not_typed() {
    let text = "Plait\nMakes 1 loaf\n\nDough\n500 g bread flour\n300 g milk\n50 g butter\n7 g instant yeast\n\nGlaze\n1 egg\n\n1. Mix and knead the dough.\n2. Divide into 3, roll each to a 40 cm strand and plait. Prove 45 minutes.\n3. Brush with the glaze and bake at 200 C for 30 minutes.\n";
    let run = |more: &[&str]| -> Value {
        let all = [&["shape", "plait", "--recipe", "-", "--json"], more].concat();
        let out = with_input(&all, text.as_bytes()).done();
        serde_json::from_str(&out).expect("JSON")
    };
    let v = run(&[]);
    let from = v["dough_from"].as_str().expect("words");
    assert!(
        from.starts_with("dough, ")
            && from.contains("strand length 40 cm (step 2), strands 3 (step 2)"),
        "{from}"
    );
    assert!(
        (measure(&v, "long", "low") - 400.0 * 0.5_f64.sqrt()).abs() < 1.0,
        "{v}"
    );
    // What is typed goes first.
    let v = run(&["--strand", "50cm"]);
    assert!(
        !v["dough_from"]
            .as_str()
            .expect("words")
            .contains("strand length"),
        "{v}"
    );
}

/// An inch is 25.4 mm: 450 mm are 17.7 of them, 350 mm 13.8; a ruler has quarters.
#[test]
fn a_us_kitchen_reads_inches_first() {
    let sheet = ["shape", "roll", "--dough", "900g", "--sheet", "45x35cm"];
    let rest = ["--filling", "250g", "--slices", "12"];
    let told = |locale: &str| {
        let all = [&sheet[..], &rest[..], &["--locale", locale]].concat();
        unwheat(&all).done()
    };
    let us = told("us");
    assert!(
        us.contains("17¾ in (45 cm)") && us.contains("13¾ in (35 cm)"),
        "{us}"
    );
    assert!(us.contains("2¼–2½ in") && !us.contains("1/16–1/16"), "{us}");
    assert!(us.lines().all(|l| l.chars().count() <= 80), "{us}");
    let uk = told("uk");
    assert!(uk.contains("45 cm") && !uk.contains(" in ("), "{uk}");
}

/// Whose lengths are told is asked without a recipe and its dough too; a cake's layers never have one.
#[test]
fn any_shape_is_told_in_the_lengths_of_a_country() {
    for says in [
        &[
            "lattice", "--over", "23cm", "--strip", "2cm", "--thick", "3mm",
        ][..],
        &["layers", "--across", "20cm", "--cake", "9cm"][..],
    ] {
        let told =
            |locale: &str| unwheat(&[&["shape"], says, &["--locale", locale]].concat()).done();
        assert!(told("us").contains(" in ("), "{says:?}");
        assert!(!told("uk").contains(" in ("), "{says:?}");
    }
}
