//! The steps of a batch: what is done, for how long, in what order, and what limits them.

#[path = "plan/cold.rs"]
mod cold;
#[path = "plan/cool.rs"]
mod cool;
#[path = "plan/follow.rs"]
mod follow;
#[path = "plan/kitchen.rs"]
mod kitchen;
#[path = "plan/laminated.rs"]
mod laminated;
#[path = "plan/taken.rs"]
mod taken;
#[path = "plan/tart.rs"]
mod tart;

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
    assert_eq!(cook.name, "Cook the leek");
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

mod days {
    //! When each step is done. Minute 0 is a midnight.

    use super::*;
    use recipe::plan::{
        Ask, Begun, Held, Impossible, Job, Kitchen, Minute, Plan, kept, nightly, plan,
    };

    pub(super) const NINE: Minute = 1440 + 9 * 60;

    pub(super) fn ask(texts: &[Sheet], serve: Option<Minute>) -> Ask {
        Ask {
            jobs: texts
                .iter()
                .map(|s| Job {
                    tasks: of(s, 1.0),
                    serve,
                })
                .collect(),
            kitchen: Kitchen::default(),
            quiet: nightly(22 * 60, 7 * 60, 0, 8),
            now: 0,
            begun: Vec::new(),
        }
    }

    pub(super) fn clock(m: Minute) -> String {
        format!("{:02}:{:02}", m.rem_euclid(1440) / 60, m.rem_euclid(60))
    }

    /// Every rule, looked at anew: order, gaps, hands, oven, quiet hours, warm limits, serving.
    #[track_caller]
    pub(super) fn holds(ask: &Ask, p: &Plan) {
        let at = |j: usize, t: usize| p.rows.iter().find(|r| (r.job, r.task) == (j, t));
        for r in &p.rows {
            let tasks = &ask.jobs[r.job].tasks;
            let t = &tasks.list[r.task];
            let work = r.work_end - r.start;
            assert_eq!(i64::from(work), t.hands_planned(), "{}", t.key);
            let (low, high) = t.wait_planned();
            let wait = i64::from(r.end - r.work_end);
            assert!((low..=high).contains(&wait), "{} waits {wait}", t.key);
            assert!(r.start >= ask.now);
            assert!(
                ask.jobs[r.job].serve.is_none_or(|s| r.end <= s),
                "{}",
                t.key
            );
            for &before in &t.after {
                let Some(b) = at(r.job, before) else { continue };
                let starts = if tasks.list[before].what == "preheat" {
                    r.work_end
                } else {
                    r.start
                };
                assert!(
                    b.end <= starts,
                    "{} before {}",
                    tasks.list[before].key,
                    t.key
                );
            }
            for m in r.start..r.work_end {
                assert!(
                    ask.quiet.iter().all(|q| m < q.from || m >= q.to),
                    "{} at {}",
                    t.key,
                    clock(m)
                );
                let busy = p
                    .rows
                    .iter()
                    .filter(|o| o.start <= m && m < o.work_end)
                    .count();
                assert!(
                    busy <= ask.kitchen.hands as usize,
                    "{} hands at {}",
                    busy,
                    clock(m)
                );
            }
            if t.wait.is_some_and(|w| w.place == Place::Oven) {
                for o in p
                    .rows
                    .iter()
                    .filter(|o| o.work_end < r.end && r.work_end < o.end)
                {
                    let other = &ask.jobs[o.job].tasks.list[o.task];
                    if let Some(w) = other.wait.filter(|w| w.place == Place::Oven) {
                        let same = std::ptr::eq(other, t) || w.oven == t.wait.and_then(|w| w.oven);
                        assert!(same, "{} and {} in one oven", t.key, other.key);
                    }
                }
            }
        }
        for (j, job) in ask.jobs.iter().enumerate() {
            for l in &job.tasks.limits {
                let a = at(j, l.from).expect("a row");
                let from = if l.after { a.end } else { a.start };
                let to = match l.to {
                    Some(to) => at(j, to).expect("a row").work_end,
                    None => job.serve.unwrap_or(p.ready[j]),
                };
                assert!(i64::from(to - from) <= l.most, "{l:?}");
            }
        }
    }

