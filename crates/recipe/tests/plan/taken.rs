//! What a step takes of another part, and what it says that it does not.

use super::{at, comes_after, of, sheet};
use recipe::plan::Tasks;

/// Rolls with a part of their own for what goes on them.
fn rolls(part: &str, method: &str) -> Tasks {
    let text = format!(
        "Milk rolls\n\nDough\n500 g strong white flour\n7 g fast-action yeast\n60 g sugar\n7 g salt\n280 g milk\n60 g butter\n\n{part}\n\nMethod\n1. Mix everything for the dough and knead for 8 minutes.\n2. Let rise for 1 hour.\n3. Shape into 12 rolls.\n{method}\n"
    );
    of(&sheet(&text), 1.0)
}

/// Worked by hand: whatever its heading, and in whatever words it is brushed on, a wash is weighed first.
#[test]
fn a_wash_is_weighed_before_it_is_brushed_on() {
    for (part, brush, key) in [
        (
            "Egg wash\n1 egg, beaten\n1 tbsp milk",
            "Brush with beaten egg.",
            "dough:brush",
        ),
        (
            "Egg wash\n1 egg, beaten\n1 tbsp milk",
            "Brush the tops and cover.",
            "dough:brush",
        ),
        (
            "For the glaze\n1 egg, beaten\n1 tbsp milk",
            "Brush the rolls with the glaze.",
            "dough:brush",
        ),
        (
            "To finish\n1 egg, beaten\n2 tbsp sesame seeds",
            "Egg wash the rolls.",
            "dough:brush",
        ),
        (
            "Topping\n1 egg\n2 tbsp poppy seeds",
            "Sprinkle with poppy seeds.",
            "dough:rise",
        ),
    ] {
        let t = rolls(
            part,
            &format!("4. {brush} Let rise for 45 minutes.\n5. Bake at 190 °C for 25 minutes."),
        );
        let on = at(&t, key);
        let weigh = t
            .list
            .iter()
            .position(|w| w.what == "weigh" && w.of != "dough");
        let weigh = weigh.expect("it is weighed");
        assert!(comes_after(&t, on, weigh), "{part}: {brush}: {:?}", t.list);
        assert!(comes_after(&t, at(&t, "dough:bake"), on), "{brush}");
    }
    // Brushed with something of the dough, it is not this part.
    let t = rolls(
        "Filling\n100 g cream cheese\n1 egg yolk",
        "4. Brush with melted butter. Let rise for 45 minutes.\n5. Bake at 190 °C for 25 minutes.\n6. Cool. Beat the cream cheese and the yolk. Fill the rolls.",
    );
    let (weigh, brush) = (at(&t, "filling:weigh"), at(&t, "dough:brush"));
    assert!(!comes_after(&t, brush, weigh), "{:?}", t.list);
}

/// Worked by hand: a tin is greased with butter or oil, not washed with egg, and the lemon of an icing is
/// no wash either; nor does a greased tin hide the wash that follows it.
#[test]
fn only_egg_and_milk_on_a_bake_are_a_wash() {
    let filling = "Filling\n100 g cream cheese\n1 egg yolk\n20 g butter";
    let bake = "4. Let rise for 45 minutes.\n5. Bake at 190 °C for 25 minutes.\n6. Cool.";
    for brush in [
        "Brush the tin with butter.",
        "Brush a baking sheet with oil.",
        "Brush the tin.",
        "Brush with melted butter.",
        "Brush the rolls with olive oil.",
    ] {
        let method = bake.replace("Let rise", &format!("{brush} Let rise"));
        let t = rolls(
            filling,
            &format!("{method} Beat the cream cheese, the butter and the yolk. Fill the rolls."),
        );
        let (weigh, bake) = (at(&t, "filling:weigh"), at(&t, "dough:bake"));
        assert!(!comes_after(&t, bake, weigh), "{brush}: {:?}", t.list);
    }
    for brush in [
        "Brush the tin with butter. Brush the rolls with the egg.",
        "Brush the rolls in the tin with milk.",
        "Brush with the beaten yolk.",
    ] {
        let t = rolls(
            "Egg wash\n1 egg, beaten\n1 tbsp milk",
            &bake.replace("Let rise", &format!("{brush} Let rise")),
        );
        let weigh = t
            .list
            .iter()
            .position(|w| w.what == "weigh" && w.of != "dough");
        let weigh = weigh.expect("it is weighed");
        assert!(comes_after(&t, at(&t, "dough:bake"), weigh), "{brush}");
    }
}

