//! The baker's own figures put to the tasks: keys that stay, and where each step went.

use super::table;
use super::task::Task;
use crate::own_method::{ALIKE, likeness};
use crate::recipe::Recipe;
use crate::sheet::Sheet;
use std::collections::{BTreeMap, BTreeSet};

/// Keys that stay the same however the recipe is worked.
pub(super) fn keys(list: &mut [Task]) {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for task in list {
        let stem = format!("{}:{}", task.of, task.what);
        let n = seen.entry(stem.clone()).or_default();
        *n += 1;
        task.key = if *n == 1 { stem } else { format!("{stem}#{n}") };
    }
}

/// The words of a recipe's steps, by number.
pub(super) fn said(recipe: &Recipe) -> BTreeMap<usize, String> {
    let steps = recipe.steps.iter();
    steps.map(|s| (s.number, s.text.clone())).collect()
}

/// Own figures go with the words of their step: where it stands elsewhere in the method, its task
/// bears the key that they are kept by. Returns where each added step follows, by its key, and the
/// keys of those whose step is not there any more.
fn follow(
    list: &mut [Task],
    sheet: &Sheet,
    says: &BTreeMap<usize, String>,
) -> (BTreeMap<String, usize>, BTreeSet<String>) {
    let (mut behind, mut gone) = (BTreeMap::new(), BTreeSet::new());
    let mut taken = BTreeSet::new();
    for own in &sheet.steps {
        let Some(words) = &own.words else { continue };
        let key = own.added.as_ref().map_or(&own.step, |a| &a.after);
        let (of, what) = key.rsplit_once(':').unwrap_or(("", key));
        let what = what.split('#').next().unwrap_or(what);
        // The same words may stand in another part; words that are only like them may not.
        let like = |t: &Task| match t.step.and_then(|n| says.get(&n)) {
            Some(now) if now == words => 2.0,
            Some(now) if t.of == of => likeness(now, words),
            _ => 0.0,
        };
        let found = (0..list.len())
            .filter(|&i| list[i].what == what && (own.added.is_some() || !taken.contains(&i)))
            .map(|i| (i, like(&list[i]), list[i].key == *key))
            .filter(|(_, likeness, _)| *likeness >= ALIKE)
            .reduce(|best, new| {
                if (new.1, new.2) > (best.1, best.2) {
                    new
                } else {
                    best
                }
            });
        let Some((at, ..)) = found else {
            gone.insert(own.step.clone());
            continue;
        };
        if own.added.is_some() {
            behind.insert(own.step.clone(), at);
            continue;
        }
        taken.insert(at);
        if let Some(other) = list.iter().position(|t| t.key == own.step)
            && other != at
        {
            list[other].key = std::mem::take(&mut list[at].key);
        }
        list[at].key.clone_from(&own.step);
    }
    (behind, gone)
}

/// Puts the baker's own figures and steps in. Returns the keys that are not there.
pub(super) fn apply_own(
    list: &mut Vec<Task>,
    sheet: &Sheet,
    says: &BTreeMap<usize, String>,
) -> Vec<String> {
    let (behind, gone) = follow(list, sheet, says);
    let mut idle = Vec::new();
    let here = sheet.steps.iter().filter(|o| !gone.contains(&o.step));
    for own in here.clone().filter(|o| o.added.is_some()) {
        let Some(added) = &own.added else { continue };
        let at = behind.get(&own.step).copied();
        let Some(at) = at.or_else(|| list.iter().position(|t| t.key == added.after)) else {
            idle.push(own.step.clone());
            continue;
        };
        let usual = table::of("other");
        let new = list.len();
        let before = &list[at];
        let task = Task {
            key: own.step.clone(),
            after: vec![at],
            stands: usual.stands.max(before.stands),
            ..Task::usual((before.component, &before.of), usual, added.name.trim())
        };
        for other in list.iter_mut() {
            for a in other.after.iter_mut().filter(|a| **a == at) {
                *a = new;
            }
        }
        list.push(task);
    }
    for own in here {
        match list.iter_mut().find(|t| t.key == own.step) {
            Some(task) => own.apply(task),
            None if own.added.is_none() => idle.push(own.step.clone()),
            None => {}
        }
    }
    idle.extend(gone);
    idle
}

/// The oven is heated to what the baker bakes at, unless that has a figure of its own.
pub(super) fn heat_for_own(list: &mut [Task], sheet: &Sheet, idle: &[String]) {
    let own = |t: &Task| {
        let mut steps = sheet.steps.iter();
        steps.any(|s| s.step == t.key && s.oven.is_some() && !idle.contains(&s.step))
    };
    for bake in 0..list.len() {
        let oven = list[bake].wait.and_then(|w| w.oven);
        if !own(&list[bake]) {
            continue;
        }
        for before in list[bake].after.clone() {
            let heat = &mut list[before];
            if heat.what == "preheat"
                && !own(heat)
                && let Some(w) = &mut heat.wait
            {
                w.oven = oven;
            }
        }
    }
}

/// What is left out is gone round: its next follow its previous.
pub(super) fn bypass(list: &mut [Task]) {
    for _ in 0..list.len() {
        let mut changed = false;
        for i in 0..list.len() {
            let mut after = Vec::new();
            for &a in &list[i].after {
                if list[a].left_out {
                    after.extend(list[a].after.iter().copied());
                    changed = true;
                } else {
                    after.push(a);
                }
            }
            after.sort_unstable();
            after.dedup();
            list[i].after = after;
        }
        if !changed {
            return;
        }
    }
}
