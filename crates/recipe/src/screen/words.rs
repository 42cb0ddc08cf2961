//! Words of gluten grain in running text, and the words that say a thing is labelled.
//!
//! A second look at a line, beside the larder's: it sees 'malt' in a food nobody has heard of.

use larder::Allergen;
use std::ops::Range;

/// How much a word says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Force {
    /// Gluten is in it.
    Contains,
    /// It may be.
    Check,
    /// 'Flour' without its kind, which is wheat flour unless the line says otherwise.
    BareFlour,
}

/// A word found.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Hit {
    /// As written.
    pub word: String,
    /// Where.
    pub span: Range<usize>,
    /// The allergen it stands for.
    pub allergen: Option<Allergen>,
    /// How much it says.
    pub force: Force,
    /// Gluten-free kinds of the thing are sold, so a label can clear it.
    pub sold_free: bool,
}

/// Words that name a gluten grain or a thing always made of one.
///
/// # Source
/// Codex CXS 118-1979 (seen): wheat, rye, barley and their crossbreeds; EU 1169/2011 Annex II
/// (seen): spelt and khorasan are wheat. The foreign and trade names: from memory.
const GRAIN: [(&str, Option<Allergen>); 53] = {
    use Allergen::{Barley as B, Rye as R, Wheat as W};
    [
        ("wheat", Some(W)),
        ("wheaten", Some(W)),
        ("wholewheat", Some(W)),
        ("wheatgerm", Some(W)),
        ("wheatmeal", Some(W)),
        ("wholemeal", Some(W)),
        ("spelt", Some(W)),
        ("dinkel", Some(W)),
        ("kamut", Some(W)),
        ("khorasan", Some(W)),
        ("emmer", Some(W)),
        ("einkorn", Some(W)),
        ("farro", Some(W)),
        ("durum", Some(W)),
        ("semolina", Some(W)),
        ("semola", Some(W)),
        ("bulgur", Some(W)),
        ("bulghur", Some(W)),
        ("bulgar", Some(W)),
        ("burghul", Some(W)),
        ("freekeh", Some(W)),
        ("farik", Some(W)),
        ("triticale", Some(W)),
        ("farina", Some(W)),
        ("maida", Some(W)),
        ("atta", Some(W)),
        ("sooji", Some(W)),
        ("suji", Some(W)),
        ("rava", Some(W)),
        ("seitan", Some(W)),
        ("rye", Some(R)),
        ("pumpernickel", Some(R)),
        ("barley", Some(B)),
        ("malt", Some(B)),
        ("malted", Some(B)),
        ("malthouse", Some(B)),
        ("gluten", None),
        ("triticum", Some(W)),
        ("blé", Some(W)),
        ("froment", Some(W)),
        ("épeautre", Some(W)),
        ("seigle", Some(R)),
        ("orge", Some(B)),
        ("trigo", Some(W)),
        ("espelta", Some(W)),
        ("centeno", Some(R)),
        ("cebada", Some(B)),
        ("frumento", Some(W)),
        ("segale", Some(R)),
        ("malz", Some(B)),
        ("tarwe", Some(W)),
        ("gerst", Some(B)),
        ("rogge", Some(R)),
    ]
};

/// Words of things made of gluten grain as a rule, sold gluten-free as well.
const MADE: [(&str, Option<Allergen>); 24] = {
    use Allergen::{Barley as B, Wheat as W};
    [
        ("couscous", Some(W)),
        ("panko", Some(W)),
        ("breadcrumb", Some(W)),
        ("crouton", Some(W)),
        ("graham", Some(W)),
        ("matzo", Some(W)),
        ("matzoh", Some(W)),
        ("matzah", Some(W)),
        ("orzo", Some(W)),
        ("fregola", Some(W)),
        ("udon", Some(W)),
        ("ramen", Some(W)),
        ("filo", Some(W)),
        ("fillo", Some(W)),
        ("phyllo", Some(W)),
        ("shoyu", Some(W)),
        ("pretzel", Some(W)),
        ("brioche", Some(W)),
        ("croissant", Some(W)),
        ("ladyfinger", Some(W)),
        ("beer", Some(B)),
        ("ale", Some(B)),
        ("lager", Some(B)),
        ("stout", Some(B)),
    ]
};

