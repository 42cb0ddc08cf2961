//! All blends.

use super::label::{CUP, allergen_words, cup, protein, starches, style_names, to_check};
use super::page;
use crate::web::app::{Shared, run};
use crate::web::fault::Fault;
use crate::web::larder_page::style;
use crate::web::page::{self as frame, sentence};
use crate::web::recipe::component_name;
use crate::web::recipe::rework::blend_picture;
use crate::web::recipe::screen::whole_verdict;
use axum::extract::State as Held;
use axum::response::Response;
use larder::Larder;
use maud::{Markup, html};
use recipe::rework::blend::{self, Blend};
use store::BlendRow;

/// All blends.
pub(super) async fn list(Held(app): Held<Shared>) -> Result<Response, Fault> {
    run(app, move |app| {
        let pantry = app.pantry()?;
        let locale = app.settings()?.locale.clone();
        let rows = app.kitchen.blends(false)?;
        let binned = app.kitchen.blends(true)?;
        let broken: Vec<&BlendRow> = rows
            .iter()
            .filter(|r| !pantry.own_blends.iter().any(|b| b.key == r.key.as_str()))
            .collect();
        let larder = &pantry.larder;
        let main = html! {
            (style())
            div.between.page-head { h1 { "Blends" } div.row { a.button.do href="/blends/work-out" { "Work out a blend" } a.button href="/blends/new" { "Make a blend of your own" } } }
            section aria-labelledby="ours" {
                h2 #ours { "Your own" }
                @if rows.is_empty() { p { "None yet. Make one, or open a house blend and start from it." } }
                @for r in &broken {
                    p.trouble { (r.blend.name) ": "
                        @if let Err(e) = r.blend.blend(larder) { (sentence(&e.to_string())) } " "
                        a href={ "/blends/" (r.key) "/change" } { "Mend it" } }
                }
                ul.blends { @for b in &pantry.own_blends { li { (tile(larder, b, &locale)) } } }
            }
            section aria-labelledby="house" {
                h2 #house { "House blends" }
                p.hint { "Our own designs, not yet test-baked: a starting point. What they are made of rests on common practice, no source." }
                ul.blends { @for b in blend::house(larder) { li { (tile(larder, &b, &locale)) } } }
            }
            @if !binned.is_empty() {
                section.sheet aria-labelledby="bin" {
                    h2 #bin { "In the bin" }
                    ul.front { @for r in &binned { li {
                        span { a.name href={ "/blends/" (r.key) } { (r.blend.name) } }
                        form method="post" action={ "/blends/" (r.key) "/bin" } { (frame::seal(app)) button name="way" value="out" { "Take it out" span.unseen { ": " (r.blend.name) } } }
                    } } }
                }
            }
        };
        page(app, "Blends", &main, None)
    })
    .await
}

fn tile(larder: &Larder, b: &Blend, locale: &str) -> Markup {
    let s = b.screening(larder);
    let (label, mill) = to_check(larder, b, &s, false);
    html! {
        article.sheet {
            div.between { h3 { a href={ "/blends/" (b.key) } { (component_name(&b.name)) } } (whole_verdict(&s, larder)) }
            (blend_picture(&b.key, b, larder))
            @if !b.why.is_empty() { p { (sentence(&b.why)) } }
            dl.facts {
                @if !b.styles.is_empty() { dt { "Chosen for" } dd { (style_names(b)) } }
                dt { (CUP) } dd { (cup(larder, b, locale)) }
                dt { "Starches" } dd { span.n { (starches(larder, b)) } " %" }
                dt { "Protein" } dd { (protein(larder, b)) }
                dt { "Allergens" } dd { (allergen_words(&s)) }
                @if !label.is_empty() { dt { "Check the label" } dd { (label.join(", ")) } }
                @if !mill.is_empty() { dt { "Buy labelled" } dd { (mill.join(", ")) br; small { "milled or packed beside wheat" } } }
            }
        }
    }
}
