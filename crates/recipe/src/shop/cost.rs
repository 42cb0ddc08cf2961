//! What a recipe costs: the grams it uses at what a gram of the usual pack costs.

use super::day::age;
use super::list::eggs_in;
use super::money::Money;
use super::need::{Need, Needs, Order, What, from_the_tap};
use super::whole::{Zest, priced_as};
use crate::pieces::PIECES;
use crate::rework::{Baked, Kept, Rework, left};
use crate::weigh::Formula;
use larder::{FoodId, Larder, Price};
use quantity::{Mass, Ratio, Spread};
use std::collections::BTreeMap;

/// A price older than this many days is said to be old: half a year. Common practice, no source.
pub const OLD_DAYS: i64 = 183;
/// What no sum here counts.
pub const NOT_COUNTED: &str = "Ingredients only: energy, water, labour, wrapping, rent and tax are not counted. Counted in: what may be left out, and what is weighed for the bench or the tin.";

/// Why something is not in a sum.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// No pack of it has a price.
    NoPrice,
    /// A line of it has no weight.
    NoWeight,
    /// The larder does not know it.
    Unknown,
}

impl Why {
    /// The words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::NoPrice => "no price",
            Self::NoWeight => "no weight",
            Self::Unknown => "not in the larder",
        }
    }
    /// The word in machine-readable output.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::NoPrice => "no_price",
            Self::NoWeight => "no_weight",
            Self::Unknown => "unknown",
        }
    }
}

/// Something that is not in a sum.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Missing {
    /// The food's name, or the words of what the larder does not know.
    pub name: String,
    /// Why.
    pub why: Why,
}

/// What an ingredient costs.
#[derive(Debug, Clone, PartialEq)]
pub struct CostLine {
    /// The food; `None` for what the larder does not know.
    pub food: Option<FoodId>,
    /// Its name.
    pub name: String,
    /// Grams in the bowl, of the lines that have a weight.
    pub grams: Option<Spread<Mass>>,
    /// What they cost; empty without a price.
    pub money: Money,
    /// The pack the price is of.
    pub price: Option<Price>,
    /// Share of the likely sum in its currency, 0 to 1; `None` without a price.
    pub share: Option<f64>,
    /// Days since the price was noted, where that is more than [`OLD_DAYS`].
    pub old: Option<i64>,
}

/// What a component costs.
#[derive(Debug, Clone, PartialEq)]
pub struct ComponentCost {
    /// Its name.
    pub name: String,
    /// Its own lines. Components it uses are not in it: the column adds up to the batch.
    pub money: Money,
    /// Something of it is missing.
    pub is_floor: bool,
}

/// What a recipe costs at a size.
#[derive(Debug, Clone, PartialEq)]
pub struct Cost {
    /// Ingredients, the dearest first; those without price last.
    pub lines: Vec<CostLine>,
    /// The sum of what has a price.
    pub total: Money,
    /// By component.
    pub components: Vec<ComponentCost>,
    /// What the sum does not hold: it is a floor while this is not empty.
    pub missing: Vec<Missing>,
    /// Lines that offer a choice, in the order of the recipe. The original has none of its own.
    pub choices: Vec<Choice>,
}

/// A line that offers a choice: what is counted, and what the other would cost.
#[derive(Debug, Clone, PartialEq)]
pub struct Choice {
    /// The line's own words.
    pub words: String,
    /// What is counted.
    pub counted: Offer,
    /// What the line offers in its place, with all that is added to it.
    pub instead: Vec<Offer>,
}

/// One food of a choice.
#[derive(Debug, Clone, PartialEq)]
pub struct Offer {
    /// The food.
    pub food: FoodId,
    /// Its name.
    pub name: String,
    /// Grams in the bowl; `None` where it has no weight.
    pub grams: Option<Spread<Mass>>,
    /// What they cost; empty without a price or a weight.
    pub money: Money,
}

impl Offer {
    fn of(food: FoodId, grams: Option<Spread<Mass>>, larder: &Larder) -> Self {
        Self {
            food,
            name: larder.food(food).name.clone(),
            grams,
            money: money_of(larder, food, grams),
        }
    }
}

