//! Archives: the way out and in, twice, into a kitchen that differs, and bad ones.

mod common;

use common::{BUNS, add, note, part, put, put_sheet, save, sheet};
use larder::OwnEntry;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::{Cursor, Read, Write};
use store::{Day, DayRecipe, HeldStep, Kitchen, OwnBlend, Query, Settings, StoreError, Timer};
use zip::write::SimpleFileOptions;
use zip::{ZipArchive, ZipWriter};

fn full() -> Kitchen {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let settings = Settings {
        kitchen: "Harrow Lane".to_owned(),
        scale_step: 5.0,
        ..Settings::default()
    };
    kitchen.set_settings(&settings, 1).expect("settings");
    let blend = OwnBlend {
        key: "own_white".to_owned(),
        name: "White".to_owned(),
        parts: vec![("rice_flour".to_owned(), 1.0 / 3.0)],
        ..OwnBlend::default()
    };
    kitchen
        .put_blend(&blend, "Maud", "first", 1)
        .expect("a blend");
    let entry = OwnEntry {
        key: "own_teff".to_owned(),
        ..OwnEntry::default()
    };
    kitchen
        .put_own(&entry, "Maud", "new bag", 1)
        .expect("an entry");
    kitchen
        .drop_own("own_teff", "Maud", "used up", 2)
        .expect("dropped");
    let starter = add(&kitchen, "starter", "Starter\n100 g rice flour");
    save(&kitchen, starter, "first");
    put(
        &kitchen,
        starter,
        1,
        "Starter\n120 g rice flour",
        "text",
        false,
    );
    let buns = add(&kitchen, "odd/uid é", BUNS);
    let mut with = sheet(BUNS);
    with.parts.push(part("starter", 1));
    with.blends.insert(String::new(), "own_white".to_owned());
    put_sheet(&kitchen, buns, 1, &with, "parts", false);
    save(&kitchen, buns, "with starter");
    let gone = add(&kitchen, "gone", "Old cakes");
    kitchen.bin_recipe(gone, 900).expect("binned");
    let batch = kitchen.start_batch(buns, Some(1), 1.5, &json!({"lines": [0.1]}), "Maud", 10);
    let batch = batch.expect("a batch");
    kitchen
        .mark(batch, "flour", Some(true), Some(Some(501.0)), 7_000)
        .expect("marked");
    let timer = Timer {
        uid: "rise".to_owned(),
        label: "Rise".to_owned(),
        seconds: 60.0,
        ends: Some(9),
        left: None,
        done: false,
    };
    kitchen.put_timer(batch, &timer).expect("a timer");
    kitchen
        .finish_batch(batch, &json!({"height": 7}), 20)
        .expect("finished");
    kitchen
        .add_later(batch, &note(40, "Dry on day 2."))
        .expect("added");
    let open = kitchen.start_batch(starter, None, 1.0, &json!([]), "Ivo", 30);
    let day = Day {
        title: "Saturday stall".to_owned(),
        serve: Some("2026-11-28T09:00".to_owned()),
        quiet: Some("none".to_owned()),
        who: "Maud".to_owned(),
        recipes: vec![of_day("odd/uid é", Some(1)), of_day("starter", None)],
        held: vec![HeldStep {
            recipe: 0,
            step: "0:mix".to_owned(),
            start: "2026-11-28T07:00".to_owned(),
            work_end: "2026-11-28T07:10".to_owned(),
            end: "2026-11-28T07:10".to_owned(),
            by: Some("2026-11-28T07:05".to_owned()),
        }],
        answers: None,
    };
    let id = kitchen.add_day("stall", &day, 50).expect("a day");
    kitchen.bin_day(id, 60).expect("binned");
    kitchen
        .put_batch_day(open.expect("a batch"), "stall")
        .expect("of a day");
    kitchen
        .put_serving(starter, "2026-11-28T09:00")
        .expect("kept");
    kitchen
}

fn of_day(recipe: &str, version: Option<u32>) -> DayRecipe {
    DayRecipe {
        key: "one".to_owned(),
        recipe: recipe.to_owned(),
        version,
        times: 1.5,
        serve: version.map(|_| "2026-11-28T08:00".to_owned()),
    }
}

fn unpack(zip: &[u8]) -> BTreeMap<String, Vec<u8>> {
    let mut zip = ZipArchive::new(Cursor::new(zip)).expect("a zip");
    (0..zip.len())
        .map(|n| {
            let mut file = zip.by_index(n).expect("a file");
            let mut bytes = Vec::new();
            file.read_to_end(&mut bytes).expect("its bytes");
            (file.name().expect("a name").into_owned(), bytes)
        })
        .collect()
}

