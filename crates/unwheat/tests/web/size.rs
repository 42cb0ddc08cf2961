//! The Size page: type any one figure, the rest follow.

use crate::harness::{House, browser, example, key};
use serde_json::{Value, json};

fn change(house: &House, recipe: u32, ask: &Value, value: Option<&str>) -> (u16, String) {
    let change = json!({ "field": "size", "ask": ask }).to_string();
    let mut fields = vec![("change", change.as_str()), ("over", "1"), ("leaf", "size")];
    fields.extend(value.map(|v| ("value", v)));
    let answer = house.post(&format!("/recipe/{recipe}/change"), &fields);
    (answer.status, answer.text())
}

/// A part whose name takes no article is named in quotes, and one without a weight makes no 0 g.
#[test]
fn a_part_to_finish_is_named_as_it_is() {
    let house = House::open();
    let id = house.recipe("Tart\n\nPastry:\n225 g plain flour\n115 g butter\n\nTo finish:\nIcing sugar, for dusting\n");
    let page = house.get(&format!("/recipe/{id}/size")).text();
    assert!(page.contains("only the pastry"), "{page}");
    assert!(
        page.contains("only 'to finish'") || page.contains("only &#39;to finish&#39;"),
        "{page}"
    );
    let field = page.split("id=\"makes1\"").nth(1).expect("its field");
    let field = field.split('>').next().expect("its end");
    assert!(field.contains("value=\"\""), "{field}");
}

/// Without scripts, every field is a form of its own that leads back to the page.
#[test]
fn every_field_sizes_the_recipe() {
    let house = House::open();
    let id = house.recipe(&example("apricot-almond-buns.txt"));
    let page = || house.get(&format!("/recipe/{id}/size")).text();
    assert!(page().contains("The recipe once."));
    for (ask, typed, says) in [
        (json!({ "target": { "times": 0.0 } }), "1 1/2", "× 1.5"),
        (
            json!({ "target": { "pieces": { "count": 0.0 } } }),
            "18",
            "18 pieces",
        ),
        (
            json!({ "target": { "pieces": { "count": 12, "each": 0.0 } } }),
            "60",
            "12 pieces of 60 g",
        ),
        (
            json!({ "target": { "flour": 0.0 } }),
            "400 g",
            "400 g of flour",
        ),
        (
            json!({ "target": { "makes": 0.0 }, "part": "filling" }),
            "1 lb",
            "454 g, by the filling",
        ),
        (
            json!({ "target": { "line": { "line": "unsalted_butter", "grams": 0.0 } }, "part": "dough" }),
            "210",
            "210 g of unsalted butter",
        ),
        (
            json!({ "target": { "pan": { "pan": "" } } }),
            "2 x loaf 9x5",
            "2 × loaf tin",
        ),
        (
            json!({ "target": { "sheet": { "long": 0.0, "wide": 0.0, "thick": 0.0 } } }),
            "40 x 30 cm, 5 mm",
            "a sheet of 40 × 30 cm, 5 mm thick",
        ),
        (
            json!({ "target": { "have": [] } }),
            "210 g butter, 3 eggs",
            "runs out first",
        ),
        (
            json!({ "target": { "from_pan": { "from": { "pan": "" }, "to": { "pan": "" } } } }),
            "round 31x6 cm",
            "round tin, 31 × 6 cm in place of round tin, 31 × 6 cm",
        ),
        (
            json!({ "target": { "times": 2.0 }, "parts": { "crumb topping": "enough" } }),
            "",
            "The recipe once.",
        ),
    ] {
        let (status, text) = change(&house, id, &ask, Some(typed));
        assert_eq!(status, 303, "{typed}: {text}");
        assert!(page().contains(says), "{typed}: no '{says}'");
    }
    house.must_be_sound();
}

#[test]
fn what_cannot_be_had_is_refused_in_words_and_changes_nothing() {
    let house = House::open();
    let id = house.recipe(&example("apricot-almond-buns.txt"));
    let before = house.get(&format!("/recipe/{id}/size")).text();
    for (target, typed, says) in [
        (json!({ "times": 0.0 }), "0", "cannot be made"),
        (json!({ "times": 0.0 }), "some", "write one such as 1.5"),
        (
            json!({ "pan": { "pan": "" } }),
            "round 9x0",
            "holds nothing",
        ),
        (
            json!({ "pan": { "pan": "" } }),
            "kettle",
            "no pan is called",
        ),
        (
            json!({ "sheet": { "long": 0.0, "wide": 0.0, "thick": 0.0 } }),
            "40 x 30 cm, 0.2 mm",
            "0.5 mm is the thinnest",
        ),
        (json!({ "have": [] }), "200 g saffron", "nothing called"),
        (
            json!({ "have": [] }),
            "-3",
            "write one such as 210 g butter",
        ),
        (json!({ "times": 0.0 }), "1e9", "ask for × 0.01 to × 1000"),
        (json!({ "flour": 0.0 }), "-3", "-3 is no weight"),
        (
            json!({ "pieces": { "count": null, "each": 0.0 } }),
            "20 kg",
            "more than all of the dough",
        ),
    ] {
        let (status, text) = change(&house, id, &json!({ "target": target }), Some(typed));
        assert_eq!(status, 422, "{typed}");
        assert!(text.contains(says), "{typed}: {text}");
    }
    let after = house.get(&format!("/recipe/{id}/size")).text();
    assert_eq!(
        before.matches("data-rev").count(),
        after.matches("data-rev").count()
    );
    assert!(after.contains("The recipe once."));
    house.must_be_sound();
}

