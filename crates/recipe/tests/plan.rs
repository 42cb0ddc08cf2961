//! The steps of a batch: what is done, for how long, in what order, and what limits them.

use larder::Larder;
use quantity::Locale;
use recipe::plan::{Basis, Place, StepChange, Tasks, tasks};
use recipe::sheet::{Change, Sheet, work};

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
    let cool = &t.list[at(&t, "dough:cool_rolls")];
    assert_eq!(cool.wait.map(|w| w.span.least), Some(45.0));
}

/// Time above 5 °C before the oven never adds up to more than 2 hours, the fridge left out.
#[test]
fn dough_with_egg_stays_under_two_hours_warm() {
    let t = of(&example("apricot-almond-buns"), 1.0);
    assert!(t.breaches.is_empty());
    let warm: i64 = t.limits.iter().map(|l| l.most).sum();
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
        to: StepChange::Most(Some(40.0)),
    };
    assert_eq!(change.field(), "step:dough:bake/most");
    assert_eq!(
        change.words(),
        "longest wait of step 'bake' of the dough: 40 min"
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
