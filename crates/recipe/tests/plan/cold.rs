//! Hours in the fridge, and what has no hours of its own.

use super::{at, example, of, sheet};
use recipe::plan::{Place, Tasks};

/// Where each wait of a milk dough's method is planned, with its least minutes.
fn waits_of(method: &str) -> Vec<(&'static str, f64, Place)> {
    waits_with("milk", method)
}

/// The same of a dough of another liquid.
fn waits_with(liquid: &str, method: &str) -> Vec<(&'static str, f64, Place)> {
    let text = format!(
        "Rolls\n\n500 g bread flour\n7 g yeast\n10 g salt\n330 g {liquid}\n\n1. Mix the dough.\n2. {method}\n3. Bake at 200 °C for 20 minutes.\n"
    );
    let t = of(&sheet(&text), 1.0);
    let second = t.list.iter().filter(|t| t.step == Some(2));
    second
        .filter_map(|t| t.wait.map(|w| (t.what, w.span.least, w.place)))
        .collect()
}

/// A dough without egg or milk may rise a night in a cool room, where the method has it so; one with milk is
/// put into the fridge.
#[test]
fn a_night_in_a_cool_room_is_none_in_the_fridge() {
    for method in [
        "Let rise overnight in a cool room, not in the fridge.",
        "Let rise overnight on the bench, not in the fridge.",
    ] {
        let place = |liquid: &str| waits_with(liquid, method)[0].2;
        assert_eq!(place("water"), Place::Bench, "{method}");
        assert_eq!(place("milk"), Place::Fridge, "{method}");
    }
    let cold = waits_with("water", "Let rise overnight in the fridge.");
    assert_eq!(cold[0].2, Place::Fridge);
}

/// The fridge of another clause is not that of this wait: hours in the room are counted as such.
#[test]
fn a_wait_is_in_the_fridge_only_where_its_own_clause_says_so() {
    for (method, hours) in [
        (
            "Leave to cool at room temperature for 5 hours before putting it in the fridge.",
            5.0,
        ),
        ("Leave to cool for 3 hours, then chill overnight.", 3.0),
        ("Leave to cool for 3 hours and put it in the fridge.", 3.0),
        (
            "Leave to stand for 6 hours at room temperature, or chill overnight.",
            6.0,
        ),
        (
            "With the chopped chilli on top, leave to stand for 5 hours.",
            5.0,
        ),
        (
            "Top with the chilled butter and leave to stand for 5 hours.",
            5.0,
        ),
        ("Leave to stand for 5 hours to take the chill off.", 5.0),
        (
            "Take the dough out of the refrigerator and leave to stand for 5 hours.",
            5.0,
        ),
        (
            "Remove from the fridge and leave to cool in a warm place for 4 hours.",
            4.0,
        ),
        ("Leave to stand for 6 hours, but not in the fridge.", 6.0),
        (
            "Leave to stand in a cool room, away from the fridge, for 5 hours.",
            5.0,
        ),
    ] {
        let all = waits_of(method);
        let room = all
            .iter()
            .any(|(_, m, p)| *p == Place::Bench && *m == hours * 60.0);
        assert!(room, "{method}: {all:?}");
    }
    for method in [
        "Leave to rest in the fridge for 3 hours until chilled.",
        "Refrigerate overnight, or 8 to 14 hours.",
        "Refrigerate overnight, at least 8 hours and up to 2 days.",
        "Leave to rest for at least 2 hours or overnight in the fridge.",
        "Leave to rise for 1.5 hours in the refrigerator.",
        "Take it off the hook, cover and leave to rest, chilled, for 3 hours.",
        "Leave to cool in the fridge for 3 hours.",
        "Cover and chill for 3 hours.",
    ] {
        let all = waits_of(method);
        assert!(!all.is_empty(), "{method}");
        let cold = all.iter().all(|(_, _, p)| *p == Place::Fridge);
        assert!(cold, "{method}: {all:?}");
    }
}

