//! The first page: what is in front of the baker, a place to paste, all recipes.

use super::app::{App, Shared, run};
use super::fault::Fault;
use super::kitchen;
use super::no_recipe;
use super::page::{self, Page, Way, ago, back_to};
use super::post::Post;
use super::recipe::change::summarise;
use super::recipe::read::locale_select;
use super::recipe::{Leaf, open, standing, work_with};
use axum::extract::{ConnectInfo, RawQuery, State};
use axum::http::StatusCode;
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use quantity::Locale;
use recipe::read::{PageError, ReadError, Reader};
use recipe::rework::style::Style;
use recipe::sheet::Sheet;
use std::net::SocketAddr;
use store::{Query, Row};

/// Recipes on one page of the list.
const A_PAGE: u32 = 50;

/// What the list is asked for.
#[derive(Default, Clone)]
struct Asked {
    words: String,
    stage: String,
    style: String,
    to_check: bool,
    page: u32,
}

impl Asked {
    fn of(query: &str) -> Self {
        let mut out = Self::default();
        for (k, v) in form_urlencoded::parse(query.as_bytes()) {
            match &*k {
                "words" => out.words = v.trim().to_owned(),
                "stage" => out.stage = v.into_owned(),
                "style" => out.style = v.into_owned(),
                "check" => out.to_check = true,
                "page" => out.page = v.parse().unwrap_or(0),
                _ => {}
            }
        }
        out
    }
    fn is_narrowed(&self) -> bool {
        !self.words.is_empty() || !self.stage.is_empty() || !self.style.is_empty() || self.to_check
    }
    fn query(&self, binned: bool) -> Query {
        let some = |s: &String| Some(s.clone()).filter(|s| !s.is_empty());
        Query {
            words: self.words.clone(),
            stage: some(&self.stage).filter(|s| s != BAKED),
            baked: self.stage == BAKED,
            style: some(&self.style),
            to_check: self.to_check,
            binned,
            limit: A_PAGE,
            offset: self.page * A_PAGE,
        }
    }
    fn link(&self, page: u32) -> String {
        let mut q = form_urlencoded::Serializer::new(String::new());
        for (k, v) in [
            ("words", &self.words),
            ("stage", &self.stage),
            ("style", &self.style),
        ] {
            if !v.is_empty() {
                q.append_pair(k, v);
            }
        }
        if self.to_check {
            q.append_pair("check", "1");
        }
        q.append_pair("page", &page.to_string());
        format!("/?{}#all", q.finish())
    }
}

/// The first page.
pub async fn home(
    State(app): State<Shared>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    query: RawQuery,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let asked = Asked::of(&query.0.unwrap_or_default());
        Page {
            title: "Recipes",
            way: Way::Recipes,
            scripts: &["drop.js"],
            beside: None,
        }
        .show(app, &main(app, kitchen::is_here(peer), &asked, None)?)
    })
    .await
}

/// What came in and could not be read: the words stay in the box.
struct Came<'a> {
    text: &'a str,
    title: &'a str,
    trouble: &'a str,
}

fn main(app: &App, here: bool, asked: &Asked, came: Option<&Came<'_>>) -> Result<Markup, Fault> {
    let mut list = app.kitchen.list(&asked.query(false))?;
    if renew(app, &list.rows)? {
        list = app.kitchen.list(&asked.query(false))?;
    }
    let settings = app.settings()?;
    let empty = list.total == 0 && !asked.is_narrowed();
    let front = front(app)?;
    let demo = empty && kitchen::has_demo(app, here)?;
    Ok(html! {
        h1 { @if empty { "Convert a recipe" } @else { "What is in front of you" } }
        @if !front.is_empty() {
            section.sheet aria-label="In front of you" { ul.front { @for f in &front { (f) } } }
        } @else if !empty && !asked.is_narrowed() {
            p { "Nothing is waiting. Paste a recipe, or take one from the list." }
        }
        @if demo {
            section.sheet aria-labelledby="demo-h" {
                h2 #demo-h { "First time here?" }
                p { "The demo kitchen has a few recipes of an invented test kitchen at different stages, with blends, prices and bakes. It is a kitchen of its own: yours stays empty. Or paste a recipe of your own below and start at once." }
                p { a.button href="/demo" { "Look around in the demo kitchen" } }
            }
        }
        (paste(app, settings.locale.parse().unwrap_or(Locale::Us), came))
        @if !empty { (all(asked, &list.rows, list.total, app.now())) }
    })
}

