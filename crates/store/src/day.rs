//! Days: several recipes to be ready at a time, with the times that the plan was last given. And
//! the serving time of a recipe's own plan.

use crate::body::{from_json, to_json};
use crate::{Kitchen, StoreError};
use rusqlite::{Connection, OptionalExtension, Row, params};
use serde::{Deserialize, Serialize};

/// What is asked of a day, and the times it holds.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Day {
    /// What it is called.
    pub title: String,
    /// When all of it is to be ready, on the kitchen clock: `2026-11-30T16:00`. None: as soon as
    /// may be.
    #[serde(default)]
    pub serve: Option<String>,
    /// Hours in which nobody works: `22:00-07:00`, or `none`. None: the kitchen's.
    #[serde(default)]
    pub quiet: Option<String>,
    /// Who planned it.
    #[serde(default)]
    pub who: String,
    /// The recipes.
    pub recipes: Vec<DayRecipe>,
    /// The steps in time as they were last planned; none where there is no plan.
    #[serde(default)]
    pub held: Vec<HeldStep>,
    /// What they answer; none where that is not known, or something was begun by then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub answers: Option<Answer>,
}

/// The question that the held times answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Answer {
    /// A mark of all it rests on: steps, times, kitchen, quiet hours.
    pub question: String,
    /// Minutes that a better plan could gain at most; 0 where there is none.
    #[serde(default)]
    pub unproven_by: i32,
}

/// A recipe of a day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct DayRecipe {
    /// Its own name among the recipes of the day, by which its batch is known; empty in days made before
    /// it had one.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub key: String,
    /// Its uid.
    pub recipe: String,
    /// The version; none for the draft.
    #[serde(default)]
    pub version: Option<u32>,
    /// Times its batch.
    pub times: f64,
    /// Its own serving time, in place of the day's.
    #[serde(default)]
    pub serve: Option<String>,
}

/// A step in its place, on the kitchen clock.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct HeldStep {
    /// The recipe, by place in the day, from 0.
    pub recipe: u32,
    /// The step's key.
    pub step: String,
    /// Its work begins: `2026-11-30T16:00`.
    pub start: String,
    /// Its work ends and its wait begins.
    pub work_end: String,
    /// Its wait ends.
    pub end: String,
    /// The latest that it may begin, the others staying where they are; none where that was not kept.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<String>,
}

/// A day as it is kept.
#[derive(Debug, Clone, PartialEq)]
pub struct DayRow {
    /// Its number.
    pub id: i64,
    /// Its name in every kitchen.
    pub uid: String,
    /// Grows with every change.
    pub rev: u64,
    /// The day.
    pub day: Day,
    /// There is something to undo.
    pub undo: bool,
    /// When it was made.
    pub created: i64,
    /// When it last changed.
    pub changed: i64,
    /// Since when it lies in the bin.
    pub binned: Option<i64>,
}

/// Most recipes of a day.
const RECIPES: usize = 12;
/// Longest title, in bytes.
const TITLE: usize = 200;

const COLUMNS: &str =
    "SELECT id, uid, rev, day, before IS NOT NULL, created, changed, binned FROM day";

type Raw = (DayRow, String);

fn raw(row: &Row<'_>) -> rusqlite::Result<Raw> {
    let found = DayRow {
        id: row.get(0)?,
        uid: row.get(1)?,
        rev: row.get::<_, i64>(2)?.unsigned_abs(),
        day: Day::default(),
        undo: row.get(4)?,
        created: row.get(5)?,
        changed: row.get(6)?,
        binned: row.get(7)?,
    };
    Ok((found, row.get(3)?))
}

fn read((row, json): Raw) -> Result<DayRow, StoreError> {
    Ok(DayRow {
        day: from_json(&json)?,
        ..row
    })
}

