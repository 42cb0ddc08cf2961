//! Parts whose steps go back and forth: each step waits for what it works on. The orders are those of the methods'
//! own words.

use super::{Locale, Sheet, Tasks, comes_after, of};

fn plan(text: &str) -> Tasks {
    of(&Sheet::new(text, Locale::Uk), 1.0)
}

/// The first task whose name has these words.
#[track_caller]
fn named(t: &Tasks, words: &str) -> usize {
    let found = t
        .list
        .iter()
        .position(|t| t.name.to_lowercase().contains(words));
    let all: Vec<_> = t.list.iter().map(|t| (&t.of, &t.name)).collect();
    assert!(found.is_some(), "no '{words}' among {all:?}");
    found.unwrap_or_default()
}

const PIES: &str = "Leek hand pies\nMakes 8\n\nPastry\n400 g plain flour\n200 g cold butter\n120 ml water\n\nFilling\n2 leeks, sliced\n30 g butter\n30 g plain flour\n250 ml whole milk\n\nTo finish: 1 egg, beaten; sesame seeds\n\n1. Rub the butter into the flour and bring together with the water. Chill for 1 hour.\n2. Soften the leeks in the butter, stir in the flour and the milk and simmer until thick. Leave to get completely cold.\n3. Roll the pastry and stamp out circles. Spoon on the filling, fold over and crimp.\n4. Brush with egg, sprinkle with sesame seeds and chill for 20 minutes.\n5. Bake at 200 °C for 25 minutes.\n";

#[test]
fn what_is_shaped_is_brushed_then_and_chilled_before_the_bake() {
    let t = plan(PIES);
    let (roll, brush, bake) = (named(&t, "roll"), named(&t, "brush egg"), named(&t, "bake"));
    let chill = (0..t.list.len()).find(|&i| t.list[i].what == "chill" && t.list[i].step == Some(4));
    let chill = chill.expect("it is chilled");
    assert!(
        comes_after(&t, brush, roll)
            && comes_after(&t, chill, brush)
            && comes_after(&t, bake, chill)
    );
    // The roll and the bake are a chill apart: no ten minutes.
    assert!(!t.list[bake].after.contains(&roll));
    assert!(
        t.list[brush].name.contains("seeds"),
        "{}",
        t.list[brush].name
    );
}

#[test]
fn a_filling_left_to_get_cold_is_cold_when_it_is_spooned_on() {
    let t = plan(PIES);
    let cool = named(&t, "cool");
    assert_eq!(t.list[cool].step, Some(2));
    assert!(comes_after(&t, named(&t, "roll"), cool));
    // Where the method says nothing, a cooling is put in: what was mixed first is hot as well.
    let t = plan(&PIES.replace(" Leave to get completely cold.", ""));
    let cool = named(&t, "cool");
    assert_eq!(t.list[cool].step, None);
    assert!(comes_after(&t, named(&t, "roll"), cool));
}

#[test]
fn what_was_cooked_steps_ago_is_ready_when_it_is_spooned_in() {
    let t = plan(
        "Cherry trifle\nServes 8\n\n400 g cherries\n2 tbsp cornflour\nDark chocolate shavings\n\nCustard\n500 ml whole milk\n4 egg yolks\n60 g sugar\n\n1. Simmer the cherries with the cornflour. Cool.\n2. Whisk the yolks and sugar, pour on the milk and cook until thick. Chill.\n3. Spoon the cherries into a bowl, then the custard. Chill for 4 hours.\n4. Scatter over the chocolate just before serving.\n",
    );
    let spoon = named(&t, "spoon");
    let cooked = (0..t.list.len()).rfind(|&i| t.list[i].step == Some(1));
    assert!(comes_after(&t, spoon, cooked.expect("a step")));
    assert!(comes_after(&t, named(&t, "scatter"), spoon));
    // By the name of its part too, where another part has such a food.
    let t = plan(
        "Cherry trifle\nServes 8\n\nCherries: 400 g cherries, 2 tbsp kirsch, 1 tbsp cornflour\n8 maraschino cherries\n\nCustard\n500 ml whole milk\n4 egg yolks\n60 g sugar\n\n1. Simmer the cherries with the cornflour, stir in the kirsch. Cool.\n2. Whisk the yolks and sugar, pour on the milk and cook until thick. Chill.\n3. Spoon the cherries into a bowl, then the custard. Chill for 4 hours.\n4. Scatter over the maraschino cherries just before serving.\n",
    );
    let cool = (0..t.list.len()).rfind(|&i| t.list[i].step == Some(1));
    assert!(comes_after(&t, named(&t, "spoon"), cool.expect("a step")));
}

#[test]
fn a_cold_loaf_is_cold_before_something_is_poured_over_it() {
    let t = plan(
        "Lemon loaf\n\nLoaf\n250 g plain flour\n2 tsp baking powder\n150 g butter\n200 g sugar\n3 eggs\n\nGlaze\n120 g icing sugar\n2 tbsp lemon juice\n\n1. Beat everything for the loaf. Bake in a loaf tin at 180 °C for 55 minutes. Cool in the tin for 15 minutes, then turn out.\n2. Stir the icing sugar with the lemon juice and pour over the cold loaf.\n",
    );
    let pour = named(&t, "mix icing");
    let cool = (0..t.list.len()).find(|&i| {
        t.list[i].what.starts_with("cool") && t.list[i].wait.is_some_and(|w| w.span.least >= 45.0)
    });
    assert!(comes_after(&t, pour, cool.expect("it cools for long")));
}

