//! The blends' pages, as they are asked for and as forms are sent.

use super::BATCH;
use super::keep::{add, bin, save};
use super::label::{jar, to_check};
use super::list::list;
use super::one::{batch, show};
use crate::web::larder_page::tests::{done, form_of, workbench};
use axum::extract::{Path, RawQuery, State as Held};
use axum::http::StatusCode;
use larder::Larder;
use larder::allergen::Regime;
use recipe::rework::blend::{self, OwnBlend};
use std::sync::Arc;
use store::Settings;

#[test]
fn batches_as_typed() {
    assert_eq!(batch(None), (BATCH, None));
    assert_eq!(batch(Some("")), (BATCH, None));
    assert_eq!(batch(Some("1500 g")), (1500.0, None));
    assert!(batch(Some("0")).1.is_some());
    assert!(batch(Some("two")).1.is_some());
    assert!(batch(Some("-5")).1.is_some());
}

#[test]
fn a_jar_names_what_to_check_and_promises_nothing() {
    let larder = Larder::built_in().expect("tables");
    let settings = Settings::default();
    for b in blend::house(&larder) {
        let s = b.screening(&larder);
        let label = jar(&larder, &b, &settings, &s, 0).into_string();
        let low = label.to_lowercase();
        assert!(
            !low.contains("gluten-free") && !low.contains("safe"),
            "{label}"
        );
        assert!(label.contains("Read the label"));
        let (check, mill) = to_check(&larder, &b, &s, false);
        for name in check.iter().chain(&mill) {
            assert!(label.contains(name.as_str()), "{name}");
        }
    }
}

/// US law lists no oats: what a jar with them must say does not hang on that list.
#[test]
fn a_jar_with_oats_names_them_under_every_law() {
    let larder = Larder::built_in().expect("tables");
    let own = OwnBlend {
        key: "own_oat".to_owned(),
        name: "oat blend".to_owned(),
        parts: vec![
            ("oat_flour".to_owned(), 60.0),
            ("corn_starch".to_owned(), 40.0),
        ],
        ..OwnBlend::default()
    };
    let b = own.blend(&larder).expect("a blend");
    let s = b.screening(&larder);
    for law in Regime::ALL {
        let settings = Settings {
            regime: law.word().to_owned(),
            ..Settings::default()
        };
        let label = jar(&larder, &b, &settings, &s, 0).into_string();
        assert!(label.contains(law.name()), "{label}");
        assert!(label.contains("<strong>Oats: </strong>"), "{label}");
        let never = label.contains("not gluten-free under this law");
        assert_eq!(never, *law == Regime::Anz, "{label}");
        assert_eq!(label.contains("only ones labelled"), !never, "{label}");
    }
}

#[test]
fn blends_are_told_in_the_words_of_the_kitchen() {
    let app = workbench();
    let mut settings = app.settings().expect("settings").as_ref().clone();
    settings.locale = "uk".to_owned();
    app.set_settings(&settings).expect("kept");
    let page = done(list(Held(Arc::clone(&app)))).2;
    assert!(page.contains("Glutinous rice flour for sauces"), "{page}");
    let page = done(show(
        Held(Arc::clone(&app)),
        Path("pastry".to_owned()),
        RawQuery(None),
    ))
    .2;
    assert!(page.contains("cornflour 25 %") && !page.contains("corn starch"));
    // What is shown can be typed, in any country's words.
    for starch in ["cornflour", "cornstarch", "Corn starch", "maize cornflour"] {
        let fields = with(&[("part.5", starch)]);
        let (status, _, page) = done(add(Held(Arc::clone(&app)), form_of(&app, false, &fields)));
        assert_eq!(status, StatusCode::SEE_OTHER, "{starch}: {page}");
    }
}

const GOOD: [(&str, &str); 8] = [
    ("name", "Weekend bread"),
    ("part.0", "sorghum flour"),
    ("share.0", "60"),
    ("part.5", "tapioca starch"),
    ("share.5", "40 %"),
    ("cup", "128"),
    ("who", "Maud"),
    ("why", "first"),
];

fn with<'a>(change: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
    GOOD.iter()
        .filter(|g| !change.iter().any(|c| c.0 == g.0))
        .chain(change)
        .copied()
        .collect()
}

