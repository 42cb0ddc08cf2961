//! Sugar against water: syrup strength, water activity, and what sets or spoils by them.
//!
//! The water of a mix dissolves its sugar to a syrup. How strong it is decides whether a glaze
//! crystallises, whether a filling keeps, and how late a cake sets. Everything here is worked
//! out from the compositions of the larder; nothing is measured.
//!
//! # Limits
//! - Only sugars count. Salt, protein, starch and fibre bind water too, so the true water
//!   activity is a little lower; sugar alcohols and the longer chains of glucose syrup are left
//!   out as well.
//! - Norrish's equation is good to 0.01 for sucrose up to saturation and for glucose, and reads up
//!   to 0.04 too low for fructose beyond 75 % (the tests beside it say so).
//! - Water that boils off is not known: of a cooked filling this is the strength *before*.

use crate::data::rows;
use crate::weigh::counts_as_wet;
use larder::{FoodId, Function, Larder};
use quantity::{Mass, Quantity, Ratio, Spread};
use std::sync::LazyLock;

/// Grams of water in a mole.
const WATER: f64 = 18.015;

/// A kind of sugar.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sugar {
    /// Cane and beet sugar.
    Sucrose,
    /// Grape sugar, dextrose.
    Glucose,
    /// Fruit sugar.
    Fructose,
    /// Milk sugar.
    Lactose,
    /// Malt sugar.
    Maltose,
}

impl Sugar {
    /// Every kind.
    pub const ALL: [Self; 5] = [
        Self::Sucrose,
        Self::Glucose,
        Self::Fructose,
        Self::Lactose,
        Self::Maltose,
    ];
    /// The word in machine-readable output.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Sucrose => "sucrose",
            Self::Glucose => "glucose",
            Self::Fructose => "fructose",
            Self::Lactose => "lactose",
            Self::Maltose => "maltose",
        }
    }
    fn molar(self) -> f64 {
        match self {
            Self::Sucrose | Self::Lactose | Self::Maltose => 342.30,
            Self::Glucose | Self::Fructose => 180.16,
        }
    }
    /// Norrish's constant. Sucrose 6.47 is seen in public code that computes with it; the rest
    /// are from memory of Chirife's review (glucose and fructose 2.25, maltose 4.54, lactose 10.2).
    fn norrish(self) -> f64 {
        match self {
            Self::Sucrose => 6.47,
            Self::Glucose | Self::Fructose => 2.25,
            Self::Lactose => 10.2,
            Self::Maltose => 4.54,
        }
    }
    /// The most that 100 g of solution hold at 20 °C, g. Sucrose 66.74 is from a published table
    /// of solubility; the rest are from memory.
    fn holds(self) -> f64 {
        match self {
            Self::Sucrose => SUCROSE_HELD,
            Self::Glucose => 47.7,
            Self::Fructose => 78.9,
            Self::Lactose => 16.1,
            Self::Maltose => 43.8,
        }
    }
}

/// Sucrose that 100 g of solution hold at 20 °C, g (published table of solubility, seen).
pub const SUCROSE_HELD: f64 = 66.74;
/// Above this strength a cake has more sugar than water, percent.
pub const CAKE_STRENGTH: f64 = 50.0;
/// From this strength pectin sets a jam, percent (from memory).
pub const JAM_STRENGTH: f64 = 65.0;
/// Below this strength a glaze or a filling set by sugar alone stays thin, percent (common
/// practice, no source).
pub const THIN: f64 = 55.0;
/// Above this water activity a moist filling counts as perishable (Penn State table after Beuchat
/// 1981, seen).
pub const PERISHABLE: f64 = 0.85;

/// Sucrose in a saturated solution, percent, from 0 to 100 °C: straight lines between the points
/// of a published table (0 °C 64.44, 20 °C 66.74, 40 °C 70.22, 60 °C 74.32, 80 °C 78.74, 100 °C
/// 82.89; seen). Outside them the end value.
///
/// # Example
/// ```
/// assert!((recipe::syrup::sucrose_held(30.0) - 68.48).abs() < 0.01);
/// ```
#[must_use]
pub fn sucrose_held(celsius: f64) -> f64 {
    const AT: [(f64, f64); 6] = [
        (0.0, 64.44),
        (20.0, SUCROSE_HELD),
        (40.0, 70.22),
        (60.0, 74.32),
        (80.0, 78.74),
        (100.0, 82.89),
    ];
    let t = celsius.clamp(0.0, 100.0);
    AT.windows(2).find(|w| t <= w[1].0).map_or(AT[5].1, |w| {
        w[0].1 + (w[1].1 - w[0].1) * (t - w[0].0) / (w[1].0 - w[0].0)
    })
}

