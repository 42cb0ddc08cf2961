//! The Screen page: gluten and allergens, of the rework and of the original.

use super::{Leaf, Open, component_name};
use crate::web::app::App;
use crate::web::page::{self, sentence};
use larder::Gluten;
use larder::allergen::Regime;
use maud::{Markup, html};
use quantity::Locale;
use recipe::screen::{Finding, Screening};
use recipe::sheet::Worked;

/// The page's body.
pub fn body(app: &App, o: &Open, w: &Worked) -> Markup {
    let names: Vec<String> = w
        .formula
        .components
        .iter()
        .map(|c| component_name(&c.name))
        .collect();
    let regime = regime(o);
    html! {
        section.sheet aria-labelledby="ours" {
            div.between {
                h2 #ours { "The gluten-free version" }
                (whole_verdict(&w.rework_screening))
            }
            p.hint { "Where it is not certain, it says 'check the label'. Read the label again on each new pack." }
            (findings(app, o, &w.rework_screening, &names, true))
            (estimate(&w.rework_screening))
        }
        div.spread.even {
            section.sheet aria-labelledby="allergens" {
                h2 #allergens { "Its allergens, " (regime.name()) }
                (allergens(&w.rework_screening, regime))
                @if regime == Regime::Us && o.draft.sheet.locale() != Locale::Us {
                    p.hint { "This recipe is not in US measures, but the kitchen follows the label law of the United States. " a href="/kitchen" { "Choose another" } }
                }
                details {
                    summary { "By other laws" }
                    @for &r in Regime::ALL { @if r != regime { h3.part { (r.name()) } (allergens(&w.rework_screening, r)) } }
                }
            }
            section.sheet aria-labelledby="cautions" {
                h2 #cautions { "Cautions" }
                @if w.rework_screening.cautions.is_empty() { p { "None of the usual ones. Local rules come first all the same." } }
                ul { @for c in &w.rework_screening.cautions { li { (c.text) br; small { (c.source) } } } }
            }
        }
        section.sheet aria-labelledby="theirs" {
            div.between {
                h2 #theirs { "The original" }
                (verdict(w.screening.verdict))
            }
            (findings(app, o, &w.screening, &names, false))
            (estimate(&w.screening))
        }
    }
}

/// The kitchen's law for labels.
pub fn regime(o: &Open) -> Regime {
    Regime::from_word(&o.settings.regime).unwrap_or(Regime::Us)
}

/// A verdict as a word with a sign.
pub fn verdict(v: Gluten) -> Markup {
    let class = match v {
        Gluten::Contains => "verdict contains",
        Gluten::Check => "verdict check",
        Gluten::Free => "verdict free",
    };
    html! { span class=(class) { (v.words()) } }
}

/// The verdict on everything. Labels that were read, and lines that ask for a labelled product,
/// are said to be that, no more.
fn whole_verdict(s: &Screening) -> Markup {
    if s.verdict == Gluten::Check && s.method.is_empty() && s.open().next().is_none() {
        return html! { span.verdict.read { "labels read, or to buy labelled" } };
    }
    verdict(s.verdict)
}

