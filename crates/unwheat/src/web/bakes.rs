//! What was baked: every batch with its record, and any two of them line by line.

use super::app::{App, Shared, run};
use super::bench::plan::{grams, minutes, times};
use super::bench::{Bake, Bench, plan_of, style};
use super::fault::Fault;
use super::page::{ago, moment};
use super::recipe::{Leaf, Open, around, component_name, head, open};
use axum::Router;
use axum::extract::{Path, RawQuery, State};
use axum::response::Response;
use axum::routing::get;
use maud::{Markup, html};
use serde::Deserialize;
use store::Batch;

/// Its ways in.
pub fn routes() -> Router<Shared> {
    Router::new().route("/recipe/{id}/bakes/compare", get(compare))
}

/// Whether a batch was made, and not put away.
pub fn was_made(batch: &Batch) -> bool {
    batch.finished.is_some() && !record(batch).unmade
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
        .filter(|b| was_made(b))
        .map(|b| (b.finished, b.id))
        .collect();
    made.sort_unstable();
    made.iter().position(|b| b.1 == id).map_or(0, |at| at + 1)
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

fn bench(batch: Batch) -> Result<Bench, Fault> {
    Ok(Bench {
        plan: plan_of(&batch)?,
        batch,
    })
}

/// The Bakes page of a recipe.
pub fn body(app: &App, o: &Open) -> Result<Markup, Fault> {
    let (mut way, mut made, mut unmade) = (Vec::new(), Vec::new(), 0u32);
    let all = app.kitchen.batches_of(o.row.id)?;
    for batch in all.clone() {
        match batch.finished {
            None => way.push(bench(batch)?),
            Some(_) if was_made(&batch) => made.push(bench(batch)?),
            Some(_) => unmade += 1,
        }
    }
    Ok(html! {
        (style())
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
                        tbody { @for (i, b) in made.iter().enumerate() { (row(b, i, made.len(), number(&all, b.batch.id))) } }
                    }
                    @if made.len() > 1 { button { "Set the two side by side" } }
                }
            }
            @if unmade > 0 { p.hint { @if unmade == 1 { "One batch was" } @else { (unmade) " batches were" } " put away without being made." } }
        }
    })
}

