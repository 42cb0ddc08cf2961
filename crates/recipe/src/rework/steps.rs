//! Which component each step of the method is about.
//!
//! In this order: the heading it stands under; 'Make the filling', 'For the base', 'FILLING:';
//! the part it crushes or breaks up for another; the first part it does something to; the dough
//! where it kneads, rolls, shapes, bakes or puts another part over or into it, and where the oven
//! or the pan is made ready; the glaze where it drizzles; the part whose own
//! ingredients it names; else the part of the step before.

use crate::aside::taking;
use crate::recipe::{Activity, Component, FactKind, Heat, Recipe, Step};
use crate::weigh::is_preferment;
use std::collections::{HashMap, HashSet};

/// What kind of part a component is, by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Part {
    /// Drizzled, spread or poured over at the end.
    Glaze,
    /// Strewn over: topping, crumb.
    Topping,
    /// Poured or spread into another.
    Filling,
    /// Crushed biscuits pressed into a tin.
    Base,
    /// Rolled or shaped around a filling, or the bake itself.
    Dough,
    /// Any other.
    Other,
}

const KINDS: &[(Part, &[&str])] = &[
    (
        Part::Glaze,
        &[
            "glaze", "icing", "drizzle", "frosting", "syrup", "wash", "sauce", "ganache",
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
        ],
    ),
];

/// Words that stand before the name of a part that is not what the step works on.
const INTO: &[&str] = &[
    "over",
    "onto",
    "on",
    "into",
    "in",
    "with",
    "around",
    "to",
    "from",
    "of",
    "between",
    "for",
    "under",
    "inside",
    "reserved",
    "remaining",
    "through",
    "against",
    "along",
    "beside",
    "off",
];
/// Words that may stand between those and the name.
const ARTICLES: &[&str] = &[
    "the", "a", "an", "your", "its", "their", "rest", "half", "all", "some", "prepared", "cooled",
    "cold", "hot", "warm", "chilled", "baked", "each", "top", "of",
];
const CRUSHING: &[&str] = &["crush", "crushed", "blitz", "bash"];
/// Words of ingredient names that say nothing about which part they are in.
const COMMON: &[&str] = &[
    "the",
    "and",
    "for",
    "until",
    "about",
    "from",
    "well",
    "very",
    "without",
    "them",
    "all",
    "cold",
    "warm",
    "soft",
    "softened",
    "melted",
    "fine",
    "large",
    "medium",
    "small",
    "whole",
    "fresh",
    "chopped",
    "grated",
    "sliced",
    "baking",
    "plain",
    "purpose",
    "temperature",
    "room",
    "half",
    "extra",
    "into",
    "with",
    "plus",
    "more",
    "powder",
    "light",
    "dark",
    "white",
    "brown",
    "flour",
    "water",
    "salt",
    "sugar",
    "butter",
    "egg",
    "milk",
    "pan",
    "tin",
    "oven",
    "unsalted",
    "freshly",
    "ground",
    "finely",
    "thinly",
    "lightly",
    "pieces",
    "pinch",
    "reserved",
    "topping",
];

/// The words of a text, lower case, without a plural's 's'.
fn words(text: &str) -> Vec<String> {
    text.split(|c: char| !c.is_alphanumeric() && c != '\'' && c != '’')
        .filter(|w| !w.is_empty())
        .map(|w| stem(&w.to_lowercase()))
        .collect()
}

fn stem(word: &str) -> String {
    let long = word.len() > 3 && !word.ends_with("ss");
    match word.strip_suffix('s').filter(|_| long) {
        Some(one) => one.to_owned(),
        None => word.to_owned(),
    }
}

fn any(word: &str, list: &[&str]) -> bool {
    list.iter()
        .any(|w| *w == word || w.strip_suffix('s') == Some(word))
}

