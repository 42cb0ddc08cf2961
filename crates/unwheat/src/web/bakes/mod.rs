//! What was baked: every batch with its record and what was added to it later. A page each, and
//! any two of them line by line.

mod one;
mod onward;
mod pair;

use super::app::{App, Shared};
use super::bench::batch_sheet::{grams, minutes, times};
use super::bench::{Bake, Bench, style};
use super::fault::Fault;
use super::page::{ago, moment};
use super::recipe::{Leaf, Open, component_name};
use axum::Router;
use axum::routing::{get, post};
use maud::{Markup, html};
pub use onward::{noted, of as baked_of};
use quantity::{Locale, OvenSetting, Temperature, scales_of};
use serde::Deserialize;
use store::{Batch, Later, Record};

/// Its ways in.
pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/recipe/{id}/bakes/compare", get(pair::compare))
        .route("/recipe/{id}/bakes/{batch}", get(one::show).post(one::add))
        .route("/recipe/{id}/bakes/{batch}/mistake", post(one::mistake))
}

/// Whether a batch was finished with a record, and not put away.
fn was_kept(batch: &Batch) -> bool {
    batch.finished.is_some() && !record(batch).unmade
}

/// Whether a batch was made: it has a record, and was not finished by mistake.
pub fn was_made(batch: &Batch) -> bool {
    was_kept(batch) && batch.counts()
}

/// The record of a batch; empty where it has none.
pub fn record(batch: &Batch) -> Bake {
    read(batch.bake.as_ref())
}

/// A record as it was kept; empty where there is none.
pub fn read(record: Option<&serde_json::Value>) -> Bake {
    record
        .and_then(|b| Bake::deserialize(b).ok())
        .unwrap_or_default()
}

/// The running number of a bake of a recipe, by when it was finished: two in one minute are two.
fn number(all: &[Batch], id: i64) -> usize {
    let mut made: Vec<(Option<i64>, i64)> = all
        .iter()
        .filter(|b| was_kept(b))
        .map(|b| (b.finished, b.id))
        .collect();
    made.sort_unstable();
    made.iter().position(|b| b.1 == id).map_or(0, |at| at + 1)
}

/// A bake that counts, as other pages offer it.
pub struct Kept {
    /// Its batch.
    pub id: i64,
    /// Its running number.
    pub number: usize,
    /// When it was finished, Unix seconds.
    pub finished: i64,
    /// How many times the recipe.
    pub factor: f64,
    /// Its record.
    pub bake: Bake,
}

/// The bakes of a recipe that count, newest first, of its records.
pub fn kept(records: &[Record]) -> Vec<Kept> {
    let mut number = 0;
    let mut kept = Vec::new();
    // Oldest first, as they are numbered: those finished by mistake have their number too.
    for r in records.iter().rev() {
        let bake = read(r.bake.as_ref());
        if bake.unmade {
            continue;
        }
        number += 1;
        if r.counts {
            kept.push(Kept {
                id: r.id,
                number,
                finished: r.finished,
                factor: r.factor,
                bake,
            });
        }
    }
    kept.reverse();
    kept
}

/// A line weighed otherwise than planned.
#[derive(Debug, PartialEq)]
struct Off {
    name: String,
    plan: f64,
    actual: f64,
}

impl Off {
    /// The difference in % of the plan, where it shows.
    fn words(&self) -> String {
        let part = (self.actual - self.plan) / self.plan * 100.0;
        let sign = if part > 0.0 { "+" } else { "−" };
        format!("{sign}{}", percent(part.abs()))
    }
}

/// A percentage with one decimal at most: `12 %`, `5.2 %`, `0.4 %`.
fn percent(p: f64) -> String {
    if p >= 9.95 {
        format!("{p:.0} %")
    } else if p > 0.0 && p < 0.05 {
        "under 0.1 %".to_owned()
    } else {
        format!("{:.1} %", p + 0.0).replace(".0 %", " %")
    }
}

