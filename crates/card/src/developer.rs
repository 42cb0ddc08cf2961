//! Sheet 2: the developer's, with every figure beside the original's.

use crate::measure::{capital, cell, ends, percent_ends, plain_source};
use crate::reader;
use crate::view::{View, tidy};
use larder::Gluten;
use maud::{Markup, html};
use quantity::{Mass, Spread, both_scales};
use recipe::household::{Scale, is_fine, percent_figure, scale_grams};
use recipe::rework::{Balance, Kept, ReworkedComponent, ReworkedLine};
use recipe::screen::Finding;
use recipe::weigh::Weighed;

/// The whole sheet.
pub(crate) fn sheet(view: &View<'_>) -> Markup {
    html! {
        article.sheet.developer {
            header {
                h2.title { "Developer’s sheet" }
                p.by {
                    (view.title) ". Percent are of all flours and starches together, nut and pulse flours too. Low and high are what is known, not what is allowed: bake and log."
                }
                @if let Some(size) = &view.other_size { p.by { "This sheet is for the recipe once; the reader’s sheet is for " (size) "." } }
            }
            @for (at, component) in view.rework.components.iter().enumerate().filter(|(_, c)| c.is_listed()) {
                (part(view, at, component))
            }
            (differences(view))
            (mixes(view))
            (estimate(view))
            (doubts(view))
        }
    }
}

/// A row of the table before and after.
struct Pair<'a> {
    before: Option<&'a Weighed>,
    after: Option<&'a ReworkedLine>,
    /// In place of what comes after.
    gone: &'static str,
}

/// Pairs the original's items with the reworked lines.
///
/// Every line with an origin stands for one weighed item, in their order, but for the blend,
/// which stands in for several.
fn pairs<'a>(view: &View<'a>, items: &'a [Weighed], lines: &'a [ReworkedLine]) -> Vec<Pair<'a>> {
    let mut next = items.iter();
    let mut out: Vec<Pair<'a>> = Vec::new();
    for line in lines {
        if line.blend && line.grams.is_some() {
            out.push(Pair {
                before: None,
                after: Some(line),
                gone: "",
            });
            continue;
        }
        let before = line.origin.and_then(|_| next.next());
        if line.kept != Kept::Dropped {
            out.push(Pair {
                before,
                after: Some(line),
                gone: "",
            });
            continue;
        }
        let merged = line.is_in_blend(view.larder);
        match out
            .iter_mut()
            .find(|p| p.after.is_some_and(|a| a.blend) && p.before.is_none())
        {
            Some(blend) if merged => blend.before = before,
            _ => out.push(Pair {
                before,
                after: None,
                gone: if merged { "in the blend" } else { "left out" },
            }),
        }
    }
    out
}

fn part(view: &View<'_>, at: usize, component: &ReworkedComponent) -> Markup {
    let name = view.name(at);
    let style = component.style.map(|s| s.words());
    html! {
        // Percent of a little flour in a filling say nothing of it.
        @let balanced = component.is_dough() && component.original.flour.likely().as_grams() > 0.0;
        section.part {
            div.top .two[balanced] {
                h3 { (name) }
                @if let Some(style) = &style { p.small { "Reworked as: " (style) "." } }
                (before_after(view, at, component, &name))
                @if balanced { (balance(view, component)) }
            }
            @if !component.changes.is_empty() {
                div.scroll.after tabindex="0" role="group" aria-label=(format!("Changes: {name}")) {
                    table.grid.changes {
                        caption { "Changes" }
                        thead { tr {
                            @for head in ["What", "From", "To", "Range", "Why", "Source"] { th scope="col" { (head) } }
                        } }
                        tbody { @for c in &component.changes { tr {
                            th scope="row" { (capital(&tidy(&c.what))) }
                            td data-h="From" { (both_scales(&tidy(&c.from))) }
                            td data-h="To" { (both_scales(&tidy(&c.to))) }
                            td data-h="Range" { (c.range.as_deref().map_or("none given".to_owned(), |r| both_scales(&tidy(r)))) }
                            td data-h="Why" { (both_scales(&capital(&tidy(&c.rule)))) }
                            td.cite data-h="Source" { (plain_source(&tidy(&c.source))) }
                        } } }
                    }
                }
            }
        }
    }
}

