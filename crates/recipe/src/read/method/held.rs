//! What the lines of a recipe hold, to tell what only its method names.

use super::named::whole_head_of;
use super::unlisted::last_word;
use crate::recipe::Recipe;
use larder::{Allergen, Food, FoodId, Function, Gluten, Larder};
use std::ops::Range;

/// What methods call things of a packet, without their s, and words of the names of such.
const KINDS: [(&[&str], &[&str]); 2] = [
    (
        &["biscuit", "cookie"],
        &[
            "biscuits",
            "cookies",
            "wafers",
            "crackers",
            "ladyfingers",
            "amaretti",
            "oatcakes",
        ],
    ),
    (
        &["cracker"],
        &["crackers", "crispbread", "matzo", "oatcakes", "biscuits"],
    ),
];

/// Whether a food is of a kind.
type IsOfKind = fn(&Food) -> bool;
/// What a method calls foods of a kind, without its s, and whether a food is of that kind: 'scatter the nuts'
/// over means the pecans of the list.
const OF_A_KIND: [(&str, IsOfKind); 11] = [
    ("nut", |f| {
        f.function() == Function::Nut && !f.key.starts_with("coconut")
    }),
    ("seed", |f| {
        f.does(Function::Seed) || f.name.ends_with(" seeds") && !f.does(Function::Fruit)
    }),
    ("spice", |f| f.function() == Function::Spice),
    ("dried fruit", |f| {
        f.function() == Function::Fruit && f.key.ends_with("_dried")
            || DRIED_FRUIT.contains(&f.key.as_str())
    }),
    ("chocolate", |f| {
        f.function() == Function::Chocolate
            && f.name.contains("chocolate")
            && !f.does(Function::Sugar)
    }),
    ("cheese", |f| {
        f.function() == Function::Inclusion && f.does(Function::Dairy)
            || CHEESES.contains(&f.key.as_str())
    }),
    ("meat", |f| {
        f.function() == Function::Meat && !is_of_water(f)
    }),
    ("fish", |f| f.function() == Function::Meat && is_of_water(f)),
    ("alcohol", |f| f.function() == Function::Alcohol),
    ("spirit", |f| {
        f.function() == Function::Alcohol && !f.does(Function::Liquid)
    }),
    ("liqueur", |f| {
        f.function() == Function::Alcohol && f.does(Function::Sugar) && f.does(Function::Flavour)
    }),
];
/// Keys of dried fruits beside those that end in 'dried'.
const DRIED_FRUIT: [&str; 8] = [
    "raisins",
    "sultanas",
    "golden_raisins",
    "currants",
    "dates",
    "medjool_dates",
    "mixed_dried_fruit",
    "prunes",
];
/// Keys of cheeses that are dairy first.
const CHEESES: [&str; 7] = [
    "cottage_cheese",
    "cream_cheese",
    "goat_cheese",
    "light_cream_cheese",
    "mascarpone",
    "quark",
    "ricotta",
];
/// What is done to foods of a kind before they go in, and says nothing of which.
const DONE_TO: [&str; 12] = [
    "chopped", "toasted", "roasted", "roast", "crushed", "grated", "melted", "soaked", "whole",
    "crumbled", "cooked", "cooled",
];

fn is_of_water(food: &Food) -> bool {
    let of = [Allergen::Fish, Allergen::Crustacean, Allergen::Mollusc];
    food.allergens
        .iter()
        .any(|(a, maybe)| !maybe && of.contains(a))
}

/// What a method makes itself, where it speaks of 'the custard', and what of the list it is made of.
const MADE_OF: [(&str, &[&str]); 8] = [
    ("custard", EGG),
    ("curd", EGG),
    ("meringue", EGG),
    ("mousseline", EGG),
    ("sabayon", EGG),
    ("caramel", &["sugar"]),
    ("ganache", &["chocolate"]),
    ("syrup", &["sugar", "honey"]),
];
const EGG: &[&str] = &["egg", "eggs", "yolk", "yolks", "white", "whites"];

/// What the lines hold.
pub(crate) struct Held<'a> {
    foods: Vec<&'a Food>,
    /// Last words of what the larder does not know.
    unknown: Vec<String>,
    /// What the lines say, in small letters.
    texts: Vec<String>,
    /// Names of the parts, in small letters.
    parts: Vec<String>,
    /// 'The flour' of the method is one that the list names, of wheat where it is none of another kind.
    pub(crate) flour: bool,
}

