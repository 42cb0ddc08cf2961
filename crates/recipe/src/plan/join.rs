//! What one part waits for in another: the filling before the roll, the glaze after the bake.

use super::build::Build;
use super::deed::verbs;
use super::on_hot::is_soon;
use super::order::{order, reaches};
use super::pans::NOUNS;
use super::piece::CAKES;
use super::puts::{is_meanwhile, is_on_top, only_makes, own_lines, served_beside, wants_warm};
use super::taken;
use super::takes::{behind_the_wait, called, calls_for, first_on, first_taking, first_use};
use super::task::Task;
use super::unsaid::Unsaid;
use crate::aside::{only_later, taking};
use crate::recipe::Step;
use crate::rework::{is_folded_in, laminates};
use crate::sentences::{each, singular, words};

/// So many minutes later a bake is still hot: common practice, no source.
pub(super) const HOT: f64 = 15.0;
/// So many minutes later it is still warm, no longer hot: common practice, no source.
const WARM: f64 = 40.0;

/// How soon after a bake a step that wants it hot or warm comes, min: 'while still warm' leaves more time than 'hot'
/// and 'as soon as'.
pub(super) fn soon_within(text: &str) -> f64 {
    let said = words(&taking(text));
    let says = |word: &str| said.iter().any(|w| w == word);
    if says("warm") && !says("hot") && !is_soon(text) {
        WARM
    } else {
        HOT
    }
}

fn last_step(list: &[Task], chain: &[usize]) -> Option<usize> {
    chain.iter().filter_map(|&t| list[t].step).max()
}

/// Orders the parts among one another, but those that the method does not speak of.
pub(super) fn parts(
    build: &Build<'_>,
    list: &mut [Task],
    chains: &mut [Vec<usize>],
    unsaid: &Unsaid,
) {
    let recipe = build.recipe;
    let mut warm: Vec<(usize, usize)> = Vec::new();
    for c in (0..chains.len()).filter(|c| !unsaid.holds(*c)) {
        let Some(&end) = chains[c].last() else {
            continue;
        };
        let mut used = false;
        // A part that another weighs.
        for y in (0..chains.len()).filter(|y| *y != c) {
            let lines = &build.w.rework.components[y].lines;
            if lines.iter().any(|l| l.component == Some(c))
                && let Some(to) = first_use(list, &chains[y])
            {
                order(list, end, to);
                used = true;
            }
        }
        let Some(last) = last_step(list, &chains[c]) else {
            if !used {
                named_or_last(build, list, chains, c, end);
            }
            continue;
        };
        // A part that a later step of another names.
        let name = words(&recipe.components[c].name);
        let own = |number: usize| build.chains.get(number - 1).copied();
        let named = recipe.steps.iter().filter(|s| s.number > last).find(|s| {
            let here = words(&taking(&s.text));
            let takes = |n: &String| {
                // The cream that a custard has of its own is no 'nut cream', nor the cherry batter the date batter.
                let other = own(s.number).is_some_and(|o| {
                    let called = words(&recipe.components[o].name);
                    o != c && !own_lines(build, o).contains(n) && !called.contains(n)
                });
                other && here.contains(n) && !only_later(&s.text, |w| w == n)
            };
            name.last().is_some_and(takes)
        });
        // 'Soften the leeks. Line the tin. Spread the leeks over the case': not before the tin is lined.
        let mine = taken::own_words(build, c);
        let takes = recipe.steps.iter().filter(|s| s.number > last).find(|s| {
            let here = words(&taking(&s.text));
            let any = mine
                .iter()
                .any(|w| here.contains(w) && !only_later(&s.text, |x| x == w));
            own(s.number) != Some(c) && any
        });
        let next = recipe.steps.iter().filter(|s| s.number > last).find(|s| {
            let bakes = |c: usize| chains[c].iter().any(|&t| list[t].what == "bake");
            let beside = |o: usize| {
                let apart = bakes(c) && bakes(o) && in_a_tin_of_its_own(build, (c, o), &s.text);
                // 'Bake for 30 minutes. Serve warm': what was begun before is baked.
                let mut of = chains[o]
                    .iter()
                    .filter(|&&t| list[t].step == Some(s.number));
                let begun = chains[o]
                    .iter()
                    .any(|&t| list[t].step < Some(s.number) && list[t].step.is_some());
                let baked = begun && of.next().is_some_and(|&t| list[t].what == "bake");
                apart || is_meanwhile(&s.text) || !baked && served_beside(build, o, &s.text)
            };
            let aside = |o: usize| beside(o) || only_makes(build, o, s);
            own(s.number).is_some_and(|o| o != c && !aside(o))
        });
        let next = takes.or(next);
        let fills = recipe.steps.iter().filter(|s| s.number > last).find(|s| {
            let here = words(&taking(&s.text));
            own(s.number) != Some(c) && here.iter().any(|w| w == "fill" || w == "filled")
        });
        let next = if used { None } else { fills.or(next) };
        let to = named.or(next).and_then(|s| {
            let chain = &chains[own(s.number)?];
            let first = first_on(list, chain, s)?;
            Some(taken_in(build, list, (c, chain), (s, first)))
        });
        if let Some(to) = to {
            order(list, end, to);
        }
        warm.extend(after_what_stands(build, list, chains, c));
    }
    cools_with_the_bake(build, list, chains);
    // What goes on warm is for the last bake: a case that was baked blind is long cold.
    for &(end, first) in &warm {
        let baked = |&(e, f): &(usize, usize)| f == first && e != end && reaches(list, end, e);
        if !warm.iter().any(baked) {
            let step = list[first].step.and_then(|s| recipe.steps.get(s - 1));
            keep_warm(list, end, first, step.map_or(HOT, |s| soon_within(&s.text)));
        }
    }
}