fn before_after(view: &View<'_>, at: usize, component: &ReworkedComponent, name: &str) -> Markup {
    let Some(weighed) = view.rework.formula.components.get(at) else {
        return html! {};
    };
    let dough = component.is_dough();
    let pairs = pairs(view, &weighed.items, &component.lines);
    let fine = |food: Option<larder::FoodId>| food.is_some_and(|f| is_fine(view.larder, f));
    html! {
        div.scroll.before tabindex="0" role="group" aria-label=(format!("Before and after: {name}")) {
            table.grid.decimals.pairs {
                caption { "Before and after" }
                thead {
                    tr {
                        th scope="colgroup" colspan="3" { "Original" }
                        th.split scope="colgroup" colspan="5" { "Reworked" }
                    }
                    tr {
                        th scope="col" { "Ingredient" } th.n scope="col" { "g" } th.n scope="col" { "%" }
                        th.split scope="col" { "Ingredient" }
                        th.n scope="col" { "g" } th.n scope="col" { "low" } th.n scope="col" { "high" } th.n scope="col" { "%" }
                    }
                }
                tbody {
                    @for pair in &pairs { tr {
                        (before(view, at, pair.before, dough, &fine))
                        @match pair.after {
                            Some(line) => {
                                td.split { (tidy(&line.name)) (mark(line)) }
                                @let f = fine(line.food);
                                (weight(line.grams, f))
                                @let range = line.grams.and_then(|g| ends(g, f));
                                (cell(range.as_ref().map(|r| r.0.as_str())))
                                (cell(range.as_ref().map(|r| r.1.as_str())))
                                (cell(line.percent.filter(|_| dough).map(|p| percent_figure(p.likely().get())).as_deref()))
                            },
                            None => { td.split colspan="5" { em { (pair.gone) } } },
                        }
                    } }
                    tr.sum {
                        td { "Makes, raw" } (weight(Some(weighed.makes), false)) td.n {}
                        td.split { "Makes, raw" } (weight(Some(component.makes), false))
                        @let range = ends(component.makes, false);
                        (cell(range.as_ref().map(|r| r.0.as_str())))
                        (cell(range.as_ref().map(|r| r.1.as_str())))
                        td.n {}
                    }
                }
            }
        }
    }
}

fn before(
    view: &View<'_>,
    at: usize,
    item: Option<&Weighed>,
    dough: bool,
    fine: &dyn Fn(Option<larder::FoodId>) -> bool,
) -> Markup {
    let name = item.map(|w| {
        if let Some(f) = w.food {
            return view.larder.food(f).name.clone();
        }
        if let Some(c) = w.component {
            return view.name(c).to_lowercase();
        }
        let line = view
            .rework
            .formula
            .recipe
            .components
            .get(at)
            .and_then(|c| c.lines.get(w.line));
        line.and_then(|l| Some(tidy(l.words(&l.items.get(w.item)?.name))))
            .unwrap_or_default()
    });
    html! {
        @match (item, name) {
            (Some(w), Some(name)) => {
                td { (name) }
                (weight(w.grams, fine(w.food)))
                (cell(w.percent.filter(|_| dough).map(|p| percent_figure(p.likely().get())).as_deref()))
            },
            _ => { td { em { "new" } } td.n {} td.n {} },
        }
    }
}

fn mark(line: &ReworkedLine) -> Markup {
    let words = match line.kept {
        _ if line.held => "held",
        Kept::Changed => "changed",
        Kept::New => "new",
        Kept::Same | Kept::Dropped => return html! {},
    };
    html! { " " span.cite { "(" (words) ")" } }
}

fn weight(grams: Option<Spread<Mass>>, fine: bool) -> Markup {
    match grams {
        Some(g) if Scale::default().is_pinch(g.likely()) => html! { td.n { "pinch" } },
        Some(g) => cell(Some(&scale_grams(g.likely(), fine))),
        None => html! { td.n { "?" } },
    }
}

