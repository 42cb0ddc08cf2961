//! Recipes of our own, each with what the notes must and must not say.

use super::*;
use crate::rework::{Options, rework};
use larder::Larder;
use quantity::Locale;

/// The notes of each component, by name.
fn reworked(text: &str) -> Vec<(String, Vec<MethodNote>)> {
    let larder = Larder::built_in().expect("the built-in tables");
    let reader = crate::read::Reader::new(&larder, Locale::Uk);
    let recipe = crate::read::recipe(text, &reader).expect("reads");
    let formula = crate::weigh::formula(recipe, &larder, Locale::Uk).expect("weighs");
    rework(formula, &larder, &Options::default())
        .components
        .into_iter()
        .map(|c| (c.name, c.method_notes))
        .collect()
}

fn all(text: &str) -> String {
    let notes = reworked(text);
    let lines: Vec<String> = notes
        .iter()
        .flat_map(|(c, notes)| notes.iter().map(move |n| format!("{c}| {}", n.text)))
        .collect();
    lines.join("\n")
}

/// A text, what must stand in its notes, and what must not.
type Row<'a> = (&'a str, &'a [&'a str], &'a [&'a str]);

fn check(table: &[Row]) {
    for (text, must, must_not) in table {
        let got = all(text);
        for want in *must {
            assert!(got.contains(want), "{text}\nmust say: {want}\n{got}");
        }
        for bad in *must_not {
            assert!(!got.contains(bad), "{text}\nmust not say: {bad}\n{got}");
        }
        for (name, notes) in reworked(text) {
            for (i, n) in notes.iter().enumerate() {
                assert!(
                    !notes[..i].iter().any(|m| m.text == n.text),
                    "{name}: twice: {}",
                    n.text
                );
                assert!(!n.rule.is_empty() && !n.source.is_empty());
            }
        }
    }
}

fn bread(method: &str) -> String {
    format!(
        "Everyday Bread\n\n500 g strong white flour\n7 g instant yeast\n10 g salt\n330 g water\n\nMethod\n{method}"
    )
}

fn buns(method: &str) -> String {
    format!(
        "Supper Buns\n\n500 g plain flour\n7 g instant yeast\n8 g salt\n200 ml milk\n2 eggs\n60 g sugar\n90 g butter\n\nMethod\n{method}"
    )
}

fn biscuits(method: &str) -> String {
    format!(
        "Shortbread Biscuits\n\n200 g plain flour\n130 g butter\n70 g caster sugar\n\nMethod\n{method}"
    )
}

#[test]
fn the_oven_of_each_bake() {
    let turned = "1. Heat the oven to 170 °C (150 °C fan).\n2. Bake for 12 minutes.\n3. Turn the oven down to 150 °C (130 °C fan).\n4. Bake for 8 minutes more.\n";
    let in_step = "1. Heat the oven to 200 °C.\n2. Bake for 15 minutes. Turn the oven to 180 °C.\n3. Bake for 10 minutes.\n";
    let then = "1. Bake for 10 minutes at 220 °C, then lower to 180 °C and bake for 30 minutes.\n";
    let gas = "1. Heat the oven to gas mark 4.\n2. Bake for 20 minutes.\n";
    let word = "1. Bake in a moderate oven for 20 minutes.\n";
    check(&[
        (
            &biscuits(turned),
            &[
                "Step 2 bakes for 12 minutes at 170 °C / 340 °F",
                "Step 4 bakes for 8 minutes at 150 °C / 300 °F",
                "colour and crispness decide",
            ],
            &["core temperature decides"],
        ),
        (
            &biscuits(in_step),
            &[
                "Step 2 bakes for 15 minutes at 200 °C",
                "Step 3 bakes for 10 minutes at 180 °C",
            ],
            &[],
        ),
        (
            &bread(then),
            &[
                "10 minutes at 220 °C / 430 °F, then 30 minutes at 180 °C / 355 °F: allow 11–12.5 minutes at 210 °C",
            ],
            &[],
        ),
        (
            &biscuits(gas),
            &["at 175 °C / 350 °F / gas 4: allow 22–25 minutes at 165 °C / 330 °F / gas 3 to"],
            &[],
        ),
        (&biscuits(word), &["at about 180 °C / 355 °F"], &[]),
    ]);
}

