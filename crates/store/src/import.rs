//! Taking an archive in. Nothing that is here is overwritten.

use crate::archive::{
    BatchesFile, BlendFile, BlendVersion, BlendsFile, DayFile, DaysFile, KitchenFile, LarderFile,
    RecipeFile, batch_file, blend_versions, recipe_file, short_hash,
};
use crate::files::{Files, bad};
use crate::recipes::NewRecipe;
use crate::second::Names;
use crate::{Batch, BlendRow, Day, Imported, Kitchen, Later, OwnBlend, StoreError};
use crate::{batch, blend, body, day, later, own, recipes, settings, version};
use rusqlite::{Connection, OptionalExtension, params};
use std::collections::BTreeSet;

fn id_of(db: &Connection, uid: &str) -> Result<Option<i64>, StoreError> {
    Ok(db
        .prepare_cached("SELECT id FROM recipe WHERE uid = ?1")?
        .query_row([uid], |row| row.get(0))
        .optional()?)
}

/// A recipe's file, looked through.
fn recipe<B: AsRef<[u8]>>(files: &mut Files<'_, B>, name: &str) -> Result<RecipeFile, StoreError> {
    let recipe: RecipeFile = files.json(name)?;
    if recipe.uid.is_empty() || recipe.uid.len() > 200 {
        return Err(bad(name, "uid: expected 1 to 200 letters"));
    }
    for (number, version) in (1..).zip(&recipe.versions) {
        if version.number != number {
            let found = version.number;
            return Err(bad(
                name,
                format!("versions: expected number {number}, found {found}"),
            ));
        }
    }
    if let Some(v) = recipe.based_on
        && (v == 0 || v as usize > recipe.versions.len())
    {
        return Err(bad(name, format!("based_on: there is no version {v}")));
    }
    Ok(recipe)
}

/// All that the archive holds of a recipe is here.
fn is_here(here: &RecipeFile, theirs: &RecipeFile) -> bool {
    here.original == theirs.original
        && here.versions.starts_with(&theirs.versions)
        && (here.draft == theirs.draft || here.versions.iter().any(|v| v.sheet == theirs.draft))
}

fn take_blends(
    db: &Connection,
    file: BlendsFile,
    names: &mut Names,
    done: &mut Imported,
) -> Result<(), StoreError> {
    for BlendFile {
        key,
        binned,
        versions,
    } in file.blends
    {
        let wrong = |why: String| bad("blends.json", format!("\"{key}\": {why}"));
        for (number, v) in (1..).zip(&versions) {
            if v.version != number || v.blend.key != key {
                return Err(wrong(format!("expected version {number} of this key")));
            }
        }
        let here = blend_versions(db, &key)?;
        if here.starts_with(&versions) {
            continue;
        }
        let mut name = key.clone();
        if here.is_empty() {
            done.blends_added += 1;
        } else {
            name = format!("{key}_{}", short_hash(&versions)?);
            names.blends.insert(key.clone(), name.clone());
            if !blend::history(db, &name)?.is_empty() {
                continue;
            }
            done.blends_kept_both += 1;
            done.notes.push(format!(
                "The blend \"{}\" is here already and differs. It came in as a second one, \
                 \"{name}\"; the recipes taken in use that.",
                versions.last().map_or("", |v| v.blend.name.as_str())
            ));
        }
        for BlendVersion {
            version,
            at,
            who,
            why,
            blend,
        } in versions
        {
            let blend = OwnBlend {
                key: name.clone(),
                ..blend
            };
            let row = BlendRow {
                key: name.clone(),
                version,
                at,
                who,
                why,
                blend,
            };
            blend::add(db, &row).map_err(|e| wrong(e.to_string()))?;
        }
        if let Some(at) = binned {
            blend::bin(db, &name, at)?;
        }
    }
    Ok(())
}

fn take_larder(db: &Connection, file: LarderFile, done: &mut Imported) -> Result<(), StoreError> {
    for entry in file.entries {
        let here = own::history(db, &entry.key)?;
        if here.starts_with(&entry.history) {
            continue;
        }
        if !here.is_empty() {
            done.entries_kept += 1;
            done.notes.push(format!(
                "The own entry \"{}\" is here already and differs. The one here stays.",
                entry.key
            ));
            continue;
        }
        for change in &entry.history {
            own::add(db, &entry.key, change)
                .map_err(|e| bad("larder.json", format!("\"{}\": {e}", entry.key)))?;
        }
        done.entries_added += 1;
    }
    Ok(())
}

