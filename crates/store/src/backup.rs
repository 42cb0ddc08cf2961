//! Backups: whole copies of the kitchen's file, made while it is in use.

use crate::{Kitchen, StoreError, body, hold, look_through, migrate, put_state, state, writer};
use rusqlite::backup::{Backup as Copying, StepResult};
use rusqlite::{Connection, OpenFlags};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::PoisonError;
use std::time::Duration;

/// Backups are called `kitchen-….db`.
const FIRST: &str = "kitchen-";
const LAST: &str = ".db";

/// A backup in a folder.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Backup {
    /// Where it is.
    pub path: PathBuf,
    /// Its file name.
    pub name: String,
    /// Its size.
    pub bytes: u64,
}

/// The backups in a folder, by name, the last first: name them `kitchen-DATE-TIME.db`. None where
/// there is no folder.
///
/// # Errors
/// [`StoreError::Folder`] where it cannot be read.
pub fn backups(folder: &Path) -> Result<Vec<Backup>, StoreError> {
    let bad = |e: &std::io::Error| StoreError::folder(folder, e);
    if !folder.exists() {
        return Ok(Vec::new());
    }
    let mut out = Vec::new();
    for file in fs::read_dir(folder).map_err(|e| bad(&e))? {
        let file = file.map_err(|e| bad(&e))?;
        let about = file.metadata().map_err(|e| bad(&e))?;
        let Ok(name) = file.file_name().into_string() else {
            continue;
        };
        if about.is_file() && name.starts_with(FIRST) && name.ends_with(LAST) {
            out.push(Backup {
                path: file.path(),
                name,
                bytes: about.len(),
            });
        }
    }
    out.sort_by(|a, b| b.name.cmp(&a.name));
    Ok(out)
}

/// Deletes all but the last `keep` backups of a folder; gives how many went. The last one always
/// stays.
///
/// # Errors
/// [`StoreError::Folder`] where a file cannot be deleted.
pub fn prune_backups(folder: &Path, keep: usize) -> Result<usize, StoreError> {
    let mut gone = 0;
    for old in backups(folder)?.into_iter().skip(keep.max(1)) {
        fs::remove_file(&old.path).map_err(|e| StoreError::folder(&old.path, &e))?;
        gone += 1;
    }
    Ok(gone)
}

impl Kitchen {
    /// Copies the kitchen into a file, whole, while it is in use. The file has its name only when
    /// it is complete and was looked through.
    ///
    /// # Errors
    /// [`StoreError::Folder`] where the file cannot be written or is there already,
    /// [`StoreError::Damaged`] where the copy is.
    pub fn backup_to(&self, file: &Path) -> Result<(), StoreError> {
        if file.exists() {
            return Err(StoreError::Folder {
                path: file.display().to_string(),
                why: "there is a file of that name already".to_owned(),
            });
        }
        if let Some(folder) = file.parent() {
            fs::create_dir_all(folder).map_err(|e| StoreError::folder(folder, &e))?;
        }
        let mut part = file.as_os_str().to_owned();
        part.push(".part");
        let part = PathBuf::from(part);
        if part.exists() {
            fs::remove_file(&part).map_err(|e| StoreError::folder(&part, &e))?;
        }
        let done = self.copy(&part);
        if done.is_err() {
            // What is left of it is no backup.
            drop(fs::remove_file(&part));
        }
        done?;
        fs::rename(&part, file).map_err(|e| StoreError::folder(file, &e))
    }

    fn copy(&self, part: &Path) -> Result<(), StoreError> {
        let mut copy = Connection::open(part).map_err(|e| StoreError::Folder {
            path: part.display().to_string(),
            why: e.to_string(),
        })?;
        let from = self.folder.as_ref().map(|f| f.join("kitchen.db"));
        match from {
            Some(from) => {
                let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_NO_MUTEX;
                copy_all(&Connection::open_with_flags(from, flags)?, &mut copy)?;
            }
            None => copy_all(&hold(&self.writer), &mut copy)?,
        }
        // One file, without a log beside it.
        copy.pragma_update_and_check(None, "journal_mode", "DELETE", |_| Ok(()))?;
        migrate::refuse_strange(&copy)?;
        // Also who goes back by hand, with unwheat stopped, has another state then.
        put_state(&copy)?;
        let said: String = copy.query_row("PRAGMA quick_check(1)", [], |row| row.get(0))?;
        if said != "ok" {
            return Err(StoreError::Damaged(said));
        }
        copy.close().map_err(|(_, e)| e.into())
    }