fn balance(view: &View<'_>, component: &ReworkedComponent) -> Markup {
    let (b, a) = (&component.original, &component.reworked);
    let plain = |pick: &dyn Fn(&Balance) -> f64| [percent_figure(pick(b)), percent_figure(pick(a))];
    let least = |pick: &dyn Fn(&Balance) -> f64| {
        [b, a].map(|x| format!("{}{}", x.at_least(), percent_figure(pick(x))))
    };
    let flour = |x: &Balance| scale_grams(x.flour.likely(), false);
    let water = |x: &Balance| match x.hydration {
        Some(h) => match percent_ends(h) {
            Some((low, high)) => format!("{} ({low}–{high})", percent_figure(h.likely().get())),
            None => percent_figure(h.likely().get()),
        },
        None => "none".to_owned(),
    };
    let wet = |x: &Balance| {
        x.consistency
            .map_or("none".to_owned(), |c| format!("{c:.2}"))
    };
    let mut rows: Vec<(String, [String; 2])> = vec![
        ("Flour, g".to_owned(), [flour(b), flour(a)]),
        ("Hydration, %".to_owned(), [water(b), water(a)]),
        ("Water over absorption".to_owned(), [wet(b), wet(a)]),
        ("Starch share, %".to_owned(), plain(&|x| x.starch_share)),
        (
            "Protein of the flour, %".to_owned(),
            plain(&|x| x.flour_protein),
        ),
        ("Fat, %".to_owned(), least(&|x| x.fat)),
        ("Sugar, %".to_owned(), least(&|x| x.sugar)),
        ("Egg, %".to_owned(), plain(&|x| x.egg)),
        ("Salt, %".to_owned(), plain(&|x| x.salt)),
        ("Yeast, as dry, %".to_owned(), plain(&|x| x.yeast)),
        ("Leavening, %".to_owned(), plain(&|x| x.leavening)),
        (
            "Binders together, %".to_owned(),
            plain(&Balance::binder_percent),
        ),
    ];
    let mut foods: Vec<larder::FoodId> = Vec::new();
    for (food, _) in b.binders.iter().chain(&a.binders) {
        if !foods.contains(food) {
            foods.push(*food);
        }
    }
    for food in foods {
        let of = |x: &Balance| {
            x.binders
                .iter()
                .filter(|(f, _)| *f == food)
                .map(|p| p.1)
                .sum()
        };
        rows.push((format!("{}, %", view.larder.food(food).name), plain(&of)));
    }
    // What is in neither says nothing.
    let nothing = percent_figure(0.0);
    rows.retain(|(_, [before, after])| *before != nothing || *after != nothing);
    html! {
        table.grid.narrow {
            caption { "Balance" }
            thead { tr {
                th scope="col" { "Figure" } th.n scope="col" { "Before" } th.n scope="col" { "After" }
            } }
            tbody { @for (name, [before, after]) in &rows { tr {
                th scope="row" { (name) } td.n { (before) } td.n { (after) }
            } } }
        }
    }
}

/// What the source's method needs, once the reader has a method of our own.
fn differences(view: &View<'_>) -> Markup {
    html! {
        @if !view.own.is_empty() && view.noted() {
            section.differences {
                h3 { "What to do differently from the source" }
                @let numbering = view.numbering();
                @if !numbering.is_empty() { p.small { (numbering) } }
                (reader::notes(view))
            }
        }
    }
}

fn mixes(view: &View<'_>) -> Markup {
    html! {
        @if !view.mixes.is_empty() {
            section {
                h3 { "Blends" }
                ul { @for mix in &view.mixes { li {
                    (capital(&mix.name)) ": " (mix.about()) "."
                } } }
            }
        }
    }
}

/// A sentence with its end.
fn ended(text: &str) -> String {
    let end = if text.ends_with(['.', '!', '?']) {
        ""
    } else {
        "."
    };
    format!("{text}{end}")
}