#[test]
fn a_blend_is_made_changed_binned_and_taken_out_again() {
    let app = workbench();
    let made =
        |fields: &[(&str, &str)]| done(add(Held(Arc::clone(&app)), form_of(&app, false, fields)));
    let (status, to, _) = made(&GOOD);
    assert_eq!(
        (status, to.as_str()),
        (
            StatusCode::SEE_OTHER,
            "/blends/own_weekend_bread?kept=1#kept"
        )
    );
    // Another of the same name has a key of its own.
    assert_eq!(made(&GOOD).1, "/blends/own_weekend_bread_2?kept=1#kept");
    let key = || Path("own_weekend_bread".to_owned());
    let change = |fields: &[(&str, &str)]| {
        done(save(
            Held(Arc::clone(&app)),
            key(),
            form_of(&app, false, fields),
        ))
    };
    let fields = with(&[
        ("share.0", "55"),
        ("share.5", "45"),
        ("base", "1"),
        ("why", "drier"),
    ]);
    assert_eq!(change(&fields).0, StatusCode::SEE_OTHER);
    let (status, _, page) = change(&fields);
    assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
    assert!(page.contains("Another window saved version 2"));
    let (_, _, page) = done(show(
        Held(Arc::clone(&app)),
        key(),
        RawQuery(Some("batch=1001".to_owned())),
    ));
    for words in [
        "Version 2: drier",
        "sorghum flour: 60 % → 55 %",
        ">551<",
        ">450<",
        "128",
    ] {
        assert!(page.contains(words), "{words}");
    }
    assert!(!page.contains("Kept."));
    let landed = RawQuery(Some("kept=1".to_owned()));
    let (_, _, page) = done(show(Held(Arc::clone(&app)), key(), landed));
    assert!(page.contains("Kept. This is version 2 now."));
    let bin_it = |way: &str| {
        done(bin(
            Held(Arc::clone(&app)),
            key(),
            form_of(&app, false, &[("way", way)]),
        ))
    };
    assert_eq!(bin_it("in").1, "/blends");
    let (_, _, page) = done(list(Held(Arc::clone(&app))));
    assert!(page.contains("In the bin"));
    assert_eq!(bin_it("out").1, "/blends/own_weekend_bread");
}

#[test]
fn a_blend_that_cannot_be_stands_in_its_form_again() {
    let app = workbench();
    for (change, words) in [
        (vec![("share.0", "50")], "id=\"f-sum-wrong\""),
        (vec![("part.0", "wheat flour")], "id=\"f-part-0-wrong\""),
        (vec![("share.5", "4o")], "id=\"f-share-5-wrong\""),
        (vec![("cup", "12")], "id=\"f-cup-wrong\""),
        (vec![("name", "")], "id=\"f-name-wrong\""),
        (vec![("why", "")], "id=\"f-why-wrong\""),
        (
            vec![("binder.0", "potato starch"), ("dose.0", "2")],
            "id=\"f-binder-0-wrong\"",
        ),
    ] {
        let fields = with(&change);
        let (status, _, page) = done(add(Held(Arc::clone(&app)), form_of(&app, false, &fields)));
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{words}");
        assert!(page.contains(words), "{words}");
        for (_, typed) in fields.iter().filter(|f| !f.1.is_empty()) {
            assert!(page.contains(&format!("value=\"{typed}\"")), "{typed}");
        }
    }
    assert!(app.kitchen.blends(false).expect("blends").is_empty());
}

#[test]
fn blends_are_told_in_plain_words_with_the_cup_of_the_kitchen() {
    let app = workbench();
    let shown = |key: &str| {
        done(show(
            Held(Arc::clone(&app)),
            Path(key.to_owned()),
            RawQuery(None),
        ))
        .2
    };
    let keys: Vec<String> = blend::house(&app.pantry().expect("a pantry").larder)
        .iter()
        .map(|b| b.key.to_string())
        .collect();
    for key in &keys {
        let page = shown(key);
        assert!(page.contains("US cup, 237 mL"));
        for words in [
            "farinograph",
            "flour phase",
            "(seen)",
            "&gt;",
            "corn+rice",
            ">-0<",
        ] {
            assert!(!page.contains(words), "{key}: {words}");
        }
        assert!(!page.contains("250 mL"), "a US kitchen has the US cup");
    }
    let mut settings = app.settings().expect("settings").as_ref().clone();
    settings.locale = "au".to_owned();
    app.set_settings(&settings).expect("kept");
    let made = with(&[("share.0", "100"), ("part.5", ""), ("share.5", "")]);
    done(add(Held(Arc::clone(&app)), form_of(&app, false, &made)));
    let page = shown("own_weekend_bread");
    // 128 g to 236.6 mL are 135 g to 250 mL.
    assert!(page.contains(">135<") && page.contains("Australian cup, 250 mL"));
    // No starch is 0 %, never −0.
    assert!(
        page.contains("Starches</dt> <dd><span class=\"n\">0</span>")
            || page.contains("Starches</dt><dd><span class=\"n\">0</span>")
    );
}

#[test]
fn shares_are_summed_as_they_are_typed() {
    let app = workbench();
    let post = form_of(&app, true, &with(&[("share.0", "35")]));
    let (status, _, json) = done(add(Held(Arc::clone(&app)), post));
    assert_eq!(status, StatusCode::OK);
    assert!(json.contains("75 %: 25 % to go") && json.contains("<svg"));
    assert!(app.kitchen.blends(false).expect("blends").is_empty());
}
