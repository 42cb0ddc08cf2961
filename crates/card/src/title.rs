//! The card's title.

use crate::measure::capital;
use crate::view::tidy;

/// A title that shouts, said quietly: 'PUMPKIN DAMPER' is 'Pumpkin Damper'. Others stay as they are.
///
/// # Example
/// ```
/// assert_eq!(card::quiet("RASPBERRY–ALMOND COFFEE CAKE"), "Raspberry–Almond Coffee Cake");
/// assert_eq!(card::quiet("BLT tart"), "BLT tart");
/// ```
#[must_use]
pub fn quiet(title: &str) -> String {
    let letters = title.chars().filter(|c| c.is_alphabetic()).count();
    if title.chars().any(char::is_lowercase) || letters < 4 {
        return title.to_owned();
    }
    let mut out = String::new();
    let mut begins = true;
    for c in title.chars() {
        match begins {
            true => out.push(c),
            false => out.extend(c.to_lowercase()),
        }
        begins = matches!(c, '-' | '–' | '—' | '/' | '(' | '&') || c.is_whitespace();
    }
    out
}

/// Our title. It never says gluten-free while something stands against it.
pub(crate) fn title(original: Option<&str>, against: Option<&str>) -> String {
    let title = original
        .map(tidy)
        .map(|t| quiet(&t))
        .filter(|t| !t.is_empty());
    let title = title.unwrap_or_else(|| "Untitled recipe".to_owned());
    let at = claims(&title);
    match (against, at) {
        (None, Some(_)) => title,
        (None, None) => format!("{title}, gluten-free"),
        (Some(against), _) => {
            let mut plain = title;
            while let Some((from, to)) = claims(&plain) {
                plain.replace_range(from..to, " ");
            }
            let plain = tidy(&plain);
            let plain = plain.trim_matches([' ', ',', '-', '–', ':', '(', ')']);
            let plain = if plain.is_empty() {
                "Recipe".to_owned()
            } else {
                capital(plain)
            };
            format!("{plain} ({against})")
        }
    }
}

/// Where a title says gluten-free.
fn claims(title: &str) -> Option<(usize, usize)> {
    let lower = title.to_ascii_lowercase();
    [
        "gluten-free",
        "gluten free",
        "glutenfree",
        "gluten\u{2011}free",
        "gluten\u{2010}free",
        "gluten–free",
    ]
    .iter()
    .find_map(|w| Some((lower.find(w)?, lower.find(w)? + w.len())))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn titles_claim_only_what_they_may() {
        assert_eq!(title(Some("Oat rolls"), None), "Oat rolls, gluten-free");
        assert_eq!(title(Some("Gluten-Free rolls"), None), "Gluten-Free rolls");
        for given in ["Rolls, gluten-free", "Gluten free rolls", "Rolls"] {
            let got = title(Some(given), Some("still contains gluten"));
            assert_eq!(got, "Rolls (still contains gluten)");
        }
        assert_eq!(title(Some("OAT ROLLS"), None), "Oat Rolls, gluten-free");
        assert_eq!(title(None, None), "Untitled recipe, gluten-free");
    }
}
