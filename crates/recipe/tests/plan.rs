//! The steps of a batch: what is done, for how long, in what order, and what limits them.

#[path = "plan/always.rs"]
mod always;
#[path = "plan/beside.rs"]
mod beside;
#[path = "plan/cold.rs"]
mod cold;
#[path = "plan/cooked.rs"]
mod cooked;
#[path = "plan/cool.rs"]
mod cool;
#[path = "plan/days.rs"]
mod days;
#[path = "plan/ferment.rs"]
mod ferment;
#[path = "plan/follow.rs"]
mod follow;
#[path = "plan/in_turn.rs"]
mod in_turn;
#[path = "plan/kitchen.rs"]
mod kitchen;
#[path = "plan/laminated.rs"]
mod laminated;
#[path = "plan/left_to_page.rs"]
mod left_to_page;
#[path = "plan/milk.rs"]
mod milk;
#[path = "plan/order.rs"]
mod order;
#[path = "plan/said.rs"]
mod said;
#[path = "plan/savoury_tart.rs"]
mod savoury_tart;
#[path = "plan/served.rs"]
mod served;
#[path = "plan/stove.rs"]
mod stove;
#[path = "plan/taken.rs"]
mod taken;
#[path = "plan/tart.rs"]
mod tart;
#[path = "plan/terse.rs"]
mod terse;
#[path = "plan/tin.rs"]
mod tin;
#[path = "plan/told.rs"]
mod told;
#[path = "plan/two.rs"]
mod two;
#[path = "plan/unsaid.rs"]
mod unsaid;
#[path = "plan/warm.rs"]
mod warm;

use larder::Larder;
use quantity::Locale;
use recipe::plan::{Basis, Place, StepChange, Tasks, tasks};
use recipe::sheet::{Change, PartUse, Sheet, work};

fn sheet(text: &str) -> Sheet {
    Sheet::new(text, Locale::Us)
}

fn of(sheet: &Sheet, factor: f64) -> Tasks {
    let larder = Larder::built_in().expect("the built-in tables");
    let w = work(sheet, &[], &larder, &[]).expect("a recipe");
    tasks(&w, sheet, factor)
}

fn example(name: &str) -> Sheet {
    sheet(match name {
        "apricot-almond-buns" => include_str!("../../../examples/apricot-almond-buns.txt"),
        "ginger-crumb-cheesecake" => include_str!("../../../examples/ginger-crumb-cheesecake.txt"),
        "leek-and-cheddar-tart" => include_str!("../../../examples/leek-and-cheddar-tart.txt"),
        "lemon-yoghurt-cake" => include_str!("../../../examples/lemon-yoghurt-cake.txt"),
        "mushroom-stout-sauce" => include_str!("../../../examples/mushroom-stout-sauce.txt"),
        _ => include_str!("../../../examples/sunday-pancakes.txt"),
    })
}

/// Place of a task by its key.
#[track_caller]
fn at(t: &Tasks, key: &str) -> usize {
    let keys: Vec<&str> = t.list.iter().map(|t| t.key.as_str()).collect();
    let found = keys.iter().position(|k| *k == key);
    assert!(found.is_some(), "no {key} among {keys:?}");
    found.unwrap_or_default()
}

/// Whether one task comes after another, however many between.
fn comes_after(t: &Tasks, later: usize, earlier: usize) -> bool {
    t.list[later]
        .after
        .iter()
        .any(|&a| a == earlier || comes_after(t, a, earlier))
}

