//! What can go wrong on a page, turned into an answer once. What is not ours to explain is
//! written to the terminal and answered blandly.

use super::page;
use axum::http::{StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::html;
use std::io::Write;
use store::StoreError;

/// A page that could not be made.
#[derive(Debug)]
pub enum Fault {
    /// There is no such thing.
    Missing(String),
    /// What was sent cannot be used: what, what was expected, how to mend it.
    Bad(String),
    /// Not from a page of ours.
    Refused(String),
    /// From a page of before the kitchen went back to a backup; with what was typed in it, by field.
    WentBack(Vec<(String, String)>),
    /// Something inside: for the log.
    Inside(String),
}

impl Fault {
    /// An inner fault.
    pub fn inside(e: impl std::fmt::Display) -> Self {
        Self::Inside(e.to_string())
    }
    /// Something to mend.
    pub fn bad(message: impl Into<String>) -> Self {
        Self::Bad(message.into())
    }
    /// Status, heading and words.
    pub fn told(&self) -> (StatusCode, &'static str, String) {
        match self {
            Self::Missing(what) => (
                StatusCode::NOT_FOUND,
                "Nothing here",
                format!("There is no {what}.{}", whereabouts(what)),
            ),
            Self::Bad(words) => (
                StatusCode::UNPROCESSABLE_ENTITY,
                "That could not be used",
                words.clone(),
            ),
            Self::Refused(words) => (StatusCode::FORBIDDEN, "Not accepted", words.clone()),
            Self::WentBack(_) => (
                StatusCode::CONFLICT,
                "Not taken",
                "The kitchen went back to a backup, and this page is from before that: what it shows may be gone or have changed. Load it again, then send it once more.".to_owned(),
            ),
            Self::Inside(_) => (
                StatusCode::INTERNAL_SERVER_ERROR,
                "Something went wrong here",
                "Nothing saved is lost. Go back and try again; the terminal that started unwheat says more.".to_owned(),
            ),
        }
    }
}

/// Where a thing that is not there may be: only some can be put in the bin.
fn whereabouts(what: &str) -> &'static str {
    let of = |word: &str| what.strip_prefix("such ").unwrap_or(what).starts_with(word);
    if of("version") {
        " Versions are never thrown away: the recipe's Versions page lists all there are."
    } else if ["recipe", "day", "blend"].into_iter().any(of) {
        " It may be in the bin."
    } else {
        ""
    }
}

/// Writes to the terminal that started unwheat, if there is one.
pub fn log(words: &str) {
    let _ = writeln!(std::io::stderr(), "unwheat: {words}");
}

impl From<StoreError> for Fault {
    fn from(e: StoreError) -> Self {
        match e {
            StoreError::Missing { what } => Self::Missing(what),
            StoreError::Archive { .. }
            | StoreError::Bad(_)
            | StoreError::Busy
            | StoreError::Full
            | StoreError::ReadOnly
            | StoreError::Finished => Self::Bad(e.to_string()),
            other => Self::Inside(other.to_string()),
        }
    }
}

/// What was typed in a form that is not kept, to copy from.
fn typed_in(typed: &[(String, String)]) -> maud::Markup {
    html! {
        @if !typed.is_empty() {
            h2 { "What you sent" }
            @for (name, value) in typed {
                // The one field of a form that changes one thing says no more than that.
                @if name != "value" { h3 { (page::capital(&name.replace('_', " "))) } }
                pre.both tabindex="0" { (value) }
            }
        }
    }
}

impl IntoResponse for Fault {
    fn into_response(self) -> Response {
        if let Self::Inside(detail) = &self {
            log(detail);
        }
        let (status, heading, words) = self.told();
        let body = page::astray(
            heading,
            &html! {
                h1 { (heading) }
                p { (words) }
                @if let Self::WentBack(typed) = &self { (typed_in(typed)) }
                p { a href="/" { "All recipes" } }
            },
        );
        (
            status,
            [(header::CONTENT_TYPE, "text/html; charset=utf-8")],
            body.into_string(),
        )
            .into_response()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_can_be_put_in_the_bin_may_be_there() {
        for (what, bin) in [
            ("recipe 7", true),
            ("such blend", true),
            ("day 2", true),
            ("version 9 of recipe 1", false),
            ("such page", false),
            ("batch 3", false),
        ] {
            let (_, _, words) = Fault::Missing(what.to_owned()).told();
            assert_eq!(words.contains("bin"), bin, "{words}");
        }
    }
}
