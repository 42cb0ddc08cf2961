//! Figures as people type them.

/// A figure as people type it: `310`, `2.5`, `2,5`, `1 1/2`, `½`.
///
/// # Returns
/// The number; `None` where the text is no one finite figure, and for one with a comma before three
/// figures, `1,200`: it may part thousands or be a decimal sign.
///
/// # Example
/// ```
/// use quantity::figure;
/// assert_eq!(figure("1 1/2"), Some(1.5));
/// assert_eq!(figure("2½"), Some(2.5));
/// assert_eq!(figure("2,5"), Some(2.5));
/// assert_eq!(figure("1,200"), None);
/// assert_eq!(figure("two"), None);
/// ```
#[must_use]
pub fn figure(text: &str) -> Option<f64> {
    if text.split_whitespace().any(doubtful) {
        return None;
    }
    // A fraction is a figure of its own, whatever stands before it.
    let plain = text
        .replace(',', ".")
        .chars()
        .fold(String::new(), |mut out, c| {
            if crate::fraction(c).is_some() {
                out.push(' ');
            }
            out.push(c);
            out
        });
    let plain = crate::numeral::strokes(&plain);
    let parts: Vec<&str> = plain.split_whitespace().collect();
    if parts.is_empty() || parts.len() > 2 || parts.len() == 2 && !parts[1].contains('/') {
        return None;
    }
    let mut sum = 0.0;
    for part in parts {
        sum += match part.split_once('/') {
            Some((a, b)) => a.parse::<f64>().ok()? / b.parse::<f64>().ok()?,
            None => part.parse().ok()?,
        };
    }
    sum.is_finite().then_some(sum)
}

/// Whether a comma in a number may part thousands: not after nothing, `0,125`.
fn doubtful(number: &str) -> bool {
    number
        .split_once(',')
        .is_some_and(|(whole, part)| part.len() == 3 && !whole.trim_start_matches('0').is_empty())
}

#[cfg(test)]
mod tests {
    use super::figure;

    #[test]
    fn what_is_no_one_figure_is_none() {
        for text in [
            "",
            " ",
            "1 2",
            "1/0",
            "1/2 1",
            "1 2 1/2",
            "inf",
            "nan",
            "3 x",
            "1,200",
            "12,500",
            "1,200,000",
            "1,200 1/2",
        ] {
            assert_eq!(figure(text), None, "{text:?}");
        }
    }

    #[test]
    fn a_comma_is_a_decimal_sign_where_it_parts_no_thousands() {
        for (text, number) in [
            ("1,2", 1.2),
            ("1,25", 1.25),
            ("0,125", 0.125),
            ("1200", 1200.0),
        ] {
            assert_eq!(figure(text), Some(number), "{text}");
        }
    }
}
