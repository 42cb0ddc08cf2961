//! The larder: what this kitchen knows of each food, and where it says so itself.

mod food;
mod form;
mod history;
pub mod plain;
pub mod typed;

use super::app::{App, Pantry, Shared, run};
use super::fault::Fault;
use super::page::{self, Page, Way, back_to, day, own_path};
use super::post::Post;
use super::recipe::screen::verdict;
use axum::Router;
use axum::extract::{Path, RawQuery, State as Held};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post as on_post};
use form::{does, functions, short};
use larder::allergen::Regime;
use larder::{Evidence, EvidenceKind, FoodId, Function, Gluten, Larder, OwnEntry, OwnError, State};
use maud::{Markup, html};
use store::Query;
use typed::{KEPT, Typed, UNSAVED, kept, own_key, unsigned};

pub use food::rests_on;

/// Foods on one page of the list.
const A_PAGE: usize = 60;

/// Why an entry changed, where a label was read.
const LABEL_READ: &str = "label read";
/// Grains that a label can name.
pub const GRAINS: [&str; 4] = ["wheat", "rye", "barley", "oats"];

/// Its ways in.
pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/larder", get(list))
        .route("/larder/new", get(fresh).post(add))
        .route("/larder/{key}", get(show).post(save))
        .route("/larder/{key}/drop", on_post(drop_own))
        .route("/larder/{key}/label", on_post(label))
        .route("/larder/{key}/label/back", on_post(label_back))
}

/// The style sheet of these pages; it may stand in the body.
pub fn style() -> Markup {
    html! { link rel="stylesheet" href="/assets/larder.css"; }
}

fn page(app: &App, title: &str, main: &Markup) -> Result<Response, Fault> {
    Page {
        title,
        way: Way::Larder,
        scripts: &[],
        beside: None,
    }
    .show(app, main)
}

fn unprocessable(response: Response) -> Response {
    (StatusCode::UNPROCESSABLE_ENTITY, response).into_response()
}

/// What the list is asked for.
#[derive(Default)]
struct Asked {
    words: String,
    own: bool,
    check: bool,
    does: Option<Function>,
    page: usize,
}

impl Asked {
    fn of(query: &str) -> Self {
        let mut out = Self::default();
        for (k, v) in form_urlencoded::parse(query.as_bytes()) {
            match &*k {
                "words" => out.words = v.trim().to_owned(),
                "own" => out.own = true,
                "check" => out.check = true,
                "does" => out.does = Function::from_word(&v),
                "page" => out.page = v.parse().unwrap_or(0),
                _ => {}
            }
        }
        out
    }
    fn is_narrowed(&self) -> bool {
        !self.words.is_empty() || self.own || self.check || self.does.is_some()
    }
    fn link(&self, page: usize) -> String {
        let mut q = form_urlencoded::Serializer::new(String::new());
        if !self.words.is_empty() {
            q.append_pair("words", &self.words);
        }
        for (on, name) in [(self.own, "own"), (self.check, "check")] {
            if on {
                q.append_pair(name, "1");
            }
        }
        if let Some(f) = self.does {
            q.append_pair("does", f.word());
        }
        q.append_pair("page", &page.to_string());
        format!("/larder?{}", q.finish())
    }
}

fn query_word(words: &str) -> String {
    form_urlencoded::byte_serialize(words.as_bytes()).collect()
}

/// The larder.
async fn list(Held(app): Held<Shared>, query: RawQuery) -> Result<Response, Fault> {
    run(app, move |app| {
        let asked = Asked::of(&query.0.unwrap_or_default());
        let pantry = app.pantry()?;
        page(app, "Larder", &list_main(&pantry, &asked))
    })
    .await
}

