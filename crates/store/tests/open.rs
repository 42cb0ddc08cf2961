//! Opening a kitchen: old, newer, damaged, after a crash; many threads; what never changes.

mod common;

use common::{BUNS, SCHEMAS, add, note, old_schema, put, save, sheet, summarise};
use rusqlite::Connection;
use std::fs;
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use store::{Day, FormerSettings, Kitchen, Later, Query, Settings, StoreError};
use tempfile::tempdir;

fn write(folder: &Path, sql: &str) {
    let db = Connection::open(folder.join("kitchen.db")).expect("a file");
    db.execute_batch(sql).expect("the fixture");
}

fn words(words: &str) -> Query {
    Query {
        words: words.to_owned(),
        limit: 10,
        ..Query::default()
    }
}

#[test]
fn every_old_schema_opens() {
    for schema in 1..=SCHEMAS.len() {
        let noted = [0, 0, 0, 1, 3][schema - 1];
        let folder = tempdir().expect("a folder");
        write(folder.path(), &old_schema(schema));
        let kitchen = Kitchen::open(folder.path()).expect("an old kitchen opens");
        assert_eq!(kitchen.check(), Ok(()));
        let s = kitchen.settings().expect("settings");
        assert_eq!(
            (s.baker.as_str(), s.scale_step, s.fine_scale_step),
            ("Maud Ferris", 5.0, 0.1)
        );
        let row = kitchen.by_uid("buns").expect("read").expect("the buns");
        assert_eq!(
            (row.title.as_str(), row.versions, row.unsaved),
            ("Crème buns", 1, false)
        );
        assert_eq!(kitchen.list(&words("creme")).expect("a list").total, 1);
        assert_eq!(kitchen.draft(row.id).expect("a draft").rev, 4);
        assert_eq!(
            kitchen.version(row.id, 1).expect("a version").figures["hydration"],
            0.7
        );
        assert_eq!(put(&kitchen, row.id, 4, "Buns", "text", false), 5);
        assert_eq!(save(&kitchen, row.id, "goes on"), 2);
        assert_eq!(kitchen.list(&words("creme")).expect("a list").total, 0);
        // What came with later schemas works.
        let blends = kitchen.blends(false).expect("blends").len();
        let (rev, own) = if schema == 1 { (0, 0) } else { (2, 1) };
        assert_eq!((kitchen.larder_rev(), blends), (Ok(rev), own));
        assert_eq!(kitchen.own_entries().expect("entries").len(), own);
        let plan = serde_json::json!([]);
        let mut batch = kitchen
            .start_batch(row.id, Some(1), 1.0, &plan, "Maud", 1)
            .expect("a batch");
        let record = serde_json::json!({"verdict": "Fine crumb."});
        if schema >= 3 {
            // A bake of then stands as it was.
            batch = 1;
            let bake = kitchen.batch(batch).expect("the bake");
            assert_eq!((bake.bake, bake.finished), (Some(record), Some(150)));
            assert_eq!(
                (bake.marks[0].actual, bake.later.len()),
                (Some(501.0), noted)
            );
        } else {
            kitchen.finish_batch(batch, &record, 2).expect("finished");
        }
        kitchen
            .add_later(batch, &note(160, "Dry on day 2."))
            .expect("added");
        let mistake = Later {
            counts: Some(false),
            ..note(170, "Finished by mistake.")
        };
        kitchen.add_later(batch, &mistake).expect("taken back");
        kitchen
            .start_batch(row.id, Some(1), 1.0, &plan, "Maud", 1)
            .expect("a batch");
        assert_eq!(kitchen.days(false), Ok(Vec::new()));
        assert_eq!(kitchen.batch(batch).expect("the bake").day, None);
        kitchen
            .put_serving(row.id, "2026-11-30T16:00")
            .expect("kept");
        let day = kitchen.add_day("saturday", &Day::default(), 180);
        day.expect("a day");
        // And it opens again.
        drop(kitchen);
        let kitchen = Kitchen::open(folder.path()).expect("it opens again");
        let open = kitchen.open_batches().expect("batches").len();
        assert_eq!(open, if schema >= 3 { 2 } else { 1 });
        let mut later = kitchen.batch(batch).expect("the bake").later;
        if schema >= 4 {
            assert_eq!(later.remove(0).text, "Good toasted.");
            later.drain(..noted - 1);
        }
        assert_eq!(kitchen.days(false).expect("days").len(), 1);
        assert_eq!(later, [note(160, "Dry on day 2."), mistake]);
    }
}

