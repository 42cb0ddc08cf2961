//! A batch is finished: what was made of it, in figures and words.

use super::since::{stop, told};
use super::undone::Undone;
use super::view::frame;
use super::{Bench, finished_already, seal};
use crate::web::app::{App, Shared, run};
use crate::web::bakes::facts;
use crate::web::fault::Fault;
use crate::web::page::{self, back_to};
use crate::web::post::{Named, Post, figure};
use crate::web::recipe::{change, open};
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

/// Of what a temperature is asked: its name, the most it can be in °C without a letter, and
/// the least in °F.
struct Thing {
    what: &'static str,
    most_c: f64,
    least_f: f64,
}

const OVEN: Thing = Thing {
    what: "the oven",
    most_c: 290.0,
    least_f: 195.0,
};
/// Water boils at 100 °C: what is hotter in the middle is burnt or in °F.
const MIDDLE: Thing = Thing {
    what: "the middle",
    most_c: 105.0,
    least_f: 110.0,
};

/// What a figure without a letter is read as.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Bare {
    Celsius,
    Fahrenheit,
    /// As what it can be; asked where it can be both.
    Either,
}

impl Bare {
    /// As the plan's source writes its temperatures.
    fn of(b: &Bench) -> Self {
        match b.plan.degrees.as_deref() {
            Some("F") => Self::Fahrenheit,
            Some("both") => Self::Either,
            _ => Self::Celsius,
        }
    }
    /// How to write one, beside its field.
    fn hint(self, c: u32, f: u32) -> String {
        match self {
            Self::Celsius => format!("°C, or write {f} F"),
            Self::Fahrenheit => format!("°F, or write {c} C"),
            Self::Either => format!("{c} C or {f} F"),
        }
    }
}

/// Degrees as people write them: '180', '180 °C', '350 F'. In °C. A figure without a letter that
/// cannot be of the scale is asked back.
fn celsius(text: &str, thing: &Thing, read_as: Bare) -> Result<Option<f64>, Fault> {
    let words = text.trim().to_lowercase();
    let named = ["degrees", "fahrenheit", "celsius", "deg"];
    let letter = words
        .trim_end_matches('.')
        .trim_end_matches("ahrenheit")
        .trim_end_matches("elsius")
        .to_owned();
    let mut bare = letter.trim_end_matches(['c', 'f', ' ']).to_owned();
    for n in named {
        bare = bare.trim_end().trim_end_matches(n).to_owned();
    }
    let bare = bare.trim_end_matches(['°', ' ']);
    let Some(v) = figure(bare, thing.what)? else {
        if words.is_empty() {
            return Ok(None);
        }
        return Err(Fault::bad(format!(
            "'{}' is no temperature for {}: write °C like 180 C, or °F like 350 F",
            text.trim(),
            thing.what
        )));
    };
    let of_f = |f: f64| (f - 32.0) / 1.8;
    let to_f = |c: f64| c * 1.8 + 32.0;
    let can_c = v <= thing.most_c;
    let can_f = v >= thing.least_f && of_f(v) <= thing.most_c;
    let c = if letter.ends_with('f') {
        of_f(v)
    } else if letter.ends_with('c') {
        v
    } else {
        match read_as {
            Bare::Celsius if can_c => v,
            Bare::Fahrenheit if can_f => of_f(v),
            Bare::Either if can_c && !can_f => v,
            Bare::Either if can_f && !can_c => of_f(v),
            Bare::Celsius if can_f => {
                return Err(Fault::bad(format!(
                    "For {}: is {v} in °F? Write {v} F; or {:.0} for °C.",
                    thing.what,
                    of_f(v)
                )));
            }
            Bare::Fahrenheit if can_c => {
                return Err(Fault::bad(format!(
                    "For {}: is {v} in °C? Write {v} C; or {:.0} for °F.",
                    thing.what,
                    to_f(v)
                )));
            }
            _ => {
                return Err(Fault::bad(format!(
                    "For {}: is {v} in °C or in °F? Write {v} C or {v} F.",
                    thing.what
                )));
            }
        }
    };
    if !(-40.0..=600.0).contains(&c) {
        return Err(Fault::bad(format!(
            "'{}' is no temperature for {}: write °C like 180 C, or °F like 350 F",
            text.trim(),
            thing.what
        )));
    }
    Ok(Some((c * 10.0).round() / 10.0))
}

/// Both temperatures; what is to ask of both is asked at once.
fn degrees(post: &Post, read_as: Bare) -> Result<(Option<f64>, Option<f64>), Fault> {
    let oven = celsius(post.text("oven_c"), &OVEN, read_as);
    let core = celsius(post.text("core_c"), &MIDDLE, read_as);
    match (oven, core) {
        (Err(Fault::Bad(a)), Err(Fault::Bad(b))) => Err(Fault::bad(format!("{a} {b}"))),
        (oven, core) => Ok((oven?, core?)),
    }
}

