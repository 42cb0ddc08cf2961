//! `evidence report`: how well the engine foretells published formulas and pairs, each from
//! sources that it has not seen; with `--write` the table that ships and `docs/evidence.md`.

use crate::hydration::{Data, Figures, Follow, Formula, Pair, fit};
use larder::{FoodId, Larder};
use numeric::quantile::median;
use quantity::{Locale, Mass, Spread};
use recipe::evidence::{Evidence, Quantity, Rule};
use recipe::read::Reader;
use recipe::rework::blend::Blend;
use recipe::rework::style::Style;
use recipe::rework::{Balance, Options, rework};
use std::collections::{BTreeMap, BTreeSet};
use std::error::Error;
use std::fmt::Write;

/// Where the table goes.
const TABLE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../recipe/data/evidence.tsv");
/// Where the words go.
const DOCS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/evidence.md");
/// Psyllium that is worth one of xanthan, as in the engine (common practice, no source).
const PSYLLIUM: f64 = 2.5;
/// Egg at or above this share of the flour halves the engine's dose of gum.
const MUCH_EGG: f64 = 60.0;

type Outcome<T> = Result<T, Box<dyn Error>>;

/// Prints the words, and with `--write` writes table and words.
pub(crate) fn run(words: &[&str]) -> Outcome<()> {
    match words {
        [] | ["--write"] => {}
        _ => return Err("give nothing or --write after report".into()),
    }
    let table = table()?;
    let docs = crate::report_words::docs(&read(&table));
    print!("{docs}");
    if !words.is_empty() {
        std::fs::write(TABLE, table)?;
        std::fs::write(DOCS, docs)?;
        println!("\nwritten: crates/recipe/data/evidence.tsv, docs/evidence.md");
    }
    Ok(())
}

/// A fresh table, read as the program reads its own.
fn read(table: &str) -> Evidence {
    recipe::evidence::parse(Box::leak(table.to_owned().into_boxed_str()))
}

/// What a formula is made of.
struct Made {
    foods: Vec<(FoodId, f64)>,
    address: String,
}

/// The ingredients of every published formula that the larder knows, with where it was seen.
fn made(larder: &Larder) -> Outcome<BTreeMap<String, Made>> {
    let mut all: BTreeMap<String, Made> = BTreeMap::new();
    let sources = include_str!("../data/formulas/sources.csv");
    for row in csv::Reader::from_reader(sources.as_bytes()).records() {
        let row = row?;
        let address = if row[6].is_empty() {
            row[4].to_owned()
        } else {
            row[6].to_owned()
        };
        let foods = Vec::new();
        all.insert(row[0].to_owned(), Made { foods, address });
    }
    let formulas = include_str!("../data/formulas/formulas.csv");
    for row in csv::Reader::from_reader(formulas.as_bytes()).records() {
        let row = row?;
        let entry = all
            .get_mut(&row[0])
            .ok_or_else(|| format!("{} has no source", &row[0]))?;
        let grams: f64 = row[3].parse()?;
        if let Some(m) = larder.find(&row[2], Locale::Us) {
            entry.foods.push((m.food, grams));
        }
    }
    Ok(all)
}

/// Hydration, egg and binder of a balance, per cent of the flour phase.
fn three(b: &Balance) -> [f64; 3] {
    [
        b.hydration.map_or(0.0, |h| h.likely().get()),
        b.egg,
        b.binder_percent(),
    ]
}

fn balance(foods: &[(FoodId, f64)], larder: &Larder) -> Balance {
    let weighed: Vec<_> = foods
        .iter()
        .map(|(f, g)| (*f, Spread::exact(Mass::grams(*g))))
        .collect();
    Balance::of(&weighed, larder)
}

