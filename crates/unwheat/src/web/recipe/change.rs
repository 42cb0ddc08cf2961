//! Changes of a draft: one field at a time, undone, redone, and told apart from what another
//! window did meanwhile.

use super::parts::refuse_ring;
use super::read::slug;
use super::size::own_pans;
use super::standing::summary;
use super::{Leaf, Open, Parts, around, component_name, main, open, state, work_with};
use crate::web::app::{self, App, Held, Shared, run};
use crate::web::fault::Fault;
use crate::web::page::{self, back_to};
use crate::web::post::{Post, figure};
use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::html;
use quantity::Locale;
use recipe::plan::{StepChange, tasks};
use recipe::read::{Reader, is_page};
use recipe::rework::{Hold, PinError};
use recipe::sheet::{Change, Sheet, Worked};
use serde_json::json;
use std::sync::Arc;
use store::{StoreError, Summary, Way};

/// The change that a form asks for: a whole one from a button, or one with the field's value put
/// in.
fn asked(app: &App, id: i64, post: &Post) -> Result<Change, Fault> {
    let mut change: Change = serde_json::from_str(post.raw("change"))
        .map_err(|_| Fault::bad("the form does not say what to change: load the page again"))?;
    // What is read in the recipe's own measures, or beside its steps.
    let o = match change {
        Change::Text { .. } | Change::Pin { .. } | Change::Size { .. } | Change::SetStep { .. } => {
            Some(open(app, id)?)
        }
        _ => None,
    };
    if post.has("value") {
        let locale = o.as_ref().map_or(Locale::Us, |o| o.draft.sheet.locale());
        fill(app, &mut change, post.raw("value"), locale)?;
    }
    if let (Change::SetStep { step, words, to }, Some(o)) = (&mut change, &o) {
        if let StepChange::Added(Some(added)) = to
            && post.has("after")
        {
            post.text("after").clone_into(&mut added.after);
        }
        // The figures go with the words of the step, wherever it comes to stand.
        let sheet = &o.draft.sheet;
        *words = match (sheet.steps.iter().find(|s| s.step == *step), &*to) {
            (Some(own), to) if own.added.is_some() && !matches!(to, StepChange::Added(_)) => {
                own.words.clone()
            }
            (_, to) => {
                let of = match to {
                    StepChange::Added(Some(added)) => &added.after,
                    _ => step,
                };
                let w = o.worked().ok();
                w.and_then(|w| tasks(w, sheet, 1.0).words(of).map(str::to_owned))
            }
        };
    }
    Ok(change)
}

/// Puts a field's value into a change.
fn fill(app: &App, change: &mut Change, value: &str, locale: Locale) -> Result<(), Fault> {
    let words = || Some(value.trim().to_owned()).filter(|w| !w.is_empty());
    match change {
        Change::Text { text } => *text = worked_on(app, value.replace("\r\n", "\n"), locale)?,
        Change::Title { title } => *title = words(),
        Change::Credit { text } | Change::Makes { text } | Change::Keeping { text } => {
            *text = words();
        }
        Change::Method { text } => {
            *text = words().map(|_| value.replace("\r\n", "\n"));
        }
        Change::Locale { locale } => *locale = value.trim().to_owned(),
        Change::ReadAs { text, .. } => *text = words(),
        Change::Food { food, .. } => {
            *food = match words() {
                None => None,
                Some(name) => Some(food_key(app, &name)?),
            }
        }
        Change::Grams { grams, .. } => {
            *grams = figure(value, "grams")?;
        }
        Change::Pin { line, hold, .. } => {
            *hold = match words() {
                None => None,
                Some(words) => {
                    let larder = &app.pantry()?.larder;
                    let read = Hold::parse(&words, line, larder, locale);
                    Some(read.map_err(|e| Fault::bad(e.to_string()))?)
                }
            };
        }
        Change::Size { ask } => {
            let template = ask.take().unwrap_or_default();
            let larder = &app.pantry()?.larder;
            let own = own_pans(&app.settings()?.pans);
            let typed = template.typed(value, larder, locale, &own);
            *ask = typed.map_err(|e| Fault::bad(e.to_string()))?;
        }
        Change::SetStep { to, .. } => {
            let settings = app.settings()?;
            super::plan::fill(to, value, app::home(&settings, locale))?;
        }
        Change::Style { style, .. } => *style = words(),
        Change::Blend { blend, .. } => *blend = words(),
        Change::SetShape { shape, .. } => *shape = words(),
        Change::ShapeSays { text, .. } => *text = words(),
        Change::SetHeat { text, .. } => *text = words(),
        _ => {}
    }
    Ok(())
}

