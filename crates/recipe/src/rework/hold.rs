//! What a figure is held at, in the words of a baker.

use super::pins::BLEND;
use crate::household::plural;
use larder::{FoodId, Function, Larder};
use quantity::{Locale, Mass, UnitWord, fraction, number_word, unit_words};
use serde::{Deserialize, Serialize};
use std::error::Error;
use std::fmt;

/// The key of the figure that is all water over the flour phase, in percent.
pub const HYDRATION: &str = "hydration";
/// The key of the figure that is all binders together.
pub const BINDER: &str = "binder";

/// More than this is a slip of the pen, in g.
const MOST_GRAMS: f64 = 100_000.0;
/// Most that a line is of the flour phase, and most hydration, in percent.
const MOST_PERCENT: f64 = 1_000.0;
/// Most pieces.
const MOST_PIECES: f64 = 1_000.0;
/// More binder than this, in percent, is a slip of the pen.
const MOST_BINDER: f64 = 50.0;

/// What a line or a figure is held at.
///
/// # Example
/// ```
/// use larder::Larder;
/// use quantity::Locale;
/// use recipe::rework::Hold;
/// let larder = Larder::built_in().unwrap();
/// let held = |text, line| Hold::parse(text, line, &larder, Locale::Us);
/// assert_eq!(held("310", "whole_milk").unwrap(), Hold::Grams(310.0));
/// assert_eq!(held("4 %", "psyllium_powder").unwrap(), Hold::Percent(4.0));
/// assert_eq!(held("two eggs", "egg").unwrap().to_string(), "2 eggs");
/// assert_eq!(held("none", "binder").unwrap(), Hold::None);
/// assert!(held("2 eggs", "whole_milk").is_err());
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Hold {
    /// Grams, 0 to 100 000.
    Grams(f64),
    /// Percent of the flour phase, 0 to 1000: it follows when the flour changes.
    Percent(f64),
    /// Pieces, by what one weighs in the recipe's country.
    Count {
        /// How many, above 0 to 1000.
        number: f64,
        /// Of what, in the number's form: `eggs`, `large eggs`, `egg white`.
        of: String,
    },
    /// Left out.
    None,
}

/// Why words are nothing that a figure can be held at: a sentence with what was expected.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HoldError(String);

impl fmt::Display for HoldError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Error for HoldError {}

fn wrong<T>(what: impl Into<String>) -> Result<T, HoldError> {
    Err(HoldError(what.into()))
}

impl fmt::Display for Hold {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Grams(g) => write!(f, "{g} g"),
            Self::Percent(p) => write!(f, "{p} %"),
            Self::Count { number, of } => write!(f, "{number} {of}"),
            Self::None => f.write_str("none"),
        }
    }
}

/// A figure of a component, not one of its lines.
#[must_use]
pub fn is_figure(line: &str) -> bool {
    matches!(line, HYDRATION | BINDER)
}

/// The larder key of a line: without the number of a second line of one food.
fn food_of(line: &str, larder: &Larder) -> Option<FoodId> {
    larder.by_key(line.split_once('#').map_or(line, |(key, _)| key))
}

impl Hold {
    /// Reads what a figure shall be held at.
    ///
    /// # Inputs
    /// - `text`: `310`, `310 g`, `1.2 kg`, `4 %`, `2 eggs`, `two eggs`, `1 egg white`, `1 packet`,
    ///   `2 tbsp`, `none`, `no yeast`. A bare number is grams, of hydration and binder percent.
    /// - `line`: the key of the line, or [`HYDRATION`] or [`BINDER`].
    /// - `locale`: whose eggs.
    ///
    /// # Errors
    /// [`HoldError`]: words that say no such figure, or one that [`Hold::check`] refuses.
    pub fn parse(
        text: &str,
        line: &str,
        larder: &Larder,
        locale: Locale,
    ) -> Result<Self, HoldError> {
        let words = text.trim().to_lowercase();
        let expected = expected(line, larder);
        let is_none = ["none", "no", "nothing", "without", "left out", "leave out"];
        let hold = if is_none.contains(&words.as_str())
            || words.starts_with("no ")
            || words.starts_with("without ")
        {
            Self::None
        } else {
            let Some((number, rest)) = number(&words) else {
                return wrong(format!("'{}' is no figure: {expected}", text.trim()));
            };
            match rest {
                "" if is_figure(line) => Self::Percent(number),
                // Nobody weighs half a gram of egg: it is half of one.
                "" if of_an_egg(&words, line, larder) => {
                    let (of, _) = piece("piece", line, number, larder, locale).unwrap_or_default();
                    Self::Count { number, of }
                }
                "" | "g" | "gram" | "grams" => Self::Grams(number),
                "kg" => Self::Grams(number * 1000.0),
                "%"
                | "percent"
                | "per cent"
                | "% of flour"
                | "% of the flour"
                | "% of the flour phase" => Self::Percent(number),
                of => {
                    let Some((of, _)) = piece(of, line, number, larder, locale) else {
                        return wrong(match food_of(line, larder).map(|f| larder.food(f)) {
                            Some(food) => format!(
                                "'{}' cannot be counted out for {}: {expected}",
                                text.trim(),
                                food.name
                            ),
                            None => format!("'{}' is no figure: {expected}", text.trim()),
                        });
                    };
                    Self::Count { number, of }
                }
            }
        };
        hold.check(line)?;
        Ok(hold)
    }

