//! The best choice of a few parts of many, exactly.

use super::cut::Cut;
use super::solve::Solved;
use super::{Blend, Mixture};
use crate::NumericError;
use std::collections::BTreeMap;

/// Cuts kept; those that helped last stay in front.
const CUTS: usize = 48;
/// What rounding may add to a bound.
const ROUNDING: f64 = 1e-9;
/// Parts that can be told apart in one set of bits.
const MOST_PARTS: usize = 64;

/// What is asked of a search.
#[derive(Debug, Clone, PartialEq)]
pub struct Ask {
    /// Parts that may be used at once, at least 1.
    pub most: usize,
    /// How many blends are wanted.
    pub count: usize,
    /// By how many parts each must differ from every better one, at least 1.
    pub apart: usize,
    /// Parts that must be used.
    pub must: Vec<usize>,
}

/// A search under way.
struct Search<'a> {
    mixture: &'a Mixture,
    ask: &'a Ask,
    /// Parts in the order in which they are tried.
    order: Vec<usize>,
    cuts: Vec<Cut>,
    /// Choices solved so far, by their sets; `None` where the limits clash.
    solved: BTreeMap<u64, Option<Blend>>,
    /// Blends already chosen, as sets.
    chosen: Vec<u64>,
    /// The best so far of the blend being looked for: what it comes to and its set.
    best: Option<(f64, u64)>,
}

impl Mixture {
    /// The best blends of no more than so many parts.
    ///
    /// # Inputs
    /// Up to 64 parts. A part is used with its least share or more, or not at all.
    ///
    /// # Returns
    /// The best blend; then the best of those that differ from it by `apart` parts or more; and
    /// so on, `count` of them or as many as there are. Empty where no choice keeps the limits.
    /// Exact: a choice is left unsolved only where a lower bound is above the best known.
    ///
    /// # Errors
    /// [`NumericError`]: lengths that disagree, figures that are not finite, more than 64 parts.
    pub fn best(&self, ask: &Ask) -> Result<Vec<Blend>, NumericError> {
        self.check()?;
        if self.len() > MOST_PARTS {
            return Err(NumericError::Shape {
                what: "parts",
                expected: MOST_PARTS,
                found: self.len(),
            });
        }
        let must = ask.must.iter().fold(0_u64, |set, p| set | 1 << p);
        if ask.most == 0 || (must.count_ones() as usize) > ask.most {
            return Ok(Vec::new());
        }
        let mut search = Search {
            mixture: self,
            ask,
            order: Vec::new(),
            cuts: Vec::new(),
            solved: BTreeMap::new(),
            chosen: Vec::new(),
            best: None,
        };
        if !search.begin(must)? {
            return Ok(Vec::new());
        }
        let mut found = Vec::new();
        for _ in 0..ask.count {
            search.best = search.known();
            search.descend(must, 0)?;
            let Some((_, set)) = search.best else { break };
            search.chosen.push(set);
            found.extend(search.solved.get(&set).cloned().flatten());
        }
        Ok(found)
    }
}

fn parts(set: u64) -> Vec<usize> {
    (0..MOST_PARTS).filter(|p| set >> p & 1 == 1).collect()
}

