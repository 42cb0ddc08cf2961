//! Parts in one line, and names over what they are made of.

use super::{parts, read};
use crate::line::{Amount, Item};
use crate::recipe::Recipe;
use larder::Larder;

/// The foods of a recipe's part with their first amounts, by the larder's keys.
fn foods(recipe: &Recipe, part: &str) -> Vec<(String, Option<f64>)> {
    let larder = Larder::built_in().expect("the built-in tables");
    let part = recipe.components.iter().find(|c| c.name == part);
    let items = part.expect("the part").lines.iter().flat_map(|l| &l.items);
    let key = |i: &Item| {
        let food = i.food.as_ref().map(|m| larder.food(m.food).key.clone());
        (
            food.unwrap_or("?".into()),
            i.amounts.first().map(Amount::middle),
        )
    };
    items.map(key).collect()
}

fn one_line(list: &str) -> Vec<(String, Option<f64>)> {
    let text = format!(
        "Tea loaf\n\nDough\n500 g bread flour\n300 ml water\n\nOnto it: {list}\n\n1. Mix the dough.\n2. Bake for 40 minutes.\n"
    );
    foods(&read(&text), "onto it")
}

#[track_caller]
fn lists(list: &str, expected: &[(&str, Option<f64>)]) {
    let got = one_line(list);
    let got: Vec<_> = got.iter().map(|(k, a)| (k.as_str(), *a)).collect();
    assert_eq!(got, expected, "{list}");
}

#[test]
fn each_food_of_a_part_in_one_line_is_an_item() {
    lists(
        "1 egg, splash of milk, sesame seeds",
        &[
            ("egg", Some(1.0)),
            ("whole_milk", Some(1.0)),
            ("sesame_seed", None),
        ],
    );
    lists(
        "200 g panko, zest of 1 orange, poppy seeds",
        &[
            ("panko", Some(200.0)),
            ("orange_zest", Some(1.0)),
            ("poppy_seed", None),
        ],
    );
    lists(
        "150 g icing sugar, juice of half a lemon, walnuts",
        &[
            ("icing_sugar", Some(150.0)),
            ("lemon_juice", Some(0.5)),
            ("walnut", None),
        ],
    );
    lists(
        "150 g icing sugar, a few edible zingoes",
        &[("icing_sugar", Some(150.0)), ("?", Some(3.0))],
    );
    lists(
        "2 tbsp rum, juice of 1 lime, 1 egg, panko",
        &[
            ("rum", Some(2.0)),
            ("lime_juice", Some(1.0)),
            ("egg", Some(1.0)),
            ("panko", None),
        ],
    );
}

#[test]
fn what_is_said_of_a_food_is_no_item() {
    for (list, first) in [
        ("100 g butter, softened, 2 eggs, beaten", "unsalted_butter"),
        (
            "100 g chocolate, dark, 2 eggs, lightly beaten",
            "dark_chocolate",
        ),
        (
            "100 ml milk, warm, 2 eggs, at room temperature",
            "whole_milk",
        ),
        ("100 g sugar, caster, 2 eggs, yolks only", "caster_sugar"),
    ] {
        let got = one_line(list);
        assert_eq!(got.len(), 2, "{list}: {got:?}");
        assert_eq!(got[0].0, first, "{list}");
    }
    lists(
        "1 tin chickpeas, 400 g drained",
        &[("chickpeas_tinned", Some(1.0))],
    );
}

/// A choice behind an amount of its own belongs to that item alone.
#[test]
fn a_choice_in_a_list_is_of_its_own_item() {
    let r = read(
        "Pudding\n\nFruit: 150 g raisins, 50 g mixed peel, 150 ml brandy or stout\n\nBatter\n200 g flour\n2 eggs\n\n1. Soak the fruit.\n2. Steam for 2 hours.\n",
    );
    let fruit = r.components.iter().find(|c| c.name == "fruit").expect("it");
    let items = &fruit.lines[0].items;
    let choices: Vec<usize> = items.iter().map(|i| i.alternatives.len()).collect();
    assert_eq!(choices, [0, 0, 1]);
    assert_eq!(items[1].amounts.len(), 1);
}

#[test]
fn zest_of_two_fruits_is_of_both() {
    let r = read(
        "Cake\n\n200 g flour\nzest of 1 orange and 2 lemons\nzest of 1 lime, finely grated\n\n1. Mix.\n",
    );
    let got = foods(&r, "");
    let got: Vec<_> = got.iter().map(|(k, a)| (k.as_str(), *a)).collect();
    assert_eq!(
        got[1..],
        [
            ("orange_zest", Some(1.0)),
            ("lemon_zest", Some(2.0)),
            ("lime_zest", Some(1.0))
        ]
    );
}

#[test]
fn a_name_over_what_it_is_made_of_is_a_part() {
    for (name, list) in [
        (
            "Brandy butter",
            "100 g butter\n100 g icing sugar\n3 tbsp brandy",
        ),
        ("Lemon curd", "2 lemons\n2 eggs\n100 g sugar"),
        ("Egg wash and seeds", "1 egg\n2 tbsp sesame seeds"),
        ("Butterscotch", "100 g brown sugar\n50 g butter"),
        ("Pudding", "100 g suet\n2 eggs"),
        ("Dip", "200 ml yoghurt\n1 tsp paprika"),
        ("Butter", "100 g butter, softened\n2 cloves garlic"),
        ("Chicken", "4 chicken breasts, skinless\n1 tsp paprika"),
        ("Marzipan", "200 g ground almonds\n200 g icing sugar"),
        ("Jelly", "6 gelatine leaves\n400 ml apple juice"),
    ] {
        for gap in ["", "\n"] {
            let r = read(&format!(
                "Supper\nServes 4\n\nBase\n100 g plain flour\n50 ml water\n{gap}{name}\n{list}\n\n1. Mix.\n2. Bake for 20 minutes.\n"
            ));
            let named = parts(&r).contains(&name.to_lowercase().as_str());
            assert!(named, "{name}{gap:?}: {:?}", parts(&r));
        }
    }
    // Its amount was left out: it is not what follows.
    for (name, list) in [
        ("Soy sauce", "200 g rice noodles\n2 eggs"),
        ("Flour", "100 g rice flour\n2 eggs"),
        ("Sugar", "100 g brown sugar\n2 eggs"),
        ("Malt vinegar", "100 g potatoes\n2 tbsp wine vinegar"),
        ("Beer batter mix", "100 ml beer\n2 eggs"),
        ("Bread", "100 g butter\n2 eggs"),
    ] {
        let r = read(&format!(
            "Supper\nServes 4\n\nBase\n100 g cornflour\n50 ml water\n{name}\n{list}\n\n1. Mix.\n2. Bake for 20 minutes.\n"
        ));
        assert_eq!(parts(&r), ["base"], "{name}");
    }
}
