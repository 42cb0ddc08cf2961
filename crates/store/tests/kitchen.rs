//! Larder entries, blends, batches, backups.

mod common;

use common::{BUNS, add, note, old_schema, put, save};
use larder::{Evidence, EvidenceKind, OwnEntry};
use serde_json::json;
use store::{Kitchen, Later, Mark, OwnBlend, StoreError, Timer, backups, prune_backups};
use tempfile::tempdir;

fn entry(ppm: f64) -> OwnEntry {
    OwnEntry {
        key: "own_teff".to_owned(),
        name: Some("Brown teff".to_owned()),
        gluten: Some(Evidence {
            kind: EvidenceKind::Test { ppm },
            date: "2026-11-25".to_owned(),
            note: "lot 7".to_owned(),
        }),
        ..OwnEntry::default()
    }
}

fn blend(name: &str) -> OwnBlend {
    OwnBlend {
        key: "own_white".to_owned(),
        name: name.to_owned(),
        parts: vec![("rice_flour".to_owned(), 0.6), ("tapioca".to_owned(), 0.4)],
        ..OwnBlend::default()
    }
}

#[test]
fn every_change_of_an_entry_is_kept() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    assert_eq!(kitchen.larder_rev(), Ok(0));
    kitchen
        .put_own(&entry(5.0), "Maud", "new bag", 1)
        .expect("kept");
    kitchen
        .put_own(&entry(8.0), "Ivo", "new lot", 2)
        .expect("kept");
    assert_eq!(kitchen.own_entries(), Ok(vec![entry(8.0)]));
    assert_eq!(kitchen.larder_rev(), Ok(2));
    kitchen
        .drop_own("own_teff", "Maud", "used up", 3)
        .expect("dropped");
    assert_eq!(kitchen.own_entries(), Ok(Vec::new()));
    assert_eq!(kitchen.larder_rev(), Ok(3));
    let again = kitchen.drop_own("own_teff", "Maud", "", 4);
    assert!(matches!(again, Err(StoreError::Missing { .. })));
    let history = kitchen.own_history("own_teff").expect("history");
    let entries: Vec<_> = history.into_iter().map(|c| (c.why, c.entry)).collect();
    assert_eq!(
        entries,
        [
            ("used up".to_owned(), None),
            ("new lot".to_owned(), Some(entry(8.0))),
            ("new bag".to_owned(), Some(entry(5.0))),
        ]
    );
    let none = kitchen.put_own(&OwnEntry::default(), "Maud", "", 5);
    assert!(matches!(none, Err(StoreError::Bad(_))));
}

#[test]
fn blends_have_versions_and_a_bin() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    assert_eq!(
        kitchen.put_blend(&blend("White"), "Maud", "first", 1),
        Ok(1)
    );
    assert_eq!(
        kitchen.put_blend(&blend("Whiter"), "Maud", "more starch", 2),
        Ok(2)
    );
    let now = kitchen.blends(false).expect("blends");
    assert_eq!(
        (now.len(), now[0].version, now[0].blend.name.as_str()),
        (1, 2, "Whiter")
    );
    assert_eq!(
        kitchen.blend_history("own_white").expect("history").len(),
        2
    );
    kitchen.bin_blend("own_white", 3).expect("binned");
    assert_eq!(kitchen.blends(false), Ok(Vec::new()));
    assert_eq!(kitchen.blends(true).expect("the bin").len(), 1);
    kitchen.unbin_blend("own_white", 4).expect("back");
    assert_eq!(kitchen.blends(true), Ok(Vec::new()));
    assert_eq!(kitchen.larder_rev(), Ok(4));
    let mut bad = blend("Bad");
    bad.parts[0].1 = f64::INFINITY;
    assert!(matches!(
        kitchen.put_blend(&bad, "", "", 1),
        Err(StoreError::Bad(_))
    ));
    bad.key = "white".to_owned();
    assert!(matches!(
        kitchen.put_blend(&bad, "", "", 1),
        Err(StoreError::Bad(_))
    ));
    assert!(kitchen.bin_blend("own_none", 1).is_err());
}

