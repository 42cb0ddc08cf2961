//! Minutes that the baker's own method does not say.

use super::{at, of, sheet};
use recipe::plan::{Place, Tasks};
use recipe::sheet::Change;

const PIE: &str = "Beef pie\n\nFilling\n600 g stewing beef\n1 onion\n500 g beef stock\n\nPastry\n300 g plain flour\n150 g butter\n60 g water\n\nMethod\n1. For the filling, simmer the beef, onion and stock for 1 hour 30 minutes. Chill overnight.\n2. For the pastry, rub the butter into the flour, add the water and bring together. Chill for 30 minutes.\n3. Roll out the pastry, cover the filling with it and bake at 190 °C for 40 minutes.\n";

fn own(page: &str, method: &str) -> Tasks {
    let mut s = sheet(page);
    let text = Some(method.to_owned());
    s.change(&Change::Method { text }).expect("a method");
    of(&s, 1.0)
}

/// By hand: the words name the simmering, the filling's chill and the bake without a time, so each has that of the
/// page; the chill of the pastry they do not have at all.
#[test]
fn a_time_that_the_own_words_do_not_say_is_that_of_the_page() {
    let t = own(
        PIE,
        "Filling:\nSimmer the beef, onion and stock.\nChill.\nPastry:\nRub the butter into the flour, add the water.\nRoll out the pastry, cover the filling and bake.",
    );
    let wait = |key: &str| {
        let w = t.list[at(&t, key)].wait.expect("a wait");
        (w.place, w.span.least)
    };
    assert_eq!(wait("filling:boil"), (Place::Stove, 90.0), "{:?}", t.list);
    assert_eq!(wait("filling:chill"), (Place::Fridge, 480.0));
    // 40 minutes of the page's bake, and 10 % more of the rework.
    assert_eq!(wait("pastry:bake"), (Place::Oven, 44.0));
    assert_eq!(t.left_to_page.taken.len(), 3, "{:?}", t.left_to_page);
    assert_eq!(t.left_to_page.lost.len(), 1, "{:?}", t.left_to_page);
    assert!(t.left_to_page.lost[0].starts_with("'Chill (pastry)': 30 min"));
}

/// A time of the baker's own stands, and a method that says all leaves nothing to the page.
#[test]
fn a_time_of_the_own_words_stands() {
    let t = own(
        PIE,
        "Filling:\nSimmer the beef, onion and stock for 2 hours.\nChill for 10 hours.\nPastry:\nRub the butter into the flour, add the water. Chill for 1 hour.\nRoll out the pastry, cover the filling and bake for 50 minutes.",
    );
    let least = |key: &str| t.list[at(&t, key)].wait.expect("a wait").span.least;
    assert_eq!(least("filling:boil"), 120.0);
    assert_eq!(least("filling:chill"), 600.0);
    assert_eq!(least("pastry:chill"), 60.0);
    assert_eq!(least("pastry:bake"), 50.0);
    assert_eq!(t.left_to_page, recipe::plan::LeftToPage::default());
}

/// A pudding that steams for hours takes nobody's hands, in the baker's words as in the page's.
#[test]
fn what_steams_for_hours_is_no_work() {
    let page = "Syrup pudding\n\n175 g self-raising flour\n100 g butter\n100 g sugar\n2 eggs\n60 g golden syrup\n\nMethod\n1. Cream the butter and sugar, beat in the eggs and fold in the flour.\n2. Spoon the syrup and the batter into a basin and steam for 1 1/2 hours.\n";
    for method in [
        "Mix all. Fill the basin.\nSteam 2 1/2 hours.",
        "Mix all. Fill the basin and steam 2 1/2 hours.",
    ] {
        let t = own(page, method);
        let boil = &t.list[at(&t, ":boil")];
        assert!(boil.hands.most < 30.0, "{method}: {boil:?}");
        assert_eq!(boil.wait.expect("a wait").span.least, 150.0, "{method}");
    }
}
