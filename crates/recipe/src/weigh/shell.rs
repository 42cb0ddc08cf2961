//! Eggs that are weighed in their shells.

use super::Basis;
use super::item::Found;
use crate::line::{Amount, Item};
use larder::{FoodId, Larder, State};
use quantity::{Locale, UnitKind};

/// A weight that the line states, less the shell; `None` of foods without one.
///
/// # Source
/// The larder's trim: the refuse of the food's SR28 row, for a hen's egg 12 %.
pub(super) fn without_shell(found: &Found, food: FoodId, larder: &Larder) -> Option<Found> {
    let stated = matches!(found.basis, Basis::Stated | Basis::StatedSize);
    let shell = larder.trim(food).filter(|t| stated && t.lost == "shell")?;
    Some(Found {
        grams: found.grams.scaled(shell.used(1.0)),
        basis: Basis::InShell(format!("{:.0} % shell, {}", shell.percent, shell.source)),
    })
}

/// What a white or a yolk weighs of an egg whose size stands beside it: '4 egg whites (59 g eggs)'. `None` of other
/// foods, and of a size that is not said of eggs.
///
/// # Source
/// The larder's weights of a large egg, its white and its yolk (SR28), and what the shell takes of it.
pub(super) fn of_whole_egg(
    found: &Found,
    food: FoodId,
    size: &Amount,
    text: &str,
    larder: &Larder,
) -> Option<Found> {
    let key = larder.food(food).key.as_str();
    let said = text.get(size.span.end..)?.trim_start().to_lowercase();
    let mut words = said.split(|c: char| !c.is_alphabetic());
    let eggs = matches!(words.next(), Some("egg" | "eggs"))
        && !words
            .next()
            .is_some_and(|w| w.starts_with("white") || w.starts_with("yolk"));
    if !eggs || !matches!(key, "egg_white" | "egg_yolk") || found.basis != Basis::StatedSize {
        return None;
    }
    let egg = larder.by_key("egg")?;
    let large = |f| Some(larder.measure(f, "large", State::Usual)?.grams.likely());
    let shell = larder.trim(egg).filter(|t| t.lost == "shell")?;
    let share = shell.used(1.0) * (large(food)? / large(egg)?);
    Some(Found {
        grams: found.grams.scaled(share),
        basis: Basis::InShell(format!(
            "{:.0} % of an egg in its shell, {}",
            100.0 * share,
            shell.source
        )),
    })
}

/// Whether words say that a weight is with the shell: 'weighed in their shells'.
pub(super) fn says_in_shell(text: &str) -> bool {
    let text = text.to_lowercase().replace('-', " ");
    let said = [
        "in shell",
        "in its shell",
        "in the shell",
        "in their shell",
        "with shell",
        "with the shell",
        "with its shell",
        "with their shell",
        "including shell",
        "including the shell",
        "incl. shell",
        "shell on",
        "shells on",
        "unshelled",
    ];
    said.iter().any(|s| text.contains(s))
}

/// Whether a size is that of a carton, which is of eggs in their shells: '3 x 59 g eggs'. US cartons say a class.
///
/// # Source
/// EU 589/2008 and Australian practice grade eggs by their weight in the shell (shell weights as in [`super::item::egg_size`]).
pub(super) fn is_carton(size: &Amount, item: &Item, locale: Locale) -> bool {
    let before = |m: &larder::Match| size.span.end <= m.span.start;
    let locale = size.locale.unwrap_or(locale);
    let sold = size.unit.is_some_and(|u| u.kind() == UnitKind::Mass);
    sold && locale != Locale::Us && item.food.as_ref().is_some_and(before)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::read::Reader;

    /// An egg of 59 g has 12 % shell, and 33 g of a large egg's 50 g are white, 17 g yolk (SR28): 4 × 59 × 0.88 ×
    /// 33/50 = 137.1 g, 2 × 60 × 0.88 × 17/50 = 35.9 g. What is said of the whites is theirs.
    #[test]
    fn a_white_is_part_of_the_egg_whose_size_is_said() {
        let larder = Larder::built_in().expect("the built-in tables");
        let grams = |text: &str| {
            let line = Reader::new(&larder, Locale::Uk).line(text);
            let (weighed, doubts) = crate::weigh::line(&line, &larder, Locale::Uk);
            assert!(doubts.is_empty(), "{text}: {doubts:?}");
            weighed[0].grams.expect(text).likely().as_grams()
        };
        for (text, want) in [
            ("4 egg whites (59 g eggs)", 137.1),
            ("2 egg yolks (60 g eggs)", 35.9),
            ("3 eggs (59 g eggs)", 3.0 * 59.0 * 0.88),
            ("4 egg whites (120 g)", 120.0),
        ] {
            assert!((grams(text) - want).abs() < 0.1, "{text}: {}", grams(text));
        }
    }
}
