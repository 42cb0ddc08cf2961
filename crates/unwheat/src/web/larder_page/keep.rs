//! The kitchen's own entries: a new food, and what is written of a known one.

use super::one::food_page;
use super::typed::{KEPT, Typed, UNSAVED, own_key, unsigned};
use super::{checked, entry_now, form, shown, style, unprocessable};
use crate::web::app::{App, Shared, run};
use crate::web::fault::Fault;
use crate::web::page::{self, back_to, day, own_path};
use crate::web::post::Post;

use axum::extract::{Path, RawQuery, State as Held};
use axum::response::Response;
use larder::OwnEntry;
use maud::{Markup, html};

/// The form of a food of the kitchen's own.
pub async fn fresh(Held(app): Held<Shared>, query: RawQuery) -> Result<Response, Fault> {
    run(app, move |app| {
        let settings = app.settings()?;
        let mut form = form::filled(None, &settings, &day(app.now()));
        form.put("why", "a food of our own");
        for (k, v) in form_urlencoded::parse(query.0.unwrap_or_default().as_bytes()) {
            match &*k {
                "name" => form.put("name", v.trim()),
                "back" => form.put("back", own_path(&v)),
                _ => {}
            }
        }
        shown(app, "A food of your own", &fresh_main(app, &form))
    })
    .await
}

fn fresh_main(app: &App, form: &Typed) -> Markup {
    html! {
        (style())
        p { @match form.some("back") {
            Some(back) => a href=(own_path(back)) { "Back to where you were" },
            None => a href="/larder" { "Larder" },
        } }
        h1 { "A food of your own" }
        section.sheet {
            p { "A name and what it does are enough. Weigh a cup, copy the label: each figure makes recipes with it better known." }
            form.entry method="post" action={ "/larder/new" (UNSAVED) } data-keep data-typed[form.is_wrong()] {
                (page::seal(app))
                @if let Some(back) = form.some("back") { input type="hidden" name="back" value=(own_path(back)); }
                (form::fields(form, app.built_in(), None, &form::measures(app.built_in(), None)))
            }
        }
    }
}

fn sent(post: &Post, measures: &[String]) -> Typed {
    let names = form::names(measures);
    Typed::sent(post, names.iter().map(String::as_str))
}

/// Puts in a food of the kitchen's own.
pub async fn add(Held(app): Held<Shared>, post: Post) -> Result<Response, Fault> {
    run(app, move |app| {
        let built_in = app.built_in();
        let measures = form::measures(built_in, None);
        let mut form = sent(&post, &measures);
        let taken = app.kitchen.own_entries()?;
        // One that was taken out and comes back goes on with its history.
        let key = own_key(form.get("name"), |k| {
            built_in.by_key(k).is_some() || taken.iter().any(|e| e.key == k)
        });
        let entry = form::entry(&mut form, &key, &measures, &app.pantry()?.larder);
        if !keep(app, &mut form, &entry)? {
            return Ok(unprocessable(shown(
                app,
                "A food of your own",
                &fresh_main(app, &form),
            )?));
        }
        Ok(match form.some("back") {
            Some(back) => back_to(own_path(back)),
            None => back_to(&format!("/larder/{key}{KEPT}")),
        })
    })
    .await
}

/// Keeps an own entry of a food.
pub async fn save(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let built_in = app.built_in();
        let food = built_in.by_key(&key);
        if food.is_none() && app.kitchen.own_history(&key)?.is_empty() {
            return Err(Fault::Missing("such food in the larder".to_owned()));
        }
        let measures = form::measures(built_in, food);
        let mut form = sent(&post, &measures);
        let entry = form::entry(&mut form, &key, &measures, &app.pantry()?.larder);
        let empty = OwnEntry {
            key: key.clone(),
            ..OwnEntry::default()
        };
        let past = app.kitchen.own_history(&key)?;
        if let Some(last) = past.first()
            && form.get("base").parse() != Ok(past.len())
        {
            form.wrong(
                "why",
                format!(
                    "another window changed this food since you opened it ({}): look below at what was changed, then save again to put yours over it",
                    last.why
                ),
            );
            form.put("base", past.len().to_string());
        }
        if entry == empty && !form.is_wrong() && entry_now(app, &key)?.is_none() {
            form.wrong(
                "why",
                "nothing is written above yet: write a weight, a figure of the label, or a note",
            );
        }
        if !keep(app, &mut form, &entry)? {
            let pantry = app.pantry()?;
            let page = food_page(app, &pantry, &key, &form, &html! {})?;
            return Ok(unprocessable(page));
        }
        Ok(match form.some("back") {
            Some(back) => back_to(own_path(back)),
            None => back_to(&format!("/larder/{key}{KEPT}")),
        })
    })
    .await
}

/// Keeps the entry where nothing is wrong with it; else notes in the form what is.
fn keep(app: &App, form: &mut Typed, entry: &OwnEntry) -> Result<bool, Fault> {
    unsigned(form);
    if let Err(e) = checked(app, entry)? {
        if e.entry == entry.key {
            form::note(form, &e);
        } else {
            form.wrong(
                "name",
                format!("this clashes with another entry of yours: {e}"),
            );
        }
    }
    if form.is_wrong() {
        return Ok(false);
    }
    app.kitchen
        .put_own(entry, form.get("who"), form.get("why"), app.now())?;
    app.signed_by(form.get("who"))?;
    Ok(true)
}
