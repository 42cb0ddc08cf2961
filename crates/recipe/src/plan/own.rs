//! The baker's own figures of steps, kept on the sheet.

use super::task::{Basis, Place, Span, Task, Wait};
use crate::own_method::{ALIKE, likeness};
use serde::{Deserialize, Serialize};
use std::fmt;

/// What the baker decided about one task. `None` leaves a figure as it follows.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct OwnStep {
    /// The task's key, see [`Task::key`].
    pub step: String,
    /// The words of the method's step that the figures were put to, or the one that an added step
    /// follows. The figures go with them; `None` where they go by the key alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub words: Option<String>,
    /// Minutes at work.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hands: Option<f64>,
    /// Least minutes of the wait.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub least: Option<f64>,
    /// Most minutes of the wait.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub most: Option<f64>,
    /// Where it waits: a key of [`Place`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// °C on the dial.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub oven: Option<f64>,
    /// Racks or shelves it takes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub racks: Option<u32>,
    /// It may be left out, and what that costs; empty where it may not.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub optional: Option<String>,
    /// It is left out.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub left_out: bool,
    /// A step that the method does not have.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub added: Option<AddedStep>,
}

/// A step of the baker's, put in behind another.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct AddedStep {
    /// What is done.
    pub name: String,
    /// The key of the task it follows.
    pub after: String,
}

/// A change of one figure of a task.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "what", content = "value", rename_all = "snake_case")]
pub enum StepChange {
    /// Minutes at work.
    Hands(Option<f64>),
    /// Least minutes of the wait.
    Least(Option<f64>),
    /// Most minutes of the wait.
    Most(Option<f64>),
    /// Where it waits.
    Place(Option<String>),
    /// °C on the dial.
    Oven(Option<f64>),
    /// Racks or shelves.
    Racks(Option<u32>),
    /// May be left out, and what that costs.
    Optional(Option<String>),
    /// Left out, or not.
    LeftOut(bool),
    /// Put in, or taken out again.
    Added(Option<AddedStep>),
}

/// Longest wait that is planned: four days.
pub const MOST_MINUTES: f64 = 5760.0;
/// Longest name or cost, in bytes.
const LONGEST: usize = 200;

