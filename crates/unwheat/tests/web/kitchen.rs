//! The kitchen's page, as it is met by someone who sets a kitchen up.

use crate::harness::{Theme, Window, browser};

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
        w.go("/");
        w.press("Bring in the demo kitchen");
        w.see("at the bench");
        w.see("Harrow Lane test kitchen");

        w.press("Kitchen");
        w.arrive("/kitchen");
        w.gone("Bring in the demo kitchen");
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
