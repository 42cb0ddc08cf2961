//! What goes into a pan: the parts that are baked together in it, and the pan that the method names.

use super::engine::{Rework, ReworkedComponent};
use super::method::{GROWN, MORE_IN_PAN, MethodNote};
use super::steps::{goes_on_a_bake, goes_over_a_bake, is_crumb, is_filling, steps_of};
use crate::density::{named, of_style};
use crate::heat::{self, how_many};
use crate::household::percent;
use crate::recipe::{Activity, Fact, FactKind, Recipe};
use crate::size::pan::{Pan, find};
use quantity::{Ratio, Spread};

/// Grams that suit a pan may be so much more.
const SUITS: f64 = 1.02;

/// What goes into a pan: a part and what is baked in and on it. The one reckoning of Size, Shape and the
/// notes.
#[derive(Debug, Clone, PartialEq)]
pub struct Panful {
    /// The parts, by place in the recipe: first the one asked about.
    pub parts: Vec<usize>,
    /// The pan that the method names for it, and how many of it.
    pub own: Option<(Pan, u32)>,
    /// It is a filling that is baked in a tin with a base, fruit or crumbs, as of a cheesecake: what
    /// suits a tin of batter or dough says nothing of it.
    pub set: bool,
}

impl Rework {
    /// What goes into a pan with a part.
    ///
    /// # Returns
    /// The part, and the fillings, crumbs and toppings that the method has in or on it before the last
    /// bake. Where no step names them: crumbs, and what fills a yeast dough. A pastry lines a tin. A
    /// filling that no dough or batter takes in fills the tin with all that is made before the last
    /// bake; another filling or topping that is asked about stands alone.
    #[must_use]
    pub fn panful(&self, part: usize) -> Panful {
        let recipe = &self.formula.recipe;
        let owners = steps_of(recipe);
        let is = &self.components[part];
        let mut parts = vec![part];
        if is_baked(is) && !inner(&is.name) {
            let others = self.components.iter().enumerate();
            let others = others.filter(|(c, o)| {
                *c != part
                    && o.used.is_none()
                    && inner(&o.name)
                    && o.makes.likely().as_grams() > 0.0
            });
            let yeast = is.style.is_some_and(|s| s.style.is_yeast_dough());
            parts.extend(others.filter_map(|(c, o)| {
                let usual = is_crumb_of(&o.name) || yeast && is_filling(&o.name);
                goes_in(recipe, &owners, part, (c, &o.name))
                    .unwrap_or(usual)
                    .then_some(c)
            }));
        }
        let set = is_filling(&is.name) && !self.has_dough_beside(part);
        if set {
            let others = self.components.iter().enumerate();
            let others = others.filter(|(c, o)| *c != part && o.used.is_none());
            let made_before = |c: usize, name: &str| {
                goes_in(recipe, &owners, part, (c, name)) == Some(true)
                    || before_last_bake(recipe, &owners, c)
            };
            parts.extend(others.filter_map(|(c, o)| {
                let goes = !goes_over_a_bake(&o.name) && made_before(c, &o.name);
                (goes && o.makes.likely().as_grams() > 0.0).then_some(c)
            }));
        }
        // What no other part bakes in is this one's, whichever step names it.
        let bakes = |c: usize| !parts.contains(&c) && is_baked(&self.components[c]);
        let alone = !(0..self.components.len()).any(bakes);
        let all = recipe.steps.iter().zip(&owners);
        let (mine, others): (Vec<_>, Vec<_>) = all.partition(|(_, owner)| parts.contains(owner));
        let steps = mine.iter().chain(others.iter().filter(|_| alone));
        let mut facts = steps.flat_map(|(s, _)| s.facts.iter().map(move |f| (*s, f)));
        let own = facts.find_map(|(step, fact)| {
            let FactKind::Pan { words, sizes } = &fact.kind else {
                return None;
            };
            // A springform is as deep as most are where the method only says how wide it is.
            let found = match heat::Pan::of_recipe(words, sizes) {
                None if set => heat::Pan::of_method(words, sizes)?.0,
                found => found?,
            };
            let typed = found.as_typed();
            let pan = find(typed.split(',').next()?, &[]).ok()?;
            Some((pan, how_many(&step.text, fact.span.clone()).unwrap_or(1)))
        });
        Panful { parts, own, set }
    }
}

