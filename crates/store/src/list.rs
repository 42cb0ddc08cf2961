//! Lists and search.

use crate::recipes::{COLUMNS, Row, Summary, row};
use crate::{Kitchen, StoreError};
use rusqlite::types::Value;
use rusqlite::{Connection, params, params_from_iter};

/// Words of a search that are looked at.
const WORDS: usize = 16;
/// Characters of a word that are looked at.
const LETTERS: usize = 64;

/// Which recipes.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Query {
    /// Words to find, each the beginning of a word in title, text, components or foods.
    pub words: String,
    /// Only those so far.
    pub stage: Option<String>,
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
        let newest = "r.changed DESC, r.id DESC";
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
        if query.to_check {
            only.push_str("r.to_check > 0 AND ");
        }
        only.push_str(if query.binned {
            "r.binned IS NOT NULL"
        } else {
            "r.binned IS NULL"
        });
        self.read(|db| {
            let total: u32 = db
                .prepare_cached(&format!("SELECT count(*) FROM {from} WHERE {only}"))?
                .query_row(params_from_iter(&values), |row| row.get(0))?;
            // Words that nearly everything holds tell no recipe from another.
            let order = if by_words && total <= RANKED {
                best
            } else {
                newest
            };
            // The page is chosen first; the rest of each row is looked up for it alone.
            let mut page = db.prepare_cached(&format!(
                "SELECT r.id FROM {from} WHERE {only} ORDER BY {order} LIMIT ? OFFSET ?"
            ))?;
            let ends = [
                Value::from(i64::from(query.limit)),
                Value::from(i64::from(query.offset)),
            ];
            let ids: Vec<i64> = page
                .query_map(params_from_iter(values.iter().chain(&ends)), |row| {
                    row.get(0)
                })?
                .collect::<Result<_, _>>()?;
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
