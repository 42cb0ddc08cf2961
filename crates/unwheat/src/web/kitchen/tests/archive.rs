//! Archives and backups.

use super::super::*;
use super::settings::settings_form;
use super::{app, app_in, get, post, upload, upload_to};
use axum::http::{StatusCode, header};
use std::collections::HashSet;
use store::Kitchen;

#[tokio::test]
async fn an_archive_goes_out_and_comes_in() {
    let app = app();
    let text = [
        ("text", "Flatbread\n\n200 g plain flour\n"),
        ("locale", "uk"),
    ];
    post(&app, "/recipes", &text).await;
    post(&app, "/kitchen", &settings_form(&[])).await;
    let zip = get(&app, "/kitchen/export").await;
    let name = zip.headers[header::CONTENT_DISPOSITION]
        .to_str()
        .expect("a name");
    assert!(
        name.starts_with("attachment; filename=\"harrow-lane-20"),
        "{name}"
    );
    let other = self::app();
    let came = upload(&other, "kitchen.zip", &zip.bytes).await;
    assert_eq!(came.status, StatusCode::OK);
    let page = came.text();
    assert!(
        page.contains("one recipe") && page.contains("the settings"),
        "{page}"
    );
    assert_eq!(other.settings().expect("settings").kitchen, "Harrow Lane");
    let again = upload(&other, "kitchen.zip", &zip.bytes).await.text();
    assert!(again.contains("Nothing in it is new here"));
    let none = post(&other, "/kitchen/import", &[]).await;
    assert_eq!(none.status, StatusCode::UNPROCESSABLE_ENTITY);
}

#[tokio::test]
async fn an_archive_taken_in_can_be_taken_back() {
    let source = app();
    let text = [
        ("text", "Seed buns\n\n500 g flour\n7 g yeast"),
        ("locale", "uk"),
    ];
    post(&source, "/recipes", &text).await;
    let zip = get(&source, "/kitchen/export").await.bytes;
    let folder = tempfile::tempdir().expect("a folder");
    let app = app_in(Kitchen::open(folder.path()).expect("a kitchen"), false);
    let own = [
        ("text", "Rye loaf\n\n500 g rye flour\n7 g yeast"),
        ("locale", "uk"),
    ];
    post(&app, "/recipes", &own).await;
    let titles = |app: &Shared| {
        let all = store::Query {
            limit: 9,
            ..store::Query::default()
        };
        let list = app.kitchen.list(&all).expect("a list");
        let mut all: Vec<String> = list.rows.into_iter().map(|r| r.title).collect();
        all.sort();
        all.join(", ")
    };
    let named = |page: &str, button: &str| {
        let form = page.split("<form").find(|f| f.contains(button));
        let form = form.unwrap_or_else(|| panic!("{button}: {page}"));
        let name = form.split("name=\"name\" value=\"").nth(1).expect("a name");
        name.split('"').next().unwrap_or_default().to_owned()
    };
    let came = upload(&app, "kitchen.zip", &zip).await.text();
    assert_eq!(titles(&app), "Rye loaf, Seed buns");
    post(&app, "/kitchen", &settings_form(&[])).await;
    let before = named(&came, "Go back to before");
    assert!(
        came.contains(&format!("<code>{before}</code>")),
        "it is named"
    );
    // One press, and all is as it was; what came can be had back.
    let went = post(&app, "/kitchen/restore", &[("name", &before)]).await;
    assert_eq!(went.status, StatusCode::SEE_OTHER);
    assert_eq!(titles(&app), "Rye loaf");
    assert_eq!(app.settings().expect("settings").kitchen, "");
    let page = get(&app, went.to()).await.text();
    assert!(page.contains("The kitchen is as it was on "), "{page}");
    let left = named(&page, "Go back to that");
    post(&app, "/kitchen/restore", &[("name", &left)]).await;
    assert_eq!(titles(&app), "Rye loaf, Seed buns");
    assert_eq!(app.settings().expect("settings").kitchen, "Harrow Lane");
    // Nothing new in it: nothing to go back from. What is no backup is none.
    let again = upload(&app, "kitchen.zip", &zip).await.text();
    assert!(!again.contains("Go back to before"));
    for name in ["../kitchen.db", "kitchen-gone.db", ""] {
        let none = post(&app, "/kitchen/restore", &[("name", name)]).await;
        assert_eq!(none.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}");
    }
    assert_eq!(titles(&app), "Rye loaf, Seed buns");
}

