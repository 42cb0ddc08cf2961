//! What is screened: one entry for each ingredient of each line.

use super::evidence::known_labelled;
use super::words;
use crate::line::{Line, LineKind, Purpose};
use crate::weigh::Weighed;
use larder::{Certainty, FoodId, Larder, Match};
use quantity::{Locale, Mass, Spread};
use std::ops::Range;

/// What an entry is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum What {
    /// A food of the larder.
    Food(FoodId),
    /// An ingredient the larder does not know.
    Unknown,
    /// A use of another component, whose own lines are screened.
    Part,
    /// A note or heading: only its words are looked at.
    Note,
    /// A line's words as pasted, where a decision stands over them: looked at with all their
    /// force, so that no decision makes a verdict better than the words.
    Pasted,
}

/// One ingredient to be screened, from a read line or from a reworked formula.
#[derive(Debug, Clone)]
pub struct Entry<'a> {
    /// Place of the component.
    pub component: usize,
    /// Place of the line in it.
    pub line: usize,
    /// Everything the line says. Entries of one line carry the same text.
    pub text: &'a str,
    /// The bytes that name this ingredient; empty where there are none.
    pub span: Range<usize>,
    /// What it is.
    pub what: What,
    /// How sure the food is.
    pub certainty: Certainty,
    /// Other foods the words could mean; of words as pasted, the foods that their line is judged by.
    pub rivals: Vec<FoodId>,
    /// Its words say it is bought labelled gluten-free.
    pub labelled_gluten_free: bool,
    /// Its weight.
    pub grams: Option<Spread<Mass>>,
    /// Part of the formula; false for dusting, greasing, serving.
    pub in_formula: bool,
    /// May be left out.
    pub optional: bool,
    /// Foods that may be taken instead.
    pub alternatives: &'a [FoodId],
    /// Names of what may be taken instead and the larder does not know.
    pub strangers: Vec<&'a str>,
}

impl<'a> Entry<'a> {
    /// A food in the formula, known for sure.
    #[must_use]
    pub fn new(text: &'a str, food: FoodId, grams: Option<Spread<Mass>>) -> Self {
        Self {
            component: 0,
            line: 0,
            text,
            span: 0..0,
            what: What::Food(food),
            certainty: Certainty::Sure,
            rivals: Vec::new(),
            labelled_gluten_free: false,
            grams,
            in_formula: true,
            optional: false,
            alternatives: &[],
            strangers: Vec::new(),
        }
    }

    /// The same entry, at a place in a recipe.
    #[must_use]
    pub fn at(mut self, component: usize, line: usize) -> Self {
        (self.component, self.line) = (component, line);
        self
    }

    /// The same entry, labelled gluten-free or not.
    #[must_use]
    pub fn labelled(mut self, labelled: bool) -> Self {
        self.labelled_gluten_free = labelled;
        self
    }

    /// The food, where it is one.
    #[must_use]
    pub fn food(&self) -> Option<FoodId> {
        match self.what {
            What::Food(f) => Some(f),
            _ => None,
        }
    }
}

fn note(component: usize, line: usize, text: &str) -> Entry<'_> {
    Entry {
        component,
        line,
        text,
        span: 0..0,
        what: What::Note,
        certainty: Certainty::Sure,
        rivals: Vec::new(),
        labelled_gluten_free: false,
        grams: None,
        in_formula: false,
        optional: false,
        alternatives: &[],
        strangers: Vec::new(),
    }
}

/// The entry of a line's words as pasted, where a decision stands over them. What its ingredients are now is
/// judged for itself, wherever it went.
pub(crate) fn pasted(component: usize, line: usize, read: &Line) -> Option<Entry<'_>> {
    let text = read.over.as_deref()?;
    let judged = read.items.iter().filter_map(|i| i.food.as_ref());
    Some(Entry {
        what: What::Pasted,
        rivals: judged.map(|m| m.food).collect(),
        ..note(component, line, text)
    })
}

