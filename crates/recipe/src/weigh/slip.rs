//! Amounts that cannot be meant: far more of a food for its flour than any published formula has.

use super::{Basis, Weighed, WeighedComponent};
use crate::data::rows;
use crate::household::{is_fine, percent, weight};
use crate::line::Line;
use crate::rework::LEAST_FLOUR;
use crate::{Doubt, DoubtCode};
use larder::{FoodId, Function, Larder};
use quantity::Mass;
use std::sync::LazyLock;

/// So many times the most of any published formula cannot be meant. The formula with the most of a
/// kind of food has at most 1.3 times what the next source has (`evidence amounts` counts it anew):
/// 3 leaves room for what nobody has published.
pub const FAR: f64 = 3.0;

/// Eggs so many times as heavy as all else beside them, in what has hardly any flour, are asked about where
/// they are many (common practice, no source).
const BURIED: f64 = 10.0;
/// Grams of many eggs: four dozen.
const MANY_EGGS: f64 = 2400.0;

/// The most of a kind of food.
struct Most {
    kind: &'static str,
    percent: f64,
    formulas: &'static str,
}

static MOST: LazyLock<Vec<Most>> = LazyLock::new(|| {
    rows(include_str!("../../data/most_of_flour.tsv"))
        .map(|r| Most {
            kind: r.get("kind"),
            percent: r.number("most"),
            formulas: r.get("formulas"),
        })
        .collect()
});

/// What a line counts as beside the flour: its kind, and its share of its weight that does.
///
/// # Returns
/// The word of the food's main function; syrups count as sugar, fresh yeast as the third of it that
/// dry yeast would be. `None` for what has no bound: flour itself, liquids (a custard or a clafoutis
/// is hardly more than its milk), and what is in a dough for its taste.
#[must_use]
pub fn counts_as(food: FoodId, larder: &Larder) -> Option<(&'static str, f64)> {
    use Function as F;
    let function = larder.food(food).function();
    let fresh = || larder.composition(food).water.unwrap_or(0.0) > 50.0;
    match function {
        F::Egg | F::Fat | F::Sugar | F::Leavening | F::Salt | F::Binder => {
            Some((function.word(), 1.0))
        }
        F::Syrup => Some((F::Sugar.word(), 1.0)),
        F::Yeast => Some((function.word(), if fresh() { 1.0 / 3.0 } else { 1.0 })),
        _ => None,
    }
}

/// The doubt that a weighed item is a slip of the pen; `None` where it may be meant, where its kind
/// is in too few published formulas, or where the rest of its part is no dough or batter.
pub(super) fn doubt(
    w: &Weighed,
    component: &WeighedComponent,
    line: &Line,
    larder: &Larder,
) -> Option<Doubt> {
    let (food, grams) = (w.food?, w.grams?.likely());
    let (kind, share) = counts_as(food, larder)?;
    let most = MOST.iter().find(|m| m.kind == kind)?;
    let flour = component.flour.likely().as_grams();
    let rest = (component.makes.likely() - grams).as_grams();
    let little = flour <= 0.0 || flour < LEAST_FLOUR * rest;
    let of_flour = 100.0 * grams.as_grams() * share / flour;
    let of_rest = grams.as_grams() / rest;
    let eggs = larder.food(food).function() == Function::Egg;
    let buried = little && eggs && rest > 0.0 && of_rest > BURIED && grams.as_grams() > MANY_EGGS;
    if !w.in_formula || !buried && (little || of_flour <= FAR * most.percent) {
        return None;
    }
    let item = line.items.get(w.item)?;
    let amount = match w.part {
        0 => item.amounts.first(),
        part => item.further().nth(part - 1).map(|(_, a)| a),
    };
    let span = amount.map(|a| a.span.clone());
    let written = span.clone().map_or("", |s| line.words(&s).trim());
    let meant = match w.basis {
        Some(Basis::Own) => Vec::new(),
        // As heavy as all else.
        _ if buried => meant(written, 1.0 / of_rest),
        _ => meant(written, most.percent / of_flour),
    };
    let or = match &meant[..] {
        [] => String::new(),
        all => format!(": is it {}?", all.join(" or ")),
    };
    let end = if meant.is_empty() { "." } else { "" };
    let message = if buried {
        format!(
            "{} of {} with {} of all else cannot be meant{or}{end} No published formula has so much of it",
            weight(grams, false),
            larder.food(food).name,
            weight(Mass::grams(rest), false),
        )
    } else {
        format!(
            "{} of {} for {} of flour cannot be meant{or}{end} It is {} of the flour; the most in {} published formulas of doughs and batters is {}",
            weight(grams, is_fine(larder, food)),
            larder.food(food).name,
            weight(component.flour.likely(), false),
            percent(of_flour),
            most.formulas,
            percent(most.percent),
        )
    };
    let mut doubt = Doubt::new(DoubtCode::UnlikelyAmount, message);
    doubt.span = span;
    doubt.meant = meant;
    Some(doubt)
}

/// Amounts of which the written one may be a slip: a digit too many, or two. Those with the fewest
/// taken out that come to `most` of it or less.
fn meant(written: &str, most: f64) -> Vec<String> {
    const OFFERED: usize = 2;
    let digits = written.len()
        - written
            .trim_start_matches(|c: char| c.is_ascii_digit())
            .len();
    let (number, rest) = written.split_at(digits);
    // '1½', '2.5', '2-3' are no slips of a digit.
    if rest.starts_with(|c: char| !c.is_ascii_alphabetic() && c != ' ') {
        return Vec::new();
    }
    let Ok(value) = number.parse::<f64>() else {
        return Vec::new();
    };
    let mut made = vec![number.to_owned()];
    while made.first().is_some_and(|m| m.len() > 1) {
        let mut shorter: Vec<String> = Vec::new();
        for m in &made {
            for at in (0..m.len()).rev() {
                let mut one = m.clone();
                one.remove(at);
                if !shorter.contains(&one) {
                    shorter.push(one);
                }
            }
        }
        let fits = |m: &&String| {
            let v = m.parse().unwrap_or(0.0);
            !m.starts_with('0') && v > 0.0 && v <= most * value
        };
        let found: Vec<String> = shorter.iter().filter(fits).cloned().collect();
        if !found.is_empty() {
            let found = found.into_iter().take(OFFERED);
            return found.map(|m| format!("{m}{rest}")).collect();
        }
        made = shorter;
    }
    Vec::new()
}

#[cfg(test)]
mod tests {
    use super::meant;

    #[test]
    fn a_slip_is_a_digit_or_two_too_many() {
        assert_eq!(meant("502", 0.044), ["5", "2"]);
        assert_eq!(meant("2500 g", 0.2), ["250 g", "200 g"]);
        assert_eq!(meant("90 g", 0.2), ["9 g"]);
        assert_eq!(meant("2.5 kg", 0.1), Vec::<String>::new());
        assert_eq!(meant("9 tbsp", 0.1), Vec::<String>::new());
        assert_eq!(meant("", 0.1), Vec::<String>::new());
    }
}
