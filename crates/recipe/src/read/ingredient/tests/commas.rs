//! What stands behind a comma.

use super::{foods, line};

#[test]
fn each_food_of_a_list_without_amounts_is_an_item() {
    for (text, want) in [
        (
            "nutmeg, salt and pepper",
            &["nutmeg", "table_salt", "black_pepper"][..],
        ),
        ("salt, pepper", &["table_salt", "black_pepper"]),
        ("butter, softened", &["unsalted_butter"]),
        ("sugar, caster", &["caster_sugar"]),
    ] {
        assert_eq!(foods(&line(text)), want, "{text}");
    }
}

#[test]
fn two_foods_by_a_comma_are_no_third() {
    for (text, first, items) in [
        ("200 g flour, coconut", "all_purpose_flour", 2),
        ("100 g flour, rice", "all_purpose_flour", 2),
        ("100 g butter, flaked almonds", "unsalted_butter", 2),
        ("100 ml milk, almonds", "whole_milk", 2),
        ("500 g flour, bread", "bread_flour", 1),
        ("30 ml oil, olive", "olive_oil", 1),
        ("200 g butter, melted", "unsalted_butter", 1),
        ("200 g flour, sifted", "all_purpose_flour", 1),
        ("50 g sugar, vanilla", "white_sugar", 2),
        ("100 g almonds, flour", "almond", 2),
        ("50 g butter, puff pastry", "unsalted_butter", 2),
        ("200 ml water, coconut", "water", 2),
        ("200 g biscuits, digestive", "digestive_biscuits", 1),
        ("50 g cheese, feta", "feta", 1),
        ("250 g tomatoes, cherry", "cherry_tomato", 1),
        ("20 ml vinegar, cider", "cider_vinegar", 1),
        ("100 g sugar, demerara", "demerara_sugar", 1),
    ] {
        let l = line(text);
        assert_eq!((foods(&l)[0], l.items.len()), (first, items), "{text}");
    }
}
