//! `rework`: the contract of docs/json.md, and what a rework may never do.

use crate::lines::{is_ingredient, is_spread};
use crate::run::{examples, locale_of, unwheat, with_input};
use serde_json::Value;

#[track_caller]
fn has(value: &Value, keys: &[&str]) {
    for key in keys {
        assert!(value.get(key).is_some(), "{key} is missing: {value}");
    }
}

#[track_caller]
fn list<'a>(value: &'a Value, key: &str) -> &'a [Value] {
    let found = value[key].as_array();
    assert!(found.is_some(), "{key} is no list: {value}");
    found.map_or(&[], Vec::as_slice)
}

fn reworked(example: &str) -> Value {
    unwheat(&["rework", "--json", example, "--locale", locale_of(example)]).json()
}

#[track_caller]
fn is_balance(value: &Value) {
    has(
        value,
        &[
            "flour_phase_g",
            "hydration_percent",
            "binders",
            "starch_share",
        ],
    );
    is_spread(&value["flour_phase_g"]);
    if !value["hydration_percent"].is_null() {
        is_spread(&value["hydration_percent"]);
    }
    for binder in list(value, "binders") {
        assert!(binder["key"].is_string(), "{binder}");
        assert!(
            binder["percent"].as_f64().is_some_and(|p| p >= 0.0),
            "{binder}"
        );
    }
    let starch = value["starch_share"].as_f64().unwrap_or(f64::NAN);
    assert!((0.0..=100.0).contains(&starch), "{value}");
}

#[test]
fn every_example_keeps_the_contract() {
    for example in examples() {
        let json = reworked(&example);
        has(
            &json,
            &[
                "title",
                "source",
                "components",
                "gluten",
                "allergens",
                "doubts",
            ],
        );
        assert!(
            json["title"].as_str().is_some_and(|t| !t.is_empty()),
            "{example}"
        );
        assert!(!list(&json, "components").is_empty(), "{example}");
        for c in list(&json, "components") {
            has(
                c,
                &[
                    "name",
                    "style",
                    "lines",
                    "original",
                    "reworked",
                    "changes",
                    "method_notes",
                ],
            );
            if !c["style"].is_null() {
                assert!(c["style"]["key"].is_string(), "{example}");
                let sure = c["style"]["confidence"].as_f64().unwrap_or(f64::NAN);
                assert!((0.0..=1.0).contains(&sure), "{example}: {sure}");
            }
            for line in list(c, "lines") {
                has(
                    line,
                    &[
                        "text",
                        "ingredient",
                        "grams",
                        "percent_of_flour",
                        "gluten",
                        "household",
                    ],
                );
                assert!(
                    line["text"].as_str().is_some_and(|t| !t.is_empty()),
                    "{line}"
                );
                if !line["ingredient"].is_null() {
                    is_ingredient(&line["ingredient"]);
                }
                if !line["grams"].is_null() {
                    is_spread(&line["grams"]);
                }
            }
            is_balance(&c["original"]);
            is_balance(&c["reworked"]);
            for change in list(c, "changes") {
                has(change, &["what", "from", "to", "range", "rule", "source"]);
                for key in ["what", "from", "to", "rule", "source"] {
                    assert!(
                        change[key].as_str().is_some_and(|t| !t.is_empty()),
                        "{example}: a change without {key}: {change}"
                    );
                }
            }
            for note in list(c, "method_notes") {
                has(
                    note,
                    &[
                        "step", "text", "rule", "source", "found", "span", "words", "instead",
                        "look_for",
                    ],
                );
            }
        }
        for doubt in list(&json, "doubts") {
            has(doubt, &["code", "message"]);
        }
    }
}

/// The one thing that may not happen: a line of the result with gluten in it.
#[test]
fn no_reworked_line_contains_gluten() {
    for example in examples() {
        let json = reworked(&example);
        let mut flour = 0.0;
        for c in list(&json, "components") {
            for line in list(c, "lines") {
                let verdict = line["gluten"].as_str().unwrap_or_default();
                let known = [
                    "check the label",
                    "free by nature",
                    "not in it any more",
                    "see that component",
                ];
                assert!(known.contains(&verdict), "{example}: {verdict}: {line}");
                if line["change"] == "dropped" {
                    assert_eq!(verdict, "not in it any more", "{line}");
                }
            }
            flour += c["reworked"]["flour_phase_g"]["likely"]
                .as_f64()
                .unwrap_or(0.0);
        }
        assert!(flour > 0.0, "{example}: no flour left");
        let verdict = json["gluten"]["verdict"].as_str().unwrap_or_default();
        assert!(
            ["check the label", "free by nature"].contains(&verdict),
            "{example}: {verdict}"
        );
        // The original was not free: the rework had something to do.
        let before = unwheat(&[
            "screen",
            "--json",
            &example,
            "--locale",
            locale_of(&example),
        ])
        .json();
        assert_eq!(before["gluten"]["verdict"], "contains gluten", "{example}");
    }
}

