//! Screen: what a recipe's ingredients say about gluten and allergens.
//!
//! A gate, not a certificate. Every line counts, the dusting and the optional topping too; what
//! is not known is 'check the label', never free. Two looks at each line: the larder's judgement
//! of the food, and a search for words of gluten grain in everything the line says.

mod allergens;
mod beside;
mod cautions;
mod cooling;
mod core;
mod decided;
mod eaten;
mod entry;
mod evidence;
mod heads;
mod judge;
mod maker;
mod method;
mod ppm;
mod raw_fish;
mod second;
mod stove;
mod sum;
mod words;

pub use allergens::{AllergenFinding, RegimeStatement};
pub use cautions::Caution;
pub use entry::{Entry, What, is_labelled};
pub(crate) use entry::{is_bought_labelled, pasted};
pub use ppm::{Portion, finished_ppm};
pub use sum::PpmFinding;

use crate::read::{Held, Original, is_fillet, named_only};
use crate::weigh::Formula;
use allergens::Gathered;
use cautions::Seen;
pub use core::core_cautions;
use entry::{checked, line_entries};
pub use evidence::on_the_label;
use evidence::{known, known_labelled, reads_free};
use judge::{Judged, KEEP, doubtful, is_oats};
use larder::allergen::{Regime, declared, is_tree_nut, plain};
use larder::{
    Allergen, Certainty, CompositionRow, EvidenceKind, FoodId, Function, Gluten, Larder, PpmBasis,
};
use method::elsewhere;
use quantity::{Locale, Ratio, Spread};
use sum::{Sum, bound};

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

/// What is said of a food that no line holds and only its label can tell of.
const NAMED: &str = "is named in the method, on no line: only its label can tell";

/// What the reason of a food that the larder does not know begins with.
const UNKNOWN: &str = "not in the larder";

impl Finding {
    /// Whether the larder does not know the food, so that nothing but putting it there settles it.
    #[must_use]
    pub fn is_unknown(&self) -> bool {
        self.food.is_none() && self.reason.starts_with(UNKNOWN)
    }

    /// Whether it is of oats whose label was read and says gluten-free: nothing is left to read, and they stay open
    /// for the claim, as not every region and not every coeliac takes them.
    fn is_of_read_oats(&self, larder: &Larder) -> bool {
        let read = |f| is_oats(larder.food(f)) && reads_free(larder, f);
        self.food.is_some_and(read)
    }

