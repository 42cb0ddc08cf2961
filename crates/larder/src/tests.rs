use super::*;
use std::collections::HashMap;

fn larder() -> Larder {
    Larder::built_in().expect("the built-in tables")
}

#[track_caller]
fn finds(text: &str, locale: Locale, key: &str) {
    let larder = larder();
    let found = larder
        .find(text, locale)
        .map(|m| larder.food(m.food).key.clone());
    assert_eq!(found.as_deref(), Some(key), "{text}");
}

#[test]
fn every_table_is_read() {
    let larder = larder();
    assert!(larder.foods.len() >= 250, "{} foods", larder.foods.len());
}

#[test]
fn names_of_the_issue() {
    use Locale::{Uk, Us};
    finds("unsalted butter, softened and cubed", Us, "unsalted_butter");
    finds("strong white flour", Uk, "bread_flour");
    finds("caster sugar", Uk, "caster_sugar");
    finds("AP flour", Us, "all_purpose_flour");
    finds("bicarb", Uk, "baking_soda");
    finds("cornflour", Uk, "corn_starch");
    finds("cornflour", Locale::Au, "corn_starch");
    finds("corn flour", Us, "corn_flour");
    finds("flour, plain", Uk, "all_purpose_flour");
    finds("brown sugar, packed", Us, "light_brown_sugar");
}

#[test]
fn an_unknown_food_is_not_given_a_name() {
    let larder = larder();
    assert_eq!(larder.find("florble powder", Locale::Us), None);
    let near = larder.find("buttter", Locale::Us).expect("a letter away");
    assert_eq!(near.certainty, Certainty::Near);
    let vegan = larder.find("vegan lard", Locale::Us);
    assert!(vegan.is_none_or(|m| m.certainty != Certainty::Sure));
}

/// Two foods must not answer to one name in one locale: it would be a tie on every line.
#[test]
fn no_name_is_claimed_twice() {
    let larder = larder();
    let mut doubles = Vec::new();
    for id in larder.ids() {
        for locale in Locale::ALL {
            if let Some(m) = larder.find(&larder.food(id).name, locale)
                && (m.food != id && locale == Locale::Us || m.certainty == Certainty::Tie)
            {
                doubles.push(format!(
                    "{} -> {} {:?}",
                    larder.food(id).key,
                    larder.food(m.food).key,
                    m.certainty
                ));
            }
        }
    }
    doubles.dedup();
    assert!(doubles.is_empty(), "{doubles:#?}");
}

