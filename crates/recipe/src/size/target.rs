//! From the figure that is asked for to times the recipe.

mod lining;
mod makes;
mod pans;

pub(super) use makes::{makes, serves};
pub use pans::Filled;
pub(super) use pans::PansToFill;

use super::ask::{Pieces, Target, likely, plain};
use super::error::{SizeError, check_factor, one_at_least, positive};
use super::flow::Flow;
use super::limit::{AtHand, limited};
use crate::household::{percent, scale_grams};
use crate::rework::{Kept, Panful, Rework, ReworkedComponent};
use crate::shape::{THICKEST, THINNEST};
use larder::Larder;
use makes::counted;
use pans::in_hollows;
use quantity::{Mass, Ratio, Spread};
use std::cell::OnceCell;

/// What stays in the bowl and on hands, of a dough that is divided: 2 % on top (R18.2 of the
/// project's rules: common practice, no source).
pub const BOWL: f64 = 1.02;

/// Pieces that a batch's dough is divided into.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PieceCount {
    /// How many.
    pub count: f64,
    /// The weight of each on the bench.
    pub each: Mass,
    /// The weight of each out of the oven, where the style's loss is known.
    pub baked: Option<Spread<Mass>>,
    /// Dough over after them.
    pub over: Mass,
    /// With the other parts that go into each, where there are any and all have a weight.
    pub whole: Option<WholePiece>,
}

/// A piece with its filling, topping and what else the recipe has parts for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WholePiece {
    /// On the bench.
    pub raw: Spread<Mass>,
    /// Out of the oven, the parts together: what is baked with the dough loses what that loses, an icing
    /// and what is known of no loss are taken as they are.
    pub baked: Option<Spread<Mass>>,
}

/// Times the recipe, and what else was found on the way.
#[derive(Debug, Clone, Default)]
pub(super) struct Found {
    pub(super) times: f64,
    /// The times between which the figure's own doubt leaves it.
    pub(super) range: Option<(f64, f64)>,
    pub(super) sums: Vec<String>,
    pub(super) pans: Option<PansToFill>,
    pub(super) at_hand: Vec<AtHand>,
    pub(super) divided: Option<Pieces>,
    /// Times of the parts over `times`, by place, where some go by another measure; else empty.
    pub(super) shares: Vec<f64>,
}

/// Density of a component, g/mL.
fn density(c: &ReworkedComponent) -> Spread<Ratio> {
    crate::density::of_style(c.style.map(|s| s.style)).value
}

/// What a component loses in the oven, of 1.
pub(super) fn bake_loss(c: &ReworkedComponent) -> Option<Spread<Ratio>> {
    let style = c.style.filter(|s| s.style.is_baked())?.style;
    Some(style.range("bake_loss")?.value.scaled(0.01))
}

fn is_yeast_dough(c: &ReworkedComponent) -> bool {
    c.style.is_some_and(|s| s.style.is_yeast_dough())
}

fn g(grams: f64) -> String {
    scale_grams(Mass::grams(grams), false)
}

pub(super) struct Aim<'a> {
    pub(super) rework: &'a Rework,
    pub(super) larder: &'a Larder,
    pub(super) flow: &'a Flow<'a>,
    /// What goes into a pan with the part, of what is made, once it is asked for.
    panful: OnceCell<Panful>,
}

impl<'a> Aim<'a> {
    pub(super) fn of(rework: &'a Rework, larder: &'a Larder, flow: &'a Flow<'a>) -> Self {
        Self {
            rework,
            larder,
            flow,
            panful: OnceCell::new(),
        }
    }

    /// What goes into a pan with the part.
    fn panful(&self) -> &Panful {
        self.panful.get_or_init(|| {
            let factors = self.flow.factors(1.0);
            let mut panful = self.rework.panful(self.flow.part).clone();
            // The part asked about stays, though none of it is made: that is refused where it is solved.
            let made = |c: &usize| *c == self.flow.part || factors[*c] > 0.0;
            panful.parts.retain(made);
            panful
        })
    }

    fn part(&self) -> &ReworkedComponent {
        &self.rework.components[self.flow.part]
    }

    fn name(&self) -> &str {
        match self.part().name.as_str() {
            "" => "mixture",
            name => name,
        }
    }

    /// Whether the part lines a tin.
    fn lines(&self) -> bool {
        self.rework.lines_a_tin(self.flow.part)
    }

    /// What goes into the tin with a part that lines it; `None` where that is not known, and of other parts.
    fn round(&self) -> Option<&Panful> {
        let round = self.rework.panful_round(self.flow.part);
        let filled = self.lines() && round.set && self.flow.factors(1.0)[round.parts[0]] > 0.0;
        filled.then_some(round)
    }

