//! How well a style is told from ratios alone, without any word of title or method: the published
//! formulas, wheat and gluten-free, against the style their source gives them.

use larder::{FoodId, Larder};
use quantity::{Locale, Mass, Spread};
use recipe::rework::{Balance, style};
use std::collections::BTreeMap;

/// A published formula: id, style key, foods in grams.
type Published = (String, String, Vec<(FoodId, Spread<Mass>)>);

/// The published formulas whose foods the larder knows.
fn published(larder: &Larder) -> Result<Vec<Published>, Box<dyn std::error::Error>> {
    let mut formulas: BTreeMap<String, Published> = BTreeMap::new();
    let text = include_str!("../data/formulas/formulas.csv");
    for row in csv::Reader::from_reader(text.as_bytes()).records() {
        let row = row?;
        let grams: f64 = row[3].parse()?;
        let entry = formulas
            .entry(row[0].to_owned())
            .or_insert_with(|| (row[0].to_owned(), row[1].to_owned(), Vec::new()));
        if let Some(m) = larder.find(&row[2], Locale::Us) {
            entry.2.push((m.food, Spread::exact(Mass::grams(grams))));
        }
    }
    Ok(formulas.into_values().collect())
}

/// Right first guesses, right in the first two, and all; by style.
fn scores(larder: &Larder) -> Result<BTreeMap<String, [usize; 3]>, Box<dyn std::error::Error>> {
    let mut scores: BTreeMap<String, [usize; 3]> = BTreeMap::new();
    for (_, key, foods) in published(larder)? {
        let balance = Balance::of(&foods, larder);
        let guess = style::guess(&balance.ratios(), "", "");
        let s = scores.entry(key.clone()).or_default();
        s[0] += usize::from(guess.style.key() == key);
        s[1] += usize::from(guess.style.key() == key || guess.next.key() == key);
        s[2] += 1;
    }
    Ok(scores)
}

/// Of the guesses as sure as that, from and below: how many are right, and how many there are.
const BANDS: [(f64, f64); 4] = [(0.0, 0.3), (0.3, 0.6), (0.6, 0.9), (0.9, 1.01)];

/// Right guesses and all, by how sure they are.
fn by_sureness(larder: &Larder) -> Result<[[usize; 2]; 4], Box<dyn std::error::Error>> {
    let mut bands = [[0; 2]; 4];
    for (_, key, foods) in published(larder)? {
        let guess = style::guess(&Balance::of(&foods, larder).ratios(), "", "");
        let within = |b: &(f64, f64)| (b.0..b.1).contains(&guess.confidence);
        let Some(at) = BANDS.iter().position(within) else {
            continue;
        };
        bands[at][0] += usize::from(guess.style.key() == key);
        bands[at][1] += 1;
    }
    Ok(bands)
}

/// Prints the scores by style.
pub fn run(words: &[&str]) -> Result<(), Box<dyn std::error::Error>> {
    if !words.is_empty() {
        return Err("styles takes nothing more".into());
    }
    let larder = Larder::built_in()?;
    let scores = scores(&larder)?;
    println!("style told from ratios alone, published formulas\n");
    println!(
        "{:<20} {:>5} {:>10} {:>10}",
        "style", "n", "first", "first two"
    );
    let mut sum = [0; 3];
    for (key, s) in &scores {
        println!("{key:<20} {:>5} {:>10} {:>10}", s[2], s[0], s[1]);
        (0..3).for_each(|i| sum[i] += s[i]);
    }
    println!("{:<20} {:>5} {:>10} {:>10}", "all", sum[2], sum[0], sum[1]);
    println!("\nby how sure the guess is\n");
    println!("{:<20} {:>5} {:>10}", "sure", "n", "first");
    for ((from, to), [right, all]) in BANDS.iter().zip(by_sureness(&larder)?) {
        let band = format!("{:.0}–{:.0} %", 100.0 * from, (100.0 * to).min(100.0));
        println!("{band:<20} {all:>5} {right:>10}");
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ratios alone, on formulas this project did not write; words make it surer in use. Most
    /// misses are breads given without their yeast, flatbreads (bread but for the word), and
    /// gluten-free doughs wetter than any wheat one.
    #[test]
    fn most_styles_are_told_from_ratios() {
        let larder = Larder::built_in().expect("the built-in tables");
        let scores = scores(&larder).expect("the published formulas");
        let sum = |i: usize| scores.values().map(|s| s[i]).sum::<usize>() as f64;
        assert!(
            sum(0) / sum(2) >= 0.65,
            "first guess right in {} of {}",
            sum(0),
            sum(2)
        );
        assert!(
            sum(1) / sum(2) >= 0.83,
            "right in the first two in {} of {}",
            sum(1),
            sum(2)
        );
    }
}
