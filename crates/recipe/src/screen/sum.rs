//! The estimate of gluten in the finished food, and what leaves it without a bound.

use super::Entry;
use super::evidence::Known;
use super::ppm::{Portion, finished_ppm};
use larder::{Food, Gluten, PpmBasis};
use quantity::{Mass, Ratio, Spread};

/// Gluten of the finished food: an estimate with bounds, never a proof of anything.
#[derive(Debug, Clone, PartialEq)]
pub struct PpmFinding {
    /// Lowest, mg/kg.
    pub low: f64,
    /// Highest, as the lines are written; `None` where no upper bound can be given.
    pub high: Option<f64>,
    /// Low and high if everything left to check were bought labelled gluten-free, each at most
    /// 20 mg/kg; `None` where gluten is in it or something cannot be weighed.
    pub if_labelled: Option<(f64, f64)>,
    /// What the figures rest on.
    pub basis: String,
    /// What stands against a bound, a sentence each.
    pub unknown: Vec<String>,
}

impl PpmFinding {
    /// The estimate in words.
    #[must_use]
    pub fn words(&self) -> String {
        let figure = match (self.high, self.if_labelled) {
            (Some(h), _) => format!("estimate: {} to {} ppm", short(self.low), short(h)),
            (None, Some((l, h))) => format!(
                "no upper bound as written; {} to {} ppm if everything to check is bought labelled gluten-free",
                short(l),
                short(h)
            ),
            (None, None) => "no figure".to_owned(),
        };
        let top = self.high.or(self.if_labelled.map(|(_, h)| h));
        let over = if top.is_some_and(|h| h >= LIMIT) {
            format!(
                "; that passes {LIMIT:.0} ppm, the limit of a gluten-free claim in the US, the EU and Codex"
            )
        } else {
            String::new()
        };
        format!("{figure}{over} ({})", self.basis)
    }
}

/// Below this (US) or at most this (EU, Codex) a food may be called gluten-free, mg/kg.
pub(super) const LIMIT: f64 = 20.0;

/// A figure rounded up to a tenth: an upper bound must not be rounded down.
fn short(ppm: f64) -> String {
    let tenths = (ppm * 10.0 - 1e-9).ceil().max(0.0) / 10.0 + 0.0;
    if tenths.fract() == 0.0 {
        format!("{tenths:.0}")
    } else {
        format!("{tenths:.1}")
    }
}

/// The range of ppm an ingredient can have, and what to say where it has no upper bound.
fn ppm_of(food: &Food, labelled: bool, sure: bool) -> (Option<f64>, Option<String>) {
    const LABELLED: f64 = 20.0;
    match food.ppm {
        PpmBasis::NoSource if sure => (Some(0.0), None),
        _ if labelled => (Some(LABELLED), None),
        PpmBasis::Grain {
            survey_max: Some(n),
        } => (
            None,
            Some(format!(
                "{}: no bound unless labelled; unlabelled samples went up to {n:.0} ppm",
                food.name
            )),
        ),
        PpmBasis::Grain { survey_max: None } => (
            None,
            Some(format!("{}: no bound unless labelled", food.name)),
        ),
        PpmBasis::Gluten => (None, Some(format!("{}: holds gluten", food.name))),
        PpmBasis::Label | PpmBasis::NoSource => (
            None,
            Some(format!("{}: only its label can tell", food.name)),
        ),
    }
}

/// The range of ppm with what the kitchen knows: a test bounds what it tested.
pub(super) fn bound(
    food: &Food,
    known: &Known,
    labelled: bool,
    sure: bool,
) -> (Option<f64>, Option<String>) {
    if known.judged.verdict == Gluten::Contains {
        return (None, Some(format!("{}: holds gluten", food.name)));
    }
    match known.ppm {
        Some(ppm) => (Some(ppm), None),
        // What is doubtful of a food free by nature is not 0.
        None if known.judged.verdict == Gluten::Check
            && food.gluten == Gluten::Free
            && sure
            && !labelled =>
        {
            (
                None,
                Some(format!("{}: only its label can tell", food.name)),
            )
        }
        None => ppm_of(food, labelled || known.settled, sure),
    }
}

