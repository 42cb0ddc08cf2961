//! A day's page, asked as a browser asks it.

use super::one::show;
use super::planned::planned;
use crate::day::clock::{Clock, DAY};
use crate::web::app::Shared;
use crate::web::larder_page::tests::{done, workbench};
use axum::extract::{Path, RawQuery, State as Held};
use quantity::Locale;
use recipe::sheet::Sheet;
use std::sync::Arc;
use store::{Day, DayRecipe, Summary};

const CAKE: &str = "Tea cake\n\n200 g plain flour\n150 g butter\n150 g sugar\n3 eggs\n1 tsp baking powder\n\nMethod\n1. Mix.\n2. Bake at 180 °C for 35 minutes.\n";

/// A workbench with a day of one cake, three days ahead.
fn day() -> (Shared, i64) {
    let app = workbench();
    let (sheet, summary) = (Sheet::new(CAKE, Locale::Metric), Summary::default());
    let kitchen = &app.kitchen;
    kitchen
        .add_recipe("cake", CAKE, &sheet, &summary, "Ines", 0)
        .expect("a recipe");
    let cake = DayRecipe {
        key: "one".to_owned(),
        recipe: "cake".to_owned(),
        version: None,
        times: 1.0,
        serve: None,
    };
    let clock = Clock::at(app.now());
    let day = Day {
        title: "Far ahead".to_owned(),
        serve: Some(clock.field(clock.now() + 3 * DAY)),
        quiet: Some("none".to_owned()),
        who: String::new(),
        recipes: vec![cake],
        held: Vec::new(),
        answers: None,
    };
    let id = kitchen.add_day("day", &day, 0).expect("a day");
    (app, id)
}

#[test]
fn a_day_that_is_planned_is_not_planned_again_until_what_it_rests_on_changes() {
    let (app, id) = day();
    let row = || app.kitchen.day(id).expect("the day");
    let first = planned(&app, row()).expect("a plan");
    let kept = row().day;
    assert!(kept.answers.is_some() && !kept.held.is_empty());
    // Another start would be another plan: it is shown as it is kept, and nothing is solved.
    let mut moved = kept.held.clone();
    let at = moved.iter().position(|h| h.step == ":weigh").expect("it");
    let start = first.clock.kept(&moved[at].start).expect("a time");
    moved[at].start = first.clock.field(start - DAY);
    app.kitchen
        .hold_day(id, row().rev, &moved, kept.answers.clone())
        .expect("held");
    let again = planned(&app, row()).expect("a plan");
    assert_eq!(row().day.held, moved);
    let Some(Ok(plan)) = &again.plan else {
        panic!("no plan");
    };
    assert_eq!(plan.start, start - DAY);
    // Other quiet hours are another question.
    let mut day = row().day;
    day.quiet = Some("22:00-07:00".to_owned());
    app.kitchen.put_day(id, row().rev, &day, 1).expect("kept");
    planned(&app, row()).expect("a plan");
    assert_ne!(row().day.held, moved);
    assert_ne!(row().day.answers, kept.answers);
}

#[test]
fn why_a_day_cannot_be_is_kept_for_a_minute_from_when_it_was_found() {
    let (app, id) = day();
    let row = || app.kitchen.day(id).expect("the day");
    let mut day = row().day;
    let clock = Clock::at(app.now());
    day.serve = Some(clock.field(clock.now() + 5));
    app.kitchen.put_day(id, row().rev, &day, 1).expect("kept");
    let told = || match planned(&app, row()).expect("a day").plan {
        Some(Err(why)) => why.fault,
        other => panic!("a plan: {other:?}"),
    };
    assert_eq!(told(), None);
    // Asked for three minutes ago and found so many seconds ago: marked, so that it is known again.
    let age = |seconds: i64| {
        let mut all = app.unsolved.lock().expect("no panic");
        let kept = all.get_mut(&id).expect("why");
        kept.now = clock.now() - 3;
        kept.at = app.now() - seconds;
        kept.why.fault = Some("kept".to_owned());
    };
    age(40);
    assert_eq!(told().as_deref(), Some("kept"));
    age(90);
    assert_eq!(told(), None);
}

#[test]
fn while_a_day_is_planned_its_page_says_so() {
    let (app, id) = day();
    let page = || done(show(Held(Arc::clone(&app)), Path(id), RawQuery(None))).2;
    app.planning().insert(id);
    let waits = page();
    assert!(
        waits.contains("being planned") && waits.contains("role=\"status\""),
        "{waits}"
    );
    app.planning().remove(&id);
    let shown = page();
    assert!(shown.contains("The steps in time") && !shown.contains("being planned"));
    assert!(app.planning().is_empty());
}

#[test]
fn a_day_that_cannot_be_links_to_the_field_of_the_step_that_makes_it_so() {
    let (app, id) = day();
    let long = "Baked Custard\n\n500 g milk\n4 eggs\n80 g sugar\n\n1. Whisk. Leave to stand for 5 hours.\n2. Bake at 150 °C for 40 minutes.\n";
    let (sheet, summary) = (Sheet::new(long, Locale::Metric), Summary::default());
    let recipe = app
        .kitchen
        .add_recipe("long", long, &sheet, &summary, "Ines", 0)
        .expect("a recipe");
    let row = app.kitchen.day(id).expect("the day");
    let mut day = row.day.clone();
    day.recipes[0].recipe = "long".to_owned();
    app.kitchen.put_day(id, row.rev, &day, 1).expect("kept");
    let page = done(show(Held(Arc::clone(&app)), Path(id), RawQuery(None))).2;
    let link = format!("/recipe/{recipe}/plan#step-_rest-least");
    assert!(page.contains(&link), "{page}");
    // Of a version, the draft's Plan page would change nothing of the day.
    let figures = serde_json::json!({});
    app.kitchen
        .save_version(recipe, 1, "Ines", "first", &figures, "p", 1)
        .expect("a version");
    let row = app.kitchen.day(id).expect("the day");
    day.recipes[0].version = Some(1);
    app.kitchen.put_day(id, row.rev, &day, 2).expect("kept");
    let page = done(show(Held(Arc::clone(&app)), Path(id), RawQuery(None))).2;
    assert!(page.contains(&format!("/recipe/{recipe}/versions#v1")));
    assert!(!page.contains(&format!("/recipe/{recipe}/plan")), "{page}");
}
