//! The workbench: pages on this machine, for one kitchen.

mod app;
mod assets;
mod bakes;
mod bench;
mod blends;
mod days;
mod evidence;
mod fault;
mod figures;
mod guard;
mod home;
mod kitchen;
mod larder_page;
mod no_recipe;
mod page;
pub mod picture;
mod post;
mod recipe;
mod share;
mod shop;
mod timed;

use app::{App, Shared, run};
use axum::Router;
use axum::extract::{DefaultBodyLimit, Path, State};
use axum::response::Response;
use axum::routing::{get, post as on_post};
use fault::Fault;
use larder::Larder;
use recipe::Leaf;
use share::Share;
use std::io::{IsTerminal, Write};
use std::net::{Ipv4Addr, SocketAddr, UdpSocket};
use std::path::{Path as FilePath, PathBuf};
use std::sync::Arc;
use store::Kitchen;

/// How the workbench is started.
#[derive(Debug, Clone)]
pub struct Start {
    /// Folder of the kitchen; the user's data folder when left out.
    pub kitchen: Option<PathBuf>,
    /// Port; any free one for 0.
    pub port: u16,
    /// Open to the home network, behind a passphrase.
    pub share: bool,
    /// Do not open a browser.
    pub stay: bool,
}

/// Why the workbench does not start.
#[derive(Debug)]
pub struct StartError(String);

impl std::fmt::Display for StartError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

fn cannot(what: impl std::fmt::Display, mend: &str) -> StartError {
    StartError(format!("{what}\n  {mend}"))
}

/// The folder of the kitchen when none is named.
fn usual_folder() -> Result<PathBuf, StartError> {
    dirs::data_dir().map(|d| d.join("unwheat")).ok_or_else(|| {
        cannot(
            "this machine names no data folder",
            "give one with --kitchen FOLDER",
        )
    })
}

/// A secret that stays with the kitchen, so that pages left open survive a restart.
fn seal_of(folder: &FilePath) -> Result<String, StartError> {
    let path = folder.join("seal");
    if let Ok(text) = std::fs::read_to_string(&path) {
        let text = text.trim();
        if text.len() >= 32 {
            return Ok(text.to_owned());
        }
    }
    let fresh = home::uid().map_err(|_| {
        cannot(
            "this machine gives no random numbers",
            "start it again, or on another machine",
        )
    })?;
    std::fs::write(&path, &fresh).map_err(|e| {
        cannot(
            format!("{} cannot be written: {e}", path.display()),
            "make the folder writable, or name another with --kitchen FOLDER",
        )
    })?;
    Ok(fresh)
}

/// This machine's address on the home network. Nothing is sent.
fn home_address() -> Option<Ipv4Addr> {
    let socket = UdpSocket::bind((Ipv4Addr::UNSPECIFIED, 0)).ok()?;
    // TEST-NET-1 (RFC 5737): only asks the system which way out it would take.
    socket.connect((Ipv4Addr::new(192, 0, 2, 1), 9)).ok()?;
    match socket.local_addr().ok()? {
        SocketAddr::V4(a) if !a.ip().is_loopback() && !a.ip().is_unspecified() => Some(*a.ip()),
        _ => None,
    }
}