#[test]
fn hours_before_the_bake_are_for_shaping_and_rising_too() {
    let t = plan(
        "Pan pizza\n\nDough\n450 g strong flour\n300 ml water\n1 tsp instant yeast\n2 tsp salt\n\n1. Combine the dough ingredients and knead 6 minutes. Refrigerate for 12 to 24 hours.\n2. Take the dough out 2 hours before baking. Divide in half, round up and let rise until puffy.\n3. Bake at 250 °C for 10 minutes.\n",
    );
    let out = named(&t, "take out of the cold");
    assert_eq!(t.list[out].wait, None);
    let (shape, rise) = (named(&t, "shape"), named(&t, "rise"));
    let rises = t.list[rise].wait.expect("it rises").span.usual;
    let work = t.list[shape].hands.usual + t.list[rise].hands.usual;
    assert!((rises + work - 120.0).abs() < 0.1, "{rises} + {work}");
    // Where it says how long it rises, the two hours are before the shaping.
    let both = plan(
        "Pan pizza\n\nDough\n450 g strong flour\n300 ml water\n1 tsp instant yeast\n2 tsp salt\n\n1. Combine the dough ingredients and knead 6 minutes. Refrigerate for 12 to 24 hours.\n2. Take the dough out 2 hours before baking. Divide in half and let rise for 1 hour.\n3. Bake at 250 °C for 10 minutes.\n",
    );
    let waits = |t: &recipe::plan::Task| t.wait.is_some_and(|w| w.span.least == 120.0);
    assert!(both.list.iter().any(waits), "{:?}", both.list);
}

#[test]
fn a_bake_that_comes_again_says_that_one_is_planned() {
    let biscuits = |end: &str| {
        let t = plan(&format!(
            "Shortbread\n\n250 g plain flour\n170 g butter\n80 g sugar\n\n1. Rub together, roll and cut out.\n2. Bake at 160 °C for 20 minutes. {end}\n"
        ));
        let bake = named(&t, "bake");
        t.list[bake]
            .notes
            .iter()
            .any(|n| n.contains("more than one load"))
    };
    assert!(biscuits("Repeat with the rest."));
    assert!(!biscuits("Cool on the tray."));
}

#[test]
fn what_cools_a_little_does_not_wait_until_it_is_cold() {
    let t = plan(
        "Leek tart\n\nPastry\n200 g plain flour\n100 g butter\n\nFilling\n3 leeks\n30 g butter\n3 eggs\n200 ml cream\n\n1. Rub the butter into the flour. Line a tin and bake blind at 200 °C for 15 minutes.\n2. Fry the leeks in the butter. Cool a little.\n3. Whisk the eggs and cream with the leeks, pour into the case and bake at 180 °C for 35 minutes.\n",
    );
    let cool = t.list[named(&t, "cool a little")].wait.expect("it waits");
    assert!(
        cool.span.least <= 10.0 && cool.span.usual <= 15.0,
        "{cool:?}"
    );
}

#[test]
fn butter_that_is_creamed_takes_no_cream() {
    let t = plan(
        "Victoria sponge\n\nCake\n225 g butter\n225 g caster sugar\n4 eggs\n225 g self-raising flour\n\nFilling\n300 ml double cream\n6 tbsp strawberry jam\n\n1. Cream the butter and sugar, beat in the eggs, fold in the flour and divide between the tins. Bake at 180 °C for 25 minutes.\n2. Cool in the tins for 5 minutes, then turn out and leave until cold.\n3. Whip the cream. Sandwich with the jam and cream. Keep in the fridge and eat within 2 days.\n",
    );
    let weigh = t
        .list
        .iter()
        .position(|x| x.of == "filling" && x.what == "weigh");
    let weigh = weigh.expect("it is weighed");
    assert!(!comes_after(&t, named(&t, "cream butter"), weigh));
    assert!(comes_after(&t, named(&t, "whip"), weigh));
    assert_eq!(t.breaches, []);
}

/// Usual advice (two hours out of the fridge): cooked meat is not left out overnight for its second bake.
#[test]
fn meat_that_was_cooked_does_not_stand_overnight() {
    let pies = |meat: &str| {
        plan(&format!(
            "Beef hand pies\nMakes 6\n\nFilling\n500 g {meat}\n1 onion\n200 ml beef stock\n\nPastry\n400 g plain flour\n200 g butter\n130 ml water\n\n1. For the filling, brown the beef, add the onion and stock and bake in a covered pot at 160 °C for 2 hours. Take out of the oven, then chill overnight.\n2. Rub the butter into the flour, add the water. Roll out, fill, fold and crimp.\n3. Bake at 200 °C for 30 minutes.\n"
        ))
    };
    for meat in ["minced beef", "beef skirt, diced"] {
        let t = pies(meat);
        let bake = named(&t, "bake");
        let out = (bake..t.list.len()).find(|&i| t.list[i].what == "take_out");
        let stood = &t.list[out.unwrap_or(bake)];
        assert!(
            stood.stands <= 120.0 && stood.spoils.is_some(),
            "{meat}: {stood:?}"
        );
    }
    // Eggs of ducks are no duck, tomatoes no beef.
    for food in ["salted duck egg yolks", "beef tomatoes"] {
        assert!(pies(food).list.iter().all(|x| x.spoils.is_none()), "{food}");
    }
}

#[test]
fn what_the_method_calls_optional_is_the_stretch_it_says_so_of() {
    let t = plan(
        "Shortbread\n\n300 g plain flour\n200 g butter\n100 g sugar\n\n1. Beat the butter and sugar, add the flour. Chill for 30 minutes (optional).\n2. Roll out and chill again for 15 minutes, if you have time. Bake at 170 °C for 20 minutes.\n",
    );
    let optional: Vec<_> = t
        .list
        .iter()
        .filter(|x| x.optional.is_some())
        .map(|x| (x.what, x.step))
        .collect();
    assert_eq!(optional, [("chill", Some(1)), ("chill", Some(2))]);
}