/// What a kitchen is shown, it can write: in its own country's words the name is this food again,
/// without a doubt.
#[test]
fn every_name_shown_finds_its_food() {
    let mut wrong = Vec::new();
    for locale in Locale::ALL {
        let larder = larder().in_words_of(locale);
        for id in larder.ids() {
            let name = &larder.food(id).name;
            let found = larder.find(name, locale);
            let sure = |m: &Match| m.food == id && m.certainty == Certainty::Sure;
            if !found.as_ref().is_some_and(sure)
                || larder.named(name) != Some(id)
                || larder.usual.contains_key(&id) && larder.search(name, 1) != [id]
                || larder.also(id).contains(&name.as_str())
            {
                let as_food = found.map(|m| (&larder.food(m.food).key, m.certainty));
                wrong.push(format!("{} {name}: {as_food:?}", locale.key()));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// A name shown in one country is never shown for another food in the next: it can be typed in
/// any kitchen.
#[test]
fn no_name_shown_is_that_of_two_foods() {
    let mut names: HashMap<String, FoodId> = HashMap::new();
    for locale in Locale::ALL {
        let larder = larder().in_words_of(locale);
        for id in larder.ids() {
            let name = larder.food(id).name.to_lowercase();
            assert_eq!(*names.entry(name.clone()).or_insert(id), id, "{name}");
        }
    }
}

#[test]
fn foods_are_called_as_in_the_country_and_stay_what_they_are() {
    let us = larder();
    for (key, names) in [
        (
            "all_purpose_flour",
            [
                "all-purpose flour",
                "all-purpose flour",
                "plain flour",
                "plain flour",
            ],
        ),
        (
            "corn_starch",
            ["cornstarch", "corn starch", "cornflour", "maize cornflour"],
        ),
        (
            "icing_sugar",
            [
                "powdered sugar",
                "icing sugar",
                "icing sugar",
                "icing sugar",
            ],
        ),
        (
            "heavy_cream",
            [
                "heavy cream",
                "heavy cream",
                "whipping cream",
                "pouring cream",
            ],
        ),
    ] {
        for (locale, name) in Locale::ALL.into_iter().zip(names) {
            let there = us.clone().in_words_of(locale);
            let id = there.by_key(key).expect("a food of the table");
            assert_eq!(there.food(id).name, name, "{key} {locale:?}");
            assert_eq!((there.locale(), us.by_key(key)), (locale, Some(id)));
        }
    }
    // There and back: nothing of a food but its name has changed.
    let there = us.clone().in_words_of(Locale::Uk);
    for id in us.ids() {
        let named = Food {
            name: us.food(id).name.clone(),
            ..there.food(id).clone()
        };
        assert_eq!(&named, us.food(id));
    }
    let back = there.in_words_of(Locale::Metric);
    let icing = back.by_key("icing_sugar").expect("a food");
    assert_eq!(back.food(icing).name, "icing sugar");
    assert!(back.also(icing).contains(&"powdered sugar"));
}

/// Words for foods that are American alone, and those that Australia shares; a name that holds one
/// and is said everywhere is kept. Common knowledge of the trade, no source.
#[test]
fn no_kitchen_outside_america_is_shown_an_american_name() {
    const AMERICAN: [&str; 42] = [
        "all-purpose",
        "whole wheat",
        "self-rising",
        "cornstarch",
        "corn starch",
        "corn flour",
        "powdered sugar",
        "confectioners",
        "superfine",
        "baking soda",
        "heavy cream",
        "light brown sugar",
        "cookie",
        "fiber",
        "color",
        "flavor",
        "labeled",
        "nonfat",
        "flaxseed",
        "pie crust",
        "pie shell",
        "applesauce",
        "unflavored",
        "licorice",
        "chili ",
        "cilantro",
        "arugula",
        "rutabaga",
        "scallion",
        "shrimp",
        "ground beef",
        "ground pork",
        "ground meat",
        "phyllo",
        "ladyfinger",
        "gingersnap",
        "crystallized",
        "hard cider",
        "celery root",
        "coffee creamer",
        "simple syrup",
        "candied citrus",
    ];
    const SHARED: [&str; 14] = [
        "light cream",
        "canola",
        "zucchini",
        "eggplant",
        "canned",
        "skim ",
        "soy ",
        "shortening",
        "semisweet",
        "peanut oil",
        "sour cream",
        "tomato paste",
        "active dry",
        "imitation vanilla",
    ];
    const KEEP: [&str; 3] = ["soy sauce", "light cream cheese", "soft light brown sugar"];
    for locale in [Locale::Uk, Locale::Au] {
        let larder = larder().in_words_of(locale);
        let more: &[&str] = match locale {
            Locale::Uk => &SHARED,
            _ => &[],
        };
        let shown: Vec<&str> = larder
            .ids()
            .map(|id| &*larder.food(id).name)
            .filter(|name| !KEEP.contains(name))
            .filter(|name| {
                AMERICAN
                    .iter()
                    .chain(more)
                    .any(|w| format!("{name} ").contains(w))
            })
            .collect();
        assert!(shown.is_empty(), "{locale:?}: {shown:?}");
    }
}

/// The kitchen's own name for a food is its name in every country's words.
#[test]
fn an_own_name_stays() {
    let own = OwnEntry {
        key: "corn_starch".to_owned(),
        name: Some("Harrow starch".to_owned()),
        ..OwnEntry::default()
    };
    let here = larder().with_own(&[own]).expect("an own entry");
    for locale in Locale::ALL {
        let here = here.clone().in_words_of(locale);
        let starch = here.by_key("corn_starch").expect("a food");
        assert_eq!(here.food(starch).name, "Harrow starch");
    }
}

/// Weights of the curated table that name an SR28 row hold that row's own figure.
#[test]
fn household_weights_hold_the_usda_figure() {
    let larder = larder();
    let mut missed = Vec::new();
    for id in larder.ids() {
        let CompositionRow::Sr28(ndb) = larder.food(id).composition else {
            continue;
        };
        let food = sr28::food(ndb).expect("checked when read");
        // Rows that weigh both whole and ground pieces serve two of our foods: no one figure.
        if food.portions().any(|p| p.unit.contains("whole")) {
            continue;
        }
        for (word, unit) in [("cup", "cup"), ("tbsp", "tbsp"), ("tsp", "tsp")] {
            let Some(m) = larder.measure(id, word, State::Usual) else {
                continue;
            };
            if !m.source.contains(&format!("{ndb:05}")) {
                continue;
            }
            let figures: Vec<f64> = food
                .portions()
                .filter(|p| p.unit.split([' ', ',']).next() == Some(unit))
                .map(|p| p.grams / p.amount)
                .collect();
            let inside = figures.iter().any(|g| m.grams.holds(Mass::grams(*g)));
            if !figures.is_empty() && !inside {
                missed.push(format!(
                    "{} {word}: {:?} not in {:?}",
                    larder.food(id).key,
                    figures,
                    m.grams
                ));
            }
        }
    }
    assert!(missed.is_empty(), "{missed:#?}");
}

/// A cup weight and a spoon weight of one food must not contradict each other wildly. Leaves
/// are loose in a cup and chopped in a spoon: left out.
#[test]
fn cups_and_spoons_agree_within_half() {
    let larder = larder();
    let mut odd = Vec::new();
    for id in larder
        .ids()
        .filter(|id| !["basil", "mint", "dill"].contains(&&*larder.food(*id).key))
    {
        let per = |w: &str| {
            larder
                .measure(id, w, State::Usual)
                .map(|m| m.grams.likely().as_grams())
        };
        let mut rates: HashMap<&str, f64> = HashMap::new();
        for (w, n) in [("cup", 48.0), ("tbsp", 3.0), ("tsp", 1.0)] {
            if let Some(g) = per(w) {
                rates.insert(w, g / n);
            }
        }
        let (low, high) = rates
            .values()
            .fold((f64::MAX, 0.0f64), |(l, h), &v| (l.min(v), h.max(v)));
        if high > 1.5 * low && rates.len() > 1 {
            odd.push(format!("{}: {rates:?}", larder.food(id).key));
        }
    }
    assert!(odd.is_empty(), "{odd:#?}");
}

#[test]
fn what_spoils_in_the_warm() {
    let larder = Larder::built_in().expect("the built-in tables");
    let spoils = |key: &str| larder.food(larder.by_key(key).expect(key)).spoils();
    for key in [
        "egg",
        "whole_milk",
        "double_cream",
        "yogurt",
        "cream_cheese",
        "feta",
        "mozzarella",
        "grated_cheese",
        "paneer",
        "khoya",
        "rasgulla",
    ] {
        assert!(spoils(key), "{key}");
    }
    for key in [
        "unsalted_butter",
        "cheddar",
        "parmesan",
        "water",
        "sorghum_flour",
    ] {
        assert!(!spoils(key), "{key}");
    }
}

/// Paneer, khoya, chhena and ghee are made of milk; gulab jamun and semiya hold wheat (common practice); tempeh is
/// soya, shrimp paste shrimps. 'Vermicelli' without 'rice' is wheat, a soda bread no soda, chaas no chia.
#[test]
fn staples_of_other_kitchens_bring_their_allergens() {
    use Allergen::{Barley, Crustacean, Egg, Milk, Mustard, Soy, Wheat};
    let larder = larder();
    for (text, allergen) in [
        ("paneer, cubed", Milk),
        ("grated khoya", Milk),
        ("mawa", Milk),
        ("chhena", Milk),
        ("hung curd", Milk),
        ("dahi", Milk),
        ("chaas", Milk),
        ("desi ghee", Milk),
        ("tinned rasgulla", Milk),
        ("labneh", Milk),
        ("bocconcini", Milk),
        ("gulab jamun", Wheat),
        ("semiya", Wheat),
        ("vermicelli", Wheat),
        ("dalia", Wheat),
        ("puri", Wheat),
        ("soda bread", Wheat),
        ("lamingtons", Wheat),
        ("malt biscuits", Barley),
        ("semolina crumbs", Wheat),
        ("tempeh", Soy),
        ("shrimp paste", Crustacean),
        ("salad cream", Egg),
        ("salad cream", Mustard),
    ] {
        let found = larder.find(text, Locale::Uk).expect(text);
        assert_eq!(found.certainty, Certainty::Sure, "{text}");
        let food = larder.food(found.food);
        assert!(
            food.allergens.contains(&(allergen, false)),
            "{text}: {}",
            food.key
        );
    }
    finds("rice vermicelli", Locale::Us, "rice_noodles");
    // Crumbs are no flour of a dough.
    finds("semolina crumbs", Locale::Us, "dried_breadcrumbs");
    finds("drinking chocolate", Locale::Uk, "drinking_chocolate");
}

/// What is minced is of its own animal; a cut is no mince, dried peas are no fresh ones.
#[test]
fn a_mince_is_of_its_own_meat() {
    let larder = Larder::built_in().expect("the built-in tables");
    let key = |text: &str, locale| {
        let found = larder.find(text, locale).expect(text);
        assert_eq!(found.certainty, Certainty::Sure, "{text}");
        larder.food(found.food).key.clone()
    };
    for (text, want) in [
        ("lamb mince", "minced_lamb"),
        ("minced turkey", "minced_turkey"),
        ("ground veal", "minced_veal"),
        ("goat mince", "minced_goat"),
        ("pork belly, sliced", "pork_belly"),
        ("dried marrowfat peas", "dried_peas"),
        ("beef mince", "minced_beef"),
        ("good quality beef skirt", "stewing_beef"),
        ("diced chuck steak", "stewing_beef"),
        ("mince", "minced_beef"),
        ("frozen peas", "peas"),
    ] {
        assert_eq!(key(text, Locale::Uk), want, "{text}");
    }
    for text in ["AP", "AP flour", "all purp flour", "all purp"] {
        assert_eq!(key(text, Locale::Us), "all_purpose_flour", "{text}");
    }
}
