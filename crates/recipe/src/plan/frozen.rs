//! What is frozen of a batch for another day, and what is frozen before anything is done to it.

use super::build::{Build, Placed};
use super::task::Task;
use super::waits::THAW;
use crate::sentences::{each, words};

/// A share of a batch that is frozen stays there until it is thawed, and the others are baked without it: 'Freeze 6.
/// Bake the others. Thaw the frozen rolls overnight'.
pub(super) fn shares(build: &Build<'_>, list: &mut [Task]) {
    for freeze in 0..list.len() {
        let step = list[freeze]
            .step
            .and_then(|n| build.recipe.steps.get(n - 1));
        let share = step.is_some_and(|s| each(&s.text).any(freezes_a_share));
        if list[freeze].what != "freeze" || !share {
            continue;
        }
        let mine = |t: &Task| t.component == list[freeze].component && t.step > list[freeze].step;
        let Some(thaw) = list.iter().position(|t| t.name == THAW && mine(t)) else {
            continue;
        };
        let before = list[freeze].after.clone();
        for t in (0..list.len()).filter(|&t| t != thaw) {
            if list[t].after.contains(&freeze) {
                list[t].after.retain(|a| *a != freeze);
                list[t].after.extend(&before);
            }
        }
        list[thaw].after = vec![freeze];
    }
}

/// Whether a sentence freezes some of what there is: 'Freeze 6', 'freeze half of them'.
fn freezes_a_share(said: &str) -> bool {
    const SOME: [&str; 5] = ["half", "other", "remaining", "rest", "some"];
    let words = words(said);
    let Some(at) = words.iter().position(|w| w == "freeze") else {
        return false;
    };
    let mut next = words[at + 1..].iter().filter(|w| *w != "the");
    next.next().is_some_and(|w| {
        let counted = quantity::number_word(w).is_some() || w.parse::<u32>().is_ok();
        counted || SOME.contains(&w.as_str())
    })
}

/// What only thaws at first, and comes to the warmth of the room, is weighed behind that: its egg does not stand for
/// the night.
pub(super) fn thaws_first(out: &mut [Placed]) {
    let step = out.get(1).and_then(|p| p.step);
    let waits = |p: &&Placed| p.draft.wait.is_some() && p.step == step;
    let thaws = out.get(1).is_some_and(|p| p.draft.name == THAW);
    if thaws && out[0].draft.what == "weigh" {
        let run = out[1..].iter().take_while(waits).count();
        out[..=run].rotate_left(1);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_counted_or_said() {
        for share in [
            "Freeze 6",
            "Freeze half of them",
            "freeze the remaining rolls",
        ] {
            assert!(freezes_a_share(share), "{share}");
        }
        for all in [
            "Freeze for 20 minutes",
            "Freeze until firm",
            "Chill the rest",
        ] {
            assert!(!freezes_a_share(all), "{all}");
        }
    }
}
