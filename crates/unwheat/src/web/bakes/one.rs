//! The page of one bake: its record, which stays as it is, and what is added to it later.

use super::{Bench, as_read, facts, find, later, otherwise, record};
use crate::web::app::{App, Shared, run};
use crate::web::bench::batch_sheet::{Task, times};
use crate::web::bench::style;
use crate::web::fault::Fault;
use crate::web::page::{self, back_to, moment};
use crate::web::post::Post;
use crate::web::recipe::{Leaf, Open, around, change, head, open};
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use quantity::Locale;
use store::Later;

/// Most letters of a note.
const MOST: usize = 4000;
/// Most letters of a name.
const NAME: usize = 80;

/// The page.
pub async fn show(
    State(app): State<Shared>,
    Path((id, batch)): Path<(i64, i64)>,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let o = open(app, id)?;
        let bake = find(app, id, batch)?;
        whole(app, &o, &bake, None, None)
    })
    .await
}

/// Adds a note.
pub async fn add(
    State(app): State<Shared>,
    Path((id, batch)): Path<(i64, i64)>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let bake = find(app, id, batch)?;
        let note = match note(post.text("text"), post.text("who"), app.now()) {
            Ok(note) => note,
            Err(words) => {
                let o = open(app, id)?;
                let page = whole(app, &o, &bake, Some(&post), Some(&words))?;
                return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
            }
        };
        app.kitchen.add_later(batch, &note)?;
        Ok(back_to(&format!("/recipe/{id}/bakes/{batch}#later")))
    })
    .await
}

/// Takes a bake out of the counts, or back into them, by a note. Its record stays.
pub async fn mistake(
    State(app): State<Shared>,
    Path((id, batch)): Path<(i64, i64)>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        find(app, id, batch)?;
        let counts = post.text("counts") == "1";
        let text = if counts {
            "A bake after all."
        } else {
            "Finished by mistake: it counts as no bake."
        };
        let note = Later {
            at: app.now(),
            who: app.settings()?.baker.clone(),
            text: text.to_owned(),
            counts: Some(counts),
        };
        app.kitchen.add_later(batch, &note)?;
        let o = open(app, id)?;
        let summary = change::summarise(app, &o, &o.draft.sheet);
        app.kitchen.refresh_summary(id, &summary)?;
        Ok(back_to(&format!("/recipe/{id}/bakes/{batch}")))
    })
    .await
}

/// The note of a form, or what is wrong with it.
fn note(text: &str, who: &str, at: i64) -> Result<Later, String> {
    let text = text.replace("\r\n", "\n");
    if text.is_empty() {
        return Err(
            "Nothing was added: write a few words under ‘What to add’, then send it again."
                .to_owned(),
        );
    }
    let long = text.chars().count();
    if long > MOST {
        return Err(format!(
            "Nothing was added: a note holds {MOST} letters and this one has {long}. Shorten it, or add it as two."
        ));
    }
    let who = who.chars().take(NAME).collect();
    Ok(Later {
        at,
        who,
        text,
        counts: None,
    })
}

fn whole(
    app: &App,
    o: &Open,
    (b, number): &(Bench, usize),
    post: Option<&Post>,
    trouble: Option<&str>,
) -> Result<Response, Fault> {
    let main = html! {
        (head(app, o, Leaf::Bakes))
        (style())
        section.sheet aria-labelledby="bake" {
            h2 #bake { "Bake " (number) }
            (standing(app, b))
            (as_recorded(b, o.home()))
            (done(b))
        }
        @if !b.batch.later.is_empty() {
            section.sheet aria-labelledby="later" {
                h2 #later { "Added later" }
                (later("", &b.batch.later))
            }
        }
        section.sheet aria-labelledby="add" {
            (form(app, o, b, post, trouble))
            p { a href=(o.at(Leaf::Bakes)) { "All bakes" } }
        }
    };
    around(app, o, Leaf::Bakes, &main)
}

