//! A batch is finished: what was made of it, in figures and words.

use super::view::frame;
use super::{Bench, finished_already, open_lines};
use crate::web::app::{App, Shared, run};
use crate::web::fault::Fault;
use crate::web::page::{self, back_to};
use crate::web::post::{Post, figure};
use crate::web::recipe::{change, component_name, open};
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use serde::{Deserialize, Serialize};

/// The record of a bake. The JSON of a batch's `bake`. What is not known is left out.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Bake {
    /// Put away without being made: no bake.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub unmade: bool,
    /// Oven, °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub oven_c: Option<f64>,
    /// `still`, `fan` or `gas`.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub oven: String,
    /// The pan or tin it was made in.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub pan: String,
    /// Minutes in the oven or on the fire.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub minutes: Option<f64>,
    /// In the middle when it came out, °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub core_c: Option<f64>,
    /// Grams before the oven.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub raw_g: Option<f64>,
    /// Grams after it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub baked_g: Option<f64>,
    /// How it came out, in words.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub verdict: String,
    /// What to change next time.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub next: String,
    /// Who writes this.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub who: String,
}

impl Bake {
    /// What was lost in the oven, % of the raw weight.
    pub fn loss(&self) -> Option<f64> {
        let (raw, baked) = (self.raw_g?, self.baked_g?);
        (raw > 0.0 && baked > 0.0).then(|| (raw - baked) / raw * 100.0)
    }
}

/// Ovens in words.
pub const OVENS: [(&str, &str); 3] = [
    ("still", "still oven"),
    ("fan", "fan oven"),
    ("gas", "gas oven"),
];

/// Degrees as people write them: '180', '180 °C', '350 F'. In °C.
pub fn celsius(text: &str, what: &str) -> Result<Option<f64>, Fault> {
    let words = text.trim().to_lowercase();
    let bare = words.trim_end_matches(['c', 'f', '°', ' ']);
    let Some(degrees) = figure(bare, what)? else {
        return Ok(None);
    };
    let c = if words.ends_with('f') {
        (degrees - 32.0) / 1.8
    } else {
        degrees
    };
    if !(-40.0..=600.0).contains(&c) {
        return Err(Fault::bad(format!(
            "'{}' is no temperature for {what}: write °C like 180, or °F like 350 F",
            text.trim()
        )));
    }
    Ok(Some((c * 10.0).round() / 10.0))
}

fn read(post: &Post) -> Result<Bake, Fault> {
    let within = |name: &str, what: &str, most: f64| match post.figure(name, what)? {
        Some(v) if !(0.0..=most).contains(&v) => Err(Fault::bad(format!(
            "'{}' cannot be {what}",
            post.text(name)
        ))),
        other => Ok(other),
    };
    let words = |name: &str| post.text(name).chars().take(4000).collect::<String>();
    let bake = Bake {
        unmade: post.has("unmade"),
        oven_c: celsius(post.text("oven_c"), "the oven")?,
        oven: OVENS
            .iter()
            .map(|o| o.0)
            .find(|o| *o == post.text("oven"))
            .unwrap_or_default()
            .to_owned(),
        pan: words("pan"),
        minutes: within("minutes", "the minutes in the oven", 10_000.0)?,
        core_c: celsius(post.text("core_c"), "the middle")?,
        raw_g: within("raw_g", "the weight before the oven", 1e6)?,
        baked_g: within("baked_g", "the weight after the oven", 1e6)?,
        verdict: words("verdict"),
        next: words("next"),
        who: words("who"),
    };
    if let (Some(raw), Some(baked)) = (bake.raw_g, bake.baked_g)
        && baked > raw
    {
        return Err(Fault::bad(format!(
            "after the oven it cannot weigh more ({baked} g) than before ({raw} g): look at both"
        )));
    }
    Ok(bake)
}

