//! Stretches put together: work that follows work is one, and how it is called.

use super::deed::{TOGETHER, begin_clauses, verbs};
use super::puts::PUTS_ON;
use super::step::{COOLS_ON, Draft, SHORT_COOL, capital, minutes_of};
use super::table;
use super::task::{Basis, Place};
use crate::recipe::{Fact, Step};
use crate::rework::goes_over_a_bake;
use crate::sentences::{sentence, words};
use std::ops::Range;

/// Verbs that are work also where nothing known is said with them.
const ALONE: [&str; 16] = [
    "arrange", "assemble", "cut", "dip", "dredge", "drizzle", "dust", "fill", "grill", "layer",
    "pour", "press", "slice", "spoon", "spread", "sprinkle",
];

/// What an icing or a filling is left to do, as a name of its own.
pub(super) const SETS: &str = "leave to set";

/// Where a text leaves something to set and says no time: 'Leave to set', 'let it stand until set'.
pub(super) fn sets(text: &str) -> Vec<usize> {
    let lower = text.to_ascii_lowercase();
    let mut out = Vec::new();
    for verb in ["leave", "let", "allow"] {
        for (at, _) in lower.match_indices(verb) {
            let begins = !lower[..at].ends_with(char::is_alphanumeric);
            let clause = lower[at..]
                .split(['.', ',', ';'])
                .next()
                .unwrap_or_default();
            let said = words(clause);
            let sets = said
                .windows(2)
                .any(|w| w[1] == "set" && matches!(w[0].as_str(), "to" | "until" | "it" | "them"));
            let timed = clause.contains(|c: char| c.is_ascii_digit());
            let cold = said.iter().any(|w| {
                matches!(
                    w.as_str(),
                    "fridge" | "chill" | "oven" | "hour" | "overnight"
                )
            });
            if begins && sets && !timed && !cold && said.first().is_some_and(|w| w == verb) {
                out.push(at);
            }
        }
    }
    out
}

/// What a bake is left without where it is not told.
const ALWAYS: [&str; 12] = [
    "arrange", "brown", "brush", "decorate", "dip", "drizzle", "grill", "lay", "melt", "pour",
    "scatter", "sprinkle",
];

/// Work at a bake that takes its own minutes beside other work.
const FINISHES: [&str; 7] = [
    "decorate", "dip", "frost", "ice", "pipe", "sandwich", "spread",
];

/// Names that one stretch is called by, at most, beside those.
const MOST_NAMES: usize = 3;

/// Work that no activity stands for: part of the work before it, else a stretch of its own; that is so too where
/// it wants what it is done to cold, or what stands before goes on something hot.
pub(super) fn deed(out: &mut Vec<Draft>, name: &str, at: usize, text: &str) {
    if name == SETS {
        let mut d = Draft::usual(table::of("set"), &capital(name));
        d.at = at;
        out.push(d);
        return;
    }
    let hot = goes_on_hot(out, text, at);
    let apart = hot || when_cold(&words(sentence(text, at)));
    let verb = name.split(' ').next().unwrap_or_default();
    let dusts = matches!(verb, "dredge" | "dust");
    let row = if dusts { "dust" } else { "other" };
    let mut d = Draft::usual(table::of(row), &capital(name));
    (d.deed, d.at, d.on_hot) = (true, at, hot);
    // 'Cover and leave'; 'cover with frosting'.
    let covers = verb == "cover" && !name.contains(" with ");
    let told = name.contains(' ') || TOGETHER.contains(&verb);
    // What is fried is dusted when it is out of the pan; in 'simmer for 3 minutes, pour over' the minutes are those
    // of the pan.
    let timed = |l: &Draft| l.what == "boil" && l.hands_basis == Basis::Said;
    let apart_from = |l: &Draft| dusts && l.what == "fry" || told && timed(l);
    let joins = |l: &&mut Draft| l.is_work() && !apart && !apart_from(l);
    match out.last_mut().filter(joins) {
        _ if covers => {}
        // Without what it is done to it tells little.
        Some(last) if told => {
            call(last, &d.name);
            let at_a_bake = matches!(last.what, "whip" | "melt" | "other");
            if FINISHES.contains(&verb) && at_a_bake && last.hands_basis == Basis::Guess {
                last.hands = last.hands.then(table::of("brush").hands);
            }
        }
        None if told || hot || ALONE.contains(&name) => out.push(d),
        _ => {}
    }
}

