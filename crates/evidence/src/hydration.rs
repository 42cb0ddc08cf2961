//! `evidence hydration`: fits how wet gluten-free doughs and batters are, and
//! says how well the fit holds for authors it has not seen.

mod figures;
mod fit;
mod formulas;
mod report;
mod table;

// The very code that ships, so that what is measured here is what is used.
use recipe::rework::hydration as shipped;

#[cfg(test)]
mod tests;

pub(crate) use figures::Figures;
pub(crate) use fit::{Follow, fit};
pub(crate) use formulas::{Data, Formula, Pair};

use std::error::Error;

/// Fits, prints, and with `--write` writes the table that ships.
pub(crate) fn run(words: &[&str]) -> Result<(), Box<dyn Error>> {
    let write = match words {
        [] => false,
        ["--write"] => true,
        _ => return Err("give nothing or --write after hydration".into()),
    };
    let data = formulas::Data::read()?;
    let figures = figures::Figures::measure(&data, fit::Follow::YeastDoughs)?;
    let model = table::model(&data, &figures)?;
    print!("{}", report::report(&data, &figures)?);
    if write {
        std::fs::write(table::PATH, table::text(&data, &model))?;
        println!("\nwritten: crates/recipe/data/hydration_model.tsv");
    }
    Ok(())
}