/// Beginnings of joined words: 'barleycorn', and the German ones.
const BEGINS: [(&str, Option<Allergen>); 7] = [
    ("wheat", Some(Allergen::Wheat)),
    ("barley", Some(Allergen::Barley)),
    ("weizen", Some(Allergen::Wheat)),
    ("dinkel", Some(Allergen::Wheat)),
    ("hartweizen", Some(Allergen::Wheat)),
    ("roggen", Some(Allergen::Rye)),
    ("gersten", Some(Allergen::Barley)),
];

/// Words of what is bought in a coat, mostly of wheat.
pub(super) const COATED: [&str; 4] = ["battered", "breaded", "crumbed", "tempura"];

/// Grains and things that make another product of 'semolina', 'couscous' or 'atta'.
const OTHER_KIND: [&str; 22] = [
    "rice",
    "corn",
    "maize",
    "cauliflower",
    "broccoli",
    "idli",
    "makki",
    "jowar",
    "bajra",
    "ragi",
    "rajgira",
    "kuttu",
    "singhara",
    "almond",
    "chickpea",
    "lentil",
    "millet",
    "buckwheat",
    "quinoa",
    "potato",
    "cassava",
    "oat",
];

/// A word of running text, in small letters.
#[derive(Debug)]
pub(super) struct Word {
    pub text: String,
    pub span: Range<usize>,
    /// A sign that ends a phrase stands before it.
    pub fresh: bool,
}

/// The words of a text.
pub(super) fn split(text: &str) -> Vec<Word> {
    let mut words: Vec<Word> = Vec::new();
    let (mut start, mut fresh) = (None, true);
    for (at, c) in text
        .char_indices()
        .chain(std::iter::once((text.len(), ' ')))
    {
        if at < text.len() && c.is_alphanumeric() {
            start.get_or_insert(at);
            continue;
        }
        if at < text.len() && matches!(c, '\'' | '’') && start.is_some() {
            continue;
        }
        if let Some(from) = start.take() {
            let word = text.get(from..at).unwrap_or_default();
            words.push(Word {
                text: word
                    .chars()
                    .filter(|c| c.is_alphanumeric())
                    .flat_map(char::to_lowercase)
                    .collect(),
                span: from..at,
                fresh,
            });
            fresh = false;
        }
        if matches!(
            c,
            '.' | ';' | ':' | '(' | ')' | '[' | ']' | '\n' | '–' | '—'
        ) {
            fresh = true;
        }
    }
    words
}

fn look_up(word: &str) -> Option<(Option<Allergen>, bool)> {
    let bare = word.strip_suffix('s').unwrap_or(word);
    let of = |list: &[(&str, Option<Allergen>)]| {
        list.iter()
            .find(|(w, _)| *w == word || *w == bare)
            .map(|(_, a)| *a)
    };
    let begins = || {
        BEGINS
            .iter()
            .find(|(w, _)| word.starts_with(w) && !word.starts_with("wheatgrass"))
            .map(|(_, a)| (*a, false))
    };
    of(&GRAIN)
        .map(|a| (a, false))
        .or_else(|| of(&MADE).map(|a| (a, true)))
        .or_else(begins)
}

