//! How long a dough or a batter rests.

use super::*;

/// The note went by the original's soda, which the rework leaves out for powder.
#[test]
fn a_rest_goes_by_what_raises_the_reworked_dough() {
    let text = "Seedy crackers\nMakes 30\n\n200 g plain flour\n50 g butter\n1/2 tsp salt\n1/2 tsp bicarbonate of soda\n100 ml beer\n\nMethod\n1. Rub the butter into the flour with the salt and soda. Add the beer.\n2. Rest 20 minutes. Roll to 2 mm and cut.\n3. Bake at 200 °C for 12 minutes.\n";
    check(&[(
        text,
        &["Step 2 rests it for 20 minutes: keep that; it takes the grit away"],
        &["soda gives off its gas", "10 minutes at most: soda"],
    )]);
    // Buttermilk takes the soda up: it stays, and its gas goes.
    let sour = text
        .replace("crackers", "scones")
        .replace("100 ml beer", "160 ml buttermilk");
    check(&[(&sour, &["10 minutes at most: soda"], &[])]);
}

#[test]
fn a_soda_dough_rests_briefly() {
    let soda = "Soda Bread\n\n400 g plain flour\n1 tsp bicarbonate of soda\n1 tsp salt\n320 ml buttermilk\n\nMethod\n1. Mix, then shape into a round without kneading.\n2. Bake for 40 minutes at 200 °C.\n";
    check(&[(
        soda,
        &["Rest the dough 10 minutes at most"],
        &["Rest batter", "kneads"],
    )]);
    let kneaded = soda.replace("without kneading", "knead no more than 10 seconds");
    check(&[
        (
            &kneaded,
            &[
                "Step 1 kneads for 10 seconds: bring it together and stop as soon as it is even; there is no gluten to develop, and where soda or powder raises it, working loses the gas.",
            ],
            &["paddle", "0.25"],
        ),
        (
            &biscuits("1. Knead lightly.\n2. Bake for 12 minutes at 170 °C.\n"),
            &[
                "Step 1 kneads: bring it together and stop as soon as it is even; there is no gluten to develop.",
            ],
            &["paddle", "soda"],
        ),
    ]);
}

fn cake(raised: &str, method: &str) -> String {
    format!(
        "Seed Cake\n\n200 g plain flour\n150 g butter\n150 g caster sugar\n3 eggs\n50 ml milk\n{raised}\n\nMethod\n{method}"
    )
}

/// What chills before the flour goes in is no rest of the dough.
#[test]
fn a_chill_of_the_butter_is_none_of_the_batter() {
    let raised = "1 tsp bicarbonate of soda";
    for (method, from) in [
        (
            "1. Brown the butter, then chill it until solid, 40 minutes.\n2. Cream it with the sugar. Fold in the flour and soda.\n3. Bake for 35 minutes at 180 °C.\n",
            "none stated",
        ),
        (
            "1. Brown the butter and chill it for 40 minutes, then fold in the dry ingredients.\n2. Bake for 35 minutes at 180 °C.\n",
            "none stated",
        ),
        (
            "1. Whisk the flour with the rest and chill for 40 minutes.\n2. Bake for 35 minutes at 180 °C.\n",
            "40 minutes",
        ),
        (
            "1. Mix. Chill for 40 minutes.\n2. Spoon into a floured tin and bake for 35 minutes at 180 °C.\n",
            "40 minutes",
        ),
        (
            "1. Beat the batter together and rest it for 40 minutes. Toss the berries in flour and fold them in.\n2. Bake for 35 minutes at 180 °C.\n",
            "40 minutes",
        ),
    ] {
        let (was, ..) = changed(&cake(raised, method), "rest").expect("a rest");
        assert_eq!(was, from, "{method}");
    }
}

