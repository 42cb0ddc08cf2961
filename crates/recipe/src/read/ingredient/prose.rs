//! Sentences among the ingredients, by their words.

use quantity::number_word;

/// Verbs of a main clause that no name of food holds.
const VERBS: [&str; 15] = [
    "is", "are", "was", "were", "keeps", "will", "would", "should", "must", "may", "might",
    "tastes", "improves", "freezes", "makes",
];

/// Words that open a clause said of a food: 'butter that is soft', 'salt if it is needed'.
const RELATIVES: [&str; 14] = [
    "that",
    "which",
    "what",
    "whatever",
    "whichever",
    "who",
    "if",
    "as",
    "when",
    "until",
    "it",
    "they",
    "you",
    "than",
];

/// The words, lower case.
fn words(line: &str) -> impl Iterator<Item = String> {
    line.split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
        .map(str::to_lowercase)
}

/// Whether a line has a main clause: 'The crumb is better on the second day'.
pub(super) fn is_sentence(line: &str) -> bool {
    let all: Vec<String> = words(line).collect();
    all.len() >= 5
        && !line.contains(':')
        && all
            .windows(2)
            .any(|pair| VERBS.contains(&pair[1].as_str()) && !RELATIVES.contains(&pair[0].as_str()))
}

/// Whether a line opens as a sentence does: 'This keeps well', 'It can be frozen', 'Keeps a week'.
pub(super) fn opens_sentence(line: &str) -> bool {
    const MORE: [&str; 6] = ["keep", "can", "freeze", "make", "need", "take"];
    let mut all = words(line);
    let first = all.next().unwrap_or_default();
    match first.as_str() {
        "this" | "these" | "it" | "they" | "there" => all
            .take(3)
            .any(|w| VERBS.contains(&w.as_str()) || MORE.contains(&w.as_str())),
        "keeps" | "freezes" | "improves" => all.next().is_some(),
        _ => false,
    }
}

/// Whether a line begins with a length of time, which is of no food: 'three days', '2–3 hours'.
pub(crate) fn is_span_of_time(line: &str) -> bool {
    const TIMES: [&str; 10] = [
        "seconds", "minutes", "mins", "hours", "hrs", "days", "nights", "weeks", "months", "years",
    ];
    const SOME: [&str; 6] = ["a", "an", "few", "several", "couple", "half"];
    let mut number = false;
    for (i, word) in words(line).take(6).enumerate() {
        let counts = word.chars().all(|c| c.is_numeric())
            || SOME.contains(&word.as_str())
            || number_word(&word).is_some();
        if counts {
            number = true;
        } else if number && TIMES.contains(&word.as_str()) {
            // '2 days old bread'
            return words(line)
                .nth(i + 1)
                .is_none_or(|w| !matches!(w.as_str(), "old" | "stale"));
        } else if !matches!(word.as_str(), "to" | "or" | "of" | "about") {
            return false;
        }
    }
    false
}