/// What was weighed otherwise than planned.
fn off(b: &Bench) -> Vec<Off> {
    b.plan
        .components
        .iter()
        .flat_map(|c| c.lines.iter().map(move |l| (c, l)))
        .flat_map(|(c, l)| std::iter::once((c, l)).chain(l.parts.iter().map(move |p| (c, p))))
        .filter_map(|(c, l)| {
            let (plan, actual) = (l.grams?, b.mark(&l.item)?.actual?);
            let name = if c.name.is_empty() || b.plan.components.len() == 1 {
                l.name.clone()
            } else {
                format!("{}, {}", l.name, c.name)
            };
            (plan > 0.0 && (plan - actual).abs() > 0.005).then_some(Off { name, plan, actual })
        })
        .collect()
}

/// A bake of a recipe, and its running number.
fn find(app: &App, recipe: i64, id: i64) -> Result<(Bench, usize), Fault> {
    let batch = app.kitchen.batch(id)?;
    if batch.recipe != recipe || !was_kept(&batch) {
        return Err(Fault::Missing("such bake of this recipe".to_owned()));
    }
    let number = number(&app.kitchen.batches_of(recipe)?, id);
    Ok((Bench::of(batch)?, number))
}

/// The Bakes page of a recipe.
pub fn body(app: &App, o: &Open) -> Result<Markup, Fault> {
    let (mut way, mut made, mut mistaken, mut unmade) = (Vec::new(), Vec::new(), Vec::new(), 0u32);
    let all = app.kitchen.batches_of(o.row.id)?;
    for batch in all.clone() {
        match batch.finished {
            None => way.push(Bench::of(batch)?),
            Some(_) if was_made(&batch) => made.push(Bench::of(batch)?),
            Some(_) if was_kept(&batch) => mistaken.push(batch),
            Some(_) => unmade += 1,
        }
    }
    let kept = kept(&o.records);
    Ok(html! {
        (style())
        @if let Some(last) = kept.first() { (onward::after(app, o, last, kept.get(1))?) }
        @if !way.is_empty() {
            section.sheet aria-labelledby="way" {
                h2 #way { "At the bench now" }
                ul.front { @for b in &way { li {
                    span { a.name href={ "/bench/" (b.batch.id) } { "× " (times(b.batch.factor)) ", " (b.version()) } br; small { "begun " (ago(b.batch.started, app.now())) @if !b.batch.who.is_empty() { " by " (b.batch.who) } } }
                    a.button.do href={ "/bench/" (b.batch.id) } { "Go on" span.unseen { " with × " (times(b.batch.factor)) ", begun " (ago(b.batch.started, app.now())) } }
                } } }
            }
        }
        section.sheet aria-labelledby="made" {
            h2 #made { "What was made" }
            @if made.is_empty() {
                p { "Nothing yet. Start a batch on the " a href=(o.at(Leaf::Bench)) { "Bench" } " page; when it is finished its record stands here." }
            } @else {
                form method="get" action={ "/recipe/" (o.row.id) "/bakes/compare" } {
                    table.ledger.stack.bakes {
                        thead { tr {
                            th scope="col" { "When and who" } th scope="col" { "Made" } th scope="col" { "Oven and loss" } th scope="col" { "Weighed otherwise" } th scope="col" { "In words" }
                            @if made.len() > 1 { th scope="col" { "Compare" } }
                        } }
                        tbody { @for (i, b) in made.iter().enumerate() { (row(b, i, made.len(), number(&all, b.batch.id), o.home())) } }
                    }
                    @if made.len() > 1 { button { "Set the two side by side" } }
                }
            }
            @for b in &mistaken {
                p.hint { a href={ "/recipe/" (b.recipe) "/bakes/" (b.id) } { "Bake " (number(&all, b.id)) } ", " (moment(b.finished.unwrap_or(b.started))) ": finished by mistake, counted as no bake." }
            }
            @if unmade > 0 { p.hint { @if unmade == 1 { "One batch was" } @else { (unmade) " batches were" } " put away without being made." } }
        }
    })
}

