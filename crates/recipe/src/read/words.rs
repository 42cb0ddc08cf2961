//! The words an amount is made of.

use crate::line::Filling;
use quantity::{Locale, Unit, UnitWord, number_words, unit_words};
use std::collections::HashMap;
use std::sync::LazyLock;

/// What a word means inside an amount.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Word {
    /// 'one' … 'twenty'.
    Number(f64),
    /// 'half', 'third', 'quarter', 'eighth'.
    Part(f64),
    /// 'a few', 'several', 'couple': low and high.
    Few(f64, f64),
    /// 'a', 'an'.
    Article,
    /// A unit.
    Unit(UnitWord),
    /// 'fluid', 'fl' before an ounce.
    Fluid,
    /// A loose measure: knob, handful, bunch.
    Loose,
    /// 'scant', 'heaped' …
    Filling(Filling),
    /// 'packed', 'sifted', 'large' before a unit: said of the measure.
    Manner,
    /// 'about', 'approximately'.
    Approx,
    /// 'US', 'imperial', 'metric': whose measure.
    Country(Option<Locale>),
    /// 'plus', 'and'.
    Plus,
    /// 'and', '&'.
    And,
    /// 'minus', 'less'.
    Minus,
    /// 'of'.
    Of,
    /// 'or'.
    Or,
    /// 'to' in a range.
    To,
    /// 'each'.
    Each,
    /// 'x' between numbers.
    Times,
}

/// All words of amounts. Keys are lower case, but for the single letters.
#[derive(Debug)]
pub(crate) struct Words(HashMap<&'static str, Word>);

impl Words {
    /// The one table of them.
    pub(crate) fn all() -> &'static Self {
        static ALL: LazyLock<Words> = LazyLock::new(Words::read);
        &ALL
    }

    fn read() -> Self {
        let mut map: HashMap<&'static str, Word> = HashMap::with_capacity(400);
        for (w, i) in number_words().zip(1..) {
            map.insert(w, Word::Number(f64::from(i)));
        }
        for (w, n, d) in [
            ("half", 1, 2),
            ("halves", 1, 2),
            ("third", 1, 3),
            ("thirds", 1, 3),
            ("quarter", 1, 4),
            ("quarters", 1, 4),
            ("fourth", 1, 4),
            ("fourths", 1, 4),
            ("eighth", 1, 8),
            ("eighths", 1, 8),
        ] {
            map.insert(w, Word::Part(f64::from(n) / f64::from(d)));
        }
        map.insert("few", Word::Few(2.0, 4.0));
        map.insert("several", Word::Few(3.0, 5.0));
        map.insert("couple", Word::Few(2.0, 2.0));
        for w in ["a", "an"] {
            map.insert(w, Word::Article);
        }
        for w in ["fluid", "fl"] {
            map.insert(w, Word::Fluid);
        }
        for w in [
            "knob", "knobs", "handful", "handfuls", "fistful", "fistfuls", "glug", "glugs",
            "splash", "splashes", "bunch", "bunches", "head", "heads", "piece", "pieces", "sheet",
            "sheets", "square", "squares", "bar", "bars", "batch", "batches", "quantity",
            "drizzle", "stalk", "stalks", "rib", "ribs", "ear", "ears", "loaf", "loaves", "lump",
            "lumps", "nub", "grating", "gratings", "squeeze", "strip", "strips", "dollop",
            "dollops", "scoop", "scoops", "ball", "balls", "portion", "portions", "recipe",
            "grind", "grinds", "twist", "twists", "chunk", "chunks", "sleeve", "sleeves", "punnet",
            "punnets", "tray", "trays", "bundle", "bundles", "tube", "tubes", "wedge", "wedges",
        ] {
            map.insert(w, Word::Loose);
        }
        for (w, f) in [
            ("scant", Filling::Scant),
            ("generous", Filling::Generous),
            ("good", Filling::Generous),
            ("heaped", Filling::Heaped),
            ("heaping", Filling::Heaped),
            ("heapd", Filling::Heaped),
            ("rounded", Filling::Rounded),
            ("level", Filling::Level),
            ("levelled", Filling::Level),
            ("leveled", Filling::Level),
        ] {
            map.insert(w, Word::Filling(f));
        }
        for w in [
            "packed", "firmly", "lightly", "loosely", "tightly", "well", "sifted", "full", "big",
            "large", "small", "medium", "extra", "slightly", "thin", "thick", "whole",
        ] {
            map.insert(w, Word::Manner);
        }
        for w in [
            "about",
            "approximately",
            "approx",
            "around",
            "roughly",
            "circa",
            "ca",
            "nearly",
            "almost",
            "some",
        ] {
            map.insert(w, Word::Approx);
        }
        for (w, l) in [
            ("us", Some(Locale::Us)),
            ("american", Some(Locale::Us)),
            ("imperial", Some(Locale::Uk)),
            ("british", Some(Locale::Uk)),
            ("metric", Some(Locale::Metric)),
            ("australian", Some(Locale::Au)),
            ("standard", None),
        ] {
            map.insert(w, Word::Country(l));
        }
        for (w, k) in [
            ("plus", Word::Plus),
            ("and", Word::And),
            ("minus", Word::Minus),
            ("less", Word::Minus),
            ("of", Word::Of),
            ("or", Word::Or),
            ("to", Word::To),
            ("each", Word::Each),
            ("x", Word::Times),
        ] {
            map.insert(w, k);
        }
        for u in unit_words() {
            map.insert(u.word, Word::Unit(u));
        }
        Self(map)
    }

    /// What a word means, or `None`.
    pub(crate) fn get(&self, word: &str) -> Option<Word> {
        if word.len() == 1 && word != "x" {
            // T and t differ; other single letters do not.
            return self
                .0
                .get(word)
                .or_else(|| {
                    let lower = word.to_ascii_lowercase();
                    if lower == "t" {
                        None
                    } else {
                        self.0.get(lower.as_str())
                    }
                })
                .copied();
        }
        if word.bytes().all(|b| b.is_ascii_lowercase()) {
            return self.0.get(word).copied();
        }
        if word.len() > 16 {
            return None;
        }
        self.0.get(word.to_ascii_lowercase().as_str()).copied()
    }
}

