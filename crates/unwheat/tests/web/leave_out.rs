//! 'Leave out as well' on the Rework page.

use crate::harness::{browser, example};
use serde_json::json;

#[test]
fn ticking_leaves_out_and_says_what_stays() {
    browser(|house, w| {
        let id = house.recipe(&example("lemon-yoghurt-cake.txt"));
        w.go(&format!("/recipe/{id}/rework"));
        w.and_follows("a tick", |w| w.press("egg"));
        w.see("ground flaxseed");
        w.see("Not replaced:");
        w.see("Lemon curd still holds egg");
        let ticked = |w: &crate::harness::Window| {
            w.js(
                "return document.getElementById('out-egg').getAttribute('aria-checked');",
                json!([]),
            )
        };
        assert_eq!(ticked(w), json!("true"));
        assert_eq!(w.axe(), Vec::<String>::new());
        for width in [1280, 820, 390] {
            w.size(width, 900, 1);
            w.picture(&format!("leave-out-{width}"));
        }
        w.size(1280, 900, 1);
        w.and_follows("undo", |w| w.press("Undo:"));
        w.gone("ground flaxseed");
        assert_eq!(ticked(w), json!("false"));
    });
}

#[test]
fn it_works_without_scripts() {
    browser(|house, w| {
        let id = house.recipe(&example("sunday-pancakes.txt"));
        w.scripts(false);
        w.go(&format!("/recipe/{id}/rework"));
        w.and_follows("a tick", |w| w.press("dairy"));
        w.arrive("/rework");
        w.see("plant milk");
        w.see("Made without milk");
        w.and_follows("the tick taken back", |w| w.press("dairy"));
        w.arrive("/rework");
        w.gone("Made without milk");
    });
}
