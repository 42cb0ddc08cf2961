//! Tables of prices and of stock: tab-separated, a head, a food a row.

use crate::cli::Failure;
use larder::{Certainty, FoodId, Larder, OwnEntry, Price, Stock, is_day};
use quantity::{Locale, figure};
use recipe::shop::read_pack;
use std::path::Path;

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

    /// The food of a name or key, known for sure.
    fn food(
        &self,
        line: usize,
        name: &str,
        larder: &Larder,
        locale: Locale,
    ) -> Result<FoodId, Failure> {
        if let Some(id) = larder.by_key(name) {
            return Ok(id);
        }
        let found = larder.find(name, locale);
        match found {
            Some(m) if m.certainty == Certainty::Sure => Ok(m.food),
            Some(m) => Err(self.fail(
                line,
                "food",
                &format!(
                    "'{name}' is no food for sure\n  if '{}' is meant, write {}",
                    larder.food(m.food).name,
                    larder.food(m.food).key
                ),
            )),
            None => Err(self.fail(
                line,
                "food",
                &format!("the larder knows no '{name}'\n  write the food as your recipes do, or its key in the larder"),
            )),
        }
    }

    fn date(&self, line: usize, date: &str) -> Result<String, Failure> {
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
pub fn prices(
    path: &Path,
    larder: &Larder,
    locale: Locale,
    own: &mut Vec<OwnEntry>,
) -> Result<(), Failure> {
    let table = Table::read(path, &["food", "pack", "price", "currency", "date"])?;
    let mut seen: Vec<FoodId> = Vec::new();
    for (line, cells) in &table.rows {
        let [name, pack, amount, currency, date] = cells.as_slice() else {
            continue;
        };
        let food = table.food(*line, name, larder, locale)?;
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
            date: table.date(*line, date)?,
            pack: pack.clone(),
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
    Ok(())
}

/// Lays a table of stock over entries. Rows of one food are added up.
pub fn stock(
    path: &Path,
    larder: &Larder,
    locale: Locale,
    own: &mut Vec<OwnEntry>,
) -> Result<(), Failure> {
    let table = Table::read(path, &["food", "amount", "date"])?;
    let mut seen: Vec<FoodId> = Vec::new();
    for (line, cells) in &table.rows {
        let [name, amount, date] = cells.as_slice() else {
            continue;
        };
        let food = table.food(*line, name, larder, locale)?;
        let grams = if figure(amount.trim_end_matches(" g")) == Some(0.0) {
            0.0
        } else {
            table.pack(*line, "amount", amount, food, larder, locale)?
        };
        let date = table.date(*line, date)?;
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
    Ok(())
}