/// Water activity of a solution of sugars by Norrish's equation,
/// ln a = ln x(water) − (Σ √K x(sugar))².
///
/// # Inputs
/// - `water`: grams, above 0. - `sugars`: grams of each kind, all of it dissolved.
///
/// # Returns
/// 0 to 1; 1 for pure water.
///
/// # Source
/// Norrish 1966, J Food Technol 1:25 (from memory); it is the form public code uses (seen:
/// scisuit, wateractivity.py, for one sugar).
///
/// # Example
/// ```
/// use recipe::syrup::{Sugar, water_activity};
/// let a = water_activity(32.5, &[(Sugar::Sucrose, 67.5)]);
/// assert!((a - 0.845).abs() < 0.005);
/// ```
#[must_use]
pub fn water_activity(water: f64, sugars: &[(Sugar, f64)]) -> f64 {
    let moles_water = water / WATER;
    let all = moles_water + sugars.iter().map(|(s, g)| g / s.molar()).sum::<f64>();
    if all <= 0.0 {
        return 1.0;
    }
    let bend: f64 = sugars
        .iter()
        .map(|(s, g)| s.norrish().sqrt() * g / s.molar() / all)
        .sum();
    moles_water / all * (-bend * bend).exp()
}

/// Water activity by the equation of Money and Born, 1 / (1 + 0.27 n), n moles of sugar to 100 g of
/// water: what confectioners use; a second opinion for the tests and the curious.
///
/// # Source
/// Money and Born 1951 (from memory); seen in public code (scisuit, wateractivity.py).
#[must_use]
pub fn money_born(water: f64, sugars: &[(Sugar, f64)]) -> f64 {
    let n: f64 = sugars.iter().map(|(s, g)| g / s.molar()).sum::<f64>() * 100.0 / water;
    1.0 / (1.0 + 0.27 * n)
}

/// What the syrup is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Use {
    /// A glaze, icing, syrup or filling without flour.
    Sweet,
    /// A batter or cake raised without yeast.
    Cake,
    /// A yeast dough.
    Dough,
}

/// A remark with its source.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Remark {
    /// The sentence for the baker.
    pub words: String,
    /// Where its limit comes from.
    pub source: &'static str,
}

/// The syrup of a mix.
#[derive(Debug, Clone, PartialEq)]
pub struct Syrup {
    /// Sugar of every line outside the flour phase, that of milk and fruit with it.
    pub sugar: Spread<Mass>,
    /// Water of every line outside the flour phase.
    pub water: Spread<Mass>,
    /// Fat of the same lines, g.
    pub fat: f64,
    /// Sugar by kind, g; kinds of which there is none left out.
    pub kinds: Vec<(Sugar, f64)>,
    /// Sugar over sugar and water, percent; `None` with neither.
    pub strength: Option<Spread<Ratio>>,
    /// Water activity of the water with the sugar it holds at 20 °C; `None` without water.
    pub water_activity: Option<f64>,
    /// Sugar that the water does not hold at 20 °C, g.
    pub undissolved: f64,
    /// Lines whose composition only a label tells: they are not in it.
    pub unknown: Vec<FoodId>,
}