/// Whether a sentence wants what it works on cold: 'Glaze when cool', 'Cut the cooled loaf'.
pub(super) fn when_cold(said: &[String]) -> bool {
    let when_cool = said.windows(2).any(|w| {
        matches!(w[0].as_str(), "when" | "once") && matches!(w[1].as_str(), "cool" | "cold")
    });
    when_cool || said.iter().any(|w| w == "cooled")
}

/// Whether what was just made on the stove is put on something hot: 'Boil the syrup and brush it on the hot plait'.
/// It may be made while that bakes; not 'pour the hot custard into the case'.
pub(super) fn goes_on_hot(out: &[Draft], text: &str, at: usize) -> bool {
    const STOVE: [&str; 4] = ["boil", "heat", "simmer", "warm"];
    let said = sentence(text, at);
    let from = at - (said.as_ptr() as usize - text.as_ptr() as usize);
    let said = words(said.get(from..).unwrap_or_default());
    let hot = |w: &String| w == "hot" || w == "warm";
    let puts = said.first().is_some_and(|w| PUTS_ON.contains(&w.as_str()));
    // 'Pour the hot custard in', 'pour over the warm sauce'.
    let sauce = |w: &[String]| hot(&w[0]) && goes_over_a_bake(&w[1]);
    let itself = said.iter().take(3).any(hot) || said.windows(2).any(sauce);
    let made = out.last().is_some_and(|l| {
        let verb = l.name.split(' ').next().unwrap_or_default().to_lowercase();
        l.is_work() && (l.what == "boil" || STOVE.contains(&verb.as_str()))
    });
    puts && made && !itself && said.iter().any(hot)
}

/// Words that a name of few words does not end in.
const OPEN: [&str; 18] = [
    "a", "an", "and", "at", "between", "by", "for", "from", "in", "into", "of", "on", "onto", "or",
    "over", "the", "to", "with",
];

/// The first words of the sentence at a byte of a step, in place of a name.
pub(super) fn first_words(text: &str, at: usize) -> String {
    let said = sentence(text, at).trim();
    let said = said.split([',', '(', ':']).next().unwrap_or_default();
    let mut words: Vec<&str> = said.split_whitespace().take(5).collect();
    while words.len() > 1
        && words
            .last()
            .is_some_and(|w| OPEN.contains(&w.to_lowercase().as_str()))
    {
        words.pop();
    }
    capital(&words.join(" "))
}

/// Where a text lets go on cooling what it has cooled for a time: 'cool 10 minutes in the pans, then
/// turn out on a rack'.
pub(super) fn goes_on_cooling(text: &str, at: usize) -> Option<usize> {
    const ON: [&str; 5] = ["cool", "completely", "rack", "until cold", "to room temp"];
    // Behind its own verb.
    let from = at + "cool".len();
    let rest = text.to_ascii_lowercase().get(from..)?.to_owned();
    let found = ON.iter().filter_map(|w| rest.find(w)).min();
    found.filter(|_| !rest.contains("warm")).map(|n| from + n)
}

/// What cools for a time first and goes on cooling then is two stretches.
pub(super) fn cool_on(out: &mut Vec<Draft>, text: &str) {
    let Some(last) = out.iter().rposition(|d| d.what == "cool") else {
        return;
    };
    let first = &out[last];
    let short = first.wait_basis == Basis::Said
        && first
            .wait
            .is_some_and(|w| w.place == Place::Bench && w.span.usual < SHORT_COOL);
    let Some(at) = goes_on_cooling(text, first.at).filter(|_| short) else {
        return;
    };
    // It does not stand between: it cools.
    out[last].stands = COOLS_ON;
    let place = out.iter().position(|d| d.at > at).unwrap_or(out.len());
    let mut d = Draft::usual(table::of("cool"), "Cool completely");
    d.at = at;
    out.insert(place.max(last + 1), d);
}

/// A time said of the first mixing is not that of what is mixed in behind it: 'Beat the cheese for 1 minute. Beat in
/// the sugar. Pour in the cream and beat.'
pub(super) fn mixes_more(step: &Step, out: &mut [Draft]) {
    const MIXES: [&str; 5] = ["beat", "blend", "mix", "whip", "whisk"];
    let text = &step.text;
    let timed = |f: &&Fact| minutes_of(f).is_some_and(|(_, span)| span.is_some());
    let ends: Vec<usize> = out.iter().skip(1).map(|d| d.at).collect();
    let ends = ends.into_iter().chain([text.len()]);
    for (d, end) in out.iter_mut().zip(ends) {
        if d.hands_basis != Basis::Said || !matches!(d.what, "mix" | "whip" | "cream") {
            continue;
        }
        let here = d.at..end;
        let mut times = step.facts.iter().filter(timed);
        let Some(last) = times.rfind(|f| here.contains(&f.span.start)) else {
            continue;
        };
        let said = sentence(text, last.span.start);
        let behind = said.as_ptr() as usize - text.as_ptr() as usize + said.len();
        let mixes = begin_clauses(text, &MIXES, &[]).into_iter();
        let mut more = mixes.filter(|(at, _)| (behind..end).contains(at));
        if more.next().is_some() {
            d.hands = d.hands.then(table::of(d.what).hands);
            d.hands_basis = Basis::Guess;
        }
    }
}

