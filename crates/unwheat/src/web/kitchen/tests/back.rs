//! What pages of before may do once the kitchen went back to a backup.

use super::settings::settings_form;
use super::{SEAL, Shared, app_in, get, post, post_from, upload};
use crate::web::bench::batch_sheet::{BatchSheet, Line, Part};
use axum::http::StatusCode;
use std::task::Poll;
use store::Kitchen;

/// A kitchen in a folder with one recipe, and a backup of it.
async fn backed_up(folder: &std::path::Path) -> (Shared, String) {
    let app = app_in(Kitchen::open(folder).expect("a kitchen"), false);
    let text = [
        ("text", "Rye loaf\n\n500 g rye flour\n7 g yeast"),
        ("locale", "uk"),
    ];
    post(&app, "/recipes", &text).await;
    post(&app, "/kitchen/backup", &[]).await;
    let all = store::backups(&folder.join("backups")).expect("a list");
    (app, all[0].name.clone())
}

fn titled(app: &Shared, title: &str) -> [(&'static str, String); 4] {
    let change = serde_json::json!({ "field": "title", "title": title });
    let rev = app.kitchen.draft(1).expect("a draft").rev;
    [
        ("change", change.to_string()),
        ("rev", rev.to_string()),
        ("leaf", "read".to_owned()),
        ("value", title.to_owned()),
    ]
}

#[tokio::test]
async fn a_page_of_before_is_not_taken_for_one_of_now() {
    let folder = tempfile::tempdir().expect("a folder");
    let (app, backup) = backed_up(folder.path()).await;
    let title = || {
        let draft = app.kitchen.draft(1).expect("a draft");
        (draft.rev, draft.sheet.title.unwrap_or_default())
    };
    let send = async |state: &str, words: &str| {
        let form = titled(&app, words);
        let form: Vec<(&str, &str)> = form.iter().map(|(k, v)| (*k, v.as_str())).collect();
        post_from(&app, state, "/recipe/1/change", &form).await
    };
    let before = app.kitchen.state();
    send(&before, "Black bread").await;
    let (rev, _) = title();
    let page = get(&app, "/recipe/1/read").await.text();
    assert!(page.contains("data-state=\"\"") && page.contains(&format!("data-rev=\"{rev}\"")));
    post(&app, "/kitchen/restore", &[("name", &backup)]).await;
    let now = app.kitchen.state();
    assert_ne!(now, before);
    send(&now, "Harrow loaf").await;
    assert_eq!(title(), (rev, "Harrow loaf".to_owned()), "the same rev");
    // The open page shows 'Black bread' under that rev.
    let late = send(&before, "Black rye & seed").await;
    assert_eq!(late.status, StatusCode::CONFLICT);
    let told = late.text();
    assert!(told.contains("went back to a backup") && told.contains("Black rye &amp; seed"));
    assert!(!told.contains(">rev<") && !told.contains(SEAL), "{told}");
    assert_eq!(title(), (rev, "Harrow loaf".to_owned()));
    let told = get(&app, "/kitchen/state").await.text();
    assert_eq!(told, format!("{{\"state\":\"{now}\"}}"));
    let page = get(&app, "/recipe/1/read").await.text();
    assert!(page.contains(&format!("data-state=\"{now}\"")));
}

#[tokio::test]
async fn a_bench_of_before_writes_into_no_other_batch() {
    let folder = tempfile::tempdir().expect("a folder");
    let app = app_in(Kitchen::open(folder.path()).expect("a kitchen"), false);
    let text = [("text", "Rye loaf\n\n500 g rye flour"), ("locale", "uk")];
    post(&app, "/recipes", &text).await;
    let sheet = BatchSheet {
        components: vec![Part {
            lines: vec![Line {
                item: "0:rice".to_owned(),
                name: "rice flour".to_owned(),
                grams: Some(300.0),
                ..Line::default()
            }],
            ..Part::default()
        }],
        ..BatchSheet::default()
    };
    let sheet = serde_json::to_value(sheet).expect("JSON");
    let begin = |at: i64| {
        let k = &app.kitchen;
        k.start_batch(1, None, 1.0, &sheet, "Maud", at)
            .expect("a batch")
    };
    let first = begin(1_000);
    post(&app, "/kitchen/backup", &[]).await;
    let all = store::backups(&folder.path().join("backups")).expect("a list");
    let old = app.kitchen.state();
    let gone = begin(2_000);
    post(&app, "/kitchen/restore", &[("name", &all[0].name)]).await;
    let noted = r#"[{"do":"actual","item":"0:rice","actual":312.5,"at":1}]"#;
    let weigh = |begun| [("item", "0:rice"), ("actual", "312.5"), ("begun", begun)];
    let tries = async |id: i64, begun: &'static str| {
        let to = |what: &str| format!("/bench/{id}/{what}");
        let sent = [("done", noted), ("begun", begun)];
        let made = [("made", "1"), ("verdict", "Good crumb"), ("begun", begun)];
        [
            post_from(&app, &old, &to("send"), &sent).await,
            post_from(&app, &old, &to("mark"), &weigh(begun)).await,
            post_from(&app, &old, &to("finish"), &made).await,
        ]
    };
    // Gone, and then another batch of that number.
    for another in [false, true] {
        if another {
            assert_eq!(begin(3_000), gone, "the number is used again");
        }
        let all = tries(gone, "2000").await;
        assert!(all.iter().all(|a| a.status == StatusCode::CONFLICT));
        assert!(all[1].text().contains("312.5"), "what was weighed is shown");
        assert!(all[2].text().contains("Good crumb"));
    }
    let batch = app.kitchen.batch(gone).expect("the other batch");
    assert!(batch.marks.is_empty() && batch.finished.is_none());
    // A batch that was under way at the backup goes on from the page that is open.
    let all = tries(first, "1000").await;
    assert_eq!(all[0].status, StatusCode::OK);
    assert!(all[0].text().contains("\"begun\":1000"));
    assert_eq!(all[2].status, StatusCode::SEE_OTHER);
    let batch = app.kitchen.batch(first).expect("the batch");
    assert_eq!(batch.marks[0].actual, Some(312.5));
}

