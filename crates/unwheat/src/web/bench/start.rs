//! The Bench page of a recipe: a batch is started here, and those under way stand beside.

use super::batch_sheet::{self, BatchSheet, batch_sheet, grams, still, times};
use super::{Bench, next};
use crate::day::clock::Clock;
use crate::web::app::{App, Shared, run};
use crate::web::bakes::{later, record, was_made};
use crate::web::fault::Fault;
use crate::web::figures::{Figures, figures};
use crate::web::page::{self, ago, back_to, sentence};
use crate::web::post::Post;
use crate::web::recipe::plan::serving;
use crate::web::recipe::{Leaf, Open, Parts, component_name, open, work_with};
use axum::extract::{Path, State};
use axum::response::Response;
use maud::{Markup, html};
use quantity::listed;
use recipe::plan::tasks;
use recipe::sheet::{Sheet, Worked};
use recipe::size::{self, Batch};

/// The page's body.
pub fn body(app: &App, o: &Open, w: &Worked) -> Result<Markup, Fault> {
    let mut under_way = Vec::new();
    for batch in app.kitchen.batches_of(o.row.id)? {
        if batch.finished.is_none() {
            under_way.push(Bench::of(batch)?);
        }
    }
    let mut versions = app.kitchen.versions(o.row.id)?;
    versions.sort_by_key(|v| std::cmp::Reverse(v.number));
    let bare = w
        .rework
        .components
        .iter()
        .flat_map(|c| &c.lines)
        .filter(|l| l.kept != recipe::rework::Kept::Dropped && l.in_formula && l.grams.is_none())
        .count();
    let gluten = batch_sheet::gluten(w, &o.pantry.larder);
    let saved: Vec<Saved> = versions
        .iter()
        .filter_map(|v| saved(app, o, v.number).transpose())
        .collect::<Result<_, Fault>>()?;
    let open_labels = w.rework_screening.open().count();
    let last = last_bake(app, o.row.id)?;
    let last_time = last.as_ref().and_then(to_change);
    let clock = Clock::at(app.now());
    let serve = serving(app, o.row.id, &clock)?.map(|m| clock.field(m));
    Ok(html! {
        (super::style())
        @if !under_way.is_empty() {
            section.sheet aria-labelledby="way" {
                h2 #way { "At the bench now" }
                ul.front {
                    @for (i, b) in under_way.iter().enumerate() {
                        @let (done, all) = b.plan.components.iter().map(|c| b.done(c)).fold((0, 0), |s, d| (s.0 + d.0, s.1 + d.1));
                        li {
                            span { a.name href={ "/bench/" (b.batch.id) } { "× " (times(b.batch.factor)) ", " (b.version()) } br;
                                small { (done) " of " (all) " weighed, begun " (ago(b.batch.started, app.now())) @if !b.batch.who.is_empty() { " by " (b.batch.who) } } }
                            a.button.do[i == 0] href={ "/bench/" (b.batch.id) } { "Go on" span.unseen { " with × " (times(b.batch.factor)) ", begun " (ago(b.batch.started, app.now())) } }
                        }
                    }
                }
            }
        }
        section.sheet aria-labelledby="start" {
            h2 #start { @if under_way.is_empty() { "Start a batch" } @else { "Start another batch" } }
            (told(o, &gluten, &saved))
            @for named in &w.rework_screening.method { p.trouble { (sentence(named)) " " a href=(o.at(Leaf::Screen)) { "See the screen" } } }
            @if let Some(words) = &last_time { p.last-time { strong { "Last time you wrote: " } (words) } }
            @if let Some(b) = last.filter(|b| !b.later.is_empty()) {
                div.last-time { p { "Added to the last bake:" } (later("", &b.later)) }
            }
            @if bare > 0 {
                p.trouble { @if bare == 1 { "One line has" } @else { (bare) " lines have" } " no weight yet: the bench shows the words of the recipe there. " a href=(o.at(Leaf::Weigh)) { "See the weights" } }
            }
            (sized(o, w))
            form method="post" action={ "/recipe/" (o.row.id) "/batch" } {
                (page::seal(app))
                div.row {
                    div {
                        label for="of" { "What to make" }
                        select #of name="of" {
                            option value="draft" { "the rework as it stands now" }
                            @for v in &versions { option value=(v.number) { "version " (v.number) ": " (v.why) } }
                        }
                    }
                    div { label for="ready" { "To be ready at, if it matters" } input #ready type="datetime-local" name="serve" value=[serve]; }
                    div { label for="who" { "Who" } input #who name="who" maxlength="80" value=(o.settings.baker); }
                    button.do { "Start the batch" }
                }
            }
            (makes(o, w))
            @if open_labels > 0 {
                p.hint { "Labels are still to be read before anyone eats of it. " a href=(o.at(Leaf::Screen)) { "See which" } }
            }
            p.hint { "The bench keeps this plan as it is: changing the recipe later does not touch a batch under way." }
        }
    })
}

/// What is left of gluten, in the draft and in the versions, and whose figures have moved.
fn told(o: &Open, gluten: &[String], saved: &[Saved]) -> Markup {
    let alike: Vec<u32> = saved
        .iter()
        .filter(|v| v.gluten == gluten)
        .map(|v| v.number)
        .collect();
    let moved: Vec<u32> = saved.iter().filter(|v| v.moved).map(|v| v.number).collect();
    html! {
        @if !gluten.is_empty() {
            p.trouble.gluten {
                strong { (still("This version", gluten))
                    @match alike.as_slice() { [] => {}, [n] => { " So does version " (n) "." }, all => { " So do versions " (in_order(all)) "." } } }
                " " a href=(o.at(Leaf::Rework)) { "Choose what takes its place" }
            }
        }
        @for v in saved.iter().filter(|v| !v.gluten.is_empty() && v.gluten != gluten) {
            p.trouble.gluten { strong { (still(&format!("Version {}", v.number), &v.gluten)) } }
        }
        @match moved.as_slice() {
            [] => {},
            [n] => p.trouble { "Version " (n) "'s figures have changed with the larder since it was saved. A batch of it is worked with the larder as it is today." },
            all => p.trouble { "The figures of versions " (in_order(all)) " have changed with the larder since they were saved. A batch is worked with the larder as it is today." },
        }
    }
}

/// Numbers in a sentence, in their order: `1, 2 and 3`.
fn in_order(numbers: &[u32]) -> String {
    let mut numbers = numbers.to_vec();
    numbers.sort_unstable();
    let words: Vec<String> = numbers.iter().map(u32::to_string).collect();
    listed(&words)
}

/// What is to be said of a saved version, worked with today's larder.
struct Saved {
    number: u32,
    gluten: Vec<String>,
    moved: bool,
}

/// Works a saved version; nothing where it cannot be worked any more.
fn saved(app: &App, o: &Open, number: u32) -> Result<Option<Saved>, Fault> {
    let version = app.kitchen.version(o.row.id, number)?;
    let parts = Parts::of(app, &version.sheet)?.sheets;
    let Ok(w) = work_with(&o.pantry, &o.settings, &version.sheet, &parts) else {
        return Ok(None);
    };
    let then: Option<Figures> = serde_json::from_value(version.figures).ok();
    Ok(Some(Saved {
        number,
        gluten: batch_sheet::gluten(&w, &o.pantry.larder),
        moved: then
            .is_some_and(|f| !f.components.is_empty() && !f.same(&figures(&w, &o.pantry.larder))),
    }))
}

/// How much is made, and where that is changed.
fn sized(o: &Open, w: &Worked) -> Markup {
    let batch = &w.batch;
    html! {
        @if let Some(refused) = &w.size_refused { p.trouble { "The size that was asked for cannot be had: " (refused.to_string()) "." } }
        p.sized {
            strong { "× " (times(batch.factor)) }
            @if let Some(makes) = crate::show::size::makes(batch) { ", " (makes) }
            @if o.draft.sheet.size.is_some() { "; asked for: " (batch.asked) }
            ". "
            a.button.small href=(o.at(Leaf::Size)) { "Change the size" }
        }
    }
}

/// What the batch makes.
fn makes(o: &Open, w: &Worked) -> Markup {
    let mut one = batch_sheet(w, &o.draft.sheet, &o.pantry.larder, &o.settings, &w.batch);
    one.in_order();
    html! {
        table.ledger {
            caption { "The work in its order, and what × " (times(w.batch.factor)) " makes, raw" }
            thead { tr { th scope="col" { "Component" } th.f scope="col" { "Lines" } th.f scope="col" { "Makes" } } }
            tbody { @for c in &one.components {
                tr { td { (component_name(&c.name)) } td.f { (c.lines.len()) } td.f { @if let Some(g) = c.makes { (grams(g)) " g" } @else { "–" } } }
            } }
        }
    }
}

/// The batch of a version, or of the draft, in the size that the draft asks for.
fn batch_of(o: &Open, w: &Worked) -> Result<Batch, Fault> {
    let ask = o.draft.sheet.size.clone().unwrap_or_default();
    w.batch_at(&ask, &o.pantry.larder).map_err(|e| {
        Fault::bad(format!(
            "{e}. Change the size on the Size page, or take it back there."
        ))
    })
}

/// The bake that was finished last.
fn last_bake(app: &App, recipe: i64) -> Result<Option<store::Batch>, Fault> {
    let made = app.kitchen.batches_of(recipe)?.into_iter().filter(was_made);
    Ok(made.max_by_key(|b| (b.finished, b.id)))
}

/// What the record of a bake says to change next time.
fn to_change(bake: &store::Batch) -> Option<String> {
    Some(record(bake).next).filter(|n| !n.is_empty())
}

/// A recipe in the size that the form asks for, where it asks for so many times the recipe: a day
/// does.
fn sized_for(mut o: Open, post: &Post) -> Result<Open, Fault> {
    if let Some(factor) = post.figure("factor", "times the recipe")? {
        let ask = o.draft.sheet.size.take().unwrap_or_default();
        o.draft.sheet.size = Some(size::Ask {
            target: size::Target::Times(factor),
            part: None,
            ..ask
        });
    }
    Ok(o)
}

/// Starts a batch.
pub async fn begin(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let batch = begun(app, id, &post, &Of::Itself)?;
        Ok(back_to(&format!("/bench/{batch}")))
    })
    .await
}

