//! Sheet 1: the reader's card.

use crate::data::{follow, is_web, tried};
use crate::measure::{capital, cell, plain_source};
use crate::mix::{Mix, Share};
use crate::view::{Line, Part, View, tidy};
use larder::allergen::Regime;
use maud::{Markup, html};
use quantity::Locale;
use recipe::household::{WEIGH_IT, come_within, kept_cups};

/// The whole sheet.
pub(crate) fn sheet(view: &View<'_>) -> Markup {
    html! {
        article.sheet {
            header {
                h1 { (view.title) }
                p.facts {
                    strong { (capital(&view.makes)) }
                    @if let Some(size) = &view.size { " · " (size) }
                    " · " (tried(view.options)) "."
                }
                p.by {
                    (view.credit()) "."
                    @if let Some(writer) = &view.options.writer { " Reworked by " (tidy(writer)) "." }
                    @if let Some(day) = &view.options.today { " " span.day { (tidy(day)) "." } }
                }
            }
            // What can hurt stands at the head, where no length of recipe takes it off the first page.
            div.care {
                (gluten(view))
                (allergens(view))
                (left_out(view))
            }
            div.lists {
                @for part in &view.parts { (ingredients(part)) }
                @for mix in &view.mixes { (blend(mix)) }
            }
            p.aside { (measures(view)) }
            (method(view))
            @if let Some(words) = &view.options.keeping { (row(Row::Short, "Keeping", html! {}, html! { p { (tidy(words)) } })) }
            (cautions(view))
            (source(view))
        }
    }
}

/// How a part of the sheet stands on paper.
#[derive(PartialEq, Eq)]
enum Row {
    /// In one piece.
    Short,
    /// May go over to the next page.
    Long,
    /// In one piece, as wide as the page.
    Across,
}

/// A part of the sheet: its heading beside it where there is room.
fn row(how: Row, heading: &str, under: Markup, body: Markup) -> Markup {
    html! {
        section.row .long[how == Row::Long] .across[how == Row::Across] {
            div.head { h2 { (heading) } (under) }
            div.body { (body) }
        }
    }
}

fn ingredients(part: &Part) -> Markup {
    let under = html! {
        @for makes in &part.makes { p.small { (makes) } }
    };
    let body = html! {
        table.list.decimals {
            thead { tr {
                th.n scope="col" { "Grams" }
                th scope="col" { "Measure" }
                th scope="col" { "Ingredient" }
            } }
            tbody {
                @for line in &part.lines { tr {
                    (cell(line.grams.as_deref()))
                    td.measure {
                        @match &line.measure {
                            Some(m) => { (m) @if let Some(off) = &line.off { " (" (off) ")" } },
                            None if line.weigh => { span.by { (WEIGH_IT) } },
                            None => {},
                        }
                    }
                    td { (ingredient(line)) }
                } }
            }
        }
        @if part.lines.iter().any(|l| l.gluten == Some(LABELLED)) { (dagger()) }
    };
    row(Row::Short, &part.name, under, body)
}

const LABELLED: &str = "labelled gluten-free";

/// What the dagger beside an ingredient means.
fn dagger() -> Markup {
    html! { p.small.dagger { "† Buy it labelled gluten-free." } }
}

fn ingredient(line: &Line) -> Markup {
    let inside = line.allergens.iter().find_map(|a| {
        let at = line.name.to_lowercase().find(&a.to_lowercase())?;
        let same = line
            .name
            .get(at..at + a.len())
            .filter(|s| s.eq_ignore_ascii_case(a))?;
        Some((*a, at, same))
    });
    let rest: Vec<&str> = line
        .allergens
        .iter()
        .copied()
        .filter(|a| inside.is_none_or(|i| i.0 != *a))
        .collect();
    html! {
        @match inside {
            Some((_, at, word)) => {
                (line.name[..at]) strong { (word) } (line.name[at + word.len()..])
            },
            None => { (line.name) },
        }
        @if !rest.is_empty() {
            " (" @for (i, a) in rest.iter().enumerate() { @if i > 0 { ", " } strong { (a) } } ")"
        }
        @if line.gluten == Some(LABELLED) { " †" }
        @else if let Some(words) = line.gluten {
            ", "
            @if words == "contains gluten" { strong { (words) } } @else { em { (words) } }
        }
        @if !line.remarks.is_empty() { span.remark { (capital(&line.remarks.join("; "))) } }
    }
}

