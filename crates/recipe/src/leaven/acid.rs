//! Acids: how much baking soda they neutralise.

use super::gas::{cited, status};
use crate::data::rows;
use larder::Status;
use quantity::{Mass, Ratio, Spread};
use std::sync::LazyLock;

/// How an acid meets the soda.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum How {
    /// A salt sold for leavening, by its neutralising value.
    Salt,
    /// An acid as such, by its stoichiometry.
    Pure,
    /// A food that mixes with the batter.
    Mixed,
    /// Fruit in pieces: the acid stays in it, unless it is crushed.
    Pieces,
}

/// What an acid neutralises.
#[derive(Debug, Clone, PartialEq)]
pub struct Acid {
    /// Key in the larder; `None` for what only the trade buys.
    pub food: Option<&'static str>,
    /// Its name.
    pub name: &'static str,
    /// How it meets the soda.
    pub how: How,
    /// Grams of baking soda that 100 g of it neutralise. Of a leavening salt this is its
    /// neutralising value.
    pub per_100: Spread<Ratio>,
    /// A remark.
    pub note: &'static str,
    /// Where the figure comes from.
    pub source: &'static str,
    /// What it rests on.
    pub status: Status,
}

impl Acid {
    /// Grams of soda that an amount of it neutralises: the doubts of the weight and of the acid
    /// together.
    ///
    /// # Example
    /// ```
    /// use quantity::{Mass, Spread};
    /// let acid = recipe::leaven::acid_of("cream_of_tartar").expect("in the table");
    /// let soda = acid.neutralises(Spread::exact(Mass::grams(10.0)));
    /// assert!((soda.likely().as_grams() - 4.5).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn neutralises(&self, grams: Spread<Mass>) -> Spread<Mass> {
        Spread::new(
            Mass::grams(grams.low().as_grams() * self.per_100.low().get() / 100.0),
            Mass::grams(grams.likely().as_grams() * self.per_100.likely().get() / 100.0),
            Mass::grams(grams.high().as_grams() * self.per_100.high().get() / 100.0),
        )
    }
    /// The source with its status.
    #[must_use]
    pub fn cited(&self) -> String {
        cited(self.source, self.status)
    }
}

static ACIDS: LazyLock<Vec<Acid>> = LazyLock::new(|| {
    rows(include_str!("../../data/acids.tsv"))
        .map(|r| Acid {
            food: Some(r.get("food")).filter(|f| !f.is_empty()),
            name: r.get("name"),
            how: match r.get("how") {
                "salt" => How::Salt,
                "pure" => How::Pure,
                "pieces" => How::Pieces,
                _ => How::Mixed,
            },
            per_100: {
                let of = |c| Ratio::new(r.number(c));
                Spread::new(of("low"), of("likely"), of("high"))
            },
            note: r.get("note"),
            source: r.get("source"),
            status: status(r.get("status")),
        })
        .collect()
});

/// Every acid of the table.
#[must_use]
pub fn acids() -> &'static [Acid] {
    &ACIDS
}

/// The acid in a food, by its key in the larder. `None`: the food counts as neutral, as sweet
/// milk, sweet cream, butter, eggs, flour and maple syrup do.
#[must_use]
pub fn acid_of(food: &str) -> Option<&'static Acid> {
    ACIDS.iter().find(|a| a.food == Some(food))
}

/// The acid with a name of the table, for those only the trade buys.
#[must_use]
pub fn acid_named(name: &str) -> Option<&'static Acid> {
    ACIDS.iter().find(|a| a.name == name)
}

#[cfg(test)]
mod tests {
    use super::super::SODA_GRAMS_PER_MOLE;
    use super::*;
    use larder::Larder;

    fn per_100(food: &str) -> Spread<Ratio> {
        acid_of(food).expect("in the table").per_100
    }

    /// Cream of tartar, KHC4H4O6, 188.18 g: one acid group, so 84.006 / 188.18 = 44.6 (derived).
    /// Citric acid 192.12 g with three, ascorbic 176.12 with one, GDL 178.14 with one.
    #[test]
    fn pure_acids_agree_with_their_formulas() {
        for (food, molar, groups) in [
            ("cream_of_tartar", 188.18, 1.0),
            ("citric_acid", 192.12, 3.0),
            ("ascorbic_acid", 176.12, 1.0),
            ("glucono_delta_lactone", 178.14, 1.0),
        ] {
            let expected = 100.0 * groups * SODA_GRAMS_PER_MOLE / molar;
            let found = per_100(food).likely().get();
            assert!((found - expected).abs() < 0.5, "{food} {found} {expected}");
        }
    }

