//! From what is asked to blends, and why each is as it is.

use super::ask::{Aim, Ask, Candidate, Wish, barred, is_fibre};
use super::makeup::{MakeUp, Property, Target};
use super::words::FormulateError;
use crate::rework::blend::Blend;
use larder::{FoodId, Function, Larder};
use numeric::mixture::{self, Cap, Goal, Mixture};
use quantity::Mass;

/// A flour of a blend that is rebuilt may move by so many percent of the blend before that is as
/// grave as a usual miss in one property. Common practice, no source.
const SHARE_SPREAD: f64 = 20.0;
/// The room in a limit that its price is for: one percent of the blend.
const ROOM: f64 = 0.01;
/// Strong in flavour: 3 of 3.
const STRONG: u8 = 3;

/// A limit, in the baker's terms.
#[derive(Debug, Clone, PartialEq)]
pub enum Limit {
    /// The least percent of a flour.
    Least(FoodId, f64),
    /// The greatest percent of a flour.
    Most(FoodId, f64),
    /// What there is of a flour, and the percent of the batch that it makes.
    Stock(FoodId, Mass, f64),
    /// Starches at most, percent.
    StarchMost(f64),
    /// Starches at least, percent.
    StarchLeast(f64),
    /// Flours of strong flavour at most, percent.
    Strong(f64),
    /// Cost of a kilogram at most.
    Cost(f64),
    /// The greatest distance.
    Within(f64),
}

/// A limit that a blend lies on.
#[derive(Debug, Clone, PartialEq)]
pub struct Bound {
    /// Which.
    pub limit: Limit,
    /// What it costs: how much nearer to the aim these flours would come for one percent more
    /// room; where the cheapest is asked for, how much cheaper a kilogram (for the distance: for
    /// 0.1 of it). 0 where another limit holds the same.
    pub price: f64,
}

/// A blend that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Formulated {
    /// Foods and percent, the largest first; exact.
    pub exact: Vec<(FoodId, f64)>,
    /// Its flours and starches in whole percent, adding up to 100.
    pub parts: Vec<(FoodId, f64)>,
    /// Its fibres, percent on top of those, to a half.
    pub on_top: Vec<(FoodId, f64)>,
    /// What both are made of.
    pub makeup: MakeUp,
    /// How far they are from the aim; see [`Target::distance`].
    pub distance: f64,
    /// What a kilogram costs; `None` where a price is missing.
    pub cost_per_kg: Option<f64>,
    /// What binds it, dearest first.
    pub bounds: Vec<Bound>,
}

impl Formulated {
    /// It as a blend, in whole percent, its fibres among the binders, which come on top too;
    /// nobody's own yet.
    #[must_use]
    pub fn blend(&self) -> Blend {
        Blend {
            key: "worked_out".into(),
            name: "worked out".into(),
            parts: self.parts.clone(),
            binders: self.on_top.clone(),
            styles: Vec::new(),
            why: "".into(),
            cup_grams: None,
            own: false,
        }
    }
}

/// All that was found.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// What was wanted.
    pub target: Target,
    /// The best blend, then different ones.
    pub blends: Vec<Formulated>,
    /// Candidates that were not used, and why.
    pub barred: Vec<(FoodId, String)>,
}

/// Why a flour is in the best blend or not.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// It is in it, with this percent and these bounds.
    Used {
        /// Its percent.
        percent: f64,
        /// Its own bounds.
        bounds: Vec<Bound>,
        /// The best blend without it, where there is one.
        without: Option<Formulated>,
    },
    /// It was no candidate.
    Barred(String),
    /// It could be used, and this is the best blend with it.
    Further {
        /// The best blend that holds it.
        with: Formulated,
        /// The property in which it is furthest worse than the best blend, if it is in any.
        most: Option<Property>,
    },
    /// No blend that holds it keeps the limits.
    Impossible(String),
}

/// The programme of an ask, with the meaning of its limits.
pub(super) struct Programme<'a> {
    pub(super) larder: &'a Larder,
    pub(super) ask: &'a Ask,
    pub(super) target: Target,
    pub(super) used: Vec<Candidate>,
    pub(super) barred: Vec<(FoodId, String)>,
    pub(super) mixture: Mixture,
    pub(super) caps: Vec<Limit>,
}

