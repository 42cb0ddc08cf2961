//! The Card page: the developer's own words on what is published.

use crate::harness::{House, Window, browser, example, key};
use serde_json::json;

#[test]
fn a_method_is_written_beside_its_notes_and_stands_on_the_card() {
    browser(|house, w| {
        let id = house.recipe(&example("lemon-yoghurt-cake.txt"));
        w.go(&format!("/recipe/{id}/card"));
        w.see("What to do differently");
        let before = w.js("return history.length;", json!([]));
        w.see("Their method, for your eyes: do not copy its wording");
        w.and_follows("a method", |w| {
            w.fill(
                "Your method, in your own words",
                "For the cake:\nWhisk it all and bake it.",
            );
        });
        w.and_follows("a credit", |w| w.fill("Credit", "Ines Okoro"));
        w.and_follows("a yield", |w| {
            w.fill("What it makes", "Makes 9 small cakes")
        });
        w.gone("These words stand in the source");
        for words in [
            "Whisk it all and bake it.",
            "Ines Okoro",
            "Makes 9 small cakes",
        ] {
            framed(w, words);
        }
        assert_eq!(
            w.js("return history.length;", json!([])),
            before,
            "what is typed is no step back"
        );
        w.reload();
        assert_eq!(w.value("Credit"), "Ines Okoro");
        assert_eq!(
            w.value("Your method, in your own words"),
            "For the cake:\nWhisk it all and bake it."
        );
    });
}

#[test]
fn wording_of_the_source_is_told_and_stays_off_the_card_until_it_is_typed() {
    browser(|house, w| {
        let step = "Stir the wet into the dry by halves until no streak of flour is left.";
        let id = house.recipe(&format!(
            "Pan cake\n\n200 g plain flour\n200 g milk\n2 eggs\n\nMethod\n1. {step}\n2. Fry it.\n"
        ));
        let card = house.get(&format!("/recipe/{id}/card.html")).text();
        assert!(card.contains("No method written yet.") && !card.contains("by halves"));
        w.go(&format!("/recipe/{id}/card"));
        w.and_follows("a borrowed method", |w| {
            w.fill(
                "Your method, in your own words",
                "First stir the wet into the dry by halves until smooth.",
            );
        });
        w.see("These words stand in the source:");
        w.see("stir the wet into the dry by halves until");
        w.and_follows("a method of one's own", |w| {
            w.fill("Your method, in your own words", "Whisk it smooth.");
        });
        w.gone("These words stand in the source");
        // Emptied, there is none. What follows from the words before may come in between.
        w.fill("Your method, in your own words", "");
        w.until("no method on the card", |_| {
            let card = house.get(&format!("/recipe/{id}/card.html")).text();
            card.contains("No method written yet.").then_some(())
        });
    });
}

/// A bake of other figures is no bake of the card's.
#[test]
fn a_bake_of_another_version_is_said_to_be_one() {
    let house = House::open();
    let id = house.recipe(&example("apricot-almond-buns.txt"));
    let saved = house.post(
        &format!("/recipe/{id}/save"),
        &[("rev", "1"), ("why", "first"), ("who", "Maud Ferris")],
    );
    assert_eq!(saved.status, 303, "{}", saved.text());
    house.size(id, "2");
    let begun = house.post(
        &format!("/recipe/{id}/batch"),
        &[("of", "1"), ("who", "Maud Ferris")],
    );
    house.size(id, "");
    let bench = begun.header("location").expect("a bench").to_owned();
    let ticked = [("item", "0:whole_milk"), ("ticked", "1")];
    house.post(&format!("{bench}/mark"), &ticked);
    let bake = [
        ("made", "1"),
        ("verdict", "Fine crumb."),
        ("raw_g", "1000"),
        ("baked_g", "880"),
    ];
    let finished = house.post(&format!("{bench}/finish"), &bake);
    assert_eq!(finished.status, 303, "{}", finished.text());
    let card = || house.get(&format!("/recipe/{id}/card.html")).text();
    assert!(card().contains("1 test bake logged."));
    let change = json!({ "field": "pin", "component": "dough", "line": "whole_milk", "hold": { "grams": 100.0 } });
    let kept = house.post(
        &format!("/recipe/{id}/change"),
        &[
            ("change", &change.to_string()),
            ("over", "1"),
            ("leaf", "rework"),
        ],
    );
    assert_eq!(kept.status, 303, "{}", kept.text());
    assert!(card().contains("1 test bake logged, of version 1; this version has none."));
    let page = house.get(&format!("/recipe/{id}/card")).text();
    assert!(page.contains("Not baked yet as it stands now"));
    house.must_be_sound();
}

