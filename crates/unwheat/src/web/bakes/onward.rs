//! What comes after a bake: the change that was noted, the version that was baked, what to compare.

use super::Kept;
use crate::web::app::App;
use crate::web::bench::Bench;
use crate::web::bench::batch_sheet::BatchSheet;
use crate::web::fault::Fault;
use crate::web::recipe::card::is_of;
use crate::web::recipe::versions::comparing;
use crate::web::recipe::{Leaf, Open, Parts, work_with};
use maud::{Markup, html};

/// What a bake was a bake of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// A version, started as one.
    Version(u32),
    /// A draft that was saved as this version, or weighs as it does.
    SavedAs(u32),
    /// The draft as it stands now.
    Draft,
    /// A draft that is no longer.
    Gone,
}

impl Of {
    /// The version it was a bake of.
    pub fn number(self) -> Option<u32> {
        match self {
            Self::Version(n) | Self::SavedAs(n) => Some(n),
            Self::Draft | Self::Gone => None,
        }
    }
}

/// The version that weighs as a plan does, the newest first.
fn version_of(app: &App, o: &Open, then: &BatchSheet, factor: f64) -> Result<Option<u32>, Fault> {
    for number in (1..=o.row.versions).rev() {
        let sheet = app.kitchen.version(o.row.id, number)?.sheet;
        let parts = Parts::of(app, &sheet)?.sheets;
        let worked = work_with(&o.pantry, &o.settings, &sheet, &parts);
        if worked.is_ok_and(|w| is_of(o, (&w, &sheet), then, factor)) {
            return Ok(Some(number));
        }
    }
    Ok(None)
}

/// What a batch was a bake of.
pub fn of(app: &App, o: &Open, b: &Bench) -> Result<Of, Fault> {
    if let Some(n) = b.batch.version {
        return Ok(Of::Version(n));
    }
    if let Some(n) = version_of(app, o, &b.plan, b.batch.factor)? {
        return Ok(Of::SavedAs(n));
    }
    let now = o.worked().ok();
    let same = now.is_some_and(|w| is_of(o, (w, &o.draft.sheet), &b.plan, b.batch.factor));
    Ok(if same { Of::Draft } else { Of::Gone })
}

/// What comes after the last bake, with the one before it.
pub fn after(app: &App, o: &Open, last: &Kept, before: Option<&Kept>) -> Result<Markup, Fault> {
    let of = of(app, o, &Bench::open(app, last.id)?)?;
    let save = format!("{}#save", o.at(Leaf::Versions));
    let bakes = format!("/recipe/{}/bakes/compare", o.row.id);
    Ok(html! {
        section.sheet aria-labelledby="onward" {
            h2 #onward { "After bake " (last.number) }
            @if last.bake.next.is_empty() { p { "No change was noted for next time. Change one thing, then bake again: so the next bake tells what it did." } }
            @else { p.told { strong { "To change next time: " } (last.bake.next) } }
            @match of {
                Of::Version(n) => p { "It was a bake of version " (n) "." },
                Of::SavedAs(n) => p { "It was started from the draft, and version " (n) " weighs the same: it counts as that version's." },
                Of::Draft => p { "It was started from the draft, which is in no version yet and is still as it was baked. Save it first, so that what was baked stays as it was. " a.button.small.do href=(save) { "Save what was baked" } },
                Of::Gone => p { "It was started from a draft that has changed since and is in no version. What was weighed stands in its record below." },
            }
            div.row.mid {
                a.button.do[of != Of::Draft] href=(o.at(Leaf::Rework)) { "Change an amount" }
                a.button href={ (o.at(Leaf::Read)) "#text" } { "Add or take out a line" }
                @if o.draft.saved_as.is_none() && of != Of::Draft { a.button href=(save) { "Save a version" } }
                @if let Some(n) = of.number().filter(|n| o.draft.saved_as != Some(*n)) {
                    a.button href=(comparing(o, n, "draft")) { "Compare version " (n) " with the draft" }
                }
                @if let Some(b) = before { a.button href={ (bakes) "?a=" (b.id) "&b=" (last.id) } { "Compare bakes " (b.number) " and " (last.number) } }
            }
        }
    })
}

/// What the newest bake says to change next time, where it is changed: on Read and Rework.
pub fn noted(o: &Open) -> Markup {
    let last = super::kept(&o.records).into_iter().next();
    html! {
        @if let Some(last) = last.filter(|l| !l.bake.next.is_empty()) {
            section.sheet data-k="noted" aria-label="Noted for next time" {
                p.told { strong { "To change next time: " } (last.bake.next) }
                p.hint { a href={ "/recipe/" (o.row.id) "/bakes/" (last.id) } { "Noted at bake " (last.number) } ". It stands here until the next bake." }
            }
        }
    }
}
