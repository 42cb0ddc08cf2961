//! The page of evidence: what stands behind each style, how well it held, the published pairs.

use super::app::{Shared, run};
use super::fault::Fault;
use super::page::{Page, Way, capital};
use super::picture;
use axum::extract::State;
use axum::response::Response;
use maud::{Markup, html};
use recipe::evidence::{Calibration, Evidence, Quantity, Rule, Told, is_thin, shipped};

/// Nine of ten are promised.
const PROMISE: f64 = 90.0;

/// `/evidence`.
pub async fn show(State(app): State<Shared>) -> Result<Response, Fault> {
    run(app, |app| {
        Page {
            title: "How far to trust the figures",
            way: Way::Kitchen,
            scripts: &[],
            beside: None,
        }
        .show(app, &body(shipped()))
    })
    .await
}

fn body(e: &Evidence) -> Markup {
    html! {
        h1 { "How far to trust the figures" }
        p { "The water of a rework rests on " span.n { (e.formulas()) } " published gluten-free formulas. To see how well it does, each of them was foretold from the formulas of other authors alone." }
        (styles(e))
        (pairs(e))
        (binders(e))
    }
}

/// '12 formulas, 1 pair', '5 formulas: thin'.
fn behind(formulas: usize, pairs: usize) -> String {
    let count = |n: usize, word: &str| match n {
        0 => format!("no {word}"),
        1 => format!("1 {word}"),
        n => format!("{n} {word}s"),
    };
    let formulas_words = count(formulas, "formula");
    if is_thin(formulas) {
        format!("{formulas_words}: thin")
    } else if pairs == 0 {
        formulas_words
    } else {
        format!("{formulas_words}, {}", count(pairs, "pair"))
    }
}

fn styles(e: &Evidence) -> Markup {
    let drawn: Vec<picture::Held> = e
        .styles
        .iter()
        .map(|s| picture::Held {
            name: capital(s.style.name()),
            behind: behind(s.formulas, s.pairs),
            thin: is_thin(s.formulas),
            off: s.calibration.map_or(f64::NAN, |c| c.off_percent()),
            held: s.calibration.map_or(f64::NAN, |c| 100.0 * c.held),
        })
        .collect();
    let thin: Vec<&str> = e
        .styles
        .iter()
        .filter(|s| is_thin(s.formulas))
        .map(|s| s.style.name())
        .collect();
    let wide: Vec<&str> = e
        .styles
        .iter()
        .filter(|s| !is_thin(s.formulas))
        .filter(|s| {
            s.calibration
                .is_some_and(|c| 100.0 * c.held < PROMISE - 10.0)
        })
        .map(|s| s.style.name())
        .collect();
    html! {
        section.sheet aria-labelledby="styles-h" {
            h2 #styles-h { "The water, style by style" }
            p {
                "Half of the published figures lie within " span.n { (format!("{:.0} %", e.all.off_percent())) }
                " of what was foretold; the range, which promises nine of ten, held "
                span.n { (format!("{:.0}", 100.0 * e.all.held)) } " of 100. Bakers differ more by taste than by flour: take the range as the promise, hold back a tenth of the water, and let your own bakes take over."
            }
            @if !thin.is_empty() { p.trouble { "Thin evidence, fewer than " span.n { (recipe::evidence::THIN) } " formulas: " (listed(&thin)) "." } }
            @if !wide.is_empty() { p.trouble { "The range holds too few: " (listed(&wide)) "." } }
            div.spread {
            div.pictures { figure { figcaption { "How far off, and how often the range holds" } (picture::held("held", &drawn, PROMISE)) } }
            table.ledger.stack {
                caption { "Off by: half of the published figures are farther off. Leans: what is foretold is usually wetter or drier than published. Held: published figures inside the range. Range: its high end over its low end." }
                thead { tr { th scope="col" { "Style" } th.f scope="col" { "Formulas" } th.f scope="col" { "Pairs" } th.f scope="col" { "Off by" } th.f scope="col" { "Leans" } th.f scope="col" { "Held" } th.f scope="col" { "Range" } } }
                tbody {
                    @for s in &e.styles {
                        tr id=(s.style.key()) {
                            td.full { (capital(s.style.name())) @if is_thin(s.formulas) { " " span.tag.warn { "thin evidence" } } }
                            td.f data-h="Formulas" { (s.formulas) }
                            td.f data-h="Pairs" { (s.pairs) }
                            (figures(s.calibration))
                        }
                    }
                    tr.sum {
                        td.full { "All" }
                        td.f data-h="Formulas" { (e.formulas()) }
                        td.f data-h="Pairs" { (e.pairs.len()) }
                        (figures(Some(e.all)))
                    }
                }
            }
            }
            p.hint { "The range shown with a recipe also counts how it was weighed: by the cup it is wider than by the gram. Laminated dough has no published formula: its figure is moved over from the other yeast doughs." }
        }
    }
}

fn figures(c: Option<Calibration>) -> Markup {
    html! {
        @match c {
            Some(c) => {
                td.f data-h="Off by" { (format!("{:.0} %", c.off_percent())) }
                td.f data-h="Leans" { (c.lean()) }
                td.f data-h="Held" { (format!("{:.0} %", 100.0 * c.held)) }
                td.f data-h="Range" { (format!("{:.1} ×", c.times())) }
            }
            None => { td.f data-h="Off by" { "not measured" } td.f {} td.f {} td.f {} }
        }
    }
}