fn list_main(pantry: &Pantry, asked: &Asked) -> Markup {
    let larder = &pantry.larder;
    let found: Vec<(FoodId, Gluten)> = larder
        .search(&asked.words, usize::MAX)
        .into_iter()
        .filter(|&id| !asked.own || larder.is_own(id))
        .filter(|&id| asked.does.is_none_or(|f| larder.food(id).does(f)))
        .map(|id| {
            let verdict = if larder.is_own(id) {
                food::screened(larder, id).verdict
            } else {
                larder.food(id).gluten
            };
            (id, verdict)
        })
        .filter(|(_, v)| !asked.check || *v == Gluten::Check)
        .collect();
    let pages = found.len().div_ceil(A_PAGE);
    let at = asked.page.min(pages.saturating_sub(1));
    html! {
        (style())
        div.between.page-head { h1 { "Larder" } a.button href="/larder/new" { "Put in a food of your own" } }
        @for t in &pantry.troubles { p.trouble role="alert" { "Left out until it is mended: " (t) } }
        section.sheet {
            form.row.find method="get" action="/larder" role="search" {
                div.grow { label for="words" { "Find a food" } input #words type="search" name="words" value=(asked.words) placeholder="a few letters of its name" autocomplete="off"; }
                div { label for="does" { "What it does" } select #does name="does" {
                    option value="" { "anything" }
                    @for (word, words) in functions().into_iter().skip(1) { option value=(word) selected[asked.does.map(Function::word) == Some(word)] { (words) } }
                } }
                label.tick { input type="checkbox" name="own" value="1" checked[asked.own]; "own entries only" }
                label.tick { input type="checkbox" name="check" value="1" checked[asked.check]; "check the label" }
                button.do { "Find" }
                @if asked.is_narrowed() { a.button href="/larder" { "Show all" } }
            }
            p.hint { (found.len()) @if found.len() == 1 { " food." } @else { " foods." } " Figures of your own stand over the built-in ones." }
            @if found.is_empty() {
                @if asked.own && asked.words.is_empty() && asked.does.is_none() && !asked.check {
                    p { "No own entries yet. Open a food and write what your scale or its label says." }
                } @else {
                    p { "No food fits. Try fewer letters" @if !asked.words.is_empty() { ", or " a href={ "/larder/new?name=" (query_word(&asked.words)) } { "put '" (asked.words) "' in as a food of your own" } } "." }
                }
            } @else {
                table.ledger.stack.foods {
                    thead { tr { th scope="col" { "Food" } th scope="col" { "What it does" } th scope="col" { "Gluten" } th.f scope="col" { "US cup, 237 mL" } } }
                    tbody {
                        @for (id, v) in found.iter().skip(at * A_PAGE).take(A_PAGE) {
                            @let f = larder.food(*id);
                            tr {
                                td.full { a href={ "/larder/" (f.key) } { strong { (f.name) } }
                                    @if f.key.starts_with("own_") { " " span.tag { "your own" } } @else if larder.is_own(*id) { " " span.tag { "own figures" } }
                                    @if let Some(e) = larder.own(*id).and_then(|e| e.gluten.as_ref()) { br; small { (e.words()) } } }
                                td { (does(f.function())) }
                                td { (verdict(*v)) }
                                td.f data-h="US cup" { @if let Some(m) = larder.measure(*id, "cup", State::Usual) { (short(m.grams.likely().as_grams())) " g" } }
                            }
                        }
                    }
                }
            }
            @if pages > 1 {
                nav.row.mid aria-label="Pages of the list" {
                    @if at > 0 { a.button.small href=(asked.link(at - 1)) { "Back" } }
                    span { "Page " (at + 1) " of " (pages) }
                    @if at + 1 < pages { a.button.small href=(asked.link(at + 1)) { "On" } }
                }
            }
        }
    }
}

/// A food's page.
async fn show(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    query: RawQuery,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let pantry = app.pantry()?;
        let settings = app.settings()?;
        let entry = entry_now(app, &key)?;
        let mut form = form::filled(entry.as_ref(), &settings, &day(app.now()));
        form.put("base", app.kitchen.own_history(&key)?.len().to_string());
        let said = kept(query.0.as_deref(), "Kept.");
        food_page(app, &pantry, &key, &form, &said)
    })
    .await
}

