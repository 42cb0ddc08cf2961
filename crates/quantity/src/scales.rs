//! Temperatures in words that give both scales, in the order a country reads them.

use crate::{Locale, OvenSetting, Temperature};

/// Words behind a difference of temperatures.
const APART: [&str; 10] = [
    "hotter", "cooler", "lower", "higher", "less", "more", "warmer", "colder", "below", "above",
];
/// Words before one.
const BY: [&str; 7] = [
    "by",
    "less",
    "costs",
    "friction",
    "of friction",
    "nearer than",
    "−",
];
/// °C; above it a temperature is an oven's, and its °F are those of a dial: 325 °F at 160 °C.
const OVEN: f64 = 130.0;

/// Words with °F behind every °C that has none yet; a difference ('10 °C hotter', 'warms by 2 °C') is one
/// in °F too, an oven's to the nearest five that a dial shows.
///
/// # Example
/// ```
/// use quantity::both_scales;
/// assert_eq!(both_scales("at 175 °C, or 71 °C (160 °F)"), "at 175 °C / 345 °F, or 71 °C (160 °F)");
/// assert_eq!(both_scales("set the oven 10 °C lower"), "set the oven 10 °C / 20 °F lower");
/// ```
#[must_use]
pub fn both_scales(text: &str) -> String {
    const C: &str = "°C";
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(C) {
        let figure = rest[..at].trim_end();
        let (lead, figure) = figure.split_at(figure.trim_end_matches(is_unsigned).len());
        let (before, after) = rest.split_at(at + C.len());
        let whole = text.len() - after.len();
        out.push_str(before);
        rest = after;
        let next = after.trim_start_matches([' ', '/', '(']);
        let told = next
            .trim_start_matches(|c: char| is_figure(c) || c == ' ')
            .starts_with("°F");
        // '350 °F (180 °C)' has both.
        let behind = lead.trim_end_matches([' ', '/', '(']).ends_with("°F");
        if told || behind || figure.is_empty() {
            continue;
        }
        let word = next.split(|c: char| !c.is_alphabetic()).next();
        let apart = APART.contains(&word.unwrap_or_default())
            || BY.iter().any(|w| {
                let before = lead.trim_end().strip_suffix(w);
                lead.ends_with(' ') && before.is_some_and(|b| !b.ends_with(char::is_alphabetic))
            });
        // '−18 °C', but not 'to −10 °C', '5-10 °C'.
        let (sign, sure) = match lead.strip_suffix('−') {
            Some(l) => (
                -1.0,
                l.is_empty() || l.ends_with([' ', '(']) && !l.ends_with("to "),
            ),
            None => (1.0, !lead.ends_with(['-', '+'])),
        };
        let of = |n: &str| -> Option<String> {
            let c = sign * n.parse::<f64>().ok()?;
            let said = match (apart, c > OVEN) {
                (true, _) => difference(c, is_of_oven(text, whole)),
                (_, true) => OvenSetting(Temperature::celsius(c))
                    .beside_celsius()
                    .to_string(),
                // Never '−0'.
                _ => format!(
                    "{:.0}",
                    Temperature::celsius(c).as_fahrenheit().round() + 0.0
                ),
            };
            Some(said.replace('-', "−"))
        };
        let fahrenheit = |figure: &str| -> Option<String> {
            let parts: Option<Vec<String>> = figure.split('–').map(of).collect();
            parts.map(|p| p.join("–")).filter(|_| sure)
        };
        let Some(f) = fahrenheit(figure) else {
            continue;
        };
        // A range in brackets goes with its own scale: '98 °C (95–98)'.
        let (c_range, behind) = range(after);
        match fahrenheit(c_range.trim_matches([' ', '(', ')'])) {
            Some(f_range) if !c_range.is_empty() => {
                out.push_str(&format!("{c_range} / {f} °F ({f_range})"));
                rest = behind;
            }
            _ => out.push_str(&format!(" / {f} °F")),
        }
    }
    out.push_str(rest);
    out
}

/// Words with their temperatures as a kitchen of this locale reads them, also those in °C alone:
/// [`both_scales`], then [`scales_of`].
#[must_use]
pub fn degrees_in(text: &str, locale: Locale) -> String {
    scales_of(&both_scales(text), locale)
}

/// A difference in °F: an oven's as a dial shows it, else to a degree, of less than five to a tenth.
fn difference(celsius: f64, oven: bool) -> String {
    let f = celsius * 1.8;
    if oven && celsius >= 5.0 {
        format!("{:.0}", (f / 5.0).round() * 5.0)
    } else if celsius < 5.0 && (f - f.round()).abs() > 0.05 {
        format!("{f:.1}")
    } else {
        format!("{f:.0}")
    }
}