impl Cost {
    /// Whether the sum is only a floor.
    #[must_use]
    pub fn is_floor(&self) -> bool {
        !self.missing.is_empty()
    }
    /// The sum over a count, such as pieces or hundreds of grams.
    ///
    /// # Arguments
    /// * `count` — above 0; a range gives low money over high count and the other way round.
    ///
    /// # Returns
    /// `None` where the count is nothing.
    #[must_use]
    pub fn per(&self, count: Spread<Ratio>) -> Option<Money> {
        if count.low().get() <= 0.0 {
            return None;
        }
        Some(self.total.each(|a| {
            Spread::new(
                Ratio::new(a.low().get() / count.high().get()),
                Ratio::new(a.likely().get() / count.likely().get()),
                Ratio::new(a.high().get() / count.low().get()),
            )
        }))
    }
}

/// What the gluten-free version of a recipe costs.
///
/// # Inputs
/// - `order`: the recipe and how many times each component is made.
/// - `larder`: with the kitchen's own entries, which hold the prices and the trim.
/// - `today`: the day prices are judged old by, `2026-11-29`.
///
/// # Returns
/// For each food `grams ÷ (1 − trim) × money of the usual pack ÷ grams of that pack`, with the
/// range of the grams; sums in each currency. Whole packs play no part: that is the shopping
/// list's. Blends are spread into their flours whether mixed before or not. Whites, yolks
/// and zest without a price of their own are priced as so many grams of the whole, juice as the fruit that
/// is pressed for it, whose zest costs nothing more. Water from the tap costs nothing here.
///
/// # Source
/// Cost of the edible portion from cost as purchased and yield, as the trade teaches it; worked
/// examples in `checks/trim.tsv`.
#[must_use]
pub fn cost(order: &Order<'_>, larder: &Larder, today: &str) -> Cost {
    let mut needs = Needs::default();
    needs.take(0, order, larder);
    let names: Vec<&str> = order
        .rework
        .components
        .iter()
        .map(|c| c.name.as_str())
        .collect();
    sum(&needs, &names, larder, today)
}

/// What the recipe as it was written costs, the wheat one, by the same arithmetic.
#[must_use]
pub fn cost_of_original(formula: &Formula, factors: &[f64], larder: &Larder, today: &str) -> Cost {
    let mut needs = Needs::default();
    needs.take_original(formula, factors);
    let names: Vec<&str> = formula.components.iter().map(|c| c.name.as_str()).collect();
    sum(&needs, &names, larder, today)
}

/// The price a food is reckoned with: of the usual pack.
fn price_of(larder: &Larder, food: FoodId) -> Option<(&Price, f64)> {
    let (as_food, grams) = priced_as(larder, food);
    let price = larder.price(as_food)?;
    let gram = grams * price.amount / price.pack_grams;
    let used = larder.trim(as_food).map_or(gram, |t| t.bought(gram));
    Some((price, used))
}

/// The grams that an amount of eggs is priced as: where the recipe counts them and the pack says how many it
/// holds, an egg is an egg, of whatever class, and six are half a dozen whatever they weigh.
fn as_sold(larder: &Larder, food: FoodId, need: &Need) -> Option<Spread<Mass>> {
    let sold = || {
        let (price, egg) = (larder.price(food)?, need.egg?);
        let in_pack = eggs_in(&price.pack)?;
        let used = larder
            .trim(food)
            .map_or(price.pack_grams, |t| t.used(price.pack_grams));
        Some(used / in_pack / egg.as_grams())
    };
    let grams = need.grams?;
    Some(
        match (larder.food(food).key == "egg").then(sold).flatten() {
            Some(each) if need.eggs_counted => Spread::exact(grams.likely() * each),
            Some(each) => grams.scaled(each),
            None => grams,
        },
    )
}

