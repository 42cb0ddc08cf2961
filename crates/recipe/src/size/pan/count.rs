//! How many of a pan words ask for: `2 x 23 cm sandwich tin`, `two 20 cm tins`, `loaf tins x 2`.

use super::error::PanError;
use super::typed::without_twin;
use super::words::{INCH, MOST_INCHES, NAMES, measures, sized};
use super::{Outline, OwnPan, Pan};
use quantity::{Length, number_word};

/// Most pans of one kind at once; a larger figure is a measure.
const MOST_PANS: u32 = 24;
/// So many tins of one kind are taken for a count where the figure would else make an odd tin: more are
/// asked about (common practice, no source).
const A_FEW: u32 = 6;
/// No tin is narrower, cm: the hollows of the smallest muffin tin are 4.4 cm (common practice, no source).
const NARROWEST: f64 = 3.0;
/// A tin of its own may be so small, cm: a shallow bun tin is 6.5 cm across.
const SMALL: f64 = 5.5;
/// No tin is deeper than so many times its width: a coffee can is about 1.2 (common practice, no source).
const DEEPEST_FOR_WIDTH: f64 = 2.5;
/// The side of a tin that is shorter than this share of the other is none, where no tin is so called.
const SHORT_SIDE: f64 = 1.0 / 3.0;

/// Two of a thing.
const PAIRS: [&str; 5] = [
    "a pair of ",
    "pair of ",
    "a couple of ",
    "couple of ",
    "both ",
];
/// Words of more than one pan.
const PLURALS: [&str; 12] = [
    "pans",
    "tins",
    "moulds",
    "molds",
    "dishes",
    "springforms",
    "trays",
    "sheets",
    "rings",
    "cases",
    "basins",
    "rounds",
];
/// Units of weight and volume behind a figure that is no count.
const WEIGHED: [&str; 25] = [
    "g",
    "gram",
    "grams",
    "kg",
    "kilo",
    "lb",
    "lbs",
    "pound",
    "pounds",
    "oz",
    "ml",
    "millilitre",
    "millilitres",
    "l",
    "litre",
    "litres",
    "liter",
    "liters",
    "pint",
    "pints",
    "qt",
    "quart",
    "quarts",
    "cup",
    "cups",
];
/// Units of length, and what stands between two measures.
const LENGTHS: [&str; 11] = [
    "cm",
    "centimetre",
    "centimetres",
    "centimeter",
    "centimeters",
    "mm",
    "in",
    "inch",
    "inches",
    "x",
    "by",
];

/// Whether a word behind a figure makes it a measure.
fn is_unit(word: &str) -> bool {
    let word = word.to_lowercase();
    WEIGHED.contains(&word.as_str()) || LENGTHS.contains(&word.as_str())
}

/// How many of a pan words ask for, and the words of one.
///
/// # Inputs
/// - `words`: a pan as [`super::find`] reads it, with a count before it (`2 x`, `2 ×`, `two`, `a pair of`, a
///   bare `2`) or behind it (`x 2`). A figure is a count where it is none of the tin's measures: `2 x 23 cm
///   sandwich tin` is two tins, `9 x 2 in round tin` one.
/// - `own`: the kitchen's own pans; the name of one may begin with a figure.
///
/// # Returns
/// 1 and the words where no count stands there.
///
/// # Errors
/// [`PanError::Count`] where it may be either: `10 x 15 cm round tin`.
///
/// # Example
/// ```
/// use recipe::size::pan::counted;
/// assert_eq!(counted("2 x 23 cm sandwich tin", &[])?, (2, "23 cm sandwich tin"));
/// assert_eq!(counted("9 x 5 in loaf tin", &[])?, (1, "9 x 5 in loaf tin"));
/// assert!(counted("10 x 15 cm round tin", &[]).is_err());
/// # Ok::<(), recipe::size::pan::PanError>(())
/// ```
pub fn counted<'a>(words: &'a str, own: &[OwnPan]) -> Result<(u32, &'a str), PanError> {
    let (count, one) = count_of(words, own)?;
    // 'Tartlet tins' without a number are a set of them.
    let single = one.strip_suffix('s');
    let single = single.filter(|s| count > 1 && s.to_lowercase().ends_with("tartlet tin"));
    Ok((count, single.unwrap_or(one)))
}

