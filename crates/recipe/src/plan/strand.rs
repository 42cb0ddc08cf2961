//! Which part each step stands with in the order of work, and what it does beside that.

use super::build::Build;
use super::order::order;
use super::puts::PUTS_ON;
use super::task::Task;
use crate::aside::{Beside, beside};
use crate::own_method;
use crate::read;
use crate::recipe::{Activity, Fact, FactKind, Recipe, Step};
use crate::rework::Whose;
use crate::sentences::{sentence, sentences, words};
use crate::sheet::{Sheet, Worked};
use std::ops::Range;

/// The recipe with the baker's own method in place of the page's, where there is one, and whether there is.
#[must_use]
pub fn by_own_method(w: &Worked, sheet: &Sheet) -> (Recipe, bool) {
    let own = own_steps(w, sheet.method.as_deref().unwrap_or_default());
    let own_method = !own.is_empty();
    let mut recipe = w.formula.recipe.clone();
    if own_method {
        recipe.methods.clear();
        recipe.steps = own;
    }
    (recipe, own_method)
}

/// The component each step stands with in the order of work.
pub(super) fn chains(w: &Worked, recipe: &Recipe, owners: &[usize]) -> Vec<usize> {
    recipe.in_order_of_work(owners, |taken, own| {
        let mut mine = w.rework.components.iter().take(own);
        mine.position(|c| c.lines.iter().any(|l| l.component == Some(taken)))
    })
}

/// Work that a step does beside its own: beside a wait, or on another part.
pub(super) struct Strand {
    pub beside: Beside,
    /// The component it is about.
    pub of: usize,
    /// It takes what the step makes before it.
    takes: bool,
}

impl Strand {
    /// Work on another part that nothing waits for.
    fn other(work: Range<usize>, of: usize) -> Self {
        let clause = work.start..work.start;
        Self {
            beside: Beside { clause, work },
            of,
            takes: false,
        }
    }
}

/// A step with what its other work says read by itself too, and what stands behind that: read as one, a step names
/// each activity once, and 'Mix the dough. In the meantime, beat the filling' would mix no filling.
pub(super) fn read_apart(step: &Step, strand: Option<&Strand>) -> Step {
    let mut out = step.clone();
    let Some(work) = strand.map(|s| &s.beside.work) else {
        return out;
    };
    let behind = work.end..step.text.len();
    let mine = |at: usize| work.contains(&at);
    for range in [work.clone(), behind] {
        let alone = read::step(step.number, &step.text[range.clone()], None);
        let told = |a: Activity| {
            let there = mine(range.start);
            let mut same = step.facts.iter().filter(|f| mine(f.span.start) == there);
            same.any(|f| super::step::minutes_of(f).is_some_and(|(doing, _)| doing == Some(a)))
        };
        for mut fact in alone.facts {
            if let FactKind::Doing(a) = fact.kind
                && !told(a)
            {
                fact.span = fact.span.start + range.start..fact.span.end + range.start;
                out.facts.push(fact);
            }
        }
    }
    out.facts.sort_by_key(|f| f.span.start);
    out
}

/// By step, the work beside its own, where it does any.
pub(super) fn strands(recipe: &Recipe, chains: &[usize]) -> Vec<Option<Strand>> {
    let whose = Whose::of(recipe);
    let of = |(n, step): (usize, &Step)| {
        let chain = chains[n];
        if let Some(beside) = beside(&step.text) {
            let of = whose.about(&part_of(step, &beside.work), chain);
            // The whole step works on a part beside what the step before leaves to wait.
            let begins = step.text[..beside.clause.start].trim().is_empty();
            let bakes = does(step, &[Activity::Bake]);
            if begins && bakes && of == chain && n > 0 && chains[n - 1] != chain {
                return None;
            }
            return Some(Strand {
                beside,
                of,
                takes: false,
            });
        }
        if step.component.is_some() {
            return None;
        }
        // 'Mix the poolish and leave overnight. Pour the water over the seeds for the soaker.'
        let begun = |c: usize| {
            let part = recipe.components.get(c);
            part.is_some_and(|p| p.beforehand().is_some())
        };
        let mut sentences = sentences(&step.text).into_iter();
        let other = sentences.find_map(|work| {
            let of = whose.about(&part_of(step, &work), chain);
            (of != chain && begun(of)).then_some((work, of))
        });
        // 'Mix the sour and stand 16 hours. Mix all with the rest.'
        let first = |work: &Range<usize>| {
            let said = part_of(step, work);
            step.text[..work.start].trim().is_empty() && does(&said, &[Activity::Mix])
        };
        if let Some((work, of)) = other.filter(|(work, _)| begun(chain) || first(work)) {
            return Some(Strand::other(work, of));
        }
        let before = n.checked_sub(1).map_or(0, |b| chains[b]);
        let raw = |c: usize| {
            let mut earlier = recipe.steps[..n].iter().zip(chains);
            !earlier.any(|(s, &of)| of == c && does(s, &[Activity::Bake]))
        };
        two_parts(&whose, step, (before, chain), raw)
    };
    recipe.steps.iter().enumerate().map(of).collect()
}

