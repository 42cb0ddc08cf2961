//! `weigh --lines --json`: the contract of docs/json.md, line by line.

use crate::run::{root, unwheat, with_input};
use serde_json::Value;

/// The objects of an output, one a line.
#[track_caller]
fn objects(out: &str) -> Vec<Value> {
    out.lines()
        .map(|line| {
            let parsed = serde_json::from_str(line);
            assert!(parsed.is_ok(), "{line}: {parsed:?}");
            parsed.unwrap_or_default()
        })
        .collect()
}

#[track_caller]
fn weigh(text: &str, more: &[&str]) -> Vec<Value> {
    let mut arguments = vec!["weigh", "--lines", "--json"];
    arguments.extend(more);
    objects(&with_input(&arguments, text.as_bytes()).done())
}

#[track_caller]
fn keys_are(value: &Value, must: &[&str], may: &[&str]) {
    let object = value.as_object();
    assert!(object.is_some(), "no object: {value}");
    let keys: Vec<&str> = object
        .into_iter()
        .flat_map(|o| o.keys().map(String::as_str))
        .collect();
    for key in must {
        assert!(keys.contains(key), "{key} is missing: {value}");
    }
    for key in keys {
        assert!(
            must.contains(&key) || may.contains(&key),
            "{key} is not in docs/json.md: {value}"
        );
    }
}

/// `{low, likely, high}`, in order and not negative.
#[track_caller]
pub fn is_spread(value: &Value) {
    keys_are(value, &["low", "likely", "high"], &[]);
    let at = |key: &str| value[key].as_f64().unwrap_or(f64::NAN);
    let ordered = 0.0 <= at("low") && at("low") <= at("likely") && at("likely") <= at("high");
    assert!(ordered, "{value}");
}

#[track_caller]
pub fn is_ingredient(value: &Value) {
    keys_are(value, &["name", "key", "table", "row"], &[]);
    let table = value["table"].as_str().unwrap_or_default();
    assert!(
        ["sr28", "own", "label", "blend"].contains(&table),
        "{value}"
    );
    assert_eq!(value["row"].is_null(), table == "label", "{value}");
    if table == "sr28" {
        let row = value["row"].as_str().unwrap_or_default();
        assert!(
            row.len() == 5 && row.bytes().all(|b| b.is_ascii_digit()),
            "{value}"
        );
    }
}

#[track_caller]
fn are_amounts(value: &Value, impossible: bool) {
    const UNITS: &str = " cup tbsp tsp dessertspoon fl_oz ml l dl pint quart gill g kg mg oz lb stick packet can count pinch dash drop sprig slice clove ";
    let list = value.as_array();
    assert!(list.is_some(), "{value}");
    for amount in list.into_iter().flatten() {
        keys_are(amount, &["low", "high", "unit", "role"], &["span"]);
        let at = |key: &str| amount[key].as_f64().unwrap_or(f64::NAN);
        // A number that cannot be, such as 1/0, is null and doubted.
        assert!(impossible || at("low") <= at("high"), "{amount}");
        assert!(
            amount["unit"].is_null()
                || amount["unit"]
                    .as_str()
                    .is_some_and(|u| UNITS.contains(&format!(" {u} "))),
            "{amount}"
        );
        let role = amount["role"].as_str().unwrap_or_default();
        assert!(["main", "plus", "twin", "size"].contains(&role), "{amount}");
    }
}

/// Asserts every promise about one object.
#[track_caller]
fn keeps_the_contract(object: &Value, text: &str) {
    keys_are(
        object,
        &[
            "text",
            "kind",
            "amounts",
            "ingredient",
            "grams",
            "household",
            "basis",
            "doubts",
        ],
        &["also"],
    );
    assert_eq!(object["text"].as_str(), Some(text));
    let kind = object["kind"].as_str().unwrap_or_default();
    assert!(
        ["ingredient", "heading", "note"].contains(&kind),
        "{object}"
    );
    let doubts = object["doubts"].to_string();
    let impossible = doubts.contains("impossible_number");
    are_amounts(&object["amounts"], impossible);
    if !object["ingredient"].is_null() {
        is_ingredient(&object["ingredient"]);
    }
    if !object["grams"].is_null() {
        is_spread(&object["grams"]);
    }
    assert_eq!(object["grams"].is_null(), object["basis"].is_null());
    assert!(object["basis"].is_null() || object["basis"].as_str().is_some_and(|b| !b.is_empty()));
    for doubt in object["doubts"].as_array().into_iter().flatten() {
        keys_are(doubt, &["code", "message"], &[]);
        assert!(doubt["code"].as_str().is_some_and(|c| !c.is_empty()));
        assert!(doubt["message"].as_str().is_some_and(|m| m.len() > 5));
    }
    assert!(object["doubts"].is_array(), "{object}");
    for also in object
        .get("also")
        .and_then(Value::as_array)
        .into_iter()
        .flatten()
    {
        keys_are(
            also,
            &["amounts", "ingredient", "grams", "household", "basis"],
            &[],
        );
        are_amounts(&also["amounts"], impossible);
    }
    if kind != "ingredient" {
        assert!(
            object["amounts"].as_array().is_some_and(Vec::is_empty)
                && object["ingredient"].is_null()
                && object["grams"].is_null(),
            "{object}"
        );
    }
}

