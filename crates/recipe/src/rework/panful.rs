//! What goes into a pan: the parts that are baked together in it, and the pan that the method names.

mod counted;
mod laid;
mod names;

pub use counted::Counted;
use laid::{food_word, lays, names};
use names::{inner, is_base, is_crumb_of, is_strewn, last_word};

use super::method::{GROWN, MORE_IN_PAN, MethodNote, does, last_of};
use super::reworked::{Rework, ReworkedComponent};
use super::steps::{
    goes_on_a_bake, goes_over_a_bake, is_crumb, is_filling, is_folded_in, steps_of,
};
use crate::density::{named, of_style};
use crate::household::percent;
use crate::line::LineKind;
use crate::read::step;
use crate::recipe::{Activity, Fact, FactKind, Recipe, Step};
use crate::sentences;
use crate::size::pan::{Depth, Pan, Said};
use quantity::{Ratio, Spread, listed};

/// Grams that suit a pan may be so much more.
const SUITS: f64 = 1.02;

/// What goes into a pan: a part and what is baked in and on it. The one reckoning of Size, Shape, Heat and
/// the notes.
#[derive(Debug, Clone, PartialEq)]
pub struct Panful {
    /// The parts, by place in the recipe: first the one asked about.
    pub parts: Vec<usize>,
    /// The pan that the method names for it: the first whose depth is known, else the first.
    pub said: Option<Said>,
    /// The words of the pan that it names, with measures or without.
    pub pan_words: Option<String>,
    /// The words of another pan that takes the rest of it: how much goes into either no one says.
    pub rest_in: Option<String>,
    /// It is a filling that is baked in a tin with a base, fruit or crumbs, as of a cheesecake: what
    /// suits a tin of batter or dough says nothing of it.
    pub set: bool,
    /// Parts that count less than whole in it.
    pub counted: Vec<(usize, Counted)>,
}

/// A pan that a recipe names.
struct Named {
    /// The part that the step is about; `None` of a pan named beside the method.
    owner: Option<usize>,
    words: String,
    said: Option<Said>,
    /// It takes what another pan leaves: 'spoon the rest into 6 muffin cases'.
    takes_rest: bool,
}

/// Longest note that is looked at for a pan, bytes: longer ones tell stories.
const LONGEST_NOTE: usize = 200;

/// The pans that the method names, in its order; where it names none with measures, those of the
/// notes and the yield besides: 'You need a 20 cm tin'.
fn named_pans(recipe: &Recipe, owners: &[usize]) -> Vec<Named> {
    let steps = recipe.steps.iter().zip(owners);
    let facts = steps.flat_map(|(s, owner)| s.facts.iter().map(move |f| (s, *owner, f)));
    let rolled = is_rolled_up(recipe);
    let pans = facts.filter_map(|(step, owner, fact)| match &fact.kind {
        FactKind::Pan { words, .. } => Some(Named {
            owner: Some(owner),
            words: words.clone(),
            takes_rest: before_it(step, fact).is_some_and(|t| has_word(&t.to_lowercase(), &REST)),
            said: Said::of_fact(step, fact).map(|s| {
                let said = of_each(s, step, fact, recipe);
                if rolled { said.for_rolling_up() } else { said }
            }),
        }),
        _ => None,
    });
    let mut pans: Vec<Named> = pans.collect();
    if pans.iter().all(|p| p.said.is_none()) {
        // A line that the baker says is no ingredient is a remark too.
        let lines = recipe.components.iter().flat_map(|c| &c.lines);
        let aside = lines.filter(|l| l.kind == LineKind::Note).map(|l| &l.clean);
        let makes = recipe.makes.iter().map(|m| &m.text);
        let texts = makes.chain(&recipe.notes).chain(aside);
        let brief = texts.filter(|t| t.len() <= LONGEST_NOTE && t.contains(char::is_numeric));
        for step in brief.map(|t| step(1, t, None)) {
            let said = step.facts.iter().filter_map(|f| Said::of_fact(&step, f));
            pans.extend(said.map(|said| Named {
                owner: None,
                words: said.words.clone(),
                said: Some(said),
                takes_rest: false,
            }));
        }
    }
    pans
}

