//! Drafts: revs, undo, redo, joined changes, versions.

mod common;

use common::{BUNS, add, part, put, put_sheet, save, sheet, summarise};
use recipe::rework::Hold;
use recipe::sheet::Pin;
use store::{Kitchen, StoreError, Way};

#[test]
fn a_draft_moves_and_says_so() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    let first = kitchen.draft(id).expect("a draft");
    assert_eq!((first.rev, first.saved_as, first.undo), (1, None, None));
    let rev = put(&kitchen, id, 1, "Seed buns\n400 g flour", "text", false);
    assert_eq!(rev, 2);
    let other = sheet("Other");
    let moved = kitchen.put_draft(id, 1, &other, "w", "text", false, &summarise(&other), 201);
    assert_eq!(moved, Err(StoreError::Moved { now: 2 }));
    assert_eq!(
        kitchen.save_version(id, 1, "Maud", "", &serde_json::json!({}), "p", 9),
        Err(StoreError::Moved { now: 2 })
    );
    let old = kitchen.sheet_at(id, 1).expect("read").expect("kept");
    assert_eq!(old.text, BUNS);
    assert_eq!(kitchen.sheet_at(id, 99), Ok(None));
    assert_eq!(kitchen.original(id).as_deref(), Ok(BUNS));
    assert!(matches!(kitchen.draft(77), Err(StoreError::Missing { .. })));
}

#[test]
fn the_same_sheet_is_no_change() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    assert_eq!(put(&kitchen, id, 1, BUNS, "text", false), 1);
    assert_eq!(kitchen.draft(id).expect("a draft").undo, None);
}

#[test]
fn undo_and_redo_walk_the_steps() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    put(&kitchen, id, 1, "A", "text", false);
    put(&kitchen, id, 2, "B", "title", false);
    let d = kitchen.draft(id).expect("a draft");
    assert_eq!(
        (d.undo.as_deref(), d.redo.as_deref()),
        (Some("change B"), None)
    );
    assert_eq!(kitchen.walk(id, 3, Way::Undo, summarise, 210), Ok(4));
    let d = kitchen.draft(id).expect("a draft");
    assert_eq!(d.sheet.text, "A");
    assert_eq!(
        (d.undo.as_deref(), d.redo.as_deref()),
        (Some("change A"), Some("change B"))
    );
    assert_eq!(kitchen.row(id).expect("a row").title, "A");
    assert_eq!(kitchen.walk(id, 4, Way::Redo, summarise, 211), Ok(5));
    assert_eq!(
        kitchen.walk(id, 5, Way::Redo, summarise, 212),
        Err(StoreError::Nothing)
    );
    kitchen
        .walk(id, 5, Way::Undo, summarise, 213)
        .expect("undo");
    kitchen
        .walk(id, 6, Way::Undo, summarise, 214)
        .expect("undo");
    assert_eq!(
        kitchen.walk(id, 7, Way::Undo, summarise, 215),
        Err(StoreError::Nothing)
    );
    assert_eq!(kitchen.draft(id).expect("a draft").sheet.text, BUNS);
    // A new change ends what could be done again.
    put(&kitchen, id, 7, "C", "text", false);
    let d = kitchen.draft(id).expect("a draft");
    assert_eq!((d.redo, d.sheet.text.as_str()), (None, "C"));
    assert_eq!(
        kitchen.walk(id, 1, Way::Undo, summarise, 216),
        Err(StoreError::Moved { now: 8 })
    );
}

