//! Blends: the kitchen's own and the house's, how to mix a batch, and what to write on the jar.

mod form;
mod history;
mod mixing;

use super::app::{App, Pantry, Shared, run};
use super::fault::Fault;
use super::larder_page::plain::{own_cup, texture};
use super::larder_page::typed::{KEPT, Typed, UNSAVED, kept, own_key, unsigned};
use super::larder_page::{rests_on, style};
use super::page::{self, Page, Way, ago, back_to, day, moment, sentence};
use super::post::{Post, figure};
use super::recipe::component_name;
use super::recipe::rework::blend_picture;
use super::recipe::screen::{allergens, verdict};
use axum::extract::{Path, RawQuery, State as Held};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post as on_post};
use axum::{Json, Router};
use larder::allergen::Regime;
use larder::{FoodId, Gluten, Larder, PpmBasis};
use maud::{Markup, html};
use recipe::rework::blend::{self, Blend, OwnBlend};
use recipe::screen::{Entry, Screening};
use serde_json::json;
use store::{BlendRow, Settings};

/// A batch when none is asked for, g of flours and starches.
const BATCH: f64 = 2_000.0;
/// Batches that a kitchen can mix, g.
const BATCHES: std::ops::RangeInclusive<f64> = 10.0..=200_000.0;

/// Its ways in.
pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/blends", get(list))
        .route("/blends/new", get(fresh).post(add))
        .route("/blends/{key}", get(show))
        .route("/blends/{key}/change", get(edit).post(save))
        .route("/blends/{key}/bin", on_post(bin))
}

fn page(app: &App, title: &str, main: &Markup, beside: Option<Markup>) -> Result<Response, Fault> {
    Page {
        title,
        way: Way::Blends,
        scripts: if beside.is_some() { &["blend.js"] } else { &[] },
        beside,
    }
    .show(app, main)
}

/// A blend's parts, screened with what the kitchen has seen of them.
fn screened(larder: &Larder, b: &Blend) -> Screening {
    recipe::screen::lines(
        b.parts
            .iter()
            .chain(&b.binders)
            .enumerate()
            .map(|(i, (f, _))| Entry::new(&larder.food(*f).name, *f, None).at(0, i)),
        larder,
        None,
    )
}

/// Parts whose label has to be read: those that only it can tell, and those milled or packed
/// beside wheat. What the kitchen has seen of them stands behind each: whole, or its day.
fn to_check(larder: &Larder, b: &Blend, s: &Screening, whole: bool) -> (Vec<String>, Vec<String>) {
    let (mut label, mut mill) = (Vec::new(), Vec::new());
    for (food, _) in b.parts.iter().chain(&b.binders) {
        let f = larder.food(*food);
        let seen = larder.own(*food).and_then(|e| e.gluten.as_ref());
        let name = seen.map_or_else(
            || f.name.clone(),
            |e| {
                if whole {
                    format!("{} ({})", f.name, e.words())
                } else {
                    format!("{} (checked {})", f.name, e.date)
                }
            },
        );
        let worst = s
            .findings
            .iter()
            .filter(|x| x.food == Some(*food))
            .map(|x| x.verdict)
            .min();
        match worst {
            Some(Gluten::Check | Gluten::Contains) => {
                label.push(name);
            }
            _ if matches!(f.ppm, PpmBasis::Grain { .. }) => mill.push(name),
            _ => {}
        }
    }
    (label, mill)
}

fn regime(settings: &Settings) -> Regime {
    Regime::from_word(&settings.regime).unwrap_or(Regime::Us)
}

/// The name of the cup that blends are weighed by.
const CUP: &str = "US cup, 237 mL";

/// The cup of a blend, and what it rests on; the kitchen's own cup too, where it is another.
fn cup(larder: &Larder, b: &Blend, locale: &str) -> Markup {
    html! {
        @match b.cup(larder) {
            Some(c) => {
                span.n { (format!("{:.0}", c.likely().as_grams())) } " g "
                span.range { (format!("{:.0}–{:.0}", c.low().as_grams(), c.high().as_grams())) } br;
                small { (b.cup_basis()) }
                @if let Some((name, times)) = own_cup(locale) {
                    br; span.n { (format!("{:.0}", c.likely().as_grams() * times)) } " g " small { "to a " (name) ", worked out from it" }
                }
            }
            None => { "not known: a part has no cup weight. Weigh a cup of it." }
        }
    }
}