fn pairs(e: &Evidence) -> Markup {
    let shown = |v: f64, quantity: Quantity| match quantity {
        Quantity::Hydration => format!("{:.0} %", 100.0 * v.exp_m1()),
        Quantity::Egg => format!("{v:.0}"),
        Quantity::Binder => format!("{v:.2}"),
    };
    html! {
        section.sheet aria-labelledby="pairs-h" {
            h2 #pairs-h { "Recipes published both ways" }
            p { span.n { (e.pairs.len()) } " wheat recipes are published with a gluten-free counterpart. Each wheat side was reworked with the flours of the other side, and set beside the plainest rule there is: swap the flour weight for weight and change nothing." }
            ul {
                @for q in Quantity::ALL {
                    li { strong { (capital(word(q))) ": " } (e.verdict(q, Rule::Engine).words()) "." }
                }
            }
            p { "Many of these authors do swap the flour and change nothing else, which makes the plain rule hard to beat here. It says what they do, not what bakes best." }
            table.ledger.stack {
                caption { "How far off the published gluten-free side: water in per cent of itself, egg and binder in points of per cent of the flour." }
                thead { tr { th scope="col" { "" span.unseen { "What" } } th scope="col" { "Rule" } th.f scope="col" { "Half within" } th.f scope="col" { "On average" } th.f scope="col" { "Nearer / farther" } } }
                tbody {
                    @for q in Quantity::ALL {
                        @for rule in Rule::ALL {
                            @if let Some(x) = e.errors(q, rule) {
                                tr {
                                    td { (capital(word(q))) }
                                    td.full { (rule.says(q)) }
                                    td.f data-h="Half within" { (shown(x.median, q)) }
                                    td.f data-h="On average" { (shown(x.mean, q)) }
                                    td.f data-h="Nearer / farther" { @if rule == Rule::Nothing { "–" } @else { (x.nearer) " / " (x.farther) } }
                                }
                            }
                        }
                    }
                }
            }
            details {
                summary { "Every pair (" (e.pairs.len()) ")" }
                table.ledger.stack {
                    caption { "Per cent of the flour: wheat → published gluten-free, and what the rework gives." }
                    thead { tr { th scope="col" { "Style" } th.f scope="col" { "Water" } th.f scope="col" { "Egg" } th.f scope="col" { "Binder" } th scope="col" { "Seen at" } } }
                    tbody {
                        @for p in &e.pairs {
                            tr {
                                td.full { (capital(p.style.name())) @if p.status != "seen" { " " span.tag { "one side from memory" } } }
                                td.f.m.full data-h="Water" { (told(p.hydration, 0)) }
                                td.f.m.full data-h="Egg" { (told(p.egg, 0)) }
                                td.f.m.full data-h="Binder" { (told(p.binder, 1)) }
                                td.full data-h="Seen at" { small { (host(p.source)) } }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The host of an address; an article's number whole.
fn host(address: &str) -> &str {
    let bare = address
        .trim_start_matches("https://")
        .trim_start_matches("http://");
    if bare.starts_with("doi.org") {
        bare
    } else {
        bare.split('/').next().unwrap_or(bare)
    }
}

fn word(quantity: Quantity) -> &'static str {
    match quantity {
        Quantity::Hydration => "water",
        other => other.word(),
    }
}

fn told(t: Told, places: usize) -> String {
    format!(
        "{:.places$} → {:.places$}, rework {:.places$}",
        t.wheat, t.published, t.engine
    )
}

fn binders(e: &Evidence) -> Markup {
    html! {
        section.sheet aria-labelledby="binder-h" {
            h2 #binder-h { "Binder in published formulas" }
            p { "Outside yeast doughs most authors print none: egg binds for them, or the dough needs little. The usual dose of a style is a starting point; where few formulas have a binder, try a bake with less." }
            table.ledger.stack {
                caption { "Formulas whose ingredients are known whole. Gums as they are, 2.5 of psyllium counted as 1 (common practice, no source). Doses in per cent of the flour." }
                thead { tr { th scope="col" { "Style" } th.f scope="col" { "Formulas" } th.f scope="col" { "With a binder" } th.f scope="col" { "Their middle dose" } th.f scope="col" { "Usual dose here" } } }
                tbody {
                    @for s in &e.styles {
                        tr {
                            td.full { (capital(s.style.name())) }
                            td.f data-h="Formulas" { (s.binder.formulas) }
                            td.f data-h="With a binder" { (s.binder.with) }
                            td.f data-h="Their middle dose" { @match s.binder.median { Some(m) => (format!("{m:.1} %")), None => "–" } }
                            td.f data-h="Usual dose here" { (format!("{:.1} %", s.binder.dose)) }
                        }
                    }
                }
            }
        }
    }
}

/// Names in a row; some hold commas, so semicolons part them.
fn listed(names: &[&str]) -> String {
    names.join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_thin_is_said_in_words() {
        assert_eq!(behind(5, 0), "5 formulas: thin");
        assert_eq!(behind(0, 0), "no formula: thin");
        assert_eq!(behind(12, 1), "12 formulas, 1 pair");
        let page = body(shipped()).into_string();
        assert!(page.contains("id=\"lean_bread\""), "{page}");
        assert!(page.contains("thin evidence"), "{page}");
        assert!(
            page.contains("no nearer than changing nothing"),
            "a draw is called one: {page}"
        );
    }

    #[test]
    fn an_address_is_shown_by_its_host() {
        assert_eq!(host("https://a.example/b?c"), "a.example");
        assert_eq!(host("https://doi.org/10.1/x"), "doi.org/10.1/x");
    }
}
