//! A pack in the baker's words: '5 lb bag', '12 eggs', '1 L', '2 x 500 g'.

use crate::weigh::egg_size;
use larder::{FoodId, Function, Larder, Trim};
use quantity::{Hold, Locale, Unit, UnitKind, figure, unit_words};
use std::fmt;

/// What a pack holds.
#[derive(Debug, Clone, PartialEq)]
pub struct PackSize {
    /// Grams as bought, shells and peel with them.
    pub grams: f64,
    /// What the grams rest on: 'as written', or a weight per piece or volume with its source.
    pub basis: String,
}

/// Why words are no pack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PackError {
    /// The words.
    pub found: String,
    /// What is missing or not understood.
    pub what: String,
    /// How to mend it.
    pub mend: String,
}

impl fmt::Display for PackError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "'{}': {}\n  {}", self.found, self.what, self.mend)
    }
}
impl std::error::Error for PackError {}

/// Sizes that pieces are sold in.
const SIZES: [(&str, &str); 7] = [
    ("small", "small"),
    ("medium", "medium"),
    ("large", "large"),
    ("extra large", "xl"),
    ("xl", "xl"),
    ("jumbo", "jumbo"),
    ("big", "large"),
];
/// What packs are called: says nothing of what they hold.
const WRAPS: [&str; 20] = [
    "bag", "bags", "box", "boxes", "pack", "packs", "tin", "tins", "jar", "jars", "bottle",
    "bottles", "tub", "tubs", "carton", "cartons", "block", "tray", "sack", "of",
];
/// More than a tonne is a slip of the pen.
const MOST_GRAMS: f64 = 1e6;

