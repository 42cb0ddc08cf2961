//! One step of a method, cut into stretches of work and waits.

use super::activity::{beats_flat, heats_oil};
use super::deed::{Objects, added, cut_into, on_what, verbs};
use super::noted::Handwork;
use super::stove::{is_part_of_it, stirs_meanwhile};
use super::stretch::{SETS, cool_on, deed, first_words, goes_on_hot, join, sets};
use super::table::{self, Usual};
use super::task::{Basis, Span, Wait};
use super::told::{
    asides, before_it_begins, is_behind, is_where_or_about, may_wait, of_the_rest, says_or, takes,
};
use super::waits::is_chilled_up_to;
use crate::aside::Beside;
use crate::keeping::how_it_keeps;
use crate::recipe::{Activity, Fact, FactKind, Step};
use crate::rework::ReworkedComponent;
use crate::rework::timing::BakeTime;
use crate::sentences::sentence;
use std::ops::Range;

/// What it costs to leave out the folds of a dough without gluten.
const NO_FOLDS: &str =
    "nothing: there is no gluten to stretch; smooth the top with wet hands instead";

/// A rise or chill of so many minutes is a night.
pub(super) const NIGHT: f64 = 300.0;
/// Dough with egg or milk stays in the fridge no longer than this (common practice, no source).
pub(super) const COLD_LIMIT: f64 = 1440.0;
/// A bake that cools for less than this is warm yet (common practice, no source).
pub(super) const SHORT_COOL: f64 = 20.0;
/// So soon what cools in its tin is turned out (common practice, no source).
pub(super) const COOLS_ON: f64 = 10.0;

/// A stretch of a step.
#[derive(Debug, Clone)]
pub(super) struct Draft {
    pub what: &'static str,
    pub name: String,
    pub hands: Span,
    pub hands_basis: Basis,
    pub wait: Option<Wait>,
    pub wait_basis: Basis,
    /// See [`super::Task::longest_ours`].
    pub longest_ours: bool,
    pub stands: f64,
    pub source: String,
    pub was: Option<String>,
    pub notes: Vec<String>,
    /// Its step asks for it as something that may be left out.
    pub optional: Option<String>,
    /// Bytes of the step's text where it is said.
    pub at: usize,
    /// It is work that no activity stands for.
    pub deed: bool,
    /// It is done while something else waits: 'Meanwhile, boil the syrup'.
    pub beside: bool,
    /// What was made before it is put on something hot.
    pub on_hot: bool,
    /// See [`Task::handwork`](super::Task::handwork).
    pub handwork: Handwork,
}

impl Draft {
    /// As practice has it.
    pub fn usual(usual: &'static Usual, name: &str) -> Self {
        Self {
            what: usual.key,
            name: name.to_owned(),
            hands: usual.hands,
            hands_basis: Basis::Guess,
            wait: usual.wait,
            wait_basis: Basis::Guess,
            longest_ours: false,
            stands: usual.stands,
            source: usual.source.to_owned(),
            was: None,
            notes: Vec::new(),
            optional: None,
            at: 0,
            deed: false,
            beside: false,
            on_hot: false,
            handwork: Handwork::default(),
        }
    }
    pub fn is_work(&self) -> bool {
        self.wait.is_none()
    }
}

/// Whether the method leaves a stretch, up to `end`, to whoever bakes: 'chill for 30 minutes (optional)', not the
/// mixing of 'mix, and add the nuts if you like'.
fn is_optional(text: &str, d: &Draft, end: usize) -> bool {
    const LEFT: [&str; 5] = [
        "optional",
        "if you like",
        "if you wish",
        "if you have time",
        "if time allows",
    ];
    let alone = !d.name.contains(", ");
    let kind = table::of(d.what).skip.is_some() || matches!(d.what, "dust" | "other");
    let said = text.get(d.at..end.max(d.at)).unwrap_or_default();
    let opens = sentence(text, d.at).trim_start().to_lowercase();
    alone && kind && (has(said, &LEFT) || LEFT.iter().any(|w| opens.starts_with(w)))
}

