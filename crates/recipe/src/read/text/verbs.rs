//! Lines of a method among the ingredients.

/// Verbs a step begins with.
const VERBS: [&str; 128] = [
    "add",
    "allow",
    "arrange",
    "assemble",
    "bake",
    "beat",
    "blend",
    "boil",
    "bring",
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