/// The task of a step of another part that takes a part: behind a wait where its words stand there.
///
/// # Inputs
/// - `chain`: the tasks of the other part.
/// - `first`: the task of the step that would take it.
pub(super) fn taken_in(
    build: &Build<'_>,
    list: &[Task],
    (c, chain): (usize, &[usize]),
    (step, first): (&Step, usize),
) -> usize {
    let mine = taken::own_words(build, c);
    let other = build.chains[step.number - 1];
    let called = words(&build.recipe.components[other].name);
    let theirs = own_lines(build, other);
    let name = words(&build.recipe.components[c].name);
    let name = |w: &str| {
        let mut own = name
            .iter()
            .filter(|n| !theirs.contains(n) && !called.contains(n));
        own.any(|n| calls_for(w, n))
    };
    let own = behind_the_wait(list, chain, (step, first), |w| {
        name(w) || mine.iter().any(|m| m == w)
    });
    let named = || {
        words(&step.text)
            .iter()
            .any(|w| name(w) || mine.contains(w))
    };
    if own != first || named() {
        return own;
    }
    behind_the_wait(list, chain, (step, first), |w| {
        matches!(w, "fill" | "filled")
    })
}

/// Whether the second of two parts that are baked goes into a tin of its own: by the words of a step of it, or both
/// are called alike, as a date loaf and a cherry loaf are.
fn in_a_tin_of_its_own(build: &Build<'_>, (c, o): (usize, usize), step: &str) -> bool {
    const OTHER: [&str; 3] = ["another", "other", "second"];
    let said = words(step);
    let vessel = |w: &String| {
        let one = singular(w);
        NOUNS.contains(&one)
    };
    let other = said.iter().enumerate().any(|(i, w)| {
        let behind = said[i + 1..].iter().take(3);
        OTHER.contains(&w.as_str()) && behind.clone().any(vessel)
    });
    let called = |c: usize| words(&build.recipe.components[c].name).pop();
    other || called(c).is_some() && called(c) == called(o)
}

