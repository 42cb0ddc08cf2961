//! Pieces that a food is counted in: cloves of garlic, sticks of celery, onions.

use super::Household;
use super::written::counted;
use crate::line::Role;
use crate::{Item, Line};
use larder::{FoodId, Larder, State};
use quantity::{Mass, Unit};

/// What may be off of a count of pieces, which differ among themselves.
const OFF: f64 = 0.125;

/// A piece as it is counted.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct OnePiece {
    /// One of it.
    pub weighs: Mass,
    /// Its name, of one: `garlic clove`, `sprig`.
    pub one: String,
    /// Its name, of more.
    pub many: String,
}

impl OnePiece {
    /// The piece that a line counts, where all of its amount weighs so much, be it in brackets: '1 1/2 lb plums
    /// (about 9)'. `None` where it counts none.
    pub fn written(line: &Line, item: &Item, all: Mass) -> Option<Self> {
        let (count, many) = match item.amounts.as_slice() {
            [only] => (only.middle(), counted(line, item)?),
            [_, twin] if twin.role == Role::Twin && twin.unit == Some(Unit::Count) => {
                let food = &item.food.as_ref()?.span;
                (twin.middle(), line.words(food).trim().to_lowercase())
            }
            _ => return None,
        };
        let one = singular(&many);
        (count > 0.0).then(|| Self {
            weighs: all * (1.0 / count),
            many: plural(&one),
            one,
        })
    }

    /// The piece that a food is usually counted in: the food itself, or what one of it is called.
    pub fn usual(larder: &Larder, food: FoodId) -> Option<Self> {
        let weighs = larder.measure(food, "each", State::Usual)?.grams.likely();
        let name = &larder.food(food).name;
        let called = |word: &&&str| {
            let of = larder.measure(food, word, State::Usual);
            of.is_some_and(|m| m.grams.likely() == weighs) && !name.contains(**word)
        };
        let piece = ["clove", "stick", "leaf"].iter().find(called);
        let one = piece.map_or(name.clone(), |word| format!("{name} {word}"));
        let many = plural(&one);
        Some(Self { weighs, one, many })
    }

    /// A weight in pieces: quarters of one or two, halves of a few, whole ones of many. `None` where none of
    /// these comes near.
    pub fn count(&self, grams: Mass) -> Option<Household> {
        let exact = grams.as_grams() / self.weighs.as_grams();
        let parts = match exact {
            n if n < 2.0 => 4.0,
            n if n < 6.0 => 2.0,
            _ => 1.0,
        };
        let n = (exact * parts).round() / parts;
        let error = n / exact - 1.0;
        if n <= 0.0 || !error.is_finite() || error.abs() > OFF {
            return None;
        }
        let part = match n.fract() {
            f if f > 0.6 => "¾",
            f if f > 0.4 => "½",
            f if f > 0.1 => "¼",
            _ => "",
        };
        let whole = if n < 1.0 {
            String::new()
        } else {
            format!("{:.0}", n.floor())
        };
        let name = if n > 1.0 { &self.many } else { &self.one };
        Some(Household {
            words: format!("{whole}{part} {name}"),
            error,
        })
    }
}

/// More than one of what a name says: `cloves`, `bay leaves`, `potatoes`, `cherries`.
pub(crate) fn plural(name: &str) -> String {
    let before_y = |stem: &str| !stem.ends_with(['a', 'e', 'o', 'u']);
    if name.ends_with('s') {
        return name.to_owned();
    }
    if let Some(stem) = name.strip_suffix("af").filter(|s| s.ends_with(['e', 'o'])) {
        return format!("{stem}aves");
    }
    if let Some(stem) = name.strip_suffix('y').filter(|s| before_y(s)) {
        return format!("{stem}ies");
    }
    let es = ["ch", "sh", "x", "ato", "ango"]
        .iter()
        .any(|e| name.ends_with(e));
    format!("{name}{}", if es { "es" } else { "s" })
}

/// One of what a name says more of.
pub(super) fn singular(name: &str) -> String {
    let ends = [
        ("eaves", "eaf"),
        ("oaves", "oaf"),
        ("ookies", "ookie"),
        ("ownies", "ownie"),
        ("pies", "pie"),
        ("ies", "y"),
        ("atoes", "ato"),
        ("angoes", "ango"),
        ("ches", "ch"),
        ("shes", "sh"),
        ("xes", "x"),
        ("ss", "ss"),
        ("s", ""),
    ];
    let cut = |(many, one): &(&str, &str)| Some(format!("{}{one}", name.strip_suffix(many)?));
    ends.iter().find_map(cut).unwrap_or_else(|| name.to_owned())
}

#[cfg(test)]
mod tests {
    use super::{plural, singular};

    #[test]
    fn one_and_more_of_a_name() {
        for (one, many) in [
            ("mango", "mangoes"),
            ("tomato", "tomatoes"),
            ("avocado", "avocados"),
            ("bay leaf", "bay leaves"),
            ("loaf", "loaves"),
            ("cherry", "cherries"),
            ("cookie", "cookies"),
            ("brownie", "brownies"),
            ("pie", "pies"),
            ("radish", "radishes"),
            ("garlic clove", "garlic cloves"),
        ] {
            assert_eq!(plural(one), many);
            assert_eq!(singular(many), one);
        }
    }
}
