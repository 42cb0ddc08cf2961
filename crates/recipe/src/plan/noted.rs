//! The tasks as a baker notes them down: in the order of the method's steps, with all that hands do.
//!
//! The plan's list stands part by part, and a task there has few names. What is read in one go follows the
//! original's steps, as their parts own them, and leaves no cut, knot or dusting out.

use super::deed::begin_clauses;
use super::step::Draft;
use super::task::{Place, Task};
use super::tasks::Tasks;
use crate::recipe::{Activity, FactKind, Step};
use crate::sentences::words;

/// What hands do that a reader of the method must not miss.
const HANDS: [&str; 55] = [
    "arrange", "braid", "brush", "chop", "coat", "core", "crimp", "cut", "decorate", "dip",
    "divide", "dock", "drain", "dredge", "drizzle", "drop", "dust", "fill", "flatten", "fold",
    "frost", "glaze", "grate", "halve", "ice", "knot", "layer", "peel", "pinch", "pipe", "plait",
    "press", "prick", "quarter", "roll", "sandwich", "scatter", "score", "seal", "shape", "slash",
    "slice", "snip", "soak", "spread", "sprinkle", "stamp", "stuff", "tie", "toast", "top", "tuck",
    "twist", "unmould", "unroll",
];

/// Those that are as often a thing: work behind a comma or 'and' only with what it is done to or with.
const THINGS: [&str; 7] = ["core", "drop", "glaze", "ice", "pinch", "toast", "top"];

/// What a cook cuts before it goes in: 'add the butter, cut into cubes'. A dough is cut after it.
const CUT_UP: [&str; 8] = [
    "chunks",
    "cubes",
    "dice",
    "lumps",
    "matchsticks",
    "pieces",
    "slivers",
    "wedges",
];

/// What a task says of handwork, beside its name.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Handwork {
    /// Before it, where it is a wait.
    pub first: Vec<String>,
    /// In place of its name, where it is work: the name that the plan has, and all of it.
    name: Option<(String, String)>,
    /// When its wait is over.
    pub then: Vec<String>,
}

/// Verbs of handwork that begin a clause of a step, with the bytes they stand at.
fn hands(text: &str) -> Vec<(usize, String)> {
    let found = begin_clauses(text, &HANDS, &THINGS);
    let is_done = |(at, verb): &(usize, String)| {
        let next = words(&text[at + verb.len()..]);
        let up_to = next.iter().take(5);
        let cut_up = verb == "cut"
            && matches!(next.first().map(String::as_str), Some("into" | "in"))
            && up_to.clone().any(|w| CUT_UP.contains(&w.as_str()));
        // Behind a comma it tells of what stands before that, and nothing is done to it: 'butter, cut into cubes'.
        let before = text[..*at].trim_end();
        let of_a_food = before.strip_suffix(',').is_some_and(|b| {
            let last = words(b).pop().unwrap_or_default();
            ["butter", "fat", "lard", "cheese"].contains(&last.as_str())
        });
        !(cut_up && of_a_food)
    };
    found.into_iter().filter(is_done).collect()
}

/// Gives each stretch of a step the handwork that it has and does not name.
///
/// # Returns
/// The handwork of a step that has no stretch.
pub(super) fn handwork(step: &Step, drafts: &mut [Draft]) -> Vec<String> {
    let text = &step.text;
    let hands = hands(text);
    if drafts.is_empty() {
        return hands.into_iter().map(|(_, verb)| verb).collect();
    }
    let facts: Vec<(usize, Activity)> = step
        .facts
        .iter()
        .filter_map(|f| match f.kind {
            FactKind::Doing(a) | FactKind::Duration { doing: Some(a), .. } => {
                Some((f.span.start, a))
            }
            _ => None,
        })
        .collect();
    let starts: Vec<usize> = drafts.iter().map(|d| d.at).collect();
    let first_word = |name: &str| words(name).into_iter().next().unwrap_or_default();
    let told: Vec<String> = drafts
        .iter()
        .flat_map(|d| d.name.split(", "))
        .map(first_word)
        .collect();
    for (n, d) in drafts.iter_mut().enumerate() {
        let from = if n == 0 { 0 } else { starts[n] };
        let to = starts.get(n + 1).copied().unwrap_or(text.len()).max(from);
        let here: Vec<&(usize, String)> =
            hands.iter().filter(|h| (from..to).contains(&h.0)).collect();
        if d.wait.is_some() {
            for (at, verb) in here {
                if told.contains(verb)
                    || d.handwork.first.contains(verb)
                    || d.handwork.then.contains(verb)
                {
                    continue;
                }
                let side = if *at < d.at {
                    &mut d.handwork.first
                } else {
                    &mut d.handwork.then
                };
                side.push(verb.clone());
            }
            continue;
        }
        // Each name stands where its verb does, else behind the name before it.
        let mut at = from;
        let mut named: Vec<(usize, String)> = Vec::new();
        let mut used: Vec<usize> = Vec::new();
        for part in d.name.split(", ") {
            let verb = first_word(part);
            let mut part = part.to_owned();
            let fact = facts.iter().find(|(p, a)| {
                (from..to).contains(p) && !used.contains(p) && first_word(a.word()) == verb
            });
            let hand = here.iter().find(|(p, v)| *v == verb && !used.contains(p));
            let place = fact.map(|f| f.0).or(hand.map(|h| h.0));
            if let Some(place) = place {
                used.push(place);
                at = place;
                // 'Divide' says more than 'shape'.
                if verb == Activity::Shape.word()
                    && let Some((_, own)) = here.iter().find(|h| h.0 == place)
                {
                    part = format!("{own}{}", &part[verb.len()..]);
                }
            }
            named.push((at, part));
        }
        let has = |named: &[(usize, String)], verb: &str| {
            named.iter().any(|(_, n)| first_word(n) == verb)
        };
        for (at, verb) in here {
            if !used.contains(at) && !has(&named, verb) {
                named.push((*at, verb.clone()));
            }
        }
        named.sort_by_key(|n| n.0);
        let all: Vec<String> = named.iter().map(|(_, n)| lower(n)).collect();
        let all = super::step::capital(&all.join(", "));
        if all != d.name {
            d.handwork.name = Some((d.name.clone(), all));
        }
    }
    Vec::new()
}

