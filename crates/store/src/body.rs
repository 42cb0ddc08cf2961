//! Texts, each kept once.

use crate::StoreError;
use recipe::sheet::Sheet;
use rusqlite::{Connection, OptionalExtension, params};
use serde::Serialize;
use serde::de::DeserializeOwned;
use sha2::{Digest, Sha256};

/// A text's number; a new one where it is not kept yet.
pub(crate) fn keep(db: &Connection, text: &str) -> Result<i64, StoreError> {
    let hash = Sha256::digest(text.as_bytes());
    let hash: &[u8] = &hash;
    let known = db
        .prepare_cached("SELECT id FROM body WHERE hash = ?1")?
        .query_row([hash], |row| row.get(0))
        .optional()?;
    if let Some(id) = known {
        return Ok(id);
    }
    db.prepare_cached("INSERT INTO body (hash, text) VALUES (?1, ?2)")?
        .execute(params![hash, text])?;
    Ok(db.last_insert_rowid())
}

pub(crate) fn text(db: &Connection, id: i64) -> Result<String, StoreError> {
    Ok(db
        .prepare_cached("SELECT text FROM body WHERE id = ?1")?
        .query_row([id], |row| row.get(0))?)
}

pub(crate) fn to_json<T: Serialize>(value: &T) -> Result<String, StoreError> {
    serde_json::to_string(value)
        .map_err(|e| StoreError::Bad(format!("This cannot be kept as JSON: {e}")))
}

pub(crate) fn from_json<T: DeserializeOwned>(json: &str) -> Result<T, StoreError> {
    serde_json::from_str(json).map_err(|e| StoreError::Damaged(format!("kept JSON: {e}")))
}

/// A kept sheet: its text, and the rest of it as JSON. Equal pairs are equal sheets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Kept {
    pub(crate) text: i64,
    pub(crate) rest: i64,
}

pub(crate) fn keep_sheet(db: &Connection, sheet: &Sheet) -> Result<Kept, StoreError> {
    let pins = sheet.pins.iter().map(|p| p.grams);
    let grams = sheet.lines.iter().filter_map(|l| l.grams);
    if pins.chain(grams).any(|g| !g.is_finite()) {
        return Err(StoreError::Bad("Grams must be a plain number.".to_owned()));
    }
    let rest = Sheet {
        text: String::new(),
        ..sheet.clone()
    };
    Ok(Kept {
        text: keep(db, &sheet.text)?,
        rest: keep(db, &to_json(&rest)?)?,
    })
}

pub(crate) fn sheet(db: &Connection, kept: Kept) -> Result<Sheet, StoreError> {
    let mut sheet: Sheet = from_json(&text(db, kept.rest)?)?;
    sheet.text = text(db, kept.text)?;
    Ok(sheet)
}

/// Drops texts that nothing uses any more: of steps and revs long gone. Foreign keys must be off,
/// or each text dropped is looked for in every table.
pub(crate) fn tidy(db: &Connection) -> Result<usize, StoreError> {
    Ok(db.execute(
        "DELETE FROM body WHERE id NOT IN (
            SELECT original FROM recipe
            UNION SELECT text FROM step UNION SELECT rest FROM step
            UNION SELECT text FROM shown UNION SELECT rest FROM shown
            UNION SELECT text FROM version UNION SELECT rest FROM version
            UNION SELECT figures FROM version)",
        [],
    )?)
}