/// The text that is worked on: of a web page its recipe, in which headings and lines can be written as in any
/// other text. A page that cannot be read stays, and the Read page says why.
fn worked_on(app: &App, text: String, locale: Locale) -> Result<String, Fault> {
    if !is_page(&text) {
        return Ok(text);
    }
    let pantry = app.pantry_in(locale)?;
    let reader = Reader::new(&pantry.larder, locale);
    Ok(match recipe::read::bytes(text.as_bytes(), &reader) {
        Ok(read) => read.to_text(),
        Err(_) => text,
    })
}

/// Whether a field is as this same window put it: it was sent and kept, but the answer was lost
/// on the way, as when the laptop slept.
fn is_own(app: &App, post: &Post, change: &Change, sheet: &Sheet) -> bool {
    post.all("sent").into_iter().any(|sent| {
        let (mut earlier, mut then) = (change.clone(), sheet.clone());
        fill(app, &mut earlier, sent, sheet.locale()).is_ok()
            && then.change(&earlier).is_ok()
            && then == *sheet
    })
}

/// The key of a food chosen by name.
fn food_key(app: &App, name: &str) -> Result<String, Fault> {
    let larder = &app.pantry()?.larder;
    if larder.by_key(name).is_some() {
        return Ok(name.to_owned());
    }
    if let Some(food) = larder.named(name) {
        return Ok(larder.food(food).key.clone());
    }
    let near: Vec<String> = larder
        .search(name, 3)
        .into_iter()
        .map(|f| format!("'{}'", larder.food(f).name))
        .collect();
    Err(Fault::bad(if near.is_empty() {
        format!(
            "the larder has no '{name}': put it in on the Larder page, or choose a food of the list"
        )
    } else {
        format!(
            "the larder has no '{name}': did you mean {}?",
            near.join(", ")
        )
    }))
}

/// Where the answer goes.
fn leaf(post: &Post) -> Leaf {
    Leaf::from_slug(post.text("leaf")).unwrap_or(Leaf::Read)
}

/// What the list shall know of a sheet.
pub fn summarise(app: &App, o: &Open, sheet: &Sheet) -> Summary {
    worked(app, o, sheet).0
}

/// What the list shall know of a sheet, and what follows from it.
fn worked(app: &App, o: &Open, sheet: &Sheet) -> (Summary, Held) {
    let parts = if sheet.parts == o.draft.sheet.parts {
        Arc::clone(&o.parts)
    } else {
        Arc::new(Parts::of(app, sheet).unwrap_or_default())
    };
    let work = work_with(&o.pantry, &o.settings, sheet, &parts.sheets);
    let summary = summary(
        &work,
        sheet.title.as_deref(),
        &o.pantry.larder,
        o.row.versions,
        o.bakes,
    );
    (summary, (Arc::new(work), parts))
}

/// One field is changed.
pub async fn change(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let live = post.live;
        match make(app, id, &post) {
            Err(fault) if !matches!(fault, Fault::Inside(_)) => {
                let (status, heading, words) = fault.told();
                if live {
                    return Ok((status, Json(json!({ "trouble": words }))).into_response());
                }
                if matches!(fault, Fault::Missing(_)) {
                    return Err(fault);
                }
                // What was typed is not lost: it stands in the page's own form again.
                let o = open(app, id)?;
                let body = html! {
                    section.sheet {
                        h2 { (heading) }
                        p.trouble role="alert" { (words) }
                        form method="post" action={ "/recipe/" (id) "/change" } {
                            (super::fields(app, &o, leaf(&post)))
                            input type="hidden" name="change" value=(post.raw("change"));
                            label for="again" { "What you typed" }
                            textarea #again name="value" { (post.raw("value")) }
                            p { button.do { "Try again" } " " a.button href=(o.at(leaf(&post))) { "Leave it" } }
                        }
                    }
                };
                Ok((status, around(app, &o, leaf(&post), &body)?).into_response())
            }
            other => other,
        }
    })
    .await
}

