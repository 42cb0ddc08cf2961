//! The scoops a kitchen has, and the search for the fewest of them that hold an amount.

use super::ways::{PARTS, UNDERS, Way, ways};
use super::{MOST_SCOOPS, Scoop, Scooped, scoops};
use crate::{Locale, Unit};
use std::cmp::Reverse;

/// The units that scoops come in, largest first.
const UNITS: [Unit; 3] = [Unit::Cup, Unit::Tbsp, Unit::Tsp];

/// Whose cups and spoons, and which of them are in the drawer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Drawer {
    locale: Locale,
    /// Of each of [`UNITS`] the scoops there are, as bits by their place in [`UNDERS`].
    scoops: [u8; UNITS.len()],
}

impl Drawer {
    /// Only the scoops named, such as `1/2 cup`; a name that this locale has no scoop for is
    /// passed over.
    #[must_use]
    pub fn of<S: AsRef<str>>(locale: Locale, names: &[S]) -> Self {
        let owned = |s: &&Scoop| names.iter().any(|n| n.as_ref() == s.name());
        Self::with(locale, scoops(locale).iter().filter(owned))
    }
    fn with<'a>(locale: Locale, all: impl Iterator<Item = &'a Scoop>) -> Self {
        let mut scoops = [0; UNITS.len()];
        for scoop in all {
            let unit = UNITS.iter().position(|u| *u == scoop.unit);
            let size = UNDERS.iter().position(|u| *u == scoop.under);
            if let (Some(unit), Some(size)) = (unit, size) {
                scoops[unit] |= 1 << size;
            }
        }
        Self { locale, scoops }
    }
    /// Whose cups and spoons.
    #[must_use]
    pub fn locale(self) -> Locale {
        self.locale
    }
    /// The fewest scoops that hold an amount within `error`, as [`measure`](super::measure) takes them.
    ///
    /// # Inputs
    /// - `amount`: finite, positive; millilitres, or grams of the food that is measured.
    /// - `holds`: what a whole unit holds, in the unit of `amount`; the spoons of a food are seldom a true part
    ///   of its cup.
    /// - `error`: the share of the amount that may be missed either way.
    ///
    /// # Returns
    /// `None` where the scoops do not reach it as a cookbook would say it, or what a unit in the drawer holds
    /// is not known.
    #[must_use]
    pub fn measure(
        self,
        amount: f64,
        holds: impl Fn(Unit) -> Option<f64>,
        error: f64,
    ) -> Option<Scooped> {
        if !amount.is_finite() || amount <= 0.0 {
            return None;
        }
        let mut measures = [Measure::default(); UNITS.len()];
        for (i, measure) in measures.iter_mut().enumerate() {
            if self.scoops[i] != 0 {
                *measure = self.of_unit(i, holds(UNITS[i])?, amount);
            }
        }
        // Whole cups beyond the last one that the error leaves need no search.
        let cup = measures[0].part * f64::from(PARTS);
        let whole = if self.scoops[0] & 1 == 1 {
            ((amount * (1.0 - error) / cup).floor() - 1.0).max(0.0)
        } else {
            0.0
        };
        if whole > MOST_WHOLE_CUPS {
            return None;
        }
        let mut search = Search {
            measures,
            rest: amount - whole * cup,
            allowed: amount * error,
            best: None,
        };
        search.run();
        let (rank, missed) = search.best?;
        let mut counts = rank.counts.0.map(|unit| unit.map(u32::from));
        counts[0][0] += whole as u32;
        let scoops = counts.iter().zip(UNITS).flat_map(|(counts, unit)| {
            let each = counts.iter().zip(UNDERS).filter(|(n, _)| **n > 0);
            each.map(move |(n, under)| (*n, Scoop::new(unit, 1, under)))
        });
        Some(Scooped {
            scoops: scoops.collect(),
            error: missed / amount,
        })
    }
    /// What a unit's scoops can say of an amount: less than three teaspoons where a tablespoon is three, no
    /// half tablespoon without a whole one, and an eighth of a teaspoon up to a teaspoon, above which nobody
    /// adds one.
    fn of_unit(self, i: usize, holds: f64, amount: f64) -> Measure {
        const EIGHTH: u8 = 1 << (UNDERS.len() - 1);
        let [_, tablespoons, _] = self.scoops;
        let mut scoops = self.scoops[i];
        if amount > holds * (1.0 + 1e-3) {
            scoops &= !EIGHTH;
        }
        let all = ways(scoops);
        // Of Australia's tablespoons no three teaspoons are one, and four are said as often.
        let is_three = tablespoons & 1 == 1 && self.locale != Locale::Au;
        let below = |parts: u32| all.partition_point(|w| w.parts < parts);
        let ways = match UNITS[i] {
            Unit::Tbsp => &all[below(PARTS)..],
            Unit::Tsp if is_three => &all[..below(3 * PARTS)],
            _ => all,
        };
        Measure {
            part: holds / f64::from(PARTS),
            ways,
        }
    }
}

