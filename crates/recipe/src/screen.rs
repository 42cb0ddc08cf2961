//! Screen: what a recipe's ingredients say about gluten and allergens.
//!
//! A gate, not a certificate. Every line counts, the dusting and the optional topping too; what
//! is not known is 'check the label', never free. Two looks at each line: the larder's judgement
//! of the food, and a search for words of gluten grain in everything the line says.

mod cooling;
mod core;
mod decided;
mod evidence;
mod judge;
mod method;
mod ppm;
mod words;

pub use ppm::{Portion, finished_ppm};

use crate::line::{Line, LineKind, Purpose};
use crate::weigh::{Formula, Weighed};
pub use core::core_cautions;
pub use evidence::on_the_label;
use evidence::{Known, known, known_labelled};
use judge::{Judged, KEEP, doubtful, has};
use larder::allergen::{Regime, declared, is_tree_nut, plain};
use larder::{
    Allergen, Certainty, CompositionRow, EvidenceKind, Food, FoodId, Function, Gluten, Larder,
    Match, PpmBasis,
};
use method::elsewhere;
use quantity::{Locale, Mass, Ratio, Spread};
use std::collections::BTreeMap;
use std::ops::Range;
use words::{Force, Hit};

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
    /// Other foods the words could mean.
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

/// The verdict on one ingredient.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Place of the component.
    pub component: usize,
    /// Place of the line in it.
    pub line: usize,
    /// The words it is about.
    pub words: String,
    /// The food; `None` when unknown or when only a word was found.
    pub food: Option<FoodId>,
    /// The verdict.
    pub verdict: Gluten,
    /// Why.
    pub reason: String,
    /// The line says it is bought labelled gluten-free.
    pub labelled: bool,
    /// Something is left to do before anything can be said: it contains gluten, or its label
    /// has still to be read.
    pub open: bool,
    /// What else must be known.
    pub note: Option<String>,
}

impl Finding {
    /// What was done about a line that only its label can tell of: that it was read and what it
    /// says, or that the line asks for a labelled product. `None` where something is left to do,
    /// and where there is nothing to read.
    #[must_use]
    pub fn settled(&self, larder: &Larder) -> Option<&'static str> {
        if self.verdict != Gluten::Check || self.open {
            return None;
        }
        let seen = self.food.and_then(|f| larder.own(f)?.gluten.as_ref());
        Some(match seen.map(|e| e.kind) {
            Some(EvidenceKind::Labelled) => "label says gluten-free",
            Some(EvidenceKind::Certificate) => "certificate seen",
            Some(EvidenceKind::Test { .. }) => "tested below 20 ppm",
            Some(EvidenceKind::NamesGluten) | None => "to buy labelled",
        })
    }
}

/// Gluten of the finished food: an estimate with bounds, never a proof of anything.
#[derive(Debug, Clone, PartialEq)]
pub struct PpmFinding {
    /// Lowest, mg/kg.
    pub low: f64,
    /// Highest, as the lines are written; `None` where no upper bound can be given.
    pub high: Option<f64>,
    /// Low and high if everything left to check were bought labelled gluten-free, each at most
    /// 20 mg/kg; `None` where gluten is in it or something cannot be weighed.
    pub if_labelled: Option<(f64, f64)>,
    /// What the figures rest on.
    pub basis: String,
    /// What stands against a bound, a sentence each.
    pub unknown: Vec<String>,
}

impl PpmFinding {
    /// The estimate in words.
    #[must_use]
    pub fn words(&self) -> String {
        let figure = match (self.high, self.if_labelled) {
            (Some(h), _) => format!("estimate: {} to {} ppm", short(self.low), short(h)),
            (None, Some((l, h))) => format!(
                "no upper bound as written; {} to {} ppm if everything to check is bought labelled gluten-free",
                short(l),
                short(h)
            ),
            (None, None) => "no figure".to_owned(),
        };
        let top = self.high.or(self.if_labelled.map(|(_, h)| h));
        let over = if top.is_some_and(|h| h >= LIMIT) {
            format!(
                "; that passes {LIMIT:.0} ppm, the limit of a gluten-free claim in the US, the EU and Codex"
            )
        } else {
            String::new()
        };
        format!("{figure}{over} ({})", self.basis)
    }
}

/// Below this (US) or at most this (EU, Codex) a food may be called gluten-free, mg/kg.
const LIMIT: f64 = 20.0;

/// A figure rounded up to a tenth: an upper bound must not be rounded down.
fn short(ppm: f64) -> String {
    let tenths = (ppm * 10.0 - 1e-9).ceil().max(0.0) / 10.0 + 0.0;
    if tenths.fract() == 0.0 {
        format!("{tenths:.0}")
    } else {
        format!("{tenths:.1}")
    }
}

/// An allergen and where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct AllergenFinding {
    /// The allergen.
    pub allergen: Allergen,
    /// It is in it; otherwise only a label can tell.
    pub certain: bool,
    /// Only in what may be left out or taken instead.
    pub if_used: bool,
    /// The foods, 'if used' and 'check the label' said where they apply.
    pub from: Vec<String>,
    /// Why it is counted where nothing but a label the kitchen read names it: 'named on the label
    /// of ground cinnamon'.
    pub label: Option<String>,
}

