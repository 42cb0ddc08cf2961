//! A batch of a day is started at the bench.

use super::planned::planned;
use crate::web::app::{Shared, run};
use crate::web::bench::{Of, begun};
use crate::web::fault::Fault;
use crate::web::page::back_to;
use crate::web::post::Post;
use axum::extract::{Path, State};
use axum::response::Response;

/// Starts the batch of a recipe of the day, and says which day it is of.
pub async fn start(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    mut post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let day = planned(app, app.kitchen.day(id)?)?;
        let place = post.text("place").parse::<usize>().ok();
        let made = day.made.iter().find(|m| Some(m.place) == place);
        let made = made.ok_or_else(|| {
            Fault::bad("That recipe is no longer on this day: load the page again.")
        })?;
        let asked = &day.row.day;
        let version = asked.recipes[made.place].version;
        let who = match asked.who.as_str() {
            "" => &day.settings.baker,
            who => who,
        };
        post.set("factor", made.factor.to_string());
        post.set("of", version.map_or("draft".to_owned(), |v| v.to_string()));
        post.set("who", who);
        let of = Of::Day {
            day: asked,
            place: made.place,
            clock: &day.clock,
        };
        let batch = begun(app, made.row.id, &post, &of)?;
        app.kitchen.put_batch_day(batch, &day.row.uid)?;
        Ok(back_to(&format!("/bench/{batch}")))
    })
    .await
}