fn some(db: &Connection, rest: &str) -> Result<Vec<DayRow>, StoreError> {
    let mut query = db.prepare_cached(&format!("{COLUMNS} {rest}"))?;
    let rows: Vec<Raw> = query.query_map([], raw)?.collect::<Result<_, _>>()?;
    rows.into_iter().map(read).collect()
}

/// All days, in the bin or not, oldest first.
pub(crate) fn all(db: &Connection) -> Result<Vec<DayRow>, StoreError> {
    some(db, "ORDER BY id")
}

pub(crate) fn by_uid(db: &Connection, uid: &str) -> Result<Option<DayRow>, StoreError> {
    let found = db
        .prepare_cached(&format!("{COLUMNS} WHERE uid = ?1"))?
        .query_row([uid], raw)
        .optional()?;
    found.map(read).transpose()
}

fn one(db: &Connection, id: i64) -> Result<DayRow, StoreError> {
    let found = db
        .prepare_cached(&format!("{COLUMNS} WHERE id = ?1"))?
        .query_row([id], raw)
        .optional()?;
    read(found.ok_or_else(|| no_day(id))?)
}

fn no_day(id: i64) -> StoreError {
    StoreError::missing(format!("day {id}"))
}

fn check(day: &Day) -> Result<(), StoreError> {
    let bad = |words: &str| Err(StoreError::Bad(words.to_owned()));
    if day.recipes.len() > RECIPES {
        return bad("A day has at most 12 recipes: take one out.");
    }
    if day.title.len() > TITLE {
        return bad("The title of a day is at most 200 letters long.");
    }
    if day
        .recipes
        .iter()
        .any(|r| !r.times.is_finite() || !(0.01..=100.0).contains(&r.times))
    {
        return bad("How many times a recipe is made must be a number from 0.01 to 100.");
    }
    Ok(())
}

/// Adds a day as it is; gives its number.
pub(crate) fn add(
    db: &Connection,
    uid: &str,
    day: &Day,
    created: i64,
    changed: i64,
    binned: Option<i64>,
) -> Result<i64, StoreError> {
    check(day)?;
    db.prepare_cached(
        "INSERT INTO day (uid, rev, day, created, changed, binned) VALUES (?1, 1, ?2, ?3, ?4, ?5)",
    )?
    .execute(params![uid, to_json(day)?, created, changed, binned])?;
    Ok(db.last_insert_rowid())
}

/// The serving time of a recipe's own plan; empty for as soon as may be.
pub(crate) fn serving(db: &Connection, recipe: i64) -> Result<Option<String>, StoreError> {
    Ok(db
        .prepare_cached("SELECT serve FROM serving WHERE recipe = ?1")?
        .query_row([recipe], |row| row.get(0))
        .optional()?)
}

pub(crate) fn put_serving(db: &Connection, recipe: i64, serve: &str) -> Result<(), StoreError> {
    db.prepare_cached(
        "INSERT INTO serving (recipe, serve) VALUES (?1, ?2)
            ON CONFLICT (recipe) DO UPDATE SET serve = excluded.serve",
    )?
    .execute(params![recipe, serve])?;
    Ok(())
}