fn count_of<'a>(words: &'a str, own: &[OwnPan]) -> Result<(u32, &'a str), PanError> {
    let words = words.trim();
    let plain = words.to_lowercase();
    let named = own.iter().any(|p| p.name.to_lowercase() == plain)
        || NAMES.iter().any(|names| names.contains(&plain));
    let one = Ok((1, words));
    if named || plain.len() != words.len() {
        return one;
    }
    let rest_of = |before: usize| words[before..].trim_start();
    if let Some(pair) = PAIRS.iter().find(|p| plain.starts_with(*p)) {
        return Ok((2, rest_of(pair.len())));
    }
    let first = plain.split_whitespace().next().unwrap_or_default();
    if let Some(n) = number_word(first) {
        let rest = without_sign(rest_of(first.len()));
        // 'Nine inch round tin' is one, as '9 inch' is.
        let next = rest.split(|c: char| !c.is_alphanumeric()).next();
        let unit = is_unit(next.unwrap_or_default());
        return if rest.is_empty() || unit {
            one
        } else {
            Ok((n, rest))
        };
    }
    if let Some((n, before)) = behind(&plain) {
        return Ok((n, words[..before].trim_end_matches([' ', ','])));
    }
    let digits = plain.bytes().take_while(u8::is_ascii_digit).count();
    let Ok(n) = plain[..digits].parse::<u32>() else {
        return one;
    };
    let after = rest_of(digits);
    let rest = without_sign(after);
    let signed = rest.len() < after.len();
    let Some(next) = rest.chars().next() else {
        return one;
    };
    if next.is_alphabetic() {
        let word = rest.split(|c: char| !c.is_alphanumeric()).next();
        let unit = is_unit(word.unwrap_or_default());
        // '8 square' is 8 inches.
        let bare = n < 4 || n <= MOST_PANS && is_plural(rest);
        return if signed || !unit && words.as_bytes().get(digits) == Some(&b' ') && bare {
            Ok((n, rest))
        } else {
            one
        };
    }
    let apart = signed || words.as_bytes().get(digits) == Some(&b' ');
    if !next.is_ascii_digit() || !apart || n > MOST_PANS {
        return one;
    }
    by_measures(words, n, rest)
}

/// Whether a figure before measures is a count or one of them.
fn by_measures<'a>(words: &'a str, n: u32, rest: &'a str) -> Result<(u32, &'a str), PanError> {
    let (all, several) = (Ok((1, words)), Ok((n, rest)));
    let sizes = in_cm(words);
    // '2 x 900 g loaf tin': a weight behind is no measure.
    let weighed = rest.trim_start_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ','));
    let weighed = weighed.trim_start().split(|c: char| !c.is_alphabetic());
    let weighed = weighed.into_iter().next().unwrap_or_default();
    if WEIGHED.contains(&weighed.to_lowercase().as_str()) {
        return several;
    }
    // '8 1/2 x 4 1/2 in' is one number and another.
    if rest
        .split_whitespace()
        .next()
        .is_some_and(|w| w.contains('/') && !w.contains(char::is_alphabetic))
    {
        return all;
    }
    let few = n <= A_FEW || is_plural(rest);
    match sized(words, false) {
        // Across stands before the depth: '3 x 8-inch tins' are three.
        Ok(pan)
            if few
                && is_plural(rest)
                && matches!(pan.outline, Outline::Round { .. })
                && matches!(sizes.as_slice(), [a, b] if a < b) =>
        {
            several
        }
        Ok(pan) if !odd(&pan, 1.0) => {
            // '24 x 6 cm round tins', and not a depth: '23 x 5 cm round tins'.
            let wide = matches!(sizes.as_slice(), [_, b] if *b >= SMALL);
            if pan.key == words && n > A_FEW && wide && is_plural(rest) {
                Err(ask(words, n, rest))
            } else {
                all
            }
        }
        Ok(_) | Err(PanError::Odd { .. }) if few => several,
        // '10x5x10.3cm' is written as measures are.
        Ok(_) | Err(PanError::Odd { .. }) if words.len() - rest.len() <= digits(n) + 1 => all,
        Ok(_) | Err(PanError::Odd { .. }) => Err(ask(words, n, rest)),
        Err(_) => {
            let one = sized(rest, false);
            let reads = matches!(
                one,
                Ok(_)
                    | Err(PanError::Several { .. } | PanError::Depth { .. } | PanError::Two { .. })
            );
            let short = match sizes.as_slice() {
                [a, b] => *a < b * SHORT_SIDE,
                [_, _, _] => one.is_ok(),
                more => more.len() == 4,
            };
            if few && reads && short { several } else { all }
        }
    }
}

fn digits(n: u32) -> usize {
    if n < 10 { 1 } else { 2 }
}

fn ask(words: &str, n: u32, rest: &str) -> PanError {
    PanError::Count {
        words: words.to_owned(),
        count: n,
        one: rest.to_owned(),
    }
}