#[test]
fn a_newer_schema_is_refused_and_left_alone() {
    let folder = tempdir().expect("a folder");
    drop(Kitchen::open(folder.path()).expect("a kitchen"));
    let file = folder.path().join("kitchen.db");
    let db = Connection::open(&file).expect("the file");
    let known: i64 = db
        .pragma_query_value(None, "user_version", |row| row.get(0))
        .expect("a number");
    let found = known + 1;
    db.pragma_update(None, "user_version", found)
        .expect("a newer number");
    drop(db);
    let before = fs::read(&file).expect("the file");
    let error = Kitchen::open(folder.path()).expect_err("refused");
    assert_eq!(error, StoreError::Newer { found, known });
    assert!(error.to_string().contains("newer program"), "{error}");
    assert_eq!(fs::read(&file).expect("the file"), before);
}

#[test]
fn what_is_no_kitchen_is_refused() {
    let folder = tempdir().expect("a folder");
    let file = folder.path().join("kitchen.db");
    fs::write(
        &file,
        "no database at all, but long enough to look at".repeat(40),
    )
    .expect("written");
    let error = Kitchen::open(folder.path()).expect_err("refused");
    assert!(matches!(error, StoreError::Damaged(_)), "{error:?}");
    assert!(error.to_string().contains("backup"), "{error}");
    fs::remove_file(&file).expect("removed");
    write(
        folder.path(),
        "CREATE TABLE other (a); PRAGMA user_version = 1;",
    );
    let error = Kitchen::open(folder.path()).expect_err("refused");
    assert!(matches!(error, StoreError::Damaged(_)), "{error:?}");
    let error = Kitchen::open(&file).expect_err("a file is no folder");
    assert!(matches!(error, StoreError::Folder { .. }), "{error:?}");
}

#[test]
fn damage_inside_is_found() {
    let folder = tempdir().expect("a folder");
    let kitchen = Kitchen::open(folder.path()).expect("a kitchen");
    for n in 0..50 {
        add(
            &kitchen,
            &format!("r{n}"),
            &format!("Recipe {n}\n{}", "100 g flour\n".repeat(100)),
        );
    }
    assert_eq!(kitchen.check(), Ok(()));
    drop(kitchen);
    let file = folder.path().join("kitchen.db");
    let mut bytes = fs::read(&file).expect("the file");
    // Behind the pages that hold the schema itself.
    let late = bytes.len() / 4 * 3;
    bytes[late..late + 20_000].fill(0xAA);
    fs::write(&file, bytes).expect("written");
    let kitchen = Kitchen::open(folder.path()).expect("its first page is good");
    let error = kitchen.check().expect_err("damage is found");
    assert!(matches!(error, StoreError::Damaged(_)), "{error:?}");
}

#[test]
fn a_draft_survives_a_crash() {
    let folder = tempdir().expect("a folder");
    let kitchen = Kitchen::open(folder.path()).expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    put(&kitchen, id, 1, "Half typed", "text", true);
    // Nothing is closed.
    std::mem::forget(kitchen);
    let kitchen = Kitchen::open(folder.path()).expect("it opens");
    let draft = kitchen.draft(id).expect("a draft");
    assert_eq!((draft.rev, draft.sheet.text.as_str()), (2, "Half typed"));
    assert_eq!(draft.undo.as_deref(), Some("change Half typed"));
    assert_eq!(kitchen.check(), Ok(()));
}