/// What a step is cut with.
pub(super) struct Cut<'a> {
    /// The reworked component, where its method is the original's.
    pub reworked: Option<&'a ReworkedComponent>,
    pub bakes: &'a [BakeTime],
    /// Egg or milk is in it.
    pub perishable: bool,
    /// Times the recipe.
    pub factor: f64,
    /// Pieces the recipe makes, once.
    pub pieces: Option<f64>,
    /// What is worked with.
    pub objects: &'a Objects,
    /// A butter that is folded in is a part of its own.
    pub folded: bool,
    /// The step before.
    pub earlier: Option<&'a Step>,
    /// Where it does work beside its own.
    pub beside: Option<&'a Beside>,
    /// Steps of the part stand before.
    pub begun: bool,
}

pub(super) fn has(text: &str, words: &[&str]) -> bool {
    let text = text.to_lowercase();
    words.iter().any(|w| text.contains(w))
}

/// Whether the step works with a mixer.
pub(super) fn uses_mixer(text: &str) -> bool {
    has(text, &["mixer", "dough hook", "paddle", "food processor"])
}

/// Racks that the words of a step take.
pub(super) fn racks(text: &str) -> u32 {
    let two = ["two", "2"];
    let wide = [
        "baking sheets",
        "baking trays",
        "sheet pans",
        "trays",
        "cookie sheets",
    ];
    let both = two
        .iter()
        .any(|n| wide.iter().any(|w| has(text, &[&format!("{n} {w}")])));
    if both { 2 } else { 1 }
}

pub(super) fn minutes_of(fact: &Fact) -> Option<(Option<Activity>, Option<Span>)> {
    match &fact.kind {
        FactKind::Duration { value, doing } => Some((*doing, Some(Span::from(*value)))),
        FactKind::Doing(a) => Some((Some(*a), None)),
        _ => None,
    }
}

/// A word of an activity with a capital.
pub(super) fn named(a: Activity) -> String {
    capital(a.word())
}

pub(super) fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or(String::new(), |c| {
        c.to_uppercase().collect::<String>() + letters.as_str()
    })
}

