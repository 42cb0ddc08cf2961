//! Lines of a method among the ingredients.

/// Verbs a step begins with.
const VERBS: [&str; 133] = [
    "add",
    "allow",
    "arrange",
    "assemble",
    "bake",
    "beat",
    "blend",
    "boil",
    "bring",
    "broil",
    "brush",
    "butter",
    "carefully",
    "check",
    "chill",
    "chop",
    "combine",
    "cook",
    "cool",
    "cover",
    "cream",
    "crumble",
    "crush",
    "cut",
    "decorate",
    "dip",
    "dissolve",
    "divide",
    "drain",
    "dredge",
    "drizzle",
    "drop",
    "dust",
    "fill",
    "finally",
    "finish",
    "flatten",
    "flip",
    "fold",
    "form",
    "freeze",
    "fry",
    "gather",
    "gently",
    "glaze",
    "grate",
    "grease",
    "grill",
    "grind",
    "halve",
    "heat",
    "ice",
    "in",
    "invert",
    "keep",
    "knead",
    "knock",
    "lay",
    "leave",
    "let",
    "lift",
    "line",
    "make",
    "mash",
    "meanwhile",
    "melt",
    "mix",
    "oil",
    "once",
    "pat",
    "peel",
    "pipe",
    "place",
    "poach",
    "pour",
    "preheat",
    "prepare",
    "press",
    "prick",
    "process",
    "proof",
    "prove",
    "pulse",
    "push",
    "put",
    "reduce",
    "refrigerate",
    "remove",
    "repeat",
    "rest",
    "return",
    "roast",
    "roll",
    "rub",
    "scald",
    "scatter",
    "scoop",
    "scrape",
    "season",
    "separate",
    "serve",
    "set",
    "shape",
    "sift",
    "simmer",
    "slice",
    "soak",
    "spoon",
    "spread",
    "sprinkle",
    "squeeze",
    "stand",
    "steam",
    "stir",
    "strain",
    "swirl",
    "take",
    "tip",
    "toast",
    "top",
    "toss",
    "transfer",
    "turn",
    "unroll",
    "warm",
    "weigh",
    "when",
    "while",
    "whip",
    "whisk",
    "wipe",
    "work",
    "wrap",
];

/// Words that are as often food or measure: a verb only before an object.
const NOUNS: [&str; 26] = [
    "butter", "cream", "crumble", "cut", "drain", "drop", "dust", "glaze", "ice", "line", "oil",
    "press", "rest", "roast", "roll", "set", "slice", "spoon", "spread", "squeeze", "stand", "tip",
    "toast", "top", "warm", "cool",
];

const OBJECTS: [&str; 19] = [
    "the ", "a ", "an ", "your ", "together", "butter ", "two ", "tins", "with ", "in ", "into ",
    "onto ", "on ", "over ", "out ", "up ", "it ", "them ", "for ",
];

/// Whether a line opens with a verb as a step does.
pub(super) fn starts_with_verb(line: &str) -> bool {
    let line = line.trim_start();
    let end = line
        .find(|c: char| !c.is_ascii_alphabetic())
        .unwrap_or(line.len());
    let first = line[..end].to_ascii_lowercase();
    // 'Butter the tin' is a step, 'Butter, for the tin' an ingredient, and so is 'butter the size
    // of an egg', an old amount.
    let next = line[end..].trim_start().to_ascii_lowercase();
    if next.starts_with("the size of") || next.starts_with("the weight of") {
        return false;
    }
    VERBS.contains(&first.as_str())
        && (!NOUNS.contains(&first.as_str()) || OBJECTS.iter().any(|o| next.starts_with(o)))
}

/// Words of [`VERBS`] that lead a step without being what is done.
const LEADS: [&str; 8] = [
    "carefully",
    "finally",
    "gently",
    "in",
    "meanwhile",
    "once",
    "when",
    "while",
];

/// What a text tells to do, counted by its clauses.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub(super) struct Orders {
    /// The first clause opens with a verb.
    pub(super) first: bool,
    /// The first clause opens with a verb that is no food's name.
    pub(super) first_sure: bool,
    /// Clauses that open with a verb.
    pub(super) all: usize,
    /// Those whose verb is no food's name.
    pub(super) sure: usize,
}

/// Counts the clauses of a text that open with a verb: 'Cream, mix, drop on a sheet and bake'.
pub(super) fn orders(text: &str) -> Orders {
    let lower = text.to_ascii_lowercase();
    let mut found = Orders::default();
    let mut opens = true;
    let mut first = true;
    for piece in lower.split_inclusive(|c: char| !c.is_ascii_alphabetic()) {
        let word = piece.trim_end_matches(|c: char| !c.is_ascii_alphabetic());
        if !word.is_empty() {
            // Behind 'to' stands a purpose: 'flour to dust'.
            let joint = matches!(word, "and" | "then" | "next" | "now" | "also");
            if opens && VERBS.contains(&word) && !LEADS.contains(&word) {
                let sure = !NOUNS.contains(&word);
                found.all += 1;
                found.sure += usize::from(sure);
                found.first |= first;
                found.first_sure |= first && sure;
            }
            let lead = joint || LEADS.contains(&word) && word.ends_with("ly");
            first &= lead;
            opens = lead;
        }
        if piece.ends_with([',', ';', '.', ':', '(', ')', '&', '+', '/', '!']) {
            opens = true;
        }
    }
    found
}

/// Whether a line begins with a tin or pan: '2lb loaf tin lined, 180 °C'.
pub(super) fn starts_with_pan(line: &str) -> bool {
    let lower = line.to_ascii_lowercase();
    let at = [
        "loaf tin",
        "loaf pan",
        "cake tin",
        "cake pan",
        "springform",
        "baking dish",
        "baking sheet",
        "baking tray",
        "muffin tin",
        "muffin pan",
        "sandwich tin",
        "tart tin",
        "pie dish",
    ]
    .iter()
    .filter_map(|p| lower.find(p))
    .min();
    at.is_some_and(|at| {
        let before = &lower[..at];
        at <= 24
            && !before
                .split(|c: char| !c.is_alphabetic())
                .any(|w| matches!(w, "for" | "to" | "of"))
    })
}

#[cfg(test)]
mod tests {
    use super::{VERBS, orders};

    #[test]
    fn verbs_stand_in_order() {
        assert!(VERBS.is_sorted(), "sort the list");
    }

    #[test]
    fn clauses_that_tell_what_to_do_are_counted() {
        for (text, first, all, sure) in [
            ("Cream, mix, drop on a sheet, bake at 375 F", true, 4, 2),
            ("then gently fold, and bake", true, 2, 2),
            ("Butter, cream, oil", true, 3, 0),
            ("Potatoes, peeled and grated", false, 0, 0),
            ("flour to dust, in a bowl", false, 0, 0),
            ("Roll thin; cut; bake.", true, 3, 1),
        ] {
            let o = orders(text);
            assert_eq!((o.first, o.all, o.sure), (first, all, sure), "{text}");
        }
    }
}