/// Whether a line says that one of its ingredients is bought labelled gluten-free.
///
/// Stricter than the label words of [`larder::Qualities`]: 'gluten-free if needed', 'certified
/// organic' and the label of another ingredient on the line do not count.
///
/// # Arguments
/// * `line` — the line.
/// * `item` — the place of the ingredient on it.
#[must_use]
pub fn is_labelled(line: &Line, item: usize) -> bool {
    let Some(read) = line.items.get(item) else {
        return false;
    };
    let span = read
        .food
        .as_ref()
        .map_or_else(|| read.name.clone(), |m| m.span.clone());
    let from = if item == 0 { 0 } else { read.name.start };
    let to = line
        .items
        .get(item + 1)
        .map_or(line.clean.len(), |n| n.name.start.max(from));
    let breath = words::breath(&line.clean, &span);
    let within = from.max(breath.start)..to.min(breath.end);
    words::labelled(&line.clean, &span, &within)
}

/// Whether an ingredient is bought labelled gluten-free: its line says so, or the kitchen's
/// evidence about its food does.
pub(crate) fn is_bought_labelled(line: &Line, item: usize, larder: &Larder) -> bool {
    let by_evidence = |m: &Match| known_labelled(larder, m.food, m.certainty, m.rivals.is_empty());
    is_labelled(line, item)
        || line
            .items
            .get(item)
            .and_then(|i| i.food.as_ref())
            .is_some_and(by_evidence)
}

/// The entry with its label and its rivals put right by its own words: a caller may have taken
/// 'gluten-free if needed' for a label.
pub(super) fn checked<'a>(entry: &Entry<'a>, larder: &Larder, locale: Locale) -> Entry<'a> {
    let mut e = entry.clone();
    if words::unlabelled(e.text).is_some() {
        let span = if e.span.is_empty() {
            0..e.text.len()
        } else {
            e.span.clone()
        };
        e.labelled_gluten_free &= words::labelled(e.text, &span, &words::breath(e.text, &span));
        if let Some(food) = e.food()
            && !e.labelled_gluten_free
        {
            let own = e.text.get(words::breath(e.text, &span)).unwrap_or(e.text);
            e.rivals.extend(without_label(own, food, larder, locale));
        }
    }
    e
}

pub(super) fn line_entries<'a>(
    component: usize,
    place: usize,
    line: &'a Line,
    weighed: &[Weighed],
) -> Vec<Entry<'a>> {
    if line.kind != LineKind::Ingredient {
        return vec![note(component, place, &line.clean)];
    }
    let mut out = Vec::new();
    for (i, item) in line.items.iter().enumerate() {
        let found = item.food.as_ref();
        let span = found.map_or_else(|| item.name.clone(), |m| m.span.clone());
        let labelled = is_labelled(line, i);
        let base = Entry {
            component,
            line: place,
            text: &line.clean,
            span,
            what: found.map_or(What::Unknown, |m| What::Food(m.food)),
            certainty: found.map_or(Certainty::Sure, |m| m.certainty),
            rivals: found.map_or_else(Vec::new, |m| m.rivals.clone()),
            labelled_gluten_free: labelled,
            grams: None,
            in_formula: item.purpose == Purpose::Formula,
            optional: item.optional,
            alternatives: &item.alternatives,
            strangers: item.strangers.iter().map(|s| line.words(s)).collect(),
        };
        let mut any = false;
        for w in weighed.iter().filter(|w| w.line == place && w.item == i) {
            let mut entry = Entry {
                grams: w.grams,
                in_formula: w.in_formula,
                ..base.clone()
            };
            if w.component.is_some() {
                entry.what = What::Part;
            } else if any {
                // '3 eggs plus 1 yolk': the second food of one item, known by itself.
                entry.what = w.food.map_or(What::Unknown, What::Food);
                (entry.certainty, entry.rivals, entry.alternatives) =
                    (Certainty::Sure, Vec::new(), &[]);
                entry.labelled_gluten_free = false;
                entry.strangers.clear();
            }
            any = true;
            out.push(entry);
        }
        if !any {
            out.push(base);
        }
        for a in item.amounts.iter().filter_map(|a| a.of) {
            if !out.iter().any(|e| e.line == place && e.food() == Some(a)) {
                out.push(Entry {
                    line: place,
                    component,
                    ..Entry::new(&line.clean, a, None)
                });
            }
        }
    }
    if out.is_empty() {
        out.push(Entry {
            what: What::Unknown,
            ..note(component, place, &line.clean)
        });
    }
    out
}

/// The food a line names when its words about gluten-free are left out, if it is another one.
fn without_label(text: &str, food: FoodId, larder: &Larder, locale: Locale) -> Option<FoodId> {
    let plain = words::unlabelled(text)?;
    let other = larder.find(&plain, locale)?.food;
    (other != food).then_some(other)
}
