//! From the words of an ingredient line to a food.
//!
//! Names are looked up word by word, longest name first, in the words of the text's locale
//! before those of other countries. What is left over decides how sure the match is: words of
//! preparation ('softened and cubed') change nothing, words that make another product ('vegan')
//! or that are not known at all make it a doubt.

mod headed;
mod near;

use crate::food::State;
use crate::table::{TableError, rows};
use quantity::Locale;
use std::collections::{HashMap, HashSet};
use std::hash::{BuildHasherDefault, Hasher};
use std::ops::Range;
use unicode_normalization::UnicodeNormalization;

pub(crate) use near::one_letter_apart;

/// Place of a food in the larder.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct FoodId(pub(crate) u32);

/// How sure a match is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Certainty {
    /// The whole name is known.
    Sure,
    /// The name is known but stands beside words that are not, or that make another product.
    Partly,
    /// Two foods answer to the same words.
    Tie,
    /// No name fits; one is a letter away.
    Near,
}

/// A food found in a text.
#[derive(Debug, Clone, PartialEq)]
pub struct Match {
    /// The food.
    pub food: FoodId,
    /// How sure.
    pub certainty: Certainty,
    /// Bytes of the text that name it.
    pub span: Range<usize>,
    /// Words beside it that are not understood, or that make another product.
    pub unknown: Vec<Range<usize>>,
    /// Other foods the words could mean.
    pub rivals: Vec<FoodId>,
}

/// What a name's words say beside the food.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Qualities {
    /// How it is prepared when measured.
    pub state: State,
    /// `small`, `medium`, `large`, `xl`, `jumbo`.
    pub size: Option<&'static str>,
    /// The words say it is labelled gluten-free.
    pub labelled_gluten_free: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Class {
    Prep,
    State(&'static str),
    Size(&'static str),
    Grade,
    Identity,
    LabelledFree,
    Link,
    Cut,
}

/// One word of a text.
#[derive(Debug, Clone, Copy)]
struct Token {
    start: u32,
    end: u32,
    hash: u64,
    /// Behind a comma, bracket, dash or a word that ends the name.
    segment: u16,
    /// Behind 'for', 'with', 'in': says what it is for, never which food it is.
    purpose: bool,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Entry {
    food: FoodId,
    /// Bit per locale; 0 means everywhere.
    locales: u8,
}

/// Keys are hashes already.
#[derive(Default)]
struct Ready(u64);
impl Hasher for Ready {
    fn finish(&self) -> u64 {
        self.0
    }
    fn write(&mut self, bytes: &[u8]) {
        for b in bytes {
            self.0 = mix(self.0 ^ u64::from(*b));
        }
    }
    fn write_u64(&mut self, n: u64) {
        self.0 = n;
    }
}
type Map<V> = HashMap<u64, V, BuildHasherDefault<Ready>>;
type Set = HashSet<u64, BuildHasherDefault<Ready>>;

/// The index of all names.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Names {
    phrases: Map<Vec<Entry>>,
    prefixes: Set,
    bags: Map<Vec<Entry>>,
    vocabulary: Map<String>,
    /// Words that only the kitchen's own names have. They never end a built-in name: 'soy sauce
    /// Harrow' is soy sauce still.
    kitchen: Set,
    classes: Map<Class>,
}

impl std::fmt::Debug for Ready {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("Ready")
    }
}

pub(crate) const LONGEST_NAME: usize = 8;

fn mix(mut x: u64) -> u64 {
    x ^= x >> 30;
    x = x.wrapping_mul(0xbf58_476d_1ce4_e5b9);
    x ^= x >> 27;
    x = x.wrapping_mul(0x94d0_49bb_1331_11eb);
    x ^ (x >> 31)
}
fn follow(hash: u64, token: u64) -> u64 {
    mix(hash.rotate_left(7) ^ token)
}

/// A word in the form it is looked up in: lower case, no accents, no apostrophe, singular.
fn normal(word: &str, out: &mut String) {
    out.clear();
    if word.is_ascii() {
        out.extend(
            word.bytes()
                .filter(|b| *b != b'\'')
                .map(|b| b.to_ascii_lowercase() as char),
        );
    } else {
        out.extend(
            word.nfd()
                .filter(|c| !unicode_normalization::char::is_combining_mark(*c))
                .filter(|c| !matches!(c, '\'' | '’' | '‘' | 'ʼ'))
                .flat_map(char::to_lowercase),
        );
    }
    singular(out);
}

/// Takes the plural off. Only has to treat a name and a text alike, not be grammar.
fn singular(word: &mut String) {
    let cut = |word: &mut String, n: usize| word.truncate(word.len() - n);
    if word.len() < 4 || !word.is_ascii() || word.ends_with("ss") || word.ends_with("us") {
        if word == "ies" {
            cut(word, 1);
        }
        return;
    }
    match word.as_str() {
        "leaves" => *word = "leaf".into(),
        "halves" => *word = "half".into(),
        "loaves" => *word = "loaf".into(),
        // No beer.
        "bitters" => {}
        _ if word.ends_with("ies") || word.ends_with("oes") => {
            cut(word, 3);
            word.push(if word.len() > 1 && word.ends_with(['t', 'g', 'd', 'm']) {
                'o'
            } else {
                'y'
            });
        }
        _ if word.ends_with("ie") => {
            cut(word, 2);
            word.push('y');
        }
        _ if word.ends_with("sses")
            || word.ends_with("shes")
            || word.ends_with("ches")
            || word.ends_with("xes") =>
        {
            cut(word, 2);
        }
        _ if word.ends_with('s') => cut(word, 1),
        _ => {}
    }
    // 'Chilli' and 'chillies', which is cut above as 'berries' is.
    if word.ends_with("lli") || word.ends_with("ili") {
        cut(word, 1);
        word.push('y');
    }
}

fn word_hash(word: &str) -> u64 {
    let mut h = 0x9e37_79b9_7f4a_7c15_u64 ^ word.len() as u64;
    let mut chunks = word.as_bytes().chunks_exact(8);
    for c in &mut chunks {
        h = mix(h ^ u64::from_le_bytes([c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7]]));
    }
    let mut last = [0u8; 8];
    last[..chunks.remainder().len()].copy_from_slice(chunks.remainder());
    mix(h ^ u64::from_le_bytes(last))
}

