//! Batches: each making of a recipe at the bench, and its record.

use crate::body::{from_json, to_json};
use crate::recipes::no_recipe;
use crate::{Kitchen, Later, StoreError, later};
use rusqlite::{Connection, OptionalExtension, params};
use serde::{Deserialize, Serialize};
use serde_json::Value;

/// One making of a recipe.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Batch {
    /// Its number.
    pub id: i64,
    /// The recipe's number.
    pub recipe: i64,
    /// The recipe's title when the batch was started.
    pub title: String,
    /// The version made; none where the draft was.
    pub version: Option<u32>,
    /// Times the recipe.
    pub factor: f64,
    /// What is to weigh and do, as it was at the start.
    pub plan: Value,
    /// Who started it.
    pub who: String,
    /// When it was started.
    pub started: i64,
    /// When it was finished.
    pub finished: Option<i64>,
    /// The record of the bake.
    pub bake: Option<Value>,
    /// What was ticked and weighed, by item.
    pub marks: Vec<Mark>,
    /// Its timers.
    pub timers: Vec<Timer>,
    /// What was added after it was finished, oldest first.
    pub later: Vec<Later>,
    /// The uid of the day it is of, where it was started from one.
    pub day: Option<String>,
}

/// The record of a finished batch.
#[derive(Debug, Clone, PartialEq)]
pub struct Record {
    /// The batch's number.
    pub id: i64,
    /// When it was finished.
    pub finished: i64,
    /// Times the recipe.
    pub factor: f64,
    /// The record of the bake.
    pub bake: Option<Value>,
    /// False where a later note says that it was finished by mistake.
    pub counts: bool,
}

/// What was done about an item of a plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Mark {
    /// The item's key in the plan.
    pub item: String,
    /// Done.
    pub ticked: bool,
    /// What the scale showed, where it was another figure.
    pub actual: Option<f64>,
    /// When either last changed, Unix milliseconds.
    pub at: i64,
}

/// A timer of a batch.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Timer {
    /// Its name among the batch's timers.
    pub uid: String,
    /// What it is for.
    pub label: String,
    /// How long, in all.
    pub seconds: f64,
    /// When it rings, Unix milliseconds, while it runs.
    pub ends: Option<i64>,
    /// Seconds left, while it is held.
    pub left: Option<f64>,
    /// It has rung and been seen.
    pub done: bool,
}

const COLUMNS: &str =
    "SELECT id, recipe, title, version, factor, plan, who, started, finished, bake, day FROM batch";

fn batches(db: &Connection, rest: &str, value: i64) -> Result<Vec<Batch>, StoreError> {
    let mut query = db.prepare_cached(&format!("{COLUMNS} {rest}"))?;
    let mut rows = query.query([value])?;
    let mut out = Vec::new();
    while let Some(row) = rows.next()? {
        let id = row.get(0)?;
        let bake: Option<String> = row.get(9)?;
        out.push(Batch {
            id,
            recipe: row.get(1)?,
            title: row.get(2)?,
            version: row.get(3)?,
            factor: row.get(4)?,
            plan: from_json(&row.get::<_, String>(5)?)?,
            who: row.get(6)?,
            started: row.get(7)?,
            finished: row.get(8)?,
            bake: bake.map(|json| from_json(&json)).transpose()?,
            marks: marks(db, id)?,
            timers: timers(db, id)?,
            later: later::of(db, id)?,
            day: row.get(10)?,
        });
    }
    Ok(out)
}

