//! Backups: whole copies of the kitchen's file, made while unwheat runs.

use super::page;
use crate::web::app::{App, Shared, run, run_alone};
use crate::web::fault::{Fault, log};
use crate::web::page::back_to;
use crate::web::post::Post;
use axum::Json;
use axum::extract::State;
use axum::response::Response;
use maud::{Markup, html};
use serde_json::{Value, json};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, UNIX_EPOCH};
use store::{Backup, Settings, StoreError, backups, prune_backups};

/// How often it is looked whether a backup is due: the laptop may have slept meanwhile.
const LOOK: Duration = Duration::from_secs(300);

/// Where a kitchen's backups are; nowhere where it is in memory only, or the demo.
fn folder(app: &App) -> Option<PathBuf> {
    if app.own.is_some() {
        return None;
    }
    app.kitchen.folder().map(|f| f.join("backups"))
}

/// When a backup was made, by its file.
fn made(backup: &Backup) -> Option<i64> {
    let at = std::fs::metadata(&backup.path).ok()?.modified().ok()?;
    let since = at.duration_since(UNIX_EPOCH).ok()?;
    i64::try_from(since.as_secs()).ok()
}

/// A file for a backup made now.
fn file(folder: &Path, now: i64) -> PathBuf {
    let time = jiff::Timestamp::from_second(now).map_or_else(
        |_| now.to_string(),
        |t| {
            t.to_zoned_datetime(jiff::tz::TimeZone::system())
                .strftime("%Y-%m-%d-%H%M")
                .to_string()
        },
    );
    let mut path = folder.join(format!("kitchen-{time}.db"));
    let mut n = 1;
    while path.exists() {
        n += 1;
        // Stands after the first one of the minute in the order of names.
        path = folder.join(format!("kitchen-{time}_{n}.db"));
    }
    path
}

/// Makes a backup; gives its name, where the kitchen keeps them. Older ones stay: they go with
/// [`prune`] once what it was made for is done.
pub(super) fn put_by(app: &App) -> Result<Option<String>, Fault> {
    let Some(folder) = folder(app) else {
        return Ok(None);
    };
    // Until the file is there another would choose its name.
    let _held = app.backing_up();
    let file = file(&folder, app.now());
    let done = app.kitchen.backup_to(&file);
    *app.backup_trouble() = done.as_ref().err().map(ToString::to_string);
    done?;
    let name = file.file_name().map(|n| n.to_string_lossy().into_owned());
    Ok(name)
}

/// Takes a backup away that was made for what then came to nothing: it would push an older one out.
pub(super) fn take_away(app: &App, name: Option<&str>) -> Result<(), Fault> {
    match named(app, name.unwrap_or_default())? {
        Some(backup) => std::fs::remove_file(backup.path).map_err(Fault::inside),
        None => Ok(()),
    }
}

/// Deletes the oldest backups beyond as many as the settings keep.
pub(super) fn prune(app: &App) -> Result<(), Fault> {
    let Some(folder) = folder(app) else {
        return Ok(());
    };
    let done = prune_backups(&folder, app.settings()?.backups_keep as usize);
    *app.backup_trouble() = done.as_ref().err().map(ToString::to_string);
    done?;
    Ok(())
}

/// Makes a backup in the place of the oldest.
fn make(app: &App) -> Result<(), Fault> {
    put_by(app)?;
    prune(app)
}

/// Makes a backup if the last one is older than the settings say.
pub(super) fn make_if_due(app: &App) -> Result<bool, Fault> {
    let Some(folder) = folder(app) else {
        return Ok(false);
    };
    let settings = app.settings()?;
    let last = backups(&folder)?.first().and_then(made);
    let hours = i64::from(settings.backup_hours.max(1));
    let due = last.is_none_or(|at| app.now() - at >= hours * 3600);
    if due {
        make(app)?;
    }
    Ok(due)
}

/// Keeps backups while the workbench runs: one at the start if the last is too old, then as the
/// settings say.
pub async fn keep_backups(app: Shared) {
    loop {
        let at_work = Arc::clone(&app);
        let done = tokio::task::spawn_blocking(move || {
            let _held = at_work.at_work();
            make_if_due(&at_work)
        });
        let done = done.await;
        if let Ok(Err(fault)) = done {
            let why = match fault {
                Fault::Inside(why) => why,
                other => other.told().2,
            };
            log(&format!("no backup was made: {why}"));
        }
        tokio::time::sleep(LOOK).await;
    }
}

/// Makes one now.
pub async fn now(State(app): State<Shared>, _sealed: Post) -> Result<Response, Fault> {
    run(app, |app| {
        if app.own.is_some() {
            return Err(Fault::bad("the demo kitchen keeps no backups"));
        }
        make(app)?;
        Ok(back_to("/kitchen?backed-up"))
    })
    .await
}

/// The backup of a name.
fn named(app: &App, name: &str) -> Result<Option<Backup>, Fault> {
    let all = match folder(app) {
        Some(folder) => backups(&folder)?,
        None => Vec::new(),
    };
    Ok(all.into_iter().find(|b| b.name == name))
}

