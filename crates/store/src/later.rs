//! Later notes: what is added to a bake after its batch was finished. The record stays as it was,
//! and so does each note.

use crate::{Kitchen, StoreError, batch};
use rusqlite::{Connection, params};
use serde::{Deserialize, Serialize};

/// A form sent twice comes twice within so many seconds.
const TWICE: i64 = 60;

/// Something added to a bake.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Later {
    /// When it was added.
    pub at: i64,
    /// Who added it.
    #[serde(default)]
    pub who: String,
    /// The words.
    pub text: String,
    /// False where it says that the batch was finished by mistake, true where it says that it was
    /// a bake after all. The newest note that says either holds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub counts: Option<bool>,
}

/// The later notes of a batch, oldest first.
pub(crate) fn of(db: &Connection, batch: i64) -> Result<Vec<Later>, StoreError> {
    let mut query = db.prepare_cached(
        "SELECT at, who, text, counts FROM later WHERE batch = ?1 ORDER BY at, id",
    )?;
    let rows = query.query_map([batch], |row| {
        Ok(Later {
            at: row.get(0)?,
            who: row.get(1)?,
            text: row.get(2)?,
            counts: row.get(3)?,
        })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// Whether a batch with these later notes counts as it was finished.
fn counts(notes: &[Later]) -> bool {
    notes.iter().rev().find_map(|n| n.counts).unwrap_or(true)
}

impl batch::Batch {
    /// Whether its record counts: false where a later note says that it was finished by mistake.
    #[must_use]
    pub fn counts(&self) -> bool {
        counts(&self.later)
    }
}

/// Adds a note to a finished batch.
pub(crate) fn add(db: &Connection, batch: i64, note: &Later) -> Result<(), StoreError> {
    if batch::finished(db, batch)?.is_none() {
        return Err(StoreError::Bad(
            "The batch is not finished: only a finished one takes later notes.".to_owned(),
        ));
    }
    if note.text.trim().is_empty() {
        return Err(StoreError::Bad("A later note has no words.".to_owned()));
    }
    db.prepare_cached(
        "INSERT INTO later (batch, at, who, text, counts) VALUES (?1, ?2, ?3, ?4, ?5)",
    )?
    .execute(params![batch, note.at, note.who, note.text, note.counts])?;
    Ok(())
}

impl Kitchen {
    /// Adds a note to a finished batch. The same words of the same person, sent again within a
    /// minute, are kept once; so is the word that it was finished by mistake, or was not.
    ///
    /// # Errors
    /// [`StoreError::Bad`] where the batch is not finished or the note has no words,
    /// [`StoreError::Missing`] where there is no such batch.
    pub fn add_later(&self, batch: i64, note: &Later) -> Result<(), StoreError> {
        self.write(|db| {
            let same = |n: &Later| n.who == note.who && n.text == note.text;
            let again = |n: &Later| same(n) && (n.at - note.at).abs() < TWICE;
            let notes = of(db, batch)?;
            let sent_twice = match note.counts {
                Some(says) => counts(&notes) == says,
                None => notes.iter().any(again),
            };
            if sent_twice {
                return Ok(());
            }
            add(db, batch, note)
        })
    }
}