/// Whether the sentence round a place speaks of an oven.
fn is_of_oven(text: &str, at: usize) -> bool {
    let ends = [". ", "; ", ": "];
    let from = ends.iter().filter_map(|e| text[..at].rfind(e)).max();
    let to = ends.iter().filter_map(|e| text[at..].find(e)).min();
    let sentence = &text[from.unwrap_or(0)..to.map_or(text.len(), |t| at + t)];
    let sentence = sentence.to_lowercase();
    sentence.contains("oven") || sentence.contains("dial")
}

/// Words with both scales as a kitchen of this locale reads them: °F first in the US, °C alone
/// elsewhere. What stands in one scale stays as it is.
///
/// # Example
/// ```
/// use quantity::{Locale, scales_of};
/// let both = "at 180 °C / 355 °F, or 71 °C (160 °F)";
/// assert_eq!(scales_of(both, Locale::Us), "at 355 °F / 180 °C, or 160 °F (71 °C)");
/// assert_eq!(scales_of(both, Locale::Uk), "at 180 °C, or 71 °C");
/// ```
#[must_use]
pub fn scales_of(text: &str, locale: Locale) -> String {
    const C: &str = " °C";
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some(at) = rest.find(C) {
        let from = figure_before(&rest[..at]);
        let celsius = &rest[from..at];
        let after = &rest[at + C.len()..];
        let Some(twin) = twin(after).filter(|_| !celsius.is_empty()) else {
            out.push_str(&rest[..at + C.len()]);
            rest = after;
            continue;
        };
        out.push_str(&rest[..from]);
        let (f, c_range, f_range) = (twin.figure, twin.c_range, twin.f_range);
        match (locale, twin.bracketed) {
            (Locale::Us, true) => out.push_str(&format!("{f} °F ({celsius} °C)")),
            (Locale::Us, false) => {
                out.push_str(&format!("{f} °F{f_range} / {celsius} °C{c_range}"));
            }
            _ => out.push_str(&format!("{celsius} °C{c_range}")),
        }
        rest = twin.rest;
    }
    out.push_str(rest);
    out
}

/// The same temperature in °F, behind one in °C.
struct Twin<'a> {
    figure: &'a str,
    /// It stands in brackets.
    bracketed: bool,
    /// Ranges in brackets behind either, with a space before: ` (91–98)`.
    c_range: &'a str,
    f_range: &'a str,
    rest: &'a str,
}

fn twin(after: &str) -> Option<Twin<'_>> {
    let (c_range, behind) = range(after);
    let bracketed = behind.starts_with(" (");
    let from = behind.strip_prefix(if bracketed { " (" } else { " / " })?;
    let bare = from.strip_prefix('-').unwrap_or(from);
    let digits = from.len() - bare.trim_start_matches(is_figure).len();
    let (figure, on) = from.split_at(digits);
    let on = on.strip_prefix(" °F").filter(|_| digits > 0)?;
    if bracketed {
        let rest = on.strip_prefix(')')?;
        return Some(Twin {
            figure,
            bracketed,
            c_range,
            f_range: "",
            rest,
        });
    }
    let (f_range, rest) = if c_range.is_empty() {
        ("", on)
    } else {
        range(on)
    };
    Some(Twin {
        figure,
        bracketed,
        c_range,
        f_range,
        rest,
    })
}

/// ` (91–98)` at the front, and what follows.
fn range(text: &str) -> (&str, &str) {
    let end = text
        .strip_prefix(" (")
        .and_then(|inner| inner.find(|c| !is_figure(c)))
        .map(|i| i + 2)
        .filter(|i| *i > 2 && text[*i..].starts_with(')'));
    end.map_or(("", text), |i| text.split_at(i + 1))
}

/// A digit, a point, or what stands between two figures.
fn is_unsigned(c: char) -> bool {
    c.is_ascii_digit() || c == '–' || c == '.'
}

fn is_figure(c: char) -> bool {
    is_unsigned(c) || c == '−'
}

