use super::super::tests::{lines, parts, read};

#[test]
fn a_part_on_one_line_may_be_called_by_a_verb() {
    let dough = "Knots\n\n500 g flour\n300 g water\n";
    for line in [
        "Dip: 2 tbsp butter; 2 tbsp flour; 1 cup milk",
        "Drizzle: 50 g sugar, 20 ml lemon juice",
    ] {
        let r = read(&format!("{dough}{line}\n\nMethod\n1. Mix and bake.\n"));
        assert_eq!(r.steps.len(), 1, "{line}");
        assert!(r.components[1].lines[0].items.len() >= 2, "{line}");
    }
    let r = read(&format!(
        "{dough}Dip: melt 2 tbsp butter and brush the knots with it.\n"
    ));
    assert_eq!((parts(&r).len(), r.steps.len()), (1, 1));
}

#[test]
fn a_poolish_on_one_line_goes_into_the_dough_not_the_dip() {
    let r = read(
        "Knots\n\n500 g flour\n300 g water\nDip: 2 tbsp butter; 2 tbsp flour\nFor the poolish: 150g strong flour, 150g water, pinch of yeast\n\nMethod\n1. Mix and bake.\n",
    );
    assert_eq!(parts(&r), ["", "dip", "poolish"]);
    assert_eq!(r.components[2].lines[0].items.len(), 3);
    assert!(
        r.components[0]
            .lines
            .iter()
            .any(|l| l.text.contains("poolish"))
    );
}

#[test]
fn a_pan_greased_and_floured_and_a_sized_yield_are_no_ingredients() {
    let r = read(
        "Plum pie\n8\" round pan, greased and floured\nOne 9-inch deep dish pie\n\n200 g rice flour\n100 g butter\n9x13 baking pan, greased\n\nMethod\n1. Mix and bake.\n",
    );
    let lines: Vec<&str> = r.components[0]
        .lines
        .iter()
        .map(|l| l.text.as_str())
        .collect();
    assert_eq!(lines, ["200 g rice flour", "100 g butter"]);
    assert_eq!(r.makes.as_ref().and_then(|m| m.count), Some((1.0, 1.0)));
    assert!(
        r.notes.iter().any(|n| n.contains("floured")),
        "{:?}",
        r.notes
    );
}

#[test]
fn a_credit_is_said_once() {
    for line in [
        "Source: Adapted from The Long Table",
        "Adapted from adapted from The Long Table",
    ] {
        let r = read(&format!(
            "Loaf\n{line}\n\n400 g flour\n\nMethod\n1. Bake.\n"
        ));
        let said = r.source.publisher.as_deref().or(r.source.author.as_deref());
        assert_eq!(said, Some("The Long Table"), "{:?}", r.source);
    }
}

#[test]
fn a_bought_sauce_without_amount_is_no_heading() {
    let listed = |r: &crate::Recipe, text: &str| {
        let mut all = r.components.iter().flat_map(|c| &c.lines);
        all.any(|l| l.text.trim() == text)
    };
    for sauce in [
        "tonkatsu sauce",
        "Okonomi sauce",
        "black bean sauce",
        "satay sauce",
        "Peanut sauce",
        "beer sauce",
        "Ranch dressing",
        "Caesar dressing",
        "tempura batter",
    ] {
        for around in [
            format!("300 g cabbage\n2 eggs\n\nTo serve\n{sauce}\nokonomi sauce\nsesame seeds\n"),
            format!("300 g cabbage\n2 eggs\n\nTo serve\nsesame seeds\n{sauce}\n2 spring onions\n"),
            format!("300 g cabbage\n2 eggs\n{sauce}\n"),
            format!("300 g cabbage\n2 eggs\n\n{sauce}\n\nsalt\n"),
        ] {
            let r = read(&format!("Pancakes\n\n{around}\nMethod\n1. Mix and fry.\n"));
            assert!(listed(&r, sauce), "{around}: {:?} {:?}", parts(&r), r.notes);
            assert!(!r.notes.iter().any(|n| n == sauce));
        }
    }
    for sauce in [
        "For the sauce",
        "Peanut sauce",
        "peanut sauce",
        "Sauce",
        "Peanut sauce:",
    ] {
        for under in [
            "100 g peanuts\n50 g butter",
            "peanuts\n50 g butter",
            "Butter 50 g",
        ] {
            let r = read(&format!(
                "Pancakes\n\n300 g cabbage\n2 eggs\n\n{sauce}\n{under}\n\nMethod\n1. Mix and fry.\n"
            ));
            assert_eq!(parts(&r).len(), 2, "{sauce}/{under}: {:?}", parts(&r));
        }
    }
    let r =
        read("Pancakes\n\n300 g cabbage\n\nPeanut sauce\n1. Whisk the nuts with water.\n2. Fry.\n");
    assert_eq!((parts(&r).len(), r.steps.len()), (1, 2), "{:?}", parts(&r));
}

