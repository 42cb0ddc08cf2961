//! The Weigh page: every line in grams, with what the grams rest on.

use super::read::{by_hand, question, reopen, says, slug};
use super::standing::{is_remark, is_slip};
use super::{Leaf, Open, change_to, component_name, fields, flow, measures};
use crate::web::app::App;
use crate::web::picture;
use larder::Larder;
use maud::{Markup, html};
use quantity::{Mass, Quantity, Spread};
use recipe::household::{Scale, as_written, is_fine, of_flour, scale_grams};
use recipe::sheet::{Change, Worked, answers, key_of};
use recipe::weigh::{Basis, Weighed, WeighedComponent};
use recipe::{BESIDE, Doubt, DoubtCode};

/// The page's body.
pub fn body(app: &App, o: &Open, w: &Worked) -> Markup {
    let f = &w.formula;
    let mut open = Vec::new();
    let mut settled = Vec::new();
    let asked = |d: &&(usize, usize, Doubt)| !is_remark(&d.2) && !is_slip(&d.2);
    for (c, l, d) in f.doubts.iter().filter(asked) {
        let Some(line) = f.recipe.components[*c].lines.get(*l) else {
            continue;
        };
        let offered = answers(d, &f.recipe, *c, *l, &o.pantry.larder, f.locale);
        let key = key_of(&f.recipe, *c, *l);
        let own = by_hand(app, o, Leaf::Weigh, line, d, &key);
        open.push(question(app, o, Leaf::Weigh, Some(line), d, &offered, own));
    }
    for (c, component) in f.recipe.components.iter().enumerate() {
        for (l, line) in component.lines.iter().enumerate() {
            for d in &line.settled {
                settled.push(reopen(
                    app,
                    o,
                    Leaf::Weigh,
                    line.bare(),
                    d,
                    &Change::Accept {
                        line: key_of(&f.recipe, c, l),
                        code: d.code.code().to_owned(),
                        yes: false,
                    },
                ));
            }
        }
    }
    html! {
        @if !open.is_empty() {
            section.sheet data-k="settle" aria-labelledby="settle" {
                h2 #settle { "Weights to settle" }
                ul.doubts { @for q in open { (q) } }
            }
        }
        @for (c, component) in f.components.iter().enumerate().filter(|(_, c)| c.is_listed()) {
            section.sheet data-k={ "component" (c) } {
                h2 { (component_name(&component.name)) }
                p.hint { "Change a weight to what your own scale says; everything after it follows." }
                (ledger(app, o, w, c, component))
                (summary(component, &o.pantry.larder, w.rework.components[c].is_dough()))
                @if let Some(before) = w.rework.formula.boiled_down(c) { p { (before) } }
                (doubt(o, w, c, component))
            }
        }
        @if let Some(drawn) = flow::weighed(w) {
            section.sheet {
                h2 { "What makes what" }
                div.pictures { figure { (drawn) } }
            }
        }
    }
}

fn ledger(app: &App, o: &Open, w: &Worked, c: usize, component: &WeighedComponent) -> Markup {
    let flour = w.rework.components[c].is_dough();
    let widest = component
        .items
        .iter()
        .filter_map(|i| i.grams)
        .map(|g| g.high().as_grams())
        .fold(0.0, f64::max);
    html! {
        table.ledger.stack {
            thead { tr {
                th scope="col" { "Line" } th.f scope="col" { "Grams" } th.f.low-high scope="col" { "Low–high" }
                th.drawn scope="col" { span.unseen { "Range drawn" } }
                @if flour { th.f scope="col" { "% of flour" } }
                th scope="col" { "In " (measures(o)) } th scope="col" { "Rests on" }
            } }
            tbody {
                @for (n, item) in component.items.iter().enumerate() {
                    (row(app, o, w, c, n, item, flour, widest))
                }
                tr.sum {
                    td { "Makes, raw" }
                    td.f data-h="grams" { (scale_grams(component.makes.likely(), false)) }
                    td.f.low-high { span.range { (low_high(component.makes, false)) } }
                    td.drawn {} @if flour { td {} } td {} td {}
                }
            }
        }
    }
}

