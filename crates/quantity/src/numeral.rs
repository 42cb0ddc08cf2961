//! Numbers that are no digits: fractions of one sign, and number words.

/// Every fraction of one sign, with what is above and below its line.
const FRACTIONS: [(char, u8, u8); 19] = [
    ('½', 1, 2),
    ('⅓', 1, 3),
    ('⅔', 2, 3),
    ('¼', 1, 4),
    ('¾', 3, 4),
    ('⅕', 1, 5),
    ('⅖', 2, 5),
    ('⅗', 3, 5),
    ('⅘', 4, 5),
    ('⅙', 1, 6),
    ('⅚', 5, 6),
    ('⅐', 1, 7),
    ('⅛', 1, 8),
    ('⅜', 3, 8),
    ('⅝', 5, 8),
    ('⅞', 7, 8),
    ('⅑', 1, 9),
    ('⅒', 1, 10),
    ('↉', 0, 3),
];

/// Number words from one, in order.
const WORDS: [&str; 20] = [
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
    "twenty",
];

/// The value of a fraction of one sign.
///
/// # Example
/// ```
/// use quantity::fraction;
/// assert_eq!(fraction('¾'), Some(0.75));
/// assert_eq!(fraction('3'), None);
/// ```
#[must_use]
pub fn fraction(c: char) -> Option<f64> {
    let (_, above, below) = FRACTIONS.iter().find(|f| f.0 == c)?;
    Some(f64::from(*above) / f64::from(*below))
}

/// The number that a word is, one to twenty; case does not matter.
///
/// # Example
/// ```
/// use quantity::number_word;
/// assert_eq!(number_word("Seven"), Some(7));
/// assert_eq!(number_word("dozen"), None);
/// ```
#[must_use]
pub fn number_word(word: &str) -> Option<u32> {
    let at = WORDS.iter().position(|w| w.eq_ignore_ascii_case(word))?;
    Some(at as u32 + 1)
}

/// The words of one to twenty, in order.
pub fn number_words() -> impl Iterator<Item = &'static str> {
    WORDS.into_iter()
}

/// A text whose fractions are written with their signs, close to the number before them: `1 1/2 cups` and
/// `1 ½ cups` become `1½ cups`. What has no sign of its own stays: `1/16`.
///
/// # Example
/// ```
/// use quantity::signs;
/// assert_eq!(signs("1 1/2 tsp + ⅛ tsp"), "1½ tsp + ⅛ tsp");
/// assert_eq!(signs("11/20 lb, 24/7, 1-1/2 cups"), "11/20 lb, 24/7, 1-1/2 cups");
/// ```
#[must_use]
pub fn signs(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        // '1-1/2' may be one and a half.
        let behind = out.strip_suffix('-').unwrap_or(&out);
        let parted = behind.ends_with(|l: char| l.is_ascii_digit()) || out.ends_with(['/', '.']);
        let stroke = FRACTIONS.iter().find_map(|(sign, above, below)| {
            let after = rest.strip_prefix(&format!("{above}/{below}"))?;
            let ends = !after.starts_with(|a: char| a.is_numeric() || a == '/');
            (ends && !parted).then_some((*sign, after))
        });
        let sign = fraction(c).map(|_| (c, &rest[c.len_utf8()..]));
        let (c, after) = match stroke.or(sign) {
            Some((sign, after)) => {
                let number = out.trim_end_matches([' ', '\u{a0}']);
                if number.ends_with(|l: char| l.is_ascii_digit()) {
                    out.truncate(number.len());
                }
                (sign, after)
            }
            None => (c, &rest[c.len_utf8()..]),
        };
        out.push(c);
        rest = after;
    }
    out
}

/// A text whose fractions are written with a stroke: `1½ cups` becomes `1 1/2 cups`.
pub(crate) fn strokes(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        let Some((_, above, below)) = FRACTIONS.iter().find(|f| f.0 == c) else {
            out.push(c);
            continue;
        };
        if out.ends_with(|l: char| l.is_ascii_digit()) {
            out.push(' ');
        }
        out.push_str(&format!("{above}/{below}"));
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Unicode's names of them: one half, two thirds, seven eighths …
    #[test]
    fn fractions_are_what_their_signs_say() {
        for (c, value) in [('½', 0.5), ('⅕', 0.2), ('⅘', 0.8), ('⅞', 0.875), ('⅒', 0.1)] {
            assert_eq!(fraction(c), Some(value), "{c}");
        }
        for (c, ..) in FRACTIONS {
            assert_eq!(fraction(c), crate::figure(&strokes(&c.to_string())), "{c}");
            assert_eq!(crate::figure(&c.to_string()), fraction(c));
        }
    }

    #[test]
    fn numbers_in_words() {
        let all: Vec<u32> = number_words().filter_map(number_word).collect();
        assert_eq!(all, (1..=20).collect::<Vec<_>>());
    }
}