/// Mass is conserved: what a component makes is the sum of its lines.
#[test]
fn what_a_component_makes_is_the_sum_of_its_lines() {
    for example in examples() {
        for c in list(&reworked(&example), "components") {
            let sum: f64 = list(c, "lines")
                .iter()
                .filter(|l| l["change"] != "dropped" && l["in_formula"] == true)
                .filter_map(|l| l["grams"]["likely"].as_f64())
                .sum();
            let makes = c["makes_g"]["likely"].as_f64().unwrap_or(f64::NAN);
            assert!(
                (sum - makes).abs() < 0.01 + 1e-4 * makes,
                "{example}, {}: lines {sum} g, makes {makes} g",
                c["name"]
            );
        }
    }
}

/// A style and a blend that are asked for are used, and said to be sure.
#[test]
fn what_is_asked_for_is_used() {
    let example = "examples/sunday-pancakes.txt";
    let json = unwheat(&[
        "rework",
        "--json",
        example,
        "--style",
        "butter_cake",
        "--blend",
        "rice_free",
    ])
    .json();
    let c = &list(&json, "components")[0];
    assert_eq!(c["style"]["key"], "butter_cake");
    assert_eq!(c["style"]["confidence"], 1.0);
    assert_eq!(c["blend"]["key"], "rice_free");
}

/// A blend for one component; of two for one component the later counts.
#[test]
fn blends_go_by_component() {
    let example = "examples/apricot-almond-buns.txt";
    let with = |blends: &[&str]| -> Vec<String> {
        let mut arguments = vec!["rework", "--json", example];
        for blend in blends {
            arguments.extend(["--blend", blend]);
        }
        let json = unwheat(&arguments).json();
        let all = list(&json, "components").iter();
        all.filter_map(|c| Some(c["blend"]["key"].as_str()?.to_owned()))
            .collect()
    };
    let usual = with(&[]);
    assert!(usual.len() >= 2, "{usual:?}");
    let mut one = usual.clone();
    one[0] = "rice_free".to_owned();
    assert_eq!(with(&["dough=rice_free"]), one);
    assert_eq!(with(&["plain", "dough=rice_free"])[0], "rice_free");
    assert!(
        with(&["dough=rice_free", "plain"])
            .iter()
            .all(|k| k == "plain")
    );
    let said = unwheat(&["rework", example, "--blend", "glaze top=plain"]).misused();
    assert!(said.contains("'dough'"), "{said}");
}

/// A held line weighs what it is held at; the rest says what it would have been.
#[test]
fn a_held_line_stays() {
    let example = "examples/apricot-almond-buns.txt";
    for given in [
        "dough/whole_milk=310",
        "dough/whole milk=310",
        "Dough/Whole Milk = 310 g",
    ] {
        let json = unwheat(&["rework", "--json", example, "--hold", given]).json();
        let c = &list(&json, "components")[0];
        let lines = list(c, "lines");
        let milk = lines
            .iter()
            .find(|l| l["key"] == "whole_milk")
            .expect("the milk");
        assert_eq!(milk["held"], true);
        assert_eq!(milk["grams"]["likely"], 310.0);
        assert_eq!(milk["grams"]["low"], 310.0);
        assert!(
            milk["would_be_g"]["likely"]
                .as_f64()
                .is_some_and(|g| g > 340.0),
            "{milk}"
        );
        assert!(list(c, "changes").iter().any(|x| x["what"] == "pin"));
        assert!(lines.iter().filter(|l| l["held"] == true).count() == 1);
    }
    let text = unwheat(&["rework", example, "--hold", "dough/xanthan_gum=0"]).done();
    let lines: Vec<&str> = text
        .lines()
        .filter(|l| l.contains("xanthan gum:"))
        .collect();
    assert!(lines.len() == 1 && lines[0].contains("left"), "{text}");
    let one = "examples/sunday-pancakes.txt";
    let out = unwheat(&["rework", "--json", one, "--hold", "blend=200"]).json();
    assert_eq!(
        list(&out, "components")[0]["reworked"]["flour_phase_g"]["likely"],
        200.0
    );
}

