//! What spoils is weighed just before the work that takes it, not with the rest of its part.

use super::build::Build;
use super::taken::takes_all;
use super::takes::first_taking;
use super::task::Task;
use crate::aside::taking;
use crate::rework::Kept;
use crate::sentences::words;

/// What spoils stays in the fridge where its part waits so many minutes before it is taken (common practice, no source).
const STANDS: f64 = 30.0;

/// Words behind which a food may be that is not named.
const ANY: [&str; 4] = ["everything", "ingredient", "remaining", "rest"];

/// Says at the weighing which meat, fish, egg and milk of a part stays in the fridge until when: 'Chill the pastry. Put the
/// beef on it'.
pub(super) fn told(build: &Build<'_>, list: &mut [Task], chains: &[Vec<usize>]) {
    for (c, chain) in chains.iter().enumerate() {
        let Some(&weigh) = chain.first().filter(|&&t| list[t].what == "weigh") else {
            continue;
        };
        let said = |n: &String| n.contains("in the fridge until");
        if list[weigh].notes.iter().any(said) {
            continue;
        }
        let mut late: Vec<(usize, Vec<String>)> = Vec::new();
        for name in spoiling(build, c) {
            let Some(to) = taken_by(build, list, chain, c, &name) else {
                continue;
            };
            let before = chain.iter().take_while(|&&t| t != to);
            let waits = before.filter_map(|&t| list[t].wait.filter(|_| !list[t].left_out));
            if waits.map(|w| w.span.least).sum::<f64>() < STANDS {
                continue;
            }
            match late.iter_mut().find(|l| l.0 == to) {
                Some(l) => l.1.push(name),
                None => late.push((to, vec![name])),
            }
        }
        for (to, names) in late {
            let work = &list[to].name;
            let words = format!(
                "Leave {} in the fridge until '{work}', and weigh out then.",
                names.join(" and ")
            );
            list[weigh].notes.push(words);
        }
    }
}

/// What spoils in a part, as its lines call it.
fn spoiling(build: &Build<'_>, c: usize) -> Vec<String> {
    let part = &build.w.rework.components[c];
    let lines = part.lines.iter().filter(|l| l.kept != Kept::Dropped);
    let spoils = lines.filter(|l| {
        l.food.is_some_and(|f| part.spoils.contains(&f)) || part.meat.contains(&l.name)
    });
    let bare = |name: &str| {
        name.split([',', '('])
            .next()
            .unwrap_or(name)
            .trim()
            .to_owned()
    };
    let mut out: Vec<String> = spoils.map(|l| bare(&l.name)).collect();
    out.dedup();
    out
}

/// The task of a part that first takes a food by its name; `None` where another may before.
fn taken_by(
    build: &Build<'_>,
    list: &[Task],
    chain: &[usize],
    c: usize,
    name: &str,
) -> Option<usize> {
    // Any word of it: 'beef skirt' is 'the beef'.
    let name: Vec<String> = words(name).into_iter().filter(|w| w.len() > 2).collect();
    let is = |w: &String| {
        let of_egg = matches!(w.as_str(), "yolk" | "white");
        name.contains(w) || of_egg && name.iter().any(|n| n == "egg")
    };
    for step in &build.recipe.steps {
        let said = words(&taking(&step.text));
        if said.iter().any(is) {
            let mine = build.chains[step.number - 1] == c;
            return first_taking(list, chain, step, &name).filter(|_| mine);
        }
        if takes_all(&said) || said.iter().any(|w| ANY.contains(&w.as_str())) {
            return None;
        }
    }
    None
}