/// What is in front of the baker: batches at the bench, then what has something to settle.
fn front(app: &App) -> Result<Vec<Markup>, Fault> {
    let mut out = Vec::new();
    for b in app.kitchen.open_batches()? {
        let line = |m: &&store::Mark| m.ticked && !m.item.starts_with("step:");
        let done = b.marks.iter().filter(line).count();
        let running = b
            .timers
            .iter()
            .filter(|t| t.ends.is_some() && !t.done)
            .count();
        out.push(html! {
            li {
                span { a.name href={ "/bench/" (b.id) } { (b.title) } " " span.tag { "at the bench" } br;
                    small { (done) " weighed" @if running > 0 { ", " (running) @if running == 1 { " timer runs" } @else { " timers run" } } ", begun " (ago(b.started, app.now())) } }
                a.button.do href={ "/bench/" (b.id) } { "Go on" }
            }
        });
    }
    let recent = app.kitchen.list(&Query {
        limit: 4,
        ..Query::default()
    })?;
    let mut lead = out.is_empty();
    for r in recent.rows.iter().filter(|r| r.stage != "card") {
        out.push(html! {
            li {
                span { a.name href={ "/recipe/" (r.id) "/" (Leaf::of_stage(&r.stage).slug()) } { (r.title) } br;
                    small { (next_words(r)) ", changed " (ago(r.changed, app.now())) } }
                a.button.do[lead] href={ "/recipe/" (r.id) "/" (Leaf::of_stage(&r.stage).slug()) } { (next_do(r)) }
            }
        });
        lead = false;
        if out.len() >= 4 {
            break;
        }
    }
    Ok(out)
}

/// Makes rows anew that stand on a larder of before: labels read and cups measured since change
/// where a recipe stands. Whether any was.
fn renew(app: &App, rows: &[Row]) -> Result<bool, Fault> {
    let mut any = false;
    for r in rows {
        if app.is_row_due(r.id)? {
            let o = open(app, r.id)?;
            let fresh = summarise(app, &o, &o.draft.sheet);
            app.kitchen.refresh_summary(r.id, &fresh)?;
            any = true;
        }
    }
    Ok(any)
}

fn next_words(r: &Row) -> String {
    match (r.stage.as_str(), r.to_check) {
        ("read", 1) => "one thing to settle".to_owned(),
        ("read", n) => format!("{n} things to settle"),
        ("weigh", 1) => "one weight is unsure".to_owned(),
        ("weigh", n) => format!("{n} weights are unsure"),
        ("rework", _) => "ready to look through and save".to_owned(),
        ("gluten", _) => "gluten is left in it".to_owned(),
        ("screen", 1) => "one label to read".to_owned(),
        ("screen", n) => format!("{n} labels to read"),
        ("bench", _) => "ready for a test bake".to_owned(),
        _ => "baked and on record".to_owned(),
    }
}

fn next_do(r: &Row) -> &'static str {
    match r.stage.as_str() {
        "read" => "Settle",
        "weigh" => "Weigh",
        "rework" => "Look through",
        "gluten" => "See where",
        "screen" => "Read labels",
        "bench" => "To the bench",
        _ => "Open",
    }
}