/// Goes back to a backup. What stands here now is put by first, so that this can be taken back.
pub async fn restore(State(app): State<Shared>, post: Post) -> Result<Response, Fault> {
    run_alone(app, move |app| {
        let to = named(app, post.text("name"))?.ok_or_else(|| {
            Fault::bad(
                "that backup is not there any more: choose one from the list on the Kitchen page",
            )
        })?;
        let now = put_by(app)?.unwrap_or_default();
        if let Err(e) = app.kitchen.restore(&to.path) {
            log(&format!("{}: {e}", to.path.display()));
            if let Err(f) = take_away(app, Some(&now)) {
                log(&format!("{now} stays: {f:?}"));
            }
            let why = match e {
                StoreError::Damaged(_) => {
                    "It is damaged, or is no kitchen: choose another.".to_owned()
                }
                StoreError::Other(_) => {
                    "It could not be read or put in its place: try again, or choose another."
                        .to_owned()
                }
                e => e.to_string(),
            };
            return Err(Fault::bad(format!(
                "{} cannot be used, and the kitchen is as it was. {why}",
                to.name
            )));
        }
        Ok(back_to(&format!(
            "/kitchen?{BACK}={}&{LEFT}={now}",
            to.name
        )))
    })
    .await
}

/// Which state the kitchen is in, for the scripts of pages that show an earlier one.
pub async fn state(State(app): State<Shared>) -> Json<Value> {
    Json(json!({ "state": &*app.kitchen.state() }))
}

/// The names in the address after going back: the backup that counts now, and that of what stood here.
const BACK: &str = "back";
const LEFT: &str = "left";

/// That the kitchen went back to a backup, with the way to what stood here before it did.
pub(super) fn went_back(app: &App, query: &str) -> Result<Option<Markup>, Fault> {
    let of = |key: &str| {
        let mut pairs = form_urlencoded::parse(query.as_bytes());
        let found = pairs.find(|(k, _)| k == key);
        named(app, &found.map_or(String::new(), |(_, v)| v.into_owned()))
    };
    let (Some(back), Some(left)) = (of(BACK)?, of(LEFT)?) else {
        return Ok(None);
    };
    Ok(Some(html! {
        section.sheet role="status" {
            h2 { "The kitchen is as it was" @if let Some(at) = made(&back) { " on " (page::moment(at)) } }
            p { "It was brought back from " code { (back.name) } ". Pages that are open elsewhere say so, and take nothing more until they are loaded again." }
            (way_back(app, &left.name, "What stood here until now is kept", "Go back to that"))
        }
    }))
}

/// A backup by its name, with a button that goes back to it.
pub(super) fn way_back(app: &App, name: &str, words: &str, button: &str) -> Markup {
    html! {
        form method="post" action="/kitchen/restore" {
            (page::seal(app))
            input type="hidden" name="name" value=(name);
            p { (words) " as " code { (name) } ". " button { (button) } }
        }
    }
}

/// A file's size as people read it.
fn size(bytes: u64) -> String {
    let kb = bytes.div_ceil(1000);
    if kb < 1000 {
        format!("{kb} kB")
    } else {
        format!("{:.1} MB", kb as f64 / 1000.0)
    }
}

/// Their part of the page.
pub fn section(app: &App, settings: &Settings) -> Result<Markup, Fault> {
    const SHOWN: usize = 8;
    let Some(folder) = folder(app) else {
        return Ok(html! {});
    };
    let all = backups(&folder)?;
    let kitchen = app.kitchen.folder().map(|f| f.display().to_string());
    let trouble = app.backup_trouble().clone();
    let row = |b: &Backup| {
        html! {
            tr {
                td { (made(b).map(page::moment).unwrap_or_default()) br; small { (b.name) } }
                td.f { (size(b.bytes)) }
                td { form method="post" action="/kitchen/restore" {
                    (page::seal(app))
                    input type="hidden" name="name" value=(b.name);
                    button.small.plain { "Go back to this" span.unseen { ": " (b.name) } }
                } }
            }
        }
    };
    Ok(html! {
        section.sheet aria-labelledby="backups" {
            h2 #backups { "Backups" }
            @if let Some(words) = trouble { p.trouble role="alert" { "The last backup failed. " (words) } }
            p { "Made by itself while unwheat runs; the last " span.n { (settings.backups_keep) } " are kept in" br; small.path { (folder.display()) } }
            @if all.is_empty() { p { "No backup yet." } } @else {
                p.hint { "Going back to one puts all of it in the place of what is here. What is here is backed up first, so that you can come back." }
                table.ledger {
                    thead { tr { th scope="col" { "Made" } th.f scope="col" { "Size" } th scope="col" { span.unseen { "Go back" } } } }
                    tbody { @for b in all.iter().take(SHOWN) { (row(b)) } }
                }
                @if all.len() > SHOWN {
                    details {
                        summary { "Older ones (" (all.len() - SHOWN) ")" }
                        table.ledger {
                            thead { tr { th scope="col" { "Made" } th.f scope="col" { "Size" } th scope="col" { span.unseen { "Go back" } } } }
                            tbody { @for b in all.iter().skip(SHOWN) { (row(b)) } }
                        }
                    }
                }
            }
            form method="post" action="/kitchen/backup" { (page::seal(app)) p { button { "Back up now" } } }
            details {
                summary { "How to go back where unwheat does not start" }
                ol {
                    li { "Stop unwheat: Ctrl+C in its terminal." }
                    li { "Open the folder " small.path { (kitchen.unwrap_or_default()) } " and move " code { "kitchen.db" } ", " code { "kitchen.db-wal" } " and " code { "kitchen.db-shm" } " elsewhere, those that are there. Keep them until all is well." }
                    li { "Copy the backup from " code { "backups" } " into the folder and call the copy " code { "kitchen.db" } "." }
                    li { "Start unwheat." }
                }
            }
        }
    })
}
