//! What a day is asked with: the fields, what was typed in them, and the changes they make.

use super::list::page_of;
use super::one;
use super::planned::{Stage, from_now, planned};
use crate::day::clock::{Clock, Night};
use crate::day::words::impossible;
use crate::web::app::{App, Shared, locale, run};
use crate::web::fault::Fault;
use crate::web::home::uid;
use crate::web::page::back_to;
use crate::web::post::{Post, figure};
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use quantity::degrees_in;
use store::{Day, DayRecipe, HeldStep, Query, StoreError};

/// Recipes that are offered at once.
const OFFERED: u32 = 40;

/// What is asked beside the day itself.
#[derive(Debug, Default)]
pub struct Asked {
    /// Words to find recipes by.
    words: String,
    /// Recipes that were ticked, with their times as typed.
    ticked: Vec<(i64, String)>,
    /// When all of it is to be ready, where a recipe's plan leads here.
    pub serve: Option<String>,
}

impl Asked {
    /// Reads an address's query.
    pub fn of(query: &str) -> Self {
        let mut asked = Self::default();
        for (k, v) in form_urlencoded::parse(query.as_bytes()) {
            match &*k {
                "words" => v.trim().clone_into(&mut asked.words),
                "serve" => asked.serve = Some(v.into_owned()),
                "add" => asked
                    .ticked
                    .extend(v.parse().ok().map(|id| (id, "1".to_owned()))),
                _ => {}
            }
        }
        asked
    }
    /// The recipe whose plan leads here, to be put on a day with others.
    pub fn from(&self, app: &App) -> Option<store::Row> {
        let [(id, _)] = self.ticked.as_slice() else {
            return None;
        };
        app.kitchen.row(*id).ok()
    }
}

