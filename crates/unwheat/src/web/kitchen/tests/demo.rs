//! The demo kitchen.

use super::super::*;
use super::settings::settings_form;
use super::{HERE, HOST, app, app_in, form, get, post, request, send};
use axum::http::{Method, StatusCode, header};
use std::collections::BTreeMap;
use std::sync::Arc;
use store::Kitchen;

const WARNING: &str = "Demo kitchen: labels, cups, prices and bakes here are invented. Do not bake for anyone by them.";

/// The demo beside a kitchen.
fn demo_of(own: &Shared) -> Shared {
    Arc::new(demo::beside(own, vec![HOST.to_owned()]).expect("the demo"))
}

#[track_caller]
fn must_say_demo(page: &str) {
    assert!(page.contains(WARNING));
    assert!(
        page.contains("<a href=\"http://127.0.0.1:7420/\">Back to your own kitchen</a>"),
        "the way back"
    );
}

#[tokio::test]
async fn the_demo_is_whole_and_works() {
    let app = demo_of(&app());
    assert_eq!(ids(&app).expect("recipes").len(), 9);
    assert_eq!(app.kitchen.blends(false).expect("blends").len(), 2);
    let settings = app.settings().expect("settings");
    assert!(settings.demo && settings.kitchen == "Harrow Lane test kitchen");
    assert_eq!(
        app.pantry().expect("a pantry").troubles,
        Vec::<String>::new()
    );
    let mut stages = BTreeMap::new();
    for id in ids(&app).expect("recipes") {
        let o = crate::web::recipe::open(&app, id).expect("opens");
        assert!(
            o.worked().is_ok() && o.parts.lost.is_empty(),
            "{}",
            o.row.title
        );
        stages.insert(
            o.row.uid.clone(),
            (o.row.stage.clone(), o.row.to_check, o.row.versions),
        );
        for leaf in crate::web::recipe::Leaf::ALL {
            let page = get(&app, &format!("/recipe/{id}/{}", leaf.slug())).await;
            assert_eq!(page.status, StatusCode::OK, "{} {leaf:?}", o.row.title);
            must_say_demo(&page.text());
        }
        let card = get(&app, &format!("/recipe/{id}/card.html")).await;
        assert_eq!(card.status, StatusCode::OK, "card of {}", o.row.title);
        assert!(card.text().contains(WARNING), "card of {}", o.row.title);
    }
    let stands = |uid: &str| stages.get(uid).map_or("", |s| s.0.as_str());
    assert_eq!(stands("demo-honey-cake"), "read");
    assert_eq!(stands("demo-pumpkin-damper"), "weigh");
    assert_eq!(stands("demo-mustard-sauce"), "screen");
    assert_eq!(stands("demo-plum-buns"), "screen");
    assert_eq!(stands("demo-lemon-cake"), "bench");
    assert_eq!(stands("demo-tin-loaf"), "card");
    assert_eq!(stages["demo-lemon-cake"].2, 3);
    let open = app.kitchen.open_batches().expect("batches");
    assert_eq!(open.len(), 1);
    for path in ["", "/finish"] {
        let bench = get(&app, &format!("/bench/{}{path}", open[0].id)).await;
        assert_eq!(bench.status, StatusCode::OK);
        must_say_demo(&bench.text());
    }
    for path in ["/", "/bin", "/larder", "/larder/new", "/blends", "/kitchen"] {
        must_say_demo(&get(&app, path).await.text());
    }
    // A day to come is planned.
    let day = app.kitchen.days(false).expect("days").remove(0);
    let show = async || loop {
        let page = get(&app, &format!("/days/{}", day.id)).await.text();
        if !page.contains("being planned") {
            return page;
        }
    };
    let page = show().await;
    must_say_demo(&page);
    assert!(
        page.contains("Stall at the green") && page.contains("It cannot begin later"),
        "{page}"
    );
    // Looked at again it is not planned again.
    let row = app.kitchen.day(day.id).expect("the day");
    let answer = row.day.answers.map(|a| store::Answer {
        unproven_by: 5,
        ..a
    });
    app.kitchen
        .hold_day(day.id, row.rev, &row.day.held, answer)
        .expect("held");
    let page = show().await;
    assert!(
        page.contains("Begin ") && !page.contains("It cannot begin later"),
        "{page}"
    );
    let used = app.kitchen.uses_of("demo-soft-dough").expect("uses");
    assert_eq!(used.iter().map(|u| u.2).collect::<Vec<_>>(), [2, 1]);
    let buns = app
        .kitchen
        .by_uid("demo-plum-buns")
        .expect("a row")
        .expect("the buns");
    let page = get(&app, &format!("/recipe/{}/read", buns.id)).await.text();
    assert!(page.contains("version 2 exists"));
}

