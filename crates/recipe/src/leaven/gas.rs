//! Gas of leaveners, by stoichiometry and the ideal gas law.

use crate::data::rows;
use larder::Status;
use quantity::{Ratio, Spread, Temperature, Volume};
use std::sync::LazyLock;

/// Gas constant, J/(mol K), exact since the SI of 2019.
const GAS_CONSTANT: f64 = 8.314_462_618;
/// 0 °C in kelvin.
const ZERO_CELSIUS: f64 = 273.15;

/// Room temperature of the figures: 25 °C.
pub const ROOM: f64 = 25.0;
/// Temperature at which a crumb sets and gas is no longer held, °C: the core of a baked cake
/// (rules R11.1 give 96–98 for cakes; the setting itself comes a little sooner).
pub const BAKING: f64 = 95.0;
/// Grams of baking soda in a mole: NaHCO3 from standard atomic weights, 22.990 + 1.008 + 12.011
/// + 3 × 15.999 (from memory).
pub const SODA_GRAMS_PER_MOLE: f64 = 84.006;

/// Millilitres of one mole of gas by the ideal gas law.
///
/// # Inputs
/// - `at`: temperature, above −273.15 °C.
/// - `pressure`: kPa, above 0.
///
/// # Returns
/// mL; 24,465 at 25 °C and 101.325 kPa. Water vapour, which joins the gas in a hot batter, is not
/// in it.
///
/// # Example
/// ```
/// use quantity::Temperature;
/// let ml = recipe::leaven::millilitres_per_mole(Temperature::celsius(25.0), 101.325);
/// assert!((ml - 24_465.0).abs() < 1.0);
/// ```
#[must_use]
pub fn millilitres_per_mole(at: Temperature, pressure: f64) -> f64 {
    // J/kPa is a litre.
    1000.0 * GAS_CONSTANT * (at.as_celsius() + ZERO_CELSIUS) / pressure
}

/// A leavener: what one gram of it gives and needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Leavener {
    /// Key in the larder.
    pub food: &'static str,
    /// Moles of carbon dioxide a gram can give.
    pub carbon_dioxide: f64,
    /// Moles of ammonia a gram gives.
    pub ammonia: f64,
    /// Grams of baking soda that need as much acid as one gram of it; 0 where it brings its own
    /// acid or needs none.
    pub as_soda: f64,
    /// Share of baking soda in 100 g, of a powder with its own acid.
    pub soda_share: Option<Spread<Ratio>>,
    /// A remark.
    pub note: &'static str,
    /// Where it comes from.
    pub source: &'static str,
    /// What it rests on.
    pub status: Status,
}

impl Leavener {
    /// Gas of one gram with all the acid it needs.
    ///
    /// # Inputs
    /// - `at`: temperature. - `pressure`: kPa.
    ///
    /// # Returns
    /// mL of carbon dioxide, with ammonia where it gives that too; without steam. Exact but for
    /// a powder, whose share of soda is a range.
    #[must_use]
    pub fn gas_per_gram(&self, at: Temperature, pressure: f64) -> Spread<Volume> {
        let ml = millilitres_per_mole(at, pressure);
        match self.soda_share {
            Some(share) => share.map(|s| s / 100.0 * ml / SODA_GRAMS_PER_MOLE),
            None => Spread::exact(Volume::millilitres(
                (self.carbon_dioxide + self.ammonia) * ml,
            )),
        }
    }
    /// The source with its status.
    #[must_use]
    pub fn cited(&self) -> String {
        cited(self.source, self.status)
    }
}

/// A source with what it rests on, for screens.
pub(super) fn cited(source: &str, status: Status) -> String {
    match status {
        Status::Seen => source.to_owned(),
        Status::CommonPractice => "common practice, no source".to_owned(),
        Status::FromMemory => format!("{source} (from memory)"),
    }
}

/// The status a table's cell names.
pub(crate) fn status(cell: &str) -> Status {
    match cell {
        "seen" => Status::Seen,
        "from memory" => Status::FromMemory,
        _ => Status::CommonPractice,
    }
}