/// 'Brush the syrup over the loaves. Cool in the tins': it is the loaves that cool, once it is on; and in 'Cool
/// in the tin. Whisk the glaze' they cool before anything of it is taken.
fn cools_with_the_bake(build: &Build<'_>, list: &mut [Task], chains: &mut [Vec<usize>]) {
    const PUTS: [&str; 5] = ["brush", "drizzle", "pour", "spoon", "soak"];
    for c in 0..chains.len() {
        if chains[c].iter().any(|&t| list[t].what == "bake") {
            continue;
        }
        for t in chains[c].clone() {
            let step = list[t].step.and_then(|n| build.recipe.steps.get(n - 1));
            let put_on = step.is_some_and(|s| {
                let said = s.text.to_lowercase();
                let cool = said.rfind("cool").or(said.rfind("cold")).unwrap_or(0);
                PUTS.iter().any(|w| said[..cool].contains(w))
            });
            let weighed = |x: usize| matches!(list[x].what, "weigh" | "hydrate");
            let mut before = chains[c].iter().take_while(|&&x| x != t);
            let unmade = before.all(|&x| weighed(x));
            if list[t].what != "cool" || !put_on && !unmade {
                continue;
            }
            let baked = |y: &usize| {
                let mut of = chains[*y].iter().rev();
                of.any(|&b| list[b].what == "bake" && reaches(list, b, t))
            };
            let last = |y: &usize| chains[*y].iter().filter_map(|&b| list[b].step).max();
            let mut under = (0..chains.len()).filter(baked).max_by_key(last);
            // 'Cool completely. Serve with cream': not the cream.
            if let Some(s) = step.filter(|s| {
                under.is_none()
                    && unmade
                    && !cools_its_own(build, c, s)
                    && served_beside(build, c, &s.text)
            }) {
                let mut earlier: Vec<usize> = (0..list.len())
                    .filter(|&b| list[b].step < Some(s.number))
                    .collect();
                earlier.retain(|&b| list[b].what == "bake" && list[b].step.is_some());
                under = earlier
                    .into_iter()
                    .max_by_key(|&b| list[b].step)
                    .map(|b| list[b].component);
                let end = under.and_then(|y| {
                    chains[y]
                        .iter()
                        .copied()
                        .rfind(|&b| list[b].step < Some(s.number))
                });
                if let Some(end) = end {
                    order(list, end, t);
                }
            }
            let Some(y) = under else {
                continue;
            };
            let of = &build.w.rework.components[y].name;
            (list[t].component, list[t].of) = (y, of.clone());
            chains[c].retain(|&x| x != t);
            chains[y].push(t);
            // It is weighed for what comes next, not for the cooling: that may take the night.
            let next = chains[c]
                .iter()
                .copied()
                .find(|&x| list[x].after.contains(&t));
            if let Some(next) = next.filter(|_| unmade) {
                let mine = list[t].after.iter().copied();
                let mine: Vec<usize> = mine.filter(|a| chains[c].contains(a)).collect();
                list[t].after.retain(|a| !mine.contains(a));
                list[next].after.extend(mine);
            }
        }
    }
}

/// A dough or batter whose steps end before a bake that is said for several parts at once goes into that: 'Bake both'.
/// Without this it would stay raw.
pub(super) fn baked_with_another(build: &Build<'_>, list: &mut [Task], chains: &[Vec<usize>]) {
    for (c, chain) in chains.iter().enumerate() {
        let style = build.w.rework.components[c].style;
        let raised =
            style.is_some_and(|s| s.style.is_yeast_dough() || CAKES.contains(&s.style.key()));
        let (Some(&end), Some(last)) = (chain.last(), last_step(list, chain)) else {
            continue;
        };
        let heated = |&t: &usize| matches!(list[t].what, "bake" | "boil" | "fry");
        let taken = list.iter().any(|t| t.after.contains(&end));
        if !raised || taken || chain.iter().any(heated) {
            continue;
        }
        let mut bakes: Vec<usize> = (0..list.len())
            .filter(|&t| list[t].what == "bake" && list[t].step.is_some_and(|s| s > last))
            .collect();
        bakes.sort_by_key(|&t| list[t].step);
        if let Some(&bake) = bakes.first() {
            order(list, end, bake);
        }
    }
}

/// Whether the sentence of a step that cools something names a food of its own part.
fn cools_its_own(build: &Build<'_>, c: usize, step: &Step) -> bool {
    let own = own_lines(build, c);
    each(&step.text).map(words).any(|said| {
        said.iter().any(|w| w.starts_with("cool")) && said.iter().any(|w| own.contains(w))
    })
}

/// A step of a part that names another, or comes after the bake, waits for the steps before it. Gives
/// the ends of bakes with the tasks that want them warm.
fn after_what_stands(
    build: &Build<'_>,
    list: &mut [Task],
    chains: &[Vec<usize>],
    c: usize,
) -> Vec<(usize, usize)> {
    let mut warm = Vec::new();
    let steps: Vec<usize> = chains[c].iter().filter_map(|&t| list[t].step).collect();
    let own = own_lines(build, c);
    for &step in &steps {
        let Some(at) = build.recipe.steps.get(step - 1) else {
            continue;
        };
        let Some(first) = first_on(list, &chains[c], at) else {
            continue;
        };
        let said = at.text.as_str();
        let text = words(&taking(said));
        // 'Brush and bake. Serve warm': it is this bake that is warm.
        let heats =
            |t: &usize| list[*t].step == Some(step) && matches!(list[*t].what, "bake" | "fry");
        let wants_warm = wants_warm(said) && !chains[c].iter().any(heats);
        for (y, chain) in chains.iter().enumerate().filter(|(y, _)| *y != c) {
            let before: Vec<usize> = chain
                .iter()
                .copied()
                .filter(|&t| list[t].step.is_some_and(|s| s < step))
                .collect();
            let Some(&end) = before.last() else { continue };
            let over = !chain
                .iter()
                .any(|&t| list[t].step.is_some_and(|s| s > step));
            let baked = before
                .iter()
                .any(|&t| matches!(list[t].what, "bake" | "fry"));
            let name = words(&build.recipe.components[y].name);
            let named = name
                .last()
                .is_some_and(|n| text.contains(n) && !own.contains(n));
            let last_of_c = steps.iter().max() == Some(&step);
            // 'Arrange the pears on top': on what the step before made.
            let on_top = list[end].step.is_some_and(|s| s + 1 == step)
                && is_on_top(&text)
                && !verbs(said).is_empty();
            let goes_on = (baked && last_of_c && !is_meanwhile(said) || on_top)
                && !served_beside(build, c, said);
            let bakes = chains[c].iter().any(|&t| list[t].what == "bake");
            let apart = baked && bakes && in_a_tin_of_its_own(build, (y, c), said);
            let first = taken_in(build, list, (y, &chains[c]), (at, first));
            if over && !apart && (goes_on || named) && !reaches(list, first, end) {
                order(list, end, first);
                if baked && wants_warm {
                    warm.push((end, first));
                }
            }
        }
    }
    warm
}

