//! What leavens a mix, and whether soda and acid come out even.

use super::acid::acid_of;
use super::gas::{BAKING, Leavener, ROOM, SODA_GRAMS_PER_MOLE, leavener_of, millilitres_per_mole};
use larder::{FoodId, Function, Larder};
use quantity::{Mass, Quantity, Spread, Temperature, Volume};

/// Sea-level pressure, kPa.
const SEA_LEVEL: f64 = 101.325;
/// Baking powder in 100 g of self-raising flour, g: low, likely, high (project rule R1.5, from
/// memory).
const IN_SELF_RAISING: [f64; 3] = [4.5, 4.75, 5.0];
/// Soda left over, or acid without soda, below this percent of the flour (of everything, where
/// there is no flour) is nothing a baker tastes. Common practice, no source.
const TASTED: f64 = 0.2;
/// And below this share of the soda.
const TASTED_SHARE: f64 = 0.2;

/// One line that leavens or neutralises.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// The food.
    pub food: FoodId,
    /// Its grams.
    pub grams: Spread<Mass>,
    /// Grams of baking soda it needs acid for (soda itself, potash as soda); 0 for others.
    pub base: Spread<Mass>,
    /// Grams of baking soda it neutralises; 0 for others.
    pub acid: Spread<Mass>,
    /// mL of gas it gives at 25 °C with all the acid it needs; 0 for acids.
    pub gas: Spread<Volume>,
    /// Where its figure comes from.
    pub source: String,
}

/// Whether soda and acid come out even.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// Nothing of baking soda's kind in it.
    NoSoda,
    /// Soda and acid come out even.
    Even,
    /// Soda is left over: soapy, and browner.
    SodaLeft,
    /// Acid is left over beside soda: sour, and the soda could have been more.
    AcidIdle,
}

impl Verdict {
    /// The word in machine-readable output.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::NoSoda => "no_soda",
            Self::Even => "even",
            Self::SodaLeft => "soda_left_over",
            Self::AcidIdle => "acid_idle",
        }
    }
}

/// The leavening of a mix.
#[derive(Debug, Clone, PartialEq)]
pub struct Leavening {
    /// The lines that leaven or neutralise, in their order.
    pub parts: Vec<Part>,
    /// Flour phase, g; 0 where there is none.
    pub flour: Mass,
    /// Everything weighed, g.
    pub total: Mass,
    /// Baking soda outside baking powder, g; potash counted as the soda that needs as much acid.
    pub soda: Spread<Mass>,
    /// Baking soda the acids can neutralise, g.
    pub acid: Spread<Mass>,
    /// Soda that meets acid, g.
    pub neutralised: Spread<Mass>,
    /// Soda without acid, g.
    pub left_over: Spread<Mass>,
    /// Acid without soda, as the grams of soda it could still take.
    pub idle: Spread<Mass>,
    /// Baking powder, that of self-raising flour with it, g.
    pub powder: Spread<Mass>,
    /// Yeast as instant, g.
    pub yeast: Mass,
    /// Gas at 25 °C and sea level, mL: of powder, of soda that meets acid, of ammonia. Yeast is
    /// not in it: it works as long as one lets it.
    pub gas: Spread<Volume>,
    /// Gas that the heat drives out of left-over soda, mL at 25 °C: half of what acid would.
    pub gas_by_heat: Spread<Volume>,
    /// What may take soda and is in no figure here: acids without a weight, and what the larder
    /// does not know, by name.
    pub uncounted: Vec<String>,
}

impl Leavening {
    /// The same balance beside things that are in no figure of it.
    #[must_use]
    pub fn beside(self, uncounted: Vec<String>) -> Self {
        Self { uncounted, ..self }
    }