fn is_word(c: char) -> bool {
    c.is_alphanumeric()
        || matches!(c, '\'' | '’' | '‘' | 'ʼ')
        || unicode_normalization::char::is_combining_mark(c)
}

/// Whether the words up to a place are what a thing is free of: 'gluten-free', 'gluten free', not 'eggs free
/// range' nor 'seitan free of salt'.
fn is_free_of(text: &str, tokens: &[Token], last: usize) -> bool {
    const OTHER: [&str; 5] = ["of", "from", "range", "run", "flowing"];
    let next = |at: usize| {
        let same = |t: &&Token| t.segment == tokens[last].segment;
        tokens.get(at).filter(same)
    };
    let is = |t: &Token, word: &str| t.hash == word_hash(word);
    let Some(free) = next(last + 1).filter(|t| is(t, "free")) else {
        return false;
    };
    let between = text.get(tokens[last].end as usize..free.start as usize);
    let joined = between.is_some_and(|b| b.contains(['-', '\u{2011}']));
    joined || next(last + 2).is_none_or(|t| !OTHER.iter().any(|w| is(t, w)))
}

/// A text's words in the form they are looked up in, a space between them.
pub(crate) fn plain(text: &str) -> String {
    let (mut out, mut buffer) = (String::with_capacity(text.len()), String::new());
    for word in text.split(|c| !is_word(c)) {
        normal(word, &mut buffer);
        if !buffer.is_empty() {
            if !out.is_empty() {
                out.push(' ');
            }
            out.push_str(&buffer);
        }
    }
    out
}

