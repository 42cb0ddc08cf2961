//! A recipe's pages, one file per page, and what they share: the recipe opened, its head, where
//! it stands and what comes next.

pub mod card;
pub mod change;
mod flow;
pub mod heat;
mod leave_out;
pub mod method;
mod parts;
pub mod plan;
pub mod prices;
pub mod read;
pub mod rework;
pub mod screen;
pub mod shape;
pub mod shop;
pub mod size;
pub mod standing;
pub mod versions;
pub mod weigh;

use super::app::{App, Draft, Pantry, Work, home};
use super::fault::Fault;
use super::kitchen::drawer;
use super::larder_page::typed::Typed;
use super::page::{self, Page, Way};
use axum::response::Response;
use maud::{Markup, html};
pub use parts::Parts;
use quantity::Locale;
use recipe::household::Drawer;
use recipe::rework::blend::Blend;
use recipe::sheet::{Part, Sheet, SheetError, Worked, work};
use standing::{Standing, standing};
use std::sync::Arc;
use store::{Record, Row, Settings};

/// A page of a recipe.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Leaf {
    /// The text and what was read of it.
    Read,
    /// Grams.
    Weigh,
    /// Gluten and allergens.
    Screen,
    /// The gluten-free version.
    Rework,
    /// How much of it.
    Size,
    /// What it is made into.
    Shape,
    /// Bakes, proofs and the water of a dough.
    Heat,
    /// What to buy, and what it costs.
    Shop,
    /// Every step in time.
    Plan,
    /// Making it.
    Bench,
    /// What was made.
    Bakes,
    /// What is published.
    Card,
    /// What was saved.
    Versions,
}

impl Leaf {
    /// All, in the order of the work.
    pub const ALL: [Self; 13] = [
        Self::Read,
        Self::Weigh,
        Self::Screen,
        Self::Rework,
        Self::Size,
        Self::Shape,
        Self::Heat,
        Self::Plan,
        Self::Shop,
        Self::Bench,
        Self::Bakes,
        Self::Card,
        Self::Versions,
    ];
    /// Its word in addresses.
    pub fn slug(self) -> &'static str {
        match self {
            Self::Read => "read",
            Self::Weigh => "weigh",
            Self::Screen => "screen",
            Self::Rework => "rework",
            Self::Size => "size",
            Self::Shape => "shape",
            Self::Heat => "heat",
            Self::Shop => "shop",
            Self::Plan => "plan",
            Self::Bench => "bench",
            Self::Bakes => "bakes",
            Self::Card => "card",
            Self::Versions => "versions",
        }
    }
    /// Its name on screens.
    pub fn name(self) -> &'static str {
        match self {
            Self::Read => "Read",
            Self::Weigh => "Weigh",
            Self::Screen => "Screen",
            Self::Rework => "Rework",
            Self::Size => "Size",
            Self::Shape => "Shape",
            Self::Heat => "Heat",
            Self::Shop => "Shop",
            Self::Plan => "Plan",
            Self::Bench => "Bench",
            Self::Bakes => "Bakes",
            Self::Card => "Card",
            Self::Versions => "Versions",
        }
    }
    /// The page of a stage as the list of recipes keeps it.
    pub fn of_stage(stage: &str) -> Self {
        match stage {
            "gluten" => Self::Screen,
            slug => Self::from_slug(slug).unwrap_or(Self::Read),
        }
    }
    /// The page at an address.
    pub fn from_slug(slug: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|l| l.slug() == slug)
    }
}

/// A recipe, opened: its row, its draft and everything that follows from it.
#[derive(Clone)]
pub struct Open {
    /// The row.
    pub row: Row,
    /// The draft.
    pub draft: store::Draft,
    /// The larder.
    pub pantry: Arc<Pantry>,
    /// The kitchen's settings.
    pub settings: Arc<Settings>,
    /// All stages, or why the text cannot be worked with.
    pub work: Arc<Work>,
    /// Components taken in, and those that are no longer there.
    pub parts: Arc<Parts>,
    /// Components taken in of which a newer version exists: title, the version here, the newest.
    pub newer: Vec<(String, u32, u32)>,
    /// Bakes on record that count.
    pub bakes: u32,
    /// The records of its finished batches, newest first.
    pub records: Vec<Record>,
}

/// Works a sheet with this kitchen's larder, its bake as the Heat page has it.
pub fn work_with(pantry: &Pantry, settings: &Settings, sheet: &Sheet, parts: &[Part]) -> Work {
    let larder = &pantry.larder;
    let work = work(sheet, parts, larder, &pantry.own_blends)?;
    let pans = size::own_pans(&settings.pans);
    Ok(work.with_heat(sheet, larder, heat::place(settings, sheet.locale()), &pans))
}

