//! Steps that do what only wheat needs: found by their words, with what to do instead.
//!
//! Words and notes are data: `method_cues.tsv` says how a step is told, `method_aids.tsv` what
//! is said of it in each style.

use super::facts::doing;
use super::say::minutes;
use super::{Aid, Notes, shape};
use crate::data::rows;
use crate::recipe::{Activity, Step};
use crate::rework::style::Style;
use crate::shape::rolls_up;
use larder::Status;
use std::collections::{BTreeMap, HashMap};
use std::ops::Range;
use std::sync::LazyLock;

/// So many words may stand where a cue has `~`.
const GAP: usize = 5;
/// A word that rules a cue out stands so near it.
const NEAR: usize = 8;
/// So many words before it 'not' takes a cue's meaning away.
const REFUSED: usize = 5;
const NOT: &[&str] = &[
    "not", "don't", "dont", "never", "without", "no", "avoid", "needn't", "doesn't", "nor",
];

/// A find in a step's text.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::rework) struct Find {
    /// What to do about it.
    pub row: &'static Row,
    /// The bytes of the text that say it.
    pub span: Range<usize>,
}

/// A row of `method_aids.tsv`.
#[derive(Debug, PartialEq)]
pub(in crate::rework) struct Row {
    /// What is found.
    pub found: &'static str,
    /// What is said of the step.
    pub does: &'static str,
    styles: Vec<&'static str>,
    /// What to do instead.
    pub instead: &'static str,
    /// How to know that it is right.
    pub look_for: &'static str,
    /// Its rule.
    pub rule: &'static str,
    source: &'static str,
    status: Status,
}

impl Row {
    /// The first of what is found.
    #[cfg(test)]
    pub fn of(found: &str) -> Option<&'static Self> {
        ROWS.iter().find(|r| r.found == found)
    }
    /// The source with its status.
    pub fn cited(&self) -> String {
        match self.status {
            Status::CommonPractice | Status::Seen => self.source.to_owned(),
            Status::FromMemory => format!("{} (from memory)", self.source),
        }
    }
}

