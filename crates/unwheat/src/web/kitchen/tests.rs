//! Tests of the kitchen's page, archive, backups, demo and door, through the router.

mod back;

use super::*;
use crate::web::router;
use axum::body::{Body, to_bytes};
use axum::http::{Method, Request, StatusCode, header};
use larder::Larder;
use larder::allergen::Regime;
use std::collections::BTreeMap;
use std::sync::Arc;
use store::Kitchen;
use tower::ServiceExt;

const HOST: &str = "127.0.0.1:7420";
const SEAL: &str = "0123456789abcdef0123456789abcdef";
const HERE: [u8; 4] = [127, 0, 0, 1];
const TABLET: [u8; 4] = [192, 0, 2, 20];

fn app_in(kitchen: Kitchen, share: bool) -> Shared {
    let larder = Larder::built_in().expect("the built-in tables");
    let share = share
        .then(|| share::Share::new("http://192.0.2.7:7420".to_owned()).expect("random numbers"));
    let hosts = vec![HOST.to_owned(), "192.0.2.7:7420".to_owned()];
    let app = App::new(kitchen, larder, SEAL.to_owned(), hosts, share).expect("an app");
    Arc::new(app)
}

fn app() -> Shared {
    app_in(Kitchen::in_memory().expect("a kitchen"), false)
}

fn request(method: Method, path: &str, from: [u8; 4]) -> axum::http::request::Builder {
    Request::builder()
        .method(method)
        .uri(path)
        .header(header::HOST, HOST)
        .extension(ConnectInfo(SocketAddr::from((from, 50_000))))
}

struct Answer {
    status: StatusCode,
    headers: axum::http::HeaderMap,
    bytes: Vec<u8>,
}

impl Answer {
    fn text(&self) -> String {
        String::from_utf8_lossy(&self.bytes).into_owned()
    }
    fn to(&self) -> &str {
        let to = self.headers.get(header::LOCATION);
        to.and_then(|v| v.to_str().ok()).unwrap_or_default()
    }
}

async fn send(app: &Shared, request: Request<Body>) -> Answer {
    let answer = router(Arc::clone(app))
        .oneshot(request)
        .await
        .expect("an answer");
    let (parts, body) = answer.into_parts();
    Answer {
        status: parts.status,
        headers: parts.headers,
        bytes: to_bytes(body, usize::MAX).await.expect("a body").to_vec(),
    }
}

async fn get(app: &Shared, path: &str) -> Answer {
    let request = request(Method::GET, path, HERE).body(Body::empty());
    send(app, request.expect("a request")).await
}

fn form(fields: &[(&str, &str)]) -> Body {
    let mut out = form_urlencoded::Serializer::new(String::new());
    out.extend_pairs(fields);
    Body::from(out.finish())
}

async fn post(app: &Shared, path: &str, fields: &[(&str, &str)]) -> Answer {
    let state = app.kitchen.state();
    post_from(app, &state, path, fields).await
}

/// Sends a form of a page that shows the kitchen in some state.
async fn post_from(app: &Shared, state: &str, path: &str, fields: &[(&str, &str)]) -> Answer {
    let mut all = vec![("seal", SEAL), ("state", state)];
    all.extend_from_slice(fields);
    let request = request(Method::POST, path, HERE)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .body(form(&all));
    send(app, request.expect("a request")).await
}

async fn upload(app: &Shared, name: &str, bytes: &[u8]) -> Answer {
    upload_to(app, "/kitchen/import", name, bytes).await
}

async fn upload_to(app: &Shared, path: &str, name: &str, bytes: &[u8]) -> Answer {
    let mut body = Vec::new();
    body.extend(b"--x\r\nContent-Disposition: form-data; name=\"seal\"\r\n\r\n");
    body.extend(SEAL.as_bytes());
    body.extend(
        format!("\r\n--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\nContent-Type: application/zip\r\n\r\n").as_bytes(),
    );
    body.extend(bytes);
    body.extend(b"\r\n--x--\r\n");
    let request = request(Method::POST, path, HERE)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header(header::CONTENT_TYPE, "multipart/form-data; boundary=x")
        .body(Body::from(body));
    send(app, request.expect("a request")).await
}

