//! The words of pans: their kinds, and what says nothing more of one.

use super::all;

/// A word, what the pan is called, its kind, its fills.
pub(super) type KindRow = (&'static str, &'static str, Kind, (f64, f64));

/// Kinds of pan by word: word, what it is called, whether it is round, ring, its fills. Those of quiche dishes,
/// pizza and frying pans, skillets, casseroles, ramekins and terrines: common practice, no source; of the others
/// as the table of pans has them.
const KINDS: &[KindRow] = &[
    ("springform", "springform", Kind::Round, (0.55, 0.65)),
    ("spring", "springform", Kind::Round, (0.55, 0.65)),
    ("sandwich", "sandwich tin", Kind::Round, (0.5, 0.6)),
    ("muffin", "muffin tin", Kind::Round, (0.67, 0.8)),
    ("tart", "tart tin", Kind::Round, (0.9, 0.9)),
    ("tartlet", "tartlet tin", Kind::Round, (0.9, 0.9)),
    ("flan", "tart tin", Kind::Round, (0.9, 0.9)),
    ("quiche", "quiche dish", Kind::Round, (0.9, 0.9)),
    ("pizza", "pizza pan", Kind::Round, (0.45, 0.6)),
    ("pie", "pie dish", Kind::Round, (0.9, 0.9)),
    ("round", "round tin", Kind::Round, (0.5, 0.6)),
    ("ø", "round tin", Kind::Round, (0.5, 0.6)),
    ("pullman", "lidded loaf tin", Kind::Oblong, (0.5, 0.6)),
    ("lidded", "lidded loaf tin", Kind::Oblong, (0.5, 0.6)),
    ("mie", "lidded loaf tin", Kind::Oblong, (0.5, 0.6)),
    ("loaf", "loaf tin", Kind::Oblong, (0.55, 0.67)),
    ("bread", "loaf tin", Kind::Oblong, (0.55, 0.67)),
    ("box", "box tin", Kind::Oblong, (0.55, 0.67)),
    ("traybake", "traybake tin", Kind::Oblong, (0.5, 0.6)),
    ("square", "square tin", Kind::Oblong, (0.5, 0.6)),
    ("rect", "oblong tin", Kind::Oblong, (0.5, 0.6)),
    ("rectangular", "oblong tin", Kind::Oblong, (0.5, 0.6)),
    ("oblong", "oblong tin", Kind::Oblong, (0.5, 0.6)),
    ("roll", "sponge-roll tin", Kind::Oblong, (0.45, 0.6)),
    ("jelly", "sponge-roll tin", Kind::Oblong, (0.45, 0.6)),
    ("sheet", "sheet", Kind::Oblong, (0.45, 0.6)),
    ("tray", "tray", Kind::Oblong, (0.45, 0.6)),
    ("bundt", "fluted ring tin", Kind::Ring, (0.6, 0.67)),
    ("tube", "tube tin", Kind::Ring, (0.6, 0.67)),
    ("ring", "ring tin", Kind::Ring, (0.6, 0.67)),
    ("savarin", "savarin mould", Kind::Ring, (0.6, 0.67)),
    ("gugelhupf", "fluted ring tin", Kind::Ring, (0.6, 0.67)),
    ("skillet", "skillet", Kind::Round, (0.5, 0.6)),
    ("frying", "frying pan", Kind::Round, (0.5, 0.6)),
    ("casserole", "casserole", Kind::Round, (0.5, 0.6)),
    ("ramekin", "ramekin", Kind::Round, (0.7, 0.8)),
    ("terrine", "terrine", Kind::Oblong, (0.55, 0.67)),
    // What is baked says less than the words above: 'square cake tin'.
    ("cake", "round tin", Kind::Round, (0.5, 0.6)),
    (BROWNIE, "square tin", Kind::Oblong, (0.5, 0.6)),
];

/// A brownie tin is a square one or an oblong one.
pub(super) const BROWNIE: &str = "brownie";
/// Words before a ring that has no tube.
const HOOPS: [&str; 6] = ["cake", "mousse", "tart", "flan", "pastry", "chef"];

#[derive(Clone, Copy, PartialEq)]
pub(super) enum Kind {
    Round,
    Oblong,
    Ring,
}

/// The word of these that says the kind of a pan: 'loaf' of 'greased 9x5 inch loaf pan'.
#[must_use]
pub fn kind_word(words: &str) -> Option<&'static str> {
    let lower = words.to_lowercase();
    let all: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).collect();
    kind_of(&all).map(|k| k.0)
}

/// Whether words name a sheet, on which things lie.
pub(crate) fn is_flat(words: &str) -> bool {
    matches!(kind_word(words), Some("sheet" | "tray"))
}

/// The first kind of pan that words name; a cake ring has no tube.
pub(super) fn kind_of(text: &[&str]) -> Option<&'static KindRow> {
    let said = |k: &&KindRow| {
        let mut words = text.iter();
        words.any(|w| *w == k.0 || w.strip_suffix('s') == Some(k.0))
    };
    let hoop = text.iter().any(|w| HOOPS.contains(w));
    KINDS.iter().find(|k| said(k) && !(k.0 == "ring" && hoop))
}

/// Words of tins whose measures do not tell what they hold.
const SHAPED: [&str; 7] = [
    "heart", "petal", "flower", "star", "clover", "novelty", "shaped",
];

/// Whether words are of a tin whose measures do not tell what it holds.
pub(super) fn is_shaped(words: &str) -> bool {
    let lower = words.to_lowercase();
    let mut all = lower.split(|c: char| !c.is_alphanumeric());
    all.any(|w| SHAPED.contains(&w))
}

/// Words that any pan may be called by.
pub(super) const ANY: [&str; 16] = [
    "a", "an", "the", "one", "tin", "tins", "pan", "pans", "dish", "dishes", "mould", "moulds",
    "baking", "greased", "lined", "metal",
];

/// Other words beside a pan's measures that say nothing more of it.
const PLAIN: &[&str] = &[
    "mold",
    "molds",
    "of",
    "in",
    "and",
    "deep",
    "wide",
    "long",
    "across",
    "high",
    "size",
    "sized",
    "light",
    "dark",
    "glass",
    "silicone",
    "loose",
    "bottomed",
    "base",
    "bottom",
    "layer",
    "with",
    "without",
    "its",
    "lid",
    "no",
    "pain",
    "de",
    "rimmed",
    "fluted",
    "swiss",
    "plate",
    "plates",
    "cast",
    "iron",
    "ovenproof",
    "heatproof",
    "enamel",
    "shallow",
    "heavy",
    "buttered",
    "oiled",
    "nonstick",
    "non",
    "stick",
    "two",
    "three",
    "inside",
    "ø",
    "removable",
    "detachable",
    "floured",
    "straight",
    "sided",
    "sides",
    "crimped",
    "aluminum",
    "aluminium",
    "ceramic",
    "stoneware",
];

/// Whether a word beside a pan's measures says nothing more of it.
pub(super) fn says_nothing(word: &str) -> bool {
    ANY.contains(&word) || PLAIN.contains(&word)
}

pub(super) fn known_word(word: &str) -> bool {
    let one = word.strip_suffix('s').unwrap_or(word);
    says_nothing(word)
        || KINDS.iter().any(|k| k.0 == word || k.0 == one)
        || all()
            .iter()
            .flat_map(|p| p.name.split(|c: char| !c.is_alphanumeric()))
            .any(|w| w == word || w == one)
}