fn marks(db: &Connection, batch: i64) -> Result<Vec<Mark>, StoreError> {
    let mut query = db.prepare_cached(
        "SELECT item, ticked, actual, max(coalesce(ticked_at, actual_at),
            coalesce(actual_at, ticked_at)) FROM mark WHERE batch = ?1 ORDER BY item",
    )?;
    let rows = query.query_map([batch], |row| {
        Ok(Mark {
            item: row.get(0)?,
            ticked: row.get(1)?,
            actual: row.get(2)?,
            at: row.get(3)?,
        })
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}

fn timers(db: &Connection, batch: i64) -> Result<Vec<Timer>, StoreError> {
    let mut query = db.prepare_cached("SELECT timer FROM timer WHERE batch = ?1 ORDER BY uid")?;
    let mut rows = query.query([batch])?;
    let mut out = Vec::new();
    while let Some(row) = rows.next()? {
        out.push(from_json(&row.get::<_, String>(0)?)?);
    }
    Ok(out)
}

/// All batches of all recipes, oldest first.
pub(crate) fn all(db: &Connection) -> Result<Vec<Batch>, StoreError> {
    batches(db, "WHERE id > ?1 ORDER BY id", 0)
}

/// Batches of a recipe, newest first.
pub(crate) fn of(db: &Connection, recipe: i64) -> Result<Vec<Batch>, StoreError> {
    batches(
        db,
        "WHERE recipe = ?1 ORDER BY started DESC, id DESC",
        recipe,
    )
}

/// Adds a batch as it is, but for its number.
pub(crate) fn add(db: &Connection, batch: &Batch) -> Result<i64, StoreError> {
    if !batch.factor.is_finite() || batch.factor <= 0.0 {
        return Err(StoreError::Bad(
            "How many times the recipe must be a number above 0.".to_owned(),
        ));
    }
    db.prepare_cached(
        "INSERT INTO batch (recipe, title, version, factor, plan, who, started, day)
            VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
    )?
    .execute(params![
        batch.recipe,
        batch.title,
        batch.version,
        batch.factor,
        to_json(&batch.plan)?,
        batch.who,
        batch.started,
        batch.day
    ])?;
    let id = db.last_insert_rowid();
    for m in &batch.marks {
        put_mark(db, id, &m.item, Some(m.ticked), Some(m.actual), m.at)?;
    }
    for timer in &batch.timers {
        put_timer(db, id, timer)?;
    }
    if let Some(finished) = batch.finished {
        let bake = batch.bake.as_ref().map(to_json).transpose()?;
        db.prepare_cached("UPDATE batch SET finished = ?2, bake = ?3 WHERE id = ?1")?
            .execute(params![id, finished, bake])?;
    }
    for note in &batch.later {
        later::add(db, id, note)?;
    }
    Ok(id)
}

/// When a batch was finished; nothing while it is open.
pub(crate) fn finished(db: &Connection, batch: i64) -> Result<Option<i64>, StoreError> {
    db.prepare_cached("SELECT finished FROM batch WHERE id = ?1")?
        .query_row([batch], |row| row.get(0))
        .optional()?
        .ok_or_else(|| StoreError::missing(format!("batch {batch}")))
}

/// Refuses a batch that is finished or not there.
fn open(db: &Connection, batch: i64) -> Result<(), StoreError> {
    if finished(db, batch)?.is_some() {
        return Err(StoreError::Finished);
    }
    Ok(())
}

fn put_mark(
    db: &Connection,
    batch: i64,
    item: &str,
    ticked: Option<bool>,
    actual: Option<Option<f64>>,
    at: i64,
) -> Result<(), StoreError> {
    if actual.flatten().is_some_and(|a| !a.is_finite()) {
        return Err(StoreError::Bad("Grams must be a plain number.".to_owned()));
    }
    if let Some(ticked) = ticked {
        db.prepare_cached(
            "INSERT INTO mark (batch, item, ticked, ticked_at) VALUES (?1, ?2, ?3, ?4)
                ON CONFLICT (batch, item) DO UPDATE
                SET ticked = excluded.ticked, ticked_at = excluded.ticked_at
                WHERE mark.ticked_at IS NULL OR mark.ticked_at <= excluded.ticked_at",
        )?
        .execute(params![batch, item, ticked, at])?;
    }
    if let Some(actual) = actual {
        db.prepare_cached(
            "INSERT INTO mark (batch, item, actual, actual_at) VALUES (?1, ?2, ?3, ?4)
                ON CONFLICT (batch, item) DO UPDATE
                SET actual = excluded.actual, actual_at = excluded.actual_at
                WHERE mark.actual_at IS NULL OR mark.actual_at <= excluded.actual_at",
        )?
        .execute(params![batch, item, actual, at])?;
    }
    Ok(())
}

fn put_timer(db: &Connection, batch: i64, timer: &Timer) -> Result<(), StoreError> {
    if !timer.seconds.is_finite() || timer.left.is_some_and(|l| !l.is_finite()) {
        return Err(StoreError::Bad(
            "A timer's seconds must be a plain number.".to_owned(),
        ));
    }
    db.prepare_cached("INSERT OR REPLACE INTO timer (batch, uid, timer) VALUES (?1, ?2, ?3)")?
        .execute(params![batch, timer.uid, to_json(timer)?])?;
    Ok(())
}

impl Kitchen {
    /// Starts a batch; gives its number.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is no such recipe or version.
    pub fn start_batch(
        &self,
        recipe: i64,
        version: Option<u32>,
        factor: f64,
        plan: &Value,
        who: &str,
        at: i64,
    ) -> Result<i64, StoreError> {
        self.write(|db| {
            let (title, newest): (String, u32) = db
                .prepare_cached("SELECT title, versions FROM recipe WHERE id = ?1")?
                .query_row([recipe], |row| Ok((row.get(0)?, row.get(1)?)))
                .optional()?
                .ok_or_else(|| no_recipe(recipe))?;
            if let Some(v) = version.filter(|v| *v == 0 || *v > newest) {
                return Err(StoreError::missing(format!("version {v} of {title}")));
            }
            let batch = Batch {
                recipe,
                title,
                version,
                factor,
                plan: plan.clone(),
                who: who.to_owned(),
                started: at,
                ..Batch::default()
            };
            add(db, &batch)
        })
    }

    /// Says which day a batch is of, by the day's uid.
    ///
    /// # Errors
    /// [`StoreError::Finished`] where the batch is, [`StoreError::Missing`] where there is none.
    pub fn put_batch_day(&self, batch: i64, day: &str) -> Result<(), StoreError> {
        self.write(|db| {
            open(db, batch)?;
            db.prepare_cached("UPDATE batch SET day = ?2 WHERE id = ?1")?
                .execute(params![batch, day])?;
            Ok(())
        })
    }

    /// The batches of a day, oldest first.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn batches_of_day(&self, day: i64) -> Result<Vec<Batch>, StoreError> {
        let rest = "WHERE day = (SELECT uid FROM day WHERE id = ?1) ORDER BY id";
        self.read(|db| batches(db, rest, day))
    }

    /// A batch.
    ///
    /// # Errors
    /// [`StoreError::Missing`] where there is none.
    pub fn batch(&self, id: i64) -> Result<Batch, StoreError> {
        let mut found = self.read(|db| batches(db, "WHERE id = ?1", id))?;
        found
            .pop()
            .ok_or_else(|| StoreError::missing(format!("batch {id}")))
    }

    /// The batches not finished, newest first.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn open_batches(&self) -> Result<Vec<Batch>, StoreError> {
        let rest = "WHERE finished IS NULL AND id > ?1 ORDER BY started DESC, id DESC";
        self.read(|db| batches(db, rest, 0))
    }

    /// The batches of a recipe, newest first.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn batches_of(&self, recipe: i64) -> Result<Vec<Batch>, StoreError> {
        self.read(|db| of(db, recipe))
    }

    /// The records of a recipe's finished batches, newest first, without all that the bench showed.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn records_of(&self, recipe: i64) -> Result<Vec<Record>, StoreError> {
        self.read(|db| {
            let mut query = db.prepare_cached(
                "SELECT id, finished, factor, bake,
                    coalesce((SELECT counts FROM later WHERE batch = b.id
                        AND counts IS NOT NULL ORDER BY at DESC, id DESC LIMIT 1), 1)
                    FROM batch b WHERE recipe = ?1 AND finished IS NOT NULL
                    ORDER BY finished DESC, id DESC",
            )?;
            let mut rows = query.query([recipe])?;
            let mut out = Vec::new();
            while let Some(row) = rows.next()? {
                let bake: Option<String> = row.get(3)?;
                out.push(Record {
                    id: row.get(0)?,
                    finished: row.get(1)?,
                    factor: row.get(2)?,
                    bake: bake.map(|json| from_json(&json)).transpose()?,
                    counts: row.get(4)?,
                });
            }
            Ok(out)
        })
    }

    /// Ticks an item, or keeps what the scale showed. What is `None` stays. Of two devices' words
    /// on one field the one with the later time (Unix milliseconds) holds, whichever comes first.
    ///
    /// # Errors
    /// [`StoreError::Finished`] where the batch is, [`StoreError::Missing`] where there is none.
    pub fn mark(
        &self,
        batch: i64,
        item: &str,
        ticked: Option<bool>,
        actual: Option<Option<f64>>,
        at_ms: i64,
    ) -> Result<(), StoreError> {
        self.write(|db| {
            open(db, batch)?;
            put_mark(db, batch, item, ticked, actual, at_ms)
        })
    }

    /// Keeps a timer, new or in place of the one with its uid.
    ///
    /// # Errors
    /// [`StoreError::Finished`] where the batch is, [`StoreError::Missing`] where there is none.
    pub fn put_timer(&self, batch: i64, timer: &Timer) -> Result<(), StoreError> {
        self.write(|db| {
            open(db, batch)?;
            put_timer(db, batch, timer)
        })
    }

    /// Drops a timer, if it is there.
    ///
    /// # Errors
    /// [`StoreError::Finished`] where the batch is, [`StoreError::Missing`] where there is none.
    pub fn drop_timer(&self, batch: i64, uid: &str) -> Result<(), StoreError> {
        self.write(|db| {
            open(db, batch)?;
            db.prepare_cached("DELETE FROM timer WHERE batch = ?1 AND uid = ?2")?
                .execute(params![batch, uid])?;
            Ok(())
        })
    }

    /// Finishes a batch, with the record of the bake. It stays as it is from then on.
    ///
    /// # Errors
    /// [`StoreError::Finished`] where it is already, [`StoreError::Missing`] where there is none.
    pub fn finish_batch(&self, id: i64, bake: &Value, at: i64) -> Result<(), StoreError> {
        self.write(|db| {
            open(db, id)?;
            db.prepare_cached("UPDATE batch SET finished = ?2, bake = ?3 WHERE id = ?1")?
                .execute(params![id, at, to_json(bake)?])?;
            Ok(())
        })
    }
}
