//! The archive: the whole kitchen as one zip of open JSON. `docs/archive.md` says what each field
//! means.

use crate::body::to_json;
use crate::recipes::{Summary, original, summary};
use crate::{
    BlendRow, Day, Kitchen, Later, Mark, OwnBlend, OwnChange, Settings, StoreError, Timer, Version,
};
use crate::{batch, blend, body, day, draft, own, settings, version};
use recipe::sheet::Sheet;
use rusqlite::Connection;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use sha2::{Digest, Sha256};
use std::io::{Cursor, Write};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

/// What `kitchen.json` calls the format.
pub const FORMAT: &str = "unwheat-kitchen";
/// The version of the format that this program writes and reads.
pub const FORMAT_VERSION: u32 = 1;

const README: &str = include_str!("archive-readme.txt");

#[derive(Debug, Serialize, Deserialize)]
pub(crate) struct KitchenFile {
    pub(crate) format: String,
    pub(crate) format_version: u32,
    #[serde(default)]
    pub(crate) settings: Settings,
}

#[derive(Debug, Serialize, Deserialize)]
pub(crate) struct RecipeFile {
    pub(crate) uid: String,
    pub(crate) original: String,
    #[serde(default)]
    pub(crate) who: String,
    pub(crate) created: i64,
    pub(crate) changed: i64,
    #[serde(default)]
    pub(crate) binned: Option<i64>,
    #[serde(default)]
    pub(crate) summary: Summary,
    pub(crate) draft: Sheet,
    #[serde(default)]
    pub(crate) based_on: Option<u32>,
    #[serde(default)]
    pub(crate) versions: Vec<Version>,
    /// The serving time of its own plan.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) serve: Option<String>,
}

#[derive(Debug, Default, Serialize, Deserialize)]
pub(crate) struct LarderFile {
    pub(crate) entries: Vec<EntryFile>,
}

#[derive(Debug, Serialize, Deserialize)]
pub(crate) struct EntryFile {
    pub(crate) key: String,
    pub(crate) history: Vec<OwnChange>,
}

#[derive(Debug, Default, Serialize, Deserialize)]
pub(crate) struct BlendsFile {
    pub(crate) blends: Vec<BlendFile>,
}

#[derive(Debug, Serialize, Deserialize)]
pub(crate) struct BlendFile {
    pub(crate) key: String,
    #[serde(default)]
    pub(crate) binned: Option<i64>,
    pub(crate) versions: Vec<BlendVersion>,
}

#[derive(Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct BlendVersion {
    pub(crate) version: u32,
    pub(crate) at: i64,
    pub(crate) who: String,
    pub(crate) why: String,
    pub(crate) blend: OwnBlend,
}

#[derive(Debug, Default, Serialize, Deserialize)]
pub(crate) struct BatchesFile {
    pub(crate) batches: Vec<BatchFile>,
}

#[derive(Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct BatchFile {
    /// The recipe's uid.
    pub(crate) recipe: String,
    pub(crate) title: String,
    #[serde(default)]
    pub(crate) version: Option<u32>,
    pub(crate) factor: f64,
    pub(crate) plan: Value,
    #[serde(default)]
    pub(crate) who: String,
    pub(crate) started: i64,
    #[serde(default)]
    pub(crate) finished: Option<i64>,
    #[serde(default)]
    pub(crate) bake: Option<Value>,
    #[serde(default)]
    pub(crate) marks: Vec<Mark>,
    #[serde(default)]
    pub(crate) timers: Vec<Timer>,
    #[serde(default)]
    pub(crate) later: Vec<Later>,
    /// The uid of the day it is of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) day: Option<String>,
}

#[derive(Debug, Default, Serialize, Deserialize)]
pub(crate) struct DaysFile {
    pub(crate) days: Vec<DayFile>,
}

#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct DayFile {
    pub(crate) uid: String,
    pub(crate) created: i64,
    pub(crate) changed: i64,
    #[serde(default)]
    pub(crate) binned: Option<i64>,
    #[serde(flatten)]
    pub(crate) day: Day,
}

/// The first letters of a value's hash, for a second name.
pub(crate) fn short_hash<T: Serialize>(value: &T) -> Result<String, StoreError> {
    let hash = Sha256::digest(to_json(value)?.as_bytes());
    Ok(hash.iter().take(4).map(|b| format!("{b:02x}")).collect())
}

/// A recipe as an archive holds it.
pub(crate) fn recipe_file(db: &Connection, id: i64) -> Result<RecipeFile, StoreError> {
    let (uid, who, created, changed, binned) = db
        .prepare_cached("SELECT uid, who, created, changed, binned FROM recipe WHERE id = ?1")?
        .query_row([id], |row| {
            Ok((
                row.get(0)?,
                row.get(1)?,
                row.get(2)?,
                row.get(3)?,
                row.get(4)?,
            ))
        })?;
    let stand = draft::stand(db, id)?;
    let mut versions = Vec::new();
    for row in version::versions(db, id)?.iter().rev() {
        versions.push(version::version(db, id, row.number)?);
    }
    Ok(RecipeFile {
        uid,
        original: original(db, id)?,
        who,
        created,
        changed,
        binned,
        summary: summary(db, id)?,
        draft: body::sheet(db, stand.kept)?,
        based_on: stand.based_on,
        versions,
        serve: day::serving(db, id)?,
    })
}