impl<'a> Held<'a> {
    /// Of a recipe's lines as they were read.
    pub(crate) fn of(recipe: &Recipe, larder: &'a Larder) -> Self {
        let lines = || recipe.components.iter().flat_map(|c| &c.lines);
        let items = || lines().flat_map(|l| l.items.iter().map(move |i| (l, i)));
        let texts: Vec<String> = lines().map(|l| l.clean.to_lowercase()).collect();
        Self {
            foods: items()
                .flat_map(|(_, i)| {
                    let own = i.food.iter().map(|m| m.food);
                    own.chain(i.further().map(|f| f.0))
                        .chain(i.alternatives.iter().copied())
                })
                .map(|f| larder.food(f))
                .collect(),
            unknown: items()
                .filter(|(_, i)| i.food.is_none())
                .flat_map(|(l, i)| last_word(l.words(&i.name)))
                .collect(),
            flour: texts.iter().any(|t| t.contains("flour")),
            texts,
            parts: recipe.components.iter().map(|c| c.name.clone()).collect(),
        }
    }

    /// Of lines that were reworked: a wheat flour that was replaced is held no longer.
    ///
    /// # Arguments
    /// * `lines` — food, where it is known, and words of each line that is left, blend flours too.
    /// * `parts` — names of the parts.
    pub(crate) fn of_lines(
        lines: impl Iterator<Item = (Option<FoodId>, String)>,
        parts: Vec<String>,
        larder: &'a Larder,
    ) -> Self {
        let (mut foods, mut unknown, mut texts) = (Vec::new(), Vec::new(), Vec::new());
        for (food, words) in lines {
            match food {
                Some(f) => foods.push(larder.food(f)),
                None => unknown.extend(last_word(&words)),
            }
            texts.push(words.to_lowercase());
        }
        Self {
            flour: foods
                .iter()
                .any(|f| f.is_flour_phase() && f.gluten == Gluten::Contains),
            foods,
            unknown,
            texts,
            parts,
        }
    }

    /// Whether a line holds the food, or what its name may mean.
    pub(crate) fn stands(&self, food: &Food) -> bool {
        let last = last_word(&food.name);
        let egg = food.function() == Function::Egg;
        // 'Butter' stands for unsalted butter, not for that of peanuts: what a line holds has to hold
        // all that this brings.
        let is = |l: &&Food| {
            // What is surely in it is not met by what may be in a line's, nor its label by none.
            let holds = |a: &(Allergen, bool)| {
                let mut all = l.allergens.iter();
                all.any(|b| b.0 == a.0 && (a.1 || !b.1))
            };
            let label = food.gluten != Gluten::Check || l.gluten != Gluten::Free;
            l.key == food.key
                || egg && l.function() == Function::Egg
                || label && last_word(&l.name) == last && food.allergens.iter().all(holds)
        };
        self.foods.iter().any(is) || last.is_some_and(|w| self.unknown.contains(&w))
    }

    /// Whether the lines have what the method makes a thing of itself: the eggs of 'the custard'.
    pub(crate) fn makes(&self, word: &str) -> bool {
        let made = MADE_OF.iter().find(|(w, _)| *w == word);
        made.is_some_and(|(_, of)| of.iter().any(|w| self.says(w)))
    }

    /// Whether a line holds an oil that brings no allergen for certain: what a method calls 'oil'.
    pub(super) fn has_an_oil(&self) -> bool {
        let plain = |f: &&&Food| f.allergens.iter().all(|(_, maybe)| *maybe);
        let mut foods = self.foods.iter().filter(plain);
        foods.any(|f| f.name.split(' ').next_back() == Some("oil"))
    }

    /// Whether a line holds this very food.
    pub(crate) fn is_listed(&self, food: &Food) -> bool {
        self.foods.iter().any(|f| f.key == food.key)
    }

    /// Whether words, in small letters, call what a line holds by no more than its kind: 'the chopped nuts' of
    /// the pecans. Another food of that kind, 'walnuts', is not called so.
    pub(crate) fn has_of_kind(&self, words: &str) -> bool {
        let mut words = words;
        while let Some((_, rest)) = words
            .split_once(' ')
            .filter(|(done, _)| DONE_TO.contains(done))
        {
            words = rest;
        }
        let one = words.strip_suffix('s').unwrap_or(words);
        let kind = OF_A_KIND.iter().find(|(w, _)| *w == one);
        kind.is_some_and(|(_, is)| self.foods.iter().any(|f| is(f)))
    }

    /// Whether 'biscuits' or 'crackers' of a text are a line's of another name: of ginger nuts, digestives.
    /// One that holds no gluten is meant only by 'the biscuits', and where they are crushed.
    /// So is whatever is called by its kind alone, see [`Self::has_of_kind`].
    pub(crate) fn is_kind_of_line(&self, text: &str, name: &Range<usize>) -> bool {
        let named = text[name.clone()].to_lowercase();
        if self.has_of_kind(&named) {
            return true;
        }
        let named = named.split(' ').next().unwrap_or_default();
        let named = named.strip_suffix('s').unwrap_or(named);
        let Some((_, kinds)) = KINDS.iter().find(|(words, _)| words.contains(&named)) else {
            return false;
        };
        let before = text[..name.start].trim_end().to_lowercase();
        let theirs = before.ends_with("the") || before.ends_with("crush");
        let of = |food: &&Food| {
            let mut words = food.name.split(|c: char| !c.is_alphabetic());
            let kind = words.any(|w| kinds.contains(&w));
            kind && (theirs || food.gluten == Gluten::Contains)
        };
        self.foods.iter().any(of)
    }