/// Powder among the dry ingredients loses its gas in a rest, whatever drink comes behind it (10–30 minutes; common
/// practice, no source).
#[test]
fn powder_among_the_dry_ingredients_is_in_before_the_rest() {
    let batter = |first: &str, last: &str| {
        let text = format!(
            "Oat pancakes\n\n200 g plain flour\n2 eggs\n300 ml milk\n2 tsp baking powder\n100 ml soda water\n\nMethod\n1. {first}\n2. Rest for 1 hour.\n3. {last} Fry for 2 minutes a side.\n"
        );
        changed(&text, "rest").expect("a rest")
    };
    for (first, last) in [
        (
            "Whisk the eggs and milk into the dry ingredients.",
            "Stir in the soda water.",
        ),
        ("Whisk the flour with the rest.", "Stir in the soda water."),
        ("Whisk the flour with the rest.", "Add the cream soda."),
        (
            "Whisk the eggs and milk into the dry ingredients.",
            "Stir in a little more baking powder.",
        ),
    ] {
        let (from, to, _) = batter(first, last);
        let told = (from.as_str(), to.as_str());
        assert_eq!(
            told,
            ("1 hour", "20 minutes, after mixing"),
            "{first} {last}"
        );
    }
    // It goes in behind the rest: that may be as long as the style's.
    let (_, to, _) = batter(
        "Whisk the eggs into the dry ingredients except the baking powder.",
        "Stir in the baking powder.",
    );
    assert_eq!(to, "1 hour, as it was");
}

/// The change and the note name the same rest.
#[test]
fn one_rest_for_the_change_and_the_note() {
    let bake =
        "1. Mix.\n2. Bake for 35 minutes at 180 °C. Leave to rest in the tin for 10 minutes.\n";
    // Buttermilk takes the soda up: without it the rework puts powder in its place.
    let soda = cake("1 tsp bicarbonate of soda\n1 tsp baking powder", bake)
        .replace("50 ml milk", "250 ml buttermilk");
    let powder = cake("2 tsp baking powder", bake);
    let chilled = biscuits("1. Mix. Chill for 30 minutes.\n2. Bake for 12 minutes at 170 °C.\n");
    let short = biscuits("1. Mix. Chill for 10 minutes.\n2. Bake for 12 minutes at 170 °C.\n");
    let unrolled = buns("1. Mix and let rise for 1 hour.\n2. Bake for 20 minutes at 190 °C.\n");
    let rolled = buns("1. Mix.\n2. Roll out the dough.\n3. Bake for 20 minutes at 190 °C.\n");
    let night = bread("1. Mix and chill overnight.\n2. Bake for 35 minutes at 220 °C.\n");
    let choux = "Choux Puffs\n\n125 ml water\n125 ml milk\n110 g butter\n140 g plain flour\n4 large eggs\n\nMethod\n1. Boil the water, milk and butter. Beat in the flour. Cool slightly, then beat in the eggs.\n2. Bake at 200 °C for 25 minutes.\n";
    for (text, from, to, note) in [
        (
            &soda,
            "none stated",
            "10 minutes at most, after mixing",
            Some("Rest the batter 10 minutes at most"),
        ),
        (
            &powder,
            "none stated",
            "20 minutes, after mixing",
            Some("with single-acting powder 10 minutes at most"),
        ),
        (
            &chilled,
            "30 minutes",
            "30 minutes, as it was",
            Some("Step 1 chills it for 30 minutes: keep that"),
        ),
        (
            &short,
            "10 minutes",
            "1 hour, chilled",
            Some("Step 1 chills it for 10 minutes: give it 30 minutes to 24 hours"),
        ),
        (
            &unrolled,
            "none stated",
            "30 minutes, after mixing",
            Some("Rest the dough after mixing"),
        ),
        (
            &rolled,
            "none stated",
            "30 minutes, before rolling out",
            Some("Rest before rolling out"),
        ),
        (&night, "8–12 hours", "8–12 hours, as it was", None),
        (
            &choux.to_owned(),
            "none stated",
            "10 minutes, to cool below 60 °C before the egg goes in",
            Some("the paste would set the egg"),
        ),
    ] {
        let (f, t, rule) = changed(text, "rest").expect("a rest");
        assert_eq!((f.as_str(), t.as_str()), (from, to), "{text}");
        let notes = all(text);
        match note {
            Some(note) => assert!(notes.contains(note), "{note}\n{notes}"),
            None => assert!(!notes.contains("Rest "), "{notes}"),
        }
        assert_eq!(
            rule.contains("set the egg"),
            text.starts_with("Choux"),
            "{rule}"
        );
    }
}