impl Names {
    /// Reads the table of words around names.
    pub(crate) fn new() -> Result<Self, TableError> {
        let mut names = Self::default();
        let mut word = String::new();
        for row in rows("words.tsv", include_str!("../data/words.tsv")) {
            let class = match row.need("class")? {
                "prep" => Class::Prep,
                "grade" => Class::Grade,
                "identity" => Class::Identity,
                "gf" => Class::LabelledFree,
                "link" => Class::Link,
                "cut" => Class::Cut,
                cell => match cell.split_once(':') {
                    Some(("state", s)) => match State::from_word(s) {
                        Some(State::Is(s)) => Class::State(s),
                        _ => return Err(row.wrong(format!("state '{s}' is not known"))),
                    },
                    Some(("size", s)) => Class::Size(
                        ["small", "medium", "large", "xl", "jumbo"]
                            .into_iter()
                            .find(|x| *x == s)
                            .ok_or_else(|| row.wrong(format!("size '{s}' is not known")))?,
                    ),
                    _ => return Err(row.wrong(format!("class '{cell}' is not known"))),
                },
            };
            normal(row.need("word")?, &mut word);
            names.classes.insert(word_hash(&word), class);
        }
        Ok(names)
    }

    /// Adds a name of a food for some locales (bits; 0 for all).
    pub(crate) fn add(&mut self, name: &str, food: FoodId, locales: u8) {
        let tokens = self.tokens(name);
        let (mut hash, mut bag) = (0, 0u64);
        let mut buffer = String::new();
        for (i, t) in tokens.iter().enumerate() {
            hash = follow(hash, t.hash);
            bag = bag.wrapping_add(mix(t.hash));
            if i + 1 < tokens.len() {
                self.prefixes.insert(hash);
            }
            normal(&name[t.start as usize..t.end as usize], &mut buffer);
            self.vocabulary
                .entry(t.hash)
                .or_insert_with(|| buffer.clone());
        }
        let entry = Entry { food, locales };
        let here = self.phrases.entry(hash).or_default();
        if !here.iter().any(|e| e.food == food && e.locales == locales) {
            here.push(entry);
            self.bags.entry(bag).or_default().push(entry);
        }
    }

    /// Adds a name that wins over equal names of foods that are not `own`, in every locale.
    pub(crate) fn add_over(&mut self, name: &str, food: FoodId, own: impl Fn(FoodId) -> bool) {
        let tokens = self.tokens(name);
        let hash = tokens.iter().fold(0, |h, t| follow(h, t.hash));
        let bag = tokens.iter().fold(0u64, |b, t| b.wrapping_add(mix(t.hash)));
        let new = tokens.iter().map(|t| t.hash);
        let vocabulary = &self.vocabulary;
        self.kitchen
            .extend(new.filter(|h| !vocabulary.contains_key(h)));
        let beaten: Vec<FoodId> = self
            .phrases
            .get(&hash)
            .into_iter()
            .flatten()
            .map(|e| e.food)
            .filter(|f| !own(*f))
            .collect();
        if !beaten.is_empty() {
            for list in [self.phrases.get_mut(&hash), self.bags.get_mut(&bag)] {
                list.into_iter()
                    .for_each(|l| l.retain(|e| !beaten.contains(&e.food)));
            }
        }
        self.add(name, food, 0);
    }

    /// The foods that have a name of exactly these words, in any order and locale.
    pub(crate) fn exact(&self, name: &str) -> Vec<FoodId> {
        let tokens = self.tokens(name);
        let bag = tokens.iter().fold(0u64, |b, t| b.wrapping_add(mix(t.hash)));
        let entries = self.bags.get(&bag);
        entries.into_iter().flatten().map(|e| e.food).collect()
    }

    /// How many words a text has.
    pub(crate) fn word_count(&self, text: &str) -> usize {
        self.tokens(text).len()
    }