#[test]
fn of_two_devices_the_later_wins_in_each_field() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    let batch = kitchen.start_batch(id, None, 2.0, &json!([{"item": "flour"}]), "Maud", 10);
    let batch = batch.expect("a batch");
    let mark = |ticked, actual, at| kitchen.mark(batch, "flour", ticked, actual, at);
    mark(Some(true), None, 5_000).expect("marked");
    mark(None, Some(Some(501.5)), 4_000).expect("marked");
    // Late words of the other device.
    mark(Some(false), Some(Some(499.0)), 4_500).expect("marked");
    let marks = kitchen.batch(batch).expect("the batch").marks;
    let want = Mark {
        item: "flour".to_owned(),
        ticked: true,
        actual: Some(499.0),
        at: 5_000,
    };
    assert_eq!(marks, [want]);
    mark(None, Some(None), 4_400).expect("marked");
    mark(Some(false), None, 6_000).expect("marked");
    let now = kitchen.batch(batch).expect("the batch").marks.remove(0);
    assert_eq!(
        (now.ticked, now.actual, now.at),
        (false, Some(499.0), 6_000)
    );
    mark(None, Some(None), 6_001).expect("marked");
    assert_eq!(
        kitchen.batch(batch).expect("the batch").marks[0].actual,
        None
    );
    assert!(matches!(
        mark(None, Some(Some(f64::NAN)), 7_000),
        Err(StoreError::Bad(_))
    ));
}

#[test]
fn a_batch_from_start_to_record() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    save(&kitchen, id, "first");
    let plan = json!({"lines": [1, 2]});
    let missing = kitchen.start_batch(id, Some(2), 1.0, &plan, "Maud", 1);
    assert!(matches!(missing, Err(StoreError::Missing { .. })));
    assert!(
        kitchen
            .start_batch(99, None, 1.0, &plan, "Maud", 1)
            .is_err()
    );
    assert!(
        kitchen
            .start_batch(id, None, 0.0, &plan, "Maud", 1)
            .is_err()
    );
    let batch = kitchen
        .start_batch(id, Some(1), 1.5, &plan, "Maud", 10)
        .expect("a batch");
    let mut timer = Timer {
        uid: "rise".to_owned(),
        label: "First rise".to_owned(),
        seconds: 3600.0,
        ends: Some(99_000),
        left: None,
        done: false,
    };
    kitchen.put_timer(batch, &timer).expect("a timer");
    timer.ends = None;
    timer.left = Some(12.5);
    kitchen.put_timer(batch, &timer).expect("held");
    let early = kitchen.add_later(batch, &note(11, "Too soon."));
    assert!(matches!(early, Err(StoreError::Bad(_))), "{early:?}");
    let open = kitchen.open_batches().expect("batches");
    assert_eq!(
        (open.len(), open[0].title.as_str(), &open[0].plan),
        (1, "Seed buns", &plan)
    );
    assert_eq!(open[0].timers, [timer.clone()]);
    // A later title does not touch it.
    put(&kitchen, id, 1, "Other buns", "text", false);
    kitchen.drop_timer(batch, "rise").expect("dropped");
    kitchen.drop_timer(batch, "rise").expect("gone already");
    let bake = json!({"loss": 0.11});
    kitchen.finish_batch(batch, &bake, 20).expect("finished");
    assert_eq!(
        kitchen.finish_batch(batch, &bake, 21),
        Err(StoreError::Finished)
    );
    assert_eq!(
        kitchen.mark(batch, "x", Some(true), None, 1),
        Err(StoreError::Finished)
    );
    assert_eq!(kitchen.put_timer(batch, &timer), Err(StoreError::Finished));
    // Its record stays; more can be added beside it.
    let notes = [
        note(30, "Dry at the edge on day 2."),
        note(90_000, "Froze well."),
    ];
    for n in &notes {
        kitchen.add_later(batch, n).expect("added");
    }
    assert_eq!(kitchen.open_batches(), Ok(Vec::new()));
    let of = kitchen.batches_of(id).expect("batches");
    assert_eq!(
        (of[0].finished, of[0].bake.as_ref(), of[0].title.as_str()),
        (Some(20), Some(&bake), "Seed buns")
    );
    assert_eq!(of[0].later, notes);
    assert!(matches!(kitchen.batch(99), Err(StoreError::Missing { .. })));
}