impl Search<'_> {
    /// Solves all parts at once, for an order to try them in and a first good blend. Whether
    /// anything can be found at all.
    fn begin(&mut self, must: u64) -> Result<bool, NumericError> {
        let all: Vec<usize> = (0..self.mixture.len()).collect();
        let relaxed = Mixture {
            low: (0..self.mixture.len())
                .map(|p| {
                    if must >> p & 1 == 1 {
                        self.mixture.low[p]
                    } else {
                        0.0
                    }
                })
                .collect(),
            ..self.mixture.clone()
        };
        let Solved::Best { blend, caps, cone } = relaxed.solve(&all, true)? else {
            return Ok(false);
        };
        self.cuts.push(Cut::at(self.mixture, &blend, &caps, &cone));
        self.order = all.into_iter().filter(|p| must >> p & 1 == 0).collect();
        self.order
            .sort_by(|a, b| blend.shares[*b].total_cmp(&blend.shares[*a]));
        // The largest shares, then one part changed for another while that helps.
        let slots = self.ask.most - must.count_ones() as usize;
        let mut at = self.order.iter().take(slots).fold(must, |s, p| s | 1 << p);
        let mut value = self.value(at)?;
        loop {
            let mut better = None;
            for out in parts(at & !must) {
                let rest = at & !(1 << out);
                let swaps = self.order.clone().into_iter().filter(|p| at >> p & 1 == 0);
                for set in swaps
                    .map(|p| rest | 1 << p)
                    .chain((rest != 0).then_some(rest))
                {
                    if self.bound(set, 0, value) {
                        continue;
                    }
                    let here = self.value(set)?;
                    if here < value - ROUNDING {
                        value = here;
                        better = Some(set);
                    }
                }
            }
            match better {
                Some(set) => at = set,
                None => return Ok(true),
            }
        }
    }

    /// Whether a set is one of those looked for now.
    fn fits(&self, set: u64) -> bool {
        let apart = |other: &u64| {
            let new = (set & !other).count_ones().max((other & !set).count_ones());
            new as usize >= self.ask.apart.max(1)
        };
        self.chosen.iter().all(apart)
    }

    /// The best of those already solved.
    fn known(&self) -> Option<(f64, u64)> {
        let fitting = self.solved.iter().filter(|(set, _)| self.fits(**set));
        fitting
            .filter_map(|(set, blend)| Some((blend.as_ref()?.value, *set)))
            .min_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// Whether nothing below `taken` with any of `free` can come under a value. The cut that
    /// proves it moves to the front.
    fn bound(&mut self, taken: u64, free: u64, value: f64) -> bool {
        let proves = |cut: &Cut| {
            let least = cut.least(self.mixture, taken, free);
            if cut.feasibility {
                least > ROUNDING
            } else {
                least > value - ROUNDING
            }
        };
        match self.cuts.iter().position(proves) {
            Some(0) => true,
            Some(at) => {
                self.cuts[..=at].rotate_right(1);
                true
            }
            None => false,
        }
    }

    /// What a choice comes to; infinite where it cannot be.
    fn value(&mut self, set: u64) -> Result<f64, NumericError> {
        if let Some(blend) = self.solved.get(&set) {
            return Ok(blend.as_ref().map_or(f64::INFINITY, |b| b.value));
        }
        let parts = parts(set);
        let sum = |of: &[f64]| parts.iter().map(|p| of[*p]).sum::<f64>();
        if sum(&self.mixture.low) > 1.0 + ROUNDING || sum(&self.mixture.high) < 1.0 - ROUNDING {
            return Ok(f64::INFINITY);
        }
        let (cut, blend) = match self.mixture.solve(&parts, true)? {
            Solved::Best { blend, caps, cone } => {
                (Cut::at(self.mixture, &blend, &caps, &cone), Some(blend))
            }
            Solved::Impossible { caps, cone } => {
                (Cut::impossible(self.mixture, &caps, &cone), None)
            }
        };
        self.cuts.insert(0, cut);
        self.cuts.truncate(CUTS);
        let value = blend.as_ref().map_or(f64::INFINITY, |b| b.value);
        self.solved.insert(set, blend);
        Ok(value)
    }

    /// Tries every choice that holds `taken` and parts from place `from` on.
    fn descend(&mut self, taken: u64, from: usize) -> Result<(), NumericError> {
        let limit = self.best.map_or(f64::INFINITY, |b| b.0);
        if taken != 0 && self.fits(taken) && !self.bound(taken, 0, limit) {
            let value = self.value(taken)?;
            if value < limit - ROUNDING {
                self.best = self.known();
            }
        }
        if taken.count_ones() as usize >= self.ask.most {
            return Ok(());
        }
        let free = |order: &[usize], from: usize| order[from..].iter().fold(0, |s, p| s | 1 << p);
        for at in from..self.order.len() {
            let limit = self.best.map_or(f64::INFINITY, |b| b.0);
            // Neither with this part nor with any later one.
            if self.bound(taken, free(&self.order, at), limit) {
                return Ok(());
            }
            let next = taken | 1 << self.order[at];
            if !self.bound(next, free(&self.order, at + 1), limit) {
                self.descend(next, at + 1)?;
            }
        }
        Ok(())
    }
}
