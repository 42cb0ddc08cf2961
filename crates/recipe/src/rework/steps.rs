//! Which component each step of the method is about.
//!
//! In this order: the heading it stands under; 'Make the filling', 'For the base', 'FILLING:';
//! the part it crushes or breaks up for another; the first part it does something to; the dough
//! where it kneads, rolls, shapes, bakes or puts another part over or into it, and where the oven
//! or the pan is made ready; the glaze where it drizzles; the part whose own
//! ingredients it names; else the part of the step before.

mod part;
#[cfg(test)]
mod tests;
mod whose;

pub(crate) use part::{
    goes_on_a_bake, goes_over_a_bake, is_called, is_crumb, is_filling, is_folded_in, laminates,
};
pub(crate) use whose::Whose;

use super::method::{does, last_of};
use crate::aside::{beside, taking};
use crate::recipe::{Activity, FactKind, Heat, Recipe, Step};
use crate::sentences::{each, words};
use part::{Known, Part, Parts, any, is_baked_blind};
use std::collections::HashSet;

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
    "cool",
    "cold",
    "warm",
    "hot",
    "lukewarm",
    "boiling",
    "bake",
    "easy",
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

/// The component each step is about, by place in the recipe.
pub fn steps_of(recipe: &Recipe) -> Vec<usize> {
    let parts = Parts::of(&recipe.components);
    let mut now = 0;
    // The dough, from its first step to its first heat.
    let mut raw = None::<usize>;
    recipe
        .steps
        .iter()
        .map(|step| {
            now = match step.component {
                Some(c) => c,
                None if parts.known.len() < 2 => 0,
                None => {
                    let bake = without_beside(step).or_else(|| before_the_top(step, &parts));
                    let of = about(bake.as_ref().unwrap_or(step), &parts, now);
                    made_meanwhile(step, &parts, of).unwrap_or(of)
                }
            };
            // 'Boil in the water bath, then bake': the bake is of what was boiled.
            if parts.known.get(now).is_some_and(|k| k.part == Part::Bath)
                && does(step, Activity::Bake)
            {
                now = parts.main.unwrap_or(now);
            }
            // 'For the topping, whisk to a paste. Spread over the loaf. Bake': the loaf is baked.
            if parts
                .known
                .get(now)
                .is_some_and(|k| k.part == Part::Topping || k.part == Part::Glaze)
                && bakes_under(step)
            {
                now = parts.yeast.unwrap_or(now);
            }
            // 'Bake. Glaze when cool', 'glaze and bake': the dough is baked.
            if let Some(dough) = raw.filter(|_| {
                let k = &parts.known[now];
                step.component.is_none()
                    && k.part == Part::Glaze
                    && !k.flour
                    && bakes_last(recipe, step)
            }) {
                now = dough;
            }
            // 'Heat the oil and fry the doughnuts': what is fried is the dough, not the fat of 'to fry'.
            if let Some(dough) = raw.filter(|_| {
                let fats = |w: &String| any(w, &["fry", "frying"]);
                step.component.is_none()
                    && does(step, Activity::Fry)
                    && parts.known[now].name.iter().any(fats)
            }) {
                now = dough;
            }
            let heated = [Activity::Bake, Activity::Boil, Activity::Fry];
            if parts.dough == Some(now) {
                let heated = heated.iter().any(|a| does(step, *a));
                raw = parts.dough.filter(|_| !heated);
            }
            now
        })
        .collect()
}

/// Whether a step bakes, and none behind it.
fn bakes_last(recipe: &Recipe, step: &Step) -> bool {
    let mut later = recipe.steps.iter().filter(|s| s.number > step.number);
    does(step, Activity::Bake) && !later.any(|s| does(s, Activity::Bake))
}

