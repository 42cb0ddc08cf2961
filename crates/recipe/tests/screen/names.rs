//! Names that a line has beside its food: behind a comma, in brackets.

use super::of;
use larder::{Allergen, Gluten};

#[test]
fn a_makers_name_behind_a_comma_or_in_brackets_is_a_thing_to_check() {
    for (text, name) in [
        ("1 tbsp cocoa (I use Zingo)", "Zingo"),
        ("2 tbsp cocoa (Zingo)", "Zingo"),
        ("100g peas, tempura", "tempura"),
        ("200g mince, Quixo", "Quixo"),
        ("100 g dark chocolate, preferably Wobblix", "Wobblix"),
    ] {
        let s = of(&format!("{text}\n100 g sugar\n"));
        assert_eq!(s.verdict, Gluten::Check, "{text}");
        assert!(
            s.open().any(|f| f.words == name),
            "{text}: {:?}",
            s.findings
        );
        assert_eq!(s.ppm.high, None, "{text}");
    }
}

#[test]
fn words_of_preparation_are_no_makers() {
    for text in [
        "100 g Butter, Softened",
        "200 g Unsalted Butter, Julienned",
        "100 g butter, at Room Temperature",
        "2 onions (Optional)",
        "1 onion (See note below)",
        "100 g sugar (Any kind will do)",
        "2 Eggs, Beaten",
        "300 ml Greek yoghurt, Full Fat",
    ] {
        let s = of(text);
        assert_eq!(s.verdict, Gluten::Free, "{text}: {:?}", s.findings);
    }
}

/// 'White sauce' over its own list holds what the list holds.
#[test]
fn a_heading_brings_no_gluten_of_its_own() {
    let s = of("200 g minced lamb\nWhite sauce\n60 g butter\n60 g rice flour\n600 ml milk\n");
    assert_ne!(s.verdict, Gluten::Contains, "{:?}", s.findings);
}

/// A tin is no bread, and a beer of the title may be the lager of the list; a bread still counts.
#[test]
fn tools_and_kinds_of_a_drink_are_not_named_outside_the_list() {
    let told = |title: &str, line: &str, step: &str| {
        let text =
            format!("{title}\n\nIngredients\n{line}\n100 g rice flour\n\nMethod\n1. {step}\n");
        super::of_text(&text, None).method
    };
    for (title, line, step) in [
        ("Trial", "2 eggs", "Bake in two brioche tins."),
        ("Beer trial", "200 ml lager", "Mix and bake."),
    ] {
        assert_eq!(told(title, line, step), [""; 0], "{title}: {step}");
    }
    assert_eq!(
        told("Trial", "2 eggs", "Crumble two brioche over it.").len(),
        1
    );
    assert_eq!(told("Beer trial", "200 ml water", "Mix and bake.").len(), 1);
}

/// Fish goes by hundreds of names: a fillet of what nobody knows may be one, and is asked about in plain words.
#[test]
fn a_fillet_of_what_is_not_known_may_be_fish() {
    for line in ["4 fillets", "4 zander fillets", "6 fillets (skinless)"] {
        let s = of(line);
        let fish = s.allergens.iter().find(|a| a.allergen == Allergen::Fish);
        assert!(
            fish.is_some_and(|a| !a.certain),
            "{line}: {:?}",
            s.allergens
        );
        let reason = &s.findings[0].reason;
        assert!(
            reason.contains("write which fish or meat it is"),
            "{line}: {reason}"
        );
    }
    // Of a chicken it is known what it is, and 'fillings' are no fillets.
    for line in ["4 chicken breast fillets", "200 g harrow fillings"] {
        let s = of(line);
        assert!(
            s.allergens.iter().all(|a| a.allergen != Allergen::Fish),
            "{line}"
        );
    }
}