fn pack<'a>(files: impl IntoIterator<Item = (&'a str, &'a [u8])>) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (name, bytes) in files {
        zip.start_file(name, SimpleFileOptions::default())
            .expect("a file");
        zip.write_all(bytes).expect("its bytes");
    }
    zip.finish().expect("a zip").into_inner()
}

fn count(kitchen: &Kitchen) -> u32 {
    kitchen.list(&Query::default()).expect("a list").total
}

#[test]
fn out_in_and_out_again_is_the_same() {
    let archive = full().export().expect("an archive");
    let other = Kitchen::in_memory().expect("a kitchen");
    let done = other.import(&archive, 5_000).expect("taken in");
    assert_eq!(
        (done.recipes_added, done.entries_added, done.blends_added),
        (3, 1, 1)
    );
    assert_eq!(
        (done.batches_added, done.settings, done.notes.len()),
        (2, true, 0)
    );
    assert_eq!(other.export().expect("an archive"), archive);
    assert_eq!(other.check(), Ok(()));
    // It is found, it can be worked on, it is used.
    let starter = other.by_uid("starter").expect("read").expect("the starter");
    assert_eq!(
        (starter.used_in, starter.versions, starter.unsaved),
        (1, 1, true)
    );
    assert_eq!(other.draft(starter.id).expect("a draft").based_on, Some(1));
    // A second time nothing comes in, also where the recipe went on here.
    save(&other, starter.id, "more flour");
    let text = "Starter\n130 g rice flour";
    put(&other, starter.id, 1, text, "text", false);
    let again = other.import(&archive, 6_000).expect("taken in");
    assert_eq!((again.recipes_added, again.recipes_same), (0, 3));
    assert_eq!((done.days_added, again.days_added), (1, 0));
    assert_eq!((again.recipes_kept_both, again.batches_added), (0, 0));
    // Unsaved work that is no version here comes in beside.
    let third = Kitchen::in_memory().expect("a kitchen");
    third.import(&archive, 5_000).expect("taken in");
    let starter = third.by_uid("starter").expect("read").expect("the starter");
    put(&third, starter.id, 1, text, "text", false);
    let again = third.import(&archive, 6_000).expect("taken in");
    assert_eq!((again.recipes_same, again.recipes_kept_both), (2, 1));
}

#[test]
fn the_files_are_what_the_readme_says() {
    let files = unpack(&full().export().expect("an archive"));
    let mut names: Vec<&str> = files.keys().map(String::as_str).collect();
    assert!(names.iter().all(|n| n.is_ascii()));
    names.retain(|n| !n.starts_with("recipes/"));
    let plain = [
        "README.txt",
        "batches.json",
        "blends.json",
        "days.json",
        "kitchen.json",
        "larder.json",
    ];
    assert_eq!(names, plain);
    let kitchen: Value = serde_json::from_slice(&files["kitchen.json"]).expect("JSON");
    assert_eq!(
        (&kitchen["format"], &kitchen["format_version"]),
        (&json!("unwheat-kitchen"), &json!(1))
    );
    let starter: Value = serde_json::from_slice(&files["recipes/starter.json"]).expect("JSON");
    assert_eq!(starter["original"], "Starter\n100 g rice flour");
    assert_eq!(starter["draft"]["text"], "Starter\n120 g rice flour");
    assert_eq!(starter["versions"][0]["figures"]["hydration"], 0.7);
}

#[test]
fn every_field_is_documented() {
    let docs = include_str!("../../../docs/archive.md");
    for (name, bytes) in unpack(&full().export().expect("an archive")) {
        if name.ends_with(".json") {
            let value: Value = serde_json::from_slice(&bytes).expect("JSON");
            fields(&value, docs, &name);
        }
    }
}

/// Every field's name stands in the document; what figures, plans and bakes hold is others' say.
fn fields(value: &Value, docs: &str, file: &str) {
    match value {
        Value::Object(map) => {
            for (key, inner) in map {
                assert!(
                    docs.contains(&format!("`{key}`")),
                    "{file}: {key} is not documented"
                );
                match key.as_str() {
                    "figures" | "plan" | "bake" => {}
                    "styles" | "blends" | "weights" if inner.is_object() => {}
                    _ => fields(inner, docs, file),
                }
            }
        }
        Value::Array(all) => all.iter().for_each(|v| fields(v, docs, file)),
        _ => {}
    }
}

