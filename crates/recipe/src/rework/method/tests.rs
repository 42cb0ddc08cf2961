//! Recipes of our own, each with what the notes must and must not say.

mod instead;
mod rests;

use super::note::renumbered;
use super::say::minutes;
use super::*;
use crate::rework::{Options, rework};
use larder::Larder;
use quantity::{Locale, Spread, Time};

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

/// The change of one kind in the only component: from, to, rule.
fn changed(text: &str, what: &str) -> Option<(String, String, String)> {
    let larder = Larder::built_in().expect("the built-in tables");
    let reader = crate::read::Reader::new(&larder, Locale::Uk);
    let recipe = crate::read::recipe(text, &reader).expect("reads");
    let formula = crate::weigh::formula(recipe, &larder, Locale::Uk).expect("weighs");
    let reworked = rework(formula, &larder, &Options::default());
    let change = reworked.components[0]
        .changes
        .iter()
        .find(|c| c.what == what)?;
    Some((change.from.clone(), change.to.clone(), change.rule.clone()))
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
                "10 minutes at 220 °C / 425 °F, then 30 minutes at 180 °C / 350 °F: allow 11–13 minutes at 210 °C",
            ],
            &[],
        ),
        (
            &biscuits(gas),
            &["at 180 °C / 350 °F / gas 4: allow 22–25 minutes at 170 °C / 340 °F / gas 3 to"],
            &[],
        ),
        (&biscuits(word), &["at about 180 °C / 350 °F"], &[]),
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
                "The yeast in the list is meant for it.",
                "Step 2 lets it rise again: keep this rise, after shaping, and leave out the warm one of step 1",
                "Step 2 waits for twice the volume",
            ],
            &["One rise, to", "warm rise", "half to seven"],
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
            &["keep it at 3–5 °C for 8–18 hours. The yeast in the list is meant for it."],
            &["egg or milk", "rise again"],
        ),
        // The method's own longest stands, in the rework as in the plan.
        (
            &bread(
                "1. Mix and refrigerate overnight, up to 16 hours.\n2. Bake for 35 minutes at 220 °C.\n",
            ),
            &["Step 1 chills for 8–16 hours: keep it at 3–5 °C for 8–16 hours."],
            &[],
        ),
        // The cold of another clause, or a word that only holds it, is not that of the rise.
        (
            &bread(
                "1. Mix and let rise overnight at room temperature. Shape, bake and cool.\n2. Bake for 35 minutes at 220 °C.\n",
            ),
            &["Step 1 rises for 8–12 hours: keep that; the yeast in the list is meant for it."],
            &["3–5 °C"],
        ),
        // Hours on the bench stay there: a few grams of yeast would do nothing in the fridge.
        (
            &bread(
                "1. Mix and let rise for 12 hours.\n2. Shape and let rise for 1 hour.\n3. Bake for 35 minutes at 220 °C.\n",
            ),
            &[
                "Step 1 rises for 12 hours: keep that; the yeast in the list is meant for it.",
                "shape before the long rise of step 1",
            ],
            &["3–5 °C", "cold"],
        ),
        (
            &bread(
                "1. Let rise in the fridge overnight.\n2. Shape and let rise for 1 hour.\n3. Bake for 35 minutes at 220 °C.\n",
            ),
            &["Step 2 lets it rise again: keep this rise, after shaping"],
            &["warm one"],
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
            &["The list of ingredients has flour for dusting: no wheat flour for dusting"],
            &[],
        ),
        (
            &line.replace("1. Mix.", "1. Mix. Dust the work surface and shape."),
            &[
                "Step 1 dusts, and the list of ingredients has flour for it: no wheat flour for dusting",
            ],
            &["dusts with flour"],
        ),
        (
            &bread("1. Dust the tin.\n2. Bake for 35 minutes at 220 °C.\n"),
            &["Step 1 dusts and does not say with what: no wheat flour for dusting"],
            &["dusts with flour"],
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
            &bread("1. Bake for 35 minutes at 400°F, until 195°F inside.\n"),
            &[
                "at 200 °C / 400 °F: allow",
                "Step 1 is done at 91 °C / 195 °F inside",
            ],
            &["390 °F", "196 °F"],
        ),
        (
            &bread(
                "1. Do not knead it.\n2. Bake for 35 minutes at 220 °C, to 94 °C in the middle.\n3. Bake for 5 minutes more, to 96 °C in the middle.\n",
            ),
            &[
                "Step 2 is done at 94 °C / 201 °F inside: look for 98 °C (95–98). Above 900 m",
                "Step 3 is done at 96 °C / 205 °F inside: look for 98 °C (95–98).",
            ],
            &[
                "kneads",
                "(95–100)",
                "96 °C inside: look for 98 °C (95–98). Above",
            ],
        ),
    ]);
}

