//! Lines of a method among the ingredients.

/// Verbs a step begins with.
const VERBS: [&str; 156] = [
    "add",
    "allow",
    "arrange",
    "assemble",
    "bake",
    "beat",
    "begin",
    "blend",
    "blitz",
    "boil",
    "braise",
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
    "core",
    "cover",
    "cream",
    "crumble",
    "crush",
    "cut",
    "decorate",
    "defrost",
    "dimple",
    "dip",
    "dissolve",
    "divide",
    "dot",
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
    "infuse",
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
    "measure",
    "melt",
    "mix",
    "oil",
    "once",
    "pat",
    "peel",
    "pipe",
    "place",
    "poach",
    "pop",
    "pour",
    "preheat",
    "prepare",
    "press",
    "prick",
    "process",
    "proof",
    "prove",
    "pulse",
    "puree",
    "push",
    "put",
    "quarter",
    "reduce",
    "refrigerate",
    "remove",
    "repeat",
    "rest",
    "return",
    "roast",
    "roll",
    "rub",
    "sandwich",
    "scald",
    "scatter",
    "scoop",
    "scrape",
    "season",
    "separate",
    "serve",
    "set",
    "shape",
    "sieve",
    "sift",
    "simmer",
    "slice",
    "soak",
    "soften",
    "spoon",
    "spray",
    "spread",
    "sprinkle",
    "squeeze",
    "stand",
    "start",
    "steam",
    "steep",
    "stew",
    "stir",
    "stone",
    "strain",
    "swirl",
    "switch",
    "take",
    "thaw",
    "tip",
    "toast",
    "top",
    "toss",
    "transfer",
    "trim",
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
const NOUNS: [&str; 30] = [
    "butter", "cream", "crumble", "cut", "drain", "drop", "dust", "glaze", "ice", "line", "oil",
    "press", "rest", "roast", "roll", "sandwich", "set", "slice", "spoon", "spread", "squeeze",
    "stand", "tip", "toast", "top", "warm", "cool", "core", "quarter", "stone",
];

/// What follows such a word where it is a verb; see [`DONE_TO`] too.
const OBJECTS: [&str; 13] = [
    "together", "butter ", "two ", "tins", "with ", "in ", "into ", "onto ", "on ", "over ",
    "out ", "up ", "for ",
];

/// Foods that are verbs before what it is done to alone: 'flour the tin'.
const FOODS: [&str; 3] = ["flour", "sugar", "zest"];

/// Verbs that no list has before a food for what is done to it beforehand, as in 'grate cheese'.
const STEPS: [&str; 14] = [
    "add", "beat", "combine", "dissolve", "fold", "knead", "melt", "pour", "put", "scald", "sieve",
    "sift", "stir", "whisk",
];

/// What follows a verb, never a food or a measure: 'line a tin', 'butter it'.
const DONE_TO: [&str; 7] = ["the ", "a ", "an ", "your ", "it ", "them ", "both "];

/// What is creamed.
const CREAMED: [&str; 6] = ["butter", "fat", "lard", "marg", "shortening", "sugar"];

/// The first word of a line in lower case, and what stands behind it.
fn first_word(line: &str) -> (String, String) {
    let line = line.trim_start();
    let end = line
        .find(|c: char| !c.is_ascii_alphabetic())
        .unwrap_or(line.len());
    let lower = |s: &str| s.to_ascii_lowercase();
    (lower(&line[..end]), lower(line[end..].trim_start()))
}

/// Whether a line opens with a verb as a step does.
pub(super) fn starts_with_verb(line: &str) -> bool {
    // 'Butter the tin' is a step, 'Butter, for the tin' an ingredient, and so is 'butter the size
    // of an egg', an old amount.
    let (first, next) = first_word(line);
    if next.starts_with("the size of") || next.starts_with("the weight of") {
        return false;
    }
    let first = first.as_str();
    let open = |o: &&str| next.starts_with(*o);
    let done_to = DONE_TO.iter().any(open);
    FOODS.contains(&first) && done_to
        || VERBS.contains(&first)
            && (!NOUNS.contains(&first)
                || done_to
                || OBJECTS.iter().any(open)
                || next.strip_prefix("and ").is_some_and(orders_more)
                || first == "cream" && CREAMED.iter().any(open))
}

/// Whether words behind 'drain and' tell what to do to something: 'simmer the peas'.
fn orders_more(words: &str) -> bool {
    let (verb, next) = first_word(words);
    let verb = verb.as_str();
    VERBS.contains(&verb) && !NOUNS.contains(&verb) && DONE_TO.iter().any(|o| next.starts_with(o))
}

/// Whether the words behind 'and', up to the next stop, are another clause: 'bake', 'roll out', 'cream the
/// butter'; not 'cream', 'cream in a bowl'.
pub(crate) fn is_clause(words: &str) -> bool {
    const EATEN: [&str; 7] = ["butter", "cream", "crumble", "glaze", "ice", "oil", "toast"];
    const PLACES: [&str; 6] = ["in ", "into ", "onto ", "on ", "over ", "for "];
    let (first, next) = first_word(words);
    if EATEN.contains(&first.as_str()) {
        return starts_with_verb(words) && !PLACES.iter().any(|p| next.starts_with(p));
    }
    let alone = next.is_empty() || matches!(next.as_str(), "out" | "up" | "aside");
    starts_with_verb(words) || alone && VERBS.contains(&first.as_str())
}

/// Verbs within a step that open no line of it.
const WITHIN: &str = "
    adjust attach avoid baste bash bind blanch braid break buy carry clip coat coil continue crimp dab dampen
    deflate deglaze dig discard dollop drape dust ease eat ensure enjoy extend feather feed flick garnish get
    give go hang have hear hold insert jiggle ladle look loosen lower marinate moisten mop move nestle
    nudge pass plait plunge pound prop punch raise reheat reserve resume rinse rip rotate saute sauté score
    scrunch seal sear secure shake share skim slash slather smear snip squash stack stop store stretch
    strew stud swap taste tear tease test thaw thicken thread tie tilt trail trickle try tuck twist uncover
    unmould unmold unwrap use wait wash watch weave wiggle wind wobble";
/// Words before 'fry' and 'bake' that are part of it: 'deep-fry'.
const FRY: [&str; 3] = ["blind", "deep", "pan"];

/// Words behind which a verb has its object or its way: 'and wobble it', 'and hang up'.
const WAYS: [&str; 6] = ["out", "away", "apart", "aside", "down", "up"];
/// Words of times behind an article: 'with zingo the next day'.
const TIMES: [&str; 12] = [
    "bit",
    "day",
    "few",
    "following",
    "last",
    "little",
    "minute",
    "moment",
    "next",
    "night",
    "same",
    "while",
];

/// Whether the words behind 'and' or a comma within a step, up to the next stop, tell what to do.
pub(crate) fn is_order(words: &str) -> bool {
    let (first, next) = first_word(words);
    let to_it = || {
        let article = DONE_TO.iter().find_map(|d| next.strip_prefix(d));
        !first.ends_with('s')
            && article.is_some_and(|thing| !TIMES.contains(&first_word(thing).0.as_str()))
    };
    let way = || {
        let (way, behind) = first_word(&next);
        WAYS.contains(&way.as_str()) && !behind.starts_with("to ")
    };
    let within = || WITHIN.split_whitespace().any(|w| w == first);
    let fries = || {
        let (verb, _) = first_word(next.trim_start_matches('-'));
        FRY.contains(&first.as_str()) && matches!(verb.as_str(), "fry" | "bake")
    };
    is_clause(words) || within() || fries() || to_it() || way()
}

/// Whether words are 'to' and one verb of a step: 'To fry'.
pub(super) fn is_purpose(words: &str) -> bool {
    let lower = words.to_ascii_lowercase();
    lower
        .strip_prefix("to ")
        .is_some_and(|v| VERBS.contains(&v))
}

/// Whether a line opens with a verb that is a step's even before a food alone: 'Sift flour'.
pub(super) fn is_step_of(line: &str) -> bool {
    STEPS.contains(&first_word(line).0.as_str())
}

/// Whether a line opens with a verb that its object makes one: 'Line a tin', 'Butter the dish'.
pub(super) fn does_to_something(line: &str) -> bool {
    let (_, next) = first_word(line);
    starts_with_verb(line) && DONE_TO.iter().any(|o| next.starts_with(o))
}

/// What stands behind words that only lead up to an order: 'First,', 'Using a mixer,', 'The night
/// before,'; `None` without such words.
pub(super) fn led_up_to(line: &str) -> Option<&str> {
    let (first, next) = first_word(line);
    match first.as_str() {
        "first" | "firstly" | "second" | "secondly" | "then" | "next" | "now" | "finally"
        | "lastly" => {
            let rest = line.trim_start()[first.len()..].trim_start_matches([',', ':', ' ']);
            let led = (rest.len() < line.len() - first.len()).then_some(rest);
            led.map(|rest| whoever_does(rest).unwrap_or(rest))
        }
        "you" => whoever_does(line),
        // 'We make these at Christmas' tells nobody what to do.
        "we" | "i" => whoever_does(line).filter(|rest| {
            let between = line[..line.len() - rest.len()].to_ascii_lowercase();
            let (verb, _) = first_word(rest);
            matches!(verb.as_str(), "start" | "begin")
                || words(&between).any(|w| ORDERS.contains(&w.as_str()))
        }),
        "after" | "before" | "by" | "during" | "for" | "if" | "once" | "overnight" | "to"
        | "until" | "using" | "when" | "while" | "with" | "day" => behind_comma(line),
        "the"
            if ["night", "day", "evening", "next", "morning"]
                .iter()
                .any(|w| next.starts_with(w)) =>
        {
            behind_comma(line)
        }
        _ => None,
    }
}

/// Words that set steps in order.
const ORDERS: [&str; 5] = ["first", "then", "next", "now", "finally"];
/// Words between who does something and the verb. What one can or may do is a remark.
const BETWEEN: [&str; 14] = [
    "always", "have", "just", "like", "must", "need", "please", "shall", "should", "simply", "to",
    "usually", "want", "will",
];

fn words(text: &str) -> impl Iterator<Item = String> + '_ {
    text.split(|c: char| !c.is_ascii_alphabetic())
        .filter(|w| !w.is_empty())
        .map(str::to_ascii_lowercase)
}

