//! What a step takes up or goes on with waits for the step that had it before, where other parts' steps stand
//! between.

use super::build::Build;
use super::join::taken_in;
use super::order::{order, reaches};
use super::pans::NOUNS;
use super::puts::{PUTS_ON, own_lines, served_beside};
use super::taken::own_words;
use super::takes::{first_of, first_taking};
use super::task::Task;
use crate::aside::taking;
use crate::sentences::{each, words};

/// Verbs that put something on or into what stands ready, beside those of a bake.
const LAYS: [&str; 6] = ["arrange", "dot", "lay", "sprinkle", "strew", "top"];

/// What is brushed, dusted or spread with something, and is no food.
const TOOLS: [&str; 10] = [
    "baking",
    "bench",
    "board",
    "counter",
    "foil",
    "paper",
    "parchment",
    "peel",
    "plate",
    "surface",
];

/// Orders the steps of parts that go back and forth: what was cooked four steps ago is spooned in, a dough is
/// stretched before it is spread with sauce.
pub(super) fn in_turn(build: &Build<'_>, list: &mut [Task], chains: &[Vec<usize>]) {
    let mine: Vec<Vec<String>> = (0..chains.len()).map(|c| own_words(build, c)).collect();
    let said: Vec<Vec<String>> = build
        .recipe
        .steps
        .iter()
        .map(|s| words(&taking(&s.text)))
        .collect();
    for (at, step) in build.recipe.steps.iter().enumerate() {
        let c = build.chains[at];
        let Some(first) = chains.get(c).and_then(|t| first_of(list, t, step.number)) else {
            continue;
        };
        let own = own_lines(build, c);
        let ours: Vec<String> = (build.w.rework.components[c].lines.iter())
            .flat_map(|l| words(&l.name))
            // 'Mix the cherry batter' is not about the date batter.
            .chain(words(&build.recipe.components[c].name))
            .collect();
        for (y, chain) in chains.iter().enumerate().filter(|(y, _)| *y != c) {
            let before = |t: &usize| list[*t].step.is_some_and(|s| s < step.number);
            let Some(end) = chain.iter().copied().rfind(before) else {
                continue;
            };
            let first = taken_in(build, list, (y, &chains[c]), (step, first));
            let called = words(&build.recipe.components[y].name).pop();
            let foods: Vec<String> = mine[y]
                .iter()
                .chain(&called)
                .filter(|w| said[at].contains(w) && !ours.contains(w))
                .cloned()
                .collect();
            let had = (0..at)
                .rev()
                .find(|&m| build.chains[m] == y && foods.iter().any(|w| said[m].contains(w)));
            let end_of = |step: usize| {
                let mut of = chain.iter().copied().rev();
                of.find(|&t| list[t].step == Some(step))
            };
            if let Some(had) = had.and_then(|m| end_of(build.recipe.steps[m].number)) {
                let to = first_taking(list, &chains[c], step, &foods).unwrap_or(first);
                order(list, had, to);
            }
            let goes_on = chain
                .iter()
                .any(|&t| list[t].step.is_some_and(|s| s > step.number));
            let follows = at > 0 && build.chains[at - 1] == y;
            // 'Mix the streusel and scatter over the plums': on what stands ready.
            if follows && scatters_over(&step.text, |w| foods.iter().any(|f| f == w)) {
                order(list, end, first);
            }
            // 'Roll the pastry' of a step that first mixes the filling: what was rested is rolled.
            let handled = called.as_ref().filter(|n| !ours.contains(n));
            if handled.is_some_and(|n| is_handled(&step.text, n)) {
                order(list, end, first);
            }
            // 'Spread the jam over the base' behind the filling that was made while the base baked.
            let others = (0..at).rev().find(|&m| build.chains[m] != c);
            let name = called.as_ref().filter(|n| !ours.contains(n));
            let ready = |w: &str| {
                name.is_some_and(|n| n == w)
                    || others.is_some_and(|m| build.chains[m] == y) && BUILT.contains(&w)
            };
            let stands = is_put_on(&step.text, ready);
            if goes_on
                && (follows && puts_on(&step.text, &own) || stands)
                && !served_beside(build, c, &step.text)
            {
                order(list, end, first);
            }
        }
    }
}