impl Rework {
    /// Whether a dough or batter is baked beside a part, that is neither crumbs nor the base of a tin.
    fn has_dough_beside(&self, part: usize) -> bool {
        let all = self.components.iter().enumerate();
        let mut others = all.filter(|(c, _)| *c != part);
        others.any(|(_, o)| is_baked(o) && !inner(&o.name) && !is_base(&o.name))
    }
}

/// Whether a part's name says that it lies under a filling in a tin.
fn is_base(name: &str) -> bool {
    let name = name.to_lowercase();
    let last = name.split_whitespace().next_back().unwrap_or_default();
    matches!(
        last,
        "base" | "crust" | "shell" | "case" | "pastry" | "bottom"
    )
}

/// Whether a part is worked on in a step that comes before the last bake of the recipe.
fn before_last_bake(recipe: &Recipe, owners: &[usize], part: usize) -> bool {
    let bakes = |s: &crate::Step| s.facts.iter().any(is_bake);
    let Some(last) = recipe.steps.iter().rposition(bakes) else {
        return false;
    };
    let mut mine = owners.iter().enumerate().filter(|(_, o)| **o == part);
    mine.next().is_some_and(|(i, _)| i <= last)
}

fn is_bake(f: &Fact) -> bool {
    matches!(
        f.kind,
        FactKind::Doing(Activity::Bake)
            | FactKind::Duration {
                doing: Some(Activity::Bake),
                ..
            }
    )
}

fn is_baked(c: &ReworkedComponent) -> bool {
    let style = c.style.map(|s| s.style);
    style.is_some_and(|s| s.is_baked() && s.key() != "pie_pastry")
}

/// Whether a name is that of a part which goes in or on another.
fn inner(name: &str) -> bool {
    goes_on_a_bake(name) || is_crumb_of(name)
}

/// 'Crumb topping' is a crumb too.
fn is_crumb_of(name: &str) -> bool {
    name.split_whitespace().any(is_crumb)
}

/// Whether a part is named in a step of the others before the last bake of the part asked about; `None`
/// where nothing is baked or no step names it.
fn goes_in(
    recipe: &Recipe,
    owners: &[usize],
    part: usize,
    (other, name): (usize, &str),
) -> Option<bool> {
    let bakes = |f: &&Fact| is_bake(f);
    let steps = || recipe.steps.iter().zip(owners).enumerate();
    let last = steps()
        .filter(|(_, (_, owner))| **owner == part)
        .filter_map(|(i, (s, _))| Some((i, s.facts.iter().rfind(bakes)?.span.start)))
        .next_back()?;
    let own = name.split_whitespace();
    let called: Vec<String> = own
        .clone()
        .filter(|w| is_crumb(w))
        .chain(own.last())
        .map(|w| w.trim_end_matches('s').to_lowercase())
        .collect();
    let named = steps()
        .filter(|(_, (_, owner))| **owner != other)
        .find_map(|(i, (s, _))| {
            let lower = s.text.to_lowercase();
            let mut words = lower.split(|c: char| !c.is_alphabetic());
            let word = words.find(|w| called.iter().any(|c| c == w.trim_end_matches('s')))?;
            Some((i, lower.find(word)?))
        })?;
    Some(named < last)
}

/// Density of a part, g/mL: its style's, a filling's, a dough's.
fn density(c: &ReworkedComponent) -> Spread<Ratio> {
    let style = c.style.map(|s| s.style);
    match named("filling").filter(|_| goes_on_a_bake(&c.name)) {
        Some(filling) if style.is_none_or(|s| s.range("density").is_none()) => filling.value,
        _ => of_style(style).value,
    }
}

impl Panful {
    /// Grams of each part of the recipe that goes in, 0 for the others, once the recipe.
    #[must_use]
    pub fn grams(&self, rework: &Rework) -> Vec<f64> {
        let all = rework.components.iter().enumerate();
        all.map(|(c, is)| {
            let goes = self.parts.contains(&c);
            if goes {
                is.makes.likely().as_grams()
            } else {
                0.0
            }
        })
        .collect()
    }

