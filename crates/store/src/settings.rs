//! The kitchen's settings.

use crate::body::{from_json, to_json};
use crate::{Kitchen, StoreError};
use larder::Stock;
use rusqlite::{Connection, OptionalExtension, params};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// What the kitchen has and how it works.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// The kitchen's name.
    pub kitchen: String,
    /// Who bakes, for versions and batches.
    pub baker: String,
    /// Whose cups and spoons a new recipe means: `us`, `metric`, `uk`, `au`.
    pub locale: String,
    /// Which labelling rules: `eu` and others that the screening knows.
    pub regime: String,
    /// The rules were set: with the measures when these were first chosen, or by hand. They no
    /// longer follow the measures.
    pub regime_set: bool,
    /// What the scale shows, in grams.
    pub scale_step: f64,
    /// What the fine scale shows, in grams; 0 where there is none.
    pub fine_scale_step: f64,
    /// Cups and spoons in the drawer: `1/2 cup`, `1 tbsp`.
    pub scoops: Vec<String>,
    /// `still`, `fan` or `gas`.
    pub oven: String,
    /// What is to know about the oven.
    pub oven_note: String,
    /// Metres above the sea.
    pub altitude: f64,
    /// Pans and tins in the kitchen, several of one as `2 x 20 cm sandwich tin`.
    pub pans: Vec<String>,
    /// Pairs of hands that are planned with.
    pub hands: u32,
    /// Ovens.
    pub ovens: u32,
    /// Racks of each oven.
    pub oven_racks: u32,
    /// Mixers; 0 where all is mixed by hand.
    pub mixers: u32,
    /// Minutes an oven takes from one temperature to another.
    pub oven_change: u32,
    /// Free shelves in the fridge.
    pub fridge_shelves: u32,
    /// Free shelves in the freezer.
    pub freezer_shelves: u32,
    /// Hours in which nobody works: `22:00-07:00`, or `none`.
    pub quiet: String,
    /// ISO 4217 code.
    pub currency: String,
    /// Blends mixed beforehand: key → grams there are, and the day they were counted.
    pub blend_stock: BTreeMap<String, Stock>,
    /// `auto`, `light` or `dark`.
    pub theme: String,
    /// How many backups are kept.
    pub backups_keep: u32,
    /// Hours between backups.
    pub backup_hours: u32,
    /// This is the demo kitchen.
    pub demo: bool,
}

/// Cups and spoons that most kitchens have; which of them are real ones follows from the locale.
const SCOOPS: [&str; 10] = [
    "1 cup", "1/2 cup", "1/3 cup", "1/4 cup", "1 tbsp", "1/2 tbsp", "1 tsp", "1/2 tsp", "1/4 tsp",
    "1/8 tsp",
];

impl Default for Settings {
    fn default() -> Self {
        Self {
            kitchen: String::new(),
            baker: String::new(),
            locale: "us".to_owned(),
            regime: "us".to_owned(),
            regime_set: false,
            scale_step: 1.0,
            fine_scale_step: 0.1,
            scoops: SCOOPS.map(str::to_owned).to_vec(),
            oven: "still".to_owned(),
            oven_note: String::new(),
            altitude: 0.0,
            pans: Vec::new(),
            hands: 1,
            ovens: 1,
            oven_racks: 2,
            mixers: 1,
            oven_change: 15,
            fridge_shelves: 2,
            freezer_shelves: 1,
            quiet: "22:00-07:00".to_owned(),
            currency: "USD".to_owned(),
            blend_stock: BTreeMap::new(),
            theme: "auto".to_owned(),
            backups_keep: 14,
            backup_hours: 24,
            demo: false,
        }
    }
}

/// Settings as they were until a change.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FormerSettings {
    /// The settings.
    pub settings: Settings,
    /// When they were changed, seconds since 1970; 0 where that was not noted.
    pub until: i64,
}

/// Most former settings that are kept.
const FORMER: usize = 50;

/// A single value kept by name.
pub(crate) fn kept(db: &Connection, name: &str) -> Result<Option<String>, StoreError> {
    Ok(db
        .prepare_cached("SELECT value FROM kept WHERE name = ?1")?
        .query_row([name], |row| row.get(0))
        .optional()?)
}

pub(crate) fn settings(db: &Connection) -> Result<Settings, StoreError> {
    kept(db, "settings")?.map_or_else(|| Ok(Settings::default()), |json| from_json(&json))
}

fn keep<T: Serialize>(db: &Connection, name: &str, value: &T) -> Result<(), StoreError> {
    db.execute(
        "INSERT INTO kept (name, value) VALUES (?1, ?2)
            ON CONFLICT (name) DO UPDATE SET value = excluded.value",
        params![name, to_json(value)?],
    )?;
    Ok(())
}

pub(crate) fn put(db: &Connection, new: &Settings) -> Result<(), StoreError> {
    let steps = [new.scale_step, new.fine_scale_step];
    if steps.iter().any(|s| !s.is_finite() || *s < 0.0) || new.scale_step == 0.0 {
        return Err(StoreError::Bad(
            "A scale's step must be a plain number of grams.".to_owned(),
        ));
    }
    keep(db, "settings", new)
}

impl Kitchen {
    /// The settings; the usual ones where none were kept.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn settings(&self) -> Result<Settings, StoreError> {
        self.read(|db| settings(db))
    }

    /// The settings before each of the last changes, oldest first, for undo.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn former_settings(&self) -> Result<Vec<FormerSettings>, StoreError> {
        self.read(|db| former(db))
    }

    /// Keeps the settings, and those of before where they differ.
    ///
    /// # Inputs
    /// - `at`: now, seconds since 1970.
    ///
    /// # Errors
    /// [`StoreError::Bad`] where a scale's step is no number of grams.
    pub fn set_settings(&self, new: &Settings, at: i64) -> Result<(), StoreError> {
        self.write(|db| {
            let settings = settings(db)?;
            put(db, new)?;
            if settings == *new {
                return Ok(());
            }
            let mut all = former(db)?;
            all.push(FormerSettings {
                settings,
                until: at,
            });
            let over = all.len().saturating_sub(FORMER);
            keep(db, "settings_former", &all.split_off(over))
        })
    }
}

/// What was kept before each change; one change alone where an older program kept it.
fn former(db: &Connection) -> Result<Vec<FormerSettings>, StoreError> {
    if let Some(json) = kept(db, "settings_former")? {
        return from_json(&json);
    }
    let one = kept(db, "settings_before")?;
    one.map(|json| {
        Ok(FormerSettings {
            settings: from_json(&json)?,
            until: 0,
        })
    })
    .into_iter()
    .collect()
}
