//! Kitchen units, the words for them, and what one holds in each locale.

use crate::{Locale, Mass, Spread, Volume};

/// A unit an ingredient line can be counted in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Unit {
    /// Cup; by locale.
    Cup,
    /// Tablespoon; by locale.
    Tbsp,
    /// Teaspoon; by locale.
    Tsp,
    /// Dessertspoon, two teaspoons.
    Dessertspoon,
    /// Fluid ounce; by locale.
    FlOz,
    /// Millilitre.
    Ml,
    /// Litre.
    L,
    /// Decilitre.
    Dl,
    /// Pint; by locale.
    Pint,
    /// Quart, two pints.
    Quart,
    /// Gill, a quarter of a pint.
    Gill,
    /// Gram.
    G,
    /// Kilogram.
    Kg,
    /// Milligram.
    Mg,
    /// Avoirdupois ounce.
    Oz,
    /// Avoirdupois pound.
    Lb,
    /// Stick of butter or margarine: half a US cup, 4 oz.
    Stick,
    /// Packet, sachet, envelope, box, bag, tub.
    Packet,
    /// Can, tin, jar, bottle.
    Can,
    /// One whole piece: an egg, an apple.
    Count,
    /// Pinch, a sixteenth of a teaspoon.
    Pinch,
    /// Dash, an eighth of a teaspoon.
    Dash,
    /// Drop.
    Drop,
    /// Sprig.
    Sprig,
    /// Slice.
    Slice,
    /// Clove (of garlic).
    Clove,
}

/// What kind of measure a unit is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UnitKind {
    /// Grams, ounces: needs no table.
    Mass,
    /// Cups, spoons, millilitres: needs the ingredient's weight per volume.
    Volume,
    /// Pieces and packets: needs the ingredient's weight per piece.
    Piece,
}

/// What one of a unit holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Hold {
    /// A mass.
    Mass(Mass),
    /// A volume, with a range where books or spoons differ.
    Volume(Spread<Volume>),
    /// A piece: the larder knows its weight.
    Piece,
}

impl Unit {
    /// Every unit.
    pub const ALL: [Self; 26] = [
        Self::Cup,
        Self::Tbsp,
        Self::Tsp,
        Self::Dessertspoon,
        Self::FlOz,
        Self::Ml,
        Self::L,
        Self::Dl,
        Self::Pint,
        Self::Quart,
        Self::Gill,
        Self::G,
        Self::Kg,
        Self::Mg,
        Self::Oz,
        Self::Lb,
        Self::Stick,
        Self::Packet,
        Self::Can,
        Self::Count,
        Self::Pinch,
        Self::Dash,
        Self::Drop,
        Self::Sprig,
        Self::Slice,
        Self::Clove,
    ];

    /// The code in machine-readable output and in tables.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Self::Cup => "cup",
            Self::Tbsp => "tbsp",
            Self::Tsp => "tsp",
            Self::Dessertspoon => "dessertspoon",
            Self::FlOz => "fl_oz",
            Self::Ml => "ml",
            Self::L => "l",
            Self::Dl => "dl",
            Self::Pint => "pint",
            Self::Quart => "quart",
            Self::Gill => "gill",
            Self::G => "g",
            Self::Kg => "kg",
            Self::Mg => "mg",
            Self::Oz => "oz",
            Self::Lb => "lb",
            Self::Stick => "stick",
            Self::Packet => "packet",
            Self::Can => "can",
            Self::Count => "count",
            Self::Pinch => "pinch",
            Self::Dash => "dash",
            Self::Drop => "drop",
            Self::Sprig => "sprig",
            Self::Slice => "slice",
            Self::Clove => "clove",
        }
    }
    /// The unit with this code.
    #[must_use]
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|u| u.code() == code)
    }
    /// How the unit is written for people: `tbsp`, `fl oz`, and nothing for a count.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::FlOz => "fl oz",
            Self::Count => "",
            Self::Ml => "mL",
            Self::L => "L",
            Self::Dl => "dL",
            other => other.code(),
        }
    }
    /// Mass, volume or piece.
    #[must_use]
    pub fn kind(self) -> UnitKind {
        match self {
            Self::G | Self::Kg | Self::Mg | Self::Oz | Self::Lb => UnitKind::Mass,
            Self::Stick
            | Self::Packet
            | Self::Can
            | Self::Count
            | Self::Sprig
            | Self::Slice
            | Self::Clove => UnitKind::Piece,
            _ => UnitKind::Volume,
        }
    }

    /// What one of the unit holds in a locale.
    ///
    /// # Source
    /// US: NIST Handbook 44 Appendix C, exact. Imperial gallon 4546.09 mL, exact. Australia:
    /// AS 1325 spoons (tablespoon 20 mL, seen at NSW Health). Pinch, dash, drop: from memory.
    #[must_use]
    pub fn hold(self, locale: Locale) -> Hold {
        const US_FL_OZ: f64 = 29.573_529_562_5;
        const IMPERIAL_FL_OZ: f64 = 28.413_062_5;
        let us = locale == Locale::Us;
        let exact = |ml: f64| Hold::Volume(Spread::exact(Volume::millilitres(ml)));
        let rough = |low: f64, likely: f64, high: f64| {
            Hold::Volume(Spread::new(
                Volume::millilitres(low),
                Volume::millilitres(likely),
                Volume::millilitres(high),
            ))
        };
        let pint = if us {
            16.0 * US_FL_OZ
        } else {
            20.0 * IMPERIAL_FL_OZ
        };
        let tsp = if us { US_FL_OZ / 6.0 } else { 5.0 };
        match self {
            Self::Cup => exact(if us { 8.0 * US_FL_OZ } else { 250.0 }),
            Self::Tbsp => exact(match locale {
                Locale::Us => US_FL_OZ / 2.0,
                Locale::Au => 20.0,
                Locale::Metric | Locale::Uk => 15.0,
            }),
            Self::Tsp => exact(tsp),
            Self::Dessertspoon => exact(2.0 * tsp),
            Self::FlOz => exact(match locale {
                Locale::Us => US_FL_OZ,
                Locale::Au => 30.0,
                Locale::Metric | Locale::Uk => IMPERIAL_FL_OZ,
            }),
            Self::Ml => exact(1.0),
            Self::L => exact(1000.0),
            Self::Dl => exact(100.0),
            Self::Pint => match locale {
                // An Australian pint is nominally 600 mL; older books mean the imperial one.
                Locale::Au => rough(568.261_25, 600.0, 600.0),
                _ => exact(pint),
            },
            Self::Quart => exact(2.0 * pint),
            Self::Gill => exact(pint / 4.0),
            Self::Pinch => rough(tsp / 24.0, tsp / 16.0, tsp / 8.0),
            Self::Dash => rough(tsp / 16.0, tsp / 8.0, tsp / 6.0),
            Self::Drop => rough(0.03, 0.05, 0.08),
            Self::G => Hold::Mass(Mass::grams(1.0)),
            Self::Kg => Hold::Mass(Mass::grams(1000.0)),
            Self::Mg => Hold::Mass(Mass::grams(0.001)),
            Self::Oz => Hold::Mass(Mass::ounces(1.0)),
            Self::Lb => Hold::Mass(Mass::pounds(1.0)),
            Self::Stick
            | Self::Packet
            | Self::Can
            | Self::Count
            | Self::Sprig
            | Self::Slice
            | Self::Clove => Hold::Piece,
        }
    }
}

