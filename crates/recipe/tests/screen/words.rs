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

/// What a step names that no line holds: findings, allergens and labels to read.
fn on_no_line(line: &str, step: &str) -> Vec<String> {
    let s = screened(&format!("200 g rice flour\n{line}"), step);
    let from = s.allergens.iter().flat_map(|a| &a.from);
    let told = from.chain(&s.ppm.unknown);
    let told = told.filter(|t| t.contains("on no line")).cloned();
    s.method.iter().cloned().chain(told).collect()
}

/// 'Scatter the nuts over' means the pecans of the list; nothing of another kind, and no other nut by its name.
#[test]
fn a_food_called_by_its_kind_is_that_of_the_list() {
    for (line, step) in [
        ("100 g pecans", "Scatter the nuts over."),
        ("100 g pecans", "Sprinkle with the chopped nuts."),
        ("20 g poppy seeds", "Add the seeds."),
        ("100 g sultanas", "Add the dried fruit."),
        ("80 g gruyère", "Sprinkle with the cheese."),
        ("1 tsp ground cinnamon", "Add the spices."),
        ("250 g minced beef", "Add the meat."),
        ("30 ml rum", "Add the alcohol."),
    ] {
        let got = on_no_line(line, step);
        assert!(got.is_empty(), "{line}, {step}: {got:?}");
    }
    for (line, step) in [
        // A coconut is no nut of a baker's, and fish no meat.
        ("100 g desiccated coconut", "Scatter the nuts over."),
        ("100 g pecans", "Scatter the walnuts over."),
        ("100 g pecans", "Add the seeds."),
        ("20 g poppy seeds", "Scatter the nuts over."),
        // Cocoa is no bar that melts, a fresh plum not dried, thyme no fruit.
        ("20 g cocoa powder", "Add the melted chocolate."),
        ("200 g plums", "Add the dried fruit."),
        ("1 tsp dried thyme", "Add the dried fruit."),
        ("200 g salmon", "Add the meat."),
        ("50 ml water", "Sprinkle with the cheese."),
    ] {
        let got = on_no_line(line, step);
        assert!(!got.is_empty(), "{line}, {step}");
    }
}