/// The sum behind the ppm estimate.
#[derive(Default)]
pub(super) struct Sum {
    written: Vec<Portion>,
    labelled: Vec<Portion>,
    unknown: Vec<String>,
    tests: Vec<String>,
    unweighed: bool,
    unbounded: bool,
    pub(super) gluten: bool,
}

impl Sum {
    pub(super) fn no_bound(&mut self, why: Option<String>) {
        self.unbounded = true;
        if let Some(why) = why
            && !self.unknown.contains(&why)
        {
            self.unknown.push(why);
        }
    }
    /// A note names gluten: nothing says how much of it goes in.
    pub(super) fn unweighed_note(&mut self, word: &str) {
        self.unweighed = true;
        self.no_bound(Some(format!(
            "a note names '{word}', and no line says how much of it goes in"
        )));
    }
    /// Keeps in words what a bound rests on.
    pub(super) fn test(&mut self, test: Option<String>) {
        self.tests.extend(
            test.filter(|t| !self.tests.contains(t))
                .into_iter()
                .collect::<Vec<_>>(),
        );
    }
    pub(super) fn add(&mut self, e: &Entry<'_>, high: Option<f64>, why: Option<String>) {
        if high.is_none() {
            self.no_bound(why);
        }
        let Some(mut grams) = e.grams else {
            if high != Some(0.0) {
                self.unweighed = true;
                let named = e
                    .text
                    .get(e.span.clone())
                    .filter(|s| !s.is_empty())
                    .unwrap_or(e.text);
                self.no_bound(Some(format!("{}: no weight", named.trim())));
            }
            return;
        };
        // What may be left out, and what may or may not stick, counts from nothing to all.
        if !e.in_formula || e.optional {
            grams = Spread::new(Mass::grams(0.0), grams.likely(), grams.high());
        }
        self.written.push(Portion {
            grams,
            low: 0.0,
            high,
        });
        self.labelled.push(Portion {
            grams,
            low: 0.0,
            high: Some(high.unwrap_or(LIMIT)),
        });
    }
    /// What may be taken in place of what an entry added last: the worse of the two counts, for all of
    /// the entry's weight.
    pub(super) fn or_instead(&mut self, e: &Entry<'_>, high: Option<f64>, why: Option<String>) {
        if high.is_none() {
            self.no_bound(why);
        }
        if e.grams.is_none() {
            self.unweighed |= high != Some(0.0);
            return;
        }
        let worse = |p: Option<&mut Portion>, high: Option<f64>| {
            if let Some(p) = p {
                p.high = p.high.zip(high).map(|(a, b)| a.max(b));
            }
        };
        worse(self.written.last_mut(), high);
        worse(self.labelled.last_mut(), Some(high.unwrap_or(LIMIT)));
    }
    pub(super) fn finish(self, loss: Option<Spread<Ratio>>) -> PpmFinding {
        if self.gluten {
            return PpmFinding {
                low: 0.0,
                high: None,
                if_labelled: None,
                basis: "it contains gluten and fails at any amount".to_owned(),
                unknown: self.unknown,
            };
        }
        let (low, high) = finished_ppm(&self.written, loss);
        let (l, h) = finished_ppm(&self.labelled, loss);
        let mut basis = match loss {
            Some(x) => format!(
                "sum of ingredients as bounds over the baked weight, bake loss {:.0} to {:.0} %; heat takes no gluten away; not a test and no proof of compliance",
                x.low().get() * 100.0,
                x.high().get() * 100.0
            ),
            None => "sum of ingredients as bounds over the raw weight, no bake loss given; baking dry raises it; not a test and no proof of compliance".to_owned(),
        };
        for test in &self.tests {
            basis.push_str("; ");
            basis.push_str(test);
        }
        PpmFinding {
            low,
            high: high.filter(|_| !self.unbounded && !self.written.is_empty()),
            if_labelled: h
                .map(|h| (l, h))
                .filter(|_| !self.unweighed && !self.written.is_empty()),
            basis,
            unknown: self.unknown,
        }
    }
}