/// Whether a step puts what it makes on a bread, and then bakes that.
fn bakes_under(step: &Step) -> bool {
    const PUTS: &[&str] = &["brush", "spread", "smear", "coat", "paint", "pipe", "spoon"];
    const BREADS: &[&str] = &["loaf", "loave", "bun", "roll", "dough", "bread"];
    let Some(bake) = last_of(step, Activity::Bake) else {
        return false;
    };
    let before = step.text.get(..bake.span.start).unwrap_or_default();
    each(before).any(|said| {
        let said = words(said);
        let puts = said.iter().position(|w| any(w, PUTS));
        puts.is_some_and(|at| said[at..].iter().any(|w| any(w, BREADS)))
    })
}

/// A step that bakes, without the work beside that: the syrup that is boiled meanwhile is not what is
/// baked. `None` where it has none.
fn without_beside(step: &Step) -> Option<Step> {
    let aside = beside(&step.text)?;
    let baked = |f: &crate::Fact| f.does(Activity::Bake) && !aside.work.contains(&f.span.start);
    if !step.facts.iter().any(baked) {
        return None;
    }
    let from = aside.clause.start.min(aside.work.start);
    let rest = [step.text.get(..from)?, step.text.get(aside.work.end..)?].concat();
    let rest = rest.trim();
    (!rest.is_empty()).then(|| crate::read::step(step.number, rest, step.component))
}

/// The part with flour that a step makes meanwhile and then bakes, where what waits has none: 'Meanwhile boil the
/// butter and water, beat in the flour and the eggs. Pipe a ring. Bake', behind a cream.
fn made_meanwhile(step: &Step, parts: &Parts, of: usize) -> Option<usize> {
    let aside = beside(&step.text)?;
    let begins = step.text[..aside.clause.start].trim().is_empty();
    let work = step.text.get(aside.work.clone())?;
    if !begins || parts.known[of].flour || !does(step, Activity::Bake) {
        return None;
    }
    let made = about(&crate::read::step(step.number, work, None), parts, of);
    let flour = words(work).iter().any(|w| w == "flour");
    let made = if flour { parts.main? } else { made };
    parts.known[made].flour.then_some(made)
}