#[test]
fn loose_files_and_a_folder_around_them() {
    let archive = full().export().expect("an archive");
    let files = unpack(&archive);
    let other = Kitchen::in_memory().expect("a kitchen");
    let done = other.import_files(files.iter().map(|(n, b)| (n.as_str(), b)), 1);
    assert_eq!(done.expect("taken in").recipes_added, 3);
    assert_eq!(other.export().expect("an archive"), archive);
    let inside: Vec<(String, &[u8])> = files
        .iter()
        .map(|(n, b)| (format!("my kitchen/{n}"), b.as_slice()))
        .collect();
    let mut zip: Vec<(&str, &[u8])> = inside.iter().map(|(n, b)| (n.as_str(), *b)).collect();
    zip.push(("my kitchen/photo.jpg", b"..."));
    zip.push(("my kitchen/recipes/.hidden.json", b"..."));
    let third = Kitchen::in_memory().expect("a kitchen");
    let done = third.import(&pack(zip), 1).expect("taken in");
    assert_eq!((done.recipes_added, done.notes.len()), (3, 1));
    assert!(done.notes[0].contains("2 of them"), "{:?}", done.notes);
    assert_eq!(third.export().expect("an archive"), archive);
}

#[test]
fn what_is_here_and_differs_comes_in_beside_it() {
    let archive = full().export().expect("an archive");
    // This kitchen has another starter, another blend, another teff.
    let here = Kitchen::in_memory().expect("a kitchen");
    let starter = add(&here, "starter", "Starter\n999 g rice flour");
    save(&here, starter, "mine");
    let blend = OwnBlend {
        key: "own_white".to_owned(),
        name: "White of here".to_owned(),
        ..OwnBlend::default()
    };
    here.put_blend(&blend, "Ivo", "", 1).expect("a blend");
    let entry = OwnEntry {
        key: "own_teff".to_owned(),
        note: "of here".to_owned(),
        ..OwnEntry::default()
    };
    here.put_own(&entry, "Ivo", "", 1).expect("an entry");
    let done = here.import(&archive, 5_000).expect("taken in");
    assert_eq!((done.recipes_added, done.recipes_kept_both), (2, 1));
    assert_eq!(
        (done.blends_added, done.blends_kept_both, done.entries_kept),
        (0, 1, 1)
    );
    assert_eq!(
        (done.batches_added, done.settings, done.notes.len()),
        (2, false, 4)
    );
    // What was here is as it was.
    assert_eq!(
        here.draft(starter).expect("a draft").sheet.text,
        "Starter\n999 g rice flour"
    );
    assert_eq!(here.versions(starter).expect("versions").len(), 1);
    assert_eq!(here.own_entries(), Ok(vec![entry]));
    assert_eq!(here.uses_of("starter"), Ok(Vec::new()));
    assert_eq!(here.settings(), Ok(Settings::default()));
    // What came in goes with what came in.
    let buns = here
        .by_uid("odd/uid é")
        .expect("read")
        .expect("the buns")
        .id;
    let draft = here.draft(buns).expect("a draft");
    let used = &draft.sheet.parts[0];
    assert_ne!(used.recipe, "starter");
    assert_eq!(draft.saved_as, Some(1));
    let second = here
        .part_sheet(&used.recipe, 1)
        .expect("read")
        .expect("kept");
    assert_eq!(second.text, "Starter\n100 g rice flour");
    let blends = here.blends(false).expect("blends");
    assert!(
        blends
            .iter()
            .any(|b| b.key == draft.sheet.blends[""] && b.blend.name == "White")
    );
    let second = here
        .by_uid(&used.recipe)
        .expect("read")
        .expect("the second");
    assert_eq!(
        (
            second.changed,
            here.batches_of(second.id).expect("batches").len()
        ),
        (5_000, 1)
    );
    // Once more: all of it is here now.
    let before = (count(&here), here.export().expect("an archive"));
    let again = here.import(&archive, 6_000).expect("taken in");
    assert_eq!(
        (
            again.recipes_added,
            again.recipes_kept_both,
            again.recipes_same
        ),
        (0, 0, 3)
    );
    assert_eq!((again.blends_kept_both, again.batches_added), (0, 0));
    assert_eq!((count(&here), here.export().expect("an archive")), before);
}

