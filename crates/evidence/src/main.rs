//! Refits the project's coefficients on published figures and prints how well
//! they hold. A tool for development: it is not shipped.
//!
//! ```text
//! cargo run -p evidence -- hydration           fit, figures per style, pairs
//! cargo run -p evidence -- hydration --write   also write the table that ships
//! cargo run -p evidence -- lines               how well lines are read, with the misses of the known ones
//! cargo run -p evidence -- makeup [--write]  what published blends are made of, style by style
//! cargo run -p evidence -- amounts [--write]  the most of each food that a published formula has for its flour
//! cargo run -p evidence -- report [--write]  how well the engine foretells formulas and pairs
//! cargo run -p evidence -- styles              how well styles are told from ratios alone
//! ```

mod amounts;
mod hydration;
mod lines;
mod makeup;
mod report;
mod report_words;
mod styles;

use std::error::Error;
use std::process::ExitCode;

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match dispatch(&words) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("evidence: {error}");
            ExitCode::FAILURE
        }
    }
}

fn dispatch(words: &[&str]) -> Result<(), Box<dyn Error>> {
    match words {
        ["amounts", rest @ ..] => amounts::run(rest),
        ["hydration", rest @ ..] => hydration::run(rest),
        ["lines", rest @ ..] => lines::run(rest),
        ["makeup", rest @ ..] => makeup::run(rest),
        ["report", rest @ ..] => report::run(rest),
        ["styles", rest @ ..] => styles::run(rest),
        [] => Err("no command; give amounts, hydration, lines, makeup, report or styles".into()),
        [other, ..] => Err(format!(
            "no command '{other}'; give amounts, hydration, lines, makeup, report or styles"
        )
        .into()),
    }
}
