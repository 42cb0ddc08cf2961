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
fn past_the_stages_of_a_recipe() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        w.go(&format!("/recipe/{id}/size"));
        tab_to(w, "Skip past the stages");
        w.key(&[], key::ENTER);
        w.holds(
            "the focus past them",
            "document.activeElement.id === 'here' && location.hash === '#here'",
        );
        w.key(&[], key::TAB);
        w.holds(
            "no stage focused",
            "!document.activeElement.closest('nav, .title')",
        );
    });
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
        let at = w.focus().0;
        assert!(
            at.starts_with("tr 1by keyboard"),
            "not at the new version: {at}"
        );
    });
}

/// Past the head of a page that has just come up.
fn skip(w: &Window) {
    tab_to(w, "Skip to");
    w.key(&[], key::ENTER);
    w.holds(
        "the page's main part",
        "document.activeElement.id === 'main'",
    );
}

/// To another page of the recipe by the tabs in its head.
fn leaf(w: &mut Window, name: &str) {
    w.reload();
    // A kitchen-wide page of the same name stands above.
    skip(w);
    tab_to(w, name);
    w.key(&[], key::ENTER);
    w.arrive(&format!("/{}", name.to_lowercase()));
}

#[test]
fn from_the_rework_over_the_bench_to_the_card() {
    browser(|house, w| {
        let id = house.recipe(&example("sunday-pancakes.txt"));
        w.go(&format!("/recipe/{id}/rework"));
        leaf(w, "Size");
        tab_to(w, "Times the recipe");
        w.and_follows("a size", |w| w.write("2"));
        leaf(w, "Shape");
        skip(w);
        // The tab of this page, then the choice.
        tab_to(w, "Shape");
        tab_to(w, "Shape");
        w.and_follows("a shape", |w| w.write("sheet"));
        for (field, cm) in [("Length", "40 cm"), ("Width", "30 cm")] {
            tab_to(w, field);
            w.and_follows(field, |w| w.write(cm));
        }
        w.holds(
            "a drawing",
            "document.querySelector('main figure svg') !== null",
        );
        leaf(w, "Heat");
        skip(w);
        tab_to(w, "How long it took");
        w.and_follows("a bake", |w| w.write("35 min"));
        leaf(w, "Plan");
        skip(w);
        tab_to(w, "As soon as may be");
        w.key(&[], key::ENTER);
        w.see("The steps");
        tab_to(w, "Leave out");
        let left = w.focus().0.replace("button Leave out ", "Put back ");
        w.and_follows("a step left out", |w| w.key(&[], key::SPACE));
        w.until("the focus on the way back", |w| {
            w.focus().0.contains(&left).then_some(())
        });
        leaf(w, "Shop");
        skip(w);
        tab_to(w, "Shop for it with a list to tick");
        w.key(&[], key::ENTER);
        w.arrive(&format!("/shop?r={id}"));
        skip(w);
        tab_to(w, "egg");
        w.key(&[], key::SPACE);
        assert_eq!(
            w.js("return document.activeElement.checked;", json!([])),
            true
        );
        w.js("document.activeElement.blur();", json!([]));
        tab_to(w, "Recipes");
        w.key(&[], key::ENTER);
        w.see("Sunday");
        skip(w);
        tab_to(w, "Sunday");
        w.key(&[], key::ENTER);
        w.arrive("/read");
        leaf(w, "Bench");
        skip(w);
        tab_to(w, "Start the batch");
        w.key(&[], key::ENTER);
        w.see("New timer");
        // Past lines and timers, under the bar that stays in place.
        tab_to(w, "What was really weighed: egg");
        w.key(&[], key::ENTER);
        w.holds(
            "the cursor in the field",
            "document.activeElement.name === 'actual'",
        );
        w.write("204");
        w.key(&[], key::ENTER);
        w.see("really 204 g");
        tab_to(w, "Finish the batch");
        w.key(&[], key::ENTER);
        w.arrive("/finish");
        tab_to(w, "How it came out");
        w.write("tender");
        tab_to(w, "Look it over and finish");
        w.key(&[], key::ENTER);
        w.see("Finish the batch?");
        tab_to(w, "Finish and keep");
        w.key(&[], key::ENTER);
        w.see("tender");
        leaf(w, "Card");
        skip(w);
        tab_to(w, "Open to print");
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
            format!("/recipe/{id}/size"),
            format!("/recipe/{id}/shape"),
            format!("/recipe/{id}/heat"),
            format!("/recipe/{id}/plan"),
            format!("/recipe/{id}/shop"),
            format!("/recipe/{id}/card"),
            format!("/shop?r={id}"),
            "/days".to_owned(),
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

/// However many timers run, the bar that shows them lies over nothing that has the focus.
#[test]
fn timers_cover_no_focus() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        let batch = house.post(&format!("/recipe/{id}/batch"), &[("of", "draft")]);
        w.size(390, 700, 1);
        w.go(batch.header("location").expect("a batch"));
        w.see("New timer");
        for tray in ["first tray", "second tray", "third tray"] {
            w.press("New timer");
            w.fill("Minutes", "20");
            w.fill("What for", tray);
            w.press("Start");
            w.see(tray);
        }
        w.js("document.activeElement.blur(); scrollTo(0, 0);", json!([]));
        for back in [false, true] {
            for _ in 0..60 {
                w.key(if back { &[key::SHIFT] } else { &[] }, key::TAB);
                let (what, seen) = w.focus();
                assert!(seen, "the focus on '{what}' is not seen");
            }
        }
    });
}

