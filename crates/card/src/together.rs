//! Keeps each figure of a page with its unit on one line.

/// Units that stand behind a figure.
const UNITS: [&str; 28] = [
    "%",
    "g",
    "kg",
    "mg",
    "ml",
    "mL",
    "L",
    "°C",
    "°F",
    "mm",
    "cm",
    "m",
    "s",
    "min",
    "h",
    "ppm",
    "oz",
    "lb",
    "tsp",
    "tbsp",
    "kJ",
    "kPa",
    "teaspoon",
    "teaspoons",
    "tablespoon",
    "tablespoons",
    "cup",
    "cups",
];
/// Elements whose words are the reader's, stand on one line or are none.
const VERBATIM: [&str; 6] = ["textarea", "select", "pre", "script", "style", "title"];

/// A page with a no-break space between each figure and its unit: '200 °C' and '5 %' never part at
/// the end of a line.
///
/// # Inputs
/// - `html`: a page or a part of one, in which `<` and `>` stand for nothing but tags.
///
/// # Returns
/// The same page. Tags, their attributes and what stands in a text area, a script or a style are
/// as they were.
///
/// # Example
/// ```
/// let page = "<p title=\"5 g\">in <b>180</b> °C, 5 %, 3 men</p>";
/// let want = "<p title=\"5 g\">in <b>180</b>\u{a0}°C, 5\u{a0}%, 3 men</p>";
/// assert_eq!(card::together(page), want);
/// ```
#[must_use]
pub fn together(html: &str) -> String {
    let mut out = String::with_capacity(html.len() + html.len() / 64);
    let mut rest = html;
    let mut last = ' ';
    while let Some(at) = rest.find('<') {
        let (words, tag) = rest.split_at(at);
        last = bind(words, last, &mut out);
        let name = tag[1..].split(|c: char| !c.is_ascii_alphanumeric()).next();
        let end = match name.filter(|n| VERBATIM.contains(n)) {
            Some(name) => tag.find(&format!("</{name}")),
            None => tag.find('>').map(|end| end + 1),
        };
        let (tag, after) = tag.split_at(end.unwrap_or(tag.len()));
        out.push_str(tag);
        rest = after;
    }
    bind(rest, last, &mut out);
    out
}

/// Writes words out; gives the sign they end with, `last` being the one before them.
fn bind(words: &str, mut last: char, out: &mut String) -> char {
    for (at, c) in words.char_indices() {
        let figure = last.is_numeric();
        out.push(match c {
            ' ' if figure && goes_with_it(&words[at + 1..]) => '\u{a0}',
            c => c,
        });
        last = c;
    }
    last
}

/// Whether what comes after a figure begins with its unit, or its fraction: '1 1/2'.
fn goes_with_it(words: &str) -> bool {
    let unit = |unit: &&str| {
        let after = words.strip_prefix(unit);
        after.is_some_and(|after| !after.starts_with(char::is_alphanumeric))
    };
    let over = words.trim_start_matches(|c: char| c.is_ascii_digit());
    let fraction = over.len() < words.len() && over.starts_with('/');
    fraction || UNITS.iter().any(unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_figure_and_its_unit_are_bound() {
        for (page, want) in [
            ("<td>1½ tsp</td>", "<td>1½\u{a0}tsp</td>"),
            (
                "4 cups plus 1 1/2 teaspoons",
                "4\u{a0}cups plus 1\u{a0}1/2\u{a0}teaspoons",
            ),
            (
                "2 h 5 min, 3 hands, step 4 g.",
                "2\u{a0}h 5\u{a0}min, 3 hands, step 4\u{a0}g.",
            ),
            (
                "<textarea>5 g\n</textarea> 5 g",
                "<textarea>5 g\n</textarea> 5\u{a0}g",
            ),
            (
                "<input value=\"5 g\"><td>7</td><td>g</td>",
                "<input value=\"5 g\"><td>7</td><td>g</td>",
            ),
            ("at −2 °C <a", "at −2\u{a0}°C <a"),
        ] {
            assert_eq!(together(page), want);
        }
    }
}