    pub(super) fn find(&self, target: &Target) -> Result<Found, SizeError> {
        let mut found = match target {
            Target::Times(times) => {
                check_factor(*times)?;
                Found {
                    times: *times,
                    ..Found::default()
                }
            }
            Target::Pieces(pieces) => self.pieces(pieces)?,
            Target::Servings(n) => self.servings(positive("number of servings", *n, "8")?)?,
            Target::Makes(grams) => self.makes(positive("weight", *grams, "900 g")?)?,
            Target::Flour(grams) => self.flour(positive("weight of flour", *grams, "400 g")?)?,
            Target::Line { line, grams } => {
                self.line(line, positive("weight of a line", *grams, "210 g")?)?
            }
            Target::Pan(pans) => in_hollows(self.pan(pans)?).assuming(pans, None),
            Target::FromPan {
                from,
                to,
                keep_depth,
            } => {
                let found = in_hollows(self.between_pans(from, to, *keep_depth)?);
                found.assuming(to, Some(from))
            }
            Target::Sheet {
                long, wide, thick, ..
            } => self.sheet(*long, *wide, *thick)?,
            Target::Have(have) => {
                let (times, at_hand) = limited(have, self.flow, self.rework, self.larder)?;
                let first = at_hand.iter().find(|h| h.limits);
                let sums = first.map(|h| {
                    format!(
                        "{} runs out first: {} g of it make × {}",
                        h.name,
                        g(h.have.as_grams()),
                        plain(times)
                    )
                });
                Found {
                    times,
                    sums: sums.into_iter().collect(),
                    at_hand,
                    ..Found::default()
                }
            }
        };
        check_factor(found.times)?;
        if let Some((low, high)) = found.range {
            let (low, high) = (low.min(found.times), high.max(found.times));
            // Equal ends are one figure.
            found.range = (plain(low) != plain(high)).then_some((low, high));
        }
        Ok(found)
    }

    /// Times at which the part makes so many grams.
    fn to_make(&self, grams: f64) -> Result<f64, SizeError> {
        let makes = likely(self.part().makes);
        let weights = self.flow.only_of(self.flow.part, makes);
        self.flow.solve(&weights, grams, "weight")
    }

    fn makes(&self, grams: f64) -> Result<Found, SizeError> {
        let times = self.to_make(grams)?;
        Ok(Found {
            times,
            sums: vec![self.over(grams, likely(self.part().makes), self.name(), times)],
            ..Found::default()
        })
    }

    /// `734 g ÷ 1021 g of dough = × 0.72`, where the factor is that quotient.
    fn over(&self, wanted: f64, one: f64, what: &str, times: f64) -> String {
        format!(
            "{} g ÷ {} g of {what} in the recipe = × {}",
            g(wanted),
            g(one),
            plain(times)
        )
    }

    fn flour(&self, grams: f64) -> Result<Found, SizeError> {
        let flour = likely(self.part().reworked.flour);
        let weights = self.flow.only_of(self.flow.part, flour);
        let times = self.flow.solve(&weights, grams, "flour")?;
        Ok(Found {
            times,
            sums: vec![self.over(grams, flour, "flour", times)],
            ..Found::default()
        })
    }

    fn line(&self, key: &str, grams: f64) -> Result<Found, SizeError> {
        let part = self.part();
        let lines = || part.lines.iter().filter(|l| l.kept != Kept::Dropped);
        let line = lines()
            .find(|l| l.key == key)
            .ok_or_else(|| SizeError::NoLine {
                what: key.replace('_', " "),
                near: lines().map(|l| l.name.clone()).collect(),
            })?;
        let one = line.grams.map_or(0.0, likely);
        let weights = self.flow.only_of(self.flow.part, one);
        let times = self
            .flow
            .solve(&weights, grams, "weighed line of that name")?;
        Ok(Found {
            times,
            sums: vec![self.over(grams, one, &line.name, times)],
            ..Found::default()
        })
    }

    fn servings(&self, n: f64) -> Result<Found, SizeError> {
        if let Some((low, high)) = serves(self.rework) {
            return Ok(counted(n, low, high));
        }
        let (low, high, servings) =
            makes(self.rework).ok_or(SizeError::NoCount { what: "servings" })?;
        let mid = f64::midpoint(low, high);
        let mut found = counted(n, low, high);
        if !servings {
            found.sums.push(format!(
                "the recipe says what it makes, {}, not whom it serves: one of them is taken as a serving",
                plain(mid)
            ));
        }
        Ok(found)
    }

    /// Grams of the part that pieces are made of, at one time the recipe: all of it, or what another
    /// part takes of it.
    fn divided(&self) -> f64 {
        let all = likely(self.part().makes);
        match self.part().used {
            Some(used) if !self.flow.is_enough() => likely(used).min(all),
            _ => all,
        }
    }