/// What is written as a gas mark is set as tables say, and the mark stands beside it.
#[test]
fn a_gas_mark_stands_beside_its_dial() {
    let rolls = "Rolls\n\n500 g bread flour\n330 g water\n7 g instant yeast\n9 g salt\n\nMethod\n1. Knead.\n2. Bake at Gas 6 for 20 minutes.\n";
    let (from, to, _) = changed(rolls, "oven").expect("an oven");
    assert_eq!(from, "200 °C (gas 6), 20 minutes");
    assert!(
        to.starts_with("190 °C to 200 °C (fan 170–180 °C, gas 5–6), "),
        "{to}"
    );
}

#[test]
fn both_stages_of_the_oven() {
    let muffins = "Lemon Muffins\n\n250 g plain flour\n2 tsp baking powder\n115 g butter\n150 g sugar\n2 eggs\n180 g yogurt\n\nMethod\n1. Mix.\n2. Fill to the top; bake 5 minutes at 425°F, then reduce to 350°F and bake 15 more.\n";
    check(&[(
        muffins,
        &[
            "Step 2 bakes for 5 minutes at 220 °C / 425 °F, then 15 minutes at 180 °C / 350 °F: allow 5.5–6.5 minutes at 210 °C",
        ],
        &[],
    )]);
    let (from, to, _) = changed(muffins, "oven").expect("an oven");
    assert_eq!(from, "220 °C, 5 minutes, then 180 °C, 15 minutes");
    assert!(
        to.contains("then 170 °C to 180 °C (fan 150–160 °C, gas 3–4), 17–19 minutes"),
        "{to}"
    );
}

#[test]
fn a_preferment_is_mixed_and_kept() {
    let loaf = "White Loaf\n\nPoolish\n150 g bread flour\n150 g water\n0.4 g instant yeast\n\nFinal dough\nall of the poolish\n350 g bread flour\n170 g water\n9 g salt\n4 g instant yeast\n\nMethod\n1. Mix the poolish and leave covered at room temperature for 12 to 16 hours.\n2. Mix the poolish with everything else. Knead 8 minutes until smooth.\n3. Bulk ferment 90 minutes, with one stretch and fold after 45 minutes.\n4. Shape tightly into a log. Proof for 1 hour.\n5. Bake at 375 F for 35 minutes.\n";
    check(&[(
        loaf,
        &[
            "poolish| Step 1 lets it stand for 12–16 hours: keep that",
            "final dough| Step 2 kneads for 8 minutes",
            "final dough| Step 3 stretches and folds: there is no gluten to stretch",
            "final dough| Step 4 lets it rise again",
            "final dough| Step 5 bakes",
        ],
        &[
            "poolish| Step 2",
            "poolish| Hold back",
            "poolish| Rest",
            "poolish| One rise",
            "poolish| Done",
            "poolish| Out of",
        ],
    )]);
    for what in [
        "rest",
        "rises",
        "end of the rise",
        "oven",
        "core temperature",
    ] {
        assert_eq!(changed(loaf, what), None, "{what}");
    }
}

