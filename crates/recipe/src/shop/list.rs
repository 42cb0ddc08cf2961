//! The shopping list: needs merged by food, less what is in stock, in packs.

use super::choice::Instead;
use super::day::age;
use super::money::Money;
use super::need::{Needs, Order, Reminder, What, from_the_tap};
use super::packs::{Packs, cheapest};
use super::section::Section;
use super::whole::{self, FromWhole};
use larder::{FoodId, Function, Larder, Price, State, Stock, Trim};
use quantity::{Mass, Ratio, Spread};
use std::collections::BTreeMap;

/// Grams that are nothing on any scale.
const NOTHING: f64 = 0.05;

/// What the list is made with.
#[derive(Debug, Clone, Default)]
pub struct Shelf {
    /// Blends mixed beforehand: key → what there is.
    pub blends: BTreeMap<String, Stock>,
    /// The currency to buy in, where a food has packs in several.
    pub currency: Option<String>,
}

/// What a line of the list is for.
#[derive(Debug, Clone, PartialEq)]
pub struct For {
    /// The order's place.
    pub order: usize,
    /// The component's name.
    pub component: String,
    /// Grams in the bowl; `None` where the line has no weight.
    pub grams: Option<Spread<Mass>>,
    /// The line's own words.
    pub words: String,
    /// 'for dusting', 'to serve'.
    pub aside: Option<&'static str>,
    /// It may be left out.
    pub optional: bool,
    /// What its line offers in its place.
    pub instead: Option<Instead>,
}

/// A line of a recipe that has no weight.
#[derive(Debug, Clone, PartialEq)]
pub struct Unweighed {
    /// Its own words.
    pub words: String,
    /// How many times they are needed, over all recipes.
    pub times: f64,
}

/// A pack to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct ToBuy {
    /// How many.
    pub count: usize,
    /// The pack and its price.
    pub pack: Price,
}

/// A line of the shopping list.
#[derive(Debug, Clone, PartialEq)]
pub struct ListLine {
    /// The food's key, or the words of what the larder does not know.
    pub key: String,
    /// The food.
    pub food: Option<FoodId>,
    /// Its name.
    pub name: String,
    /// Where in a shop.
    pub section: Section,
    /// What goes into the bowls; `None` where no line of it has a weight.
    pub needed: Option<Spread<Mass>>,
    /// What that is as bought, with what is trimmed off.
    pub bought: Option<Spread<Mass>>,
    /// What is trimmed off.
    pub trim: Option<Trim>,
    /// How many whole ones that is, where it is sold so and its piece has a weight.
    pub pieces: Option<usize>,
    /// What there is of it, grams as bought, and the day it was counted.
    pub stock: Option<Stock>,
    /// Grams taken from stock.
    pub from_stock: Mass,
    /// Grams as bought still to buy, likely.
    pub to_buy: Mass,
    /// Whole packs that hold it; empty where no pack is known or nothing is to buy.
    pub packs: Vec<ToBuy>,
    /// No cheaper packs hold enough.
    pub packs_proven: bool,
    /// What the packs cost.
    pub pay: Money,
    /// Grams as bought left over after the bake: stock and packs less the likely need.
    pub left: Option<Mass>,
    /// Stock and packs hold the likely need, but not the high one.
    pub may_run_short: bool,
    /// Lines of it without weight: there may be more to buy than the weights say.
    pub unweighed: Vec<Unweighed>,
    /// What it is for.
    pub uses: Vec<For>,
    /// What its label has to say, with the screen's reason.
    pub reminders: Vec<(Reminder, String)>,
    /// Where it is bought for its parts: 'for 3 egg whites (2 yolks left over)'.
    pub parts: Vec<String>,
}

impl ListLine {
    /// Whether every line of it may be left out.
    #[must_use]
    pub fn optional(&self) -> bool {
        self.uses.iter().all(|u| u.optional)
    }
    /// Whether something is to buy and no pack of it is known.
    #[must_use]
    pub fn no_price(&self) -> bool {
        let some = self.stock.as_ref().is_some_and(|s| s.grams > NOTHING);
        self.packs.is_empty()
            && (self.to_buy.as_grams() > NOTHING || self.needed.is_none() && !some)
    }
}

