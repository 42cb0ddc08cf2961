//! Temperatures in words that give both scales, in the order a country reads them.

use crate::Locale;

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
    let digits = from.len() - from.trim_start_matches(is_figure).len();
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

fn is_figure(c: char) -> bool {
    c.is_ascii_digit() || c == '–' || c == '.'
}

/// Where the figure at the end of a text begins.
fn figure_before(text: &str) -> usize {
    text.trim_end_matches(is_figure).len()
}

#[cfg(test)]
mod tests {
    use super::*;

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
