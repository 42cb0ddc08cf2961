//! Whether an own entry can be: every figure, word and date of it, before anything is taken in.

use super::{Evidence, EvidenceKind, Label, OwnEntry, Price, ReadThrough, Stock};
use crate::allergen::Regime;
use crate::names::LONGEST_NAME;
use crate::{Allergen, Function, Gluten, Larder};
use std::fmt;

/// What is wrong with an own entry, and how to mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnError {
    /// Key of the entry.
    pub entry: String,
    /// The field: `function`, `weights.cup`, `label.protein`, `price.date` …
    pub field: String,
    /// What stands there.
    pub found: String,
    /// What was expected.
    pub expected: String,
    /// How to mend it.
    pub mend: String,
}

impl fmt::Display for OwnError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "own entry '{}', {}: {}; expected {}: {}",
            self.entry, self.field, self.found, self.expected, self.mend
        )
    }
}
impl std::error::Error for OwnError {}

/// Measure words an own weight can have, beside those the food's own table rows have.
pub(super) const MEASURES: [&str; 4] = ["cup", "tbsp", "tsp", "each"];
/// US customary millilitres of the measures of volume.
pub(super) const VOLUMES: [(&str, f64); 3] = [
    ("cup", 236.588_236_5),
    ("tbsp", 14.786_764_781_25),
    ("tsp", 4.928_921_593_75),
];
/// Lightest and heaviest food that a spoon or cup can hold, g per mL: puffed grain, and nothing
/// a baker owns is three times as heavy as water (common practice, no source).
const DENSITIES: (f64, f64) = (0.02, 3.0);
/// Above this many parts per million a test says that gluten is in it.
pub(crate) const LIMIT: f64 = 20.0;
const LONGEST_TEXT: usize = 120;
/// Packs of a food that can be noted beside the usual one.
const MOST_PACKS: usize = 5;
/// More than this percent thrown away is a slip of the pen.
const MOST_TRIM: f64 = 95.0;

/// Makes an [`OwnError`] of one entry.
struct Wrong<'a>(&'a OwnEntry);
impl Wrong<'_> {
    fn at<T>(
        &self,
        field: impl Into<String>,
        found: impl Into<String>,
        expected: impl Into<String>,
        mend: impl Into<String>,
    ) -> Result<T, OwnError> {
        Err(OwnError {
            entry: self.0.key.clone(),
            field: field.into(),
            found: found.into(),
            expected: expected.into(),
            mend: mend.into(),
        })
    }
}

impl OwnEntry {
    /// Whether it is a food of its own, not facts about a built-in one.
    #[must_use]
    pub fn is_new(&self) -> bool {
        self.key.starts_with("own_")
    }

    /// Checks the entry against a larder.
    ///
    /// # Errors
    /// [`OwnError`] for the first thing that cannot be: it names the field and how to mend it.
    pub fn check(&self, larder: &Larder) -> Result<(), OwnError> {
        larder.with_own(std::slice::from_ref(self)).map(|_| ())
    }

    /// Checks that the days of prices, stock and evidence are of the years 2000 to `today`, `2026-11-25`: no clock
    /// is known here.
    ///
    /// # Errors
    /// [`OwnError`] for the first that is not.
    pub fn check_days(&self, today: &str) -> Result<(), OwnError> {
        let packs = self.packs.iter().enumerate();
        let packs = packs.map(|(i, p)| (format!("packs.{i}.date"), &p.date));
        let price = self.price.iter().map(|p| ("price.date", &p.date));
        let stock = self.stock.iter().map(|s| ("stock.date", &s.date));
        let gluten = self.gluten.iter().map(|g| ("gluten.date", &g.date));
        let read = self
            .read_through
            .iter()
            .map(|r| ("read_through.date", &r.date));
        let all = price.chain(stock).chain(gluten).chain(read);
        let mut all = all.map(|(at, day)| (at.to_owned(), day)).chain(packs);
        // Days in this form stand in the order of their letters.
        let of_now = |day: &str| ("2000-01-01"..=today).contains(&day);
        match all.find(|(_, day)| !of_now(day)) {
            None => Ok(()),
            Some((at, day)) => Wrong(self).at(
                at,
                format!("'{day}'"),
                format!("a day from the year 2000 to today, {today}"),
                "look at its year and month again",
            ),
        }
    }

