//! Methods of few words. Worked by hand from the texts.

use super::{at, comes_after, of, sheet};
use recipe::plan::Place;

/// What no step mixes is mixed before it is rolled.
#[test]
fn what_no_step_mixes_is_mixed_first() {
    let text = "Nutmeg Rings\nMakes 14\n\n2 cups all-purpose flour\n2 tsp baking powder\n1/2 tsp nutmeg\n1/2 cup buttermilk\n1/2 cup sugar\n1 egg\n2 Tbsp butter, melted\n\nRoll out 1/2 inch thick, cut with a 3-inch cutter and fry at 365°F for 1 minute a side.\nDust with sugar while warm.\n";
    let t = of(&sheet(text), 1.0);
    assert!(comes_after(&t, at(&t, ":roll"), at(&t, ":mix")));
}

const BISCUITS: &str = "Hazel Biscuits\nMakes 20\n\n200 g plain flour\n100 g ground hazelnuts\n150 g butter\n80 g sugar\n1 egg\n\nMethod\n1. Rub the butter into the flour, stir in the sugar, nuts and egg. Chill for 30 minutes.\n2. Roll out and cut into rounds.\n3. Bake at 180 °C for 12 minutes.\n4. Cool on a rack.\n";

/// What is left is frozen beside the batch, which does not wait for it.
#[test]
fn the_batch_does_not_wait_for_the_rest_in_the_freezer() {
    for said in [
        "Freeze the rest of the dough for up to 2 months",
        "Freeze half for another day",
        "Bake six and freeze the other half",
        "Wrap the rest and put half of them in the freezer",
    ] {
        let text = BISCUITS.replace("rounds.", &format!("rounds. {said}."));
        let t = of(&sheet(&text), 1.0);
        assert!(t.list.iter().all(|x| x.what != "freeze"), "{said}");
        let last = &t.list[at(&t, ":cool")];
        let told = last.notes.iter().any(|n| n.contains(said));
        assert!(told, "{:?}", last.notes);
    }
    // A short time of it is a wait.
    let text = BISCUITS.replace("rounds.", "rounds. Freeze half of them for 20 minutes.");
    assert!(of(&sheet(&text), 1.0).task(":freeze").is_some());
    for waits in [
        "Freeze until firm, then bake half",
        "Freeze until half set, then swirl and freeze until firm",
        "Freeze with the other side up until firm",
    ] {
        let text = BISCUITS.replace("rounds.", &format!("rounds. {waits}."));
        assert!(of(&sheet(&text), 1.0).task(":freeze").is_some(), "{waits}");
    }
}

/// What may be done, and what was to be done before, is no wait at the end.
#[test]
fn notes_behind_the_method_are_no_steps() {
    let before = "Take the butter out of the fridge 1 hour before you start";
    let notes = format!(
        "{before}.\nKeeps 3 days in a tin.\nYou can leave the dough in the fridge for 24 hours.\n"
    );
    let keys = |t: &recipe::plan::Tasks| t.list.iter().map(|x| x.key.clone()).collect::<Vec<_>>();
    let plain = keys(&of(&sheet(BISCUITS), 1.0));
    for heading in ["", "Baker's notes\n", "Baker’s notes:\n", "Notes\n"] {
        let t = of(&sheet(&format!("{BISCUITS}\n{heading}{notes}")), 1.0);
        assert_eq!(keys(&t), plain, "{heading}");
        if heading.is_empty() {
            let first = &t.list[at(&t, ":weigh")].notes;
            assert!(first.iter().any(|n| n.contains(before)), "{first:?}");
        }
    }
}