/// Of a saved version the card names who saved it; of a draft who bakes in this kitchen.
#[test]
fn the_card_names_who_saved_the_version() {
    let house = House::open();
    let save = |id: u32, who: &str| {
        let fields = [("rev", "1"), ("why", "first"), ("who", who)];
        house.post(&format!("/recipe/{id}/save"), &fields).status
    };
    // The first name is the kitchen's.
    let scones = house.recipe("Plain scones\n\n225 g plain flour\n50 g butter\n150 ml milk\n");
    assert_eq!(save(scones, "Maud Ferris"), 303);
    let id = house.recipe(&example("sunday-pancakes.txt"));
    let card = || house.get(&format!("/recipe/{id}/card.html")).text();
    assert!(card().contains("Reworked by Maud Ferris."));
    assert_eq!(save(id, "Ivo Tarn"), 303);
    assert!(card().contains("Reworked by Ivo Tarn."));
    let hold = json!({ "field": "pin", "component": "", "line": "whole_milk", "hold": { "grams": 200.0 } });
    let hold = hold.to_string();
    let fields = [("change", hold.as_str()), ("over", "1"), ("leaf", "rework")];
    let kept = house.post(&format!("/recipe/{id}/change"), &fields);
    assert_eq!(kept.status, 303, "{}", kept.text());
    assert!(card().contains("Reworked by Maud Ferris."), "a draft again");
}

/// On a telephone no table of the card is wider than the page.
#[test]
fn the_developers_tables_fit_a_telephone() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        w.size(390, 844, 1);
        w.go(&format!("/recipe/{id}/card.html"));
        let wide = w.js(
            "return [...document.querySelectorAll('table, tr, td, th')]
               .filter((e) => e.getBoundingClientRect().right > innerWidth + 0.5 || e.scrollWidth > innerWidth)
               .map((e) => e.className + ' ' + e.textContent.slice(0, 30));",
            json!([]),
        );
        assert_eq!(wide, json!([]));
    });
}

/// What the own method leaves out is told while it is written.
#[test]
fn the_card_page_tells_what_the_method_leaves_out() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        w.go(&format!("/recipe/{id}/card"));
        w.and_follows("a method", |w| {
            w.fill("Your method, in your own words", "Mix it and bake it.");
        });
        w.see("Your method names no oven heat");
        w.see("Not in your method, so the card says it under Cautions:");
        w.see("done when the middle reads ");
        w.and_follows("a heat", |w| {
            w.fill(
                "Your method, in your own words",
                "Bake at 180 °C to 97 °C in the middle.",
            );
        });
        w.gone("Your method names no oven heat");
        w.gone("done when the middle reads ");
    });
}

/// Waits until the card in its frame holds these words.
#[track_caller]
fn framed(w: &Window, words: &str) {
    w.holds(
        words,
        &format!(
            "document.querySelector('iframe')?.contentDocument?.body?.innerText.includes('{words}')"
        ),
    );
}

