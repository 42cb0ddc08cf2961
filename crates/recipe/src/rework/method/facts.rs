//! What a step does, and for how long.

use crate::recipe::{Activity, Component, Fact, FactKind, Recipe, Step};
use crate::rework::steps::is_filling;
use crate::sentences::sentence;
use quantity::{Spread, Time};

pub(super) fn spread(low: f64, likely: f64, high: f64) -> Spread<Time> {
    let to = Time::minutes;
    Spread::new(to(low), to(likely), to(high))
}

/// A tenth to a quarter longer, as usual without gluten (common practice, no source).
pub(crate) fn longer(t: Spread<Time>) -> Spread<Time> {
    let tidy = |m: f64| {
        if m > 10.0 {
            m.round()
        } else {
            (m * 2.0).round() / 2.0
        }
    };
    spread(
        tidy(t.low().as_minutes() * 1.1),
        tidy(t.likely().as_minutes() * 1.175),
        tidy(t.high().as_minutes() * 1.25),
    )
}

/// Whether a title names what egg sets in the oven.
pub(super) fn is_called_custard(title: &str) -> bool {
    const CALLED: [&str; 5] = ["cheesecake", "clafoutis", "custard", "flan", "quiche"];
    let title = title.to_lowercase();
    CALLED.iter().any(|w| title.contains(w))
}

/// Whether a step bakes at a byte of its text until a custard is set, as in a custard tart, a quiche or a
/// cheesecake: longer than the method says, egg curdles. A case that the step fills later is empty yet (common
/// practice, no source).
pub(crate) fn sets_a_custard(recipe: &Recipe, step: &Step, at: usize) -> bool {
    // Whole words: 'until the filling is just set' fills nothing.
    const FILLS: [&str; 5] = [" fill ", " pour ", " spoon ", " add the ", " tip in "];
    const SETS: [&str; 4] = ["wobbl", "jiggl", "just set", "barely set"];
    // Bytes keep their places.
    let text = step.text.to_ascii_lowercase();
    let title = recipe.title.as_deref().unwrap_or_default();
    // Jam or sugar sets nothing: egg has to be in the filling, or in what is called a custard.
    let egg = |c: &Component| {
        let mut lines = c.lines.iter().map(|l| l.clean.to_lowercase());
        lines.any(|l| l.contains("egg") || l.contains("yolk"))
    };
    let mut parts = recipe.components.iter().filter(|c| egg(c));
    let called = is_called_custard(title);
    let bakes = step.facts.iter().filter(|f| f.does(Activity::Bake));
    let Some(last) = bakes.map(|f| f.span.start).max() else {
        return false;
    };
    let until = text.get(at..last).unwrap_or_default();
    let words = until.split(|c: char| !c.is_alphanumeric());
    let words: Vec<&str> = words.filter(|w| !w.is_empty()).collect();
    let until = format!(" {} ", words.join(" "));
    let empty = FILLS.iter().any(|w| until.contains(w));
    !empty && SETS.iter().any(|w| text.contains(w)) && parts.any(|c| called || is_filling(&c.name))
}

/// Whether a step does something, and for how long when it says.
#[allow(
    clippy::option_option,
    reason = "done without a time is not the same as not done"
)]
pub(super) fn doing(step: &Step, what: Activity) -> Option<Option<Spread<Time>>> {
    let timed = step.facts.iter().find_map(|f| match &f.kind {
        FactKind::Duration {
            value,
            doing: Some(a),
        } if *a == what => Some(Some(*value)),
        _ => None,
    });
    timed.or_else(|| {
        step.facts
            .iter()
            .any(|f| f.kind == FactKind::Doing(what))
            .then_some(None)
    })
}

/// Whether a step does it.
pub(in crate::rework) fn does(step: &Step, what: Activity) -> bool {
    last_of(step, what).is_some()
}

/// The last that a step says of doing it.
pub(in crate::rework) fn last_of(step: &Step, what: Activity) -> Option<&Fact> {
    step.facts.iter().rfind(|f| f.does(what))
}

/// The longest time a step does something for.
pub(super) fn longest(step: &Step, what: Activity) -> Option<Spread<Time>> {
    step.facts
        .iter()
        .filter_map(|f| match &f.kind {
            FactKind::Duration {
                value,
                doing: Some(a),
            } if *a == what => Some(*value),
            _ => None,
        })
        .max_by(|a, b| a.high().as_minutes().total_cmp(&b.high().as_minutes()))
}