fn make(app: &App, id: i64, post: &Post) -> Result<Response, Fault> {
    let change = asked(app, id, post)?;
    let join = post.has("join");
    let given: u64 = post.text("rev").parse().unwrap_or(0);
    // Twice: another window may write between reading the draft and writing it.
    for _ in 0..3 {
        let before = open(app, id)?;
        if before.row.binned.is_some() {
            return Err(Fault::bad("this recipe is in the bin: take it out first"));
        }
        if let Change::TakePart { part } = &change {
            refuse_ring(app, &before.row, part)?;
        }
        let now = before.draft.rev;
        if given != now && !post.has("over") {
            let shown = app.kitchen.sheet_at(id, given)?;
            let theirs = change.value_in(&before.draft.sheet);
            let differs = shown.as_ref().is_none_or(|s| change.value_in(s) != theirs);
            let mut mine = before.draft.sheet.clone();
            mine.change(&change)
                .map_err(|e| Fault::bad(e.to_string()))?;
            if differs
                && change.value_in(&mine) != theirs
                && !is_own(app, post, &change, &before.draft.sheet)
            {
                return conflict(
                    app,
                    &before,
                    post,
                    &change,
                    &theirs,
                    &change.value_in(&mine),
                );
            }
        }
        let mut sheet = before.draft.sheet.clone();
        sheet
            .change(&change)
            .map_err(|e| Fault::bad(e.to_string()))?;
        if sheet == before.draft.sheet {
            let moved = began(app, post, &before)?.filter(|b| b.draft.sheet != sheet);
            let words = moved.map_or(String::new(), |b| {
                said(&b, &before, &change.words_on(&b.draft.sheet))
            });
            return told(
                app,
                &before,
                post,
                place(&change, leaf(post), &before),
                words,
            );
        }
        let (summary, held) = worked(app, &before, &sheet);
        let work = &held.0;
        if let (Change::Pin { hold: Some(_), .. }, Ok(now)) = (&change, &**work)
            && let Some(clash) = new_clash(&before, now)
        {
            return Err(Fault::bad(format!("{clash}.")));
        }
        if let (Change::Size { ask: Some(_) }, Ok(now)) = (&change, &**work)
            && let Some(refused) = &now.size_refused
        {
            return Err(Fault::bad(refused.to_string()));
        }
        // Of what is being typed, all that was typed since the field was come to.
        let began = began(app, post, &before)?;
        let words = change.words_on(&began.as_ref().unwrap_or(&before).draft.sheet);
        let put = app.kitchen.put_draft(
            id,
            now,
            &sheet,
            &words,
            &change.field(),
            join,
            &summary,
            app.now(),
        );
        match put {
            Ok(rev) => {
                app.keep_worked(state(id, rev, &before.pantry), held);
                let after = open(app, id)?;
                let words = said(began.as_ref().unwrap_or(&before), &after, &words);
                return told(app, &after, post, place(&change, leaf(post), &after), words);
            }
            Err(StoreError::Moved { .. }) => continue,
            Err(e) => return Err(e.into()),
        }
    }
    Err(Fault::bad(
        "another window keeps changing this recipe: try again in a moment",
    ))
}

/// The recipe as it was when a field that is being typed in was come to: what is said of the change is
/// told from there, not from half a figure.
fn began(app: &App, post: &Post, now: &Open) -> Result<Option<Open>, Fault> {
    let Ok(rev) = post.text("since").parse::<u64>() else {
        return Ok(None);
    };
    let Some(sheet) = app.kitchen.sheet_at(now.row.id, rev)? else {
        return Ok(None);
    };
    let draft = state(now.row.id, rev, &now.pantry);
    let (work, parts) = app.worked(draft).unwrap_or_else(|| {
        let held = worked(app, now, &sheet).1;
        app.keep_worked(draft, held.clone());
        held
    });
    let mut then = now.clone();
    then.draft.sheet = sheet;
    then.draft.rev = rev;
    (then.work, then.parts) = (work, parts);
    Ok(Some(then))
}

/// What two held figures say against one another since a change. Figures that clashed before it
/// are on the page, and stay.
fn new_clash<'w>(before: &Open, now: &'w Worked) -> Option<&'w PinError> {
    let had = before.worked().map(|w| w.rework.clashes().count());
    (now.rework.clashes().count() > had.unwrap_or(0))
        .then(|| now.rework.clashes().last())
        .flatten()
}

/// The answer to a change: the page's main part for the script, or back to the place in the page.
fn told(app: &App, o: &Open, post: &Post, place: String, words: String) -> Result<Response, Fault> {
    let leaf = leaf(post);
    if !post.live {
        return Ok(back_to(&format!("{}#{place}", o.at(leaf))));
    }
    let main = main(app, o, leaf)?;
    Ok(Json(json!({
        "main": card::together(&main.into_string()),
        "rev": o.draft.rev,
        "said": words,
    }))
    .into_response())
}