fn larder_file(db: &Connection) -> Result<LarderFile, StoreError> {
    let mut file = LarderFile::default();
    for key in own::keys(db)? {
        let history = own::history(db, &key)?;
        file.entries.push(EntryFile { key, history });
    }
    Ok(file)
}

/// The versions of a blend, oldest first.
pub(crate) fn blend_versions(db: &Connection, key: &str) -> Result<Vec<BlendVersion>, StoreError> {
    let newest_first = blend::history(db, key)?;
    let oldest_first = newest_first.into_iter().rev();
    Ok(oldest_first
        .map(|row: BlendRow| BlendVersion {
            version: row.version,
            at: row.at,
            who: row.who,
            why: row.why,
            blend: row.blend,
        })
        .collect())
}

fn blends_file(db: &Connection) -> Result<BlendsFile, StoreError> {
    let mut file = BlendsFile::default();
    for (key, binned) in blend::keys(db)? {
        let versions = blend_versions(db, &key)?;
        file.blends.push(BlendFile {
            key,
            binned,
            versions,
        });
    }
    Ok(file)
}

/// A batch as an archive holds it.
pub(crate) fn batch_file(recipe: &str, batch: batch::Batch) -> BatchFile {
    BatchFile {
        recipe: recipe.to_owned(),
        title: batch.title,
        version: batch.version,
        factor: batch.factor,
        plan: batch.plan,
        who: batch.who,
        started: batch.started,
        finished: batch.finished,
        bake: batch.bake,
        marks: batch.marks,
        timers: batch.timers,
        later: batch.later,
        day: batch.day,
    }
}

fn batches_file(db: &Connection) -> Result<BatchesFile, StoreError> {
    let mut file = BatchesFile::default();
    let mut uid = db.prepare_cached("SELECT uid FROM recipe WHERE id = ?1")?;
    for batch in batch::all(db)? {
        let recipe: String = uid.query_row([batch.recipe], |row| row.get(0))?;
        file.batches.push(batch_file(&recipe, batch));
    }
    Ok(file)
}

fn days_file(db: &Connection) -> Result<DaysFile, StoreError> {
    let days = day::all(db)?.into_iter().map(|row| DayFile {
        uid: row.uid,
        created: row.created,
        changed: row.changed,
        binned: row.binned,
        day: row.day,
    });
    Ok(DaysFile {
        days: days.collect(),
    })
}

/// A file name for a recipe: its uid, where that can be one.
fn file_name(uid: &str) -> Result<String, StoreError> {
    let plain = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    if uid.len() <= 100 && uid.chars().all(plain) {
        return Ok(format!("recipes/{uid}.json"));
    }
    Ok(format!("recipes/_{}.json", short_hash(&uid)?))
}

/// A zip that is being written.
struct Zip(ZipWriter<Cursor<Vec<u8>>>);

impl Zip {
    fn put(&mut self, name: &str, bytes: &[u8]) -> Result<(), StoreError> {
        let bad = |why: String| StoreError::Archive {
            file: name.to_owned(),
            why: format!("cannot be packed: {why}"),
        };
        self.0
            .start_file(name, SimpleFileOptions::default())
            .map_err(|e| bad(e.to_string()))?;
        self.0.write_all(bytes).map_err(|e| bad(e.to_string()))
    }
    fn put_json<T: Serialize>(&mut self, name: &str, value: &T) -> Result<(), StoreError> {
        let mut json = serde_json::to_vec_pretty(value).map_err(|e| StoreError::Archive {
            file: name.to_owned(),
            why: format!("cannot be written: {e}"),
        })?;
        json.push(b'\n');
        self.put(name, &json)
    }
}

impl Kitchen {
    /// The whole kitchen as a zip of JSON files, as it is at one moment. The same kitchen gives
    /// the same bytes.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn export(&self) -> Result<Vec<u8>, StoreError> {
        self.read(|db| {
            let mut zip = Zip(ZipWriter::new(Cursor::new(Vec::new())));
            zip.put("README.txt", README.as_bytes())?;
            let kitchen = KitchenFile {
                format: FORMAT.to_owned(),
                format_version: FORMAT_VERSION,
                settings: settings::settings(db)?,
            };
            zip.put_json("kitchen.json", &kitchen)?;
            zip.put_json("larder.json", &larder_file(db)?)?;
            zip.put_json("blends.json", &blends_file(db)?)?;
            zip.put_json("batches.json", &batches_file(db)?)?;
            zip.put_json("days.json", &days_file(db)?)?;
            let mut ids = db.prepare("SELECT id FROM recipe ORDER BY uid")?;
            let mut ids = ids.query([])?;
            while let Some(row) = ids.next()? {
                let recipe = recipe_file(db, row.get(0)?)?;
                zip.put_json(&file_name(&recipe.uid)?, &recipe)?;
            }
            let done = zip.0.finish().map_err(|e| StoreError::Archive {
                file: "archive".to_owned(),
                why: format!("cannot be packed: {e}"),
            })?;
            Ok(done.into_inner())
        })
    }
}
