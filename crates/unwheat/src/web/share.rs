//! The home network's door: open only with `--share`, behind a passphrase.

use super::app::{App, Shared};
use super::fault::Fault;
use super::page;
use axum::body::Bytes;
use axum::extract::{ConnectInfo, State};
use axum::http::{HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use maud::{Markup, html};
use qrcode::{Color, QrCode};
use std::collections::{HashSet, VecDeque};
use std::net::{IpAddr, SocketAddr};
use std::sync::{Mutex, PoisonError};

/// The cookie of a device that gave the passphrase.
const COOKIE: &str = "unwheat_door";
/// Wrong passphrases a minute before a device must wait.
const TRIES: usize = 6;
/// Wrong passphrases a minute, of all devices together, before everyone must wait.
const TRIES_OF_ALL: usize = 60;
/// Words to make passphrases of: short, unlike, easy to type on a tablet. 128 of them, 7 bits
/// each; five words make 35 bits, tried at most [`TRIES_OF_ALL`] times a minute: a thousand years.
const WORDS: &str = include_str!("passphrase_words.txt");

/// The open door.
pub struct Share {
    /// The address for the tablet.
    pub address: String,
    /// The passphrase of this run.
    pub passphrase: String,
    let_in: Mutex<HashSet<String>>,
    wrong: Mutex<VecDeque<(i64, IpAddr)>>,
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
    fn try_words(&self, words: &str, from: IpAddr, now: i64) -> Result<String, &'static str> {
        let mut wrong = self.wrong.lock().unwrap_or_else(PoisonError::into_inner);
        wrong.retain(|(at, _)| now - at < 60);
        let of_it = wrong.iter().filter(|w| w.1 == from).count();
        if of_it >= TRIES || wrong.len() >= TRIES_OF_ALL {
            return Err("Too many tries: wait a minute, then type it again.");
        }
        let given = words.split_whitespace().collect::<Vec<_>>().join(" ");
        if !same(&given.to_lowercase(), &self.passphrase) {
            wrong.push_back((now, from));
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

/// What is to know before the door is opened.
const CAUTION: &str = "Anyone on this network who has the passphrase can read and change this kitchen; the connection is not encrypted.";

/// What the terminal says of the open door. `colours` where it is one that knows them.
pub fn told(share: &Share, colours: bool) -> String {
    let mut out = String::from("\nOn the home network, for a tablet or phone:\n");
    if let Some(code) = Squares::of(&share.address) {
        out.push_str(&code.blocks(colours));
    }
    out.push_str(&format!(
        "  Address     {}\n  Passphrase  {}\n{}\n\n",
        share.address,
        share.passphrase,
        CAUTION.replace("; the", ";\nthe"),
    ));
    out
}

/// A QR code: its dark squares, with the light border it needs.
struct Squares {
    side: usize,
    dark: Vec<bool>,
}

impl Squares {
    /// Light squares around a code, by its standard.
    const BORDER: usize = 4;

    fn of(text: &str) -> Option<Self> {
        let code = QrCode::new(text).ok()?;
        let inner = code.width();
        let side = inner + 2 * Self::BORDER;
        let mut dark = vec![false; side * side];
        for (i, c) in code.to_colors().into_iter().enumerate() {
            let (x, y) = (i % inner + Self::BORDER, i / inner + Self::BORDER);
            dark[y * side + x] = c == Color::Dark;
        }
        Some(Self { side, dark })
    }

    fn is_dark(&self, x: usize, y: usize) -> bool {
        self.dark.get(y * self.side + x).copied().unwrap_or(false)
    }

    /// Two rows of squares to a line of text: light squares are drawn, as terminals are dark.
    fn blocks(&self, colours: bool) -> String {
        let mut out = String::new();
        for y in (0..self.side).step_by(2) {
            out.push_str(if colours { "  \u{1b}[97;40m" } else { "  " });
            for x in 0..self.side {
                out.push(match (self.is_dark(x, y), self.is_dark(x, y + 1)) {
                    (false, false) => '█',
                    (false, true) => '▀',
                    (true, false) => '▄',
                    (true, true) => ' ',
                });
            }
            out.push_str(if colours { "\u{1b}[0m\n" } else { "\n" });
        }
        out
    }

    /// The code as a picture, black on white in either theme.
    fn picture(&self, title: &str) -> Markup {
        let mut path = String::new();
        for y in 0..self.side {
            let mut x = 0;
            while x < self.side {
                let from = x;
                while x < self.side && self.is_dark(x, y) {
                    x += 1;
                }
                if x > from {
                    path.push_str(&format!("M{from} {y}h{}v1h-{}z", x - from, x - from));
                }
                x += 1;
            }
        }
        let side = self.side;
        html! {
            svg.qr xmlns="http://www.w3.org/2000/svg" role="img" aria-label=(title) viewBox={ "0 0 " (side) " " (side) } width="240" height="240" shape-rendering="crispEdges" {
                rect width=(side) height=(side) fill="#fff" {}
                path d=(path) fill="#000" {}
            }
        }
    }
}

/// Its part of the Kitchen page. Address and passphrase are shown on this machine alone.
pub fn section(app: &App, here: bool) -> Markup {
    html! {
        section.sheet aria-labelledby="share" {
            h2 #share { "On the tablet" }
            @match (&app.share, here) {
                (Some(share), true) => {
                    p { "Open this address on the tablet, or point its camera at the code, and type the passphrase there." }
                    @if let Some(code) = Squares::of(&share.address) { (code.picture(&format!("QR code of {}", share.address))) }
                    dl.pairs {
                        dt { "Address" } dd.n { (share.address) }
                        dt { "Passphrase" } dd.n { (share.passphrase) }
                    }
                    p.hint { (CAUTION) " The passphrase is a new one each time unwheat starts." }
                }
                (Some(_), false) => p { "This device is let in. For another one, look at the Kitchen page on the laptop itself: the address and the passphrase are shown only there." },
                (None, _) => {
                    p { "To have the bench on a tablet on your home network, stop unwheat (Ctrl+C in its terminal) and start it with" }
                    p { code { "unwheat --share" } }
                    p.hint { "It then shows an address, a code for the tablet's camera and a passphrase, here and in the terminal. Without it, no other device gets in." }
                }
            }
        }
    }
}

/// Sends a stranger to the door.
pub fn to_door() -> Response {
    page::back_to("/open")
}

/// The form carries no seal: it is shown to strangers, who must not learn it.
fn form(trouble: Option<&str>) -> Markup {
    html! {
        h1 { "Open the workbench on this device" }
        @if let Some(words) = trouble { p.trouble #trouble role="alert" { (words) } }
        form method="post" action="/open" {
            label for="passphrase" { "Passphrase" }
            input #passphrase name="passphrase" autocomplete="off" autocapitalize="none" spellcheck="false" required data-needed="Type the five words." autofocus
                aria-invalid=[trouble.map(|_| "true")] aria-describedby=[trouble.map(|_| "trouble")];
            p.hint { "Five words. They stand on the laptop: in the terminal, and on the Kitchen page." }
            button.do { "Open" }
        }
    }
}

/// The door's page.
pub async fn ask() -> Response {
    page::html_page(page::bare("Open", &form(None)))
}

/// A passphrase is given.
pub async fn give(
    State(app): State<Shared>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    sent: Bytes,
) -> Result<Response, Fault> {
    let Some(share) = &app.share else {
        return Ok(page::back_to("/"));
    };
    let given = form_urlencoded::parse(&sent)
        .find(|f| f.0 == "passphrase")
        .map_or_else(String::new, |f| f.1.into_owned());
    match share.try_words(&given, peer.ip().to_canonical(), app.now()) {
        Ok(cookie) => {
            let mut answer = page::back_to("/");
            let value = HeaderValue::from_str(&cookie).map_err(Fault::inside)?;
            answer.headers_mut().insert(header::SET_COOKIE, value);
            Ok(answer)
        }
        Err(words) => {
            let body = page::bare("Open", &form(Some(words)));
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

    const TABLET: IpAddr = IpAddr::V4(std::net::Ipv4Addr::new(192, 0, 2, 20));
    const OTHER: IpAddr = IpAddr::V4(std::net::Ipv4Addr::new(192, 0, 2, 66));

    #[test]
    fn the_door_opens_for_the_passphrase_alone() {
        let share = Share::new("http://192.0.2.7:4000".to_owned()).expect("random numbers");
        assert!(share.try_words("not it", TABLET, 0).is_err());
        assert!(share.try_words("", TABLET, 0).is_err());
        let cookie = share
            .try_words(&share.passphrase.to_uppercase(), TABLET, 1)
            .expect("the passphrase");
        assert!(cookie.contains("HttpOnly; SameSite=Strict"));
        let pair = cookie.split(';').next().expect("a cookie");
        assert!(share.knows(pair));
        assert!(share.knows(&format!("a=b; {pair}")));
        assert!(!share.knows("unwheat_door=0"));
        assert!(!share.knows("unwheat_door="));
    }

    #[test]
    fn guessing_is_slow_and_locks_out_nobody_else() {
        let share = Share::new(String::new()).expect("random numbers");
        for _ in 0..TRIES {
            assert!(share.try_words("x", OTHER, 100).is_err());
        }
        let right = share.passphrase.clone();
        assert!(share.try_words(&right, OTHER, 101).is_err(), "waits");
        assert!(
            share.try_words(&right, TABLET, 101).is_ok(),
            "another device"
        );
        assert!(
            share.try_words(&right, OTHER, 161).is_ok(),
            "after a minute"
        );
    }

    #[test]
    fn many_guessers_wait_together() {
        let share = Share::new(String::new()).expect("random numbers");
        for n in 0..TRIES_OF_ALL {
            let from = IpAddr::V4(std::net::Ipv4Addr::from(n as u32));
            assert!(share.try_words("x", from, 100).is_err());
        }
        let right = share.passphrase.clone();
        assert!(share.try_words(&right, TABLET, 101).is_err());
    }

    #[test]
    fn the_terminal_is_told_all_in_80_columns() {
        let share = Share::new("http://192.168.178.123:54321".to_owned()).expect("random numbers");
        let told = told(&share, false);
        assert!(told.lines().all(|l| l.chars().count() <= 80), "{told}");
        for words in [share.address.as_str(), &share.passphrase, "not encrypted"] {
            assert!(told.contains(words));
        }
        assert!(told.contains('▀'));
    }

    /// The three corners of a code, as ISO/IEC 18004 has them: from memory.
    #[test]
    fn the_code_has_its_corners() {
        let code = Squares::of("http://192.168.1.2:4000").expect("a code");
        let last = code.side - Squares::BORDER - 7;
        for (x, y) in [(4, 4), (last, 4), (4, last)] {
            assert!((0..7).all(|i| code.is_dark(x + i, y) && code.is_dark(x, y + i)));
            assert!((1..6).all(|i| !code.is_dark(x + i, y + 1)));
        }
        assert!((0..code.side).all(|x| !code.is_dark(x, 0) && !code.is_dark(x, 3)));
    }
}
