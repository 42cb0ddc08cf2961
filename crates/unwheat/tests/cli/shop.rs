//! `shop`: the list in packs, and what it costs.

use crate::lines::is_spread;
use crate::run::{unwheat, with_input};
use serde_json::Value;
use std::path::PathBuf;

const CAKE: &str = "Plain cake\n\nMakes 10 slices\n\n250 g rice flour\n200 g caster sugar\n3 eggs\n100 g butter\nsalt, to taste\nicing sugar, for dusting\n\nMix and bake.\n";

/// A file of this test, made anew.
fn file(name: &str, text: &str) -> String {
    let path = PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, text).expect("a file of the test");
    path.display().to_string()
}

fn line<'a>(json: &'a Value, key: &str) -> &'a Value {
    let all = json["list"].as_array().expect("a list");
    all.iter().find(|l| l["key"] == key).expect(key)
}

fn near(value: &Value, want: f64, tolerance: f64) {
    let got = value.as_f64().unwrap_or(f64::NAN);
    assert!((got - want).abs() <= tolerance, "{value} for {want}");
}

/// By hand: 6 eggs of 50 g are 340.9 g with 12 % shell; four in stock are 227.3 g; 113.6 g are
/// short, and one box of 6 at 1.80 is cheaper than a dozen at 3.10. 500 g of rice flour are two
/// bags of 250 g at 1.00, or one of 1 kg at 1.90.
#[test]
fn a_list_by_hand() {
    let prices = file(
        "by-hand-prices.tsv",
        "food\tpack\tprice\tcurrency\tdate\negg\t12 eggs\t3.10\tGBP\t2026-11-20\negg\t6 eggs\t1.80\tGBP\t2026-11-20\nrice flour\t250 g\t1.00\tgbp\t2026-11-20\nrice flour\t1 kg\t1.90\tGBP\t2026-11-20\ncaster sugar\t1 kg\t1.30\tGBP\t2026-01-05\n",
    );
    let stock = file(
        "by-hand-stock.tsv",
        "food\tamount\tdate\negg\t4 eggs\t2026-11-28\n",
    );
    let arguments = [
        "shop",
        "-",
        "--times",
        "2",
        "--locale",
        "uk",
        "--prices",
        &prices,
        "--stock",
        &stock,
        "--day",
        "2026-11-29",
    ];
    let json = with_input(&[&arguments[..], &["--json"]].concat(), CAKE.as_bytes()).json();
    let egg = line(&json, "egg");
    assert_eq!(egg["pieces"], 6);
    near(
        &egg["to_buy_g"],
        6.0 * 50.0 / 0.88 - 4.0 * 50.0 / 0.88,
        0.01,
    );
    assert_eq!(egg["packs"][0]["count"], 1);
    assert_eq!(egg["packs"][0]["pack"], "6 eggs");
    near(&egg["pay"]["GBP"]["likely"], 1.80, 1e-9);
    let flour = line(&json, "white_rice_flour");
    near(&flour["pay"]["GBP"]["likely"], 1.90, 1e-9);
    near(&flour["left_g"], 500.0, 0.01);
    assert_eq!(flour["labels"][0]["say"], "buy_labelled");
    is_spread(&flour["needed_g"]);
    // Without weight: on the list, in its own words, and the sum is a floor.
    let dust = line(&json, "icing_sugar");
    assert_eq!(dust["needed_g"], Value::Null);
    assert_eq!(dust["unweighed"][0]["text"], "icing sugar, for dusting");
    assert_eq!(dust["unweighed"][0]["times"], 2.0);
    assert_eq!(dust["uses"][0]["aside"], "for dusting");
    assert_eq!(json["pay_is_floor"], true);
    // What is used: 500 g at 1.00 a 250 g, 400 g at 1.30 a kg, 6 eggs at 3.10 a dozen.
    let cost = &json["recipes"][0]["cost"];
    near(&cost["total"]["GBP"]["likely"], 2.0 + 0.52 + 1.55, 0.001);
    assert_eq!(cost["is_floor"], true);
    let missing: Vec<&str> = cost["missing"]
        .as_array()
        .expect("a list")
        .iter()
        .filter_map(|m| m["name"].as_str())
        .collect();
    assert!(missing.contains(&"unsalted butter"), "{missing:?}");
    near(
        &json["recipes"][0]["each"]["GBP"]["likely"],
        (2.0 + 0.52 + 1.55) / 20.0,
        0.001,
    );
    let sugar = cost["lines"]
        .as_array()
        .expect("lines")
        .iter()
        .find(|l| l["key"] == "caster_sugar");
    // Python's datetime: 328 days from 2026-01-05.
    assert_eq!(sugar.expect("sugar")["price_old_days"], 328);
    let words = with_input(&arguments, CAKE.as_bytes()).done();
    for said in [
        "To pay: at least",
        "1 × 6 eggs",
        "Buy labelled gluten-free",
        "Old price",
        "Ingredients only",
    ] {
        assert!(words.contains(said), "{said}: {words}");
    }
}

