//! Foods that a line names beside its ingredients.

use super::{has, of};
use crate::common::larder;
use larder::{Allergen, Gluten};

/// A line after one of rice flour: no word of it is of the bake itself.
fn screened(line: &str) -> recipe::screen::Screening {
    of(&format!("200 g rice flour\n{line}"))
}

#[test]
fn a_food_behind_a_comma_or_in_brackets_is_told() {
    use Allergen::{Barley, Celery, Egg, Fish, Milk, Mollusc, Mustard, Soy, Wheat};
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
        ("50 g peanut butter, melted with butter", Milk, false),
        ("1 tbsp fish sauce as well as oyster sauce", Mollusc, false),
        ("20 g oil, for frying with oyster sauce", Mollusc, false),
        ("2 eggs, served on toast", Wheat, true),
        (
            "100 g tapioca flour, not plain flour, flour to dust",
            Wheat,
            true,
        ),
        ("400 ml coconut milk, mixed with milk", Milk, false),
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

/// What brackets say is in a mixture is in it; what they say may be, or stands in its place, is not sure.
#[test]
fn what_brackets_list_is_certain() {
    use Allergen::{Almond, BrazilNut, Celery, Hazelnut, Mustard, Sesame, Walnut};
    for (line, allergen, certain) in [
        (
            "50 g mixed seeds (sesame, sunflower, pumpkin)",
            Sesame,
            true,
        ),
        ("1 tsp zingo mix (contains mustard, celery)", Mustard, true),
        ("1 tsp zingo mix (contains mustard, celery)", Celery, true),
        (
            "100 g fruit and nut mix: raisins, almonds, brazil nuts",
            Almond,
            true,
        ),
        (
            "100 g fruit and nut mix: raisins, almonds, brazil nuts",
            BrazilNut,
            true,
        ),
        ("2 tbsp fizzle (hazelnuts, cumin)", Hazelnut, true),
        ("40 g mixed seeds (such as poppy and sesame)", Sesame, false),
        (
            "50 g chocolate chips (may contain hazelnuts)",
            Hazelnut,
            false,
        ),
        ("30 g chopped nuts (walnuts or pecans)", Walnut, false),
    ] {
        let s = screened(line);
        assert_eq!(
            has(&s, allergen),
            Some(certain),
            "{line}: {:#?}",
            s.allergens
        );
    }
    let s = screened("1 tsp zingo mix (contains mustard, celery)");
    assert!(
        s.findings.iter().any(|f| f.is_unknown()),
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
        "2 courgettes, cut into long thin noodles",
        "50 g sunflower seeds, to toast",
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
        let told: Vec<Allergen> = s.allergens.iter().map(|a| a.allergen).collect();
        let own: &[Allergen] = if line.contains("butter") {
            &[Allergen::Milk]
        } else {
            &[]
        };
        assert_eq!(told, own, "{line}");
    }
}

#[test]
fn raw_cured_and_marinated_fish_is_frozen_first() {
    let said = |title: &str, step: &str, fish: &str| {
        let text =
            format!("{title}\n\nIngredients\n500 g {fish}\n50 g salt\n\nMethod\n1. {step}\n");
        let s = super::of_text(&text, None);
        s.cautions.iter().any(|c| c.code == "raw_fish_parasites")
    };
    assert!(said(
        "Gravlax",
        "Rub in the salt. Chill for 2 days.",
        "salmon fillet"
    ));
    assert!(said(
        "Supper",
        "Leave the cured salmon in the fridge.",
        "salmon"
    ));
    assert!(said(
        "Supper",
        "Marinate the trout in lime juice for 1 hour.",
        "trout"
    ));
    assert!(!said(
        "Supper",
        "Marinate for 1 hour, then bake at 200 °C for 20 minutes.",
        "salmon"
    ));
    assert!(!said("Supper", "Marinate, then grill.", "salmon"));
    assert!(!said("Cured", "Rub in the salt.", "potatoes"));
    for step in [
        "Cover the salmon with salt, leave 2 days. Fry the blinis.",
        "Mix salt and sugar. Rub into the salmon. Chill for 36 hours. Bake the rye bread at 220 °C for 40 minutes.",
        "Marinate the salmon for 1 hour. Mix the batter and fry it.",
        "Serve as a tartare.",
    ] {
        assert!(said("Supper", step, "salmon"), "{step}");
    }
    for step in [
        "Put in the pot, lid secured, and steam for 10 minutes.",
        "Grill. Serve with tartare sauce.",
        "Salt the salmon, leave for 2 hours, then fry it in butter.",
        "Cover the salmon with salt and chill overnight. Rinse and bake the fillets for 15 minutes.",
        "Season with salt and poach the salmon. Chill for 2 hours.",
        "Mix flour and salt to a dough and leave the dough for 2 hours. Wrap the salmon. Bake for 20 minutes.",
    ] {
        assert!(!said("Supper", step, "salmon"), "{step}");
    }
    assert!(!said("Pie", "Bake at 200 °C for 20 minutes.", "salmon"));
}

#[test]
fn gravy_stock_and_batter_mix_of_the_method_are_told() {
    let said = |step: &str, word: &str| {
        let text =
            format!("Pie\n\nIngredients\n200 g rice flour\n500 g potatoes\n\nMethod\n1. {step}\n");
        let s = super::of_text(&text, None);
        let told =
            s.method.iter().any(|m| m.contains(word)) || s.whole_labels.iter().any(|w| w == word);
        told && s.verdict != Gluten::Free && has(&s, Allergen::Wheat).is_some()
    };
    assert!(said("Boil. Serve with gravy.", "gravy"));
    assert!(said("Pour on the stock and simmer.", "stock"));
    assert!(said("Dip in the batter mix and fry.", "batter mix"));
    assert!(!said(
        "For the gravy, whisk the flour into the juices.",
        "gravy"
    ));
}

#[test]
fn rice_wine_and_black_vinegar_are_to_check() {
    for line in [
        "2 tbsp shao-hsing wine",
        "2 tbsp Shaoxing rice wine",
        "1 tbsp black vinegar",
        "1 tbsp Chinkiang vinegar",
    ] {
        let s = screened(line);
        assert_eq!(s.verdict, Gluten::Check, "{line}");
        assert_eq!(has(&s, Allergen::Wheat), Some(false), "{line}");
    }
}

#[test]
fn a_floured_pan_on_a_line_of_its_own_is_told() {
    let s = of("200 g rice flour\n8\" round pan, greased and floured");
    assert!(
        s.method.iter().any(|m| m.contains("floured")),
        "{:?}",
        s.method
    );
    assert_eq!(has(&s, Allergen::Wheat), Some(false));
}

#[test]
fn for_the_sake_of_something_is_no_drink() {
    let drinks = |step: &str| {
        let text = format!("Loaf\n\n500 g rice flour\n300 g water\n\nMethod\n1. {step}\n");
        let s = super::of_text(&text, None);
        s.method
            .iter()
            .chain(&s.whole_labels)
            .any(|m| m.contains("sake"))
    };
    assert!(!drinks("Steam the oven for the sake of the crust."));
    assert!(!drinks("For safety's sake wear gloves."));
    assert!(drinks("Brush with sake and bake."));
}

/// Foods bought ready, in the words of cookbooks: what is in them as a rule. Common practice, no source;
/// their labels tell.
#[test]
fn foods_bought_ready_are_known() {
    use Allergen::{Celery, Fish, Milk, Mustard, Sesame, Soy, Wheat};
    use Gluten::{Check, Contains};
    for (line, gluten, allergen, certain) in [
        ("250 g gnocchi", Contains, Wheat, true),
        ("6 fish cakes", Contains, Fish, true),
        ("2 battered cod fillets", Contains, Wheat, true),
        ("100 g seasoned breading", Contains, Wheat, true),
        ("4 ready-made crêpes", Contains, Milk, true),
        ("2 nests of egg vermicelli", Contains, Wheat, true),
        (
            "1 (10.75 oz) can condensed cream of mushroom soup",
            Contains,
            Wheat,
            true,
        ),
        ("1 pkg onion soup mix", Check, Celery, false),
        ("2 tbsp Thai red curry paste", Check, Mustard, false),
        ("3 tbsp dukkah", Check, Sesame, true),
        ("100 g halva", Check, Sesame, true),
        ("1 tub houmous", Check, Sesame, true),
        ("1 tsp asafoetida", Check, Wheat, false),
        ("200 g tofu skin", Check, Soy, true),
        ("1 bag salt & vinegar crisps", Check, Wheat, false),
        ("2 tsp levure chimique", Check, Wheat, false),
    ] {
        let s = screened(line);
        assert_eq!(s.verdict, gluten, "{line}: {:#?}", s.findings);
        assert_eq!(
            has(&s, allergen),
            Some(certain),
            "{line}: {:#?}",
            s.allergens
        );
        assert!(
            !s.findings.iter().any(|f| f.is_unknown()),
            "{line}: {:#?}",
            s.findings
        );
    }
    // Whatever is in the coat.
    let s = screened("2 crumbed hake fillets");
    assert!(
        s.verdict == Check && has(&s, Wheat) == Some(false),
        "{:#?}",
        s.findings
    );
    // A soft drink is no beer.
    assert_eq!(screened("1 bottle ginger beer").verdict, Check);
}

/// A label that only the method shows the need of has not been read.
#[test]
fn a_label_of_the_method_is_not_read_yet() {
    let text = "Trial\n\n100 g butter\n2 eggs\n1 tsp gluten-free baking powder\n\nMethod\n1. Whisk and bake. Top with dukkah.\n";
    let s = super::of_text(text, None);
    assert_eq!(
        s.told(super::larder()),
        Gluten::Check.words(),
        "{:#?}",
        s.ppm
    );
}

/// In the gluten-free version each food of a one-line part is told once, by itself; what to buy says of no food what
/// another on its line is.
#[test]
fn a_food_of_a_one_line_part_is_told_once() {
    let text = "Base:\n200 g plain flour\n100 g butter\n\nTopping: 80 g flaked almonds, 5 g cinnamon, 30 ml calvados, \
                60 g marzipan, 20 g barley malt drink powder\n";
    let formula = crate::common::formula(text);
    let made = recipe::rework::rework(formula, larder(), &recipe::rework::Options::default());
    let screening = made.screen(larder());
    let mut of: Vec<&str> = screening
        .findings
        .iter()
        .filter(|f| f.component == 1)
        .map(|f| &*f.words)
        .collect();
    of.sort_unstable();
    let once = of.windows(2).all(|w| w[0] != w[1]);
    assert!(once, "{of:?}");
    for food in ["calvados", "marzipan", "cinnamon"] {
        assert!(of.contains(&food), "{food}: {of:?}");
    }
}

/// Custard as it is bought is thickened, and its label tells with what; what the recipe makes of its eggs is none.
#[test]
fn bought_custard_is_told_and_own_custard_is_not() {
    let custard = |text: &str| {
        let s = of(text);
        let told = s.findings.iter().any(|f| {
            f.words.to_lowercase().contains("custard") && f.verdict == Gluten::Check && f.open
        });
        told || s.ppm.unknown.iter().any(|w| w.contains("custard"))
    };
    for line in [
        "vanilla ice cream or custard, to serve",
        "500 g tub fresh custard",
        "custard or cream, to serve",
    ] {
        assert!(custard(&format!("200 g rice flour\n{line}\n")), "{line}");
        let s = screened(line);
        assert!(has(&s, Allergen::Wheat) != Some(true), "{line}: biscuits");
    }
    let yolks = "200 g rice flour\n300 ml milk\n4 egg yolks\n\n";
    assert!(custard(&format!("{yolks}1. Serve with custard.\n")));
    assert!(!custard(&format!(
        "{yolks}1. Heat and whisk.\n2. Cool the custard.\n"
    )));
    assert!(!custard(
        "200 g rice flour\nCustard: 300 ml milk, 4 egg yolks, 50 g sugar\n"
    ));
}

/// A word behind a comma that nobody knows may be a food; one of preparation is none, and is no part of an unknown
/// name.
#[test]
fn an_unknown_word_behind_a_comma_is_told() {
    for (line, told) in [
        ("200 g potatoes, doughnuts", Some("doughnuts")),
        ("100 g swede, zorkle", Some("zorkle")),
        ("100 g swede, diced", None),
        ("100 g swede, cut fine", None),
        ("2 carrots, julienned", None),
    ] {
        let s = screened(line);
        let open: Vec<&str> = s.open().map(|f| &*f.words).collect();
        assert_eq!(open, Vec::from_iter(told), "{line}");
    }
    let s = screened("300 g hobskirt, trimmed, diced");
    assert!(
        s.findings.iter().any(|f| f.words == "hobskirt"),
        "{:#?}",
        s.findings
    );
}
