//! The kitchen's page, as it is met by someone who sets a kitchen up.

use crate::harness::{House, Theme, Window, browser};

#[track_caller]
fn must_be_plain(w: &Window) {
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
fn a_kitchen_is_set_up() {
    browser(|house, w| {
        w.go("/kitchen");
        w.see("no other device gets in");
        must_be_plain(w);
        w.see("Look around in the demo kitchen");
        w.fill("Backups kept", "many");
        w.press("Save settings");
        w.see("Not saved yet");
        w.see("write a whole number");
        assert_eq!(w.value("Backups kept"), "many");
        must_be_plain(w);
        w.fill("Backups kept", "3");
        w.choose("Colours", "dark");
        w.press("Save settings");
        w.see("Saved.");
        w.holds(
            "the dark page",
            "document.documentElement.dataset.theme === 'dark'",
        );
        w.press("Back up now");
        w.see("A backup was made.");

        let zip = house.get("/kitchen/export");
        let file = house.kitchen().join("kept.zip");
        std::fs::write(&file, &zip.body).expect("the archive is kept");
        w.attach("Archive (zip)", &file);
        w.press("Take it in");
        w.see("Nothing in it is new here.");
        must_be_plain(w);
    });
}

#[test]
fn the_law_comes_with_the_measures_and_later_ones_offer_theirs() {
    const MEASURES: &str = "Cups and spoons of new recipes";
    browser(|_, w| {
        w.go("/kitchen");
        w.choose(MEASURES, "UK spoons and pints");
        w.press("Save settings");
        w.see("With these measures, allergens go by the law of: EU and UK.");
        w.choose(MEASURES, "Australian cups and 20 mL tablespoons");
        w.press("Save settings");
        w.see("allergens go by the law of: EU and UK.");
        must_be_plain(w);
        w.press("Go by that of: Australia and New Zealand");
        w.see("Saved.");
        w.gone("Go by that of");
        assert_eq!(w.value("Allergens by the law of"), "anz");
    });
}

#[test]
fn the_demo_is_a_kitchen_of_its_own() {
    const WARNING: &str = "labels, cups, prices and bakes here are invented";
    browser(|house, w| {
        w.go("/");
        w.press("Look around in the demo kitchen");
        w.see("at the bench");
        w.see("Harrow Lane test kitchen");
        w.see(WARNING);
        let there = w.js("return location.host;", serde_json::json!([]));
        assert_ne!(there, house.host.as_str());
        must_be_plain(w);

        // A form of the demo, and the bench, work at its own address.
        w.press("Go on");
        w.see("Leave the bench");
        w.see(WARNING);
        must_be_plain(w);
        w.press("Leave the bench");
        w.see(WARNING);
        w.press("Kitchen");
        w.arrive("/kitchen");
        w.gone("Back up now");
        w.gone("Keep the archive");
        must_be_plain(w);
        w.fill("What to know about it", "");
        w.press("Save settings");
        w.see("Saved.");
        w.see(WARNING);
        w.press("Set the demo back to its beginning");
        w.see("begins afresh the next time unwheat starts");

        w.press("Back to your own kitchen");
        w.see("A recipe to convert");
        w.gone(WARNING);
        let here = w.js("return location.host;", serde_json::json!([]));
        assert_eq!(here, house.host.as_str());
        w.see("First time here?");
        w.press("Kitchen");
        w.arrive("/kitchen");
        w.press("Look around in the demo kitchen");
        w.see(WARNING);
        assert_eq!(w.js("return location.host;", serde_json::json!([])), there);
    });
}

/// Fractions stand as on the cups themselves; what is sent stays the drawer's own name of them.
#[test]
fn the_drawer_writes_fractions_with_their_signs() {
    let house = House::open();
    let page = house.get("/kitchen").text();
    assert!(page.contains("½ tsp"));
    for part in page.split("class=\"tick\"").skip(1) {
        let words = part.split("</label>").next().expect("a label");
        let words = words.split('>').next_back().expect("its words");
        assert!(!words.contains("1/"), "{words}");
    }
}
