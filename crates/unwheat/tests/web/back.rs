//! The kitchen goes back to a backup while pages of it are open elsewhere.

use crate::harness::{House, Theme, Window, browser, example};
use serde_json::json;

/// Makes a backup; gives its name.
fn back_up(house: &House) -> String {
    let made = house.post("/kitchen/backup", &[]);
    assert_eq!(made.status, 303, "{}", made.text());
    let all = std::fs::read_dir(house.kitchen().join("backups")).expect("a folder");
    let names = all.map(|f| {
        f.expect("a file")
            .file_name()
            .to_string_lossy()
            .into_owned()
    });
    names.max().expect("a backup")
}

/// The state the kitchen is in.
fn state(house: &House) -> String {
    let told = house.get("/kitchen/state").text();
    let told: serde_json::Value = serde_json::from_str(&told).expect("JSON");
    told["state"].as_str().expect("a state").to_owned()
}

fn go_back(house: &House, name: &str) {
    let state = state(house);
    let went = house.post("/kitchen/restore", &[("name", name), ("state", &state)]);
    assert_eq!(went.status, 303, "{}", went.text());
}

#[track_caller]
fn must_be_plain(w: &Window, name: &str) {
    for theme in [Theme::Light, Theme::Dark] {
        w.theme(theme);
        assert_eq!(w.axe(), Vec::<String>::new());
    }
    for width in [390, 1280] {
        w.narrow(width);
        assert_eq!(w.overhang(), None);
        w.picture(&format!("{name}-{width}"));
    }
    w.theme(Theme::Light);
}

#[test]
fn a_page_of_before_says_so_and_keeps_what_was_typed() {
    browser(|house, w| {
        let id = house.recipe(&example("sunday-pancakes.txt"));
        let backup = back_up(house);
        w.go(&format!("/recipe/{id}/card"));
        w.see("Credit");
        go_back(house, &backup);
        // Sent as it is typed: not taken, and still there.
        w.fill("Credit", "Ottilie Brand, her green notebook");
        w.see("The kitchen went back to a backup, and this page is from before that.");
        assert_eq!(w.value("Credit"), "Ottilie Brand, her green notebook");
        must_be_plain(w, "went-back");
        w.press("Load this page again");
        w.see("You had typed this before the page was loaded again.");
        w.gone("is from before that");
        assert_eq!(w.value("Credit"), "");
        must_be_plain(w, "typed-before");
        let field = "return document.querySelector('.went-back textarea').value;";
        assert_eq!(w.js(field, json!([])), "Ottilie Brand, her green notebook");
        w.press("Put it away");
        w.gone("You had typed this");
        w.reload();
        w.see("Credit");
        w.gone("You had typed this");
        // From now on it is taken.
        w.fill("Credit", "Ottilie Brand");
        w.until("the credit to be kept", |_| {
            let card = house.get(&format!("/recipe/{id}/card")).text();
            card.contains("Ottilie Brand").then_some(())
        });
        // A page that sends nothing notices by itself, here as one comes back to it.
        w.go("/larder");
        w.see("Larder");
        go_back(house, &backup);
        w.js("dispatchEvent(new Event('focus'));", json!([]));
        w.see("this page is from before that");
    });
}

#[test]
fn an_open_bench_gives_nothing_to_the_batch_that_has_its_number() {
    browser(|house, w| {
        let first = house.recipe(&example("sunday-pancakes.txt"));
        let other = house.recipe(&example("apricot-almond-buns.txt"));
        let backup = back_up(house);
        let begin = |recipe: u32| {
            let answer = house.post(&format!("/recipe/{recipe}/batch"), &[("of", "draft")]);
            answer.header("location").expect("the bench").to_owned()
        };
        let bench = begin(first);
        w.go(&bench);
        w.see("Timers");
        w.js(
            "globalThis.fetchOf = fetch; globalThis.fetch = () => Promise.reject(new Error('away'));",
            json!([]),
        );
        w.press("What was really weighed: egg");
        w.holds(
            "the cursor in the field",
            "document.activeElement.name === 'actual'",
        );
        w.fill("Really weighed, grams", "104");
        w.press("Keep");
        w.see("Kept on this tablet");
        go_back(house, &backup);
        // Begun within the same second it could not be told from the first.
        std::thread::sleep(std::time::Duration::from_millis(1100));
        let to = format!("/recipe/{other}/batch");
        let answer = house.post(&to, &[("of", "draft"), ("state", &state(house))]);
        assert_eq!(answer.header("location"), Some(bench.as_str()));
        w.js(
            "globalThis.fetch = fetchOf; dispatchEvent(new Event('online'));",
            json!([]),
        );
        w.see("The kitchen went back to a backup, and this batch is not in it. Noted here and not in it: egg 104 g. Write it down.");
        must_be_plain(w, "bench-went-back");
        let now = house.get(&format!("{bench}/state")).text();
        assert!(now.contains("\"marks\":{}"), "{now}");
        // It stays there to be read until it is put away.
        w.go("/");
        w.see("Noted at the bench for Sunday Pancakes (the fluffy ones), in a batch that is not in this kitchen: egg 104 g.");
        must_be_plain(w, "left-at-bench");
        w.press("Put it away");
        w.reload();
        w.see("Sunday Pancakes");
        w.gone("Noted at the bench");
    });
}

/// What was weighed after the backup was made is in the same batch again, where its bench is open or
/// loaded anew.
#[test]
fn an_open_bench_sends_again_what_its_batch_has_lost() {
    browser(|house, w| {
        let recipe = house.recipe(&example("sunday-pancakes.txt"));
        let begun = house.post(&format!("/recipe/{recipe}/batch"), &[("of", "draft")]);
        let bench = begun.header("location").expect("the bench").to_owned();
        let backup = back_up(house);
        let kept = |grams: &str| {
            let now = house.get(&format!("{bench}/state")).text();
            now.contains(&format!("\"actual\":{grams}"))
        };
        for (grams, anew) in [("104", false), ("106", true)] {
            w.go(&bench);
            w.press("What was really weighed: egg");
            w.fill("Really weighed, grams", grams);
            w.press("Keep");
            w.until("the weight to be kept", |_| kept(grams).then_some(()));
            go_back(house, &backup);
            assert!(!kept(grams));
            if anew {
                w.reload();
            } else {
                w.js("dispatchEvent(new Event('online'));", json!([]));
            }
            w.see("What was ticked and weighed here since that was made is sent to it again.");
            w.until("the weight again", |_| kept(grams).then_some(()));
        }
    });
}