/// The state that a draft's work is kept under.
pub fn state(id: i64, rev: u64, pantry: &Pantry) -> Draft {
    Draft {
        recipe: id,
        rev,
        larder: pantry.revision,
        locale: pantry.larder.locale(),
    }
}

/// Opens a recipe.
pub fn open(app: &App, id: i64) -> Result<Open, Fault> {
    let row = app.kitchen.row(id)?;
    let draft = app.kitchen.draft(id)?;
    let pantry = app.pantry_in(draft.sheet.locale())?;
    let settings = app.settings()?;
    let mut newer = Vec::new();
    for p in &draft.sheet.parts {
        if let Some((_, newest, title)) = app.kitchen.newest(&p.recipe)?
            && newest > p.version
        {
            newer.push((title, p.version, newest));
        }
    }
    let state = state(id, draft.rev, &pantry);
    let held = match app.worked(state) {
        Some((work, parts)) if parts.still(app)? => (work, parts),
        _ => {
            let parts = Arc::new(Parts::of(app, &draft.sheet)?);
            let work = Arc::new(work_with(&pantry, &settings, &draft.sheet, &parts.sheets));
            app.keep_worked(state, (Arc::clone(&work), Arc::clone(&parts)));
            (work, parts)
        }
    };
    let (work, parts) = held;
    let records = app.kitchen.records_of(id)?;
    let bakes = super::bakes::kept(&records).len() as u32;
    Ok(Open {
        row,
        draft,
        settings,
        pantry,
        work,
        parts,
        newer,
        bakes,
        records,
    })
}

impl Open {
    /// All stages, or why the text cannot be worked with.
    pub fn worked(&self) -> Result<&Worked, &SheetError> {
        (*self.work).as_ref()
    }
    /// Its title.
    pub fn title(&self) -> &str {
        &self.row.title
    }
    /// Where it stands.
    pub fn standing(&self) -> Standing {
        standing(
            &self.work,
            &self.pantry.larder,
            self.row.versions,
            self.bakes,
        )
    }
    /// Address of one of its pages.
    pub fn at(&self, leaf: Leaf) -> String {
        format!("/recipe/{}/{}", self.row.id, leaf.slug())
    }
    /// The country whose degrees and lengths stand first.
    pub fn home(&self) -> Locale {
        home(&self.settings, self.draft.sheet.locale())
    }
    /// The cups and spoons that its amounts are worked out in.
    pub fn drawer(&self) -> Drawer {
        drawer(&self.settings, self.draft.sheet.locale())
    }
    /// House blends, then own ones.
    pub fn blends(&self) -> Vec<Blend> {
        self.pantry.blends()
    }
}

/// The hidden fields of every form that changes the draft.
pub fn fields(app: &App, o: &Open, leaf: Leaf) -> Markup {
    html! {
        (page::seal(app))
        input type="hidden" name="rev" value=(o.draft.rev);
        input type="hidden" name="leaf" value=(leaf.slug());
    }
}

/// What amounts are measured back in.
fn measures(o: &Open) -> &'static str {
    match o.drawer().locale() {
        Locale::Uk => "spoons and ml",
        _ => "cups and spoons",
    }
}

/// Address that takes changes.
pub fn change_to(o: &Open) -> String {
    format!("/recipe/{}/change", o.row.id)
}

