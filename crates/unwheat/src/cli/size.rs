//! `unwheat size`.

use super::choices::{Choices, usage};
use super::{Failure, Input, json};
use crate::show;
use clap::Args;
use larder::Larder;
use quantity::figure;
use recipe::household::{Drawer, Scale};
use recipe::size::{Ask, Have, Pans, PartSize, Pieces, SizeError, Target, size};

/// Size the gluten-free version: a factor, pieces, a pan, a sheet, what is at hand
#[derive(Debug, Args)]
#[command(
    after_help = "Give one figure; everything else follows from it. Pieces take a weight beside their number, a sheet a thickness, a pan the pan it was made in.\nNothing here replaces a probe in the middle of the bake.\n\nExamples:\n  unwheat size examples/apricot-almond-buns.txt --pieces 18\n  unwheat size examples/apricot-almond-buns.txt --pieces 12 --each 90g\n  unwheat size examples/apricot-almond-buns.txt --enough 'crumb topping'\n  unwheat size examples/apricot-almond-buns.txt --sheet 40x30cm --thick 6mm\n  unwheat size examples/sunday-pancakes.txt --have '90 g butter' --have '3 eggs'\n  unwheat size examples/lemon-yoghurt-cake.txt --pan 'round 23x5 cm'\n  unwheat size examples/lemon-yoghurt-cake.txt --times 0.7 --whole-eggs\n  unwheat size --pans"
)]
pub struct Size {
    #[command(flatten)]
    input: Input,
    /// So many times the recipe
    #[arg(long, allow_hyphen_values = true, value_name = "NUMBER", value_parser = number)]
    times: Option<f64>,
    /// So many pieces, by the recipe's own count, or of the weight of --each
    #[arg(long, allow_hyphen_values = true, value_name = "NUMBER", value_parser = number)]
    pieces: Option<f64>,
    /// The weight of a piece on the bench: 60g, 2oz; alone: how many there are of it
    #[arg(long, allow_hyphen_values = true, value_name = "WEIGHT", value_parser = grams)]
    each: Option<f64>,
    /// The weight of --each is that out of the oven
    #[arg(long, requires = "each")]
    baked: bool,
    /// So many servings, by what the recipe says it serves
    #[arg(long, allow_hyphen_values = true, value_name = "NUMBER", value_parser = number)]
    servings: Option<f64>,
    /// So much dough or batter, or of --part: 900g, 2lb
    #[arg(long, allow_hyphen_values = true, value_name = "WEIGHT", value_parser = grams)]
    weight: Option<f64>,
    /// So much flour and starch: 400g
    #[arg(long, allow_hyphen_values = true, value_name = "WEIGHT", value_parser = grams)]
    flour: Option<f64>,
    /// For a pan, in place of that of the method and as full: a key of --pans, 'loaf 9x5', 'round 24x6
    /// cm', '2 x loaf 9x5', or your own by the water it holds: '1500 g water'
    #[arg(long, allow_hyphen_values = true, value_name = "PAN")]
    pan: Option<String>,
    /// The share of the pan to fill: 55%
    #[arg(long, allow_hyphen_values = true, value_name = "PERCENT", requires = "pan", value_parser = percent)]
    fill: Option<f64>,
    /// As full as suits the pan, whatever the method names
    #[arg(long, requires = "pan", conflicts_with_all = ["fill", "from_pan"])]
    full: bool,
    /// The pan that the recipe is made in; --pan is then the one it goes into
    #[arg(long, allow_hyphen_values = true, value_name = "PAN", requires = "pan")]
    from_pan: Option<String>,
    /// From pan to pan by the area: as deep as it was
    #[arg(long, requires = "from_pan")]
    keep_depth: bool,
    /// A sheet to roll out: 40x30cm
    #[arg(
        long,
        allow_hyphen_values = true,
        value_name = "LENGTHxWIDTH",
        requires = "thick"
    )]
    sheet: Option<String>,
    /// How thick the sheet is: 5mm
    #[arg(
        long,
        allow_hyphen_values = true,
        value_name = "LENGTH",
        requires = "sheet"
    )]
    thick: Option<String>,
    /// What there is of something: '210 g butter', '3 eggs'; may be repeated
    #[arg(long, allow_hyphen_values = true, value_name = "AMOUNT")]
    have: Vec<String>,
    /// The component that the figure is of; the main dough or batter when left out
    #[arg(long, value_name = "COMPONENT")]
    part: Option<String>,
    /// Only that component, with exactly enough of what goes into it
    #[arg(long)]
    only: bool,
    /// Exactly as much of a component as the others use; may be repeated
    #[arg(long, value_name = "COMPONENT")]
    enough: Vec<String>,
    /// A component in an amount of its own: COMPONENT=TIMES; may be repeated
    #[arg(long, value_name = "COMPONENT=TIMES")]
    of: Vec<String>,
    /// Move to the nearest size that takes whole eggs
    #[arg(long)]
    whole_eggs: bool,
    /// The step of the scale in grams: 0.1, 1, 2 or 5
    #[arg(long, allow_hyphen_values = true, value_name = "GRAMS", default_value_t = 1.0, value_parser = scale_step)]
    scale: f64,
    /// List the pans
    #[arg(long)]
    pans: bool,
    #[command(flatten)]
    choices: Choices,
}

