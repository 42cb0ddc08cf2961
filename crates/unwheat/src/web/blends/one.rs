//! One blend: what it is made of, a batch to mix, its jar and its versions.

use super::label::{CUP, cup, jar, protein, share_words, starches, style_names, to_check};
use super::{BATCH, BATCHES, history, mixing, page};
use crate::web::app::{App, Pantry, Shared, run};
use crate::web::fault::Fault;
use crate::web::kitchen::law;
use crate::web::larder_page::plain::texture;
use crate::web::larder_page::typed::kept;
use crate::web::larder_page::{rests_on, style};
use crate::web::page::{self as frame, back_to, sentence, since};
use crate::web::post::figure;
use crate::web::recipe::component_name;
use crate::web::recipe::rework::blend_picture;
use crate::web::recipe::screen::allergens;
use crate::web::recipe::screen::whole_verdict;
use axum::extract::{Path, RawQuery, State as Held};
use axum::response::Response;
use larder::{FoodId, Larder};
use maud::{Markup, html};
use recipe::rework::blend::Blend;
use store::{BlendRow, Settings};

/// A blend by key: the house's, the kitchen's own, or one in the bin.
pub(super) struct Found {
    /// The blend.
    pub(super) blend: Blend,
    row: Option<BlendRow>,
    binned: bool,
}

pub(super) fn find(app: &App, pantry: &Pantry, key: &str) -> Result<Option<Found>, Fault> {
    if let Some(blend) = pantry.blends().into_iter().find(|b| b.key == key) {
        let row = app.kitchen.blend_history(key)?.into_iter().next();
        return Ok(Some(Found {
            blend,
            row,
            binned: false,
        }));
    }
    let Some(row) = app.kitchen.blends(true)?.into_iter().find(|r| r.key == key) else {
        return Ok(None);
    };
    Ok(row.blend.blend(&pantry.larder).ok().map(|blend| Found {
        blend,
        row: Some(row),
        binned: true,
    }))
}

pub(super) fn missing() -> Fault {
    Fault::Missing("such blend".to_owned())
}

/// A blend's page.
pub(super) async fn show(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    query: RawQuery,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let pantry = app.pantry()?;
        let Some(found) = find(app, &pantry, &key)? else {
            if app.kitchen.blend_history(&key)?.is_empty() {
                return Err(missing());
            }
            // It cannot be used as it stands: show what is wrong, in its form.
            return Ok(back_to(&format!("/blends/{key}/change")));
        };
        let settings = app.settings()?;
        let query = query.0.unwrap_or_default();
        let words = found
            .row
            .as_ref()
            .map_or("Kept.".to_owned(), |r| match r.version {
                1 => "Kept. It is among your own blends now.".to_owned(),
                n => format!("Kept. This is version {n} now."),
            });
        let said = kept(Some(&query), &words);
        let typed = form_urlencoded::parse(query.as_bytes())
            .find(|(k, _)| k == "batch")
            .map(|(_, v)| v.into_owned());
        let (batch, trouble) = batch(typed.as_deref());
        let typed = typed.unwrap_or_else(|| format!("{BATCH:.0}"));
        let main = blend_main(app, &pantry, &settings, &found, batch, &typed, trouble)?;
        page(app, &found.blend.name, &html! { (said) (main) }, None)
    })
    .await
}

/// The batch asked for, g, and what is wrong with what was typed.
pub(super) fn batch(typed: Option<&str>) -> (f64, Option<String>) {
    let Some(typed) = typed else {
        return (BATCH, None);
    };
    match figure(typed, "the batch") {
        Ok(None) => (BATCH, None),
        Ok(Some(g)) if BATCHES.contains(&g) => (g, None),
        Ok(Some(_)) => (
            BATCH,
            Some(format!(
                "A batch weighs {} g to {} kg.",
                BATCHES.start(),
                BATCHES.end() / 1000.0
            )),
        ),
        Err(f) => (BATCH, Some(sentence(&f.told().2))),
    }
}

