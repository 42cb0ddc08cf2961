//! Reads the published formulas and says which of them are one source.

use std::collections::{BTreeMap, BTreeSet};
use std::error::Error;
use std::path::Path;

/// A flour, starch or binder of a formula.
#[derive(Debug, Clone)]
pub(crate) struct Part {
    /// Larder key.
    pub(crate) key: &'static str,
    /// Per cent of the flour phase.
    pub(crate) percent: f64,
    /// Whether it comes on top of the flour phase.
    pub(crate) binder: bool,
}

/// One published formula.
#[derive(Debug, Clone)]
pub(crate) struct Formula {
    pub(crate) id: String,
    pub(crate) style: String,
    /// Effective hydration, % of the flour phase.
    pub(crate) hydration: f64,
    pub(crate) parts: Vec<Part>,
    /// Formulas of one author or address share this.
    pub(crate) source: usize,
    /// Egg, all binders, and psyllium alone, % of the flour phase.
    pub(crate) egg: f64,
    pub(crate) binder: f64,
    pub(crate) psyllium: f64,
    gluten_free: bool,
    use_for_fit: String,
}

/// A wheat formula and its gluten-free counterpart.
#[derive(Debug, Clone)]
pub(crate) struct Pair {
    pub(crate) wheat: Formula,
    pub(crate) gluten_free: Formula,
    /// Whether one side is from memory.
    pub(crate) from_memory: bool,
}

/// Listed absorption of a larder key, g water per g.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Listed {
    pub(crate) low: f64,
    pub(crate) likely: f64,
    pub(crate) high: f64,
}

/// Low, usual and high of a style in practice, in %.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Practice {
    pub(crate) low: f64,
    pub(crate) value: f64,
    pub(crate) high: f64,
}

/// All that the fit is made from.
pub(crate) struct Data {
    /// Gluten-free formulas fit for use, in the order of the file.
    pub(crate) formulas: Vec<Formula>,
    pub(crate) pairs: Vec<Pair>,
    pub(crate) absorption: BTreeMap<String, Listed>,
    /// By style and quantity.
    pub(crate) practice: BTreeMap<(String, String), Practice>,
}

/// Larder key of each name in the formulas.
const KEYS: &[(&str, &str)] = &[
    ("HPMC", "hpmc"),
    ("almond flour", "almond_flour"),
    ("arrowroot starch", "arrowroot"),
    ("bread wheat flour", "bread_flour"),
    ("brown rice flour", "brown_rice_flour"),
    ("buckwheat flour", "buckwheat_flour"),
    ("cake wheat flour", "cake_flour"),
    ("cassava flour", "cassava_flour"),
    ("chestnut flour", "chestnut_flour"),
    ("chia seed", "chia_seed"),
    ("chickpea flour", "chickpea_flour"),
    ("corn flour", "corn_flour"),
    ("corn starch", "corn_starch"),
    ("gelatin", "gelatine"),
    (
        "gluten-free flour blend (rice/potato/tapioca)",
        "gluten_free_flour_blend",
    ),
    ("ground almonds", "almond_meal"),
    ("ground flaxseed", "flaxseed_ground"),
    ("guar gum", "guar_gum"),
    ("kudzu", "kudzu"),
    ("lentil flour", "lentil_flour"),
    ("millet flour", "millet_flour"),
    ("oat flour", "oat_flour"),
    ("pea flour", "pea_flour"),
    ("potato starch", "potato_starch"),
    ("pregelatinized rice flour", "pregelatinised_rice_flour"),
    ("psyllium husk", "psyllium_husk"),
    ("quinoa flour", "quinoa_flour"),
    ("rolled oats", "rolled_oats"),
    ("sorghum flour", "sorghum_flour"),
    ("soy flour", "soy_flour"),
    ("sweet rice flour", "sweet_rice_flour"),
    ("tamarind gum", "tamarind_gum"),
    ("tapioca starch", "tapioca_starch"),
    ("teff flour", "teff_flour"),
    ("wheat flour", "all_purpose_flour"),
    ("wheat starch (gluten-free)", "wheat_starch_gf"),
    ("white rice flour", "white_rice_flour"),
    ("whole wheat flour", "whole_wheat_flour"),
    ("xanthan gum", "xanthan_gum"),
];

