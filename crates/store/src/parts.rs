//! Components shared between recipes: who uses which version of what.

use crate::body::{Kept, sheet};
use crate::{Kitchen, StoreError};
use recipe::sheet::Sheet;
use rusqlite::{Connection, OptionalExtension, params};

/// Keeps what a recipe's draft, or its newest version, uses.
pub(crate) fn put(
    db: &Connection,
    recipe: i64,
    sheet: &Sheet,
    draft: bool,
) -> Result<(), StoreError> {
    db.prepare_cached("DELETE FROM part_use WHERE recipe = ?1 AND draft = ?2")?
        .execute(params![recipe, draft])?;
    let mut add = db.prepare_cached(
        "INSERT OR IGNORE INTO part_use (part, recipe, version, draft) VALUES (?1, ?2, ?3, ?4)",
    )?;
    for part in &sheet.parts {
        add.execute(params![part.recipe, recipe, part.version, draft])?;
    }
    Ok(())
}

impl Kitchen {
    /// The recipes outside the bin whose draft or newest version uses the recipe `uid`: number,
    /// title, version used.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn uses_of(&self, uid: &str) -> Result<Vec<(i64, String, u32)>, StoreError> {
        self.read(|db| {
            let mut query = db.prepare_cached(
                "SELECT DISTINCT r.id, r.title, u.version FROM part_use u
                    JOIN recipe r ON r.id = u.recipe
                    WHERE u.part = ?1 AND r.binned IS NULL ORDER BY r.title, r.id, u.version",
            )?;
            let rows = query.query_map([uid], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
    }

    /// The newest version of a recipe: its number here, the version, its title. None where there
    /// is no version to use.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn newest(&self, uid: &str) -> Result<Option<(i64, u32, String)>, StoreError> {
        self.read(|db| {
            Ok(db
                .prepare_cached(
                    "SELECT id, versions, title FROM recipe WHERE uid = ?1 AND versions > 0",
                )?
                .query_row([uid], |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)))
                .optional()?)
        })
    }

    /// Whether a recipe's version is in the kitchen, by uid.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn has_version(&self, uid: &str, version: u32) -> Result<bool, StoreError> {
        self.read(|db| {
            Ok(db
                .prepare_cached(
                    "SELECT 1 FROM version v JOIN recipe r ON r.id = v.recipe
                        WHERE r.uid = ?1 AND v.number = ?2",
                )?
                .exists(params![uid, version])?)
        })
    }

    /// The sheet of a recipe's version, by uid.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn part_sheet(&self, uid: &str, version: u32) -> Result<Option<Sheet>, StoreError> {
        self.read(|db| {
            db.prepare_cached(
                "SELECT v.text, v.rest FROM version v JOIN recipe r ON r.id = v.recipe
                    WHERE r.uid = ?1 AND v.number = ?2",
            )?
            .query_row(params![uid, version], |row| {
                Ok(Kept {
                    text: row.get(0)?,
                    rest: row.get(1)?,
                })
            })
            .optional()?
            .map(|kept| sheet(db, kept))
            .transpose()
        })
    }
}