/// 'Cool, then brush again': behind a wait that is work of its own.
pub(super) fn brush_again(out: &mut Vec<Draft>, text: &str) {
    let lower = text.to_ascii_lowercase();
    for verb in ["brush", "glaze"] {
        let Some(at) = lower.find(&format!("{verb} again")) else {
            continue;
        };
        let before = out.iter().rposition(|d| d.at < at);
        if let Some(n) = before.filter(|&n| !out[n].is_work()) {
            let mut d = Draft::usual(table::of("brush"), &capital(&format!("{verb} again")));
            d.at = at;
            out.insert(n + 1, d);
        }
    }
}

/// Whether something is put on or in between two waits of a sentence: 'Cool, pour in the jelly and chill'.
pub(super) fn puts_between(text: &str, range: Range<usize>) -> bool {
    let between = text.get(range).unwrap_or_default();
    let put = |v: &(usize, String)| v.1 != "cover" && PUTS_ON.contains(&v.1.as_str());
    verbs(between).iter().any(put)
}

/// Puts a name to those of a stretch, once for each verb; what it is done to not twice.
pub(super) fn call(last: &mut Draft, name: &str) {
    let verb = |n: &str| n.split(' ').next().unwrap_or_default().to_lowercase();
    let names = || last.name.split(", ");
    if last.name.is_empty() {
        last.name = name.to_owned();
        return;
    }
    if last.name.eq_ignore_ascii_case(&verb(name)) {
        // 'Mix', then 'Mix to a paste'.
        last.name = name.to_owned();
        return;
    }
    // 'Pour the sauce into the dish, pour the batter on top' are two things.
    let object = name.split_once(' ').map(|(_, o)| o);
    let two = |n: &str| {
        let had = n.split_once(' ').map(|(_, o)| o);
        verb(n) == "pour" && had.zip(object).is_some_and(|(a, b)| a != b)
    };
    let told = |n: &str| verb(n) == verb(name) && !name.contains(" to ") && !two(n);
    let together = |n: &str| {
        let verb = verb(n);
        TOGETHER.contains(&verb.as_str()) || ALWAYS.contains(&verb.as_str())
    };
    let counted = names().filter(|n| !together(n)).count();
    if counted >= MOST_NAMES && !together(name) || names().any(told) {
        return;
    }
    // 'Sprinkle flour over, fry'.
    let had = last.name.strip_suffix(" over").unwrap_or(&last.name);
    let name = match object.filter(|o| had.ends_with(o)) {
        Some(_) => verb(name),
        None => {
            let mut letters = name.chars();
            let first = letters
                .next()
                .map_or(String::new(), |c| c.to_lowercase().collect());
            format!("{first}{}", letters.as_str())
        }
    };
    last.name = format!("{}, {name}", last.name);
}

/// Work of one step that follows work is one stretch.
pub(super) fn join(out: &mut Vec<Draft>, new: Draft) {
    // 'Whisk the batter. Pour into the oil and fry': the pan is a stretch of its own.
    let pan = |l: &Draft| new.what == "fry" && new.name == "Fry" && l.what != "fry";
    let joins = |l: &&mut Draft| l.is_work() && new.is_work() && !pan(l);
    let Some(last) = out.last_mut().filter(joins) else {
        out.push(new);
        return;
    };
    if !new.name.is_empty() {
        if last.name.is_empty() || last.deed {
            last.what = new.what;
        }
        call(last, &new.name);
    }
    if last.deed {
        // The minutes of the activity are for all of it.
        last.deed = false;
        (last.hands, last.hands_basis) = (new.hands, new.hands_basis);
        (last.source, last.at) = (new.source, new.at);
    } else {
        last.hands = last.hands.then(new.hands);
    }
    if new.hands_basis == Basis::Guess || last.hands_basis == Basis::Guess {
        last.hands_basis = Basis::Guess;
    } else if new.hands_basis != last.hands_basis {
        last.hands_basis = Basis::Reworked;
    }
    last.stands = new.stands;
    last.was = last.was.take().or(new.was);
    last.notes.extend(new.notes);
    last.optional = None;
}