/// It is the wrappers or the pasta that are kneaded and rolled, not what is weighed or named before.
#[test]
fn nothing_without_flour_is_kneaded() {
    let dumplings = "Cabbage Dumplings\nMakes 30\n\nFor the wrappers\n2 cups plain flour\n3/4 cup boiling water\n\nFor the filling\n9 oz minced pork\n100 g cabbage\n1 egg white\n\nDipping sauce\n3 Tbsp tamari\n1 Tbsp black vinegar\n\nKnead the dough and rest for 1 hour. Meanwhile, mix the filling. Roll half of the dough into 15 rounds; repeat with the rest.\nSteam for 8 minutes.\n";
    let ribbons = "Yolk Ribbons\n\nFor the pasta\n300 g plain flour\n3 eggs\n\nFor the cured yolks\n4 egg yolks\n200 g salt\n200 g sugar\n\n1. Mix the salt and sugar, nestle the yolks in it and cure for 24 h.\n2. Knead the dough for 10 minutes and rest for 1 hour.\n3. Roll out the dough and cut into ribbons. Boil for 2 minutes and grate the yolks over.\n";
    for (text, part) in [(dumplings, "wrappers"), (ribbons, "pasta")] {
        let t = of(&sheet(text), 1.0);
        for task in t
            .list
            .iter()
            .filter(|x| x.name.to_lowercase().contains("roll"))
        {
            assert_eq!(task.of, part, "{}", task.name);
        }
        // Without gluten it is brought together, not kneaded.
        let mixed = t.list.iter().filter(|x| x.step.is_some() && x.of == part);
        assert!(mixed.count() > 1, "{part}");
        assert!(t.list.iter().all(|x| x.what != "knead" || x.of == part));
    }
    let t = of(&sheet(dumplings), 1.0);
    let filling: Vec<&str> = t
        .list
        .iter()
        .filter(|x| x.of == "filling")
        .map(|x| x.what)
        .collect();
    assert_eq!(filling, ["weigh", "mix"]);
    // A day's cure is no work, and of the yolks alone, in the fridge.
    let t = of(&sheet(ribbons), 1.0);
    let cure = &t.list[at(&t, "cured yolks:rest")];
    let wait = cure.wait.expect("a wait");
    assert_eq!(
        (wait.span.least, wait.place),
        (1440.0, recipe::plan::Place::Fridge)
    );
}

/// A preferment that an own method leaves 'until it bubbles' takes the hours that are said of it elsewhere,
/// and is an ingredient of the dough where it is named among others.
#[test]
fn a_poolish_of_an_own_method_ripens_as_long_as_is_said_of_it() {
    let text = "Plain Loaf\n\nPoolish\n150 g strong flour\n150 g water\n1 g yeast\n\nDough\n350 g strong flour\n170 g water\n8 g salt\n4 g yeast\n\n1. Mix the poolish and leave 12 hours at room temperature.\n2. Mix the dough with the poolish. Rise 1 hour.\n3. Shape, prove 45 minutes and bake at 230 °C for 35 minutes.\n";
    for ripens in ["leave until it bubbles", "let it stand until it bubbles"] {
        let mut own = sheet(text);
        own.method = Some(format!(
            "Mix the poolish and {ripens}.\nStir poolish, water, salt and flour to a paste.\nRise 1 hour.\nBake at 230 °C for 40 minutes."
        ));
        let t = of(&own, 1.0);
        let poolish: Vec<_> = t.list.iter().filter(|x| x.of == "poolish").collect();
        let what: Vec<&str> = poolish.iter().map(|x| x.what).collect();
        assert_eq!(what, ["weigh", "mix", "rest"], "{ripens}");
        let wait = poolish[2].wait.expect("a wait");
        assert_eq!(wait.span.least, 720.0);
        assert_eq!(t.list[at(&t, "dough:mix")].step, Some(2));
    }
}