#[tokio::test]
async fn what_is_no_archive_is_refused_in_plain_words() {
    let app = app();
    let zip = get(&app, "/kitchen/export").await.bytes;
    for (name, bytes, words) in [
        (
            "notes.txt",
            &b"no zip at all"[..],
            "no kitchen archive: choose the zip that Keep",
        ),
        (
            "recipe.pdf",
            b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n",
            "no kitchen archive",
        ),
        (
            "letter.docx",
            b"PK\x03\x04word/document.xml",
            "no kitchen archive",
        ),
        ("half.zip", &zip[..zip.len() - 30], "is not whole"),
    ] {
        let bad = upload(&app, name, bytes).await;
        assert_eq!(bad.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}");
        let page = bad.text();
        assert!(
            page.contains(&format!("{name} was not taken in. This")),
            "{name}"
        );
        assert!(page.contains(words), "{name}");
        for jargon in ["EOCD", "Invalid", "invalid zip", "expected a zip"] {
            assert!(!page.contains(jargon), "{name}: {jargon}");
        }
    }
}

#[tokio::test]
async fn a_file_that_is_no_text_is_refused_in_plain_words() {
    let app = app();
    let large = [&b"%PDF-1.7\n"[..], &[b'x'; 1_200_000]].concat();
    for (name, bytes, words) in [
        (
            "page.pdf",
            &b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj"[..],
            "It is a PDF: open it",
        ),
        ("large.pdf", &large, "It is a PDF: open it"),
        (
            "photo.png",
            b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR",
            "It is a picture",
        ),
        ("buns.docx", b"PK\x03\x04\x14\0\x06\0", "It is a document"),
        ("nothing.txt", b"", "The file is empty"),
        (
            "plain.html",
            b"<!doctype html><html><body><p>300 g flour</p></body></html>",
            "",
        ),
    ] {
        let answer = upload_to(&app, "/recipes", name, bytes).await;
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{name}");
        let page = answer.text();
        let said = if words.is_empty() {
            format!("{name} is a web page without recipe data")
        } else {
            format!("{name} was not read. {words}")
        };
        assert!(page.contains(&said), "{name}");
        assert!(!page.contains("column"), "{name}");
    }
    for (name, bytes) in [
        ("latin.txt", &b"Cake\n\n200 g flour\ncr\xe8me"[..]),
        ("wide.txt", b"\xff\xfeC\0a\0k\0e\0"),
    ] {
        let page = upload_to(&app, "/recipes", name, bytes).await.text();
        assert!(
            page.contains("column") && page.contains("encoding UTF-8"),
            "{name}"
        );
    }
    let page = post(&app, "/recipes", &[("text", "Cake\n\nno figure")])
        .await
        .text();
    assert!(
        page.contains("on a line of its own"),
        "what a list looks like"
    );
    assert!(ids(&app).expect("recipes").is_empty());
}

#[tokio::test]
async fn backups_are_made_when_due_and_pruned() {
    let folder = tempfile::tempdir().expect("a folder");
    let app = app_in(Kitchen::open(folder.path()).expect("a kitchen"), false);
    let there = || {
        store::backups(&folder.path().join("backups"))
            .expect("a list")
            .len()
    };
    assert!(backups::make_if_due(&app).expect("a backup"), "none yet");
    assert!(
        !backups::make_if_due(&app).expect("no backup"),
        "not due again"
    );
    assert_eq!(there(), 1);
    post(&app, "/kitchen", &settings_form(&[("keep", "2")])).await;
    for _ in 0..3 {
        let answer = post(&app, "/kitchen/backup", &[]).await;
        assert_eq!(answer.to(), "/kitchen?backed-up");
    }
    assert_eq!(there(), 2);
    let page = get(&app, "/kitchen").await.text();
    assert!(page.contains("kB") && page.contains("Go back to this"));
    let last = store::backups(&folder.path().join("backups"))
        .expect("a list")
        .remove(0);
    let back = tempfile::tempdir().expect("a folder");
    std::fs::copy(&last.path, back.path().join("kitchen.db")).expect("a copy");
    let kitchen = Kitchen::open(back.path()).expect("opens");
    assert_eq!(kitchen.settings().expect("settings").kitchen, "Harrow Lane");
}

#[tokio::test]
async fn backups_made_at_once_have_names_of_their_own() {
    let folder = tempfile::tempdir().expect("a folder");
    let app = app_in(Kitchen::open(folder.path()).expect("a kitchen"), false);
    let names: HashSet<String> = std::thread::scope(|s| {
        let all: Vec<_> = (0..4).map(|_| s.spawn(|| backups::put_by(&app))).collect();
        let names = all.into_iter().map(|t| t.join().expect("no panic"));
        names
            .map(|n| n.expect("a backup").expect("its name"))
            .collect()
    });
    assert_eq!(names.len(), 4, "{names:?}");
}
