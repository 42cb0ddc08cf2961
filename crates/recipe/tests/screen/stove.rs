//! Cautions of the stove.

use super::of_text;

fn codes(text: &str) -> Vec<&'static str> {
    of_text(text, None)
        .cautions
        .iter()
        .map(|c| c.code)
        .collect()
}

#[test]
fn deep_oil_and_dried_kidney_beans_have_their_cautions() {
    let recipe = |line: &str, step: &str| {
        format!("Trial\n\nIngredients\n{line}\n100 g rice flour\n\nMethod\n1. {step}\n")
    };
    for (line, step, oil, beans) in [
        (
            "1 l sunflower oil, for deep-frying",
            "Fry until golden.",
            true,
            false,
        ),
        ("1 l oil", "Deep fry in batches for 4 minutes.", true, false),
        (
            "1 l oil",
            "Heat the oil to 180 C and fry the rings in it.",
            true,
            false,
        ),
        (
            "200 g dried kidney beans",
            "Soak overnight, then simmer.",
            false,
            true,
        ),
        (
            "200 g red kidney beans",
            "Soak the beans overnight.",
            false,
            true,
        ),
        (
            "2 tbsp oil",
            "Fry the onion in the oil for 5 minutes.",
            false,
            false,
        ),
        (
            "2 tbsp oil",
            "Brush with oil and bake in the oven at 180 C.",
            false,
            false,
        ),
        ("400 g tin kidney beans", "Stir in the beans.", false, false),
        ("200 g dried apricots", "Soak in a deep bowl.", false, false),
    ] {
        let codes = codes(&recipe(line, step));
        assert_eq!(codes.contains(&"hot_oil"), oil, "{line}: {step}");
        assert_eq!(codes.contains(&"raw_kidney_beans"), beans, "{line}: {step}");
    }
}
