//! Kinds of fruit and potato by their own names.

use super::{foods, line};
use crate::DoubtCode;

/// Names of varieties as growers and cooks use them: each is the plain food, and no word is asked about. A
/// thigh is no breast (USDA SR28 05096, 05062).
#[test]
fn a_variety_is_no_unknown_word() {
    for (text, want) in [
        ("2 Bramley apples, peeled and cored", "apple"),
        ("3 Granny Smith apples", "apple"),
        ("1 Cox's apple, grated", "apple"),
        ("500 g Maris Piper potatoes, peeled", "potato"),
        ("4 Yukon Gold potatoes", "potato"),
        ("2 Conference pears", "pear"),
        ("6 Victoria plums, halved", "plum"),
        ("500 g chicken thighs", "chicken_thigh"),
        ("6 boneless, skinless chicken thighs", "chicken_thigh"),
        ("500 g chicken breasts", "chicken"),
    ] {
        let l = line(text);
        assert_eq!(foods(&l), [want], "{text}");
        assert!(
            !l.doubts(DoubtCode::NamePartlyKnown),
            "{text}: {:?}",
            l.doubts
        );
    }
}
