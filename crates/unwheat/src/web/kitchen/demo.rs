//! The demo kitchen: recipes of an invented test kitchen at different stages, with its blends,
//! larder entries and bakes. It is a kitchen of its own, with a workbench of its own: what is invented
//! never comes among a user's foods.
//!
//! What happened in it stands in `demo/kitchen.json` as one would tell it: which text came in,
//! what was settled, held and saved, by whom and when. The archive is made of that here, so that
//! every figure in it is one that the program works out.

use super::{ids, is_here, page, refresh};
use crate::day::clock::{Clock, DAY, of_day};
use crate::web::app::{App, Shared, run};
use crate::web::bench::Bake;
use crate::web::bench::batch_sheet::{Line, batch_sheet};
use crate::web::fault::{Fault, log};
use crate::web::figures::figures;
use crate::web::page::back_to;
use crate::web::post::Post;
use crate::web::recipe::standing::summary;
use axum::extract::{ConnectInfo, State};
use axum::response::Response;
use larder::{Larder, OwnEntry};
use maud::{Markup, html};
use quantity::Locale;
use recipe::rework::blend::{Blend, OwnBlend};
use recipe::sheet::{Change, Part, PartUse, Sheet, Worked, key_of, work};
use serde::Deserialize;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::net::{Ipv4Addr, SocketAddr, TcpListener};
use std::path::Path;
use std::sync::Arc;
use store::{Imported, Kitchen, Mark, OwnChange, Settings, Version};

/// Its name.
const NAME: &str = "Harrow Lane test kitchen";

const TOLD: &str = include_str!("../../../demo/kitchen.json");

const TEXTS: [(&str, &str); 9] = [
    (
        "honey-cake.txt",
        include_str!("../../../demo/honey-cake.txt"),
    ),
    (
        "pumpkin-damper.txt",
        include_str!("../../../demo/pumpkin-damper.txt"),
    ),
    (
        "lemon-cake.txt",
        include_str!("../../../demo/lemon-cake.txt"),
    ),
    ("tin-loaf.txt", include_str!("../../../demo/tin-loaf.txt")),
    (
        "griddle-scones.txt",
        include_str!("../../../demo/griddle-scones.txt"),
    ),
    (
        "soft-dough.txt",
        include_str!("../../../demo/soft-dough.txt"),
    ),
    ("plum-buns.txt", include_str!("../../../demo/plum-buns.txt")),
    (
        "chive-knots.txt",
        include_str!("../../../demo/chive-knots.txt"),
    ),
    (
        "mustard-sauce.txt",
        include_str!("../../../demo/mustard-sauce.txt"),
    ),
];

/// What happened in the demo kitchen.
#[derive(Deserialize)]
struct Told {
    settings: Value,
    larder: Vec<ToldEntry>,
    blends: Vec<ToldBlend>,
    recipes: Vec<ToldRecipe>,
    batches: Vec<ToldBatch>,
    days: Vec<ToldDay>,
}

/// A day that is planned for so many days after the demo is opened.
#[derive(Deserialize)]
struct ToldDay {
    uid: String,
    title: String,
    who: String,
    days_ahead: i64,
    /// `11:00`.
    ready: String,
    /// Recipe, version, times its batch.
    recipes: Vec<(String, u32, f64)>,
}

#[derive(Deserialize)]
struct ToldEntry {
    at: String,
    who: String,
    why: String,
    entry: OwnEntry,
}

#[derive(Deserialize)]
struct ToldBlend {
    at: String,
    who: String,
    why: String,
    blend: OwnBlend,
}

#[derive(Deserialize)]
struct ToldRecipe {
    uid: String,
    text: String,
    locale: Measures,
    who: String,
    at: String,
    work: Vec<Done>,
}

/// Whose cups and spoons, by their key.
#[derive(Deserialize)]
#[serde(try_from = "String")]
struct Measures(Locale);

impl TryFrom<String> for Measures {
    type Error = String;
    fn try_from(key: String) -> Result<Self, String> {
        key.parse()
            .map(Self)
            .map_err(|_| format!("no locale is called '{key}'"))
    }
}