    /// Whether 'the flour' of a text is one of the list: a flour of gluten that is named by its kind, 'plain flour',
    /// is that only beside one that holds gluten.
    pub(crate) fn is_its_flour(&self, food: &Food, words: &str) -> bool {
        let bare = matches!(words, "flour" | "flours");
        let holds = |f: &&Food| f.is_flour_phase() && f.gluten == Gluten::Contains;
        food.is_flour_phase() && self.flour && (bare || self.foods.iter().any(holds))
    }

    /// Whether a title's words at a place only name the bake: all of them where flour is listed, it may be made of
    /// that; what it ends in before 'with' and the like; what stands before that, where a line holds gluten:
    /// 'bread pudding' of a baguette.
    pub(crate) fn names_the_bake(&self, title: &str, name: &Range<usize>) -> bool {
        let head = whole_head_of(title);
        let ends = |joint: &str| title[name.end..].starts_with(joint);
        let last = name.end == head.len() || ends(" and ") || ends(" & ");
        let holds = || self.foods.iter().any(|f| f.gluten == Gluten::Contains);
        self.flour || name.end <= head.len() && (last || holds())
    }

    /// Whether some food of the lines brings an allergen for certain.
    pub(super) fn brings(&self, allergen: Allergen) -> bool {
        let mut foods = self.foods.iter();
        foods.any(|f| f.allergens.contains(&(allergen, false)))
    }

    /// Whether a line has the words, in small letters, as words of their own: 'ale' is not in kale, nor
    /// cream in cream of tartar.
    pub(crate) fn says(&self, words: &str) -> bool {
        self.texts.iter().any(|t| has_words(t, words))
    }

    /// Whether a bake may be made of what is listed: of a flour by its name, of semolina or ground nuts.
    pub(crate) fn has_flour(&self) -> bool {
        self.says("flour") || self.foods.iter().any(|f| f.is_flour_phase())
    }

    /// Whether a word of the lines begins so: 'cauli'.
    pub(crate) fn begins(&self, start: &str) -> bool {
        let mut words = self
            .texts
            .iter()
            .flat_map(|t| t.split(|c: char| !c.is_alphanumeric()));
        words.any(|w| w.starts_with(start))
    }

    /// Whether the words name a part whole.
    pub(super) fn is_whole_part(&self, words: &str) -> bool {
        let mut named = self.parts.iter().filter(|n| !n.is_empty());
        named.any(|n| words.contains(n.as_str()))
    }

    /// Whether a part is called so, or by more of the same: 'stuffing' of 'pork stuffing'.
    pub(super) fn has_part(&self, name: &str) -> bool {
        let last = |p: &String| p == name || p.ends_with(&format!(" {name}"));
        !name.is_empty() && self.parts.iter().any(last)
    }

    /// Whether the words are of a part's name, or its name of them.
    pub(crate) fn is_part(&self, words: &str) -> bool {
        let mut named = self.parts.iter().filter(|n| !n.is_empty());
        named.any(|n| n.contains(words) || words.contains(n.as_str()))
    }
}

/// Whether a text has the words whole, one or several of a thing.
fn has_words(text: &str, words: &str) -> bool {
    text.match_indices(words).any(|(at, found)| {
        let before = text[..at].chars().next_back();
        let after = &text[at + found.len()..];
        let after = after
            .strip_prefix("es")
            .or_else(|| after.strip_prefix('s'))
            .unwrap_or(after);
        let within = |c: Option<char>| c.is_some_and(char::is_alphanumeric);
        !within(before) && !within(after.chars().next()) && !after.starts_with(" of ")
    })
}

#[cfg(test)]
mod tests {
    use super::has_words;

    #[test]
    fn words_are_whole() {
        for (text, words, has) in [
            ("200 g kale", "ale", false),
            ("1 tsp cream of tartar", "cream", false),
            ("100 ml double cream, cold", "cream", true),
            ("2 eggs", "egg", true),
            ("1 eggplant", "egg", false),
            ("50 g vegan butter for the tin", "butter", true),
            ("10 g maltodextrin", "malt", false),
            ("80 g radishes", "radish", true),
        ] {
            assert_eq!(has_words(text, words), has, "{words} in {text}");
        }
    }
}
