//! One kitchen, saved: recipes with their drafts and versions, own larder entries and blends,
//! batches, settings. SQLite in one file, `kitchen.db`, in a folder of the baker's.
//!
//! What is saved of a recipe is its [`recipe::sheet::Sheet`]; figures follow from sheets, and are
//! kept only with versions, as they were at that moment. The crate has no clock: callers say
//! what time it is, in Unix seconds.

mod archive;
mod backup;
mod batch;
mod blend;
mod body;
mod day;
mod draft;
mod error;
mod files;
mod import;
mod imported;
mod later;
mod list;
mod migrate;
mod own;
mod pack;
mod parts;
mod recipes;
mod second;
mod settings;
mod version;

pub use archive::{FORMAT, FORMAT_VERSION};
pub use backup::{Backup, backups, prune_backups};
pub use batch::{Batch, Mark, Record, Timer};
pub use blend::BlendRow;
pub use day::{Answer, Day, DayRecipe, DayRow, HeldStep};
pub use draft::{Draft, Way};
pub use error::StoreError;
pub use imported::Imported;
pub use later::Later;
pub use list::{Page, Query};
pub use own::OwnChange;
pub use recipe::rework::blend::OwnBlend;
pub use recipes::{Row, Summary};
pub use settings::{FormerSettings, Settings};
pub use version::{Version, VersionRow};

use rusqlite::{Connection, OpenFlags, Transaction, TransactionBehavior};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError, RwLock};
use std::time::Duration;

/// Read connections kept open.
const READERS: usize = 4;
/// How long to wait for another program that writes.
const PATIENCE: Duration = Duration::from_secs(5);

/// Where the name of the state is kept.
const STATE: &str = "state";

/// One kitchen.
#[derive(Debug)]
pub struct Kitchen {
    folder: Option<PathBuf>,
    writer: Mutex<Connection>,
    readers: Mutex<Vec<Connection>>,
    /// Which state of the kitchen this is. Held while one reads; going back to a backup waits for it.
    state: RwLock<Arc<str>>,
}

fn hold<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    // A panic elsewhere rolled its transaction back: the connection is good.
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

fn prepare(db: &Connection) -> Result<(), StoreError> {
    db.busy_timeout(PATIENCE)?;
    db.pragma_update(None, "foreign_keys", true)?;
    db.pragma_update(None, "synchronous", "NORMAL")?;
    db.pragma_update(None, "cache_size", -16_000)?;
    db.pragma_update(None, "temp_store", "MEMORY")?;
    db.set_prepared_statement_cache_capacity(64);
    Ok(())
}

fn reader(folder: &Path) -> Result<Connection, StoreError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let db = Connection::open_with_flags(folder.join("kitchen.db"), flags)?;
    prepare(&db)?;
    db.pragma_update(None, "query_only", true)?;
    Ok(db)
}

fn writer(folder: &Path) -> Result<Connection, StoreError> {
    let file = folder.join("kitchen.db");
    let mut db = Connection::open(&file).map_err(|e| StoreError::Folder {
        path: file.display().to_string(),
        why: e.to_string(),
    })?;
    db.busy_timeout(PATIENCE)?;
    migrate::refuse_strange(&db)?;
    db.pragma_update_and_check(None, "journal_mode", "WAL", |_| Ok(()))?;
    prepare(&db)?;
    migrate::migrate(&mut db)?;
    Ok(db)
}

fn look_through(db: &Connection) -> Result<(), StoreError> {
    let said: String = db.query_row("PRAGMA quick_check(1)", [], |row| row.get(0))?;
    if said != "ok" {
        return Err(StoreError::Damaged(said));
    }
    let mut broken = db.prepare("PRAGMA foreign_key_check")?;
    let mut rows = broken.query([])?;
    if let Some(row) = rows.next()? {
        let table: String = row.get(0)?;
        return Err(StoreError::Damaged(format!(
            "an entry of \"{table}\" belongs to one that is gone"
        )));
    }
    Ok(())
}

