//! What to buy for some recipes, over the whole kitchen: pick them, walk the shop with the list.

mod export;
pub mod list;
mod pick;
#[cfg(test)]
mod tests;

use super::app::{App, Pantry, Shared, run};
use super::fault::Fault;
use super::kitchen::{last_mixed, scale};
use super::page::{self, Page, Way, back_to, own_path};
use super::post::Post;
use super::recipe::{Open, open};
use axum::Router;
use axum::extract::{RawQuery, State};
use axum::http::header;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post as on_post};
use larder::Stock;
use maud::{Markup, html};
use pick::Asked;
use recipe::sheet::Worked;
use recipe::shop::{List, Order, Shelf};
use std::sync::Arc;
use store::Settings;

/// Its ways in.
pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/shop", get(show))
        .route("/shop/list.csv", get(csv))
        .route("/shop/list.txt", get(plain))
        .route("/shop/blends", on_post(blends))
}

/// The style sheet of these pages; it may stand in the body.
pub fn style() -> Markup {
    html! { link rel="stylesheet" href="/assets/shop.css"; }
}

/// What a list is made with in this kitchen.
pub fn shelf(settings: &Settings) -> Shelf {
    Shelf {
        blends: settings.blend_stock.clone(),
        currency: Some(settings.currency.clone()).filter(|c| !c.is_empty()),
    }
}

/// The recipes that were asked for, opened; and those that cannot be listed, with the reason.
struct Chosen {
    opened: Vec<(Open, f64)>,
    troubles: Vec<String>,
}

impl Chosen {
    fn of(app: &App, asked: &Asked) -> Self {
        let (mut opened, mut troubles) = (Vec::new(), Vec::new());
        for (id, times) in &asked.recipes {
            match open(app, *id) {
                Ok(o) => {
                    if o.row.binned.is_some() {
                        troubles.push(format!("{} is in the bin", o.title()));
                    }
                    match o.worked() {
                        Ok(_) => opened.push((o, *times)),
                        Err(e) => troubles.push(format!("{}: {e}", o.title())),
                    }
                }
                Err(_) => troubles.push(format!("recipe {id} is not in this kitchen")),
            }
        }
        troubles.extend(asked.troubles.iter().cloned());
        Self { opened, troubles }
    }

    fn worked(&self) -> impl Iterator<Item = (&Open, &Worked, f64)> {
        let all = self.opened.iter();
        all.filter_map(|(o, times)| Some((o, o.worked().ok()?, *times)))
    }

    fn orders(&self) -> Vec<Order<'_>> {
        self.worked()
            .map(|(o, w, times)| {
                Order::sized(o.title(), &w.rework, &w.rework_screening, &w.batch, times)
                    .on(scale(&o.settings))
            })
            .collect()
    }

    /// Their list, in the words of the kitchen.
    fn list(&self, pantry: &Pantry, settings: &Settings) -> List {
        recipe::shop::list(&self.orders(), &pantry.larder, &shelf(settings))
    }
}

/// `/shop`.
async fn show(State(app): State<Shared>, query: RawQuery) -> Result<Response, Fault> {
    run(app, move |app| {
        let asked = Asked::of(&query.0.unwrap_or_default());
        let main = main(app, &asked)?;
        Page {
            title: "Shopping list",
            way: Way::Shop,
            scripts: &["shop.js"],
            beside: None,
        }
        .show(app, &main)
    })
    .await
}

fn main(app: &App, asked: &Asked) -> Result<Markup, Fault> {
    let pantry: Arc<Pantry> = app.pantry()?;
    let settings = app.settings()?;
    let chosen = Chosen::of(app, asked);
    let l = chosen.list(&pantry, &settings);
    let titles: Vec<&str> = chosen.worked().map(|(o, ..)| o.title()).collect();
    let picked = !titles.is_empty();
    Ok(html! {
        (style())
        div.between.page-head { h1 { "Shopping list" } }
        @for t in &chosen.troubles { p.trouble role="alert" { (t) } }
        (pick::form(app, asked, &chosen)?)
        @if picked {
            (list::sheet(&l, &list::On {
                larder: &pantry.larder,
                titles: &titles,
                got: Some(&asked.got),
                query: &asked.query(),
                day: &page::day(app.now()),
            }))
            (blend_stock(app, &l, asked, &settings)?)
        } @else {
            p { "Tick what you will bake: the list is one for all of it, in whole packs, less what is in stock." }
        }
    })
}

