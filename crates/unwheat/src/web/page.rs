//! The frame of every page.

use super::app::App;
use super::fault::Fault;
use axum::http::header;
use axum::response::{IntoResponse, Response};
use maud::{DOCTYPE, Markup, html};

/// Which of the main ways is open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// The recipes.
    Recipes,
    /// The larder.
    Larder,
    /// The blends.
    Blends,
    /// What to buy.
    Shop,
    /// Several recipes on one day.
    Days,
    /// The kitchen's settings.
    Kitchen,
}

/// A whole page.
pub struct Page<'a> {
    /// The window's title.
    pub title: &'a str,
    /// The way it belongs to.
    pub way: Way,
    /// Scripts beside the common one.
    pub scripts: &'a [&'a str],
    /// Put after the main part, and not sent again with every change: lists to choose from.
    pub beside: Option<Markup>,
}

impl Page<'_> {
    /// The page with its main part.
    pub fn show(&self, app: &App, main: &Markup) -> Result<Response, Fault> {
        let settings = app.settings()?;
        let kitchen = if settings.kitchen.is_empty() {
            "Your kitchen"
        } else {
            &settings.kitchen
        };
        let page = html! {
            (DOCTYPE)
            html lang="en" data-theme=(settings.theme) {
                (head(self.title, self.scripts))
                body data-state=(app.kitchen.state()) {
                    a.skip href="#main" { "Skip to the page" }
                    header.rim {
                        (mark())
                        span.kitchen { (kitchen) }
                        (ways(Some(self.way)))
                    }
                    (band(app)?)
                    main id="main" tabindex="-1" { (main) }
                    @if let Some(beside) = &self.beside { (beside) }
                    footer {
                        p {
                            "A conversion is a starting point for a test bake. Nothing here says that a food suits a person with coeliac disease: that rests on your ingredients, their labels and your kitchen."
                        }
                        p { a href="/evidence" { "How far to trust the figures" } }
                    }
                    div id="said" role="status" aria-live="polite" {}
                }
            }
        };
        Ok(html_page(page))
    }
}

const DEMO: &str = "Demo kitchen: labels, cups, prices and bakes here are invented. Do not bake for anyone by them.";

/// Says of the demo kitchen what it is, on every page of it.
pub fn band(app: &App) -> Result<Markup, Fault> {
    let demo = app.settings()?.demo;
    Ok(html! {
        @if demo {
            aside.demo aria-label="Demo kitchen" {
                p { (DEMO) }
                @if let Some(own) = &app.own { a href=(own) { "Back to your own kitchen" } }
            }
        }
    })
}

/// A card, which says so itself where it is the demo kitchen's: it is printed and kept alone.
pub fn marked_card(app: &App, card: String) -> Result<String, Fault> {
    if !app.settings()?.demo {
        return Ok(card);
    }
    let words = html! { p { strong { (DEMO) } } }.into_string();
    Ok(card.replacen("<main>", &format!("<main>{words}"), 1))
}

/// An answer with a page in it.
pub fn html_page(page: Markup) -> Response {
    (
        [(header::CONTENT_TYPE, "text/html; charset=utf-8")],
        card::together(&page.into_string()),
    )
        .into_response()
}

fn head(title: &str, scripts: &[&str]) -> Markup {
    html! {
        head {
            meta charset="utf-8";
            meta name="viewport" content="width=device-width, initial-scale=1";
            meta name="color-scheme" content="light dark";
            title { (title) " · unwheat" }
            link rel="icon" href="/assets/mark.svg" type="image/svg+xml";
            link rel="stylesheet" href="/assets/workbench.css";
            link rel="stylesheet" href="/assets/picture.css";
            script type="module" src="/assets/live.js" {}
            @for s in scripts {
                script type="module" src={ "/assets/" (s) } {}
            }
        }
    }
}

/// The name, which leads to the first page.
fn mark() -> Markup {
    html! { a.mark href="/" { img src="/assets/mark.svg" alt="" width="28" height="28"; span { "unwheat" } } }
}

