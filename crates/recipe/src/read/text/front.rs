//! What stands around a recipe's title: credit, yield, times.

use super::super::amount::Walk;
use super::super::lex::lex;
use super::super::step;
use super::super::words::{Word, Words};
use crate::pieces::PIECES;
use crate::recipe::{FactKind, Source, Times, Yield};
use quantity::{Locale, Time, UnitKind, number_word};

/// Takes `*…*`, `**…**` and `_…_` off a text.
pub(super) fn unmarked(text: &str) -> &str {
    let mut inner = text.trim();
    for mark in ["**", "__", "*", "_"] {
        if let Some(x) = inner
            .strip_prefix(mark)
            .and_then(|x| x.strip_suffix(mark))
            .filter(|x| !x.contains(mark) && !x.trim().is_empty())
        {
            inner = x.trim();
        }
    }
    inner
}

/// What stands behind one of some openings, whatever their case.
fn behind<'t>(text: &'t str, openings: &[&str]) -> Option<&'t str> {
    openings.iter().find_map(|p| {
        let head = text.get(..p.len())?;
        head.eq_ignore_ascii_case(p)
            .then(|| text.get(p.len()..).unwrap_or("").trim())
    })
}

/// 'Adapted from …', 'Source: …': a credit wherever it stands.
pub(super) fn credit(line: &str, source: &mut Source) -> bool {
    let openings = [
        "adapted from ",
        "source: ",
        "source - ",
        "from the book ",
        "original recipe: ",
        "recipe from ",
        "recipe adapted from ",
    ];
    let Some(mut rest) = behind(line, &openings).filter(|r| !r.is_empty()) else {
        return false;
    };
    // 'Source: adapted from …': said once.
    while let Some(inner) = behind(rest, &openings).filter(|r| !r.is_empty()) {
        rest = inner;
    }
    if rest.contains("://") || rest.starts_with("www.") {
        source.url.get_or_insert(rest.to_owned());
    } else {
        work_by(rest, source);
    }
    true
}

/// ''Tea at Four' by Tobin Vale, p. 7': the work with the place in it, and who wrote it; else all
/// of it is the work.
fn work_by(text: &str, source: &mut Source) {
    let named = text.split_once(" by ").and_then(|(work, by)| {
        let (name, place) = by.split_once(", ").unwrap_or((by, ""));
        let fits = is_person(name) && (place.is_empty() || is_place_in_work(place));
        fits.then_some((work.trim_end_matches(','), name, place))
    });
    let Some((work, name, place)) = named else {
        source.publisher.get_or_insert(text.to_owned());
        return;
    };
    source.author.get_or_insert(name.to_owned());
    source.publisher.get_or_insert(match place {
        "" => work.to_owned(),
        place => format!("{work}, {place}"),
    });
}

/// Whether a sentence ends inside a line: 'p. 7' and 'vol. 2' end none.
fn holds_an_end(line: &str) -> bool {
    let mut ends = line.match_indices(". ");
    ends.any(|(at, _)| {
        let word = line[..at].rsplit(' ').next().unwrap_or("");
        !is_place_in_work(&format!("{word} 1"))
    })
}

/// Under the title: 'By …', 'From the … kitchen', 'Ines Okoro, test kitchen'.
pub(super) fn byline(line: &str, source: &mut Source) -> bool {
    let line = line.trim_end_matches('.');
    let words = line.split_whitespace().count();
    if words <= 8
        && let Some(rest) = behind(line, &["by ", "recipe by "]).filter(|r| !r.is_empty())
    {
        source.author.get_or_insert(rest.to_owned());
        return true;
    }
    if words <= 14
        && !holds_an_end(line)
        && let Some(rest) = behind(line, &["from "]).filter(|r| !r.is_empty())
    {
        work_by(rest, source);
        return true;
    }
    if cited(line, source) {
        return true;
    }
    if words > 9 {
        return false;
    }
    for cut in [" / ", ", ", " for the ", " | ", " – ", " — ", " - "] {
        let Some((a, b)) = line.split_once(cut) else {
            continue;
        };
        let (a, b) = (a.trim(), b.trim());
        let (place, name) = if is_place(b) { (b, a) } else { (a, b) };
        if is_place(place) && is_person(name) {
            source.author.get_or_insert(name.to_owned());
            source.publisher.get_or_insert(place.to_owned());
            return true;
        }
    }
    false
}

