//! Two windows on one recipe.

use crate::harness::{House, Window, browser, example, key};

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
        second_writes(w, &text);
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
        // The text stands open, where it was changed.
        w.arrive("/read#text");
        assert!(
            w.value("The recipe's text")
                .contains("The first window wrote this.")
        );
    });
}

/// Writes a line below the text that stands open in the second window, which takes it.
fn second_writes(w: &Window, text: &str) {
    w.press("Change the text");
    w.and_follows("the text in the second window", |w| {
        w.fill(
            "The recipe's text",
            &format!("{text}\n\nThe second window wrote this."),
        );
        w.key(&[], key::TAB);
    });
}

/// The clash is said at the first key, without taking the focus; what was typed outlives a reload.
#[test]
fn typing_into_a_text_another_window_changed_says_so_and_loses_nothing() {
    browser(|house, w| {
        let text = example("sunday-pancakes.txt");
        let id = house.recipe(&text);
        let page = format!("/recipe/{id}/read");
        w.go(&page);
        w.press("Change the text");
        let (first, second) = w.second();
        w.go(&page);
        second_writes(w, &text);
        w.turn_to(&first);
        let mine = format!("{text}\n\nThe first window wrote this.");
        w.fill("The recipe's text", &mine);
        w.see("Another window changed this too");
        w.write(" And more.");
        w.holds(
            "the focus in the field, the words told with it and spoken",
            "((f, n, b) => f.id === 'text' && f.getAttribute('aria-describedby') === n.id \
             && n.getAttribute('role') === 'alert' && !f.hasAttribute('aria-invalid') \
             && f.value.endsWith(' And more.') && b.top >= 0 && b.bottom <= innerHeight)\
             (document.activeElement, document.querySelector('.stays'), \
             document.querySelector('.stays').getBoundingClientRect())",
        );
        w.picture("conflict-typing");
        assert_eq!(w.axe(), Vec::<String>::new());
        w.reload();
        w.see("You had typed this before");
        assert!(
            w.value("Typed before in The recipe's text")
                .ends_with("The first window wrote this. And more.")
        );
        w.press("Put it away");
        // Typed again, and the field left by a link: the choice comes before the way there.
        w.press("Change the text");
        w.turn_to(&second);
        w.and_follows("the second window again", |w| {
            w.fill(
                "The recipe's text",
                &format!("{text}\n\nThe second window wrote this again."),
            );
        });
        w.turn_to(&first);
        w.fill("The recipe's text", &mine);
        w.see("Another window changed this too");
        w.press("Weigh");
        w.see("Changed in two windows");
        assert_eq!(w.value("Your text"), mine);
        w.press("Put mine in its place");
        w.arrive("/read#text");
        assert_eq!(w.value("The recipe's text"), mine);
        w.gone("You had typed this before");
    });
}

/// What this window sent stands already, only the answer was lost: no one else is in the way.
#[test]
fn a_lost_answer_is_no_other_window() {
    let house = House::open();
    let id = house.recipe(&example("sunday-pancakes.txt"));
    let page = house.get(&format!("/recipe/{id}/weigh")).text();
    let rev = page
        .split("data-rev=\"")
        .nth(1)
        .and_then(|p| p.split('"').next())
        .expect("the draft's number")
        .to_owned();
    let change =
        r#"{"field":"grams","line":{"component":"","text":"2 eggs","nth":0},"grams":null}"#;
    let to = format!("/recipe/{id}/change");
    let post = |grams: &str, sent: &[(&str, &str)]| {
        let mut fields = vec![
            ("rev", rev.as_str()),
            ("leaf", "weigh"),
            ("change", change),
            ("value", grams),
        ];
        fields.extend_from_slice(sent);
        house.post(&to, &fields).status
    };
    assert_eq!(post("312", &[]), 303);
    assert_eq!(post("299", &[]), 409, "as from another window");
    assert_eq!(post("299", &[("sent", "300"), ("sent", "312")]), 303);
    house.must_be_sound();
}

/// The bullet that a line was pasted with is no part of its words.
#[test]
fn a_conflict_names_the_line_without_its_bullet() {
    let house = House::open();
    let id = house.recipe("Milk bread\n\nMakes 1 loaf\n\n\u{2022} 500 g strong white flour\n\u{2022} 300 ml milk\n\u{2022} 7 g instant yeast\n\nMix and bake.\n");
    let change = r#"{"field":"grams","line":{"component":"","text":"\u2022 300 ml milk","nth":0},"grams":null}"#;
    let post = |rev: &str, grams: &str| {
        let fields = [
            ("rev", rev),
            ("leaf", "weigh"),
            ("change", change),
            ("value", grams),
        ];
        house.post(&format!("/recipe/{id}/change"), &fields)
    };
    assert_eq!(post("1", "312").status, 303);
    let clash = post("1", "299");
    assert_eq!(clash.status, 409);
    let page = clash.text();
    assert!(
        page.contains("<strong>weight of 300 ml milk</strong>"),
        "{page}"
    );
    let page = house.get(&format!("/recipe/{id}/weigh")).text();
    assert!(
        page.contains("weight of 300 ml milk: 312 g</span>"),
        "{page}"
    );
}