/// What stands behind 'you', 'we' or 'I' and the words up to the verb: 'You will then cream …'.
fn whoever_does(line: &str) -> Option<&str> {
    let mut rest = line.trim_start();
    if !matches!(first_word(rest).0.as_str(), "you" | "we" | "i") {
        return None;
    }
    loop {
        let at = rest.find([' ', ',']).unwrap_or(rest.len());
        rest = rest[at..].trim_start_matches([' ', ',']);
        let (word, _) = first_word(rest);
        if !BETWEEN.contains(&word.as_str()) && !ORDERS.contains(&word.as_str()) {
            return (!rest.is_empty()).then_some(rest);
        }
    }
}

/// Whether a line tells of something done without telling to do it: 'I cream the butter',
/// 'Creaming the butter comes first'.
pub(super) fn tells_of_doing(line: &str) -> bool {
    let (first, next) = first_word(line);
    whoever_does(line).is_some_and(starts_with_verb)
        || DONE_TO.iter().any(|o| next.starts_with(o)) && is_gerund(&first)
}

/// 'creaming', 'baking', 'cutting'.
fn is_gerund(word: &str) -> bool {
    let Some(stem) = word.strip_suffix("ing") else {
        return false;
    };
    let single = stem
        .chars()
        .next_back()
        .map(|c| stem.trim_end_matches(c).to_owned() + &c.to_string());
    [Some(stem.to_owned()), Some(format!("{stem}e")), single]
        .iter()
        .flatten()
        .any(|s| VERBS.contains(&s.as_str()))
}

fn behind_comma(line: &str) -> Option<&str> {
    let at = line.find([',', ':'])?;
    Some(line[at + 1..].trim_start())
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