/// 'Tobin Vale, 'Tea at Four'', 'Harrow Lane test kitchen, card 4': who, and where it stands.
fn cited(line: &str, source: &mut Source) -> bool {
    if line.split_whitespace().count() > 16 {
        return false;
    }
    for cut in [
        ", ", " / ", ": ", " – ", " — ", " - ", " in ", " from ", " by ",
    ] {
        let Some((a, b)) = line.split_once(cut) else {
            continue;
        };
        let (a, b) = (a.trim(), b.trim());
        let work = behind(b, &["from the book ", "from ", "in ", "of "]).unwrap_or(b);
        let who = is_person(a) || is_place(a);
        if who && (is_work(work) || is_place_in_work(work)) {
            if is_person(a) && !is_place(a) {
                source.author.get_or_insert(a.to_owned());
                source.publisher.get_or_insert(work.to_owned());
            } else {
                source.publisher.get_or_insert(line.to_owned());
            }
            return true;
        }
        // ''Tea at Four', Tobin Vale', 'Card 4, Harrow Lane test kitchen'
        let name = behind(b, &["by "]).unwrap_or(b);
        if is_work(a) && is_person(name) {
            source.author.get_or_insert(name.to_owned());
            source.publisher.get_or_insert(a.to_owned());
            return true;
        }
        if is_place_in_work(a) && is_place(b) {
            source.publisher.get_or_insert(line.to_owned());
            return true;
        }
    }
    false
}

/// A title in quotes, and perhaps a page behind it.
fn is_work(text: &str) -> bool {
    let pairs = [
        ('\'', '\''),
        ('"', '"'),
        ('‘', '’'),
        ('“', '”'),
        ('«', '»'),
        ('*', '*'),
        ('_', '_'),
    ];
    pairs.iter().any(|(open, close)| {
        text.strip_prefix(*open)
            .and_then(|t| t.rsplit_once(*close))
            .is_some_and(|(title, rest)| {
                let rest = rest.trim_start_matches([',', '.', ' ']);
                title.contains(char::is_alphabetic) && (rest.is_empty() || is_place_in_work(rest))
            })
    })
}

/// 'card 4', 'page 112', 'p. 7', 'vol. 2 no. 3'.
fn is_place_in_work(text: &str) -> bool {
    const PLACES: [&str; 17] = [
        "card", "page", "pages", "p", "pp", "no", "number", "vol", "volume", "issue", "book",
        "notebook", "sheet", "folder", "file", "box", "recipe",
    ];
    let first: String = text.chars().take_while(|c| c.is_alphabetic()).collect();
    text.split_whitespace().count() <= 6
        && PLACES.iter().any(|p| first.eq_ignore_ascii_case(p))
        && text.contains(char::is_numeric)
}

/// A credit and the yield behind it: 'Maud Ferris, from 'The Long Table'. Makes 12.'
pub(super) fn yield_behind(line: &str) -> Option<(&str, Yield)> {
    [". ", "; ", ", ", " – ", " — ", " | ", " - "]
        .iter()
        .find_map(|cut| {
            let (head, tail) = line.rsplit_once(cut)?;
            let tail = tail.trim().trim_end_matches('.');
            let says = tail.len() <= 120 && says_yield(tail);
            let count = count_in(tail).filter(|_| says)?;
            let text = tail.to_owned();
            let count = Some(count);
            Some((head.trim(), Yield { text, count }))
        })
}

/// A house recipes come from, by its last word.
fn is_place(text: &str) -> bool {
    let last = text.split_whitespace().next_back().unwrap_or("");
    [
        "kitchen",
        "kitchens",
        "bakery",
        "bakehouse",
        "magazine",
        "cookbook",
        "cafe",
        "café",
        "school",
    ]
    .iter()
    .any(|w| last.eq_ignore_ascii_case(w))
}

