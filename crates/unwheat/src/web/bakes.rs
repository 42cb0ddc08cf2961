//! What was baked.

use super::app::{App, Shared};
use super::fault::Fault;
use super::recipe::Open;
use axum::Router;
use maud::{Markup, html};

/// Its ways in.
pub fn routes() -> Router<Shared> {
    Router::new()
}

/// The Bakes page of a recipe.
pub fn body(_app: &App, _o: &Open) -> Result<Markup, Fault> {
    Ok(html! {})
}