/// Reads what a pack holds.
///
/// # Inputs
/// - `text`: a number with a unit ('5 lb bag', '1 L', '2 x 500 g'), or a count of the food ('12
///   eggs', '6 large', 'a dozen'). A number alone is grams, unless a piece of the food weighs more.
/// - `food`: the food in it; a volume or a count is weighed as that food, and cannot be read without.
/// - `locale`: whose pints and ounces of volume.
///
/// # Returns
/// Grams as bought. A count or a volume is weighed by the larder's likely weight of a piece, which
/// is of the part that is used, and then made up by what is trimmed off: a dozen eggs are twelve
/// times the egg over the share that is not shell.
///
/// # Errors
/// [`PackError`] where there is no number, the unit is not known, or the larder has no weight of a
/// piece or a cup of this food.
pub fn read_pack(
    text: &str,
    food: Option<FoodId>,
    larder: &Larder,
    locale: Locale,
) -> Result<PackSize, PackError> {
    let wrong = |what: String, mend: &str| {
        Err(PackError {
            found: text.trim().to_owned(),
            what,
            mend: mend.to_owned(),
        })
    };
    const LIKE: &str = "write it like 500 g, 5 lb bag, 1 L, 2 x 500 g or 12 eggs";
    let plain = text.trim().to_lowercase().replace(['×', '*'], " x ");
    let (times, rest) = match plain.split_once(" x ") {
        Some((n, rest)) => match figure(n) {
            Some(n) if n > 0.0 => (n, rest.trim().to_owned()),
            _ => return wrong(format!("'{}' is no number of packs", n.trim()), LIKE),
        },
        None => (1.0, plain),
    };
    let Some((number, words)) = number_and_words(&rest) else {
        return wrong("there is no number".to_owned(), LIKE);
    };
    let count = times * number;
    if !(count.is_finite() && count > 0.0) {
        return wrong("a pack holds more than nothing".to_owned(), LIKE);
    }
    let trim = food.and_then(|f| larder.trim(f));
    let name = food.map_or("this food", |f| larder.food(f).name.as_str());
    let weigh = |unit: Unit, piece: Option<&str>| {
        larder.weigh(food?, unit, piece, larder::State::Usual, locale)
    };
    let trimmed = |g: f64| trim.as_ref().map_or(g, |t: &Trim| t.bought(g));
    let size = match unit_of(&words, text) {
        None if words.is_empty() => {
            if let Some(pieces) = food.and_then(|f| counted(text.trim(), count, f, larder, locale))
            {
                let mend = format!("write '{pieces}' or '{} g'", text.trim());
                return wrong(format!("{pieces}, or {} g?", text.trim()), &mend);
            }
            PackSize {
                grams: count,
                basis: "grams, as no unit is written".to_owned(),
            }
        }
        Some((unit, each)) if unit.kind() == UnitKind::Mass => match unit.hold(locale) {
            Hold::Mass(m) => PackSize {
                grams: count * each * m.as_grams(),
                basis: "as written".to_owned(),
            },
            _ => return wrong("its unit has no weight".to_owned(), LIKE),
        },
        Some((unit, each)) => {
            let Some(w) = weigh(unit, None) else {
                return wrong(
                    format!("the larder has no weight of this much {name}"),
                    "write the grams that stand on the pack",
                );
            };
            PackSize {
                grams: trimmed(count * each * w.grams.likely().as_grams()),
                basis: w.source,
            }
        }
        None => {
            let piece = food.and_then(|f| piece_of(&words, f, larder, locale));
            let Some(piece) = piece else {
                return wrong(format!("'{words}' is neither a unit nor {name}"), LIKE);
            };
            let egg = food.is_some_and(|f| larder.food(f).does(Function::Egg));
            let piece = piece.map(|size| {
                if egg {
                    egg_size(Some(size), locale)
                } else {
                    size
                }
            });
            let Some(w) = weigh(Unit::Count, piece) else {
                return wrong(
                    format!("the larder has no weight of one {name}"),
                    "write the grams that stand on the pack, or weigh one and note it in the larder",
                );
            };
            let basis = match &trim {
                Some(t) => format!(
                    "{}; with {} % {} ({})",
                    w.source, t.percent, t.lost, t.source
                ),
                None => w.source,
            };
            PackSize {
                grams: trimmed(count * w.grams.likely().as_grams()),
                basis,
            }
        }
    };
    if size.grams > MOST_GRAMS {
        return wrong(
            format!("it comes to {:.0} kg", size.grams / 1000.0),
            "write what one pack holds",
        );
    }
    Ok(size)
}

/// A bare figure as a count of a food, where it is sold by the piece and no piece weighs so little: `2 eggs`.
fn counted(
    figure: &str,
    grams: f64,
    food: FoodId,
    larder: &Larder,
    locale: Locale,
) -> Option<String> {
    super::piece(larder, food).filter(|piece| grams < *piece)?;
    let name = &larder.food(food).name;
    let all = ["s", "es", ""].map(|end| format!("{figure} {name}{end}"));
    let read = |words: &String| read_pack(words, Some(food), larder, locale).is_ok();
    all.into_iter().find(read)
}

/// The number that words begin with, and the words after it.
fn number_and_words(text: &str) -> Option<(f64, String)> {
    for (word, n) in [
        ("half a dozen", 6.0),
        ("half dozen", 6.0),
        ("a dozen", 12.0),
        ("dozen", 12.0),
    ] {
        if let Some(rest) = text.strip_prefix(word) {
            // 'a dozen' alone is pieces.
            let rest = rest.trim();
            let words = if rest.is_empty() { "pieces" } else { rest };
            return Some((n, words.to_owned()));
        }
    }
    if let Some(rest) = text.strip_prefix("half ") {
        let rest = rest.trim().trim_start_matches("a ").trim_start();
        return Some((0.5, rest.to_owned())).filter(|(_, w)| !w.is_empty());
    }
    let end = text
        .char_indices()
        .find(|(_, c)| c.is_alphabetic())
        .map_or(text.len(), |(i, _)| i);
    let (head, words) = text.split_at(end);
    let number = figure(head.trim().trim_end_matches('-').trim())?;
    let dozen = words.trim().strip_prefix("dozen");
    let (number, words) = match dozen {
        Some(rest) if rest.trim().is_empty() => (number * 12.0, "pieces"),
        Some(rest) => (number * 12.0, rest),
        None => (number, words),
    };
    Some((number, words.trim().to_owned()))
}