/// The allergen words of one body of law.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RegimeStatement {
    /// What is in it.
    pub contains: Vec<String>,
    /// What only labels can tell.
    pub check: Vec<String>,
    /// What the law's list leaves out, and how it wants things said.
    pub notes: Vec<String>,
}

/// A caution. All are usual advice: local rules and licensed practice come first.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Caution {
    /// Stable code.
    pub code: &'static str,
    /// The advice.
    pub text: &'static str,
    /// Where it comes from, and what that rests on.
    pub source: &'static str,
}

impl Caution {
    /// Whether it says how hot meat, poultry or fish gets in the middle.
    #[must_use]
    pub fn is_of_meat(&self) -> bool {
        core::ROWS.iter().any(|r| r.caution.code == self.code)
    }
}

/// What the screen found.
#[derive(Debug, Clone, PartialEq)]
pub struct Screening {
    /// A finding per ingredient, alternative and gluten word.
    pub findings: Vec<Finding>,
    /// The worst over everything.
    pub verdict: Gluten,
    /// Gluten of the finished food.
    pub ppm: PpmFinding,
    /// Allergens of all lines together.
    pub allergens: Vec<AllergenFinding>,
    /// Foods whose whole label must be read for allergens: compound or unknown.
    pub whole_labels: Vec<String>,
    /// Steps of the method, and notes outside the list, that name gluten which no line holds.
    pub method: Vec<String>,
    /// Cautions.
    pub cautions: Vec<Caution>,
    /// Nothing contains gluten and nothing is left to check, whatever the region: oats and
    /// wheat starch never pass here.
    pub can_say_gluten_free: bool,
}

impl Screening {
    /// Names of foods that are free by nature but milled or packed beside wheat, and not labelled.
    #[must_use]
    pub fn milled<'a>(&self, larder: &'a Larder) -> Vec<&'a str> {
        let mut names: Vec<&str> = self
            .findings
            .iter()
            .filter(|f| f.verdict == Gluten::Free && !f.labelled)
            .filter_map(|f| f.food)
            .map(|f| larder.food(f))
            .filter(|f| matches!(f.ppm, PpmBasis::Grain { .. }))
            .map(|f| f.name.as_str())
            .collect();
        names.sort_unstable();
        names.dedup();
        names
    }

    /// The verdict on everything, in words. 'Free by nature' would read as a clearance where
    /// something is milled or packed beside wheat; labels that were read, and lines that ask for a
    /// labelled product, are said to be that, no more.
    #[must_use]
    pub fn told(&self, larder: &Larder) -> &'static str {
        let settled = self.method.is_empty() && self.open().next().is_none();
        match (self.verdict, self.findings.as_slice()) {
            (Gluten::Free, [_]) if !self.milled(larder).is_empty() => "buy it labelled",
            (Gluten::Free, _) if !self.milled(larder).is_empty() => "buy milled foods labelled",
            // What one label says is the verdict on one food, never on all of a recipe.
            (Gluten::Check, [only]) if settled => {
                only.settled(larder).unwrap_or(self.verdict.words())
            }
            (Gluten::Check, _) if settled => "labels read, or to buy labelled",
            (verdict, _) => verdict.words(),
        }
    }

    /// The findings still to be dealt with.
    pub fn open(&self) -> impl Iterator<Item = &Finding> {
        self.findings.iter().filter(|f| f.open)
    }

    /// Takes in what stands outside the lines: gluten the method names, parts that were not read,
    /// egg or milk left out of the fridge. Gluten there is at best a thing to check, and nothing
    /// says how much of it goes in.
    pub(crate) fn mind_the_rest(&mut self, formula: &Formula, larder: &Larder) {
        let method = elsewhere(formula, larder);
        if !method.is_empty() {
            self.no_bound("gluten is named outside the ingredient list, and no line says how much of it goes in".to_owned());
        }
        for what in method::unread(formula) {
            self.no_bound(what);
        }
        self.method = method;
        self.cautions.extend(cooling::caution(formula, larder));
    }

    /// Something of unknown weight may hold gluten.
    fn no_bound(&mut self, why: String) {
        self.verdict = self.verdict.worse(Gluten::Check);
        self.can_say_gluten_free = false;
        (self.ppm.high, self.ppm.if_labelled) = (None, None);
        if !self.ppm.unknown.contains(&why) {
            self.ppm.unknown.push(why);
        }
    }

    /// The allergens that this has for certain and the other had not, with the foods that bring
    /// them: `sulphites (molasses)`.
    ///
    /// # Arguments
    /// * `before` — the screening of the recipe that this was made of.
    #[must_use]
    pub fn brought(&self, before: &Screening) -> Vec<String> {
        self.allergens
            .iter()
            .filter(|f| f.certain)
            .filter(|f| {
                !before
                    .allergens
                    .iter()
                    .any(|b| b.allergen == f.allergen && b.certain)
            })
            .map(|f| {
                let sure = f.from.iter().filter(|w| !w.contains("(check the label)"));
                let from: Vec<&str> = sure.map(String::as_str).collect();
                format!("{} ({})", plain(f.allergen), from.join(", "))
            })
            .collect()
    }

    /// The allergen words of a body of law.
    #[must_use]
    pub fn statement(&self, regime: Regime) -> RegimeStatement {
        let mut out = RegimeStatement::default();
        let add = |list: &mut Vec<String>, word: String| {
            if !list.contains(&word) {
                list.push(word);
            }
        };
        for f in &self.allergens {
            let name = plain(f.allergen);
            let Some(words) = declared(f.allergen, regime) else {
                out.notes.push(if matches!(f.allergen, Allergen::Rye | Allergen::Barley) {
                    format!("{name}: not on the allergen list of {}, but it holds gluten: see the gluten findings", regime.name())
                } else if f.allergen == Allergen::Oats {
                    format!("oats: not on the allergen list of {}; see the oats caution", regime.name())
                } else if is_tree_nut(f.allergen) {
                    format!("{name}: not on the allergen list of {}; named for readers who must leave it out ({})", regime.name(), f.from.join(", "))
                } else {
                    format!("{name}: not on the allergen list of {} ({})", regime.name(), f.from.join(", "))
                });
                continue;
            };
            let mut parts: Vec<&str> = words.split("; ").collect();
            if regime == Regime::Ca && f.allergen == Allergen::Wheat {
                parts.push("gluten (wheat)");
            }
            for part in parts {
                let if_used = if f.if_used { " (if used)" } else { "" };
                if let Some(label) = &f.label {
                    add(&mut out.contains, format!("{part}{if_used} ({label})"));
                } else if f.certain {
                    add(&mut out.contains, format!("{part}{if_used}"));
                } else {
                    add(
                        &mut out.check,
                        format!("{part}{if_used}: {}", f.from.join(", ")),
                    );
                }
            }
        }
        // 'wheat (if used)' says nothing beside 'wheat', nor does 'gluten (named on a label)'
        // beside 'gluten'.
        let sure = out.contains.clone();
        out.contains.retain(|w| {
            !sure.iter().any(|s| {
                w.strip_prefix(s.as_str())
                    .is_some_and(|rest| rest.starts_with(" ("))
            })
        });
        for food in &self.whole_labels {
            add(&mut out.check, format!("{food}: read its whole label"));
        }
        if regime == Regime::Us && self.cautions.iter().any(|c| c.code == "wheat_starch") {
            out.notes.push("a food that declares wheat and says gluten-free must also say that the wheat was processed to meet the FDA's rule (21 CFR 101.91)".to_owned());
        }
        if regime == Regime::Ca && self.allergens.iter().any(|a| a.allergen == Allergen::Oats) {
            out.notes.push(
                "specially produced gluten-free oats are named as such every time (SOR/2015-114)"
                    .to_owned(),
            );
        }
        out.notes.push(
            "a recipe is no label: whoever sells the food follows the label law of the place"
                .to_owned(),
        );
        out
    }
}

