//! Drafts: unsaved work, kept with every change, and what can be taken back of it.

use crate::body::{Kept, keep_sheet, sheet};
use crate::recipes::{Summary, no_recipe, put_summary, summary};
use crate::{Kitchen, StoreError, parts};
use recipe::sheet::Sheet;
use rusqlite::{Connection, OptionalExtension, params};

/// Steps that can be taken back.
const UNDO: i64 = 200;
/// Revs whose sheets are kept.
const SHOWN: i64 = 200;

/// Unsaved work on a recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Draft {
    /// Grows with every change, undo and redo.
    pub rev: u64,
    /// The work.
    pub sheet: Sheet,
    /// The newest version it is the same as.
    pub saved_as: Option<u32>,
    /// The version it was last the same as.
    pub based_on: Option<u32>,
    /// The change that undo takes back.
    pub undo: Option<String>,
    /// The change that redo does again.
    pub redo: Option<String>,
    /// When it last changed.
    pub changed: i64,
}

/// Where a draft stands.
pub(crate) struct Stand {
    pub(crate) rev: i64,
    pub(crate) step: i64,
    pub(crate) kept: Kept,
    pub(crate) based_on: Option<u32>,
    words: String,
    field: String,
    changed: i64,
}

pub(crate) fn stand(db: &Connection, id: i64) -> Result<Stand, StoreError> {
    db.prepare_cached(
        "SELECT d.rev, d.step, s.text, s.rest, d.based_on, s.words, s.field, d.changed
            FROM draft d JOIN step s ON s.recipe = d.recipe AND s.step = d.step
            WHERE d.recipe = ?1",
    )?
    .query_row([id], |row| {
        Ok(Stand {
            rev: row.get(0)?,
            step: row.get(1)?,
            kept: Kept {
                text: row.get(2)?,
                rest: row.get(3)?,
            },
            based_on: row.get(4)?,
            words: row.get(5)?,
            field: row.get(6)?,
            changed: row.get(7)?,
        })
    })
    .optional()?
    .ok_or_else(|| no_recipe(id))
}

fn rev(rev: i64) -> u64 {
    u64::try_from(rev).unwrap_or(0)
}

/// Where the draft stands, if that is where the caller saw it.
pub(crate) fn expected(db: &Connection, id: i64, expect: u64) -> Result<Stand, StoreError> {
    let stand = stand(db, id)?;
    if rev(stand.rev) != expect {
        return Err(StoreError::Moved {
            now: rev(stand.rev),
        });
    }
    Ok(stand)
}

/// The newest version that is this sheet.
fn same_as(db: &Connection, id: i64, kept: Kept) -> Result<Option<u32>, StoreError> {
    Ok(db
        .prepare_cached(
            "SELECT max(number) FROM version WHERE recipe = ?1 AND text = ?2 AND rest = ?3",
        )?
        .query_row([id, kept.text, kept.rest], |row| row.get(0))?)
}

fn ends(db: &Connection, id: i64) -> Result<(i64, i64), StoreError> {
    Ok(db
        .prepare_cached("SELECT min(step), max(step) FROM step WHERE recipe = ?1")?
        .query_row([id], |row| Ok((row.get(0)?, row.get(1)?)))?)
}

fn step_kept(db: &Connection, id: i64, step: i64) -> Result<Option<Kept>, StoreError> {
    Ok(db
        .prepare_cached("SELECT text, rest FROM step WHERE recipe = ?1 AND step = ?2")?
        .query_row([id, step], |row| {
            Ok(Kept {
                text: row.get(0)?,
                rest: row.get(1)?,
            })
        })
        .optional()?)
}

fn step_words(db: &Connection, id: i64, step: i64) -> Result<Option<String>, StoreError> {
    Ok(db
        .prepare_cached("SELECT words FROM step WHERE recipe = ?1 AND step = ?2")?
        .query_row([id, step], |row| row.get(0))
        .optional()?)
}

pub(crate) fn draft(db: &Connection, id: i64) -> Result<Draft, StoreError> {
    let stand = stand(db, id)?;
    let (first, _) = ends(db, id)?;
    Ok(Draft {
        rev: rev(stand.rev),
        sheet: sheet(db, stand.kept)?,
        saved_as: same_as(db, id, stand.kept)?,
        based_on: stand.based_on,
        undo: (stand.step > first).then_some(stand.words),
        redo: step_words(db, id, stand.step + 1)?,
        changed: stand.changed,
    })
}

/// Moves the draft to a step that is kept; gives the new rev.
fn go(
    db: &Connection,
    id: i64,
    from: &Stand,
    step: i64,
    kept: Kept,
    at: i64,
) -> Result<u64, StoreError> {
    let next = from.rev + 1;
    let based_on = same_as(db, id, kept)?.or(from.based_on);
    db.prepare_cached(
        "UPDATE draft SET rev = ?2, step = ?3, based_on = ?4, changed = ?5 WHERE recipe = ?1",
    )?
    .execute(params![id, next, step, based_on, at])?;
    db.prepare_cached("INSERT INTO shown (recipe, rev, text, rest) VALUES (?1, ?2, ?3, ?4)")?
        .execute([id, next, kept.text, kept.rest])?;
    db.prepare_cached("DELETE FROM shown WHERE recipe = ?1 AND rev <= ?2")?
        .execute([id, next - SHOWN])?;
    db.prepare_cached("UPDATE recipe SET changed = ?2 WHERE id = ?1")?
        .execute([id, at])?;
    Ok(rev(next))
}

