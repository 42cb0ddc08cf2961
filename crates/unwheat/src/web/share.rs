//! The home network's door: open only with `--share`, behind a passphrase.

use super::app::{App, Shared};
use super::fault::Fault;
use super::page;
use super::post::Post;
use axum::extract::State;
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use std::collections::{HashSet, VecDeque};
use std::sync::{Mutex, PoisonError};

/// The cookie of a device that gave the passphrase.
const COOKIE: &str = "unwheat_door";
/// Wrong passphrases a minute before everyone must wait.
const TRIES: usize = 6;
/// Words to make passphrases of: short, unlike, easy to type on a tablet. 128 of them, 7 bits
/// each; five words make 35 bits, tried at most [`TRIES`] times a minute.
const WORDS: &str = include_str!("passphrase_words.txt");

/// The open door.
pub struct Share {
    /// The address for the tablet.
    pub address: String,
    /// The passphrase of this run.
    pub passphrase: String,
    let_in: Mutex<HashSet<String>>,
    wrong: Mutex<VecDeque<i64>>,
}

impl Share {
    /// A door at an address with a fresh passphrase.
    pub fn new(address: String) -> Result<Self, Fault> {
        let words: Vec<&str> = WORDS.split_whitespace().collect();
        let mut bytes = [0u8; 5];
        getrandom::fill(&mut bytes).map_err(Fault::inside)?;
        let chosen: Vec<&str> = bytes
            .iter()
            .map(|b| words[usize::from(*b) % words.len()])
            .collect();
        Ok(Self {
            address,
            passphrase: chosen.join(" "),
            let_in: Mutex::new(HashSet::new()),
            wrong: Mutex::new(VecDeque::new()),
        })
    }

    /// Whether a request's cookies are those of a device that was let in.
    pub fn knows(&self, cookies: &str) -> bool {
        let let_in = self.let_in.lock().unwrap_or_else(PoisonError::into_inner);
        cookies
            .split(';')
            .filter_map(|c| c.trim().split_once('='))
            .any(|(name, value)| name == COOKIE && let_in.contains(value))
    }

    /// Tries a passphrase; the cookie to set when it is right.
    fn try_words(&self, words: &str, now: i64) -> Result<String, &'static str> {
        let mut wrong = self.wrong.lock().unwrap_or_else(PoisonError::into_inner);
        wrong.retain(|at| now - at < 60);
        if wrong.len() >= TRIES {
            return Err("Too many tries: wait a minute, then type it again.");
        }
        let given = words.split_whitespace().collect::<Vec<_>>().join(" ");
        if !same(&given.to_lowercase(), &self.passphrase) {
            wrong.push_back(now);
            return Err(
                "That is not the passphrase. It stands on the laptop: in the terminal, and on the Kitchen page.",
            );
        }
        let mut bytes = [0u8; 16];
        getrandom::fill(&mut bytes).map_err(|_| "No random numbers on this machine.")?;
        let ticket: String = bytes.iter().map(|b| format!("{b:02x}")).collect();
        self.let_in
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .insert(ticket.clone());
        Ok(format!(
            "{COOKIE}={ticket}; Path=/; HttpOnly; SameSite=Strict; Max-Age=43200"
        ))
    }
}

/// Compares without telling by its time how much was right.
fn same(a: &str, b: &str) -> bool {
    a.len() == b.len() && a.bytes().zip(b.bytes()).fold(0, |d, (x, y)| d | (x ^ y)) == 0
}

/// What the terminal says of the open door.
pub fn told(share: &Share) -> String {
    format!(
        "On the home network: {}\nPassphrase: {}\n",
        share.address, share.passphrase
    )
}

/// Sends a stranger to the door.
pub fn to_door() -> Response {
    page::back_to("/open")
}

fn form(app: &App, trouble: Option<&str>) -> Markup {
    html! {
        h1 { "Open the workbench on this device" }
        @if let Some(words) = trouble { p.trouble role="alert" { (words) } }
        form method="post" action="/open" {
            (page::seal(app))
            label for="passphrase" { "Passphrase" }
            input #passphrase name="passphrase" autocomplete="off" autocapitalize="none" spellcheck="false" required;
            p.hint { "Five words. They stand on the laptop: in the terminal, and on the Kitchen page." }
            button.do { "Open" }
        }
    }
}

/// The door's page.
pub async fn ask(State(app): State<Shared>) -> Response {
    page::html_page(page::bare("Open", form(&app, None)))
}

/// A passphrase is given.
pub async fn give(State(app): State<Shared>, post: Post) -> Result<Response, Fault> {
    let Some(share) = &app.share else {
        return Ok(page::back_to("/"));
    };
    match share.try_words(post.text("passphrase"), app.now()) {
        Ok(cookie) => {
            let mut answer = page::back_to("/");
            let value = HeaderValue::from_str(&cookie).map_err(Fault::inside)?;
            answer.headers_mut().insert(header::SET_COOKIE, value);
            Ok(answer)
        }
        Err(words) => {
            let body = page::bare("Open", form(&app, Some(words)));
            Ok((StatusCode::FORBIDDEN, page::html_page(body)).into_response())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_words_are_enough_and_unlike() {
        let words: Vec<&str> = WORDS.split_whitespace().collect();
        let unlike: HashSet<&&str> = words.iter().collect();
        assert_eq!(words.len(), 128);
        assert_eq!(unlike.len(), 128);
        assert!(
            words
                .iter()
                .all(|w| w.bytes().all(|b| b.is_ascii_lowercase()))
        );
    }

    #[test]
    fn the_door_opens_for_the_passphrase_alone() {
        let share = Share::new("http://192.0.2.7:4000".to_owned()).expect("random numbers");
        assert!(share.try_words("not it", 0).is_err());
        let cookie = share
            .try_words(&share.passphrase.to_uppercase(), 1)
            .expect("the passphrase");
        let pair = cookie.split(';').next().expect("a cookie");
        assert!(share.knows(pair));
        assert!(!share.knows("unwheat_door=0"));
    }

    #[test]
    fn guessing_is_slow() {
        let share = Share::new(String::new()).expect("random numbers");
        for _ in 0..TRIES {
            assert!(share.try_words("x", 100).is_err());
        }
        let right = share.passphrase.clone();
        assert!(share.try_words(&right, 101).is_err(), "waits");
        assert!(share.try_words(&right, 161).is_ok(), "after a minute");
    }
}
