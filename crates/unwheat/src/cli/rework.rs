//! `unwheat rework`.

use super::choices::{Choices, placed, usage};
use super::{Failure, Input, json};
use crate::show;
use clap::Args;
use larder::Larder;
use larder::allergen::Regime;
use recipe::rework::{Change, ReworkedComponent};
use std::path::PathBuf;

/// Make the gluten-free version: amounts, changes, method notes
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  unwheat rework examples/apricot-almond-buns.txt\n  unwheat rework my.txt --style dough=enriched_dough --blend rice_free --card out.html\n  unwheat rework examples/apricot-almond-buns.txt --hold dough/whole_milk=310\n  unwheat rework examples/sunday-pancakes.txt --hold hydration=150%\n  unwheat rework examples/apricot-almond-buns.txt --why dough/water\n  unwheat rework examples/sunday-pancakes.txt --without dairy,egg"
)]
pub struct Rework {
    #[command(flatten)]
    input: Input,
    #[command(flatten)]
    choices: Choices,
    /// Print only why a line or figure is what it is: rule, range, source and arithmetic;
    /// COMPONENT/WHAT, or WHAT in every component; WHAT is a line, hydration, or what a change is
    /// about, such as oven
    #[arg(long, value_name = "WHAT", conflicts_with = "json")]
    why: Option<String>,
    /// Write a page for printing, with machine-readable data in it
    #[arg(long, value_name = "FILE.html")]
    card: Option<PathBuf>,
    /// Whose allergen rules the card follows: us, eu, ca or anz; by locale when left out
    #[arg(long, value_name = "REGIME")]
    regime: Option<String>,
}

impl Rework {
    pub fn run(self, larder: Larder) -> Result<String, Failure> {
        let larder = &larder.in_words_of(self.input.locale);
        let regime = self.regime();
        let rework = self.choices.rework(&self.input, larder, false)?;
        if let Some(what) = &self.why {
            return Ok(why(what, &rework, larder, self.input.locale));
        }
        let screening = rework.screen(larder);
        if let Some(path) = &self.card {
            let options = card::CardOptions {
                locale: self.input.locale,
                regime,
                ..card::CardOptions::default()
            };
            let page = card::html(&rework, &screening, larder, &options);
            let shown = path.display().to_string();
            std::fs::write(path, page).map_err(|error| match error.kind() {
                std::io::ErrorKind::NotFound => Failure::Other {
                    path: shown,
                    what: "there is no such folder to write into\n  make the folder first, or give another path".to_owned(),
                },
                _ => Failure::File { path: shown, error },
            })?;
        }
        let before = recipe::screen::screen(&rework.formula, larder, None);
        Ok(if self.input.json {
            json(&show::json::rework(
                &rework,
                &before,
                &screening,
                larder,
                self.input.locale,
            ))
        } else {
            let mut text = show::text::rework(
                &rework,
                &before,
                &screening,
                larder,
                self.input.locale,
                &show::Style::of_terminal(),
            );
            if let Some(path) = &self.card {
                text.push_str(&format!("\nThe card is in {}.\n", path.display()));
            }
            text
        })
    }

    fn regime(&self) -> Regime {
        match &self.regime {
            Some(word) if word == "uk" => Regime::Eu,
            Some(word) if word == "au" => Regime::Anz,
            Some(word) => Regime::from_word(word)
                .unwrap_or_else(|| usage(format!("no regime '{word}': write us, eu, ca or anz"))),
            None => Regime::usual(self.input.locale),
        }
    }
}

/// Why a line or figure is what it is, in one component or in all.
fn why(
    words: &str,
    rework: &recipe::rework::Rework,
    larder: &Larder,
    locale: quantity::Locale,
) -> String {
    let (part, what) = placed(words, &rework.components);
    let parts: Vec<&ReworkedComponent> = match part {
        Some(part) => vec![part],
        None => rework.components.iter().collect(),
    };
    let mut found: Vec<(&str, Vec<&Change>)> = Vec::new();
    let mut refused = None;
    for c in parts {
        match c.whys(what, larder) {
            Ok(changes) => found.push((&c.name, changes)),
            Err(e) => refused = refused.or(Some(e)),
        }
    }
    if let (true, Some(e)) = (found.is_empty(), refused) {
        usage(e.to_string());
    }
    if found.iter().any(|f| !f.1.is_empty()) {
        found.retain(|f| !f.1.is_empty());
    }
    let style = show::Style::of_terminal();
    found
        .iter()
        .map(|(name, changes)| show::text::why(name, what, changes, locale, &style))
        .collect()
}
