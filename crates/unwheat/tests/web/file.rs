//! A saved web page comes in as a file.

use crate::harness::{Window, browser, root};
use serde_json::json;

const PAGE: &str = "cases/good/web/03_graph.html";

#[test]
fn a_saved_page_is_chosen() {
    browser(|_, w| {
        w.go("/");
        w.attach("saved web page or text file", &root().join(PAGE));
        w.see("03_graph.html is ready to be read.");
        w.press("Read it");
        w.arrive("/read");
        w.see("As it was read");
        assert!(
            !w.text().contains("<script"),
            "the recipe's text, not the page's code"
        );
    });
}

/// The browser's own button for a file looks and lights up as the others do.
#[test]
fn the_file_button_is_a_button() {
    browser(|_, w| {
        w.go("/");
        w.holds(
            "one look",
            "['color', 'borderTopColor', 'borderTopWidth', 'borderTopLeftRadius', 'fontWeight', 'minHeight', 'paddingLeft'].every((p) => getComputedStyle(document.getElementById('file'), '::file-selector-button')[p] === getComputedStyle(document.querySelector('form.paste button') ?? document.body)[p === 'color' ? 'borderTopColor' : p])",
        );
    });
}

/// Drops a file on the page.
fn drop_file(w: &Window, name: &str, text: &str) {
    w.js(
        r#"const box = new DataTransfer();
        box.items.add(new File([arguments[0]], arguments[1]));
        for (const kind of ["dragenter", "dragover", "drop"])
          document.querySelector("main").dispatchEvent(new DragEvent(kind, { bubbles: true, cancelable: true, dataTransfer: box }));"#,
        json!([text, name]),
    );
}

#[test]
fn a_saved_page_is_dropped() {
    browser(|_, w| {
        w.go("/");
        let html = std::fs::read_to_string(root().join(PAGE)).expect("the page");
        drop_file(w, "saved page.html", &html);
        w.arrive("/read");
        w.see("As it was read");
    });
}

const TYPED: &str = "300 g plain flour and so on";

#[test]
fn what_was_typed_stays_whatever_is_dropped() {
    browser(|_, w| {
        w.go("/");
        w.fill("Paste it here", TYPED);
        for (name, text, said) in [
            (
                "buns.pdf",
                "%PDF-1.7\n",
                "buns.pdf was not read. It is a PDF",
            ),
            (
                "nothing.txt",
                "",
                "nothing.txt was not read. The file is empty",
            ),
        ] {
            drop_file(w, name, text);
            w.see(said);
            assert_eq!(w.value("Paste it here"), TYPED, "{name}");
        }
        // A file that is read takes nothing from the words either.
        let html = std::fs::read_to_string(root().join(PAGE)).expect("the page");
        drop_file(w, "saved page.html", &html);
        w.arrive("/read");
        w.go("/");
        assert_eq!(w.value("Paste it here"), TYPED);
    });
}
