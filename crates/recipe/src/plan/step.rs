//! One step of a method, cut into stretches of work and waits.

use super::deed::{Objects, added, cut_into, greases, on_what, verbs};
use super::noted::Handwork;
use super::stove::{is_part_of_it, of_the_stove, stirs_meanwhile};
use super::stretch::{SETS, cool_on, deed, first_words, goes_on_hot, join, sets};
use super::table::{self, Usual};
use super::task::{Basis, Span, Wait};
use super::told::{
    asides, before_it_begins, is_behind, is_where_or_about, may_wait, of_the_rest, says_or, takes,
};
use super::waits::{is_chilled_up_to, of_both_sides};
use crate::aside::Beside;
use crate::keeping::how_it_keeps;
use crate::recipe::{Activity, Fact, FactKind, Step};
use crate::rework::ReworkedComponent;
use crate::rework::timing::BakeTime;
use crate::sentences::{sentence, words};
use std::ops::Range;

/// Where fat is heated in the oven: in it, or in a tin that stands on no stove.
const IN_THE_OVEN: [&str; 6] = [
    "in the oven",
    "into the oven",
    "in the hot oven",
    "muffin",
    "hole",
    "patty tin",
];

/// What warm liquid is to cool to.
const LUKEWARM: [&str; 4] = ["lukewarm", "tepid", "hand-hot", "blood heat"];

/// What it costs to leave out the folds of a dough without gluten.
const NO_FOLDS: &str =
    "nothing: there is no gluten to stretch; smooth the top with wet hands instead";

/// What is said of what need not be cold.
const SLIGHTLY: [&str; 5] = [
    "cool a little",
    "cool slightly",
    "slightly cool",
    "cool briefly",
    "cool a bit",
];

/// A rise or chill of so many minutes is a night.
pub(super) const NIGHT: f64 = 300.0;
/// Dough with egg or milk stays in the fridge no longer than this (common practice, no source).
pub(super) const COLD_LIMIT: f64 = 1440.0;
/// A bake that cools for less than this is warm yet (common practice, no source).
pub(super) const SHORT_COOL: f64 = 20.0;
/// So soon what cools in its tin is turned out (common practice, no source).
pub(super) const COOLS_ON: f64 = 10.0;
/// What boils or steams so long, min, is left to it but for a glance (common practice, no source).
const GLANCES: f64 = 25.0;
/// An unnamed time longer than this is no work.
const LONG_WORK: f64 = 20.0;

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

