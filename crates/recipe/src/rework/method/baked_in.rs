//! What a note says of a bake: the usual time without gluten, or the one that is worked out for the tin and
//! the oven chosen.

use super::MethodNote;
use super::oven::{Setting, Stage};
use super::say::{
    all_minutes, degrees, joined, minutes, oven_allowed, stage_allowed, stage_stated,
};
use crate::rework::Rework;
use crate::rework::process::{becomes, in_another_oven};
use quantity::{OvenSetting, Spread, Temperature, Time};

/// Whose reckoning a time is, behind it.
pub(crate) const BY_HEAT: &str = "by the Heat page for the tin and the oven chosen";
/// Ovens nearer than this, °C, are one on a dial.
pub(crate) const SAME_OVEN: f64 = 3.0;

/// The bake that a note is of.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::rework) struct NotedBake {
    /// Its times and ovens, as written.
    pub stages: Vec<Stage>,
    /// What decides that it is done; `None` where it bakes no longer than before.
    pub decides: Option<&'static str>,
}

impl NotedBake {
    /// That it bakes a tenth to a quarter longer.
    pub fn longer(&self, step: usize) -> String {
        let allowed = joined(&self.stages, stage_allowed);
        self.words(step, &format!("allow {allowed}, 10–25 % longer"))
    }

    fn words(&self, step: usize, allow: &str) -> String {
        let stated = joined(&self.stages, stage_stated);
        let decides = self.decides.unwrap_or("the middle decides");
        format!("Step {step} bakes for {stated}: {allow}. The time is a guess; {decides}.")
    }

    fn times(&self) -> impl Iterator<Item = Spread<Time>> {
        self.stages.iter().flat_map(|s| s.times.iter().copied())
    }

    /// Its stages at other times, of which it takes as many as it has.
    fn at(&self, mut times: impl Iterator<Item = Spread<Time>>) -> Vec<Stage> {
        let at = |s: &Stage| Stage {
            times: times.by_ref().take(s.times.len()).collect(),
            oven: s.oven,
        };
        self.stages.iter().map(at).collect()
    }
}

/// A bake as it is worked out for the tin, the oven and the weight chosen.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct ChosenBake {
    /// The times that the recipe has for it, one after another: all that it has.
    pub written: Vec<Spread<Time>>,
    /// The time worked out.
    pub time: Spread<Time>,
    /// Its oven, as a still oven's.
    pub oven: Temperature,
    /// That oven is another than the method's, and one for all of the bake.
    pub in_one: bool,
    /// What the baker's own method says of it, which stands.
    pub own: Option<Spread<Time>>,
    /// The time worked out over those of the recipe, as many.
    pub stretches: Vec<Spread<Time>>,
}

impl ChosenBake {
    /// Its oven, where that is another than the method's.
    pub fn other_oven(&self, said: Setting) -> Option<Setting> {
        let apart = (self.oven - said.temperature).as_celsius().abs();
        (apart >= SAME_OVEN).then(|| said.at(self.oven))
    }

    /// `49–83 minutes at 170 °C / 340 °F to 180 °C / 350 °F (…)`; stage by stage where it has several.
    fn allowed(&self, stages: &[Stage]) -> String {
        let each = |s: &Stage| format!("{}{}", all_minutes(&s.times), oven_allowed(s));
        match (stages, self.in_one_oven(stages)) {
            (_, Some(other)) => format!("{} at {}", minutes(self.time), degrees(other, 0.0)),
            ([stage], None) => each(stage),
            (_, None) => format!("{}, {}", self.in_all(), joined(stages, each)),
        }
    }

    /// The same of some of its stages, those of one step where it goes on in the next.
    fn allowed_in_part(&self, stages: &[Stage]) -> String {
        let one = self.in_one_oven(stages).filter(|_| self.in_one);
        let each = |s: &Stage| match one {
            Some(other) => format!("{} at {}", all_minutes(&s.times), degrees(other, 0.0)),
            None => format!("{}{}", all_minutes(&s.times), oven_allowed(s)),
        };
        joined(stages, each)
    }

