//! Size: a reworked recipe, or one component of it, in the amount that is wanted.
//!
//! [`size`] turns an [`Ask`] into a [`Batch`]: a factor for every component, the grams of every
//! line, and what is left over of components that others use. The batch is exact; what the
//! kitchen's scale and spoons make of a line is asked of the line: [`BatchLine::on`],
//! [`Batch::household`].
//!
//! # Formulas
//! - Dough for n pieces of p grams: n · p ÷ (1 − bake loss, where p is baked) · 1.02.
//! - Flour for a dough: dough ÷ (Σ % ÷ 100); here by the recipe's own sum of percents.
//! - Pan: volume (mL) · fill · density (g/mL); yeast dough 0.45–0.60 g to the mL of pan.
//! - Pan to pan: V₂ · fill₂ ÷ (V₁ · fill₁), or A₂ ÷ A₁ where the depth is kept; what lines a tin by
//!   its base and side, as thick as before.
//! - Sheet: length · width · thickness · density.
//! - What is at hand: the least of (at hand ÷ in the recipe).
//!
//! Sources stand beside the figures; fills, densities of gluten-free doughs and the 2 % are
//! common practice, no source.

mod ask;
mod batch;
mod cautions;
mod eggs;
mod error;
mod flow;
mod keep;
mod limit;
pub mod pan;
mod rest;
mod rounding;
mod target;

pub use ask::{Ask, Have, Pans, PartSize, Pieces, Target};
pub use batch::{Batch, BatchComponent, BatchLine};
pub use cautions::Caution;
pub use eggs::{EggCount, WholeEggs};
pub use error::SizeError;
pub use flow::part_named;
pub use keep::{Keeping, LOCAL_RULES};
pub use limit::AtHand;
pub use rounding::OnScale;
pub use target::{BOWL, Filled, PieceCount, WholePiece};

use crate::rework::{Rework, kept_in_oven};
use crate::screen::Screening;
use ask::{likely, plain};
use flow::Flow;
use larder::Larder;
use quantity::{Mass, Ratio, Spread};
use target::{Aim, Found};

/// How many times the recipe, in words: `2`, `0.5`, `0.667`.
#[must_use]
pub fn times(factor: f64) -> String {
    ((factor * 1000.0).round() / 1000.0).to_string()
}

/// As little of a recipe as is worked with.
pub const LEAST: f64 = 0.01;
/// As many times a recipe as is worked with.
pub const MOST: f64 = 1000.0;
/// A use may be this much more than what is made: weights are rounded.
const SLACK: f64 = 1.03;

/// Sizes a rework.
///
/// # Inputs
/// - `rework`: as [`crate::rework::rework`] makes it.
/// - `ask`: how much of it is wanted.
///
/// # Returns
/// The batch. Grams are the rework's times the component's factor, low–likely–high; nothing is
/// rounded. A line without a weight has none in the batch either.
///
/// # Errors
/// [`SizeError`] when the ask cannot be met, with what to do about it.
///
/// # Source
/// Arithmetic; published examples in `tests/size.rs`.
pub fn size(rework: &Rework, ask: &Ask, larder: &Larder) -> Result<Batch, SizeError> {
    size_screened(rework, &rework.screen(larder), ask, larder)
}

/// [`size`] of a rework whose screen is known already.
///
/// # Inputs
/// - `screening`: as [`Rework::screen`] makes it of this rework.
///
/// # Errors
/// As [`size`].
pub fn size_screened(
    rework: &Rework,
    screening: &Screening,
    ask: &Ask,
    larder: &Larder,
) -> Result<Batch, SizeError> {
    let flow = Flow::new(rework, ask)?;
    let mut found = Aim::of(rework, larder, &flow).find(&ask.target)?;
    let flow = flow.shared(std::mem::take(&mut found.shares));
    let aim = Aim::of(rework, larder, &flow);
    let (mut eggs, mut whole_eggs) = eggs::count(found.times, &flow, rework, larder);
    let mut moved = None;
    if ask.whole_eggs {
        let nearest = || eggs::exactly_whole(found.times, &flow, rework, larder);
        if let Some(whole) = whole_eggs.or_else(nearest) {
            error::check_factor(whole.factor)?;
            found.sums.push(format!(
                "moved to whole eggs: × {} instead of × {}, {}",
                plain(whole.factor),
                plain(found.times),
                format!("{:+.1} %", whole.off * 100.0).replace('-', "−")
            ));
            found.times = whole.factor;
            found.range = None;
            moved = Some(whole.off);
            (eggs, whole_eggs) = eggs::count(found.times, &flow, rework, larder);
        } else if eggs.iter().any(|e| !e.is_whole()) {
            return Err(SizeError::NoWholeEggs);
        }
    }
    let factors = flow.factors(found.times);
    for factor in factors.iter().filter(|f| **f > 0.0) {
        if !factor.is_finite() || *factor > MOST {
            return Err(SizeError::Factor { factor: *factor });
        }
    }
    let mut batch = Batch::of(rework, found.times, &factors);
    short(&batch, rework)?;
    batch.main = flow.part;
    batch.asked = ask.to_string();
    batch.eggs = eggs;
    batch.whole_eggs = whole_eggs;
    batch.moved = moved;
    count(&mut batch, rework, &found, ask);
    batch.range = found.range;
    batch.sums = found.sums;
    batch.pans = found.pans.map(|into| aim.filled(into, found.times));
    batch.at_hand = found.at_hand;
    batch.mark(screening);
    batch.cautions = cautions::cautions(&batch, rework);
    let asked = found.divided.unwrap_or_default();
    if let (Some(number), None, Some(off)) = (asked.count, asked.each, moved) {
        batch
            .cautions
            .extend(cautions::lighter(&batch, number, off));
    }
    Ok(batch)
}