/// A night that the method allows is its wait where the step has no other, or where it says what one takes; what
/// 'you can' do is told.
#[test]
fn a_night_that_may_be_is_planned_or_told() {
    let loaf = |method: &str| {
        let text = format!(
            "Plain Loaf\n\n500 g bread flour\n350 g water\n7 g dried yeast\n10 g salt\n\n1. Mix everything and knead for 10 minutes.\n2. {method}\n3. Shape and put in a tin.\n4. Bake at 220 °C for 35 minutes.\n"
        );
        of(&sheet(&text), 1.0)
    };
    let waits = |method: &str| -> Vec<(f64, f64)> {
        let t = loaf(method);
        let second = t.list.iter().filter(|t| t.step == Some(2));
        second
            .filter_map(|t| t.wait.map(|w| (w.span.least, w.span.most)))
            .collect()
    };
    for night in [
        "The dough can now prove overnight in the fridge.",
        "The dough proves overnight in the fridge.",
    ] {
        assert!(waits(night).iter().any(|w| w.0 >= 480.0), "{night}");
    }
    for takes in ["can take", "takes", "may take"] {
        let method = format!("Leave to rise until doubled. This {takes} 8 to 12 hours.");
        assert_eq!(waits(&method), [(480.0, 720.0)], "{method}");
    }
    let told = "You can leave the dough in the fridge overnight";
    let t = loaf(&format!("Leave to rise for 1 hour. {told}."));
    assert_eq!(t.list.iter().filter(|t| t.step == Some(2)).count(), 1);
    let mut notes = t.list.iter().flat_map(|t| &t.notes);
    assert!(notes.any(|n| n.contains(told) && n.contains("No time is planned")));
}

/// The hours of the dough, and how long something keeps, are none in which a poolish ripens.
#[test]
fn a_poolish_takes_no_hours_but_its_own() {
    let rest = |method: &str| {
        let text = format!(
            "Plain Loaf\n\nPoolish\n100 g bread flour\n100 g water\n1 g dried yeast\n\nDough\n400 g bread flour\n250 g water\n5 g dried yeast\n10 g salt\n\n1. Stir the poolish together and leave until it bubbles.\n2. {method}\n"
        );
        let t = of(&sheet(&text), 1.0);
        let mut poolish = t.list.iter().filter(|x| x.of == "poolish");
        let least = poolish.clone().find_map(|x| x.wait).map(|w| w.span.least);
        // Where nobody says how long, that is told.
        let untold = |n: &String| n.contains("does not say how long it ripens");
        assert_eq!(least.is_none(), poolish.any(|x| x.notes.iter().any(untold)));
        least
    };
    let dough = |mix: &str, more: &str| {
        rest(&format!(
            "Mix the poolish with the flour, water, yeast and salt{mix}.\n3. Shape.\n4. Bake at 220 °C for 35 minutes.{more}"
        ))
    };
    let plain = dough("", "");
    for (mix, more) in [
        (" and leave to rise for 3 hours", ""),
        (" and leave for 4 hours", ""),
        ("", "\n5. The poolish will keep for 2 days in the fridge."),
        ("", " A loaf made with poolish stays fresh for 3 days."),
        ("", "\n5. The poolish stays fresh for 3 days."),
    ] {
        assert_eq!(dough(mix, more), plain, "{mix}{more}");
    }
    let own = rest(
        "The poolish takes 12 hours.\n3. Mix the poolish with the flour, water, yeast and salt.\n4. Shape.\n5. Bake at 220 °C for 35 minutes.",
    );
    assert_eq!(own, Some(720.0));
}

/// Worked by hand: yeast raises a batter overnight, as long as soda or powder is not in it yet.
#[test]
fn a_yeast_batter_rises_overnight_where_soda_goes_in_in_the_morning() {
    let rest = |night: &str, morning: &str| {
        let text = format!(
            "Night waffles\n\nMakes 8 waffles\n\n250 g plain flour\n1 tsp fast-action yeast\n400 ml milk\n100 g butter, melted\n1 tbsp sugar\n2 eggs\n1/4 tsp bicarbonate of soda\n\n1. Whisk the flour, yeast{night}\n2. In the morning beat in the eggs{morning}.\n3. Fry in a hot waffle iron for 4 minutes each.\n"
        );
        let t = of(&sheet(&text), 1.0);
        let waits = t.list.iter().filter_map(|t| t.wait);
        let longest = waits.max_by(|a, b| a.span.least.total_cmp(&b.span.least));
        longest.map(|w| (w.span.least, w.place)).expect("a wait")
    };
    let (soda, none) = (" and the bicarbonate of soda", "");
    let cold = ", sugar, milk and butter. Cover and chill overnight.";
    let room = ", sugar, milk and butter. Cover and leave overnight at room temperature.";
    let (least, place) = rest(cold, soda);
    assert_eq!(place, Place::Fridge);
    assert!(least >= 480.0, "{least}");
    let (least, place) = rest(room, soda);
    assert_eq!(place, Place::Bench);
    assert!(least >= 480.0, "{least}");
    // In it from the start it loses its gas overnight, in the room.
    let (least, _) = rest(&room.replacen(", sugar", ", soda, sugar", 1), none);
    assert!(least <= 30.0, "{least}");
}

