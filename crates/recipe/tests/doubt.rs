//! Ranges say what is known: the fit's residuals and the weighing of the recipe at hand, combined.

#![allow(clippy::expect_used, reason = "tests stop by panicking")]

use larder::Larder;
use quantity::Locale;
use recipe::read::Reader;
use recipe::rework::{Options, ReworkedComponent, rework, style::Style};

fn reworked(larder: &Larder, text: &str, style: &str) -> ReworkedComponent {
    let reader = Reader::new(larder, Locale::Us);
    let recipe = recipe::read::bytes(text.as_bytes(), &reader).expect("a recipe");
    let formula = recipe::weigh::formula(recipe, larder, Locale::Us).expect("weighed");
    let options = Options {
        styles: vec![(String::new(), Style::from_key(style).expect("a style"))],
        ..Options::default()
    };
    rework(formula, larder, &options)
        .components
        .into_iter()
        .next()
        .expect("a component")
}

/// The same recipe by the cup and, at the likely weights, by the gram.
#[test]
fn cups_leave_more_doubt_than_grams_and_the_same_likely_figure() {
    let larder = Larder::built_in().expect("tables");
    for (style, cups) in [
        (
            "muffin_quick_bread",
            "Muffins\n\n2 cups all-purpose flour\n3/4 cup sugar\n2 tsp baking powder\n2 large eggs\n1 cup milk\n1/2 cup butter\n",
        ),
        (
            "pancake_crepe",
            "Pancakes\n\n1 1/2 cups all-purpose flour\n1 large egg\n1 1/4 cups milk\n2 tbsp butter\n",
        ),
        (
            "enriched_dough",
            "Buns\n\n4 cups all-purpose flour\n1 cup milk\n1 large egg\n1/4 cup butter\n1/4 cup sugar\n2 tsp instant yeast\n",
        ),
        (
            "lean_bread",
            "Loaf\n\n4 cups bread flour\n1 1/2 cups water\n2 tsp salt\n2 tsp instant yeast\n",
        ),
    ] {
        let by_cup = reworked(&larder, cups, style);
        let mut grams = "In grams\n\n".to_owned();
        let reader = Reader::new(&larder, Locale::Us);
        let recipe = recipe::read::bytes(cups.as_bytes(), &reader).expect("a recipe");
        let formula = recipe::weigh::formula(recipe, &larder, Locale::Us).expect("weighed");
        for item in &formula.components[0].items {
            let (food, g) = (item.food.expect("a food"), item.grams.expect("a weight"));
            grams.push_str(&format!(
                "{} g {}\n",
                g.likely().as_grams(),
                larder.food(food).name
            ));
        }
        let by_gram = reworked(&larder, &grams, style);
        let of = |c: &ReworkedComponent| {
            let line = c
                .lines
                .iter()
                .find(|l| l.key.contains("milk") || l.key == "water")
                .and_then(|l| l.grams)
                .expect("the free liquid");
            let shown = c.reworked.hydration.expect("flour");
            let expected = c.expected.expect("flour").hydration;
            [
                [line.low(), line.likely(), line.high()].map(quantity::Mass::as_grams),
                [shown.low(), shown.likely(), shown.high()].map(quantity::Ratio::get),
                [expected.low, expected.likely, expected.high],
            ]
        };
        let names = [
            "the liquid",
            "the hydration shown",
            "the hydration expected",
        ];
        for ((cup, gram), name) in of(&by_cup).into_iter().zip(of(&by_gram)).zip(names) {
            assert!(
                (cup[1] / gram[1] - 1.0).abs() < 1e-3,
                "{style}, {name}: {cup:?} by the cup, {gram:?} by the gram"
            );
            assert!(
                cup[2] / cup[0] > gram[2] / gram[0] * 1.001,
                "{style}, {name}: {cup:?} by the cup, {gram:?} by the gram"
            );
        }
    }
}

/// What is added behind 'plus' and not known is asked about, never taken for the first in silence.
#[test]
fn an_unknown_behind_plus_is_asked_about() {
    let larder = larder::Larder::built_in().expect("the built-in tables");
    let reader = recipe::read::Reader::new(&larder, quantity::Locale::Us);
    let asked = |text: &str| {
        let line = reader.line(text);
        line.doubts
            .iter()
            .any(|d| d.code == recipe::DoubtCode::UnknownIngredient)
    };
    for text in [
        "1/2 cup milk plus 1 tbsp quorbel",
        "100 g butter plus 20 g zorbal crystals",
    ] {
        assert!(asked(text), "{text}");
    }
    for text in [
        "1 cup plus 2 tbsp milk",
        "2 eggs plus 1 yolk",
        "1 cup flour plus 2 tbsp for dusting",
        "1 cup milk plus 2 tbsp more if needed",
        "1 cup sugar, plus 1 tsp at the end",
    ] {
        assert!(!asked(text), "{text}");
    }
}
