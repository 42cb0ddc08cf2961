//! A batch of a day is started at the bench.

use super::planned::planned;
use crate::web::app::{Shared, run};
use crate::web::bench::begin;
use crate::web::fault::Fault;
use crate::web::post::Post;
use axum::extract::{Path, State};
use axum::http::header;
use axum::response::Response;

/// Starts the batch of a recipe of the day, and says which day it is of.
pub async fn start(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    mut post: Post,
) -> Result<Response, Fault> {
    let place = post.text("place").to_owned();
    let row = app.kitchen.day(id)?;
    let uid = row.uid.clone();
    let held = app.clone();
    let day = tokio::task::spawn_blocking(move || planned(&held, row))
        .await
        .map_err(Fault::inside)??;
    let made = place
        .parse()
        .ok()
        .and_then(|p: usize| day.made.iter().find(|m| m.place == p))
        .ok_or_else(|| Fault::bad("That recipe is no longer on this day: load the page again."))?;
    let asked = &day.row.day.recipes[made.place];
    post.set("factor", made.factor.to_string());
    post.set(
        "of",
        asked.version.map_or("draft".to_owned(), |v| v.to_string()),
    );
    post.set("who", day.settings.baker.clone());
    let serve = asked.serve.as_ref().or(day.row.day.serve.as_ref());
    post.set("serve", serve.cloned().unwrap_or_default());
    let answer = begin(State(app.clone()), Path(made.row.id), post).await?;
    let batch = answer
        .headers()
        .get(header::LOCATION)
        .and_then(|to| to.to_str().ok()?.rsplit('/').next()?.parse::<i64>().ok());
    run(app, move |app| {
        if let Some(batch) = batch {
            app.kitchen.put_batch_day(batch, &uid)?;
        }
        Ok(answer)
    })
    .await
}