/// The egg of a glaze is baked; its sugar and lemon are no raw egg.
#[test]
fn an_icing_in_the_part_of_a_wash_is_no_raw_egg() {
    let part = "For the glaze\n1 egg, beaten\n100 g icing sugar\n2 tbsp lemon juice";
    for brush in ["Brush with the egg.", "Brush the rolls."] {
        let t = rolls(
            part,
            &format!(
                "4. Let rise for 45 minutes. {brush}\n5. Bake at 190 °C for 25 minutes. Cool.\n6. Mix the icing sugar and the lemon juice. Drizzle over the cold rolls."
            ),
        );
        let glaze = t.list[at(&t, "glaze:weigh")].component;
        let (weigh, bake) = (at(&t, "glaze:weigh"), at(&t, "dough:bake"));
        assert!(comes_after(&t, bake, weigh), "{brush}: {:?}", t.list);
        let warm: Vec<_> = t.warm.iter().filter(|w| w.component == glaze).collect();
        assert!(
            warm.iter().all(|w| w.heated && w.most < 30.0),
            "{brush}: {warm:?}"
        );
        // Nothing of it is to be eaten within two hours.
        let of_glaze = |t: &Tasks, l: &recipe::plan::Limit| {
            t.list[l.from].component == glaze && l.to.is_none()
        };
        assert!(
            !t.limits.iter().any(|l| of_glaze(&t, l)),
            "{brush}: {:?}",
            t.limits
        );
    }
    // With milk in the icing there is something left that spoils.
    let milk = part.replace("lemon juice", "milk");
    let t = rolls(
        &milk,
        "4. Let rise for 45 minutes. Brush with the egg.\n5. Bake at 190 °C for 25 minutes. Cool.\n6. Mix the icing sugar and the milk. Drizzle over the cold rolls.",
    );
    let glaze = t.list[at(&t, "glaze:weigh")].component;
    assert!(
        t.limits
            .iter()
            .any(|l| t.list[l.from].component == glaze && l.to.is_none()),
        "{:?}",
        t.limits
    );
}

/// What a step leaves aside is not named among what it does.
#[test]
fn what_is_left_aside_is_not_taken() {
    let cake = |mix: &str| {
        of(
            &sheet(&format!(
                "Cherry cake\n\n200 g flour\n150 g butter\n150 g sugar\n3 eggs\n200 g cherries\n50 g almonds\n\nIcing\n100 g icing sugar\n1 tbsp lemon juice\n\nMethod\n1. {mix}\n2. Fold in the cherries and bake at 180 °C for 40 minutes without the icing.\n3. Cool. Spread with the icing.\n"
            )),
            1.0,
        )
    };
    for mix in [
        "Beat the butter and everything except the cherries.",
        "Beat the butter and all but the almonds, then rest for 10 minutes.",
    ] {
        let t = cake(mix);
        let first = t.list.iter().find(|t| t.step == Some(1)).expect("a step");
        assert!(
            first.name.contains("butter")
                && !first.name.contains("cherries")
                && !first.name.contains("almonds"),
            "{}",
            first.name
        );
        let bake = t
            .list
            .iter()
            .position(|t| t.what == "bake")
            .expect("a bake");
        let icing = at(&t, "icing:weigh");
        let order: Vec<_> = t.list.iter().map(|t| (&t.key, t.step, &t.after)).collect();
        assert!(!comes_after(&t, bake, icing), "{order:?}");
    }
}

