//! Notes on yeast: ferments, rises and their end, nights in the cold, liquid that is too hot.

use super::facts::{doing, in_the_cold, last_of, longest, names_no_longest, rises_in};
use super::say::minutes;
use super::{Aid, Notes, PRACTICE};
use crate::Beforehand;
use crate::recipe::{Activity, Component, Fact, FactKind, Heat, Step};
use quantity::{Spread, Time};
use std::ops::Range;

/// A chill or rise of so many minutes is a night.
pub(super) const NIGHT: f64 = 300.0;
/// So many minutes above 5 °C are the limit for what holds egg or milk.
const COUNTS: f64 = 120.0;
const EGG_OR_MILK: &str = "with egg or milk in it keep it at 5 °C or below and no longer than 24 hours; time above 5 °C counts towards a limit of 2 hours (your local rules come first)";
/// Liquid for yeast, °C at most.
const YEAST_LIQUID: f64 = 45.0;

/// Hours on end in which a dough rises.
#[derive(Clone, Copy)]
struct Night {
    step: usize,
    /// In the fridge, as the original has it.
    cold: bool,
    /// The step calls it a rise.
    is_rise: bool,
}

impl Notes<'_> {
    /// The notes of a poolish, a starter or the like: it is only mixed and kept.
    pub(super) fn beforehand(&mut self) -> bool {
        let about = self.about;
        let part = about.recipe.components.get(about.component);
        let Some(beforehand) = part.and_then(Component::beforehand) else {
            return false;
        };
        if let Some(gel) = about.gel {
            self.say(None, "hydrate the psyllium", PRACTICE, gel.words(""));
        }
        for (i, step) in about.steps.iter().enumerate() {
            let n = step.number;
            let kept = [Activity::Rest, Activity::Rise, Activity::Chill]
                .iter()
                .filter_map(|a| Some((*a, longest(step, *a)?)))
                .max_by(|(_, a), (_, b)| a.high().as_minutes().total_cmp(&b.high().as_minutes()));
            if let Some((what, time)) = kept {
                let verb = match what {
                    Activity::Chill => "chills it",
                    Activity::Rise => "lets it rise",
                    _ => "lets it stand",
                };
                let ready = match beforehand {
                    Beforehand::Ferment => {
                        "It is ready when it is full of bubbles and smells ripe; it grows less than one of wheat"
                    }
                    Beforehand::Paste => "It is ready when it is even and has drunk what is free",
                };
                let cold = if about.holds_egg_or_milk && time.high().as_minutes() > COUNTS {
                    format!("; {EGG_OR_MILK}")
                } else {
                    String::new()
                };
                self.say(
                    Some(n),
                    "keep the ferment",
                    PRACTICE,
                    format!(
                        "Step {n} {verb} for {}: keep that. {ready}{cold}.",
                        minutes(time)
                    ),
                );
            }
            self.yeast_liquid(i, step);
        }
        true
    }

    /// Rises, their end, and hours in the cold.
    pub(super) fn rises(&mut self) {
        let about = self.about;
        if !self.yeasted() {
            return;
        }
        let first_bake = about
            .steps
            .iter()
            .find(|s| doing(s, Activity::Bake).is_some())
            .map_or(usize::MAX, |s| s.number);
        let mut night: Option<Night> = None;
        for step in about.steps.iter().filter(|s| s.number <= first_bake) {
            let cold = longest(step, Activity::Chill).filter(|t| t.high().as_minutes() >= NIGHT);
            let risen = longest(step, Activity::Rise).filter(|t| t.high().as_minutes() >= NIGHT);
            let Some(time) = cold.or(risen) else { continue };
            let this = Night {
                step: step.number,
                cold: cold.is_some() || rises_in_the_cold(step),
                is_rise: cold.is_none(),
            };
            let verb = if cold.is_some() { "chills" } else { "rises" };
            // The author's yeast was set for the author's night, cold or warm: it is not cut again.
            let raises = if self.names(&["yeast"]) {
                "yeast in the list"
            } else {
                "starter"
            };
            let keep = match (this.cold, about.holds_egg_or_milk) {
                (true, true) => format!("{EGG_OR_MILK}. The {raises} is meant for it."),
                (true, false) => {
                    let hours = night_of(step, time).unwrap_or("8–18 hours".to_owned());
                    format!("keep it at 3–5 °C for {hours}. The {raises} is meant for it.")
                }
                (false, true) => format!("{EGG_OR_MILK}. In the cold it grows more slowly."),
                (false, false) => format!("keep that; the {raises} is meant for it."),
            };
            let rule = if this.cold || about.holds_egg_or_milk {
                "cold overnight"
            } else {
                "long rise"
            };
            self.say(
                Some(step.number),
                rule,
                PRACTICE,
                format!(
                    "Step {} {verb} for {}: {keep} Go by how far it has grown, not by the clock.",
                    step.number,
                    minutes(time)
                ),
            );
            night.get_or_insert(this);
        }
        let rises: Vec<usize> = about
            .steps
            .iter()
            .flat_map(|s| std::iter::repeat_n(s.number, rises_in(s)))
            .collect();
        if let [first, .., last] = rises[..] {
            let twice = first == last;
            let does = |a: Activity| {
                about
                    .steps
                    .iter()
                    .any(|s| s.facts.iter().any(|f| f.does(a)))
            };
            let cook = if does(Activity::Fry) && !does(Activity::Bake) {
                "fry"
            } else {
                "bake"
            };
            let mut out = Some(first);
            let one_rise = self.longer_left_out(&rises, night.is_some());
            let long = one_rise.map_or(String::new(), |t| {
                format!(" for up to {}", minutes(Spread::exact(t.high())))
            });
            let instead = if twice {
                format!("one rise is enough; shape first, then let it rise once{long}, and {cook}.")
            } else if let Some(night) = night.filter(|night| night.step <= last) {
                match night {
                    Night {
                        cold: false, step, ..
                    } => {
                        out = Some(if step == first { last } else { first });
                        format!(
                            "one rise is enough; shape before the long rise of step {step}, and {cook} after it."
                        )
                    }
                    Night {
                        is_rise: true,
                        step,
                        ..
                    } if step == first => {
                        out = None;
                        "keep this rise, after shaping, and do not knock it back.".to_owned()
                    }
                    _ => format!(
                        "keep this rise, after shaping, and leave out the warm one of step {first}; the hours in the cold stand in for it."
                    ),
                }
            } else {
                format!(
                    "one rise is enough; leave out that of step {first}, shape, let it rise once{long}, and {cook}."
                )
            };
            let does = if twice {
                "lets it rise twice"
            } else {
                "lets it rise again"
            };
            let step = about.steps.iter().find(|s| s.number == last);
            let found = step.and_then(|s| Some((s, last_of(s, Activity::Rise)?)));
            if let Some((step, fact)) = found {
                let aid = Aid {
                    found: "second_rise",
                    span: with_verb(&step.text, &fact.span),
                    instead,
                    look_for: format!(
                        "{} times the volume, a dent that half returns, pinholes",
                        self.proof()
                    ),
                };
                self.answer(last, does, "one rise", PRACTICE, aid);
                if let Some(note) = self.list.iter_mut().find(|n| n.rule == "one rise") {
                    note.leaves_out = out;
                    note.one_rise = one_rise;
                }
            }
        }
        let asked = about.steps.iter().rev().find_map(|s| {
            let to = s.facts.iter().rev().find_map(|f| match f.kind {
                FactKind::RiseTo(x) => Some((x, f.span.clone())),
                _ => None,
            });
            to.map(|(x, span)| (s.number, x, span))
        });
        if let Some((n, x, span)) = asked
            && let Some(r) = about.style.range("proof_x")
            && x > r.value.likely().get()
        {
            let aid = Aid {
                found: "doubled",
                span,
                instead: format!("stop at {} times; past that it falls.", self.proof()),
                look_for: "a dent that fills half way, and pinholes".to_owned(),
            };
            let does = format!("waits for {} the volume", times(x));
            self.answer(n, &does, "end of the rise", &r.cited(), aid);
        }
    }

    /// The time of the first of two rises, where it is longer than that of the second: a dough that has not risen
    /// before needs no less.
    fn longer_left_out(&self, rises: &[usize], night: bool) -> Option<Spread<Time>> {
        let [first, last] = *rises else { return None };
        let step = |n: usize| self.about.steps.iter().find(|s| s.number == n);
        let timed = |f: &Fact| match f.kind {
            FactKind::Duration {
                value,
                doing: Some(Activity::Rise),
            } => Some(value),
            _ => None,
        };
        let before = longest(step(first)?, Activity::Rise)?;
        let after = step(last)?.facts.iter().rev().find_map(timed)?;
        let longer = before.high().as_minutes() > after.high().as_minutes();
        (longer && !night).then_some(before)
    }

    /// Liquid too hot for yeast, in the step that adds it or the one before.
    pub(super) fn yeast_liquid(&mut self, i: usize, step: &Step) {
        if !self.yeasted() {
            return;
        }
        let hot = step
            .facts
            .iter()
            .rev()
            .find_map(|f| match &f.kind {
                FactKind::Temperature {
                    value,
                    of: Heat::Other,
                } => Some(value.high().as_celsius()),
                _ => None,
            })
            .filter(|c| (YEAST_LIQUID + 0.05..=100.0).contains(c));
        let says = |s: &Step, word: &str| s.text.to_lowercase().contains(word);
        let next = self.about.steps.get(i + 1);
        let yeast = says(step, "yeast")
            || next.is_some_and(|s| says(s, "yeast") && !says(s, "cool") && !says(s, "lukewarm"));
        if let Some(c) = hot
            && yeast
            && !says(step, "cool")
            && !says(step, "lukewarm")
        {
            let n = step.number;
            self.say(
                Some(n),
                "yeast likes it warm, not hot",
                PRACTICE,
                format!(
                    "Step {n} has the liquid for the yeast at {c:.0} °C: let it come down to {YEAST_LIQUID:.0} °C or below; yeast dies near 60 °C."
                ),
            );
        }
    }

    /// How far a rise goes: `1.3–1.8`; empty where the style has none.
    pub(super) fn proof(&self) -> String {
        let r = self.about.style.range("proof_x");
        let shown = |v: f64| format!("{v:.1}");
        r.map_or(String::new(), |r| {
            let (low, high) = (shown(r.value.low().get()), shown(r.value.high().get()));
            if low == high {
                low
            } else {
                format!("{low}–{high}")
            }
        })
    }
}

