//! The card's title.

use crate::measure::capital;
use crate::view::tidy;

/// Our title. It never says gluten-free while something in it contains gluten.
pub(crate) fn title(original: Option<&str>, contains: bool) -> String {
    let title = original.map(tidy).filter(|t| !t.is_empty());
    let title = title.unwrap_or_else(|| "Untitled recipe".to_owned());
    let at = claims(&title);
    match (contains, at) {
        (false, Some(_)) => title,
        (false, None) => format!("{title}, gluten-free"),
        (true, _) => {
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
            format!("{plain} (rework in progress: still contains gluten)")
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
        assert_eq!(title(Some("Oat rolls"), false), "Oat rolls, gluten-free");
        assert_eq!(title(Some("Gluten-Free rolls"), false), "Gluten-Free rolls");
        for given in ["Rolls, gluten-free", "Gluten free rolls", "Rolls"] {
            let got = title(Some(given), true);
            assert_eq!(got, "Rolls (rework in progress: still contains gluten)");
        }
        assert_eq!(title(None, false), "Untitled recipe, gluten-free");
    }
}
