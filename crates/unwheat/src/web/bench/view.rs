//! The bench view: a page for a tablet and floury hands. Every tick and weight works by a form;
//! with scripts they are kept on the tablet too, until the laptop answers.

use super::batch_sheet::{Caution, Line, Note, Offer, Part, Task, grams, minutes, still, times};
use super::{Bench, next, seal, since, timers};
use crate::web::app::{App, locale};
use crate::web::fault::Fault;
use crate::web::page::{self, capital, html_page, moment, sentence};
use crate::web::recipe::component_name;
use axum::response::Response;
use maud::{DOCTYPE, Markup, html};
use quantity::{Locale, scales_of};
use recipe::BESIDE;
use recipe::household::WEIGH_IT;

/// A page in the bench's frame.
pub fn frame(app: &App, title: &str, scripts: &[&str], body: &Markup) -> Result<Response, Fault> {
    let settings = app.settings()?;
    Ok(html_page(html! {
        (DOCTYPE)
        html lang="en" data-theme=(settings.theme) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                meta name="color-scheme" content="light dark";
                title { (title) " · unwheat" }
                link rel="icon" href="/assets/mark.svg" type="image/svg+xml";
                link rel="stylesheet" href="/assets/workbench.css";
                (super::style())
                @for s in scripts { script type="module" src={ "/assets/" (s) } {} }
            }
            body.bench { (body) }
        }
    }))
}

/// What a batch is, in a line.
pub fn about(b: &Bench) -> String {
    let who = if b.batch.who.is_empty() {
        String::new()
    } else {
        format!(", {}", b.batch.who)
    };
    format!(
        "× {}, {}, begun {}{who}",
        times(b.batch.factor),
        b.version(),
        moment(b.batch.started)
    )
}

