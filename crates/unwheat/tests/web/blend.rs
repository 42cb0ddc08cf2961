//! Working out a blend.

use crate::harness::{House, Theme, Window, browser, example, key};
use serde_json::json;

const PAGE: &str = "/blends/work-out?style=lean_bread";
/// What has the focus is not under the line with the best blend.
const IN_SIGHT: &str = "((e, b) => document.elementFromPoint(b.x + 5, b.y + 5) === e)(document.activeElement, document.activeElement.getBoundingClientRect())";
const LEAST: &str = "Least percent of sorghum flour";

/// Everything that is found, as it is seen.
fn found(w: &Window) -> String {
    let got = w.js(
        "return document.querySelector('.found')?.innerText ?? '';",
        json!([]),
    );
    got.as_str().unwrap_or_default().to_owned()
}

#[track_caller]
fn plain(w: &Window) {
    for theme in [Theme::Light, Theme::Dark] {
        w.theme(theme);
        assert_eq!(w.axe(), Vec::<String>::new());
    }
    w.theme(Theme::Light);
    for width in [390, 820, 1280] {
        w.narrow(width);
        assert_eq!(w.overhang(), None);
    }
}

#[test]
fn a_blend_is_worked_out_while_it_is_typed_and_kept() {
    browser(|_, w| {
        w.go("/blends");
        w.press("Work out a blend");
        w.see("Choose what the blend should come near to.");
        plain(w);
        w.choose("Come near to", "muffin");
        w.see("the middle of 12 published gluten-free formulas of");
        w.see("A starting point for a test bake.");
        w.see("Keep as a blend of your own");
        assert_eq!(found(w).matches("Keep as a blend of your own").count(), 3);
        // A figure is typed: the answers follow, what is typed in stays in hand.
        w.js("window.mark = 'same page';", json!([]));
        w.fill(LEAST, "33");
        w.holds(
            "33 % in all three",
            "[...document.querySelectorAll('.found article')].every((a) => [...a.querySelectorAll('tbody tr')].some((r) => r.cells[0].textContent === 'sorghum flour' && Number(r.cells[1].textContent) >= 33))",
        );
        w.holds(
            "the focus and figure",
            "document.activeElement.value === '33' && window.mark === 'same page'",
        );
        w.holds(
            "the address",
            "location.search.includes('least.sorghum_flour=33')",
        );
        w.holds(
            "it to be said",
            "document.getElementById('said').textContent.startsWith('Nearest: ')",
        );
        w.enter("corn");
        w.holds(
            "no corn",
            "!document.querySelector('.found').innerText.includes('corn')",
        );
        // Another flour gets a row of its own.
        w.fill("Another flour, starch or fibre", "almond flour");
        w.key(&[], key::TAB);
        w.until("a row for almond flour", |w| {
            w.find("field", "Least percent of almond flour", None)
                .map(|_| ())
        });
        assert_eq!(w.value("Another flour, starch or fibre"), "");
        plain(w);
        w.press("Keep as a blend of your own");
        w.see("A blend of your own");
        assert!(
            w.value("In a few words")
                .starts_with("Worked out from 12 published")
        );
        assert!(w.value("In a few words").contains("without corn"));
        w.fill("Who", "Maud Ferris");
        w.press("Keep this blend");
        w.see("Kept. It is among your own blends now.");
        w.see("Worked out from 12 published gluten-free formulas");
    });
}

