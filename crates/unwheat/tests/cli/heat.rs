//! `heat`: bakes, proofs, the water of a dough, facts.

use crate::lines::is_spread;
use crate::run::{unwheat, with_input};

const BAKE: [&str; 8] = [
    "heat",
    "bake",
    "--known-pan",
    "23x13x7cm",
    "--known-oven",
    "175C",
    "--known-time",
    "60",
];

fn bake(more: &[&str]) -> Vec<&'static str> {
    let mut all: Vec<&'static str> = BAKE.to_vec();
    all.extend(more.iter().map(|m| &*(*m).to_owned().leak()));
    all
}

/// Lines joined, so that words are found wherever they break.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn number(v: &serde_json::Value) -> f64 {
    v.as_f64().unwrap_or(f64::NAN)
}

/// A smaller tin takes less long; by practice (thickness to the power 1.3–1.7, 6 cm against 7)
/// 60 × (6/7)^1.7 to 60 × (6/7)^1.3, which the range holds.
#[test]
fn a_smaller_tin_takes_less_long_and_a_probe_decides() {
    let json = unwheat(&bake(&["--pan", "20x10x6cm", "--json"])).json();
    is_spread(&json["minutes"]);
    let by = &json["by_thickness_minutes"];
    assert!(
        (number(&by[0]) - 60.0 * (6.0_f64 / 7.0).powf(1.7)).abs() < 0.01,
        "{by}"
    );
    assert!(
        (number(&by[1]) - 60.0 * (6.0_f64 / 7.0).powf(1.3)).abs() < 0.01,
        "{by}"
    );
    assert!(number(&json["minutes"]["low"]) <= number(&by[0]));
    assert!(number(&json["minutes"]["high"]) >= number(&by[1]));
    assert!(number(&json["minutes"]["likely"]) < 55.0);
    let words = unwheat(&bake(&["--pan", "20x10x6cm"])).done();
    let words = flat(&words);
    assert!(
        words.contains("check with a probe: core 205–208 °F (96–98 °C)"),
        "{words}"
    );
}

/// Units of the trade: 9x5x3 in at 350 °F is 22.86 × 12.7 × 7.62 cm at 176.7 °C; gas 4 is 350 °F.
#[test]
fn inches_fahrenheit_and_gas_marks() {
    let ask = |pan: &str, oven: &str, new: &str| {
        let json = unwheat(&[
            "heat",
            "bake",
            "--known-pan",
            pan,
            "--known-oven",
            oven,
            "--known-time",
            "55-60",
            "--oven",
            new,
            "--json",
        ])
        .json();
        number(&json["minutes"]["likely"])
    };
    let a = ask("9x5x3in", "350F", "gas 6");
    let b = ask("22.86 x 12.7 x 7.62 cm", "gas 4", "400 F");
    assert!((a - b).abs() < 0.05, "{a} {b}");
    assert!(a < 57.5);
}

/// At 1,609 m water boils at 94.7 °C: no bake ends at 98 °C there (project rule R11.1).
#[test]
fn no_core_that_cannot_be_reached() {
    let all = bake(&[
        "--oven",
        "185C",
        "--style",
        "lean_bread",
        "--altitude",
        "1609",
    ]);
    let words = flat(&unwheat(&all).done());
    assert!(words.contains("98 °C cannot be"), "{words}");
    let mut all = all;
    all.push("--json");
    let core = unwheat(&all).json()["core"].clone();
    assert!(number(&core["celsius"][1]) < 93.5, "{core}");
}

/// A recipe gives its oven, time and weight, and says where they come from.
#[test]
fn a_recipe_fills_in_what_is_not_given() {
    let words = unwheat(&[
        "heat",
        "bake",
        "examples/lemon-yoghurt-cake.txt",
        "--known-pan",
        "round 20x7cm",
        "--pan",
        "round 15x7cm",
    ])
    .done();
    let words = flat(&words);
    assert!(words.contains("from the recipe"), "{words}");
    assert!(words.contains("for wheat"), "{words}");
}

/// E06: an hour at 30 °C is 74.2 min at 24 °C.
#[test]
fn e06_a_proof_at_another_temperature() {
    let json = unwheat(&[
        "heat",
        "proof",
        "--known-time",
        "60",
        "--known-at",
        "30C",
        "--dough",
        "24C",
        "--stays",
        "24C",
        "--json",
    ])
    .json();
    assert_eq!(json["answer"], "time");
    is_spread(&json["last_stay_minutes"]);
    assert!(
        (number(&json["last_stay_minutes"]["likely"]) - 74.2).abs() < 0.1,
        "{json}"
    );
}

/// E08: a time in the fridge is never printed; egg and milk are cautioned about.
#[test]
fn e08_no_time_in_the_fridge() {
    let ask = [
        "heat",
        "proof",
        "--known-time",
        "75",
        "--known-at",
        "27C",
        "--stays",
        "4C",
    ];
    let words = flat(&unwheat(&ask).done());
    assert!(words.contains("not worked out"), "{words}");
    assert!(words.contains("Never wait for it to"), "{words}");
    assert!(words.contains("egg or milk"), "{words}");
    let json = unwheat(&[&ask[..], &["--json"]].concat()).json();
    assert_eq!(json["answer"], "fridge");
    assert!(json["last_stay_minutes"].is_null());
}