/// Two to four words in capitals at their start: 'Dot Larkin'.
fn is_person(text: &str) -> bool {
    let words: Vec<&str> = text.split_whitespace().collect();
    (2..=4).contains(&words.len())
        && words
            .iter()
            .all(|w| w.starts_with(char::is_uppercase) && w.chars().all(|c| !c.is_numeric()))
}

/// Words a line of yield begins with.
const YIELDS: [&str; 15] = [
    "makes ",
    "makes:",
    "make: ",
    "serves ",
    "serves:",
    "yield",
    "quantity:",
    "servings",
    "serving:",
    "portions",
    "cuts into ",
    "cuts in ",
    "enough for ",
    "enough to make ",
    "feeds ",
];

/// Whether a text says by itself that it is a yield.
pub(crate) fn says_yield(text: &str) -> bool {
    behind(text.trim(), &YIELDS).is_some_and(|r| {
        let opened = text.trim();
        let opened = &opened[..opened.len() - r.len()];
        opened.trim_end().ends_with(':') || counts(r)
    }) || for_people(text.trim())
}

/// Whether words behind 'makes' say how much: a label's colon, a number near the front, or pieces.
/// 'Makes the most of three bananas' says none.
fn counts(rest: &str) -> bool {
    const LEADS: [&str; 24] = [
        "about",
        "approx",
        "approximately",
        "around",
        "roughly",
        "circa",
        "nearly",
        "almost",
        "a",
        "an",
        "at",
        "least",
        "up",
        "to",
        "enough",
        "for",
        "generous",
        "some",
        "between",
        "just",
        "over",
        "good",
        "hungry",
        "makes",
    ];
    // 'Yields: 12', 'Servings: 4'
    let many = rest
        .strip_prefix('s')
        .filter(|r| !r.starts_with(char::is_alphabetic));
    let rest = many.unwrap_or(rest).trim_start();
    if rest.starts_with([':', '-', '–', '=']) {
        return true;
    }
    let numeric = |c: char| c.is_numeric();
    for word in rest
        .split(|c: char| !c.is_alphanumeric())
        .filter(|w| !w.is_empty())
    {
        let word = word.to_lowercase();
        if word.contains(numeric)
            || number_word(&word).is_some()
            || matches!(word.as_str(), "dozen" | "half")
        {
            return true;
        }
        if !LEADS.contains(&word.as_str()) {
            break;
        }
    }
    // 'Makes a large loaf': pieces, and no more.
    let last = rest
        .trim_end_matches(['.', '!'])
        .split_whitespace()
        .next_back();
    rest.split_whitespace().count() <= 4 && last.is_some_and(|l| is_counted(l, true))
}

/// 'For 6 people', 'For four'.
fn for_people(text: &str) -> bool {
    let Some(rest) = behind(text.trim_end_matches(['.', ':']), &["for "]) else {
        return false;
    };
    let last = rest.split_whitespace().next_back().unwrap_or("");
    rest.split_whitespace().count() <= 4
        && count_in(rest).is_some()
        && ["people", "persons", "servings", "portions", "guests"]
            .iter()
            .any(|w| last.eq_ignore_ascii_case(w))
}

/// A line that is a yield: 'Makes 12 rolls', 'Serves 4–6', 'Cuts into 12 slices'.
pub(super) fn makes(line: &str) -> Option<Yield> {
    let bare = unmarked(line.trim_start_matches(['-', '•', ' ']));
    let inner = bare
        .strip_prefix('(')
        .and_then(|t| t.trim_end_matches('.').strip_suffix(')'));
    let bare = inner.map_or(bare, str::trim);
    (line.len() <= 120 && says_yield(bare)).then(|| Yield {
        text: bare.to_owned(),
        count: count_of_yield(bare),
    })
}