/// Every word of gluten in a text that the text does not itself deny.
pub(super) fn scan(text: &str) -> Vec<Hit> {
    let words = split(text);
    let mut hits = Vec::new();
    // After 'no', 'without', 'free from', 'instead of': the grain words that follow at once.
    let mut denied = false;
    let mut may = false;
    for (i, w) in words.iter().enumerate() {
        let before = |n: usize| i.checked_sub(n).map_or("", |k| words[k].text.as_str());
        let next = words
            .get(i + 1)
            .filter(|n| !n.fresh)
            .map_or("", |n| n.text.as_str());
        if w.fresh {
            (denied, may) = (false, false);
        }
        if w.text == "contain" && before(1) == "may"
            || matches!(w.text.as_str(), "trace" | "traces")
        {
            may = true;
        }
        let Some((allergen, sold_free)) = look_up(&w.text) else {
            match w.text.as_str() {
                "no" | "not" | "without" | "non" | "never" | "zero" | "avoid" | "sans" => {
                    denied = true
                }
                "of" if matches!(before(1), "free" | "instead" | "place") => denied = true,
                "from" if before(1) == "free" => denied = true,
                "than" if before(1) == "rather" => denied = true,
                "and" | "or" | "nor" | "any" | "added" | "from" | "containing" | "contain"
                | "flour" | "the" | "regular" | "ordinary" | "starch" => {}
                "plain" | "white" | "bread" | "cake" | "strong" if next == "flour" => {}
                _ => denied = false,
            }
            let coated = COATED.contains(&w.text.as_str());
            if w.text == "bulk" || coated {
                hits.push(Hit {
                    word: w.text.clone(),
                    span: w.span.clone(),
                    allergen: coated.then_some(Allergen::Wheat),
                    force: Force::Check,
                    sold_free: false,
                });
            }
            // 'No wheat, rye or barley' goes on behind a comma; 'not plain flour, flour to dust' does not.
            let behind = i.checked_sub(1).map_or(0, |k| words[k].span.end);
            let anew = text
                .get(behind..w.span.start)
                .is_some_and(|t| t.contains(','));
            let bare = anew && next != "free" || !denied && bare_flour(&words, i);
            let strewn = w.text == "flour" && bare;
            if w.text == "floured" || strewn {
                hits.push(Hit {
                    word: w.text.clone(),
                    span: w.span.clone(),
                    allergen: Some(Allergen::Wheat),
                    force: if w.text == "flour" {
                        Force::BareFlour
                    } else {
                        Force::Check
                    },
                    sold_free: true,
                });
            }
            continue;
        };
        let free = next == "free" && {
            // 'wheat free-range'? No: 'free' must not open a word of its own.
            words.get(i + 2).is_none_or(|n| n.text != "range")
        };
        if free || denied {
            continue;
        }
        let other = before(1);
        if w.text == "gluten" && matches!(other, "corn" | "maize")
            || w.text == "wheat" && other == "buck"
        {
            continue;
        }
        let mild = may
            || next == "grass"
            || matches!(next, "whisky" | "whiskey" | "scotch")
            || w.text == "malt" && other == "single"
            || w.text == "beer" && matches!(other, "ginger" | "root")
            || w.text == "ale" && other == "ginger"
            || OTHER_KIND.contains(&other)
                && matches!(
                    w.text.as_str(),
                    "semolina"
                        | "rava"
                        | "couscous"
                        | "atta"
                        | "orzo"
                        | "farina"
                        | "panko"
                        | "udon"
                        | "ramen"
                        | "breadcrumb"
                        | "breadcrumbs"
                        | "pretzel"
                        | "pretzels"
                        | "wholemeal"
                );
        hits.push(Hit {
            word: w.text.clone(),
            span: w.span.clone(),
            allergen,
            force: if mild { Force::Check } else { Force::Contains },
            sold_free,
        });
    }
    hits
}

/// Whether the word at `i` is 'flour' with nothing before it that says which.
fn bare_flour(words: &[Word], i: usize) -> bool {
    if words
        .get(i + 1)
        .is_some_and(|n| matches!(n.text.as_str(), "free" | "tortilla" | "tortillas") && !n.fresh)
    {
        return words[i + 1].text != "free";
    }
    if words[i].fresh {
        return true;
    }
    let before = i.checked_sub(1).map_or("", |k| words[k].text.as_str());
    matches!(
        before,
        "" | "with"
            | "in"
            | "and"
            | "some"
            | "extra"
            | "more"
            | "additional"
            | "little"
            | "a"
            | "or"
            | "plus"
            | "your"
            | "the"
            | "remaining"
            | "plain"
            | "white"
            | "bread"
            | "cake"
            | "strong"
    )
}

/// Words that may stand beside 'gluten-free' in a bracket or behind a comma without making it
/// anything but a label.
const LABEL_TALK: [&str; 27] = [
    "labelled",
    "labeled",
    "certified",
    "marked",
    "must",
    "should",
    "be",
    "it",
    "its",
    "is",
    "they",
    "are",
    "sure",
    "make",
    "check",
    "that",
    "the",
    "label",
    "pure",
    "bought",
    "fine",
    "organic",
    "fresh",
    "only",
    "dairy",
    "egg",
    "nut",
];