#[allow(clippy::too_many_arguments, reason = "one row of one table")]
fn row(
    app: &App,
    o: &Open,
    w: &Worked,
    c: usize,
    n: usize,
    item: &Weighed,
    flour: bool,
    widest: f64,
) -> Markup {
    let f = &w.formula;
    let larder = &o.pantry.larder;
    let line = &f.recipe.components[c].lines[item.line];
    let key = key_of(&f.recipe, c, item.line);
    let place = line.place_of(item.item, item.part);
    let id = match place {
        0 => slug(&key),
        n => format!("{}-{n}", slug(&key)),
    };
    let weight = Change::Grams {
        line: key,
        place,
        grams: None,
    };
    let fine = item.food.is_some_and(|x| is_fine(larder, x));
    let name = match (item.food, item.component) {
        (Some(x), _) => larder.food(x).name.clone(),
        (None, Some(x)) => format!("the {}", f.components[x].name),
        _ => "food not known".to_owned(),
    };
    let own = matches!(item.basis, Some(Basis::Own));
    let (value, grey) = item.grams.map_or((String::new(), None), |g| typed(g, fine));
    // A line that says cups and spoons keeps its own words, unless they are not what is weighed.
    let other = line.found(DoubtCode::TwinDisagrees)
        || f.doubts
            .iter()
            .any(|(dc, dl, d)| (*dc, *dl) == (c, item.line) && d.code == DoubtCode::TwinDisagrees);
    let back = match line
        .items
        .get(item.item)
        .and_then(|i| as_written(line, i))
        .filter(|_| !own && !other && place == 0)
    {
        Some(words) => Some(words),
        None => item.measured(larder, o.drawer()).map(|h| h.shown()),
    };
    html! {
        tr.held[own] data-k={ "w" (id) (n) } {
            td.full.first {
                (line.bare())
                // Words that a settled question put in place of those pasted.
                @if let Some(read) = line.read_as.as_deref().filter(|_| place == 0) { br; small { "read as: " (read) } }
                @if line.at_place(1).is_some() || !line.text.to_lowercase().contains(&name.to_lowercase()) { br; small { (name) } }
                @if !item.in_formula { " " span.tag.line { (line.items.get(item.item).and_then(|i| i.purpose.words()).unwrap_or(BESIDE)) } }
            }
            td.f data-h="grams" {
                @if item.component.is_none() {
                    form method="post" action=(change_to(o)) data-live data-k={ "g" (id) } {
                        (fields(app, o, Leaf::Weigh))
                        (says(&weight))
                        input.f id={ "g" (id) } name="value" value=(value) placeholder=[grey] inputmode="decimal" data-typed aria-label={ "Grams of " (name) };
                    }
                } @else { (value) (grey.unwrap_or_default()) }
            }
            td.f.low-high { @if let Some(g) = item.grams { span.range { (low_high(g, fine)) } } @else { span.tag.warn { "not weighed" } } }
            td.drawn { @if let Some(g) = item.grams { (picture::doubt(&format!("d{id}{n}"), g.low().value(), g.likely().value(), g.high().value(), widest, "g")) } }
            @if flour {
                td.f data-h="of flour" {
                    @if let Some(p) = item.percent.and_then(of_flour) { (p) }
                }
            }
            td data-h=(measures(o)) { @if let Some(h) = &back { span.n.m { (h) } } }
            td.full {
                @if let Some(b) = &item.basis { small { (b.words()) } }
                @if own {
                    " "
                    form method="post" action=(change_to(o)) data-live data-k={ "off" (id) } {
                        (fields(app, o, Leaf::Weigh))
                        button.small.plain name="change" value=(serde_json::to_string(&weight).unwrap_or_default()) { "Take it back" }
                    }
                }
            }
        }
    }
}

/// What stands in the field of a weight, and what stands there greyed: of a pinch no scale shows
/// a figure.
pub fn typed(g: Spread<Mass>, fine: bool) -> (String, Option<&'static str>) {
    if Scale::default().is_pinch(g.likely()) {
        (String::new(), Some("pinch"))
    } else {
        (scale_grams(g.likely(), fine), None)
    }
}

/// 'low–high', or nothing where it is exact.
pub fn low_high(g: Spread<Mass>, fine: bool) -> String {
    if Scale::default().is_pinch(g.likely()) {
        return "under 0.1".to_owned();
    }
    let (l, h) = (scale_grams(g.low(), fine), scale_grams(g.high(), fine));
    if l == h {
        String::new()
    } else {
        format!("{l}–{h}")
    }
}

fn summary(c: &WeighedComponent, larder: &Larder, dough: bool) -> Markup {
    html! {
        @if let Some(h) = c.hydration.filter(|_| dough) {
            p { "Flour " span.n { (scale_grams(c.flour.likely(), false)) " g" }
                "; hydration " span.n { (format!("{:.0} %", h.likely().get())) }
                @if h.high().get() - h.low().get() >= 1.0 { " " span.range { "(" (format!("{:.0}–{:.0}", h.low().get(), h.high().get())) ")" } }
                ", " (c.water_words(larder)) "." }
        }
        @if let (Some(u), Some(l)) = (c.used, c.left) {
            p { "Other components use " span.n { (scale_grams(u.likely(), false)) " g" } " of it; "
                span.n { (scale_grams(l.likely(), false)) " g" } " is left over." }
        }
        @if c.unweighed > 0 {
            p.trouble { (c.unweighed) @if c.unweighed == 1 { " line is" } @else { " lines are" } " not weighed, and not counted above." }
        }
    }
}

/// Which lines carry how much of the doubt.
fn doubt(o: &Open, w: &Worked, c: usize, component: &WeighedComponent) -> Markup {
    let name = |i: &Weighed| match (i.food, i.component) {
        (Some(f), _) => o.pantry.larder.food(f).name.clone(),
        (None, Some(x)) => format!("the {}", w.formula.components[x].name),
        _ => w.formula.recipe.components[c].lines[i.line]
            .bare()
            .to_owned(),
    };
    let rows: Vec<picture::Doubted> = component
        .items
        .iter()
        .filter(|i| i.in_formula)
        .filter_map(|i| Some((i, i.grams?)))
        .filter(|(_, g)| g.high().as_grams() - g.low().as_grams() >= 0.5)
        .map(|(i, g)| picture::Doubted {
            name: name(i),
            low: g.low().as_grams(),
            likely: g.likely().as_grams(),
            high: g.high().as_grams(),
        })
        .collect();
    html! {
        @if rows.len() > 1 {
            details {
                summary { "Which weights are least sure" }
                div.pictures { figure { (picture::doubts(&format!("doubts{c}"), &rows)) } }
            }
        }
    }
}
