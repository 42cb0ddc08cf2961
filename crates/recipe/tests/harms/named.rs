//! What only the method names, and what of a line was replaced.

use super::{formula, larder, reworked};
use quantity::Locale;
use recipe::DoubtCode;
use recipe::rework::{Options, rework};

/// Harm 3: what only the method names brings its allergens too: they are asked about, and on the
/// list of what is to be checked; what a line holds, or what is no food there, is not.
#[test]
fn an_allergen_that_only_the_method_names_is_not_lost() {
    let larder = larder();
    let thins = |method: &str| {
        format!(
            "Cheese thins\n\n200 g plain flour\n50 ml olive oil\n60 ml water\n1/2 tsp salt\n\n{method}\n"
        )
    };
    let f = formula(
        &thins(
            "Mix to a dough. Brush with a beaten egg, sprinkle with grated parmesan and sesame seeds\ngas 6, 12 minutes.",
        ),
        Locale::Uk,
    );
    let asked = f
        .recipe
        .doubts
        .iter()
        .find(|d| d.code == DoubtCode::InMethodOnly);
    let asked = &asked.expect("a question").message;
    for words in ["egg", "parmesan", "sesame"] {
        assert!(asked.contains(words), "{words}: {asked}");
    }
    let s = recipe::screen::screen(&f, &larder, None);
    let of = |a| s.allergens.iter().find(|f| f.allergen == a);
    for a in [
        larder::Allergen::Egg,
        larder::Allergen::Milk,
        larder::Allergen::Sesame,
    ] {
        let found = of(a).unwrap_or_else(|| panic!("no {a:?}"));
        assert!(
            !found.certain && found.from[0].contains("on no line"),
            "{found:?}"
        );
    }
    assert!(s.cautions.iter().any(|c| c.code == "raw_egg"));
    // An own method counts in the place of the original's.
    let plain = formula(&thins("Mix. Bake for 12 minutes."), Locale::Uk);
    let r = rework(plain, &larder, &Options::default());
    // Sulphites are the potato starch's, in the plain blend of what nobody has named.
    let sulphites = |f: &recipe::screen::AllergenFinding| f.allergen == larder::Allergen::Sulphites;
    assert!(r.screen(&larder).allergens.iter().all(sulphites));
    let own =
        recipe::own_method::steps("Mix.\nSprinkle with chopped hazelnuts and wheat bran.\nBake.");
    let s = r.screen_by(&own, &larder);
    let hazelnut = s
        .allergens
        .iter()
        .any(|f| f.allergen == larder::Allergen::Hazelnut);
    assert!(hazelnut, "{:?}", s.allergens);
    assert!(
        s.method.iter().any(|m| m.contains("wheat")),
        "{:?}",
        s.method
    );
    assert_eq!(s.told(&larder), "check the label");
    // No food there, or one of the lines.
    for method in [
        "Cream the oil and water until pale.",
        "Roll into walnut-sized balls.",
        "Roll pieces the size of a walnut.",
        "Stir until as thick as cream.",
        "Stir in the oil and the flour.",
    ] {
        let f = formula(&thins(method), Locale::Uk);
        let s = recipe::screen::screen(&f, &larder, None);
        let found: Vec<_> = s.allergens.iter().map(|f| f.allergen).collect();
        assert_eq!(found, [larder::Allergen::Wheat], "{method}");
    }
}