    /// Checks every field against the larder it will be laid over.
    pub(super) fn check_fields(&self, larder: &Larder) -> Result<(), OwnError> {
        let wrong = Wrong(self);
        self.check_key(larder, &wrong)?;
        self.check_names(larder, &wrong)?;
        self.check_function(larder, &wrong)?;
        self.check_weights(larder, &wrong)?;
        if let Some(label) = &self.label {
            label.check(&wrong)?;
            self.check_whole(larder, label, &wrong)?;
        }
        if let Some(evidence) = &self.gluten {
            evidence.check(&wrong)?;
        }
        for word in &self.allergens {
            if Allergen::from_word(word).is_none() {
                let all = Allergen::ALL.iter().map(|a| a.word());
                return wrong.at(
                    "allergens",
                    format!("'{word}' is not an allergen word"),
                    "words of the allergen list",
                    nearest(word, all.clone()).map_or_else(
                        || format!("use one of {}", list(all)),
                        |n| format!("did you mean '{n}'?"),
                    ),
                );
            }
        }
        if let Some(read) = &self.read_through {
            read.check(&wrong)?;
        }
        self.check_bought(&wrong)?;
        claim("note", &self.note, &wrong)
    }

    /// Checks packs, stock and trim.
    fn check_bought(&self, wrong: &Wrong<'_>) -> Result<(), OwnError> {
        if let Some(price) = &self.price {
            price.check("price", wrong)?;
        } else if !self.packs.is_empty() {
            return wrong.at(
                "price",
                "empty, with other packs given",
                "the pack that is usually bought",
                "put the first pack under price",
            );
        }
        if self.packs.len() > MOST_PACKS {
            return wrong.at(
                "packs",
                format!("{} packs", self.packs.len()),
                format!("at most {MOST_PACKS} packs beside the usual one"),
                "keep those that are bought",
            );
        }
        for (i, pack) in self.packs.iter().enumerate() {
            pack.check(&format!("packs.{i}"), wrong)?;
        }
        if let Some(stock) = &self.stock {
            stock.check(wrong)?;
        }
        if let Some(trim) = self.trim
            && !(0.0..=MOST_TRIM).contains(&trim)
        {
            return wrong.at(
                "trim",
                format!("{trim}"),
                format!("0 to {MOST_TRIM} percent of what was bought"),
                "weigh the whole and what is thrown away, and write what was thrown away over the whole",
            );
        }
        Ok(())
    }

    /// Checks that lines which say one of its names find it, once it is laid over the larder.
    pub(super) fn check_found(&self, larder: &Larder) -> Result<(), OwnError> {
        let names = self.name.iter().map(|n| ("name", n));
        for (field, name) in names.chain(self.also.iter().map(|n| ("also", n))) {
            let id = larder.by_key(&self.key);
            let found = larder
                .find(name, quantity::Locale::Us)
                .is_some_and(|m| Some(m.food) == id || m.rivals.iter().any(|r| Some(*r) == id));
            if !found {
                return Wrong(self).at(
                    field,
                    format!("a line that says '{name}' does not find it"),
                    "a name that begins with the food or its maker",
                    "leave out words like 'for' and 'with' at its beginning",
                );
            }
        }
        Ok(())
    }

