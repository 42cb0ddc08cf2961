//! Titles and headings that are also words of ingredients.

use super::read as recipe;

/// A unit's word that begins a title over a yield counts nothing.
#[test]
fn a_title_over_a_yield_may_begin_with_a_unit() {
    for title in [
        "Sheet pan peach slab pie",
        "Loaf of rye",
        "Tray bake of peaches",
    ] {
        let r = recipe(&format!(
            "{title}\nServes 16\n\n200 g flour\n100 g butter\n\n1. Mix.\n"
        ));
        assert_eq!(r.title.as_deref(), Some(title));
        assert_eq!(r.components.len(), 1, "{title}");
    }
    let r = recipe("2 sheets puff pastry\nServes 4\n\n200 g cheese\n\n1. Bake.\n");
    assert_eq!(r.title, None);
}

/// 'Gnocchi' over mash with egg or flour are made; over what is tossed with them they are bought.
#[test]
fn gnocchi_over_their_mash_are_a_heading() {
    let lines = |list: &str| {
        let r = recipe(&format!(
            "Dinner\nServes 4\n\nGnocchi\n{list}\n\n1. Boil.\n"
        ));
        (r.components[0].name.clone(), r.components[0].lines.len())
    };
    assert_eq!(
        lines("800 g pumpkin\n1 egg yolk\n200 g plain flour"),
        ("gnocchi".to_owned(), 3)
    );
    assert_eq!(
        lines("800 g potatoes\n200 g plain flour"),
        ("gnocchi".to_owned(), 2)
    );
    assert_eq!(lines("300 g pumpkin\n80 g butter"), (String::new(), 3));
}
