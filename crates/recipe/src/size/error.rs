//! Why an ask cannot be met.

use super::pan::PanError;
use super::{LEAST, MOST};
use crate::household::scale_grams;
use crate::the_part;
use quantity::Mass;
use std::fmt;

/// Why an ask cannot be met. Says what to do about it.
#[derive(Debug, Clone, PartialEq)]
pub enum SizeError {
    /// So many times the recipe cannot be made.
    Factor {
        /// The factor.
        factor: f64,
    },
    /// A figure that is none: zero, negative, not a number.
    Figure {
        /// Of what: `a piece's weight`.
        what: &'static str,
        /// The figure.
        value: f64,
        /// An example of one.
        such_as: &'static str,
    },
    /// Words that are no measure or weight.
    Words {
        /// The words.
        words: String,
        /// An example of some.
        such_as: &'static str,
    },
    /// No component is called so.
    NoPart {
        /// The name.
        name: String,
        /// The components' names.
        parts: Vec<String>,
    },
    /// The component has none of what is asked by: no flour, no weight.
    Without {
        /// The component.
        part: String,
        /// What it has none of.
        what: &'static str,
    },
    /// The recipe does not say how many it makes.
    NoCount {
        /// `pieces` or `servings`.
        what: &'static str,
    },
    /// A piece is heavier than the whole dough.
    PieceTooHeavy {
        /// Grams of the piece.
        each: f64,
        /// Grams there are.
        dough: f64,
    },
    /// No loss in the oven is known for the style.
    NoBakeLoss {
        /// The component.
        part: String,
    },
    /// The component's amount does not follow the recipe's size.
    Fixed {
        /// The component.
        part: String,
    },
    /// No line is called so.
    NoLine {
        /// What was asked for.
        what: String,
        /// Names that are near, or all.
        near: Vec<String>,
    },
    /// Several foods of the recipe are meant.
    SeveralLines {
        /// What was asked for.
        what: String,
        /// Their names.
        names: Vec<String>,
    },
    /// The pan is none.
    Pan(PanError),
    /// More than the pan holds.
    Overfull {
        /// The share of the pan asked for, of 1.
        fill: f64,
        /// The pan.
        pan: String,
    },
    /// The pan is lined with the dough, not filled.
    Lined {
        /// The pan.
        pan: String,
    },
    /// The pan has no measures.
    NoArea {
        /// The pan.
        pan: String,
    },
    /// Thinner than can be rolled.
    TooThin {
        /// Millimetres.
        thick: f64,
    },
    /// Thicker than any sheet.
    TooThick {
        /// Millimetres.
        thick: f64,
    },
    /// No weight is known of what is at hand.
    NoWeight {
        /// The words.
        words: String,
        /// What of it the larder does not know or cannot weigh.
        what: String,
    },
    /// More of a component is used than is made.
    Short {
        /// The component.
        part: String,
        /// Grams made.
        makes: f64,
        /// Grams used.
        used: f64,
    },
    /// Exactly enough of what nothing uses.
    Unused {
        /// The component.
        part: String,
    },
    /// Too few eggs to break some whole and take others apart.
    FewEggs {
        /// Eggs at hand.
        have: f64,
        /// What others are taken apart for: 'egg yolk'.
        parts: Vec<String>,
    },
    /// No size near takes whole eggs.
    NoWholeEggs,
}

fn grams(g: f64) -> String {
    scale_grams(Mass::grams(g), false)
}