#[tokio::test]
async fn what_cannot_be_taken_in_costs_no_backup() {
    let folder = tempfile::tempdir().expect("a folder");
    let (app, first) = backed_up(folder.path()).await;
    post(&app, "/kitchen", &settings_form(&[("keep", "2")])).await;
    let zip = get(&app, "/kitchen/export").await.bytes;
    let there = || {
        let all = store::backups(&folder.path().join("backups")).expect("a list");
        all.into_iter().map(|b| b.name).collect::<Vec<_>>()
    };
    assert_eq!(there(), std::slice::from_ref(&first));
    // It looks like an archive, and is none when it is read.
    let at = zip.len() / 3;
    let broken = [&zip[..at], &[0; 64], &zip[at..]].concat();
    let bad = folder.path().join("backups/kitchen-0.db");
    std::fs::write(&bad, "no kitchen").expect("written");
    for _ in 0..3 {
        let answer = upload(&app, "broken.zip", &broken).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
        let restore = [("name", "kitchen-0.db")];
        let answer = post(&app, "/kitchen/restore", &restore).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
        let told = answer.text();
        assert!(told.contains("kitchen-0.db cannot be used"), "{told}");
    }
    assert_eq!(there(), [first.clone(), "kitchen-0.db".to_owned()]);
    // What comes in takes the place of the oldest.
    assert_eq!(upload(&app, "good.zip", &zip).await.status, StatusCode::OK);
    assert_eq!((there().len(), &there()[1]), (2, &first));
}

#[tokio::test]
async fn a_form_that_waited_while_the_kitchen_went_back_shows_what_was_typed() {
    let folder = tempfile::tempdir().expect("a folder");
    let (app, backup) = backed_up(folder.path()).await;
    let all = store::backups(&folder.path().join("backups")).expect("a list");
    assert_eq!(all[0].name, backup);
    let form = titled(&app, "Black rye & seed");
    let form: Vec<(&str, &str)> = form.iter().map(|(k, v)| (*k, v.as_str())).collect();
    let (begun, is_begun) = std::sync::mpsc::channel();
    let (waiting, waits) = std::sync::mpsc::channel();
    let other = Shared::clone(&app);
    let goes_back = tokio::task::spawn_blocking(move || {
        let _held = other.alone();
        begun.send(()).expect("heard");
        // The form is read meanwhile and waits for its turn.
        waits.recv().expect("waiting");
        other.kitchen.restore(&all[0].path).expect("restored");
    });
    is_begun.recv().expect("begun");
    let mut late = std::pin::pin!(post(&app, "/recipe/1/change", &form));
    let first = std::future::poll_fn(|cx| Poll::Ready(late.as_mut().poll(cx))).await;
    assert!(first.is_pending(), "held up");
    waiting.send(()).expect("heard");
    let late = late.await;
    goes_back.await.expect("no panic");
    assert_eq!(late.status, StatusCode::CONFLICT);
    assert!(late.text().contains("Black rye &amp; seed"));
}