    fn check_key(&self, larder: &Larder, wrong: &Wrong<'_>) -> Result<(), OwnError> {
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_';
        if self.is_new() {
            if self.key.len() > 4 && self.key.len() <= 64 && self.key.chars().all(plain) {
                return Ok(());
            }
            return wrong.at(
                "key",
                format!("'{}'", self.key),
                "own_ and up to 60 small letters, digits and underscores",
                "write it like own_crumble_mix",
            );
        }
        if larder.by_key(&self.key).is_some() {
            return Ok(());
        }
        let near = nearest(
            &self.key,
            larder.ids().map(|id| larder.food(id).key.as_str()),
        );
        wrong.at(
            "key",
            format!("no food of the larder has the key '{}'", self.key),
            "the key of a food, or a new one that begins with own_",
            near.map_or_else(
                || format!("for a new food write own_{}", self.key),
                |n| format!("did you mean '{n}'? For a new food begin the key with own_"),
            ),
        )
    }

    fn check_names(&self, larder: &Larder, wrong: &Wrong<'_>) -> Result<(), OwnError> {
        if self.is_new() && self.name.as_deref().is_none_or(|n| n.trim().is_empty()) {
            return wrong.at(
                "name",
                "empty",
                "a name, for a new food",
                "write the words your recipes use for it",
            );
        }
        let names = self.name.iter().map(|n| ("name", n));
        for (field, name) in names.chain(self.also.iter().map(|n| ("also", n))) {
            claim(field, name, wrong)?;
            let words = larder.names.word_count(name);
            let letters = name.chars().any(char::is_alphabetic);
            let kept = name.len() <= LONGEST_TEXT && !name.chars().any(char::is_control);
            if words == 0 || words > LONGEST_NAME || !letters || !kept {
                return wrong.at(
                    field,
                    format!("'{name}'"),
                    format!("a name of 1 to {LONGEST_NAME} words on one line"),
                    "write the words your recipes use for it",
                );
            }
            if larder.names.is_remark(name) {
                return wrong.at(
                    field,
                    format!("'{name}' only says how a food is prepared or bought"),
                    "a name with a word of its own",
                    "put the food or the maker beside it",
                );
            }
            let contains = self.gluten.as_ref().is_some_and(Evidence::says_gluten);
            let taken = larder.names.exact(name).into_iter().find(|id| {
                let f = larder.food(*id);
                f.key != self.key && f.gluten == Gluten::Contains
            });
            if let Some(id) = taken
                && !contains
                && !self.is_gluten(larder)
            {
                return wrong.at(
                    field,
                    format!(
                        "'{name}' is a name of {}, which contains gluten",
                        larder.food(id).name
                    ),
                    "a name that no recipe uses for a food with gluten",
                    "put the maker's name or 'gluten-free' before it",
                );
            }
        }
        Ok(())
    }

    /// Whether the food it speaks of contains gluten already.
    fn is_gluten(&self, larder: &Larder) -> bool {
        larder
            .by_key(&self.key)
            .is_some_and(|id| larder.food(id).gluten == Gluten::Contains)
    }

    fn check_function(&self, larder: &Larder, wrong: &Wrong<'_>) -> Result<(), OwnError> {
        let all = Function::ALL.iter().map(|f| f.word());
        let Some(word) = &self.function else {
            if self.is_new() {
                return wrong.at(
                    "function",
                    "empty",
                    "what it does in a dough, for a new food",
                    format!("use one of {}", list(all)),
                );
            }
            return Ok(());
        };
        let Some(function) = Function::from_word(word) else {
            return wrong.at(
                "function",
                format!("'{word}' is not known"),
                "a function word",
                nearest(word, all.clone()).map_or_else(
                    || format!("use one of {}", list(all)),
                    |n| format!("did you mean '{n}'?"),
                ),
            );
        };
        if !self.is_new()
            && let Some(id) = larder.by_key(&self.key)
            && larder.food(id).function() != function
        {
            return wrong.at(
                "function",
                format!("'{word}'"),
                format!(
                    "'{}': a built-in food keeps its function",
                    larder.food(id).function().word()
                ),
                "leave it empty, or make a new food with a key that begins with own_",
            );
        }
        Ok(())
    }

