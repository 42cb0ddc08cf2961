//! What spoils once it is cooked, and how it cools.

use super::{at, of, sheet};
use recipe::plan::{Place, Tasks};

/// Pasties with a filling that is cooked and then cools.
fn pasties(filling: &str, cook: &str) -> Tasks {
    of(
        &sheet(&format!(
            "Pasties\n\nFilling\n{filling}\n\nPastry\n400 g plain flour\n150 g butter\n100 g water\n\nMethod\n1. For the filling, {cook}\n2. For the pastry, rub the butter into the flour, add the water and bring together. Chill for 30 minutes.\n3. Roll out the pastry, cut rounds, put the filling on them, fold over and seal.\n4. Bake at 200 °C for 25 minutes.\n"
        )),
        1.0,
    )
}

/// By hand: 2 hours in the room are the most for cooked grain, pulses, potatoes and meat; apples with sugar may
/// cool as long as they like.
#[test]
fn what_is_cooked_cools_in_the_room_for_two_hours_at_most() {
    for (filling, cook) in [
        (
            "200 g rice\n150 g red lentils\n700 g water",
            "boil the rice and lentils in the water for 20 minutes. Cool.",
        ),
        (
            "500 g potatoes\n150 g frozen peas",
            "boil the potatoes and peas for 20 minutes and mash them. Cool.",
        ),
        (
            "400 g minced beef\n1 onion",
            "fry the beef and onion for 15 minutes. Cool.",
        ),
        (
            "400 g cushion of zebra mince",
            "fry the mince for 15 minutes. Cool.",
        ),
    ] {
        let t = pasties(filling, cook);
        let cool = &t.list[at(&t, "filling:cool")];
        assert_eq!(
            cool.wait.expect("a wait").span.most,
            120.0,
            "{filling}: {:?}",
            t.list
        );
        assert!(
            cool.notes
                .iter()
                .any(|n| n.starts_with("No longer than 2 h")),
            "{:?}",
            cool.notes
        );
    }
    let t = pasties(
        "500 g apples\n200 g sugar",
        "simmer the apples with the sugar for 10 minutes. Cool.",
    );
    assert_eq!(
        t.list[at(&t, "filling:cool")]
            .wait
            .expect("a wait")
            .span
            .most,
        720.0
    );
}

/// By hand: a night is 8 hours, 2 of them in the room at most, so 6 and more in the fridge.
#[test]
fn a_night_of_what_is_cooked_is_in_the_fridge() {
    for (filling, cook) in [
        (
            "600 g stewing beef\n500 g beef stock",
            "simmer the beef in the stock for 90 minutes. Let it go quite cold, overnight if that suits you.",
        ),
        (
            "500 g potatoes\n100 g leeks",
            "boil the potatoes and leeks for 20 minutes. Leave to cool overnight.",
        ),
    ] {
        let t = pasties(filling, cook);
        let cool = &t.list[at(&t, "filling:cool")];
        let room = cool.wait.expect("a wait");
        assert_eq!(
            (room.place, room.span.most),
            (Place::Bench, 120.0),
            "{:?}",
            t.list
        );
        let cold = t
            .list
            .iter()
            .find(|t| t.name == "Go on cooling in the fridge")
            .expect("the fridge");
        let wait = cold.wait.expect("a wait");
        assert_eq!((wait.place, wait.span.least), (Place::Fridge, 360.0));
        assert!(
            cool.notes.iter().any(|n| n.contains("shallow")),
            "{:?}",
            cool.notes
        );
    }
}

/// Potatoes that are boiled and kneaded into a dough are bread: it cools as long as bread does.
#[test]
fn potatoes_in_a_dough_are_bread() {
    let t = of(
        &sheet(
            "Potato loaf\n\nMash\n200 g potatoes\n\nDough\n500 g strong flour\n7 g dried yeast\n250 g water\n8 g salt\n\nMethod\n1. For the mash, boil the potatoes for 20 minutes and mash them.\n2. Mix the flour, yeast, salt and water with the mash to a dough. Let rise for 1 hour.\n3. Shape a loaf and bake at 220 °C for 40 minutes. Cool on a rack.\n",
        ),
        1.0,
    );
    assert!(
        !t.list
            .iter()
            .any(|t| t.name == "Go on cooling in the fridge"),
        "{:?}",
        t.list
    );
}