/// A butter that is folded in is beaten flat, not mixed.
fn beats_flat(a: Activity, said: &str) -> bool {
    const FLAT: [&str; 5] = ["square", "rectangle", "slab", "block", " flat"];
    a == Activity::Mix && has(said, &["butter"]) && has(said, &FLAT)
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
fn named(a: Activity) -> String {
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
                d.name = on_what(&d.name, sentence(&step.text, d.at));
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

    /// A time that no activity is said for: work where it is short, else a wait.
    fn unnamed(&self, out: &mut Vec<Draft>, stated: Option<Span>, at: usize) {
        let Some(span) = stated else { return };
        let mut draft = Draft::usual(table::of("other"), "");
        draft.at = at;
        if span.most <= LONG_WORK {
            draft.hands = span;
            draft.hands_basis = Basis::Said;
        } else {
            draft = Draft::usual(table::of("rest"), "Wait");
            draft.at = at;
            draft.wait = draft.wait.map(|w| Wait { span, ..w });
            draft.wait_basis = Basis::Said;
        }
        join(out, draft);
    }

    /// One activity.
    fn stretch(&self, step: &Step, a: Activity, stated: Option<Span>, at: usize) -> Draft {
        let said = sentence(&step.text, at);
        let word = of_the_stove(&step.text, at).filter(|_| a == Activity::Boil);
        let name = word.map_or_else(|| named(a), capital);
        let mut d = Draft::usual(table::of(table::key(a)), &name);
        d.at = at;
        if d.is_work() {
            let (begin, end) = stops(step);
            let (from, to) = clause_at(&step.text, at, (&begin, &end));
            // What a verb is done to stands behind it; a time stands behind both.
            let from = if stated.is_none() { at } else { from };
            let clause = step.text.get(from..to).unwrap_or(said);
            d.name = match a {
                Activity::Grease => greases(&step.text, at, clause),
                Activity::Brush if words(clause).iter().any(|w| w == "twice") => {
                    format!("{} twice", self.objects.with(&d.name, clause))
                }
                _ => self.objects.with(&d.name, clause),
            };
        }
        if a == Activity::Melt && has(said, &IN_THE_OVEN) {
            return self.fat_in_the_oven(step, (said, at), stated);
        }
        if beats_flat(a, said) {
            d = Draft::usual(table::of("roll"), "Beat butter flat");
            d.at = at;
        }
        if a == Activity::Grease && self.lines_with(said) {
            d = Draft::usual(table::of("assemble"), &self.objects.with("Line", said));
        }
        // Milk for a dough: a pan of it, not a bake.
        if a == Activity::Cool && has(said, &LUKEWARM) {
            d = Draft::usual(table::of("cool_liquid"), &named(a));
            d.at = at;
        }
        if a == Activity::Cool && stated.is_none() && has(said, &SLIGHTLY) {
            d = Draft::usual(table::of("cool_slightly"), "Cool a little");
            d.at = at;
        }
        if a == Activity::Shape
            && has(
                said,
                &["divide between", "divide among", "divide the batter"],
            )
        {
            d = Draft::usual(table::of("other"), &self.divides(said));
        }
        if let Some(fresh) = self.kneading(step, a, stated) {
            return Draft { at, ..fresh };
        }
        let mut stated = stated;
        if let Some(one) = stated.filter(|_| a == Activity::Boil)
            && let Some((all, words)) = self.in_panfuls(said, of_both_sides(said, one))
        {
            stated = Some(all);
            d.notes.push(words);
        }
        if let Some(span) = stated.filter(|s| a == Activity::Boil && s.least >= GLANCES) {
            self.left_on_the_stove(&mut d, step, span);
            return d;
        }
        match (&mut d.wait, stated) {
            (None, Some(span)) if a == Activity::Fry => self.fry(&mut d, said, span),
            (None, Some(span)) => {
                d.hands = span;
                d.hands_basis = Basis::Said;
            }
            (Some(wait), Some(span)) => {
                wait.span = span;
                d.wait_basis = Basis::Said;
            }
            _ => {}
        }
        let fried = a == Activity::Fry && stated.is_some();
        if table::of(d.what).grows && d.hands_basis == Basis::Guess && !fried {
            d.hands = d.hands.times(self.factor.max(0.5));
        }
        match a {
            Activity::Rise => self.rise(&mut d, step, stated),
            Activity::Rest | Activity::Chill | Activity::Freeze => {
                self.rest(&mut d, step, a, stated, said);
            }
            Activity::Cool => self.cool(&mut d, step, stated, said),
            Activity::Bake => self.bake(&mut d, step, at),
            _ => {}
        }
        d
    }

    /// 'Heat the dripping in the oven for 5 minutes': it waits there, in the oven of the next bake.
    fn fat_in_the_oven(
        &self,
        step: &Step,
        (said, at): (&str, usize),
        stated: Option<Span>,
    ) -> Draft {
        const FATS: [&str; 7] = ["butter", "dripping", "fat", "ghee", "lard", "oil", "suet"];
        let words = words(said);
        let fat = words.iter().find(|w| FATS.contains(&w.as_str()));
        let name = format!("Heat the {} in the oven", fat.map_or("fat", String::as_str));
        let mut d = Draft::usual(table::of("heat_fat"), &name);
        d.at = at;
        let next = self
            .bakes
            .iter()
            .find(|b| (b.step, b.at) > (step.number, at));
        if let Some(wait) = &mut d.wait {
            wait.oven = next.and_then(|b| b.oven).map(|t| t.as_celsius());
            if let Some(span) = stated {
                (wait.span, d.wait_basis) = (span, Basis::Said);
            }
        }
        d
    }

    /// What is divided stands before 'between': 'Divide the batter among the cups and top with the streusel'.
    fn divides(&self, said: &str) -> String {
        let said = said.to_lowercase();
        let what = said.split_once("divide ").map_or("", |(_, what)| what);
        let what = what.split(" between ").next().unwrap_or_default();
        let what = what.split(" among ").next().unwrap_or_default();
        let batter = words(what).iter().any(|w| w == "batter");
        match self.objects.with("Divide", what) {
            bare if bare == "Divide" && batter => "Divide batter".to_owned(),
            named => named,
        }
    }

    /// 'Line the dish with two thirds of the pastry': the pastry goes in, not paper.
    fn lines_with(&self, said: &str) -> bool {
        let said = said.to_lowercase();
        let with = said
            .split_once("line ")
            .and_then(|(_, rest)| rest.split_once(" with "));
        let on = with.map_or("", |(_, on)| on);
        let on = on.split([',', ';']).next().unwrap_or_default();
        has(on, &["pastry", "dough", "crust"])
    }

    /// A dough without gluten is mixed, not kneaded.
    fn kneading(&self, step: &Step, a: Activity, stated: Option<Span>) -> Option<Draft> {
        if a != Activity::Knead || !self.ruled("no kneading", step.number) {
            return None;
        }
        let mut d = if self.yeast_dough() {
            Draft::usual(table::of("paste"), "Mix to a paste")
        } else {
            Draft::usual(table::of("fold"), "Bring together")
        };
        d.hands_basis = Basis::Reworked;
        d.was = Some(stated.map_or("knead".to_owned(), |s| {
            format!("knead, {}", super::own::span_words(s))
        }));
        Some(d)
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

/// What is fried in deep oil waits until that is hot; nobody leaves it meanwhile.
fn heats_oil(text: &str, out: &mut Vec<Draft>) {
    let Some(fry) = out.iter().position(|d| d.what == "fry") else {
        return;
    };
    let to = sentence(text, out[fry].at);
    let to = to.as_ptr() as usize - text.as_ptr() as usize + to.len();
    let said = words(&text[..to]);
    let hot = said.windows(2).any(|w| {
        let degrees = w[0].parse::<u32>().is_ok_and(|n| n >= 120);
        degrees && matches!(w[1].as_str(), "c" | "f" | "degree")
    });
    let glued = said.iter().any(|w| {
        let degrees = w.strip_suffix(['c', 'f']);
        degrees
            .and_then(|n| n.parse::<u32>().ok())
            .is_some_and(|n| n >= 120)
    });
    let fat = said
        .iter()
        .any(|w| matches!(w.as_str(), "oil" | "fat" | "lard" | "dripping"));
    let deep = said.iter().any(|w| w == "deep");
    let in_oven = said.iter().any(|w| w == "oven");
    if in_oven || !(deep || fat && (hot || glued)) {
        return;
    }
    let mut d = Draft::usual(table::of("heat_oil"), "Heat the oil");
    d.at = out[fry].at.saturating_sub(1);
    out.insert(fry, d);
}

/// Facts that make no stretch but say that the step has something to do all the same.
fn skipped(f: &Fact) -> bool {
    matches!(minutes_of(f), Some((Some(_), _)))
}

/// Where other things are done in a step's text: the bytes at which they begin, and those at which they
/// end.
fn stops(step: &Step) -> (Vec<usize>, Vec<usize>) {
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