/// Worked by hand: the bake is of the dough, in whatever words the glaze goes on; that is mixed before it does.
#[test]
fn a_glaze_does_not_take_the_bake_of_a_raw_dough() {
    for (end, before) in [
        ("Bake at 190 °C for 25 minutes. Glaze when cool.", false),
        (
            "Bake at 190 °C for 25 minutes. Brush the glaze over the rolls when they are cold.",
            false,
        ),
        ("Glaze and bake at 190 °C for 25 minutes.", true),
    ] {
        let t = rolls(
            "Glaze\n100 g icing sugar\n20 g milk",
            &format!("4. Let rise for 45 minutes.\n5. {end}"),
        );
        let order: Vec<_> = t.list.iter().map(|t| (&t.key, &t.name, &t.after)).collect();
        let (bake, mix) = (at(&t, "dough:bake"), at(&t, "glaze:mix"));
        let on = t.list.iter().position(|t| t.name.contains("glaze"));
        let on = on.unwrap_or_else(|| panic!("{end}: {order:?}"));
        assert!(comes_after(&t, on, mix), "{end}: {order:?}");
        assert_eq!(comes_after(&t, bake, mix), before, "{end}: {order:?}");
        assert_eq!(comes_after(&t, bake, on), before, "{end}: {order:?}");
        let out = at(&t, "dough:take_out");
        assert_eq!(comes_after(&t, on, out), !before, "{end}: {order:?}");
    }
    // With meat in it the bread ends its cooling in the fridge, the glaze on it.
    let text = "Beef plait\n\nDough\n500 g strong white flour\n7 g fast-action yeast\n9 g salt\n300 g water\n40 g oil\n\nFilling\n400 g minced beef\n1 onion\n\nGlaze\n100 g icing sugar\n20 g milk\n\n1. Mix everything for the dough. Let rise for 1 hour.\n2. Fry the beef and onion for 10 minutes. Cool.\n3. Roll out the dough, spread with the filling and plait.\n4. Let rise for 40 minutes.\n5. Bake at 190 °C for 40 minutes. Glaze when cool.\n";
    let t = of(&sheet(text), 1.0);
    assert!(t.list.iter().all(|t| t.what != "bake" || t.of == "dough"));
    let cold = t.list.iter().find(|t| t.name.contains("in the fridge"));
    assert_eq!(cold.map(|t| t.of.as_str()), Some("dough"), "{:?}", t.list);
}

/// Worked by hand: a filling that a step of the dough mixes is weighed for that, not mixed before it as well.
#[test]
fn a_part_that_a_step_of_the_dough_mixes_is_mixed_once() {
    let knots = |spread: &str| {
        let text = format!(
            "Garlic knots\n\nDough\n500 g strong white flour\n7 g fast-action yeast\n10 g salt\n320 g water\n\nGarlic butter filling\n100 g butter, soft\n4 cloves garlic\n10 g parsley\n\n1. Mix everything for the dough and knead for 8 minutes. Chill overnight.\n2. {spread} Fold and cut into 16 strips; tie each to a knot.\n3. Let rise for 45 minutes. Bake at 200 °C for 20 minutes.\n"
        );
        of(&sheet(&text), 1.0)
    };
    for spread in [
        "Mix the filling. Roll out the dough and spread with the filling.",
        "Beat the garlic butter filling, roll out the dough and spread it over.",
    ] {
        let t = knots(spread);
        let order: Vec<_> = t.list.iter().map(|t| (&t.key, &t.name, &t.after)).collect();
        let mixed = t.task("garlic butter filling:mix");
        assert!(mixed.is_none_or(|t| t.step == Some(2)), "{order:?}");
        let (weigh, rolls) = (at(&t, "garlic butter filling:weigh"), 2);
        let rolls = t.list.iter().position(|t| t.step == Some(rolls));
        assert!(comes_after(&t, rolls.expect("a step"), weigh), "{order:?}");
    }
    let t = knots("Roll out the dough and spread with the filling.");
    assert!(t.task("garlic butter filling:mix").is_some());
}

