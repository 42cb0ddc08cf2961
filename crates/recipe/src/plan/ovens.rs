//! The oven that is heated before a bake, or hot from the one before.

use super::build::{Build, heats};
use super::join::HOT;
use super::order::reaches;
use super::stores::in_hot_oven;
use super::table;
use super::task::{Basis, Place, Span, Task, Wait};
use crate::sentences::{each, words};

/// Heats the oven before each bake that does not follow another in the same oven.
pub(super) fn heated(build: &Build<'_>, list: &mut Vec<Task>) {
    let mut bakes: Vec<usize> = (0..list.len()).filter(|&t| in_hot_oven(&list[t])).collect();
    bakes.sort_by_key(|&t| list[t].step.unwrap_or(usize::MAX));
    let mut from = 0;
    for bake in bakes {
        let step = list[bake].step.unwrap_or(usize::MAX);
        let follows = list[bake].after.iter().any(|&a| {
            list[a].what == "bake" || list[a].wait.is_some_and(|w| w.place == Place::Oven)
        });
        let stated = build
            .recipe
            .steps
            .iter()
            .filter(|s| s.number >= from && s.number <= step)
            .find_map(|s| Some((s.number, heats(&s.facts)?)));
        // 'Reduce the oven to 180 °C': it is hot, and gets the minutes of a change.
        let mut steps = build.recipe.steps.iter();
        let turned = steps.any(|s| s.number >= from && s.number <= step && turns_oven(&s.text));
        let mut earlier = list.iter().enumerate().filter(|(_, t)| in_hot_oven(t));
        let as_hot = stated.is_none()
            && earlier.any(|(n, t)| {
                let oven = |t: &Task| t.wait.and_then(|w| w.oven);
                let before = t.step < list[bake].step || n < bake && t.step == list[bake].step;
                before && oven(t) == oven(&list[bake])
            });
        let of_heat = list
            .iter()
            .enumerate()
            .any(|(n, t)| in_hot_oven(t) && n != bake && reaches(list, n, bake));
        let apart = as_hot && !follows && !of_heat;
        let still_hot = (turned || as_hot) && !follows && follows_soon(list, bake, !turned);
        from = step.saturating_add(1);
        if follows || still_hot {
            continue;
        }
        let usual = table::of("preheat");
        let oven = list[bake].wait.and_then(|w| w.oven);
        let minutes = stated.and_then(|(_, span)| span);
        let wait = usual.wait.map(|w| Wait {
            span: minutes.map_or(w.span, |s| {
                Span::of(s.least, s.usual, s.most.max(w.span.most))
            }),
            oven,
            ..w
        });
        let heat = list.len();
        let notes = if apart {
            vec![HOT_YET.to_owned()]
        } else {
            Vec::new()
        };
        list.push(Task {
            notes,
            step: stated.map(|(n, _)| n),
            wait,
            wait_basis: if minutes.is_some() {
                Basis::Said
            } else {
                Basis::Guess
            },
            racks: 0,
            ..Task::usual(
                (list[bake].component, &list[bake].of),
                usual,
                "Heat the oven",
            )
        });
        list[bake].after.push(heat);
    }
}

/// What is said of an oven that another part is baked in at the same heat.
const HOT_YET: &str =
    "Where the oven is hot already for another part, at the same heat, this is done.";

/// Over a rest no longer than this, min, an oven is left hot for the next bake (common practice, no source).
const STAYS_HOT: f64 = 30.0;

/// Whether only work and short rests stand between a bake and those it comes of, in its part or another's; then
/// each follows soon, so that the oven stays hot.
///
/// # Inputs
/// - `same`: those were at its own heat.
fn follows_soon(list: &mut [Task], bake: usize, same: bool) -> bool {
    let oven = |t: usize| list[t].wait.and_then(|w| w.oven);
    let of_heat = |b: usize| {
        let mut hot = (0..list.len()).filter(|&h| in_hot_oven(&list[h]));
        hot.any(|h| h == b || reaches(list, h, b))
    };
    let (mut open, mut way) = (vec![bake], Vec::new());
    while let Some(at) = open.pop() {
        let after = &list[at].after;
        // What is made beside, and may have to be made while the oven stays hot.
        let beside = after
            .iter()
            .filter(|b| !of_heat(**b) && list[**b].what != "weigh");
        if beside.map(|&b| list[b].hands.usual).sum::<f64>() > HOT {
            return false;
        }
        for &before in after.iter().filter(|b| of_heat(**b)) {
            // What other work follows first is no more than that work away.
            let by_way = |o: &usize| *o != before && reaches(list, before, *o);
            if way.contains(&(at, before)) || after.iter().any(by_way) {
                continue;
            }
            way.push((at, before));
            let long = |w: Wait| w.place == Place::Oven || w.span.usual > STAYS_HOT;
            if in_hot_oven(&list[before]) {
                if same && oven(before) != oven(bake) {
                    return false;
                }
            } else if list[before].wait.is_some_and(long) {
                return false;
            } else {
                open.push(before);
            }
        }
    }
    for &(at, before) in &way {
        // It is the oven that is to stay hot, and one that is turned up takes a while itself.
        if list[at].soon.is_empty() {
            list[at].soon_within = STAYS_HOT;
        }
        list[at].soon.push(before);
    }
    !way.is_empty()
}

/// Whether a step turns an oven that is hot down or up.
fn turns_oven(text: &str) -> bool {
    each(text).any(is_turn)
}

/// What a step says of a second heat at the end of one bake: 'Reduce to a slow oven for the last half hour'.
pub(super) fn turned_for_the_last(text: &str) -> Option<&str> {
    each(text).find(|said| {
        let all = words(said);
        let last = all.windows(2).any(|w| {
            matches!(w[0].as_str(), "the" | "its") && matches!(w[1].as_str(), "last" | "final")
        });
        last && is_turn(said)
    })
}

fn is_turn(said: &str) -> bool {
    const TURNS: [&str; 8] = [
        "reduce", "reducing", "lower", "lowering", "increase", "raise", "drop", "decrease",
    ];
    let said = words(said);
    let says = |list: &[&str]| said.iter().any(|w| list.contains(&w.as_str()));
    let turns = says(&["turn", "turning"]) && says(&["down", "up"]);
    (turns || says(&TURNS)) && says(&["oven", "heat", "temperature"])
}
