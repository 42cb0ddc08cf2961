//! Who may ask, and what a page may do: the door before every handler.

use super::app::Shared;
use super::fault::Fault;
use super::share;
use axum::extract::{ConnectInfo, Request, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, Method, StatusCode, header};
use axum::middleware::Next;
use axum::response::{IntoResponse, Response};
use std::net::SocketAddr;
use std::sync::{Arc, OnceLock};

/// No inline code, nothing from elsewhere.
const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self'; font-src 'self'; img-src 'self' data: blob:; media-src 'self' blob:; connect-src 'self'; frame-src 'self'; worker-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'self'";

/// A form that has come in.
#[derive(Debug)]
pub struct CameIn {
    /// The state that the kitchen was in then.
    pub state: Arc<str>,
    /// What was typed in it, by field, once it is read.
    pub typed: OnceLock<Vec<(String, String)>>,
}

tokio::task_local! {
    static CAME_IN: Arc<CameIn>;
}

/// The form at hand; none where no form is.
pub fn came_in() -> Option<Arc<CameIn>> {
    CAME_IN.try_with(Arc::clone).ok()
}

/// Checks host and origin, lets the home network in only past the passphrase, and puts the
/// headers on the answer.
pub async fn door(
    State(app): State<Shared>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
    request: Request,
    next: Next,
) -> Response {
    let answer = match admit(&app, peer, &request) {
        Ok(()) if request.method() == Method::POST => {
            let form = CameIn {
                state: app.kitchen.state(),
                typed: OnceLock::new(),
            };
            let answer = CAME_IN.scope(Arc::new(form), next.run(request));
            in_plain_words(answer.await)
        }
        Ok(()) => in_plain_words(next.run(request).await),
        Err(turned_away) => *turned_away,
    };
    sealed(answer)
}

/// What the framework refuses before any handler of ours (a number that is none, a method that a
/// page does not take) is told like everything else that goes wrong.
fn in_plain_words(answer: Response) -> Response {
    let status = answer.status();
    let bare = answer
        .headers()
        .get(header::CONTENT_TYPE)
        .is_none_or(|t| t.as_bytes().starts_with(b"text/plain"));
    if !status.is_client_error() || !bare {
        return answer;
    }
    match status {
        StatusCode::PAYLOAD_TOO_LARGE => Fault::bad(
            "what was sent is too large: a recipe page is at most 20 MB, a kitchen archive 200 MB",
        ),
        StatusCode::UNPROCESSABLE_ENTITY => {
            Fault::bad("the form did not arrive whole: send it again")
        }
        _ => Fault::Missing("such page".to_owned()),
    }
    .into_response()
}

fn admit(app: &Shared, peer: SocketAddr, request: &Request) -> Result<(), Box<Response>> {
    let headers = request.headers();
    let refuse = |words: &str| Err(Box::new(Fault::Refused(words.to_owned()).into_response()));
    let host = header_text(headers, &header::HOST).unwrap_or_default();
    if !app.hosts.iter().any(|h| h.eq_ignore_ascii_case(host)) {
        return refuse(
            "This address is not the workbench's own. Use the address that unwheat printed when it started.",
        );
    }
    if *request.method() != Method::GET && *request.method() != Method::HEAD {
        let own = match header_text(headers, &header::ORIGIN) {
            Some(origin) => origin
                .strip_prefix("http://")
                .is_some_and(|o| o.eq_ignore_ascii_case(host)),
            // Old browsers leave the origin out of form posts; the seal still guards those.
            None => headers
                .get("sec-fetch-site")
                .is_none_or(|s| s == "same-origin"),
        };
        if !own {
            return refuse("This form was sent from another site.");
        }
    }
    if !peer.ip().to_canonical().is_loopback() {
        let path = request.uri().path();
        let open = path == "/open" || path.starts_with("/assets/");
        let Some(share) = &app.share else {
            return refuse("The workbench is not shared on the home network.");
        };
        if !open && !share.knows(header_text(headers, &header::COOKIE).unwrap_or_default()) {
            return Err(Box::new(share::to_door()));
        }
    }
    Ok(())
}

fn header_text<'a>(headers: &'a HeaderMap, name: &header::HeaderName) -> Option<&'a str> {
    headers.get(name).and_then(|v| v.to_str().ok())
}

fn sealed(mut answer: Response) -> Response {
    let headers = answer.headers_mut();
    for (name, value) in [
        (header::CONTENT_SECURITY_POLICY, POLICY),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "same-origin"),
        (header::X_FRAME_OPTIONS, "SAMEORIGIN"),
        (
            HeaderName::from_static("cross-origin-resource-policy"),
            "same-origin",
        ),
    ] {
        headers.insert(name, HeaderValue::from_static(value));
    }
    headers
        .entry(header::CACHE_CONTROL)
        .or_insert(HeaderValue::from_static("no-store"));
    answer
}