    /// The leavening of weighed foods.
    ///
    /// # Inputs
    /// - `lines`: foods with their grams; the flours among them, so that shares can be told.
    ///
    /// # Returns
    /// A balance; with no leavener and no acid in `lines`, one without parts.
    ///
    /// # Example
    /// ```
    /// use larder::Larder;
    /// use quantity::{Mass, Spread};
    /// use recipe::leaven::{Leavening, Verdict};
    /// let larder = Larder::built_in().expect("the built-in tables");
    /// let of = |key: &str, g: f64| {
    ///     (larder.by_key(key).expect("a food"), Spread::exact(Mass::grams(g)))
    /// };
    /// let mix = [of("white_rice_flour", 250.0), of("buttermilk", 240.0), of("baking_soda", 2.0)];
    /// let leavening = Leavening::of(&mix, &larder);
    /// assert_eq!(leavening.verdict(), Verdict::Even);
    /// ```
    #[must_use]
    pub fn of(lines: &[(FoodId, Spread<Mass>)], larder: &Larder) -> Self {
        let none = Spread::exact(Mass::grams(0.0));
        let no_gas = Spread::exact(Volume::millilitres(0.0));
        let room = Temperature::celsius(ROOM);
        let powder_kind = leavener_of("baking_powder");
        let mut parts = Vec::new();
        let (mut soda, mut acid, mut powder, mut own_gas) = (none, none, none, no_gas);
        let (mut flour, mut total, mut yeast) = (0.0, 0.0, 0.0);
        for (food, grams) in lines {
            let is = larder.food(*food);
            flour += grams.likely().as_grams() * is.flour_share();
            total += grams.likely().as_grams();
            if is.function() == Function::Yeast && is.flour_share() == 0.0 {
                yeast += grams.likely().as_grams() * as_instant(larder, *food);
            }
            let key = is.key.as_str();
            let powder_in = if key == "baking_powder" {
                Some(*grams)
            } else if raises_itself(key) {
                let [low, likely, high] = IN_SELF_RAISING.map(|p| p / 100.0);
                let g = |m: Mass, p: f64| Mass::grams(m.as_grams() * p);
                Some(Spread::new(
                    g(grams.low(), low),
                    g(grams.likely(), likely),
                    g(grams.high(), high),
                ))
            } else {
                None
            };
            if let Some(part) = powder_in
                && let Some(kind) = powder_kind
            {
                let gas = part.times(kind.gas_per_gram(room, SEA_LEVEL));
                let gas = gas.map::<Volume>(|v| v);
                powder = powder.plus_worst(part);
                own_gas = own_gas.plus_worst(gas);
                parts.push(Part {
                    food: *food,
                    grams: *grams,
                    base: none,
                    acid: none,
                    gas,
                    source: kind.cited(),
                });
            } else if let Some(kind) = leavener_of(key) {
                let base = grams.scaled(kind.as_soda);
                let gas = gas_of(kind, *grams);
                if kind.as_soda > 0.0 {
                    soda = soda.plus_worst(base);
                } else {
                    own_gas = own_gas.plus_worst(gas);
                }
                parts.push(Part {
                    food: *food,
                    grams: *grams,
                    base,
                    acid: none,
                    gas,
                    source: kind.cited(),
                });
            } else if let Some(kind) = acid_of(key) {
                let takes = kind.neutralises(*grams);
                parts.push(Part {
                    food: *food,
                    grams: *grams,
                    base: none,
                    acid: takes,
                    gas: no_gas,
                    source: kind.cited(),
                });
                // Low adds to low: acids of one kitchen lean the same way.
                acid = acid.plus_worst(takes);
            }
        }
        let g = Mass::grams;
        let less = |a: Mass, b: Mass| g((a.as_grams() - b.as_grams()).max(0.0));
        let least = |a: Mass, b: Mass| g(a.as_grams().min(b.as_grams()));
        let neutralised = Spread::new(
            least(soda.low(), acid.low()),
            least(soda.likely(), acid.likely()),
            least(soda.high(), acid.high()),
        );
        let left_over = Spread::new(
            less(soda.low(), acid.high()),
            less(soda.likely(), acid.likely()),
            less(soda.high(), acid.low()),
        );
        let idle = Spread::new(
            less(acid.low(), soda.high()),
            less(acid.likely(), soda.likely()),
            less(acid.high(), soda.low()),
        );
        // Potash gives half the gas of the soda it counts as: two acids to one gas.
        let (mut full, mut base) = (0.0, 0.0);
        for p in &parts {
            let b = p.base.likely().as_grams();
            if b > 0.0 {
                base += b;
                full += p.gas.likely().as_millilitres();
            }
        }
        let per_gram = if base > 0.0 { full / base } else { 0.0 };
        let by_heat = millilitres_per_mole(room, SEA_LEVEL) / SODA_GRAMS_PER_MOLE / 2.0;
        let only_soda = |p: &&Part| larder.food(p.food).key == "baking_soda";
        let soda_alone: f64 = parts
            .iter()
            .filter(only_soda)
            .map(|p| p.base.likely().as_grams())
            .sum();
        let heats = if base > 0.0 { soda_alone / base } else { 0.0 };
        Self {
            parts,
            flour: g(flour),
            total: g(total),
            soda,
            acid,
            neutralised,
            left_over,
            idle,
            powder,
            yeast: g(yeast),
            gas: own_gas.plus_worst(neutralised.map(|m| m * per_gram)),
            gas_by_heat: left_over.map(|m| m * by_heat * heats),
            uncounted: Vec::new(),
        }
    }