/// Sources that are one author under two addresses or spellings, which the
/// file shows only by the author named in the formula's id or title.
const SAME_AUTHOR: &[(&str, &str)] = &[
    ("pp09_hagman", "rc07_hagman"),
    ("sp02_chiffon", "sp02w_chiffon"),
];

type Row = BTreeMap<String, String>;

fn rows(folder: &str, name: &str, delimiter: u8) -> Result<Vec<Row>, Box<dyn Error>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join(folder)
        .join(name);
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(delimiter)
        .from_path(path)?;
    let mut rows = Vec::new();
    for row in reader.deserialize() {
        rows.push(row?);
    }
    Ok(rows)
}

fn cell<'a>(row: &'a Row, name: &str) -> Result<&'a str, Box<dyn Error>> {
    Ok(row.get(name).ok_or_else(|| format!("no column {name}"))?)
}

fn figure(row: &Row, name: &str) -> Result<f64, Box<dyn Error>> {
    let text = cell(row, name)?;
    let value: f64 = text
        .parse()
        .map_err(|_| format!("{name} is '{text}', not a number"))?;
    if value.is_finite() {
        Ok(value)
    } else {
        Err(format!("{name} is {text}").into())
    }
}

impl Data {
    /// Reads the files that are checked in.
    pub(crate) fn read() -> Result<Self, Box<dyn Error>> {
        let source = sources(&rows("data/formulas", "sources.csv", b',')?)?;
        let parts = parts(&rows("data/formulas", "formulas.csv", b',')?)?;
        let mut all = BTreeMap::new();
        let mut order = Vec::new();
        for row in rows("data/formulas", "summary.csv", b',')? {
            let id = cell(&row, "formula_id")?.to_owned();
            let formula = Formula {
                style: cell(&row, "style")?.to_owned(),
                hydration: figure(&row, "effective_hydration_pct")?,
                parts: parts
                    .get(&id)
                    .cloned()
                    .ok_or_else(|| format!("{id} has no flour"))?,
                source: *source
                    .get(&id)
                    .ok_or_else(|| format!("{id} has no source"))?,
                egg: figure(&row, "egg_pct")?,
                binder: figure(&row, "total_binder_pct")?,
                psyllium: figure(&row, "psyllium_pct")?,
                gluten_free: cell(&row, "kind")? == "gf",
                use_for_fit: cell(&row, "use_for_fit")?.to_owned(),
                id: id.clone(),
            };
            order.push(id.clone());
            all.insert(id, formula);
        }
        let formulas = order
            .iter()
            .filter_map(|id| all.get(id))
            .filter(|f| f.is_fit())
            .cloned()
            .collect();
        let mut pairs = Vec::new();
        for row in rows("data/formulas", "wheat_pairs.csv", b',')? {
            let side = |name: &str| -> Result<Formula, Box<dyn Error>> {
                let id = cell(&row, name)?;
                Ok(all
                    .get(id)
                    .ok_or_else(|| format!("no formula {id}"))?
                    .clone())
            };
            let (wheat, gluten_free) = (side("wheat_formula_id")?, side("gf_formula_id")?);
            let from_memory = [&wheat, &gluten_free]
                .iter()
                .any(|f| f.use_for_fit == "from_memory");
            pairs.push(Pair {
                wheat,
                gluten_free,
                from_memory,
            });
        }
        let mut absorption = BTreeMap::new();
        for row in rows("../larder/data", "absorption.tsv", b'\t')? {
            let listed = Listed {
                low: figure(&row, "low")?,
                likely: figure(&row, "likely")?,
                high: figure(&row, "high")?,
            };
            absorption.insert(cell(&row, "key")?.to_owned(), listed);
        }
        let mut practice = BTreeMap::new();
        for row in rows("data/formulas", "style_practice.tsv", b'\t')? {
            let key = (
                cell(&row, "style")?.to_owned(),
                cell(&row, "quantity")?.to_owned(),
            );
            let value = Practice {
                low: figure(&row, "low")?,
                value: figure(&row, "value")?,
                high: figure(&row, "high")?,
            };
            practice.insert(key, value);
        }
        Ok(Self {
            formulas,
            pairs,
            absorption,
            practice,
        })
    }

    /// Style keys of the formulas, in order.
    pub(crate) fn styles(&self) -> BTreeSet<&str> {
        self.formulas.iter().map(|f| f.style.as_str()).collect()
    }

