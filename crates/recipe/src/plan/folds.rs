//! Folds of a dough with butter in it: each is work of its own, with its rest in the cold behind it.

use super::step::Draft;
use super::stretch::call;
use super::table;
use crate::sentences::sentence;
use quantity::number_word;

/// How many folds the sentence at a byte gives, how many of them are told before it, and whether the last one rests
/// too.
fn given(text: &str, at: usize) -> Option<(u32, u32, bool)> {
    const KINDS: [&str; 6] = ["single", "double", "letter", "book", "simple", "more"];
    let said = sentence(text, at).to_lowercase();
    let words: Vec<&str> = said
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .collect();
    let has = |all: &[&str]| all.iter().any(|w| said.contains(w));
    // 'Repeat twice more, chilling for 20 minutes between folds': beside the fold that is told before.
    let again = words.windows(2).find_map(|w| match (w[0], w[1]) {
        ("repeat", "twice") => Some(2),
        ("repeat", "once") => Some(1),
        ("repeat", n) => number_word(n)
            .or_else(|| n.parse().ok())
            .filter(|n| *n <= 6),
        _ => None,
    });
    if let Some(n) = again.filter(|_| has(&["between", "each time", "after each"])) {
        return Some((n + 1, 1, has(&["after each"])));
    }
    let folds = words.iter().position(|w| matches!(*w, "folds" | "turns"))?;
    let mut before = words[..folds].iter().rev();
    let count = before.find(|w| !KINDS.contains(w))?;
    let n = number_word(count).or_else(|| count.parse().ok());
    let n = n.filter(|n| (2..=6).contains(n))?;
    if has(&["after each", "after every", "each time"]) {
        return Some((n, 0, true));
    }
    has(&["between"]).then_some((n, 0, false))
}

/// The stretches of a step with each of its folds and rests apart: 'three folds, chilling 30 minutes
/// between each' is three times work and two waits.
pub(super) fn one_by_one(text: &str, drafts: Vec<Draft>) -> Vec<Draft> {
    let mut out: Vec<Draft> = Vec::new();
    for rest in drafts {
        let waits = matches!(rest.what, "chill" | "rest" | "freeze") && rest.wait.is_some();
        let Some((n, told, after_last)) = given(text, rest.at).filter(|_| waits) else {
            out.push(rest);
            continue;
        };
        let usual = table::of("roll");
        match out.last_mut().filter(|d| d.is_work()) {
            None if told > 0 => {}
            Some(first) if first.what == "fold" => first.hands = usual.hands,
            Some(first) => {
                call(first, "Fold");
                first.hands = first.hands.then(table::of("fold").hands);
            }
            None => out.push(Draft::usual(usual, "Roll, fold")),
        }
        if out.last().is_none_or(Draft::is_work) {
            out.push(rest.clone());
        }
        for k in 2..=n {
            let mut fold = Draft::usual(usual, &format!("Roll, fold: {k} of {n}"));
            fold.at = rest.at;
            out.push(fold);
            if k < n || after_last {
                out.push(rest.clone());
            }
        }
    }
    out
}