fn style_names(b: &Blend) -> String {
    b.styles
        .iter()
        .map(|s| s.name())
        .collect::<Vec<_>>()
        .join(", ")
}

/// Starches in whole percent; a blend without any has 0.
fn starches(larder: &Larder, b: &Blend) -> String {
    // An empty sum is −0.
    format!("{:.0}", b.starch_share(larder).round() + 0.0)
}

/// All blends.
async fn list(Held(app): Held<Shared>) -> Result<Response, Fault> {
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
            div.between.page-head { h1 { "Blends" } a.button.do href="/blends/new" { "Make a blend of your own" } }
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
                        form method="post" action={ "/blends/" (r.key) "/bin" } { (page::seal(app)) button name="way" value="out" { "Take it out" span.unseen { ": " (r.blend.name) } } }
                    } } }
                }
            }
        };
        page(app, "Blends", &main, None)
    })
    .await
}

/// The verdict in words. 'Free by nature' would read as a clearance where flours are milled or
/// packed beside wheat.
fn told(larder: &Larder, b: &Blend, s: &Screening) -> Markup {
    if s.verdict == Gluten::Free && !to_check(larder, b, s, false).1.is_empty() {
        return html! { span.verdict.check { "buy its flours labelled" } };
    }
    verdict(s.verdict)
}

