//! `unwheat blend`.

use super::{Failure, json};
use crate::show;
use clap::Args;
use larder::allergen::Regime;
use larder::{FoodId, Larder};
use recipe::formulate::{
    Ask, Formulated, Outcome, Property, Wanted, Wish, formulate, is_fibre, why,
};
use recipe::rework::blend::house;
use serde::Serialize;
use std::fmt::Write;

/// Formulate a blend: the flours and shares that come closest to a style
#[derive(Debug, Args)]
#[command(
    after_help = "Flours are named as in the larder ('sorghum flour' or sorghum_flour); lists are parted by commas.\n\nExamples:\n  unwheat blend --style lean_bread\n  unwheat blend --style muffin --flours 3 --without corn,nightshade\n  unwheat blend --like bread --not 'millet flour' --batch 2000\n  unwheat blend --like bread --stock 'sorghum flour=150' --batch 2000\n  unwheat blend --style lean_bread --why 'sorghum flour'\n  unwheat blend --style rolled_cookie --only 'white rice flour,corn starch,tapioca starch,sorghum flour' --price 'white rice flour=3,corn starch=2.5,tapioca starch=6,sorghum flour=5' --cheapest-within 0.6"
)]
pub struct Blend {
    /// Come near the published gluten-free formulas of a style
    #[arg(long, value_name = "STYLE", default_value = "")]
    style: String,
    /// Come near a house blend or a flour instead, wheat flour too
    #[arg(long, value_name = "BLEND|FLOUR", default_value = "")]
    like: String,
    /// Flours and starches at most, 1 to 8
    #[arg(long, value_name = "N")]
    flours: Option<usize>,
    /// What must not be in it: dairy, tree_nuts, soy, corn, rice, nightshade, oats …
    #[arg(long, value_name = "LIST", value_delimiter = ',')]
    without: Vec<String>,
    /// Flours that are not to be used
    #[arg(long, value_name = "FLOURS", value_delimiter = ',')]
    not: Vec<String>,
    /// Choose from these alone
    #[arg(long, value_name = "FLOURS", value_delimiter = ',')]
    only: Vec<String>,
    /// Choose from these too, such as nut, soy or oat flours
    #[arg(long, value_name = "FLOURS", value_delimiter = ',')]
    also: Vec<String>,
    /// Choose from every flour and starch of the larder
    #[arg(long)]
    whole_larder: bool,
    /// Flours that must be used, with their least percent: FLOUR or FLOUR=20
    #[arg(long, value_name = "FLOUR=PERCENT", value_delimiter = ',')]
    least: Vec<String>,
    /// The greatest percent of a flour
    #[arg(long, value_name = "FLOUR=PERCENT", value_delimiter = ',')]
    most: Vec<String>,
    /// What there is of a flour, in grams; needs --batch
    #[arg(long, value_name = "FLOUR=GRAMS", value_delimiter = ',')]
    stock: Vec<String>,
    /// What a kilogram costs
    #[arg(long, value_name = "FLOUR=PRICE", value_delimiter = ',')]
    price: Vec<String>,
    /// How much to mix, in grams
    #[arg(long, value_name = "GRAMS")]
    batch: Option<f64>,
    /// Starch ingredients, least and most percent: 20-50
    #[arg(long, value_name = "LEAST-MOST")]
    starch: Option<String>,
    /// Flours of strong flavour together, percent at most
    #[arg(long, value_name = "PERCENT")]
    strong: Option<f64>,
    /// Cost of a kilogram at most
    #[arg(long, value_name = "PRICE")]
    cost_at_most: Option<f64>,
    /// The cheapest no further from the aim than this (1: a usual published blend's distance)
    #[arg(long, value_name = "DISTANCE")]
    cheapest_within: Option<f64>,
    /// Why is a flour in the best blend, or not?
    #[arg(long, value_name = "FLOUR")]
    why: Vec<String>,
    /// Print JSON (docs/json.md) in place of words
    #[arg(long)]
    json: bool,
}

fn other(what: String) -> Failure {
    Failure::Other {
        path: "blend".to_owned(),
        what,
    }
}

