//! The leavening of a component with what follows from it: swaps, cautions, syrup, altitude.

use super::altitude::Altitude;
use super::balance::{Leavening, Verdict, tenth};
use super::swap::{Swap, acid_for, powder_for_soda, soda_for_powder, soda_in_powder};
use super::yeast::{YeastCaution, YeastKind, cautions, convert};
use crate::rework::Balance;
use crate::syrup::{ButterForOil, Remark, Syrup, Use, butter_for_oil, oil_for_butter};
use crate::weigh::Formula;
use larder::{FoodId, Function, Larder};
use quantity::{Mass, Quantity, Spread};

/// From this share of the whole, percent, sugar and water decide a filling or a glaze.
const DECIDES: f64 = 70.0;
/// From this share of the whole, percent, flour makes it a batter.
const BATTER: f64 = 12.0;
/// From this water on flour, percent, it is a batter and no short or crisp dough (project rule R1.2).
const WET: f64 = 45.0;
/// Milk sugar in a gram of anything but dried milk, at the most, g: condensed milk has about 0.1
/// (from memory); milk has 0.05 (USDA SR28).
const MOST_MILK_SUGAR: f64 = 0.1;
/// Fat and sugar above this, percent of the flour, make a dough rich.
const RICH: f64 = 20.0;

/// One kind of yeast for another, with the water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct YeastSwap {
    /// The kind in the recipe.
    pub from: YeastKind,
    /// Its grams.
    pub grams: Mass,
    /// The other kind.
    pub to: YeastKind,
    /// Its grams.
    pub other: Mass,
    /// Water to add; below 0 to leave out.
    pub water: Mass,
}

/// What altitude does to an amount.
#[derive(Debug, Clone, PartialEq)]
pub struct Corrected {
    /// What it is: a food's name, `sugar` or `liquid`.
    pub what: String,
    /// Grams as they are.
    pub from: Mass,
    /// Grams up there: low, likely, high.
    pub to: Spread<Mass>,
}

/// All that is said of one component.
#[derive(Debug, Clone, PartialEq)]
pub struct Report {
    /// Gas, soda and acid.
    pub leavening: Leavening,
    /// Swaps that fit what is in it.
    pub swaps: Vec<Swap>,
    /// Yeast by its other kinds.
    pub yeast: Vec<YeastSwap>,
    /// What slows its yeast.
    pub cautions: Vec<YeastCaution>,
    /// Sugar and water.
    pub syrup: Syrup,
    /// What sugar and water decide here; `None` where they decide nothing.
    pub decides: Option<Use>,
    /// What the syrup's strength means.
    pub remarks: Vec<Remark>,
    /// Butter as oil, or oil as butter, where one of them is a line.
    pub fat: Option<ButterForOil>,
    /// Whether that fat is oil now.
    pub fat_is_oil: bool,
}

/// Weighed foods of a component of a formula, those of a preferment it uses among them.
///
/// # Panics
/// Never for an `at` of the formula's components.
#[must_use]
pub fn lines_of(formula: &Formula, at: usize) -> Vec<(FoodId, Spread<Mass>)> {
    crate::rework::foods(formula, at)
}

impl Report {
    /// The report on weighed foods.
    ///
    /// # Inputs
    /// - `lines`: foods of one component with their grams.
    ///
    /// # Example
    /// ```
    /// use larder::Larder;
    /// use quantity::{Mass, Spread};
    /// use recipe::leaven::Report;
    /// let larder = Larder::built_in().expect("the built-in tables");
    /// let of = |key: &str, g: f64| {
    ///     (larder.by_key(key).expect("a food"), Spread::exact(Mass::grams(g)))
    /// };
    /// let report = Report::of(&[of("white_rice_flour", 200.0), of("fresh_yeast", 10.0)], &larder);
    /// assert_eq!(report.yeast.len(), 2);
    /// ```
    #[must_use]
    pub fn of(lines: &[(FoodId, Spread<Mass>)], larder: &Larder) -> Self {
        Self::beside(lines, Vec::new(), larder)
    }

