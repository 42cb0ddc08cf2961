//! `unwheat shop`.

mod files;

use super::choices::{times_of, usage};
use super::{Failure, json, read_bytes};
use crate::show;
use clap::Args;

use larder::{Larder, OwnEntry, Stock, is_day};
use quantity::Locale;
use recipe::read::Reader;
use recipe::rework::{Options, Rework};
use recipe::screen::Screening;
use recipe::shop::{Order, Shelf};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// List what to buy for some recipes, and say what each costs
#[derive(Debug, Args)]
#[command(
    after_help = "A table of prices has a line 'food, pack, price, currency, date' with tabs between, and packs in your words: 5 lb bag, 12 eggs, 1 L. Several rows of a food are several packs, the usual one first. A table of stock has 'food, amount, date'.\n\nExamples:\n  unwheat shop examples/sunday-pancakes.txt\n  unwheat shop examples/sunday-pancakes.txt examples/lemon-yoghurt-cake.txt --times 2,1 --locale uk --prices examples/shop/prices.tsv --stock examples/shop/stock.tsv\n  unwheat shop my.txt --kitchen my-kitchen --times 3"
)]
pub struct Shop {
    /// The recipes: text files or saved web pages; '-' for standard input
    #[arg(required = true)]
    files: Vec<PathBuf>,
    /// How many times each recipe is made: one number for all, or one for each with commas
    #[arg(
        long,
        allow_hyphen_values = true,
        value_name = "N,N",
        value_delimiter = ',',
        default_value = "1"
    )]
    times: Vec<String>,
    /// A table of prices; see below
    #[arg(long, value_name = "FILE.tsv")]
    prices: Option<PathBuf>,
    /// A table of what there is; see below
    #[arg(long, value_name = "FILE.tsv")]
    stock: Option<PathBuf>,
    /// Take prices, stock, trim and own foods from a kitchen of the workbench
    #[arg(long, value_name = "FOLDER")]
    kitchen: Option<PathBuf>,
    /// The currency to buy in, where a food has packs in several: three letters
    #[arg(long, value_name = "CODE")]
    currency: Option<String>,
    /// The day prices are judged old by, in place of today: YYYY-MM-DD
    #[arg(long, value_name = "DAY")]
    day: Option<String>,
    /// Whose cups and spoons the texts mean: us, metric, uk or au
    #[arg(long, default_value = "us", value_name = "LOCALE")]
    locale: Locale,
    /// Print JSON (docs/json.md) in place of the tables
    #[arg(long)]
    json: bool,
}

/// Wrong usage found after parsing: exit code 2, in the parser's own form.
/// A recipe made and screened.
struct Made {
    title: String,
    rework: Rework,
    screening: Screening,
    times: f64,
}

impl Shop {
    pub fn run(self, larder: Larder) -> Result<String, Failure> {
        let times = times_of(&self.times, self.files.len());
        let day = self.day();
        let currency = self.currency.as_ref().map(|c| {
            let code = c.trim().to_uppercase();
            if code.len() != 3 || !code.bytes().all(|b| b.is_ascii_uppercase()) {
                usage(format!(
                    "--currency {c}: write a code of three letters, such as GBP, EUR or USD"
                ));
            }
            code
        });
        let (own, kitchen_currency, blends, over) = self.own(&larder, &day)?;
        let larder = larder
            .with_own(&own)
            .map_err(|e| Failure::Other {
                path: self
                    .prices
                    .as_deref()
                    .map_or_else(|| "own entries".to_owned(), |p| p.display().to_string()),
                what: e.to_string(),
            })?
            .in_words_of(self.locale);
        let mut made = Vec::new();
        for (file, times) in self.files.iter().zip(times) {
            made.push(self.make(file, times, &larder)?);
        }
        let orders: Vec<Order<'_>> = made
            .iter()
            .map(|m| Order::times(&m.title, &m.rework, &m.screening, m.times))
            .collect();
        let shelf = Shelf {
            blends,
            currency: currency.or(kitchen_currency),
        };
        let list = recipe::shop::list(&orders, &larder, &shelf);
        let shown = show::shop::Shown {
            orders: &orders,
            list: &list,
            larder: &larder,
            day: &day,
            passed_over: &over,
        };
        Ok(if self.json {
            json(&show::json::shop(&shown))
        } else {
            show::shop::shop(&shown, &show::Style::of_terminal())
        })
    }