/// A blend on the list.
#[derive(Debug, Clone, PartialEq)]
pub struct BlendLine {
    /// Its key.
    pub key: String,
    /// Its name.
    pub name: String,
    /// What the recipes need of it.
    pub needed: Spread<Mass>,
    /// Grams there are, and the day.
    pub stock: Option<Stock>,
    /// Grams taken from what was mixed before.
    pub from_stock: Mass,
    /// Grams still to mix; its flours stand on the list.
    pub to_mix: Mass,
}

/// A shopping list.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct List {
    /// Lines by section, then name.
    pub lines: Vec<ListLine>,
    /// Blends, mixed here.
    pub blends: Vec<BlendLine>,
    /// Components made here, each with its order: not bought.
    pub made_here: Vec<(usize, String)>,
    /// Water from the tap, grams: not bought, not counted.
    pub water: Option<Spread<Mass>>,
    /// What the packs cost together.
    pub pay: Money,
    /// Names of what has to be bought and has no price, or no weight: the sum is at least.
    pub unpriced: Vec<String>,
}

impl List {
    /// Whether the sum to pay is only a floor.
    #[must_use]
    pub fn is_floor(&self) -> bool {
        !self.unpriced.is_empty()
    }
    /// Lines of a section.
    pub fn section(&self, section: Section) -> impl Iterator<Item = &ListLine> {
        self.lines.iter().filter(move |l| l.section == section)
    }
}