    /// What was done about a line that only its label can tell of: that it was read and what it
    /// says, or that the line asks for a labelled product. `None` where something is left to do,
    /// and where there is nothing to read.
    #[must_use]
    pub fn settled(&self, larder: &Larder) -> Option<&'static str> {
        if self.verdict != Gluten::Check || self.open && !self.is_of_read_oats(larder) {
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
    /// Compound foods whose whole label was read, with the law that it follows.
    pub read_through: Vec<(String, Regime)>,
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
        let named = self.ppm.unknown.iter().any(|why| why.ends_with(NAMED));
        let settled = !named && self.method.is_empty() && self.open().next().is_none();
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
    ///
    /// # Arguments
    /// * `held` — what the lines hold, where it is not what the formula's lines do.
    pub(crate) fn mind_the_rest(
        &mut self,
        formula: &Formula,
        held: Option<&Held<'_>>,
        larder: &Larder,
    ) {
        let original = Original::of(&formula.recipe, larder, formula.locale);
        let held = held.unwrap_or(&original.held);
        let method = elsewhere(&formula.recipe, held, &original, larder, formula.locale);
        if method.iter().any(|m| m.unknown) {
            self.no_bound("a name that the larder does not know stands outside the ingredient list: only its label can tell".to_owned());
        }
        if method.iter().any(|m| !m.unknown) {
            self.no_bound("gluten is named outside the ingredient list, and no line says how much of it goes in".to_owned());
        }
        for what in method::unread(formula) {
            self.no_bound(what);
        }
        for named in &method {
            for a in &named.allergens {
                self.may_bring(*a, &named.from);
            }
        }
        self.method = method.into_iter().map(|n| n.says).collect();
        self.name_foods(formula, held, &original, larder);
        self.allergens.sort_by_key(|f| f.allergen);
        self.cautions.extend(cooling::caution(formula, larder));
        self.cautions.extend(cooling::cooked(formula, larder));
        self.cautions.extend(raw_fish::caution(formula, larder));
        self.cautions.extend(stove::cautions(formula));
    }

    /// Allergens and labels of foods that only the method or a note names: 'brush with beaten egg'.
    /// What is known to be in it already is no news.
    fn name_foods(
        &mut self,
        formula: &Formula,
        held: &Held<'_>,
        original: &Original<'_>,
        larder: &Larder,
    ) {
        let mut seen = Seen::default();
        for named in named_only(&formula.recipe, held, original, larder, formula.locale) {
            let food = larder.food(named.food);
            if food.gluten == Gluten::Check {
                self.whole_labels.push(named.words.clone());
                self.no_bound(format!("'{}' {NAMED}", named.words));
            }
            let place = named
                .step
                .map_or("a note or the title".to_owned(), |n| format!("step {n}"));
            let from = format!("'{}' named in {place}, on no line", named.words);
            for (a, _) in &food.allergens {
                if !larder.is_not_named(named.food, *a) {
                    self.may_bring(*a, &from);
                }
            }
            seen.food(food);
        }
        for c in seen.cautions() {
            if !self.cautions.iter().any(|have| have.code == c.code) {
                self.cautions.push(c);
            }
        }
    }

    /// An allergen that something outside the lines may bring: to be checked, unless it is in for certain
    /// already.
    fn may_bring(&mut self, allergen: Allergen, from: &str) {
        let known = self.allergens.iter_mut().find(|f| f.allergen == allergen);
        match known {
            Some(f) if f.certain || f.from.iter().any(|had| had == from) => {}
            Some(f) => f.from.push(from.to_owned()),
            None => self.allergens.push(AllergenFinding {
                allergen,
                certain: false,
                if_used: false,
                from: vec![from.to_owned()],
                label: None,
            }),
        }
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

    /// The allergens that this has for certain and the other had no word of, with the foods that bring
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
                let mut had = before.allergens.iter();
                !had.any(|b| b.allergen == f.allergen)
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
        let the = the_before(regime);
        let off = format!("not on the allergen list of {the}{}", regime.name());
        for f in &self.allergens {
            let name = plain(f.allergen);
            let Some(words) = declared(f.allergen, regime) else {
                out.notes
                    .push(if matches!(f.allergen, Allergen::Rye | Allergen::Barley) {
                        format!("{name}: {off}, but it holds gluten: see the gluten findings")
                    } else if f.allergen == Allergen::Oats {
                        format!("oats: {off}; see the oats caution")
                    } else if is_tree_nut(f.allergen) {
                        format!(
                            "{name}: {off}; named for readers who must leave it out, in {}",
                            f.from.join(", ")
                        )
                    } else {
                        format!("{name}: {off}, in {}", f.from.join(", "))
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
        for (food, law) in &self.read_through {
            let unnamed: Vec<&str> = law.leaves_out(regime).into_iter().map(plain).collect();
            if !unnamed.is_empty() && !self.whole_labels.contains(food) {
                let (the, law, unnamed) = (the_before(*law), law.name(), unnamed.join(", "));
                add(
                    &mut out.check,
                    format!("{food}: a label by the law of {the}{law} need not name {unnamed}"),
                );
            }
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

/// The article before a law's place.
fn the_before(regime: Regime) -> &'static str {
    match regime {
        Regime::Us | Regime::Eu => "the ",
        Regime::Ca | Regime::Anz => "",
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
    out.mind_the_rest(formula, None, larder);
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

/// A note without its first sentence, where that is of a dough with yeast.
fn without_yeast(note: String) -> Option<String> {
    if !note.starts_with("In yeast dough") {
        return Some(note);
    }
    let (_, rest) = note.split_once('.')?;
    let rest = rest.trim_start_matches([';', ' ']);
    (!rest.is_empty()).then(|| rest.to_owned())
}

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
    let mut whole_labels: Vec<(String, Option<Regime>)> = Vec::new();
    let read_by = |id: FoodId| larder.read_through(id);
    let mut sum = Sum::default();
    let mut seen = Seen::default();
    let yeasted = |component: usize| {
        entries.iter().any(|e| match e.what {
            What::Food(food) => e.component == component && larder.food(food).does(Function::Yeast),
            _ => false,
        })
    };
    for e in entries {
        let named = e.text.get(e.span.clone()).unwrap_or_default();
        let words = if named.is_empty() { e.text } else { named };
        let mut push = |words: &str, food, labelled: bool, j: Judged| {
            // What is said of yeast is for a part with yeast in it.
            let mut note = match j.note {
                Some(n) if !yeasted(e.component) => without_yeast(n),
                n => n,
            };
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
                let (reason, inside) = unknown(words, e.labelled_gluten_free, larder, locale);
                // What its name holds may be in it: a thing to look for on its label.
                for a in inside {
                    allergens.add(a, words.trim(), false, e.optional);
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
                whole_labels.push((words.trim().to_owned(), None));
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
                if sure && alone {
                    allergens.add_sure(larder, id, j.cleared, e.optional);
                } else {
                    let certain = e.certainty != Certainty::Near;
                    allergens.add_food(food, j.cleared, certain, e.optional);
                }
                allergens.add_label(larder, id, e.optional);
                seen.food(food);
                if !sure {
                    seen.words(words);
                }
                if compound(larder, id) || !sure {
                    whole_labels.push((food.name.clone(), read_by(id).filter(|_| sure && alone)));
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
            allergens.add_sure(larder, *alt, false, true);
            allergens.add_label(larder, *alt, true);
            seen.food(food);
            if compound(larder, *alt) {
                whole_labels.push((food.name.clone(), read_by(*alt)));
            }
            sum.or_instead(e, high, why);
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
        for named in &e.strangers {
            let (reason, inside) = unknown(named, false, larder, locale);
            for a in inside {
                allergens.add(a, named, false, true);
            }
            whole_labels.push(((*named).to_owned(), None));
            seen.words(named);
            sum.or_instead(e, None, Some(format!("{named}: not in the larder")));
            findings.push(Finding {
                component: e.component,
                line: e.line,
                words: format!("or {named}"),
                food: None,
                verdict: Gluten::Check,
                reason,
                labelled: false,
                open: true,
                note: Some("if used instead".to_owned()),
            });
        }
    }
    second::look(
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
            .chain(e.rivals.iter().copied())
            .collect();
        for named in decided::search(e, &here, &findings, larder, locale) {
            let contains = named.verdict == Gluten::Contains;
            for (a, from) in named.allergens {
                allergens.add(a, &from, contains, false);
            }
            let Some(finding) = named.finding else {
                continue;
            };
            if contains {
                sum.gluten = true;
            } else {
                sum.no_bound(Some(format!("'{}': only a label can tell", finding.words)));
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
    let (mut unread, mut read_through) = (Vec::new(), Vec::new());
    for (food, law) in whole_labels {
        match law {
            Some(law) if !read_through.contains(&(food.clone(), law)) => {
                read_through.push((food, law))
            }
            None if !unread.contains(&food) => unread.push(food),
            _ => {}
        }
    }
    Screening {
        ppm: sum.finish(bake_loss),
        findings,
        verdict,
        allergens: allergens.findings(),
        whole_labels: unread,
        read_through,
        method: Vec::new(),
        cautions: seen.cautions(),
        can_say_gluten_free,
    }
}

/// Why a name that the larder does not know is a thing to check, and the allergens that its words name.
fn unknown(
    words: &str,
    labelled: bool,
    larder: &Larder,
    locale: Locale,
) -> (String, Vec<Allergen>) {
    let inside = larder.names().mentions(words, locale);
    let food = |(id, span): &(FoodId, std::ops::Range<usize>)| (larder.food(*id), span.clone());
    let mut carriers = inside.iter().map(food);
    let carrier = carriers.find(|(f, _)| f.gluten == Gluten::Contains);
    let reason = match carrier {
        _ if labelled => format!("{UNKNOWN}: check the label; {KEEP}"),
        Some((food, named)) => format!(
            "{UNKNOWN}, and its name holds '{}' ({}): take it to hold gluten until its label says otherwise",
            &words[named], food.gluten_reason
        ),
        None if is_fillet(words) => format!(
            "{UNKNOWN}, and may be fish: check the label, and write which fish or meat it is"
        ),
        None => format!("{UNKNOWN}: check the label"),
    };
    let allergens = inside
        .iter()
        .flat_map(|(id, _)| &larder.food(*id).allergens);
    let mut allergens: Vec<Allergen> = allergens.map(|(a, _)| *a).collect();
    if is_fillet(words) {
        allergens.push(Allergen::Fish);
    }
    (reason, allergens)
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