/// Whatever is undone, the focus stays where it was; where that is gone, at what is left of it.
#[test]
fn undo_keeps_the_focus_where_it_was() {
    browser(|house, w| {
        let id = house.recipe(&example("mushroom-stout-sauce.txt"));
        let at = |w: &Window, what: &str| {
            w.holds(
                &format!("the focus at {what}"),
                &format!("document.activeElement.closest('[data-k]')?.dataset.k.includes({what:?}) || document.activeElement.id.includes({what:?})"),
            );
        };
        let said = |w: &Window, words: &str| {
            let said = format!("document.getElementById('said').textContent.startsWith({words:?})");
            w.holds(&format!("'{words}' to be said"), &said);
        };
        w.go(&format!("/recipe/{id}/read"));
        // The question answered comes back; the one gone to keeps the focus, through redo too.
        w.and_follows("an answer", |w| w.press_in("To settle", ""));
        let next = w.focus();
        w.and_follows("Ctrl+Z", |w| w.key(&[key::CONTROL], 'z'));
        said(w, "Undone: ");
        assert_eq!(w.focus(), next);
        w.and_follows("Ctrl+Shift+Z", |w| w.key(&[key::CONTROL, key::SHIFT], 'Z'));
        said(w, "Done again: ");
        assert_eq!(w.focus(), next);

        w.go(&format!("/recipe/{id}/rework"));
        let field = w.js(
            "const f = document.querySelectorAll('input[data-typed]')[2]; f.focus(); f.select(); return f.id;",
            json!([]),
        );
        let field = field.as_str().expect("a field");
        w.and_follows("a held figure", |w| w.write("77"));
        w.key(&[], key::TAB);
        // The button goes with what it lets go: the figure beside it is what is left.
        w.see("let go: ");
        tab_to(w, "let go: ");
        w.and_follows("Ctrl+Z", |w| w.key(&[key::CONTROL], 'z'));
        at(w, field);
        w.and_follows("Ctrl+Y", |w| w.key(&[key::CONTROL], 'y'));
        at(w, field);
        // Undo pressed itself: it, or what stands in its place.
        w.and_follows("undo", |w| w.press("Undo:"));
        w.holds(
            "the focus on Undo or Redo",
            "['undo', 'redo'].includes(document.activeElement.id)",
        );
    });
}
