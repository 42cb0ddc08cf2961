//! Two windows on one recipe.

use crate::harness::{browser, example, key};

const FLOUR: &str = "Grams of all-purpose flour";
const MILK: &str = "Grams of whole milk";

#[test]
fn the_same_weight_in_two_windows_shows_both() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        let page = format!("/recipe/{id}/weigh");
        w.go(&page);
        let (first, second) = w.second();
        w.go(&page);
        w.and_follows("a weight in the second window", |w| {
            w.fill(FLOUR, "520");
            w.key(&[], key::TAB);
        });
        w.until("the weight to be kept", |_| {
            house
                .get(&page)
                .text()
                .contains("value=\"520\"")
                .then_some(())
        });
        w.turn_to(&first);
        w.fill(FLOUR, "480");
        w.key(&[], key::TAB);
        w.see("Changed in two windows");
        w.see("520");
        w.see("480");
        assert!(
            house.get(&page).text().contains("value=\"520\""),
            "nothing is lost yet"
        );
        w.press("Put mine in its place");
        w.arrive("/weigh");
        w.until("mine", |w| (w.value(FLOUR) == "480").then_some(()));
        w.turn_to(&second);
        w.reload();
        assert_eq!(w.value(FLOUR), "480");
        // The other's can be had back.
        w.and_follows("undo", |w| w.press("Undo:"));
        w.until("the other's weight", |w| {
            (w.value(FLOUR) == "520").then_some(())
        });
    });
}

#[test]
fn different_fields_in_two_windows_are_both_kept() {
    browser(|house, w| {
        let id = house.recipe(&example("apricot-almond-buns.txt"));
        let page = format!("/recipe/{id}/weigh");
        w.go(&page);
        let (first, _) = w.second();
        w.go(&page);
        w.and_follows("flour in the second window", |w| {
            w.fill(FLOUR, "520");
            w.key(&[], key::TAB);
        });
        w.turn_to(&first);
        w.and_follows("milk in the first", |w| {
            w.fill(MILK, "200");
            w.key(&[], key::TAB);
        });
        w.until("the other window's weight to come in", |w| {
            (w.value(FLOUR) == "520").then_some(())
        });
        w.until("both to be kept", |_| {
            let kept = house.get(&page).text();
            (kept.contains("value=\"520\"") && kept.contains("value=\"200\"")).then_some(())
        });
    });
}

#[test]
fn the_text_changed_in_two_windows_shows_both_texts() {
    browser(|house, w| {
        let text = example("sunday-pancakes.txt");
        let id = house.recipe(&text);
        let page = format!("/recipe/{id}/read");
        w.go(&page);
        let (first, _) = w.second();
        w.go(&page);
        w.press("Change the text");
        w.and_follows("the text in the second window", |w| {
            w.fill(
                "The recipe's text",
                &format!("{text}\n\nThe second window wrote this."),
            );
            w.key(&[], key::TAB);
        });
        w.turn_to(&first);
        w.press("Change the text");
        w.fill(
            "The recipe's text",
            &format!("{text}\n\nThe first window wrote this."),
        );
        w.key(&[], key::TAB);
        w.see("Changed in two windows");
        w.see("The second window wrote this.");
        assert!(
            w.value("Your text")
                .contains("The first window wrote this.")
        );
        w.press("Put mine in its place");
        w.arrive("/read");
        w.press("Change the text");
        assert!(
            w.value("The recipe's text")
                .contains("The first window wrote this.")
        );
    });
}
