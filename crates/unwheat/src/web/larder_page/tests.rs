//! The larder's pages, asked as a browser asks them.

use super::keep::{add, fresh, save};
use super::label::label;
use super::list::list;
use super::one::{drop_own, show};
use crate::web::app::{App, Shared};
use crate::web::fault::Fault;
use crate::web::page::day;
use crate::web::post::Post;
use crate::web::recipe::screen::whole_verdict;
use axum::body::{Body, to_bytes};
use axum::extract::{FromRequest, Path, RawQuery, Request, State as Held};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use larder::{Larder, OwnEntry};
use std::future::Future;
use std::sync::Arc;
use store::Kitchen;

/// A workbench over an empty kitchen.
pub fn workbench() -> Shared {
    let kitchen = Kitchen::in_memory().expect("a kitchen");
    let larder = Larder::built_in().expect("tables");
    let app = App::new(kitchen, larder, "seal".to_owned(), Vec::new(), None);
    Arc::new(app.expect("a workbench"))
}

/// Runs a handler: status, where it sends, what it shows.
pub fn done(
    handler: impl Future<Output = Result<Response, Fault>>,
) -> (StatusCode, String, String) {
    let runtime = tokio::runtime::Builder::new_current_thread()
        .enable_time()
        .build()
        .expect("a runtime");
    runtime.block_on(async {
        let response = match handler.await {
            Ok(r) => r,
            Err(f) => f.into_response(),
        };
        let status = response.status();
        let to = response
            .headers()
            .get(header::LOCATION)
            .map_or(String::new(), |v| {
                v.to_str().expect("a plain path").to_owned()
            });
        let bytes = to_bytes(response.into_body(), 1 << 22)
            .await
            .expect("a body");
        (
            status,
            to,
            String::from_utf8_lossy(&bytes).replace('\u{a0}', " "),
        )
    })
}

/// A form as a browser sends it.
pub fn form_of(app: &Shared, live: bool, fields: &[(&str, &str)]) -> Post {
    let mut body = form_urlencoded::Serializer::new(String::new());
    body.append_pair("seal", "seal");
    for (k, v) in fields {
        body.append_pair(k, v);
    }
    let mut request =
        Request::post("/").header(header::CONTENT_TYPE, "application/x-www-form-urlencoded");
    if live {
        request = request.header("x-live", "1");
    }
    let request = request.body(Body::from(body.finish())).expect("a request");
    tokio::runtime::Builder::new_current_thread()
        .build()
        .expect("a runtime")
        .block_on(Post::from_request(request, app))
        .expect("a form")
}

fn saved(app: &Shared, key: &str, fields: &[(&str, &str)]) -> (StatusCode, String, String) {
    let post = form_of(app, false, fields);
    done(save(Held(Arc::clone(app)), Path(key.to_owned()), post))
}

fn shown(app: &Shared, key: &str) -> String {
    done(show(
        Held(Arc::clone(app)),
        Path(key.to_owned()),
        RawQuery(None),
    ))
    .2
}

const WHO: [(&str, &str); 2] = [("who", "Maud"), ("why", "weighed anew")];

/// 130 g in a cup of 250 mL are 123 g in a US cup of 236.6 mL, as entries keep it; shown again as typed.
#[test]
fn a_kitchen_with_cups_of_250_ml_is_asked_for_those() {
    let app = workbench();
    let settings = store::Settings {
        locale: "au".to_owned(),
        ..store::Settings::default()
    };
    app.set_settings(&settings).expect("settings");
    let page = shown(&app, "sorghum_flour");
    for words in [
        "Cup of 250 mL",
        "Tablespoon of 20 mL",
        "name=\"measures\" value=\"au\"",
    ] {
        assert!(page.contains(words), "{words}");
    }
    assert!(!page.contains("Write 0.95 times"), "{page}");
    let fields = [("weights.cup", "130"), ("measures", "au"), WHO[0], WHO[1]];
    assert_eq!(
        saved(&app, "sorghum_flour", &fields).0,
        StatusCode::SEE_OTHER
    );
    let pantry = app.pantry().expect("the larder");
    let id = pantry
        .larder
        .by_key("sorghum_flour")
        .expect("sorghum flour");
    let cup = pantry.larder.measure(id, "cup", larder::State::Usual);
    let grams = cup.expect("a cup").grams.likely().as_grams();
    assert!((grams - 130.0 * 236.588 / 250.0).abs() < 0.01, "{grams}");
    let page = shown(&app, "sorghum_flour");
    assert!(page.contains("cup of 250 mL: 130 g"));
    assert!(
        page.contains("name=\"weights.cup\" inputmode=\"decimal\" value=\"130\""),
        "{page}"
    );
}