impl Cut<'_> {
    pub(super) fn ruled(&self, rule: &str, step: usize) -> bool {
        self.reworked.is_some_and(|c| {
            let mut notes = c.method_notes.iter();
            notes.any(|n| n.rule == rule && n.step == Some(step))
        })
    }

    /// Whether the rework makes another dough of it than one of wheat.
    pub(super) fn yeast_dough(&self) -> bool {
        let style = self.reworked.and_then(|c| c.style);
        style.is_some_and(|s| s.style.is_yeast_dough())
    }

    /// The stretches of a step, in order.
    pub fn step(&self, step: &Step) -> Vec<Draft> {
        let mut out: Vec<Draft> = Vec::new();
        // What stands before or behind work beside a wait is no part of that.
        let beside = self.beside;
        let mut fenced = Fenced::default();
        let mut before: Option<(Activity, Range<usize>)> = None;
        let mut risen = 0;
        let baked = is_behind(self.bakes, step);
        let mut deeds = self.deeds(step).into_iter().peekable();
        for fact in &step.facts {
            let Some((doing, stated)) = minutes_of(fact) else {
                continue;
            };
            let at = fact.span.start;
            // 'Soak the fruit' is work before it is a wait.
            let waited = doing == Some(Activity::Rest);
            while let Some((at, name)) = deeds.next_if(|d| d.0 < at || d.0 == at && waited) {
                fenced.pass(&mut out, beside, at);
                deed(&mut out, &name, at, &step.text);
            }
            fenced.pass(&mut out, beside, at);
            // 'Bake over water, which keeps the crust soft' is a bake: work is left aside only for a time
            // no work takes.
            let waits = matches!(
                doing,
                None | Some(Activity::Chill | Activity::Freeze | Activity::Rest | Activity::Cool)
            );
            let days = stated.is_some_and(|s| s.most >= 720.0);
            let keeps = (waits || days) && how_it_keeps(&step.text, at, stated.map(|s| s.most));
            if keeps && !is_chilled_up_to(&step.text, at)
                || doing == Some(Activity::Freeze) && of_the_rest(&step.text, at, stated)
                || may_wait(step, fact, baked)
                || doing.is_none() && self.begun && before_it_begins(&step.text, at)
            {
                continue;
            }
            if stated.is_some() && is_part_of_it(step, fact)
                || doing == Some(Activity::Mix) && stirs_meanwhile(step, at)
            {
                continue;
            }
            let Some(a) = doing else {
                if let (Some((a, said)), Some(last)) = (&before, out.last_mut())
                    && last.wait_basis == Basis::Guess
                    && last.wait.is_some()
                    && takes(&step.text, at)
                {
                    *last = self.stretch(step, *a, stated, said.start);
                    continue;
                }
                self.unnamed(&mut out, stated, at);
                continue;
            };
            if a == Activity::Rise {
                risen += 1;
            }
            let clause = beside.is_some_and(|b| b.clause.contains(&at));
            if clause && stated.is_none() && self.said_elsewhere(step, fact, a)
                || self.said_beside(step, fact, a, stated)
            {
                continue;
            }
            let gone = matches!(
                a,
                Activity::Windowpane | Activity::Dust | Activity::KnockBack
            ) && self.reworked.is_some_and(|c| !c.method_notes.is_empty());
            let left_out = a == Activity::Rise && risen == 1 && self.leaves_out(step.number);
            // That is work on the butter, while the dough is cold.
            let flat = self.folded && beats_flat(a, sentence(&step.text, at));
            if gone || a == Activity::Preheat || left_out || flat {
                continue;
            }
            let twin = before.clone().filter(|(b, said)| {
                let between = step.text.get(said.end..at).unwrap_or_default();
                let beside = between.chars().all(|c| !c.is_alphanumeric());
                let night = step.text.get(said.clone()).unwrap_or_default();
                let of_night =
                    night.eq_ignore_ascii_case("overnight") && is_where_or_about(between);
                let or = says_or(between);
                *b == a && (beside || or || of_night) && !between.contains('.')
            });
            if let (Some((_, said)), Some(last), Some(more)) = (twin, out.last_mut(), stated)
                && let Some(wait) = &mut last.wait
            {
                if step.text.get(said.end..at).is_some_and(says_or) {
                    // 'overnight, or for at least 8 hours' is one chill.
                    wait.span.least = wait.span.least.min(more.least);
                    wait.span.most = wait.span.most.max(more.most);
                } else {
                    // 'overnight, 8 to 14 hours': the figures say how long.
                    let one = self.stretch(step, a, stated, at);
                    (last.wait, last.notes) = (one.wait, one.notes);
                    last.longest_ours = one.longest_ours;
                }
                before = Some((a, fact.span.clone()));
                continue;
            }
            before = Some((a, fact.span.clone()));
            let mut draft = self.stretch(step, a, stated, at);
            if a == Activity::Brush && goes_on_hot(&out, &step.text, at) {
                draft.on_hot = true;
                out.push(draft);
            } else {
                join(&mut out, draft);
            }
        }
        for (at, name) in deeds {
            fenced.pass(&mut out, beside, at);
            deed(&mut out, &name, at, &step.text);
        }
        let mut out = fenced.all(out);
        super::stretch::mixes_more(step, &mut out);
        let keeps =
            how_it_keeps(&step.text, 0, None) || !asides(step, self.begun, baked).is_empty();
        if out.is_empty() && !step.facts.iter().any(skipped) && !keeps {
            // 'Crush' at least.
            let first = verbs(&step.text).into_iter().next();
            out.push(match (first, added(&step.text)) {
                (Some((_, verb)), _) => Draft::usual(table::of("other"), &capital(&verb)),
                (None, Some(what)) => {
                    Draft::usual(table::of("mix"), &self.objects.with("Add", what))
                }
                (None, None) => Draft::usual(table::of("other"), ""),
            });
        }
        self.mixes_on(step, &mut out);
        super::stretch::brush_again(&mut out, &step.text);
        cool_on(&mut out, &step.text);
        heats_oil(&step.text, &mut out);
        let chilled = self.chilled_before();
        let mut out = super::folds::one_by_one(&step.text, chilled.as_ref(), out);
        let no_folds = self.ruled("no stretch and fold", step.number);
        for d in &mut out {
            if no_folds && d.what == "fold" {
                d.optional = Some(NO_FOLDS.to_owned());
            }
            if d.name.is_empty() {
                d.name = first_words(&step.text, d.at);
            }
            if d.what == "fry" {
                // 'Drop on a hot griddle; bake 1 minute a side'.
                let said = on_what(&d.name, sentence(&step.text, d.at));
                d.name = on_what(&said, step.text.get(..d.at).unwrap_or_default());
            }
            d.beside = beside.is_some_and(|b| b.work.contains(&d.at));
        }
        let ends: Vec<usize> = out.iter().skip(1).map(|d| d.at).collect();
        let ends = ends.into_iter().chain([step.text.len()]);
        for (d, end) in out.iter_mut().zip(ends) {
            if is_optional(&step.text, d, end) {
                let cost = table::of(d.what).skip;
                d.optional = Some(
                    cost.unwrap_or("little: the method calls it optional")
                        .to_owned(),
                );
            }
        }
        out
    }

    /// What a step does beside the activities that are known: where, and its words.
    fn deeds(&self, step: &Step) -> Vec<(usize, String)> {
        let (begin, end) = stops(step);
        let named = verbs(&step.text).into_iter().filter_map(|(at, verb)| {
            let (from, to) = clause_at(&step.text, at, (&begin, &end));
            let clause = step.text.get(from..to).unwrap_or_default();
            // 'Dust the board', 'glaze' with egg: an activity; 'dredge in flour' goes with the pan.
            let known = || step.facts.iter().any(|f| f.span.start == at);
            let dusts = matches!(verb.as_str(), "dredge" | "dust");
            let over = has(clause, &[" with ", " over "]) && !has(clause, &["flour"]);
            if (dusts || verb == "glaze") && (known() || dusts && !over) {
                return None;
            }
            // 'Place in the oven' is no work of its own.
            let put = self.objects.with(&verb, clause);
            if verb == "place" && (put == verb || self.objects.is_own(&put)) {
                return None;
            }
            if matches!(verb.as_str(), "brown" | "grill")
                && has(clause, &["under the grill", "under a hot grill", "broiler"])
            {
                return Some((at, "brown under the grill".to_owned()));
            }
            let verb = if verb == "lock" { "lock in" } else { &verb };
            let name = self.objects.with(verb, clause);
            Some((at, cut_into(&name, clause).unwrap_or(name)))
        });
        // A fact there has it: 'Leave to set for an hour'.
        let said = |at: &usize| {
            let here = sentence(&step.text, *at);
            let mut facts = step.facts.iter();
            facts.any(|f| {
                sentence(&step.text, f.span.start) == here
                    && minutes_of(f).is_some_and(|(a, t)| {
                        t.is_some() || matches!(a, Some(Activity::Rest | Activity::Chill))
                    })
            })
        };
        let sets = sets(&step.text).into_iter().filter(|at| !said(at));
        let mut all: Vec<_> = named.chain(sets.map(|at| (at, SETS.to_owned()))).collect();
        all.sort_by_key(|d| d.0);
        all
    }

    /// What is no stretch of its own: a wait that the same sentence gives a time under another word, frying 'the rest'.
    fn said_beside(&self, step: &Step, fact: &Fact, a: Activity, stated: Option<Span>) -> bool {
        let (text, at) = (&step.text, fact.span.start);
        let said = sentence(text, at);
        let waits = |a: Activity| table::of(table::key(a)).wait.is_some() && a != Activity::Bake;
        let same = |f: &&Fact| sentence(text, f.span.start) == said && f.span != fact.span;
        match stated {
            None if waits(a) => step
                .facts
                .iter()
                .filter(same)
                .filter(|f| !super::stretch::puts_between(text, at..f.span.start))
                .filter(|f| {
                    let most = minutes_of(f).and_then(|m| m.1).map(|s| s.most);
                    !how_it_keeps(text, f.span.start, most)
                })
                .any(|f| matches!(minutes_of(f), Some((Some(b), Some(_))) if waits(b))),
            None => a == Activity::Fry && has(said, &["while you fry", "fry the rest"]),
            Some(_) => false,
        }
    }

    /// Whether what waits in 'while the loaves cool' has a wait of its own here, or in the step before.
    fn said_elsewhere(&self, step: &Step, fact: &Fact, a: Activity) -> bool {
        let here = step.facts.iter().filter(|f| f.span != fact.span);
        let mut all = here.chain(self.earlier.iter().flat_map(|s| &s.facts));
        all.any(|f| matches!(minutes_of(f), Some((Some(b), _)) if a == b))
    }

    /// The chill of a given time that the step before ends with.
    fn chilled_before(&self) -> Option<Draft> {
        let step = self.earlier?;
        let last = |f: &Fact| minutes_of(f).map(|m| (f.span.start, m));
        let (at, (doing, span)) = step.facts.iter().rev().find_map(last)?;
        let chill = doing.filter(|a| *a == Activity::Chill)?;
        span.map(|_| self.stretch(step, chill, span, at))
    }

    /// Behind a wait a step mixes again: 'Cool 5 minutes. Beat in the eggs.'
    fn mixes_on(&self, step: &Step, out: &mut Vec<Draft>) {
        const AGAIN: [&str; 4] = ["beat in", "stir in", "whisk in", "mix in"];
        for said in crate::sentences(&step.text) {
            let words = &step.text[said.clone()];
            let begins = |w: &&str| {
                words
                    .get(..w.len())
                    .is_some_and(|t| t.eq_ignore_ascii_case(w))
            };
            let before = out.iter().rposition(|d| d.at < said.start);
            let waits = before.is_some_and(|n| out[n].wait.is_some() && !out[n].beside);
            let told = out.iter().any(|d| said.contains(&d.at));
            if let Some(n) = before.filter(|_| waits && !told && AGAIN.iter().any(begins)) {
                let mut d = Draft::usual(table::of("mix"), &self.objects.with("Mix", words));
                d.at = said.start;
                out.insert(n + 1, d);
            }
        }
    }

    /// How long the one rise that is left at a step takes, where a longer one before it is left out.
    pub(super) fn one_rise(&self, step: usize) -> Option<Span> {
        let mut notes = self.reworked?.method_notes.iter();
        let note = notes.find(|n| n.step == Some(step) && n.one_rise.is_some())?;
        note.one_rise.map(Span::from)
    }

    fn leaves_out(&self, step: usize) -> bool {
        self.reworked.is_some_and(|c| {
            let mut notes = c.method_notes.iter();
            notes.any(|n| n.leaves_out == Some(step))
        })
    }
}

