//! Why words mean no pan, and how to write one.

use super::vocabulary::is_flat;
use super::words::DEEPEST;
use std::fmt;

/// Why words mean no pan.
#[derive(Debug, Clone, PartialEq)]
pub enum PanError {
    /// No pan is called so.
    Unknown {
        /// The words.
        words: String,
        /// What near ones are called.
        near: Vec<String>,
    },
    /// Several are, in different sizes.
    Several {
        /// The words.
        words: String,
        /// What they are called, with their sizes.
        names: Vec<String>,
        /// Their keys.
        keys: Vec<String>,
    },
    /// A measure is nothing, or no measure of a pan.
    Measure {
        /// The words.
        words: String,
        /// What of it: `depth`.
        what: &'static str,
        /// In cm.
        cm: f64,
    },
    /// A figure below nothing.
    Below {
        /// The words.
        words: String,
    },
    /// Less or more water than any pan holds.
    Water {
        /// The words.
        words: String,
        /// In g.
        water: f64,
    },
    /// Deeper than anything is baked in.
    Deep {
        /// The words.
        words: String,
        /// In cm.
        cm: f64,
    },
    /// A width and a depth as no tin has.
    Odd {
        /// The words.
        words: String,
        /// Its width, cm.
        wide: f64,
        /// Its depth, cm.
        deep: f64,
    },
    /// A figure that may be how many tins there are, or a measure of one.
    Count {
        /// The words.
        words: String,
        /// The figure.
        count: u32,
        /// The words behind it.
        one: String,
    },
    /// A pan of its measures holds much more or less than is said.
    Holds {
        /// The words.
        words: String,
        /// What is said, mL.
        said: f64,
        /// What it holds by its measures, mL.
        ml: f64,
    },
    /// A heart, a flower or the like: its measures do not tell what it holds.
    Shaped {
        /// The words.
        words: String,
    },
    /// A ring tin by its measures, which do not tell what its tube takes.
    Ring {
        /// The words.
        words: String,
    },
    /// More water than a ring tin holds without its tube.
    Tube {
        /// The words.
        words: String,
        /// What is said, g of water.
        water: f64,
        /// What its outside measures hold, g of water.
        most: f64,
    },
    /// Two measures that may be across and depth, or two sides.
    Two {
        /// The words.
        words: String,
    },
    /// One measure, and the depth is not known from it.
    Depth {
        /// The words.
        words: String,
    },
    /// A word that says nothing of a pan.
    Word {
        /// The words.
        words: String,
        /// Which.
        word: String,
    },
    /// A tin of many hollows, of which it is not known what they hold.
    Hollows {
        /// The words.
        words: String,
        /// How many.
        number: u32,
    },
    /// A ring tin's tube that leaves no room, or is none.
    Wide {
        /// The words.
        words: String,
        /// The tube, cm.
        tube: f64,
        /// The tin, cm.
        across: f64,
        /// The widest tube of such a tin, cm.
        most: f64,
    },
    /// An own pan that was never measured, and has no size in its name.
    Unmeasured {
        /// Its name.
        name: String,
    },
}