#[test]
fn a_part_on_one_line_may_be_called_by_a_food_or_stand_before_a_dash() {
    for head in [
        "BUNS:",
        "COOKIES:",
        "CRACKERS:",
        "NAAN:",
        "NOODLES:",
        "BREAD:",
        "CAKE:",
        "PASTRY:",
        "PASTA:",
        "Naan:",
        "Dough -",
        "Dough –",
        "Pie dough —",
        "Buns -",
    ] {
        let r = read(&format!(
            "Tea\n\n{head} 450g strong flour, 50g caster sugar, 1 egg\nFilling - 1 1/2 lbs russets, 1 tbsp butter, salt\n\nMethod\n1. Mix and bake.\n"
        ));
        let name = head
            .trim_end_matches([':', '-', '–', '—', ' '])
            .to_lowercase();
        assert_eq!(parts(&r), [name.as_str(), "filling"], "{head}");
        let foods: Vec<_> = r
            .components
            .iter()
            .map(|c| c.lines[0].items.len())
            .collect();
        assert_eq!(foods, [3, 3], "{head}");
        assert!(r.components[0].lines[0].items[0].food.is_some());
    }
    for line in [
        "Flour: 500 g",
        "Butter - 100 g, 20 g of it for the tin",
        "Bread: 4 slices, 1 cm thick",
        "Pasta: 200 g penne",
        "Biscuits: 100 g digestive biscuits, crushed",
        "Flours: 200 g rice flour, 100 g potato starch",
        "Large eggs - 2",
        "Gochugaru - 2 tbsp, 1 tbsp for serving",
    ] {
        let r = read(&format!(
            "Tea\n\n300 g sugar\n{line}\n\nMethod\n1. Mix and bake.\n"
        ));
        assert_eq!(parts(&r), [""], "{line}");
    }
}

#[test]
fn a_part_called_like_one_of_its_foods_is_a_part() {
    let r = read(
        "Trifle\n\nCherries: 400 g cherries, 2 tbsp kirsch, 1 tbsp cornflour\n300 ml double cream\n\nMethod\n1. Simmer and chill.\n",
    );
    assert_eq!(parts(&r), ["cherries", ""]);
    assert_eq!(r.components[0].lines[0].items.len(), 3);
}

#[test]
fn a_count_under_the_title_is_a_yield() {
    let all = |title: &str, line: &str, gap: &str| {
        read(&format!(
            "{title}\n{gap}{line}\n\n300 g flour\n\n2 eggs\n\nMethod\n1. Mix and bake.\n"
        ))
    };
    for (title, line, count) in [
        ("Beef empanadas", "12 empanadas", 12.0),
        ("Sunday waffles", "about 8 waffles", 8.0),
        ("Cheddar shortcakes", "8 wedges", 8.0),
        ("Almond stollen", "2 stollen", 2.0),
        ("Potato pizza", "4 pizzas", 4.0),
        ("Ginger snaps", "about 3 dozen", 36.0),
        ("Garlic naan", "6 naan", 6.0),
        ("Lye knots", "8 pretzels", 8.0),
        ("Crumpets", "10 crumpets", 10.0),
        ("Cumin zibbles", "9 zibbles", 9.0),
    ] {
        let r = all(title, line, "");
        assert_eq!(lines(&r), ["300 g flour", "2 eggs"], "{line}");
        assert_eq!(
            r.makes.and_then(|m| m.count),
            Some((count, count)),
            "{line}"
        );
    }
    for (title, line, gap) in [
        ("Scotch eggs", "6 eggs", ""),
        ("Stuffed peppers", "4 peppers", ""),
        ("Chocolate pretzels", "8 pretzels", "\n"),
        ("Cheese toasts", "6 naan", "\n"),
        ("Sour tart", "12 kumquats", ""),
    ] {
        assert_eq!(lines(&all(title, line, gap)).len(), 3, "{line}");
    }
}

/// A food's name alone above the line that weighs it is a heading.
#[test]
fn a_food_above_its_own_list_is_a_heading() {
    let r = read(
        "Apple pie\nApples\n600 g apples\n50 g sugar\n\nPastry\n200 g plain flour\n100 g butter\n\nMethod\nMix and bake.\n",
    );
    assert_eq!(
        lines(&r),
        [
            "600 g apples",
            "50 g sugar",
            "200 g plain flour",
            "100 g butter"
        ]
    );
    assert_eq!(r.components[0].name, "apples");
    // Another food's amount below it says nothing.
    let r = read("Apple pie\nApples\n600 g pears\n50 g sugar\n\nMethod\nMix and bake.\n");
    assert_eq!(lines(&r), ["Apples", "600 g pears", "50 g sugar"]);
}