impl From<Locale> for Drawer {
    /// All the scoops that a kitchen of this locale usually has.
    fn from(locale: Locale) -> Self {
        Self::with(locale, scoops(locale).iter())
    }
}

/// The most whole cups that anyone counts.
const MOST_WHOLE_CUPS: f64 = 40.0;

/// A quarter of a cup, four tablespoons, is said in cups beside cups.
const A_QUARTER_CUP: u32 = 4 * PARTS;

/// What one unit can say.
#[derive(Clone, Copy, Default)]
struct Measure {
    /// What a part of the unit holds.
    part: f64,
    ways: &'static [Way],
}

impl Measure {
    fn holds(&self, way: &Way) -> f64 {
        f64::from(way.parts) * self.part
    }
    /// The ways that hold from `least` to `most`.
    fn between(&self, least: f64, most: f64) -> impl Iterator<Item = &'static Way> {
        let from = self.ways.partition_point(|w| self.holds(w) < least);
        let part = self.part;
        let within = move |w: &&Way| f64::from(w.parts) * part <= most;
        self.ways[from..].iter().take_while(within)
    }
}

/// How good a handful is, the least the best: the fewest scoops, then kinds, then the error in steps, then
/// the smallest scoop, then more of the bigger ones.
#[derive(PartialEq, PartialOrd)]
struct Rank {
    scoops: u32,
    kinds: usize,
    step: u32,
    smallest: (usize, usize),
    counts: Reverse<[[u8; UNDERS.len()]; UNITS.len()]>,
}

/// The search for the best handful of at most two units.
struct Search {
    measures: [Measure; UNITS.len()],
    rest: f64,
    allowed: f64,
    /// The best so far, and by how much it is too much.
    best: Option<(Rank, f64)>,
}

impl Search {
    fn run(&mut self) {
        let measures = self.measures;
        let (rest, allowed) = (self.rest, self.allowed);
        for (i, large) in measures.iter().enumerate() {
            let smaller = &measures[i + 1..];
            let most = |m: &Measure| m.ways.last().map_or(0.0, |w| m.holds(w));
            let beside = smaller.iter().map(most).fold(0.0, f64::max);
            for way in large.between(rest - allowed - beside, rest + allowed) {
                let left = rest - large.holds(way);
                if left.abs() <= allowed {
                    self.offer(&[(i, way)], left);
                }
                for (j, small) in smaller.iter().enumerate() {
                    for other in small.between(left - allowed, left + allowed) {
                        let j = i + 1 + j;
                        let many = UNITS[j] == Unit::Tbsp && other.parts >= A_QUARTER_CUP;
                        if !many && !other.has_eighth() {
                            self.offer(&[(i, way), (j, other)], left - small.holds(other));
                        }
                    }
                }
            }
        }
    }
    fn offer(&mut self, taken: &[(usize, &Way)], rest: f64) {
        let scoops = taken.iter().map(|(_, w)| w.scoops).sum();
        if scoops > MOST_SCOOPS || self.best.as_ref().is_some_and(|b| b.0.scoops < scoops) {
            return;
        }
        let mut counts = [[0; UNDERS.len()]; UNITS.len()];
        for (unit, way) in taken {
            counts[*unit] = way.counts;
        }
        let rank = Rank {
            scoops,
            kinds: taken.iter().map(|(_, w)| w.kinds).sum(),
            // Errors within a sixth of what is allowed count as equal: then bigger scoops win.
            step: (rest.abs() / self.allowed * 6.0 - 1e-6).max(0.0).ceil() as u32,
            smallest: taken.last().map_or((0, 0), |(unit, w)| (*unit, w.smallest)),
            counts: Reverse(counts),
        };
        if self.best.as_ref().is_none_or(|b| rank < b.0) {
            self.best = Some((rank, -rest));
        }
    }
}
