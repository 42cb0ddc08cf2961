//! The page, as it is asked for.

use super::asked::{Asked, can_be_left_out};
use super::{answer, kept, show};
use crate::web::app::Shared;
use crate::web::larder_page::tests::{done, workbench};
use axum::extract::{RawQuery, State as Held};
use axum::http::HeaderMap;
use recipe::LeftOut;
use std::sync::Arc;

fn page(app: &Shared, query: &str) -> String {
    let query = RawQuery(Some(query.to_owned()));
    done(show(Held(Arc::clone(app)), query, HeaderMap::new())).2
}

#[test]
fn three_blends_stand_side_by_side() {
    let app = workbench();
    let page = page(&app, "style=lean_bread&flours=3");
    assert_eq!(page.matches("Keep as a blend of your own").count(), 3);
    assert_eq!(page.matches("Make-up beside the aim").count(), 3);
    for words in [
        "the middle of 18 published gluten-free formulas of lean yeast bread.",
        "A starting point for a test bake.",
        "Buy labelled gluten-free",
        "Allergens, United States",
        "as near as a usual published blend",
        ">2000<",
    ] {
        assert!(page.contains(words), "{words}");
    }
    assert!(!page.contains("NaN") && !page.contains("-0<"));
    assert!(!page.to_lowercase().contains("safe"));
}

/// What is asked stands before what is answered.
#[test]
fn what_is_left_out_stands_above_the_blends() {
    let app = workbench();
    let page = page(&app, "style=lean_bread");
    let at = |words: &str| page.find(words).unwrap_or_else(|| panic!("{words}"));
    assert!(at("Leave out") < at("Blends that fit"));
    assert!(at("Limits on the whole blend") < at("Blends that fit"));
    assert!(at("href=\"#choose\"") < at("Blends that fit"));
}

#[test]
fn thin_evidence_is_called_so() {
    let app = workbench();
    let pantry = app.pantry().expect("a pantry");
    for style in recipe::rework::style::Style::all() {
        let n = recipe::formulate::Target::of_style(style).formulas;
        let asked = Asked::read(&format!("style={}", style.key()), &pantry);
        let words = answer::evidence(&asked, n, None, &pantry.larder);
        assert_eq!(words.contains("thin evidence"), n < 6, "{words}");
    }
}

#[test]
fn what_cannot_be_stands_by_its_fields_and_stays_as_typed() {
    let app = workbench();
    for (query, fields, words) in [
        (
            "style=lean_bread&least.sorghum_flour=60&least.teff_flour=50",
            &["f-least-sorghum_flour", "f-least-teff_flour"][..],
            "cannot hold together: sorghum flour at least 60 %; teff flour at least 50 %",
        ),
        (
            "style=lean_bread&starch_least=60&starch_most=20",
            &["f-starch_least", "f-starch_most"],
            "starches at most 20 % together",
        ),
        (
            "style=lean_bread&flours=2&least.sorghum_flour=10&least.teff_flour=10&least.arrowroot=10",
            &["f-flours", "f-least-arrowroot"],
            "allow 3",
        ),
        (
            "style=lean_bread&most.teff_flour=2o",
            &["f-most-teff_flour"],
            "&#39;2o&#39; is no figure",
        ),
        (
            "style=lean_bread&most.teff_flour=200",
            &["f-most-teff_flour"],
            "from 0 to 100",
        ),
        (
            "style=lean_bread&within=0.5",
            &["f-within"],
            "it has no price",
        ),
        (
            "style=lean_bread&without=corn&least.corn_starch=10",
            &["f-least-corn_starch"],
            "corn is left out",
        ),
        (
            "style=lean_bread&asked=1",
            &["f-batch-none"],
            "no flour is ticked",
        ),
        (
            "style=lean_bread&asked=1&use=teff_flour&stock.teff_flour=100",
            &["f-batch"],
            "how much is to be mixed",
        ),
        (
            "style=lean_bread&also=almond+flower+x",
            &["f-also"],
            "no flour or starch",
        ),
        (
            "style=lean_bread&also=rye+flour",
            &["f-also"],
            "contains gluten",
        ),
        ("like=nothing_of_it", &["f-aim"], "no flour or starch"),
        ("aim=style.none", &["f-aim"], "no style is called"),
    ] {
        let page = page(&app, query);
        let low = page.to_lowercase().replace("&#39;", "'");
        let words = words.to_lowercase().replace("&#39;", "'");
        assert!(low.contains(&words), "{query}: {words}");
        for field in fields.iter().filter(|f| !f.ends_with("-none")) {
            assert!(
                page.contains(&format!("id=\"{field}-wrong\"")),
                "{query}: {field}"
            );
        }
        for (name, typed) in form_urlencoded::parse(query.as_bytes()) {
            if name.contains('.') || name == "also" {
                assert!(
                    page.contains(&format!("value=\"{typed}\"")),
                    "{query}: {typed}"
                );
            }
        }
        assert!(!page.contains("Keep as a blend"), "{query}");
    }
}

