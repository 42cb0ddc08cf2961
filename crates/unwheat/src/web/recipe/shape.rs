//! The Shape page: for each component a shape, its figures typed, what follows and drawings to
//! scale.

use super::read::says;
use super::{Leaf, Open, change_to, component_name, fields};
use crate::show::shape::{density_words, likely, range, told_in};
use crate::web::app::App;
use crate::web::page::{capital, sentence};
use crate::web::picture;
use maud::{Markup, html};
use quantity::{Locale, Mass, Spread, lengths_in};
use recipe::FactKind;
use recipe::density::{Density, of_style};
use recipe::household::scale_grams;
use recipe::plan::by_own_method;
use recipe::shape::{
    Dough, Entry, Field, Kind, Measure, Offer, Outcome, Raised, Said, ShapeAsk, ShapeError, Shaped,
    Unit, Verdict, dough_of, is_in_pans, known, offers, one_of,
};
use recipe::sheet::{Change, Worked};
use recipe::size::{Caution, times};
use std::collections::BTreeMap;

/// Fields that are rarely typed: behind 'More'.
const MORE: &[&str] = &[
    "density",
    "filling-density",
    "coat-density",
    "margin",
    "trim",
    "core",
    "growth",
    "spring",
    "grows",
    "overlap",
    "above",
    "overhang",
    "board",
    "level",
    "lost",
    "crossing",
    "slice",
];

/// The page's body.
pub fn body(app: &App, o: &Open, w: &Worked) -> Markup {
    html! {
        @for (i, c) in w.batch.components.iter().enumerate().filter(|(i, _)| w.rework.components[*i].is_listed()) {
            @if c.factor > 0.0 { (component(app, o, w, i, &c.name, c.makes)) }
            @else { p.hint data-k={ "c" (i) } { (component_name(&c.name)) " is not made in this batch, as the Size page has it." } }
        }
        p.hint { "Shapes are geometry on the weights of this batch. Dough is not: measure the first one, and type what you found." }
    }
}

/// What the method, the baker's own where there is one, and the batch say of the fields of a component's shape.
fn known_of(o: &Open, w: &Worked, i: usize, ask: &ShapeAsk) -> BTreeMap<&'static str, Said> {
    let Ok(kind) = ask.kind() else {
        return BTreeMap::new();
    };
    let (recipe, _) = by_own_method(w, &o.draft.sheet);
    known(&w.rework, &w.batch, &recipe, i, kind)
}

/// A component's shape, where one is chosen.
fn shaped(o: &Open, w: &Worked, i: usize) -> Option<Result<Shaped, ShapeError>> {
    let c = w.batch.components.get(i)?;
    let ask = o.draft.sheet.shapes.get(&c.name)?;
    let dough = dough_of(&w.rework, &w.batch, i, ask.kind().ok()?);
    let ask = ask.over(&known_of(o, w, i, ask));
    Some(ask.shaped_in(&dough, &super::size::own_pans(&o.settings.pans)))
}

/// What a component's shape comes to, in a line: for those who listen to a change.
pub fn headline(o: &Open, w: &Worked, name: &str) -> Option<String> {
    let i = w.batch.components.iter().position(|c| c.name == name)?;
    let home = o.home();
    Some(match shaped(o, w, i)? {
        Ok(s) => {
            let s = told_in(&s, home);
            let first = s.measures.first()?;
            let verdict = s.verdicts.first().map_or(String::new(), |v| {
                format!("; {}", v.words.trim_end_matches('.'))
            });
            format!(
                "{} {}{verdict}",
                first.name.to_lowercase(),
                likely(first, home)
            )
        }
        Err(e) => lengths_in(&e.what, home),
    })
}

fn component(app: &App, o: &Open, w: &Worked, i: usize, name: &str, makes: Spread<Mass>) -> Markup {
    let ask = o.draft.sheet.shapes.get(name);
    let id = format!("c{i}");
    html! {
        section.sheet aria-labelledby=(id) data-k=(id) {
            div.between {
                h2 id=(id) { (component_name(name)) }
                div.row { (choice(app, o, i, name, ask)) }
            }
            p {
                @if makes.likely().as_grams() > 0.0 { "This batch makes " span.n { (scale_grams(makes.likely(), false)) " g" } " of it, raw" }
                @else { "What this batch makes of it is not known" }
                @let range = Measure::new("makes", "", makes, Unit::Grams).range();
                @if let Some(r) = range { " " span.range { "(" (r) ")" } }
                "."
            }
            @let unweighed = w.rework.components.get(i).map_or(0, recipe::rework::ReworkedComponent::unweighed);
            @if unweighed > 0 {
                p.trouble { (unweighed) @if unweighed == 1 { " line is" } @else { " lines are" } " not weighed: " @if ask.is_some() { "type its weight under Dough." } @else { "what they weigh is missing from the dough’s weight." } }
            }
            @match ask {
                Some(ask) => (chosen(app, o, w, i, name, ask)),
                None => (offered(app, o, w, i, name)),
            }
        }
    }
}

