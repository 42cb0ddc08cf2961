//! Household measures: from a volume or a weight back to cups and spoons that can be measured.
//!
//! The scoops of a kitchen differ by country; [`scoops`] names the set each locale is assumed to
//! own. The search takes the fewest scoops whose total comes within the stated error, among those
//! that make an amount as a cookbook says it: of two measures at most, each whole or with one
//! fraction.

mod drawer;
mod ways;

pub use drawer::Drawer;

use crate::{Hold, Locale, Unit};
use ways::PARTS;

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
/// Retail sets: nested cups 1, ½, ⅓, ¼; spoons 1 tbsp, 1, ½, ¼ tsp, with ½ tbsp and ⅛ tsp in US
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
        Scoop::new(Tbsp, 1, 2),
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

/// The fewest scoops that hold a volume within `error`, as a cookbook says them: of two measures at most,
/// each whole or with one usual fraction; of fewer teaspoons than make a tablespoon that is there, of a
/// half tablespoon beside whole ones, and beside cups of fewer tablespoons than a quarter of one. An
/// eighth of a teaspoon goes beside a half or a quarter one alone (common practice, no source).
///
/// # Inputs
/// - `millilitres`: finite, positive.
/// - `error`: the share of the volume that may be missed either way, such as [`ERROR`].
///
/// # Returns
/// The scoops, fewest first in the search; among equals the fewest kinds, then the smallest
/// error, then the bigger scoops. `None` when [`MOST_SCOOPS`] do not
/// reach it (beside whole cups) in those words: then the baker weighs.
///
/// # Example
/// ```
/// use quantity::{household, Locale};
/// let cup = household::measure(236.588, Locale::Us, household::ERROR).expect("one cup");
/// assert_eq!(household::words(&cup), "1 cup");
/// ```
#[must_use]
pub fn measure(millilitres: f64, locale: Locale, error: f64) -> Option<Scooped> {
    let holds = |unit| Some(Scoop::new(unit, 1, 1).millilitres(locale));
    Drawer::from(locale).measure(millilitres, holds, error)
}

/// What so many of a scoop come to in its unit, in [`PARTS`] of it.
fn parts(n: u32, scoop: Scoop) -> u32 {
    n * PARTS * u32::from(scoop.over) / u32::from(scoop.under)
}

/// What scoops come to in each unit, in [`PARTS`] of it.
fn sums(scoops: &[(u32, Scoop)]) -> Vec<(Unit, u32)> {
    let mut out: Vec<(Unit, u32)> = Vec::new();
    for (n, s) in scoops {
        let parts = parts(*n, *s);
        match out.last_mut() {
            Some((unit, sum)) if *unit == s.unit => *sum += parts,
            _ => out.push((s.unit, parts)),
        }
    }
    out
}

/// The scoops in words: `1 cup + 2 tbsp`, `⅔ cup`, `1½ tsp`, `½ tsp + ⅛ tsp`. What has no usual fraction is
/// counted scoop by scoop.
#[must_use]
pub fn words(scooped: &Scooped) -> String {
    let apart = scooped.scoops.iter().any(|(_, s)| s.under == 8);
    let part = |(unit, parts): (Unit, u32)| {
        let plural = if unit == Unit::Cup && parts > PARTS {
            "s"
        } else {
            ""
        };
        Some(format!(
            "{} {}{plural}",
            fraction_words(parts)?,
            unit.label()
        ))
    };
    let sums = match apart {
        true => scooped.scoops.iter().flat_map(|s| sums(&[*s])).collect(),
        false => sums(&scooped.scoops),
    };
    let said: Option<Vec<String>> = sums.into_iter().map(part).collect();
    let counted = || {
        let each = scooped.scoops.iter();
        each.map(|(n, s)| format!("{n} × {}", s.name())).collect()
    };
    said.unwrap_or_else(counted).join(" + ")
}

/// The sign of what a number of parts has beyond whole units, where it is a usual fraction.
fn fraction(parts: u32) -> Option<&'static str> {
    Some(match parts % PARTS {
        0 => "",
        3 => "⅛",
        6 => "¼",
        8 => "⅓",
        12 => "½",
        16 => "⅔",
        18 => "¾",
        _ => return None,
    })
}