fn tile(larder: &Larder, b: &Blend, locale: &str) -> Markup {
    let s = screened(larder, b);
    let (label, mill) = to_check(larder, b, &s, false);
    html! {
        article.sheet {
            div.between { h3 { a href={ "/blends/" (b.key) } { (component_name(&b.name)) } } (told(larder, b, &s)) }
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

/// Protein per 100 g, where every part's is known.
fn protein(larder: &Larder, b: &Blend) -> Markup {
    let unknown: Vec<&str> = b
        .parts
        .iter()
        .filter(|(f, _)| larder.composition(*f).protein.is_none())
        .map(|(f, _)| larder.food(*f).name.as_str())
        .collect();
    html! {
        span.n { (format!("{:.1}", b.mean(larder, |c| c.protein))) } " g in 100 g"
        @if !unknown.is_empty() { br; small { "at least: that of " (unknown.join(", ")) " is not known" } }
    }
}

fn allergen_words(s: &Screening) -> String {
    let of = |certain: bool| -> Vec<&str> {
        s.allergens
            .iter()
            .filter(|a| a.certain == certain)
            .map(|a| larder::allergen::plain(a.allergen))
            .collect()
    };
    let (sure, check) = (of(true), of(false));
    match (sure.is_empty(), check.is_empty()) {
        (true, true) => "none by name; labels may say more".to_owned(),
        (false, true) => sure.join(", "),
        (true, false) => format!("check the label for {}", check.join(", ")),
        (false, false) => format!(
            "{}; check the label for {}",
            sure.join(", "),
            check.join(", ")
        ),
    }
}

/// A blend by key: the house's, the kitchen's own, or one in the bin.
struct Found {
    blend: Blend,
    row: Option<BlendRow>,
    binned: bool,
}

fn find(app: &App, pantry: &Pantry, key: &str) -> Result<Option<Found>, Fault> {
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

fn missing() -> Fault {
    Fault::Missing("such blend".to_owned())
}

/// A blend's page.
async fn show(
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
fn batch(typed: Option<&str>) -> (f64, Option<String>) {
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
    let s = screened(larder, b);
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
                            (page::seal(app))
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
                }
                section.sheet aria-labelledby="facts" {
                    div.between { h2 #facts { "What is known of it" } (told(larder, b, &s)) }
                    dl.facts {
                        dt { (CUP) } dd { (cup(larder, b, &settings.locale)) }
                        dt { "Starches" } dd { span.n { (starches(larder, b)) } " % " br; small { "starch inside the flours not counted" } }
                        dt { "Protein" } dd { (protein(larder, b)) }
                        dt { "Chosen first for" } dd { @if b.styles.is_empty() { "no style; choose it on a recipe's Rework page" } @else { (style_names(b)) } }
                        @if !label.is_empty() { dt { "Check the label of" } dd { (label.join(", ")) } }
                        @if !mill.is_empty() { dt { "Buy labelled gluten-free" } dd { (mill.join(", ")) br; small { "free by nature, but milled or packed beside wheat" } } }
                    }
                    h3.part { "Allergens, " (regime(settings).name()) }
                    (allergens(&s, regime(settings)))
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

fn share_words(share: f64) -> String {
    let text = format!("{share:.1}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
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

/// What a jar with oats says of them under each law, also where it does not list oats. Sources
/// as those of the screen's caution.
fn oats(regime: Regime) -> &'static str {
    match regime {
        Regime::Anz => "not gluten-free under this law, whatever their label says.",
        Regime::Us | Regime::Eu | Regime::Ca => {
            "only ones labelled gluten-free; not every coeliac tolerates them."
        }
    }
}

/// What to stick on the jar.
fn jar(larder: &Larder, b: &Blend, settings: &Settings, s: &Screening, now: i64) -> Markup {
    let mut all: Vec<(FoodId, f64)> = b.parts.iter().chain(&b.binders).copied().collect();
    all.sort_by(|x, y| y.1.total_cmp(&x.1));
    let whole: f64 = all.iter().map(|p| p.1).sum();
    let parts: Vec<String> = all
        .iter()
        .map(|(f, share)| {
            format!(
                "{} {} %",
                larder.food(*f).name,
                share_words(share / whole * 100.0)
            )
        })
        .collect();
    let st = s.statement(regime(settings));
    let (mut check, mill) = to_check(larder, b, s, false);
    check.extend(mill);
    html! {
        div.jar {
            h3 { (component_name(&b.name)) }
            p { "Mixed on " span.n { (day(now)) } @if !settings.kitchen.is_empty() { ", " (settings.kitchen) } }
            p { strong { "Made of: " } (parts.join(", ")) "." }
            p { small { "Allergens as listed in: " (regime(settings).name()) } }
            @if !st.contains.is_empty() { p { strong { "Contains: " } (st.contains.join(", ")) "." } }
            @if st.contains.is_empty() && st.check.is_empty() { p { "Allergens: none by name; labels may say more." } }
            @if !st.check.is_empty() { p { strong { "Check labels for: " } (st.check.join("; ")) "." } }
            @if !check.is_empty() { p { strong { "Gluten: check the labels of " } (check.join(", ")) "." } }
            @if s.cautions.iter().any(|c| c.code == "oats") { p { strong { "Oats: " } (oats(regime(settings))) } }
            @if let Some(c) = b.cup(larder) {
                p { "1 US cup (237 mL) = " strong.n { (format!("{:.0}", c.likely().as_grams())) } " g (" (b.cup_basis()) ")"
                    @if let Some((name, times)) = own_cup(&settings.locale) { br; "1 " (name) " = " strong.n { (format!("{:.0}", c.likely().as_grams() * times)) } " g" } }
            }
            p { small { "Read the label of each flour again on each new pack." } }
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
                            small { (r.who) ", " (moment(r.at)) " (" (ago(r.at, now)) ")" }
                            ul { @for w in history::changes(larder, past.get(i + 1).map(|b| &b.blend), &r.blend) { li { (w) } } }
                        }
                    }
                }
            }
        }
    }
}

/// The form of a new blend, empty or from another one.
async fn fresh(Held(app): Held<Shared>, query: RawQuery) -> Result<Response, Fault> {
    run(app, move |app| {
        let pantry = app.pantry()?;
        let settings = app.settings()?;
        let from = form_urlencoded::parse(query.0.unwrap_or_default().as_bytes())
            .find(|(k, _)| k == "from")
            .map(|(_, v)| v.into_owned());
        let base = match &from {
            Some(key) => Some(find(app, &pantry, key)?.ok_or_else(missing)?.blend),
            None => None,
        };
        let own = base.as_ref().map(|b| OwnBlend {
            name: format!("our {}", b.name),
            cup_grams: None,
            ..form::own_of(b, &pantry.larder)
        });
        let why = base
            .as_ref()
            .map_or("first version".to_owned(), |b| format!("from {}", b.name));
        let mut t = form::filled(own.as_ref(), &pantry.larder, &settings.baker, &why);
        let main = form_main(app, &pantry, None, &mut t)?;
        page(
            app,
            "A blend of your own",
            &main,
            Some(form::lists(&pantry.larder)),
        )
    })
    .await
}

/// The form of a blend of the kitchen's own.
async fn edit(Held(app): Held<Shared>, Path(key): Path<String>) -> Result<Response, Fault> {
    run(app, move |app| {
        let pantry = app.pantry()?;
        let settings = app.settings()?;
        let row = app
            .kitchen
            .blend_history(&key)?
            .into_iter()
            .next()
            .ok_or_else(missing)?;
        let mut t = form::filled(Some(&row.blend), &pantry.larder, &settings.baker, "changed");
        t.put("base", row.version.to_string());
        form::said(&mut t, &pantry.larder, &key).check(&mut t, &pantry.larder);
        let main = form_main(app, &pantry, Some(&row), &mut t)?;
        page(
            app,
            &row.blend.name,
            &main,
            Some(form::lists(&pantry.larder)),
        )
    })
    .await
}

/// The form with what follows from what stands in it.
fn form_main(
    app: &App,
    pantry: &Pantry,
    row: Option<&BlendRow>,
    t: &mut Typed,
) -> Result<Markup, Fault> {
    let locale = app.settings()?.locale.clone();
    let larder = &pantry.larder;
    let mut quiet = t.clone();
    let said = form::said(&mut quiet, larder, "own_x");
    let sum = said.sum();
    let drawn = drawn(larder, &said.blend, &locale);
    let (action, back) = match row {
        Some(r) => (
            format!("/blends/{}/change", r.key),
            format!("/blends/{}", r.key),
        ),
        None => ("/blends/new".to_owned(), "/blends".to_owned()),
    };
    Ok(html! {
        (style())
        p { a href=(back) { @if row.is_some() { "Back to the blend" } @else { "Blends" } } }
        h1 { @match row { Some(r) => { "Change " (r.blend.name) } None => "A blend of your own" } }
        section.sheet {
            form.entry method="post" action={ (action) (UNSAVED) } data-blend {
                (page::seal(app))
                input type="hidden" name="base" value=(t.get("base"));
                (form::fields(t, sum, &drawn, row.is_some()))
            }
        }
    })
}

/// The picture of what stands in the form, with its figures once it can be.
fn drawn(larder: &Larder, own: &OwnBlend, locale: &str) -> Markup {
    let known = |of: &[(String, f64)]| -> Vec<(FoodId, f64)> {
        of.iter()
            .filter_map(|(k, s)| Some((larder.by_key(k)?, *s)))
            .filter(|(_, s)| s.is_finite() && *s > 0.0)
            .collect()
    };
    let whole = OwnBlend {
        key: "own_x".to_owned(),
        name: "x".to_owned(),
        ..own.clone()
    }
    .blend(larder)
    .ok();
    let sketch = Blend {
        key: "sketch".into(),
        name: "sketch".into(),
        parts: known(&own.parts),
        binders: known(&own.binders),
        styles: Vec::new(),
        why: "".into(),
        cup_grams: None,
        own: true,
    };
    html! {
        h2 { "As it stands" }
        @if sketch.parts.is_empty() { p.hint { "The blend is drawn here as you write it." } }
        @else { (blend_picture("sketch", &sketch, larder)) }
        @if let Some(b) = &whole {
            @let s = screened(larder, b);
            dl.facts {
                dt { "Starches" } dd { span.n { (starches(larder, b)) } " %" }
                dt { "Protein" } dd { (protein(larder, b)) }
                dt { (CUP) } dd { (cup(larder, b, locale)) }
                dt { "Gluten" } dd { (told(larder, b, &s)) }
                dt { "Allergens" } dd { (allergen_words(&s)) }
            }
        }
    }
}

fn sent(post: &Post) -> Typed {
    let names = form::names();
    Typed::sent(post, names.iter().map(String::as_str))
}

async fn add(Held(app): Held<Shared>, post: Post) -> Result<Response, Fault> {
    run(app, move |app| keep(app, None, &post)).await
}

async fn save(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let row = app
            .kitchen
            .blend_history(&key)?
            .into_iter()
            .next()
            .ok_or_else(missing)?;
        keep(app, Some(&row), &post)
    })
    .await
}

/// Answers a change of the form, or keeps the blend.
fn keep(app: &App, row: Option<&BlendRow>, post: &Post) -> Result<Response, Fault> {
    let pantry = app.pantry()?;
    let larder = &pantry.larder;
    let mut t = sent(post);
    if post.live {
        let said = form::said(&mut t, larder, "own_x");
        return Ok(Json(json!({
            "sum": form::sum_words(said.sum()),
            "drawn": drawn(larder, &said.blend, &app.settings()?.locale).into_string(),
        }))
        .into_response());
    }
    let taken: Vec<String> = app
        .kitchen
        .blends(false)?
        .into_iter()
        .chain(app.kitchen.blends(true)?)
        .map(|r| r.key)
        .collect();
    let key = match row {
        Some(r) => r.key.clone(),
        None => own_key(t.get("name"), |k| taken.iter().any(|x| x == k)),
    };
    let said = form::said(&mut t, larder, &key);
    said.check(&mut t, larder);
    unsigned(&mut t);
    if let Some(r) = row
        && t.get("base").parse() != Ok(r.version)
    {
        t.wrong(
            "why",
            format!(
                "another window saved version {} of this blend since you opened it ({}): look at it, then save again to put yours over it",
                r.version, r.why
            ),
        );
        t.put("base", r.version.to_string());
    }
    if t.is_wrong() {
        let main = form_main(app, &pantry, row, &mut t)?;
        let shown = page(app, "A blend of your own", &main, Some(form::lists(larder)))?;
        return Ok((StatusCode::UNPROCESSABLE_ENTITY, shown).into_response());
    }
    app.kitchen
        .put_blend(&said.blend, t.get("who"), t.get("why"), app.now())?;
    Ok(back_to(&format!("/blends/{key}{KEPT}")))
}

/// Into the bin, or out of it.
async fn bin(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        if post.text("way") == "out" {
            app.kitchen.unbin_blend(&key, app.now())?;
            Ok(back_to(&format!("/blends/{key}")))
        } else {
            app.kitchen.bin_blend(&key, app.now())?;
            Ok(back_to("/blends"))
        }
    })
    .await
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn batches_as_typed() {
        assert_eq!(batch(None), (BATCH, None));
        assert_eq!(batch(Some("")), (BATCH, None));
        assert_eq!(batch(Some("1500 g")), (1500.0, None));
        assert!(batch(Some("0")).1.is_some());
        assert!(batch(Some("two")).1.is_some());
        assert!(batch(Some("-5")).1.is_some());
    }

    #[test]
    fn a_jar_names_what_to_check_and_promises_nothing() {
        let larder = Larder::built_in().expect("tables");
        let settings = Settings::default();
        for b in blend::house(&larder) {
            let s = screened(&larder, &b);
            let label = jar(&larder, &b, &settings, &s, 0).into_string();
            let low = label.to_lowercase();
            assert!(
                !low.contains("gluten-free") && !low.contains("safe"),
                "{label}"
            );
            assert!(label.contains("Read the label"));
            let (check, mill) = to_check(&larder, &b, &s, false);
            for name in check.iter().chain(&mill) {
                assert!(label.contains(name.as_str()), "{name}");
            }
        }
    }

    /// US law lists no oats: what a jar with them must say does not hang on that list.
    #[test]
    fn a_jar_with_oats_names_them_under_every_law() {
        let larder = Larder::built_in().expect("tables");
        let own = OwnBlend {
            key: "own_oat".to_owned(),
            name: "oat blend".to_owned(),
            parts: vec![
                ("oat_flour".to_owned(), 60.0),
                ("corn_starch".to_owned(), 40.0),
            ],
            ..OwnBlend::default()
        };
        let b = own.blend(&larder).expect("a blend");
        let s = screened(&larder, &b);
        for law in Regime::ALL {
            let settings = Settings {
                regime: law.word().to_owned(),
                ..Settings::default()
            };
            let label = jar(&larder, &b, &settings, &s, 0).into_string();
            assert!(label.contains(law.name()), "{label}");
            assert!(label.contains("<strong>Oats: </strong>"), "{label}");
            let never = label.contains("not gluten-free under this law");
            assert_eq!(never, *law == Regime::Anz, "{label}");
            assert_eq!(label.contains("only ones labelled"), !never, "{label}");
        }
    }

    #[test]
    fn blends_are_told_in_the_words_of_the_kitchen() {
        let app = workbench();
        let mut settings = app.settings().expect("settings").as_ref().clone();
        settings.locale = "uk".to_owned();
        app.set_settings(&settings).expect("kept");
        let page = done(list(Held(Arc::clone(&app)))).2;
        assert!(page.contains("Glutinous rice flour for sauces"), "{page}");
        let page = done(show(
            Held(Arc::clone(&app)),
            Path("pastry".to_owned()),
            RawQuery(None),
        ))
        .2;
        assert!(page.contains("cornflour 25 %") && !page.contains("corn starch"));
        // What is shown can be typed, in any country's words.
        for starch in ["cornflour", "cornstarch", "Corn starch", "maize cornflour"] {
            let fields = with(&[("part.5", starch)]);
            let (status, _, page) =
                done(add(Held(Arc::clone(&app)), form_of(&app, false, &fields)));
            assert_eq!(status, StatusCode::SEE_OTHER, "{starch}: {page}");
        }
    }

    use crate::web::larder_page::tests::{done, form_of, workbench};
    use std::sync::Arc;

    const GOOD: [(&str, &str); 8] = [
        ("name", "Weekend bread"),
        ("part.0", "sorghum flour"),
        ("share.0", "60"),
        ("part.5", "tapioca starch"),
        ("share.5", "40 %"),
        ("cup", "128"),
        ("who", "Maud"),
        ("why", "first"),
    ];

    fn with<'a>(change: &[(&'a str, &'a str)]) -> Vec<(&'a str, &'a str)> {
        GOOD.iter()
            .filter(|g| !change.iter().any(|c| c.0 == g.0))
            .chain(change)
            .copied()
            .collect()
    }

    #[test]
    fn a_blend_is_made_changed_binned_and_taken_out_again() {
        let app = workbench();
        let made = |fields: &[(&str, &str)]| {
            done(add(Held(Arc::clone(&app)), form_of(&app, false, fields)))
        };
        let (status, to, _) = made(&GOOD);
        assert_eq!(
            (status, to.as_str()),
            (
                StatusCode::SEE_OTHER,
                "/blends/own_weekend_bread?kept=1#kept"
            )
        );
        // Another of the same name has a key of its own.
        assert_eq!(made(&GOOD).1, "/blends/own_weekend_bread_2?kept=1#kept");
        let key = || Path("own_weekend_bread".to_owned());
        let change = |fields: &[(&str, &str)]| {
            done(save(
                Held(Arc::clone(&app)),
                key(),
                form_of(&app, false, fields),
            ))
        };
        let fields = with(&[
            ("share.0", "55"),
            ("share.5", "45"),
            ("base", "1"),
            ("why", "drier"),
        ]);
        assert_eq!(change(&fields).0, StatusCode::SEE_OTHER);
        let (status, _, page) = change(&fields);
        assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY);
        assert!(page.contains("Another window saved version 2"));
        let (_, _, page) = done(show(
            Held(Arc::clone(&app)),
            key(),
            RawQuery(Some("batch=1001".to_owned())),
        ));
        for words in [
            "Version 2: drier",
            "sorghum flour: 60 % → 55 %",
            ">551<",
            ">450<",
            "128",
        ] {
            assert!(page.contains(words), "{words}");
        }
        assert!(!page.contains("Kept."));
        let landed = RawQuery(Some("kept=1".to_owned()));
        let (_, _, page) = done(show(Held(Arc::clone(&app)), key(), landed));
        assert!(page.contains("Kept. This is version 2 now."));
        let bin_it = |way: &str| {
            done(bin(
                Held(Arc::clone(&app)),
                key(),
                form_of(&app, false, &[("way", way)]),
            ))
        };
        assert_eq!(bin_it("in").1, "/blends");
        let (_, _, page) = done(list(Held(Arc::clone(&app))));
        assert!(page.contains("In the bin"));
        assert_eq!(bin_it("out").1, "/blends/own_weekend_bread");
    }

    #[test]
    fn a_blend_that_cannot_be_stands_in_its_form_again() {
        let app = workbench();
        for (change, words) in [
            (vec![("share.0", "50")], "id=\"f-sum-wrong\""),
            (vec![("part.0", "wheat flour")], "id=\"f-part-0-wrong\""),
            (vec![("share.5", "4o")], "id=\"f-share-5-wrong\""),
            (vec![("cup", "12")], "id=\"f-cup-wrong\""),
            (vec![("name", "")], "id=\"f-name-wrong\""),
            (vec![("why", "")], "id=\"f-why-wrong\""),
            (
                vec![("binder.0", "potato starch"), ("dose.0", "2")],
                "id=\"f-binder-0-wrong\"",
            ),
        ] {
            let fields = with(&change);
            let (status, _, page) =
                done(add(Held(Arc::clone(&app)), form_of(&app, false, &fields)));
            assert_eq!(status, StatusCode::UNPROCESSABLE_ENTITY, "{words}");
            assert!(page.contains(words), "{words}");
            for (_, typed) in fields.iter().filter(|f| !f.1.is_empty()) {
                assert!(page.contains(&format!("value=\"{typed}\"")), "{typed}");
            }
        }
        assert!(app.kitchen.blends(false).expect("blends").is_empty());
    }

    #[test]
    fn blends_are_told_in_plain_words_with_the_cup_of_the_kitchen() {
        let app = workbench();
        let shown = |key: &str| {
            done(show(
                Held(Arc::clone(&app)),
                Path(key.to_owned()),
                RawQuery(None),
            ))
            .2
        };
        let keys: Vec<String> = blend::house(&app.pantry().expect("a pantry").larder)
            .iter()
            .map(|b| b.key.to_string())
            .collect();
        for key in &keys {
            let page = shown(key);
            assert!(page.contains("US cup, 237 mL"));
            for words in [
                "farinograph",
                "flour phase",
                "(seen)",
                "&gt;",
                "corn+rice",
                ">-0<",
            ] {
                assert!(!page.contains(words), "{key}: {words}");
            }
            assert!(!page.contains("250 mL"), "a US kitchen has the US cup");
        }
        let mut settings = app.settings().expect("settings").as_ref().clone();
        settings.locale = "au".to_owned();
        app.set_settings(&settings).expect("kept");
        let made = with(&[("share.0", "100"), ("part.5", ""), ("share.5", "")]);
        done(add(Held(Arc::clone(&app)), form_of(&app, false, &made)));
        let page = shown("own_weekend_bread");
        // 128 g to 236.6 mL are 135 g to 250 mL.
        assert!(page.contains(">135<") && page.contains("Australian cup, 250 mL"));
        // No starch is 0 %, never −0.
        assert!(
            page.contains("Starches</dt> <dd><span class=\"n\">0</span>")
                || page.contains("Starches</dt><dd><span class=\"n\">0</span>")
        );
    }

    #[test]
    fn shares_are_summed_as_they_are_typed() {
        let app = workbench();
        let post = form_of(&app, true, &with(&[("share.0", "35")]));
        let (status, _, json) = done(add(Held(Arc::clone(&app)), post));
        assert_eq!(status, StatusCode::OK);
        assert!(json.contains("75 %: 25 % to go") && json.contains("<svg"));
        assert!(app.kitchen.blends(false).expect("blends").is_empty());
    }
}
