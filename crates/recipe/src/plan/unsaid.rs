//! Parts that the baker's own method does not speak of: they are made as the method that was read has it.

use super::build::{Build, Laid, with};
use super::join::before_the_last;
use super::order::{order, reaches};
use super::taken;
use super::task::Task;
use crate::aside::taking;
use crate::rework::{Kept, is_folded_in};
use crate::sentences::words;
use std::collections::BTreeMap;

/// Such parts, and how the method that was read makes them.
#[derive(Default)]
pub(super) struct Unsaid {
    parts: Vec<usize>,
    theirs: Option<Laid>,
}

/// Work that a method may call by either word.
fn alike(a: &str, b: &str) -> bool {
    let shapes = |w: &str| matches!(w, "roll" | "shape");
    a == b && !matches!(a, "other" | "weigh" | "hydrate" | "mix" | "rest") || shapes(a) && shapes(b)
}

/// Whether no step of the method takes, makes or names a part.
fn is_unsaid(build: &Build<'_>, c: usize) -> bool {
    let parts = &build.w.rework.components;
    let strands = build.strands.iter().flatten();
    let made = build.chains.contains(&c) || strands.into_iter().any(|s| s.of == c);
    let mut lines = parts.iter().flat_map(|p| &p.lines);
    let used = lines.any(|l| l.component == Some(c));
    let weighed = |l: &crate::rework::ReworkedLine| l.kept != Kept::Dropped && l.in_formula;
    if made || used || !parts[c].lines.iter().any(weighed) {
        return false;
    }
    let name = words(&parts[c].name);
    let Some(last) = name.last() else {
        return false;
    };
    // 'Fill the buns' takes the filling, 'top with' a topping.
    let stem = last.strip_suffix("ping").or(last.strip_suffix("ing"));
    let named = build.recipe.steps.iter().any(|s| {
        let said = words(&taking(&s.text));
        said.iter().any(|w| w == last || Some(w.as_str()) == stem)
    });
    !named
        && !is_folded_in(build.recipe, &parts[c].name)
        && !taken::is_taken(build, c)
        && taken::brushed(build, c).is_none()
        && taken::poured(build, c).is_none()
}

/// What is said of such a part.
fn words_of(name: &str) -> String {
    let many = name.ends_with('s') && !name.ends_with("ss");
    if many {
        format!("Your method does not say where the {name} go: write a step for them.")
    } else {
        format!("Your method does not say where the {name} goes: write a step for it.")
    }
}

impl Unsaid {
    /// What is said of each, by component.
    pub fn words(&self, list: &[Task]) -> BTreeMap<usize, String> {
        let said = |c: &usize| {
            let task = list.iter().find(|t| t.component == *c)?;
            Some((*c, words_of(&task.of)))
        };
        self.parts.iter().filter_map(said).collect()
    }

    /// Those of the baker's own method; none of the one that was read.
    pub fn of(build: &Build<'_>) -> Self {
        let all = 0..build.w.rework.components.len();
        let mine = |c: &usize| build.own_method && is_unsaid(build, *c);
        let parts: Vec<usize> = all.filter(mine).collect();
        let page = (&build.w.formula.recipe, false);
        let lay = || with(build.w, page, build.factor, |b| b.laid(&Self::default()));
        let theirs = build.own_method.then(lay);
        Self { parts, theirs }
    }

    /// How the method that was read makes all parts; `None` where that is the plan's.
    pub fn theirs(&self) -> Option<&Laid> {
        self.theirs.as_ref()
    }

    /// Whether a part is one.
    pub fn holds(&self, c: usize) -> bool {
        self.parts.contains(&c)
    }