#[test]
fn a_batch_finished_by_mistake_is_taken_out_of_the_records_and_comes_back() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let recipe = add(&kitchen, "buns", BUNS);
    let batch = kitchen
        .start_batch(recipe, None, 1.0, &json!({}), "Bram", 10)
        .expect("a batch");
    kitchen
        .mark(batch, "flour", Some(true), Some(Some(501.0)), 11)
        .expect("weighed");
    kitchen
        .finish_batch(batch, &json!({"loss": 0.11}), 20)
        .expect("finished");
    let before = kitchen.batch(batch).expect("the batch");
    let records = || {
        let all = kitchen.records_of(recipe).expect("records");
        all.iter().filter(|r| r.counts).count()
    };
    assert_eq!((records(), before.counts()), (1, true));
    for (at, says, want) in [
        (30, false, 0),
        (31, false, 0),
        (32, true, 1),
        (33, false, 0),
    ] {
        let word = Later {
            counts: Some(says),
            ..note(at, "Finished by mistake, or not.")
        };
        kitchen.add_later(batch, &word).expect("added");
        let now = kitchen.batch(batch).expect("the batch");
        assert_eq!((records(), now.counts()), (want, says), "{at}");
        assert_eq!(
            (now.bake, now.marks),
            (before.bake.clone(), before.marks.clone())
        );
    }
    // Said twice it stands once.
    assert_eq!(kitchen.batch(batch).expect("the batch").later.len(), 3);
}

#[test]
fn a_later_note_has_words_and_is_kept_once() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    let batch = kitchen.start_batch(id, None, 1.0, &json!([]), "Maud", 10);
    let batch = batch.expect("a batch");
    kitchen
        .finish_batch(batch, &json!({}), 20)
        .expect("finished");
    let empty = kitchen.add_later(batch, &note(30, " \n"));
    assert!(matches!(empty, Err(StoreError::Bad(_))), "{empty:?}");
    let missing = kitchen.add_later(99, &note(30, "Good."));
    assert!(matches!(missing, Err(StoreError::Missing { .. })));
    // A form sent twice; the same words a day later are meant.
    for at in [30, 31, 86_430] {
        kitchen.add_later(batch, &note(at, "Good.")).expect("added");
    }
    let later = kitchen.batch(batch).expect("the batch").later;
    assert_eq!(later, [note(30, "Good."), note(86_430, "Good.")]);
}

#[test]
fn a_kitchen_goes_back_to_its_backup_while_it_is_open() {
    let folder = tempdir().expect("a folder");
    let kitchen = Kitchen::open(&folder.path().join("kitchen")).expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    let file = folder.path().join("kitchen-2026-11-01.db");
    kitchen.backup_to(&file).expect("a backup");
    put(&kitchen, id, 1, "Typed since", "text", false);
    add(&kitchen, "loaf", BUNS);
    let query = store::Query {
        limit: 9,
        ..store::Query::default()
    };
    let texts = || {
        let all = kitchen.list(&query).expect("a list").rows;
        let text = kitchen.draft(id).expect("a draft").sheet.text;
        (all.len(), text)
    };
    assert_eq!(texts(), (2, "Typed since".to_owned()));
    kitchen.restore(&file).expect("restored");
    assert_eq!(texts(), (1, BUNS.to_owned()));
    kitchen.check().expect("sound");
    // It is written on from there, by another connection too, and is still a file with a log.
    add(&kitchen, "rye", BUNS);
    let other = Kitchen::open(&folder.path().join("kitchen")).expect("opens beside");
    assert_eq!(other.list(&query).expect("a list").rows.len(), 2);
    // What is no kitchen, or none any more, changes nothing.
    let bad = folder.path().join("kitchen-bad.db");
    std::fs::write(&bad, "not a kitchen").expect("written");
    assert!(matches!(kitchen.restore(&bad), Err(StoreError::Damaged(_))));
    std::fs::write(&bad, "").expect("written");
    assert!(matches!(kitchen.restore(&bad), Err(StoreError::Damaged(_))));
    let gone = kitchen.restore(&folder.path().join("kitchen-gone.db"));
    assert!(matches!(gone, Err(StoreError::Folder { .. })));
    assert_eq!(texts().0, 2);
}