/// Grams, percent of the flour, a count, none; hydration and binder as a whole.
#[test]
fn figures_are_held_in_a_bakers_words() {
    let example = "examples/apricot-almond-buns.txt";
    let json = unwheat(&[
        "rework",
        "--json",
        example,
        "--hold",
        "dough/psyllium=4%",
        "--hold",
        "dough/egg=2 eggs",
        "--hold",
        "dough/xanthan_gum=none",
        "--hold",
        "dough/hydration=85%",
    ])
    .json();
    let c = &list(&json, "components")[0];
    let line = |key: &str| {
        let found = list(c, "lines").iter().find(|l| l["key"] == key);
        found.expect(key).clone()
    };
    assert_eq!(line("psyllium_powder")["held_at"]["percent"], 4.0);
    assert_eq!(line("psyllium_powder")["percent_of_flour"], 4.0);
    assert_eq!(line("egg")["held_at"]["count"]["of"], "eggs");
    assert_eq!(line("egg")["grams"]["likely"], 100.0);
    assert_eq!(line("xanthan_gum")["change"], "dropped");
    assert_eq!(c["reworked"]["hydration_percent"]["likely"], 85.0);
    assert_eq!(c["held_figures"][0]["percent"], 85.0);
    let held = list(c, "changes").iter().filter(|x| x["what"] == "pin");
    assert_eq!(held.count(), 4);
    // Two that cannot both be.
    let said = unwheat(&[
        "rework",
        example,
        "--hold",
        "dough/binder=none",
        "--hold",
        "dough/psyllium=4%",
    ])
    .misused();
    assert!(said.contains("none") && said.contains("4 %"), "{said}");
}

/// Rule, range, source and arithmetic of one line or figure.
#[test]
fn why_answers_with_the_arithmetic() {
    let example = "examples/apricot-almond-buns.txt";
    for (what, words) in [
        ("dough/hydration", "flour = "),
        ("dough/blend", "weight for weight"),
        ("dough/psyllium", "% × "),
        ("dough/yeast", " × 1."),
        ("oven", "min × 1.25 = "),
        ("dough/egg", "nothing was changed"),
    ] {
        let said = unwheat(&["rework", example, "--why", what]).done();
        assert!(said.contains(words), "{what}: {said}");
        assert!(
            what == "dough/egg" || said.contains("Source: "),
            "{what}: {said}"
        );
        assert!(!said.contains("ALLERGENS"), "{said}");
    }
    let said = unwheat(&["rework", example, "--why", "dough/zorbs"]).misused();
    assert!(said.contains("the lines are"), "{said}");
}

/// What cannot be held is answered with what can.
#[test]
fn a_wrong_hold_is_answered() {
    let example = "examples/apricot-almond-buns.txt";
    for (given, words) in [
        ("dough/goat milk=310", "whole_milk (whole milk)"),
        ("whole_milk=310", "COMPONENT/LINE=FIGURE"),
        ("glaze top/whole_milk=310", "'dough'"),
        ("dough/whole_milk", "COMPONENT/LINE=FIGURE"),
        ("dough/whole_milk=much", "write grams"),
        ("dough/whole_milk=nan", "write grams"),
        ("dough/whole_milk=-3", "write grams"),
        ("dough/whole_milk=200000", "0 to 100000"),
        ("dough/whole_milk=2 eggs", "cannot be counted"),
        ("dough/hydration=none", "percentage"),
        ("dough/starch=50%", "the starch share is the blend's"),
        ("dough/blend=80%", "write grams"),
        ("dough/blend=0", "above 0"),
    ] {
        let said = unwheat(&["rework", example, "--hold", given]).misused();
        assert!(said.contains(words), "{given}: {said}");
    }
    let twice = [
        "--hold",
        "dough/whole_milk=310",
        "--hold",
        "dough/whole milk=320",
    ];
    let said = unwheat(&[&["rework", example], &twice[..]].concat()).misused();
    assert!(said.contains("310 g") && said.contains("320 g"), "{said}");
}

/// The card is written where it is asked for, and is a page.
#[test]
fn the_card_is_written() {
    let file = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("buns.html");
    let path = file.display().to_string();
    let example = "examples/apricot-almond-buns.txt";
    let out = unwheat(&["rework", example, "--card", &path]).done();
    assert!(out.contains("buns.html"), "{out}");
    let page = std::fs::read_to_string(&file).expect("the card");
    assert!(page.to_lowercase().contains("<html"), "{page}");
    assert!(page.contains("application/ld+json"));
}

/// The same input gives the same bytes.
#[test]
fn twice_the_same() {
    for example in examples() {
        for format in [None, Some("--json")] {
            let mut arguments = vec!["rework", &example];
            arguments.extend(format);
            assert_eq!(unwheat(&arguments).done(), unwheat(&arguments).done());
        }
    }
}

#[test]
fn a_recipe_without_flour_has_nothing_to_rework() {
    let said = unwheat(&["rework", "cases/bad/no_flour.txt"]).refused();
    assert!(said.contains("no flour"), "{said}");
    unwheat(&["weigh", "cases/bad/no_flour.txt"]).done();
}