fn blend(mix: &Mix) -> Markup {
    let many = mix.uses.len() > 1 && mix.uses.len() <= 3;
    let share = |s: &Share| {
        html! {
            tr {
                @if many { @for g in &s.grams { (cell(g.as_deref())) } }
                (cell(Some(&s.total)))
                td.measure { span.p { (format!("{:.0} %", s.percent)) } }
                th scope="row" { (s.name) @if s.check { " †" } }
            }
        }
    };
    let body = html! {
        table.list.mix.decimals {
            thead { tr {
                @if many { @for name in &mix.uses { th.n scope="col" { (name) " g" } } }
                th.n scope="col" { @if many { "All g" } @else { "Grams" } }
                th.measure scope="col" { "Share" }
                th scope="col" { "Flour or starch" }
            } }
            tbody {
                @for s in &mix.flours { (share(s)) }
                tr.sum {
                    @if many { @for _ in &mix.uses { td.n {} } }
                    (cell(Some(&mix.total)))
                    td.measure { span.p { "100 %" } }
                    th scope="row" { "Together" }
                }
            }
        }
        @if mix.flours.iter().any(|s| s.check) { (dagger()) }
    };
    let under = html! { p.small { (mix.beside()) } };
    row(
        if many { Row::Across } else { Row::Short },
        &capital(&mix.name),
        under,
        body,
    )
}

fn measures(view: &View<'_>) -> String {
    let measured = view.mixes.iter().filter(|m| m.measured).count();
    let (recipe, worked_out) = (view.options.locale, view.options.drawer().locale());
    let cups = worked_out != Locale::Uk;
    let blend = match (view.mixes.len(), measured) {
        (0, _) => "",
        // No amount of a card is in cups there.
        _ if !cups => "",
        (all, some) if all == some => " A cup of blend was weighed in the kitchen.",
        (_, 0) => " A cup of blend is worked out from its parts, not measured.",
        _ => {
            " A cup of the kitchen’s own blend was weighed; that of the other is worked out from its parts."
        }
    };
    let within = come_within(worked_out);
    let kept = kept_cups(recipe, worked_out).map(|words| format!(" {words}"));
    format!(
        "Go by the grams. {within}{blend}{}",
        kept.unwrap_or_default()
    )
}

fn method(view: &View<'_>) -> Markup {
    let body = if view.own.is_empty() {
        html! {
            p {
                @match follow(view) {
                    Some(follow) => (follow),
                    None if view.noted() => "No method written yet. Here is what to do differently from the recipe it was made from.",
                    None => "No method written yet.",
                }
                " " (view.numbering())
            }
            (notes(view))
        }
    } else {
        html! {
            @for part in &view.own {
                @if let Some(heading) = &part.heading { h3 { (heading) } }
                @if !part.steps.is_empty() {
                    ol start=[(part.from > 1).then_some(part.from)] { @for step in &part.steps { li { (step) } } }
                }
            }
        }
    };
    let body = html! {
        @if let Some(words) = &view.written_for { p { strong { (words) } } }
        (body)
    };
    row(Row::Long, "Method", html! {}, body)
}

/// What to do differently from the source.
pub(crate) fn notes(view: &View<'_>) -> Markup {
    html! {
        @for part in view.parts.iter().filter(|p| !p.notes.is_empty()) {
            @if view.parts.len() > 1 {
                h3 { (part.name) @if let Some(of) = &part.of { " " span.small { "steps of ‘" (of) "’" } } }
            }
            ul { @for note in &part.notes { li { (note) } } }
        }
    }
}

