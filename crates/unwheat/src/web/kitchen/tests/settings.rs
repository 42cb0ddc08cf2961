//! The settings: kept, obeyed, undone; what is wrong is said at its field.

use super::super::*;
use super::{app, get, post};
use axum::http::StatusCode;
use larder::allergen::Regime;
use std::sync::Arc;

/// What the form sends when nothing is changed but `changed`.
pub(super) fn settings_form<'a>(changed: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
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
pub(super) async fn choose(app: &Shared, changed: &[(&str, &str)]) -> (String, String, String) {
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
        "scale: 2 g → 5 g; oven: fan → gas; into the drawer: 1 cup; out of the drawer: ½ cup";
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
        "scale: 5 g → 2 g; oven: gas → fan; into the drawer: ½ cup; out of the drawer: 1 cup";
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

/// 20 °C lower (NSW Health recipe conversion sheet, seen): the source's 180 °C and the 200 °C of the baker's
/// own method are 160 and 180 °C in the kitchen's fan oven, wherever they stand.
#[tokio::test]
async fn the_plan_and_the_own_steps_are_told_for_the_fan_oven() {
    let app = app();
    let text = "Oat squares\n\n200 g plain flour\n100 g butter\n100 g sugar\n2 eggs\n2 tsp baking powder\n\n1. Mix all in a bowl.\n2. Bake at 180 °C for 25 minutes in a 20 cm square tin.\n";
    let at = post(&app, "/recipes", &[("text", text), ("locale", "uk")]).await;
    let recipe = at.to().trim_end_matches("/read").to_owned();
    let page = |leaf: &'static str| {
        let (app, at) = (Arc::clone(&app), format!("{recipe}/{leaf}"));
        async move { get(&app, &at).await.text() }
    };
    assert!(!page("plan").await.contains("your fan oven"));
    let settings = Settings {
        locale: "uk".to_owned(),
        oven: "fan".to_owned(),
        ..Settings::default()
    };
    app.set_settings(&settings).expect("kept");
    let plan = page("plan").await;
    assert!(
        plan.contains("in the oven at 180 °C (in your fan oven 160 °C)"),
        "{plan}"
    );
    assert!(
        page("plan.ics")
            .await
            .replace("\r\n ", "")
            .contains("(in your fan oven 160 °C)")
    );
    assert!(
        page("card")
            .await
            .contains("180 °C is in your fan oven 160 °C")
    );
    let own = "Mix.\nBake at 200 °C for 20 minutes.";
    let sent = [
        ("change", r#"{"field":"method","text":null}"#),
        ("value", own),
        ("rev", "1"),
        ("over", "1"),
        ("leaf", "card"),
    ];
    let answer = post(&app, &format!("{recipe}/change"), &sent).await;
    assert_eq!(answer.status, StatusCode::SEE_OTHER, "{}", answer.text());
    let card = page("card").await;
    assert!(
        card.contains("200 °C is in your fan oven 180 °C")
            && !card.contains("180 °C is in your fan oven"),
        "{card}"
    );
    assert!(
        page("plan")
            .await
            .contains("in the oven at 200 °C (in your fan oven 180 °C)")
    );
}

/// A kitchen that never said whose law it goes by is asked on the Screen page, once.
#[tokio::test]
async fn the_law_on_labels_is_asked_once_where_it_is_missed() {
    let app = app();
    let text = "Rice cakes\n\n200 g rice flour\n2 eggs\n100 g butter\n";
    let to = post(&app, "/recipes", &[("text", text), ("locale", "uk")]).await;
    let recipe = to.to().trim_end_matches("/read").to_owned();
    for leaf in ["screen", "card"] {
        let page = get(&app, &format!("{recipe}/{leaf}")).await.text();
        assert!(page.contains("It is asked once"), "{leaf}");
        assert!(page.contains("href=\"/kitchen#regime\""), "{leaf}");
    }
    let back = format!("{recipe}/screen#allergens");
    let kept = post(&app, "/kitchen/law", &[("regime", "eu"), ("back", &back)]).await;
    assert_eq!(kept.to(), back);
    let page = get(&app, &format!("{recipe}/screen")).await.text();
    assert!(!page.contains("It is asked once"));
    assert!(page.contains("href=\"/kitchen#regime\""));
}
