//! What a kitchen has too few of: pans, heat of the oven, shelves.

use super::days::{NINE, ROLLS, ask, clock, holds, why};
use super::{at, example, of, sheet};
use recipe::plan::{
    Ask, Begun, Limit, Limited, Minute, OwnPans, Plan, Short, StepChange, Tasks, kept, plan,
    uncounted_pans,
};
use recipe::sheet::{Change, Sheet};

/// Pans of the batches, from which task to which.
fn pans(t: &Tasks) -> Vec<String> {
    let each = t.pans.iter().map(|p| {
        let (from, to) = (&t.list[p.from].key, &t.list[p.to].key);
        let out = if p.turned_out { " work" } else { "" };
        format!("{} {}: {from} to {to}{out}", p.count, p.name)
    });
    each.collect()
}

/// Worked by hand from the texts of the examples.
#[test]
fn a_pan_is_taken_from_where_it_is_filled_to_where_it_is_turned_out() {
    for (name, want) in [
        (
            "apricot-almond-buns",
            &["1 9 x 13 inch pan: dough:shape to dough:cool"][..],
        ),
        (
            "lemon-yoghurt-cake",
            &["2 20cm sandwich tins: :other to :cool"],
        ),
        (
            "ginger-crumb-cheesecake",
            &[
                "2 baking sheets: ginger biscuits:roll to ginger biscuits:cool work",
                "1 23 cm springform tin: base:mix to filling:chill",
            ],
        ),
        (
            "leek-and-cheddar-tart",
            &["1 24cm loose-based tart tin: shortcrust pastry:roll to shortcrust pastry:rest#2"],
        ),
        ("sunday-pancakes", &[]),
        ("mushroom-stout-sauce", &[]),
    ] {
        let t = of(&example(name), 1.0);
        assert_eq!(
            pans(&t),
            want,
            "{name}: {:#?}",
            t.list.iter().map(|t| &t.key).collect::<Vec<_>>()
        );
    }
}

/// A pan is empty once its cake is on a rack; a crack is no rack.
#[test]
fn a_pan_is_freed_by_a_rack_not_by_a_crack() {
    let freed = |cool: &str| {
        let cake = format!(
            "Cake\n\n200 g plain flour\n150 g butter\n150 g sugar\n150 g water\n1 tsp baking powder\n\nMethod\n1. Mix and pour into a 20 cm round tin.\n2. Bake at 180 °C for 35 minutes.\n3. {cool}\n"
        );
        pans(&of(&sheet(&cake), 1.0)).join(", ")
    };
    assert!(freed("Cool on a rack for 30 minutes.").ends_with(":cool work"));
    let cracked = freed("Cool for 30 minutes: it may crack.");
    assert!(cracked.ends_with(":cool"), "{cracked}");
}

fn row<'a>(a: &Ask, p: &'a Plan, j: usize, key: &str) -> &'a recipe::plan::Row {
    let i = at(&a.jobs[j].tasks, key);
    let mut rows = p.rows.iter();
    rows.find(|r| (r.job, r.task) == (j, i)).expect("a row")
}

const LOAF: &str = "Tin loaf\n\n500 g bread flour\n7 g yeast\n10 g salt\n330 g water\n\n1. Mix for 8 minutes. Scrape into a 23 x 13 cm loaf tin and let rise for 40 minutes.\n2. Bake at 200 °C for 40 minutes. Cool in the tin for 10 minutes, then turn out.\n";