/// Makes the shopping list of some recipes.
///
/// # Inputs
/// - `orders`: recipes with how many times each component is made. The same food under different
///   words is one line; blends are spread into their flours; components are made, not bought.
/// - `larder`: foods with the kitchen's own entries laid over, which hold packs, stock and trim.
/// - `shelf`: blends mixed beforehand, and the currency to buy in.
///
/// # Returns
/// Grams in the bowl (needed), as bought (`needed ÷ (1 − trim)`), from stock (at most what there
/// is), to buy (likely), and the cheapest whole packs that hold that. Lines without weight stay on
/// the list in their own words and are never taken as nothing.
///
/// # Example
/// ```
/// use recipe::shop::{Order, Shelf, list};
/// # use recipe::read::Reader;
/// let larder = larder::Larder::built_in()?;
/// let locale = quantity::Locale::Metric;
/// let text = "Flat cakes\n\nIngredients\n200 g plain flour\n3 eggs\nsalt, to taste\n\nMethod\n1. Mix and fry.\n";
/// let recipe = recipe::read::recipe(text, &Reader::new(&larder, locale)).expect("a recipe");
/// let formula = recipe::weigh::formula(recipe, &larder, locale).expect("a formula");
/// let rework = recipe::rework::rework(formula, &larder, &recipe::rework::Options::default());
/// let screening = rework.screen(&larder);
/// let list = list(&[Order::times("Flat cakes", &rework, &screening, 2.0)], &larder, &Shelf::default());
/// assert!(list.lines.iter().any(|l| l.key == "egg" && l.pieces == Some(6)));
/// assert!(list.lines.iter().any(|l| l.needed.is_none() && l.unweighed[0].words == "salt, to taste"));
/// # Ok::<(), larder::TableError>(())
/// ```
#[must_use]
pub fn list(orders: &[Order<'_>], larder: &Larder, shelf: &Shelf) -> List {
    let mut needs = Needs::default();
    for (at, order) in orders.iter().enumerate() {
        needs.take(at, order, larder);
    }
    let mut out = List {
        blends: take_mixed(&mut needs, shelf),
        ..List::default()
    };
    for (order, name) in &needs.made_here {
        if !out.made_here.contains(&(*order, name.clone())) {
            out.made_here.push((*order, name.clone()));
        }
    }
    let name_of = |order: usize, component: usize| -> String {
        let all = orders.get(order).map(|o| &o.rework.components);
        all.and_then(|c| c.get(component))
            .map_or_else(String::new, |c| c.name.clone())
    };
    let mut groups: BTreeMap<String, Group> = BTreeMap::new();
    let mut water = Vec::new();
    for need in &needs.needs {
        // All of it is in a blend that was mixed before.
        if need.grams.is_some_and(|g| g.high().as_grams() <= 1e-9) {
            continue;
        }
        let (key, food) = match &need.what {
            What::Food(f) if from_the_tap(larder, *f) => {
                water.extend(need.grams);
                continue;
            }
            What::Food(f) => {
                let whole = whole::bought_as(larder, *f);
                let food = whole.map_or(*f, |w| w.whole);
                (larder.food(food).key.clone(), Some(food))
            }
            What::Words(words) => (words.to_lowercase(), None),
        };
        let group = groups.entry(key).or_default();
        group.food = food;
        if group.name.is_empty()
            && let What::Words(words) = &need.what
        {
            group.name.clone_from(words);
        }
        if let What::Food(f) = need.what
            && let Some(part) = whole::bought_as(larder, f)
        {
            group.parts.push((part, need.grams));
        } else {
            group.grams.extend(need.grams);
            group.eggs.extend(need.grams.map(|g| (g, need.egg)));
            group.wholes.extend(need.grams.map(|g| (g, need.whole)));
        }
        if need.grams.is_none() {
            let there = group.unweighed.iter_mut().find(|u| u.words == need.words);
            match there {
                Some(same) => same.times += need.times,
                None => group.unweighed.push(Unweighed {
                    words: need.words.clone(),
                    times: need.times,
                }),
            }
        }
        for (reminder, reason) in &need.reminders {
            if !group.reminders.iter().any(|(r, _)| r == reminder) {
                group.reminders.push((*reminder, reason.clone()));
            }
        }
        group.uses.push(For {
            order: need.order,
            component: name_of(need.order, need.component),
            grams: need.grams,
            words: need.words.clone(),
            aside: need.aside,
            optional: need.optional,
            instead: need.instead.clone(),
        });
    }
    out.water = (!water.is_empty()).then(|| Spread::sum_independent(water));
    out.lines = groups
        .into_iter()
        .map(|(key, group)| group.line(key, larder, shelf))
        .collect();
    out.lines.sort_by(|a, b| {
        let place = |s: Section| Section::ALL.iter().position(|x| *x == s);
        place(a.section)
            .cmp(&place(b.section))
            .then_with(|| a.name.to_lowercase().cmp(&b.name.to_lowercase()))
    });
    out.pay = Money::sum(out.lines.iter().map(|l| &l.pay));
    out.unpriced = out
        .lines
        .iter()
        .filter(|l| {
            l.no_price()
                || !l.unweighed.is_empty() && l.left.is_none_or(|m| m.as_grams() <= NOTHING)
        })
        .map(|l| l.name.clone())
        .collect();
    out
}

/// Takes blends that were mixed before out of the needs of their flours and binders.
fn take_mixed(needs: &mut Needs, shelf: &Shelf) -> Vec<BlendLine> {
    let mut lines: Vec<BlendLine> = Vec::new();
    for mixed in &needs.mixed {
        match lines.iter_mut().find(|l| l.key == mixed.blend.key) {
            Some(line) => line.needed = Spread::sum_independent([line.needed, mixed.grams]),
            None => lines.push(BlendLine {
                key: mixed.blend.key.to_string(),
                name: mixed.blend.name.to_string(),
                needed: mixed.grams,
                stock: shelf.blends.get(&*mixed.blend.key).cloned(),
                from_stock: Mass::grams(0.0),
                to_mix: Mass::grams(0.0),
            }),
        }
    }
    for line in &mut lines {
        let need = line.needed.likely().as_grams();
        let have = line.stock.as_ref().map_or(0.0, |s| s.grams.max(0.0));
        line.from_stock = Mass::grams(have.min(need));
        line.to_mix = Mass::grams(need - have.min(need));
        let share = if need > 0.0 {
            have.min(need) / need
        } else {
            0.0
        };
        if share <= 0.0 {
            continue;
        }
        for need in &mut needs.needs {
            if need.blend.as_deref() == Some(&line.key) {
                need.grams = need.grams.map(|g| g.scaled(1.0 - share));
            }
        }
        // What binds in the blend is in it already.
        for mixed in needs.mixed.iter().filter(|m| m.blend.key == line.key) {
            for (food, percent) in &mixed.blend.binders {
                let mut in_it = mixed.grams.likely().as_grams() * share * percent / 100.0;
                for need in &mut needs.needs {
                    let here = (need.order, need.component) == (mixed.order, mixed.component);
                    if !here || need.what != What::Food(*food) {
                        continue;
                    }
                    let Some(grams) = need.grams else { continue };
                    let likely = grams.likely().as_grams();
                    let take = in_it.min(likely);
                    if likely > 0.0 {
                        need.grams = Some(grams.scaled(1.0 - take / likely));
                    }
                    in_it -= take;
                }
            }
        }
    }
    lines.sort_by(|a, b| a.name.cmp(&b.name));
    lines
}

/// Needs of one food.
#[derive(Default)]
struct Group {
    food: Option<FoodId>,
    name: String,
    grams: Vec<Spread<Mass>>,
    /// The weight of each need, and what an egg weighs that it counts.
    eggs: Vec<(Spread<Mass>, Option<Mass>)>,
    /// The weight of each need, and what one as bought weighs where the line says so.
    wholes: Vec<(Spread<Mass>, Option<Mass>)>,
    /// Needs of parts of it.
    parts: Vec<(FromWhole, Option<Spread<Mass>>)>,
    unweighed: Vec<Unweighed>,
    uses: Vec<For>,
    reminders: Vec<(Reminder, String)>,
}

impl Group {
    fn line(mut self, key: String, larder: &Larder, shelf: &Shelf) -> ListLine {
        let (of_parts, parts) = whole::needed(&self.parts, larder);
        let usual = self.food.and_then(|f| piece(larder, f));
        let eggs = usual.and_then(|each| {
            let counted = self.eggs.iter().map(|(g, one)| {
                let one = one.map(Mass::as_grams).filter(|g| *g > 0.0)?;
                Some(g.likely().as_grams() / one)
            });
            let whole: f64 = counted.sum::<Option<f64>>()?;
            let of_parts = of_parts.map_or(0.0, |g| g.likely().as_grams() / each);
            Some(whole + of_parts).filter(|n| *n > 0.0)
        });
        let eggs = eggs.filter(|_| {
            self.food
                .is_some_and(|f| larder.food(f).does(Function::Egg))
        });
        // What is counted and weighed by its lines is as bought.
        let wholes = self.wholes.iter().map(|(g, one)| {
            let one = one.map(Mass::as_grams).filter(|g| *g > 0.0)?;
            Some(g.likely().as_grams() / one)
        });
        let wholes = wholes.sum::<Option<f64>>();
        // Eggs that are counted are so many, of whatever size.
        let counted = eggs.filter(|_| wholes.is_some());
        let wholes = wholes.filter(|n| *n > 0.0 && eggs.is_none() && of_parts.is_none());
        self.grams.extend(of_parts);
        let needed = (!self.grams.is_empty()).then(|| Spread::sum_independent(self.grams));
        let trim = self.food.and_then(|f| larder.trim(f));
        let trim = trim.filter(|_| wholes.is_none());
        let bought = needed.map(|g| trim.as_ref().map_or(g, |t| g.map(|grams| t.bought(grams))));
        self.reminders.sort_by_key(|r| r.0);
        let by_weight = || {
            let (food, grams) = self.food.zip(needed)?;
            let grams = eggs
                .zip(usual)
                .map_or(grams.likely().as_grams(), |(n, one)| n * one);
            pieces(larder, food, grams)
        };
        let count = counted.or(wholes).filter(|_| usual.is_some());
        let count = count.map(rounded_up).or_else(by_weight);
        let stock = self.food.and_then(|f| larder.stock(f)).cloned();
        let have = stock.as_ref().map_or(0.0, |s| s.grams.max(0.0));
        let weighs = bought.map_or(0.0, |b| b.likely().as_grams());
        // Counted eggs are bought by the egg: as what so many of no size weigh, shells and all.
        let by_egg = eggs.and(count).zip(usual).map(|(n, each)| {
            let used = n as f64 * each;
            trim.as_ref().map_or(used, |t| t.bought(used))
        });
        let likely = by_egg.unwrap_or(weighs);
        let from_stock = have.min(likely);
        let to_buy = likely - from_stock;
        let to_buy = if to_buy <= NOTHING { 0.0 } else { to_buy };
        let of_all = if likely > 0.0 { to_buy / likely } else { 0.0 };
        let eggs = by_egg.and(count).map(|n| n as f64);
        let (packs, chosen) = self
            .food
            .filter(|_| to_buy > 0.0)
            .map_or((Vec::new(), None), |f| {
                choose((to_buy, eggs.map(|n| n * of_all)), f, larder, shelf)
            });
        let pay = match (packs.first(), &chosen) {
            (Some(first), Some(c)) => {
                Money::of(&first.pack.currency, Spread::exact(Ratio::new(c.amount)))
            }
            _ => Money::default(),
        };
        let eggs_in_packs = || -> Option<f64> {
            let each = packs
                .iter()
                .map(|p| Some(p.count as f64 * eggs_in(&p.pack.pack)?));
            each.sum()
        };
        let in_packs = match (&chosen, eggs.zip(eggs_in_packs())) {
            (Some(_), Some((n, packed))) => packed * likely / n,
            (Some(c), None) => c.grams,
            (None, _) => 0.0,
        };
        let enough = have + in_packs;
        let known = to_buy <= 0.0 || chosen.is_some();
        let food = self.food.map(|f| larder.food(f));
        ListLine {
            key,
            food: self.food,
            name: food.map_or(self.name, |f| f.name.clone()),
            section: food.map_or(Section::Other, Section::of),
            needed,
            bought,
            pieces: count,
            trim,
            from_stock: Mass::grams(from_stock),
            to_buy: Mass::grams(weighs * of_all),
            packs,
            packs_proven: chosen.as_ref().is_none_or(|c| c.proven),
            pay,
            left: (needed.is_some() && known).then(|| Mass::grams((enough - likely).max(0.0))),
            may_run_short: known
                && by_egg.is_none()
                && bought.is_some_and(|b| b.high().as_grams() > enough + NOTHING)
                && bought.is_some_and(|b| b.high().as_grams() > b.likely().as_grams() + NOTHING),
            stock,
            unweighed: self.unweighed,
            uses: self.uses,
            reminders: self.reminders,
            parts,
        }
    }
}

/// Grams of one piece of what is sold by the piece: fruit, vegetables, eggs. Berries are not counted.
#[must_use]
pub fn piece(larder: &Larder, food: FoodId) -> Option<f64> {
    let is = larder.food(food);
    let sold_so = matches!(
        is.function(),
        Function::Fruit | Function::Vegetable | Function::Egg
    ) && larder.trim(food).is_some();
    let each = sold_so.then(|| whole::each(larder, food)).flatten()?;
    (each >= 15.0).then_some(each)
}

/// Whole ones of what is counted: as much over as rounding makes, 3 %, is none (common practice, no source).
fn rounded_up(n: f64) -> usize {
    (n / 1.03 - NOTHING).ceil().max(1.0) as usize
}

/// Whole pieces of what is sold so, rounded up. Eggs are of several sizes: so many are enough where they
/// weigh as much in their range, each's own by the root of their number (that and the 3 % of rounding: common
/// practice, no source).
fn pieces(larder: &Larder, food: FoodId, grams: f64) -> Option<usize> {
    let each = piece(larder, food)?;
    let eggs = matches!(larder.food(food).function(), Function::Egg);
    if let Some(one) = larder.measure(food, "each", State::Usual).filter(|_| eggs) {
        // Weights are rounded by up to 3 %.
        let more = 1.03 * one.grams.high().as_grams() - each;
        let least = ((grams - NOTHING) / each).ceil() as usize;
        let enough = |n: &usize| *n as f64 * each + more * (*n as f64).sqrt() >= grams - NOTHING;
        let fewer = least.saturating_sub(1);
        return (grams > NOTHING).then(|| {
            if fewer > 0 && enough(&fewer) {
                fewer
            } else {
                least
            }
        });
    }
    (grams > NOTHING).then(|| ((grams - NOTHING) / each).ceil() as usize)
}

/// How many eggs a pack holds by its words: '6 eggs', 'box of 10 large eggs', 'a dozen'.
pub(super) fn eggs_in(pack: &str) -> Option<f64> {
    const BESIDE: [&str; 17] = [
        "egg", "eggs", "large", "medium", "small", "extra", "jumbo", "free", "range", "organic",
        "box", "pack", "tray", "carton", "of", "a", "an",
    ];
    let pack = pack.to_lowercase();
    let mut count = None;
    let mut half = 1.0;
    for word in pack.split([' ', '-', ',']).filter(|w| !w.is_empty()) {
        match word {
            "half" => half = 0.5,
            "dozen" => count = Some(count.unwrap_or(1.0) * 12.0),
            _ if BESIDE.contains(&word) => {}
            _ if count.is_none() => count = Some(word.parse().ok()?),
            _ => return None,
        }
    }
    count
        .map(|n: f64| n * half)
        .filter(|n| n.is_finite() && *n > 0.0)
}

/// The cheapest packs of a food for so many grams; of eggs, for so many of them where every pack says how many
/// it holds.
fn choose(
    (grams, eggs): (f64, Option<f64>),
    food: FoodId,
    larder: &Larder,
    shelf: &Shelf,
) -> (Vec<ToBuy>, Option<Packs>) {
    let all: Vec<&Price> = larder.packs(food).collect();
    let Some(usual) = all.first() else {
        return (Vec::new(), None);
    };
    // One currency: the kitchen's where there is a pack in it, else the usual pack's.
    let wanted = shelf.currency.as_deref();
    let currency = match wanted {
        Some(c) if all.iter().any(|p| p.currency == c) => c,
        _ => &usual.currency,
    };
    let can: Vec<&Price> = all.into_iter().filter(|p| p.currency == currency).collect();
    let figures: Vec<(f64, f64)> = can.iter().map(|p| (p.pack_grams, p.amount)).collect();
    let counted: Option<Vec<(f64, f64)>> = can
        .iter()
        .map(|p| Some((eggs_in(&p.pack)?, p.amount)))
        .collect();
    let chosen = match (eggs, counted) {
        // A hundredth of an egg is none.
        (Some(n), Some(counted)) => cheapest((n - 0.01).ceil(), &counted),
        _ => cheapest(grams, &figures),
    };
    let Some(mut chosen) = chosen else {
        return (Vec::new(), None);
    };
    let packed = chosen.counts.iter().zip(&figures);
    chosen.grams = packed.map(|(n, (g, _))| *n as f64 * g).sum();
    let packs = chosen
        .counts
        .iter()
        .zip(can)
        .filter(|(n, _)| **n > 0)
        .map(|(n, p)| ToBuy {
            count: *n,
            pack: p.clone(),
        })
        .collect();
    (packs, Some(chosen))
}

/// Stock of what spoils that was counted more than this many days ago is looked at before it is
/// used. Common practice, no source.
pub const OLD_STOCK_DAYS: i64 = 14;

/// What the list takes from stock that spoils and was counted long ago, or on a day still to come:
/// its name, the day, and the days since.
///
/// # Inputs
/// - `today`: `2026-11-29`.
///
/// # Returns
/// Of fresh and cold foods and meat alone; the rest keeps by its packet.
#[must_use]
pub fn old_stock(list: &List, today: &str) -> Vec<(String, String, i64)> {
    let spoils = |l: &&ListLine| {
        matches!(l.section, Section::Fresh | Section::Cold | Section::Meat)
            && l.from_stock.as_grams() > 0.0
    };
    list.lines
        .iter()
        .filter(spoils)
        .filter_map(|l| {
            let stock = l.stock.as_ref()?;
            let days = age(&stock.date, today)?;
            let odd = !(0..=OLD_STOCK_DAYS).contains(&days);
            odd.then(|| (l.name.clone(), stock.date.clone(), days))
        })
        .collect()
}
