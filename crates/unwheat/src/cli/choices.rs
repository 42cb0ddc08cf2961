//! What every command on the gluten-free version takes: the baker's choices for the rework.

use super::{Failure, Input};
use clap::Args;
use larder::Larder;
use quantity::{Locale, figure};
use recipe::LeftOut;
use recipe::rework::{Hold, Options, PinnedLine, Rework, ReworkedComponent, blend, style::Style};

/// Choices in place of the program's.
#[derive(Debug, Args)]
pub struct Choices {
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
    /// Leave out as well: dairy, egg, tree_nuts, peanut, soy, corn, rice, nightshade, gum,
    /// psyllium, oats, refined_sugar, yeast; commas between them
    #[arg(long, value_name = "WHAT,WHAT", value_delimiter = ',')]
    without: Vec<String>,
}

/// Wrong usage found after parsing: exit code 2, in the parser's own form.
pub fn usage(message: String) -> ! {
    clap::Error::raw(clap::error::ErrorKind::InvalidValue, format!("{message}\n")).exit()
}

/// How many times each of so many recipes is made: one number for all, or one for each.
pub fn times_of(words: &[String], recipes: usize) -> Vec<f64> {
    let read = |word: &String| {
        figure(word)
            .filter(|n| n.is_finite() && *n > 0.0 && *n <= 10_000.0)
            .unwrap_or_else(|| {
                usage(format!(
                    "--times '{}': write numbers above 0 and up to 10,000, such as 2 or 2,0.5",
                    word.trim()
                ))
            })
    };
    let all: Vec<f64> = words.iter().map(read).collect();
    match all.as_slice() {
        [one] => vec![*one; recipes],
        several if several.len() == recipes => several.to_vec(),
        several => usage(format!(
            "--times has {} numbers for {recipes} {}: write one for all, or one for each in their order",
            several.len(),
            if recipes == 1 { "recipe" } else { "recipes" },
        )),
    }
}

impl Choices {
    /// The gluten-free version by these choices.
    ///
    /// # Arguments
    /// * `any` — a recipe without flour or anything else with gluten is taken as it is.
    pub fn rework(&self, input: &Input, larder: &Larder, any: bool) -> Result<Rework, Failure> {
        let mut options = self.options(larder);
        let formula = input.formula(larder)?;
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
        if !any && !flour && !gluten && options.left_out.is_empty() {
            return Err(Failure::Other {
                path: input.name(),
                what: "line 1, column 1: no flour and nothing else with gluten was found, so there is nothing to rework\n  check the lines with 'unwheat read'; screen it with 'unwheat screen'".to_owned(),
            });
        }
        let mut rework = recipe::rework::rework(formula, larder, &options);
        if !self.hold.is_empty() {
            options.pins = self
                .hold
                .iter()
                .map(|h| held(h, &rework, larder, input.locale))
                .collect();
            if let Err(error) = options.check() {
                usage(error.to_string());
            }
            rework = recipe::rework::rework(rework.formula, larder, &options);
            if let Some(clash) = rework.clashes().next() {
                usage(clash.to_string());
            }
        }
        Ok(rework)
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
pub fn placed<'a, 'w>(
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
