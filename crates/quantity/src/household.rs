//! Household measures: from a volume or a weight back to cups and spoons that can be measured.
//!
//! The scoops of a kitchen differ by country; [`scoops`] names the set each locale is assumed to
//! own. The search takes the fewest scoops whose total comes within the stated error.

use crate::{Hold, Locale, Unit};

/// One scoop of a set: a cup or spoon, or a fraction of one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scoop {
    /// The unit.
    pub unit: Unit,
    /// Numerator of the fraction of the unit.
    pub over: u8,
    /// Denominator of the fraction of the unit.
    pub under: u8,
}

impl Scoop {
    const fn new(unit: Unit, over: u8, under: u8) -> Self {
        Self { unit, over, under }
    }
    /// Its name, written plainly: `1/2 cup`, `1 tbsp`.
    #[must_use]
    pub fn name(self) -> String {
        let unit = self.unit.label();
        if self.under == 1 {
            format!("{} {unit}", self.over)
        } else {
            format!("{}/{} {unit}", self.over, self.under)
        }
    }
    /// The fraction of its unit.
    #[must_use]
    pub fn fraction(self) -> f64 {
        f64::from(self.over) / f64::from(self.under)
    }
    /// Millilitres it holds; 0 for pieces.
    #[must_use]
    pub fn millilitres(self, locale: Locale) -> f64 {
        match self.unit.hold(locale) {
            Hold::Volume(v) => v.likely().as_millilitres() * self.fraction(),
            _ => 0.0,
        }
    }
}

/// The cups and spoons a kitchen of this locale is assumed to own, largest first.
///
/// # Source
/// Retail sets: nested cups 1, ½, ⅓, ¼; spoons 1 tbsp, 1, ½, ¼ tsp, with ⅛ tsp in US
/// sets and ½ tbsp in metric sets; a UK kitchen weighs, with spoons beside the scale and no cups
/// (common practice, no source).
#[must_use]
pub fn scoops(locale: Locale) -> &'static [Scoop] {
    use Unit::{Cup, Tbsp, Tsp};
    const US: &[Scoop] = &[
        Scoop::new(Cup, 1, 1),
        Scoop::new(Cup, 1, 2),
        Scoop::new(Cup, 1, 3),
        Scoop::new(Cup, 1, 4),
        Scoop::new(Tbsp, 1, 1),
        Scoop::new(Tsp, 1, 1),
        Scoop::new(Tsp, 1, 2),
        Scoop::new(Tsp, 1, 4),
        Scoop::new(Tsp, 1, 8),
    ];
    const METRIC: &[Scoop] = &[
        Scoop::new(Cup, 1, 1),
        Scoop::new(Cup, 1, 2),
        Scoop::new(Cup, 1, 3),
        Scoop::new(Cup, 1, 4),
        Scoop::new(Tbsp, 1, 1),
        Scoop::new(Tbsp, 1, 2),
        Scoop::new(Tsp, 1, 1),
        Scoop::new(Tsp, 1, 2),
        Scoop::new(Tsp, 1, 4),
    ];
    const UK: &[Scoop] = &[
        Scoop::new(Tbsp, 1, 1),
        Scoop::new(Tsp, 1, 1),
        Scoop::new(Tsp, 1, 2),
        Scoop::new(Tsp, 1, 4),
    ];
    const AU: &[Scoop] = &[
        Scoop::new(Cup, 1, 1),
        Scoop::new(Cup, 1, 2),
        Scoop::new(Cup, 1, 3),
        Scoop::new(Cup, 1, 4),
        Scoop::new(Tbsp, 1, 1),
        Scoop::new(Tsp, 1, 1),
        Scoop::new(Tsp, 1, 2),
        Scoop::new(Tsp, 1, 4),
    ];
    match locale {
        Locale::Us => US,
        Locale::Metric => METRIC,
        Locale::Uk => UK,
        Locale::Au => AU,
    }
}

/// A volume in scoops.
#[derive(Debug, Clone, PartialEq)]
pub struct Scooped {
    /// How many of which scoop, largest first.
    pub scoops: Vec<(u32, Scoop)>,
    /// (measured − asked) ÷ asked.
    pub error: f64,
}