/// Run again as a program of its own by the next test: it is killed while it writes.
#[test]
fn killed_while_it_writes() {
    let Ok(folder) = std::env::var("UNWHEAT_STORE_CRASH") else {
        return;
    };
    let kitchen = Kitchen::open(Path::new(&folder)).expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    let acknowledged = Path::new(&folder).join("acknowledged");
    for rev in 1.. {
        put(&kitchen, id, rev, &format!("text {rev}"), "text", false);
        fs::write(&acknowledged, format!("{}", rev + 1)).expect("written");
    }
}

#[test]
fn a_killed_program_loses_nothing_it_acknowledged() {
    let folder = tempdir().expect("a folder");
    let mut child = std::process::Command::new(std::env::current_exe().expect("this test"))
        .args(["--exact", "killed_while_it_writes"])
        .env("UNWHEAT_STORE_CRASH", folder.path())
        .stdout(std::process::Stdio::null())
        .stderr(std::process::Stdio::null())
        .spawn()
        .expect("a program");
    let acknowledged = folder.path().join("acknowledged");
    let number = || -> u64 {
        let text = fs::read_to_string(&acknowledged).unwrap_or_default();
        text.parse().unwrap_or(0)
    };
    for _ in 0..1000 {
        if number() > 20 {
            break;
        }
        std::thread::sleep(std::time::Duration::from_millis(10));
    }
    child.kill().expect("killed");
    child.wait().expect("gone");
    let kitchen = Kitchen::open(folder.path()).expect("it opens");
    assert_eq!(kitchen.check(), Ok(()));
    let id = kitchen.by_uid("buns").expect("read").expect("the buns").id;
    let draft = kitchen.draft(id).expect("a draft");
    assert!(draft.rev > 20 && draft.rev >= number());
    assert_eq!(draft.sheet.text, format!("text {}", draft.rev - 1));
}

#[test]
fn one_writes_and_many_read() {
    let folder = tempdir().expect("a folder");
    let kitchen = Kitchen::open(folder.path()).expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    let over = AtomicBool::new(false);
    std::thread::scope(|scope| {
        let readers: Vec<_> = (0..6)
            .map(|_| {
                scope.spawn(|| {
                    let mut seen = 0;
                    while !over.load(Ordering::Relaxed) {
                        let draft = kitchen.draft(id).expect("a draft");
                        assert!(draft.rev >= seen);
                        seen = draft.rev;
                        let shown = kitchen.sheet_at(id, draft.rev).expect("read");
                        assert_eq!(shown.expect("kept").text, draft.sheet.text);
                        assert_eq!(kitchen.list(&words("buns")).expect("a list").total, 1);
                    }
                })
            })
            .collect();
        // Two write; each change goes through once.
        let writers: Vec<_> = (0..2)
            .map(|who| {
                let kitchen = &kitchen;
                scope.spawn(move || {
                    let mut done = 0;
                    while done < 40 {
                        let rev = kitchen.draft(id).expect("a draft").rev;
                        let new = sheet(&format!("Seed buns {who} {done}"));
                        let summary = summarise(&new);
                        match kitchen.put_draft(id, rev, &new, "w", "text", false, &summary, 1) {
                            Ok(_) => done += 1,
                            Err(StoreError::Moved { now }) => assert!(now > rev),
                            Err(other) => assert_eq!(other, StoreError::Busy, "a writer waits"),
                        }
                    }
                })
            })
            .collect();
        for writer in writers {
            writer.join().expect("a writer");
        }
        over.store(true, Ordering::Relaxed);
        for reader in readers {
            reader.join().expect("a reader");
        }
    });
    assert_eq!(kitchen.draft(id).expect("a draft").rev, 81);
    assert_eq!(kitchen.check(), Ok(()));
}

#[test]
fn two_programs_share_a_kitchen() {
    let folder = tempdir().expect("a folder");
    let one = Kitchen::open(folder.path()).expect("a kitchen");
    let two = Kitchen::open(folder.path()).expect("the same kitchen");
    let id = add(&one, "buns", BUNS);
    put(&two, id, 1, "From two", "text", false);
    assert_eq!(one.draft(id).expect("a draft").sheet.text, "From two");
}

