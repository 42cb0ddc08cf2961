//! With scripts off: slower, by form posts, but all of it.

use crate::harness::{Window, browser, example, key};
use serde_json::json;

const MILK: &str = "Grams of buttermilk";

fn send(w: &Window) {
    w.key(&[], key::ENTER);
}

/// The answer's page is at what was changed: there, not at its top, the next Tab goes on.
#[track_caller]
fn is_at(w: &Window, field: &str) {
    let got = w.focus().0;
    assert!(got.contains(field), "at '{got}', not at '{field}'");
}

#[test]
fn the_whole_job_without_scripts() {
    browser(|_, w| {
        w.scripts(false);
        w.go("/");
        w.fill("Paste it here", &example("sunday-pancakes.txt"));
        w.press("Read it");
        w.arrive("/read");
        let mut answers = 0;
        while w.find("ul.doubts button", "", None).is_some() {
            w.and_follows("an answer", |w| w.press_in("To settle", ""));
            w.arrive("/read");
            answers += 1;
            assert!(answers < 40, "settling comes to an end");
        }
        w.press("Weigh");
        w.arrive("/weigh");
        while w.find("ul.doubts button", "", None).is_some() {
            w.and_follows("an answer", |w| w.press_in("Weights to settle", ""));
            w.arrive("/weigh");
        }
        assert_eq!(
            w.js(
                "return document.getElementById('main').dataset.took ?? 'none';",
                json!([])
            ),
            "none",
            "no script ran"
        );
        w.and_follows("a weight", |w| {
            w.fill(MILK, "333");
            send(w);
        });
        w.arrive("/weigh");
        assert_eq!(w.value(MILK), "333");
        is_at(w, MILK);
        w.see("weighed by you");
        w.press("Rework");
        w.arrive("/rework");
        w.and_follows("a held figure", |w| {
            w.fill("Grams of buttermilk, type to hold", "300");
            send(w);
        });
        w.arrive("/rework");
        w.see("1 figure is held.");
        is_at(w, MILK);
        w.and_follows("a style", |w| {
            w.choose("Style", "butter cake");
            w.press("Take");
        });
        is_at(w, "Style");
        w.and_follows("undo", |w| w.press("Undo:"));
        w.arrive("/rework#undo");
        w.see("Redo:");
        w.press("Save a version");
        w.arrive("/versions#save");
        w.fill("Why, in one line", "without scripts");
        w.fill("Who", "Maud Ferris");
        w.press_in("Save a version", "Save");
        w.arrive("/versions#v1");
        w.see("Nothing has changed since version 1.");
        is_at(w, "without scripts");
        w.press("Card");
        w.arrive("/card");
        w.press("Open to print");
        w.arrive("/card.html?print=readers");
        w.see("Sunday");
    });
}

#[test]
fn a_bad_figure_without_scripts_keeps_what_was_typed() {
    browser(|house, w| {
        let id = house.recipe(&example("sunday-pancakes.txt"));
        w.scripts(false);
        w.go(&format!("/recipe/{id}/weigh"));
        w.fill(MILK, "3oo");
        send(w);
        w.see("'3oo' is no figure for grams");
        assert_eq!(w.value("What you typed"), "3oo");
        w.fill("What you typed", "300");
        w.press("Try again");
        w.arrive("/weigh");
        assert_eq!(w.value(MILK), "300");
    });
}