    /// Worked by hand, backwards from 12:00: cool 45 min (11:15), take out 2 (11:13), bake 25
    /// (10:48) and put in 2 (10:46), rise 60 + 2 (9:44), shape 12 (9:32), rest 20 at least 10 + 1
    /// (9:21), mix 6 + 4 (9:11), gel 1 + 2 (9:08), weigh 4 lines at 0.75 min (9:05).
    pub(super) const ROLLS: &str = "Rolls\n\n500 g bread flour\n7 g yeast\n10 g salt\n330 g water\n\n1. Mix and knead for 8 minutes.\n2. Shape into 12 rolls. Let rise for 1 hour.\n3. Bake at 200 °C for 20 minutes.\n";

    #[test]
    fn rolls_for_noon_as_worked_by_hand() {
        let noon = 1440 + 12 * 60;
        let a = ask(&[sheet(ROLLS)], Some(noon));
        let p = plan(&a).expect("a plan");
        holds(&a, &p);
        assert!(p.proven);
        let tasks = &a.jobs[0].tasks;
        let starts = |key: &str| {
            let i = at(tasks, key);
            clock(p.rows.iter().find(|r| r.task == i).expect("a row").start)
        };
        assert_eq!(starts(":bake"), "10:46");
        assert_eq!(starts(":rise"), "09:44");
        assert_eq!(starts(":shape"), "09:32");
        let lines = tasks.list[at(tasks, ":weigh")].hands_planned();
        assert_eq!(
            i64::from(p.start),
            1440 + 9 * 60 + 8 - lines,
            "{}",
            clock(p.start)
        );
    }

    #[test]
    fn examples_are_planned_and_every_rule_is_kept() {
        for name in [
            "apricot-almond-buns",
            "ginger-crumb-cheesecake",
            "leek-and-cheddar-tart",
            "lemon-yoghurt-cake",
            "mushroom-stout-sauce",
            "sunday-pancakes",
        ] {
            for serve in [Some(NINE), Some(1440 + 16 * 60), None] {
                let mut a = ask(&[example(name)], serve);
                if serve.is_none() {
                    a.now = 8 * 60;
                }
                let p = plan(&a);
                let words = p.as_ref().err().map(|why| why.sentences(&a, &clock));
                assert_eq!(words, None, "{name}");
                let p = p.expect("a plan");
                holds(&a, &p);
            }
        }
    }

    #[test]
    fn two_recipes_share_hands_and_oven() {
        let a = ask(
            &[example("lemon-yoghurt-cake"), sheet(ROLLS)],
            Some(1440 + 15 * 60),
        );
        let p = plan(&a).expect("a plan");
        holds(&a, &p);
        let of = |j: usize| p.rows.iter().filter(move |r| r.job == j).count();
        assert!(of(0) > 5 && of(1) > 5);
        // More hands begin no sooner.
        let mut more = a.clone();
        more.kitchen.hands = 2;
        more.kitchen.ovens = 2;
        let q = plan(&more).expect("a plan");
        assert!(q.start >= p.start, "{} {}", clock(p.start), clock(q.start));
    }

    pub(super) fn why(a: &Ask) -> (Box<Impossible>, String) {
        let why = plan(a).expect_err("impossible");
        let words = why.sentences(a, &clock).join(" ");
        (why, words)
    }

    #[test]
    fn a_serving_time_in_the_past_is_explained() {
        let mut a = ask(&[sheet(ROLLS)], Some(500));
        a.now = 560;
        let (why, words) = why(&a);
        assert_eq!(why.past, [(0, 60)]);
        assert!(words.contains("08:20, is 1 h ago"), "{words}");
    }