/// The wheat side of a pair through the engine: read, weighed and reworked like any recipe, with
/// the flours of the gluten-free side as the blend and a fit that has seen neither side.
fn engine(
    larder: &Larder,
    data: &Data,
    pair: &Pair,
    made: &BTreeMap<String, Made>,
) -> Outcome<[f64; 3]> {
    let wheat = &made[&pair.wheat.id].foods;
    let mut text = String::from("A formula\n\n");
    for (food, grams) in wheat {
        writeln!(text, "{grams} g {}", larder.food(*food).name)?;
    }
    let reader = Reader::new(larder, Locale::Us);
    let read = recipe::read::bytes(text.as_bytes(), &reader)?;
    let formula = recipe::weigh::formula(read, larder, Locale::Us)?;
    let found: Vec<FoodId> = formula.components[0]
        .items
        .iter()
        .filter_map(|w| w.food)
        .collect();
    let given: Vec<FoodId> = wheat.iter().map(|f| f.0).collect();
    if formula.components.len() != 1 || found != given {
        return Err(format!("{} is not read as it stands:\n{text}", pair.wheat.id).into());
    }
    let phase: Vec<(FoodId, f64)> = made[&pair.gluten_free.id]
        .foods
        .iter()
        .copied()
        .filter(|(f, _)| larder.food(*f).is_flour_phase())
        .collect();
    let sum: f64 = phase.iter().map(|p| p.1).sum();
    let blend = Blend {
        key: "own_published".into(),
        name: "the published flours".into(),
        parts: phase
            .into_iter()
            .map(|(f, g)| (f, 100.0 * g / sum))
            .collect(),
        binders: Vec::new(),
        styles: Vec::new(),
        why: "".into(),
        cup_grams: None,
        own: true,
    };
    let style = style_of(&pair.gluten_free)?;
    let options = Options {
        styles: vec![(String::new(), style)],
        blends: vec![(String::new(), "own_published".to_owned())],
        own: vec![blend],
        model: Some(fit(data, Follow::YeastDoughs, &pair.sources())?.model),
        ..Options::default()
    };
    let done = rework(formula, larder, &options);
    let part = done.components.first().ok_or("no component")?;
    Ok(three(&part.reworked))
}

fn style_of(formula: &Formula) -> Outcome<Style> {
    Ok(Style::from_key(&formula.style).ok_or_else(|| format!("no style {}", formula.style))?)
}

/// What a formula holds of binder, psyllium at its worth in xanthan.
struct Bound {
    style: String,
    source: usize,
    egg: f64,
    binder: f64,
}

/// Formulas whose ingredients are seen whole.
fn bound(data: &Data) -> Vec<Bound> {
    let whole = data.formulas.iter().filter(|f| f.is_whole());
    whole
        .map(|f| Bound {
            style: f.style.clone(),
            source: f.source,
            egg: f.egg,
            binder: f.binder - f.psyllium + f.psyllium / PSYLLIUM,
        })
        .collect()
}

/// The engine's usual dose of a style, psyllium at its worth in xanthan.
fn dose(style: Style, egg: f64) -> f64 {
    let (Some(psy), Some(xan)) = (style.range("psyllium"), style.range("xanthan")) else {
        return 0.0;
    };
    if style.is_thickened() {
        return 0.0;
    }
    let (low, likely) = (xan.value.low().get(), xan.value.likely().get());
    if style.is_yeast_dough() {
        psy.value.likely().get() / PSYLLIUM + low.min(0.5)
    } else if egg >= MUCH_EGG {
        (likely / 2.0).max(low)
    } else {
        likely
    }
}

/// The learnt rule: the median dose of the style's formulas of other sources, those without a
/// binder counted as nought. So none where most have none.
fn learnt_dose(all: &[Bound], style: &str, held_out: &BTreeSet<usize>) -> Outcome<f64> {
    let of: Vec<f64> = all
        .iter()
        .filter(|b| b.style == style && !held_out.contains(&b.source))
        .map(|b| b.binder)
        .collect();
    Ok(median(&of)?)
}

/// The learnt rule for egg: the median ratio of the other sources' pairs of the style, of all
/// styles where it has none.
fn learnt_egg(of: &[([f64; 3], [f64; 3])], data: &Data, at: usize) -> Outcome<f64> {
    let ratio = |style: Option<&str>| -> Vec<f64> {
        (0..of.len())
            .filter(|&i| !data.pairs[i].shares_source(&data.pairs[at]) && of[i].0[1] > 0.0)
            .filter(|&i| style.is_none_or(|s| s == data.pairs[i].gluten_free.style))
            .map(|i| of[i].1[1] / of[i].0[1])
            .collect()
    };
    let own = ratio(Some(&data.pairs[at].gluten_free.style));
    let ratios = if own.is_empty() { ratio(None) } else { own };
    Ok(of[at].0[1] * median(&ratios)?)
}

/// One row of the table.
fn row(out: &mut String, group: &str, key: &str, figure: &str, value: f64, from: &str) {
    // Writing to a string cannot fail. No minus before nought.
    let value = (value * 1e4).round() / 1e4 + 0.0;
    let _ = writeln!(out, "{group}\t{key}\t{figure}\t{value}\t{from}");
}

const OURS: &str = "worked out from crates/evidence/data/formulas\tseen";

