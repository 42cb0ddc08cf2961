//! Versions: what was saved, with who and why. They never change and are never deleted.

use crate::body::{Kept, from_json, keep_like, sheet, text, to_json};
use crate::draft::expected;
use crate::{Kitchen, StoreError, parts};
use recipe::sheet::Sheet;
use rusqlite::{Connection, OptionalExtension, params};
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// A saved version of a recipe.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Version {
    /// Its number, from 1.
    pub number: u32,
    /// Who saved it.
    pub who: String,
    /// When.
    pub at: i64,
    /// Why.
    pub why: String,
    /// The work.
    pub sheet: Sheet,
    /// The figures as they were then.
    pub figures: Value,
    /// The program and its version that made the figures.
    pub program: String,
}

/// A version in a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct VersionRow {
    /// Its number, from 1.
    pub number: u32,
    /// Who saved it.
    pub who: String,
    /// When.
    pub at: i64,
    /// Why.
    pub why: String,
}

/// Keeps a version whose sheet is kept already.
pub(crate) fn add(
    db: &Connection,
    id: i64,
    kept: Kept,
    version: &Version,
) -> Result<(), StoreError> {
    // Figures are long, and much like those of the version before.
    let before = db
        .prepare_cached("SELECT figures FROM version WHERE recipe = ?1 AND number = ?2 - 1")?
        .query_row(params![id, version.number], |row| row.get(0))
        .optional()?;
    let figures = keep_like(db, &to_json(&version.figures)?, before)?;
    db.prepare_cached(
        "INSERT INTO version (recipe, number, who, at, why, text, rest, figures, program)
            VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)",
    )?
    .execute(params![
        id,
        version.number,
        version.who,
        version.at,
        version.why,
        kept.text,
        kept.rest,
        figures,
        version.program
    ])?;
    db.prepare_cached("UPDATE recipe SET versions = ?2 WHERE id = ?1")?
        .execute(params![id, version.number])?;
    parts::put(db, id, &version.sheet, false)
}

pub(crate) fn version(db: &Connection, id: i64, number: u32) -> Result<Version, StoreError> {
    let found = db
        .prepare_cached(
            "SELECT who, at, why, text, rest, figures, program FROM version
                WHERE recipe = ?1 AND number = ?2",
        )?
        .query_row(params![id, number], |row| {
            let kept = Kept {
                text: row.get(3)?,
                rest: row.get(4)?,
            };
            let figures: i64 = row.get(5)?;
            Ok((
                row.get(0)?,
                row.get(1)?,
                row.get(2)?,
                kept,
                figures,
                row.get(6)?,
            ))
        })
        .optional()?
        .ok_or_else(|| StoreError::missing(format!("version {number} of recipe {id}")))?;
    let (who, at, why, kept, figures, program) = found;
    Ok(Version {
        number,
        who,
        at,
        why,
        sheet: sheet(db, kept)?,
        figures: from_json(&text(db, figures)?)?,
        program,
    })
}

pub(crate) fn versions(db: &Connection, id: i64) -> Result<Vec<VersionRow>, StoreError> {
    let mut query = db.prepare_cached(
        "SELECT number, who, at, why FROM version WHERE recipe = ?1 ORDER BY number DESC",
    )?;
    let rows = query.query_map([id], |row| {
        Ok(VersionRow {
            number: row.get(0)?,
            who: row.get(1)?,
            at: row.get(2)?,
            why: row.get(3)?,
        })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}

impl Kitchen {
    /// Saves the draft as the next version, if the draft still is at `expect`; gives the
    /// version's number. The draft and what can be taken back of it stay as they are.
    ///
    /// # Errors
    /// [`StoreError::Moved`] where the draft is at another rev.
    #[allow(clippy::too_many_arguments)]
    pub fn save_version(
        &self,
        id: i64,
        expect: u64,
        who: &str,
        why: &str,
        figures: &Value,
        program: &str,
        at: i64,
    ) -> Result<u32, StoreError> {
        self.write(|db| {
            let from = expected(db, id, expect)?;
            let newest: u32 = db
                .prepare_cached("SELECT versions FROM recipe WHERE id = ?1")?
                .query_row([id], |row| row.get(0))?;
            let version = Version {
                number: newest + 1,
                who: who.to_owned(),
                at,
                why: why.to_owned(),
                sheet: sheet(db, from.kept)?,
                figures: figures.clone(),
                program: program.to_owned(),
            };
            add(db, id, from.kept, &version)?;
            db.prepare_cached("UPDATE draft SET based_on = ?2 WHERE recipe = ?1")?
                .execute(params![id, version.number])?;
            db.prepare_cached("UPDATE recipe SET changed = ?2 WHERE id = ?1")?
                .execute([id, at])?;
            Ok(version.number)
        })
    }

    /// The versions of a recipe, newest first.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn versions(&self, id: i64) -> Result<Vec<VersionRow>, StoreError> {
        self.read(|db| versions(db, id))
    }

    /// A version of a recipe.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is none.
    pub fn version(&self, id: i64, number: u32) -> Result<Version, StoreError> {
        self.read(|db| version(db, id, number))
    }
}