/// Whether a sponge is baked to be rolled up, by the recipe's name or a step: 'roll the sponge up'.
fn is_rolled_up(recipe: &Recipe) -> bool {
    const CALLED: [&str; 5] = [
        "swiss roll",
        "jelly roll",
        "sponge roll",
        "roulade",
        "yule log",
    ];
    let title = recipe.title.as_deref().unwrap_or_default().to_lowercase();
    let rolls = |text: &str| {
        has_word(text, &["roll", "rolled", "rolling"])
            && has_word(text, &["up"])
            && has_word(text, &["sponge", "cake", "roulade"])
            && !has_word(text, &["dough"])
    };
    let mut steps = recipe.steps.iter().map(|s| s.text.to_lowercase());
    CALLED.iter().any(|w| title.contains(w))
        || steps.any(|t| sentences(&t).into_iter().any(|r| rolls(&t[r])))
}

/// Words of what one pan leaves for another.
const REST: [&str; 4] = ["rest", "remaining", "remainder", "leftover"];

/// What its sentence says before a fact.
fn before_it<'s>(step: &'s Step, fact: &Fact) -> Option<&'s str> {
    let begins = sentences(&step.text).into_iter().map(|r| r.start);
    let from = begins.filter(|b| *b <= fact.span.start).max()?;
    step.text.get(from..fact.span.start)
}

/// 'Makes 2 loaves … place each in a greased loaf pan': so many pans as pieces.
fn of_each(mut said: Said, step: &Step, fact: &Fact, recipe: &Recipe) -> Said {
    let each = before_it(step, fact).is_some_and(|t| has_word(&t.to_lowercase(), &["each"]));
    let makes = recipe.makes.as_ref().filter(|m| {
        let text = m.text.to_lowercase();
        !["serve", "people", "portion"]
            .iter()
            .any(|w| text.contains(w))
    });
    if let Some((low, high)) = makes
        .and_then(|m| m.count)
        .filter(|_| each && said.count == 1)
        && low == high
        && (2.0..=MOST_PANS).contains(&low)
        && low.fract() == 0.0
    {
        said.count = low as u32;
    }
    said
}

/// More pieces than these go into one pan each hardly ever.
const MOST_PANS: f64 = 6.0;

impl Rework {
    /// What goes into a pan with a part, by its place.
    ///
    /// # Returns
    /// The part, and the fillings, crumbs and toppings that the method has in or on it before the last
    /// bake. Where no step names them: crumbs, and what fills a yeast dough. A pastry lines a tin. A
    /// filling that no dough or batter takes in fills the tin with all that is made before the last
    /// bake; another filling or topping that is asked about stands alone.
    #[must_use]
    pub fn panful(&self, part: usize) -> &Panful {
        &self.panfuls[part]
    }

    /// Finds what goes into a pan with each part.
    ///
    /// # Arguments
    /// * `owners` — the part that each step is about.
    pub(super) fn fill_pans(&mut self, owners: &[usize]) {
        let pans = named_pans(&self.formula.recipe, owners);
        let parts = 0..self.components.len();
        self.panfuls = parts.map(|c| self.panful_of(c, owners, &pans)).collect();
    }