/// Uses that the batch does not make enough for, where the recipe did.
fn short(batch: &Batch, rework: &Rework) -> Result<(), SizeError> {
    for (b, r) in batch.components.iter().zip(&rework.components) {
        let over = |used: Option<Spread<Mass>>, makes: Spread<Mass>| {
            used.is_some_and(|u| likely(u) > SLACK * likely(makes))
        };
        if over(b.used, b.makes) && !over(r.used, r.makes) {
            return Err(SizeError::Short {
                part: b.name.clone(),
                makes: likely(b.makes),
                used: b.used.map_or(0.0, likely),
            });
        }
    }
    Ok(())
}

/// How many it makes, and what each weighs.
fn count(batch: &mut Batch, rework: &Rework, found: &Found, ask: &Ask) {
    let part = &rework.components[batch.main];
    let main = &batch.components[batch.main];
    // Of a dough that another part takes, pieces are what it takes: the rest is left over.
    let dough = main
        .used
        .map_or(f64::INFINITY, likely)
        .min(likely(main.makes));
    let of_main = main.factor;
    let said = target::makes(rework)
        .filter(|s| !ask.only && (s.2 || !found.out_of_hollows(rework.panful(batch.main))));
    if let Some((low, high, servings)) = said {
        // Half the dough makes half the buns, as heavy as before.
        let times = if servings { batch.factor } else { of_main };
        batch.count = Some((low * times, high * times)).filter(|c| c.1 > 0.0);
        batch.servings = servings;
    }
    let of_recipe = said.filter(|s| !s.2 && (s.0 - s.1).abs() < 1e-9);
    let pieces = found.divided.unwrap_or_default();
    let number = match (pieces.count, pieces.each) {
        // Moved to whole eggs, the pieces stay as heavy, and their number follows.
        (Some(_) | None, Some(each)) => Some((dough / (each * BOWL) + 1e-6).floor()),
        (Some(n), None) => Some(n),
        (None, None) => of_recipe.map(|s| s.0 * of_main),
    };
    let Some(number) = number.filter(|n| *n > 1.0 - 1e-6 && dough > 0.0) else {
        return;
    };
    // What was asked for in pieces makes so many of them, whatever the recipe makes of its own.
    if found.divided.is_some() && !batch.servings {
        batch.count = said.map(|_| (number, number));
    }
    let each = pieces.each.unwrap_or(dough / BOWL / number);
    let baked = target::bake_loss(part).map(|loss| {
        let kept = |r: Ratio| Mass::grams(each * (1.0 - r.get()));
        Spread::new(kept(loss.high()), kept(loss.likely()), kept(loss.low()))
    });
    let whole = if ask.only {
        None
    } else {
        whole_piece(batch, rework, (number, each))
    };
    batch.pieces = Some(PieceCount {
        whole,
        count: number,
        each: Mass::grams(each),
        baked,
        over: Mass::grams((dough - number * each * BOWL).max(0.0)),
    });
}

/// A piece with all that goes into it: the part that is divided, or the one it goes into, and the
/// other parts that nothing uses, a filling or an icing. `None` where the piece is that part alone,
/// or where something has no weight.
///
/// # Inputs
/// - `number`, `of_main`: so many pieces, and the grams of the part that is divided in each.
fn whole_piece(
    batch: &Batch,
    rework: &Rework,
    (number, of_main): (f64, f64),
) -> Option<WholePiece> {
    let root = |c: &usize| {
        let made = &batch.components[*c];
        // What stands under 'For boiling' makes nothing.
        let some = made.factor > 0.0 && likely(made.makes) > 0.0;
        rework.components[*c].used.is_none() && some
    };
    let roots: Vec<usize> = (0..batch.components.len()).filter(root).collect();
    let bare = |c: &BatchComponent| c.lines.iter().any(|l| l.in_formula && l.grams.is_none());
    let made = batch.components.iter().filter(|c| c.factor > 0.0);
    let alone = roots.len() < 2 && roots.contains(&batch.main);
    if alone || roots.is_empty() || made.into_iter().any(bare) {
        return None;
    }
    let kept = kept_in_oven(rework);
    let one = Spread::exact(Ratio::new(1.0));
    let panful = rework.panful(batch.main);
    let makes = |c: usize| {
        // Of the part that is divided what is in the pieces, not what stays in the bowl.
        let share = match panful.put_on(c) {
            Some(p) => p.0,
            None if c == batch.main => of_main * number / likely(batch.components[c].makes),
            None => 1.0,
        };
        batch.components[c].makes.scaled(share)
    };
    let raw = roots.iter().map(|c| makes(*c));
    let baked = roots
        .iter()
        .map(|c| makes(*c).times(kept[*c].unwrap_or(one)));
    let any = roots.iter().any(|c| kept[*c].is_some());
    let each = |all: Spread<Mass>| all.scaled(1.0 / number);
    Some(WholePiece {
        raw: each(Spread::sum_independent(raw)),
        baked: any.then(|| each(Spread::sum_independent(baked))),
    })
}