/// The kitchen's entry of a key, also where it cannot be used.
fn entry_now(app: &App, key: &str) -> Result<Option<OwnEntry>, Fault> {
    Ok(app
        .kitchen
        .own_entries()?
        .into_iter()
        .find(|e| e.key == key))
}

fn food_page(
    app: &App,
    pantry: &Pantry,
    key: &str,
    form: &Typed,
    said: &Markup,
) -> Result<Response, Fault> {
    let larder = &pantry.larder;
    let built_in = app.built_in();
    let settings = app.settings()?;
    let regime = Regime::from_word(&settings.regime).unwrap_or(Regime::Us);
    let changed = app.kitchen.own_history(key)?;
    let entry = entry_now(app, key)?;
    let has_own = entry.is_some();
    let broken = match &entry {
        Some(e) => checked(app, e)?.err(),
        None => None,
    };
    let broken = html! {
        @if let Some(e) = &broken {
            p.trouble role="alert" { "What your kitchen wrote of this food is left out until it is mended below. " (page::sentence(&form::told(e))) }
        }
    };
    let built = built_in.by_key(key);
    let Some(id) = larder.by_key(key) else {
        // A food of the kitchen's own that was taken out, or cannot be used.
        if changed.is_empty() {
            return Err(Fault::Missing("such food in the larder".to_owned()));
        }
        let name = changed
            .iter()
            .find_map(|c| c.entry.as_ref()?.name.clone())
            .unwrap_or_else(|| key.to_owned());
        let main = html! {
            (style())
            p { a href="/larder" { "Larder" } }
            h1 { (name) }
            @if has_own {
                (broken)
                (own_form(app, built_in, None, key, form))
            } @else { p { "It was taken out of the larder. What was known of it stands below; if you need it, " a href={ "/larder/new?name=" (query_word(&name)) } { "put it in again" } "." } }
            (food::history(&changed))
        };
        return page(app, &name, &main);
    };
    let f = larder.food(id);
    let used = app.kitchen.list(&Query {
        words: larder.plain_name(id).to_owned(),
        limit: 8,
        ..Query::default()
    })?;
    let main = html! {
        (style())
        (said)
        p { a href="/larder" { "Larder" } }
        (food::head(larder, id, built.is_none()))
        (broken)
        div.spread.even {
            div {
                (food::gluten(larder, id, regime))
                (food::weights(larder, id, &settings.locale))
            }
            div {
                (food::composition(larder, built_in, id))
                (food::behaves(larder, id))
                (food::recipes(&used.rows, used.total))
            }
        }
        (own_form(app, built_in, built, key, form))
        @if has_own {
            form.sheet.row method="post" action={ "/larder/" (key) "/drop" } {
                (page::seal(app))
                input type="hidden" name="who" value=(settings.baker);
                @if built.is_some() {
                    p.grow { "Your figures can be put aside; their history stays." }
                    button { "Take the built-in figures again" }
                } @else {
                    p.grow { "Taken out, recipes no longer find it. Its history stays." }
                    button { "Take this food out of the larder" }
                }
            }
        }
        (food::history(&changed))
    };
    page(app, &f.name, &main)
}

fn own_form(app: &App, built_in: &Larder, food: Option<FoodId>, key: &str, form: &Typed) -> Markup {
    html! {
        section.sheet aria-labelledby="own" {
            h2 #own { "What your kitchen knows of it" }
            form.entry method="post" action={ "/larder/" (key) (UNSAVED) } {
                (page::seal(app))
                (form::fields(form, built_in, food, &form::measures(built_in, food)))
            }
        }
    }
}

/// The form of a food of the kitchen's own.
async fn fresh(Held(app): Held<Shared>, query: RawQuery) -> Result<Response, Fault> {
    run(app, move |app| {
        let settings = app.settings()?;
        let mut form = form::filled(None, &settings, &day(app.now()));
        form.put("why", "a food of our own");
        for (k, v) in form_urlencoded::parse(query.0.unwrap_or_default().as_bytes()) {
            match &*k {
                "name" => form.put("name", v.trim()),
                "back" => form.put("back", own_path(&v)),
                _ => {}
            }
        }
        page(app, "A food of your own", &fresh_main(app, &form))
    })
    .await
}