    /// The report on weighed foods beside things that are in no figure of it.
    pub(crate) fn beside(
        lines: &[(FoodId, Spread<Mass>)],
        uncounted: Vec<String>,
        larder: &Larder,
    ) -> Self {
        let leavening = Leavening::of(lines, larder).beside(uncounted);
        let balance = Balance::of(lines, larder);
        let syrup = Syrup::of(lines, larder);
        let instant = leavening.yeast.as_grams();
        let flour = leavening.flour.as_grams();
        let on_flour = |g: f64| if flour > 0.0 { 100.0 * g / flour } else { 0.0 };
        let rich = balance.sugar + balance.fat > RICH;
        let decides = use_of(lines, larder, &leavening, &syrup);
        let (fat, fat_is_oil) = fat_of(lines, larder);
        Self {
            swaps: swaps(lines, larder, &leavening),
            yeast: yeast(lines, larder),
            cautions: cautions(
                (balance.sugar - on_flour(milk_sugar(lines, larder))).max(0.0),
                balance.salt,
                on_flour(instant),
                rich,
            ),
            remarks: decides.map_or_else(Vec::new, |d| syrup.remarks(d)),
            leavening,
            syrup,
            decides,
            fat,
            fat_is_oil,
        }
    }

    /// The report on a component of a formula, with what its soda may meet and no figure counts.
    ///
    /// # Panics
    /// Never for an `at` of the formula's components.
    #[must_use]
    pub fn of_component(formula: &Formula, at: usize, larder: &Larder) -> Self {
        let uncounted = crate::rework::uncounted(formula, at, larder);
        Self::beside(&lines_of(formula, at), uncounted, larder)
    }

    /// Whether there is anything to show.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        !self.leavening.is_leavened()
            && self.leavening.yeast.value() <= 0.0
            && self.remarks.is_empty()
    }
}

/// Grams of milk's own sugar, which bakers' yeast does not ferment.
fn milk_sugar(lines: &[(FoodId, Spread<Mass>)], larder: &Larder) -> f64 {
    let of = |(food, grams): &(FoodId, Spread<Mass>)| {
        let is = larder.food(*food);
        let sugars = larder.composition(*food).sugars.unwrap_or(0.0) / 100.0;
        // What is sweeter than milk, and no powder of it, is sweetened.
        let own = match (is.does(Function::Dairy), is.key.contains("powder")) {
            (true, true) => sugars,
            (true, false) => sugars.min(MOST_MILK_SUGAR),
            (false, _) => 0.0,
        };
        own * grams.likely().as_grams()
    };
    lines.iter().map(of).sum()
}

/// Grams of the lines a test picks.
fn sum(
    lines: &[(FoodId, Spread<Mass>)],
    larder: &Larder,
    pick: impl Fn(&larder::Food) -> bool,
) -> f64 {
    lines
        .iter()
        .filter(|l| pick(larder.food(l.0)))
        .map(|l| l.1.likely().as_grams())
        .sum()
}

/// What sugar and water decide in a mix.
fn use_of(
    lines: &[(FoodId, Spread<Mass>)],
    larder: &Larder,
    leavening: &Leavening,
    syrup: &Syrup,
) -> Option<Use> {
    let total = leavening.total.as_grams();
    if total <= 0.0 {
        return None;
    }
    if leavening.yeast.value() > 0.0 {
        return Some(Use::Dough);
    }
    let flour = leavening.flour.as_grams();
    if 100.0 * flour / total >= BATTER {
        let wet = 100.0 * syrup.water.likely().as_grams() / flour >= WET;
        return wet.then_some(Use::Cake);
    }
    let set_otherwise = sum(lines, larder, |f| {
        f.flour_share() > 0.0
            || [Function::Egg, Function::Thickener, Function::Binder]
                .into_iter()
                .any(|w| f.does(w))
    });
    let wet = syrup.sugar.likely().as_grams() + syrup.water.likely().as_grams();
    (set_otherwise <= 0.0 && 100.0 * wet / total >= DECIDES).then_some(Use::Sweet)
}

