//! A food's page, and the built-in figures taken again.

use super::typed::{Typed, UNSAVED, kept};
use super::{checked, entry_now, food, form, query_word, shown, style};
use crate::web::app::{App, Pantry, Shared, locale, run};
use crate::web::fault::Fault;
use crate::web::kitchen::law;
use crate::web::page::{self, back_to, day};
use crate::web::post::Post;

use axum::extract::{Path, RawQuery, State as Held};
use axum::response::Response;
use larder::{FoodId, Larder};
use maud::{Markup, html};
use store::Query;

/// A food's page.
pub async fn show(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    query: RawQuery,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let pantry = app.pantry()?;
        let settings = app.settings()?;
        let entry = entry_now(app, &key)?;
        let mut form = form::filled(entry.as_ref(), &settings, &day(app.now()));
        let asked = query.0.as_deref().unwrap_or_default();
        if let Some((_, back)) = form_urlencoded::parse(asked.as_bytes()).find(|q| q.0 == "back") {
            form.put("back", page::own_path(&back));
        }
        form.put("base", app.kitchen.own_history(&key)?.len().to_string());
        let said = kept(query.0.as_deref(), "Kept.");
        food_page(app, &pantry, &key, &form, &said)
    })
    .await
}

pub fn food_page(
    app: &App,
    pantry: &Pantry,
    key: &str,
    form: &Typed,
    said: &Markup,
) -> Result<Response, Fault> {
    let larder = &pantry.larder;
    let built_in = app.built_in();
    let settings = app.settings()?;
    let regime = law(&settings);
    let changed = app.kitchen.own_history(key)?;
    let entry = entry_now(app, key)?;
    let has_own = entry.is_some();
    let broken = match &entry {
        Some(e) => checked(app, e)?.err(),
        None => None,
    };
    let broken = html! {
        @if let Some(e) = &broken {
            p.trouble role="alert" { "What your kitchen wrote of this food is left out until it is mended below. " (page::sentence(&form::told(e))) }
        }
    };
    let built = built_in.by_key(key);
    let Some(id) = larder.by_key(key) else {
        // A food of the kitchen's own that was taken out, or cannot be used.
        if changed.is_empty() {
            return Err(Fault::Missing("such food in the larder".to_owned()));
        }
        let name = changed
            .iter()
            .find_map(|c| c.entry.as_ref()?.name.clone())
            .unwrap_or_else(|| key.to_owned());
        let main = html! {
            (style())
            p { a href="/larder" { "Larder" } }
            h1 { (name) }
            @if has_own {
                (broken)
                (own_form(app, built_in, None, key, form))
            } @else { p { "It was taken out of the larder. What was known of it stands below; if you need it, " a href={ "/larder/new?name=" (query_word(&name)) } { "put it in again" } "." } }
            (food::history(&changed, locale(&settings)))
        };
        return shown(app, &name, &main);
    };
    let f = larder.food(id);
    let used = app.kitchen.list(&Query {
        words: larder.plain_name(id).to_owned(),
        limit: 8,
        ..Query::default()
    })?;
    let main = html! {
        (style())
        (said)
        p { @match form.some("back") {
            Some(back) => a href=(page::own_path(back)) { "Back to where you were" },
            None => a href="/larder" { "Larder" },
        } }
        (food::head(larder, id, built.is_none()))
        (broken)
        div.spread.even {
            div {
                (food::gluten(larder, id, regime))
                (food::weights(larder, id, &settings.locale))
            }
            div {
                (food::composition(larder, built_in, id))
                (food::behaves(larder, id))
                (food::recipes(&used.rows, used.total))
            }
        }
        (own_form(app, built_in, built, key, form))
        @if has_own {
            form.sheet.row method="post" action={ "/larder/" (key) "/drop" } {
                (page::seal(app))
                input type="hidden" name="who" value=(settings.baker);
                @if built.is_some() {
                    p.grow { "Your figures can be put aside; their history stays." }
                    button { "Take the built-in figures again" }
                } @else {
                    p.grow { "Taken out, recipes no longer find it. Its history stays." }
                    button { "Take this food out of the larder" }
                }
            }
        }
        (food::history(&changed, locale(&settings)))
    };
    shown(app, &f.name, &main)
}

fn own_form(app: &App, built_in: &Larder, food: Option<FoodId>, key: &str, form: &Typed) -> Markup {
    html! {
        section.sheet aria-labelledby="own" {
            h2 #own { "What your kitchen knows of it" }
            form.entry method="post" action={ "/larder/" (key) (UNSAVED) } data-keep data-typed[form.is_wrong()] {
                (page::seal(app))
                @if let Some(back) = form.some("back") { input type="hidden" name="back" value=(page::own_path(back)); }
                (form::fields(form, built_in, food, &form::measures(built_in, food)))
            }
        }
    }
}

/// The built-in figures again.
pub async fn drop_own(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let built = app.built_in().by_key(&key).is_some();
        let why = if built {
            "built-in figures taken again"
        } else {
            "taken out of the larder"
        };
        app.kitchen
            .drop_own(&key, post.text("who"), why, app.now())?;
        Ok(back_to(&if built {
            format!("/larder/{key}")
        } else {
            "/larder".to_owned()
        }))
    })
    .await
}