/// What is known of a component.
struct Known {
    name: Vec<String>,
    part: Part,
    /// Words of its ingredients.
    foods: HashSet<String>,
    yeast: bool,
    flour: bool,
    /// A poolish, a starter or the like, that goes into another.
    preferment: bool,
}

impl Known {
    fn of(component: &Component) -> Self {
        let name = words(&component.name);
        let part = name
            .iter()
            .rev()
            .find_map(|w| KINDS.iter().find(|(_, list)| any(w, list)))
            .map_or(Part::Other, |(p, _)| *p);
        let foods: HashSet<String> = component
            .lines
            .iter()
            .flat_map(|l| l.items.iter().flat_map(|i| words(l.words(&i.name))))
            .filter(|w| w.chars().count() > 2)
            .collect();
        Self {
            yeast: ["yeast", "starter", "sourdough"]
                .iter()
                .any(|w| foods.contains(*w)),
            flour: foods.contains("flour"),
            preferment: is_preferment(&component.name.to_lowercase()) || name == ["sponge"],
            name,
            part,
            foods,
        }
    }

    /// Words of the name that stand at `i` of a sentence: how many, 0 when none. The last word
    /// alone will do ('the filling' for the leek filling).
    fn named(&self, sentence: &[String], i: usize) -> usize {
        if self.name.is_empty() {
            return 0;
        }
        if sentence[i..].starts_with(&self.name) {
            return self.name.len();
        }
        usize::from(self.name.last() == sentence.get(i))
    }
}

/// All components, and where their words are found.
struct Parts {
    known: Vec<Known>,
    /// Components by the first and the last word of their names.
    names: HashMap<String, Vec<usize>>,
    /// Words of ingredients, and the one component that has them; `None` when several have.
    foods: HashMap<String, Option<usize>>,
    /// The yeast dough.
    yeast: Option<usize>,
    /// The part that 'the buns', 'the loaf' mean.
    dough: Option<usize>,
    /// The part that the oven and the pan are for: the dough, else the last with flour in it.
    main: Option<usize>,
}

