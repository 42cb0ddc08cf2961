//! The time of a bake in another tin, oven or by the baker's own method: one, wherever it is told.

use super::terse::LAYERS;
use super::{at, of, sheet};
use larder::Larder;
use quantity::Time;
use recipe::heat::{Estimate, Place};
use recipe::plan::{OwnStep, Span, Tasks, tasks};
use recipe::sheet::{Sheet, Worked, work};
use recipe::size::{Pans, Target};

fn in_pan(pan: &str) -> Sheet {
    let mut sheet = sheet(LAYERS);
    let pans = Pans {
        pan: pan.to_owned(),
        count: 3,
        fill: None,
        full: false,
        water: None,
    };
    sheet.size = Some(Target::Pan(pans).into());
    sheet
}

/// The minutes of a bake are those of the method's tin: who sizes for another is told so.
#[test]
fn a_bake_in_another_tin_has_the_minutes_of_the_recipes_own() {
    let told = |sheet: &Sheet| {
        let t = of(sheet, 1.0);
        let bake = &t.list[at(&t, "cake:bake")];
        bake.notes.iter().any(|n| n.contains("another tin"))
    };
    assert!(told(&in_pan("9x2 in round tin")));
    assert!(!told(&in_pan("8x2 in round tin")));
    assert!(!told(&sheet(LAYERS)));
}

fn heated(sheet: &Sheet) -> (Worked, Estimate, Tasks) {
    let larder = Larder::built_in().expect("the built-in tables");
    let w = work(sheet, &[], &larder, &[]).expect("a recipe");
    let w = w.with_heat(sheet, &larder, Place::default(), &[]);
    let e = w.bake.clone().expect("an estimate");
    let t = tasks(&w, sheet, 1.0);
    (w, e, t)
}

fn wait(t: &Tasks) -> Span {
    t.list[at(t, "cake:bake")].wait.expect("a wait").span
}

fn minutes(t: Time) -> f64 {
    t.as_minutes().round()
}

/// Plan went to the upper middle of what Heat said, and the note on Rework kept the recipe's tin: one range now.
#[test]
fn a_bake_in_another_tin_takes_the_time_of_heat() {
    let mut s = in_pan("9x2 in round tin");
    let (w, e, t) = heated(&s);
    let (low, high) = (minutes(e.time.low()), minutes(e.time.high()));
    let bake = &t.list[at(&t, "cake:bake")];
    assert_eq!((wait(&t).least, wait(&t).most), (low, high));
    assert!(bake.notes.iter().any(|n| n.contains("check with a probe")));
    assert!(!bake.notes.iter().any(|n| n.contains("another tin")));
    let cake = &w.rework.components[0];
    let mut notes = cake.method_notes.iter();
    let note = notes.find(|n| n.rule == "bake longer").expect("a note");
    let range = format!("{low}–{high} minutes");
    assert!(
        note.text.starts_with("Step 4 bakes for 26–30 minutes at ")
            && note.text.contains(&format!("allow {range} at "))
            && note.text.contains("by the Heat page")
            && !note.text.contains("10–25 %"),
        "{}",
        note.text
    );
    let change = cake.changes.iter().find(|c| c.what == "oven");
    let change = change.expect("the oven's change");
    assert!(change.to.ends_with(&range), "{change:?}");
    // What the baker put in on the plan stands.
    let mut own = OwnStep::new(bake.key.clone());
    (own.least, own.most) = (Some(31.0), Some(31.0));
    s.steps.push(own);
    let (_, _, t) = heated(&s);
    assert_eq!((wait(&t).least, wait(&t).most), (31.0, 31.0));
}

/// An oven that is typed on Heat is that of the note and of the plan.
#[test]
fn another_oven_is_told_with_its_time() {
    let mut s = sheet(LAYERS);
    s.heat.insert("oven".to_owned(), "325 F".to_owned());
    let (w, e, t) = heated(&s);
    let notes = w.rework.components.iter().flat_map(|c| &c.method_notes);
    let note = notes.into_iter().find(|n| n.rule == "bake longer");
    let note = note.expect("a note");
    let (low, high) = (minutes(e.time.low()), minutes(e.time.high()));
    assert!(
        note.text
            .contains(&format!("{low}–{high} minutes at 160 °C / 325 °F, by the")),
        "{}",
        note.text
    );
    assert_eq!((wait(&t).least, wait(&t).most), (low, high));
}