    /// Grams that went in of the original.
    #[must_use]
    pub fn before(&self, rework: &Rework) -> f64 {
        let of = |c: &usize| rework.formula.components[*c].makes.likely().as_grams();
        self.parts.iter().map(of).sum()
    }

    /// Density of it all, g/mL, with each part so many times the recipe.
    #[must_use]
    pub fn density(&self, rework: &Rework, factors: &[f64]) -> Spread<Ratio> {
        let grams = self.grams(rework);
        let made = |c: &&usize| factors[**c] * grams[**c] > 0.0;
        let parts: Vec<usize> = self.parts.iter().filter(made).copied().collect();
        if parts.len() < 2 {
            let one = parts.first().unwrap_or(&self.parts[0]);
            return density(&rework.components[*one]);
        }
        let all: f64 = parts.iter().map(|c| factors[*c] * grams[*c]).sum();
        let over = |end: fn(Spread<Ratio>) -> Ratio| {
            let ml = parts
                .iter()
                .map(|c| factors[*c] * grams[*c] / end(density(&rework.components[*c])).get());
            Ratio::new(all / ml.sum::<f64>())
        };
        Spread::new(over(Spread::low), over(Spread::likely), over(Spread::high))
    }

    /// Its parts in words: `dough and date filling`, `filling, base and crumbs`.
    #[must_use]
    pub fn words(&self, rework: &Rework) -> String {
        let names = self
            .parts
            .iter()
            .map(|c| match &*rework.components[*c].name {
                "" => "mixture",
                name => name,
            });
        let names: Vec<&str> = names.collect();
        match names.split_last() {
            Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
            _ => names.concat(),
        }
    }

    /// How much of the recipe goes into its own pans: all of it, or what the original put there where
    /// the gluten-free version makes clearly more and more than suits them.
    ///
    /// # Inputs
    /// - `suits`: grams that suit the recipe's pans, at most.
    #[must_use]
    pub fn of_own(&self, rework: &Rework, suits: f64) -> f64 {
        let (was, is) = (self.before(rework), self.grams(rework).iter().sum::<f64>());
        if was <= 0.0 || is <= was * GROWN || is <= suits * SUITS {
            1.0
        } else {
            was / is
        }
    }

    /// How the recipe's own pan takes it, for a note: nothing where the method names none.
    fn own_takes(&self, rework: &Rework) -> Option<String> {
        let (pan, count) = self.own.as_ref()?;
        let count = f64::from(*count);
        let part = &rework.components[self.parts[0]];
        let density = self.density(rework, &vec![1.0; rework.components.len()]);
        let is: f64 = self.grams(rework).iter().sum();
        let held = count * pan.volume().likely().as_millilitres();
        let filled = percent(100.0 * is / density.likely().get() / held);
        let yeast = part.style.is_some_and(|s| s.style.is_yeast_dough());
        let suits = count * pan.takes(yeast, density).high().as_grams();
        let of = self.of_own(rework, suits);
        let then = if of < 1.0 {
            format!(": take a larger one, or make × {of:.2}")
        } else if is > suits * SUITS {
            ", about as the original had it and more than is usual: watch the rim".to_owned()
        } else {
            ", which is usual".to_owned()
        };
        let many = if count > 1.0 {
            format!("{count} of ")
        } else {
            String::new()
        };
        Some(format!(
            " The recipe’s own pan ({many}{}) is {filled} filled by the recipe made once, before it rises{then}.",
            pan.called()
        ))
    }
}

impl Rework {
    /// Says in the notes of what makes more how full the recipe's own pan is.
    pub(super) fn say_own_pans(&mut self) {
        for c in 0..self.components.len() {
            let more = |n: &MethodNote| n.rule == MORE_IN_PAN;
            if let Some(note) = self.components[c].method_notes.iter().position(more)
                && let Some(words) = self.panful(c).own_takes(self)
            {
                self.components[c].method_notes[note].text.push_str(&words);
            }
        }
    }
}