/// The stated error of a household measure: 3 % either way.
pub const ERROR: f64 = 0.03;
/// The most scoops a reader is asked to count, whole cups apart.
pub const MOST_SCOOPS: u32 = 5;
/// The fewest scoops that hold a volume within `error`.
///
/// # Inputs
/// - `millilitres`: finite, positive.
/// - `error`: the share of the volume that may be missed either way, such as [`ERROR`].
///
/// # Returns
/// The scoops, fewest first in the search; among equals the fewest kinds, then the smallest
/// error, then the bigger scoops. `None` when [`MOST_SCOOPS`] do not reach it (beside whole cups): then the baker weighs.
///
/// # Example
/// ```
/// use quantity::{household, Locale};
/// let cup = household::measure(236.588, Locale::Us, household::ERROR).expect("one cup");
/// assert_eq!(household::words(&cup), "1 cup");
/// ```
#[must_use]
pub fn measure(millilitres: f64, locale: Locale, error: f64) -> Option<Scooped> {
    let set = scoops(locale).iter();
    let set: Vec<_> = set.map(|s| (*s, s.millilitres(locale))).collect();
    measure_with(&set, millilitres, error)
}

/// Like [`measure`], with a drawer of one's own, and each scoop with what it holds.
///
/// # Inputs
/// - `set`: a part of [`scoops`], in its order, each with what it holds: millilitres, or grams of
///   the food that is measured, whose spoons are seldom a true part of its cup.
/// - `amount`: in the same unit; finite, positive.
#[must_use]
pub fn measure_with(set: &[(Scoop, f64)], amount: f64, error: f64) -> Option<Scooped> {
    if !amount.is_finite() || amount <= 0.0 {
        return None;
    }
    // An eighth of a teaspoon is reached for up to a teaspoon: above it nobody adds one.
    let worth = |(s, holds): &&(Scoop, f64)| s.under != 8 || amount <= 8.0 * holds * (1.0 + 1e-3);
    let set: Vec<(Scoop, f64)> = set.iter().filter(worth).copied().collect();
    let &(largest, cup) = set.first()?;
    let sizes: Vec<f64> = set.iter().map(|s| s.1).collect();
    // Whole cups beyond the last one that the error leaves need no search.
    let whole = if largest.unit == Unit::Cup && largest.under == 1 {
        ((amount * (1.0 - error) / cup).floor() - 1.0).max(0.0)
    } else {
        0.0
    };
    if whole > 40.0 {
        return None;
    }
    let rest = amount - whole * cup;
    let allowed = amount * error;
    let mut best: Option<Found> = None;
    for count in 1..=MOST_SCOOPS {
        let mut counts = vec![0; sizes.len()];
        search(&sizes, 0, count, rest, allowed, &mut counts, &mut best);
        if best.is_some() {
            break;
        }
    }
    let Found {
        missed, mut counts, ..
    } = best?;
    counts[0] += whole as u32;
    let scoops = counts
        .into_iter()
        .zip(set.iter().map(|s| s.0))
        .filter(|&(n, _)| n > 0)
        .collect::<Vec<_>>();
    Some(Scooped {
        scoops,
        error: missed / amount,
    })
}

/// The best handful of scoops so far; `rank` is kinds, error in steps, smallest scoop used.
struct Found {
    rank: (usize, u64, usize),
    missed: f64,
    counts: Vec<u32>,
}

/// Tries every way to take exactly `left` more scoops from size `from` on.
fn search(
    sizes: &[f64],
    from: usize,
    left: u32,
    rest: f64,
    allowed: f64,
    counts: &mut Vec<u32>,
    best: &mut Option<Found>,
) {
    if left == 0 {
        if rest.abs() <= allowed {
            let kinds = counts.iter().filter(|&&n| n > 0).count();
            // Errors within a sixth of what is allowed count as equal: then bigger scoops win.
            let step = (rest.abs() / allowed * 6.0 - 1e-6).max(0.0).ceil() as u64;
            let rank = (
                kinds,
                step,
                counts.iter().rposition(|&n| n > 0).unwrap_or(0),
            );
            if best.as_ref().is_none_or(|b| rank < b.rank) {
                *best = Some(Found {
                    rank,
                    missed: -rest,
                    counts: counts.clone(),
                });
            }
        }
        return;
    }
    for i in from..sizes.len() {
        // All that is left, at this size or a later one, would not reach.
        let most = sizes[i..].iter().copied().fold(0.0, f64::max);
        if f64::from(left) * most < rest - allowed {
            return;
        }
        if sizes[i] > rest + allowed {
            continue;
        }
        counts[i] += 1;
        search(sizes, i, left - 1, rest - sizes[i], allowed, counts, best);
        counts[i] -= 1;
    }
}

