//! Lengths in words as a kitchen reads them.

use crate::Locale;

/// Words with their lengths as a kitchen of this locale reads them: in the US inches first, the millimetres or
/// centimetres beside them, as pans have it; elsewhere as they stand. What has inches already stays.
///
/// Inches are given as rulers have them: to an eighth, from a foot on to a quarter, below an inch to a
/// sixteenth, below a tenth of one to a thirty-second.
///
/// # Example
/// ```
/// use quantity::{Locale, lengths_in};
/// let said = "roll it 3 mm thick, 40 × 30 cm";
/// assert_eq!(lengths_in(said, Locale::Us), "roll it ⅛ in (3 mm) thick, 15¾ × 11¾ in (40 × 30 cm)");
/// assert_eq!(lengths_in(said, Locale::Uk), said);
/// assert_eq!(lengths_in("9 × 2 in (23 × 5 cm)", Locale::Us), "9 × 2 in (23 × 5 cm)");
/// ```
#[must_use]
pub fn lengths_in(text: &str, locale: Locale) -> String {
    match locale {
        Locale::Us => converted(text, |inches, own| format!("{inches} in ({own})")),
        _ => text.to_owned(),
    }
}

/// The same with inches alone in the US, for drawings and narrow columns.
///
/// # Example
/// ```
/// use quantity::{Locale, lengths_alone_in};
/// assert_eq!(lengths_alone_in("28.9–31.2 cm", Locale::Us), "11⅜–12¼ in");
/// ```
#[must_use]
pub fn lengths_alone_in(text: &str, locale: Locale) -> String {
    match locale {
        Locale::Us => converted(text, |inches, _| format!("{inches} in")),
        _ => text.to_owned(),
    }
}

const UNITS: [(&str, f64); 2] = [(" mm", 1.0), (" cm", 10.0)];
/// What may stand between the figures of one length or of the sides of one thing.
const BETWEEN: [&str; 4] = [" × ", "–", " to ", "−"];

fn converted(text: &str, word: impl Fn(&str, &str) -> String) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    let next = |rest: &str| {
        let each = UNITS.iter();
        let found = each.filter_map(|(unit, mm)| Some((rest.find(unit)?, *unit, *mm)));
        found.min_by_key(|f| f.0)
    };
    while let Some((at, unit, mm)) = next(rest) {
        let end = at + unit.len();
        let from = signed(&rest[..at], figures_before(&rest[..at]));
        let (lead, behind) = (&rest[..from], &rest[end..]);
        let word_ends =
            !behind.starts_with(|c: char| c.is_alphanumeric() || matches!(c, '²' | '³'));
        let has_inches = lead.ends_with("in (")
            || behind.strip_prefix(" (").is_some_and(|b| {
                b.split(')')
                    .next()
                    .is_some_and(|inside| inside.ends_with(" in"))
            });
        out.push_str(lead);
        let own = &rest[from..end];
        if from == at || !word_ends || has_inches {
            out.push_str(own);
        } else {
            out.push_str(&word(&in_inches(&rest[from..at], mm), own));
        }
        rest = behind;
    }
    out.push_str(rest);
    out
}

/// Where figures begin with the minus sign before them: '−7.8', but not '3−4'.
fn signed(text: &str, from: usize) -> usize {
    let before = text[..from].strip_suffix('−');
    let sign = before.filter(|b| b.is_empty() || b.ends_with([' ', '(']));
    sign.filter(|_| from < text.len()).map_or(from, str::len)
}

/// Where the figures in front of a unit begin.
fn figures_before(text: &str) -> usize {
    let figure = |text: &str| {
        let bare = text.trim_end_matches(|c: char| c.is_ascii_digit() || c == '.');
        text.len() - bare.len()
    };
    let mut from = text.len() - figure(text);
    if from == text.len() {
        return from;
    }
    loop {
        let before = &text[..from];
        let joined = BETWEEN.iter().find_map(|b| before.strip_suffix(b));
        let Some(joined) = joined.filter(|j| figure(j) > 0) else {
            return from;
        };
        from = joined.len() - figure(joined);
    }
}

