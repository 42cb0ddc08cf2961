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
    let (roll, brush, bake) = (
        named(&t, "roll"),
        named(&t, "brush with egg"),
        named(&t, "bake"),
    );
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
        assert!(pies(food).meat.is_empty(), "{food}");
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

const PEAR_TART: &str = "Pear and hazelnut tart\nServes 8\n\nFor the pastry\n200 g plain flour\n100 g cold butter\n1 tbsp icing sugar\n2 tbsp cold water\n\nFor the hazelnut cream\n110 g butter\n110 g caster sugar\n2 eggs\n110 g ground hazelnuts\n\nTo finish\n3 tbsp apricot jam\nicing sugar, to dust\n\n1. Rub the butter into the flour and icing sugar, stir in the water. Chill for 30 minutes.\n2. Roll out and line a 23 cm tart tin. Freeze for 15 minutes.\n3. Line with paper and beans and blind bake at 190 °C for 15 minutes.\n4. While the case bakes, make the hazelnut cream: cream the butter and sugar, beat in the eggs, fold in the hazelnuts.\n5. Spread the jam over the base, top with the hazelnut cream. Bake at 180 °C for 35 minutes.\n6. Cool completely in the tin before dusting with icing sugar.\n";

/// The steps of a plan that have tasks, each after what stands before it.
#[track_caller]
fn in_order(t: &Tasks, steps: &[usize]) {
    for pair in steps.windows(2) {
        let of = |step: usize| (0..t.list.len()).filter(move |&i| t.list[i].step == Some(step));
        let work = |&i: &usize| t.list[i].what != "preheat";
        let before = of(pair[0]).rfind(work).expect("the step before");
        let then = of(pair[1]).find(work).expect("the step behind");
        assert!(comes_after(t, then, before), "{pair:?}: {:#?}", t.list);
    }
}

#[test]
fn a_case_is_made_and_baked_before_it_is_filled() {
    in_order(&plan(PEAR_TART), &[1, 2, 3, 5, 6]);
    // Where the filling is made before the case is baked, it is still the case that is baked blind.
    let turned = PEAR_TART
        .replace("4. While the case bakes, make", "3. Make")
        .replace("3. Line with", "4. Line with");
    let (a, b) = (
        turned.find("4. Line").unwrap(),
        turned.find("3. Make").unwrap(),
    );
    let end = turned.find("5. Spread").unwrap();
    let turned = [&turned[..a], &turned[b..end], &turned[a..b], &turned[end..]].concat();
    let t = plan(&turned);
    in_order(&t, &[1, 2, 4, 5, 6]);
    in_order(&t, &[3, 5]);
}

#[test]
fn a_tart_cools_not_the_cream_that_it_is_served_with() {
    let t = plan(
        "Lime tart\nServes 8\n\nPastry\n200 g plain flour\n100 g cold butter\n1 egg yolk\n\nLime filling\n4 eggs\n150 g caster sugar\n150 ml double cream\njuice of 4 limes\n\nTo serve\nsoured cream\n\n1. Make the pastry: rub the butter into the flour, stir in the yolk and chill for 30 minutes.\n2. Roll out the pastry and line a 23 cm tart tin. Bake blind at 190 °C for 20 minutes.\n3. Whisk the filling ingredients together.\n4. Pour the filling into the hot case and bake at 150 °C for 30 minutes until just set.\n5. Cool completely. Serve with soured cream.\n",
    );
    in_order(&t, &[1, 2, 4, 5]);
    let cool = t.list.iter().find(|t| t.step == Some(5)).expect("it cools");
    assert_ne!(cool.of.to_lowercase(), "to serve");
}