/// How many rises a step has: a second one follows knocking back, kneading or shaping.
pub(super) fn rises_in(step: &Step) -> usize {
    let (mut count, mut worked) = (0, true);
    for f in &step.facts {
        let what = match &f.kind {
            FactKind::Doing(a) => Some(*a),
            FactKind::Duration { doing, .. } => *doing,
            _ => None,
        };
        match what {
            Some(Activity::Rise) if worked => (count, worked) = (count + 1, false),
            Some(Activity::KnockBack | Activity::Knead | Activity::Shape) => worked = true,
            _ => {}
        }
    }
    count
}

/// The clause of a step's text at a byte, in small letters: it ends where the sentence does, or
/// where something else is done then.
fn clause(text: &str, at: usize) -> String {
    // Bytes keep their places.
    let text = text.to_ascii_lowercase();
    let breaks = [
        ". ",
        ".\n",
        ";",
        "!",
        "\n",
        ", then",
        " then ",
        " before ",
        " or chill ",
        ", chill ",
        " and chill ",
        " or refrigerat",
        ", refrigerat",
        " and refrigerat",
        ", put ",
        " and put ",
        ", move ",
        " and move ",
        ", transfer ",
        " and transfer ",
        ", take ",
        " and take ",
        ", remove ",
        " and remove ",
    ];
    let places = || breaks.iter().flat_map(|b| text.match_indices(b));
    let from = places().map(|(i, _)| i).filter(|i| *i < at).max();
    let to = places().map(|(i, _)| i).filter(|i| *i >= at).min();
    let (from, to) = (from.unwrap_or(0), to.unwrap_or(text.len()));
    text.get(from..to).unwrap_or_default().to_owned()
}

/// Whether what a step does at a byte of its text is done in the fridge: its own clause says so, in
/// whole words, and says nothing of the room.
pub(crate) fn in_the_cold(text: &str, at: usize) -> bool {
    let said = clause(text, at);
    let room = [
        "not in the",
        "not chill",
        "n't chill",
        "not refrigerat",
        "n't refrigerat",
        "without chilling",
        "cool room",
        "on the bench",
        "on the counter",
        "room temp",
        "out of the fridge",
        "out of the refrigerator",
        "from the fridge",
        "from the refrigerator",
        "warm place",
        "warm spot",
        "the chill off",
    ];
    if room.iter().any(|w| said.contains(w)) {
        return false;
    }
    if said.contains("in the cold") {
        return true;
    }
    let words: Vec<&str> = said.split_whitespace().collect();
    words.iter().enumerate().any(|(i, w)| {
        let bare = w.trim_matches(|c: char| !c.is_alphanumeric());
        match bare {
            "fridge" | "refrigerator" | "refrigerate" | "chill" | "chilling" | "refrigerating" => {
                true
            }
            // Not 'the chilled butter'.
            "chilled" | "refrigerated" => {
                let alone = w.ends_with(|c: char| !c.is_alphanumeric());
                let next = words.get(i + 1).copied();
                alone
                    || next.is_none_or(|n| {
                        matches!(n, "for" | "overnight" | "until" | "at" | "and" | "or")
                    })
            }
            _ => false,
        }
    })
}

/// Whether the time at a byte names no longest: 'overnight', 'at least 2 hours', not 'overnight, up to 16 hours'.
pub(crate) fn names_no_longest(text: &str, at: usize) -> bool {
    const MOST: [&str; 7] = [
        "up to ",
        "no longer than",
        "no more than",
        "not more than",
        "not longer than",
        "at most",
        "maximum",
    ];
    const MORE: [&str; 4] = ["or longer", "or more", "or overnight", "to overnight"];
    let said = sentence(text, at);
    let end = said.as_ptr() as usize - text.as_ptr() as usize + said.len();
    let from = |words: &str| words.to_lowercase().starts_with("overnight");
    let has = |text: &str, list: &[&str]| {
        let text = text.to_lowercase();
        list.iter().any(|w| text.contains(w))
    };
    !has(text.get(at..end).unwrap_or_default(), &MOST)
        && (text.get(at..).is_some_and(from)
            || text[..at].to_lowercase().ends_with("at least ")
            || has(said, &MORE))
}
