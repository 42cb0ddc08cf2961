use super::*;

#[track_caller]
fn says(key: &str, grams: f64, locale: Locale, want: &str) {
    let larder = Larder::built_in().expect("the built-in tables");
    let food = larder.by_key(key).expect("a food of the larder");
    let got = household(&larder, food, Mass::grams(grams), locale).map(|h| h.words);
    assert_eq!(got.as_deref(), Some(want), "{grams} g {key}");
}

/// Household weights of USDA SR28: 19335 sugar, 01145 butter, 01123 egg; NIST cup and spoons.
#[test]
fn weights_come_back_as_a_kitchen_says_them() {
    says("white_sugar", 200.0, Locale::Us, "1 cup");
    says("white_sugar", 133.0, Locale::Us, "⅔ cup");
    says("unsalted_butter", 227.0, Locale::Us, "2 sticks");
    says("unsalted_butter", 63.8, Locale::Us, "4½ tbsp");
    says("egg", 100.0, Locale::Us, "2 large eggs");
    says("egg", 70.0, Locale::Us, "1 large egg + 20 g beaten egg");
    says("egg", 20.0, Locale::Us, "20 g beaten egg");
    // As the grams beside it.
    says("egg_yolk", 8.46, Locale::Us, "8.5 g beaten egg yolk");
    says("baking_powder", 4.6, Locale::Us, "1 tsp");
    says("table_salt", 3.0, Locale::Us, "½ tsp");
}

/// A clove of garlic weighs 3 g and a stalk of celery 40 g in USDA SR28 11215 and 11143, where a head of garlic
/// is ten cloves: '4 garlics' is ten times too much.
#[test]
fn a_piece_is_called_what_it_is() {
    says("garlic", 12.0, Locale::Us, "4 garlic cloves");
    says("garlic", 3.0, Locale::Us, "1 garlic clove");
    says("celery", 100.0, Locale::Us, "2½ celery sticks");
    says("potato", 2.0 * 213.0, Locale::Us, "2 potatoes");
}

/// Coarse crumbs are lighter by the cup than fine ones: about 55 g and 108 g (USDA SR28 18079).
#[test]
fn coarse_crumbs_are_measured_as_coarse_ones() {
    says("gluten_free_panko", 14.0, Locale::Us, "¼ cup");
    says("gluten_free_breadcrumbs", 100.0, Locale::Us, "1 cup");
}

/// A UK kitchen has spoons and a jug, no cups.
#[test]
fn a_uk_kitchen_spoons_and_pours() {
    says("whole_milk", 479.0, Locale::Uk, "465 ml");
    says("whole_milk", 31.0, Locale::Uk, "2 tbsp");
    // 3.1 g to the spoon: 2.7 of them.
    says("instant_yeast", 8.4, Locale::Uk, "2¾ tsp");
    // A spoon of butter is 14.2 g: two of them, and no more than that.
    says("unsalted_butter", 28.0, Locale::Uk, "2 tbsp");
    let larder = Larder::built_in().expect("the built-in tables");
    for key in ["white_sugar", "cream_cheese", "brown_rice_flour"] {
        let food = larder.by_key(key).expect("a food of the larder");
        let got = household(&larder, food, Mass::grams(200.0), Locale::Uk);
        assert_eq!(got, None, "{key}");
    }
    let butter = larder.by_key("unsalted_butter").expect("butter");
    for locale in [Locale::Uk, Locale::Au, Locale::Metric] {
        let got = household(&larder, butter, Mass::grams(60.0), locale);
        assert_eq!(got, None, "{locale:?}");
    }
}

/// The grams beside a measure are rounded: what is measured back is what stands there. A tablespoon of lemon juice
/// is 15.2 g (SR28 09152): 46.6 g stand as 47 g, and 3 tbsp of 45.6 g are 3 % under them, of 46.6 g 2.1 %. On
/// scales to 5 g the same stands as 45 g: 1.3 % over.
#[test]
fn a_measure_is_of_the_grams_beside_it() {
    let larder = Larder::built_in().expect("the built-in tables");
    let juice = larder.by_key("lemon_juice").expect("juice");
    let by = |step: f64| {
        let scale = Scale { step, fine: None };
        let drawer = Drawer::from(Locale::Us).beside(scale);
        household(&larder, juice, Mass::grams(46.6), drawer).expect("spoons")
    };
    let (fine, coarse) = (by(1.0), by(5.0));
    assert_eq!((&*fine.words, &*coarse.words), ("3 tbsp", "3 tbsp"));
    assert!((fine.error - (45.6 / 47.0 - 1.0)).abs() < 1e-9, "{fine:?}");
    assert!(
        (coarse.error - (45.6 / 45.0 - 1.0)).abs() < 1e-9,
        "{coarse:?}"
    );
}