/// Errors of one rule beside those of changing nothing.
fn errors(out: &mut String, group: &str, key: &str, miss: &[f64], nothing: &[f64]) -> Outcome<()> {
    let n = miss.len() as f64;
    let mean = miss.iter().sum::<f64>() / n;
    let rms = (miss.iter().map(|m| m * m).sum::<f64>() / n).sqrt();
    let count = |f: fn(f64, f64) -> bool| {
        let pairs = miss.iter().zip(nothing);
        pairs.filter(|(a, b)| f(**a, **b)).count() as f64
    };
    for (figure, value) in [
        ("n", n),
        ("median", median(miss)?),
        ("mean", mean),
        ("rms", rms),
        ("nearer", count(|a, b| a < b - 1e-6)),
        ("farther", count(|a, b| a > b + 1e-6)),
    ] {
        row(out, group, key, figure, value, OURS);
    }
    Ok(())
}

/// The table as text.
fn table() -> Outcome<String> {
    let larder = Larder::built_in()?;
    let data = Data::read()?;
    let figures = Figures::measure(&data, Follow::YeastDoughs)?;
    let mut out = String::from(
        "# How well the engine foretells published formulas and pairs, each from sources it has not seen. Written by `cargo run -p evidence -- report --write`, not by hand; what the figures mean: docs/evidence.md.\n\
         group\tkey\tfigure\tvalue\tsource\tstatus\n",
    );
    let bound = bound(&data);
    style_rows(&mut out, &data, &figures, &bound)?;

    let made = made(&larder)?;
    let mut sides: Vec<([f64; 3], [f64; 3])> = Vec::new();
    let mut engines: Vec<[f64; 3]> = Vec::new();
    for pair in &data.pairs {
        let of = |f: &Formula| three(&balance(&made[&f.id].foods, &larder));
        let (wheat, published) = (of(&pair.wheat), of(&pair.gluten_free));
        let told = engine(&larder, &data, pair, &made)?;
        sides.push((wheat, published));
        engines.push(told);
        let key = format!("{}/{}", pair.gluten_free.style, pair.gluten_free.id);
        let status = if pair.from_memory {
            "from memory"
        } else {
            "seen"
        };
        let from = format!("{}\t{status}", made[&pair.gluten_free.id].address);
        for (i, quantity) in Quantity::ALL.into_iter().enumerate() {
            for (side, value) in [
                ("wheat", wheat[i]),
                ("published", published[i]),
                ("engine", told[i]),
            ] {
                let figure = format!("{} {side}", quantity.word());
                row(&mut out, "pair", &key, &figure, value, &from);
            }
        }
    }
    for (i, quantity) in Quantity::ALL.into_iter().enumerate() {
        let mut learnt = Vec::new();
        for (at, pair) in data.pairs.iter().enumerate() {
            learnt.push(match quantity {
                // The median of the style, of other sources.
                Quantity::Hydration => pair.style_median(&data)?,
                Quantity::Egg => learnt_egg(&sides, &data, at)?,
                Quantity::Binder => learnt_dose(&bound, &pair.gluten_free.style, &pair.sources())?,
            });
        }
        let miss = |told: &dyn Fn(usize) -> f64| -> Vec<f64> {
            let off = |at: usize| match quantity {
                Quantity::Hydration => (told(at) / sides[at].1[i]).ln().abs(),
                _ => (told(at) - sides[at].1[i]).abs(),
            };
            (0..sides.len()).map(off).collect()
        };
        let nothing = miss(&|at| sides[at].0[i]);
        let fit = |at: usize| {
            let foretold = &figures.pairs[at];
            let moved = foretold.expected.likely / foretold.wheat;
            let raised = Style::from_key(&data.pairs[at].gluten_free.style)
                .is_some_and(Style::is_egg_raised);
            let by = if i == 0 || raised { moved } else { 1.0 };
            sides[at].0[i] * by
        };
        let rules = [
            (Rule::Engine, miss(&|at| engines[at][i])),
            (Rule::Nothing, nothing.clone()),
            (Rule::Learnt, miss(&|at| learnt[at])),
            (Rule::Fit, miss(&fit)),
        ];
        for (rule, misses) in rules {
            // The fit says nothing of binder.
            if (quantity, rule) == (Quantity::Binder, Rule::Fit) {
                continue;
            }
            let key = format!("{} {}", quantity.word(), rule.word());
            errors(&mut out, "pairs", &key, &misses, &nothing)?;
        }
    }
    let nothing: Vec<f64> = bound.iter().map(|b| b.binder).collect();
    for rule in [Rule::Engine, Rule::Nothing, Rule::Learnt] {
        let mut misses = Vec::new();
        for b in &bound {
            let style = Style::from_key(&b.style).ok_or("no style")?;
            let told = match rule {
                Rule::Engine => dose(style, b.egg),
                Rule::Nothing | Rule::Fit => 0.0,
                Rule::Learnt => learnt_dose(&bound, &b.style, &BTreeSet::from([b.source]))?,
            };
            misses.push((told - b.binder).abs());
        }
        let key = format!("binder {}", rule.word());
        errors(&mut out, "formulas", &key, &misses, &nothing)?;
    }
    Ok(out)
}

