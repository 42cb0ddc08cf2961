//! The question of the list in its address.

use super::pick::Asked;

#[test]
fn the_address_holds_the_question() {
    let a = Asked::of("r=3&n.3=2&r=5&n.5=1&n.9=4&got=egg&got=own_mix&words=bun");
    assert_eq!(a.recipes, [(3, 2.0), (5, 1.0)]);
    assert_eq!(a.got, ["egg", "own_mix"]);
    assert_eq!(a.query(), "r=3&n.3=2&r=5");
    assert_eq!(Asked::of(&a.query()).recipes, a.recipes);
    // Twice the same is once; what is no number is.
    let b = Asked::of("r=3&r=3&r=x&n.3=½");
    assert_eq!(b.recipes, [(3, 0.5)]);
    assert!(b.troubles.is_empty());
}

#[test]
fn times_that_cannot_be_are_told() {
    for wrong in ["0", "-1", "many", "1e9", "NaN", "inf"] {
        let a = Asked::of(&format!("r=3&n.3={wrong}"));
        assert_eq!(a.recipes, [(3, 1.0)], "{wrong}");
        assert_eq!(a.troubles.len(), 1, "{wrong}");
    }
    let many: String = (0..200).map(|i| format!("r={i}&")).collect();
    let a = Asked::of(&many);
    assert_eq!(a.recipes.len(), 60);
    assert_eq!(a.troubles.len(), 1);
}