    fn check_weights(&self, larder: &Larder, wrong: &Wrong<'_>) -> Result<(), OwnError> {
        let rows = larder
            .by_key(&self.key)
            .map_or(&[][..], |id| larder.measures(id));
        for (word, grams) in &self.weights {
            let field = format!("weights.{word}");
            let known =
                MEASURES.contains(&word.as_str()) || rows.iter().any(|m| m.measure == *word);
            if !known {
                let mut words: Vec<&str> = MEASURES.to_vec();
                words.extend(rows.iter().map(|m| m.measure.as_str()));
                words.sort_unstable();
                words.dedup();
                return wrong.at(
                    field,
                    format!("'{word}' is not a measure of this food"),
                    "a measure word",
                    format!("use one of {}", list(words.into_iter())),
                );
            }
            if !grams.is_finite() || *grams <= 0.0 {
                return wrong.at(
                    field,
                    format!("{grams}"),
                    "grams above 0",
                    "weigh one level measure and write its grams",
                );
            }
            // An egg is weighed by its size, a bare 'egg' too: an own 'each' would never be read.
            let sized = word == "each" && rows.iter().any(|m| m.measure == "large");
            if sized
                && larder
                    .by_key(&self.key)
                    .is_some_and(|id| larder.food(id).does(Function::Egg))
            {
                return wrong.at(
                    field,
                    "each",
                    "the size of the egg",
                    "write the weight under small, medium, large, xl or jumbo",
                );
            }
            let per_ml = VOLUMES
                .iter()
                .find(|(w, _)| w == word)
                .map(|(_, ml)| grams / ml);
            if let Some(d) = per_ml
                && !(DENSITIES.0..=DENSITIES.1).contains(&d)
            {
                return wrong.at(
                    field,
                    format!("{grams} g is {d:.2} g per mL"),
                    format!("{} to {} g per mL", DENSITIES.0, DENSITIES.1),
                    format!("write the grams of one {word}, not ounces or kilograms"),
                );
            }
        }
        Ok(())
    }

    /// Whether the label fits the figures that stay.
    fn check_whole(
        &self,
        larder: &Larder,
        label: &Label,
        wrong: &Wrong<'_>,
    ) -> Result<(), OwnError> {
        let before = larder
            .by_key(&self.key)
            .map(|id| *larder.composition(id))
            .unwrap_or_default();
        let after = label.over(&before, false);
        let sum: f64 = [after.protein, after.fat, after.carbohydrate]
            .into_iter()
            .flatten()
            .sum();
        if sum + label.water.unwrap_or(0.0) > 105.0 {
            return wrong.at(
                "label",
                format!("with the larder's figures for what it leaves out it comes to {:.1} g", sum + label.water.unwrap_or(0.0)),
                "at most 105 g of 100 g",
                "give protein, fat, carbohydrate and fibre as the label has them, and say whether its carbohydrate counts fibre",
            );
        }
        Ok(())
    }
}

/// Words that this program never prints.
fn claim(field: &str, text: &str, wrong: &Wrong<'_>) -> Result<(), OwnError> {
    let lower = text.to_lowercase();
    if lower.contains("safe for coeliac") || lower.contains("safe for celiac") {
        return wrong.at(
            field,
            format!("'{text}'"),
            "what was seen, not what it is safe for",
            "write the brand, lot or certificate number",
        );
    }
    Ok(())
}