/// The name of a kitchen's state.
fn state(db: &Connection) -> Result<Arc<str>, StoreError> {
    Ok(settings::kept(db, STATE)?.unwrap_or_default().into())
}

/// Gives a copy a state of its own.
fn put_state(db: &Connection) -> Result<(), StoreError> {
    db.execute(
        "INSERT INTO kept (name, value) VALUES (?1, lower(hex(randomblob(8))))
            ON CONFLICT (name) DO UPDATE SET value = excluded.value",
        [STATE],
    )?;
    Ok(())
}

impl Kitchen {
    /// Opens the kitchen in `folder`; makes both where there is none, and brings an older one up
    /// to date.
    ///
    /// # Errors
    /// [`StoreError::Newer`] where a newer program wrote it, [`StoreError::Damaged`] where it is
    /// no kitchen, [`StoreError::Folder`] where the folder cannot be used.
    pub fn open(folder: &Path) -> Result<Self, StoreError> {
        std::fs::create_dir_all(folder).map_err(|e| StoreError::folder(folder, &e))?;
        let writer = writer(folder)?;
        Ok(Self {
            folder: Some(folder.to_owned()),
            state: RwLock::new(state(&writer)?),
            writer: Mutex::new(writer),
            readers: Mutex::default(),
        })
    }

    /// A kitchen that is gone with the program.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn in_memory() -> Result<Self, StoreError> {
        let mut writer = Connection::open_in_memory()?;
        prepare(&writer)?;
        migrate::migrate(&mut writer)?;
        Ok(Self {
            folder: None,
            state: RwLock::new(state(&writer)?),
            writer: Mutex::new(writer),
            readers: Mutex::default(),
        })
    }

    /// The folder it is in; none where it is in memory only.
    #[must_use]
    pub fn folder(&self) -> Option<&Path> {
        self.folder.as_deref()
    }

    /// Which state of the kitchen this is: a name that stays while the kitchen is written on, and is
    /// another one once it went back to a backup, here or by a copied file. Numbers (of recipes,
    /// batches, revs) mean the same thing only within one state. Empty where it never went back.
    #[must_use]
    pub fn state(&self) -> Arc<str> {
        let held = self.state.read().unwrap_or_else(PoisonError::into_inner);
        Arc::clone(&held)
    }

    /// Looks through the whole file for damage.
    ///
    /// # Errors
    /// [`StoreError::Damaged`] with what is wrong.
    pub fn check(&self) -> Result<(), StoreError> {
        match &self.folder {
            // A connection of its own: one that has searched before holds an older state of the
            // search index, and takes what was written since for damage.
            Some(folder) => look_through(&reader(folder)?),
            None => look_through(&hold(&self.writer)),
        }
    }

    /// Reads, all of it at one moment.
    fn read<T>(
        &self,
        work: impl FnOnce(&Transaction<'_>) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        let Some(folder) = &self.folder else {
            let db = hold(&self.writer);
            return work(&db.unchecked_transaction()?);
        };
        // What reads keeps its connection from the restore: it goes back among the others before.
        let _stays = self.state.read().unwrap_or_else(PoisonError::into_inner);
        let free = hold(&self.readers).pop();
        let db = match free {
            Some(db) => db,
            None => reader(folder)?,
        };
        let done = work(&db.unchecked_transaction()?);
        let mut readers = hold(&self.readers);
        if readers.len() < READERS {
            readers.push(db);
        }
        done
    }

    /// Writes, all of it or nothing.
    fn write<T>(
        &self,
        work: impl FnOnce(&Transaction<'_>) -> Result<T, StoreError>,
    ) -> Result<T, StoreError> {
        let mut db = hold(&self.writer);
        let tx = db.transaction_with_behavior(TransactionBehavior::Immediate)?;
        let done = work(&tx)?;
        tx.commit()?;
        Ok(done)
    }
}