/// A night and its hours are one wait, of so many hours.
#[test]
fn a_night_with_its_hours_is_one_wait() {
    for (method, hours) in [
        ("Leave overnight at room temperature, 12 hours.", 12.0),
        (
            "Leave to stand overnight in a cool place (about 10 hours).",
            10.0,
        ),
        ("Leave overnight, roughly 9 hours.", 9.0),
        (
            "Leave overnight at room temperature for 12 to 14 hours.",
            12.0,
        ),
        ("Leave overnight in the fridge for at least 10 hours.", 10.0),
    ] {
        let all = waits_of(method);
        let long = all.iter().filter(|(_, m, _)| *m >= 300.0);
        let long: Vec<f64> = long.map(|(_, m, _)| *m).collect();
        assert_eq!(long, [hours * 60.0], "{method}: {all:?}");
    }
    let two = waits_of("Chill overnight, then leave to stand for 5 hours.");
    assert_eq!(
        two.iter().filter(|(_, m, _)| *m >= 300.0).count(),
        2,
        "{two:?}"
    );
}

/// Hours in the room that cannot be kept are said to have been moved.
#[test]
fn a_long_rise_of_a_milk_dough_that_is_moved_into_the_fridge_says_so() {
    let text = |milk: &str, rise: &str| {
        format!(
            "Rolls\n\n500 g bread flour\n7 g yeast\n10 g salt\n330 g {milk}\n\n1. Mix the dough.\n2. {rise}\n3. Bake at 200 °C for 20 minutes.\n"
        )
    };
    let room = "Take the dough out of the fridge and let it rise at room temperature for 5 hours.";
    let t = of(&sheet(&text("milk", room)), 1.0);
    let rise = &t.list[at(&t, ":rise")];
    assert_eq!(rise.wait.map(|w| w.place), Some(Place::Fridge));
    assert_eq!(rise.was.as_deref(), Some("rise, 5 h out of the fridge"));
    assert!(
        rise.notes
            .iter()
            .any(|n| n.contains("planned in the fridge")),
        "{:?}",
        rise.notes
    );
    // Water needs no fridge; what says fridge itself is not moved.
    let t = of(&sheet(&text("water", room)), 1.0);
    assert_eq!(
        t.list[at(&t, ":rise")].wait.map(|w| w.place),
        Some(Place::Bench)
    );
    let t = of(
        &sheet(&text("milk", "Let it rise in the fridge for 8 hours.")),
        1.0,
    );
    let rise = &t.list[at(&t, ":rise")];
    assert_eq!(
        (rise.was.clone(), rise.wait.map(|w| w.place)),
        (None, Some(Place::Fridge))
    );
}

/// 24 hours in the fridge are counted all together, as the words below a plan have it.
#[test]
fn hours_in_the_fridge_are_counted_together() {
    let text = |milk: &str, first: &str, second: &str| {
        format!(
            "Rolls\n\n500 g bread flour\n7 g yeast\n10 g salt\n330 g {milk}\n\n1. Mix the dough.\n2. Refrigerate {first}.\n3. Shape into 12 rolls.\n4. Chill the rolls {second}.\n5. Bake at 200 °C for 20 minutes.\n"
        )
    };
    let chills = |t: &Tasks| -> Vec<(f64, f64)> {
        let cold = t.list.iter().filter_map(|t| t.wait);
        let cold = cold.filter(|w| w.place == Place::Fridge);
        cold.map(|w| (w.span.least, w.span.most)).collect()
    };
    // By hand: 480 + 480 are taken of 1440; 480 are shared by two ranges of 600 each.
    let t = of(
        &sheet(&text(
            "milk",
            "overnight, 8 to 18 hours",
            "overnight, 8 to 18 hours",
        )),
        1.0,
    );
    assert!(t.breaches.is_empty(), "{:?}", t.breaches);
    assert_eq!(chills(&t), [(480.0, 720.0), (480.0, 720.0)]);
    let noted = |t: &&recipe::plan::Task| t.notes.iter().any(|n| n.contains("all its waits"));
    assert_eq!(t.list.iter().filter(noted).count(), 2);
    // What cannot be shortened so far.
    let t = of(&sheet(&text("milk", "for 16 hours", "for 12 hours")), 1.0);
    let b: Vec<_> = t.breaches.iter().filter(|b| b.cold).collect();
    assert_eq!(b.len(), 1, "{:?}", t.breaches);
    assert_eq!((b[0].least, b[0].most), (28.0 * 60.0, 1440.0));
    let ask = recipe::plan::Ask {
        jobs: vec![recipe::plan::Job {
            tasks: t,
            serve: None,
        }],
        kitchen: recipe::plan::Kitchen::default(),
        quiet: Vec::new(),
        now: 0,
        begun: Vec::new(),
    };
    let why = recipe::plan::plan(&ask).expect_err("too long in the fridge");
    let words = why.sentences(&ask, &|m| m.to_string()).join(" ");
    assert!(
        words.contains("stays in the fridge for 28 h in all"),
        "{words}"
    );
    // Water has no such limit.
    let t = of(&sheet(&text("water", "for 16 hours", "for 12 hours")), 1.0);
    assert!(t.breaches.is_empty());
}

