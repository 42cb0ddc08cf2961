//! Tests of the kitchen's page, archive, backups, demo and door, through the router.

mod archive;
mod back;
mod demo;
mod settings;

use super::*;
use crate::web::router;
use axum::body::{Body, to_bytes};
use axum::http::{Method, Request, StatusCode, header};
use larder::Larder;
use std::sync::Arc;
use store::Kitchen;
use tower::ServiceExt;

const HOST: &str = "127.0.0.1:7420";
const SEAL: &str = "0123456789abcdef0123456789abcdef";
const HERE: [u8; 4] = [127, 0, 0, 1];
const TABLET: [u8; 4] = [192, 0, 2, 20];

fn app_in(kitchen: Kitchen, share: bool) -> Shared {
    let larder = Larder::built_in().expect("the built-in tables");
    let share = share
        .then(|| share::Share::new("http://192.0.2.7:7420".to_owned()).expect("random numbers"));
    let hosts = vec![HOST.to_owned(), "192.0.2.7:7420".to_owned()];
    let app = App::new(kitchen, larder, SEAL.to_owned(), hosts, share).expect("an app");
    Arc::new(app)
}

fn app() -> Shared {
    app_in(Kitchen::in_memory().expect("a kitchen"), false)
}

fn request(method: Method, path: &str, from: [u8; 4]) -> axum::http::request::Builder {
    Request::builder()
        .method(method)
        .uri(path)
        .header(header::HOST, HOST)
        .extension(ConnectInfo(SocketAddr::from((from, 50_000))))
}

struct Answer {
    status: StatusCode,
    headers: axum::http::HeaderMap,
    bytes: Vec<u8>,
}

impl Answer {
    fn text(&self) -> String {
        String::from_utf8_lossy(&self.bytes).replace('\u{a0}', " ")
    }
    fn to(&self) -> &str {
        let to = self.headers.get(header::LOCATION);
        to.and_then(|v| v.to_str().ok()).unwrap_or_default()
    }
}

async fn send(app: &Shared, request: Request<Body>) -> Answer {
    let answer = router(Arc::clone(app))
        .oneshot(request)
        .await
        .expect("an answer");
    let (parts, body) = answer.into_parts();
    Answer {
        status: parts.status,
        headers: parts.headers,
        bytes: to_bytes(body, usize::MAX).await.expect("a body").to_vec(),
    }
}

async fn get(app: &Shared, path: &str) -> Answer {
    let request = request(Method::GET, path, HERE).body(Body::empty());
    send(app, request.expect("a request")).await
}

fn form(fields: &[(&str, &str)]) -> Body {
    let mut out = form_urlencoded::Serializer::new(String::new());
    out.extend_pairs(fields);
    Body::from(out.finish())
}

async fn post(app: &Shared, path: &str, fields: &[(&str, &str)]) -> Answer {
    let state = app.kitchen.state();
    post_from(app, &state, path, fields).await
}

/// Sends a form of a page that shows the kitchen in some state.
async fn post_from(app: &Shared, state: &str, path: &str, fields: &[(&str, &str)]) -> Answer {
    let mut all = vec![("seal", SEAL), ("state", state)];
    all.extend_from_slice(fields);
    let request = request(Method::POST, path, HERE)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .body(form(&all));
    send(app, request.expect("a request")).await
}

async fn upload(app: &Shared, name: &str, bytes: &[u8]) -> Answer {
    upload_to(app, "/kitchen/import", name, bytes).await
}

async fn upload_to(app: &Shared, path: &str, name: &str, bytes: &[u8]) -> Answer {
    let mut body = Vec::new();
    body.extend(b"--x\r\nContent-Disposition: form-data; name=\"seal\"\r\n\r\n");
    body.extend(SEAL.as_bytes());
    body.extend(
        format!("\r\n--x\r\nContent-Disposition: form-data; name=\"file\"; filename=\"{name}\"\r\nContent-Type: application/zip\r\n\r\n").as_bytes(),
    );
    body.extend(bytes);
    body.extend(b"\r\n--x--\r\n");
    let request = request(Method::POST, path, HERE)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .header(header::CONTENT_TYPE, "multipart/form-data; boundary=x")
        .body(Body::from(body));
    send(app, request.expect("a request")).await
}

