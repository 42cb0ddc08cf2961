//! `unwheat rework`.

use super::{Failure, Input, json};
use crate::show;
use clap::Args;
use larder::Larder;
use larder::allergen::Regime;
use quantity::Locale;
use recipe::rework::{Options, blend, style::Style};
use std::path::PathBuf;

/// Make the gluten-free version: amounts, changes, method notes
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  unwheat rework examples/apricot-almond-buns.txt\n  unwheat rework my.txt --style dough=enriched_dough --blend rice_free --card out.html"
)]
pub struct Rework {
    #[command(flatten)]
    input: Input,
    /// Say a component's style: COMPONENT=KEY, or KEY alone for all of them; may be repeated
    #[arg(long, value_name = "COMPONENT=KEY")]
    style: Vec<String>,
    /// Use this house blend in every component
    #[arg(long, value_name = "KEY")]
    blend: Option<String>,
    /// Write a page for printing, with machine-readable data in it
    #[arg(long, value_name = "FILE.html")]
    card: Option<PathBuf>,
    /// Whose allergen rules the card follows: us, eu, ca or anz; by locale when left out
    #[arg(long, value_name = "REGIME")]
    regime: Option<String>,
}

/// Wrong usage found after parsing: exit code 2, in the parser's own form.
fn usage(message: String) -> ! {
    clap::Error::raw(clap::error::ErrorKind::InvalidValue, format!("{message}\n")).exit()
}

impl Rework {
    pub fn run(self, larder: &Larder) -> Result<String, Failure> {
        let options = self.options(larder);
        let regime = self.regime();
        let formula = self.input.formula(larder)?;
        let asked: Vec<String> = options
            .styles
            .iter()
            .map(|s| s.0.clone())
            .filter(|n| !n.is_empty())
            .collect();
        let names: Vec<&str> = formula.components.iter().map(|c| c.name.as_str()).collect();
        for name in asked {
            let known = names
                .iter()
                .any(|n| *n == name || n.contains(name.as_str()));
            if !known {
                usage(format!(
                    "no component is called '{name}': this recipe has {}",
                    list(&names)
                ));
            }
        }
        let flour = formula
            .components
            .iter()
            .any(|c| c.flour.likely().as_grams() > 0.0);
        let gluten = formula
            .components
            .iter()
            .flat_map(|c| &c.items)
            .filter_map(|w| w.food)
            .any(|f| larder.food(f).gluten == larder::Gluten::Contains);
        if !flour && !gluten {
            return Err(Failure::Other {
                path: self.input.name(),
                what: "line 1, column 1: no flour and nothing else with gluten was found, so there is nothing to rework\n  check the lines with 'unwheat read'; screen it with 'unwheat screen'".to_owned(),
            });
        }
        let rework = recipe::rework::rework(formula, larder, &options);
        let screening = rework.screen(larder);
        if let Some(path) = &self.card {
            let options = card::CardOptions {
                locale: self.input.locale,
                regime,
                today: None,
                writer: None,
                url: None,
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
        Ok(if self.input.json {
            json(&show::json::rework(
                &rework,
                &screening,
                larder,
                self.input.locale,
            ))
        } else {
            let mut text = show::text::rework(
                &rework,
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

    fn options(&self, larder: &Larder) -> Options {
        let keys: Vec<&str> = Style::all().map(Style::key).collect();
        let styles = self
            .style
            .iter()
            .map(|given| {
                let (name, key) = given.split_once('=').unwrap_or(("", given));
                match Style::named(key) {
                    Some(style) => (name.trim().to_lowercase(), style),
                    None => usage(format!(
                        "no style is called '{key}': the styles are {}",
                        keys.join(", ")
                    )),
                }
            })
            .collect();
        if let Some(key) = &self.blend {
            let blends = blend::house(larder);
            if !blends.iter().any(|b| b.key == *key) {
                let keys: Vec<&str> = blends.iter().map(|b| b.key).collect();
                usage(format!(
                    "no house blend is called '{key}': the blends are {}",
                    keys.join(", ")
                ));
            }
        }
        Options {
            styles,
            blend: self.blend.clone(),
        }
    }

    fn regime(&self) -> Regime {
        match &self.regime {
            Some(word) if word == "uk" => Regime::Eu,
            Some(word) if word == "au" => Regime::Anz,
            Some(word) => Regime::from_word(word)
                .unwrap_or_else(|| usage(format!("no regime '{word}': write us, eu, ca or anz"))),
            None => match self.input.locale {
                Locale::Us => Regime::Us,
                Locale::Uk => Regime::Eu,
                Locale::Au => Regime::Anz,
                Locale::Metric => Regime::Eu,
            },
        }
    }
}

fn list(names: &[&str]) -> String {
    let named: Vec<String> = names
        .iter()
        .filter(|n| !n.is_empty())
        .map(|n| format!("'{n}'"))
        .collect();
    if named.is_empty() {
        "one part without a name".to_owned()
    } else {
        named.join(", ")
    }
}
