//! Foods that a line names beside its ingredients.

use super::{has, of};
use larder::{Allergen, Gluten};

/// A line after one of rice flour: no word of it is of the bake itself.
fn screened(line: &str) -> recipe::screen::Screening {
    of(&format!("200 g rice flour\n{line}"))
}

#[test]
fn a_food_behind_a_comma_or_in_brackets_is_told() {
    use Allergen::{Barley, Celery, Egg, Fish, Milk, Mustard, Soy, Wheat};
    for (line, allergen, gluten) in [
        ("1 tbsp jam, digestive biscuits", Wheat, true),
        ("3 eggs (or 1 Madeira cake)", Wheat, true),
        ("100 g butter, plus crackers for the top", Wheat, true),
        ("200 g leeks, carrots and celery", Celery, false),
        ("2 chicken thighs, soy sauce", Soy, true),
        ("4 tomatoes, toasted baguette to serve", Wheat, true),
        ("200 ml water (or stout)", Barley, true),
        ("1 lemon, anchovies, parsley", Fish, false),
        ("2 apples, a beaten egg", Egg, false),
        ("100 g rocket, mustard, salt", Mustard, true),
        ("300 g potatoes, warm milk", Milk, false),
    ] {
        let s = screened(line);
        assert!(has(&s, allergen).is_some(), "{line}: {:#?}", s.allergens);
        if gluten {
            assert!(s.verdict != Gluten::Free, "{line}: {:#?}", s.findings);
        }
    }
    let s = screened("30 g capers and gherkins");
    assert!(
        s.findings.iter().any(|f| f.words == "gherkins"),
        "{:#?}",
        s.findings
    );
}

#[test]
fn a_look_a_tool_and_what_is_kept_out_are_no_food() {
    for line in [
        "200 g carrots, cut like noodles",
        "30 g butter, the size of a walnut",
        "30 g butter, walnut-sized",
        "100 g potato, in pea-sized or almond-shaped pieces",
        "20 g cornflour, not wheat",
        "200 g rice flour (not bread flour)",
        "2 courgettes, cut into noodles",
        "1 lemon, juice only, mustard-coloured",
        "30 g lard, melted, for the cake tin",
        "2 apples, sliced with a bread knife",
        "100 g sugar (no almonds, no milk)",
        "1 tsp salt, for the pasta water",
        "200 g potatoes (gluten-free pasta)",
        "1 onion, sliced as for soy sauce",
    ] {
        let s = screened(line);
        assert!(s.open().next().is_none(), "{line}: {:#?}", s.findings);
        assert!(
            s.allergens.is_empty() || line.contains("butter"),
            "{line}: {:#?}",
            s.allergens
        );
    }
}