/// What so many grams of a food cost; empty without a price or a weight.
fn money_of(larder: &Larder, food: FoodId, grams: Option<Spread<Mass>>) -> Money {
    match (price_of(larder, food), grams) {
        (Some((price, gram)), Some(g)) => Money::of(&price.currency, g.map(|v| v * gram)),
        _ => Money::default(),
    }
}

fn sum(needs: &Needs, names: &[&str], larder: &Larder, today: &str) -> Cost {
    #[derive(Default)]
    struct Food {
        grams: Vec<Spread<Mass>>,
        /// The same as it is priced.
        sold: Vec<Spread<Mass>>,
    }
    let mut foods: BTreeMap<FoodId, Food> = BTreeMap::new();
    let mut components: Vec<(Vec<Money>, bool)> = vec![(Vec::new(), false); names.len()];
    let mut missing: Vec<Missing> = Vec::new();
    let mut unknown: Vec<CostLine> = Vec::new();
    let mut choices = Vec::new();
    let used = needs.needs.iter().filter_map(|n| match n.what {
        What::Food(food) => Some((food, n.grams?.likely())),
        What::Words(_) => None,
    });
    let zest = Zest::of(used, larder);
    for need in &needs.needs {
        if let (Some(other), What::Food(food)) = (&need.instead, &need.what) {
            let parts = other.parts.iter();
            choices.push(Choice {
                words: other.words.clone(),
                counted: Offer::of(*food, need.grams, larder),
                instead: parts.map(|(f, g)| Offer::of(*f, *g, larder)).collect(),
            });
        }
        let miss = |name: String, why: Why, all: &mut Vec<Missing>| {
            let one = Missing { name, why };
            if !all.contains(&one) {
                all.push(one);
            }
        };
        let part = &mut components[need.component];
        let food = match &need.what {
            What::Food(f) if from_the_tap(larder, *f) => continue,
            What::Food(f) => *f,
            What::Words(words) => {
                miss(words.clone(), Why::Unknown, &mut missing);
                part.1 = true;
                unknown.push(CostLine {
                    food: None,
                    name: words.clone(),
                    grams: need.grams,
                    money: Money::default(),
                    price: None,
                    share: None,
                    old: None,
                });
                continue;
            }
        };
        let entry = foods.entry(food).or_default();
        let sold = as_sold(larder, food, need).map(|g| g.scaled(zest.priced(food)));
        entry.sold.extend(sold);
        match need.grams {
            Some(g) => entry.grams.push(g),
            None => {
                miss(larder.food(food).name.clone(), Why::NoWeight, &mut missing);
                part.1 = true;
            }
        }
        part.0.push(money_of(larder, food, sold));
        if price_of(larder, food).is_none() {
            miss(larder.food(food).name.clone(), Why::NoPrice, &mut missing);
            part.1 = true;
        }
    }
    let mut lines: Vec<CostLine> = foods
        .into_iter()
        .map(|(food, all)| {
            let sum =
                |all: Vec<Spread<Mass>>| (!all.is_empty()).then(|| Spread::sum_independent(all));
            let (grams, sold) = (sum(all.grams), sum(all.sold));
            let price = price_of(larder, food);
            CostLine {
                food: Some(food),
                name: larder.food(food).name.clone(),
                grams,
                money: money_of(larder, food, sold),
                price: price.map(|p| p.0.clone()),
                share: None,
                old: price
                    .and_then(|(p, _)| age(&p.date, today))
                    .filter(|days| *days > OLD_DAYS),
            }
        })
        .collect();
    lines.append(&mut unknown);
    let total = Money::sum(lines.iter().map(|l| &l.money));
    for line in &mut lines {
        let of = line.money.amounts().next();
        line.share = of.and_then(|(currency, a)| {
            let all = total.get(currency)?.likely().get();
            (all > 0.0).then(|| a.likely().get() / all)
        });
    }
    lines.sort_by(|a, b| {
        let key = |l: &CostLine| l.share.unwrap_or(-1.0);
        key(b).total_cmp(&key(a)).then_with(|| a.name.cmp(&b.name))
    });
    missing.sort();
    Cost {
        lines,
        total,
        components: names
            .iter()
            .zip(components)
            .map(|(name, (parts, is_floor))| ComponentCost {
                name: (*name).to_owned(),
                money: Money::sum(&parts),
                is_floor,
            })
            .collect(),
        missing,
        choices,
    }
}