/// Harm 1: what carries gluten by one word, or by words joined by a hyphen, is told where only the
/// method names it; what the method says of the bake at hand is not.
#[test]
fn one_word_that_carries_gluten_is_told() {
    let larder = larder();
    let told = |title: &str, step: &str| {
        let text = format!(
            "{title}\n\n300 g rice flour\n200 g water\n5 g yeast\n\nMix and bake.\n{step}\n"
        );
        let f = formula(&text, Locale::Uk);
        recipe::screen::screen(&f, &larder, None).method
    };
    for step in [
        "Brush with soy-sauce.",
        "Brush with soy glaze.",
        "Brush with teriyaki.",
        "Scatter with granola.",
        "Top with crushed gingersnaps.",
        "Decorate with liquorice.",
    ] {
        assert_eq!(told("Rolls", step).len(), 1, "{step}");
    }
    for (title, step) in [
        ("Rolls", "Toast the bread and wrap it up."),
        ("Rolls", "Scatter with bitter chocolate."),
        ("Soft pita breads", "Cool the pitas."),
        ("Gingersnaps with lemon", "Cut the gingersnaps."),
        ("Croissants", "Shape the croissants."),
        ("Fresh pasta", "Cut into tagliatelle."),
    ] {
        assert!(told(title, step).is_empty(), "{title}: {step}");
    }
    // A sauce at the title's end is not the bake, and a bun is bought where no line is flour.
    for (title, step) in [
        ("Rice noodles in soy sauce", "Toss with the soy sauce."),
        ("Flatbreads and hoisin", "Brush with hoisin."),
    ] {
        let told = told(title, step);
        let places: Vec<&str> = told
            .iter()
            .filter_map(|t| t.split(" names").next())
            .collect();
        assert_eq!(places, ["step 2", "the title"], "{told:?}");
    }
    // What only the title promises is told too, but not the bake that it names.
    for title in ["Beer bread", "Loaf with barley malt glaze"] {
        assert!(!told(title, "Cool.").is_empty(), "{title}");
    }
    for title in ["Brioche buns", "Soft pretzels", "Cream crackers"] {
        assert!(told(title, "Cool.").is_empty(), "{title}");
    }
    // Of the title only what it ends in is the bake.
    let told = told("Gingersnap cheesecake", "Crush the gingersnaps.");
    assert_eq!(told.len(), 1, "{told:?}");
}

/// Harm 1, and its reverse: of a line with several foods only what is left is screened; the malt that
/// was replaced is not told of the water beside it, and one that stays is.
#[test]
fn a_food_that_was_replaced_is_not_told_of_its_neighbours() {
    let larder = larder();
    let bagels = "Bagels\n\n500 g bread flour\n300 g water\n6 g yeast\n10 g salt\n\nFor boiling: 2 litres water, 60 g barley malt syrup, 1 tbsp bicarbonate of soda\n\nMix and knead. Roll into ropes and join into rings. Chill overnight.\nHeat the oven to 230C. Bring the boiling ingredients to the boil. Boil the bagels for 1 minute. Bake for 20 minutes.\n";
    let r = reworked(bagels);
    let s = r.screen(&larder);
    let holds: Vec<&str> = s
        .findings
        .iter()
        .filter(|f| f.verdict == larder::Gluten::Contains)
        .map(|f| f.reason.as_str())
        .collect();
    assert!(holds.is_empty(), "{holds:?}");
    // The bake is of what was boiled, and strands want another hand.
    let notes = &r.components[0].method_notes;
    for words in [
        "Step 2 bakes",
        "Step 1 makes strands",
        "falls apart in a bath",
    ] {
        assert!(notes.iter().any(|n| n.text.contains(words)), "{words}");
    }
    let kept = "Broth\n\n100 g rice flour\n\nFor the broth: 1 litre water with zorbal malt, 1 tsp salt\n\nBoil.\n";
    let s = reworked(kept).screen(&larder);
    let malt = |f: &recipe::screen::Finding| f.verdict == larder::Gluten::Contains;
    assert!(s.findings.iter().any(malt));
}