#[test]
fn a_flour_that_is_asked_about_is_answered() {
    let app = workbench();
    for (query, words) in [
        ("why=corn_starch&without=corn", "not used: corn is left out"),
        ("why=rye_flour", "not used: it contains gluten"),
        ("why=almond_flour", "it is not ticked; if it were, "),
        ("why=sorghum_flour", "Sorghum flour: "),
    ] {
        let page =
            page(&app, &format!("style=lean_bread&{query}")).replace("cornstarch", "corn starch");
        assert!(page.contains(words), "{query}");
    }
}

#[test]
fn a_blend_is_made_without_one_of_its_flours() {
    let app = workbench();
    let page = page(&app, "like=bread&not=millet_flour");
    assert!(page.contains("is made of; no published formula stands behind it"));
    assert!(page.contains("psyllium husk powder <small>on top</small>"));
    assert!(!page.contains("value=\"millet_flour\" checked"));
    assert!(page.contains("value=\"sorghum_flour\" checked"));
    let gone = self::page(&app, "like=bread&without=psyllium");
    assert!(!gone.contains("<small>on top</small>"));
}

#[test]
fn rows_of_other_flours_come_ticked_and_stay() {
    let app = workbench();
    let pantry = app.pantry().expect("a pantry");
    let used = |query: &str| {
        let asked = Asked::read(query, &pantry);
        let row = asked
            .rows
            .iter()
            .find(|r| pantry.larder.food(r.food).key == "almond_flour");
        row.map(|r| r.used)
    };
    assert_eq!(used("style=lean_bread"), None);
    assert_eq!(
        used("style=lean_bread&asked=1&use=teff_flour&also=almond+flour"),
        Some(true)
    );
    assert_eq!(
        used("asked=1&use=almond_flour&row=almond_flour"),
        Some(true)
    );
    assert_eq!(used("asked=1&use=teff_flour&row=almond_flour"), Some(false));
}

#[test]
fn only_what_flours_hold_can_be_left_out() {
    let app = workbench();
    let pantry = app.pantry().expect("a pantry");
    let all = can_be_left_out(&pantry.larder);
    assert!(all.contains(&LeftOut::Corn) && all.contains(&LeftOut::TreeNuts));
    assert!(!all.contains(&LeftOut::RefinedSugar) && !all.contains(&LeftOut::Yeast));
}

#[test]
fn a_fibre_comes_on_top_of_the_flours_and_is_kept_so() {
    let app = workbench();
    let page = page(&app, "style=lean_bread&also=oat+fibre&least.oat_fibre=2");
    assert!(page.contains("oat fiber <small>on top</small>"));
    let keep = page
        .split("name=\"keep\" value=\"")
        .nth(1)
        .expect("a blend");
    let keep = keep.split('"').next().expect("its parts");
    let (flours, fibre) = keep.rsplit_once(',').expect("several");
    let (key, percent) = fibre.split_once(':').expect("a percent");
    assert_eq!(key, "oat_fibre");
    // At least 2 % of everything is a little over 2 % of the flours.
    assert!(
        (2.0..=3.0).contains(&percent.parse().expect("a figure")),
        "{keep}"
    );
    let sum: f64 = flours
        .split(',')
        .map(|p| {
            p.split_once(':')
                .expect("a percent")
                .1
                .parse::<f64>()
                .expect("a figure")
        })
        .sum();
    assert_eq!(sum, 100.0, "the flours alone are the whole: {keep}");
    let pantry = app.pantry().expect("a pantry");
    let (kept, _) = kept(&format!("style=lean_bread&keep={keep}"), &pantry).expect("a blend");
    assert_eq!(kept.binders.len(), 1);
    assert_eq!(kept.binders[0].0, "oat_fibre");
}

#[test]
fn a_blend_that_is_kept_says_how_it_was_worked_out() {
    let app = workbench();
    let pantry = app.pantry().expect("a pantry");
    let keep = "keep=white_rice_flour:60,tapioca_starch:40";
    let (own, why) = kept(
        &format!("style=muffin_quick_bread&without=corn&flours=3&{keep}"),
        &pantry,
    )
    .expect("a blend");
    assert_eq!(own.parts.len(), 2);
    assert!(own.styles.is_empty(), "other recipes would move");
    assert!(why.starts_with("worked out for "), "{why}");
    for words in [
        "Worked out from 12 published",
        "without corn",
        "at most 3 flours",
        "test bake",
    ] {
        assert!(own.note.contains(words), "{}", own.note);
    }
    let (own, _) = kept(&format!("like=bread&not=millet_flour&{keep}"), &pantry).expect("a blend");
    assert_eq!(own.binders.len(), 1);
    assert!(own.note.contains("without millet flour"), "{}", own.note);
    for bad in [
        "style=lean_bread",
        "keep=x:1",
        "keep=",
        "style=lean_bread&keep=%00:1,teff_flour",
    ] {
        assert!(
            kept(bad, &pantry).is_none_or(|(own, _)| own.parts.is_empty()),
            "{bad}"
        );
    }
}