    fn panful_of(&self, part: usize, owners: &[usize], pans: &[Named]) -> Panful {
        let recipe = &self.formula.recipe;
        let is = &self.components[part];
        let mut parts = vec![part];
        if is_baked(is) && !inner(&is.name) {
            let laid =
                |c: usize| !is_baked(&self.components[c]) && self.is_laid_on(owners, part, c);
            let others = self.components.iter().enumerate();
            let others = others.filter(|(c, o)| {
                *c != part
                    && o.used.is_none()
                    && (inner(&o.name)
                        || is_folded_in(recipe, &o.name)
                        || is_strewn(recipe, &o.name)
                        || laid(*c))
                    && o.makes.likely().as_grams() > 0.0
            });
            let yeast = is.style.is_some_and(|s| s.style.is_yeast_dough());
            parts.extend(others.filter_map(|(c, o)| {
                let usual = is_crumb_of(&o.name)
                    || yeast && is_filling(&o.name)
                    || is_folded_in(recipe, &o.name);
                let goes = goes_in(recipe, owners, part, (c, &o.name)).unwrap_or(usual);
                (goes || laid(c)).then_some(c)
            }));
        }
        let set = (is_filling(&is.name) || self.is_baked_in_a_case(part))
            && !self.lines_a_tin(part)
            && !self.has_dough_beside(part);
        if set {
            let more = |c: &usize| {
                let o = &self.components[*c];
                let before = || {
                    goes_in(recipe, owners, part, (*c, &o.name)) == Some(true)
                        || self.before_last_bake(owners, *c)
                };
                let some = o.used.is_none() && o.makes.likely().as_grams() > 0.0;
                some && !parts.contains(c) && !goes_over_a_bake(&o.name) && before()
            };
            let more: Vec<usize> = (0..self.components.len()).filter(more).collect();
            parts.extend(more);
        }
        // Named as they stand in the recipe.
        parts[1..].sort_unstable();
        // What no other part bakes in is this one's, whichever step names it.
        let bakes = |c: usize| !parts.contains(&c) && is_baked(&self.components[c]);
        let alone = !(0..self.components.len()).any(bakes);
        // Crumbs that are baked on a tray first go into the tin of the rest.
        let on_a_tray = |owner: usize| owner != part && is_crumb_of(&self.components[owner].name);
        let mine = |p: &&Named| p.owner.is_none_or(|o| parts.contains(&o) && !on_a_tray(o));
        let theirs = |p: &&Named| alone && p.owner.is_some_and(|o| !parts.contains(&o));
        let pans = || pans.iter().filter(mine).chain(pans.iter().filter(theirs));
        let said = || pans().filter_map(|p| p.said.as_ref());
        // Of two that share it the larger is the one that bakes for longest.
        let rest = pans().find(|p| {
            let another = |s: &Said| said().any(|o| !o.pan.is_as(&s.pan));
            p.takes_rest && p.said.as_ref().is_some_and(another)
        });
        let one = |s: &&Said| s.pan.volume().likely().as_millilitres() / f64::from(s.pan.hollows);
        let largest = rest.and_then(|_| said().max_by(|a, b| one(a).total_cmp(&one(b))));
        let first = || said().find(|s| s.depth.is_known()).or(said().next());
        let said = largest.or_else(first);
        let rest_in = said.filter(|_| rest.is_some()).and_then(|s| {
            let others = pans().filter(|p| p.said.as_ref().is_some_and(|o| !o.pan.is_as(&s.pan)));
            others.map(|p| p.words.clone()).next()
        });
        let words = said.map(|s| &s.words).or(pans().map(|p| &p.words).next());
        Panful {
            counted: self.counted(&parts, set),
            pan_words: words.cloned(),
            rest_in,
            said: said.cloned(),
            parts,
            set,
        }
    }
}

impl Rework {
    /// What the method bakes last, of the parts that are made.
    ///
    /// # Arguments
    /// * `made` — whether a part is made, by place.
    ///
    /// # Returns
    /// The part that its [`Rework::panful`] is of: of a case of pastry the filling that sets in it, of crumbs
    /// and fillings the dough they are baked with. Crumbs alone only where nothing else is baked; where no
    /// step bakes, the largest part that is baked by its style. `None` where nothing that is made is baked.
    #[must_use]
    pub fn last_baked(&self, made: impl Fn(usize) -> bool) -> Option<usize> {
        let recipe = &self.formula.recipe;
        let all = || (0..self.components.len()).filter(|c| made(*c));
        let weight = |c: &usize| self.components[*c].makes.likely().as_grams();
        let largest = |of: &dyn Fn(usize) -> bool| {
            let of = all().filter(|c| of(*c));
            of.max_by(|a, b| weight(a).total_cmp(&weight(b)).then(b.cmp(a)))
        };
        let holds = |c: usize, part: usize| self.panful(c).parts.contains(&part);
        let fills = |case: usize| {
            let done = |c: usize| self.sets(c) || is_baked(&self.components[c]);
            largest(&|c| done(c) && self.panful(c).set && holds(c, case))
        };
        let of_owner = |owner: usize| {
            let c = &self.components[owner];
            if self.lines_a_tin(owner) {
                return fills(owner).or(Some(owner).filter(|_| is_pastry(c) || is_baked(c)));
            }
            if is_baked(c) && !inner(&c.name) {
                return Some(owner);
            }
            let around =
                |c: usize| is_baked(&self.components[c]) && !inner(&self.components[c].name);
            // A custard that no dough takes in is baked as it is.
            largest(&|c| around(c) && holds(c, owner))
                .or_else(|| Some(owner).filter(|o| self.sets(*o) || self.panful(*o).set))
        };
        let owners = steps_of(recipe);
        let steps = recipe.steps.iter().zip(owners).rev();
        let mut bakes = steps.filter(|(s, _)| does(s, Activity::Bake));
        bakes
            .find_map(|(_, owner)| of_owner(owner).filter(|c| made(*c)))
            .or_else(|| {
                let pastry = largest(&|c| self.lines_a_tin(c));
                pastry.and_then(fills).or(pastry)
            })
            .or_else(|| {
                largest(&|c| is_baked(&self.components[c]) && !inner(&self.components[c].name))
            })
            .or_else(|| largest(&|c| is_baked(&self.components[c])))
    }