/// The shapes that the method asks for of a component, each one click away.
fn offered(app: &App, o: &Open, w: &Worked, i: usize, name: &str) -> Markup {
    let (recipe, own) = by_own_method(w, &o.draft.sheet);
    html! {
        @for Offer { kind, step } in offers(&recipe, i) {
            form.row method="post" action=(change_to(o)) data-live data-k={ "offer" (i) (kind.key()) } {
                (fields(app, o, Leaf::Shape))
                (says(&Change::SetShape { component: name.to_owned(), shape: None }))
                @if own { "From your step " } @else { "From step " } (step) ":"
                button.small name="value" value=(kind.key()) { (capital(kind.name())) }
            }
        }
    }
}

/// Pans that the method names for a component.
fn named_pans(o: &Open, w: &Worked, i: usize) -> Option<String> {
    let (recipe, _) = by_own_method(w, &o.draft.sheet);
    let mut all: Vec<&str> = Vec::new();
    for step in &recipe.steps {
        if step.component.is_some_and(|c| c != i) {
            continue;
        }
        for fact in &step.facts {
            if let FactKind::Pan { words, sizes } = &fact.kind
                && !sizes.is_empty()
                && !all.contains(&words.as_str())
            {
                all.push(words);
            }
        }
    }
    (!all.is_empty()).then(|| {
        let quoted: Vec<String> = all.iter().map(|w| format!("‘{w}’")).collect();
        quoted.join(", ")
    })
}

fn choice(app: &App, o: &Open, i: usize, name: &str, ask: Option<&ShapeAsk>) -> Markup {
    let now = ask.map(|a| a.shape.as_str());
    html! {
        form method="post" action=(change_to(o)) data-live data-k={ "shape" (i) } {
            (fields(app, o, Leaf::Shape))
            (says(&Change::SetShape { component: name.to_owned(), shape: None }))
            label for={ "shape" (i) } { "Shape" }
            select id={ "shape" (i) } name="value" {
                option value="" selected[now.is_none()] { "none" }
                @for k in Kind::ALL { option value=(k.key()) selected[now == Some(k.key())] { (k.name()) } }
            }
            noscript { button.small { "Take" } }
        }
    }
}

fn chosen(app: &App, o: &Open, w: &Worked, i: usize, name: &str, ask: &ShapeAsk) -> Markup {
    let Ok(kind) = ask.kind() else {
        return html! { p.trouble { "This shape is of a newer program: choose another." } };
    };
    let dough = dough_of(&w.rework, &w.batch, i, kind);
    let style = w.rework.components.get(i).and_then(|c| c.style);
    let density = of_style(style.map(|s| s.style));
    let known = known_of(o, w, i, ask);
    let got = ask
        .over(&known)
        .shaped_in(&dough, &super::size::own_pans(&o.settings.pans));
    let wrong = got.as_ref().err();
    let told = |words: &str| lengths_in(&sentence(words), o.home());
    let more = |f: &&Field| MORE.contains(&f.key);
    let one = |f: &Field| field(app, o, i, name, ask, f, &dough, known.get(f.key), wrong);
    // What rises in the oven alone is not proofed.
    let proofed = dough.raised == Raised::Yeast || kind != Kind::Fit;
    let fields = || {
        let all = kind.fields().iter();
        all.filter(|f| proofed || !matches!(f.key, "growth" | "grows"))
    };
    let says_more = fields().filter(more).any(|f| ask.says(f.key).is_some());
    html! {
        p.hint { (told(kind.about())) @if let Some(words) = named_pans(o, w, i) { " The method names " (words) "." } @if let Some(of) = one_of(&w.rework, &w.batch, i, kind) { " What is shaped is " (of) "." } }
        div.shape-fields { @for f in fields().filter(|f| !more(f)) { (one(f)) } }
        details.more open[says_more] {
            summary { "More figures" }
            div.shape-fields { @for f in fields().filter(more) { (one(f)) } }
        }
        @match &got {
            Err(e) if ask.says.is_empty() && known.is_empty() => p.hint { (told(&e.what)) " " (told(&e.mend)) },
            Err(e) => p.trouble role="alert" { (told(&e.what)) " " (told(&e.mend)) },
            Ok(s) => {
                // Of the pans that the batch is sized for the Size page says how full they are, in the same words.
                @let sized = w.batch.fullness().filter(|_| kind == Kind::Fit && ask.says.is_empty() && is_in_pans(&w.rework, &w.batch, i));
                (result(i, ask, s, &density, o.home(), sized))
            }
        }
    }
}