impl<'a> Programme<'a> {
    fn new(ask: &'a Ask, larder: &'a Larder) -> Result<Self, FormulateError> {
        super::words::check(ask, larder)?;
        let target = ask.target(larder).map_err(|(food, property)| {
            FormulateError::Unknown(larder.food(food).name.clone(), property)
        })?;
        let mut used: Vec<Candidate> = Vec::new();
        let mut out = Vec::new();
        for c in &ask.candidates {
            match barred(c, ask, larder) {
                Some(why) if c.must => {
                    return Err(FormulateError::Must(larder.food(c.food).name.clone(), why));
                }
                Some(why) => out.push((c.food, why)),
                None => used.push(c.clone()),
            }
        }
        if used.is_empty() {
            return Err(FormulateError::Nothing(
                out.iter()
                    .map(|(f, why)| (larder.food(*f).name.clone(), why.clone()))
                    .collect(),
            ));
        }
        let has = |c: &Candidate, p: Property| p.of(c.food, larder).unwrap_or(0.0);
        let root = 6.0_f64.sqrt();
        let mut properties = Vec::new();
        let mut targets = Vec::new();
        for (i, property) in Property::ALL.into_iter().enumerate() {
            let scale = target.spread.0[i] * root;
            properties.push(used.iter().map(|c| has(c, property) / scale).collect());
            targets.push(target.middle.0[i] / scale);
        }
        if let Aim::Blend(parts) = &ask.aim {
            for (food, percent) in parts {
                if let Some(at) = used.iter().position(|c| c.food == *food) {
                    let mut row = vec![0.0; used.len()];
                    row[at] = 100.0 / (SHARE_SPREAD * root);
                    properties.push(row);
                    targets.push(percent / (SHARE_SPREAD * root));
                }
            }
        }
        let (caps, limits) = caps(ask, &used, larder);
        let batch = ask.batch.map(Mass::as_grams);
        let mixture = Mixture {
            properties,
            targets,
            cost: match ask.wish {
                Wish::Nearest => vec![0.0; used.len()],
                Wish::Cheapest { .. } => {
                    used.iter().map(|c| c.price_per_kg.unwrap_or(0.0)).collect()
                }
            },
            low: used.iter().map(|c| c.low / 100.0).collect(),
            high: used.iter().map(|c| high(c, batch) / 100.0).collect(),
            caps,
            goal: match ask.wish {
                Wish::Nearest => Goal::Nearest,
                Wish::Cheapest { within } => Goal::Cheapest { within },
            },
        };
        Ok(Self {
            larder,
            ask,
            target,
            used,
            barred: out,
            mixture,
            caps: limits,
        })
    }

    fn search(&self, must: Vec<usize>, count: usize) -> Result<Vec<Formulated>, FormulateError> {
        let ask = mixture::Ask {
            most: self.ask.most,
            count,
            // Blends of one or two flours differ by one, larger ones by two.
            apart: if self.ask.most > 2 { 2 } else { 1 },
            must,
        };
        let found = self.mixture.best(&ask)?;
        Ok(found.iter().map(|b| self.formulated(b)).collect())
    }

    pub(super) fn must(&self) -> Vec<usize> {
        let all = self.used.iter().enumerate();
        all.filter(|(_, c)| c.must).map(|(i, _)| i).collect()
    }

    /// A limit of the mixture in the baker's terms.
    pub(super) fn limit(&self, limit: mixture::Limit) -> Limit {
        match limit {
            mixture::Limit::Low(p) => Limit::Least(self.used[p].food, self.used[p].low),
            mixture::Limit::High(p) => {
                let c = &self.used[p];
                let batch = self.ask.batch.map(Mass::as_grams);
                match c.stock {
                    Some(stock) if high(c, batch) < c.high => {
                        Limit::Stock(c.food, stock, high(c, batch))
                    }
                    _ => Limit::Most(c.food, c.high),
                }
            }
            mixture::Limit::Cap(i) => self.caps[i].clone(),
            mixture::Limit::Within => Limit::Within(match self.ask.wish {
                Wish::Cheapest { within } => within,
                Wish::Nearest => f64::INFINITY,
            }),
        }
    }

