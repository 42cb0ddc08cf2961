//! Folds of a dough with butter in it: each is work of its own, with its rest in the cold behind it.

use super::step::Draft;
use super::stretch::call;
use super::table;
use super::task::{Basis, Span, Wait};
use crate::rework::{laminates, turns};
use crate::sentences::{sentence, sentences, words};
use quantity::number_word;
use std::ops::Range;

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
    let again = repeated(&said);
    if let Some(n) = again.filter(|_| has(&["between", "each time", "after each", "after every"])) {
        return Some((n + 1, 1, has(&["after each", "after every"])));
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

/// So many folds are told at the most.
const MOST: u32 = 8;

/// How often a sentence repeats what stands before it: 'Repeat twice more', 'Repeat the rolling and folding two more
/// times', 'Repeat once'.
fn repeated(said: &str) -> Option<u32> {
    let words = words(said);
    let from = words.iter().position(|w| w == "repeat")?;
    let rest = &words[from + 1..];
    let number = |w: &String| number_word(w).or_else(|| w.parse().ok());
    let counted = rest.iter().enumerate().find_map(|(i, w)| {
        let next = rest.get(i + 1).map(String::as_str);
        match (w.as_str(), next) {
            ("twice", _) => Some(2),
            ("once", _) => Some(1),
            ("thrice", _) => Some(3),
            (_, Some("more" | "time" | "turn" | "fold")) => number(w),
            _ => None,
        }
    });
    let first = || rest.first().and_then(number);
    counted.or_else(first).filter(|n| (1..MOST).contains(n))
}

/// Whether what a sentence repeats is all that stands before it, its rest too: it names no work, or the rest as well.
fn repeats_the_rest(said: &str) -> bool {
    let words = words(said);
    let says = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    says(&["chill", "chilling", "rest", "resting"])
        || !says(&["roll", "rolling", "fold", "folding"])
}

/// The minutes at the beginning of words: '30 minutes', 'half an hour', 'hour'.
fn minutes(words: &[String]) -> Option<f64> {
    let unit = |w: &str| match w {
        "minute" | "minutes" | "min" | "mins" => Some(1.0),
        "hour" | "hours" | "hr" | "hrs" => Some(60.0),
        _ => None,
    };
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    match words.as_slice() {
        ["half", "an" | "a", "hour", ..] | ["half", "hour", ..] => Some(30.0),
        // '1 1/2 hours'.
        [n, "1", "2", one, ..] => Some((n.parse::<f64>().ok()? + 0.5) * unit(one)?),
        [one, ..] if unit(one).is_some() => unit(one),
        [n, one, ..] => {
            let n = number_word(n).map(f64::from).or_else(|| n.parse().ok())?;
            Some(n * unit(one)?)
        }
        _ => None,
    }
}

/// The same of 'every 30 minutes, three times', 'every 30 minutes for 2 hours', 'over the next 2 hours … every half
/// hour'.
fn every(words: &[String]) -> Option<(u32, f64)> {
    let behind = |of: &[&str]| {
        let at = (0..words.len()).filter(|&i| of.contains(&words[i].as_str()));
        at.filter_map(|i| minutes(&words[i + 1..])).next()
    };
    let folds = words.iter().any(|w| w == "fold" || w == "folding");
    let each = behind(&["every"]).filter(|m| folds && *m > 0.0)?;
    let counted = words.windows(2).find_map(|w| match w[1].as_str() {
        "time" => number_word(&w[0]).or_else(|| w[0].parse().ok()),
        _ => None,
    });
    let twice = words.iter().any(|w| w == "twice").then_some(2);
    let hours = || behind(&["for", "over", "next", "first", "during"]);
    let times = counted
        .or(twice)
        .or_else(|| Some((hours()? / each).floor() as u32))?;
    (2..=MOST).contains(&times).then_some((times, each))
}

/// How often a dough is folded, and after how many minutes each time: 'Fold four times at 30-minute intervals'.
fn intervals(said: &str) -> Option<(u32, f64)> {
    let words = words(said);
    if let Some(found) = every(&words) {
        return Some(found);
    }
    let number = |w: &String| number_word(w).or_else(|| w.parse().ok());
    let before = |of: &[&str]| {
        let mut pairs = words.windows(2).filter(|w| of.contains(&w[1].as_str()));
        pairs.find_map(|w| number(&w[0]))
    };
    let says = |w: &str| words.iter().any(|x| x == w);
    let minutes = before(&["minute", "min"]).filter(|_| says("fold") && says("interval"))?;
    let times = before(&["time", "fold", "set"]).filter(|n| (2..=MOST).contains(n))?;
    Some((times, f64::from(minutes)))
}

/// The folds of a sentence: what comes behind its 'then' has a time of its own.
fn before_then(text: &str, said: Range<usize>) -> Range<usize> {
    let lower = text[said.clone()].to_ascii_lowercase();
    let then = lower
        .find(" then ")
        .filter(|&n| lower[..n].contains("fold"));
    said.start..then.map_or(said.end, |n| said.start + n)
}

/// Folds of a dough that rises, each behind its wait.
fn at_intervals(text: &str, out: &mut Vec<Draft>) {
    for said in sentences(text) {
        let said = before_then(text, said);
        let Some((times, minutes)) = intervals(&text[said.clone()]) else {
            continue;
        };
        let at = out.iter().rposition(|d| d.at < said.end);
        // 'Let rise for 2 hours, folding every 30 minutes' is that rise.
        let risen = |d: &Draft| {
            let whole = f64::from(times) * minutes;
            let wait = d.wait.filter(|_| said.contains(&d.at));
            wait.is_some_and(|w| w.span.most >= whole && w.span.most < whole + minutes)
        };
        let Some(mut at) = at.filter(|&n| out[n].is_work() || risen(&out[n])) else {
            continue;
        };
        // 'Ferment for 4 hours, with a fold every 30 minutes': the hours are those of the folds.
        if at > 0 && out[at].name.to_lowercase().contains("fold") && risen(&out[at - 1]) {
            at -= 1;
            out.remove(at);
        }
        let name = out[at].name.to_lowercase();
        let mut to = at + 1;
        if name == "fold" || name == "fold dough" || risen(&out[at]) {
            out.remove(at);
            to = at;
        } else if let Some((before, last)) = out[at].name.rsplit_once(", ")
            && last.starts_with("fold")
        {
            out[at].name = before.to_owned();
        }
        for k in (1..=times).rev() {
            let mut rest = Draft::usual(table::of("rest"), "Rest");
            rest.wait = rest.wait.map(|w| Wait {
                span: Span::of(minutes, minutes, minutes),
                ..w
            });
            rest.wait_basis = Basis::Said;
            let mut fold = Draft::usual(table::of("fold"), &format!("Fold: {k} of {times}"));
            (rest.at, fold.at) = (said.start, said.start);
            out.splice(to..to, [rest, fold]);
        }
    }
}

/// How many more folds a sentence gives: 'Roll and fold twice more', 'Roll and fold again'.
fn more_folds(said: &str) -> Option<u32> {
    let words = words(said);
    let says = |list: &[&str]| words.iter().any(|w| list.contains(&w.as_str()));
    if !says(&["fold", "folding"]) || !says(&["again", "more", "repeat"]) || says(&["in", "into"]) {
        return None;
    }
    let times = words
        .windows(2)
        .find_map(|w| match (w[0].as_str(), w[1].as_str()) {
            ("twice", _) | (_, "twice") => Some(2),
            ("thrice", _) => Some(3),
            (n, "more" | "time") => number_word(n).or_else(|| n.parse().ok()),
            _ => None,
        });
    Some(times.unwrap_or(1)).filter(|n| (1..=MOST).contains(n))
}

/// 'Roll and fold. Chill 30 minutes. Repeat twice more': so often again the fold and its rest, which the step before
/// may tell.
fn repeats(text: &str, before: Option<&Draft>, out: &mut Vec<Draft>) {
    for said in sentences(text) {
        let words = &text[said.clone()];
        let Some(n) = repeated(words)
            .filter(|_| repeats_the_rest(words) && given(text, said.start).is_none())
        else {
            continue;
        };
        let here = |d: &Draft| said.contains(&d.at);
        let timed = |d: &Draft| here(d) && d.wait.is_some() && d.wait_basis != Basis::Guess;
        let cold = |d: &&Draft| d.what == "chill";
        let last = out.iter().rfind(|d| d.at < said.start);
        let Some(rest) = last
            .filter(cold)
            .or(before.filter(|_| last.is_none()))
            .cloned()
        else {
            continue;
        };
        let folds = |d: &Draft| d.name.to_lowercase().contains("fold");
        if out.iter().any(timed) || last.is_some() && !out.iter().any(folds) {
            continue;
        }
        out.retain(|d| !here(d));
        let to = out
            .iter()
            .position(|d| d.at > said.start)
            .unwrap_or(out.len());
        let more = (2..=n + 1).flat_map(|k| {
            let fold = Draft::usual(table::of("roll"), &format!("Roll, fold: {k} of {}", n + 1));
            [fold, rest.clone()].map(|d| Draft {
                at: said.start,
                ..d
            })
        });
        out.splice(to..to, more);
    }
}

/// 'Give it a second turn, chill 30 minutes, then a third turn': work before each of those chills.
fn turned(text: &str, out: &mut Vec<Draft>) {
    if !laminates(text) {
        return;
    }
    for (at, which) in turns(text) {
        let name = match which.as_str() {
            "another" => "Roll, fold again".to_owned(),
            which => format!("Roll, fold: {which} turn"),
        };
        let to = out.iter().position(|d| d.at >= at).unwrap_or(out.len());
        let before = to.checked_sub(1).map(|b| &mut out[b]);
        match before.filter(|d| d.is_work() && sentence(text, d.at) == sentence(text, at)) {
            Some(d) if d.name.to_lowercase().contains("fold") => {}
            Some(d) => call(d, "Fold"),
            None => {
                let mut fold = Draft::usual(table::of("roll"), &name);
                fold.at = at;
                out.insert(to, fold);
            }
        }
    }
}

/// Behind a wait a dough is rolled and folded again: a step says each activity once.
fn again(text: &str, out: &mut Vec<Draft>) {
    for said in sentences(text) {
        let Some(n) = more_folds(&text[said.clone()]) else {
            continue;
        };
        let told = |d: &Draft| said.contains(&d.at) && (d.is_work() || given(text, d.at).is_some());
        let rolled = |d: &Draft| d.at < said.start && d.name.to_lowercase().contains("fold");
        let before = out.iter().rposition(|d| d.at < said.start);
        let waits = before.filter(|&b| !out[b].is_work());
        if let Some(b) = waits.filter(|_| !out.iter().any(told) && out.iter().any(rolled)) {
            let usual = table::of("roll");
            let name = match n {
                1 => "Roll, fold again".to_owned(),
                n => format!("Roll, fold {n} times more"),
            };
            let mut fold = Draft::usual(usual, &name);
            fold.hands = fold.hands.times(f64::from(n));
            fold.at = said.start;
            out.insert(b + 1, fold);
        }
    }
}

/// The stretches of a step with each of its folds and rests apart: 'three folds, chilling 30 minutes
/// between each' is three times work and two waits.
///
/// # Arguments
/// * `before` — the chill that the step before ends with.
pub(super) fn one_by_one(text: &str, before: Option<&Draft>, mut drafts: Vec<Draft>) -> Vec<Draft> {
    at_intervals(text, &mut drafts);
    repeats(text, before, &mut drafts);
    turned(text, &mut drafts);
    again(text, &mut drafts);
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