/// Where on its page a change was made: the id of the field, or of the questions that are left.
fn place(change: &Change, leaf: Leaf, after: &Open) -> String {
    let component = |name: &str| {
        let all = after.worked().map(|w| w.rework.components.iter());
        all.ok()
            .and_then(|mut all| all.position(|c| c.name == name))
    };
    let open = after.standing().count(leaf) > 0;
    match change {
        Change::Text { .. } => "text".to_owned(),
        Change::Locale { .. } => "locale".to_owned(),
        Change::Style { component: c, .. } => format!("style{}", component(c).unwrap_or(0)),
        Change::Blend { component: c, .. } => format!("blend{}", component(c).unwrap_or(0)),
        Change::Pin {
            component: c, line, ..
        } => {
            let line = line.replace([' ', '#', ':', '\''], "_");
            format!("p{}-{line}", component(c).unwrap_or(0))
        }
        Change::Size { .. } => "size".to_owned(),
        Change::SetShape { component: c, .. } => format!("shape{}", component(c).unwrap_or(0)),
        Change::ShapeSays {
            component: c, what, ..
        } => format!("s{}-{what}", component(c).unwrap_or(0)),
        Change::SetHeat { what, .. } => format!("heat-{what}"),
        Change::TakePart { .. } | Change::LeavePart { .. } => "parts".to_owned(),
        // The step is gone with its fields.
        Change::SetStep {
            to: StepChange::Added(None),
            ..
        } => "steps".to_owned(),
        Change::SetStep { step, to, .. } => super::plan::field(step, to.what()),
        Change::Credit { .. }
        | Change::Makes { .. }
        | Change::Keeping { .. }
        | Change::Method { .. } => change.field(),
        Change::MethodSuits { .. } => "method".to_owned(),
        Change::Grams { line, .. } if leaf == Leaf::Weigh => format!("g{}", slug(line)),
        _ if open => "settle".to_owned(),
        _ => "main".to_owned(),
    }
}

/// What a change did, for those who listen to the page.
fn said(before: &Open, after: &Open, words: &str) -> String {
    let mut out = format!("{words}.");
    let (Ok(a), Ok(b)) = (before.worked(), after.worked()) else {
        return out;
    };
    for (x, y) in moved(a, b) {
        out.push_str(&format!(" {x}: {y}."));
    }
    for name in after.draft.sheet.shapes.keys() {
        let line = |o: &Open, w: &Worked| super::shape::headline(o, w, name);
        if let Some(now) = line(after, b)
            && line(before, a).as_ref() != Some(&now)
        {
            out.push_str(&format!(" {}: {now}.", component_name(name)));
        }
    }
    let (left, had) = (after.standing().to_check(), before.standing().to_check());
    if left != had {
        out.push_str(&format!(" {left} left to look at."));
    }
    out
}

/// Components whose hydration or weight has moved.
fn moved(a: &Worked, b: &Worked) -> Vec<(String, String)> {
    let mut out = Vec::new();
    for y in &b.rework.components {
        let Some(x) = a.rework.components.iter().find(|c| c.name == y.name) else {
            continue;
        };
        let h = |c: &recipe::rework::ReworkedComponent| {
            let wet = c.reworked.hydration.filter(|_| c.is_dough());
            wet.map(|h| h.likely().get().round())
        };
        if let (Some(p), Some(q)) = (h(x), h(y))
            && (p - q).abs() > 0.0
        {
            out.push((
                component_name(&y.name),
                format!("hydration {p:.0} to {q:.0} %"),
            ));
        }
        let g = |c: &recipe::rework::ReworkedComponent| c.makes.likely().as_grams().round();
        if (g(x) - g(y)).abs() > 0.0 {
            out.push((
                component_name(&y.name),
                format!("makes {:.0} to {:.0} g", g(x), g(y)),
            ));
        }
    }
    out
}