#[test]
fn a_backup_that_cannot_be_brought_up_to_date_leaves_the_kitchen_as_it_was() {
    let folder = tempdir().expect("a folder");
    let kitchen = Kitchen::open(&folder.path().join("kitchen")).expect("a kitchen");
    add(&kitchen, "buns", BUNS);
    let bad = folder.path().join("kitchen-old.db");
    let db = rusqlite::Connection::open(&bad).expect("a file");
    db.execute_batch(&old_schema(5)).expect("an old kitchen");
    // What schema 6 makes is there already, and is something else.
    db.execute_batch("CREATE TABLE day (id INTEGER)")
        .expect("a table");
    db.close().expect("closed");
    let state = kitchen.state();
    kitchen.restore(&bad).expect_err("it cannot be used");
    assert_eq!(kitchen.state(), state);
    let row = kitchen.list(&store::Query {
        limit: 9,
        ..store::Query::default()
    });
    assert_eq!(row.expect("a list").rows.len(), 1);
    kitchen.check().expect("sound");
    add(&kitchen, "rye", BUNS);
}

#[test]
fn a_kitchen_that_went_back_is_in_another_state() {
    let folder = tempdir().expect("a folder");
    let place = folder.path().join("kitchen");
    let kitchen = Kitchen::open(&place).expect("a kitchen");
    let first = kitchen.state();
    let file = folder.path().join("kitchen-1.db");
    kitchen.backup_to(&file).expect("a backup");
    add(&kitchen, "buns", BUNS);
    assert_eq!(kitchen.state(), first, "writing is no other state");
    kitchen.restore(&file).expect("restored");
    let second = kitchen.state();
    assert_ne!(second, first);
    drop(kitchen);
    let kitchen = Kitchen::open(&place).expect("a kitchen");
    assert_eq!(kitchen.state(), second, "it stays through a restart");
    // The same backup twice is two states: what was done in between is gone.
    kitchen.restore(&file).expect("restored");
    let third = kitchen.state();
    assert!(third != second && third != first);
    // By hand, with unwheat stopped.
    drop(kitchen);
    for end in ["db-wal", "db-shm"] {
        drop(std::fs::remove_file(place.join(format!("kitchen.{end}"))));
    }
    std::fs::copy(&file, place.join("kitchen.db")).expect("copied");
    let by_hand = Kitchen::open(&place).expect("a kitchen").state();
    assert!(by_hand != third && by_hand != first);
}

#[test]
fn a_backup_is_a_kitchen() {
    let folder = tempdir().expect("a folder");
    let kitchen = Kitchen::open(&folder.path().join("kitchen")).expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    put(&kitchen, id, 1, "Half typed", "text", false);
    let batch = kitchen.start_batch(id, None, 1.0, &json!([]), "Maud", 10);
    let batch = batch.expect("a batch");
    kitchen
        .finish_batch(batch, &json!({}), 20)
        .expect("finished");
    kitchen
        .add_later(batch, &note(30, "Dry on day 2."))
        .expect("added");
    let dir = folder.path().join("backups");
    assert_eq!(backups(&dir), Ok(Vec::new()));
    for day in 1..=5 {
        kitchen
            .backup_to(&dir.join(format!("kitchen-2026-11-0{day}.db")))
            .expect("a backup");
    }
    let twice = kitchen.backup_to(&dir.join("kitchen-2026-11-01.db"));
    assert!(matches!(twice, Err(StoreError::Folder { .. })));
    std::fs::write(dir.join("notes.db"), "not ours").expect("written");
    let names: Vec<_> = backups(&dir)
        .expect("a list")
        .into_iter()
        .map(|b| b.name)
        .collect();
    assert_eq!(
        (names.len(), names[0].as_str()),
        (5, "kitchen-2026-11-05.db")
    );
    assert_eq!(prune_backups(&dir, 2), Ok(3));
    assert_eq!(prune_backups(&dir, 0), Ok(1));
    let left = backups(&dir).expect("a list");
    assert_eq!(left[0].name, "kitchen-2026-11-05.db");
    assert!(dir.join("notes.db").exists());
    let other = folder.path().join("other");
    std::fs::create_dir(&other).expect("a folder");
    std::fs::copy(&left[0].path, other.join("kitchen.db")).expect("copied");
    let copy = Kitchen::open(&other).expect("the backup opens");
    assert_eq!(copy.draft(id).expect("a draft").sheet.text, "Half typed");
    assert_eq!(copy.batch(batch), kitchen.batch(batch));
    assert_eq!(copy.batch(batch).expect("the bake").later.len(), 1);
    let memory = Kitchen::in_memory().expect("a kitchen");
    add(&memory, "buns", BUNS);
    memory
        .backup_to(&dir.join("kitchen-memory.db"))
        .expect("a backup");
}