    /// What a little more room in one limit gains: worked out anew with that room, since two limits
    /// that hold the same share have no price of their own.
    fn gain(&self, blend: &mixture::Blend, limit: mixture::Limit) -> f64 {
        let mut wider = self.mixture.clone();
        match limit {
            mixture::Limit::Low(p) => wider.low[p] = (wider.low[p] - ROOM).max(0.0),
            mixture::Limit::High(p) => wider.high[p] += ROOM,
            mixture::Limit::Cap(c) => wider.caps[c].at_most += ROOM,
            mixture::Limit::Within => {
                if let Goal::Cheapest { within } = &mut wider.goal {
                    *within += 10.0 * ROOM;
                }
            }
        }
        let of = |m: &Mixture, b: &mixture::Blend| match m.goal {
            Goal::Nearest => m.distance(b),
            Goal::Cheapest { .. } => m.cost_of(b),
        };
        let with_room = wider.of_parts(&blend.parts).ok().flatten();
        let gain = with_room.map_or(0.0, |b| of(&self.mixture, blend) - of(&wider, &b));
        if gain < 5e-5 { 0.0 } else { gain }
    }

    fn formulated(&self, blend: &mixture::Blend) -> Formulated {
        let mut exact: Vec<(FoodId, f64)> = blend
            .parts
            .iter()
            .zip(&blend.shares)
            .map(|(&p, s)| (self.used[p].food, 100.0 * s))
            .filter(|p| p.1 > 1e-4)
            .collect();
        exact.sort_by(|a, b| b.1.total_cmp(&a.1));
        type Parts = Vec<(FoodId, f64)>;
        let (fibres, flours): (Parts, Parts) =
            exact.iter().partition(|p| is_fibre(p.0, self.larder));
        let flour: f64 = flours.iter().map(|p| p.1).sum();
        let parts = whole(&flours, flour);
        let half = |p: f64| (200.0 * p / flour).round() / 2.0;
        let on_top: Vec<(FoodId, f64)> = fibres.iter().map(|(f, p)| (*f, half(*p))).collect();
        let mixed: Vec<(FoodId, f64)> = parts.iter().chain(&on_top).copied().collect();
        let total: f64 = mixed.iter().map(|p| p.1).sum();
        // Every part's make-up is known: it would be barred otherwise.
        let makeup = MakeUp::of(&mixed, self.larder).unwrap_or(self.target.middle);
        let cost = mixed.iter().try_fold(0.0, |sum, (food, percent)| {
            let c = self.used.iter().find(|c| c.food == *food)?;
            Some(sum + c.price_per_kg? * percent / total)
        });
        let bounds = blend.binds.iter().map(|b| Bound {
            limit: self.limit(b.limit),
            price: self.gain(blend, b.limit),
        });
        let mut bounds: Vec<Bound> = bounds.collect();
        bounds.sort_by(|a, b| b.price.total_cmp(&a.price));
        Formulated {
            exact,
            distance: self.target.distance(&makeup),
            parts,
            on_top,
            makeup,
            cost_per_kg: cost,
            bounds,
        }
    }
}

/// The greatest percent of a candidate, its stock counted.
fn high(c: &Candidate, batch: Option<f64>) -> f64 {
    match (c.stock, batch) {
        (Some(stock), Some(batch)) => c.high.min(100.0 * stock.as_grams() / batch),
        _ => c.high,
    }
}

/// Whole percents of a total that add up to 100, each within one of its exact value: the largest
/// remainders are rounded up.
fn whole(exact: &[(FoodId, f64)], total: f64) -> Vec<(FoodId, f64)> {
    let exact: Vec<(FoodId, f64)> = exact.iter().map(|(f, p)| (*f, 100.0 * p / total)).collect();
    let mut parts: Vec<(FoodId, f64)> = exact
        .iter()
        .map(|(f, p)| (*f, (p + 1e-4).floor()))
        .collect();
    let short = 100.0 - parts.iter().map(|p| p.1).sum::<f64>();
    let mut order: Vec<usize> = (0..parts.len()).collect();
    let remainder = |i: &usize| exact[*i].1 - parts[*i].1;
    order.sort_by(|a, b| remainder(b).total_cmp(&remainder(a)));
    for i in order.into_iter().take(short.round().max(0.0) as usize) {
        parts[i].1 += 1.0;
    }
    parts
}