    /// Puts a backup in the place of all that is in the kitchen, at once, and brings it up to date where
    /// an older program wrote it. The kitchen then has another [`Kitchen::state`]. Back up first what
    /// stands here.
    ///
    /// # Errors
    /// [`StoreError::Newer`] where a newer program wrote it, [`StoreError::Damaged`] where it is no whole
    /// kitchen, [`StoreError::Folder`] where it cannot be read; the kitchen is then as it was.
    pub fn restore(&self, file: &Path) -> Result<(), StoreError> {
        let good = made_good(file)?;
        let name = state(&good)?;
        let mut now = self.state.write().unwrap_or_else(PoisonError::into_inner);
        let mut db = hold(&self.writer);
        // A connection that has searched before holds an older state of the search index.
        let fresh = self.folder.as_deref().map(writer).transpose()?;
        // What can fail has been done: after the copy the kitchen is another one.
        match fresh {
            Some(mut fresh) => {
                copy_all(&good, &mut fresh)?;
                *db = fresh;
            }
            None => copy_all(&good, &mut db)?,
        }
        *now = name;
        hold(&self.readers).clear();
        Ok(())
    }

    /// Drops texts that nothing uses any more; gives how many. Before a backup, say.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn tidy(&self) -> Result<usize, StoreError> {
        let db = hold(&self.writer);
        db.pragma_update(None, "foreign_keys", false)?;
        let done = body::tidy(&db);
        db.pragma_update(None, "foreign_keys", true)?;
        done
    }
}

/// A copy of a backup, brought up to date and looked through, with a state of its own. It goes when it
/// is closed.
fn made_good(file: &Path) -> Result<Connection, StoreError> {
    let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_NO_MUTEX;
    let from = Connection::open_with_flags(file, flags).map_err(|e| StoreError::Folder {
        path: file.display().to_string(),
        why: e.to_string(),
    })?;
    if migrate::refuse_strange(&from)? == 0 {
        return Err(StoreError::Damaged("there is no kitchen in it".to_owned()));
    }
    // Without a name: a file of the system's own, for this connection alone.
    let mut good = Connection::open("")?;
    copy_all(&from, &mut good)?;
    look_through(&good)?;
    migrate::migrate(&mut good)?;
    put_state(&good)?;
    Ok(good)
}

fn copy_all(from: &Connection, to: &mut Connection) -> Result<(), StoreError> {
    let copying = Copying::new(from, to)?;
    for _ in 0..100 {
        // All pages in one step: others' writes do not make it begin again.
        match copying.step(-1)? {
            StepResult::Done => return Ok(()),
            StepResult::More => {}
            _ => std::thread::sleep(Duration::from_millis(50)),
        }
    }
    Err(StoreError::Busy)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::Barrier;
    use std::thread;

    #[test]
    fn what_reads_while_the_kitchen_goes_back_keeps_no_old_connection() {
        let folder = tempfile::tempdir().expect("a folder");
        let kitchen = Kitchen::open(&folder.path().join("kitchen")).expect("a kitchen");
        let file = folder.path().join("kitchen-1.db");
        kitchen.backup_to(&file).expect("a backup");
        let (begun, ends) = (Barrier::new(2), Barrier::new(2));
        thread::scope(|s| {
            s.spawn(|| {
                let read = kitchen.read(|db| {
                    begun.wait();
                    ends.wait();
                    Ok(db.query_row("SELECT count(*) FROM recipe", [], |r| r.get::<_, i64>(0))?)
                });
                assert_eq!(read.expect("read"), 0);
            });
            begun.wait();
            let back = s.spawn(|| kitchen.restore(&file));
            // Long enough to have gone past a read that is not waited for.
            thread::sleep(Duration::from_millis(200));
            ends.wait();
            back.join().expect("no panic").expect("restored");
        });
        assert_eq!(hold(&kitchen.readers).len(), 0);
    }
}