/// Starts the workbench and serves until it is stopped.
pub fn serve(start: &Start, built_in: Larder) -> Result<(), StartError> {
    let folder = match &start.kitchen {
        Some(f) => f.clone(),
        None => usual_folder()?,
    };
    let kitchen = Kitchen::open(&folder).map_err(|e| StartError(e.to_string()))?;
    let seal = seal_of(&folder)?;
    let ip = if start.share {
        Ipv4Addr::UNSPECIFIED
    } else {
        Ipv4Addr::LOCALHOST
    };
    let listener = std::net::TcpListener::bind((ip, start.port)).map_err(|e| {
        cannot(
            format!("port {} is not free: {e}", start.port),
            &format!(
                "another workbench may be running: open http://127.0.0.1:{} in a browser, or give another port with --port",
                start.port
            ),
        )
    })?;
    let port = listener
        .local_addr()
        .map_err(|e| cannot(e, "try again"))?
        .port();
    let mut hosts = vec![format!("127.0.0.1:{port}"), format!("localhost:{port}")];
    if port == 80 {
        // Browsers leave the usual port out.
        hosts.extend(["127.0.0.1".to_owned(), "localhost".to_owned()]);
    }
    let share = if start.share {
        let Some(address) = home_address() else {
            return Err(cannot(
                "this machine is on no network to share with",
                "connect it to the home network, or start without --share",
            ));
        };
        hosts.push(format!("{address}:{port}"));
        if port == 80 {
            hosts.push(address.to_string());
        }
        Some(Share::new(format!("http://{address}:{port}")).map_err(|_| {
            cannot(
                "this machine gives no random numbers",
                "start without --share",
            )
        })?)
    } else {
        None
    };
    let address = format!("http://127.0.0.1:{port}");
    let mut out = std::io::stdout().lock();
    let told = share
        .as_ref()
        .map_or(String::new(), |s| share::told(s, out.is_terminal()));
    // Nobody may be reading: started from a menu, there is no terminal.
    let _ = write!(
        out,
        "The workbench is at {address}\nThe kitchen is kept in {}\n{told}Stop it with Ctrl+C.\n",
        folder.display()
    )
    .and_then(|()| out.flush());
    drop(out);
    let app =
        App::new(kitchen, built_in, seal, hosts, share).map_err(|f| StartError(f.told().2))?;
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .worker_threads(2)
        .enable_all()
        .build()
        .map_err(|e| cannot(e, "try again"))?;
    runtime.block_on(async {
        listener
            .set_nonblocking(true)
            .map_err(|e| cannot(e, "try again"))?;
        let listener =
            tokio::net::TcpListener::from_std(listener).map_err(|e| cannot(e, "try again"))?;
        let app = Arc::new(app);
        tokio::spawn(kitchen::keep_backups(Arc::clone(&app)));
        if !start.stay {
            // No browser is no trouble: the address stands above.
            let _ = open::that_detached(&address);
        }
        axum::serve(
            listener,
            router(app).into_make_service_with_connect_info::<SocketAddr>(),
        )
        .with_graceful_shutdown(async {
            let _ = tokio::signal::ctrl_c().await;
        })
        .await
        .map_err(|e| cannot(e, "start it again"))
    })
}

/// Every way in.
pub fn router(app: Shared) -> Router {
    const PAGE: usize = 24 << 20;
    const ARCHIVE: usize = 220 << 20;
    Router::new()
        .route("/", get(home::home))
        .route("/bin", get(home::bin))
        .route(
            "/recipes",
            on_post(home::add).layer(DefaultBodyLimit::max(PAGE)),
        )
        .route("/recipe/{id}", get(first_leaf))
        .route("/recipe/{id}/{leaf}", get(leaf))
        .route("/recipe/{id}/plan", get(recipe::plan::page))
        .route("/recipe/{id}/plan.ics", get(recipe::plan::calendar))
        .route("/recipe/{id}/prices", on_post(recipe::prices::keep))
        .route("/recipe/{id}/serve", on_post(recipe::plan::serve))
        .route("/recipe/{id}/card.html", get(recipe::card::file))
        .route("/recipe/{id}/figures.json", get(recipe::card::json))
        .route("/recipe/{id}/compare", get(recipe::versions::compare))
        .route(
            "/recipe/{id}/change",
            on_post(recipe::change::change).layer(DefaultBodyLimit::max(PAGE)),
        )
        .route("/recipe/{id}/undo", on_post(recipe::change::undo))
        .route("/recipe/{id}/save", on_post(recipe::versions::save))
        .route("/recipe/{id}/return", on_post(recipe::versions::go_back))
        .route("/recipe/{id}/part", on_post(recipe::versions::take_part))
        .route("/recipe/{id}/bin", on_post(recipe::versions::bin))
        .route("/evidence", get(evidence::show))
        .route("/open", get(share::ask).post(share::give))
        .route("/assets/{name}", get(assets::asset))
        .route(
            "/favicon.ico",
            get(|| assets::asset(Path("mark.svg".to_owned()))),
        )
        .merge(bench::routes())
        .merge(bakes::routes())
        .merge(larder_page::routes())
        .merge(blends::routes())
        .merge(shop::routes())
        .merge(days::routes())
        .merge(kitchen::routes().layer(DefaultBodyLimit::max(ARCHIVE)))
        .fallback(nothing)
        .layer(axum::middleware::from_fn_with_state(
            Arc::clone(&app),
            guard::door,
        ))
        .with_state(app)
}

async fn nothing() -> Fault {
    Fault::Missing("such page".to_owned())
}

async fn first_leaf(State(app): State<Shared>, Path(id): Path<i64>) -> Result<Response, Fault> {
    run(app, move |app| {
        let row = app.kitchen.row(id)?;
        let stage = Leaf::of_stage(&row.stage);
        Ok(page::back_to(&format!("/recipe/{id}/{}", stage.slug())))
    })
    .await
}

async fn leaf(
    State(app): State<Shared>,
    Path((id, slug)): Path<(i64, String)>,
) -> Result<Response, Fault> {
    let leaf = Leaf::from_slug(&slug).ok_or_else(|| Fault::Missing("such page".to_owned()))?;
    run(app, move |app| recipe::show(app, id, leaf)).await
}