/// Worked by hand from the text of the example and the rework's rules: one rise, no kneading, the
/// bake a tenth to a quarter longer (30–35 min becomes 33–44), the flat sheet chilled 15–30 min.
#[test]
fn buns_of_two_days_as_worked_by_hand() {
    let t = of(&example("apricot-almond-buns"), 1.0);
    let wait = |key: &str| {
        let w = t.list[at(&t, key)].wait.expect("a wait");
        (w.span.least, w.span.most, w.place, w.may)
    };
    assert_eq!(wait("dough:chill"), (480.0, 1080.0, Place::Fridge, true));
    assert_eq!(wait("dough:chill#2"), (15.0, 30.0, Place::Fridge, true));
    let (least, most, ..) = wait("dough:bake");
    assert_eq!((least, most), (33.0, 44.0));
    assert_eq!(t.list[at(&t, "dough:bake")].wait_basis, Basis::Reworked);
    assert_eq!(
        t.list[at(&t, "dough:bake")].wait.and_then(|w| w.oven),
        Some(180.0)
    );
    // The first rise is left out; the second may be done from half its time on.
    assert!(t.task("dough:rise#2").is_none());
    assert_eq!(wait("dough:rise").0, 45.0);
    assert!(
        t.list
            .iter()
            .all(|t| t.what != "knead" && t.what != "knock_back")
    );
    // Crumbs before the filling, the filling before the roll, the glaze after the bake.
    for (later, earlier) in [
        ("filling:boil", "crumb topping:rub_in"),
        ("dough:grease", "filling:cool"),
        ("dough:brush", "crumb topping:rub_in"),
        ("glaze:mix", "dough:bake"),
        ("dough:bake", "dough:preheat"),
    ] {
        assert!(
            comes_after(&t, at(&t, later), at(&t, earlier)),
            "{later} after {earlier}"
        );
    }
    let cool = &t.list[at(&t, "dough:cool")];
    assert_eq!(cool.wait.map(|w| w.span.least), Some(45.0));
}

/// Time above 5 °C before the oven never adds up to more than 2 hours, the fridge left out.
#[test]
fn dough_with_egg_stays_under_two_hours_warm() {
    let t = of(&example("apricot-almond-buns"), 1.0);
    assert!(t.breaches.is_empty());
    let dough = |l: &&recipe::plan::Limit| t.list[l.from].of == "dough";
    let warm: i64 = t.limits.iter().filter(dough).map(|l| l.most).sum();
    assert!(warm <= 120, "{warm}: {:?}", t.limits);
    let rise = &t.list[at(&t, "dough:rise")];
    assert!(
        rise.notes.iter().any(|n| n.contains("2 hours")),
        "{:?}",
        rise.notes
    );
    // Without egg and milk it is not shortened.
    let plain = "Rolls\n\n500 g bread flour\n7 g yeast\n10 g salt\n330 g water\n\n1. Mix and knead for 8 minutes.\n2. Shape into 12 rolls. Let rise for 2 hours.\n3. Bake at 200 °C for 20 minutes.\n";
    let lean = of(&sheet(plain), 1.0);
    let rise = lean.list[at(&lean, ":rise")].wait.expect("a rise");
    assert_eq!(rise.span.most, 120.0);
    assert!(lean.limits.is_empty());
    // With milk it is, and one that cannot be shortened is a breach.
    let milk = plain.replace("330 g water", "330 g milk");
    let t = of(&sheet(&milk), 1.0);
    let rise = t.list[at(&t, ":rise")].wait.expect("a rise");
    assert!(rise.span.most < 120.0);
    let long = of(&sheet(&milk.replace("2 hours", "4 hours")), 1.0);
    assert_eq!(long.breaches.len(), 1, "{:?}", long.list);
    assert!(long.breaches[0].least > 120.0);
}

/// What is not baked, or is cooked and stays moist, is eaten within 2 hours or stands in the cold.
/// The 2 hours are USDA consumer advice on perishable food.
#[test]
fn what_spoils_is_not_forgotten_once_it_is_mixed() {
    // An icing with raw yolk: from its weighing to serving.
    let rolls = "Night rolls\n\nDough\n500 g bread flour\n7 g instant yeast\n10 g salt\n330 g water\n\nFilling\n100 g brown sugar\n60 g butter\n\nIcing\n100 g cream cheese\n1 egg yolk\n100 g icing sugar\n\n1. Mix the dough for 8 minutes.\n2. Refrigerate overnight, 8 to 14 hours.\n3. Roll out. Spread with filling, roll up and cut into 12 slices.\n4. Let rise for 75 minutes.\n5. Bake at 180 °C for 30 minutes.\n6. Whisk the icing and spread over the rolls.\n";
    let t = of(&sheet(rolls), 1.0);
    let icing = at(&t, "icing:weigh");
    let eaten = |l: &&recipe::plan::Limit| l.from == icing && l.to.is_none();
    let limit = t.limits.iter().find(eaten).expect("a limit to serving");
    assert!(limit.after && limit.most <= 120, "{limit:?}");
    // The method's own hours stand, in one chill.
    let chills = t
        .list
        .iter()
        .filter(|t| t.what == "chill" && t.name == "Chill");
    let w: Vec<_> = chills.filter_map(|t| t.wait).collect();
    assert_eq!(w.len(), 1, "{:?}", t.list);
    assert_eq!((w[0].span.least, w[0].span.most), (480.0, 840.0));
    // The filling is there when the dough is rolled.
    assert!(comes_after(&t, at(&t, "dough:roll"), at(&t, "filling:mix")));
}