/// A row says 'no price', and the costs name what is not in them: the sum to pay names it no third time.
#[test]
fn what_has_no_price_is_named_once() {
    let words = unwheat(&[
        "shop",
        "examples/lemon-yoghurt-cake.txt",
        "--locale",
        "uk",
        "--prices",
        "examples/shop/prices.tsv",
    ])
    .done();
    let (list, costs) = words.split_once("To pay: ").expect("a sum");
    let (pay, costs) = costs.split_once("What it costs").expect("costs");
    assert!(
        pay.contains("5 foods above have no price or no weight."),
        "{pay}"
    );
    assert_eq!(list.matches("no price").count(), 5, "{list}");
    for food in ["double cream", "lemon curd", "table salt"] {
        assert!(
            !pay.contains(food) && costs.matches(food).count() == 1,
            "{food}: {words}"
        );
    }
}

#[test]
fn several_recipes_are_one_list() {
    let one = unwheat(&[
        "shop",
        "examples/lemon-yoghurt-cake.txt",
        "--locale",
        "uk",
        "--json",
    ])
    .json();
    let two = unwheat(&[
        "shop",
        "examples/lemon-yoghurt-cake.txt",
        "examples/lemon-yoghurt-cake.txt",
        "--times",
        "0.5,2.5",
        "--locale",
        "uk",
        "--json",
    ])
    .json();
    let grams = |json: &Value, key: &str| {
        line(json, key)["needed_g"]["likely"]
            .as_f64()
            .unwrap_or(f64::NAN)
    };
    for key in ["caster_sugar", "unsalted_butter", "egg"] {
        assert!(
            (grams(&two, key) - 3.0 * grams(&one, key)).abs() < 0.01,
            "{key}"
        );
    }
    assert_eq!(two["recipes"].as_array().map(Vec::len), Some(2));
    assert_eq!(one["pay"], serde_json::json!({}));
}

#[test]
fn two_currencies_stay_two() {
    let prices = file(
        "two-currencies.tsv",
        "food\tpack\tprice\tcurrency\tdate\ncaster sugar\t1 kg\t1.30\tGBP\t2026-11-20\nbutter\t250 g\t2.50\tEUR\t2026-11-20\n",
    );
    let json = with_input(
        &["shop", "-", "--locale", "uk", "--prices", &prices, "--json"],
        CAKE.as_bytes(),
    )
    .json();
    let pay = json["pay"].as_object().expect("sums");
    assert_eq!(pay.keys().collect::<Vec<_>>(), ["EUR", "GBP"]);
    let words = with_input(
        &["shop", "-", "--locale", "uk", "--prices", &prices],
        CAKE.as_bytes(),
    )
    .done();
    assert!(
        words.contains("several currencies: they are not added"),
        "{words}"
    );
}

#[test]
fn a_wrong_table_says_where_and_how_to_mend_it() {
    let head = "food\tpack\tprice\tcurrency\tdate\n";
    for (row, said) in [
        ("egg\t3 bags\t1\tGBP\t2026-11-20", "column 'pack'"),
        ("egg\t12 eggs\t-1\tGBP\t2026-11-20", "column 'price'"),
        ("egg\t12 eggs\tNaN\tGBP\t2026-11-20", "column 'price'"),
        ("egg\t12 eggs\t1\tpounds\t2026-11-20", "column 'currency'"),
        ("egg\t12 eggs\t1\tGBP\tyesterday", "column 'date'"),
    ] {
        let path = file("wrong.tsv", &format!("{head}{row}\n"));
        let ran = with_input(&["shop", "-", "--prices", &path], CAKE.as_bytes());
        assert_eq!(ran.code, 1, "{row}");
        assert!(
            ran.err.contains("line 2") && ran.err.contains(said),
            "{row}: {}",
            ran.err
        );
    }
    let path = file("no-head.tsv", "egg\t12 eggs\t1\n");
    let ran = with_input(&["shop", "-", "--prices", &path], CAKE.as_bytes());
    assert!(
        ran.code == 1 && ran.err.contains("columns food, pack"),
        "{}",
        ran.err
    );
    let ran = with_input(&["shop", "-", "--kitchen", "examples"], CAKE.as_bytes());
    assert!(
        ran.code == 1 && ran.err.contains("no kitchen"),
        "{}",
        ran.err
    );
}

