//! What every page needs: the kitchen's store, its larder with the kitchen's own entries, the
//! clock and the seal of forms.

use super::fault::Fault;
use super::guard::{self, CameIn};
use super::kitchen::has_country;
use super::recipe::Parts;
use axum::response::Response;
use larder::Larder;
use quantity::Locale;
use recipe::plan::Impossible;
use recipe::rework::blend::{self, Blend};
use recipe::sheet::{SheetError, Worked};
use std::collections::{BTreeMap, BTreeSet, HashSet, VecDeque};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError, RwLock, RwLockReadGuard, RwLockWriteGuard};
use store::{Kitchen, Settings};

/// Shared by every handler.
pub type Shared = Arc<App>;

/// The larder as this kitchen has it.
pub struct Pantry {
    /// Built-in foods under the kitchen's own entries.
    pub larder: Larder,
    /// The kitchen's own blends.
    pub own_blends: Vec<Blend>,
    /// Own entries and blends that could not be used, with the reason.
    pub troubles: Vec<String>,
    /// Grows with every change of own entries and blends.
    pub revision: u64,
}

impl Pantry {
    /// House blends, then the kitchen's own.
    pub fn blends(&self) -> Vec<Blend> {
        let mut all = blend::house(&self.larder);
        all.extend(self.own_blends.iter().cloned());
        all
    }
}

/// A draft's state under a larder's.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Draft {
    /// The recipe.
    pub recipe: i64,
    /// The draft's rev.
    pub rev: u64,
    /// The larder's revision.
    pub larder: u64,
    /// Whose words its names are in.
    pub locale: Locale,
}

/// All stages of a sheet, or why it cannot be worked with.
pub type Work = Result<Worked, SheetError>;

/// What follows from a draft, and the components it takes in.
pub type Held = (Arc<Work>, Arc<Parts>);

/// Drafts whose work is kept.
const WORKED: usize = 16;

/// Why there is no plan of a day, and what was asked for one.
pub struct Unsolved {
    /// The mark of what was asked, but for the present minute.
    pub question: String,
    /// The minute it was asked at, by the clock of that day.
    pub now: i32,
    /// When it was answered, Unix seconds.
    pub at: i64,
    /// The answer.
    pub why: Box<Impossible>,
}

/// The running workbench.
pub struct App {
    /// The store.
    pub kitchen: Kitchen,
    /// Sealed into every form: a page of another site does not know it.
    pub seal: String,
    /// Host names (with port) this workbench answers to.
    pub hosts: Vec<String>,
    /// How the home network gets in, when it was asked for.
    pub share: Option<super::share::Share>,
    /// Where the user's own kitchen is, when this one is the demo beside it.
    pub own: Option<String>,
    /// Where the demo kitchen is, once it was opened.
    demo: Mutex<Option<String>>,
    built_in: Larder,
    /// By [`Locale::index`]: in the words of each country that was asked for.
    pantries: RwLock<[Option<Arc<Pantry>>; Locale::ALL.len()]>,
    settings: Mutex<Option<Arc<Settings>>>,
    /// The larder's revision, and the rows of the list made anew since it changed; none before
    /// the first change of this run.
    rows: Mutex<(u64, Option<HashSet<i64>>)>,
    /// Drafts worked, the one asked for last at the back: the page that changes one has just shown it.
    worked: Mutex<VecDeque<(Draft, Held)>>,
    /// Days that could not be planned when that was last tried, by their number.
    pub unsolved: Mutex<BTreeMap<i64, Unsolved>>,
    /// Days whose page is being made.
    planning: Mutex<BTreeSet<i64>>,
    backup_trouble: Mutex<Option<String>>,
    /// Held while a backup is made.
    backing_up: Mutex<()>,
    /// Held by whatever works with the kitchen; going back to a backup waits for it.
    at_work: RwLock<()>,
}

impl App {
    /// A workbench over an open kitchen.
    pub fn new(
        kitchen: Kitchen,
        built_in: Larder,
        seal: String,
        hosts: Vec<String>,
        share: Option<super::share::Share>,
    ) -> Result<Self, Fault> {
        let revision = kitchen.larder_rev()?;
        Ok(Self {
            kitchen,
            seal,
            hosts,
            share,
            own: None,
            demo: Mutex::new(None),
            built_in,
            pantries: RwLock::default(),
            settings: Mutex::new(None),
            worked: Mutex::new(VecDeque::new()),
            rows: Mutex::new((revision, None)),
            unsolved: Mutex::new(BTreeMap::new()),
            planning: Mutex::new(BTreeSet::new()),
            backup_trouble: Mutex::new(None),
            backing_up: Mutex::new(()),
            at_work: RwLock::new(()),
        })
    }