#[test]
fn an_own_weight_is_kept_shown_and_put_aside() {
    let app = workbench();
    let fields = [("weights.cup", "131 g"), WHO[0], WHO[1]];
    let (status, to, _) = saved(&app, "sorghum_flour", &fields);
    assert_eq!(
        (status, to.as_str()),
        (StatusCode::SEE_OTHER, "/larder/sorghum_flour?kept=1#kept")
    );
    let landed = RawQuery(Some("kept=1".to_owned()));
    let (_, _, page) = done(show(
        Held(Arc::clone(&app)),
        Path("sorghum_flour".to_owned()),
        landed,
    ));
    assert!(page.contains("role=\"status\"") && page.contains("Kept."));
    let page = shown(&app, "sorghum_flour");
    for words in [
        "weighed in this kitchen",
        "US cup: 131 g",
        "weighed anew",
        "Maud",
    ] {
        assert!(page.contains(words), "{words}");
    }
    // Another window does not know of it yet.
    let (status, _, page) = saved(
        &app,
        "sorghum_flour",
        &[("weights.cup", "140"), WHO[0], WHO[1]],
    );
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.contains("another window") || page.contains("Another window"));
    assert!(page.contains("value=\"140\""));
    let post = form_of(&app, false, &[("who", "Maud")]);
    let (status, ..) = done(drop_own(
        Held(Arc::clone(&app)),
        Path("sorghum_flour".to_owned()),
        post,
    ));
    assert_eq!(status, StatusCode::SEE_OTHER);
    let page = shown(&app, "sorghum_flour");
    assert!(
        !page.contains("weighed in this kitchen</span>")
            && page.contains("built-in figures taken again")
    );
}

#[test]
fn what_is_wrong_stands_by_its_field_and_nothing_typed_is_lost() {
    let app = workbench();
    let (status, _, page) = saved(
        &app,
        "millet_flour",
        &[
            ("weights.cup", "12x"),
            ("label.protein", "109"),
            ("note", "third shelf"),
            ("allergen.soy", "1"),
            ("who", "Maud"),
        ],
    );
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    for words in [
        "value=\"12x\"",
        "value=\"109\"",
        "value=\"third shelf\"",
        "id=\"f-weights-cup-wrong\"",
        "id=\"f-label-protein-wrong\"",
        "id=\"f-why-wrong\"",
        "href=\"#f-weights-cup\"",
        "id=\"unsaved\" role=\"alert\" tabindex=\"-1\" autofocus",
        "action=\"/larder/millet_flour#unsaved\"",
    ] {
        assert!(page.contains(words), "{words}");
    }
    assert!(page.contains("name=\"allergen.soy\" value=\"1\" checked"));
    assert!(app.kitchen.own_entries().expect("entries").is_empty());
}

/// The list says of a food what its own page says: that the label was read.
#[test]
fn a_food_whose_label_was_read_is_no_longer_to_check() {
    let app = workbench();
    let rows = |query: &str| {
        let query = RawQuery(Some(query.to_owned()));
        done(list(Held(Arc::clone(&app)), query)).2
    };
    assert!(rows("words=baking+powder&check=1").contains("/larder/baking_powder\""));
    let post = form_of(&app, false, &[("note", "lot 4"), ("kind", "labelled")]);
    let read = label(
        Held(Arc::clone(&app)),
        Path("baking_powder".to_owned()),
        post,
    );
    assert_eq!(done(read).0, StatusCode::SEE_OTHER);
    let page = rows("words=baking+powder");
    let row = page
        .split("/larder/baking_powder\"")
        .nth(1)
        .and_then(|r| r.split("</tr>").next())
        .expect("its row");
    assert!(row.contains("label says gluten-free"), "{row}");
    assert!(!row.contains("check the label"), "{row}");
    assert!(!rows("words=baking+powder&check=1").contains("/larder/baking_powder\""));
}

