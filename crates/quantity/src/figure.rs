//! Figures as people type them.

/// A figure as people type it: `310`, `2.5`, `2,5`, `1 1/2`, `½`.
///
/// # Returns
/// The number; `None` where the text is no one finite figure.
///
/// # Example
/// ```
/// use quantity::figure;
/// assert_eq!(figure("1 1/2"), Some(1.5));
/// assert_eq!(figure("2½"), Some(2.5));
/// assert_eq!(figure("2,5"), Some(2.5));
/// assert_eq!(figure("two"), None);
/// ```
#[must_use]
pub fn figure(text: &str) -> Option<f64> {
    let mut plain = text.replace(',', ".");
    for (sign, fraction) in [
        ('½', " 1/2"),
        ('¼', " 1/4"),
        ('¾', " 3/4"),
        ('⅓', " 1/3"),
        ('⅔', " 2/3"),
        ('⅛', " 1/8"),
        ('⅜', " 3/8"),
        ('⅝', " 5/8"),
        ('⅞', " 7/8"),
    ] {
        plain = plain.replace(sign, fraction);
    }
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

#[cfg(test)]
mod tests {
    use super::figure;

    #[test]
    fn what_is_no_one_figure_is_none() {
        for text in [
            "", " ", "1 2", "1/0", "1/2 1", "1 2 1/2", "inf", "nan", "3 x",
        ] {
            assert_eq!(figure(text), None, "{text:?}");
        }
    }
}