#[test]
fn rises_and_cold_hours() {
    check(&[
        (
            &buns(
                "1. Knead for 8 minutes. Let rise for 1 hour, then chill overnight.\n2. Shape into 12 balls and let rise until doubled, 1 hour.\n3. Bake for 20 minutes at 190 °C.\n",
            ),
            &[
                "Step 1 chills for 8–12 hours: with egg or milk in it keep it at 5 °C or below and no longer than 24 hours",
                "Half to seven tenths of the yeast",
                "Step 2 lets it rise again: keep this rise, after shaping, and leave out the warm one of step 1",
                "Step 2 waits for 2.0 times the volume",
            ],
            &["One rise, to"],
        ),
        (
            &bread(
                "1. Let rise for 1 hour.\n2. Shape and prove for 45 minutes.\n3. Bake for 35 minutes at 220 °C.\n",
            ),
            &["Step 2 lets it rise again: one rise is enough; leave out that of step 1"],
            &["chills", "cold"],
        ),
        (
            &bread(
                "1. Let rise for 1 hour, knock back, shape and let rise for 30 minutes.\n2. Bake for 35 minutes at 220 °C.\n",
            ),
            &["Step 1 lets it rise twice", "Step 1 knocks the dough back"],
            &[],
        ),
        (
            &bread(
                "1. Mix and let rise in the fridge for 12 hours.\n2. Bake for 35 minutes at 220 °C.\n",
            ),
            &["keep it at 3–5 °C for 8–18 hours"],
            &["egg or milk", "rise again"],
        ),
        (
            &buns(
                "1. Let rise for 1 hour.\n2. Bake for 20 minutes at 190 °C. Chill for 20 minutes.\n",
            ),
            &["One rise, to"],
            &["chills for", "rise again"],
        ),
    ]);
}

#[test]
fn psyllium_less_the_tenth() {
    check(&[(
        &bread("1. Mix.\n2. Bake for 35 minutes at 220 °C.\n"),
        &["whisk the psyllium into the liquid (less the tenth you hold back)"],
        &["all of the water"],
    )]);
}

#[test]
fn flour_for_dusting() {
    let line = "Seed Loaf\n\n500 g strong white flour, plus more for dusting\n7 g instant yeast\n10 g salt\n330 g water\n\nMethod\n1. Mix.\n2. Bake for 35 minutes at 220 °C.\n";
    let sugar = "Tea Cake\n\n200 g self-raising flour\n150 g butter\n150 g caster sugar\n3 eggs\nicing sugar, to dust\n\nMethod\n1. Mix.\n2. Bake for 35 minutes at 180 °C. Dust with icing sugar.\n";
    check(&[
        (
            line,
            &["The extra flour for dusting: no wheat flour for dusting"],
            &[],
        ),
        (sugar, &[], &["dusts", "dusting"]),
        (
            &bread("1. Roll out on a floured counter.\n2. Bake for 35 minutes at 220 °C.\n"),
            &["Step 1 dusts with flour: no wheat flour for dusting. Oil the bench"],
            &[],
        ),
        (
            &bread(
                "1. Grease a tin and dust the tin with flour.\n2. Bake for 35 minutes at 220 °C.\n",
            ),
            &["no wheat flour for dusting. Oil and line the tin"],
            &["Oil the bench"],
        ),
    ]);
}

#[test]
fn done_by_colour_or_by_probe() {
    check(&[
        (
            &biscuits("1. Roll into 20 balls.\n2. Bake for 12 minutes at 170 °C.\n"),
            &["golden at the edge and dry to the touch"],
            &["the middle reads", "rolls out"],
        ),
        (
            &bread(
                "1. Do not knead it.\n2. Bake for 35 minutes at 220 °C, to 94 °C in the middle.\n3. Bake for 5 minutes more, to 96 °C in the middle.\n",
            ),
            &[
                "Step 2 is done at 94 °C inside: look for 98 °C (95–98). Above 900 m",
                "Step 3 is done at 96 °C inside: look for 98 °C (95–98).",
            ],
            &[
                "kneads",
                "(95–100)",
                "96 °C inside: look for 98 °C (95–98). Above",
            ],
        ),
    ]);
}

