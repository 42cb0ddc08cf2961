//! Times that belong together, and the heat that they are of.

use super::read;

/// By hand: 4 hours are the least; a night, 8 to 12 hours and 10 in the middle, is what is aimed at.
#[test]
fn the_time_that_is_aimed_at_is_one_with_the_least() {
    for (text, facts) in [
        (
            "Let stand at least 4 hours, preferably overnight.",
            "240/600/720 min rest",
        ),
        (
            "Chill for 1 hour, or better still 2 hours.",
            "60/120/120 min chill",
        ),
        (
            "Chill for 4 hours (ideally overnight).",
            "240/600/720 min chill",
        ),
        (
            "Let stand 4 hours, but overnight is best.",
            "240/600/720 min rest",
        ),
        // No longer than the least: a time of its own. No time behind: a word about the place.
        ("Let stand 4 hours, preferably in the cool.", "240 min rest"),
        (
            "Chill 4 hours, then bake 30 minutes.",
            "240 min chill; 30 min bake",
        ),
    ] {
        assert_eq!(read(text), facts, "{text}");
    }
}

/// What is left of something is no wait, and a time over a heat is one on the stove.
#[test]
fn a_stove_and_a_griddle_are_no_oven_and_no_wait() {
    for (text, facts) in [
        (
            "Sprinkle with the rest and brown under the grill for 3 minutes.",
            "3 min ?",
        ),
        (
            "Soften the leeks over a low heat in the butter, about 25 minutes.",
            "25 min boil",
        ),
        (
            "Drop on a hot buttered griddle; bake 1 minute a side.",
            "1 min fry",
        ),
        (
            "Bake on the griddle in the oven for 20 minutes.",
            "20 min bake",
        ),
        (
            "Pour into the skillet and bake 20 minutes.",
            "pan skillet []; 20 min bake",
        ),
        // Work that has a name of its own.
        (
            "Brown the butter over a medium heat, 6 to 8 minutes.",
            "6/7/8 min ?",
        ),
        ("Leave over a bowl for 25 minutes.", "25 min rest"),
    ] {
        assert_eq!(read(text), facts, "{text}");
    }
}

/// By hand: a slow oven is 130–160 °C, 145 in the middle of the table; both heats are of the oven.
#[test]
fn an_oven_that_is_turned_down_has_two_heats() {
    assert_eq!(
        read("Bake in a moderate oven for 1 hour. Reduce to a slow oven for half an hour."),
        "oven 165/180/195; 60 min bake; oven 130/145/160; 30 min bake"
    );
    assert_eq!(
        read("Bake at 180 °C for 1 hour. Reduce to 150 °C for half an hour."),
        "oven 180; 60 min bake; oven 150; 30 min bake"
    );
    // The oven that is hot already has no second one.
    assert_eq!(
        read("Bake in a moderate oven for 1 hour. Return to a hot oven to brown."),
        "oven 165/180/195; 60 min bake"
    );
}