/// Minutes of the baker's own method are chosen for what the batch is sized for: they stand. Where that method
/// names another tin, they are not of this one.
#[test]
fn minutes_of_the_bakers_own_method_stand() {
    let mut s = in_pan("9x2 in round tin");
    s.method = Some("Cream butter and sugar, beat in eggs, flour and buttermilk.\nBake 40 to 50 minutes at 350 F.".to_owned());
    let (w, e, t) = heated(&s);
    let own = e.own.expect("own minutes");
    assert_eq!((minutes(own.low()), minutes(own.high())), (40.0, 50.0));
    assert_eq!((wait(&t).least, wait(&t).most), (40.0, 50.0));
    let bake = &t.list[at(&t, "cake:bake")];
    let told = bake.notes.iter().any(|n| {
        n.starts_with("The minutes are your method’s own; about ") && n.contains("by the Heat page")
    });
    assert!(told, "{:?}", bake.notes);
    let notes = w.rework.components.iter().flat_map(|c| &c.method_notes);
    let mut notes = notes.filter(|n| n.rule == "bake longer");
    assert!(notes.any(|n| n.text.ends_with("Your own method’s 40–50 minutes stand.")));
    for (pan, stands) in [("9-inch", true), ("8-inch", false)] {
        let method = format!("Mix all.\nBake 40 to 50 minutes at 350 F in three {pan} round pans.");
        s.method = Some(method);
        let (_, e, t) = heated(&s);
        assert_eq!(e.own.is_some(), stands, "{pan}");
        assert_eq!(wait(&t).most == 50.0, stands, "{pan}");
    }
}

const MUFFINS: &str = "Pear muffins\n\nMakes 12 muffins\n\n270 g plain flour\n200 g sugar\n2½ tsp baking powder\n2 eggs\n180 ml buttermilk\n115 g butter, melted\n150 g pears, diced\n\nMethod\n1. Heat the oven to 400 F. Line a 12-cup muffin tin with papers.\n2. Whisk all but the pears and fold those in. Divide among the cups.\n3. Bake 5 minutes, then lower the oven to 375 F and bake 17 to 20 minutes more.\n";

/// Two ovens one after another are one bake: in a loaf tin its start stays, the rest takes what Heat adds. Plan, Bench
/// and card had kept the muffins' minutes. The sums are by hand: of what Heat says in all, 5 minutes are the start.
#[test]
fn a_bake_in_two_ovens_takes_the_time_of_heat() {
    let mut s = sheet(MUFFINS);
    let pans = Pans {
        pan: "loaf 9x5".to_owned(),
        count: 1,
        fill: None,
        full: false,
        water: None,
    };
    s.size = Some(Target::Pan(pans).into());
    let (w, e, t) = heated(&s);
    let bakes: Vec<_> = t.list.iter().filter(|t| t.what == "bake").collect();
    let waits: Vec<_> = bakes.iter().map(|b| b.wait.expect("a wait")).collect();
    assert_eq!(waits.len(), 2, "{bakes:?}");
    assert_eq!((waits[0].span.least, waits[0].span.most), (5.0, 5.0));
    assert_eq!(waits[0].oven.map(f64::round), Some(200.0));
    let (low, high) = (minutes(e.time.low()), minutes(e.time.high()));
    assert!(low > 40.0, "{e:?}");
    assert!((waits[1].span.least + 5.0 - low).abs() <= 1.0);
    assert!((waits[1].span.most + 5.0 - high).abs() <= 1.0);
    assert!(
        bakes[1]
            .notes
            .iter()
            .any(|n| n.contains("for the whole bake"))
    );
    let mut notes = w.rework.components.iter().flat_map(|c| &c.method_notes);
    let note = notes.find(|n| n.rule == "bake longer").expect("a note");
    let (rest, most) = (waits[1].span.least, waits[1].span.most);
    assert!(
        note.text
            .contains(&format!("allow {low}–{high} minutes in all, 5 minutes at "))
            && note
                .text
                .contains(&format!("then {rest}–{most} minutes at "))
            && note.text.contains("by the Heat page"),
        "{}",
        note.text
    );
    // One oven that is chosen for it all bakes it in one.
    s.heat.insert("oven".to_owned(), "350 F".to_owned());
    let (w, e, t) = heated(&s);
    let bakes = t.list.iter().filter(|t| t.what == "bake");
    let most: f64 = bakes.map(|b| b.wait.expect("a wait").span.most).sum();
    assert!((most - minutes(e.time.high())).abs() <= 1.0, "{most}");
    let (low, high) = (minutes(e.time.low()), minutes(e.time.high()));
    let mut notes = w.rework.components.iter().flat_map(|c| &c.method_notes);
    let note = notes.find(|n| n.rule == "bake longer").expect("a note");
    let said = format!("allow {low}–{high} minutes at 180 °C / 350 °F, by the");
    assert!(note.text.contains(&said), "{}", note.text);
}