impl fmt::Display for SizeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Factor { factor } if factor.is_finite() && *factor > 0.0 => write!(
                f,
                "× {} of the recipe cannot be made: ask for × {LEAST} to × {MOST:.0}",
                super::ask::as_typed(*factor)
            ),
            Self::Factor { factor } => write!(
                f,
                "× {} of the recipe cannot be made: ask for × {LEAST} to × {MOST:.0}",
                super::ask::as_typed(*factor)
            ),
            Self::Figure {
                what,
                value,
                such_as,
            } => write!(f, "{value} is no {what}: write one such as {such_as}"),
            Self::Words { words, such_as } => {
                write!(
                    f,
                    "'{words}' is no measure that is understood here: write one such as {such_as}"
                )
            }
            Self::NoPart { name, parts } => {
                write!(f, "no component is called '{name}': this recipe has ")?;
                let named: Vec<String> = parts
                    .iter()
                    .filter(|p| !p.is_empty())
                    .map(|p| format!("'{p}'"))
                    .collect();
                f.write_str(&if named.is_empty() {
                    "one part without a name".to_owned()
                } else {
                    named.join(", ")
                })
            }
            Self::Without { part: name, what } => write!(
                f,
                "{} has no {what} to size it by: weigh its lines first, or name another component",
                the_part(name)
            ),
            Self::NoCount { what } => write!(
                f,
                "the recipe does not say how many {what} it makes: write what it makes, as in '12 buns' or 'serves 8', or give a weight for each"
            ),
            Self::PieceTooHeavy { each, dough } => write!(
                f,
                "a piece of {} g is more than all of the dough, {} g: ask for a lighter piece, or for how many you want and the size follows",
                grams(*each),
                grams(*dough)
            ),
            Self::NoBakeLoss { part: name } => write!(
                f,
                "what {} loses in the oven is not known: give the weight of a piece before baking",
                the_part(name)
            ),
            Self::Fixed { part: name } => write!(
                f,
                "{} is made in an amount of its own, which does not follow the recipe's: take that back, or ask by another figure",
                the_part(name)
            ),
            Self::NoLine { what, near } => write!(
                f,
                "nothing called '{what}' with a weight is in this recipe: it has {}",
                near.join(", ")
            ),
            Self::SeveralLines { what, names } => {
                write!(f, "'{what}' may be {}: write which", names.join(" or "))
            }
            Self::Pan(error) => error.fmt(f),
            Self::Overfull { fill, pan } => write!(
                f,
                "{:.0} % of {pan} is more than it holds: fill less, or take a larger pan or more of them",
                fill * 100.0
            ),
            Self::Lined { pan } => write!(
                f,
                "{pan} is lined with pastry, not filled with it: say the pan it was made for too ('in place of the pan' on the Size page, --from-pan in the terminal), or give the pastry's weight"
            ),
            Self::NoArea { pan } => write!(
                f,
                "{pan} has no measures to keep the depth by: size it by the volume, or write its length, width and depth"
            ),
            Self::TooThin { thick } => write!(
                f,
                "a sheet of {thick} mm cannot be rolled: 0.5 mm is the thinnest that is worked with, 5 to 7 mm is usual for a gluten-free dough (common practice)"
            ),
            Self::TooThick { thick } => write!(
                f,
                "{} cm is no thickness of a sheet: up to 5 cm is rolled or spread. For a slab or a loaf give the pan, as in --pan 'loaf 9x5x3'",
                super::ask::plain((thick / 10.0 * 100.0).round() / 100.0)
            ),
            Self::NoWeight { words, what } => write!(
                f,
                "what '{words}' weighs is not known: the larder has no weight for that measure of '{what}'. Weigh it and write grams, as in '210 g {what}'"
            ),
            Self::Short {
                part: name,
                makes,
                used,
            } => write!(
                f,
                "{} comes to {} g but {} g of it is used: make more of it, or ask for exactly enough",
                the_part(name),
                grams(*makes),
                grams(*used)
            ),
            Self::Unused { part: name } => write!(
                f,
                "nothing uses {} in a weighed amount, so 'exactly enough' has nothing to go by: give its weight or how many times",
                the_part(name)
            ),
            Self::FewEggs { have, parts } => write!(
                f,
                "{} egg is too few: this recipe takes whole eggs and {} from others; have 2 or more, or say what there is of each by weight, as in '20 g egg, 10 g egg yolk'",
                super::ask::plain((have * 100.0).round() / 100.0),
                parts.join(" and ")
            ),
            Self::NoWholeEggs => {
                f.write_str("no size near this one takes whole eggs: weigh the last one beaten")
            }
        }
    }
}
impl std::error::Error for SizeError {}

impl From<PanError> for SizeError {
    fn from(error: PanError) -> Self {
        Self::Pan(error)
    }
}

/// Whether so many times a recipe can be worked with.
pub(super) fn check_factor(factor: f64) -> Result<(), SizeError> {
    if factor.is_finite() && (LEAST..=MOST).contains(&factor) {
        Ok(())
    } else {
        Err(SizeError::Factor { factor })
    }
}

/// A number of things as it is asked for: no half of one.
pub(super) fn whole(
    what: &'static str,
    value: f64,
    such_as: &'static str,
) -> Result<f64, SizeError> {
    if value.fract() == 0.0 {
        one_at_least(what, value, such_as)
    } else {
        Err(SizeError::Figure {
            what,
            value,
            such_as,
        })
    }
}

/// A number of things that may come of another figure, one at least.
pub(super) fn one_at_least(
    what: &'static str,
    value: f64,
    such_as: &'static str,
) -> Result<f64, SizeError> {
    at_least(1.0, what, value, such_as)
}

/// A figure that must be above zero.
pub(super) fn positive(
    what: &'static str,
    value: f64,
    such_as: &'static str,
) -> Result<f64, SizeError> {
    at_least(f64::MIN_POSITIVE, what, value, such_as)
}

fn at_least(
    least: f64,
    what: &'static str,
    value: f64,
    such_as: &'static str,
) -> Result<f64, SizeError> {
    if value.is_finite() && value >= least {
        Ok(value)
    } else {
        Err(SizeError::Figure {
            what,
            value,
            such_as,
        })
    }
}