/// A longest of the baker's own stands; what is only a guess beside it gives way. By hand: 24 h are 1440
/// minutes; the chill of 8 to 18 h may have all of its 1080, and the other, 30 minutes at least, gets the
/// 360 that are left.
#[test]
fn an_own_longest_wait_is_not_cut_for_a_guess() {
    use recipe::plan::StepChange;
    use recipe::sheet::Change;
    let text = "Rolls\n\n500 g bread flour\n7 g yeast\n10 g salt\n330 g milk\n\n1. Mix the dough.\n2. Refrigerate for 8 hours.\n3. Shape into 12 rolls.\n4. Chill the rolls for 30 minutes.\n5. Bake at 200 °C for 20 minutes.\n";
    let mut s = sheet(text);
    let mut set = |step: &str, to| {
        let step = step.to_owned();
        let change = Change::SetStep {
            step,
            words: None,
            to,
        };
        s.change(&change).expect("a change");
        of(&s, 1.0)
    };
    let t = set(":chill", StepChange::Most(Some(1080.0)));
    let chill = |t: &Tasks, key: &str| {
        let w = t.list[at(t, key)].wait.expect("a wait");
        (w.span.least, w.span.most)
    };
    assert_eq!(chill(&t, ":chill"), (480.0, 1080.0));
    assert_eq!(chill(&t, ":chill#2"), (30.0, 360.0));
    // Its own longest against another own one: both give way alike.
    let t = set(":chill#2", StepChange::Most(Some(1080.0)));
    let (first, second) = (chill(&t, ":chill").1, chill(&t, ":chill#2").1);
    assert!(first < 1080.0 && second < 1080.0 && first + second <= 1440.0);
}

/// No limit is made for meat, fish and what the larder does not know: they are named.
#[test]
fn what_has_no_hours_of_its_own_is_named() {
    let text = "Pie\n\nPastry\n300 g plain flour\n150 g butter\n80 g water\n\nFilling\n500 g minced pork\n200 g salmon fillet\n50 g zorbel root\n10 g salt\n\n1. Rub the butter into the flour and add the water.\n2. Mix the filling. Leave to stand for 3 hours.\n3. Line a tin with the pastry and fill it.\n4. Bake at 180 °C for 50 minutes.\n";
    let t = of(&sheet(text), 1.0);
    assert_eq!(t.meat, ["minced pork", "salmon fillet"]);
    assert_eq!(t.unknown, ["zorbel root"]);
    let cake = of(&example("lemon-yoghurt-cake"), 1.0);
    assert!(
        cake.meat.is_empty() && cake.unknown.is_empty(),
        "{:?}",
        cake.unknown
    );
}

/// 'Skin and all' takes no egg: the oranges boil an hour and a half, and the eggs stay in the fridge meanwhile, so that
/// nothing is shortened and nothing stands too long.
#[test]
fn eggs_stay_in_the_fridge_while_the_fruit_boils_skin_and_all() {
    let cake = "Orange cake\n\n2 oranges\n6 eggs\n200 g sugar\n270 g ground almonds\n1 tsp baking powder\n\n1. Boil the oranges for 1 1/2 hours. Puree skin and all. Cool for 45 minutes.\n2. Beat the eggs and sugar. Fold in the rest. Bake at 170 °C for 1 hour.\n";
    let t = of(&sheet(cake), 1.0);
    assert!(t.breaches.is_empty(), "{:?}", t.breaches);
    let told = |n: &String| n.contains("in the fridge until");
    assert!(t.list[0].notes.iter().any(told), "{:?}", t.list[0].notes);
    let warm = t.warm.iter().find(|w| w.heated).expect("its warm time");
    assert!(warm.most < 120.0, "{warm:?}");
}