/// The view with one component open.
pub fn show(app: &App, b: &Bench, open: usize) -> Result<Response, Fault> {
    let state = b.state(app)?;
    let stop = state["stop"].as_str().unwrap_or_default().to_owned();
    let state = state.to_string();
    let measures = b.plan.measures.as_deref().and_then(|m| m.parse().ok());
    let home = match measures {
        Some(of_recipe) => of_recipe,
        None => locale(&*app.settings()?),
    };
    let several = b.plan.components.len() > 1;
    let last = b.plan.components.len().saturating_sub(1);
    let body = html! {
        a.skip href="#work" { "Skip to the work" }
        header.bench-head {
            div { h1 { (b.batch.title) } p { (about(b)) } }
            a.button.big href={ "/recipe/" (b.batch.recipe) "/bench" } { "Leave the bench" }
        }
        (page::band(app)?)
        div.bench-body data-bench=(b.batch.id) data-begun=(b.batch.started) data-seal=(app.seal) data-state=(state) data-title=(b.batch.title) data-bakes={ "/recipe/" (b.batch.recipe) "/bakes#b" (b.batch.id) } {
            (since::told(b, &stop))
            (gluten(b))
            @if let Some(words) = &b.plan.last_time { section.last-time aria-label="Last time" { p { strong { "Last time you wrote: " } (words) } } }
            section.timers aria-labelledby="timers-h" {
                h2 #timers-h { "Timers" }
                (timers::list(app, b, open))
                ul #running {}
                p #rung role="alert" {}
            }
            section.under aria-label="New timer, and this tablet" {
                details #more-timer hidden {
                    summary.big { "New timer" }
                    form.own-timer {
                        div { label for="t-min" { "Minutes" } input #t-min.f inputmode="decimal" autocomplete="off" required aria-describedby="t-trouble"; }
                        div.grow { label for="t-for" { "What for" } input #t-for maxlength="80" autocomplete="off" placeholder="second tray"; }
                        button.do.big { "Start" }
                        p.trouble #t-trouble hidden {}
                    }
                    p { button.plain.big #try-sound type="button" { "Try the sound" } }
                }
            ul.standing aria-label="This tablet" {
                li #net hidden {}
                li #awake hidden {}
                    li #mute hidden { "Tap anywhere once, so that timers may sound" }
            }
            }
            div #bench-said.unseen role="status" aria-live="polite" {}
            (next::show(b, app.now()))
            @if several {
                nav.tabs aria-label="Components" {
                    ol {
                        @for (i, c) in b.plan.components.iter().enumerate() {
                            @let (done, all) = b.done(c);
                            li { a href={ "?part=" (i + 1) } data-tab=(i) aria-current=[(i == open).then_some("page")] {
                                span { (component_name(&c.name)) } " "
                                span.count data-count=(i) { (counted(done, all)) }
                            } }
                        }
                    }
                }
            }
            main #work tabindex="-1" {
                @for (i, c) in b.plan.components.iter().enumerate() {
                    (part(app, b, i, c, i == open, home))
                }
                @if b.plan.components.is_empty() { p { "There is nothing to weigh in this recipe." } }
            }
            nav.steps aria-label="Through the work" {
                @if several {
                    a.button.big data-way="back" href={ "?part=" (open.max(1)) } hidden[open == 0] { "← " span { (b.plan.components.get(open.wrapping_sub(1)).map_or(String::new(), |c| component_name(&c.name))) } }
                    a.button.big.do data-way="on" href={ "?part=" ((open + 2).min(last + 1)) } hidden[open == last] { span { (b.plan.components.get(open + 1).map_or(String::new(), |c| component_name(&c.name))) } " →" }
                }
                a.button.big.finish.do[open == last] #finish href={ "/bench/" (b.batch.id) "/finish" } { "Finish the batch" }
            }
        }
    };
    frame(
        app,
        &format!("Bench · {}", b.batch.title),
        &["bench.js"],
        &body,
    )
}

/// How much of a component is done, in words.
pub fn counted(done: usize, all: usize) -> String {
    if done == all && all > 0 {
        "✓ all weighed".to_owned()
    } else {
        format!("{done} of {all}")
    }
}

/// One component; `home` is whose scale of temperatures is read here.
fn part(app: &App, b: &Bench, i: usize, c: &Part, open: bool, home: Locale) -> Markup {
    html! {
        section.work id={ "part-" (i) } data-part=(i) aria-labelledby={ "part-h" (i) } hidden[!open] {
            h2 id={ "part-h" (i) } tabindex="-1" { @if c.name.is_empty() { "What to weigh" } @else { (component_name(&c.name)) } }
            @if let Some(g) = c.makes {
                p.makes { "Makes " span.n { (grams(g)) } " g raw"
                    @if let Some(u) = c.used { "; " span.n { (grams(u)) } " g of it goes into other components" } "." }
            }
            (mind(b, i, c, home))
            ul.lines {
                @for (n, l) in c.lines.iter().enumerate() {
                    (line(app, b, i, &format!("l{i}-{n}"), l))
                    @for (m, p) in l.parts.iter().enumerate() { (line(app, b, i, &format!("l{i}-{n}-{m}"), p)) }
                }
            }
            (steps(app, b, i, c, home))
            @if !c.notes.is_empty() {
                section.card aria-labelledby={ "notes" (i) } {
                    h3 id={ "notes" (i) } { "What to do differently" }
                    ul.notes { @for n in &c.notes { li { (scales_of(&n.text, home)) @if sourced(n) { br; small { "Source: " (sentence(&n.source)) } } } } }
                    @if c.notes.iter().any(|n| !sourced(n)) { p.hint { "Where no source stands: common practice, no source." } }
                }
            }
            @if !b.plan.tasks.is_empty() && (!c.our_heat.is_empty() || !c.heat.is_empty()) {
                section.card aria-labelledby={ "heat" (i) } {
                    h3 id={ "heat" (i) } { "Heat" }
                    @if !c.our_heat.is_empty() { dl.heat { @for f in &c.our_heat { div { dt { (f.what) } dd.n { (scales_of(&f.value, home)) } } } } }
                    @if !c.heat.is_empty() {
                        p.hint { "In their method, as the wheat recipe has it:" }
                        dl.heat { @for f in &c.heat { div { dt { (f.what) } dd.n { (scales_of(&f.value, home)) } } } }
                    }
                }
            }
            @let before = b.plan.tasks.is_empty();
            @if before && (!c.ours.is_empty() || !c.our_heat.is_empty() || c.warm.is_some()) {
                section.card aria-labelledby={ "ours" (i) } {
                    h3 id={ "ours" (i) } { "Times of the rework" }
                    @if !c.our_heat.is_empty() { dl.heat { @for f in &c.our_heat { div { dt { (f.what) } dd.n { (scales_of(&f.value, home)) } } } } }
                    @if let Some(words) = &c.warm { p.trouble { (scales_of(words, home)) } }
                    p.hint { "How it looks and feels decides, not the clock." }
                    ul.offers { @for o in &c.ours { li data-offer=(o.words()) data-seconds=(o.minutes * 60.0) { (offer(o)) (timers::start(app, b, i, "work", o)) } } }
                }
            }
            @if before && (!c.heat.is_empty() || !c.timers.is_empty()) {
                section.card aria-labelledby={ "heat" (i) } {
                    h3 id={ "heat" (i) } { "Heat and time in their method" }
                    @if !c.heat.is_empty() {
                        dl.heat { @for f in &c.heat { div { dt { (f.what) } dd.n { (scales_of(&f.value, home)) } } } }

                    }
                    p.hint { "As the wheat recipe has it; what changes stands above." @if !c.timers.is_empty() { " Tap a time to start a timer." } }
                    @if !c.timers.is_empty() {
                        ul.offers { @for o in &c.timers { li data-offer=(o.words()) data-seconds=(o.minutes * 60.0) { (offer(o)) (timers::start(app, b, i, "work", o)) } } }
                    }
                }
            }
            @if !b.plan.method.is_empty() {
                section.card aria-labelledby={ "method" (i) } {
                    h3 id={ "method" (i) } { "Your method" }
                    ul.their.own { @for (n, s) in numbered(&b.plan.method) { li { @if let Some(n) = n { (n) ". " (s) } @else { strong { (s) } } } } }
                }
            }
            @if !c.steps.is_empty() {
                details.card { summary { "Their method, for your eyes" } ul.their { @for s in &c.steps { li { (s) } } } }
            }
        }
    }
}

/// The steps of a component in order, each to tick, with a timer where it waits. Its weighing is the
/// lines above.
fn steps(app: &App, b: &Bench, part: usize, c: &Part, home: Locale) -> Markup {
    let mine = b.plan.tasks.iter().enumerate();
    let mine: Vec<(usize, &Task)> = mine
        .filter(|(_, t)| t.component == part && t.what != "weigh")
        .collect();
    html! {
        @if !mine.is_empty() {
            section.card aria-labelledby={ "do" (part) } {
                h3 id={ "do" (part) } { "Steps" }
                @if let Some(words) = &c.warm { p.trouble { (scales_of(words, home)) } }
                p.hint { "How it looks and feels decides, not the clock. A guess is common practice, no source." }
                ol.lines { @for (n, t) in mine { (step(app, b, part, n, t, home)) } }
            }
        }
    }
}

fn step(app: &App, b: &Bench, part: usize, n: usize, t: &Task, home: Locale) -> Markup {
    let ticked = b.ticked(&t.item);
    let id = format!("s{n}");
    html! {
        li.item.step.done[ticked] id=(id) data-item=(t.item) data-name=(t.name) {
            label.tap for={ "t" (id) } {
                input id={ "t" (id) } type="checkbox" checked[ticked] autocomplete="off";
                span.what {
                    span.name { (t.name) }
                    @if let Some(n) = &t.step { " " small { "step " (n) } }
                    span.house { (next::figures(t)) }
                    @if let Some(h) = &t.heat { span.house { "Oven " span.n { (scales_of(h, home)) } } }
                    @if let Some(w) = &t.words { span.house.said { @if b.plan.method.is_empty() { "Their words: " } (w) } }
                    @if let Some(kept) = t.kept(&b.plan.tasks) { span.house { (kept) } }
                    @for n in &t.notes { span.house { (scales_of(n, home)) } }
                    @if let Some(w) = &t.was { span.house { "In the original: " (w) } }
                    @if let Some(w) = &t.optional { span.house { "May be left out: " (w) } }
                }
            }
            noscript { form.plain-tick method="post" action={ "/bench/" (b.batch.id) "/mark" } {
                (seal(app, &b.batch))
                input type="hidden" name="item" value=(t.item);
                input type="hidden" name="part" value=(part + 1);
                input type="hidden" name="anchor" value=(id);
                @if ticked { button.big name="ticked" value="0" { "✓ Undo" span.unseen { ": " (t.name) " is done" } } }
                @else { button.big.do name="ticked" value="1" { "Tick" span.unseen { " " (t.name) } } }
            } }
            @if !t.timers.is_empty() {
                ul.offers { @for o in &t.timers { li data-offer=(o.words()) data-seconds=(o.minutes * 60.0) { (timer(o)) (timers::start(app, b, part, &id, o)) } } }
            }
        }
    }
}

/// A timer beside its step, whose name stands there already.
fn timer(o: &Offer) -> Markup {
    html! {
        span.unseen { (o.words()) " " }
        strong { (o.ring.words().map_or("Timer".to_owned(), capital)) } " "
        (timed(o))
    }
}

/// Steps with their numbers; a line that ends in a colon is a heading and has none.
fn numbered(method: &[String]) -> Vec<(Option<usize>, &str)> {
    let mut number = 0;
    method
        .iter()
        .map(|s| {
            if s.ends_with(':') {
                return (None, s.as_str());
            }
            number += 1;
            (Some(number), s.as_str())
        })
        .collect()
}

/// That there is gluten in it, where there is.
fn gluten(b: &Bench) -> Markup {
    html! {
        @if !b.plan.gluten.is_empty() {
            p.trouble.gluten { strong { (still("This version", &b.plan.gluten)) } }
        }
    }
}

/// What to mind in a component, in a line that opens; what stands with none, in the first.
fn mind(b: &Bench, i: usize, c: &Part, home: Locale) -> Markup {
    let of_all = b.plan.cautions.iter().filter(|_| i == 0);
    let cautions: Vec<&Caution> = c.cautions.iter().chain(of_all).collect();
    let of_all = b.plan.labels.iter().filter(|_| i == 0);
    let unread: Vec<&String> = c.labels.iter().chain(of_all).collect();
    let labels = unread.len();
    let mut short: Vec<String> = cautions.iter().map(|c| c.short.clone()).collect();
    if labels > 0 {
        let s = if labels == 1 { "" } else { "s" };
        short.push(format!("{labels} label{s} not yet read"));
    }
    html! {
        @if !short.is_empty() {
            details.trouble.mind {
                summary { "Mind: " (short.join(", ")) }
                @for c in &cautions { p { (sentence(&scales_of(&c.text, home))) } }
                @if labels > 0 { p { "Labels to read before anyone eats of it:" } ul { @for l in &unread { li { (sentence(l)) } } } }
            }
        }
    }
}

/// Whether a note has a source to name.
fn sourced(n: &Note) -> bool {
    !n.source.is_empty() && !n.source.starts_with("common practice")
}

fn offer(o: &Offer) -> Markup {
    html! {
        strong { (o.label) } " "
        (timed(o))
        @if let Some(step) = o.step { @if !o.label.starts_with("Step ") { " " small { "step " (step) } } }
    }
}

/// The minutes of a timer.
fn timed(o: &Offer) -> Markup {
    html! {
        span.n { (minutes(o.minutes)) }
        @if let Some(most) = o.most { " " small { @if o.longer { "at least, up to " } @else { "to " } (minutes(most)) } }
    }
}

fn line(app: &App, b: &Bench, part: usize, id: &str, l: &Line) -> Markup {
    let mark = b.mark(&l.item);
    let ticked = mark.is_some_and(|m| m.ticked);
    let actual = mark.and_then(|m| m.actual);
    let is_part = l.item.contains('/') && id.matches('-').count() == 2;
    let hidden = || {
        html! {
            (seal(app, &b.batch))
            input type="hidden" name="item" value=(l.item);
            input type="hidden" name="part" value=(part + 1);
            input type="hidden" name="anchor" value=(id);
        }
    };
    html! {
        li.item.flour[is_part].done[ticked] id=(id) data-item=(l.item) data-plan=[l.grams] data-name=(l.name) {
            label.tap for={ "t" (id) } {
                input id={ "t" (id) } type="checkbox" checked[ticked] autocomplete="off";
                span.grams.n { @if let Some(g) = l.grams { (grams(g)) span.u { " g" } } }
                span.what {
                    span.name { (l.name) }
                    @if l.made_here { " " span.tag { "made in this batch" } }
                    @else if l.aside { " " span.tag.line { (l.purpose.as_deref().unwrap_or(BESIDE)) } }
                    @if let Some(h) = &l.household { span.house { span.n.m { (h) } } }
                    @else if l.grams.is_some() && !l.made_here { span.house { (WEIGH_IT) } }
                    @if l.grams.is_none() {
                        @if let Some(w) = &l.words { span.house { (w) @if l.exact.is_none() && (b.batch.factor - 1.0).abs() > 1e-9 { ", × " (times(b.batch.factor)) } } }
                        @else { span.house { "as you like" } }
                    }
                    @if !l.parts.is_empty() { span.house { "from a jar of it, or its flours:" } }
                    @if l.finer { span.house { "finer than the scale shows" } }
                    @if let Some(n) = &l.note { span.house { (n) } }
                    span.really { @if let Some(a) = actual { (really(a, l.grams)) } }
                }
            }
            noscript { form.plain-tick method="post" action={ "/bench/" (b.batch.id) "/mark" } { (hidden())
                @if ticked { button.big name="ticked" value="0" { "✓ Undo" span.unseen { ": " (l.name) " is weighed" } } }
                @else { button.big.do name="ticked" value="1" { "Tick" span.unseen { " " (l.name) } } }
            } }
            @let over = b.before.as_ref().filter(|(item, before)| *item == l.item && *before != actual);
            form.back method="post" action={ "/bench/" (b.batch.id) "/mark" } hidden[over.is_none()] { (hidden())
                input type="hidden" name="actual" value=(over.and_then(|o| o.1).map(grams).unwrap_or_default());
                button.big.plain { span.to { (back(over.and_then(|o| o.1))) } span.unseen { ": " (l.name) } }
            }
            details.actual {
                summary title="What was really weighed" { (pencil()) span.unseen { "What was really weighed: " (l.name) } }
                form method="post" action={ "/bench/" (b.batch.id) "/mark" } {
                    (hidden())
                    label for={ "a" (id) } { "Really weighed, grams" }
                    div.row {
                        input.f id={ "a" (id) } name="actual" inputmode="decimal" autocomplete="off" value=(actual.map(grams).unwrap_or_default());
                        button.big.do { "Keep" }
                    }
                    p.trouble hidden {}
                }
            }
        }
    }
}

/// The button that takes a note of a weight back to what stood there before.
fn back(before: Option<f64>) -> String {
    before.map_or_else(
        || "Take the note back".to_owned(),
        |g| format!("Back to {} g", grams(g)),
    )
}

fn pencil() -> Markup {
    html! {
        svg viewBox="0 0 24 24" width="28" height="28" fill="none" stroke="currentColor" stroke-width="1.8" stroke-linejoin="round" aria-hidden="true" focusable="false" {
            path d="M4 20l1-4.5L16.5 4 20 7.5 8.5 19z" {}
            path d="M14 6.5l3.5 3.5" {}
        }
    }
}

/// What was weighed beside the plan, in words.
pub fn really(actual: f64, plan: Option<f64>) -> String {
    /// So many times the plan, or less than that part of it, is asked about (common practice, no source).
    const FAR: f64 = 3.0;
    let Some(plan) = plan else {
        return format!("really {} g", grams(actual));
    };
    let off = ((actual - plan) * 100.0).round() / 100.0;
    let words = if off == 0.0 {
        "as planned".to_owned()
    } else {
        format!(
            "{} g {}",
            grams(off.abs()),
            if off > 0.0 { "more" } else { "less" }
        )
    };
    // A digit too many or too few.
    let far = plan > 0.0 && (actual >= FAR * plan || actual * FAR <= plan);
    let look = if far { ". Is that right?" } else { "" };
    format!("really {} g: {words}{look}", grams(actual))
}

#[cfg(test)]
mod tests {
    use super::really;

    #[test]
    fn differences_in_words() {
        assert_eq!(really(330.0, Some(312.0)), "really 330 g: 18 g more");
        assert_eq!(really(2.4, Some(2.5)), "really 2.4 g: 0.1 g less");
        assert_eq!(really(312.0, Some(312.0)), "really 312 g: as planned");
        assert_eq!(
            really(6141.0, Some(641.0)),
            "really 6141 g: 5500 g more. Is that right?"
        );
        assert_eq!(
            really(64.0, Some(641.0)),
            "really 64 g: 577 g less. Is that right?"
        );
        assert_eq!(really(3.0, None), "really 3 g");
    }
}
