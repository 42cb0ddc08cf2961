//! The bench: a batch is started, weighed and timed at the tablet, and finished with its record.

pub mod batch_sheet;
mod finish;
mod next;
mod since;
mod start;
mod timers;
mod undone;
mod view;

pub use finish::{Bake, OVENS};
pub use next::twins_of;
pub use start::{Of, begun, body as start};

use super::app::{App, Shared, run};
use super::assets::asset;
use super::fault::Fault;
use super::page::back_to;
use super::post::{Named, Post, figure};
use axum::extract::{Path, RawQuery, State};
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post as on_post};
use axum::{Json, Router};
use batch_sheet::BatchSheet;
use serde::Deserialize;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use store::{Batch, Mark, StoreError, Timer};

/// Its ways in.
pub fn routes() -> Router<Shared> {
    Router::new()
        .route("/recipe/{id}/batch", on_post(start::begin))
        // Under the bench's own path, and so of its pages alone.
        .route(
            "/bench/worker.js",
            get(|| asset(Path("bench-worker.js".to_owned()))),
        )
        .route("/bench/{id}", get(show))
        .route("/bench/{id}/state", get(tell))
        .route("/bench/{id}/send", on_post(send))
        .route("/bench/{id}/mark", on_post(mark))
        .route("/bench/{id}/timer", on_post(timers::set))
        .route("/bench/{id}/finish", get(finish::ask).post(finish::keep))
}

/// What a form of a batch carries: which one it is of, by when it was begun.
pub fn seal(app: &App, batch: &Batch) -> maud::Markup {
    maud::html! {
        (super::page::seal(app))
        input type="hidden" name="begun" value=(batch.started);
    }
}

/// The style of the Bench and Bakes pages and of the bench itself.
pub fn style() -> maud::Markup {
    maud::html! { link rel="stylesheet" href="/assets/bench.css"; }
}

/// A batch as the bench sees it.
#[derive(Default)]
pub struct Bench {
    /// The batch.
    pub batch: Batch,
    /// Its plan.
    pub plan: BatchSheet,
    /// The item whose weight was typed over by a form just now, and what stood there before.
    pub before: Option<(String, Option<f64>)>,
}

impl Bench {
    /// Opens a batch.
    pub fn open(app: &App, id: i64) -> Result<Self, Fault> {
        Self::of(app.kitchen.batch(id)?)
    }
    /// A batch with its sheet.
    pub fn of(batch: Batch) -> Result<Self, Fault> {
        let kept = serde_json::from_value(batch.plan.clone());
        let mut plan: BatchSheet = kept.map_err(Fault::inside)?;
        plan.renew();
        plan.in_order();
        Ok(Self {
            plan,
            batch,
            before: None,
        })
    }
    /// Opens the batch that a form of the bench is of. Its number alone does not tell: after the kitchen
    /// went back to a backup another batch may have it, so that the form says when its own was begun.
    pub fn of_form(app: &App, id: i64, post: &Post) -> Result<Self, Fault> {
        let bench = Self::open(app, id).map_err(|fault| match fault {
            Fault::Missing(_) => post.went_back(),
            other => other,
        })?;
        if post.text("begun") == bench.batch.started.to_string() {
            Ok(bench)
        } else {
            Err(post.went_back())
        }
    }
    /// What was done about an item.
    pub fn mark(&self, item: &str) -> Option<&Mark> {
        self.batch.marks.iter().find(|m| m.item == item)
    }
    /// Whether an item is ticked.
    pub fn ticked(&self, item: &str) -> bool {
        self.mark(item).is_some_and(|m| m.ticked)
    }
    /// Whether an item is done: what the scale showed was weighed, ticked or not.
    pub fn is_done(&self, item: &str) -> bool {
        self.mark(item)
            .is_some_and(|m| m.ticked || m.actual.is_some())
    }
    /// Lines of a component that are weighed, and all of them.
    pub fn done(&self, part: &batch_sheet::Part) -> (usize, usize) {
        let done = part.lines.iter().filter(|l| self.is_done(&l.item)).count();
        (done, part.lines.len())
    }
    /// The version in words.
    pub fn version(&self) -> String {
        self.batch
            .version
            .map_or_else(|| "draft".to_owned(), |v| format!("version {v}"))
    }
    /// What another device must know.
    fn state(&self, app: &App) -> Result<Value, Fault> {
        let marks: BTreeMap<&str, Value> = self
            .batch
            .marks
            .iter()
            .map(|m| {
                (
                    m.item.as_str(),
                    json!({ "ticked": m.ticked, "actual": m.actual, "at": m.at }),
                )
            })
            .collect();
        Ok(json!({
            "now": app.now_ms(),
            "kitchen": &*app.kitchen.state(),
            "begun": self.batch.started,
            "finished": self.batch.finished.is_some(),
            "stop": since::stop(app, self)?,
            "marks": marks,
            "timers": self.batch.timers,
        }))
    }
}