/// The main ways, with the one that is open.
fn ways(open: Option<Way>) -> Markup {
    let all = [
        (Way::Recipes, "/", "Recipes"),
        (Way::Larder, "/larder", "Larder"),
        (Way::Blends, "/blends", "Blends"),
        (Way::Days, "/days", "Days"),
        (Way::Shop, "/shop", "Shop"),
        (Way::Kitchen, "/kitchen", "Kitchen"),
    ];
    html! {
        nav aria-label="Workbench" {
            @for (way, to, words) in all {
                a href=(to) aria-current=[(Some(way) == open).then_some("page")] { (words) }
            }
        }
    }
}

/// A page without the kitchen's frame: for those who are not let in yet.
pub fn bare(title: &str, main: &Markup) -> Markup {
    frameless(title, &html! {}, main)
}

/// A page for what went wrong: it asks nothing of the kitchen, and leads on.
pub fn astray(title: &str, main: &Markup) -> Markup {
    frameless(title, &ways(None), main)
}

fn frameless(title: &str, ways: &Markup, main: &Markup) -> Markup {
    html! {
        (DOCTYPE)
        html lang="en" data-theme="auto" {
            (head(title, &[]))
            body {
                header.rim { (mark()) (ways) }
                main id="main" tabindex="-1" { section.sheet { (main) } }
            }
        }
    }
}

/// What every form carries: the seal, and the state of the kitchen that its page shows.
pub fn seal(app: &App) -> Markup {
    html! {
        input type="hidden" name="seal" value=(app.seal);
        input type="hidden" name="state" value=(app.kitchen.state());
    }
}

/// Back to a page after a form.
pub fn back_to(path: &str) -> Response {
    axum::response::Redirect::to(path).into_response()
}

/// A path of ours, or the first page: never an address elsewhere.
pub fn own_path(path: &str) -> &str {
    if path.starts_with('/') && !path.starts_with("//") && !path.contains(['\\', '\r', '\n']) {
        path
    } else {
        "/"
    }
}

/// A day and time on this machine's clock: '25 Nov 2026, 14:05'.
pub fn moment(at: i64) -> String {
    jiff::Timestamp::from_second(at).map_or_else(
        |_| String::new(),
        |t| {
            t.to_zoned_datetime(jiff::tz::TimeZone::system())
                .strftime("%-d %b %Y, %H:%M")
                .to_string()
        },
    )
}

/// A day on this machine's clock: `2026-11-25`.
pub fn day(at: i64) -> String {
    jiff::Timestamp::from_second(at).map_or_else(
        |_| String::new(),
        |t| {
            t.to_zoned_datetime(jiff::tz::TimeZone::system())
                .strftime("%Y-%m-%d")
                .to_string()
        },
    )
}

/// How long ago, in words.
pub fn ago(at: i64, now: i64) -> String {
    let s = (now - at).max(0);
    match s {
        0..60 => "just now".to_owned(),
        60..3_600 => format!("{} min ago", s / 60),
        3_600..86_400 => format!("{} h ago", s / 3_600),
        86_400..172_800 => "yesterday".to_owned(),
        172_800..2_592_000 => format!("{} days ago", s / 86_400),
        _ => moment(at),
    }
}

/// A day and time, and for some weeks how long ago that is.
pub fn since(at: i64, now: i64) -> String {
    let (when, ago) = (moment(at), ago(at, now));
    if ago == when {
        when
    } else {
        format!("{when} ({ago})")
    }
}

/// Words with a capital in front, as buttons and headings have it.
pub fn capital(words: &str) -> String {
    let mut rest = words.trim().chars();
    let first: String = rest
        .next()
        .map(|c| c.to_uppercase().collect())
        .unwrap_or_default();
    format!("{first}{}", rest.as_str())
}

/// A sentence from a rule's words.
pub fn sentence(words: &str) -> String {
    let mut out = capital(words);
    if !out.ends_with(['.', '!', '?', ':']) {
        out.push('.');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_own_paths() {
        assert_eq!(own_path("/recipe/1/read#x"), "/recipe/1/read#x");
        for p in ["//evil", "http://x", "", "/\\x", "/a\r\nSet-Cookie: b"] {
            assert_eq!(own_path(p), "/");
        }
    }

    #[test]
    fn a_day_is_told_once() {
        let (at, day) = (1_790_000_000, 86_400);
        assert_eq!(since(at, at + 40 * day), moment(at));
        assert_eq!(
            since(at, at + 3 * day),
            format!("{} (3 days ago)", moment(at))
        );
    }
}
