//! What the words of a method and a title name, and what they only call so.

use super::{has, of_text};
use larder::Allergen;

fn screened(lines: &str, step: &str) -> recipe::screen::Screening {
    of_text(&format!("Trial\n\n{lines}\n\nMethod\n1. {step}\n"), None)
}

/// 'The biscuits' of the method are the ginger nuts of the list; biscuits beside gluten-free ones are not.
#[test]
fn biscuits_are_those_of_a_line() {
    for (line, step) in [
        ("200 g ginger nuts", "Crush the biscuits."),
        ("200 g digestives", "Press the biscuit crumbs into the tin."),
        ("200 g graham crackers", "Crush the cookies."),
        ("200 g ginger nut biscuits", "Serve with biscuits."),
    ] {
        let s = screened(&format!("{line}\n100 g butter"), step);
        assert!(s.method.is_empty(), "{line}: {:?}", s.method);
        assert!(
            !s.allergens
                .iter()
                .any(|a| a.from.iter().any(|f| f.contains("on no line"))),
            "{line}"
        );
    }
    for (line, step) in [
        ("200 g sugar", "Crush the biscuits."),
        ("200 g ginger nuts", "Serve with bread."),
    ] {
        let s = screened(&format!("{line}\n100 g butter"), step);
        assert!(!s.method.is_empty(), "{line}: {step}");
    }
}

#[test]
fn sizes_are_no_nuts() {
    for step in [
        "Pipe 24 walnuts on the tray.",
        "Pipe walnuts of choux.",
        "Roll into walnuts. Shape into about 20 small hazelnuts.",
        "Divide into hazelnut-size pieces, the size of a walnut.",
        "Shape into walnut-sized balls and almond-sized ones.",
        "Divide the dough into 24 walnuts.",
    ] {
        let s = screened("100 g rice flour\n100 g butter", step);
        for nut in [Allergen::Walnut, Allergen::Hazelnut, Allergen::Almond] {
            assert_eq!(has(&s, nut), None, "{step}");
        }
    }
    for step in [
        "Press a walnut into each.",
        "Roll walnuts into the dough.",
        "Roll in chopped walnuts.",
        "Stir in 24 walnuts.",
        "Pipe round and top with walnuts.",
        "Stir into the walnuts.",
    ] {
        let s = screened("100 g rice flour\n100 g butter", step);
        assert_eq!(has(&s, Allergen::Walnut), Some(false), "{step}");
    }
}
