//! The kitchen's own larder entries, with every change of them.

use crate::body::{from_json, to_json};
use crate::settings::kept;
use crate::{Kitchen, StoreError};
use larder::OwnEntry;
use rusqlite::{Connection, params};
use serde::{Deserialize, Serialize};

/// A change of an own entry.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct OwnChange {
    /// When.
    pub at: i64,
    /// Who.
    pub who: String,
    /// Why.
    pub why: String,
    /// The entry from then on; none where it was dropped.
    pub entry: Option<OwnEntry>,
}

/// Says that own entries or blends are others than before.
pub(crate) fn grow_rev(db: &Connection) -> Result<(), StoreError> {
    db.execute(
        "UPDATE kept SET value = CAST(value AS INTEGER) + 1 WHERE name = 'larder_rev'",
        [],
    )?;
    Ok(())
}

/// Adds a change of the entry `key`.
pub(crate) fn add(db: &Connection, key: &str, change: &OwnChange) -> Result<(), StoreError> {
    if key.is_empty() || change.entry.as_ref().is_some_and(|e| e.key != key) {
        return Err(StoreError::Bad("An own entry needs its key.".to_owned()));
    }
    let entry = change.entry.as_ref().map(to_json).transpose()?;
    db.prepare_cached("INSERT INTO own (key, at, who, why, entry) VALUES (?1, ?2, ?3, ?4, ?5)")?
        .execute(params![key, change.at, change.who, change.why, entry])?;
    grow_rev(db)
}

/// The keys of all entries that ever were.
pub(crate) fn keys(db: &Connection) -> Result<Vec<String>, StoreError> {
    let mut query = db.prepare_cached("SELECT DISTINCT key FROM own ORDER BY key")?;
    let rows = query.query_map([], |row| row.get(0))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// The changes of an entry, oldest first.
pub(crate) fn history(db: &Connection, key: &str) -> Result<Vec<OwnChange>, StoreError> {
    let mut query =
        db.prepare_cached("SELECT at, who, why, entry FROM own WHERE key = ?1 ORDER BY id")?;
    let mut rows = query.query([key])?;
    let mut out = Vec::new();
    while let Some(row) = rows.next()? {
        let entry: Option<String> = row.get(3)?;
        out.push(OwnChange {
            at: row.get(0)?,
            who: row.get(1)?,
            why: row.get(2)?,
            entry: entry.map(|json| from_json(&json)).transpose()?,
        });
    }
    Ok(out)
}

impl Kitchen {
    /// The own entries as they are now, by key.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn own_entries(&self) -> Result<Vec<OwnEntry>, StoreError> {
        self.read(|db| {
            let mut query = db.prepare_cached(
                "SELECT entry FROM own WHERE id IN (SELECT max(id) FROM own GROUP BY key)
                    AND entry IS NOT NULL ORDER BY key",
            )?;
            let mut rows = query.query([])?;
            let mut out = Vec::new();
            while let Some(row) = rows.next()? {
                out.push(from_json(&row.get::<_, String>(0)?)?);
            }
            Ok(out)
        })
    }

    /// Keeps an own entry, new or in place of the one with its key.
    ///
    /// # Errors
    /// [`StoreError::Bad`] without a key.
    pub fn put_own(
        &self,
        entry: &OwnEntry,
        who: &str,
        why: &str,
        at: i64,
    ) -> Result<(), StoreError> {
        let change = OwnChange {
            at,
            who: who.to_owned(),
            why: why.to_owned(),
            entry: Some(entry.clone()),
        };
        self.write(|db| add(db, &entry.key, &change))
    }

    /// Drops an own entry; its history stays.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is none now.
    pub fn drop_own(&self, key: &str, who: &str, why: &str, at: i64) -> Result<(), StoreError> {
        self.write(|db| {
            let now = history(db, key)?.pop().and_then(|last| last.entry);
            if now.is_none() {
                return Err(StoreError::missing(format!("own entry \"{key}\"")));
            }
            let change = OwnChange {
                at,
                who: who.to_owned(),
                why: why.to_owned(),
                entry: None,
            };
            add(db, key, &change)
        })
    }

    /// The changes of an own entry, newest first.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn own_history(&self, key: &str) -> Result<Vec<OwnChange>, StoreError> {
        self.read(|db| {
            let mut all = history(db, key)?;
            all.reverse();
            Ok(all)
        })
    }

    /// Grows with every change of own entries and blends.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn larder_rev(&self) -> Result<u64, StoreError> {
        self.read(|db| {
            let rev = kept(db, "larder_rev")?.unwrap_or_default();
            rev.parse()
                .map_err(|_| StoreError::Damaged(format!("larder_rev is \"{rev}\"")))
        })
    }
}