/// Worked by hand: whose step each is where its words do not name the part, or name it last.
#[test]
fn steps_stand_with_the_part_they_make() {
    let of_step = |text: &str, step: usize| -> Vec<String> {
        let t = of(&sheet(text), 1.0);
        let mine = t
            .list
            .iter()
            .filter(|t| t.step == Some(step) && t.what != "preheat");
        mine.map(|t| t.key.clone()).collect()
    };
    let crumble = "Plum dish\n\nServes 6\n\nFor the filling\n800 g plums, halved\n60 g brown sugar\n\nFor the crumble\n180 g plain flour\n100 g butter\n80 g sugar\n40 g oats\n\n1. Put the plums in a dish with the brown sugar.\n2. Mix the flour and sugar for the crumble.\n3. Rub in the butter. Scatter over the plums and bake at 180 °C for 40 minutes.\n";
    assert_eq!(of_step(crumble, 2)[0], "crumble:mix");
    let t = of(&sheet(crumble), 1.0);
    assert_eq!(t.list.iter().filter(|t| t.what == "mix").count(), 1);
    let balls = "Meatballs in tomato sauce\n\nMeatballs\n500 g minced beef\n60 g breadcrumbs\n1 egg\n1 onion, chopped\n\nSauce\n400 g tinned tomatoes\n1 tbsp plain flour\n20 g butter\n200 ml stock\n\n1. Mix the mince, breadcrumbs, egg and onion. Roll into 20 balls. Chill for 30 minutes.\n2. Fry the meatballs in oil for 8 minutes.\n3. Melt the butter, stir in the flour, then the stock and tomatoes. Simmer for 10 minutes.\n";
    assert_eq!(of_step(balls, 1), ["meatballs:mix", "meatballs:chill"]);
    let noodles = "Cheese noodles\n\nFor the noodles\n300 g plain flour\n3 eggs\n120 ml milk\n1 tsp salt\n\nFor the onions\n2 onions\n40 g butter\n\n1. Beat the flour, eggs, milk and salt to a batter. Rest for 30 minutes.\n2. Slice the onions and fry in the butter for 15 minutes.\n3. Press the batter through a colander into boiling water. Cook for 3 minutes.\n";
    assert!(
        of_step(noodles, 3)
            .iter()
            .all(|k| k.starts_with("noodles:"))
    );
}

#[test]
fn a_batter_rests_beside_the_oven_that_heats_not_in_it() {
    let cake = |rest: &str| {
        let text = format!(
            "Oven cakes\n\n200 g plain flour\n2 tsp baking powder\n2 eggs\n200 ml milk\n60 g sugar\n\n1. Mix everything.\n2. {rest}\n3. Divide between muffin cups and bake at 200 °C for 18 minutes.\n"
        );
        let t = of(&sheet(&text), 1.0);
        t.list[at(&t, ":rest")].wait.map(|w| w.place)
    };
    for rest in [
        "Let the batter rest while the oven heats to 200 °C.",
        "Rest the batter 15 minutes while you preheat the oven.",
        "Rest for 30 minutes while the oven is heating.",
        "Rest for 30 minutes while you heat your oven.",
        "Rest for 30 minutes while heating the oven.",
        "Rest in the bowl for 30 minutes while the oven comes to temperature.",
    ] {
        assert_eq!(cake(rest), Some(Place::Bench), "{rest}");
    }
    for rest in [
        "Rest for 30 minutes in the switched-off oven.",
        "Put the bowl into a cold oven and let the batter rest for 30 minutes.",
        "Turn the oven off and let it rest inside for 30 minutes.",
        "Switch off the oven and leave for 30 minutes.",
        "Turn off the oven. Leave for 30 minutes.",
    ] {
        assert_eq!(cake(rest), Some(Place::Oven), "{rest}");
    }
}

