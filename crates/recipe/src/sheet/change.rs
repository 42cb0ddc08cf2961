//! One change of one field of a sheet.

mod back;
mod check;
mod make;
mod words;

pub use words::step_words;

use super::{LineKey, PartUse};
use crate::heat::HeatNotes;
use crate::plan::StepChange;
use crate::rework::Hold;
use crate::size::Ask;
use serde::{Deserialize, Serialize};
use std::fmt;

/// A change of one field. `None` takes the decision back.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "field", rename_all = "snake_case")]
pub enum Change {
    /// The whole text.
    Text {
        /// The new text.
        text: String,
    },
    /// The title.
    Title {
        /// In place of the one read.
        title: Option<String>,
    },
    /// Whom to credit.
    Credit {
        /// In place of what the text says.
        text: Option<String>,
    },
    /// What it makes.
    Makes {
        /// In place of what the text says.
        text: Option<String>,
    },
    /// How it keeps.
    Keeping {
        /// In the baker's own words.
        text: Option<String>,
    },
    /// The method in the baker's own words.
    Method {
        /// One step a line.
        text: Option<String>,
    },
    /// The size that the words of the method suit.
    MethodSuits {
        /// What was asked for when the baker said so.
        size: Option<Ask>,
    },
    /// Whose cups and spoons.
    Locale {
        /// `us`, `metric`, `uk`, `au`.
        locale: String,
    },
    /// Read a line as other words.
    ReadAs {
        /// The line.
        line: LineKey,
        /// The words; empty where the line is no ingredient.
        text: Option<String>,
    },
    /// The food of an ingredient of a line.
    Food {
        /// The line.
        line: LineKey,
        /// Place of the ingredient on the line, from 0.
        #[serde(default, skip_serializing_if = "is_first")]
        place: usize,
        /// Its larder key.
        food: Option<String>,
    },
    /// The grams of an ingredient of a line, weighed by the baker.
    Grams {
        /// The line.
        line: LineKey,
        /// Place of the ingredient among all that are weighed on the line, from 0.
        #[serde(default, skip_serializing_if = "is_first")]
        place: usize,
        /// Grams.
        grams: Option<f64>,
    },
    /// A doubt of a line is taken as read, or open again.
    Accept {
        /// The line.
        line: LineKey,
        /// The doubt's code.
        code: String,
        /// Taken as read.
        yes: bool,
    },
    /// A doubt of the whole recipe is taken as read, or open again.
    AcceptWhole {
        /// The doubt's code.
        code: String,
        /// Taken as read.
        yes: bool,
    },
    /// The style of a component.
    Style {
        /// The component's name.
        component: String,
        /// The style's key.
        style: Option<String>,
    },
    /// The blend of a component.
    Blend {
        /// The component's name.
        component: String,
        /// The blend's key.
        blend: Option<String>,
    },
    /// A reworked line or a figure, held.
    Pin {
        /// The component's name.
        component: String,
        /// The reworked line's key, or `hydration` or `binder`.
        line: String,
        /// What it is held at.
        hold: Option<Hold>,
    },
    /// What is left out besides gluten, or left in again.
    LeaveOut {
        /// Its word, see [`crate::LeftOut::word`].
        what: String,
        /// Left out.
        yes: bool,
    },
    /// How much of it is made.
    Size {
        /// The figure that the rest follows from.
        ask: Option<Ask>,
    },
    /// A figure of heat: of the known bake, the new pan, the proof or the dough.
    SetHeat {
        /// Its key, see [`crate::heat::HeatField`].
        what: String,
        /// As typed.
        text: Option<String>,
    },
    /// The known bake of heat, all its figures at once: what a bake on record took.
    KnownBake {
        /// Its figures as typed, by the keys of [`crate::heat::HeatField::KNOWN`]; what is not
        /// there is as read.
        says: HeatNotes,
    },
    /// The shape of a component.
    SetShape {
        /// The component's name.
        component: String,
        /// The shape's key, see [`crate::shape::Kind`].
        shape: Option<String>,
    },
    /// A field of a component's shape.
    ShapeSays {
        /// The component's name.
        component: String,
        /// The field's key.
        what: String,
        /// As typed.
        text: Option<String>,
    },
    /// Every pin of the sheet let go.
    Unpin,
    /// A figure of a step, for the plan.
    SetStep {
        /// The task's key, see [`crate::plan::Task::key`].
        step: String,
        /// The words of the method's step, see [`crate::plan::OwnStep::words`].
        #[serde(default, skip_serializing_if = "Option::is_none")]
        words: Option<String>,
        /// What is changed.
        #[serde(flatten)]
        to: StepChange,
    },
    /// A component of another recipe, taken in at a version or moved to another version.
    TakePart {
        /// The use.
        part: PartUse,
    },
    /// A component of another recipe, taken out.
    LeavePart {
        /// The other recipe's id.
        recipe: String,
    },
}

fn is_first(place: &usize) -> bool {
    *place == 0
}

/// Why a change cannot be made. Says what was expected.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangeError(pub(in crate::sheet) String);

impl fmt::Display for ChangeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
impl std::error::Error for ChangeError {}

fn wrong<T>(what: impl Into<String>) -> Result<T, ChangeError> {
    Err(ChangeError(what.into()))
}

impl Change {
    /// The field it touches: the same words for the same field, always.
    #[must_use]
    pub fn field(&self) -> String {
        match self {
            Self::Text { .. } => "text".to_owned(),
            Self::Title { .. } => "title".to_owned(),
            Self::Credit { .. } => "credit".to_owned(),
            Self::Makes { .. } => "makes".to_owned(),
            Self::Keeping { .. } => "keeping".to_owned(),
            Self::Method { .. } => "method".to_owned(),
            Self::MethodSuits { .. } => "method_suits".to_owned(),
            Self::Locale { .. } => "locale".to_owned(),
            Self::ReadAs { line, .. } => format!("read_as:{}", at(line)),
            Self::Food { line, place: 0, .. } => format!("food:{}", at(line)),
            Self::Food { line, place, .. } => format!("food_{place}:{}", at(line)),
            Self::Grams { line, place: 0, .. } => format!("grams:{}", at(line)),
            Self::Grams { line, place, .. } => format!("grams_{place}:{}", at(line)),
            Self::Accept { line, code, .. } => format!("accept:{code}:{}", at(line)),
            Self::AcceptWhole { code, .. } => format!("accept_whole:{code}"),
            Self::Style { component, .. } => format!("style:{component}"),
            Self::Blend { component, .. } => format!("blend:{component}"),
            Self::Pin {
                component, line, ..
            } => format!("pin:{}/{line}", part(component)),
            Self::LeaveOut { what, .. } => format!("left_out:{what}"),
            Self::Size { .. } => "size".to_owned(),
            Self::SetHeat { what, .. } => format!("heat:{what}"),
            Self::KnownBake { .. } => "heat:known".to_owned(),
            Self::SetShape { component, .. } => format!("shape:{component}"),
            Self::ShapeSays {
                component, what, ..
            } => format!("shape:{}/{what}", part(component)),
            Self::Unpin => "pins".to_owned(),
            Self::SetStep { step, to, .. } => format!("step:{}/{}", part(step), to.what()),
            Self::TakePart { part } => format!("part:{}", part.recipe),
            Self::LeavePart { recipe } => format!("part:{recipe}"),
        }
    }
}

/// A slash inside a name is no divider.
fn part(name: &str) -> String {
    name.replace('%', "%25").replace('/', "%2F")
}

fn at(line: &LineKey) -> String {
    format!("{}/{}/{}", part(&line.component), line.nth, line.text)
}