/// One element of a cue.
#[derive(Debug)]
enum Part {
    /// Up to [`GAP`] words.
    Gap,
    /// One of these words; true where it is only a stem.
    Word(Vec<(&'static str, bool)>),
}

#[derive(Debug)]
struct Cue {
    found: &'static str,
    parts: Vec<Part>,
    with: Vec<&'static str>,
    unless: Vec<&'static str>,
    negated: bool,
}

static ROWS: LazyLock<Vec<Row>> = LazyLock::new(|| {
    rows(include_str!("../../../data/method_aids.tsv"))
        .map(|r| Row {
            found: r.get("found"),
            does: r.get("does"),
            styles: r.get("styles").split(' ').collect(),
            instead: r.get("instead"),
            look_for: r.get("look_for"),
            rule: r.get("rule"),
            source: r.get("source"),
            status: match r.get("status") {
                "seen" => Status::Seen,
                "from memory" => Status::FromMemory,
                _ => Status::CommonPractice,
            },
        })
        .collect()
});

static CUES: LazyLock<Vec<Cue>> = LazyLock::new(|| {
    rows(include_str!("../../../data/method_cues.tsv"))
        .map(|r| Cue {
            found: r.get("found"),
            parts: r.get("cue").split(' ').map(part).collect(),
            with: r.get("with").split_whitespace().collect(),
            unless: r.get("unless").split_whitespace().collect(),
            negated: r.get("negated") == "y",
        })
        .collect()
});

/// The cues that may begin with a word, by the word's first letters.
static STARTS: LazyLock<HashMap<&str, Vec<usize>>> = LazyLock::new(|| {
    let mut starts: HashMap<&str, Vec<usize>> = HashMap::new();
    for (n, cue) in CUES.iter().enumerate() {
        let Some(Part::Word(any)) = cue.parts.first() else {
            continue;
        };
        for (word, _) in any {
            let of = starts.entry(letters(word)).or_default();
            if of.last() != Some(&n) {
                of.push(n);
            }
        }
    }
    starts
});

/// The first three letters; no stem is shorter.
fn letters(word: &str) -> &str {
    word.get(..3).unwrap_or(word)
}

fn part(text: &'static str) -> Part {
    if text == "~" {
        return Part::Gap;
    }
    let word = |w: &'static str| w.strip_suffix('*').map_or((w, false), |stem| (stem, true));
    Part::Word(text.split(',').map(word).collect())
}

/// A word of a step.
#[derive(Debug)]
struct Word {
    text: String,
    span: Range<usize>,
    /// Which clause and which sentence it stands in.
    clause: usize,
    sentence: usize,
}

/// The words of a text; hyphens part them, apostrophes do not.
fn words(text: &str) -> Vec<Word> {
    let mut out: Vec<Word> = Vec::new();
    let (mut clause, mut sentence) = (0, 0);
    let mut open = false;
    for (at, c) in text.char_indices() {
        let end = at + c.len_utf8();
        let apostrophe = matches!(c, '\'' | '’') && open;
        if c.is_alphanumeric() || apostrophe {
            let c = if apostrophe { '\'' } else { c };
            if !open {
                out.push(Word {
                    text: String::new(),
                    span: at..at,
                    clause,
                    sentence,
                });
            }
            open = true;
            if let Some(word) = out.last_mut() {
                word.text.extend(c.to_lowercase());
                word.span.end = end;
            }
            continue;
        }
        open = false;
        match c {
            // '2.5 cm' is no end of a sentence.
            '.' if text[end..].starts_with(|c: char| c.is_ascii_digit()) => {}
            '.' | '!' | '?' | ';' | '\n' => (clause, sentence) = (clause + 1, sentence + 1),
            ',' | ':' | '(' | ')' | '–' | '—' => clause += 1,
            _ => {}
        }
    }
    out
}

impl Cue {
    /// The word behind its last, when it begins at word `i`.
    fn at(&self, words: &[Word], i: usize) -> Option<usize> {
        follow(&self.parts, words, i, words.get(i)?.sentence)
    }

    /// Whether the words around a match speak for it.
    fn holds(&self, words: &[Word], from: usize, to: usize) -> bool {
        let (sentence, clause) = (words[from].sentence, words[from].clause);
        let has = |w: &Word, list: &[&str]| list.contains(&w.text.as_str());
        let here = || words.iter().filter(|w| w.sentence == sentence);
        let near = &words[from.saturating_sub(NEAR)..words.len().min(to + NEAR)];
        let mut near = near.iter().filter(|w| w.sentence == sentence);
        let mut before = words[from.saturating_sub(REFUSED)..from].iter();
        (self.with.is_empty() || here().any(|w| has(w, &self.with)))
            && !near.any(|w| has(w, &self.unless))
            && (self.negated || !before.any(|w| w.clause == clause && has(w, NOT)))
    }
}

/// Follows a cue's parts from word `i`; the word behind the last.
fn follow(parts: &[Part], words: &[Word], i: usize, sentence: usize) -> Option<usize> {
    let Some((first, rest)) = parts.split_first() else {
        return Some(i);
    };
    match first {
        Part::Gap => (i..=i + GAP).find_map(|j| follow(rest, words, j, sentence)),
        Part::Word(any) => {
            let word = words.get(i).filter(|w| w.sentence == sentence)?;
            let fits = any
                .iter()
                .any(|(w, stem)| word.text == *w || *stem && word.text.starts_with(w));
            // Words side by side stand in one clause.
            let next = matches!(rest.first(), Some(Part::Word(_)));
            let joined = !next || words.get(i + 1).is_none_or(|n| n.clause == word.clause);
            (fits && joined).then(|| follow(rest, words, i + 1, sentence))?
        }
    }
}

/// What a style says of a find.
fn row(found: &str, style: Style) -> Option<&'static Row> {
    let fits = |r: &&Row| r.styles.iter().any(|s| *s == "*" || *s == style.key());
    ROWS.iter().filter(|r| r.found == found).find(fits)
}

/// What is said of kneading where soda, powder or nothing raises the dough.
pub(in crate::rework) fn kneaded_without_yeast() -> Option<&'static Row> {
    row("knead", Style::from_key("muffin_quick_bread")?)
}