/// A food with the shares of its sugar.
type Shares = (&'static str, [f64; 5]);

static KINDS: LazyLock<Vec<Shares>> = LazyLock::new(|| {
    rows(include_str!("../data/sugar_kinds.tsv"))
        .map(|r| {
            let shares = Sugar::ALL.map(|s| r.number(s.word()));
            (r.get("food"), shares)
        })
        .collect()
});

/// Shares of the kinds in a food's sugar, in the order of [`Sugar::ALL`].
fn shares(larder: &Larder, food: FoodId) -> [f64; 5] {
    let is = larder.food(food);
    let row = |key: &str| KINDS.iter().find(|k| k.0 == key).map(|k| k.1);
    row(&is.key)
        .or_else(|| row("fruit").filter(|_| is.does(Function::Fruit)))
        .unwrap_or(if is.does(Function::Dairy) {
            [0.0, 0.0, 0.0, 1.0, 0.0]
        } else {
            [1.0, 0.0, 0.0, 0.0, 0.0]
        })
}

impl Syrup {
    /// The syrup of weighed foods.
    ///
    /// # Inputs
    /// - `lines`: foods with their grams, flours among them or not: neither their sugar nor their
    ///   water counts.
    ///
    /// # Example
    /// ```
    /// use larder::Larder;
    /// use quantity::{Mass, Spread};
    /// let larder = Larder::built_in().expect("the built-in tables");
    /// let of = |key: &str, g: f64| {
    ///     (larder.by_key(key).expect("a food"), Spread::exact(Mass::grams(g)))
    /// };
    /// let syrup = recipe::syrup::Syrup::of(&[of("white_sugar", 100.0), of("water", 100.0)], &larder);
    /// assert!((syrup.strength.expect("sugar and water").likely().get() - 49.9).abs() < 0.1);
    /// ```
    #[must_use]
    pub fn of(lines: &[(FoodId, Spread<Mass>)], larder: &Larder) -> Self {
        let mut kinds = [0.0; 5];
        let (mut sugars, mut waters, mut unknown) = (Vec::new(), Vec::new(), Vec::new());
        let mut fat = 0.0;
        for (food, grams) in lines {
            let is = larder.food(*food);
            if is.flour_share() > 0.0 {
                continue;
            }
            let c = larder.composition(*food);
            if c.water.is_none() && c.sugars.is_none() {
                unknown.push(*food);
                continue;
            }
            fat += grams.likely().as_grams() * c.fat.unwrap_or(0.0) / 100.0;
            let sugar = grams.scaled(c.sugars.unwrap_or(0.0) / 100.0);
            for (sum, share) in kinds.iter_mut().zip(shares(larder, *food)) {
                *sum += share * sugar.likely().as_grams();
            }
            sugars.push(sugar);
            if counts_as_wet(larder, *food) {
                waters.push(grams.scaled(c.water.unwrap_or(0.0) / 100.0));
            }
        }
        let sugar = Spread::sum_independent(sugars);
        let water = Spread::sum_independent(waters);
        let w = water.likely().as_grams();
        let kinds: Vec<(Sugar, f64)> = Sugar::ALL
            .into_iter()
            .zip(kinds)
            .filter(|k| k.1 > 0.0)
            .collect();
        let held: Vec<(Sugar, f64)> = kinds
            .iter()
            .map(|(s, g)| (*s, g.min(w * s.holds() / (100.0 - s.holds()))))
            .collect();
        let all = |k: &[(Sugar, f64)]| k.iter().map(|k| k.1).sum::<f64>();
        let percent = |s: Mass, w: Mass| {
            let sum = s.as_grams() + w.as_grams();
            Ratio::new(if sum > 0.0 {
                100.0 * s.as_grams() / sum
            } else {
                0.0
            })
        };
        let some = sugar.likely().value() + water.likely().value() > 0.0;
        Self {
            undissolved: all(&kinds) - all(&held),
            strength: some.then(|| {
                Spread::new(
                    percent(sugar.low(), water.high()),
                    percent(sugar.likely(), water.likely()),
                    percent(sugar.high(), water.low()),
                )
            }),
            water_activity: (w > 0.0).then(|| water_activity(w, &held)),
            sugar,
            water,
            fat,
            kinds,
            unknown,
        }
    }

    /// Whether the fat holds all the rest, as in a buttercream: its sugar lies in the fat and makes no syrup.
    fn is_of_fat(&self) -> bool {
        self.fat > self.water.likely().as_grams()
    }

    /// Grams of one kind.
    #[must_use]
    pub fn grams(&self, kind: Sugar) -> f64 {
        self.kinds.iter().find(|k| k.0 == kind).map_or(0.0, |k| k.1)
    }

    /// What the strength means for a use.
    ///
    /// # Returns
    /// Nothing where it decides nothing: a lean dough, a savoury filling.
    #[must_use]
    pub fn remarks(&self, what: Use) -> Vec<Remark> {
        let mut all = Vec::new();
        let Some(strength) = self.strength.map(|s| s.likely().get()) else {
            return all;
        };
        let (sugar, water) = (
            self.sugar.likely().as_grams(),
            self.water.likely().as_grams(),
        );
        match what {
            Use::Dough => {}
            Use::Cake => {
                if strength > CAKE_STRENGTH {
                    all.push(Remark {
                        words: format!(
                            "{sugar:.0} g of sugar to {water:.0} g of water, a syrup of {strength:.0} %: above {CAKE_STRENGTH} % the crumb sets late and may sink. Bake to the core temperature, or take sugar off or liquid on"
                        ),
                        source: "liquid, eggs with it, at least as heavy as the sugar: common practice, no source",
                    });
                }
            }
            Use::Sweet => {
                if sugar < 1.0 || water < 1.0 || strength < 20.0 {
                    return all;
                }
                let sucrose = self.grams(Sugar::Sucrose);
                if self.is_of_fat() {
                    // It sets by its fat.
                } else if 100.0 * sucrose / (sucrose + water) > SUCROSE_HELD {
                    all.push(Remark {
                        words: format!(
                            "a syrup of {strength:.0} % as weighed: water holds {SUCROSE_HELD} % at 20 °C, so about {:.0} g of sugar stays or turns to crystals. It sets by that; for a smooth one swap a tenth of the sugar for glucose syrup or honey",
                            self.undissolved
                        ),
                        source: "solubility of sucrose, published table; a tenth: common practice, no source",
                    });
                } else if strength < THIN {
                    all.push(Remark {
                        words: format!(
                            "a syrup of {strength:.0} % as weighed: it stays thin, and soaks in where it is brushed or poured on. Only where it is to set, as a glaze or a filling, does it need starch, egg, gelatine, pectin, fat or more boiling"
                        ),
                        source: "common practice, no source",
                    });
                } else if strength < JAM_STRENGTH {
                    all.push(Remark {
                        words: format!(
                            "a syrup of {strength:.0} % as weighed: it stays a syrup. Pectin sets from about {JAM_STRENGTH} %, crystals form above {SUCROSE_HELD} %"
                        ),
                        source: "setting of jam from memory; solubility of sucrose, published table",
                    });
                }
                if let Some(a) = self.water_activity
                    && a > PERISHABLE
                {
                    all.push(Remark {
                        words: format!(
                            "water activity about {a:.2} by its sugar: above {PERISHABLE} most moulds grow, and bacteria where it is not sour: keep it cold"
                        ),
                        source: "Penn State table of water activity and spoilage, after Beuchat 1981; figure by Norrish's equation",
                    });
                }
            }
        }
        all
    }
}

/// Butter taken apart: fat and water of an amount.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ButterForOil {
    /// Butter.
    pub butter: Mass,
    /// Oil with as much fat.
    pub oil: Mass,
    /// Water that goes with the oil, so that the mix keeps its water.
    pub water: Mass,
}