static LEAVENERS: LazyLock<Vec<Leavener>> = LazyLock::new(|| {
    rows(include_str!("../../data/leaveners.tsv"))
        .map(|r| {
            let molar = r.number("molar");
            let share = ["soda_low", "soda_likely", "soda_high"].map(|c| r.number(c));
            let soda_share = share.iter().all(|s| s.is_finite()).then(|| {
                let [low, likely, high] = share.map(Ratio::new);
                Spread::new(low, likely, high)
            });
            Leavener {
                food: r.get("food"),
                carbon_dioxide: r.number("carbon_dioxide") / molar
                    * soda_share.map_or(1.0, |s| s.likely().get() / 100.0),
                ammonia: r.number("ammonia") / molar,
                as_soda: r.number("acid") * SODA_GRAMS_PER_MOLE / molar,
                soda_share,
                note: r.get("note"),
                source: r.get("source"),
                status: status(r.get("status")),
            }
        })
        .collect()
});

/// Every leavener of the table that gives gas by itself or with acid; yeast is not among them.
#[must_use]
pub fn leaveners() -> &'static [Leavener] {
    &LEAVENERS
}

/// The leavener with a key of the larder.
#[must_use]
pub fn leavener_of(food: &str) -> Option<&'static Leavener> {
    LEAVENERS.iter().find(|l| l.food == food)
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;

    fn room(food: &str) -> f64 {
        let l = leavener_of(food).expect("in the table");
        l.gas_per_gram(Temperature::celsius(ROOM), 101.325)
            .likely()
            .as_millilitres()
    }

    /// Molar volume 24.465 L at 25 °C and 1 atm, 22.414 L at 0 °C (textbook values, from memory).
    #[test]
    fn a_mole_of_gas_fills_what_textbooks_say() {
        let at = |t: f64| millilitres_per_mole(Temperature::celsius(t), 101.325);
        assert!((at(25.0) - 24_465.0).abs() < 1.0);
        assert!((at(0.0) - 22_414.0).abs() < 1.0);
    }

    /// 84.006 g of soda give one mole of gas: 291 mL a gram at 25 °C, 360 mL at 95 °C (derived).
    #[test]
    fn a_gram_of_soda_gives_291_ml() {
        assert!((room("baking_soda") - 291.2).abs() < 0.1);
        let soda = leavener_of("baking_soda").expect("in the table");
        let hot = soda.gas_per_gram(Temperature::celsius(BAKING), 101.325);
        assert!((hot.likely().as_millilitres() - 359.6).abs() < 0.1);
    }

    /// Potash needs two acids for one gas, ammonium bicarbonate gives two gases and needs none.
    #[test]
    fn potash_and_bakers_ammonia() {
        assert!((room("potash") - 24_465.4 / 138.205).abs() < 0.1);
        assert!((room("bakers_ammonia") - 2.0 * 24_465.4 / 79.055).abs() < 0.1);
        let potash = leavener_of("potash").expect("in the table");
        assert!((potash.as_soda - 1.2157).abs() < 1e-3);
        let ammonia = leavener_of("bakers_ammonia").expect("in the table");
        assert_eq!(ammonia.as_soda, 0.0);
    }

    /// USDA SR28 18372, baking soda: 27,360 mg of sodium in 100 g. The formula gives 22.990 of
    /// 84.006, which is 27.37 %. The table is right about what baking soda is.
    #[test]
    fn the_sodium_of_baking_soda_agrees_with_its_formula() {
        let of_formula = 22.990 / SODA_GRAMS_PER_MOLE;
        assert!((of_formula - 0.2736).abs() < 2e-4);
    }

    /// At least 12 % of carbon dioxide by US federal standards (Baking Business, dictionary):
    /// 12 / 44.009 of a mole of soda, 22.9 g in 100 g. And soda is 3–4 times as strong as powder
    /// (project rule R8.1).
    #[test]
    fn baking_powder_meets_the_purity_rule() {
        let powder = leavener_of("baking_powder").expect("in the table");
        let share = powder.soda_share.expect("a share");
        let least = 12.0 / 44.009 * SODA_GRAMS_PER_MOLE;
        assert!((share.low().get() - least).abs() < 0.05, "{least}");
        let strength = 100.0 / share.likely().get();
        assert!((3.0..=4.0).contains(&strength), "{strength}");
        assert!((room("baking_powder") - 0.27 * 291.24).abs() < 0.1);
    }

    #[test]
    fn every_leavener_is_in_the_larder_and_has_a_source() {
        let larder = Larder::built_in().expect("the built-in tables");
        for l in leaveners() {
            assert!(larder.by_key(l.food).is_some(), "{}", l.food);
            assert!(!l.source.is_empty());
            assert!(l.carbon_dioxide > 0.0 && l.as_soda.is_finite());
        }
    }
}