/// A name that no amount stands with, over a list of its own, parts the formulas.
#[test]
fn a_made_thing_over_a_list_of_its_own_is_a_heading() {
    let text = |above: &str, name: &str| {
        format!(
            "Trial\n\nIngredients\n200 g mince\n2 onions\n{above}{name}\n100 g rice flour\n50 g butter\n\nMethod\nMix.\n"
        )
    };
    for name in ["Coating", "Butter coating", "Mashed potato", "Goo"] {
        assert_eq!(parts(&read(&text("\n", name))).len(), 2, "{name}");
    }
    for name in [
        "White sauce",
        "To coat",
        "Tomato sauce",
        "Pie crust",
        "Stuffing",
        "Dumplings",
        "Biscuit base",
        "Water bath",
        "Starter/sponge",
    ] {
        assert_eq!(parts(&read(&text("", name))).len(), 2, "{name}");
    }
    for name in ["Salt", "Oil for frying", "Sesame seeds", "Butter"] {
        let r = read(&text("", name));
        assert_eq!((parts(&r).len(), lines(&r).len()), (1, 5), "{name}");
    }
    // The last of a list, and one of a list that leaves amounts out.
    let r = read("Trial\n\nIngredients\n200 g mince\nTomato sauce\n\nMethod\nMix.\n");
    assert_eq!((parts(&r).len(), lines(&r).len()), (1, 2));
    let r = read("Trial\n\nIngredients\n200 g mince\nSalt\nTomato sauce\n2 eggs\n50 g cheese\n");
    assert_eq!((parts(&r).len(), lines(&r).len()), (1, 5));
}

/// A food right over its kind is a heading, as nothing is lost with it; 'Flour' over rice flour may be wheat's.
/// 'To' and a verb is one whatever the verb.
#[test]
fn a_food_over_its_kind_and_a_purpose_are_headings() {
    let of = |name: &str, line: &str| {
        let text =
            format!("Trial\nAbout 36\n\n500 g plain flour\n250 ml milk\n{name}\n{line}\n\nMix.\n");
        read(&text)
    };
    for (name, line, want) in [
        ("Jam", "200 g raspberry jam", 2),
        ("To fry", "1 L sunflower oil", 2),
        ("To brush", "50 g butter", 2),
        ("Flour", "100 g rice flour", 1),
        ("Butter", "200 g raspberry jam", 1),
    ] {
        let r = of(name, line);
        assert_eq!(parts(&r).len(), want, "{name}");
        assert_eq!(r.makes.and_then(|m| m.count), Some((36.0, 36.0)), "{name}");
    }
}

/// What is sold under a name and holds gluten or an allergen is no heading over foods that it is not made of.
#[test]
fn a_sold_thing_over_other_foods_is_an_ingredient() {
    let of = |name: &str, list: &str| {
        let r = read(&format!(
            "Bake\n\nIngredients\n500 g chicken thighs\n{name}\n{list}\n\nMethod\nBake for 40 minutes.\n"
        ));
        parts(&r).len()
    };
    const PASTA: &str = "200 g rice pasta\n50 g cheddar";
    for name in ["Soy sauce", "White sauce", "Pie crust", "\nSoy sauce"] {
        assert_eq!(of(name, PASTA), 1, "{name}");
    }
    for (name, list) in [
        ("White sauce", "50 g butter\n50 g plain flour\n500 ml milk"),
        ("Pie crust", "250 g plain flour\n125 g butter"),
        ("Tomato sauce", "400 g tomatoes\n1 onion"),
        ("Custard", "300 ml milk\n3 egg yolks"),
        ("\nGinger biscuits", "350 g plain flour\n100 g butter"),
    ] {
        assert_eq!(of(name, list), 2, "{name}");
    }
}

/// Told by hand: what a page states of the bake is no step, and an order beside figures is one.
#[test]
fn what_a_page_states_of_the_food_is_no_step() {
    let read_with = |last: &str| {
        read(&format!(
            "Plain biscuits\n\nFor this you will need:\n200 g plain flour\n100 g butter\n\nMethod\n1. Rub the butter into the flour.\n2. Roll, cut and bake at 180 °C for 12 minutes.\n\n{last}\n"
        ))
    };
    for last in [
        "Nutrition per biscuit: 95 kcal, fat 4 g, carbohydrate 13 g",
        "Nutritional information: energy 398kJ, 95kcal",
        "Per biscuit: 95 kcal",
    ] {
        let r = read_with(last);
        assert_eq!(r.steps.len(), 2, "{last}");
        assert_eq!(r.notes, [last]);
        // The heading of the list names no part.
        assert_eq!(parts(&r), [""], "{last}");
    }
    let r = read_with("3. Dust with sugar and eat within a day.");
    assert_eq!((r.steps.len(), r.notes.len()), (3, 0));
}
