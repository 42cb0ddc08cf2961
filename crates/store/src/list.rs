//! Lists and search.

use crate::recipes::{COLUMNS, Row, Summary, row};
use crate::{Kitchen, StoreError};
use rusqlite::types::Value;
use rusqlite::{Connection, params, params_from_iter};

/// Words of a search that are looked at.
const WORDS: usize = 16;
/// Characters of a word that are looked at.
const LETTERS: usize = 64;

/// A finished batch that something came of, and that still counts as a bake.
const BAKED: &str = "EXISTS (SELECT 1 FROM batch b WHERE b.recipe = r.id AND b.finished IS NOT NULL \
    AND coalesce(json_extract(b.bake, '$.unmade'), 0) = 0 \
    AND coalesce((SELECT counts FROM later WHERE batch = b.id AND counts IS NOT NULL \
        ORDER BY at DESC, id DESC LIMIT 1), 1)) AND ";

/// Which recipes.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Query {
    /// Words to find, each the beginning of a word in title, text, components or foods.
    pub words: String,
    /// Only those so far.
    pub stage: Option<String>,
    /// Only those with a bake on record, whatever is still open.
    pub baked: bool,
    /// Only those with a component of this style.
    pub style: Option<String>,
    /// Only those with open doubts.
    pub to_check: bool,
    /// Those in the bin, in place of those outside.
    pub binned: bool,
    /// How many, at most.
    pub limit: u32,
    /// How many to pass over.
    pub offset: u32,
}

/// A page of a list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Page {
    /// Its recipes: newest changed first; best found first where words were given.
    pub rows: Vec<Row>,
    /// How many there are on all pages.
    pub total: u32,
}

/// Makes a recipe found by its words.
pub(crate) fn index(
    db: &Connection,
    id: i64,
    summary: &Summary,
    text: &str,
) -> Result<(), StoreError> {
    db.prepare_cached(
        "INSERT OR REPLACE INTO found (rowid, title, text, components, foods)
            VALUES (?1, ?2, ?3, ?4, ?5)",
    )?
    .execute(params![
        id,
        summary.title,
        text,
        summary.components.join("\n"),
        summary.words
    ])?;
    Ok(())
}

/// What the search engine is asked: every word as the beginning of one, quoted, so that nothing
/// typed is syntax. None where nothing typed can be looked for.
fn asked(words: &str) -> Option<String> {
    let asked: Vec<String> = words
        .split(|c: char| c.is_whitespace() || c.is_control() || c == '"')
        .filter(|word| word.chars().any(char::is_alphanumeric))
        .take(WORDS)
        .map(|word| format!("\"{}\"*", word.chars().take(LETTERS).collect::<String>()))
        .collect();
    (!asked.is_empty()).then(|| asked.join(" "))
}

/// Most finds that are put in order of how well they fit.
const RANKED: u32 = 1000;

impl Kitchen {
    /// A page of the recipes asked for.
    ///
    /// # Errors
    /// Whatever the database says.
    pub fn list(&self, query: &Query) -> Result<Page, StoreError> {
        let mut from = "recipe r".to_owned();
        let mut only = String::new();
        let mut values: Vec<Value> = Vec::new();
        let best = "bm25(found, 10.0, 1.0, 4.0, 2.0), r.changed DESC, r.id DESC";
        let searched = asked(&query.words);
        let by_words = searched.is_some();
        if let Some(words) = searched {
            from.push_str(" JOIN found ON found.rowid = r.id");
            only.push_str("found MATCH ? AND ");
            values.push(words.into());
        }
        if let Some(style) = &query.style {
            from.push_str(" JOIN recipe_style y ON y.recipe = r.id");
            only.push_str("y.style = ? AND ");
            values.push(style.clone().into());
        }
        if let Some(stage) = &query.stage {
            only.push_str("r.stage = ? AND ");
            values.push(stage.clone().into());
        }
        if query.baked {
            only.push_str(BAKED);
        }
        if query.to_check {
            only.push_str("r.to_check > 0 AND ");
        }
        only.push_str(if query.binned {
            "r.binned IS NOT NULL"
        } else {
            "r.binned IS NULL"
        });
        let ends = (query.offset as usize, query.limit as usize);
        self.read(|db| {
            let (ids, total) = if by_words {
                let found = newest(db, &from, &only, &values, ends)?;
                // Words that nearly everything holds tell no recipe from another.
                match found.1 {
                    1..=RANKED => (chosen(db, &from, &only, best, &values, ends)?, found.1),
                    _ => found,
                }
            } else {
                let total = db
                    .prepare_cached(&format!("SELECT count(*) FROM {from} WHERE {only}"))?
                    .query_row(params_from_iter(&values), |row| row.get(0))?;
                let order = "r.changed DESC, r.id DESC";
                (chosen(db, &from, &only, order, &values, ends)?, total)
            };
            // The rest of each row is looked up for those of the page alone.
            let mut one =
                db.prepare_cached(&format!("SELECT {COLUMNS} FROM recipe r WHERE r.id = ?1"))?;
            let mut rows = Vec::with_capacity(ids.len());
            for id in ids {
                let mut found = one.query([id])?;
                if let Some(found) = found.next()? {
                    rows.push(row(found)?);
                }
            }
            Ok(Page { rows, total })
        })
    }
}

/// The page of what is asked for, put in order by the database.
fn chosen(
    db: &Connection,
    from: &str,
    only: &str,
    order: &str,
    values: &[Value],
    (offset, limit): (usize, usize),
) -> Result<Vec<i64>, StoreError> {
    let mut page = db.prepare_cached(&format!(
        "SELECT r.id FROM {from} WHERE {only} ORDER BY {order} LIMIT ? OFFSET ?"
    ))?;
    let ends = [limit, offset].map(|n| Value::from(i64::try_from(n).unwrap_or(i64::MAX)));
    let ids = page.query_map(params_from_iter(values.iter().chain(&ends)), |row| {
        row.get(0)
    })?;
    Ok(ids.collect::<Result<_, _>>()?)
}

/// The page of the newest and how many there are in all: the words are looked up once for both.
fn newest(
    db: &Connection,
    from: &str,
    only: &str,
    values: &[Value],
    (offset, limit): (usize, usize),
) -> Result<(Vec<i64>, u32), StoreError> {
    let mut all = db.prepare_cached(&format!("SELECT r.changed, r.id FROM {from} WHERE {only}"))?;
    let all = all.query_map(params_from_iter(values), |row| {
        Ok((row.get(0)?, row.get(1)?))
    })?;
    let mut all: Vec<(i64, i64)> = all.collect::<Result<_, _>>()?;
    let total = u32::try_from(all.len()).unwrap_or(u32::MAX);
    let end = offset.saturating_add(limit).min(all.len());
    if end < all.len() {
        all.select_nth_unstable_by(end, |a, b| b.cmp(a));
        all.truncate(end);
    }
    all.sort_unstable_by(|a, b| b.cmp(a));
    Ok((all.into_iter().skip(offset).map(|r| r.1).collect(), total))
}