fn row(b: &Bench, i: usize, all: usize, number: usize) -> Markup {
    let bake = record(&b.batch);
    let who = if bake.who.is_empty() {
        &b.batch.who
    } else {
        &bake.who
    };
    let off = off(b);
    let when = moment(b.batch.finished.unwrap_or(b.batch.started));
    html! {
        tr id={ "b" (b.batch.id) } {
            td { strong { "Bake " (number) } br; (when) @if !who.is_empty() { br; (who) } }
            td { span.n { "× " (times(b.batch.factor)) } br; (b.version()) @if !b.plan.gluten.is_empty() { br; span.tag.warn { "contains gluten" } } }
            td.full { (oven(&bake, b)) }
            td.full {
                @if off.is_empty() { small { "as planned, or not noted" } } @else {
                    ul.off { @for x in &off { li { (component_name(&x.name)) ": " span.n { (grams(x.plan)) " → " strong { (grams(x.actual)) } " g" } " " span.range { "(" (x.words()) ")" } } } }
                }
            }
            td.full {
                @if bake.verdict.is_empty() { small { "no words" } } @else { span.told { (bake.verdict) } }
                @if !bake.next.is_empty() { p.told { strong { "Next time: " } (bake.next) } }
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

fn kind(key: &str) -> &'static str {
    super::bench::OVENS
        .iter()
        .find(|o| o.0 == key)
        .map_or("oven", |o| o.1)
}

/// Both scales; Fahrenheit to a step: 5 as ovens are set, 1 as probes show.
fn heat(c: f64, step: f64) -> String {
    format!(
        "{c:.0} °C ({:.0} °F)",
        super::bench::nearest(c * 1.8 + 32.0, step)
    )
}

fn oven(bake: &Bake, b: &Bench) -> Markup {
    let nothing = bake.oven_c.is_none()
        && bake.minutes.is_none()
        && bake.core_c.is_none()
        && bake.raw_g.is_none()
        && bake.baked_g.is_none()
        && bake.pan.is_empty();
    html! {
        @if nothing { small { "not noted" } }
        @if let Some(c) = bake.oven_c { span.n { (heat(c, 5.0)) } ", " (kind(&bake.oven)) br; }
        @if !bake.pan.is_empty() { (bake.pan) br; }
        @if let Some(m) = bake.minutes { span.n { (minutes(m)) } br; }
        @if let Some(c) = bake.core_c { "middle " span.n { (heat(c, 1.0)) } br; }
        @if let Some(loss) = bake.loss() {
            "lost " span.n { (percent(loss)) }
            @if let Some((low, high)) = b.plan.bake_loss { @if loss < low || loss > high { " " small { "usual: " (format!("{low:.0}–{high:.0} %")) } } }
        } @else if let Some(g) = bake.baked_g.or(bake.raw_g) { @if bake.baked_g.is_some() { "baked " } @else { "raw " } span.n { (grams(g)) " g" } }
    }
}

/// Two bakes line by line.
async fn compare(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    query: RawQuery,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let o = open(app, id)?;
        let (mut a, mut b) = (None, None);
        for (k, v) in form_urlencoded::parse(query.0.unwrap_or_default().as_bytes()) {
            match &*k {
                "a" => a = v.parse::<i64>().ok(),
                "b" => b = v.parse::<i64>().ok(),
                _ => {}
            }
        }
        let find = |which: Option<i64>| -> Result<Bench, Fault> {
            let which = which.ok_or_else(|| Fault::bad("choose two bakes to set side by side"))?;
            let batch = app.kitchen.batch(which)?;
            if batch.recipe != id || !was_made(&batch) {
                return Err(Fault::Missing("such bake of this recipe".to_owned()));
            }
            bench(batch)
        };
        let (a, b) = (find(a)?, find(b)?);
        let all = app.kitchen.batches_of(id)?;
        let numbers = [number(&all, a.batch.id), number(&all, b.batch.id)];
        let main = html! {
            (head(app, &o, Leaf::Bakes))
            (style())
            section.sheet {
                h2 { "Two bakes side by side" }
                (side_by_side(&a, &b, numbers))
                p { a href=(o.at(Leaf::Bakes)) { "All bakes" } }
            }
        };
        around(app, &o, Leaf::Bakes, &main)
    })
    .await
}

/// A line of two bakes: name, grams in each (as weighed, where that was noted), each at one time
/// the recipe where the two were not made at the same size.
fn lines(a: &Bench, b: &Bench) -> Vec<(String, Vec<Pair>)> {
    let same = (a.batch.factor - b.batch.factor).abs() < 1e-9;
    let at_one = |x: &Bench, g: f64| if same { g } else { g / x.batch.factor };
    let grams_of = |x: &Bench, item: &str| {
        let line = x.plan.item(item)?;
        let actual = x.mark(item).and_then(|m| m.actual);
        // At another size the rounding to the scale would look like a change.
        let plan = if same {
            line.grams
        } else {
            line.exact.or(line.grams)
        };
        let g = actual.or(plan)?;
        Some((at_one(x, g), actual.is_some()))
    };
    let mut out: Vec<(String, Vec<Pair>)> = Vec::new();
    for (x, first) in [(b, false), (a, true)] {
        for c in &x.plan.components {
            for l in c
                .lines
                .iter()
                .flat_map(|l| std::iter::once(l).chain(&l.parts))
            {
                if first && b.plan.item(&l.item).is_some() {
                    continue;
                }
                let pair = Pair {
                    name: l.name.clone(),
                    part: l.item.contains('/'),
                    a: grams_of(a, &l.item),
                    b: grams_of(b, &l.item),
                };
                match out.iter_mut().find(|o| o.0 == c.name) {
                    Some(o) => o.1.push(pair),
                    None => out.push((c.name.clone(), vec![pair])),
                }
            }
        }
    }
    out
}

/// A line in two bakes; `true` where it was noted at the scale.
#[derive(Debug, PartialEq)]
struct Pair {
    name: String,
    part: bool,
    a: Option<(f64, bool)>,
    b: Option<(f64, bool)>,
}

fn side_by_side(a: &Bench, b: &Bench, numbers: [usize; 2]) -> Markup {
    let (x, y) = (record(&a.batch), record(&b.batch));
    let same = (a.batch.factor - b.batch.factor).abs() < 1e-9;
    let top = |b: &Bench, number: usize| {
        html! { "Bake " (number) br; (moment(b.batch.finished.unwrap_or(b.batch.started))) br; small { "× " (times(b.batch.factor)) ", " (b.version()) } }
    };
    let some = |v: Option<String>| v.unwrap_or_else(|| "–".to_owned());
    let words = |s: &String| Some(s.clone()).filter(|s| !s.is_empty());
    let facts = [
        (
            "Oven",
            some(x.oven_c.map(|c| heat(c, 5.0))),
            some(y.oven_c.map(|c| heat(c, 5.0))),
        ),
        (
            "Kind of oven",
            some(words(&x.oven).map(|k| kind(&k).to_owned())),
            some(words(&y.oven).map(|k| kind(&k).to_owned())),
        ),
        ("Pan or tin", some(words(&x.pan)), some(words(&y.pan))),
        (
            "How long",
            some(x.minutes.map(minutes)),
            some(y.minutes.map(minutes)),
        ),
        (
            "In the middle",
            some(x.core_c.map(|c| heat(c, 1.0))),
            some(y.core_c.map(|c| heat(c, 1.0))),
        ),
        (
            "Lost in the oven",
            some(x.loss().map(percent)),
            some(y.loss().map(percent)),
        ),
    ];
    let told = [
        (
            "How it came out",
            some(words(&x.verdict)),
            some(words(&y.verdict)),
        ),
        ("Next time", some(words(&x.next)), some(words(&y.next))),
    ];
    let weight = |g: Option<(f64, bool)>| {
        html! { @match g { Some((g, noted)) => { span.keep { (grams((g * 10.0).round() / 10.0)) " g" } @if noted { " " span.tag { "weighed" } } }, None => "–" } }
    };
    html! {
        @if !same { p.hint { "The two were made at different sizes: all grams here are for × 1." } }
        table.ledger.pair {
            thead { tr { th scope="col" { span.unseen { "What" } } th scope="col" { (top(a, numbers[0])) } th scope="col" { (top(b, numbers[1])) } } }
            tbody {
                @for (what, l, r) in &facts { tr { th scope="row" { (what) } td.n { (l) } td.n { (r) } } }
                @for (what, l, r) in &told { tr { th scope="row" { (what) } td.told { (l) } td.told { (r) } } }
            }
        }
        p.hint { "‘Weighed’ is what the scale showed; all else is the plan." }
        @for (name, pairs) in lines(a, b) {
            h3.part { (component_name(&name)) }
            table.ledger.weighed {
                thead { tr { th scope="col" { "Line" } th.f scope="col" { "First" } th.f scope="col" { "Second" } th.f scope="col" { "Change" } } }
                tbody { @for p in &pairs {
                    tr {
                        td { @if p.part { span.within { (p.name) } } @else { (p.name) } }
                        td.f { (weight(p.a)) } td.f { (weight(p.b)) }
                        td.f { (change(p)) }
                    }
                } }
            }
        }
    }
}

/// Grams more or less in the second.
fn change(p: &Pair) -> String {
    match (p.a, p.b) {
        (Some((a, _)), Some((b, _))) => {
            let d = ((b - a) * 10.0).round() / 10.0;
            match d {
                0.0 => String::new(),
                d if d > 0.0 => format!("+{} g", grams(d)),
                d => format!("−{} g", grams(-d)),
            }
        }
        (None, Some(_)) => "new".to_owned(),
        (Some(_), None) => "left out".to_owned(),
        (None, None) => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::bench::plan::{Line, Part, Plan};
    use super::*;
    use store::Mark;

    fn bake(factor: f64, weights: &[(&str, f64, Option<f64>)]) -> Bench {
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
            plan: Plan {
                components: vec![Part {
                    lines,
                    ..Part::default()
                }],
                ..Plan::default()
            },
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
    fn two_sizes_are_compared_at_one() {
        let (a, b) = (
            bake(1.0, &[("milk", 200.0, None), ("egg", 100.0, None)]),
            bake(2.0, &[("milk", 400.0, Some(420.0)), ("salt", 14.0, None)]),
        );
        let all = lines(&a, &b);
        let changes: Vec<String> = all[0]
            .1
            .iter()
            .map(|p| format!("{} {}", p.name, change(p)))
            .collect();
        assert_eq!(changes, ["milk +10 g", "salt new", "egg left out"]);
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