    /// Neutralising values as printed by BAKERpedia, leavening acids; and parts of acid to one of
    /// soda as printed by the Food additives data book: tartrate 2.24, SAPP 1.39, GDL 2.12.
    #[test]
    fn neutralising_values_agree_with_two_published_lists() {
        for (name, value) in [
            ("cream of tartar", 45.0),
            ("monocalcium phosphate", 80.0),
            ("sodium acid pyrophosphate", 72.0),
            ("sodium aluminium phosphate", 100.0),
            ("sodium aluminium sulphate", 104.0),
            ("dicalcium phosphate dihydrate", 33.0),
        ] {
            let a = acid_named(name).expect("in the table");
            assert_eq!(a.per_100.likely().get(), value, "{name}");
            assert_eq!(a.status, Status::Seen);
        }
        for (name, parts) in [
            ("cream of tartar", 2.24),
            ("sodium acid pyrophosphate", 1.39),
            ("glucono delta-lactone", 2.12),
        ] {
            let a = acid_named(name).expect("in the table");
            let ours = 100.0 / a.per_100.likely().get();
            assert!((ours / parts - 1.0).abs() < 0.01, "{name} {ours}");
        }
    }

    /// On Food and Cooking (2004): 2 g of soda to 1 cup of fermented milk, or to 5 g of cream of
    /// tartar. Project rule R8.1: 2.3 g to about 240 g of buttermilk or yoghurt. Greer, School
    /// and Home Cooking: 1/2 tsp (2.3 g) to a cup of sour milk, and to a cup of molasses (337 g).
    #[test]
    fn kitchen_equivalences_are_inside_our_ranges() {
        let cup = 245.0;
        for (food, grams, soda) in [
            ("buttermilk", cup, 2.0),
            ("buttermilk", 240.0, 2.3),
            ("buttermilk", cup, 2.3),
            ("yogurt", cup, 2.0),
            ("yogurt", 240.0, 2.3),
            ("cream_of_tartar", 5.0, 2.25),
            ("molasses", 337.0, 2.3),
        ] {
            let r = per_100(food);
            let (low, high) = (
                r.low().get() * grams / 100.0,
                r.high().get() * grams / 100.0,
            );
            assert!((low..=high).contains(&soda), "{food} {low} {high} {soda}");
        }
    }

    /// The same book gives 2 g of soda to 5 mL of vinegar or lemon juice. Five millilitres of
    /// vinegar at 5 % hold 0.25 g of acetic acid (60.05 g a mole), which take 0.35 g of soda. We
    /// follow the arithmetic, and depart from the rule of thumb by a factor of six.
    #[test]
    fn departs_vinegar_takes_a_sixth_of_the_rule_of_thumb() {
        let by_formula = 0.25 / 60.05 * SODA_GRAMS_PER_MOLE;
        let ours = per_100("white_vinegar").likely().get() * 5.0 / 100.0;
        assert!((ours - by_formula).abs() < 0.01, "{ours} {by_formula}");
        assert!(2.0 / ours > 5.0);
    }

    /// Honey: at most 50 milliequivalents of acid in 1 kg (Directive 2001/110/EC). One
    /// milliequivalent takes 0.084 g of soda. Lemon juice: 48.0 g of citric acid in a litre
    /// (Penniston et al. 2008), at 1.03 g/mL and 64.04 g to the acid group.
    #[test]
    fn acids_by_titration_agree_with_their_sources() {
        assert!((per_100("honey").high().get() - 50.0 * 0.084_006 / 10.0).abs() < 0.001);
        let lemon = 48.0 / 1.03 / 10.0 / 64.04 * SODA_GRAMS_PER_MOLE;
        assert!((per_100("lemon_juice").likely().get() - lemon).abs() < 0.05);
        // FDA CPG 525.825: at least 4 g of acetic acid in 100 mL.
        let least = 4.0 / 60.05 * SODA_GRAMS_PER_MOLE;
        assert!((per_100("white_vinegar").low().get() - least).abs() < 0.15);
    }

    #[test]
    fn every_acid_is_in_the_larder_and_has_a_source() {
        let larder = Larder::built_in().expect("the built-in tables");
        for a in acids() {
            if let Some(food) = a.food {
                assert!(larder.by_key(food).is_some(), "{food}");
            }
            assert!(!a.source.is_empty() && !a.name.is_empty(), "{}", a.name);
            assert!(a.per_100.high().get() > 0.0, "{}", a.name);
        }
    }
}