/// Raw meat is done by its middle, whatever egg and crumbs coat it: no wobble, no batter.
#[test]
fn coated_meat_is_no_custard_and_no_batter() {
    let crumbed = "Crumbed chicken\n\n4 chicken breasts\n3 tbsp plain flour\n2 eggs\n100 g breadcrumbs\n\nDip in flour, egg and crumbs. Bake at 200C for 25 minutes.\n";
    let r = reworked(crumbed);
    let part = &r.components[0];
    let style = part.style.expect("a style");
    assert!(style.style.is_thickened(), "{}", style.style.key());
    let notes: Vec<&str> = part.method_notes.iter().map(|n| n.text.as_str()).collect();
    assert!(!notes.iter().any(|n| n.contains("wobbles")), "{notes:?}");
    assert!(notes.iter().any(|n| n.contains("probe it")), "{notes:?}");
    // Nor is a sponge with jam: no egg sets in it.
    let sponge = "Jam sponge\n\nCake\n200 g self-raising flour\n200 g butter\n200 g sugar\n4 eggs\n\nFilling\n100 g raspberry jam\n\nCream, beat in the eggs, fold in the flour. Bake at 180C for 30 minutes until just set. Fill with jam.\n";
    let notes = &reworked(sponge).components[0].method_notes;
    assert!(
        !notes.iter().any(|n| n.text.contains("wobble")),
        "{notes:?}"
    );
    assert!(
        notes
            .iter()
            .any(|n| n.text.contains("longer. The time is a guess")),
        "{notes:?}"
    );
    // Half of one flour and half of another: the wheat that is replaced is not told of the rice.
    for line in [
        "half wheat flour and half rice flour",
        "half rice flour and half wheat flour",
    ] {
        let text = format!("Thins\n\n500 g {line}\n300 g water\n100 g butter\n\nMix and bake.\n");
        let holds = reworked(&text).screen(&larder()).findings;
        let holds: Vec<_> = holds
            .iter()
            .filter(|f| f.verdict == larder::Gluten::Contains)
            .map(|f| f.reason.clone())
            .collect();
        assert!(holds.is_empty(), "{line}: {holds:?}");
    }
}

/// Harm 1: an own method is held against what the rework left, not against the original's list: a
/// wheat flour or malt that was replaced is named again at the baker's and the reader's peril.
#[test]
fn an_own_method_that_names_what_was_replaced_is_told() {
    let larder = larder();
    let r = reworked(
        "Malted tart\n\nPastry\n200 g plain flour\n100 g butter\n2 tbsp water\n\nFilling\n300 ml double cream\n3 eggs\n80 g caster sugar\n1 tbsp malt extract\n1 tbsp brandy\n\nRub in, line a tin, fill and bake at 150 C for 30 minutes.\n",
    );
    let told = |step: &str| {
        let own =
            recipe::own_method::steps(&format!("Rub the butter into the flour.\n{step}\nBake."));
        r.screen_by(&own, &larder).method
    };
    for step in [
        "Dust the bench with plain flour.",
        "Dust the bench with flour.",
        "Thicken with 2 tbsp all-purpose flour.",
        "Add a spoon of self-raising flour.",
        "Add 2 tbsp bread flour.",
        "Whisk cream, eggs, sugar and malt extract.",
        "Sprinkle with semolina.",
    ] {
        let found = told(step);
        assert_eq!(found.len(), 1, "{step}: {found:?}");
        assert!(found[0].starts_with("step 2 "), "{step}: {found:?}");
    }
    for step in [
        "Dust the bench with white rice flour.",
        "Whisk in the flour and the sugar.",
        "Whisk cream, eggs, sugar and molasses.",
        "Line the tin with the pastry.",
        "Fold in the flour blend.",
    ] {
        assert_eq!(told(step), Vec::<String>::new(), "{step}");
    }
    // What is on no line and only its label can tell is to be read.
    let own = recipe::own_method::steps("Rub in.\nSprinkle with crisped rice cereal.\nBake.");
    let s = r.screen_by(&own, &larder);
    assert!(
        s.whole_labels.iter().any(|w| w.contains("crisped rice")),
        "{:?}",
        s.whole_labels
    );
    assert!(!s.can_say_gluten_free);
}