    /// Whether a line can be held at it.
    ///
    /// # Errors
    /// [`HoldError`]: a figure that no line of this key can have.
    pub fn check(&self, line: &str) -> Result<(), HoldError> {
        let within = |x: f64, most: f64| x.is_finite() && (0.0..=most).contains(&x);
        match (line, self) {
            ("starch" | "starch_share", _) => wrong(
                "the starch share is the blend's: choose another blend, or formulate one with the share you want",
            ),
            (_, Self::Grams(g)) if !within(*g, MOST_GRAMS) => wrong(format!(
                "{g} g cannot be weighed: write grams from 0 to 100000"
            )),
            (HYDRATION, Self::Percent(p)) if within(*p, MOST_PERCENT) && *p > 0.0 => Ok(()),
            (HYDRATION, _) => wrong(format!(
                "hydration cannot be held at {self}: write a percentage above 0, to 1000, as in 85 %"
            )),
            (BINDER, Self::Percent(p)) if !within(*p, MOST_BINDER) => wrong(format!(
                "the binder cannot be held at {p} %: write 0 to 50 % of the flour, or none"
            )),
            (BINDER, Self::Count { .. }) => wrong(format!(
                "the binder cannot be held at {self}: write its percent of the flour, its grams, or none"
            )),
            (BLEND, Self::Grams(0.0) | Self::None) => wrong(format!(
                "the blend cannot be held at {self}: every other figure is worked out from it; write grams above 0"
            )),
            (BLEND, Self::Grams(_)) => Ok(()),
            (BLEND, Self::Percent(_)) => wrong(format!(
                "the blend cannot be held at {self} of the flour: it is the flour that percentages are of; write grams"
            )),
            (BLEND, Self::Count { .. }) => wrong("a blend is not counted in pieces: write grams"),
            (use_of, Self::Percent(_)) if use_of.starts_with("use:") => wrong(format!(
                "'{}' cannot be held at {self} of the flour: its own flour is in the flour that percentages are of; write grams",
                &use_of[4..]
            )),
            (_, Self::Percent(p)) if !within(*p, MOST_PERCENT) => {
                wrong(format!("{p} % cannot be: write 0 to 1000 % of the flour"))
            }
            (_, Self::Count { number, .. }) if !within(*number, MOST_PIECES) || *number <= 0.0 => {
                wrong(format!("{self} cannot be: write a number above 0, to 1000"))
            }
            (_, Self::Count { of, .. }) if of.len() > 80 => {
                wrong("that is no word for a piece: write it as in 2 eggs")
            }
            _ => Ok(()),
        }
    }

    /// What it weighs on a line.
    ///
    /// # Inputs
    /// - `line`: the line's key.
    /// - `flour`: grams of the flour phase.
    ///
    /// # Returns
    /// Grams. `None`: pieces of what this line is not, or a percentage of no flour.
    #[must_use]
    pub fn grams(&self, line: &str, flour: f64, larder: &Larder, locale: Locale) -> Option<Mass> {
        match self {
            Self::Grams(g) => Some(Mass::grams(*g)),
            Self::Percent(p) => (flour > 0.0).then(|| Mass::grams(p * flour / 100.0)),
            Self::Count { number, of } => {
                let (_, one) = piece(of, line, *number, larder, locale)?;
                Some(Mass::grams(number * one))
            }
            Self::None => Some(Mass::grams(0.0)),
        }
    }

