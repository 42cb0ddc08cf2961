//! The settings: kept, and what is offered beside them.

use super::typed::{Typed, choose, has_law};
use super::{is_here, page, whole};
use crate::day::clock::Night;
use crate::web::app::{App, Shared, locale, run};
use crate::web::fault::Fault;
use crate::web::page::{back_to, own_path};
use crate::web::post::Post;
use crate::web::recipe::read::LOCALES;
use axum::extract::{ConnectInfo, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use larder::allergen::Regime;
use maud::{Markup, html};
use quantity::Locale;
use recipe::plan::OwnPans;
use recipe::size::pan::OwnPan;
use std::net::SocketAddr;
use store::Settings;

/// The kitchen that days are planned with.
pub fn planned_with(s: &Settings) -> recipe::plan::Kitchen {
    recipe::plan::Kitchen {
        hands: s.hands,
        ovens: s.ovens,
        racks: s.oven_racks,
        mixers: s.mixers,
        fridge: s.fridge_shelves,
        freezer: s.freezer_shelves,
        oven_change: s.oven_change,
        // What the form refuses now may be kept from before: such a pan is not counted.
        pans: s.pans.iter().filter_map(|l| counted(l).ok()).collect(),
    }
}

/// The pans of a line of the settings: what they are called and how many there are.
///
/// # Errors
/// What was expected, in a sentence.
pub fn counted(line: &str) -> Result<OwnPans, String> {
    OwnPans::read(&OwnPan::read(line).name)
}

/// Its quiet hours.
pub fn night(s: &Settings) -> Night {
    Night::read(&s.quiet).unwrap_or(Night { from: 0, to: 0 })
}

/// The law on labels in force.
pub fn law(settings: &Settings) -> Regime {
    Regime::from_word(&settings.regime).unwrap_or(Regime::Us)
}

/// The law in force, and that of the kitchen's measures where it is another.
fn laws(settings: &Settings) -> (Regime, Option<Regime>) {
    let now = law(settings);
    let usual = Regime::usual(locale(settings));
    (now, Some(usual).filter(|u| *u != now))
}

/// What was kept, in words.
pub fn saved(settings: &Settings, with_law: bool) -> String {
    let law = laws(settings).0.name();
    if with_law {
        format!("Saved. With these measures, allergens go by the law of: {law}.")
    } else {
        "Saved.".to_owned()
    }
}

/// The law of the kitchen's measures for one press, where another is in force.
pub fn offer(app: &App, settings: &Settings) -> Markup {
    let (now, other) = laws(settings);
    let measures = LOCALES.iter().find(|l| l.0 == locale(settings).key());
    html! {
        @if let (Some(law), Some((_, measures))) = (other, measures) {
            form.next method="post" action="/kitchen/law" {
                (page::seal(app))
                span { "Your measures are " (measures) "; allergens go by the law of: " (now.name()) "." }
                button.small name="regime" value=(law.word()) { "Go by that of: " (law.name()) }
            }
        }
    }
}

/// Asks whose law on labels a kitchen goes by that never said, and comes back to the page that asks.
pub fn ask_law(app: &App, settings: &Settings, now: Regime, back: &str) -> Markup {
    html! {
        @if !has_law(settings) {
            form.ask-law method="post" action="/kitchen/law" {
                (page::seal(app))
                input type="hidden" name="back" value=(back);
                p { "Your kitchen has not said whose law on labels it goes by. It is asked once: where do your readers live?" }
                div.row { @for law in LAWS {
                    button.small name="regime" value=(law.word()) { (law.name()) @if law == now { span.unseen { ", as now" } } }
                } }
            }
        }
    }
}

/// Where the law is changed.
pub fn to_law() -> Markup {
    html! { a href="/kitchen#regime" { "Change it on Kitchen" } }
}

/// The laws, in the order they are asked in.
pub const LAWS: [Regime; 4] = [Regime::Eu, Regime::Us, Regime::Ca, Regime::Anz];

/// The currency of a kitchen's country.
fn usual_currency(settings: &Settings) -> &'static str {
    match locale(settings) {
        Locale::Us => "USD",
        Locale::Uk => "GBP",
        Locale::Au => "AUD",
        Locale::Metric => "EUR",
    }
}

/// The currency of the kitchen's measures for one press, where prices are still in the first one.
/// Prices already kept stay in theirs.
pub fn offer_currency(app: &App, settings: &Settings) -> Markup {
    let usual = usual_currency(settings);
    let first = Settings::default().currency;
    html! {
        @if settings.currency == first && usual != first {
            form.next method="post" action="/kitchen/currency" {
                (page::seal(app))
                span { "New prices are asked in " (first) "." }
                button.small { "Ask them in " (usual) }
            }
        }
    }
}

/// Takes the currency of the kitchen's measures.
pub async fn put_currency(State(app): State<Shared>, _: Post) -> Result<Response, Fault> {
    run(app, move |app| {
        let mut new = app.settings()?.as_ref().clone();
        usual_currency(&new).clone_into(&mut new.currency);
        app.set_settings(&new)?;
        Ok(back_to("/kitchen?saved#last"))
    })
    .await
}

/// Puts a law in force.
pub async fn put_law(State(app): State<Shared>, post: Post) -> Result<Response, Fault> {
    run(app, move |app| {
        let law = Regime::from_word(post.text("regime"));
        let law =
            law.ok_or_else(|| Fault::bad("no label law is called so: choose one of the list"))?;
        let mut new = app.settings()?.as_ref().clone();
        choose(&mut new, law);
        app.set_settings(&new)?;
        Ok(back_to(
            post.some("back").map_or("/kitchen?saved#last", own_path),
        ))
    })
    .await
}

/// Keeps what was sent.
pub async fn keep(
    State(app): State<Shared>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let mut typed = Typed::sent(&post);
        // The boxes that were on the page, whatever measures were chosen meanwhile.
        let shown: Vec<String> = post.all("shown").into_iter().map(str::to_owned).collect();
        let before = app.settings()?;
        let new = typed.settings(&before, &shown);
        if !typed.troubles.is_empty() {
            let page = whole(app, is_here(peer), &typed, None, None)?;
            return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
        }
        app.set_settings(&new)?;
        // Said where it was not asked for.
        Ok(back_to(
            if new.regime != before.regime && new.regime != typed.regime {
                "/kitchen?saved-law#last"
            } else {
                "/kitchen?saved#last"
            },
        ))
    })
    .await
}