/// What the form sends when nothing is changed but `changed`.
fn settings_form<'a>(changed: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    let mut all = vec![
        ("kitchen", "Harrow Lane"),
        ("baker", "Maud Ferris"),
        ("locale", "uk"),
        ("regime", "anz"),
        ("step", "2"),
        ("fine", "0"),
        ("shown", "1 cup"),
        ("shown", "1/2 cup"),
        ("scoop", "1/2 cup"),
        ("oven", "fan"),
        ("oven_note", "runs hot"),
        ("currency", "gbp"),
        ("theme", "dark"),
        ("keep", "3"),
        ("often", "6"),
    ];
    all.retain(|(name, _)| !changed.iter().any(|c| c.0 == *name));
    all.extend_from_slice(changed);
    all
}

#[tokio::test]
async fn settings_are_kept_and_obeyed() {
    let app = app();
    let answer = post(&app, "/kitchen", &settings_form(&[])).await;
    assert_eq!(
        (answer.status, answer.to()),
        (StatusCode::SEE_OTHER, "/kitchen?saved#last")
    );
    let s = app.settings().expect("settings");
    assert_eq!(
        (s.kitchen.as_str(), s.baker.as_str()),
        ("Harrow Lane", "Maud Ferris")
    );
    assert_eq!((s.locale.as_str(), s.regime.as_str()), ("uk", "anz"));
    assert_eq!((s.scale_step, s.fine_scale_step), (2.0, 0.0));
    assert_eq!((s.oven.as_str(), s.currency.as_str()), ("fan", "GBP"));
    assert_eq!((s.backups_keep, s.backup_hours), (3, 6));
    assert!(s.scoops.contains(&"1/2 cup".to_owned()));
    assert!(
        !s.scoops.contains(&"1 cup".to_owned()),
        "its box was shown and not ticked"
    );
    assert!(
        s.scoops.contains(&"1/8 tsp".to_owned()),
        "its box was not shown"
    );
    let page = get(&app, "/kitchen").await.text();
    assert!(page.contains("data-theme=\"dark\"") && page.contains("Harrow Lane"));
    assert_eq!(scale(&s).grams(quantity::Mass::grams(437.0), false), "438");
    assert_eq!(
        oven_words(&s, 180.0).as_deref(),
        Some("in your fan oven 160 °C")
    );
}

/// Sends the settings as they stand but for `changed`; the locale and law then kept.
async fn choose(app: &Shared, changed: &[(&str, &str)]) -> (String, String, String) {
    let now = app.settings().expect("settings");
    let mut fields = vec![
        ("locale", now.locale.as_str()),
        ("regime", now.regime.as_str()),
    ];
    fields.retain(|f| !changed.iter().any(|c| c.0 == f.0));
    fields.extend_from_slice(changed);
    let answer = post(app, "/kitchen", &settings_form(&fields)).await;
    let told = get(app, answer.to().trim_end_matches("#last")).await.text();
    let kept = app.settings().expect("settings");
    (kept.locale.clone(), kept.regime.clone(), told)
}

#[tokio::test]
async fn the_law_comes_with_the_first_measures_and_then_stays() {
    for (locale, law) in [("uk", "eu"), ("au", "anz"), ("metric", "eu")] {
        let app = app();
        assert_eq!(choose(&app, &[]).await.1, "us", "no measures chosen yet");
        let (_, regime, told) = choose(&app, &[("locale", locale)]).await;
        assert_eq!(regime, law, "{locale}");
        let name = Regime::from_word(law).expect("a law").name();
        assert!(
            told.contains(&format!("go by the law of: {name}")),
            "{told}"
        );
        assert!(!told.contains("/kitchen/law"), "nothing to offer");
        // Later measures leave it, and offer theirs for one press.
        let (_, regime, told) = choose(&app, &[("locale", "us")]).await;
        assert_eq!(regime, law);
        assert!(told.contains("/kitchen/law") && told.contains("Go by that of: United States"));
        let answer = post(&app, "/kitchen/law", &[("regime", "us")]).await;
        assert_eq!(answer.to(), "/kitchen?saved#last");
        assert_eq!(app.settings().expect("settings").regime, "us");
        // That was by hand: it stays.
        let (_, regime, _) = choose(&app, &[("locale", locale)]).await;
        assert_eq!(regime, "us");
    }
    // A law chosen by hand first, even back to the first one, and a law chosen with the measures.
    let app = app();
    choose(&app, &[("regime", "ca")]).await;
    choose(&app, &[("regime", "us")]).await;
    assert_eq!(choose(&app, &[("locale", "au")]).await.1, "us");
    let app = self::app();
    assert_eq!(
        choose(&app, &[("locale", "uk"), ("regime", "anz")]).await.1,
        "anz"
    );
    // A kitchen from before this was kept: it had chosen what is not the first value.
    let app = self::app();
    let old = Settings {
        locale: "uk".to_owned(),
        ..Settings::default()
    };
    app.set_settings(&old).expect("kept");
    assert_eq!(choose(&app, &[("locale", "au")]).await.1, "us");
    let answer = post(&app, "/kitchen/law", &[("regime", "moon")]).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
}