#[allow(clippy::too_many_arguments, reason = "one field of one form")]
fn field(
    app: &App,
    o: &Open,
    i: usize,
    name: &str,
    ask: &ShapeAsk,
    f: &Field,
    dough: &Dough,
    known: Option<&Said>,
    wrong: Option<&ShapeError>,
) -> Markup {
    let id = format!("s{i}-{}", f.key);
    let said = ask.says(f.key);
    let change = Change::ShapeSays {
        component: name.to_owned(),
        what: f.key.to_owned(),
        text: None,
    };
    // What holds where nothing is typed stands greyed.
    let grey = match f.key {
        "dough" => dough
            .grams
            .map(|g| format!("{} g, the batch’s", scale_grams(g.likely(), false))),
        "density" => Some(format!("{:.2}, by style", dough.density.likely().get())),
        _ => known.map(|m| {
            let pan = recipe::size::pan::by_key(&m.text);
            let text = pan.map_or_else(|| m.text.clone(), recipe::size::pan::Pan::words);
            let assumed = if m.assumed { ", its depth assumed" } else { "" };
            let whose = if m.of_recipe { "the recipe’s " } else { "" };
            match m.step {
                Some(n) => match m.times {
                    Some(factor) => format!("{text}, of {whose}step {n} × {}", times(factor)),
                    None => format!("{text}, of {whose}step {n}"),
                },
                None => format!("{text}, the batch’s{assumed}"),
            }
        }),
    };
    let hint = match (f.key, dough.raised) {
        ("spring", Raised::Oven) => "times its height in the oven; 1.3-1.6 without it",
        ("spring", Raised::Not) => "times its height in the oven; none without it",
        _ => f.hint,
    };
    let bad = said.is_some() && wrong.is_some_and(|e| e.field == Some(f.key));
    html! {
        form method="post" action=(change_to(o)) data-live data-k=(id) {
            (fields(app, o, Leaf::Shape))
            (says(&change))
            label for=(id) { (f.name) }
            @if let Entry::Choice(words) = f.entry {
                select id=(id) name="value" aria-describedby={ (id) "-h" } {
                    option value="" selected[said.is_none()] { "as usual" }
                    @for (key, words) in words { option value=(key) selected[said == Some(key)] { (words) } }
                }
                noscript { button.small { "Take" } }
            } @else {
                input id=(id) name="value" value=(said.unwrap_or_default()) placeholder=[grey] autocomplete="off" data-typed aria-describedby={ (id) "-h" } aria-invalid=[bad.then_some("true")];
            }
            small id={ (id) "-h" } { (lengths_in(hint, o.home())) }
        }
    }
}

/// Inches with the centimetres beside or, where there is no room, below them.
fn both_units(figure: &str) -> Markup {
    html! {
        @match figure.split_once(" (") {
            Some((inches, other)) => { span.n { (inches) } " " span.range { "(" (other) } }
            None => span.n { (figure) },
        }
    }
}

/// # Arguments
/// * `fullness` — what Size says of how full the pan is: it stands for the fit.
fn result(
    i: usize,
    ask: &ShapeAsk,
    s: &Shaped,
    density: &Density,
    home: Locale,
    fullness: Option<&Caution>,
) -> Markup {
    let mut s = told_in(s, home);
    if let Some(c) = fullness {
        let outcome = if c.code == "shallow" {
            Outcome::TooLittle
        } else {
            s.verdicts.retain(|v| v.outcome == Outcome::Touches);
            Outcome::Overflows
        };
        let words = lengths_in(&c.text, home);
        s.verdicts.insert(0, Verdict { outcome, words });
    }
    html! {
        @if !s.verdicts.is_empty() {
            ul.verdicts aria-label="How it comes out" {
                @for v in &s.verdicts { li { span.tag.warn[v.outcome > Outcome::Touches] { (v.outcome.word()) } " " (v.words) } }
            }
        }
        div.spread.even {
            div.pictures {
                @for d in &s.drawings {
                    figure data-k={ "d" (i) (d.key) } {
                        figcaption { (d.title) }
                        (picture::shape(&format!("shape{i}-{}", d.key), d))
                    }
                }
            }
            table.ledger.shaped {
                caption { "Likely, and from low to high as weight and density may be" }
                thead { tr { th scope="col" { "Figure" } th.f scope="col" { "Likely" } th.f scope="col" { "Low–high" } } }
                tbody {
                    @for m in &s.measures {
                        tr data-k={ "m" (i) (m.key) } {
                            td { (m.name) }
                            td.f { (both_units(&likely(m, home))) }
                            td.f { @if let Some(r) = range(m, home) { span.range { (r) } } }
                        }
                    }
                }
            }
        }
        @if !s.cautions.is_empty() {
            h3.part { "Mind" }
            ul { @for c in &s.cautions { li { (c.words) " " small { "Source: " (sentence(&c.source)) } } } }
        }
        details {
            summary { "What it rests on" }
            ul {
                @for n in &s.notes { li { (n) } }
                @if ask.says("density").is_none() && s.kind.field("density").is_some() { li { (density_words(density)) } }
            }
        }
    }
}