/// Long pans without what spoils shorten its time only where somebody is told to leave it in the
/// fridge: also where nothing is weighed.
#[test]
fn cream_waits_in_the_fridge_for_long_pans_also_without_a_weighing() {
    let tart = "Leek tart\n\nCustard\n250 g cream\n100 g milk\n3 eggs\n800 g leeks, sliced\n20 g oil\n\n1. Cook the leeks in the oil for 130 minutes.\n2. Whisk in the cream, milk and eggs.\n3. Bake at 180 °C for 35 minutes.\n";
    let mut s = sheet(tart);
    let told = |t: &Tasks| -> Vec<String> {
        let tells = |t: &&recipe::plan::Task| {
            !t.left_out && t.notes.iter().any(|n| n.starts_with("Leave egg or milk"))
        };
        t.list.iter().filter(tells).map(|t| t.key.clone()).collect()
    };
    let step = of(&s, 1.0).list[0].key.clone();
    assert_eq!(told(&of(&s, 1.0)).join(", "), step);
    let to = recipe::plan::StepChange::LeftOut(true);
    s.change(&recipe::sheet::Change::SetStep {
        step,
        words: None,
        to,
    })
    .expect("a change");
    let t = of(&s, 1.0);
    assert!(t.breaches.is_empty(), "{:?}", t.breaches);
    let first = told(&t);
    assert_eq!(first.len(), 1, "{:?}", t.list);
    assert!(first[0].contains("boil"), "{first:?}");
}

/// Nobody has measured a fridge: what is said of it asks, and names the 24 hours as practice.
#[test]
fn what_is_said_of_the_fridge_is_asked_not_asserted() {
    let words = recipe::plan::FRIDGE_WORDS;
    assert!(words.starts_with("Keep the fridge at 5 °C or below"));
    assert!(words.contains("24 hours") && words.contains("no source; your local rules come first"));
}

/// A wait that may last as long as the method says is not cut to half hours; one that is a guess is.
#[test]
fn a_wait_that_is_granted_whole_keeps_its_minutes() {
    let text = "Rolls\n\n500 g bread flour\n7 g yeast\n10 g salt\n330 g milk\n\n1. Mix the dough. Chill for 45 to 75 minutes.\n2. Knead lightly. Chill for 20 hours.\n3. Shape and chill.\n4. Bake at 200 °C for 20 minutes.\n";
    let t = of(&sheet(text), 1.0);
    let most = |key: &str| t.list[at(&t, key)].wait.map(|w| w.span.most);
    assert_eq!(most(":chill"), Some(75.0));
    assert!(most(":chill#3").is_some_and(|m| m % 30.0 == 0.0 && m < 1440.0));
}

/// What is filled is cooked with what it is filled in: the hours in the pan are no warm hours.
#[test]
fn what_is_steamed_inside_another_part_is_heated_there() {
    let parcels = |cook: &str| {
        let text = format!(
            "Curd Parcels\n\nDough\n200 g plain flour\n100 g water\n\nFilling\n250 g curd cheese\n1 egg\n50 g hard cheese\n\n1. Mix the filling.\n2. Mix the flour and water to a dough and rest 30 minutes.\n3. Roll out, fill and cut into parcels.\n4. {cook} for 110 minutes.\n"
        );
        of(&sheet(&text), 1.0)
    };
    for cook in ["Steam", "Simmer in the broth", "Steam the parcels"] {
        assert_eq!(parcels(cook).breaches, [], "{cook}");
        assert!(parcels(cook).warm.iter().any(|w| w.heated), "{cook}");
    }
    // The pan of something else heats no egg.
    assert_ne!(parcels("Simmer the flour paste").breaches, []);
}

/// A short rest that the rework makes a long cold one is in the fridge, not a day in the room.
#[test]
fn a_rest_that_becomes_a_chill_goes_into_the_fridge() {
    let text = "Chip Cookies\nMakes 20\n\n280 g plain flour\n1 tsp soda\n220 g butter\n200 g brown sugar\n100 g sugar\n2 eggs\n300 g chocolate chips\n\n1. Cream the butter and sugars, beat in the eggs, stir in the flour, soda and chips. Leave the dough in the bowl for 25 minutes.\n2. Drop in spoonfuls on a tray. Bake at 190 °C for 10 minutes.\n";
    let t = of(&sheet(text), 1.0);
    let wait = t.list[at(&t, ":rest")].wait.expect("a wait");
    assert_eq!((wait.span.least, wait.place), (30.0, Place::Fridge));
}