/// The unit that words begin with, where they go on with nothing but a name for the pack; and how
/// many of the unit one is.
fn unit_of(words: &str, written: &str) -> Option<(Unit, f64)> {
    let parts: Vec<&str> = words
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .collect();
    // The table of units has the fluid ounce as one word.
    let fluid = ["fl", "fluid"];
    if let [first, second, ..] = parts[..]
        && fluid.contains(&first)
        && matches!(second, "oz" | "ounce" | "ounces")
    {
        return Some((Unit::FlOz, 1.0));
    }
    let first = parts.first()?;
    let two = parts.get(1).map(|second| format!("{first} {second}"));
    let written_first = written
        .split(|c: char| !c.is_alphabetic())
        .find(|w| w.to_lowercase() == *first)
        .unwrap_or(first);
    let mut found = None;
    for row in unit_words() {
        // 'T' and 't', 'G' and 'g' differ: single letters as they were written.
        let same = if row.word.len() == 1 {
            row.word == written_first || row.word == *first && matches!(*first, "g" | "l")
        } else {
            row.word.to_lowercase() == *first
        };
        let both = two.as_deref() == Some(&row.word.to_lowercase());
        if let Some(unit) = row.unit
            && (both || same && found.is_none())
            && unit != Unit::Count
            && !WRAPS.contains(first)
        {
            found = Some((unit, row.times));
        }
    }
    found
}

