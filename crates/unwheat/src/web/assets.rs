//! What pages load: style, scripts, fonts. Built into the program.

use super::fault::Fault;
use axum::extract::Path;
use axum::http::header;
use axum::response::{IntoResponse, Response};

const ASSETS: &[(&str, &str, &[u8])] = &[
    (
        "workbench.css",
        "text/css; charset=utf-8",
        include_bytes!("../../assets/workbench.css"),
    ),
    (
        "picture.css",
        "text/css; charset=utf-8",
        include_bytes!("../../assets/picture.css"),
    ),
    (
        "card.css",
        "text/css; charset=utf-8",
        card::STYLE.as_bytes(),
    ),
    (
        "print-bar.css",
        "text/css; charset=utf-8",
        include_bytes!("../../assets/print-bar.css"),
    ),
    (
        "print-bar.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/print-bar.js"),
    ),
    (
        "live.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/live.js"),
    ),
    (
        "patch.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/patch.js"),
    ),
    (
        "needed.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/needed.js"),
    ),
    (
        "went-back.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/went-back.js"),
    ),
    (
        "left-at-bench.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/left-at-bench.js"),
    ),
    (
        "drop.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/drop.js"),
    ),
    (
        "mark.svg",
        "image/svg+xml",
        include_bytes!("../../assets/mark.svg"),
    ),
    (
        "next.woff2",
        "font/woff2",
        include_bytes!("../../assets/fonts/next.woff2"),
    ),
    (
        "next-ext.woff2",
        "font/woff2",
        include_bytes!("../../assets/fonts/next-ext.woff2"),
    ),
    (
        "mono.woff2",
        "font/woff2",
        include_bytes!("../../assets/fonts/mono.woff2"),
    ),
    (
        "larder.css",
        "text/css; charset=utf-8",
        include_bytes!("../../assets/larder.css"),
    ),
    (
        "days.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/days.js"),
    ),
    (
        "bench.css",
        "text/css; charset=utf-8",
        include_bytes!("../../assets/bench.css"),
    ),
    (
        "bench.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/bench.js"),
    ),
    (
        "bench-worker.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/bench-worker.js"),
    ),
    (
        "finish.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/finish.js"),
    ),
    (
        "timers.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/timers.js"),
    ),
    (
        "awake.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/awake.js"),
    ),
    (
        "kitchen.css",
        "text/css; charset=utf-8",
        include_bytes!("../../assets/kitchen.css"),
    ),
    (
        "blend.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/blend.js"),
    ),
    (
        "ask-first.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/ask-first.js"),
    ),
    (
        "typed.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/typed.js"),
    ),
    (
        "card.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/card.js"),
    ),
    (
        "shop.css",
        "text/css; charset=utf-8",
        include_bytes!("../../assets/shop.css"),
    ),
    (
        "shop.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/shop.js"),
    ),
    (
        "work-out.js",
        "text/javascript; charset=utf-8",
        include_bytes!("../../assets/work-out.js"),
    ),
];

/// Serves one.
pub async fn asset(Path(name): Path<String>) -> Result<Response, Fault> {
    let (_, kind, bytes) = ASSETS
        .iter()
        .find(|a| a.0 == name)
        .ok_or_else(|| Fault::Missing("such file".to_owned()))?;
    Ok((
        [
            (header::CONTENT_TYPE, *kind),
            // A newer program brings newer files under the same names.
            (header::CACHE_CONTROL, "no-cache"),
        ],
        *bytes,
    )
        .into_response())
}
