//! Swaps between leaveners, with the acid they need or leave.

use super::acid::acid_of;
use super::balance::tenth;
use super::gas::leavener_of;
use quantity::{Mass, Ratio, Spread};

/// Neutralising value of cream of tartar over 100: grams of soda one gram takes.
pub const CREAM_OF_TARTAR: f64 = 0.45;
/// Soda in a gram of baking powder where the table had none; the table has it.
const USUAL: f64 = 0.27;

/// A swap: what for what, and what comes with it.
#[derive(Debug, Clone, PartialEq)]
pub struct Swap {
    /// What is taken out, in words.
    pub from: String,
    /// What goes in: larder keys with their grams.
    pub to: Vec<(&'static str, Mass)>,
    /// Acid that loses its soda, as grams of soda it could take; 0 where none does.
    pub leaves_acid: Mass,
    /// The rule with its arithmetic.
    pub rule: String,
    /// Where its figures come from.
    pub source: String,
}

/// Baking soda in an amount of baking powder.
#[must_use]
pub fn soda_in_powder(powder: Mass) -> Spread<Mass> {
    let share = leavener_of("baking_powder")
        .and_then(|l| l.soda_share)
        .unwrap_or_else(|| Spread::exact(Ratio::new(100.0 * USUAL)));
    share.map(|s| powder.as_grams() * s / 100.0)
}

/// Baking powder for baking soda: as much gas, and no acid used up.
///
/// # Inputs
/// - `soda`: grams taken out. - `met_acid`: grams of it that met acid.
///
/// # Returns
/// Powder by its likely share of soda. What the soda would have neutralised stays sour; leave the
/// sour food out for a sweet one where that matters.
///
/// # Example
/// ```
/// use quantity::Mass;
/// let swap = recipe::leaven::powder_for_soda(Mass::grams(2.7), Mass::grams(0.0));
/// assert!((swap.to[0].1.as_grams() - 10.0).abs() < 0.01);
/// ```
#[must_use]
pub fn powder_for_soda(soda: Mass, met_acid: Mass) -> Swap {
    let share = soda_in_powder(Mass::grams(1.0)).likely().as_grams();
    let powder = Mass::grams(soda.as_grams() / share);
    Swap {
        from: format!("{} g soda", tenth(soda)),
        to: vec![("baking_powder", powder)],
        leaves_acid: met_acid,
        rule: format!(
            "baking powder holds about {:.0} % of soda and its own acid: {} g ÷ {share:.2} = {} g",
            100.0 * share,
            tenth(soda),
            tenth(powder)
        ),
        source: powder_source(),
    }
}

/// Baking soda and cream of tartar for baking powder.
///
/// # Returns
/// Soda by the powder's likely share, cream of tartar by its neutralising value of 45.
///
/// # Example
/// ```
/// use quantity::Mass;
/// let swap = recipe::leaven::soda_for_powder(Mass::grams(10.0));
/// assert!((swap.to[0].1.as_grams() - 2.7).abs() < 0.01);
/// assert!((swap.to[1].1.as_grams() - 6.0).abs() < 0.01);
/// ```
#[must_use]
pub fn soda_for_powder(powder: Mass) -> Swap {
    let soda = soda_in_powder(powder).likely();
    let tartar = Mass::grams(soda.as_grams() / CREAM_OF_TARTAR);
    Swap {
        from: format!("{} g baking powder", tenth(powder)),
        to: vec![("baking_soda", soda), ("cream_of_tartar", tartar)],
        leaves_acid: Mass::grams(0.0),
        rule: format!(
            "{} g of powder give the gas of {} g of soda, and that takes {} g ÷ 0.45 = {} g of cream of tartar. It works at once: into the oven without a rest",
            tenth(powder),
            tenth(soda),
            tenth(soda),
            tenth(tartar)
        ),
        source: format!("{}; {}", powder_source(), acid_source("cream_of_tartar")),
    }
}

/// Acids that would neutralise so much soda: cream of tartar first, then what a kitchen has.
///
/// # Returns
/// One swap for each, of its likely strength. A wet one brings water that the mix must lose.
#[must_use]
pub fn acid_for(soda: Mass) -> Vec<Swap> {
    [
        "cream_of_tartar",
        "lemon_juice",
        "white_vinegar",
        "buttermilk",
    ]
    .into_iter()
    .filter_map(|key| {
        let acid = acid_of(key)?;
        let per = acid.per_100.likely().get() / 100.0;
        let grams = Mass::grams(soda.as_grams() / per);
        let wet = match key {
            "cream_of_tartar" => "",
            "buttermilk" => ", in place of as much milk",
            _ => ", in place of as much of the liquid",
        };
        Some(Swap {
            from: format!("{} g soda without acid", tenth(soda)),
            to: vec![(key, grams)],
            leaves_acid: Mass::grams(0.0),
            rule: format!(
                "{} neutralises {:.2} g of soda in 100 g: {} g ÷ {per:.3} = {} g{wet}",
                acid.name,
                acid.per_100.likely().get(),
                tenth(soda),
                tenth(grams)
            ),
            source: acid.cited(),
        })
    })
    .collect()
}

fn powder_source() -> String {
    leavener_of("baking_powder").map_or_else(String::new, super::Leavener::cited)
}

fn acid_source(food: &str) -> String {
    acid_of(food).map_or_else(String::new, super::Acid::cited)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Kitchen rule printed in many places (ochef.com among them): 1 tsp of baking powder is 1/4
    /// tsp of soda and 1/2 tsp of cream of tartar. With 4.6 g a teaspoon of powder and of soda
    /// (USDA SR28 18369, 18372) and 3.0 g of cream of tartar (18373): 1.15 g and 1.5 g. Ours asks
    /// 1.24 g and 2.76 g: the soda agrees; by its neutralising value the rule's cream of tartar
    /// leaves half of the soda over. We keep to the neutralising value.
    #[test]
    fn departs_the_quarter_teaspoon_rule_is_short_of_acid() {
        let swap = soda_for_powder(Mass::grams(4.6));
        let soda = swap.to[0].1.as_grams();
        assert!((soda / 1.15 - 1.0).abs() < 0.1, "{soda}");
        let tartar = swap.to[1].1.as_grams();
        assert!(tartar > 1.5 && (tartar * CREAM_OF_TARTAR - soda).abs() < 1e-9);
    }

    /// 2 parts of cream of tartar to 1 of soda by weight (the larder's own note, from memory) and
    /// 2.24 parts (Food additives data book, seen).
    #[test]
    fn cream_of_tartar_to_soda_by_weight() {
        let swap = soda_for_powder(Mass::grams(100.0));
        let parts = swap.to[1].1.as_grams() / swap.to[0].1.as_grams();
        assert!((parts - 2.24).abs() < 0.03, "{parts}");
    }

    #[test]
    fn powder_and_back_is_the_same() {
        let there = soda_for_powder(Mass::grams(12.0));
        let back = powder_for_soda(there.to[0].1, Mass::grams(0.0));
        assert!((back.to[0].1.as_grams() - 12.0).abs() < 1e-9);
        // Soda is 3–4 times as strong (project rule R8.1).
        assert!((3.0..=4.0).contains(&(12.0 / there.to[0].1.as_grams())));
    }

    /// Project rule R8.1 the other way: 2.3 g of soda want about 240 g of buttermilk; ours, between
    /// that rule and the 2 g to a cup of On Food and Cooking, asks 271 g.
    #[test]
    fn acids_for_left_over_soda() {
        let all = acid_for(Mass::grams(2.3));
        assert_eq!(all.len(), 4);
        let milk = all
            .iter()
            .find(|s| s.to[0].0 == "buttermilk")
            .expect("buttermilk");
        assert!((milk.to[0].1.as_grams() - 270.6).abs() < 0.1);
        assert!(all.iter().all(|s| !s.source.is_empty()));
    }
}
