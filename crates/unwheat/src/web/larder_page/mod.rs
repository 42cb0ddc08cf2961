//! The larder: what this kitchen knows of each food, and where it says so itself.

mod food;
pub mod form;
mod history;
mod keep;
mod label;
mod list;
mod measure;
mod one;
pub mod plain;
pub mod typed;

use crate::web::app::{App, Shared};
use crate::web::fault::Fault;
use crate::web::page::{Page, Way, day};
use axum::Router;
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post as on_post};
use larder::{OwnEntry, OwnError};
use maud::{Markup, html};

pub use food::rests_on;
pub use form::ALL_NAMED;
pub use label::{GRAINS, last_label, says_neither};

/// Its ways in.
pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/larder", get(list::list))
        .route("/larder/new", get(keep::fresh).post(keep::add))
        .route("/larder/{key}", get(one::show).post(keep::save))
        .route("/larder/{key}/drop", on_post(one::drop_own))
        .route("/larder/{key}/label", on_post(label::label))
        .route("/larder/{key}/label/back", on_post(label::label_back))
}

/// The style sheet of these pages; it may stand in the body.
pub fn style() -> Markup {
    html! { link rel="stylesheet" href="/assets/larder.css"; }
}

fn shown(app: &App, title: &str, main: &Markup) -> Result<Response, Fault> {
    Page {
        title,
        way: Way::Larder,
        scripts: &["typed.js"],
        beside: None,
    }
    .show(app, main)
}

fn unprocessable(response: Response) -> Response {
    (StatusCode::UNPROCESSABLE_ENTITY, response).into_response()
}

fn query_word(words: &str) -> String {
    form_urlencoded::byte_serialize(words.as_bytes()).collect()
}

/// The kitchen's entry of a key, also where it cannot be used.
pub fn entry_now(app: &App, key: &str) -> Result<Option<OwnEntry>, Fault> {
    Ok(app
        .kitchen
        .own_entries()?
        .into_iter()
        .find(|e| e.key == key))
}

/// Whether the larder can be had with the entry among the others.
pub fn checked(app: &App, entry: &OwnEntry) -> Result<Result<(), OwnError>, Fault> {
    let built_in = app.built_in();
    let of_now = || entry.check_days(&day(app.now()));
    if let Err(e) = entry.check(built_in).and_then(|()| of_now()) {
        return Ok(Err(e));
    }
    let mut all: Vec<OwnEntry> = app
        .kitchen
        .own_entries()?
        .into_iter()
        .filter(|e| e.key != entry.key && e.check(built_in).is_ok())
        .collect();
    all.push(entry.clone());
    Ok(built_in.with_own(&all).map(|_| ()))
}

#[cfg(test)]
pub mod tests;