    /// Whether every figure in it is a plain number.
    #[must_use]
    pub fn is_finite(&self) -> bool {
        match self {
            Self::Grams(x) | Self::Percent(x) | Self::Count { number: x, .. } => x.is_finite(),
            Self::None => true,
        }
    }
}

/// What may be written for a line.
fn expected(line: &str, larder: &Larder) -> String {
    match line {
        HYDRATION => return "write a percentage, as in 85 %".to_owned(),
        BINDER => return "write percent of the flour, as in 4 %, or none".to_owned(),
        BLEND => return "write grams, as in 500".to_owned(),
        _ => {}
    }
    let counted = food_of(line, larder)
        .filter(|f| larder.measure(*f, "each", larder::State::Usual).is_some())
        .map_or(String::new(), |f| {
            format!(", a number as in 2 {}", plural(&larder.food(f).name))
        });
    format!(
        "write grams as in 310, percent of the flour as in 4 %{counted}, a measure as in 2 tbsp, or none"
    )
}

/// What one of a measure of a food weighs, g: `packet`, `tbsp`, `cups`.
fn measure(words: &str, food: FoodId, larder: &Larder, locale: Locale) -> Option<(String, f64)> {
    let plain = |u: &UnitWord| u.word == words && !u.old && u.times == 1.0;
    let unit = unit_words().find(plain)?.unit?;
    let one = larder.weigh(food, unit, None, larder::State::Usual, locale)?;
    Some((words.to_owned(), one.grams.likely().as_grams()))
}

/// Whether a bare fraction is of an egg, a yolk or a white: `½`, `1/2`, `1½`.
fn of_an_egg(words: &str, line: &str, larder: &Larder) -> bool {
    let egg = food_of(line, larder).is_some_and(|f| larder.food(f).does(Function::Egg));
    egg && words.contains(['/', '½', '¼', '¾', '⅓', '⅔'])
}

/// What one piece is called and weighs, g: `eggs`, `large egg`, `whites`; else what a measure does.
fn piece(
    words: &str,
    line: &str,
    number: f64,
    larder: &Larder,
    locale: Locale,
) -> Option<(String, f64)> {
    let food = food_of(line, larder)?;
    let name = larder.food(food).name.to_lowercase();
    let (size, of) = match words.split_once(' ') {
        Some((size, of)) if ["small", "medium", "large", "xl", "jumbo"].contains(&size) => {
            (Some(size), of.trim())
        }
        _ => (None, words.trim()),
    };
    let key = larder.food(food).key.replace('_', " ");
    let last = name.rsplit(' ').next().unwrap_or_default();
    let said = [name.as_str(), key.as_str(), last];
    let fits = said.iter().any(|n| of == *n || of == plural(n)) || matches!(of, "piece" | "pieces");
    if !fits {
        return measure(words, food, larder, locale);
    }
    let measure = larder.measure_in(food, size.unwrap_or("each"), locale)?;
    let mut called = size.map_or(String::new(), |s| format!("{s} "));
    called.push_str(&if number == 1.0 { name } else { plural(&name) });
    Some((called, measure.grams.likely().as_grams()))
}

/// A number as people write it, and what follows: `1½ eggs`, `two eggs`, `2,5`.
fn number(words: &str) -> Option<(f64, &str)> {
    let spelt = [
        ("a half", 0.5),
        ("half an", 0.5),
        ("half a", 0.5),
        ("half", 0.5),
        ("an", 1.0),
        ("a", 1.0),
    ];
    for (word, x) in spelt {
        if let Some(rest) = words.strip_prefix(word)
            && rest.starts_with(' ')
        {
            return Some((x, rest.trim()));
        }
    }
    if let Some((word, rest)) = words.split_once(' ')
        && let Some(n) = number_word(word)
    {
        return Some((f64::from(n), rest.trim()));
    }
    let end = words
        .char_indices()
        .find(|(_, c)| !(c.is_ascii_digit() || ".,/ ".contains(*c) || fraction(*c).is_some()))
        .map_or(words.len(), |(i, _)| i);
    let (number, rest) = words.split_at(end);
    Some((quantity::figure(number)?, rest.trim()))
}

#[cfg(test)]
mod tests {
    use super::{BINDER, HYDRATION, Hold};
    use larder::Larder;
    use quantity::Locale;
    use std::sync::LazyLock;

    static LARDER: LazyLock<Larder> =
        LazyLock::new(|| Larder::built_in().expect("the built-in tables"));

    fn read(text: &str, line: &str) -> Result<Hold, String> {
        Hold::parse(text, line, &LARDER, Locale::Us).map_err(|e| e.to_string())
    }