#[test]
fn yeast_stirred_into_milk_begins_the_dough() {
    let t = plan(
        "Orange twists\nMakes 10\n\nDough\n440 g bread flour\n50 g sugar\n2 tsp active dry yeast\n1 tsp salt\n120 ml whole milk\n3 eggs\n\nEgg wash and pearl sugar: 1 egg, 1 tbsp milk, 2 tbsp pearl sugar\n\nStir the yeast into the milk with a pinch of the sugar and let stand 10 minutes. Add a third of the flour and let the sponge stand 30 minutes.\nAdd the eggs, salt and remaining sugar and flour. Mix 8 minutes.\nLet rise 1 hour. Roll, cut into strips and twist. Let rise 1 hour.\nBrush with egg wash and sprinkle with pearl sugar. Bake at 190 °C for 20 minutes.\n",
    );
    in_order(&t, &[1, 2, 3, 4]);
    let first = t.list.iter().find(|t| t.step == Some(1)).expect("a step");
    assert_eq!(first.of.to_lowercase(), "dough");
}

#[test]
fn a_syrup_is_boiled_before_it_cools_and_not_baked() {
    let t = plan(
        "Orange syrup loaf\nServes 8\n\nSyrup\n100 g sugar\n100 ml orange juice\n\nCake\n200 g butter\n200 g sugar\n4 eggs\n200 g self-raising flour\n\nMake the syrup so it can cool while you bake: boil the sugar and juice for 5 minutes. Cool completely.\nHeat the oven to 180 °C. Beat the butter, sugar, eggs and flour. Bake in a loaf tin for 50 minutes.\nImmediately pour the cold syrup over the hot cake.\n",
    );
    let first: Vec<_> = t.list.iter().filter(|t| t.step == Some(1)).collect();
    assert_eq!(
        first.iter().map(|t| t.what).collect::<Vec<_>>(),
        ["boil", "cool"]
    );
    in_order(&t, &[1, 3]);
    in_order(&t, &[2, 3]);
    assert!(t.list[named(&t, "pour syrup")].step == Some(3));
}

#[test]
fn syrup_goes_over_cakes_that_are_baked_and_icing_over_those_that_are_cold() {
    let t = plan(
        "Mocha cake\nServes 10\n\nCake\n225 g butter\n225 g caster sugar\n4 eggs\n225 g self-raising flour\n\nMocha syrup\n50 g sugar\n50 ml strong coffee\n\nIcing: 150 g icing sugar, 2 tbsp coffee\n\n1. Heat the oven to 180 °C. Beat the butter, sugar, eggs and flour and divide between two 20 cm tins. Bake for 25 minutes.\n2. While it bakes, make the syrup: heat the sugar and coffee until dissolved.\n3. Spoon the syrup over the hot cakes. Cool completely.\n4. When cold, ice and leave for 20 minutes to set.\n",
    );
    in_order(&t, &[1, 3, 4]);
    in_order(&t, &[2, 3]);
    let ice = named(&t, "ice");
    assert_eq!(
        (t.list[ice].step, t.list[ice].of.to_lowercase()),
        (Some(4), "icing".to_owned())
    );
}

#[test]
fn a_third_of_it_is_of_what_the_step_before_made() {
    let t = plan(
        "Toffee pudding\n\nSponge\n180 g self-raising flour\n85 g butter\n150 g dark muscovado sugar\n2 eggs\n\nToffee sauce\n150 g light muscovado sugar\n75 g butter\n250 ml double cream\n\nTo serve\nvanilla ice cream\n\n1. Cream the butter and sugar, beat in the eggs, fold in the flour. Bake at 180 °C for 35 minutes.\n2. For the sauce, simmer the sugar, butter and cream for 3 minutes.\n3. Pour a third of it over the hot pudding. Serve with the rest and ice cream.\n",
    );
    let pour = (0..t.list.len())
        .find(|&i| t.list[i].step == Some(3))
        .expect("a step");
    assert!(comes_after(&t, pour, named(&t, "simmer")), "{:#?}", t.list);
    assert!(comes_after(&t, pour, named(&t, "bake")));
}

#[test]
fn a_sauce_made_meanwhile_is_the_part_that_has_all_its_foods() {
    let t = plan(
        "Toffee pudding\n\nSponge\n180 g self-raising flour\n85 g butter\n150 g dark muscovado sugar\n2 eggs\n\nToffee sauce\n150 g light muscovado sugar\n75 g butter\n250 ml double cream\n1 tsp vanilla extract\n\nTo serve\nvanilla ice cream\n\n1. Cream the butter and sugar, beat in the eggs, fold in the flour. Bake at 180 °C for 35 minutes.\n2. Meanwhile, melt the sugar, butter and half the cream, bubble for 3 minutes, then stir in the rest of the cream and the vanilla.\n3. Pour the sauce over the hot pudding.\n",
    );
    let melt = named(&t, "melt");
    assert_eq!(t.list[melt].of, "toffee sauce");
    let weigh = t
        .list
        .iter()
        .position(|x| x.of == "toffee sauce" && x.what == "weigh");
    assert!(comes_after(&t, melt, weigh.expect("it is weighed")));
}