/// `FLOUR=NUMBER`, or FLOUR alone where a number can be left out.
fn pairs(option: &str, list: &[String], alone: Option<f64>) -> Result<Vec<(String, f64)>, Failure> {
    let one = |text: &String| {
        let (name, figure) = match (text.rsplit_once('='), alone) {
            (Some((name, figure)), _) => (name, figure.trim().parse().ok()),
            (None, alone) => (text.as_str(), alone),
        };
        let figure = figure.filter(|v: &f64| v.is_finite()).ok_or_else(|| {
            other(format!(
                "--{option}: '{text}' has no number\n  write FLOUR=NUMBER, such as 'sorghum flour=20'"
            ))
        })?;
        Ok((name.trim().to_owned(), figure))
    };
    list.iter().map(one).collect()
}

#[derive(Serialize)]
struct Part<'a> {
    key: &'a str,
    name: &'a str,
    percent: f64,
    on_top: bool,
    exact_percent: f64,
    grams: Option<f64>,
}

#[derive(Serialize)]
struct Has {
    property: &'static str,
    unit: &'static str,
    value: f64,
    aim: f64,
    spread: f64,
}

#[derive(Serialize)]
struct Binds {
    limit: String,
    gain_for_one_percent: f64,
}

#[derive(Serialize)]
struct Shown<'a> {
    parts: Vec<Part<'a>>,
    distance: f64,
    cost_per_kg: Option<f64>,
    make_up: Vec<Has>,
    binds: Vec<Binds>,
    contains: Vec<String>,
    check_the_label: Vec<&'a str>,
    buy_labelled_gluten_free: Vec<&'a str>,
}

#[derive(Serialize)]
struct Because {
    flour: String,
    why: String,
}

#[derive(Serialize)]
struct All<'a> {
    published_formulas: usize,
    blends: Vec<Shown<'a>>,
    why: Vec<Because>,
}

/// Flours and starches, then fibres on top.
fn mixed(b: &Formulated) -> impl Iterator<Item = &(FoodId, f64)> {
    b.parts.iter().chain(&b.on_top)
}

fn shown<'a>(b: &Formulated, out: &Outcome, ask: &Ask, larder: &'a Larder) -> Shown<'a> {
    let batch = ask.batch.map(quantity::Mass::as_grams);
    let exact = |food: FoodId| b.exact.iter().find(|p| p.0 == food).map_or(0.0, |p| p.1);
    let blend = b.blend();
    let screening = blend.screening(larder);
    let statement = screening.statement(Regime::Us);
    let labels = blend.labels(larder, &screening);
    let names = |of: &[FoodId]| of.iter().map(|f| larder.food(*f).name.as_str()).collect();
    Shown {
        parts: mixed(b)
            .map(|(f, percent)| Part {
                key: &larder.food(*f).key,
                name: &larder.food(*f).name,
                percent: *percent,
                on_top: is_fibre(*f, larder),
                exact_percent: (1e4 * exact(*f)).round() / 1e4,
                grams: batch.map(|g| (g * percent).round() / 100.0),
            })
            .collect(),
        distance: (1e4 * b.distance).round() / 1e4,
        cost_per_kg: b.cost_per_kg.map(|c| (100.0 * c).round() / 100.0),
        make_up: Property::ALL
            .iter()
            .map(|p| Has {
                property: p.word(),
                unit: p.unit(),
                value: (100.0 * b.makeup.get(*p)).round() / 100.0,
                aim: (100.0 * out.target.middle.get(*p)).round() / 100.0,
                spread: (100.0 * out.target.spread.get(*p)).round() / 100.0,
            })
            .collect(),
        binds: b
            .bounds
            .iter()
            .map(|x| Binds {
                limit: x.limit.words(larder),
                gain_for_one_percent: (1e4 * x.price).round() / 1e4,
            })
            .collect(),
        contains: statement.contains,
        check_the_label: names(&labels.check),
        buy_labelled_gluten_free: names(&labels.labelled),
    }
}

impl Blend {
    fn wanted(&self) -> Result<Wanted, Failure> {
        let starch = self.starch.as_ref().map(|text| {
            let ends = text.split_once('-');
            ends.and_then(|(a, b)| Some((a.trim().parse().ok()?, b.trim().parse().ok()?)))
                .ok_or_else(|| {
                    other(format!(
                        "--starch: '{text}' is no range\n  write the least and the most percent, such as 20-50"
                    ))
                })
        });
        Ok(Wanted {
            style: self.style.clone(),
            like: self.like.clone(),
            flours: self.flours,
            left_out: self.without.clone(),
            not: self.not.clone(),
            only: self.only.clone(),
            also: self.also.clone(),
            whole_larder: self.whole_larder,
            least: pairs("least", &self.least, Some(0.0))?,
            most: pairs("most", &self.most, None)?,
            stock: pairs("stock", &self.stock, None)?,
            price: pairs("price", &self.price, None)?,
            batch: self.batch,
            starch: starch.transpose()?,
            strong: self.strong,
            cost_at_most: self.cost_at_most,
            cheapest_within: self.cheapest_within,
        })
    }

