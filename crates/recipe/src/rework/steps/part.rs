//! What kind of part a component is, by its name and its ingredients.

use crate::Beforehand;
use crate::line::Line;
use crate::recipe::{Component, Recipe};
use crate::sentences::words;
use quantity::number_word;
use std::collections::{HashMap, HashSet};

/// What kind of part a component is, by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Part {
    /// Drizzled, spread or poured over at the end.
    Glaze,
    /// Strewn over: topping, crumb.
    Topping,
    /// Poured or spread into another.
    Filling,
    /// Crushed biscuits pressed into a tin.
    Base,
    /// What another is boiled, poached or dipped in; never baked itself.
    Bath,
    /// Rolled or shaped around a filling, or the bake itself.
    Dough,
    /// Any other.
    Other,
}

const KINDS: &[(Part, &[&str])] = &[
    (
        Part::Glaze,
        &[
            "glaze", "icing", "drizzle", "frosting", "syrup", "wash", "brush", "sauce", "ganache",
            "dip",
        ],
    ),
    (
        Part::Topping,
        &[
            "topping",
            "crumb",
            "crumbs",
            "streusel",
            "crumble",
            "decoration",
            "finish",
        ],
    ),
    (
        Part::Filling,
        &[
            "filling", "fill", "custard", "cream", "jam", "curd", "compote",
        ],
    ),
    (Part::Base, &["base"]),
    (Part::Bath, &["boiling", "bath", "poaching", "lye", "brine"]),
    (
        Part::Dough,
        &[
            "dough",
            "pastry",
            "crust",
            "shell",
            "case",
            "batter",
            "cake",
            "cakes",
            "sponge",
            "bread",
            "loaf",
            "buns",
            "rolls",
            "scones",
            "pie",
            "tart",
            "shortcrust",
            "brioche",
            "wrappers",
            "noodles",
            "pasta",
            "dumplings",
            "ravioli",
        ],
    ),
];

/// What is known of a component.
pub(super) struct Known {
    pub(super) name: Vec<String>,
    pub(super) part: Part,
    /// Words of its ingredients.
    pub(super) foods: HashSet<String>,
    /// The words of each of its ingredients' names.
    lines: Vec<Vec<String>>,
    pub(super) yeast: bool,
    pub(super) flour: bool,
    /// What of another it begins, where it is a poolish, a starter or the like.
    pub(super) beforehand: Option<Beforehand>,
}

impl Known {
    pub(super) fn of(component: &Component) -> Self {
        let name = words(&component.name);
        let part = name
            .iter()
            .rev()
            .find_map(|w| KINDS.iter().find(|(_, list)| any(w, list)))
            .map_or(Part::Other, |(p, _)| *p);
        let items = || {
            component
                .lines
                .iter()
                .flat_map(|l| l.items.iter().map(move |i| words(l.words(&i.name))))
        };
        let foods: HashSet<String> = items()
            .flatten()
            .filter(|w| w.chars().count() > 2)
            .collect();
        // Yeast extract and nutritional yeast raise nothing.
        let raises = |item: &Vec<String>| {
            item.iter()
                .any(|w| any(w, &["yeast", "starter", "sourdough"]))
                && !item.iter().any(|w| any(w, &["extract", "nutritional"]))
        };
        let lines = component.lines.iter().flat_map(|l| {
            let named = l.items.iter().map(|i| l.words(&i.name));
            named.map(|name| words(name.split([',', '(']).next().unwrap_or(name)))
        });
        Self {
            lines: lines.filter(|l| !l.is_empty()).collect(),
            yeast: items().any(|item| raises(&item)),
            flour: foods.contains("flour") || component.lines.iter().any(of_two_flours),
            beforehand: component.beforehand(),
            name,
            part,
            foods,
        }
    }

    /// Words of the name that stand at `i` of a sentence: how many, 0 when none. The last word
    /// alone will do ('the filling' for the leek filling).
    pub(super) fn named(&self, sentence: &[String], i: usize) -> usize {
        if self.name.is_empty() {
            return 0;
        }
        if sentence[i..].starts_with(&self.name) {
            return self.name.len();
        }
        usize::from(self.name.last() == sentence.get(i))
    }
}

/// 'Plain and wholemeal flour': read as two foods, neither called flour.
fn of_two_flours(line: &Line) -> bool {
    line.items.len() > 1 && words(&line.clean).iter().any(|w| w == "flour")
}

/// All components, and where their words are found.
pub(super) struct Parts {
    pub(super) known: Vec<Known>,
    /// Components by the first and the last word of their names.
    pub(super) names: HashMap<String, Vec<usize>>,
    /// Words of ingredients, and the one component that has them; `None` when several have.
    pub(super) foods: HashMap<String, Option<usize>>,
    /// The yeast dough.
    pub(super) yeast: Option<usize>,
    /// The part that 'the buns', 'the loaf' mean.
    pub(super) dough: Option<usize>,
    /// The part that the oven and the pan are for: the dough, else the last with flour in it.
    pub(super) main: Option<usize>,
}

