//! What a reader leaves out besides gluten: other foods in its place by what it does in the
//! recipe, and a plain word where there is no good one.
//!
//! It comes after the flour and before binder, protein and water, which then follow from what the
//! recipe holds now. Nothing is ever said to be free of anything: a recipe is *made without* a food,
//! and labels are to be read.

mod binders;
mod blend;
mod lines;
mod role;
mod said;
mod table;

pub(super) use lines::NoWay;
pub use said::LeftOutSummary;

use super::engine::Work;
use super::reworked::Kept;
use crate::screen::compound;
use crate::{Holds, LeftOut};
use larder::FoodId;
use quantity::listed;

/// A line of the rework that still holds, or may hold, what is left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StillHolds {
    /// The line, see [`super::ReworkedLine::key`].
    pub line: String,
    /// Its name, or that of the part of the blend.
    pub name: String,
    /// What it holds.
    pub what: LeftOut,
    /// [`Holds::Yes`], or [`Holds::Check`] where its label has to tell.
    pub holds: Holds,
    /// Why it is still there, in words.
    pub why: String,
}

/// What stands where nothing is known to stand in.
const NONE_KNOWN: &str = "no good substitute is known here";
const LABEL: &str = "only its label can tell";

impl Work<'_> {
    pub(super) fn leaves_out(&self, what: LeftOut) -> bool {
        self.left_out.contains(&what)
    }

    /// Whether a line is only there because something was left out.
    pub(super) fn stands_in(&self, i: usize) -> bool {
        !self.left_out.is_empty() && self.lines[i].kept == Kept::New
    }

    /// Every line that still holds, or may hold, what is left out; said on the line too.
    pub(super) fn still_holds(&mut self) -> Vec<StillHolds> {
        let mut all: Vec<StillHolds> = Vec::new();
        let left_out = self.left_out;
        for i in 0..self.lines.len() {
            let line = &self.lines[i];
            if line.kept == Kept::Dropped || line.component.is_some() {
                continue;
            }
            let own = [(line.food, line.name.clone())];
            let foods: Vec<(Option<FoodId>, String)> = match (line.blend, self.blend) {
                (true, Some(blend)) => blend
                    .parts
                    .iter()
                    .map(|(f, _)| (Some(*f), self.larder.food(*f).name.clone()))
                    .collect(),
                _ => own.to_vec(),
            };
            let mut check: Vec<&str> = Vec::new();
            let mut sure: Vec<String> = Vec::new();
            for &what in left_out {
                for (food, name) in &foods {
                    let holds = food.map_or(Holds::Check, |f| {
                        let known = what.in_food(f, self.larder);
                        let read = self.larder.read_through(f);
                        let unread = compound(self.larder, f)
                            && !read.is_some_and(|law| what.is_told_by(law));
                        known.max(if unread { Holds::Check } else { Holds::No })
                    });
                    let why = match holds {
                        Holds::No => continue,
                        Holds::Check => {
                            if !check.contains(&what.plain()) {
                                check.push(what.plain());
                            }
                            LABEL.to_owned()
                        }
                        Holds::Yes => {
                            let line = &self.lines[i];
                            let found = self.no_way.iter().find(|n| {
                                n.what == what && n.origin == line.origin && Some(n.food) == *food
                            });
                            let why = found.map_or(NONE_KNOWN, |n| n.why.as_str()).to_owned();
                            sure.push(format!("still holds {}: {why}", what.plain()));
                            why
                        }
                    };
                    all.push(StillHolds {
                        line: self.lines[i].key.clone(),
                        name: name.clone(),
                        what,
                        holds,
                        why,
                    });
                }
            }
            if !check.is_empty() {
                sure.push(format!("check the label for {}", listed(&check)));
            }
            let line = &mut self.lines[i];
            if !sure.is_empty() {
                let before = line.note.take().map(|n| format!("{n}; "));
                line.note = Some(before.unwrap_or_default() + &sure.join("; "));
            }
        }
        for lost in self.no_way.iter().filter(|n| n.dropped) {
            all.push(StillHolds {
                line: String::new(),
                name: self.larder.food(lost.food).name.clone(),
                what: lost.what,
                holds: Holds::Yes,
                why: lost.why.clone(),
            });
        }
        all
    }
}