    fn day(&self) -> String {
        match &self.day {
            Some(day) if is_day(day) => day.clone(),
            Some(day) => usage(format!("--day {day}: write it like 2026-11-29")),
            None => jiff::Timestamp::now()
                .to_zoned_datetime(jiff::tz::TimeZone::system())
                .strftime("%Y-%m-%d")
                .to_string(),
        }
    }

    /// Own entries with prices and stock, the kitchen's currency, its mixed blends, and why rows
    /// of tables are passed over.
    #[expect(clippy::type_complexity, reason = "things of one source, used once")]
    fn own(
        &self,
        larder: &Larder,
        day: &str,
    ) -> Result<
        (
            Vec<OwnEntry>,
            Option<String>,
            BTreeMap<String, Stock>,
            Vec<String>,
        ),
        Failure,
    > {
        let mut own = Vec::new();
        let mut currency = None;
        let mut blends = BTreeMap::new();
        if let Some(folder) = &self.kitchen {
            let kitchen = open(folder)?;
            let told = |e: store::StoreError| Failure::Other {
                path: folder.display().to_string(),
                what: e.to_string(),
            };
            own = kitchen.own_entries().map_err(told)?;
            let settings = kitchen.settings().map_err(told)?;
            blends.clone_from(&settings.blend_stock);
            currency = Some(settings.currency);
        }
        let with = if own.is_empty() {
            larder.clone()
        } else {
            larder.with_own(&own).map_err(|e| Failure::Other {
                path: "the kitchen's own entries".to_owned(),
                what: e.to_string(),
            })?
        };
        let asked = files::Asked {
            larder: &with,
            locale: self.locale,
            day,
        };
        let mut over = Vec::new();
        if let Some(path) = &self.prices {
            over.extend(files::prices(path, asked, &mut own)?);
        }
        if let Some(path) = &self.stock {
            over.extend(files::stock(path, asked, &mut own)?);
        }
        Ok((own, currency, blends, over))
    }

    fn make(&self, file: &PathBuf, times: f64, larder: &Larder) -> Result<Made, Failure> {
        let path = if file.as_os_str() == "-" {
            "standard input".to_owned()
        } else {
            file.display().to_string()
        };
        let bytes = read_bytes(Some(file)).map_err(|error| Failure::File {
            path: path.clone(),
            error,
        })?;
        let reader = Reader::new(larder, self.locale);
        let recipe = recipe::read::bytes(&bytes, &reader).map_err(|error| Failure::Read {
            path: path.clone(),
            error,
        })?;
        let title = recipe.title.as_deref().map(card::quiet);
        let title = title.unwrap_or_else(|| path.clone());
        let formula = recipe::weigh::formula(recipe, larder, self.locale)
            .map_err(|error| Failure::Weigh { path, error })?;
        let rework = recipe::rework::rework(formula, larder, &Options::default());
        let screening = rework.screen(larder);
        Ok(Made {
            title,
            rework,
            screening,
            times,
        })
    }
}

/// Opens a kitchen that is there; none is made.
fn open(folder: &Path) -> Result<store::Kitchen, Failure> {
    if !folder.join("kitchen.db").is_file() {
        return Err(Failure::Other {
            path: folder.display().to_string(),
            what: "there is no kitchen in this folder\n  give the folder the workbench names when it starts".to_owned(),
        });
    }
    store::Kitchen::open(folder).map_err(|e| Failure::Other {
        path: folder.display().to_string(),
        what: e.to_string(),
    })
}
