//! The Plan page: a serving time in, every step in time out, its minutes to change.

use crate::harness::{House, browser, example, key};
use serde_json::json;

#[test]
fn a_serving_time_gives_the_day_and_minutes_can_be_changed() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        w.go(&format!("/recipe/{id}/plan"));
        w.see("It cannot begin later.");
        w.see("Rise (dough)");
        let begin = |w: &crate::harness::Window| {
            w.js(
                "return document.querySelector('#answer strong').textContent;",
                json!([]),
            )
        };
        let drawn = w.js(
            "return document.querySelectorAll('.picture-timeline .pic-name').length;",
            json!([]),
        );
        let listed = w.js(
            "return document.querySelectorAll('section:has(#timeline) tbody tr:not(.sum)').length;",
            json!([]),
        );
        assert_eq!(drawn, listed);
        let before = begin(w);
        // A longer chill begins sooner, by as much.
        w.and_follows("minutes", |w| {
            w.fill("Shortest wait: Chill (dough)", "960");
            w.key(&[], key::ENTER);
        });
        w.see("16–18 h");
        assert_ne!(begin(w), before);
        w.see("Undo:");
        assert_eq!(w.axe(), Vec::<String>::new());
        assert_eq!(w.overhang(), None);
        w.and_follows("leaving out", |w| {
            w.press("Leave out Brush with egg, sprinkle crumb topping (dough)")
        });
        w.see("Put back");
        w.and_follows("undo", |w| w.press("Undo:"));
        // The calendar is a file of its own.
        let file = house.get(&format!("/recipe/{id}/plan.ics")).text();
        assert!(file.contains("text/calendar") || file.contains("BEGIN:VCALENDAR"));
        assert!(file.contains("BEGIN:VALARM"));
        w.press("As soon as may be");
        w.see("Back to that");
        assert_eq!(w.axe(), Vec::<String>::new());
        assert_eq!(w.overhang(), None);
    });
}

#[test]
fn it_works_without_scripts_and_explains_what_cannot_be() {
    browser(|house, w| {
        let id = house.recipe(&example("lemon-yoghurt-cake.txt"));
        w.scripts(false);
        w.go(&format!("/recipe/{id}/plan"));
        w.press("As soon as may be");
        w.see("It cannot be ready sooner.");
        // A time typed over is a press away, and so is the one that took its place.
        w.press("Back to that");
        w.see("It cannot begin later.");
        w.see("Before it was as soon as may be.");
        w.press("Back to that");
        w.see("It cannot be ready sooner.");
        w.go(&format!("/recipe/{id}/plan?serve=2020-01-01T09%3A00"));
        w.see("is past: give a time to come");
        w.go(&format!("/recipe/{id}/plan?serve="));
        w.fill("A step of your own", "Film the batter");
        w.press("Put it in");
        w.see("Film the batter");
        w.press("Take out Film the batter");
        w.gone("Take out Film the batter");
    });
}

#[test]
fn place_oven_racks_and_what_may_be_left_out_can_be_changed() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        let at = format!("/recipe/{id}/plan");
        w.go(&at);
        let open = |w: &crate::harness::Window, of: &str| {
            w.js(
                "for (const d of document.querySelectorAll('details[data-k]')) d.open = d.textContent.includes(arguments[0]);",
                json!([format!("Place and more: {of}")]),
            );
        };
        open(w, "Bake (dough)");
        assert_eq!(w.axe(), Vec::<String>::new());
        for width in [1280, 390] {
            w.narrow(width);
            assert_eq!(w.overhang(), None, "{width}");
        }
        w.narrow(1280);
        w.and_follows("the oven", |w| {
            w.fill("Oven, on a still oven's dial: Bake (dough)", "165 °C");
            w.key(&[], key::ENTER);
        });
        w.see("in the oven at 330 °F");
        // A bare figure is in the degrees that the page shows: 340 °F, never 340 °C.
        w.and_follows("the oven", |w| {
            w.fill("Oven, on a still oven's dial: Bake (dough)", "340");
            w.key(&[], key::ENTER);
        });
        w.see("in the oven at 340 °F");
        w.and_follows("racks", |w| {
            w.fill("Racks: Bake (dough)", "2");
            w.key(&[], key::ENTER);
        });
        w.see("2 racks");
        open(w, "Rise (dough)");
        w.and_follows("the place", |w| {
            w.choose("Where it waits: Rise (dough)", "in the fridge");
        });
        let page = house.get(&at).text();
        assert!(page.contains("value=\"fridge\" selected"), "{page}");
        open(w, "Brush with egg, sprinkle crumb topping (dough)");
        w.and_follows("a cost", |w| {
            w.fill(
                "May be left out: what that costs: Brush with egg, sprinkle crumb topping (dough)",
                "a dull crust",
            );
            w.key(&[], key::ENTER);
        });
        w.see("may be left out, which costs a dull crust");
        // Racks that no oven has are refused, and nothing of them is kept.
        let change = r#"{"field":"set_step","step":"dough:bake","what":"racks","value":null}"#;
        let fields = [("over", "1"), ("change", change), ("value", "many")];
        let answer = house.post(&format!("/recipe/{id}/change"), &fields);
        assert!(
            answer.text().contains("is no number of racks"),
            "{}",
            answer.text()
        );
    });
}

