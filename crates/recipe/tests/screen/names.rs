//! Names that a line has beside its food: behind a comma, in brackets.

use super::of;
use larder::Gluten;

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