/// Worked by hand: what the pastry is to hold, or waits for, is taken by the step that names its foods, after the
/// pastry's rest of 3 hours; told only so, it is ready before the bake, not before the pastry is mixed.
#[test]
fn a_filling_told_of_for_later_is_not_weighed_with_the_pastry() {
    let pasties = |tells: &str, fills: &str| {
        let text = format!(
            "Pasties\n\nPastry\n500 g plain flour\n120 g lard\n25 g margarine\n5 g salt\n175 ml water\n\nFilling\n400 g beef, diced\n300 g potato, diced\n150 g swede, diced\n150 g onion, chopped\n\nMethod\n1. Rub the lard and margarine into the flour and salt. Add the water and mix until smooth. {tells}\n2. Rest in the fridge for 3 hours.\n3. Roll the pastry out and cut 6 rounds. {fills} Fold over and crimp.\n4. Bake at 180 °C for 50 minutes.\n"
        );
        of(&sheet(&text), 1.0)
    };
    for tells in [
        "This gives the pastry the strength that is needed to hold the filling.",
        "It must be firm enough for the filling.",
        "Keep it covered until you need it for the filling.",
    ] {
        for fills in [
            "Layer the potato, swede, onion and beef on each.",
            "Share everything else out on them.",
        ] {
            let t = pasties(tells, fills);
            let weigh = at(&t, "filling:weigh");
            let rest = t.list.iter().position(|t| t.step == Some(2));
            let rest = rest.expect("it rests");
            assert!(
                !comes_after(&t, rest, weigh),
                "{tells} {fills}: {:?}",
                t.list
            );
            assert!(
                comes_after(&t, at(&t, "pastry:bake"), weigh),
                "{tells} {fills}"
            );
        }
    }
    // Put in by the same step, it is taken there.
    let t = pasties(
        "Ready for the filling, line a dish. Put the filling in.",
        "",
    );
    let rest = t.list.iter().position(|t| t.step == Some(2));
    assert!(comes_after(
        &t,
        rest.expect("it rests"),
        at(&t, "filling:weigh")
    ));
}

/// By hand: the cheese goes into the hollows between the two rises of step 3, so it comes out of the fridge behind the
/// first of them; the day had been refused for two rises and the shaping, 2 h 11 min. What a step takes before any wait,
/// it still waits for at once.
#[test]
fn a_filling_stays_in_the_fridge_until_the_stretch_that_takes_it() {
    let recipe = |last: &str| {
        of(
            &sheet(&format!(
                "Cheese buns\n\nMakes 12\n\nDough\n500 g strong flour\n7 g dried yeast\n320 ml water\n10 g salt\n\nCheese filling\n300 g ricotta\n2 eggs\n60 g sugar\n\nMethod\n1. For the dough, mix to a dough and knead for 10 minutes.\n2. For the cheese filling, beat everything together and keep it in the fridge.\n3. {last}\n4. Bake at 190 °C for 20 minutes.\n"
            )),
            1.0,
        )
    };
    let t = recipe(
        "Divide the dough into 12 pieces and roll into balls. Let rise 40 minutes. Press a hollow into each ball, fill with the cheese and let rise 15 minutes more.",
    );
    let (chill, fill) = (at(&t, "cheese filling:chill"), at(&t, "dough:other"));
    assert!(t.list[fill].after.contains(&chill), "{:?}", t.list);
    assert!(!comes_after(&t, at(&t, "dough:rise"), chill));
    assert!(t.breaches.is_empty(), "{:?}", t.breaches);
    let t = recipe(
        "Divide the dough into 12 pieces, put a spoonful of the cheese on each and pinch shut. Let rise 40 minutes.",
    );
    assert!(comes_after(
        &t,
        at(&t, "dough:rise"),
        at(&t, "cheese filling:chill")
    ));
}