/// Stretches that stand on the other side of where a step goes over to work beside a wait, or comes back.
#[derive(Default)]
struct Fenced {
    done: Vec<Draft>,
    inside: bool,
}

impl Fenced {
    fn pass(&mut self, out: &mut Vec<Draft>, beside: Option<&Beside>, at: usize) {
        let inside = beside.is_some_and(|b| b.work.contains(&at));
        if inside != std::mem::replace(&mut self.inside, inside) {
            self.done.append(out);
        }
    }
    fn all(mut self, mut out: Vec<Draft>) -> Vec<Draft> {
        self.done.append(&mut out);
        self.done
    }
}

/// Facts that make no stretch but say that the step has something to do all the same.
fn skipped(f: &Fact) -> bool {
    matches!(minutes_of(f), Some((Some(_), _)))
}

/// Where other things are done in a step's text: the bytes at which they begin, and those at which they
/// end.
pub(super) fn stops(step: &Step) -> (Vec<usize>, Vec<usize>) {
    let of = |f: &&Fact| minutes_of(f).is_some_and(|(doing, _)| doing.is_some());
    let facts = || step.facts.iter().filter(of);
    let verbs = || verbs(&step.text).into_iter().map(|v| v.0);
    let begin = facts().map(|f| f.span.start).chain(verbs());
    let end = facts().map(|f| f.span.end).chain(verbs());
    (begin.collect(), end.collect())
}

/// From where to where a text speaks of what is done at a byte: within its sentence, from what is done
/// before to what is done after.
pub(super) fn clause_at(
    text: &str,
    at: usize,
    (begin, end): (&[usize], &[usize]),
) -> (usize, usize) {
    let said = sentence(text, at);
    let from = said.as_ptr() as usize - text.as_ptr() as usize;
    let to = from + said.len();
    let before = end.iter().copied().filter(|s| *s <= at).max();
    let after = begin.iter().copied().filter(|s| *s > at).min();
    (
        before.map_or(from, |b| b.max(from)),
        after.map_or(to, |a| a.min(to)),
    )
}