    /// What goes into the oven last where no dough or batter of ours does: a lasagne, sausages under a batter that
    /// is read as something else. The part of the step that bakes, and with it all that is made before.
    #[must_use]
    pub fn baked_by_a_step(&self, made: impl Fn(usize) -> bool) -> Option<(usize, Panful)> {
        let recipe = &self.formula.recipe;
        let owners = steps_of(recipe);
        let mut steps = recipe.steps.iter().zip(&owners).rev();
        let (_, &part) = steps.find(|(s, _)| does(s, Activity::Bake))?;
        let mut panful = self.panful(part).clone();
        let more = |c: &usize| {
            made(*c)
                && !panful.parts.contains(c)
                && self.components[*c].used.is_none()
                && !goes_over_a_bake(&self.components[*c].name)
                && self.before_last_bake(&owners, *c)
        };
        let more: Vec<usize> = (0..self.components.len()).filter(more).collect();
        panful.parts.extend(more);
        made(part).then_some((part, panful))
    }

    /// Whether a part is no dough or batter but egg or milk that sets.
    #[must_use]
    pub fn sets(&self, part: usize) -> bool {
        let c = &self.components[part];
        !is_baked(c) && !is_pastry(c) && c.holds_egg_or_milk
    }

    /// Whether a part lines a tin: a pastry by its style, or what is called a base, a crust or a pastry beside
    /// other parts and is no yeast dough. How full a tin is says nothing of it.
    #[must_use]
    pub fn lines_a_tin(&self, part: usize) -> bool {
        let c = &self.components[part];
        let yeast = c.style.is_some_and(|s| s.style.is_yeast_dough());
        is_pastry(c) || self.components.len() > 1 && is_base(&c.name) && !yeast
    }

    /// Whether a part that lines a tin goes up its sides: all but what is called a base, is a shortbread that
    /// is pressed in, or is pressed into the base alone, and no step has there (common practice, no source).
    pub(crate) fn lines_the_sides(&self, part: usize) -> bool {
        const ASIDE: [&str; 5] = ["paper", "parchment", "foil", "bean", "beans"];
        let recipe = &self.formula.recipe;
        let owners = steps_of(recipe);
        let own = recipe
            .steps
            .iter()
            .zip(&owners)
            .filter(|(_, o)| **o == part);
        let texts: Vec<String> = own.map(|(s, _)| s.text.to_lowercase()).collect();
        let said = texts
            .iter()
            .flat_map(|t| sentences(t).into_iter().map(|r| &t[r]));
        let said = || said.clone().filter(|t| !has_word(t, &ASIDE));
        // What is rolled out lines the tin first, and is pressed into its corners then.
        let into_the_base = |t: &str| {
            has_word(t, &["press", "pressed", "pat", "tamp", "pack"])
                && has_word(t, &["base", "bottom"])
                && !has_word(t, &["line", "roll", "rolled"])
        };
        let goes_up = |t: &str| {
            const UP: [&str; 5] = [
                "up the side",
                "up its side",
                "and side",
                "and the side",
                "and its side",
            ];
            t.contains("and up ") || UP.iter().any(|w| t.contains(w))
        };
        let c = &self.components[part];
        let called = matches!(last_word(&c.name).as_str(), "base" | "bottom") && !is_pastry(c);
        let shortbread = c.name.to_lowercase().contains("shortbread");
        let pressed = shortbread && said().any(|t| has_word(t, &["press", "pressed"]));
        !called && !pressed && !said().any(into_the_base) || said().any(goes_up)
    }