impl Label {
    fn check(&self, wrong: &Wrong<'_>) -> Result<(), OwnError> {
        let figures = [
            ("water", self.water),
            ("protein", self.protein),
            ("fat", self.fat),
            ("carbohydrate", self.carbohydrate),
            ("fibre", self.fibre),
            ("sugars", self.sugars),
        ];
        for (word, value) in figures {
            if let Some(v) = value
                && !(0.0..=100.0).contains(&v)
            {
                return wrong.at(
                    format!("label.{word}"),
                    format!("{v}"),
                    "0 to 100 g",
                    "write the grams per 100 g of the label, not per portion",
                );
            }
        }
        let part_of = |word: &str, part: Option<f64>| match (part, self.carbohydrate) {
            (Some(p), Some(c)) if p > c + 0.5 => wrong.at(
                format!("label.{word}"),
                format!("{p} g of {c} g carbohydrate"),
                format!("no more {word} than carbohydrate"),
                "see whether two figures were exchanged",
            ),
            _ => Ok(()),
        };
        part_of("sugars", self.sugars)?;
        if self.with_fibre {
            part_of("fibre", self.fibre)?;
        }
        let beside = self
            .fibre
            .filter(|_| !self.with_fibre || self.carbohydrate.is_none());
        let sum: f64 = [
            self.water,
            self.protein,
            self.fat,
            self.carbohydrate,
            beside,
        ]
        .into_iter()
        .flatten()
        .sum();
        if sum > 105.0 {
            return wrong.at(
                "label",
                format!("the figures come to {sum:.1} g"),
                "at most 105 g of 100 g",
                "look for a figure per portion, and say whether the carbohydrate counts fibre",
            );
        }
        Ok(())
    }
}

impl ReadThrough {
    fn check(&self, wrong: &Wrong<'_>) -> Result<(), OwnError> {
        if !is_day(&self.date) {
            return wrong.at(
                "read_through.date",
                format!("'{}'", self.date),
                "the day the label was read",
                "write it as 2026-11-25",
            );
        }
        if self.law().is_none() {
            return wrong.at(
                "read_through.law",
                format!("'{}' is no law on labels", self.law),
                "the law that the label follows",
                format!("use one of {}", list(Regime::ALL.iter().map(|r| r.word()))),
            );
        }
        if self.who.trim().is_empty() {
            return wrong.at(
                "read_through.who",
                "empty",
                "who read the label",
                "write a name or initials",
            );
        }
        claim("read_through.who", &self.who, wrong)
    }

    /// What was read, when and by whom: 'all that its label names, read on 2026-11-25 by Maud (law: United States)'.
    #[must_use]
    pub fn words(&self) -> String {
        let law = self.law().map_or("", Regime::name);
        let (date, who) = (&self.date, self.who.trim());
        format!("all that its label names, read on {date} by {who} (law: {law})")
    }
}

impl Evidence {
    /// Whether it says that gluten is in the food: a label that names it, or a test above 20 ppm.
    #[must_use]
    pub fn says_gluten(&self) -> bool {
        match self.kind {
            EvidenceKind::NamesGluten => true,
            EvidenceKind::Test { ppm } => ppm > LIMIT,
            EvidenceKind::Labelled | EvidenceKind::Certificate => false,
        }
    }

    /// The figure of a test.
    #[must_use]
    pub fn ppm(&self) -> Option<f64> {
        match self.kind {
            EvidenceKind::Test { ppm } => Some(ppm),
            _ => None,
        }
    }

    /// What was seen, with its date: 'label says gluten-free, read on 2026-11-25: lot 4'.
    #[must_use]
    pub fn words(&self) -> String {
        let (date, note) = (self.date.as_str(), self.note.trim());
        let head = match self.kind {
            EvidenceKind::Labelled => format!("label says gluten-free, read on {date}"),
            EvidenceKind::Certificate => format!("certificate seen on {date}"),
            EvidenceKind::Test { ppm } if ppm > LIMIT => {
                format!("tested {ppm} ppm on {date}, above 20 ppm")
            }
            EvidenceKind::Test { ppm } => format!("tested {ppm} ppm on {date}"),
            EvidenceKind::NamesGluten => {
                format!("its label names gluten or warns of traces, read on {date}")
            }
        };
        if note.is_empty() {
            head
        } else {
            format!("{head}: {note}")
        }
    }

    fn check(&self, wrong: &Wrong<'_>) -> Result<(), OwnError> {
        date("gluten.date", &self.date, wrong)?;
        claim("gluten.note", &self.note, wrong)?;
        if let Some(ppm) = self.ppm()
            && !(ppm.is_finite() && (0.0..=1_000_000.0).contains(&ppm))
        {
            return wrong.at(
                "gluten.ppm",
                format!("{ppm}"),
                "mg/kg, 0 or more",
                "write the figure of the report, or the limit it was below",
            );
        }
        Ok(())
    }
}