/// Some words of a step as a step.
fn part_of(step: &Step, work: &Range<usize>) -> Step {
    let inside = |f: &&Fact| work.contains(&f.span.start);
    Step {
        text: step.text[work.clone()].to_owned(),
        facts: step.facts.iter().filter(inside).cloned().collect(),
        ..step.clone()
    }
}

fn does(step: &Step, any: &[Activity]) -> bool {
    any.iter().any(|a| step.facts.iter().any(|f| f.does(*a)))
}

/// The work on another part in a step that works on two: 'Roll out. Make the streusel: …', 'Rub in the butter for
/// the streusel. Brush with the egg and sprinkle over.'
///
/// # Inputs
/// - `before`, `chain`: the component of the step before, and of this one.
/// - `raw`: whether a component is not baked yet.
fn two_parts(
    whose: &Whose,
    step: &Step,
    (before, chain): (usize, usize),
    raw: impl Fn(usize) -> bool,
) -> Option<Strand> {
    const ON_DOUGH: [Activity; 5] = [
        Activity::Knead,
        Activity::KnockBack,
        Activity::Rise,
        Activity::Roll,
        Activity::Shape,
    ];
    const MAKES: [Activity; 6] = [
        Activity::Boil,
        Activity::Cream,
        Activity::Melt,
        Activity::Mix,
        Activity::RubIn,
        Activity::Whip,
    ];
    let all = sentences(&step.text);
    let made = |r: &Range<usize>| whose.made(&part_of(step, r));
    let first = all
        .iter()
        .enumerate()
        .find_map(|(i, r)| Some((i, made(r)?)));
    if let Some((i, of)) = first.filter(|(i, _)| *i > 0)
        && of == chain
    {
        let work = 0..all[i].start;
        let other = part_of(step, &work);
        let of = whose.about(&other, before);
        // 'Toss the filling together. For the crumble, rub in the butter.'
        let named = || whose.named(&other.text) == Some(of);
        return (of != chain && (does(&other, &ON_DOUGH) || named()))
            .then(|| Strand::other(work, of));
    }
    // 'Rub the crumble together. Spread the batter in the tin': what goes on it is made.
    let inner = all.first().filter(|_| all.len() > 1).and_then(|r| {
        let text = &step.text[r.clone()];
        let of = whose
            .named(text)
            .filter(|&of| whose.under(of) == Some(chain))?;
        let said = part_of(step, r);
        let makes = does(&said, &MAKES) && !does(&said, &ON_DOUGH) && is_made_whole(text);
        makes.then(|| Strand::other(r.clone(), of))
    });
    if inner.is_some() {
        return inner;
    }
    let dough = whose.under(chain).filter(|&d| raw(d))?;
    let puts = |r: &&Range<usize>| {
        let text = &step.text[(*r).clone()];
        let said = words(text);
        // 'Rub the crumble together. Spread the batter in the tin.'
        let batter = || {
            said.iter().take(4).any(|w| w == "batter" || w == "dough")
                || whose.named(text) == Some(dough)
        };
        let put = said.first().filter(|_| made(r).is_none());
        put.is_some_and(|w| {
            STREWS.contains(&w.as_str()) || PUTS_ON.contains(&w.as_str()) && batter()
        })
    };

    let on = all.iter().skip(1).find(puts)?;
    if !does(&part_of(step, &(0..on.start)), &MAKES) {
        return None;
    }
    Some(Strand {
        takes: true,
        ..Strand::other(on.start..step.text.len(), dough)
    })
}