#[test]
fn a_custard_stands_neither_raw_nor_baked() {
    let tart = "Leek tart\n\nPastry\n200 g plain flour\n100 g butter\n40 g water\n\nCustard\n250 g cream\n100 g milk\n3 eggs\n800 g leeks, sliced\n20 g oil\n\n1. Rub the butter into the flour, add the water and chill 30 minutes.\n2. Cook the leeks in the oil 40 minutes.\n3. Roll out the pastry and line a tart tin. Blind bake 15 minutes at 200 °C.\n4. Fill and bake at 180 °C for 35 minutes. Cool 20 minutes.\n";
    let t = of(&sheet(tart), 1.0);
    let cook = &t.list[at(&t, "custard:boil")];
    assert!(!cook.cooks, "only leeks are in the pan");
    assert_eq!(cook.name, "Cook the leeks");
    // Somebody mixes it.
    at(&t, "custard:mix");
    let weigh = at(&t, "custard:weigh");
    let raw = t.limits.iter().find(|l| l.from == weigh).expect("a limit");
    let bake = &t.list[raw.to.expect("the oven")];
    assert_eq!((bake.what, bake.step), ("bake", Some(4)));
    assert!(raw.most <= 120, "{raw:?}");
    // Out of the oven it cools for 2 hours at most, and is eaten by then.
    let cool = &t.list[at(&t, "pastry:cool")];
    assert!(cool.wait.is_some_and(|w| w.span.most <= 120.0), "{cool:?}");
    assert!(cool.notes.iter().any(|n| n.contains("fridge")), "{cool:?}");
    let baked = raw.to.expect("the oven");
    let served = |l: &&recipe::plan::Limit| l.from == baked && l.after && l.to.is_none();
    assert!(t.limits.iter().any(|l| served(&l)), "{:?}", t.limits);
    // A cake with egg may stand.
    let cake = of(&example("lemon-yoghurt-cake"), 1.0);
    let cools = cake.list.iter().filter(|t| t.what == "cool");
    assert!(cools.filter_map(|t| t.wait).any(|w| w.span.most > 120.0));
}

/// 'Cream the butter' is about the part with the butter, not the one with cream in it.
#[test]
fn to_cream_is_no_cream() {
    let cake = "Plum cake\n\nFor the cake\n300 g cake flour\n200 g butter\n200 g sugar\n4 eggs\n\nFor the glaze\n150 g dark chocolate\n150 g heavy cream\n\n1. Cream the butter and sugar for 5 minutes. Beat in the eggs, then fold in the flour.\n2. Bake for 30 minutes at 180 °C. Cool in the tin for 10 minutes, then on a rack for 2 hours.\n3. Heat the cream, pour over the chocolate and stir.\n";
    let t = of(&sheet(cake), 1.0);
    let cream = t
        .list
        .iter()
        .position(|t| t.what == "cream")
        .expect("a task");
    assert_eq!(t.list[cream].of.to_lowercase(), "cake");
    let bake = t
        .list
        .iter()
        .position(|t| t.what == "bake")
        .expect("a bake");
    assert!(comes_after(&t, bake, cream));
    // Ten minutes in the tin are not half a day.
    let first = t
        .list
        .iter()
        .find(|t| t.what == "cool")
        .and_then(|t| t.wait);
    assert!(first.is_some_and(|w| w.span.most <= 15.0), "{first:?}");
}

#[test]
fn an_egg_dough_is_never_kept_cold_for_more_than_a_day() {
    let text = "Buns\n\n500 g flour\n7 g yeast\n2 eggs\n250 g milk\n60 g sugar\n\n1. Mix. Chill for 2 days.\n2. Shape, let rise for 30 minutes and bake at 180 °C for 20 minutes.\n";
    let t = of(&sheet(text), 1.0);
    let w = t.list[at(&t, ":chill")].wait.expect("a chill");
    // What the text says stands as the least, and nothing above it is offered.
    assert_eq!(w.span.most, 2880.0_f64.max(w.span.least));
    let short = of(&sheet(&text.replace("2 days", "8 hours")), 1.0);
    let w = short.list[at(&short, ":chill")].wait.expect("a chill");
    assert!((480.0..=1440.0).contains(&w.span.most));
}