fn form(app: &App, b: &Bench, post: Option<&Post>, trouble: Option<&str>) -> Result<Markup, Fault> {
    let settings = app.settings()?;
    let was = |name: &str| post.map_or("", |p| p.raw(name)).to_owned();
    let left = open_lines(b);
    let running = b.batch.timers.iter().filter(|t| !t.done).count();
    let who = post.map_or_else(
        || {
            if b.batch.who.is_empty() {
                settings.baker.clone()
            } else {
                b.batch.who.clone()
            }
        },
        |p| p.raw("who").to_owned(),
    );
    let oven = post.map_or(settings.oven.as_str(), |p| p.text("oven"));
    let field = |name: &str, label: &str, unit: &str| {
        html! {
            div { label for=(name) { (label) } span.with-unit { input.f id=(name) name=(name) inputmode="decimal" autocomplete="off" value=(was(name)); span { (unit) } } }
        }
    };
    Ok(html! {
        a.skip href="#work" { "Skip to the form" }
        header.bench-head {
            div { h1 { "Finish the batch" } p { (b.batch.title) ": " (super::view::about(b)) } }
            a.button.big href={ "/bench/" (b.batch.id) } { "Back to the bench" }
        }
        (page::band(app)?)
        div.bench-body {
            main #work tabindex="-1" {
                @if let Some(words) = trouble { p.trouble role="alert" { (words) } }
                @if !left.is_empty() {
                    details.trouble { summary { @if left.len() == 1 { "One line is not ticked" } @else { (left.len()) " lines are not ticked" } } p { (left.iter().map(|l| component_name(&l.name)).collect::<Vec<_>>().join(", ")) "." } }
                }
                @if running > 0 { p.trouble { @if running == 1 { "A timer still runs." } @else { (running) " timers still run." } " They end with the batch." } }
                form.finish-form method="post" action={ "/bench/" (b.batch.id) "/finish" } {
                    (page::seal(app))
                    p.hint { "Write what you know; leave the rest empty. The record cannot be changed afterwards." }
                    fieldset {
                        legend { "In the oven" }
                        div.row {
                            (field("oven_c", "Oven, really", "°C, or write 350 F"))
                            div { label for="oven" { "Kind" } select #oven name="oven" {
                                option value="" { "not in an oven" }
                                @for (key, words) in OVENS { option value=(key) selected[key == oven] { (words) } }
                            } }
                            (field("minutes", "How long", "min"))
                            div.grow { label for="pan" { "Pan or tin" } input #pan name="pan" list="pans" maxlength="120" autocomplete="off" value=(was("pan")); datalist #pans { @for p in &settings.pans { option value=(p) {} } } }
                            (field("core_c", "In the middle at the end", "°C"))
                        }
                    }
                    fieldset {
                        legend { "Weight of it all" }
                        div.row { (field("raw_g", "Before the oven", "g")) (field("baked_g", "After cooling", "g")) }
                        @if let Some((low, high)) = b.plan.bake_loss { p.hint { "Bakes of this kind lose about " (format!("{low:.0}–{high:.0} %")) "." } }
                    }
                    label for="verdict" { "How it came out" }
                    textarea #verdict name="verdict" maxlength="4000" placeholder="crumb, rise, taste, what the tasters said" { (was("verdict")) }
                    label for="next" { "Next time change" }
                    textarea.short #next name="next" maxlength="4000" placeholder="one thing" { (was("next")) }
                    label for="who" { "Who writes this" }
                    input #who name="who" maxlength="80" value=(who);
                    p.ends { button.big.do name="made" value="1" { "Finish and keep the record" } button.big.plain name="unmade" value="1" { "It was not made: put it away" } }
                }
            }
        }
    })
}

/// Asks for the record.
pub async fn ask(State(app): State<Shared>, Path(id): Path<i64>) -> Result<Response, Fault> {
    run(app, move |app| {
        let b = Bench::open(app, id)?;
        if b.batch.finished.is_some() {
            return Ok(back_to(&format!("/recipe/{}/bakes#b{id}", b.batch.recipe)));
        }
        let body = form(app, &b, None, None)?;
        frame(app, &format!("Finish · {}", b.batch.title), &[], &body)
    })
    .await
}

/// Keeps the record.
pub async fn keep(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let b = Bench::open(app, id)?;
        let recipe = b.batch.recipe;
        let bake = match read(&post) {
            Ok(bake) => bake,
            Err(Fault::Bad(words)) => {
                let body = form(app, &b, Some(&post), Some(&words))?;
                let page = frame(app, &format!("Finish · {}", b.batch.title), &[], &body)?;
                return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
            }
            Err(other) => return Err(other),
        };
        let record = serde_json::to_value(&bake).map_err(Fault::inside)?;
        if let Err(e) = app.kitchen.finish_batch(id, &record, app.now()) {
            return finished_already(e, recipe, id);
        }
        // The list of recipes shows where it stands now.
        let o = open(app, recipe)?;
        let summary = change::summarise(app, &o, &o.draft.sheet);
        app.kitchen.refresh_summary(recipe, &summary)?;
        Ok(back_to(&format!("/recipe/{recipe}/bakes#b{id}")))
    })
    .await
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn degrees_as_people_write_them() {
        for (text, want) in [
            ("180", 180.0),
            ("180 °C", 180.0),
            ("350 F", 176.7),
            ("96,5 c", 96.5),
        ] {
            assert_eq!(celsius(text, "x").ok().flatten(), Some(want), "{text}");
        }
        assert!(matches!(celsius(" ", "x"), Ok(None)));
        assert!(celsius("9000", "x").is_err());
        assert!(celsius("hot", "x").is_err());
    }

    #[test]
    fn loss_needs_both_weights() {
        let bake = |raw_g, baked_g| Bake {
            raw_g,
            baked_g,
            ..Bake::default()
        };
        assert_eq!(bake(Some(1000.0), Some(880.0)).loss(), Some(12.0));
        assert_eq!(bake(Some(1000.0), None).loss(), None);
        assert_eq!(bake(Some(0.0), Some(0.0)).loss(), None);
    }
}
