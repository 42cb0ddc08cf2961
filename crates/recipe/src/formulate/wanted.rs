//! What is asked of a blend, in the words of a form or a command.

use super::ask::{Aim, Ask, Candidate, Wish, is_fibre, usual, whole_larder};
use crate::LeftOut;
use crate::rework::blend::{Blend, near};
use crate::rework::style::Style;
use larder::{FoodId, Larder};
use quantity::Mass;
use serde::{Deserialize, Serialize};
use std::error::Error;
use std::fmt;

/// What is asked, in words. Flours are named by key or by any name the larder knows.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Wanted {
    /// Come near the published formulas of this style: its key or name.
    pub style: String,
    /// Come near this blend or flour instead: a blend's key, or a flour.
    pub like: String,
    /// Flours at most; 4 where left out.
    pub flours: Option<usize>,
    /// What is left out: words of [`LeftOut`].
    pub left_out: Vec<String>,
    /// Flours that are not to be used.
    pub not: Vec<String>,
    /// Only these may be used.
    pub only: Vec<String>,
    /// These may be used too.
    pub also: Vec<String>,
    /// Choose from the whole larder, nut, soy, lupin and oat flours too.
    pub whole_larder: bool,
    /// Flours that must be used, with their least percent; 0 for their usual least.
    pub least: Vec<(String, f64)>,
    /// The greatest percent of flours.
    pub most: Vec<(String, f64)>,
    /// What there is of flours, g.
    pub stock: Vec<(String, f64)>,
    /// What a kilogram of flours costs; those of the larder hold where nothing is given.
    pub price: Vec<(String, f64)>,
    /// How much is to be mixed, g.
    pub batch: Option<f64>,
    /// Starch ingredients, least and most percent.
    pub starch: Option<(f64, f64)>,
    /// Flours of strong flavour together, percent at most.
    pub strong: Option<f64>,
    /// Cost of a kilogram at most.
    pub cost_at_most: Option<f64>,
    /// The cheapest no further from the aim than this, in place of the nearest.
    pub cheapest_within: Option<f64>,
}

/// Why the words cannot be understood.
#[derive(Debug, Clone, PartialEq)]
pub struct WantedError {
    /// Which field.
    pub field: &'static str,
    /// What is wrong with it and how to mend it.
    pub words: String,
}

impl fmt::Display for WantedError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.words)
    }
}

impl Error for WantedError {}

/// The flour that words name.
fn flour(larder: &Larder, field: &'static str, words: &str) -> Result<FoodId, WantedError> {
    let words = words.trim();
    let found = larder
        .by_key(words)
        .or_else(|| larder.find(words, larder.locale()).map(|m| m.food))
        .filter(|f| larder.food(*f).is_flour_phase() || is_fibre(*f, larder));
    found.ok_or_else(|| WantedError {
        field,
        words: match near(larder, words) {
            Some((_, name)) => {
                format!(
                    "no flour or starch of the larder is called '{words}': did you mean {name}?"
                )
            }
            None => format!("no flour or starch of the larder is called '{words}'"),
        },
    })
}

impl Wanted {
    /// The flour or starch that words name: a key, or any name the larder knows.
    ///
    /// # Errors
    /// [`WantedError`]: none is called so; the nearest name is given.
    pub fn flour(larder: &Larder, words: &str) -> Result<FoodId, WantedError> {
        flour(larder, "flour", words)
    }

