//! Days: several recipes planned together, with what is next by the clock of this machine.

mod form;
mod list;
mod next;
mod one;
mod planned;
mod start;
#[cfg(test)]
mod tests;

use super::app::Shared;
use axum::Router;
use axum::routing::{get, post as on_post};

/// Its ways in.
pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/days", get(list::show).post(form::add))
        .route("/days/{id}", get(one::show).post(form::change))
        .route("/days/{id}/rest", on_post(form::rest))
        .route("/days/{id}/undo", on_post(form::undo))
        .route("/days/{id}/bin", on_post(form::bin))
        .route("/days/{id}/start", on_post(start::start))
        .route("/days/{id}/next", get(next::show))
        .route("/days/{id}/day.ics", get(one::calendar))
}

/// The style sheet of these pages; it may stand in the body.
fn style() -> maud::Markup {
    maud::html! { link rel="stylesheet" href="/assets/shop.css"; }
}
