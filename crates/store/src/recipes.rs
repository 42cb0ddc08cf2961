//! Saved recipes: adding, looking up, the bin.

use crate::body::{from_json, keep, keep_sheet, text, to_json};
use crate::{Kitchen, StoreError, list, parts};
use recipe::sheet::{PartUse, Sheet};
use rusqlite::{Connection, OptionalExtension, params};
use serde::{Deserialize, Serialize};

/// What lists show of a recipe and search finds in it, computed from its sheet by the caller.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Summary {
    /// Its title.
    pub title: String,
    /// How far it is.
    pub stage: String,
    /// Style keys of its components.
    pub styles: Vec<String>,
    /// Open doubts.
    pub to_check: u32,
    /// Names of its components.
    pub components: Vec<String>,
    /// Foods and other words to find it by.
    pub words: String,
}

/// A recipe in a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Its number in this kitchen.
    pub id: i64,
    /// Its name in every kitchen.
    pub uid: String,
    /// Its title.
    pub title: String,
    /// How far it is.
    pub stage: String,
    /// Style keys of its components.
    pub styles: Vec<String>,
    /// Open doubts.
    pub to_check: u32,
    /// Names of its components.
    pub components: Vec<String>,
    /// When it was added.
    pub created: i64,
    /// When its draft last changed or a version was saved.
    pub changed: i64,
    /// Since when it lies in the bin.
    pub binned: Option<i64>,
    /// How many versions were saved; the newest has this number.
    pub versions: u32,
    /// The draft is like none of the versions.
    pub unsaved: bool,
    /// How many other recipes, outside the bin, use a component of it.
    pub used_in: u32,
}

/// The columns that [`row`] reads, for a query from `recipe AS r`.
pub(crate) const COLUMNS: &str = "r.id, r.uid, r.title, r.stage, r.styles, r.to_check, \
    r.components, r.created, r.changed, r.binned, r.versions, \
    NOT EXISTS (SELECT 1 FROM draft d JOIN step s ON s.recipe = d.recipe AND s.step = d.step \
        JOIN version v ON v.recipe = d.recipe AND v.text = s.text AND v.rest = s.rest \
        WHERE d.recipe = r.id), \
    (SELECT count(DISTINCT u.recipe) FROM part_use u JOIN recipe o ON o.id = u.recipe \
        WHERE u.part = r.uid AND o.binned IS NULL)";

pub(crate) fn row(row: &rusqlite::Row<'_>) -> Result<Row, StoreError> {
    Ok(Row {
        id: row.get(0)?,
        uid: row.get(1)?,
        title: row.get(2)?,
        stage: row.get(3)?,
        styles: from_json(&row.get::<_, String>(4)?)?,
        to_check: row.get(5)?,
        components: from_json(&row.get::<_, String>(6)?)?,
        created: row.get(7)?,
        changed: row.get(8)?,
        binned: row.get(9)?,
        versions: row.get(10)?,
        unsaved: row.get(11)?,
        used_in: row.get(12)?,
    })
}

fn one(db: &Connection, by: &str, value: impl rusqlite::ToSql) -> Result<Option<Row>, StoreError> {
    let mut query =
        db.prepare_cached(&format!("SELECT {COLUMNS} FROM recipe r WHERE r.{by} = ?1"))?;
    let mut rows = query.query([value])?;
    rows.next()?.map(row).transpose()
}

pub(crate) fn no_recipe(id: i64) -> StoreError {
    StoreError::missing(format!("recipe {id}"))
}

/// The summary kept of a recipe.
pub(crate) fn summary(db: &Connection, id: i64) -> Result<Summary, StoreError> {
    let mut query = db.prepare_cached(
        "SELECT title, stage, styles, to_check, components, words FROM recipe WHERE id = ?1",
    )?;
    let mut rows = query.query([id])?;
    let row = rows.next()?.ok_or_else(|| no_recipe(id))?;
    Ok(Summary {
        title: row.get(0)?,
        stage: row.get(1)?,
        styles: from_json(&row.get::<_, String>(2)?)?,
        to_check: row.get(3)?,
        components: from_json(&row.get::<_, String>(4)?)?,
        words: row.get(5)?,
    })
}