/// What was done about a recipe.
#[derive(Deserialize)]
#[serde(rename_all = "snake_case")]
enum Done {
    /// All that was unsure is taken as read.
    Settled,
    /// A line, by some of its words, was weighed.
    Weighed(String, f64),
    /// A line of the rework is held: component, line's key, grams.
    Held(String, String, f64),
    /// A blend was chosen: component, blend.
    Blend(String, String),
    /// A component of another recipe was taken in at a version.
    TookIn(String, u32),
    /// A version was saved.
    Saved {
        at: String,
        who: String,
        why: String,
    },
}

#[derive(Deserialize)]
struct ToldBatch {
    recipe: String,
    version: u32,
    factor: f64,
    who: String,
    started: String,
    #[serde(default)]
    finished: Option<String>,
    /// How many weights are ticked, from the first; all where left out.
    #[serde(default)]
    ticked: Option<usize>,
    /// What was really weighed, by a line's name.
    #[serde(default)]
    weighed: BTreeMap<String, f64>,
    #[serde(default)]
    bake: Option<Bake>,
}

/// '2026-10-03 09:10', told in UTC.
fn time(text: &str) -> Result<i64, Fault> {
    let at = jiff::civil::DateTime::strptime("%Y-%m-%d %H:%M", text)
        .and_then(|t| jiff::tz::TimeZone::UTC.to_timestamp(t))
        .map_err(|e| Fault::inside(format!("demo kitchen, '{text}': {e}")))?;
    Ok(at.as_second())
}

fn wrong(uid: &str, why: impl std::fmt::Display) -> Fault {
    Fault::inside(format!("demo kitchen, {uid}: {why}"))
}

/// A recipe as it grows.
struct Growing<'a> {
    uid: &'a str,
    larder: &'a Larder,
    blends: &'a [Blend],
    /// Versions of the recipes before it, by uid, with their titles.
    others: &'a BTreeMap<String, (String, Vec<Sheet>)>,
    sheet: Sheet,
    versions: Vec<Version>,
}