#[test]
fn hands_on_a_dough() {
    use super::shape::Rolled::{self, Balls, Strands};
    for (text, what) in [
        ("Divide into four balls. Stretch by hand.", Some(Balls)),
        ("Roll into 12 balls", Some(Balls)),
        ("Top with balls of cheese", None),
        ("Divide into 8, roll into ropes and join.", Some(Strands)),
        (
            "Cut into balls, then shape each into a ring.",
            Some(Strands),
        ),
        ("Braid the three strands.", Some(Strands)),
        ("Bake on the lower ring.", None),
    ] {
        assert_eq!(Rolled::of(text), what, "{text}");
    }
    let pizza = "Pizza Dough\n\n1 kg strong white flour\n650 ml water\n7 g instant yeast\n25 g salt\n\nMethod\n1. Knead for 12 minutes. Leave to rise for 2 hours.\n2. Divide into four balls. Stretch by hand to 11 inches.\n3. Bake at 250 °C for 8 minutes.\n";
    check(&[
        (
            pizza,
            &[
                "Step 2 makes balls, but at 99 % hydration this dough is too soft to roll: weigh out",
                "Step 2 stretches the dough: it will not stretch",
                "the pieces grow heavier",
            ],
            &["larger pan"],
        ),
        (
            &biscuits("1. Divide into 20 balls.\n2. Bake for 12 minutes at 170 °C.\n"),
            &[],
            &["makes balls"],
        ),
    ]);
    let (_, to, rule) = changed(pizza, "shaping").expect("too wet for balls");
    assert!(to.contains("oiled hands") && rule.contains("% hydration"));
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
            left_alone: false,
            gel: None,
            held_back: None,
            holds_yolk: false,
            set_by_egg: false,
            binder: true,
            hydration: None,
            raised: rest::Raised::default(),
            holds_egg_or_milk: false,
            meat: false,
            before,
            after,
        });
        notes
            .into_iter()
            .find(|n| n.rule.starts_with("more "))
            .map(|n| n.text)
    };
    assert_eq!(
        about(1000.0, 1300.0, "lean_bread").as_deref(),
        Some(
            "The conversion makes 30 % more than the original, at any size: fill a pan no more than half to two thirds."
        )
    );
    assert_eq!(about(1000.0, 1100.0, "lean_bread"), None);
    assert_eq!(about(0.0, 1100.0, "lean_bread"), None);
    assert_eq!(
        about(100.0, 120.0, "pancake_crepe").as_deref(),
        Some("The conversion makes 20 % more than the original, at any size: expect more of it.")
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

/// A crust is golden before the meat in it is done.
#[test]
fn meat_in_a_crust_is_not_done_by_colour() {
    let pie = "Sausage Pie\n\nPastry:\n200 g plain flour\n100 g butter\n30 ml water\n\nFilling:\n500 g pork sausages\n2 leeks\n\nMethod\n1. Rub the butter into the flour and chill.\n2. Brown the sausages and soften the leeks.\n3. Line the dish with the pastry, fill and bake at 200 °C for 40 minutes until deep golden.\n";
    check(&[(
        pie,
        &[
            "the middle of the meat or fish in it decides, not the colour",
            "Golden says nothing of the meat or fish in it: probe the middle.",
        ],
        &["colour and crispness decide"],
    )]);
}

/// A case is baked blind before its meat is in it.
#[test]
fn an_empty_case_is_not_done_by_its_meat() {
    let tart = "Ham Tart\n\nPastry:\n200 g plain flour\n100 g butter\n30 ml water\n\nFilling:\n120 g smoked ham\n3 eggs\n200 ml cream\n\nMethod\n1. PASTRY: Rub the butter into the flour. Roll out, line a tin, and bake blind at 200 °C for 15 minutes; take out the beans and bake 8 minutes more.\n2. Whisk the eggs and cream, scatter the ham over the base, pour on the custard and bake at 180 °C for 35 minutes.\n";
    check(&[(
        tart,
        &[
            "Step 1 bakes for 15 minutes and then 8 minutes",
            "colour and crispness decide",
        ],
        &["meat or fish in it decides, not the colour"],
    )]);
}

/// Biscuits beside a stew are done by themselves; on top of it they bake with its meat.
#[test]
fn meat_that_bakes_elsewhere_says_nothing_of_biscuits() {
    let with = |step: &str| {
        format!(
            "Chicken Supper\n\nStew:\n500 g chicken thighs\n200 ml cream\n\nBiscuits:\n200 g plain flour\n100 g butter\n100 ml milk\n2 tsp baking powder\n\nMethod\n1. STEW: Simmer the chicken in the cream for 40 minutes.\n2. BISCUITS: Rub the butter into the flour and powder and stir in the milk.\n3. {step}\n"
        )
    };
    let alone = with("Cut out and bake on a tray at 200 °C for 15 minutes.");
    let on_top = with("BISCUITS: Drop onto the chicken and bake at 200 °C for 25 minutes.");
    check(&[
        (&alone, &["biscuits| Step 3 bakes"], &["middle of the meat"]),
        (&on_top, &["middle of the meat or fish in it decides"], &[]),
    ]);
}

#[test]
fn times_in_words() {
    for (low, high, want) in [
        (10.0, 10.0, "10 minutes"),
        (1.0, 1.0, "1 minute"),
        (10.0, 12.5, "10–13 minutes"),
        (60.0, 60.0, "1 hour"),
        (60.0, 120.0, "1–2 hours"),
        (60.0, 90.0, "1–1½ hours"),
        (83.0, 90.0, "83–90 minutes"),
        (45.0, 75.0, "45–75 minutes"),
        (30.0, 60.0, "30 minutes to 1 hour"),
        (10.0 / 60.0, 10.0 / 60.0, "10 seconds"),
        (0.5, 0.75, "30–45 seconds"),
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

/// Each note about words holds them, what to do and what to look for.
#[test]
fn words_of_a_step_are_answered() {
    let text = bread(
        "1. Mix and knead for 10 minutes, until smooth and elastic.\n2. Leave to rise until doubled, 1 hour.\n3. Knock back, dust the bench with flour and shape into a tight ball. Prove for 45 minutes.\n4. Slash the top. Bake for 35 minutes at 220 °C, until the base sounds hollow. Eat hot from the oven.\n",
    );
    let larder = Larder::built_in().expect("the built-in tables");
    let reader = crate::read::Reader::new(&larder, Locale::Uk);
    let recipe = crate::read::recipe(&text, &reader).expect("reads");
    let formula = crate::weigh::formula(recipe, &larder, Locale::Uk).expect("weighs");
    let reworked = rework(formula, &larder, &Options::default());
    let notes = &reworked.components[0].method_notes;
    let found: Vec<(usize, &str, &str)> = notes
        .iter()
        .filter_map(|n| {
            let aid = n.aid.as_ref()?;
            assert!(n.text.contains(&aid.instead) && n.text.contains(&aid.look_for));
            let words = n.words(&reworked.formula.recipe)?;
            Some((n.step?, aid.found, words))
        })
        .collect();
    assert_eq!(
        found,
        [
            (1, "knead", "knead"),
            (1, "elastic", "smooth and elastic"),
            (2, "doubled", "doubled"),
            (3, "second_rise", "Prove for 45 minutes"),
            (3, "knock_back", "Knock back"),
            (3, "dust", "dust the bench with flour"),
            (3, "tension", "tight ball"),
            (4, "slash", "Slash"),
            (4, "hollow", "hollow"),
            (4, "hot_slice", "Eat hot"),
        ]
    );
    let all = all(&text);
    for want in [
        "Step 4 taps for a hollow sound: the sound tells little here: the crust is firm before the middle has set. Probe the middle: 98 °C (95–98). Above 900 m, no more than 1.5 °C below your boiling point.",
        "Step 2 waits for twice the volume: stop at 1.3–2.0 times; past that it falls. Look for a dent that fills half way, and pinholes.",
        "Step 1 kneads for 10 minutes: there is no gluten to develop.",
    ] {
        assert!(all.contains(want), "{want}\n{all}");
    }
    for once in ["Cut hot", "cut hot", "when the middle reads"] {
        assert!(all.matches(once).count() <= 1, "{once}\n{all}");
    }
    // Without gluten, marzipan is kneaded as before.
    check(&[(
        &buns(
            "1. Mix. Knead the marzipan with the colour, roll it out and fold it in.\n2. Bake for 20 minutes at 190 °C.\n",
        ),
        &[],
        &["kneads", "rolls the dough"],
    )]);
}

/// 'Gas 5' beside the degrees is read, and the allowed oven has its fan and gas figures.
#[test]
fn every_oven_has_its_figure() {
    for (oven, want) in [
        (
            "190°C/170°C fan/Gas 5",
            "at 190 °C / 375 °F / gas 5: allow 33–38 minutes at 180 °C / 350 °F / gas 4 to 190 °C / 375 °F / gas 5 (fan 160–170 °C), 10–25 % longer",
        ),
        (
            "190 °C",
            "at 190 °C / 375 °F: allow 33–38 minutes at 180 °C / 350 °F to 190 °C / 375 °F (fan 160–170 °C, gas 4–5), 10–25 % longer",
        ),
    ] {
        let cake = format!(
            "Plain Cake\n\n200 g plain flour\n100 g butter\n100 g sugar\n2 eggs\n\nMethod\n1. Mix.\n2. Bake at {oven} for 30 minutes.\n"
        );
        check(&[(&cake, &[want], &[])]);
    }
}

/// Notes call steps as the page does, where its first paragraph has no number.
#[test]
fn steps_are_called_as_the_page_calls_them() {
    let larder = Larder::built_in().expect("the built-in tables");
    let labels = |text: &str| {
        let reader = crate::read::Reader::new(&larder, quantity::Locale::Us);
        let recipe = crate::read::recipe(text, &reader).expect("reads");
        let all = recipe.steps.iter().map(|s| recipe.step_label(s.number));
        all.collect::<Vec<_>>().join(", ")
    };
    let list = "Plain Cake\n\n200 g plain flour\n100 g butter\n100 g sugar\n2 eggs\n\nMethod\n";
    for (method, want) in [
        (
            "Heat the oven to 180 °C.\n\n1. Mix the butter and sugar.\n2. Beat in the eggs.\n3. Bake for 30 minutes.\n",
            "before 1, 1, 2, 3",
        ),
        ("1. Mix.\n2. Bake for 30 minutes.\n", "1, 2"),
        ("Mix all of it.\n\nBake for 30 minutes.\n", "1, 2"),
    ] {
        assert_eq!(labels(&format!("{list}{method}")), want);
    }
}

#[test]
fn step_numbers_are_those_of_their_own_method() {
    let back = |step: &str, n: usize| format!("{step} {}", n - 2);
    assert_eq!(
        renumbered(
            "Step 12 rises: leave out that of step 3; steps, step by step",
            back
        ),
        "Step 10 rises: leave out that of step 1; steps, step by step"
    );
}

/// One figure from one place: what the tables say of cooling is what the plan's table has, here by hand.
#[test]
fn cooling_is_told_by_the_plans_table() {
    let said = super::say::cools(&["rolls", "cakes", "loaves"]);
    assert_eq!(
        said,
        "rolls 45 minutes to 1 hour, cakes 1–2 hours, loaves 3–4 hours"
    );
    let mut facts = crate::heat::facts().iter();
    let fact = facts.find(|f| f.key == "cool").expect("a fact");
    assert!(fact.words.contains(&said), "{}", fact.words);
    let aid = super::aids::Row::of("hot_slice").expect("a row");
    assert!(aid.instead.contains(&said), "{}", aid.instead);
}