fn estimate(view: &View<'_>) -> Markup {
    let s = view.screening;
    let is_open = |f: &&Finding| f.verdict != Gluten::Free;
    let free = s.findings.len() - s.findings.iter().filter(is_open).count();
    // What a line says twice is told once.
    let mut open: Vec<&Finding> = Vec::new();
    for f in s.findings.iter().filter(is_open) {
        let same = |o: &&Finding| {
            let place = (o.component, &o.words, o.verdict, o.open);
            place == (f.component, &f.words, f.verdict, f.open)
                && (&o.reason, &o.note) == (&f.reason, &f.note)
                && o.settled(view.larder) == f.settled(view.larder)
        };
        if !open.iter().any(same) {
            open.push(f);
        }
    }
    let added = view.added_allergens();
    html! {
        section {
            h3 { "Gluten, estimated" }
            p { "An estimate with bounds, no test and no claim: " (s.ppm.words()) "." }
            @if !s.ppm.unknown.is_empty() {
                p { "Against a bound: " (s.ppm.unknown.join("; ")) "." }
            }
            @if !open.is_empty() {
                div.scroll tabindex="0" role="group" aria-label="Gluten findings" {
                    table.grid.found {
                        caption { "Findings; " (free) " more are free by nature" }
                        thead { tr {
                            @for head in ["Where", "Ingredient", "Verdict", "Why", "Note"] { th scope="col" { (head) } }
                        } }
                        tbody { @for f in open { tr {
                            td { (view.name(f.component)) }
                            th scope="row" { (tidy(&f.words)) }
                            td.verdict {
                                @match f.settled(view.larder) {
                                    Some(words) => (words),
                                    None if f.verdict == Gluten::Contains => strong { (f.verdict.words()) },
                                    None => (f.verdict.words()),
                                }
                            }
                            td { (tidy(&f.reason)) }
                            td { (f.note.as_deref().map(tidy).unwrap_or_default()) }
                        } } }
                    }
                }
            }
            p {
                @if added.is_empty() { "The rework adds no allergen to those of the original." }
                @else { "Allergens the rework adds: " strong { (added.join("; ")) } "." }
            }
        }
    }
}

fn doubts(view: &View<'_>) -> Markup {
    let recipe = &view.rework.formula.recipe;
    let mut all: Vec<(String, String)> = Vec::new();
    let mut add = |place: String, message: &str| {
        let row = (place, tidy(message));
        if !all.contains(&row) {
            all.push(row);
        }
    };
    for d in &recipe.doubts {
        add("Recipe".to_owned(), &d.message);
    }
    for (c, component) in recipe.components.iter().enumerate() {
        let name = view.name(c);
        for (l, line) in component.lines.iter().enumerate() {
            for d in &line.doubts {
                add(format!("{name}, line {}", l + 1), &d.message);
            }
            for (_, _, d) in view
                .rework
                .formula
                .doubts
                .iter()
                .filter(|(x, y, _)| (*x, *y) == (c, l))
            {
                add(format!("{name}, line {}", l + 1), &d.message);
            }
        }
        if let Some(words) = view.options.no_step.get(&c) {
            add(name.clone(), words);
        }
        if let Some(reworked) = view.rework.components.get(c) {
            for d in &reworked.doubts {
                add(name.clone(), &d.message);
            }
        }
    }
    html! {
        // A heading over nothing would be a page of its own.
        @if all.is_empty() { p.last { "No doubts noted." } }
        @else {
            section {
                h3 { "Doubts" }
                table.grid.doubts {
                    thead { tr { th scope="col" { "Where" } th scope="col" { "Doubt" } } }
                    // One row for a place: a line may have several.
                    tbody { @for of in all.chunk_by(|a, b| a.0 == b.0) { tr {
                        th scope="row" { (of[0].0) }
                        td { (of.iter().map(|(_, m)| ended(&capital(m))).collect::<Vec<_>>().join(" ")) }
                    } } }
                }
            }
        }
    }
}