fn fresh_main(app: &App, form: &Typed) -> Markup {
    html! {
        (style())
        p { @match form.some("back") {
            Some(back) => a href=(own_path(back)) { "Back to where you were" },
            None => a href="/larder" { "Larder" },
        } }
        h1 { "A food of your own" }
        section.sheet {
            p { "A name and what it does are enough. Weigh a cup, copy the label: each figure makes recipes with it better known." }
            form.entry method="post" action={ "/larder/new" (UNSAVED) } {
                (page::seal(app))
                @if let Some(back) = form.some("back") { input type="hidden" name="back" value=(own_path(back)); }
                (form::fields(form, app.built_in(), None, &form::measures(app.built_in(), None)))
            }
        }
    }
}

fn sent(post: &Post, measures: &[String]) -> Typed {
    let names = form::names(measures);
    Typed::sent(post, names.iter().map(String::as_str))
}

/// Puts in a food of the kitchen's own.
async fn add(Held(app): Held<Shared>, post: Post) -> Result<Response, Fault> {
    run(app, move |app| {
        let built_in = app.built_in();
        let measures = form::measures(built_in, None);
        let mut form = sent(&post, &measures);
        let taken = app.kitchen.own_entries()?;
        // One that was taken out and comes back goes on with its history.
        let key = own_key(form.get("name"), |k| {
            built_in.by_key(k).is_some() || taken.iter().any(|e| e.key == k)
        });
        let entry = form::entry(&mut form, &key, &measures, &app.pantry()?.larder);
        if !keep(app, &mut form, &entry)? {
            return Ok(unprocessable(page(
                app,
                "A food of your own",
                &fresh_main(app, &form),
            )?));
        }
        Ok(match form.some("back") {
            Some(back) => back_to(own_path(back)),
            None => back_to(&format!("/larder/{key}{KEPT}")),
        })
    })
    .await
}

/// Keeps an own entry of a food.
async fn save(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let built_in = app.built_in();
        let food = built_in.by_key(&key);
        if food.is_none() && app.kitchen.own_history(&key)?.is_empty() {
            return Err(Fault::Missing("such food in the larder".to_owned()));
        }
        let measures = form::measures(built_in, food);
        let mut form = sent(&post, &measures);
        let entry = form::entry(&mut form, &key, &measures, &app.pantry()?.larder);
        let empty = OwnEntry {
            key: key.clone(),
            ..OwnEntry::default()
        };
        let past = app.kitchen.own_history(&key)?;
        if let Some(last) = past.first()
            && form.get("base").parse() != Ok(past.len())
        {
            form.wrong(
                "why",
                format!(
                    "another window changed this food since you opened it ({}): look below at what was changed, then save again to put yours over it",
                    last.why
                ),
            );
            form.put("base", past.len().to_string());
        }
        if entry == empty && !form.is_wrong() && entry_now(app, &key)?.is_none() {
            form.wrong(
                "why",
                "nothing is written above yet: write a weight, a figure of the label, or a note",
            );
        }
        if !keep(app, &mut form, &entry)? {
            let pantry = app.pantry()?;
            let page = food_page(app, &pantry, &key, &form, &html! {})?;
            return Ok(unprocessable(page));
        }
        Ok(back_to(&format!("/larder/{key}{KEPT}")))
    })
    .await
}

/// Keeps the entry where nothing is wrong with it; else notes in the form what is.
fn keep(app: &App, form: &mut Typed, entry: &OwnEntry) -> Result<bool, Fault> {
    unsigned(form);
    if let Err(e) = checked(app, entry)? {
        if e.entry == entry.key {
            form::note(form, &e);
        } else {
            form.wrong(
                "name",
                format!("this clashes with another entry of yours: {e}"),
            );
        }
    }
    if form.is_wrong() {
        return Ok(false);
    }
    app.kitchen
        .put_own(entry, form.get("who"), form.get("why"), app.now())?;
    Ok(true)
}