    fn tokens(&self, text: &str) -> Vec<Token> {
        let mut tokens = Vec::with_capacity(8);
        let mut buffer = String::new();
        let (mut segment, mut purpose) = (0u16, false);
        let mut start: Option<usize> = None;
        let ends = text
            .char_indices()
            .chain(std::iter::once((text.len(), ' ')));
        for (at, c) in ends {
            if is_word(c) && at < text.len() {
                start.get_or_insert(at);
                continue;
            }
            if let Some(from) = start.take() {
                normal(&text[from..at], &mut buffer);
                if !buffer.is_empty() {
                    let hash = word_hash(&buffer);
                    if matches!(self.classes.get(&hash), Some(Class::Cut)) {
                        segment += 1;
                        purpose = true;
                    }
                    tokens.push(Token {
                        start: from as u32,
                        end: at as u32,
                        hash,
                        segment,
                        purpose,
                    });
                }
            }
            if matches!(
                c,
                ',' | ';' | '(' | ')' | '[' | ']' | ':' | '–' | '—' | '/' | '|' | '\n'
            ) {
                segment += 1;
                purpose = false;
            }
        }
        tokens
    }

    /// The entries best for a locale: its own words, then everyone's, then other countries'.
    fn choose<'a>(entries: &'a [Entry], locale: Locale, best: &mut Vec<&'a Entry>) {
        let rank = |e: &Entry| match e.locales {
            0 => 1,
            l if l & (1 << locale.index()) != 0 => 0,
            _ => 2,
        };
        let first = entries.iter().map(rank).min();
        best.clear();
        for e in entries.iter().filter(|e| Some(rank(e)) == first) {
            if !best.iter().any(|b| b.food == e.food) {
                best.push(e);
            }
        }
    }

    /// Finds the food an ingredient's words name. `None` when no name of the larder fits.
    #[must_use]
    pub fn find(&self, text: &str, locale: Locale) -> Option<Match> {
        let tokens = self.tokens(text);
        let mut best: Option<(usize, usize, &Vec<Entry>)> = None;
        for from in 0..tokens.len() {
            if let Some((f, t, _)) = best {
                if from < t && from > f {
                    continue;
                }
                // A name in the first segment that has one stands, unless a longer one follows
                // in the same segment.
                if tokens[from].segment != tokens[f].segment {
                    break;
                }
            }
            let mut hash = 0;
            for to in from..tokens.len().min(from + LONGEST_NAME) {
                hash = follow(hash, tokens[to].hash);
                if let Some(entries) = self.phrases.get(&hash) {
                    let words = to + 1 - from;
                    let beats = best.is_none_or(|(f, t, _)| words >= t - f);
                    let same = tokens[from].segment == tokens[to].segment || words > 1;
                    let named = !tokens[from].purpose && !is_free_of(text, &tokens, to);
                    if beats && same && named {
                        best = Some((from, to + 1, entries));
                    }
                }
                if !self.prefixes.contains(&hash) {
                    break;
                }
            }
        }
        let Some((from, to, entries)) = best else {
            return self.near(text, &tokens, locale);
        };
        let mut chosen = Vec::new();
        Self::choose(entries, locale, &mut chosen);
        let mut explained: Vec<usize> = (from..to).collect();
        let (mut from, mut to) = (from, to);
        if let Some((at, behind, entries)) = self.headed(&tokens, from..to, locale) {
            (from, to) = (at, behind);
            explained.extend(at..behind);
            Self::choose(entries, locale, &mut chosen);
        }
        if let Some((refined, used)) = self.refine(&tokens, from, to, locale) {
            chosen = refined;
            explained.extend(used);
        }
        let mut unknown = Vec::new();
        let head = tokens[from].segment;
        for (i, t) in tokens.iter().enumerate() {
            if explained.contains(&i) || t.purpose {
                continue;
            }
            let suspicious = match self.classes.get(&t.hash) {
                Some(Class::Identity) => true,
                Some(_) => false,
                // Behind the head, a word that is no food's is a remark; in front of it or in
                // the same breath it may make another product.
                None => t.segment == head,
            };
            if suspicious
                && !self.describes(text, &tokens, i)
                && !text[t.start as usize..t.end as usize]
                    .bytes()
                    .all(|b| b.is_ascii_digit())
            {
                unknown.push(t.start as usize..t.end as usize);
            }
        }
        // The last word of the name is the food itself: 'butter lettuce' is no butter.
        let head_unknown = tokens.get(to).is_some_and(|t| {
            t.segment == head
                && !self.classes.contains_key(&t.hash)
                && self.vocabulary.contains_key(&t.hash)
                && !self.kitchen.contains(&t.hash)
                && !explained.contains(&to)
        });
        if head_unknown {
            return None;
        }
        let certainty = match (chosen.len(), unknown.is_empty()) {
            (2.., _) => Certainty::Tie,
            (_, false) => Certainty::Partly,
            _ => Certainty::Sure,
        };
        Some(Match {
            food: chosen[0].food,
            certainty,
            span: with_bracket(
                text,
                tokens[from].start as usize..tokens[to - 1].end as usize,
            ),
            unknown,
            rivals: chosen[1..].iter().map(|e| e.food).collect(),
        })
    }

    /// Whether a word is half of one that only describes: 'corn-fed', 'European-style'.
    fn describes(&self, text: &str, tokens: &[Token], i: usize) -> bool {
        let word = |i: usize| {
            tokens
                .get(i)
                .and_then(|t| text.get(t.start as usize..t.end as usize))
                .unwrap_or("")
        };
        let is = |w: &str, all: &[&str]| all.iter().any(|a| w.eq_ignore_ascii_case(a));
        if is(word(i + 1), &["fed", "reared"]) {
            return true;
        }
        let grade = i
            .checked_sub(1)
            .and_then(|p| tokens.get(p))
            .is_some_and(|t| matches!(self.classes.get(&t.hash), Some(Class::Grade)));
        grade && is(word(i), &["style"]) || i > 0 && is(word(i), &["fed", "reared"])
    }

    /// Looks for a fuller name made of the matched words and one or two others anywhere in the
    /// text: 'flour, plain', 'sugar (brown, soft)'.
    fn refine(
        &self,
        tokens: &[Token],
        from: usize,
        to: usize,
        locale: Locale,
    ) -> Option<(Vec<&Entry>, Vec<usize>)> {
        let base = tokens[from..to]
            .iter()
            .fold(0u64, |b, t| b.wrapping_add(mix(t.hash)));
        let others: Vec<usize> = (0..tokens.len())
            .filter(|i| !(from..to).contains(i) && !tokens[*i].purpose)
            .filter(|i| !matches!(self.classes.get(&tokens[*i].hash), Some(Class::Link)))
            .filter(|i| self.vocabulary.contains_key(&tokens[*i].hash))
            .take(5)
            .collect();
        let mut chosen = Vec::new();
        let mut pick = |used: &[usize]| {
            let bag = used
                .iter()
                .fold(base, |b, &i| b.wrapping_add(mix(tokens[i].hash)));
            let entries = self.bags.get(&bag)?;
            Self::choose(entries, locale, &mut chosen);
            Some((std::mem::take(&mut chosen), used.to_vec()))
        };
        for (n, &a) in others.iter().enumerate() {
            for &b in &others[n + 1..] {
                if let Some(found) = pick(&[a, b]) {
                    return Some(found);
                }
            }
        }
        others.iter().find_map(|&a| pick(&[a]))
    }

    /// Every food named anywhere in running text, longest names first, none overlapping.
    #[must_use]
    pub fn mentions(&self, text: &str, locale: Locale) -> Vec<(FoodId, Range<usize>)> {
        let tokens = self.tokens(text);
        let mut out = Vec::new();
        let mut chosen = Vec::new();
        let mut from = 0;
        while from < tokens.len() {
            let mut found: Option<(usize, &Vec<Entry>)> = None;
            let mut hash = 0;
            for (to, token) in tokens.iter().enumerate().skip(from).take(LONGEST_NAME) {
                if token.segment != tokens[from].segment {
                    break;
                }
                hash = follow(hash, token.hash);
                if let Some(entries) = self.phrases.get(&hash)
                    && !is_free_of(text, &tokens, to)
                {
                    found = Some((to + 1, entries));
                }
                if !self.prefixes.contains(&hash) {
                    break;
                }
            }
            match found {
                Some((to, entries)) => {
                    let (_, to, entries) = self
                        .headed(&tokens, from..to, locale)
                        .unwrap_or((from, to, entries));
                    Self::choose(entries, locale, &mut chosen);
                    let span = tokens[from].start as usize..tokens[to - 1].end as usize;
                    out.extend(chosen.first().map(|e| (e.food, span)));
                    from = to;
                }
                None => from += 1,
            }
        }
        out
    }

    /// What the words say of state, size and label.
    #[must_use]
    pub fn qualities(&self, text: &str) -> Qualities {
        let mut q = Qualities {
            state: State::Usual,
            size: None,
            labelled_gluten_free: false,
        };
        let tokens = self.tokens(text);
        let (gluten, free) = (word_hash("gluten"), word_hash("free"));
        for (i, t) in tokens.iter().enumerate() {
            if t.hash == gluten && tokens.get(i + 1).is_some_and(|n| n.hash == free) {
                q.labelled_gluten_free = true;
            }
            match self.classes.get(&t.hash) {
                Some(Class::State(s)) if q.state == State::Usual => q.state = State::Is(s),
                Some(Class::Size(s)) => {
                    let extra = i > 0 && *s == "large" && {
                        let p = tokens[i - 1];
                        text[p.start as usize..p.end as usize].eq_ignore_ascii_case("extra")
                    };
                    q.size = Some(if extra { "xl" } else { s });
                }
                Some(Class::LabelledFree) => q.labelled_gluten_free = true,
                _ => {}
            }
        }
        q
    }

    /// Whether a text is nothing but a name of the larder and words of preparation.
    #[must_use]
    pub fn is_name(&self, text: &str, locale: Locale) -> bool {
        self.find(text, locale)
            .is_some_and(|m| m.certainty == Certainty::Sure)
    }

    /// The words of a text that are no remark, first to last, up to what it is for: of 'any good zingo'
    /// 'zingo'.
    #[must_use]
    pub fn unexplained(&self, text: &str) -> Option<Range<usize>> {
        let tokens = self.tokens(text);
        let word = |t: &Token| &text[t.start as usize..t.end as usize];
        let strange = |t: &&Token| {
            let class = self.classes.get(&t.hash);
            !t.purpose
                && matches!(class, None | Some(Class::Identity))
                && !word(t).starts_with(|c: char| c.is_numeric())
        };
        let first = tokens.iter().find(strange)?;
        let mut breath = tokens.iter().filter(|t| t.segment == first.segment);
        let last = breath.rfind(strange)?;
        Some(first.start as usize..last.end as usize)
    }

    /// Whether every word is one that stands around names ('softened and cubed'), none a food.
    #[must_use]
    pub fn is_remark(&self, text: &str) -> bool {
        let tokens = self.tokens(text);
        !tokens.is_empty() && tokens.iter().all(|t| self.classes.contains_key(&t.hash))
    }
}

/// A name's place with the bracket that it begins within, '(raw) milk'; without it where that holds an amount,
/// '(400 g tin) tomatoes'.
fn with_bracket(text: &str, span: Range<usize>) -> Range<usize> {
    let name = &text[span.clone()];
    let Some(close) = name.find(')').filter(|at| !name[..*at].contains('(')) else {
        return span;
    };
    let open = text[..span.start].rfind('(');
    let open =
        open.filter(|at| !text[*at..span.start].contains(|c: char| c.is_ascii_digit() || c == ')'));
    let behind = || {
        span.start + close + 1 + (name[close + 1..].len() - name[close + 1..].trim_start().len())
    };
    open.unwrap_or_else(behind)..span.end
}

#[cfg(test)]
mod tests;