impl Growing<'_> {
    fn work(&self) -> Result<Worked, Fault> {
        let part = |p: &PartUse| {
            let sheets = &self.others.get(&p.recipe)?.1;
            sheets.get(p.version as usize - 1).cloned().map(Part::from)
        };
        let parts: Option<Vec<Part>> = self.sheet.parts.iter().map(part).collect();
        let parts = parts.ok_or_else(|| wrong(self.uid, "a part is not there"))?;
        work(&self.sheet, &parts, self.larder, self.blends).map_err(|e| wrong(self.uid, e))
    }

    fn change(&mut self, change: &Change) -> Result<(), Fault> {
        self.sheet.change(change).map_err(|e| wrong(self.uid, e))
    }

    fn settle(&mut self) -> Result<(), Fault> {
        let w = self.work()?;
        let recipe = &w.formula.recipe;
        let mut all = Vec::new();
        let own = |c: usize| {
            let name = &recipe.components[c].name;
            !self
                .sheet
                .parts
                .iter()
                .any(|p| p.title.eq_ignore_ascii_case(name))
        };
        for (c, component) in recipe.components.iter().enumerate() {
            for (l, line) in component.lines.iter().enumerate() {
                let weighing = w.formula.doubts.iter().filter(|d| (d.0, d.1) == (c, l));
                for doubt in line.doubts.iter().chain(weighing.map(|d| &d.2)) {
                    if own(c) {
                        all.push(Change::Accept {
                            line: key_of(recipe, c, l),
                            code: doubt.code.code().to_owned(),
                            yes: true,
                        });
                    }
                }
            }
        }
        for doubt in &recipe.doubts {
            all.push(Change::AcceptWhole {
                code: doubt.code.code().to_owned(),
                yes: true,
            });
        }
        all.iter().try_for_each(|c| self.change(c))
    }

    fn weigh(&mut self, words: &str, grams: f64) -> Result<(), Fault> {
        let w = self.work()?;
        let recipe = &w.formula.recipe;
        let lines = recipe.components.iter().enumerate();
        let found = lines
            .flat_map(|(c, x)| x.lines.iter().enumerate().map(move |(l, y)| (c, l, y)))
            .find(|(_, _, y)| y.text.contains(words));
        let (c, l, _) = found.ok_or_else(|| wrong(self.uid, format!("no line says '{words}'")))?;
        self.change(&Change::Grams {
            line: key_of(recipe, c, l),
            place: 0,
            grams: Some(grams),
        })
    }

    fn hold(&mut self, component: &str, line: &str, grams: f64) -> Result<(), Fault> {
        let w = self.work()?;
        let found = w.rework.components.iter().find(|c| c.name == component);
        if !found.is_some_and(|c| c.lines.iter().any(|l| l.key == line)) {
            let keys: Vec<&str> = found
                .iter()
                .flat_map(|c| &c.lines)
                .map(|l| l.key.as_str())
                .collect();
            let why = format!(
                "'{component}' has no line {line}; it has {}",
                keys.join(", ")
            );
            return Err(wrong(self.uid, why));
        }
        self.change(&Change::Pin {
            component: component.to_owned(),
            line: line.to_owned(),
            hold: Some(recipe::rework::Hold::Grams(grams)),
        })
    }

    fn go(&mut self, done: &Done) -> Result<(), Fault> {
        match done {
            Done::Settled => self.settle(),
            Done::Weighed(words, grams) => self.weigh(words, *grams),
            Done::Held(component, line, grams) => self.hold(component, line, *grams),
            Done::Blend(component, blend) => self.change(&Change::Blend {
                component: component.clone(),
                blend: Some(blend.clone()),
            }),
            Done::TookIn(uid, version) => {
                let title = self.others.get(uid).map(|o| o.0.clone());
                let title = title.ok_or_else(|| wrong(self.uid, format!("no recipe {uid}")))?;
                self.change(&Change::TakePart {
                    part: PartUse {
                        recipe: uid.clone(),
                        version: *version,
                        title,
                    },
                })
            }
            Done::Saved { at, who, why } => {
                let figures = serde_json::to_value(figures(&self.work()?, self.larder))
                    .map_err(Fault::inside)?;
                self.versions.push(Version {
                    number: self.versions.len() as u32 + 1,
                    who: who.clone(),
                    at: time(at)?,
                    why: why.clone(),
                    sheet: self.sheet.clone(),
                    figures,
                    program: env!("CARGO_PKG_VERSION").to_owned(),
                });
                Ok(())
            }
        }
    }
}