impl Parts {
    pub(super) fn of(components: &[Component]) -> Self {
        let mut known: Vec<Known> = components.iter().map(Known::of).collect();
        let ripe = known
            .iter()
            .filter(|k| k.beforehand == Some(Beforehand::Ferment));
        let ripe: Vec<String> = ripe.filter_map(|k| k.name.last().cloned()).collect();
        for k in &mut known {
            k.yeast |= ripe.iter().any(|w| k.foods.contains(w));
        }
        let mut names: HashMap<String, Vec<usize>> = HashMap::new();
        let mut foods: HashMap<String, Option<usize>> = HashMap::new();
        for (c, k) in known.iter().enumerate() {
            for word in k.name.first().into_iter().chain(k.name.last()) {
                let places = names.entry(word.clone()).or_default();
                // Of many parts with one word the first few will do.
                if places.len() < 8 && places.last() != Some(&c) {
                    places.push(c);
                }
            }
            for word in &k.foods {
                foods
                    .entry(word.clone())
                    .and_modify(|only| *only = None)
                    .or_insert(Some(c));
            }
        }
        let is_dough = |k: &Known| k.yeast || k.part == Part::Dough && k.flour;
        let whole = |k: &Known| k.beforehand.is_none() && is_dough(k);
        let dough = known
            .iter()
            .position(whole)
            .or_else(|| known.iter().position(is_dough));
        let inner = |k: &Known| matches!(k.part, Part::Glaze | Part::Topping | Part::Filling);
        let main = dough.or_else(|| known.iter().rposition(|k| k.flour && !inner(k)));
        Self {
            main,
            yeast: yeast_dough(&known),
            known,
            names,
            foods,
            dough,
        }
    }

    /// The first that is drizzled over a bake: an egg wash is brushed on before.
    pub(super) fn poured(&self) -> Option<usize> {
        let is_wash =
            |k: &Known| (k.name.last()).is_some_and(|w| w.ends_with("wash") || w == "brush");
        self.known
            .iter()
            .position(|k| k.part == Part::Glaze && !is_wash(k))
    }

    /// The part without flour all of whose lines, two or more, a sentence names, and no food that it has not:
    /// 'boil the water and sugar' where the syrup is water and sugar. The one of whose names fewest words are
    /// not said; `None` where two are alike.
    pub(super) fn all_listed(&self, sentence: &[String]) -> Option<usize> {
        let said = |w: &&String| sentence.contains(*w);
        let unsaid = |k: &Known| k.lines.iter().flatten().filter(|w| !said(w)).count();
        let whole = |k: &Known| {
            let named = sentence.iter().filter(|w| self.foods.contains_key(*w));
            !k.flour
                && !k.yeast
                && k.lines.len() > 1
                && k.lines.iter().all(|l| l.last().is_some_and(|w| said(&w)))
                && named.into_iter().all(|w| k.foods.contains(w))
        };
        let all = || (0..self.known.len()).filter(|&c| whole(&self.known[c]));
        let least = all().map(|c| unsaid(&self.known[c])).min()?;
        let mut best = all().filter(|&c| unsaid(&self.known[c]) == least);
        best.next().filter(|_| best.next().is_none())
    }

    /// The one part that has every food some sentences name, two or more, where each of them is in another part
    /// too: 'melt the sugar, butter and cream' beside a sponge with sugar and butter, and ice cream.
    pub(super) fn holds_all(&self, sentences: &[Vec<String>]) -> Option<usize> {
        let named = sentences.iter().flatten();
        let mut named: Vec<&String> = named.filter(|w| self.foods.contains_key(*w)).collect();
        named.sort_unstable();
        named.dedup();
        let has = |c: &usize| named.iter().all(|w| self.known[*c].foods.contains(*w));
        let mut all = (0..self.known.len()).filter(has);
        let one = all.next().filter(|_| named.len() > 1);
        one.filter(|_| all.next().is_none())
    }

    /// The first component of a kind.
    pub(super) fn first(&self, part: Part) -> Option<usize> {
        self.known.iter().position(|k| k.part == part)
    }
}

/// Whether the last word of a component's name is one of some kinds of part.
fn is_one_of(name: &str, parts: &[Part]) -> bool {
    let words = words(name);
    let last = words.last();
    KINDS
        .iter()
        .filter(|(part, _)| parts.contains(part))
        .any(|(_, names)| last.is_some_and(|w| any(w, names)))
}

/// Whether a component's name says that it goes into or over a bake: filling, topping, glaze.
pub(crate) fn goes_on_a_bake(name: &str) -> bool {
    is_one_of(name, &[Part::Glaze, Part::Topping, Part::Filling])
}

/// Whether a component's name says that it is poured or spread over a bake: glaze, icing, sauce.
pub(crate) fn goes_over_a_bake(name: &str) -> bool {
    is_one_of(name, &[Part::Glaze])
}

/// Whether a component's name says that it is a filling.
pub(crate) fn is_filling(name: &str) -> bool {
    is_one_of(name, &[Part::Filling])
}

/// Whether a component's name says that it is rubbed to crumbs: a dough of its own.
pub(crate) fn is_crumb(name: &str) -> bool {
    const CRUMBS: &[&str] = &["crumb", "crumbs", "streusel", "crumble"];
    words(name).last().is_some_and(|w| any(w, CRUMBS))
}