/// The rows of every style and of all.
fn style_rows(out: &mut String, data: &Data, figures: &Figures, bound: &[Bound]) -> Outcome<()> {
    // What is only a filling has no dough to foretell.
    let doughs = Style::all().filter(|s| s.range("hydration_eff").is_some());
    let keys = doughs.map(Some).chain([None]);
    for style in keys {
        let key = style.map_or("all", Style::key);
        let of = style.map(Style::key);
        let n = figures.of(of).count();
        let pairs = data
            .pairs
            .iter()
            .filter(|p| of.is_none_or(|s| s == p.gluten_free.style))
            .count();
        row(out, "style", key, "formulas", n as f64, OURS);
        row(out, "style", key, "pairs", pairs as f64, OURS);
        if n > 0 {
            let signed: Vec<f64> = figures.of(of).map(|f| f.signed).collect();
            let width = figures.of(of).map(|f| f.width).sum::<f64>() / n as f64;
            for (figure, value) in [
                ("miss", figures.median_miss(of)?),
                ("bias", median(&signed)?),
                ("held", figures.coverage(of)),
                ("width", width),
            ] {
                row(out, "style", key, figure, value, OURS);
            }
        }
        let Some(style) = style else { continue };
        let own: Vec<&Bound> = bound.iter().filter(|b| b.style == key).collect();
        let with: Vec<f64> = own.iter().map(|b| b.binder).filter(|b| *b > 0.0).collect();
        row(out, "style", key, "binder_formulas", own.len() as f64, OURS);
        row(out, "style", key, "binder_with", with.len() as f64, OURS);
        if !with.is_empty() {
            row(out, "style", key, "binder_median", median(&with)?, OURS);
        }
        let eggs: Vec<f64> = own.iter().map(|b| b.egg).collect();
        let egg = if eggs.is_empty() { 0.0 } else { median(&eggs)? };
        row(out, "style", key, "binder_dose", dose(style, egg), OURS);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The table that ships is a fresh one, to what another machine's logarithm may differ by,
    /// and the words are the table's.
    #[test]
    fn the_table_and_the_words_that_ship_are_fresh() -> Outcome<()> {
        let (fresh, shipped) = (table()?, std::fs::read_to_string(TABLE)?);
        assert_eq!(fresh.lines().count(), shipped.lines().count());
        for (new, old) in fresh.lines().zip(shipped.lines()) {
            let (new, old): (Vec<&str>, Vec<&str>) =
                (new.split('\t').collect(), old.split('\t').collect());
            let number = |cells: &[&str]| cells.get(3).and_then(|v| v.parse::<f64>().ok());
            match (number(&new), number(&old)) {
                (Some(a), Some(b)) => {
                    assert!(
                        (a - b).abs() <= 2e-4 + 1e-5 * b.abs(),
                        "{new:?}, not {old:?}"
                    );
                    assert_eq!((&new[..3], &new[4..]), (&old[..3], &old[4..]));
                }
                _ => assert_eq!(new, old),
            }
        }
        let docs = crate::report_words::docs(&read(&shipped));
        assert_eq!(docs, std::fs::read_to_string(DOCS)?);
        Ok(())
    }

    /// Water, egg and binder as the larder counts them are those that were worked out beside the
    /// formulas, `data/formulas/wheat_pairs.csv`; the larder's eggs and butter differ by a little.
    #[test]
    fn the_pairs_are_those_of_the_data() -> Outcome<()> {
        let text = include_str!("../data/formulas/wheat_pairs.csv");
        let shipped = recipe::evidence::shipped();
        for (row, pair) in csv::Reader::from_reader(text.as_bytes())
            .records()
            .zip(&shipped.pairs)
        {
            let row = row?;
            assert_eq!(&row[1], pair.id);
            for (column, found) in [
                (4, pair.hydration.wheat),
                (5, pair.hydration.published),
                (8, pair.egg.wheat),
                (9, pair.egg.published),
                (7, pair.binder.published),
            ] {
                let given: f64 = row[column].parse()?;
                assert!(
                    (found - given).abs() <= 0.06 * given + 0.5,
                    "{}: {found}, not {given}",
                    pair.id
                );
            }
        }
        Ok(())
    }
}