/// Whether it counts, and the way to say otherwise.
fn standing(app: &App, b: &Bench) -> Markup {
    let counts = b.batch.counts();
    html! {
        @if !counts { p.trouble { strong { "Finished by mistake: it counts as no bake." } " Its record stays below." } }
        form method="post" action={ "/recipe/" (b.batch.recipe) "/bakes/" (b.batch.id) "/mistake" } {
            (page::seal(app))
            @if counts { button.small.plain name="counts" value="0" { "It was finished by mistake" } }
            @else { button.small name="counts" value="1" { "It was a bake after all" } " " a href={ "/recipe/" (b.batch.recipe) "/bench" } { "Start it again at the bench" } }
        }
    }
}

/// The record as it was kept when the batch was finished.
fn as_recorded(b: &Bench, home: Locale) -> Markup {
    let bake = record(&b.batch);
    let who = if bake.who.is_empty() {
        &b.batch.who
    } else {
        &bake.who
    };
    html! {
        p { (moment(b.batch.finished.unwrap_or(b.batch.started))) @if !who.is_empty() { ", " (who) } ". " span.n { "× " (times(b.batch.factor)) } ", " (b.version()) "." @if !b.plan.gluten.is_empty() { " " span.tag.warn { "contains gluten" } } }
        table.ledger.pair {
            caption { "The record, as it was kept" }
            tbody {
                tr { th scope="row" { "Weighed otherwise" } td { (otherwise(b)) } }
                @for f in facts(&bake) { @if let Some(value) = &f.value {
                    tr { th scope="row" { (f.name) } td.n[!f.told].told[f.told] { @if f.told { (value) } @else { (as_read(value, home)) } } }
                } }
            }
        }
    }
}

/// When each step was ticked, in the order of the clock.
fn done(b: &Bench) -> Markup {
    let mut all: Vec<(i64, &Task)> = b
        .plan
        .tasks
        .iter()
        .filter_map(|t| Some((b.mark(&t.item).filter(|m| m.ticked)?.at, t)))
        .collect();
    all.sort_by_key(|(at, _)| *at);
    let of = |t: &Task| {
        let part = b.plan.components.get(t.component);
        part.map_or("", |c| c.name.as_str()).to_owned()
    };
    html! {
        @if !all.is_empty() {
            table.ledger.pair {
                caption { "When the steps were ticked" }
                tbody { @for (at, t) in &all {
                    tr { th scope="row" { (t.name) @if !of(t).is_empty() { " (" (of(t)) ")" } }
                        td.n { (moment(at / 1000)) @if let Some(end) = t.end { ", planned " (moment(end)) } } }
                } }
            }
        }
    }
}

fn form(app: &App, o: &Open, b: &Bench, post: Option<&Post>, trouble: Option<&str>) -> Markup {
    let text = post.map_or("", |p| p.raw("text"));
    let who = post.map_or(o.settings.baker.as_str(), |p| p.raw("who"));
    html! {
        h2 #add { "Add to this bake" }
        @if let Some(words) = trouble { p.trouble #trouble role="alert" { (words) } }
        form method="post" action={ "/recipe/" (b.batch.recipe) "/bakes/" (b.batch.id) "#add" } {
            (page::seal(app))
            p.hint #about { "How it kept, a taster's word, a weight or a temperature forgotten. The record above stays as it is; what you add cannot be changed either." }
            label for="text" { "What to add" }
            textarea #text name="text" rows="3" maxlength=(MOST) aria-describedby=[Some(if trouble.is_some() { "trouble about" } else { "about" })] aria-invalid=[trouble.map(|_| "true")] { (text) }
            div.row {
                div { label for="who" { "Who" } input #who name="who" maxlength=(NAME) value=(who); }
                button.do { "Add to this bake" }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_note_has_words_and_an_end() {
        for (text, want) in [
            ("", Err("Nothing was added: write")),
            ("Dry.\r\nOn day 2.", Ok("Dry.\nOn day 2.")),
            (&"é".repeat(4000), Ok(&*"é".repeat(4000))),
            (&"é".repeat(4001), Err("this one has 4001")),
        ] {
            let got = note(text, "Bram", 7);
            match (got, want) {
                (Ok(got), Ok(want)) => {
                    assert_eq!(
                        (got.text.as_str(), got.who.as_str(), got.at),
                        (want, "Bram", 7)
                    );
                }
                (Err(got), Err(want)) => assert!(got.contains(want), "{got}"),
                (got, want) => panic!("{got:?} is not {want:?}"),
            }
        }
    }
}