/// Another window changed the same field: both values are shown, nothing is lost.
fn conflict(
    app: &App,
    o: &Open,
    post: &Post,
    change: &Change,
    theirs: &str,
    mine: &str,
) -> Result<Response, Fault> {
    let leaf = leaf(post);
    let body = html! {
        section.sheet.clash data-rev=(o.draft.rev) {
            h1 { "Changed in two windows" }
            p role="alert" {
                "While you were changing " strong { (change.name()) } ", another window or device changed the same thing in "
                (o.title()) ". Nothing is lost: choose which one holds."
            }
            div.spread.even {
                section {
                    h2 { "As it is now" }
                    pre.both tabindex="0" { (theirs) }
                    a.button href=(o.at(leaf)) { "Keep this" }
                }
                section {
                    h2 { "What you sent" }
                    form method="post" action=(super::change_to(o)) {
                        (page::seal(app))
                        input type="hidden" name="rev" value=(o.draft.rev);
                        input type="hidden" name="leaf" value=(leaf.slug());
                        input type="hidden" name="over" value="1";
                        @match change {
                            Change::Text { .. } => {
                                input type="hidden" name="change" value=(post.raw("change"));
                                label for="mine" { "Your text, to copy from or to mend" }
                                textarea.tall #mine name="value" { (mine) }
                            }
                            _ => {
                                input type="hidden" name="change" value=(serde_json::to_string(change).unwrap_or_default());
                                pre.both tabindex="0" { (mine) }
                            }
                        }
                        button.do { "Put mine in its place" }
                    }
                }
            }
        }
    };
    if post.live {
        return Ok((
            StatusCode::CONFLICT,
            Json(json!({
                "main": card::together(&body.into_string()),
                "said": "Changed in two windows: choose which one holds.",
            })),
        )
            .into_response());
    }
    Ok((StatusCode::CONFLICT, around(app, o, leaf, &body)?).into_response())
}

/// Undo or redo.
pub async fn undo(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let before = open(app, id)?;
        if post.text("way") == "drop" {
            return dropped(app, id, &post);
        }
        let back = post.text("way") != "redo";
        let words = if back {
            before.draft.undo.clone()
        } else {
            before.draft.redo.clone()
        };
        let Some(words) = words else {
            let words = format!("Nothing to {}.", if back { "undo" } else { "do again" });
            return told(app, &before, &post, "main".to_owned(), words);
        };
        let summarise = |sheet: &Sheet| summarise(app, &before, sheet);
        let way = if back { Way::Undo } else { Way::Redo };
        let done = app
            .kitchen
            .walk(id, before.draft.rev, way, summarise, app.now());
        match done {
            Ok(_) | Err(StoreError::Moved { .. }) => {}
            Err(e) => return Err(e.into()),
        }
        let after = open(app, id)?;
        let verb = if back { "Undone" } else { "Done again" };
        let words = said(&before, &after, &format!("{verb}: {words}"));
        // To the button again; where it is gone, to the other one.
        let place = match (back, &after.draft.undo, &after.draft.redo) {
            (true, Some(_), _) | (false, _, None) => "undo",
            _ => "redo",
        };
        told(app, &after, &post, place.to_owned(), words)
    })
    .await
}

/// Takes back what was kept of a figure on the way to one that cannot be used, as if it had never been: its
/// field is as it was when it was come to, all else as it is. Nobody undid anything, so that nothing is said.
fn dropped(app: &App, id: i64, post: &Post) -> Result<Response, Fault> {
    let change = asked(app, id, post)?;
    let since = post.text("since").parse().unwrap_or(0);
    let then = app.kitchen.sheet_at(id, since)?;
    for _ in 0..3 {
        let now = open(app, id)?;
        let mut to = now.draft.sheet.clone();
        // What another window put there stays.
        let back = then
            .as_ref()
            .filter(|_| is_own(app, post, &change, &to))
            .map_or(Vec::new(), |then| change.inverse(then));
        for b in &back {
            to.change(b).map_err(|e| Fault::bad(e.to_string()))?;
        }
        let field = change.field();
        let Some(first) = back.first().filter(|_| to != now.draft.sheet) else {
            break;
        };
        let (rev, at) = (now.draft.rev, app.now());
        let summary = summarise(app, &now, &to);
        let kitchen = &app.kitchen;
        let done = match kitchen.drop_typed(id, rev, &field, &to, &summary, at) {
            Ok(None) => {
                let words = first.words_on(&now.draft.sheet);
                kitchen.put_draft(id, rev, &to, &words, &field, false, &summary, at)
            }
            other => other.map(|_| rev),
        };
        match done {
            Ok(_) => break,
            Err(StoreError::Moved { .. }) => {}
            Err(e) => return Err(e.into()),
        }
    }
    let after = open(app, id)?;
    told(app, &after, post, "main".to_owned(), String::new())
}
