//! The whole job, from a pasted page of a book to a printed card.

use crate::harness::{browser, example};
use serde_json::json;

/// Answers every question on the page with its first answer.
fn settle_all(w: &crate::harness::Window) -> usize {
    let mut answered = 0;
    loop {
        let left = w.js(
            "return document.querySelectorAll('ul.doubts > li').length;",
            json!([]),
        );
        if left == 0 {
            return answered;
        }
        w.and_follows("an answer", |w| {
            w.until("an answer to click", |w| {
                w.find("ul.doubts > li button", "", None)
            });
            w.press_in(
                if w.text().contains("Weights to settle") {
                    "Weights to settle"
                } else {
                    "To settle"
                },
                "",
            );
        });
        answered += 1;
        assert!(answered < 60, "settling comes to an end");
    }
}

#[test]
fn from_paste_to_printed_card() {
    browser(|_, w| {
        w.go("/");
        w.fill("Paste it here", &example("apricot-almond-buns.txt"));
        w.press("Read it");
        w.arrive("/read");
        w.see("Apricot Almond Crumb Buns");
        w.see("To settle");
        assert!(settle_all(w) > 0);
        w.gone("To settle");

        w.press("Weigh");
        w.arrive("/weigh");
        settle_all(w);
        let name = "Grams of all-purpose flour";
        let was: f64 = w.value(name).parse().expect("grams");
        w.press("Rework");
        w.arrive("/rework");
        let blend = |w: &crate::harness::Window| {
            w.text()
                .lines()
                .find(|l| l.starts_with("Makes "))
                .map(str::to_owned)
        };
        let makes = blend(w);
        w.press("Weigh");
        w.arrive("/weigh");
        w.and_follows("a weight", |w| w.fill(name, &format!("{:.0}", was + 40.0)));
        w.press("Rework");
        w.arrive("/rework");
        assert_ne!(blend(w), makes, "the rework follows the new weight");

        // Hold a figure, see what follows, let it go.
        let before = w.text();
        w.and_follows("a held figure", |w| {
            w.fill("Grams of whole milk, type to hold", "150");
        });
        w.see("held");
        w.see("1 figure is held.");
        assert_ne!(w.text(), before);
        w.and_follows("letting go", |w| w.press("let go: "));
        w.gone("1 figure is held.");

        w.press("Save a version");
        w.arrive("/versions#save");
        w.fill("Why, in one line", "first conversion");
        w.fill("Who", "Maud Ferris");
        w.press_in("Save a version", "Save");
        w.see("Nothing has changed since version 1.");
        w.see("first conversion");

        w.press("Card");
        w.arrive("/card");
        w.holds(
            "the card in its frame",
            "document.querySelector('iframe')?.contentDocument?.body?.innerText.includes('Apricot Almond Crumb Buns')",
        );
        w.press("Open to print");
        w.arrive("/card.html?print=readers");
        let pdf = w.print();
        assert!(pdf.starts_with(b"%PDF-"), "a PDF");
        let pages = pdf
            .windows(11)
            .filter(|b| b.starts_with(b"/Type /Page") && !b.ends_with(b"s"))
            .count();
        assert!(
            pages > 0 && pdf.len() > 10_000,
            "{pages} pages, {} bytes",
            pdf.len()
        );
    });
}
