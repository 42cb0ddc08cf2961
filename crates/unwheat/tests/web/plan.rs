//! The Plan page: a serving time in, every step in time out, its minutes to change.

use crate::harness::{browser, example, key};
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
        w.and_follows("leaving out", |w| w.press("Leave out Brush (dough)"));
        w.see("Put back");
        w.and_follows("undo", |w| w.press("Undo:"));
        // The calendar is a file of its own.
        let file = house.get(&format!("/recipe/{id}/plan.ics")).text();
        assert!(file.contains("text/calendar") || file.contains("BEGIN:VCALENDAR"));
        assert!(file.contains("BEGIN:VALARM"));
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
        w.go(&format!("/recipe/{id}/plan?serve=2020-01-01T09%3A00"));
        w.see("more than a month away");
        w.go(&format!("/recipe/{id}/plan?serve="));
        w.fill("A step of your own", "Film the batter");
        w.press("Put it in");
        w.see("Film the batter");
        w.press("Take out Film the batter");
        w.gone("Take out Film the batter");
    });
}
