//! The Card page: the developer's own words on what is published.

use crate::harness::{browser, example};

#[test]
fn a_method_is_written_beside_its_notes_and_stands_on_the_card() {
    browser(|house, w| {
        let id = house.recipe(&example("lemon-yoghurt-cake.txt"));
        w.go(&format!("/recipe/{id}/card"));
        w.see("What to do differently");
        let before = w.js("return history.length;", serde_json::json!([]));
        w.see("Their method, for your eyes: do not copy its wording");
        w.and_follows("a method", |w| {
            w.fill(
                "Your method, in your own words",
                "For the cake:\nWhisk it all and bake it.",
            );
        });
        w.and_follows("a credit", |w| w.fill("Credit", "Ines Okoro"));
        w.and_follows("a yield", |w| w.fill("Makes", "Makes 9 small cakes"));
        w.gone("These words stand in the source");
        for words in [
            "Whisk it all and bake it.",
            "Ines Okoro",
            "Makes 9 small cakes",
        ] {
            w.holds(
                words,
                &format!(
                    "document.querySelector('iframe')?.contentDocument?.body?.innerText.includes('{words}')"
                ),
            );
        }
        assert_eq!(
            w.js("return history.length;", serde_json::json!([])),
            before,
            "what is typed is no step back"
        );
        w.reload();
        assert_eq!(w.value("Credit"), "Ines Okoro");
        assert_eq!(
            w.value("Your method, in your own words"),
            "For the cake:\nWhisk it all and bake it."
        );
    });
}

#[test]
fn wording_of_the_source_is_told_and_stays_off_the_card_until_it_is_typed() {
    browser(|house, w| {
        let step = "Stir the wet into the dry by halves until no streak of flour is left.";
        let id = house.recipe(&format!(
            "Pan cake\n\n200 g plain flour\n200 g milk\n2 eggs\n\nMethod\n1. {step}\n2. Fry it.\n"
        ));
        let card = house.get(&format!("/recipe/{id}/card.html")).text();
        assert!(card.contains("No method written yet.") && !card.contains("by halves"));
        w.go(&format!("/recipe/{id}/card"));
        w.and_follows("a borrowed method", |w| {
            w.fill(
                "Your method, in your own words",
                "First stir the wet into the dry by halves until smooth.",
            );
        });
        w.see("These words stand in the source:");
        w.see("stir the wet into the dry by halves until");
        w.and_follows("a method of one's own", |w| {
            w.fill("Your method, in your own words", "Whisk it smooth.");
        });
        w.gone("These words stand in the source");
        // Emptied, there is none.
        w.and_follows("no method", |w| {
            w.fill("Your method, in your own words", "");
        });
        let card = house.get(&format!("/recipe/{id}/card.html")).text();
        assert!(card.contains("No method written yet."));
    });
}
