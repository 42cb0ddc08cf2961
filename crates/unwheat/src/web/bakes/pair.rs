//! Two bakes side by side, line by line.

use super::{Bench, Fact, facts, later, onward, record};
use crate::web::app::{Shared, run};
use crate::web::bench::batch_sheet::{grams, more_or_less, times};
use crate::web::bench::style;
use crate::web::fault::Fault;
use crate::web::page::moment;
use crate::web::recipe::versions::comparing;
use crate::web::recipe::{Leaf, around, component_name, head, open};
use axum::extract::{Path, RawQuery, State};
use axum::response::Response;
use maud::{Markup, html};

/// Two bakes line by line.
pub async fn compare(
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
        let find = |which: Option<i64>| {
            let which = which.ok_or_else(|| Fault::bad("choose two bakes to set side by side"))?;
            super::find(app, id, which)
        };
        let ((a, first), (b, second)) = (find(a)?, find(b)?);
        let version = |b: &Bench| Ok::<_, Fault>(onward::of(app, &o, b)?.number());
        let (from, to) = (version(&a)?, version(&b)?);
        let main = html! {
            (head(app, &o, Leaf::Bakes))
            (style())
            section.sheet {
                h2 { "Two bakes side by side" }
                (side_by_side(&a, &b, [first, second]))
                @if let (Some(from), Some(to)) = (from, to) && from != to {
                    p { a href=(comparing(&o, from, &to.to_string())) { "What changed from version " (from) " to version " (to) } }
                }
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
    let weight = |g: Option<(f64, bool)>| {
        html! { @match g { Some((g, noted)) => { @if noted { span.tag { "weighed" } " " } span.keep { (grams((g * 10.0).round() / 10.0)) " g" } }, None => "–" } }
    };
    html! {
        @if !same { p.hint { "The two were made at different sizes: all grams here are for × 1." } }
        table.ledger.pair {
            thead { tr { th scope="col" { span.unseen { "What" } } th scope="col" { (top(a, numbers[0])) } th scope="col" { (top(b, numbers[1])) } } }
            tbody {
                @for (l, r) in facts(&x).iter().zip(&facts(&y)) {
                    tr { th scope="row" { (l.name) @if moved(l, r) { " " span.tag { "changed" } } } @for f in [l, r] { td.n[!f.told].told[f.told] { (f.value.as_deref().unwrap_or("–")) } } }
                }
                @if [a, b].iter().any(|b| !b.batch.later.is_empty()) {
                    tr { th scope="row" { "Added later" } @for b in [a, b] { td { (later("", &b.batch.later)) @if b.batch.later.is_empty() { "–" } } } }
                }
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

/// Whether both say it, and not the same.
fn moved(a: &Fact, b: &Fact) -> bool {
    !a.told && a.value.is_some() && b.value.is_some() && a.value != b.value
}

/// Grams more or less in the second.
fn change(p: &Pair) -> String {
    match (p.a, p.b) {
        (Some((a, _)), Some((b, _))) => more_or_less(b - a),
        (None, Some(_)) => "new".to_owned(),
        (Some(_), None) => "left out".to_owned(),
        (None, None) => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::tests::bake;
    use super::*;

    #[test]
    fn another_pan_is_marked() {
        let (mut a, mut b) = (bake(1.0, &[]), bake(1.0, &[]));
        a.batch.bake =
            Some(serde_json::json!({ "pan": "13 × 9 in", "minutes": 30.0, "raw_g": 1900.0 }));
        b.batch.bake = Some(serde_json::json!({ "pan": "8 in square", "minutes": 30.0 }));
        let page = side_by_side(&a, &b, [1, 2]).into_string();
        let row = |name: &str| {
            let row = page.split("<tr>").find(|r| r.contains(name));
            row.expect(name).contains("changed")
        };
        assert!(row("Pan or tin") && !row("How long"), "{page}");
        // What one of them does not know is no change.
        assert!(!row("Before the oven"), "{page}");
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
}