/// Worked by hand: two hours of steam are no two hours of hands; what is stirred or boiled down is.
#[test]
fn what_steams_for_hours_is_left_to_it() {
    let pudding = |cook: &str| {
        let text = format!(
            "Fig pudding\n\n200 g plain flour\n2 tsp baking powder\n100 g sugar\n100 g butter\n2 eggs\n150 g figs\n\n1. Mix everything and fill a basin.\n2. {cook}\n"
        );
        let t = of(&sheet(&text), 1.0);
        let task = t.list[at(&t, ":boil")].clone();
        let tops = task.notes.iter().any(|n| n.contains("boiling water"));
        let wait = task.wait.map(|w| (w.span.least, w.place));
        ((task.hands.least, task.hands.most), wait, tops)
    };
    let left = |least| ((3.0, 10.0), Some((least, Place::Stove)));
    for (cook, least, tops) in [
        ("Steam the syrup pudding for 2 hours.", 120.0, true),
        (
            "Boil the basin in a covered pan for 90 minutes.",
            90.0,
            true,
        ),
        ("Reduce the heat and simmer for 40 minutes.", 40.0, false),
        (
            "Poach the pears in the syrup for 30 minutes. Stir in the rum.",
            30.0,
            false,
        ),
        ("Simmer for 40 minutes without stirring.", 40.0, false),
    ] {
        let (hands, wait, told) = pudding(cook);
        assert_eq!(((hands, wait), told), (left(least), tops), "{cook}");
    }
    for cook in [
        "Simmer for 40 minutes, stirring.",
        "Simmer for 40 minutes and stir all the time.",
        "Simmer for 40 minutes. Whisk now and then.",
        "Simmer the plums and sugar for 40 minutes until thick and reduced.",
        "Simmer the milk for 40 minutes until reduced by half.",
        "Boil the syrup for 40 minutes until it reaches 112 °C.",
    ] {
        let (hands, wait, tops) = pudding(cook);
        assert!(hands.0 >= 40.0 && wait.is_none() && !tops, "{cook}");
    }
    assert_eq!(pudding("Steam for 12 minutes.").1, None);
}

pub const LAYERS: &str = "Lime Cake\nServes 12\n\nFor the cake\n3 cups all-purpose flour\n1 tablespoon baking powder\n2 sticks butter\n2 cups sugar\n4 large eggs\n1 1/4 cups buttermilk\n\nTo finish\nedible flowers\ncoconut flakes\n\n1. Heat oven to 350°F. Grease three 8-inch round cake pans.\n2. Whisk flour and baking powder. In a mixer, beat butter and sugar until fluffy, about 4 minutes. Beat in eggs.\n3. With the mixer on low, add the flour mixture in three additions, alternating with the buttermilk.\n4. Divide among pans and bake 26 to 30 minutes. Cool completely on racks.\n5. Press the coconut on the sides. Set the flowers on top.\n";

/// What is added is mixed in: the batter rests behind it.
#[test]
fn a_batter_rests_when_all_is_in_it() {
    let t = of(&sheet(LAYERS), 1.0);
    let adds = t.list.iter().position(|x| x.step == Some(3));
    let adds = adds.expect("the step that adds the flour");
    assert!(
        t.list[adds].name.starts_with("Add flour"),
        "{}",
        t.list[adds].name
    );
    assert!(comes_after(&t, at(&t, "cake:rest"), adds));
    assert!(comes_after(&t, at(&t, "cake:bake"), at(&t, "cake:rest")));
}