/// What a step's text says that only wheat needs, in the order of the text.
///
/// Each kind is found once, where it stands first; a span lies inside `text`, and no two touch.
pub(in crate::rework) fn find(text: &str, style: Style) -> Vec<Find> {
    let words = words(text);
    let mut known: HashMap<&str, Option<&'static Row>> = HashMap::new();
    let mut out: Vec<Find> = Vec::new();
    let mut places: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (i, word) in words.iter().enumerate() {
        for cue in STARTS.get(letters(&word.text)).into_iter().flatten() {
            places.entry(*cue).or_default().push(i);
        }
    }
    for (cue, starts) in places {
        let cue = &CUES[cue];
        let Some(row) = *known
            .entry(cue.found)
            .or_insert_with(|| row(cue.found, style))
        else {
            continue;
        };
        for i in starts {
            let Some(end) = cue.at(&words, i).filter(|end| cue.holds(&words, i, *end)) else {
                continue;
            };
            let span = words[i].span.start..words[end - 1].span.end;
            let other = |f: &Find| {
                f.row.found != cue.found && f.span.start < span.end && span.start < f.span.end
            };
            if out.iter().any(other) {
                continue;
            }
            match out.iter_mut().find(|f| f.row.found == cue.found) {
                // A longer way to say the same, or an earlier one.
                Some(f) if span.start < f.span.start => f.span = span,
                Some(_) => {}
                None => out.push(Find { row, span }),
            }
            break;
        }
    }
    out.sort_by_key(|f| f.span.start);
    out
}

impl Notes<'_> {
    /// How a dough is rolled out that is not rolled up, where its style tells that apart.
    fn rolled_out(&self, step: &Step) -> Option<&'static Row> {
        const CUT: [&str; 6] = [
            "cutter", "cut out", "stamp", "rounds", "circles", "doughnut",
        ];
        let style = self.about.style;
        let up = |s: &&Step| {
            let mut finds = find(&s.text, style).into_iter();
            rolls_up(&s.text) || finds.any(|f| f.row.found == "roll_up")
        };
        if self.about.steps.iter().any(up) {
            return None;
        }
        let text = step.text.to_lowercase();
        let cut = CUT.iter().any(|w| text.contains(w));
        row(if cut { "roll_cut" } else { "roll_flat" }, style)
    }

    /// What the step's words say that only wheat needs.
    pub(super) fn aids(&mut self, step: &Step) {
        let style = self.about.style;
        let said = |notes: &Self, rule: &str| notes.list.iter().any(|n| n.rule == rule);
        let finds = find(&step.text, style);
        let rolled_out = finds.iter().any(|f| f.row.found == "roll_out");
        for find in finds {
            let mut row = find.row;
            // How a soft sheet is rolled out says how it is rolled up.
            if row.found == "roll_up" && rolled_out && style.key() == "enriched_dough" {
                continue;
            }
            // How often and how far it rises is said once, of all steps together.
            let rises = matches!(row.found, "second_rise" | "doubled");
            if rises && (said(self, row.rule) || !self.yeasted()) {
                continue;
            }
            if row.found == "roll_out" {
                row = self.rolled_out(step).unwrap_or(row);
            }
            let mut does = row.does.to_owned();
            if row.found == "knead" {
                let time = doing(step, Activity::Knead).flatten();
                let how_long = time.map_or(String::new(), |t| format!(" for {}", minutes(t)));
                does = does.replace("{for}", &how_long);
                if style.is_yeast_dough() && !self.yeasted() {
                    row = kneaded_without_yeast().unwrap_or(row);
                }
            }
            let (mut instead, mut source) = (row.instead.to_owned(), row.cited());
            if instead.contains("{core}") {
                let Some((core, r)) = style.core() else {
                    continue;
                };
                instead = instead.replace("{core}", &self.core_words("", core));
                source = r.cited();
            }
            if instead.contains("{proof}") {
                let Some(r) = style.range("proof_x") else {
                    continue;
                };
                instead = instead.replace("{proof}", &self.proof());
                source = r.cited();
            }
            if find.row.found == "roll_out" {
                let before = self.about.steps.iter().filter(|s| s.number < step.number);
                let earlier: Vec<&str> = before.map(|s| s.text.as_str()).collect();
                if let Some(area) = shape::rolled(&step.text, &earlier, &instead, self.about.after)
                {
                    instead = format!("{instead} {area}");
                }
            }
            let aid = Aid {
                found: find.row.found,
                span: find.span,
                instead,
                look_for: row.look_for.replace("{proof}", &self.proof()),
            };
            self.answer(step.number, &does, row.rule, &source, aid);
        }
    }
}

#[cfg(test)]
mod tests;