/// A sum of teaspoons, in twenty-fourths, as the spoons it is measured with: no spoon holds ¾ tsp
/// or ⅝ tsp, so a half with a quarter and any eighth are said apart.
fn teaspoons(twentyfourths: u32) -> Vec<u32> {
    let (halves, rest) = (twentyfourths / 12 * 12, twentyfourths % 12);
    let (quarter, eighth) = (rest / 6 * 6, rest % 6);
    let parts = if halves % 24 == 0 {
        [halves + quarter, 0, eighth]
    } else {
        [halves, quarter, eighth]
    };
    parts.into_iter().filter(|p| *p > 0).collect()
}

/// The scoops in words: `1 cup + 2 tbsp`, `⅔ cup`, `1½ tsp`, `1½ tsp + ¼ tsp`.
#[must_use]
pub fn words(scooped: &Scooped) -> String {
    let mut parts: Vec<String> = Vec::new();
    let mut i = 0;
    while i < scooped.scoops.len() {
        let unit = scooped.scoops[i].1.unit;
        let group: Vec<_> = scooped.scoops[i..]
            .iter()
            .take_while(|(_, s)| s.unit == unit)
            .copied()
            .collect();
        i += group.len();
        // 24 holds halves, thirds, quarters and eighths; eighths are of teaspoons alone.
        let twentyfourths: u32 = group
            .iter()
            .map(|&(n, s)| n * 24 * u32::from(s.over) / u32::from(s.under))
            .sum();
        if unit == Unit::Tsp {
            let spoons = teaspoons(twentyfourths).into_iter();
            let words = spoons.filter_map(fraction_words);
            parts.extend(words.map(|w| format!("{w} {}", unit.label())));
            continue;
        }
        match fraction_words(twentyfourths) {
            Some(text) => {
                let plural = if unit == Unit::Cup && twentyfourths > 24 {
                    "s"
                } else {
                    ""
                };
                parts.push(format!("{text} {}{plural}", unit.label()));
            }
            None => {
                // Thirds and quarters make no usual fraction together: say them apart.
                let (thirds, quarters): (Vec<_>, Vec<_>) = group
                    .iter()
                    .partition(|(_, s)| s.under == 3 || s.under == 1);
                let sum = |part: &[&(u32, Scoop)]| -> u32 {
                    part.iter()
                        .map(|&&(n, s)| n * 24 * u32::from(s.over) / u32::from(s.under))
                        .sum()
                };
                let mut sums = [sum(&thirds), sum(&quarters)];
                sums.sort_unstable_by_key(|s| std::cmp::Reverse(*s));
                for sum in sums {
                    if let Some(text) = fraction_words(sum) {
                        let plural = if unit == Unit::Cup && sum > 24 {
                            "s"
                        } else {
                            ""
                        };
                        parts.push(format!("{text} {}{plural}", unit.label()));
                    }
                }
            }
        }
    }
    parts.join(" + ")
}