/// A recipe is told in the words of its measures, the kitchen's own pages in the kitchen's.
#[tokio::test]
async fn foods_are_called_as_the_measures_have_it() {
    let app = app();
    let text = "Plain scones\n\nIngredients\n225 g plain flour\n1 tsp bicarbonate of soda\n50 g icing sugar\n100 ml double cream\n2 tbsp maize starch\n\nMethod\nMix and bake at 200 C for 12 minutes.";
    let fields = [("text", text), ("locale", "uk")];
    let at = post(&app, "/recipes", &fields).await.to().to_owned();
    let recipe = at.trim_end_matches("/read").to_owned();
    let pages = |locale: &'static str| {
        let (app, recipe) = (Arc::clone(&app), recipe.clone());
        async move {
            let mut all = String::new();
            for leaf in ["read", "weigh", "screen", "rework", "card", "bench"] {
                let page = get(&app, &format!("{recipe}/{leaf}")).await.text();
                // The list of every food stands in the page for choosing.
                let body = page.split("<datalist").next().unwrap_or_default();
                all.push_str(&body.to_lowercase());
            }
            assert!(all.contains("tapioca starch"), "{locale}");
            all
        }
    };
    let uk = pages("uk").await;
    assert!(uk.contains("bicarbonate of soda") && uk.contains("cornflour"));
    for theirs in [
        "baking soda",
        "cornstarch",
        "corn starch",
        "powdered sugar",
        "all-purpose",
    ] {
        assert!(!uk.contains(theirs), "{theirs}");
    }
    assert!(
        get(&app, "/larder?words=flour")
            .await
            .text()
            .contains("<strong>all-purpose flour")
    );
    let change = r#"{"field":"locale","locale":"us"}"#;
    let sent = [
        ("change", change),
        ("rev", "1"),
        ("over", "1"),
        ("leaf", "read"),
    ];
    let answer = post(&app, &format!("{recipe}/change"), &sent).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text());
    let us = pages("us").await;
    for ours in ["baking soda", "cornstarch", "powdered sugar"] {
        assert!(us.contains(ours), "{ours}");
    }
    let settings = Settings {
        locale: "uk".to_owned(),
        ..Settings::default()
    };
    app.set_settings(&settings).expect("kept");
    assert!(
        get(&app, "/larder?words=flour")
            .await
            .text()
            .contains("<strong>plain flour")
    );
}

#[tokio::test]
async fn the_last_change_of_the_settings_is_undone_and_done_again() {
    let app = app();
    assert!(!get(&app, "/kitchen").await.text().contains("Changed last"));
    post(&app, "/kitchen", &settings_form(&[])).await;
    let changed = [("oven", "gas"), ("step", "5"), ("scoop", "1 cup")];
    post(&app, "/kitchen", &settings_form(&changed)).await;
    let what =
        "scale: 2 g → 5 g; oven: fan → gas; into the drawer: 1 cup; out of the drawer: 1/2 cup";
    assert!(
        get(&app, "/kitchen")
            .await
            .text()
            .contains(&format!("Changed last: {what}."))
    );
    // From a page that shows an older change, nothing is undone.
    let stale = post(&app, "/kitchen/undo", &[("what", "scale: 1 g → 2 g")]).await;
    assert_eq!(stale.status, StatusCode::CONFLICT);
    assert_eq!(app.settings().expect("settings").oven, "gas");
    let answer = post(&app, "/kitchen/undo", &[("what", what)]).await;
    assert_eq!(answer.to(), "/kitchen?undone#last");
    let s = app.settings().expect("settings");
    assert_eq!((s.oven.as_str(), s.scale_step), ("fan", 2.0));
    let page = get(&app, "/kitchen").await.text();
    let again =
        "scale: 5 g → 2 g; oven: gas → fan; into the drawer: 1/2 cup; out of the drawer: 1 cup";
    assert!(page.contains(again), "{page}");
    post(&app, "/kitchen/undo", &[("what", again)]).await;
    assert_eq!(app.settings().expect("settings").oven, "gas");
}