/// The demo kitchen's files as an archive holds them.
///
/// `now`: Unix seconds.
fn files(built_in: &Larder, now: i64) -> Result<Vec<(String, Vec<u8>)>, Fault> {
    let told: Told = serde_json::from_str(TOLD).map_err(Fault::inside)?;
    let settings = Settings {
        kitchen: NAME.to_owned(),
        demo: true,
        ..over(&Settings::default(), &told.settings)?
    };
    let entries: Vec<OwnEntry> = told.larder.iter().map(|t| t.entry.clone()).collect();
    let larder = built_in.with_own(&latest(entries)).map_err(Fault::inside)?;
    let mut own_blends: BTreeMap<String, Vec<&ToldBlend>> = BTreeMap::new();
    for t in &told.blends {
        own_blends.entry(t.blend.key.clone()).or_default().push(t);
    }
    let mut blends = Vec::new();
    for versions in own_blends.values() {
        if let Some(last) = versions.last() {
            blends.push(last.blend.blend(&larder).map_err(Fault::inside)?);
        }
    }
    let mut out = Vec::new();
    let mut put = |name: String, value: &Value| -> Result<(), Fault> {
        out.push((name, serde_json::to_vec(value).map_err(Fault::inside)?));
        Ok(())
    };
    put(
        "kitchen.json".to_owned(),
        &json!({ "format": store::FORMAT, "format_version": store::FORMAT_VERSION, "settings": settings }),
    )?;
    put("larder.json".to_owned(), &larder_file(&told)?)?;
    put("blends.json".to_owned(), &blends_file(&own_blends)?)?;
    let mut others: BTreeMap<String, (String, Vec<Sheet>)> = BTreeMap::new();
    for t in &told.recipes {
        let text = TEXTS.iter().find(|x| x.0 == t.text);
        let text = text
            .ok_or_else(|| wrong(&t.uid, format!("no text {}", t.text)))?
            .1;
        let larder = larder.clone().in_words_of(t.locale.0);
        let mut growing = Growing {
            uid: &t.uid,
            larder: &larder,
            blends: &blends,
            others: &others,
            sheet: Sheet::new(text, t.locale.0),
            versions: Vec::new(),
        };
        for done in &t.work {
            growing.go(done)?;
        }
        let worked = growing.work();
        let worked = Ok(worked?);
        let line = summary(&worked, None, &larder, growing.versions.len() as u32, 0);
        let based_on = growing.versions.last().map(|v| v.number);
        let changed = growing.versions.last().map_or(time(&t.at)?, |v| v.at);
        let (sheet, versions) = (growing.sheet, growing.versions);
        put(
            format!("recipes/{}.json", t.uid),
            &json!({
                "uid": t.uid, "original": text, "who": t.who, "created": time(&t.at)?,
                "changed": changed, "summary": line, "draft": sheet, "based_on": based_on,
                "versions": versions,
            }),
        )?;
        let sheets = versions.into_iter().map(|v| v.sheet).collect();
        others.insert(t.uid.clone(), (line.title, sheets));
    }
    let mut batches = Vec::new();
    for t in &told.batches {
        batches.push(batch(t, &told.settings, &others, &larder, &blends)?);
    }
    put("batches.json".to_owned(), &json!({ "batches": batches }))?;
    let days = told.days.iter().map(|t| day(t, now));
    let days = days.collect::<Result<Vec<Value>, Fault>>()?;
    put("days.json".to_owned(), &json!({ "days": days }))?;
    Ok(out)
}

fn day(told: &ToldDay, now: i64) -> Result<Value, Fault> {
    let clock = Clock::at(now);
    let at = of_day(&told.ready);
    let at = at.ok_or_else(|| wrong(&told.uid, format!("'{}' is no time of day", told.ready)))?;
    let ready = told.days_ahead as i32 * DAY + at;
    let recipes = told.recipes.iter().map(
        |(recipe, version, times)| json!({ "recipe": recipe, "version": version, "times": times }),
    );
    Ok(json!({
        "uid": told.uid, "created": now, "changed": now, "title": told.title, "who": told.who,
        "serve": clock.field(ready), "recipes": recipes.collect::<Vec<Value>>(),
    }))
}

/// The last of the entries of each key.
fn latest(entries: Vec<OwnEntry>) -> Vec<OwnEntry> {
    let mut by_key = BTreeMap::new();
    for e in entries {
        by_key.insert(e.key.clone(), e);
    }
    by_key.into_values().collect()
}

fn larder_file(told: &Told) -> Result<Value, Fault> {
    let mut by_key: BTreeMap<&str, Vec<OwnChange>> = BTreeMap::new();
    for t in &told.larder {
        by_key.entry(&t.entry.key).or_default().push(OwnChange {
            at: time(&t.at)?,
            who: t.who.clone(),
            why: t.why.clone(),
            entry: Some(t.entry.clone()),
        });
    }
    let entries: Vec<Value> = by_key
        .iter()
        .map(|(key, history)| json!({ "key": key, "history": history }))
        .collect();
    Ok(json!({ "entries": entries }))
}

fn blends_file(own: &BTreeMap<String, Vec<&ToldBlend>>) -> Result<Value, Fault> {
    let mut blends = Vec::new();
    for (key, told) in own {
        let mut versions = Vec::new();
        for (n, t) in (1..).zip(told) {
            let n: u32 = n;
            versions.push(json!({
                "version": n, "at": time(&t.at)?, "who": t.who, "why": t.why, "blend": t.blend,
            }));
        }
        blends.push(json!({ "key": key, "versions": versions }));
    }
    Ok(json!({ "blends": blends }))
}