/// How far a rise goes, as it is said: 'twice', '1.5 times'.
fn times(x: f64) -> String {
    match format!("{x:.1}").trim_end_matches(".0") {
        "2" => "twice".to_owned(),
        x => format!("{x} times"),
    }
}

/// A rise's words: with its verb, 'prove for 45 minutes', where only the time was read; the verb
/// alone where they stand far apart.
fn with_verb(text: &str, span: &Range<usize>) -> Range<usize> {
    const VERBS: &[&str] = &["rise", "rising", "prov", "proof", "ferment"];
    const FAR: usize = 12;
    let text = text.to_ascii_lowercase();
    let before = text.get(..span.start).unwrap_or_default();
    let Some(at) = VERBS.iter().filter_map(|v| before.rfind(v)).max() else {
        return span.clone();
    };
    let between = &before[at..];
    let verb = between
        .find(|c: char| !c.is_alphabetic())
        .unwrap_or(between.len());
    if between.contains(['.', ';', '!']) {
        span.clone()
    } else if between.len() > verb + FAR {
        at..at + verb
    } else {
        at..span.end
    }
}

/// Whether the longest rise of a step is in the fridge by its own clause.
fn rises_in_the_cold(step: &Step) -> bool {
    let rise = step.facts.iter().filter_map(|f| match &f.kind {
        FactKind::Duration {
            value,
            doing: Some(Activity::Rise),
        } => Some((value.high().as_minutes(), f.span.start)),
        _ => None,
    });
    let long = rise.max_by(|a, b| a.0.total_cmp(&b.0));
    long.is_some_and(|(_, at)| in_the_cold(&step.text, at))
}

/// The hours of a night as a method has them, where it names the longest.
fn night_of(step: &Step, time: Spread<Time>) -> Option<String> {
    let said = |f: &&Fact| matches!(&f.kind, FactKind::Duration { value, .. } if value == &time);
    let at = step.facts.iter().find(said)?.span.start;
    let range = time.low().as_minutes() < time.high().as_minutes();
    (range && !names_no_longest(&step.text, at)).then(|| minutes(time))
}