/// C01 (trade column, June 2018): dough 80, flour 65, room 75, friction 35 °F ask for water of
/// 65 °F by the rule. C06: the balance of 100 g and 100 g, 25.72 °C where the rule says 30.
#[test]
fn c01_and_c06_the_water_of_a_dough() {
    let json = unwheat(&[
        "heat",
        "dough",
        "--flour",
        "500",
        "--water",
        "400",
        "--wanted",
        "80F",
        "--room",
        "75F",
        "--flour-at",
        "65F",
        "--friction",
        "35F",
        "--json",
    ])
    .json();
    assert!(
        (number(&json["rule_water_celsius"]) - 18.3333).abs() < 1e-3,
        "{json}"
    );
    let json = unwheat(&[
        "heat",
        "dough",
        "--flour",
        "100",
        "--water",
        "100",
        "--wanted",
        "26C",
        "--room",
        "22C",
        "--flour-at",
        "20C",
        "--friction",
        "6C",
        "--json",
    ])
    .json();
    assert!(
        (number(&json["rule_water_celsius"]) - 30.0).abs() < 1e-9,
        "{json}"
    );
    assert!(
        (number(&json["balance_water_celsius"]["likely"]) - 25.72).abs() < 0.01,
        "{json}"
    );
}

#[test]
fn ice_and_refused_water() {
    let words = unwheat(&[
        "heat", "dough", "--flour", "500g", "--water", "450g", "--room", "32C", "--tap", "24C",
        "--wanted", "22C",
    ])
    .done();
    let words = flat(&words);
    assert!(words.contains("g ice and"), "{words}");
    let words = unwheat(&[
        "heat", "dough", "--flour", "500g", "--water", "200g", "--room", "5C", "--wanted", "30C",
    ])
    .done();
    let words = flat(&words);
    assert!(words.contains("refused"), "{words}");
}

#[test]
fn facts_have_sources_and_are_chosen() {
    let all = unwheat(&["heat", "facts", "--json"]).json();
    let count = |v: &serde_json::Value| v["facts"].as_array().map_or(0, Vec::len);
    assert!(count(&all) >= 20);
    for f in all["facts"].as_array().into_iter().flatten() {
        assert!(f["source"].as_str().is_some_and(|s| !s.is_empty()), "{f}");
    }
    let some = unwheat(&["heat", "facts", "--oven", "fan", "--pan", "glass", "--json"]).json();
    assert!(count(&some) < count(&all));
    let words = unwheat(&["heat", "facts", "--altitude", "1609"]).done();
    let words = flat(&words);
    assert!(
        words.contains("94.7 °C") && words.contains("no core above 199 °F / 93 °C"),
        "{words}"
    );
}

#[test]
fn everything_fits_80_columns() {
    let runs: [&[&str]; 4] = [
        &[
            "heat",
            "bake",
            "--known-pan",
            "9x2in",
            "--known-oven",
            "350F",
            "--known-time",
            "30-35",
            "--pan",
            "round 8x3 in dark",
            "--style",
            "butter_cake",
        ],
        &[
            "heat",
            "proof",
            "examples/apricot-almond-buns.txt",
            "--stays",
            "30 min at 22C, overnight at 4C, then 26C",
        ],
        &[
            "heat",
            "dough",
            "examples/apricot-almond-buns.txt",
            "--room",
            "19C",
            "--other-at",
            "5C",
        ],
        &["heat", "facts"],
    ];
    for run in runs {
        let words = unwheat(run).done();
        for line in words.lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
    }
}

/// Each help's examples run.
#[test]
fn the_examples_of_the_helps_run() {
    for what in ["bake", "proof", "dough", "facts"] {
        let help = unwheat(&["heat", what, "--help"]).done();
        let help = help.replace("\\\n", " ");
        let mut ran = 0;
        for line in help.lines().map(str::trim) {
            let Some(rest) = line.strip_prefix(&format!("unwheat heat {what}")) else {
                continue;
            };
            // Quotes hold words together.
            let mut words: Vec<String> = vec!["heat".to_owned(), what.to_owned()];
            for (i, part) in rest.split('\'').enumerate() {
                if i % 2 == 1 {
                    words.push(part.to_owned());
                } else {
                    words.extend(part.split_whitespace().map(str::to_owned));
                }
            }
            let words: Vec<&str> = words.iter().map(String::as_str).collect();
            unwheat(&words).done();
            ran += 1;
        }
        assert!(ran >= 2, "{what}: {help}");
    }
}

