//! When each step is done. Minute 0 is a midnight.

use super::*;
use recipe::plan::{Ask, Begun, Held, Impossible, Job, Kitchen, Minute, Plan, kept, nightly, plan};

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
                Some(to) => at(j, to)
                    .map(|r| l.ends(r.start, r.work_end))
                    .expect("a row"),
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

/// What an own method leaves out is told though there is no plan.
#[test]
fn too_little_time_tells_what_the_own_method_leaves_out_too() {
    let text = "Tea ring\n\nDough\n500 g flour\n7 g instant yeast\n330 g water\n\nGlaze\n100 g icing sugar\n20 g water\n\nMethod\n1. Mix the dough. Let rise for 1 hour. Bake at 190 °C for 30 minutes.\n2. Mix the glaze and pour it over.\n";
    let mut own = sheet(text);
    let method = "Mix the dough. Let rise for 1 hour.\nBake at 190 °C for 30 minutes.";
    own.change(&recipe::sheet::Change::Method {
        text: Some(method.to_owned()),
    })
    .expect("a method");
    let told = |sheets: &[Sheet]| {
        let mut a = ask(sheets, Some(1440 + 12 * 60));
        a.now = 1440 + 11 * 60;
        why(&a).1
    };
    let words = "Your method does not say where the glaze goes: write a step for it.";
    assert!(told(&[own.clone()]).contains(words), "{}", told(&[own]));
    let both = told(&[sheet(ROLLS), own.clone()]);
    assert!(both.contains(&format!("Tea ring: {words}")), "{both}");
    assert!(!told(&[sheet(text)]).contains("does not say where"));
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
    a.now = begins + limit.wall as Minute;
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

/// Dough with egg that chills 10 to 14 hours is in the fridge for all of them: 13 hours after it went in it has stood
/// warm for none; 4 hours after the 14 and more it is thrown away, wherever it stood.
#[test]
fn dough_in_the_fridge_within_its_hours_is_not_warm() {
    let text = "Nutmeg buns\nMakes 12\n\n500 g bread flour\n8 g instant yeast\n70 g sugar\n8 g salt\n280 g milk\n1 egg\n80 g butter\n\n1. Mix all to a dough. Put in the fridge overnight, 10 to 14 hours.\n2. Roll out the cold dough and cut into 12. Prove 45 minutes.\n3. Bake at 200 °C for 20 minutes.\n";
    let mut a = ask(&[sheet(text)], None);
    let tasks = &a.jobs[0].tasks;
    let chill = at(tasks, ":chill");
    let span = tasks.list[chill].wait.expect("a wait").span;
    assert_eq!((span.least, span.most), (600.0, 840.0));
    let (work_end, end) = tasks.list[chill].begun_at(0);
    let begun = Begun {
        job: 0,
        task: chill,
        start: 0,
        work_end,
        end,
    };
    a.quiet = Vec::new();
    a.now = 13 * 60;
    a.begin(vec![begun]);
    let p = plan(&a).expect("a plan");
    let first = p.rows.iter().filter(|r| a.begun(0, r.task).is_none());
    assert!(first.map(|r| r.start).min() >= Some(a.now));
    a.now = work_end + 14 * 60 + 4 * 60 + 1;
    let (why, words) = why(&a);
    assert_eq!(why.spoilt.len(), 1, "{words}");
}
