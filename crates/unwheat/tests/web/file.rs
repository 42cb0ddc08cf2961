//! A saved web page comes in as a file.

use crate::harness::{browser, root};
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

#[test]
fn a_saved_page_is_dropped() {
    browser(|_, w| {
        w.go("/");
        let html = std::fs::read_to_string(root().join(PAGE)).expect("the page");
        w.js(
            r#"const box = new DataTransfer();
            box.items.add(new File([arguments[0]], "saved page.html", { type: "text/html" }));
            for (const kind of ["dragenter", "dragover", "drop"])
              document.querySelector("main").dispatchEvent(new DragEvent(kind, { bubbles: true, cancelable: true, dataTransfer: box }));"#,
            json!([html]),
        );
        w.arrive("/read");
        w.see("As it was read");
    });
}
