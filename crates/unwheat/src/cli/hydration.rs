//! `unwheat hydration`: the way to check the model against any published formula.

use super::{Failure, json, read_bytes};
use crate::show;
use clap::Args;
use larder::{Certainty, Function, Larder};
use quantity::{Locale, Mass, Spread};
use recipe::rework::Balance;
use recipe::rework::hydration::{Part, expect};
use recipe::rework::style::Style;
use serde::{Deserialize, Serialize};
use std::path::PathBuf;

/// Check the hydration model against a gluten-free formula
#[derive(Debug, Args)]
#[command(
    after_help = "FILE.json: {\"style\": \"lean_bread\", \"ingredients\": [{\"ingredient\": \"white rice flour\", \"grams\": 300}, {\"ingredient\": \"water\", \"grams\": 320}]}\nThe liquids stand in the file, for the effective hydration; the expectation does not look at them.\n\nExample:\n  unwheat hydration examples/rice-loaf.json"
)]
pub struct Hydration {
    /// The formula as JSON; standard input without it, or for '-'
    file: Option<PathBuf>,
    /// Print JSON (docs/json.md) in place of words
    #[arg(long)]
    json: bool,
}

#[derive(Debug, Deserialize)]
struct Given {
    style: String,
    ingredients: Vec<GivenLine>,
}

#[derive(Debug, Deserialize)]
struct GivenLine {
    ingredient: String,
    grams: f64,
}

/// What is said of a formula.
#[derive(Debug, Serialize)]
struct Found {
    style: &'static str,
    flour_phase_g: f64,
    effective_hydration_percent: f64,
    expected_hydration_percent: show::json::Three,
    starch_share_percent: f64,
    binders: Vec<show::json::Binder>,
    absorption_g_per_g: f64,
    basis: &'static str,
    formulas: usize,
    pairs: usize,
    thin_evidence: bool,
    doubts: Vec<String>,
}

impl Hydration {
    pub fn run(self, larder: &Larder) -> Result<String, Failure> {
        let path = self
            .file
            .as_ref()
            .map_or("standard input".to_owned(), |p| p.display().to_string());
        let bytes = read_bytes(self.file.as_ref()).map_err(|error| Failure::File {
            path: path.clone(),
            error,
        })?;
        let other = |what: String| Failure::Other {
            path: path.clone(),
            what,
        };
        let given: Given = serde_json::from_slice(&bytes).map_err(|e| {
            other(format!(
                "line {}, column {}: {e}\n  write {{\"style\": \"lean_bread\", \"ingredients\": [{{\"ingredient\": \"white rice flour\", \"grams\": 300}}]}}",
                e.line(),
                e.column()
            ))
        })?;
        let found = found(&given, larder).map_err(other)?;
        Ok(if self.json {
            json(&found)
        } else {
            words(&found)
        })
    }
}

fn found(given: &Given, larder: &Larder) -> Result<Found, String> {
    let Some(style) = Style::from_key(&given.style) else {
        let keys: Vec<&str> = Style::all().map(Style::key).collect();
        return Err(format!(
            "no style is called '{}'\n  the styles are {}",
            given.style,
            keys.join(", ")
        ));
    };
    let mut lines = Vec::new();
    let mut doubts = Vec::new();
    for (i, line) in given.ingredients.iter().enumerate() {
        let n = i + 1;
        if !line.grams.is_finite() || line.grams < 0.0 || line.grams > 1e7 {
            return Err(format!(
                "ingredient {n}, '{}': {} g is no weight\n  write grams of 0 or more",
                line.ingredient, line.grams
            ));
        }
        let by_key = larder.by_key(&line.ingredient);
        let found = by_key.map(|f| (f, Certainty::Sure)).or_else(|| {
            larder
                .find(&line.ingredient, Locale::Us)
                .map(|m| (m.food, m.certainty))
        });
        match found {
            Some((food, certainty)) => {
                if certainty != Certainty::Sure {
                    doubts.push(format!(
                        "'{}' was read as {}",
                        line.ingredient,
                        larder.food(food).name
                    ));
                }
                if larder.composition(food).water.is_none() {
                    doubts.push(format!(
                        "the water in {} is not known: counted as none",
                        larder.food(food).name
                    ));
                }
                lines.push((food, Spread::exact(Mass::grams(line.grams))));
            }
            None => doubts.push(format!(
                "'{}' is not in the larder: left out",
                line.ingredient
            )),
        }
    }
    let balance = Balance::of(&lines, larder);
    let flour = balance.flour.likely().as_grams();
    if flour <= 0.0 {
        return Err("no flour or starch among the ingredients\n  hydration is measured on flours and starches together: add its flours".to_owned());
    }
    let mut flours = Vec::new();
    let mut binders = Vec::new();
    for (food, g) in &lines {
        let is = larder.food(*food);
        let listed = larder.absorption(*food).map(|a| a.water.likely().get());
        let percent = 100.0 * g.likely().as_grams() / flour;
        if is.is_flour_phase() {
            flours.push(Part {
                key: &is.key,
                percent,
                absorption: listed.unwrap_or(0.8),
            });
        } else if is.function() == Function::Binder {
            binders.push(Part {
                key: &is.key,
                percent,
                absorption: listed.unwrap_or(0.0),
            });
        }
    }
    let expected = expect(style.key(), &flours, &binders, None).map_err(|e| e.to_string())?;
    use recipe::rework::hydration::Basis;
    Ok(Found {
        style: style.key(),
        flour_phase_g: flour,
        effective_hydration_percent: balance.hydration.map_or(0.0, |h| h.likely().get()),
        expected_hydration_percent: show::json::Three {
            low: expected.hydration.low,
            likely: expected.hydration.likely,
            high: expected.hydration.high,
        },
        starch_share_percent: balance.starch_share,
        binders: show::json::binders(&balance, larder),
        absorption_g_per_g: expected.absorption,
        basis: match expected.basis {
            Basis::Borrowed => {
                "no published formula of this style: moved over from other yeast doughs"
            }
            Basis::StyleAndFlours => {
                "published formulas of the style, moved with what these flours and binders take up"
            }
            _ => "published formulas of the style; they show no steady effect of the flours",
        },
        formulas: expected.formulas,
        pairs: expected.pairs,
        thin_evidence: recipe::evidence::is_thin(expected.formulas),
        doubts,
    })
}

fn words(f: &Found) -> String {
    let e = &f.expected_hydration_percent;
    let mut out = format!(
        "flours and starches    {:.0} g ({:.0} % starch ingredients)\neffective hydration    {:.0} %\nexpected hydration     {:.0} % (nine of ten: {:.0}–{:.0} %)\n",
        f.flour_phase_g,
        f.starch_share_percent,
        f.effective_hydration_percent,
        e.likely,
        e.low,
        e.high
    );
    out.push_str(&show::paragraph(
        "rests on               ",
        &format!(
            "{}. {}",
            recipe::evidence::behind(f.formulas, f.pairs),
            f.basis
        ),
    ));
    for d in &f.doubts {
        out.push_str(&show::paragraph("  ? ", d));
    }
    out
}
