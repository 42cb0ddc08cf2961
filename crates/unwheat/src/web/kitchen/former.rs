//! Settings as they were: undo of the last change, and the way back past earlier ones.

use super::typed::{COUNTS, FINE, OFTEN, OVENS, STEPS, THEMES, Typed, in_words};
use super::{is_here, page, whole};
use crate::web::app::{App, Shared, run};
use crate::web::fault::Fault;
use crate::web::page::{back_to, moment, own_path};
use crate::web::post::Post;
use crate::web::recipe::read::LOCALES;
use axum::extract::{ConnectInfo, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use larder::allergen::Regime;
use maud::{Markup, html};
use recipe::rework::blend::Blend;
use std::collections::BTreeSet;
use std::net::SocketAddr;
use store::Settings;

/// Puts the settings back as they were before a change. What that does is a change itself, and
/// undone in the same way.
pub async fn undo(
    State(app): State<Shared>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let now = app.settings()?;
        let blends = app.pantry()?.blends();
        let mut all = app.kitchen.former_settings()?;
        all.reverse();
        let asked = |s: &Settings| changes(s, &now, &blends).join("; ") == post.text("what");
        match all.into_iter().find(|f| asked(&f.settings)) {
            Some(before) => {
                app.set_settings(&before.settings)?;
                Ok(back_to(match own_path(post.text("back")) {
                    "/" => "/kitchen?undone#last",
                    back => back,
                }))
            }
            None => {
                let words =
                    "The settings were changed in another window. This is how they stand now.";
                let told = html! { p.trouble role="alert" { (words) } };
                let page = whole(app, is_here(peer), &Typed::of(&now), None, Some(&told))?;
                Ok((StatusCode::CONFLICT, page).into_response())
            }
        }
    })
    .await
}

/// What the last change of the settings changed, with its undo, and earlier changes.
pub fn last(app: &App) -> Result<Markup, Fault> {
    let (now, blends) = (app.settings()?, app.pantry()?.blends());
    let mut all = app.kitchen.former_settings()?;
    all.reverse();
    // Each with what followed it; a change of what no page shows says nothing.
    let after = std::iter::once(&*now).chain(all.iter().map(|f| &f.settings));
    let rows: Vec<_> = all
        .iter()
        .zip(after)
        .map(|(f, after)| (f, changes(&f.settings, after, &blends).join("; ")))
        .filter(|(_, what)| !what.is_empty())
        .collect();
    let Some(((_, what), earlier)) = rows.split_first() else {
        return Ok(html! {});
    };
    Ok(html! {
        form.next #last tabindex="-1" method="post" action="/kitchen/undo" {
            (page::seal(app))
            input type="hidden" name="what" value=(what);
            span { "Changed last: " (what) "." }
            button.small { "Undo" }
        }
        @if !earlier.is_empty() {
            details.former {
                summary { "Earlier changes (" (earlier.len()) ")" }
                ul.plain { @for (f, what) in earlier {
                    @let back = changes(&f.settings, &now, &blends).join("; ");
                    li.between {
                        span { @if f.until > 0 { small { (moment(f.until)) } " " } (what) }
                        @if back.is_empty() { small { "as it is now" } }
                        @else {
                            form method="post" action="/kitchen/undo" {
                                (page::seal(app))
                                input type="hidden" name="what" value=(back);
                                button.small { "Back to before this" span.unseen { ": " (what) } }
                            }
                        }
                    }
                } }
            }
        }
    })
}

/// The undo of the last change, where it was of blends that are mixed, with the way back to where
/// they are counted.
pub fn last_mixed(app: &App, back: &str) -> Result<Markup, Fault> {
    let now = app.settings()?;
    let before = app.kitchen.former_settings()?.pop();
    let before = before.filter(|f| f.settings.blend_stock != now.blend_stock);
    let what = match before {
        Some(f) => changes(&f.settings, &now, &app.pantry()?.blends()).join("; "),
        None => return Ok(html! {}),
    };
    Ok(html! {
        form.next method="post" action="/kitchen/undo" {
            (page::seal(app))
            input type="hidden" name="what" value=(what);
            input type="hidden" name="back" value=(back);
            span { "Changed last: " (what) "." }
            button.small { "Undo" }
        }
    })
}

/// What differs between two states of the settings: a field and its values each.
fn changes(before: &Settings, after: &Settings, blends: &[Blend]) -> Vec<String> {
    let (a, b) = (Typed::of(before), Typed::of(after));
    let regime =
        |word: &str| Regime::from_word(word).map_or(word.to_owned(), |r| r.name().to_owned());
    let mut out = Vec::new();
    let mut step = |what: &str, x: &str, y: &str| {
        let say = |v: &str| if v.is_empty() { "nothing" } else { v }.to_owned();
        if x != y {
            out.push(format!("{what}: {} → {}", say(x), say(y)));
        }
    };
    step("kitchen", &a.kitchen, &b.kitchen);
    step("you", &a.baker, &b.baker);
    step(
        "cups and spoons",
        in_words(&LOCALES, &a.locale),
        in_words(&LOCALES, &b.locale),
    );
    step(
        "allergens by the law of",
        &regime(&a.regime),
        &regime(&b.regime),
    );
    step("currency", &a.currency, &b.currency);
    step(
        "scale",
        in_words(&STEPS, &a.step),
        in_words(&STEPS, &b.step),
    );
    step(
        "fine scale",
        in_words(&FINE, &a.fine),
        in_words(&FINE, &b.fine),
    );
    step("oven", in_words(&OVENS, &a.oven), in_words(&OVENS, &b.oven));
    step("note on the oven", &a.oven_note, &b.oven_note);
    step("metres above the sea", &a.altitude, &b.altitude);
    step("pans", &before.pans.join(", "), &after.pans.join(", "));
    for (count, (x, y)) in COUNTS.iter().zip(a.counts.iter().zip(&b.counts)) {
        step(&count.words.to_lowercase(), x, y);
    }
    step("quiet hours", &a.quiet, &b.quiet);
    step(
        "colours",
        in_words(&THEMES, &a.theme),
        in_words(&THEMES, &b.theme),
    );
    step(
        "backups",
        in_words(&OFTEN, &a.often),
        in_words(&OFTEN, &b.often),
    );
    step("backups kept", &a.keep, &b.keep);
    let mixed = |s: &Settings, key: &str| s.blend_stock.get(key).map(|m| format!("{} g", m.grams));
    let keys: BTreeSet<&String> = before
        .blend_stock
        .keys()
        .chain(after.blend_stock.keys())
        .collect();
    for key in keys {
        let name = blends.iter().find(|b| *b.key == **key);
        let name = name.map_or(key.as_str(), |b| &b.name);
        let of = |s: &Settings| mixed(s, key).unwrap_or_default();
        step(&format!("{name}, mixed"), &of(before), &of(after));
    }
    for (what, from, to) in [
        ("into the drawer", &a.scoops, &b.scoops),
        ("out of the drawer", &b.scoops, &a.scoops),
    ] {
        let moved: Vec<&str> = to
            .iter()
            .filter(|s| !from.contains(s))
            .map(String::as_str)
            .collect();
        if !moved.is_empty() {
            out.push(quantity::signs(&format!("{what}: {}", moved.join(", "))));
        }
    }
    out
}