/// What gives a batch its hours.
pub enum Of<'a> {
    /// A plan of its own, for the time that is asked.
    Itself,
    /// The day it is of, and its place there.
    Day {
        /// The day.
        day: &'a store::Day,
        /// The recipe's place.
        place: usize,
        /// The clock.
        clock: &'a Clock,
    },
}

/// Starts a batch as it is asked for; gives its number.
pub fn begun(app: &App, id: i64, post: &Post, of: &Of<'_>) -> Result<i64, Fault> {
    let o = sized_for(open(app, id)?, post)?;
    let larder = &o.pantry.larder;
    let clock = Clock::at(app.now());
    let serve = match (of, post.some("serve")) {
        (Of::Day { .. }, _) => None,
        (_, Some(text)) => Some(clock.read(text).map_err(Fault::bad)?),
        // Left empty there is no time; not asked it is that of the Plan page.
        _ if post.has("serve") => None,
        _ => serving(app, id, &clock)?,
    };
    let hours = |made: &mut BatchSheet, w: &Worked, sheet: &Sheet, factor: f64| {
        if let Of::Day { day, place, clock } = of {
            let key = day.recipes.get(*place).map(|r| r.key.clone());
            made.of_day = key.filter(|k| !k.is_empty());
            next::held(made, day, *place, clock);
        }
        if let Some(serve) = serve {
            let tasks = tasks(w, sheet, factor);
            next::hours(made, tasks, &o.settings, app.now(), serve);
        }
    };
    let (version, batch, mut made) = match post.text("of").parse::<u32>() {
        Ok(number) => {
            let sheet = app.kitchen.version(id, number)?.sheet;
            let parts = Parts::of(app, &sheet)?.sheets;
            let worked = work_with(&o.pantry, &o.settings, &sheet, &parts);
            let w = worked.map_err(|e| Fault::bad(e.to_string()))?;
            let batch = batch_of(&o, &w)?;
            let mut made = batch_sheet(&w, &sheet, larder, &o.settings, &batch);
            hours(&mut made, &w, &sheet, batch.factor);
            (Some(number), batch, made)
        }
        Err(_) => {
            let w = o.worked().map_err(|e| Fault::bad(e.to_string()))?;
            let batch = batch_of(&o, w)?;
            let mut made = batch_sheet(w, &o.draft.sheet, larder, &o.settings, &batch);
            hours(&mut made, w, &o.draft.sheet, batch.factor);
            (o.draft.saved_as, batch, made)
        }
    };
    made.size.clone_from(&o.draft.sheet.size);
    let factor = batch.factor;
    made.last_time = last_bake(app, id)?.as_ref().and_then(to_change);
    let made = serde_json::to_value(made).map_err(Fault::inside)?;
    let who = post.text("who");
    app.signed_by(who)?;
    Ok(app
        .kitchen
        .start_batch(id, version, factor, &made, who, app.now())?)
}

#[cfg(test)]
mod tests {
    use super::in_order;

    #[test]
    fn numbers_in_a_sentence() {
        assert_eq!(in_order(&[3, 1]), "1 and 3");
        assert_eq!(in_order(&[3, 2, 1]), "1, 2 and 3");
        assert_eq!(in_order(&[2]), "2");
    }
}
