//! Working out a blend: what it should come near to, under which limits, and three answers.

mod answer;
mod asked;
mod fields;
#[cfg(test)]
mod tests;

use super::{Wanted, form};
use crate::web::app::{App, Pantry, Shared, run};
use crate::web::fault::Fault;
use crate::web::larder_page::style;
use crate::web::larder_page::typed::id;
use crate::web::page::{Page, Way};
use answer::{Answered, evidence, is_left_out, with_binders};
use asked::{Asked, USUAL};
use axum::Json;
use axum::extract::{RawQuery, State as Held};
use axum::http::HeaderMap;
use axum::response::{IntoResponse, Response};
use larder::{FoodId, Larder};
use maud::{Markup, html};
use recipe::formulate::{MakeUp, Target, formulate, is_fibre};
use recipe::rework::blend::{Blend, OwnBlend};
use serde_json::json;

/// The page, or what follows from what is typed in it.
pub(super) async fn show(
    Held(app): Held<Shared>,
    query: RawQuery,
    headers: HeaderMap,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let (main, said) = body(app, &query.0.unwrap_or_default())?;
        if headers.contains_key("x-live") {
            let answer = json!({ "main": card::together(&main.into_string()), "said": said });
            return Ok(Json(answer).into_response());
        }
        Page {
            title: "Work out a blend",
            way: Way::Blends,
            scripts: &["work-out.js"],
            beside: Some(form::lists(&app.pantry()?.larder)),
        }
        .show(app, &main)
    })
    .await
}

/// The main part, and the best blend in words.
fn body(app: &App, query: &str) -> Result<(Markup, String), Fault> {
    let pantry = app.pantry()?;
    let settings = app.settings()?;
    let larder = &pantry.larder;
    let blends = pantry.blends();
    let mut asked = Asked::read(query, &pantry);
    Wanted::asked(query, &mut asked.t);
    let wanted = Wanted::of(app, &asked.t);
    let ask = asked.ask(&pantry, &blends, &settings.currency);
    let out = ask.as_ref().map(|ask| formulate(ask, larder));
    if let Some(Err(e)) = &out {
        asked.clash(e, larder);
    }
    let starch = ask
        .as_ref()
        .map(|a| recipe::formulate::Ask::new(a.aim.clone(), larder).starch);
    let answered = match (&ask, &out) {
        (Some(ask), Some(Ok(out))) => Some(Answered {
            larder,
            settings: &settings,
            asked: &asked,
            rebuilt: asked.rebuilt(&blends),
            ask,
            out,
        }),
        _ => None,
    };
    let line = answered.as_ref().map_or(String::new(), Answered::line);
    let main = html! {
        (style())
        p { @match &wanted { Some(w) => (w.back()), None => a href="/blends" { "Blends" } } }
        h1 { "Work out a blend" }
        form.entry #work-out method="get" action="/blends/work-out" data-work {
            @if let Some(w) = &wanted { (w.hidden()) }
            section.sheet aria-label="What is wanted" { (fields::head(&asked, &pantry, &blends)) (fields::limits(&asked, larder, &settings, starch)) }
            section #answers aria-labelledby="answers-h" {
                h2 #answers-h { "Blends that fit" }
                @match &answered {
                    Some(a) => {
                        p { (evidence(&asked, a.out.target.formulas, a.rebuilt, larder)) " A starting point for a test bake." }
                        p.hint { "The distance from the aim counts protein, starch, fibre, fat, water and flavour: 0 is the aim itself, 1 as near as a usual published blend. Whole percents, as they are weighed. What is said here of absorption rests mostly on memory." }
                        (a.blends())
                    }
                    None => (nothing(&asked, larder)),
                }
            }
            @if let Some(a) = &answered {
                section.sheet #because aria-label="Why a flour is in it or not" {
                    div.row { (fields::why(&asked, larder)) }
                    p #because-words { @if let Some(f) = asked.why { (a.because(f)) } }
                }
            }
            div.choosing {
                div.over { p.best-line #best { (line) } }
                section.sheet aria-labelledby="choose" { (fields::ledger(&asked, larder, &settings)) }
            }
        }
    };
    Ok((main, line))
}

