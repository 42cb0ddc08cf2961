//! Choices of a line: each is screened, known or not, wherever it stands.

use super::of;
use larder::{Allergen, Gluten};

/// Whatever the larder does not know is a thing to check, as it is on a line of its own.
#[test]
fn a_choice_that_nobody_knows_is_a_thing_to_check() {
    for (text, name) in [
        ("200ml Zingo or water", "Zingo"),
        ("2 tbsp cocoa or Zingo", "Zingo"),
        ("2 tbsp cocoa (or Zingo)", "Zingo"),
        ("2 tbsp cocoa, or Zingo", "Zingo"),
        ("cocoa/Zingo", "Zingo"),
        ("cocoa and/or Zingo", "Zingo"),
        ("1 tbsp zingo or milk powder", "zingo"),
        ("1 tbsp quixo or cornflour", "quixo"),
        ("50 g jam, Zingo or honey", "Zingo"),
        ("50 g Zingo, jam or honey", "Zingo"),
        ("50 g jam, honey or Zingo", "Zingo"),
        ("50 g jam or honey or Zingo", "Zingo"),
        ("1 tbsp zingo or 2 tbsp milk", "zingo"),
        ("1 cup milk, or 1 cup zingo", "zingo"),
        ("a handful of walnuts or zingo pecans", "zingo pecans"),
    ] {
        let s = of(&format!("{text}\n100 g sugar\n"));
        assert_eq!(s.verdict, Gluten::Check, "{text}");
        assert!(
            s.open().any(|f| f.words.contains(name)),
            "{text}: {:?}",
            s.findings
        );
        assert!(s.whole_labels.iter().any(|l| l.contains(name)), "{text}");
        assert_eq!(s.ppm.high, None, "{text}");
    }
}

#[test]
fn words_of_no_food_are_no_choice() {
    for text in [
        "1 onion, sliced or diced",
        "200 g butter or margarine, softened",
        "2 tbsp water or so",
        "100 g smooth or crunchy peanut butter",
        "100 g fresh or frozen raspberries",
        "100 g red or white onion",
        "2 tbsp milk, or more as needed",
        "2 tbsp vegetable or sunflower oil",
        "1 tsp salt or to taste",
        "400 ml buttermilk, or milk soured with a squeeze of lemon",
        "100 g butter (or 1 cup oil + 1/4 cup honey)",
        "1 kg potatoes, Maris Piper",
        "100 g sugar (2 Tbs)",
    ] {
        let s = of(text);
        assert_eq!(s.verdict, Gluten::Free, "{text}: {:?}", s.findings);
    }
}

/// A word alone takes the name that another choice ends with.
#[test]
fn a_choice_of_one_word_takes_the_head_of_another() {
    for text in [
        "3 cups rice flour or all-purpose",
        "1 cup rice flour (or 1 cup AP flour + 2 tbsp cornstarch)",
    ] {
        let s = of(text);
        assert_eq!(s.verdict, Gluten::Contains, "{text}: {:?}", s.findings);
    }
}

#[test]
fn every_choice_brings_its_allergens() {
    for (text, allergen) in [
        ("100g crab or chicken", Allergen::Crustacean),
        ("300ml fish or vegetable stock", Allergen::Fish),
        ("1 tbsp satay or honey", Allergen::Peanut),
        ("100g chicken, crab or jam", Allergen::Crustacean),
        ("1 tbsp honey, jam or peanut butter", Allergen::Peanut),
    ] {
        let s = of(text);
        assert!(s.allergens.iter().any(|a| a.allergen == allergen), "{text}");
    }
    let s = of("1 tbsp honey or peanut butter");
    let peanut = s.allergens.iter().find(|a| a.allergen == Allergen::Peanut);
    assert!(peanut.is_some_and(|a| a.if_used));
}

/// Bought labelled, what nobody knows is at most 20 mg/kg of its line: 20 × 200 g / 300 g.
#[test]
fn a_choice_counts_in_the_figure_if_all_is_bought_labelled() {
    for text in ["200 g water or Zingo", "200 g water or oat flour"] {
        let s = of(&format!("{text}\n100 g sugar\n"));
        let (_, high) = s.ppm.if_labelled.expect("a bound");
        assert!((high - 20.0 * 200.0 / 300.0).abs() < 1e-9, "{text}: {high}");
    }
    let s = of("200 g water or milk\n100 g sugar\n");
    assert_eq!(s.ppm.high, Some(0.0));
}

/// Told by hand: a figure of a tin names no food.
#[test]
fn the_size_of_a_greased_tin_is_no_food() {
    let s = of(
        "300 g rice flour\n200 ml water\n\nMethod\n1. Mix. Pour in a greased 8½-by-4½-inch loaf pan.\n",
    );
    assert!(!s.whole_labels.iter().any(|l| l.contains("greased")));
    assert!(!format!("{s:?}").contains("names 'greased"), "{s:?}");
    let s = of("300 g rice flour\n200 ml water\n\nMethod\n1. Mix. Pour in a jar of zingo.\n");
    assert!(format!("{s:?}").contains("names 'zingo"));
}