fn read(post: &Post, read_as: Bare) -> Result<Bake, Fault> {
    let within = |name: &str, what: &str, most: f64| match post.figure(name, what)? {
        Some(v) if !(0.0..=most).contains(&v) => Err(Fault::bad(format!(
            "'{}' cannot be {what}",
            post.text(name)
        ))),
        other => Ok(other),
    };
    let words = |name: &str| post.text(name).chars().take(4000).collect::<String>();
    let (oven_c, core_c) = degrees(post, read_as)?;
    let bake = Bake {
        unmade: post.has("unmade"),
        oven_c,
        oven: OVENS
            .iter()
            .map(|o| o.0)
            .find(|o| *o == post.text("oven"))
            .unwrap_or_default()
            .to_owned(),
        pan: words("pan"),
        minutes: within("minutes", "the minutes in the oven", 10_000.0)?,
        core_c,
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
    let pan = post.map_or_else(
        || b.plan.pan.clone().unwrap_or_default(),
        |p| p.raw("pan").to_owned(),
    );
    let read_as = Bare::of(b);
    let undone = Undone::of(b, app.now());
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
                (told(b, &stop(app, b)?))
                @if undone.any() { details.trouble { summary { "What is not done yet" } (undone.told()) } }
                @if running > 0 { p.trouble { @if running == 1 { "A timer still runs." } @else { (running) " timers still run." } " They end with the batch." } }
                form.finish-form method="post" action={ "/bench/" (b.batch.id) "/finish" } data-draft={ (b.batch.id) " " (b.batch.started) } data-state={ "/bench/" (b.batch.id) "/state" } data-typed[post.is_some()] {
                    (seal(app, &b.batch))
                    p.hint { "Write what you know; leave the rest empty. Nothing is kept before the next page, where all of it is shown once more." }
                    fieldset {
                        legend { "In the oven" }
                        div.row {
                            (field("oven_c", "Oven, really", &read_as.hint(177, 350)))
                            div { label for="oven" { "Kind" } select #oven name="oven" {
                                option value="" { "not in an oven" }
                                @for (key, words) in OVENS { option value=(key) selected[key == oven] { (words) } }
                            } }
                            (field("minutes", "How long", "min"))
                            div.grow { label for="pan" { "Pan or tin" } input #pan name="pan" list="pans" maxlength="120" autocomplete="off" value=(pan); datalist #pans { @for p in &settings.pans { option value=(p) {} } } }
                            (field("core_c", "In the middle at the end", &read_as.hint(96, 205)))
                        }
                    }
                    fieldset {
                        legend { "Weight of it all" }
                        div.row { (field("raw_g", "Before the oven", "g")) (field("baked_g", "After cooling", "g")) }
                        @if let Some((low, high)) = b.plan.bake_loss { p.hint { "Bakes of this kind lose about " (format!("{low:.0}–{high:.0} %")) "." } }
                    }
                    label for="verdict" { "How it came out" }
                    textarea #verdict name="verdict" maxlength="4000" placeholder="crumb, rise, taste, what the tasters said" { (was("verdict")) }
                    label for="next-time" { "Next time change" }
                    textarea.short #next-time name="next" maxlength="4000" placeholder="one thing" { (was("next")) }
                    label for="who" { "Who writes this" }
                    input #who name="who" maxlength="80" value=(who);
                    p.ends { button.big.do name="ask" value="made" { "Look it over and finish" } button.big.plain name="ask" value="unmade" { "It was not made: put it away" } }
                }
            }
        }
    })
}