/// Two loaves of one dough each: with one tin the second waits until the first is turned out.
#[test]
fn two_bakes_that_share_one_tin_follow_each_other() {
    let mut a = ask(&[sheet(LOAF), sheet(LOAF)], Some(1440 + 16 * 60));
    let full = |a: &Ask, p: &Plan, j: usize| -> (Minute, Minute) {
        let u = &a.jobs[j].tasks.pans[0];
        let of = |t: usize| {
            p.rows
                .iter()
                .find(|r| (r.job, r.task) == (j, t))
                .expect("a row")
        };
        (of(u.from).start, of(u.to).end)
    };
    // Nothing is said of tins: they are baked together.
    let p = plan(&a).expect("a plan");
    assert_eq!(uncounted_pans(&a), ["23 x 13 cm loaf tin"]);
    let (one, two) = (full(&a, &p, 0), full(&a, &p, 1));
    assert!(one.0 < two.1 && two.0 < one.1, "{one:?} {two:?}");
    a.kitchen.pans = vec![OwnPans::read("blue loaf tin, 23 x 13 cm").expect("a pan")];
    let p = plan(&a).expect("a plan");
    holds(&a, &p);
    assert_eq!(uncounted_pans(&a), [""; 0]);
    let (one, two) = (full(&a, &p, 0), full(&a, &p, 1));
    assert!(one.1 <= two.0 || two.1 <= one.0, "{one:?} {two:?}");
    // With two of them they are baked together again.
    a.kitchen.pans[0].count = 2;
    let p = plan(&a).expect("a plan");
    let (one, two) = (full(&a, &p, 0), full(&a, &p, 1));
    assert!(one.0 < two.1 && two.0 < one.1, "{one:?} {two:?}");
}

#[test]
fn a_day_that_a_pan_makes_impossible_says_so() {
    let mut a = ask(&[sheet(LOAF), sheet(LOAF)], Some(1440 + 16 * 60));
    let p = plan(&a).expect("a plan");
    a.kitchen.pans = vec![OwnPans::read("loaf tin 23 x 13 cm").expect("a pan")];
    // Time for both together, not for one after the other.
    a.now = p.start;
    let (why, words) = why(&a);
    assert!(why.pan, "{why:?}");
    assert!(
        words.contains("It is a pan that makes it impossible: 'loaf tin 23 x 13 cm'"),
        "{words}"
    );
    assert!(
        words.contains("have one more loaf tin 23 x 13 cm"),
        "{words}"
    );
    // Three batches at once want three.
    let mut three = ask(&[sheet(LOAF)], Some(1440 + 16 * 60));
    three.jobs[0].tasks = of(&sheet(LOAF), 3.0);
    three.kitchen.pans.clone_from(&a.kitchen.pans);
    let (_, words) = super::days::why(&three);
    assert!(
        words.contains("fills 3 of '23 x 13 cm loaf tin' at once, and the kitchen has 1"),
        "{words}"
    );
}

/// A bake at 200 °C that goes back in at 180 °C after its filling: no sooner than the oven is there.
#[test]
fn an_oven_takes_its_time_from_one_temperature_to_another() {
    let tart = example("leek-and-cheddar-tart");
    let mut a = ask(&[tart], Some(1440 + 16 * 60));
    let gap = |a: &Ask| {
        let p = plan(a).expect("a plan");
        holds(a, &p);
        let hot = |t: f64| {
            let oven = |r: &&recipe::plan::Row| {
                let t_ = &a.jobs[0].tasks.list[r.task];
                t_.what == "bake" && t_.wait.and_then(|w| w.oven) == Some(t)
            };
            let rows: Vec<_> = p.rows.iter().filter(oven).collect();
            (
                rows.iter().map(|r| r.work_end).min(),
                rows.iter().map(|r| r.end).max(),
            )
        };
        let (blind, filled) = (hot(200.0), hot(180.0));
        filled.0.expect("a bake") - blind.1.expect("a bake")
    };
    a.kitchen.oven_change = 90;
    assert!(gap(&a) >= 90);
    a.kitchen.oven_change = 0;
    assert!(gap(&a) < 90);
}