    /// The rolls take 176 minutes and a little: from 07:00 they are ready a little before 10:00.
    #[test]
    fn quiet_hours_that_make_it_impossible_are_named_with_the_minutes() {
        let mut a = ask(&[sheet(ROLLS)], Some(NINE + 30));
        // The evening before is gone.
        a.now = 1440 + 60;
        let (why, words) = why(&a);
        let length = plan(&ask(&[sheet(ROLLS)], Some(1440 + 12 * 60))).expect("a plan");
        let takes = length.end - length.start;
        let from_seven = 1440 + 7 * 60 + takes;
        assert_eq!(why.earliest, Some((0, from_seven)), "{words}");
        assert_eq!(why.quiet_minutes, Some(from_seven - (NINE + 30)), "{words}");
        assert!(words.contains("in your quiet hours"), "{words}");
        assert!(
            words.contains(&format!("at {} at the earliest", clock(from_seven))),
            "{words}"
        );
    }

    #[test]
    fn too_little_time_names_the_step_and_how_long_ago_it_should_have_begun() {
        let mut a = ask(&[sheet(ROLLS)], Some(1440 + 12 * 60));
        a.now = 1440 + 10 * 60;
        let (why, words) = why(&a);
        let (_, i, begin) = why.begin.expect("a beginning");
        assert_eq!(a.jobs[0].tasks.list[i].what, "weigh");
        assert!(begin < a.now);
        assert!(words.contains("before now"), "{words}");
    }

    #[test]
    fn a_dough_that_stands_too_long_is_no_plan() {
        let text = ROLLS
            .replace("330 g water", "330 g milk")
            .replace("1 hour", "4 hours");
        let (why, words) = why(&ask(&[sheet(&text)], Some(NINE + 600)));
        assert_eq!(why.unsafe_parts.len(), 1);
        assert!(
            words.contains("above 5 °C") && words.contains("2 hours"),
            "{words}"
        );
        assert!(!words.contains("safe for"), "{words}");
    }

    #[test]
    fn a_kitchen_without_an_oven_bakes_nothing() {
        let mut a = ask(&[sheet(ROLLS)], Some(NINE + 600));
        a.kitchen.ovens = 0;
        let (_, words) = why(&a);
        assert!(words.contains("needs an oven"), "{words}");
    }

    /// An optional step is left out only where it must be, and the plan says so.
    #[test]
    fn optional_steps_are_left_out_only_where_they_must_be() {
        let mut s = sheet(ROLLS);
        let change = Change::SetStep {
            step: ":rest".to_owned(),
            words: None,
            to: StepChange::Optional(Some("a grittier crumb".to_owned())),
        };
        s.change(&change).expect("a change");
        let mut a = ask(&[s], Some(1440 + 12 * 60));
        let all = plan(&a).expect("a plan");
        assert!(all.skipped.is_empty());
        holds(&a, &all);
        // Five minutes short of all of it.
        a.now = all.start + 5;
        let p = plan(&a).expect("a plan");
        let rest = at(&a.jobs[0].tasks, ":rest");
        assert_eq!(p.skipped, [(0, rest)]);
        holds(&a, &p);
    }

    #[test]
    fn slack_and_what_holds_each_step() {
        let a = ask(&[sheet(ROLLS)], Some(1440 + 12 * 60));
        let p = plan(&a).expect("a plan");
        let last = p.rows.iter().max_by_key(|r| r.end).expect("rows");
        assert_eq!(last.held, Held::Serving);
        let bake = at(&a.jobs[0].tasks, ":bake");
        let row = p.rows.iter().find(|r| r.task == bake).expect("a bake");
        assert_eq!(row.slack, 0);
        assert!(matches!(row.held, Held::Before(_)), "{:?}", row.held);
    }

    fn places(p: &Plan, upto: Minute) -> Vec<Begun> {
        p.rows
            .iter()
            .filter(|r| r.start <= upto)
            .map(|r| Begun {
                job: r.job,
                task: r.task,
                start: r.start,
                work_end: r.work_end,
                end: r.end,
            })
            .collect()
    }