impl Words {
    /// The unit a word behind a number is a slip of the pen for: 'cupps', 'teasppon', 'grms'.
    /// A letter doubled, left out or swapped with the next; another letter only in long words.
    pub(crate) fn near_unit(&self, word: &str) -> Option<UnitWord> {
        const MEANT: [&str; 18] = [
            "cup",
            "cups",
            "tablespoon",
            "tablespoons",
            "teaspoon",
            "teaspoons",
            "tbsp",
            "gram",
            "grams",
            "kilogram",
            "kilograms",
            "ounce",
            "ounces",
            "pound",
            "pounds",
            "pints",
            "litres",
            "millilitres",
        ];
        if !(3..=16).contains(&word.len()) || !word.is_ascii() || self.get(word).is_some() {
            return None;
        }
        let lower = word.to_ascii_lowercase();
        let meant = MEANT.iter().find(|m| is_slip(lower.as_bytes(), m))?;
        match self.get(meant) {
            Some(Word::Unit(u)) => Some(u),
            _ => None,
        }
    }
}

fn is_slip(written: &[u8], meant: &str) -> bool {
    let short = matches!(meant, "gram" | "grams");
    let meant = meant.as_bytes();
    if written.first() != meant.first() {
        return false;
    }
    let same = written
        .iter()
        .zip(meant)
        .take_while(|(a, b)| a == b)
        .count();
    let (w, m) = (&written[same..], &meant[same..]);
    match (written.len() as isize) - (meant.len() as isize) {
        // A letter too many: the one before again.
        1 => w.first() == Some(&meant[same - 1]) && w[1..] == *m,
        // One too few.
        -1 => (meant.len() >= 6 || short) && w == &m[1..],
        0 if w.len() >= 2 => {
            let swapped = written.len() >= 4 && w[0] == m[1] && w[1] == m[0] && w[2..] == m[2..];
            swapped || meant.len() >= 8 && w[1..] == m[1..]
        }
        _ => false,
    }
}

/// Whether a unit word is a container whose size is on its label.
pub(crate) fn is_container(unit: Option<Unit>) -> bool {
    matches!(unit, Some(Unit::Can | Unit::Packet))
}
