//! `unwheat rework`.

use super::{Failure, Input, json};
use crate::show;
use clap::Args;
use larder::Larder;
use larder::allergen::Regime;
use quantity::Mass;
use recipe::rework::{Kept, Options, PinnedLine, blend, style::Style};
use std::path::PathBuf;

/// Make the gluten-free version: amounts, changes, method notes
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  unwheat rework examples/apricot-almond-buns.txt\n  unwheat rework my.txt --style dough=enriched_dough --blend rice_free --card out.html\n  unwheat rework examples/apricot-almond-buns.txt --hold dough/whole_milk=310"
)]
pub struct Rework {
    #[command(flatten)]
    input: Input,
    /// Say a component's style: COMPONENT=KEY, or KEY alone for all of them; may be repeated
    #[arg(long, value_name = "COMPONENT=KEY")]
    style: Vec<String>,
    /// Use a house blend: COMPONENT=KEY, or KEY alone for all of them; may be repeated
    #[arg(long, value_name = "COMPONENT=KEY")]
    blend: Vec<String>,
    /// Hold a line at a weight and solve the rest around it: COMPONENT/LINE=GRAMS, or
    /// LINE=GRAMS for the only component, or the one without a name; LINE is the key or the name shown; may be repeated
    #[arg(long, value_name = "COMPONENT/LINE=GRAMS")]
    hold: Vec<String>,
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
    pub fn run(self, larder: Larder) -> Result<String, Failure> {
        let larder = &larder.in_words_of(self.input.locale);
        let mut options = self.options(larder);
        let regime = self.regime();
        let formula = self.input.formula(larder)?;
        let asked: Vec<String> = options
            .styles
            .iter()
            .map(|s| s.0.clone())
            .chain(options.blends.iter().map(|b| b.0.clone()))
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
        let mut rework = recipe::rework::rework(formula, larder, &options);
        if !self.hold.is_empty() {
            options.pins = self.hold.iter().map(|h| held(h, &rework)).collect();
            if let Err(error) = options.check() {
                usage(error.to_string());
            }
            rework = recipe::rework::rework(rework.formula, larder, &options);
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
        let house = blend::house(larder);
        let blends = self
            .blend
            .iter()
            .map(|given| {
                let (name, key) = given.split_once('=').unwrap_or(("", given));
                let key = key.trim();
                if !house.iter().any(|b| b.key == key) {
                    let keys: Vec<&str> = house.iter().map(|b| &*b.key).collect();
                    usage(format!(
                        "no house blend is called '{key}': the blends are {}",
                        keys.join(", ")
                    ));
                }
                (name.trim().to_lowercase(), key.to_owned())
            })
            .collect();
        Options {
            styles,
            blends,
            ..Options::default()
        }
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

/// A line to hold, as given: `dough/whole milk=310`.
fn held(given: &str, rework: &recipe::rework::Rework) -> PinnedLine {
    let Some((line, grams)) = given.rsplit_once('=') else {
        usage(format!(
            "'{given}' holds nothing: write COMPONENT/LINE=GRAMS, as in dough/whole_milk=310"
        ));
    };
    let number = grams.trim().trim_end_matches('g').trim_end();
    let Some(grams) = number.parse::<f64>().ok().filter(|g| g.is_finite()) else {
        usage(format!(
            "'{}' in '{given}' is no weight: write grams, as in 310 or 2.5",
            grams.trim()
        ));
    };
    let all = &rework.components;
    let names: Vec<&str> = all.iter().map(|c| c.name.as_str()).collect();
    let (part, line) = match line.split_once('/') {
        Some((part, line)) if all.len() > 1 || names.contains(&part.trim()) => {
            let part = part.trim().to_lowercase();
            match all.iter().find(|c| c.name == part) {
                Some(c) => (c, line.trim()),
                None => usage(format!(
                    "no component is called '{part}': this recipe has {}",
                    list(&names)
                )),
            }
        }
        _ => match (all.as_slice(), all.iter().find(|c| c.name.is_empty())) {
            ([one], _) | (_, Some(one)) => (one, line.trim()),
            _ => usage(format!(
                "'{given}' names no component: write COMPONENT/LINE=GRAMS; this recipe has {}",
                list(&names)
            )),
        },
    };
    let live = || part.lines.iter().filter(|l| l.kept != Kept::Dropped);
    let key = live().find(|l| l.key == line).or_else(|| {
        let words = line.to_lowercase();
        live().find(|l| l.name.to_lowercase() == words)
    });
    let Some(found) = key else {
        let lines: Vec<String> = live().map(|l| format!("{} ({})", l.key, l.name)).collect();
        usage(format!(
            "no line is called '{line}'{}: the lines are {}",
            if part.name.is_empty() {
                String::new()
            } else {
                format!(" in '{}'", part.name)
            },
            lines.join(", ")
        ));
    };
    PinnedLine {
        component: part.name.clone(),
        line: found.key.clone(),
        grams: Mass::grams(grams),
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