/// How many a yield says: of one thing that is cut, its pieces.
pub(crate) fn count_of_yield(text: &str) -> Option<(f64, f64)> {
    pieces_of_one(text).or_else(|| count_in(text))
}

/// The pieces that the one thing made is cut into: 12 of '1 large plait, cuts into 12', of 'one slab, 12 squares'.
fn pieces_of_one(text: &str) -> Option<(f64, f64)> {
    const CUT: [&str; 6] = [
        "squares",
        "bars",
        "fingers",
        "triangles",
        "diamonds",
        "wedges",
    ];
    const CUTS: [&str; 6] = [
        "cuts into ",
        "cut into ",
        "cuts in ",
        "slices into ",
        "sliced into ",
        "to cut into ",
    ];
    let lower = text.to_lowercase();
    if let Some((whole, pieces)) = lower.trim_end_matches('.').rsplit_once([',', ';'])
        && CUT.iter().any(|c| pieces.ends_with(c))
        && count_in(whole) == Some((1.0, 1.0))
    {
        return count_in(pieces);
    }
    let (at, cut) = CUTS.iter().find_map(|c| Some((lower.find(c)?, c)))?;
    let one = count_in(&lower[..at]).is_none_or(|n| n == (1.0, 1.0));
    count_in(&lower[at + cut.len()..]).filter(|_| one)
}

/// A yield in one of the sentences of a headnote: '… Cuts into 12 slices.'
pub(super) fn makes_within(note: &str) -> Option<Yield> {
    unmarked(note)
        .split_inclusive(['.', '!', '?'])
        .map(str::trim)
        .filter(|s| s.len() <= 120 && s.contains(' '))
        .find(|s| says_yield(s) && count_in(s).is_some())
        .map(|s| Yield {
            text: s.trim_end_matches('.').to_owned(),
            count: count_in(s),
        })
}

/// A yield in brackets at a title's end: 'Choux buns (about 20)', 'Rolls (makes 12)'.
pub(super) fn makes_in_title(title: &str) -> Option<Yield> {
    let (_, inner) = title.trim().strip_suffix(')')?.rsplit_once('(')?;
    let inner = inner.trim();
    let lower = inner.to_lowercase();
    let about = lower
        .strip_prefix("about ")
        .or_else(|| lower.strip_prefix("approx. "))
        .is_some_and(|n| n.chars().all(|c| c.is_ascii_digit()) && n.len() <= 3);
    let count = count_in(inner)?;
    (about || says_yield(inner)).then(|| Yield {
        text: if about {
            format!("Makes {lower}")
        } else {
            inner.to_owned()
        },
        count: Some(count),
    })
}

/// Who eats of it, and by how many it is counted.
const COUNTED: [&str; 5] = ["servings", "portions", "people", "helpings", "dozen"];

/// Whether a word is what a yield counts: several, and where `one` is said a single one.
fn is_counted(word: &str, one: bool) -> bool {
    let word = word.to_lowercase();
    let named = |p: &&str| *p == word || one && p.strip_suffix('s') == Some(&*word);
    PIECES.iter().chain(&COUNTED).any(named) || one && word == "loaf"
}

/// Words before a number that is not counted to the last.
const ABOUT: [&str; 7] = [
    "about ",
    "approximately ",
    "approx. ",
    "approx ",
    "around ",
    "roughly ",
    "~",
];

/// Under the title: 'About 36', a number and nothing that is counted.
pub(super) fn about_so_many(line: &str) -> Option<Yield> {
    let bare = unmarked(line).trim_end_matches('.');
    let number = behind(bare, &ABOUT)?;
    let is = number.len() <= 3 && number.chars().all(|c| c.is_ascii_digit());
    Some(Yield {
        text: format!("Makes {}", bare.to_lowercase()),
        count: Some(count_in(number).filter(|_| is)?),
    })
}