/// A word for a unit, from `data/units.tsv`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct UnitWord {
    /// The word as written; lower case but for the single letters `T`, `L`, `G`.
    pub word: &'static str,
    /// The unit it is read as; `None` for an old measure that is no unit of ours.
    pub unit: Option<Unit>,
    /// How many of that unit one of the word is (a dozen is 12 pieces).
    pub times: f64,
    /// Millilitres one holds, where that is not the unit's own volume (old measures).
    pub millilitres: Option<f64>,
    /// An old or loose measure, always a doubt.
    pub old: bool,
}

/// All unit words of the table, in its order.
///
/// The table is part of the program: a broken row is a broken build, found by this crate's tests.
pub fn unit_words() -> impl Iterator<Item = UnitWord> {
    include_str!("../data/units.tsv")
        .lines()
        .filter(|l| !l.is_empty() && !l.starts_with("# "))
        .skip(1)
        .filter_map(|line| {
            let mut cells = line.split('\t');
            let word = cells.next()?;
            let unit = cells.next()?;
            let times = cells.next()?.parse().ok()?;
            let millilitres = cells.next()?.parse().ok();
            let old = cells.next()? == "old";
            let unit = if unit == "-" {
                None
            } else {
                Some(Unit::from_code(unit)?)
            };
            Some(UnitWord {
                word,
                unit,
                times,
                millilitres,
                old,
            })
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_the_table_is_read_and_no_word_stands_twice() {
        let rows = include_str!("../data/units.tsv")
            .lines()
            .filter(|l| !l.is_empty() && !l.starts_with("# "))
            .count();
        let words: Vec<_> = unit_words().collect();
        assert_eq!(words.len(), rows - 1);
        let mut seen = std::collections::HashSet::new();
        for w in &words {
            assert!(seen.insert(w.word), "{} stands twice", w.word);
            assert!(
                w.unit.is_some() || w.millilitres.is_some(),
                "{} holds nothing",
                w.word
            );
        }
        for unit in Unit::ALL {
            assert_eq!(Unit::from_code(unit.code()), Some(unit));
        }
    }

    #[track_caller]
    fn ml(unit: Unit, locale: Locale, want: f64) {
        let Hold::Volume(v) = unit.hold(locale) else {
            unreachable!("{unit:?} is a volume")
        };
        let got = v.likely().as_millilitres();
        assert!(
            (got - want).abs() < 5e-7 * want,
            "{unit:?} {locale:?}: {got}, not {want}"
        );
    }

    /// NIST Handbook 44 App. C (US), Weights and Measures: imperial gallon 4546.09 mL;
    /// AS 1325 tablespoon 20 mL.
    #[test]
    fn volumes_by_locale() {
        ml(Unit::Cup, Locale::Us, 236.588_236_5);
        ml(Unit::Tbsp, Locale::Us, 14.786_764_781_25);
        ml(Unit::Tsp, Locale::Us, 4.928_921_593_75);
        ml(Unit::Quart, Locale::Us, 946.352_946);
        ml(Unit::Pint, Locale::Uk, 568.261_25);
        ml(Unit::Gill, Locale::Uk, 142.065_312_5);
        ml(Unit::Quart, Locale::Uk, 1_136.522_5);
        ml(Unit::Cup, Locale::Metric, 250.0);
        ml(Unit::Tbsp, Locale::Au, 20.0);
        ml(Unit::Tbsp, Locale::Uk, 15.0);
    }
}
