//! The tasks of a batch, and what is said of all of them.

use super::own::OwnStep;
use super::page_step::LeftToPage;
use super::pans::{self, PanUse};
use super::stands::Breach;
use super::step::capital;
use super::task::{Basis, Span, Task};
use super::warm::{Limit, Warm};
use crate::heat::{Estimate, Stretch};
use crate::rework::{BY_HEAT, Kept};
use crate::sheet::{Sheet, Worked};
use larder::Gluten;
use quantity::OvenSetting;
use std::collections::BTreeMap;

/// The tasks of a batch, and what limits them together.
#[derive(Debug, Clone, PartialEq)]
pub struct Tasks {
    /// The recipe's title.
    pub title: String,
    /// The tasks, parts that others use first; those left out among them.
    pub list: Vec<Task>,
    /// Longest times from one task to another, for food that spoils.
    pub limits: Vec<Limit>,
    /// How long each part with egg or milk stands warm until it is heated.
    pub warm: Vec<Warm>,
    /// Where the recipe itself goes past such a limit.
    pub breaches: Vec<Breach>,
    /// What is still to be done about gluten before it is made: what contains it, whose labels are
    /// to be read. Empty where nothing is open.
    pub gluten: Vec<String>,
    /// By component, the names of the foods that make it spoil.
    pub spoils: BTreeMap<usize, String>,
    /// Meat and fish in it, by name: their hours out of the fridge are not among the limits.
    pub meat: Vec<String>,
    /// What is in it that the larder does not know, by name: nor are the hours of that.
    pub unknown: Vec<String>,
    /// The pans that its bakes take, and how long.
    pub pans: Vec<PanUse>,
    /// The steps are the baker's own method, not the original's.
    pub own_method: bool,
    /// What is said of each part that such a method leaves out, by component.
    pub unsaid: BTreeMap<usize, String>,
    /// What such a method leaves to the one that was read.
    pub left_to_page: LeftToPage,
    /// Keys of own figures whose task is not there any more, or says something else now.
    pub idle: Vec<String>,
    /// The words of the method's steps, by number.
    pub says: BTreeMap<usize, String>,
    /// Times the recipe.
    pub factor: f64,
}