/// A cure is in the fridge, said or not; a lid that is secured is not cured, and its hours in the room count.
#[test]
fn only_what_is_cured_goes_into_the_fridge_unsaid() {
    let breaches = |lid: &str| {
        let text = format!(
            "Milk Batter\n\n500 g milk\n4 eggs\n100 g plain flour\n80 g sugar\n\n1. Whisk the milk, eggs, flour and sugar. {lid} and leave for 8 hours.\n2. Pour into a dish and bake at 180 °C for 40 minutes.\n"
        );
        of(&sheet(&text), 1.0).breaches.len()
    };
    assert_eq!(breaches("Secure the lid"), 1);
    assert_eq!(breaches("Close the lid"), 1);
    assert_eq!(breaches("Cure"), 0);
}

/// A pan of something else heats no raw filling, however short its name, nor does a pot brought to the boil.
#[test]
fn a_pan_of_ham_heats_no_filling() {
    let hours = |cook: &str| {
        let text = format!(
            "Cream Buns\n\nFilling\n300 g cream\n4 eggs\n80 g sugar\n\nDough\n500 g bread flour\n300 g water\n7 g dried yeast\n10 g salt\n\n1. Whisk the filling and leave for 90 minutes.\n2. Mix the dough and knead for 10 minutes. Shape, spoon the filling in and seal the purses. Leave for 60 minutes.\n3. {cook}\n4. Leave for 100 minutes.\n5. Bake at 200 °C for 25 minutes.\n"
        );
        let t = of(&sheet(&text), 1.0);
        t.breaches.iter().map(|b| b.least).fold(0.0, f64::max)
    };
    // 90 + 60 + 100 min of waits, the rise halved.
    for cook in [
        "Fry the ham for 5 minutes.",
        "Fry bacon for 5 minutes.",
        "Cook the fig gently for 5 minutes.",
        "Bring the stock to the boil.",
    ] {
        assert!(hours(cook) > 190.0, "{cook}: {}", hours(cook));
    }
    for cook in [
        "Fry for 5 minutes.",
        "Fry the purses for 5 minutes.",
        "Fry them gently for 5 minutes.",
    ] {
        assert!(hours(cook) < 190.0, "{cook}: {}", hours(cook));
    }
}

/// A streusel's chill had 10 minutes to 1 hour on Rework, and 30 minutes to 24 hours in the plan. By the plan's table it
/// is 30 minutes to 24 hours where no time is said; a time that is said stays, and a day in the fridge harms none.
#[test]
fn a_chill_of_no_said_time_is_as_long_on_rework_as_in_the_plan() {
    for (said, least, range) in [
        ("Chill until needed.", 30.0, "30 minutes to 24 hours"),
        ("Chill for 20 minutes.", 20.0, "10 minutes to 24 hours"),
    ] {
        let s = super::sheet(&format!(
            "Plum crumble cake\n\nCake\n150 g butter\n150 g sugar\n3 eggs\n180 g plain flour\n2 tsp baking powder\n\nStreusel\n100 g plain flour\n70 g cold butter\n60 g sugar\n\n1. For the streusel rub the butter into the flour and sugar. {said}\n2. Heat the oven to 180 °C. For the cake beat the butter, sugar and eggs, stir in the flour and baking powder.\n3. Scatter over the streusel and bake for 50 minutes.\n"
        ));
        let t = super::of(&s, 1.0);
        let chill = t.list.iter().find(|t| t.what == "chill").expect("a chill");
        let span = chill.wait.expect("a wait").span;
        assert_eq!((span.least, span.most), (least, 1440.0), "{said}");
        let larder = larder::Larder::built_in().expect("the built-in tables");
        let w = recipe::sheet::work(&s, &[], &larder, &[]).expect("a recipe");
        let mut changes = w.rework.components.iter().flat_map(|c| &c.changes);
        let change = changes
            .find(|c| c.what == "rest" && c.to.contains("as it was") || c.from == "no time said");
        let change = change.expect("a change");
        assert_eq!(change.range.as_deref(), Some(range), "{change:?}");
    }
}