fn gluten(view: &View<'_>) -> Markup {
    let (lead, sentence) = view.verdict();
    let (buy, read) = view.labels();
    let milled = view.milled();
    let oats = view.screening.cautions.iter().find(|c| c.code == "oats");
    let body = html! {
        p { strong { (lead) } " " (sentence) }
        @if !buy.is_empty() { p { "Buy labelled gluten-free: " (buy.join(", ")) "." } }
        @if !milled.is_empty() { p { "Free by nature, but milled or packed beside wheat; buy labelled gluten-free too: " (milled.join(", ")) "." } }
        @if !read.is_empty() { p { "Only the label can tell: " (read.join(", ")) "." } }
        @for step in &view.named { p { (capital(step)) "." } }
        @if let Some(oats) = oats { p { strong { "Oats. " } (oats.text) } }
    };
    row(Row::Short, "Gluten", html! {}, body)
}

fn allergens(view: &View<'_>) -> Markup {
    let regime = view.options.regime;
    let said = view.screening.statement(regime);
    let comma = |words: &[String]| {
        html! {
            @for (i, w) in words.iter().enumerate() { @if i > 0 { ", " } strong { (w) } }
        }
    };
    let body = html! {
        p {
            @if said.contains.is_empty() {
                "No allergen on this region's list is certain from the names alone. That is not a promise that there is none: read every label."
            } @else {
                @match regime {
                    Regime::Us | Regime::Anz => { "Contains " (comma(&said.contains)) "." },
                    Regime::Ca => {
                        "Contains: "
                        (comma(&said.contains.iter().map(|w| capital(w)).collect::<Vec<_>>())) "."
                    },
                    Regime::Eu => {
                        "In bold in the list of ingredients: " (comma(&said.contains)) "."
                    },
                }
            }
        }
        @if !said.check.is_empty() {
            p { "Only labels can tell: " (said.check.join("; ")) "." }
        }
        @for note in &said.notes { p.small { (capital(note)) "." } }
    };
    let under = html! { p.small { "As listed in: " (regime.name()) } };
    row(Row::Short, "Allergens", under, body)
}

/// What was left out besides gluten: made without it, never free from it.
fn left_out(view: &View<'_>) -> Markup {
    let Some(summary) = view.rework.left_out() else {
        return html! {};
    };
    let body = html! {
        @for said in summary.sentences() { p { (capital(&said)) "." } }
    };
    row(Row::Short, "Left out", html! {}, body)
}

fn cautions(view: &View<'_>) -> Markup {
    let all: Vec<_> = view
        .screening
        .cautions
        .iter()
        .filter(|c| c.code != "oats")
        .collect();
    let unsaid = &view.unsaid;
    html! {
        @if !(all.is_empty() && unsaid.is_empty()) {
            (row(Row::Long, "Cautions", html! {}, html! {
                ul { @for u in unsaid { li { (u.words()) @let cite = plain_source(&u.source); @if !cite.is_empty() { " " span.cite { "[" (cite) "]" } } } }
                @for c in all { li { (c.text) @let cite = plain_source(c.source); @if !cite.is_empty() { " " span.cite { "[" (cite) "]" } } } } }
            }))
        }
    }
}

fn source(view: &View<'_>) -> Markup {
    let source = &view.rework.formula.recipe.source;
    let changed = view.rework.components.iter().any(|c| !c.changes.is_empty());
    let body = html! {
        p { (view.credit()) ". The words on this card are our own."
            @if changed { " What was changed, and why, stands on the developer’s sheet." } }
        @if let Some(url) = source.url.as_deref().filter(|u| is_web(u)) {
            p { a href=(url) { (url) } }
        }
        @if let Some(url) = view.options.url.as_deref().filter(|u| is_web(u)) {
            p { "This card: " a href=(url) { (url) } }
        }
        p.small {
            @if let Some(day) = &view.options.today { "As of " (tidy(day)) ". " }
            "Makers change their products: read the labels again each time. "
            "A card is no medical advice."
        }
    };
    row(Row::Short, "Source", html! {}, body)
}