/// What a part goes on with by way of another follows that, and not its own work before: dough rolled, brushed
/// with the egg of another part and chilled is baked after the chill.
pub(super) fn by_way_of_others(list: &mut [Task]) {
    for t in 0..list.len() {
        let after = list[t].after.clone();
        let around = |&a: &usize| {
            let others = after.iter().filter(|b| **b != a);
            let mut others = others.filter(|b| list[**b].component != list[t].component);
            // What is weighed may be taken twice: the egg of a wash, the milk of its icing.
            let work = list[a].component == list[t].component && list[a].what != "weigh";
            work && others.any(|&b| reaches(list, a, b))
        };
        let gone: Vec<usize> = after.iter().copied().filter(around).collect();
        list[t].after.retain(|a| !gone.contains(a));
    }
}

/// What a filling or topping is put on or into.
const BUILT: [&str; 5] = ["base", "case", "crust", "pastry", "shell"];

/// Whether a sentence of a step begins by putting something on, into or of what stands ready: 'over the base',
/// not 'for a case'.
fn is_put_on(text: &str, ready: impl Fn(&str) -> bool) -> bool {
    each(text).map(words).any(|said| {
        let puts = said.first().is_some_and(|w| PUTS_ON.contains(&w.as_str()));
        let other = |w: &[String]| w.iter().any(|w| matches!(w.as_str(), "a" | "an" | "for"));
        puts && (1..said.len()).any(|i| ready(&said[i]) && !other(&said[i.saturating_sub(2)..i]))
    })
}

/// Whether a sentence of a step takes a part in hand: 'roll out the chilled pastry', 'divide the dough'.
fn is_handled(text: &str, name: &str) -> bool {
    const HANDLES: [&str; 14] = [
        "cut", "divide", "halve", "knead", "lay", "pat", "press", "roll", "shape", "stretch",
        "take", "tip", "turn", "unwrap",
    ];
    each(text).map(|s| words(&taking(s))).any(|said| {
        let mut at = (0..said.len()).filter(|&i| said[i] == name);
        at.any(|i| {
            let before = &said[..i];
            let the = before.iter().rev().take(2).position(|w| w == "the");
            let verb = the.and_then(|n| {
                let mut before = before[..before.len() - 1 - n].iter().rev();
                before.find(|w| !matches!(w.as_str(), "out" | "up" | "over" | "and"))
            });
            verb.is_some_and(|v| HANDLES.contains(&v.as_str()))
        })
    })
}

/// Whether a step puts what it makes over what stands ready: 'and scatter over the plums'.
fn scatters_over(text: &str, ready: impl Fn(&str) -> bool) -> bool {
    each(text).map(words).any(|said| {
        let puts = |w: &String| PUTS_ON.contains(&w.as_str()) || LAYS.contains(&w.as_str());
        let over = |w: &String| matches!(w.as_str(), "over" | "on" | "onto");
        (1..said.len().saturating_sub(1)).any(|i| {
            let behind = said[i + 1..].iter().take(3);
            puts(&said[i - 1]) && over(&said[i]) && behind.into_iter().any(|w| ready(w))
        })
    })
}

/// Whether a step begins by putting food of its own on what stands ready, not by making something.
fn puts_on(text: &str, own: &[String]) -> bool {
    let Some(said) = each(text).next().map(words) else {
        return false;
    };
    let puts = said
        .first()
        .is_some_and(|w| PUTS_ON.contains(&w.as_str()) || LAYS.contains(&w.as_str()));
    let tool = |w: &String| TOOLS.contains(&w.as_str()) || NOUNS.contains(&w.as_str());
    puts && !said.iter().any(tool) && said.iter().any(|w| own.contains(w))
}