#[test]
fn wrong_numbers_are_wrong_usage() {
    for arguments in [
        &["--times", "0"][..],
        &["--times", "1,2"],
        &["--times", "nan"],
        &["--times=-1"],
        &["--currency", "pounds"],
        &["--day", "tomorrow"],
    ] {
        unwheat(&[&["shop", "examples/sunday-pancakes.txt"], arguments].concat()).misused();
    }
    unwheat(&["shop"]).misused();
}

/// A row of no food known takes nothing from the others, and is named.
#[test]
fn a_row_of_an_unknown_food_is_passed_over_and_named() {
    let prices = file(
        "unknown-row.tsv",
        "food\tpack\tprice\tcurrency\tdate\nzorblax\t1 kg\t3.10\tGBP\t2026-11-20\negg\t6 eggs\t1.80\tGBP\t2026-11-20\negg\t12 eggs\t3.10\tGBP\t2026-11-20\n",
    );
    let all = [
        "shop",
        "-",
        "--locale",
        "uk",
        "--prices",
        &prices,
        "--day",
        "2026-11-29",
    ];
    let text = with_input(&all, CAKE.as_bytes()).done();
    let plain = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        plain.contains("line 2: the larder knows no 'zorblax'"),
        "{text}"
    );
    assert!(
        plain.contains("the one noted first counts here: egg by 6 eggs at"),
        "{text}"
    );
    assert!(plain.contains("Shares are of what has a price."), "{text}");
    let json = with_input(&[&all[..], &["--json"]].concat(), CAKE.as_bytes()).json();
    assert_eq!(
        json["passed_over"].as_array().map(Vec::len),
        Some(1),
        "{json}"
    );
}

#[test]
fn days_to_come_are_refused_and_old_stock_is_looked_at() {
    let all = |prices: &str, stock: &str| -> Vec<String> {
        [
            "shop",
            "-",
            "--prices",
            prices,
            "--stock",
            stock,
            "--day",
            "2026-11-29",
        ]
        .map(str::to_owned)
        .to_vec()
    };
    let run = |arguments: &[String]| {
        let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
        with_input(&words, CAKE.as_bytes())
    };
    let head = "food\tpack\tprice\tcurrency\tdate\n";
    let good = file(
        "days-prices.tsv",
        &format!("{head}egg\t6 eggs\t1.80\tGBP\t2026-11-20\n"),
    );
    let ahead = file(
        "days-ahead.tsv",
        &format!("{head}egg\t6 eggs\t1.80\tGBP\t2030-01-01\n"),
    );
    let old = file(
        "days-stock.tsv",
        "food\tamount\tdate\nbutter\t500 g\t2020-01-01\ncaster sugar\t1 kg\t2020-01-01\n",
    );
    let said = run(&all(&ahead, &old)).refused();
    assert!(
        said.contains("line 2, column 'date': 2030-01-01 is after 2026-11-29"),
        "{said}"
    );
    let text = run(&all(&good, &old)).done();
    let plain = text.split_whitespace().collect::<Vec<_>>().join(" ");
    // Python's datetime.date: 2524 days.
    assert!(
        plain.contains("butter in stock was counted 2524 days ago"),
        "{text}"
    );
    assert!(!plain.contains("sugar in stock"), "{text}");
}

/// A loaf costs what its batch costs: it is not told twice.
#[test]
fn one_piece_is_the_batch() {
    let prices = file(
        "one-piece-prices.tsv",
        "food\tpack\tprice\tcurrency\tdate\ncaster sugar\t1 kg\t1.30\tGBP\t2026-11-20\n",
    );
    let ask = ["shop", "-", "--locale", "uk", "--prices", &prices];
    for (makes, told) in [("1 cake", false), ("2 cakes", true)] {
        let cake = CAKE.replace("10 slices", makes);
        let out = with_input(&ask, cake.as_bytes()).done();
        assert!(out.contains("The batch: at least 0.26 GBP"), "{out}");
        assert_eq!(out.contains("A piece, of "), told, "{out}");
        assert!(!out.contains("does not say how many"), "{out}");
    }
}