/// The bench and the card are for the size that was asked for; a batch under way keeps its own.
#[test]
fn the_bench_and_the_card_take_the_size() {
    let house = House::open();
    let id = house.recipe(&example("apricot-almond-buns.txt"));
    house.size(id, "2");
    let start = house.get(&format!("/recipe/{id}/bench")).text();
    assert!(start.contains("× 2"), "{start}");
    assert!(start.contains("24 pieces"), "{start}");
    let begun = house.post(&format!("/recipe/{id}/batch"), &[("of", "draft")]);
    let bench = begun.header("location").expect("a bench").to_owned();
    assert!(
        house.get(&bench).text().contains("746"),
        "milk for two times"
    );
    for page in ["plan", "shop", "card"] {
        let page = house.get(&format!("/recipe/{id}/{page}")).text();
        assert!(page.contains("Change the size"), "{page}");
    }
    let size = house.get(&format!("/recipe/{id}/size")).text();
    assert!(size.contains("This size is used for"), "{size}");
    house.size(id, "");
    let shop = house.get(&format!("/recipe/{id}/shop")).text();
    assert!(!shop.contains("Change the size"), "{shop}");
    assert!(
        house.get(&bench).text().contains("746"),
        "it keeps its size"
    );
    house.must_be_sound();
}

/// Typing in one field, the rest of the page follows; what was asked is taken back.
#[test]
fn typing_one_figure_moves_the_rest() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        w.go(&format!("/recipe/{id}/size"));
        assert_eq!(w.value("Pieces"), "12");
        w.fill("Pieces", "");
        w.and_follows("typing", |w| w.write("24"));
        w.see("24 pieces");
        w.holds(
            "the milk to double",
            "document.querySelector('[aria-label=\"Grams of whole milk\"]').value === '746'",
        );
        assert_eq!(w.value("Times the recipe"), "2");
        w.press("Take it back: the recipe once");
        w.see("The recipe once.");
        w.holds(
            "the milk as it was",
            "document.querySelector('[aria-label=\"Grams of whole milk\"]').value === '373'",
        );
        w.must_be_quiet();
    });
}

/// A figure out of reach: its first digits are one that can be had, and change the page above the
/// field. What is typed stands, and is explained.
#[test]
fn what_is_typed_stands_and_is_explained_where_it_is_out_of_reach() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        w.go(&format!("/recipe/{id}/size"));
        w.fill("Times the recipe", "");
        w.write("99999999");
        w.key(&[], '\u{E004}');
        w.see("× 99999999 of the recipe cannot be made: ask for × 0.01 to × 1000");
        assert_eq!(w.value("Times the recipe"), "99999999");
        w.see("The recipe once.");
    });
}

/// A tart's pastry is sized by its tin on the page alone, in either order of the fields.
#[test]
fn pastry_goes_from_tin_to_tin() {
    let house = House::open();
    let id = house.recipe(&example("leek-and-cheddar-tart.txt"));
    let page = || house.get(&format!("/recipe/{id}/size")).text();
    assert!(
        page().contains("in place of the pan"),
        "shown from the beginning"
    );
    // From the tin of the method, whose depth it does not say: an estimate, and the word to measure.
    let pan = json!({ "target": { "pan": { "pan": "" } } });
    assert_eq!(change(&house, id, &pan, Some("tart 20x3 cm")).0, 303);
    assert!(page().contains("Measure yours and say the tin with it"));
    let from = json!({ "target": { "from_pan": { "from": { "pan": "" }, "to": { "pan": "" }, "keep_depth": true } } });
    assert_eq!(change(&house, id, &from, Some("tart 24x3 cm")).0, 303);
    let to = json!({ "target": { "from_pan": { "from": { "pan": "tart 24x3 cm" }, "to": { "pan": "" }, "keep_depth": true } } });
    assert_eq!(change(&house, id, &to, Some("tart 20x3 cm")).0, 303);
    let now = page();
    assert!(
        now.contains("× <span class=\"n\">0.694</span>"),
        "(20 ÷ 24)² of it"
    );
    assert!(!now.contains(" % filled"), "pastry lines its tin");
    house.must_be_sound();
}

/// A refusal stands below the fields of its row and moves none; in a column of figures it is words.
#[test]
fn a_refusal_moves_no_field() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        w.go(&format!("/recipe/{id}/size"));
        w.js(
            "window.stood = [...document.querySelectorAll('input.short[data-typed]')].map((e) => [e, e.getBoundingClientRect().left, e.getBoundingClientRect().top + scrollY]);",
            json!([]),
        );
        w.fill("Pieces", "many");
        w.key(&[], key::ENTER);
        w.see("'many' is no measure that is understood here");
        w.holds(
            "all fields of the row where they stood",
            "stood.slice(0, 5).every(([e, x, y]) => { const r = e.getBoundingClientRect(); return Math.abs(r.left - x) < 1 && Math.abs(r.top + scrollY - y) < 1; })",
        );
        w.go(&format!("/recipe/{id}/rework"));
        w.fill("Grams of whole milk", "a handful");
        w.key(&[], key::ENTER);
        w.see("'a handful' cannot be counted out");
        w.holds(
            "it to be read as words are",
            "((s, body) => s.textAlign === 'left' && s.fontFamily === body.fontFamily)(getComputedStyle(document.querySelector('td.f .trouble')), getComputedStyle(document.documentElement))",
        );
        // Nobody undid anything.
        w.holds(
            "no word of an undo",
            "!document.getElementById('said').textContent.includes('Undone')",
        );
    });
}