#[test]
fn a_soda_dough_rests_briefly() {
    let soda = "Soda Bread\n\n400 g plain flour\n1 tsp bicarbonate of soda\n1 tsp salt\n320 ml buttermilk\n\nMethod\n1. Mix, then shape into a round without kneading.\n2. Bake for 40 minutes at 200 °C.\n";
    check(&[(
        soda,
        &["Rest the dough 10 minutes at most"],
        &["Rest batter", "kneads"],
    )]);
}

#[test]
fn hot_liquid_for_yeast() {
    check(&[
        (
            &bread(
                "1. Heat the water to 55 °C and stir in the yeast.\n2. Bake for 35 minutes at 220 °C.\n",
            ),
            &["Step 1 has the liquid for the yeast at 55 °C: let it come down to 45 °C"],
            &[],
        ),
        (
            &bread(
                "1. Heat the water to 55 °C.\n2. Stir in the yeast.\n3. Bake for 35 minutes at 220 °C.\n",
            ),
            &["Step 1 has the liquid for the yeast at 55 °C"],
            &[],
        ),
        (
            &bread(
                "1. Heat the water to 80 °C, cool it to 38 °C and stir in the yeast.\n2. Bake for 35 minutes at 220 °C.\n",
            ),
            &[],
            &["for the yeast at"],
        ),
        (
            &bread("1. Stir the yeast into water at 40 °C.\n2. Bake for 35 minutes at 220 °C.\n"),
            &[],
            &["for the yeast at"],
        ),
    ]);
}

#[test]
fn more_dough_than_the_pan() {
    let about = |before: f64, after: f64, style: &str| {
        let recipe = Recipe::default();
        let style = Style::from_key(style).expect("a style");
        let notes = notes(&About {
            recipe: &recipe,
            component: 0,
            steps: &[],
            style,
            psyllium: false,
            holds_egg_or_milk: false,
            before,
            after,
        });
        notes
            .into_iter()
            .find(|n| n.rule == "more dough")
            .map(|n| n.text)
    };
    assert_eq!(
        about(1000.0, 1300.0, "lean_bread").as_deref(),
        Some(
            "Makes 30 % more than the original: use a larger pan, or fill the pan no more than half to two thirds."
        )
    );
    assert_eq!(about(1000.0, 1100.0, "lean_bread"), None);
    assert_eq!(about(0.0, 1100.0, "lean_bread"), None);
    assert_eq!(
        about(100.0, 120.0, "pancake_crepe").as_deref(),
        Some("Makes 20 % more than the original: expect more of it.")
    );
}

#[test]
fn a_filling_bakes_as_before() {
    let tart = "Onion Tart\n\nFor the pastry:\n200 g plain flour\n100 g butter\n30 ml water\n\nFor the onion filling:\n3 onions\n2 eggs\n200 ml milk\n1 tbsp plain flour\n\nMethod\n1. PASTRY: Rub the butter into the flour. Roll out and bake blind at 200 °C for 15 minutes.\n2. FILLING: Fry the onions for 10 minutes. Beat in the rest and pour into the case.\n3. Bake at 180 °C for 30 minutes.\n";
    check(&[(
        tart,
        &[
            "pastry| Step 1 bakes for 15 minutes at 200 °C",
            "pastry| Step 3 bakes for 30 minutes at 180 °C",
            "what is in it being set",
        ],
        &["onion filling| Step 3"],
    )]);
}

#[test]
fn times_in_words() {
    for (low, high, want) in [
        (10.0, 10.0, "10 minutes"),
        (1.0, 1.0, "1 minute"),
        (10.0, 12.5, "10–12.5 minutes"),
        (60.0, 60.0, "1 hour"),
        (60.0, 120.0, "1–2 hours"),
        (60.0, 90.0, "1–1½ hours"),
        (83.0, 90.0, "83–90 minutes"),
        (45.0, 75.0, "45–75 minutes"),
        (30.0, 60.0, "30 minutes to 1 hour"),
        (15.0, 720.0, "15 minutes to 12 hours"),
        (480.0, 720.0, "8–12 hours"),
        (85.0, 145.0, "1 hour 25 to 2 hours 25"),
        (150.0, 150.0, "2½ hours"),
        (60.0, 1440.0, "1–24 hours"),
    ] {
        let to = Time::minutes;
        let t = Spread::new(to(low), to(f64::midpoint(low, high)), to(high));
        assert_eq!(minutes(t), want);
    }
}