fn findings(app: &App, o: &Open, s: &Screening, names: &[String], evidence: bool) -> Markup {
    let larder = &o.pantry.larder;
    let mut shown: Vec<&Finding> = s
        .findings
        .iter()
        .filter(|f| f.verdict != Gluten::Free || f.labelled)
        .collect();
    shown.sort_by_key(|f| (!f.open, f.verdict));
    let free = s.findings.len() - shown.len();
    // One row for one food, wherever it stands.
    let mut grouped: Vec<(&Finding, Vec<&str>)> = Vec::new();
    for f in shown {
        let part = names.get(f.component).map_or("", String::as_str);
        match grouped
            .iter_mut()
            .find(|(g, _)| g.words == f.words && g.reason == f.reason && g.verdict == f.verdict)
        {
            Some((_, parts)) => {
                if !parts.contains(&part) {
                    parts.push(part);
                }
            }
            None => grouped.push((f, vec![part])),
        }
    }
    let milled = s.milled(larder);
    html! {
        @if grouped.is_empty() { p { "No line contains gluten or has a label to check." } } @else {
            table.ledger.stack {
                thead { tr { th scope="col" { "Verdict" } th scope="col" { "Line" } th scope="col" { "Why" } @if evidence { th scope="col" { "What you know" } } } }
                tbody {
                    @for (i, (f, parts)) in grouped.iter().enumerate() {
                        @let first = f.food.filter(|_| evidence && !grouped[..i].iter().any(|g| g.0.food == f.food));
                        tr data-k={ "f" (i) (f.words) } id=[first.map(|x| place(&larder.food(x).key))] tabindex=[first.map(|_| "-1")] {
                            td {
                                @if f.verdict == Gluten::Check && !f.open {
                                    @let seen = f.food.and_then(|x| larder.own(x)).is_some_and(|e| e.gluten.is_some());
                                    @if seen { span.verdict.read { "label read" } } @else { span.verdict.read { "to buy labelled" } }
                                } @else { (verdict(f.verdict)) }
                            }
                            td.full.first { (f.words) @if names.len() > 1 { br; small { (parts.join(", ")) } } }
                            td.full { (sentence(&f.reason)) @if let Some(n) = &f.note { " " (sentence(n)) } }
                            @if evidence { td.full { (label_form(app, o, f)) } }
                        }
                    }
                }
            }
        }
        @if free > 0 { p { (free) @if free == 1 { " other line is" } @else { " other lines are" } " free by nature." } }
        @if !milled.is_empty() {
            p { "Free by nature, but milled or packed beside wheat; buy them labelled gluten-free: " (milled.join(", ")) "." }
        }
        @for m in &s.method { p.trouble { (m) } }
    }
}

/// The id of a food's row, to come back to.
fn place(key: &str) -> String {
    format!("line-{key}")
}

/// Where the baker says what the label said.
fn label_form(app: &App, o: &Open, f: &Finding) -> Markup {
    let larder = &o.pantry.larder;
    let Some(food) = f.food else {
        return html! {};
    };
    let key = &larder.food(food).key;
    if let Some(e) = larder.own(food).and_then(|e| e.gluten.as_ref()) {
        return html! { small { "seen " (e.date) @if !e.note.is_empty() { ", " (e.note) } " · " a href={ "/larder/" (key) } { "change" } } };
    }
    if f.verdict == Gluten::Contains {
        return html! {};
    }
    let noted = larder.own(food).map_or("", |e| e.note.trim());
    let id = format!("note-{key}");
    html! {
        @if !noted.is_empty() { small { (noted) " " a href={ "/larder/" (key) } { "change" } } }
        details {
            summary { "I have read it" span.unseen { ": label of " (f.words) } }
            form method="post" action={ "/larder/" (key) "/label" } {
                (page::seal(app))
                input type="hidden" name="back" value={ (o.at(Leaf::Screen)) "#" (place(key)) };
                label for=(id) { "Brand and pack" }
                input id=(id) name="note" required;
                div.row {
                    button.small name="kind" value="labelled" { "It says gluten-free" }
                    button.small name="kind" value="names_gluten" { "It names gluten or traces" }
                    button.small name="kind" value="neither" { "It says neither" }
                }
            }
        }
    }
}

fn estimate(s: &Screening) -> Markup {
    html! {
        p { "Gluten of the finished food: " (sentence(&s.ppm.words())) }
        @if !s.ppm.unknown.is_empty() {
            details { summary { "Why no upper figure can be given (" (s.ppm.unknown.len()) ")" } ul { @for u in &s.ppm.unknown { li { (u) } } } }
        }
    }
}

/// A line of what only labels can tell, under words that say so.
pub fn on_label(line: &str) -> String {
    line.replace(" (check the label)", "")
}

/// The allergen words of a law.
pub fn allergens(s: &Screening, regime: Regime) -> Markup {
    let st = s.statement(regime);
    html! {
        @if st.contains.is_empty() { p { "No allergen on the list is in it for certain." } }
        @else { p { strong { "Contains: " } (st.contains.join(", ")) "." } }
        @if !st.check.is_empty() { p { "Check the label for:" } ul { @for c in &st.check { li { (on_label(c)) } } } }
        @for n in &st.notes { p.hint { (sentence(n)) } }
    }
}