#[test]
fn a_day_that_differs_comes_in_beside_it_with_its_batches() {
    let archive = full().export().expect("an archive");
    let here = full();
    let row = here.day_by_uid("stall").expect("read").expect("the day");
    let mut other = row.day.clone();
    other.title = "Sunday stall".to_owned();
    here.put_day(row.id, row.rev, &other, 70).expect("changed");
    let batch = here.batches_of_day(row.id).expect("batches").remove(0);
    let done = here.import(&archive, 5_000).expect("taken in");
    // The batch is another one too: it is of the second day.
    assert_eq!((done.days_added, done.batches_added), (1, 1));
    assert!(
        done.notes.iter().any(|n| n.contains("Saturday stall")),
        "{:?}",
        done.notes
    );
    let days = here.days(true).expect("days");
    assert_eq!(days.len(), 2);
    let second = days.iter().find(|d| d.id != row.id).expect("the second");
    assert_eq!(second.day, row.day);
    let of = here.batches_of_day(second.id).expect("batches");
    assert_eq!((of.len(), of[0].started), (1, batch.started));
    let again = here.import(&archive, 6_000).expect("taken in");
    assert_eq!((again.days_added, again.batches_added), (0, 0));
    // One of a recipe that is nowhere is refused, and nothing comes in.
    let mut files = unpack(&archive);
    let days = String::from_utf8(files["days.json"].clone()).expect("text");
    let broken = days.replace("\"starter\"", "\"nowhere\"");
    files.insert("days.json".to_owned(), broken.into_bytes());
    let third = Kitchen::in_memory().expect("a kitchen");
    let files = files.iter().map(|(n, b)| (n.as_str(), b.as_slice()));
    let error = third.import(&pack(files), 1).expect_err("refused");
    assert!(error.to_string().contains("days.json"), "{error}");
    assert_eq!(count(&third), 0);
}

#[test]
fn later_notes_of_two_kitchens_come_together() {
    let here = full();
    let other = Kitchen::in_memory().expect("a kitchen");
    other
        .import(&here.export().expect("an archive"), 5_000)
        .expect("taken in");
    let bake = |kitchen: &Kitchen| {
        let buns = kitchen.by_uid("odd/uid é").expect("read").expect("buns");
        let mut all = kitchen.batches_of(buns.id).expect("batches");
        assert_eq!(all.len(), 1, "no second bake");
        all.remove(0)
    };
    let add = |kitchen: &Kitchen, at, text: &str| {
        let done = kitchen.add_later(bake(kitchen).id, &note(at, text));
        done.expect("added");
    };
    add(&here, 60, "Froze well.");
    add(&other, 50, "Ivo: a little sour.");
    let archive = other.export().expect("an archive");
    let done = here.import(&archive, 6_000).expect("taken in");
    assert_eq!((done.batches_added, done.notes.len()), (0, 1));
    assert!(done.notes[0].contains("Seed buns"), "{:?}", done.notes);
    let texts = |kitchen: &Kitchen| -> Vec<String> {
        let later = bake(kitchen).later;
        later.into_iter().map(|n| n.text).collect()
    };
    let all = ["Dry on day 2.", "Ivo: a little sour.", "Froze well."];
    assert_eq!(texts(&here), all);
    // Again nothing comes; the other way only what is missing.
    assert!(
        here.import(&archive, 7_000)
            .expect("again")
            .notes
            .is_empty()
    );
    let back = here.export().expect("an archive");
    other.import(&back, 8_000).expect("taken in");
    assert_eq!(texts(&other), all);
    assert_eq!(other.export().expect("an archive"), back);
}

#[test]
fn an_archive_from_before_later_notes_comes_in() {
    let mut files = unpack(&full().export().expect("an archive"));
    let mut batches: Value = serde_json::from_slice(&files["batches.json"]).expect("JSON");
    for batch in batches["batches"].as_array_mut().expect("batches") {
        let gone = batch.as_object_mut().and_then(|b| b.remove("later"));
        assert!(gone.is_some());
    }
    files.insert("batches.json".to_owned(), batches.to_string().into_bytes());
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let done = kitchen.import_files(files, 1).expect("taken in");
    assert_eq!(done.batches_added, 2);
}

/// What an archive with one file in place of another says.
fn refused(name: &str, bytes: &[u8]) -> (String, String) {
    let mut files = unpack(&full().export().expect("an archive"));
    files.insert(name.to_owned(), bytes.to_vec());
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let error = kitchen.import_files(files, 1).expect_err("refused");
    // Nothing of it came in.
    assert_eq!(count(&kitchen), 0);
    assert_eq!(kitchen.blends(false), Ok(Vec::new()));
    assert_eq!(kitchen.settings(), Ok(Settings::default()));
    match error {
        StoreError::Archive { file, why } => (file, why),
        other => (String::new(), other.to_string()),
    }
}