fn paste(app: &App, locale: Locale, came: Option<&Came<'_>>) -> Markup {
    html! {
        section.sheet aria-labelledby="paste-h" {
            h2 #paste-h { "A recipe to convert" }
            @if let Some(c) = came { p.trouble role="alert" { (c.trouble) } }
            form.paste method="post" action="/recipes" enctype="multipart/form-data" {
                (page::seal(app))
                label for="paste" { "Paste it here: title, ingredients and method, as they stand" }
                textarea #paste name="text" spellcheck="false" { (came.map_or("", |c| c.text)) }
                div.beside {
                    div { label for="file" { "or drop a saved web page or text file here" } input #file type="file" name="file" accept=".txt,.md,.html,.htm,.json,text/plain,text/html"; }
                    div { label for="name" { "Your own title, if the text’s is not to stand" } input #name name="title" value=(came.map_or("", |c| c.title)); }
                    div { label for="cups" { "Its cups and spoons" } (locale_select("cups", "locale", locale)) }
                }
                button.do { "Read it" }
                p.hint data-file-name {}
            }
        }
    }
}

/// The stage of what was baked: a recipe is found under it also while a label or a weight is open.
const BAKED: &str = "card";

/// Stages as the list names them.
const STANDS: [(&str, &str); 7] = [
    ("read", "reading"),
    ("weigh", "weighing"),
    ("rework", "reworking"),
    ("gluten", "gluten is left"),
    ("screen", "reading labels"),
    ("bench", "ready to bake"),
    (BAKED, "baked"),
];

fn all(asked: &Asked, rows: &[Row], total: u32, now: i64) -> Markup {
    let pages = total.div_ceil(A_PAGE);
    html! {
        section.sheet aria-labelledby="all" {
            h2 #all { "All recipes " span.n { "(" (total) ")" } }
            form.row.find method="get" action="/#all" role="search" {
                div.grow { label for="words" { "Find" } input #words type="search" name="words" value=(asked.words) placeholder="title, ingredient, component"; }
                div { label for="stage" { "Where it stands" } select #stage name="stage" {
                    option value="" { "anywhere" }
                    @for (key, words) in STANDS { option value=(key) selected[asked.stage == key] { (words) } }
                } }
                div { label for="style" { "Style" } select #style name="style" {
                    option value="" { "any" }
                    @for s in Style::all() { option value=(s.key()) selected[asked.style == s.key()] { (s.name()) } }
                } }
                label.tick { input type="checkbox" name="check" value="1" checked[asked.to_check]; "has something to check" }
                button { "Find" }
                @if asked.is_narrowed() { a.button href="/#all" { "Show all" } }
            }
            @if rows.is_empty() { p { "No recipe fits. Take a word out, or show all." } } @else {
                table.ledger.stack {
                    thead { tr { th scope="col" { "Recipe" } th scope="col" { "Stands at" } th scope="col" { "Style" } th scope="col" { "To check" } th scope="col" { "Versions" } th scope="col" { "Changed" } } }
                    tbody {
                        @for r in rows {
                            tr {
                                td.full { a href={ "/recipe/" (r.id) "/" (Leaf::of_stage(&r.stage).slug()) } { strong { (r.title) } }
                                    @if r.used_in > 0 { " " span.tag.line { "used in " (r.used_in) } }
                                    @if r.unsaved { " " span.tag.line { "draft" } } }
                                td { (STANDS.iter().find(|s| s.0 == r.stage).map_or("", |s| s.1)) }
                                td.full { (r.styles.iter().filter_map(|k| Style::from_key(k)).map(Style::name).collect::<Vec<_>>().join("; ")) }
                                td data-h="to check" { @if r.to_check > 0 { span.tag.warn { (r.to_check) } } }
                                td.n data-h="versions" { (r.versions) }
                                td.n { (ago(r.changed, now)) }
                            }
                        }
                    }
                }
            }
            @if pages > 1 {
                nav.row aria-label="Pages of the list" {
                    @if asked.page > 0 { a.button.small href=(asked.link(asked.page - 1)) { "Newer" } }
                    span { "Page " (asked.page + 1) " of " (pages) }
                    @if asked.page + 1 < pages { a.button.small href=(asked.link(asked.page + 1)) { "Older" } }
                }
            }
            p { a href="/bin" { "Bin" } }
        }
    }
}

/// A recipe comes in: read it, keep it, show what was read.
pub async fn add(
    State(app): State<Shared>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    post: Post,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let locale: Locale = post.text("locale").parse().unwrap_or(Locale::Us);
        let pantry = app.pantry_in(locale)?;
        let bytes: Vec<u8> = match &post.file {
            Some((_, bytes)) => bytes.to_vec(),
            None => post.raw("text").replace("\r\n", "\n").into_bytes(),
        };
        let back = |trouble: String| -> Result<Response, Fault> {
            let came = Came {
                text: post.raw("text"),
                title: post.text("title"),
                trouble: &trouble,
            };
            let page = Page {
                title: "Recipes",
                way: Way::Recipes,
                scripts: &["drop.js"],
                beside: None,
            }
            .show(app, &main(app, kitchen::is_here(peer), &Asked::default(), Some(&came))?)?;
            Ok((StatusCode::UNPROCESSABLE_ENTITY, page).into_response())
        };
        if let Some((name, bytes)) = &post.file
            && let Some(words) = no_recipe::what(bytes)
        {
            return back(format!("{name} was not read. {words}"));
        }
        if bytes.iter().all(u8::is_ascii_whitespace) {
            return back(
                "There is nothing to read yet: paste a recipe, or choose a file.".to_owned(),
            );
        }
        let read = match recipe::read::bytes(&bytes, &Reader::new(&pantry.larder, locale)) {
            Ok(read) => read,
            Err(e) => {
                let e = match e {
                    // Text all the same, of two bytes to a letter.
                    ReadError::Binary { line, column } if no_recipe::is_utf16(&bytes) => {
                        ReadError::NotUtf8 { line, column }
                    }
                    ReadError::Page(PageError::NoData { .. }) => {
                        let name = post.file.as_ref().map_or("The page", |f| &f.0);
                        return back(format!(
                            "{name} is a web page without recipe data that a program can read: copy its ingredients and method in the browser and paste them here."
                        ));
                    }
                    e => e,
                };
                let name = post
                    .file
                    .as_ref()
                    .map_or(String::new(), |f| format!("{}: ", f.0));
                return back(format!("{name}{}", no_recipe::why(&e)));
            }
        };
        let original = String::from_utf8_lossy(&bytes).into_owned();
        // A web page is kept as it came; what is worked on is its recipe as plain text.
        let text = if recipe::read::is_page(&original) {
            read.to_text()
        } else {
            original.clone()
        };
        let mut sheet = Sheet::new(text, locale);
        sheet.title = post.some("title").map(str::to_owned);
        let worked = work_with(&pantry, &*app.settings()?, &sheet, &[]);
        let summary = standing::summary(&worked, sheet.title.as_deref(), &pantry.larder, 0, 0);
        let id = app.kitchen.add_recipe(
            &uid()?,
            &original,
            &sheet,
            &summary,
            &app.settings()?.baker,
            app.now(),
        )?;
        Ok(back_to(&format!("/recipe/{id}/{}", Leaf::Read.slug())))
    })
    .await
}