/// Whether a sentence mixes a part as it is: 'Rub the crumble together', not 'Mix the crumble into the batter'.
fn is_made_whole(text: &str) -> bool {
    const INTO: [&str; 5] = ["in", "into", "through", "under", "with"];
    let said = words(text);
    let begins = said.iter().take(6);
    !begins.into_iter().any(|w| INTO.contains(&w.as_str()))
}

/// Verbs that put on a dough what goes over it; the first needs something to brush with.
const STREWS: [&str; 5] = ["brush", "glaze", "scatter", "sprinkle", "strew"];

/// What a step makes of one part is made before the step takes it for another: 'Meanwhile, boil the syrup. Brush it
/// on when they come out.'
///
/// # Inputs
/// - `places`: by task, the byte of its step's text where it stands.
pub(super) fn joined(
    build: &Build<'_>,
    list: &mut [Task],
    chains: &[Vec<usize>],
    places: &[usize],
) {
    for ((step, &chain), strand) in build
        .recipe
        .steps
        .iter()
        .zip(build.chains)
        .zip(build.strands)
    {
        let Some(s) = strand.as_ref().filter(|s| s.of != chain) else {
            continue;
        };
        let of_step: Vec<bool> = list.iter().map(|t| t.step == Some(step.number)).collect();
        let mine = |t: &usize| of_step[*t];
        let last = |c: usize| chains[c].iter().copied().rfind(mine);
        let behind = |t: &usize| mine(t) && places[*t] >= s.beside.work.end;
        let name = words(&build.w.rework.components[s.of].name);
        let said = |t: &usize| words(sentence(&step.text, places[*t]));
        let named = |t: &usize| name.last().is_some_and(|n| said(t).contains(n));
        let takes = |t: &usize| named(t) || said(t).iter().any(|w| PUTS_ON.contains(&w.as_str()));
        let (made, to) = if s.takes {
            let to = chains[s.of].iter().copied().find(mine);
            if let Some(to) = to {
                says_what(build, (step, s, chain), &mut list[to].name);
            }
            (last(chain), to)
        } else if s.beside.clause.is_empty() {
            let mut rest = chains[chain].iter().copied().filter(behind);
            (last(s.of), rest.find(named))
        } else {
            let rest = chains[chain].iter().copied().filter(behind);
            // 'Meanwhile beat the custard and pour it into the case. Bake': not before it is in.
            let said = words(&step.text[s.beside.work.clone()]);
            let in_it = said.iter().any(|w| PUTS_ON.contains(&w.as_str()));
            let bake = |t: &usize| in_it && list[*t].what == "bake" && list[*t].cooks;
            let to = rest.clone().find(takes).or_else(|| rest.clone().find(bake));
            (last(s.of), to)
        };
        if let Some((made, to)) = made.zip(to) {
            order(list, made, to);
        }
    }
}

/// Names what the step made in the work that takes it, where that is not said: 'Brush with the egg and sprinkle over.'
fn says_what(build: &Build<'_>, (step, strand, made): (&Step, &Strand, usize), name: &mut String) {
    let part = words(&build.w.rework.components[made].name);
    let said = words(&step.text[strand.beside.work.clone()]);
    let verb = said.iter().find(|w| STREWS[1..].contains(&w.as_str()));
    let told = words(name);
    if let Some((part, verb)) = part.last().zip(verb)
        && !told.contains(part)
        && !told.contains(verb)
    {
        name.push_str(&format!(", {verb} {part}"));
    }
}

/// The baker's own steps as steps of a recipe, each with the part that its heading names.
fn own_steps(w: &Worked, method: &str) -> Vec<Step> {
    let names: Vec<_> = w.rework.components.iter().map(|c| words(&c.name)).collect();
    let mut out: Vec<Step> = Vec::new();
    for section in own_method::steps(method) {
        let heading = section.heading.as_deref().map(words).unwrap_or_default();
        let shared = |c: &usize| names[*c].iter().filter(|n| heading.contains(n)).count();
        let named = (0..names.len()).filter(|c| shared(c) > 0).rev();
        let part = named.max_by_key(shared);
        for text in &section.steps {
            out.push(read::step(out.len() + 1, text, part));
        }
    }
    read::of_one_method(&mut out);
    out
}