fn number(given: &str) -> Result<f64, String> {
    figure(given).ok_or_else(|| format!("'{given}' is no number: write one such as 12, 1.5 or 1/2"))
}

/// A weight in grams.
fn grams(given: &str) -> Result<f64, String> {
    let grams = quantity::typed::mass(given).map(quantity::Mass::as_grams);
    grams.ok_or_else(|| format!("'{given}' is no weight: write one such as 60g, 1.5kg, 2oz or 1lb"))
}

fn percent(given: &str) -> Result<f64, String> {
    let plain = given.trim().trim_end_matches('%').trim_end();
    figure(plain)
        .map(|v| v / 100.0)
        .ok_or_else(|| format!("'{given}' is no percentage: write one such as 55%"))
}

fn scale_step(given: &str) -> Result<f64, String> {
    match figure(given.trim().trim_end_matches('g').trim_end()) {
        Some(step) if (0.01..=50.0).contains(&step) && is_a_step(step) => Ok(step),
        _ => Err(format!(
            "'{given}' is no step of a scale: write 1, 2 or 5 g, a tenth or ten times that, from 0.01 to 50"
        )),
    }
}

/// Whether a scale's digits can go up by so much: by 1, 2 or 5 of some place.
fn is_a_step(grams: f64) -> bool {
    let of_place = grams / 10_f64.powf(grams.log10().floor());
    [1.0, 2.0, 5.0, 10.0]
        .iter()
        .any(|n| (of_place - n).abs() < 1e-6)
}

fn or_usage<T, E: std::fmt::Display>(found: Result<T, E>) -> T {
    found.unwrap_or_else(|e| usage(e.to_string()))
}

impl Size {
    pub fn run(self, larder: Larder) -> Result<String, Failure> {
        if self.pans {
            return Ok(if self.input.json {
                json(&show::json::pans())
            } else {
                show::size::pans()
            });
        }
        let larder = &larder.in_words_of(self.input.locale);
        let ask = self.ask(larder);
        let rework = self.choices.rework(&self.input, larder, true)?;
        let batch = or_usage(size(&rework, &ask, larder));
        let scale = Scale {
            step: self.scale,
            ..Scale::default()
        };
        let drawer = Drawer::from(self.input.locale).beside(scale);
        let shown = show::size::Sized {
            rework: &rework,
            batch: &batch,
            larder,
            scale,
            drawer,
            locale: self.input.locale,
        };
        Ok(if self.input.json {
            json(&show::json::size(&shown))
        } else {
            show::size::size(&shown, &show::Style::of_terminal())
        })
    }

    /// The one figure that is asked for.
    fn target(&self, larder: &Larder) -> Target {
        let mut found: Vec<Target> = Vec::new();
        found.extend(self.times.map(Target::Times));
        if self.pieces.is_some() || self.each.is_some() {
            found.push(Target::Pieces(Pieces {
                count: self.pieces,
                each: self.each,
                baked: self.baked,
            }));
        }
        found.extend(self.servings.map(Target::Servings));
        found.extend(self.weight.map(Target::Makes));
        found.extend(self.flour.map(Target::Flour));
        if let Some(pan) = &self.pan {
            let to = Pans {
                fill: self.fill,
                full: self.full,
                ..or_usage(Pans::read(pan, &[]))
            };
            found.push(match &self.from_pan {
                Some(from) => Target::FromPan {
                    from: or_usage(Pans::read(from, &[])),
                    to,
                    keep_depth: self.keep_depth,
                },
                None => Target::Pan(to),
            });
        }
        if let (Some(size), Some(thick)) = (&self.sheet, &self.thick) {
            found.push(or_usage(Target::sheet(size, thick)));
        }
        if !self.have.is_empty() {
            let list = self
                .have
                .iter()
                .map(|h| or_usage(Have::read(h, larder, self.input.locale)));
            found.push(Target::Have(list.collect()));
        }
        if found.len() > 1 {
            usage(
                "two figures are asked for: give one, everything else follows from it".to_owned(),
            );
        }
        found.pop().unwrap_or_default()
    }

    fn ask(&self, larder: &Larder) -> Ask {
        let mut ask = Ask {
            target: self.target(larder),
            part: self.part.clone(),
            only: self.only,
            whole_eggs: self.whole_eggs,
            ..Ask::default()
        };
        for name in &self.enough {
            ask.parts.insert(name.clone(), PartSize::Enough);
        }
        for given in &self.of {
            let size = given
                .rsplit_once('=')
                .and_then(|(name, times)| Some((name.trim(), figure(times.trim())?)));
            let Some((name, times)) = size else {
                usage(format!(
                    "'{given}' is no amount of a component: write COMPONENT=TIMES, as in dough=1"
                ))
            };
            ask.parts.insert(name.to_owned(), PartSize::Times(times));
        }
        if let Err(e) = ask.check() {
            // What the recipe makes of it is said with the recipe's own figures.
            if !matches!(e, SizeError::NoPart { .. }) {
                usage(e.to_string());
            }
        }
        ask
    }
}