    /// Days whose page is being made, by their number.
    pub fn planning(&self) -> MutexGuard<'_, BTreeSet<i64>> {
        self.planning.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// This workbench's address on this machine.
    pub fn address(&self) -> String {
        let host = self.hosts.first().map_or("127.0.0.1", String::as_str);
        format!("http://{host}/")
    }

    /// Where the demo kitchen is, if it is open; held while it is being opened.
    pub fn demo(&self) -> MutexGuard<'_, Option<String>> {
        self.demo.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// The larder in the kitchen's words, for pages of no recipe.
    pub fn pantry(&self) -> Result<Arc<Pantry>, Fault> {
        self.pantry_in(locale(&*self.settings()?))
    }

    /// The larder in a country's words, made anew when own entries or blends have changed.
    pub fn pantry_in(&self, locale: Locale) -> Result<Arc<Pantry>, Fault> {
        let now = self.kitchen.larder_rev()?;
        let at = locale.index();
        let held = self.pantries.read().unwrap_or_else(PoisonError::into_inner)[at].clone();
        if let Some(held) = held.filter(|p| p.revision == now) {
            return Ok(held);
        }
        let fresh = Arc::new(stock(&self.kitchen, &self.built_in, locale)?);
        let mut held = self
            .pantries
            .write()
            .unwrap_or_else(PoisonError::into_inner);
        held[at] = Some(Arc::clone(&fresh));
        Ok(fresh)
    }

    /// What follows from a draft, if it was worked lately.
    pub fn worked(&self, draft: Draft) -> Option<Held> {
        let mut held = self.worked.lock().unwrap_or_else(PoisonError::into_inner);
        let at = held.iter().position(|w| w.0 == draft)?;
        let found = held.remove(at)?;
        let work = found.1.clone();
        held.push_back(found);
        Some(work)
    }

    /// Keeps what follows from a draft for the next page.
    pub fn keep_worked(&self, draft: Draft, work: Held) {
        let mut held = self.worked.lock().unwrap_or_else(PoisonError::into_inner);
        held.retain(|w| w.0 != draft);
        if held.len() >= WORKED {
            held.pop_front();
        }
        held.push_back((draft, work));
    }

    /// Whether a recipe's row in the list is from before the larder changed. Asked once for each.
    pub fn is_row_due(&self, recipe: i64) -> Result<bool, Fault> {
        let now = self.kitchen.larder_rev()?;
        let mut rows = self.rows.lock().unwrap_or_else(PoisonError::into_inner);
        if rows.0 != now {
            *rows = (now, Some(HashSet::new()));
        }
        Ok(rows.1.as_mut().is_some_and(|done| done.insert(recipe)))
    }

    /// The foods built in, without the kitchen's own entries.
    pub fn built_in(&self) -> &Larder {
        &self.built_in
    }

    /// The kitchen's settings.
    pub fn settings(&self) -> Result<Arc<Settings>, Fault> {
        let mut held = self.settings.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(settings) = &*held {
            return Ok(Arc::clone(settings));
        }
        let fresh = Arc::new(self.kitchen.settings()?);
        *held = Some(Arc::clone(&fresh));
        Ok(fresh)
    }

    /// Keeps new settings.
    pub fn set_settings(&self, settings: &Settings) -> Result<(), Fault> {
        self.kitchen.set_settings(settings, self.now())?;
        self.forget_settings();
        Ok(())
    }

    /// Keeps the name that signs as the kitchen's baker, where none is set: it stands in the next form.
    pub fn signed_by(&self, who: &str) -> Result<(), Fault> {
        let settings = self.settings()?;
        if settings.baker.is_empty() && !who.trim().is_empty() {
            let mut settings = (*settings).clone();
            who.trim().clone_into(&mut settings.baker);
            self.set_settings(&settings)?;
        }
        Ok(())
    }

    /// Reads the settings anew next time (an import may have changed them), and works drafts anew: their bakes go by
    /// the kitchen's oven, pans and height.
    pub fn forget_settings(&self) {
        *self.settings.lock().unwrap_or_else(PoisonError::into_inner) = None;
        self.worked
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .clear();
    }