/// One task follows another while what that made is still warm.
fn keep_warm(list: &mut [Task], end: usize, first: usize, within: f64) {
    if list[first].soon.is_empty() {
        list[first].soon_within = within;
    }
    if !list[first].soon.contains(&end) {
        list[first].soon.push(end);
    }
    if let Some(w) = list[end].wait.as_mut().filter(|w| w.may) {
        w.span.most = w.span.most.min(w.span.least + HOT);
        w.span.usual = w.span.usual.clamp(w.span.least, w.span.most);
    }
}

/// A part without steps of its own is ready before the first step that names it, else before the
/// last work of the others.
fn named_or_last(
    build: &Build<'_>,
    list: &mut [Task],
    chains: &[Vec<usize>],
    c: usize,
    end: usize,
) {
    let name = &build.recipe.components[c].name;
    let folded = is_folded_in(build.recipe, name);
    let name = words(name);
    let mut steps = build.recipe.steps.iter();
    let named = if folded {
        steps.find(|s| laminates(&s.text))
    } else {
        let last = name.last();
        let says = |s: &Step, n: &str| {
            let said = words(&taking(&s.text));
            // 'A pinch of the sugar' of a dough is none of 'Egg wash and pearl sugar'.
            let theirs = own_lines(build, build.chains[s.number - 1]);
            let whole = || {
                let mut more = name.iter().filter(|w| w.len() > 3 && !theirs.contains(w));
                more.any(|w| said.contains(w))
            };
            said.iter().any(|w| calls_for(w, n)) && (!theirs.iter().any(|t| t == n) || whole())
        };
        last.and_then(|n| {
            let named: Vec<&Step> = steps.filter(|s| says(s, n)).collect();
            let takes = |s: &&&Step| !only_later(&s.text, |w| calls_for(w, n));
            let goes_on = |s: &&&Step| !bakes_behind(list, s.number);
            let told = || named.last().filter(goes_on);
            named.iter().find(takes).or_else(told).copied()
        })
    };
    let poured = named.is_none().then(|| taken::poured(build, c)).flatten();
    let to = named.or(poured.map(|p| p.0)).and_then(|s| {
        let owner = *build.chains.get(s.number - 1)?;
        let chain = chains.get(owner).filter(|_| owner != c)?;
        let name_here = poured.map(|p| p.1).or(name.last().map(String::as_str));
        let called = name_here.and_then(|n| called(list, chain, s.number, n));
        called.or_else(|| first_taking(list, chain, s, &name))
    });
    match to {
        Some(to) => order(list, end, to),
        None => before_the_last(list, chains, c, end),
    }
}

/// Whether something is baked behind a step: what that tells of a part for later goes on before.
fn bakes_behind(list: &[Task], step: usize) -> bool {
    let mut bakes = list.iter().filter(|t| t.what == "bake" && t.cooks);
    bakes.any(|t| t.step.is_some_and(|s| s > step))
}

/// A part without steps of its own is ready before the last bake of the others, else before their last
/// work; not where a step takes it before.
pub(super) fn before_the_last(list: &mut [Task], chains: &[Vec<usize>], c: usize, end: usize) {
    if list.iter().any(|t| t.after.contains(&end)) {
        return;
    }
    let others = || (0..chains.len()).filter(|y| *y != c);
    let bakes = others().flat_map(|y| chains[y].iter().copied());
    let bakes = bakes.filter(|&t| list[t].what == "bake" && list[t].cooks);
    let last = others().max_by_key(|y| chains[*y].len());
    let to = bakes
        .max_by_key(|&t| list[t].step)
        .or_else(|| chains[last?].last().copied());
    if let Some(to) = to {
        order(list, end, to);
    }
}