/// The measures of words in their order, cm.
fn in_cm(words: &str) -> Vec<f64> {
    let (numbers, _) = measures(&without_twin(&words.to_lowercase()));
    let most = numbers.iter().map(|n| n.0).fold(0.0, f64::max);
    let bare = if most <= MOST_INCHES { INCH } else { 1.0 };
    numbers.iter().map(|n| n.0 * n.1.unwrap_or(bare)).collect()
}

/// What is narrow and deep as no tin is: its width and its depth, cm.
pub(super) fn narrow(pan: &Pan) -> Option<(f64, f64)> {
    odd(pan, DEEPEST_FOR_WIDTH).then(|| (width(pan).unwrap_or(0.0), depth(pan).unwrap_or(0.0)))
}

fn odd(pan: &Pan, deep: f64) -> bool {
    let Some(width) = width(pan) else {
        return false;
    };
    width < NARROWEST || depth(pan).is_some_and(|d| d > width * deep)
}

fn width(pan: &Pan) -> Option<f64> {
    match pan.outline {
        Outline::Round { across } | Outline::Ring { across, .. } => Some(cm(across)),
        Outline::Oblong { wide, long } => Some(cm(wide).min(cm(long))),
        Outline::Basin => None,
    }
}

fn depth(pan: &Pan) -> Option<f64> {
    pan.depth.map(cm)
}

fn cm(length: Length) -> f64 {
    length.as_millimetres() / 10.0
}

/// Words without the sign of times before them.
fn without_sign(words: &str) -> &str {
    let rest = match words.strip_prefix(['×', '*']) {
        Some(rest) => rest,
        None => match words.strip_prefix(['x', 'X']) {
            Some(rest) if rest.starts_with(|c: char| c.is_whitespace() || c.is_ascii_digit()) => {
                rest
            }
            _ => return words,
        },
    };
    rest.trim_start()
}

/// A count behind a pan's words: 'loaf tin x 2', 'sandwich tins (×2)'. Where the words end.
fn behind(plain: &str) -> Option<(u32, usize)> {
    let end = plain.trim_end_matches([')', ' ']);
    let at = end.rfind(['x', '×', '*'])?;
    let n = end[at..].trim_start_matches(['x', '×', '*']).trim_start();
    let n: u32 = n.parse().ok().filter(|n| (1..=MOST_PANS).contains(n))?;
    let before = &plain[..at];
    let word = before.trim_end_matches(['(', ' ', ',']);
    let last = word.split_whitespace().next_back()?;
    let noun = last.chars().all(char::is_alphabetic) && !is_unit(last);
    (noun && word.len() < before.len()).then_some((n, word.len()))
}

fn is_plural(words: &str) -> bool {
    words
        .split(|c: char| !c.is_alphabetic())
        .any(|w| PLURALS.contains(&w.to_lowercase().as_str()))
}

/// How many pans a method names: by the words of one, and the two words before them ('grease two', '2 x',
/// 'pair of').
pub(crate) fn how_many(text: &str, span: std::ops::Range<usize>) -> Option<u32> {
    let before = text.get(..span.start)?;
    let inside = text.get(span.clone())?;
    let starts = before
        .char_indices()
        .rev()
        .filter(|(at, c)| {
            !c.is_whitespace() && before[..*at].ends_with([' ', '\n', '(']) || *at == 0
        })
        .map(|(at, _)| at);
    std::iter::once(span.start)
        .chain(starts.take(2))
        .find_map(|start| {
            let (n, one) = counted(text.get(start..span.end)?, &[]).ok()?;
            let many = (2..=MOST_PANS).contains(&n) && inside.ends_with(one);
            many.then_some(n)
                .filter(|_| is_plural(one) || start + 2 < span.end - one.len())
        })
}

#[cfg(test)]
mod tests {
    use super::super::{all, find};
    use super::*;

    /// '2 x 23 cm sandwich tin' was a tin 2 cm across and 23 cm deep.
    #[test]
    fn a_measure_in_words_is_no_count() {
        for words in [
            "nine inch round tin",
            "nine inch by two inch round tin",
            "two litre dish",
            "two pint pudding basin",
            "2 pound loaf tin",
        ] {
            assert_eq!(counted(words, &[]).map(|c| c.0), Ok(1), "{words}");
        }
        assert_eq!(counted("two loaf tins", &[]).map(|c| c.0), Ok(2));
    }