/// What is mixed of each blend on the list.
fn blend_stock(app: &App, l: &List, asked: &Asked, settings: &Settings) -> Result<Markup, Fault> {
    let here = format!("/shop?{}#mixed", asked.query());
    Ok(html! {
        @if !l.blends.is_empty() {
            section.sheet.no-print aria-labelledby="mixed" {
                h2 #mixed { "Blends mixed beforehand" }
                p.hint { "What stands in the jar is taken before any flour is bought. Empty for none." }
                (last_mixed(app, &here)?)
                form method="post" action="/shop/blends" {
                    (page::seal(app))
                    input type="hidden" name="back" value=(here);
                    div.figures {
                        @for b in &l.blends {
                            @let id = format!("mixed-{}", b.key);
                            @let there = settings.blend_stock.get(&b.key);
                            div.field {
                                label for=(id) { (page::capital(&b.name)) }
                                span.of { input.f id=(id) name={ "grams." (b.key) } inputmode="decimal" maxlength="12" autocomplete="off" value=(there.map_or(String::new(), |s| s.grams.to_string())); " g" }
                                @if let Some(s) = there { p.hint { "counted on " (s.date) } }
                            }
                        }
                    }
                    button { "Keep what is mixed" }
                }
            }
        }
    })
}

/// Keeps what is mixed of blends.
async fn blends(State(app): State<Shared>, post: Post) -> Result<Response, Fault> {
    run(app, move |app| {
        let mut settings = (*app.settings()?).clone();
        let today = page::day(app.now());
        let known: Vec<String> = app
            .pantry()?
            .blends()
            .iter()
            .map(|b| b.key.to_string())
            .collect();
        for key in known {
            let field = format!("grams.{key}");
            if !post.has(&field) {
                continue;
            }
            let grams = post.figure(&field, "the grams that are mixed")?;
            match grams {
                Some(g) if !(0.0..=1e6).contains(&g) => {
                    return Err(Fault::bad(format!(
                        "'{}' g of a blend: write 0 to 1,000,000 g",
                        post.text(&field)
                    )));
                }
                Some(g) if g > 0.0 => {
                    let same = settings.blend_stock.get(&key).is_some_and(|s| s.grams == g);
                    if !same {
                        let date = today.clone();
                        settings.blend_stock.insert(key, Stock { grams: g, date });
                    }
                }
                _ => {
                    settings.blend_stock.remove(&key);
                }
            }
        }
        app.set_settings(&settings)?;
        let back = own_path(post.text("back"));
        Ok(back_to(if back == "/" { "/shop" } else { back }))
    })
    .await
}

/// The list as a table for other programs.
async fn csv(State(app): State<Shared>, query: RawQuery) -> Result<Response, Fault> {
    file(
        app,
        query,
        "text/csv; charset=utf-8",
        "shopping-list.csv",
        export::csv,
    )
    .await
}

/// The list as words to send.
async fn plain(State(app): State<Shared>, query: RawQuery) -> Result<Response, Fault> {
    file(
        app,
        query,
        "text/plain; charset=utf-8",
        "shopping-list.txt",
        export::plain,
    )
    .await
}

async fn file(
    app: Shared,
    query: RawQuery,
    kind: &'static str,
    name: &'static str,
    written: fn(&List, &[&str], &larder::Larder) -> String,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let asked = Asked::of(&query.0.unwrap_or_default());
        let chosen = Chosen::of(app, &asked);
        let (pantry, settings) = (app.pantry()?, app.settings()?);
        let l = chosen.list(&pantry, &settings);
        let titles: Vec<&str> = chosen.worked().map(|(o, ..)| o.title()).collect();
        let mut text = written(&l, &titles, &pantry.larder);
        if !chosen.troubles.is_empty() {
            // Nothing is left out without a word.
            return Err(Fault::bad(chosen.troubles.join("; ")));
        }
        if settings.demo {
            text = export::of_the_demo(&text, kind);
        }
        Ok((
            [
                (header::CONTENT_TYPE, kind.to_owned()),
                (
                    header::CONTENT_DISPOSITION,
                    format!("attachment; filename=\"{name}\""),
                ),
            ],
            text,
        )
            .into_response())
    })
    .await
}