/// Under the title: '12 buns', '2 loaves', '24 small biscuits', '1 (9-inch) pie, 8 servings'; of
/// other words, `made` says whether one is what the recipe makes.
pub(super) fn counted_yield(line: &str, made: impl Fn(&str) -> bool) -> Option<Yield> {
    let bare = unmarked(line).trim_end_matches('.');
    let counts = |words: &str| {
        let words = behind(words, &ABOUT).unwrap_or(words);
        let last = words.split_whitespace().next_back().unwrap_or("");
        let lower = words.to_lowercase();
        let one = lower.starts_with("1 ") || lower.starts_with("one ");
        // 'One 9-inch deep dish pie'.
        let most = if one && lower.contains("inch") { 6 } else { 4 };
        words.split_whitespace().count() <= most
            && (one || words.starts_with(|c: char| c.is_numeric()))
            && (made(last) || is_counted(last, one))
    };
    let mut parts = bare.split([',', ';']).map(str::trim);
    let is = parts.clone().count() <= 2 && parts.all(counts);
    let count = count_in(bare).filter(|_| is)?;
    Some(Yield {
        text: bare.to_owned(),
        count: Some(count),
    })
}

/// The first number or range in a phrase that counts pieces: not the 9 of '9-inch cake' nor
/// the 900 of '900 g'.
pub(crate) fn count_in(text: &str) -> Option<(f64, f64)> {
    let mut tokens = Vec::new();
    lex(text, Locale::Us, &mut tokens);
    let mut walk = Walk {
        text,
        tokens: &tokens,
        words: Words::all(),
        at: 0,
    };
    while walk.peek().is_some() {
        let article = matches!(walk.word_at(0), Some(Word::Article));
        let back = walk.at;
        let number = walk.number();
        let (low, high) = match &number {
            Some(n) => (n.low, n.high),
            None if article => {
                walk.at += 1;
                (1.0, 1.0)
            }
            None => {
                walk.at += 1;
                continue;
            }
        };
        let hyphen = usize::from(matches!(walk.sign(0), Some('-' | '–' | '‑')));
        let mut times = 1.0;
        let mut size = matches!(
            walk.sign(0),
            Some('"' | '″' | '”' | '\'' | '%' | '°' | '×' | '/')
        );
        match walk.word_at(hyphen) {
            Some(Word::Unit(u)) => {
                times = u.times;
                size |= u.unit.is_some_and(|u| u.kind() != UnitKind::Piece);
            }
            Some(Word::Times | Word::Fluid) => size = true,
            _ => {}
        }
        size |= walk.ahead(hyphen).is_some_and(|t| {
            let word = walk.str(t).to_ascii_lowercase();
            matches!(
                word.as_str(),
                "inch"
                    | "inches"
                    | "in"
                    | "cm"
                    | "mm"
                    | "layer"
                    | "tier"
                    | "day"
                    | "days"
                    | "week"
                    | "weeks"
                    | "months"
                    | "years"
                    | "minute"
                    | "minutes"
                    | "min"
                    | "mins"
                    | "hour"
                    | "hours"
                    | "by"
                    | "strand"
            )
        });
        let bare_article = number.is_none() && times <= 1.0;
        let (low, high) = (low * times, high * times);
        if !size && !bare_article && low > 0.0 && high < 1e5 && low.is_finite() {
            return Some((low, high));
        }
        if walk.at == back {
            walk.at += 1;
        }
    }
    None
}

/// A yield beside the times: 'Serves 9. Prep 25 mins, cooks 35–40 mins.', 'Prep: 20 mins | Cook: 50 mins | Serves: 12'.
/// The times are filled in.
pub(super) fn makes_and_times(line: &str, all: &mut Times) -> Option<Yield> {
    if line.contains('|') {
        let (says, rest): (Vec<&str>, Vec<&str>) =
            (line.split('|').map(str::trim)).partition(|part| makes(part).is_some());
        let [yielded] = says.as_slice() else {
            return None;
        };
        return times(&rest.join(" | "), all)
            .then(|| makes(yielded))
            .flatten();
    }
    let (first, rest) = line.split_once(". ")?;
    let labelled = |part: &str| {
        let part = part.trim();
        let at = part.find(|c: char| c.is_ascii_digit()).unwrap_or(0);
        let (label, length) = part.split_at(at);
        let label = label.trim_end_matches([' ', ':']);
        let label = match label.to_lowercase().as_str() {
            "cooks" | "bakes" | "rests" | "rises" | "chills" => &label[..label.len() - 1],
            _ => label,
        };
        format!("{label}: {length}")
    };
    let rest = rest.trim_end_matches('.');
    let parts = rest.split(['|', ';', '•', '·', ',']).map(labelled);
    let makes = makes(first)?;
    times(&parts.collect::<Vec<_>>().join(", "), all).then_some(makes)
}

