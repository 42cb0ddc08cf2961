//! Minutes that the baker's own method does not say: those of the page's step that its work stands for.

use super::build::{Build, Laid};
use super::own::{minutes_words, span_words};
use super::task::{Basis, Place, Task};
use super::unsaid::Unsaid;

/// What the baker's own method leaves to the page's.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct LeftToPage {
    /// What it says no time for, with the page's.
    pub taken: Vec<String>,
    /// What it does not have, with the page's time; no plan has that.
    pub lost: Vec<String>,
}

/// How long a task takes, in words. Where it waits in the room is not said: what spoils goes on in the fridge.
fn minutes(t: &Task) -> String {
    match t.wait {
        Some(w) if w.place == Place::Bench => span_words(w.span),
        Some(w) => format!("{} {}", span_words(w.span), w.place),
        None => minutes_words(t.hands.usual),
    }
}

/// How a task is called among others.
fn called(t: &Task) -> String {
    if t.of.is_empty() {
        format!("'{}'", t.name)
    } else {
        format!("'{} ({})'", t.name, t.of)
    }
}

/// Whether nothing of how long a task takes is more than a guess.
fn is_guess(t: &Task) -> bool {
    t.hands_basis == Basis::Guess && (t.wait.is_none() || t.wait_basis == Basis::Guess)
}

/// Whether work may be looked for in another method by what it is.
fn is_told(t: &Task) -> bool {
    !matches!(
        t.what,
        "weigh" | "hydrate" | "preheat" | "take_out" | "other" | "grease" | "brush"
    ) && !t.left_out
}

/// Whether the same may be meant by both: the same work, or waits of one kind of place.
fn stands_for(mine: &Task, theirs: &Task) -> bool {
    let cold = |t: &Task| t.wait.is_some_and(|w| w.place.is_cold());
    let waits = |t: &Task| matches!(t.what, "rest" | "rise" | "chill");
    let alike = waits(mine) && waits(theirs) && (mine.what != "rise" || theirs.what != "chill");
    (mine.what == theirs.what || alike) && cold(mine) == cold(theirs)
}

/// Gives each task that the own method says no time for that of the page's step, where it is plain which that is.
pub(super) fn fill(
    build: &Build<'_>,
    unsaid: &Unsaid,
    list: &mut [Task],
    chains: &[Vec<usize>],
) -> LeftToPage {
    let mut out = LeftToPage::default();
    let Some(Laid {
        list: page,
        chains: theirs,
        ..
    }) = unsaid.theirs()
    else {
        return out;
    };
    for &c in build.w.formula.order.iter().filter(|c| !unsaid.holds(**c)) {
        let mut seen: Vec<usize> = Vec::new();
        for &t in &theirs[c] {
            let timed = is_told(&page[t]) && !is_guess(&page[t]);
            if !timed || seen.contains(&t) {
                continue;
            }
            let here: Vec<usize> = chains[c]
                .iter()
                .copied()
                .filter(|&m| is_told(&list[m]) && stands_for(&list[m], &page[t]))
                .collect();
            let there: Vec<usize> = theirs[c]
                .iter()
                .copied()
                .filter(|&o| {
                    let same = is_told(&page[o]) && page[o].what == page[t].what;
                    same && stands_for(&page[o], &page[t])
                })
                .collect();
            seen.extend(&there);
            let long = |t: &usize| {
                let wait = page[*t].wait.map_or(0.0, |w| w.span.least);
                wait + page[*t].hands.usual
            };
            let pairs: Vec<(usize, usize)> = match here.as_slice() {
                [] => {
                    let all = there
                        .iter()
                        .filter(|&&o| page[o].wait.is_some() && !is_guess(&page[o]));
                    out.lost.extend(
                        all.map(|&o| format!("{}: {}", called(&page[o]), minutes(&page[o]))),
                    );
                    continue;
                }
                // Of several, the one that takes longest.
                [one] => {
                    let longest = there.iter().max_by(|a, b| long(a).total_cmp(&long(b)));
                    longest.map(|&o| (*one, o)).into_iter().collect()
                }
                all if all.len() == there.len() => all.iter().copied().zip(there).collect(),
                _ => continue,
            };
            for (m, o) in pairs {
                if !is_guess(&list[m]) || is_guess(&page[o]) {
                    continue;
                }
                let (mine, of) = (&mut list[m], &page[o]);
                let oven = mine.wait.and_then(|w| w.oven);
                (mine.hands, mine.hands_basis) = (of.hands, of.hands_basis);
                mine.wait = of.wait;
                if let (Some(wait), Some(oven)) = (&mut mine.wait, oven) {
                    wait.oven = Some(oven);
                }
                (mine.wait_basis, mine.longest_ours) = (of.wait_basis, of.longest_ours);
                mine.source.clone_from(&of.source);
                let words = minutes(of);
                mine.notes.push(format!(
                    "Your method says no time: {words} is that of the step it was read from."
                ));
                out.taken.push(format!("{}: {words}", called(mine)));
            }
        }
    }
    out
}