#[test]
fn bad_archives_say_which_file_and_what_was_expected() {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let error = kitchen.import(b"no zip", 1).expect_err("refused");
    assert!(error.to_string().contains("expected a zip"), "{error}");
    let error = kitchen
        .import(&pack([("other.txt", b"x".as_slice())]), 1)
        .expect_err("refused");
    assert!(error.to_string().contains("kitchen.json"), "{error}");
    let mut cut = full().export().expect("an archive");
    cut.truncate(cut.len() / 2);
    assert!(kitchen.import(&cut, 1).is_err());
    let mut spoilt = full().export().expect("an archive");
    let middle = spoilt.len() / 3;
    spoilt[middle..middle + 40].fill(0x55);
    assert!(kitchen.import(&spoilt, 1).is_err());

    for (name, bytes, says) in [
        (
            "kitchen.json",
            r#"{"format": "other", "format_version": 1}"#,
            "unwheat-kitchen",
        ),
        (
            "kitchen.json",
            r#"{"format": "unwheat-kitchen", "format_version": 2}"#,
            "newer one",
        ),
        ("kitchen.json", "[]", "expected"),
        ("recipes/starter.json", "{", "JSON was expected"),
        ("recipes/starter.json", r#"{"uid": "starter"}"#, "original"),
        (
            "recipes/zz.json",
            r#"{"uid":"","original":"","created":1,"changed":1,"draft":{"text":"","locale":"us"}}"#,
            "uid",
        ),
        (
            "recipes/zz.json",
            r#"{"uid":"starter","original":"","created":1,"changed":1,"draft":{"text":"","locale":"us"}}"#,
            "second recipe",
        ),
        (
            "recipes/zz.json",
            r#"{"uid":"z","original":"","created":1,"changed":1,"based_on":3,"draft":{"text":"","locale":"us"}}"#,
            "no version 3",
        ),
        (
            "recipes/zz.json",
            r#"{"uid":"z","original":"","created":1,"changed":1,"draft":{"text":"","locale":"us"},
            "versions":[{"number":2,"who":"","at":1,"why":"","sheet":{"text":"","locale":"us"},"figures":{},"program":""}]}"#,
            "number 1",
        ),
        (
            "larder.json",
            r#"{"entries":[{"key":"a","history":[{"at":1,"who":"","why":"","entry":{"key":"b"}}]}]}"#,
            "key",
        ),
        (
            "blends.json",
            r#"{"blends":[{"key":"own_a","versions":[{"version":2,"at":1,"who":"","why":"","blend":{"key":"own_a","name":"","parts":[]}}]}]}"#,
            "version 1",
        ),
        (
            "blends.json",
            r#"{"blends":[{"key":"a","versions":[{"version":1,"at":1,"who":"","why":"","blend":{"key":"a","name":"","parts":[]}}]}]}"#,
            "own_",
        ),
        (
            "batches.json",
            r#"{"batches":[{"recipe":"nobody","title":"","factor":1.0,"plan":[],"started":1}]}"#,
            "nobody",
        ),
        (
            "batches.json",
            r#"{"batches":[{"recipe":"starter","title":"","factor":-1.0,"plan":[],"started":1}]}"#,
            "above 0",
        ),
        (
            "batches.json",
            r#"{"batches":[{"recipe":"starter","title":"","factor":1.0,"plan":[],"started":1,"later":[{"at":2,"who":"","text":"x"}]}]}"#,
            "not finished",
        ),
        (
            "batches.json",
            r#"{"batches":[{"recipe":"starter","title":"","factor":1.0,"plan":[],"started":1,"finished":2,"later":[{"at":3,"text":" "}]}]}"#,
            "no words",
        ),
        (
            "batches.json",
            r#"{"batches":[{"recipe":"starter","version":9,"title":"","factor":1.0,"plan":[],"started":1}]}"#,
            "version 9",
        ),
    ] {
        let (file, why) = refused(name, bytes.as_bytes());
        assert_eq!(file, name, "{why}");
        assert!(why.contains(says), "{name}: {why}");
    }
}

#[test]
fn a_bomb_is_refused() {
    let zeros = vec![b' '; 65 << 20];
    let kitchen = br#"{"format": "unwheat-kitchen", "format_version": 1}"#;
    let bomb = pack([
        ("kitchen.json", kitchen.as_slice()),
        ("recipes/big.json", zeros.as_slice()),
    ]);
    assert!(bomb.len() < 1 << 20);
    let error = Kitchen::in_memory()
        .expect("a kitchen")
        .import(&bomb, 1)
        .expect_err("refused");
    assert!(error.to_string().contains("recipes/big.json"), "{error}");
    assert!(error.to_string().contains("64 MB"), "{error}");
}