#[test]
fn a_filling_without_steps_is_made_before_it_fills() {
    let t = plan(
        "Walnut plait\n\nDough\n500 g strong white flour\n7 g fast-action dried yeast\n200 ml milk\n\nNut filling\n200 g walnuts\n75 g light muscovado sugar\n50 g butter\n\n1. Make the dough and chill it overnight.\n2. Roll, fill and plait it. Let rise for 1 hour.\n3. Bake at 190 °C for 30 minutes.\n",
    );
    let filling = (0..t.list.len()).rfind(|&i| t.list[i].of == "nut filling");
    let fill = (0..t.list.len())
        .find(|&i| t.list[i].step == Some(2))
        .expect("a step");
    assert!(
        comes_after(&t, fill, filling.expect("it is made")),
        "{:#?}",
        t.list
    );
}

/// By hand: a bake that goes on at another heat stays in while its oven changes; two bakes an hour apart do not.
#[test]
fn only_bakes_that_wait_for_the_oven_to_change_are_told_of_it() {
    let changes = |bake: &str| {
        let text = format!(
            "Plum muffins\nMakes 12\n\n270 g plain flour\n200 g sugar\n2 eggs\n\n1. Whisk the flour, sugar and eggs and divide among the cups. {bake}\n"
        );
        recipe::plan::changes_heat(&super::days::ask(&[super::sheet(&text)], None))
    };
    assert!(!changes(
        "Bake at 200 °C for 5 minutes, then lower the oven to 190 °C and bake for 17 minutes more."
    ));
    assert!(changes(
        "Bake at 200 °C for 5 minutes. Cool for 1 hour. Heat the oven to 150 °C and bake for 30 minutes."
    ));
}

/// The step that mixes the filling rolls the pastry too: the hour's chill of the pastry is over by then.
#[test]
fn what_was_chilled_is_rolled_when_its_chill_is_over() {
    let t = plan(
        "Lamb hand pies\nMakes 6\n\nPastry\n500 g plain flour\n250 g lard\n140 ml water\n1 egg, beaten, to glaze\n\nFilling\n300 g lamb neck fillet, diced\n250 g potato, diced\n1 onion, chopped\n\n1. Rub the fat into the flour, add the water and bring together. Wrap and chill for 1 hour.\n2. Mix the filling and season. Roll out the pastry to 4 mm and cut out six rounds.\n3. Pile on the filling, fold over and crimp. Brush with egg. Chill 20 minutes.\n4. Bake at 200 °C for 45 minutes.\n",
    );
    let chill = (0..t.list.len()).find(|&i| t.list[i].what == "chill" && t.list[i].step == Some(1));
    assert!(comes_after(&t, named(&t, "roll"), chill.expect("a chill")));
}

/// What is to gel goes into the milk that was heated once that is lukewarm, not before it is heated.
#[test]
fn psyllium_gels_in_heated_milk_once_it_has_cooled() {
    let t = plan(
        "Milk loaf\nMakes 1 loaf\n\n300 ml whole milk\n50 g butter\n30 g sugar\n500 g strong white bread flour\n7 g instant yeast\n8 g salt\n\n1. Heat the milk with the butter and sugar until it melts; let it cool to lukewarm.\n2. Add the flour, yeast and salt and knead for 8 minutes. Let rise 1 hour.\n3. Shape into a loaf and bake at 180 °C for 35 minutes.\n",
    );
    let (gel, cool) = (named(&t, "psyllium"), named(&t, "cool"));
    assert!(comes_after(&t, gel, cool));
    assert!(comes_after(&t, cool, named(&t, "heat milk")));
}