fn blend_main(
    app: &App,
    pantry: &Pantry,
    settings: &Settings,
    found: &Found,
    batch: f64,
    typed: &str,
    trouble: Option<String>,
) -> Result<Markup, Fault> {
    let larder = &pantry.larder;
    let b = &found.blend;
    let s = b.screening(larder);
    let past = if b.own {
        app.kitchen.blend_history(&b.key)?
    } else {
        Vec::new()
    };
    let (label, mill) = to_check(larder, b, &s, true);
    Ok(html! {
        (style())
        div.blend-page {
            p { a href="/blends" { "Blends" } }
            header.food-head {
                div.between {
                    h1 { (component_name(&b.name)) }
                    @if found.binned { span.tag.warn { "in the bin" } }
                    @else if let Some(r) = &found.row { span.tag { "your own, version " (r.version) } }
                    @else { span.tag.line { "house blend" } }
                }
                @if !b.why.is_empty() { p { (sentence(&b.why)) } }
                @if found.row.is_none() { p.hint { "Our own design, not yet test-baked: common practice, no source." } }
                div.row {
                    @if b.own && !found.binned { a.button.do href={ "/blends/" (b.key) "/change" } { "Change it" } }
                    @if !found.binned { a.button href={ "/blends/new?from=" (b.key) } { "Start a new one from this" } }
                    @if b.own {
                        form method="post" action={ "/blends/" (b.key) "/bin" } {
                            (frame::seal(app))
                            @if found.binned { button name="way" value="out" { "Take it out of the bin" } }
                            @else { button.plain name="way" value="in" { "Put it in the bin" } }
                        }
                    }
                }
            }
            div.spread.even {
                section.sheet aria-labelledby="make-up" {
                    h2 #make-up { "What it is made of" }
                    div.blend-pic { (blend_picture(&b.key, b, larder)) }
                    (ledger(larder, b))
                    @if !found.binned { (without(larder, b)) }
                }
                section.sheet aria-labelledby="facts" {
                    div.between { h2 #facts { "What is known of it" } (whole_verdict(&s, larder)) }
                    dl.facts {
                        dt { (CUP) } dd { (cup(larder, b, &settings.locale)) }
                        dt { "Starches" } dd { span.n { (starches(larder, b)) } " % " br; small { "starch inside the flours not counted" } }
                        dt { "Protein" } dd { (protein(larder, b)) }
                        dt { "Chosen first for" } dd { @if b.styles.is_empty() { "no style; choose it on a recipe's Rework page" } @else { (style_names(b)) } }
                        @if !label.is_empty() { dt { "Check the label of" } dd { (label.join(", ")) } }
                        @if !mill.is_empty() { dt { "Buy labelled gluten-free" } dd { (mill.join(", ")) br; small { "free by nature, but milled or packed beside wheat" } } }
                    }
                    h3.part { "Allergens, " (law(settings).name()) }
                    (allergens(&s, law(settings)))
                    @for c in s.cautions.iter().filter(|c| c.code == "oats") { p.trouble { (c.text) } }
                    p.hint { "Read the label again on each new pack." }
                }
            }
            div.spread.even.for-jar {
                (sheet(larder, b, settings, batch, typed, trouble))
                section.sheet.jar-sheet aria-labelledby="jar" {
                    h2 #jar { "For the jar" }
                    (jar(larder, b, settings, &s, app.now()))
                    p.hint { "Print this page: only the label comes out." }
                }
            }
            (versions(larder, &past, app.now()))
        }
    })
}

/// The way to the blend without one of its flours.
fn without(larder: &Larder, b: &Blend) -> Markup {
    html! {
        form.row.without method="get" action="/blends/work-out" {
            input type="hidden" name="like" value=(b.key);
            div {
                label for="not" { "Make it without" }
                select #not name="not" { @for (f, _) in &b.parts { option value=(larder.food(*f).key) { (larder.food(*f).name) } } }
            }
            button { "Work it out anew" }
        }
    }
}

fn ledger(larder: &Larder, b: &Blend) -> Markup {
    let mut parts = b.parts.clone();
    parts.sort_by(|x, y| y.1.total_cmp(&x.1));
    let row = |(food, share): &(FoodId, f64), top: bool| {
        let f = larder.food(*food);
        let a = larder.absorption(*food);
        html! {
            tr {
                td { a href={ "/larder/" (f.key) } { (f.name) } }
                td.f { @if top { "+" } (share_words(*share)) " %" }
                td.full { @if let Some(a) = a { (texture(&a.texture)) @if !a.texture.is_empty() { br; small { (rests_on(&a.source, a.status)) } } } }
            }
        }
    };
    html! {
        table.ledger.stack {
            thead { tr { th scope="col" { "Flour or starch" } th.f scope="col" { "Share" } th scope="col" { "What it brings" } } }
            tbody {
                @for p in &parts { (row(p, false)) }
                tr.sum { td { "Together" } td.f { "100 %" } td {} }
                @for p in &b.binders { (row(p, true)) }
            }
        }
        @if !b.binders.is_empty() { p.hint { "Binders come on top, in percent of the flours and starches." } }
    }
}

/// The mixing sheet of a batch.
fn sheet(
    larder: &Larder,
    b: &Blend,
    settings: &Settings,
    batch: f64,
    typed: &str,
    trouble: Option<String>,
) -> Markup {
    let step = mixing::step(settings.scale_step);
    let fine = if settings.fine_scale_step > 0.0 {
        mixing::step(settings.fine_scale_step)
    } else {
        step
    };
    let mut parts = b.parts.clone();
    parts.sort_by(|x, y| y.1.total_cmp(&x.1));
    let shares: Vec<f64> = parts.iter().map(|p| p.1).collect();
    let steps = (batch / step).round().max(1.0) as u64;
    let weights = mixing::split(&shares, steps);
    let made = steps as f64 * step;
    let binders: Vec<(FoodId, u64)> = b
        .binders
        .iter()
        .map(|(f, s)| (*f, (made * s / 100.0 / fine).round() as u64))
        .collect();
    let all = made + binders.iter().map(|x| x.1 as f64 * fine).sum::<f64>();
    html! {
        section.sheet aria-labelledby="mix" {
            h2 #mix { "Mix a batch" }
            form.row method="get" action={ "/blends/" (b.key) "#mix" } {
                div {
                    label for="batch" { "Grams of flours and starches" }
                    input.f.batch #batch name="batch" inputmode="decimal" value=(typed) autocomplete="off"
                        aria-invalid=[trouble.as_ref().map(|_| "true")] aria-describedby=[trouble.as_ref().map(|_| "batch-wrong")];
                }
                button { "Work it out" }
            }
            @if let Some(words) = &trouble { p.wrong #batch-wrong role="alert" { (words) } }
            table.ledger {
                caption { "In steps of " (step) " g as your scale shows them"
                    @if (made - batch).abs() > 1e-9 { "; brought to " (mixing::grams(steps, step)) " g" } "." }
                thead { tr { th scope="col" { "Weigh in" } th.f scope="col" { "Grams" } th.f scope="col" { "On the scale so far" } } }
                tbody {
                    @for (i, ((food, _), w)) in parts.iter().zip(&weights).enumerate() {
                        tr {
                            td { (larder.food(*food).name) }
                            td.f { strong { (mixing::grams(*w, step)) } }
                            td.f { (mixing::grams(weights[..=i].iter().sum(), step)) }
                        }
                    }
                    tr.sum { td { "Flours and starches" } td.f { (mixing::grams(steps, step)) " g" } td {} }
                    @for (food, w) in &binders {
                        tr { td { (larder.food(*food).name) " " small { "on top, weighed by itself" } } td.f { strong { (mixing::grams(*w, fine)) } } td {} }
                    }
                    @if !binders.is_empty() { tr.sum { td { "All of it" } td.f { (format!("{all:.0}")) " g" } td {} } }
                }
            }
            p.hint { "Whisk, then sieve twice, or shake in a closed tub: fine starches settle under the flours. Stir again before each weighing. Common practice, no source." }
        }
    }
}

fn versions(larder: &Larder, past: &[BlendRow], now: i64) -> Markup {
    html! {
        @if !past.is_empty() {
            section.sheet aria-labelledby="versions" {
                h2 #versions { "Versions" }
                ol.changes.past {
                    @for (i, r) in past.iter().enumerate() {
                        li {
                            span.what { "Version " (r.version) ": " (r.why) } br;
                            small { (r.who) ", " (since(r.at, now)) }
                            ul { @for w in history::changes(larder, past.get(i + 1).map(|b| &b.blend), &r.blend) { li { (w) } } }
                        }
                    }
                }
            }
        }
    }
}
