//! The Screen page: gluten and allergens, of the rework and of the original.

use super::read::larder_link;
use super::{Leaf, Open, component_name};
use crate::web::app::App;
use crate::web::kitchen::{ask_law, has_law, law, to_law};
use crate::web::larder_page;
use crate::web::page::{self, sentence};
use larder::allergen::{Regime, plain};
use larder::{Allergen, Gluten, Larder};
use maud::{Markup, html};
use quantity::Locale;
use recipe::screen::{Finding, Screening};
use recipe::sheet::Worked;
use store::Settings;

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
                (whole_verdict(&w.rework_screening, &o.pantry.larder))
            }
            p.hint { "Where it is not certain, it says 'check the label'. Read the label again on each new pack." }
            (findings(app, o, &w.rework_screening, &names, true))
            (estimate(&w.rework_screening))
        }
        div.spread.even {
            section.sheet aria-labelledby="allergens" {
                h2 #allergens { "Its allergens, " (regime.name()) }
                (ask_law(app, &o.settings, regime, &format!("{}#allergens", o.at(Leaf::Screen))))
                (allergens(&w.rework_screening, regime))
                @let brought = w.rework_screening.brought(&w.screening);
                @if !brought.is_empty() { p { strong { "Not in the original: " } (brought.join(", ")) "." } }
                p.hint {
                    @if !has_law(&o.settings) {} @else if regime == Regime::Us && o.draft.sheet.locale() != Locale::Us { "This recipe is not in US measures, but the kitchen follows the label law of the United States. " } @else { "By the label law that the kitchen follows. " }
                    (to_law())
                }
                details {
                    summary { "By other laws" }
                    @for &r in Regime::ALL { @if r != regime { h3.part { (r.name()) } (allergens(&w.rework_screening, r)) } }
                }
            }
            section.sheet aria-labelledby="cautions" {
                h2 #cautions { "Cautions" }
                @if w.rework_screening.cautions.is_empty() { p { "None of the usual ones. Local rules come first all the same." } }
                ul { @for c in &w.rework_screening.cautions { li { (quantity::scales_of(c.text, o.home())) br; small { (c.source) } } } }
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

/// The kitchen's law for labels; until it has said which, that of the recipe's measures.
pub fn regime(o: &Open) -> Regime {
    if has_law(&o.settings) {
        law(&o.settings)
    } else {
        Regime::usual(o.draft.sheet.locale())
    }
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

/// The verdict on everything, as [`Screening::told`] says it.
pub fn whole_verdict(s: &Screening, larder: &Larder) -> Markup {
    let words = s.told(larder);
    if words == s.verdict.words() {
        return verdict(s.verdict);
    }
    let class = match s.verdict {
        Gluten::Free => "verdict check",
        _ => "verdict read",
    };
    html! { span class=(class) { (words) } }
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
    // One row for one food, wherever it stands and whatever it is called there.
    let mut grouped: Vec<(&Finding, Vec<&str>, Vec<&str>)> = Vec::new();
    for f in shown {
        let part = names.get(f.component).map_or("", String::as_str);
        match grouped.iter_mut().find(|(g, ..)| is_one(g, f)) {
            Some((_, words, parts)) => {
                add(words, &f.words);
                add(parts, part);
            }
            None => grouped.push((f, vec![&f.words], vec![part])),
        }
    }
    let milled = s.milled(larder);
    html! {
        @if grouped.is_empty() { p { "No line contains gluten or has a label to check." } } @else {
            table.ledger.stack {
                thead { tr { th scope="col" { "Verdict" } th scope="col" { "Line" } th scope="col" { "Why" } @if evidence { th scope="col" { "What you know" } } } }
                tbody {
                    @for (i, (f, words, parts)) in grouped.iter().enumerate() {
                        @let first = f.food.filter(|_| evidence && !grouped[..i].iter().any(|g| g.0.food == f.food));
                        tr data-k={ "f" (i) (f.words) } id=[first.map(|x| place(&larder.food(x).key))] tabindex=[first.map(|_| "-1")] {
                            td {
                                @match f.settled(larder) {
                                    Some(words) => span.verdict.read { (words) },
                                    None => (verdict(f.verdict)),
                                }
                            }
                            td.full.first { (words.join(", ")) @if names.len() > 1 { br; small { (parts.join(", ")) } } }
                            td.full { (sentence(&f.reason)) @if let Some(n) = &f.note { " " (sentence(n)) } @if f.is_of_pasted_words() { " " a href={ (o.at(Leaf::Read)) "#text" } { "Change the text" } } }
                            @if evidence { td.full {
                                @if first.is_some() { (label_form(app, o, f)) }
                                @else if f.is_unknown() { a href=(larder_link(o, &f.words, Leaf::Screen)) { "put it in the larder" span.unseen { ": " (f.words) } } }
                            } }
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

fn add<'a>(list: &mut Vec<&'a str>, word: &'a str) {
    if !list.contains(&word) {
        list.push(word);
    }
}

/// Whether two findings are settled by one look at one label.
fn is_one(a: &Finding, b: &Finding) -> bool {
    let instead = |f: &Finding| f.words.starts_with("or ");
    let named = a.words == b.words || a.food.is_some() && a.food == b.food;
    named && instead(a) == instead(b) && (a.verdict, &a.reason) == (b.verdict, &b.reason)
}

/// The id of a food's row, to come back to.
fn place(key: &str) -> String {
    format!("line-{key}")
}

/// Where the baker says what the label said, and takes it back.
fn label_form(app: &App, o: &Open, f: &Finding) -> Markup {
    let larder = &o.pantry.larder;
    let Some(food) = f.food else {
        return html! {};
    };
    let (key, name) = (&larder.food(food).key, &larder.food(food).name);
    let own = larder.own(food);
    let settled = own.is_some_and(|e| e.gluten.is_some());
    let back = format!("{}#{}", o.at(Leaf::Screen), place(key));
    html! {
        @if own.is_some_and(|e| e.gluten.is_some() || !e.note.trim().is_empty()) {
            p.hint { "Kept in the Larder, for every recipe with " (name) "." }
            div.row.mid {
                @if let Some(seen) = larder_page::last_label(app, key) {
                    form method="post" action={ "/larder/" (key) "/label/back" } {
                        (page::seal(app))
                        input type="hidden" name="back" value=(back);
                        input type="hidden" name="seen" value=(seen);
                        button.small { "Take it back" span.unseen { ": label of " (name) } }
                    }
                }
                a href={ "/larder/" (key) } { "change" span.unseen { " what the Larder says of " (name) } }
            }
        }
        @if !settled && f.verdict != Gluten::Contains { (asked(app, &o.settings, key, &f.words, &back)) }
    }
}

/// The form that asks what a label says. It has no answer until one is chosen: the Enter key in
/// the field asks for one.
fn asked(app: &App, settings: &Settings, key: &str, words: &str, back: &str) -> Markup {
    let kinds = [
        ("labelled", "It says gluten-free"),
        ("names_gluten", "It names gluten, or traces of it"),
        ("neither", "It says neither"),
    ];
    let id = format!("note-{key}");
    html! {
        details {
            summary { "I have read it" span.unseen { ": label of " (words) } }
            form method="post" action={ "/larder/" (key) "/label" } {
                (page::seal(app))
                input type="hidden" name="back" value=(back);
                label for=(id) { "Brand and pack" }
                input id=(id) name="note" required data-needed="Write which pack it is: brand, kind, size.";
                fieldset {
                    legend { "What does it say?" }
                    @for (kind, words) in kinds {
                        label.tick { input type="radio" name="kind" value=(kind) required data-needed="Choose what the label says."; (words) }
                        @if kind == "names_gluten" {
                            div.row.mid role="group" aria-label="Which grain it names" {
                                span.hint { "Which?" }
                                @for grain in larder_page::GRAINS { label.tick { input type="checkbox" name="grain" value=(grain); (grain) } }
                            }
                        }
                    }
                }
                details {
                    summary { "Its allergens" span.unseen { ": label of " (words) } }
                    p.hint { "Tick all that the label names, traces that it warns of too." }
                    div.ticks { @for a in Allergen::ALL {
                        label.tick { input type="checkbox" name="allergen" value=(a.word()); (plain(*a)) }
                    } }
                    label.tick { input type="checkbox" name="all" value="1"; (larder_page::ALL_NAMED) }
                    p.hint { "Then what is not ticked is asked about no more, as far as the law here wants it named: " (law(settings).name()) "." }
                    @if settings.baker.is_empty() {
                        @let id = format!("who-{key}");
                        label for=(id) { "Read by" }
                        input id=(id) name="who" maxlength="80";
                    }
                }
                button { "Keep what it says" }
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
