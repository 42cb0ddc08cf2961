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

fn loaf_tin() -> Pans {
    Pans {
        pan: "loaf 9x5".to_owned(),
        count: 1,
        fill: None,
        full: false,
        water: None,
    }
}

/// Two ovens one after another are one bake: in a loaf tin its start stays, the rest takes what Heat adds. Plan, Bench
/// and card had kept the muffins' minutes. The sums are by hand: of what Heat says in all, 5 minutes are the start.
#[test]
fn a_bake_in_two_ovens_takes_the_time_of_heat() {
    let mut s = sheet(MUFFINS);
    s.size = Some(Target::Pan(loaf_tin()).into());
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

/// The same where the second oven stands in a step of its own: each note has its share, the last what it is in all. The
/// Heat page took the longer of the two for the whole bake.
#[test]
fn two_ovens_in_two_steps_are_one_bake() {
    let cut = "Bake 5 minutes, then lower the oven to 375 F and bake";
    let two = MUFFINS.replace(cut, "Bake 5 minutes.\n4. Lower the oven to 375 F and bake");
    let mut s = sheet(&two);
    s.size = Some(Target::Pan(loaf_tin()).into());
    let (w, e, t) = heated(&s);
    let bakes: Vec<_> = t.list.iter().filter(|t| t.what == "bake").collect();
    let spans: Vec<_> = bakes.iter().map(|b| b.wait.expect("a wait").span).collect();
    let (low, high) = (minutes(e.time.low()), minutes(e.time.high()));
    // The start stays, the rest takes what Heat adds.
    assert_eq!((spans[0].least, spans[0].most), (5.0, 5.0));
    assert!((spans[1].least + 5.0 - low).abs() <= 1.0, "{spans:?} {e:?}");
    assert!((spans[1].most + 5.0 - high).abs() <= 1.0, "{spans:?} {e:?}");
    let notes = w.rework.components.iter().flat_map(|c| &c.method_notes);
    let notes: Vec<_> = notes.filter(|n| n.rule == "bake longer").collect();
    let [first, last] = notes[..] else {
        panic!("{notes:?}")
    };
    assert!(first.text.contains("allow 5 minutes at "), "{}", first.text);
    assert!(!first.text.contains("in all"), "{}", first.text);
    let rest = format!("allow {}–{} minutes at ", spans[1].least, spans[1].most);
    let whole = format!("{low}–{high} minutes in all, by the Heat page");
    assert!(
        last.text.contains(&rest) && last.text.contains(&whole),
        "{}",
        last.text
    );
}

/// By hand: 10 and 30 minutes of an own method for another tin are scaled by what Heat has in all; for this tin they
/// stand, and it is said beside them.
#[test]
fn two_ovens_of_an_own_method_are_scaled_or_told() {
    let of = |tin: &str| {
        let mut s = in_pan("9x2 in round tin");
        s.method = Some(format!(
            "Mix all. Heat the oven to 375 F.\nBake 10 minutes in {tin} round pans.\nLower the oven to 325 F and bake 30 minutes more."
        ));
        let (_, e, t) = heated(&s);
        let bakes = t.list.into_iter().filter(|t| t.what == "bake");
        (e, bakes.collect::<Vec<_>>())
    };
    let span = |t: &recipe::plan::Task| t.wait.expect("a wait").span;
    let (e, bakes) = of("three 9-inch");
    assert_eq!(bakes.len(), 2);
    assert_eq!(e.own.map(|t| minutes(t.likely())), Some(40.0));
    assert_eq!((span(&bakes[0]).most, span(&bakes[1]).most), (10.0, 30.0));
    let told = |t: &recipe::plan::Task| {
        let says = |n: &String| n.starts_with("The minutes are your method’s own; about ");
        t.notes.iter().any(says)
    };
    assert!(told(&bakes[1]), "{:?}", bakes[1].notes);
    let (e, bakes) = of("three 8-inch");
    assert_eq!((bakes.len(), e.own), (2, None));
    let all = span(&bakes[0]).usual + span(&bakes[1]).usual;
    assert!((all - minutes(e.time.likely())).abs() <= 1.0, "{bakes:?}");
}
