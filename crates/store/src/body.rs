//! Texts, each kept once.

use crate::{StoreError, pack};
use recipe::sheet::Sheet;
use rusqlite::types::ValueRef;
use rusqlite::{Connection, OptionalExtension, params};
use serde::Serialize;
use serde::de::DeserializeOwned;
use sha2::{Digest, Sha256};

/// Texts shorter than this are kept as they are.
const SHORT: usize = 512;

/// A text's number; a new one where it is not kept yet.
pub(crate) fn keep(db: &Connection, text: &str) -> Result<i64, StoreError> {
    keep_like(db, text, None)
}

/// Keeps a text that is much like another one, in little room.
pub(crate) fn keep_like(db: &Connection, text: &str, like: Option<i64>) -> Result<i64, StoreError> {
    let hash = Sha256::digest(text.as_bytes());
    let hash: &[u8] = &hash;
    let known = db
        .prepare_cached("SELECT id FROM body WHERE hash = ?1")?
        .query_row([hash], |row| row.get(0))
        .optional()?;
    if let Some(id) = known {
        return Ok(id);
    }
    let packed = if text.len() < SHORT {
        None
    } else {
        packed(db, text, like)?
    };
    let mut add = db.prepare_cached("INSERT INTO body (hash, text, base) VALUES (?1, ?2, ?3)")?;
    match packed {
        Some((bytes, base)) => add.execute(params![hash, bytes, base])?,
        None => add.execute(params![hash, text, None::<i64>])?,
    };
    Ok(db.last_insert_rowid())
}

/// What a text is packed into, and its base.
type Packed = (Vec<u8>, Option<i64>);

/// A text packed, alone or by what differs from another, whichever is worth it.
fn packed(db: &Connection, text: &str, like: Option<i64>) -> Result<Option<Packed>, StoreError> {
    let alone = pack::pack(text, "")?;
    if let Some(like) = like {
        // A base has no base: one look is enough to read any text.
        let base: Option<i64> = db
            .prepare_cached("SELECT base FROM body WHERE id = ?1")?
            .query_row([like], |row| row.get(0))?;
        let base = base.unwrap_or(like);
        let bytes = pack::pack(text, &self::text(db, base)?)?;
        // Where little is left of the likeness, this text is the next one's base.
        if bytes.len() < alone.len() / 3 * 2 {
            return Ok(Some((bytes, Some(base))));
        }
    }
    Ok((alone.len() < text.len() / 4 * 3).then_some((alone, None)))
}

pub(crate) fn text(db: &Connection, id: i64) -> Result<String, StoreError> {
    let mut query = db.prepare_cached(
        "SELECT b.text, a.text FROM body b LEFT JOIN body a ON a.id = b.base WHERE b.id = ?1",
    )?;
    let mut rows = query.query([id])?;
    let row = rows
        .next()?
        .ok_or_else(|| StoreError::Damaged(format!("text {id} is gone")))?;
    let base = match row.get_ref(1)? {
        ValueRef::Null => String::new(),
        base => plain(base, "")?,
    };
    plain(row.get_ref(0)?, &base)
}

fn plain(value: ValueRef<'_>, base: &str) -> Result<String, StoreError> {
    match value {
        ValueRef::Text(text) => String::from_utf8(text.to_vec())
            .map_err(|_| StoreError::Damaged("a kept text is no text".to_owned())),
        ValueRef::Blob(bytes) => pack::unpack(bytes, base),
        _ => Err(StoreError::Damaged("a kept text is no text".to_owned())),
    }
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
    let mut grams = sheet.lines.iter().filter_map(|l| l.grams);
    if grams.any(|g| !g.is_finite()) || sheet.pins.iter().any(|p| !p.hold.is_finite()) {
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
            UNION SELECT figures FROM version
            UNION SELECT base FROM body WHERE base IS NOT NULL)",
        [],
    )?)
}
