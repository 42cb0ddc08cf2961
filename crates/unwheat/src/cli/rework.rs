//! `unwheat rework`.

use super::{Failure, Input, json};
use crate::show;
use clap::Args;
use larder::Larder;
use larder::allergen::Regime;
use quantity::Locale;
use recipe::LeftOut;
use recipe::rework::{Change, Hold, Options, PinnedLine, ReworkedComponent, blend, style::Style};
use std::path::PathBuf;

/// Make the gluten-free version: amounts, changes, method notes
#[derive(Debug, Args)]
#[command(
    after_help = "Examples:\n  unwheat rework examples/apricot-almond-buns.txt\n  unwheat rework my.txt --style dough=enriched_dough --blend rice_free --card out.html\n  unwheat rework examples/apricot-almond-buns.txt --hold dough/whole_milk=310\n  unwheat rework examples/sunday-pancakes.txt --hold hydration=150%\n  unwheat rework examples/apricot-almond-buns.txt --why dough/water\n  unwheat rework examples/sunday-pancakes.txt --without dairy,egg"
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
    /// Hold a figure and solve the rest around it: COMPONENT/LINE=FIGURE, or LINE=FIGURE for the
    /// only component, or the one without a name. LINE is the key or the name shown, or hydration
    /// or binder; FIGURE is grams (310), percent of the flour (4%), a count (2 eggs) or none; may
    /// be repeated
    #[arg(long, value_name = "COMPONENT/LINE=FIGURE")]
    hold: Vec<String>,
    /// Print only why a line or figure is what it is: rule, range, source and arithmetic;
    /// COMPONENT/WHAT, or WHAT in every component; WHAT is a line, hydration, or what a change is
    /// about, such as oven
    #[arg(long, value_name = "WHAT", conflicts_with = "json")]
    why: Option<String>,
    /// Leave out as well: dairy, egg, tree_nuts, peanut, soy, corn, rice, nightshade, gum,
    /// psyllium, oats, refined_sugar, yeast; commas between them
    #[arg(long, value_name = "WHAT,WHAT", value_delimiter = ',')]
    without: Vec<String>,
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
        if !flour && !gluten && options.left_out.is_empty() {
            return Err(Failure::Other {
                path: self.input.name(),
                what: "line 1, column 1: no flour and nothing else with gluten was found, so there is nothing to rework\n  check the lines with 'unwheat read'; screen it with 'unwheat screen'".to_owned(),
            });
        }
        let mut rework = recipe::rework::rework(formula, larder, &options);
        if !self.hold.is_empty() {
            options.pins = self
                .hold
                .iter()
                .map(|h| held(h, &rework, larder, self.input.locale))
                .collect();
            if let Err(error) = options.check() {
                usage(error.to_string());
            }
            rework = recipe::rework::rework(rework.formula, larder, &options);
            if let Some(clash) = rework.clashes().next() {
                usage(clash.to_string());
            }
        }
        if let Some(what) = &self.why {
            return Ok(why(what, &rework, larder));
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
            left_out: self.left_out(),
            ..Options::default()
        }
    }

    fn left_out(&self) -> Vec<LeftOut> {
        let read = |word: &String| {
            LeftOut::from_word(word).unwrap_or_else(|| {
                usage(format!(
                    "'{}' is nothing that can be left out here: write {}",
                    word.trim(),
                    LeftOut::ALL.map(LeftOut::word).join(", ")
                ))
            })
        };
        self.without.iter().map(read).collect()
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

/// A figure to hold, as given: `dough/whole milk=310`, `dough/egg=2 eggs`.
fn held(
    given: &str,
    rework: &recipe::rework::Rework,
    larder: &Larder,
    locale: Locale,
) -> PinnedLine {
    let Some((line, figure)) = given.rsplit_once('=') else {
        usage(format!(
            "'{given}' holds nothing: write COMPONENT/LINE=FIGURE, as in dough/whole_milk=310, dough/psyllium_powder=4% or dough/egg=none"
        ));
    };
    let all = &rework.components;
    let (part, line) = match placed(line, all) {
        (Some(part), line) => (part, line),
        (None, line) => match (all.as_slice(), all.iter().find(|c| c.name.is_empty())) {
            ([one], _) | (_, Some(one)) => (one, line),
            _ => {
                let names: Vec<&str> = all.iter().map(|c| c.name.as_str()).collect();
                usage(format!(
                    "'{given}' names no component: write COMPONENT/LINE=FIGURE; this recipe has {}",
                    list(&names)
                ))
            }
        },
    };
    let key = part
        .named(line, larder)
        .unwrap_or_else(|e| usage(e.to_string()));
    let hold = Hold::parse(figure, &key, larder, locale)
        .unwrap_or_else(|e| usage(format!("--hold {given}: {e}")));
    PinnedLine {
        component: part.name.clone(),
        line: key,
        hold,
    }
}

/// The component that words begin with, `dough/egg`, and the rest of them.
fn placed<'a, 'w>(
    words: &'w str,
    all: &'a [ReworkedComponent],
) -> (Option<&'a ReworkedComponent>, &'w str) {
    let named = |part: &str| all.iter().find(|c| c.name == part);
    match words.split_once('/') {
        Some((part, rest)) if all.len() > 1 || named(part.trim()).is_some() => {
            let part = part.trim().to_lowercase();
            match named(&part) {
                Some(c) => (Some(c), rest.trim()),
                None => {
                    let names: Vec<&str> = all.iter().map(|c| c.name.as_str()).collect();
                    usage(format!(
                        "no component is called '{part}': this recipe has {}",
                        list(&names)
                    ))
                }
            }
        }
        _ => (None, words.trim()),
    }
}

/// Why a line or figure is what it is, in one component or in all.
fn why(words: &str, rework: &recipe::rework::Rework, larder: &Larder) -> String {
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
        .map(|(name, changes)| show::text::why(name, what, changes, &style))
        .collect()
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