impl Tasks {
    /// The task of a key.
    #[must_use]
    pub fn task(&self, key: &str) -> Option<&Task> {
        self.list.iter().find(|t| t.key == key)
    }
    /// The words of the method's step that a task is of; `None` where it is of none.
    #[must_use]
    pub fn words(&self, key: &str) -> Option<&str> {
        let step = self.task(key)?.step?;
        self.says.get(&step).map(String::as_str)
    }
    /// The baker's own figures of a task, of all on the sheet.
    #[must_use]
    pub fn own<'a>(&self, sheet: &'a Sheet, key: &str) -> Option<&'a OwnStep> {
        let own = sheet.steps.iter().find(|s| s.step == key);
        own.filter(|s| !self.idle.contains(&s.step))
    }
    /// Takes the time of a bake that the Heat page has for the pan and the oven chosen, over its stretches where it has
    /// several. The minutes that the baker put in stand, and so do those of an own method for this tin.
    pub(super) fn with_heat(mut self, e: &Estimate) -> Self {
        let mine = |t: &&mut Task| t.what == "bake" && t.cooks && !t.left_out;
        let of = |t: &&mut Task| e.parts.contains(&t.component);
        let mut bakes: Vec<&mut Task> = self.list.iter_mut().filter(mine).filter(of).collect();
        let whole = [Stretch {
            time: e.time,
            oven: Some(e.oven),
        }];
        let rounded = |time| {
            let span = Span::from(time);
            Span::of(span.least.round(), span.usual.round(), span.most.round())
        };
        // An own method that gives no time has what is usual.
        let stretches = match &e.own_stretches[..] {
            [] if self.own_method => &whole[..],
            own if self.own_method => own,
            _ => &e.stretches,
        };
        if bakes.len() != stretches.len() {
            let most = |t: &Task| t.wait.map_or(0.0, |w| w.span.most);
            let longest = bakes
                .into_iter()
                .max_by(|a, b| most(a).total_cmp(&most(b)))
                .filter(|t| t.wait_basis != Basis::Own);
            if let Some(bake) = longest {
                bake.notes.retain(|n| !n.starts_with(pans::ANOTHER_TIN));
                bake.notes.push(format!(
                    "The minutes are the method’s; as its longest bake it takes about {} {BY_HEAT}: check with a probe.",
                    rounded(e.time)
                ));
            }
            return self;
        }
        let several = stretches.len() > 1;
        for (bake, stretch) in bakes.iter_mut().zip(stretches) {
            let Some(wait) = bake.wait.as_mut().filter(|_| bake.wait_basis != Basis::Own) else {
                continue;
            };
            let (span, all) = (rounded(stretch.time), rounded(e.time));
            bake.notes.retain(|n| !n.starts_with(pans::ANOTHER_TIN));
            let oven = stretch.oven.unwrap_or(e.oven);
            let oven = OvenSetting(oven).dialled().as_celsius();
            let whose = if e.own.is_some() {
                wait.oven.get_or_insert(oven);
                "The minutes are your method’s own; "
            } else {
                wait.span = span;
                wait.oven = Some(oven);
                (bake.wait_basis, bake.longest_ours) = (Basis::Reworked, false);
                ""
            };
            let in_all = if several { " for the whole bake" } else { "" };
            bake.notes.push(capital(&format!(
                "{whose}about {all}{in_all} {BY_HEAT}: check with a probe."
            )));
        }
        self
    }
    /// The tasks that no other follows.
    pub(super) fn last(&self) -> impl Iterator<Item = usize> {
        let followed = |i: usize| self.done().any(|(_, t)| t.after.contains(&i));
        self.done().map(|(i, _)| i).filter(move |&i| !followed(i))
    }
    /// The tasks that are done, with their places.
    pub fn done(&self) -> impl Iterator<Item = (usize, &Task)> {
        self.list.iter().enumerate().filter(|(_, t)| !t.left_out)
    }
}

/// What the screen of the gluten-free version leaves open, in words.
pub(super) fn gluten(w: &Worked) -> Vec<String> {
    let of = |verdict: Gluten| {
        let open = w.rework_screening.findings.iter();
        let mut names: Vec<&str> = open
            .filter(|f| f.open && f.verdict == verdict)
            .map(|f| f.words.as_str())
            .collect();
        // 'Icing sugar' begins its line here, and stands inside one there.
        names.sort_unstable_by_key(|n| (n.to_lowercase(), std::cmp::Reverse(*n)));
        names.dedup_by_key(|n| n.to_lowercase());
        names.join(", ")
    };
    let mut out = Vec::new();
    let (holds, check) = (of(Gluten::Contains), of(Gluten::Check));
    if !holds.is_empty() {
        out.push(format!(
            "Still contains gluten: {holds}. Replace it before you begin."
        ));
    }
    if !check.is_empty() {
        out.push(format!("Check the label for gluten: {check}."));
    }
    out.extend(w.rework_screening.method.iter().cloned());
    out
}

/// Each name once, in order.
pub(super) fn once(names: impl Iterator<Item = String>) -> Vec<String> {
    let mut out: Vec<String> = Vec::new();
    for name in names {
        if !out.contains(&name) {
            out.push(name);
        }
    }
    out
}

/// Lines that the larder does not know.
pub(super) fn unknown(w: &Worked) -> Vec<String> {
    let lines = w.rework.components.iter().flat_map(|c| &c.lines);
    let lines = lines.filter(|l| {
        l.kept != Kept::Dropped && l.food.is_none() && l.component.is_none() && !l.blend
    });
    once(lines.map(|l| l.name.clone()))
}