/// What nobody knows is never called free.
#[test]
fn the_unknown_is_never_free() {
    let text =
        "Buns\n\n300 g flour\n200 ml water\n7 g yeast\n2 tsp zorbal crystals\n50 g snack bits\n";
    let json = with_input(&["rework", "--json"], text.as_bytes()).json();
    let lines = list(&list(&json, "components")[0], "lines");
    let unknown: Vec<&Value> = lines.iter().filter(|l| l["ingredient"].is_null()).collect();
    assert_eq!(unknown.len(), 2, "{lines:?}");
    for line in unknown {
        assert_eq!(line["gluten"], "check the label", "{line}");
    }
    assert_eq!(json["gluten"]["can_say_gluten_free"], false);
}

/// The words are those of the measures; the keys stay.
#[test]
fn foods_are_called_as_the_locale_has_it() {
    let text = "Drops\n\n200 g plain flour\n1 tsp baking soda\n30 g maize starch\n";
    for (locale, soda, starch) in [
        ("us", "baking soda", "cornstarch"),
        ("uk", "bicarbonate of soda", "cornflour"),
        ("au", "bicarbonate of soda", "maize cornflour"),
    ] {
        let out = with_input(&["rework", "--json", "--locale", locale], text.as_bytes()).json();
        let lines = list(&out["components"][0], "lines");
        for (key, name) in [("baking_soda", soda), ("corn_starch", starch)] {
            let named = |l: &&Value| l["ingredient"]["key"] == key;
            let line = lines.iter().find(named).map(|l| &l["ingredient"]["name"]);
            assert_eq!(line, Some(&Value::from(name)), "{locale}");
        }
    }
}

/// What is left out besides gluten is gone, or said to be there; cards claim nothing.
#[test]
fn what_is_left_out_is_gone_or_said() {
    for example in examples() {
        let locale = locale_of(&example);
        let json = unwheat(&[
            "rework",
            "--json",
            &example,
            "--locale",
            locale,
            "--without",
            "dairy,egg",
        ])
        .json();
        let out = &json["left_out"];
        assert_eq!(
            out["asked"],
            serde_json::json!(["dairy", "egg"]),
            "{example}"
        );
        for what in ["dairy", "egg"] {
            let made = list(out, "made_without").iter().any(|w| w == what);
            let still = list(out, "still").iter().any(|s| s["what"] == what);
            assert_ne!(made, still, "{example}: {what}: {out}");
            let allergen = if what == "dairy" { "milk" } else { "egg" };
            let found = list(&json["allergens"], "found").iter();
            let certain = found
                .filter(|a| a["certain"] == true)
                .any(|a| a["allergen"] == allergen);
            assert!(
                !made || !certain,
                "{example}: {what}: {}",
                json["allergens"]
            );
        }
    }
    let json = reworked("examples/sunday-pancakes.txt");
    assert!(json["left_out"].is_null());
    let said = unwheat(&[
        "rework",
        "examples/sunday-pancakes.txt",
        "--without",
        "glutton",
    ])
    .misused();
    assert!(
        said.contains("'glutton'") && said.contains("dairy, egg"),
        "{said}"
    );
}

#[test]
fn the_card_says_made_without() {
    let path = std::env::temp_dir().join(format!("unwheat-without-{}.html", std::process::id()));
    let file = path.display().to_string();
    let text = unwheat(&[
        "rework",
        "examples/lemon-yoghurt-cake.txt",
        "--without",
        "dairy,egg",
        "--card",
        &file,
    ])
    .done();
    let card = std::fs::read_to_string(&path).unwrap_or_default();
    let _ = std::fs::remove_file(&path);
    assert!(text.contains("Lemon curd still holds egg"), "{text}");
    assert!(
        card.contains("emon curd still holds egg"),
        "the card says what stays"
    );
    assert!(
        !card.contains("free from") && !card.contains("dairy-free") && !card.contains("egg-free")
    );
    let pancakes = unwheat(&[
        "rework",
        "examples/sunday-pancakes.txt",
        "--without",
        "dairy,egg",
    ])
    .done();
    assert!(pancakes.contains("Made without milk and egg"), "{pancakes}");
}

/// What no spoon measures is weighed, and it is said.
#[test]
fn what_no_spoon_measures_is_to_be_weighed() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("loaf.txt");
    let text = "Loaf\n\n500 g strong white flour\n1 g salt\n300 g water\n\nMix.\n";
    std::fs::write(&file, text).expect("written");
    let path = file.to_str().expect("a path");
    let said = unwheat(&["weigh", path, "--locale", "uk"]).done();
    let line = |food: &str| said.lines().find(|l| l.contains(food)).unwrap_or_default();
    assert!(line("table salt").contains("weigh it"), "{said}");
    assert!(line("water").contains("300 ml"), "{said}");
}