fn batch(
    told: &ToldBatch,
    settings: &Value,
    others: &BTreeMap<String, (String, Vec<Sheet>)>,
    larder: &Larder,
    blends: &[Blend],
) -> Result<Value, Fault> {
    let (title, versions) = others
        .get(&told.recipe)
        .ok_or_else(|| wrong(&told.recipe, "a batch of no recipe"))?;
    let sheet = versions
        .get(told.version as usize - 1)
        .ok_or_else(|| wrong(&told.recipe, "a batch of no version"))?;
    let larder = &larder.clone().in_words_of(sheet.locale());
    let w = work(sheet, &[], larder, blends).map_err(|e| wrong(&told.recipe, e))?;
    let settings = over(&Settings::default(), settings)?;
    let ask = recipe::size::Ask::times(told.factor);
    let sized = w.batch_at(&ask, larder).map_err(Fault::inside)?;
    let plan = batch_sheet(&w, sheet, larder, &settings, &sized);
    let started = time(&told.started)?;
    // A blend is ticked with the last of its flours.
    let mut marks = Vec::new();
    let mut names = Vec::new();
    let mut count = 0;
    let mut mark = |line: &Line, ticked: bool, count: usize| {
        names.push(line.name.clone());
        let actual = told.weighed.get(&line.name).copied();
        if ticked || actual.is_some() {
            marks.push(Mark {
                item: line.item.clone(),
                ticked,
                actual,
                at: (started + 60 * count as i64) * 1000,
            });
        }
    };
    for line in plan.components.iter().flat_map(|c| &c.lines) {
        let mut ticks = |line: &Line| {
            count += 1;
            let ticked = told.ticked.is_none_or(|most| count <= most);
            mark(line, ticked, count);
            ticked
        };
        if line.parts.is_empty() {
            ticks(line);
        } else {
            let mut all = true;
            for part in &line.parts {
                all &= ticks(part);
            }
            mark(line, all, count);
        }
    }
    for name in told.weighed.keys() {
        if !names.contains(name) {
            let why = format!("no line '{name}'; there are {}", names.join(", "));
            return Err(wrong(&told.recipe, why));
        }
    }
    Ok(json!({
        "recipe": told.recipe, "title": title, "version": told.version, "factor": told.factor,
        "plan": plan, "who": told.who, "started": started,
        "finished": told.finished.as_deref().map(time).transpose()?,
        "bake": told.bake, "marks": marks,
    }))
}

/// Whether a page offers the demo kitchen.
pub fn has_demo(app: &App, here: bool) -> Result<bool, Fault> {
    Ok(here && app.own.is_none() && !app.settings()?.demo)
}

/// Its part of the page.
pub fn section(app: &App, here: bool) -> Result<Markup, Fault> {
    let offered = has_demo(app, here)?;
    Ok(html! {
        @if offered {
            section.sheet aria-labelledby="demo" {
                h2 #demo { "The demo kitchen" }
                p { "Recipes of an invented test kitchen at different stages, with its blends, label notes, prices and bakes. It is a kitchen of its own: nothing of it comes into yours." }
                p { a.button href="/demo" { "Look around in the demo kitchen" } }
            }
        } @else if app.own.is_some() {
            section.sheet aria-labelledby="demo" {
                h2 #demo { "The demo kitchen" }
                p { "Try things out: what you change here stays here. The demo has no backups and no archive, and other devices do not get in." }
                form method="post" action="/kitchen/afresh" { (page::seal(app)) button { "Set the demo back to its beginning" } }
                p.hint { "This happens the next time unwheat starts. What was done in the demo is gone then." }
            }
        }
    })
}

/// Goes to the demo kitchen; opens it the first time in a run.
pub async fn enter(
    State(app): State<Shared>,
    ConnectInfo(peer): ConnectInfo<SocketAddr>,
) -> Result<Response, Fault> {
    run(app, move |app| {
        if app.own.is_some() || app.settings()?.demo {
            return Ok(back_to("/"));
        }
        if !is_here(peer) {
            return Err(Fault::Refused(
                "The demo kitchen opens on the laptop itself, not on other devices.".to_owned(),
            ));
        }
        let mut open = app.demo();
        if let Some(address) = &*open {
            return Ok(back_to(address));
        }
        let address = serve(app)?;
        let answer = back_to(&address);
        *open = Some(address);
        Ok(answer)
    })
    .await
}