/// '1' and 'piece' of what is not sold by the piece are no measure.
#[test]
fn a_number_alone_is_no_measure() {
    let larder = Larder::built_in().expect("the built-in tables");
    let reader = crate::read::Reader::new(&larder, Locale::Us);
    for (text, want) in [
        ("1 8-ounce package cream cheese", None),
        ("1 cup cream cheese", Some("1 cup")),
        ("2 cloves garlic", Some("2 cloves")),
        ("3 garlic cloves, crushed", Some("3 garlic cloves")),
        ("4 rashers streaky bacon", Some("4 rashers")),
        ("3 eggs", Some("3 eggs")),
    ] {
        let got = as_written(&reader.line(text), &reader.line(text).items[0]);
        assert_eq!(got.as_deref(), want, "{text}");
    }
}

/// A blend's weight is that of the measure which the household column uses.
#[test]
fn a_blend_is_weighed_in_the_kitchens_own_cup() {
    let larder = Larder::built_in().expect("the built-in tables");
    let blends = crate::rework::blend::house(&larder);
    let of = |locale| {
        let (name, g) = measure_of_blend(&larder, &blends[0], locale).expect("a cup");
        (name, g.likely().as_grams())
    };
    let (name, us) = of(Locale::Us);
    assert_eq!(name, "A US cup");
    for locale in [Locale::Au, Locale::Metric] {
        let (name, own) = of(locale);
        assert_eq!(name, "A cup of 250 mL");
        assert!(
            (own / us - 250.0 / 236.588_236_5).abs() < 1e-6,
            "{own} {us}"
        );
        // One of it is one cup of the column.
        let one = of_blend(&larder, &blends[0], Mass::grams(own), locale);
        assert_eq!(one.expect("a cup").words, "1 cup");
    }
    let (name, own) = of(Locale::Uk);
    assert_eq!(name, "100 ml");
    assert!(
        (own / us - 100.0 / 236.588_236_5).abs() < 1e-6,
        "{own} {us}"
    );
}

#[test]
fn the_scales_of_the_kitchen_are_obeyed() {
    let on = |step, fine, g, finely| Scale { step, fine }.grams(Mass::grams(g), finely);
    assert_eq!(on(5.0, None, 437.29, false), "435");
    assert_eq!(on(5.0, Some(0.1), 437.29, false), "435");
    assert_eq!(on(1.0, None, 43.29, false), "43");
    assert_eq!(
        on(1.0, None, 4.329, true),
        "4.3",
        "a whole gram would miss too much"
    );
    assert_eq!(on(1.0, Some(0.01), 0.456, true), "0.46");
    // Flour and sugar go on the scale of 1 g, but for so little that a gram is far off.
    for (g, shown) in [
        (59.5, "60"),
        (73.4, "73"),
        (10.4, "10"),
        (8.46, "8.5"),
        (8.1, "8"),
    ] {
        assert_eq!(on(1.0, Some(0.1), g, false), shown);
    }
    let own = |fine, g| Scale { step: 1.0, fine }.shows(Mass::grams(g), false);
    assert_eq!(
        own(Some(0.1), 8.46),
        (8.5, false),
        "the fine scale shows it"
    );
    assert_eq!(own(None, 8.46), (8.5, true), "no scale of the kitchen does");
}

/// A reader has cups, halves, thirds and quarters of them, and spoons to an eighth of a
/// teaspoon; what they do not hold as it was written is measured back.
#[test]
fn only_what_spoons_hold_is_said_as_it_was_written() {
    let larder = Larder::built_in().expect("the built-in tables");
    let reader = crate::read::Reader::new(&larder, Locale::Us);
    for (text, kept) in [
        ("1 5/8 tsp salt", false),
        ("0.6 tsp ground ginger", false),
        ("3/8 cup honey", false),
        ("1.7 tbsp olive oil", false),
        ("⅓ tsp salt", false),
        ("1⅛ tsp salt", false),
        ("⅛ tsp salt", true),
        ("3 tsp baking powder", false),
        ("4 tsp baking powder", true),
        ("1½ tsp salt", true),
        ("0.33 cup sugar", true),
        ("2⅔ cups sugar", true),
        ("1½ tbsp honey", true),
        // The weight beside it is that of the middle.
        ("1–2 tsp salt", false),
        ("1-2 tablespoons milk", false),
        ("2-3 eggs", false),
        ("1½ pints milk", true),
        ("3 eggs", true),
    ] {
        let line = reader.line(text);
        assert!(as_written(&line, &line.items[0]).is_some(), "{text}");
        assert_eq!(as_spooned(&line, &line.items[0]).is_some(), kept, "{text}");
    }
}

