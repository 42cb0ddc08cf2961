//! What goes wrong is said in plain words, and what was typed is kept.

use crate::harness::{browser, example, root};
use serde_json::json;

#[test]
fn an_empty_paste_is_told() {
    browser(|_, w| {
        w.go("/");
        w.press("Read it");
        w.see("There is nothing to read yet");
        w.fill("Paste it here", "   ");
        w.press("Read it");
        w.see("There is nothing to read yet");
    });
}

#[test]
fn a_text_that_is_no_recipe_stays_in_the_box() {
    browser(|_, w| {
        w.go("/");
        w.fill("Paste it here", "Dear Maud, the weather is fine.");
        w.fill("Your own title", "A letter");
        w.press("Read it");
        w.until("the page to answer", |w| {
            (w.text().contains("A letter") || w.path() == "/recipes" || w.path().ends_with("/read"))
                .then_some(())
        });
        if w.path() == "/recipes" {
            assert_eq!(w.value("Paste it here"), "Dear Maud, the weather is fine.");
            assert_eq!(w.value("Your own title"), "A letter");
        } else {
            w.see("Dear Maud, the weather is fine.");
        }
    });
}

/// Its first letter alone is no recipe: the page says so, and the field with the focus stays under the hands.
#[test]
fn a_text_typed_anew_over_the_old_one_is_not_lost() {
    browser(|house, w| {
        let id = house.recipe(&example("sunday-pancakes.txt"));
        w.go(&format!("/recipe/{id}/read"));
        w.press("Change the text");
        w.js(
            "const t = document.getElementById('text'); t.focus(); t.select();",
            json!([]),
        );
        w.and_follows("the first letter", |w| w.write("T"));
        w.see("This text cannot be worked with yet");
        assert_eq!(w.axe(), Vec::<String>::new());
        w.picture("text-broken");
        let rest = "ea loaf\n\n200 g plain flour\n100 ml tea\n\nMethod\n1. Mix and bake.\n";
        w.and_follows("the rest", |w| w.write(rest));
        w.see("As it was read");
        assert_eq!(w.value("The recipe's text"), format!("T{rest}"));
        w.holds("the focus in it", "document.activeElement.id === 'text'");
    });
}

#[test]
fn a_file_that_is_no_recipe_is_told_by_name() {
    browser(|_, w| {
        w.go("/");
        w.attach(
            "saved web page or text file",
            &root().join("cases/bad/binary.bin"),
        );
        w.see("binary.bin is ready to be read.");
        w.press("Read it");
        w.until("the trouble", |w| w.find(".trouble", "binary.bin", None));
        w.find("field", "Paste it here", None)
            .expect("the box is still there");
    });
}

#[test]
fn a_recipe_that_is_not_there_leads_back() {
    browser(|_, w| {
        for path in ["/recipe/4711/read", "/nothing/here", "/recipe/x/read"] {
            w.go(path);
            w.see("Nothing here");
            w.press("All recipes");
            w.arrive("/");
        }
        // And anywhere else that a page leads to.
        w.go("/nothing/here");
        w.press("Larder");
        w.arrive("/larder");
    });
}

/// A form without a name says so beside the field, in words that are spoken, wherever it asks who saves;
/// without scripts what was typed stays.
#[test]
fn who_saves_is_asked_in_words() {
    browser(|house, w| {
        let id = house.recipe(&crate::harness::example("lemon-yoghurt-cake.txt"));
        let wanted = "Write who saves this: a name or initials.";
        let beside = "const f = document.activeElement; const n = document.getElementById(f.getAttribute('aria-describedby')); \
                      return f.name === 'who' && f.getAttribute('aria-invalid') === 'true' && n?.getAttribute('role') === 'alert' \
                      && n.checkVisibility();";
        for (path, button) in [
            (format!("/recipe/{id}/versions"), "Save"),
            ("/larder/white_sugar".to_owned(), "Save"),
            ("/blends/new".to_owned(), "Keep this blend"),
        ] {
            w.go(&path);
            w.fill("Why, in one line", "first go");
            w.press(button);
            w.see(wanted);
            assert_eq!(w.js(beside, serde_json::json!([])), true, "{path}");
            w.fill("Who", "Maud");
            w.gone(wanted);
        }
        w.go(&format!("/recipe/{id}/versions"));
        let rev = w.rev().to_string();
        let sent = [("rev", &*rev), ("why", "less milk"), ("who", "")];
        let page = house.post(&format!("/recipe/{id}/save"), &sent).text();
        assert!(page.contains("value=\"less milk\"") && page.contains(wanted));
    });
}

/// Where there is nothing to plan or to buy for, no button offers it: the way on is to paste a recipe.
#[test]
fn an_empty_kitchen_is_led_to_its_first_recipe() {
    browser(|_, w| {
        for (path, button) in [("/days", "Plan the day"), ("/shop", "Make the list")] {
            w.go(path);
            w.see("No recipes yet.");
            w.gone(button);
            w.press("Paste one first");
            w.arrive("/");
        }
    });
}