/// Whether a step folds butter into a rolled dough, or folds that dough again.
pub(crate) fn laminates(text: &str) -> bool {
    const SAID: &[&str] = &[
        "laminat",
        "lock in the",
        "lock the butter",
        "enclose the butter",
        "butter block",
        "single fold",
        "double fold",
        "book fold",
        "letter fold",
        "business letter",
    ];
    let text = text.to_lowercase();
    let words: Vec<&str> = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .collect();
    let counted = words.windows(2).any(|w| {
        matches!(w[1], "fold" | "folds" | "turns")
            && (w[0] == "more" || number_word(w[0]).is_some() || w[0].parse::<u32>().is_ok())
    });
    let counted = counted || !turns(&text).is_empty();
    let folds = words.iter().any(|w| matches!(*w, "fold" | "folds"));
    let cold = text.contains("cold butter") || text.contains("slab of butter");
    // 'Roll out, lay the butter on one half, fold the other over it'; spread on it is a filling.
    let laid = words.iter().enumerate().any(|(n, w)| {
        let mut before = words[..n].iter().rev().take(4);
        *w == "butter" && before.any(|v| matches!(*v, "lay" | "place" | "put" | "set"))
    });
    let cold = cold || text.contains("roll") && laid;
    counted || folds && cold || SAID.iter().any(|s| text.contains(s))
}

/// Folds that a text counts one by one, with the bytes they end at: 'a second turn', 'the last letter fold', 'another
/// turn'; not 'first fold in the flour', 'turn out'.
pub(crate) fn turns(text: &str) -> Vec<(usize, String)> {
    const WHICH: [&str; 8] = [
        "first", "second", "third", "fourth", "fifth", "sixth", "last", "final",
    ];
    const KINDS: [&str; 5] = ["single", "double", "letter", "book", "simple"];
    let lower = text.to_ascii_lowercase();
    let split = lower.split(|c: char| !c.is_alphanumeric());
    let said: Vec<&str> = split.filter(|w| !w.is_empty()).collect();
    let end = |w: &str| w.as_ptr() as usize - lower.as_ptr() as usize + w.len();
    let mut out = Vec::new();
    for (n, word) in said.iter().enumerate() {
        if !matches!(*word, "turn" | "fold") {
            continue;
        }
        let mut before = said[..n].iter().rev().filter(|w| !KINDS.contains(w));
        let which = before.next().copied().unwrap_or_default();
        let article = matches!(before.next(), Some(&("a" | "the" | "its" | "your")));
        if which == "another" || article && WHICH.contains(&which) {
            out.push((end(word), which.to_owned()));
        }
    }
    out
}

/// What is rolled into a dough by its food.
const FATS: [&str; 4] = ["butter", "fat", "lard", "margarine"];

/// Whether a component is butter or fat that a step folds into a dough: by its name, or nothing else is in it, as in
/// 'layers', and its name says nothing else.
pub(crate) fn is_folded_in(recipe: &Recipe, name: &str) -> bool {
    let fat = |said: &[String]| said.iter().any(|w| FATS.contains(&w.as_str()));
    let named = fat(&words(name)) || name.to_lowercase().contains("laminat");
    let only = || {
        let mut all = recipe.components.iter();
        let of = all.find(|c| c.name == name && !c.name.is_empty());
        of.is_some_and(|c| {
            let known = Known::of(c);
            let melted = known.foods.iter().any(|w| w == "melted" || w == "soft");
            let items = || known.lines.iter().filter(|l| !l.is_empty());
            let to = known.name.first().is_some_and(|w| w == "to" || w == "for");
            known.part == Part::Other
                && !to
                && !melted
                && items().count() > 0
                && items().all(|l| fat(l))
        })
    };
    (named || only()) && recipe.steps.iter().any(|s| laminates(&s.text))
}

/// Whether a word is the name of a part, or what is done with it: 'ice' for the icing.
pub(crate) fn is_called(word: &str, name: &str) -> bool {
    word == name || matches!((word, name), ("frost", "frosting") | ("ice", "icing"))
}

/// The yeast dough: a sponge or starter that goes into it stands before it.
fn yeast_dough(known: &[Known]) -> Option<usize> {
    let yeasted = |k: &Known| k.yeast && k.part != Part::Glaze && k.part != Part::Topping;
    known
        .iter()
        .position(|k| yeasted(k) && k.part == Part::Dough && k.beforehand.is_none())
        // The list under no heading is the bread itself, a paste with yeast goes on it.
        .or_else(|| {
            let bread = |k: &Known| yeasted(k) && k.flour && k.name.is_empty();
            known.iter().position(bread)
        })
        .or_else(|| {
            known
                .iter()
                .rposition(|k| yeasted(k) && k.beforehand.is_none())
        })
        .or_else(|| known.iter().rposition(yeasted))
}

pub(super) fn any(word: &str, list: &[&str]) -> bool {
    list.iter()
        .any(|w| *w == word || w.strip_suffix('s') == Some(word))
}
