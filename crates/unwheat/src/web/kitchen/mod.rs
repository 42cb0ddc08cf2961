//! The kitchen: its settings, its archive, its backups, the way in for the tablet, the demo.

mod archive;
mod backups;
mod demo;
mod form;
mod former;
mod settings;
mod typed;

use super::app::{App, Shared, locale, run};
use super::fault::Fault;
use super::page::{self, Page, Way};
use super::share;
use axum::Router;
use axum::extract::{ConnectInfo, RawQuery, State};
use axum::response::Response;
use axum::routing::{get, post as on_post};
use maud::{Markup, html};
use quantity::household::scoops;
use quantity::{GasMark, Hold, Locale, OvenSetting, Temperature, Unit, fan_equivalent};
use recipe::household::{Drawer, Scale};
use std::net::SocketAddr;
use store::Settings;
use typed::Typed;

pub use backups::keep_backups;
pub use demo::has_demo;
pub use former::last_mixed;
pub use settings::{LAWS, ask_law, counted, law, night, planned_with, to_law};
pub use typed::{has_country, has_law};

/// Its ways in.
pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/kitchen", get(show).post(settings::keep))
        .route("/kitchen/undo", on_post(former::undo))
        .route("/kitchen/law", on_post(settings::put_law))
        .route("/kitchen/currency", on_post(settings::put_currency))
        .route("/kitchen/export", get(archive::export))
        .route("/kitchen/import", on_post(archive::import))
        .route("/kitchen/backup", on_post(backups::now))
        .route("/kitchen/restore", on_post(backups::restore))
        .route("/kitchen/state", get(backups::state))
        .route("/kitchen/afresh", on_post(demo::afresh))
        .route("/demo", get(demo::enter))
}

/// Whether a request comes from this machine.
pub fn is_here(peer: SocketAddr) -> bool {
    peer.ip().to_canonical().is_loopback()
}

async fn show(
    State(app): State<Shared>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    query: RawQuery,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let settings = app.settings()?;
        let told = match query.0.as_deref() {
            Some(q @ ("saved" | "saved-law")) => Some(settings::saved(&settings, q == "saved-law")),
            Some("undone") => Some("Undone.".to_owned()),
            Some("backed-up") => Some("A backup was made.".to_owned()),
            Some("afresh") => {
                Some("The demo begins afresh the next time unwheat starts.".to_owned())
            }
            _ => None,
        };
        let typed = Typed::of(&settings);
        let back = backups::went_back(app, query.0.as_deref().unwrap_or_default())?;
        whole(app, is_here(peer), &typed, told.as_deref(), back.as_ref())
    })
    .await
}

/// The page. `told` says what was just done; `first` stands above everything else.
fn whole(
    app: &App,
    here: bool,
    typed: &Typed,
    told: Option<&str>,
    first: Option<&Markup>,
) -> Result<Response, Fault> {
    let settings = app.settings()?;
    let main = html! {
        link rel="stylesheet" href="/assets/kitchen.css";
        h1 { "Kitchen" }
        @if let Some(words) = told { p.next role="status" { strong { (words) } } }
        @if let Some(first) = first { (first) }
        (former::last(app)?)
        (settings::offer(app, &settings))
        (settings::offer_currency(app, &settings))
        (form::form(app, typed))
        div.spread.even {
            div {
                (backups::section(app, &settings)?)
                (demo::section(app, here)?)
            }
            @if app.own.is_none() {
                div {
                    (archive::section(app))
                    (share::section(app, here))
                }
            }
        }
    };
    Page {
        title: "Kitchen",
        way: Way::Kitchen,
        scripts: &[],
        beside: None,
    }
    .show(app, &main)
}

/// The kitchen's scales.
pub fn scale(settings: &Settings) -> Scale {
    let step = |s: f64| Some(s).filter(|s| s.is_finite() && *s > 0.0);
    Scale {
        step: step(settings.scale_step).unwrap_or(1.0),
        fine: step(settings.fine_scale_step),
    }
}

/// The cups and spoons that amounts of a recipe are worked out in: those ticked of the kitchen's country, as
/// large as the recipe's country has them. A kitchen without cups measures in its own spoons and millilitres,
/// but where the recipe's spoons are of another size: two sizes on one card would be taken for one another.
pub fn drawer(settings: &Settings, recipe: Locale) -> Drawer {
    let own = locale(settings);
    let ticked: Vec<_> = scoops(own)
        .iter()
        .filter(|s| settings.scoops.contains(&s.name()))
        .map(|s| s.name())
        .collect();
    let spoon = |of: Locale| match Unit::Tbsp.hold(of) {
        Hold::Volume(v) => v.likely().as_millilitres(),
        _ => 0.0,
    };
    let cups = scoops(own).iter().any(|s| s.unit == Unit::Cup);
    let measures = if cups || (spoon(own) - spoon(recipe)).abs() > 1.0 {
        recipe
    } else {
        own
    };
    Drawer::of(measures, &ticked)
}

/// What a still oven's temperature is in the kitchen's oven, where that is another figure:
/// 'in your fan oven 160 °C', 'in your gas oven mark 4'.
pub fn oven_words(settings: &Settings, celsius: f64) -> Option<String> {
    oven_range(settings, celsius, celsius)
}

/// The same of a range: 'in your fan oven 160–170 °C', 'in your gas oven mark 4–5'.
pub fn oven_range(settings: &Settings, low: f64, high: f64) -> Option<String> {
    let (low, high) = (Temperature::celsius(low), Temperature::celsius(high));
    match settings.oven.as_str() {
        "fan" => {
            let dial = |t| OvenSetting(fan_equivalent(t)).dial_celsius();
            Some(if dial(low) == dial(high) {
                format!("in your fan oven {} °C", dial(low))
            } else {
                format!("in your fan oven {}–{} °C", dial(low), dial(high))
            })
        }
        "gas" => GasMark::range(low, high).map(|mark| format!("in your gas oven mark {mark}")),
        _ => None,
    }
}

/// Makes every recipe's line in the list anew that `which` picks: after an import, whose archive
/// may be from elsewhere.
fn refresh(app: &App, which: impl Fn(i64) -> bool) -> Result<(), Fault> {
    for id in ids(app)? {
        if which(id) {
            let o = super::recipe::open(app, id)?;
            let summary = super::recipe::change::summarise(app, &o, &o.draft.sheet);
            app.kitchen.refresh_summary(id, &summary)?;
        }
    }
    Ok(())
}

/// The numbers of all recipes, those in the bin too.
fn ids(app: &App) -> Result<Vec<i64>, Fault> {
    let mut out = Vec::new();
    for binned in [false, true] {
        let list = app.kitchen.list(&store::Query {
            binned,
            limit: u32::MAX,
            ..store::Query::default()
        })?;
        out.extend(list.rows.iter().map(|r| r.id));
    }
    Ok(out)
}

#[cfg(test)]
mod tests;