/// The head of every page of a recipe.
pub fn head(app: &App, o: &Open, leaf: Leaf) -> Markup {
    let standing = o.standing();
    let state = match (o.draft.saved_as, o.draft.based_on) {
        (Some(n), _) => format!("saved as version {n}"),
        (None, Some(n)) => format!("draft, changed since version {n}"),
        (None, None) => "draft, kept as you type; no version yet".to_owned(),
    };
    html! {
        header.recipe-head data-rev=(o.draft.rev) data-k="head" {
            div.title {
                h1 { (o.title()) }
                div.row.mid {
                    span.state { (state) }
                    form.steps-back method="post" action={ "/recipe/" (o.row.id) "/undo" } data-live data-k="undo" {
                        (fields(app, o, leaf))
                        @if let Some(words) = &o.draft.undo {
                            button.small #undo name="way" value="undo" title="Ctrl+Z" { "Undo: " span.short { (words) } }
                        }
                        @if let Some(words) = &o.draft.redo {
                            button.small #redo name="way" value="redo" title="Ctrl+Shift+Z or Ctrl+Y" { "Redo: " span.short { (words) } }
                        }
                    }
                    @if o.draft.saved_as.is_none() {
                        a.button.small href={ (o.at(Leaf::Versions)) "#save" } { "Save a version" }
                    }
                }
            }
            a.skip href="#here" { "Skip past the stages" }
            nav aria-label="Stages" {
                ol.stages {
                    @for l in Leaf::ALL {
                        @let count = standing.count(l);
                        li.aside[l == Leaf::Versions] {
                            a href=(o.at(l)) aria-current=[(l == leaf).then_some("page")] {
                                (l.name())
                                @if count > 0 {
                                    " " span.tag.warn[l != Leaf::Bakes] { (count) span.unseen { @if l == Leaf::Bakes { " made" } @else { " to look at" } } }
                                }
                            }
                        }
                    }
                }
            }
            @if o.row.binned.is_some() {
                p.trouble { "This recipe is in the bin. Take it out on the Bin page to work on it." }
            }
            @for (title, here, newest) in &o.newer {
                p.state { (title) " is taken in at version " (here) "; version " (newest) " exists. " a href={ (o.at(Leaf::Read)) "#parts" } { "Look at it" } }
            }
            @let (to, next, words) = standing.next_on(leaf);
            p.next #here tabindex="-1" {
                strong { (next) }
                @if to != leaf { a.button.small.do href=(o.at(to)) { (words) } }
                @if let Some((to, words)) = standing.goes_on(leaf) { span { "The work can go on meanwhile: " a href=(o.at(to)) { (words) } } }
                @if standing.is_past_labels(leaf) {
                    @let n = standing.count(Leaf::Screen);
                    span { @if n == 1 { "One label is" } @else { (n) " labels are" } " still open before anyone eats of it. " a href=(o.at(Leaf::Screen)) { "See which" } }
                }
            }
        }
    }
}

/// The main part of a recipe's page.
pub fn main(app: &App, o: &Open, leaf: Leaf) -> Result<Markup, Fault> {
    let body = match (o.worked(), leaf) {
        (_, Leaf::Versions) => {
            let mut form = Typed::default();
            form.put("who", o.settings.baker.clone());
            versions::body(app, o, &form)?
        }
        (_, Leaf::Bakes) => super::bakes::body(app, o)?,
        (Err(e), _) => read::broken(app, o, e),
        (Ok(w), Leaf::Read) => read::body(app, o, w)?,
        (Ok(w), Leaf::Weigh) => weigh::body(app, o, w),
        (Ok(w), Leaf::Screen) => screen::body(app, o, w),
        (Ok(w), Leaf::Rework) => rework::body(app, o, w),
        (Ok(w), Leaf::Size) => size::body(app, o, w),
        (Ok(w), Leaf::Shape) => shape::body(app, o, w),
        (Ok(w), Leaf::Heat) => heat::body(app, o, w),
        (Ok(w), Leaf::Shop) => shop::body(app, o, w, None),
        (Ok(w), Leaf::Plan) => plan::body(app, o, w)?,
        (Ok(w), Leaf::Bench) => super::bench::start(app, o, w)?,
        (Ok(w), Leaf::Card) => card::body(app, o, w)?,
    };
    Ok(html! { (head(app, o, leaf)) (versions::drift(app, o)?) (body) })
}

/// A page of a recipe.
pub fn show(app: &App, id: i64, leaf: Leaf) -> Result<Response, Fault> {
    let o = open(app, id)?;
    let main = main(app, &o, leaf)?;
    around(app, &o, leaf, &main)
}

/// A recipe's page around a given main part.
pub fn around(app: &App, o: &Open, leaf: Leaf, main: &Markup) -> Result<Response, Fault> {
    let title = format!("{} · {}", leaf.name(), o.title());
    Page {
        title: &title,
        way: Way::Recipes,
        scripts: if leaf == Leaf::Card {
            &["card.js"]
        } else {
            &[]
        },
        beside: matches!(leaf, Leaf::Read | Leaf::Weigh).then(|| foods(o)),
    }
    .show(app, main)
}

/// Every food's name, for fields that choose one.
fn foods(o: &Open) -> Markup {
    let larder = &o.pantry.larder;
    html! {
        datalist #foods {
            @for id in larder.ids() { option value=(larder.food(id).name) {} }
        }
    }
}

/// A component's name on screens.
pub fn component_name(name: &str) -> String {
    if name.is_empty() {
        "The recipe".to_owned()
    } else {
        page::capital(name)
    }
}