impl Price {
    fn check(&self, at: &str, wrong: &Wrong<'_>) -> Result<(), OwnError> {
        for (field, value, what) in [
            ("pack_grams", self.pack_grams, "grams of the pack"),
            ("amount", self.amount, "money for the pack"),
        ] {
            if !value.is_finite() || value <= 0.0 {
                return wrong.at(
                    format!("{at}.{field}"),
                    format!("{value}"),
                    format!("{what}, above 0"),
                    "write it as on the bill",
                );
            }
        }
        if self.currency.len() != 3 || !self.currency.bytes().all(|b| b.is_ascii_uppercase()) {
            return wrong.at(
                format!("{at}.currency"),
                format!("'{}'", self.currency),
                "a code of three capital letters",
                "write it like GBP, EUR or USD",
            );
        }
        if self.pack.len() > LONGEST_TEXT || self.pack.chars().any(char::is_control) {
            return wrong.at(
                format!("{at}.pack"),
                "words that are too long",
                format!("at most {LONGEST_TEXT} letters on one line"),
                "write it like 5 lb bag",
            );
        }
        date(&format!("{at}.date"), &self.date, wrong)
    }
}

impl Stock {
    fn check(&self, wrong: &Wrong<'_>) -> Result<(), OwnError> {
        if !self.grams.is_finite() || self.grams < 0.0 {
            return wrong.at(
                "stock.grams",
                format!("{}", self.grams),
                "grams, 0 or more",
                "weigh what there is, or leave it empty",
            );
        }
        date("stock.date", &self.date, wrong)
    }
}

/// A date `YYYY-MM-DD` of the calendar.
fn date(field: &str, text: &str, wrong: &Wrong<'_>) -> Result<(), OwnError> {
    if is_day(text) {
        return Ok(());
    }
    wrong.at(
        field,
        if text.trim().is_empty() {
            "empty".to_owned()
        } else {
            format!("'{text}'")
        },
        "a day as YYYY-MM-DD",
        "write it like 2026-11-25",
    )
}

/// Whether words are a day of the calendar, `2026-11-25`.
#[must_use]
pub fn is_day(text: &str) -> bool {
    let b = text.as_bytes();
    let form = b.len() == 10
        && b.iter().enumerate().all(|(i, c)| match i {
            4 | 7 => *c == b'-',
            _ => c.is_ascii_digit(),
        });
    let number = |from: usize, to: usize| text.get(from..to).and_then(|t| t.parse::<u32>().ok());
    let (Some(y), Some(m), Some(d), true) = (number(0, 4), number(5, 7), number(8, 10), form)
    else {
        return false;
    };
    let leap = y % 4 == 0 && (y % 100 != 0 || y % 400 == 0);
    let days = match m {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => return false,
    };
    y > 0 && (1..=days).contains(&d)
}

fn list<'a>(words: impl Iterator<Item = &'a str>) -> String {
    words.collect::<Vec<_>>().join(", ")
}

/// The word nearest to one that is not known, where it is near: at most two letters in five
/// away.
fn nearest<'a>(word: &str, words: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let word = word.trim().to_lowercase().replace([' ', '-'], "_");
    words
        .map(|w| (letters_apart(&word, w), w))
        .min()
        .filter(|(n, w)| *n <= (w.len() * 2 / 5).max(1))
        .map(|(_, w)| w)
}

/// Letters to put in, leave out or change to make one word the other.
fn letters_apart(a: &str, b: &str) -> usize {
    let b: Vec<char> = b.chars().collect();
    let mut row: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.chars().take(80).enumerate() {
        let mut corner = row[0];
        row[0] = i + 1;
        for (j, y) in b.iter().enumerate() {
            let change = corner + usize::from(x != *y);
            corner = row[j + 1];
            row[j + 1] = change.min(row[j] + 1).min(corner + 1);
        }
    }
    row[b.len()]
}
