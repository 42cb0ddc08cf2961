//! One food or another, and what stands in brackets.

use super::{foods, line, others};
use crate::DoubtCode;

#[test]
fn a_second_choice_adds_no_amounts() {
    let l = line(
        "1 3/4 cups (420 ml) buttermilk, or 1 1/2 cups (360 ml) milk plus 2 tablespoons lemon juice",
    );
    assert_eq!(foods(&l), ["buttermilk"]);
    assert_eq!(others(&l), ["whole_milk"]);
    assert_eq!(l.items[0].amounts.len(), 2);
    let l = line("400 ml buttermilk, or 200 ml plain yoghurt let down with 200 ml milk");
    assert_eq!(
        (foods(&l), l.items[0].amounts.len()),
        (vec!["buttermilk"], 1)
    );
    assert_eq!(others(&l).len(), 1);
    // A twin without a food of its own stays a twin.
    assert_eq!(line("100 g walnuts, or 1 cup").items[0].amounts.len(), 2);
}

#[test]
fn a_second_choice_hides_no_gluten() {
    let l = line("1 cup buttermilk, or 1 cup milk plus 1 tbsp malt vinegar");
    assert!(others(&l).contains(&"malt_vinegar"), "{:?}", others(&l));
}

#[test]
fn a_choice_is_told_in_food_names() {
    let l = line("1 cup buttermilk, or 1 cup (240 ml) milk");
    let doubt = l.doubts.iter().find(|d| d.code == DoubtCode::Alternative);
    assert_eq!(
        doubt.map(|d| d.message.as_str()),
        Some("the line offers a choice: buttermilk is counted, whole milk is screened too")
    );
}

#[test]
fn brackets_hold_no_items_and_denials_no_choices() {
    let l = line("60 g mixed seeds (sunflower, pumpkin and linseed), of which 10 g for the top");
    assert_eq!((foods(&l), l.items[0].amounts.len()), (vec!["seed_mix"], 1));
    for (text, food) in [
        (
            "100 g dark chocolate (contains no wheat, rye or barley)",
            "dark_chocolate",
        ),
        ("100 g peanut butter, no added sugar", "peanut_butter"),
        ("100 g plain flour, not self-raising", "all_purpose_flour"),
        ("100 g rice flour (not wheat or rye)", "rice_flour_white"),
    ] {
        let l = line(text);
        assert_eq!(l.items.len(), 1, "{text}");
        assert!(others(&l).is_empty(), "{text}");
        let key = foods(&l)[0];
        assert!(
            key == food || food == "rice_flour_white" && key.contains("rice"),
            "{key}"
        );
    }
}

/// A list of what is in a thing nobody knows ends at its bracket.
#[test]
fn what_stands_behind_a_bracket_is_the_food() {
    for (text, food) in [
        (
            "500 g Acme (unbleached, organic) bread flour",
            "bread_flour",
        ),
        ("400 g heritage (red, yellow) tomatoes", "tomato"),
        ("200 ml Zingo (fresh, raw) milk", "whole_milk"),
        ("100 g Blurb (may contain nuts) chocolate", "dark_chocolate"),
        ("20 g zingo mix (mustard, celery)", ""),
    ] {
        let l = line(text);
        assert_eq!(foods(&l)[0], food, "{text}");
    }
    let text = "Dry mix (200 g plain flour, 50 g sugar)";
    let l = line(text);
    assert_eq!(foods(&l), ["all_purpose_flour", "white_sugar"]);
    assert_eq!(&text[l.items[1].name.clone()], "sugar");
    assert!(l.items.iter().all(|i| i.amounts.len() == 1));
}

#[test]
fn a_bracket_that_begins_with_or_is_a_choice() {
    for (text, food, other) in [
        (
            "200 g plain flour (or gluten-free flour)",
            "all_purpose_flour",
            "gluten_free_flour_blend",
        ),
        (
            "100 g butter (or margarine), soft",
            "unsalted_butter",
            "baking_spread",
        ),
    ] {
        let l = line(text);
        assert_eq!((foods(&l), others(&l)), (vec![food], vec![other]), "{text}");
    }
    // What nobody knows is not what may be taken instead.
    let l = line("500 ml zingo (or 2 tbsp custard powder, 1 pint milk and 2 tbsp sugar)");
    assert_eq!((foods(&l), others(&l)), (vec![""], vec!["custard_powder"]));
    // More of the same is no other food.
    assert!(others(&line("1 egg (or 2 if small), beaten")).is_empty());
    assert!(others(&line("100 g plain (or all-purpose) flour")).is_empty());
}