#[test]
fn the_preview_stays_where_it_is_while_the_method_is_typed() {
    browser(|house, w| {
        let id = house.recipe(&example("lemon-yoghurt-cake.txt"));
        w.go(&format!("/recipe/{id}/card"));
        framed(w, "Allergens");
        let frame = "const f = document.querySelector('iframe').contentWindow;";
        w.js(&format!("{frame} f.loaded = 'once';"), json!([]));
        w.enter("Your method, in your own words");
        // What stands above it may go: what is in sight stays in its place.
        let place = "Math.round(document.activeElement.getBoundingClientRect().top)";
        let at = w.js(&format!("return {place};"), json!([]));
        for words in ["Whisk it all.", " Bake it long.", " Eat it cold."] {
            w.write(words);
            framed(w, words.trim());
            assert_eq!(
                w.js(
                    &format!("{frame} return [f.loaded ?? 'again', {place}];"),
                    json!([])
                ),
                json!(["once", at]),
                "after: {words}"
            );
        }
        // The card's own data follow with its words.
        framed_data(w, "Whisk it all. Bake it long. Eat it cold.");
        // Led elsewhere, the frame comes back to the card, and the browser's Back knows nothing of it.
        let before = w.js("return history.length;", json!([]));
        w.js(
            &format!("{frame} f.location.replace('about:blank');"),
            json!([]),
        );
        w.write(" Enough.");
        framed(w, "Enough.");
        assert_eq!(w.js("return history.length;", json!([])), before);
    });
}

#[track_caller]
fn framed_data(w: &Window, words: &str) {
    w.holds(
        words,
        &format!("document.querySelector('iframe').contentDocument.querySelector('script').textContent.includes('{words}')"),
    );
}

/// A4 and US Letter within the card's margins, in CSS pixels.
const PAPERS: [(u32, u32); 2] = [(688, 1035), (710, 967)];

#[test]
fn what_can_hurt_is_on_the_first_page_of_every_card() {
    browser(|house, w| {
        let buns = house.recipe(&example("apricot-almond-buns.txt"));
        let mut cards = vec![(house.host.clone(), buns)];
        let demo = house.demo();
        cards.extend(
            (1..30)
                .filter(|n| {
                    house
                        .get_at(&demo, &format!("/recipe/{n}/card.html"))
                        .status
                        == 200
                })
                .map(|n| (demo.clone(), n)),
        );
        assert!(cards.len() > 5, "{cards:?}");
        w.cdp("Emulation.setEmulatedMedia", json!({ "media": "print" }));
        for (host, id) in cards {
            w.visit(&host);
            for (wide, high) in PAPERS {
                w.size(wide, high, 1);
                w.go(&format!("/recipe/{id}/card.html"));
                let foot = w.js(
                    "return ['Gluten', 'Allergens'].map((words) =>
                      [...document.querySelectorAll('.sheet:not(.developer) h2')]
                        .find((h) => h.textContent === words).closest('section').getBoundingClientRect().bottom);",
                    json!([]),
                );
                for foot in foot.as_array().expect("two sections") {
                    let foot = foot.as_f64().expect("a place");
                    assert!(
                        foot < f64::from(high) / 2.0,
                        "{host} recipe {id}: ends {foot} px down a page of {high} px"
                    );
                }
            }
        }
    });
}

/// 'The method is written for × 1 …' was cut in two by the end of a page.
#[test]
fn what_stands_before_the_method_is_not_cut_by_a_page() {
    browser(|house, w| {
        let slab = house.recipe(TIN_BAKE);
        house.size(slab, "3");
        w.cdp("Emulation.setEmulatedMedia", json!({ "media": "print" }));
        w.go(&format!("/recipe/{slab}/card.html"));
        w.holds(
            "the words on the size stay whole",
            "[...document.querySelectorAll('p')].some((p) =>
               p.textContent.includes('method is written for') && getComputedStyle(p).breakInside === 'avoid')",
        );
    });
}

const TIN_BAKE: &str = "Damson slab\nMakes 12 pieces\n\n250 g plain flour\n2 tsp baking powder\n180 g butter\n180 g caster sugar\n3 eggs\n300 g damsons\n\n1. Cream the butter and sugar, beat in the eggs, fold in the flour.\n2. Bake in a 20 x 30 cm tin at 180 °C for 40 minutes.\n\nNotes\nKeeps 4 days in a tin. Freezes well.\n";