/// The gluten-free version against the wheat one.
#[derive(Debug, Clone, PartialEq)]
pub struct Conversion {
    /// What the wheat one costs.
    pub original: Cost,
    /// What the gluten-free one costs.
    pub reworked: Cost,
    /// What it costs more, less where below 0; `None` where what is missing differs.
    pub more: Option<Money>,
    /// The same in percent of the wheat one; `None` where that is only a floor, or there are two
    /// currencies.
    pub percent: Option<f64>,
    /// What stands in the way of the difference.
    pub unknown: Vec<String>,
}

/// What a conversion costs: both versions by the same arithmetic, and the difference.
///
/// A food that has no price but goes into both in the same grams stands in both floors alike, and
/// the difference holds all the same. The range of the difference takes only foods whose grams
/// differ, each low against low and high against high, for it is one baker's cup in both.
#[must_use]
pub fn conversion(order: &Order<'_>, larder: &Larder, today: &str) -> Conversion {
    let formula = &order.rework.formula;
    let factors: Vec<f64> = (0..formula.components.len())
        .map(|c| order.factor(c))
        .collect();
    let original = cost_of_original(formula, &factors, larder, today);
    let reworked = cost(order, larder, today);
    let mut unknown = Vec::new();
    let grams = |c: &Cost, food: FoodId| {
        let line = c.lines.iter().find(|l| l.food == Some(food));
        line.and_then(|l| l.grams)
    };
    let likely = |g: Option<Spread<Mass>>| g.map_or(0.0, |g| g.likely().as_grams());
    let mut foods: Vec<FoodId> = original
        .lines
        .iter()
        .chain(&reworked.lines)
        .filter_map(|l| l.food)
        .collect();
    foods.sort_unstable();
    foods.dedup();
    let mut parts = Vec::new();
    for food in foods {
        let (before, after) = (grams(&original, food), grams(&reworked, food));
        let same = (likely(before) - likely(after)).abs() < 1e-6;
        if same {
            continue;
        }
        match price_of(larder, food) {
            Some((price, gram)) => {
                let edge = |f: fn(Spread<Mass>) -> Mass| {
                    let of = |g: Option<Spread<Mass>>| g.map_or(0.0, |g| f(g).as_grams());
                    Ratio::new((of(after) - of(before)) * gram)
                };
                parts.push(Money::of(
                    &price.currency,
                    Spread::new(edge(Spread::low), edge(Spread::likely), edge(Spread::high)),
                ));
            }
            None => unknown.push(format!("{}: no price", larder.food(food).name)),
        }
    }
    // Lines without weight, and foods the larder does not know, that stand in one version only.
    let lost = |c: &Cost| -> Vec<Missing> {
        let bare = c.missing.iter().filter(|m| m.why != Why::NoPrice);
        bare.cloned().collect()
    };
    let (a, b) = (lost(&original), lost(&reworked));
    for m in a
        .iter()
        .filter(|m| !b.contains(m))
        .chain(b.iter().filter(|m| !a.contains(m)))
    {
        unknown.push(format!("{}: {}", m.name, m.why.words()));
    }
    unknown.sort();
    unknown.dedup();
    let more = unknown.is_empty().then(|| {
        let sum = Money::sum(&parts);
        if sum.is_empty() {
            // The same foods in the same grams.
            original.total.scaled(0.0)
        } else {
            sum
        }
    });
    let percent = more
        .as_ref()
        .filter(|_| !original.is_floor())
        .and_then(|m| {
            let mut amounts = original.total.amounts();
            let (currency, all) = amounts.next()?;
            let one = amounts.next().is_none() && !m.is_mixed();
            let more = m.get(currency).filter(|_| one)?;
            (all.likely().get() > 0.0).then(|| 100.0 * more.likely().get() / all.likely().get())
        });
    Conversion {
        original,
        reworked,
        more,
        percent,
        unknown,
    }
}