/// A number of twenty-fourths as a mixed number, when it has a usual fraction sign.
fn fraction_words(twentyfourths: u32) -> Option<String> {
    let whole = twentyfourths / 24;
    let part = match twentyfourths % 24 {
        0 => "",
        3 => "⅛",
        6 => "¼",
        8 => "⅓",
        12 => "½",
        16 => "⅔",
        18 => "¾",
        _ => return None,
    };
    Some(if whole == 0 && !part.is_empty() {
        part.to_owned()
    } else {
        format!("{whole}{part}")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// The largest measure first; a UK kitchen has spoons and no cups.
    #[test]
    fn largest_first_and_spoons_alone_where_no_cups_are_used() {
        says(236.588 * (5.0 / 6.0), Locale::Us, "½ cup + ⅓ cup");
        says(8.4 / 0.66, Locale::Uk, "2½ tsp");
        assert_eq!(measure(250.0, Locale::Uk, ERROR), None);
        let third = |over, n| (n, Scoop::new(Unit::Cup, over, 3));
        let mixed = Scooped {
            scoops: vec![
                (1, Scoop::new(Unit::Cup, 1, 1)),
                third(1, 2),
                (1, Scoop::new(Unit::Cup, 1, 4)),
            ],
            error: 0.0,
        };
        assert_eq!(words(&mixed), "1⅔ cups + ¼ cup");
    }

    #[track_caller]
    fn says(ml: f64, locale: Locale, want: &str) {
        let got = measure(ml, locale, ERROR).map(|s| words(&s));
        assert_eq!(got.as_deref(), Some(want), "{ml} mL");
    }

    /// Kitchen identities of NIST Handbook 44: 16 tbsp to the cup, 3 tsp to the tablespoon.
    #[test]
    fn usual_amounts_come_back_as_written() {
        let cup = 236.588_236_5;
        says(cup, Locale::Us, "1 cup");
        says(cup * 2.0 / 3.0, Locale::Us, "⅔ cup");
        says(cup * 1.5, Locale::Us, "1½ cups");
        says(cup * 3.0 / 8.0, Locale::Us, "¼ cup + 2 tbsp");
        says(cup * 9.0 / 8.0, Locale::Us, "1 cup + 2 tbsp");
        says(cup / 16.0, Locale::Us, "1 tbsp");
        says(cup / 96.0, Locale::Us, "½ tsp");
        says(7.5, Locale::Uk, "1½ tsp");
        says(20.0, Locale::Au, "1 tbsp");
    }

    /// No spoon holds ⅝, ¾ or ⅞ of a teaspoon.
    #[test]
    fn teaspoons_are_said_as_the_spoons_that_are_owned() {
        let tsp = 4.928_921_593_75;
        for (n, want) in [
            (0.125, "⅛ tsp"),
            (0.25, "¼ tsp"),
            (0.375, "¼ tsp + ⅛ tsp"),
            (0.75, "½ tsp + ¼ tsp"),
            (0.875, "½ tsp + ¼ tsp + ⅛ tsp"),
            (1.25, "1¼ tsp"),
            (1.5, "1½ tsp"),
            (1.75, "1½ tsp + ¼ tsp"),
            (2.75, "2½ tsp + ¼ tsp"),
        ] {
            says(tsp * n, Locale::Us, want);
        }
        for n in [1.625, 2.625] {
            assert_eq!(measure(tsp * n, Locale::Us, ERROR), None, "{n} tsp");
        }
    }

    #[test]
    fn only_the_scoops_of_the_drawer_are_used() {
        let drawer = |names: &[&str]| -> Vec<Scoop> {
            let all = scoops(Locale::Us).iter().copied();
            all.filter(|s| names.contains(&s.name().as_str())).collect()
        };
        let says = |names: &[&str], ml: f64| {
            let set = drawer(names).into_iter();
            let set: Vec<_> = set.map(|s| (s, s.millilitres(Locale::Us))).collect();
            measure_with(&set, ml, ERROR).map(|s| words(&s))
        };
        let cup = 236.588_236_5;
        assert_eq!(says(&["1/2 cup"], cup * 1.5).as_deref(), Some("1½ cups"));
        assert_eq!(says(&["1/4 cup"], cup / 3.0), None);
        let spoons = ["1 tbsp", "1 tsp"];
        assert_eq!(says(&spoons, cup / 4.0).as_deref(), Some("4 tbsp"));
        assert_eq!(says(&spoons, cup * 3.0), None);
        assert_eq!(says(&[], cup), None);
    }

    #[test]
    fn what_no_scoop_reaches_is_not_measured() {
        assert_eq!(measure(0.1, Locale::Us, ERROR), None);
        assert_eq!(measure(f64::NAN, Locale::Us, ERROR), None);
        assert_eq!(measure(-3.0, Locale::Us, ERROR), None);
    }

    proptest! {
        /// Independent check: the scoops are added up again by their own definition.
        #[test]
        fn the_scoops_hold_what_they_say(ml in 0.6..3000.0f64, which in 0usize..4) {
            let locale = Locale::ALL[which];
            if let Some(s) = measure(ml, locale, ERROR) {
                let sum: f64 = s.scoops.iter().map(|&(n, x)| f64::from(n) * x.millilitres(locale)).sum();
                prop_assert!((sum / ml - 1.0 - s.error).abs() < 1e-9);
                prop_assert!(s.error.abs() <= ERROR + 1e-9);
            }
        }

        /// No smaller number of scoops would do: brute force over one and two scoops.
        #[test]
        fn fewest_scoops(ml in 0.6..240.0f64) {
            let set = scoops(Locale::Us);
            let set = if ml > 4.93 { &set[..set.len() - 1] } else { set };
            let size = |s: &Scoop| s.millilitres(Locale::Us);
            let fits = |sum: f64| (sum / ml - 1.0).abs() <= ERROR - 1e-9;
            let one = set.iter().any(|a| fits(size(a)));
            let two = set.iter().any(|a| set.iter().any(|b| fits(size(a) + size(b))));
            let got = measure(ml, Locale::Us, ERROR).map(|s| s.scoops.iter().map(|x| x.0).sum::<u32>());
            if one { prop_assert_eq!(got, Some(1)); } else if two { prop_assert_eq!(got, Some(2)); }
        }
    }
}
