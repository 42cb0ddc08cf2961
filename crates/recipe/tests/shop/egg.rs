//! Eggs as they are bought.

use super::{line, make, text};
use quantity::Locale;
use recipe::shop::{Shelf, list};

/// An egg of 64 g in its shell is one egg: 12 % is shell (SR28 01123), so 56.3 g are used; an egg of the table
/// is 44 to 56 g. A weight beside a count that agrees only so is with the shell too, and one that agrees is not.
#[test]
fn an_egg_weighed_in_its_shell_is_one_egg() {
    let larder = super::built_in();
    for (words, grams, count) in [
        ("1 egg (64 g in its shell)", 64.0 * 0.88, 1),
        ("1 egg (64 g)", 64.0 * 0.88, 1),
        ("64 g egg, in the shell", 64.0 * 0.88, 1),
        ("2 eggs (about 120 g with shells)", 120.0 * 0.88, 2),
        ("1 egg (50 g)", 50.0, 1),
        ("100 g beaten egg", 100.0, 2),
        ("64 g beaten egg", 64.0, 2),
        ("500 g beaten egg", 500.0, 10),
        ("530 g beaten egg", 530.0, 11),
    ] {
        let made = make(&text(&["200 g plain flour", words]), larder, Locale::Uk);
        let l = list(&[made.times(1.0)], larder, &Shelf::default());
        let egg = line(&l, "egg");
        let used = egg.needed.expect("a weight").likely().as_grams();
        assert!((used - grams).abs() < 0.1, "{words}: {used}");
        assert_eq!(egg.pieces, Some(count), "{words}");
    }
}