    /// What is baked in a piece with the part whose weight is asked for, in a sentence.
    fn beside(&self) -> Option<String> {
        let parts = self.rework.panful(self.flow.part).parts.iter();
        let others = parts.filter(|c| **c != self.flow.part);
        let names: Vec<&str> = others
            .map(|c| self.rework.components[*c].name.as_str())
            .collect();
        (!names.is_empty()).then(|| {
            format!(
                "that is of the {} alone: {} come{} on top",
                self.name(),
                names.join(" and "),
                if names.len() > 1 { "" } else { "s" }
            )
        })
    }

    fn pieces(&self, pieces: &Pieces) -> Result<Found, SizeError> {
        let count = |n| one_at_least("number of pieces", n, "12, and 1 at least");
        let each = match pieces.each {
            // Lighter than a gram nothing is shaped.
            Some(each) if each > 0.0 && each < 1.0 => {
                return Err(SizeError::Figure {
                    what: "weight of a piece",
                    value: each,
                    such_as: "60 g, and 1 g at least",
                });
            }
            Some(each) => Some(positive("weight of a piece", each, "60 g")?),
            None => None,
        };
        let raw = match each {
            Some(each) if pieces.baked => {
                let loss = bake_loss(self.part()).ok_or_else(|| SizeError::NoBakeLoss {
                    part: self.part().name.clone(),
                })?;
                Some(each / (1.0 - likely(loss)))
            }
            each => each,
        };
        let dough = self.divided();
        let mut found = match (pieces.count, raw) {
            (Some(n), Some(raw)) => {
                let need = count(n)? * raw * BOWL;
                let weights = self.flow.only_of(self.flow.part, dough);
                let times = self.flow.solve(&weights, need, "weight")?;
                let mut sums = Vec::new();
                if let (true, Some(each)) = (pieces.baked, each) {
                    sums.push(format!(
                        "{} g baked ÷ (1 − {} lost in the oven) = {} g on the bench",
                        g(each),
                        percent(100.0 * (1.0 - each / raw)),
                        g(raw)
                    ));
                    sums.extend(self.beside());
                }
                sums.push(format!(
                    "{} × {} g × {BOWL} (2 % stays in the bowl) = {} g of {}",
                    plain(n),
                    g(raw),
                    g(need),
                    self.name()
                ));
                sums.push(self.over(need, dough, self.name(), times));
                Found {
                    times,
                    sums,
                    ..Found::default()
                }
            }
            (Some(n), None) => {
                let (low, high, _) =
                    makes(self.rework).ok_or(SizeError::NoCount { what: "pieces" })?;
                counted(count(n)?, low, high)
            }
            (None, Some(raw)) => {
                if raw * BOWL > dough {
                    return Err(if dough > 0.0 {
                        SizeError::PieceTooHeavy { each: raw, dough }
                    } else {
                        SizeError::Without {
                            part: self.part().name.clone(),
                            what: "weight",
                        }
                    });
                }
                let n = (dough / (raw * BOWL) + 1e-9).floor();
                Found {
                    times: 1.0,
                    sums: vec![format!(
                        "{} g of {} ÷ ({} g × {BOWL}) = {} pieces",
                        g(dough),
                        self.name(),
                        g(raw),
                        plain(n)
                    )],
                    ..Found::default()
                }
            }
            (None, None) => {
                return Err(SizeError::Figure {
                    what: "number or weight of pieces",
                    value: 0.0,
                    such_as: "12, or 60 g each",
                });
            }
        };
        found.divided = Some(Pieces {
            each: raw,
            baked: false,
            ..*pieces
        });
        Ok(found)
    }

    fn sheet(&self, long: f64, wide: f64, thick: f64) -> Result<Found, SizeError> {
        let side = |v| positive("side of a sheet", v, "40 cm");
        let (long, wide) = (side(long)?, side(wide)?);
        let thick = positive("thickness", thick, "5 mm")?;
        if thick < THINNEST {
            return Err(SizeError::TooThin { thick });
        }
        if thick > THICKEST {
            return Err(SizeError::TooThick { thick });
        }
        let density = density(self.part());
        let grams = density.scaled(long * wide * thick / 10.0);
        let need = likely(grams);
        let times = self.to_make(need)?;
        let range = (
            self.to_make(grams.low().get())?,
            self.to_make(grams.high().get())?,
        );
        Ok(Found {
            times,
            range: Some(range),
            sums: vec![
                format!(
                    "{} cm × {} cm × {} mm × {:.2} g/mL = {} g of {}, nothing added for trimming",
                    plain(long),
                    plain(wide),
                    plain(thick),
                    likely(density),
                    g(need),
                    self.name()
                ),
                self.over(need, likely(self.part().makes), self.name(), times),
            ],
            ..Found::default()
        })
    }
}