#[tokio::test]
async fn earlier_settings_are_gone_back_to() {
    let app = app();
    post(&app, "/kitchen", &settings_form(&[("oven", "gas")])).await;
    post(
        &app,
        "/kitchen",
        &settings_form(&[("oven", "gas"), ("hands", "2")]),
    )
    .await;
    post(
        &app,
        "/kitchen",
        &settings_form(&[("oven", "gas"), ("hands", "3")]),
    )
    .await;
    let page = get(&app, "/kitchen").await.text();
    assert!(page.contains("pairs of hands: 2 → 3"), "{page}");
    assert!(page.contains("pairs of hands: 1 → 2"), "{page}");
    // Past two changes at once, and that is undone too.
    let back = [("what", "pairs of hands: 1 → 3")];
    assert_eq!(
        post(&app, "/kitchen/undo", &back).await.to(),
        "/kitchen?undone#last"
    );
    let s = app.settings().expect("settings");
    assert_eq!((s.hands, s.oven.as_str()), (1, "gas"));
    post(&app, "/kitchen/undo", &[("what", "pairs of hands: 3 → 1")]).await;
    assert_eq!(app.settings().expect("settings").hands, 3);
}

#[tokio::test]
async fn what_is_wrong_is_said_at_its_field_and_stays_typed() {
    let app = app();
    let long = "x".repeat(81);
    let changed = [
        ("currency", "pounds"),
        ("keep", "none"),
        ("kitchen", long.as_str()),
    ];
    let answer = post(&app, "/kitchen", &settings_form(&changed)).await;
    assert_eq!(answer.status, StatusCode::UNPROCESSABLE_ENTITY);
    let page = answer.text();
    for words in [
        "three letters",
        "whole number",
        "too long",
        "POUNDS",
        &long,
        "Maud Ferris",
    ] {
        assert!(page.contains(words), "{words}");
    }
    assert_eq!(page.matches("aria-invalid=\"true\"").count(), 3);
    assert_eq!(
        app.settings().expect("settings").baker,
        "",
        "nothing was kept"
    );
}

#[tokio::test]
async fn a_kitchen_elsewhere_is_offered_its_own_currency() {
    let app = app();
    let offered = "Ask them in GBP";
    assert!(!get(&app, "/kitchen").await.text().contains(offered));
    let uk = store::Settings {
        locale: "uk".to_owned(),
        ..store::Settings::default()
    };
    app.set_settings(&uk).expect("kept");
    assert!(get(&app, "/kitchen").await.text().contains(offered));
    post(&app, "/kitchen/currency", &[]).await;
    assert_eq!(app.settings().expect("settings").currency, "GBP");
    assert!(!get(&app, "/kitchen").await.text().contains(offered));
}

