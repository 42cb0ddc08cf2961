//! What goes wrong, in words that name both sides of a clash.

use super::ask::{Ask, Wish};
use super::makeup::Property;
use super::solve::{Answer, Formulated, Limit, Programme};
use larder::{FoodId, Larder};
use numeric::NumericError;
use numeric::mixture;
use std::error::Error;
use std::fmt;

/// Flours at most in one blend.
const MOST: usize = 8;

/// Why there is no blend.
#[derive(Debug, Clone, PartialEq)]
pub enum FormulateError {
    /// Limits that cannot hold together, each said in words.
    Clash {
        /// The limits.
        limits: Vec<String>,
        /// Those of them that are a figure of the ask's, so that a form finds its fields.
        on: Vec<Limit>,
        /// Flours that would do, where only their number is too small.
        most: Option<(usize, usize)>,
    },
    /// Nothing is left to mix: names and reasons.
    Nothing(Vec<(String, String)>),
    /// A flour that must be used cannot be: its name and why.
    Must(String, String),
    /// Something is not known of a flour that the aim is made of.
    Unknown(String, Property),
    /// A figure cannot be: what it is, what was given, what is meant.
    Figure(String, f64, &'static str),
    /// The aim is a blend of nothing.
    EmptyAim,
    /// The arithmetic failed; not the baker's doing.
    Arithmetic(NumericError),
}

impl From<NumericError> for FormulateError {
    fn from(error: NumericError) -> Self {
        Self::Arithmetic(error)
    }
}

impl fmt::Display for FormulateError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Clash {
                limits,
                most: Some((given, needed)),
                ..
            } => write!(
                f,
                "all limits cannot be kept with {given} flour{}, with {needed} they can: allow {needed}, or give one of these up: {}",
                if *given == 1 { "" } else { "s" },
                limits.join("; ")
            ),
            Self::Clash { limits, .. } => write!(
                f,
                "these cannot hold together: {}. Give one of them up",
                limits.join("; ")
            ),
            Self::Nothing(reasons) => {
                write!(f, "no flour is left to mix")?;
                for (name, why) in reasons.iter().take(6) {
                    write!(f, "; {name}: {why}")?;
                }
                if reasons.len() > 6 {
                    write!(f, "; and {} more", reasons.len() - 6)?;
                }
                Ok(())
            }
            Self::Must(name, why) => {
                write!(f, "{name} is to be used, but {why}: give one of the two up")
            }
            Self::Unknown(name, property) => write!(
                f,
                "the {} of {name} is not known: enter its label in the larder first",
                property.word()
            ),
            Self::Figure(what, found, expected) => {
                write!(f, "{what} is {found}: give {expected}")
            }
            Self::EmptyAim => write!(
                f,
                "the blend to come near to has no flour: give at least one with a share above 0"
            ),
            Self::Arithmetic(error) => write!(f, "the blend could not be worked out: {error}"),
        }
    }
}

impl Error for FormulateError {}

/// A figure of percent without a tail of zeros.
fn percent(value: f64) -> String {
    format!("{} %", (value * 10.0).round() / 10.0)
}

impl Limit {
    /// The limit in words.
    #[must_use]
    pub fn words(&self, larder: &Larder) -> String {
        match self {
            Self::Least(f, p) => format!("{} at least {}", larder.food(*f).name, percent(*p)),
            Self::Most(f, p) => format!("{} at most {}", larder.food(*f).name, percent(*p)),
            Self::Stock(f, grams, p) => format!(
                "{} at most {}, as there are {:.0} g of it",
                larder.food(*f).name,
                percent(*p),
                grams.as_grams()
            ),
            Self::StarchMost(p) => format!("starches at most {} together", percent(*p)),
            Self::StarchLeast(p) => format!("starches at least {} together", percent(*p)),
            Self::Strong(p) => format!("flours of strong flavour at most {} together", percent(*p)),
            Self::Cost(c) => format!("a kilogram at most {c:.2}"),
            Self::Within(d) => format!("no further than {d} from the aim"),
        }
    }
}

impl Formulated {
    /// Its percents in words, the fibres on top of the flours.
    #[must_use]
    pub fn words(&self, larder: &Larder) -> String {
        let name = |f: &FoodId| &larder.food(*f).name;
        let flours = self.parts.iter();
        let flours = flours.map(|(f, p)| format!("{} {p:.0} %", name(f)));
        let fibres = self.on_top.iter();
        let fibres = fibres.map(|(f, p)| format!("{} {p} % on top", name(f)));
        flours.chain(fibres).collect::<Vec<_>>().join(", ")
    }
}

impl Answer {
    /// The answer in words, beside the best blend.
    #[must_use]
    pub fn words(&self, best: &Formulated, larder: &Larder) -> String {
        match self {
            Self::Used {
                percent, without, ..
            } => match without {
                Some(b) => format!(
                    "it is {percent:.0} % of the best blend; without it the best lies {:.2} from the aim in place of {:.2}: {}",
                    b.distance,
                    best.distance,
                    b.words(larder)
                ),
                None => format!(
                    "it is {percent:.0} % of the best blend, and without it no blend keeps the limits"
                ),
            },
            Self::Barred(reason) => format!("not used: {reason}"),
            Self::Further { with, most } => format!(
                "the best blend with it lies {:.2} from the aim in place of {:.2}{}: {}",
                with.distance,
                best.distance,
                most.map_or(String::new(), |p| format!(", mostly by its {}", p.word())),
                with.words(larder)
            ),
            Self::Impossible(clash) => format!("not used: {clash}"),
        }
    }
}