/// Keeps a new summary, and what search finds where it or the text is new.
pub(crate) fn put_summary(
    db: &Connection,
    id: i64,
    new: &Summary,
    old: Option<&Summary>,
    new_text: Option<&str>,
) -> Result<(), StoreError> {
    if old != Some(new) {
        db.prepare_cached(
            "UPDATE recipe SET title = ?2, stage = ?3, styles = ?4, to_check = ?5,
                components = ?6, words = ?7 WHERE id = ?1",
        )?
        .execute(params![
            id,
            new.title,
            new.stage,
            to_json(&new.styles)?,
            new.to_check,
            to_json(&new.components)?,
            new.words
        ])?;
    }
    if old.is_none_or(|old| old.styles != new.styles) {
        db.prepare_cached("DELETE FROM recipe_style WHERE recipe = ?1")?
            .execute([id])?;
        let mut add = db
            .prepare_cached("INSERT OR IGNORE INTO recipe_style (style, recipe) VALUES (?1, ?2)")?;
        for style in &new.styles {
            add.execute(params![style, id])?;
        }
    }
    let words_same = old.is_some_and(|old| {
        old.title == new.title && old.components == new.components && old.words == new.words
    });
    match new_text {
        Some(text) => list::index(db, id, new, text),
        None if words_same => Ok(()),
        None => {
            let now: i64 = db
                .prepare_cached(
                    "SELECT s.text FROM draft d JOIN step s ON s.recipe = d.recipe
                        AND s.step = d.step WHERE d.recipe = ?1",
                )?
                .query_row([id], |row| row.get(0))?;
            list::index(db, id, new, &text(db, now)?)
        }
    }
}

/// What a new recipe is made of.
pub(crate) struct NewRecipe<'a> {
    pub(crate) uid: &'a str,
    pub(crate) original: &'a str,
    pub(crate) sheet: &'a Sheet,
    pub(crate) summary: &'a Summary,
    pub(crate) who: &'a str,
    pub(crate) created: i64,
    pub(crate) changed: i64,
}

pub(crate) fn add(db: &Connection, new: &NewRecipe<'_>) -> Result<i64, StoreError> {
    if new.uid.is_empty() {
        return Err(StoreError::Bad("A recipe needs a uid.".to_owned()));
    }
    let known: bool = db
        .prepare_cached("SELECT EXISTS (SELECT 1 FROM recipe WHERE uid = ?1)")?
        .query_row([new.uid], |row| row.get(0))?;
    if known {
        return Err(StoreError::Bad(format!(
            "There is a recipe {} already.",
            new.uid
        )));
    }
    let kept = keep_sheet(db, new.sheet)?;
    db.prepare_cached(
        "INSERT INTO recipe (uid, original, who, created, changed, title, stage, styles,
            to_check, components, words) VALUES (?1, ?2, ?3, ?4, ?5, '', '', '[]', 0, '[]', '')",
    )?
    .execute(params![
        new.uid,
        keep(db, new.original)?,
        new.who,
        new.created,
        new.changed
    ])?;
    let id = db.last_insert_rowid();
    db.prepare_cached("INSERT INTO draft (recipe, rev, step, changed) VALUES (?1, 1, 0, ?2)")?
        .execute([id, new.changed])?;
    db.prepare_cached(
        "INSERT INTO step (recipe, step, text, rest, words, field) VALUES (?1, 0, ?2, ?3, '', '')",
    )?
    .execute([id, kept.text, kept.rest])?;
    db.prepare_cached("INSERT INTO shown (recipe, rev, text, rest) VALUES (?1, 1, ?2, ?3)")?
        .execute([id, kept.text, kept.rest])?;
    put_summary(db, id, new.summary, None, Some(&new.sheet.text))?;
    parts::put(db, id, new.sheet, true)?;
    Ok(id)
}