/// Whether the larder can be had with the entry among the others.
fn checked(app: &App, entry: &OwnEntry) -> Result<Result<(), OwnError>, Fault> {
    let built_in = app.built_in();
    if let Err(e) = entry.check(built_in) {
        return Ok(Err(e));
    }
    let mut all: Vec<OwnEntry> = app
        .kitchen
        .own_entries()?
        .into_iter()
        .filter(|e| e.key != entry.key && e.check(built_in).is_ok())
        .collect();
    all.push(entry.clone());
    Ok(built_in.with_own(&all).map(|_| ()))
}

/// The built-in figures again.
async fn drop_own(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let built = app.built_in().by_key(&key).is_some();
        let why = if built {
            "built-in figures taken again"
        } else {
            "taken out of the larder"
        };
        app.kitchen
            .drop_own(&key, post.text("who"), why, app.now())?;
        Ok(back_to(&if built {
            format!("/larder/{key}")
        } else {
            "/larder".to_owned()
        }))
    })
    .await
}

/// What the label of a food said, from the page where it was asked.
async fn label(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let mut note = post.text("note").to_owned();
        let grains: Vec<&str> = GRAINS
            .into_iter()
            .filter(|g| post.all("grain").contains(g))
            .collect();
        let kind = match post.text("kind") {
            _ if !grains.is_empty() && post.text("kind") != "names_gluten" => {
                return Err(Fault::bad(format!(
                    "{} is ticked: choose 'It names gluten, or traces of it', or tick no grain",
                    grains.join(" and ")
                )));
            }
            "labelled" => Some(EvidenceKind::Labelled),
            "names_gluten" => Some(EvidenceKind::NamesGluten),
            "neither" => None,
            _ => {
                return Err(Fault::bad(
                    "choose what the label says: that it is gluten-free, that it names gluten or traces, or neither",
                ));
            }
        };
        let mut entry = entry_now(app, &key)?.unwrap_or_else(|| OwnEntry {
            key: key.clone(),
            ..OwnEntry::default()
        });
        if !grains.is_empty() {
            note = format!("{note}; names {}", grains.join(", "));
        }
        let date = day(app.now());
        match kind {
            Some(kind) => entry.gluten = Some(Evidence { kind, date, note }),
            // It settles nothing: noted, and the label stays to be asked about.
            None => {
                let line = format!(
                    "Label read on {date}: neither gluten-free nor gluten named ({note}). Ask the maker, or take one labelled gluten-free."
                );
                entry.note = format!("{}\n{line}", entry.note).trim().to_owned();
            }
        }
        checked(app, &entry)?.map_err(|e| {
            Fault::bad(page::sentence(&form::told(&e)))
        })?;
        app.kitchen
            .put_own(&entry, &app.settings()?.baker, LABEL_READ, app.now())?;
        Ok(back_to(own_path(post.text("back"))))
    })
    .await
}

/// The state of a food's history in which a label that was read is the newest thing in it, and can
/// be taken back there and then.
pub fn last_label(app: &App, key: &str) -> Option<usize> {
    let past = app.kitchen.own_history(key).ok()?;
    (past.first()?.why == LABEL_READ).then_some(past.len())
}

/// What was said of a label a moment ago, taken back: the entry is what it was before.
async fn label_back(
    Held(app): Held<Shared>,
    Path(key): Path<String>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        if last_label(app, &key).map(|n| n.to_string()) != Some(post.text("seen").to_owned()) {
            return Err(Fault::bad(format!(
                "this food was changed since: open it in the Larder and change what it says (/larder/{key})"
            )));
        }
        let past = app.kitchen.own_history(&key)?;
        let before = past.get(1).and_then(|c| c.entry.as_ref());
        let (who, why) = (&app.settings()?.baker, "label taken back");
        match before {
            Some(entry) => app.kitchen.put_own(entry, who, why, app.now())?,
            None => app.kitchen.drop_own(&key, who, why, app.now())?,
        }
        Ok(back_to(own_path(post.text("back"))))
    })
    .await
}

#[cfg(test)]
pub mod tests;