/// Harm 6: what is there for its taste, or may be left out, is no liquid to set the water by.
#[test]
fn a_spirit_is_no_free_liquid() {
    for line in ["1 tbsp brandy", "1 tbsp dark rum", "2 tbsp milk (optional)"] {
        let text = format!(
            "Almond sponge\n\n125 g ground almonds\n100 g plain flour\n125 g butter\n125 g sugar\n2 eggs\n1 tsp baking powder\n{line}\n"
        );
        let r = reworked(&text);
        let c = &r.components[0];
        let before = r.formula.components[0].items.last().and_then(|i| i.grams);
        let after = c.lines.iter().find(|l| l.origin.is_some_and(|o| o.0 == 6));
        let (before, after) = (
            before.expect("grams"),
            after.and_then(|l| l.grams).expect("grams"),
        );
        assert!(
            (before.likely().as_grams() - after.likely().as_grams()).abs() < 1e-9,
            "{line}"
        );
    }
}

/// Harm 1 and 3: a namesake of a line, a part's name or a longer word hides nothing that the method
/// alone names.
#[test]
fn what_only_sounds_like_a_line_is_named_all_the_same() {
    let larder = larder();
    let screened = |lines: &str, step: &str| {
        let f = formula(&format!("Bake\n\n{lines}\n\n1. {step}\n"), Locale::Uk);
        recipe::screen::screen(&f, &larder, None)
    };
    let egg = |s: &recipe::screen::Screening| {
        s.allergens
            .iter()
            .any(|a| a.allergen == larder::Allergen::Egg)
    };
    assert!(egg(&screened(
        "200 g eggplant\n20 g olive oil",
        "Brush with egg and bake."
    )));
    assert!(egg(&screened(
        "Egg wash\n10 g water",
        "Brush with egg and bake."
    )));
    let s = screened(
        "200 g rice flour\n100 g butter",
        "Brush with worcestershire sauce and bake.",
    );
    assert!(
        s.whole_labels.iter().any(|w| w.contains("worcestershire")),
        "{:?}",
        s.whole_labels
    );
    assert!(!s.can_say_gluten_free);
    let s = screened("100 g kale\n100 g butter", "Add the ale and bake.");
    assert!(!s.method.is_empty());
}

/// Harm 1: bread, buns or toast that a dish is served with are bought, of wheat; flour in the list (the coating, the
/// sauce) makes no bread. What is baked is still called so: 'the hot cake' of semolina, 'serve the bread'.
#[test]
fn bread_that_a_dish_is_served_with_is_not_the_bake() {
    let named = |title: &str, flour: &str, method: &str| {
        let text = format!("{title}\n\n500 g chicken\n{flour}\n2 eggs\n1 tsp salt\n\n{method}\n");
        let f = formula(&text, Locale::Uk);
        let r = rework(f, &larder(), &Options::default());
        let s = r.screen(&larder());
        s.method
            .iter()
            .any(|m| m.contains("which no ingredient line holds"))
    };
    for method in [
        "Fry for 10 minutes and serve with bread.",
        "Fry for 10 minutes. Pile into a bun and eat hot.",
        "Toast the bread. Fry for 10 minutes and serve on the toast.",
        "Fry for 10 minutes, stuff into soft buns.",
        "Fry for 10 minutes and keep in a tin with a slice of bread.",
        "Lay on a sheet of ready-rolled puff pastry and bake for 20 minutes.",
        "Fry for 10 minutes. Crumble a biscuit over each.",
    ] {
        assert!(
            named("Fried chicken", "50 g plain flour", method),
            "{method}"
        );
        assert!(
            named("Chicken balls", "50 g ground almonds", method),
            "{method}"
        );
    }
    for (title, flour, method) in [
        (
            "Chicken bread",
            "500 g plain flour",
            "Bake for 40 minutes. Serve the bread warm.",
        ),
        (
            "Chicken farls",
            "500 g plain flour",
            "Bake for 40 minutes. Serve with butter while the bread is warm.",
        ),
        (
            "Orange and semolina cake",
            "90 g semolina",
            "Bake for 40 minutes. Prick the hot cake all over.",
        ),
        (
            "Chicken farls",
            "500 g plain flour",
            "Bake for 40 minutes. Cut, and butter each slice of bread. Freeze the frozen bread again never.",
        ),
    ] {
        assert!(!named(title, flour, method), "{title}: {method}");
    }
}