#[test]
fn every_bake_has_a_hot_oven_and_somebody_takes_it_out() {
    for name in [
        "apricot-almond-buns",
        "ginger-crumb-cheesecake",
        "leek-and-cheddar-tart",
        "lemon-yoghurt-cake",
    ] {
        let t = of(&example(name), 1.0);
        for (i, task) in t.list.iter().enumerate().filter(|(_, t)| t.what == "bake") {
            let hot = task
                .after
                .iter()
                .any(|&a| matches!(t.list[a].what, "preheat" | "bake"));
            assert!(hot, "{name}: {}", task.key);
            let next: Vec<&str> = t
                .list
                .iter()
                .filter(|n| n.after.contains(&i))
                .map(|n| n.what)
                .collect();
            assert!(
                next.iter()
                    .any(|n| matches!(*n, "cool" | "take_out" | "bake" | "rest")),
                "{name}: {} then {next:?}",
                task.key
            );
        }
    }
}

#[test]
fn no_part_waits_for_itself() {
    for name in [
        "apricot-almond-buns",
        "ginger-crumb-cheesecake",
        "leek-and-cheddar-tart",
        "lemon-yoghurt-cake",
        "mushroom-stout-sauce",
        "sunday-pancakes",
    ] {
        let t = of(&example(name), 1.0);
        assert!(!t.list.is_empty());
        for i in 0..t.list.len() {
            assert!(!comes_after(&t, i, i), "{name}: {}", t.list[i].key);
            assert!(t.list[i].hands.most >= t.list[i].hands.least);
        }
        let mut keys: Vec<&String> = t.list.iter().map(|t| &t.key).collect();
        keys.sort();
        keys.dedup();
        assert_eq!(keys.len(), t.list.len(), "{name}");
    }
}

/// Each step is called by its own verb and what it is done to.
#[test]
fn every_step_of_a_method_is_recognised_in_the_plan() {
    let text = "Pear cake\n\nCake\n150 g butter\n150 g caster sugar\n3 eggs\n150 g plain flour\n\nTop\n3 pears\n2 tbsp apricot jam\n\n1. Heat the oven to 180 °C. Grease a 23 cm springform tin.\n2. Cream the butter and sugar, beat in the eggs and fold in the flour.\n3. Arrange the pears on top.\n4. Bake for 45 minutes. Cool in the tin for 20 minutes.\n5. Warm the jam and brush it over the cake.\n";
    let t = of(&sheet(text), 1.0);
    let place = |name: &str| {
        let names: Vec<&str> = t.list.iter().map(|t| t.name.as_str()).collect();
        let found = names.iter().position(|n| n.contains(name));
        assert!(found.is_some(), "no '{name}' among {names:?}");
        found.unwrap_or_default()
    };
    for name in [
        "Grease tin",
        "Cream butter and sugar",
        "mix eggs",
        "fold flour",
        "Warm jam, brush",
    ] {
        place(name);
    }
    let (arrange, cream) = (place("Arrange pears"), place("Cream butter"));
    assert!(comes_after(&t, arrange, cream));
    // Nothing is called by its number alone.
    assert!(t.list.iter().all(|t| !t.name.starts_with("Step")));
}

#[test]
fn what_keeps_two_days_is_no_wait() {
    let t = of(&example("lemon-yoghurt-cake"), 1.0);
    assert!(
        t.list
            .iter()
            .all(|t| t.wait.is_none_or(|w| w.span.least < 720.0))
    );
}