    /// Gas at another temperature and pressure: the gas law, from 25 °C and sea level. Steam and
    /// the gas of left-over soda are not in it.
    #[must_use]
    pub fn gas_at(&self, at: Temperature, pressure: f64) -> Spread<Volume> {
        let room = millilitres_per_mole(Temperature::celsius(ROOM), SEA_LEVEL);
        self.gas.scaled(millilitres_per_mole(at, pressure) / room)
    }

    /// How many times the room of 25 °C gas takes at baking temperature: 1.23 by the gas law.
    #[must_use]
    pub fn swelling(&self) -> f64 {
        (BAKING + 273.15) / (ROOM + 273.15)
    }

    /// Gas at baking temperature, sea level.
    #[must_use]
    pub fn gas_hot(&self) -> Spread<Volume> {
        self.gas_at(Temperature::celsius(BAKING), SEA_LEVEL)
    }

    /// mL of gas (25 °C) for each gram of flour phase; `None` without flour.
    #[must_use]
    pub fn gas_per_flour(&self) -> Option<f64> {
        let f = self.flour.as_grams();
        (f > 0.0).then(|| self.gas.likely().as_millilitres() / f)
    }

    /// Baking powder, percent of the flour phase; 0 without flour.
    #[must_use]
    pub fn powder_percent(&self) -> f64 {
        let f = self.flour.as_grams();
        if f > 0.0 {
            100.0 * self.powder.likely().as_grams() / f
        } else {
            0.0
        }
    }

    /// What is tasted at the least, g.
    fn tasted(&self) -> f64 {
        let f = self.flour.as_grams();
        let of = if f > 0.0 { f } else { self.total.as_grams() };
        (TASTED / 100.0 * of).max(TASTED_SHARE * self.soda.likely().as_grams())
    }

    /// Whether there is anything to show: a leavener, or an acid beside one.
    #[must_use]
    pub fn is_leavened(&self) -> bool {
        self.soda.likely().value() > 0.0 || self.gas.likely().value() > 0.0
    }