/// Crumbs made the day before stand on a shelf: with none free they are made within the hour.
#[test]
fn what_waits_for_another_part_takes_a_shelf() {
    let text = "Crumb buns\n\nDough\n500 g bread flour\n7 g yeast\n10 g salt\n330 g water\n\nCrumbs\n100 g plain flour\n60 g sugar\n70 g butter\n\n1. Crumbs: rub the butter into the flour and sugar.\n2. Dough: mix for 8 minutes.\n3. Let rise for 3 hours.\n4. Shape into 12 buns, sprinkle with the crumbs and bake at 190 °C for 25 minutes.\n";
    let mut s = sheet(text);
    for t in &of(&s, 1.0).list {
        if t.wait.is_some_and(|w| w.place.is_cold()) {
            let to = StepChange::LeftOut(true);
            let step = t.key.clone();
            s.change(&Change::SetStep {
                step,
                words: None,
                to,
            })
            .expect("a change");
        }
    }
    let mut a = ask(&[s], Some(1440 + 16 * 60));
    a.kitchen.fridge = 0;
    let p = plan(&a).expect("a plan");
    holds(&a, &p);
    let rub = row(&a, &p, 0, "crumbs:rub_in");
    assert!(
        rub.kept.unwrap_or(0) <= 60,
        "{rub:?} at {}",
        clock(rub.start)
    );
}

/// Earliest and latest of a step, the rest staying where it is.
#[test]
fn each_step_says_how_early_and_how_late_it_may_begin() {
    let a = ask(&[sheet(ROLLS)], Some(NINE + 180));
    let p = plan(&a).expect("a plan");
    // Nothing can move: the bake follows the rise, the cooling the bake.
    let bake = row(&a, &p, 0, ":bake");
    assert_eq!((bake.lead, bake.slack), (0, 0));
    // The first is planned as late as can be, and what it made may stand: 4 hours of dry weighing.
    let weigh = row(&a, &p, 0, ":weigh");
    assert_eq!((weigh.lead, weigh.slack), (123, 0), "from 7 o'clock on");
}

/// A custard that is ready before it is served stands until then: no step of it may begin so early
/// that it has stood for longer than its limit by the serving time.
#[test]
fn what_spoils_may_begin_no_sooner_than_it_may_stand_until_it_is_served() {
    let text = "Cold custard\n\n300 g cream\n4 egg yolks\n60 g sugar\n\n1. Whisk the yolks and the sugar. Stir in the cream.\n";
    let a = ask(&[sheet(text)], Some(NINE + 180));
    let p = plan(&a).expect("a plan");
    let sooner: Vec<Begun> = p
        .rows
        .iter()
        .map(|r| Begun {
            job: r.job,
            task: r.task,
            start: r.start - 60,
            work_end: r.work_end - 60,
            end: r.end - 60,
        })
        .collect();
    let moved = kept(&a, &sooner);
    assert!(moved.ready[0] < NINE + 180);
    let eaten = a.jobs[0].tasks.limits.iter().filter(|l| l.to.is_none());
    let mut looked = 0;
    for l in eaten {
        let r = moved.rows.iter().find(|r| r.task == l.from).expect("a row");
        let (start, end) = (r.start - r.lead, r.end - r.lead);
        let begins = if l.after { end } else { start };
        let stands = i64::from(NINE + 180 - begins);
        assert!(stands <= l.most, "{stands} of {}", l.most);
        looked += 1;
    }
    assert!(looked > 0, "{:?}", a.jobs[0].tasks.limits);
}

/// Each way a day can fail, over three recipes: the step and by how much. How soon is for the bench
/// (`plan_that_cannot_be`).
#[test]
fn days_of_three_recipes_that_cannot_be_say_why() {
    let names = [
        "apricot-almond-buns",
        "ginger-crumb-cheesecake",
        "leek-and-cheddar-tart",
    ];
    let sheets: Vec<_> = names.iter().map(|n| example(n)).collect();
    for (now, serve, said) in [
        (8 * 60, 14 * 60, "before now"),
        (18 * 60, 1440 + 12 * 60, "in your quiet hours"),
    ] {
        let mut a = ask(&sheets, Some(serve));
        a.now = now;
        let (_, words) = why(&a);
        assert!(
            words.contains(said) && words.contains("at the earliest"),
            "{words}"
        );
    }
}

