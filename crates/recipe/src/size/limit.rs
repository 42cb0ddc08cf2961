//! What is at hand: which food runs out first, and what of the others is left.

use super::ask::{Have, likely};
use super::error::{SizeError, positive};
use super::flow::Flow;
use crate::rework::{Kept, Rework};
use crate::sentences::singular;
use larder::{FoodId, Larder, State};
use quantity::Mass;

/// What was at hand, and what of it a batch takes.
#[derive(Debug, Clone, PartialEq)]
pub struct AtHand {
    /// What it is called in the recipe.
    pub name: String,
    /// At hand.
    pub have: Mass,
    /// The batch takes so much.
    pub takes: Mass,
    /// It is what runs out first.
    pub limits: bool,
}

/// A food of a rework and the grams of it in each component, flours of blends among them.
struct Food {
    food: Option<FoodId>,
    key: String,
    name: String,
    grams: Vec<f64>,
}

/// Every food with a weight, flours of blends under their own names and the blend too.
fn foods(rework: &Rework, larder: &Larder) -> Vec<Food> {
    let mut all: Vec<Food> = Vec::new();
    let count = rework.components.len();
    for (c, component) in rework.components.iter().enumerate() {
        for line in component.lines.iter().filter(|l| l.kept != Kept::Dropped) {
            let Some(grams) = line.grams.map(likely).filter(|_| line.component.is_none()) else {
                continue;
            };
            let mut put = |food: Option<FoodId>, key: &str, name: &str, grams: f64| {
                let same = |f: &&mut Food| match food {
                    Some(id) => f.food == Some(id),
                    None => f.food.is_none() && f.key == key,
                };
                match all.iter_mut().find(same) {
                    Some(f) => f.grams[c] += grams,
                    None => {
                        let mut list = vec![0.0; count];
                        list[c] = grams;
                        all.push(Food {
                            food,
                            key: key.to_owned(),
                            name: name.to_owned(),
                            grams: list,
                        });
                    }
                }
            };
            let key = line
                .food
                .map_or(line.key.as_str(), |f| larder.food(f).key.as_str());
            put(line.food, key, &line.name, grams);
            if let Some(blend) = component.blend.as_ref().filter(|_| line.blend) {
                let sum: f64 = blend.parts.iter().map(|p| p.1).sum();
                for &(food, share) in &blend.parts {
                    let is = larder.food(food);
                    put(Some(food), &is.key, &is.name, grams * share / sum);
                }
            }
        }
    }
    all
}

fn words(text: &str) -> Vec<String> {
    let text = text.to_lowercase().replace('_', " ");
    text.split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(|w| singular(w).to_owned())
        .collect()
}

/// The food of the recipe that words mean: its key or name; the food the larder knows by them;
/// else the one food whose name ends in them, or holds them.
fn meant<'f>(
    what: &str,
    all: &'f [Food],
    rework: &Rework,
    larder: &Larder,
) -> Result<&'f Food, SizeError> {
    let asked = words(what);
    let plain = what.trim().to_lowercase();
    if let Some(food) = all.iter().find(|f| f.key == plain) {
        return Ok(food);
    }
    if let Some(food) = all.iter().find(|f| words(&f.name) == asked) {
        return Ok(food);
    }
    let locale = rework.formula.locale;
    if let Some(id) = larder.find(&plain, locale).map(|m| m.food)
        && let Some(food) = all.iter().find(|f| f.food == Some(id))
    {
        return Ok(food);
    }
    let ends = |f: &&Food| !asked.is_empty() && words(&f.name).ends_with(&asked);
    let holds = |f: &&Food| {
        let name = words(&f.name);
        !asked.is_empty() && asked.iter().all(|w| name.contains(w))
    };
    for list in [
        all.iter().filter(ends).collect::<Vec<_>>(),
        all.iter().filter(holds).collect(),
    ] {
        match list.as_slice() {
            [] => {}
            [one] => return Ok(one),
            several => {
                return Err(SizeError::SeveralLines {
                    what: what.trim().to_owned(),
                    names: several.iter().map(|f| f.name.clone()).collect(),
                });
            }
        }
    }
    let shares = |f: &&Food| {
        let name = words(&f.name);
        asked.iter().any(|w| {
            w.len() > 2
                && name
                    .iter()
                    .any(|n| n.starts_with(&w[..w.floor_char_boundary(3)]))
        })
    };
    let mut near: Vec<String> = all.iter().filter(shares).map(|f| f.name.clone()).collect();
    if near.is_empty() {
        near = all.iter().map(|f| f.name.clone()).collect();
    }
    near.truncate(24);
    Err(SizeError::NoLine {
        what: what.trim().to_owned(),
        near,
    })
}

/// Grams of one egg, yolk or white out of its shell: the recipe's own, else a large one.
fn one_of(rework: &Rework, larder: &Larder, food: FoodId) -> Option<f64> {
    let large = || Some(likely(larder.measure(food, "large", State::Usual)?.grams));
    own_egg(rework, food, larder)
        .or_else(large)
        .filter(|g| *g > 0.0)
}

/// A count of eggs rounded up; a fiftieth of one is none.
fn up(n: f64) -> f64 {
    (n - 0.02).ceil().max(0.0)
}