fn swaps(lines: &[(FoodId, Spread<Mass>)], larder: &Larder, leavening: &Leavening) -> Vec<Swap> {
    let mut all = Vec::new();
    let powder = Mass::grams(sum(lines, larder, |f| f.key == "baking_powder"));
    let soda = Mass::grams(sum(lines, larder, |f| f.key == "baking_soda"));
    match leavening.verdict() {
        // What is over and what is idle is not known while an acid has no weight.
        _ if !leavening.uncounted.is_empty() => {}
        Verdict::SodaLeft => all.extend(acid_for(leavening.left_over.likely())),
        Verdict::AcidIdle if powder.value() > 0.0 => {
            let share = soda_in_powder(Mass::grams(1.0)).likely().as_grams();
            let idle = leavening.idle.likely().as_grams();
            let less = (idle / share).min(powder.as_grams());
            let more = Mass::grams(less * share);
            all.push(Swap {
                from: format!("{} g of the baking powder", tenth(Mass::grams(less))),
                to: vec![("baking_soda", more)],
                leaves_acid: Mass::grams(0.0),
                rule: format!(
                    "the acids of the foods can take {} g more soda: {} g ÷ {share:.2} = {} g less powder",
                    tenth(Mass::grams(idle)),
                    tenth(more),
                    tenth(Mass::grams(less))
                ),
                source: super::leavener_of("baking_powder")
                    .map_or_else(String::new, super::Leavener::cited),
            });
        }
        _ => {}
    }
    if soda.value() > 0.0 {
        let met = leavening.neutralised.likely().as_grams();
        all.push(powder_for_soda(soda, Mass::grams(met.min(soda.as_grams()))));
    }
    if powder.value() > 0.0 {
        all.push(soda_for_powder(powder));
    }
    all
}

fn yeast(lines: &[(FoodId, Spread<Mass>)], larder: &Larder) -> Vec<YeastSwap> {
    let mut all = Vec::new();
    for kind in YeastKind::ALL {
        let grams = Mass::grams(sum(lines, larder, |f| YeastKind::of(&f.key) == Some(kind)));
        if grams.value() <= 0.0 {
            continue;
        }
        for to in YeastKind::ALL.into_iter().filter(|t| *t != kind) {
            let (other, water) = convert(grams, kind, to);
            all.push(YeastSwap {
                from: kind,
                grams,
                to,
                other,
                water,
            });
        }
    }
    all
}

/// The butter as oil, or the oil as butter, whichever is more.
fn fat_of(lines: &[(FoodId, Spread<Mass>)], larder: &Larder) -> (Option<ButterForOil>, bool) {
    let butter = sum(lines, larder, |f| {
        matches!(f.key.as_str(), "unsalted_butter" | "salted_butter")
    });
    let oil = sum(lines, larder, |f| {
        f.function() == Function::Fat && f.key.ends_with("_oil")
    });
    if butter > 0.0 && butter >= oil {
        (Some(oil_for_butter(Mass::grams(butter))), false)
    } else if oil > 0.0 {
        (Some(butter_for_oil(Mass::grams(oil))), true)
    } else {
        (None, false)
    }
}