/// Two limits that no plan keeps, and neither alone is the cause. Worked by hand from the times of
/// `rolls_for_noon_as_worked_by_hand`: from the weighing (09:05) to the oven (10:48) are 103 minutes, from
/// the shaping (09:32) 76; from the gel (09:08) to the oven 100, and the weighing before it.
#[test]
fn two_limits_together_are_named_with_their_steps_and_minutes() {
    let mut a = ask(&[sheet(ROLLS)], Some(1440 + 16 * 60));
    let tasks = &mut a.jobs[0].tasks;
    let (weigh, shape, bake) = (at(tasks, ":weigh"), at(tasks, ":shape"), at(tasks, ":bake"));
    let limit = |from, most| Limit::of(from, false, Some(bake), most);
    tasks.limits = vec![limit(weigh, 80), limit(shape, 60)];
    let (why, words) = why(&a);
    let lines = a.jobs[0].tasks.list[weigh].hands_planned() as i32;
    let short = |task, by| Short {
        job: 0,
        what: Limited::Warm(task),
        by,
    };
    assert_eq!(why.short, [short(weigh, 20 + lines), short(shape, 16)]);
    for said in [
        format!("{} min longer from 'Weigh out' on", 20 + lines),
        "16 min longer from 'Shape' on".to_owned(),
        "together".to_owned(),
    ] {
        assert!(words.contains(&said), "{words}");
    }
    // One of them alone is one.
    a.jobs[0].tasks.limits.pop();
    let (why, words) = super::days::why(&a);
    assert_eq!(why.short, [short(weigh, 20 + lines)]);
    assert!(!words.contains("together"), "{words}");
}

/// A gap and a wait are named by what they are: a filling that takes an hour is wanted for a dough that
/// may rest 20 minutes and then stand 5.
#[test]
fn a_wait_that_is_too_short_is_named_by_its_step() {
    let mut a = ask(&[sheet(ROLLS)], Some(1440 + 16 * 60));
    let tasks = &mut a.jobs[0].tasks;
    let (mix, rest, shape) = (at(tasks, ":mix"), at(tasks, ":rest"), at(tasks, ":shape"));
    let mut slow = tasks.list[rest].clone();
    slow.key = ":slow".to_owned();
    slow.name = "Soak".to_owned();
    slow.after = vec![mix];
    let wait = |t: &mut recipe::plan::Task, m: f64, may: bool| {
        let w = t.wait.as_mut().expect("a wait");
        (w.span.least, w.span.usual, w.span.most, w.may) = (m, m, m, may);
    };
    wait(&mut slow, 90.0, false);
    wait(&mut tasks.list[rest], 20.0, true);
    tasks.list[rest].stands = 5.0;
    tasks.list[mix].stands = 5.0;
    let new = tasks.list.len();
    tasks.list.push(slow);
    tasks.list[shape].after.push(new);
    let (why, words) = why(&a);
    let [one] = why.short.as_slice() else {
        panic!("{:?}: {words}", why.short)
    };
    // Soaked at 91 min after the mixing; rested at 5 + 1 + 20 + 5 at the latest.
    assert_eq!(one.by, 60, "{one:?}");
    assert!(
        words.contains("'Rest'") && words.contains(" 1 h "),
        "{words}"
    );
}

/// Both baked at one moment at two heats: one more pair of hands, or one more oven, is not enough.
#[test]
fn two_things_that_are_wanted_together_are_named_together() {
    let cold = ROLLS.replace("200 °C", "170 °C");
    let mut a = ask(&[sheet(ROLLS), sheet(&cold)], Some(1440 + 16 * 60));
    for job in &mut a.jobs {
        // Out of the oven (2 min) and cool for 45: eaten at once.
        let from = at(&job.tasks, ":bake");
        job.tasks.limits = vec![Limit::of(from, true, None, 47)];
    }
    let (why, words) = why(&a);
    assert_eq!(
        why.one_more.as_deref(),
        Some("pair of hands and one more oven")
    );
    assert!(
        words.contains("ave one more pair of hands and one more oven."),
        "{words}"
    );
    // And a step is named, by how much.
    assert!(
        words.contains("from 'Bake' of Rolls until it is eaten") && words.contains(" min "),
        "{words}"
    );
    (a.kitchen.hands, a.kitchen.ovens) = (2, 2);
    plan(&a).expect("a plan");
}