    #[test]
    fn a_count_is_no_measure() {
        for (words, n, one) in [
            ("2 x 23 cm sandwich tin", 2, "23 cm sandwich tin"),
            ("2x23cm sandwich tins", 2, "23cm sandwich tins"),
            ("2 × 8 in round", 2, "8 in round"),
            ("2 x 20", 2, "20"),
            ("two 23 cm round tins", 2, "23 cm round tins"),
            ("Two x 20cm tins", 2, "20cm tins"),
            ("2 23 cm tins", 2, "23 cm tins"),
            ("a pair of 9 in cake tins", 2, "9 in cake tins"),
            ("2 x 9 x 5 in loaf tins", 2, "9 x 5 in loaf tins"),
            ("2 x 9x13 in", 2, "9x13 in"),
            ("3 x 23 x 13 x 7 cm", 3, "23 x 13 x 7 cm"),
            ("2 x 20 x 5 cm sandwich tin", 2, "20 x 5 cm sandwich tin"),
            ("8 x 10 cm tart tins", 8, "10 cm tart tins"),
            ("3 x 8-inch tins", 3, "8-inch tins"),
            ("two nine-inch round pans", 2, "nine-inch round pans"),
            ("3 × loaf tin", 3, "loaf tin"),
            ("2 loaf tins", 2, "loaf tins"),
            ("2 x 900 g loaf tin", 2, "900 g loaf tin"),
            ("2 x 450g/1lb loaf tins", 2, "450g/1lb loaf tins"),
            ("2 x 1500 ml water", 2, "1500 ml water"),
            ("2 x round_9x2", 2, "round_9x2"),
            ("20 cm sandwich tin x 2", 2, "20 cm sandwich tin"),
            ("sandwich tin (×2)", 2, "sandwich tin"),
            ("one 23 cm tin", 1, "23 cm tin"),
        ] {
            assert_eq!(counted(words, &[]), Ok((n, one)), "{words}");
        }
        for one in [
            "9 x 5 in loaf tin",
            "9x5x3",
            "5 x 9 in",
            "9 x 2 in round tin",
            "23 x 11 cm",
            "8 x 8 in square",
            "4 x 8 in loaf tin",
            "8½ x 4½ x 2½ in",
            "8 1/2 x 4 1/2 x 2 1/2 in loaf tin",
            "23 13 7 cm loaf",
            "24 x 6 cm springform",
            "9 springform",
            "2 litre dish",
            "9-inch tins",
            "1500 g water",
            "10 x 10 cm round tin",
            "13 x 4 x 4 in lidded loaf tin",
            "12 × 12 × 10 cm",
        ] {
            assert_eq!(counted(one, &[]), Ok((1, one)), "{one}");
        }
        let own = [OwnPan {
            name: "2 x 4 brick".to_owned(),
            water: Some(900.0),
        }];
        assert_eq!(counted("2 x 4 Brick", &own), Ok((1, "2 x 4 Brick")));
    }

    #[test]
    fn what_may_be_either_is_asked_about() {
        for words in ["10 x 15 cm round tin", "24 x 6 cm round tins"] {
            let error = counted(words, &[]).expect_err(words).to_string();
            assert!(error.contains("may be"), "{error}");
            let n = words.split(' ').next().expect("a figure");
            let said = error.split('\'').nth(3).expect("what to write");
            let (count, _) = counted(said, &[]).expect(said);
            assert_eq!(count.to_string(), n, "{said}");
        }
        for words in ["round 2 x 23 cm", "sandwich tin 2x9 in", "loaf 9x5x14 in"] {
            let error = find(words, &[]).expect_err(words).to_string();
            assert!(error.contains("would be a tin"), "{words}: {error}");
        }
    }

    #[test]
    fn every_pan_of_the_table_is_one_and_no_odd_one() {
        for pan in all() {
            assert_eq!(narrow(pan), None, "{}", pan.key);
            for words in [pan.key.clone(), pan.called(), pan.words(), pan.typed()] {
                assert_eq!(counted(&words, &[]), Ok((1, &*words)));
            }
        }
    }

    #[test]
    fn a_method_says_how_many() {
        for (text, pan, n) in [
            (
                "Grease two 20cm sandwich tins.",
                "20cm sandwich tins",
                Some(2),
            ),
            (
                "Grease 2 x 20cm sandwich tins.",
                "20cm sandwich tins",
                Some(2),
            ),
            ("Grease a pair of 8-inch tins.", "8-inch tins", Some(2)),
            (
                "Use two 8-inch round cake pans",
                "two 8-inch round cake pans",
                Some(2),
            ),
            ("2 x 20cm tin, greased", "2 x 20cm tin", Some(2)),
            ("Grease a 9-inch tin", "9-inch tin", None),
            ("Use 9-inch pans", "9-inch pans", None),
            ("Heat to gas 4. Grease the tins", "the tins", None),
        ] {
            let at = text.find(pan).expect(pan);
            assert_eq!(how_many(text, at..at + pan.len()), n, "{text}");
        }
    }
}
