//! Parts that are bought as the whole they are taken from: whites and yolks as eggs, juice and
//! zest as the fruit.

use larder::{FoodId, Larder, State};
use quantity::{Mass, Spread};

/// Part and whole, by larder keys. A part of which the kitchen notes a price or a stock of its own
/// is bought as itself: whites in a carton, juice in a bottle.
const PARTS: [(&str, &str); 7] = [
    ("egg_white", "egg"),
    ("egg_yolk", "egg"),
    ("lemon_juice", "lemon"),
    ("lemon_zest", "lemon"),
    ("lime_juice", "lime"),
    ("lime_zest", "lime"),
    ("orange_zest", "orange"),
];

/// A part, and what it is bought as.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct FromWhole {
    pub part: FoodId,
    pub whole: FoodId,
    /// Grams of the part in one.
    pub each: f64,
}

/// Grams of one piece of a food, of the part that is used.
pub(super) fn each(larder: &Larder, food: FoodId) -> Option<f64> {
    ["each", "medium", "large"]
        .into_iter()
        .find_map(|w| larder.measure(food, w, State::Usual))
        .map(|m| m.grams.likely().as_grams())
        .filter(|g| *g > 0.0)
}

/// What a food is bought as, where it is part of another.
pub(super) fn bought_as(larder: &Larder, food: FoodId) -> Option<FromWhole> {
    let key = larder.food(food).key.as_str();
    let (_, whole) = PARTS.iter().find(|(part, _)| *part == key)?;
    if larder.price(food).is_some() || larder.stock(food).is_some() {
        return None;
    }
    Some(FromWhole {
        part: food,
        whole: larder.by_key(whole)?,
        each: each(larder, food)?,
    })
}

/// The wholes that parts are taken from: as many as the part of which most are needed, for one
/// whole gives each of its parts once.
///
/// # Returns
/// Grams of the whole's used part, and words of what is taken and what is left over.
pub(super) fn needed(
    parts: &[(FromWhole, Option<Spread<Mass>>)],
    larder: &Larder,
) -> (Option<Spread<Mass>>, Vec<String>) {
    let mut kinds: Vec<(FromWhole, Vec<Spread<Mass>>)> = Vec::new();
    for (part, grams) in parts {
        match kinds.iter_mut().find(|k| k.0.part == part.part) {
            Some(kind) => kind.1.extend(*grams),
            None => kinds.push((*part, grams.iter().copied().collect())),
        }
    }
    let counted: Vec<(FromWhole, Spread<Mass>, f64)> = kinds
        .into_iter()
        .filter(|(_, grams)| !grams.is_empty())
        .map(|(part, grams)| {
            let count = grams.iter().map(|g| pieces(&part, *g, larder)).sum();
            (part, Spread::sum_independent(grams), count)
        })
        .collect();
    let most = counted.iter().max_by(|a, b| a.2.total_cmp(&b.2));
    let Some(&(first, grams, count)) = most else {
        return (None, Vec::new());
    };
    let Some(whole_each) = each(larder, first.whole) else {
        return (None, Vec::new());
    };
    let whole = count_up(count);
    let mut words = Vec::new();
    for (part, _, n) in &counted {
        let n = count_up(*n);
        let name = &larder.food(part.part).name;
        // Of an egg the parts are counted; a lemon is bought for its juice.
        let counts = larder.food(part.part).key.starts_with("egg_");
        let taken = if counts {
            format!("{n} × {name}")
        } else {
            format!("{name} from {n}")
        };
        words.push(if n < whole {
            format!("{taken} ({} left over)", whole - n)
        } else {
            taken
        });
    }
    // Where only whites are needed the yolks are left, and the other way round.
    for (part, key) in PARTS {
        let Some(other) = larder.by_key(part).filter(|o| *o != first.part) else {
            continue;
        };
        let same = larder.by_key(key) == Some(first.whole) && part.starts_with("egg_");
        if same && !counted.iter().any(|(p, ..)| p.part == other) {
            words.push(format!("{whole} × {} left over", larder.food(other).name));
        }
    }
    let weighed = grams.likely().as_grams();
    let per = if weighed > 0.0 {
        count * whole_each / weighed
    } else {
        whole_each / first.each
    };
    (Some(grams.map(|g| g * per)), words)
}