/// A heat of the baker's own for a bake is also that of heating the oven for it; and where the two are
/// said to differ there is a plan all the same.
#[test]
fn an_own_heat_of_a_bake_is_heated_for() {
    let mut s = sheet(ROLLS);
    let set = |s: &mut Sheet, step: &str, t: f64| {
        let to = StepChange::Oven(Some(t));
        let step = step.to_owned();
        s.change(&Change::SetStep {
            step,
            words: None,
            to,
        })
        .expect("a change");
    };
    set(&mut s, ":bake", 165.0);
    let t = of(&s, 1.0);
    let heat = t.list[at(&t, ":preheat")].wait.and_then(|w| w.oven);
    assert_eq!(heat, Some(165.0));
    plan(&ask(&[s.clone()], Some(NINE + 180))).expect("a plan");
    set(&mut s, ":preheat", 230.0);
    let a = ask(&[s], Some(NINE + 180));
    plan(&a).expect("a plan of an oven heated higher");
}

/// A case that goes back into the oven with a filling of another part finds it hot; not at another heat, nor after
/// hours in the cold.
#[test]
fn an_oven_that_is_on_is_not_heated_again_for_another_part() {
    let tart = "Rhubarb tart\n\nPastry\n200 g plain flour\n100 g butter\n40 g icing sugar\n1 egg yolk\n\nCustard\n3 eggs\n100 g caster sugar\n250 ml double cream\n\n1. Rub the butter into the flour and sugar, add the yolk and 2 tbsp water. Chill for 30 minutes.\n2. Heat the oven to 180 °C. Roll out the pastry and line a 23 cm tart tin. Bake blind for 15 minutes.\n3. Whisk the eggs, sugar and cream. Pour into the case and return to the oven for 20 minutes.\n4. Cool in the tin.\n";
    let heats = |text: &str| {
        let t = of(&sheet(text), 1.0);
        t.list.iter().filter(|t| t.what == "preheat").count()
    };
    assert_eq!(heats(tart), 1);
    let hotter = tart.replace("return to the oven", "bake at 150 °C");
    assert_eq!(heats(&hotter), 2);
    let cold = tart.replace("Pour into", "Chill for 3 hours. Pour into");
    assert_eq!(heats(&cold), 2);
}

/// Two batters, each into a tin of its own, are in the oven together where it has two racks, and one after the other
/// where it has one.
#[test]
fn two_tins_bake_together_where_there_are_racks() {
    let loaf = |n: &str| {
        format!("{n} batter\n200 g {n}s\n150 g butter\n150 g sugar\n200 g plain flour\n2 eggs\n\n")
    };
    let text = format!(
        "Two loaves\n\n{}{}1. Heat the oven to 170 °C. Grease two loaf tins.\n2. Mix the date batter. Pour into one tin and bake for 50 minutes.\n3. Mix the cherry batter. Pour into the second tin and bake for 50 minutes.\n",
        loaf("date"),
        loaf("cherry")
    );
    let together = |racks: u32| {
        let mut a = ask(&[sheet(&text)], Some(1440 + 19 * 60));
        a.kitchen.racks = racks;
        let p = plan(&a).expect("a plan");
        let list = &a.jobs[0].tasks.list;
        let mut bakes = p.rows.iter().filter(|r| list[r.task].what == "bake");
        let (one, other) = (bakes.next().expect("one"), bakes.next().expect("two"));
        assert!(bakes.next().is_none());
        other.work_end < one.end
    };
    assert!(together(2));
    assert!(!together(1));
    // One oven is heated once.
    let t = super::of(&sheet(&text), 1.0);
    let heats = t.list.iter().filter(|t| t.what == "preheat");
    let told = |t: &&recipe::plan::Task| t.notes.iter().any(|n| n.contains("hot already"));
    assert_eq!((heats.clone().count(), heats.filter(told).count()), (2, 1));
}
