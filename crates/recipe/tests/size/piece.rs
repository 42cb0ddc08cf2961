//! What is counted in pieces stays counted so at any size.

use super::{buns, near, sized, worked};
use quantity::Locale;
use recipe::household::Drawer;
use recipe::size::{Ask, PartSize, Pieces, Target};

const STEW: &str = "Pot pie\n\n3 garlic cloves, crushed\n3 cloves garlic\n2 celery sticks\n4 rashers streaky bacon\n6 sage leaves\n2 sprigs of rosemary\n2 potatoes\n1 large onion\n100 g plain flour\n200 g milk\n";

#[track_caller]
fn says(times: f64, want: &[(&str, &str)]) {
    let w = worked(STEW);
    let batch = sized(&w, Target::Times(times));
    let drawer = Drawer::from(Locale::Us);
    let mut lines = batch.components[0].lines.iter();
    for (name, words) in want {
        let line = lines.find(|l| l.name == *name).expect(name);
        let got = batch.household(&w.rework, 0, line, super::larder(), drawer);
        assert_eq!(
            got.map(|h| h.words).as_deref(),
            Some(*words),
            "{name} × {times}"
        );
    }
}

/// Counted by hand: 3.9, 3.9, 2.6, 5.2, 7.8, 2.6, 2.6 and 1.3 pieces; then twice of each.
#[test]
fn pieces_stay_pieces() {
    says(
        1.0,
        &[
            ("garlic", "3 garlic cloves"),
            ("garlic", "3 cloves"),
            ("bacon", "4 rashers"),
        ],
    );
    says(
        1.3,
        &[
            ("garlic", "4 garlic cloves"),
            ("garlic", "4 cloves"),
            ("celery", "2½ celery sticks"),
            ("bacon", "5 rashers"),
            ("fresh sage", "8 sage leaves"),
            ("fresh rosemary", "2½ sprigs"),
            ("potato", "2½ potatoes"),
            ("onion", "1¼ large onions"),
        ],
    );
    says(
        2.0,
        &[
            ("garlic", "6 garlic cloves"),
            ("garlic", "6 cloves"),
            ("celery", "4 celery sticks"),
            ("bacon", "8 rashers"),
            ("fresh sage", "12 sage leaves"),
            ("fresh rosemary", "4 sprigs"),
            ("potato", "4 potatoes"),
            ("onion", "2 large onions"),
        ],
    );
}

/// Nine plums of 680 g: 0.7 of them are six (6.3), one and a half times fourteen (13.5). Without a count they stay
/// weighed.
#[test]
fn pieces_in_brackets_are_pieces() {
    let w = worked(
        "Kuchen\n\n680 g firm plums (about 9), quartered\n250 g plain flour\n100 g butter\n100 g sugar\n",
    );
    for (times, words) in [(0.7, "6 plums"), (1.5, "14 plums")] {
        let batch = sized(&w, Target::Times(times));
        let line = &batch.components[0].lines[0];
        let got = batch.household(
            &w.rework,
            0,
            line,
            super::larder(),
            Drawer::from(Locale::Us),
        );
        assert_eq!(got.map(|h| h.words).as_deref(), Some(words), "× {times}");
    }
}

/// A third of three cloves is one; what is weighed stays weighed.
#[test]
fn one_piece_is_one() {
    says(
        1.0 / 3.0,
        &[("garlic", "1 garlic clove"), ("garlic", "1 clove")],
    );
    says(2.0, &[("whole milk", "1⅔ cups")]);
}

/// Half the dough of a recipe of 12 buns makes 6 of them, each as heavy as before.
#[test]
fn half_the_dough_makes_half_the_buns() {
    let w = buns();
    let whole = sized(w, Ask::times(1.0)).pieces.expect("pieces");
    let half = sized(
        w,
        Ask {
            parts: [("dough".to_owned(), PartSize::Times(0.5))].into(),
            ..Ask::times(1.0)
        },
    );
    let pieces = half.pieces.expect("pieces");
    near(pieces.count, 6.0, 1e-9);
    near(pieces.each.as_grams(), whole.each.as_grams(), 1e-6);
    assert_eq!(half.count, Some((6.0, 6.0)));
}

/// Read from the words: one thing that is cut has as many pieces, in brackets too, and who eats of it is counted.
#[test]
fn a_yield_in_brackets_or_a_sentence_is_what_size_counts() {
    let of = |line: &str| {
        let w = super::worked(&format!(
            "Onion Bake\n\n{line}\n\nPASTRY\n190 g plain flour\n110 g butter\n\nFILLING\n3 eggs\n"
        ));
        assert_eq!(w.formula.recipe.notes, [""; 0], "{line}");
        (w.batch.count, w.batch.servings)
    };
    for (line, count, servings) in [
        ("(Makes 1 large plait, cuts into 12)", (12.0, 12.0), false),
        ("Makes one loaf, cut into 10 slices", (10.0, 10.0), false),
        ("(Makes 2 plaits)", (2.0, 2.0), false),
        ("Enough for six hungry people.", (6.0, 6.0), true),
        (
            "Enough for six hungry people, or eight with salad.",
            (6.0, 6.0),
            true,
        ),
        ("Serves seven or so", (7.0, 7.0), true),
        ("Feeds a dozen", (12.0, 12.0), true),
    ] {
        assert_eq!(of(line), (Some(count), servings), "{line}");
    }
}

/// A roll out of the oven has its filling in it: the 90 g that are asked for are of the dough alone, and that is
/// said. Weighed raw the sum says of what it is; a plain roll has nothing beside it.
#[test]
fn a_baked_weight_says_what_comes_on_top() {
    let told = |text: &str, baked: bool| {
        let ask = Target::Pieces(Pieces {
            count: Some(12.0),
            each: Some(90.0),
            baked,
        });
        let sums = sized(&worked(text), ask).sums.join("; ");
        sums.contains("that is of the dough alone: filling comes on top")
    };
    const ROLLS: &str = "Rolls\n\nMakes 12 rolls\n\nDough\n500 g bread flour\n300 g milk\n7 g instant yeast\n\nFilling\n150 g brown sugar\n80 g butter\n\n1. Mix the dough.\n2. Mix the filling.\n3. Roll the dough out, spread with the filling, roll up and cut into 12. Bake at 190 C for 25 minutes.\n";
    const PLAIN: &str = "Rolls\n\nMakes 12 rolls\n\n500 g bread flour\n300 g milk\n7 g instant yeast\n\n1. Mix, shape into 12 and bake at 190 C for 25 minutes.\n";
    assert!(told(ROLLS, true) && !told(ROLLS, false) && !told(PLAIN, true));
}

/// What the rings are boiled in is no part of each: the dough alone is divided, and its weight is the piece's.
#[test]
fn what_pieces_are_boiled_in_is_not_in_each() {
    let text = "Rings\nMakes 10\n\nDough\n600 g strong flour\n360 g water\n10 g salt\n5 g dried yeast\n\nFor boiling\n2 litres water\n\n1. Mix. Rise 1 hour. Shape 10 rings.\n2. Bring the water to the boil. Boil the rings 1 minute. Bake at 230C for 20 minutes.\n";
    let batch = sized(&worked(text), Ask::times(1.0));
    let pieces = batch.pieces.expect("10 rings");
    near(pieces.count, 10.0, 1e-9);
    assert!(pieces.whole.is_none(), "{:?}", pieces.whole);
}
