//! What a method says that is no work on the batch in its turn: how it keeps, what becomes of the rest.

use super::step::{NIGHT, has, minutes_of};
use super::task::Span;
use crate::recipe::{Activity, Fact, Step};
use crate::rework::timing::BakeTime;
use crate::sentences::{sentence, words};

/// What a step says that is no work on the batch in its turn, in its own words.
pub(super) enum Aside {
    /// What is done with the rest of it, or how it keeps.
    After(String),
    /// What is done before the first step.
    Before(String),
}

/// Whether what is frozen at a byte is what is left of the batch: 'freeze the rest', 'put half in the
/// freezer'. A time shorter than a night is a wait of the method; so is 'freeze until half set' (common
/// practice, no source).
pub(super) fn of_the_rest(text: &str, at: usize, stated: Option<Span>) -> bool {
    const REST: [&str; 6] = [
        "the rest",
        "the remain",
        "leftover",
        "any extra",
        "what you do",
        "what is left",
    ];
    let said = sentence(text, at).to_lowercase();
    let mut clauses = said
        .split([',', '('])
        .flat_map(|c| c.split(" and "))
        .flat_map(|c| c.split(" then "));
    let aside = clauses.any(|c| c.contains("freez") && (has(c, &REST) || of_half(c)));
    aside && stated.is_none_or(|s| s.most >= NIGHT)
}

/// Whether a clause does something with half, or with the others: 'freeze half', 'half of them go into the
/// freezer', 'freeze the other half'; not 'with the other side up'.
fn of_half(clause: &str) -> bool {
    const PUTS: [&str; 7] = ["freeze", "keep", "place", "pop", "put", "store", "wrap"];
    const STATES: [&str; 4] = ["firm", "frozen", "hard", "set"];
    let words = words(clause);
    let word = |i: usize| words.get(i).map_or("", String::as_str);
    let begins = |i: usize| i == 0 || PUTS.contains(&word(i - 1));
    (0..words.len()).any(|i| {
        let other = word(i) == "the" && word(i + 1) == "other" && begins(i);
        let half = word(i) == "half" && begins(i) && !STATES.contains(&word(i + 1));
        other || half
    })
}

/// Whether a sentence orders what is to be done before the first step: 'Take the butter out of the fridge
/// 1 hour before you start'.
pub(super) fn before_it_begins(text: &str, at: usize) -> bool {
    const BEGINS: [&str; 6] = [
        "before you start",
        "before you begin",
        "before starting",
        "before beginning",
        "before mixing",
        "before making",
    ];
    has(sentence(text, at), &BEGINS)
}

/// What a step says beside its work: how the rest is kept, what is to be out of the fridge beforehand.
pub(super) fn asides(step: &Step, begun: bool, baked: bool) -> Vec<Aside> {
    let mut out: Vec<(&str, Aside)> = Vec::new();
    for fact in &step.facts {
        let (Some((doing, stated)), at) = (minutes_of(fact), fact.span.start) else {
            continue;
        };
        let said = sentence(&step.text, at).trim();
        let words = || format!("The method says: '{said}.'");
        let aside = if doing == Some(Activity::Freeze) && of_the_rest(&step.text, at, stated)
            || may_wait(step, fact, baked)
        {
            Aside::After(format!("{} No time is planned for that.", words()))
        } else if doing.is_none() && begun && before_it_begins(&step.text, at) {
            Aside::Before(words())
        } else {
            continue;
        };
        if out.iter().all(|(s, _)| *s != said) {
            out.push((said, aside));
        }
    }
    out.into_iter().map(|(_, aside)| aside).collect()
}

/// Whether a step stands behind the last that bakes.
pub(super) fn is_behind(bakes: &[BakeTime], step: &Step) -> bool {
    !bakes.is_empty() && bakes.iter().all(|b| b.step < step.number)
}

/// Whether a sentence allows a night that the batch need not wait: 'You can leave the dough in the fridge
/// overnight'. Where it stands among the steps, and another is their only wait, the wait is the method's: 'The
/// dough can now prove overnight'; so is one that it takes (common practice, no source).
///
/// # Inputs
/// - `baked`: the step stands behind the last bake.
pub(super) fn may_wait(step: &Step, fact: &Fact, baked: bool) -> bool {
    const WAITS: [Activity; 5] = [
        Activity::Chill,
        Activity::Cool,
        Activity::Freeze,
        Activity::Rest,
        Activity::Rise,
    ];
    let Some((doing, Some(stated))) = minutes_of(fact) else {
        return false;
    };
    // No night is said of a bake; a rise is left aside only for half a day.
    let works = doing.is_some_and(|a| a == Activity::Rise || !WAITS.contains(&a));
    if works && stated.most < 720.0 {
        return false;
    }
    let at = fact.span.start;
    let said = sentence(&step.text, at);
    let begins: Vec<String> = words(said).into_iter().take(4).collect();
    let may = begins
        .iter()
        .any(|w| matches!(w.as_str(), "can" | "may" | "could"));
    if stated.most < NIGHT || !may || takes(&step.text, at) {
        return false;
    }
    let waits = |f: &Fact| match minutes_of(f) {
        Some((Some(a), _)) => WAITS.contains(&a),
        Some((None, _)) => true,
        None => false,
    };
    // The verb of the same sentence is this wait.
    let other = |f: &&Fact| sentence(&step.text, f.span.start) != said;
    let asked = begins.iter().any(|w| w == "you");
    asked || baked || step.facts.iter().filter(other).any(waits)
}

/// Whether 'or' stands among words: that of 'for' is none.
pub(super) fn says_or(text: &str) -> bool {
    let mut words = text.split(|c: char| !c.is_alphanumeric());
    words.any(|w| w.eq_ignore_ascii_case("or"))
}

/// Whether words say no more than where, or about how long: 'at room temperature, about'.
pub(super) fn is_where_or_about(text: &str) -> bool {
    const WORDS: [&str; 21] = [
        "at",
        "in",
        "the",
        "a",
        "your",
        "cool",
        "warm",
        "room",
        "temperature",
        "fridge",
        "refrigerator",
        "larder",
        "place",
        "about",
        "around",
        "roughly",
        "approximately",
        "for",
        "least",
        "that",
        "is",
    ];
    let words = text.split(|c: char| !c.is_alphanumeric());
    let mut words = words.filter(|w| !w.is_empty()).map(str::to_lowercase);
    words.all(|w| WORDS.contains(&w.as_str()))
}

/// Whether a sentence says how long what stands before it takes: 'This can take 8 to 12 hours'.
pub(super) fn takes(text: &str, at: usize) -> bool {
    let said = sentence(text, at).to_lowercase();
    let mut begins = said.split_whitespace().take(4);
    begins
        .next()
        .is_some_and(|w| matches!(w, "it" | "that" | "this"))
        && begins.any(|w| matches!(w, "take" | "takes"))
}