    #[test]
    fn in_the_words_of_a_baker() {
        for (text, line, shown) in [
            ("310", "water", "310 g"),
            ("310 g", "water", "310 g"),
            ("2,5", "table_salt", "2.5 g"),
            ("1.2 kg", BLEND, "1200 g"),
            ("1½", "table_salt", "1.5 g"),
            ("4 %", "psyllium_powder", "4 %"),
            ("4%", "psyllium_powder", "4 %"),
            ("4 % of the flour", "psyllium_powder", "4 %"),
            ("2 eggs", "egg", "2 eggs"),
            ("two eggs", "egg#2", "2 eggs"),
            ("thirteen eggs", "egg", "13 eggs"),
            ("½", "egg", "0.5 eggs"),
            ("1/2", "egg", "0.5 eggs"),
            ("an egg", "egg", "1 egg"),
            ("1 egg white", "egg_white", "1 egg white"),
            ("3 whites", "egg_white", "3 egg whites"),
            ("2 large eggs", "egg", "2 large eggs"),
            ("1 packet", "active_dry_yeast", "1 packet"),
            ("2 tbsp", "whole_milk", "2 tbsp"),
            ("none", BINDER, "none"),
            ("no yeast", "instant_yeast", "none"),
            ("85", HYDRATION, "85 %"),
            ("85 %", HYDRATION, "85 %"),
            ("3", BINDER, "3 %"),
        ] {
            assert_eq!(
                read(text, line).map(|h| h.to_string()),
                Ok(shown.to_owned()),
                "{text}"
            );
        }
    }
    use super::super::pins::BLEND;

    #[test]
    fn what_is_no_figure_says_what_was_expected() {
        for (text, line, word) in [
            ("", "water", "grams"),
            ("31o", "water", "cannot be counted"),
            ("1 2", "water", "grams"),
            ("1/0", "water", "grams"),
            ("NaN", "water", "grams"),
            ("2 eggs", "whole_milk", "cannot be counted"),
            ("2 eggs", "egg_white", "egg whites"),
            ("0 eggs", "egg", "above 0"),
            ("2000 %", "water", "1000 %"),
            ("1000000", "water", "100000"),
            ("none", HYDRATION, "percentage"),
            ("310 g", HYDRATION, "percentage"),
            ("0", BLEND, "above 0"),
            ("80 %", BLEND, "grams"),
            ("20 %", "use:poolish", "grams"),
            ("60 %", BINDER, "50 %"),
            ("50 %", "starch", "blend"),
        ] {
            let said = read(text, line).expect_err(text);
            assert!(said.contains(word), "{said}");
        }
    }

    /// An egg by the larder's weight: 50 g, USDA SR28 01123; a white 33 g, 01124.
    #[test]
    fn pieces_weigh_what_the_larder_says() {
        let grams = |text: &str, line: &str| {
            let hold = read(text, line).expect("a figure");
            hold.grams(line, 500.0, &LARDER, Locale::Us)
                .map(|g| g.as_grams())
        };
        assert_eq!(grams("2 eggs", "egg"), Some(100.0));
        assert_eq!(grams("1 egg white", "egg_white"), Some(33.0));
        assert_eq!(grams("4 %", "psyllium_powder"), Some(20.0));
        // 1/4 oz, as printed on it.
        assert_eq!(grams("1 packet", "active_dry_yeast#2"), Some(7.0));
        assert_eq!(grams("8 oz", "water").map(f64::round), Some(227.0));
        assert!(read("1 packet", "water").is_err());
        assert_eq!(
            Hold::Percent(4.0).grams("water", 0.0, &LARDER, Locale::Us),
            None
        );
    }

    #[test]
    fn older_sheets_say_grams() {
        let read: crate::sheet::Pin =
            serde_json::from_str(r#"{"component":"dough","line":"water","grams":310}"#)
                .expect("a pin");
        assert_eq!(read.hold, Hold::Grams(310.0));
        for hold in [
            Hold::Grams(0.1 + 0.2),
            Hold::Percent(4.0),
            Hold::Count {
                number: 2.0,
                of: "eggs".to_owned(),
            },
            Hold::None,
        ] {
            let pin = crate::sheet::Pin {
                hold,
                ..read.clone()
            };
            let json = serde_json::to_string(&pin).expect("json");
            assert_eq!(
                serde_json::from_str::<crate::sheet::Pin>(&json).expect(&json),
                pin
            );
        }
    }
}