    #[test]
    fn a_plan_looked_at_anew_is_the_same() {
        let a = ask(
            &[
                example("apricot-almond-buns.txt"),
                example("lemon-yoghurt-cake.txt"),
            ],
            Some(NINE + 1440),
        );
        let p = plan(&a).expect("a plan");
        let again = kept(&a, &places(&p, Minute::MAX));
        assert_eq!((&again.rows, &again.skipped), (&p.rows, &p.skipped));
        assert_eq!((&again.ready, again.end), (&p.ready, p.end));
        // One that was not planned has no row.
        assert_eq!(kept(&a, &[]).rows, []);
    }

    #[test]
    fn what_is_begun_stays_and_the_rest_goes_on_from_now() {
        let mut a = ask(&[example("lemon-yoghurt-cake.txt")], None);
        a.now = 9 * 60;
        let p = plan(&a).expect("a plan");
        // At the moment of the second step somebody is 12 minutes late with it.
        let second = p.rows[1].start;
        let begun: Vec<Begun> = places(&p, second)
            .into_iter()
            .filter(|b| b.start < second)
            .collect();
        assert!(!begun.is_empty());
        a.now = second + 12;
        a.begin(begun.clone());
        let late = plan(&a).expect("a plan from now");
        for b in &a.begun {
            let row = late
                .rows
                .iter()
                .find(|r| (r.job, r.task) == (b.job, b.task));
            let row = row.expect("a row");
            assert_eq!((row.start, row.work_end), (b.start, b.work_end));
            assert_eq!((row.slack, row.held), (0, Held::Begun));
        }
        let rest = late
            .rows
            .iter()
            .filter(|r| a.begun(r.job, r.task).is_none());
        let first = rest.map(|r| r.start).min().expect("the rest");
        assert!(first >= a.now, "{first}");
        assert!(
            late.end > p.end && late.end <= p.end + 12 + 1,
            "{} {}",
            late.end,
            p.end
        );
        // All of it is done: nothing is left to plan.
        a.begin(places(&p, Minute::MAX));
        a.now = p.end + 600;
        let over = plan(&a).expect("a plan of what is done");
        assert_eq!((over.start, over.rows.len()), (p.start, p.rows.len()));
    }

    #[test]
    fn what_comes_before_a_step_that_is_begun_is_done() {
        let mut a = ask(&[example("lemon-yoghurt-cake.txt")], None);
        a.now = 9 * 60;
        let p = plan(&a).expect("a plan");
        let last = *places(&p, Minute::MAX).last().expect("a step");
        a.begin(vec![last]);
        let tasks = &a.jobs[0].tasks;
        for (i, _) in tasks.done() {
            let before = comes_after(tasks, last.task, i);
            assert_eq!(a.begun(0, i).is_some(), before || i == last.task, "{i}");
        }
    }

    #[test]
    fn egg_that_has_stood_warm_too_long_is_no_plan() {
        let mut a = ask(&[example("apricot-almond-buns")], Some(NINE + 1440));
        let p = plan(&a).expect("a plan");
        let limit = a.jobs[0].tasks.limits[0];
        let from = p.rows.iter().find(|r| r.task == limit.from).expect("a row");
        let begins = if limit.after { from.end } else { from.start };
        let begun = places(&p, from.start);
        a.now = begins + limit.most as Minute;
        a.begin(begun.clone());
        a.now += 1;
        let (why, words) = why(&a);
        assert_eq!(why.spoilt.len(), 1, "{words}");
        assert!(words.contains("Do not go on with it"), "{words}");
        // A step in the cold that was begun in time is another matter.
        let cold = p
            .rows
            .iter()
            .find(|r| Some(r.task) == limit.to)
            .expect("a row");
        a.begin(places(&p, cold.end - 1));
        a.now = cold.end;
        assert!(plan(&a).is_ok());
    }
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
