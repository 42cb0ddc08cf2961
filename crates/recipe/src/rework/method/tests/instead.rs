//! Where a technique of wheat cannot be done: what the method says in its place.

use super::check;

const STRUDEL: &str = "Cherry strudel\n\nDough\n250 g strong flour\n1 egg\n2 tbsp oil\n110 g warm water\n\nFilling\n700 g cherries, stoned\n100 g sugar\n\n1. Mix the dough. Rest 1 hour.\n2. Stretch the dough over the backs of your hands on a cloth until you can read a newspaper through it.\n3. Scatter over the cherries and sugar. Roll up with the cloth.\n4. Bake at 190 °C for 40 minutes.\n";
const STOLLEN: &str = "Almond stollen\n\n500 g strong white flour\n10 g fast-action yeast\n180 g milk\n200 g butter\n80 g sugar\n1 egg\n200 g marzipan\n\n1. Mix everything but the marzipan.\n2. Pat into an oval, lay the marzipan in the middle and roll up.\n3. Let rise for 45 minutes. Bake at 180 °C for 45 minutes.\n";
const BABY: &str = "Oven pancake with pears\n\n3 eggs\n120 ml milk\n70 g plain flour\n1 tbsp sugar\n30 g butter\n1 pear, sliced\n\n1. Whisk the eggs, milk, flour and sugar to a batter.\n2. Melt the butter in a hot pan, pour in the batter and bake at 220 °C for 18 minutes until puffed and brown.\n";

fn plait(water: u32) -> String {
    format!(
        "Sesame plait\n\n500 g strong white flour\n7 g fast-action yeast\n9 g salt\n40 g sugar\n{water} g water\n1 egg\n50 g oil\n\n1. Mix for 10 minutes.\n2. Divide into three ropes and plait them.\n3. Let rise for 40 minutes. Bake at 190 °C for 30 minutes.\n"
    )
}

#[test]
fn what_gluten_stretches_is_rolled_between_paper() {
    check(&[
        (
            STRUDEL,
            &["cannot be stretched so, it tears. Roll it in pieces between two sheets"],
            &["windowpane"],
        ),
        (
            STOLLEN,
            &[
                "Step 2 rolls it up: in the hands it tears.",
                "lifting the paper under it",
            ],
            &[],
        ),
    ]);
}

/// A firm dough is rolled, a soft one piped.
#[test]
fn a_plait_of_firm_dough_is_not_piped() {
    check(&[
        (
            &plait(200),
            &["this dough can be rolled, but not stretched"],
            &["pipe"],
        ),
        (
            &plait(380),
            &["this dough is too soft to roll: pipe the strands"],
            &["can be rolled"],
        ),
    ]);
}

#[test]
fn only_a_custard_wobbles() {
    let puffed = BABY.replace("Oven pancake", "Oven dish");
    for text in [BABY, &puffed, &BABY.replace("until puffed and brown", "")] {
        check(&[(text, &["Done when it has risen"], &["wobbles"])]);
    }
}

/// What the plan does with a filled bread is what the method says of its cooling.
#[test]
fn a_filled_bread_cools_on_in_the_fridge() {
    let bread = |filling: &str| {
        format!(
            "Filled loaf\n\nDough\n500 g strong white flour\n7 g fast-action yeast\n9 g salt\n330 g water\n\nFilling\n{filling}\n\n1. Mix the dough.\n2. Roll out, fill and roll up.\n3. Bake at 200 °C for 40 minutes.\n"
        )
    };
    let said = "2 hours of that in the room at most, the rest in the fridge";
    check(&[
        (&bread("250 g ricotta\n60 g sugar"), &[said], &[]),
        (&bread("300 g minced beef\n1 onion"), &[said], &[]),
        (
            &bread("200 g walnuts\n100 g sugar"),
            &["loaves 3–4 hours"],
            &[said],
        ),
    ]);
}

/// Doughnuts that are cut out are not filled, rolled up and cut with a thread, nor rolled thinner than said.
#[test]
fn what_is_not_rolled_up_is_not_told_to_be() {
    let dough = |step: &str| {
        format!(
            "Sweet dough\n\n500 g strong white flour\n7 g fast-action yeast\n8 g salt\n200 g milk\n80 g sugar\n2 eggs\n80 g butter\n\n1. Mix the dough and let it rise.\n2. {step}\n3. Let rise for 1 hour and bake at 190 °C for 20 minutes.\n"
        )
    };
    let thread = "roll up with the sheet; cut with thread";
    check(&[
        (
            &dough("Roll out the dough 1/2 inch thick and cut into 3-inch rounds."),
            &["as thick as the method says", "cut it cold"],
            &[thread, "5–7 mm"],
        ),
        (
            &dough(
                "Roll the dough out to a 30 x 50 cm rectangle, fold in thirds and cut into 16 strips.",
            ),
            &["roll to 5–7 mm", "fold or cut it cold"],
            &[thread],
        ),
        (
            &dough(
                "Roll out the dough to 30 x 40 cm, spread with butter, roll up and cut into 12.",
            ),
            &[thread],
            &[],
        ),
    ]);
}

/// What is fried is not baked, and a tin is no bench.
#[test]
fn notes_name_what_the_step_is_about() {
    const DOUGHNUTS: &str = "Doughnuts\n\n500 g strong white flour\n7 g yeast\n50 g sugar\n2 eggs\n250 ml milk\n1 litre oil, for deep-frying\n\n1. Mix, knead 10 minutes and let rise 1 hour.\n2. Shape into 10 and let rise 30 minutes.\n3. Fry at 180 °C for 2 minutes a side.\n";
    const PUDDINGS: &str = "Puddings\n\n175 g self-raising flour\n85 g butter\n150 g sugar\n2 eggs\n\n1. Beat all to a batter.\n2. Divide between 8 buttered and floured pudding basins and bake at 180 °C for 20 minutes.\n";
    let buns = super::bread("1. Mix to a dough and knead on a floured surface.\n2. Bake.\n");
    check(&[
        (
            DOUGHNUTS,
            &["let it rise once for up to 1 hour, and fry."],
            &["let it rise once, and bake.", "up to 1 hour, and bake."],
        ),
        (PUDDINGS, &["rice flour will do"], &["Oil the bench"]),
        (&buns, &["Oil the bench"], &["Oil the tins"]),
    ]);
}
