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

    /// Whether these times are all of it.
    fn is(&self, written: &[Spread<Time>]) -> bool {
        let mut times = self.stages.iter().flat_map(|s| &s.times);
        written.iter().all(|w| times.next() == Some(w)) && times.next().is_none()
    }

    /// Its stages at other times, as many as it has.
    fn at(&self, times: &[Spread<Time>]) -> Vec<Stage> {
        let mut times = times.iter().copied();
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
            (_, None) => format!("{} in all, {}", minutes(self.time), joined(stages, each)),
        }
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

impl Rework {
    /// Puts the time that is worked out for a bake in place of the usual one, in the notes and the changes of the
    /// part whose only bake it is.
    ///
    /// # Inputs
    /// - `parts`: what is baked together.
    pub(crate) fn with_bake(&mut self, parts: &[usize], bake: &ChosenBake) {
        let is = |n: &MethodNote| {
            let noted = n.bake.as_ref();
            noted.is_some_and(|b| b.is(&bake.written))
        };
        let found: Vec<usize> = parts
            .iter()
            .copied()
            .filter(|c| self.components[*c].method_notes.iter().any(is))
            .collect();
        let [at] = found[..] else {
            return;
        };
        let component = &mut self.components[at];
        let mut notes = component.method_notes.iter_mut().filter(|n| is(n));
        let (Some(note), None) = (notes.next(), notes.next()) else {
            return;
        };
        let Some((noted, step)) = note.bake.clone().zip(note.step) else {
            return;
        };
        let stages = noted.at(&bake.stretches);
        let one_oven = bake.in_one_oven(&stages);
        let own = bake.own.map_or(String::new(), |t| {
            format!(" Your own method’s {} stand.", minutes(t))
        });
        note.text = match noted.decides {
            Some(_) => {
                let allow = format!("allow {}, {BY_HEAT}", bake.allowed(&stages));
                format!("{}{own}", noted.words(step, &allow))
            }
            None => format!(
                "{} Allow {}, {BY_HEAT}.{own}",
                note.text,
                minutes(bake.time)
            ),
        };
        if let Some(other) = one_oven {
            let dial = OvenSetting(other.temperature).dialled();
            note.ovens = vec![(dial, dial)];
        }
        let mut changes = component.changes.iter_mut();
        if noted.decides.is_some()
            && let Some(change) = changes.find(|c| c.what == "oven")
        {
            let each = |s: &Stage| becomes(s, &all_minutes(&s.times));
            change.to = match one_oven {
                Some(other) => in_another_oven(other, &minutes(bake.time)),
                None => joined(&stages, each),
            };
            change.range = Some(BY_HEAT.to_owned());
            change.sums.clear();
        }
    }
}