/// A step that bakes, to the end of its last bake, where it names a glaze or topping only behind that: 'Bake for
/// 20 minutes. Mix the glaze and drizzle over.' `None` where it has none.
fn before_the_top(step: &Step, parts: &Parts) -> Option<Step> {
    let bake = last_of(step, Activity::Bake)?;
    let said = crate::sentences(&step.text).into_iter();
    let end = said.map(|r| r.end).find(|end| *end >= bake.span.end)?;
    let tops = |text: &str| {
        let said = words(text);
        let top = |k: &Known| matches!(k.part, Part::Glaze | Part::Topping) && !k.flour;
        let mut known = parts.known.iter().filter(|k| top(k));
        known.any(|k| (0..said.len()).any(|i| k.named(&said, i) > 0))
    };
    let (bakes, rest) = step.text.split_at_checked(end)?;
    (tops(rest) && !tops(bakes)).then(|| crate::read::step(step.number, bakes, step.component))
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
    // 'Pour a third of it over the pudding': of what the step before made.
    let some = |s: &Vec<String>| {
        s.iter()
            .take(6)
            .zip(s.iter().skip(1))
            .any(|w| w.0 == "of" && w.1 == "it")
    };
    if sentences.first().is_some_and(some) {
        return now;
    }
    if let Some(c) = crushed(&sentences, parts) {
        return c;
    }
    if let Some(c) = sentences.iter().find_map(|s| begun(s, known)) {
        return c;
    }
    // 'Day 2. Beat everything for the filling.'
    let day = |s: &&Vec<String>| !(s.len() < 3 && s.iter().any(|w| w == "day"));
    let first = sentences.iter().find(day);
    if let Some(c) = first.and_then(|s| made_for(step, s, parts)) {
        return c;
    }
    // 'Stir the yeast into the milk': the one part that has yeast.
    let raised = |s: &Vec<String>| s.iter().take(8).any(|w| w == "yeast");
    if let Some(Some(c)) = parts.foods.get("yeast")
        && sentences.first().is_some_and(raised)
        && does(step, Activity::Mix)
    {
        return *c;
    }
    let object = sentences.iter().find_map(|s| object(s, parts));
    let does = |list: &[Activity]| list.iter().any(|a| does(step, *a));
    let yeast = parts.yeast;
    // A preferment is not kneaded or baked, and what is mixed with it is the dough.
    if let Some(c) = object.filter(|c| known[*c].beforehand.is_some())
        && let Some(dough) = yeast.filter(|d| *d != c)
        && (does(&[
            Activity::Knead,
            Activity::KnockBack,
            Activity::Windowpane,
            Activity::Bake,
        ]) || sentences.iter().any(|s| mixed_in(s, &known[c]))
            || listed(&text, &known[c], parts))
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
    // Nothing without flour is kneaded or rolled, or a batter, unless the step says so: mince is rolled into
    // balls.
    let foods = by_foods(&sentences, parts);
    let floury = |c: &usize| known[*c].flour;
    let goes_in = |c: usize| matches!(known[c].part, Part::Filling | Part::Topping | Part::Glaze);
    let works = does(&[Activity::Knead, Activity::Roll, Activity::KnockBack])
        && foods.is_none_or(|c| floury(&c) || known[c].part != Part::Other);
    let takes = |s: &Vec<String>| {
        let mut at = s.iter().take(4);
        at.any(|w| any(w, &["batter", "dough"]))
    };
    let batter = sentences.first().is_some_and(takes);
    let other = !known[now].flour || batter && goes_in(now);
    if (works || batter) && object.is_none() && other {
        let mut alone = (0..known.len()).filter(floury);
        let only = alone.next().filter(|_| alone.next().is_none());
        if let Some(dough) = parts.dough.filter(floury).or(only) {
            return dough;
        }
    }
    // 'Roll out, spread the cream, roll up', 'give two folds': work on the dough.
    let rolls = sentences.first().is_some_and(|s| s[0] == "roll") && does(&[Activity::Roll]);
    if let Some(dough) = parts.dough
        && (rolls && object.is_some_and(goes_in) || laminates(&text))
    {
        return dough;
    }
    // 'Line with paper and beans and bake blind': the case, whatever was made before.
    if let Some(case) = parts.dough.filter(|_| is_baked_blind(&sentences)) {
        return object.filter(floury).unwrap_or(case);
    }
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
    // 'Boil the water and sugar': all that the syrup is.
    let stirs = step.number > 1 && does(&[Activity::Mix, Activity::Whip]);
    if (stirs || does(&[Activity::Boil, Activity::Melt]))
        && let Some(c) = sentences.iter().find_map(|s| parts.all_listed(s))
    {
        return c;
    }
    if does(&[Activity::Bake, Activity::Roll, Activity::Shape]) {
        return match (yeast, foods) {
            (Some(dough), _) => dough,
            (None, Some(c)) if !side(c) && known[c].part != Part::Filling => c,
            // 'Beat the cheese, pour on to the base and bake': the base of crumbs only holds it.
            (None, Some(c)) if stirs && known[now].part == Part::Base && !known[now].flour => c,
            _ => baked(known, now),
        };
    }
    let pours = |w: &&String| any(w, &["drizzle", "glaze", "ice", "frost"]);
    if let Some(verb) = sentences.iter().flatten().find(pours) {
        // 'Ice' is for the icing, where another part is a syrup.
        let named = known
            .iter()
            .position(|k| k.name.last().is_some_and(|n| is_called(verb, n)));
        if let Some(c) = named.or_else(|| parts.poured()) {
            return c;
        }
    }
    let stirred = does(&[
        Activity::Cream,
        Activity::Fold,
        Activity::Mix,
        Activity::Whip,
    ]);
    let other = || by_egg(&sentences, parts, now).filter(|_| stirred);
    let all = || parts.holds_all(&sentences);
    foods.or_else(all).or_else(other).unwrap_or(now)
}