/// The size of the pieces that words count, where they count this food.
#[expect(
    clippy::option_option,
    reason = "none: not this food; some none: no size said"
)]
fn piece_of(
    words: &str,
    food: FoodId,
    larder: &Larder,
    locale: Locale,
) -> Option<Option<&'static str>> {
    let mut rest = words.to_owned();
    let mut size = None;
    for (word, key) in SIZES {
        if let Some(after) = rest.strip_prefix(word) {
            size = Some(key);
            rest = after.trim().to_owned();
            break;
        }
    }
    let left: Vec<&str> = rest
        .split_whitespace()
        .filter(|w| !WRAPS.contains(w) && !matches!(*w, "piece" | "pieces" | "pcs" | "ones"))
        .collect();
    if left.is_empty() {
        let said = size.is_some() || rest.contains("piece") || rest.contains("pcs");
        return said.then_some(size);
    }
    let found = larder.find(&left.join(" "), locale)?;
    let this = found.food == food || found.rivals.contains(&food);
    this.then_some(size)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A US gallon is 3785.4 mL and a US fluid ounce 29.5735 mL (NIST Handbook 44, appendix C): half
    /// of the one is 64 of the other.
    #[test]
    fn a_carton_of_milk_in_american_words() {
        let larder = larder();
        let milk = larder.by_key("whole_milk").expect("milk");
        let grams = |text: &str| {
            read_pack(text, Some(milk), &larder, Locale::Us)
                .unwrap_or_else(|e| panic!("{e}"))
                .grams
        };
        let half = grams("1/2 gal");
        for text in [
            "64 fl oz",
            "64 fl. oz",
            "half gallon",
            "half a gallon",
            "0.5 gallon",
        ] {
            assert!((grams(text) - half).abs() < 0.01 * half, "{text}");
        }
    }

    fn larder() -> Larder {
        Larder::built_in().expect("the built-in tables")
    }

    #[track_caller]
    fn holds(text: &str, key: &str, locale: Locale, grams: f64) {
        let larder = larder();
        let food = larder.by_key(key).expect(key);
        let size = read_pack(text, Some(food), &larder, locale).expect(text);
        assert!(
            (size.grams - grams).abs() < 0.05,
            "{text}: {} for {grams}",
            size.grams
        );
    }

    #[test]
    fn packs_in_the_words_on_them() {
        // NIST Handbook 44, Appendix C: 1 lb = 453.592 37 g, 1 oz = 28.349 523 g.
        for (text, grams) in [
            ("500 g", 500.0),
            ("500g", 500.0),
            ("1 kg", 1000.0),
            ("1,5 kg", 1500.0),
            ("5 lb bag", 2_267.961_85),
            ("5-lb bag", 2_267.961_85),
            ("3 pounds", 1_360.777_11),
            ("24 oz", 680.388_56),
            ("2 x 500 g", 1000.0),
            ("6 × 1 kg bags", 6000.0),
            ("750", 750.0),
            ("1 1/2 lb", 680.388_56),
        ] {
            holds(text, "sorghum_flour", Locale::Us, grams);
        }
    }

    #[test]
    fn counts_and_volumes_are_weighed() {
        // SR28 01123: a large egg 50 g, refuse 12 %; a medium one 44 g.
        holds("12 eggs", "egg", Locale::Us, 12.0 * 50.0 / 0.88);
        holds("a dozen", "egg", Locale::Us, 600.0 / 0.88);
        holds("6 medium eggs", "egg", Locale::Us, 6.0 * 44.0 / 0.88);
        holds("2 dozen large", "egg", Locale::Us, 1200.0 / 0.88);
        // An EU large egg, from 63 g in its shell on, is a US extra large one of 56 g (EU 589/2008).
        holds("10 large eggs", "egg", Locale::Uk, 560.0 / 0.88);
        holds("10 medium eggs", "egg", Locale::Uk, 500.0 / 0.88);
        // SR28 01077: whole milk 244 g per cup of 236.588 mL.
        holds(
            "1 L",
            "whole_milk",
            Locale::Us,
            244.0 * 1000.0 / 236.588_236_5,
        );
        // SR28 09003: a medium apple 182 g, refuse 10 %.
        holds("4 apples", "apple", Locale::Us, 4.0 * 182.0 / 0.9);
        // SR28 01145: a stick of butter 113 g.
        holds("4 sticks", "unsalted_butter", Locale::Us, 4.0 * 113.0);
    }

    /// A lemon weighs 58 g and an egg 50 g: '4' and '12' are theirs to count, '250' is grams.
    #[test]
    fn a_number_alone_of_what_is_counted_is_asked_about() {
        let larder = larder();
        for (text, key, asked) in [
            ("4", "lemon", Some("4 lemons, or 4 g?")),
            ("12", "egg", Some("12 eggs, or 12 g?")),
            ("250", "lemon", None),
            ("250", "unsalted_butter", None),
        ] {
            let food = larder.by_key(key).expect(key);
            let got = read_pack(text, Some(food), &larder, Locale::Us);
            match asked {
                Some(asked) => assert_eq!(got.expect_err(key).what, asked),
                None => assert!((got.expect(key).grams - 250.0).abs() < 1e-9),
            }
        }
    }

    #[test]
    fn what_is_no_pack_says_how_to_mend_it() {
        let larder = larder();
        let food = larder.by_key("sorghum_flour").expect("sorghum flour");
        for text in [
            "", "bag", "0 g", "-2 kg", "3 bags", "12 eggs", "5 zonks", "x 500 g", "nan g", "1e9 kg",
        ] {
            let e = read_pack(text, Some(food), &larder, Locale::Us).expect_err(text);
            assert!(!e.what.is_empty() && !e.mend.is_empty(), "{text}");
        }
        // Of a food that is not known yet only a weight can be read.
        assert!(read_pack("12 eggs", None, &larder, Locale::Us).is_err());
        let size = read_pack("1 lb", None, &larder, Locale::Us).expect("a weight");
        assert!((size.grams - 453.592_37).abs() < 1e-6);
    }
}