/// Times at which so many grams of eggs do for whole ones and for yolks and whites: each egg is
/// broken into the bowl or taken apart, never both.
fn shells(
    flow: &Flow<'_>,
    whole: &Food,
    parts: &[(&Food, f64)],
    one: f64,
    grams: f64,
) -> Result<f64, SizeError> {
    let shells = (grams / one + 0.02).floor();
    if shells < 2.0 {
        return Err(SizeError::FewEggs {
            have: grams / one,
            parts: parts.iter().map(|p| p.0.name.clone()).collect(),
        });
    }
    let at = |apart: f64| -> Result<(f64, f64), SizeError> {
        let whole = flow.solve(&whole.grams, (shells - apart) * one, "weighed line")?;
        let mut least = f64::INFINITY;
        for (part, each) in parts {
            least = least.min(flow.solve(&part.grams, apart * each, "weighed line")?);
        }
        Ok((whole, least))
    };
    // The more are taken apart, the less the whole ones do for and the more the parts: the best is
    // where they cross, or one egg before.
    let (mut low, mut high) = (1.0, shells - 1.0);
    while low < high {
        let middle = f64::midpoint(low, high).floor();
        let (whole, least) = at(middle)?;
        if whole > least {
            low = middle + 1.0;
        } else {
            high = middle;
        }
    }
    let (here, before) = (at(low)?, at((low - 1.0).max(1.0))?);
    Ok(here.0.min(here.1).max(before.0.min(before.1)))
}

/// Grams of one of the recipe's own eggs, where they are all of one size.
fn own_egg(rework: &Rework, food: FoodId, larder: &Larder) -> Option<f64> {
    let parts = rework.components.iter().enumerate();
    let lines = parts.flat_map(|(c, part)| part.lines.iter().map(move |l| (c, l)));
    let mut all = lines
        .filter(|(_, l)| l.kept != Kept::Dropped && l.food == Some(food))
        .filter_map(|(c, l)| Some(rework.one_egg(c, l, larder)?.weighs.as_grams()));
    let one = all.next()?;
    all.all(|other| (other - one).abs() < 0.5).then_some(one)
}

/// The most that can be made of what is at hand.
pub(super) fn limited(
    have: &[Have],
    flow: &Flow<'_>,
    rework: &Rework,
    larder: &Larder,
) -> Result<(f64, Vec<AtHand>), SizeError> {
    if have.is_empty() {
        return Err(SizeError::Figure {
            what: "weight at hand",
            value: 0.0,
            such_as: "210 g butter",
        });
    }
    let all = foods(rework, larder);
    let mut found = Vec::new();
    for h in have {
        let grams = positive("weight at hand", h.grams, "210 g")?;
        let food = meant(&h.what, &all, rework, larder)?;
        let own = h
            .count
            .and_then(|n| Some(n * own_egg(rework, food.food?, larder)?));
        found.push((food, own.unwrap_or(grams)));
    }
    let asked: Vec<&str> = found.iter().map(|f| f.0.key.as_str()).collect();
    let broken = |food: &Food| -> Vec<(&Food, f64)> {
        if food.key != "egg" {
            return Vec::new();
        }
        // Yolks and whites that are at hand by themselves are not taken out of shells.
        let parts = all.iter().filter(|f| {
            matches!(f.key.as_str(), "egg_yolk" | "egg_white") && !asked.contains(&f.key.as_str())
        });
        parts
            .filter_map(|f| Some((f, one_of(rework, larder, f.food?)?)))
            .collect()
    };
    let mut solved = Vec::new();
    for (food, grams) in found {
        let parts = broken(food);
        let one = food.food.and_then(|f| one_of(rework, larder, f));
        let times = match one.filter(|_| !parts.is_empty()) {
            Some(one) => shells(flow, food, &parts, one, grams)?,
            None => flow.solve(&food.grams, grams, "weighed line")?,
        };
        solved.push((times, food, grams, parts, one));
    }
    let found = solved;
    let times = found.iter().map(|f| f.0).fold(f64::INFINITY, f64::min);
    let factors = flow.factors(times);
    let mut limits = false;
    let sum = |food: &Food| -> f64 {
        let of = factors.iter().zip(&food.grams).map(|(f, g)| f * g);
        of.sum()
    };
    let list = found.iter().map(|(at, food, grams, parts, one)| {
        let mut takes = sum(food);
        let mut name = food.name.clone();
        if let Some(one) = one.filter(|_| !parts.is_empty()) {
            // An egg that is broken for its yolk or white is one egg fewer.
            let apart = parts.iter().map(|(f, each)| up(sum(f) / each));
            let apart = apart.fold(0.0, f64::max);
            takes = (up(takes / one) + apart) * one;
            let names: Vec<&str> = parts.iter().map(|(f, _)| f.name.as_str()).collect();
            name = format!("{name} ({apart} of them for {})", names.join(" and "));
        }
        let first = *at <= times && !limits;
        limits |= first;
        AtHand {
            name,
            have: Mass::grams(*grams),
            takes: Mass::grams(takes),
            limits: first,
        }
    });
    Ok((times, list.collect()))
}
