//! One change of one field of a sheet.

use super::{LineKey, PartUse};
use serde::{Deserialize, Serialize};

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
    /// Whose cups and spoons.
    Locale {
        /// `us`, `metric`, `uk`, `au`.
        locale: String,
    },
    /// Read a line as other words.
    ReadAs {
        /// The line.
        line: LineKey,
        /// The words.
        text: Option<String>,
    },
    /// The food of a line.
    Food {
        /// The line.
        line: LineKey,
        /// Its larder key.
        food: Option<String>,
    },
    /// The grams of a line, weighed by the baker.
    Grams {
        /// The line.
        line: LineKey,
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
    /// A reworked line's grams, held.
    Pin {
        /// The component's name.
        component: String,
        /// The reworked line's key.
        line: String,
        /// Grams.
        grams: Option<f64>,
    },
    /// Every pin of the sheet let go.
    Unpin,
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