/// Finds the recipes that are here and differ, and their second names. A recipe that differs only
/// in such names, as an earlier import left it, does not differ.
fn find_second<B: AsRef<[u8]>>(
    db: &Connection,
    files: &mut Files<'_, B>,
    names: &mut Names,
) -> Result<(), StoreError> {
    let mut uids = BTreeSet::new();
    let mut differ = Vec::new();
    for name in files.recipes() {
        let theirs = recipe(files, &name)?;
        if !uids.insert(theirs.uid.clone()) {
            return Err(bad(
                &name,
                format!("a second recipe with uid {}", theirs.uid),
            ));
        }
        let Some(id) = id_of(db, &theirs.uid)? else {
            continue;
        };
        if !is_here(&recipe_file(db, id)?, &theirs) {
            let second = format!("{}-{}", theirs.uid, short_hash(&theirs)?);
            names.recipes.insert(theirs.uid, second);
            differ.push((name, id));
        }
    }
    loop {
        let before = differ.len();
        let mut still = Vec::new();
        for (name, id) in differ {
            let mut theirs = recipe(files, &name)?;
            names.rename_all(&mut theirs);
            if is_here(&recipe_file(db, id)?, &theirs) {
                names.recipes.remove(&theirs.uid);
            } else {
                still.push((name, id));
            }
        }
        if still.len() == before {
            return Ok(());
        }
        differ = still;
    }
}

fn take_recipes<B: AsRef<[u8]>>(
    db: &Connection,
    files: &mut Files<'_, B>,
    names: &Names,
    at: i64,
    done: &mut Imported,
) -> Result<(), StoreError> {
    for name in files.recipes() {
        let mut new = recipe(files, &name)?;
        names.rename_all(&mut new);
        let second = names.recipes.get(&new.uid);
        let uid = second.unwrap_or(&new.uid);
        if id_of(db, uid)?.is_some() {
            done.recipes_same += 1;
            continue;
        }
        if second.is_some() {
            done.recipes_kept_both += 1;
            done.notes.push(format!(
                "The recipe \"{}\" is here already and differs. It came in as a second recipe.",
                new.summary.title
            ));
        } else {
            done.recipes_added += 1;
        }
        // A second recipe is new here: it stands first in the list.
        let changed = if second.is_some() { at } else { new.changed };
        put_recipe(db, uid, &new, changed).map_err(|e| match e {
            StoreError::Bad(why) => bad(&name, why),
            other => other,
        })?;
    }
    Ok(())
}

fn put_recipe(
    db: &Connection,
    uid: &str,
    new: &RecipeFile,
    changed: i64,
) -> Result<(), StoreError> {
    let recipe = NewRecipe {
        uid,
        original: &new.original,
        sheet: &new.draft,
        summary: &new.summary,
        who: &new.who,
        created: new.created,
        changed,
    };
    let id = recipes::add(db, &recipe)?;
    for v in &new.versions {
        let kept = body::keep_sheet(db, &v.sheet)?;
        version::add(db, id, kept, v)?;
    }
    db.prepare_cached("UPDATE draft SET based_on = ?2 WHERE recipe = ?1")?
        .execute(params![id, new.based_on])?;
    db.prepare_cached("UPDATE recipe SET binned = ?2 WHERE id = ?1")?
        .execute(params![id, new.binned])?;
    if let Some(serve) = &new.serve {
        day::put_serving(db, id, serve)?;
    }
    Ok(())
}

/// Days: one that is here with all the archive asks of it is passed over, one that differs comes
/// in beside it.
fn take_days(
    db: &Connection,
    file: DaysFile,
    names: &mut Names,
    done: &mut Imported,
) -> Result<(), StoreError> {
    for (number, mut new) in (1..).zip(file.days) {
        let wrong = |why: String| bad("days.json", format!("day {number}: {why}"));
        if new.uid.is_empty() || new.uid.len() > 200 {
            return Err(wrong("uid: expected 1 to 200 letters".to_owned()));
        }
        for r in &mut new.day.recipes {
            if let Some(second) = names.recipes.get(&r.recipe) {
                r.recipe.clone_from(second);
            }
            let id = id_of(db, &r.recipe)?
                .ok_or_else(|| wrong(format!("recipe {} is not in the archive", r.recipe)))?;
            let versions: u32 = db
                .prepare_cached("SELECT versions FROM recipe WHERE id = ?1")?
                .query_row([id], |row| row.get(0))?;
            if let Some(v) = r.version.filter(|v| *v == 0 || *v > versions) {
                return Err(wrong(format!("recipe {} has no version {v}", r.recipe)));
            }
        }
        let mut uid = new.uid.clone();
        if let Some(here) = day::by_uid(db, &uid)? {
            // The times it holds follow from what is asked.
            let asked = |day: &Day| Day {
                held: Vec::new(),
                ..day.clone()
            };
            if asked(&here.day) == asked(&new.day) {
                continue;
            }
            uid = format!("{uid}-{}", short_hash(&new.day)?);
            names.days.insert(new.uid.clone(), uid.clone());
            if day::by_uid(db, &uid)?.is_some() {
                continue;
            }
            done.notes.push(format!(
                "The day \"{}\" is here already and differs. It came in as a second one.",
                new.day.title
            ));
        }
        done.days_added += 1;
        let new = DayFile { uid, ..new };
        day::add(db, &new.uid, &new.day, new.created, new.changed, new.binned)
            .map_err(|e| wrong(e.to_string()))?;
    }
    Ok(())
}