    /// Whether a step puts a lid of pastry on: 'Roll out the rest for a lid', 'top with the lid'.
    pub(crate) fn has_a_lid(&self) -> bool {
        const ON: [&str; 6] = [
            "for a lid",
            "for the lid",
            "pastry lid",
            "with the lid",
            "as a lid",
            "double crust",
        ];
        let recipe = &self.formula.recipe;
        let steps = recipe.steps.iter().map(|s| s.text.as_str());
        let mut texts = steps.chain(recipe.title.as_deref());
        texts.any(|text| {
            let text = text.to_lowercase().replace('-', " ");
            let pan = text.contains("lid of the pan");
            !pan && ON.iter().any(|w| text.contains(w))
        })
    }

    /// What goes into a tin with a part that lines it: the panful of what fills it; of other parts their own.
    #[must_use]
    pub fn panful_round(&self, part: usize) -> &Panful {
        let fills = |p: &&Panful| p.set && p.parts.contains(&part);
        let weight = |p: &&Panful| p.grams(self).iter().sum::<f64>();
        let around = self.panfuls.iter().filter(fills);
        let around = around.max_by(|a, b| weight(a).total_cmp(&weight(b)));
        around
            .filter(|_| self.lines_a_tin(part))
            .unwrap_or_else(|| self.panful(part))
    }

    /// Whether a part sets or is baked in a tin that another lines.
    fn is_baked_in_a_case(&self, part: usize) -> bool {
        let is = &self.components[part];
        // What a base is made of is baked before it.
        let batter = is_baked(is) && !inner(&is.name) && is.used.is_none();
        let bakes = self.sets(part) && !goes_over_a_bake(&is.name) || batter;
        bakes && (0..self.components.len()).any(|c| c != part && self.lines_a_tin(c))
    }

    /// Whether a dough or batter is baked beside a part, that is neither crumbs nor the base of a tin nor
    /// what such a base is made of.
    fn has_dough_beside(&self, part: usize) -> bool {
        let all = self.components.iter().enumerate();
        let in_a_base = |c: usize| {
            let mut bases = self.components.iter().filter(|b| is_base(&b.name));
            bases.any(|b| b.lines.iter().any(|l| l.component == Some(c)))
        };
        let mut others = all.filter(|(c, _)| *c != part);
        others.any(|(c, o)| is_baked(o) && !inner(&o.name) && !self.lines_a_tin(c) && !in_a_base(c))
    }
}

/// Whether a text in small letters has one of some words, whole.
pub(super) fn has_word(text: &str, words: &[&str]) -> bool {
    let mut said = text.split(|c: char| !c.is_alphanumeric());
    said.any(|w| words.contains(&w))
}

/// What more than this share of is laid on before the bake goes into the pan (common practice, no source).
const MOST_OF_IT: f64 = 0.5;

impl Rework {
    /// Whether a part is worked on in a step that comes before the last bake of the recipe, or up to it; where
    /// no step is about it, whether one names what it is of; where only later ones are, whether most of it
    /// is laid on before: the fruit of a topping whose jam goes on at the end.
    fn before_last_bake(&self, owners: &[usize], part: usize) -> bool {
        let recipe = &self.formula.recipe;
        let steps = recipe.steps.iter().enumerate();
        let mut bakes = steps.filter_map(|(i, s)| Some((i, last_of(s, Activity::Bake)?)));
        let Some((last, bake)) = bakes.next_back() else {
            return false;
        };
        let mut mine = owners.iter().enumerate().filter(|(_, o)| **o == part);
        let owned = mine.next();
        if owned.is_some_and(|(first, _)| first <= last) {
            return true;
        }
        let lines = &recipe.components[part].lines;
        if owned.is_none() {
            let foods = lines
                .iter()
                .flat_map(|l| l.items.iter().map(move |i| (l, i)));
            let mut foods = foods.filter_map(|(l, i)| food_word(l, i));
            return foods.any(|f| recipe.steps[..=last].iter().any(|s| names(&s.text, &f)));
        }
        let before = recipe.steps[..last].iter().map(|s| s.text.as_str());
        let before: Vec<&str> = before
            .chain(recipe.steps[last].text.get(..bake.span.start))
            .collect();
        self.lays_most(part, &before, |_| true)
    }