/// Refuses figures that cannot be, before anything is worked out.
pub(super) fn check(ask: &Ask, larder: &Larder) -> Result<(), FormulateError> {
    let wrong = |what: &str, found: f64, expected| {
        Err(FormulateError::Figure(what.to_owned(), found, expected))
    };
    if !(1..=MOST).contains(&ask.most) {
        return wrong("the number of flours", ask.most as f64, "1 to 8");
    }
    let share = |what: &str, value: f64| {
        if (0.0..=100.0).contains(&value) {
            Ok(())
        } else {
            wrong(what, value, "0 to 100 %")
        }
    };
    share("the least starch", ask.starch.0)?;
    share("the most starch", ask.starch.1)?;
    if ask.starch.0 > ask.starch.1 {
        return Err(clash(
            vec![
                Limit::StarchLeast(ask.starch.0),
                Limit::StarchMost(ask.starch.1),
            ],
            &[],
            larder,
        ));
    }
    share("the share of strong flavours", ask.strong)?;
    if let super::Aim::Blend(parts) = &ask.aim
        && parts.iter().all(|p| p.1 <= 0.0)
    {
        return Err(FormulateError::EmptyAim);
    }
    match ask.wish {
        Wish::Cheapest { within } if !within.is_finite() || within <= 0.0 => {
            return wrong("the distance", within, "a number above 0");
        }
        _ => {}
    }
    if let Some(batch) = ask.batch
        && !(batch.as_grams() > 0.0 && batch.as_grams() <= 1e6)
    {
        return wrong("the batch", batch.as_grams(), "grams above 0");
    }
    for c in &ask.candidates {
        let name = &larder.food(c.food).name;
        share(&format!("the least share of {name}"), c.low)?;
        share(&format!("the greatest share of {name}"), c.high)?;
        if c.low > c.high {
            return Err(clash(
                vec![Limit::Least(c.food, c.low), Limit::Most(c.food, c.high)],
                &[],
                larder,
            ));
        }
        if let Some(stock) = c.stock
            && ask.batch.is_none()
        {
            return wrong(
                &format!("the stock of {name}"),
                stock.as_grams(),
                "the size of the batch too, or leave the stock away",
            );
        }
        if let Some(price) = c.price_per_kg
            && !(price.is_finite() && price >= 0.0)
        {
            return wrong(&format!("the price of {name}"), price, "0 or more");
        }
    }
    let must: Vec<_> = ask.candidates.iter().filter(|c| c.must).collect();
    let least: f64 = must.iter().map(|c| c.low).sum();
    if least > 100.0 {
        let limits = must.iter().map(|c| Limit::Least(c.food, c.low));
        return Err(clash(limits.collect(), &[WHOLE], larder));
    }
    if must.len() > ask.most {
        let limits = must
            .iter()
            .map(|c| format!("{} is to be used", larder.food(c.food).name));
        let on = must.iter().map(|c| Limit::Least(c.food, c.low));
        return Err(FormulateError::Clash {
            limits: limits.collect(),
            on: on.collect(),
            most: Some((ask.most, must.len())),
        });
    }
    Ok(())
}

/// What shares always keep.
const WHOLE: &str = "all shares make 100 %";

/// A clash of figures, and of what else it takes.
fn clash(on: Vec<Limit>, rest: &[&str], larder: &Larder) -> FormulateError {
    let words = on.iter().map(|l| l.words(larder));
    FormulateError::Clash {
        limits: words.chain(rest.iter().map(|r| (*r).to_owned())).collect(),
        on,
        most: None,
    }
}

impl Programme<'_> {
    /// What clashes where no blend was found.
    pub(super) fn clash(&self, must: &[usize]) -> Result<FormulateError, FormulateError> {
        let clash = self.mixture.clash(must)?;
        if !clash.is_empty() {
            let limits = clash.iter().map(|l| self.limit(*l)).collect();
            let only_shares = clash
                .iter()
                .all(|l| matches!(l, mixture::Limit::High(_) | mixture::Limit::Low(_)));
            let rest: &[&str] = if only_shares { &[WHOLE] } else { &[] };
            return Ok(self::clash(limits, rest, self.larder));
        }
        // With more flours it can be done: how many does it take?
        for needed in self.ask.most + 1..=MOST {
            let ask = mixture::Ask {
                most: needed,
                count: 1,
                apart: 1,
                must: must.to_vec(),
            };
            if !self.mixture.best(&ask)?.is_empty() {
                let mut on = self.caps.clone();
                if let Wish::Cheapest { within } = self.ask.wish {
                    on.push(Limit::Within(within));
                }
                let mut limits: Vec<String> = on.iter().map(|l| l.words(self.larder)).collect();
                limits.push("the greatest share of each flour".to_owned());
                return Ok(FormulateError::Clash {
                    limits,
                    on,
                    most: Some((self.ask.most, needed)),
                });
            }
        }
        Ok(FormulateError::Clash {
            on: Vec::new(),
            limits: vec![
                format!("at most {MOST} flours"),
                "the least share of each flour that is used".to_owned(),
                "the limits on starch, flavour and cost".to_owned(),
            ],
            most: None,
        })
    }
}