/// Nothing of it has a weight: nothing is mixed.
#[test]
fn what_only_decorates_is_not_mixed() {
    let t = of(&sheet(LAYERS), 1.0);
    assert!(t.list.iter().any(|x| x.of == "to finish"));
    assert!(
        t.list
            .iter()
            .all(|x| x.of != "to finish" || x.what != "mix")
    );
}

fn stretch<'a>(t: &'a recipe::plan::Tasks, what: &str) -> &'a recipe::plan::Task {
    let found = t.list.iter().find(|x| x.what == what);
    found.expect(what)
}

/// The time of a frying is that of the method: for both sides where it is that of one.
#[test]
fn what_is_fried_takes_as_long_as_the_method_says() {
    let cakes = |said: &str| {
        let text = format!(
            "Hearth Cakes\nMakes 18\n\n225 g self-raising flour\n110 g butter\n85 g sugar\n85 g currants\n1 egg\n\nRub the butter into the flour. Stir in the sugar and currants. Add the egg.\nRoll out and cut into rounds.\n{said}\n"
        );
        of(&sheet(&text), 1.0)
    };
    for (said, least) in [
        (
            "Cook on a greased bakestone over a medium heat for 3 minutes each side.",
            6.0,
        ),
        ("Cook in a pan for 3 minutes a side.", 6.0),
        ("Fry for 2 minutes a side.", 4.0),
        ("Fry for 6-8 minutes.", 6.0),
        ("Deep-fry for 8 minutes.", 8.0),
    ] {
        let t = cakes(said);
        let fry = stretch(&t, "fry");
        assert_eq!(fry.hands.least, least, "{said}");
        assert!(fry.notes.iter().any(|n| n.contains("panful")), "{said}");
        assert!(t.list.iter().all(|x| x.what != "boil"), "{said}");
    }
    // What is stewed in a pan is no frying.
    let t = cakes("Cook the currants in a pan for 3 minutes.");
    assert!(t.list.iter().all(|x| x.what != "fry"));
}

/// What is fried in oil is not the oil.
#[test]
fn oil_that_something_fries_in_is_not_cooked() {
    let text = "Funnel Swirls\nmakes 6\n\n2 c flour\n1/4 c sugar\n2 t baking powder\n1 1/2 c milk\n2 eggs\noil for frying\npowdered sugar\n\nHeat 1 1/2 inches of oil to 375°F in a deep skillet. Whisk everything but the powdered sugar until smooth. Pour 1/2 cup batter through a funnel into the oil in a swirl. Fry 2 minutes a side. Drain and dust.\n";
    let t = of(&sheet(text), 1.0);
    assert!(t.list.iter().all(|x| x.name != "Cook the oil"));
    let names: Vec<&str> = t.list.iter().map(|x| x.name.as_str()).collect();
    assert_eq!(names.last(), Some(&"Fry"), "{names:?}");
    assert_eq!(stretch(&t, "fry").hands.least, 4.0);
}

/// 'Drain and simmer the peas' is a step, however early it stands.
#[test]
fn a_step_may_begin_with_two_verbs() {
    let text = "Battered Fish\nServes 4\n\n4 cod fillets\n150 g plain flour\n1 tsp baking powder\n250 ml sparkling water\n300 g dried peas, soaked overnight\n\nDrain and simmer the peas for 40 minutes until mushy.\nWhisk the flour, baking powder and water to a batter. Rest for 10 minutes.\nDip the fish in the batter and fry for 6-8 minutes.\n";
    let t = of(&sheet(text), 1.0);
    assert_eq!(t.says.len(), 3);
    assert_eq!(stretch(&t, "boil").wait.map(|w| w.span.usual), Some(40.0));
    // A food is none.
    let text = text.replace("1 tsp baking", "Butter and lard\n1 tsp baking");
    assert_eq!(of(&sheet(&text), 1.0).says.len(), 3);
}