/// Serves the demo beside the user's own kitchen, on this machine alone, as long as that one is
/// served. Gives its address.
fn serve(own: &App) -> Result<String, Fault> {
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0)).map_err(Fault::inside)?;
    listener.set_nonblocking(true).map_err(Fault::inside)?;
    let port = listener.local_addr().map_err(Fault::inside)?.port();
    let hosts = vec![format!("127.0.0.1:{port}"), format!("localhost:{port}")];
    let app = Arc::new(beside(own, hosts)?);
    let address = app.address();
    let runtime = tokio::runtime::Handle::current();
    let _here = runtime.enter();
    let listener = tokio::net::TcpListener::from_std(listener).map_err(Fault::inside)?;
    let ways = crate::web::router(app).into_make_service_with_connect_info::<SocketAddr>();
    runtime.spawn(async move {
        if let Err(e) = axum::serve(listener, ways).await {
            log(&format!("the demo kitchen is closed: {e}"));
        }
    });
    Ok(address)
}

/// Says in the demo's folder that it begins afresh.
const AFRESH: &str = "afresh";

/// The demo as a kitchen of its own, in a folder within the user's; made and filled the first time.
pub(super) fn beside(own: &App, hosts: Vec<String>) -> Result<App, Fault> {
    let (kitchen, seal) = match own.kitchen.folder() {
        Some(folder) => {
            let folder = folder.join("demo");
            begin_afresh(&folder)?;
            let kitchen = Kitchen::open(&folder)?;
            let seal = crate::web::seal_of(&folder).map_err(|e| Fault::bad(e.to_string()))?;
            (kitchen, seal)
        }
        None => (Kitchen::in_memory()?, crate::web::home::uid()?),
    };
    let mut app = App::new(kitchen, own.built_in().clone(), seal, hosts, None)?;
    app.own = Some(own.address());
    fill(&app)?;
    Ok(app)
}

/// Takes away what was done in the demo, if that was asked for.
fn begin_afresh(folder: &Path) -> Result<(), Fault> {
    let mark = folder.join(AFRESH);
    if !mark.exists() {
        return Ok(());
    }
    for name in ["kitchen.db-wal", "kitchen.db-shm", "kitchen.db"] {
        let file = folder.join(name);
        if file.exists() {
            std::fs::remove_file(file).map_err(Fault::inside)?;
        }
    }
    std::fs::remove_file(mark).map_err(Fault::inside)
}

/// Fills the demo's kitchen, if it is new.
fn fill(app: &App) -> Result<Imported, Fault> {
    if app.settings()?.demo {
        return Ok(Imported::default());
    }
    let is_new = *app.settings()? == Settings::default()
        && ids(app)?.is_empty()
        && app.kitchen.own_entries()?.is_empty()
        && app.kitchen.blends(false)?.is_empty();
    if !is_new {
        return Err(Fault::bad(
            "the folder 'demo' in your kitchen's folder holds another kitchen: move it elsewhere, and the demo finds its place",
        ));
    }
    let done = app
        .kitchen
        .import_files(files(app.built_in(), app.now())?, app.now())?;
    app.forget_settings();
    refresh(app, |_| true)?;
    Ok(done)
}

/// The demo begins afresh at the next start.
pub async fn afresh(State(app): State<Shared>, _sealed: Post) -> Result<Response, Fault> {
    run(app, |app| {
        if app.own.is_none() {
            return Err(Fault::Missing("such page".to_owned()));
        }
        if let Some(folder) = app.kitchen.folder() {
            std::fs::write(folder.join(AFRESH), "").map_err(Fault::inside)?;
        }
        Ok(back_to("/kitchen?afresh"))
    })
    .await
}

/// Settings with some fields put in place of their own.
fn over(settings: &Settings, fields: &Value) -> Result<Settings, Fault> {
    let mut value = serde_json::to_value(settings).map_err(Fault::inside)?;
    if let (Some(into), Some(from)) = (value.as_object_mut(), fields.as_object()) {
        into.extend(from.clone());
    }
    serde_json::from_value(value).map_err(Fault::inside)
}