    /// Whether some texts lay most of a part on or in what is baked.
    ///
    /// # Inputs
    /// - `counts`: whether a food's word tells of this part.
    fn lays_most(&self, part: usize, texts: &[&str], counts: impl Fn(&str) -> bool) -> bool {
        let lines = &self.formula.recipe.components[part].lines;
        let (mut laid, mut all) = (0.0, 0.0);
        for line in &self.components[part].lines {
            let grams = line.grams.map_or(0.0, |g| g.likely().as_grams());
            all += grams;
            let food = line.origin.and_then(|(l, i)| {
                let line = lines.get(l)?;
                food_word(line, line.items.get(i)?)
            });
            let food = food.filter(|f| counts(f));
            if food.is_some_and(|f| texts.iter().any(|t| lays(t, &f))) {
                laid += grams;
            }
        }
        laid > all * MOST_OF_IT
    }

    /// Whether the method lays most of a part, by foods that no other part has, on another before the last bake of
    /// that: the plums of a kuchen, 'set them in rows on top'.
    fn is_laid_on(&self, owners: &[usize], part: usize, other: usize) -> bool {
        let recipe = &self.formula.recipe;
        let steps = || recipe.steps.iter().zip(owners);
        let mut bakes = steps().filter(|(_, o)| **o == part);
        let Some((n, bake)) = bakes
            .rfind(|(s, _)| does(s, Activity::Bake))
            .and_then(|(s, _)| Some((s.number, last_of(s, Activity::Bake)?.span.start)))
        else {
            return false;
        };
        let mine = steps().filter(|(s, o)| s.number <= n && (**o == part || **o == other));
        let texts: Vec<&str> = mine
            .filter_map(|(s, _)| {
                s.text
                    .get(..if s.number == n { bake } else { s.text.len() })
            })
            .collect();
        let rest = recipe
            .components
            .iter()
            .enumerate()
            .filter(|(c, _)| *c != other);
        let rest = rest
            .flat_map(|(_, c)| &c.lines)
            .flat_map(|l| l.items.iter().map(move |i| (l, i)));
        let theirs: Vec<String> = rest.filter_map(|(l, i)| food_word(l, i)).collect();
        self.lays_most(other, &texts, |f| !theirs.iter().any(|t| t == f))
    }
}

fn is_baked(c: &ReworkedComponent) -> bool {
    let style = c.style.map(|s| s.style);
    style.is_some_and(|s| s.is_baked() && s.key() != "pie_pastry")
}

fn is_pastry(c: &ReworkedComponent) -> bool {
    c.style.is_some_and(|s| s.style.key() == "pie_pastry")
}

/// Whether a part is named in a step of the others before the last bake of the part asked about; `None`
/// where nothing is baked or no step names it.
pub(super) fn goes_in(
    recipe: &Recipe,
    owners: &[usize],
    part: usize,
    (other, name): (usize, &str),
) -> Option<bool> {
    let steps = || recipe.steps.iter().zip(owners).enumerate();
    let last = steps()
        .filter(|(_, (_, owner))| **owner == part)
        .filter_map(|(i, (s, _))| Some((i, last_of(s, Activity::Bake)?.span.start)))
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
    /// The recipe's own pan, and how many: that the method names with its depth, or a filling's with the
    /// usual one, since a springform is as deep as most are. None where another takes the rest.
    #[must_use]
    pub fn own(&self) -> Option<(&Pan, u32)> {
        let said = self.said.as_ref();
        let known = |s: &&Said| s.depth.is_known() || self.set && s.depth == Depth::Usual;
        let said = said.filter(|s| self.rest_in.is_none() && known(s))?;
        Some((&said.pan, said.count))
    }

    /// Grams of each part of the recipe that goes in, 0 for the others, once the recipe.
    #[must_use]
    pub fn grams(&self, rework: &Rework) -> Vec<f64> {
        let all = rework.components.iter().enumerate();
        all.map(|(c, is)| {
            let goes = self.parts.contains(&c);
            if goes {
                is.makes.likely().as_grams() * self.share(c)
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
        self.parts.iter().map(|c| of(c) * self.share(*c)).sum()
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
            .filter(|c| self.share(**c) > 0.0)
            .map(|c| match &*rework.components[*c].name {
                "" => "mixture",
                name => name,
            });
        let names: Vec<&str> = names.collect();
        listed(&names)
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
        let (pan, count) = self.own()?;
        let count = f64::from(count);
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