/// Said where there is no blend: what is missing or wrong, each once, with a way to its field.
fn nothing(asked: &Asked, larder: &Larder) -> Markup {
    let mut told: Vec<(&str, Vec<&str>)> = Vec::new();
    for (field, words) in asked.t.troubles() {
        match told.iter_mut().find(|t| t.0 == words) {
            Some(t) => t.1.push(field),
            None => told.push((words, vec![field])),
        }
    }
    html! {
        @if told.is_empty() { p { "Choose what the blend should come near to." } }
        @for (words, of) in told {
            p.trouble role="alert" {
                (words)
                @for (i, f) in of.iter().enumerate() { @if i > 0 { "," } " " a href={ "#" (id(f)) } { (asked.called(f, larder)) } }
            }
        }
    }
}

/// A blend that was worked out, to be kept: with a note that says how it was
/// worked out, and the reason of its first version. `None` where the query keeps none.
pub(super) fn kept(query: &str, pantry: &Pantry) -> Option<(OwnBlend, String)> {
    let larder = &pantry.larder;
    let keep = form_urlencoded::parse(query.as_bytes())
        .find(|p| p.0 == "keep")?
        .1
        .into_owned();
    let mixed: Vec<(FoodId, f64)> = keep
        .split(',')
        .filter_map(|p| {
            let (key, share) = p.split_once(':')?;
            Some((larder.by_key(key)?, share.parse().ok()?))
        })
        .collect();
    let asked = Asked::read(query, pantry);
    let blends = pantry.blends();
    let rebuilt = asked.rebuilt(&blends);
    let target = target(&asked, rebuilt, larder)?;
    let distance = target.distance(&MakeUp::of(&mixed, larder).ok()?);
    let (binders, parts) = mixed.into_iter().partition(|p| is_fibre(p.0, larder));
    let sketch = Blend {
        key: "worked_out".into(),
        name: "".into(),
        parts,
        binders,
        // It is chosen first for a style only where the baker says so: other recipes would move.
        styles: Vec::new(),
        why: "".into(),
        cup_grams: None,
        own: true,
    };
    let blend = with_binders(sketch, rebuilt, is_left_out(&asked.left_out, larder));
    let aim = match (asked.style, rebuilt) {
        (Some(s), _) => s.name().to_owned(),
        (None, Some(b)) => b.name.to_string(),
        (None, None) => larder.food(larder.by_key(&asked.like)?).name.clone(),
    };
    let mut note = match (asked.style, target.formulas) {
        (Some(_), 0) => format!(
            "Worked out for {aim}, by an aim borrowed from other doughs: {} from it",
            answer::shown(distance)
        ),
        (Some(_), n) => format!(
            "Worked out from {n} published gluten-free formula{} of {aim}: {} from their middle",
            if n == 1 { "" } else { "s" },
            answer::shown(distance)
        ),
        (None, _) => format!(
            "Worked out to be like {aim}: {} from what it is made of",
            answer::shown(distance)
        ),
    };
    let not = asked.rows.iter().filter(|r| !r.used).map(|r| r.food);
    let gone = not.filter(|f| rebuilt.is_some_and(|b| b.parts.iter().any(|p| p.0 == *f)));
    let without: Vec<String> = asked
        .left_out
        .iter()
        .map(|l| l.name().to_owned())
        .chain(gone.map(|f| larder.food(f).name.clone()))
        .collect();
    if !without.is_empty() {
        note = format!("{note}; without {}", without.join(", "));
    }
    if let Some(n) = asked.t.some("flours").filter(|n| n.parse() != Ok(USUAL)) {
        note = format!("{note}; at most {n} flours");
    }
    if let Some(d) = asked.t.some("within") {
        note = format!("{note}; the cheapest within {d}");
    }
    note.push_str(". A starting point for a test bake");
    let own = OwnBlend {
        name: match asked.style {
            Some(_) => format!("{aim} blend"),
            None if without.is_empty() => format!("like {aim}"),
            None => format!("{aim} without {}", without.join(", ")),
        },
        note,
        ..form::own_of(&blend, larder)
    };
    Some((own, format!("worked out for {aim}")))
}

/// What the blend was aimed at.
fn target(asked: &Asked, rebuilt: Option<&Blend>, larder: &Larder) -> Option<Target> {
    match (asked.style, rebuilt) {
        (Some(s), _) => Some(Target::of_style(s)),
        (None, Some(b)) => Some(Target::near(MakeUp::of(&b.parts, larder).ok()?)),
        (None, None) => {
            let food = larder.by_key(&asked.like)?;
            Some(Target::near(MakeUp::of(&[(food, 100.0)], larder).ok()?))
        }
    }
}