/// 'Prep: 10 min | Rest: 10 min | Cook: 15 min': fills the times; `false` when any part is
/// something else.
pub(super) fn times(line: &str, times: &mut Times) -> bool {
    const PREP: [&str; 7] = [
        "prep",
        "preparation",
        "hands on",
        "hands-on",
        "active",
        "working",
        "making",
    ];
    const COOK: [&str; 5] = ["cook", "cooking", "bake", "baking", "oven"];
    const TOTAL: [&str; 4] = ["total", "ready in", "all in", "takes"];
    const REST: [&str; 12] = [
        "rest", "resting", "chill", "chilling", "rise", "rising", "prove", "proving", "proof",
        "proofing", "cool", "cooling",
    ];
    let mut read = Times::default();
    let mut all = 0.0;
    let mut rests = false;
    let mut parts = 0;
    let line = unmarked(line);
    if line.len() > 160 {
        return false;
    }
    for part in line.split(['|', ';', '•', '·', ',']) {
        let part = part.trim().replace("**", "");
        if part.is_empty() {
            continue;
        }
        let Some((label, length)) = part.split_once(':').or_else(|| part.split_once(" – "))
        else {
            return false;
        };
        let label = label.trim().to_ascii_lowercase();
        let label = label.strip_suffix("time").unwrap_or(&label).trim();
        let known = [&PREP[..], &COOK, &TOTAL, &REST]
            .iter()
            .any(|l| l.contains(&label));
        if !known {
            return false;
        }
        let facts = step(1, length.trim(), None).facts;
        let Some(time) = facts.iter().find_map(|f| match &f.kind {
            FactKind::Duration { value, .. } => Some(value.likely()),
            _ => None,
        }) else {
            return false;
        };
        let minutes = time.as_minutes();
        let add = |slot: &mut Option<Time>| {
            *slot = Some(Time::minutes(
                slot.map_or(0.0, |t| t.as_minutes()) + minutes,
            ));
        };
        if PREP.contains(&label) {
            add(&mut read.prep);
            all += minutes;
        } else if COOK.contains(&label) {
            add(&mut read.cook);
            all += minutes;
        } else if TOTAL.contains(&label) {
            read.total = Some(time);
        } else if REST.contains(&label) {
            rests = true;
            all += minutes;
        } else {
            return false;
        }
        parts += 1;
    }
    if parts == 0 {
        return false;
    }
    times.prep = times.prep.or(read.prep);
    times.cook = times.cook.or(read.cook);
    // Resting has no place of its own: the total holds it.
    let sum = (rests && read.prep.is_some() && read.cook.is_some()).then(|| Time::minutes(all));
    times.total = times.total.or(read.total).or(sum);
    true
}

#[cfg(test)]
mod tests {
    use super::count_of_yield;

    /// One thing that is cut is counted by its pieces; servings of one pie are no pieces of it.
    #[test]
    fn the_pieces_of_one_thing_are_counted() {
        for (text, count) in [
            ("Makes one 13 x 9-inch slab, 12 squares", 12.0),
            ("1 large plait, cuts into 12", 12.0),
            ("1 tray; 16 bars", 16.0),
            ("1 (9-inch) pie, 8 servings", 1.0),
            ("2 slabs, 12 squares", 2.0),
        ] {
            assert_eq!(count_of_yield(text), Some((count, count)), "{text}");
        }
    }
}