#[tokio::test]
async fn the_demo_touches_nothing_that_is_here() {
    const FLATBREAD: &str = "Flatbread\n\n2 cups plain flour\n120 g water\n";
    let folder = tempfile::tempdir().expect("a folder");
    let app = app_in(Kitchen::open(folder.path()).expect("a kitchen"), false);
    let page = get(&app, "/").await.text();
    assert!(
        page.contains("<a class=\"button\" href=\"/demo\">Look around in the demo kitchen</a>")
    );
    let added = [("text", FLATBREAD), ("locale", "uk")];
    let added = post(&app, "/recipes", &added).await;
    assert_eq!(added.status, StatusCode::SEE_OTHER);
    post(&app, "/kitchen", &settings_form(&[])).await;
    let state = async || {
        let id = ids(&app).expect("recipes");
        let mut pages = Vec::new();
        for path in ["figures.json", "card.html?keep"] {
            pages.push(get(&app, &format!("/recipe/{}/{path}", id[0])).await.text());
        }
        (
            id,
            app.kitchen.larder_rev().expect("a rev"),
            app.kitchen.own_entries().expect("entries"),
            app.kitchen.blends(false).expect("blends").len(),
            (*app.settings().expect("settings")).clone(),
            app.kitchen.settings().expect("settings"),
            pages,
        )
    };
    let before = state().await;
    let first = get(&app, "/demo").await;
    assert_eq!(first.status, StatusCode::SEE_OTHER, "{}", first.text());
    assert!(first.to().starts_with("http://127.0.0.1:") && first.to() != app.address());
    assert_eq!(get(&app, "/demo").await.to(), first.to(), "once a run");
    assert!(folder.path().join("demo").join("kitchen.db").exists());
    assert_eq!(state().await, before);
    assert!(!before.4.demo);
    for path in ["/", "/larder", "/kitchen"] {
        let page = get(&app, path).await.text();
        assert!(!page.contains("are invented"), "{path} is no demo");
    }
    let page = get(&app, "/kitchen").await.text();
    assert!(page.contains("href=\"/demo\""), "always on offer here");
    assert_eq!(
        post(&app, "/kitchen/demo", &[]).await.status,
        StatusCode::NOT_FOUND,
        "it no longer comes in"
    );
    let afresh = post(&app, "/kitchen/afresh", &[]).await;
    assert_eq!(afresh.status, StatusCode::NOT_FOUND, "not an own kitchen");
    assert_eq!(state().await, before);
}

#[tokio::test]
async fn the_demo_is_kept_and_begins_afresh_when_asked() {
    let folder = tempfile::tempdir().expect("a folder");
    let app = app_in(Kitchen::open(folder.path()).expect("a kitchen"), false);
    let demo = demo_of(&app);
    assert_ne!(demo.seal, app.seal);
    let post = async |path: &str, fields: &[(&str, &str)]| {
        let mut all = vec![("seal", demo.seal.as_str())];
        all.extend_from_slice(fields);
        let request = request(Method::POST, path, HERE)
            .header(header::ORIGIN, format!("http://{HOST}"))
            .body(form(&all));
        send(&demo, request.expect("a request")).await
    };
    let text = [
        ("text", "Flatbread\n\n200 g plain flour\n"),
        ("locale", "uk"),
    ];
    assert_eq!(post("/recipes", &text).await.status, StatusCode::SEE_OTHER);
    for path in ["/kitchen/backup", "/kitchen/export"] {
        let answer = match path {
            "/kitchen/export" => get(&demo, path).await,
            _ => post(path, &[]).await,
        };
        assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY, "{path}");
        assert!(answer.text().contains("the demo kitchen"), "{path}");
    }
    assert!(!backups::make_if_due(&demo).expect("no backup"));
    let page = get(&demo, "/kitchen").await.text();
    for words in [
        "Back up",
        "Backups kept",
        "Keep the archive",
        "unwheat --share",
        "href=\"/demo\"",
    ] {
        assert!(!page.contains(words), "{words}");
    }
    assert_eq!(get(&demo, "/demo").await.to(), "/");
    assert_eq!(ids(&demo_of(&app)).expect("recipes").len(), 10, "kept");
    let asked = post("/kitchen/afresh", &[]).await;
    assert_eq!(asked.to(), "/kitchen?afresh");
    assert_eq!(ids(&demo).expect("recipes").len(), 10, "not at once");
    drop(demo);
    assert_eq!(ids(&demo_of(&app)).expect("recipes").len(), 9);
    assert_eq!(ids(&demo_of(&app)).expect("recipes").len(), 9, "once");
}

#[tokio::test]
async fn a_kitchen_that_stands_where_the_demo_goes_stays_as_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let app = app_in(Kitchen::open(folder.path()).expect("a kitchen"), false);
    let other = Kitchen::open(&folder.path().join("demo")).expect("a kitchen");
    let other = app_in(other, false);
    let text = [
        ("text", "Flatbread\n\n200 g plain flour\n"),
        ("locale", "uk"),
    ];
    post(&other, "/recipes", &text).await;
    let answer = get(&app, "/demo").await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(answer.text().contains("another kitchen"));
    assert_eq!(ids(&other).expect("recipes").len(), 1);
}