impl Kitchen {
    /// The days outside the bin, or those in it: the last changed first.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn days(&self, binned: bool) -> Result<Vec<DayRow>, StoreError> {
        let rest = if binned {
            "WHERE binned IS NOT NULL ORDER BY binned DESC, id DESC"
        } else {
            "WHERE binned IS NULL ORDER BY changed DESC, id DESC"
        };
        self.read(|db| some(db, rest))
    }

    /// A day.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is none.
    pub fn day(&self, id: i64) -> Result<DayRow, StoreError> {
        self.read(|db| one(db, id))
    }

    /// A day by its uid.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn day_by_uid(&self, uid: &str) -> Result<Option<DayRow>, StoreError> {
        self.read(|db| by_uid(db, uid))
    }

    /// Adds a day; gives its number.
    ///
    /// # Errors
    /// [`StoreError::Bad`] where it cannot be kept.
    pub fn add_day(&self, uid: &str, day: &Day, at: i64) -> Result<i64, StoreError> {
        self.write(|db| add(db, uid, day, at, at, None))
    }

    /// Changes a day; what stood before can be taken back. Gives the new rev.
    ///
    /// # Errors
    /// [`StoreError::Moved`] where another window was first, [`StoreError::Bad`] where it cannot be
    /// kept, [`StoreError::Missing`] where there is none.
    pub fn put_day(&self, id: i64, rev: u64, day: &Day, at: i64) -> Result<u64, StoreError> {
        check(day)?;
        self.write(|db| {
            let now = one(db, id)?;
            if now.rev != rev {
                return Err(StoreError::Moved { now: now.rev });
            }
            if now.day == *day {
                return Ok(rev);
            }
            db.prepare_cached(
                "UPDATE day SET before = day, day = ?2, rev = rev + 1, changed = ?3 WHERE id = ?1",
            )?
            .execute(params![id, to_json(day)?, at])?;
            Ok(rev + 1)
        })
    }

    /// Keeps the times of a day's plan as they follow now, where nothing else was changed since
    /// `rev`. No change to undo.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is none.
    pub fn hold_day(
        &self,
        id: i64,
        rev: u64,
        held: &[HeldStep],
        answers: Option<Answer>,
    ) -> Result<(), StoreError> {
        self.write(|db| {
            let now = one(db, id)?;
            if now.rev == rev && (now.day.held != held || now.day.answers != answers) {
                let day = Day {
                    held: held.to_vec(),
                    answers,
                    ..now.day
                };
                db.prepare_cached("UPDATE day SET day = ?2 WHERE id = ?1")?
                    .execute(params![id, to_json(&day)?])?;
            }
            Ok(())
        })
    }

    /// Takes the last change of a day back; once more brings it again.
    ///
    /// # Errors
    /// [`StoreError::Nothing`] where nothing was changed, [`StoreError::Missing`] where there is no
    /// such day.
    pub fn undo_day(&self, id: i64, at: i64) -> Result<(), StoreError> {
        self.write(|db| {
            if !one(db, id)?.undo {
                return Err(StoreError::Nothing);
            }
            db.prepare_cached(
                "UPDATE day SET before = day, day = before, rev = rev + 1, changed = ?2
                    WHERE id = ?1",
            )?
            .execute([id, at])?;
            Ok(())
        })
    }

    /// Puts a day into the bin. Nothing of it is lost.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is none.
    pub fn bin_day(&self, id: i64, at: i64) -> Result<(), StoreError> {
        self.write(|db| {
            let sql = "UPDATE day SET binned = coalesce(binned, ?2) WHERE id = ?1";
            match db.execute(sql, [id, at])? {
                0 => Err(no_day(id)),
                _ => Ok(()),
            }
        })
    }

    /// Takes a day out of the bin.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is none.
    pub fn unbin_day(&self, id: i64) -> Result<(), StoreError> {
        self.write(
            |db| match db.execute("UPDATE day SET binned = NULL WHERE id = ?1", [id])? {
                0 => Err(no_day(id)),
                _ => Ok(()),
            },
        )
    }

    /// The serving time of a recipe's own plan, on the kitchen clock (`2026-11-30T16:00`); empty
    /// for as soon as may be, none where nobody has said.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn serving(&self, recipe: i64) -> Result<Option<String>, StoreError> {
        self.read(|db| serving(db, recipe))
    }

    /// Keeps the serving time of a recipe's own plan.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is no such recipe.
    pub fn put_serving(&self, recipe: i64, serve: &str) -> Result<(), StoreError> {
        self.write(|db| {
            let sql = "SELECT EXISTS (SELECT 1 FROM recipe WHERE id = ?1)";
            if !db.query_row(sql, [recipe], |row| row.get(0))? {
                return Err(crate::recipes::no_recipe(recipe));
            }
            put_serving(db, recipe, serve)
        })
    }
}
