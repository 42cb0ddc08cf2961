//! Tables of prices and of stock: tab-separated, a head, a food a row.

use crate::cli::Failure;
use larder::{Certainty, FoodId, Larder, OwnEntry, Price, Stock, is_day};
use quantity::{Locale, figure};
use recipe::shop::{age, read_pack};
use std::path::Path;

/// What tables are read with.
#[derive(Clone, Copy)]
pub struct Asked<'a> {
    /// The foods.
    pub larder: &'a Larder,
    /// Whose words.
    pub locale: Locale,
    /// Today, or the day that was asked for.
    pub day: &'a str,
}

/// More of a table than this is not read.
const MOST_BYTES: usize = 4 << 20;

/// A table as read: where each row stands, and its cells in the order asked for.
struct Table {
    path: String,
    rows: Vec<(usize, Vec<String>)>,
}

impl Table {
    fn read(path: &Path, columns: &[&str]) -> Result<Self, Failure> {
        let shown = path.display().to_string();
        let bytes = std::fs::read(path).map_err(|error| Failure::File {
            path: shown.clone(),
            error,
        })?;
        let fail = |line: usize, what: String, mend: &str| Failure::Other {
            path: shown.clone(),
            what: format!("line {line}: {what}\n  {mend}"),
        };
        if bytes.len() > MOST_BYTES {
            return Err(fail(
                1,
                "the table is larger than 4 MB".to_owned(),
                "keep the foods you buy",
            ));
        }
        let text = String::from_utf8(bytes).map_err(|_| {
            fail(
                1,
                "this is no UTF-8 text".to_owned(),
                "save it as plain text, UTF-8",
            )
        })?;
        let mut head: Option<Vec<usize>> = None;
        let mut rows = Vec::new();
        for (i, line) in text.trim_start_matches('\u{feff}').lines().enumerate() {
            if line.trim().is_empty() || line.starts_with('#') {
                continue;
            }
            let cells: Vec<&str> = line.split('\t').map(str::trim).collect();
            let Some(places) = &head else {
                let places: Option<Vec<usize>> = columns
                    .iter()
                    .map(|c| cells.iter().position(|x| x.eq_ignore_ascii_case(c)))
                    .collect();
                head = Some(places.ok_or_else(|| {
                    fail(
                        i + 1,
                        format!(
                            "the head is '{}', expected the columns {}",
                            cells.join(", "),
                            columns.join(", ")
                        ),
                        "write the names of the columns on the first line, with tabs between",
                    )
                })?);
                continue;
            };
            let row = places
                .iter()
                .map(|at| cells.get(*at).map_or(String::new(), |c| (*c).to_owned()))
                .collect();
            rows.push((i + 1, row));
        }
        if head.is_none() {
            return Err(fail(
                1,
                "there is nothing in this table".to_owned(),
                &format!("begin with a line {}", columns.join(", ")),
            ));
        }
        Ok(Self { path: shown, rows })
    }

    fn fail(&self, line: usize, column: &str, what: &str) -> Failure {
        Failure::Other {
            path: self.path.clone(),
            what: format!("line {line}, column '{column}': {what}"),
        }
    }

    /// The food of a name or key, known for sure; else why the row is passed over.
    fn food(
        &self,
        line: usize,
        name: &str,
        larder: &Larder,
        locale: Locale,
    ) -> Result<FoodId, String> {
        if let Some(id) = larder.by_key(name) {
            return Ok(id);
        }
        let found = larder.find(name, locale);
        match found {
            Some(m) if m.certainty == Certainty::Sure => Ok(m.food),
            Some(m) => Err(self.passed_over(
                line,
                &format!(
                    "'{name}' is no food for sure; if '{}' is meant, write {}",
                    larder.food(m.food).name,
                    larder.food(m.food).key
                ),
            )),
            None => Err(self.passed_over(
                line,
                &format!("the larder knows no '{name}'; write the food as your recipes do, or its key in the larder"),
            )),
        }
    }

    fn passed_over(&self, line: usize, what: &str) -> String {
        format!(
            "{}, line {line}: {what}. The row is passed over.",
            self.path
        )
    }

