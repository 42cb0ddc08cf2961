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

/// The parts of a list by name, each with the count of its lines.
fn parts(text: &str) -> Vec<(String, usize)> {
    let r = recipe(text);
    let all = r.components.into_iter();
    all.map(|c| (c.name, c.lines.len())).collect()
}

fn are(all: &[(&str, usize)]) -> Vec<(String, usize)> {
    all.iter().map(|(n, l)| ((*n).to_owned(), *l)).collect()
}

/// A food's name alone is a heading where the method makes it, or where what it is made of stands behind it.
#[test]
fn a_food_over_what_it_is_made_of_is_a_heading() {
    let tart = "Lemon tart\nServes 8\n\nShortcrust\n200 g plain flour\n100 g cold butter\n\nCurd\n4 lemons\n150 g caster sugar\n3 eggs\n100 g butter\n\nMethod\n1. Bake.\n";
    assert_eq!(parts(tart), are(&[("shortcrust", 2), ("curd", 4)]));
    // 'Juice of 2 lemons' begins a list too.
    let juice = tart.replace("4 lemons", "Juice of 4 lemons");
    assert_eq!(parts(&juice), are(&[("shortcrust", 2), ("curd", 4)]));
    // Right under a measured line only the method tells.
    let loaf = |method: &str| {
        parts(&format!(
            "Marbled loaf with ice cream\nServes 8\nLoaf\n200 g self-raising flour\n150 g butter\nIce cream\n300 ml double cream\n200 g condensed milk\nMethod\n1. {method}\n"
        ))
    };
    assert_eq!(
        loaf("Make the ice cream: whip the cream, freeze."),
        are(&[("loaf", 2), ("ice cream", 2)])
    );
    assert_eq!(
        loaf("Bake the loaf. Serve with ice cream."),
        are(&[("loaf", 5)])
    );
    // A sauce that is hot, no pepper sauce.
    let hot = "Pudding\nServes 4\n\n100 g currants\n\nHot sauce\n200 ml double cream\n100 g brown sugar\n\nMethod\n1. Bake.\n";
    assert_eq!(parts(hot), are(&[("", 1), ("hot sauce", 2)]));
    // Bought, its amount left out: no gluten is lost with it.
    for bought in ["Croissants", "Soy sauce", "Yogurt", "Plain flour"] {
        let text = format!(
            "Pudding\nServes 4\n\n{bought}\n200 g sugar\n100 g currants\n\nMethod\n1. Bake.\n"
        );
        assert_eq!(parts(&text), are(&[("", 3)]), "{bought}");
    }
}

/// What the baker may make a heading with one click: a bare name right over a measured line.
#[test]
fn a_bare_name_over_a_measured_line_may_head_it() {
    let r = recipe(
        "Loaf with ice cream\nServes 8\n\n200 g flour\nIce cream\n300 ml double cream\n2 eggs, beaten\nSalt\n\nMethod\n1. Bake.\n",
    );
    let lines = &r.components[0].lines;
    let may: Vec<&str> = (0..lines.len())
        .filter(|n| crate::read::may_head(&r.components[0], *n))
        .map(|n| lines[n].text.as_str())
        .collect();
    assert_eq!(may, ["Ice cream"]);
}

/// A made food that is also sold heads its own list where all that must be told of it stands there too: milk and egg of
/// a custard, milk of a caramel sauce. Over what it is eaten with it is bought.
#[test]
fn a_made_food_over_all_it_must_tell_is_a_heading() {
    let under = |name: &str, list: &str| {
        parts(&format!(
            "Puffs\nServes 8\n\nPastry\n200 g flour\n2 eggs\n\n{name}\n{list}\n\nMethod\n1. Bake. Fill.\n"
        ))
    };
    let two = |name: &str, lines: usize| are(&[("pastry", 2), (name, lines)]);
    let custard = "500 g milk\n5 egg yolks\n100 g sugar\n30 g cornflour";
    assert_eq!(under("Vanilla custard", custard), two("vanilla custard", 4));
    let caramel = "200 g sugar\n100 g butter\n1 tsp salt";
    let name = "Salted caramel sauce";
    assert_eq!(under(name, caramel), two("salted caramel sauce", 3));
    let cream = "300 ml double cream\n20 g icing sugar";
    assert_eq!(under("Whipped cream", cream), two("whipped cream", 2));
    let bought = are(&[("pastry", 5)]);
    for (name, list) in [
        ("Vanilla custard", "300 ml double cream\n200 g raspberries"),
        ("Salted caramel sauce", "200 ml cream\n2 bananas"),
        ("Soy sauce", "200 g rice noodles\n100 g sugar"),
        ("Double cream", "200 g strawberries\n100 g sugar"),
    ] {
        assert_eq!(under(name, list), bought, "{name}");
    }
}
