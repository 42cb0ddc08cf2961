//! The Shape page: a shape chosen, its figures typed, the drawing that changes with them.

use crate::harness::{House, Theme, Window, browser, example, key};
use serde_json::json;

#[test]
fn the_drawing_changes_as_figures_are_typed() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        w.go(&format!("/recipe/{id}/shape"));
        let first = w.js(
            "return document.querySelectorAll('section.sheet').length > 1 && [...document.querySelectorAll('h2')].findIndex((h) => h.textContent === 'Dough');",
            json!([]),
        );
        let at = first.as_i64().expect("the dough's place");
        let field = |what: &str| format!("#s{at}-{what}");
        w.and_follows("a shape", |w| {
            w.js(
                &format!("const s = document.getElementById('shape{at}'); s.value = 'roll'; s.dispatchEvent(new Event('change', {{ bubbles: true }}));"),
                json!([]),
            );
        });
        w.see("A sheet filled and rolled up");
        w.see("Give two of length, width and thickness");
        let type_in = |w: &Window, what: &str, text: &str| {
            w.js(
                &format!(
                    "const f = document.querySelector('{}'); f.focus(); f.value = '';",
                    field(what)
                ),
                json!([]),
            );
            w.and_follows(what, |w| {
                w.write(text);
                w.key(&[], key::ENTER);
            });
        };
        type_in(w, "length", "45 cm");
        type_in(w, "width", "35 cm");
        w.see("Roll across");
        type_in(w, "filling", "250 g");
        type_in(w, "slices", "12");
        w.see("Slice weighs");
        // While a figure is half typed there may be nothing to draw.
        let drawn = |w: &Window| {
            let script =
                format!("return document.querySelector('#shape{at}-end-d')?.textContent ?? '';");
            let words = w.js(&script, json!([])).as_str().map(str::to_owned);
            words.filter(|words| !words.is_empty())
        };
        let before = w.until("the roll drawn", drawn);
        type_in(w, "length", "60 cm");
        w.until("another drawing", |w| {
            drawn(w).filter(|words| *words != before)
        });
        type_in(w, "pan", "13x9x2in");
        w.see("proofed");
        assert_eq!(w.axe(), Vec::<String>::new());
        // What cannot be read is said at the field, and nothing else moves.
        w.js(
            &format!(
                "const f = document.querySelector('{}'); f.focus(); f.value = '';",
                field("width")
            ),
            json!([]),
        );
        w.write("wide");
        w.key(&[], key::ENTER);
        w.see("is no length");
        w.reload();
        assert_eq!(w.value("Along the log"), "35 cm");
        for (theme, name) in [(Theme::Light, "light"), (Theme::Dark, "dark")] {
            w.theme(theme);
            for width in [1280, 820, 390] {
                w.size(width, 900, 1);
                assert_eq!(w.overhang(), None, "{width}");
                w.picture(&format!("shape-{width}-{name}"));
            }
        }
        w.size(1280, 900, 1);
        w.and_follows("undo", |w| w.press("Undo:"));
    });
}

#[test]
fn it_works_without_scripts() {
    browser(|house, w| {
        let id = house.recipe(&example("sunday-pancakes.txt"));
        let choose = r#"{"field":"set_shape","component":"","shape":"sheet"}"#;
        house.post(
            &format!("/recipe/{id}/change"),
            &[("over", "1"), ("change", choose)],
        );
        w.scripts(false);
        w.go(&format!("/recipe/{id}/shape"));
        for (field, text) in [("Length", "40 cm"), ("Width", "12 in")] {
            w.and_follows(field, |w| {
                w.fill(field, text);
                w.key(&[], key::ENTER);
            });
            w.arrive("/shape");
            assert_eq!(w.value(field), text);
        }
        w.see("12 in (30.5 cm)");
        w.see("Sheet weighs");
        w.and_follows("too thin", |w| {
            w.fill("Dough", "20 g");
            w.key(&[], key::ENTER);
        });
        w.see("thinner than 1/64 in (0.5 mm)");
    });
}

/// A shape begins with what the method says, greyed, and where it says so; what is typed goes over it.
#[test]
fn the_method_fills_what_is_not_typed() {
    let house = House::open();
    let id = house.recipe("Whorls\n\n500 g bread flour\n300 g water\n7 g instant yeast\n8 g salt\n\nMethod\n1. Mix and let it rise for 1 hour.\n2. Roll out to a 36 x 28 cm rectangle and roll up from a long side.\n3. Cut into 9 slices.\n4. Bake at 190 C for 25 minutes.\n");
    let put = |change: &str, value: &str| {
        let fields = [
            ("change", change),
            ("value", value),
            ("over", "1"),
            ("leaf", "shape"),
        ];
        assert_eq!(
            house.post(&format!("/recipe/{id}/change"), &fields).status,
            303
        );
    };
    // The method's own shape stands beside the choice of all.
    let fresh = house.get(&format!("/recipe/{id}/shape")).text();
    assert!(fresh.contains("From step 2:"), "{fresh}");
    assert!(
        fresh.contains(r#"name="value" value="roll">Filled roll, sliced<"#),
        "{fresh}"
    );
    put(
        r#"{"field":"set_shape","component":"","shape":null}"#,
        "roll",
    );
    let page = || house.get(&format!("/recipe/{id}/shape")).text();
    for says in [
        "28 cm, of step 2",
        "36 cm, of step 2",
        "9, of step 3",
        "Turns",
    ] {
        assert!(page().contains(says), "{says}");
    }
    assert!(page().contains(">(40 mm)<"), "36 cm in 9 slices");
    put(
        r#"{"field":"shape_says","component":"","what":"slices","text":null}"#,
        "12",
    );
    assert!(page().contains(">(30 mm)<"), "36 cm in 12 slices");
    house.must_be_sound();
}