    /// Makes a part as the method that was read has it, up to the bake and without that. `false` where
    /// the baker's own method speaks of it.
    pub fn put(&self, c: usize, list: &mut Vec<Task>, chain: &mut Vec<usize>) -> bool {
        let Some(theirs) = self.theirs.as_ref().filter(|_| self.holds(c)) else {
            return false;
        };
        let main = main_bake(&theirs.list);
        let mut cooked = false;
        for &t in &theirs.chains[c] {
            let task = &theirs.list[t];
            let cools = task.what == "cool" && !cooked;
            if Some(t) == main || matches!(task.what, "take_out" | "preheat") || cools {
                continue;
            }
            cooked |= matches!(task.what, "boil" | "fry" | "bake");
            let mut task = task.clone();
            // Its number is one of another method.
            task.step = None;
            task.after = chain.last().copied().into_iter().collect();
            task.soon.clear();
            chain.push(list.len());
            list.push(task);
        }
        if let Some(&first) = chain.first() {
            let words = words_of(&list[first].of);
            list[first].notes.push(words);
        }
        true
    }

    /// Each such part comes where the method that was read has it: before the same work, or behind it;
    /// before the last bake where nobody says.
    pub fn order(&self, list: &mut [Task], chains: &[Vec<usize>]) {
        let Some(theirs) = &self.theirs else { return };
        for &c in &self.parts {
            let Some(&end) = chains[c].last() else {
                continue;
            };
            let mine = &theirs.chains[c];
            let of_other = |t: &usize| theirs.list[*t].component != c;
            let all = || (0..theirs.list.len()).filter(of_other);
            let takes = |t: &usize| theirs.list[*t].after.iter().any(|a| mine.contains(a));
            let to = all().find(takes);
            let uses = |t: &usize| !matches!(theirs.list[*t].what, "weigh" | "mix" | "hydrate");
            let work = to
                .or_else(|| mine.iter().copied().rfind(uses))
                .or(mine.last().copied());
            let baked = main_bake(&theirs.list)
                .zip(work)
                .is_some_and(|(bake, work)| bake != work && reaches(&theirs.list, bake, work));
            if baked {
                // It goes on what is baked: behind what comes before it there.
                let before = mine.iter().flat_map(|&t| &theirs.list[t].after);
                let before = before.copied().filter(of_other).max();
                let behind = before
                    .into_iter()
                    .chain(main_bake(&theirs.list))
                    .find_map(|t| same(theirs, t, list, chains));
                let made = chains[c].iter().copied().find(|&t| list[t].what != "weigh");
                if let Some((behind, made)) = behind.or_else(|| main_bake(list)).zip(made) {
                    order(list, behind, made);
                }
                continue;
            }
            // The same work, else the next that both have.
            let next = to.into_iter().flat_map(|to| {
                let chain = &theirs.chains[theirs.list[to].component];
                let at = chain.iter().position(|&t| t == to).unwrap_or(0);
                chain[at..].iter().copied()
            });
            // A raw wash goes on nothing that is baked.
            let bake = main_bake(list);
            let raw = |t: &usize| bake.is_none_or(|b| b == *t || !reaches(list, b, *t));
            let mut alike = next
                .into_iter()
                .filter_map(|t| same(theirs, t, list, chains));
            match alike.find(raw) {
                Some(to) => order(list, end, to),
                None => before_the_last(list, chains, c, end),
            }
        }
    }
}

/// The last bake that cooks.
fn main_bake(list: &[Task]) -> Option<usize> {
    let bakes = (0..list.len()).filter(|&t| list[t].what == "bake" && list[t].cooks);
    bakes.max_by_key(|&t| list[t].step)
}

/// The task of the baker's own method that is another's: the same work on the same part, as many in where
/// there are as many, else the last.
fn same(theirs: &Laid, t: usize, list: &[Task], chains: &[Vec<usize>]) -> Option<usize> {
    let task = &theirs.list[t];
    let of = |list: &[Task], chain: &[usize]| -> Vec<usize> {
        let all = chain.iter().copied();
        all.filter(|&x| alike(list[x].what, task.what)).collect()
    };
    let there = of(&theirs.list, &theirs.chains[task.component]);
    let here = of(list, &chains[task.component]);
    let nth = there.iter().position(|&x| x == t)?;
    let counted = here.get(nth).filter(|_| here.len() == there.len());
    counted.or(here.last()).copied()
}
