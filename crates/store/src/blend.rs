//! The kitchen's own blends, each change a version.

use crate::body::{from_json, to_json};
use crate::own::grow_rev;
use crate::{Kitchen, StoreError};
use recipe::rework::blend::OwnBlend;
use rusqlite::{Connection, params};
use serde::{Deserialize, Serialize};

/// A blend at a version.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BlendRow {
    /// Its key.
    pub key: String,
    /// Its version, from 1.
    pub version: u32,
    /// When it was changed.
    pub at: i64,
    /// Who changed it.
    pub who: String,
    /// Why.
    pub why: String,
    /// The blend.
    pub blend: OwnBlend,
}

fn rows(db: &Connection, sql: &str, key: &str) -> Result<Vec<BlendRow>, StoreError> {
    let mut query = db.prepare_cached(sql)?;
    let mut rows = query.query([key])?;
    let mut out = Vec::new();
    while let Some(row) = rows.next()? {
        out.push(BlendRow {
            key: row.get(0)?,
            version: row.get(1)?,
            at: row.get(2)?,
            who: row.get(3)?,
            why: row.get(4)?,
            blend: from_json(&row.get::<_, String>(5)?)?,
        });
    }
    Ok(out)
}

/// The versions of a blend, newest first.
pub(crate) fn history(db: &Connection, key: &str) -> Result<Vec<BlendRow>, StoreError> {
    let sql = "SELECT key, version, at, who, why, blend FROM blend WHERE key = ?1
        ORDER BY version DESC";
    rows(db, sql, key)
}

/// Keys of all blends, with the time each was binned.
pub(crate) fn keys(db: &Connection) -> Result<Vec<(String, Option<i64>)>, StoreError> {
    let mut query = db.prepare_cached(
        "SELECT DISTINCT b.key, n.at FROM blend b LEFT JOIN blend_bin n ON n.key = b.key
            ORDER BY b.key",
    )?;
    let rows = query.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Adds a version of a blend.
pub(crate) fn add(db: &Connection, row: &BlendRow) -> Result<(), StoreError> {
    if !row.key.starts_with("own_") || row.blend.key != row.key {
        return Err(StoreError::Bad(
            "An own blend's key begins with \"own_\".".to_owned(),
        ));
    }
    let shares = row.blend.parts.iter().chain(&row.blend.binders);
    let mut figures = shares.map(|(_, share)| share).chain(&row.blend.cup_grams);
    if figures.any(|f| !f.is_finite()) {
        return Err(StoreError::Bad(
            "A blend's shares must be plain numbers.".to_owned(),
        ));
    }
    db.prepare_cached(
        "INSERT INTO blend (key, version, at, who, why, blend) VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
    )?
    .execute(params![
        row.key,
        row.version,
        row.at,
        row.who,
        row.why,
        to_json(&row.blend)?
    ])?;
    grow_rev(db)
}

pub(crate) fn bin(db: &Connection, key: &str, at: i64) -> Result<(), StoreError> {
    if history(db, key)?.is_empty() {
        return Err(StoreError::missing(format!("blend \"{key}\"")));
    }
    db.prepare_cached("INSERT OR IGNORE INTO blend_bin (key, at) VALUES (?1, ?2)")?
        .execute(params![key, at])?;
    grow_rev(db)
}

impl Kitchen {
    /// The own blends at their newest version, by key: those outside the bin, or those in it.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn blends(&self, binned: bool) -> Result<Vec<BlendRow>, StoreError> {
        let want = if binned { "in" } else { "out" };
        self.read(|db| {
            let sql = "SELECT b.key, b.version, b.at, b.who, b.why, b.blend FROM blend b
                LEFT JOIN blend_bin n ON n.key = b.key
                WHERE b.version = (SELECT max(version) FROM blend WHERE key = b.key)
                AND iif(n.key IS NULL, 'out', 'in') = ?1 ORDER BY b.key";
            rows(db, sql, want)
        })
    }

    /// Keeps a blend, new or as the next version; gives the version.
    ///
    /// # Errors
    /// [`StoreError::Bad`] where the key does not begin with `own_`.
    pub fn put_blend(
        &self,
        blend: &OwnBlend,
        who: &str,
        why: &str,
        at: i64,
    ) -> Result<u32, StoreError> {
        self.write(|db| {
            let newest = history(db, &blend.key)?.first().map_or(0, |b| b.version);
            let row = BlendRow {
                key: blend.key.clone(),
                version: newest + 1,
                at,
                who: who.to_owned(),
                why: why.to_owned(),
                blend: blend.clone(),
            };
            add(db, &row)?;
            Ok(row.version)
        })
    }

    /// The versions of a blend, newest first.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn blend_history(&self, key: &str) -> Result<Vec<BlendRow>, StoreError> {
        self.read(|db| history(db, key))
    }

    /// Puts a blend into the bin.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is none.
    pub fn bin_blend(&self, key: &str, at: i64) -> Result<(), StoreError> {
        self.write(|db| bin(db, key, at))
    }

    /// Takes a blend out of the bin.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where it is not in the bin.
    pub fn unbin_blend(&self, key: &str, _at: i64) -> Result<(), StoreError> {
        self.write(|db| {
            if db.execute("DELETE FROM blend_bin WHERE key = ?1", [key])? == 0 {
                return Err(StoreError::missing(format!("blend \"{key}\" in the bin")));
            }
            grow_rev(db)
        })
    }
}