impl Parts {
    fn of(components: &[Component]) -> Self {
        let known: Vec<Known> = components.iter().map(Known::of).collect();
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
        let dough = known
            .iter()
            .position(|k| k.yeast || k.part == Part::Dough && k.flour);
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

    /// The first component of a kind.
    fn first(&self, part: Part) -> Option<usize> {
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
    const COUNTS: &[&str] = &["one", "two", "three", "four", "five", "six", "more"];
    let text = text.to_lowercase();
    let words: Vec<&str> = text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .collect();
    let counted = words.windows(2).any(|w| {
        matches!(w[1], "fold" | "folds" | "turns")
            && (COUNTS.contains(&w[0]) || w[0].parse::<u32>().is_ok())
    });
    let folds = words.iter().any(|w| matches!(*w, "fold" | "folds"));
    let cold = text.contains("cold butter") || text.contains("slab of butter");
    counted || folds && cold || SAID.iter().any(|s| text.contains(s))
}

/// Whether a component is butter or fat that a step folds into a dough.
pub(crate) fn is_folded_in(recipe: &Recipe, name: &str) -> bool {
    let name = name.to_lowercase();
    let fat = words(&name)
        .iter()
        .any(|w| matches!(w.as_str(), "butter" | "fat" | "lard" | "margarine"));
    (fat || name.contains("laminat")) && recipe.steps.iter().any(|s| laminates(&s.text))
}

/// The component each step is about, by place in the recipe.
pub fn steps_of(recipe: &Recipe) -> Vec<usize> {
    let parts = Parts::of(&recipe.components);
    let mut now = 0;
    recipe
        .steps
        .iter()
        .map(|step| {
            now = match step.component {
                Some(c) => c,
                None if parts.known.len() < 2 => 0,
                None => about(step, &parts, now),
            };
            now
        })
        .collect()
}

/// So many words of a step are looked at.
const WORDS: usize = 400;

fn about(step: &Step, parts: &Parts, now: usize) -> usize {
    let known = &parts.known;
    let text = taking(&step.text);
    let sentences: Vec<Vec<String>> = text
        .split_inclusive(['.', ';', '!'])
        .map(words)
        .map(|mut s| {
            // 'Cream the butter' is no cream.
            if s.len() > 1 && s[0] == "cream" && does(step, Activity::Cream) {
                s.remove(0);
            }
            s
        })
        .filter(|s| !s.is_empty())
        .scan(0, |before, s| {
            let open = *before < WORDS;
            *before += s.len();
            open.then_some(s)
        })
        .collect();
    if let Some(c) = labelled(&step.text, known) {
        return c;
    }
    if let Some(c) = sentences.iter().take(3).find_map(|s| made(s, parts)) {
        return c;
    }
    if let Some(c) = crushed(&sentences, parts) {
        return c;
    }
    let object = sentences.iter().find_map(|s| object(s, parts));
    let does = |list: &[Activity]| list.iter().any(|a| does(step, *a));
    let yeast = parts.yeast;
    // A preferment is not kneaded or baked, and what is mixed with it is the dough.
    if let Some(c) = object.filter(|c| known[*c].preferment)
        && let Some(dough) = yeast.filter(|d| *d != c)
        && (does(&[
            Activity::Knead,
            Activity::KnockBack,
            Activity::Windowpane,
            Activity::Bake,
        ]) || sentences.iter().any(|s| mixed_in(s, &known[c])))
    {
        return dough;
    }
    // A kneaded or risen part is the one with the yeast, whatever else the step names.
    if let Some(c) = object.filter(|c| known[*c].yeast) {
        return c;
    }
    if let Some(dough) = yeast.filter(|_| {
        does(&[
            Activity::Knead,
            Activity::Rise,
            Activity::KnockBack,
            Activity::Windowpane,
        ])
    }) {
        return dough;
    }
    // 'Roll out, spread the cream, roll up', 'give two folds': work on the dough.
    let goes_in = |c: usize| matches!(known[c].part, Part::Filling | Part::Topping | Part::Glaze);
    let rolls = sentences.first().is_some_and(|s| s[0] == "roll") && does(&[Activity::Roll]);
    if let Some(dough) = parts.dough
        && (rolls && object.is_some_and(goes_in) || laminates(&text))
    {
        return dough;
    }
    let foods = by_foods(&sentences, parts);
    let side = |c: usize| matches!(known[c].part, Part::Glaze | Part::Topping);
    if let Some(main) = whole(step, &sentences, parts, object, foods) {
        return main;
    }
    if let Some(c) = put_on(step, &sentences, parts, object.or(foods), now) {
        return c;
    }
    if let Some(c) = object {
        return c;
    }
    if does(&[Activity::Bake, Activity::Roll, Activity::Shape]) {
        return match (yeast, foods) {
            (Some(dough), _) => dough,
            (None, Some(c)) if !side(c) && known[c].part != Part::Filling => c,
            _ => baked(known, now),
        };
    }
    let pours = sentences
        .iter()
        .flatten()
        .any(|w| any(w, &["drizzle", "glaze", "ice", "frost"]));
    if pours && let Some(c) = parts.first(Part::Glaze) {
        return c;
    }
    foods.unwrap_or(now)
}

/// 'Press in the plums and bake': what is baked is the batter or dough that the part without flour is put
/// in or on, unless it is mixed there or sets by itself.
fn put_on(
    step: &Step,
    sentences: &[Vec<String>],
    parts: &Parts,
    put: Option<usize>,
    now: usize,
) -> Option<usize> {
    const PUTS: &[&str] = &[
        "arrange", "fill", "lay", "pile", "pour", "press", "scatter", "spoon", "spread", "sprinkle",
    ];
    const SETS: &[&str] = &[
        "cheese", "cream", "egg", "milk", "yogurt", "yoghurt", "yolk",
    ];
    let put = &parts.known[put?];
    let sets = SETS.iter().any(|w| put.foods.contains(*w));
    let puts = sentences.iter().flatten().any(|w| any(w, PUTS));
    if put.flour
        || put.yeast
        || sets
        || !puts
        || !does(step, Activity::Bake)
        || does(step, Activity::Mix)
    {
        return None;
    }
    let before = &parts.known[now];
    let inner = matches!(before.part, Part::Glaze | Part::Topping | Part::Filling);
    Some(now).filter(|_| before.flour && !inner).or(parts.main)
}

/// The dough, where a step puts another part over or into it, or makes the oven or the pan ready.
fn whole(
    step: &Step,
    sentences: &[Vec<String>],
    parts: &Parts,
    object: Option<usize>,
    foods: Option<usize>,
) -> Option<usize> {
    const TOGETHER: &[&str] = &[
        "scatter", "sprinkle", "strew", "spread", "layer", "top", "pour", "spoon", "press",
    ];
    let inner = |c: usize| {
        let part = parts.known[c].part;
        matches!(part, Part::Topping | Part::Filling)
    };
    let main = parts.main?;
    let word = |list: &[&str]| sentences.iter().flatten().any(|w| any(w, list));
    let named = |c: usize| {
        let k = &parts.known[c];
        let name = sentences
            .iter()
            .any(|s| (0..s.len()).any(|i| k.named(s, i) > 0));
        name || word(&["batter", "dough", "pastry"])
    };
    let strewn = |c: usize| {
        let named =
            named(main) || does(step, Activity::Bake) && parts.known[c].part == Part::Topping;
        inner(c) && c != main && named
    };
    if object.is_some_and(strewn) && word(TOGETHER) {
        return Some(main);
    }
    let ready = step.facts.iter().any(|f| match &f.kind {
        FactKind::Pan { .. } | FactKind::Doing(Activity::Grease) => true,
        FactKind::Temperature { of, .. } => matches!(of, Heat::Oven | Heat::FanOven),
        _ => false,
    });
    let bakes = does(step, Activity::Bake);
    let free = |c: Option<usize>| c.is_none_or(|c| parts.known[c].part == Part::Topping);
    (ready && !bakes && free(object) && free(foods)).then_some(main)
}

/// 'Mix the poolish with everything else', 'add the water to the starter'.
fn mixed_in(sentence: &[String], part: &Known) -> bool {
    (0..sentence.len()).any(|i| {
        let n = part.named(sentence, i);
        let next = sentence.get(i + n).map_or("", String::as_str);
        let before = sentence[..i].iter().rev().find(|w| !any(w, ARTICLES));
        n > 0
            && (any(next, &["with", "into", "in", "to"])
                || before.is_some_and(|w| any(w, &["to", "add", "with", "into"])))
    })
}

/// The yeast dough: a sponge or starter that goes into it stands before it.
fn yeast_dough(known: &[Known]) -> Option<usize> {
    let yeasted = |k: &Known| k.yeast && k.part != Part::Glaze && k.part != Part::Topping;
    known
        .iter()
        .position(|k| yeasted(k) && k.part == Part::Dough && !k.preferment)
        .or_else(|| known.iter().rposition(|k| yeasted(k) && !k.preferment))
        .or_else(|| known.iter().rposition(yeasted))
}

/// The part that is baked when nothing says which: the dough around what was worked on last, or
/// that itself.
fn baked(known: &[Known], now: usize) -> usize {
    let inner = matches!(known[now].part, Part::Glaze | Part::Topping | Part::Filling);
    if !inner {
        return now;
    }
    let dough = known
        .iter()
        .position(|k| k.part == Part::Dough && k.flour)
        .or_else(|| {
            let alone = known[now].part != Part::Filling;
            known
                .iter()
                .position(|k| alone && k.flour && k.part == Part::Other)
        });
    dough.unwrap_or(now)
}

/// 'FILLING: melt the butter'.
fn labelled(text: &str, known: &[Known]) -> Option<usize> {
    let (label, _) = text.split_once(':').filter(|(l, _)| l.len() <= 40)?;
    let label = words(label);
    let named =
        |k: &Known| !k.name.is_empty() && (label.ends_with(&k.name) || k.name.ends_with(&label));
    known.iter().position(named).filter(|_| !label.is_empty())
}

/// 'Make the filling', 'For the base'.
fn made(sentence: &[String], parts: &Parts) -> Option<usize> {
    const MAKE: &[&str] = &["make", "prepare", "for"];
    let skip = usize::from(any(
        sentence.first()?,
        &["meanwhile", "to", "now", "next", "then"],
    ));
    let verb = any(sentence.get(skip)?, MAKE);
    let from = if verb { skip + 1 } else { skip };
    let article = any(sentence.get(from)?, &["the", "a", "your"]);
    let from = from + usize::from(article);
    if from >= sentence.len() || !verb {
        return None;
    }
    // The name, perhaps behind a word of its own: 'make the quick glaze'.
    (from..sentence.len().min(from + 3)).find_map(|i| longest(sentence, i, parts))
}

/// The component with the longest name at `i`, the first of equals.
fn longest(sentence: &[String], i: usize, parts: &Parts) -> Option<usize> {
    let places = parts.names.get(sentence.get(i)?)?;
    let (c, n) = places
        .iter()
        .rev()
        .map(|c| (*c, parts.known[*c].named(sentence, i)))
        .max_by_key(|(_, n)| *n)?;
    (n > 0).then_some(c)
}

/// The base, where a step crushes biscuits that are its ingredient.
fn crushed(sentences: &[Vec<String>], parts: &Parts) -> Option<usize> {
    let crushes = sentences.iter().flatten().any(|w| any(w, CRUSHING));
    if !crushes {
        return None;
    }
    let crumbs = |k: &Known| k.foods.contains("crushed");
    parts
        .first(Part::Base)
        .or_else(|| parts.known.iter().position(crumbs))
}

/// The first part the sentence does something to: not 'over the base', not 'the remaining
/// glaze'.
fn object(sentence: &[String], parts: &Parts) -> Option<usize> {
    const BAKES: &[&str] = &["dough", "pastry", "bun", "loaf", "cake", "pie"];
    let mut i = 0;
    while i < sentence.len() {
        let found = longest(sentence, i, parts).or_else(|| {
            // 'Brush the buns': the dough, under another name.
            parts.dough.filter(|_| any(&sentence[i], BAKES))
        });
        let Some(c) = found else {
            i += 1;
            continue;
        };
        let next = i + parts.known[c].named(sentence, i).max(1);
        // 'the base of the tin', 'the dough hook' are other things.
        let other = sentence
            .get(next)
            .is_some_and(|w| any(w, &["of", "hook", "cutter", "tin", "scraper"]));
        let mut before = sentence[..i].iter().rev().take(4);
        let last = before.clone().next();
        let aside = before.find(|w| !any(w, ARTICLES)).or(last);
        let aside = [aside, last].into_iter().flatten().any(|w| any(w, INTO));
        if !other && !aside {
            return Some(c);
        }
        i = next;
    }
    None
}

/// The part most of whose own ingredients the step names; the first named wins a tie.
fn by_foods(sentences: &[Vec<String>], parts: &Parts) -> Option<usize> {
    let mut seen: HashSet<&str> = HashSet::new();
    // Component, how many words, and where the first stands.
    let mut found: Vec<(usize, usize, usize)> = Vec::new();
    for (at, word) in sentences.iter().flatten().enumerate() {
        let Some(Some(c)) = parts.foods.get(word) else {
            continue;
        };
        let count = word.starts_with(|c: char| c.is_ascii_digit());
        if count || any(word, COMMON) || !seen.insert(word) {
            continue;
        }
        match found.iter_mut().find(|(x, ..)| x == c) {
            Some((_, score, _)) => *score += 1,
            None => found.push((*c, 1, at)),
        }
    }
    found
        .into_iter()
        .max_by_key(|(_, score, at)| (*score, usize::MAX - at))
        .map(|(c, ..)| c)
}

/// Whether a step does something, with or without a time.
fn does(step: &Step, what: Activity) -> bool {
    step.facts.iter().any(|f| match &f.kind {
        FactKind::Doing(a) => *a == what,
        FactKind::Duration { doing, .. } => *doing == Some(what),
        _ => false,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use larder::Larder;
    use quantity::Locale;

    /// The names of the parts the steps are about, `-` for the one without a name.
    fn parts(text: &str) -> Vec<String> {
        let larder = Larder::built_in().expect("the built-in tables");
        let reader = crate::read::Reader::new(&larder, Locale::Us);
        let recipe = crate::read::recipe(text, &reader).expect("reads");
        steps_of(&recipe)
            .into_iter()
            .map(|c| match recipe.components[c].name.as_str() {
                "" => "-".to_owned(),
                name => name.to_owned(),
            })
            .collect()
    }

    #[test]
    fn buns_with_crumb_and_glaze() {
        let text = "Pear Buns\n\nFor the dough:\n300 g plain flour\n5 g instant yeast\n150 ml milk\n1 egg\n\n\
            For the crumb topping:\n50 g plain flour\n40 g butter\n30 g hazelnuts\n\n\
            For the filling:\n200 g dried pears\n50 ml water\n\n\
            For the glaze:\n100 g icing sugar\n20 ml milk\n\nMethod\n\
            1. Make the dough. Mix all of it and knead for 8 minutes.\n\
            2. Let rise for 1 hour, then chill overnight.\n\
            3. Make the crumb topping. Rub the flour and butter together; stir in the nuts.\n\
            4. Simmer the pears in the water for 10 minutes.\n\
            5. Roll the cold dough out on a floured board and spread with the filling.\n\
            6. Scatter over the reserved crumb topping and cut into 9 pieces.\n\
            7. Let rise until puffy, 1 hour. Heat the oven to 180 °C.\n\
            8. Brush the buns with milk and strew with the remaining crumb topping.\n\
            9. Bake for 25 minutes.\n\
            10. Whisk the glaze ingredients together and drizzle over the warm buns.\n";
        assert_eq!(
            parts(text),
            [
                "dough",
                "dough",
                "crumb topping",
                "filling",
                "dough",
                "dough",
                "dough",
                "dough",
                "dough",
                "glaze"
            ]
        );
    }

    #[test]
    fn biscuits_base_and_filling() {
        let text = "Lime Slice\n\nFor the nut biscuits:\n150 g plain flour\n80 g butter\n60 g sugar\n\n\
            For the base:\n200 g of the nut biscuits, crushed\n60 g butter, melted\n\n\
            For the filling:\n400 g cream cheese\n20 g plain flour\n2 limes\n\nMethod\n\
            1. For the biscuits, mix everything and roll into balls.\n\
            2. Bake the biscuits for 15 minutes at 170 °C.\n\
            3. Turn the oven down to 150 °C. Weigh out 200 g of the biscuits and crush them for the base.\n\
            4. Stir the crumbs into the melted butter and press into the base of a tin. Bake for 8 minutes.\n\
            5. Beat the cream cheese with the juice of the limes.\n\
            6. Pour over the base and bake for 40 minutes.\n\
            7. Chill overnight.\n";
        assert_eq!(
            parts(text),
            [
                "nut biscuits",
                "nut biscuits",
                "base",
                "base",
                "filling",
                "filling",
                "filling"
            ]
        );
    }

    #[test]
    fn labels_shells_and_drizzles() {
        let tart = "Onion Tart\n\nFor the pastry:\n200 g plain flour\n100 g butter\n\n\
            For the onion filling:\n3 onions\n2 eggs\n1 tbsp plain flour\n\nMethod\n\
            1. PASTRY: Rub the butter into the flour. Chill.\n\
            2. Roll out, line a tin and bake blind for 15 minutes.\n\
            3. FILLING: Fry the onions for 10 minutes.\n\
            4. Beat in the eggs and pour into the case.\n\
            5. Bake for 30 minutes.\n";
        assert_eq!(
            parts(tart),
            [
                "pastry",
                "pastry",
                "onion filling",
                "onion filling",
                "pastry"
            ]
        );
        let cake = "Orange Cake\n\n200 g self-raising flour\n150 g butter\n3 eggs\n\n\
            For the drizzle:\n2 oranges, juice only\n80 g granulated sugar\n\nMethod\n\
            1. Beat everything and bake for 30 minutes at 180 °C.\n\
            2. Meanwhile stir the orange juice into the sugar. Prick the hot cake and spoon the drizzle over it.\n";
        assert_eq!(parts(cake), ["-", "drizzle"]);
    }

    #[test]
    fn a_starter_goes_into_the_dough() {
        let text = "Rye Loaf\n\nFor the sponge:\n100 g strong white flour\n1 g dried yeast\n100 g water\n\n\
            For the dough:\n400 g strong white flour\nall of the sponge\n3 g dried yeast\n250 g water\n8 g salt\n\nMethod\n\
            1. Mix the sponge ingredients and let rise overnight.\n\
            2. Add the rest and knead for 8 minutes.\n\
            3. Let rise for 1 hour.\n\
            4. Bake for 35 minutes at 220 °C.\n";
        assert_eq!(parts(text), ["sponge", "dough", "dough", "dough"]);
    }

    #[test]
    fn a_poolish_is_not_kneaded() {
        let text = "White Loaf\n\nPoolish\n150 g bread flour\n150 g water\n0.4 g instant yeast\n\n\
            Final dough\nall of the poolish\n350 g bread flour\n170 g water\n4 g instant yeast\n\nMethod\n\
            1. Mix the poolish and leave covered for 12 to 16 hours.\n\
            2. Mix the poolish with everything else.\n\
            3. Bulk ferment for 90 minutes.\n\
            4. Bake at 190 °C for 35 minutes.\n";
        assert_eq!(
            parts(text),
            ["poolish", "final dough", "final dough", "final dough"]
        );
    }

    #[test]
    fn the_oven_the_pan_and_the_putting_together_are_the_cakes() {
        let text = "Crumb Cake\n\nFor the crumb:\n150 g plain flour\n100 g butter\n80 g brown sugar\n1 tsp cinnamon\n\n\
            For the cake:\n200 g plain flour\n120 g butter\n150 g sugar\n2 eggs\n150 g soured cream\n\nMethod\n\
            Heat the oven to 180 °C. Butter a 23 cm square tin and dust it with flour.\n\
            1. For the crumb, rub the butter into the flour; stir in the sugar and cinnamon.\n\
            2. For the cake, beat the butter and sugar; beat in the eggs, soured cream and flour.\n\
            3. Spread half the batter in the tin and scatter half the crumb over it.\n\
            4. Scatter half of the crumb over the cake, add the rest of the batter, then the other crumb.\n\
            5. Bake for 45 minutes.\n";
        assert_eq!(
            parts(text),
            ["cake", "crumb", "cake", "cake", "cake", "cake"]
        );
    }

    #[test]
    fn one_part_has_every_step() {
        let text = "Plain Scones\n\n200 g plain flour\n100 ml milk\n\nMethod\n1. Mix.\n2. Bake for 12 minutes.\n";
        assert_eq!(parts(text), ["-", "-"]);
    }
}