/// The amounts of a mix at an altitude, by the published table.
///
/// # Returns
/// Leaveners one by one; sugar and liquid as sums, where baking powder or soda raises the mix.
/// Empty below the table, and where nothing raises it.
#[must_use]
pub fn at_altitude(
    lines: &[(FoodId, Spread<Mass>)],
    larder: &Larder,
    altitude: &Altitude,
) -> Vec<Corrected> {
    let Some(c) = altitude.correction else {
        return Vec::new();
    };
    let mut all = Vec::new();
    let mut chemical = false;
    for (food, grams) in lines {
        let is = larder.food(*food);
        let from = grams.likely();
        let by = if is.function() == Function::Yeast && is.flour_share() == 0.0 {
            c.yeast
        } else if super::leavener_of(&is.key).is_some() {
            chemical = true;
            c.leavening
        } else {
            continue;
        };
        all.push(Corrected {
            what: is.name.clone(),
            from,
            to: Spread::exact(from * by),
        });
    }
    if !chemical {
        return all;
    }
    let sugar = Mass::grams(sum(lines, larder, |f| f.function() == Function::Sugar));
    let liquid = Mass::grams(sum(lines, larder, |f| {
        matches!(f.function(), Function::Liquid | Function::Water)
    }));
    for (what, from, (low, high)) in [("sugar", sugar, c.sugar), ("liquid", liquid, c.liquid)] {
        if from.value() > 0.0 {
            all.push(Corrected {
                what: what.to_owned(),
                from,
                to: Spread::new(from * low, from * f64::midpoint(low, high), from * high),
            });
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn larder() -> Larder {
        Larder::built_in().expect("the built-in tables")
    }

    fn lines(larder: &Larder, mix: &[(&str, f64)]) -> Vec<(FoodId, Spread<Mass>)> {
        mix.iter()
            .map(|(key, g)| {
                let food = larder.by_key(key).unwrap_or_else(|| panic!("{key}"));
                (food, Spread::exact(Mass::grams(*g)))
            })
            .collect()
    }

    const CAKE: [(&str, f64); 6] = [
        ("white_rice_flour", 250.0),
        ("white_sugar", 200.0),
        ("whole_milk", 240.0),
        ("egg", 100.0),
        ("unsalted_butter", 100.0),
        ("baking_powder", 9.2),
    ];

    /// Check F09 in grams: 9.2 g (2 tsp) of powder become 8.05 (1.75 tsp), 200 g (1 cup) of sugar
    /// 187.5 (1 cup less 1 tbsp), 240 g of liquid 255–270 (1–2 tbsp more).
    #[test]
    fn f09_in_grams() {
        let larder = larder();
        let at = Altitude::of(1524.0).expect("in range");
        let all = at_altitude(&lines(&larder, &CAKE), &larder, &at);
        let of = |what: &str| all.iter().find(|c| c.what == what).expect("corrected").to;
        assert!((of("baking powder").likely().as_grams() - 8.05).abs() < 1e-9);
        assert!((of("sugar").likely().as_grams() - 187.5).abs() < 1e-9);
        assert!((of("liquid").low().as_grams() - 255.0).abs() < 1e-9);
        assert!((of("liquid").high().as_grams() - 270.0).abs() < 1e-9);
        let sea = Altitude::of(0.0).expect("in range");
        assert!(at_altitude(&lines(&larder, &CAKE), &larder, &sea).is_empty());
    }

    #[test]
    fn a_cake_with_powder_offers_soda_and_cream_of_tartar() {
        let larder = larder();
        let report = Report::of(&lines(&larder, &CAKE), &larder);
        assert_eq!(report.decides, Some(Use::Cake));
        assert_eq!(report.swaps.len(), 1);
        assert_eq!(report.swaps[0].to[1].0, "cream_of_tartar");
        let fat = report.fat.expect("butter");
        assert!((fat.water.as_grams() - 17.94).abs() < 1e-9 && !report.fat_is_oil);
    }

    #[test]
    fn idle_acid_takes_soda_for_powder() {
        let larder = larder();
        let mut mix = CAKE.to_vec();
        mix.push(("buttermilk", 240.0));
        mix.push(("baking_soda", 0.5));
        let report = Report::of(&lines(&larder, &mix), &larder);
        assert_eq!(report.leavening.verdict(), Verdict::AcidIdle);
        let (key, more) = report.swaps[0].to[0];
        assert_eq!(key, "baking_soda");
        assert!((more.as_grams() - (2.04 - 0.5)).abs() < 0.01);
    }

    #[test]
    fn a_custard_is_set_by_its_egg_and_a_syrup_is_not() {
        let larder = larder();
        let custard = lines(
            &larder,
            &[
                ("whole_milk", 500.0),
                ("white_sugar", 100.0),
                ("egg_yolk", 80.0),
            ],
        );
        assert_eq!(Report::of(&custard, &larder).decides, None);
        let drizzle = lines(&larder, &[("lemon_juice", 60.0), ("icing_sugar", 100.0)]);
        assert_eq!(Report::of(&drizzle, &larder).decides, Some(Use::Sweet));
        assert!(Report::of(&[], &larder).is_empty());
    }

    /// Bakers' yeast does not ferment lactose: 72 g of sugar on 400 g are 18 %, with milk too.
    #[test]
    fn milks_own_sugar_slows_no_yeast() {
        let larder = larder();
        let mix = [
            ("white_rice_flour", 400.0),
            ("white_sugar", 72.0),
            ("whole_milk", 400.0),
            ("instant_yeast", 6.0),
        ];
        let report = Report::of(&lines(&larder, &mix), &larder);
        assert_eq!(report.cautions.len(), 1);
        let words = &report.cautions[0].words;
        assert!(words.starts_with("sugar is 18 % of the flour"), "{words}");
    }

    #[test]
    fn a_sweet_dough_is_cautioned() {
        let larder = larder();
        let mix = [
            ("white_rice_flour", 300.0),
            ("white_sugar", 70.0),
            ("instant_yeast", 6.0),
            ("table_salt", 5.0),
        ];
        let report = Report::of(&lines(&larder, &mix), &larder);
        assert_eq!(report.cautions.len(), 1);
        assert!(report.cautions[0].words.contains("osmotolerant"));
        assert!(report.swaps.is_empty());
    }
}