#[tokio::test]
async fn only_own_names_and_own_forms_are_answered() {
    let app = app();
    let with = |host: &str, origin: Option<&str>, site: Option<&str>| {
        let mut r = Request::builder()
            .method(Method::POST)
            .uri("/kitchen/backup")
            .header(header::HOST, host)
            .extension(ConnectInfo(SocketAddr::from((HERE, 50_000))));
        if let Some(o) = origin {
            r = r.header(header::ORIGIN, o);
        }
        if let Some(s) = site {
            r = r.header("sec-fetch-site", s);
        }
        r.body(form(&[("seal", SEAL)])).expect("a request")
    };
    let own = format!("http://{HOST}");
    for (host, origin, site, want) in [
        (HOST, Some(own.as_str()), None, StatusCode::SEE_OTHER),
        (HOST, None, Some("same-origin"), StatusCode::SEE_OTHER),
        (HOST, None, None, StatusCode::SEE_OTHER),
        (
            HOST,
            Some("http://evil.example"),
            None,
            StatusCode::FORBIDDEN,
        ),
        (HOST, Some("null"), None, StatusCode::FORBIDDEN),
        (
            HOST,
            Some("https://127.0.0.1:7420"),
            None,
            StatusCode::FORBIDDEN,
        ),
        (
            HOST,
            Some("http://127.0.0.1:9999"),
            None,
            StatusCode::FORBIDDEN,
        ),
        (HOST, None, Some("cross-site"), StatusCode::FORBIDDEN),
        (HOST, None, Some("same-site"), StatusCode::FORBIDDEN),
        (
            "evil.example:7420",
            Some("http://evil.example:7420"),
            None,
            StatusCode::FORBIDDEN,
        ),
        (
            "127.0.0.1",
            Some("http://127.0.0.1"),
            None,
            StatusCode::FORBIDDEN,
        ),
        ("", Some("http://"), None, StatusCode::FORBIDDEN),
    ] {
        let answer = send(&app, with(host, origin, site)).await;
        assert_eq!(answer.status, want, "{host} {origin:?} {site:?}");
    }
    let unsealed = request(Method::POST, "/kitchen/backup", HERE)
        .header(header::ORIGIN, &own)
        .body(form(&[("seal", "guessed")]));
    assert_eq!(
        send(&app, unsealed.expect("a request")).await.status,
        StatusCode::FORBIDDEN
    );
    let page = get(&app, "/kitchen").await;
    for name in [
        "content-security-policy",
        "x-content-type-options",
        "cross-origin-resource-policy",
        "cache-control",
    ] {
        assert!(page.headers.contains_key(name), "{name}");
    }
    let none = request(Method::GET, "/", TABLET)
        .body(Body::empty())
        .expect("a request");
    assert_eq!(
        send(&app, none).await.status,
        StatusCode::FORBIDDEN,
        "not shared"
    );
}

#[tokio::test]
async fn the_home_network_gets_in_by_the_passphrase_alone() {
    let app = app_in(Kitchen::in_memory().expect("a kitchen"), true);
    let share = app.share.as_ref().expect("a door");
    let ask = |path: &str, cookie: &str| {
        request(Method::GET, path, TABLET)
            .header(header::COOKIE, cookie)
            .body(Body::empty())
            .expect("a request")
    };
    for path in [
        "/",
        "/kitchen",
        "/kitchen/export",
        "/recipe/1/read",
        "/openx",
        "/assets",
    ] {
        let answer = send(&app, ask(path, "unwheat_door=")).await;
        assert_eq!(
            (answer.status, answer.to()),
            (StatusCode::SEE_OTHER, "/open"),
            "{path}"
        );
    }
    let door = send(&app, ask("/open", "")).await;
    assert_eq!(door.status, StatusCode::OK);
    assert!(
        !door.text().contains(SEAL),
        "strangers do not learn the seal"
    );
    assert_eq!(
        send(&app, ask("/assets/workbench.css", "")).await.status,
        StatusCode::OK
    );
    let unknown = request(Method::POST, "/kitchen/backup", TABLET)
        .header(header::ORIGIN, format!("http://{HOST}"))
        .body(form(&[("seal", SEAL)]));
    assert_eq!(send(&app, unknown.expect("a request")).await.to(), "/open");
    assert!(ids(&app).expect("recipes").is_empty());
    let give = |words: &str| {
        request(Method::POST, "/open", TABLET)
            .header(header::ORIGIN, format!("http://{HOST}"))
            .body(form(&[("passphrase", words)]))
            .expect("a request")
    };
    assert_eq!(
        send(&app, give("acorn acorn acorn acorn")).await.status,
        StatusCode::FORBIDDEN
    );
    let opened = send(&app, give(&share.passphrase)).await;
    assert_eq!(opened.status, StatusCode::SEE_OTHER);
    let cookie = opened.headers[header::SET_COOKIE]
        .to_str()
        .expect("a cookie");
    assert!(cookie.contains("HttpOnly") && cookie.contains("SameSite=Strict"));
    let pair = cookie.split(';').next().expect("a pair").to_owned();
    let page = send(&app, ask("/kitchen", &pair)).await;
    assert_eq!(page.status, StatusCode::OK);
    let text = page.text();
    assert!(
        !text.contains(&share.passphrase) && !text.contains("<svg"),
        "not for other devices"
    );
    assert!(!text.contains("/demo"), "the demo is on this machine alone");
    let demo = send(&app, ask("/demo", &pair)).await;
    assert_eq!(demo.status, StatusCode::FORBIDDEN);
    let here = get(&app, "/kitchen").await.text();
    assert!(here.contains(&share.passphrase) && here.contains("QR code of http://192.0.2.7:7420"));
}