/// Finds recipes to put on a day: a form of its own, where there are many.
pub fn find(app: &App, asked: &Asked, to: &str) -> Result<Markup, Fault> {
    let all = app.kitchen.list(&Query {
        limit: 1,
        ..Query::default()
    })?;
    Ok(html! {
        @if all.total > OFFERED || !asked.words.is_empty() {
            form.row method="get" action=(to) role="search" {
                @for (id, _) in &asked.ticked { input type="hidden" name="add" value=(id); }
                @if let Some(serve) = &asked.serve { input type="hidden" name="serve" value=(serve); }
                div.grow { label for="words" { "Find a recipe to put on the day" } input #words type="search" name="words" value=(asked.words) maxlength="120" autocomplete="off"; }
                button { "Find" }
            }
        }
    })
}

/// The fields of a day.
pub fn fields(app: &App, day: &Day, asked: &Asked, to: &str) -> Result<Markup, Fault> {
    let settings = app.settings()?;
    let found = app.kitchen.list(&Query {
        words: asked.words.clone(),
        limit: OFFERED,
        ..Query::default()
    })?;
    let mut on = Vec::new();
    for r in &day.recipes {
        let row = app.kitchen.by_uid(&r.recipe)?;
        let versions = match &row {
            Some(row) => app.kitchen.versions(row.id)?,
            None => Vec::new(),
        };
        on.push((r, row, versions));
    }
    // What is ticked stays in sight, also where other words are looked for.
    let mut offered: Vec<(i64, String)> = Vec::new();
    for (id, _) in &asked.ticked {
        if !found.rows.iter().any(|r| r.id == *id)
            && let Ok(row) = app.kitchen.row(*id)
        {
            offered.push((row.id, row.title));
        }
    }
    offered.extend(found.rows.iter().map(|r| (r.id, r.title.clone())));
    let more = found.total as usize - found.rows.len();
    Ok(html! {
        div.row {
            div.grow { label for="title" { "What it is for" } input #title name="title" value=(day.title) maxlength="120" autocomplete="off" placeholder="Saturday stall"; }
            div { label for="serve" { "All of it ready at" } input #serve type="datetime-local" name="serve" value=[day.serve.as_ref()]; }
            div { label for="quiet" { "Quiet hours" } input #quiet name="quiet" value=[day.quiet.as_ref()] placeholder=(settings.quiet) maxlength="20" autocomplete="off"; }
            div { label for="who" { "Who" } input #who name="who" value=(if day.who.is_empty() && day.recipes.is_empty() { &settings.baker } else { &day.who }) maxlength="80"; }
        }
        p.hint { "Without a time it is ready as soon as may be, from now. Quiet hours left empty are the kitchen's. Times are those of the kitchen clock." }
        @if !on.is_empty() {
            table.ledger.stack {
                caption.unseen { "Recipes of the day" }
                thead { tr { th scope="col" { "Recipe" } th scope="col" { "Times its batch" } th scope="col" { "Version" } th scope="col" { "Ready at, if sooner" } } }
                tbody { @for (place, (r, row, versions)) in on.iter().enumerate() {
                    @let name = row.as_ref().map_or("a recipe that is not here", |r| r.title.as_str());
                    tr {
                        td.full { label.tick { input type="checkbox" name="keep" value=(place) checked; span { (name) } } }
                        td data-h="times" { input.f name={ "times." (place) } value=(r.times) inputmode="decimal" maxlength="8" autocomplete="off" aria-label={ "Times " (name) }; }
                        td data-h="version" { select name={ "version." (place) } aria-label={ "Version of " (name) } {
                            option value="" { "as it stands now" }
                            @for v in versions { option value=(v.number) selected[r.version == Some(v.number)] { "version " (v.number) } }
                        } }
                        td data-h="ready at" { input type="datetime-local" name={ "serve." (place) } value=[r.serve.as_ref()] aria-label={ "Ready at: " (name) }; }
                    }
                } }
            }
        }
        @if found.total == 0 && asked.words.is_empty() { p { "No recipes yet. " a href="/" { "Paste one first" } "." } }
        @else {
            details open[day.recipes.is_empty() || !asked.words.is_empty()] {
                summary { @if day.recipes.is_empty() { "Recipes" } @else { "Put another recipe on it" } }
                ul.picked { @for (id, title) in &offered { li {
                    @let ticked = asked.ticked.iter().find(|t| t.0 == *id).map(|t| t.1.as_str());
                    label.tick { input type="checkbox" name="add" value=(id) checked[ticked.is_some()]; span { (title) } }
                    span.of { label.unseen for={ "n-" (id) } { "Times " (title) } "× " input.f id={ "n-" (id) } name={ "n." (id) } inputmode="decimal" maxlength="8" autocomplete="off" value=(ticked.unwrap_or("1")); }
                } } }
                @if found.rows.is_empty() { p.hint { "No recipe fits. " a href=(to) { "Show all" } } }
                @if more > 0 { p.hint { "and " (more) " more: find them by a few letters" } }
            }
        }
    })
}

/// A time as a field has it, or as people write it; nothing where it is empty.
fn time(clock: &Clock, text: &str) -> Result<Option<String>, Fault> {
    if text.is_empty() {
        return Ok(None);
    }
    if clock.kept(text).is_some() {
        return Ok(Some(text.to_owned()));
    }
    let minute = clock.read(text).map_err(Fault::bad)?;
    Ok(Some(clock.field(minute)))
}

fn times(text: &str) -> Result<f64, Fault> {
    let n = figure(text, "times its batch")?.unwrap_or(1.0);
    if (0.01..=100.0).contains(&n) {
        return Ok(n);
    }
    Err(Fault::bad(format!(
        "'{text}' times its batch: write a number from 0.01 to 100, such as 2 or 0.5"
    )))
}

/// The day as it is typed, from the one that is kept; with the new place of each kept recipe.
fn typed(app: &App, post: &Post, was: &Day) -> Result<(Day, Vec<usize>), Fault> {
    let clock = Clock::at(app.now());
    let quiet = post.some("quiet").map(str::to_owned);
    if let Some(text) = &quiet {
        Night::read(text).map_err(Fault::bad)?;
    }
    let keep: Vec<usize> = post
        .all("keep")
        .iter()
        .filter_map(|p| p.parse().ok())
        .filter(|p| *p < was.recipes.len())
        .collect();
    let mut recipes = Vec::new();
    for place in &keep {
        recipes.push(DayRecipe {
            key: was.recipes[*place].key.clone(),
            recipe: was.recipes[*place].recipe.clone(),
            version: post.text(&format!("version.{place}")).parse().ok(),
            times: times(post.text(&format!("times.{place}")))?,
            serve: time(&clock, post.text(&format!("serve.{place}")))?,
        });
    }
    for id in post.all("add") {
        let id: i64 = id
            .parse()
            .map_err(|_| Fault::bad(format!("'{id}' is no recipe: tick one of the list")))?;
        recipes.push(DayRecipe {
            key: uid()?,
            recipe: app.kitchen.row(id)?.uid,
            version: None,
            times: times(post.text(&format!("n.{id}")))?,
            serve: None,
        });
    }
    let day = Day {
        title: post.text("title").to_owned(),
        serve: time(&clock, post.text("serve"))?,
        quiet,
        who: post.text("who").to_owned(),
        recipes,
        held: Vec::new(),
        answers: None,
    };
    Ok((day, keep))
}

/// A new day.
pub async fn add(State(app): State<Shared>, post: Post) -> Result<Response, Fault> {
    run(app, move |app| {
        let told = |words: &str| -> Result<Response, Fault> {
            let typed = Day {
                title: post.text("title").to_owned(),
                serve: post.some("serve").map(str::to_owned),
                quiet: post.some("quiet").map(str::to_owned),
                ..Day::default()
            };
            let ticked = post.all("add").into_iter().filter_map(|id| {
                let n = post.text(&format!("n.{id}")).to_owned();
                Some((id.parse().ok()?, n))
            });
            let asked = Asked {
                ticked: ticked.collect(),
                ..Asked::default()
            };
            let page = page_of(app, &asked, &typed, Some(words))?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        };
        let day = match typed(app, &post, &Day::default()) {
            Ok((day, _)) => day,
            Err(Fault::Bad(words)) => return told(&words),
            Err(other) => return Err(other),
        };
        if day.recipes.is_empty() {
            return told("Tick at least one recipe: a day without any has nothing to plan.");
        }
        let id = match app.kitchen.add_day(&uid()?, &day, app.now()) {
            Ok(id) => id,
            Err(StoreError::Bad(words)) => return told(&words),
            Err(other) => return Err(other.into()),
        };
        Ok(back_to(&format!("/days/{id}")))
    })
    .await
}

/// What another window changed first.
fn moved(e: StoreError) -> Fault {
    match e {
        StoreError::Moved { .. } => Fault::bad(
            "This day was changed in another window since this page was loaded. Load it again, and change it there.",
        ),
        other => other.into(),
    }
}

fn rev(post: &Post) -> u64 {
    post.text("rev").parse().unwrap_or(0)
}

/// A change of what is asked. What is begun stays begun, unless all of it is over.
pub async fn change(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let row = app.kitchen.day(id)?;
        let (mut day, keep) = match typed(app, &post, &row.day) {
            Ok(typed) => typed,
            Err(Fault::Bad(words)) => return one::refused(app, row, &[words]),
            Err(other) => return Err(other),
        };
        let clock = Clock::at(app.now());
        let now = clock.now();
        let mut held = row.day.held.iter();
        let over = held.all(|h| clock.kept(&h.end).is_none_or(|e| e <= now))
            && !row.day.held.is_empty()
            && planned(app, row.clone())?.stage == Stage::Over;
        if !over {
            // A recipe that stays takes its times along to its new place.
            let held = row.day.held.iter().filter_map(|h| {
                let place = keep.iter().position(|k| *k == h.recipe as usize)?;
                Some(HeldStep {
                    recipe: place as u32,
                    ..h.clone()
                })
            });
            day.held = held.collect();
        }
        // What nothing of is begun is planned by the page that shows it, which says so.
        let begun = |h: &HeldStep| clock.kept(&h.start).is_none_or(|start| start <= now);
        if day.held.iter().any(begun) {
            from_now(app, &row, &mut day, &|_, start| start <= now)?;
        } else {
            day.held.clear();
        }
        app.kitchen
            .put_day(id, rev(&post), &day, app.now())
            .map_err(moved)?;
        Ok(back_to(&format!("/days/{id}")))
    })
    .await
}

/// The rest from now: what is ticked is begun, all else is planned anew.
pub async fn rest(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let row = app.kitchen.day(id)?;
        let clock = Clock::at(app.now());
        let serve = match time(&clock, post.text("serve")) {
            Ok(serve) => serve,
            Err(Fault::Bad(words)) => return one::refused(app, row, &[words]),
            Err(other) => return Err(other),
        };
        let mut day = Day {
            serve,
            ..row.day.clone()
        };
        let ticked = post.all("begun");
        let anew = post.text("way") == "anew";
        let found = from_now(app, &row, &mut day, &|h, _| {
            !anew && ticked.contains(&format!("{}|{}", h.recipe, h.step).as_str())
        })?;
        if let Some(Err(why)) = &found.plan {
            // The times of before stand until there are better ones.
            let words = impossible(why, &found.ask, &found.clock);
            let home = locale(&found.settings);
            let words: Vec<String> = words.iter().map(|w| degrees_in(w, home)).collect();
            return one::refused(app, row, &words);
        }
        app.kitchen
            .put_day(id, rev(&post), &day, app.now())
            .map_err(moved)?;
        Ok(back_to(&format!("/days/{id}")))
    })
    .await
}

/// Takes the last change back, or brings it again.
pub async fn undo(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    _post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        match app.kitchen.undo_day(id, app.now()) {
            Ok(()) | Err(StoreError::Nothing) => {}
            Err(other) => return Err(other.into()),
        }
        Ok(back_to(&format!("/days/{id}")))
    })
    .await
}

/// Into the bin, or out of it.
pub async fn bin(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        if post.text("way") == "out" {
            app.kitchen.unbin_day(id)?;
            return Ok(back_to(&format!("/days/{id}")));
        }
        app.kitchen.bin_day(id, app.now())?;
        Ok(back_to("/days"))
    })
    .await
}