#[test]
fn the_bakers_own_figures_stand() {
    let mut s = example("apricot-almond-buns");
    let set = |s: &mut Sheet, step: &str, to: StepChange| {
        s.change(&Change::SetStep {
            step: step.to_owned(),
            words: None,
            to,
        })
        .expect("a change");
    };
    set(&mut s, "dough:bake", StepChange::Most(Some(28.0)));
    set(&mut s, "dough:bake", StepChange::Least(Some(25.0)));
    set(&mut s, "dough:brush", StepChange::LeftOut(true));
    set(&mut s, "dough:shape", StepChange::Hands(Some(25.0)));
    let added = recipe::plan::AddedStep {
        name: "Film the slices".to_owned(),
        after: "dough:shape".to_owned(),
    };
    set(&mut s, "own:1", StepChange::Added(Some(added)));
    set(&mut s, "own:1", StepChange::Hands(Some(10.0)));
    let t = of(&s, 1.0);
    let bake = &t.list[at(&t, "dough:bake")];
    let w = bake.wait.expect("a bake");
    assert_eq!(
        (w.span.least, w.span.most, bake.wait_basis),
        (25.0, 28.0, Basis::Own)
    );
    assert_eq!(t.list[at(&t, "dough:shape")].hands.most, 25.0);
    // What is left out is gone round.
    let (brush, rise) = (at(&t, "dough:brush"), at(&t, "dough:rise"));
    assert!(!bake.after.contains(&brush) && bake.after.contains(&rise));
    // The own step stands between the two.
    let film = at(&t, "own:1");
    assert_eq!(t.list[film].after, [at(&t, "dough:shape")]);
    assert_eq!(t.list[rise].after, [film]);
    // A key that is not there waits, unused.
    set(&mut s, "dough:nothing", StepChange::Hands(Some(1.0)));
    assert_eq!(of(&s, 1.0).idle, ["dough:nothing"]);
}

#[test]
fn a_change_of_a_step_is_said_and_taken_back() {
    let mut s = example("apricot-almond-buns");
    let change = Change::SetStep {
        step: "dough:bake".to_owned(),
        words: None,
        to: StepChange::Most(Some(40.0)),
    };
    assert_eq!(change.field(), "step:dough:bake/most");
    assert_eq!(
        change.words(),
        "step 'bake' of the dough, longest wait: 40 min"
    );
    assert_eq!(change.value_in(&s), "as it follows");
    let json = serde_json::to_string(&change).expect("JSON");
    assert_eq!(
        json,
        r#"{"field":"set_step","step":"dough:bake","what":"most","value":40.0}"#
    );
    assert_eq!(
        serde_json::from_str::<Change>(&json).expect("a change"),
        change
    );
    let before = s.clone();
    let back = change.inverse(&s);
    s.change(&change).expect("a change");
    assert_eq!(change.value_in(&s), "40 min");
    for b in &back {
        s.change(b).expect("back");
    }
    assert_eq!(s, before);
    for bad in [
        StepChange::Hands(Some(-1.0)),
        StepChange::Most(Some(f64::NAN)),
        StepChange::Most(Some(9000.0)),
        StepChange::Oven(Some(20.0)),
        StepChange::Racks(Some(0)),
        StepChange::Place(Some("cellar".to_owned())),
    ] {
        let to = bad.clone();
        let bad = Change::SetStep {
            step: "x".to_owned(),
            words: None,
            to,
        };
        assert!(s.change(&bad).is_err(), "{bad:?}");
    }
    assert_eq!(s, before);
    // An old sheet has no steps and still loads; a new one without any is written as before.
    let json = serde_json::to_string(&before).expect("JSON");
    assert!(!json.contains("steps"));
}

#[test]
fn an_own_method_is_planned_as_it_says() {
    let mut s = example("apricot-almond-buns");
    let method =
        "Mix the dough for 5 minutes.\nLet rise for 40 minutes.\nBake at 170 °C for 30 minutes.";
    s.change(&Change::Method {
        text: Some(method.to_owned()),
    })
    .expect("a method");
    let t = of(&s, 1.0);
    assert!(t.own_method);
    let bake = t.list.iter().find(|t| t.what == "bake").expect("a bake");
    let w = bake.wait.expect("a wait");
    assert_eq!(
        (w.span.least, w.span.most, bake.wait_basis),
        (30.0, 30.0, Basis::Said)
    );
    assert_eq!(bake.step, Some(3));
}