#[test]
fn ovens_in_words() {
    let of = |oven: &str, c| {
        let s = Settings {
            oven: oven.to_owned(),
            ..Settings::default()
        };
        oven_words(&s, c)
    };
    assert_eq!(of("still", 180.0), None);
    assert_eq!(of("gas", 180.0).as_deref(), Some("in your gas oven mark 4"));
    assert_eq!(of("gas", 500.0), None);
}

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
    assert_eq!(stands("demo-mustard-sauce"), "rework");
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
    assert!(page.contains("line 1, column 1"), "text has lines");
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
async fn only_own_names_and_own_forms_are_answered() {
    let app = app();
    let with = |host: &str, origin: Option<&str>, site: Option<&str>| {
        let mut r = Request::builder()
            .method(Method::POST)
            .uri("/kitchen/backup")
            .header(header::HOST, host)
            .extension(ConnectInfo(SocketAddr::from((HERE, 50_000))));
        if let Some(o) = origin {
            r = r.header(header::ORIGIN, o);
        }
        if let Some(s) = site {
            r = r.header("sec-fetch-site", s);
        }
        r.body(form(&[("seal", SEAL)])).expect("a request")
    };
    let own = format!("http://{HOST}");
    for (host, origin, site, want) in [
        (HOST, Some(own.as_str()), None, StatusCode::SEE_OTHER),
        (HOST, None, Some("same-origin"), StatusCode::SEE_OTHER),
        (HOST, None, None, StatusCode::SEE_OTHER),
        (
            HOST,
            Some("http://evil.example"),
            None,
            StatusCode::FORBIDDEN,
        ),
        (HOST, Some("null"), None, StatusCode::FORBIDDEN),
        (
            HOST,
            Some("https://127.0.0.1:7420"),
            None,
            StatusCode::FORBIDDEN,
        ),
        (
            HOST,
            Some("http://127.0.0.1:9999"),
            None,
            StatusCode::FORBIDDEN,
        ),
        (HOST, None, Some("cross-site"), StatusCode::FORBIDDEN),
        (HOST, None, Some("same-site"), StatusCode::FORBIDDEN),
        (
            "evil.example:7420",
            Some("http://evil.example:7420"),
            None,
            StatusCode::FORBIDDEN,
        ),
        (
            "127.0.0.1",
            Some("http://127.0.0.1"),
            None,
            StatusCode::FORBIDDEN,
        ),
        ("", Some("http://"), None, StatusCode::FORBIDDEN),
    ] {
        let answer = send(&app, with(host, origin, site)).await;
        assert_eq!(answer.status, want, "{host} {origin:?} {site:?}");
    }
    let unsealed = request(Method::POST, "/kitchen/backup", HERE)
        .header(header::ORIGIN, &own)
        .body(form(&[("seal", "guessed")]));
    assert_eq!(
        send(&app, unsealed.expect("a request")).await.status,
        StatusCode::FORBIDDEN
    );
    let page = get(&app, "/kitchen").await;
    for name in [
        "content-security-policy",
        "x-content-type-options",
        "cross-origin-resource-policy",
        "cache-control",
    ] {
        assert!(page.headers.contains_key(name), "{name}");
    }
    let none = request(Method::GET, "/", TABLET)
        .body(Body::empty())
        .expect("a request");
    assert_eq!(
        send(&app, none).await.status,
        StatusCode::FORBIDDEN,
        "not shared"
    );
}

#[tokio::test]
async fn the_home_network_gets_in_by_the_passphrase_alone() {
    let app = app_in(Kitchen::in_memory().expect("a kitchen"), true);
    let share = app.share.as_ref().expect("a door");
    let ask = |path: &str, cookie: &str| {
        request(Method::GET, path, TABLET)
            .header(header::COOKIE, cookie)
            .body(Body::empty())
            .expect("a request")
    };
    for path in [
        "/",
        "/kitchen",
        "/kitchen/export",
        "/recipe/1/read",
        "/openx",
        "/assets",
    ] {
        let answer = send(&app, ask(path, "unwheat_door=")).await;
        assert_eq!(
            (answer.status, answer.to()),
            (StatusCode::SEE_OTHER, "/open"),
            "{path}"
        );
    }
    let door = send(&app, ask("/open", "")).await;
    assert_eq!(door.status, StatusCode::OK);
    assert!(
        !door.text().contains(SEAL),
        "strangers do not learn the seal"
    );
    assert_eq!(
        send(&app, ask("/assets/workbench.css", "")).await.status,
        StatusCode::OK
    );
    let unknown = request(Method::POST, "/kitchen/backup", TABLET)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .body(form(&[("seal", SEAL)]));
    assert_eq!(send(&app, unknown.expect("a request")).await.to(), "/open");
    assert!(ids(&app).expect("recipes").is_empty());
    let give = |words: &str| {
        request(Method::POST, "/open", TABLET)
            .header(header::ORIGIN, format!("http://{HOST}"))
            .body(form(&[("passphrase", words)]))
            .expect("a request")
    };
    assert_eq!(
        send(&app, give("acorn acorn acorn acorn")).await.status,
        StatusCode::FORBIDDEN
    );
    let opened = send(&app, give(&share.passphrase)).await;
    assert_eq!(opened.status, StatusCode::SEE_OTHER);
    let cookie = opened.headers[header::SET_COOKIE]
        .to_str()
        .expect("a cookie");
    assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"));
    let pair = cookie.split(';').next().expect("a pair").to_owned();
    let page = send(&app, ask("/kitchen", &pair)).await;
    assert_eq!(page.status, StatusCode::OK);
    let text = page.text();
    assert!(
        !text.contains(&share.passphrase) && !text.contains("<svg"),
        "not for other devices"
    );
    assert!(!text.contains("/demo"), "the demo is on this machine alone");
    let demo = send(&app, ask("/demo", &pair)).await;
    assert_eq!(demo.status, StatusCode::FORBIDDEN);
    let here = get(&app, "/kitchen").await.text();
    assert!(here.contains(&share.passphrase) && here.contains("QR code of http://192.0.2.7:7420"));
}