/// A blend that is refused for want of a name is there when the baker comes back, and not after
/// it was saved.
#[test]
fn what_was_typed_of_a_blend_is_kept() {
    browser(|house, w| {
        let write = |w: &mut Window| {
            w.go("/blends/new");
            w.fill("Name", "Weekend bread");
            w.fill("flour 1", "sorghum flour");
            w.fill("percent of flour 1", "60");
            w.fill("flour 2", "tapioca starch");
            w.fill("percent of flour 2", "40");
        };
        write(w);
        w.press("Keep this blend");
        // Refused at once, with the hand at the field that wants it.
        w.holds(
            "the name is asked for",
            "document.activeElement.id === 'f-who' && !document.activeElement.validity.valid",
        );
        w.press("Recipes");
        w.see("Convert a recipe");
        w.go("/blends/new");
        w.see("What you typed here before stands here again: it is not saved yet.");
        assert_eq!(w.value("Name"), "Weekend bread");
        assert_eq!(w.value("percent of flour 2"), "40");
        // Its sum and picture follow.
        w.see("100 %: it is whole");
        plain(w);
        // Another start is not written over, but the words can be had back.
        w.go("/blends/new?from=bread");
        assert_ne!(w.value("Name"), "Weekend bread");
        w.press("Bring it back");
        assert_eq!(w.value("Name"), "Weekend bread");
        w.go("/blends/new");
        w.press("Start over");
        assert_eq!(w.value("Name"), "");
        w.reload();
        assert_eq!(w.value("Name"), "");
        write(w);
        w.fill("Who", "Maud");
        w.press("Keep this blend");
        w.see("Kept. It is among your own blends now.");
        w.go("/blends/new");
        assert_eq!(w.value("Name"), "");
        // A flour of it whose label names gluten takes it out of use, and the recipe says so.
        let id = house.recipe("Loaf\n\n400 g bread flour\n300 g water\n7 g instant yeast\n");
        let said = [
            ("note", "sack"),
            ("kind", "names_gluten"),
            ("grain", "wheat"),
            ("back", "/"),
        ];
        assert_eq!(house.post("/larder/sorghum_flour/label", &said).status, 303);
        let page = house.get(&format!("/recipe/{id}/rework")).text();
        assert!(
            page.contains("Not in use now: Blend 'Weekend bread'"),
            "{page}"
        );
    });
}

/// From a recipe's Rework page and back, with the blend in it; undo takes it out.
#[test]
fn a_blend_goes_into_the_recipe_it_was_worked_out_for() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        w.go(&format!("/recipe/{id}/rework"));
        w.press("Work out a blend for this style");
        w.see("Back to Apricot");
        w.enter("corn");
        w.holds(
            "no corn",
            "!document.querySelector('.found').innerText.includes('corn')",
        );
        w.press("Keep as a blend of your own");
        w.see("Back to Apricot");
        w.fill("Name", "Bun blend");
        w.fill("Who", "Maud");
        w.press("Keep this blend");
        w.arrive(&format!("/recipe/{id}/rework"));
        w.holds(
            "the blend in the dough",
            "[...document.querySelectorAll('select[id^=blend]')].some((s) => s.selectedOptions[0].textContent.startsWith('Bun blend'))",
        );
        w.holds(
            "one step to undo",
            "document.getElementById('undo')?.textContent.includes('blend of the dough')",
        );
        // Not where the baker takes the tick away.
        w.press("Work out a blend for this style");
        w.press("Keep as a blend of your own");
        w.enter("Put it into");
        w.fill("Who", "Maud");
        w.press("Keep this blend");
        w.see("Kept. It is among your own blends now.");
    });
}

#[test]
fn why_a_flour_is_not_in_it() {
    browser(|_, w| {
        w.go(PAGE);
        w.choose("Why no …?", "millet flour");
        w.see("Millet flour: ");
        w.see("from the aim");
        w.enter("corn");
        w.choose("Why no …?", "masa harina");
        w.see("Masa harina: not used: corn is left out.");
        plain(w);
    });
}