/// What follows from another sheet: summary, search, uses.
fn follow(
    db: &Connection,
    id: i64,
    from: &Stand,
    kept: Kept,
    sheet: &Sheet,
    new: &Summary,
) -> Result<(), StoreError> {
    let old = summary(db, id)?;
    let text = (from.kept.text != kept.text).then_some(sheet.text.as_str());
    put_summary(db, id, new, Some(&old), text)?;
    parts::put(db, id, sheet, true)
}

/// Which way along the steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// The last change is taken back; goes on past a save.
    Undo,
    /// What was taken back last is done again.
    Redo,
}

impl Kitchen {
    /// The unsaved work on a recipe.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is no such recipe.
    pub fn draft(&self, id: i64) -> Result<Draft, StoreError> {
        self.read(|db| draft(db, id))
    }

    /// Changes the draft, if it still is at `expect`; gives its new rev. `words` say what the
    /// change is, `field` which field it touches. With `join` a change goes on in the same field:
    /// one undo takes both back. A sheet that is the same as before changes nothing.
    ///
    /// # Errors
    /// [`StoreError::Moved`] where the draft is at another rev.
    #[allow(clippy::too_many_arguments)]
    pub fn put_draft(
        &self,
        id: i64,
        expect: u64,
        sheet: &Sheet,
        words: &str,
        field: &str,
        join: bool,
        summary: &Summary,
        at: i64,
    ) -> Result<u64, StoreError> {
        self.write(|db| {
            let from = expected(db, id, expect)?;
            let kept = keep_sheet(db, sheet)?;
            if kept == from.kept {
                return Ok(rev(from.rev));
            }
            let (first, last) = ends(db, id)?;
            let joins = join
                && from.step == last
                && from.step > first
                && from.field == field
                && same_as(db, id, from.kept)?.is_none();
            let step = if joins && step_kept(db, id, from.step - 1)? == Some(kept) {
                // Typed back to what it was: nothing is left to undo.
                db.prepare_cached("DELETE FROM step WHERE recipe = ?1 AND step = ?2")?
                    .execute([id, from.step])?;
                from.step - 1
            } else if joins {
                db.prepare_cached(
                    "UPDATE step SET text = ?3, rest = ?4, words = ?5
                        WHERE recipe = ?1 AND step = ?2",
                )?
                .execute(params![id, from.step, kept.text, kept.rest, words])?;
                from.step
            } else {
                let step = from.step + 1;
                db.prepare_cached(
                    "DELETE FROM step WHERE recipe = ?1 AND (step >= ?2 OR step < ?3)",
                )?
                .execute([id, step, step - UNDO])?;
                db.prepare_cached(
                    "INSERT INTO step (recipe, step, text, rest, words, field)
                        VALUES (?1, ?2, ?3, ?4, ?5, ?6)",
                )?
                .execute(params![id, step, kept.text, kept.rest, words, field])?;
                step
            };
            let now = go(db, id, &from, step, kept, at)?;
            follow(db, id, &from, kept, sheet, summary)?;
            Ok(now)
        })
    }

    /// Goes one change back or forth; gives the new rev.
    ///
    /// # Errors
    /// [`StoreError::Moved`] where the draft is at another rev, [`StoreError::Nothing`] where
    /// nothing is left to take back or to do again.
    pub fn walk(
        &self,
        id: i64,
        expect: u64,
        way: Way,
        summarise: impl FnOnce(&Sheet) -> Summary,
        at: i64,
    ) -> Result<u64, StoreError> {
        self.write(|db| {
            let from = expected(db, id, expect)?;
            let step = match way {
                Way::Undo => from.step - 1,
                Way::Redo => from.step + 1,
            };
            let kept = step_kept(db, id, step)?.ok_or(StoreError::Nothing)?;
            let sheet = sheet(db, kept)?;
            let now = go(db, id, &from, step, kept, at)?;
            follow(db, id, &from, kept, &sheet, &summarise(&sheet))?;
            Ok(now)
        })
    }

    /// Takes back what was typed in a field as if it had never been, it is not to be done again: goes to
    /// the last step that was the sheet `to`. Gives the new rev; none, and nothing is done, where another
    /// field was changed since, or no step was that sheet.
    ///
    /// # Errors
    /// [`StoreError::Moved`] where the draft is at another rev.
    pub fn drop_typed(
        &self,
        id: i64,
        expect: u64,
        field: &str,
        to: &Sheet,
        summary: &Summary,
        at: i64,
    ) -> Result<Option<u64>, StoreError> {
        self.write(|db| {
            let from = expected(db, id, expect)?;
            let kept = keep_sheet(db, to)?;
            let step: Option<i64> = db
                .prepare_cached(
                    "SELECT max(s.step) FROM step s
                        WHERE s.recipe = ?1 AND s.step < ?2 AND s.text = ?3 AND s.rest = ?4
                        AND NOT EXISTS (SELECT 1 FROM step t WHERE t.recipe = ?1
                            AND t.step > s.step AND t.step <= ?2 AND t.field <> ?5)",
                )?
                .query_row(params![id, from.step, kept.text, kept.rest, field], |row| {
                    row.get(0)
                })?;
            let Some(step) = step else { return Ok(None) };
            let now = go(db, id, &from, step, kept, at)?;
            db.prepare_cached("DELETE FROM step WHERE recipe = ?1 AND step > ?2")?
                .execute([id, step])?;
            follow(db, id, &from, kept, to, summary)?;
            Ok(Some(now))
        })
    }

    /// The sheet that a rev of the draft showed, for the last 200 revs.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn sheet_at(&self, id: i64, rev: u64) -> Result<Option<Sheet>, StoreError> {
        let Ok(rev) = i64::try_from(rev) else {
            return Ok(None);
        };
        self.read(|db| {
            db.prepare_cached("SELECT text, rest FROM shown WHERE recipe = ?1 AND rev = ?2")?
                .query_row([id, rev], |row| {
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