impl StepChange {
    /// Its name: `hands`, `least` …
    #[must_use]
    pub fn what(&self) -> &'static str {
        match self {
            Self::Hands(_) => "hands",
            Self::Least(_) => "least",
            Self::Most(_) => "most",
            Self::Place(_) => "place",
            Self::Oven(_) => "oven",
            Self::Racks(_) => "racks",
            Self::Optional(_) => "optional",
            Self::LeftOut(_) => "left_out",
            Self::Added(_) => "added",
        }
    }

    /// In plain words.
    #[must_use]
    pub fn words(&self) -> (&'static str, String) {
        let minutes = |m: &Option<f64>| m.map_or("as it follows".to_owned(), minutes_words);
        let words = |t: &Option<String>| t.clone().unwrap_or_else(|| "as it follows".to_owned());
        match self {
            Self::Hands(m) => ("work", minutes(m)),
            Self::Least(m) => ("shortest wait", minutes(m)),
            Self::Most(m) => ("longest wait", minutes(m)),
            Self::Place(p) => (
                "place",
                p.as_deref()
                    .and_then(Place::from_key)
                    .map_or_else(|| words(p), |p| p.to_string()),
            ),
            Self::Oven(t) => (
                "oven",
                t.map_or("as it follows".to_owned(), |t| format!("{t:.0} °C")),
            ),
            Self::Racks(n) => (
                "racks",
                n.map_or("as it follows".to_owned(), |n| n.to_string()),
            ),
            Self::Optional(t) => ("what leaving it out costs", words(t)),
            Self::LeftOut(yes) => (
                "whether it is done",
                if *yes { "left out" } else { "done" }.to_owned(),
            ),
            Self::Added(a) => (
                "own step",
                a.as_ref()
                    .map_or("taken out".to_owned(), |a| a.name.clone()),
            ),
        }
    }

    /// The same figure as it is now, in plain words.
    #[must_use]
    pub fn words_in(&self, now: Option<&OwnStep>) -> (&'static str, String) {
        self.now(&now.cloned().unwrap_or_default()).words()
    }

    /// The same figure with the value it has now.
    fn now(&self, own: &OwnStep) -> Self {
        match self {
            Self::Hands(_) => Self::Hands(own.hands),
            Self::Least(_) => Self::Least(own.least),
            Self::Most(_) => Self::Most(own.most),
            Self::Place(_) => Self::Place(own.place.clone()),
            Self::Oven(_) => Self::Oven(own.oven),
            Self::Racks(_) => Self::Racks(own.racks),
            Self::Optional(_) => Self::Optional(own.optional.clone()),
            Self::LeftOut(_) => Self::LeftOut(own.left_out),
            Self::Added(_) => Self::Added(own.added.clone()),
        }
    }

    /// What takes the change back: a step taken out comes back with all its figures, and so do those
    /// of another step that make way (`all`).
    #[must_use]
    pub fn back(&self, now: Option<&OwnStep>, all: bool) -> Vec<Self> {
        let own = now.cloned().unwrap_or_default();
        if !all && !matches!(self, Self::Added(None)) {
            return vec![self.now(&own)];
        }
        Self::none()
            .iter()
            .map(|c| c.now(&own))
            .filter(|c| !all && matches!(c, Self::Added(_)) || c.now(&OwnStep::default()) != *c)
            .collect()
    }

    /// Each figure, with nothing in it.
    pub(crate) fn none() -> [Self; 9] {
        [
            Self::Added(None),
            Self::Hands(None),
            Self::Least(None),
            Self::Most(None),
            Self::Place(None),
            Self::Oven(None),
            Self::Racks(None),
            Self::Optional(None),
            Self::LeftOut(false),
        ]
    }

    /// Whether the figure can have this value; else what was expected.
    ///
    /// # Errors
    /// A sentence.
    pub fn check(&self) -> Result<(), String> {
        match self {
            Self::Hands(Some(m)) | Self::Least(Some(m)) | Self::Most(Some(m))
                if !m.is_finite() || !(0.0..=MOST_MINUTES).contains(m) =>
            {
                Err(format!(
                    "{m} minutes cannot be planned: write minutes from 0 to {MOST_MINUTES:.0} (4 days)"
                ))
            }
            Self::Oven(Some(t)) if !t.is_finite() || !(30.0..=500.0).contains(t) => Err(format!(
                "{t} °C is no oven: write °C from 30 to 500, or leave it empty"
            )),
            Self::Racks(Some(n)) if !(1..=40).contains(n) => Err(format!(
                "{n} racks: write a whole number from 1 to 40, or leave it empty"
            )),
            Self::Place(Some(p)) if Place::from_key(p).is_none() => Err(format!(
                "no place is called '{p}': the places are {}",
                Place::ALL.map(Place::key).join(", ")
            )),
            Self::Optional(Some(t)) if t.len() > LONGEST => Err(format!(
                "what leaving it out costs is {} letters long: write at most {LONGEST}",
                t.chars().count()
            )),
            Self::Added(Some(a)) if a.name.trim().is_empty() => {
                Err("the step has no name: say what is done".to_owned())
            }
            Self::Added(Some(a)) if a.name.len() > LONGEST || a.name.contains(['\n', '\r']) => Err(
                format!("the name of a step is one line of at most {LONGEST} letters"),
            ),
            _ => Ok(()),
        }
    }
}

