//! `evidence amounts`: the most of each kind of food that a published gluten-free formula of a
//! dough or batter has for its flour; with `--write` the table by which slips are asked about.

use crate::hydration::Data;
use larder::Larder;
use quantity::Locale;
use recipe::rework::style::Style;
use recipe::weigh::{FAR, counts_as};
use std::collections::{BTreeMap, BTreeSet};
use std::error::Error;
use std::fmt::Write;

/// Where the table goes.
const PATH: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/../recipe/data/most_of_flour.tsv"
);
/// A kind in fewer sources has no bound.
const FEWEST: usize = 10;

/// Prints the table, and with `--write` writes it.
pub(crate) fn run(words: &[&str]) -> Result<(), Box<dyn Error>> {
    let (table, apart) = table()?;
    println!(
        "the formula with the most, over the next source's: {apart:.2} at the most; {FAR} times the most is a slip"
    );
    match words {
        [] => print!("{table}"),
        ["--write"] => {
            std::fs::write(PATH, table)?;
            println!("{PATH} written");
        }
        [other, ..] => return Err(format!("amounts takes --write, not '{other}'").into()),
    }
    Ok(())
}

/// Percent of the flour, source and formula of a line.
type Line = (f64, usize, String);

type Kinds = BTreeMap<&'static str, Vec<Line>>;

/// The lines of whole formulas by kind, and how many formulas that are.
fn lines(larder: &Larder) -> Result<(Kinds, usize), Box<dyn Error>> {
    let thickened = |key: &str| Style::from_key(key).is_some_and(Style::is_thickened);
    let formulas = Data::read()?.formulas;
    let whole: BTreeMap<String, usize> = formulas
        .into_iter()
        .filter(|f| f.is_whole() && !thickened(&f.style))
        .map(|f| (f.id, f.source))
        .collect();
    let text = include_str!("../data/formulas/formulas.csv");
    let mut flour: BTreeMap<String, f64> = BTreeMap::new();
    let mut grams = Vec::new();
    for row in csv::Reader::from_reader(text.as_bytes()).records() {
        let row = row?;
        let (id, g) = (row[0].to_owned(), row[3].parse::<f64>()?);
        if matches!(&row[4], "flour" | "starch") {
            *flour.entry(id).or_default() += g;
        } else if let Some(m) = larder.find(&row[2], Locale::Us)
            && let Some((kind, share)) = counts_as(m.food, larder)
        {
            grams.push((id, kind, g * share));
        }
    }
    let mut out = Kinds::new();
    for (id, kind, g) in grams {
        let (Some(source), Some(flour)) = (whole.get(&id), flour.get(&id)) else {
            continue;
        };
        let line = (100.0 * g / flour, *source, id);
        out.entry(kind).or_default().push(line);
    }
    Ok((out, whole.len()))
}

/// The table, and how many times the most of a kind is that of the next source, at the most.
fn table() -> Result<(String, f64), Box<dyn Error>> {
    let larder = Larder::built_in()?;
    let (kinds, formulas) = lines(&larder)?;
    let mut out = String::from(
        "# The most of a kind of food, percent of the flour phase, on one line of a published gluten-free formula of a dough or batter. Written by `cargo run -p evidence -- amounts --write`, not by hand; fresh yeast as dry. formulas = all that were looked through.\n\
         kind\tmost\tformulas\tsources\tsource\tstatus\n",
    );
    let mut apart: f64 = 1.0;
    for (kind, mut lines) in kinds {
        let sources: BTreeSet<usize> = lines.iter().map(|l| l.1).collect();
        if sources.len() < FEWEST {
            continue;
        }
        lines.sort_by(|a, b| b.0.total_cmp(&a.0));
        let (most, source, id) = &lines[0];
        let next = lines.iter().find(|l| l.1 != *source).map_or(*most, |l| l.0);
        apart = apart.max(most / next);
        writeln!(
            out,
            "{kind}\t{most:.1}\t{formulas}\t{}\tcrates/evidence/data/formulas, {id}\tseen",
            sources.len()
        )?;
    }
    Ok((out, apart))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_that_ships_is_a_fresh_count() -> Result<(), Box<dyn Error>> {
        let (table, apart) = table()?;
        assert!(
            table == std::fs::read_to_string(PATH)?,
            "write it anew: cargo run -p evidence -- amounts --write"
        );
        // A source that was not seen would not be called a slip.
        assert!(apart < FAR, "{apart}");
        Ok(())
    }
}