#[test]
fn what_is_saved_never_changes() {
    let folder = tempdir().expect("a folder");
    let kitchen = Kitchen::open(folder.path()).expect("a kitchen");
    let id = add(&kitchen, "buns", BUNS);
    save(&kitchen, id, "first");
    kitchen
        .put_own(&own("own_teff"), "Maud", "", 1)
        .expect("an entry");
    let batch = kitchen.start_batch(id, Some(1), 1.0, &serde_json::json!([]), "Maud", 1);
    let batch = batch.expect("a batch");
    kitchen
        .finish_batch(batch, &serde_json::json!({"height": 7}), 2)
        .expect("finished");
    kitchen
        .add_later(batch, &note(3, "Dry on day 2."))
        .expect("added");
    let open = kitchen.start_batch(id, Some(1), 1.0, &serde_json::json!([]), "Maud", 4);
    open.expect("a batch");
    kitchen
        .add_day("saturday", &Day::default(), 1)
        .expect("a day");
    let db = Connection::open(folder.path().join("kitchen.db")).expect("the file");
    for sql in [
        "UPDATE version SET why = 'other'",
        "UPDATE version SET text = 1 WHERE number = 1",
        "DELETE FROM version",
        "UPDATE body SET text = 'other'",
        "UPDATE recipe SET original = 2",
        "UPDATE recipe SET uid = 'other'",
        "UPDATE own SET entry = NULL",
        "DELETE FROM own",
        "UPDATE batch SET bake = NULL WHERE id = 1",
        "DELETE FROM batch",
        "UPDATE later SET text = 'other'",
        "DELETE FROM later",
        "INSERT INTO later (batch, at, who, text) VALUES (2, 5, '', 'too soon')",
        "UPDATE day SET uid = 'other'",
        "DELETE FROM day",
    ] {
        let refused = db.execute(sql, []);
        assert!(refused.is_err(), "{sql} went through");
    }
    // A text in use is not dropped.
    assert_eq!(kitchen.tidy(), Ok(0));
}

fn own(key: &str) -> larder::OwnEntry {
    larder::OwnEntry {
        key: key.to_owned(),
        ..larder::OwnEntry::default()
    }
}

#[test]
fn settings_have_defaults_and_stay() {
    let folder = tempdir().expect("a folder");
    let kitchen = Kitchen::open(&folder.path().join("new").join("kitchen")).expect("a kitchen");
    let mut settings = kitchen.settings().expect("settings");
    assert_eq!(settings, Settings::default());
    assert_eq!((settings.backups_keep, settings.scoops.len()), (14, 10));
    settings.scale_step = 5.0;
    settings.fine_scale_step = 0.0;
    assert_eq!(kitchen.former_settings(), Ok(Vec::new()));
    kitchen.set_settings(&settings, 7).expect("kept");
    assert_eq!(kitchen.settings(), Ok(settings.clone()));
    // Kept once more, nothing changes: the settings before stay those of before.
    kitchen.set_settings(&settings, 8).expect("kept");
    let first = FormerSettings {
        settings: Settings::default(),
        until: 7,
    };
    assert_eq!(kitchen.former_settings(), Ok(vec![first]));
    // Every change keeps what was, fifty of them.
    for at in 0..60 {
        settings.hands = u32::try_from(at).expect("small") + 2;
        kitchen.set_settings(&settings, at).expect("kept");
    }
    let former = kitchen.former_settings().expect("former");
    assert_eq!(former.len(), 50);
    assert_eq!((former[49].until, former[49].settings.hands), (59, 60));
    settings.scale_step = f64::NAN;
    assert!(matches!(
        kitchen.set_settings(&settings, 9),
        Err(StoreError::Bad(_))
    ));
    settings.scale_step = 0.0;
    assert!(matches!(
        kitchen.set_settings(&settings, 9),
        Err(StoreError::Bad(_))
    ));
}
