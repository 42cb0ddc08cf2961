//! Days: kept, changed, taken back, binned; the serving time of a recipe's own plan.

mod common;

use common::{BUNS, add};
use store::{Day, DayRecipe, HeldStep, Kitchen, StoreError};

fn day(title: &str) -> Day {
    Day {
        title: title.to_owned(),
        recipes: vec![DayRecipe {
            key: "one".to_owned(),
            recipe: "buns".to_owned(),
            version: None,
            times: 1.0,
            serve: None,
        }],
        ..Day::default()
    }
}

fn held(step: &str) -> HeldStep {
    let at = "2026-11-30T09:00".to_owned();
    HeldStep {
        recipe: 0,
        step: step.to_owned(),
        start: at.clone(),
        work_end: at.clone(),
        end: at,
        by: None,
    }
}

#[test]
fn a_change_can_be_taken_back_and_brought_again() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let id = kitchen.add_day("stall", &day("Stall"), 10).expect("a day");
    assert_eq!(kitchen.undo_day(id, 11), Err(StoreError::Nothing));
    // Holding times is no change.
    kitchen
        .hold_day(id, 1, &[held("0:mix")], None)
        .expect("held");
    let row = kitchen.day(id).expect("the day");
    assert_eq!((row.rev, row.undo, row.changed), (1, false, 10));
    let was = row.day.clone();
    assert_eq!(kitchen.put_day(id, 1, &day("Market"), 20), Ok(2));
    assert_eq!(
        kitchen.put_day(id, 1, &day("Fair"), 21),
        Err(StoreError::Moved { now: 2 })
    );
    // Times worked out for what stood before are not held.
    kitchen
        .hold_day(id, 1, &[held("0:bake")], None)
        .expect("passed");
    assert_eq!(kitchen.day(id).expect("the day").day, day("Market"));
    kitchen.undo_day(id, 30).expect("back");
    let row = kitchen.day(id).expect("the day");
    assert_eq!((row.rev, row.changed, &row.day), (3, 30, &was));
    kitchen.undo_day(id, 31).expect("again");
    assert_eq!(kitchen.day(id).expect("the day").day.title, "Market");
    // The same once more is no change.
    assert_eq!(kitchen.put_day(id, 4, &day("Market"), 40), Ok(4));
    assert_eq!(kitchen.check(), Ok(()));
}

#[test]
fn the_bin_loses_nothing() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let one = kitchen.add_day("one", &day("One"), 10).expect("a day");
    let two = kitchen.add_day("two", &day("Two"), 20).expect("a day");
    let ids = |binned| -> Vec<i64> {
        let days = kitchen.days(binned).expect("days");
        days.iter().map(|d| d.id).collect()
    };
    assert_eq!(ids(false), [two, one]);
    kitchen.bin_day(two, 30).expect("binned");
    kitchen.bin_day(two, 40).expect("binned already");
    assert_eq!((ids(false), ids(true)), (vec![one], vec![two]));
    assert_eq!(kitchen.day(two).expect("the day").binned, Some(30));
    kitchen.unbin_day(two).expect("out");
    assert_eq!((ids(false), ids(true)), (vec![two, one], vec![]));
    let missing = [kitchen.bin_day(9, 1), kitchen.unbin_day(9)];
    assert!(
        missing
            .iter()
            .all(|m| matches!(m, Err(StoreError::Missing { .. })))
    );
    assert!(kitchen.add_day("one", &day("Again"), 1).is_err());
}

#[test]
fn what_cannot_be_a_day_is_refused() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    for times in [0.0, -1.0, f64::NAN, 101.0] {
        let mut bad = day("Stall");
        bad.recipes[0].times = times;
        let refused = kitchen.add_day("stall", &bad, 1);
        assert!(matches!(refused, Err(StoreError::Bad(_))), "{times}");
    }
    let mut bad = day("Stall");
    bad.recipes = vec![bad.recipes[0].clone(); 13];
    assert!(kitchen.add_day("stall", &bad, 1).is_err());
}

#[test]
fn a_batch_knows_its_day_and_a_recipe_its_serving_time() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let buns = add(&kitchen, "buns", BUNS);
    let id = kitchen.add_day("stall", &day("Stall"), 1).expect("a day");
    let plan = serde_json::json!([]);
    let start = |at| kitchen.start_batch(buns, None, 1.0, &plan, "Maud", at);
    let (batch, other) = (start(2).expect("a batch"), start(3).expect("a batch"));
    kitchen.put_batch_day(batch, "stall").expect("of the day");
    let of: Vec<i64> = kitchen
        .batches_of_day(id)
        .expect("batches")
        .iter()
        .map(|b| b.id)
        .collect();
    assert_eq!(of, [batch]);
    assert_eq!(kitchen.batch(other).expect("the batch").day, None);
    assert_eq!(kitchen.serving(buns), Ok(None));
    kitchen.put_serving(buns, "2026-11-30T16:00").expect("kept");
    kitchen.put_serving(buns, "").expect("kept");
    assert_eq!(kitchen.serving(buns), Ok(Some(String::new())));
    let missing = kitchen.put_serving(99, "");
    assert!(matches!(missing, Err(StoreError::Missing { .. })));
}