#[test]
fn typing_joins_in_one_field_only() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    put(&kitchen, id, 1, "a", "text", true);
    put(&kitchen, id, 2, "ab", "text", true);
    put(&kitchen, id, 3, "abc", "text", true);
    put(&kitchen, id, 4, "abcd", "title", true);
    put(&kitchen, id, 5, "abcde", "title", false);
    assert_eq!(kitchen.walk(id, 6, Way::Undo, summarise, 1), Ok(7));
    assert_eq!(kitchen.draft(id).expect("a draft").sheet.text, "abcd");
    kitchen.walk(id, 7, Way::Undo, summarise, 1).expect("undo");
    assert_eq!(kitchen.draft(id).expect("a draft").sheet.text, "abc");
    // After an undo nothing joins.
    put(&kitchen, id, 8, "abcx", "text", true);
    kitchen.walk(id, 9, Way::Undo, summarise, 1).expect("undo");
    assert_eq!(kitchen.draft(id).expect("a draft").sheet.text, "abc");
    kitchen.walk(id, 10, Way::Undo, summarise, 1).expect("undo");
    assert_eq!(kitchen.draft(id).expect("a draft").sheet.text, BUNS);
    // Typed back to what it was: there is nothing to undo.
    put(&kitchen, id, 11, "n", "text", false);
    put(&kitchen, id, 12, BUNS, "text", true);
    assert_eq!(kitchen.draft(id).expect("a draft").undo, None);
    // What a rev showed stays known when steps were joined.
    assert_eq!(
        kitchen.sheet_at(id, 3).expect("read").expect("kept").text,
        "ab"
    );
}

/// Half a figure, typed before a save and after it, is dropped whole; what another window changed stays.
#[test]
fn what_is_typed_is_dropped_down_to_where_it_began() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    let drop = |rev, text: &str| {
        let to = sheet(text);
        kitchen.drop_typed(id, rev, "text", &to, &summarise(&to), 1)
    };
    put(&kitchen, id, 1, "a", "text", false);
    put(&kitchen, id, 2, "b", "text", false);
    save(&kitchen, id, "half");
    put(&kitchen, id, 3, "bc", "text", true);
    assert_eq!(drop(3, "a"), Err(StoreError::Moved { now: 4 }));
    assert_eq!(drop(4, "a"), Ok(Some(5)));
    let d = kitchen.draft(id).expect("a draft");
    assert_eq!((d.sheet.text.as_str(), d.redo), ("a", None));
    assert_eq!(d.undo.as_deref(), Some("change a"));
    put(&kitchen, id, 5, "ab", "text", false);
    put(&kitchen, id, 6, "abz", "title", false);
    assert_eq!(drop(7, "a"), Ok(None));
    assert_eq!(kitchen.draft(id).expect("a draft").sheet.text, "abz");
}

#[test]
fn typing_does_not_join_across_a_save() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    put(&kitchen, id, 1, "a", "text", true);
    assert_eq!(save(&kitchen, id, "first"), 1);
    put(&kitchen, id, 2, "ab", "text", true);
    let d = kitchen.draft(id).expect("a draft");
    assert_eq!((d.saved_as, d.based_on), (None, Some(1)));
    assert!(kitchen.row(id).expect("a row").unsaved);
    kitchen.walk(id, 3, Way::Undo, summarise, 1).expect("undo");
    let d = kitchen.draft(id).expect("a draft");
    assert_eq!((d.saved_as, d.based_on), (Some(1), Some(1)));
    assert!(!kitchen.row(id).expect("a row").unsaved);
    // Undo goes on past the save.
    kitchen.walk(id, 4, Way::Undo, summarise, 1).expect("undo");
    let d = kitchen.draft(id).expect("a draft");
    assert_eq!(
        (d.sheet.text.as_str(), d.saved_as, d.based_on),
        (BUNS, None, Some(1))
    );
}

#[test]
fn two_hundred_steps_and_revs() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    for n in 1..=250 {
        put(&kitchen, id, n, &format!("text {n}"), "text", false);
    }
    assert_eq!(kitchen.sheet_at(id, 51), Ok(None));
    assert!(kitchen.sheet_at(id, 52).expect("read").is_some());
    let mut undone = 0;
    let mut rev = 251;
    while let Ok(next) = kitchen.walk(id, rev, Way::Undo, summarise, 1) {
        rev = next;
        undone += 1;
    }
    assert_eq!(undone, 200);
    assert_eq!(kitchen.draft(id).expect("a draft").sheet.text, "text 50");
    // What fell off is dropped: the first 49 texts.
    assert_eq!(kitchen.tidy(), Ok(49));
    assert_eq!(kitchen.tidy(), Ok(0));
    assert_eq!(kitchen.check(), Ok(()));
}