/// The bench view.
async fn show(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    query: RawQuery,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let mut bench = Bench::open(app, id)?;
        if bench.batch.finished.is_some() {
            return Ok(back_to(&format!(
                "/recipe/{}/bakes#b{id}",
                bench.batch.recipe
            )));
        }
        // Nothing but this page shows the hours of its day.
        next::of_day(app, &bench.batch, &mut bench.plan)?;
        let query = query.0.unwrap_or_default();
        let asked = |key: &str| {
            let mut pairs = form_urlencoded::parse(query.as_bytes());
            pairs.find(|(k, _)| k == key).map(|(_, v)| v.into_owned())
        };
        let part = asked("part").and_then(|v| v.parse::<usize>().ok());
        let part = part.unwrap_or(1);
        bench.before = asked("over").map(|item| {
            let grams = asked("before").and_then(|v| v.parse().ok());
            (item, weighed(grams).unwrap_or(None))
        });
        view::show(
            app,
            &bench,
            part.clamp(1, bench.plan.components.len().max(1)) - 1,
        )
    })
    .await
}

/// What was done so far, for the other device.
async fn tell(State(app): State<Shared>, Path(id): Path<i64>) -> Result<Response, Fault> {
    run(app, move |app| {
        Ok(Json(Bench::open(app, id)?.state(app)?).into_response())
    })
    .await
}

/// Something done at a device, kept there until the laptop answered.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(tag = "do", rename_all = "lowercase")]
enum Done {
    /// A line ticked, or not any more.
    Tick { item: String, ticked: bool, at: i64 },
    /// What the scale showed; none where the note is taken back.
    Actual {
        item: String,
        actual: Option<f64>,
        at: i64,
    },
    /// A timer as it stands.
    Timer { timer: Timer },
}

/// More timers than any bench has.
const MOST_TIMERS: usize = 100;
/// Longest words of a timer.
const LABEL: usize = 80;
/// More than a tub.
const MOST_GRAMS: f64 = 100_000.0;

/// Takes what a device kept. Sent twice it does no harm. The answer is what is true now.
async fn send(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    Named(post): Named,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let list: Vec<Value> = serde_json::from_str(post.raw("done")).map_err(|_| {
            Fault::bad("the tablet's notes did not arrive whole: load the page again")
        })?;
        let bench = Bench::of_form(app, id, &post)?;
        let mut lost = 0u32;
        for value in list.into_iter().take(2000) {
            let Ok(done) = serde_json::from_value::<Done>(value) else {
                lost += 1;
                continue;
            };
            match take(app, &bench, done) {
                Ok(()) => {}
                Err(Fault::Inside(e)) => return Err(Fault::Inside(e)),
                Err(_) => lost += 1,
            }
        }
        let mut state = Bench::open(app, id)?.state(app)?;
        state["lost"] = json!(lost);
        Ok(Json(state).into_response())
    })
    .await
}