#[test]
fn a_label_read_on_the_screen_page_is_evidence_of_today() {
    let app = workbench();
    let read = |key: &str, kind: &str, back: &str| {
        let post = form_of(
            &app,
            false,
            &[("note", "lot 4"), ("kind", kind), ("back", back)],
        );
        done(label(Held(Arc::clone(&app)), Path(key.to_owned()), post))
    };
    let (status, to, _) = read("buckwheat_flour", "labelled", "/recipe/1/screen");
    assert_eq!(
        (status, to.as_str()),
        (StatusCode::SEE_OTHER, "/recipe/1/screen")
    );
    assert_eq!(read("teff_flour", "names_gluten", "//elsewhere").1, "/");
    assert_eq!(
        read("teff_flour", "free", "/").0,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    assert_eq!(
        read("no_such_food", "labelled", "/").0,
        StatusCode::UNPROCESSABLE_ENTITY
    );
    let today = day(app.now());
    let page = shown(&app, "buckwheat_flour").to_lowercase();
    assert!(page.contains(&format!("label says gluten-free, read on {today}: lot 4")));
    assert!(page.contains("verdict read\">label says gluten-free"));
    assert!(shown(&app, "teff_flour").contains("contains gluten"));
    // One label is no verdict on a whole recipe.
    let pantry = app.pantry().expect("a pantry");
    let text = "Bread\n\n200 g buckwheat flour\n100 g unsalted butter\n100 g water\n";
    let sheet = recipe::sheet::Sheet::new(text, quantity::Locale::Us);
    let w = recipe::sheet::work(&sheet, &[], &pantry.larder, &[]).expect("a recipe");
    let told = whole_verdict(&w.rework_screening, &pantry.larder).into_string();
    assert!(!told.contains("label says"), "{told}");
}

#[test]
fn a_food_of_ones_own_comes_goes_and_comes_back() {
    let app = workbench();
    let put = |name: &str| {
        let post = form_of(
            &app,
            false,
            &[("name", name), ("function", "flour"), WHO[0], WHO[1]],
        );
        done(add(Held(Arc::clone(&app)), post))
    };
    assert_eq!(
        put("Harrow crumb mix").1,
        "/larder/own_harrow_crumb_mix?kept=1#kept"
    );
    let (_, _, page) = done(list(
        Held(Arc::clone(&app)),
        RawQuery(Some("own=1".to_owned())),
    ));
    assert!(page.contains("Harrow crumb mix") && page.contains("1 food."));
    assert!(shown(&app, "own_harrow_crumb_mix").contains("check the label"));
    let (status, _, page) = put("");
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.contains("id=\"f-name-wrong\""));
    // A name of a food with gluten is not taken for another.
    assert_eq!(put("plain flour").0, StatusCode::UNPROCESSABLE_ENTITY);
    let post = form_of(&app, false, &[("who", "Maud")]);
    let key = || Path("own_harrow_crumb_mix".to_owned());
    assert_eq!(
        done(drop_own(Held(Arc::clone(&app)), key(), post)).1,
        "/larder"
    );
    assert!(shown(&app, "own_harrow_crumb_mix").contains("put it in again"));
    assert_eq!(
        put("Harrow crumb mix").1,
        "/larder/own_harrow_crumb_mix?kept=1#kept"
    );
    let past = app
        .kitchen
        .own_history("own_harrow_crumb_mix")
        .expect("history");
    assert_eq!(past.len(), 3);
    assert_eq!(
        done(show(Held(app), Path("nothing".to_owned()), RawQuery(None))).0,
        StatusCode::NOT_FOUND
    );
}