#[test]
fn units_are_written_as_they_usually_are() {
    let larder = Larder::built_in().expect("the built-in tables");
    let reader = crate::read::Reader::new(&larder, Locale::Uk);
    for (text, words) in [
        ("1 dsp sugar", "1 dessertspoon"),
        ("2 dsp. sugar", "2 dessertspoons"),
        ("1 level tablespoons sugar", "1 level tbsp"),
        ("2 tablespoon sugar", "2 tbsp"),
        ("1 T sugar", "1 tbsp"),
        ("2 Tbsp. sugar", "2 tbsp"),
        ("1tsp salt", "1 tsp"),
        ("3 heaped teaspoonfuls sugar", "3 heaped tsp"),
        ("½ cups sugar", "½ cup"),
        ("1½ cup sugar", "1½ cups"),
        ("2 c sugar", "2 cups"),
        ("1-2 clove garlic", "1-2 cloves"),
        ("2 tablespoons sugar", "2 tablespoons"),
        ("2 tsp. sugar", "2 tsp"),
        ("1 cup sugar", "1 cup"),
        ("a pinch of salt", "a pinch"),
    ] {
        let line = reader.line(text);
        assert_eq!(
            as_written(&line, &line.items[0]).as_deref(),
            Some(words),
            "{text}"
        );
    }
}

/// Rounding of the bench scale, common practice: 437.29 g is printed as 437 g.
#[test]
fn no_false_precision() {
    assert_eq!(scale_grams(Mass::grams(437.29), false), "437");
    assert_eq!(scale_grams(Mass::grams(43.29), false), "43");
    assert_eq!(scale_grams(Mass::grams(8.46), false), "8.5");
    assert_eq!(scale_grams(Mass::grams(4.329), true), "4.3");
    assert_eq!(scale_grams(Mass::grams(2.0), true), "2");
    assert_eq!(scale_grams(Mass::grams(26.57), true), "26.6");
    // A half goes up, on every page.
    assert_eq!(scale_grams(Mass::grams(146.5), false), "147");
    assert_eq!(scale_grams(Mass::grams(0.25), true), "0.3");
}

#[test]
fn what_no_scale_shows_is_a_pinch() {
    let words = |g| weight(Mass::grams(g), true);
    assert_eq!(words(0.03), "a pinch, under 0.1 g");
    assert_eq!(words(0.06), "0.1 g");
    assert_eq!(words(0.0), "0 g");
    let spread = Spread::new(Mass::grams(0.01), Mass::grams(0.03), Mass::grams(0.2));
    assert_eq!(spread_grams(spread, true), PINCH);
}

#[test]
fn an_error_is_said_in_words_where_it_matters() {
    let shown = |error: f64| {
        let words = "1½ tsp".to_owned();
        Household { words, error }.shown()
    };
    assert_eq!(shown(0.02), "1½ tsp");
    assert_eq!(shown(-0.03), "1½ tsp");
    assert_eq!(shown(0.09), "1½ tsp (9 % over the weight)");
    assert_eq!(shown(-0.08), "1½ tsp (8 % under the weight)");
}

/// EU 589/2008: a large egg weighs 63–73 g in its shell. Eggs are told in the size their line names, also where
/// a yolk goes with them.
#[test]
fn eggs_are_of_the_size_their_line_names() {
    let larder = Larder::built_in().expect("the built-in tables");
    let reader = crate::read::Reader::new(&larder, Locale::Uk);
    for (text, want) in [
        ("4 large eggs", "4 large eggs"),
        ("3 large eggs plus 1 yolk", "3 large eggs"),
        ("2 small eggs", "2 small eggs"),
        ("2 eggs", "2 medium eggs"),
    ] {
        let (weighed, _) = crate::weigh::line(&reader.line(text), &larder, Locale::Uk);
        let got = weighed[0].measured(&larder, Locale::Uk).map(|h| h.words);
        assert_eq!(got.as_deref(), Some(want), "{text}");
    }
}

/// A butcher's pound of mince and a bought box of strawberries go on the scale; a cup that a recipe gives stays.
#[test]
fn meat_and_fruit_bought_by_weight_are_weighed() {
    let larder = Larder::built_in().expect("the built-in tables");
    let reader = crate::read::Reader::new(&larder, Locale::Us);
    let measured = |line: &str| {
        let text = format!("Pie\n\n300 g plain flour\n{line}\n\nMethod\n1. Mix and bake.\n");
        let recipe = crate::read::recipe(&text, &reader).expect("a recipe");
        let formula = crate::weigh::formula(recipe, &larder, Locale::Us).expect("weighed");
        let r = crate::rework::rework(formula, &larder, &crate::rework::Options::default());
        let at = r.components[0]
            .lines
            .iter()
            .find(|l| l.origin == Some((1, 0)));
        r.household(0, at.expect("the line"), &larder, Locale::Us)
            .map(|h| h.words)
    };
    assert_eq!(measured("1 lb ground pork"), None);
    assert_eq!(measured("1 lb minced beef"), None);
    assert_eq!(measured("2 lb strawberries, sliced"), None);
    assert!(measured("2 cups strawberries, sliced").is_some_and(|m| m.contains("cups")));
}