/// What comes out of the oven, for the cost of what is eaten.
#[derive(Debug, Clone, PartialEq)]
pub struct Made {
    /// What goes in, raw: all components that no other one uses, and what is left of the others
    /// is not in it.
    pub raw: Spread<Mass>,
    /// After the bake, less what evaporates by the style's range; `None` without a style.
    pub baked: Option<Spread<Mass>>,
    /// Parts in that weight that go on after the bake, a glaze or an icing.
    pub on_it: Vec<String>,
    /// It comes out of an oven, and not out of a pot or a pan.
    pub oven: bool,
    /// Pieces or servings, low–likely–high, where the recipe says; times the factor.
    pub count: Option<Spread<Ratio>>,
    /// What it says: '12 buns', 'Serves 4–6'.
    pub words: Option<String>,
    /// It counts servings, not pieces.
    pub servings: bool,
    /// Components of which something is left over, with the grams.
    pub left: Vec<(String, Spread<Mass>)>,
}

/// The pieces that one bake is cut into, in brackets behind it: '1 loaf (10 slices)'.
fn cut_into(text: &str) -> Option<(f64, f64)> {
    let (_, behind) = text.split_once('(')?;
    let (inside, _) = behind.split_once(')')?;
    let lower = inside.to_lowercase();
    let mut words = lower.split(|c: char| !c.is_alphabetic());
    let pieces = words.any(|w| PIECES.contains(&w));
    crate::read::count_in(inside).filter(|_| pieces)
}

/// What an order makes.
#[must_use]
pub fn made(order: &Order<'_>) -> Made {
    let rework: &Rework = order.rework;
    let roots: Vec<usize> = (0..rework.components.len())
        .filter(|c| rework.components[*c].used.is_none())
        .collect();
    let Baked { raw, baked, on_it } = rework.baked(|c| order.factor(c));
    let says = rework.formula.recipe.makes.as_ref();
    let main = roots
        .iter()
        .max_by(|a, b| {
            let m = |c: usize| rework.components[c].makes.likely().as_grams();
            m(**a).total_cmp(&m(**b))
        })
        .map_or(1.0, |c| order.factor(*c));
    let count = says.and_then(|y| {
        let sliced = || cut_into(&y.text).filter(|_| y.count == Some((1.0, 1.0)));
        sliced().or(y.count)
    });
    let count = count.filter(|(low, _)| *low > 0.0);
    Made {
        raw,
        baked,
        on_it,
        oven: rework
            .components
            .iter()
            .any(|c| c.style.is_some_and(|s| s.style.is_baked())),
        count: count.map(|(low, high)| {
            Spread::new(
                Ratio::new(low * main),
                Ratio::new(f64::midpoint(low, high) * main),
                Ratio::new(high * main),
            )
        }),
        words: says.map(|y| y.text.clone()),
        servings: says.is_some_and(|y| {
            let text = y.text.to_lowercase();
            text.contains("serv") || text.contains("portion") || text.contains("people")
        }),
        left: left_over(order),
    }
}

/// Components that others use, with what is left over at the order's factors.
fn left_over(order: &Order<'_>) -> Vec<(String, Spread<Mass>)> {
    let components = &order.rework.components;
    let mut out = Vec::new();
    for (at, c) in components.iter().enumerate() {
        let uses: Vec<Spread<Mass>> = components
            .iter()
            .enumerate()
            .flat_map(|(user, x)| x.lines.iter().map(move |l| (user, l)))
            .filter(|(_, l)| l.component == Some(at) && l.kept != Kept::Dropped)
            .filter_map(|(user, l)| Some(l.grams?.scaled(order.factor(user))))
            .collect();
        if uses.is_empty() {
            continue;
        }
        let made = c.makes.scaled(order.factor(at));
        let used = Spread::sum_independent(uses);
        let left = left(made, used);
        if left.likely().as_grams() > 0.5 {
            out.push((c.name.clone(), left));
        }
    }
    out
}