/// Wrong figures say what to write; impossible asks are explained.
#[test]
fn wrong_and_impossible_asks_are_explained() {
    for (more, say) in [
        (vec!["--pan", "9x5x0 in"], "depth 0 holds nothing"),
        (vec!["--pan", "loaf tin"], "say which"),
        (vec!["--oven", "175"], "175 °C or 175 °F"),
        (vec!["--oven", "gas 14"], "the marks are"),
        (vec!["--core", "hot"], "no temperature"),
        (vec!["--altitude", "9000"], "metres"),
        (vec!["--altitude", "high"], "as in 1524, or 5,000 feet"),
        (vec!["--pan", "round 20x-5cm"], "below nothing"),
        (vec!["--oven", "-175C"], "is no oven temperature"),
        (vec!["--oven", "900C"], "is no oven temperature"),
    ] {
        let said = unwheat(&bake(&more)).misused();
        assert!(said.contains(say), "{more:?}: {said}");
    }
    for (more, say) in [
        (vec!["--oven", "90C"], "hotter oven"),
        (vec!["--oven", "180C", "--core", "120C"], "40–105 °C"),
        (vec![], "no other bake is asked about"),
    ] {
        let said = unwheat(&bake(&more)).refused();
        let said = flat(&said);
        assert!(said.contains(say), "{more:?}: {said}");
    }
    let said = unwheat(&["heat", "bake", "--pan", "round 20x6cm"]).refused();
    assert!(
        said.contains("--known-pan") && said.contains("--known-time"),
        "{said}"
    );
    let soup = "Soup\n\n500 g carrots\n1 l water\n\nBoil.\n";
    let said = with_input(
        &["heat", "bake", "-", "--pan", "round 20x6cm"],
        soup.as_bytes(),
    )
    .refused();
    assert!(said.contains("nothing in it is baked"), "{said}");
}

/// 3 × 79 − (95 + 95 + 25) = 22 °F, which is −5.6 °C: the minus stays with its own scale.
#[test]
fn water_below_freezing_keeps_its_minus() {
    let said = unwheat(&[
        "heat",
        "dough",
        "--flour",
        "500g",
        "--water",
        "450g",
        "--room",
        "95F",
        "--flour-at",
        "95F",
        "--tap",
        "80F",
        "--friction",
        "25F",
    ])
    .done()
    .replace('\u{a0}', " ");
    assert!(said.contains("water at 22 °F (−6 °C)"), "{said}");
}

/// What a step bakes is baked, a dough or not; what no step bakes is none.
#[test]
fn a_lasagne_is_baked_in_an_oven() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("bake.txt");
    let path = file.to_str().expect("a path");
    let heat = |last: &str| {
        let text = format!(
            "Sheet Bake\nServes 6\n\nRagu\n500 g beef mince\n1 onion\n\nBéchamel\n50 g butter\n50 g flour\n600 ml milk\n\nFry the onion for 10 minutes, brown the mince.\nMelt the butter, stir in the flour for 1 minute, whisk in the milk and cook until thick.\n{last}\n"
        );
        std::fs::write(&file, text).expect("written");
        unwheat(&["heat", "bake", path, "--pan", "25x15x6cm"])
    };
    let said = heat("Heat oven to 180C. Layer in a 20 x 30 cm dish. Bake for 40 minutes.")
        .done()
        .replace('\u{a0}', " ");
    assert!(said.contains("the recipe's 40 min"), "{said}");
    assert!(said.contains("74 °C") || said.contains("165 °F"), "{said}");
    let told = heat("Serve hot.").refused();
    assert!(told.contains("nothing in it is baked"), "{told}");
}

/// A range whose ends are one figure is none, and nothing is '-0'. By hand: 3 × 79 − (113 + 113 + 11) = 0 °F.
#[test]
fn equal_ends_are_one_figure_and_nothing_is_minus_nothing() {
    let dough = |more: &[&str]| {
        let all = [&["heat", "dough", "--flour", "500g"], more].concat();
        flat(&unwheat(&all).done())
    };
    let words = dough(&[
        "--water",
        "300g",
        "--wanted",
        "76F",
        "--room",
        "75F",
        "--flour-at",
        "73F",
        "--friction",
        "26F",
    ]);
    assert!(
        words.contains("water at 63 °F (17 °C) 500 g flour"),
        "{words}"
    );
    let words = dough(&["--water", "100g", "--wanted", "78.8F", "--room", "113F"]);
    assert!(words.contains("friction 11) = 0 °F"), "{words}");
}

/// What is typed in one scale is answered in it, whatever the country: 3 × 26 − (21 + 21 + 6) = 30 °C.
#[test]
fn an_answer_is_in_the_scale_that_was_typed() {
    let dough = |more: &[&str]| {
        let all = [
            &["heat", "dough", "--flour", "500g", "--water", "450g"],
            more,
        ]
        .concat();
        flat(&unwheat(&all).done())
    };
    let words = dough(&["--wanted", "26C", "--room", "21C"]);
    assert!(words.contains("friction 6.0) = 30.0 °C"), "{words}");
    assert!(!words.contains("°F"), "{words}");
    let words = dough(&["--wanted", "78F", "--locale", "uk"]);
    assert!(words.contains("tap water 54 °F"), "{words}");
    // Both scales: the country's.
    let words = dough(&["--wanted", "26C", "--room", "70F"]);
    assert!(words.contains("tap water 54 °F"), "{words}");
}