/// Each figure of some in inches, what stands between them kept.
fn in_inches(figures: &str, mm: f64) -> String {
    let mut out = String::new();
    let mut digits = String::new();
    let flush = |digits: &mut String, out: &mut String| {
        match digits.parse::<f64>() {
            Ok(v) => out.push_str(&inches(v * mm)),
            Err(_) => out.push_str(digits),
        }
        digits.clear();
    };
    for c in figures.chars() {
        if c.is_ascii_digit() || c == '.' {
            digits.push(c);
        } else {
            if !digits.is_empty() {
                flush(&mut digits, &mut out);
            }
            out.push(c);
        }
    }
    flush(&mut digits, &mut out);
    out
}

/// Millimetres as inches of a ruler.
fn inches(mm: f64) -> String {
    let v = mm / 25.4;
    let parts: u32 = match v {
        v if v < 0.05 => 64,
        v if v < 0.1 => 32,
        v if v < 1.0 => 16,
        v if v < 12.0 => 8,
        _ => 4,
    };
    let n = (v * f64::from(parts)).round() as u32;
    if n == 0 {
        return if mm == 0.0 {
            "0".to_owned()
        } else {
            "<1/64".to_owned()
        };
    }
    let (whole, mut above, mut below) = (n / parts, n % parts, parts);
    while above % 2 == 0 && above > 0 {
        (above, below) = (above / 2, below / 2);
    }
    let sign = match (above, below) {
        (0, _) => String::new(),
        (1, 2) => "½".to_owned(),
        (1, 4) => "¼".to_owned(),
        (3, 4) => "¾".to_owned(),
        (1, 8) => "⅛".to_owned(),
        (3, 8) => "⅜".to_owned(),
        (5, 8) => "⅝".to_owned(),
        (7, 8) => "⅞".to_owned(),
        _ => format!("{above}/{below}"),
    };
    match whole {
        0 => sign,
        _ => format!("{whole}{sign}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An inch is 25.4 mm (International yard and pound, 1959): 3/16 in are 4.76 mm, 1/2 in 12.7 mm, 9 in
    /// 228.6 mm, 13 in 330.2 mm.
    #[test]
    fn inches_are_those_of_a_ruler() {
        for (mm, want) in [
            (0.0, "0"),
            // 1/64 in is 0.4 mm, 1/32 in 0.8 mm.
            (0.5, "1/64"),
            (0.8, "1/32"),
            (0.1, "<1/64"),
            (2.0, "3/32"),
            (3.0, "⅛"),
            (4.8, "3/16"),
            (12.7, "½"),
            (24.9, "1"),
            (228.6, "9"),
            (330.0, "13"),
            (305.0, "12"),
            (400.0, "15¾"),
        ] {
            assert_eq!(inches(mm), want, "{mm}");
        }
    }

    #[test]
    fn only_lengths_without_inches_are_told_in_them() {
        let us = |text| lengths_in(text, Locale::Us);
        for (said, want) in [
            ("30.5 cm (29–32)", "12 in (30.5 cm) (29–32)"),
            (
                "an area of 314 cm², 20 cm wide",
                "an area of 314 cm², 7⅞ in (20 cm) wide",
            ),
            ("3 to 6 mm", "⅛ to ¼ in (3 to 6 mm)"),
            ("23 cm (9 in) across", "23 cm (9 in) across"),
            (
                "round tin, 9 × 2 in (23 × 5 cm)",
                "round tin, 9 × 2 in (23 × 5 cm)",
            ),
            ("−7.8 mm apart", "−5/16 in (−7.8 mm) apart"),
            ("so many cm", "so many cm"),
        ] {
            assert_eq!(us(said), want);
        }
    }
}