impl Kitchen {
    /// Recipes that can be taken in by another one, each at its newest version: those outside the
    /// bin that have one, the last changed first. Reads three columns and no sheet: every edit
    /// asks.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn parts_on_offer(&self, other: i64, most: u32) -> Result<Vec<PartUse>, StoreError> {
        self.read(|db| {
            let mut query = db.prepare_cached(
                "SELECT uid, versions, title FROM recipe
                    WHERE binned IS NULL AND versions > 0 AND id <> ?1
                    ORDER BY changed DESC, id DESC LIMIT ?2",
            )?;
            let rows = query.query_map([other, i64::from(most)], |row| {
                Ok(PartUse {
                    recipe: row.get(0)?,
                    version: row.get(1)?,
                    title: row.get(2)?,
                })
            })?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
    }

    /// Adds a recipe: the text as it was pasted, kept for ever, and its first sheet. Gives its
    /// number.
    ///
    /// # Errors
    /// [`StoreError::Bad`] where the uid is taken.
    pub fn add_recipe(
        &self,
        uid: &str,
        original: &str,
        sheet: &Sheet,
        summary: &Summary,
        who: &str,
        at: i64,
    ) -> Result<i64, StoreError> {
        let new = NewRecipe {
            uid,
            original,
            sheet,
            summary,
            who,
            created: at,
            changed: at,
        };
        self.write(|db| add(db, &new))
    }

    /// A recipe as lists show it.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is none.
    pub fn row(&self, id: i64) -> Result<Row, StoreError> {
        self.read(|db| one(db, "id", id)?.ok_or_else(|| no_recipe(id)))
    }

    /// A recipe by its uid.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn by_uid(&self, uid: &str) -> Result<Option<Row>, StoreError> {
        self.read(|db| one(db, "uid", uid))
    }

    /// The text as it was first pasted.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is no such recipe.
    pub fn original(&self, id: i64) -> Result<String, StoreError> {
        self.read(|db| original(db, id))
    }

    /// Puts a recipe into the bin. Nothing of it is lost.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is no such recipe.
    pub fn bin_recipe(&self, id: i64, at: i64) -> Result<(), StoreError> {
        self.write(|db| {
            let done = db.execute(
                "UPDATE recipe SET binned = coalesce(binned, ?2) WHERE id = ?1",
                [id, at],
            )?;
            found(done, id)
        })
    }

    /// Takes a recipe out of the bin.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is no such recipe.
    pub fn unbin_recipe(&self, id: i64, at: i64) -> Result<(), StoreError> {
        self.write(|db| {
            let done = db.execute(
                "UPDATE recipe SET changed = iif(binned IS NULL, changed, max(changed, ?2)),
                    binned = NULL WHERE id = ?1",
                [id, at],
            )?;
            found(done, id)
        })
    }

    /// Keeps a summary computed anew: after a change of the larder, or by a newer program.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is no such recipe.
    pub fn refresh_summary(&self, id: i64, new: &Summary) -> Result<(), StoreError> {
        self.write(|db| {
            let old = summary(db, id)?;
            put_summary(db, id, new, Some(&old), None)
        })
    }
}

pub(crate) fn original(db: &Connection, id: i64) -> Result<String, StoreError> {
    let kept = db
        .prepare_cached("SELECT original FROM recipe WHERE id = ?1")?
        .query_row([id], |row| row.get(0))
        .optional()?
        .ok_or_else(|| no_recipe(id))?;
    text(db, kept)
}

fn found(rows: usize, id: i64) -> Result<(), StoreError> {
    if rows == 0 {
        return Err(no_recipe(id));
    }
    Ok(())
}