    fn in_all(&self) -> String {
        format!("{} in all", minutes(self.time))
    }

    /// The one oven of it, where that is another than the method's.
    fn in_one_oven(&self, stages: &[Stage]) -> Option<Setting> {
        match stages {
            [stage] => stage.oven.and_then(|o| self.other_oven(o)),
            [.., last] if self.in_one => last.oven.map(|o| o.at(self.oven)),
            _ => None,
        }
    }
}

/// The notes that have these times between them and no others, one after another.
fn noted(notes: &[MethodNote], written: &[Spread<Time>]) -> Option<Vec<usize>> {
    let bake = |n: usize| notes[n].bake.as_ref().filter(|_| notes[n].step.is_some());
    let all: Vec<usize> = (0..notes.len()).filter(|n| bake(*n).is_some()).collect();
    let is = |run: &&[usize]| {
        let times = run
            .iter()
            .filter_map(|n| bake(*n))
            .flat_map(NotedBake::times);
        times.eq(written.iter().copied())
    };
    let mut found = (1..=all.len()).flat_map(|n| all.windows(n)).filter(is);
    match (found.next(), found.next()) {
        (Some(run), None) => Some(run.to_vec()),
        _ => None,
    }
}

impl Rework {
    /// Puts the time that is worked out for a bake in place of the usual one, in the notes and the changes of the
    /// part whose only bake it is.
    ///
    /// # Inputs
    /// - `parts`: what is baked together.
    pub(crate) fn with_bake(&mut self, parts: &[usize], bake: &ChosenBake) {
        let of = |c: &usize| Some((*c, noted(&self.components[*c].method_notes, &bake.written)?));
        let found: Vec<(usize, Vec<usize>)> = parts.iter().filter_map(of).collect();
        let [(at, run)] = &found[..] else {
            return;
        };
        let component = &mut self.components[*at];
        let own = bake.own.map_or(String::new(), |t| {
            format!(" Your own method’s {} stand.", minutes(t))
        });
        let mut times = bake.stretches.iter().copied();
        let (mut all, mut longer): (Vec<Stage>, _) = (Vec::new(), false);
        for n in run {
            let note = &mut component.method_notes[*n];
            let Some((noted, step)) = note.bake.clone().zip(note.step) else {
                return;
            };
            let stages = noted.at(&mut times);
            let (alone, last) = (run.len() == 1, run.last() == Some(n));
            let allow = if alone {
                bake.allowed(&stages)
            } else if last {
                format!("{}, {}", bake.allowed_in_part(&stages), bake.in_all())
            } else {
                bake.allowed_in_part(&stages)
            };
            let own = if last { own.as_str() } else { "" };
            note.text = match noted.decides {
                Some(_) => format!(
                    "{}{own}",
                    noted.words(step, &format!("allow {allow}, {BY_HEAT}"))
                ),
                None if alone => format!(
                    "{} Allow {}, {BY_HEAT}.{own}",
                    note.text,
                    minutes(bake.time)
                ),
                None => format!("{} Allow {allow}, {BY_HEAT}.{own}", note.text),
            };
            let other = bake.in_one_oven(&stages);
            if let Some(other) = other.filter(|_| alone || bake.in_one) {
                let dial = OvenSetting(other.temperature).dialled();
                note.ovens = vec![(dial, dial)];
            }
            longer |= noted.decides.is_some();
            all.extend(stages);
        }
        let one_oven = bake.in_one_oven(&all);
        let mut changes = component.changes.iter_mut();
        if longer && let Some(change) = changes.find(|c| c.what == "oven") {
            let each = |s: &Stage| becomes(s, &all_minutes(&s.times));
            change.to = match one_oven {
                Some(other) => in_another_oven(other, &minutes(bake.time)),
                None => joined(&all, each),
            };
            change.range = Some(BY_HEAT.to_owned());
            change.sums.clear();
        }
    }
}