/// Where the figure at the end of a text begins, with its minus.
fn figure_before(text: &str) -> usize {
    let bare = text.trim_end_matches(is_figure);
    let minus = bare.strip_suffix('-');
    let sign =
        minus.filter(|l| bare.len() < text.len() && (l.is_empty() || l.ends_with([' ', '('])));
    sign.unwrap_or(bare).len()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Differences are worked by hand, × 1.8; an oven's dial goes by five.
    #[test]
    fn temperatures_in_one_scale_get_the_other() {
        for (text, want) in [
            (
                "look for 98 °C (95–98).",
                "look for 98 °C (95–98) / 208 °F (203–208).",
            ),
            ("keep it at 3–5 °C for", "keep it at 3–5 °C / 37–41 °F for"),
            ("at 175 °C / 350 °F / gas 4", "at 175 °C / 350 °F / gas 4"),
            ("at 175 °C (350 °F)", "at 175 °C (350 °F)"),
            ("at 350 °F (175 °C)", "at 350 °F (175 °C)"),
            ("10 °C hotter", "10 °C / 18 °F hotter"),
            (
                "no core comes nearer than 1.5 °C to it",
                "no core comes nearer than 1.5 °C / 2.7 °F to it",
            ),
            (
                "gas 3 is 160 °C or 170 °C.",
                "gas 3 is 160 °C / 325 °F or 170 °C / 340 °F.",
            ),
            ("an oven 10 °C hotter", "an oven 10 °C / 20 °F hotter"),
            (
                "Colder. Lower the oven by 15 °C",
                "Colder. Lower the oven by 15 °C / 25 °F",
            ),
            (
                "mixing warms by 1–3 °C",
                "mixing warms by 1–3 °C / 1.8–5.4 °F",
            ),
            (
                "each look costs 10–25 °C",
                "each look costs 10–25 °C / 18–45 °F",
            ),
            ("baby 30 °C", "baby 30 °C / 86 °F"),
            ("to −10 °C, 98 °C", "to −10 °C, 98 °C / 208 °F"),
            ("frozen at −18 °C", "frozen at −18 °C / 0 °F"),
            ("write −30 °C or more", "write −30 °C / −22 °F or more"),
            (
                "no more than 1.5 °C below your boiling point",
                "no more than 1.5 °C / 2.7 °F below your boiling point",
            ),
            ("5 °C or below", "5 °C / 41 °F or below"),
            ("no °C and …95 °C", "no °C and …95 °C / 203 °F"),
            ("no degrees", "no degrees"),
        ] {
            assert_eq!(both_scales(text), want);
        }
        let cold = both_scales("frozen at −18 °C (−20) or so");
        assert_eq!(
            scales_of("at −18 °C / 0 °F", Locale::Us),
            "at 0 °F / −18 °C"
        );
        assert!(cold.contains("−18 °C"), "{cold}");
    }

    #[test]
    fn each_country_reads_its_own_scale_first() {
        for (text, us, uk) in [
            (
                "allow 28–38 minutes at 180 °C / 355 °F / gas 4 to 190 °C / 375 °F (fan 160–170 °C / 320–340 °F).",
                "allow 28–38 minutes at 355 °F / 180 °C / gas 4 to 375 °F / 190 °C (fan 320–340 °F / 160–170 °C).",
                "allow 28–38 minutes at 180 °C / gas 4 to 190 °C (fan 160–170 °C).",
            ),
            (
                "reads 95 °C (91–98) / 203 °F (196–208). Above",
                "reads 203 °F (196–208) / 95 °C (91–98). Above",
                "reads 95 °C (91–98). Above",
            ),
            (
                "95 °C / 203 °F (91–98 °C / 196–208 °F)",
                "203 °F / 95 °C (196–208 °F / 91–98 °C)",
                "95 °C (91–98 °C)",
            ),
            (
                "180 °C (350 °F), gas mark 4",
                "350 °F (180 °C), gas mark 4",
                "180 °C, gas mark 4",
            ),
            // A minus goes with its own figure, however it is typed.
            (
                "water at −6 °C (22 °F), -30 °C (-22 °F) or (-10 °C / 14 °F)",
                "water at 22 °F (−6 °C), -22 °F (-30 °C) or (14 °F / -10 °C)",
                "water at −6 °C, -30 °C or (-10 °C)",
            ),
            (
                "5-10 °C (41-50 °F)",
                "5-10 °C (41-50 °F)",
                "5-10 °C (41-50 °F)",
            ),
            (
                "1.5 °C below it, no °C, °C",
                "1.5 °C below it, no °C, °C",
                "1.5 °C below it, no °C, °C",
            ),
        ] {
            assert_eq!(scales_of(text, Locale::Us), us);
            for other in [Locale::Uk, Locale::Metric, Locale::Au] {
                assert_eq!(scales_of(text, other), uk);
            }
        }
    }
}