fn row(b: &Bench, i: usize, all: usize, number: usize, home: Locale) -> Markup {
    let bake = record(&b.batch);
    let who = if bake.who.is_empty() {
        &b.batch.who
    } else {
        &bake.who
    };
    let page = format!("/recipe/{}/bakes/{}", b.batch.recipe, b.batch.id);
    let when = moment(b.batch.finished.unwrap_or(b.batch.started));
    html! {
        tr id={ "b" (b.batch.id) } {
            td { a href=(page) { strong { "Bake " (number) } } br; (when) @if !who.is_empty() { br; (who) } }
            td { span.n { "× " (times(b.batch.factor)) } br; (b.version()) @if !b.plan.gluten.is_empty() { br; span.tag.warn { "contains gluten" } } }
            td.full { (oven(&bake, b, home)) }
            td.full { (otherwise(b)) }
            td.full {
                @if bake.verdict.is_empty() { small { "no words" } } @else { span.told { (bake.verdict) } }
                @if !bake.next.is_empty() { p.told { strong { "Next time: " } (bake.next) } }
                (later("Added ", &b.batch.later))
                p { a href={ (page) "#add" } { "Add to this bake" span.unseen { ", bake " (number) } } }
            }
            @if all > 1 {
                td.full.two {
                    label { input type="radio" name="a" value=(b.batch.id) checked[i == 1]; "first" span.unseen { ": bake " (number) " of " (when) ", × " (times(b.batch.factor)) } }
                    label { input type="radio" name="b" value=(b.batch.id) checked[i == 0]; "second" span.unseen { ": bake " (number) " of " (when) ", × " (times(b.batch.factor)) } }
                }
            }
        }
    }
}

/// What was weighed otherwise than planned, as a list.
fn otherwise(b: &Bench) -> Markup {
    let off = off(b);
    html! {
        @if off.is_empty() { small { "as planned, or not noted" } } @else {
            ul.off { @for x in &off { li { (component_name(&x.name)) ": " span.n { (grams(x.plan)) " → " strong { (grams(x.actual)) } " g" } " " span.range { "(" (x.words()) ")" } } } }
        }
    }
}

/// What was added later, a paragraph each, begun with a word where no heading says it.
pub fn later(word: &str, notes: &[Later]) -> Markup {
    html! {
        @for n in notes {
            p.told { strong { (word) (moment(n.at)) @if !n.who.is_empty() { ", " (n.who) } ": " } (n.text) }
        }
    }
}

/// A row of a record.
pub struct Fact {
    /// Of what.
    pub name: &'static str,
    /// In words, not in figures.
    told: bool,
    /// What is known of it.
    pub value: Option<String>,
}

/// A record, row by row, whether known or not.
pub fn facts(bake: &Bake) -> [Fact; 10] {
    let words = |s: &str| Some(s.to_owned()).filter(|s| !s.is_empty());
    let fact = |name, told, value| Fact { name, told, value };
    let weighed = |g: Option<f64>| g.map(|g| format!("{} g", grams(g)));
    let oven = words(&bake.oven).map(|k| kind(&k).to_owned());
    [
        fact("Oven", false, bake.oven_c.map(dial)),
        fact("Kind of oven", false, oven),
        fact("Pan or tin", false, words(&bake.pan)),
        fact("How long", false, bake.minutes.map(minutes)),
        fact("In the middle", false, bake.core_c.map(probe)),
        fact("Before the oven", false, weighed(bake.raw_g)),
        fact("After cooling", false, weighed(bake.baked_g)),
        fact("Lost in the oven", false, bake.loss().map(percent)),
        fact("How it came out", true, words(&bake.verdict)),
        fact("Next time", true, words(&bake.next)),
    ]
}

fn kind(key: &str) -> &'static str {
    super::bench::OVENS
        .iter()
        .find(|o| o.0 == key)
        .map_or("oven", |o| o.1)
}

/// An oven in both scales, °F as its dial shows them; as noted in °C.
fn dial(c: f64) -> String {
    let f = OvenSetting(Temperature::celsius(c)).beside_celsius();
    format!("{c:.0} °C ({f} °F)")
}

/// The same with °F first in a kitchen that reads it.
fn as_read(both: &str, home: Locale) -> String {
    match home {
        Locale::Us => scales_of(both, home),
        _ => both.to_owned(),
    }
}