/// Whether a line says that the food at `span` is bought labelled gluten-free.
///
/// # Arguments
/// * `text` — the line.
/// * `span` — the bytes that name the food.
/// * `within` — the part of the line that is about it.
///
/// # Returns
/// True for 'gluten-free soy sauce', 'soy sauce (gluten-free)' and 'soy sauce, make sure it is
/// gluten-free'; false for 'gluten-free if needed', '(gluten-free works too)', '(gluten-free or
/// regular)', 'not gluten-free', 'for gluten-free use …'. In doubt false.
pub(super) fn labelled(text: &str, span: &Range<usize>, within: &Range<usize>) -> bool {
    let words = split(text);
    (0..words.len()).any(|i| {
        let at = |k: usize| words.get(k).map_or("", |w| w.text.as_str());
        let back = |n: usize| i.checked_sub(n).map_or("", |k| words[k].text.as_str());
        let end = match at(i) {
            "gluten" if at(i + 1) == "free" => i + 2,
            "glutenfree" | "gf" => i + 1,
            _ => return false,
        };
        let here = words[i].span.start..words[end - 1].span.end;
        if here.start < within.start || here.end > within.end {
            return false;
        }
        let against = [back(1), back(2)].iter().any(|w| {
            matches!(
                *w,
                "not"
                    | "non"
                    | "isnt"
                    | "arent"
                    | "for"
                    | "if"
                    | "keep"
                    | "optional"
                    | "never"
                    | "without"
                    | "unless"
                    | "to"
                    | "possibly"
                    | "naturally"
                    | "maybe"
            )
        }) || matches!(back(1), "or" | "make" | "nor");
        let after = words.get(end..).unwrap_or_default().iter().any(|w| {
            matches!(
                w.text.as_str(),
                "if" | "unless"
                    | "when"
                    | "optional"
                    | "use"
                    | "swap"
                    | "sub"
                    | "substitute"
                    | "replace"
                    | "works"
                    | "too"
                    | "depending"
            )
        }) || matches!(
            at(end),
            "or" | "option"
                | "options"
                | "version"
                | "diet"
                | "diets"
                | "bakers"
                | "guests"
                | "friends"
                | "recipe"
                | "instead"
                | "alternative"
        ) || at(end) == "baking"
            && !matches!(
                at(end + 1),
                "powder" | "soda" | "mix" | "spray" | "chocolate" | "spread"
            );
        if against || after {
            return false;
        }
        // The fragment between commas and brackets: it names the food, or it is about the label
        // and nothing else.
        let cut = |c: char| matches!(c, ',' | ';' | '(' | ')' | '[' | ']' | ':' | '–' | '—');
        let from = text
            .get(..here.start)
            .and_then(|t| t.rfind(cut))
            .unwrap_or(0);
        let to = text
            .get(here.end..)
            .and_then(|t| t.find(cut))
            .map_or(text.len(), |n| here.end + n);
        let names = span.start < to && span.end > from;
        names
            || words.iter().enumerate().all(|(k, w)| {
                w.span.start < from
                    || w.span.end > to
                    || (i..end).contains(&k)
                    || LABEL_TALK.contains(&w.text.as_str())
            })
    })
}

/// The text without the words that speak of gluten-free; `None` where it has none.
///
/// 'Certified' goes with them: the larder takes it for a word of the label.
pub(super) fn unlabelled(text: &str) -> Option<String> {
    let words = split(text);
    let mut out = String::new();
    let (mut at, mut any) = (0, false);
    let mut i = 0;
    while let Some(w) = words.get(i) {
        let next = words.get(i + 1).map_or("", |n| n.text.as_str());
        let count = match w.text.as_str() {
            "gluten" if next == "free" => 2,
            "glutenfree" | "gf" | "certified" => 1,
            _ => {
                i += 1;
                continue;
            }
        };
        let last = words.get(i + count - 1).map_or(w.span.end, |l| l.span.end);
        out.push_str(text.get(at..w.span.start).unwrap_or_default());
        (at, any) = (last, true);
        i += count;
    }
    out.push_str(text.get(at..).unwrap_or_default());
    any.then_some(out)
}

/// The part of a line about the food at `span`: between 'or', 'and', 'plus' and slashes, so
/// that the label of one thing never clears the other.
pub(super) fn breath(text: &str, span: &Range<usize>) -> Range<usize> {
    let (mut from, mut to) = (0, text.len());
    for w in split(text) {
        if matches!(
            w.text.as_str(),
            "or" | "and" | "plus" | "with" | "instead" | "but"
        ) {
            if w.span.end <= span.start {
                from = w.span.end;
            } else if w.span.start >= span.end && w.span.start < to {
                to = w.span.start;
            }
        }
    }
    for (at, c) in text.char_indices() {
        if matches!(c, '/' | ';' | '+' | '&') {
            if at < span.start {
                from = from.max(at + 1);
            } else if at >= span.end {
                to = to.min(at);
            }
        }
    }
    from..to.max(from)
}
