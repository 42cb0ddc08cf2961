//! Which component each step of the method is about.
//!
//! In this order: the heading it stands under; 'Make the filling', 'For the base', 'FILLING:';
//! the part it crushes or breaks up for another; the first part it does something to; the dough
//! where it kneads, rolls, shapes, bakes or puts another part over or into it, and where the oven
//! or the pan is made ready; the glaze where it drizzles; the part whose own
//! ingredients it names; else the part of the step before.

mod named;
mod part;
#[cfg(test)]
mod tests;
mod whose;

pub(crate) use part::{
    goes_on_a_bake, goes_over_a_bake, is_called, is_crumb, is_filling, is_folded_in, laminates,
    turns,
};
pub(crate) use whose::Whose;

use super::method::{does, last_of};
use crate::aside::{beside, taking};
use crate::blind::bakes_a_case;
use crate::recipe::{Activity, FactKind, Heat, Recipe, Step};
use crate::sentences::{each, words};
use named::{
    begun, by_foods, counted, crushed, labelled, listed, made, made_for, mixed_in, object,
};
use part::{Known, Part, Parts, any};

/// The component each step is about, by place in the recipe.
pub fn steps_of(recipe: &Recipe) -> Vec<usize> {
    let parts = Parts::of(&recipe.components);
    let mut now = 0;
    // The dough, from its first step to its first heat.
    let mut raw = None::<usize>;
    // The dough was worked on.
    let mut seen = false;
    recipe
        .steps
        .iter()
        .map(|step| {
            now = match step.component {
                Some(c) => c,
                None if parts.known.len() < 2 => 0,
                None => {
                    let bake = without_beside(step);
                    let top = before_the_top(bake.as_ref().unwrap_or(step), &parts);
                    let bake = top.or(bake);
                    let of = about(bake.as_ref().unwrap_or(step), &parts, now);
                    made_meanwhile(step, &parts, of).unwrap_or(of)
                }
            };
            // 'Brown the beef, add the ale and cook in the oven for 2 hours' before any pastry is made: its filling.
            if parts.dough == Some(now) && !seen && step.component.is_none() {
                now = stewed(step, &parts).unwrap_or(now);
            }
            seen |= parts.dough == Some(now);
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
            // 'Pour the batter on top of the sauce. Bake': what is poured is baked.
            if step.component.is_none()
                && parts.known.get(now).is_some_and(|k| !k.flour)
                && bakes_batter(step)
            {
                now = parts.main.unwrap_or(now);
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
            // 'Heat the oil and fry the doughnuts': what is fried is the dough, not the fat of 'to fry', nor the custard
            // that was made before where nothing else heats the dough.
            let heated = [Activity::Bake, Activity::Boil, Activity::Fry];
            if let Some(dough) = raw.filter(|_| {
                let fats = |w: &String| any(w, &["fry", "frying"]);
                let fat = || parts.known[now].name.iter().any(fats);
                let mut later = recipe.steps.iter().filter(|s| s.number > step.number);
                let mut last = || !later.any(|s| heated.iter().any(|a| does(s, *a)));
                step.component.is_none()
                    && does(step, Activity::Fry)
                    && (fat() || names_no_part(step, &parts) && last())
            }) {
                now = dough;
            }
            if parts.dough == Some(now) {
                let heated = heated.iter().any(|a| does(step, *a));
                raw = parts.dough.filter(|_| !heated);
            }
            now
        })
        .collect()
}

/// The filling that a step stews in the oven: several of its own foods are named, and none of another part; of two,
/// where no case is spoken of.
fn stewed(step: &Step, parts: &Parts) -> Option<usize> {
    const CASES: &[&str] = &[
        "base", "batter", "case", "crust", "dough", "lid", "pastry", "shell",
    ];
    let said = words(&taking(&step.text));
    let cased = said.iter().any(|w| any(w, CASES));
    let [(c, foods, _)] = counted(&[said], parts)[..] else {
        return None;
    };
    let filling = parts.known[c].part == Part::Filling && !parts.known[c].yeast;
    let several = foods > 2 || foods == 2 && !cased;
    (filling && several && does(step, Activity::Bake)).then_some(c)
}

/// Whether a step names no part and no food that one part alone has.
fn names_no_part(step: &Step, parts: &Parts) -> bool {
    let said = words(&taking(&step.text));
    let called = (0..said.len()).any(|i| parts.known.iter().any(|k| k.named(&said, i) > 0));
    !called && counted(&[said], parts).is_empty()
}

/// Whether a step bakes, and none behind it.
fn bakes_last(recipe: &Recipe, step: &Step) -> bool {
    let mut later = recipe.steps.iter().filter(|s| s.number > step.number);
    does(step, Activity::Bake) && !later.any(|s| does(s, Activity::Bake))
}

/// Whether a step pours or spoons a batter, and then bakes that.
fn bakes_batter(step: &Step) -> bool {
    const PUTS: &[&str] = &["pour", "spoon", "spread", "scrape", "ladle", "tip"];
    puts_before_the_bake(step, PUTS, |behind| {
        behind.iter().take(3).any(|w| w == "batter")
    })
}

/// Whether a step puts what it makes on a bread, and then bakes that.
fn bakes_under(step: &Step) -> bool {
    const PUTS: &[&str] = &["brush", "spread", "smear", "coat", "paint", "pipe", "spoon"];
    const BREADS: &[&str] = &["loaf", "loave", "bun", "roll", "dough", "bread"];
    puts_before_the_bake(step, PUTS, |behind| behind.iter().any(|w| any(w, BREADS)))
}

/// Whether a sentence before a step's last bake has one of some verbs, with the words wanted from there on.
fn puts_before_the_bake(step: &Step, verbs: &[&str], wanted: impl Fn(&[String]) -> bool) -> bool {
    let Some(bake) = last_of(step, Activity::Bake) else {
        return false;
    };
    let before = step.text.get(..bake.span.start).unwrap_or_default();
    each(before).any(|said| {
        let said = words(said);
        let puts = said.iter().position(|w| any(w, verbs));
        puts.is_some_and(|at| wanted(&said[at..]))
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
        ]) || sentences.iter().any(|s| mixed_in(s, &known[c], parts))
            || listed(&text, &known[c], parts))
    {
        return dough;
    }
    // 'Mix all with the rest': what was begun, with the dough.
    let begins = |c: usize| known[c].beforehand.is_some();
    if let Some(dough) = yeast.or(parts.dough).filter(|d| !begins(*d))
        && begins(object.unwrap_or(now))
        && sentences.iter().any(|s| takes_the_rest(s))
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
    if let Some(case) = parts.dough.filter(|_| bakes_a_case(&text)) {
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

/// Whether a sentence mixes all that is not used yet: 'mix all with the rest', 'stir in the remaining ingredients';
/// not 'with the rest of the filling'.
fn takes_the_rest(sentence: &[String]) -> bool {
    const MIXES: &[&str] = &["add", "beat", "combine", "knead", "mix", "stir", "work"];
    let mixes = sentence.iter().take(4).any(|w| any(w, MIXES));
    let at = |i: usize| sentence.get(i).map_or("", String::as_str);
    let rest = |i: usize| match (at(i), at(i + 1)) {
        ("the", "rest") => at(i + 2) != "of" || any(at(i + 4), &["dough", "ingredient"]),
        ("remaining", next) => any(next, &["ingredient"]),
        ("everything", next) => next == "else",
        _ => false,
    };
    mixes && (0..sentence.len()).any(rest)
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