fn take(app: &App, bench: &Bench, done: Done) -> Result<(), Fault> {
    let id = bench.batch.id;
    let known = |yes: bool| {
        yes.then_some(())
            .ok_or_else(|| Fault::Missing("such line".to_owned()))
    };
    // A device whose clock is ahead must not hold a line for ever.
    let not_after = |at: i64| at.min(app.now_ms());
    match done {
        Done::Tick { item, ticked, at } => {
            known(bench.plan.knows(&item))?;
            app.kitchen
                .mark(id, &item, Some(ticked), None, not_after(at))?;
        }
        Done::Actual { item, actual, at } => {
            known(bench.plan.item(&item).is_some())?;
            let actual = weighed(actual)?;
            app.kitchen
                .mark(id, &item, None, Some(actual), not_after(at))?;
        }
        Done::Timer { mut timer } => {
            let old = bench.batch.timers.iter().find(|t| t.uid == timer.uid);
            // A timer once stopped stays stopped: an older word from another device is late.
            if old.is_some_and(|t| t.done) {
                return Ok(());
            }
            let sane = timer.uid.len() <= 64 && (0.0..=604_800.0).contains(&timer.seconds);
            if !sane || old.is_none() && bench.batch.timers.len() >= MOST_TIMERS {
                return Err(Fault::bad("that timer cannot be kept"));
            }
            timer.label = timer.label.chars().take(LABEL).collect();
            app.kitchen.put_timer(id, &timer)?;
        }
    }
    Ok(())
}

fn weighed(actual: Option<f64>) -> Result<Option<f64>, Fault> {
    match actual {
        Some(g) if !(0.0..=MOST_GRAMS).contains(&g) => Err(Fault::bad(format!(
            "{g} g cannot be what the scale showed: write grams, like 310 or 2.5"
        ))),
        other => Ok(other),
    }
}

/// A tick or a weight by a form, where there are no scripts.
async fn mark(
    State(app): State<Shared>,
    Path(id): Path<i64>,
    Named(post): Named,
) -> Result<Response, Fault> {
    run(app, move |app| {
        let bench = Bench::of_form(app, id, &post)?;
        let item = post.text("item").to_owned();
        let at = app.now_ms();
        if !bench.plan.knows(&item) {
            return Err(Fault::Missing("such line".to_owned()));
        }
        let mut over = String::new();
        if post.has("actual") && bench.plan.item(&item).is_some() {
            let actual = weighed(figure(
                post.text("actual"),
                "what the scale showed, in grams",
            )?)?;
            app.kitchen.mark(id, &item, None, Some(actual), at)?;
            let before = bench.mark(&item).and_then(|m| m.actual);
            if before != actual {
                let before = before.map(|g| g.to_string()).unwrap_or_default();
                let mut pairs = form_urlencoded::Serializer::new(String::new());
                pairs.extend_pairs([("over", &item), ("before", &before)]);
                over = format!("&{}", pairs.finish());
            }
        }
        if let Some(ticked) = post.some("ticked") {
            for (item, ticked) in bench.plan.ticks(&item, ticked == "1", |k| bench.ticked(k)) {
                app.kitchen.mark(id, &item, Some(ticked), None, at)?;
            }
        }
        // From the page of the day that it is of.
        if let Ok(day) = post.text("day").parse::<i64>() {
            return Ok(back_to(&format!("/days/{day}")));
        }
        Ok(back_to_part(id, &post, &over))
    })
    .await
}

/// Back to the part and the place of a batch that a form was sent from, with `more` in the address.
fn back_to_part(id: i64, post: &Post, more: &str) -> Response {
    let (part, anchor) = (post.text("part"), post.text("anchor"));
    let plain = |s: &str| s.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'-');
    if plain(part) && plain(anchor) {
        back_to(&format!("/bench/{id}?part={part}{more}#{anchor}"))
    } else {
        back_to(&format!("/bench/{id}"))
    }
}

/// Another device was quicker.
fn finished_already(e: StoreError, recipe: i64, id: i64) -> Result<Response, Fault> {
    match e {
        StoreError::Finished => Ok(back_to(&format!("/recipe/{recipe}/bakes#b{id}"))),
        other => Err(other.into()),
    }
}