fn take_batches(
    db: &Connection,
    file: BatchesFile,
    names: &Names,
    done: &mut Imported,
) -> Result<(), StoreError> {
    for (number, mut new) in (1..).zip(file.batches) {
        let wrong = |why: String| bad("batches.json", format!("batch {number}: {why}"));
        if let Some(second) = names.recipes.get(&new.recipe) {
            new.recipe.clone_from(second);
        }
        if let Some(second) = new.day.as_ref().and_then(|day| names.days.get(day)) {
            new.day = Some(second.clone());
        }
        let recipe = id_of(db, &new.recipe)?
            .ok_or_else(|| wrong(format!("recipe {} is not in the archive", new.recipe)))?;
        let versions: u32 = db
            .prepare_cached("SELECT versions FROM recipe WHERE id = ?1")?
            .query_row([recipe], |row| row.get(0))?;
        if let Some(v) = new.version.filter(|v| *v == 0 || *v > versions) {
            return Err(wrong(format!("recipe {} has no version {v}", new.recipe)));
        }
        // A batch is the same one also where more was added to it since, here or there.
        let later = std::mem::take(&mut new.later);
        let mut known = None;
        for mut here in batch::of(db, recipe)? {
            let (id, kept) = (here.id, std::mem::take(&mut here.later));
            if batch_file(&new.recipe, here) == new {
                known = Some((id, kept));
                break;
            }
        }
        if let Some((id, kept)) = known {
            let fresh: Vec<Later> = later.into_iter().filter(|n| !kept.contains(n)).collect();
            for note in &fresh {
                later::add(db, id, note).map_err(|e| wrong(e.to_string()))?;
            }
            if !fresh.is_empty() {
                done.notes.push(format!(
                    "A bake of \"{}\" is here already. Later notes that came to it: {}.",
                    new.title,
                    fresh.len()
                ));
            }
            continue;
        }
        let batch = Batch {
            id: 0,
            recipe,
            title: new.title,
            version: new.version,
            factor: new.factor,
            plan: new.plan,
            who: new.who,
            started: new.started,
            finished: new.finished,
            bake: new.bake,
            marks: new.marks,
            timers: new.timers,
            later,
            day: new.day,
        };
        batch::add(db, &batch).map_err(|e| wrong(e.to_string()))?;
        done.batches_added += 1;
    }
    Ok(())
}

fn take_settings(
    db: &Connection,
    file: &KitchenFile,
    done: &mut Imported,
) -> Result<(), StoreError> {
    let here: bool = db.query_row("SELECT EXISTS (SELECT 1 FROM recipe)", [], |row| row.get(0))?;
    if settings::kept(db, "settings")?.is_none() && !here {
        settings::put(db, &file.settings).map_err(|e| bad("kitchen.json", e.to_string()))?;
        done.settings = true;
    } else if settings::settings(db)? != file.settings {
        done.notes
            .push("The settings here stay as they are.".to_owned());
    }
    Ok(())
}

impl Kitchen {
    /// Takes an archive in, all of it or nothing. Nothing here is overwritten: what is here and
    /// equal is passed over, a recipe or blend that is here and differs comes in as a second one,
    /// an own entry that is here stays.
    ///
    /// # Errors
    /// [`StoreError::Archive`] with the file and what was expected.
    pub fn import(&self, zip: &[u8], at: i64) -> Result<Imported, StoreError> {
        let mut files = Files::zip(zip)?;
        self.write(|db| take(db, &mut files, at))
    }

    /// Takes an archive in that is not packed: the names of its files, with `/`, and what they
    /// hold.
    ///
    /// # Errors
    /// [`StoreError::Archive`] with the file and what was expected.
    pub fn import_files<N: Into<String>, B: AsRef<[u8]>>(
        &self,
        files: impl IntoIterator<Item = (N, B)>,
        at: i64,
    ) -> Result<Imported, StoreError> {
        let files = files.into_iter().map(|(name, bytes)| (name.into(), bytes));
        let mut files = Files::loose(files.collect())?;
        self.write(|db| take(db, &mut files, at))
    }
}

fn take<B: AsRef<[u8]>>(
    db: &Connection,
    files: &mut Files<'_, B>,
    at: i64,
) -> Result<Imported, StoreError> {
    let mut done = Imported::default();
    let mut names = Names::default();
    take_settings(db, &files.json("kitchen.json")?, &mut done)?;
    take_larder(db, files.json_or_nothing("larder.json")?, &mut done)?;
    let blends = files.json_or_nothing("blends.json")?;
    take_blends(db, blends, &mut names, &mut done)?;
    find_second(db, files, &mut names)?;
    take_recipes(db, files, &names, at, &mut done)?;
    let days = files.json_or_nothing("days.json")?;
    take_days(db, days, &mut names, &mut done)?;
    let batches = files.json_or_nothing("batches.json")?;
    take_batches(db, batches, &names, &mut done)?;
    let strangers = files.strangers();
    if let Some(first) = strangers.first() {
        done.notes.push(format!(
            "Files that are no part of a kitchen were passed over: {} of them, the first {first}.",
            strangers.len()
        ));
    }
    Ok(done)
}
