//! A card of another size than the method's.

use recipe::own_method::Steps;
use recipe::rework::Rework;
use recipe::size::Batch;
use recipe::size::pan::{Pan, Said};

/// The size in words: `× 1.5 of the recipe`.
pub(crate) fn size_words(batch: &Batch) -> String {
    format!("{} of the recipe{}", times(batch), parts(batch))
}

fn times(batch: &Batch) -> String {
    rounded(batch.factor)
}

/// The parts that are made in another measure than the rest: ', the pastry × 1.39'.
fn parts(batch: &Batch) -> String {
    // What is shown alike is alike.
    let other = |f: f64| (f / batch.factor - 1.0).abs() > 0.0005;
    let own = batch.components.iter().filter(|c| other(c.factor));
    let own = own.map(|c| match c.factor {
        f if f > 0.0 => format!(", {} {}", recipe::the_part(&c.name), rounded(f)),
        _ => format!(", without {}", recipe::the_part(&c.name)),
    });
    own.collect()
}

fn rounded(factor: f64) -> String {
    format!("× {}", recipe::size::times(factor))
}

/// What size and tin the method is written for, and what the batch is sized for: 'The method is written for
/// × 1, in a 23 cm tart tin; this is sized for a 20 cm tart tin.'
///
/// # Inputs
/// - `own`: the developer's method; the tin is its own, else that of the source.
///
/// # Returns
/// `None` where the batch is the recipe once, or the developer's method names the tin it is sized for.
pub(crate) fn written_for(batch: &Batch, rework: &Rework, own: &[Steps]) -> Option<String> {
    // Where nobody has written one, the words are of the recipe's; without one of that, of none.
    let whose = if own.is_empty() {
        "The recipe’s"
    } else {
        "The"
    };
    if batch.is_plain() || own.is_empty() && rework.formula.recipe.steps.is_empty() {
        return None;
    }
    let mut own_pans = Said::of_steps(own).into_iter();
    let asked = batch.pans.as_ref();
    let same = |s: &Said| asked.is_some_and(|p| s.count == p.count && s.pan.is_as(&p.pan));
    if own_pans.clone().any(|s| same(&s)) {
        return None;
    }
    let said = if own.is_empty() {
        rework.panful_round(batch.main).said.clone()
    } else {
        own_pans.next()
    };
    let from = said.map_or(String::new(), |s| format!(", in {}", many(&s.pan, s.count)));
    let to = match asked {
        Some(p) => format!("sized for {}", many(&p.pan, p.count)),
        None => format!("{} of it{}", times(batch), parts(batch)),
    };
    Some(format!(
        "{whose} method is written for × 1{from}; this is {to}. Amounts, tins and times that it names are not sized with it."
    ))
}

/// So many of a pan: `a 23 cm tart tin`, `2 × 9 × 5 in loaf tin`, as the pages say it.
fn many(pan: &Pan, count: u32) -> String {
    let (size, name) = (pan.opening_for_all(), pan.name.as_str());
    let one = match size.as_str() {
        "" => name.to_owned(),
        size => format!("{size} {name}"),
    };
    match count {
        1 if ["8", "11 ", "18 "].iter().any(|n| one.starts_with(n)) => format!("an {one}"),
        1 => format!("a {one}"),
        n => format!("{n} × {one}"),
    }
}