/// A probe in both scales.
fn probe(c: f64) -> String {
    let f = Temperature::celsius(c).as_fahrenheit();
    format!("{c:.0} °C ({f:.0} °F)")
}

fn oven(bake: &Bake, b: &Bench, home: Locale) -> Markup {
    let nothing = bake.oven_c.is_none()
        && bake.minutes.is_none()
        && bake.core_c.is_none()
        && bake.raw_g.is_none()
        && bake.baked_g.is_none()
        && bake.pan.is_empty();
    html! {
        @if nothing { small { "not noted" } }
        @if let Some(c) = bake.oven_c { span.n { (as_read(&dial(c), home)) } ", " (kind(&bake.oven)) br; }
        @if !bake.pan.is_empty() { (bake.pan) br; }
        @if let Some(m) = bake.minutes { span.n { (minutes(m)) } br; }
        @if let Some(c) = bake.core_c { "middle " span.n { (as_read(&probe(c), home)) } br; }
        @if let Some(loss) = bake.loss() {
            "lost " span.n { (percent(loss)) }
            @if let Some((low, high)) = b.plan.bake_loss { @if loss < low || loss > high { " " small { "usual: " (format!("{low:.0}–{high:.0} %")) } } }
        } @else if let Some(g) = bake.baked_g.or(bake.raw_g) { @if bake.baked_g.is_some() { "baked " } @else { "raw " } span.n { (grams(g)) " g" } }
    }
}

#[cfg(test)]
pub mod tests {
    use super::*;
    use crate::web::bench::batch_sheet::{BatchSheet, Line, Part};
    use store::Mark;

    /// What is asked to be looked over holds every figure that is kept.
    #[test]
    fn all_that_is_kept_is_shown() {
        let bake = Bake {
            raw_g: Some(1900.0),
            baked_g: Some(1710.0),
            ..Bake::default()
        };
        let shown: Vec<String> = facts(&bake)
            .into_iter()
            .filter_map(|f| Some(format!("{}: {}", f.name, f.value?)))
            .collect();
        assert_eq!(
            shown,
            [
                "Before the oven: 1900 g",
                "After cooling: 1710 g",
                "Lost in the oven: 10 %"
            ]
        );
    }

    pub fn bake(factor: f64, weights: &[(&str, f64, Option<f64>)]) -> Bench {
        let lines = weights
            .iter()
            .map(|w| Line {
                item: format!("0:{}", w.0),
                name: w.0.to_owned(),
                grams: Some(w.1),
                ..Line::default()
            })
            .collect();
        let marks = weights
            .iter()
            .map(|w| Mark {
                item: format!("0:{}", w.0),
                ticked: true,
                actual: w.2,
                at: 1,
            })
            .collect();
        Bench {
            batch: Batch {
                id: 1,
                recipe: 1,
                factor,
                finished: Some(1),
                marks,
                ..Batch::default()
            },
            plan: BatchSheet {
                components: vec![Part {
                    lines,
                    ..Part::default()
                }],
                ..BatchSheet::default()
            },
            before: None,
        }
    }

    #[test]
    fn only_what_differs_is_told() {
        let b = bake(
            1.0,
            &[
                ("milk", 200.0, Some(210.0)),
                ("egg", 100.0, Some(100.0)),
                ("salt", 7.0, None),
            ],
        );
        let found = off(&b);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].words(), "+5 %");
        for (p, want) in [
            (0.38, "0.4 %"),
            (0.01, "under 0.1 %"),
            (0.0, "0 %"),
            (5.24, "5.2 %"),
            (12.6, "13 %"),
        ] {
            assert_eq!(percent(p), want);
        }
    }

    #[test]
    fn what_was_put_away_is_no_bake() {
        let mut b = bake(1.0, &[]).batch;
        assert!(was_made(&b));
        b.bake = Some(serde_json::json!({ "unmade": true }));
        assert!(!was_made(&b));
        b.finished = None;
        assert!(!was_made(&b));
    }
}
