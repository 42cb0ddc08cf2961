//! What goes wrong is said in plain words, and what was typed is kept.

use crate::harness::browser;
use crate::harness::root;

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
    });
}