#[test]
fn a_clash_stands_by_both_fields() {
    browser(|_, w| {
        w.go(PAGE);
        w.fill(LEAST, "60");
        w.fill("Least percent of teff flour", "50");
        w.see("These cannot hold together: sorghum flour at least 60 %; teff flour at least 50 %");
        w.holds(
            "both to be marked",
            "['sorghum', 'teff'].every((f) => { const e = document.getElementById(`f-least-${f}_flour`); return e.getAttribute('aria-invalid') === 'true' && document.getElementById(e.getAttribute('aria-describedby'))?.textContent.includes('cannot hold'); })",
        );
        assert_eq!(w.value(LEAST), "60");
        plain(w);
        w.fill(LEAST, "20");
        w.fill("Least percent of teff flour", "10");
        w.gone("cannot hold together");
        w.see("Keep as a blend of your own");
    });
}

#[test]
fn without_scripts() {
    browser(|_, w| {
        w.scripts(false);
        w.go("/blends/bread");
        w.choose("Make it without", "millet flour");
        w.press("Work it out anew");
        w.see("no published formula stands behind it");
        w.see("Keep as a blend of your own");
        assert!(!found_without(w).contains("millet flour"));
        w.fill("Batch", "500");
        w.key(&[], key::ENTER);
        w.until("the batch of 500 g to be asked for", |w| {
            w.path().contains("=500").then_some(())
        });
        w.choose("Why no …?", "millet flour");
        w.press("Tell me");
        w.see("Millet flour: it is not ticked; if it were, ");
        w.fill(LEAST, "101");
        w.press("Work it out");
        w.see("from 0 to 100");
        assert_eq!(w.value(LEAST), "101");
        w.fill(LEAST, "");
        w.press("Work it out");
        w.press("Keep as a blend of your own");
        w.see("A blend of your own");
        assert!(w.value("In a few words").contains("without millet flour"));
        w.scripts(true);
    });
}

fn found_without(w: &Window) -> String {
    let text = w.text();
    let after = text.split("Blends that fit").nth(1).unwrap_or_default();
    after.split("Why no").next().unwrap_or_default().to_owned()
}

#[test]
fn with_the_keyboard_alone() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        w.go(&format!("/recipe/{id}/rework"));
        w.press("Work out a blend for this style");
        w.see("Keep as a blend of your own");
        w.js("document.activeElement.blur(); scrollTo(0, 0);", json!([]));
        let mut stops = 0;
        let mut kept = false;
        for _ in 0..300 {
            w.key(&[], key::TAB);
            let (what, seen) = w.focus();
            assert!(seen, "the focus on '{what}' is not seen");
            if what == "the page" {
                break;
            }
            stops += 1;
            kept |= what.contains("Keep as a blend of your own");
            if what.contains("Least percent of arrowroot") {
                // Back and forth, so that it comes in from above too.
                for _ in 0..25 {
                    w.key(&[key::SHIFT], key::TAB);
                    w.holds("the field in sight", IN_SIGHT);
                }
                for _ in 0..25 {
                    w.key(&[], key::TAB);
                }
                // The line with the best blend must not lie over what is typed in.
                w.holds("the field in sight", IN_SIGHT);
                w.write("12");
                w.holds(
                    "arrowroot",
                    "document.getElementById('best').innerText.includes('arrowroot')",
                );
            }
        }
        assert!(kept && (60..300).contains(&stops), "{stops} stops");
    });
}

/// A name is asked for once: it is marked as needed, and stands in the next form.
#[test]
fn who_keeps_a_blend_is_asked_once() {
    let house = House::open();
    let page = house.get("/blends/new").text();
    let who = |page: &str| {
        let field = page.split("id=\"f-who\"").nth(1).unwrap_or_default();
        field.split('>').next().unwrap_or_default().to_owned()
    };
    assert!(who(&page).contains("required") && page.contains("Who (needed)"));
    let kept = house.post(
        "/blends/new",
        &[
            ("name", "House mix"),
            ("part.0", "white rice flour"),
            ("share.0", "100"),
            ("who", "Maud Ferris"),
            ("why", "first version"),
        ],
    );
    assert_eq!(kept.status, 303, "{}", kept.text());
    let next = who(&house.get("/blends/new").text());
    assert!(next.contains("value=\"Maud Ferris\""), "{next}");
    house.must_be_sound();
}