#[test]
fn versions_hold_sheet_and_figures() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    let mut pinned = sheet(BUNS);
    pinned.pins.push(Pin {
        component: String::new(),
        line: "psyllium".to_owned(),
        hold: Hold::Grams(0.1 + 0.2),
    });
    for (line, hold) in [
        ("binder", Hold::None),
        (
            "egg",
            Hold::Count {
                number: 2.0,
                of: "eggs".to_owned(),
            },
        ),
        ("hydration", Hold::Percent(85.5)),
    ] {
        pinned.pins.push(Pin {
            component: "dough".to_owned(),
            line: line.to_owned(),
            hold,
        });
    }
    assert_eq!(save(&kitchen, id, "as pasted"), 1);
    put_sheet(&kitchen, id, 1, &pinned, "pin", false);
    assert_eq!(save(&kitchen, id, "held"), 2);
    let all = kitchen.versions(id).expect("versions");
    assert_eq!(all.iter().map(|v| v.number).collect::<Vec<_>>(), [2, 1]);
    let two = kitchen.version(id, 2).expect("a version");
    assert_eq!(two.sheet, pinned);
    assert_eq!(two.figures["why"], "held");
    assert_eq!(
        (two.who.as_str(), two.at, two.program.as_str()),
        ("Maud", 300, "unwheat 0.1.0")
    );
    assert_eq!(kitchen.row(id).expect("a row").versions, 2);
    assert!(matches!(
        kitchen.version(id, 3),
        Err(StoreError::Missing { .. })
    ));
    pinned.pins[0].hold = Hold::Percent(f64::NAN);
    let bad = kitchen.put_draft(id, 2, &pinned, "", "pin", false, &summarise(&pinned), 1);
    assert!(matches!(bad, Err(StoreError::Bad(_))));
}

#[test]
fn shared_components_are_known_both_ways() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let starter = add(&kitchen, "starter", "Starter\n100 g rice flour");
    let buns = add(&kitchen, "buns", BUNS);
    assert_eq!(kitchen.newest("starter"), Ok(None));
    save(&kitchen, starter, "first");
    assert_eq!(
        kitchen.newest("starter"),
        Ok(Some((starter, 1, "Starter".to_owned())))
    );
    let mut with = sheet(BUNS);
    with.parts.push(part("starter", 1));
    put_sheet(&kitchen, buns, 1, &with, "parts", false);
    let users = vec![(buns, "Seed buns".to_owned(), 1)];
    assert_eq!(kitchen.uses_of("starter"), Ok(users.clone()));
    assert_eq!(kitchen.row(starter).expect("a row").used_in, 1);
    // The newest version goes on using it when the draft does not.
    save(&kitchen, buns, "with starter");
    kitchen
        .walk(buns, 2, Way::Undo, summarise, 1)
        .expect("undo");
    assert_eq!(kitchen.uses_of("starter"), Ok(users));
    save(&kitchen, buns, "without");
    assert_eq!(kitchen.uses_of("starter"), Ok(Vec::new()));
    let part = kitchen
        .part_sheet("starter", 1)
        .expect("read")
        .expect("kept");
    assert!(part.text.starts_with("Starter"));
    assert_eq!(kitchen.part_sheet("starter", 2), Ok(None));
    assert_eq!(kitchen.part_sheet("nothing", 1), Ok(None));
}

#[test]
fn long_figures_come_back_whole() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    let figures = |n: u32| {
        let lines: Vec<_> = (0..300)
            .map(|line| serde_json::json!({"line": line, "grams": f64::from(line * n) / 7.0}))
            .collect();
        serde_json::json!({"lines": lines, "method": "Knead. ".repeat(100)})
    };
    for n in 1..=30 {
        let rev = put(
            &kitchen,
            id,
            u64::from(n),
            &format!("Buns {n}"),
            "text",
            false,
        );
        // Some of them are quite others.
        let other = serde_json::json!(vec![n; 4000]);
        let figures = if n % 7 == 0 { other } else { figures(n) };
        kitchen
            .save_version(id, rev, "Maud", "", &figures, "p", 1)
            .expect("saved");
        assert_eq!(kitchen.version(id, n).expect("a version").figures, figures);
    }
    assert_eq!(
        kitchen.version(id, 2).expect("a version").figures,
        figures(2)
    );
    assert_eq!(kitchen.tidy(), Ok(0));
    assert_eq!(
        kitchen.version(id, 30).expect("a version").figures,
        figures(30)
    );
}