/// How many of a part one need takes. Yolks and whites differ in size by more than an eighth: within that of a
/// whole number of them it is that number, so that a large yolk is one.
fn pieces(part: &FromWhole, grams: Spread<Mass>, larder: &Larder) -> f64 {
    let n = grams.likely().as_grams() / part.each;
    let near = (n - n.round()).abs() <= n.round() / 8.0;
    let of_an_egg = larder.food(part.part).key.starts_with("egg_");
    if near && of_an_egg { n.round() } else { n }
}

/// A count rounded up; what is less than a hundredth over is none.
fn count_up(n: f64) -> usize {
    (n - 0.01).ceil().max(0.0) as usize
}

/// What a food is priced as, and the grams of its used part that stand for a gram of the food. Of an egg and of
/// zest they are the same, for both halves of an egg are used sooner or later, and the lemon is there for
/// something else; a juice takes the whole fruit that is pressed.
pub(super) fn priced_as(larder: &Larder, food: FoodId) -> (FoodId, f64) {
    let Some(part) = bought_as(larder, food) else {
        return (food, 1.0);
    };
    let pressed = larder.food(food).key.ends_with("_juice");
    let of_fruit = each(larder, part.whole).filter(|_| pressed);
    (part.whole, of_fruit.map_or(1.0, |whole| whole / part.each))
}

/// Zest beside juice of the same fruit: a lemon that is pressed has been paid for, and its zest with it.
pub(super) struct Zest(Vec<(FoodId, f64)>);

impl Zest {
    /// Of all that a recipe uses, with its grams.
    pub(super) fn of(used: impl Iterator<Item = (FoodId, Mass)>, larder: &Larder) -> Self {
        // Of each fruit, how many are pressed and how many grated.
        let mut fruits: Vec<(FoodId, f64, Option<FoodId>, f64)> = Vec::new();
        for (food, grams) in used {
            let key = larder.food(food).key.as_str();
            let (juice, zest) = (key.ends_with("_juice"), key.ends_with("_zest"));
            let Some(part) = bought_as(larder, food).filter(|_| juice || zest) else {
                continue;
            };
            let at = fruits.iter().position(|f| f.0 == part.whole);
            let at = at.unwrap_or_else(|| {
                fruits.push((part.whole, 0.0, None, 0.0));
                fruits.len() - 1
            });
            let count = grams.as_grams() / part.each;
            let fruit = &mut fruits[at];
            if juice {
                fruit.1 += count;
            } else {
                fruit.2 = Some(food);
                fruit.3 += count;
            }
        }
        let priced = |(_, pressed, zest, grated): (FoodId, f64, Option<FoodId>, f64)| {
            let zest = zest.filter(|_| grated > 0.0)?;
            Some((zest, (grated - pressed).max(0.0) / grated))
        };
        Self(fruits.into_iter().filter_map(priced).collect())
    }

    /// The share of a food that is priced: of zest, what is not of fruit pressed for their juice.
    pub(super) fn priced(&self, food: FoodId) -> f64 {
        let found = self.0.iter().find(|(zest, _)| *zest == food);
        found.map_or(1.0, |(_, share)| *share)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A yolk of a large egg weighs 17 to 19 g (USDA SR28 01125): two needs of one yolk are two eggs.
    #[test]
    fn a_yolk_is_of_one_egg() {
        let larder = Larder::built_in().expect("the built-in tables");
        let yolk = larder.by_key("egg_yolk").expect("a yolk");
        let part = bought_as(&larder, yolk).expect("of an egg");
        let grams = |g: f64| Some(Spread::exact(Mass::grams(g)));
        let eggs = |all: &[f64]| {
            let parts: Vec<_> = all.iter().map(|g| (part, grams(*g))).collect();
            let (sum, words) = needed(&parts, &larder);
            (sum.map(|g| g.likely().as_grams().round()), words[0].clone())
        };
        assert_eq!(eggs(&[17.0, 19.0]), (Some(100.0), "2 × egg yolk".into()));
        assert_eq!(eggs(&[57.0]).1, "3 × egg yolk");
        assert_eq!(eggs(&[25.0]).1, "2 × egg yolk");
    }
}