    /// A day that is not still to come.
    fn date(&self, line: usize, date: &str, today: &str) -> Result<String, Failure> {
        if age(date, today).is_some_and(|days| days < 0) {
            let what = format!(
                "{date} is after {today}\n  write the day it was noted, or give the day the list is for with --day"
            );
            return Err(self.fail(line, "date", &what));
        }
        if is_day(date) {
            return Ok(date.to_owned());
        }
        let what = format!("'{date}' is no day\n  write it like 2026-11-29");
        Err(self.fail(line, "date", &what))
    }

    fn pack(
        &self,
        line: usize,
        column: &str,
        text: &str,
        food: FoodId,
        larder: &Larder,
        locale: Locale,
    ) -> Result<f64, Failure> {
        read_pack(text, Some(food), larder, locale)
            .map(|p| p.grams)
            .map_err(|e| self.fail(line, column, &e.to_string()))
    }
}

/// The entry of a food, made where there is none.
fn entry<'a>(own: &'a mut Vec<OwnEntry>, key: &str) -> &'a mut OwnEntry {
    let at = own.iter().position(|e| e.key == key).unwrap_or_else(|| {
        own.push(OwnEntry {
            key: key.to_owned(),
            ..OwnEntry::default()
        });
        own.len() - 1
    });
    &mut own[at]
}

/// Lays a table of prices over entries. A food in the table has the table's packs alone.
///
/// Returns why rows are passed over, a sentence each.
pub fn prices(
    path: &Path,
    asked: Asked<'_>,
    own: &mut Vec<OwnEntry>,
) -> Result<Vec<String>, Failure> {
    let Asked { larder, locale, .. } = asked;
    let mut over = Vec::new();
    let table = Table::read(path, &["food", "pack", "price", "currency", "date"])?;
    let mut seen: Vec<FoodId> = Vec::new();
    for (line, cells) in &table.rows {
        let [name, pack, amount, currency, date] = cells.as_slice() else {
            continue;
        };
        let food = match table.food(*line, name, larder, locale) {
            Ok(food) => food,
            Err(why) => {
                over.push(why);
                continue;
            }
        };
        let pack_grams = table.pack(*line, "pack", pack, food, larder, locale)?;
        let amount = figure(amount).filter(|a| *a > 0.0).ok_or_else(|| {
            table.fail(
                *line,
                "price",
                &format!("'{amount}' is no price\n  write what the pack costs, above 0, without a sign: 2.40"),
            )
        })?;
        let code = currency.to_uppercase();
        if code.len() != 3 || !code.bytes().all(|b| b.is_ascii_uppercase()) {
            let what = format!(
                "'{currency}' is no currency\n  write three letters, such as GBP, EUR or USD"
            );
            return Err(table.fail(*line, "currency", &what));
        }
        let price = Price {
            pack_grams,
            amount,
            currency: code,
            date: table.date(*line, date, asked.day)?,
            // A figure alone is grams, which stand without words.
            pack: figure(pack).map_or_else(|| pack.clone(), |_| String::new()),
        };
        let entry = entry(own, &larder.food(food).key);
        if seen.contains(&food) {
            entry.packs.push(price);
        } else {
            seen.push(food);
            entry.packs.clear();
            entry.price = Some(price);
        }
    }
    Ok(over)
}

/// Lays a table of stock over entries. Rows of one food are added up.
///
/// Returns why rows are passed over, a sentence each.
pub fn stock(
    path: &Path,
    asked: Asked<'_>,
    own: &mut Vec<OwnEntry>,
) -> Result<Vec<String>, Failure> {
    let Asked { larder, locale, .. } = asked;
    let mut over = Vec::new();
    let table = Table::read(path, &["food", "amount", "date"])?;
    let mut seen: Vec<FoodId> = Vec::new();
    for (line, cells) in &table.rows {
        let [name, amount, date] = cells.as_slice() else {
            continue;
        };
        let food = match table.food(*line, name, larder, locale) {
            Ok(food) => food,
            Err(why) => {
                over.push(why);
                continue;
            }
        };
        let grams = if figure(amount.trim_end_matches(" g")) == Some(0.0) {
            0.0
        } else {
            table.pack(*line, "amount", amount, food, larder, locale)?
        };
        let date = table.date(*line, date, asked.day)?;
        let entry = entry(own, &larder.food(food).key);
        match &mut entry.stock {
            Some(stock) if seen.contains(&food) => {
                stock.grams += grams;
                stock.date = stock.date.clone().min(date);
            }
            _ => entry.stock = Some(Stock { grams, date }),
        }
        seen.push(food);
    }
    Ok(over)
}