/// A step that is left out stays so when the method is rewritten round it, and no other for it.
#[test]
fn what_was_left_out_goes_with_its_words() {
    let house = House::open();
    let id = house.recipe("Seed rolls\n\n500 g bread flour\n320 g water\n7 g yeast\n9 g salt\n");
    let change = |change: serde_json::Value| {
        let page = house.get(&format!("/recipe/{id}/plan")).text();
        let rev = page.split("data-rev=\"").nth(1).expect("a number");
        let rev = rev.split('"').next().unwrap_or_default().to_owned();
        let fields = [
            ("leaf", "plan"),
            ("rev", &*rev),
            ("change", &change.to_string()),
        ];
        let answer = house.post(&format!("/recipe/{id}/change"), &fields);
        assert_eq!(answer.status, 303, "{}", answer.text());
    };
    let method = |text: &str| change(json!({ "field": "method", "text": text }));
    let page = || house.get(&format!("/recipe/{id}/plan")).text();
    method(
        "Mix.\nChill for 1 hour.\nShape.\nChill the rolls for 30 minutes.\nBake for 25 minutes.",
    );
    change(json!({ "field": "set_step", "step": ":chill#2", "what": "left_out", "value": true }));
    assert_eq!(page().matches(">Put back<").count(), 1);
    method("Mix.\nShape.\nChill the rolls for 30 minutes.\nBake for 25 minutes.");
    assert_eq!(page().matches(">Put back<").count(), 1);
    method("Mix.\nChill the tin.\nBake for 25 minutes.");
    assert_eq!(page().matches(">Put back<").count(), 0);
    let says = "the method no longer says 'Chill the rolls for 30 minutes.'";
    assert!(page().contains(says));
    // It is dropped by a button, and comes back by undo.
    change(json!({ "field": "set_step", "step": ":chill#2", "what": "added", "value": null }));
    assert!(!page().contains(says));
    assert!(page().contains("what was decided for step 'chill': dropped"));
    method("Mix.\nShape.\nChill the rolls for 30 minutes.\nBake for 25 minutes.");
    assert_eq!(page().matches(">Put back<").count(), 0);
    house.must_be_sound();
}

/// A bare figure of an oven is in the measures of the recipe: 180 of a British one is °C.
#[test]
fn an_oven_of_a_british_recipe_is_in_celsius() {
    let house = House::open();
    let id = house.recipe(&example("apricot-almond-buns.txt"));
    let change = |change: &str, value: &str| {
        let fields = [("over", "1"), ("change", change), ("value", value)];
        house.post(&format!("/recipe/{id}/change"), &fields)
    };
    change(r#"{"field":"locale","locale":""}"#, "uk");
    let oven = r#"{"field":"set_step","step":"dough:bake","what":"oven","value":null}"#;
    change(oven, "180");
    let page = house.get(&format!("/recipe/{id}/plan")).text();
    assert!(page.contains("in the oven at 180 °C"), "{page}");
    assert!(page.contains("value=\"180 °C\""));
    house.must_be_sound();
}

#[test]
fn the_calendar_tells_heat_in_the_recipes_own_degrees() {
    let house = House::open();
    for locale in ["us", "uk"] {
        let id = house.recipe_in(&example("lemon-yoghurt-cake.txt"), locale);
        let file = house.get(&format!("/recipe/{id}/plan.ics?serve="));
        let file = file.text().replace("\r\n ", "");
        assert_eq!(file.contains("°F"), locale == "us");
        let before: Vec<&str> = file.split("°C").collect();
        assert!(before.len() > 1, "{file}");
        for words in &before[..before.len() - 1] {
            let words = words.trim_end_matches(|c: char| c.is_ascii_digit() || c == ' ');
            let alone = !words.ends_with("°F /");
            assert_eq!(alone, locale == "uk", "{locale}: {words}");
        }
    }
}

/// A British recipe is told in °C in a kitchen that never said where it stands, on its pages as at the bench; in one
/// that has chosen the law of the United States °F comes first, and a bare figure of an oven is in °F: 350, never
/// 350 °C.
#[test]
fn degrees_go_by_the_kitchen_that_has_said_its_country() {
    let house = House::open();
    let id = house.recipe_in(&example("lemon-yoghurt-cake.txt"), "uk");
    let oven = r#"{"field":"set_step","step":":bake","what":"oven","value":null}"#;
    let told = || {
        let begun = [("who", "Ida"), ("of", "draft")];
        let begun = house.post(&format!("/recipe/{id}/batch"), &begun);
        assert_eq!(begun.status, 303, "{}", begun.text());
        let bench = begun.header("location").unwrap_or_default().to_owned();
        let at = |leaf: &str| format!("/recipe/{id}/{leaf}");
        let pages = [at("rework"), at("heat"), at("plan"), at("card.html"), bench];
        pages.map(|path| {
            let page = house.get(&path);
            assert_eq!(page.status, 200, "{path}");
            let text = page.text();
            // Machines read both scales in the head of the card.
            let seen = text.split("</head>").last().unwrap_or_default();
            (path, seen.to_owned())
        })
    };
    for (path, page) in told() {
        assert!(page.contains("°C"), "{path}");
        let first = page.split("°C").next().unwrap_or_default();
        assert!(!first.contains("°F"), "{path}");
    }
    let law = house.post("/kitchen/law", &[("regime", "us"), ("back", "/")]);
    assert_eq!(law.status, 303, "{}", law.text());
    for (path, page) in told() {
        let first = page.split("°C").next().unwrap_or_default();
        assert!(first.contains("°F"), "{path}");
    }
    let fields = [("over", "1"), ("change", oven), ("value", "350")];
    house.post(&format!("/recipe/{id}/change"), &fields);
    let page = house.get(&format!("/recipe/{id}/plan")).text();
    assert!(page.contains("in the oven at 350 °F"));
    house.must_be_sound();
}