/// Screens a weighed formula: every line of every component, whatever it is for.
///
/// # Arguments
/// * `formula` — the recipe in grams; its lines' words are searched too, and its method's.
/// * `larder` — what foods are.
/// * `bake_loss` — part of the raw weight that the oven takes.
#[must_use]
pub fn screen(formula: &Formula, larder: &Larder, bake_loss: Option<Spread<Ratio>>) -> Screening {
    let mut entries = Vec::new();
    for (c, component) in formula.recipe.components.iter().enumerate() {
        let weighed = formula.components.get(c).map_or(&[][..], |w| &w.items);
        for (l, line) in component.lines.iter().enumerate() {
            entries.extend(line_entries(c, l, line, weighed));
            entries.extend(pasted(c, l, line));
        }
    }
    let mut out = screen_entries(&entries, larder, bake_loss, formula.locale);
    out.mind_the_rest(formula, larder);
    out
}

/// Screens ingredients that are not lines of a recipe: those of a reworked formula.
#[must_use]
pub fn lines<'a>(
    entries: impl IntoIterator<Item = Entry<'a>>,
    larder: &Larder,
    bake_loss: Option<Spread<Ratio>>,
) -> Screening {
    let entries: Vec<Entry<'a>> = entries.into_iter().collect();
    screen_entries(&entries, larder, bake_loss, larder.locale())
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
    }
}

