use crate::{Certainty, Larder};
use quantity::Locale;

/// What a food is free of is not in it, and is not its name.
#[test]
fn what_a_thing_is_free_of_is_no_name() {
    let larder = Larder::built_in().expect("the built-in tables");
    let key = |t: &str| {
        let found = larder.find(t, Locale::Uk)?;
        Some(larder.food(found.food).key.clone())
    };
    assert_eq!(key("gluten-free wobble"), None);
    assert_eq!(
        key("gluten-free plain flour").as_deref(),
        Some("gluten_free_flour_blend")
    );
    for text in ["2 eggs free range", "2 eggs free run", "2 eggs, free-run"] {
        assert_eq!(key(text).as_deref(), Some("egg"), "{text}");
    }
    let sure = |t| larder.find(t, Locale::Uk).map(|m| m.certainty);
    assert_eq!(sure("2 eggs free run"), Some(Certainty::Sure));
    assert_eq!(key("salt free flowing").as_deref(), Some("table_salt"));
    let mentions = |t| larder.names().mentions(t, Locale::Uk).len();
    assert_eq!(mentions("serve with seitan free of salt"), 2);
    assert_eq!(mentions("a gluten free day"), 0);
    assert!(
        larder
            .names()
            .mentions("a gluten-free day", Locale::Uk)
            .is_empty()
    );
}

#[test]
fn plain_descriptions_change_nothing_and_others_do() {
    let larder = Larder::built_in().expect("the built-in tables");
    let certainty = |t: &str| larder.find(t, Locale::Uk).map(|m| m.certainty);
    for text in [
        "vintage cheddar",
        "v ripe bananas",
        "corn-fed chicken breast",
        "Danish butter",
        "Italian-style mascarpone",
        "carbonate of soda",
        "mixed seeds (sunflower, pumpkin and linseed)",
    ] {
        assert_eq!(certainty(text), Some(Certainty::Sure), "{text}");
    }
    for text in [
        "vegan lard",
        "dairy-free cheddar",
        "chicken-style butter",
        "puffed milk",
    ] {
        assert_ne!(certainty(text), Some(Certainty::Sure), "{text}");
    }
}

/// A name that begins within a bracket has it whole.
#[test]
fn a_bracket_stays_whole() {
    let larder = Larder::built_in().expect("the built-in tables");
    for (text, want) in [
        ("(raw) milk", "(raw) milk"),
        ("plain (all-purpose) flour", "(all-purpose) flour"),
        ("(unsalted, cold) butter", "(unsalted, cold) butter"),
        ("(2 ripe) mangoes", "mangoes"),
        ("butter (cold)", "butter"),
    ] {
        let found = larder.find(text, Locale::Uk).expect(text);
        assert_eq!(&text[found.span], want, "{text}");
    }
}

/// Bitters are no pint of bitter.
#[test]
fn bitters_are_no_beer() {
    let larder = Larder::built_in().expect("the built-in tables");
    let key = |t: &str| {
        let found = larder.find(t, Locale::Uk)?;
        Some(larder.food(found.food).key.clone())
    };
    assert_eq!(key("bitter").as_deref(), Some("beer"));
    for text in ["bitters", "orange bitters"] {
        assert_eq!(key(text).as_deref(), Some("bitters"), "{text}");
    }
}

/// A free-range egg is an egg, so a free-range egg white is an egg white; soya milk is no milk, so soya milk
/// chocolate is not read as milk chocolate.
#[test]
fn words_that_change_nothing_change_no_part_either() {
    let larder = Larder::built_in().expect("the built-in tables");
    let found = |t: &str| {
        let found = larder.find(t, Locale::Uk)?;
        Some((larder.food(found.food).key.clone(), found.certainty))
    };
    for (text, want) in [
        ("free-range egg whites", "egg_white"),
        ("large free-range organic egg whites", "egg_white"),
        ("free range egg yolks, beaten", "egg_yolk"),
        ("pasteurised egg yolks", "egg_yolk"),
        ("fresh egg yolk", "egg_yolk"),
        ("free-range eggs", "egg"),
        ("pasteurised egg white", "egg_white"),
    ] {
        let sure = Some((want.to_owned(), Certainty::Sure));
        assert_eq!(found(text), sure, "{text}");
    }
    assert_eq!(found("soya milk chocolate"), None);
    let said = "whisk the free-range egg whites";
    let mentions = larder.names().mentions(said, Locale::Uk);
    assert_eq!(larder.food(mentions[0].0).key, "egg_white");
}
