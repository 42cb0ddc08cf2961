//! What spoils once it is cooked: how long it stands and cools in the room, and when it goes into the fridge.

use super::cool::{BEFORE_CUTTING, CUT_AT};
use super::order::{order, reaches};
use super::step::{COOLS_ON, SHORT_COOL};
use super::table;
use super::task::{Basis, Place, Span, Task, Wait};
use super::warm::{WARM_LIMIT, no_longer, path};

/// What is said of cooked food that cools for long before it is used.
const SHALLOW: &str = "Cooked food like this spoils in the warm: spread it shallow, so that it is at 21 °C within 2 hours, then put it into the fridge, to be at 5 °C within 6 hours in all (Food Code 3-501.14; your local rules come first).";
/// Why it cools in the room no longer.
const NO_LONGER: &str = "cooked meat, fish, grain, pulses, potatoes and other vegetables spoil in the warm; cool them shallow, and put them into the fridge if they are not used then (usual advice; your local rules come first)";

/// The first of a bake's cooling in the room, min: what is hot does not go straight into a small fridge (common practice,
/// no source).
const FIRST_COOL: f64 = 60.0;
/// What is made on the stove, and spread shallow, steams for so many minutes (common practice, no source).
const STEAMS: f64 = 20.0;
/// What has cooled in the room for two hours is in the fridge at least so long before it is cut, min (common
/// practice, no source).
const THEN_COLD: f64 = 60.0;

/// Whether a task heats what spoils in it.
fn is_cooked(t: &Task) -> bool {
    t.what == "bake" && t.cooks || t.is_cooked_on_the_stove()
}

/// Vegetables of no smaller a share of the whole weight stay moist where they are baked in a crust or on a dough: an
/// onion on a flat loaf dries (common practice, no source).
pub(super) const MUCH: f64 = 0.2;

/// The tasks of a part that is cooked on the stove or in the oven, up to where it is mixed into a dough, which is baked
/// through.
///
/// # Inputs
/// - `much`: there is so much of it that it stays moist in the oven.
/// - `of_dough`: whether a task is of a dough, its own or that of another part.
pub(super) fn before_it_is_mixed(
    list: &[Task],
    c: usize,
    given: Option<usize>,
    of_dough: impl Fn(&Task) -> bool,
    much: bool,
) -> Option<Vec<usize>> {
    let path = path(list, c, given);
    let stove = |t: &Task| t.component == c && t.is_cooked_on_the_stove();
    let mixed =
        |t: &Task| matches!(t.what, "mix" | "paste" | "knead" | "rub_in" | "fold") && of_dough(t);
    let first = path.iter().position(|&t| stove(&list[t])).unwrap_or(0);
    let to = (first..path.len()).find(|&n| mixed(&list[path[n]]));
    let path = path[..to.unwrap_or(path.len())].to_vec();
    let baked = |t: &Task| much && t.what == "bake" && t.cooks;
    let cooked = path.iter().any(|&t| stove(&list[t]) || baked(&list[t]));
    cooked.then_some(path)
}

/// What spoils does not stand about warm: between two heats no longer than it takes to see to it, once it is
/// cooked or weighed two hours, in the room.
///
/// # Inputs
/// - `path`: the tasks of the part that spoils, to the end.
/// - `raw`: it spoils before it is cooked as well.
pub(super) fn stands_briefly(list: &mut [Task], path: &[usize], raw: bool) {
    let hot = |&t: &usize| is_cooked(&list[t]);
    let first = path.iter().position(hot).unwrap_or(path.len());
    let last = path.iter().rposition(hot).unwrap_or(0);
    for (n, &t) in path.iter().enumerate().skip(if raw { 0 } else { first }) {
        let between = n > first && n < last;
        let t = &mut list[t];
        if t.wait.is_some_and(|w| w.place.is_cold()) {
            continue;
        }
        let most = if between { SHORT_COOL } else { WARM_LIMIT };
        (t.stands, t.spoils) = (t.stands.min(most), path.get(n + 1).copied());
        let Some(w) = t.wait.as_mut().filter(|w| w.place == Place::Bench && w.may) else {
            continue;
        };
        let most = w.span.most;
        w.span.most = most.min(WARM_LIMIT).max(w.span.least);
        w.span.usual = w.span.usual.min(w.span.most);
        if n > first && w.span.most < most {
            no_longer(t, NO_LONGER);
        }
    }
}

/// What spoils once it is cooked, and is to cool for longer than two hours before its next heat, does the rest of that
/// in the fridge: 'Let it go quite cold, overnight if you like.'
///
/// # Inputs
/// - `path`: the tasks of the part that spoils, to the end.
pub(super) fn cold_between(list: &mut Vec<Task>, path: &[usize]) {
    let hot = |&t: &usize| is_cooked(&list[t]);
    let Some(first) = path.iter().position(hot) else {
        return;
    };
    let long = |t: &&usize| {
        let wait = list[**t].wait.filter(|w| w.place == Place::Bench);
        wait.is_some_and(|w| w.span.least > WARM_LIMIT)
    };
    let last = path.iter().rposition(hot).unwrap_or(first);
    let long: Vec<usize> = path[first..last].iter().filter(long).copied().collect();
    for t in long {
        list[t].notes.push(SHALLOW.to_owned());
        go_on_cold(list, t, (STEAMS, COOLS_ON), Vec::new());
    }
    too_long_in_all(list, path);
}