/// Shows once more what is about to be kept, and asks. Fields here are hidden ones: a key pressed
/// in one of them can finish nothing.
fn sure(app: &App, b: &Bench, post: &Post, bake: &Bake) -> Result<Markup, Fault> {
    const FIELDS: [&str; 10] = [
        "oven_c", "oven", "minutes", "pan", "core_c", "raw_g", "baked_g", "verdict", "next", "who",
    ];
    let to = format!("/bench/{}/finish", b.batch.id);
    let unmade = post.text("ask") == "unmade";
    let untouched = b
        .batch
        .marks
        .iter()
        .all(|m| !m.ticked && m.actual.is_none());
    let undone = Undone::of(b, app.now());
    let facts = facts(bake);
    let known: Vec<_> = facts
        .iter()
        .filter_map(|f| Some((f.name, f.value.as_ref()?)))
        .collect();
    Ok(html! {
        a.skip href="#work" { "Skip to the question" }
        header.bench-head {
            div { h1 { @if unmade { "Put the batch away?" } @else { "Finish the batch?" } } p { (b.batch.title) ": " (super::view::about(b)) } }
            a.button.big href={ "/bench/" (b.batch.id) } { "Back to the bench" }
        }
        (page::band(app)?)
        div.bench-body {
            main #work tabindex="-1" {
                (told(b, &stop(app, b)?))
                @if !unmade && undone.any() {
                    div.trouble role="alert" {
                        p { strong { @if untouched { "Nothing was weighed or ticked: finish all the same?" } @else { "Not all of it is done: finish all the same?" } } }
                        (undone.told())
                    }
                }
                section.work aria-labelledby="kept" {
                    h2 #kept { @if unmade { "It will count as no bake" } @else { "What will be kept" } }
                    @if !unmade {
                        @if known.is_empty() { p { "No figure and no word; only what was ticked and weighed." } }
                        @else { table.ledger.pair { tbody { @for (name, value) in &known { tr { th scope="row" { (name) } td.told { (value) } } } } } }
                    }
                    p.hint { "The record cannot be changed afterwards. Notes can be added to it, also that it was finished by mistake." }
                    form.finish-form method="post" action=(to) {
                        (seal(app, &b.batch))
                        @for name in FIELDS { input type="hidden" name=(name) value=(post.raw(name)); }
                        p.ends {
                            @if unmade { button.big.do name="unmade" value="1" { "Put it away" } }
                            @else { button.big.do name="made" value="1" { "Finish and keep the record" } }
                            button.big.plain name="again" value="1" { "Change something first" }
                        }
                    }
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
        let title = format!("Finish · {}", b.batch.title);
        frame(app, &title, &["finish.js"], &body)
    })
    .await
}

/// Keeps the record.
pub async fn keep(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    Named(post): Named,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let b = Bench::of_form(app, id, &post)?;
        let recipe = b.batch.recipe;
        let title = format!("Finish · {}", b.batch.title);
        let bake = match read(&post, Bare::of(&b)) {
            Ok(bake) => bake,
            Err(Fault::Bad(words)) => {
                let body = form(app, &b, Some(&post), Some(&words))?;
                let page = frame(app, &title, &["finish.js"], &body)?;
                return Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response());
            }
            Err(other) => return Err(other),
        };
        if post.has("again") {
            let body = form(app, &b, Some(&post), None)?;
            return frame(app, &title, &["finish.js"], &body);
        }
        // Only the buttons of the question finish: Enter in a field asks.
        if !post.has("made") && !post.has("unmade") {
            return frame(app, &title, &[], &sure(app, &b, &post, &bake)?);
        }
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

    fn told(text: &str, thing: &Thing, read_as: Bare) -> String {
        match celsius(text, thing, read_as) {
            Ok(Some(c)) => format!("{c}"),
            Ok(None) => "nothing".to_owned(),
            Err(Fault::Bad(words)) => words,
            Err(_) => "trouble".to_owned(),
        }
    }

    #[test]
    fn degrees_as_people_write_them() {
        for read_as in [Bare::Celsius, Bare::Fahrenheit, Bare::Either] {
            for (text, want) in [
                ("180 °C", "180"),
                ("180C", "180"),
                ("350 F", "176.7"),
                ("350°F", "176.7"),
                ("350 degrees F", "176.7"),
                ("350 Fahrenheit", "176.7"),
                ("96,5 c", "96.5"),
                ("450 c", "450"),
                (" ", "nothing"),
            ] {
                assert_eq!(told(text, &OVEN, read_as), want, "{text}");
            }
            for text in ["9000", "9000 C", "hot", "f", "°"] {
                assert!(celsius(text, &OVEN, read_as).is_err(), "{text}");
            }
        }
    }

    #[test]
    fn a_bare_figure_of_the_wrong_scale_is_asked_back() {
        for (text, thing, read_as, want) in [
            ("180", &OVEN, Bare::Celsius, "180"),
            ("290", &OVEN, Bare::Celsius, "290"),
            (
                "350",
                &OVEN,
                Bare::Celsius,
                "For the oven: is 350 in °F? Write 350 F; or 177 for °C.",
            ),
            (
                "203",
                &MIDDLE,
                Bare::Celsius,
                "For the middle: is 203 in °F? Write 203 F; or 95 for °C.",
            ),
            ("350", &OVEN, Bare::Fahrenheit, "176.7"),
            ("203", &MIDDLE, Bare::Fahrenheit, "95"),
            (
                "180",
                &OVEN,
                Bare::Fahrenheit,
                "For the oven: is 180 in °C? Write 180 C; or 356 for °F.",
            ),
            (
                "96",
                &MIDDLE,
                Bare::Fahrenheit,
                "For the middle: is 96 in °C? Write 96 C; or 205 for °F.",
            ),
            ("350", &OVEN, Bare::Either, "176.7"),
            ("180", &OVEN, Bare::Either, "180"),
            ("96", &MIDDLE, Bare::Either, "96"),
            (
                "220",
                &OVEN,
                Bare::Either,
                "For the oven: is 220 in °C or in °F? Write 220 C or 220 F.",
            ),
            (
                "900",
                &OVEN,
                Bare::Celsius,
                "For the oven: is 900 in °C or in °F? Write 900 C or 900 F.",
            ),
        ] {
            assert_eq!(told(text, thing, read_as), want, "{text} {read_as:?}");
        }
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