    pub fn run(self, larder: &Larder) -> Result<String, Failure> {
        let wanted = self.wanted()?;
        let ask = wanted
            .ask(larder, &house(larder))
            .map_err(|e| other(e.words))?;
        let out = formulate(&ask, larder).map_err(|e| other(e.to_string()))?;
        let mut reasons = Vec::new();
        for words in &self.why {
            let food = Wanted::flour(larder, words).map_err(|e| other(e.words))?;
            let answer = why(food, &ask, larder).map_err(|e| other(e.to_string()))?;
            reasons.push(Because {
                flour: larder.food(food).name.clone(),
                why: answer.words(&out.blends[0], larder),
            });
        }
        let all = All {
            published_formulas: out.target.formulas,
            blends: out
                .blends
                .iter()
                .map(|b| shown(b, &out, &ask, larder))
                .collect(),
            why: reasons,
        };
        Ok(if self.json {
            json(&all)
        } else {
            words(&all, &ask)
        })
    }
}

fn words(all: &All<'_>, ask: &Ask) -> String {
    let mut out = String::new();
    for (i, b) in all.blends.iter().enumerate() {
        let which = if i == 0 { "best" } else { "other" };
        let cost = b
            .cost_per_kg
            .map_or(String::new(), |c| format!(", {c:.2} a kilogram"));
        // Writing to a string cannot fail.
        let _ = writeln!(out, "{which}: {:.2} from the aim{cost}", b.distance);
        for p in &b.parts {
            let grams = p.grams.map_or(String::new(), |g| format!("{g:>8.0} g"));
            let _ = writeln!(
                out,
                "  {:<32}{:>4} %{grams}{}",
                p.name,
                p.percent,
                if p.on_top { " on top" } else { "" }
            );
        }
        let has: Vec<String> = b
            .make_up
            .iter()
            .map(|h| match h.property {
                "flavour" => format!("flavour {:.1} ({:.1})", h.value, h.aim),
                "absorption" => format!("absorption {:.0} ({:.0})", h.value, h.aim),
                word => format!("{word} {:.1} ({:.1})", h.value, h.aim),
            })
            .collect();
        out.push_str(&show::paragraph("  in 100 g (aim): ", &has.join(", ")));
        let gain = match ask.wish {
            Wish::Nearest => "nearer",
            Wish::Cheapest { .. } => "cheaper a kilogram",
        };
        for x in &b.binds {
            let more = if x.gain_for_one_percent >= 0.001 {
                format!(
                    "{}; 1 % more room: {:.3} {gain}",
                    x.limit, x.gain_for_one_percent
                )
            } else {
                x.limit.clone()
            };
            out.push_str(&show::paragraph("  at its limit: ", &more));
        }
        let contains = match b.contains.as_slice() {
            [] => "no allergen of the US list by name; labels may say more".to_owned(),
            some => some.join(", "),
        };
        for (lead, list) in [
            ("  contains: ", contains),
            ("  check the label: ", b.check_the_label.join(", ")),
            (
                "  buy labelled gluten-free: ",
                b.buy_labelled_gluten_free.join(", "),
            ),
        ] {
            if !list.is_empty() {
                out.push_str(&show::paragraph(lead, &list));
            }
        }
        out.push('\n');
    }
    for b in &all.why {
        out.push_str(&show::paragraph(&format!("why {}: ", b.flour), &b.why));
    }
    out.push_str(&show::paragraph(
        "",
        &match all.published_formulas {
            0 => "Distance 1 is as far as a usual published gluten-free blend is from its style's middle. A starting point for a test bake.".to_owned(),
            n => format!(
                "The aim is the middle of {n} published gluten-free formulas; distance 1 is as far as a usual one of them is from it{}. A starting point for a test bake.",
                if recipe::evidence::is_thin(n) { " (thin evidence)" } else { "" }
            ),
        },
    ));
    out
}