impl OwnStep {
    /// Decides nothing yet.
    #[must_use]
    pub fn new(step: impl Into<String>) -> Self {
        Self {
            step: step.into(),
            ..Self::default()
        }
    }
    /// Whether nothing is decided.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self
            == Self {
                words: self.words.clone(),
                ..Self::new(self.step.clone())
            }
    }
    /// Whether its figures were put to a step that says something else than these words.
    #[must_use]
    pub fn is_of_another(&self, words: Option<&str>) -> bool {
        let both = self.words.as_deref().zip(words);
        both.is_some_and(|(mine, now)| likeness(mine, now) < ALIKE)
    }
    /// Makes a change.
    pub fn change(&mut self, change: &StepChange) {
        match change {
            StepChange::Hands(m) => self.hands = *m,
            StepChange::Least(m) => self.least = *m,
            StepChange::Most(m) => self.most = *m,
            StepChange::Place(p) => self.place.clone_from(p),
            StepChange::Oven(t) => self.oven = *t,
            StepChange::Racks(n) => self.racks = *n,
            StepChange::Optional(t) => self.optional.clone_from(t),
            StepChange::LeftOut(yes) => self.left_out = *yes,
            StepChange::Added(Some(a)) => self.added = Some(a.clone()),
            // What was decided about a step of the baker's goes with it.
            StepChange::Added(None) => *self = Self::new(std::mem::take(&mut self.step)),
        }
    }

    /// Puts the figures on a task.
    pub(super) fn apply(&self, task: &mut Task) {
        if let Some(m) = self.hands {
            task.hands = Span::one(m);
            task.hands_basis = Basis::Own;
        }
        let place = self.place.as_deref().and_then(Place::from_key);
        let waits = self.least.is_some() || self.most.is_some() || place.is_some();
        if waits {
            let now = task.wait.unwrap_or(Wait {
                span: Span::one(self.least.unwrap_or(0.0)),
                may: true,
                place: Place::Bench,
                oven: None,
            });
            let least = self.least.unwrap_or(now.span.least);
            let most = self.most.unwrap_or(now.span.most);
            // Of two that cross, the one that was written stands.
            let (least, most) = match (self.least, self.most) {
                (None, Some(m)) => (least.min(m), m),
                (Some(l), None) => (l, most.max(l)),
                _ => (least.min(most), most.max(least)),
            };
            if self.least.is_some() || self.most.is_some() {
                let guess = task.longest_ours || task.wait_basis == Basis::Guess;
                task.longest_ours = guess && self.most.is_none();
                task.wait_basis = Basis::Own;
            }
            task.wait = (most > 0.0).then_some(Wait {
                span: Span::of(least, now.span.usual.clamp(least, most), most),
                place: place.unwrap_or(now.place),
                ..now
            });
        }
        if let (Some(t), Some(wait)) = (self.oven, &mut task.wait) {
            wait.oven = Some(t);
        }
        if let Some(n) = self.racks {
            task.racks = n;
        }
        if let Some(cost) = &self.optional {
            task.optional = Some(cost.clone()).filter(|c| !c.trim().is_empty());
        }
        task.left_out = self.left_out;
    }
}

/// Minutes as people say them: `35 min`, `1 h 30 min`.
#[must_use]
pub fn minutes_words(m: f64) -> String {
    if m < 1.0 && m > 0.0 {
        return format!("{:.0} s", m * 60.0);
    }
    let m = if m < 10.0 {
        (m * 2.0).round() / 2.0
    } else {
        m.round()
    };
    if m < 60.0 {
        return format!("{m} min");
    }
    let (h, rest) = ((m / 60.0).floor(), (m % 60.0).round());
    if rest == 0.0 {
        format!("{h:.0} h")
    } else {
        format!("{h:.0} h {rest:.0} min")
    }
}

/// A span that ends before so many minutes and begins before an hour is told in minutes alone.
const IN_MINUTES: f64 = 89.5;

/// A span as people say it: `30–35 min`, `55–69 min`, `8–12 h`, `45 min to 2 h`.
#[must_use]
pub fn span_words(s: Span) -> String {
    let (least, most) = (minutes_words(s.least), minutes_words(s.most));
    if least == most {
        return least;
    }
    // As people say it, and as Heat does: '55–69 min'.
    if (10.0..60.0).contains(&s.least) && s.most < IN_MINUTES {
        return format!("{:.0}–{:.0} min", s.least, s.most);
    }
    let unit = |w: &str| w.split_once(' ').map(|(n, u)| (n.to_owned(), u.to_owned()));
    match (unit(&least), unit(&most)) {
        (Some((a, u)), Some((b, v))) if u == v && !u.contains(' ') => format!("{a}–{b} {u}"),
        _ => format!("{least} to {most}"),
    }
}

impl fmt::Display for Span {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&span_words(*self))
    }
}