fn caps(ask: &Ask, used: &[Candidate], larder: &Larder) -> (Vec<Cap>, Vec<Limit>) {
    let (mut caps, mut limits) = (Vec::new(), Vec::new());
    let mut cap = |row: Vec<f64>, at_most: f64, limit: Limit| {
        caps.push(Cap { row, at_most });
        limits.push(limit);
    };
    let when = |is: &dyn Fn(FoodId) -> bool| -> Vec<f64> {
        let one = |c: &Candidate| f64::from(u8::from(is(c.food)));
        used.iter().map(one).collect()
    };
    let starch = when(&|f| larder.food(f).function() == Function::Starch);
    let (least, most) = ask.starch;
    if most < 100.0 {
        cap(starch.clone(), most / 100.0, Limit::StarchMost(most));
    }
    if least > 0.0 {
        let row = starch.iter().map(|s| -s).collect();
        cap(row, -least / 100.0, Limit::StarchLeast(least));
    }
    if ask.strong < 100.0 {
        let row = when(&|f| larder.absorption(f).is_some_and(|a| a.flavour >= STRONG));
        cap(row, ask.strong / 100.0, Limit::Strong(ask.strong));
    }
    if let Some(cost) = ask.cost_at_most {
        let row = used.iter().map(|c| c.price_per_kg.unwrap_or(0.0)).collect();
        cap(row, cost, Limit::Cost(cost));
    }
    (caps, limits)
}

/// The best blend, and as many different ones as are asked for.
///
/// # Errors
/// [`FormulateError`]: limits that clash, in words; nothing to mix; figures that cannot be.
///
/// # Example
/// ```
/// use recipe::formulate::{Aim, Ask, formulate};
/// use recipe::rework::style::Style;
/// let larder = larder::Larder::built_in()?;
/// let bread = Style::from_key("lean_bread").expect("a style");
/// let found = formulate(&Ask::new(Aim::Style(bread), &larder), &larder)?;
/// assert!(found.blends[0].parts.len() <= 4);
/// let sum: f64 = found.blends[0].parts.iter().map(|p| p.1).sum();
/// assert_eq!(sum, 100.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn formulate(ask: &Ask, larder: &Larder) -> Result<Outcome, FormulateError> {
    let programme = Programme::new(ask, larder)?;
    let blends = programme.search(programme.must(), ask.count)?;
    if blends.is_empty() {
        return Err(programme.clash(&programme.must())?);
    }
    Ok(Outcome {
        target: programme.target.clone(),
        blends,
        barred: programme.barred,
    })
}

/// Why a flour is in the best blend or not: 'why no sorghum?'
///
/// # Errors
/// As [`formulate`].
pub fn why(food: FoodId, ask: &Ask, larder: &Larder) -> Result<Answer, FormulateError> {
    let best = formulate(
        &Ask {
            count: 1,
            ..ask.clone()
        },
        larder,
    )?;
    if let Some((_, reason)) = best.barred.iter().find(|b| b.0 == food) {
        return Ok(Answer::Barred(reason.clone()));
    }
    let Some(candidate) = ask.candidates.iter().position(|c| c.food == food) else {
        return Ok(Answer::Barred(
            "it is not among the flours to choose from".to_owned(),
        ));
    };
    let best = &best.blends[0];
    let mut used = best.parts.iter().chain(&best.on_top);
    if let Some((_, percent)) = used.find(|p| p.0 == food) {
        let own = |b: &&Bound| matches!(&b.limit, Limit::Least(f, _) | Limit::Most(f, _) | Limit::Stock(f, _, _) if *f == food);
        let mut rest = ask.clone();
        rest.candidates.remove(candidate);
        rest.count = 1;
        let without = formulate(&rest, larder)
            .ok()
            .and_then(|o| o.blends.into_iter().next());
        return Ok(Answer::Used {
            percent: *percent,
            bounds: best.bounds.iter().filter(own).cloned().collect(),
            without,
        });
    }
    let mut with = ask.clone();
    with.candidates[candidate].must = true;
    with.count = 1;
    match formulate(&with, larder) {
        Ok(found) => {
            let with = found.blends[0].clone();
            let miss = |m: &MakeUp, i: usize| {
                ((m.0[i] - found.target.middle.0[i]) / found.target.spread.0[i]).powi(2)
            };
            let worse = |i: &usize| miss(&with.makeup, *i) - miss(&best.makeup, *i);
            let most = (0..6)
                .max_by(|a, b| worse(a).total_cmp(&worse(b)))
                .filter(|i| worse(i) > 0.0)
                .map(|i| Property::ALL[i]);
            Ok(Answer::Further { with, most })
        }
        Err(clash @ FormulateError::Clash { .. }) => Ok(Answer::Impossible(clash.to_string())),
        Err(error) => Err(error),
    }
}