    /// Numbers of the sources of the formulas, in order.
    pub(crate) fn sources(&self) -> BTreeSet<usize> {
        self.formulas.iter().map(|f| f.source).collect()
    }

    /// Listed absorption of a key.
    pub(crate) fn listed(&self, key: &str) -> Result<Listed, Box<dyn Error>> {
        Ok(*self
            .absorption
            .get(key)
            .ok_or_else(|| format!("no absorption listed for {key}"))?)
    }

    /// A figure of practice.
    pub(crate) fn practice(&self, style: &str, what: &str) -> Result<Practice, Box<dyn Error>> {
        let key = (style.to_owned(), what.to_owned());
        Ok(*self
            .practice
            .get(&key)
            .ok_or_else(|| format!("no {what} for {style}"))?)
    }
}

impl Formula {
    /// Flour and water seen in the source, and a hydration that has a logarithm.
    fn is_fit(&self) -> bool {
        self.gluten_free
            && matches!(self.use_for_fit.as_str(), "yes" | "hydration_only")
            && self.hydration > 0.0
    }

    /// Every ingredient seen, not flour and water alone.
    pub(crate) fn is_whole(&self) -> bool {
        self.is_fit() && self.use_for_fit == "yes"
    }

    /// Natural logarithm of the hydration as a share.
    pub(crate) fn ln_hydration(&self) -> f64 {
        (self.hydration / 100.0).ln()
    }
}

/// Flours, starches and binders by formula, per cent of the flour phase.
fn parts(rows: &[Row]) -> Result<BTreeMap<String, Vec<Part>>, Box<dyn Error>> {
    let keys: BTreeMap<&str, &str> = KEYS.iter().copied().collect();
    let mut grams: BTreeMap<String, Vec<Part>> = BTreeMap::new();
    for row in rows {
        let binder = match cell(row, "part")? {
            "flour" | "starch" => false,
            "binder" => true,
            _ => continue,
        };
        let name = cell(row, "ingredient")?;
        let key = keys
            .get(name)
            .ok_or_else(|| format!("'{name}' has no larder key"))?;
        let part = Part {
            key,
            percent: figure(row, "grams")?,
            binder,
        };
        grams
            .entry(cell(row, "formula_id")?.to_owned())
            .or_default()
            .push(part);
    }
    for list in grams.values_mut() {
        let flour: f64 = list.iter().filter(|p| !p.binder).map(|p| p.percent).sum();
        list.iter_mut().for_each(|p| p.percent *= 100.0 / flour);
    }
    Ok(grams)
}

/// A number for each formula; equal where the author or the host of the address is equal.
fn sources(rows: &[Row]) -> Result<BTreeMap<String, usize>, Box<dyn Error>> {
    let mut ids = Vec::new();
    let mut group: Vec<usize> = Vec::new();
    let mut first: BTreeMap<String, usize> = BTreeMap::new();
    for (index, row) in rows.iter().enumerate() {
        let id = cell(row, "formula_id")?.to_owned();
        group.push(index);
        let author = cell(row, "authors_publisher")?.trim();
        let mut marks = vec![format!("id {id}"), format!("author {author}")];
        let address = cell(row, "address_or_doi")?;
        let host = address
            .trim_start_matches("https://")
            .trim_start_matches("http://")
            .split('/')
            .next()
            .unwrap_or_default();
        // The resolver of article numbers is no source.
        if !host.is_empty() && host != "doi.org" {
            marks.push(format!("host {host}"));
        }
        for mark in marks {
            let other = *first.entry(mark).or_insert(index);
            merge(&mut group, other, index);
        }
        ids.push(id);
    }
    for (a, b) in SAME_AUTHOR {
        let at = |id: &str| {
            first
                .get(&format!("id {id}"))
                .copied()
                .ok_or_else(|| format!("no formula {id}"))
        };
        merge(&mut group, at(a)?, at(b)?);
    }
    Ok(ids.into_iter().zip(group).collect())
}

/// Gives both groups the lower number.
fn merge(group: &mut [usize], a: usize, b: usize) {
    let (low, high) = (group[a].min(group[b]), group[a].max(group[b]));
    group
        .iter_mut()
        .filter(|g| **g == high)
        .for_each(|g| *g = low);
}