/// The rest is behind the mixing that brings the flour, and a choux paste cools before the eggs.
#[test]
fn the_rest_is_behind_the_last_of_the_mixing() {
    let parkin = "Oat Squares\n\n200 g butter\n1 egg\n4 tbsp milk\n200 g golden syrup\n100 g oatmeal\n250 g self-raising flour\n\nBeat the egg and milk together.\nMelt the syrup and butter in a pan. Remove from the heat.\nMix the oatmeal and flour and stir into the syrup mixture, followed by the egg and milk.\nPour into a 22cm square tin and bake at 160C for 50 minutes.\n";
    let t = of(&sheet(parkin), 1.0);
    let rest = t
        .list
        .iter()
        .position(|x| x.what == "rest")
        .expect("a rest");
    assert!(
        t.list[rest - 1].name.contains("flour"),
        "{}",
        t.list[rest - 1].name
    );

    let puffs = |cools: &str| {
        let text = format!(
            "Cream Puffs\n\n150 ml water\n60 g butter\n75 g plain flour\n2 eggs\n\nBring water and butter to the boil, shoot in the flour off the heat and beat until smooth.{cools}Beat in the eggs.\nPipe 24 on two trays. Bake at 200C for 25 mins.\n"
        );
        of(&sheet(&text), 1.0)
    };
    for cools in [" Cool 5 minutes. ", "\n"] {
        let t = puffs(cools);
        let cool = t
            .list
            .iter()
            .position(|x| x.name.starts_with("Cool"))
            .expect("cooled");
        let wait = t.list[cool].wait.expect("a wait");
        assert_eq!((wait.span.least, wait.span.most), (5.0, 30.0), "{cools}");
        assert!(t.list[cool - 1].name.contains("flour"), "{cools}");
        assert_eq!(t.list[cool + 1].name, "Mix eggs", "{cools}");
        assert!(t.list.iter().all(|x| x.what != "rest"), "{cools}");
    }
}

/// No step heated the oil. It gets hot while the rings rise, and adds nothing to their hours.
#[test]
fn oil_gets_hot_before_what_is_fried_in_it() {
    let rings = |fry: &str| {
        of(
            &sheet(&format!(
                "Rings\nMakes 12\n\n500 g strong white flour\n7 g instant yeast\n250 ml milk\n1 egg\n1 litre oil, for frying\n\n1. Mix the flour, yeast, milk and egg. Roll out and cut out 12 rings. Prove for 30 minutes.\n2. {fry}\n"
            )),
            1.0,
        )
    };
    for fry in [
        "Heat the oil to 180C. Fry the rings for 1 minute each side.",
        "Deep-fry the rings for 2 minutes.",
    ] {
        let t = rings(fry);
        let oil = t.list.iter().position(|t| t.what == "heat_oil").expect(fry);
        let (fry, rise) = (at(&t, ":fry"), at(&t, ":rise"));
        assert!(t.list[fry].after.contains(&oil) && !t.list[oil].after.contains(&rise));
    }
    // A spoonful in a pan is hot at once.
    let t = rings("Heat a little oil in a pan and fry the rings for 2 minutes a side.");
    assert!(t.list.iter().all(|t| t.what != "heat_oil"));
}

/// 'Freeze 6' froze all of them, and the others were thawed behind their own bake.
#[test]
fn a_frozen_share_stays_frozen_until_it_is_thawed() {
    let t = of(
        &sheet(
            "Cheese rolls\nMakes 20\n\n500 g plain flour\n250 g butter\n150 g cheddar\n120 ml water\n\n1. Rub the butter into the flour, stir in the cheddar and water. Shape into 20 rolls. Freeze 6.\n2. Bake the others at 190C for 20 minutes.\n3. To bake the frozen rolls, thaw overnight in the fridge and bake as above.\n",
        ),
        1.0,
    );
    let freeze = at(&t, ":freeze");
    let thaw = t
        .list
        .iter()
        .position(|t| t.name == "Thaw")
        .expect("it thaws");
    let bakes: Vec<usize> = (0..t.list.len())
        .filter(|&i| t.list[i].what == "bake")
        .collect();
    assert_eq!(bakes.len(), 2);
    assert_eq!(t.list[thaw].after, [freeze]);
    assert!(!comes_after(&t, bakes[0], freeze) && comes_after(&t, bakes[1], thaw));
}