/// The card, the plan and the bench number an own method's steps alike: headings are none.
#[test]
fn headings_of_an_own_method_are_no_steps() {
    let mut s = example("apricot-almond-buns");
    let method = "For the filling:\nSimmer the apricots for 12 minutes and cool.\nDough:\nMix it for 5 minutes.\nRoll out, spread, roll up and cut.\nBake at 170 °C for 30 minutes.";
    s.change(&Change::Method {
        text: Some(method.to_owned()),
    })
    .expect("a method");
    let t = of(&s, 1.0);
    let steps = |part: &str| -> Vec<usize> {
        let mine = t
            .list
            .iter()
            .filter(|t| t.of == part && t.what != "preheat");
        let mut steps: Vec<usize> = mine.filter_map(|t| t.step).collect();
        steps.dedup();
        steps
    };
    assert_eq!(steps("filling"), [1], "{:?}", t.list);
    assert_eq!(steps("dough"), [2, 3, 4], "{:?}", t.list);
    let last = recipe::own_method::steps(method).pop().expect("a section");
    assert_eq!(last.from + last.steps.len() - 1, 4);
}

#[test]
fn a_recipe_without_a_method_gets_guesses_that_say_so() {
    let t = of(
        &sheet("Loaf\n\n500 g bread flour\n7 g yeast\n330 g water\n10 g salt\n"),
        1.0,
    );
    let bake = &t.list[at(&t, ":bake")];
    assert!(bake.guessed() && bake.source.contains("no source"));
    assert!(t.list.iter().any(|t| t.what == "rise"));
}

#[test]
fn more_of_it_takes_more_racks_and_longer_shaping() {
    let s = example("apricot-almond-buns");
    let (one, three) = (of(&s, 1.0), of(&s, 3.0));
    let bake = |t: &Tasks| t.list[at(t, "dough:bake")].racks;
    assert_eq!((bake(&one), bake(&three)), (1, 3));
    let shape = |t: &Tasks| t.list[at(t, "dough:shape")].hands.usual;
    assert_eq!(shape(&three), 3.0 * shape(&one));
    let mix = |t: &Tasks| t.list[at(t, "dough:mix")].hands.usual;
    assert_eq!(mix(&three), mix(&one));
}

/// Worked by hand from the two texts: a dough taken in from another recipe is mixed by its own method
/// before this recipe's method shapes and bakes it.
#[test]
fn a_dough_taken_in_is_made_before_this_recipe_shapes_and_bakes_it() {
    let part = Sheet::new(
        include_str!("../../unwheat/demo/soft-dough.txt"),
        Locale::Uk,
    );
    let mut knots = Sheet::new(
        include_str!("../../unwheat/demo/chive-knots.txt"),
        Locale::Uk,
    );
    knots.parts.push(PartUse {
        recipe: "soft".to_owned(),
        version: 1,
        title: "House soft dough".to_owned(),
    });
    let larder = Larder::built_in().expect("the built-in tables");
    let w = work(&knots, &[part.into()], &larder, &[]).expect("a recipe");
    let t = tasks(&w, &knots, 1.0);
    let one = |what: &str, of: &str| {
        let found: Vec<usize> = (0..t.list.len())
            .filter(|&i| t.list[i].what == what && t.list[i].of == of)
            .collect();
        let names: Vec<_> = t.list.iter().map(|t| (t.what, &t.of)).collect();
        assert_eq!(found.len(), 1, "{what} of {of} among {names:?}");
        found[0]
    };
    let bake = one("bake", "knots");
    for earlier in [
        one("weigh", "house soft dough"),
        one("hydrate", "house soft dough"),
        one("weigh", "knots"),
        one("preheat", "knots"),
    ] {
        assert!(comes_after(&t, bake, earlier), "{:?}", t.list[earlier]);
    }
    // All of the dough's own work comes before the bake, and nothing of it after.
    for (i, task) in t.list.iter().enumerate() {
        let own = task.of == "house soft dough" && !task.what.starts_with("cool");
        assert!(!own || comes_after(&t, bake, i), "{task:?}");
        assert!(!own || !comes_after(&t, i, bake), "{task:?}");
    }
    // The bake follows the dough's rework: a tenth to a quarter longer than the 18 minutes.
    let wait = t.list[bake].wait.expect("a wait");
    assert!(wait.span.least > 18.0, "{wait:?}");
    assert_eq!(t.list[bake].wait_basis, Basis::Reworked);
    // Cooled before it is cut, after the bake.
    assert!(
        t.list
            .iter()
            .enumerate()
            .any(|(i, task)| task.what.starts_with("cool") && comes_after(&t, i, bake))
    );
    // One rise: it stands warm for no more than two hours in all.
    let rises = t.list.iter().filter(|t| t.what == "rise").count();
    assert_eq!(rises, 1);
    assert!(t.breaches.is_empty(), "{:?}", t.breaches);
}
