//! The bench while the laptop sleeps or unwheat is stopped: nothing done meanwhile is lost.

use crate::harness::{House, Window, browser, example};
use serde_json::{Value, json};

/// A batch at the bench, open in the window and kept there for reloads; its path.
fn at_the_bench(house: &House, w: &mut Window) -> String {
    let recipe = house.recipe(&example("sunday-pancakes.txt"));
    let answer = house.post(&format!("/recipe/{recipe}/batch"), &[("of", "draft")]);
    let path = answer.header("location").expect("a batch").to_owned();
    w.go(&path);
    w.until("the page to be kept", |w| {
        let all = w.js_later(
            "const done = arguments[0]; caches.open('unwheat bench').then((c) => c.keys()).then((all) => done(all.map((r) => new URL(r.url).pathname)));",
            json!([]),
        );
        let all = all.as_array()?;
        let kept = |file: &str| all.iter().any(|p| p.as_str().is_some_and(|p| p.ends_with(file)));
        (kept(&path) && kept("mono.woff2")).then_some(())
    });
    path
}

/// What the bench knows of a line.
fn mark(house: &House, path: &str, item: &str) -> Value {
    let text = house.get(&format!("{path}/state")).text();
    let state: Value = serde_json::from_str(&text).expect("JSON");
    state["marks"][item].clone()
}

fn answers_again(house: &House, w: &Window) {
    house.start_again();
    w.js("dispatchEvent(new Event('online'));", json!([]));
}

/// Types what was really weighed, and leaves the field as it is.
fn type_weight(w: &Window, item: &str, grams: &str) {
    w.js(
        "const l = [...document.querySelectorAll('li.item')].find((l) => l.dataset.item === arguments[0]);
         l.querySelector('details.actual').open = true; l.querySelector('details [name=actual]').value = arguments[1];",
        json!([item, grams]),
    );
}

const EGG: &str = "0:egg";

#[test]
fn a_reload_without_the_laptop_shows_the_bench_as_it_was() {
    browser(|house, w| {
        let path = at_the_bench(house, w);
        w.js(
            "document.querySelector('li.item input[type=checkbox]').click();",
            json!([]),
        );
        let first = w.js(
            "return document.querySelector('li.item').dataset.item;",
            json!([]),
        );
        let first = first.as_str().expect("a line").to_owned();
        w.until("the laptop knows", |_| {
            (mark(house, &path, &first)["ticked"] == true).then_some(())
        });
        house.stop();
        // Typed, and neither kept nor left before the reload.
        type_weight(w, EGG, "104");
        w.reload();
        w.see("really 104 g");
        let ticked = w.js(
            "return document.querySelector('li.item input').checked;",
            json!([]),
        );
        assert_eq!(ticked, true, "what the laptop knew stands in a kept page");
        w.see("Kept on this tablet, sent when the laptop answers");
        answers_again(house, w);
        w.gone("Kept on this tablet");
        assert_eq!(mark(house, &path, EGG)["actual"], 104.0);
        assert_eq!(mark(house, &path, &first)["ticked"], true);
    });
}

#[test]
fn what_is_written_of_a_bake_outlives_a_stopped_laptop() {
    browser(|house, w| {
        let path = at_the_bench(house, w);
        w.go(&format!("{path}/finish"));
        w.fill("How it came out", "open crumb, a little gummy");
        house.stop();
        w.press("Look it over and finish");
        w.see("What you wrote stays on this device");
        w.reload();
        w.see("The workbench does not answer");
        house.start_again();
        w.go(&format!("{path}/finish"));
        assert_eq!(w.value("How it came out"), "open crumb, a little gummy");
        w.press("Look it over and finish");
        w.see("Finish the batch?");
        w.see("a little gummy");
        // Our own page of a workbench that is stopped says so by its number, too.
        assert!(
            w.complaints()
                .iter()
                .all(|c| c.contains("503") || c.contains("ERR_"))
        );
    });
}

/// A blend that is saved while unwheat is stopped stays as it was typed, in the page and for the next one.
#[test]
fn what_is_typed_of_a_blend_outlives_a_stopped_laptop() {
    browser(|house, w| {
        w.go("/blends/new");
        for (field, words) in [
            ("Name", "Tuesday bread"),
            ("flour 1", "sorghum flour"),
            ("percent of flour 1", "55"),
            ("flour 2", "potato starch"),
            ("percent of flour 2", "45"),
            ("Who", "Maud"),
        ] {
            w.fill(field, words);
        }
        house.stop();
        w.press("Keep this blend");
        w.see("The workbench does not answer. What you typed stays here");
        assert_eq!(w.value("Name"), "Tuesday bread");
        assert_eq!(w.axe(), Vec::<String>::new());
        // Another page, and back.
        house.start_again();
        w.go("/blends");
        w.go("/blends/new");
        assert_eq!(w.value("percent of flour 2"), "45");
        w.press("Keep this blend");
        w.see("Kept. It is among your own blends now.");
        w.go("/blends/new");
        assert_eq!(w.value("Name"), "");
        assert!(w.complaints().iter().all(|c| c.contains("ERR_")));
    });
}

#[test]
fn a_later_word_of_another_device_is_told() {
    browser(|house, w| {
        let path = at_the_bench(house, w);
        type_weight(w, EGG, "104");
        w.press("Keep");
        w.until("the laptop knows", |_| {
            (mark(house, &path, EGG)["actual"] == 104.0).then_some(())
        });
        let other = |grams: f64| {
            let done = json!([{ "do": "actual", "item": EGG, "actual": grams, "at": 9_999_999_999_999_i64 }]);
            let answer = house.post(&format!("{path}/send"), &[("done", &done.to_string())]);
            assert_eq!(answer.status, 200, "{}", answer.text());
        };
        other(99.0);
        w.js("dispatchEvent(new Event('online'));", json!([]));
        w.see("noted on another device; here it was 104 g");
        // Finished there, while a note waits here: it is named, not dropped.
        type_weight(w, EGG, "101");
        w.js(
            "for (const b of document.querySelectorAll('.tap')) b.blur?.(); globalThis.fetchOf = fetch; globalThis.fetch = () => Promise.reject(new Error('away'));",
            json!([]),
        );
        w.press("Keep");
        w.see("Kept on this tablet");
        let answer = house.post(
            &format!("{path}/finish"),
            &[("made", "1"), ("who", "Maud Ferris")],
        );
        assert_eq!(answer.status, 303, "{}", answer.text());
        w.js(
            "globalThis.fetch = fetchOf; dispatchEvent(new Event('online'));",
            json!([]),
        );
        w.see("This batch was finished on another device. Noted here and not in it: egg 101 g.");
    });
}