/// What cools between two heats for a time that nobody says, and would stand in the room for more than two hours with
/// the work and the rises behind it, goes into the fridge once it steams no more: a custard for buns that rise.
fn too_long_in_all(list: &mut Vec<Task>, path: &[usize]) {
    let hot: Vec<usize> = (0..path.len())
        .filter(|&n| is_cooked(&list[path[n]]))
        .collect();
    for legs in hot.windows(2) {
        let leg = &path[legs[0] + 1..legs[1]];
        let cold = |t: &usize| list[*t].wait.is_some_and(|w| w.place.is_cold());
        if leg.iter().any(cold) {
            continue;
        }
        let room = |t: &usize| {
            let wait = list[*t].wait.filter(|w| w.place == Place::Bench);
            list[*t].hands.usual + wait.map_or(0.0, |w| w.span.least)
        };
        let until = list[path[legs[1]]].hands.usual;
        let all: f64 = leg.iter().map(room).sum();
        let cools =
            |t: &&usize| list[**t].what.starts_with("cool") && list[**t].wait_basis == Basis::Guess;
        let Some(&cool) = leg.iter().find(cools).filter(|_| all + until > WARM_LIMIT) else {
            continue;
        };
        list[cool].notes.push(SHALLOW.to_owned());
        go_on_cold(list, cool, (STEAMS, COOLS_ON), Vec::new());
    }
}

/// What is baked with a custard, a cream or meat in it cools in the room for two hours at most, the rest of its
/// cooling in the fridge.
///
/// # Inputs
/// - `path`: the tasks of the part that spoils, to the end.
pub(super) fn in_the_fridge(list: &mut Vec<Task>, path: &[usize]) {
    let hot = |&t: &usize| is_cooked(&list[t]);
    let Some(heated) = path.iter().rposition(hot) else {
        return;
    };
    let heat = path[heated];
    let mut behind = path[heated + 1..].to_vec();
    // 'Brush with the glaze' behind the bake, and a cooling that no step says: the glaze first.
    let cool = |t: &usize| list[*t].what.starts_with("cool") && !behind.contains(t);
    let aside = (0..list.len()).filter(cool).find(|&t| {
        list[t].after.contains(&heat) || {
            let mut after = list[t].after.iter();
            after.any(|a| behind.contains(a))
        }
    });
    if let Some(aside) = aside {
        if let Some(&end) = behind.last() {
            order(list, end, aside);
        }
        behind.push(aside);
    }
    let room = |t: usize| {
        let wait = list[t].wait.filter(|w| w.place == Place::Bench);
        wait.map_or(0.0, |w| w.span.least)
    };
    let is_cold = |t: &usize| list[*t].wait.is_some_and(|w| w.place.is_cold());
    let out: Vec<usize> = behind.iter().copied().take_while(|t| !is_cold(t)).collect();
    let all: f64 = out.iter().map(|&t| room(t) + list[t].hands.usual).sum();
    let cools = |t: &usize| {
        let may = list[*t]
            .wait
            .is_some_and(|w| w.place == Place::Bench && w.may);
        list[*t].what.starts_with("cool") || may
    };
    let longest = out.iter().copied().filter(cools);
    let longest = longest.max_by(|&a, &b| room(a).total_cmp(&room(b)));
    let Some(cool) = longest.filter(|_| all > WARM_LIMIT) else {
        return;
    };
    let cut = |n: &String| n == CUT_AT;
    let mut notes: Vec<String> = list[cool]
        .notes
        .iter()
        .filter(|n| cut(n))
        .cloned()
        .collect();
    list[cool].notes.retain(|n| !cut(n));
    let baked = list[heat].what == "bake";
    if baked {
        notes.push(CHILL.to_owned());
    } else {
        list[cool].notes.push(SHALLOW.to_owned());
    }
    let first = if baked { FIRST_COOL } else { STEAMS };
    if list[cool].name == BEFORE_CUTTING {
        "Cool".clone_into(&mut list[cool].name);
    }
    go_on_cold(list, cool, (first, WARM_LIMIT), notes);
}

/// A long cooling in the room is two hours of it at most, and the rest in the fridge; what follows it follows that.
///
/// # Inputs
/// - `first`: minutes of it in the room at least, where it cools for so long.
/// - `stands`: minutes it may stand out of the fridge then.
/// - `notes`: what is said of the fridge.
fn go_on_cold(list: &mut Vec<Task>, cool: usize, (first, stands): (f64, f64), notes: Vec<String>) {
    let Some(wait) = list[cool].wait.as_mut() else {
        return;
    };
    let rest = (wait.span.least - WARM_LIMIT).max(THEN_COLD);
    wait.span = Span::of(
        first.min(wait.span.least),
        wait.span.usual.min(WARM_LIMIT),
        WARM_LIMIT,
    );
    wait.may = true;
    list[cool].stands = COOLS_ON;
    let usual = table::of("chill");
    let task = Task {
        wait: usual.wait.map(|w| Wait {
            span: Span::of(rest, rest.max(w.span.usual), rest.max(w.span.most)),
            ..w
        }),
        after: vec![cool],
        stands,
        notes,
        ..Task::usual(
            (list[cool].component, &list[cool].of.clone()),
            usual,
            "Go on cooling in the fridge",
        )
    };
    let new = list.len();
    // What it came out of the oven by stands no longer: it is in the fridge.
    let before: Vec<usize> = (0..new).filter(|&a| reaches(list, a, cool)).collect();
    for t in list.iter_mut().filter(|t| t.after.contains(&cool)) {
        t.after.retain(|a| !before.contains(a));
        t.after.push(new);
    }
    list.push(task);
}

/// What is said of a bread that goes into the fridge.
const CHILL: &str = "Filled with egg, milk, meat, fish, vegetables, grain or pulses it stays out of the fridge 2 hours at most once it is baked; cover it when it is cold (usual advice; your local rules come first).";