    /// Whether soda and acid come out even, by the likely figures.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        if self.soda.likely().value() <= 0.0 {
            Verdict::NoSoda
        } else if self.left_over.likely().as_grams() > self.tasted() {
            Verdict::SodaLeft
        } else if self.idle.likely().as_grams() > self.tasted() {
            Verdict::AcidIdle
        } else {
            Verdict::Even
        }
    }

    /// Whether the verdict holds for every acid in its range: soda is left over even if the acids
    /// are strong, or idle even if they are weak. Never where something is uncounted.
    #[must_use]
    pub fn is_sure(&self) -> bool {
        let tasted = self.tasted();
        match self.verdict() {
            Verdict::NoSoda => true,
            _ if !self.uncounted.is_empty() => false,
            Verdict::SodaLeft => self.left_over.low().as_grams() > tasted,
            Verdict::AcidIdle => self.idle.low().as_grams() > tasted,
            Verdict::Even => {
                self.left_over.high().as_grams() <= tasted && self.idle.high().as_grams() <= tasted
            }
        }
    }

    /// The verdict as a sentence for the baker, with its arithmetic.
    #[must_use]
    pub fn words(&self) -> String {
        let words = self.counted_words();
        if self.uncounted.is_empty() || self.verdict() == Verdict::NoSoda {
            return words;
        }
        format!(
            "{words}. Not counted, and may take soda: {}; weigh it first",
            self.uncounted.join(", ")
        )
    }

    /// The verdict on what has a weight.
    fn counted_words(&self) -> String {
        let g = |m: Mass| tenth(m);
        let (soda, acid) = (g(self.soda.likely()), g(self.acid.likely()));
        let range = format!("{}–{}", g(self.acid.low()), g(self.acid.high()));
        match self.verdict() {
            Verdict::NoSoda if self.powder.likely().value() > 0.0 => {
                "baking powder brings its own acid: nothing to balance".to_owned()
            }
            Verdict::NoSoda => "no soda: nothing to balance".to_owned(),
            Verdict::Even => format!(
                "soda and acid come out even: {soda} g of soda, the acids take {acid} g ({range})"
            ),
            Verdict::SodaLeft => format!(
                "{} g of soda is left over: {soda} g of soda less {acid} g ({range}) that the acids take{}. Left-over soda browns and tastes soapy",
                g(self.left_over.likely()),
                if self.left_over.low().as_grams() > self.tasted() {
                    ""
                } else {
                    "; with the sourest of these foods it comes out even"
                }
            ),
            Verdict::AcidIdle => format!(
                "the acids could take {} g more soda: {acid} g ({range}) against {soda} g of soda{}. That much acid stays sour",
                g(self.idle.likely()),
                if self.idle.low().as_grams() > self.tasted() {
                    ""
                } else {
                    "; with the mildest of these foods it comes out even"
                }
            ),
        }
    }
}

/// A tenth of a gram, or a hundredth below one; a half goes up, as on a scale.
pub(crate) fn tenth(m: Mass) -> String {
    let g = m.as_grams();
    if g > 0.0 && g < 0.1 {
        format!("{g:.2}")
    } else {
        // 0.85 is a hair below itself in binary.
        format!("{:.1}", (g * 10.0 + 1e-9).round() / 10.0)
    }
}

fn gas_of(kind: &Leavener, grams: Spread<Mass>) -> Spread<Volume> {
    let per = kind.gas_per_gram(Temperature::celsius(ROOM), SEA_LEVEL);
    grams.map::<Volume>(|g| g * per.likely().as_millilitres())
}

/// Flours that hold baking powder.
fn raises_itself(key: &str) -> bool {
    key.contains("self_raising") || key.contains("self_rising")
}