/// The entry of a line's words as pasted, where a decision stands over them.
pub(crate) fn pasted(component: usize, line: usize, read: &Line) -> Option<Entry<'_>> {
    let text = read.over.as_deref()?;
    Some(Entry {
        what: What::Pasted,
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
fn checked<'a>(entry: &Entry<'a>, larder: &Larder, locale: Locale) -> Entry<'a> {
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

fn line_entries<'a>(
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

/// Allergens gathered, with the foods they come from.
#[derive(Default)]
struct Gathered {
    by: BTreeMap<Allergen, Vec<(String, bool, bool)>>,
    labels: BTreeMap<Allergen, Vec<String>>,
}

impl Gathered {
    fn add(&mut self, allergen: Allergen, from: &str, certain: bool, if_used: bool) {
        let list = self.by.entry(allergen).or_default();
        let new = (from.to_owned(), certain, if_used);
        if !list.contains(&new) {
            list.push(new);
        }
    }
    fn add_food(&mut self, food: &Food, cleared: bool, certain: bool, if_used: bool) {
        for (a, maybe) in &food.allergens {
            let grain = matches!(a, Allergen::Wheat | Allergen::Rye | Allergen::Barley);
            let gone = cleared && grain && food.key != "wheat_starch_gf";
            self.add(*a, &food.name, certain && !maybe && !gone, if_used);
        }
    }
    /// Gluten grain that the label of a food was seen to name.
    fn add_label(&mut self, larder: &Larder, id: FoodId, if_used: bool) {
        let food = larder.food(id);
        let (grains, why) = on_the_label(larder, id);
        for grain in grains {
            self.add(grain, &why, true, if_used);
            if !has(food, grain) {
                self.labels.entry(grain).or_default().push(why.clone());
            }
        }
    }
    /// What the name of a kitchen's own food says: a thing to look for on its label.
    fn add_kin(&mut self, larder: &Larder, id: FoodId, settled: bool, if_used: bool) {
        if !larder.own(id).is_some_and(|o| o.is_new()) {
            return;
        }
        for kin in larder.kin(id).iter().map(|k| larder.food(k.food)) {
            if settled && kin.gluten == Gluten::Contains {
                continue;
            }
            for (a, _) in &kin.allergens {
                if !has(larder.food(id), *a) {
                    self.add(*a, &larder.food(id).name, false, if_used);
                }
            }
        }
    }
    fn findings(self) -> Vec<AllergenFinding> {
        let labels = self.labels;
        self.by
            .into_iter()
            .map(|(allergen, list)| {
                let mut named = labels.get(&allergen).cloned().unwrap_or_default();
                named.dedup();
                let label = list
                    .iter()
                    .all(|(name, certain, _)| !certain || named.contains(name))
                    .then(|| named.join(", "))
                    .filter(|words| !words.is_empty());
                let certain = list.iter().any(|(_, c, _)| *c);
                let counts = |c: bool| !certain || c;
                let if_used = list
                    .iter()
                    .filter(|(_, c, _)| counts(*c))
                    .all(|(_, _, u)| *u);
                let from = list
                    .iter()
                    .map(|(name, c, used)| {
                        let mut s = name.clone();
                        if *used {
                            s.push_str(" (if used)");
                        }
                        if !c {
                            s.push_str(" (check the label)");
                        }
                        s
                    })
                    .collect();
                AllergenFinding {
                    allergen,
                    certain,
                    if_used,
                    from,
                    label,
                }
            })
            .collect()
    }
}

/// The range of ppm an ingredient can have, and what to say where it has no upper bound.
fn ppm_of(food: &Food, labelled: bool, sure: bool) -> (Option<f64>, Option<String>) {
    const LABELLED: f64 = 20.0;
    match food.ppm {
        PpmBasis::NoSource if sure => (Some(0.0), None),
        _ if labelled => (Some(LABELLED), None),
        PpmBasis::Grain {
            survey_max: Some(n),
        } => (
            None,
            Some(format!(
                "{}: no bound unless labelled; unlabelled samples went up to {n:.0} ppm",
                food.name
            )),
        ),
        PpmBasis::Grain { survey_max: None } => (
            None,
            Some(format!("{}: no bound unless labelled", food.name)),
        ),
        PpmBasis::Gluten => (None, Some(format!("{}: holds gluten", food.name))),
        PpmBasis::Label | PpmBasis::NoSource => (
            None,
            Some(format!("{}: only its label can tell", food.name)),
        ),
    }
}

/// The range of ppm with what the kitchen knows: a test bounds what it tested.
fn bound(food: &Food, known: &Known, labelled: bool, sure: bool) -> (Option<f64>, Option<String>) {
    if known.judged.verdict == Gluten::Contains {
        return (None, Some(format!("{}: holds gluten", food.name)));
    }
    match known.ppm {
        Some(ppm) => (Some(ppm), None),
        // What is doubtful of a food free by nature is not 0.
        None if known.judged.verdict == Gluten::Check
            && food.gluten == Gluten::Free
            && sure
            && !labelled =>
        {
            (
                None,
                Some(format!("{}: only its label can tell", food.name)),
            )
        }
        None => ppm_of(food, labelled || known.settled, sure),
    }
}

/// Foods whose glucose or dextrin may be made from wheat and is purified since.
const PURIFIED: [&str; 5] = [
    "glucose_syrup",
    "dextrose",
    "maltodextrin",
    "dextrin",
    "caramel_colour",
];

fn screen_entries(
    entries: &[Entry<'_>],
    larder: &Larder,
    bake_loss: Option<Spread<Ratio>>,
    locale: Locale,
) -> Screening {
    let entries: Vec<Entry<'_>> = entries.iter().map(|e| checked(e, larder, locale)).collect();
    let entries = entries.as_slice();
    let mut findings: Vec<Finding> = Vec::new();
    let mut allergens = Gathered::default();
    let mut whole_labels: Vec<String> = Vec::new();
    let mut sum = Sum::default();
    let mut seen = Seen::default();
    for e in entries {
        let named = e.text.get(e.span.clone()).unwrap_or_default();
        let words = if named.is_empty() { e.text } else { named };
        let mut push = |words: &str, food, labelled: bool, j: Judged| {
            let mut note = j.note;
            if e.optional {
                note = Some(note.map_or("optional".to_owned(), |n| format!("optional; {n}")));
            }
            findings.push(Finding {
                component: e.component,
                line: e.line,
                words: words.to_owned(),
                food,
                verdict: j.verdict,
                reason: j.reason,
                labelled,
                open: j.open,
                note,
            });
        };
        match e.what {
            What::Note | What::Part | What::Pasted => continue,
            What::Unknown => {
                let inside: Vec<(&Food, &str)> = larder
                    .names()
                    .mentions(words, locale)
                    .into_iter()
                    .map(|(id, span)| (larder.food(id), &words[span]))
                    .collect();
                let carrier = inside.iter().find(|(f, _)| f.gluten == Gluten::Contains);
                let reason = match carrier {
                    _ if e.labelled_gluten_free => {
                        format!("not in the larder: check the label; {KEEP}")
                    }
                    Some((food, named)) => format!(
                        "not in the larder, and its name holds '{named}' ({}): take it to hold gluten until its label says otherwise",
                        food.gluten_reason
                    ),
                    None => "not in the larder: check the label".to_owned(),
                };
                // What its name holds may be in it: a thing to look for on its label.
                for (a, _) in inside.iter().flat_map(|(f, _)| &f.allergens) {
                    allergens.add(*a, words.trim(), false, e.optional);
                }
                push(
                    words,
                    None,
                    e.labelled_gluten_free,
                    Judged {
                        verdict: Gluten::Check,
                        reason,
                        open: true,
                        note: None,
                        cleared: false,
                    },
                );
                whole_labels.push(words.trim().to_owned());
                seen.words(words);
                sum.add(
                    e,
                    None,
                    Some(format!("{}: not in the larder", words.trim())),
                );
            }
            What::Food(id) => {
                let food = larder.food(id);
                let sure = e.certainty == Certainty::Sure;
                let alone = e.rivals.is_empty();
                let labelled =
                    e.labelled_gluten_free || known_labelled(larder, id, e.certainty, alone);
                let known_of = known(larder, id, e.certainty, e.labelled_gluten_free, alone);
                let (high, why) = bound(food, &known_of, e.labelled_gluten_free, sure && alone);
                sum.test(known_of.test);
                allergens.add_kin(larder, id, known_of.settled, e.optional);
                let mut j = known_of.judged;
                if j.verdict == Gluten::Free
                    && let Some(why) = doubtful(food, e.text, &e.span)
                {
                    (j.verdict, j.reason, j.open) =
                        (Gluten::Check, why.to_owned(), !e.labelled_gluten_free);
                    if !e.labelled_gluten_free {
                        sum.no_bound(Some(format!("{}: {why}", food.name)));
                    }
                }
                for r in &e.rivals {
                    let rival = larder.food(*r);
                    let other =
                        known(larder, *r, e.certainty, e.labelled_gluten_free, false).judged;
                    if other.verdict < j.verdict {
                        j.reason = format!("the name also fits {}: {}", rival.name, other.reason);
                        j.verdict = other.verdict;
                        j.open |= other.open;
                    }
                    allergens.add_food(rival, other.cleared, false, e.optional);
                    allergens.add_label(larder, *r, e.optional);
                    seen.food(rival);
                }
                // A name known in part still brings its food's allergens: rather one too many.
                allergens.add_food(food, j.cleared, e.certainty != Certainty::Near, e.optional);
                allergens.add_label(larder, id, e.optional);
                seen.food(food);
                if !sure {
                    seen.words(words);
                }
                if compound(larder, id) || !sure {
                    whole_labels.push(food.name.clone());
                }
                sum.add(e, high, why);
                sum.gluten |= j.verdict == Gluten::Contains;
                push(words, Some(id), labelled, j);
            }
        }
        for alt in e.alternatives {
            let food = larder.food(*alt);
            // Its own words are not known here, so only the kitchen's evidence can say how it is
            // bought.
            let known_of = known(larder, *alt, Certainty::Sure, false, true);
            let (high, why) = bound(food, &known_of, false, true);
            sum.test(known_of.test);
            allergens.add_kin(larder, *alt, known_of.settled, true);
            let mut j = known_of.judged;
            j.note = Some(j.note.map_or("if used instead".to_owned(), |n| {
                format!("if used instead; {n}")
            }));
            allergens.add_food(food, false, true, true);
            allergens.add_label(larder, *alt, true);
            seen.food(food);
            if compound(larder, *alt) {
                whole_labels.push(food.name.clone());
            }
            if high.is_none() {
                sum.no_bound(why);
            }
            sum.gluten |= j.verdict == Gluten::Contains;
            let open = j.open;
            findings.push(Finding {
                component: e.component,
                line: e.line,
                words: format!("or {}", food.name),
                food: Some(*alt),
                verdict: j.verdict,
                reason: j.reason,
                labelled: known_labelled(larder, *alt, Certainty::Sure, true),
                open,
                note: j.note,
            });
        }
    }
    search_words(
        entries,
        larder,
        locale,
        &mut findings,
        &mut allergens,
        &mut sum,
    );
    for e in entries.iter().filter(|e| e.what == What::Pasted) {
        let here: Vec<FoodId> = entries
            .iter()
            .filter(|o| (o.component, o.line) == (e.component, e.line))
            .flat_map(|o| o.food().into_iter().chain(o.alternatives.iter().copied()))
            .collect();
        for (verdict, finding, allergen) in decided::search(e, &here, &findings, larder, locale) {
            for (a, from) in allergen {
                allergens.add(a, &from, verdict == Gluten::Contains, false);
            }
            match verdict {
                Gluten::Contains => sum.gluten = true,
                _ => sum.no_bound(Some(format!("'{}': only a label can tell", finding.words))),
            }
            findings.push(finding);
        }
    }
    let verdict = findings
        .iter()
        .map(|f| f.verdict)
        .min()
        .unwrap_or(Gluten::Check);
    let can_say_gluten_free = !findings.is_empty()
        && verdict != Gluten::Contains
        && !findings.iter().any(|f| f.open)
        && entries.iter().any(|e| e.food().is_some());
    let mut unique = Vec::new();
    for l in whole_labels {
        if !unique.contains(&l) {
            unique.push(l);
        }
    }
    Screening {
        ppm: sum.finish(bake_loss),
        findings,
        verdict,
        allergens: allergens.findings(),
        whole_labels: unique,
        method: Vec::new(),
        cautions: seen.cautions(),
        can_say_gluten_free,
    }
}

/// Compound foods, whose allergens differ from maker to maker, and the kitchen's own foods
/// without a list of theirs.
pub(crate) fn compound(larder: &Larder, id: FoodId) -> bool {
    if let Some(own) = larder.own(id).filter(|o| o.is_new()) {
        return own.allergens.is_empty();
    }
    let food = larder.food(id);
    food.composition == CompositionRow::Label || food.does(Function::Prepared)
}

/// The second look: words of gluten grain in a line that no finding calls by its name yet.
fn search_words(
    entries: &[Entry<'_>],
    larder: &Larder,
    locale: Locale,
    findings: &mut Vec<Finding>,
    allergens: &mut Gathered,
    sum: &mut Sum,
) {
    let mut done: Vec<(usize, usize, &str)> = Vec::new();
    for e in entries.iter().filter(|e| e.what != What::Pasted) {
        if done.contains(&(e.component, e.line, e.text)) {
            continue;
        }
        done.push((e.component, e.line, e.text));
        let same: Vec<&Entry<'_>> = entries
            .iter()
            .filter(|o| (o.component, o.line, o.text) == (e.component, e.line, e.text))
            .filter(|o| o.what != What::Pasted)
            .collect();
        let note = same.iter().all(|o| o.what == What::Note);
        // A line that holds gluten needs no second word for it; another grain is an allergen of
        // its own.
        let contains = !note
            && findings.iter().any(|f| {
                (f.component, f.line) == (e.component, e.line) && f.verdict == Gluten::Contains
            });
        let mut grains: Vec<Allergen> = findings
            .iter()
            .filter(|f| (f.component, f.line) == (e.component, e.line))
            .filter_map(|f| f.food)
            .flat_map(|f| &larder.food(f).allergens)
            .map(|(a, _)| *a)
            .collect();
        // Words inside the sure name of a food are the larder's business.
        let known: Vec<Range<usize>> = same
            .iter()
            .filter(|o| o.certainty == Certainty::Sure)
            .filter_map(|o| {
                let food = o.food()?;
                if !o.span.is_empty() {
                    return Some(o.span.clone());
                }
                let m = larder.find(o.text, locale)?;
                (m.food == food && m.certainty == Certainty::Sure).then_some(m.span)
            })
            .collect();
        let flour = same
            .iter()
            .any(|o| o.food().is_some_and(|f| larder.food(f).is_flour_phase()));
        let purified = same.iter().any(|o| {
            o.food()
                .is_some_and(|f| PURIFIED.contains(&larder.food(f).key.as_str()))
        });
        let mut hits: Vec<Hit> = words::scan(e.text)
            .into_iter()
            .filter(|h| {
                !known
                    .iter()
                    .any(|k| k.start <= h.span.start && h.span.end <= k.end)
            })
            .collect();
        hits.sort_by_key(|h| h.force != Force::Contains);
        for h in hits {
            let told = contains
                || !note
                    && findings.iter().any(|f| {
                        (f.component, f.line) == (e.component, e.line)
                            && f.verdict == Gluten::Contains
                    });
            let other = h.force == Force::Contains
                && !h.sold_free
                && h.allergen.is_some_and(|a| !grains.contains(&a));
            if told && !other {
                continue;
            }
            grains.extend(h.allergen);
            let breath = words::breath(e.text, &h.span);
            let labelled = h.sold_free && words::labelled(e.text, &h.span, &breath);
            let (verdict, reason) = match h.force {
                _ if note => (
                    Gluten::Check,
                    format!(
                        "a note names '{}', which holds gluten: see what is meant",
                        h.word
                    ),
                ),
                Force::Contains if labelled => (Gluten::Check, format!("'{}': {KEEP}", h.word)),
                Force::Contains if purified => (
                    Gluten::Check,
                    format!("made from {}, purified since: check the label", h.word),
                ),
                Force::Contains => (
                    Gluten::Contains,
                    format!("the line says '{}', which holds gluten", h.word),
                ),
                Force::Check => (
                    Gluten::Check,
                    format!("the line says '{}': check the label", h.word),
                ),
                Force::BareFlour if labelled => continue,
                Force::BareFlour if flour => (
                    Gluten::Check,
                    "'flour' without its kind is wheat flour: say which is meant".to_owned(),
                ),
                Force::BareFlour => (
                    Gluten::Contains,
                    "the line says 'flour' without its kind, which is wheat flour".to_owned(),
                ),
            };
            if let Some(a) = h.allergen
                && !note
            {
                allergens.add(
                    a,
                    &format!("'{}' on the line", h.word),
                    verdict == Gluten::Contains || purified,
                    false,
                );
            }
            match verdict {
                Gluten::Contains => sum.gluten = true,
                _ if note => sum.unweighed_note(&h.word),
                _ if labelled => {}
                _ => sum.no_bound(Some(format!("'{}': only a label can tell", h.word))),
            }
            findings.push(Finding {
                component: e.component,
                line: e.line,
                words: h.word,
                food: None,
                verdict,
                reason,
                labelled,
                open: !(labelled && h.sold_free && h.force == Force::Contains && !note),
                note: None,
            });
        }
        if note
            && let Some(m) = larder.find(e.text, locale)
            && larder.food(m.food).gluten == Gluten::Contains
        {
            let named = e.text.get(m.span.clone()).unwrap_or_default();
            let labelled = words::labelled(e.text, &m.span, &words::breath(e.text, &m.span));
            if !labelled {
                sum.unweighed_note(named);
                findings.push(Finding {
                    component: e.component,
                    line: e.line,
                    words: named.to_owned(),
                    food: Some(m.food),
                    verdict: Gluten::Check,
                    reason: format!(
                        "a note names {}, which holds gluten: see what is meant",
                        larder.food(m.food).name
                    ),
                    labelled,
                    open: true,
                    note: None,
                });
            }
        }
    }
}

/// The sum behind the ppm estimate.
#[derive(Default)]
struct Sum {
    written: Vec<Portion>,
    labelled: Vec<Portion>,
    unknown: Vec<String>,
    tests: Vec<String>,
    unweighed: bool,
    unbounded: bool,
    gluten: bool,
}

impl Sum {
    fn no_bound(&mut self, why: Option<String>) {
        self.unbounded = true;
        if let Some(why) = why
            && !self.unknown.contains(&why)
        {
            self.unknown.push(why);
        }
    }
    /// A note names gluten: nothing says how much of it goes in.
    fn unweighed_note(&mut self, word: &str) {
        self.unweighed = true;
        self.no_bound(Some(format!(
            "a note names '{word}', and no line says how much of it goes in"
        )));
    }
    /// Keeps in words what a bound rests on.
    fn test(&mut self, test: Option<String>) {
        self.tests.extend(
            test.filter(|t| !self.tests.contains(t))
                .into_iter()
                .collect::<Vec<_>>(),
        );
    }
    fn add(&mut self, e: &Entry<'_>, high: Option<f64>, why: Option<String>) {
        if high.is_none() {
            self.no_bound(why);
        }
        let Some(mut grams) = e.grams else {
            if high != Some(0.0) {
                self.unweighed = true;
                let named = e
                    .text
                    .get(e.span.clone())
                    .filter(|s| !s.is_empty())
                    .unwrap_or(e.text);
                self.no_bound(Some(format!("{}: no weight", named.trim())));
            }
            return;
        };
        // What may be left out, and what may or may not stick, counts from nothing to all.
        if !e.in_formula || e.optional {
            grams = Spread::new(Mass::grams(0.0), grams.likely(), grams.high());
        }
        self.written.push(Portion {
            grams,
            low: 0.0,
            high,
        });
        self.labelled.push(Portion {
            grams,
            low: 0.0,
            high: Some(high.unwrap_or(20.0)),
        });
    }
    fn finish(self, loss: Option<Spread<Ratio>>) -> PpmFinding {
        if self.gluten {
            return PpmFinding {
                low: 0.0,
                high: None,
                if_labelled: None,
                basis: "contains gluten: no figure; it fails at any amount".to_owned(),
                unknown: self.unknown,
            };
        }
        let (low, high) = finished_ppm(&self.written, loss);
        let (l, h) = finished_ppm(&self.labelled, loss);
        let mut basis = match loss {
            Some(x) => format!(
                "sum of ingredients as bounds over the baked weight, bake loss {:.0} to {:.0} %; heat takes no gluten away; not a test and no proof of compliance",
                x.low().get() * 100.0,
                x.high().get() * 100.0
            ),
            None => "sum of ingredients as bounds over the raw weight, no bake loss given; baking dry raises it; not a test and no proof of compliance".to_owned(),
        };
        for test in &self.tests {
            basis.push_str("; ");
            basis.push_str(test);
        }
        PpmFinding {
            low,
            high: high.filter(|_| !self.unbounded && !self.written.is_empty()),
            if_labelled: h
                .map(|h| (l, h))
                .filter(|_| !self.unweighed && !self.written.is_empty()),
            basis,
            unknown: self.unknown,
        }
    }
}

/// What calls for a caution.
#[derive(Default)]
struct Seen {
    oats: bool,
    flour: bool,
    egg: bool,
    fermented: bool,
    wheat_starch: bool,
    honey: bool,
    psyllium: bool,
    core: BTreeMap<&'static str, Caution>,
}

/// Fermented or hydrolysed foods made, or sometimes made, with gluten grain.
const FERMENTED: [&str; 26] = [
    "soy_sauce",
    "tamari",
    "tamari_gluten_free",
    "miso",
    "barley_miso",
    "hoisin_sauce",
    "oyster_sauce",
    "teriyaki_sauce",
    "worcestershire_sauce",
    "fish_sauce",
    "malt_vinegar",
    "rice_vinegar",
    "beer",
    "stout",
    "gluten_free_beer",
    "sourdough_starter",
    "rye_sourdough_starter",
    "gluten_free_sourdough_starter",
    "yeast_extract",
    "brewers_yeast",
    "hydrolysed_wheat_protein",
    "vegetable_protein",
    "malt_syrup",
    "dry_malt_extract",
    "rice_syrup",
    "blue_cheese",
];

impl Seen {
    /// Takes in what an ingredient is called, where the larder is not sure of it.
    fn words(&mut self, words: &str) {
        let said = core_cautions(None, words);
        self.core.extend(said.into_iter().map(|c| (c.code, c)));
    }
    fn food(&mut self, food: &Food) {
        let key = food.key.as_str();
        let said = core_cautions(Some(food), &food.name);
        self.core.extend(said.into_iter().map(|c| (c.code, c)));
        self.oats |= has(food, Allergen::Oats);
        self.flour |= food.is_flour_phase();
        self.egg |= food.does(Function::Egg) && has(food, Allergen::Egg);
        self.fermented |= FERMENTED.contains(&key);
        self.wheat_starch |= key == "wheat_starch_gf";
        self.honey |= key == "honey";
        self.psyllium |= key.starts_with("psyllium");
    }

    fn cautions(&self) -> Vec<Caution> {
        let all = [
            (
                true,
                Caution {
                    code: "cross_contact",
                    text: "A kitchen that also holds wheat can put gluten into any recipe: wash tools and bench with soap and water, bake the gluten-free batch first, keep flour sacks, sieve, wooden spoon, rolling pin and toaster apart. This recipe's words cannot know your kitchen or your ingredients. Usual advice: a clinician's or dietitian's word and local rules come first.",
                    source: "Weisbrod et al. 2020 on shared tools (seen); the rest common practice, no source",
                },
            ),
            (
                self.oats,
                Caution {
                    code: "oats",
                    text: "Only oats labelled gluten-free. Most coeliacs tolerate them, not all: ask whoever treats you first. Australia and New Zealand do not allow oats as gluten-free.",
                    source: "Codex CXS 118-1979, EU 828/2014, SOR/2015-114, Standard 1.2.7 (seen)",
                },
            ),
            (
                self.flour,
                Caution {
                    code: "raw_flour",
                    text: "Flour is raw, rice and oat flour too: do not taste raw dough or batter, and wash hands and bowls after it. Usual advice; local rules come first.",
                    source: "FDA and CDC notices on raw flour (seen)",
                },
            ),
            (
                self.egg,
                Caution {
                    code: "raw_egg",
                    text: "Do not taste raw batter with egg in it. Where egg stays uncooked, use pasteurised egg or heat it to 71 °C (160 °F). Usual advice; local rules come first.",
                    source: "FDA and USDA consumer advice, egg dishes 160 °F (seen)",
                },
            ),
            (
                self.fermented,
                Caution {
                    code: "fermented",
                    text: "No test measures gluten reliably in fermented or hydrolysed foods: go by the label and by what went in before, never by a figure.",
                    source: "85 FR 49240, 13 August 2020 (seen)",
                },
            ),
            (
                self.wheat_starch,
                Caution {
                    code: "wheat_starch",
                    text: "Gluten-free wheat starch is still wheat: never for a wheat allergy, and not gluten-free in Australia or New Zealand. Only a lot labelled gluten-free will do.",
                    source: "78 FR 47154, 5 August 2013; Standard 1.2.7 (seen)",
                },
            ),
            (
                self.honey,
                Caution {
                    code: "honey",
                    text: "No honey for a child under 12 months, baked or not. Usual advice; local rules come first.",
                    source: "INSPQ, Québec (seen)",
                },
            ),
            (
                self.psyllium,
                Caution {
                    code: "psyllium",
                    text: "Mix psyllium with enough liquid before anyone swallows it: dry, it swells and can choke.",
                    source: "21 CFR 101.17(f), from memory",
                },
            ),
        ];
        all.into_iter()
            .filter(|(here, _)| *here)
            .map(|(_, c)| c)
            .chain(self.core.values().copied())
            .collect()
    }
}
