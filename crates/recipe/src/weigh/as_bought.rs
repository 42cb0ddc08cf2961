//! A weight with what is done behind it: '680 g plums, pitted' may be of the plums as they are bought, or of what
//! is left of them.

use crate::line::{Amount, Item};
use crate::{Doubt, DoubtCode};
use larder::{FoodId, Larder, Trim};
use quantity::{Mass, Spread};

/// What takes off a part that is thrown away. Hulls, and what is topped and tailed, weigh next to nothing.
const TAKES_OFF: [&str; 13] = [
    "cored",
    "deseeded",
    "destoned",
    "peeled",
    "pitted",
    "seeded",
    "shelled",
    "skinned",
    "stoned",
    "stones removed",
    "skin removed",
    "skins removed",
    "peel removed",
];
/// Words that say of which the weight is.
const SAYS: [&str; 8] = [
    "weight",
    "weighed",
    "weighing",
    "after",
    "prepared",
    "once ",
    "without",
    "as bought",
];
/// Less than this in 100 is no matter.
const LITTLE: f64 = 5.0;

/// What is left of a weight that may be as bought; `None` where the line leaves no doubt.
pub(crate) fn left(
    item: &Item,
    mass: &Amount,
    text: &str,
    food: FoodId,
    larder: &Larder,
) -> Option<Trim> {
    let trim = larder.trim(food).filter(|t| t.percent >= LITTLE)?;
    let named = item.food.as_ref().map_or(&item.name, |m| &m.span);
    if mass.span.start > named.start {
        return None;
    }
    let behind = text.get(named.end..)?.to_lowercase();
    // Up to a food that stands beside it.
    let behind = behind.split([';', '+']).next()?;
    let words = || behind.split(|c: char| !c.is_alphabetic() && c != '-');
    let takes = TAKES_OFF.iter().any(|w| match w.contains(' ') {
        true => behind.contains(w),
        false => words().any(|said| said.replace('-', "") == *w),
    });
    (takes && !SAYS.iter().any(|w| behind.contains(w))).then_some(trim)
}

/// The doubt, and the grams with what would be left of them.
pub(super) fn doubt(
    mass: &Amount,
    text: &str,
    grams: Spread<Mass>,
    trim: &Trim,
) -> (Spread<Mass>, Doubt) {
    let less = grams.scaled(trim.used(1.0));
    let shown = text.get(mass.span.clone()).unwrap_or_default().trim();
    let doubt = Doubt::new(
        DoubtCode::WeightAsBought,
        format!(
            "'{shown}' may be the weight as bought or without the {}, as what is done stands behind the name: it is taken as without; as bought, {:.0} g is left ({:.0} % {}, {})",
            trim.lost,
            less.likely().as_grams(),
            trim.percent,
            trim.lost,
            trim.source
        ),
    )
    .at(mass.span.clone());
    let low = Mass::grams(less.low().as_grams().min(grams.low().as_grams()));
    (Spread::new(low, grams.likely(), grams.high()), doubt)
}