    /// The question that the words ask.
    ///
    /// # Errors
    /// [`WantedError`]: a style, blend or flour that is not known, or nothing to come near to.
    ///
    /// # Example
    /// ```
    /// use recipe::formulate::{Wanted, formulate};
    /// let larder = larder::Larder::built_in()?;
    /// let wanted = Wanted {
    ///     style: "lean_bread".to_owned(),
    ///     left_out: vec!["corn".to_owned()],
    ///     ..Wanted::default()
    /// };
    /// let found = formulate(&wanted.ask(&larder, &[])?, &larder)?;
    /// assert_eq!(found.blends.len(), 3);
    /// assert!(Wanted::default().ask(&larder, &[]).is_err());
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    pub fn ask(&self, larder: &Larder, blends: &[Blend]) -> Result<Ask, WantedError> {
        let mut ask = Ask::new(self.aim(larder, blends)?, larder);
        ask.most = self.flours.unwrap_or(ask.most);
        ask.candidates = self.candidates(larder)?;
        if let Aim::Blend(parts) = &ask.aim {
            // What is rebuilt may go on as it is.
            for (food, percent) in parts.clone() {
                match ask.candidates.iter_mut().find(|c| c.food == food) {
                    Some(c) => {
                        c.low = c.low.min(percent);
                        c.high = c.high.max(percent);
                    }
                    None if self.only.is_empty() => ask.candidates.extend(candidate(food, larder)),
                    None => {}
                }
            }
        }
        for word in &self.left_out {
            ask.left_out.push(LeftOut::from_word(word).ok_or_else(|| {
                let all: Vec<&str> = LeftOut::ALL.iter().map(|l| l.word()).collect();
                WantedError {
                    field: "left_out",
                    words: format!(
                        "'{word}' is nothing that can be left out: give {}",
                        all.join(", ")
                    ),
                }
            })?);
        }
        for words in &self.not {
            let food = flour(larder, "not", words)?;
            ask.candidates.retain(|c| c.food != food);
        }
        let mut set = |field, list: &[(String, f64)], put: &dyn Fn(&mut Candidate, f64)| {
            for (words, value) in list {
                let food = flour(larder, field, words)?;
                let at = match ask.candidates.iter().position(|c| c.food == food) {
                    Some(at) => at,
                    // A price or a stock of a flour that may not be used says nothing.
                    None if matches!(field, "price" | "stock" | "most") => continue,
                    None => {
                        return Err(WantedError {
                            field,
                            words: format!(
                                "{} is to be used and is not among the flours to choose from: give one of the two up",
                                larder.food(food).name
                            ),
                        });
                    }
                };
                put(&mut ask.candidates[at], *value);
            }
            Ok(())
        };
        set("least", &self.least, &|c, percent| {
            c.must = true;
            if percent > 0.0 {
                c.low = percent;
                c.high = c.high.max(percent);
            }
        })?;
        set("most", &self.most, &|c, percent| {
            c.high = percent;
            if !c.must {
                c.low = c.low.min(percent);
            }
        })?;
        set("stock", &self.stock, &|c, grams| {
            c.stock = Some(Mass::grams(grams));
        })?;
        set("price", &self.price, &|c, price| {
            c.price_per_kg = Some(price)
        })?;
        if self.batch.is_some() || !self.stock.is_empty() {
            // Of a flour that runs short there may be less than its usual least.
            ask.batch = self.batch.map(Mass::grams);
            for c in &mut ask.candidates {
                if let (Some(stock), Some(batch)) = (c.stock, self.batch)
                    && !c.must
                    && 100.0 * stock.as_grams() < c.low * batch
                {
                    c.low = 0.0;
                }
            }
        }
        ask.starch = self.starch.unwrap_or(ask.starch);
        ask.strong = self.strong.unwrap_or(ask.strong);
        ask.cost_at_most = self.cost_at_most;
        if let Some(within) = self.cheapest_within {
            ask.wish = Wish::Cheapest { within };
        }
        Ok(ask)
    }

    fn aim(&self, larder: &Larder, blends: &[Blend]) -> Result<Aim, WantedError> {
        let (style, like) = (self.style.trim(), self.like.trim());
        match (style.is_empty(), like.is_empty()) {
            (false, true) => Style::named(style).map(Aim::Style).ok_or_else(|| {
                let keys: Vec<&str> = Style::all().map(Style::key).collect();
                WantedError {
                    field: "style",
                    words: format!("no style is called '{style}': the styles are {}", keys.join(", ")),
                }
            }),
            (true, false) => {
                let same = |b: &&Blend| b.key == like || b.name.eq_ignore_ascii_case(like);
                if let Some(blend) = blends.iter().find(same) {
                    return Ok(Aim::Blend(blend.parts.clone()));
                }
                flour(larder, "like", like).map(Aim::Flour).map_err(|e| {
                    let keys: Vec<&str> = blends.iter().map(|b| b.key.as_ref()).collect();
                    WantedError {
                        words: format!("{}; no blend is called so either: the blends are {}", e.words, keys.join(", ")),
                        ..e
                    }
                })
            }
            (true, true) => Err(WantedError {
                field: "style",
                words: "nothing to come near to: give a style, or a blend or flour that it should be like".to_owned(),
            }),
            (false, false) => Err(WantedError {
                field: "like",
                words: format!("the blend cannot come near both the style '{style}' and '{like}': give one of them"),
            }),
        }
    }

    fn candidates(&self, larder: &Larder) -> Result<Vec<Candidate>, WantedError> {
        let mut out = if !self.only.is_empty() {
            Vec::new()
        } else if self.whole_larder {
            whole_larder(larder)
        } else {
            usual(larder)
        };
        for (field, list) in [("only", &self.only), ("also", &self.also)] {
            for words in list {
                let food = flour(larder, field, words)?;
                if !out.iter().any(|c| c.food == food) {
                    out.extend(candidate(food, larder));
                }
            }
        }
        for (words, _) in &self.least {
            let food = flour(larder, "least", words)?;
            if self.only.is_empty() && !out.iter().any(|c| c.food == food) {
                out.extend(candidate(food, larder));
            }
        }
        for c in &mut out {
            c.price_per_kg = larder
                .price(c.food)
                .filter(|p| p.pack_grams > 0.0)
                .map(|p| 1000.0 * p.amount / p.pack_grams);
        }
        Ok(out)
    }
}

/// A flour that the baker names: within its usual shares, or any where none are known.
fn candidate(food: FoodId, larder: &Larder) -> Option<Candidate> {
    Candidate::of(food, larder).or(Some(Candidate {
        food,
        low: 0.0,
        high: 100.0,
        must: false,
        stock: None,
        price_per_kg: None,
    }))
}
