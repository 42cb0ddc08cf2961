//! The bench.

use super::app::{App, Shared};
use super::fault::Fault;
use super::recipe::Open;
use axum::Router;
use maud::{Markup, html};
use recipe::sheet::Worked;

/// Its ways in.
pub fn routes() -> Router<Shared> {
    Router::new()
}

/// The Bench page of a recipe.
pub fn start(_app: &App, _o: &Open, _w: &Worked) -> Result<Markup, Fault> {
    Ok(html! {})
}
