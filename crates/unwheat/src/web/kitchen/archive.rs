//! The archive: the whole kitchen in one file, out and in.

use super::typed::Typed;
use super::{backups, ids, is_here, page, refresh, whole};
use crate::web::app::{App, Shared, run};
use crate::web::fault::{Fault, log};
use crate::web::post::Post;
use crate::web::recipe::card::file_name;
use axum::extract::{ConnectInfo, State};
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use std::collections::HashSet;
use std::net::SocketAddr;
use store::Imported;

/// Its part of the page.
pub fn section(app: &App) -> Markup {
    html! {
        section.sheet aria-labelledby="archive" {
            h2 #archive { "The whole kitchen as one file" }
            p { "Recipes with every version, larder entries, blends, bakes and settings in one zip file: to put by, or for another machine." }
            p { a.button href="/kitchen/export" download { "Keep the archive" } }
            h3 { "Take an archive in" }
            p.hint { "Nothing here is overwritten, and the kitchen is backed up first. A recipe or blend that is here already and differs comes in beside it." }
            form method="post" action="/kitchen/import" enctype="multipart/form-data" {
                (page::seal(app))
                label for="zip" { "Archive (zip)" }
                input #zip type="file" name="file" accept=".zip,application/zip" required data-needed="Choose the archive first.";
                p { button { "Take it in" } }
            }
        }
    }
}

/// The archive, as a file with the day in its name.
pub async fn export(State(app): State<Shared>) -> Result<Response, Fault> {
    run(app, |app| {
        if app.own.is_some() {
            return Err(Fault::bad(
                "the demo kitchen gives no archive: what is invented is not for another kitchen",
            ));
        }
        let zip = app.kitchen.export()?;
        let settings = app.settings()?;
        let kitchen = match settings.kitchen.as_str() {
            "" => "kitchen".to_owned(),
            name => file_name(name),
        };
        let name = format!("{kitchen}-{}.zip", page::day(app.now()));
        Ok((
            [
                (header::CONTENT_TYPE, "application/zip".to_owned()),
                (
                    header::CONTENT_DISPOSITION,
                    format!("attachment; filename=\"{name}\""),
                ),
            ],
            zip,
        )
            .into_response())
    })
    .await
}

/// Why a file cannot be an archive, where its look tells.
fn no_archive(bytes: &[u8]) -> Option<&'static str> {
    let has = |what: &[u8]| bytes.windows(what.len()).any(|w| w == what);
    // A zip names its files as they are, and ends with a list of them.
    if !bytes.starts_with(b"PK") || !has(b"kitchen.json") {
        Some("This file is no kitchen archive: choose the zip that Keep the archive gave you.")
    } else if !has(b"PK\x05\x06") {
        Some("This archive is not whole: its end is missing. Copy it again from where you have it.")
    } else {
        None
    }
}

/// Takes an archive in and shows what came.
pub async fn import(
    State(app): State<Shared>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let refused = post.file.as_ref().and_then(|f| no_archive(&f.1));
        let (status, said) = match (&post.file, refused) {
            (None, _) => (
                StatusCode::UNPROCESSABLE_ENTITY,
                trouble("No file was chosen: choose the zip of a kitchen."),
            ),
            (Some((name, _)), Some(words)) => (
                StatusCode::UNPROCESSABLE_ENTITY,
                trouble(&format!("{name} was not taken in. {words}")),
            ),
            (Some((name, bytes)), None) => {
                let before: HashSet<i64> = ids(app)?.into_iter().collect();
                let kept = backups::put_by(app)?;
                match app.kitchen.import(bytes, app.now()) {
                    Ok(done) => {
                        app.forget_settings();
                        // New facts of foods may say more of the recipes that were here.
                        let all = done.entries_added > 0 || done.blends_added > 0;
                        refresh(app, |id| all || !before.contains(&id))?;
                        // Old backups that stay are told on the Kitchen page; what came in is in.
                        if let Err(f) = backups::prune(app) {
                            log(&format!("old backups stay: {f:?}"));
                        }
                        (StatusCode::OK, came(app, name, &done, kept.as_deref()))
                    }
                    Err(e) => {
                        if let Err(f) = backups::take_away(app, kept.as_deref()) {
                            log(&format!("a backup for nothing stays: {f:?}"));
                        }
                        match Fault::from(e) {
                            Fault::Bad(words) => (
                                StatusCode::UNPROCESSABLE_ENTITY,
                                trouble(&format!("{name} was not taken in. {words}")),
                            ),
                            other => return Err(other),
                        }
                    }
                }
            }
        };
        let typed = Typed::of(&*app.settings()?);
        let page = whole(app, is_here(peer), &typed, None, Some(&said))?;
        Ok((status, page).into_response())
    })
    .await
}

fn trouble(words: &str) -> Markup {
    html! { p.trouble role="alert" { (words) } }
}

/// '3 recipes', 'one recipe'.
fn count(n: u32, one: &str, many: &str) -> String {
    if n == 1 {
        format!("one {one}")
    } else {
        format!("{n} {many}")
    }
}

/// What an archive brought, in words, and the way back to the backup that was made before.
fn came(app: &App, name: &str, done: &Imported, kept: Option<&str>) -> Markup {
    let mut new = Vec::new();
    for (n, one, many) in [
        (done.recipes_added, "recipe", "recipes"),
        (done.recipes_kept_both, "second recipe", "second recipes"),
        (done.blends_added, "blend", "blends"),
        (done.blends_kept_both, "second blend", "second blends"),
        (done.entries_added, "larder entry", "larder entries"),
        (done.batches_added, "bake", "bakes"),
        (done.days_added, "day", "days"),
    ] {
        if n > 0 {
            new.push(count(n, one, many));
        }
    }
    if done.settings {
        new.push("the settings".to_owned());
    }
    let mut old = Vec::new();
    for (n, one, many) in [
        (done.recipes_same, "recipe", "recipes"),
        (done.entries_kept, "larder entry", "larder entries"),
    ] {
        if n > 0 {
            old.push(count(n, one, many));
        }
    }
    html! {
        section.sheet role="status" {
            h2 { "Taken in: " (name) }
            @if new.is_empty() { p { "Nothing in it is new here." } } @else { p { "New: " (new.join(", ")) "." } }
            @if !old.is_empty() { p { "Here already: " (old.join(", ")) "." } }
            @if !done.notes.is_empty() { ul { @for n in &done.notes { li { (n) } } } }
            @if let Some(kept) = kept.filter(|_| !new.is_empty()) {
                (backups::way_back(app, kept, "The kitchen as it was before is kept", "Go back to before"))
            }
            p { a href="/" { "All recipes" } }
        }
    }
}