/// A number of parts as a mixed number, when it has a usual fraction sign.
fn fraction_words(parts: u32) -> Option<String> {
    let (whole, part) = (parts / PARTS, fraction(parts)?);
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
        says(236.588 * (5.0 / 8.0), Locale::Us, "½ cup + 2 tbsp");
        says(8.4 / 0.66, Locale::Uk, "2½ tsp");
        assert_eq!(measure(250.0, Locale::Uk, ERROR), None);
    }

    /// As cookbooks say it (common practice, no source): two measures at most, one fraction in each, no
    /// three teaspoons for a tablespoon. By hand, of 48 tsp to the cup: ½ + ⅓ cup is 40 tsp, and ¾ cup with 1 tbsp
    /// 39, 2.5 % less; ⅔ + ¼ cup is 44, and ¾ cup with 3 tbsp 45.
    #[test]
    fn amounts_are_said_as_in_a_cookbook() {
        let tsp = 4.928_921_593_75;
        says(tsp * 40.0, Locale::Us, "¾ cup + 1 tbsp");
        says(tsp * 44.0, Locale::Us, "¾ cup + 3 tbsp");
        says(tsp * 3.0, Locale::Us, "1 tbsp");
        says(tsp * 6.0, Locale::Us, "2 tbsp");
        says(tsp * 4.5, Locale::Us, "1½ tbsp");
        says(tsp * 0.375, Locale::Us, "¼ tsp + ⅛ tsp");
        says(tsp * 0.625, Locale::Us, "½ tsp + ⅛ tsp");
        says(15.0, Locale::Au, "3 tsp");
        assert_eq!(measure(tsp * 0.875, Locale::Us, ERROR), None);
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

    #[test]
    fn teaspoons_are_said_in_quarters() {
        let tsp = 4.928_921_593_75;
        for (n, want) in [
            (0.125, "⅛ tsp"),
            (0.25, "¼ tsp"),
            (0.75, "¾ tsp"),
            (1.25, "1¼ tsp"),
            (1.5, "1½ tsp"),
            (1.75, "1¾ tsp"),
            (2.75, "2¾ tsp"),
        ] {
            says(tsp * n, Locale::Us, want);
        }
        for n in [1.625, 2.625] {
            assert_eq!(measure(tsp * n, Locale::Us, ERROR), None, "{n} tsp");
        }
    }

    #[test]
    fn only_the_scoops_of_the_drawer_are_used() {
        let says = |names: &[&str], ml: f64| {
            let holds = |unit| Some(Scoop::new(unit, 1, 1).millilitres(Locale::Us));
            let found = Drawer::of(Locale::Us, names).measure(ml, holds, ERROR);
            found.map(|s| words(&s))
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
            // Of one unit, two make a whole or a usual fraction; half a tablespoon goes beside whole ones.
            let usual = |f: f64| [0.25, 1.0 / 3.0, 0.5, 2.0 / 3.0, 0.75, 0.375, 0.625].iter().any(|u| (f - u).abs() < 1e-9);
            let half = |s: &Scoop| s.unit == Unit::Tbsp && s.under == 2;
            let said = |a: &Scoop, b: &Scoop| {
                let sum = a.fraction() + b.fraction();
                match a.unit == b.unit {
                    true => sum.fract() < 1e-9 || usual(sum.fract()),
                    false => !half(a) && !half(b) && a.under != 8 && b.under != 8,
                }
            };
            let one = set.iter().any(|a| !half(a) && fits(size(a)));
            let two = set.iter().any(|a| set.iter().any(|b| said(a, b) && fits(size(a) + size(b))));
            let got = measure(ml, Locale::Us, ERROR).map(|s| s.scoops.iter().map(|x| x.0).sum::<u32>());
            if one { prop_assert_eq!(got, Some(1)); } else if two { prop_assert_eq!(got, Some(2)); }
        }
    }
}
