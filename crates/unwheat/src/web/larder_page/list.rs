//! The list of foods: searched, narrowed, a page at a time.

use super::form::{does, functions, short};
use super::{food, query_word, shown, style};
use crate::web::app::{Pantry, Shared, run};
use crate::web::fault::Fault;
use crate::web::recipe::screen::{verdict, whole_verdict};
use axum::extract::{RawQuery, State as Held};

use axum::response::Response;
use larder::{FoodId, Function, Gluten, State};
use maud::{Markup, html};
use recipe::screen::Screening;

/// Foods on one page of the list.
const A_PAGE: usize = 60;

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

/// The larder.
pub async fn list(Held(app): Held<Shared>, query: RawQuery) -> Result<Response, Fault> {
    run(app, move |app| {
        let asked = Asked::of(&query.0.unwrap_or_default());
        let pantry = app.pantry()?;
        shown(app, "Larder", &list_main(&pantry, &asked))
    })
    .await
}

fn list_main(pantry: &Pantry, asked: &Asked) -> Markup {
    let larder = &pantry.larder;
    // What the kitchen has seen of a food is screened; of any other the larder's judgement stands.
    let found: Vec<(FoodId, Option<Screening>)> = larder
        .search(&asked.words, usize::MAX)
        .into_iter()
        .filter(|&id| !asked.own || larder.is_own(id))
        .filter(|&id| asked.does.is_none_or(|f| larder.food(id).does(f)))
        .map(|id| (id, larder.is_own(id).then(|| food::screened(larder, id))))
        .filter(|(id, seen)| {
            let unread = match seen {
                Some(s) => s.verdict == Gluten::Check && s.open().next().is_some(),
                None => larder.food(*id).gluten == Gluten::Check,
            };
            !asked.check || unread
        })
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
                        @for (id, seen) in found.iter().skip(at * A_PAGE).take(A_PAGE) {
                            @let f = larder.food(*id);
                            tr {
                                td.full { a href={ "/larder/" (f.key) } { strong { (f.name) } }
                                    @if f.key.starts_with("own_") { " " span.tag { "your own" } } @else if larder.is_own(*id) { " " span.tag { "own figures" } }
                                    @if let Some(e) = larder.own(*id).and_then(|e| e.gluten.as_ref()) { br; small { (e.words()) } } }
                                td { (does(f.function())) }
                                td { @match seen { Some(s) => (whole_verdict(s, larder)), None => (verdict(f.gluten)) } }
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
