//! How long what holds egg or milk may stand warm.

use super::own::minutes_words;
use super::step::COLD_LIMIT;
use super::task::{Place, Task};

/// So many minutes above 5 °C, all told, are the limit for raw dough or batter with egg or milk.
///
/// # Source
/// USDA consumer advice on perishable food (seen): 2 hours, 1 above 32 °C. Local rules come first.
pub const WARM_LIMIT: f64 = 120.0;

/// Minutes kept free in each warm stretch, where there are any: common practice, no source.
const PLAY: f64 = 5.0;

/// What is said where a limit counts.
pub const WARM_WORDS: &str = "with egg or milk in it, time above 5 °C counts towards a limit of 2 hours, mixing and shaping included (1 hour above 32 °C; your local rules come first)";

/// Longest time from the start of one task to the wait of another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Limit {
    /// The task whose work begins it.
    pub from: usize,
    /// The task whose wait ends it: it goes into the cold, or into the oven. Where that task has
    /// no wait, its end.
    pub to: usize,
    /// Minutes.
    pub most: i64,
}

/// A part that stands warm for longer than it may, however it is planned.
#[derive(Debug, Clone, PartialEq)]
pub struct Breach {
    /// The component's name; empty where the recipe has one part.
    pub of: String,
    /// Minutes it stands warm at least.
    pub least: f64,
    /// Minutes it may.
    pub most: f64,
    /// The task that takes longest of it.
    pub longest: usize,
}

/// Finds the limits of each part with egg or milk, and shortens what takes as long as it takes so
/// that it fits them.
pub(super) fn limits(
    list: &mut [Task],
    perishable: impl Fn(usize) -> bool,
) -> (Vec<Limit>, Vec<Breach>) {
    let (mut limits, mut breaches) = (Vec::new(), Vec::new());
    let mut parts: Vec<usize> = list.iter().map(|t| t.component).collect();
    parts.sort_unstable();
    parts.dedup();
    for c in parts.into_iter().filter(|c| perishable(*c)) {
        for t in list.iter_mut().filter(|t| t.component == c && !t.left_out) {
            if let Some(w) = t.wait.as_mut().filter(|w| w.place == Place::Fridge) {
                w.span.most = w.span.most.min(COLD_LIMIT.max(w.span.least));
            }
        }
        let path = path(list, c);
        let parts: Vec<Vec<usize>> = path
            .split_inclusive(|&t| heats(&list[t]))
            .map(<[usize]>::to_vec)
            .collect();
        for part in &parts {
            // A part that only boils stands nowhere.
            if part.len() == 1 && heats(&list[part[0]]) {
                continue;
            }
            one(list, part, &mut limits, &mut breaches);
        }
    }
    (limits, breaches)
}

fn heats(t: &Task) -> bool {
    matches!(t.what, "bake" | "boil" | "fry")
}

/// The tasks of a part from its first work to its bake, through the parts that take it in.
fn path(list: &[Task], c: usize) -> Vec<usize> {
    let begins = |t: &Task| {
        t.component == c
            && !t.left_out
            && !matches!(t.what, "weigh" | "hydrate" | "preheat" | "grease" | "melt")
    };
    let inside = |&i: &usize| begins(&list[i]);
    let mut now = (0..list.len())
        .filter(inside)
        .find(|&i| !list[i].after.iter().any(|a| begins(&list[*a])));
    let mut out = Vec::new();
    while let Some(t) = now {
        out.push(t);
        if list[t].what == "bake" || out.len() > list.len() {
            break;
        }
        let next = |same: bool| {
            (0..list.len()).find(|&i| {
                !list[i].left_out
                    && list[i].after.contains(&t)
                    && (list[i].component == list[t].component) == same
            })
        };
        now = next(true).or_else(|| next(false));
    }
    out
}

/// One stretch of raw time: up to a bake, a boil or the end.
fn one(list: &mut [Task], part: &[usize], limits: &mut Vec<Limit>, breaches: &mut Vec<Breach>) {
    let ends_hot = part.last().is_some_and(|&t| heats(&list[t]));
    // What is only cooled or served after the heat is no raw dough.
    let cold = |t: &Task| t.wait.is_some_and(|w| w.place.is_cold());
    let warm_wait = |t: &Task| t.wait.filter(|w| w.place == Place::Bench);
    let raw: Vec<usize> = part.to_vec();
    let Some((&first, &last)) = raw.first().zip(raw.last()) else {
        return;
    };
    let work: f64 = raw
        .iter()
        .filter(|&&t| !(ends_hot && t == last && list[t].wait.is_none()))
        .map(|&t| list[t].hands.usual)
        .sum();
    let least: f64 = raw
        .iter()
        .filter_map(|&t| warm_wait(&list[t]))
        .map(|w| w.span.least)
        .sum();
    if work + least > WARM_LIMIT {
        let longest = raw.iter().copied().max_by(|a, b| {
            let of = |t: &usize| warm_wait(&list[*t]).map_or(0.0, |w| w.span.least);
            of(a).total_cmp(&of(b))
        });
        breaches.push(Breach {
            of: list[first].of.clone(),
            least: work + least,
            most: WARM_LIMIT,
            longest: longest.unwrap_or(first),
        });
        return;
    }
    let spare = WARM_LIMIT - work - least;
    let takes = |t: &Task| warm_wait(t).filter(|w| !w.may);
    let wanted: f64 = raw
        .iter()
        .filter_map(|&t| takes(&list[t]))
        .map(|w| w.span.most - w.span.least)
        .sum();
    // Nobody works to the minute: a little of it is kept for each stretch.
    let ends = raw.iter().filter(|&&t| cold(&list[t]) || t == last).count();
    let free = (spare - PLAY * ends as f64).max(0.0);
    let share = if wanted > free { free / wanted } else { 1.0 };
    if share < 1.0 {
        for &t in &raw {
            let Some(w) = takes(&list[t]) else { continue };
            let most = (w.span.least + (w.span.most - w.span.least) * share).floor();
            if let Some(wait) = &mut list[t].wait {
                wait.span.most = most.max(wait.span.least);
                wait.span.usual = wait.span.usual.min(wait.span.most);
            }
            list[t].notes.push(format!(
                "No longer than {}: {WARM_WORDS}.",
                minutes_words(most)
            ));
        }
    }
    // What is left to play with is shared by the stretches between the cold hours.
    let mut stretches: Vec<(usize, usize, f64)> = Vec::new();
    let mut open: Option<(usize, f64)> = None;
    for &t in &raw {
        let (from, sum) = open.unwrap_or((t, 0.0));
        let wait =
            warm_wait(&list[t]).map_or(0.0, |w| if w.may { w.span.least } else { w.span.most });
        let sum = sum + list[t].hands.usual.ceil() + wait.ceil();
        if cold(&list[t]) || t == last {
            stretches.push((from, t, sum));
            open = None;
        } else {
            open = Some((from, sum));
        }
    }
    let planned: f64 = stretches.iter().map(|s| s.2).sum();
    let each = ((WARM_LIMIT - planned) / stretches.len().max(1) as f64).max(0.0);
    for (from, to, sum) in stretches {
        if from == to && list[to].wait.is_none() {
            continue;
        }
        limits.push(Limit {
            from,
            to,
            most: (sum + each).floor() as i64,
        });
    }
}