/// Every line of the cases, in its locale: one object each, in order.
#[test]
fn every_line_of_the_cases_keeps_the_contract() {
    for table in ["known", "unseen"] {
        let path = root().join(format!("cases/lines/{table}.tsv"));
        let rows = std::fs::read_to_string(path).expect("the cases");
        for locale in ["us", "metric", "uk", "au"] {
            let texts: Vec<&str> = rows
                .lines()
                .skip(1)
                .filter_map(|row| {
                    let mut cells = row.split('\t');
                    let text = cells.next()?;
                    (cells.next()? == locale).then_some(text)
                })
                .collect();
            let got = weigh(&texts.join("\n"), &["--locale", locale]);
            assert_eq!(got.len(), texts.len());
            for (object, text) in got.iter().zip(&texts) {
                keeps_the_contract(object, text);
            }
        }
    }
}

/// Blank lines, headings, notes and nonsense have their object too.
#[test]
fn blank_lines_headings_and_nonsense_have_an_object() {
    let texts = [
        "",
        "   ",
        "For the filling:",
        "FILLING",
        "## Glaze",
        "1 cup flour",
        "",
        "Bake until done.",
        "\"quoted\" \\ and \t tab",
        "½ 🥚 é",
        "1/0 cup flour",
        "1e300 g sugar",
        "zero",
        "salt, to taste",
    ];
    let got = weigh(&texts.join("\n"), &[]);
    assert_eq!(got.len(), texts.len());
    for (object, text) in got.iter().zip(texts) {
        keeps_the_contract(object, text);
    }
    assert_ne!(got[0]["kind"], "ingredient");
    assert_eq!(got[2]["kind"], "heading");
    assert_eq!(got[5]["grams"]["likely"], 125.0);
    assert!(got[10]["grams"].is_null() && got[11]["grams"].is_null());
}

#[test]
fn nothing_in_nothing_out() {
    assert_eq!(with_input(&["weigh", "--lines", "--json"], b"").done(), "");
}

/// Line ends of other systems, and a last line without an end.
#[test]
fn line_ends_of_every_system() {
    for text in [
        "1 cup flour\n2 eggs\n",
        "1 cup flour\n2 eggs",
        "1 cup flour\r\n2 eggs\r\n",
    ] {
        let got = weigh(text, &[]);
        assert_eq!(got.len(), 2, "{text:?}");
        keeps_the_contract(&got[0], "1 cup flour");
        keeps_the_contract(&got[1], "2 eggs");
        assert_eq!(got[1]["grams"]["likely"], 100.0);
    }
}

/// Ten thousand lines, each in its place.
#[test]
fn ten_thousand_lines_in_order() {
    let texts: Vec<String> = (0..10_000)
        .map(|n| match n % 5 {
            0 => format!("{} g plain flour", n + 1),
            1 => format!("{} tsp salt", n % 7 + 1),
            2 => String::new(),
            3 => format!("Part {n}:"),
            _ => format!("{} eggs, beaten", n % 9 + 1),
        })
        .collect();
    let got = weigh(&texts.join("\n"), &[]);
    assert_eq!(got.len(), texts.len());
    for (n, (object, text)) in got.iter().zip(&texts).enumerate() {
        assert_eq!(object["text"].as_str(), Some(text.as_str()));
        if n % 5 == 0 {
            assert_eq!(object["grams"]["likely"].as_f64(), Some(n as f64 + 1.0));
        }
    }
}

/// NIST Handbook 44: US cup 236.588 mL, spoon 14.787 mL. Metric cup 250 mL; the Australian
/// tablespoon holds 20 mL, the metric one 15 mL. Water weighs about 1 g/mL.
#[test]
fn the_locale_changes_the_grams() {
    for (line, locale, want) in [
        ("1 tbsp water", "us", 14.8),
        ("1 tbsp water", "metric", 15.0),
        ("1 tbsp water", "uk", 15.0),
        ("1 tbsp water", "au", 20.0),
        ("1 cup water", "us", 236.6),
        ("1 cup water", "metric", 250.0),
        ("1 pint water", "us", 473.2),
        ("1 pint water", "uk", 568.3),
    ] {
        let got = weigh(line, &["--locale", locale]);
        let grams = got[0]["grams"]["likely"].as_f64().unwrap_or(f64::NAN);
        assert!(
            (grams / want - 1.0).abs() < 0.01,
            "{line} ({locale}): {grams} g, not {want}"
        );
    }
    // The same spoon of flour is larger by a third in Australia than elsewhere.
    let spoon = |locale| {
        weigh("1 tbsp cornflour", &["--locale", locale])[0]["grams"]["likely"]
            .as_f64()
            .unwrap_or(f64::NAN)
    };
    assert!((spoon("au") / spoon("uk") - 4.0 / 3.0).abs() < 1e-3);
}

/// The same from a file, from standard input and from '-'.
#[test]
fn from_a_file_and_from_standard_input() {
    let file = "examples/sunday-pancakes.txt";
    let text = std::fs::read(root().join(file)).expect("the example");
    let named = unwheat(&["weigh", "--lines", "--json", file]).done();
    let given = with_input(&["weigh", "--lines", "--json", "-"], &text).done();
    assert_eq!(named, given);
    assert_eq!(
        objects(&named).len(),
        String::from_utf8_lossy(&text).lines().count()
    );
}

/// 200 g of sugar are a US cup, 113 g of butter a stick (SR28 19335, 01145).
#[test]
fn a_line_is_measured_back() {
    let lines = "200 g sugar\n113 g butter, 2 eggs\n300 g zork\n";
    let got = weigh(lines, &[]);
    assert_eq!(got[0]["household"], "1 cup");
    assert_eq!(got[1]["household"], "1 stick");
    assert_eq!(got[1]["also"][0]["household"], "2 large eggs");
    assert!(got[2]["household"].is_null());
    let said = with_input(&["weigh", "--lines"], lines.as_bytes()).done();
    let said = said.replace('\u{a0}', " ");
    assert!(said.contains("200 g white sugar: 1 cup"), "{said}");
}