#[test]
fn a_food_put_in_from_a_recipe_goes_back_to_it() {
    let app = workbench();
    let asked = |query: &str| {
        let query = RawQuery(Some(query.to_owned()));
        done(fresh(Held(Arc::clone(&app)), query)).2
    };
    let page = asked("name=tamarind+cordial&back=%2Frecipe%2F3%2Fread");
    assert!(page.contains("value=\"tamarind cordial\""));
    assert!(page.contains("name=\"back\" value=\"/recipe/3/read\""));
    assert!(page.contains("href=\"/recipe/3/read\""));
    assert!(!asked("name=x&back=https%3A%2F%2Fexample.org").contains("example.org"));
    let put = |name: &str, back: &str| {
        let fields = [("name", name), ("function", "syrup"), ("back", back)];
        let fields = [fields.as_slice(), WHO.as_slice()].concat();
        done(add(Held(Arc::clone(&app)), form_of(&app, false, &fields)))
    };
    // What is wrong does not lose the way back.
    let (status, _, page) = put("", "/recipe/3/read");
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.contains("name=\"back\" value=\"/recipe/3/read\""));
    assert_eq!(
        put("tamarind cordial", "/recipe/3/read").1,
        "/recipe/3/read"
    );
    assert_eq!(put("tamarind cordial", "//example.org").1, "/");
}

#[test]
fn an_entry_that_cannot_be_used_is_named_and_can_be_mended() {
    let app = workbench();
    let mut bad = OwnEntry {
        key: "millet_flour".to_owned(),
        ..OwnEntry::default()
    };
    bad.weights.insert("cup".to_owned(), 9_000.0);
    app.kitchen
        .put_own(&bad, "Maud", "an old slip", 0)
        .expect("kept");
    let (_, _, page) = done(list(Held(Arc::clone(&app)), RawQuery(None)));
    assert!(page.contains("Left out until it is mended"));
    let page = shown(&app, "millet_flour");
    assert!(
        page.contains("is left out until it is mended below") && page.contains("value=\"9000\"")
    );
    let fields = [("weights.cup", "120"), ("base", "1"), WHO[0], WHO[1]];
    assert_eq!(
        saved(&app, "millet_flour", &fields).0,
        StatusCode::SEE_OTHER
    );
    assert!(!shown(&app, "millet_flour").contains("left out until"));
}

/// A label that was read for gluten alone leaves wheat, milk, soy and almond of a blend to be checked; read
/// through, by whom and when, it does not, until it is taken back.
#[test]
fn a_label_read_through_on_the_screen_page_settles_its_allergens() {
    let app = workbench();
    let read = |more: &[(&str, &str)]| {
        let all = [
            &[("note", "lot 4"), ("kind", "labelled"), ("back", "/")],
            more,
        ]
        .concat();
        let post = form_of(&app, false, &all);
        done(label(
            Held(Arc::clone(&app)),
            Path("gluten_free_flour_blend".to_owned()),
            post,
        ))
    };
    assert_eq!(read(&[]).0, StatusCode::SEE_OTHER);
    assert!(shown(&app, "gluten_free_flour_blend").contains("Check the label for:"));
    // Nobody has said who bakes here.
    assert_eq!(read(&[("all", "1")]).0, StatusCode::UNPROCESSABLE_ENTITY);
    let soy = [("all", "1"), ("allergen", "soy"), ("who", "Maud")];
    assert_eq!(read(&soy).0, StatusCode::SEE_OTHER);
    let page = shown(&app, "gluten_free_flour_blend");
    assert!(!page.contains("Check the label for:"), "{page}");
    assert!(page.contains("Contains: </strong>soybean"), "{page}");
    let said = format!(
        "All that its label names, read on {} by Maud (law: United States).",
        day(app.now())
    );
    assert!(page.contains(&said), "{page}");
    // The form of the larder says the same again.
    assert!(
        page.contains("name=\"read_through.all\" value=\"1\" checked"),
        "{page}"
    );
}