/// A name no other recipe anywhere has.
pub fn uid() -> Result<String, Fault> {
    let mut bytes = [0u8; 16];
    getrandom::fill(&mut bytes).map_err(Fault::inside)?;
    Ok(bytes.iter().map(|b| format!("{b:02x}")).collect())
}

/// The bin.
pub async fn bin(State(app): State<Shared>) -> Result<Response, Fault> {
    run(app, move |app| {
        let list = app.kitchen.list(&Query {
            binned: true,
            limit: 500,
            ..Query::default()
        })?;
        let main = html! {
            h1 { "Bin" }
            @if list.rows.is_empty() { p { "The bin is empty. Recipes put here can be taken out again at any time." } } @else {
                section.sheet {
                    ul.front {
                        @for r in &list.rows {
                            li {
                                span { a.name href={ "/recipe/" (r.id) "/versions" } { (r.title) } br; small { "put here " (ago(r.binned.unwrap_or(0), app.now())) } }
                                form method="post" action={ "/recipe/" (r.id) "/bin" } { (page::seal(app)) button name="way" value="out" { "Take it out" span.unseen { ": " (r.title) } } }
                            }
                        }
                    }
                }
            }
            @if !app.kitchen.days(true)?.is_empty() { p { "Days that were put in the bin stand under " a href="/days" { "Days" } "." } }
            p { a href="/" { "All recipes" } }
        };
        Page {
            title: "Bin",
            way: Way::Recipes,
            scripts: &[],
            beside: None,
        }
        .show(app, &main)
    })
    .await
}
