//! Which task of a step takes what its words name.

use super::puts::{PUTS_ON, wants_warm};
use super::task::Task;
use crate::recipe::Step;
use crate::rework::is_called;
use crate::sentences::{sentence, words};

/// The first task of a step that is not weighing.
pub(super) fn first_of(list: &[Task], chain: &[usize], step: usize) -> Option<usize> {
    chain.iter().copied().find(|&t| list[t].step == Some(step))
}

/// The task of a step that takes what its words name: 'Cool for an hour. Mix the sugar and the milk' cools
/// nothing of those.
pub(super) fn first_taking(
    list: &[Task],
    chain: &[usize],
    step: &Step,
    names: &[String],
) -> Option<usize> {
    let first = first_of(list, chain, step.number)?;
    let text = step.text.to_lowercase();
    let named = names.iter().filter_map(|n| text.find(n.as_str())).min();
    let behind = named.zip(text.find("cool")).is_some_and(|(n, c)| n > c);
    if list[first].what == "bake" && !list[first].name.contains(", ") {
        // 'Bake for an hour. Warm the honey and brush it over.'
        let mut mine = chain
            .iter()
            .copied()
            .filter(|&t| list[t].step == Some(step.number));
        let takes = |t: &usize| {
            let said = words(&list[*t].name);
            names.iter().any(|n| said.contains(n))
        };
        return mine.find(takes).or(Some(first));
    }
    if list[first].what != "cool" || !behind {
        let said = |w: &str| names.iter().any(|n| n == w);
        return Some(behind_the_wait(list, chain, (step, first), said));
    }
    let mut mine = chain.iter().copied();
    mine.find(|&t| list[t].step == Some(step.number) && list[t].what != "cool")
        .or(Some(first))
}

/// The task of a step that is called by the name of a part: in 'Bake. Glaze when cool' that is not the bake.
pub(super) fn called(list: &[Task], chain: &[usize], step: usize, name: &str) -> Option<usize> {
    let mut mine = chain.iter().copied();
    mine.find(|&t| {
        let said = words(&list[t].name);
        list[t].step == Some(step) && said.iter().any(|w| calls_for(w, name))
    })
}

/// Whether a word of a step calls for a part: 'fill' for the filling too.
pub(super) fn calls_for(word: &str, name: &str) -> bool {
    is_called(word, name) || matches!((word, name), ("fill" | "filled", "filling"))
}

/// The bake of a step that makes its part before: 'Mix the paste and leave 15 minutes. Spread over the loaf.
/// Bake' waits for the loaf with the bake, not with the paste.
pub(super) fn made_beside(list: &[Task], chain: &[usize], step: usize) -> Option<usize> {
    const MAKES: [&str; 8] = [
        "mix", "whip", "cream", "fold", "melt", "rest", "cool", "chill",
    ];
    let begun = chain
        .iter()
        .any(|&t| list[t].step.is_some_and(|s| s < step));
    let mut mine = chain.iter().filter(|&&t| list[t].step == Some(step));
    let made = mine.find(|&&t| !MAKES.contains(&list[t].what))?;
    let waits = chain
        .iter()
        .any(|&t| list[t].step == Some(step) && list[t].what == "rest" && list[t].wait.is_some());
    // It is spread on what is baked then.
    let mut mine = chain.iter().filter(|&&t| list[t].step == Some(step));
    let mut puts = || list[*made].what == "other" && mine.any(|&t| list[t].what == "bake");
    (!begun && waits && (list[*made].what == "bake" || puts())).then_some(*made)
}

/// The task by which a step goes on with another part: its first, but where it makes something before.
pub(super) fn first_on(list: &[Task], chain: &[usize], step: &Step) -> Option<usize> {
    let first = first_of(list, chain, step.number)?;
    let puts = |t: &usize| {
        let mut verbs = list[*t]
            .name
            .split(", ")
            .filter_map(|n| words(n).into_iter().next());
        list[*t].step == Some(step.number) && verbs.any(|v| PUTS_ON.contains(&v.as_str()))
    };
    // Behind what it makes, not behind a bake of its own.
    let mut mine = chain
        .iter()
        .copied()
        .filter(|&t| list[t].step == Some(step.number));
    let makes = |t: &usize| list[*t].wait.is_some() || puts(t);
    let hot = wants_warm(&step.text).then(|| mine.find(makes).filter(puts));
    let beside = made_beside(list, chain, step.number);
    Some(beside.or(hot.flatten()).unwrap_or(first))
}

/// The task of a step that takes something by words of it, where a wait of that step stands between: in 'Shape. Let
/// rise. Press a hollow into each and fill' the filling is not taken before the rise.
///
/// # Inputs
/// - `from`: the task of the step that would take it.
pub(super) fn behind_the_wait(
    list: &[Task],
    chain: &[usize],
    (step, from): (&Step, usize),
    names: impl Fn(&str) -> bool,
) -> usize {
    let Some(said) = word_at(&step.text, names) else {
        return from;
    };
    // What the rework puts between stands nowhere in the text.
    let mut mine: Vec<usize> = Vec::new();
    for &t in chain.iter().skip_while(|t| **t != from) {
        let before = mine.last().map_or(0, |&b| list[b].at);
        if list[t].step == Some(step.number) && (mine.is_empty() || list[t].at > before) {
            mine.push(t);
        }
    }
    let behind = mine.iter().take_while(|&&t| list[t].at <= said).count();
    let Some(mut n) = behind.checked_sub(1) else {
        return from;
    };
    // 'Bake the filled tart' takes it; 'Let rise. With the filling, ...' does behind the rise.
    let same = |t: usize| sentence(&step.text, list[t].at) == sentence(&step.text, said);
    if list[mine[n]].wait.is_some() && !same(mine[n]) && n + 1 < mine.len() {
        n += 1;
    }
    let waits = mine[..n].iter().any(|&t| list[t].wait.is_some());
    if waits { mine[n] } else { from }
}

/// Where in a text the first word stands that is one of these, as [`words`] has them.
fn word_at(text: &str, is: impl Fn(&str) -> bool) -> Option<usize> {
    let mut from = 0;
    for word in text.split(|c: char| !c.is_alphanumeric()) {
        if words(word).first().is_some_and(|w| is(w)) {
            return Some(from);
        }
        let rest = &text[from + word.len()..];
        from += word.len() + rest.chars().next().map_or(0, char::len_utf8);
    }
    None
}

/// The first task of a chain that uses something: past weighing.
pub(super) fn first_use(list: &[Task], chain: &[usize]) -> Option<usize> {
    chain
        .iter()
        .copied()
        .find(|&t| !matches!(list[t].what, "weigh" | "hydrate"))
}