    /// Forgets all that was made of the kitchen: another state of it stands in its place, whose
    /// numbers may be those of before.
    fn forget(&self) -> Result<(), Fault> {
        let revision = self.kitchen.larder_rev()?;
        *self
            .pantries
            .write()
            .unwrap_or_else(PoisonError::into_inner) = Default::default();
        self.unsolved
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
            .clear();
        *self.rows.lock().unwrap_or_else(PoisonError::into_inner) =
            (revision, Some(HashSet::new()));
        self.forget_settings();
        Ok(())
    }

    /// Keeps the kitchen from going back to a backup while it is held.
    pub fn at_work(&self) -> RwLockReadGuard<'_, ()> {
        self.at_work.read().unwrap_or_else(PoisonError::into_inner)
    }

    /// Keeps all work from the kitchen while it is held.
    pub fn alone(&self) -> RwLockWriteGuard<'_, ()> {
        self.at_work.write().unwrap_or_else(PoisonError::into_inner)
    }

    /// Keeps another backup from being made while it is held.
    pub fn backing_up(&self) -> MutexGuard<'_, ()> {
        self.backing_up
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
    }

    /// Refuses a form that came in before the kitchen went back to a backup, with what was typed in it.
    fn is_still(&self, came_in: Option<&CameIn>) -> Result<(), Fault> {
        match came_in {
            Some(form) if form.state != self.kitchen.state() => Err(Fault::WentBack(
                form.typed.get().cloned().unwrap_or_default(),
            )),
            _ => Ok(()),
        }
    }

    /// Why the last backup failed, if it did.
    pub fn backup_trouble(&self) -> MutexGuard<'_, Option<String>> {
        self.backup_trouble
            .lock()
            .unwrap_or_else(PoisonError::into_inner)
    }

    /// The clock, Unix seconds.
    pub fn now(&self) -> i64 {
        self.now_ms() / 1000
    }

    /// The clock, Unix milliseconds. The only place that reads it.
    pub fn now_ms(&self) -> i64 {
        jiff::Timestamp::now().as_millisecond()
    }
}

/// Whose cups, spoons and words a kitchen's own pages are in.
pub fn locale(settings: &Settings) -> Locale {
    settings.locale.parse().unwrap_or_default()
}

/// Whose degrees and lengths stand first beside a recipe: the kitchen's, whatever country the recipe is of; the
/// recipe's own where the kitchen has not said where it stands.
pub fn home(settings: &Settings, recipe: Locale) -> Locale {
    if has_country(settings) {
        locale(settings)
    } else {
        recipe
    }
}

/// The built-in larder under the kitchen's own entries. One bad entry does not take the others
/// along: it is left out and named.
fn stock(kitchen: &Kitchen, built_in: &Larder, locale: Locale) -> Result<Pantry, Fault> {
    let revision = kitchen.larder_rev()?;
    let mut troubles = Vec::new();
    let mut good = Vec::new();
    for entry in kitchen.own_entries()? {
        match entry.check(built_in) {
            Ok(()) => good.push(entry),
            Err(e) => troubles.push(e.to_string()),
        }
    }
    let larder = match built_in.with_own(&good) {
        Ok(larder) => larder,
        Err(e) => {
            troubles.push(e.to_string());
            built_in.clone()
        }
    }
    .in_words_of(locale);
    let mut own_blends = Vec::new();
    for row in kitchen.blends(false)? {
        match row.blend.blend(&larder) {
            Ok(blend) => own_blends.push(blend),
            Err(e) => troubles.push(format!("blend '{}': {e}", row.blend.name)),
        }
    }
    Ok(Pantry {
        larder,
        own_blends,
        troubles,
        revision,
    })
}

/// Runs a handler's work where it may wait for the disk.
pub async fn run<F>(app: Shared, work: F) -> Result<Response, Fault>
where
    F: FnOnce(&App) -> Result<Response, Fault> + Send + 'static,
{
    let came_in = guard::came_in();
    tokio::task::spawn_blocking(move || {
        let _held = app.at_work();
        app.is_still(came_in.as_deref())?;
        work(&app)
    })
    .await
    .map_err(Fault::inside)?
}

/// Runs a handler's work while no other is under way, and forgets what was made of the kitchen before.
pub async fn run_alone<F>(app: Shared, work: F) -> Result<Response, Fault>
where
    F: FnOnce(&App) -> Result<Response, Fault> + Send + 'static,
{
    let came_in = guard::came_in();
    tokio::task::spawn_blocking(move || {
        let _held = app.alone();
        app.is_still(came_in.as_deref())?;
        let done = work(&app);
        app.forget()?;
        done
    })
    .await
    .map_err(Fault::inside)?
}