/// What a gram of a yeast is worth as instant yeast (0.40 and 0.33 of fresh, a bakery text).
fn as_instant(larder: &Larder, food: FoodId) -> f64 {
    match larder.food(food).key.as_str() {
        "active_dry_yeast" => super::yeast::INSTANT / super::yeast::ACTIVE_DRY,
        _ if larder.composition(food).water.unwrap_or(0.0) > 50.0 => super::yeast::INSTANT,
        _ => 1.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn mix(lines: &[(&str, f64)]) -> Leavening {
        let larder = Larder::built_in().expect("the built-in tables");
        let of = |(key, g): &(&str, f64)| {
            let food = larder.by_key(key).unwrap_or_else(|| panic!("{key}"));
            (food, Spread::exact(Mass::grams(*g)))
        };
        Leavening::of(&lines.iter().map(of).collect::<Vec<_>>(), &larder)
    }

    /// Project rule R8.1: 2.3 g of soda to about 240 g of buttermilk or yoghurt come out even.
    #[test]
    fn r8_1_buttermilk_and_soda_are_even() {
        for acid in ["buttermilk", "yogurt"] {
            let l = mix(&[
                ("white_rice_flour", 250.0),
                (acid, 240.0),
                ("baking_soda", 2.3),
            ]);
            assert_eq!(l.verdict(), Verdict::Even, "{acid}: {}", l.words());
        }
    }

    /// Twice the soda: half of it is left over, whatever the buttermilk (Greer: 1 tsp to a cup
    /// leaves soda).
    #[test]
    fn a_teaspoon_to_a_cup_leaves_soda() {
        let l = mix(&[
            ("white_rice_flour", 250.0),
            ("buttermilk", 245.0),
            ("baking_soda", 4.6),
        ]);
        assert_eq!(l.verdict(), Verdict::SodaLeft);
        assert!(l.is_sure(), "{}", l.words());
        let left = l.left_over;
        assert!((left.likely().as_grams() - (4.6 - 245.0 * 0.0085)).abs() < 0.01);
        assert!(left.low() <= left.likely() && left.likely() <= left.high());
    }

    #[test]
    fn milk_leaves_all_of_the_soda() {
        let l = mix(&[
            ("white_rice_flour", 250.0),
            ("whole_milk", 240.0),
            ("baking_soda", 2.3),
        ]);
        assert_eq!(l.verdict(), Verdict::SodaLeft);
        assert_eq!(l.gas.likely().as_millilitres(), 0.0);
        // 2 NaHCO3 give one CO2 by heat alone: 2.3 / 84.006 / 2 mol at 25 °C.
        let ml = 2.3 / 84.006 / 2.0 * 24_465.4;
        assert!((l.gas_by_heat.likely().as_millilitres() - ml).abs() < 0.1);
    }

    #[test]
    fn lemon_without_much_soda_stays_sour() {
        let l = mix(&[
            ("white_rice_flour", 250.0),
            ("lemon_juice", 60.0),
            ("baking_soda", 1.0),
        ]);
        assert_eq!(l.verdict(), Verdict::AcidIdle);
        assert!(l.is_sure());
        assert!(l.words().contains("sour"));
    }

    #[test]
    fn powder_needs_no_balance_and_its_gas_counts() {
        let l = mix(&[("white_rice_flour", 250.0), ("baking_powder", 10.0)]);
        assert_eq!(l.verdict(), Verdict::NoSoda);
        assert!((l.powder_percent() - 4.0).abs() < 1e-9);
        let ml = 2.7 / 84.006 * 24_465.4;
        assert!((l.gas.likely().as_millilitres() - ml).abs() < 0.5);
        // Gay-Lussac: from 25 to 95 °C a gas grows by 368.15 / 298.15.
        let ratio = l.gas_hot().likely().value() / l.gas.likely().value();
        assert!((ratio - 368.15 / 298.15).abs() < 1e-9);
    }

    #[test]
    fn self_raising_flour_brings_powder() {
        let l = mix(&[("self_raising_flour", 200.0)]);
        assert!((l.powder.likely().as_grams() - 9.5).abs() < 1e-9);
        assert!(l.is_leavened());
    }

    #[test]
    fn potash_takes_more_acid_than_soda_and_gives_half_the_gas_for_it() {
        let l = mix(&[
            ("white_rice_flour", 250.0),
            ("potash", 2.0),
            ("cream_of_tartar", 20.0),
        ]);
        assert!((l.soda.likely().as_grams() - 2.0 * 2.0 * 84.006 / 138.205).abs() < 1e-6);
        let ml = 2.0 / 138.205 * 24_465.4;
        assert!((l.gas.likely().as_millilitres() - ml).abs() < 0.1);
        assert_eq!(l.gas_by_heat.likely().as_millilitres(), 0.0);
    }

    #[test]
    fn pieces_of_fruit_keep_their_acid() {
        let l = mix(&[
            ("white_rice_flour", 250.0),
            ("raspberry", 150.0),
            ("baking_soda", 2.0),
        ]);
        assert_eq!(l.verdict(), Verdict::SodaLeft);
        assert!(!l.is_sure(), "crushed berries would take it");
    }

    #[test]
    fn nothing_of_nothing() {
        let l = mix(&[]);
        assert!(!l.is_leavened() && l.parts.is_empty());
        assert_eq!(l.verdict(), Verdict::NoSoda);
        assert_eq!(l.gas_per_flour(), None);
    }
}