/// Fat in a gram of butter, g: the 80 % of the rule, which is the legal minimum (project rules,
/// sections 12 and 15; USDA SR28 01145 gives 81.1).
const BUTTER_FAT: f64 = 0.80;
/// Water in a gram of butter (USDA SR28 01145: 17.94 in 100 g).
const BUTTER_WATER: f64 = 0.1794;

/// Oil and water in place of butter: 100 g of butter are 80 g of fat and 18 g of water.
///
/// # Source
/// Project rules, section 12; USDA SR28 01145 (seen).
///
/// # Example
/// ```
/// use quantity::Mass;
/// let swap = recipe::syrup::oil_for_butter(Mass::grams(100.0));
/// assert_eq!((swap.oil.as_grams(), swap.water.as_grams()), (80.0, 17.94));
/// ```
#[must_use]
pub fn oil_for_butter(butter: Mass) -> ButterForOil {
    ButterForOil {
        butter,
        oil: butter * BUTTER_FAT,
        water: butter * BUTTER_WATER,
    }
}

/// Butter in place of oil: with as much fat, and the water to leave out elsewhere.
#[must_use]
pub fn butter_for_oil(oil: Mass) -> ButterForOil {
    oil_for_butter(Mass::grams(oil.as_grams() / BUTTER_FAT))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(sugar: Sugar, percent: f64) -> f64 {
        water_activity(100.0 - percent, &[(sugar, percent)])
    }

    /// Water activity of sucrose solutions at 25 °C, moles to 1 kg of water (Robinson and Stokes,
    /// isopiestic standard; from memory): 1 m 0.9806, 2 m 0.9581, 4 m 0.9057, 6 m 0.8499.
    /// 100 g of sugar in 150 g of water are 40 %: to be brushed on a cake it is as it should be, so nothing must set
    /// it.
    #[test]
    fn a_thin_syrup_may_stay_thin() {
        let larder = Larder::built_in().expect("the built-in tables");
        let of = |key: &str, g: f64| {
            let food = larder.by_key(key).expect("a food");
            (food, Spread::exact(Mass::grams(g)))
        };
        let syrup = Syrup::of(&[of("white_sugar", 100.0), of("water", 150.0)], &larder);
        let said = &syrup.remarks(Use::Sweet)[0].words;
        assert!(said.starts_with("a syrup of 40 %"), "{said}");
        assert!(
            said.contains("soaks in") && !said.contains("must"),
            "{said}"
        );
    }

    #[test]
    fn sucrose_agrees_with_the_isopiestic_standard() {
        for (molal, expected) in [(1.0, 0.9806), (2.0, 0.9581), (4.0, 0.9057), (6.0, 0.8499)] {
            let a = water_activity(1000.0, &[(Sugar::Sucrose, molal * 342.30)]);
            assert!((a - expected).abs() < 0.004, "{molal} m: {a}");
        }
    }

    /// Penn State table after Beuchat 1981 (seen): 55 % of sucrose stands at 0.91 and above, 65 %
    /// at 0.87. The table rounds to bands, so 0.01.
    #[test]
    fn sucrose_agrees_with_a_published_table_of_foods() {
        assert!((of(Sugar::Sucrose, 55.0) - 0.91).abs() < 0.01);
        assert!((of(Sugar::Sucrose, 65.0) - 0.87).abs() < 0.01);
    }

    /// Saturated at 25 °C (from memory of published tables): sucrose 67.5 % 0.844, glucose 51 %
    /// 0.89, fructose 80 % 0.63. Fructose shows the limit of the equation.
    #[test]
    fn saturated_solutions() {
        assert!((of(Sugar::Sucrose, 67.5) - 0.844).abs() < 0.01);
        assert!((of(Sugar::Glucose, 51.0) - 0.89).abs() < 0.01);
        let fructose = of(Sugar::Fructose, 80.0);
        assert!(
            (fructose - 0.63).abs() < 0.04 && fructose < 0.63,
            "{fructose}"
        );
    }

    /// Invert sugar is glucose and fructose; a syrup of 77 % has about 0.69–0.70 (from memory). Two
    /// equations made apart, Norrish and Money–Born, agree within 0.03 up to there.
    #[test]
    fn invert_sugar_and_a_second_equation() {
        for percent in [30.0, 50.0, 65.0, 77.0] {
            let mix = [
                (Sugar::Glucose, percent / 2.0),
                (Sugar::Fructose, percent / 2.0),
            ];
            let (a, b) = (
                water_activity(100.0 - percent, &mix),
                money_born(100.0 - percent, &mix),
            );
            assert!((a - b).abs() < 0.04, "{percent} %: {a} {b}");
        }
        let mix = [(Sugar::Glucose, 38.5), (Sugar::Fructose, 38.5)];
        let a = water_activity(23.0, &mix);
        assert!((a - 0.69).abs() < 0.04, "{a}");
    }

    #[test]
    fn a_mix_of_one_sugar_with_itself_is_that_sugar() {
        let one = water_activity(50.0, &[(Sugar::Glucose, 40.0)]);
        let two = water_activity(50.0, &[(Sugar::Glucose, 15.0), (Sugar::Glucose, 25.0)]);
        assert!((one - two).abs() < 1e-12);
        assert_eq!(water_activity(50.0, &[]), 1.0);
    }

    fn mix(lines: &[(&str, f64)]) -> Syrup {
        let larder = Larder::built_in().expect("the built-in tables");
        let of = |(key, g): &(&str, f64)| {
            let food = larder.by_key(key).unwrap_or_else(|| panic!("{key}"));
            (food, Spread::exact(Mass::grams(*g)))
        };
        Syrup::of(&lines.iter().map(of).collect::<Vec<_>>(), &larder)
    }

    /// USDA SR28 01077: 100 g of milk hold 88.13 g of water and 5.05 g of lactose.
    #[test]
    fn milk_brings_lactose() {
        let s = mix(&[("whole_milk", 100.0)]);
        assert!((s.grams(Sugar::Lactose) - 5.05).abs() < 1e-9);
        assert!((s.water.likely().as_grams() - 88.13).abs() < 1e-9);
        assert!(s.remarks(Use::Sweet).is_empty(), "milk is no syrup");
    }

    #[test]
    fn flour_is_not_in_the_syrup() {
        let bare = mix(&[("white_sugar", 100.0), ("water", 100.0)]);
        let floured = mix(&[
            ("white_sugar", 100.0),
            ("water", 100.0),
            ("white_rice_flour", 300.0),
        ]);
        assert_eq!(bare.strength, floured.strength);
    }

    /// Icing: 200 g of icing sugar and 30 g of lemon juice is far above what water holds.
    #[test]
    fn an_icing_sets_by_crystals() {
        let s = mix(&[("icing_sugar", 200.0), ("lemon_juice", 30.0)]);
        let words = s.remarks(Use::Sweet);
        assert!(words[0].words.contains("crystals"), "{words:?}");
        // Its syrup phase is saturated: 0.85 (from memory 0.844–0.86).
        let a = s.water_activity.expect("water");
        assert!((0.84..0.87).contains(&a), "{a}");
        let left = s.undissolved;
        let water = 30.0 * 0.9231 + 200.0 * 0.0024;
        let held = water * SUCROSE_HELD / (100.0 - SUCROSE_HELD);
        assert!((left - (200.0 * 0.9781 - held)).abs() < 2.5, "{left}");
    }

    /// 250 g of butter hold 203 g of fat and 45 g of water (USDA SR28 01145): the sugar of a buttercream lies in
    /// fat, and swapping some of it for honey would not make it smooth. Cream of 36 % holds more water than fat.
    #[test]
    fn a_buttercream_is_no_syrup() {
        let told = |lines: &[(&str, f64)]| {
            let all = mix(lines).remarks(Use::Sweet);
            all.iter().any(|r| r.words.contains("a syrup of"))
        };
        assert!(!told(&[("unsalted_butter", 250.0), ("icing_sugar", 500.0)]));
        assert!(!told(&[
            ("unsalted_butter", 85.0),
            ("light_brown_sugar", 165.0)
        ]));
        assert!(told(&[("heavy_cream", 200.0), ("white_sugar", 300.0)]));
        assert!(told(&[
            ("unsalted_butter", 20.0),
            ("icing_sugar", 200.0),
            ("water", 40.0)
        ]));
    }

    #[test]
    fn a_drizzle_is_thin_and_a_jam_is_not() {
        let thin = mix(&[("white_sugar", 60.0), ("lemon_juice", 80.0)]);
        assert!(thin.remarks(Use::Sweet)[0].words.contains("it stays thin"));
        let strong = mix(&[("white_sugar", 100.0), ("water", 52.0)]);
        let words = strong.remarks(Use::Sweet);
        assert!(words.iter().all(|r| !r.words.contains("thin")), "{words:?}");
    }

    #[test]
    fn a_cake_with_more_sugar_than_water_is_warned_of() {
        let cake = [
            ("white_sugar", 250.0),
            ("egg", 200.0),
            ("unsalted_butter", 200.0),
        ];
        let s = mix(&cake);
        assert!(s.remarks(Use::Cake)[0].words.contains("sets late"));
        let lean = mix(&[
            ("white_sugar", 150.0),
            ("egg", 150.0),
            ("whole_milk", 150.0),
        ]);
        assert!(lean.remarks(Use::Cake).is_empty());
    }

    /// Project rules, section 12: 100 g of butter are 80 g of fat and 18 g of water (17.94, USDA).
    #[test]
    fn butter_is_fat_and_water() {
        let s = oil_for_butter(Mass::grams(250.0));
        assert!((s.oil.as_grams() - 200.0).abs() < 1e-9);
        assert!((s.water.as_grams() - 44.85).abs() < 1e-9);
        let back = butter_for_oil(s.oil);
        assert!((back.butter.as_grams() - 250.0).abs() < 1e-9);
    }

    /// The table of solubility itself, and that what is held grows with heat.
    #[test]
    fn solubility_of_sucrose() {
        for (t, held) in [(0.0, 64.44), (20.0, 66.74), (60.0, 74.32), (100.0, 82.89)] {
            assert!((sucrose_held(t) - held).abs() < 1e-9);
        }
        assert_eq!(sucrose_held(-5.0), 64.44);
        assert!((0..100).all(|t| sucrose_held(f64::from(t)) < sucrose_held(f64::from(t) + 1.0)));
    }

    #[test]
    fn shares_of_sugar_add_up() {
        let larder = Larder::built_in().expect("the built-in tables");
        for (food, shares) in KINDS.iter() {
            let sum: f64 = shares.iter().sum();
            assert!((sum - 1.0).abs() < 1e-9, "{food} {sum}");
            assert!(*food == "fruit" || larder.by_key(food).is_some(), "{food}");
        }
    }
}