/// The part with flour that alone has the egg, milk or powder a step names, where the one worked on has none of
/// them: the cake's, behind the crumble.
fn by_egg(sentences: &[Vec<String>], parts: &Parts, now: usize) -> Option<usize> {
    let named = sentences.iter().flatten();
    let mut named = named.filter(|w| matches!(w.as_str(), "egg" | "milk" | "powder"));
    let has = |c: usize, w: &String| parts.known[c].foods.contains(w);
    let other = |w: &String| *parts.foods.get(w)?;
    let found = named.clone().find_map(other)?;
    let side = parts.known[found].part == Part::Glaze;
    let mine = named.any(|w| has(now, w));
    (!mine && !side && parts.known[found].flour).then_some(found)
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
        // 'Beat in the egg, the milk and the poolish': one of several.
        let among = i > 3 && before.is_some_and(|w| !any(w, &["for"]));
        n > 0
            && (any(next, &["with", "into", "in", "to"])
                || among
                || before.is_some_and(|w| any(w, &["to", "add", "with", "into"])))
    })
}

/// 'Stir poolish, water and salt to a paste': the part begun beforehand is one of several foods.
fn listed(text: &str, part: &Known, parts: &Parts) -> bool {
    let lower = text.to_lowercase();
    let Some(name) = part.name.last() else {
        return false;
    };
    lower.match_indices(name.as_str()).any(|(at, name)| {
        let rest = &lower[at + name.len()..];
        let next = rest.strip_prefix(", ").or(rest.strip_prefix(" and "));
        let next = next.map(words).unwrap_or_default();
        let next = next.iter().find(|w| !any(w, ARTICLES));
        next.is_some_and(|w| parts.foods.contains_key(w))
    })
}

/// 'Stir flour, water and yeast together for the poolish': the part begun beforehand that is made.
fn begun(sentence: &[String], known: &[Known]) -> Option<usize> {
    known.iter().position(|k| {
        k.beforehand.is_some()
            && (0..sentence.len()).any(|i| {
                let before = sentence[..i].iter().rev().find(|w| !any(w, ARTICLES));
                k.named(sentence, i) > 0 && before.is_some_and(|w| any(w, &["for"]))
            })
    })
}

/// 'Mix the flour and sugar for the crumble': the part that is made; not 'keep some milk for the glaze'.
fn made_for(step: &Step, sentence: &[String], parts: &Parts) -> Option<usize> {
    const MAKES: [Activity; 5] = [
        Activity::Mix,
        Activity::RubIn,
        Activity::Whip,
        Activity::Cream,
        Activity::Melt,
    ];
    const KEEPS: &[&str] = &["reserve", "keep", "save", "set", "leave", "divide", "half"];
    // Not 'for 4 minutes' behind it.
    let whose = |i: &usize| {
        sentence[*i] == "for" && any(sentence.get(i + 1).map_or("", String::as_str), ARTICLES)
    };
    let at = (0..sentence.len()).rev().find(whose)?;
    let (before, name) = (&sentence[..at], sentence.get(at + 2..)?);
    let makes = MAKES.iter().any(|a| does(step, *a));
    if !makes || before.iter().any(|w| any(w, KEEPS)) {
        return None;
    }
    // Not 'for the crumble topping of the cake'.
    let all = |c: &usize| {
        let next = name.get(parts.known[*c].named(name, 0));
        next.is_none_or(|w| any(w, &["and", "in", "then", "together", "until"]))
    };
    longest(name, 0, parts).filter(all)
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
        // 'Bake until the filling is set': it is the tart that bakes.
        let until = aside.is_some_and(|w| w == "until");
        let sets = until && sentence[..i].iter().any(|w| w == "bake");
        let aside = [aside, last].into_iter().flatten().any(|w| any(w, INTO));
        // The sugar of the dough, where a part is called 'egg and pearl sugar'.
        let food = next == i + 1
            && parts.known[c].name.len() > 1
            && any(&sentence[i], &["egg", "flour", "milk", "sugar"])
            && parts.foods.get(&sentence[i]) == Some(&None);
        if !other && !aside && !sets && !food {
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