#[test]
fn how_it_keeps_is_said_in_ones_own_words() {
    browser(|house, w| {
        let id = house.recipe_in(TIN_BAKE, "uk");
        let card = || house.get(&format!("/recipe/{id}/card.html")).text();
        w.go(&format!("/recipe/{id}/read"));
        w.see("How it keeps can stand on the card, in your own words.");
        w.press("Write it");
        w.arrive("/card");
        w.see("For your eyes, said of the wheat bake:");
        w.see("Keeps 4 days in a tin");
        assert!(!card().contains("Keep"), "theirs is never printed");
        w.and_follows("their words", |w| {
            w.fill("How it keeps", "keeps 4 days in a tin");
            w.key(&[], key::TAB);
        });
        w.see("These words stand in the source: keeps 4 days in a tin");
        assert_eq!(w.axe(), Vec::<String>::new());
        w.and_follows("own words", |w| {
            w.fill(
                "How it keeps",
                "2 days under a cloth; <warm> it before serving",
            );
            w.key(&[], key::TAB);
        });
        w.gone("These words stand in the source");
        w.until("the card to say so", |_| {
            let made = card();
            let words = "2 days under a cloth; &lt;warm&gt; it before serving";
            (made.contains("Keeping") && made.contains(words)).then_some(())
        });
        for (width, name) in [(1280, "keeping-1280"), (390, "keeping-390")] {
            w.narrow(width);
            assert_eq!(w.overhang(), None);
            w.picture(name);
        }
        w.go(&format!("/recipe/{id}/read"));
        w.see("Keeps 4 days in a tin");
        w.gone("How it keeps can stand on the card");
        w.and_follows("undo", |w| w.press("Undo: how it keeps"));
        w.and_follows("undo", |w| w.press("Undo: how it keeps"));
        w.see("How it keeps can stand on the card");
    });
}

/// What is printed is chosen, the way back is there, and none of it is on paper.
#[test]
fn a_card_is_printed_with_or_without_the_developers_sheet() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        w.go(&format!("/recipe/{id}/card"));
        // All of the card is in its frame: the page alone scrolls.
        w.until("a frame as long as its card", |w| {
            let long = w.js(
                "const f = document.querySelector('iframe.card');
                 const d = f.contentDocument?.documentElement;
                 return !!d && d.textContent.includes('Developer') && d.scrollHeight > 1000 && f.clientHeight >= d.scrollHeight;",
                json!([]),
            );
            (long == true).then_some(())
        });
        w.press("Open to print");
        w.arrive("/card.html?print=readers");
        assert!(!w.text().contains("Developer’s sheet\n"), "{}", w.text());
        w.js(
            "window.printed = 0; window.print = () => { window.printed += 1; };",
            json!([]),
        );
        w.press("Print");
        assert_eq!(w.js("return window.printed;", json!([])), 1);
        w.press("With the developer’s sheet");
        w.arrive("/card.html?print=both");
        w.holds(
            "the developer's sheet",
            "document.querySelector('h2.title').textContent.startsWith('Developer')",
        );
        for width in [1280, 390] {
            w.narrow(width);
            assert_eq!(w.overhang(), None, "{width}");
        }
        assert_eq!(w.axe(), Vec::<String>::new());
        w.press("‹ Back to Card");
        w.arrive("/card");
    });
}

/// A method is begun with what is done, in no word of the source; undo takes it back.
#[test]
fn a_method_is_begun_with_notes() {
    browser(|house, w| {
        let id = house.recipe(TIN_BAKE);
        w.go(&format!("/recipe/{id}/card"));
        w.and_follows("notes", |w| w.press("Begin with the steps in note form"));
        let method = w.value("Your method, in your own words");
        // 40 minutes at 180 °C, as the recipe and its rework have it.
        assert!(
            method
                .lines()
                .any(|l| l.starts_with("Bake, 4") && l.ends_with("at 350 °F (180 °C)")),
            "{method}"
        );
        let at = |words: &str| method.lines().position(|l| l.starts_with(words));
        assert!(at("Heat the oven").is_some() && at("Heat the oven") < at("Bake"));
        w.gone("Begin with the steps in note form");
        w.gone("These words stand in the source");
        w.press("Undo");
        w.see("Begin with the steps in note form");
    });
}
