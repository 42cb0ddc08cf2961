//! Blends: the kitchen's own and the house's, how to mix a batch, and what to write on the jar.

mod form;
mod history;
mod keep;
mod label;
mod list;
mod mixing;
mod one;
#[cfg(test)]
mod tests;
mod wanted;
mod work_out;

use super::app::{App, Shared};
use super::fault::Fault;
use super::page::{Page, Way};
use axum::Router;
use axum::response::Response;
use axum::routing::{get, post as on_post};
use maud::Markup;
pub use wanted::Wanted;

/// A batch when none is asked for, g of flours and starches.
const BATCH: f64 = 2_000.0;
/// Batches that a kitchen can mix, g.
const BATCHES: std::ops::RangeInclusive<f64> = 10.0..=200_000.0;

/// Its ways in.
pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/blends", get(list::list))
        .route("/blends/new", get(keep::fresh).post(keep::add))
        .route("/blends/work-out", get(work_out::show))
        .route("/blends/{key}", get(one::show))
        .route("/blends/{key}/change", get(keep::edit).post(keep::save))
        .route("/blends/{key}/bin", on_post(keep::bin))
}

fn page(app: &App, title: &str, main: &Markup, beside: Option<Markup>) -> Result<Response, Fault> {
    Page {
        title,
        way: Way::Blends,
        scripts: if beside.is_some() {
            &["blend.js", "typed.js"]
        } else {
            &[]
        },
        beside,
    }
    .show(app, main)
}
