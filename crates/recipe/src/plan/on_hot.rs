//! What goes on a bake while it is hot.

use super::build::Build;
use super::cool::wants_cold;
use super::join::soon_within;
use super::order::{order, reaches};
use super::puts::{PUTS_ON, wants_warm};
use super::step::SHORT_COOL;
use super::task::{Basis, Task};
use crate::sentences::{each, words};

/// Verbs of what soaks into a bake, or melts on it, and goes on while it is hot unless the method wants it cold
/// (common practice, no source).
const ON_HOT: [&str; 3] = ["brush", "soak", "prick"];
/// Verbs of what goes on hot where the method says so.
const SAID_HOT: [&str; 6] = ["dip", "drizzle", "glaze", "pour", "spoon", "toss"];
/// What is to be done as soon as a bake is out is done within so many minutes (common practice, no source).
const AT_ONCE: f64 = 5.0;

/// What goes on a bake that is out of the oven at `out`, before it cools: each is done soon. On a bread that is brushed
/// it does so unsaid.
pub(super) fn goes_on_hot(
    build: &Build<'_>,
    list: &mut [Task],
    out: usize,
    bread: bool,
) -> Vec<usize> {
    let puts = |t: &Task| {
        let step = t.step.and_then(|s| build.recipe.steps.get(s - 1));
        let name = words(&t.name);
        let does = |verbs: &[&str]| name.iter().any(|w| verbs.contains(&w.as_str()));
        step.is_some_and(|s| {
            let said = |when: fn(&str) -> bool| {
                each(&s.text).any(|said| when(said) && name_in(&name, said))
            };
            t.wait.is_none()
                && !wants_cold(&s.text, &name)
                && (bread && does(&ON_HOT)
                    || (does(&ON_HOT) || does(&SAID_HOT)) && said(at_once)
                    || (does(&PUTS_ON) || does(&["sprinkle"])) && said(while_hot))
        })
    };
    before_it_is_cold(list, out, &puts);
    // An empty case is cold again when the tart is baked.
    let between = |c: usize| {
        let what = list[c].what;
        what.starts_with("cool") || what == "bake" && c != out
    };
    let between: Vec<usize> = (0..list.len()).filter(|&c| between(c)).collect();
    let cools = |list: &[Task], t: usize| {
        let mut all = between.iter();
        all.any(|&c| reaches(list, out, c) && reaches(list, c, t))
    };
    let all = 0..list.len();
    let hot: Vec<usize> = all
        .filter(|&t| t != out && reaches(list, out, t) && puts(&list[t]) && !cools(list, t))
        .collect();
    for &t in &hot {
        let before: Vec<usize> = list[t].after.clone();
        let before = before.into_iter().filter(|&b| reaches(list, out, b));
        let before: Vec<usize> = before.collect();
        let step = list[t].step.and_then(|s| build.recipe.steps.get(s - 1));
        let name = words(&list[t].name);
        if step.is_some_and(|s| each(&s.text).any(|said| is_soon(said) && name_in(&name, said))) {
            for &b in &before {
                list[b].stands = list[b].stands.min(AT_ONCE);
            }
        }
        if list[t].soon.is_empty()
            && let Some(s) = step
        {
            list[t].soon_within = soon_within(&s.text);
        }
        list[t].soon.extend(before);
    }
    let last = |&t: &usize| !hot.iter().any(|&o| o != t && reaches(list, t, o));
    hot.iter().copied().filter(last).collect()
}

/// Whether a sentence speaks of one of these words.
fn name_in(name: &[String], said: &str) -> bool {
    let said = words(said);
    name.iter().any(|w| said.contains(w))
}

/// What a step puts on a bake that is warm yet goes on before that cools right through, where no one says for how
/// long: 'Cool in the tin 10 minutes, then on a rack. Boil the syrup; brush it over while still warm.'
fn before_it_is_cold(list: &mut [Task], out: usize, puts: &dyn Fn(&Task) -> bool) {
    let of = list[out].component;
    for t in 0..list.len() {
        // 'Brush while hot. Cool, then brush again.'
        if t == out || !puts(&list[t]) || words(&list[t].name).contains(&"again".to_owned()) {
            continue;
        }
        let through = |l: &usize| {
            let cool = &list[*l];
            let long = cool.wait.is_some_and(|w| w.span.least >= SHORT_COOL);
            let guess = cool.wait_basis == Basis::Guess && cool.what.starts_with("cool");
            let between = reaches(list, out, *l) && reaches(list, *l, t);
            *l != out && cool.component == of && long && guess && between
        };
        let Some(cool) = (0..list.len()).find(through) else {
            continue;
        };
        let before = list[cool].after.clone();
        let next: Vec<usize> = (0..list.len())
            .filter(|&x| list[x].after.contains(&cool) && reaches(list, x, t))
            .collect();
        for x in next {
            list[x].after.retain(|a| *a != cool);
            if list[x].component == of {
                list[x].after.extend(&before);
            }
        }
        for b in before {
            order(list, b, t);
            list[t].soon.push(b);
        }
        order(list, t, cool);
    }
}

/// Whether a sentence wants it done while the bake is hot: 'as soon as they come out', 'over the hot loaf'.
fn at_once(said: &str) -> bool {
    let oven = words(said)
        .windows(2)
        .any(|w| w[0] == "hot" && w[1] == "oven");
    is_soon(said) || !oven && wants_warm(said)
}

/// Whether a sentence wants it done with no delay.
pub(super) fn is_soon(said: &str) -> bool {
    const SOON: [&str; 5] = [
        "as soon as",
        "straight away",
        "straightaway",
        "immediately",
        "at once",
    ];
    let lower = said.to_lowercase();
    SOON.iter().any(|w| lower.contains(w))
}

/// Whether a sentence says of the bake that it is hot or warm yet: 'while still warm', 'while the cake is hot'.
fn while_hot(said: &str) -> bool {
    /// Words from the one to the other.
    const NEAR: usize = 5;
    let said = words(said);
    let mut whiles = (0..said.len()).filter(|&at| matches!(said[at].as_str(), "while" | "whilst"));
    whiles.any(|at| {
        let mut behind = said[at + 1..].iter().take(NEAR);
        behind.any(|w| matches!(w.as_str(), "hot" | "warm"))
    })
}
