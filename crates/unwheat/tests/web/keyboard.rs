//! The whole job with the keyboard alone.

use crate::harness::{Window, browser, example, key};
use serde_json::json;

/// Goes on by Tab until the focus is on something called so; the focus is seen at every stop.
#[track_caller]
fn tab_to(w: &Window, name: &str) {
    let mut passed = Vec::new();
    for _ in 0..400 {
        w.key(&[], key::TAB);
        let (what, seen) = w.focus();
        assert!(seen, "the focus on '{what}' is not seen");
        let bare = what.split_once(' ').map_or("", |x| x.1);
        if bare.starts_with(name) {
            return;
        }
        passed.push(what);
    }
    panic!("Tab never comes to '{name}': {passed:#?}");
}

#[test]
fn from_the_first_page_to_a_saved_version() {
    browser(|_, w| {
        w.go("/");
        w.key(&[], key::TAB);
        assert!(w.focus().0.contains("Skip to the page"), "{:?}", w.focus());
        w.key(&[], key::ENTER);
        tab_to(w, "Paste it here");
        w.cdp(
            "Input.insertText",
            json!({ "text": example("sunday-pancakes.txt") }),
        );
        tab_to(w, "Read it");
        w.key(&[], key::ENTER);
        w.arrive("/read");
        let first_answer = |w: &Window| {
            w.js("return document.querySelector('ul.doubts button')?.textContent.trim().replace(/\\s+/g, ' ') ?? '';", json!([]))
                .as_str()
                .unwrap_or_default()
                .to_owned()
        };
        let mut answer = first_answer(w);
        if !answer.is_empty() {
            tab_to(w, &answer);
        }
        while !answer.is_empty() {
            // The focus goes on to the next question by itself.
            w.and_follows("an answer", |w| w.key(&[], key::SPACE));
            answer = first_answer(w);
            if !answer.is_empty() {
                w.holds(
                    "the next question",
                    "document.activeElement.matches('ul.doubts button')",
                );
            }
        }
        // From the head of the page again, as after any new page.
        w.js("document.activeElement.blur(); scrollTo(0, 0);", json!([]));
        w.reload();
        tab_to(w, "Rework");
        w.key(&[], key::ENTER);
        w.arrive("/rework");
        tab_to(w, "Grams of");
        w.key(&[key::CONTROL], 'a');
        w.and_follows("a held figure", |w| w.write("250"));
        w.see("1 figure is held.");
        w.key(&[], key::TAB);
        w.reload();
        tab_to(w, "Save a version");
        w.key(&[], key::ENTER);
        w.arrive("/versions#save");
        tab_to(w, "Why, in one line");
        w.write("by keyboard");
        tab_to(w, "Who");
        w.write("Maud Ferris");
        w.key(&[], key::ENTER);
        w.see("Nothing has changed since version 1.");
    });
}

#[test]
fn the_focus_is_seen_at_every_stop() {
    browser(|house, w| {
        let id = house.recipe(&example("sunday-pancakes.txt"));
        for page in [
            "/".to_owned(),
            format!("/recipe/{id}/read"),
            format!("/recipe/{id}/weigh"),
            format!("/recipe/{id}/rework"),
        ] {
            w.go(&page);
            let mut stops = 0;
            for _ in 0..300 {
                w.key(&[], key::TAB);
                let (what, seen) = w.focus();
                assert!(seen, "{page}: the focus on '{what}' is not seen");
                if what == "the page" {
                    break;
                }
                stops += 1;
            }
            assert!((5..300).contains(&stops), "{page}: {stops} stops");
        }
    });
}
