//! The words of the larder's tables as a baker says them, and the kitchen's own cup.

use quantity::{Hold, Locale, Unit};

/// A laboratory's words, and ours. The first that fits counts, so longer ones stand before.
const WORDS: [(&str, &str); 24] = [
    ("project gluten list", "our own list of gluten words"),
    ("project gluten table", "our own table of gluten words"),
    (
        "project trade rules, hidden gluten list",
        "our own list of hidden gluten",
    ),
    ("project rule", "our own rule"),
    (
        " (as read in project trade notes)",
        ", as our notes have it",
    ),
    (", as noted in our flour table", ", as our notes have it"),
    ("ingredient class judgement", "what kind of food it is"),
    (
        "farinograph absorption, general cereal-chemistry literature",
        "water that flour takes up in a dough, from books on cereals",
    ),
    ("general cereal-chemistry literature", "books on cereals"),
    (
        "US pat. appl. 2007/0264405: ",
        "US patent application 2007/0264405: ",
    ),
    ("pregelatinised", "cooked beforehand"),
    ("gelatinised", "cooked"),
    ("mucilaginous", "slippery"),
    ("pentosan-sticky", "sticky"),
    ("beta-glucan gummy", "gummy"),
    ("bitter if saponins remain", "bitter if not well rinsed"),
    ("tenderises", "makes tender"),
    ("hydrates cold", "swells in cold water"),
    ("enzyme-rich", "rich in enzymes"),
    ("gels HOT", "gels when hot"),
    ("superfine grind", "a very fine grind"),
    ("min rest", "min of rest"),
    ("replaces badly with starch", "starch replaces it badly"),
    ("85 C)", "85 °C)"),
];

/// A cell of a table in words: `needs >=30 min rest` is `needs at least 30 min of rest`.
pub fn texture(cell: &str) -> String {
    signs(&worded(cell))
}

/// A source by its name, without the figures noted behind it.
pub fn source(cell: &str) -> String {
    let named = match cell.find(" abstract (") {
        Some(at) => &cell[..at + " abstract".len()],
        None => cell,
    };
    signs(&worded(named))
}

fn worded(cell: &str) -> String {
    WORDS
        .iter()
        .fold(cell.to_owned(), |s, (from, to)| s.replace(from, to))
}

/// Signs of the tables as words, ranges and units as they are set.
fn signs(cell: &str) -> String {
    let cell = cell
        .replace(">=", "at least ")
        .replace("<=", "at most ")
        .replace('>', "more than ")
        .replace('<', "less than ")
        .replace('~', "about ");
    let chars: Vec<char> = cell.chars().collect();
    let digit = |i: Option<usize>| {
        i.and_then(|i| chars.get(i))
            .is_some_and(char::is_ascii_digit)
    };
    let mut out = String::new();
    for (i, &c) in chars.iter().enumerate() {
        let before = digit(i.checked_sub(1));
        match c {
            '-' if before && digit(Some(i + 1)) && is_range(&chars, i) => out.push('–'),
            '%' if before => out.push_str(" %"),
            _ => out.push(c),
        }
    }
    out
}

/// Whether a hyphen between figures means 'to': not in a day or the number of a standard.
fn is_range(chars: &[char], at: usize) -> bool {
    let run = |c: &&char| c.is_ascii_digit();
    let after = chars[at + 1..].iter().take_while(run).count();
    let before = chars[..at].iter().rev().take_while(run).count();
    let led = at.checked_sub(before + 1).and_then(|i| chars.get(i));
    let followed = chars.get(at + 1 + after);
    before < 4 && after < 4 && led != Some(&'-') && followed != Some(&'-')
}

/// The cup of a kitchen that measures otherwise than the US: its name, and how many US cups it
/// holds.
pub fn own_cup(locale: &str) -> Option<(&'static str, f64)> {
    let locale: Locale = locale.parse().ok()?;
    let name = match locale {
        Locale::Us => return None,
        Locale::Metric => "metric cup, 250 mL",
        Locale::Uk => "UK cup, 250 mL",
        Locale::Au => "Australian cup, 250 mL",
    };
    let holds = |l: Locale| match Unit::Cup.hold(l) {
        Hold::Volume(v) => Some(v.likely().as_millilitres()),
        _ => None,
    };
    Some((name, holds(locale)? / holds(Locale::Us)?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;

    #[test]
    fn cells_in_words() {
        for (cell, want) in [
            (
                "gritty if coarse; needs >=30 min rest or superfine grind",
                "gritty if coarse; needs at least 30 min of rest or a very fine grind",
            ),
            ("chewy; gummy above ~50%", "chewy; gummy above about 50 %"),
            (
                "gels HOT (60-85 C), melts",
                "gels when hot (60–85 °C), melts",
            ),
            ("slimy if >2%", "slimy if more than 2 %"),
            (
                "weighed on 2026-11-25, CXS 118-1979",
                "weighed on 2026-11-25, CXS 118-1979",
            ),
        ] {
            assert_eq!(texture(cell), want);
        }
        assert_eq!(
            source("Int. Agrophysics 29(3):353 abstract (water 80-120% flour; corn+rice 90) - top"),
            "Int. Agrophysics 29(3):353 abstract"
        );
    }

    #[test]
    fn no_cell_is_left_in_a_laboratorys_words() {
        let larder = Larder::built_in().expect("tables");
        for id in larder.ids() {
            let Some(a) = larder.absorption(id) else {
                continue;
            };
            let (t, s) = (texture(&a.texture), source(&a.source));
            for odd in [
                ">",
                "<",
                "~",
                "HOT",
                "gelatinised",
                "mucilag",
                "pentosan",
                "saponin",
            ] {
                assert!(!t.contains(odd), "{t}");
            }
            for odd in ["farinograph", "corn+rice", "RSM", ">=", "chemistry"] {
                assert!(!s.contains(odd), "{s}");
            }
        }
    }

    #[test]
    fn the_cup_of_the_kitchen() {
        assert_eq!(own_cup("us"), None);
        for place in ["metric", "uk", "au"] {
            let (name, times) = own_cup(place).expect("a cup of its own");
            assert!(name.contains("250 mL") && (times * 236.588 - 250.0).abs() < 0.01);
        }
    }
}