fn lower(name: &str) -> String {
    let mut letters = name.chars();
    let first = letters.next().map(char::to_lowercase);
    first.into_iter().flatten().chain(letters).collect()
}

impl Task {
    /// Its name with all the handwork it has: `Roll out, cut, twist`.
    #[must_use]
    pub fn in_full(&self) -> &str {
        match &self.handwork.name {
            Some((name, all)) if *name == self.name => all,
            _ => &self.name,
        }
    }
}

impl Tasks {
    /// The tasks that are done, as one writes them down: by the steps of the method, each behind what it needs; the
    /// oven is heated so long before the bake as it takes, where work or a wait before that leaves room.
    #[must_use]
    pub fn as_noted(&self) -> Vec<&Task> {
        let list = &self.list;
        let done: Vec<usize> = self.done().map(|(i, _)| i).collect();
        let keys = self.steps_of(&done);
        let mut order: Vec<usize> = Vec::new();
        let mut left = done.clone();
        while !left.is_empty() {
            let ready = |i: &usize| !list[*i].after.iter().any(|a| left.contains(a));
            let next = left
                .iter()
                .copied()
                .filter(ready)
                .min_by_key(|i| (keys[*i], *i));
            // Tasks that wait for one another in a ring are none; what is left stands as it is.
            let Some(next) = next else {
                order.append(&mut left);
                break;
            };
            left.retain(|i| *i != next);
            order.push(next);
        }
        for heat in done.into_iter().filter(|&i| list[i].what == "preheat") {
            self.heated(&mut order, heat);
        }
        order
            .into_iter()
            .map(|i| &list[i])
            .filter(|t| t.what != "weigh")
            .collect()
    }

    /// The step each task goes by: its own, else that of what it follows, else that of what follows it.
    fn steps_of(&self, done: &[usize]) -> Vec<usize> {
        let list = &self.list;
        let mut keys: Vec<Option<usize>> = list.iter().map(|t| t.step).collect();
        let works = |i: &usize| list[*i].what != "weigh";
        for forward in [true, false] {
            for _ in 0..list.len() {
                let mut moved = false;
                for &i in done {
                    if keys[i].is_some() {
                        continue;
                    }
                    // An oven is heated for what follows.
                    let key = if forward && list[i].what != "preheat" {
                        let before = list[i].after.iter().filter(|a| works(a));
                        before.filter_map(|a| keys[*a]).max()
                    } else if forward {
                        None
                    } else {
                        let behind = done.iter().filter(|&&j| list[j].after.contains(&i));
                        behind.filter_map(|&j| keys[j]).min()
                    };
                    moved |= key.is_some();
                    keys[i] = key;
                }
                if !moved {
                    break;
                }
            }
        }
        keys.into_iter().map(Option::unwrap_or_default).collect()
    }

    /// Puts the heating of the oven so far before its bake as it takes.
    fn heated(&self, order: &mut Vec<usize>, heat: usize) {
        let list = &self.list;
        order.retain(|i| *i != heat);
        let baked = order.iter().position(|&i| list[i].after.contains(&heat));
        let mut place = baked.unwrap_or(order.len());
        let mut left = list[heat].wait.map_or(0.0, |w| w.span.least);
        while left > 0.0 && place > 0 {
            let before = &list[order[place - 1]];
            let needed = list[heat].after.contains(&order[place - 1]);
            let in_oven = before.wait.is_some_and(|w| w.place == Place::Oven);
            let waits = before.wait.map_or(0.0, |w| w.span.least);
            // It heats while that rises.
            if needed || in_oven || before.what == "preheat" || waits >= left {
                break;
            }
            left -= before.hands.usual + waits;
            place -= 1;
        }
        order.insert(place, heat);
    }
}