impl fmt::Display for PanError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unknown { words, near } => {
                write!(f, "no pan is called '{words}': ")?;
                if near.is_empty() {
                    f.write_str("write its kind and measures, as in 'round 9x2', 'loaf 23x13x7 cm'")
                } else {
                    write!(
                        f,
                        "did you mean {}? Or write its measures, as in 'loaf 23x13x7 cm'",
                        near.join(", ")
                    )
                }
            }
            Self::Several { words, names, .. } => write!(
                f,
                "'{words}' may be {}: say which, or write all its measures, the depth too",
                names.join(" or ")
            ),
            Self::Measure { words, what, cm } if *cm <= 0.0 => write!(
                f,
                "a pan of {what} {cm} holds nothing ('{words}'): write its {what} in cm or inches, as in 'round 23x5 cm'"
            ),
            Self::Measure { words, what, cm } => write!(
                f,
                "a {what} of {cm} cm is no pan's ('{words}'): write from 0.5 to 200 cm, with the unit behind"
            ),
            Self::Below { words } => write!(
                f,
                "a figure in '{words}' is below nothing: write its measures without a minus, as in 'round 23x5 cm'"
            ),
            Self::Water { words, water } => write!(
                f,
                "no pan holds {water:.0} g of water ('{words}'): write from 5 g to 50 kg, as in '1500 g water'"
            ),
            Self::Deep { words, cm } => write!(
                f,
                "a pan {cm} cm deep stands in no oven ('{words}'): write up to {DEEPEST} cm, the depth last and with its unit, as in 'round 23x5 cm'"
            ),
            Self::Odd { words, wide, deep } => write!(
                f,
                "'{words}' would be a tin {wide} cm wide and {deep} cm deep: write how many tins there are first and the depth last, as in '2 x round 23x5 cm'"
            ),
            Self::Count { words, count, one } => write!(
                f,
                "'{words}' may be {count} tins or one: write '{count} tins of {one}', or its kind first, as in 'round 23x5 cm'"
            ),
            Self::Holds { words, said, ml } => write!(
                f,
                "a pan of these measures holds about {ml:.0} mL, not {said:.0} ('{words}'): write its measures alone, or fill it with water on the scale and write the grams, as in '{said:.0} g water'"
            ),
            Self::Shaped { words } => write!(
                f,
                "what '{words}' holds does not follow from its measures: fill it to the rim with water on the scale and write the grams behind it, as in '{words}, 1500 g water'"
            ),
            Self::Ring { words } => write!(
                f,
                "what '{words}' holds is not known from its width and depth, for the tube takes some: fill it to the rim with water on the scale and write the grams behind it, as in '{words}, 1500 g water', or how wide the tube is, as in '{words}, tube 6 cm'"
            ),
            Self::Tube { words, water, most } => write!(
                f,
                "a tin of these measures holds less than {most:.0} g of water, for the tube takes some, not {water:.0} ('{words}'): weigh the water again, or measure the tin"
            ),
            Self::Wide {
                words,
                tube,
                across,
                most,
            } => write!(
                f,
                "a tube of {tube} cm is none of a ring tin {across} cm across ('{words}'): write how wide the tube is, up to {most} cm, as in 'tube 6 cm'"
            ),
            Self::Two { words } => write!(
                f,
                "'{words}' has two measures: they may be across and depth, or two sides: write 'round {words}', or all three, length x width x depth, as in 23x13x7 cm"
            ),
            Self::Depth { words } if is_flat(words) => write!(
                f,
                "the depth of '{words}' is not given: write it behind, as in '{words}, 2 cm deep'; sheets and trays are usually 1 to 2.5 cm deep (common practice, no source)"
            ),
            Self::Depth { words } => write!(
                f,
                "the depth of '{words}' is not given: write it last, as in round 23x5 cm or 23x13x7 cm"
            ),
            Self::Word { words, word } => write!(
                f,
                "'{words}': '{word}' is not understood: write its measures with their unit, as in 9x5x3 in (length, width, depth) or round 23x5 cm (across, depth)"
            ),
            Self::Hollows { words, number } => write!(
                f,
                "what a hollow of '{words}' holds is not known: fill one to the rim with water on the scale and write how many there are and the grams, as in '{number} x 60 g water'"
            ),
            Self::Unmeasured { name } => write!(
                f,
                "your pan '{name}' has no volume yet: fill it to the rim with water on the scale and write the grams on the kitchen page, as in '{name}, 1440 g water'"
            ),
        }
    }
}

impl PanError {
    /// The same of so many of a pan: what is to be written has their number.
    #[must_use]
    pub fn of_many(mut self, count: u32) -> Self {
        if let (Self::Several { words, names, .. }, 2..) = (&mut self, count) {
            *words = format!("{count} x {words}");
            for name in names {
                *name = format!("'{count} x {name}'");
            }
        }
        self
    }
}

impl std::error::Error for PanError {}
