//! Eggs that are weighed in their shells.

use super::Basis;
use super::item::Found;
use crate::line::{Amount, Item};
use larder::{FoodId, Larder};
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
